//! Which readings contradict each other, or the kind of machine.

use statrs::distribution::{ChiSquared, ContinuousCDF};

use super::linear::{dot, solve};

/// What the readings say of each other.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Agreement {
    /// How far each reading is off what the others and the typical ranges lead to
    /// expect, in standard deviations of that.
    pub off: Vec<f64>,
    /// Of each reading that is far off: the one that it contradicts, if leaving
    /// that out brings it back; otherwise it is at odds with the typical ranges.
    pub against: Vec<Option<usize>>,
    /// Probability that readings as good as these disagree as much with each other
    /// and with the typical ranges, if these are right.
    pub chance: Option<f64>,
}

/// A reading further off than this, in standard deviations, is at odds with
/// something.
pub const AT_ODDS: f64 = 2.5;

impl Agreement {
    /// Of readings that are off by `off` on a typical machine, with `covariance`:
    /// what is predicted of each by the others, as in linear regression (Gelman
    /// and others, Bayesian Data Analysis, 3rd ed., section 7.2, from memory).
    pub fn new(off: &[f64], covariance: &[Vec<f64>]) -> Self {
        let all: Vec<usize> = (0..off.len()).collect();
        if all.is_empty() {
            return Agreement::default();
        }
        let alone: Vec<f64> = all.iter().map(|&one| left_out(one, &all, off, covariance)).collect();
        let against = all.iter().map(|&one| {
            if alone[one].abs() < AT_ODDS {
                return None;
            }
            let without = |other: usize| {
                let rest: Vec<usize> = all.iter().copied().filter(|&index| index != other).collect();
                left_out(one, &rest, off, covariance).abs()
            };
            let best = all.iter().copied().filter(|&other| other != one).map(|other| (other, without(other)));
            best.min_by(|a, b| a.1.total_cmp(&b.1)).filter(|(_, left)| *left < AT_ODDS - 0.5).map(|(other, _)| other)
        });
        let weighted = solve(covariance.to_vec(), off.to_vec());
        let freedom = ChiSquared::new(off.len() as f64).expect("there are readings");
        Agreement {
            against: against.collect(),
            chance: Some(1.0 - freedom.cdf(dot(off, &weighted).max(0.0))),
            off: alone,
        }
    }
}

/// How far reading `one` is off what the rest of `among` lead to expect: with the
/// inverse covariance P, `(P y)_i / sqrt(P_ii)`.
fn left_out(one: usize, among: &[usize], off: &[f64], covariance: &[Vec<f64>]) -> f64 {
    let part: Vec<Vec<f64>> = among.iter().map(|&i| among.iter().map(|&j| covariance[i][j]).collect()).collect();
    let unit: Vec<f64> = among.iter().map(|&i| if i == one { 1.0 } else { 0.0 }).collect();
    let column = solve(part, unit);
    let at = among.iter().position(|&i| i == one).expect("it is among them");
    let values: Vec<f64> = among.iter().map(|&i| off[i]).collect();
    dot(&column, &values) / column[at].sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// Two readings of one unknown, closed form: the difference of two normals.
    #[test]
    fn two_readings_of_one_thing() {
        // y = a z + noise, z and noise standard normal.
        let a = 3.0;
        let covariance = [vec![a * a + 1.0, a * a], vec![a * a, a * a + 1.0]];
        let agreement = Agreement::new(&[4.0, -2.0], &covariance);
        // Given the other, the mean is a^2/(a^2+1) of it, the variance
        // 1 + a^2/(a^2+1).
        let share = a * a / (a * a + 1.0);
        assert_relative_eq!(agreement.off[0], (4.0 + 2.0 * share) / (1.0 + share).sqrt(), max_relative = 1e-12);
        assert_relative_eq!(agreement.off[1], (-2.0 - 4.0 * share) / (1.0 + share).sqrt(), max_relative = 1e-12);
        assert_eq!(agreement.against, [Some(1), Some(0)]);
        assert!(agreement.chance.expect("there are readings") < 0.001);
    }

    #[test]
    fn what_no_other_reading_explains_is_against_the_typical() {
        let covariance = [vec![5.0, 0.0], vec![0.0, 2.0]];
        let agreement = Agreement::new(&[8.0, 0.3], &covariance);
        assert_eq!(agreement.against, [None, None]);
        assert!(agreement.off[0] > AT_ODDS && agreement.off[1] < 1.0);
    }
}
