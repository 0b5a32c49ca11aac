//! What makes the figures uncertain.

use crate::app::prelude::*;
use spindlewise_engine::decision::Figure;
use spindlewise_engine::decision::sensitivity::{Drivers, Influence, Question};
use spindlewise_engine::scenario::{Field, FieldSpec};

use crate::app::answer::sourced;
use crate::app::answer::words::{lower_first, percent};
use crate::app::charts::index_bar;
use crate::app::route::Route;
use crate::app::state::workbench;

/// So many are shown of each.
const SHOWN: usize = 5;

/// The section.
pub fn section(all: &[Drivers]) -> AnyView {
    let questions = all.iter().map(question).collect_view();
    view! {
        <section aria-labelledby="drivers">
            <h2 id="drivers">"What makes the figures uncertain"</h2>
            <p class="strip-key">
                <span class="index-key-solid">"less uncertain, if you knew this alone"</span>
                <span class="index-key-open">"all that hangs on it, together with the rest"</span>
            </p>
            {questions}
        </section>
    }
    .into_any()
}

fn question(drivers: &Drivers) -> AnyView {
    let (heading, what) = match drivers.question {
        Question::Finish => ("How rough it comes out", "the finish"),
        Question::Depth => ("How deep it cuts without chatter", "the depth without chatter"),
        Question::Bearings => ("What perfect bearings could bring", "what perfect bearings could bring"),
    };
    let Some(most) = drivers.influences.iter().max_by(|a, b| a.first.total_cmp(&b.first)) else {
        return view! {
            <div class="drivers">
                <h3>{heading}</h3>
                <p>"It is hardly uncertain."</p>
            </div>
        }
        .into_any();
    };
    let rows = drivers.influences.iter().take(SHOWN).map(row).collect_view();
    view! {
        <div class="drivers">
            <h3>{heading}</h3>
            <p>
                "If you knew just one thing, " {lower_first(&most.label)} ", "
                {sourced(Figure::FirstOrder, percent(most.first))} " of the uncertainty about " {what} " would be gone."
            </p>
            <ol>{rows}</ol>
        </div>
    }
    .into_any()
}

fn row(influence: &Influence) -> AnyView {
    let Influence { label, reading, first, total } = influence;
    let field = reading.as_deref().and_then(Field::from_key);
    let link = field.map(|field| {
        let FieldSpec { key, label, .. } = field.spec();
        let taken = workbench().scenario.with_untracked(|scenario| !scenario.entry(field).is_empty());
        view! {
            <a class="plain-link" href=Route::of_field(key).href_to(key)>
                {if taken { "Told by (taken already): " } else { "Told by: " }} {lower_first(label)}
            </a>
        }
    });
    view! {
        <li>
            <div class="driver-line">
                <span class="driver-name">{label.clone()}</span>
                <span class="driver-figures">
                    {sourced(Figure::FirstOrder, percent(*first))} " alone, "
                    {sourced(Figure::TotalOrder, percent(total.max(*first)))} " in all"
                </span>
            </div>
            {index_bar(*first, total.max(*first))}
            {link}
        </li>
    }
    .into_any()
}
