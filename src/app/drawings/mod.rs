//! Drawings as SVG text. They are for the eye only: what they show is always
//! said in words beside them.

mod guide;
mod machines;
mod plan;
mod readings;
mod stand;

pub use guide::guide_panels;
pub use machines::machine_picture;
pub use plan::{top_view, top_view_words};
pub use readings::reading_picture;
