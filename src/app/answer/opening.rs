//! The sentence, the count behind it, and whether it is firm.

use crate::app::prelude::*;
use spindlewise_engine::decision::{Decision, Figure, NextReading, of_hundred};

use super::sheet::Sheet;
use super::sourced::sourced;
use super::words::likelihood;
use crate::app::charts::{Mark, hundred, mark};
use crate::app::route::Route;

/// The opening of the page.
pub fn section(sheet: &Sheet) -> AnyView {
    let decision = &sheet.decision;
    let verdict = &decision.verdict;
    view! {
        <section class="opening" class:opening-open=!verdict.firm aria-label="The answer in short">
            {(!verdict.firm).then(|| view! { <p class="opening-flag">{mark(Mark::Question)} {doubt(decision)}</p> })}
            <p id="verdict" class="opening-sentence">{verdict.sentence.clone()}</p>
            <p>{verdict.bearings.clone()}</p>
            {count(decision)}
            {(!verdict.firm).then(|| settle(decision))}
        </section>
    }
    .into_any()
}

/// How open the question is.
fn doubt(decision: &Decision) -> &'static str {
    match decision.verdict.first {
        Some(_) => "Not certain yet",
        None => "Can’t tell yet",
    }
}

fn count(decision: &Decision) -> impl IntoView {
    let count = decision.verdict.of_hundred;
    let before = of_hundred(decision.now.reach);
    let first = decision.appraisals.iter().find(|one| Some(one.remedy) == decision.verdict.first);
    let title = first.map(|one| one.title.clone());
    let how = title.as_ref().map_or("as it is now".to_owned(), |title| format!("with the first step, “{title}”"));
    let meaning = format!("plausible machines like yours on which the job comes out as you want it {how}");
    let compared = title.map(|_| {
        view! { <p>"As it is now: " {sourced(Figure::Reach, view! { <strong>{before} " of 100"</strong> })} "."</p> }
    });
    view! {
        <figure class="opening-count" data-figure="verdict.count" data-mid=count>
            {hundred(count, meaning)}
            <figcaption>
                <p class="opening-number">
                    {sourced(Figure::Reach, view! { <strong>{count} " of 100"</strong> })}
                </p>
                <p>
                    "plausible machines like yours reach your goal " {how} ". That is "
                    <strong>{likelihood(f64::from(count) / 100.0)}</strong> "."
                </p>
                {compared}
                <p class="opening-key">"Solid square: reaches it. Small ring: doesn’t."</p>
            </figcaption>
        </figure>
    }
}

/// What would settle an open question.
fn settle(decision: &Decision) -> Option<impl IntoView + use<>> {
    let NextReading { field, label, .. } = decision.knowing.readings.first()?.clone();
    Some(view! {
        <p>
            <a class="big-link" href=Route::Readings.href_to(&field)>
                <span class="big-link-lead">"The reading that would tell most"</span>
                <span class="big-link-text">{label}</span>
            </a>
        </p>
    })
}
