//! A staircase: the best to be had for each amount spent.

use std::fmt::Write;

use crate::app::prelude::*;

const WIDTH: f64 = 480.0;
const HEIGHT: f64 = 300.0;
/// Room for the numbers, and for what stands out at the edges.
const LEFT: f64 = 66.0;
const RIGHT: f64 = 18.0;
const ABOVE: f64 = 20.0;
const BELOW: f64 = 30.0;

/// A step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stair {
    /// What it costs.
    pub cost: f64,
    /// What it brings.
    pub value: f64,
    /// Whether it is worth stopping at; else it is drawn faint.
    pub worth_stopping_at: bool,
}

/// What else is marked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Marks {
    /// Cost and value of the best buy, which may lie below the stairs.
    pub best_buy: (f64, f64),
    /// Value with everything left as it is.
    pub now: f64,
}

/// An axis: its ends, the second to the right or on top, and what to write where.
#[derive(Clone, Debug, PartialEq)]
pub struct Scale {
    /// Ends.
    pub ends: (f64, f64),
    /// Values with their labels.
    pub ticks: Vec<(f64, String)>,
}

impl Scale {
    fn share(&self, value: f64) -> f64 {
        let (low, high) = self.ends;
        ((value - low) / (high - low)).clamp(0.0, 1.0)
    }
}

/// The chart. `chosen` is the number of the step chosen; a tap chooses the one
/// nearest to it. Keys do by what stands below it, so it is hidden from readers.
pub fn stairs_chart(stairs: &[Stair], marks: Marks, cost: &Scale, value: &Scale, chosen: RwSignal<usize>) -> AnyView {
    let (right, floor) = (WIDTH - RIGHT, HEIGHT - BELOW);
    let x = |at: f64| LEFT + (right - LEFT) * cost.share(at);
    let y = |at: f64| floor - (floor - ABOVE) * value.share(at);
    let places: Vec<(f64, f64)> = stairs.iter().map(|stair| (x(stair.cost), y(stair.value))).collect();
    let rows = value.ticks.iter().map(|(at, label)| {
        let y = y(*at);
        view! {
            <path class="stairs-grid" d=format!("M{LEFT} {y:.1}H{right}") />
            <text class="axis-y" x=LEFT - 7.0 y=y + 5.0>{label.clone()}</text>
        }
    });
    let columns = cost.ticks.iter().map(|(at, label)| {
        let x = x(*at);
        let anchor = if x > right - 30.0 { "end" } else { "middle" };
        view! { <text text-anchor=anchor x=x y=HEIGHT - 7.0>{label.clone()}</text> }
    });
    let dots = stairs.iter().zip(places.clone()).map(|(stair, (x, y))| {
        let (class, radius) = if stair.worth_stopping_at { ("stairs-dot", 7.0) } else { ("stairs-dot-faint", 5.0) };
        view! { <circle class=class cx=x cy=y r=radius /> }
    });
    let best = {
        let (x, y) = (x(marks.best_buy.0), y(marks.best_buy.1));
        let (anchor, shift) = if x > 0.5 * WIDTH { ("end", -16.0) } else { ("start", 16.0) };
        view! {
            <path class="stairs-best" d=format!("M{x:.1} {:.1}l9 9l-9 9l-9-9z", y - 9.0) />
            <text class="stairs-name" text-anchor=anchor x=x + shift y=y + 20.0>"best buy"</text>
        }
    };
    let level = y(marks.now);
    let ring = {
        let places = places.clone();
        move || {
            places.get(chosen.get()).map(|&(x, y)| {
                view! {
                    <path class="stairs-drop" d=format!("M{x:.1} {floor}V{:.1}", y + 13.0) />
                    <circle class="stairs-ring" cx=x cy=y r="13" />
                }
            })
        }
    };
    let line = outline(&places, right);
    let svg = NodeRef::<leptos::svg::Svg>::new();
    let tap = move |event: leptos::ev::MouseEvent| {
        let Some(frame) = svg.get().map(|svg| svg.get_bounding_client_rect()) else { return };
        let scale = WIDTH / frame.width();
        let at =
            (scale * (f64::from(event.client_x()) - frame.left()), scale * (f64::from(event.client_y()) - frame.top()));
        let away = |place: &(f64, f64)| (place.0 - at.0).hypot(place.1 - at.1);
        let nearest = (0..places.len()).min_by(|&a, &b| away(&places[a]).total_cmp(&away(&places[b])));
        if let Some(nearest) = nearest {
            chosen.set(nearest);
        }
    };
    view! {
        <svg class="stairs" viewBox=format!("0 0 {WIDTH} {HEIGHT}") aria-hidden="true" node_ref=svg on:click=tap>
            {rows.collect_view()}
            {columns.collect_view()}
            <path class="stairs-axis" d=format!("M{LEFT} {ABOVE}V{floor}H{right}") />
            <path class="stairs-now" d=format!("M{LEFT} {level:.1}H{right}") />
            <text class="stairs-name" text-anchor="end" x=right y=level - 6.0>"as it is now"</text>
            <path class="stairs-line" d=line />
            {ring}
            {dots.collect_view()}
            {best}
        </svg>
    }
    .into_any()
}

/// Level until the next step is paid, then up.
fn outline(places: &[(f64, f64)], right: f64) -> String {
    let mut path = String::new();
    for (at, (x, y)) in places.iter().enumerate() {
        // Writing to a String can't fail.
        _ = if at == 0 { write!(path, "M{x:.1} {y:.1}") } else { write!(path, "H{x:.1}V{y:.1}") };
    }
    _ = write!(path, "H{right}");
    path
}
