//! The finish to expect, as machines to be counted.

use crate::app::prelude::*;
use spindlewise_engine::decision::{DOTS, Figure};
use spindlewise_engine::quantity::{Dimension, UnitSystem, format};

use super::sheet::{Sheet, point};
use super::sourced::sourced;
use super::words::middle;
use crate::app::charts::{Grades, Table, chart, dot_plot};
use crate::app::components::folded;

/// The section.
pub fn section(sheet: &Sheet) -> AnyView {
    let dots = &sheet.decision.dots;
    let wanted = sheet.case().want.finish.as_mm();
    let axis = Grades::holding(dots.now.iter().chain(dots.first.iter().flatten()).copied().chain([wanted]));
    let first = dots.first.as_ref().map(|first| {
        let title = sheet.decision.verdict.first.and_then(|first| sheet.appraisal(first));
        let when = title.map_or_else(String::new, |one| format!("With “{}”", one.title));
        plot(sheet, when, first, wanted, axis)
    });
    let roughness = |value: &f64| middle(point(*value), Dimension::Roughness, sheet.units);
    let rows = dots.now.iter().enumerate().map(|(at, now)| {
        let then = dots.first.as_ref().map(|first| roughness(&first[at]));
        [(at + 1).to_string(), roughness(now)].into_iter().chain(then).collect()
    });
    let mut headings = vec!["Machine", "As it is now"];
    if dots.first.is_some() {
        headings.push("With the first step");
    }
    let fine = |values: &[f64]| format!("{} of {DOTS}", within(values, wanted));
    let then = dots.first.as_ref().map_or_else(String::new, |first| format!(", {} with the first step", fine(first)));
    let said = format!("fine enough on {} now{then}", fine(&dots.now));
    let drawing = view! {
        {plot(sheet, "As it is now".to_owned(), &dots.now, wanted, axis)}
        {first}
    };
    let caption = "Each dot is one machine in twenty. Solid: as fine as you want it. Hollow: rougher. Dashed line: what you want.";
    let inside = chart(caption, drawing, Table { headings, rows: rows.collect() });
    folded("dots", "The finish to expect", said, false, inside)
}

/// How many come out as fine as `wanted`.
fn within(values: &[f64], wanted: f64) -> usize {
    values.iter().filter(|&&value| value <= wanted).count()
}

fn plot(sheet: &Sheet, when: String, values: &[f64], wanted: f64, axis: Grades) -> AnyView {
    let within = within(values, wanted);
    let units: UnitSystem = sheet.units;
    let label = move |grade| format(grade, Dimension::Roughness, units);
    view! {
        <p class="dots-said" data-within=within>
            {when} ", "
            {sourced(Figure::Dots, view! { <strong>{within} " of " {DOTS}</strong> })}
            " machines like yours come out at " {label(wanted)} " Ra or finer."
        </p>
        {dot_plot(values, wanted, axis, label)}
    }
    .into_any()
}
