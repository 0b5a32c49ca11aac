//! What is brought and what is spent, in the user's own money.

use serde::{Deserialize, Serialize};

use super::Budget;
use super::weigh::middle;
use crate::quantity::{Dimension, UnitSystem, format};

/// What one or several remedies bring and what they cost, in money, on average;
/// rounded as it is shown, so that it adds up on paper.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Balance {
    /// What is left when all is paid.
    pub left: f64,
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
        Balance {
            left: rounded(left),
            money: rounded(middle(money)),
            time: rounded(middle(hours) * budget.hour_worth.as_amount()),
            risk: rounded(spoil * budget.spoil_worth.as_amount()),
        }
    }

    /// What coming nearer to the goal is worth.
    pub fn brings(&self) -> f64 {
        self.left + self.costs()
    }

    /// What it costs, for what.
    pub fn costs_said(&self) -> String {
        let parts =
            [(self.money, "in money"), (self.time, "for your time"), (self.risk, "for the risk of spoiling something")];
        let costing = parts.iter().filter(|(amount, _)| *amount != 0.0);
        let said: Vec<String> = costing.map(|(amount, what)| format!("{} {what}", exactly(*amount))).collect();
        if said.is_empty() { "next to nothing".to_owned() } else { said.join(", ") }
    }

    /// All that it costs.
    pub fn costs(&self) -> f64 {
        self.money + self.time + self.risk
    }
}

/// An amount of money, whole and to two figures: it isn't known better.
pub fn about(amount: f64) -> String {
    exactly(rounded(amount))
}

/// A sum or a difference of amounts that were rounded.
pub fn exactly(amount: f64) -> String {
    format(amount, Dimension::Money, UnitSystem::Metric)
}

fn rounded(amount: f64) -> f64 {
    const FIGURES: i32 = 2;
    let digits = amount.abs().max(1.0).log10().floor() as i32 + 1;
    let place = 10_f64.powi((digits - FIGURES).max(0));
    // No minus in front of nothing.
    (amount / place).round() * place + 0.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::demo;

    /// What is brought less what is spent is what is left, in the figures that are
    /// shown.
    #[test]
    fn the_balance_adds_up_on_paper() {
        let budget = demo().resolve().case.budget;
        for (left, hours) in [(70.0, 2.0), (103.7, 1.2), (94.4, 4.75), (-1.2, 0.21), (2345.0, 31.3)] {
            let balance = Balance::of(left, (10.0, 30.0), (hours, hours), 0.1, &budget);
            let shown = |text: String| text.replace('\u{2212}', "-").parse::<f64>().expect("a plain number");
            let [brings, costs] = [balance.brings(), balance.costs()].map(|amount| shown(exactly(amount)));
            assert_eq!(brings - costs, shown(about(left)), "{left}");
            assert!((balance.left - left).abs() <= 0.05 * left.abs().max(10.0));
        }
        let balance = Balance::of(70.0, (10.0, 30.0), (1.0, 3.0), 0.1, &budget);
        let told = [20.0, 2.0 * budget.hour_worth.as_amount(), 0.1 * budget.spoil_worth.as_amount()];
        assert_eq!([balance.money, balance.time, balance.risk], told);
    }
}
