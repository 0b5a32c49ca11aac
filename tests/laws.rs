//! What must hold whatever the machine, the cut and the answers.

use std::f64::consts::{PI, TAU};

use proptest::prelude::*;
use proptest::sample::{Index, select};
use spindlewise_engine::choice::Choice;
use spindlewise_engine::decision::{DRAFT_DRAWS, decide, decide_with};
use spindlewise_engine::machine::{
    Archetype, BearingCondition, Gibs, Preload, QuillUse, SpindleSupport, TaperRetention,
};
use spindlewise_engine::mechanics::force::{Ends, ForceHistory, STEPS};
use spindlewise_engine::mechanics::play::{self, Swing};
use spindlewise_engine::mechanics::stability::{Mode, depth_limit, depth_limit_at};
use spindlewise_engine::mechanics::{
    Bearings, Chain, Compliance, LoopPart, Outcome, Plausible, Prepared, Unknown, usual,
};
use spindlewise_engine::scenario::{Choices, Field, Scenario, demo};
use spindlewise_engine::work::{
    Axis, CutKind, CutSense, CutterKind, EdgeState, Holder, Material, PartShape, Setup, ToolMaterial, Workholding,
};

fn config(cases: u32) -> ProptestConfig {
    ProptestConfig { cases, failure_persistence: None, ..ProptestConfig::default() }
}

/// An answer from the list, or "I don't know".
fn answer<C: Choice + std::fmt::Debug>() -> impl Strategy<Value = Option<C>> {
    prop::option::of(select(C::ALL))
}

/// Every question answered or not.
fn any_choices() -> impl Strategy<Value = Choices> {
    let machine = (
        answer::<Archetype>(),
        answer::<SpindleSupport>(),
        answer::<BearingCondition>(),
        answer::<Preload>(),
        answer::<TaperRetention>(),
        answer::<QuillUse>(),
        answer::<Gibs>(),
    );
    let cutter = (
        answer::<Material>(),
        answer::<CutterKind>(),
        answer::<ToolMaterial>(),
        answer::<EdgeState>(),
        answer::<Holder>(),
    );
    let cut =
        (answer::<CutKind>(), answer::<Workholding>(), answer::<PartShape>(), answer::<Axis>(), answer::<CutSense>());
    (machine, cutter, cut).prop_map(|(machine, cutter, cut)| Choices {
        archetype: machine.0,
        support: machine.1,
        condition: machine.2,
        preload: machine.3,
        retention: machine.4,
        quill: machine.5,
        gibs: machine.6,
        material: cutter.0,
        cutter: cutter.1,
        tool_material: cutter.2,
        edge: cutter.3,
        holder: cutter.4,
        cut: cut.0,
        workholding: cut.1,
        shape: cut.2,
        axis: cut.3,
        sense: cut.4,
        ..Choices::default()
    })
}

fn any_setup() -> impl Strategy<Value = Setup> {
    any_choices().prop_map(|choices| {
        let mut scenario = Scenario::new("any");
        scenario.choices = choices;
        let resolved = scenario.resolve();
        assert_eq!(resolved.problems, []);
        resolved.case.setup
    })
}

/// How far each unknown lies from its median, in standard deviations.
fn any_deviations() -> impl Strategy<Value = Vec<f64>> {
    prop::collection::vec(-3.0..3.0, Unknown::COUNT)
}

fn machine(setup: &Setup, deviations: &[f64]) -> Plausible {
    usual(setup).at(deviations)
}

/// Unknowns that are stiffnesses, or factors on one.
const STIFF: [Unknown; 21] = [
    Unknown::CutterFactor,
    Unknown::Joint,
    Unknown::Taper,
    Unknown::ShaftFactor,
    Unknown::BearingFactor,
    Unknown::PreloadForce,
    Unknown::Quill,
    Unknown::QuillAxial,
    Unknown::HeadX,
    Unknown::HeadY,
    Unknown::HeadZ,
    Unknown::ColumnX,
    Unknown::ColumnY,
    Unknown::ColumnZ,
    Unknown::TableX,
    Unknown::TableY,
    Unknown::TableZ,
    Unknown::HoldingX,
    Unknown::HoldingY,
    Unknown::HoldingZ,
    Unknown::Part,
];

/// The loop under a fixed load, its bearings' compliance scaled by `bearings`.
fn loop_of(setup: &Setup, iron: &Plausible, load: f64, bearings: f64) -> Compliance {
    Chain::new(setup).compliance(setup, iron, load, 0.3 * load, bearings)
}

fn totals(compliance: &Compliance) -> [f64; 3] {
    [0, 1, 2].map(|axis| compliance.total(axis))
}

fn figures(outcome: &Outcome) -> Vec<f64> {
    vec![
        outcome.wall,
        outcome.floor,
        outcome.depth_limit,
        outcome.location,
        outcome.play_travel,
        outcome.stiffness,
        outcome.slip,
        outcome.lift,
        outcome.pull_in,
        outcome.drive,
    ]
}

fn assert_possible(setup: &Setup, iron: &Plausible, bearings: Bearings) {
    let prepared = Prepared::new(setup);
    let forces = prepared.forces(iron);
    let (outcome, motion) = (prepared.run(iron, &forces, bearings), prepared.motion(iron, &forces, bearings));
    for figure in [figures(&outcome), motion.normal.into(), motion.feed.into()].concat() {
        assert!(figure.is_finite() && figure >= 0.0, "{outcome:?} {motion:?}");
    }
    assert!(outcome.wall > 0.0 && outcome.floor > 0.0 && outcome.stiffness > 0.0);
}

/// No speed makes chatter what this one does not.
fn assert_ordered_depths(setup: &Setup, iron: &Plausible) {
    let prepared = Prepared::new(setup);
    let forces = prepared.forces(iron);
    let here = prepared.run(iron, &forces, Bearings::AsTheyAre).depth_limit;
    let anywhere = prepared.depth_any_speed(iron, &prepared.chatter(iron, &forces));
    assert!(anywhere > 0.0 && anywhere <= here * (1.0 + 1e-9), "{anywhere} at any speed, {here} at this one");
}

/// A force that turns from one direction to another.
fn swinging(x: impl Fn(usize) -> f64, y: impl Fn(usize) -> f64, z: f64) -> Swing {
    let force = ForceHistory { x: std::array::from_fn(x), y: std::array::from_fn(y), z: [z; STEPS], tangential: 0.0 };
    let ends = [&force.x, &force.y, &force.z].map(Ends::of);
    Swing::of(&force, ends, 0.0)
}

proptest! {
    #![proptest_config(config(200))]

    /// Springs in series: none gets softer by stiffening one.
    #[test]
    fn a_stiffer_part_never_gives_more(
        setup in any_setup(), deviations in any_deviations(),
        load in 5.0..800.0, which in any::<Index>(), by in 1.01..20.0,
    ) {
        let softer = machine(&setup, &deviations);
        let unknown = STIFF[which.index(STIFF.len())];
        let mut stiffer = softer;
        stiffer[unknown] *= by;
        let before = loop_of(&setup, &softer, load, 1.0);
        let after = loop_of(&setup, &stiffer, load, 1.0);
        for part in LoopPart::ALL {
            for axis in 0..3 {
                let (before, after) = (before.of(part)[axis], after.of(part)[axis]);
                prop_assert!(after <= before, "{part:?} {axis}: {before} to {after}");
            }
        }
        let (before, after) = (totals(&before), totals(&after));
        let moved = (0..3).any(|axis| after[axis] < before[axis]);
        // Preload is no spring of a bush, and a machine may have no quill.
        let absent = match unknown {
            Unknown::PreloadForce => true,
            Unknown::Quill | Unknown::QuillAxial => setup.machine.quill == QuillUse::Absent,
            _ => false,
        };
        prop_assert!(moved || absent, "{unknown:?} does nothing");
    }

    /// Twice the stiffness everywhere is half the deflection, at one load.
    #[test]
    fn all_twice_as_stiff_gives_half(
        setup in any_setup(), deviations in any_deviations(), load in 5.0..800.0,
    ) {
        let iron = machine(&setup, &deviations);
        let mut doubled = iron;
        for unknown in STIFF {
            // Preload sets the bearing's own law and stays.
            if unknown != Unknown::PreloadForce {
                doubled[unknown] *= 2.0;
            }
        }
        let before = totals(&loop_of(&setup, &iron, load, 1.0));
        let after = totals(&loop_of(&setup, &doubled, load, 1.0));
        for axis in 0..3 {
            prop_assert!((after[axis] / before[axis] - 0.5).abs() < 1e-12);
        }
    }

    /// What perfect bearings gain is their share, no more and no less.
    #[test]
    fn perfect_bearings_gain_their_share(
        setup in any_setup(), deviations in any_deviations(), load in 5.0..800.0,
    ) {
        let iron = machine(&setup, &deviations);
        let as_is = loop_of(&setup, &iron, load, 1.0);
        let perfect = loop_of(&setup, &iron, load, 0.0);
        for axis in 0..3 {
            let share: f64 = LoopPart::ALL
                .into_iter()
                .filter(|part| part.is_bearing())
                .map(|part| as_is.share(part, axis))
                .sum();
            prop_assert!((0.0..1.0).contains(&share));
            let expected = as_is.total(axis) * (1.0 - share);
            prop_assert!((perfect.total(axis) / expected - 1.0).abs() < 1e-12);
            // Springs in a row add up in any order, and shares make a whole.
            let backwards: f64 =
                LoopPart::ALL.into_iter().rev().map(|part| as_is.of(part)[axis]).sum();
            prop_assert!((backwards / as_is.total(axis) - 1.0).abs() < 1e-14);
            let whole: f64 = LoopPart::ALL.into_iter().map(|part| as_is.share(part, axis)).sum();
            prop_assert!((whole - 1.0).abs() < 1e-12);
        }
    }

    /// Any machine that the typical ranges allow gives figures that can be.
    #[test]
    fn any_machine_gives_possible_figures(setup in any_setup(), deviations in any_deviations()) {
        let iron = machine(&setup, &deviations);
        assert_possible(&setup, &iron, Bearings::AsTheyAre);
        assert_possible(&setup, &iron, Bearings::Perfect);
        assert_ordered_depths(&setup, &iron);
    }

    /// A force that keeps its direction, whatever its size, swings through
    /// nothing and moves no play.
    #[test]
    fn a_steady_direction_moves_no_play(angle in 0.0..TAU, play in 0.001..0.5_f64) {
        let size = |step: usize| 10.0 + (step as f64).sin().abs() * 90.0;
        let swing = swinging(|s| size(s) * angle.cos(), |s| size(s) * angle.sin(), 5.0);
        prop_assert!(swing.angle.abs() < 1e-6, "{}", swing.angle);
        prop_assert_eq!((swing.reversal, swing.feed_reversal, swing.axial_reversal), (0.0, 0.0, 0.0));
        prop_assert!(play::travel(play, swing.angle) < 1e-6 * play);
        prop_assert_eq!(play::travel(play, 0.0), 0.0);
    }

    /// A force that turns right round and back crosses the whole clearance,
    /// however much larger it is one way.
    #[test]
    fn an_alternating_force_crosses_all_play(
        angle in 0.0..TAU, play in 0.001..0.5_f64, weaker in 0.2..1.0,
    ) {
        let size = |step: usize| if step.is_multiple_of(2) { 100.0 } else { -100.0 * weaker };
        let swing = swinging(|s| size(s) * f64::cos(angle), |s| size(s) * f64::sin(angle), 0.0);
        prop_assert!((swing.angle - PI).abs() < 1e-6, "{}", swing.angle);
        prop_assert!((play::travel(play, swing.angle) / play - 1.0).abs() < 1e-6);
    }

    /// Through any angle up to half a turn: the chord of the clearance circle.
    #[test]
    fn a_force_swings_through_the_angle_it_turns(
        from in 0.0..TAU, through in 0.01..3.1_f64, play in 0.001..0.5_f64,
    ) {
        let at = |step: usize| -> f64 { from + through * step as f64 / (STEPS - 1) as f64 };
        let swing = swinging(|s| 50.0 * at(s).cos(), |s| 50.0 * at(s).sin(), 0.0);
        prop_assert!((swing.angle - through).abs() < 1e-6, "{} {through}", swing.angle);
        let chord = play * (0.5 * through).sin();
        prop_assert!((play::travel(play, swing.angle) - chord).abs() < 1e-6 * play);
    }

    /// Stiffer or better damped never chatters earlier, at any speed or at one.
    #[test]
    fn stiffness_and_damping_never_lower_the_depth(
        stiffness in 500.0..50_000.0, damping in 0.005..0.15, frequency in 20.0..900.0,
        feedback in prop_oneof![-800.0..-5.0, 5.0..800.0], waves in 0.3..20.0, by in 1.01..3.0_f64,
    ) {
        let mode = Mode { stiffness, damping, frequency };
        let stiffer = Mode { stiffness: by * stiffness, ..mode };
        let damped = Mode { damping: by * damping, ..mode };
        let at_any = |mode: Mode| -> f64 { depth_limit(mode, feedback) };
        prop_assert!((at_any(stiffer) / at_any(mode) - by).abs() < 1e-9);
        prop_assert!(at_any(damped) > at_any(mode));
        // One frequency: the lobes stay where they are.
        let here = |mode: Mode| -> f64 { depth_limit_at(mode, feedback, frequency / waves) };
        prop_assert!((here(stiffer) / here(mode) - by).abs() < 1e-9);
        prop_assert!(here(damped) >= here(mode) * (1.0 - 1e-6), "{} {}", here(damped), here(mode));
        prop_assert!(here(mode) >= at_any(mode) * (1.0 - 1e-6));
    }

}

/// Equal pushes to and fro have no mean to reckon angles from, and cross all the
/// same.
#[test]
fn an_evenly_alternating_force_crosses_all_play() {
    let to_and_fro = |step: usize| if step.is_multiple_of(2) { 100.0 } else { -100.0 };
    let swing = swinging(to_and_fro, |_| 0.0, 0.0);
    assert!((swing.angle - PI).abs() < 1e-6, "{}", swing.angle);
    assert_eq!(swing.feed_reversal, 1.0);
    assert_eq!(swing.reversal, 0.0);
}

/// Numbers within the allowed range of some fields, in base units.
fn numbers_in_range() -> impl Strategy<Value = Vec<(Field, String)>> {
    let typed = (select(Field::ALL), 0.0..=1.0_f64, any::<bool>()).prop_map(|(field, at, even)| {
        let spec = field.spec();
        let (low, high) = spec.range;
        // Even in the logarithm, so that small values come up as well.
        let value = if even || low <= 0.0 { low + at * (high - low) } else { low * (high / low).powf(at) };
        let value = if spec.whole { value.round() } else { value };
        let base =
            spec.dimension.units().iter().find(|unit| unit.factor == 1.0).expect("every dimension has its base unit");
        (field, format!("{value} {}", base.symbol))
    });
    prop::collection::vec(typed, 0..15)
}

proptest! {
    #![proptest_config(config(120))]

    /// Whatever believable numbers are typed, the figures can be.
    #[test]
    fn believable_numbers_give_possible_figures(
        choices in any_choices(), typed in numbers_in_range(), deviations in any_deviations(),
    ) {
        let mut scenario = Scenario::new("numbers");
        scenario.choices = choices;
        scenario.set_entries(typed);
        let case = scenario.resolve().case;
        let iron = machine(&case.setup, &deviations);
        assert_possible(&case.setup, &iron, Bearings::AsTheyAre);
        let decision = decide_with(&case, 16);
        prop_assert!((0.0..=1.0).contains(&decision.now.reach));
        prop_assert!(decision.effective_draws >= 1.0 - 1e-9);
        prop_assert!(decision.effective_draws <= 16.0 + 1e-9);
        for appraisal in &decision.appraisals {
            prop_assert!(appraisal.expected_worth.is_finite(), "{:?}", appraisal.remedy);
        }
    }

}

/// Bit for bit: the text of every figure is the same.
#[test]
fn the_same_case_gets_the_same_answer() {
    for scenario in [demo(), Scenario::new("blank")] {
        let text = || serde_json::to_string(&decide(&scenario.resolve().case)).expect("plain data");
        assert_eq!(text(), text());
    }
}

/// What is shown first, on few machines, is what all of them say, but for the luck
/// of a sample: three standard deviations of a count of hundred, at worst of a
/// quarter of the machines.
#[test]
fn a_draft_is_the_answer_but_for_luck() {
    for scenario in [demo(), Scenario::new("blank")] {
        let case = scenario.resolve().case;
        let (draft, whole) = (decide_with(&case, DRAFT_DRAWS), decide(&case));
        assert_eq!(draft.verdict.first, whole.verdict.first);
        assert_eq!(draft.verdict.firm, whole.verdict.firm);
        let luck = 3.0 * 0.5 / (0.25 * DRAFT_DRAWS as f64).sqrt();
        for (draft, whole) in [(draft.now.reach, whole.now.reach), (draft.now.chatter, whole.now.chatter)] {
            assert!((draft - whole).abs() <= luck, "{draft} against {whole}");
        }
    }
}

/// Every kind of machine, support, condition and setting has its typical ranges,
/// and machines in the middle and at the ends of them can cut.
#[test]
fn every_combination_of_answers_has_its_ranges() {
    fn with_unknown<C: Choice>() -> impl Iterator<Item = Option<C>> {
        C::ALL.iter().copied().map(Some).chain([None])
    }
    let mut combinations = 0;
    for archetype in with_unknown::<Archetype>() {
        for support in with_unknown::<SpindleSupport>() {
            for condition in with_unknown::<BearingCondition>() {
                for preload in with_unknown::<Preload>() {
                    let mut scenario = Scenario::new("combination");
                    scenario.choices.archetype = archetype;
                    scenario.choices.support = support;
                    scenario.choices.condition = condition;
                    scenario.choices.preload = preload;
                    let setup = scenario.resolve().case.setup;
                    let usual = usual(&setup);
                    for &unknown in Unknown::ALL {
                        let estimate = usual[unknown];
                        assert!(estimate.low() > 0.0 && estimate.low() < estimate.high());
                        assert!(!estimate.source().is_empty());
                    }
                    for z in [-2.0, 0.0, 2.0] {
                        let iron = usual.at(&[z; Unknown::COUNT]);
                        assert_possible(&setup, &iron, Bearings::AsTheyAre);
                    }
                    combinations += 1;
                }
            }
        }
    }
    assert_eq!(combinations, 7 * 5 * 4 * 6);
}
