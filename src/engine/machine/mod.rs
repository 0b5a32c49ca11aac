//! The machine: frame, spindle and its bearings, quill, taper, drive.
//!
//! Everything here is a fact about the iron, or an honest range for it. What
//! is done with the machine lives in [`crate::work`].

mod archetype;
mod bearing;
mod spindle;

pub use archetype::{Archetype, Axis, PerAxis, TypicalMachine};
pub use bearing::{
    BallSize, BearingCondition, BearingSize, Preload, SpindleSupport, bearing_size, typical_axial_play,
    typical_preload, typical_radial_play,
};
pub use spindle::{Gibs, Machine, QuillUse, SpindleBore, TaperRetention};

use crate::quantity::Estimate;

/// An estimate from a range of the tables: 10 % below, 10 % above.
///
/// # Panics
/// If the range is not one; a test walks through every table.
pub fn usually(range: (f64, f64), source: &'static str) -> Estimate {
    Estimate::typical(range.0, range.1, source).expect("tables hold ranges in order")
}
