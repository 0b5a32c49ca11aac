//! Sets of remedies: the race against trying everything, and laws.

use std::sync::Arc;

use proptest::prelude::*;
use spindlewise_engine::decision::sets::race::{Lap, Race, Runner, counted_on};
use spindlewise_engine::decision::sets::{Search, Sets, Staircase};
use spindlewise_engine::decision::{Case, Fit, FreeOfCharge};
use spindlewise_engine::quantity::{Hours, Money};
use spindlewise_engine::remedies::{RemedyId, RemedySet, Settled};
use spindlewise_engine::scenario::{Field, Scenario, demo};

/// A made-up catalogue: what each remedy costs and brings on each machine; pairs
/// that can't be done together; remedies get in each other's way.
#[derive(Clone, Debug)]
struct Catalogue {
    costs: Vec<(f64, f64)>,
    brings: Vec<Vec<f64>>,
    start: Vec<f64>,
    apart: Vec<(usize, usize)>,
}

impl Catalogue {
    fn sets(&self) -> Vec<u32> {
        let fits = |set: &u32| self.apart.iter().all(|&(a, b)| set >> a & set >> b & 1 == 0);
        (0..1_u32 << self.costs.len()).filter(fits).collect()
    }

    fn members(&self, set: u32) -> impl Iterator<Item = usize> {
        (0..self.costs.len()).filter(move |&one| set >> one & 1 == 1)
    }

    fn runner(&self, set: u32) -> Runner {
        let money: f64 = self.members(set).map(|one| self.costs[one].0).sum();
        let hours: f64 = self.members(set).map(|one| self.costs[one].1).sum();
        Runner { money, hours, cost: (money + 2.0 * hours) / 200.0, most: 1.0 }
    }

    fn lap(&self, set: u32, machine: usize) -> Lap {
        // Each next one brings less than by itself, and some harm each other.
        let gain: f64 = self.members(set).map(|one| self.brings[one][machine]).sum();
        let crowd = 0.1 * f64::from(set.count_ones().saturating_sub(2));
        let quality = (self.start[machine] + gain / (1.0 + 0.3 * gain.abs()) - crowd).clamp(0.0, 1.0);
        Lap { reached: quality > 0.7, finish: 5.0 - 4.0 * quality + 0.1 * (machine % 7) as f64, quality }
    }
}

fn catalogues() -> impl Strategy<Value = Catalogue> {
    (1_usize..=7, 8_usize..40).prop_flat_map(|(remedies, machines)| {
        (
            // Costs in tens, so that ties are common.
            prop::collection::vec((0_u32..6, 0_u32..5), remedies),
            prop::collection::vec(prop::collection::vec(-0.1..0.5, machines), remedies),
            prop::collection::vec(0.0..0.8, machines),
            prop::collection::vec((0..remedies, 0..remedies), 0..3),
        )
            .prop_map(|(costs, brings, start, apart)| Catalogue {
                costs: costs.into_iter().map(|(money, hours)| (10.0 * f64::from(money), f64::from(hours))).collect(),
                brings,
                start,
                apart: apart.into_iter().filter(|(a, b)| a != b).collect(),
            })
    })
}

/// Cost and value of every step: what a staircase has to be, by its definition.
fn by_definition(points: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let beaten = |&(cost, value): &(f64, f64)| {
        points.iter().any(|&(other, better)| other <= cost && better >= value && (other < cost || better > value))
    };
    let mut steps: Vec<(f64, f64)> = points.iter().copied().filter(|point| !beaten(point)).collect();
    steps.sort_by(|a, b| a.partial_cmp(b).expect("numbers"));
    steps.dedup();
    steps
}

/// A set that ran, with reach, finish and net worth; and what of that is a step.
type Point<'a> = &'a dyn Fn(&(Runner, f64, f64, f64)) -> (f64, f64);

proptest! {
    /// The race finds the very staircases, and the best buy, that trying every set
    /// on every machine finds.
    #[test]
    fn the_race_is_exact(catalogue in catalogues()) {
        let sets = catalogue.sets();
        let machines = catalogue.start.len();
        let mut race = Race::new(sets.iter().map(|&set| catalogue.runner(set)).collect(), machines);
        while !race.done() {
            race.step(|who| { let set = sets[who]; let catalogue = &catalogue; move |machine| catalogue.lap(set, machine) });
        }
        let all: Vec<(Runner, f64, f64, f64)> = sets.iter().map(|&set| {
            let laps: Vec<Lap> = (0..machines).map(|machine| catalogue.lap(set, machine)).collect();
            let runner = catalogue.runner(set);
            let reach = laps.iter().filter(|lap| lap.reached).count() as f64 / machines as f64;
            let finish = -counted_on(&mut laps.iter().map(|lap| lap.finish).collect::<Vec<_>>());
            let net = laps.iter().map(|lap| lap.quality).sum::<f64>() / machines as f64 - runner.cost;
            (runner, reach, finish, net)
        }).collect();
        let podium = race.podium();
        let check = |stairs: &Staircase, of: Point<'_>| {
            let expected = by_definition(&all.iter().map(of).collect::<Vec<_>>());
            prop_assert_eq!(stairs.points().collect::<Vec<_>>(), expected);
            Ok(())
        };
        check(&podium.reach_by_money, &|one| (one.0.money, one.1))?;
        check(&podium.reach_by_hours, &|one| (one.0.hours, one.1))?;
        check(&podium.finish_by_money, &|one| (one.0.money, one.2))?;
        check(&podium.finish_by_hours, &|one| (one.0.hours, one.2))?;
        let best = all.iter().map(|one| one.3).fold(f64::NEG_INFINITY, f64::max);
        let (found, who) = podium.best_buy.expect("somebody ran");
        prop_assert!((found - best).abs() < 1e-12);
        prop_assert!((all[who].3 - best).abs() < 1e-12);
        prop_assert!(race.laps() <= (sets.len() * machines) as u64);
    }

    /// The hull of a staircase, against its definition: a step is on it if some
    /// price makes it the best buy.
    #[test]
    fn the_hull_is_what_some_price_makes_best(points in prop::collection::vec((0_u32..30, 0_u32..30), 1..12)) {
        let mut stairs = Staircase::default();
        for (who, &(cost, value)) in points.iter().enumerate() {
            stairs.offer(f64::from(cost), f64::from(value), who);
        }
        let steps: Vec<(f64, f64)> = stairs.points().collect();
        for (step, on_hull) in stairs.on_hull().into_iter().enumerate() {
            // Prices between which the best changes are slopes between two steps;
            // try them and what lies beside them.
            let mut prices = vec![0.0, 1e-3, 1e9];
            for a in &steps { for b in &steps { if a.1 != b.1 {
                let slope = (a.0 - b.0) / (a.1 - b.1);
                prices.extend([slope * 0.999, slope * 1.001]);
            } } }
            let net = |price: f64, at: usize| price * steps[at].1 - steps[at].0;
            let best = prices.iter().any(|&price| price >= 0.0 && (0..steps.len()).all(|other| net(price, step) >= net(price, other) - 1e-9));
            prop_assert_eq!(on_hull, best, "step {} of {:?}", step, steps);
        }
    }
}

fn search(case: &Case) -> (Arc<Fit>, Sets) {
    let fit = Arc::new(Fit::with(case, 256));
    let mut search = Search::new(&fit);
    while !search.done() {
        search.step(256);
    }
    let sets = search.finish(&fit);
    (fit, sets)
}

/// A case with few remedies left, so that every set can be tried in a test.
fn small() -> Case {
    let mut case = demo().resolve().case;
    let kept = [RemedyId::ShortenStickOut, RemedyId::ReverseSense, RemedyId::SharpCutter, RemedyId::SameBearings];
    case.settled.ruled_out = RemedyId::ALL.iter().copied().filter(|id| !kept.contains(id)).collect();
    case
}

/// To do nothing changes nothing on any machine: exactly nothing, and it is the
/// cheapest step of every frontier against hours.
#[test]
fn doing_nothing_is_exactly_nothing() {
    let (_, sets) = search(&small());
    let nothing = sets.bundles.iter().find(|bundle| bundle.remedies.is_empty()).expect("it is always there");
    assert_eq!(nothing.expected_worth, 0.0);
    assert_eq!((nothing.worth.low, nothing.worth.mid, nothing.worth.high), (0.0, 0.0, 0.0));
    assert_eq!((nothing.money, nothing.hours, nothing.spoil, nothing.regret), ((0.0, 0.0), (0.0, 0.0), 0.0, 0.0));
    let first = sets.by_hours.reach[0].bundle;
    assert!(sets.bundles[first].remedies.is_empty());
}

/// More money or more hours never leave a worse best set.
#[test]
fn a_larger_budget_is_never_worse() {
    let best = |money: f64, hours: f64| {
        let mut case = small();
        case.budget.money = Some(Money::amount(money));
        case.budget.hours = Some(Hours::h(hours));
        let (_, sets) = search(&case);
        sets.bundles[sets.best_buy].expected_worth
    };
    let by_money = [0.0, 20.0, 40.0, 120.0].map(|money| best(money, 12.0));
    let by_hours = [0.0, 0.2, 1.0, 12.0].map(|hours| best(150.0, hours));
    for worths in [by_money, by_hours] {
        assert!(worths.windows(2).all(|pair| pair[1] >= pair[0] - 1e-9), "{worths:?}");
    }
}

/// What is named twice is done once.
#[test]
fn a_remedy_named_twice_helps_once() {
    let mut scenario = demo();
    scenario.choices.done = vec![RemedyId::ShortenStickOut];
    let once = scenario.resolve();
    scenario.choices.done = vec![RemedyId::ShortenStickOut, RemedyId::ShortenStickOut];
    assert_eq!(scenario.resolve().case, once.case);
    let twice: RemedySet = [RemedyId::BraceColumn, RemedyId::BraceColumn].into_iter().collect();
    assert_eq!(twice, RemedyId::BraceColumn.into());
}

/// What is done already counts as done: the present with it is what was promised
/// of it, on the same machines.
#[test]
fn what_was_done_is_where_one_stands() {
    use spindlewise_engine::decision::decide_with;
    let mut scenario = demo();
    let promised = decide_with(&scenario.resolve().case, 512);
    let promised =
        promised.appraisals.iter().find(|one| one.remedy == RemedyId::ShortenStickOut).expect("it can be had");
    scenario.choices.done = vec![RemedyId::ShortenStickOut];
    let then = decide_with(&scenario.resolve().case, 512);
    assert_eq!(then.now.reach, promised.prediction.reach);
    assert_eq!(then.now.wall, promised.prediction.wall);
    assert_eq!(then.now.depth_limit, promised.prediction.depth_limit);
}

/// What is done already and can't be so is said, and not reckoned with.
#[test]
fn what_cannot_be_in_place_is_reported() {
    let mut scenario = demo();
    scenario.choices.done = vec![RemedyId::AngularPair, RemedyId::SameBearings, RemedyId::Drawbar];
    let resolved = scenario.resolve();
    assert_eq!(resolved.case.settled, Settled { done: RemedyId::SameBearings.into(), ruled_out: RemedySet::NONE });
    assert_eq!(resolved.problems.len(), 2, "{:?}", resolved.problems);
}

/// No set on a frontier holds two remedies that exclude each other, or one that
/// was ruled out, and none is beyond the budget.
#[test]
fn sets_keep_to_the_rules() {
    let mut scenario = demo();
    scenario.choices.ruled_out = vec![RemedyId::LighterCut];
    scenario.set_entry(Field::MoneyBudget, "60");
    let (_, sets) = search(&scenario.resolve().case);
    assert!(sets.tried > 100, "{}", sets.tried);
    for bundle in &sets.bundles {
        let mut so_far = RemedySet::NONE;
        for id in bundle.remedies.iter() {
            assert!(so_far.admits(id) && id != RemedyId::LighterCut, "{:?}", bundle.remedies);
            so_far = so_far.with(id);
        }
        assert!(0.5 * (bundle.money.0 + bundle.money.1) <= 60.0 + 1e-9);
        assert_eq!(bundle.titles.len(), bundle.remedies.len());
    }
}

/// A blank machine has more than sixteen remedies to choose from, and the search
/// looks at every set of them.
#[test]
fn many_remedies_are_searched_exactly() {
    let case = Scenario::new("blank").resolve().case;
    let fit = Arc::new(Fit::with(&case, 64));
    let search = Search::new(&fit);
    assert!(search.progress() == 0.0 && !search.done());
    assert!(search.sets() > 10_000, "{}", search.sets());
}

/// In the demonstration a lighter cut reaches the goal more often for no more
/// money, and is not the best buy: it is said what it falls short in.
#[test]
fn a_set_that_seems_better_is_told_why_it_is_not() {
    use spindlewise_engine::quantity::UnitSystem;
    let mut case = small();
    let kept = [RemedyId::ShortenStickOut, RemedyId::LighterCut];
    case.settled.ruled_out = RemedyId::ALL.iter().copied().filter(|id| !kept.contains(id)).collect();
    let (_, sets) = search(&case);
    let best = &sets.bundles[sets.best_buy];
    let rival = sets.rival().expect("half the depth reaches it more often");
    assert!(rival.reach > best.reach && rival.expected_worth < best.expected_worth);
    assert_eq!(rival.money, best.money);
    let why = sets.why_not(rival, &case, UnitSystem::Inch);
    assert!(why.contains("19.7 thou deep") && why.contains("39.4 thou") && why.contains("13 % less"), "{why}");

    // Where every set that reaches it more often costs more money, nothing seems odd.
    case.settled.ruled_out = RemedyId::ALL.iter().copied().filter(|&id| id != RemedyId::StoutCutter).collect();
    assert!(search(&case).1.rival().is_none());
}

/// What is best for no money is what is best in a shop without any.
#[test]
fn the_best_free_set_is_the_best_where_there_is_no_money() {
    let mut scenario = demo();
    scenario.set_entry(Field::AxialDepth, "1.2 mm");
    let case = scenario.resolve().case;
    let mut free = FreeOfCharge::new(&case);
    while free.step() < 1.0 {}
    let free = free.finish().expect("it is safe");
    assert!(free.remedies.len() > 1 && free.money == (0.0, 0.0), "{:?}", free.remedies);

    let mut broke = case;
    broke.budget.money = Some(Money::amount(0.0));
    let fit = Arc::new(Fit::new(&broke));
    let sets = Search::new(&fit).finish(&fit);
    assert_eq!(sets.bundles[sets.best_buy].remedies, free.remedies);
    assert_eq!(sets.bundles[sets.best_buy].reach, free.reach);
}
