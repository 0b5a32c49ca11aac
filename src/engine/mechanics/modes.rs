//! How the loop vibrates.
//!
//! The springs of the loop do not move as one, for what swings on them differs a
//! thousandfold in mass: the cutter's few grams ring at some thousands of hertz,
//! the holder on the spindle's shaft towards one thousand, the spindle in its
//! bearings at some hundreds, head and column at some tens; table and part by
//! themselves in between. Each group is taken as one mode in each direction, far
//! enough from the others that chatter picks one of them.

use std::f64::consts::TAU;

use super::chain::{Compliance, Inertia, LoopPart};
#[cfg(doc)]
use super::force::ForceBasis;
use super::pair::{Cutting, Pair};
use super::stability::{DEPTH_CAP, Mode};
use super::{Plausible, Unknown, surface};

use LoopPart as P;

/// How many groups of parts there are.
const COUNT: usize = 6;

/// Parts that swing together, in the order of [`ModeGroup::ALL`].
const GROUPS: [&[LoopPart]; COUNT] = [
    &[P::Cutter, P::HolderJoint],
    &[P::Taper, P::Shaft],
    &[P::FrontBearing, P::RearBearing, P::Quill],
    &[P::Head, P::Column],
    &[P::Table],
    &[P::Holding, P::Part],
];

/// A group of parts that swing together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ModeGroup {
    /// Cutter, and how the holder grips it.
    Cutter,
    /// Taper and shaft, which the holder swings on.
    Nose,
    /// Bearings and quill, which the spindle swings on.
    Spindle,
    /// Head and column.
    Frame,
    /// Table and slides.
    Table,
    /// Workholding, part.
    Part,
}

impl ModeGroup {
    /// Every group, in the order of [`Modes::groups`].
    pub const ALL: [ModeGroup; COUNT] =
        [ModeGroup::Cutter, ModeGroup::Nose, ModeGroup::Spindle, ModeGroup::Frame, ModeGroup::Table, ModeGroup::Part];

    /// Its name in the middle of a sentence, and what is in it.
    pub fn label(self) -> (&'static str, &'static str) {
        match self {
            ModeGroup::Cutter => ("the cutter", "cutter and how it is gripped"),
            ModeGroup::Nose => ("the holder on the spindle nose", "taper and spindle shaft"),
            ModeGroup::Spindle => ("the spindle in its bearings", "bearings, quill"),
            ModeGroup::Frame => ("the frame", "head and column"),
            ModeGroup::Table => ("the table", "table and slides"),
            ModeGroup::Part => ("the part in its grip", "vise or clamps, part"),
        }
    }

    /// The parts in it.
    pub fn parts(self) -> &'static [LoopPart] {
        GROUPS[self as usize]
    }
}

/// What chatters on one machine: each group with its limit at the speed set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chatter([(Pair, f64); COUNT]);

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
pub(super) fn pairs(feed: &Modes, normal: &Modes) -> [Pair; COUNT] {
    std::array::from_fn(|group| Pair([feed.0[group], normal.0[group]]))
}

/// Deepest cut (mm) without chatter at the speed set, of the modes along the feed
/// and across it. Of groups that swing as they do in `before`, the same cut on
/// this machine before some change, the limits are taken from there.
pub fn chatter_limit(feed: &Modes, normal: &Modes, cutting: &Cutting, before: Option<&Chatter>) -> f64 {
    let pairs = pairs(feed, normal);
    let mut known = DEPTH_CAP;
    let floors: [f64; COUNT] = std::array::from_fn(|group| match before {
        Some(Chatter(before)) if before[group].0 == pairs[group] => {
            known = known.min(before[group].1);
            f64::INFINITY
        }
        _ => pairs[group].floor(cutting),
    });
    // What can come first is looked into first: that often settles the rest.
    let mut groups: [usize; COUNT] = std::array::from_fn(|group| group);
    groups.sort_unstable_by(|&a, &b| floors[a].total_cmp(&floors[b]));
    groups.iter().fold(known, |known, &group| pairs[group].limit_above(floors[group], cutting, known))
}

/// The modes of one direction, one for each of [`ModeGroup::ALL`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Modes([Mode; COUNT]);

/// What nothing is stiffer than, mm/N: a hundred times a solid block.
const RIGID: f64 = 1e-8;

/// A soft hammer rings little above this, Hz: it stays in touch for about a
/// millisecond. Common practice, no source.
const SOFT_HAMMER: f64 = 1000.0;

impl Modes {
    /// Of direction `axis` (0 for X, 1 for Y); `slack` (mm/N) is what crossing
    /// its play adds to a part.
    pub fn new(
        compliance: &Compliance,
        inertia: Inertia,
        axis: usize,
        slack: &[(LoopPart, f64)],
        iron: &Plausible,
    ) -> Self {
        use Unknown as U;
        let stiffness = |group: &[LoopPart]| {
            let springs: f64 = group.iter().map(|&part| compliance.of(part)[axis]).sum();
            let crossed: f64 = slack.iter().filter(|(part, _)| group.contains(part)).map(|(_, slack)| slack).sum();
            1.0 / (springs + crossed).max(RIGID)
        };
        let swings = |stiffness: f64, mass: f64, damping: f64| {
            let frequency = (stiffness * 1e3 / mass).sqrt() / TAU;
            Mode { stiffness, damping, frequency }
        };
        let [cutter, nose, spindle, frame, table, part] = GROUPS.map(stiffness);
        let (frequency, damping) = match axis {
            0 => (iron[U::FrequencyX], iron[U::DampingX]),
            _ => (iron[U::FrequencyY], iron[U::DampingY]),
        };
        let [cutter, nose] = on_each_other(
            [cutter, nose],
            [inertia.cutter, inertia.holder],
            [iron[U::CutterDamping], iron[U::SpindleDamping]],
        );
        Modes([
            cutter,
            nose,
            swings(spindle, inertia.spindle(iron), iron[U::SpindleDamping]),
            Mode { stiffness: frame, damping, frequency },
            swings(table, iron[U::TableMass], iron[U::TableDamping]),
            swings(part, iron[U::PartMass], iron[U::PartDamping]),
        ])
    }

    /// One mode for each of [`ModeGroup::ALL`].
    pub fn groups(&self) -> [Mode; COUNT] {
        self.0
    }

    /// Compliance of the whole direction, mm/N.
    pub fn compliance(&self) -> f64 {
        self.0.iter().map(|mode| 1.0 / mode.stiffness).sum()
    }

    /// What is heard when the tool is tapped with something soft: the mode that
    /// rings most, and of those that ring nearly as much a mean.
    pub fn heard(&self) -> Mode {
        /// Power of loudness by which modes are weighed: by their energy.
        const CLEAR: i32 = 2;
        let (mut sum, mut heard) = (0.0, [0.0; 3]);
        for mode in &self.0 {
            let resists = mode.stiffness * mode.damping * (1.0 + (mode.frequency / SOFT_HAMMER).powi(2));
            let loud = resists.powi(-CLEAR);
            sum += loud;
            for (mean, part) in heard.iter_mut().zip([mode.stiffness, mode.damping, mode.frequency]) {
                *mean += loud * part.ln();
            }
        }
        let [stiffness, damping, frequency] = heard.map(|mean| (mean / sum).exp());
        Mode { stiffness, damping, frequency }
    }

    /// The mode nearest in pitch to `frequency` (Hz).
    pub fn nearest(&self, frequency: f64) -> Mode {
        self.least_by(|mode| (mode.frequency / frequency).ln().abs())
    }

    fn least_by(&self, measure: impl Fn(Mode) -> f64) -> Mode {
        let [first, others @ ..] = self.0;
        others.into_iter().fold(first, |least, mode| if measure(mode) < measure(least) { mode } else { least })
    }

    /// Compliance (mm/N) that has time to follow a force for `length` of the time
    /// between two of `passes` (Hz).
    pub fn following(&self, length: f64, passes: f64) -> f64 {
        self.0.iter().map(|mode| followed(TAU * mode.frequency / passes * length) / mode.stiffness).sum()
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
    /// makes it ring less. The tooth at the wall bends all modes at once, but each
    /// only as far as there was time to.
    pub fn scatter(&self, push: &Push, kept: f64, passes: f64) -> f64 {
        let (mut rung, mut bent) = (0.0, 0.0);
        for mode in &self.0 {
            let turned = TAU * mode.frequency / passes;
            let impulse = push.mean.abs() * turned;
            let gentle = TAU / (TAU + turned * push.length);
            let step = push.range * (push.abrupt + (1.0 - push.abrupt) * gentle);
            let both = (impulse * impulse + step * step).sqrt();
            let pushed = impulse * step / both.max(f64::MIN_POSITIVE);
            let rings = pushed * surface::ringing(kept * mode.damping, mode.frequency, passes, push.since);
            rung += (rings / mode.stiffness).powi(2);
            bent += push.at_wall * followed(turned * push.before) / mode.stiffness;
        }
        (rung + bent * bent).sqrt()
    }
}

/// Share of its bend that a mode has reached when a force has lasted for `turned`
/// (rad) of its swing: half its square at first, all in the end.
fn followed(turned: f64) -> f64 {
    let time = turned * turned;
    time / (2.0 + time)
}

/// The two modes of a mass on a spring on a mass on a spring, outer first, as the
/// outer mass feels them, from springs (N/mm), masses (kg) and damping ratios. A
/// light cutter swings by itself, a heavy one takes its holder along. Two degrees
/// of freedom: Thomson, Theory of Vibration with Applications, chapter 5, from
/// memory. Each spring damps by its share of the energy.
fn on_each_other([k, inner_k]: [f64; 2], [m, inner_m]: [f64; 2], [damping, inner_damping]: [f64; 2]) -> [Mode; 2] {
    // Squares of angular frequencies, in 1000 rad2/s2: of the parts, then of the
    // modes.
    let (outer, inner) = (k / m, inner_k / inner_m);
    let both = outer + inner + k / inner_m;
    let higher = 0.5 * (both + (both * both - 4.0 * outer * inner).sqrt());
    let mode = |square: f64| {
        // How far the inner mass swings, the outer by one.
        let inside = 1.0 - square / outer;
        let stiffness = square * (m + inner_m * inside * inside);
        let share = k * (1.0 - inside).powi(2) / stiffness;
        let damping = share * damping + (1.0 - share) * inner_damping;
        Mode { stiffness, damping, frequency: (square * 1e3).sqrt() / TAU }
    };
    let [higher, lower] = [higher, outer * inner / higher].map(mode);
    if outer > inner { [higher, lower] } else { [lower, higher] }
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

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    /// Equal masses on equal springs: `k/m (3 -+ sqrt 5) / 2`, and the golden ratio
    /// between their swings (Thomson, from memory). Their compliances add up to that
    /// of both springs.
    #[test]
    fn equal_masses_on_equal_springs() {
        let modes = on_each_other([1000.0; 2], [2.0; 2], [0.02, 0.04]);
        let squares = modes.map(|mode| (TAU * mode.frequency).powi(2) / 500e3);
        let root = 5.0_f64.sqrt();
        assert_relative_eq!(squares[0], 0.5 * (3.0 - root), max_relative = 1e-12);
        assert_relative_eq!(squares[1], 0.5 * (3.0 + root), max_relative = 1e-12);
        let golden = 0.5 * (1.0 + root);
        let mass = modes[0].stiffness / (500.0 * squares[0]);
        assert_relative_eq!(mass, 2.0 * (1.0 + golden.powi(-2)), max_relative = 1e-12);
        assert_relative_eq!(1.0 / modes[0].stiffness + 1.0 / modes[1].stiffness, 2e-3, max_relative = 1e-12);
        // The lower mode: the outer spring stretches by 1 - 1/golden where the inner
        // does by 1/golden.
        let energies = [(1.0 - 1.0 / golden).powi(2), golden.powi(-2)];
        let damping = (0.02 * energies[0] + 0.04 * energies[1]) / (energies[0] + energies[1]);
        assert_relative_eq!(modes[0].damping, damping, max_relative = 1e-12);
    }

    /// A cutter of some grams rings as if it were held by a rock.
    #[test]
    fn a_light_cutter_swings_by_itself() {
        let [cutter, nose] = on_each_other([7e3, 11e3], [5e-3, 0.5], [0.02, 0.04]);
        let square = |mode: Mode| (TAU * mode.frequency).powi(2) / 1e3;
        assert_relative_eq!(square(cutter), 7e3 / 5e-3, max_relative = 0.02);
        assert_relative_eq!(square(nose), 11e3 / 0.5, max_relative = 0.02);
        assert_relative_eq!(cutter.damping, 0.02, max_relative = 0.03);
        assert_relative_eq!(nose.damping, 0.04, max_relative = 0.03);
        let compliances = 1.0 / cutter.stiffness + 1.0 / nose.stiffness;
        assert_relative_eq!(compliances, 1.0 / 7e3 + 1.0 / 11e3, max_relative = 1e-9);
    }
}
