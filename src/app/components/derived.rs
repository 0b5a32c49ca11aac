//! Figures that follow from the entries at once.

use crate::app::prelude::*;

/// A figure with its name and the formula it comes from.
pub struct Derived {
    /// Its name.
    pub name: &'static str,
    /// With its unit.
    pub value: String,
    /// In the names of the entries.
    pub formula: &'static str,
}

/// A line of figures.
pub fn derived(title: &'static str, figures: impl Fn() -> Vec<Derived> + Send + 'static) -> AnyView {
    let rows = move || {
        let row = |Derived { name, value, formula }| {
            view! { <div><dt>{name}</dt><dd>{value} <small>{formula}</small></dd></div> }
        };
        figures().into_iter().map(row).collect_view()
    };
    view! {
        <section class="derived" aria-label=title>
            <dl>{rows}</dl>
        </section>
    }
    .into_any()
}
