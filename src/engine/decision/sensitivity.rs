//! Which unknown drives the spread.
//!
//! The first-order index of an input is the share of a figure's variance that
//! would go, on average, if that input became known; the total index the share
//! that would stay if everything else did. Sobol', Mathematics and Computers in
//! Simulation 55 (2001); Homma and Saltelli, Reliability Engineering and System
//! Safety 52 (1996).

use std::sync::Arc;

use serde::{Deserialize, Serialize};
use statrs::distribution::{ContinuousCDF, Normal};

use super::Fit;
use super::evaluate::Ground;
use super::fit::SEED;
use crate::mechanics::{Bearings, Plausible, Prepared, Unknown};
use crate::order;
use crate::readings::{scattered, told_by};
use crate::remedies::{Plan, RemedySet};

/// What may be spread.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Question {
    /// The finish, as things are.
    Finish,
    /// The depth without chatter, as things are.
    Depth,
    /// How much nearer to the goal perfect bearings would bring.
    Bearings,
}

impl Question {
    /// All of them.
    pub const ALL: [Question; 3] = [Question::Finish, Question::Depth, Question::Bearings];
}

/// How much one unknown has to do with the spread of a figure.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Influence {
    /// What the unknown is, in the words of the shop.
    pub label: String,
    /// The field of the reading that tells about it, if one does.
    pub reading: Option<String>,
    /// Share of the variance that would go if it became known.
    pub first: f64,
    /// Share that would stay if all else became known.
    pub total: f64,
}

/// What drives the spread of one figure.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Drivers {
    /// The figure.
    pub question: Question,
    /// What drives it, most by its total index first; what has hardly anything to
    /// do with it is left out.
    pub influences: Vec<Influence>,
}

/// The first-order index of an input with values `x` for a figure with values
/// `y`: the variance between groups of like `x`, less what chance puts there.
pub fn first_order(x: &[f64], y: &[f64]) -> f64 {
    /// Enough for a wavy dependence, and still some dozens in a group.
    const GROUPS: usize = 32;
    let count = y.len();
    let order = order::places(x);
    let mean = super::weigh::mean(y);
    let variance = y.iter().map(|y| (y - mean).powi(2)).sum::<f64>() / count as f64;
    if variance <= 0.0 {
        return 0.0;
    }
    let groups = GROUPS.min(count / 8).max(1);
    let (mut between, mut chance) = (0.0, 0.0);
    for group in 0..groups {
        let members = &order[group * count / groups..(group + 1) * count / groups];
        let size = members.len() as f64;
        let here = members.iter().map(|&i| y[i]).sum::<f64>() / size;
        let within = members.iter().map(|&i| (y[i] - here).powi(2)).sum::<f64>() / (size - 1.0);
        between += size * (here - mean).powi(2);
        chance += within;
    }
    ((between - chance * (groups - 1) as f64 / groups as f64) / count as f64 / variance).clamp(0.0, 1.0)
}

/// The total index of an input: `changed` are the figures where that input alone
/// was drawn anew. Jansen, Computer Physics Communications 117 (1999).
pub fn total_order(y: &[f64], changed: &[f64]) -> f64 {
    let mean = super::weigh::mean(y);
    let variance = y.iter().map(|y| (y - mean).powi(2)).sum::<f64>();
    let squares: f64 = y.iter().zip(changed).map(|(y, changed)| (y - changed).powi(2)).sum();
    if variance > 0.0 { (0.5 * squares / variance).min(1.0) } else { 0.0 }
}

/// Machines on which each unknown is drawn anew.
const REDRAWN: usize = 256;

/// An unknown with less than this of the variance has hardly to do with it.
const HARDLY: f64 = 0.01;

/// The search for what drives the spread, unknown by unknown.
pub struct Search {
    fit: Arc<Fit>,
    done: Plan,
    prepared: Prepared,
    /// Figures of each question on every machine.
    figures: [Vec<f64>; 3],
    normals: Vec<f64>,
    next: usize,
    found: [Vec<Influence>; 3],
}

impl Search {
    /// On the machines of `ground`.
    pub fn new(ground: &Ground) -> Self {
        let fit = Arc::clone(&ground.fit);
        let [now, perfect] =
            [Bearings::AsTheyAre, Bearings::Perfect].map(|bearings| ground.evaluate(RemedySet::NONE, bearings));
        let finish = now.outcomes.iter().map(|outcome| fit.goal.roughness(outcome).ln());
        let depth = now.outcomes.iter().map(|outcome| outcome.depth_limit.ln());
        let bearings = perfect.quality.iter().zip(&now.quality).map(|(with, without)| with - without);
        let figures = [finish.collect(), depth.collect(), bearings.collect()];
        let normal = Normal::standard();
        Search {
            done: Plan::new(fit.case.settled.done, &fit.found.prepared.setup),
            prepared: fit.prepared.clone(),
            figures,
            // Another stretch of the same numbers than the readings' errors.
            normals: scattered(REDRAWN * Unknown::COUNT, SEED ^ 1).map(|u| normal.inverse_cdf(u)).collect(),
            next: 0,
            found: Default::default(),
            fit,
        }
    }

    /// Share done, 0 to 1.
    pub fn progress(&self) -> f64 {
        self.next as f64 / Unknown::COUNT as f64
    }

    /// Whether every unknown was looked at.
    pub fn done(&self) -> bool {
        self.next == Unknown::COUNT
    }

    /// Looks at the next unknown.
    pub fn step(&mut self) {
        let Some(&unknown) = Unknown::ALL.get(self.next) else { return };
        let Fit { sample, found, goal, .. } = &*self.fit;
        let picks = sample.picks(REDRAWN);
        let mut changed: [Vec<f64>; 3] = Default::default();
        for (place, &index) in picks.iter().enumerate() {
            let normal = self.normals[self.next * REDRAWN + place];
            let mut iron = sample.redraw(&found.usual, &found.machines[index], unknown, normal);
            self.done.change_machine(&mut iron, sample.extra(index));
            let [now, perfect] = self.run(&iron);
            changed[0].push(goal.roughness(&now).ln());
            changed[1].push(now.depth_limit.ln());
            let depth = self.prepared.setup.cut.axial_depth.as_mm();
            let pace = self.fit.pace(&self.prepared.setup);
            changed[2].push(pace * (goal.quality(&perfect, depth) - goal.quality(&now, depth)));
        }
        let values: Vec<f64> = found.machines.iter().map(|machine| machine[unknown]).collect();
        for (question, found) in self.found.iter_mut().enumerate() {
            let figure = &self.figures[question];
            let picked: Vec<f64> = picks.iter().map(|&index| figure[index]).collect();
            found.push(Influence {
                label: unknown.plain().to_owned(),
                reading: told_by(unknown).map(str::to_owned),
                first: first_order(&values, figure),
                total: total_order(&picked, &changed[question]),
            });
        }
        self.next += 1;
    }

    fn run(&self, iron: &Plausible) -> [crate::mechanics::Outcome; 2] {
        let forces = self.prepared.forces(iron);
        [Bearings::AsTheyAre, Bearings::Perfect].map(|bearings| self.prepared.run(iron, &forces, bearings))
    }

    /// What drives each figure.
    pub fn finish(self) -> Vec<Drivers> {
        let mut found = self.found.into_iter();
        Question::ALL
            .into_iter()
            .map(|question| {
                let mut influences = found.next().unwrap_or_default();
                influences.retain(|one| one.total.max(one.first) >= HARDLY);
                order::greatest_first(&mut influences, |one| one.total);
                Drivers { question, influences }
            })
            .collect()
    }
}
