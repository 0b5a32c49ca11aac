//! Test cuts: planned, written down, and what they show.

mod came_out;
mod page;
mod plan;

pub use page::{test_cuts_page, wait};
