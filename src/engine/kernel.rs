//! The mechanics of a light mill, and what readings say of them.
//!
//! Modules stand in the order of the job; each may use those above it, never
//! those below. `lib.rs` beside this goes on from here: that is a package of
//! its own so that this one, where the numbers are worked out, is compiled for
//! speed and the other for size.
#![forbid(unsafe_code)]

pub mod order;

pub mod choice;

pub mod quantity;

pub mod machine;

pub mod work;

pub mod mechanics;

pub mod tap;

pub mod readings;
