//! The answer page, and the short form of the answer that every page shows.

mod cautions;
mod ceiling;
mod certainty;
mod dots;
mod filter;
mod first_step;
mod free_set;
mod movement;
mod now;
mod opening;
mod page;
mod readings;
mod remedies;
mod remedy_card;
mod settle;
mod sheet;
mod sourced;
mod told;
mod verdict_bar;
pub mod words;

pub use cautions::grave;
pub use filter::toggles;
pub use page::answer_page;
pub use sheet::{Surface, point, remedy_anchor, wire_name};
pub use sourced::{OpenFigure, source_dialog, sourced, spread};
pub use verdict_bar::verdict_bar;
