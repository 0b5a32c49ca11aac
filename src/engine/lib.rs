//! The mechanics of a light mill and the decision about its remedies.
//!
//! Modules stand in the order of the job; each may use those above it, never
//! those below; the first of them, up to the readings, are in `kernel.rs`.
//! Nothing here knows a browser, a clock, a file or a random
//! device: the same scenario gives the same answer everywhere.
#![forbid(unsafe_code)]

pub use spindlewise_kernel::{choice, machine, mechanics, order, quantity, readings, tap, work};

pub mod remedies;

pub mod decision;

pub mod trial;

pub mod scenario;
