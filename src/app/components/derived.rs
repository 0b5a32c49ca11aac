//! Figures that follow from the entries at once.

use leptos::prelude::*;

/// A line of figures, each a name and a value.
pub fn derived(title: &'static str, figures: impl Fn() -> Vec<(&'static str, String)> + Send + 'static) -> AnyView {
    let rows = move || {
        let row = |(name, value)| view! { <div><dt>{name}</dt><dd>{value}</dd></div> };
        figures().into_iter().map(row).collect_view()
    };
    view! {
        <section class="derived" aria-label=title>
            <dl>{rows}</dl>
        </section>
    }
    .into_any()
}
