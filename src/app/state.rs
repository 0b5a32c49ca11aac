//! What every page works on: the scenario at hand and the answer that follows
//! from it.

use std::sync::Arc;
use std::time::Duration;

use crate::app::prelude::*;
use leptos::leptos_dom::helpers::TimeoutHandle;
use spindlewise_engine::decision::{Case, Decision, Findings};
use spindlewise_engine::quantity::UnitSystem;
use spindlewise_engine::scenario::{Field, Resolved, Scenario};

use super::background::{self, Job, Reply, Task};

/// Shortest and longest pause, ms, after the last change before the answer is
/// worked out again; in between, half as long as that took the last time, so
/// that a slow device isn't kept from typing.
const DECIDE_AFTER: (f64, f64) = (120.0, 600.0);

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
    /// Whether a newer answer is on its way.
    pub computing: RwSignal<bool>,
    /// How long the latest answer took, ms.
    pub decide_ms: RwSignal<f64>,
    /// The latest findings, with the case they belong to.
    pub findings: RwSignal<Option<(Case, Arc<Findings>)>>,
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
        };
        bench.keep_deciding();
        bench
    }

    /// The units to show; follows changes.
    pub fn units(&self) -> UnitSystem {
        self.scenario.with(|scenario| scenario.units)
    }

    /// Whether the user typed a value for `field` that can be used; follows changes.
    pub fn has_typed(&self, field: Field) -> bool {
        let blank = self.scenario.with(|scenario| scenario.entry(field).trim().is_empty());
        !blank && self.resolved.with(|resolved| resolved.problems.iter().all(|one| one.field() != Some(field)))
    }

    /// Changes the scenario.
    pub fn update(&self, change: impl FnOnce(&mut Scenario)) {
        self.scenario.update(change);
    }

    /// Works out the answer anew a moment after the case last changed. The
    /// pause lets the page paint, and a quick typist finish a number.
    fn keep_deciding(self) {
        let case = Memo::new(move |_| self.resolved.with(|resolved| resolved.case.clone()));
        let waiting = StoredValue::new(None::<TimeoutHandle>);
        let task = StoredValue::new(None::<Task>);
        Effect::new(move |_| {
            // Read, and not just tracked: else it would never be worked out.
            case.with(|_| ());
            self.computing.set(true);
            if let Some(handle) = waiting.get_value() {
                handle.clear();
            }
            if let Some(task) = task.get_value() {
                task.cancel();
            }
            let pause = (self.decide_ms.get_untracked() / 2.0).clamp(DECIDE_AFTER.0, DECIDE_AFTER.1);
            let pause = Duration::from_millis(pause as u64);
            let handle = set_timeout_with_handle(move || task.set_value(Some(self.decide())), pause);
            waiting.set_value(handle.ok());
        });
    }

    fn decide(self) -> Task {
        let start = now();
        let job = Job::Decide(Box::new(self.scenario.get_untracked()));
        let no_progress = |_| {};
        background::start(job, no_progress, move |reply| {
            let Reply::Decision(decision) = reply else { return };
            self.decide_ms.set(now() - start);
            self.decision.set(Some(Arc::from(decision)));
            self.computing.set(false);
        })
    }
}

/// The browser's clock, ms.
pub fn now() -> f64 {
    window().performance().map_or(0.0, |clock| clock.now())
}
