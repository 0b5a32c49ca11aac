//! What the user typed, so that a printed sheet says what it rests on.

use crate::app::prelude::*;
use spindlewise_engine::scenario::Field;

use crate::app::state::workbench;

/// The section; closed on screen, open on paper.
pub fn section() -> AnyView {
    let rows = move || {
        let bench = workbench();
        bench.scenario.with(|scenario| {
            let typed = Field::ALL.iter().map(|&field| (field.spec().label, scenario.entry(field).to_owned()));
            typed
                .filter(|(_, text)| !text.is_empty())
                .map(|(label, text)| view! { <div><dt>{label}</dt><dd>{text}</dd></div> })
                .collect_view()
        })
    };
    view! {
        <section aria-labelledby="told">
            <h2 id="told">"What it rests on"</h2>
            <details class="more">
                <summary>"The numbers you gave"</summary>
                <dl class="facts inside">{rows}</dl>
            </details>
            <p>"Everything you left blank is taken as usual for such a machine and such a cut, with the spread that goes with not knowing."</p>
        </section>
    }
    .into_any()
}
