//! A share within a larger one: solid within an outline.

use crate::app::prelude::*;

/// `inner` solid, `outer` as an outline, both shares of the whole width. The text
/// beside it says the same, so it is hidden from readers.
pub fn index_bar(inner: f64, outer: f64) -> AnyView {
    let percent = |share: f64| format!("{:.2}%", 100.0 * share.clamp(0.0, 1.0));
    view! {
        <svg class="index-bar" aria-hidden="true">
            <line class="bar-track" x1="0" x2="100%" y1="50%" y2="50%" />
            <rect class="index-outer" x="1" y="10%" width=percent(outer) height="80%" />
            <rect class="index-inner" x="1" y="10%" width=percent(inner) height="80%" />
        </svg>
    }
    .into_any()
}
