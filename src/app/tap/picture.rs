//! Pictures of a ring: the sound with its decay, and where its pitch stands
//! among the others.

use std::fmt::Write;

use crate::app::prelude::*;
use spindlewise_engine::quantity::{Dimension, UnitSystem, format, format_number};
use spindlewise_engine::tap::{HIGHEST, Heard, LOWEST, Ring};

use crate::app::charts::{Table, axis_names, chart};

/// Both drawings are so wide and high, and stretched to fit.
const WIDTH: f64 = 600.0;
const HEIGHT: f64 = 180.0;

/// Lowest level shown, dB below the loudest.
const DEEPEST: f64 = 50.0;

fn show(value: f64, dimension: Dimension) -> String {
    format(value, dimension, UnitSystem::Metric)
}

/// A line through points.
fn line(points: impl Iterator<Item = (f64, f64)>) -> String {
    let mut path = String::new();
    for (index, (x, y)) in points.enumerate() {
        let verb = if index == 0 { 'M' } else { 'L' };
        _ = write!(path, "{verb}{x:.1} {y:.1}");
    }
    path
}

fn frame(shown: impl IntoView + 'static) -> AnyView {
    view! {
        <svg class="tap-picture" viewBox=format!("0 0 {WIDTH} {HEIGHT}") preserveAspectRatio="none" aria-hidden="true">
            {shown}
        </svg>
    }
    .into_any()
}

/// The sound about the pitch after the loudest tap, and the envelope fitted to it.
pub fn ringing(ring: &Ring) -> AnyView {
    let trace = &ring.trace;
    let seconds = trace.step * trace.wave.len() as f64;
    let loudest = trace.wave.iter().map(|value| value.abs()).fold(trace.envelope(trace.fit_start), f64::max);
    let x = |time: f64| WIDTH * time / seconds;
    let y = |value: f64| HEIGHT / 2.0 * (1.0 - 0.95 * value / loudest);
    let wave = line(trace.wave.iter().enumerate().map(|(at, &value)| (x(at as f64 * trace.step), y(value))));
    let envelope = |side: f64| {
        const STEPS: usize = 48;
        let time = |at: usize| trace.fit_start + (trace.fit_end - trace.fit_start) * at as f64 / STEPS as f64;
        line((0..=STEPS).map(|at| (x(time(at)), y(side * trace.envelope(time(at))))))
    };
    let lasts = show(1e3 * seconds, Dimension::Milliseconds);
    let sound = frame(view! {
        <path class="tap-axis" d=format!("M0 {0}H{WIDTH}", HEIGHT / 2.0) />
        <path class="tap-wave" d=wave />
        <path class="tap-envelope" d=envelope(1.0) />
        <path class="tap-envelope" d=envelope(-1.0) />
    });
    let drawing = view! { {sound} {axis_names("Sound, of the loudest", &format!("Time, {lasts}"))} };
    let dies = [("a half", 2.0_f64), ("a tenth", 10.0), ("a hundredth", 100.0)];
    let rows = dies
        .map(|(share, ratio)| vec![share.to_owned(), show(1e3 * ratio.ln() / trace.decay, Dimension::Milliseconds)]);
    let caption = format!(
        "The sound about {} after the loudest tap, over {lasts}. The heavy line is the decay that was read off it, from where the blow itself is over.",
        show(ring.frequency.value, Dimension::Frequency),
    );
    chart(caption, drawing, Table { headings: vec!["It dies to", "in"], rows: rows.to_vec() })
}

/// How loud each pitch was after the taps; the one in hand is marked.
pub fn outline(heard: &Heard, picked: usize) -> AnyView {
    let x = |frequency: f64| WIDTH * (frequency / LOWEST).ln() / (HIGHEST / LOWEST).ln();
    let y = |power: f64| {
        let level = 10.0 * power.max(1e-12).log10();
        HEIGHT * (0.05 + 0.95 * (-level / DEEPEST).clamp(0.0, 1.0))
    };
    let outline = line(heard.spectrum.iter().map(|&(frequency, power)| (x(frequency), y(power))));
    let ticks = [20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0];
    let grid = ticks.map(|tick| format!("M{:.1} 0V{HEIGHT}", x(tick))).concat();
    let labels = ticks[..6].iter().map(|&tick| {
        let place = format!("{:.2}%", 100.0 * x(tick) / WIDTH);
        view! { <span style:left=place>{tick}</span> }
    });
    let marks = heard
        .rings
        .iter()
        .enumerate()
        .map(|(index, ring)| {
            // Where a peak has lost half its power.
            let (pitch, half) = (ring.frequency.value, ring.frequency.value * ring.damping.value);
            let (low, high) = (x(pitch - half), x(pitch + half));
            view! {
                <rect class="tap-width" class:tap-picked=index == picked x=low width=(high - low).max(2.0) y="0" height=HEIGHT />
            }
        })
        .collect_view();
    let drawing = view! {
        {frame(view! { <path class="tap-grid" d=grid /> {marks} <path class="tap-outline" d=outline /> })}
        <p class="tap-ticks" aria-hidden="true">{labels.collect_view()}</p>
        {axis_names(&format!("Loudness, the topmost {DEEPEST:.0} dB"), "Pitch, Hz")}
    };
    let rows = heard.rings.iter().map(|ring| {
        let pitch = ring.frequency.value;
        let level = (20.0 * ring.loudness.log10()).round();
        vec![
            show(pitch, Dimension::Frequency),
            format!("{} dB", format_number(level, 3)),
            show(2.0 * ring.half_power * pitch, Dimension::Frequency),
        ]
    });
    let caption = format!(
        "How loud each pitch was after the taps, in Hz from {LOWEST:.0} to {HIGHEST:.0}, over {DEEPEST:.0} dB. The bars stand where something rang and are as wide as its peak at half power; the bold one is the one picked."
    );
    chart(caption, drawing, Table { headings: vec!["Pitch", "Loudness", "Width at half power"], rows: rows.collect() })
}
