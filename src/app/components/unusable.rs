//! Entries that are kept, but can't be used.

use crate::app::prelude::*;
use spindlewise_engine::quantity::UnitSystem;
use spindlewise_engine::scenario::{FieldSpec, Problem};

use crate::app::charts::{Mark, mark};
use crate::app::route::Route;
use crate::app::state::workbench;

/// Entries of the open scenario that are not used, folded to one line; inside,
/// the way to each.
pub fn unusable() -> AnyView {
    let bench = workbench();
    // As memos, so that what was unfolded stays so while other things change.
    let problems = Memo::new(move |_| bench.resolved.with(|resolved| resolved.problems.clone()));
    let any = Memo::new(move |_| problems.with(|problems| !problems.is_empty()));
    let count = move || match problems.with(Vec::len) {
        1 => "One entry can’t be used".to_owned(),
        many => format!("{many} entries can’t be used"),
    };
    let rows = move || {
        let units = bench.units();
        problems.with(|problems| problems.iter().map(|problem| row(problem, units)).collect_view())
    };
    let fold = move || {
        view! {
            <details class="more unusable">
                <summary>{mark(Mark::Caution)} {count}</summary>
                <div class="inside">
                    <p>"Kept as typed, but not reckoned with: what is usual is taken instead."</p>
                    <ul>{rows}</ul>
                </div>
            </details>
        }
    };
    view! { {move || any.get().then(fold)} }.into_any()
}

fn row(problem: &Problem, units: UnitSystem) -> AnyView {
    let message = problem.message(units);
    let Some(field) = problem.field() else { return view! { <li>{message}</li> }.into_any() };
    let FieldSpec { key, label, .. } = field.spec();
    // Most messages begin with the name that leads there.
    let rest = match message.strip_prefix(label) {
        Some(rest) => rest.to_owned(),
        None => format!(": {message}"),
    };
    view! { <li><a href=Route::of_field(key).href_to(key)>{label}</a>{rest}</li> }.into_any()
}
