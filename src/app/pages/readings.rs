//! Step 3: readings, all of them optional.

use crate::app::prelude::*;
use spindlewise_engine::readings::{FinishJudged, ReadingGroup};
use spindlewise_engine::remedies::Caution;
use spindlewise_engine::scenario::Field;

use crate::app::answer::words::capitalised;
use crate::app::components::{PickOne, caution, numbers, page, section};
use crate::app::drawings::reading_picture;
use crate::app::guide::{Typical, guide};
use crate::app::route::Route;
use crate::app::state::workbench;
use crate::app::tap;

/// So many readings are named to begin with.
const TO_BEGIN_WITH: usize = 2;

/// Where a group can be linked to.
fn id(group: ReadingGroup) -> &'static str {
    match group {
        ReadingGroup::Tip => "tip",
        ReadingGroup::Nose => "nose",
        ReadingGroup::Head => "head",
        ReadingGroup::Part => "part",
        ReadingGroup::Play => "play",
        ReadingGroup::Runout => "runout",
        ReadingGroup::Quill => "quill",
        ReadingGroup::Tap => "tap",
        ReadingGroup::PastCuts => "past",
    }
}

/// What is written down.
fn fields(group: ReadingGroup) -> &'static [Field] {
    match group {
        ReadingGroup::Tip => &[Field::TipForce, Field::TipX, Field::TipY],
        ReadingGroup::Nose => &[Field::NoseForce, Field::NoseX, Field::NoseY],
        ReadingGroup::Head => &[Field::HeadForce, Field::HeadX, Field::HeadY],
        ReadingGroup::Part => &[Field::PartForce, Field::PartX, Field::PartY],
        ReadingGroup::Play => &[Field::RockRadial, Field::RockAxial],
        ReadingGroup::Runout => &[Field::Runout],
        ReadingGroup::Quill => &[Field::QuillShake],
        ReadingGroup::Tap => &[Field::TapX, Field::DecayX, Field::TapY, Field::DecayY],
        ReadingGroup::PastCuts => &[Field::QuietDepth, Field::ChatterDepth, Field::PastFinish, Field::PastDepth],
    }
}

/// The page.
pub fn view() -> AnyView {
    let typical = Typical::new();
    let content = view! {
        {caution(Caution::PowerOff)}
        {to_begin_with()}
        {section("indicator", "Your indicator", numbers(&[Field::IndicatorDivision]))}
        {ReadingGroup::ALL.map(|group| folded(group, typical)).into_iter().collect_view()}
    };
    page(
        "Readings",
        "All optional: take those that tell most, and open the others when you want them. “Left to right” is along the table, “towards you” across it.",
        content.into_any(),
    )
}

/// The readings that tell most now, each of another group: those of one group
/// are taken in one go.
fn to_begin_with() -> AnyView {
    let bench = workbench();
    let first = move || {
        let decision = bench.decision.get()?;
        let mut groups = Vec::new();
        let mut best = Vec::new();
        for reading in &decision.knowing.readings {
            let group = ReadingGroup::ALL.into_iter().find(|&group| holds(group, &reading.field));
            if !groups.contains(&group) && best.len() < TO_BEGIN_WITH {
                groups.push(group);
                best.push(reading);
            }
        }
        let worth = best.first()?.worth_taking;
        let taken = bench.resolved.with(|resolved| !resolved.case.readings.is_empty());
        let title = match (taken, best.len()) {
            (true, _) => "Take next",
            (false, 1) => "Start with this one",
            (false, _) => "Start with these two",
        };
        let why = if worth {
            "Of all readings left, this is what can change the advice most for its minutes."
        } else {
            "No reading left tells enough by itself to pay for its minutes. If you want to know more all the same, this tells most."
        };
        let rows = best.iter().map(|reading| {
            view! {
                <li>
                    <a class="big-link" href=Route::Readings.href_to(&reading.field)>
                        <span class="big-link-text">{capitalised(&reading.label)}</span>
                        <span class="big-link-lead">"About " {format!("{:.0}", reading.minutes)} " minutes"</span>
                    </a>
                </li>
            }
        });
        Some(view! {
            <section class="begin-with" aria-labelledby="begin-with">
                <h2 id="begin-with">{title}</h2>
                <p>{why}</p>
                <ol>{rows.collect_view()}</ol>
            </section>
        })
    };
    first.into_any()
}

/// Whether the field with this key is among those of `group`.
fn holds(group: ReadingGroup, key: &str) -> bool {
    fields(group).iter().any(|field| field.spec().key == key)
}

/// A group, folded away under its name and what was read.
fn folded(group: ReadingGroup, typical: Typical) -> AnyView {
    view! {
        <section class="group reading-group">
            <details class="folded">
                <summary>
                    <h2 id=id(group)>{group.guide().title}</h2>
                    <span class="folded-value">{move || written(group)}</span>
                </summary>
                {content(group, typical)}
            </details>
        </section>
    }
    .into_any()
}

/// What is written down for a group.
fn written(group: ReadingGroup) -> String {
    let bench = workbench();
    let entry = |&field: &Field| {
        let text = bench.scenario.with(|scenario| scenario.entry(field).trim().to_owned());
        let unusable = if bench.resolved.with(|resolved| resolved.is_typed(field)) { "" } else { " (can’t be used)" };
        (!text.is_empty()).then(|| text + unusable)
    };
    let entries: Vec<_> = fields(group).iter().filter_map(entry).collect();
    if entries.is_empty() { "Not taken".to_owned() } else { entries.join(", ") }
}

fn content(group: ReadingGroup, typical: Typical) -> AnyView {
    let picture = view! { <span class="picture" aria-hidden="true" inner_html=reading_picture(group)></span> };
    let how = view! { <p>{group.guide().how}</p> };
    let guide = guide(group, fields(group), typical);
    let fields = numbers(fields(group));
    match group {
        ReadingGroup::Tap => {
            view! { <div class="reading">{picture} {how}</div> {guide} {tap::sound()} {fields} }.into_any()
        }
        ReadingGroup::PastCuts => {
            view! { <div class="reading">{picture} {how} {fields}</div> {judged()} {guide} }.into_any()
        }
        _ => view! { <div class="reading">{picture} {how} {fields}</div> {guide} }.into_any(),
    }
}

/// How the finish of a past cut was found.
pub fn judged() -> AnyView {
    let judged = PickOne {
        name: "judged",
        get: |choices| choices.judged,
        set: |choices, answer| choices.judged = answer,
        assumed: |_| Some(FinishJudged::USUAL),
    };
    judged.view()
}
