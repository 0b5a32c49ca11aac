//! A spread as twenty machines that stand for all, for a quantile dot plot: Kay,
//! Kola, Hullman and Munson, Proc. CHI 2016, "When (ish) is my bus?".

use serde::{Deserialize, Serialize};

use crate::order;

/// Dots of a plot: each is one machine in so many.
pub const DOTS: usize = 20;

/// The finish on twenty machines that stand for all: Ra in mm, smoothest first.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Dots {
    /// Everything left as it is.
    pub now: Vec<f64>,
    /// With the first step, if there is one.
    pub first: Option<Vec<f64>>,
}

/// The middle of each twentieth of `values`: their quantiles at (i − 1/2)/20.
pub fn dots(mut values: Vec<f64>) -> Vec<f64> {
    order::ascending(&mut values);
    (0..DOTS).map(|dot| values[(2 * dot + 1) * values.len() / (2 * DOTS)]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A uniform ladder: each dot stands in the middle of its twentieth.
    #[test]
    fn each_dot_has_as_many_on_either_side_as_it_should() {
        let ladder: Vec<f64> = (0..2000).rev().map(f64::from).collect();
        for (dot, value) in dots(ladder).into_iter().enumerate() {
            assert!((value - (50.0 + 100.0 * dot as f64)).abs() <= 1.0, "{dot}: {value}");
        }
        assert_eq!(dots(vec![3.0]), [3.0; DOTS]);
    }
}
