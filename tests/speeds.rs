//! Speeds: belt steps as people type them, the limit at every speed against the
//! decision and against the exact lobes, and a chart that can be made bit by bit.

use std::f64::consts::PI;
use std::ops::ControlFlow;

use approx::assert_relative_eq;
use spindlewise_engine::decision::{Fit, SpeedPoint, Speeds, decide, held};
use spindlewise_engine::mechanics::lobes::{Scan, characteristic, chart};
use spindlewise_engine::mechanics::{Bearings, ModeGroup, Prepared, Unknown};
use spindlewise_engine::quantity::{Rotation, UnitSystem};
use spindlewise_engine::remedies::{RemedyId, change_setup, title};
use spindlewise_engine::scenario::{Field, Problem, Scenario, demo};
use spindlewise_engine::work::Material;

fn with_steps(text: &str) -> Scenario {
    let mut scenario = demo();
    scenario.set_entry(Field::SpeedSteps, text);
    scenario
}

fn steps(scenario: &Scenario) -> Vec<f64> {
    scenario.resolve().case.setup.machine.steps.iter().map(|speed| speed.as_rpm()).collect()
}

#[test]
fn belt_steps_are_read_as_people_type_them() {
    for text in ["500, 780, 1250, 2100", "2100; 1250; 780; 500", "780 500 1250 2100 500", "500 rpm 780 rpm 1250, 2100"]
    {
        let scenario = with_steps(text);
        assert_eq!(scenario.resolve().problems, [], "{text}");
        assert_eq!(steps(&scenario), [500.0, 780.0, 1250.0, 2100.0], "{text}");
        assert_eq!(scenario.entry(Field::SpeedSteps), text);
        // The drive reaches from the first to the last of them.
        let speeds = scenario.resolve().case.setup.machine.speeds;
        assert_eq!(speeds, (Rotation::rpm(500.0), Rotation::rpm(2100.0)));
    }
    assert_eq!(steps(&demo()), [0.0; 0]);
}

/// Every item that can't be used is named; nothing typed is lost, and what is
/// usual is taken instead.
#[test]
fn each_bad_step_is_told() {
    let scenario = with_steps("500, fast, 7, 12 mm, 1250");
    let resolved = scenario.resolve();
    let messages: Vec<String> = resolved.problems.iter().map(|one| one.message(UnitSystem::Metric)).collect();
    assert_eq!(messages.len(), 3, "{messages:?}");
    for (message, word) in messages.iter().zip(["“fast”", "7 rpm", "“12 mm”"]) {
        assert!(message.contains(word), "{message}");
    }
    assert!(resolved.problems.iter().all(|one| one.field() == Some(Field::SpeedSteps)));
    assert_eq!(steps(&scenario), [0.0; 0]);
    assert_eq!(scenario.entry(Field::SpeedSteps), "500, fast, 7, 12 mm, 1250");

    let mut narrow = with_steps("500, 780, 1250");
    narrow.set_entry(Field::FastestSpeed, "1000");
    let problems = narrow.resolve().problems;
    assert!(matches!(problems[..], [Problem::OutOfRange { field: Field::SpeedSteps, .. }]), "{problems:?}");
}

/// Slowing down and speeding up land on a step, and are no remedy where there is
/// none beyond the present speed.
#[test]
fn remedies_pick_steps() {
    let speed = |text: &str, present: &str, remedy: RemedyId| {
        let mut scenario = with_steps(text);
        scenario.set_entry(Field::SpindleSpeed, present);
        change_setup(remedy, &scenario.resolve().case.setup).cut.speed.as_rpm()
    };
    let four = "400, 600, 900, 1150";
    assert_eq!(speed(four, "900", RemedyId::SlowDown), 600.0);
    assert_eq!(speed(four, "600", RemedyId::SpeedUp), 900.0);
    assert_eq!(speed(four, "1000", RemedyId::SlowDown), 600.0);
    // 37 m/min, the most that is usual for this edge in mild steel, is 1178 rpm.
    assert_eq!(speed("400, 900, 1200, 1350", "900", RemedyId::SpeedUp), 900.0);
    assert_eq!(speed(four, "400", RemedyId::SlowDown), 400.0);
    assert_relative_eq!(speed("", "900", RemedyId::SlowDown), 540.0);
    // Of steps on either side of 1178 rpm never the one that is still too fast,
    // however much nearer it lies to what was wanted.
    assert_eq!(speed("400, 1300, 2500", "2500", RemedyId::SlowDown), 400.0);
    assert_eq!(speed("400, 900, 1300, 2500", "2500", RemedyId::SlowDown), 900.0);
    // Where all are too fast the slowest of them.
    assert_eq!(speed("1300, 1700, 2500", "2500", RemedyId::SlowDown), 1300.0);
    // A step far off is still the next one: the present one is no slower.
    assert_eq!(speed("400, 1150", "1150", RemedyId::SlowDown), 400.0);
    assert_eq!(speed("400, 1150", "400", RemedyId::SpeedUp), 1150.0);
    for (present, remedy) in [("400", RemedyId::SlowDown), ("1150", RemedyId::SpeedUp)] {
        let mut scenario = with_steps(four);
        scenario.set_entry(Field::SpindleSpeed, present);
        let decision = decide(&scenario.resolve().case);
        let one = decision.appraisals.iter().find(|one| one.remedy == remedy).expect("weighed");
        assert!(!one.unmet.is_empty(), "{remedy:?}");
    }
}

/// The limit at a speed is that of the decision with the spindle set to it.
#[test]
fn limits_are_those_of_the_decision_at_that_speed() {
    let case = demo().resolve().case;
    let fit = Fit::with(&case, 256);
    let speeds = [500.0, 900.0, 1100.0, 2400.0];
    for iron in fit.some(32) {
        let limits = fit.prepared.limits_at(&iron, &fit.prepared.forces(&iron), 1.0, &speeds);
        for (speed, limit) in speeds.into_iter().zip(limits) {
            let mut setup = case.setup.clone();
            setup.cut.speed = Rotation::rpm(speed);
            let prepared = Prepared::new(&setup);
            let outcome = prepared.run(&iron, &prepared.forces(&iron), Bearings::AsTheyAre);
            assert_relative_eq!(limit, outcome.depth_limit, max_relative = 1e-12);
        }
    }
}

/// Nobody sets a dial to 1178 rpm: where the drive has no steps, what is advised,
/// listed and taken for granted is round, and it is what is reckoned with. Steps,
/// the ends of the drive and what was typed stay as they are.
#[test]
fn speeds_without_steps_are_round() {
    let round = |speed: f64| {
        let step = [(1000.0, 10.0), (2000.0, 25.0), (4000.0, 50.0)].into_iter().find(|(below, _)| speed < *below);
        speed % step.map_or(100.0, |(_, step)| step) == 0.0
    };
    for present in ["333 rpm", "1100 rpm", "1117 rpm"] {
        let mut scenario = demo();
        scenario.set_entry(Field::SpindleSpeed, present);
        scenario.set_entry(Field::SlowestSpeed, "123 rpm");
        scenario.set_entry(Field::FastestSpeed, "2877 rpm");
        let case = scenario.resolve().case;
        let speeds = Speeds::new(&Fit::with(&case, 256));
        assert_eq!(format!("{:.0} rpm", speeds.present.speed), present);
        let (first, last) = (speeds.points[0].speed, speeds.points[speeds.points.len() - 1].speed);
        assert_eq!((first, last), (123.0, 2877.0));
        let between = &speeds.points[1..speeds.points.len() - 1];
        assert!(between.len() > 60 && between.iter().all(|point| round(point.speed)), "{between:?}");
        let remedies = [(speeds.slower, RemedyId::SlowDown), (speeds.faster, RemedyId::SpeedUp)];
        for (point, remedy) in remedies.into_iter().filter_map(|(point, remedy)| Some((point?, remedy))) {
            assert!(round(point.speed) && point.speed <= speeds.advised, "{point:?}");
            assert_eq!(change_setup(remedy, &case.setup).cut.speed.as_rpm(), point.speed);
            assert!(title(remedy, &case.setup).ends_with(&format!("at {} rpm", point.speed)));
        }
    }
    let blank = Scenario::new("blank").resolve();
    assert!(round(blank.in_use(Field::SpindleSpeed).expect("taken for granted")));
    // A drive with no round speed at all still has its own.
    let mut one = demo();
    one.set_entry(Field::SlowestSpeed, "1113 rpm");
    one.set_entry(Field::FastestSpeed, "1117 rpm");
    one.set_entry(Field::SpindleSpeed, "");
    assert_eq!(one.resolve().in_use(Field::SpindleSpeed), Some(1113.0));
}

/// The title names the speed, and the step where the drive has steps.
#[test]
fn remedies_name_their_speed() {
    let titled = |scenario: &Scenario, remedy| title(remedy, &scenario.resolve().case.setup);
    assert_eq!(titled(&demo(), RemedyId::SlowDown), "Run it slower at 660 rpm");
    let steps = with_steps("660, 1100, 1170");
    assert_eq!(titled(&steps, RemedyId::SlowDown), "Run it slower on the belt step or gear of 660 rpm");
    assert_eq!(titled(&steps, RemedyId::SpeedUp), "Run it faster on the belt step or gear of 1170 rpm");
    let alone = with_steps("1100");
    assert_eq!(titled(&alone, RemedyId::SpeedUp), "Run it faster");
}

/// What is shown of the present speed and of those of the remedies is what the
/// answer says of them, to the last machine.
#[test]
fn figures_are_those_of_the_answer() {
    for scenario in [demo(), with_steps("660, 1100, 1170"), Scenario::new("blank")] {
        let case = scenario.resolve().case;
        let (speeds, decision) = (Speeds::new(&Fit::new(&case)), decide(&case));
        let said = |remedy: RemedyId| decision.appraisals.iter().find(|one| one.remedy == remedy).expect("weighed");
        let mut compared = 0;
        for (point, remedy) in [
            (Some(speeds.present), RemedyId::LeaveAlone),
            (speeds.slower, RemedyId::SlowDown),
            (speeds.faster, RemedyId::SpeedUp),
        ] {
            let said = said(remedy);
            assert_eq!(point.is_some(), said.unmet.is_empty(), "{remedy:?}");
            let Some(point) = point else { continue };
            compared += 1;
            let (shown, told) = (point.limit, said.prediction.depth_limit);
            for (shown, told) in [(shown.low, told.low), (shown.mid, told.mid), (shown.high, told.high)] {
                assert_relative_eq!(shown, told, max_relative = 1e-12);
            }
            assert_relative_eq!(point.quiet, 1.0 - said.prediction.chatter, epsilon = 1e-12);
            assert!(!point.too_fast || remedy == RemedyId::LeaveAlone, "{remedy:?} is never advised");
            assert!(remedy == RemedyId::LeaveAlone || said.title.contains(&format!("{:.0} rpm", point.speed)));
            let same = speeds.points.iter().find(|one| one.speed == point.speed);
            assert!(!speeds.steps || same == Some(&point), "the table of steps says the same");
        }
        assert!(compared > 1);
    }
}

/// The sentence never denies what the table shows: where no speed that may be run
/// is quieter but a faster one is, it says so.
#[test]
fn the_sentence_does_not_contradict_the_table() {
    let (mut none, mut better) = (0, 0);
    for (speed, depth) in ["1100 rpm", "700 rpm"].into_iter().flat_map(|speed| {
        ["0.1 mm", "0.3 mm", "0.5 mm", "0.7 mm", "1 mm", "1.5 mm", "2 mm", "3 mm", "5 mm", "8 mm"]
            .map(|depth| (speed, depth))
    }) {
        let mut scenario = demo();
        scenario.set_entries([(Field::AxialDepth, depth), (Field::SpindleSpeed, speed)]);
        let speeds = Speeds::new(&Fit::with(&scenario.resolve().case, 256));
        let sentence = speeds.better_sentence(UnitSystem::Metric);
        let quieter = |point: &SpeedPoint| point.quiet >= speeds.present.quiet + 0.1;
        if speeds.better.is_some() {
            better += 1;
            assert!(sentence.contains("better speed is"), "{sentence}");
        } else if speeds.points.iter().any(|point| point.too_fast && quieter(point)) && !sentence.contains("a little") {
            assert!(sentence.contains("don’t") && !sentence.contains("difference here"), "{sentence}");
        } else {
            none += 1;
            assert!(sentence.starts_with("No speed makes a real difference here") || sentence.starts_with("No other"));
        }
    }
    assert!(none > 0 && better > 0, "{none} {better}");
}

#[test]
fn the_table_covers_the_drive_and_holds_the_present() {
    let case = demo().resolve().case;
    let speeds = Speeds::new(&Fit::new(&case));
    assert_relative_eq!(speeds.points[0].speed, case.setup.machine.speeds.0.as_rpm());
    assert_relative_eq!(
        speeds.points.last().expect("points").speed,
        case.setup.machine.speeds.1.as_rpm(),
        max_relative = 1e-12
    );
    assert!(speeds.points.is_sorted_by(|a, b| a.speed < b.speed));
    // v = pi D n.
    assert_relative_eq!(PI * 10.0 * speeds.top / 1000.0, speeds.cutting_speed, max_relative = 1e-12);
    for point in &speeds.points {
        assert_eq!(point.too_fast, point.speed > 1.05 * speeds.top, "{point:?}");
        assert!(point.limit.low <= point.limit.mid && point.limit.mid <= point.limit.high);
    }

    let stepped = with_steps("500, 780, 1250, 2100").resolve().case;
    let table = Speeds::new(&Fit::new(&stepped));
    let of = |speeds: &Speeds| speeds.points.iter().map(|point| point.speed).collect::<Vec<f64>>();
    assert!(table.steps && !speeds.steps);
    assert_eq!(of(&table), [500.0, 780.0, 1250.0, 2100.0]);
    // 1250 rpm is beyond 37 m/min.
    assert_eq!((table.slower.expect("slower").speed, table.faster), (780.0, None));
}

/// A better speed is markedly quieter, not too fast, and the nearest of such;
/// where it is quiet already there is none.
#[test]
fn a_better_speed_is_better() {
    let mut found = 0;
    // In aluminium the edge may run three times as fast as in steel.
    for (material, depth) in [
        (Material::AluminiumSoft, "3 mm"),
        (Material::AluminiumSoft, "8 mm"),
        (Material::MildSteel, "0.1 mm"),
        (Material::MildSteel, "1.5 mm"),
    ] {
        let mut scenario = demo();
        scenario.choices.material = Some(material);
        scenario.set_entry(Field::AxialDepth, depth);
        let case = scenario.resolve().case;
        let speeds = Speeds::new(&Fit::new(&case));
        let away = |speed: f64| (speed / speeds.present.speed).ln().abs();
        let (low, high) = material.cutting_speed(case.setup.cutter.material);
        let quick = |point: &SpeedPoint| point.speed >= (0.5 * speeds.present.speed).max(0.5 * low / high * speeds.top);
        let good = |point: &&SpeedPoint| !point.too_fast && quick(point) && point.quiet >= speeds.present.quiet + 0.1;
        match speeds.better {
            Some(better) => {
                found += 1;
                assert!(good(&&better.point));
                assert_relative_eq!(better.time, speeds.present.speed / better.point.speed);
                let nearest = speeds.points.iter().filter(good).all(|one| away(one.speed) >= away(better.point.speed));
                assert!(better.remedy || nearest);
                let remedies = [speeds.slower, speeds.faster].map(|point| point.map(|point| point.speed));
                assert_eq!(better.remedy, remedies.contains(&Some(better.point.speed)));
            }
            None => assert_eq!(speeds.points.iter().filter(good).count(), 0),
        }
    }
    assert!((1..4).contains(&found), "{found}");
}

/// Rubbing damps the more the slower the edge runs: Tyler and Schmitz, J.
/// Manufacturing Processes 15 (2013), `C b / v`.
#[test]
fn rubbing_helps_slow_edges() {
    let case = demo().resolve().case;
    let speeds = Speeds::new(&Fit::new(&case));
    let [slow, now, fast] = speeds.rubbing.map(|gain| gain.expect("the drive has all three"));
    assert!(3.0 >= slow && slow > now && now > fast && fast >= 1.0, "{slow} {now} {fast}");
    assert!(speeds.slower_sentence(UnitSystem::Metric).contains("rubbing"));
    // The most that is usual for this edge is said.
    assert!(speeds.faster_sentence(UnitSystem::Metric).contains("37 m/min"));
}

#[test]
fn ends_of_the_drive_are_told() {
    for (present, slowest) in [("500", true), ("1100", false)] {
        let mut scenario = with_steps("500, 780, 1100");
        scenario.set_entry(Field::SpindleSpeed, present);
        let case = scenario.resolve().case;
        let speeds = Speeds::new(&Fit::with(&case, 256));
        assert_eq!((speeds.slower.is_none(), speeds.faster.is_none()), (slowest, !slowest));
        let sentences = [speeds.slower_sentence(UnitSystem::Metric), speeds.faster_sentence(UnitSystem::Metric)];
        assert!(sentences[usize::from(!slowest)].starts_with("The drive has nothing"), "{sentences:?}");
    }
}

/// Made bit by bit, the chart is the whole chart, and its first limits are those
/// of the exact search.
#[test]
fn a_chart_can_be_made_bit_by_bit() {
    let case = demo().resolve().case;
    let middle = Fit::with(&case, 256).representative();
    let speeds: Vec<f64> = (0..10).map(|i| 700.0 + 150.0 * f64::from(i)).collect();
    let mut builder = middle.chart(Bearings::AsTheyAre, speeds.clone(), 2.0);
    assert_eq!(builder.progress(), (0, 10));
    let mut rounds = 0;
    while builder.advance(3) {
        rounds += 1;
        assert_eq!(builder.progress(), (3 * rounds, 10));
    }
    assert_eq!(builder.progress(), (10, 10));
    assert!(!builder.advance(3));
    let lobes = middle.lobes(Bearings::AsTheyAre);
    let ControlFlow::Continue(whole) = chart(&lobes, &speeds, builder.grid(), &mut |_, _| ControlFlow::Continue(()))
    else {
        panic!("nothing breaks it off")
    };
    let built = builder.into_chart();
    assert_eq!(built, whole);
    for column in &built.columns {
        let exact = characteristic::limit(&lobes, column.speed, Scan { deepest: 2.0, ..Scan::default() });
        let space = 2.0 / 60.0;
        match (column.first_limit(), exact) {
            (Some(found), Some(exact)) => assert!((found.depth - exact.depth).abs() < space, "{found:?} {exact:?}"),
            (found, exact) => assert_eq!(found, exact),
        }
    }
}

/// Without rubbing, the limit counted on is nowhere far above the exact one of the
/// worst group, and over the speeds of the drive the least of both is the same
/// to a fifth, which is what the closed form is good for.
#[test]
fn limits_agree_with_the_lobes() {
    let case = demo().resolve().case;
    let fit = Fit::with(&case, 256);
    let mut iron = fit.representative().iron;
    iron[Unknown::RubDamping] = 1e-3;
    let forces = fit.prepared.forces(&iron);
    let speeds: Vec<f64> = (0..40).map(|i| 600.0 * 1.03_f64.powi(i)).collect();
    let closed = fit.prepared.limits_at(&iron, &forces, 1.0, &speeds);
    let scan = Scan { from: 0.05, ratio: 0.05, deepest: 5.0, tolerance: 1e-3 };
    let exact: Vec<f64> = speeds
        .iter()
        .map(|&speed| {
            let of = |group| {
                let lobes = fit.prepared.lobes(&iron, &forces, Bearings::AsTheyAre, group);
                characteristic::limit(&lobes, speed, scan).map_or(5.0, |limit| limit.depth)
            };
            ModeGroup::ALL.into_iter().map(of).fold(f64::INFINITY, f64::min)
        })
        .collect();
    let ratios: Vec<f64> = closed.iter().zip(&exact).map(|(closed, exact)| closed / exact).collect();
    let least = |values: &[f64]| values.iter().copied().fold(f64::INFINITY, f64::min);
    assert_relative_eq!(least(&closed), least(&exact), max_relative = 0.2);
    assert!(ratios.iter().all(|&ratio| ratio < 1.5), "{ratios:.2?}");
}

/// At the speed itself the exact limit may stand in a gap between two lobes; what can
/// be held there is what the closed form says, which `reference_surrogate.rs` holds
/// to within a factor of 1.8 on nine machines in ten.
#[test]
fn what_can_be_held_is_not_a_gap_between_lobes() {
    let mut gaps = 0;
    for speed in (2000..=2700).step_by(100) {
        let mut scenario = Scenario::new("blank");
        // Where the edge is fast little rubbing hides the lobes.
        scenario.choices.material = Some(Material::AluminiumSoft);
        scenario.set_entry(Field::SpindleSpeed, speed.to_string());
        let middle = Fit::new(&scenario.resolve().case).representative();
        let speeds: Vec<f64> = (-10..=10).map(|at| f64::from(speed) * (0.01 * f64::from(at)).exp()).collect();
        let mut chart = middle.chart(Bearings::AsTheyAre, speeds, 12.0);
        chart.advance(usize::MAX);
        let deepest = chart.grid().deepest;
        let limits =
            chart.columns().iter().map(|one| (one.speed, one.first_limit().map_or(deepest, |limit| limit.depth)));
        let exact: Vec<(f64, f64)> = limits.collect();
        let (here, held) = (exact[10].1, held(&exact)[10].1);
        let closed = middle.outcome.depth_limit;
        gaps += usize::from(here > 1.2 * held);
        assert!((1.0 / 1.8..1.8).contains(&(held / closed)), "{held} {closed} at {speed}");
    }
    assert!(gaps > 0, "no speed shows anything");
}
