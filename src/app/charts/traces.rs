//! Lines over time, one above the other on the same scale.

use std::fmt::Write;

use crate::app::prelude::*;

use super::figure::axis_names;

const WIDTH: f64 = 1000.0;
const HEIGHT: f64 = 160.0;

/// A line over time.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// What it shows.
    pub name: String,
    /// Values at even times.
    pub values: Vec<f64>,
}

/// Draws movements over `marks` turns of the spindle, as far out as the furthest
/// value of all but no further than `most`; `label` words how far.
pub fn traces(lines: Vec<Line>, marks: usize, most: f64, label: impl Fn(f64) -> String) -> AnyView {
    let reach =
        lines.iter().flat_map(|line| &line.values).fold(1e-6_f64, |reach, value| reach.max(value.abs())).min(most);
    let reach_label = label(reach);
    let rows = lines.into_iter().map(|line| row(line.name, &[line.values], marks, reach, &reach_label)).collect_view();
    view! {
        <div class="traces">
            {rows}
            {axis_names(&format!("Movement, ± {reach_label}"), &format!("Time, {marks} turns of the spindle"))}
        </div>
    }
    .into_any()
}

/// Two movements over each other, as far out as either goes; the second is dashed.
pub fn overlaid(name: String, both: [Vec<f64>; 2], marks: usize, label: impl Fn(f64) -> String) -> AnyView {
    let reach = both.iter().flatten().fold(1e-6_f64, |reach, value| reach.max(value.abs()));
    let reach_label = label(reach);
    view! {
        <div class="traces">
            {row(name, &both, marks, reach, &reach_label)}
            {axis_names(&format!("Movement, ± {reach_label}"), &format!("Time, {marks} turns of the spindle"))}
        </div>
    }
    .into_any()
}

fn row(name: String, lines: &[Vec<f64>], marks: usize, reach: f64, reach_label: &str) -> AnyView {
    let grid: String = (1..marks).fold(String::new(), |mut path, mark| {
        let x = WIDTH * mark as f64 / marks as f64;
        // Writing to a String can't fail.
        _ = write!(path, "M{x:.1} 0V{HEIGHT}");
        path
    });
    let drawn = lines.iter().map(|values| view! { <path class="trace-line" d=path(values, reach) /> }).collect_view();
    view! {
        <div class="trace">
            <p class="trace-name">{name}</p>
            <svg viewBox=format!("0 0 {WIDTH} {HEIGHT}") preserveAspectRatio="none" aria-hidden="true">
                <path class="trace-grid" d=grid />
                <path class="trace-zero" d=format!("M0 {}H{WIDTH}", HEIGHT / 2.0) />
                {drawn}
            </svg>
            <p class="trace-reach" aria-hidden="true"><span>"+" {reach_label.to_owned()}</span> <span>"−" {reach_label.to_owned()}</span></p>
        </div>
    }
    .into_any()
}

/// Enough points to show every swing: the highest and lowest of each stretch.
fn path(values: &[f64], reach: f64) -> String {
    const STRETCHES: usize = 700;
    let stretch = values.len().div_ceil(STRETCHES).max(1);
    let y = |value: f64| HEIGHT / 2.0 * (1.0 - (value / reach).clamp(-1.0, 1.0));
    let mut path = String::new();
    for (at, part) in values.chunks(stretch).enumerate() {
        let x = WIDTH * (at * stretch) as f64 / values.len() as f64;
        let (low, high) =
            part.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), &v| (low.min(v), high.max(v)));
        let letter = if at == 0 { 'M' } else { 'L' };
        _ = write!(path, "{letter}{x:.1} {:.1}", y(high));
        if stretch > 1 {
            _ = write!(path, "V{:.1}", y(low));
        }
    }
    path
}
