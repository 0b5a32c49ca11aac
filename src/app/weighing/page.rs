//! The page.

use crate::app::prelude::*;

use spindlewise_engine::decision::make_safe;
use spindlewise_engine::scenario::Field;

use super::study::Desk;
use super::{afterwards, drivers, favour, together, why};
use crate::app::answer::{OpenFigure, source_dialog};
use crate::app::charts::{Mark, hatches, mark};
use crate::app::components::{contents, scenario_head, unusable};
use crate::app::route::Route;
use crate::app::state::workbench;

/// What is found below.
const HEADINGS: [(&str, &str); 5] = [
    ("together", "Which remedies together"),
    ("why", "Why this one wins"),
    ("favour", "How often each is the best buy"),
    ("drivers", "What makes the figures uncertain"),
    ("afterwards", "Afterwards"),
];

/// The page.
pub fn weighing_page() -> impl IntoView {
    let bench = workbench();
    provide_context(OpenFigure(RwSignal::new(None)));
    let desk = Desk::open();
    let found = move || {
        let (findings, units) = (desk.findings()?, bench.units());
        let decision = bench.decision.get()?;
        let resolved = bench.resolved.get_untracked();
        let told = bench.resolved.with(|resolved| resolved.is_typed(Field::TargetWorth));
        let first = make_safe(&decision);
        Some(view! {
            {first.map(|first| view! {
                <div id="make-safe" class="weighing-best">
                    <p class="standing">{mark(Mark::Caution)} <span>{first}</span></p>
                </div>
            })}
            {contents(Route::Weighing, &HEADINGS)}
            {together::section(&findings.sets, &decision, &resolved.case, units)}
            {why::section(&decision, &resolved.case, findings.break_even.as_ref(), units)}
            {favour::section(&findings.acceptability, &resolved.case, told, units)}
            {drivers::section(&findings.drivers)}
        })
    };
    let afterwards = move || bench.decision.get().map(|decision| afterwards::section(&decision, bench.units()));
    view! {
        <article class="answer weighing">
            {scenario_head("Weighing it")}
            <p class="weighing-lead">
                "The answer looks at one step at a time. Here is what remedies do together, why the best buy wins, what would have to be true for another to win, and what makes the figures uncertain."
            </p>
            {unusable()}
            {hatches()}
            {desk.progress()}
            {found}
            {afterwards}
            {source_dialog()}
        </article>
    }
}
