//! Quantities: what people type, what the engine computes with, what is shown.
//!
//! Inside the engine every number is in one base unit per [`Dimension`]; inches, thou and pounds
//! exist only where text is read ([`parse`]) or written ([`format()`]). [`Length`], [`Force`] and
//! their kin keep base units from being mixed up, and [`Estimate`] carries a positive value
//! together with how well it is known.

mod decimal;
mod dimension;
mod error;
mod estimate;
mod format;
mod grade;
mod list;
mod newtypes;
mod number;
mod parse;
pub mod units;

#[cfg(test)]
mod properties;

pub use dimension::{Dimension, UnitSystem};
pub use error::ParseError;
pub use estimate::{Estimate, EstimateError, Origin};
pub use format::{
    format, format_along, format_estimate, format_in, format_limits, format_margin, format_middle, format_number,
    format_range, format_typed,
};
pub use grade::GRADES;
pub use list::items;
pub use newtypes::{Angle, CuttingSpeed, Force, Frequency, Hours, Length, Money, Power, Rotation, Stiffness, Torque};
pub use parse::{Parsed, parse, with_unit};
pub use units::Unit;
