//! The page.

use leptos::prelude::*;

use super::middle::middle;
use super::{close_up, direction, play, speed};
use crate::app::answer::{OpenFigure, SourceDialog};
use crate::app::charts::hatches;
use crate::app::components::unusable;
use crate::app::state::workbench;

/// The page.
#[component]
pub fn InTheCutPage() -> impl IntoView {
    let bench = workbench();
    provide_context(OpenFigure(RwSignal::new(None)));
    let name = move || bench.scenario.with(|scenario| scenario.name.clone());
    let middle = middle();
    view! {
        <article class="answer incut">
            <header class="answer-head">
                <h1 tabindex="-1">"In the cut"</h1>
                <p class="answer-for">{name}</p>
            </header>
            {unusable()}
            {hatches()}
            {direction::section(middle)}
            {speed::section(middle)}
            {close_up::section(middle)}
            {play::section(middle)}
            <SourceDialog />
        </article>
    }
}

/// Said while something is being worked out.
pub fn waiting() -> AnyView {
    view! { <p class="waiting" role="status">"Working it out…"</p> }.into_any()
}
