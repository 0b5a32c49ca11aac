//! The page.

use std::sync::Arc;

use crate::app::prelude::*;
use spindlewise_engine::mechanics::simulation::Invalid;

use super::middle::middle;
use super::{close_up, direction, play, speed};
use crate::app::answer::{OpenFigure, grave, source_dialog};
use crate::app::charts::hatches;
use crate::app::components::{scenario_head, unusable};
use crate::app::state::workbench;

/// The page.
pub fn in_the_cut_page() -> impl IntoView {
    provide_context(OpenFigure(RwSignal::new(None)));
    let middle = middle();
    let decision = workbench().decision;
    view! {
        <article class="answer incut">
            {scenario_head("In the cut")}
            {unusable()}
            {hatches()}
            {move || decision.with(|decision| decision.as_ref().and_then(|decision| grave(decision)))}
            {direction::section(middle)}
            {speed::section(middle)}
            {close_up::section(middle)}
            {play::section(middle)}
            {source_dialog()}
        </article>
    }
}

/// What `draw` makes of something simulated, when it is there.
pub fn simulated<T: Send + Sync + 'static>(
    result: RwSignal<Option<Arc<Result<T, Invalid>>>>,
    draw: impl FnOnce(&T) -> AnyView,
) -> AnyView {
    match result.get().as_deref() {
        None => waiting(),
        Some(Ok(made)) => draw(made),
        Some(Err(reason)) => view! { <p class="error">"This can’t be drawn. " {reason.to_string()}</p> }.into_any(),
    }
}

/// Said while something is being worked out.
pub fn waiting() -> AnyView {
    view! { <p class="waiting" role="status">"Working it out…"</p> }.into_any()
}
