//! What several steps that cost no money bring together, where that is more than
//! the first step alone.

use std::sync::Arc;

use crate::app::prelude::*;
use spindlewise_engine::decision::sets::Bundle;
use spindlewise_engine::decision::{Decision, Figure, of_hundred};
use spindlewise_engine::quantity::UnitSystem;

use super::sourced::sourced;
use super::words::{hours, risk};
use crate::app::background::{self, Job, Reply, Task};
use crate::app::later::Stretch;
use crate::app::route::Route;
use crate::app::state::{Workbench, workbench};

/// Looks for it once the answer is complete, while its page is open.
pub fn keep_up() {
    let bench = workbench();
    let task: StoredValue<Option<Task>> = StoredValue::new(None);
    let stop = move || {
        if let Some(task) = task.try_update_value(Option::take).flatten() {
            task.cancel();
        }
    };
    on_cleanup(stop);
    Effect::new(move |_| {
        stop();
        if bench.computing.get() || !bench.decision.with(|decision| decision.as_deref().is_some_and(asks_for_it)) {
            return;
        }
        let case = bench.resolved.with_untracked(|resolved| resolved.case.clone());
        if bench.free.with_untracked(|known| known.as_ref().is_some_and(|(of, _)| *of == case)) {
            return;
        }
        let job = Job::Free(Box::new(bench.scenario.get_untracked()));
        let stretch = Stretch("free set").begin();
        let no_progress = |_| {};
        task.set_value(Some(background::start(job, no_progress, move |reply| {
            let Reply::Free(best) = reply else { return };
            stretch.end();
            bench.free.set(Some((case, best.map(Arc::from))));
        })));
    });
}

/// Whether there is a first step, and no danger that comes before it.
fn asks_for_it(decision: &Decision) -> bool {
    decision.verdict.first.is_some() && decision.verdict.danger.is_none()
}

/// The section, as soon as it is known and more than `decision` says at first.
pub fn section(decision: &Arc<Decision>, units: UnitSystem) -> AnyView {
    let decision = Arc::clone(decision);
    let bench = workbench();
    let shown = move || {
        let best = asks_for_it(&decision).then(|| found(bench)).flatten()?;
        let (alone, together) = (decision.verdict.of_hundred, of_hundred(best.reach));
        (best.remedies.len() > 1 && together > alone).then(|| set(&best, units))
    };
    view! { {shown} }.into_any()
}

/// What was found for the case at hand.
fn found(bench: Workbench) -> Option<Arc<Bundle>> {
    let resolved = bench.resolved.get();
    bench.free.with(|known| known.as_ref().filter(|(of, _)| *of == resolved.case).and_then(|(_, best)| best.clone()))
}

fn set(best: &Bundle, units: UnitSystem) -> AnyView {
    let number = match best.remedies.len() {
        2 => "both of these",
        3 => "these three",
        4 => "these four",
        5 => "these five",
        _ => "all of these",
    };
    let spoil = (best.spoil > 0.0)
        .then(|| view! { " Risk of spoiling something: " {sourced(Figure::Spoil, risk(best.spoil))} "." });
    let steps = best.titles.iter().map(|title| view! { <li>{title.clone()}</li> }).collect_view();
    view! {
        <section class="weighing-best free-set" aria-labelledby="free-set">
            <h2 id="free-set">"Better still, and free"</h2>
            <p>
                "Do " {number} ", none of which costs money, and "
                {sourced(Figure::BestTogether, view! { <strong>{of_hundred(best.reach)} " of 100"</strong> })}
                " machines like yours reach the goal. Time: " {sourced(Figure::Hours, hours(best.hours, units))} "." {spoil}
            </p>
            <ul>{steps}</ul>
            <p><a class="plain-link" href=Route::Weighing.href()>"What they do together, and what money would add"</a></p>
        </section>
    }
    .into_any()
}
