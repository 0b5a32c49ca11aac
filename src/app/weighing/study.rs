//! The study of the case at hand: begun, watched and given up.

use std::sync::Arc;

use crate::app::prelude::*;
use spindlewise_engine::decision::{Case, Findings};

use crate::app::background::{self, Job, Reply, Task};
use crate::app::later::{Stretch, Turn};
use crate::app::state::{Workbench, workbench};

/// How far the study is.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Stage {
    /// This share of it is done.
    Underway(f64),
    /// It was given up.
    GivenUp,
    /// Its findings are on the bench.
    Done,
}

/// The study of whatever case is at hand while its page is open.
#[derive(Clone, Copy)]
pub struct Desk {
    bench: Workbench,
    case: Memo<Case>,
    stage: RwSignal<Stage>,
    task: StoredValue<Option<Task>>,
    turn: Turn,
}

impl Desk {
    /// Begins it, and begins it anew whenever the case is another.
    pub fn open() -> Self {
        let bench = workbench();
        let desk = Desk {
            bench,
            case: Memo::new(move |_| bench.resolved.with(|resolved| resolved.case.clone())),
            stage: RwSignal::new(Stage::Underway(0.0)),
            task: StoredValue::new(None),
            turn: Turn::new(),
        };
        on_cleanup(move || desk.drop_task());
        Effect::new(move |_| {
            let known = desk
                .case
                .with(|case| bench.findings.with_untracked(|known| known.as_ref().is_some_and(|(of, _)| of == case)));
            desk.drop_task();
            if known {
                desk.stage.set(Stage::Done);
            } else {
                desk.begin();
            }
        });
        desk
    }

    /// What was found, once all is done.
    pub fn findings(self) -> Option<Arc<Findings>> {
        (self.stage.get() == Stage::Done)
            .then(|| self.bench.findings.with(|known| known.as_ref().map(|(_, findings)| Arc::clone(findings))))
            .flatten()
    }

    fn begin(self) {
        self.stage.set(Stage::Underway(0.0));
        self.turn.after_paint(move || {
            let case = self.case.get_untracked();
            let job = Job::Study(Box::new(self.bench.scenario.get_untracked()));
            let stretch = Stretch("study").begin();
            // Nothing is left to tell once the page is.
            let progress = move |share| _ = self.stage.try_set(Stage::Underway(share));
            let task = background::start(job, progress, move |reply| {
                let Reply::Findings(findings) = reply else { return };
                stretch.end();
                self.bench.findings.set(Some((case, Arc::from(findings))));
                self.stage.try_set(Stage::Done);
            });
            self.task.set_value(Some(task));
        });
    }

    fn drop_task(self) {
        self.turn.stop();
        if let Some(task) = self.task.try_update_value(Option::take).flatten() {
            task.cancel();
        }
    }

    /// How far it is, with the way to give it up or to take it up again.
    pub fn progress(self) -> AnyView {
        let going_on = Memo::new(move |_| self.stage.get() != Stage::Done);
        let underway = Memo::new(move |_| matches!(self.stage.get(), Stage::Underway(_)));
        let share = move || match self.stage.get() {
            Stage::Underway(share) => format!("{share:.3}"),
            Stage::GivenUp | Stage::Done => String::new(),
        };
        let said = move || {
            if underway.get() {
                view! {
                    <label>
                        "Trying every set of remedies on machines like yours"
                        <progress class="study-bar" max="1" value=share></progress>
                    </label>
                }
                .into_any()
            } else {
                view! { <p>"You stopped it before it was done."</p> }.into_any()
            }
        };
        // One button, so that the keyboard stays on it.
        let turn = move |_| {
            if underway.get_untracked() {
                self.drop_task();
                self.stage.set(Stage::GivenUp);
            } else {
                self.begin();
            }
        };
        let does = move || if underway.get() { "Cancel" } else { "Work it out again" };
        let bar = move || {
            going_on.get().then(|| {
                view! {
                    <div class="study">
                        <div class="study-said" role="status">{said}</div>
                        <button type="button" on:click=turn>{does}</button>
                    </div>
                }
            })
        };
        view! { {bar} }.into_any()
    }
}
