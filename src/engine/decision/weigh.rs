//! Worth against cost: where each remedy stands.

use super::evaluate::{Evaluation, Ground};
use super::information::best_on;
use super::safety::{danger, for_safety};
use super::verdict::falls;
use super::{Appraisal, Budget, Case, Fit, Prediction, Spread, Standing};
use crate::mechanics::Bearings;
use crate::remedies::{Effect, Means, Price, RemedyId, RemedySet, change_setup, title};

/// Weighs one remedy against `now`, which comes to `before`; and what it is
/// worth on each machine.
pub fn weigh(ground: &Ground, now: &Evaluation, before: &Prediction, id: RemedyId) -> (Appraisal, Vec<f64>) {
    let case = &ground.fit.case;
    let unmet = case.settled.unmet(id, &case.setup);
    let changed = id != RemedyId::LeaveAlone && unmet.is_empty();
    let changed = changed.then(|| ground.evaluate(id.into(), Bearings::AsTheyAre));
    let prediction = changed.as_ref().map_or_else(|| before.clone(), Evaluation::prediction);
    let evaluation = changed.as_ref().unwrap_or(now);
    let cost = Cost::new(id.into(), case, evaluation.minutes() - now.minutes());
    let worth = cost.worth(&ground.fit, evaluation, now);
    let expected_worth = if id == RemedyId::LeaveAlone { 0.0 } else { mean(&worth) };
    let gain = mean(&evaluation.quality) - mean(&now.quality);
    let reach_gain = prediction.reach - before.reach;
    let danger = danger(&change_setup(id, &case.setup), &prediction);
    let affordable = cost.affordable(&case.budget);
    let noticeable = evaluation.noticeable(now);
    let won = mean(&worth.iter().map(|worth| worth.max(0.0)).collect::<Vec<f64>>());
    let per = |cost: f64| (cost > 0.0).then(|| reach_gain / cost);
    let standing = standing(&Facts {
        id,
        possible: unmet.is_empty(),
        affordable,
        gain,
        reach_gain,
        noticeable,
        won,
        expected_worth,
        paid: cost.money.1 > 0.0,
        dangerous: danger.is_some(),
        worse: worse(&prediction, before),
        for_safety: for_safety(case, before, id),
    });
    let appraisal = Appraisal {
        remedy: id,
        title: title(id, &case.setup),
        standing,
        danger,
        unmet,
        affordable,
        change: evaluation.change(now),
        noticeable,
        firm: won > 4.0 * (won - expected_worth),
        worth: Spread::of(worth.clone()),
        expected_worth,
        best: 0.0,
        regret: regret(&worth),
        reach_per_money: per(middle(cost.money)),
        reach_per_hour: per(middle(cost.hours)),
        hired: cost.hired,
        money: cost.money,
        hours: cost.hours,
        spoil: cost.spoil,
        prediction,
        why: String::new(),
    };
    (appraisal, worth)
}

/// On what share of the machines each option is the best buy; of equal ones the
/// first.
pub fn best_buys(worths: &[&[f64]]) -> Vec<f64> {
    let mut wins = vec![0.0; worths.len()];
    let machines = worths.first().map_or(0, |worth| worth.len());
    for machine in 0..machines {
        wins[best_on(worths, machine)] += 1.0 / machines as f64;
    }
    wins
}

/// Of a range.
pub fn middle(range: (f64, f64)) -> f64 {
    0.5 * (range.0 + range.1)
}

/// What something costs this user.
pub struct Cost {
    /// What has to be bought or hired, in the money.
    pub hired: Vec<Means>,
    /// Money, 10 and 90 %.
    pub money: (f64, f64),
    /// Hours, minutes in the cut included, 10 and 90 %.
    pub hours: (f64, f64),
    /// Chance of spoiling something.
    pub spoil: f64,
}

impl Cost {
    /// Of `remedies`, with which the cut takes so many minutes longer.
    pub fn new(remedies: RemedySet, case: &Case, longer: f64) -> Self {
        let Price { hired, money, hours, spoil } = Price::new(remedies, &case.means);
        let extra = longer / 60.0;
        Cost { hired, money, hours: (hours.0 + extra, hours.1 + extra), spoil }
    }

    /// Whether it lies within the money and hours set.
    pub fn affordable(&self, budget: &Budget) -> bool {
        budget.money.is_none_or(|limit| middle(self.money) <= limit.as_amount())
            && budget.hours.is_none_or(|limit| middle(self.hours) <= limit.as_h())
    }

    /// What it comes to on average, in money.
    pub fn mean(&self, case: &Case) -> f64 {
        let budget = &case.budget;
        middle(self.money)
            + middle(self.hours) * budget.hour_worth.as_amount()
            + self.spoil * budget.spoil_worth.as_amount()
    }

    /// What it comes to on each machine, in money.
    pub fn paid(&self, fit: &Fit) -> Vec<f64> {
        let steady = self.mean(&fit.case) - middle(self.money);
        (0..fit.machines().len()).map(|index| paid(self.money, fit.sample.extra(index)) + steady).collect()
    }

    /// Net worth of `with` over `now` on each machine, in money.
    pub fn worth(&self, fit: &Fit, with: &Evaluation, now: &Evaluation) -> Vec<f64> {
        let target = fit.case.budget.target_worth.as_amount();
        let gains = with.quality.iter().zip(&now.quality).map(|(with, without)| with - without);
        gains.zip(self.paid(fit)).map(|(gain, paid)| target * gain - paid).collect()
    }
}

/// Share of the machines on which one would be better off without.
pub fn regret(worth: &[f64]) -> f64 {
    worth.iter().filter(|&&worth| worth < 0.0).count() as f64 / worth.len() as f64
}

/// What this shop happens to pay: normal between the quoted 10 and 90 %.
fn paid(money: (f64, f64), effects: &[f64]) -> f64 {
    const WIDTH: f64 = 2.0 * 1.281_551_565_544_600_4;
    let sd = (money.1 - money.0) / WIDTH;
    (0.5 * (money.0 + money.1) + sd * effects[Effect::Money as usize]).max(0.0)
}

struct Facts {
    id: RemedyId,
    possible: bool,
    affordable: bool,
    /// Mean gain in the share of the goal reached.
    gain: f64,
    /// Gain in the probability of reaching it.
    reach_gain: f64,
    noticeable: f64,
    /// Mean net worth over the machines on which it pays.
    won: f64,
    expected_worth: f64,
    paid: bool,
    /// Whether it leaves a danger.
    dangerous: bool,
    /// Whether it makes a danger likelier.
    worse: bool,
    /// Whether it answers a caution.
    for_safety: bool,
}

/// Whether the part moves, the table is snatched, the cutter may snap or the drive
/// stalls noticeably more often than before.
pub fn worse(with: &Prediction, without: &Prediction) -> bool {
    what_gets_worse(with, without).is_some()
}

/// What of that does so, in words, and on what share of the machines with and without.
pub fn what_gets_worse(with: &Prediction, without: &Prediction) -> Option<(&'static str, f64, f64)> {
    const MORE: f64 = 0.05;
    [
        ("the part slips in its grip", with.slip, without.slip),
        ("the part lifts or tips", with.lift, without.lift),
        ("the cut snatches the table", with.pull_in, without.pull_in),
        ("the cutter may snap", with.snap, without.snap),
        ("the drive stalls", with.stall, without.stall),
    ]
    .into_iter()
    .find(|&(_, with, without)| with > without + MORE)
}

/// Gains below this share of the goal are called little.
const LITTLE: f64 = 0.03;

/// Where a remedy stands. What answers a caution is not refused for bringing
/// little.
fn standing(facts: &Facts) -> Standing {
    match by_worth(facts) {
        Standing::LittleGain | Standing::TooDear if facts.for_safety => Standing::ForSafety,
        Standing::Harmful if facts.for_safety && !facts.worse => Standing::ForSafety,
        standing => standing,
    }
}

/// Where it stands by finish, depth and cost.
fn by_worth(facts: &Facts) -> Standing {
    if facts.id == RemedyId::LeaveAlone {
        return if facts.dangerous { Standing::Unsafe } else { Standing::Worth };
    }
    if !facts.possible {
        return Standing::NotPossible;
    }
    if facts.worse || (facts.gain < -LITTLE && facts.reach_gain <= 0.0) {
        return Standing::Harmful;
    }
    let little = facts.gain < LITTLE && facts.reach_gain < 0.05;
    if little && facts.noticeable < 0.2 {
        return Standing::LittleGain;
    }
    let pays = facts.expected_worth > 0.0;
    if facts.dangerous {
        return if pays || facts.affordable { Standing::Unsafe } else { Standing::TooDear };
    }
    // It pays on some machines and costs on others, and neither outweighs the
    // other by more than two to one: knowing which machine this is would decide.
    let lost = facts.won - facts.expected_worth;
    let toss_up = facts.won < 2.0 * lost && lost < 2.0 * facts.won;
    match facts.affordable {
        false => Standing::TooDear,
        true if toss_up && facts.paid => Standing::CannotTell,
        // Nothing is lost by trying it, and nothing to speak of is won.
        true if little && (toss_up || falls(facts.reach_gain, 0.0)) => Standing::LittleGain,
        // It brings failing machines nearer and takes others away from the goal.
        true if falls(facts.reach_gain, 0.0) => Standing::CannotTell,
        true if pays => Standing::Worth,
        true if little => Standing::LittleGain,
        true => Standing::TooDear,
    }
}

/// The mean.
pub fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}
