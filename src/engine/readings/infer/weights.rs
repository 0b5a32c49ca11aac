//! Importance weights, and how far to trust them.

use crate::order;

/// Weights that add up to one, from their logarithms.
pub fn normalised(log_weights: &[f64]) -> Vec<f64> {
    let most = log_weights.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let weights: Vec<f64> = log_weights.iter().map(|weight| (weight - most).exp()).collect();
    let total: f64 = weights.iter().sum();
    weights.into_iter().map(|weight| weight / total).collect()
}

/// Systematic resampling: as many picks as weights, evenly spaced.
pub fn resample(weights: &[f64]) -> Vec<usize> {
    let count = weights.len();
    let mut chosen = Vec::with_capacity(count);
    let mut reached = weights[0];
    let mut index = 0;
    for pick in 0..count {
        let at = (pick as f64 + 0.5) / count as f64;
        while reached < at && index + 1 < count {
            index += 1;
            reached += weights[index];
        }
        chosen.push(index);
    }
    chosen
}

/// With a heavier tail than this of their weights, a few machines decide.
pub const HEAVY_TAIL: f64 = 0.7;

/// How heavy the tail of the weights is: the shape of a generalised Pareto
/// distribution fitted to the largest. Below 0.7 averages over the sample can be
/// trusted; above, a few machines decide (Vehtari and others, Journal of Machine
/// Learning Research 25 (2024)); the fit is that of Zhang and Stephens,
/// Technometrics 51 (2009), drawn a little towards one half as the former advise.
pub fn tail(weights: &[f64]) -> f64 {
    let count = weights.len();
    let largest = (0.2 * count as f64).min(3.0 * (count as f64).sqrt()).ceil() as usize;
    if largest < 5 || largest >= count {
        return f64::INFINITY;
    }
    let mut sorted = weights.to_vec();
    order::ascending(&mut sorted);
    let least = sorted[count - largest - 1];
    let beyond: Vec<f64> = sorted[count - largest..].iter().map(|weight| weight - least).collect();
    // All weights alike: no tail at all.
    if beyond[largest - 1] <= 1e-12 * sorted[count - 1] {
        return f64::NEG_INFINITY;
    }
    shape(&beyond)
}

/// Shape of the generalised Pareto distribution of `beyond`, smallest first.
fn shape(beyond: &[f64]) -> f64 {
    let count = beyond.len() as f64;
    let quartile = beyond[((count / 4.0 + 0.5) as usize).max(1) - 1].max(f64::MIN_POSITIVE);
    let most = beyond[beyond.len() - 1];
    let candidates = 30 + count.sqrt() as usize;
    let mean_log = |b: f64| beyond.iter().map(|x| (-b * x).ln_1p()).sum::<f64>() / count;
    let scored: Vec<(f64, f64)> = (1..=candidates)
        .map(|j| {
            let b = 1.0 / most + (1.0 - (candidates as f64 / (j as f64 - 0.5)).sqrt()) / (3.0 * quartile);
            let k = mean_log(b);
            (b, count * ((-b / k).ln() - k - 1.0))
        })
        .collect();
    let best = scored.iter().map(|(_, score)| *score).fold(f64::NEG_INFINITY, f64::max);
    let (mut sum, mut total) = (0.0, 0.0);
    for (b, score) in &scored {
        let weight = (score - best).exp();
        sum += b * weight;
        total += weight;
    }
    let k = mean_log(sum / total);
    (count * k + 5.0) / (count + 10.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn resampling_follows_the_weights() {
        let picks = resample(&[0.5, 0.25, 0.25, 0.0]);
        assert_eq!(picks, [0, 0, 1, 2]);
    }

    /// Evenly spaced quantiles of generalised Pareto distributions have their
    /// shape, but for the pull towards one half.
    #[test]
    fn the_shape_of_a_known_tail_is_found() {
        for shape_of in [0.1_f64, 0.3, 0.7, 1.2] {
            let count = 400;
            let quantile = |i: i32| ((1.0 - (f64::from(i) + 0.5) / f64::from(count)).powf(-shape_of) - 1.0) / shape_of;
            let sample: Vec<f64> = (0..count).map(quantile).collect();
            let found = shape(&sample);
            assert!((found - shape_of).abs() < 0.06, "{shape_of}: {found}");
        }
    }

    #[test]
    fn even_weights_have_no_tail() {
        assert!(tail(&[0.01; 100]) < 0.0);
    }
}
