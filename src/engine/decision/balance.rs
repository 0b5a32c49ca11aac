//! What is brought and what is spent, in the user's own money.

use super::Budget;
use super::weigh::middle;
use crate::quantity::{Dimension, UnitSystem, format_estimate};

/// What one or several remedies bring and what they cost, in money, on average.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Balance {
    /// What coming nearer to the goal is worth.
    pub brings: f64,
    /// Money to be paid.
    pub money: f64,
    /// Hours, at what an hour is worth.
    pub time: f64,
    /// The chance of spoiling something, at what that would cost.
    pub risk: f64,
}

impl Balance {
    /// Of what is worth `left` after all costs: ranges of money and hours, chance
    /// of spoiling something.
    pub fn of(left: f64, money: (f64, f64), hours: (f64, f64), spoil: f64, budget: &Budget) -> Self {
        let money = middle(money);
        let time = middle(hours) * budget.hour_worth.as_amount();
        let risk = spoil * budget.spoil_worth.as_amount();
        Balance { brings: left + money + time + risk, money, time, risk }
    }

    /// All that it costs.
    pub fn costs(&self) -> f64 {
        self.money + self.time + self.risk
    }
}

/// An amount of money, whole and to two figures: it isn't known better.
pub fn about(amount: f64) -> String {
    format_estimate(amount, Dimension::Money, UnitSystem::Metric)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::demo;

    /// What is brought less what is spent is what is left.
    #[test]
    fn the_balance_adds_up() {
        let budget = demo().resolve().case.budget;
        let balance = Balance::of(70.0, (10.0, 30.0), (1.0, 3.0), 0.1, &budget);
        assert!((balance.brings - balance.costs() - 70.0).abs() < 1e-9);
        let told = [20.0, 2.0 * budget.hour_worth.as_amount(), 0.1 * budget.spoil_worth.as_amount()];
        assert_eq!([balance.money, balance.time, balance.risk], told);
    }
}
