//! The tap test by ear: a recording from the microphone or a file, what rings
//! in it, and the reading it makes. The sound stays in memory and is dropped.

mod microphone;
mod panel;
mod picture;
mod result;
mod sound_file;

pub use panel::sound;
