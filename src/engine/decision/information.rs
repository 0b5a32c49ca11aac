//! What it is worth to know more before deciding.
//!
//! An option is a remedy, or leaving it alone; its worth is known on each
//! plausible machine. Without knowing more, one takes the option that is best on
//! average. A reading tells machines apart: for each thing it may show, another
//! option may be best. What that gains on average is the reading's worth (the
//! expected value of sample information: Raiffa and Schlaifer, Applied
//! Statistical Decision Theory, 1961), found by regression on the sample at hand
//! (Strong, Oakley and Brennan, Medical Decision Making 34 (2014)).

use crate::order;
use crate::readings::scattered;

/// Which machines make which half; any other number would do.
const HALVES: u64 = 1;

/// What knowing something gains over deciding now.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gain {
    /// Mean gain, in the unit of the worths; never below 0.
    pub mean: f64,
    /// Standard error of that mean: below twice this, it may as well be nothing.
    pub standard_error: f64,
    /// Probability that the option chosen is another one than now.
    pub changes: f64,
}

/// The option that is best on average; the first of equals.
pub fn best_on_average(worths: &[&[f64]]) -> usize {
    let means: Vec<f64> = worths.iter().map(|worth| super::weigh::mean(worth)).collect();
    largest(worths.len(), |option| means[option])
}

/// The option that is best on one machine; the first of equals.
pub fn best_on(worths: &[&[f64]], machine: usize) -> usize {
    largest(worths.len(), |option| worths[option][machine])
}

/// The first of the largest.
fn largest(count: usize, value: impl Fn(usize) -> f64) -> usize {
    (0..count).reduce(|a, b| if value(b) > value(a) { b } else { a }).unwrap_or(0)
}

/// What knowing everything gains: on each machine, the best option instead of
/// the one that is best on average. No reading can gain more.
pub fn perfect(worths: &[&[f64]]) -> Gain {
    let now = best_on_average(worths);
    let machines = worths.first().map_or(0, |worth| worth.len());
    gain(worths, now, (0..machines).map(|machine| (machine, best_on(worths, machine))))
}

/// What a reading gains that would show `signal` on each machine, its own error
/// included. What the options are worth is fitted to it by a polynomial on one
/// half of the machines and tried on the other, so that chance is not mistaken
/// for knowledge.
pub fn reading(signal: &[f64], worths: &[&[f64]]) -> Gain {
    let now = best_on_average(worths);
    let bases: Vec<[f64; 5]> = ranks(signal).into_iter().map(legendre).collect();
    // Halves at random: every second point of a low-discrepancy sequence lies in
    // one half of the space.
    let coins: Vec<bool> = scattered(signal.len(), HALVES).map(|coin| coin < 0.5).collect();
    let halves = [true, false].map(|side| (0..signal.len()).filter(|&i| coins[i] == side).collect::<Vec<usize>>());
    let mut choices = Vec::with_capacity(signal.len());
    for (fitted, tried) in [(0, 1), (1, 0)] {
        let mut fits = Vec::with_capacity(worths.len());
        for (option, worth) in worths.iter().enumerate() {
            if option != now {
                // Only differences from the present choice matter, and are the less noisy.
                let more = |&i: &usize| (&bases[i], worth[i] - worths[now][i]);
                fits.push((option, Polynomial::fit(halves[fitted].iter().map(more))));
            }
        }
        for &machine in &halves[tried] {
            let mut best = (now, 0.0);
            for (option, fit) in &fits {
                let promised = fit.at(&bases[machine]);
                if promised > best.1 {
                    best = (*option, promised);
                }
            }
            choices.push((machine, best.0));
        }
    }
    gain(worths, now, choices.into_iter())
}

/// The gain of choosing so on each machine over choosing `now` on all.
fn gain(worths: &[&[f64]], now: usize, choices: impl Iterator<Item = (usize, usize)>) -> Gain {
    let (mut count, mut sum, mut squares, mut changed) = (0.0, 0.0, 0.0, 0.0);
    for (machine, option) in choices {
        let more = worths[option][machine] - worths[now][machine];
        count += 1.0;
        sum += more;
        squares += more * more;
        changed += f64::from(u8::from(option != now));
    }
    if count < 2.0 {
        return Gain { mean: 0.0, standard_error: 0.0, changes: 0.0 };
    }
    let mean = sum / count;
    let variance = (squares / count - mean * mean).max(0.0);
    Gain { mean: mean.max(0.0), standard_error: (variance / count).sqrt(), changes: changed / count }
}

/// Each value's place in the order of all, -1 to 1: whatever its distribution,
/// the polynomial gets one without tails.
fn ranks(values: &[f64]) -> Vec<f64> {
    let mut scores = vec![0.0; values.len()];
    for (rank, at) in order::places(values).into_iter().enumerate() {
        scores[at] = (2.0 * rank as f64 + 1.0) / values.len() as f64 - 1.0;
    }
    scores
}

/// A polynomial of the fourth degree in Legendre's form, which evenly spread
/// scores make very nearly orthogonal: each coefficient is a mean.
struct Polynomial([f64; 5]);

impl Polynomial {
    /// The one nearest to all points: the basis at each, and the value there.
    fn fit<'a>(points: impl Iterator<Item = (&'a [f64; 5], f64)>) -> Self {
        let mut sums = [0.0; 5];
        let mut count = 0.0;
        for (bases, y) in points {
            for (sum, basis) in sums.iter_mut().zip(bases) {
                *sum += y * basis;
            }
            count += 1.0;
        }
        let mut norm = -1.0;
        Polynomial(sums.map(|sum| {
            norm += 2.0;
            sum * norm / count
        }))
    }

    fn at(&self, bases: &[f64; 5]) -> f64 {
        self.0.iter().zip(bases).map(|(coefficient, basis)| coefficient * basis).sum()
    }
}

/// Legendre's polynomials of degree 0 to 4 (Abramowitz and Stegun, table 22.9).
fn legendre(x: f64) -> [f64; 5] {
    let s = x * x;
    [1.0, x, 0.5 * (3.0 * s - 1.0), 0.5 * x * (5.0 * s - 3.0), (s * (35.0 * s - 30.0) + 3.0) / 8.0]
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn the_polynomial_follows_one_of_its_degree() {
        let points: Vec<([f64; 5], f64)> = (0..4000)
            .map(|i| (2.0 * f64::from(i) + 1.0) / 4000.0 - 1.0)
            .map(|x| (legendre(x), 1.0 - 2.0 * x + 3.0 * x.powi(4)))
            .collect();
        let fit = Polynomial::fit(points.iter().map(|(bases, y)| (bases, *y)));
        for x in [-0.9, -0.3, 0.0, 0.5, 1.0] {
            assert_relative_eq!(fit.at(&legendre(x)), 1.0 - 2.0 * x + 3.0 * x.powi(4), epsilon = 1e-4);
        }
    }

    #[test]
    fn with_one_option_nothing_is_worth_knowing() {
        let worth: Vec<f64> = (0..64).map(f64::from).collect();
        assert_eq!(perfect(&[&worth]).mean, 0.0);
        assert_eq!(reading(&worth, &[&worth]).mean, 0.0);
    }
}
