//! Which reading to take next: the one that gains most for the effort.

use std::borrow::Cow;

use statrs::distribution::{ContinuousCDF, Normal};

use super::evaluate::Evaluation;
use super::fit::{Found, SEED};
use super::information::{Gain, reading};
use super::{Fit, NextReading};
use crate::machine::Axis;
use crate::mechanics::Outcome;
use crate::order;
use crate::quantity::{Force, Length};
use crate::readings::{Observer, Place, ReadingError, ReadingKind, in_errors, minutes, scattered, told_by_cut};

/// Readings anyone can take. Those that want a cut wait until it is `safe`.
fn candidates(fit: &Fit, safe: bool) -> impl Iterator<Item = ReadingKind> {
    const PULL: Force = Force::newton(100.0);
    let pulls = [Place::Tip, Place::Nose, Place::Head, Place::Part]
        .into_iter()
        .flat_map(|place| [Axis::X, Axis::Y].map(|axis| ReadingKind::Pull { place, axis, force: PULL }));
    let taps = [Axis::X, Axis::Y]
        .into_iter()
        .flat_map(|axis| [ReadingKind::Tap(axis), ReadingKind::Decay { axis, ring: None }]);
    // The cut as it is, taken and looked at; and cuts in scrap, deeper and deeper.
    let finish = ReadingKind::PastFinish { depth: Length::mm(fit.wanted), surfaces: fit.case.want.surfaces };
    let cuts = [finish, ReadingKind::Chatters];
    pulls.chain(taps).chain(cuts.into_iter().filter(move |_| safe)).chain([
        ReadingKind::RadialPlay,
        ReadingKind::AxialPlay,
        ReadingKind::Runout,
        ReadingKind::QuillShake,
    ])
}

/// A reading is worth taking if it gains more than its minutes are worth, and
/// more than so many standard errors, which chance could feign.
const SURE: f64 = 2.0;

/// Readings that settle less than this of any question tell nothing.
const TELLING: f64 = 0.02;

/// So many readings are named at most.
const NAMED: usize = 4;

/// Readings not yet taken: first those worth taking, most gain for the effort
/// first; then those that at least tell something. `now` is what the machines of
/// `fit` do; `worths` are those of every option on every machine, `questions` what
/// one would like to know of it. Where the cut is not `safe` none of them wants one.
pub fn next_readings(
    fit: &Fit,
    now: &Evaluation,
    worths: &[&[f64]],
    questions: &[&[f64]],
    safe: bool,
) -> Vec<NextReading> {
    let Found { prepared, machines, .. } = &fit.found;
    let taken = |kind: ReadingKind| fit.case.readings.iter().any(|reading| reading.kind.key() == kind.key());
    let hour = fit.case.budget.hour_worth.as_amount();
    let observer = Observer::new(prepared, []);
    // The cut on the machines as they were found: that of now, unless something has
    // been done since.
    let cuts: Cow<'_, [Outcome]> = if fit.case.settled.done.is_empty() {
        Cow::Borrowed(&now.outcomes)
    } else {
        machines.iter().map(|iron| observer.cut(iron)).collect()
    };
    let normal = Normal::standard();
    let errors: Vec<f64> = scattered(machines.len(), SEED).map(|uniform| normal.inverse_cdf(uniform)).collect();
    let mut all: Vec<NextReading> = candidates(fit, safe)
        .filter(|kind| !taken(*kind))
        .map(|kind| {
            let ReadingError { share, blur } = kind.usual_error(&fit.case.gauges);
            let share = share.hypot(kind.model_error());
            let expected = |machine: usize| {
                told_by_cut(kind, &cuts[machine]).unwrap_or_else(|| observer.expected(kind, &machines[machine]))
            };
            let shown = errors.iter().enumerate();
            let shown: Vec<f64> =
                shown.map(|(machine, error)| in_errors(expected(machine), share, blur) + error).collect();
            let Gain { mean, standard_error, changes } = reading(&shown, worths);
            let minutes = minutes(kind);
            NextReading {
                field: kind.key().to_owned(),
                label: kind.label().to_owned(),
                minutes,
                gain: mean,
                gain_per_minute: mean / minutes,
                changes,
                worth_taking: mean > hour * minutes / 60.0 && mean > SURE * standard_error,
                settles: questions.iter().map(|question| shared_variance(&shown, question)).fold(0.0, f64::max),
            }
        })
        .filter(|reading| reading.worth_taking || reading.settles >= TELLING)
        .collect();
    order::sort(&mut all, |a, b| {
        let gain = |one: &NextReading| if one.worth_taking { one.gain_per_minute } else { 0.0 };
        gain(b).total_cmp(&gain(a)).then(b.settles.total_cmp(&a.settles))
    });
    all.truncate(NAMED);
    all
}

/// The share of the variance of `y` that goes along with `x`: their squared
/// correlation, 0 where one is constant.
fn shared_variance(x: &[f64], y: &[f64]) -> f64 {
    let (mean_x, mean_y) = (super::weigh::mean(x), super::weigh::mean(y));
    let (mut xx, mut yy, mut xy) = (0.0, 0.0, 0.0);
    for (x, y) in x.iter().zip(y) {
        let (dx, dy) = (x - mean_x, y - mean_y);
        xx += dx * dx;
        yy += dy * dy;
        xy += dx * dy;
    }
    if xx * yy > 0.0 { xy * xy / (xx * yy) } else { 0.0 }
}
