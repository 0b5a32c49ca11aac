//! The cut from close by: one machine in time, as it is and with a remedy.

use super::{Representative, Spread};
use crate::mechanics::simulation::{Invalid, Relief, Roughness, Run, Trace};
use crate::mechanics::{Bearings, Outcome, Prepared, Unknown};
use crate::quantity::{Dimension, UnitSystem, format, format_estimate};
use crate::remedies::{Effect, Plan, RemedyId};
use crate::work::CutKind;

/// What one machine does in one cut, in time.
#[derive(Clone, Debug, PartialEq)]
pub struct CloseUp {
    /// The same in closed form, as the decision has it.
    pub outcome: Outcome,
    /// Displacement and force over the last revolutions.
    pub trace: Trace,
    /// The wall, where the cut makes one.
    pub wall: Option<SurfacePicture>,
    /// The floor.
    pub floor: Option<SurfacePicture>,
    /// Depth of cut, mm.
    pub depth: f64,
    /// How far (mm) the tip may go from side to side before figures are beyond what
    /// the simulation can tell.
    pub most: f64,
}

/// A surface that comes out of the simulation.
#[derive(Clone, Debug, PartialEq)]
pub struct SurfacePicture {
    /// Its heights, the grain of the process included.
    pub relief: Relief,
    /// Roughness of what motion and feed leave: the grain left out.
    pub motion: Roughness,
    /// Cut-off (mm) at which that was taken.
    pub cutoff: f64,
    /// Roughness Ra (mm) of the grain.
    pub grain: f64,
    /// Whether the figures can be told: see [`CloseUp::leaves`].
    pub told: bool,
}

/// Said in place of a figure that can't be told.
const BEYOND: &str = "more than this can tell: the cutter leaves the cut";

impl SurfacePicture {
    /// Roughness Ra (mm) of all of it.
    pub fn ra(&self) -> f64 {
        self.motion.ra.hypot(self.grain)
    }

    /// Its Ra in words.
    pub fn ra_words(&self, units: UnitSystem) -> String {
        match self.told {
            true => format!("Ra {}", format_estimate(self.ra(), Dimension::Roughness, units)),
            false => BEYOND.to_owned(),
        }
    }

    /// How the surface compares with that of the cut as it is `now`, in words.
    pub fn against(&self, now: &SurfacePicture, units: UnitSystem) -> String {
        let [before, after] = [now, self].map(|surface| surface.ra_words(units));
        match (now.told, self.told) {
            (true, true) => {}
            (false, false) => return format!("As it is and with the remedy {BEYOND}."),
            (false, true) => return format!("As it is, {before}; with the remedy {after}."),
            (true, false) => return format!("{before} as it is; with the remedy {after}."),
        }
        let figures = format!("{before} as it is, {} with the remedy", after.trim_start_matches("Ra "));
        match self.ra() / now.ra() {
            ratio if ratio > 1.0 / HARDLY => format!("The surface gets rougher by this remedy: {figures}."),
            ratio if ratio >= HARDLY => format!(
                "The surface hardly changes: {figures}. The pictures differ by no more than one cut from the next; what this remedy is good for, if anything, lies elsewhere."
            ),
            _ => format!("The surface gets smoother: {figures}."),
        }
    }
}

/// Ratio of roughnesses down to which a surface is said to hardly change: common
/// practice, no source; gauges and places on one surface differ by as much.
const HARDLY: f64 = 0.87;

/// Factor within which the picture's roughness is that of the answer: common
/// practice, no source.
const ALIKE: f64 = 1.25;

/// Share of the cutter's diameter up to which the tip may go from side to side:
/// the simulation takes the teeth to come in and go out at the angles they have in
/// a cut at rest. A choice, no source.
const ROOM: f64 = 0.1;

/// Length of surface shown, in turns of the spindle.
const TURNS_SHOWN: f64 = 16.0;

/// Length along the cut and height (mm) over which tearing and ploughing look
/// alike. Common practice, no source.
const GRAIN: (f64, f64) = (0.12, 0.03);

/// Beyond this a tooth now and then would have no force at all.
const MOST_UNSTEADY: f64 = 0.5;

/// Long enough for the start to die away and for sixteen turns of surface.
const RUN: Run = Run { revolutions: 100, entry: 5, kept: 32, refinement: 1 };

impl Representative {
    /// The same machine with `remedy` in place, where that turns out as it
    /// usually does.
    pub fn with(&self, remedy: RemedyId) -> Representative {
        let plan = Plan::new(remedy.into(), &self.prepared.setup);
        let mut iron = self.iron;
        plan.change_machine(&mut iron, &[0.0; Effect::COUNT]);
        Representative::new(Prepared::new(plan.setup()), iron)
    }

    /// Its cut in time.
    ///
    /// # Errors
    /// [`Invalid`] where the machine lies beyond what can be simulated.
    pub fn close_up(&self) -> Result<CloseUp, Invalid> {
        let unsteadiness = self.iron[Unknown::Unsteadiness].min(MOST_UNSTEADY);
        let trace = self.simulation(Bearings::AsTheyAre, RUN)?.unsteady(unsteadiness)?.run();
        let setup = &self.prepared.setup;
        // One mark a turn where teeth run out.
        let pitch = setup.cut.feed_per_tooth.as_mm() * f64::from(setup.cutter.flutes);
        let length = TURNS_SHOWN * pitch;
        let depth = setup.cut.axial_depth.as_mm();
        let radius = 0.5 * setup.cutter.diameter.as_mm();
        let most = setup.cut.radial_width.as_mm().min(ROOM * setup.cutter.diameter.as_mm());
        let told = swing(&trace) <= most;
        let picture = |relief: Option<Relief>, roughness: Option<(Roughness, f64)>| {
            let (motion, cutoff) = roughness?;
            let grain = self.iron[Unknown::ProcessRoughness];
            Some(SurfacePicture { relief: relief?.grained(grain, GRAIN), motion, cutoff, grain, told })
        };
        let wall = (setup.cut.kind != CutKind::Face).then(|| {
            let middle = trace.wall.slices.len() / 2;
            picture(trace.wall.relief(depth, length), trace.wall.profile(middle).roughness(pitch))
        });
        let floor = picture(trace.floor.relief(radius, 0.15 * length, length), trace.floor.profile().roughness(pitch));
        Ok(CloseUp { outcome: self.outcome, wall: wall.flatten(), floor, trace, depth, most })
    }
}

/// How far (mm) the tip goes from side to side in the plane of the table.
fn swing(trace: &Trace) -> f64 {
    let [x, y, _] = trace.peak_to_peak();
    x.max(y)
}

impl CloseUp {
    /// Whether the tip swings wider than the cut is: there the simulation tells
    /// that it chatters, and no longer how much.
    pub fn leaves(&self) -> bool {
        swing(&self.trace) > self.most
    }

    fn chatters(&self) -> bool {
        self.depth > self.outcome.depth_limit
    }

    /// How far the tip goes from side to side along `axis`, in words.
    pub fn travel(&self, axis: usize, units: UnitSystem) -> String {
        match self.leaves() {
            true => BEYOND.to_owned(),
            false => format_estimate(self.trace.peak_to_peak()[axis], Dimension::FineLength, units),
        }
    }

    /// Why the tip moves as it does, in a sentence.
    pub fn motion_sentence(&self, units: UnitSystem) -> String {
        let limit = format_estimate(self.outcome.depth_limit, Dimension::Length, units);
        let depth = format(self.depth, Dimension::Length, units);
        if self.chatters() {
            return format!("This one machine chatters from {limit} on, and the cut is {depth} deep.");
        }
        let quiet = format!("This one machine does not chatter before {limit}, and the cut is {depth} deep");
        // Springs bend; what goes on in the bearings beyond that is play.
        match self.trace.loose > 0.0 {
            true => format!("{quiet}. What you see all the same is its spindle, rattling in its play."),
            false => format!("{quiet}: what you see is springs that bend under each tooth."),
        }
    }

    /// Why the roughness of `surface`, called `name`, is not that of the answer, in
    /// a sentence; `None` where it is, or can't be told.
    pub fn apart(&self, surface: &SurfacePicture, name: &str, answer: Spread, units: UnitSystem) -> Option<String> {
        let ratio = surface.ra() / answer.mid;
        if !surface.told || (1.0 / ALIKE..=ALIKE).contains(&ratio) {
            return None;
        }
        let rough = |value| format_estimate(value, Dimension::Roughness, units);
        let why = match (self.chatters(), self.trace.loose > 0.0) {
            (true, _) => "This one machine chatters",
            (false, true) => "The spindle of this one machine rattles in its play",
            (false, false) => "This is one machine and one cut",
        };
        let [ra, low, mid, high] = [surface.ra(), answer.low, answer.mid, answer.high].map(rough);
        Some(format!(
            "{why}, so its {name} comes out at {ra}; over all machines that fit, the answer says {mid} ({low} to {high}). Compare the two pictures, not the number."
        ))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::decision::Fit;
    use crate::scenario::{Field, Scenario, demo};

    fn middle(scenario: &Scenario) -> CloseUp {
        Fit::with(&scenario.resolve().case, 256).representative().close_up().expect("valid")
    }

    #[test]
    fn a_comparison_says_which_way_it_goes() {
        let now = middle(&demo()).wall.expect("a wall");
        let rougher = |ratio: f64| {
            let motion = Roughness { ra: ratio * now.motion.ra, ..now.motion };
            SurfacePicture { motion, grain: ratio * now.grain, ..now.clone() }
        };
        for (ratio, words) in [(1.0, "hardly changes"), (1.1, "hardly changes"), (1.3, "rougher"), (0.5, "smoother")] {
            let said = rougher(ratio).against(&now, UnitSystem::Metric);
            assert!(said.contains(words), "{ratio}: {said}");
            for surface in [&now, &rougher(ratio)] {
                let ra = format_estimate(surface.ra(), Dimension::Roughness, UnitSystem::Metric);
                assert!(said.contains(&ra), "{ra}: {said}");
            }
        }
    }

    /// A tip can't swing wider than the cut is and stay in it: geometry.
    #[test]
    fn where_the_cutter_leaves_the_cut_no_figure_is_told() {
        let mut heavy = demo();
        heavy.set_entry(Field::AxialDepth, "6 mm");
        for (scenario, leaves) in [(demo(), false), (heavy, true)] {
            let cut = middle(&scenario);
            let [x, y, _] = cut.trace.peak_to_peak();
            let width = scenario.resolve().case.setup.cut.radial_width.as_mm();
            assert_eq!(cut.leaves(), leaves, "{x} {y} of {width}");
            assert!(leaves || x.max(y) < width);
            let wall = cut.wall.as_ref().expect("a wall");
            let said = [
                wall.ra_words(UnitSystem::Metric),
                wall.against(wall, UnitSystem::Metric),
                cut.travel(0, UnitSystem::Metric),
            ];
            for said in said {
                assert_eq!(said.contains(BEYOND), leaves, "{said}");
                assert_eq!(said.contains(|letter: char| letter.is_ascii_digit()), !leaves, "{said}");
            }
        }
    }

    #[test]
    fn a_roughness_unlike_the_answers_is_explained() {
        let cut = middle(&demo());
        let wall = cut.wall.as_ref().expect("a wall");
        let answer = |mid: f64| Spread { low: 0.8 * mid, mid, high: 1.3 * mid };
        let apart = |mid| cut.apart(wall, "wall", answer(mid), UnitSystem::Metric);
        assert_eq!(apart(wall.ra()), None);
        let said = apart(0.5 * wall.ra()).expect("twice as rough");
        let ra = format_estimate(wall.ra(), Dimension::Roughness, UnitSystem::Metric);
        // The demonstration is cut deeper than its machine can.
        for word in ["chatters", "comes out at", &ra, "not the number"] {
            assert!(said.contains(word), "{word}: {said}");
        }
    }
}
