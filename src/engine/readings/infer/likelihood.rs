//! How well a machine fits the readings.

use super::N;
use super::linear::{dot, gram_plus_one, solve};
use crate::mechanics::Estimates;
use crate::readings::{Observer, Reading};

/// What the readings are compared with: the logarithm of each expected reading
/// and the standard deviation of its distance from the one taken.
pub struct Likelihood<'a> {
    pub observer: Observer<'a>,
    pub usual: &'a Estimates,
    pub readings: &'a [Reading],
}

impl Likelihood<'_> {
    /// Distance of each reading from what machine `z` would show, in standard
    /// errors.
    pub fn residuals(&self, z: &[f64]) -> Vec<f64> {
        let iron = self.usual.at(z);
        self.readings.iter().map(|reading| self.observer.residual(reading, &iron)).collect()
    }

    /// Minus the logarithm of prior times likelihood.
    pub fn surprise(&self, z: &[f64]) -> f64 {
        0.5 * (dot(z, z) + self.residuals(z).iter().map(|r| r * r).sum::<f64>())
    }

    /// Minus the derivative of the residuals, reading by reading, by central
    /// differences.
    pub fn slopes(&self, z: &[f64]) -> Vec<[f64; N]> {
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

    /// The slopes of a normal as wide as what lies about `z`: a blurred reading tells
    /// less and less of ever stiffer machines, and a normal narrower than that would
    /// leave them to a few draws.
    pub fn wide_slopes(&self, z: &[f64]) -> Vec<[f64; N]> {
        let iron = self.usual.at(z);
        let mut rows = self.slopes(z);
        for (row, reading) in rows.iter_mut().zip(self.readings) {
            let flattening = self.observer.flattening(reading, &iron);
            *row = row.map(|slope| slope * flattening);
        }
        rows
    }

    /// The most plausible machine near `start`.
    pub fn mode(&self, start: &[f64]) -> Vec<f64> {
        let mut z = start.to_vec();
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
