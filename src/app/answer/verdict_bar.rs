//! The answer so far, short, on every page of the wizard.

use crate::app::prelude::*;

use crate::app::route::Route;
use crate::app::state::workbench;

/// The bar.
pub fn verdict_bar() -> impl IntoView {
    let bench = workbench();
    // As memos, so that an answer that reads the same isn't read out again.
    // Where there is room all of the sentence, else what it says to do.
    let words = Memo::new(move |_| {
        bench.decision.with(|decision| {
            let verdict = &decision.as_ref()?.verdict;
            Some((verdict.sentence(), verdict.in_short().to_owned()))
        })
    });
    let said = move |pick: fn((String, String)) -> String| words.get().map_or_else(|| "Working it out…".into(), pick);
    let count = Memo::new(move |_| {
        bench.decision.with(|decision| {
            let verdict = &decision.as_ref()?.verdict;
            Some((verdict.of_hundred, verdict.first.is_some()))
        })
    });
    let firm = Memo::new(move |_| {
        bench.decision.with(|decision| decision.as_ref().is_none_or(|decision| decision.verdict.firm))
    });
    view! {
        <aside class="verdict-bar" class:verdict-bar-busy=move || bench.computing.get() aria-label="The answer so far">
            // Read out when it is the answer of all machines.
            <div role="status" aria-busy=move || bench.computing.get().to_string()>
                <p class="verdict-bar-sentence">{move || said(|(whole, _)| whole)}</p>
                <p class="verdict-bar-short">{move || said(|(_, short)| short)}</p>
                <p class="verdict-bar-count">
                    {move || count.get().map(|(count, then)| view! {
                        <strong>{count} " of 100"</strong>
                        <span class="verdict-bar-like">" machines like yours" {then.then_some(" then")}</span>
                        <span>" reach your goal"</span>
                    })}
                    {move || (!firm.get()).then(|| view! { <span>" – not certain yet"</span> })}
                </p>
            </div>
            <a class="verdict-bar-link" href=Route::Answer.href()>
                <span class="unseen-narrow">"See the whole answer"</span>
            </a>
        </aside>
    }
}
