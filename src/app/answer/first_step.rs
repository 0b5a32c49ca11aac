//! What to do first, and what not to buy.

use crate::app::prelude::*;
use spindlewise_engine::decision::{Appraisal, Danger, Figure};
use spindlewise_engine::machine::SpindleBore;
use spindlewise_engine::remedies::{RemedyId, remedy};

use super::cautions::list;
use super::filter::Filter;
use super::sheet::{Sheet, remedy_anchor};
use super::sourced::sourced;
use super::words::{chance, hours, money};
use crate::app::charts::{Mark, mark};
use crate::app::pages::BORE;
use crate::app::route::Route;

/// The two boxes side by side, where there is something to say.
pub fn section(sheet: &Sheet, filter: RwSignal<Filter>) -> AnyView {
    let verdict = &sheet.decision.verdict;
    let first = match verdict.first.and_then(|first| sheet.appraisal(first)) {
        Some(first) => Some(step(sheet, first, filter)),
        None => (verdict.danger == Some(Danger::BareTaper)).then(|| bare_taper(sheet, filter)),
    };
    let refused = &verdict.not_to_buy;
    view! {
        <div class="first">
            {first}
            {(!refused.is_empty()).then(|| not_to_buy(sheet, refused, filter))}
        </div>
        <div class="ways-on">
            <a class="big-link" href=Route::Weighing.href()>
                <span class="big-link-lead">"Weighing it"</span>
                <span class="big-link-text">"Which remedies together, why this one wins, and when bearings would"</span>
            </a>
            <a class="big-link" href=Route::InTheCut.href()>
                <span class="big-link-lead">"In the cut"</span>
                <span class="big-link-text">"Which way to feed, how fast to turn, and what surface it leaves"</span>
            </a>
        </div>
    }
    .into_any()
}

fn step(sheet: &Sheet, appraisal: &Appraisal, filter: RwSignal<Filter>) -> AnyView {
    let known = remedy(appraisal.remedy);
    let cautions = (!known.cautions.is_empty()).then(|| list(known.cautions));
    let spoil = (appraisal.spoil > 0.0).then(|| {
        view! {
            <div>
                <dt>"Chance of spoiling something"</dt>
                <dd>{sourced(Figure::Spoil, chance(appraisal.spoil))}</dd>
            </div>
        }
    });
    view! {
        <section class="first-step" aria-labelledby="first-step">
            <h2 id="first-step"><span class="first-lead">{mark(Mark::Star)} "Do this first"</span> {appraisal.title.clone()}</h2>
            <p>{known.changes}</p>
            <dl class="facts">
                <div>
                    <dt>"Money"</dt>
                    <dd>{sourced(Figure::Money, money(appraisal.money, sheet.units))}</dd>
                </div>
                <div>
                    <dt>"Time"</dt>
                    <dd>{sourced(Figure::Hours, hours(appraisal.hours, sheet.units))}</dd>
                </div>
                {spoil}
            </dl>
            {cautions}
            <p>{to_remedy(appraisal.remedy, "What it would bring, and why", filter)}</p>
        </section>
    }
    .into_any()
}

/// What to do about a bare taper where no drawbar is known to pass.
fn bare_taper(sheet: &Sheet, filter: RwSignal<Filter>) -> AnyView {
    let drawbar = || to_remedy(RemedyId::Drawbar, "fit a drawbar", filter);
    let without = view! {
        "only drill with it. Milling wants another machine, or "
        {to_remedy(RemedyId::AnotherSpindle, "another spindle", filter)} "."
    };
    let (title, said) = match sheet.case().setup.machine.bore {
        None => (
            "Look whether the spindle is bored right through",
            view! {
                <p>"Pull the plug, take the cap off the top of the spindle and look down it, with a light below."</p>
                <ul class="ways-out">
                    <li><strong>"It is: "</strong> {drawbar()} ". Then side load can’t shake the holder out."</li>
                    <li><strong>"It isn’t: "</strong> {without}</li>
                </ul>
            }
            .into_any(),
        ),
        Some(SpindleBore::Closed) => (
            "Don’t side-mill in this spindle",
            view! { <p>"It is not bored through, so no drawbar can pass: " {without}</p> }.into_any(),
        ),
        Some(SpindleBore::Through) => (
            "Don’t side-mill in this spindle",
            view! { <p>"A drawbar could pass, but you don’t want one: " {drawbar()} " after all, or " {without}</p> }
                .into_any(),
        ),
    };
    view! {
        <section class="first-step" aria-labelledby="first-step">
            <h2 id="first-step"><span class="first-lead">{mark(Mark::Star)} "Do this first"</span> {title}</h2>
            {said}
            <p><a class="plain-link" href=Route::Machine.href_to(BORE)>"Say whether it is bored through"</a></p>
        </section>
    }
    .into_any()
}

/// So many are said at once.
const AT_ONCE: usize = 3;

fn not_to_buy(sheet: &Sheet, refused: &[(RemedyId, String)], filter: RwSignal<Filter>) -> AnyView {
    let (said, more) = refused.split_at(refused.len().min(AT_ONCE));
    let more = (!more.is_empty()).then(|| {
        view! {
            <details class="more">
                <summary>{more.len()} " more"</summary>
                <ul class="inside">{refusals(sheet, more, filter)}</ul>
            </details>
        }
    });
    view! {
        <section class="not-to-buy" aria-labelledby="not-to-buy">
            <h2 id="not-to-buy">"What not to buy"</h2>
            <ul>{refusals(sheet, said, filter)}</ul>
            {more}
        </section>
    }
    .into_any()
}

fn refusals(sheet: &Sheet, refused: &[(RemedyId, String)], filter: RwSignal<Filter>) -> AnyView {
    let row = |(id, reason): &(RemedyId, String)| {
        let title = sheet.appraisal(*id).map_or(remedy(*id).title, |one| &one.title);
        view! {
            <li>
                {mark(Mark::Cross)}
                <div>
                    {to_remedy(*id, title, filter)}
                    <p>{reason.clone()}</p>
                </div>
            </li>
        }
    };
    refused.iter().map(row).collect_view().into_any()
}

/// A link to where the remedy is weighed, which no filter may hide then.
fn to_remedy(id: RemedyId, text: &str, filter: RwSignal<Filter>) -> impl IntoView + use<> {
    view! {
        <a
            class="plain-link"
            href=Route::Answer.href_to(&remedy_anchor(id))
            on:click=move |_| filter.set(Filter::All)
        >
            {text.to_owned()}
        </a>
    }
}
