//! How sure the answer is, and how it was reached.

use crate::app::prelude::*;
use spindlewise_engine::decision::{Decision, Figure};
use spindlewise_engine::quantity::{Dimension, UnitSystem, format, format_number};
use spindlewise_engine::readings::HEAVY_TAIL;

use super::sheet::Sheet;
use super::sourced::sourced;
use crate::app::state::workbench;

/// Below this many independent machines the counts of 100 are rough.
const FEW: f64 = 100.0;

/// Why the counts of a hundred are rough, if they are.
pub fn why_rough(decision: &Decision) -> Option<&'static str> {
    if decision.tail > HEAVY_TAIL {
        Some("A few of the machines looked at fit your readings so much better that they decide alone")
    } else {
        (decision.effective_draws < FEW).then_some("Few of the machines looked at agree with your readings")
    }
}

/// The section.
pub fn section(sheet: &Sheet) -> AnyView {
    let decision = &sheet.decision;
    let effective = decision.effective_draws;
    let rough = why_rough(decision).map(|why| {
        view! { <p class="standing">{why} ", so the counts are rough: take them as give or take ten of 100."</p> }
    });
    let took = move || format!("{} ms", format_number(workbench().decide_ms.get(), 2));
    let today = String::from(js_sys::Date::new_0().to_date_string());
    let print = move |_| {
        // Refused only where there is no printer to talk to.
        _ = window().print();
    };
    view! {
        <section aria-labelledby="certainty">
            <h2 id="certainty">"How sure is this?"</h2>
            {rough}
            <p>
                "This is a reckoning from a simple model and wide typical ranges, not a measurement of your machine. Local rules, the maker’s instructions and a qualified person come before it."
            </p>
            <details class="more">
                <summary>"How it was reckoned"</summary>
                <div class="inside">
                    <dl class="facts">
                        <div data-figure="draws" data-mid=decision.draws>
                            <dt>"Machines like yours looked at"</dt>
                            <dd>{sourced(Figure::Draws, decision.draws)}</dd>
                        </div>
                        <div data-figure="effective_draws" data-mid=effective.to_string()>
                            <dt>"Still counting after your readings, as good as"</dt>
                            <dd>{sourced(Figure::EffectiveDraws, format(effective.round(), Dimension::Count, UnitSystem::Metric))}</dd>
                        </div>
                        {decision.tail.is_finite().then(|| view! {
                            <div data-figure="tail" data-mid=decision.tail.to_string()>
                                <dt>"Do a few of them decide alone?"</dt>
                                <dd>{sourced(Figure::Tail, if decision.tail > HEAVY_TAIL { "yes" } else { "no" })}</dd>
                            </div>
                        })}
                        <div data-figure="unconverged" data-mid=decision.unconverged.to_string()>
                            <dt>"Calculations that did not settle"</dt>
                            <dd>{sourced(Figure::Unconverged, format(decision.unconverged, Dimension::Share, UnitSystem::Metric))}</dd>
                        </div>
                        <div>
                            <dt>"Time it took, by your browser’s clock"</dt>
                            <dd>{took}</dd>
                        </div>
                    </dl>
                    <p>
                        "The same input gives the same answer, on every machine and every time. All of it is reckoned here in your browser; nothing is sent anywhere."
                    </p>
                </div>
            </details>
            <p class="paper-only">"Spindlewise " {env!("CARGO_PKG_VERSION")} ", " {today} "."</p>
            <p class="screen-only"><button type="button" on:click=print>"Print this sheet"</button></p>
        </section>
    }
    .into_any()
}
