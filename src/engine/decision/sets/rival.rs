//! Why the best buy is not the set that reaches the goal most often.

use super::{Bundle, Sets};
use crate::decision::balance::{Balance, exactly};
use crate::decision::evaluate::pace;
use crate::decision::weigh::middle;
use crate::decision::{Budget, Case, of_hundred};
use crate::quantity::{Dimension, UnitSystem, format};

impl Bundle {
    /// What it brings and costs whoever has this budget.
    pub fn balance(&self, budget: &Budget) -> Balance {
        Balance::of(self.expected_worth, self.money, self.hours, self.spoil, budget)
    }
}

impl Sets {
    /// The set that seems the better buy: it costs no more money than the best buy
    /// and reaches the goal on more machines; of several the one that does so most.
    pub fn rival(&self) -> Option<&Bundle> {
        let best = &self.bundles[self.best_buy];
        let seems_better =
            |one: &&Bundle| middle(one.money) <= middle(best.money) && of_hundred(one.reach) > of_hundred(best.reach);
        self.bundles.iter().filter(seems_better).max_by(|a, b| a.reach.total_cmp(&b.reach))
    }

    /// Why `rival` is not the best buy, in a few sentences.
    pub fn why_not(&self, rival: &Bundle, case: &Case, units: UnitSystem) -> String {
        let best = &self.bundles[self.best_buy];
        let mut said = vec!["It is worth less to you all the same.".to_owned()];
        if let (None, Some(danger)) = (best.danger, rival.danger) {
            said.push(format!("It leaves a danger, whatever it brings: {}.", danger.left()));
        }
        let wanted = case.setup.cut.axial_depth.as_mm();
        let [worse, better] = [rival, best].map(|one| pace(one.depth, wanted));
        if worse < better {
            let length = |depth| format(depth, Dimension::Length, units);
            said.push(format!(
                "It goes {} deep in one pass where you asked for {}: reaching the goal in more and shallower passes counts {:.0} % less.",
                length(rival.depth),
                length(wanted),
                100.0 * (1.0 - worse)
            ));
        }
        let [own, other] = [rival, best].map(|one| one.balance(&case.budget));
        let (more, dearer) = (own.brings() - other.brings(), own.costs() - other.costs());
        if dearer >= 1.0 {
            let brings = if more >= 1.0 { format!("brings {} more but ", exactly(more)) } else { String::new() };
            said.push(format!("It {brings}costs {} more, your hours and the risk counted in.", exactly(dearer)));
        }
        said.push("And how near each machine comes to the goal counts, not only whether it gets there.".to_owned());
        said.join(" ")
    }
}
