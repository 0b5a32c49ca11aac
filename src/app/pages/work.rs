//! Step 4: material, cutter and cut.

use crate::app::prelude::*;
use spindlewise_engine::quantity::{Dimension, format};
use spindlewise_engine::remedies::Caution;
use spindlewise_engine::scenario::Field;
use spindlewise_engine::work::{CutKind, Holder};

use crate::app::components::{
    Derived, PickOne, caution, cautions_of_answer, derived, details, into_the_grip, number, numbers, page, section,
};
use crate::app::state::workbench;

/// The page.
pub fn view() -> AnyView {
    let material = PickOne {
        name: "material",
        get: |choices| choices.material,
        set: |choices, answer| choices.material = answer,
        assumed: |case| Some(case.setup.material),
    };
    let content = view! {
        {caution(Caution::RotatingCutter)}
        {material.view()}
        {section("tool", "The cutter", cutter())}
        {section("pass", "The cut", cut())}
    };
    page("The work", "The cut that gives trouble, as you would like to take it.", content.into_any())
}

fn cutter() -> AnyView {
    let bench = workbench();
    let kind = PickOne {
        name: "cutter",
        get: |choices| choices.cutter,
        set: |choices, answer| choices.cutter = answer,
        assumed: |case| Some(case.setup.cutter.kind),
    };
    let material = PickOne {
        name: "tool_material",
        get: |choices| choices.tool_material,
        set: |choices, answer| choices.tool_material = answer,
        assumed: |case| Some(case.setup.cutter.material),
    };
    let edge = PickOne {
        name: "edge",
        get: |choices| choices.edge,
        set: |choices, answer| choices.edge = answer,
        assumed: |case| Some(case.setup.cutter.edge),
    };
    let holder = PickOne {
        name: "holder",
        get: |choices| choices.holder,
        set: |choices, answer| choices.holder = answer,
        assumed: |case| Some(case.setup.cutter.holder),
    };
    let in_chuck = move || bench.resolved.with(|resolved| resolved.case.setup.cutter.holder == Holder::DrillChuck);
    view! {
        {kind.view()}
        {material.view()}
        {edge.view()}
        {holder.view()}
        {move || in_chuck().then(|| caution(Caution::DrillChuckSideLoad))}
        {numbers(&[Field::CutterDiameter, Field::Flutes, Field::StickOut])}
        {details("More about the cutter", numbers(&[Field::FluteLength, Field::Helix, Field::CornerRadius]))}
    }
    .into_any()
}

fn cut() -> AnyView {
    let bench = workbench();
    let kind = PickOne {
        name: "cut",
        get: |choices| choices.cut,
        set: |choices, answer| choices.cut = answer,
        assumed: |case| Some(case.setup.cut.kind),
    };
    let slot = Memo::new(move |_| bench.resolved.with(|resolved| resolved.case.setup.cut.kind == CutKind::Slot));
    let width = move || match slot.get() {
        true => view! { <p class="note">"A slot is as wide as the cutter."</p> }.into_any(),
        false => number(Field::RadialWidth),
    };
    view! {
        {kind.view()}
        <div class="fields">
            {number(Field::AxialDepth)}
            {width}
            {number(Field::FeedPerTooth)}
            {number(Field::SpindleSpeed)}
            {number(Field::CutLength)}
            {number(Field::Parts)}
        </div>
        {into_the_grip()}
        {derived("What that makes", figures)}
        {cautions_of_answer(&[Caution::CutterMaySnap, Caution::OverSpeed, Caution::Stall])}
    }
    .into_any()
}

fn figures() -> Vec<Derived> {
    let bench = workbench();
    let units = bench.units();
    bench.resolved.with(|resolved| {
        let setup = &resolved.case.setup;
        let flutes = setup.cutter.flutes;
        vec![
            Derived {
                name: "Feed of the table",
                value: format(setup.cut.feed_rate(flutes), Dimension::FeedRate, units),
                formula: "feed per tooth · teeth · speed",
            },
            Derived {
                name: "Cutting speed",
                value: format(
                    setup.cut.cutting_speed(setup.cutter.diameter).as_m_per_min(),
                    Dimension::CuttingSpeed,
                    units,
                ),
                formula: "π · diameter · speed",
            },
            Derived {
                name: "In the cut, whole job",
                value: format(setup.cut.minutes(flutes), Dimension::Minutes, units),
                formula: "length · parts / feed of the table",
            },
        ]
    })
}
