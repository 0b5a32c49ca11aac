//! The search for the sets worth having and their weighing, one after the other.

use std::sync::Arc;

use super::{Search, Sets, Weighing};
use crate::decision::Fit;
use crate::decision::evaluate::Ground;

/// The choice among all sets, in slices.
pub struct Choosing {
    fit: Arc<Fit>,
    /// First one, then the other.
    search: Option<Search>,
    weighing: Option<Weighing>,
}

/// Sets tried in a slice.
const SETS: usize = 48;

/// Share of the time after which those that stand are weighed.
const SEARCHED: f64 = 0.64;

impl Choosing {
    /// Among all sets for the case of `fit`.
    pub fn new(fit: Arc<Fit>) -> Self {
        Choosing { search: Some(Search::new(&fit)), weighing: None, fit }
    }

    /// Does the next slice; the share that is done, 0 to 1.
    pub fn step(&mut self) -> f64 {
        if let Some(search) = &mut self.search {
            search.step(SETS);
        } else if let Some(weighing) = &mut self.weighing {
            weighing.step();
        }
        if let Some(search) = self.search.take_if(|search| search.done()) {
            self.weighing = Some(search.weigh(Ground::new(Arc::clone(&self.fit))));
        }
        self.progress()
    }

    /// The share that is done, 0 to 1.
    pub fn progress(&self) -> f64 {
        match (&self.search, &self.weighing) {
            (Some(search), _) => SEARCHED * search.progress(),
            (None, Some(weighing)) => SEARCHED + (1.0 - SEARCHED) * weighing.progress(),
            (None, None) => 1.0,
        }
    }

    /// What came of it, once all is done, and the machines for further use.
    pub fn finish(self) -> Option<(Sets, Ground)> {
        self.weighing.filter(Weighing::done).map(Weighing::finish)
    }
}
