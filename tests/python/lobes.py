"""The semi-discretization of the engine, in NumPy, for its speed.

Insperger and Stepan, Int. J. Numer. Meth. Engng 55 (2002) and 61 (2004): first
order, coefficients averaged in closed form over each interval, exact exponential,
spectral radius of the map over one tooth. One mode along the feed, straight teeth.
Not run by the tests:

    python3 tests/python/lobes.py            times beside `cargo bench --bench lobes`
    python3 tests/python/lobes.py --check    limits of tests/data/semi_discretization.csv
"""

import csv
import pathlib
import sys
import time

import numpy as np

DATA = pathlib.Path(__file__).parent.parent / "data"


class Milling:
    """One mode (N/mm, ratio, Hz) and a cut: a/D, "up" or "down", N/mm2."""

    def __init__(self, width, sense, teeth, ktc, krc, stiffness, damping, frequency):
        span = np.arccos(1 - 2 * width)
        self.start, self.exit = (0.0, span) if sense == "up" else (np.pi - span, np.pi)
        self.teeth, self.ktc, self.krc = teeth, ktc, krc
        self.stiffness, self.damping, self.omega = stiffness, damping, 2 * np.pi * frequency

    def coefficients(self, intervals):
        """Mean of each interval from tooth to tooth, N/mm2."""
        angles = np.linspace(0, 2 * np.pi / self.teeth, intervals + 1)
        total = np.zeros(intervals + 1)
        for tooth in range(self.teeth):
            p = np.clip(angles + 2 * np.pi * tooth / self.teeth, self.start, self.exit)
            total += -self.ktc * np.cos(2 * p) / 4 + self.krc * (p / 2 - np.sin(2 * p) / 4)
        return np.diff(total) / np.diff(angles)


def monodromy(milling, speed, depth, intervals, coefficients):
    step = 60 / (milling.teeth * speed) / intervals
    # Closed form of the exponential, all intervals at once: twice as fast as
    # scipy.linalg.expm on each, ten times as expm on the stack of them.
    cut = depth * coefficients * milling.omega**2 / milling.stiffness
    spring, dashpot = milling.omega**2 + cut, 2 * milling.damping * milling.omega
    omega = np.sqrt(spring - dashpot**2 / 4 + 0j)
    cos, sin = np.cos(omega * step).real, (np.sin(omega * step) / omega).real
    decay = np.exp(-dashpot * step / 2)
    qq, qv = decay * (cos + dashpot / 2 * sin), decay * sin
    vq, vv = -spring * qv, decay * (cos - dashpot / 2 * sin)
    # A delayed displacement of one, and one that grows to one in the interval.
    gain = cut / spring
    rate, lag = gain / step, dashpot / spring
    constant = np.array([gain * (1 - qq), -gain * vq])
    ramp = np.array([rate * (step - lag + qq * lag - qv), rate * (1 + vq * lag - vv)])
    now = np.array([[qq, qv], [vq, vv]])
    # State: displacement, velocity, displacements one to `intervals` steps ago.
    total = np.eye(intervals + 2)
    for i in range(intervals):
        after = np.empty_like(total)
        after[:2] = now[:, :, i] @ total[:2]
        if cut[i]:
            after[:2] += np.outer(constant[:, i] - ramp[:, i], total[-1]) + np.outer(ramp[:, i], total[-2])
        after[2] = total[0]
        after[3:] = total[2:-1]
        total = after
    return total


def spectral_radius(milling, speed, depth, intervals, coefficients):
    multipliers = np.linalg.eigvals(monodromy(milling, speed, depth, intervals, coefficients))
    return np.abs(multipliers).max()


def check():
    """The table's limits at 40 intervals, to its last digit."""
    with open(DATA / "stability_limits.csv") as exact, open(DATA / "semi_discretization.csv") as discretized:
        both = [csv.DictReader(line for line in table if not line.startswith("#")) for table in (exact, discretized)]
        wrong = count = 0
        for row, limits in zip(*both):
            if not limits["sdm1_m40_mm"]:
                continue
            frequency = float(row["fn_Hz"])
            milling = Milling(
                float(row["radial_immersion_a_over_D"]),
                row["direction"],
                int(row["teeth_N"]),
                1e-6 * float(row["Kt_N_per_m2"]),
                1e-6 * float(row["Kn_N_per_m2"]),
                1e-3 * float(row["modal_mass_kg"]) * (2 * np.pi * frequency) ** 2,
                float(row["zeta"]),
                frequency,
            )
            limit = float(limits["sdm1_m40_mm"])
            coefficients = milling.coefficients(40)
            below, above = (
                spectral_radius(milling, float(row["rpm"]), limit + way * 1e-6, 40, coefficients) for way in (-1, 1)
            )
            count += 1
            wrong += not below < 1 < above
    print(f"{count} limits, {wrong} wrong")
    return wrong


def times():
    """CPU time of points of the chart that the benchmark works."""
    for width in (0.1, 0.5, 1.0):
        milling = Milling(width, "down", 4, 2000.0, 1000.0, 2000.0, 0.03, 150.0)
        coefficients = milling.coefficients(40)
        points = [(speed, depth) for speed in np.linspace(500, 3000, 20) for depth in np.linspace(0.04, 4, 10)]
        start = time.process_time()
        for speed, depth in points:
            spectral_radius(milling, speed, depth, 40, coefficients)
        point = (time.process_time() - start) / len(points)
        print(f"a/D {width}, 40 intervals: {1e6 * point:.0f} us a point, {20_000 * point:.1f} s a chart")


if __name__ == "__main__":
    sys.exit(check() if "--check" in sys.argv else times())
