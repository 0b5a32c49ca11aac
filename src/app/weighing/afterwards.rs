//! What the answer will have to stand up to: its prediction for the first step.

use crate::app::prelude::*;
use spindlewise_engine::decision::{Decision, Figure, Prediction};
use spindlewise_engine::quantity::{Dimension, UnitSystem};

use crate::app::answer::words::count;
use crate::app::answer::{Surface, sourced, spread};
use crate::app::route::Route;
use crate::app::trial::wait;

/// The section.
pub fn section(decision: &Decision, units: UnitSystem) -> AnyView {
    let verdict = &decision.verdict;
    let first = verdict.first.and_then(|id| decision.appraisals.iter().find(|one| one.remedy == id));
    let (when, prediction) = match first {
        Some(first) => (format!("After “{}”", first.title), &first.prediction),
        None => ("With everything left as it is".to_owned(), &decision.now),
    };
    let safe_then = first.map_or(verdict.danger, |first| first.danger).is_none();
    view! {
        <section aria-labelledby="afterwards">
            <h2 id="afterwards">"Afterwards"</h2>
            {verdict.danger.map(wait)}
            {safe_then.then(|| foretold(when, prediction, decision, units))}
        </section>
    }
    .into_any()
}

/// What should come out, and how to hold it against what does.
fn foretold(when: String, prediction: &Prediction, decision: &Decision, units: UnitSystem) -> AnyView {
    let surface = Surface::that_counts(decision);
    view! {
        <p>
            "An answer is worth what its predictions are. " {when} ", take the same cut and see whether it comes out so; eight machines in ten should lie within each range:"
        </p>
        <dl class="facts">
            <div>
                <dt>"Roughness Ra of the " {surface.name()}</dt>
                <dd>{spread(surface.figure(), surface.roughness(prediction), Dimension::Roughness, units)}</dd>
            </div>
            <div>
                <dt>"Deepest cut without chatter"</dt>
                <dd>{spread(Figure::DepthLimit, prediction.depth_limit, Dimension::Length, units)}</dd>
            </div>
            <div>
                <dt>"Reaches the goal"</dt>
                <dd>{sourced(Figure::Reach, count(prediction.reach))}</dd>
            </div>
        </dl>
        <p class="weighing-note">
            "If what comes out lies outside more often than twice in ten times, trust these ranges less."
        </p>
        <p>
            <a class="big-link" href=Route::TestCuts.href()>
                <span class="big-link-lead">"Test cuts"</span>
                <span class="big-link-text">"Whether it made a real difference, and whether it came out as foretold"</span>
            </a>
        </p>
    }
    .into_any()
}
