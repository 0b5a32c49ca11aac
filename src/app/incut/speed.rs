//! How fast to turn.

use std::sync::Arc;

use crate::app::prelude::*;
use spindlewise_engine::decision::{Figure, SpeedPoint, Speeds, held};
use spindlewise_engine::mechanics::Bearings;
use spindlewise_engine::mechanics::lobes::{ChartBuilder, Column};
use spindlewise_engine::quantity::{Dimension, UnitSystem, format, format_along, format_estimate};

use super::middle::Middle;
use super::page::waiting;
use crate::app::answer::words::{count, range};
use crate::app::answer::{sourced, spread};
use crate::app::charts::{SpeedAxes, Table, chart, speed_chart};
use crate::app::later::{Turn, later, timed};
use crate::app::state::{now, workbench};

/// Speeds at which the exact limit is worked out.
const EXACT_POINTS: usize = 200;

/// Longest piece of it at a time, ms: the page stays alive between.
const PIECE: f64 = 24.0;

/// The speeds of the drive, and the machines they were tried on.
type Tried = (Arc<Middle>, Speeds);

/// Every speed of the drive.
pub fn speeds(middle: Signal<Option<Arc<Middle>>>) -> RwSignal<Option<Arc<Tried>>> {
    later("speeds", move || middle.get(), |middle: &Arc<Middle>| (Arc::clone(middle), Speeds::new(&middle.fit)))
}

/// The section.
pub fn section(speeds: RwSignal<Option<Arc<Tried>>>) -> AnyView {
    let bench = workbench();
    let shown = move || match speeds.get().as_deref() {
        None => waiting(),
        Some((middle, speeds)) => draw(middle, speeds, bench.units()),
    };
    view! {
        <section aria-labelledby="speed">
            <h2 id="speed">"How fast to turn it"</h2>
            {shown}
        </section>
    }
    .into_any()
}

fn draw(looked: &Middle, speeds: &Speeds, units: UnitSystem) -> AnyView {
    let rpm = |speed| format(speed, Dimension::Rotation, units);
    let axes = SpeedAxes::of(speeds, Dimension::Length.default_unit(units).factor);
    let length = |depth| format_along(depth, axes.deepest, Dimension::Length, units);
    let exact = Exact::new(looked, speeds, axes.deepest);
    let now = speeds.present.speed;
    let table = Table {
        headings: vec!["Speed", "Deepest cut without chatter", "Chatters at your depth"],
        rows: rows(speeds).into_iter().map(|point| row(point, speeds, units)).collect(),
    };
    let better = if speeds.better.is_some() { " Triangle: the better speed." } else { "" };
    let beyond = if speeds.points.iter().any(|at| at.speed > speeds.advised) {
        " Hatched: faster than is usual for this edge or machine."
    } else {
        ""
    };
    let caption = format!("Band: eight in ten machines like yours.{better}{beyond}");
    view! {
        <p class="lead" id="speed-better">{speeds.better_sentence(units)}</p>
        {chart(caption, speed_chart(speeds, axes, exact.points(), length), table)}
        {exact.switch(now, units)}
        <dl class="facts">
            <div>
                <dt>"Deepest cut without chatter at " {rpm(speeds.present.speed)}</dt>
                <dd>{spread(Figure::DepthLimit, speeds.present.limit, Dimension::Length, units)}</dd>
            </div>
            <div>
                <dt>"Chatters at your depth"</dt>
                <dd>{sourced(Figure::Chatter, count(1.0 - speeds.present.quiet))}</dd>
            </div>
        </dl>
        <ul class="plain-list">
            <li>{speeds.slower_sentence(units)}</li>
            <li>{speeds.faster_sentence(units)}</li>
        </ul>
        <details class="more">
            <summary>"How rubbing is counted"</summary>
            <div class="inside"><p>{Speeds::ON_RUBBING}</p></div>
        </details>
    }
    .into_any()
}

/// Speeds to list: the present one and sixteen others, or every step.
fn rows(speeds: &Speeds) -> Vec<SpeedPoint> {
    let stride = if speeds.steps { 1 } else { speeds.points.len().div_ceil(16).max(1) };
    let now = speeds.present.speed;
    let mut rows: Vec<SpeedPoint> =
        speeds.points.iter().step_by(stride).filter(|at| at.speed != now).copied().collect();
    rows.insert(rows.partition_point(|at| at.speed < now), speeds.present);
    rows
}

fn row(at: SpeedPoint, speeds: &Speeds, units: UnitSystem) -> Vec<String> {
    let remark = match at {
        _ if at.speed == speeds.present.speed => ", now",
        _ if at.too_fast => ", faster than usual",
        _ => "",
    };
    let speed = format(at.speed, Dimension::Rotation, units) + remark;
    vec![speed, range(at.limit, Dimension::Length, units), count(1.0 - at.quiet)]
}

/// How far the exact curve is.
#[derive(Clone, Copy, PartialEq)]
enum Stage {
    /// Nobody asked for it.
    Unasked,
    Busy,
    Stopped,
    Done,
}

/// The exact curve while it grows: it takes long, and the band says what counts, so
/// it is worked out when it is asked for.
#[derive(Clone, Copy)]
struct Exact {
    chart: StoredValue<ChartBuilder>,
    /// Columns done, of how many.
    done: RwSignal<(usize, usize)>,
    stage: RwSignal<Stage>,
    turn: Turn,
}

impl Exact {
    fn new(looked: &Middle, speeds: &Speeds, deepest: f64) -> Self {
        let now = speeds.present.speed;
        let [slow, last] = [speeds.points.first(), speeds.points.last()].map(|at| at.map_or(now, |at| at.speed));
        // No further than anybody is advised to go.
        let fast = last.min(speeds.advised.max(1.06 * now)).max(now);
        let all = (0..EXACT_POINTS).map(|i| slow * (fast / slow).powf(i as f64 / (EXACT_POINTS - 1) as f64)).collect();
        let chart = looked.machine.chart(Bearings::AsTheyAre, all, deepest);
        Exact {
            done: RwSignal::new(chart.progress()),
            chart: StoredValue::new(chart),
            stage: RwSignal::new(Stage::Unasked),
            turn: Turn::new(),
        }
    }

    /// Works for a moment, lets the page paint, and goes on.
    fn go_on(self) {
        self.stage.set(Stage::Busy);
        self.turn.after_paint(move || {
            let start = now();
            let progress = self.chart.try_update_value(|chart| {
                timed("exact chart", || while chart.advance(1) && now() - start < PIECE {});
                chart.progress()
            });
            // Nothing if the page was left.
            if let Some((done, all)) = progress {
                self.done.set((done, all));
                match done < all {
                    true => self.go_on(),
                    false => self.stage.set(Stage::Done),
                }
            }
        });
    }

    /// Speeds (rpm) and limits (mm) that can be held, so far.
    fn limits(self) -> Vec<(f64, f64)> {
        let limit = |column: &Column| (column.speed, column.first_limit().map_or(f64::INFINITY, |limit| limit.depth));
        self.chart.with_value(|chart| held(&chart.columns().iter().map(limit).collect::<Vec<_>>()))
    }

    fn points(self) -> Signal<Vec<(f64, f64)>> {
        Signal::derive(move || {
            self.done.track();
            self.limits()
        })
    }

    /// What it comes to at `speed`.
    fn said(self, speed: f64, units: UnitSystem) -> AnyView {
        let away = |at: &(f64, f64)| (at.0 / speed).ln().abs();
        let limits = self.limits();
        let nearest = limits.iter().min_by(|a, b| away(a).total_cmp(&away(b)));
        let depth = match nearest {
            Some((_, depth)) if depth.is_finite() => format_estimate(*depth, Dimension::Length, units),
            _ => format!(
                "beyond {}",
                format(self.chart.with_value(|chart| chart.grid().deepest), Dimension::Length, units)
            ),
        };
        view! {
            <p id="exact-limit">
                "Thin line: the machine in the middle, worked out exactly, rubbing counted as at this speed. At " {format(speed, Dimension::Rotation, units)} " it chatters from "
                {sourced(Figure::ExactLimit, depth)} " on."
            </p>
        }
        .into_any()
    }

    fn switch(self, speed: f64, units: UnitSystem) -> AnyView {
        let stop = move |_| {
            self.turn.stop();
            self.stage.set(Stage::Stopped);
        };
        let button = move |label: &'static str| {
            view! { <button type="button" class="button" on:click=move |_| self.go_on()>{label}</button> }
        };
        let shown = move || {
            match self.stage.get() {
            Stage::Unasked => button("Work the middle machine out exactly").into_any(),
            Stage::Busy => view! {
                <label>
                    "Working out the exact curve "
                    <progress max=move || self.done.get().1.to_string() value=move || self.done.get().0.to_string()></progress>
                </label>
                <button type="button" class="button" on:click=stop>"Stop"</button>
            }
            .into_any(),
            Stage::Stopped => view! { <span>"The exact curve was stopped."</span> {button("Go on")} }.into_any(),
            Stage::Done => self.said(speed, units),
        }
        };
        view! { <div class="exact">{shown}</div> }.into_any()
    }
}
