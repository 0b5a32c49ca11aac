//! Workholding against the friction and lever rules of fixture design.

use approx::assert_relative_eq;
use spindlewise_engine::decision::{Figure, derivation};
use spindlewise_engine::mechanics::grip::{Load, margin};
use spindlewise_engine::scenario::demo;
use spindlewise_engine::work::Workholding;

fn sideways(force: f64) -> Load {
    Load { feed: force, normal: 0.0, lift: 0.0, height: 0.0 }
}

/// Shock of an interrupted cut that the margins already hold. Hoffman asks for 1.5
/// to 3 on the steady force (from memory).
const SHOCK: f64 = 1.5;

/// The factor is the one the user is told.
#[test]
fn the_shock_factor_is_shown() {
    let case = demo().resolve().case;
    for figure in [Figure::Slip, Figure::Lift] {
        let formula = derivation(figure, &case).formula;
        assert!(formula.contains("1.5"), "{formula}");
    }
}

/// Hoffman, Jig and Fixture Design (from memory): two-jaw grip needs
/// `F_c = S F / (2 mu)`; 500 N, S 2, mu 0.15: 3333 N. The margin reported is S
/// over the shock already in it.
#[test]
fn two_jaws_hold_by_friction() {
    let held = margin(Workholding::BareVise, 3_333.33, 0.15, &sideways(500.0));
    assert_relative_eq!(held.slip, 2.0 / SHOCK, max_relative = 1e-5);
}

/// Friction has one capacity for all directions in its plane: forces add as
/// vectors.
#[test]
fn forces_share_the_friction() {
    let load = Load { feed: 200.0, normal: 300.0, lift: 600.0, height: 0.0 };
    let together = margin(Workholding::BareVise, 5_000.0, 0.15, &load).slip;
    let alone = margin(Workholding::BareVise, 5_000.0, 0.15, &sideways(700.0)).slip;
    assert_relative_eq!(together, alone, max_relative = 1e-12);
}

/// A stop takes the force along the feed; only the rest is left to friction.
#[test]
fn a_stop_takes_the_feed_force() {
    let load = Load { feed: 400.0, normal: 300.0, lift: 0.0, height: 0.0 };
    let stopped = margin(Workholding::ViseStop, 5_000.0, 0.15, &load).slip;
    let bare = margin(Workholding::BareVise, 5_000.0, 0.15, &load).slip;
    assert_relative_eq!(stopped / bare, 500.0 / 300.0, max_relative = 1e-12);
}

/// Tipping is a lever (statics): the margin falls as one over the height of the
/// cut, doubles with clamp force, and jaws hold by friction where straps press
/// with their whole force, 1/(2 mu) times as much.
#[test]
fn tipping_is_a_lever() {
    let at = |height: f64| Load { feed: 0.0, normal: 300.0, lift: 0.0, height };
    let lift = |kind, clamp, height| margin(kind, clamp, 0.15, &at(height)).lift;
    let vise = |clamp, height| lift(Workholding::BareVise, clamp, height);
    assert_relative_eq!(vise(5_000.0, 10.0), 2.0 * vise(5_000.0, 20.0));
    assert_relative_eq!(vise(5_000.0, 10.0), 0.5 * vise(10_000.0, 10.0));
    assert_relative_eq!(lift(Workholding::StepClamps, 5_000.0, 10.0), vise(5_000.0, 10.0) / (2.0 * 0.15));
    // Moment balance about the edge of the grip, with the arm taken from a pure
    // pull up: grip * arm = shock * (F h + lift * arm).
    let up = Load { feed: 0.0, normal: 0.0, lift: 400.0, height: 10.0 };
    let pulled = margin(Workholding::BareVise, 5_000.0, 0.15, &up).lift;
    assert_relative_eq!(pulled, 2.0 * 0.15 * 5_000.0 / (SHOCK * 400.0));
    let tipped = vise(5_000.0, 10.0);
    let both = Load { lift: 400.0, ..at(10.0) };
    let combined = margin(Workholding::BareVise, 5_000.0, 0.15, &both).lift;
    assert_relative_eq!(1.0 / combined, 1.0 / pulled + 1.0 / tipped, max_relative = 1e-12);
}

/// No load, no movement; whatever the clamp.
#[test]
fn an_unloaded_part_stays() {
    for kind in [Workholding::BareVise, Workholding::HandTight, Workholding::Plate] {
        let held = margin(kind, 200.0, 0.1, &sideways(0.0));
        assert!(held.slip > 1e3 && held.lift > 1e3);
    }
}
