//! From a case to an answer: every remedy on the same plausible machines,
//! weighed by what the user wants and would give.

mod acceptability;
mod answer;
mod balance;
mod break_even;
mod case;
mod close_up;
mod decide;
mod derivation;
mod directions;
mod dots;
mod evaluate;
mod fit;
mod free;
pub mod information;
mod next;
mod safety;
pub mod sensitivity;
pub mod sets;
mod speeds;
mod study;
mod typical;
mod verdict;
mod want;
mod weigh;
mod why;

pub use crate::mechanics::LoopPart;
pub use acceptability::{Acceptability, Favour};
pub use answer::{
    Appraisal, AtOdds, Ceiling, Change, Decision, Knowing, NextReading, Prediction, ReadingCheck, Share, Spread,
    Standing, Verdict,
};
pub use balance::{Balance, about, exactly};
pub use break_even::{BreakEven, MOST_READ, Threshold, must_go, with_reading};
pub use case::Case;
pub use close_up::{CloseUp, SurfacePicture};
pub use decide::{DRAFT_DRAWS, DRAWS, Deciding, decide, decide_with};
pub use derivation::{Derivation, Figure, Input, derivation};
pub use directions::{Course, Directions, Heading, Push, Stop, Swings, Way};
pub use dots::{DOTS, Dots};
pub use evaluate::{Evaluation, Ground, Motions};
pub use fit::{Fit, Representative};
pub use free::FreeOfCharge;
pub use safety::{Danger, cuts_into_grip};
pub use speeds::{Better, SpeedPoint, Speeds, held};
pub use study::{Findings, Study};
pub use typical::typical;
pub use verdict::{count, of_hundred, short_count};
pub use want::{Budget, Trouble, Want};
pub use why::{contenders, is_a_try, make_safe, seldom_pays, why};
