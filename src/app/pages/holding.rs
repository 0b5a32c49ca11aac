//! Step 5: how the part is held, and which way it is fed.

use crate::app::prelude::*;
use spindlewise_engine::remedies::Caution;
use spindlewise_engine::scenario::Field;
use spindlewise_engine::work::CutSense;

use crate::app::components::{PickOne, caution, cautions_of_answer, into_the_grip, numbers, page, section};
use crate::app::drawings::{top_view, top_view_words};
use crate::app::state::workbench;

/// The page.
pub fn view() -> AnyView {
    let content = view! {
        {section("grip", "The grip", grip())}
        {section("direction", "Direction", direction())}
    };
    page(
        "Holding and direction",
        "A part that gives, or a cut that pulls, spoils the finish as well as any bearing.",
        content.into_any(),
    )
}

fn grip() -> AnyView {
    let workholding = PickOne {
        name: "workholding",
        get: |choices| choices.workholding,
        set: |choices, answer| choices.workholding = answer,
        assumed: |case| Some(case.setup.holding.kind),
    };
    let shape = PickOne {
        name: "shape",
        get: |choices| choices.shape,
        set: |choices, answer| choices.shape = answer,
        assumed: |case| Some(case.setup.holding.shape),
    };
    view! {
        {workholding.view()}
        {shape.view()}
        {numbers(&[Field::GripHeight, Field::ClampForce])}
        {into_the_grip()}
        {cautions_of_answer(&[Caution::PartMaySlip, Caution::PartMayLift])}
    }
    .into_any()
}

fn direction() -> AnyView {
    let bench = workbench();
    let axis = PickOne {
        name: "axis",
        get: |choices| choices.axis,
        set: |choices, answer| choices.axis = answer,
        assumed: |case| Some(case.setup.cut.axis),
    };
    let sense = PickOne {
        name: "sense",
        get: |choices| choices.sense,
        set: |choices, answer| choices.sense = answer,
        assumed: |case| Some(case.setup.cut.sense),
    };
    let climbs = move || bench.resolved.with(|resolved| resolved.case.setup.cut.sense == CutSense::Climb);
    let drawing = move || bench.resolved.with(|resolved| top_view(&resolved.case.setup));
    let words = move || bench.resolved.with(|resolved| top_view_words(&resolved.case.setup));
    view! {
        <div class="beside">
            <div>{axis.view()} {sense.view()}</div>
            <figure class="plan">
                <span class="picture" aria-hidden="true" inner_html=drawing></span>
                <figcaption>{words}</figcaption>
            </figure>
        </div>
        {move || climbs().then(|| caution(Caution::PullIn))}
    }
    .into_any()
}
