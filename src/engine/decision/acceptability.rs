//! How often each remedy is the best buy, by what reaching the goal is worth.
//!
//! Fenwick, Claxton and Sculpher, Health Economics 10 (2001): the option to
//! choose is the one of the largest mean, which need not be the one that is most
//! often best; so both are given.

use serde::{Deserialize, Serialize};

use super::Prediction;
use super::evaluate::{Evaluation, Ground};
use super::information;
use super::weigh::{Cost, best_buys, worse};
use crate::mechanics::Bearings;
use crate::remedies::{RemedyId, RemedySet, title};

/// How often one remedy is the best buy.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Favour {
    /// The remedy.
    pub remedy: RemedyId,
    /// What it is, in the words of this case.
    pub title: String,
    /// Share of the machines on which it is the best buy, one for each worth.
    pub best: Vec<f64>,
}

/// How often each remedy is the best buy, against what the goal is worth.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Acceptability {
    /// What reaching the goal may be worth, in money.
    pub worths: Vec<f64>,
    /// Every remedy that can be had and afforded and makes no danger likelier, and
    /// leaving it alone; in the order of the catalogue.
    pub favours: Vec<Favour>,
    /// Which of them is the best buy on average, one for each worth.
    pub best_on_average: Vec<usize>,
}

/// Worths looked at: from nothing to so many times what the user said.
const STEPS: usize = 25;
const UP_TO: f64 = 3.0;

/// Gain in the share of the goal, and cost in money, of one option on each
/// machine.
struct Choice {
    remedy: RemedyId,
    gains: Vec<f64>,
    costs: Vec<f64>,
}

/// The search for how often each is the best buy, remedy by remedy.
pub struct Search {
    ground: Ground,
    now: Evaluation,
    /// What `now` comes to.
    before: Prediction,
    left: Vec<RemedyId>,
    choices: Vec<Choice>,
}

impl Search {
    /// On the machines of `ground`.
    pub fn new(ground: Ground) -> Self {
        let now = ground.evaluate(RemedySet::NONE, Bearings::AsTheyAre);
        let nothing = vec![0.0; now.quality.len()];
        let alone = Choice { remedy: RemedyId::LeaveAlone, gains: nothing.clone(), costs: nothing };
        let mut left = ground.fit.possible();
        left.reverse();
        Search { left, choices: vec![alone], before: now.prediction(), now, ground }
    }

    /// Whether every remedy was tried.
    pub fn done(&self) -> bool {
        self.left.is_empty()
    }

    /// Tries the next remedy.
    pub fn step(&mut self) {
        let Some(remedy) = self.left.pop() else { return };
        let Search { ground, now, before, .. } = self;
        let case = &ground.fit.case;
        let with = ground.evaluate(remedy.into(), Bearings::AsTheyAre);
        let cost = Cost::new(remedy.into(), case, with.minutes() - now.minutes());
        if cost.affordable(&case.budget) && !worse(&with.prediction(), before) {
            let gains = with.quality.iter().zip(&now.quality).map(|(with, without)| with - without).collect();
            self.choices.push(Choice { remedy, gains, costs: cost.paid(&self.ground.fit) });
        }
    }

    /// What was found, and the machines for further use.
    pub fn finish(self) -> (Acceptability, Ground) {
        let Search { ground, choices, .. } = self;
        let case = &ground.fit.case;
        let target = case.budget.target_worth.as_amount();
        let worths: Vec<f64> = (0..STEPS).map(|step| UP_TO * target * step as f64 / (STEPS - 1) as f64).collect();
        let mut favours: Vec<Favour> = choices
            .iter()
            .map(|choice| Favour { remedy: choice.remedy, title: title(choice.remedy, &case.setup), best: Vec::new() })
            .collect();
        let mut best_on_average = Vec::new();
        for worth in &worths {
            let net = |choice: &Choice| -> Vec<f64> {
                choice.gains.iter().zip(&choice.costs).map(|(gain, cost)| worth * gain - cost).collect()
            };
            let nets: Vec<Vec<f64>> = choices.iter().map(net).collect();
            let views: Vec<&[f64]> = nets.iter().map(Vec::as_slice).collect();
            for (favour, share) in favours.iter_mut().zip(best_buys(&views)) {
                favour.best.push(share);
            }
            best_on_average.push(information::best_on_average(&views));
        }
        (Acceptability { worths, favours, best_on_average }, ground)
    }
}
