//! The readings a home shop can take with an indicator, a luggage scale and
//! perhaps a phone.

use crate::machine::Axis;
use crate::quantity::{Dimension, Force, Frequency};

/// Where the scale pulls and the indicator touches.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Place {
    /// The cutter's tip.
    Tip,
    /// The bare spindle nose.
    Nose,
    /// The head casting, low down.
    Head,
    /// The part, at the height of the cut.
    Part,
}

/// What was read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ReadingKind {
    /// Movement (mm) under a steady pull that keeps one direction.
    Pull {
        /// Where.
        place: Place,
        /// In which direction.
        axis: Axis,
        /// Pull.
        force: Force,
    },
    /// Dead sideways movement at the nose when rocked by hand, mm.
    RadialPlay,
    /// Dead movement of the spindle along its axis, mm.
    AxialPlay,
    /// Full indicator swing at the cutter, mm.
    Runout,
    /// Dead movement of the quill in the head, mm.
    QuillShake,
    /// Frequency (Hz) at which the tool rings in one direction.
    Tap(Axis),
    /// Time (ms) in which that ring dies to a tenth.
    Decay {
        /// In which direction it was tapped.
        axis: Axis,
        /// Frequency of the ring, if it was read too.
        ring: Option<Frequency>,
    },
}

impl ReadingKind {
    /// Dimension of the value read.
    pub fn dimension(self) -> Dimension {
        match self {
            ReadingKind::Tap(_) => Dimension::Frequency,
            ReadingKind::Decay { .. } => Dimension::Milliseconds,
            _ => Dimension::FineLength,
        }
    }

    /// Name of the field it is typed into, the same for any pull.
    pub fn key(self) -> &'static str {
        match self {
            ReadingKind::Pull { place: Place::Tip, axis: Axis::X, .. } => "readings.tip.x",
            ReadingKind::Pull { place: Place::Tip, axis: Axis::Y, .. } => "readings.tip.y",
            ReadingKind::Pull { place: Place::Nose, axis: Axis::X, .. } => "readings.nose.x",
            ReadingKind::Pull { place: Place::Nose, axis: Axis::Y, .. } => "readings.nose.y",
            ReadingKind::Pull { place: Place::Head, axis: Axis::X, .. } => "readings.head.x",
            ReadingKind::Pull { place: Place::Head, axis: Axis::Y, .. } => "readings.head.y",
            ReadingKind::Pull { place: Place::Part, axis: Axis::X, .. } => "readings.part.x",
            ReadingKind::Pull { place: Place::Part, axis: Axis::Y, .. } => "readings.part.y",
            ReadingKind::RadialPlay => "readings.rock.radial",
            ReadingKind::AxialPlay => "readings.rock.axial",
            ReadingKind::Runout => "readings.runout",
            ReadingKind::QuillShake => "readings.quill",
            ReadingKind::Tap(Axis::X) => "readings.tap.x",
            ReadingKind::Tap(Axis::Y) => "readings.tap.y",
            ReadingKind::Decay { axis: Axis::X, .. } => "readings.decay.x",
            ReadingKind::Decay { axis: Axis::Y, .. } => "readings.decay.y",
        }
    }

    /// The reading in a few words.
    pub fn label(self) -> &'static str {
        match self {
            ReadingKind::Pull { place: Place::Tip, axis: Axis::X, .. } => "pull at the tip, left to right",
            ReadingKind::Pull { place: Place::Tip, axis: Axis::Y, .. } => "pull at the tip, towards you",
            ReadingKind::Pull { place: Place::Nose, axis: Axis::X, .. } => "pull at the nose, left to right",
            ReadingKind::Pull { place: Place::Nose, axis: Axis::Y, .. } => "pull at the nose, towards you",
            ReadingKind::Pull { place: Place::Head, axis: Axis::X, .. } => "pull on the head, left to right",
            ReadingKind::Pull { place: Place::Head, axis: Axis::Y, .. } => "pull on the head, towards you",
            ReadingKind::Pull { place: Place::Part, axis: Axis::X, .. } => "pull on the part, left to right",
            ReadingKind::Pull { place: Place::Part, axis: Axis::Y, .. } => "pull on the part, towards you",
            ReadingKind::RadialPlay => "sideways play at the nose",
            ReadingKind::AxialPlay => "up-and-down play",
            ReadingKind::Runout => "runout at the cutter",
            ReadingKind::QuillShake => "shake of the quill",
            ReadingKind::Tap(Axis::X) => "ring when tapped left to right",
            ReadingKind::Tap(Axis::Y) => "ring when tapped towards you",
            ReadingKind::Decay { axis: Axis::X, .. } => "time the ring takes to die, left to right",
            ReadingKind::Decay { axis: Axis::Y, .. } => "time the ring takes to die, towards you",
        }
    }
}

/// A reading: what was read, its value, and how far off it may be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// What was read.
    pub kind: ReadingKind,
    /// The value, in the base unit of the kind's dimension: mm, Hz or ms.
    pub value: f64,
    /// One standard deviation of its logarithm (about the relative error).
    pub log_sd: f64,
}
