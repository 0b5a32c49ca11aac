"""The loop of springs between cutter and work, and how it settles in the cut: see
`mechanics/chain.rs`, `bearing.rs`, `modes.rs`, `play.rs`, `cutting.rs`."""

import numpy as np

import chatter
import cutting_force

TAU = 2 * np.pi
STEEL = 206e3
CONTACT_ANGLE = 0.436332


class Prepared:
    """A setup with all that does not depend on the machine."""

    def __init__(self, setup, known):
        machine, cutter, cut, holding = (setup[part] for part in ("machine", "cutter", "cut", "holding"))
        self.setup = setup
        geometry = tuple(cutter[name] for name in ("diameter", "teeth", "helix")) + (
            *(cut[name] for name in ("depth", "feed", "sense", "kind", "width")),
        )
        entry = cutting_force.engagement(cut["kind"], cut["sense"], cut["width"], cutter["diameter"])
        if geometry not in known:
            whole = {"engagement": entry, **{name: cut[name] for name in ("depth", "feed", "sense")}}
            whole |= {name: cutter[name] for name in ("diameter", "teeth", "helix")}
            known[geometry] = cutting_force.ForceBasis(whole), chatter.Feedback(entry, cutter["teeth"])
        self.basis, self.feedback = known[geometry]
        self.force_key = geometry, cutter["kind"], cutter["corner_radius"]
        self.radius = 0.5 * cutter["diameter"]
        self.passes = cutter["teeth"] * cut["speed"] / 60
        self.surface_speed = np.pi * cutter["diameter"] * cut["speed"] / 60e3
        self.twist = np.tan(cutter["helix"]) / self.radius * cutter["teeth"] / TAU
        self.feedback_key = geometry[:3], entry, self.passes
        self.feed, self.normal = (0, 1) if cut["axis"] == "x" else (1, 0)
        self.widths = self.force_by_width(entry)
        self.pulse(entry)
        # The loop.
        reach = machine["overhang"] + cutter["projection"] + cutter["stick_out"]
        nose = min(machine["overhang"], reach)
        stiffness = 3 * STEEL * second_moment(machine["spindle_diameter"])
        self.shaft = (reach**2 * machine["span"] + reach**3 - (reach - nose) ** 3) / stiffness
        self.front, self.rear = 1 + reach / machine["span"], reach / machine["span"]
        diameter, stick_out = cutter["diameter"], cutter["stick_out"]
        outer, as_thick_as = {
            "end_mill": (min(cutter["flute_length"], stick_out), 0.8 * diameter),
            "face_mill": (min(0.8 * diameter, 0.8 * stick_out), np.inf),
            "fly_cutter": (0.0, cutter["shank"]),
        }[cutter["kind"]]
        self.cutter = outer**3 / second_moment(as_thick_as)
        self.cutter += (stick_out**3 - outer**3) / second_moment(cutter["shank"])
        self.cutter /= 3 * cutter["modulus"]
        self.joint = lever(cutter["stick_out"], 40)
        self.taper = lever(cutter["projection"] + cutter["stick_out"], 80)
        self.quill = (1 + machine["quill_extension"] / machine["span"]) ** 2 * (machine["quill"] != "absent")
        self.held = lever(holding["height"], 15)
        # What swings at the tip, kg.
        density = {"hss": 8.1e-6, "carbide": 14.4e-6}[cutter["material"]]
        self.cutter_mass = {
            "end_mill": 33 / 140 * density * np.pi / 4 * (0.8 * diameter) ** 2 * stick_out,
            "face_mill": 2.6e-6 * diameter**3,
            "fly_cutter": 0.9e-6 * diameter**3,
        }[cutter["kind"]]
        out, span = cutter["projection"], machine["span"]
        swung = [
            1.3**2 * out * ((nose + out / 2) / reach) ** 2,
            nose / 3 * (nose / reach) ** 2,
            span / 2 * (0.192 * span / reach) ** 2,
        ]
        self.holder_mass = 7.85e-6 * np.pi / 4 * machine["spindle_diameter"] ** 2 * sum(swung)
        self.nose_share = ((span + machine["overhang"]) / (span + reach)) ** 2
        self.part = 1.0 if holding["shape"] == "block" else np.clip((holding["height"] / 15) ** 3, 0.2, 8)

    def force_by_width(self, entry):
        """Force over that at the nominal width, at even steps to twice that."""
        cut, material, cutter = self.setup["cut"], self.setup["material"], self.setup["cutter"]
        if cut["kind"] in ("slot", "face"):
            return None

        def work(start, exit):
            chip = cut["feed"] * (np.cos(start) - np.cos(exit))
            return material["tangential"] * chip + material["edge_tangential"] * (exit - start)

        widths = np.minimum(cut["width"] * np.linspace(0, 2, 25), cutter["diameter"])
        return work(*cutting_force.engagement(cut["kind"], cut["sense"], widths, cutter["diameter"])) / work(*entry)

    def force_ratio(self, width):
        if self.widths is None:
            return np.ones_like(width)
        return np.interp(width / self.setup["cut"]["width"] * 12, np.arange(25), self.widths)

    def pulse(self, entry):
        """How teeth push: times in those from tooth to tooth, and the share of the force that goes at once."""
        start, exit = entry
        lag = self.twist * self.setup["cut"]["depth"]
        self.pushes = min((exit - start) * self.setup["cutter"]["teeth"] / TAU + lag, 1.0)
        if self.setup["cut"]["sense"] == "conventional":
            thick, self.before, self.since = exit, 0.5 * min(lag, 1.0), 1 - self.pushes
        else:
            thick, self.before, self.since = start, self.pushes, self.pushes
        thickest = 1.0 if start <= np.pi / 2 <= exit else max(np.sin(start), np.sin(exit))
        self.abrupt = max(np.sin(thick) / thickest, 0.0)

    def springs(self, iron):
        """Compliance (mm/N) of the parts by axis, bearings left out."""
        lateral = [
            self.cutter / iron["CutterFactor"],
            self.joint * 1e-3 / iron["Joint"],
            self.taper * 1e-3 / iron["Taper"],
            self.shaft / iron["ShaftFactor"],
        ]
        quill = self.quill * 1e-3 / iron["Quill"]
        build = 1e-3 / iron["Build"]
        part = self.part * 1e-3 / iron["Part"]
        ways = []
        for way, held in (("X", self.held), ("Y", self.held), ("Z", 1.0)):
            frame = [build / iron["Head" + way], build / iron["Column" + way]]
            ways.append([*frame, build / iron["Table" + way], held * 1e-3 / iron["Holding" + way], part])
        quill_axial = 1e-3 / iron["QuillAxial"] if self.quill else 0.0
        return lateral, quill, quill_axial, ways

    def bearings(self, iron, load, kept):
        """Compliance of the front and rear bearing under a radial load at the tip."""
        preload, scale = iron["PreloadForce"], kept / iron["BearingFactor"]
        machine = self.setup["machine"]
        return [
            lever**2 * scale / radial_stiffness(machine, lever * load, preload) for lever in (self.front, self.rear)
        ]


def second_moment(diameter):
    return np.pi * diameter**4 / 64


def lever(length, reference):
    return 0.5 + 0.5 * (length / reference) ** 2


def radial_stiffness(machine, load, preload):
    """Slope at that load (N/mm); Palmgren's formulas."""
    load = np.maximum(load, 5)
    support = machine["support"]
    if support == "plain_bush":
        return np.full_like(load, 60_000.0)
    if support == "angular_pair":
        kept = np.maximum(preload, 0.3 * load)
        return pair_axial_stiffness(machine, kept) / (2 * np.tan(CONTACT_ANGLE) ** 2)
    loaded = np.sqrt(load * load + 4 * preload * preload)
    if support == "deep_groove":
        count, diameter = machine["balls"]
        return 1.5 * loaded / (4.36e-4 * np.cbrt((5 * loaded / count) ** 2 / diameter))
    count, length = machine["rollers"]
    return loaded / (0.9 * 7.68e-5 * (4.08 * loaded / count) ** 0.9 / length**0.8)


def ball_axial_deflection(machine, angle, force):
    count, diameter = machine["balls"]
    return 4.36e-4 * np.cbrt((force / (count * np.sin(angle))) ** 2 / diameter) / np.sin(angle)


def pair_axial_stiffness(machine, preload):
    return 3 * preload / ball_axial_deflection(machine, CONTACT_ANGLE, preload)


def axial_stiffness(machine, load, preload):
    kept = np.maximum(np.sqrt(preload * preload + load * load), 5)
    support = machine["support"]
    if support == "plain_bush":
        return np.full_like(kept, 40_000.0)
    if support == "angular_pair":
        return pair_axial_stiffness(machine, kept)
    if support == "deep_groove":
        return 1.5 * kept / ball_axial_deflection(machine, 0.18, kept)
    return 0.5 * radial_stiffness(machine, kept, preload)


def settle(prepared, iron, forces, springs, kept):
    """Scale of the force, bearings' compliance and whether it settled; as the engine steps."""
    lateral, quill, _, ways = springs
    uneven = skew(iron, prepared.normal)
    rest = sum(lateral) + quill * uneven + sum(ways[prepared.normal])
    away = -forces["mean"] if prepared.setup["cut"]["sense"] == "conventional" else forces["mean"]
    width, peak = prepared.setup["cut"]["width"], forces["peak"]

    def miss_at(scale, rows):
        few = {name: iron[name][rows] for name in ("PreloadForce", "BearingFactor")}
        bearings = prepared.bearings(few, peak[rows] * scale, kept)
        total = rest[rows] + (bearings[0] + bearings[1]) * uneven[rows]
        return prepared.force_ratio(width - away[rows] * scale * total) - scale, bearings

    scale = np.ones(len(peak))
    miss, bearings = miss_at(scale, slice(None))
    slope = np.full(len(peak), -1.0)
    rows = np.nonzero(np.abs(miss) >= 1e-4)[0]
    for _ in range(30):
        if not len(rows):
            break
        here, missed = scale[rows], miss[rows]
        to = np.minimum(np.clip(here - missed / slope[rows], 0.5 * here, 2 * here), 2)
        step = to - here
        after, found = miss_at(to, rows)
        still = step == 0
        slope[rows] = np.where(still, -1, np.minimum((after - missed) / np.where(still, 1, step), -0.2))
        scale[rows], miss[rows] = to, after
        for all, few in zip(bearings, found):
            all[rows] = few
        rows = rows[np.abs(after) >= 1e-4]
    return scale, bearings, np.abs(miss) < 1e-4


def skew(iron, axis):
    """Factor on the give of the spindle in its seats."""
    return np.sqrt(iron["Skew"]) if axis else 1 / np.sqrt(iron["Skew"])


def held(hold, force):
    return np.where(force > 0, np.maximum(1 - hold / np.where(force > 0, force, 1), 0), 0)


def travel(play, angle):
    return play * np.sin(0.5 * np.minimum(angle, np.pi))


def play_slack(gap, part, reversal, swing):
    """Compliance that crossing a half-gap adds; first harmonic of a dead zone."""
    crossed = (gap > 0) & (reversal > 0) & (part > 0)
    ratio = np.where(crossed, gap / np.where(crossed, gap + 0.5 * swing * part, 1), 0)
    left = np.maximum(1 - 2 / np.pi * (np.arcsin(ratio) + ratio * np.sqrt(1 - ratio * ratio)), 0.1)
    return np.where(crossed, part * reversal * (1 / left - 1), 0)


def modes(prepared, iron, forces, scale, springs, bearings, gaps):
    """[k, z, f] by group, way (feed, normal) and machine."""
    (cutter, joint, taper, shaft), quill, _, ways = springs
    found = np.empty((3, 6, 2, len(scale)))

    def stiffness(*soft):
        return 1 / np.maximum(sum(soft), 1e-8)

    def swings(k, mass, damping):
        return k, damping, np.sqrt(k * 1e3 / mass) / TAU

    for way, (axis, turns) in enumerate(((prepared.feed, "feed_reversal"), (prepared.normal, "reversal"))):
        head, column, table, holding, part = ways[axis]
        swing, turns = forces["range"][way] * scale, forces[turns]
        uneven = skew(iron, axis)
        front, rear, bore = (soft * uneven for soft in (*bearings, quill))
        crossed = [play_slack(0.5 * gap, soft, turns, swing) for gap, soft in zip(gaps, (front, bore, table))]
        name = "XY"[axis]
        springs = stiffness(cutter, joint), stiffness(taper, shaft)
        found[:, 0, way], found[:, 1, way] = on_each_other(prepared, iron, *springs)
        spindle = stiffness(front, rear, bore, crossed[0], crossed[1])
        found[:, 2, way] = swings(spindle, prepared.nose_share * iron["SpindleMass"], iron["SpindleDamping"])
        found[:, 3, way] = stiffness(head, column), iron["Damping" + name], iron["Frequency" + name]
        found[:, 4, way] = swings(stiffness(table, crossed[2]), iron["TableMass"], iron["TableDamping"])
        found[:, 5, way] = swings(stiffness(holding, part), iron["PartMass"], iron["PartDamping"])
    return found


def on_each_other(prepared, iron, k, inner_k):
    """[k, z, f] of the cutter and of the holder it stands in: two masses on two springs."""
    m, inner_m = prepared.cutter_mass, prepared.holder_mass
    # The eigenvalues of a matrix of two by two by its trace and determinant.
    trace, determinant = (k + inner_k) / inner_m + k / m, k * inner_k / (m * inner_m)
    high = 0.5 * (trace + np.sqrt(trace * trace - 4 * determinant))

    def mode(square):
        inside = 1 - square * m / k
        stiffness = square * (m + inner_m * inside**2)
        share = k * (1 - inside) ** 2 / stiffness
        damping = share * iron["CutterDamping"] + (1 - share) * iron["SpindleDamping"]
        return np.array([stiffness, damping, np.sqrt(1e3 * square) / TAU])

    modes = mode(high), mode(determinant / high)
    outer = k / m > inner_k / inner_m
    return np.where(outer, modes[0], modes[1]), np.where(outer, modes[1], modes[0])
