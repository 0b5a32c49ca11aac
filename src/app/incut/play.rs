//! Play moves only when the force turns: shown on this very spindle.

use std::sync::Arc;

use crate::app::prelude::*;
use spindlewise_engine::mechanics::demonstration::{PlayAndSwing, Shown};
use spindlewise_engine::quantity::{Dimension, UnitSystem, format};

use super::middle::Middle;
use super::motion::last_turns;
use super::page::simulated;
use crate::app::charts::{Line, Table, chart, traces};
use crate::app::later::later;
use crate::app::state::workbench;

/// Turns of the spindle drawn.
const TURNS: usize = 3;

/// The section.
pub fn section(middle: RwSignal<Option<Arc<Middle>>>) -> AnyView {
    let bench = workbench();
    let shown = later("play", move || middle.get(), |middle: &Arc<Middle>| middle.machine.play_and_swing());
    let drawn = move || simulated(shown, |both| draw(both, bench.units()));
    view! {
        <section aria-labelledby="play">
            <h2 id="play">"What play does, and when"</h2>
            <p class="lead">
                "The same spindle with the same play under two loads of the same size. One keeps its direction and holds the spindle against one side; the other turns and throws it across. An indicator shows the same play for both."
            </p>
            {drawn}
        </section>
    }
    .into_any()
}

fn draw(PlayAndSwing { steady, turning }: &PlayAndSwing, units: UnitSystem) -> AnyView {
    let cases = [("A load that keeps its direction", steady), ("A load that turns", turning)];
    let lines: Vec<Line> =
        cases.iter().map(|(name, shown)| Line { name: (*name).into(), values: sideways(shown) }).collect();
    /// Less than any indicator shows, mm.
    const NOTHING: f64 = 1e-4;
    let fine = |value: f64| format(value, Dimension::FineLength, units);
    let moved = |value: f64| if value < NOTHING { "nothing to speak of".to_owned() } else { fine(value) };
    let force = |value| format(value, Dimension::Force, units);
    let table = Table {
        headings: vec!["Load", "Its peak", "Movement of the spindle, end to end"],
        rows: cases
            .iter()
            .map(|(name, shown)| {
                let travel = shown.trace.spindle_travel;
                vec![(*name).to_owned(), force(shown.swing.peak), moved(travel[0].max(travel[1]))]
            })
            .collect(),
    };
    let caption = format!("Sideways movement of the spindle over {TURNS} turns, both on one scale.");
    chart(caption, traces(lines, TURNS, fine), table)
}

/// The direction in which it moves more, about its middle.
fn sideways(shown: &Shown) -> Vec<f64> {
    let trace = &shown.trace;
    let axis = usize::from(trace.spindle_travel[1] > trace.spindle_travel[0]);
    last_turns(trace, axis, TURNS)
}
