//! Test cuts: whether what was done made a real difference.
//!
//! Roughness and depth are compared by ratios, so everything is reckoned in
//! logarithms: a cut is so many percent finer, and scatter is a share.

mod contrast;
mod outcome;
mod plan;
mod side_by_side;

pub use contrast::{Contrast, Group};
pub use outcome::{Outcome, Ratio, TooFew, Verdict};
pub use plan::{Plan, Turn, cuts_needed, order, power, smallest_effect};
pub use side_by_side::SideBySide;

use crate::choice::choices;
use crate::readings::FinishJudged;
use crate::remedies::RemedyId;

choices! {
    /// What is held against each other.
    Evidence: "What do you hold against each other?" {
        Finish => "The finish of each cut", "Ra, judged in the same way for all of them.";
        Depth => "Where chatter begins", "The deepest cut that stays quiet, looked for anew each time.";
        Pairs => "Two cuts side by side", "Which of the two looks better, without knowing which is which.";
    }
}

choices! {
    /// In which turn the cuts were taken.
    Turns: "In which turn were the cuts taken?" {
        About => "Turn and turn about", "Each cut as it was has a neighbour as it is now: for what can be taken back in minutes.";
        After => "All as it was, then all as it is now", "For what can’t be taken back, bearings above all.";
    }
}

/// The cuts of a trial, as far as they were written down.
#[derive(Clone, Debug, PartialEq)]
pub struct Trial {
    /// What is held against each other.
    pub evidence: Evidence,
    /// In which turn they were taken.
    pub turns: Turns,
    /// How a finish was judged.
    pub judged: FinishJudged,
    /// What was changed between them, if it was told.
    pub changed: Option<RemedyId>,
    /// The smallest change that matters, as a share.
    pub matters: f64,
    /// Of each cut as it was and as it is now: roughness Ra or depth, mm.
    pub cuts: [Vec<f64>; 2],
    /// The same of cuts that nothing was changed about, taken along with each.
    pub control: [Vec<f64>; 2],
    /// What pairs looked like side by side.
    pub pairs: SideBySide,
}

/// The smallest change that matters, as a share, if it was not told. Common
/// practice, no source: a fifth is about what one sees side by side.
pub const USUALLY_MATTERS: f64 = 0.2;

impl Trial {
    /// Whether more is better.
    fn more_is_better(&self) -> bool {
        self.evidence == Evidence::Depth
    }

    /// Standard deviation of the logarithm that each mean is off by however many
    /// cuts there are: what is judged in steps is rounded, rectangular (JCGM 100:2008
    /// (GUM) F.2.2.1). Specimens are a factor of two apart (ISO 2632-1, from memory),
    /// a fingernail tells no more; gauges and dials, a few percent (common practice, no
    /// source).
    fn step(&self) -> f64 {
        match (self.evidence, self.judged) {
            (Evidence::Finish, FinishJudged::Specimen | FinishJudged::Eye) => 2_f64.ln() / 12_f64.sqrt(),
            _ => 0.02,
        }
    }

    /// Scatter of one cut to be reckoned with before there are any: that of the cut
    /// itself (common practice, no source) and that of judging it.
    fn usual_scatter(&self) -> f64 {
        const CUT: f64 = 0.1;
        match self.evidence {
            // Where chatter begins is found in steps of the dial, and by ear.
            Evidence::Depth => 0.15,
            Evidence::Finish | Evidence::Pairs => CUT.hypot(self.judged.log_sd()),
        }
    }
}
