//! Drawings as SVG text. They are for the eye only: what they show is always
//! said in words beside them.

mod machines;
mod plan;
mod readings;

pub use machines::machine_picture;
pub use plan::{top_view, top_view_words};
pub use readings::{Take, reading_picture};
