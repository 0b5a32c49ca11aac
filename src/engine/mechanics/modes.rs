//! How the loop vibrates.
//!
//! The springs of the loop do not move as one: cutter, spindle and quill swing
//! by themselves at some hundreds of hertz, head and column at some tens, table
//! and part in between. Each group is taken as one mode in each direction, far
//! enough from the others that chatter picks one of them.

use std::f64::consts::TAU;

use super::chain::{Compliance, LoopPart};
#[cfg(doc)]
use super::force::ForceBasis;
use super::pair::{Cutting, Pair};
use super::stability::{DEPTH_CAP, Mode};
use super::{Plausible, Unknown, surface};

use LoopPart as P;

/// Parts that swing together: spindle side, frame, work side.
const GROUPS: [&[LoopPart]; 3] = [
    &[P::Cutter, P::HolderJoint, P::Taper, P::Shaft, P::FrontBearing, P::RearBearing, P::Quill],
    &[P::Head, P::Column],
    &[P::Table, P::Holding, P::Part],
];

/// A group of parts that swing together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ModeGroup {
    /// Cutter, holder, taper, shaft, bearings, quill.
    Spindle,
    /// Head and column.
    Frame,
    /// Table, workholding, part.
    Work,
}

impl ModeGroup {
    /// Every group, in the order of [`Modes::groups`].
    pub const ALL: [ModeGroup; 3] = [ModeGroup::Spindle, ModeGroup::Frame, ModeGroup::Work];

    /// Its name in the middle of a sentence, and what is in it.
    pub fn label(self) -> (&'static str, &'static str) {
        match self {
            ModeGroup::Spindle => ("the spindle end", "cutter, holder, bearings, quill"),
            ModeGroup::Frame => ("the frame", "head and column"),
            ModeGroup::Work => ("the work on its table", "table, vise or clamps, part"),
        }
    }

    /// The parts in it.
    pub fn parts(self) -> &'static [LoopPart] {
        GROUPS[self as usize]
    }
}

/// What chatters on one machine: each group with its limit at the speed set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chatter([(Pair, f64); 3]);

impl Chatter {
    /// Of the modes along the feed and across it.
    pub fn new(feed: &Modes, normal: &Modes, cutting: &Cutting) -> Self {
        Chatter(pairs(feed, normal).map(|pair| (pair, pair.limit(cutting, DEPTH_CAP))))
    }

    /// Deepest cut (mm) that no speed makes chatter.
    pub fn depth_any_speed(&self, cutting: &Cutting) -> f64 {
        let here = self.0.iter().fold(DEPTH_CAP, |limit, (_, here)| limit.min(*here));
        self.0.iter().fold(here, |limit, (pair, _)| pair.limit_at_any_speed(cutting, limit))
    }
}

/// The groups, each along the feed and across it.
pub(super) fn pairs(feed: &Modes, normal: &Modes) -> [Pair; 3] {
    std::array::from_fn(|group| Pair([feed.0[group], normal.0[group]]))
}

/// Deepest cut (mm) without chatter at the speed set, of the modes along the feed
/// and across it. Of groups that swing as they do in `before`, the same cut on
/// this machine before some change, the limits are taken from there.
pub fn chatter_limit(feed: &Modes, normal: &Modes, cutting: &Cutting, before: Option<&Chatter>) -> f64 {
    let pairs = pairs(feed, normal);
    let Some(Chatter(before)) = before else {
        return pairs.iter().fold(DEPTH_CAP, |limit, pair| pair.limit(cutting, limit));
    };
    let same = |group: &usize| before[*group].0 == pairs[*group];
    let kept = (0..3).filter(same).fold(DEPTH_CAP, |limit, group| limit.min(before[group].1));
    // What came first before likely comes first again, and saves looking further.
    let mut groups = [0, 1, 2];
    groups.sort_unstable_by(|&a, &b| before[a].1.total_cmp(&before[b].1));
    groups.into_iter().filter(|group| !same(group)).fold(kept, |limit, group| pairs[group].limit(cutting, limit))
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

    /// One mode for each of [`ModeGroup::ALL`].
    pub fn groups(&self) -> [Mode; 3] {
        self.0
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

    /// Deflection (mm) when the wall is made, under a force of mean `mean` (N) and
    /// of `harmonics` of tooth passing ([`ForceBasis::harmonics`]): the steady
    /// response of each mode, with its lag. Schmitz and Mann, Int. J. Mach. Tools
    /// Manuf. 46 (2006).
    pub fn deflection(&self, mean: f64, harmonics: &[[f64; 2]], passes: f64) -> f64 {
        let bent = |mode: &Mode| {
            let swings = harmonics.iter().zip(1_u8..).map(|(&[level, ahead], harmonic)| {
                let ratio = f64::from(harmonic) * passes / mode.frequency;
                let (stiff, lossy) = (1.0 - ratio * ratio, 2.0 * mode.damping * ratio);
                (stiff * level + lossy * ahead) / (stiff * stiff + lossy * lossy)
            });
            (mean + swings.sum::<f64>()) / mode.stiffness
        };
        self.0.iter().map(bent).sum()
    }

    /// Standard deviation (mm) of where the tool is when it makes the wall, if the
    /// force of a pass is uneven by its whole self; `kept` is the share of their
    /// damping that the modes keep in the cut.
    ///
    /// Each pass makes a mode ring with the amplitude of an impulse where it is
    /// short, of a step where it is long; a pass that grows and dies away gently
    /// makes it ring less. The tooth at the wall bends the mode only as far as
    /// there was time to.
    pub fn scatter(&self, push: &Push, kept: f64, passes: f64) -> f64 {
        let squares = self.0.iter().map(|mode| {
            let turned = TAU * mode.frequency / passes;
            let impulse = push.mean.abs() * turned;
            let gentle = TAU / (TAU + turned * push.length);
            let step = push.range * (push.abrupt + (1.0 - push.abrupt) * gentle);
            let both = (impulse * impulse + step * step).sqrt();
            let pushed = impulse * step / both.max(f64::MIN_POSITIVE);
            let rings = pushed * surface::ringing(kept * mode.damping, mode.frequency, passes, push.since);
            let time = (turned * push.before).powi(2);
            let bends = push.at_wall * time / (2.0 + time);
            (rings.powi(2) + bends.powi(2)) / mode.stiffness.powi(2)
        });
        squares.sum::<f64>().sqrt()
    }
}

/// How teeth push across the feed. Forces in N, times in those from tooth to
/// tooth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Push {
    /// Mean force.
    pub mean: f64,
    /// Peak to peak.
    pub range: f64,
    /// Force when the wall is made.
    pub at_wall: f64,
    /// How long a tooth pushes.
    pub length: f64,
    /// How long it has pushed when it makes the wall.
    pub before: f64,
    /// Time from the last sudden change of force to the wall.
    pub since: f64,
    /// Share of the force that comes or goes at once.
    pub abrupt: f64,
}
