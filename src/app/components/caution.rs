//! Cautions beside the work that calls for them.

use crate::app::prelude::*;
use spindlewise_engine::decision::cuts_into_grip;
use spindlewise_engine::remedies::Caution;

use crate::app::state::workbench;

/// A caution of the engine's.
pub fn caution(caution: Caution) -> AnyView {
    caution_text(caution.text())
}

/// A caution in a box that can't be taken for ordinary text.
pub fn caution_text(text: &'static str) -> AnyView {
    boxed(view! { <strong>"Caution. "</strong> {text} }.into_any())
}

/// The box.
pub fn boxed(said: AnyView) -> AnyView {
    view! {
        <p class="caution">
            <svg class="sign" viewBox="0 0 24 24" aria-hidden="true">
                <path d="M12 2 23 21H1Z" />
                <path class="mark" d="M12 9v6M12 17.2v1.8" />
            </svg>
            <span>{said}</span>
        </p>
    }
    .into_any()
}

/// That the cut reaches down into the grip, where it does.
pub fn into_the_grip() -> AnyView {
    let bench = workbench();
    let said = Memo::new(move |_| bench.resolved.with(|resolved| cuts_into_grip(&resolved.case.setup, bench.units())));
    let shown = move || said.get().map(|said| boxed(view! { <strong>"Caution. "</strong> {said} }.into_any()));
    view! { <div role="status">{shown}</div> }.into_any()
}

/// Those of `cautions` that the answer gives for the cut as it is.
pub fn cautions_of_answer(cautions: &'static [Caution]) -> AnyView {
    let bench = workbench();
    let given = Memo::new(move |_| {
        bench.decision.with(|decision| {
            let given = decision.as_ref().map_or(&[][..], |decision| &decision.cautions);
            cautions.iter().copied().filter(|caution| given.contains(caution)).collect::<Vec<_>>()
        })
    });
    view! { <div role="status">{move || given.get().into_iter().map(caution).collect_view()}</div> }.into_any()
}
