//! What every page works on: the scenario at hand and the answer that follows
//! from it.

use std::sync::Arc;

use crate::app::prelude::*;
use spindlewise_engine::decision::sets::Bundle;
use spindlewise_engine::decision::{Case, Decision, Findings};
use spindlewise_engine::quantity::UnitSystem;
use spindlewise_engine::scenario::{Resolved, Scenario};

use super::answering;

/// The scenario at hand and what follows from it. Made once, at the root, so
/// that its signals outlive every page.
#[derive(Clone, Copy)]
pub struct Workbench {
    /// What the user chose and typed.
    pub scenario: RwSignal<Scenario>,
    /// The scenario read into values, with what could not be read.
    pub resolved: Memo<Arc<Resolved>>,
    /// The latest answer; `None` only before the first.
    pub decision: RwSignal<Option<Arc<Decision>>>,
    /// Whether a newer answer, or the same on more machines, is on its way.
    pub computing: RwSignal<bool>,
    /// How long the latest answer on all machines took, ms.
    pub decide_ms: RwSignal<f64>,
    /// The latest findings, with the case they belong to.
    pub findings: RwSignal<Option<(Case, Arc<Findings>)>>,
    /// The latest best set for no money, with the case it belongs to.
    pub free: RwSignal<Option<(Case, Option<Arc<Bundle>>)>>,
}

/// The workbench of this app.
pub fn workbench() -> Workbench {
    expect_context()
}

impl Workbench {
    /// Puts `scenario` on a new workbench.
    pub fn new(scenario: Scenario) -> Self {
        let scenario = RwSignal::new(scenario);
        let bench = Workbench {
            scenario,
            resolved: Memo::new(move |_| Arc::new(scenario.with(Scenario::resolve))),
            decision: RwSignal::new(None),
            computing: RwSignal::new(true),
            decide_ms: RwSignal::new(0.0),
            findings: RwSignal::new(None),
            free: RwSignal::new(None),
        };
        answering::keep_up(bench);
        bench
    }

    /// The units to show; follows changes.
    pub fn units(&self) -> UnitSystem {
        self.scenario.with(|scenario| scenario.units)
    }

    /// Changes the scenario.
    pub fn update(&self, change: impl FnOnce(&mut Scenario)) {
        self.scenario.update(change);
    }
}

/// The browser's clock, ms.
pub fn now() -> f64 {
    window().performance().map_or(0.0, |clock| clock.now())
}
