//! Depth without chatter against spindle speed.

use std::fmt::Write;

use crate::app::prelude::*;
use spindlewise_engine::decision::{SpeedPoint, Speeds};
use spindlewise_engine::order;

use super::hatch::SLANTED;
use super::scale::round_above;

const WIDTH: f64 = 480.0;
const HEIGHT: f64 = 318.0;
/// Room for the numbers and the names of the axes.
const LEFT: f64 = 92.0;
const ABOVE: f64 = 34.0;
const BELOW: f64 = 56.0;
/// Where the speeds stand.
const FLOOR: f64 = HEIGHT - BELOW;

/// Axes of the chart: even ratios of speed, even steps of depth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpeedAxes {
    slowest: f64,
    fastest: f64,
    /// Deepest cut shown, mm.
    pub deepest: f64,
}

impl SpeedAxes {
    /// For `speeds`: three times the depth wanted, and most of the limits, to a
    /// round number of units of `unit` mm.
    pub fn of(speeds: &Speeds, unit: f64) -> Self {
        let all = speeds.points.iter().chain([&speeds.present]);
        let (slowest, fastest) =
            all.clone().fold((f64::INFINITY, 0.0_f64), |(low, high), at| (low.min(at.speed), high.max(at.speed)));
        let mut limits: Vec<f64> = all.map(|at| at.limit.mid).collect();
        order::ascending(&mut limits);
        let usual = limits[limits.len() * 9 / 10];
        let deepest = (3.0 * speeds.depth).max(1.6 * usual).min(12.0 * speeds.depth);
        let deepest = unit * round_above(deepest / unit);
        // A lone speed still needs an axis.
        let (slowest, fastest) =
            if fastest > 1.05 * slowest { (slowest, fastest) } else { (0.8 * slowest, 1.25 * fastest) };
        SpeedAxes { slowest, fastest, deepest }
    }

    fn x(self, speed: f64) -> f64 {
        let share = (speed / self.slowest).ln() / (self.fastest / self.slowest).ln();
        LEFT + (WIDTH - LEFT) * share.clamp(0.0, 1.0)
    }

    fn y(self, depth: f64) -> f64 {
        FLOOR - (FLOOR - ABOVE) * (depth / self.deepest).clamp(0.0, 1.0)
    }

    /// Round speeds to label.
    fn speeds(self) -> Vec<f64> {
        let decade = 10_f64.powf(self.slowest.log10().floor());
        let round = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0].map(|step| step * decade);
        round.into_iter().filter(|speed| (self.slowest..=self.fastest).contains(speed)).collect()
    }
}

/// The chart. `exact` holds speeds and limits worked out exactly so far.
pub fn speed_chart(
    speeds: &Speeds,
    axes: SpeedAxes,
    exact: Signal<Vec<(f64, f64)>>,
    label: impl Fn(f64) -> String,
) -> AnyView {
    let limits = if speeds.steps { steps(&speeds.points, axes) } else { band(&speeds.points, axes) };
    let depth = axes.y(speeds.depth);
    let now = axes.x(speeds.present.speed);
    let rows = [0.0, 0.5, 1.0].map(|share| {
        let at = share * axes.deepest;
        view! { <text class="axis-y" x=LEFT - 6.0 y=axes.y(at) + 5.0>{label(at)}</text> }
    });
    let columns = axes.speeds().into_iter().map(|speed| {
        let x = axes.x(speed);
        let anchor = if x > WIDTH - 24.0 { "end" } else { "middle" };
        view! {
            <path class="speed-grid" d=format!("M{x:.1} {ABOVE}V{FLOOR}") />
            <text class="axis-x" text-anchor=anchor x=x y=FLOOR + 20.0>{format!("{speed:.0}")}</text>
        }
    });
    let better = speeds.better.map(|better| {
        let (x, y) = (axes.x(better.point.speed), depth);
        view! { <path class="speed-better" d=format!("M{x:.1} {:.1}l9 16h-18z", y + 6.0) /> }
    });
    let beyond = (speeds.advised < axes.fastest).then(|| {
        let x = axes.x(speeds.advised);
        view! { <rect class="speed-beyond" x=x y=ABOVE width=WIDTH - x height=FLOOR - ABOVE fill=SLANTED /> }
    });
    view! {
        <svg class="speed-chart" viewBox=format!("0 0 {WIDTH} {HEIGHT}") aria-hidden="true">
            <text y="18">"Depth without chatter"</text>
            <text text-anchor="end" x=WIDTH y=HEIGHT - 6.0>"Spindle speed, rpm"</text>
            {columns.collect_view()}
            {rows.collect_view()}
            {limits}
            {beyond}
            <path class="speed-exact" d=move || exact.with(|points| line(points, axes)) />
            <path class="speed-depth" d=format!("M{LEFT} {depth:.1}H{WIDTH}") />
            <path class="speed-now" d=format!("M{now:.1} {ABOVE}V{FLOOR}") />
            <circle class="speed-point" cx=now cy=depth r="7" />
            {better}
            <path class="speed-axis" d=format!("M{LEFT} {ABOVE}V{FLOOR}H{WIDTH}") />
        </svg>
    }
    .into_any()
}

/// The range of the machines as a band, their middle as a line.
fn band(points: &[SpeedPoint], axes: SpeedAxes) -> AnyView {
    let mut outline = String::new();
    let (there, back) = (points.iter().map(|at| (at.speed, at.limit.high)), points.iter().rev());
    for (at, (speed, depth)) in there.chain(back.map(|at| (at.speed, at.limit.low))).enumerate() {
        // Writing to a String can't fail.
        _ = write!(outline, "{}{:.1} {:.1}", if at == 0 { 'M' } else { 'L' }, axes.x(speed), axes.y(depth));
    }
    let middle: Vec<(f64, f64)> = points.iter().map(|at| (at.speed, at.limit.mid)).collect();
    view! {
        <path class="speed-band" d=outline />
        <path class="speed-middle" d=line(&middle, axes) />
    }
    .into_any()
}

/// A bar with its middle for each step of the drive.
fn steps(points: &[SpeedPoint], axes: SpeedAxes) -> AnyView {
    let bar = |at: &SpeedPoint| {
        let (x, low, mid, high) = (axes.x(at.speed), axes.y(at.limit.low), axes.y(at.limit.mid), axes.y(at.limit.high));
        view! {
            <path class="speed-bar" d=format!("M{x:.1} {low:.1}V{high:.1}") />
            <circle class="speed-middle-dot" cx=x cy=mid r="5" />
        }
    };
    points.iter().map(bar).collect_view().into_any()
}

fn line(points: &[(f64, f64)], axes: SpeedAxes) -> String {
    let mut path = String::new();
    for (at, &(speed, depth)) in points.iter().enumerate() {
        _ = write!(path, "{}{:.1} {:.1}", if at == 0 { 'M' } else { 'L' }, axes.x(speed), axes.y(depth));
    }
    path
}
