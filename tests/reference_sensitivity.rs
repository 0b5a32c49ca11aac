//! Which input drives the spread, against functions whose indices are known.

use std::f64::consts::PI;

use approx::assert_abs_diff_eq;
use spindlewise_engine::decision::sensitivity::{first_order, total_order};
use spindlewise_engine::readings::sobol;

const DRAWS: usize = 16_384;

/// First-order and total indices of `figure` for each of its inputs, uniform
/// between 0 and 1.
fn indices(inputs: usize, figure: impl Fn(&[f64]) -> f64) -> Vec<(f64, f64)> {
    let rows = sobol(DRAWS, 2 * inputs, 5);
    let row = |at: usize| &rows[at * 2 * inputs..][..2 * inputs];
    let y: Vec<f64> = (0..DRAWS).map(|at| figure(&row(at)[..inputs])).collect();
    (0..inputs)
        .map(|input| {
            let x: Vec<f64> = (0..DRAWS).map(|at| row(at)[input]).collect();
            let changed = (0..DRAWS).map(|at| {
                let mut other = row(at)[..inputs].to_vec();
                other[input] = row(at)[inputs + input];
                figure(&other)
            });
            (first_order(&x, &y), total_order(&y, &changed.collect::<Vec<f64>>()))
        })
        .collect()
}

/// Ishigami and Homma, Proc. 1st Int. Symp. Uncertainty Modeling and Analysis
/// (1990): sin x1 + 7 sin^2 x2 + 0.1 x3^4 sin x1, each uniform from -pi to pi.
#[test]
fn the_function_of_ishigami_and_homma() {
    let found = indices(3, |u| {
        let x: Vec<f64> = u.iter().map(|u| PI * (2.0 * u - 1.0)).collect();
        x[0].sin() + 7.0 * x[1].sin().powi(2) + 0.1 * x[2].powi(4) * x[0].sin()
    });
    let expected = [(0.313_905_191_1, 0.557_588_855_2), (0.442_411_144_8, 0.442_411_144_8), (0.0, 0.243_683_664_1)];
    for ((first, total), (s, t)) in found.into_iter().zip(expected) {
        assert_abs_diff_eq!(first, s, epsilon = 0.01);
        assert_abs_diff_eq!(total, t, epsilon = 0.01);
    }
}

/// Saltelli and Sobol', Reliability Engineering and System Safety 50 (1995), from
/// memory: the product of (|4 x - 2| + a) / (1 + a), a = 0, 1, 4.5, 9 and four
/// times 99.
#[test]
fn the_g_function() {
    let a = [0.0, 1.0, 4.5, 9.0, 99.0, 99.0, 99.0, 99.0];
    let found = indices(8, |u| u.iter().zip(a).map(|(u, a)| ((4.0 * u - 2.0).abs() + a) / (1.0 + a)).product());
    let first = [0.716_192_168_9, 0.179_048_042_2, 0.023_675_774_2, 0.007_161_921_7];
    let total = [0.787_144_126_7, 0.242_198_192_8, 0.034_316_910_2, 0.010_460_387_1];
    for (input, (s, t)) in found.iter().enumerate() {
        let (expected_first, expected_total) =
            if input < 4 { (first[input], total[input]) } else { (0.000_071_619_2, 0.000_104_949_1) };
        assert_abs_diff_eq!(*s, expected_first, epsilon = 0.01);
        assert_abs_diff_eq!(*t, expected_total, epsilon = 0.01);
    }
}

/// A figure that never changes has nothing that drives it.
#[test]
fn what_is_certain_has_no_drivers() {
    assert_eq!(indices(2, |_| 3.0), [(0.0, 0.0), (0.0, 0.0)]);
}
