//! The cut from close by: one machine in time, as it is and with a remedy.

use super::Representative;
use crate::mechanics::simulation::{Invalid, Relief, Roughness, Run, Trace};
use crate::mechanics::{Bearings, Outcome, Prepared, Unknown};
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
