"""Depth without chatter of many machines at once: see `mechanics/pair.rs`.

Zeroth order (Altintas and Budak, CIRP Annals 44 (1995)) for pairs of modes, each
with the other eliminated; period doubling (Merdol and Altintas, J. Manuf. Sci.
Eng. 126 (2004)) from one odd harmonic; the least over a band of speed; rubbing.
Machines for which a step can change nothing are left out of it.
"""

from dataclasses import dataclass, fields

import numpy as np

TAU = 2 * np.pi
DEPTH_CAP = 50.0
BAND = 0.05
FAR = 4.0
ODD = 8


class Feedback:
    """Means and odd harmonics of 1/2, 1/2 sin 2p and 1/2 cos 2p over the engagement."""

    def __init__(self, engagement, teeth):
        start, exit = engagement
        turned = teeth * np.concatenate([[0], np.arange(1, 2 * ODD, 2)])

        def integral(by):
            by = by - turned
            whole = np.where(by == 0, 1, by)
            turn = (np.exp(1j * whole * exit) - np.exp(1j * whole * start)) / (1j * whole)
            return np.where(by == 0, exit - start, turn)

        one, up, down = integral(0.0), integral(2.0), integral(-2.0)
        orders = 0.5 * teeth / TAU * np.stack([one, (up - down) / 2j, (up + down) / 2])
        self.mean = orders[:, 0].real
        # Two rows of zeros stand for what lies beyond.
        self.odd = np.concatenate([orders[:, 1:], np.zeros((3, 2))], axis=1)
        self.sizes = np.sqrt(2 * np.sum(np.abs(self.odd) ** 2, axis=0))

    def contact(self):
        one, _, cosine = self.mean
        return one - cosine, one + cosine

    def matrix(self, ktc, krc):
        """Mean feedback, row by force, along the feed first."""
        one, sine, cosine = self.mean
        across = ktc * cosine + krc * sine
        along = ktc * sine + krc * (one - cosine), across + ktc * one
        return along, (across - ktc * one, -ktc * sine + krc * (one + cosine))

    def harmonic(self, which, order, ktc, krc):
        """The odd harmonic of a straight edge, mode `which` first."""
        one, sine, cosine = self.odd[:, np.minimum(order // 2, ODD)]
        along = np.where(which == 0, 1, -1) * (ktc * sine - krc * cosine)
        across = ktc * cosine + krc * sine
        turned = np.where(which == 0, 1, -1) * ktc * one
        return krc * one + along, across + turned, across - turned, krc * one - along


@dataclass
class Sides:
    """Modes, each with the other of its pair; one row for each."""

    slot: np.ndarray  # which limit it bears on
    which: np.ndarray  # 0 along the feed, 1 across it
    k: np.ndarray
    z: np.ndarray
    f: np.ndarray
    k2: np.ndarray
    z2: np.ndarray
    f2: np.ndarray
    own: np.ndarray
    by_other: np.ndarray
    to_other: np.ndarray
    others: np.ndarray
    ktc: np.ndarray
    krc: np.ndarray
    rubbing: np.ndarray

    def take(self, rows):
        return Sides(*(getattr(self, field.name)[rows] for field in fields(self)))

    def resists(self, ratio):
        """Dynamic stiffness of the mode at `ratio` times its frequency."""
        return self.k * (1 - ratio * ratio + 2j * self.z * ratio)

    def reduced(self, ratio):
        """Half sum and half difference of the eigenvalues over the receptance of
        the mode, the first to chatter being their sum; and the other's receptance."""
        resists = self.resists(ratio)
        second = ratio * self.f / self.f2
        other = resists / (self.k2 * (1 - second * second + 2j * self.z2 * second))
        half = 0.5 * (self.own + other * self.others)
        root = np.sqrt(half * half - other * (self.own * self.others - self.by_other * self.to_other))
        root = np.where(root.real * resists.real + root.imag * resists.imag > 0, -root, root)
        return half, root, other


class Cutting:
    """A cut of many machines as chatter sees it."""

    def __init__(self, feedback, ktc, krc, rubbing, speed, passes, twist):
        self.feedback, self.ktc, self.krc, self.rubbing = feedback, ktc, krc, rubbing
        self.speed, self.passes, self.twist = speed, passes, twist
        self.matrix = feedback.matrix(ktc, krc)

    def sides(self, modes, rows, slots):
        """Of groups and machines `rows`; `modes` is [k, z, f] by group, way and machine."""
        (k, z, f), (group, machine) = modes, rows
        apart = np.abs(f[group, 0, machine] / f[group, 1, machine] - 1) > 0.25 * np.minimum(
            z[group, 0, machine], z[group, 1, machine]
        )
        second = np.nonzero(apart)[0]
        pair = np.concatenate([np.arange(len(machine)), second])
        which = np.concatenate([np.zeros(len(machine), int), np.ones(len(second), int)])
        group, machine, slot = group[pair], machine[pair], slots[pair]
        (xx, xy), (yx, yy) = (tuple(one[machine] for one in row) for row in self.matrix)
        along = which == 0
        return Sides(
            slot,
            which,
            *(one[group, which, machine] for one in (k, z, f)),
            *(one[group, 1 - which, machine] for one in (k, z, f)),
            np.where(along, xx, yy),
            np.where(along, xy, yx),
            np.where(along, yx, xy),
            np.where(along, yy, xx),
            self.ktc[machine],
            self.krc[machine],
            np.where(along, *self.feedback.contact()) * self.rubbing[machine],
        )

    def limits(self, sides, limit):
        """Lowers `limit` to that of `sides`, each on its slot."""
        half, root, other, lobes = at_least(sides)
        least = lobes.depth_at(lobes.best)
        gain = self.rubbing_gain(sides, least)
        floor = gain * least
        # The lowest first: then few of the others have to be looked into.
        lowest = np.full(len(limit), np.inf)
        np.minimum.at(lowest, sides.slot, floor)
        first = floor == lowest[sides.slot]
        for chosen in (first, ~first):
            rows = np.nonzero(chosen & (floor < limit[sides.slot]))[0]
            if len(rows):
                depth = self.between(sides.take(rows), lobes.take(rows), half[rows] + root[rows])
                np.minimum.at(limit, sides.slot[rows], gain[rows] * np.maximum(depth, least[rows]))
        self.flips(sides, (half, root, other), gain, limit)

    def rubbing_gain(self, sides, least):
        per_depth = sides.rubbing * 1e-3 / self.speed * TAU * sides.f / (2e3 * sides.k)
        left = 1 - least * per_depth / sides.z
        return np.where(left > 0, 1 / np.where(left > 0, left, 1), np.inf)

    def between(self, sides, lobes, mean):
        """Least depth within the band of speed; between two lobes the other mode acts otherwise."""
        waves = sides.f / self.passes
        low, high = waves * (1 - BAND), waves * (1 + BAND)
        least = lobes.depth_at(lobes.best)
        depth, ratio = lobes.within(low, high)
        rows = np.nonzero(depth > 1.5 * least)[0]
        for round in range(2):
            sub = sides.take(rows)
            half, root, _ = sub.reduced(ratio[rows])
            there = half + root
            if round == 0:
                changed = norm(there - mean[rows]) > 0.01 * norm(mean[rows])
                rows, sub, there = rows[changed], sub.take(changed), there[changed]
            if not len(rows):
                return depth
            depth[rows], ratio[rows] = Lobes.of(sub, there).within(low[rows], high[rows])
        depth[rows] = np.minimum(depth[rows], 6 * least[rows])
        return depth

    def flips(self, sides, reduced, gain, limit):
        """Period doubling, from the odd harmonics on either side of each mode."""
        half, root, other = reduced
        waves = sides.f / self.passes
        below = np.maximum((2 * waves).astype(int) - 1, 0) | 1
        both = norm(other) >= 0.1
        for order in (below, below + 2):
            there = self.feedback.sizes[np.minimum(order // 2, ODD)] > 0
            for sign, looked in ((1, there), (-1, there & both)):
                rows = np.nonzero(looked)[0]
                if len(rows):
                    mean, twice = (half + sign * root)[rows], 2 * waves[rows]
                    bounds = order[rows] / (twice * (1 + BAND)), order[rows] / (twice * (1 - BAND))
                    found = sides.take(rows), mean, other[rows], gain[rows]
                    self.flip(found, order[rows], bounds, sign, limit)

    def flip(self, found, order, bounds, sign, limit):
        sides, mean, other, gain = found
        harmonic = self.feedback.harmonic(sides.which, order, sides.ktc, sides.krc)
        strength = shared_harmonic(sides, mean, other, harmonic) + np.abs(mean.imag)
        lowest = sides.k * sides.z / strength
        known = limit[sides.slot]
        rows = np.nonzero(gain * lowest < known)[0]
        if not len(rows):
            return
        best = 1 + 2 * sides.z * np.clip(mean.real / strength, -FAR, FAR)
        ratio = np.clip(np.sqrt(np.maximum(best, 0.01)), *bounds)[rows]
        sides, gain, lowest, known = sides.take(rows), gain[rows], lowest[rows], known[rows]
        half, root, other = sides.reduced(ratio)
        mean = half + sign * root
        size = shared_harmonic(sides, mean, other, [part[rows] for part in harmonic])
        resists = sides.resists(ratio)
        linear = (mean * resists.conj()).real
        strength = norm(resists)

        def depth_at(size):
            under = linear * linear - (norm(mean) - size * size) * strength
            inverse = np.sqrt(np.maximum(under, 0)) - linear
            there = (under >= 0) & (inverse > 0)
            return np.where(there, gain * 0.5 * strength / np.where(there, inverse, 1), known)

        # A helix smooths the harmonic, the more the deeper the cut.
        depth, going = depth_at(size), True
        for _ in range(3):
            turned = np.pi * order[rows] * self.twist * depth
            going = going & (depth < known) & (turned >= 0.25)
            if not going.any():
                break
            smoothed = np.where(going, np.abs(np.sin(turned) / np.where(going, turned, 1)), 1)
            depth = np.where(going, np.maximum(depth_at(size * smoothed), depth), depth)
        # Both sides of a pair may bear on one limit.
        np.minimum.at(limit, sides.slot, np.maximum(np.minimum(depth, known), gain * lowest))


def norm(z):
    return z.real * z.real + z.imag * z.imag


def shared_harmonic(sides, mean, other, harmonic):
    """Size of the harmonic that a mode sees, the other taking part."""
    gap = mean - other * sides.others
    of_mode = norm(mean - sides.own) <= norm(gap)
    gap = np.divide(1, gap, out=np.zeros_like(gap), where=gap != 0)
    motion, force = gap * sides.to_other, other * gap * sides.by_other
    own, by_other, to_other, others = harmonic
    mirrored = (other * motion).conj()
    shared = own + by_other * mirrored + force * (to_other + others * mirrored)
    alone = np.where(of_mode, norm(own) * np.maximum(1 - 10 * norm(other), 0), 0)
    return np.sqrt(np.maximum(norm(shared) / norm(1 + motion * force), alone))


@dataclass
class Lobes:
    """Lobes of modes with complex feedback: `s = -1/(h G)`, `b = |s|^2 / (2 Re s)`."""

    damping: np.ndarray
    depth: np.ndarray
    back: np.ndarray
    best: np.ndarray

    @staticmethod
    def of(sides, mean):
        size = np.abs(mean)
        back = mean.conj() / size
        up = back.imag > 0
        widths = np.where(up, back.real, 1 - back.imag) / np.where(up, 1 + back.imag, back.real)
        best = np.sqrt(np.maximum(1 + 2 * sides.z * np.clip(widths, -FAR, FAR), 0.01))
        return Lobes(sides.z, sides.k / size, back, best)

    def take(self, rows):
        return Lobes(self.damping[rows], self.depth[rows], self.back[rows], self.best[rows])

    def point(self, ratio):
        return (ratio * ratio - 1 - 2j * self.damping * ratio) * self.back

    def depth_at(self, ratio):
        point = self.point(ratio)
        there = point.real > 0
        return np.where(there, self.depth * norm(point) / np.where(there, 2 * point.real, 1), np.inf)

    def within(self, low, high):
        """Least depth between two numbers of waves from tooth to tooth, and its ratio."""
        point = self.point(self.best)
        turned = np.arctan(point.imag / point.real) / np.pi - 0.5
        below, above = np.floor(low * self.best + turned), np.floor(high * self.best + turned)
        depth, ratio = self.depth_at(self.best), self.best.copy()
        rows = np.nonzero(above <= below)[0]
        if len(rows):
            sub = self.take(rows)
            # The lobe below comes nearest with the fewest waves.
            depth[rows], ratio[rows] = sub.on_lobe(below[rows], low[rows])
            other, at = sub.on_lobe(above[rows] + 1, high[rows])
            nearer = other < depth[rows]
            depth[rows[nearer]], ratio[rows[nearer]] = other[nearer], at[nearer]
        return depth, ratio

    def on_lobe(self, count, waves):
        """Depth and ratio where the phase is `count`; infinite where there is no such place."""
        depth, ratio = np.full(len(count), np.inf), self.best.copy()
        tilt = self.damping * self.back.imag / self.back.real
        edge = np.sqrt(1 + tilt * tilt) - tilt
        up = self.back.real > 0
        there = np.where(up, count > waves * edge - 1, (count >= 0) & (count < waves * edge))
        rows = np.nonzero(there)[0]
        low = np.where(up, edge, 0)[rows]
        high = np.where(up, np.maximum(edge, (count + 1) / waves), edge)[rows]
        if len(rows):
            ratio[rows] = self.take(rows).ratio(count[rows], waves[rows], low, high)
            depth[rows] = self.take(rows).depth_at(ratio[rows])
        return depth, ratio

    def ratio(self, count, waves, low, high):
        """Halley's steps in a bracket, to a phase of 1e-3 before the last."""
        result = np.clip(self.best, low, high)
        rows, lobes, r = np.arange(len(count)), self, result
        for _ in range(50):
            point = lobes.point(r)
            lead = waves * r - 0.5 + np.arctan(point.imag / point.real) / np.pi - count
            high, low = np.where(lead > 0, r, high), np.where(lead > 0, low, r)
            inverse = point.conj() / (np.pi * norm(point))
            turn = (2 * r - 2j * lobes.damping) * lobes.back * inverse
            rate = waves + turn.imag
            bend = (2 * lobes.back * inverse - np.pi * turn * turn).imag
            halley = r - 2 * lead * rate / (2 * rate * rate - lead * bend)
            r = np.where((low <= halley) & (halley <= high), halley, 0.5 * (low + high))
            result[rows] = r
            going = np.abs(lead) >= 1e-3
            if not going.any():
                break
            rows, lobes = rows[going], lobes.take(going)
            count, waves, low, high, r = count[going], waves[going], low[going], high[going], r[going]
        return result


def at_least(sides):
    """The eigenvalues at the frequency of the least depth, with the lobes there."""
    ratio = Lobes.of(sides, sides.own + 0j).best
    half, root, other = sides.reduced(ratio)
    lobes = Lobes.of(sides, half + root)
    rows = np.arange(len(ratio))
    for _ in range(2):
        far = np.abs(lobes.best[rows] - ratio[rows]) >= 0.25 * sides.z[rows]
        rows = rows[far]
        if not len(rows):
            break
        ratio[rows] = lobes.best[rows]
        sub = sides.take(rows)
        half[rows], root[rows], other[rows] = sub.reduced(ratio[rows])
        there = Lobes.of(sub, half[rows] + root[rows])
        lobes.depth[rows], lobes.back[rows], lobes.best[rows] = there.depth, there.back, there.best
    return half, root, other, lobes


def limit(cutting, modes, before):
    """Depth without chatter of each machine; `before` is (modes, limits by group) of
    the same cut without the change, or None."""
    count = modes.shape[-1]
    kept = np.full(count, DEPTH_CAP)
    changed = np.ones((len(modes[0]), count), bool)
    if before is not None:
        same = (before[0] == modes).all(axis=(0, 2))
        kept = np.minimum(kept, np.where(same, before[1], DEPTH_CAP).min(axis=0))
        changed = ~same
    rows = np.nonzero(changed)
    cutting.limits(cutting.sides(modes, rows, rows[1]), kept)
    return kept


def limits_by_group(cutting, modes):
    """The same for each group by itself."""
    count = modes.shape[-1]
    groups = len(modes[0])
    limit = np.full(groups * count, DEPTH_CAP)
    rows = np.nonzero(np.ones((groups, count), bool))
    cutting.limits(cutting.sides(modes, rows, np.arange(groups * count)), limit)
    return limit.reshape(groups, count)
