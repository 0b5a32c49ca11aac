//! A choice of one among a few, as a row of large toggles.

use crate::app::prelude::*;
use spindlewise_engine::decision::Appraisal;

/// Which remedies to show.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Filter {
    /// Every one.
    All,
    /// Those that cost no money.
    Free,
    /// Those within the money and hours allowed.
    Affordable,
}

impl Filter {
    /// Every choice.
    pub const CHOICES: [(Filter, &'static str); 3] =
        [(Filter::All, "All"), (Filter::Free, "Free of charge"), (Filter::Affordable, "Within my budget")];

    /// Whether the remedy is shown.
    pub fn admits(self, appraisal: &Appraisal) -> bool {
        match self {
            Filter::All => true,
            Filter::Free => appraisal.money.1 <= 0.0,
            Filter::Affordable => appraisal.affordable,
        }
    }
}

/// The toggles; one is always pressed.
pub fn toggles<T>(label: &'static str, choices: &'static [(T, &'static str)], chosen: RwSignal<T>) -> AnyView
where
    T: Copy + PartialEq + Send + Sync + 'static,
{
    let buttons = choices
        .iter()
        .map(|&(choice, text)| {
            let pressed = move || {
                if chosen.get() == choice { "true" } else { "false" }
            };
            view! {
                <button type="button" aria-pressed=pressed on:click=move |_| chosen.set(choice)>
                    {text}
                </button>
            }
        })
        .collect_view();
    view! { <div class="toggles" role="group" aria-label=label>{buttons}</div> }.into_any()
}
