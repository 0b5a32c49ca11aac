//! The readings a home shop can take with an indicator, a luggage scale and
//! perhaps a phone, and what cuts already taken have shown.

#[cfg(doc)]
use super::ReadingError;
use crate::choice::choices;
use crate::machine::Axis;
use crate::quantity::{Dimension, Force, Frequency, Length};
use crate::work::Surfaces;

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
    /// Roughness Ra (mm) that the cut of the setup left in the past.
    PastFinish {
        /// Axial depth of that cut.
        depth: Length,
        /// The surfaces it was looked at on.
        surfaces: Surfaces,
    },
    /// Axial depth (mm) at which the cut of the setup still ran quiet.
    Quiet,
    /// Axial depth (mm) at which it chattered.
    Chatters,
}

choices! {
    /// How the roughness of a past cut was found.
    FinishJudged: "How did you judge that finish?" {
        Gauge => "With a roughness gauge", "Taken as right within a factor of 1.2, nine times in ten.";
        Specimen => "Against a specimen, by eye", "Taken as right within one grade, a factor of 2, nine times in ten.";
        Eye => "By eye or fingernail alone", "Taken as right within a factor of 2.7, nine times in ten.";
    }
}

impl FinishJudged {
    /// What is taken where it was not told: the least sure.
    pub const USUAL: Self = FinishJudged::Eye;

    /// One standard deviation of the logarithm of a roughness so judged.
    /// Common practice, no source: grades of specimens are a factor of two apart
    /// (ISO 2632-1, from memory), and nine judgements in ten within one of them
    /// are `ln 2 / 1.645`.
    pub const fn log_sd(self) -> f64 {
        match self {
            FinishJudged::Gauge => 0.1,
            FinishJudged::Specimen => 0.42,
            FinishJudged::Eye => 0.6,
        }
    }
}

impl ReadingKind {
    /// Dimension of the value read.
    pub fn dimension(self) -> Dimension {
        match self {
            ReadingKind::Tap(_) => Dimension::Frequency,
            ReadingKind::Decay { .. } => Dimension::Milliseconds,
            ReadingKind::PastFinish { .. } => Dimension::Roughness,
            ReadingKind::Quiet | ReadingKind::Chatters => Dimension::Length,
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
            ReadingKind::PastFinish { .. } => "readings.past.finish",
            ReadingKind::Quiet => "readings.quiet.depth",
            ReadingKind::Chatters => "readings.chatter.depth",
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
            ReadingKind::PastFinish { .. } => "finish of a past cut",
            ReadingKind::Quiet => "deepest cut that stayed quiet",
            ReadingKind::Chatters => "shallowest cut that chattered",
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
    /// [`ReadingError::share`].
    pub log_sd: f64,
    /// [`ReadingError::blur`], mm.
    pub blur: f64,
}

#[cfg(test)]
mod tests {
    use statrs::distribution::{ContinuousCDF, Normal};

    use super::*;

    /// What the hints promise, nine times in ten, against the normal distribution.
    #[test]
    fn the_hints_say_how_sure_a_judgement_is() {
        for (judged, factor) in [(FinishJudged::Gauge, 1.2), (FinishJudged::Specimen, 2.0), (FinishJudged::Eye, 2.7)] {
            let normal = Normal::new(0.0, judged.log_sd()).expect("a width");
            let within = 1.0 - 2.0 * normal.cdf(-f64::ln(factor));
            assert!((within - 0.9).abs() < 0.035, "{judged:?}: {within}");
        }
    }
}
