//! Stability lobes: the depth of cut at which milling starts to chatter, speed
//! by speed.
//!
//! The chip a tooth takes depends on where the tool is now and on where it was
//! one tooth earlier: milling is a delayed system with periodic coefficients,
//! and is stable while every Floquet multiplier over one tooth period lies
//! inside the unit circle. Three methods, from quick to exact:
//!
//! - [`frequency`]: zeroth-order solution (Altintas and Budak, CIRP Annals 44
//!   (1995)) and average tooth angle (Schmitz and Smith, *Machining Dynamics*,
//!   2nd ed. 2019, ch. 4). No period doubling.
//! - [`characteristic`]: the multipliers outside the unit circle counted from
//!   the characteristic function; exact but for an integration error of 1e-5.
//!   The charts come from here.
//! - [`semi_discretization`]: Insperger and Stepan, Int. J. Numer. Meth. Engng
//!   55 (2002) and 61 (2004). Slower and less exact for the same effort; gives
//!   the critical multiplier itself.
//!
//! Frame as in [`super::force`]: x along the feed of the tool, y across it,
//! tooth angle from +y, clockwise seen from above. Straight line between entry
//! and exit, constant pitch, no runout, no rubbing, small vibrations.

pub mod characteristic;
mod chart;
mod complex;
#[cfg(test)]
mod dense;
mod directional;
mod eigenvalues;
pub mod frequency;
mod interval;
mod krylov;
mod limit;
mod matrix;
pub mod semi_discretization;
mod series;

pub use chart::{Chart, ChartBuilder, Column, Crossing, Grid, chart, column};
pub use complex::Complex;
pub use limit::{Limit, Loss, Scan, Verdict, first_limit};

use std::f64::consts::TAU;

use super::force::Engagement;
use super::stability::Mode;

/// A mode that moves the tool against the work along one line of the plane.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OrientedMode {
    /// Stiffness at the tool tip (N/mm), damping ratio between 0 and 1,
    /// natural frequency (Hz).
    pub mode: Mode,
    /// Angle of the line from the feed (+x) towards +y, rad.
    pub direction: f64,
}

impl OrientedMode {
    /// Natural frequency, rad/s.
    fn omega(&self) -> f64 {
        TAU * self.mode.frequency
    }

    /// Unit vector along the line.
    fn line(&self) -> [f64; 2] {
        [self.direction.cos(), self.direction.sin()]
    }
}

/// What gives: one mode or two.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Freedom {
    /// One degree of freedom.
    One([OrientedMode; 1]),
    /// Two.
    Two([OrientedMode; 2]),
}

/// A cutter in a cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Milling {
    /// Entry and exit; climb, conventional, slot and face differ in nothing else.
    pub engagement: Engagement,
    /// Number of teeth, evenly spaced; at least one.
    pub teeth: u32,
    /// Helix angle, rad, at least zero and below a quarter turn.
    pub helix: f64,
    /// Cutter diameter, mm; counts only with a helix.
    pub diameter: f64,
    /// Tangential cutting coefficient, N/mm2.
    pub ktc: f64,
    /// Radial cutting coefficient, N/mm2.
    pub krc: f64,
    /// What gives.
    pub modes: Freedom,
}

impl Milling {
    /// Angle between teeth, rad.
    fn pitch(&self) -> f64 {
        TAU / f64::from(self.teeth)
    }

    /// Time from tooth to tooth, s, at `speed` rpm.
    fn period(&self, speed: f64) -> f64 {
        60.0 / (f64::from(self.teeth) * speed)
    }

    /// Angle by which the edge at `depth` mm trails the tip, rad.
    fn lag(&self, depth: f64) -> f64 {
        2.0 * depth * self.helix.tan() / self.diameter
    }
}
