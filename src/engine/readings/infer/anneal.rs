//! From machines that fit the readings roughly to machines that fit them.
//!
//! Where importance weights would leave few machines to count, the sample is led
//! over in steps, each small enough that half of it still counts: weighed,
//! resampled, and moved about (Del Moral, Doucet and Jasra, Journal of the Royal
//! Statistical Society B 68 (2006)). Moves keep part of the old place and take the
//! rest from the normal that fits best, so that what the readings tie together
//! moves together (preconditioned Crank-Nicolson: Cotter and others, Statistical
//! Science 28 (2013)).

use statrs::distribution::{ContinuousCDF, Normal};

use super::N;
use super::likelihood::Likelihood;
use super::linear::dot;
use super::proposal::Mixture;
use super::weights::{normalised, resample};
use crate::readings::scattered;

/// Machines after annealing.
pub struct Annealed {
    pub machines: Vec<Vec<f64>>,
    /// The least that any step left to count.
    pub effective: f64,
}

/// Share of the machines that has to count after a step.
const KEPT: f64 = 0.5;

/// Moves after each step, and the share of them that should succeed.
const MOVES: usize = 2;
const SUCCEED: f64 = 0.3;

/// More steps than any readings should need.
const STEPS: usize = 12;

/// A machine with what its place in the steps hangs on.
#[derive(Clone)]
struct Particle {
    z: Vec<f64>,
    /// The normal of the mixture that it moves about.
    part: usize,
    /// Logarithm of the density it was drawn from.
    log_drawn: f64,
    /// Logarithm of prior times likelihood.
    log_fit: f64,
}

impl Particle {
    fn new(z: Vec<f64>, part: usize, likelihood: &Likelihood<'_>, mixture: &Mixture) -> Self {
        Particle { log_drawn: mixture.log_density(&z), log_fit: -likelihood.surprise(&z), z, part }
    }

    /// Logarithm of the density of the step that is `share` of the way.
    fn log_target(&self, share: f64) -> f64 {
        (1.0 - share) * self.log_drawn + share * self.log_fit
    }
}

/// Leads `drawn`, machines with the normal of `mixture` each was drawn from, over
/// to what fits the readings.
pub fn anneal(likelihood: &Likelihood<'_>, mixture: &Mixture, drawn: Vec<(Vec<f64>, usize)>, seed: u64) -> Annealed {
    let mut particles: Vec<Particle> =
        drawn.into_iter().map(|(z, part)| Particle::new(z, part, likelihood, mixture)).collect();
    let count = particles.len();
    let (mut share, mut stride, mut effective) = (0.0, 0.5, count as f64);
    for step in 0..STEPS {
        let gains: Vec<f64> = particles.iter().map(|one| one.log_fit - one.log_drawn).collect();
        let last = step + 1 == STEPS;
        let to = if last { 1.0 } else { next_share(share, &gains) };
        let weights = normalised(&gains.iter().map(|gain| (to - share) * gain).collect::<Vec<f64>>());
        effective = effective.min(1.0 / dot(&weights, &weights));
        particles = resample(&weights).into_iter().map(|index| particles[index].clone()).collect();
        share = to;
        for turn in 0..MOVES {
            let seed = seed ^ ((step * MOVES + turn) as u64 + 1).wrapping_mul(0x9e37_79b9_7f4a_7c15);
            let succeeded = wander(likelihood, mixture, &mut particles, share, stride, seed);
            stride = (stride * (succeeded - SUCCEED).exp()).clamp(0.05, 1.0);
        }
        if share >= 1.0 {
            break;
        }
    }
    Annealed { machines: particles.into_iter().map(|one| one.z).collect(), effective }
}

/// The furthest share of the way at which enough machines still count.
fn next_share(from: f64, gains: &[f64]) -> f64 {
    let counts = |to: f64| {
        let weights = normalised(&gains.iter().map(|gain| (to - from) * gain).collect::<Vec<f64>>());
        1.0 / dot(&weights, &weights) >= KEPT * gains.len() as f64
    };
    if counts(1.0) {
        return 1.0;
    }
    let (mut near, mut far) = (from, 1.0);
    for _ in 0..20 {
        let middle = 0.5 * (near + far);
        *if counts(middle) { &mut near } else { &mut far } = middle;
    }
    near
}

/// Moves every machine about once; the share of moves that succeeded.
fn wander(
    likelihood: &Likelihood<'_>,
    mixture: &Mixture,
    particles: &mut [Particle],
    share: f64,
    stride: f64,
    seed: u64,
) -> f64 {
    let each = N + likelihood.readings.len() + 1;
    let mut random = scattered(particles.len() * each, seed);
    let normal = Normal::standard();
    let kept = (1.0 - stride * stride).sqrt();
    let mut succeeded = 0;
    let count = particles.len();
    for particle in particles {
        let mut normals = || normal.inverse_cdf(random.next().unwrap_or(0.5));
        let prior: Vec<f64> = (0..N).map(|_| normals()).collect();
        let noise: Vec<f64> = likelihood.readings.iter().map(|_| normals()).collect();
        let luck = random.next().unwrap_or(0.5);
        let part = &mixture.parts()[particle.part];
        let fresh = part.place(&prior, &noise);
        let z: Vec<f64> = (0..N)
            .map(|i| part.mode[i] + kept * (particle.z[i] - part.mode[i]) + stride * (fresh[i] - part.mode[i]))
            .collect();
        let moved = Particle::new(z, particle.part, likelihood, mixture);
        // The move keeps the part's own normal; what differs from that decides.
        let worth = |one: &Particle| one.log_target(share) - part.log_density(&one.z);
        if luck.ln() < worth(&moved) - worth(particle) {
            *particle = moved;
            succeeded += 1;
        }
    }
    f64::from(succeeded) / count as f64
}
