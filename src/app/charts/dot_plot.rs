//! A spread as dots to be counted, piled up where they crowd.

use crate::app::prelude::*;

use super::places::{Grades, piles};

const WIDTH: f64 = 480.0;
/// Room on either side of the axis.
const SIDE: f64 = 34.0;
/// So many gaps between labels leave room for the longest, in the largest
/// letters: those at the ends reach inwards.
const GAPS: usize = 3;
const BELOW: f64 = 28.0;
const DOT: f64 = 16.0;

/// The plot: dots up to `wanted` solid, those beyond hollow. The text beside it
/// says the same.
pub fn dot_plot(values: &[f64], wanted: f64, axis: Grades, label: impl Fn(f64) -> String) -> AnyView {
    let x = |value: f64| SIDE + (WIDTH - 2.0 * SIDE) * axis.share(value);
    let places: Vec<f64> = values.iter().map(|&value| x(value)).collect();
    let piled = piles(&places, DOT);
    let highest = piled.iter().map(|place| place.1 + 1).max().unwrap_or(1);
    let floor = DOT * (highest.max(4) as f64 + 0.5);
    let height = floor + BELOW;
    let dots = values.iter().zip(piled).map(|(&value, (x, below))| {
        let class = if value <= wanted { "dot-within" } else { "dot-beyond" };
        view! { <circle class=class cx=x cy=floor - DOT * (below as f64 + 0.5) r=0.5 * DOT - 2.0 /> }
    });
    let grades = axis.shown();
    let last = grades.len() - 1;
    let every = last.div_ceil(GAPS);
    let ticks = grades.iter().enumerate().map(|(at, &grade)| {
        let x = x(grade);
        let (anchor, place) = match at {
            0 => ("start", x - 0.8 * SIDE),
            _ if at == last => ("end", x + 0.8 * SIDE),
            _ => ("middle", x),
        };
        let named = (last - at).is_multiple_of(every);
        view! {
            <path d=format!("M{x:.1} {floor}v5") />
            {named.then(|| view! { <text text-anchor=anchor x=place y=height - 5.0>{label(grade)}</text> })}
        }
    });
    let line = x(wanted);
    view! {
        <svg class="dots" viewBox=format!("0 0 {WIDTH} {height}") aria-hidden="true">
            <path class="dots-wanted" d=format!("M{line:.1} 0V{floor}") />
            <path d=format!("M{} {floor}H{}", SIDE - DOT, WIDTH - SIDE + DOT) />
            {ticks.collect_view()}
            {dots.collect_view()}
        </svg>
    }
    .into_any()
}
