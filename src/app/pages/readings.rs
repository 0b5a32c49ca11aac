//! Step 3: readings, all of them optional.

use crate::app::prelude::*;
use spindlewise_engine::readings::{FinishJudged, ReadingGroup};
use spindlewise_engine::remedies::Caution;
use spindlewise_engine::scenario::Field;

use crate::app::components::{PickOne, caution, numbers, page, section};
use crate::app::drawings::reading_picture;
use crate::app::guide::{Typical, guide};
use crate::app::tap;

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
    let groups = ReadingGroup::ALL.map(|group| section(id(group), group.guide().title, content(group, typical)));
    let content = view! {
        {caution(Caution::PowerOff)}
        {section("indicator", "Your indicator", numbers(&[Field::IndicatorDivision]))}
        {groups.into_iter().collect_view()}
    };
    page(
        "Readings",
        "All optional, and each worth a lot. “Left to right” is along the table, “towards you” across it. The answer page says which one to take next.",
        content.into_any(),
    )
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
fn judged() -> AnyView {
    let judged = PickOne {
        name: "judged",
        get: |choices| choices.judged,
        set: |choices, answer| choices.judged = answer,
        assumed: |_| Some(FinishJudged::USUAL),
    };
    judged.view()
}
