//! Keeps the answer up to date, in two goes: after a change at once on a few of
//! the machines, and when nothing more has changed for a moment on all of them.

use std::sync::Arc;
use std::time::Duration;

use crate::app::prelude::*;
use leptos::leptos_dom::helpers::TimeoutHandle;
use spindlewise_engine::decision::{DRAFT_DRAWS, DRAWS, Decision};

use super::background::{self, Job, Reply, Task};
use super::later::Stretch;
use super::state::{Workbench, now};

/// Shortest and longest pause, ms, before the second go; in between, half as long
/// as that took the last time, so that a slow device doesn't begin it in vain.
const SETTLED: (f64, f64) = (120.0, 600.0);

/// From a change to the end of each go.
const GOES: [Stretch; 2] = [Stretch("first answer"), Stretch("answer")];

/// Follows the case of `bench`.
pub fn keep_up(bench: Workbench) {
    let case = Memo::new(move |_| bench.resolved.with(|resolved| resolved.case.clone()));
    let answering = Answering { bench, stage: StoredValue::new(Stage::Rest) };
    Effect::new(move |_| {
        // Read, and not just tracked: else it would never be worked out.
        case.with(|_| ());
        answering.changed();
    });
}

#[derive(Clone, Copy)]
struct Answering {
    bench: Workbench,
    stage: StoredValue<Stage>,
}

#[derive(Clone, Copy)]
enum Stage {
    /// Nothing has changed since the last answer.
    Rest,
    /// The first go is underway. It is over so soon that it is never broken off.
    First,
    /// The same, for a case that has changed since.
    Outdated,
    /// The second go begins when nothing changes for a moment.
    Settling(TimeoutHandle),
    /// The second go is underway.
    Second(Task),
}

impl Answering {
    fn changed(self) {
        self.bench.computing.set(true);
        for go in GOES {
            go.begin();
        }
        match self.stage.get_value() {
            Stage::Rest => {}
            Stage::First | Stage::Outdated => return self.stage.set_value(Stage::Outdated),
            Stage::Settling(timeout) => timeout.clear(),
            Stage::Second(task) => task.cancel(),
        }
        self.begin_first();
    }

    fn begin_first(self) {
        self.stage.set_value(Stage::First);
        self.decide(DRAFT_DRAWS, move |decision| {
            if matches!(self.stage.get_value(), Stage::Outdated) {
                return self.begin_first();
            }
            self.bench.decision.set(Some(decision));
            GOES[0].end();
            let pause = (self.bench.decide_ms.get_untracked() / 2.0).clamp(SETTLED.0, SETTLED.1);
            let begin = move || self.begin_second();
            // Refused by no browser.
            if let Ok(timeout) = set_timeout_with_handle(begin, Duration::from_millis(pause as u64)) {
                self.stage.set_value(Stage::Settling(timeout));
            }
        });
    }

    fn begin_second(self) {
        let start = now();
        let task = self.decide(DRAWS, move |decision| {
            self.stage.set_value(Stage::Rest);
            self.bench.decide_ms.set(now() - start);
            self.bench.decision.set(Some(decision));
            self.bench.computing.set(false);
            GOES[1].end();
        });
        self.stage.set_value(Stage::Second(task));
    }

    fn decide(self, draws: usize, on_done: impl FnOnce(Arc<Decision>) + 'static) -> Task {
        let job = Job::Decide(Box::new(self.bench.scenario.get_untracked()), draws);
        let no_progress = |_| {};
        background::start(job, no_progress, move |reply| {
            if let Reply::Decision(decision) = reply {
                on_done(Arc::from(decision));
            }
        })
    }
}
