//! The cut from close by: which way to feed it, how fast to turn, what the tip
//! and the surface do, and what play does.

mod close_up;
mod direction;
mod listen;
mod middle;
mod motion;
mod page;
mod play;
mod speed;
mod surface;

pub use page::in_the_cut_page;
