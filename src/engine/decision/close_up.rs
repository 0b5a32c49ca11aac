//! The cut from close by: one machine in time, as it is and with a remedy.

use super::Representative;
use crate::mechanics::simulation::{Invalid, Relief, Roughness, Run, Trace};
use crate::mechanics::{Bearings, Outcome, Prepared, Unknown};
use crate::quantity::{Dimension, UnitSystem, format_estimate};
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
}

impl SurfacePicture {
    /// Roughness Ra (mm) of all of it.
    pub fn ra(&self) -> f64 {
        self.motion.ra.hypot(self.grain)
    }

    /// How the surface compares with that of the cut as it is `now`, in words.
    pub fn against(&self, now: &SurfacePicture, units: UnitSystem) -> String {
        let [before, after] = [now, self].map(|surface| format_estimate(surface.ra(), Dimension::Roughness, units));
        let figures = format!("Ra {before} as it is, {after} with the remedy");
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
        let picture = |relief: Option<Relief>, roughness: Option<(Roughness, f64)>| {
            let (motion, cutoff) = roughness?;
            let grain = self.iron[Unknown::ProcessRoughness];
            Some(SurfacePicture { relief: relief?.grained(grain, GRAIN), motion, cutoff, grain })
        };
        let wall = (setup.cut.kind != CutKind::Face).then(|| {
            let middle = trace.wall.slices.len() / 2;
            picture(trace.wall.relief(depth, length), trace.wall.profile(middle).roughness(pitch))
        });
        let floor = picture(trace.floor.relief(radius, 0.15 * length, length), trace.floor.profile().roughness(pitch));
        Ok(CloseUp { outcome: self.outcome, wall: wall.flatten(), floor, trace })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::decision::Fit;
    use crate::scenario::demo;

    #[test]
    fn a_comparison_says_which_way_it_goes() {
        let machine = Fit::with(&demo().resolve().case, 64).representative();
        let now = machine.close_up().expect("valid").wall.expect("a wall");
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
}
