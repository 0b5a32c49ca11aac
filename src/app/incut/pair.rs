//! The cut as it is and as it would be with a remedy, on the machine in the
//! middle of all that are plausible.

use leptos::prelude::With;
use spindlewise_engine::decision::{Case, CloseUp, Fit, Standing};
use spindlewise_engine::mechanics::simulation::Invalid;
use spindlewise_engine::remedies::RemedyId;

use crate::app::state::Workbench;

/// Both cuts.
pub struct Pair {
    /// As it is.
    pub now: CloseUp,
    /// With the remedy.
    pub then: CloseUp,
}

impl Pair {
    /// Simulates both.
    ///
    /// # Errors
    /// What can't be simulated, and why.
    pub fn new(case: &Case, remedy: &RemedyId) -> Result<Pair, Invalid> {
        let machine = Fit::new(case).representative();
        Ok(Pair { now: machine.close_up()?, then: machine.with(*remedy).close_up()? })
    }
}

/// Remedies to look at, best first, with their titles.
pub fn possible(bench: Workbench) -> Vec<(RemedyId, String)> {
    bench.decision.with(|decision| {
        let all = decision.iter().flat_map(|decision| &decision.appraisals);
        all.filter(|one| one.remedy != RemedyId::LeaveAlone && one.standing != Standing::NotPossible)
            .map(|one| (one.remedy, one.title.clone()))
            .collect()
    })
}
