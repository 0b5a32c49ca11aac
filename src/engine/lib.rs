//! The mechanics of a light mill and the decision about its remedies.
//!
//! Modules stand in the order of the job; each may use those above it, never
//! those below. Nothing here knows a browser, a clock, a file or a random
//! device: the same scenario gives the same answer everywhere.
#![forbid(unsafe_code)]

pub mod order;

pub mod choice;

pub mod quantity;

pub mod machine;

pub mod work;

pub mod mechanics;

pub mod tap;

pub mod readings;

pub mod remedies;

pub mod decision;

pub mod scenario;
