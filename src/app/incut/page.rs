//! The page.

use std::sync::Arc;

use crate::app::prelude::*;
use spindlewise_engine::mechanics::simulation::Invalid;

use super::middle::{Middle, middle};
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
    let directions = direction::directions(middle);
    let speeds = speed::speeds(after(middle, directions));
    let last = after(middle, speeds);
    view! {
        <article class="answer incut">
            {scenario_head("In the cut")}
            {unusable()}
            {hatches()}
            {move || decision.with(|decision| decision.as_ref().and_then(|decision| grave(decision)))}
            {direction::section(directions)}
            {speed::section(speeds)}
            {close_up::section(last)}
            {play::section(last)}
            {source_dialog()}
        </article>
    }
}

/// The machines once what comes `before` is there: each section is painted before
/// the next is worked out, advice before pictures.
fn after<T: Send + Sync + 'static>(
    middle: RwSignal<Option<Arc<Middle>>>,
    before: RwSignal<Option<Arc<T>>>,
) -> Signal<Option<Arc<Middle>>> {
    Signal::derive(move || before.with(Option::is_some).then(|| middle.get()).flatten())
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
