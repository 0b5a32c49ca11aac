//! The long work on a case: what would have to be true for bearings to win, what
//! drives the spread, and how often each remedy is the best buy.

use spindlewise_engine::decision::sensitivity::Question;
use spindlewise_engine::decision::{
    Case, Danger, Findings, Study, contenders, decide, decide_with, make_safe, must_go, why, with_reading,
};
use spindlewise_engine::machine::{Archetype, BearingCondition, TaperRetention};
use spindlewise_engine::quantity::{Money, UnitSystem};
use spindlewise_engine::readings::ReadingKind;
use spindlewise_engine::remedies::RemedyId;
use spindlewise_engine::scenario::{Field, Scenario, demo};
use spindlewise_engine::work::Holder;

/// A shop to which the goal is worth `worth`, and that has ruled out whatever else
/// takes play away.
fn play_matters(worth: f64) -> Case {
    let mut case = demo().resolve().case;
    let kept = [RemedyId::SameBearings, RemedyId::SharpCutter, RemedyId::ReverseSense];
    case.settled.ruled_out = RemedyId::ALL.iter().copied().filter(|id| !kept.contains(id)).collect();
    case.budget.target_worth = Money::amount(worth);
    case
}

fn study(case: &Case) -> Findings {
    let mut study = Study::new(case.clone());
    let mut last = 0.0;
    loop {
        let share = study.step();
        assert!(share >= last, "progress goes back from {last} to {share}");
        last = share;
        if share >= 1.0 {
            return study.findings().expect("all is done");
        }
    }
}

/// The break-even is verified by putting it in: just above it new bearings are
/// worth more than anything else, just below they are not.
#[test]
fn at_the_break_even_new_bearings_begin_to_win() {
    // Where the goal is worth little they never win, where it is worth a fortune
    // always: somewhere between, the play decides.
    let (case, found, from) = [2000.0, 3000.0, 4000.0, 5000.0, 6000.0, 7000.0, 8500.0, 10000.0]
        .into_iter()
        .find_map(|worth| {
            let case = play_matters(worth);
            let found = study(&case).break_even.expect("bearings can be had");
            let from = found.thresholds[0].wins_from.filter(|&from| from > 0.003)?;
            Some((case, found, from))
        })
        .expect("play can be so large that bearings win");
    let play = &found.thresholds[0];
    assert_eq!(play.field, "readings.rock.radial");
    let wins = |reading: f64| {
        let decision = decide_with(&with_reading(&case, ReadingKind::RadialPlay, reading), 512);
        let worth = |one: &&spindlewise_engine::decision::Appraisal| one.expected_worth;
        let own = decision.appraisals.iter().find(|one| one.remedy == found.remedy).map(|one| worth(&one));
        let rest = decision
            .appraisals
            .iter()
            .filter(|one| one.remedy != found.remedy && one.unmet.is_empty())
            .map(|one| worth(&one))
            .fold(f64::NEG_INFINITY, f64::max);
        own.expect("it was weighed") > rest
    };
    assert!(wins(1.05 * from), "above {from}");
    assert!(!wins(from / 1.05), "below {from}");
    assert!(play.pays_from.is_some_and(|pays| pays <= from));
    assert!((0.0..=1.0).contains(&play.likely));
    let sentence = found.sentence(UnitSystem::Metric);
    assert!(sentence.contains("only if the sideways play at the nose were over"), "{sentence}");
}

/// In the demonstration nothing would make them win, and it is said so.
#[test]
fn where_nothing_makes_bearings_win_it_is_said() {
    let found = study(&demo().resolve().case);
    let break_even = found.break_even.expect("bearings can be had");
    assert!(break_even.thresholds.iter().all(|one| one.wins_from.is_none()));
    let sentence = break_even.sentence(UnitSystem::Metric);
    assert!(sentence.contains("Even with 500 µm of play there") && sentence.contains("is not counted"), "{sentence}");
    // What is said of the most play holds when that is read: it brings less than it
    // costs, or something else is left with more.
    let decision = decide_with(&with_reading(&demo().resolve().case, ReadingKind::RadialPlay, 0.5), 512);
    let worth = |remedy: RemedyId| {
        decision.appraisals.iter().find(|one| one.remedy == remedy).map_or(f64::NAN, |one| one.expected_worth)
    };
    let own = worth(break_even.remedy);
    assert!((break_even.at_most.left - own).abs() <= 0.5_f64.max(0.051 * own.abs()), "{own}");
    let (_, rival) = break_even.rival.as_ref().expect("a shorter stick-out pays");
    assert!(rival.left > own.max(0.0));

    // Shares add up to one at every worth, and what is worth nothing is left alone.
    let favour = &found.acceptability;
    for at in 0..favour.worths.len() {
        let sum: f64 = favour.favours.iter().map(|one| one.best[at]).sum();
        assert!((sum - 1.0).abs() < 1e-9, "{sum}");
    }
    assert_eq!(favour.favours[favour.best_on_average[0]].remedy, RemedyId::LeaveAlone);

    // Every figure has its drivers, the most important first, each index a share.
    assert_eq!(found.drivers.len(), Question::ALL.len());
    for drivers in &found.drivers {
        let totals: Vec<f64> = drivers.influences.iter().map(|one| one.total).collect();
        assert!(!totals.is_empty() && totals.is_sorted_by(|a, b| a >= b));
        assert!(drivers.influences.iter().all(|one| (0.0..=1.0).contains(&one.first) && one.total <= 1.0));
    }
}

/// Under a danger the page begins with what makes it safe, and names one winner:
/// what is best on average is what is said to win, though it leaves the danger.
#[test]
fn a_danger_comes_first_and_there_is_one_winner() {
    let mut scenario = Scenario::new("bare taper");
    let choices = &mut scenario.choices;
    choices.archetype = Some(Archetype::BenchDrill);
    choices.condition = Some(BearingCondition::Worn);
    choices.retention = Some(TaperRetention::Unretained);
    choices.holder = Some(Holder::DrillChuck);
    scenario.set_entry(Field::AxialDepth, "4 mm");
    scenario.set_entry(Field::RadialWidth, "1 mm");
    let case = scenario.resolve().case;
    let decision = decide(&case);
    assert_eq!(decision.verdict.danger, Some(Danger::BareTaper));
    let first = make_safe(&decision).expect("there is a danger");
    assert!(first.starts_with("First make it safe: "), "{first}");

    let winner = contenders(&decision)[0];
    assert!(winner.danger.is_some() && winner.best > 0.5, "the case shows nothing");
    let favour = study(&case).acceptability;
    let own = case.budget.target_worth.as_amount();
    let at = favour.worths.iter().position(|&worth| (worth - own).abs() < 1e-6).expect("one of the steps");
    assert_eq!(favour.favours[favour.best_on_average[at]].remedy, winner.remedy);
    let often = favour.favours.iter().find(|one| one.remedy == winner.remedy).expect("it was tried");
    // But for machines on which two come to the same.
    assert!((often.best[at] - winner.best).abs() < 2e-3);
    let said = why(&decision, &case).join(" ");
    assert!(said.starts_with(&format!("Taken one by one, worth most to you is “{}”", winner.title)), "{said}");

    assert_eq!(make_safe(&decide(&demo().resolve().case)), None);
}

/// Bearings that grind are not weighed: they have to go, and no reading decides it.
#[test]
fn shot_bearings_have_to_go_whatever_they_are_worth() {
    let mut scenario = demo();
    assert_eq!(must_go(&scenario.resolve().case, UnitSystem::Metric), None);
    scenario.choices.condition = Some(BearingCondition::Shot);
    let case = scenario.resolve().case;
    let said = must_go(&case, UnitSystem::Metric).expect("they are shot");
    assert!(said.starts_with("They have to go") && said.contains("no source"), "{said}");
    assert_eq!(study(&case).break_even, None);
}

/// A figure that one unknown decides is driven by it: the finish of a sharp,
/// gentle cut is what the process leaves.
#[test]
fn the_demonstrations_finish_is_driven_by_the_process() {
    let found = study(&demo().resolve().case);
    let finish = found.drivers.iter().find(|one| one.question == Question::Finish).expect("it is asked");
    assert!(finish.influences[0].label.starts_with("The roughness a perfect machine"), "{:?}", finish.influences);
    assert!(finish.influences[0].first > 0.5);
}

/// The same case gives the same findings.
#[test]
fn findings_repeat() {
    assert_eq!(study(&play_matters(3000.0)), Study::run(play_matters(3000.0)));
}
