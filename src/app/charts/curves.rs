//! Shares against an amount, each curve with its own dashes and its number at its
//! end.

use std::fmt::Write;

use crate::app::prelude::*;

use super::places::apart;

const WIDTH: f64 = 480.0;
const HEIGHT: f64 = 300.0;
/// Room for the numbers on either side.
const LEFT: f64 = 44.0;
const RIGHT: f64 = 46.0;
const ABOVE: f64 = 26.0;
const BELOW: f64 = 30.0;

/// As many curves are told apart by their dashes.
pub const DASHES: usize = 4;

/// A curve.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    /// What stands at its end and in the list below.
    pub name: String,
    /// Shares, 0 to 1, at equal steps from nothing to the end of the axis.
    pub shares: Vec<f64>,
    /// Whether it is grey: one for all that matter little.
    pub faint: bool,
}

/// The chart: amounts from nothing to `end`, with those to label, and `own`
/// marked. The list beside it says the same.
pub fn curves_chart(curves: &[Curve], end: f64, ticks: &[(f64, String)], own: (f64, &str)) -> AnyView {
    let (right, floor) = (WIDTH - RIGHT, HEIGHT - BELOW);
    let x = |amount: f64| LEFT + (right - LEFT) * (amount / end).clamp(0.0, 1.0);
    let y = |share: f64| floor - (floor - ABOVE) * share.clamp(0.0, 1.0);
    let rows = [0.0, 0.5, 1.0].map(|share| {
        let y = y(share);
        view! {
            <path class="stairs-grid" d=format!("M{LEFT} {y:.1}H{right}") />
            <text class="axis-y" x=LEFT - 7.0 y=y + 5.0>{100.0 * share}</text>
        }
    });
    let columns = ticks.iter().map(|(amount, label)| {
        view! { <text text-anchor="middle" x=x(*amount) y=HEIGHT - 7.0>{label.clone()}</text> }
    });
    let lines = curves.iter().enumerate().map(|(at, curve)| {
        let last = (curve.shares.len().max(2) - 1) as f64;
        let mut path = String::new();
        for (step, share) in curve.shares.iter().enumerate() {
            let (x, y) = (x(end * step as f64 / last), y(*share));
            // Writing to a String can't fail.
            _ = write!(path, "{}{x:.1} {y:.1}", if step == 0 { 'M' } else { 'L' });
        }
        view! { <path class=dashes(at, curve.faint) d=path /> }
    });
    let ends: Vec<f64> = curves.iter().map(|curve| y(curve.shares.last().copied().unwrap_or_default())).collect();
    let names = curves.iter().zip(&ends).zip(apart(&ends, 20.0, floor)).map(|((curve, end), y)| {
        view! {
            <path class="curve-leader" d=format!("M{} {end:.1}L{} {y:.1}", right + 2.0, right + 20.0) />
            <text class="curve-name" x=right + 24.0 y=y + 5.5>{curve.name.clone()}</text>
        }
    });
    let at = x(own.0);
    view! {
        <svg class="stairs" viewBox=format!("0 0 {WIDTH} {HEIGHT}") aria-hidden="true">
            {rows.into_iter().collect_view()}
            {columns.collect_view()}
            <path class="curve-own" d=format!("M{at:.1} {ABOVE}V{floor}") />
            <text class="curve-own-name" text-anchor="middle" x=at y=ABOVE - 8.0>{own.1.to_owned()}</text>
            <path class="stairs-axis" d=format!("M{LEFT} {ABOVE}V{floor}H{right}") />
            {lines.collect_view()}
            {names.collect_view()}
        </svg>
    }
    .into_any()
}

/// The class of a curve, by which it has its dashes.
fn dashes(curve: usize, faint: bool) -> String {
    if faint { "curve curve-faint".to_owned() } else { format!("curve curve-{curve}") }
}

/// A piece of a curve, for the list beside the chart.
pub fn curve_key(curve: usize, faint: bool) -> AnyView {
    view! {
        <svg class="curve-key" viewBox="0 0 60 12" aria-hidden="true"><path class=dashes(curve, faint) d="M0 6H60" /></svg>
    }
    .into_any()
}
