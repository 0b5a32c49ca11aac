//! Directional coefficients: the force along one mode per chip thickness that
//! another mode makes, as the cutter turns.
//!
//! A tooth at angle `p` takes a dynamic chip `n . r` along `n = (sin p, cos p)`
//! and is pushed by `-b (Kt (cos p, -sin p) + Kr n)` times that. Between two
//! lines the coefficient is then `C + S sin 2p + K cos 2p`, whose integrals over
//! time and along the helix are closed, and are taken from entry to exit
//! exactly.

use super::{Milling, OrientedMode};
use crate::order;

/// A small real matrix between modes.
pub(super) type Coupling<const M: usize> = [[f64; M]; M];

/// Amounts of `1`, `sin 2p` and `cos 2p`.
type Harmonics = [f64; 3];

/// Below this lag (rad) the edge counts as straight: what that changes is
/// smaller than what subtracting nearly equal integrals would lose.
const STRAIGHT: f64 = 1e-6;

/// The coefficients of one cut at one depth, over modal mass: 1/(s2 mm).
#[derive(Clone, Debug)]
pub(super) struct Directional<const M: usize> {
    start: f64,
    /// Sine and cosine of twice the start.
    entry: [f64; 2],
    exit: f64,
    pitch: f64,
    lag: f64,
    shares: [Coupling<M>; 3],
}

impl<const M: usize> Directional<M> {
    /// Of `milling` at `depth` (mm), between `modes`.
    pub fn new(milling: &Milling, modes: &[OrientedMode; M], depth: f64) -> Self {
        let lag = milling.lag(depth);
        let (kt, kr) = (0.5 * milling.ktc, 0.5 * milling.krc);
        let harmonic = |matrix: [[f64; 2]; 2]| -> Coupling<M> {
            std::array::from_fn(|i| {
                let pushed = modes[i];
                let [px, py] = pushed.line();
                let mass_inverse = pushed.omega().powi(2) / pushed.mode.stiffness;
                std::array::from_fn(|k| {
                    let [mx, my] = modes[k].line();
                    let [[xx, xy], [yx, yy]] = matrix;
                    mass_inverse * (px * (xx * mx + xy * my) + py * (yx * mx + yy * my))
                })
            })
        };
        Directional {
            start: milling.engagement.start,
            entry: (2.0 * milling.engagement.start).sin_cos().into(),
            exit: milling.engagement.exit,
            pitch: milling.pitch(),
            lag: if lag > STRAIGHT { lag } else { 0.0 },
            shares: [harmonic([[kr, kt], [-kt, kr]]), harmonic([[kt, kr], [kr, -kt]]), harmonic([[-kr, kt], [kt, kr]])],
        }
    }

    /// Angles of the tip within one pitch, in order, at which a tooth starts or
    /// stops to change what is in the cut; from 0 to the pitch.
    pub fn breaks(&self) -> Vec<f64> {
        let mut breaks = vec![0.0, self.pitch];
        let edges = [self.start, self.exit, self.start + self.lag, self.exit + self.lag];
        breaks.extend(edges.map(|edge| edge.rem_euclid(self.pitch)));
        order::ascending(&mut breaks);
        breaks.dedup_by(|a, b| *a - *b < 1e-9);
        breaks
    }

    /// At one angle of the tip; `None` while nothing cuts.
    pub fn at(&self, tip: f64) -> Option<Coupling<M>> {
        self.combine(self.teeth([tip, tip], |ahead| match self.lag {
            0.0 => self.antiderivative(0, tip + ahead),
            lag => {
                let of = |tip| self.antiderivative(1, tip);
                difference(of(tip + ahead), of(tip + ahead - lag), 1.0 / lag)
            }
        }))
    }

    /// Averaged over each of `parts` equal parts of the pitch; `None` where
    /// nothing cuts.
    pub fn means(&self, parts: usize) -> Vec<Option<Coupling<M>>> {
        let share = self.pitch / parts as f64;
        let passed: Vec<Harmonics> = (0..=parts).map(|node| self.passed(share * node as f64)).collect();
        passed.windows(2).map(|ends| self.combine(difference(ends[1], ends[0], 1.0 / share))).collect()
    }

    /// Averaged over the whole pitch.
    pub fn mean(&self) -> Option<Coupling<M>> {
        self.combine(difference(self.passed(self.pitch), self.passed(0.0), 1.0 / self.pitch))
    }

    /// What no coefficient exceeds, summed over the modes that one is fed by,
    /// 1/(s2 mm).
    pub fn bound(&self) -> f64 {
        let cutting = ((self.exit - self.start) / self.pitch).ceil().max(1.0);
        let [constant, sine, cosine] = &self.shares;
        let cell = |i: usize, k: usize| constant[i][k].abs() + sine[i][k].hypot(cosine[i][k]);
        let row = |i: usize| -> f64 { (0..M).map(|k| cell(i, k)).sum() };
        cutting * (0..M).map(row).fold(0.0, f64::max)
    }

    /// The integral over the angle of the tip, up to `tip`, of all teeth that cut
    /// within the pitch.
    fn passed(&self, tip: f64) -> Harmonics {
        // Behind its cut a tooth adds nothing, to the last digit.
        let gone = self.exit + self.lag;
        self.teeth([0.0, self.pitch], |ahead| {
            let tip = (tip + ahead).min(gone);
            match self.lag {
                0.0 => self.antiderivative(1, tip),
                lag => difference(self.antiderivative(2, tip), self.antiderivative(2, tip - lag), 1.0 / lag),
            }
        })
    }

    /// Sum over the teeth that are in the cut for some tip angle between `from`
    /// and `to`, of what `of` gives for a tooth so far ahead of the tip.
    fn teeth(&self, [from, to]: [f64; 2], of: impl Fn(f64) -> Harmonics) -> Harmonics {
        let first = ((self.start - to) / self.pitch).ceil();
        let last = ((self.exit + self.lag - from) / self.pitch).floor();
        let mut sum = [0.0; 3];
        for tooth in first as i64..=last as i64 {
            let of_tooth = of(tooth as f64 * self.pitch);
            for (total, value) in sum.iter_mut().zip(of_tooth) {
                *total += value;
            }
        }
        sum
    }

    /// The coupling of so much of each harmonic.
    fn combine(&self, harmonics: Harmonics) -> Option<Coupling<M>> {
        let [one, sine, cosine] = harmonics;
        let [c, s, k] = &self.shares;
        let cell = |i: usize, j: usize| one * c[i][j] + sine * s[i][j] + cosine * k[i][j];
        (harmonics != [0.0; 3]).then(|| std::array::from_fn(|i| std::array::from_fn(|j| cell(i, j))))
    }

    /// The harmonics where the tooth is in the cut and zero elsewhere,
    /// integrated `times` times from entry to `tip`.
    fn antiderivative(&self, times: u32, tip: f64) -> Harmonics {
        let (start, exit) = (self.start, self.exit);
        if tip <= start || (times == 0 && tip >= exit) {
            return [0.0; 3];
        }
        let (sin, cos) = (2.0 * tip.min(exit)).sin_cos();
        if times == 0 {
            return [1.0, sin, cos];
        }
        let [sin0, cos0] = self.entry;
        let once = [tip.min(exit) - start, 0.5 * (cos0 - cos), 0.5 * (sin - sin0)];
        if times == 1 {
            return once;
        }
        let span = once[0];
        let twice =
            [0.5 * span * span, 0.5 * span * cos0 - 0.25 * (sin - sin0), -0.5 * span * sin0 - 0.25 * (cos - cos0)];
        // Past the exit the first integral stands still.
        let past = (tip - exit).max(0.0);
        std::array::from_fn(|i| twice[i] + past * once[i])
    }
}

fn difference(a: Harmonics, b: Harmonics, scale: f64) -> Harmonics {
    std::array::from_fn(|i| scale * (a[i] - b[i]))
}
