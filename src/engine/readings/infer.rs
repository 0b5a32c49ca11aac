//! From typical ranges and readings to a sample of plausible machines.
//!
//! In the logarithms, priors are standard normal and readings nearly so. The
//! most plausible machine is found by Gauss-Newton; the normal about it
//! (Laplace) proposes machines along a low-discrepancy sequence; importance
//! weights correct what is not normal, and systematic resampling makes them
//! equal again. With no reading this is the prior itself, untouched.

use statrs::distribution::{ContinuousCDF, Normal};

use super::sobol::sobol;
use super::{Reading, ReadingKind, observe_for};
use crate::machine::usually;
use crate::mechanics::{Estimates, Plausible, Prepared, Unknown, usual};
use crate::work::Setup;

const N: usize = Unknown::COUNT;

/// The formulas are not the machine: standard deviation, in the logarithm, by
/// which even a perfect reading may differ from a perfect fit. Assumed.
const MODEL_ERROR: f64 = 0.08;

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
}

impl Sample {
    /// The extra normals of machine `index`.
    pub fn extra(&self, index: usize) -> &[f64] {
        &self.extras[index * self.extra_count..][..self.extra_count]
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

/// What the readings are compared with: the logarithm of each expected reading
/// and the standard deviation of its distance from the one taken.
struct Likelihood<'a> {
    prepared: &'a Prepared,
    usual: &'a Estimates,
    readings: &'a [Reading],
}

impl Likelihood<'_> {
    /// Distance of each reading from what machine `z` would show, in standard
    /// errors.
    fn residuals(&self, z: &[f64]) -> Vec<f64> {
        let iron = self.usual.at(z);
        self.readings.iter().map(|reading| misfit(reading, self.prepared, &iron)).collect()
    }

    /// Minus the logarithm of prior times likelihood.
    fn surprise(&self, z: &[f64]) -> f64 {
        0.5 * (dot(z, z) + self.residuals(z).iter().map(|r| r * r).sum::<f64>())
    }

    /// Minus the derivative of the residuals, reading by reading, by central
    /// differences.
    fn slopes(&self, z: &[f64]) -> Vec<[f64; N]> {
        const H: f64 = 1e-4;
        let mut rows = vec![[0.0; N]; self.readings.len()];
        let mut probe: Vec<f64> = z.to_vec();
        for unknown in 0..N {
            let middle = probe[unknown];
            probe[unknown] = middle + H;
            let above = self.residuals(&probe);
            probe[unknown] = middle - H;
            let below = self.residuals(&probe);
            probe[unknown] = middle;
            for (row, (a, b)) in rows.iter_mut().zip(above.iter().zip(&below)) {
                row[unknown] = (b - a) / (2.0 * H);
            }
        }
        rows
    }

    /// The most plausible machine.
    fn mode(&self) -> Vec<f64> {
        let mut z = vec![0.0; N];
        let mut surprise = self.surprise(&z);
        for _ in 0..40 {
            let slopes = self.slopes(&z);
            let residuals = self.residuals(&z);
            // Minimise |z|^2 + |r - A (z' - z)|^2: z' = A' (A A' + 1)^-1 (r + A z).
            let target: Vec<f64> =
                residuals.iter().zip(&slopes).map(|(residual, row)| residual + dot(row, &z)).collect();
            let weights = solve(gram_plus_one(&slopes), target);
            let goal: Vec<f64> =
                (0..N).map(|u| slopes.iter().zip(&weights).map(|(row, weight)| row[u] * weight).sum()).collect();
            let mut step = 1.0;
            let improved = loop {
                let trial: Vec<f64> = z.iter().zip(&goal).map(|(at, to)| at + step * (to - at)).collect();
                let trial_surprise = self.surprise(&trial);
                if trial_surprise <= surprise {
                    let gain = surprise - trial_surprise;
                    z = trial;
                    surprise = trial_surprise;
                    break gain > 1e-10;
                }
                step *= 0.5;
                if step < 1e-3 {
                    break false;
                }
            };
            if !improved {
                break;
            }
        }
        z
    }
}

/// Distance of a reading from what a machine would show, in standard errors;
/// positive when the reading is the larger.
pub fn misfit(reading: &Reading, prepared: &Prepared, iron: &Plausible) -> f64 {
    let expected = observe_for(reading, prepared, iron);
    (reading.value / expected).ln() / (reading.log_sd * reading.log_sd + MODEL_ERROR * MODEL_ERROR).sqrt()
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
        };
    }

    let likelihood = Likelihood { prepared, usual, readings };
    let mode = likelihood.mode();
    let proposal = Proposal::about(&mode, likelihood.slopes(&mode));
    let proposals: Vec<Vec<f64>> = (0..count)
        .map(|index| {
            let (machine, noise) = (&row(index)[..N], &row(index)[N + extra_count..]);
            proposal.place(machine, noise)
        })
        .collect();
    let log_weights: Vec<f64> = proposals.iter().map(|z| proposal.surprise(z) - likelihood.surprise(z)).collect();
    let weights = normalised(&log_weights);
    let effective = 1.0 / dot(&weights, &weights);
    Sample {
        machines: resample(&weights).into_iter().map(|index| usual.at(&proposals[index])).collect(),
        // Remedies know nothing of the readings: their normals stay a balanced
        // sequence of their own.
        extras,
        extra_count,
        effective,
    }
}

/// The normal about the mode with precision `1 + A' A`, `A` being the slopes.
struct Proposal<'a> {
    mode: &'a [f64],
    slopes: Vec<[f64; N]>,
    /// `A A' + 1`.
    gram: Vec<Vec<f64>>,
}

impl<'a> Proposal<'a> {
    fn about(mode: &'a [f64], slopes: Vec<[f64; N]>) -> Self {
        let gram = gram_plus_one(&slopes);
        Proposal { mode, slopes, gram }
    }

    /// A draw made of a prior draw and the readings' own noise: what the prior
    /// draw gets wrong about noisy readings is put right (Hoffman and Ribak,
    /// Astrophysical Journal 380 (1991)).
    fn place(&self, prior: &[f64], noise: &[f64]) -> Vec<f64> {
        let wrong: Vec<f64> = self.slopes.iter().zip(noise).map(|(row, noise)| noise - dot(row, prior)).collect();
        let weights = solve(self.gram.clone(), wrong);
        (0..N)
            .map(|unknown| {
                let correction: f64 = self.slopes.iter().zip(&weights).map(|(row, weight)| row[unknown] * weight).sum();
                self.mode[unknown] + prior[unknown] + correction
            })
            .collect()
    }

    /// Minus the logarithm of its density at `z`, but for a constant.
    fn surprise(&self, z: &[f64]) -> f64 {
        let step: Vec<f64> = z.iter().zip(self.mode).map(|(to, from)| to - from).collect();
        0.5 * (dot(&step, &step) + self.slopes.iter().map(|row| dot(row, &step).powi(2)).sum::<f64>())
    }
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

/// `A A' + 1`.
fn gram_plus_one(rows: &[[f64; N]]) -> Vec<Vec<f64>> {
    let entry = |i: usize, j: usize| dot(&rows[i], &rows[j]) + if i == j { 1.0 } else { 0.0 };
    (0..rows.len()).map(|i| (0..rows.len()).map(|j| entry(i, j)).collect()).collect()
}

fn normalised(log_weights: &[f64]) -> Vec<f64> {
    let most = log_weights.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let weights: Vec<f64> = log_weights.iter().map(|weight| (weight - most).exp()).collect();
    let total: f64 = weights.iter().sum();
    weights.into_iter().map(|weight| weight / total).collect()
}

/// Systematic resampling: as many picks as weights, evenly spaced.
fn resample(weights: &[f64]) -> Vec<usize> {
    let count = weights.len();
    let mut chosen = Vec::with_capacity(count);
    let mut reached = weights[0];
    let mut index = 0;
    for pick in 0..count {
        let at = (pick as f64 + 0.5) / count as f64;
        while reached < at && index + 1 < count {
            index += 1;
            reached += weights[index];
        }
        chosen.push(index);
    }
    chosen
}

/// Solves a small positive definite system by elimination.
fn solve(mut matrix: Vec<Vec<f64>>, mut right: Vec<f64>) -> Vec<f64> {
    let size = right.len();
    for pivot in 0..size {
        for row in pivot + 1..size {
            let factor = matrix[row][pivot] / matrix[pivot][pivot];
            let (above, below) = matrix.split_at_mut(row);
            for (value, head) in below[0][pivot..].iter_mut().zip(&above[pivot][pivot..]) {
                *value -= factor * head;
            }
            right[row] -= factor * right[pivot];
        }
    }
    for pivot in (0..size).rev() {
        let rest: f64 = (pivot + 1..size).map(|column| matrix[pivot][column] * right[column]).sum();
        right[pivot] = (right[pivot] - rest) / matrix[pivot][pivot];
    }
    right
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn elimination_solves() {
        let x = solve(vec![vec![4.0, 1.0], vec![1.0, 3.0]], vec![1.0, 2.0]);
        assert_relative_eq!(x[0], 1.0 / 11.0, epsilon = 1e-12);
        assert_relative_eq!(x[1], 7.0 / 11.0, epsilon = 1e-12);
    }

    #[test]
    fn resampling_follows_the_weights() {
        let picks = resample(&[0.5, 0.25, 0.25, 0.0]);
        assert_eq!(picks, [0, 0, 1, 2]);
    }
}
