//! Play moves only when the force turns, shown on one spindle.
//!
//! An edge as deep as the axial pitch of the teeth, `pi D / (N tan helix)`, makes a
//! steady force: as much edge comes into the cut as goes out. The same cutter at
//! a fraction of that depth pushes to one side after the other. Both loads are
//! given the same size and none of it depends on the chip, so that what differs
//! is that one keeps its direction and the other turns.

use std::f64::consts::PI;

use super::force::{CutGeometry, Engagement, ForceBasis, ForceCoefficients};
use super::play::Swing;
use super::simulation::{Invalid, LooseSpindle, Milling, Run, Simulation, Structure, Trace};
use crate::work::CutSense;

/// A spindle under a load.
#[derive(Clone, Debug, PartialEq)]
pub struct Shown {
    /// The load over a revolution; its peak is the load asked for.
    pub swing: Swing,
    /// What the spindle does.
    pub trace: Trace,
}

/// The same spindle under a load that keeps its direction and one that turns.
#[derive(Clone, Debug, PartialEq)]
pub struct PlayAndSwing {
    /// The load keeps its direction: play stays seated.
    pub steady: Shown,
    /// The load turns: play is crossed.
    pub turning: Shown,
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

/// Puts `load` (N) on `spindle`, steady and turning, at `speed` (rpm).
///
/// # Errors
/// [`Invalid`] where the spindle lies beyond what can be simulated.
pub fn play_and_swing(spindle: LooseSpindle, load: f64, speed: f64) -> Result<PlayAndSwing, Invalid> {
    let pitch = PI * DIAMETER / (f64::from(TEETH) * HELIX.tan());
    Ok(PlayAndSwing {
        steady: shown(spindle, load, speed, pitch)?,
        turning: shown(spindle, load, speed, SHALLOW * pitch)?,
    })
}

fn shown(spindle: LooseSpindle, load: f64, speed: f64, depth: f64) -> Result<Shown, Invalid> {
    let engagement = Engagement { start: 0.0, exit: PI };
    let geometry = CutGeometry { diameter: DIAMETER, teeth: TEETH, helix: HELIX, depth, feed: FEED, engagement };
    let sense = CutSense::Conventional;
    let unit = ForceCoefficients { kte: 1.0, kre: 0.5, ..ForceCoefficients::default() };
    let swing = |k: &ForceCoefficients| Swing::of_history(&ForceBasis::new(&geometry, sense).forces(0.0, k), 0.0);
    let scale = load / swing(&unit).peak;
    let coefficients = ForceCoefficients { kte: scale * unit.kte, kre: scale * unit.kre, ..unit };
    let milling = Milling {
        geometry,
        sense,
        coefficients,
        speed,
        offsets: Vec::new(),
        lengths: Vec::new(),
        corner: 0.0,
        dish: 0.0,
        rubbing: 0.0,
        unsteadiness: 0.0,
    };
    let structure = Structure { spindle: Some(spindle), ..Structure::default() };
    let run = Run { revolutions: 60, entry: 10, kept: 4, refinement: 1 };
    let trace = Simulation::new(milling, structure, run)?.run();
    Ok(Shown { swing: swing(&coefficients), trace })
}
