//! What can be done about it: what each remedy changes, needs and costs.

mod catalogue;
mod caution;
mod effect;
mod means;
mod set;

pub(crate) use catalogue::lower;
pub use catalogue::{Remedy, RemedyId, Unmet, remedy};
pub use caution::Caution;
pub use effect::{Effect, SAME_SPEED, change_machine, change_setup, faster, slower, title, unmet};
pub use means::Means;
pub use set::{Plan, Price, RemedySet, Settled};
