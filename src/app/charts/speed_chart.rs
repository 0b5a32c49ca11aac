//! Depth without chatter against spindle speed.

use std::fmt::Write;

use crate::app::prelude::*;
use spindlewise_engine::decision::{SpeedPoint, Speeds};

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
    /// For `speeds`: as deep as the depth wanted and the band where it may be run,
    /// and a little more, to a round number of units of `unit` mm.
    pub fn of(speeds: &Speeds, unit: f64) -> Self {
        /// Room above what is drawn.
        const ROOM: f64 = 1.2;
        let all = speeds.points.iter().chain([&speeds.present]);
        let (slowest, fastest) =
            all.clone().fold((f64::INFINITY, 0.0_f64), |(low, high), at| (low.min(at.speed), high.max(at.speed)));
        let usual = all.filter(|at| !at.too_fast || at.speed == speeds.present.speed);
        let deepest = ROOM * usual.fold(speeds.depth, |most, at| most.max(at.limit.high));
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

/// The chart. `exact` holds speeds and limits of the machine in the middle worked
/// out exactly, as far as that was asked for.
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
            {names(speeds, axes)}
        </svg>
    }
    .into_any()
}

/// What the lines are, written on them.
fn names(speeds: &Speeds, axes: SpeedAxes) -> AnyView {
    let now = axes.x(speeds.present.speed);
    // To whichever side of the line has room.
    let (x, anchor) = if now > 0.5 * (LEFT + WIDTH) { (now - 8.0, "end") } else { (now + 8.0, "start") };
    let middle = speeds.points.first().map_or(FLOOR, |at| axes.y(at.limit.mid));
    let beside = if speeds.steps { 12.0 } else { 6.0 };
    view! {
        <text class="speed-name" text-anchor=anchor x=x y=ABOVE + 14.0>"your speed"</text>
        <text class="speed-name" text-anchor="end" x=WIDTH - 4.0 y=axes.y(speeds.depth) - 7.0>"your depth"</text>
        <text class="speed-name" x=LEFT + beside y=middle - 7.0>"middle machine"</text>
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

/// A line, broken where it leaves the chart.
fn line(points: &[(f64, f64)], axes: SpeedAxes) -> String {
    let mut path = String::new();
    let mut drawing = false;
    for &(speed, depth) in points {
        let inside = depth <= axes.deepest;
        if inside {
            _ = write!(path, "{}{:.1} {:.1}", if drawing { 'L' } else { 'M' }, axes.x(speed), axes.y(depth));
        }
        drawing = inside;
    }
    path
}

#[cfg(test)]
mod tests {
    use super::*;
    use spindlewise_engine::decision::Fit;
    use spindlewise_engine::scenario::demo;

    /// All that is told fits, and fills most of the chart: it is a fifth deeper, and
    /// what rounding to a third adds.
    #[test]
    fn the_axis_is_as_deep_as_what_is_drawn() {
        let speeds = Speeds::new(&Fit::with(&demo().resolve().case, 64));
        let usual = speeds.points.iter().filter(|at| !at.too_fast).chain([&speeds.present]);
        let deepest = usual.map(|at| at.limit.high).fold(speeds.depth, f64::max);
        for unit in [1.0, 25.4] {
            let axes = SpeedAxes::of(&speeds, unit);
            let filled = deepest / axes.deepest;
            assert!((0.62..0.84).contains(&filled), "{filled}");
        }
    }

    #[test]
    fn a_line_is_broken_where_it_leaves_the_chart() {
        let axes = SpeedAxes { slowest: 100.0, fastest: 1000.0, deepest: 1.0 };
        let path = line(&[(100.0, 0.5), (200.0, 0.6), (300.0, 2.0), (400.0, f64::INFINITY), (500.0, 0.5)], axes);
        assert_eq!((path.matches('M').count(), path.matches('L').count()), (2, 1), "{path}");
    }
}
