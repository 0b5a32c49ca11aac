//! Chatter: how deep one can cut before it starts, in closed form.
//!
//! Two ways lead into it. In the one the chatter frequency is free, and the mean
//! feedback rules: the zeroth-order solution of Altintas and Budak, CIRP Annals
//! 44 (1995). In the other the tool moves the opposite way at every second tooth
//! (period doubling), and what rings is an odd harmonic of half the tooth-passing
//! frequency together with its mirror image: the multi-frequency solution of
//! Merdol and Altintas, J. Manuf. Sci. Eng. 126 (2004), of which only these two
//! are kept. Both are written for one mode with a complex feedback, to which a
//! pair of modes is reduced ([`super::pair`]).

use std::f64::consts::{PI, TAU};

use super::lobes::Complex;

pub use super::feedback::{Contact, Feedback, FeedbackGeometry};

/// One mode: stiffness N/mm, damping ratio, natural frequency Hz.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mode {
    /// Stiffness.
    pub stiffness: f64,
    /// Damping ratio.
    pub damping: f64,
    /// Natural frequency.
    pub frequency: f64,
}

impl Mode {
    /// Force over displacement (N/mm) at `ratio` times the natural frequency.
    pub(super) fn dynamic_stiffness(self, ratio: f64) -> Complex {
        Complex::new(1.0 - ratio * ratio, 2.0 * self.damping * ratio).scale(self.stiffness)
    }
}

/// Deepest cut (mm) that no speed makes chatter at a frequency of its own, for
/// one mode with `feedback` (N/mm2): `2 k z (1 + z) / h`, or
/// `2 k z (1 - z) / |h|` where `h` is negative.
pub fn depth_limit(mode: Mode, feedback: f64) -> f64 {
    let sign = feedback.signum();
    2.0 * mode.stiffness * mode.damping * (1.0 + sign * mode.damping) / feedback.abs()
}

/// Deepest cut (mm) at one speed, for one mode with `feedback` (N/mm2) and
/// `passes` teeth a second, period doubling left out.
pub fn depth_limit_at(mode: Mode, feedback: f64, passes: f64) -> f64 {
    Lobes::new(mode, Complex::real(feedback)).within([mode.frequency / passes; 2]).0
}

/// The lobes of one mode with a complex feedback.
///
/// The boundary is `1 + b h (1 - exp(-iwT)) G(iw) = 0`. With `s = -1/(h G)` the
/// depth is `b = |s|^2 / (2 Re s)` where `Re s > 0`, and the phase between teeth
/// is `wT = pi - 2 arg s` up to whole turns. Everything is a function of the
/// ratio `r = w/wn`; `s` is `k (r^2 - 1 - 2 i z r) / h`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Lobes {
    damping: f64,
    /// Stiffness over feedback, mm.
    depth: f64,
    /// Conjugate of the feedback's direction.
    back: Complex,
    /// Ratio of the least depth, to first order in the damping; exact for a real
    /// feedback.
    pub best: f64,
}

impl Lobes {
    pub fn new(mode: Mode, feedback: Complex) -> Self {
        let size = feedback.abs();
        let back = if size > 0.0 { feedback.conj().scale(1.0 / size) } else { Complex::real(1.0) };
        // Half-widths off resonance: `re / (1 + im)`, in the form that does not
        // cancel.
        let Complex { re, im } = back;
        let widths = if im > 0.0 { re / (1.0 + im) } else { (1.0 - im) / re };
        let best = (1.0 + 2.0 * mode.damping * widths.clamp(-FAR, FAR)).max(0.01).sqrt();
        Lobes { damping: mode.damping, depth: mode.stiffness / size, back, best }
    }

    /// `s` over `depth`.
    fn point(&self, r: f64) -> Complex {
        Complex::new(r * r - 1.0, -2.0 * self.damping * r) * self.back
    }

    /// Depth at ratio `r`; infinite where no depth lies on the boundary.
    fn depth_at(&self, r: f64) -> f64 {
        let point = self.point(r);
        if point.re > 0.0 { self.depth * point.norm() / (2.0 * point.re) } else { f64::INFINITY }
    }

    /// Least depth at any speed.
    pub fn least(&self) -> f64 {
        self.depth_at(self.best)
    }

    /// Least depth anywhere between two numbers of natural oscillations from tooth
    /// to tooth, the smaller first, and its ratio.
    ///
    /// The depth falls towards the ratio of the overall least from both sides,
    /// and the phase grows with the ratio, so only the lobes on either side of
    /// that least can hold the least.
    pub fn within(&self, waves: [f64; 2]) -> (f64, f64) {
        let best = self.best;
        let turned = self.turned(best);
        let [below, above] = waves.map(|waves| (waves * best + turned).floor());
        if above > below {
            return (self.depth_at(best), best);
        }
        let depth = |count, waves| match self.ratio(count, waves, best) {
            Some(ratio) => (self.depth_at(ratio), ratio),
            None => (f64::INFINITY, best),
        };
        // The lobe below comes nearest with the fewest waves.
        let (low, high) = (depth(below, waves[0]), depth(above + 1.0, waves[1]));
        if high.0 < low.0 { high } else { low }
    }

    /// Turns of phase between two teeth at ratio `r` beyond those of the natural
    /// oscillations; whole together on the boundary.
    fn turned(&self, r: f64) -> f64 {
        let Complex { re, im } = self.point(r);
        (im / re).atan() / PI - 0.5
    }

    /// The ratio at which the phase is `count`, on its own side of resonance,
    /// found from `start`: Halley's steps, held inside a shrinking bracket.
    fn ratio(&self, count: f64, waves: f64, start: f64) -> Option<f64> {
        /// Error of the phase before the last step, which cubes it.
        const CLOSE: f64 = 1e-3;
        const STEPS: u32 = 50;
        // Where `Re s` is zero: the depth is infinite there, and the phase has
        // its end.
        let tilt = self.damping * self.back.im / self.back.re;
        let edge = -tilt + (1.0 + tilt * tilt).sqrt();
        let (mut low, mut high) = match self.back.re > 0.0 {
            // The phase runs from a turn below `waves * edge`, ever up.
            true if count > waves * edge - 1.0 => (edge, edge.max((count + 1.0) / waves)),
            false if count >= 0.0 && count < waves * edge => (0.0, edge),
            _ => return None,
        };
        let mut r = start.clamp(low, high);
        for _ in 0..STEPS {
            let point = self.point(r);
            let lead = waves * r - 0.5 + (point.im / point.re).atan() / PI - count;
            if lead > 0.0 {
                high = r;
            } else {
                low = r;
            }
            // The logarithm of the point turns with the phase: its derivatives are
            // those of the phase, times pi.
            let inverse = point.conj().scale(1.0 / (PI * point.norm()));
            let turn = Complex::new(2.0 * r, -2.0 * self.damping) * self.back * inverse;
            let (rate, bend) = (waves + turn.im, ((self.back * inverse).scale(2.0) - (turn * turn).scale(PI)).im);
            let halley = r - 2.0 * lead * rate / (2.0 * rate * rate - lead * bend);
            r = if (low..=high).contains(&halley) { halley } else { 0.5 * (low + high) };
            if lead.abs() < CLOSE {
                break;
            }
        }
        Some(r)
    }
}

/// Half-widths of a resonance from it beyond which the least depth is not
/// looked for.
const FAR: f64 = 4.0;

/// Period doubling of one mode with a complex feedback: mean `mean` and odd
/// harmonic of size `harmonic`, N/mm2.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Flip {
    pub mean: Complex,
    pub harmonic: f64,
}

impl Flip {
    /// Least depth (mm) at any speed, `k z / (|h_q| + |Im h_0|)`, and the ratio
    /// of frequencies at which it lies.
    pub fn least(self, mode: Mode) -> (f64, f64) {
        let strength = self.harmonic + self.mean.im.abs();
        let ratio = (1.0 + 2.0 * mode.damping * (self.mean.re / strength).clamp(-FAR, FAR)).max(0.01).sqrt();
        (mode.stiffness * mode.damping / strength, ratio)
    }

    /// Least depth (mm) where the harmonic of half the tooth-passing frequency
    /// is `ratio` times the natural frequency, if there is one:
    /// `|1 + 2 b h_0 G| = 2 b |h_q G|`, a quadratic in `b`.
    pub fn at(self, mode: Mode, ratio: f64) -> Option<f64> {
        let resists = mode.dynamic_stiffness(ratio);
        let linear = (self.mean * resists.conj()).re;
        let square = self.mean.norm() - self.harmonic * self.harmonic;
        let root = linear * linear - square * resists.norm();
        // One over twice the depth, in units of the resisting stiffness.
        let inverse = -linear + root.max(0.0).sqrt();
        (root >= 0.0 && inverse > 0.0).then(|| 0.5 * resists.norm() / inverse)
    }
}

/// The deepest cut counted, mm: beyond it "no limit" is as good an answer.
pub const DEPTH_CAP: f64 = 50.0;

/// How much the damping of flank rubbing raises a depth limit at low speed.
///
/// Rubbing acts as a dashpot `C b / v` (Tyler and Schmitz, J.
/// Manufacturing Processes 15 (2013)), `rubbing` in N/m and averaged over the engagement
/// ([`FeedbackGeometry::contact`]), `speed` in m/s. It grows with the depth, and
/// the limit `limit` (mm) of `mode` without it grows with the damping, so the
/// limit solves a linear equation. Infinite where every depth adds more damping
/// than it takes.
pub fn rubbing_gain(mode: Mode, limit: f64, rubbing: f64, speed: f64) -> f64 {
    let relief = limit * rubbing_damping(mode, rubbing, speed) / mode.damping;
    1.0 / (1.0 - relief).max(0.0)
}

/// Damping ratio that a dashpot `C b / v` gives a mode, `c w / (2 k)`, per mm of
/// depth.
pub fn rubbing_damping(mode: Mode, rubbing: f64, speed: f64) -> f64 {
    let dashpot = rubbing * 1e-3 / speed; // Ns/m per mm of depth
    dashpot * TAU * mode.frequency / (2.0 * mode.stiffness * 1e3)
}
