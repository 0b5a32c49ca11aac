//! Where plausible machines are looked for.

use super::N;
use super::likelihood::Likelihood;
use super::linear::{dot, gram_plus_one, log_determinant, solve};

/// The normal about the mode with precision `1 + A' A`, `A` being the slopes.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    pub mode: Vec<f64>,
    slopes: Vec<[f64; N]>,
    /// `A A' + 1`.
    gram: Vec<Vec<f64>>,
    /// Half the logarithm of its determinant.
    half_log_det: f64,
    /// Logarithm of how much plausibility lies about the mode, but for a constant:
    /// Laplace's approximation.
    log_mass: f64,
}

impl Proposal {
    /// About the most plausible machine near `start`.
    pub fn near(likelihood: &Likelihood<'_>, start: &[f64]) -> Self {
        let mode = likelihood.mode(start);
        let slopes = likelihood.wide_slopes(&mode);
        let gram = gram_plus_one(&slopes);
        let half_log_det = 0.5 * log_determinant(gram.clone());
        let log_mass = -likelihood.surprise(&mode) - half_log_det;
        Proposal { mode, slopes, gram, half_log_det, log_mass }
    }

    /// A draw made of a prior draw and the readings' own noise: what the prior
    /// draw gets wrong about noisy readings is put right (Hoffman and Ribak,
    /// Astrophysical Journal 380 (1991)).
    pub fn place(&self, prior: &[f64], noise: &[f64]) -> Vec<f64> {
        let wrong: Vec<f64> = self.slopes.iter().zip(noise).map(|(row, noise)| noise - dot(row, prior)).collect();
        let weights = solve(self.gram.clone(), wrong);
        (0..N)
            .map(|unknown| {
                let correction: f64 = self.slopes.iter().zip(&weights).map(|(row, weight)| row[unknown] * weight).sum();
                self.mode[unknown] + prior[unknown] + correction
            })
            .collect()
    }

    /// Mean and standard deviation of coordinate `at` when the others are those of
    /// `z`: with the precision P, `m - sum P_ij (z_j - m_j) / P_ii` and
    /// `1 / sqrt(P_ii)` (any textbook on the multivariate normal).
    pub fn given_the_rest(&self, z: &[f64], at: usize) -> (f64, f64) {
        let mut own = 1.0;
        let mut rest = 0.0;
        for row in &self.slopes {
            let off: f64 = (0..N).filter(|&j| j != at).map(|j| row[j] * (z[j] - self.mode[j])).sum();
            own += row[at] * row[at];
            rest += row[at] * off;
        }
        (self.mode[at] - rest / own, 1.0 / own.sqrt())
    }

    /// Logarithm of its density at `z`, but for a constant.
    pub fn log_density(&self, z: &[f64]) -> f64 {
        let step: Vec<f64> = z.iter().zip(&self.mode).map(|(to, from)| to - from).collect();
        self.half_log_det
            - 0.5 * (dot(&step, &step) + self.slopes.iter().map(|row| dot(row, &step).powi(2)).sum::<f64>())
    }
}

/// Several normals, each about a machine that is the most plausible around: a
/// ring that may be that of one mode or of another leaves more than one.
pub struct Mixture {
    parts: Vec<Proposal>,
    /// Share of the draws up to and with each part.
    up_to: Vec<f64>,
}

/// A part with less than this of the plausibility is left out.
const SMALL: f64 = 0.01;

impl Mixture {
    /// Of the normals found from each of `starts`; those that lead to the same
    /// machine count once.
    pub fn from(likelihood: &Likelihood<'_>, starts: &[Vec<f64>]) -> Self {
        /// Modes nearer than this, in standard deviations, are one.
        const APART: f64 = 0.5;
        let mut parts: Vec<Proposal> = Vec::new();
        for start in starts {
            let part = Proposal::near(likelihood, start);
            let apart = |other: &Proposal| {
                let squares = part.mode.iter().zip(&other.mode).map(|(a, b)| (a - b).powi(2));
                squares.sum::<f64>().sqrt() > APART
            };
            if parts.iter().all(apart) {
                parts.push(part);
            }
        }
        let most = parts.iter().map(|part| part.log_mass).fold(f64::NEG_INFINITY, f64::max);
        parts.retain(|part| (part.log_mass - most).exp() > SMALL);
        let total: f64 = parts.iter().map(|part| (part.log_mass - most).exp()).sum();
        let mut reached = 0.0;
        let up_to = parts.iter().map(|part| {
            reached += (part.log_mass - most).exp() / total;
            reached
        });
        Mixture { up_to: up_to.collect(), parts }
    }

    /// The normals.
    pub fn parts(&self) -> &[Proposal] {
        &self.parts
    }

    /// Which normal holds place `at`, 0 to 1, of the draws.
    pub fn part(&self, at: f64) -> usize {
        self.up_to.partition_point(|&up_to| up_to < at).min(self.parts.len() - 1)
    }

    /// Logarithm of the density at `z`, but for a constant.
    pub fn log_density(&self, z: &[f64]) -> f64 {
        let mut before = 0.0;
        let terms: Vec<f64> = (self.parts.iter().zip(&self.up_to))
            .map(|(part, up_to)| {
                let share = up_to - std::mem::replace(&mut before, *up_to);
                share.ln() + part.log_density(z)
            })
            .collect();
        let most = terms.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        most + terms.iter().map(|term| (term - most).exp()).sum::<f64>().ln()
    }
}

/// The part of the linear fit about its mode in what readings say of each other.
impl Proposal {
    /// What each reading would be off by on the machine in the middle of the
    /// typical ranges, in standard errors, and the covariance of that: `A A' + 1`.
    pub fn misfit_to_typical(&self, likelihood: &Likelihood<'_>) -> (Vec<f64>, Vec<Vec<f64>>) {
        let (residuals, slopes) = (likelihood.residuals(&self.mode), likelihood.slopes(&self.mode));
        let off = residuals.iter().zip(&slopes).map(|(residual, row)| residual + dot(row, &self.mode));
        (off.collect(), gram_plus_one(&slopes))
    }
}
