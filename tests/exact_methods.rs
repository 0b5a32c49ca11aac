//! The closed forms and the fuller methods see the same machine.

use approx::assert_relative_eq;
use spindlewise_engine::decision::{Fit, Representative, decide};
use spindlewise_engine::mechanics::lobes::{Freedom, Scan, characteristic};
use spindlewise_engine::mechanics::pair::SPEED_BAND;
use spindlewise_engine::mechanics::simulation::{Run, Verdict};
use spindlewise_engine::mechanics::{Bearings, ModeGroup, Plausible, Prepared, Unknown, usual};
use spindlewise_engine::quantity::Length;
use spindlewise_engine::scenario::{Field, Scenario, demo};
use spindlewise_engine::work::{Axis, CutSense, Setup};

const ACTUAL: Bearings = Bearings::AsTheyAre;

fn setup() -> Setup {
    demo().resolve().case.setup
}

/// Without what only one of the two sides has: play, runout, rubbing, slipping.
fn plain(setup: &Setup) -> Plausible {
    let mut iron = usual(setup).middle();
    for unknown in [Unknown::RadialPlay, Unknown::AxialPlay, Unknown::QuillPlay, Unknown::TablePlay, Unknown::Runout] {
        iron[unknown] = 1e-7;
    }
    iron[Unknown::RubDamping] = 1e-3;
    iron[Unknown::ClampForce] = 1e5;
    // The cutter and its seat, which the simulation slows down and rubbing calms,
    // leave chatter to the others.
    for unknown in [Unknown::CutterFactor, Unknown::Joint, Unknown::Taper, Unknown::ShaftFactor] {
        iron[unknown] *= 1e3;
    }
    iron
}

fn prepared(depth: f64, sense: CutSense) -> Prepared {
    let mut setup = setup();
    setup.cut.axial_depth = Length::mm(depth);
    setup.cut.sense = sense;
    Prepared::new(&setup)
}

/// The middle machine shows the figures that stand beside it.
#[test]
fn the_representative_lies_in_the_middle() {
    let mut alu = Scenario::new("plate");
    alu.set_entry(Field::RockRadial, "20 µm");
    for scenario in [demo(), alu, Scenario::new("blank")] {
        let case = scenario.resolve().case;
        let now = decide(&case).now;
        let middle = Fit::new(&case).representative();
        assert_relative_eq!(middle.outcome.depth_limit, now.depth_limit.mid, max_relative = 0.1);
        assert_relative_eq!(middle.outcome.wall, now.wall.mid, max_relative = 0.1);
        assert_eq!(middle, Fit::new(&case).representative());
    }
}

/// The limit that rules is the least of the modes' own.
#[test]
fn the_weakest_mode_sets_the_limit() {
    let case = demo().resolve().case;
    let fit = Fit::with(&case, 256);
    for iron in fit.some(64) {
        let forces = fit.prepared.forces(&iron);
        for bearings in [ACTUAL, Bearings::Perfect] {
            let outcome = fit.prepared.run(&iron, &forces, bearings);
            let weakest = fit.prepared.weakest(&iron, &forces, bearings);
            assert_relative_eq!(weakest.limit, outcome.depth_limit, max_relative = 1e-12);
        }
    }
}

/// Mean forces of the simulated cut are those of the closed form once force and
/// width have settled.
#[test]
fn forces_agree() {
    for sense in [CutSense::Conventional, CutSense::Climb] {
        let prepared = prepared(0.05, sense);
        let iron = plain(&prepared.setup);
        let forces = prepared.forces(&iron);
        let trace = prepared.simulation(&iron, &forces, ACTUAL, Run::default()).expect("valid").run();
        assert_eq!(trace.verdict(), Verdict::Stable);
        let [x, y, _] = trace.mean_force();
        // The closed form scales all components with the work per tooth.
        assert_relative_eq!(x.hypot(y), forces.mean.0.hypot(forces.mean.1), max_relative = 0.1);
        assert_eq!(x.signum(), forces.mean.0.signum());
    }
}

/// Below the exact limit of its lobes the simulated cut settles, above it
/// chatters; without the edge force, which no limit knows.
#[test]
fn limits_agree() {
    for sense in [CutSense::Conventional, CutSense::Climb] {
        let at = prepared(0.5, sense);
        let mut iron = plain(&at.setup);
        iron[Unknown::EdgeFactor] = 1e-9;
        let forces = at.forces(&iron);
        let group = at.weakest(&iron, &forces, ACTUAL).group;
        let lobes = at.lobes(&iron, &forces, ACTUAL, group);
        let limit = characteristic::limit(&lobes, at.setup.cut.speed.as_rpm(), Scan::default()).expect("a limit").depth;
        for (share, verdict) in [(0.7, Verdict::Stable), (1.3, Verdict::Chatter)] {
            let prepared = prepared(share * limit, sense);
            let run = Run { revolutions: 150, ..Run::default() };
            let trace = prepared.simulation(&iron, &prepared.forces(&iron), ACTUAL, run).expect("valid").run();
            assert_eq!(trace.verdict(), verdict, "{sense:?}, {share} of {limit} mm");
        }
    }
}

/// The lobes are of the very modes, in the frame of the feed, and have the limit
/// that the closed form counts on: the least within a few percent of the speed.
#[test]
fn lobes_are_of_the_same_modes() {
    for axis in [Axis::X, Axis::Y] {
        let mut setup = setup();
        setup.cut.axis = axis;
        let prepared = Prepared::new(&setup);
        let iron = plain(&setup);
        let forces = prepared.forces(&iron);
        let weakest = prepared.weakest(&iron, &forces, ACTUAL);
        let lobes = prepared.lobes(&iron, &forces, ACTUAL, weakest.group);
        let Freedom::Two(modes) = lobes.modes else { panic!("two modes") };
        let own = modes[usize::from(!weakest.along_feed)];
        assert_relative_eq!(own.mode.stiffness, weakest.own.mode.stiffness);
        assert_relative_eq!(own.mode.damping, weakest.own.mode.damping, max_relative = 1e-3);
        assert_eq!(weakest.axis == axis, weakest.along_feed);
        let speeds = (-8..=8).map(|i| setup.cut.speed.as_rpm() * (1.0 + SPEED_BAND * f64::from(i) / 8.0));
        let limits = speeds.map(|speed| characteristic::limit(&lobes, speed, Scan::default()).expect("a limit").depth);
        let exact = limits.fold(f64::INFINITY, f64::min);
        assert_relative_eq!(exact, weakest.limit, max_relative = 0.15);
    }
}

/// Perfect bearings leave the quill's shake and nothing else to rattle.
#[test]
fn perfect_bearings_have_no_play() {
    let prepared = prepared(0.3, CutSense::Conventional);
    let mut iron = plain(&prepared.setup);
    iron[Unknown::RadialPlay] = 0.02;
    iron[Unknown::PreloadForce] = 0.1;
    let forces = prepared.forces(&iron);
    let travel = |bearings| {
        let trace = prepared.simulation(&iron, &forces, bearings, Run::default()).expect("valid").run();
        trace.spindle_travel[1]
    };
    let (actual, perfect) = (travel(ACTUAL), travel(Bearings::Perfect));
    assert!(actual > 2.0 * perfect && actual > 0.02, "{actual} {perfect}");
}

/// Every group has lobes; the representative's own are those that chatter first.
#[test]
fn the_representative_can_be_charted_and_simulated() {
    let middle: Representative = Fit::with(&demo().resolve().case, 256).representative();
    assert_eq!(middle.lobes(ACTUAL), middle.lobes_of(middle.weakest.group, ACTUAL));
    for group in ModeGroup::ALL {
        let Freedom::Two(modes) = middle.lobes_of(group, ACTUAL).modes else { panic!("two modes") };
        assert!(modes.iter().all(|one| one.mode.stiffness > 0.0 && one.mode.frequency > 0.0));
    }
    // Cut deeper than its machine can.
    let mut deeper = demo();
    deeper.set_entry(Field::AxialDepth, "4 mm");
    let middle = Fit::with(&deeper.resolve().case, 256).representative();
    assert!(middle.outcome.depth_limit < 2.0);
    let trace = middle.simulation(ACTUAL, Run::default()).expect("valid").run();
    assert_eq!(trace.verdict(), Verdict::Chatter);
}
