//! What the answer will have to stand up to: its prediction for the first step.

use crate::app::prelude::*;
use spindlewise_engine::decision::{Decision, Figure, Prediction};
use spindlewise_engine::quantity::{Dimension, UnitSystem};

use crate::app::answer::words::count;
use crate::app::answer::{Surface, sourced, spread};

/// The section.
pub fn section(decision: &Decision, units: UnitSystem) -> AnyView {
    let verdict = &decision.verdict;
    let first = verdict.first.and_then(|id| decision.appraisals.iter().find(|one| one.remedy == id));
    // Of a cut that may hurt, nothing is to be tried out.
    let waits = verdict.danger.map(|danger| {
        view! { <p>"Test cuts wait until the danger is gone: " {danger.left()} "."</p> }
    });
    let (when, prediction) = match first {
        Some(first) => (format!("After “{}”", first.title), &first.prediction),
        None => ("With everything left as it is".to_owned(), &decision.now),
    };
    let safe_then = first.map_or(verdict.danger, |first| first.danger).is_none();
    view! {
        <section aria-labelledby="afterwards">
            <h2 id="afterwards">"Afterwards"</h2>
            {waits}
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
            "Test cuts can’t be logged here yet. Print this page, write down what came out, and compare: if it lies outside more often than twice in ten times, trust these ranges less."
        </p>
    }
    .into_any()
}
