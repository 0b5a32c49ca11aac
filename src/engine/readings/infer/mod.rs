//! From typical ranges and readings to a sample of plausible machines.
//!
//! In the logarithms, priors are standard normal and readings nearly so. The
//! most plausible machine is found by Gauss-Newton; the normal about it
//! (Laplace) proposes machines along a low-discrepancy sequence; importance
//! weights correct what is not normal, and systematic resampling makes them
//! equal again. Where one normal will not do, several are looked for; where
//! weights would leave few machines to count, the sample is led over in steps.
//! With no reading this is the prior itself, untouched.

mod anneal;
mod conflict;
mod likelihood;
mod linear;
mod proposal;
mod weights;

pub use conflict::{AT_ODDS, Agreement};
pub use weights::HEAVY_TAIL;

use statrs::distribution::{ContinuousCDF, Normal};

use self::anneal::anneal;
use self::likelihood::Likelihood;
use self::linear::dot;
use self::proposal::{Mixture, Proposal};
use self::weights::{normalised, resample, tail};
use super::sobol::sobol;
use super::{Observer, Reading, ReadingKind, scattered};
use crate::machine::usually;
use crate::mechanics::{Estimates, Plausible, Prepared, Unknown, usual};
use crate::order;
use crate::work::Setup;

const N: usize = Unknown::COUNT;

/// A sample of plausible machines, all of equal weight.
#[derive(Clone, Debug, PartialEq)]
pub struct Sample {
    /// The machines.
    pub machines: Vec<Plausible>,
    /// Further independent standard normals for each machine, row after row:
    /// what remedies turn out to do.
    pub extras: Vec<f64>,
    /// How many there are in each row.
    pub extra_count: usize,
    /// How many equally weighted machines the weighted ones were worth.
    pub effective: f64,
    /// How heavy the tail of the weights is; above 0.7 a few machines decide. None
    /// at all where none were left in the end.
    pub tail: f64,
    /// What the readings say of each other.
    pub agreement: Agreement,
    /// The normal that fits the machines best; none without readings.
    about: Option<Proposal>,
}

impl Sample {
    /// The extra normals of machine `index`.
    pub fn extra(&self, index: usize) -> &[f64] {
        &self.extras[index * self.extra_count..][..self.extra_count]
    }

    /// Which `count` machines stand for all. Of a low-discrepancy sequence the first
    /// are one themselves, and every so manieth of them would not be; but what was
    /// resampled lies in the order of its weights, and is picked evenly.
    pub fn picks(&self, count: usize) -> Vec<usize> {
        let all = self.machines.len();
        let count = count.clamp(1, all);
        match self.about {
            None => (0..count).collect(),
            Some(_) => (0..count).map(|pick| pick * all / count).collect(),
        }
    }

    /// The machines at `picks` alone, each with the extra normals of its new place:
    /// these stay the beginning of their sequence.
    pub fn of_picks(&self, picks: &[usize]) -> Sample {
        let share = picks.len() as f64 / self.machines.len() as f64;
        Sample {
            machines: picks.iter().map(|&pick| self.machines[pick]).collect(),
            extras: self.extras[..picks.len() * self.extra_count].to_vec(),
            extra_count: self.extra_count,
            effective: self.effective * share,
            tail: self.tail,
            agreement: self.agreement.clone(),
            about: self.about.clone(),
        }
    }

    /// `machine` with one unknown drawn anew by `normal`, a standard normal, from
    /// what the readings leave it when all else stays as it is: exact without
    /// readings, else by the normal that fits best.
    pub fn redraw(&self, usual: &Estimates, machine: &Plausible, unknown: Unknown, normal: f64) -> Plausible {
        let at = unknown as usize;
        let (mean, sd) = match &self.about {
            None => (0.0, 1.0),
            Some(about) => {
                let z: Vec<f64> = Unknown::ALL.iter().map(|&one| usual[one].standing(machine[one])).collect();
                about.given_the_rest(&z, at)
            }
        };
        let mut redrawn = *machine;
        redrawn[unknown] = usual[unknown].at(mean + sd * normal);
        redrawn
    }
}

/// What is usual for `setup`, given that these readings were taken at all.
///
/// Dead movement that a hand can feel means that nothing holds the bearings
/// shut: preload is then next to nothing, whatever the machine was built with.
pub fn usual_given(setup: &Setup, readings: &[Reading]) -> Estimates {
    /// A hand feels this much, mm. Common practice, no source.
    const FELT: f64 = 0.008;
    let mut estimates = usual(setup);
    let felt = readings.iter().any(|one| one.kind == ReadingKind::RadialPlay && one.value > FELT);
    if felt {
        estimates[Unknown::PreloadForce] =
            usually((1.0, 12.0), "dead movement was felt, so little holds the bearings shut");
    }
    estimates
}

/// Draws `count` plausible machines, each with `extra_count` further normals.
pub fn sample(
    usual: &Estimates,
    prepared: &Prepared,
    readings: &[Reading],
    count: usize,
    extra_count: usize,
    seed: u64,
) -> Sample {
    // Each reading's own noise has its dimension too, after the remedies'.
    let dimensions = N + extra_count + readings.len();
    let normal = Normal::standard();
    let normals: Vec<f64> =
        sobol(count, dimensions, seed).into_iter().map(|uniform| normal.inverse_cdf(uniform)).collect();
    let row = |index: usize| &normals[index * dimensions..][..dimensions];
    let extras = (0..count).flat_map(|index| row(index)[N..][..extra_count].iter().copied()).collect();
    if readings.is_empty() {
        return Sample {
            machines: (0..count).map(|index| usual.at(&row(index)[..N])).collect(),
            extras,
            extra_count,
            effective: count as f64,
            tail: f64::NEG_INFINITY,
            agreement: Agreement::default(),
            about: None,
        };
    }

    let likelihood = Likelihood { observer: Observer::of(prepared, readings), usual, readings };
    let draw = |mixture: &Mixture| {
        let proposals: Vec<(Vec<f64>, usize)> = (0..count)
            .zip(scattered(count, seed))
            .map(|(index, place)| {
                let (machine, noise) = (&row(index)[..N], &row(index)[N + extra_count..]);
                let part = mixture.part(place);
                (mixture.parts()[part].place(machine, noise), part)
            })
            .collect();
        let log_weight = |z: &[f64]| -likelihood.surprise(z) - mixture.log_density(z);
        let weights = normalised(&proposals.iter().map(|(z, _)| log_weight(z)).collect::<Vec<f64>>());
        let effective = 1.0 / dot(&weights, &weights);
        (proposals, weights, effective)
    };
    let share = |effective: f64| effective / count as f64;
    let mut mixture = Mixture::from(&likelihood, &[vec![0.0; N]]);
    let mut drawn = draw(&mixture);
    if share(drawn.2) < POOR {
        let starts = starts(&likelihood, (0..count.min(LOOKED_AT)).map(|index| &row(index)[..N]));
        let wider = Mixture::from(&likelihood, &starts);
        if wider.parts().len() > 1 {
            let again = draw(&wider);
            if again.2 > drawn.2 {
                (mixture, drawn) = (wider, again);
            }
        }
    }
    let (proposals, weights, effective) = drawn;
    let (places, effective, tail) = if share(effective) < TOO_POOR {
        let annealed = anneal(&likelihood, &mixture, proposals, seed);
        (annealed.machines, annealed.effective, f64::NEG_INFINITY)
    } else {
        let chosen = resample(&weights).into_iter().map(|index| proposals[index].0.clone()).collect();
        (chosen, effective, tail(&weights))
    };
    let (off, covariance) = mixture.parts()[0].misfit_to_typical(&likelihood);
    Sample {
        machines: places.iter().map(|z| usual.at(z)).collect(),
        // Remedies know nothing of the readings: their normals stay a balanced
        // sequence of their own.
        extras,
        extra_count,
        effective,
        tail,
        agreement: Agreement::new(&off, &covariance),
        about: Some(mixture.parts()[0].clone()),
    }
}

/// A sample worth less than this share of its size calls for another look.
const POOR: f64 = 0.3;

/// One worth less than this is led over in steps.
const TOO_POOR: f64 = 0.15;

/// Prior machines among which starts are looked for.
const LOOKED_AT: usize = 128;

/// Where to start looking for modes: the middle of the typical ranges, and the
/// best few of `prior`.
fn starts<'a>(likelihood: &Likelihood<'_>, prior: impl Iterator<Item = &'a [f64]>) -> Vec<Vec<f64>> {
    const FEW: usize = 6;
    let mut scored: Vec<(f64, &[f64])> = prior.map(|z| (likelihood.surprise(z), z)).collect();
    order::least_first(&mut scored, |one| one.0);
    let best = scored.into_iter().take(FEW).map(|(_, z)| z.to_vec());
    std::iter::once(vec![0.0; N]).chain(best).collect()
}
