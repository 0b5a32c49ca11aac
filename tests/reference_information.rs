//! The worth of knowing more, against closed forms and a textbook's example.

use approx::assert_relative_eq;
use spindlewise_engine::decision::information::{perfect, reading};
use spindlewise_engine::readings::{scattered, sobol};
use statrs::distribution::{Continuous, ContinuousCDF, Normal};

const DRAWS: usize = 16_384;

/// Standard normal draws, column after column.
fn normals(columns: usize) -> Vec<Vec<f64>> {
    let normal = Normal::standard();
    let rows = sobol(DRAWS, columns, 11);
    (0..columns)
        .map(|column| (0..DRAWS).map(|row| normal.inverse_cdf(rows[row * columns + column])).collect())
        .collect()
}

/// The unit normal loss: what a normal gain of mean `-z` standard deviations is
/// worth if it can be declined (Raiffa and Schlaifer, Applied Statistical Decision
/// Theory, 1961, from memory).
fn loss(z: f64) -> f64 {
    let normal = Normal::standard();
    normal.pdf(z) - z * (1.0 - normal.cdf(z))
}

#[test]
fn the_loss_itself_has_the_published_values() {
    for (z, expected) in
        [(0.0, 0.398_942_280_4), (0.5, 0.197_796_557_4), (1.0, 0.083_315_470_6), (2.0, 0.008_490_702_6)]
    {
        assert_relative_eq!(loss(z), expected, epsilon = 1e-10);
    }
}

/// Doing nothing against a net gain of -20 + X1 + X2, X1 of standard deviation 40
/// and X2 of 30: knowing all is worth 50 L(0.4), knowing X1 alone 40 L(0.5), X2
/// alone 30 L(2/3).
#[test]
fn knowing_one_part_or_all_of_a_normal_gain() {
    let z = normals(2);
    let gain: Vec<f64> = (0..DRAWS).map(|i| -20.0 + 40.0 * z[0][i] + 30.0 * z[1][i]).collect();
    let nothing = vec![0.0; DRAWS];
    let worths: [&[f64]; 2] = [&nothing, &gain];
    assert_relative_eq!(50.0 * loss(0.4), 11.521_941_85, max_relative = 1e-9);
    assert_relative_eq!(perfect(&worths).mean, 11.521_941_85, max_relative = 0.005);
    assert_relative_eq!(reading(&z[0], &worths).mean, 7.911_862_296, max_relative = 0.03);
    assert_relative_eq!(reading(&z[1], &worths).mean, 4.533_589_415, max_relative = 0.03);
    // The share of machines on which one would act differently.
    assert_relative_eq!(perfect(&worths).changes, 1.0 - Normal::standard().cdf(0.4), epsilon = 0.005);
    assert_relative_eq!(reading(&z[0], &worths).changes, 1.0 - Normal::standard().cdf(0.5), epsilon = 0.02);
}

/// A reading with an error: prior N(-20, 50), one observation of standard
/// deviation 60 leaves 50^2/sqrt(50^2 + 60^2) as the spread of the new mean.
#[test]
fn a_reading_with_an_error_is_worth_less() {
    let z = normals(2);
    let gain: Vec<f64> = z[0].iter().map(|z| -20.0 + 50.0 * z).collect();
    let nothing = vec![0.0; DRAWS];
    let shown: Vec<f64> = gain.iter().zip(&z[1]).map(|(gain, error)| gain + 60.0 * error).collect();
    let spread = 2500.0 / 50.0_f64.hypot(60.0);
    assert_relative_eq!(spread * loss(20.0 / spread), 5.184_466_221, max_relative = 1e-9);
    assert_relative_eq!(reading(&shown, &[&nothing, &gain]).mean, 5.184_466_221, max_relative = 0.05);
}

/// Three options alike, each N(0, 1): knowing all is worth 3 / (2 sqrt pi).
#[test]
fn the_best_of_three() {
    let z = normals(3);
    let expected = 3.0 / (2.0 * std::f64::consts::PI.sqrt());
    assert_relative_eq!(expected, 0.846_284_375_3, max_relative = 1e-9);
    assert_relative_eq!(perfect(&[&z[0], &z[1], &z[2]]).mean, expected, max_relative = 0.01);
}

/// A well that costs 70 to drill: dry (half of the time) it brings nothing, wet
/// (three in ten) 120, soaking (two in ten) 270. Raiffa, Decision Analysis (1968),
/// from memory: expected 20, knowing all 35.
#[test]
fn the_oil_well() {
    let drill: Vec<f64> =
        [(-70.0, 5), (50.0, 3), (200.0, 2)].iter().flat_map(|&(net, times)| vec![net; times]).collect();
    let not = vec![0.0; 10];
    assert_relative_eq!(drill.iter().sum::<f64>() / 10.0, 20.0);
    assert_relative_eq!(perfect(&[&not, &drill]).mean, 35.0, max_relative = 1e-12);
}

/// What has nothing to do with the options is worth nothing, to the accuracy of
/// the estimate; and no reading is worth more than knowing all.
#[test]
fn chance_is_not_mistaken_for_knowledge() {
    let z = normals(2);
    let gain: Vec<f64> = z[0].iter().map(|z| -20.0 + 50.0 * z).collect();
    let nothing = vec![0.0; DRAWS];
    let worths: [&[f64]; 2] = [&nothing, &gain];
    let idle: Vec<f64> = scattered(DRAWS, 3).collect();
    let found = reading(&idle, &worths);
    assert!(found.mean <= 2.0 * found.standard_error + 1e-9 && found.mean < 0.1, "{found:?}");
    assert!(reading(&gain, &worths).mean <= perfect(&worths).mean);
}

/// Few draws: the standard error says how far off the gain may be.
#[test]
fn the_standard_error_is_honest() {
    let mut outside = 0;
    let tries = 200;
    for attempt in 0..tries {
        let normal = Normal::standard();
        let z: Vec<f64> = scattered(2 * 1024, 1000 + attempt).map(|u| normal.inverse_cdf(u)).collect();
        let gain: Vec<f64> = (0..1024).map(|i| -20.0 + 40.0 * z[i] + 30.0 * z[1024 + i]).collect();
        let found = reading(&z[..1024], &[&vec![0.0; 1024], &gain]);
        outside += u32::from((found.mean - 7.911_862_296).abs() > 2.0 * found.standard_error);
    }
    // Two standard errors, one time in twenty or so; a fit on half the draws is
    // not quite the best, so a little more often.
    assert!(outside < 24, "{outside} of {tries}");
}
