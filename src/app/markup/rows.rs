//! Rows that keep their place in the page while others come and go.

use std::rc::Rc;

use leptos::prelude::Owner;

use super::built::Built;
use super::view::{AnyView, Kind};

/// A row that may be there already.
pub(super) struct Row {
    /// Tells it from the others.
    pub name: String,
    /// Makes it and what belongs to it.
    pub make: Box<dyn FnOnce() -> BuiltRow>,
}

/// A row in the page.
pub(super) struct BuiltRow {
    /// Ends what belongs to the row when that goes.
    pub _owner: Owner,
    /// The row itself.
    pub shown: Built,
}

/// A row, made by `row`, of each of `items`. It is made anew only if its `name`
/// is.
pub fn rows<T: 'static>(
    items: impl Fn() -> Vec<T> + 'static,
    name: impl Fn(&T) -> String + 'static,
    row: impl Fn(T) -> AnyView + 'static,
) -> AnyView {
    let row = Rc::new(row);
    // Rows outlast a run of what follows.
    let around = Owner::current().unwrap_or_default();
    AnyView::following(Box::new(move || {
        let rows = items().into_iter().map(|item| {
            let (name, row, around) = (name(&item), row.clone(), around.clone());
            let make = move || {
                let owner = around.with(Owner::new);
                let shown = owner.with(|| row(item).build());
                BuiltRow { _owner: owner, shown }
            };
            Row { name, make: Box::new(make) }
        });
        AnyView(Box::new(Kind::Rows(rows.collect())))
    }))
}
