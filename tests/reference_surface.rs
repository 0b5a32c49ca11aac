//! Surface and play against circle geometry, exact integrals and published
//! describing functions.

use std::f64::consts::PI;

use approx::assert_relative_eq;
use spindlewise_engine::mechanics::play::dead_zone;
use spindlewise_engine::mechanics::surface::{
    chatter_mark, cusp_ra, floor_cusp, marking_feed, ridge_ra, ringing, sine_ra, wall_cusp,
};

/// Ra of one period of `profile` by its definition (ISO 4287:1997, 4.2.1): mean
/// distance from the mean line.
fn ra(profile: impl Fn(f64) -> f64) -> f64 {
    const N: usize = 200_000;
    let heights: Vec<f64> = (0..N).map(|i| profile((i as f64 + 0.5) / N as f64)).collect();
    let mean = heights.iter().sum::<f64>() / N as f64;
    heights.iter().map(|z| (z - mean).abs()).sum::<f64>() / N as f64
}

/// Feed marks of a straight end mill: 0.1 mm at R 5 mm leaves 0.25 um (a milling
/// catalogue's technical page; exact circle 0.250 006 um), 0.064 15 um Ra; one
/// mark per revolution of four teeth 4.0 um. Corner marks have the same form
/// (turning geometry; Shaw, Metal Cutting Principles, from memory).
#[test]
fn cusps() {
    let rt = wall_cusp(0.1, 5.0);
    assert_relative_eq!(rt * 1e3, 0.25, max_relative = 1e-12);
    let exact = 5.0 - (25.0 - 0.05_f64 * 0.05).sqrt();
    assert_relative_eq!(rt, exact, max_relative = 1e-4);
    assert_relative_eq!(cusp_ra(rt) * 1e3, 0.064_15, max_relative = 1e-4);
    assert_relative_eq!(wall_cusp(0.4, 5.0) * 1e3, 4.0, max_relative = 1e-12);
    assert_relative_eq!(floor_cusp(0.1, 0.8), 0.1 * 0.1 / 6.4, max_relative = 1e-12);
}

/// Ra over height of parabola 4/(9 sqrt 3), sine 1/pi, triangle 1/4: by the
/// definition of Ra, integrated here.
#[test]
fn average_roughness_of_three_shapes() {
    assert_relative_eq!(cusp_ra(1.0), ra(|x| (2.0 * x - 1.0).powi(2)), max_relative = 1e-4);
    assert_relative_eq!(sine_ra(1.0), ra(|x| 0.5 * (2.0 * PI * x).sin()), max_relative = 1e-4);
    assert_relative_eq!(ridge_ra(1.0), ra(|x| 1.0 - (2.0 * x - 1.0).abs()), max_relative = 1e-4);
}

/// A tooth lower than its neighbours by `f^2/(2R)` leaves no mark (two teeth,
/// circle geometry, computed here by the lowest of the circles).
#[test]
fn runout_hides_teeth() {
    let (feed, radius) = (0.05, 5.0);
    let hiding = feed * feed / (2.0 * radius);
    assert_relative_eq!(hiding * 1e3, 0.25, max_relative = 1e-12);
    // Does the low tooth's circle, between two high ones a feed away, still cut
    // below them anywhere?
    let marks = |lower: f64| {
        let high = |x: f64| radius - (radius * radius - x * x).sqrt();
        (-1000..=1000).any(|i| {
            let x = f64::from(i) / 1000.0 * feed;
            let deepest = high(x - feed).min(high(x + feed));
            lower + high(x) < deepest - 1e-9
        })
    };
    assert!(marks(0.95 * hiding) && !marks(1.05 * hiding));

    assert_eq!(marking_feed(feed, 4, radius, 0.0), feed);
    let almost = marking_feed(feed, 4, radius, 0.9 * hiding);
    assert!(almost > feed && almost < 3.9 * feed, "{almost}");
    assert_relative_eq!(marking_feed(feed, 4, radius, hiding), 4.0 * feed);
    assert_relative_eq!(marking_feed(feed, 4, radius, 1.0), 4.0 * feed);
    assert_eq!(marking_feed(feed, 1, radius, 1.0), feed);
}

/// Dead zone, first harmonic: Gelb and Vander Velde, Multiple-Input Describing
/// Functions and Nonlinear System Design (1968), table of describing functions
/// (from memory): 0.391 002 at g/A = 0.5; and against the Fourier integral.
#[test]
fn dead_zone_by_its_describing_function() {
    assert_relative_eq!(dead_zone(0.5, 1.0), 0.391_002, max_relative = 2e-6);
    for ratio in [0.01, 0.1, 0.3, 0.5, 0.8, 0.99] {
        const N: usize = 100_000;
        let first: f64 = (0..N)
            .map(|i| {
                let sin = (2.0 * PI * (i as f64 + 0.5) / N as f64).sin();
                let beyond = (sin.abs() - ratio).max(0.0) * sin.signum();
                2.0 * beyond * sin / N as f64
            })
            .sum();
        assert_relative_eq!(dead_zone(ratio, 1.0), first, max_relative = 1e-5);
    }
    assert_eq!(dead_zone(1.0, 1.0), 0.0);
    assert_eq!(dead_zone(2.0, 1.0), 0.0);
    assert_eq!(dead_zone(0.0, 1.0), 1.0);
}

/// Chatter leaves no mark at its limit, sets in without a jump, and stays
/// bounded, since the tooth leaves the cut (Tlusty and Ismail, Basic
/// Non-Linearity in Machining Chatter, CIRP Annals 30 (1981)).
#[test]
fn chatter_sets_in_smoothly_and_stays_bounded() {
    let (limit, feed, mark) = (0.8, 0.05, 1.5);
    let at = |depth| chatter_mark(depth, limit, feed, mark);
    assert_eq!(at(0.2), 0.0);
    assert_eq!(at(limit), 0.0);
    let mut before = 0.0;
    for step in 0..10_000 {
        let depth = limit * (1.0 + f64::from(step) * 1e-2);
        let now = at(depth);
        assert!(now >= before, "falls at {depth}");
        assert!(now - before < 0.011 * mark * feed, "jumps at {depth}");
        assert!(now <= mark * feed, "unbounded at {depth}");
        before = now;
    }
    assert!(before > 0.95 * mark * feed);
}

/// Ringing: root of the sum of squares of the answers to unequal pushes a tooth
/// apart, `x_n = e^(-z w T) x_(n-1) + p_n`: variance of a first-order
/// autoregression 1/(1 - q^2) (Box and Jenkins, Time Series Analysis, from
/// memory), summed here term by term.
#[test]
fn ringing_adds_up_what_has_not_died_away() {
    for (damping, frequency, passes) in [(0.03, 300.0, 73.0), (0.02, 60.0, 40.0), (0.05, 900.0, 30.0)] {
        let kept = (-damping * 2.0 * PI * frequency / passes).exp();
        let squares: f64 = (0..10_000).map(|n| kept.powi(2 * n)).sum();
        assert_relative_eq!(ringing(damping, frequency, passes), squares.sqrt(), max_relative = 1e-9);
    }
}
