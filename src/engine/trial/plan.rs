//! How many cuts it takes, and in which turn.

use statrs::distribution::{ContinuousCDF, Normal};
use statrs::function::gamma::ln_gamma;

use super::contrast::quantile;
use super::{Evidence, Trial, Turns};
use crate::readings::scattered;

/// Chance of an alarm where there is no difference, and of seeing one that is
/// there: what is usual (Cohen, Statistical Power Analysis, 1988).
pub(super) const ALARM: f64 = 0.05;
const SEEN: f64 = 0.8;

/// More cuts than anybody takes.
const MOST: usize = 40;

/// The fewest that tell anything of their scatter.
pub(super) const FEWEST: usize = 3;

/// What a trial takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plan {
    /// Cuts as it was, and as many as it is now, or pairs, that show the smallest
    /// change that matters in four trials of five; `None` if no number that anybody
    /// would take does.
    pub each: Option<usize>,
    /// Scatter of one cut, a share.
    pub scatter: f64,
    /// Whether that was seen on the cuts so far.
    pub seen: bool,
}

impl Plan {
    /// For `trial`, with the scatter that its cuts so far have, if they are enough.
    pub fn of(trial: &Trial) -> Self {
        let seen = trial.scatter();
        let scatter = seen.unwrap_or(trial.usual_scatter());
        let each = match trial.evidence {
            Evidence::Pairs => Some(FEWEST_PAIRS),
            _ => cuts_needed(trial.matters.ln_1p(), scatter, trial.step(), trial.turns),
        };
        Plan { each, scatter, seen: seen.is_some() }
    }
}

/// Pairs that have to come out the same way before chance is ruled out: a coin
/// falls on one side six times running in 3 of 100 rows, five times in 6.
const FEWEST_PAIRS: usize = 6;

/// The fewest cuts each, or pairs, that show a change of `effect` (logarithm of the
/// ratio) in four trials of five, where single cuts scatter by `scatter` and means
/// are off by `step` (logarithms).
pub fn cuts_needed(effect: f64, scatter: f64, step: f64, turns: Turns) -> Option<usize> {
    (FEWEST..=MOST).find(|&each| power(effect, scatter, step, turns, each) >= SEEN)
}

/// The smallest change (logarithm of the ratio) that so many cuts each show in four
/// trials of five.
pub fn smallest_effect(each: usize, scatter: f64, step: f64, turns: Turns) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    while power(high, scatter, step, turns, each) < SEEN {
        high *= 2.0;
    }
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        if power(middle, scatter, step, turns, each) < SEEN { low = middle } else { high = middle }
    }
    high
}

/// How often `each` cuts of either kind show a change of `effect`: two-sided
/// Student's test, its distribution averaged over what the scatter is taken for
/// (the noncentral t; Cohen, 1988).
pub fn power(effect: f64, scatter: f64, step: f64, turns: Turns, each: usize) -> f64 {
    const STEPS: u32 = 400;
    let count = each as f64;
    // Pairs leave as many differences, two lots as many more freedoms.
    let freedom = if turns == Turns::About { count - 1.0 } else { 2.0 * count - 2.0 };
    let error = (2.0 * (scatter * scatter / count + step * step)).sqrt();
    let away = effect.abs() / error;
    let bar = quantile(1.0 - 0.5 * ALARM, freedom);
    let normal = Normal::standard();
    // Of the standard deviation over what it is taken for: chi over its root of
    // degrees of freedom.
    let norm = 0.5 * freedom * (0.5 * freedom).ln() - ln_gamma(0.5 * freedom) + 2_f64.ln();
    let end = 1.0 + 6.0 / freedom.sqrt();
    let width = end / f64::from(STEPS);
    (0..STEPS)
        .map(|at| {
            let taken = (f64::from(at) + 0.5) * width;
            let density = (norm + (freedom - 1.0) * taken.ln() - 0.5 * freedom * taken * taken).exp();
            let seen = normal.cdf(away - bar * taken) + normal.cdf(-away - bar * taken);
            density * seen * width
        })
        .sum::<f64>()
        .min(1.0)
}

/// Which cut comes first in a pair.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turn {
    /// As it was, then as it is now.
    WasFirst,
    /// As it is now, then as it was.
    NowFirst,
}

/// The turn of `pairs` pairs, at random and as many of either kind, so that neither
/// wear nor warming up favours one (Fisher, The Design of Experiments, 1935). The
/// same each time.
pub fn order(pairs: usize) -> Vec<Turn> {
    const SEED: u64 = 7;
    let coins: Vec<f64> = scattered(pairs.div_ceil(2), SEED).collect();
    (0..pairs)
        .map(|pair| {
            // Two pairs at a time lie against each other.
            let was_first = (coins[pair / 2] < 0.5) == pair.is_multiple_of(2);
            if was_first { Turn::WasFirst } else { Turn::NowFirst }
        })
        .collect()
}
