//! Chatter of two modes at right angles: those of one group of parts, along the
//! feed and across it.
//!
//! The mean feedback `A` ties the two together: where both ring alike, the
//! eigenvalues of `A` count and not its diagonal, and they may be complex. At a
//! given frequency the boundary is that of the eigenvalues of `A diag(Gx, Gy)`
//! (Altintas and Budak, CIRP Annals 44 (1995)). Taken against the receptance of
//! one mode, an eigenvalue changes slowly over its resonance: it is the complex
//! feedback of that mode with the other one eliminated. Exact where the modes
//! are equal or far apart.

use std::f64::consts::PI;

use super::feedback::{FeedbackGeometry, Harmonic};
use super::lobes::Complex;
use super::stability::{Contact, Feedback, Flip, Lobes, Mode, rubbing_gain};

/// Share by which a speed, or the pitch of a mode against it, is off from what
/// is reckoned with: slip of the motor and belt under load. Common practice, no
/// source.
pub const SPEED_BAND: f64 = 0.05;

/// A cut, as far as chatter depends on it.
#[derive(Clone, Debug, PartialEq)]
pub struct Cutting<'a> {
    /// Harmonics of the feedback.
    pub geometry: &'a FeedbackGeometry,
    /// Tangential and radial cutting coefficient, N/mm2.
    pub coefficients: [f64; 2],
    /// Mean feedback.
    pub feedback: Feedback,
    /// How the flank rubs.
    pub contact: Contact,
    /// Flank-rubbing coefficient, N/m.
    pub rubbing: f64,
    /// Cutting speed, m/s.
    pub speed: f64,
    /// Tooth-passing frequency, Hz.
    pub passes: f64,
    /// Share by which that may be off.
    pub band: f64,
    /// The highest there is, Hz; at least `passes`.
    pub most_passes: f64,
    /// Angle between teeth by which the edge trails the tip per depth, in pitches
    /// per mm.
    pub twist: f64,
}

/// Two modes: along the feed and across it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pair(pub [Mode; 2]);

/// The feedback of one mode at one frequency, the other mode eliminated.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Reduced {
    /// The eigenvalue, over the receptance of the mode.
    mean: Complex,
    /// Receptance of the other mode over that of the mode.
    other: Complex,
}

impl Pair {
    /// Depth (mm) without chatter at the speed set, and a few percent to either
    /// side of it, as far as it lies below `known`.
    pub fn limit(&self, cutting: &Cutting, known: f64) -> f64 {
        self.limit_above(self.floor(cutting), cutting, known)
    }

    /// The same, where [`Self::floor`] is known.
    pub fn limit_above(&self, floor: f64, cutting: &Cutting, known: f64) -> f64 {
        if floor >= known {
            return known;
        }
        self.sides(cutting).fold(known, |known, side| side.limit(cutting, known)).max(floor)
    }

    /// Depth (mm) below which nothing chatters with the harmonics that count here,
    /// whatever the phase between teeth: `1 / (2 r)`, where `r` is the spectral radius
    /// of what the loop feeds back at most. That of a matrix is no larger than that of
    /// its entries' sizes (Horn and Johnson, Matrix Analysis, section 8.1, from
    /// memory), so every resonance counts in full. Quickly found, it spares looking
    /// into modes that others come before.
    pub fn floor(&self, cutting: &Cutting) -> f64 {
        let Feedback { feed, normal, feed_by_normal, normal_by_feed } = cutting.feedback;
        let Pair(modes) = self;
        let rings = modes.iter().map(|mode| cutting.rings_with(mode.frequency)).fold(0.0, f64::max);
        // Receptance at resonance, `1 / (2 k z sqrt(1 - z^2))`.
        let [along, across] =
            modes.map(|mode| 0.5 / (mode.stiffness * mode.damping * (1.0 - mode.damping * mode.damping)));
        let (own, other) = (along * (feed.abs() + rings), across * (normal.abs() + rings));
        let both = (feed_by_normal.abs() + rings) * (normal_by_feed.abs() + rings) * along * across;
        let radius = 0.5 * (own + other + ((own - other).powi(2) + 4.0 * both).sqrt());
        let depth = 0.5 / radius;
        let Contact { feed, normal } = cutting.contact;
        let gains = [(modes[0], feed), (modes[1], normal)]
            .map(|(mode, rubs)| rubbing_gain(mode, depth, rubs * cutting.rubbing, cutting.speed));
        depth * gains[0].min(gains[1])
    }

    /// The same at any speed the spindle has.
    pub fn limit_at_any_speed(&self, cutting: &Cutting, known: f64) -> f64 {
        self.sides(cutting).fold(known, |known, side| side.limit_at_any_speed(cutting, known))
    }

    /// Seen from each of its modes; from one if they are one.
    fn sides(&self, cutting: &Cutting) -> impl Iterator<Item = Reduction<'_>> {
        let modes = if self.is_apart() { 2 } else { 1 };
        (0..modes).map(|which| Reduction { pair: self, which, matrix: cutting.matrix(which) })
    }

    /// Whether the modes can be told apart: nearer than that they are one.
    fn is_apart(&self) -> bool {
        let Pair([feed, normal]) = self;
        (feed.frequency / normal.frequency - 1.0).abs() > 0.25 * feed.damping.min(normal.damping)
    }
}

/// A pair seen from one of its modes.
#[derive(Clone, Copy, Debug)]
struct Reduction<'a> {
    pair: &'a Pair,
    which: usize,
    /// The mean feedback, that mode first.
    matrix: [[f64; 2]; 2],
}

/// Where the lobes of a mode come lowest.
struct Lowest {
    /// The eigenvalue that chatters first there, then the other.
    branches: [Reduced; 2],
    /// How many of them are the mode's: where the other mode hardly moves, the
    /// second eigenvalue is that mode's own.
    own: usize,
    /// Those of the first.
    lobes: Lobes,
    /// Depth (mm) without rubbing.
    depth: f64,
    /// Times which rubbing raises it.
    gain: f64,
}

impl Reduction<'_> {
    fn mode(&self) -> Mode {
        self.pair.0[self.which]
    }

    fn lowest(&self, cutting: &Cutting) -> Lowest {
        let mode = self.mode();
        let (branches, lobes) = self.at_least();
        let depth = lobes.least();
        let rubbing = [cutting.contact.feed, cutting.contact.normal][self.which] * cutting.rubbing;
        let gain = rubbing_gain(mode, depth, rubbing, cutting.speed);
        Lowest { own: if branches[0].other.norm() < 0.1 { 1 } else { 2 }, branches, lobes, depth, gain }
    }

    /// Limit of the mode at the speed set, as far as it lies below `known`.
    fn limit(&self, cutting: &Cutting, known: f64) -> f64 {
        let mode = self.mode();
        let Lowest { branches, own, lobes, depth: least, gain } = self.lowest(cutting);
        let waves = mode.frequency / cutting.passes;
        let band = [waves * (1.0 - cutting.band), waves * (1.0 + cutting.band)];
        let mut limit = known;
        // Never below the least: what lies above what is known is not looked into.
        if gain * least < limit {
            limit = limit.min(gain * self.between(&lobes, branches[0].mean, band).max(least));
        }
        // The odd harmonics on either side of the mode.
        let below = odd_below(waves);
        for order in [below, below + 2] {
            if cutting.harmonic_size(order) == 0.0 {
                break;
            }
            let ratios = [band[1], band[0]].map(|waves| f64::from(order) / (2.0 * waves));
            let harmonic = cutting.harmonic(self.which, order);
            for (branch, reduced) in branches.iter().enumerate().take(own) {
                let (lowest, at) = self.flip(reduced, &harmonic).least(mode);
                if gain * lowest >= limit {
                    continue;
                }
                let ratio = at.clamp(ratios[0], ratios[1]);
                let flip = self.flip(&self.reduced(ratio)[branch], &harmonic);
                let depth = |flip: Flip| flip.at(mode, ratio).map(|depth| gain * depth);
                let depth = cutting.twisted(order, flip, limit, depth);
                limit = limit.min(depth.max(gain * lowest));
            }
        }
        limit
    }

    /// Limit of the mode at any speed, as far as it lies below `known`.
    fn limit_at_any_speed(&self, cutting: &Cutting, known: f64) -> f64 {
        let mode = self.mode();
        let Lowest { branches, own, depth, gain, .. } = self.lowest(cutting);
        // Of the harmonics that the fastest speed leaves above the mode, the first
        // is the strongest.
        let first = (2.0 * mode.frequency / cutting.most_passes).ceil() as u32 | 1;
        branches.iter().take(own).fold(known.min(gain * depth), |limit, reduced| {
            let flip = self.flip(reduced, &cutting.harmonic(self.which, first));
            cutting.twisted(first, flip, limit, |flip| Some(gain * flip.least(mode).0))
        })
    }

    /// Least depth between two numbers of waves, with `lobes` of the `mean` feedback
    /// at the least depth of all. In the gap between two lobes the frequency is off that of the
    /// mode, and the other mode acts otherwise.
    fn between(&self, lobes: &Lobes, mean: Complex, waves: [f64; 2]) -> f64 {
        const ROUNDS: u32 = 2;
        /// Times the least depth: from where a gap is looked into, and how far up it
        /// is believed where the feedback changes by more than a tenth on the way.
        const GAP: f64 = 1.5;
        const BELIEVED: f64 = 6.0;
        let least = lobes.least();
        let (mut depth, mut ratio) = lobes.within(waves);
        if depth <= GAP * least {
            return depth;
        }
        let changed = |there: Complex| (there - mean).norm() > 0.01 * mean.norm();
        for round in 0..ROUNDS {
            let there = self.reduced(ratio)[0].mean;
            if round == 0 && !changed(there) {
                return depth;
            }
            (depth, ratio) = Lobes::new(self.mode(), there).within(waves);
        }
        depth.min(BELIEVED * least)
    }

    /// At the frequency of the least depth, with the lobes there.
    fn at_least(&self) -> ([Reduced; 2], Lobes) {
        const ROUNDS: u32 = 3;
        /// In half-widths of the resonance: the depth changes by the square.
        const NEAR: f64 = 0.25;
        let mode = self.mode();
        let mut ratio = Lobes::new(mode, Complex::real(self.matrix[0][0])).best;
        let mut reduced = self.reduced(ratio);
        let mut lobes = Lobes::new(mode, reduced[0].mean);
        for _ in 1..ROUNDS {
            if (lobes.best - ratio).abs() < NEAR * mode.damping {
                break;
            }
            ratio = lobes.best;
            reduced = self.reduced(ratio);
            lobes = Lobes::new(mode, reduced[0].mean);
        }
        (reduced, lobes)
    }

    /// At `ratio` times the frequency of the mode: the eigenvalue that chatters
    /// first, then the other.
    fn reduced(&self, ratio: f64) -> [Reduced; 2] {
        let [[own, by_other], [to_other, others]] = self.matrix;
        let (mode, second) = (self.mode(), self.pair.0[1 - self.which]);
        let resists = mode.dynamic_stiffness(ratio);
        let other = resists / second.dynamic_stiffness(ratio * mode.frequency / second.frequency);
        let others = other.scale(others);
        let half = (Complex::real(own) + others).scale(0.5);
        let product = others.scale(own) - other.scale(by_other * to_other);
        let root = (half * half - product).sqrt();
        let opposes = root.re * resists.re + root.im * resists.im;
        let root = if opposes > 0.0 { -root } else { root };
        [root, -root].map(|root| Reduced { mean: half + root, other })
    }

    /// Period doubling with one harmonic, the mode first.
    fn flip(&self, &Reduced { mean, other }: &Reduced, harmonic: &Harmonic) -> Flip {
        let [[feedback, by_other], [to_other, others]] = self.matrix;
        // How the other mode takes part: in the motion, and in the force.
        let gap = mean - other.scale(others);
        let of_mode = (mean - Complex::real(feedback)).norm() <= gap.norm();
        let gap = if gap.norm() > 0.0 { Complex::real(1.0) / gap } else { Complex::default() };
        let (motion, force) = (gap.scale(to_other), (other * gap).scale(by_other));
        let [[own, by_other], [to_other, others]] = *harmonic;
        let mirrored = (other * motion).conj();
        let shared = own + by_other * mirrored + force * (to_other + others * mirrored);
        let norm = Complex::real(1.0) + motion * force;
        // Eigenvalues that are close to each other share a harmonic; a mode whose
        // neighbour hardly moves has it for itself.
        let alone = if of_mode { own.norm() * (1.0 - 10.0 * other.norm()).max(0.0) } else { 0.0 };
        Flip { mean, harmonic: (shared.norm() / norm.norm()).max(alone).sqrt() }
    }
}

/// The last odd harmonic of half the tooth-passing frequency below a mode with
/// this many waves between teeth, or the first.
fn odd_below(waves: f64) -> u32 {
    let twice = (2.0 * waves) as u32;
    twice.saturating_sub(1) | 1
}

impl Cutting<'_> {
    /// The mean feedback, mode `which` first.
    fn matrix(&self, which: usize) -> [[f64; 2]; 2] {
        let Feedback { feed, normal, feed_by_normal, normal_by_feed } = self.feedback;
        match which {
            0 => [[feed, feed_by_normal], [normal_by_feed, normal]],
            _ => [[normal, normal_by_feed], [feed_by_normal, feed]],
        }
    }

    /// A harmonic of the feedback, mode `which` first.
    fn harmonic(&self, which: usize, order: u32) -> Harmonic {
        let [ktc, krc] = self.coefficients;
        let [[xx, xy], [yx, yy]] = self.geometry.harmonic(order, ktc, krc);
        if which == 0 { [[xx, xy], [yx, yy]] } else { [[yy, yx], [xy, xx]] }
    }

    /// What no part of the harmonics on either side of a mode exceeds.
    fn rings_with(&self, frequency: f64) -> f64 {
        let below = odd_below(frequency / self.passes);
        self.harmonic_size(below).max(self.harmonic_size(below + 2))
    }

    /// What no part of a harmonic exceeds.
    fn harmonic_size(&self, order: u32) -> f64 {
        let [ktc, krc] = self.coefficients;
        self.geometry.harmonic_size(order, ktc, krc)
    }

    /// The depth that `of` gives for a harmonic that a helix smooths, the more the
    /// deeper the cut: from that of a straight edge upwards, and not beyond `known`.
    fn twisted(&self, order: u32, flip: Flip, known: f64, of: impl Fn(Flip) -> Option<f64>) -> f64 {
        const ROUNDS: u32 = 3;
        /// Below this angle (rad) a sine is its angle, to a percent.
        const STRAIGHT: f64 = 0.25;
        let mut depth = of(flip).unwrap_or(known);
        for _ in 0..ROUNDS {
            let turned = PI * f64::from(order) * self.twist * depth;
            if depth >= known || turned < STRAIGHT {
                break;
            }
            let smoothed = Flip { harmonic: flip.harmonic * (turned.sin() / turned).abs(), ..flip };
            // Never back: the answer must not depend on what is known already.
            depth = of(smoothed).unwrap_or(known).max(depth);
        }
        depth.min(known)
    }
}
