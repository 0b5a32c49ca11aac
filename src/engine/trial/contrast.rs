//! The difference of means, with what it may be off by.

use statrs::distribution::{ContinuousCDF, StudentsT};

/// Cuts of one kind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Group {
    /// How many.
    pub count: usize,
    /// Their mean.
    pub mean: f64,
    /// Their variance, by one less than the count.
    pub variance: f64,
}

impl Group {
    /// Of two values or more.
    pub fn of(values: &[f64]) -> Option<Self> {
        if values.len() < 2 {
            return None;
        }
        let count = values.len() as f64;
        let mean = values.iter().sum::<f64>() / count;
        let variance = values.iter().map(|value| (value - mean).powi(2)).sum::<f64>() / (count - 1.0);
        Some(Group { count: values.len(), mean, variance })
    }
}

/// A sum and difference of means.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contrast {
    /// The estimate.
    pub estimate: f64,
    /// Its standard error.
    pub standard_error: f64,
    /// Degrees of freedom of that; infinite where it is known.
    pub freedom: f64,
}

impl Contrast {
    /// Of groups, each with its sign, whose variances need not be the same, and with a
    /// variance `known` that more cuts don't lessen. Welch, Biometrika 34 (1947), with
    /// the degrees of freedom of Satterthwaite.
    pub fn welch(groups: &[(Group, f64)], known: f64) -> Self {
        let (mut estimate, mut variance, mut shares) = (0.0, known, 0.0);
        for (group, sign) in groups {
            let count = group.count as f64;
            let own = group.variance / count;
            estimate += sign * group.mean;
            variance += own;
            shares += own * own / (count - 1.0);
        }
        let freedom = if shares > 0.0 { variance * variance / shares } else { f64::INFINITY };
        Contrast { estimate, standard_error: variance.sqrt(), freedom }
    }

    /// The range that holds the truth with probability `level`.
    pub fn interval(&self, level: f64) -> (f64, f64) {
        let reach = quantile(0.5 + 0.5 * level, self.freedom) * self.standard_error;
        (self.estimate - reach, self.estimate + reach)
    }

    /// How often chance alone would show at least so large a difference, where
    /// there is none.
    pub fn by_chance(&self) -> f64 {
        if self.standard_error == 0.0 {
            return if self.estimate == 0.0 { 1.0 } else { 0.0 };
        }
        2.0 * student(self.freedom).cdf(-(self.estimate / self.standard_error).abs())
    }
}

/// The quantile of Student's distribution.
pub(super) fn quantile(probability: f64, freedom: f64) -> f64 {
    student(freedom).inverse_cdf(probability)
}

fn student(freedom: f64) -> StudentsT {
    // Beyond some thousand it is the normal one.
    StudentsT::new(0.0, 1.0, freedom.clamp(1.0, 1e4)).expect("a positive scale and freedom")
}
