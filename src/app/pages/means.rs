//! Step 6: what is at hand, and what it may cost.

use crate::app::prelude::*;
use spindlewise_engine::scenario::Field;

use crate::app::components::{numbers, page, pick_many, section};

/// The page.
pub fn view() -> AnyView {
    let content = view! {
        {pick_many("means", |choices| &choices.means, |choices| &mut choices.means)}
        {section("limits", "Limits", numbers(&[Field::MoneyBudget, Field::HoursBudget]))}
        {section(
            "worth",
            "What it is worth to you",
            numbers(&[Field::HourWorth, Field::TargetWorth, Field::SpoilWorth]),
        )}
    };
    page(
        "Means, money and hours",
        "A remedy is only good if you can have it and it is worth its price. Money is in your own currency.",
        content.into_any(),
    )
}
