//! Play moves only when the force turns: shown on this very spindle, with its play
//! and without.

use std::sync::Arc;

use crate::app::prelude::*;
use spindlewise_engine::mechanics::demonstration::PlayAndSwing;
use spindlewise_engine::quantity::{Dimension, UnitSystem, format_estimate};

use super::middle::Middle;
use super::motion::last_turns;
use super::page::simulated;
use crate::app::charts::{Table, chart, overlaid};
use crate::app::later::later;
use crate::app::state::workbench;

/// Turns of the spindle drawn.
const TURNS: usize = 2;

/// The section.
pub fn section(middle: Signal<Option<Arc<Middle>>>) -> AnyView {
    let bench = workbench();
    let shown = later("play", move || middle.get(), |middle: &Arc<Middle>| middle.machine.play_and_swing());
    let drawn = move || simulated(shown, |both| draw(both, bench.units()));
    view! {
        <section aria-labelledby="play">
            <h2 id="play">"What play does, and when"</h2>
            <p class="lead">
                "Play is crossed only when the force turns. Here is your spindle under a load as large as the peak of your cut, turned slowly so that nothing rings."
            </p>
            {drawn}
        </section>
    }
    .into_any()
}

fn draw(shown: &PlayAndSwing, units: UnitSystem) -> AnyView {
    let PlayAndSwing { play, steady, turning } = shown;
    let fine = |value| format_estimate(value, Dimension::FineLength, units);
    let loads = [("A load that keeps its direction", steady), ("A load that turns", turning)];
    let line = |path: &[[f64; 3]]| last_turns(path, TURNS * turning.with.steps_per_revolution, shown.axis());
    let both = [&turning.with, &turning.without].map(|trace| line(&trace.displacement));
    let travel = |path: &[[f64; 3]]| shown.travel(path, units);
    let rows = loads
        .iter()
        .map(|&(name, load)| {
            vec![
                name.to_owned(),
                format_estimate(load.swing.peak, Dimension::Force, units),
                travel(&load.with.displacement),
                travel(&load.without.displacement),
                travel(&load.added()),
            ]
        })
        .collect();
    let table =
        Table { headings: vec!["Load", "Its peak", "The tool goes, with play", "Without play", "Play adds"], rows };
    let felt = fine(*play);
    view! {
        <p id="play-sentence">{shown.sentence(units)}</p>
        {chart(
            format!("Sideways movement over {TURNS} turns. Play as felt at the tool, that of the bearings by the lever out to it and the shake of the quill: {felt}."),
            overlaid("The load that turns. Line: with its play. Dashed: without, springs alone.".into(), both, TURNS, fine),
            table,
        )}
    }
    .into_any()
}
