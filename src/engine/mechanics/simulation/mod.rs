//! Milling simulated in time.
//!
//! Regenerative cutting with helix and runout on a structure of modes, a
//! spindle that can rattle in its bearings and work that can slip and lift.
//! After Schmitz and Smith, *Machining Dynamics*, 2nd ed. 2019, ch. 4 (from
//! memory), whose frame is that of [`super::force`]: x along the feed of the
//! tool, y across it, tooth angle from +y, clockwise seen from above; z points
//! out of the spindle towards the work. Forces are those on the tool,
//! displacements those of the tool against the work.
//!
//! What each part moves adds up, and each feels the whole cutting force: modes
//! of separate bodies, as in [`super::Modes`]. Axial motion does not change the
//! chip (it is small against the depth of cut); it marks the floor.

mod chance;
mod contact;
mod edge;
mod input;
mod machine;
mod marks;
mod oscillator;
mod profile;
mod relief;
mod sound;
mod swept;
mod trace;

use std::ops::ControlFlow;

use crate::mechanics::force::CutGeometry;
use edge::{Edges, Passing};
pub use input::{Clearance, Grip, Holding, Invalid, LooseSpindle, Milling, OrientedMode, Run, Structure, runout};
use machine::Machine;
pub use marks::{Floor, Mark, Wall};
pub use profile::{Extent, Profile, Roughness};
pub use relief::Relief;
use swept::Swept;
pub use trace::{Trace, Verdict, peak_to_peak};

/// Steps in a period of whatever moves fastest.
const STEPS_PER_PERIOD: f64 = 50.0;

/// A cut that can be simulated.
#[derive(Clone, Debug, PartialEq)]
pub struct Simulation {
    milling: Milling,
    structure: Structure,
    run: Run,
    per_revolution: usize,
}

impl Simulation {
    /// Checks everything and chooses the step: at least fifty in the shortest
    /// period, at least forty in one tooth's way through the work, and the same
    /// whole and even number from tooth to tooth.
    pub fn new(milling: Milling, structure: Structure, run: Run) -> Result<Self, Invalid> {
        milling.check()?;
        structure.check()?;
        run.check()?;
        let CutGeometry { teeth, engagement, .. } = milling.geometry;
        let periods = structure.highest_frequency() * 60.0 / milling.speed;
        let in_cut = edge::STEPS_IN_CUT * std::f64::consts::TAU / engagement.span();
        let even = 2.0 * f64::from(teeth);
        let needed = (STEPS_PER_PERIOD * periods).max(in_cut) * f64::from(run.refinement);
        let per_revolution = (needed / even).ceil() * even;
        let steps = per_revolution * f64::from(run.revolutions);
        if steps > input::MOST_STEPS {
            return Err(Invalid::TooManySteps { value: steps, most: input::MOST_STEPS });
        }
        run.check_kept(per_revolution)?;
        Ok(Simulation { milling, structure, run, per_revolution: per_revolution as usize })
    }

    /// The same with a force that varies from tooth to tooth, by a standard
    /// deviation of `share` of it.
    ///
    /// # Errors
    /// [`Invalid`] for a share that could turn a force round.
    pub fn unsteady(mut self, share: f64) -> Result<Self, Invalid> {
        self.milling.unsteadiness = share;
        self.milling.check()?;
        Ok(self)
    }

    /// Steps in the whole run.
    pub fn steps(&self) -> usize {
        self.per_revolution * self.run.revolutions as usize
    }

    /// Length of a step, s.
    pub fn step(&self) -> f64 {
        60.0 / (self.milling.speed * self.per_revolution as f64)
    }

    /// Takes the cut.
    pub fn run(&self) -> Trace {
        let mut state = State::new(self);
        for revolution in 0..self.run.revolutions {
            state.revolve(revolution);
        }
        state.finish()
    }

    /// Takes the cut, calling `progress` after every revolution with how many
    /// are done; gives nothing if that breaks off.
    pub fn run_with(&self, mut progress: impl FnMut(u32) -> ControlFlow<()>) -> Option<Trace> {
        let mut state = State::new(self);
        for revolution in 0..self.run.revolutions {
            state.revolve(revolution);
            if progress(revolution + 1).is_break() {
                return None;
            }
        }
        Some(state.finish())
    }
}

/// The middle of a run.
struct State<'a> {
    simulation: &'a Simulation,
    edges: Edges,
    machine: Machine,
    step: usize,
    trace: Trace,
}

impl<'a> State<'a> {
    fn new(simulation: &'a Simulation) -> Self {
        let Simulation { milling, structure, run, per_revolution } = simulation;
        let dt = simulation.step();
        let edges = Edges::new(milling, *per_revolution);
        let feed = milling.geometry.feed;
        let teeth = milling.geometry.teeth as usize;
        let passes = run.revolutions as usize * teeth;
        let kept = run.kept as usize * per_revolution;
        let trace = Trace {
            step: dt,
            steps_per_revolution: *per_revolution,
            displacement: Vec::with_capacity(kept),
            force: Vec::with_capacity(kept),
            each_tooth: Vec::with_capacity(passes),
            teeth,
            feed,
            alike: milling.offsets.iter().all(|offset| *offset == milling.offsets[0]),
            wall: Wall {
                slices: vec![Vec::with_capacity(passes + 1); edge::slices(milling)],
                swept: Swept::new(milling, *per_revolution, passes),
                feed,
                teeth,
            },
            floor: Floor {
                marks: Vec::with_capacity(passes + 1),
                corner: milling.corner,
                dish: milling.dish,
                lean: edge::floor_angle(milling).sin().max(0.05),
                feed,
                teeth,
            },
            spindle_travel: [0.0; 3],
            loose: 0.0,
            slipped: [0.0; 3],
            lifted: 0.0,
        };
        State { simulation, edges, machine: Machine::new(structure, dt), step: 0, trace }
    }

    fn revolve(&mut self, revolution: u32) {
        let Simulation { milling, run, per_revolution, .. } = self.simulation;
        let keep = revolution + run.kept >= run.revolutions;
        let entry = (run.entry as usize * per_revolution) as f64;
        let pitch = per_revolution / milling.geometry.teeth as usize;
        let mut to_sample = pitch;
        for _ in 0..*per_revolution {
            self.step += 1;
            self.edges.turn();
            let (at, velocity) = self.machine.predict();
            let entered = if self.step as f64 >= entry { 1.0 } else { self.step as f64 / entry };
            let force = self.edges.cut(self.step, &at, &velocity).map(|part| entered * part);
            let at = self.machine.correct(&force, keep);
            self.mark(&at);
            to_sample -= 1;
            if to_sample == 0 {
                to_sample = pitch;
                self.trace.each_tooth.push(at);
            }
            if keep {
                self.trace.displacement.push(at);
                self.trace.force.push(force);
            }
        }
    }

    /// Notes the marks of the teeth that pass wall and floor.
    #[inline]
    fn mark(&mut self, at: &[f64; 3]) {
        let Simulation { milling, per_revolution, .. } = self.simulation;
        let geometry = &milling.geometry;
        let turned = self.step as f64 / *per_revolution as f64;
        let fed = geometry.feed * f64::from(geometry.teeth) * turned + at[0];
        let sign = wall_sign(milling);
        let wall = &mut self.trace.wall;
        for Passing { slice, tooth, steps } in self.edges.near_wall() {
            let depth = sign * at[1] + self.edges.offset(tooth);
            wall.swept.pass(slice, steps, fed, depth);
            if steps == 0 {
                wall.slices[slice].push(Mark { x: fed, depth });
            }
        }
        if let Some(passing) = self.edges.at_floor() {
            let length = milling.lengths.get(passing.tooth).copied().unwrap_or(0.0);
            self.trace.floor.marks.push(Mark { x: fed, depth: at[2] + length });
        }
    }

    fn finish(mut self) -> Trace {
        self.trace.spindle_travel = self.machine.spindle_travel();
        self.trace.loose = self.machine.loose() as f64 / self.trace.displacement.len() as f64;
        self.trace.slipped = self.machine.slipped();
        self.trace.lifted = self.machine.lifted();
        self.trace
    }
}

/// +1 where the wall lies at +y and teeth pass it along the feed, -1 where it lies
/// at -y and they pass it against the feed.
fn wall_sign(milling: &Milling) -> f64 {
    match milling.sense {
        crate::work::CutSense::Conventional => 1.0,
        crate::work::CutSense::Climb => -1.0,
    }
}
