//! Which reading to take next.
//!
//! A first, honest measure: how much of what is unknown (how near the goal is,
//! or what bearings could gain) goes along with what the reading would show:
//! squared correlation with its logarithm, less what its own error would blur.

use super::{Case, NextReading};
use crate::machine::Axis;
use crate::mechanics::Prepared;
use crate::quantity::Force;
use crate::readings::{Place, ReadingKind, Sample, observe};

/// Readings anyone can take, with the error (logarithm) to expect.
fn candidates() -> impl Iterator<Item = (ReadingKind, f64)> {
    const PULL: Force = Force::newton(100.0);
    let pulls = [Place::Tip, Place::Nose, Place::Head, Place::Part]
        .into_iter()
        .flat_map(|place| [Axis::X, Axis::Y].map(|axis| (ReadingKind::Pull { place, axis, force: PULL }, 0.2)));
    let taps = [Axis::X, Axis::Y]
        .into_iter()
        .flat_map(|axis| [(ReadingKind::Tap(axis), 0.05), (ReadingKind::Decay { axis, ring: None }, 0.3)]);
    pulls.chain(taps).chain([
        (ReadingKind::RadialPlay, 0.3),
        (ReadingKind::AxialPlay, 0.3),
        (ReadingKind::Runout, 0.15),
        (ReadingKind::QuillShake, 0.3),
    ])
}

/// Readings not yet taken that would settle most about one of `questions`
/// (each a value for every machine), best first.
pub fn next_readings(case: &Case, sample: &Sample, prepared: &Prepared, questions: &[&[f64]]) -> Vec<NextReading> {
    let taken = |kind: ReadingKind| case.readings.iter().any(|reading| reading.kind.key() == kind.key());
    let mut all: Vec<NextReading> = candidates()
        .filter(|(kind, _)| !taken(*kind))
        .map(|(kind, error)| {
            let shown: Vec<f64> = sample.machines.iter().map(|iron| observe(kind, prepared, iron).ln()).collect();
            let settles = questions.iter().map(|question| {
                let (correlation, variance) = correlation(&shown, question);
                correlation * correlation * variance / (variance + error * error)
            });
            NextReading {
                field: kind.key().to_owned(),
                label: kind.label().to_owned(),
                settles: settles.fold(0.0, f64::max),
            }
        })
        .filter(|reading| reading.settles >= 0.02)
        .collect();
    all.sort_by(|a, b| b.settles.total_cmp(&a.settles));
    all.truncate(4);
    all
}

/// Correlation of `x` and `y`, and the variance of `x`; 0 where one is constant.
fn correlation(x: &[f64], y: &[f64]) -> (f64, f64) {
    let count = x.len() as f64;
    let (mean_x, mean_y) = (super::weigh::mean(x), super::weigh::mean(y));
    let (mut xx, mut yy, mut xy) = (0.0, 0.0, 0.0);
    for (x, y) in x.iter().zip(y) {
        let (dx, dy) = (x - mean_x, y - mean_y);
        xx += dx * dx;
        yy += dy * dy;
        xy += dx * dy;
    }
    let scale = (xx * yy).sqrt();
    (if scale > 0.0 { xy / scale } else { 0.0 }, xx / count)
}
