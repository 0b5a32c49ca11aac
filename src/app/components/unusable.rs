//! Entries that are kept, but can't be used.

use crate::app::prelude::*;
use spindlewise_engine::scenario::{FieldSpec, Problem};

use crate::app::route::Route;
use crate::app::state::workbench;

/// Entries of the open scenario that are not used, with the way to each.
pub fn unusable() -> AnyView {
    let bench = workbench();
    let row = move |problem: &Problem| {
        let message = problem.message(bench.units());
        let link = problem.field().map(|field| {
            let FieldSpec { key, label, .. } = field.spec();
            view! { <a href=Route::of_field(key).href_to(key)>{label}</a> ": " }
        });
        view! { <li>{link} {message}</li> }
    };
    let list = move || {
        bench.resolved.with(|resolved| {
            (!resolved.problems.is_empty()).then(|| {
                view! {
                    <div class="news">
                        <p>"Entries that are kept, but can’t be used, so what is usual is taken instead:"</p>
                        <ul>{resolved.problems.iter().map(row).collect_view()}</ul>
                    </div>
                }
            })
        })
    };
    view! { {list} }.into_any()
}
