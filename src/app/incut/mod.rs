//! The cut from close by: which way to feed it, how fast to turn, and what the
//! tip and the surface do.

mod later;
mod listen;
mod motion;
mod page;
mod pair;
mod surface;

pub use page::InTheCutPage;
