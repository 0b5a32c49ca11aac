//! The best that can be had for no money.

use std::sync::Arc;

use super::evaluate::Ground;
use super::sets::{Bundle, Search, Weighing};
use super::{Case, Fit};
use crate::remedies::{Price, RemedyId};

/// The search for the best buy of all sets of remedies that cost no money, in
/// slices. It goes by the rules of [`Study`](super::Study), so that the two never
/// name different sets where the best of all is free.
pub struct FreeOfCharge {
    fit: Arc<Fit>,
    stage: Stage,
}

enum Stage {
    Search(Box<Search>),
    Weigh(Box<Weighing>),
    Done(Option<Bundle>),
}

/// Sets tried in a slice.
const SETS: usize = 48;

/// Share of the time after which the best are weighed.
const SEARCHED: f64 = 0.6;

impl FreeOfCharge {
    /// For `case`.
    pub fn new(case: &Case) -> Self {
        let mut case = case.clone();
        let paid = |id: &RemedyId| Price::new((*id).into(), &case.means).money.1 > 0.0;
        let without = RemedyId::ALL.iter().copied().filter(paid).chain(case.settled.ruled_out.iter()).collect();
        case.settled.ruled_out = without;
        let fit = Arc::new(Fit::new(&case));
        FreeOfCharge { stage: Stage::Search(Box::new(Search::new(&fit))), fit }
    }

    /// Does the next slice; the share that is done, 0 to 1.
    pub fn step(&mut self) -> f64 {
        let (stage, share) = match std::mem::replace(&mut self.stage, Stage::Done(None)) {
            Stage::Search(mut search) => {
                search.step(SETS);
                if search.done() {
                    let ground = Ground::new(Arc::clone(&self.fit));
                    (Stage::Weigh(Box::new(search.weigh(ground))), SEARCHED)
                } else {
                    let share = SEARCHED * search.progress();
                    (Stage::Search(search), share)
                }
            }
            Stage::Weigh(mut weighing) => {
                weighing.step();
                if weighing.done() {
                    let (mut sets, _) = weighing.finish();
                    (Stage::Done(Some(sets.bundles.swap_remove(sets.best_buy))), 1.0)
                } else {
                    let share = SEARCHED + (1.0 - SEARCHED) * weighing.progress();
                    (Stage::Weigh(weighing), share)
                }
            }
            done @ Stage::Done(_) => (done, 1.0),
        };
        self.stage = stage;
        share
    }

    /// The set, unless it leaves or brings a danger.
    pub fn finish(self) -> Option<Bundle> {
        let Stage::Done(best) = self.stage else { return None };
        best.filter(|best| best.danger.is_none())
    }
}
