//! Step 1: what brings the user here.

use crate::app::prelude::*;
use spindlewise_engine::remedies::Caution;
use spindlewise_engine::scenario::Field;

use crate::app::components::{caution, numbers, page, pick_many, section};

/// The page.
pub fn view() -> AnyView {
    let content = view! {
        {pick_many("troubles", |choices| &choices.troubles, |choices| &mut choices.troubles)}
        {section("want", "What would be good enough?", numbers(&[Field::FinishTarget, Field::SizeTolerance]))}
        {caution(Caution::Guards)}
    };
    page(
        "What brings you here?",
        "Spindlewise: find out what moves before you buy bearings. Answer what you can and skip the rest: the answer is there from the start, and gets sharper with every line.",
        content.into_any(),
    )
}
