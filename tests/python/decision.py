"""The decision's core in NumPy: a second opinion, and what its speed is held against.

Every remedy on the same plausible machines, from a sample on: changed machine,
forces, settled stiffness, modes, chatter, finish, play, holding, location, goal,
figures, worth. Formulas as in `src/engine`, written over all machines at once.
Not run by the tests:

    cargo test --test decision_sample
    python3 tests/python/decision.py target/decision-sample.json

prints the largest relative difference of each figure from the engine's, and the
time beside that of `cargo bench --bench decision evaluate`.
"""

import json
import os
import sys
import time

os.environ.update(OMP_NUM_THREADS="1", OPENBLAS_NUM_THREADS="1")

import numpy as np  # noqa: E402

import chatter  # noqa: E402
import cutting_force  # noqa: E402
from loop import Prepared, axial_stiffness, held, modes, settle, skew, travel  # noqa: E402
from remedies import change_machine  # noqa: E402
from surface import cusp_ra, deflection, evened, grip, scatter, scatter_ra  # noqa: E402

RADIAL_HOLD = 3.0
FIGURES = ["wall", "floor", "depth_limit", "location", "play_travel", "stiffness", "torque"]
# Unknowns on which the forces and what is fed back depend.
FORCE_UNKNOWNS = ["ForceFactor", "RadialRatio", "AxialRatio", "EdgeFactor", "Runout", "SpindleWeight"]
FEEDBACK_UNKNOWNS = ["ForceFactor", "RadialRatio", "RubDamping"]


class Ground:
    """The machines with forces and chatter of the cut as it is."""

    def __init__(self, setup, iron, extras, want):
        self.iron, self.extras, self.want = iron, extras, want
        self.known = {}
        self.prepared = Prepared(setup, self.known)
        self.forces = cutting_force.forces(setup, self.prepared.basis, iron)
        state = self.state(self.prepared, iron, self.forces, 1.0)
        self.modes = state["modes"]
        self.limits = chatter.limits_by_group(self.cutting(self.prepared, iron), self.modes)

    def cutting(self, prepared, iron):
        ktc, krc, *_ = cutting_force.coefficients(prepared.setup, iron)
        cut = prepared.surface_speed, prepared.passes, prepared.twist
        return chatter.Cutting(prepared.feedback, ktc, krc, iron["RubDamping"], *cut)

    def state(self, prepared, iron, forces, kept):
        """Force, stiffness, clearances and modes as they settle in the cut."""
        springs = prepared.springs(iron)
        scale, bearings, converged = settle(prepared, iron, forces, springs, kept)
        peak = forces["peak"] * scale
        gaps = [
            kept * iron["RadialPlay"] * held(RADIAL_HOLD * iron["PreloadForce"], peak * prepared.front) * prepared.front,
            iron["QuillPlay"],
            iron["TablePlay"] * held(iron["Drag"], peak),
        ]
        found = modes(prepared, iron, forces, scale, springs, bearings, gaps)
        uneven = [skew(iron, axis) for axis in (0, 1)]
        return dict(
            scale=scale, springs=springs, bearings=bearings, skew=uneven, gaps=gaps, modes=found, converged=converged
        )

    def same(self, unknowns, iron):
        return all(iron[name] is self.iron[name] for name in unknowns)

    def evaluate(self, remedy, setup, kept):
        """Takes the cut on every machine with `remedy` in place."""
        prepared = Prepared(setup, self.known)
        iron = change_machine(remedy, self.prepared.setup, setup, self.iron, self.extras)
        forces = self.forces
        if prepared.force_key != self.prepared.force_key or not self.same(FORCE_UNKNOWNS, iron):
            forces = cutting_force.forces(setup, prepared.basis, iron)
        state = self.state(prepared, iron, forces, kept)
        before = None
        if prepared.feedback_key == self.prepared.feedback_key and self.same(FEEDBACK_UNKNOWNS, iron):
            before = self.modes, self.limits
        limit = chatter.limit(self.cutting(prepared, iron), state["modes"], before)
        return self.outcome(prepared, iron, forces, state, limit, kept)

    def outcome(self, prepared, iron, forces, state, limit, kept):
        cut, cutter, machine = (prepared.setup[part] for part in ("cut", "cutter", "machine"))
        scale, gaps, found = state["scale"], state["gaps"], state["modes"]
        depth, radius = cut["depth"], prepared.radius
        overshoot = np.sqrt(np.maximum(1 - limit / depth, 0))
        uneven, howl = iron["Unsteadiness"], iron["ChatterUnevenness"] * overshoot

        largest = [one * scale for one in forces["largest"]]
        slip, lift = grip(prepared, iron, largest[0], largest[1], forces["lift"] * scale)
        slipped = 0.15 * np.maximum(1 - slip, 0)
        pull_in = forces["pull"] * scale / iron["Drag"]
        jump = np.where(pull_in > 1, iron["Backlash"] * (1 - 1 / np.maximum(pull_in, 1)), 0)

        travels = [travel(gap, forces["angle"]) for gap in gaps]
        normal = found[:, :, 1]
        push = forces["mean"] * scale, forces["range"][1] * scale, forces["at_wall"] * scale
        left = np.maximum(1 - depth / limit, 0.1)
        variance = uneven * uneven * scatter(prepared, normal, push, left, prepared.abrupt)
        rows = np.nonzero(howl > 0)[0]
        if len(rows):
            few = [one[rows] for one in push]
            variance[rows] += howl[rows] ** 2 * scatter(prepared, normal[:, :, rows], few, 1.0, 1.0)
        ktc, krc, *_ = cutting_force.coefficients(prepared.setup, iron)
        variance = variance * evened(prepared, found, ktc, krc, depth) ** 2
        turned = travel(1.0, forces["angle"])
        rattled = turned + (1 - turned) * (1 - prepared.pushes)
        play = iron["PlayPrint"] * (rattled * (gaps[0] + gaps[1]) + travels[2])
        shaken = np.sqrt(variance + play * play)

        def mark(scatter):
            hidden = 0.5 * iron["Runout"] / (cut["feed"] ** 2 / (2 * radius) + 5 * scatter)
            return cut["feed"] * (1 + (cutter["teeth"] - 1) * np.minimum(hidden, 1))

        both = iron["ProcessRoughness"] ** 2 + (0.1 * jump / 4) ** 2 + (slipped / 4) ** 2
        marks = mark(shaken)
        wall = np.sqrt(both + cusp_ra(marks**2 / (8 * radius)) ** 2 + scatter_ra(shaken, marks, radius) ** 2)

        marks = mark(0.0)
        ridge = 0.035 * marks
        corner = cutter["corner_radius"]
        floor_cusp = ridge if corner <= 0 else np.minimum(marks**2 / (8 * corner), ridge)
        _, _, quill_axial, ways = state["springs"]
        thrust = axial_stiffness(machine, forces["largest"][2] * scale, iron["PreloadForce"]) * iron["BearingFactor"]
        along = kept / thrust + quill_axial + sum(ways[2])
        bounce = np.hypot(uneven, howl) * forces["range"][2] * scale * along / 4
        hop = kept * travel(iron["AxialPlay"], np.pi * forces["axial_reversal"])
        hop = hop * held(iron["PreloadForce"], largest[2])
        floor = np.sqrt(both + cusp_ra(floor_cusp) ** 2 + bounce**2 + (hop / 4) ** 2)

        play_travel = sum(travels)
        pushed = scale * deflection(prepared, normal, forces["mean"], forces["harmonics"])
        outcome = {
            "wall": wall,
            "floor": floor,
            "depth_limit": limit,
            "location": np.abs(pushed) + 0.5 * play_travel + slipped,
            "play_travel": play_travel,
            "stiffness": 1e-3 / (1 / found[0]).sum(axis=0).max(axis=0),
            "slip": slip,
            "lift": lift,
            "pull_in": pull_in,
            "torque": forces["tangential"] * scale * radius * 1e-3,
            "drive": forces["tangential"] * scale * prepared.surface_speed / (0.65 * machine["power"]),
            "converged": state["converged"],
        }
        goal = self.reach(outcome, depth)
        pace = min(depth / self.prepared.setup["cut"]["depth"], 1.0) ** 0.2
        return Evaluation(prepared, forces, state, outcome, goal, pace * goal, travels)

    def reach(self, outcome, depth):
        """Share of the goal reached."""
        surfaces = self.want["surfaces"]
        counted = [outcome[name] for name in ("wall", "floor") if surfaces[name]]
        share = np.minimum(self.want["finish"] / np.maximum.reduce(counted), 1)
        share = share * np.minimum(outcome["depth_limit"] / depth, 1)
        if self.want["tolerance"] is not None:
            share = share * np.minimum(self.want["tolerance"] / outcome["location"], 1)
        moves = (outcome["slip"] < 1) | (outcome["lift"] < 1) | (outcome["pull_in"] > 1) | (outcome["drive"] > 1)
        return np.where(moves, 0.3 * share, share)


class Evaluation:
    """What a remedy does on every machine."""

    def __init__(self, prepared, forces, state, outcome, goal, quality, travels):
        self.prepared, self.forces, self.state = prepared, forces, state
        self.outcome, self.goal, self.quality, self.travels = outcome, goal, quality, travels
        self.minutes = prepared.setup["cut"]["minutes"]

    def prediction(self):
        outcome, depth = self.outcome, self.prepared.setup["cut"]["depth"]
        spreads = quantiles([outcome[name] for name in FIGURES])
        return {
            **dict(zip(FIGURES, spreads)),
            "minutes": self.minutes,
            "reach": np.mean(self.goal >= 1),
            "chatter": np.mean(outcome["depth_limit"] < depth),
            "slip": np.mean(outcome["slip"] < 1),
            "lift": np.mean(outcome["lift"] < 1),
            "pull_in": np.mean(outcome["pull_in"] > 1),
            "stall": np.mean(outcome["drive"] > 1),
            "snap": np.mean(snaps(self.prepared.setup, self.forces["peak"] * self.state["scale"]) > 1),
        }

    def change(self, now):
        names = FIGURES[:4]
        return dict(zip(names, quantiles([self.outcome[name] / now.outcome[name] for name in names])))

    def noticeable(self, now):
        return np.mean(self.quality > 1.1 * now.quality)

    def shares(self):
        """Quantiles of each part's share of the motion across and along the feed, and the bearings' across."""
        lateral, quill, _, ways = self.state["springs"]
        found = []
        for way, axis in ((1, self.prepared.normal), (0, self.prepared.feed)):
            swing = self.forces["range"][way] * self.state["scale"]
            seats = [soft * self.state["skew"][axis] for soft in (*self.state["bearings"], quill)]
            parts = np.stack([*lateral, *seats, *ways[axis]]) * swing
            for part, crossed in zip((4, 6, 9), self.travels):
                parts[part] += crossed
            found.append(parts / parts.sum(axis=0))
        return *(quantiles(parts) for parts in found), quantiles([found[0][4] + found[0][5]])[0]


def snaps(setup, force):
    """Bending stress of an end mill over half the strength of its material."""
    cutter, middle = setup["cutter"], setup["cut"]["depth"] / 2
    if cutter["kind"] != "end_mill":
        return 0 * force
    diameter, flutes, reach = cutter["diameter"], cutter["flute_length"], cutter["stick_out"]
    held = max(diameter, 3) if flutes < reach else 0.8 * diameter
    worst = max((flutes - middle) / (0.8 * diameter) ** 3, (reach - middle) / held**3)
    return 32 / np.pi * force * worst / (0.5 * {"hss": 4000, "carbide": 3250}[cutter["material"]])


def quantiles(columns):
    """10, 50 and 90 %, nearest rank, of each."""
    columns = np.stack(columns)
    last = columns.shape[1] - 1
    ranks = [int(p * last + 0.5) for p in (0.1, 0.5, 0.9)]
    return np.partition(columns, ranks, axis=1)[:, ranks]


def worth(case, run, with_it, now, extras):
    """Net worth to the user on each machine."""
    target, hour, spoil = case["worth"]
    price, extra = run["price"], (with_it.minutes - now.minutes) / 60
    low, high = price["money"]
    paid = np.maximum(0.5 * (low + high) + (high - low) / (2 * 1.2815515655446004) * extras[15], 0)
    steady = (sum(price["hours"]) / 2 + extra) * hour + price["spoil"] * spoil
    return target * (with_it.quality - now.quality) - paid - steady


def ground_of(case):
    iron = {name: np.array(column) for name, column in case["machines"].items()}
    return Ground(case["runs"][0]["setup"], iron, np.array(case["extras"]), case["want"])


def every_remedy(case):
    """What the benchmark of the engine does: outcomes, qualities and figures of every run."""
    ground = ground_of(case)
    start = time.process_time()
    ground = Ground(ground.prepared.setup, ground.iron, ground.extras, ground.want)
    evaluations = [ground.evaluate(run["remedy"], run["setup"], run["bearings"]) for run in case["runs"]]
    now = evaluations[0]
    figures = [(one.prediction(), one.change(now), one.noticeable(now)) for one in evaluations]
    shares = now.shares()
    took = time.process_time() - start
    return ground, evaluations, figures, shares, took


def difference(ours, theirs):
    """The largest relative difference."""
    ours, theirs = np.asarray(ours, float), np.asarray(theirs, float)
    return np.max(np.abs(ours - theirs) / np.where(theirs == 0, 1, np.abs(theirs)))


def spread(of):
    return [of["low"], of["mid"], of["high"]]


def check(case):
    """The largest relative difference from the engine of each figure, and the run in which it is."""
    ground, evaluations, figures, shares, _ = every_remedy(case)
    worst = {}

    def note(name, remedy, ours, theirs):
        worst[name] = max(worst.get(name, (0.0, "")), (difference(ours, theirs), remedy))

    now = evaluations[0]
    worths = {}
    for run, one, (prediction, change, noticeable) in zip(case["runs"], evaluations, figures):
        remedy = run["remedy"] if run["bearings"] else "perfect bearings"
        for name, column in run["outcomes"].items():
            note(name, remedy, one.outcome[name], column)
        note("quality", remedy, one.quality, run["quality"])
        for name, figure in run["prediction"].items():
            theirs = spread(figure) if isinstance(figure, dict) else figure
            note("predicted " + name, remedy, prediction[name], theirs)
        if "appraisal" in run:
            theirs = run["appraisal"]
            for name, figure in theirs["change"].items():
                note("change of " + name, remedy, change[name], spread(figure))
            ours = worth(case, run, one, now, ground.extras)
            note("noticeable", remedy, noticeable, theirs["noticeable"])
            note("worth", remedy, quantiles([ours])[0], spread(theirs["worth"]))
            note("expected worth", remedy, ours.mean(), theirs["expected_worth"])
            note("regret", remedy, np.mean(ours < 0), theirs["regret"])
            if theirs["affordable"]:
                worths[remedy] = ours, theirs["best"]
    # On how many machines each is the best buy; to leave it alone is worth nothing.
    columns = np.stack([np.zeros(len(now.quality)), *(ours for ours, _ in worths.values())])
    wins = np.bincount(columns.argmax(axis=0), minlength=len(columns)) / columns.shape[1]
    for (remedy, (_, best)), share in zip(worths.items(), wins[1:]):
        note("best buy", remedy, share, best)
    parts = {one["part"]: one for one in case["shares"]}
    names = "cutter holder_joint taper shaft front_bearing rear_bearing quill head column table holding part".split()
    for name, across, along in zip(names, *shares[:2]):
        note("shares of motion", name, [across, along], [spread(parts[name][way]) for way in ("normal", "feed")])
    note("bearing share", "", shares[2], spread(case["bearing_share"]))
    return worst


def main(path):
    with open(path) as file:
        cases = json.load(file)
    for case in cases:
        print(f"{case['name']}, {len(case['extras'][0])} machines: largest relative difference")
        for name, (off, remedy) in check(case).items():
            print(f"  {name:24} {off:8.1e}  {remedy}")
    took = min(every_remedy(cases[0])[-1] for _ in range(15))
    runs = len(cases[0]["runs"])
    print(f"{cases[0]['name']}, {runs} evaluations: {1e3 * took:.0f} ms (processor time, least of 15)")


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
