//! What a simulation is given, and what of it can't be.

use std::f64::consts::TAU;
use std::fmt;

use crate::mechanics::force::{CutGeometry, ForceCoefficients};
use crate::work::CutSense;

/// The cut and the edges that take it.
#[derive(Clone, Debug, PartialEq)]
pub struct Milling {
    /// Geometry.
    pub geometry: CutGeometry,
    /// Which end of the engagement makes the wall.
    pub sense: CutSense,
    /// Coefficients in force.
    pub coefficients: ForceCoefficients,
    /// Spindle speed, rpm.
    pub speed: f64,
    /// How far each tooth stands out radially, mm; empty for a true cutter.
    /// [`runout`] makes them from an offset of the axis.
    pub offsets: Vec<f64>,
    /// How far each tooth stands out axially, mm; empty for a true cutter.
    pub lengths: Vec<f64>,
    /// Corner radius, mm.
    pub corner: f64,
    /// Dish angle of the end, rad.
    pub dish: f64,
    /// Flank-rubbing coefficient, N/m: a force `C b v_n / v` against motion into
    /// the work. Tyler and Schmitz, J. Manufacturing Processes 15 (2013).
    pub rubbing: f64,
    /// Standard deviation of the force from one tooth's pass to the next, as a
    /// share of it: chips tear, edges build up. 0 for a steady force, which is
    /// what a verdict on chatter wants.
    pub unsteadiness: f64,
}

/// Radial offsets (mm) of the teeth of a cutter whose axis lies `offset` (mm)
/// from the spindle's, towards `angle` (rad) from the first tooth: Kline and
/// DeVor, Int. J. Mach. Tool Des. Res. 23 (1983).
pub fn runout(offset: f64, angle: f64, teeth: u32) -> Vec<f64> {
    (0..teeth).map(|tooth| offset * (angle - TAU * f64::from(tooth) / f64::from(teeth)).cos()).collect()
}

/// A mode of vibration of the tool against the work.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OrientedMode {
    /// Stiffness, N/mm.
    pub stiffness: f64,
    /// Damping ratio.
    pub damping: f64,
    /// Natural frequency, Hz.
    pub frequency: f64,
    /// Unit vector along which it moves: x, y, z.
    pub direction: [f64; 3],
}

/// A contact with a gap: nothing within the gap, a spring beyond it that pushes
/// and never pulls. A preload keeps it seated, at full stiffness, until the load
/// exceeds what the preload holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clearance {
    /// Gap each way from the middle, mm.
    pub gap: f64,
    /// Stiffness of the contact, N/mm.
    pub stiffness: f64,
    /// Damping ratio of the spindle on the closed contact.
    pub damping: f64,
    /// Load that the preload holds seated, N.
    pub hold: f64,
}

/// A spindle that can move in its bearings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LooseSpindle {
    /// Mass that moves, as felt at the tip, kg.
    pub mass: f64,
    /// Radial clearance, at the tip.
    pub radial: Clearance,
    /// Axial clearance.
    pub axial: Clearance,
    /// Steady force, N: the weight along z, belt pull in x and y.
    pub bias: [f64; 3],
}

/// What keeps the work down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Grip {
    /// Jaws: friction holds against lifting too, and work that crept up stays up.
    Jaws,
    /// Clamps that press down with a force, N: work lifts beyond it and settles
    /// again; what is lifted presses less on the table and slips sooner.
    Clamps(f64),
}

/// Work held by springs that can slip and lift.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Holding {
    /// Mass that moves, kg.
    pub mass: f64,
    /// Stiffness along x, y and z, N/mm.
    pub stiffness: [f64; 3],
    /// Damping ratio in each direction.
    pub damping: f64,
    /// Friction force of all faces together, N.
    pub friction: f64,
    /// Whether something solid keeps it from slipping along x.
    pub stop: bool,
    /// What keeps it down.
    pub grip: Grip,
}

/// What can move.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Structure {
    /// Modes; none is a rigid machine.
    pub modes: Vec<OrientedMode>,
    /// The spindle in its bearings, if they have play.
    pub spindle: Option<LooseSpindle>,
    /// The work in its holding, if it can give way.
    pub holding: Option<Holding>,
}

/// How long and how finely.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Run {
    /// Revolutions.
    pub revolutions: u32,
    /// Revolutions over which the cutter enters the work, the depth growing
    /// evenly.
    pub entry: u32,
    /// Last revolutions of which every step is kept.
    pub kept: u32,
    /// Divides the step; 1 is fine enough, 2 is for checking that it is.
    pub refinement: u32,
}

impl Default for Run {
    fn default() -> Self {
        Run { revolutions: 100, entry: 5, kept: 10, refinement: 1 }
    }
}

/// Why a simulation can't be run.
#[derive(Clone, Copy, Debug, PartialEq)]
#[allow(missing_docs, reason = "the fields are explained with their variants")]
pub enum Invalid {
    /// `value` of `field` lies outside `least` to `most`.
    OutOfRange { field: &'static str, value: f64, least: f64, most: f64 },
    /// `field` has `value` entries; it needs none or `teeth`.
    NotPerTooth { field: &'static str, value: usize, teeth: u32 },
    /// The direction of mode `mode` has length `value` instead of 1.
    NotAUnitVector { mode: usize, value: f64 },
    /// It would take `value` steps; `most` are taken.
    TooManySteps { value: f64, most: f64 },
}

impl fmt::Display for Invalid {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OutOfRange { field, value, least, most } => {
                write!(f, "{field} is {value}; give a value from {least} to {most}.")
            }
            Self::NotPerTooth { field, value, teeth } => {
                write!(f, "{field} has {value} entries; give one for each of the {teeth} teeth, or none.")
            }
            Self::NotAUnitVector { mode, value } => {
                write!(f, "The direction of mode {} has length {value}; scale it to 1.", mode + 1)
            }
            Self::TooManySteps { value, most } => write!(
                f,
                "This would take {value:.0} steps, and {most:.0} is the most; \
                 take fewer revolutions, or leave out the fastest mode."
            ),
        }
    }
}

impl std::error::Error for Invalid {}

/// Steps that a run may take.
pub(super) const MOST_STEPS: f64 = 2e7;

/// Steps that may be kept.
const MOST_KEPT: f64 = 4e6;

fn within(field: &'static str, value: f64, least: f64, most: f64) -> Result<(), Invalid> {
    // Written so that what is not a number fails too.
    if value >= least && value <= most { Ok(()) } else { Err(Invalid::OutOfRange { field, value, least, most }) }
}

impl Milling {
    pub(super) fn check(&self) -> Result<(), Invalid> {
        let CutGeometry { diameter, teeth, helix, depth, feed, engagement } = self.geometry;
        within("Cutter diameter, mm", diameter, 0.1, 500.0)?;
        within("Number of teeth", f64::from(teeth), 1.0, 64.0)?;
        within("Helix angle, rad", helix, 0.0, 1.4)?;
        within("Axial depth, mm", depth, 1e-6, 200.0)?;
        within("Feed per tooth, mm", feed, 1e-6, 5.0)?;
        within("Entry angle, rad", engagement.start, 0.0, 0.5 * TAU)?;
        within("Angle in the cut, rad", engagement.span(), 1e-3, 0.5 * TAU - engagement.start + 1e-9)?;
        within("Speed, rpm", self.speed, 1.0, 200_000.0)?;
        within("Corner radius, mm", self.corner, 0.0, 0.5 * diameter)?;
        within("Dish angle, rad", self.dish, 0.0, 0.5)?;
        within("Flank-rubbing coefficient, N/m", self.rubbing, 0.0, 1e9)?;
        within("Unsteadiness of the force", self.unsteadiness, 0.0, 0.57)?;
        let k = &self.coefficients;
        for (field, value) in [
            ("Tangential coefficient, N/mm2", k.ktc),
            ("Radial coefficient, N/mm2", k.krc),
            ("Axial coefficient, N/mm2", k.kac),
            ("Tangential edge coefficient, N/mm", k.kte),
            ("Radial edge coefficient, N/mm", k.kre),
            ("Axial edge coefficient, N/mm", k.kae),
        ] {
            within(field, value, -1e5, 1e5)?;
        }
        within("Share of the radial force that thrusts", k.thrust, 0.0, 1.0)?;
        for (field, values) in [("Radial offsets of the teeth", &self.offsets), ("Lengths of the teeth", &self.lengths)]
        {
            if !values.is_empty() && values.len() != teeth as usize {
                return Err(Invalid::NotPerTooth { field, value: values.len(), teeth });
            }
            values.iter().try_for_each(|&value| within(field, value, -1.0, 1.0))?;
        }
        Ok(())
    }
}

impl Clearance {
    fn check(&self) -> Result<(), Invalid> {
        within("Gap each way, mm", self.gap, 0.0, 5.0)?;
        within("Stiffness of the contact, N/mm", self.stiffness, 1.0, 1e8)?;
        within("Damping ratio of the contact", self.damping, 0.0, 2.0)?;
        within("Load that the preload holds, N", self.hold, 0.0, 1e6)
    }
}

impl Structure {
    pub(super) fn check(&self) -> Result<(), Invalid> {
        for (mode, own) in self.modes.iter().enumerate() {
            within("Stiffness of a mode, N/mm", own.stiffness, 1e-3, 1e9)?;
            within("Damping ratio of a mode", own.damping, 0.0, 0.99)?;
            within("Natural frequency, Hz", own.frequency, 0.1, 1e5)?;
            let length = own.direction.iter().map(|part| part * part).sum::<f64>().sqrt();
            if (length - 1.0).abs() > 1e-6 || length.is_nan() {
                return Err(Invalid::NotAUnitVector { mode, value: length });
            }
        }
        if let Some(spindle) = &self.spindle {
            within("Mass of the spindle, kg", spindle.mass, 1e-3, 1e4)?;
            spindle.radial.check()?;
            spindle.axial.check()?;
            spindle.bias.iter().try_for_each(|&force| within("Steady force on the spindle, N", force, -1e5, 1e5))?;
        }
        if let Some(holding) = &self.holding {
            within("Mass of the work, kg", holding.mass, 1e-3, 1e4)?;
            holding.stiffness.iter().try_for_each(|&k| within("Stiffness of the holding, N/mm", k, 1.0, 1e8))?;
            within("Damping ratio of the holding", holding.damping, 0.0, 0.99)?;
            within("Friction of the holding, N", holding.friction, 0.0, 1e7)?;
            if let Grip::Clamps(force) = holding.grip {
                within("Clamp force, N", force, 0.0, 1e7)?;
            }
        }
        Ok(())
    }

    /// Highest natural frequency of anything that moves, Hz.
    pub(super) fn highest_frequency(&self) -> f64 {
        let swinging = |stiffness: f64, mass: f64| (stiffness * 1e3 / mass).sqrt() / TAU;
        let modes = self.modes.iter().map(|mode| mode.frequency);
        let spindle = self.spindle.iter().map(|s| swinging(s.radial.stiffness.max(s.axial.stiffness), s.mass));
        let holding = self.holding.iter().flat_map(|h| h.stiffness.map(|stiffness| swinging(stiffness, h.mass)));
        modes.chain(spindle).chain(holding).fold(0.0, f64::max)
    }
}

impl Run {
    pub(super) fn check(&self) -> Result<(), Invalid> {
        within("Revolutions", f64::from(self.revolutions), 4.0, 5000.0)?;
        within("Revolutions of entry", f64::from(self.entry), 0.0, 0.5 * f64::from(self.revolutions))?;
        within("Revolutions kept", f64::from(self.kept), 1.0, f64::from(self.revolutions))?;
        within("Refinement", f64::from(self.refinement), 1.0, 64.0)
    }
    pub(super) fn check_kept(&self, per_revolution: f64) -> Result<(), Invalid> {
        let most = (MOST_KEPT / per_revolution).floor().max(1.0);
        within("Revolutions kept", f64::from(self.kept), 1.0, most)
    }
}
