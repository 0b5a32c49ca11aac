//! What the user picked and typed, so that a printed sheet says what it rests on.

use crate::app::prelude::*;
use spindlewise_engine::choice::Choice;
use spindlewise_engine::scenario::{Choices, Field, Scenario};

use crate::app::components::folded;
use crate::app::state::workbench;

/// The section; closed on screen, open on paper.
pub fn section() -> AnyView {
    let rows = move || {
        workbench().scenario.with(|scenario| {
            let row = |(asked, said)| view! { <div><dt>{asked}</dt><dd>{said}</dd></div> };
            picked(&scenario.choices).into_iter().chain(typed(scenario)).map(row).collect_view()
        })
    };
    let inside = view! {
        <dl class="facts">{rows}</dl>
        <p>"Everything you left open is taken as usual for such a machine and such a cut, with the spread that goes with not knowing."</p>
    };
    folded("told", "What it rests on", "the answers and numbers you gave".into(), false, inside.into_any())
}

/// Each question that has an answer, in the order they are asked.
fn picked(choices: &Choices) -> Vec<(&'static str, String)> {
    let answers = [
        all(&choices.troubles),
        one(choices.archetype),
        one(choices.support),
        one(choices.condition),
        one(choices.preload),
        one(choices.retention),
        one(choices.quill),
        one(choices.gibs),
        one(choices.judged),
        one(choices.material),
        one(choices.cutter),
        one(choices.tool_material),
        one(choices.edge),
        one(choices.holder),
        one(choices.cut),
        one(choices.workholding),
        one(choices.shape),
        one(choices.axis),
        one(choices.sense),
        all(&choices.means),
    ];
    answers.into_iter().flatten().collect()
}

fn one<C: Choice>(answer: Option<C>) -> Option<(&'static str, String)> {
    answer.map(|answer| (C::QUESTION, answer.label().to_owned()))
}

fn all<C: Choice>(answers: &[C]) -> Option<(&'static str, String)> {
    let labels: Vec<_> = answers.iter().map(|answer| answer.label()).collect();
    (!labels.is_empty()).then(|| (C::QUESTION, labels.join("; ")))
}

/// Each number that was typed, word for word.
fn typed(scenario: &Scenario) -> impl Iterator<Item = (&'static str, String)> {
    let entries = Field::ALL.iter().map(|&field| (field.spec().label, scenario.entry(field).to_owned()));
    entries.filter(|(_, text)| !text.is_empty())
}
