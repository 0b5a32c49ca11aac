//! The machines that fit the case and the one in their middle: what every
//! section of the page looks at.

use std::sync::Arc;

use crate::app::prelude::*;
use spindlewise_engine::decision::{Case, CloseUp, Fit, Representative, Standing};
use spindlewise_engine::mechanics::simulation::Invalid;
use spindlewise_engine::remedies::RemedyId;

use crate::app::later::later;
use crate::app::state::{Workbench, workbench};

/// The machines of a case.
pub struct Middle {
    /// The machines that fit it.
    pub fit: Fit,
    /// The one in their middle.
    pub machine: Representative,
}

/// Those of the case that the latest answer belongs to.
pub fn middle() -> RwSignal<Option<Arc<Middle>>> {
    let bench = workbench();
    let case = move || {
        let answered = bench.decision.with(Option::is_some);
        answered.then(|| bench.resolved.with_untracked(|resolved| resolved.case.clone()))
    };
    later("machines", case, |case: &Case| {
        let fit = Fit::new(case);
        let machine = fit.representative();
        Middle { fit, machine }
    })
}

/// The cut as it is and with a remedy.
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
    pub fn new(machine: &Representative, remedy: RemedyId) -> Result<Pair, Invalid> {
        Ok(Pair { now: machine.close_up()?, then: machine.with(remedy).close_up()? })
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
