//! What is done with the machine: material, cutter and holder, the cut, and
//! how the part is held.

mod cut;
mod cutter;
mod holding;
mod material;
mod surfaces;

pub use cut::{Cut, CutKind, CutSense};
pub use cutter::{Cutter, CutterKind, EdgeState, Holder, ToolMaterial, TypicalHolder};
pub use holding::{Holding, PartShape, TypicalHolding, Workholding};
pub use material::{Coefficients, Material};
pub use surfaces::Surfaces;

pub use crate::machine::Axis;

use crate::machine::Machine;
use crate::quantity::Rotation;

/// A machine set up for one cut: all that the mechanics needs to know.
#[derive(Clone, Debug, PartialEq)]
pub struct Setup {
    /// The machine.
    pub machine: Machine,
    /// Material of the part.
    pub material: Material,
    /// Cutter and holder.
    pub cutter: Cutter,
    /// The cut.
    pub cut: Cut,
    /// How the part is held.
    pub holding: Holding,
}

impl Setup {
    /// The spindle speed at which the edge runs at the highest cutting speed usual
    /// for this material and cutter.
    pub fn top_speed(&self) -> Rotation {
        let usual = self.material.cutting_speed(self.cutter.material).1;
        Rotation::rpm(usual * 1000.0 / (core::f64::consts::PI * self.cutter.diameter.as_mm()))
    }

    /// The highest speed that is ever advised: [`Setup::top_speed`], or the fastest
    /// usual for a machine of this kind where that is less.
    pub fn fastest_advised(&self) -> Rotation {
        let (edge, kind) = (self.top_speed(), Rotation::rpm(self.machine.archetype.typical().speeds.1));
        if edge < kind { edge } else { kind }
    }
}
