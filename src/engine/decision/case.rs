//! What a decision is asked about.

use super::{Budget, Trouble, Want};
use crate::readings::{Gauges, Reading};
use crate::remedies::{Means, Settled};
use crate::work::Setup;

/// A question in which every value is valid; what the user left blank is
/// filled in with what is usual.
#[derive(Clone, Debug, PartialEq)]
pub struct Case {
    /// Machine and cut.
    pub setup: Setup,
    /// What readings are taken with.
    pub gauges: Gauges,
    /// Readings taken.
    pub readings: Vec<Reading>,
    /// What would be good enough.
    pub want: Want,
    /// What it may cost.
    pub budget: Budget,
    /// What is at hand.
    pub means: Vec<Means>,
    /// What the user has settled about the remedies.
    pub settled: Settled,
    /// What goes wrong.
    pub troubles: Vec<Trouble>,
    /// Whether anything was said of the machine, the work or a reading; if not, all
    /// of it is what is common.
    pub told: bool,
}
