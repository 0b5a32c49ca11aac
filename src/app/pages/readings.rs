//! Step 3: readings, all of them optional.

use leptos::prelude::*;
use spindlewise_engine::remedies::Caution;
use spindlewise_engine::scenario::Field;

use crate::app::components::{caution, numbers, page, section};
use crate::app::drawings::Take;
use crate::app::drawings::reading_picture;
use crate::app::tap;

/// A group of readings taken in one set-up.
struct Group {
    id: &'static str,
    title: &'static str,
    how: &'static str,
    take: Take,
    fields: &'static [Field],
}

const GROUPS: [Group; 8] = [
    Group {
        id: "tip",
        title: "Pull at the cutter tip",
        how: "Hook the luggage scale round the cutter, low down. Put the indicator's foot on the table and its finger on the cutter, opposite the hook. Pull as hard as each time before, read, let go, and see that the needle comes back.",
        take: Take::Tip,
        fields: &[Field::TipForce, Field::TipX, Field::TipY],
    },
    Group {
        id: "nose",
        title: "Pull at the spindle nose",
        how: "The same on the bare end of the spindle, without holder and cutter. What is missing against the tip is the holder and the cutter.",
        take: Take::Nose,
        fields: &[Field::NoseForce, Field::NoseX, Field::NoseY],
    },
    Group {
        id: "head",
        title: "Pull on the head",
        how: "Hook on to the head casting itself, beside the quill, and read there. What moves here is head and column: no bearing can take it away.",
        take: Take::Head,
        fields: &[Field::HeadForce, Field::HeadX, Field::HeadY],
    },
    Group {
        id: "part",
        title: "Pull on the part",
        how: "Hook on to the part at the height of the cut, with the indicator's foot on the table: how much the grip gives.",
        take: Take::Part,
        fields: &[Field::PartForce, Field::PartX, Field::PartY],
    },
    Group {
        id: "play",
        title: "Play at the spindle nose",
        how: "Rock the nose lightly by hand and lift and drop it. Note only the dead movement before it comes up against something.",
        take: Take::Play,
        fields: &[Field::RockRadial, Field::RockAxial],
    },
    Group {
        id: "runout",
        title: "Runout",
        how: "Touch the shank just above the flutes. Turn the spindle slowly by hand, unplugged, once round.",
        take: Take::Runout,
        fields: &[Field::Runout],
    },
    Group {
        id: "quill",
        title: "Shake of the quill",
        how: "Clamp the indicator to the head and touch the quill, locked as you mill. Rock it by hand, both ways.",
        take: Take::Quill,
        fields: &[Field::QuillShake],
    },
    Group {
        id: "tap",
        title: "Tap test",
        how: "With the power off and the plug pulled, tap the standing cutter lightly with a small soft hammer, in the direction the reading is for, and let it ring out. Hold the microphone a hand’s breadth away.",
        take: Take::Tap,
        fields: &[Field::TapX, Field::DecayX, Field::TapY, Field::DecayY],
    },
];

/// The page.
pub fn view() -> AnyView {
    let groups = GROUPS.map(group).collect_view();
    let content = view! {
        {caution(Caution::PowerOff)}
        {section("indicator", "Your indicator", numbers(&[Field::IndicatorDivision]))}
        {groups}
    };
    page(
        "Readings",
        "All optional, and each worth a lot. “Left to right” is along the table, “towards you” across it. The answer page says which one to take next.",
        content.into_any(),
    )
}

fn group(group: Group) -> AnyView {
    let picture = view! { <span class="picture" aria-hidden="true" inner_html=reading_picture(group.take)></span> };
    let fields = numbers(group.fields);
    let content = if group.take == Take::Tap {
        view! {
            <div class="reading">{picture} <p>{group.how}</p></div>
            {tap::sound()}
            {fields}
        }
        .into_any()
    } else {
        view! { <div class="reading">{picture} <p>{group.how}</p> {fields}</div> }.into_any()
    };
    section(group.id, group.title, content)
}
