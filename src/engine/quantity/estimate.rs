//! A positive quantity known only so well: a log-normal distribution and where it came from.

use std::fmt;

use serde::Serialize;
use statrs::distribution::{ContinuousCDF, Normal};

/// The standard normal quantile of 90 %, so that a typical range spans 10 % to 90 %.
const Z_90: f64 = 1.281_551_565_544_600_4;

/// Where a value comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Origin {
    /// Read from an instrument on this machine.
    Measured,
    /// Typed in by the user: from a nameplate, a drawing or a rule.
    Typed,
    /// What machines of this kind usually have.
    Typical,
    /// The same, narrowed by readings of something else.
    Narrowed,
    /// Worked out from other values.
    Computed,
}

/// A positive quantity whose logarithm is normally distributed, in its dimension's base unit.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Estimate {
    median: f64,
    log_sd: f64,
    origin: Origin,
    source: &'static str,
}

impl Estimate {
    /// How many standard deviations (of the logarithm) `value` lies above the median:
    /// the inverse of [`Estimate::at`]; 0 where the value is known exactly.
    pub fn standing(&self, value: f64) -> f64 {
        if self.log_sd > 0.0 { (value / self.median).ln() / self.log_sd } else { 0.0 }
    }

    /// A value that lies between `low` and `high` on four machines of five: they are its 10 % and
    /// 90 % quantiles. `source` says who says so.
    ///
    /// # Errors
    /// Bounds that are not positive and finite, or the wrong way round.
    // Where it is made nothing waits for it, and it is made in many places.
    #[inline(never)]
    pub fn typical(low: f64, high: f64, source: &'static str) -> Result<Self, EstimateError> {
        if check_positive(low)? > check_positive(high)? {
            return Err(EstimateError::Reversed { low, high });
        }
        // Taken apart so that no product or quotient overflows.
        let median = low.sqrt() * high.sqrt();
        let log_sd = (high.ln() - low.ln()) / (2.0 * Z_90);
        Self::new(median, log_sd, Origin::Typical, source)
    }

    /// A value the user typed, with its standard deviation as a share of the value.
    ///
    /// # Errors
    /// A value that is not positive and finite; a deviation that is negative or not finite.
    pub fn typed(value: f64, relative_sd: f64) -> Result<Self, EstimateError> {
        Self::relative(value, relative_sd, Origin::Typed, "entered by you")
    }

    /// A measured value, with its standard deviation as a share of the value.
    ///
    /// # Errors
    /// As [`Estimate::typed`].
    pub fn measured(value: f64, relative_sd: f64) -> Result<Self, EstimateError> {
        Self::relative(value, relative_sd, Origin::Measured, "measured by you")
    }

    /// A value worked out from others, with the standard deviation of its natural logarithm.
    ///
    /// # Errors
    /// As [`Estimate::typed`].
    pub fn computed(median: f64, log_sd: f64) -> Result<Self, EstimateError> {
        let source = "worked out from the other values";
        Self::new(median, log_sd, Origin::Computed, source)
    }

    /// A typed value taken as certain.
    ///
    /// # Errors
    /// A value that is not positive and finite.
    pub fn exact(value: f64) -> Result<Self, EstimateError> {
        Self::typed(value, 0.0)
    }

    /// The median is the value itself; a log-normal whose sd is the share c of its mean has
    /// log_sd² = ln(1 + c²).
    #[inline(never)]
    fn relative(value: f64, relative_sd: f64, origin: Origin, source: &'static str) -> Result<Self, EstimateError> {
        let log_sd = check_spread(relative_sd)?.powi(2).ln_1p().sqrt();
        Self::new(value, log_sd, origin, source)
    }

    fn new(median: f64, log_sd: f64, origin: Origin, source: &'static str) -> Result<Self, EstimateError> {
        let median = check_positive(median)?;
        let log_sd = check_spread(log_sd)?;
        Ok(Self { median, log_sd, origin, source })
    }

    /// The value as likely to be exceeded as not.
    pub const fn median(&self) -> f64 {
        self.median
    }

    /// The standard deviation of the natural logarithm; 0 for a value taken as certain.
    pub const fn log_sd(&self) -> f64 {
        self.log_sd
    }

    /// Where the value comes from.
    pub const fn origin(&self) -> Origin {
        self.origin
    }

    /// Who says so, in words for the user.
    pub const fn source(&self) -> &'static str {
        self.source
    }

    /// The value `z` standard deviations (of its logarithm) above the median.
    pub fn at(&self, z: f64) -> f64 {
        self.median * (self.log_sd * z).exp()
    }

    /// The value exceeded with probability 1 - `p`. NaN unless 0 < `p` < 1.
    pub fn quantile(&self, p: f64) -> f64 {
        if p > 0.0 && p < 1.0 { self.at(Normal::standard().inverse_cdf(p)) } else { f64::NAN }
    }

    /// The 10 % quantile.
    pub fn low(&self) -> f64 {
        self.at(-Z_90)
    }

    /// The 90 % quantile.
    pub fn high(&self) -> f64 {
        self.at(Z_90)
    }
}

/// Why an [`Estimate`] cannot be made.
#[derive(Clone, Copy, Debug, PartialEq)]
#[allow(missing_docs, reason = "the fields are explained with their variants")]
pub enum EstimateError {
    /// The value, in base units, is not above zero and finite.
    NotPositive { value: f64 },
    /// The spread is below zero or not finite.
    BadSpread { spread: f64 },
    /// The low end of the range lies above the high end.
    Reversed { low: f64, high: f64 },
}

impl fmt::Display for EstimateError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotPositive { value } => {
                write!(f, "The value is {value}; it must be more than zero and finite.")
            }
            Self::BadSpread { spread } => {
                write!(f, "The spread is {spread}; it must be zero or more and finite.")
            }
            Self::Reversed { low, high } => {
                write!(f, "The range runs from {low} down to {high}; swap its ends.")
            }
        }
    }
}

impl std::error::Error for EstimateError {}

fn check_positive(value: f64) -> Result<f64, EstimateError> {
    if value > 0.0 && value.is_finite() { Ok(value) } else { Err(EstimateError::NotPositive { value }) }
}

fn check_spread(spread: f64) -> Result<f64, EstimateError> {
    if spread >= 0.0 && spread.is_finite() { Ok(spread) } else { Err(EstimateError::BadSpread { spread }) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn assert_close(got: f64, expected: f64, tolerance: f64) {
        assert!((got / expected - 1.0).abs() < tolerance, "{got} is not {expected}");
    }

    #[test]
    fn a_typical_range_spans_four_in_five() {
        let play = Estimate::typical(0.002, 0.018, "common practice, no source").unwrap();
        assert_close(play.median(), 0.006, 1e-14);
        assert_close(play.low(), 0.002, 1e-14);
        assert_close(play.high(), 0.018, 1e-14);
        assert_close(play.quantile(0.1), 0.002, 1e-9);
        assert_close(play.quantile(0.9), 0.018, 1e-9);
        assert_eq!(play.quantile(0.5), play.median());
        assert_eq!((play.origin(), play.source()), (Origin::Typical, "common practice, no source"));
    }

    /// Normal quantiles as tabulated in the NIST/SEMATECH e-Handbook of Statistical Methods,
    /// section 1.3.6.7.1 (to four figures there; further figures from memory).
    #[test]
    fn quantiles_follow_the_normal_table() {
        let estimate = Estimate::computed(1.0, 1.0).unwrap();
        for (p, z) in [
            (0.5, 0.0),
            (0.841_344_746, 1.0),
            (0.9, 1.281_551_566),
            (0.975, 1.959_963_985),
            (0.99, 2.326_347_874),
            (0.025, -1.959_963_985),
        ] {
            assert!((estimate.quantile(p).ln() - z).abs() < 1e-8, "{p}");
        }
    }

    /// Mean and variance of a log-normal of parameters mu and s: exp(mu + s²/2) and
    /// (exp(s²) - 1) exp(2 mu + s²); Johnson, Kotz and Balakrishnan, Continuous Univariate
    /// Distributions, vol. 1, chapter 14 (from memory).
    #[test]
    fn the_relative_spread_is_sd_over_mean() {
        for share in [0.01, 0.1, 0.3, 1.0] {
            let estimate = Estimate::measured(20.0, share).unwrap();
            assert_close(estimate.median(), 20.0, 1e-15);
            let s2 = estimate.log_sd().powi(2);
            assert_close((s2.exp() - 1.0).sqrt(), share, 1e-12);
            assert_close(estimate.at(1.0), 20.0 * estimate.log_sd().exp(), 1e-15);
        }
    }

    #[test]
    fn a_certain_value_has_no_spread() {
        let bore = Estimate::exact(30.0).unwrap();
        for value in [bore.low(), bore.high(), bore.at(3.0), bore.quantile(0.01), bore.median()] {
            assert_eq!(value, 30.0);
        }
        assert_eq!(bore.origin(), Origin::Typed);
    }

    #[test]
    fn no_quantile_outside_the_open_interval() {
        let estimate = Estimate::typed(5.0, 0.2).unwrap();
        for p in [0.0, 1.0, -0.5, 2.0, f64::NAN] {
            assert!(estimate.quantile(p).is_nan());
        }
    }

    #[test]
    fn invalid_estimates_cannot_be_made() {
        for value in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            let not_positive =
                |made: Result<Estimate, EstimateError>| matches!(made, Err(EstimateError::NotPositive { .. }));
            assert!(not_positive(Estimate::exact(value)));
            assert!(not_positive(Estimate::typed(value, 0.1)));
            assert!(not_positive(Estimate::measured(value, 0.1)));
            assert!(not_positive(Estimate::computed(value, 0.1)));
            assert!(not_positive(Estimate::typical(value, 3.0, "")));
            assert!(not_positive(Estimate::typical(3.0, value, "")));
        }
        for spread in [-0.1, f64::NAN, f64::INFINITY, f64::MAX] {
            let made = Estimate::typed(1.0, spread);
            assert!(matches!(made, Err(EstimateError::BadSpread { .. })));
        }
        let reversed = Estimate::typical(3.0, 2.0, "").unwrap_err();
        assert_eq!(reversed, EstimateError::Reversed { low: 3.0, high: 2.0 });
        assert_eq!(reversed.to_string(), "The range runs from 3 down to 2; swap its ends.");
    }
}
