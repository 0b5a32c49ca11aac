//! Which way to feed: forces against published formulas, symmetries, and what
//! any machinist knows.

use std::f64::consts::PI;

use approx::assert_relative_eq;
use spindlewise_engine::decision::{Course, Directions, Fit, Stop, Way, count, decide};
use spindlewise_engine::machine::Archetype;
use spindlewise_engine::mechanics::{Bearings, Plausible, Prepared, Unknown, self_feed_limit};
use spindlewise_engine::quantity::UnitSystem;
use spindlewise_engine::scenario::{Field, Scenario, demo};
use spindlewise_engine::work::{Axis, CutKind, CutSense, CutterKind, Material, Workholding};

fn directions(scenario: &Scenario) -> Directions {
    let case = scenario.resolve().case;
    let fit = Fit::new(&case);
    Directions::new(&fit, &fit.representative())
}

/// Straight teeth that run true, in mild steel, `width` of 10 mm wide.
fn straight(kind: CutKind, width: f64) -> Scenario {
    let mut scenario = Scenario::new("straight teeth");
    scenario.choices.cut = Some(kind);
    scenario.set_entries([
        (Field::CutterDiameter, "10 mm"),
        (Field::Flutes, "2"),
        (Field::Helix, "0"),
        (Field::FeedPerTooth, "50 µm"),
        (Field::AxialDepth, "1 mm"),
        (Field::Runout, "0.5 µm"),
        (Field::IndicatorDivision, "0.5 µm"),
    ]);
    scenario.set_entry(Field::RadialWidth, format!("{width} mm"));
    scenario
}

fn course(directions: &Directions, axis: Axis, way: Way, sense: Option<CutSense>) -> &Course {
    let wanted = |course: &&Course| {
        let heading = course.heading;
        heading.axis == axis && heading.way == way && heading.sense == sense
    };
    directions.courses.iter().find(wanted).expect("a course")
}

const CLIMB: Option<CutSense> = Some(CutSense::Climb);
const CONVENTIONAL: Option<CutSense> = Some(CutSense::Conventional);

/// The integral of `(Kt cos p + Kr sin p) sin p` over the climb engagement, by the
/// midpoint rule: the mean force along the feed of Altintas, *Manufacturing
/// Automation*, 2nd ed. 2012, ch. 2, is minus that.
fn along_feed(width: f64, ratio: f64) -> f64 {
    const STEPS: u32 = 200_000;
    let start = (2.0 * width - 1.0).acos();
    let step = (PI - start) / f64::from(STEPS);
    let at = |i| {
        let (sin, cos) = (start + (f64::from(i) + 0.5) * step).sin_cos();
        (cos + ratio * sin) * sin * step
    };
    (0..STEPS).map(at).sum()
}

/// Worked out from the same integral: 0.832, 0.747, 0.666 and 0.591 of the
/// diameter for radial forces of 0.2 to 0.5 of the tangential one.
#[test]
fn climbing_feeds_itself_up_to_a_width() {
    for (ratio, limit) in [(0.2, 0.83213), (0.3, 0.74729), (0.4, 0.666), (0.5, 0.59118)] {
        let found = self_feed_limit(ratio);
        assert_relative_eq!(found, limit, max_relative = 1e-3);
        assert!(along_feed(found - 1e-3, ratio) < 0.0 && along_feed(found + 1e-3, ratio) > 0.0);
    }
}

/// Mean forces of a full slot, `Fx = -N b (Krc f/4 + Kre/pi)`: Altintas 2012, eq.
/// 2.25 (from memory). No sense changes them; each only says which wall counts.
#[test]
fn a_slot_has_the_textbook_mean_force() {
    let scenario = straight(CutKind::Slot, 10.0);
    let case = scenario.resolve().case;
    let fit = Fit::new(&case);
    let middle = fit.representative();
    let directions = Directions::new(&fit, &middle);
    let k = fit.prepared.coefficients(&middle.iron);
    let expected = -2.0 * 1.0 * (k.krc * 0.05 / 4.0 + k.kre / PI);
    for course in &directions.courses {
        assert_relative_eq!(course.push.mean_feed, expected, max_relative = 0.01);
    }
    let [one, other] = [CONVENTIONAL, CLIMB].map(|sense| course(&directions, Axis::X, Way::Plus, sense));
    assert_eq!(one.push.feed, other.push.feed);
    assert_eq!(one.push.wall, (-other.push.wall.1, -other.push.wall.0));
}

/// Against the feed the work is pushed back whatever the width; with it the work
/// is pulled along up to the self-feeding width, and pushed back beyond (the
/// edge's own force moves that a little).
#[test]
fn shallow_climb_cuts_pull_and_deep_ones_push() {
    for (width, pulls) in [(1.0, true), (4.0, true), (9.5, false)] {
        let directions = directions(&straight(CutKind::Side, width));
        assert_eq!(directions.width < directions.self_feed, pulls);
        let mean = |sense| course(&directions, Axis::X, Way::Plus, sense).push.mean_feed;
        assert_eq!(mean(CLIMB) > 0.0, pulls, "{width}");
        assert!(mean(CONVENTIONAL) < 0.0, "{width}");
        let why = course(&directions, Axis::X, Way::Plus, CLIMB).why(&directions, UnitSystem::Metric);
        assert_eq!(why.contains("takes the table with it"), pulls, "{why}");
    }
}

/// The force of one tooth across the feed changes sign at `tan p = Fr/Ft` against
/// the feed, and never with the feed up to half the diameter: from the frame of
/// Altintas 2012, ch. 2.
#[test]
fn the_wall_force_turns_against_the_feed_and_not_with_it() {
    for (width, turns) in [(0.1, false), (2.5, true), (4.0, true)] {
        let directions = directions(&straight(CutKind::Side, width));
        let of = |sense| course(&directions, Axis::Y, Way::Minus, sense);
        let [against, with] = [CONVENTIONAL, CLIMB].map(of);
        assert_eq!(against.push.turns > 0.0, turns, "{width}: {:?}", against.push);
        assert_eq!(with.push.turns, 0.0, "{width}: {:?}", with.push);
        assert!(with.push.wall.0 < 0.0 && with.push.wall.1 <= 0.0, "{:?}", with.push);
        assert!(with.push.swings > 0.0 && with.push.swings < PI, "{:?}", with.push);
        let seated = with.why(&directions, UnitSystem::Metric).contains("seated");
        assert_eq!(seated, with.push.swings < 0.7, "{:?}", with.push);
        // What turns crosses play, what does not leaves most of it seated.
        if turns {
            assert!(with.prediction.play_travel.mid < against.prediction.play_travel.mid, "{width}");
        }
    }
}

/// Turned by a quarter turn together, machine and cut do the same.
#[test]
fn turning_machine_and_cut_together_changes_nothing() {
    use Unknown as U;
    let turned = |iron: &Plausible| {
        let mut turned = *iron;
        for (x, y) in [
            (U::HeadX, U::HeadY),
            (U::ColumnX, U::ColumnY),
            (U::TableX, U::TableY),
            (U::HoldingX, U::HoldingY),
            (U::FrequencyX, U::FrequencyY),
            (U::DampingX, U::DampingY),
        ] {
            (turned[x], turned[y]) = (iron[y], iron[x]);
        }
        turned[U::Skew] = 1.0 / iron[U::Skew];
        turned
    };
    let case = demo().resolve().case;
    let fit = Fit::with(&case, 256);
    for sense in [CutSense::Climb, CutSense::Conventional] {
        let [along_x, along_y] = [Axis::X, Axis::Y].map(|axis| {
            let mut setup = case.setup.clone();
            (setup.cut.axis, setup.cut.sense) = (axis, sense);
            Prepared::new(&setup)
        });
        for mut iron in fit.some(40) {
            // Its root can be turned over without rounding.
            iron[U::Skew] = 4.0;
            let forces = along_x.forces(&iron);
            let other = turned(&iron);
            let actual = Bearings::AsTheyAre;
            assert_eq!(along_x.run(&iron, &forces, actual), along_y.run(&other, &forces, actual));
            let (one, two) = (along_x.weakest(&iron, &forces, actual), along_y.weakest(&other, &forces, actual));
            assert_eq!((one.group, one.along_feed, one.limit), (two.group, two.along_feed, two.limit));
            assert_ne!(one.axis, two.axis);
        }
    }
}

/// Springs and masses are the same after half a turn: the other way along an axis
/// comes out the same, and is said to.
#[test]
fn one_way_is_as_good_as_the_other_without_a_stop() {
    let directions = directions(&demo());
    assert_eq!(directions.courses.len(), 8);
    for course in &directions.courses {
        let heading = course.heading;
        let back = if heading.way == Way::Plus { Way::Minus } else { Way::Plus };
        let other = self::course(&directions, heading.axis, back, heading.sense);
        assert!(course.either_way);
        assert_ne!(course.title, other.title);
        let renamed = Course { heading, title: course.title.clone(), present: course.present, ..other.clone() };
        assert_eq!(*course, renamed);
    }
}

/// A stop holds one way only. What pushes the part off it is what pushed onto it
/// the other way round; the part slips the sooner for it.
#[test]
fn a_stop_tells_one_way_from_the_other() {
    let mut scenario = straight(CutKind::Side, 2.0);
    scenario.choices.workholding = Some(Workholding::ViseStop);
    scenario.set_entry(Field::AxialDepth, "6 mm");
    scenario.set_entry(Field::ClampForce, "2500 N");
    let directions = directions(&scenario);
    for axis in [Axis::X, Axis::Y] {
        for (sense, plus) in [(CONVENTIONAL, Stop::Against), (CLIMB, Stop::Away)] {
            let [one, other] = [Way::Plus, Way::Minus].map(|way| course(&directions, axis, way, sense));
            assert_eq!(one.stop, plus);
            assert_ne!(one.stop, other.stop);
            assert!(!one.either_way);
            let (onto, off) = if plus == Stop::Against { (one, other) } else { (other, one) };
            assert!(onto.prediction.slip < off.prediction.slip, "{} {}", onto.prediction.slip, off.prediction.slip);
            assert!(onto.title.ends_with("onto the stop") && off.title.ends_with("off the stop"));
            let why = off.why(&directions, UnitSystem::Metric);
            assert!(why.contains("away from its stop"), "{why}");
        }
    }
}

/// In a face cut half is climb and half conventional: no sense is made up.
#[test]
fn a_face_cut_has_no_sense() {
    let mut scenario = Scenario::new("flat top");
    scenario.choices.cutter = Some(CutterKind::FlyCutter);
    let directions = directions(&scenario);
    assert_eq!(directions.courses.len(), 4);
    assert!(directions.courses.iter().all(|course| course.heading.sense.is_none()));
}

/// The present direction shows what the decision says of it.
#[test]
fn the_present_direction_is_that_of_the_decision() {
    for scenario in [demo(), Scenario::new("blank"), straight(CutKind::Slot, 10.0)] {
        let now = decide(&scenario.resolve().case).now;
        let directions = directions(&scenario);
        assert_eq!(directions.present().prediction, now);
    }
}

/// What is dangerous comes last; of the rest the best first.
#[test]
fn dangerous_directions_come_last() {
    let directions = directions(&demo());
    let key = |course: &Course| (course.dangerous, -course.quality);
    assert!(directions.courses.is_sorted_by(|a, b| key(a) <= key(b)));
    assert!(!directions.best().dangerous);
    // Shallow climb cuts on slides with next to no drag: common practice.
    assert_eq!(directions.worst().heading.sense, CLIMB);
    assert!(directions.worst().dangerous);
}

/// One sentence that can be read at a glance: the axis and what swings; why says
/// the rest.
#[test]
fn the_demonstration_says_what_rules_it() {
    let climb = {
        let mut scenario = demo();
        scenario.choices.sense = CLIMB;
        scenario
    };
    for (scenario, words) in [
        (demo(), ["along Y", "about as good as any way", "shakes to and from you"].as_slice()),
        (climb, ["along Y", "not the best way", "pulls the table along", "conventional"].as_slice()),
    ] {
        let directions = directions(&scenario);
        let sentence = directions.sentence(UnitSystem::Metric);
        for word in words {
            assert!(sentence.contains(word), "{word}: {sentence}");
        }
        assert_eq!(sentence.matches(". ").count(), 0, "{sentence}");
        for said in directions.warning(UnitSystem::Metric).iter().chain([&sentence]) {
            assert!(said.split_whitespace().count() <= 45, "{said}");
        }
        assert!(directions.present().why(&directions, UnitSystem::Metric).contains("The force across the feed"));
    }
}

/// A force is not known to three figures.
#[test]
fn forces_are_told_to_two_figures() {
    let mut told = 0;
    for scenario in [demo(), straight(CutKind::Side, 0.5), straight(CutKind::Slot, 10.0)] {
        let directions = directions(&scenario);
        for (units, unit) in [(UnitSystem::Metric, "N"), (UnitSystem::Inch, "lbf")] {
            for course in &directions.courses {
                let why = course.why(&directions, units);
                let words: Vec<&str> = why.split_whitespace().collect();
                for pair in words.windows(2).filter(|pair| pair[1].trim_end_matches([',', '.', ':']) == unit) {
                    let figures = pair[0].replace('.', "");
                    assert!(figures.trim_matches('0').len() <= 2, "{} {unit}: {why}", pair[0]);
                    told += 1;
                }
            }
        }
    }
    assert!(told > 20, "{told}");
}

/// Where the part slips whichever way it is fed, no way is called the best; what is
/// all but sure is nowhere called sure.
#[test]
fn where_no_way_is_safe_that_is_said() {
    let mut scenario = Scenario::new("heavy");
    scenario.choices.archetype = Some(Archetype::BenchDrill);
    scenario.choices.material = Some(Material::MildSteel);
    scenario.choices.workholding = Some(Workholding::BareVise);
    scenario.set_entry(Field::AxialDepth, "4 mm");
    scenario.set_entry(Field::RadialWidth, "2 mm");
    let directions = directions(&scenario);
    assert!(directions.courses.iter().all(|course| course.dangerous));
    let said = directions.sentence(UnitSystem::Metric);
    assert!(said.starts_with("No way of feeding makes this cut safe") && !said.contains("best"), "{said}");
    for course in &directions.courses {
        let why = course.why(&directions, UnitSystem::Metric);
        assert!(why.contains(&count(course.prediction.chatter)), "{why}");
    }
}

/// Of two axes that come to the same, neither is called the better or the worse.
#[test]
fn axes_that_come_to_the_same_are_not_told_apart() {
    let mut scenario = Scenario::new("plate");
    scenario.choices.archetype = Some(Archetype::Knee);
    scenario.choices.material = Some(Material::AluminiumSoft);
    for (sense, better) in [(CONVENTIONAL, "climb is worse"), (CLIMB, "conventional is better")] {
        scenario.choices.sense = sense;
        scenario.set_entries([
            (Field::AxialDepth, "5 mm"),
            (Field::RadialWidth, "3.2 mm"),
            (Field::SpindleSpeed, "1600 rpm"),
        ]);
        let directions = directions(&scenario);
        let quality = |axis| course(&directions, axis, Way::Plus, CONVENTIONAL).quality;
        assert!((quality(Axis::X) - quality(Axis::Y)).abs() < 0.02);
        let said = directions.sentence(UnitSystem::Metric);
        assert!(said.starts_with("X or Y makes no difference") && said.contains(better), "{said}");
        assert!(!said.contains("along Y"), "{said}");
    }
}
