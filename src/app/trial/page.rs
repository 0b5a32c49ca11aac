//! The page.

use crate::app::prelude::*;
use spindlewise_engine::decision::{Danger, Decision};
use spindlewise_engine::remedies::{Caution, RemedyId};
use spindlewise_engine::scenario::Field;
use spindlewise_engine::trial::{Evidence, Turns};

use super::{came_out, plan};
use crate::app::answer::{OpenFigure, grave, source_dialog};
use crate::app::components::{PickOne, caution, details, numbers, pick_remedy, scenario_head, unusable};
use crate::app::pages::judged;
use crate::app::state::workbench;

/// The page.
pub fn test_cuts_page() -> impl IntoView {
    provide_context(OpenFigure(RwSignal::new(None)));
    let bench = workbench();
    let evidence = Memo::new(move |_| bench.resolved.with(|resolved| resolved.trial.evidence));
    view! {
        <article class="answer">
            {scenario_head("Test cuts")}
            <p class="lead">
                "What was paid for looks like a gain. Cuts as it was, and cuts as it is now, tell whether it is one."
            </p>
            {unusable()}
            {move || bench.decision.with(|decision| decision.as_ref().and_then(|decision| grave(decision)))}
            {section("compared", "What is compared", compared(evidence))}
            {section("taken", "How to take the cuts", taken())}
            {section("written", "What came out", view! { {move || written(evidence.get())} }.into_any())}
            {section("difference", "Did it make a difference?", came_out::view())}
            {source_dialog()}
        </article>
    }
}

fn section(id: &'static str, title: &'static str, content: AnyView) -> AnyView {
    let heading = format!("{id}-heading");
    view! {
        <section id=id aria-labelledby=heading.clone()>
            <h2 id=heading>{title}</h2>
            {content}
        </section>
    }
    .into_any()
}

/// What the cuts are taken for.
fn compared(evidence: Memo<Evidence>) -> AnyView {
    let held = PickOne {
        name: "evidence",
        get: |choices| choices.evidence,
        set: |choices, answer| choices.evidence = answer,
        assumed: |_| Some(Evidence::Finish),
    };
    let more = move || match evidence.get() {
        Evidence::Finish => view! { {judged()} {in_which_turn()} }.into_any(),
        Evidence::Depth => in_which_turn(),
        Evidence::Pairs => view! {}.into_any(),
    };
    view! {
        {changed()}
        {held.known()}
        {more}
        {numbers(&[Field::TrialMatters])}
    }
    .into_any()
}

fn in_which_turn() -> AnyView {
    PickOne {
        name: "turns",
        get: |choices| choices.turns,
        set: |choices, answer| choices.turns = answer,
        assumed: |_| Some(Turns::After),
    }
    .known()
}

/// What was changed between the cuts.
fn changed() -> AnyView {
    let bench = workbench();
    let changed = Memo::new(move |_| bench.scenario.with(|scenario| scenario.choices.changed));
    let remedies =
        Memo::new(move |_| bench.decision.with(|decision| decision.as_deref().map_or_else(Vec::new, remedies)));
    let pick = move |one| bench.update(|scenario| scenario.choices.changed = one);
    pick_remedy("changed", "What was changed, or will be", Some("Something else"), remedies, changed, pick)
}

/// All there are, in the words of this case.
fn remedies(decision: &Decision) -> Vec<(RemedyId, String)> {
    let all = decision.appraisals.iter().filter(|one| one.remedy != RemedyId::LeaveAlone);
    all.map(|one| (one.remedy, one.title.clone())).collect()
}

/// How to take them, unless the cut may hurt somebody.
fn taken() -> AnyView {
    let bench = workbench();
    let danger =
        Memo::new(move |_| bench.decision.with(|decision| decision.as_deref().and_then(|one| one.verdict.danger)));
    view! { {move || danger.get().map_or_else(how, wait)} }.into_any()
}

/// Of a cut that may hurt, nothing is to be tried out.
pub fn wait(danger: Danger) -> AnyView {
    view! { <p>"Test cuts wait until the danger is gone: " {danger.left()} "."</p> }.into_any()
}

fn how() -> AnyView {
    view! {
        {plan::view()}
        {caution(Caution::RotatingCutter)}
        <ul>
            <li>"The same cutter, stick-out, speed, feed, depth and width, one bar of the same material, the machine warm: everything but what was changed stays as it is."</li>
            <li>"Measure every cut in the same place and the same way. Write them down as they come, the bad ones too."</li>
            <li>"Judge by eye only when you don’t know which cut is which: have somebody mark them on the back."</li>
            <li>"What can’t be taken back, as bearings, is cut before and after, weeks apart: keep a control cut in both rounds, one that it does nothing to (say the same cut on another machine). What that changes by is taken out."</li>
        </ul>
    }
    .into_any()
}

/// The cuts.
fn written(evidence: Evidence) -> AnyView {
    match evidence {
        Evidence::Finish => view! {
            {numbers(&[Field::FinishWas, Field::FinishNow])}
            {details("A control cut", numbers(&[Field::ControlWas, Field::ControlNow]))}
        }
        .into_any(),
        Evidence::Depth => numbers(&[Field::DepthWas, Field::DepthNow]),
        Evidence::Pairs => numbers(&[Field::PairsBetter, Field::PairsSame, Field::PairsWorse]),
    }
}
