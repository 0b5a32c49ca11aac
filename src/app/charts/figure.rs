//! The frame of every chart: the drawing, what it shows, and the same numbers
//! as a table.

use crate::app::prelude::*;

/// The numbers of a chart.
pub struct Table {
    /// What each column holds.
    pub headings: Vec<&'static str>,
    /// One row each; the first cell names it.
    pub rows: Vec<Vec<String>>,
}

/// Frames `drawing`.
pub fn chart(caption: impl Into<String>, drawing: impl IntoView + 'static, table: Table) -> AnyView {
    let Table { headings, rows } = table;
    let head = headings.into_iter().map(|heading| view! { <th scope="col">{heading}</th> }).collect_view();
    let body = rows
        .into_iter()
        .map(|row| {
            let mut cells = row.into_iter();
            let name = cells.next();
            let rest = cells.map(|cell| view! { <td>{cell}</td> }).collect_view();
            view! { <tr><th scope="row">{name}</th>{rest}</tr> }
        })
        .collect_view();
    view! {
        <figure class="chart">
            {drawing}
            <figcaption>{caption.into()}</figcaption>
            <details class="chart-table">
                <summary>"The same as a table"</summary>
                <div class="chart-table-scroll" tabindex="0" role="group" aria-label="Table">
                    <table>
                        <thead><tr>{head}</tr></thead>
                        <tbody>{body}</tbody>
                    </table>
                </div>
            </details>
        </figure>
    }
    .into_any()
}

/// What the axes of a drawing show and in which unit, under it. Its caption and
/// table say the same.
pub fn axis_names(up: &str, along: &str) -> AnyView {
    view! {
        <p class="axis-names" aria-hidden="true"><span>"↑ "{up.to_owned()}</span> <span>{along.to_owned()}" →"</span></p>
    }
    .into_any()
}
