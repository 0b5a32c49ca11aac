//! The answer page, and the short form of the answer that every page shows.

mod cautions;
mod ceiling;
mod certainty;
mod filter;
mod first_step;
mod movement;
mod now;
mod opening;
mod page;
mod readings;
mod remedies;
mod remedy_card;
mod sheet;
mod sourced;
mod told;
mod verdict_bar;
pub mod words;

pub use page::AnswerPage;
pub use sheet::{Surface, point, wire_name};
pub use sourced::{OpenFigure, SourceDialog, sourced, spread};
pub use verdict_bar::VerdictBar;
