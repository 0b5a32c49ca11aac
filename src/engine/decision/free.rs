//! The best that can be had for no money.

use std::sync::Arc;

use super::sets::{Bundle, Choosing};
use super::{Case, Fit};
use crate::remedies::{Price, RemedyId};

/// The search for the best buy of all sets of remedies that cost no money, in
/// slices. It goes by the rules of [`Study`](super::Study), so that the two never
/// name different sets where the best of all is free.
pub struct FreeOfCharge(Choosing);

impl FreeOfCharge {
    /// For `case`.
    pub fn new(case: &Case) -> Self {
        let mut case = case.clone();
        let paid = |id: &RemedyId| Price::new((*id).into(), &case.means).money.1 > 0.0;
        let without = RemedyId::ALL.iter().copied().filter(paid).chain(case.settled.ruled_out.iter()).collect();
        case.settled.ruled_out = without;
        FreeOfCharge(Choosing::new(Arc::new(Fit::new(&case))))
    }

    /// Does the next slice; the share that is done, 0 to 1.
    pub fn step(&mut self) -> f64 {
        self.0.step()
    }

    /// The set, once all is done, unless it leaves or brings a danger.
    pub fn finish(self) -> Option<Bundle> {
        let (mut sets, _) = self.0.finish()?;
        let best = sets.bundles.swap_remove(sets.best_buy);
        best.danger.is_none().then_some(best)
    }
}
