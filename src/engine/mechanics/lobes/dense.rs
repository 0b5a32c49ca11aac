//! The same semi-discretization written out as one dense matrix, with nalgebra's
//! matrix exponential and eigenvalues: what the quick way has to agree with.

use std::f64::consts::TAU;

use nalgebra::{DMatrix, Schur};

use super::directional::Directional;
use super::semi_discretization::{Order, SemiDiscretization};
use super::{Freedom, Milling, OrientedMode};
use crate::mechanics::force::Engagement;
use crate::mechanics::stability::Mode;
use crate::work::{CutKind, CutSense};

/// Largest magnitude of a multiplier. Each interval maps displacements,
/// velocities and every displacement back to one tooth before onto the same an
/// interval later.
fn spectral_radius<const M: usize>(
    method: SemiDiscretization,
    milling: &Milling,
    modes: &[OrientedMode; M],
    speed: f64,
    depth: f64,
) -> f64 {
    let intervals = method.intervals;
    let step = milling.period(speed) / intervals as f64;
    let size = M * (2 + intervals);
    let oldest = size - M;
    let mut total = DMatrix::<f64>::identity(size, size);
    for mean in Directional::new(milling, modes, depth).means(intervals) {
        // Displacements, velocities, delayed displacements and their rate, in
        // time counted in steps.
        let mut generator = DMatrix::<f64>::zeros(4 * M, 4 * M);
        for (i, oriented) in modes.iter().enumerate() {
            let omega = TAU * oriented.mode.frequency * step;
            generator[(i, M + i)] = 1.0;
            generator[(M + i, i)] -= omega * omega;
            generator[(M + i, M + i)] = -2.0 * oriented.mode.damping * omega;
            generator[(2 * M + i, 3 * M + i)] = 1.0;
            for k in 0..M {
                let push = mean.map_or(0.0, |mean| mean[i][k]) * depth * step * step;
                generator[(M + i, k)] -= push;
                generator[(M + i, 2 * M + k)] += push;
            }
        }
        let solution = generator.exp();
        let mut map = DMatrix::<f64>::zeros(2 * M, size);
        for row in 0..2 * M {
            for k in 0..M {
                let (constant, ramp) = (solution[(row, 2 * M + k)], solution[(row, 3 * M + k)]);
                let [old, new] = match method.order {
                    Order::Zeroth => [0.5 * constant, 0.5 * constant],
                    Order::First => [constant - ramp, ramp],
                };
                map[(row, k)] = solution[(row, k)];
                map[(row, M + k)] = solution[(row, M + k)];
                map[(row, oldest + k)] += old;
                // With one interval the newer end is the displacement now.
                let newer = if intervals == 1 { 0 } else { oldest - M };
                map[(row, newer + k)] += new;
            }
        }
        let now = map * &total;
        let kept = total.rows(0, M).into_owned();
        let older = total.rows(2 * M, size - 3 * M).into_owned();
        total.rows_mut(0, 2 * M).copy_from(&now);
        total.rows_mut(2 * M, M).copy_from(&kept);
        total.rows_mut(3 * M, size - 3 * M).copy_from(&older);
    }
    let schur = Schur::try_new(total, f64::EPSILON, 100_000).expect("settles");
    schur.complex_eigenvalues().iter().map(|value| value.norm()).fold(0.0, f64::max)
}

/// From slow speeds, at which many multipliers are alike, to fast ones; from
/// shallow cuts to depths far beyond any limit; straight and twisted teeth; equal
/// modes, which share their multipliers; one interval and many.
#[test]
fn the_quick_radius_is_the_dense_one() {
    let mode = |stiffness, damping, frequency, direction| OrientedMode {
        mode: Mode { stiffness, damping, frequency },
        direction,
    };
    let first = mode(2000.0, 0.03, 150.0, 0.3);
    let equal = OrientedMode { direction: 0.3 + 0.25 * TAU, ..first };
    let seconds = [mode(5000.0, 0.02, 190.0, 1.2), mode(900.0, 0.1, 40.0, 2.0), equal];
    let freedoms = std::iter::once(Freedom::One([first])).chain(seconds.map(|other| Freedom::Two([first, other])));
    let mut checked = 0;
    for modes in freedoms {
        for (kind, sense, width) in [
            (CutKind::Slot, CutSense::Climb, 1.0),
            (CutKind::Side, CutSense::Climb, 0.5),
            (CutKind::Side, CutSense::Conventional, 0.05),
        ] {
            for helix in [0.0, 0.5] {
                let engagement = Engagement::new(kind, sense, width, 1.0);
                let milling = Milling { engagement, teeth: 3, helix, diameter: 10.0, ktc: 1800.0, krc: 700.0, modes };
                for speed in [80.0, 300.0, 1100.0, 3000.0, 12_000.0] {
                    for depth in [0.01, 0.4, 6.0] {
                        for (order, intervals) in [(Order::First, 40), (Order::Zeroth, 7), (Order::First, 1)] {
                            let method = SemiDiscretization { order, intervals };
                            let quick = method.critical_multiplier(&milling, speed, depth);
                            let quick = quick.unwrap_or_else(|| panic!("{milling:?} {speed} {depth} {method:?}")).abs();
                            let dense = match &modes {
                                Freedom::One(modes) => spectral_radius(method, &milling, modes, speed, depth),
                                Freedom::Two(modes) => spectral_radius(method, &milling, modes, speed, depth),
                            };
                            let off = (quick / dense - 1.0).abs();
                            assert!(off < 1e-9, "{milling:?} {speed} {depth} {method:?}: {quick}, {dense}, {off}");
                            checked += 1;
                        }
                    }
                }
            }
        }
    }
    assert_eq!(checked, 4 * 3 * 2 * 5 * 3 * 3);
}
