//! What takes longer than an answer: sets of remedies, what drives the spread,
//! what would have to be true for new bearings to win. Done in slices, so that it
//! can be watched and given up.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::acceptability::{self, Acceptability};
use super::break_even::{self, BreakEven};
use super::sensitivity::{self, Drivers};
use super::sets::{Choosing, Sets};
use super::{Case, Fit};

/// What came of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Findings {
    /// Remedies together.
    pub sets: Sets,
    /// How often each remedy is the best buy, by what the goal is worth.
    pub acceptability: Acceptability,
    /// What drives the spread of each figure.
    pub drivers: Vec<Drivers>,
    /// What would have to be true for new bearings to win; none if they can't be
    /// had at all.
    pub break_even: Option<BreakEven>,
}

/// The work, slice by slice.
pub struct Study {
    case: Case,
    stage: Stage,
    sets: Option<Sets>,
    acceptability: Option<Acceptability>,
    drivers: Vec<Drivers>,
    break_even: Option<BreakEven>,
}

enum Stage {
    Begin,
    Sets(Box<Choosing>),
    Favour(Arc<Fit>, Box<acceptability::Search>),
    Drivers(Arc<Fit>, Box<sensitivity::Search>),
    BreakEven(Box<break_even::Search>),
    Done,
}

/// Where each stage begins on the way from 0 to 1, by the time it usually takes.
const SHARES: [f64; 4] = [0.05, 0.6, 0.7, 1.0];

impl Study {
    /// Of `case`.
    pub fn new(case: Case) -> Self {
        Study { case, stage: Stage::Begin, sets: None, acceptability: None, drivers: Vec::new(), break_even: None }
    }

    /// Does the next slice; the share that is done, 0 to 1.
    pub fn step(&mut self) -> f64 {
        self.stage = match std::mem::replace(&mut self.stage, Stage::Done) {
            Stage::Begin => Stage::Sets(Box::new(Choosing::new(Arc::new(Fit::new(&self.case))))),
            Stage::Sets(mut choosing) => {
                if choosing.step() < 1.0 {
                    Stage::Sets(choosing)
                } else if let Some((sets, ground)) = choosing.finish() {
                    self.sets = Some(sets);
                    Stage::Favour(Arc::clone(&ground.fit), Box::new(acceptability::Search::new(ground)))
                } else {
                    Stage::Done
                }
            }
            Stage::Favour(fit, mut search) => {
                search.step();
                if search.done() {
                    let (found, ground) = search.finish();
                    self.acceptability = Some(found);
                    Stage::Drivers(fit, Box::new(sensitivity::Search::new(&ground)))
                } else {
                    Stage::Favour(fit, search)
                }
            }
            Stage::Drivers(fit, mut search) => {
                search.step();
                if search.done() {
                    self.drivers = search.finish();
                    Stage::BreakEven(Box::new(break_even::Search::new(&self.case, &fit)))
                } else {
                    Stage::Drivers(fit, search)
                }
            }
            Stage::BreakEven(mut search) => {
                search.step();
                if search.done() {
                    self.break_even = search.finish();
                    Stage::Done
                } else {
                    Stage::BreakEven(search)
                }
            }
            Stage::Done => Stage::Done,
        };
        self.progress()
    }

    /// Share done, 0 to 1.
    fn progress(&self) -> f64 {
        let within = |stage: usize, share: f64| SHARES[stage] + share * (SHARES[stage + 1] - SHARES[stage]);
        match &self.stage {
            Stage::Begin => 0.0,
            Stage::Sets(choosing) => within(0, choosing.progress()),
            Stage::Favour(..) => SHARES[1],
            Stage::Drivers(_, search) => within(1, search.progress()),
            Stage::BreakEven(search) => within(2, search.progress().min(0.99)),
            Stage::Done => 1.0,
        }
    }

    /// What came of it, once all is done.
    pub fn findings(self) -> Option<Findings> {
        Some(Findings {
            sets: self.sets?,
            acceptability: self.acceptability?,
            drivers: self.drivers,
            break_even: self.break_even,
        })
    }

    /// All of it at once.
    pub fn run(case: Case) -> Findings {
        let mut study = Study::new(case);
        while !matches!(study.stage, Stage::Done) {
            study.step();
        }
        study.findings().expect("every stage was gone through")
    }
}
