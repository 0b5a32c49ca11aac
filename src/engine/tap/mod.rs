//! The tap test: from the sound of a tapped tool to how it rings.
//!
//! A microphone hears sound, not motion: how loud it is says nothing here.
//! Pitch and decay are those of the iron, and they are all that is taken.
//!
//! A decaying wave is `exp(-σ t) cos(ω t)`. From one wave to the next it falls
//! by the logarithmic decrement `δ = 2 π ζ / sqrt(1 - ζ²)` (Thomson, Theory of
//! Vibration with Applications, section 2.7, from memory), so `ζ = σ / sqrt(σ² +
//! ω²)`. The decay is read off the band-passed envelope; the half-power width
//! of the peak (Ewins, Modal Testing, chapter 4, from memory) is a second
//! opinion.

mod decay;
mod fault;
mod fft;
mod listen;
mod recording;
mod ring;
mod spectrum;
mod strokes;
mod wav;

pub use fault::{Unheard, UnreadableWav};
pub use listen::{Heard, listen};
pub use recording::Recording;
pub use ring::{Measured, Ring, Trace};
pub use spectrum::{Band, Spectrum};
pub use wav::read_wav;

/// Lowest frequency looked for, Hz.
pub const LOWEST: f64 = 12.0;

/// Highest frequency looked for, Hz.
pub const HIGHEST: f64 = 3000.0;
