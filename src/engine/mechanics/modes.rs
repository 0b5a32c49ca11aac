//! How the loop vibrates.
//!
//! The springs of the loop do not move as one: cutter, spindle and quill swing
//! by themselves at some hundreds of hertz, head and column at some tens, table
//! and part in between. Each group is taken as one mode in each direction, far
//! enough from the others that chatter picks one of them.

use std::f64::consts::TAU;

use super::chain::{Compliance, LoopPart};
use super::stability::{DEPTH_CAP, Mode, depth_limit, depth_limit_at, rubbing_gain};
use super::{Plausible, Unknown, surface};

use LoopPart as P;

/// Parts that swing together: spindle side, frame, work side.
const GROUPS: [&[LoopPart]; 3] = [
    &[P::Cutter, P::HolderJoint, P::Taper, P::Shaft, P::FrontBearing, P::RearBearing, P::Quill],
    &[P::Head, P::Column],
    &[P::Table, P::Holding, P::Part],
];

/// The limit to count on at a speed. Between two teeth of a slow mode lie few
/// waves, and its lobes are broad enough to sit in; from about two waves on, a
/// few percent of speed or frequency carry across a lobe, and the least of them
/// is what can be counted on.
fn counted_limit(mode: Mode, feedback: f64, passes: f64) -> f64 {
    const BROAD: f64 = 1.0;
    const NARROW: f64 = 2.0;
    let waves = mode.frequency / passes;
    let least = depth_limit(mode, feedback);
    if waves >= NARROW {
        return least;
    }
    // The zeroth-order solution misses the flip lobes of shallow cuts: against
    // exact limits it is up to three times too high at under a wave.
    const TRUSTED: f64 = 3.0;
    let trust = ((NARROW - waves) / (NARROW - BROAD)).min(1.0);
    least + trust * (depth_limit_at(mode, feedback, passes).min(TRUSTED * least) - least)
}

/// The modes of one direction: spindle side, frame, work side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Modes([Mode; 3]);

impl Modes {
    /// Of direction `axis` (0 for X, 1 for Y); `slack` (mm/N) is what crossing
    /// its play adds to a part.
    pub fn new(compliance: &Compliance, axis: usize, slack: &[(LoopPart, f64)], iron: &Plausible) -> Self {
        use Unknown as U;
        let stiffness = |group: &[LoopPart]| {
            let springs: f64 = group.iter().map(|&part| compliance.of(part)[axis]).sum();
            let crossed: f64 = slack.iter().filter(|(part, _)| group.contains(part)).map(|(_, slack)| slack).sum();
            1.0 / (springs + crossed)
        };
        let swinging = |stiffness: f64, mass: f64| (stiffness * 1e3 / mass).sqrt() / TAU;
        let [spindle, frame, work] = GROUPS.map(stiffness);
        let (frequency, damping) = match axis {
            0 => (iron[U::FrequencyX], iron[U::DampingX]),
            _ => (iron[U::FrequencyY], iron[U::DampingY]),
        };
        Modes([
            Mode {
                stiffness: spindle,
                damping: iron[U::SpindleDamping],
                frequency: swinging(spindle, iron[U::SpindleMass]),
            },
            Mode { stiffness: frame, damping, frequency },
            Mode { stiffness: work, damping: iron[U::WorkDamping], frequency: swinging(work, iron[U::WorkMass]) },
        ])
    }

    /// Compliance of the whole direction, mm/N.
    pub fn compliance(&self) -> f64 {
        self.0.iter().map(|mode| 1.0 / mode.stiffness).sum()
    }

    /// The mode heard when the tool is tapped: the one that rings most.
    pub fn heard(&self) -> Mode {
        self.least_by(|mode| mode.stiffness * mode.damping)
    }

    /// The mode nearest in pitch to `frequency` (Hz).
    pub fn nearest(&self, frequency: f64) -> Mode {
        self.least_by(|mode| (mode.frequency / frequency).ln().abs())
    }

    fn least_by(&self, measure: impl Fn(Mode) -> f64) -> Mode {
        let [first, others @ ..] = self.0;
        others.into_iter().fold(first, |least, mode| if measure(mode) < measure(least) { mode } else { least })
    }

    /// Deepest cut (mm) without chatter at this speed, and at any speed.
    pub fn depth_limits(&self, feedback: f64, rubbing: f64, speed: f64, passes: f64) -> (f64, f64) {
        // A mode's limit at a speed is never below its limit at any speed, so
        // most modes are ruled out without looking at their lobes.
        let mut anywhere = self.0.map(|mode| {
            let gain = rubbing_gain(mode, feedback, rubbing, speed, passes);
            (gain * depth_limit(mode, feedback), gain, mode)
        });
        anywhere.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut here = DEPTH_CAP;
        for (least, gain, mode) in anywhere {
            if least >= here {
                break;
            }
            here = here.min(gain * counted_limit(mode, feedback, passes));
        }
        (here, anywhere[0].0.min(DEPTH_CAP))
    }

    /// Deflection (mm) when the wall is made, under a force of mean `mean` that
    /// stands at `instant` then: what of the swing each mode can follow at
    /// tooth-passing frequency.
    pub fn deflection(&self, mean: f64, instant: f64, passes: f64) -> f64 {
        self.0
            .iter()
            .map(|mode| {
                let ratio = passes / mode.frequency;
                let detune = 1.0 - ratio * ratio;
                let follow = detune / (detune * detune + (2.0 * mode.damping * ratio).powi(2));
                (mean + (instant - mean) * follow.clamp(-8.0, 8.0)) / mode.stiffness
            })
            .sum()
    }

    /// Ra (mm) that a force swing of `swing` (N), uneven from tooth to tooth by
    /// the share `unsteadiness`, leaves.
    pub fn shaken(&self, swing: f64, unsteadiness: f64, passes: f64) -> f64 {
        let squares = self.0.iter().map(|mode| {
            let ringing = surface::ringing(mode.damping, mode.frequency, passes);
            surface::ridge_ra(unsteadiness * swing * ringing / mode.stiffness).powi(2)
        });
        squares.sum::<f64>().sqrt()
    }
}
