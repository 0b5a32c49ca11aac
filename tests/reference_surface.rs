//! Surface and play against circle geometry, exact integrals and published
//! describing functions.

use std::f64::consts::{PI, TAU};

use approx::assert_relative_eq;
use spindlewise_engine::mechanics::play::dead_zone;
use spindlewise_engine::mechanics::surface::{
    chatter_unevenness, cusp_ra, damping_left, evened, floor_cusp, marking_feed, ridge_ra, ringing, scatter_ra,
    wall_cusp,
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

/// Ra over height of parabola 4/(9 sqrt 3), triangle 1/4: by the definition of Ra,
/// integrated here.
#[test]
fn average_roughness_of_two_shapes() {
    assert_relative_eq!(cusp_ra(1.0), ra(|x| (2.0 * x - 1.0).powi(2)), max_relative = 1e-4);
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

    let mark = |teeth, offset, scatter| marking_feed(feed, teeth, radius, offset, scatter);
    assert_eq!(mark(4, 0.0, 0.0), feed);
    let almost = mark(4, 0.9 * hiding, 0.0);
    assert!(almost > feed && almost < 3.9 * feed, "{almost}");
    assert_relative_eq!(mark(4, hiding, 0.0), 4.0 * feed);
    assert_relative_eq!(mark(4, 1.0, 0.0), 4.0 * feed);
    assert_eq!(mark(1, 1.0, 0.0), feed);
    // Where marks scatter by more than the runout, every tooth is the lowest now
    // and then.
    assert!(mark(4, 0.01, 1.0) < 1.01 * feed);
}

/// Ra of the envelope of parabolas of radius `radius`, `feed` apart, whose depths
/// are those of a swing of standard deviation one at moments that know nothing of
/// each other.
fn envelope_ra(feed: f64, radius: f64) -> f64 {
    const COUNT: usize = 24_000;
    const POINTS: usize = 6;
    // The minimal standard generator: Park and Miller, Comm. ACM 31 (1988), with
    // the multiplier of 36 (1993) (from memory).
    const MODULUS: u64 = (1 << 31) - 1;
    let states = std::iter::successors(Some(1_u64), |state| Some(state * 48_271 % MODULUS));
    let phase = |state: u64| TAU * state as f64 / MODULUS as f64;
    let depths: Vec<f64> = states.take(COUNT).map(|state| 2.0_f64.sqrt() * phase(state).sin()).collect();
    let reach = (2.0 * 8.0_f64.sqrt() * radius).sqrt() / feed;
    let heights: Vec<f64> = (0..COUNT * POINTS)
        .map(|point| {
            let x = point as f64 / POINTS as f64;
            let from = (x - reach).max(0.0) as usize;
            let to = ((x + reach) as usize + 1).min(COUNT - 1);
            let cut = |i: usize| depths[i] - ((x - i as f64) * feed).powi(2) / (2.0 * radius);
            (from..=to).map(cut).fold(f64::NEG_INFINITY, f64::max)
        })
        .collect();
    let mean = heights.iter().sum::<f64>() / heights.len() as f64;
    heights.iter().map(|z| (z - mean).abs()).sum::<f64>() / heights.len() as f64
}

/// Far apart, marks show their whole scatter: mean size of a normal spread,
/// sqrt(2/pi) of its standard deviation. Close together the deepest wins; the
/// parabolas of a tool that swings, cut here one by one, leave what the formula
/// says within 1.4, over four decades, and within 1.15 where they are closest.
#[test]
fn of_neighbouring_marks_the_deepest_wins() {
    assert_relative_eq!(scatter_ra(1e-9, 0.1, 5.0), (2.0 / PI).sqrt() * 1e-9, max_relative = 0.01);
    assert_eq!(scatter_ra(0.0, 0.1, 5.0), 0.0);
    for closeness in [0.003, 0.01, 0.03, 0.1, 0.3, 1.0, 3.0, 10.0, 30.0] {
        let feed = f64::sqrt(closeness);
        let cusps = cusp_ra(wall_cusp(feed, 1.0));
        let formula = scatter_ra(1.0, feed, 1.0).hypot(cusps);
        let counted = envelope_ra(feed, 1.0);
        let within: f64 = if closeness < 0.05 { 1.15 } else { 1.4 };
        assert!((formula / counted).ln().abs() < within.ln(), "{closeness}: {formula} {counted}");
    }
    // More scatter is never smoother, nor are marks further apart.
    for step in 1..100 {
        let (less, more) = (f64::from(step) * 1e-4, f64::from(step + 1) * 1e-4);
        assert!(scatter_ra(more, 0.05, 5.0) > scatter_ra(less, 0.05, 5.0));
        assert!(scatter_ra(1e-3, more, 5.0) > scatter_ra(1e-3, less, 5.0));
    }
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

/// Chatter starts from nothing at its limit, grows as the root of the overshoot
/// (normal form of a Hopf bifurcation: Guckenheimer and Holmes, Nonlinear
/// Oscillations, Dynamical Systems, and Bifurcations of Vector Fields (1983), ch.
/// 3, from memory) and stays bounded, since the tooth leaves the cut (Tlusty and
/// Ismail, Basic Non-Linearity in Machining Chatter, CIRP Annals 30 (1981)).
#[test]
fn chatter_grows_as_the_root_of_the_overshoot_and_stays_bounded() {
    let (limit, most) = (0.8, 0.5);
    let at = |depth| chatter_unevenness(depth, limit, most);
    assert_eq!(at(0.2), 0.0);
    assert_eq!(at(limit), 0.0);
    assert_relative_eq!(at(1.0004 * limit) / at(1.0001 * limit), 2.0, max_relative = 1e-3);
    let mut before = 0.0;
    for step in 0..10_000 {
        let now = at(limit * (1.0 + f64::from(step) * 1e-2));
        assert!(now >= before && now <= most, "step {step}: {now}");
        before = now;
    }
    assert!(before > 0.95 * most);
}

/// At the limit a mode has no damping left of its own (that is what the limit is;
/// Altintas and Budak, CIRP Annals 44 (1995)), without a cut it has all.
#[test]
fn the_cut_takes_damping_away() {
    assert_eq!(damping_left(0.0, 0.8), 1.0);
    assert_relative_eq!(damping_left(0.4, 0.8), 0.5);
    assert!(damping_left(0.8, 0.8) < 0.2 && damping_left(8.0, 0.8) > 0.0);
}

/// A pass that pushes harder bends the tool further, takes that out of its own chip
/// and leaves it to the next: `u = gain (push - u + before)` pass by pass, squares
/// summed term by term against the closed form of a first-order autoregression (Box
/// and Jenkins, Time Series Analysis, from memory).
#[test]
fn a_chip_that_gives_way_evens_the_force() {
    assert_eq!(evened(0.0), 1.0);
    assert_eq!(evened(-0.3), 1.0);
    for gain in [0.1, 0.5, 2.0, 10.0] {
        let (mut before, mut sum) = (0.0, 0.0);
        for pass in 0..2000 {
            let push = if pass == 0 { 1.0 } else { 0.0 };
            before = (gain * (push + before)) / (1.0 + gain);
            sum += before * before;
        }
        assert_relative_eq!(evened(gain) * gain, sum.sqrt(), max_relative = 1e-9);
    }
}

/// Ringing: variance of the answers to unequal pushes a tooth apart, each
/// `e^(-z w t) sin(w t)` of mean square one half whatever its phase; a first-order
/// autoregression, 1/(1 - q^2) (Box and Jenkins, Time Series Analysis, from
/// memory), summed here term by term.
#[test]
fn ringing_adds_up_what_has_not_died_away() {
    for (damping, frequency, passes) in [(0.03, 300.0, 73.0), (0.02, 60.0, 40.0), (0.05, 900.0, 30.0)] {
        for since in [0.0, 0.4, 1.0] {
            let decay = damping * 2.0 * PI * frequency / passes;
            let squares: f64 = (0..10_000).map(|n| 0.5 * (-2.0 * decay * (f64::from(n) + since)).exp()).sum();
            assert_relative_eq!(ringing(damping, frequency, passes, since), squares.sqrt(), max_relative = 1e-9);
        }
    }
}
