//! Why a sound says nothing, and what to do about it.

use std::fmt;

/// Why no ring was found in a recording.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Unheard {
    /// Too few samples a second for the pitches looked for.
    SlowRate {
        /// Samples a second.
        rate: f64,
        /// Fewest allowed.
        least: f64,
    },
    /// Shorter than a tap with some silence about it.
    TooShort {
        /// Length, s.
        seconds: f64,
        /// Shortest allowed, s.
        least: f64,
    },
    /// Nothing but silence.
    Silent,
    /// The crests are cut off.
    Clipped,
    /// No sudden sound that dies away.
    NoTap,
    /// Mains hum is the loudest thing in it.
    MainsHum {
        /// Mains frequency, Hz.
        mains: f64,
    },
    /// There are taps, but nothing rings on long enough after them.
    NoRing {
        /// Taps found.
        taps: usize,
    },
}

impl fmt::Display for Unheard {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Unheard::SlowRate { rate, least } => write!(
                out,
                "This recording has {rate:.0} samples a second; at least {least:.0} are needed. Set the recorder to 44.1 or 48 kHz."
            ),
            Unheard::TooShort { seconds, least } => write!(
                out,
                "This recording is {seconds:.2} s long; at least {least} s are needed. Leave a second of silence before the first tap and after the last."
            ),
            Unheard::Silent => out.write_str(
                "There is nothing but silence in it. Check that the microphone is switched on and allowed, and nothing covers it.",
            ),
            Unheard::Clipped => out.write_str(
                "The sound is cut off at its loudest, which falsifies the decay. Move the microphone further away, or tap more lightly.",
            ),
            Unheard::NoTap => out.write_str(
                "No tap was found in it: no sudden sound that dies away. Hold the microphone a hand’s breadth from the tool, leave a second of silence between taps, and keep the room quiet.",
            ),
            Unheard::MainsHum { mains } => write!(
                out,
                "Mains hum ({mains:.0} Hz and its multiples) drowns the taps. Switch off and unplug what hums: the machine, lamps, chargers, fans; then take it again."
            ),
            Unheard::NoRing { taps } => {
                let taps = match taps {
                    1 => "A tap was found, but nothing".to_owned(),
                    taps => format!("{taps} taps were found, but nothing"),
                };
                write!(
                    out,
                    "{taps} rings on long enough after it to read pitch and decay. Move the microphone nearer, and leave a second between taps. A tool that is well damped may not ring at all."
                )
            }
        }
    }
}

impl std::error::Error for Unheard {}

/// Why a file is not a sound that can be read.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum UnreadableWav {
    /// It is no WAV file.
    NotWav,
    /// It is one, and breaks off before its sound.
    BrokenOff,
    /// It is a WAV file with compressed or unusual samples.
    Unsupported,
}

impl fmt::Display for UnreadableWav {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(match self {
            UnreadableWav::NotWav => "It is not a WAV file. Export the recording as WAV and open that.",
            UnreadableWav::BrokenOff => "It is a WAV file that breaks off. Copy it from the recorder again.",
            UnreadableWav::Unsupported => {
                "It is a WAV file with compressed samples. Export the recording as plain PCM of 8, 16, 24 or 32 bits, or as float."
            }
        })
    }
}

impl std::error::Error for UnreadableWav {}
