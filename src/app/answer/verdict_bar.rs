//! The answer so far, short, on every page of the wizard.

use crate::app::prelude::*;

use crate::app::route::Route;
use crate::app::state::workbench;

/// The bar.
pub fn verdict_bar() -> impl IntoView {
    let bench = workbench();
    // As memos, so that an answer that reads the same isn't read out again.
    let sentence = Memo::new(move |_| {
        bench.decision.with(|decision| decision.as_ref().map(|decision| decision.verdict.sentence.clone()))
    });
    let count = Memo::new(move |_| {
        bench.decision.with(|decision| decision.as_ref().map(|decision| decision.verdict.of_hundred))
    });
    let firm = Memo::new(move |_| {
        bench.decision.with(|decision| decision.as_ref().is_none_or(|decision| decision.verdict.firm))
    });
    view! {
        <aside class="verdict-bar" class:verdict-bar-busy=move || bench.computing.get() aria-label="The answer so far">
            <div role="status">
                <p class="verdict-bar-sentence">
                    {move || sentence.get().unwrap_or_else(|| "Working it out…".into())}
                </p>
                <p class="verdict-bar-count">
                    {move || count.get().map(|count| view! { <strong>{count} " of 100"</strong> " machines like yours" })}
                    {move || (!firm.get()).then_some(" – not certain yet")}
                </p>
            </div>
            <a class="verdict-bar-link" href=Route::Answer.href()>"See the whole answer"</a>
        </aside>
    }
}
