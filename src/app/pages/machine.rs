//! Step 2: the machine.

use crate::app::prelude::*;
use spindlewise_engine::machine::TaperRetention;
use spindlewise_engine::remedies::Caution;
use spindlewise_engine::scenario::Field;

use crate::app::components::{PickOne, caution, details, numbers, page, section};
use crate::app::drawings::machine_picture;
use crate::app::state::workbench;

/// Sizes that most people would have to look up.
const DETAILS: [Field; 10] = [
    Field::QuillExtension,
    Field::Span,
    Field::Overhang,
    Field::SpindleDiameter,
    Field::BearingBore,
    Field::Backlash,
    Field::Power,
    Field::SlowestSpeed,
    Field::FastestSpeed,
    Field::SpeedSteps,
];

/// Where it is asked whether a drawbar can pass.
pub const BORE: &str = "bore";

/// The page.
pub fn view() -> AnyView {
    let kind = PickOne {
        name: "archetype",
        get: |choices| choices.archetype,
        set: |choices, answer| choices.archetype = answer,
        assumed: |case| Some(case.setup.machine.archetype),
    };
    let content = view! {
        <div class="pictured">{kind.with_pictures(machine_picture)}</div>
        {section("spindle", "The spindle", spindle())}
        {section("slides", "Quill and slides", slides())}
        {details("If you know the details", numbers(&DETAILS))}
    };
    page(
        "The machine",
        "The kind of machine settles what is usual for it; a reading on your own machine always counts for more.",
        content.into_any(),
    )
}

fn spindle() -> AnyView {
    let bench = workbench();
    let support = PickOne {
        name: "support",
        get: |choices| choices.support,
        set: |choices, answer| choices.support = answer,
        assumed: |case| Some(case.setup.machine.support),
    };
    let condition = PickOne {
        name: "condition",
        get: |choices| choices.condition,
        set: |choices, answer| choices.condition = answer,
        assumed: |case| case.setup.machine.condition,
    };
    let preload = PickOne {
        name: "preload",
        get: |choices| choices.preload,
        set: |choices, answer| choices.preload = answer,
        assumed: |case| case.setup.machine.preload,
    };
    let retention = PickOne {
        name: "retention",
        get: |choices| choices.retention,
        set: |choices, answer| choices.retention = answer,
        assumed: |case| Some(case.setup.machine.retention),
    };
    // Said also where it is only the usual thing on this kind of machine.
    let unretained = Memo::new(move |_| {
        bench.resolved.with(|resolved| resolved.case.setup.machine.retention == TaperRetention::Unretained)
    });
    view! {
        {support.view()}
        {condition.view()}
        {preload.view()}
        {retention.view()}
        {move || unretained.get().then(bare_taper)}
    }
    .into_any()
}

/// What it means that nothing holds the taper, and whether a drawbar could.
fn bare_taper() -> AnyView {
    let bore = PickOne {
        name: BORE,
        get: |choices| choices.bore,
        set: |choices, answer| choices.bore = answer,
        assumed: |case| case.setup.machine.bore,
    };
    view! {
        {caution(Caution::UnretainedTaper)}
        {bore.view()}
    }
    .into_any()
}

fn slides() -> AnyView {
    let quill = PickOne {
        name: "quill",
        get: |choices| choices.quill,
        set: |choices, answer| choices.quill = answer,
        assumed: |case| Some(case.setup.machine.quill),
    };
    let gibs = PickOne {
        name: "gibs",
        get: |choices| choices.gibs,
        set: |choices, answer| choices.gibs = answer,
        assumed: |case| Some(case.setup.machine.gibs),
    };
    view! {
        {quill.view()}
        {gibs.view()}
    }
    .into_any()
}
