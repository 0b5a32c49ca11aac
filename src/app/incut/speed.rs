//! How fast to turn.

use std::sync::Arc;

use crate::app::prelude::*;
use spindlewise_engine::decision::{Figure, SpeedPoint, Speeds};
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

/// The section.
pub fn section(middle: RwSignal<Option<Arc<Middle>>>) -> AnyView {
    let bench = workbench();
    let speeds =
        later("speeds", move || middle.get(), |middle: &Arc<Middle>| (Arc::clone(middle), Speeds::new(&middle.fit)));
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
    let exact = Exact::start(looked, speeds, axes.deepest);
    let table = Table {
        headings: vec!["Speed", "Deepest cut without chatter", "Chatters at your depth"],
        rows: rows(speeds).into_iter().map(|point| row(point, speeds, units)).collect(),
    };
    let better = if speeds.better.is_some() { " Triangle: the better speed." } else { "" };
    let caption = format!(
        "Band: eight in ten machines like yours; half of them lie above the line in it. Thin line: worked out exactly for the machine in the middle. Level line: your depth; upright line and dot: your speed.{better} Hatched: faster than is usual for this edge or machine."
    );
    view! {
        <p class="lead" id="speed-better">{speeds.better_sentence(units)}</p>
        {chart(caption, speed_chart(speeds, axes, exact.points(), length), table)}
        {exact.progress()}
        <dl class="facts">
            <div>
                <dt>"Deepest cut without chatter at " {rpm(speeds.present.speed)}</dt>
                <dd>{spread(Figure::DepthLimit, speeds.present.limit, Dimension::Length, units)}</dd>
            </div>
            <div>
                <dt>"Chatters at your depth"</dt>
                <dd>{sourced(Figure::Chatter, count(1.0 - speeds.present.quiet))}</dd>
            </div>
            <div>
                <dt>"Exact, machine in the middle"</dt>
                <dd>{sourced(Figure::ExactLimit, exact_now(looked, speeds, units))}</dd>
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

/// The exact limit at the present speed.
fn exact_now(looked: &Middle, speeds: &Speeds, units: UnitSystem) -> String {
    let deepest = 12.0 * speeds.depth;
    let mut chart = looked.machine.chart(Bearings::AsTheyAre, vec![speeds.present.speed], deepest);
    chart.advance(1);
    match chart.columns().first().and_then(|column| column.first_limit()) {
        Some(limit) => format_estimate(limit.depth, Dimension::Length, units),
        None => format!("beyond {}", format(deepest, Dimension::Length, units)),
    }
}

/// The exact curve while it grows.
#[derive(Clone, Copy)]
struct Exact {
    chart: StoredValue<ChartBuilder>,
    /// Columns done, of how many.
    done: RwSignal<(usize, usize)>,
    stopped: RwSignal<bool>,
    turn: Turn,
}

impl Exact {
    fn start(looked: &Middle, speeds: &Speeds, deepest: f64) -> Self {
        let ends =
            [speeds.points.first(), speeds.points.last()].map(|at| at.map_or(speeds.present.speed, |at| at.speed));
        let [slow, fast] = ends;
        let all = (0..EXACT_POINTS).map(|i| slow * (fast / slow).powf(i as f64 / (EXACT_POINTS - 1) as f64)).collect();
        let chart = looked.machine.chart(Bearings::AsTheyAre, all, deepest);
        let exact = Exact {
            done: RwSignal::new(chart.progress()),
            chart: StoredValue::new(chart),
            stopped: RwSignal::new(false),
            turn: Turn::new(),
        };
        exact.go_on();
        exact
    }

    /// Works for a moment, lets the page paint, and goes on.
    fn go_on(self) {
        self.turn.after_paint(move || {
            let start = now();
            let progress = self.chart.try_update_value(|chart| {
                timed("exact chart", || while chart.advance(1) && now() - start < PIECE {});
                chart.progress()
            });
            // Nothing if the page was left.
            if let Some((done, all)) = progress {
                self.done.set((done, all));
                if done < all {
                    self.go_on();
                }
            }
        });
    }

    /// Speeds (rpm) and limits (mm) so far; without a limit, the deepest shown.
    fn points(self) -> Signal<Vec<(f64, f64)>> {
        Signal::derive(move || {
            self.done.track();
            self.chart.with_value(|chart| {
                let deepest = chart.grid().deepest;
                let limit = |column: &Column| (column.speed, column.first_limit().map_or(deepest, |limit| limit.depth));
                chart.columns().iter().map(limit).collect()
            })
        })
    }

    fn progress(self) -> AnyView {
        let busy = move || {
            let (done, all) = self.done.get();
            done < all && !self.stopped.get()
        };
        let stop = move |_| {
            self.turn.stop();
            self.stopped.set(true);
        };
        let resume = move |_| {
            self.stopped.set(false);
            self.go_on();
        };
        view! {
            <div class="exact">
                {move || busy().then(|| view! {
                    <label>
                        "Working out the exact curve "
                        <progress max=move || self.done.get().1.to_string() value=move || self.done.get().0.to_string()></progress>
                    </label>
                    <button type="button" class="button" on:click=stop>"Stop"</button>
                })}
                {move || self.stopped.get().then(|| view! {
                    <span>"The exact curve was stopped."</span>
                    <button type="button" class="button" on:click=resume>"Go on"</button>
                })}
            </div>
        }
        .into_any()
    }
}
