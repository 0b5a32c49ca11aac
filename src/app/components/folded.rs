//! A section folded away under its heading.

use crate::app::prelude::*;

/// The section: beside its heading `said`, the whole of it in a few words; unfolded from the
/// start where it is `open`.
pub fn folded(id: &'static str, heading: &'static str, said: String, open: bool, inside: AnyView) -> AnyView {
    view! {
        <section aria-labelledby=id>
            <details class="folded" open=open>
                <summary>
                    <h2 id=id>{heading}</h2>
                    <span class="folded-value">{said}</span>
                </summary>
                <div class="inside">{inside}</div>
            </details>
        </section>
    }
    .into_any()
}
