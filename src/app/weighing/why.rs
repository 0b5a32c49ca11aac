//! Why the best buy wins, and what would have to be true for bearings to win.

use crate::app::prelude::*;
use spindlewise_engine::decision::{
    Appraisal, BreakEven, Case, Decision, Figure, MOST_READ, Threshold, contenders, must_go, why,
};
use spindlewise_engine::quantity::{Dimension, UnitSystem, format, format_estimate};

use crate::app::answer::words::{capitalised, count, middle, range};
use crate::app::answer::{point, remedy_anchor, sourced};
use crate::app::components::compare;
use crate::app::route::Route;

/// So many remedies are set side by side.
const SIDE_BY_SIDE: usize = 6;

/// The section.
pub fn section(decision: &Decision, case: &Case, break_even: Option<&BreakEven>, units: UnitSystem) -> AnyView {
    let said = why(decision, case).into_iter().map(|sentence| view! { <p>{sentence}</p> }).collect_view();
    let contenders = contenders(decision);
    let rows = contenders.into_iter().take(SIDE_BY_SIDE).map(|one| row(one, units)).collect_view();
    view! {
        <section aria-labelledby="why">
            <h2 id="why">"Why this one wins"</h2>
            <div id="why-said" class="weighing-said">{said}</div>
            {compare(&["One by itself", "Worth to you on average", "Best buy on", "Costs you more than it brings on"], rows)}
            {bearings(case, break_even, units)}
        </section>
    }
    .into_any()
}

/// When bearings have to go, or what would have to be true for that to pay.
fn bearings(case: &Case, break_even: Option<&BreakEven>, units: UnitSystem) -> AnyView {
    if let Some(why) = must_go(case, units) {
        return view! {
            <h3 id="break-even">"The bearings"</h3>
            <p id="break-even-said">{why}</p>
        }
        .into_any();
    }
    let said = match break_even {
        Some(break_even) => thresholds(break_even, units),
        None => view! { <p>"No bearing job can be had here: each is ruled out, done already, or lacks something it needs."</p> }.into_any(),
    };
    view! {
        <h3 id="break-even">"What would have to be true for bearings to win"</h3>
        {said}
    }
    .into_any()
}

fn row(one: &Appraisal, units: UnitSystem) -> AnyView {
    let machines = |share| format!("{} machines", count(share));
    let worth = middle(point(one.expected_worth), Dimension::Money, units);
    view! {
        <tr>
            <th scope="row">
                <a class="plain-link" href=Route::Answer.href_to(&remedy_anchor(one.remedy))>{one.title.clone()}</a>
                {one.danger.map(|_| view! { <small>" (leaves a danger)"</small> })}
            </th>
            <td data-label="Worth to you on average">{sourced(Figure::Worth, worth)}</td>
            <td data-label="Best buy on">{sourced(Figure::BestBuy, machines(one.best))}</td>
            <td data-label="Costs you more than it brings on">{sourced(Figure::Regret, machines(one.regret))}</td>
        </tr>
    }
    .into_any()
}

fn thresholds(break_even: &BreakEven, units: UnitSystem) -> AnyView {
    // A table of nothing but "at no reading" says no more than the sentence.
    let table = break_even.pays_somewhere().then(|| {
        let rows = break_even.thresholds.iter().map(|one| threshold(one, units)).collect_view();
        compare(
            &[
                "Reading",
                "Pays its cost from",
                "The best buy from",
                "You read",
                "Eight in ten machines like yours show",
            ],
            rows,
        )
    });
    view! {
        <p id="break-even-said">{break_even.sentence(units)}</p>
        {table}
    }
    .into_any()
}

fn threshold(one: &Threshold, units: UnitSystem) -> AnyView {
    let from = |value: Option<f64>| {
        let said = |value| format_estimate(value, Dimension::FineLength, units);
        sourced(Figure::BreakEven, value.map_or_else(|| format!("not up to {}", said(MOST_READ)), said))
    };
    let read = one.read.map_or("not taken".to_owned(), |read| format(read, Dimension::FineLength, units));
    view! {
        <tr>
            <th scope="row">
                <a class="plain-link" href=Route::Readings.href_to(&one.field)>{capitalised(&one.label)}</a>
            </th>
            <td data-label="Pays its cost from">{from(one.pays_from)}</td>
            <td data-label="The best buy from">{from(one.wins_from)}</td>
            <td data-label="You read">{read}</td>
            <td data-label="Usual">{sourced(Figure::Expected, range(one.usual, Dimension::FineLength, units))}</td>
        </tr>
    }
    .into_any()
}
