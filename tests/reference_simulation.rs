//! The simulation in time against closed forms, against limits that are exact
//! for the same model, and against the integrated forces.

use std::f64::consts::{PI, TAU};
use std::ops::ControlFlow;

use approx::assert_relative_eq;
use spindlewise_engine::mechanics::force::{
    CutGeometry, Engagement, ForceBasis, ForceCoefficients, ForceHistory, STEPS,
};
use spindlewise_engine::mechanics::play::dead_zone;
use spindlewise_engine::mechanics::simulation::{
    Clearance, Grip, Holding, Invalid, LooseSpindle, Milling, OrientedMode, Run, Simulation, Structure, Trace, Verdict,
    runout,
};
use spindlewise_engine::work::{CutKind, CutSense};

const X: [f64; 3] = [1.0, 0.0, 0.0];
const Y: [f64; 3] = [0.0, 1.0, 0.0];

/// A steel-like cut with a 10 mm cutter: coefficients of the usual size (Altintas,
/// *Manufacturing Automation*, 2nd ed. 2012, from memory).
fn milling(kind: CutKind, sense: CutSense, width: f64, teeth: u32, helix: f64) -> Milling {
    let engagement = Engagement::new(kind, sense, width, 10.0);
    Milling {
        geometry: CutGeometry { diameter: 10.0, teeth, helix, depth: 2.0, feed: 0.05, engagement },
        sense,
        coefficients: ForceCoefficients {
            ktc: 2000.0,
            krc: 800.0,
            kac: 300.0,
            kte: 30.0,
            kre: 25.0,
            kae: 5.0,
            thrust: 0.0,
        },
        speed: 1000.0,
        offsets: Vec::new(),
        lengths: Vec::new(),
        corner: 0.5,
        dish: 0.03,
        rubbing: 0.0,
        unsteadiness: 0.0,
    }
}

fn mode(stiffness: f64, damping: f64, frequency: f64, direction: [f64; 3]) -> OrientedMode {
    OrientedMode { stiffness, damping, frequency, direction }
}

fn modes(modes: &[OrientedMode]) -> Structure {
    Structure { modes: modes.to_vec(), ..Structure::default() }
}

fn take(milling: &Milling, structure: &Structure, run: Run) -> Trace {
    Simulation::new(milling.clone(), structure.clone(), run).expect("valid").run()
}

/// Soft in x, y and z, and stable in what is cut here.
fn soft() -> Structure {
    modes(&[mode(8000.0, 0.05, 180.0, X), mode(12_000.0, 0.04, 240.0, Y), mode(30_000.0, 0.05, 300.0, [0.0, 0.0, 1.0])])
}

fn short() -> Run {
    Run { revolutions: 60, entry: 5, kept: 2, refinement: 1 }
}

/// One row of `data/stability_limits.csv`, whose head says where it comes from.
struct Row {
    name: String,
    limit: f64,
    milling: Milling,
    structure: Structure,
}

fn rows() -> Vec<Row> {
    let lines = include_str!("data/stability_limits.csv").lines();
    lines.filter(|line| !line.starts_with('#')).skip(1).filter_map(row).collect()
}

/// Nothing where no limit is known.
fn row(line: &str) -> Option<Row> {
    let cells: Vec<&str> = line.split(',').collect();
    let number = |column: usize| -> f64 { cells[column].parse().expect(line) };
    let limit = cells[4].parse().ok()?;
    let sense = match cells[3] {
        "up" => CutSense::Conventional,
        "down" => CutSense::Climb,
        other => panic!("{other}"),
    };
    let mut milling = milling(CutKind::Side, sense, number(2) * 10.0, number(8) as u32, 0.0);
    milling.speed = number(1);
    milling.coefficients = ForceCoefficients { ktc: number(12) * 1e-6, krc: number(13) * 1e-6, ..Default::default() };
    let frequency = number(9);
    // kg and Hz to N/mm.
    let stiffness = number(11) * (TAU * frequency).powi(2) * 1e-3;
    let structure = modes(&[mode(stiffness, number(10), frequency, X)]);
    Some(Row { name: cells[..4].join(" "), limit, milling, structure })
}

/// Stable at 3 % below the exact limit, chatter at 3 % above it, in every row:
/// Hopf and period doubling, up and down, from a twentieth of the diameter to a
/// slot.
#[test]
fn verdicts_agree_with_the_exact_limits() {
    let rows = rows();
    assert_eq!(rows.len(), 104);
    let run = Run { revolutions: 200, entry: 20, kept: 1, refinement: 1 };
    let mut wrong = Vec::new();
    for row in &rows {
        for (share, expected) in [(0.97, Verdict::Stable), (1.03, Verdict::Chatter)] {
            let mut milling = row.milling.clone();
            milling.geometry.depth = share * row.limit;
            let trace = take(&milling, &row.structure, run);
            if trace.verdict() != expected {
                wrong.push((&row.name, share, trace.change()));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:?}");
}

/// The same for two modes that cross, with and without helix, from 30 % below to
/// 20 % above the limits of `data/oriented_limits.csv`, whose head says where they
/// come from.
#[test]
fn verdicts_agree_for_modes_that_cross() {
    let run = Run { revolutions: 400, entry: 20, kept: 1, refinement: 1 };
    let (mut points, mut wrong) = (0, Vec::new());
    for line in include_str!("data/oriented_limits.csv").lines().filter(|line| !line.starts_with('#')).skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let number = |column: usize| -> f64 { cells[column].parse().expect(line) };
        let sense = if cells[3] == "up" { CutSense::Conventional } else { CutSense::Climb };
        let mut milling = milling(CutKind::Side, sense, 10.0 * number(2), number(0) as u32, number(4));
        milling.speed = number(1);
        milling.coefficients = ForceCoefficients { ktc: number(5), krc: number(6), ..Default::default() };
        let structure = modes(&[7, 11].map(|first| {
            let (sin, cos) = number(first + 3).sin_cos();
            mode(number(first), number(first + 1), number(first + 2), [cos, sin, 0.0])
        }));
        use Verdict::{Chatter, Stable};
        for (share, expected) in [(0.7, Stable), (0.97, Stable), (1.03, Chatter), (1.2, Chatter)] {
            milling.geometry.depth = share * number(15);
            points += 1;
            let trace = take(&milling, &structure, run);
            if trace.verdict() != expected {
                wrong.push((line, share, trace.change()));
            }
        }
    }
    assert_eq!(points, 240);
    assert!(wrong.is_empty(), "{} wrong: {wrong:#?}", wrong.len());
}

/// With nothing that gives way, the forces are those integrated exactly along
/// the edge (Altintas 2012, ch. 2), to within slices and steps.
#[test]
fn a_rigid_machine_has_the_integrated_forces() {
    for (kind, sense, width, teeth, helix, offset) in [
        (CutKind::Slot, CutSense::Conventional, 10.0, 4, 0.5, 0.0),
        (CutKind::Side, CutSense::Conventional, 2.5, 4, 0.5, 0.0),
        (CutKind::Side, CutSense::Climb, 2.5, 3, 0.7, 0.0),
        (CutKind::Side, CutSense::Climb, 8.0, 2, 0.5, 0.025),
        (CutKind::Side, CutSense::Conventional, 4.0, 2, 0.3, 0.05),
    ] {
        let mut milling = milling(kind, sense, width, teeth, helix);
        milling.offsets = runout(offset, 0.0, teeth);
        let run = Run { revolutions: 4, entry: 0, kept: 1, refinement: 8 };
        let trace = take(&milling, &Structure::default(), run);
        let exact = ForceBasis::new(&milling.geometry, sense).forces(offset, &milling.coefficients);
        let steps = trace.steps_per_revolution as f64;
        let simulated = |axis: usize, step: usize| {
            // Step n of a revolution comes at n + 1 of its parts.
            let at = (step as f64 + 0.5) / STEPS as f64 * steps - 1.0;
            let (below, share) = (at.floor() as usize, at.fract());
            let [a, b] = [below, below + 1].map(|i| trace.force[i % trace.force.len()][axis]);
            a + share * (b - a)
        };
        for (axis, exact) in [&exact.x, &exact.y, &exact.z].into_iter().enumerate() {
            let size = exact.iter().fold(0.0_f64, |most, force| most.max(force.abs()));
            let off = exact.iter().enumerate().map(|(step, force)| (simulated(axis, step) - force).powi(2));
            let off = (off.sum::<f64>() / STEPS as f64).sqrt() / size;
            assert!(off < 0.015, "{kind:?} {sense:?} {offset}: axis {axis} off by {off}");
            let mean = (trace.mean_force()[axis] - ForceHistory::mean(exact)) / size;
            assert!(mean.abs() < 0.008, "{kind:?} {sense:?} {offset}: mean of axis {axis} off by {mean}");
        }
    }
}

/// Mean forces worked from the linear-edge model: a full slot by hand, `-N b (Krc
/// f/4 + Kre/pi)` and so on (Altintas 2012, from memory); a quarter of the
/// diameter by quadrature.
#[test]
fn mean_forces() {
    use CutSense::{Climb, Conventional};
    for (kind, sense, width, expected) in [
        (CutKind::Slot, Conventional, 10.0, [Some(-143.662), Some(276.394), Some(58.197)]),
        (CutKind::Side, Conventional, 2.5, [Some(-112.4), Some(11.5), None]),
        (CutKind::Side, Climb, 2.5, [Some(49.3), Some(104.9), None]),
    ] {
        for helix in [0.0, 0.5] {
            let milling = milling(kind, sense, width, 4, helix);
            let trace = take(&milling, &Structure::default(), Run { revolutions: 4, entry: 0, kept: 1, refinement: 4 });
            for (mean, expected) in trace.mean_force().into_iter().zip(expected) {
                if let Some(expected) = expected {
                    assert_relative_eq!(mean, expected, max_relative = 1e-3, epsilon = 0.06);
                }
            }
        }
    }
}

/// The answer of a mode at each step to a force that repeats every `force.len()`
/// steps: harmonics over `k (1 - r^2 + 2 i z r)`; Rao, *Mechanical Vibrations*,
/// response to a periodic force (from memory).
fn periodic_answer(force: &[f64], step: f64, mode: &OrientedMode) -> Vec<f64> {
    let count = force.len();
    let mut answer = vec![0.0; count];
    for harmonic in 0..=150_usize.min(count / 2 - 1) {
        let turn = |i: usize| TAU * ((harmonic * i) % count) as f64 / count as f64;
        let share = if harmonic == 0 { 1.0 } else { 2.0 } / count as f64;
        let (mut re, mut im) = (0.0, 0.0);
        for (i, force) in force.iter().enumerate() {
            let (sin, cos) = turn(i).sin_cos();
            (re, im) = (re + share * force * cos, im - share * force * sin);
        }
        let ratio = harmonic as f64 / (count as f64 * step) / mode.frequency;
        let (a, b) = (1.0 - ratio * ratio, 2.0 * mode.damping * ratio);
        let size = mode.stiffness * (a * a + b * b);
        let (re, im) = ((re * a + im * b) / size, (im * a - re * b) / size);
        for (i, answer) in answer.iter_mut().enumerate() {
            let (sin, cos) = turn(i).sin_cos();
            *answer += re * cos - im * sin;
        }
    }
    answer
}

/// In a stable cut with a true cutter, each tooth repeats the one before, so the
/// chip is that of a rigid machine and the motion the answer of the modes to its
/// forces. So is the place of the wall: Schmitz and Mann, Int. J. Mach. Tools
/// Manuf. 46 (2006).
#[test]
fn a_stable_cut_is_a_forced_vibration() {
    for sense in [CutSense::Conventional, CutSense::Climb] {
        let mut milling = milling(CutKind::Side, sense, 2.0, 3, 0.0);
        let structure = soft();
        milling.geometry.depth = 0.5;
        let run = Run { refinement: 2, ..short() };
        let trace = take(&milling, &structure, run);
        assert_eq!(trace.verdict(), Verdict::Stable);
        let steps = trace.steps_per_revolution;
        for (axis, own) in structure.modes.iter().enumerate() {
            let force: Vec<f64> = trace.force[..steps].iter().map(|force| force[axis]).collect();
            let expected = periodic_answer(&force, trace.step, own);
            let size = expected.iter().fold(0.0_f64, |most, at| most.max(at.abs()));
            for (at, expected) in trace.displacement.iter().zip(&expected) {
                assert!((at[axis] - expected).abs() < 0.005 * size, "{sense:?} {axis}: {} {expected}", at[axis]);
            }
        }
        let rigid = take(&milling, &Structure::default(), Run { refinement: 10, ..Run::default() });
        let force: Vec<f64> = rigid.force[..rigid.steps_per_revolution].iter().map(|force| force[1]).collect();
        let answer = periodic_answer(&force, rigid.step, &structure.modes[1]);
        let (index, sign) = match sense {
            CutSense::Conventional => (answer.len() - 1, 1.0),
            CutSense::Climb => (answer.len() / 2 - 1, -1.0),
        };
        assert_relative_eq!(trace.wall.location(0), sign * answer[index], max_relative = 0.02, epsilon = 1e-5);
    }
}

/// What the force does over a revolution, the damping takes: `sum F dx` against
/// `sum c v^2 dt`, `c = 2 z k / w`.
#[test]
fn energy_balances() {
    let own = mode(8000.0, 0.05, 180.0, X);
    for (depth, expected) in [(1.0, Verdict::Stable), (12.0, Verdict::Chatter)] {
        let mut milling = milling(CutKind::Side, CutSense::Conventional, 3.0, 3, 0.4);
        milling.geometry.depth = depth;
        let trace = take(&milling, &modes(&[own]), Run { kept: 30, revolutions: 120, ..short() });
        assert_eq!(trace.verdict(), expected);
        let (mut done, mut taken) = (0.0, 0.0);
        let dashpot = 2.0 * own.damping * own.stiffness / (TAU * own.frequency);
        for i in 1..trace.force.len() {
            let moved = trace.displacement[i][0] - trace.displacement[i - 1][0];
            done += 0.5 * (trace.force[i][0] + trace.force[i - 1][0]) * moved;
            taken += dashpot * moved * moved / trace.step;
        }
        let stored = |i: usize| {
            let [before, at] = [trace.displacement[i - 1][0], trace.displacement[i][0]];
            let (middle, speed) = (0.5 * (before + at), (at - before) / trace.step);
            let mass = own.stiffness / (TAU * own.frequency).powi(2);
            0.5 * own.stiffness * middle * middle + 0.5 * mass * speed * speed
        };
        let gained = stored(trace.force.len() - 1) - stored(1);
        assert_relative_eq!(done, taken + gained, max_relative = 0.01);
    }
}

/// Slowly turned, the tool follows the force: `F / k` at every step, ever closer
/// as speed goes to zero.
#[test]
fn slow_cuts_deflect_statically() {
    let own = mode(5000.0, 0.2, 600.0, Y);
    let mut last = f64::INFINITY;
    for speed in [400.0, 100.0, 25.0] {
        let mut milling = milling(CutKind::Slot, CutSense::Conventional, 10.0, 2, 0.0);
        (milling.speed, milling.coefficients.kte, milling.coefficients.kre) = (speed, 0.0, 0.0);
        milling.geometry.depth = 0.5;
        let trace = take(&milling, &modes(&[own]), Run { revolutions: 6, entry: 2, kept: 1, refinement: 1 });
        let pairs = || trace.force.iter().zip(&trace.displacement).map(|(force, at)| (force[1] / own.stiffness, at[1]));
        let size = pairs().fold(0.0_f64, |most, (expected, _)| most.max(expected.abs()));
        let off = pairs().fold(0.0_f64, |most, (expected, at)| most.max((at - expected).abs())) / size;
        assert!(off < 0.6 * last, "{speed} rpm: off by {off}");
        last = off;
    }
    assert!(last < 0.01, "{last}");
}

/// Half the step moves the peak to peak by less than 1 %: modes, helix and
/// runout, preloaded bearings, work that holds.
#[test]
fn half_the_step_changes_little() {
    let seated = Clearance { gap: 0.01, stiffness: 60_000.0, damping: 0.05, hold: 5000.0 };
    let spindle = LooseSpindle { mass: 3.0, radial: seated, axial: seated, bias: [0.0, 0.0, 30.0] };
    let holding = Holding {
        mass: 8.0,
        stiffness: [60_000.0; 3],
        damping: 0.04,
        friction: 5000.0,
        stop: false,
        grip: Grip::Clamps(8000.0),
    };
    let all = Structure { spindle: Some(spindle), holding: Some(holding), ..soft() };
    for sense in [CutSense::Conventional, CutSense::Climb] {
        for (structure, helix) in [(soft(), 0.0), (soft(), 0.5), (all.clone(), 0.5)] {
            let mut milling = milling(CutKind::Side, sense, 2.0, 3, helix);
            milling.offsets = runout(0.01, 0.3, 3);
            milling.geometry.depth = 1.0;
            let coarse = take(&milling, &structure, short()).peak_to_peak();
            let fine = take(&milling, &structure, Run { refinement: 2, ..short() }).peak_to_peak();
            for (coarse, fine) in coarse.into_iter().zip(fine) {
                assert_relative_eq!(coarse, fine, max_relative = 0.01);
            }
        }
    }
}

/// First harmonic of the dead zone: `1 - 2/pi (asin(g/A) + g/A sqrt(1 - (g/A)^2))`
/// of the stiffness, 0.391 002 at half the amplitude; Gelb and Vander Velde,
/// *Multiple-Input Describing Functions* (1968). Within 1e-6.
#[test]
fn a_clearance_has_the_published_describing_function() {
    let clearance = Clearance { gap: 0.01, stiffness: 50_000.0, damping: 0.0, hold: 0.0 };
    for amplitude in [0.0099, 0.011, 0.02, 0.05, 1.0] {
        const N: usize = 100_000;
        let harmonic = (0..N).map(|i| {
            let sin = (TAU * (i as f64 + 0.5) / N as f64).sin();
            let out = amplitude * sin;
            2.0 / N as f64 * sin * out.signum() * clearance.push(out.abs())
        });
        let equivalent = harmonic.sum::<f64>() / amplitude / clearance.stiffness;
        assert_relative_eq!(equivalent, dead_zone(clearance.gap, amplitude), epsilon = 1e-6);
    }
    assert_relative_eq!(dead_zone(0.01, 0.02), 0.391_002, epsilon = 1e-6);
}

/// Preload keeps a clearance shut, at full stiffness, up to what it holds.
#[test]
fn preload_closes_the_gap_up_to_its_hold() {
    let clearance = Clearance { gap: 0.01, stiffness: 50_000.0, damping: 0.0, hold: 200.0 };
    assert_relative_eq!(clearance.push(0.003), 150.0);
    assert_relative_eq!(clearance.push(0.010), 200.0);
    assert_relative_eq!(clearance.push(0.016), 300.0, max_relative = 1e-12);
    for force in [10.0, 150.0, 250.0, 900.0] {
        assert_relative_eq!(clearance.push(clearance.rest(force)), force, max_relative = 1e-12);
    }
}

fn loose(gap: f64, bias: [f64; 3]) -> Structure {
    let radial = Clearance { gap, stiffness: 40_000.0, damping: 0.1, hold: 0.0 };
    let axial = Clearance { gap: 0.5 * gap, ..radial };
    Structure { spindle: Some(LooseSpindle { mass: 4.0, radial, axial, bias }), ..Structure::default() }
}

/// Play shows only where the load swings. An edge as deep as the axial pitch
/// `pi D / (N tan helix)` makes a steady force (geometry: as much edge comes in as
/// goes out), and the spindle moves no more in a loose bearing than in a tight
/// one; at a fraction of that depth it crosses the gap.
#[test]
fn play_shows_only_where_the_load_swings() {
    let gap = 0.02;
    let travel = |sense: CutSense, teeth: u32, share: f64, gap: f64| {
        let mut milling = milling(CutKind::Side, sense, 2.5, teeth, 1.0);
        milling.coefficients = ForceCoefficients { ktc: 600.0, krc: 200.0, kte: 15.0, kre: 10.0, ..Default::default() };
        milling.geometry.depth = share * PI * 10.0 / (f64::from(teeth) * milling.geometry.helix.tan());
        let trace = take(&milling, &loose(gap, [0.0, 0.0, 60.0]), Run { revolutions: 200, ..short() });
        trace.spindle_travel[1]
    };
    for sense in [CutSense::Climb, CutSense::Conventional] {
        let (tight, slack) = (travel(sense, 6, 1.0, 0.0), travel(sense, 6, 1.0, gap));
        assert!(slack < 0.02 * gap, "{sense:?}: {tight} {slack}");
    }
    let (tight, crossing) =
        (travel(CutSense::Conventional, 2, 0.15, 0.0), travel(CutSense::Conventional, 2, 0.15, gap));
    assert!(crossing > tight + 0.9 * gap, "{crossing} {tight}");
}

/// A steady side load or a preload takes play out of the same cut.
#[test]
fn preload_and_belt_pull_seat_the_spindle() {
    let mut milling = milling(CutKind::Side, CutSense::Conventional, 2.5, 4, 0.5);
    milling.geometry.depth = 1.0;
    let gap = 0.02;
    let free = take(&milling, &loose(gap, [0.0, 0.0, 60.0]), short());
    let pulled = take(&milling, &loose(gap, [0.0, -2000.0, 60.0]), short());
    let mut preloaded = loose(gap, [0.0, 0.0, 60.0]);
    if let Some(spindle) = &mut preloaded.spindle {
        spindle.radial.hold = 1000.0;
        spindle.axial.hold = 1000.0;
    }
    let preloaded = take(&milling, &preloaded, short());
    assert!(free.loose > 0.05 && free.spindle_travel[1] > gap);
    for held in [pulled, preloaded] {
        assert_eq!(held.loose, 0.0);
        assert!(held.spindle_travel[1] < 0.5 * gap, "{:?}", held.spindle_travel);
    }
}

/// The cutter pulls down. Against its weight alone the spindle stays down; with
/// a corner that thrusts harder than the weight it hops across its end play.
#[test]
fn the_spindle_hops_when_thrust_beats_its_weight() {
    let mut milling = milling(CutKind::Side, CutSense::Conventional, 2.5, 2, 0.5);
    let structure = loose(0.02, [0.0, -3000.0, 60.0]);
    let down = take(&milling, &structure, short());
    assert!(down.spindle_travel[2] < 0.005, "{:?}", down.spindle_travel);
    (milling.coefficients.kac, milling.coefficients.kae, milling.coefficients.thrust) = (0.0, 0.0, 0.9);
    let hopping = take(&milling, &structure, short());
    assert!(hopping.spindle_travel[2] > 0.02, "{:?}", hopping.spindle_travel);
}

fn held(friction: f64, grip: Grip) -> Structure {
    let holding = Holding { mass: 5.0, stiffness: [30_000.0; 3], damping: 0.05, friction, stop: false, grip };
    Structure { holding: Some(holding), ..Structure::default() }
}

/// Work stays where the grip holds more than the cut pulls, and creeps where it
/// does not: along the mean force on it.
#[test]
fn work_slips_where_friction_is_short() {
    let milling = milling(CutKind::Side, CutSense::Conventional, 2.5, 4, 0.5);
    for grip in [Grip::Jaws, Grip::Clamps(3000.0)] {
        let firm = take(&milling, &held(3000.0, grip), short());
        assert_eq!(firm.slipped, [0.0; 3]);
        let weak = take(&milling, &held(120.0, grip), short());
        // The tool is pushed back, so the work goes along the feed.
        assert!(weak.mean_force()[0] < 0.0 && weak.slipped[0] < -0.05, "{:?}", weak.slipped);
    }
    let jaws = take(&milling, &held(120.0, Grip::Jaws), short());
    assert!(jaws.slipped[2] > 0.005, "{:?}", jaws.slipped);
}

/// Clamped work lifts once the cutter pulls harder than the clamps press.
#[test]
fn work_lifts_where_clamps_are_weak() {
    let mut milling = milling(CutKind::Slot, CutSense::Conventional, 10.0, 4, 0.5);
    (milling.geometry.depth, milling.coefficients.kac) = (0.5, 1500.0);
    let pull = take(&milling, &Structure::default(), short()).mean_force()[2];
    let mut structure = held(1e6, Grip::Jaws);
    let mut lifted = |force: f64| {
        if let Some(holding) = &mut structure.holding {
            (holding.stiffness, holding.grip) = ([1e6, 1e6, 30_000.0], Grip::Clamps(force));
        }
        take(&milling, &structure, short()).lifted
    };
    assert!(lifted(10.0 * pull) < 2.0 * pull / 30_000.0);
    assert!(lifted(0.8 * pull) > 4.0 * lifted(10.0 * pull));
}

/// Flank rubbing quietens a cut that would chatter just above its limit: Tyler
/// and Schmitz, J. Manufacturing Processes 15 (2013).
#[test]
fn rubbing_quietens() {
    let row = rows().into_iter().find(|row| row.name == "light 500 0.5 up").expect("in the table");
    let mut milling = row.milling;
    milling.geometry.depth = 1.1 * row.limit;
    let run = Run { revolutions: 200, entry: 20, kept: 1, refinement: 1 };
    assert_eq!(take(&milling, &row.structure, run).verdict(), Verdict::Chatter);
    milling.rubbing = 5e5;
    assert_eq!(take(&milling, &row.structure, run).verdict(), Verdict::Stable);
}

fn close(a: &Trace, b: &Trace, scale: f64) {
    for (a, b) in a.displacement.iter().zip(&b.displacement) {
        for (a, b) in a.iter().zip(b) {
            assert_relative_eq!(a * scale, *b, epsilon = 1e-9, max_relative = 1e-6);
        }
    }
}

/// Laws of the model, chattering or not: the same again; modes in any order and
/// of either sign; a pair of equal modes turned in its plane; twice the feed
/// and the cutter, twice the motion (without edge forces); twice the coefficients on twice the
/// stiffness, the same motion.
#[test]
fn laws() {
    let base = milling(CutKind::Side, CutSense::Conventional, 3.0, 3, 0.3);
    let pair = |angle: f64| {
        let (sin, cos) = f64::sin_cos(angle);
        modes(&[mode(4000.0, 0.04, 150.0, [cos, sin, 0.0]), mode(4000.0, 0.04, 150.0, [-sin, cos, 0.0])])
    };
    let run = Run { revolutions: 12, ..short() };
    let reference = take(&base, &pair(0.0), run);
    assert_eq!(reference, take(&base, &pair(0.0), run));
    close(&reference, &take(&base, &pair(0.7), run), 1.0);
    close(&reference, &take(&base, &pair(PI), run), 1.0);
    let mut swapped = pair(0.0);
    swapped.modes.reverse();
    close(&reference, &take(&base, &swapped, run), 1.0);

    let mut single = base.clone();
    let k = &mut single.coefficients;
    (k.kte, k.kre, k.kae) = (0.0, 0.0, 0.0);
    single.geometry.helix = 0.0;
    let mut double = single.clone();
    (double.geometry.feed, double.geometry.diameter) = (2.0 * single.geometry.feed, 2.0 * single.geometry.diameter);
    let [a, b] = [single, double].map(|milling| take(&milling, &soft(), run));
    close(&a, &b, 2.0);

    let mut strong = base.clone();
    let k = &mut strong.coefficients;
    for k in [&mut k.ktc, &mut k.krc, &mut k.kac, &mut k.kte, &mut k.kre, &mut k.kae] {
        *k *= 2.0;
    }
    let mut stiff = soft();
    stiff.modes.iter_mut().for_each(|mode| mode.stiffness *= 2.0);
    close(&take(&base, &soft(), run), &take(&strong, &stiff, run), 1.0);
}

/// A run can be watched and broken off, and watching changes nothing.
#[test]
fn progress_and_cancelling() {
    let simulation =
        Simulation::new(milling(CutKind::Side, CutSense::Climb, 2.0, 3, 0.5), soft(), short()).expect("valid");
    let mut seen = Vec::new();
    let watched = simulation.run_with(|done| {
        seen.push(done);
        ControlFlow::Continue(())
    });
    assert_eq!(seen, (1..=60).collect::<Vec<_>>());
    assert_eq!(watched, Some(simulation.run()));
    assert_eq!(
        simulation.run_with(|done| if done == 7 { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }),
        None
    );
    let trace = simulation.run();
    assert_eq!(trace.each_revolution().count(), 60);
    assert_eq!(trace.displacement.len(), 2 * trace.steps_per_revolution);
}

/// Fifty steps in the shortest period, forty in the cut, and an even number from
/// tooth to tooth.
#[test]
fn the_step_follows_the_fastest_and_the_shortest() {
    for (frequency, width, teeth) in [(150.0, 2.0, 3), (2000.0, 2.0, 4), (150.0, 0.1, 5)] {
        let milling = milling(CutKind::Side, CutSense::Climb, width, teeth, 0.5);
        let span = milling.geometry.engagement.span();
        let trace = take(
            &milling,
            &modes(&[mode(5000.0, 0.03, frequency, X)]),
            Run { revolutions: 4, entry: 0, kept: 1, refinement: 1 },
        );
        assert!(trace.step * frequency <= 1.0 / 50.0);
        assert!(span / TAU * trace.steps_per_revolution as f64 >= 40.0);
        assert_eq!(trace.steps_per_revolution % (2 * teeth as usize), 0);
    }
}

/// What can't be simulated is refused, with the field, its value and its range.
#[test]
fn nonsense_is_refused() {
    let good = || milling(CutKind::Side, CutSense::Climb, 2.0, 3, 0.5);
    let refuse = |milling: Milling, structure: Structure, run: Run| {
        Simulation::new(milling, structure, run).expect_err("refused").to_string()
    };
    let mut bad = good();
    bad.speed = f64::NAN;
    assert_eq!(refuse(bad, soft(), short()), "Speed, rpm is NaN; give a value from 1 to 200000.");
    let mut bad = good();
    bad.offsets = vec![0.0, 0.01];
    assert_eq!(
        refuse(bad, soft(), short()),
        "Radial offsets of the teeth has 2 entries; give one for each of the 3 teeth, or none."
    );
    let tilted = modes(&[mode(1000.0, 0.02, 100.0, [1.0, 1.0, 0.0])]);
    assert!(matches!(
        Simulation::new(good(), tilted, short()),
        Err(Invalid::NotAUnitVector { mode: 0, value }) if (value - 2.0_f64.sqrt()).abs() < 1e-12
    ));
    let mut slow = good();
    slow.speed = 1.0;
    assert!(matches!(
        Simulation::new(slow, modes(&[mode(1000.0, 0.02, 1e4, X)]), short()),
        Err(Invalid::TooManySteps { .. })
    ));
    let run = Run { entry: 40, ..short() };
    assert_eq!(refuse(good(), soft(), run), "Revolutions of entry is 40; give a value from 0 to 30.");
}
