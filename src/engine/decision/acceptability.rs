//! How often each remedy is the best buy, by what reaching the goal is worth.
//!
//! Fenwick, Claxton and Sculpher, Health Economics 10 (2001): the option to
//! choose is the one of the largest mean, which need not be the one that is most
//! often best; so both are given.

use serde::{Deserialize, Serialize};

use super::Fit;
use super::evaluate::Ground;
use super::weigh::{Cost, best_buys, mean};
use crate::mechanics::Bearings;
use crate::remedies::{Price, RemedyId, RemedySet, title};

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
    /// Every remedy that can be had and afforded, and leaving it alone; in the
    /// order of the catalogue.
    pub favours: Vec<Favour>,
    /// Which of them is the best buy on average, one for each worth.
    pub best_on_average: Vec<usize>,
}

/// Worths looked at: from nothing to so many times what the user said.
const STEPS: usize = 25;
const UP_TO: f64 = 3.0;

impl Acceptability {
    /// On the machines of `ground`.
    pub fn new(ground: &Ground) -> Self {
        let Fit { case, .. } = &*ground.fit;
        let now = ground.evaluate(RemedySet::NONE, Bearings::AsTheyAre);
        // Gain in the share of the goal, and what it costs, machine by machine.
        let mut options: Vec<(RemedyId, Vec<f64>, Vec<f64>)> =
            vec![(RemedyId::LeaveAlone, vec![0.0; now.quality.len()], vec![0.0; now.quality.len()])];
        for id in ground.fit.possible() {
            let with = ground.evaluate(id.into(), Bearings::AsTheyAre);
            let cost = Cost::new(Price::new(id.into(), &case.means), (with.minutes() - now.minutes()) / 60.0);
            if cost.affordable(&case.budget) {
                let gains = with.quality.iter().zip(&now.quality).map(|(with, without)| with - without).collect();
                options.push((id, gains, cost.paid(&ground.fit)));
            }
        }
        let target = case.budget.target_worth.as_amount();
        let worths: Vec<f64> = (0..STEPS).map(|step| UP_TO * target * step as f64 / (STEPS - 1) as f64).collect();
        let mut favours: Vec<Favour> = options
            .iter()
            .map(|(id, ..)| Favour { remedy: *id, title: title(*id, &case.setup), best: Vec::new() })
            .collect();
        let mut best_on_average = Vec::new();
        for worth in &worths {
            let nets: Vec<Vec<f64>> = options
                .iter()
                .map(|(_, gains, costs)| gains.iter().zip(costs).map(|(gain, cost)| worth * gain - cost).collect())
                .collect();
            let views: Vec<&[f64]> = nets.iter().map(Vec::as_slice).collect();
            for (favour, share) in favours.iter_mut().zip(best_buys(&views)) {
                favour.best.push(share);
            }
            let best = (0..nets.len()).max_by(|&a, &b| mean(&nets[a]).total_cmp(&mean(&nets[b])).then(b.cmp(&a)));
            best_on_average.push(best.expect("to leave it alone is one of them"));
        }
        Acceptability { worths, favours, best_on_average }
    }
}
