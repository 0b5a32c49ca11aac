//! What the tip does, drawn and to listen to.

use std::sync::Arc;

use crate::app::prelude::*;
use spindlewise_engine::decision::CloseUp;
use spindlewise_engine::quantity::{Dimension, UnitSystem, format_estimate};

use super::listen::{RATE, SECONDS, Sound, listen};
use super::middle::Pair;
use crate::app::charts::{Line, Table, chart, traces};

/// Turns of the spindle drawn.
const TURNS: usize = 6;

/// Both traces, across the feed and along it.
pub fn drawn(pair: &Pair, title: &str, units: UnitSystem) -> AnyView {
    let names = ["As it is now".to_owned(), format!("With “{title}”")];
    let cuts = [&pair.now, &pair.then];
    let ways = [("across the feed", 1), ("along the feed", 0)];
    let lines: Vec<Line> = ways
        .iter()
        .flat_map(|&(way, axis)| {
            let line = |(name, cut): (&String, &&CloseUp)| Line {
                name: format!("{name}, {way}"),
                values: last_turns(&cut.trace.displacement, TURNS * cut.trace.steps_per_revolution, axis),
            };
            names.iter().zip(&cuts).map(line).collect::<Vec<_>>()
        })
        .collect();
    let fine = |value| format_estimate(value, Dimension::FineLength, units);
    let table = Table {
        headings: vec!["Cut", "Across the feed, end to end", "Along the feed, end to end"],
        rows: names
            .iter()
            .zip(cuts)
            .map(|(name, cut)| vec![name.clone(), cut.travel(1, units), cut.travel(0, units)])
            .collect(),
    };
    let leaves = cuts.iter().any(|cut| cut.leaves());
    // What is beyond telling is drawn to the edge of the strip.
    let most = if leaves { 0.5 * cuts[0].most.min(cuts[1].most) } else { f64::INFINITY };
    let beyond =
        if leaves { " A line that runs along the edge goes further: the cutter leaves the cut there." } else { "" };
    let caption = format!(
        "Movement of the tip about its middle over {TURNS} turns of the spindle, all on one scale; a thin line marks each turn.{beyond}"
    );
    chart(caption, traces(lines, TURNS, most, fine), table)
}

/// One direction of the last `steps` of a path, about their middle.
pub fn last_turns(path: &[[f64; 3]], steps: usize, axis: usize) -> Vec<f64> {
    let values: Vec<f64> = path[path.len().saturating_sub(steps)..].iter().map(|at| at[axis]).collect();
    let mean = values.iter().sum::<f64>() / values.len().max(1) as f64;
    values.into_iter().map(|value| value - mean).collect()
}

/// Both cuts to listen to.
pub fn heard(pair: &Pair, title: &str) -> AnyView {
    let sound = |label: String, cut: &CloseUp| Sound { label, samples: Arc::new(cut.trace.sound(RATE, SECONDS)) };
    listen(vec![sound("Hear it as it is".into(), &pair.now), sound(format!("Hear it with “{title}”"), &pair.then)])
}
