//! Play moves only when the force turns, shown on one spindle.
//!
//! An edge as deep as the axial pitch of the teeth, `pi D / (N tan helix)`, makes a
//! steady force: as much edge comes into the cut as goes out. The same cutter at
//! a fraction of that depth pushes to one side after the other. Both loads are
//! given the same size and none of it depends on the chip, so that what differs
//! is that one keeps its direction and the other turns. Either is put on the same
//! spindle with its play and without, turning so slowly that nothing rings: what
//! both do is springs bending, what only the first does is play.

use std::f64::consts::{PI, TAU};

use super::force::{CutGeometry, Engagement, ForceBasis, ForceCoefficients};
use super::play::Swing;
use super::simulation::{Clearance, Invalid, LooseSpindle, Milling, Run, Simulation, Structure, Trace, peak_to_peak};
use crate::quantity::{Dimension, UnitSystem, format_estimate};
use crate::work::CutSense;

/// A spindle under a load, with its play and without.
#[derive(Clone, Debug, PartialEq)]
pub struct Shown {
    /// The load over a revolution; its peak is the load asked for.
    pub swing: Swing,
    /// What the spindle does.
    pub with: Trace,
    /// What it does without play: its springs alone.
    pub without: Trace,
}

impl Shown {
    /// What play adds to the displacement (mm) at each step of the last revolutions.
    pub fn added(&self) -> Vec<[f64; 3]> {
        let both = self.with.displacement.iter().zip(&self.without.displacement);
        both.map(|(with, without)| std::array::from_fn(|axis| with[axis] - without[axis])).collect()
    }
}

/// The same spindle under a load that keeps its direction and one that turns.
#[derive(Clone, Debug, PartialEq)]
pub struct PlayAndSwing {
    /// The play in the plane of the table, felt at the tool, from side to side, mm.
    pub play: f64,
    /// The load keeps its direction: play stays seated.
    pub steady: Shown,
    /// The load turns: play is crossed.
    pub turning: Shown,
}

impl PlayAndSwing {
    /// The axis in the plane of the table along which play adds most under the load
    /// that turns.
    pub fn axis(&self) -> usize {
        let [x, y, _] = peak_to_peak(&self.turning.added());
        usize::from(y > x)
    }

    /// How far a path goes from side to side, in words.
    pub fn travel(&self, path: &[[f64; 3]], units: UnitSystem) -> String {
        /// Less than any indicator shows, mm.
        const NOTHING: f64 = 1e-4;
        match peak_to_peak(path)[self.axis()] {
            small if small < NOTHING => "nothing".to_owned(),
            travel => format_estimate(travel, Dimension::FineLength, units),
        }
    }

    /// What is springs and what is play, in plain words.
    pub fn sentence(&self, units: UnitSystem) -> String {
        let travel = |path: &[[f64; 3]]| self.travel(path, units);
        let Shown { with, without, .. } = &self.turning;
        format!(
            "Under a load of {} that turns the tool goes {} from side to side; without any play its springs alone would bend by {}, so play adds {}. Under the same load that keeps its direction play adds {}: it is pressed to one side and stays there.",
            format_estimate(self.turning.swing.peak, Dimension::Force, units),
            travel(&with.displacement),
            travel(&without.displacement),
            travel(&self.turning.added()),
            travel(&self.steady.added()),
        )
    }
}

/// Two teeth in a full slot.
const TEETH: u32 = 2;
const DIAMETER: f64 = 10.0;
/// Helix, rad.
const HELIX: f64 = 1.0;
/// Depth of the cut that turns, as a share of the axial pitch.
const SHALLOW: f64 = 0.15;
/// Feed per tooth, mm: far more than anything moves, so that no tooth leaves the
/// cut.
const FEED: f64 = 2.0;

/// Tooth passes in a period of the spindle's ring: slow enough that inertia moves
/// nothing.
const PASSES: f64 = 0.015;

/// Furthest that the springs may bend, mm: further, and teeth would leave the cut.
const FURTHEST: f64 = 0.1 * FEED;

/// Puts `load` (N) on `spindle`, steady and turning; on one so soft that it would bend
/// too far only as much as it bears.
///
/// # Errors
/// [`Invalid`] where the spindle lies beyond what can be simulated.
pub fn play_and_swing(spindle: LooseSpindle, load: f64) -> Result<PlayAndSwing, Invalid> {
    let load = load.min(FURTHEST * spindle.radial.stiffness);
    let pitch = PI * DIAMETER / (f64::from(TEETH) * HELIX.tan());
    Ok(PlayAndSwing {
        play: 2.0 * spindle.radial.gap,
        steady: shown(spindle, load, pitch)?,
        turning: shown(spindle, load, SHALLOW * pitch)?,
    })
}

fn shown(spindle: LooseSpindle, load: f64, depth: f64) -> Result<Shown, Invalid> {
    let engagement = Engagement { start: 0.0, exit: PI };
    let geometry = CutGeometry { diameter: DIAMETER, teeth: TEETH, helix: HELIX, depth, feed: FEED, engagement };
    let sense = CutSense::Conventional;
    let unit = ForceCoefficients { kte: 1.0, kre: 0.5, ..ForceCoefficients::default() };
    let swing = |k: &ForceCoefficients| Swing::of_history(&ForceBasis::new(&geometry, sense).forces(0.0, k), 0.0);
    let scale = load / swing(&unit).peak;
    let coefficients = ForceCoefficients { kte: scale * unit.kte, kre: scale * unit.kre, ..unit };
    let frequency = (1e3 * spindle.radial.stiffness / spindle.mass).sqrt() / TAU;
    let milling = Milling {
        geometry,
        sense,
        coefficients,
        speed: 60.0 * PASSES * frequency / f64::from(TEETH),
        offsets: Vec::new(),
        lengths: Vec::new(),
        corner: 0.0,
        dish: 0.0,
        rubbing: 0.0,
        unsteadiness: 0.0,
    };
    let run = |spindle: LooseSpindle| {
        let structure = Structure { spindle: Some(spindle), ..Structure::default() };
        let run = Run { revolutions: 4, entry: 1, kept: 2, refinement: 1 };
        Simulation::new(milling.clone(), structure, run).map(|simulation| simulation.run())
    };
    let shut = |clearance: Clearance| Clearance { gap: 0.0, ..clearance };
    let without = LooseSpindle { radial: shut(spindle.radial), axial: shut(spindle.axial), ..spindle };
    Ok(Shown { swing: swing(&coefficients), with: run(spindle)?, without: run(without)? })
}
