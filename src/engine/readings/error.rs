//! How far off a reading may be.

use super::{FinishJudged, ReadingKind};
use crate::quantity::Length;

/// What readings are taken with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gauges {
    /// Smallest division of the indicator.
    pub division: Length,
    /// How the finish of a past cut was judged.
    pub judged: FinishJudged,
}

impl Gauges {
    /// What is taken where nothing was told.
    pub const USUAL: Self = Gauges { division: Length::mm(0.01), judged: FinishJudged::USUAL };
}

/// The error of a reading: one standard deviation each.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReadingError {
    /// Of its logarithm: about the relative error.
    pub share: f64,
    /// Of what does not shrink with the value: setting and reading a dial by its
    /// divisions, mm.
    pub blur: f64,
}

impl ReadingKind {
    /// How far off such a reading is as a rule. Common practice, no source, but where
    /// one is named.
    pub fn usual_error(self, gauges: &Gauges) -> ReadingError {
        // Half a division each for setting and reading, rectangular: JCGM 100:2008
        // (GUM) F.2.2.1. Beside it, the touch of the hand.
        let blur = gauges.division.as_mm() / 12_f64.sqrt() * 2_f64.sqrt();
        let indicator = |touch: f64| ReadingError { share: touch, blur };
        let by_share = |share: f64| ReadingError { share, blur: 0.0 };
        match self {
            // The scale, its direction, and how well a pull repeats.
            ReadingKind::Pull { .. } => indicator(0.08),
            ReadingKind::RadialPlay | ReadingKind::AxialPlay | ReadingKind::QuillShake => indicator(0.20),
            ReadingKind::Runout => indicator(0.10),
            ReadingKind::Tap(_) => by_share(0.05),
            // By eye.
            ReadingKind::Decay { .. } => by_share(0.25),
            ReadingKind::PastFinish { .. } => by_share(gauges.judged.log_sd()),
            // Where chatter begins is a matter of the ear and of the dial.
            ReadingKind::Quiet | ReadingKind::Chatters => by_share(0.1),
        }
    }

    /// The formulas are not the machine: standard deviation, in the logarithm, by
    /// which even a perfect reading may differ from a perfect fit. Assumed, but
    /// for what comes of a cut: the closed forms are off by so much against the
    /// cut simulated in time and the exact limits.
    pub fn model_error(self) -> f64 {
        match self {
            ReadingKind::PastFinish { .. } => 0.5,
            ReadingKind::Quiet | ReadingKind::Chatters => 0.3,
            // Joints damp the more the harder they are shaken: in a cut otherwise than
            // after a light tap.
            ReadingKind::Decay { .. } => 0.17,
            _ => 0.08,
        }
    }
}
