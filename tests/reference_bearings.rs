//! Bearing stiffness against Palmgren's formulas worked elsewhere, and against
//! Gargiulo's, which were published independently.

use approx::assert_relative_eq;
use spindlewise_engine::machine::{BallSize, BearingSize, SpindleSupport, bearing_size};
use spindlewise_engine::mechanics::bearing::{
    axial_stiffness, ball_axial_deflection, ball_deflection, pair_axial_stiffness, radial_stiffness, roller_deflection,
};

/// A 6202: 8 balls of 5.953 mm (ISO 15 size; balls from memory, they reproduce
/// the ISO 281 rating), and 15 rollers of 8 mm for the roller formulas.
fn size_6202() -> BearingSize {
    BearingSize { balls: BallSize { count: 8.0, diameter: 5.953 }, rollers: (15.0, 8.0), ..bearing_size(15.0) }
}

/// Gargiulo, A Simple Way to Estimate Bearing Stiffness, Machine Design 52
/// (1980) (coefficients from memory): radial deflection of a ball bearing,
/// `46.2e-6 (F^2 / (D Z^2 cos^5 a))^(1/3)` inches for pounds and inches; here in
/// mm for N and mm.
fn gargiulo_ball_radial(force: f64, count: f64, diameter: f64) -> f64 {
    let (pounds, inches) = (force / 4.448_222, diameter / 25.4);
    25.4 * 46.2e-6 * (pounds * pounds / (inches * count * count)).cbrt()
}

/// The same along the axis: `15.83e-6 (F^2 / (D Z^2 sin^5 a))^(1/3)`.
fn gargiulo_ball_axial(force: f64, count: f64, diameter: f64, angle: f64) -> f64 {
    let (pounds, inches) = (force / 4.448_222, diameter / 25.4);
    25.4 * 15.83e-6 * (pounds * pounds / (inches * count * count * angle.sin().powi(5))).cbrt()
}

/// The same for rollers: `3.71e-6 F^0.9 / (l^0.8 Z^0.9)`, for the usual clearance.
fn gargiulo_roller_radial(force: f64, count: f64, length: f64) -> f64 {
    let (pounds, inches) = (force / 4.448_222, length / 25.4);
    25.4 * 3.71e-6 * pounds.powf(0.9) / (inches.powf(0.8) * count.powf(0.9))
}

/// Palmgren, Ball and Roller Bearing Engineering (1959, from memory), worked
/// outside this program: 200 N on a 6202 with Q = 5 F / Z moves 6.014 um, and
/// the slope there is 49.9 N/um.
#[test]
fn a_deep_groove_ball_bearing_under_200_newtons() {
    let size = size_6202();
    assert_relative_eq!(ball_deflection(&size, 200.0) * 1e3, 6.014, max_relative = 1e-4);
    let slope = radial_stiffness(SpindleSupport::DeepGroove, &size, 200.0, 0.0);
    assert_relative_eq!(slope * 1e-3, 49.9, max_relative = 1e-3);
    // The slope really is the derivative of the deflection.
    let secant = 2.0 / (ball_deflection(&size, 201.0) - ball_deflection(&size, 199.0));
    assert_relative_eq!(slope, secant, max_relative = 1e-4);
}

/// The catalogue behind the wizard holds the same 6202.
#[test]
fn the_table_of_sizes_holds_the_6202() {
    let listed = bearing_size(15.0);
    assert_eq!(listed.bore, 15.0);
    assert_eq!(listed.balls, size_6202().balls);
    // ISO 281 rating of a 6202, kN (makers' catalogues, from memory).
    assert_relative_eq!(listed.dynamic_rating, 7_650.0, max_relative = 0.03);
}

/// ISO 281: `C = bm fc Z^(2/3) Dw^1.8` with bm 1.3; fc peaks at 60.0, at
/// Dw / Dpw = 0.19 (table value, from memory). Every listed size must have a
/// rating that its own balls can carry, within the 1.4 % that the table claims.
#[test]
fn ratings_agree_with_the_balls() {
    // fc by Dw / Dpw: ISO 281 table 2, from memory.
    const FC: [(f64, f64); 9] = [
        (0.14, 58.8),
        (0.16, 59.6),
        (0.18, 59.9),
        (0.20, 59.9),
        (0.22, 59.6),
        (0.24, 59.0),
        (0.26, 58.2),
        (0.28, 57.1),
        (0.30, 56.0),
    ];
    // Outside diameters of the 62 series (ISO 15).
    for (bore, outside) in
        [(12.0, 32.0), (15.0, 35.0), (17.0, 40.0), (20.0, 47.0), (25.0, 52.0), (30.0, 62.0), (35.0, 72.0)]
    {
        let size = bearing_size(bore);
        assert_eq!(size.bore, bore);
        let ratio = size.balls.diameter / (0.5 * (bore + outside));
        let above = FC.iter().position(|row| row.0 >= ratio).expect("in table");
        let (low, high) = (FC[above - 1], FC[above]);
        let fc = low.1 + (ratio - low.0) / (high.0 - low.0) * (high.1 - low.1);
        let rating = 1.3 * fc * size.balls.count.powf(2.0 / 3.0) * size.balls.diameter.powf(1.8);
        assert_relative_eq!(size.dynamic_rating, rating, max_relative = 0.02);
    }
}

/// 500 N on 15 rollers of 8 mm without clearance: 1.211 um, slope 459 N/um
/// (Palmgren, worked outside this program).
#[test]
fn a_roller_bearing_under_500_newtons() {
    let size = size_6202();
    assert_relative_eq!(roller_deflection(&size, 500.0) * 1e3, 1.211, max_relative = 5e-4);
    let slope = radial_stiffness(SpindleSupport::TaperedRoller, &size, 500.0, 0.0);
    assert_relative_eq!(slope * 1e-3, 459.0, max_relative = 1e-3);
    let secant = 2.0 / (roller_deflection(&size, 501.0) - roller_deflection(&size, 499.0));
    assert_relative_eq!(slope, secant, max_relative = 1e-4);
}

/// 100 N along an angular contact bearing of 8 balls of 5.953 mm, and the pair
/// preloaded by as much, 3 F0 / d0 (Palmgren, worked outside this program).
#[test]
fn angular_contact_bearings_along_the_axis() {
    let size = size_6202();
    for (degrees, micrometres, pair) in [(15.0_f64, 12.327, 24.3), (25.0, 5.444, 55.1), (40.0, 2.706, 110.8)] {
        let angle = degrees.to_radians();
        let moved = ball_axial_deflection(&size, angle, 100.0);
        assert_relative_eq!(moved * 1e3, micrometres, max_relative = 2e-4);
        let stiffness = pair_axial_stiffness(&size, angle, 100.0);
        assert_relative_eq!(stiffness * 1e-3, pair, max_relative = 2e-3);
    }
    // The pairs considered stand at 25 degrees.
    let support = axial_stiffness(SpindleSupport::AngularPair, &size, 0.0, 100.0);
    assert_relative_eq!(support * 1e-3, 55.1, max_relative = 2e-3);
}

/// Palmgren with Q = 5 F / Z and Gargiulo agree within a quarter of a percent:
/// radially 6.014 and 6.017 um, along the axis 5.444 and 5.457 um.
#[test]
fn palmgren_agrees_with_gargiulo() {
    let size = size_6202();
    let (count, diameter) = (size.balls.count, size.balls.diameter);
    for force in [20.0, 200.0, 1_000.0] {
        assert_relative_eq!(
            ball_deflection(&size, force),
            gargiulo_ball_radial(force, count, diameter),
            max_relative = 1e-3
        );
        for degrees in [15.0_f64, 25.0, 40.0] {
            let angle = degrees.to_radians();
            assert_relative_eq!(
                ball_axial_deflection(&size, angle, force),
                gargiulo_ball_axial(force, count, diameter, angle),
                max_relative = 3e-3
            );
        }
        // Gargiulo's rollers have the usual clearance (5 F / Z), those here none
        // (4.08 F / Z).
        let tighter = (4.08_f64 / 5.0).powf(0.9);
        assert_relative_eq!(
            roller_deflection(&size, force),
            tighter * gargiulo_roller_radial(force, size.rollers.0, size.rollers.1),
            max_relative = 2e-3
        );
    }
}

/// Point contact: deflection grows as F^(2/3), stiffness as F^(1/3): eight
/// times the preload is twice the stiffness. Line contact: F^0.9 (Palmgren).
#[test]
fn stiffness_grows_with_the_root_of_load() {
    let size = size_6202();
    for preload in [10.0, 100.0, 400.0] {
        let pair = |preload| pair_axial_stiffness(&size, 0.436, preload);
        assert_relative_eq!(pair(8.0 * preload), 2.0 * pair(preload), max_relative = 1e-12);
        let radial = |support, load| radial_stiffness(support, &size, load, 0.0);
        assert_relative_eq!(
            radial(SpindleSupport::DeepGroove, 8.0 * preload),
            2.0 * radial(SpindleSupport::DeepGroove, preload),
            max_relative = 1e-12
        );
        assert_relative_eq!(
            radial(SpindleSupport::TaperedRoller, 8.0 * preload),
            8.0_f64.powf(0.1) * radial(SpindleSupport::TaperedRoller, preload),
            max_relative = 1e-12
        );
        let held = |preload| radial_stiffness(SpindleSupport::AngularPair, &size, 5.0, preload);
        assert_relative_eq!(held(8.0 * preload), 2.0 * held(preload), max_relative = 1e-12);
    }
}

/// A preloaded pair across its axis: `k_r = k_a cos^2 a / (2 sin^2 a)`, from the
/// sum over the balls for small displacements. Summed here ball by ball.
#[test]
fn a_preloaded_pair_across_its_axis() {
    let (size, angle, preload) = (size_6202(), 25.0_f64.to_radians(), 100.0);
    let balls = size.balls.count as usize;
    // Both rows: slope of one contact at the preload, q = (d / 4.36e-4)^1.5 sqrt(Dw).
    let each = preload / (size.balls.count * angle.sin());
    let approach = 4.36e-4 * (each * each / size.balls.diameter).cbrt();
    let slope = 1.5 * each / approach;
    let radial: f64 = (0..balls)
        .map(|ball| {
            let at = std::f64::consts::TAU * ball as f64 / size.balls.count;
            2.0 * slope * (angle.cos() * at.cos()).powi(2)
        })
        .sum();
    let axial = 2.0 * slope * size.balls.count * angle.sin().powi(2);
    assert_relative_eq!(axial_stiffness(SpindleSupport::AngularPair, &size, 0.0, preload), axial, max_relative = 1e-5);
    assert_relative_eq!(
        radial_stiffness(SpindleSupport::AngularPair, &size, 5.0, preload),
        radial,
        max_relative = 1e-5
    );
}
