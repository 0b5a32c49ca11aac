//! Parts that every page is made of.

mod caution;
mod choice;
mod compare;
mod contents;
mod derived;
mod folded;
mod name;
mod number;
mod remedy;
mod scaffold;
mod step;
mod unusable;

pub use caution::{boxed, caution, caution_text, cautions_of_answer, into_the_grip};
pub use choice::{PickOne, pick_many};
pub use compare::compare;
pub use contents::contents;
pub use derived::{Derived, derived};
pub use folded::folded;
pub use name::brief;
pub use number::{number, numbers};
pub use remedy::pick_remedy;
pub use scaffold::{details, page, scenario_head, section};
pub use unusable::unusable;
