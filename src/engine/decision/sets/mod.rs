//! Several remedies together: remedies do not add up, so every set that can be
//! had is tried on the same machines.

mod choosing;
pub mod race;
mod rival;
mod staircase;

use std::collections::BTreeMap;
use std::rc::Rc;
use std::sync::Arc;

use serde::{Deserialize, Serialize};

pub use choosing::Choosing;
pub use staircase::Staircase;

use self::race::{Lap, Podium, Race, Runner, counted_on};
use super::evaluate::{Changed, Evaluation, Ground};
use super::safety::{built_in, danger};
use super::weigh::{Cost, mean, middle, regret};
use super::{Danger, Fit, Spread};
use crate::mechanics::{Bearings, Chatter, CutForces};
use crate::order;
use crate::remedies::{Plan, RemedyId, RemedySet, change_setup, title};

/// A set of remedies weighed, on all machines that fit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Bundle {
    /// What is in it.
    pub remedies: RemedySet,
    /// What to do, each in the words of this case, in the order of the catalogue.
    pub titles: Vec<String>,
    /// Money, 10 and 90 %; each thing hired or bought once.
    pub money: (f64, f64),
    /// Hours of work, 10 and 90 %; extra minutes in the cut included.
    pub hours: (f64, f64),
    /// Chance of spoiling something.
    pub spoil: f64,
    /// Depth it takes in one pass, mm.
    pub depth: f64,
    /// Probability of reaching the goal.
    pub reach: f64,
    /// Roughness Ra that counts, mm.
    pub finish: Spread,
    /// Roughness Ra (mm) that eight machines in ten keep to.
    pub counted_on: f64,
    /// Deepest cut without chatter, mm.
    pub depth_limit: Spread,
    /// Net worth over leaving everything as it is, in money.
    pub worth: Spread,
    /// Its mean.
    pub expected_worth: f64,
    /// Share of the machines on which one would be better off without.
    pub regret: f64,
    /// The gravest danger it leaves, if any.
    pub danger: Option<Danger>,
}

/// A step of a frontier.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Step {
    /// Which of [`Sets::bundles`].
    pub bundle: usize,
    /// Whether it is the best buy for some price of what it brings; if not, the
    /// steps beside it give more for each unit spent.
    pub worth_stopping_at: bool,
}

/// The best to be had for each amount spent, cheapest first.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Frontier {
    /// By the probability of reaching the goal.
    pub reach: Vec<Step>,
    /// By the finish that can be counted on.
    pub finish: Vec<Step>,
}

/// What sets of remedies could do.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Sets {
    /// Every set that stands on a frontier, and the best buy.
    pub bundles: Vec<Bundle>,
    /// Against money.
    pub by_money: Frontier,
    /// Against hours.
    pub by_hours: Frontier,
    /// The best buy: the largest expected net worth.
    pub best_buy: usize,
    /// The members of the best buy in the order to do them: each next one brings
    /// most on top of those before.
    pub order: Vec<RemedyId>,
    /// Remedies there were to choose from.
    pub remedies: usize,
    /// Sets that can be done together within money and hours.
    pub tried: usize,
    /// Machines on which they were tried.
    pub machines: usize,
    /// Share of the work that exact bounds spared.
    pub spared: f64,
}

/// Machines on which every set is tried; those that stand the test are weighed
/// on all.
pub const TRIED_ON: usize = 128;

/// Machines enough to put the members of a set in order.
const ORDERED_ON: usize = 512;

/// The search for the sets worth having, in slices.
pub struct Search {
    ground: Ground,
    sets: Vec<(RemedySet, Cost)>,
    remedies: usize,
    race: Race,
    known: CutsKnown,
}

impl Search {
    /// Of all sets for the case of `fit`.
    pub fn new(fit: &Fit) -> Self {
        let ground = Ground::new(Arc::new(fit.thinned(TRIED_ON)));
        let remedies = fit.possible();
        let sets = admissible(fit, &remedies);
        let case = &fit.case;
        // Nothing is worth a cost to whom the goal is worth nothing.
        let target = case.budget.target_worth.as_amount().max(f64::MIN_POSITIVE);
        let runners = sets
            .iter()
            .map(|(set, cost)| Runner {
                money: middle(cost.money),
                hours: middle(cost.hours),
                cost: cost.mean(case) / target,
                most: fit.pace(Plan::new(*set, &case.setup).setup()),
            })
            .collect();
        let known = CutsKnown::new(&ground, &remedies);
        let race = Race::new(runners, ground.fit.machines().len());
        Search { ground, sets, remedies: remedies.len(), race, known }
    }

    /// Share done, 0 to 1.
    pub fn progress(&self) -> f64 {
        self.race.progress()
    }

    /// How many sets there are to try.
    pub fn sets(&self) -> usize {
        self.sets.len()
    }

    /// Whether all is tried.
    pub fn done(&self) -> bool {
        self.race.done()
    }

    /// Tries the next `count` sets.
    pub fn step(&mut self, count: usize) {
        let Search { ground, sets, race, known, .. } = self;
        let ground = &*ground;
        for _ in 0..count {
            race.step(|who| {
                let changed = ground.change(sets[who].0);
                let forces = known.forces(sets[who].0, &changed);
                let chatter = known.chatter(sets[who].0, ground);
                move |machine| {
                    let (forces, chatter) = (&forces[machine], &chatter[machine]);
                    let outcome = changed.outcome_given(machine, forces, chatter, Bearings::AsTheyAre);
                    Lap {
                        reached: changed.reached(&outcome),
                        finish: ground.fit.goal.roughness(&outcome),
                        quality: changed.quality(&outcome),
                    }
                }
            });
        }
    }

    /// Weighs the sets worth having on all machines of `ground`, one by one.
    pub fn weigh(self, ground: Ground) -> Weighing {
        let mut sets: Vec<RemedySet> = finalists(self.race.podium()).into_iter().map(|who| self.sets[who].0).collect();
        sets.push(RemedySet::NONE);
        order::sort(&mut sets, Ord::cmp);
        sets.dedup();
        let now = ground.evaluate(RemedySet::NONE, Bearings::AsTheyAre);
        let known = self.known.for_others();
        Weighing { search: self, ground, known, now, sets, bundles: Vec::new() }
    }

    /// All that is left, at once, on the machines of `fit`.
    pub fn finish(mut self, fit: &Arc<Fit>) -> Sets {
        while !self.done() {
            self.step(1);
        }
        let mut weighing = self.weigh(Ground::new(Arc::clone(fit)));
        while !weighing.done() {
            weighing.step();
        }
        weighing.finish().0
    }
}

/// The sets worth having, weighed one by one on all machines.
pub struct Weighing {
    search: Search,
    ground: Ground,
    known: CutsKnown,
    now: Evaluation,
    sets: Vec<RemedySet>,
    bundles: Vec<Bundle>,
}

impl Weighing {
    /// Share done, 0 to 1.
    pub fn progress(&self) -> f64 {
        self.bundles.len() as f64 / self.sets.len() as f64
    }

    /// Whether all are weighed.
    pub fn done(&self) -> bool {
        self.bundles.len() == self.sets.len()
    }

    /// Weighs the next.
    pub fn step(&mut self) {
        if let Some(&set) = self.sets.get(self.bundles.len()) {
            let evaluation = self.known.evaluate(set, &self.ground);
            self.bundles.push(Bundle::new(&self.ground, &self.now, set, &evaluation));
        }
    }

    /// What came of it, and the machines for further use.
    pub fn finish(self) -> (Sets, Ground) {
        let Weighing { search, ground, bundles, .. } = self;
        // On all machines some turn out to be beaten after all.
        let frontier = |cost: fn(&Bundle) -> f64| {
            let by = |value: fn(&Bundle) -> f64| {
                let mut stairs = Staircase::default();
                for (who, bundle) in bundles.iter().enumerate() {
                    stairs.offer(cost(bundle), value(bundle), who);
                }
                let hull = stairs.on_hull();
                stairs.who().zip(hull).map(|(bundle, on_hull)| Step { bundle, worth_stopping_at: on_hull }).collect()
            };
            Frontier { reach: by(|bundle| bundle.reach), finish: by(|bundle| -bundle.counted_on) }
        };
        let best_buy = (0..bundles.len())
            .max_by(|&a, &b| {
                let (a, b) = (&bundles[a], &bundles[b]);
                b.danger.is_some().cmp(&a.danger.is_some()).then(a.expected_worth.total_cmp(&b.expected_worth))
            })
            .expect("to do nothing is always among them");
        let machines = search.ground.fit.machines().len();
        let every_lap = (search.sets.len() * machines) as f64;
        let sets = Sets {
            by_money: frontier(|bundle| middle(bundle.money)),
            by_hours: frontier(|bundle| middle(bundle.hours)),
            order: order(ground.fit.thinned(ORDERED_ON), bundles[best_buy].remedies),
            best_buy,
            bundles,
            remedies: search.remedies,
            tried: search.sets.len(),
            machines,
            spared: 1.0 - search.race.laps() as f64 / every_lap,
        };
        (sets, ground)
    }
}

/// Every set of `remedies` that can be done together within money and hours and
/// leaves no danger that more remedies would deal with; and what it costs.
fn admissible(fit: &Fit, remedies: &[RemedyId]) -> Vec<(RemedySet, Cost)> {
    let case = &fit.case;
    let mut sets = vec![RemedySet::NONE];
    for &id in remedies {
        for at in 0..sets.len() {
            if sets[at].admits(id) {
                sets.push(sets[at].with(id));
            }
        }
    }
    let minutes = case.setup.cut.minutes(case.setup.cutter.flutes);
    let mut all: Vec<(RemedySet, Cost, Option<Danger>)> = sets
        .into_iter()
        .filter_map(|set| {
            let plan = Plan::new(set, &case.setup);
            let after = plan.setup();
            let cost = Cost::new(set, case, after.cut.minutes(after.cutter.flutes) - minutes);
            cost.affordable(&case.budget).then(|| (set, cost, built_in(after)))
        })
        .collect();
    // What keeps a holder in the spindle is no matter of taste.
    let avoidable = all.iter().any(|(_, _, danger)| danger.is_none());
    all.retain(|(_, _, danger)| danger.is_none() || !avoidable);
    all.into_iter().map(|(set, cost, _)| (set, cost)).collect()
}

/// Who stands on any of the staircases, or is the best buy.
fn finalists(podium: &Podium) -> Vec<usize> {
    [&podium.reach_by_money, &podium.reach_by_hours, &podium.finish_by_money, &podium.finish_by_hours]
        .into_iter()
        .flat_map(Staircase::who)
        .chain(podium.best_buy.map(|(_, who)| who))
        .collect()
}

/// The members of `set`, the one that brings most on top of those before first.
fn order(fit: Fit, set: RemedySet) -> Vec<RemedyId> {
    let ground = Ground::new(Arc::new(fit));
    let quality = |set: RemedySet| mean(&ground.evaluate(set, Bearings::AsTheyAre).quality);
    let mut done = RemedySet::NONE;
    let mut order = Vec::new();
    while order.len() < set.len() {
        let next = set
            .iter()
            .filter(|&id| !done.contains(id))
            .map(|id| (id, quality(done.with(id))))
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .map(|(id, _)| id);
        let next = next.expect("some are left");
        done = done.with(next);
        order.push(next);
    }
    order
}

impl Bundle {
    /// Of `remedies` with what came of them, where `now` is how things are.
    fn new(ground: &Ground, now: &Evaluation, remedies: RemedySet, evaluation: &Evaluation) -> Self {
        let fit = &ground.fit;
        let case = &fit.case;
        let plan = Plan::new(remedies, &case.setup);
        let prediction = evaluation.prediction();
        let cost = Cost::new(remedies, case, evaluation.minutes() - now.minutes());
        let worth = cost.worth(fit, evaluation, now);
        let mut finishes: Vec<f64> = evaluation.outcomes.iter().map(|outcome| fit.goal.roughness(outcome)).collect();
        let counted_on = counted_on(&mut finishes);
        // Each step finds the setup as those before left it.
        let mut setup = case.setup.clone();
        let titles = remedies.iter().map(|id| {
            let title = title(id, &setup);
            setup = change_setup(id, &setup);
            title
        });
        Bundle {
            remedies,
            titles: titles.collect(),
            money: cost.money,
            hours: cost.hours,
            spoil: cost.spoil,
            depth: plan.setup().cut.axial_depth.as_mm(),
            reach: prediction.reach,
            finish: Spread::of(finishes),
            counted_on,
            depth_limit: prediction.depth_limit,
            expected_worth: if remedies.is_empty() { 0.0 } else { mean(&worth) },
            regret: regret(&worth),
            worth: Spread::of(worth),
            danger: danger(plan.setup(), &prediction),
        }
    }
}

/// What sets that cut alike share, worked out once.
struct CutsKnown {
    /// Remedies that change the forces.
    change_forces: RemedySet,
    /// Remedies that change what is fed back, or how the frame swings.
    change_feedback: RemedySet,
    forces: BTreeMap<RemedySet, Rc<[CutForces]>>,
    chatter: BTreeMap<RemedySet, Rc<[Chatter]>>,
}

impl CutsKnown {
    fn new(ground: &Ground, remedies: &[RemedyId]) -> Self {
        let those = |change: &dyn Fn(&Changed<'_>) -> bool| -> RemedySet {
            remedies.iter().copied().filter(|&id| change(&ground.change(id.into()))).collect()
        };
        CutsKnown {
            change_forces: those(&|changed| changed.changes_forces()),
            change_feedback: those(&|changed| changed.changes_feedback()),
            forces: BTreeMap::new(),
            chatter: BTreeMap::new(),
        }
    }

    /// The same remedies, for other machines.
    fn for_others(&self) -> Self {
        CutsKnown { forces: BTreeMap::new(), chatter: BTreeMap::new(), ..*self }
    }

    /// What comes of `set` on every machine.
    fn evaluate(&mut self, set: RemedySet, ground: &Ground) -> Evaluation {
        let changed = ground.change(set);
        let (forces, chatter) = (self.forces(set, &changed), self.chatter(set, ground));
        changed.evaluate_given(&forces, &chatter, Bearings::AsTheyAre)
    }

    /// The forces on every machine with `set`, which is `changed`, in place.
    fn forces(&mut self, set: RemedySet, changed: &Changed<'_>) -> Rc<[CutForces]> {
        let key = set.and(self.change_forces);
        Rc::clone(self.forces.entry(key).or_insert_with(|| changed.forces().into()))
    }

    /// What chatters on every machine with those of `set` in place that change the
    /// feedback: what the others leave alone of it is not worked out again.
    fn chatter(&mut self, set: RemedySet, ground: &Ground) -> Rc<[Chatter]> {
        let key = set.and(self.change_feedback);
        if let Some(known) = self.chatter.get(&key) {
            return Rc::clone(known);
        }
        let changed = ground.change(key);
        let chatter: Rc<[Chatter]> = changed.chatter(&self.forces(key, &changed)).into();
        Rc::clone(self.chatter.entry(key).or_insert(chatter))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::{Scenario, demo};

    /// Sets that cut alike share their forces and limits to the last bit.
    #[test]
    fn what_is_taken_over_is_what_would_be_worked_out() {
        for scenario in [demo(), Scenario::new("blank")] {
            let fit = Fit::with(&scenario.resolve().case, 64).thinned(8);
            let remedies = fit.possible();
            let ground = Ground::new(Arc::new(fit.clone()));
            let mut known = CutsKnown::new(&ground, &remedies);
            for (set, _) in admissible(&fit, &remedies).into_iter().step_by(7) {
                let changed = ground.change(set);
                let (forces, chatter) = (known.forces(set, &changed), known.chatter(set, &ground));
                assert_eq!(*forces, *changed.forces(), "{set:?}");
                for machine in 0..8 {
                    let bearings = Bearings::AsTheyAre;
                    let given = changed.outcome_given(machine, &forces[machine], &chatter[machine], bearings);
                    let alone = changed.outcome(machine, bearings);
                    assert_eq!(given, alone, "{set:?} on machine {machine}");
                }
            }
        }
    }
}
