"""Cutting forces of many machines in one cut: see `mechanics/force.rs`.

Linear-edge mechanistic model (Altintas, Manufacturing Automation, 2nd ed. 2012,
ch. 2), integrated along the helix; a tooth cuts down to the lowest of the surfaces
before it (Tlusty and Ismail 1981). What only the geometry decides is integrated
once; the machines combine it in products of matrices.
"""

import numpy as np

TAU = 2 * np.pi
STEPS = 72
HARMONICS = 6
# Offset of the cutter over feed per tooth.
LEVELS = np.array([0, 0.25, 0.5, 1, 2, 5])
# Machines at a time: what they need of a revolution then stays in the cache.
BLOCK = 256


def engagement(kind, sense, width, diameter):
    """Entry and exit angle; the width may be an array."""
    ratio = np.clip(width / diameter, 0, 1)
    if kind == "slot":
        return 0.0 * ratio, np.pi + 0.0 * ratio
    if kind == "face":
        return np.pi / 2 - np.arcsin(ratio), np.pi / 2 + np.arcsin(ratio)
    if sense == "conventional":
        return 0.0 * ratio, np.arccos(1 - 2 * ratio)
    return np.arccos(2 * ratio - 1), np.pi + 0.0 * ratio


def envelope(lines):
    """Pieces (from, to, feed, offset) of the lowest of lines over sines 0 to 1, where above zero."""
    pieces, at = [], 0.0
    while at < 1:
        feed, offset = min(lines, key=lambda line: (line[0] * (at + 1e-12) + line[1], line[0]))
        crossings = [(start - offset) / (feed - other) for other, start in lines if other < feed]
        to = min([s for s in crossings if s > at + 1e-12] + [1.0])
        start = max(at, -offset / feed) if offset < 0 else at
        if start < to:
            pieces.append((start, to, feed, offset))
        at = to
    return pieces


class ForceBasis:
    """The geometry of a cut, integrated at each runout level.

    `table` holds, by level and integral (h cos, h sin, cos, sin, h, 1; times dz),
    the steps of a revolution, its mean, the mean while the wall is made, and the
    harmonics against that moment, in phase and a quarter ahead.
    """

    def __init__(self, cut):
        self.feed, self.teeth = cut["feed"], cut["teeth"]
        start, exit = cut["engagement"]
        lag = 2 * cut["depth"] * np.tan(cut["helix"]) / cut["diameter"]
        pitch = TAU / self.teeth
        tips = (np.arange(STEPS) + 0.5) * TAU / STEPS + np.arange(self.teeth)[:, None] * pitch
        wall = self.made(tips, start if cut["sense"] == "conventional" else exit, lag)

        level, tooth, chips = self.chips(start, exit)
        first, last, feed, offset = (column[:, None] for column in chips.T)
        tips = tips[tooth] % TAU
        if lag < 1e-9:
            scale = cut["depth"] * ((first <= tips) & (tips < last))
            parts = np.cos(tips), np.sin(tips), np.sin(tips) * np.cos(tips), np.sin(tips) ** 2, 1.0
            columns = self.weighted(scale, parts, feed, offset)
        else:
            columns = 0.0
            for turn in range(int(np.ceil(lag / TAU)) + 1):
                tip = tips + turn * TAU
                low = np.maximum(tip - lag, first)
                high = np.maximum(np.minimum(tip, last), low)
                parts = *(antiderivatives(high) - antiderivatives(low)), high - low
                columns = columns + self.weighted(cut["depth"] / lag, parts, feed, offset)
        # Chips come level by level.
        columns = np.add.reduceat(columns, np.searchsorted(level, np.arange(len(LEVELS))), axis=1).swapaxes(0, 1)
        weights = np.vstack([np.full(STEPS, 1 / STEPS), wall, self.waves(wall)])
        self.table = np.concatenate([columns, columns @ weights.T], axis=2)

    def made(self, tips, end, lag):
        """Share of each step in the instants at which the wall is made; for straight
        teeth, which make it in an instant, one step's worth."""
        half = 0.5 * TAU / STEPS
        reach = max(0.5 * lag, half)
        off = (tips - (end + 0.5 * lag) + np.pi) % TAU - np.pi
        overlap = np.minimum(off + half, reach) - np.maximum(off - half, -reach)
        wall = np.maximum(overlap, 0.0).sum(axis=0)
        return wall / wall.sum()

    def waves(self, wall):
        """Weights of the steps in the harmonics of tooth passing, [level, ahead] by harmonic."""
        order = np.arange(1, HARMONICS + 1)
        phase = order[:, None] * self.teeth * np.arange(STEPS) * TAU / STEPS
        cos, sin = np.cos(phase), np.sin(phase)
        made_cos, made_sin = (cos @ wall)[:, None], (sin @ wall)[:, None]
        waves = 2 / STEPS * np.stack([made_cos * cos + made_sin * sin, made_sin * cos - made_cos * sin], axis=1)
        waves[order > (STEPS - 1) // (2 * self.teeth)] = 0
        return waves.reshape(-1, STEPS)

    def chips(self, start, exit):
        """Level, tooth and (start, exit, feed, offset) of every stretch of chip."""
        found = []
        for level, rho in enumerate(LEVELS * self.feed):
            radius = rho * np.cos(TAU * np.arange(self.teeth) / self.teeth)
            for tooth in range(self.teeth):
                back = range(1, self.teeth + 1)
                lines = [(k * self.feed, radius[tooth] - radius[(tooth + k) % self.teeth]) for k in back]
                for low, high, feed, offset in envelope(lines):
                    low, high = np.arcsin(low), np.arcsin(min(high, 1.0))
                    for first, last in ((low, high), (np.pi - high, np.pi - low)):
                        first, last = max(first, start), min(last, exit)
                        if first < last:
                            found.append((level, tooth, first, last, feed, offset))
        found = np.array(found)
        return found[:, 0].astype(int), found[:, 1].astype(int), found[:, 2:]

    @staticmethod
    def weighted(scale, parts, feed, offset):
        cos, sin, sin_cos, sin_sin, one = parts
        h_cos, h_sin, h = feed * sin_cos + offset * cos, feed * sin_sin + offset * sin, feed * sin + offset * one
        return scale * np.stack(np.broadcast_arrays(h_cos, h_sin, cos, sin, h, one))


def antiderivatives(angle):
    sin, cos = np.sin(angle), np.cos(angle)
    return np.stack([sin, -cos, 0.5 * sin * sin, 0.5 * (angle - sin * cos)])


def coefficients(setup, iron):
    """Tangential, radial and axial cutting and tangential and radial edge coefficients, and the thrust."""
    published, cutter = setup["material"], setup["cutter"]
    ktc = published["tangential"] * iron["ForceFactor"]
    kte = published["edge_tangential"] * iron["EdgeFactor"]
    helix_pull = np.tan(cutter["helix"]) / np.tan(np.radians(30))
    thrust = 0.6
    if cutter["kind"] == "end_mill":
        thrust = 2 / np.pi * min(cutter["corner_radius"] / setup["cut"]["depth"], 1.0)
    kre = kte * published["edge_radial_ratio"]
    return ktc, ktc * iron["RadialRatio"], ktc * iron["AxialRatio"] * helix_pull, kte, kre, thrust


def forces(setup, basis, iron):
    """What of a revolution's forces the rest needs, by name."""
    ktc, krc, kac, kte, kre, thrust = coefficients(setup, iron)
    count = len(ktc)
    # Between two levels, linear.
    ratio = 0.5 * iron["Runout"] / basis.feed
    high = np.clip(np.searchsorted(LEVELS, ratio, side="right"), 1, len(LEVELS) - 1)
    share = np.clip((ratio - LEVELS[high - 1]) / (LEVELS[high] - LEVELS[high - 1]), 0, 1)
    level = np.zeros((count, len(LEVELS), 1))
    level[np.arange(count), high - 1, 0] = 1 - share
    level[np.arange(count), high, 0] = share

    def combined(coefficients, integrals, columns):
        weights = (level * np.stack(coefficients, axis=1)[:, None, :]).reshape(count, -1)
        table = np.ascontiguousarray(basis.table[:, integrals, columns])
        return weights, table.reshape(-1, table.shape[-1])

    revolution, rest = slice(0, STEPS), slice(STEPS, None)
    plane, along = slice(0, 4), slice(4, 6)
    ways = [
        ((-ktc, -krc, -kte, -kre), plane),
        ((-krc, ktc, -kre, kte), plane),
        ((kac - thrust * krc, -thrust * kre), along),
    ]
    steps = [combined(*way, revolution) for way in ways]
    blocks = [slice(low, low + BLOCK) for low in range(0, count, BLOCK)]
    parts = [swing(*(weights[block] @ table for weights, table in steps)) for block in blocks]
    found = {name: np.concatenate([part[name] for part in parts]) for name in parts[0]}

    weights, table = combined(*ways[1], rest)
    across = weights @ table
    weights, table = combined((ktc, kte), along, slice(STEPS, STEPS + 1))
    bias = iron["SpindleWeight"]
    return {
        "angle": found["angle"],
        "peak": found["peak"],
        "feed_reversal": reversal(found["x_low"], found["x_high"]),
        "reversal": reversal(found["y_low"], found["y_high"]),
        "axial_reversal": reversal(found["z_low"] + bias, found["z_high"] + bias),
        "range": [found[way + "_high"] - found[way + "_low"] for way in "xyz"],
        "largest": [np.maximum(found[way + "_high"], -found[way + "_low"]) for way in "xyz"],
        "pull": found["x_high"],
        "lift": found["z_high"],
        "mean": across[:, 0],
        "at_wall": across[:, 1],
        # By harmonic, so that each is contiguous.
        "harmonics": np.ascontiguousarray(across[:, 2:].T).reshape(HARMONICS, 2, count),
        "tangential": (weights @ table)[:, 0],
    }


def swing(x, y, z):
    """Ends of the force, the largest in the plane, and the angle through which it swings."""
    squared = x * x + y * y
    at = np.argmax(squared, axis=1)[:, None]
    peak, peak_x, peak_y = (np.take_along_axis(one, at, axis=1) for one in (squared, x, y))
    dot = x * peak_x + y * peak_y
    # A force under a tenth of the peak pushes nothing across.
    cosine = np.divide(dot * np.abs(dot), squared * peak, out=np.ones_like(dot), where=squared > 0.01 * peak)
    left = peak_x * y - peak_y * x >= 0
    angle = 0.0
    for side in (left, ~left):
        least = np.minimum(np.min(cosine, axis=1, initial=1.0, where=side), 1.0)
        angle = angle + np.arccos(np.clip(np.copysign(np.sqrt(np.abs(least)), least), -1, 1))
    ends = {"angle": angle, "peak": np.sqrt(peak[:, 0])}
    for name, force in (("x", x), ("y", y), ("z", z)):
        ends[name + "_low"] = np.minimum(force.min(axis=1), 0)
        ends[name + "_high"] = np.maximum(force.max(axis=1), 0)
    return ends


def reversal(low, high):
    both = (low < 0) & (high > 0)
    return np.divide(np.minimum(-low, high), np.maximum(-low, high), out=np.zeros_like(low), where=both)
