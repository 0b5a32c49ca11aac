//! Lobes from the frequency response: zeroth-order solution and average tooth
//! angle.
//!
//! With the coefficients replaced by their mean, a chatter frequency `w` lies on
//! the boundary where `1 + b (1 - exp(-i w T)) L(w) = 0` for an eigenvalue `L` of
//! (mean coefficients) x (frequency response). With `s = -1/L` the depth is
//! `b = |s|^2 / (2 Re s)`, where `Re s > 0`, and the phase between teeth is
//! `w T = pi - 2 arg s`, up to whole turns.

use std::f64::consts::{PI, TAU};

use super::directional::Directional;
use super::{Complex, Freedom, Milling, OrientedMode};
use crate::order;

/// How the turning coefficients are made constant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Averaging {
    /// Their mean over a revolution: Altintas and Budak, CIRP Annals 44 (1995)
    /// 357-362.
    Mean,
    /// Those of a tooth half way between entry and exit, times the mean number
    /// of teeth in the cut: Tlusty's formula as in Schmitz and Smith, *Machining
    /// Dynamics*, 2nd ed. 2019, ch. 4.
    AverageToothAngle,
}

/// A point of the boundary.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChatterPoint {
    /// Axial depth, mm.
    pub depth: f64,
    /// Chatter frequency, Hz.
    pub frequency: f64,
}

impl Averaging {
    /// The shallowest depth that chatters at any speed. `None` if the force never
    /// feeds vibration, as without cutting coefficients.
    pub fn least_depth(self, milling: &Milling) -> Option<ChatterPoint> {
        match &milling.modes {
            Freedom::One(modes) => Response::new(self, milling, modes).least_depth(),
            Freedom::Two(modes) => Response::new(self, milling, modes).least_depth(),
        }
    }

    /// The shallowest depth that chatters at `speed` rpm.
    pub fn depth_at(self, milling: &Milling, speed: f64) -> Option<ChatterPoint> {
        let period = milling.period(speed);
        match &milling.modes {
            Freedom::One(modes) => Response::new(self, milling, modes).depth_at(period),
            Freedom::Two(modes) => Response::new(self, milling, modes).depth_at(period),
        }
    }
}

/// The boundary at one frequency.
#[derive(Clone, Copy, Debug)]
struct Boundary {
    depth: f64,
    /// Between teeth, 0 to a turn.
    phase: f64,
}

/// The boundary where an eigenvalue puts it; `None` where no depth does.
fn boundary(eigenvalue: Complex) -> Option<Boundary> {
    let s = -(Complex::real(1.0) / eigenvalue);
    let depth = s.norm() / (2.0 * s.re);
    (s.re > 0.0 && depth.is_finite()).then(|| Boundary { depth, phase: PI - 2.0 * s.arg() })
}

/// Two eigenvalues in the order of those they went on from.
fn in_order([a, b]: [Complex; 2], before: [Complex; 2]) -> [Complex; 2] {
    let apart = |a: Complex, b: Complex| (a - before[0]).abs() + (b - before[1]).abs();
    if apart(b, a) < apart(a, b) { [b, a] } else { [a, b] }
}

fn nearest([a, b]: [Complex; 2], to: Complex) -> Complex {
    if (b - to).norm() < (a - to).norm() { b } else { a }
}

/// Constant coefficients with the modes they act on.
struct Response<'a, const M: usize> {
    modes: &'a [OrientedMode; M],
    /// Between modes, over modal mass, 1/(s2 mm).
    coupling: [[f64; M]; M],
}

impl<'a, const M: usize> Response<'a, M> {
    fn new(averaging: Averaging, milling: &Milling, modes: &'a [OrientedMode; M]) -> Self {
        let straight = Milling { helix: 0.0, ..*milling };
        let directional = Directional::new(&straight, modes, 0.0);
        let coupling = match averaging {
            // A pitch of every tooth's pass is the whole turn of one.
            Averaging::Mean => directional.mean(),
            Averaging::AverageToothAngle => {
                let engagement = milling.engagement;
                let teeth = engagement.span() / milling.pitch();
                // One tooth alone, wherever the others are.
                let single = Milling { teeth: 1, ..straight };
                let middle = 0.5 * (engagement.start + engagement.exit);
                Directional::new(&single, modes, 0.0).at(middle).map(|row| row.map(|row| row.map(|cell| cell * teeth)))
            }
        };
        Response { modes, coupling: coupling.unwrap_or([[0.0; M]; M]) }
    }

    fn least_depth(&self) -> Option<ChatterPoint> {
        let mesh = self.mesh(0.0);
        let depth = |omega: f64| {
            let depths = self.eigenvalues(omega).map(|value| boundary(value).map_or(f64::INFINITY, |at| at.depth));
            depths[0].min(depths[1])
        };
        let depths = mesh.iter().map(|&omega| depth(omega)).enumerate();
        let (best, _) = depths.min_by(|a, b| a.1.total_cmp(&b.1))?;
        let omega = golden([mesh[best.saturating_sub(1)], mesh[(best + 1).min(mesh.len() - 1)]], depth);
        let depth = depth(omega);
        depth.is_finite().then_some(ChatterPoint { depth, frequency: omega / TAU })
    }

    /// With `period` s from tooth to tooth.
    fn depth_at(&self, period: f64) -> Option<ChatterPoint> {
        // Turns between teeth: whole on the boundary.
        let turns = |omega: f64, boundary: &Boundary| (omega * period - boundary.phase) / TAU;
        let mesh = self.mesh(period);
        let mut best: Option<ChatterPoint> = None;
        let mut low = self.eigenvalues(mesh[0]);
        for ends in mesh.windows(2) {
            let high = in_order(self.eigenvalues(ends[1]), low);
            for branch in 0..2 {
                let [from, to] = [low[branch], high[branch]];
                let (Some(a), Some(b)) = (boundary(from), boundary(to)) else {
                    continue;
                };
                let (a, b) = (turns(ends[0], &a), turns(ends[1], &b));
                let whole = a.max(b).floor();
                // The phase jumps only where the depth is infinite.
                if (a - b).abs() > 0.5 || whole < a.min(b) || whole < 0.0 {
                    continue;
                }
                let between = (from + to).scale(0.5);
                let near = |omega: f64| boundary(nearest(self.eigenvalues(omega), between));
                let found = crossing([ends[0], ends[1]], |omega| {
                    near(omega).map(|at| (turns(omega, &at) - whole) * (b - a).signum())
                });
                if let Some(at) = near(found)
                    && best.is_none_or(|best| at.depth < best.depth)
                {
                    best = Some(ChatterPoint { depth: at.depth, frequency: found / TAU });
                }
            }
            low = high;
        }
        best
    }

    /// The two eigenvalues at `omega` (rad/s), 1/mm, in no order.
    ///
    /// The force lies in the plane, so however many modes there are the product
    /// has two eigenvalues that are not zero, and its trace and the trace of its
    /// square give them.
    fn eigenvalues(&self, omega: f64) -> [Complex; 2] {
        let receptance: [Complex; M] = self.modes.map(|oriented| {
            let natural = oriented.omega();
            let inverse =
                Complex::new(natural * natural - omega * omega, 2.0 * oriented.mode.damping * natural * omega);
            Complex::real(1.0) / inverse
        });
        let mut trace = Complex::default();
        let mut square = Complex::default();
        for i in 0..M {
            trace = trace + receptance[i].scale(self.coupling[i][i]);
            for k in 0..M {
                let both = receptance[i] * receptance[k];
                square = square + both.scale(self.coupling[i][k] * self.coupling[k][i]);
            }
        }
        // Sum p and product: p^2 - 4 d with d = (p^2 - square) / 2.
        let mut root = (square.scale(2.0) - trace * trace).sqrt();
        // The larger eigenvalue first, so that the smaller does not cancel.
        if (root * trace.conj()).re < 0.0 {
            root = -root;
        }
        let first = (trace + root).scale(0.5);
        let product = (trace * trace - square).scale(0.5);
        let second = if M == 1 || first.norm() == 0.0 { Complex::default() } else { product / first };
        [first, second]
    }

    /// Frequencies (rad/s) in order, dense where a mode rings; with no more than
    /// a tenth of a turn in `period` between two.
    fn mesh(&self, period: f64) -> Vec<f64> {
        let mut mesh = Vec::new();
        let mut highest: f64 = 0.0;
        for oriented in self.modes {
            let natural = oriented.omega();
            highest = highest.max(natural);
            // Geometric about resonance, from a hundredth of its width to far off.
            let width = oriented.mode.damping * natural;
            let mut offset = 0.01 * width;
            while offset < 8.0 * natural {
                mesh.extend([natural - offset, natural + offset]);
                offset *= 1.1;
            }
        }
        let even = (40.0 * highest * period / TAU).clamp(400.0, 20_000.0) as u32;
        mesh.extend((1..=even).map(|i| 4.0 * highest * f64::from(i) / f64::from(even)));
        mesh.retain(|&omega| omega > 0.0);
        order::ascending(&mut mesh);
        mesh
    }
}

/// Where `of` changes from negative to positive between two ends.
fn crossing([mut low, mut high]: [f64; 2], of: impl Fn(f64) -> Option<f64>) -> f64 {
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        match of(middle) {
            Some(value) if value < 0.0 => low = middle,
            _ => high = middle,
        }
    }
    0.5 * (low + high)
}

/// Where `of` is least between two ends, by golden section.
fn golden([mut low, mut high]: [f64; 2], of: impl Fn(f64) -> f64) -> f64 {
    const SHARE: f64 = 0.618_033_988_749_894_8;
    for _ in 0..80 {
        let (left, right) = (high - SHARE * (high - low), low + SHARE * (high - low));
        if of(left) < of(right) {
            high = right;
        } else {
            low = left;
        }
    }
    0.5 * (low + high)
}
