//! Play without swing: a load that keeps its direction seats a clearance, and it
//! stays seated; one that turns crosses it. In closed form and in time.

use std::f64::consts::PI;

use approx::assert_relative_eq;
use spindlewise_engine::decision::Fit;
use spindlewise_engine::mechanics::demonstration::{PlayAndSwing, Shown, play_and_swing};
use spindlewise_engine::mechanics::play;
use spindlewise_engine::mechanics::simulation::{Clearance, LooseSpindle, Run, Trace, peak_to_peak};
use spindlewise_engine::mechanics::{Bearings, Outcome, Plausible, Prepared, Unknown, usual};
use spindlewise_engine::quantity::{Angle, Length, UnitSystem};
use spindlewise_engine::scenario::demo;
use spindlewise_engine::work::Setup;

/// The demonstration's machine with a cutter of six teeth on a steep helix.
fn setup(depth_over_pitch: f64) -> Setup {
    let mut setup = demo().resolve().case.setup;
    let cutter = &mut setup.cutter;
    (cutter.flutes, cutter.helix) = (6, Angle::rad(1.0));
    setup.cut.radial_width = Length::mm(5.0);
    // More than anything moves, so that no tooth leaves the cut.
    setup.cut.feed_per_tooth = Length::mm(0.2);
    // An edge as deep as the axial pitch makes a steady force (geometry: as much
    // edge comes in as goes out).
    let pitch = PI * cutter.diameter.as_mm() / (6.0 * 1.0_f64.tan());
    setup.cut.axial_depth = Length::mm(depth_over_pitch * pitch);
    setup
}

/// A machine whose cut is nearly all edge force and does not chatter, with
/// bearings of `play` (mm) that nothing holds shut.
fn machine(setup: &Setup, play: f64) -> Plausible {
    use Unknown as U;
    let mut iron = usual(setup).middle();
    for unknown in [U::Runout, U::QuillPlay, U::TablePlay] {
        iron[unknown] = 1e-7;
    }
    iron[U::RadialPlay] = play;
    iron[U::PreloadForce] = 1e-3;
    iron[U::ForceFactor] = 1e-3;
    iron[U::EdgeFactor] = 0.3;
    iron[U::ClampForce] = 1e5;
    // What would calm it, and what would hide it on the wall.
    iron[U::RubDamping] = 1e-3;
    (iron[U::ProcessRoughness], iron[U::Unsteadiness]) = (1e-5, 1e-4);
    iron
}

fn both_ways(depth_over_pitch: f64, play: f64) -> (Outcome, Trace) {
    let prepared = Prepared::new(&setup(depth_over_pitch));
    let iron = machine(&prepared.setup, play);
    let forces = prepared.forces(&iron);
    let actual = Bearings::AsTheyAre;
    let run = Run { revolutions: 200, entry: 50, ..Run::default() };
    let trace = prepared.simulation(&iron, &forces, actual, run).expect("valid").run();
    (prepared.run(&iron, &forces, actual), trace)
}

/// Ten times the play, and nothing that counts is any different.
#[test]
fn a_load_that_does_not_swing_leaves_play_alone() {
    let ((tight, tight_trace), (slack, slack_trace)) = (both_ways(1.0, 0.004), both_ways(1.0, 0.04));
    assert!(slack.play_travel < 0.02 * 0.04, "{}", slack.play_travel);
    assert_relative_eq!(slack.wall, tight.wall, max_relative = 0.01);
    assert_relative_eq!(slack.depth_limit, tight.depth_limit, max_relative = 0.01);
    for axis in [0, 1] {
        let [tight, slack] = [&tight_trace, &slack_trace].map(|trace| trace.spindle_travel[axis]);
        assert!(slack < tight + 0.02 * 0.04, "{axis}: {slack} {tight}");
    }
    assert_eq!(slack_trace.loose, 0.0);
}

/// The same machine and cutter, less deep: now ten times the play shows in all of
/// it.
#[test]
fn a_load_that_swings_crosses_play() {
    let ((tight, tight_trace), (slack, slack_trace)) = (both_ways(0.15, 0.004), both_ways(0.15, 0.04));
    assert!(slack.play_travel > 5.0 * tight.play_travel && slack.play_travel > 0.3 * 0.04, "{}", slack.play_travel);
    assert!(slack.wall > 1.5 * tight.wall, "{} {}", slack.wall, tight.wall);
    let [tight, slack] = [tight_trace, slack_trace].map(|trace| trace.spindle_travel[1]);
    assert!(slack > tight + 0.15 * 0.04, "{slack} {tight}");
}

/// How far the spindle goes along the axis of the demonstration.
fn travel(shown: &PlayAndSwing, path: &[[f64; 3]]) -> f64 {
    peak_to_peak(path)[shown.axis()]
}

/// The same load, and in time what the closed form says: play adds nothing, or the
/// whole clearance (the chord of the clearance circle, geometry); all else is
/// springs.
#[test]
fn demonstration_and_closed_form_agree() {
    for gap in [0.005, 0.02] {
        let radial = Clearance { gap, stiffness: 20_000.0, damping: 0.2, hold: 0.0 };
        let spindle = LooseSpindle { mass: 1.0, radial, axial: radial, bias: [0.0, 0.0, 20.0] };
        let shown = play_and_swing(spindle, 80.0).expect("valid");
        let PlayAndSwing { play, steady, turning } = &shown;
        assert_eq!(*play, 2.0 * gap);
        for load in [steady, turning] {
            assert_relative_eq!(load.swing.peak, 80.0, max_relative = 1e-9);
        }
        let chord = |load: &Shown| play::travel(*play, load.swing.angle);
        assert!(chord(steady) < 0.01 * gap);
        assert!(travel(&shown, &steady.with.displacement) < 0.01 * gap);
        assert!(travel(&shown, &steady.added()) < 0.01 * gap);
        assert_eq!(steady.with.loose, 0.0);

        assert_relative_eq!(travel(&shown, &turning.added()), chord(turning), max_relative = 0.1);
        // Springs alone: no more than the force over the stiffness, each way.
        let springs = travel(&shown, &turning.without.displacement) / (2.0 * 80.0 / 20_000.0);
        assert!((0.8..1.01).contains(&springs), "{springs}");
        let sentence = shown.sentence(UnitSystem::Metric);
        assert!(sentence.contains("play adds nothing"), "{sentence}");
    }
}

/// A spindle so soft that the load would bend it by the feed: less of it shows the same.
#[test]
fn a_soft_spindle_is_loaded_less() {
    let radial = Clearance { gap: 0.02, stiffness: 40.0, damping: 0.2, hold: 0.0 };
    let spindle = LooseSpindle { mass: 1.0, radial, axial: radial, bias: [0.0, 0.0, 20.0] };
    let shown = play_and_swing(spindle, 80.0).expect("valid");
    assert!(shown.turning.swing.peak < 80.0);
    let chord = play::travel(shown.play, shown.turning.swing.angle);
    assert_relative_eq!(travel(&shown, &shown.turning.added()), chord, max_relative = 0.1);
    assert!(travel(&shown, &shown.steady.added()) < 0.01 * shown.play);
}

/// Without any play the springs do what they do, and play adds nothing to it.
#[test]
fn without_play_there_is_nothing_to_add() {
    let radial = Clearance { gap: 0.0, stiffness: 20_000.0, damping: 0.2, hold: 0.0 };
    let spindle = LooseSpindle { mass: 1.0, radial, axial: radial, bias: [0.0, 0.0, 20.0] };
    let shown = play_and_swing(spindle, 80.0).expect("valid");
    assert_eq!(shown.turning.with, shown.turning.without);
    assert!(travel(&shown, &shown.turning.with.displacement) > 1e-3);
}

/// On the demonstration's own machine play adds about its own size, where the load
/// turns and not where it doesn't; what springs do is not called play.
#[test]
fn the_representative_shows_it() {
    let shown = Fit::with(&demo().resolve().case, 256).representative().play_and_swing().expect("valid");
    let [steady, turning] = [&shown.steady, &shown.turning].map(|load| travel(&shown, &load.added()));
    assert!(steady < 0.01 * shown.play, "{steady} of {}", shown.play);
    assert!((0.7..1.2).contains(&(turning / shown.play)), "{turning} of {}", shown.play);
}

/// A preload beyond the load leaves nothing to cross.
#[test]
fn preload_takes_it_out() {
    let radial = Clearance { gap: 0.02, stiffness: 20_000.0, damping: 0.2, hold: 200.0 };
    let spindle = LooseSpindle { mass: 1.0, radial, axial: radial, bias: [0.0, 0.0, 20.0] };
    let shown = play_and_swing(spindle, 80.0).expect("valid");
    assert!(travel(&shown, &shown.turning.added()) < 0.01 * shown.play);
    assert_eq!(shown.turning.with.loose, 0.0);
}
