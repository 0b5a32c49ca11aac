//! Work that takes long, done beside the page: in a worker that runs this same
//! program, or, where the browser makes none, on the page in slices between
//! frames.

mod job;
mod underway;
mod worker;

pub use job::{Job, Reply};
pub use underway::{Task, start};
pub use worker::serve;
