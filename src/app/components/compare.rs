//! Things side by side.

use crate::app::prelude::*;

/// A table of `rows` under the names of its columns; a column without a name is
/// a corner left empty.
pub fn compare(columns: &[&'static str], rows: AnyView) -> AnyView {
    let head = columns.iter().map(|&name| match name {
        "" => view! { <td></td> },
        _ => view! { <th scope="col">{name}</th> },
    });
    view! {
        <table class="compare" class:compare-two=columns.len() == 3>
            <thead>
                <tr>{head.collect_view()}</tr>
            </thead>
            <tbody>{rows}</tbody>
        </table>
    }
}
