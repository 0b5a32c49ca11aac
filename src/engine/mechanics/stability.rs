//! Chatter: the depth of cut below which no speed chatters, in closed form.
//!
//! Zeroth-order solution with one mode: Altintas and Budak, CIRP Annals 44
//! (1995). For a single mode the minimum over all speeds has a closed form,
//! which is what a light mill with few speeds has to live with.

use std::f64::consts::{PI, TAU};

use super::force::Engagement;

/// How strongly a mode along and a mode across the feed are fed back, N/mm2,
/// averaged over a revolution: `N/2pi * integral` of the force along the mode
/// per chip thickness the mode makes. Negative when the force follows the
/// motion instead of opposing it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Feedback {
    /// For a mode along the feed.
    pub feed: f64,
    /// For a mode across the feed.
    pub normal: f64,
}

/// The angular part of [`Feedback`]: per tangential and per radial coefficient.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FeedbackGeometry {
    feed: (f64, f64),
    normal: (f64, f64),
}

impl FeedbackGeometry {
    /// Integrates over the engagement.
    pub fn new(engagement: Engagement, teeth: u32) -> Self {
        let scale = f64::from(teeth) / TAU;
        let double = |angle: f64| -> (f64, f64) { ((2.0 * angle).sin(), (2.0 * angle).cos()) };
        let (s0, c0) = double(engagement.start);
        let (s1, c1) = double(engagement.exit);
        let cosines = (c1 - c0) / 4.0;
        let sines = (s1 - s0) / 4.0;
        let half = engagement.span() / 2.0;
        FeedbackGeometry {
            feed: (-cosines * scale, (half - sines) * scale),
            normal: (cosines * scale, (half + sines) * scale),
        }
    }

    /// How much of a tooth's flank rubs along and across the feed, averaged over
    /// a revolution: `N/2pi * integral` of the squared share of the motion that
    /// lies along the chip.
    pub fn contact(&self) -> Feedback {
        Feedback { feed: self.feed.1, normal: self.normal.1 }
    }

    /// With tangential coefficient `ktc` and radial coefficient `krc`, N/mm2.
    pub fn with(&self, ktc: f64, krc: f64) -> Feedback {
        Feedback { feed: ktc * self.feed.0 + krc * self.feed.1, normal: ktc * self.normal.0 + krc * self.normal.1 }
    }
}

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

/// Deepest cut (mm) that no speed makes chatter, for one mode with `feedback`
/// (N/mm2): `2 k z (1 + z) / h`, or `2 k z (1 - z) / |h|` where `h` is negative.
pub fn depth_limit(mode: Mode, feedback: f64) -> f64 {
    let sign = feedback.signum();
    2.0 * mode.stiffness * mode.damping * (1.0 + sign * mode.damping) / feedback.abs()
}

/// Deepest cut (mm) at one speed, for one mode with `feedback` (N/mm2) and
/// `passes` teeth a second.
///
/// With `L = b h / k` the boundary is `1 + L (1 - exp(-iwT)) G(iw) = 0`: its
/// real and imaginary parts give `L` as a function of `r = w/wn`, and
/// `tan(wT/2) = (1 - r^2)/(2 z r)` picks the `r` of each lobe.
pub fn depth_limit_at(mode: Mode, feedback: f64, passes: f64) -> f64 {
    let waves = mode.frequency / passes;
    // Among many waves lobes lie so close that the least of them rules.
    if waves > MANY_WAVES {
        return depth_limit(mode, feedback);
    }
    let lobes = Lobes { damping: mode.damping, waves, negative: feedback < 0.0 };
    lobes.least_depth() * mode.stiffness / feedback.abs()
}

/// Waves between two teeth beyond which lobes are not told apart.
const MANY_WAVES: f64 = 12.0;

/// The lobes of one mode at one speed.
struct Lobes {
    damping: f64,
    /// Natural oscillations between two teeth.
    waves: f64,
    negative: bool,
}

impl Lobes {
    /// Least `|L|` over the lobes.
    ///
    /// `|L|` falls towards the frequency ratio of the overall minimum from both
    /// sides, and the phase grows with the ratio, so only the lobes on either
    /// side of that minimum can hold the least.
    fn least_depth(&self) -> f64 {
        let sign = if self.negative { -1.0 } else { 1.0 };
        let best = (1.0 + sign * 2.0 * self.damping).sqrt();
        let below = self.phase(best).floor();
        let depth = |count: f64| self.ratio(count, best).map_or(f64::INFINITY, |ratio| self.depth(ratio));
        depth(below).min(depth(below + 1.0))
    }

    /// `|L|` at frequency ratio `r`: `((1 - r^2)^2 + (2 z r)^2) / (2 |1 - r^2|)`.
    fn depth(&self, r: f64) -> f64 {
        let detune = (1.0 - r * r).abs();
        (detune * detune + (2.0 * self.damping * r).powi(2)) / (2.0 * detune)
    }

    /// Turns of phase between two teeth at ratio `r`; whole on the boundary.
    fn phase(&self, r: f64) -> f64 {
        self.waves * r + ((r * r - 1.0) / (2.0 * self.damping * r)).atan() / PI
    }

    /// The ratio at which the phase is `count`, on its own side of resonance,
    /// found from `start`: Newton, held inside a shrinking bracket.
    fn ratio(&self, count: f64, start: f64) -> Option<f64> {
        // At resonance the phase is `waves`, so only counts beyond it (below it
        // where the feedback is negative) have a root on this side.
        let (mut low, mut high) = match self.negative {
            false if count > self.waves => (1.0, count / self.waves),
            true if count >= 0.0 && count < self.waves => (0.0, 1.0),
            _ => return None,
        };
        let mut r = start.clamp(low, high);
        for _ in 0..50 {
            let lead = self.phase(r) - count;
            if lead.abs() < 1e-7 {
                break;
            }
            if lead > 0.0 {
                high = r;
            } else {
                low = r;
            }
            let tangent = (r * r - 1.0) / (2.0 * self.damping * r);
            let slope = self.waves + (1.0 + 1.0 / (r * r)) / (2.0 * self.damping * PI * (1.0 + tangent * tangent));
            let newton = r - lead / slope;
            r = if newton > low && newton < high { newton } else { 0.5 * (low + high) };
        }
        Some(r)
    }
}

/// The deepest cut counted, mm: beyond it "no limit" is as good an answer.
pub const DEPTH_CAP: f64 = 50.0;

/// How much the damping of flank rubbing raises a depth limit at low speed.
///
/// Rubbing acts as a dashpot `C b / v` (Tyler and Schmitz, Precision
/// Engineering 37 (2013)), `rubbing` in N/m and averaged over the engagement
/// ([`FeedbackGeometry::contact`]), `speed` in m/s; in proportion to
/// the depth, so the limit solves a linear equation. It needs short waves: it
/// comes in over the first ten waves between one tooth and the next (a rule of
/// thumb of the field, from memory), `passes` being the tooth-passing frequency
/// in Hz. At most three: beyond that the linear model leaves its range.
pub fn rubbing_gain(mode: Mode, feedback: f64, rubbing: f64, speed: f64, passes: f64) -> f64 {
    // Dashpot C b / v as a damping ratio, c w / (2 k), per mm of depth.
    let dashpot = rubbing_share(mode, passes) * rubbing * 1e-3 / speed; // Ns/m per mm of depth
    let per_depth = dashpot * TAU * mode.frequency / (2.0 * mode.stiffness * 1e3);
    let sign = feedback.signum();
    let relief = 2.0 * mode.stiffness * (1.0 + sign * mode.damping) * per_depth / feedback.abs();
    1.0 / (1.0 - relief).max(1.0 / 3.0)
}

/// Share of the rubbing coefficient that counts for a mode: see [`rubbing_gain`].
pub fn rubbing_share(mode: Mode, passes: f64) -> f64 {
    (mode.frequency / passes / 10.0).min(1.0)
}
