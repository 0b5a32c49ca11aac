//! Worth against cost: where each remedy stands.

use super::evaluate::{Evaluation, Ground};
use super::safety::danger;
use super::{Appraisal, Prediction, Spread, Standing};
use crate::mechanics::Bearings;
use crate::remedies::{Effect, Means, Remedy, RemedyId, change_setup, remedy, title, unmet};

/// Weighs one remedy against `now`, which comes to `before`.
pub fn weigh(ground: &Ground<'_>, now: &Evaluation, before: &Prediction, id: RemedyId) -> Appraisal {
    let (case, sample) = (ground.case, ground.sample);
    let unmet = unmet(id, &case.setup, &case.means);
    let changed = id != RemedyId::LeaveAlone && unmet.is_empty();
    let changed = changed.then(|| ground.evaluate(id, Bearings::AsTheyAre));
    let prediction = changed.as_ref().map_or_else(|| before.clone(), Evaluation::prediction);
    let evaluation = changed.as_ref().unwrap_or(now);
    let entry = remedy(id);
    let hired = hired(&entry, &case.means);
    let money = price(&entry, &hired);
    let extra_hours = (evaluation.minutes() - now.minutes()) / 60.0;
    let hours = (entry.hours.0 + extra_hours, entry.hours.1 + extra_hours);
    let budget = &case.budget;
    let middle = |range: (f64, f64)| 0.5 * (range.0 + range.1);
    let steady = middle(hours) * budget.hour_worth.as_amount() + entry.spoil * budget.spoil_worth.as_amount();
    let worth: Vec<f64> = (0..sample.machines.len())
        .map(|index| {
            let gain = evaluation.quality[index] - now.quality[index];
            budget.target_worth.as_amount() * gain - paid(money, sample.extra(index)) - steady
        })
        .collect();
    let expected_worth = if id == RemedyId::LeaveAlone { 0.0 } else { mean(&worth) };
    let gain = mean(&evaluation.quality) - mean(&now.quality);
    let reach_gain = prediction.reach - before.reach;
    let danger = danger(&change_setup(id, &case.setup), &prediction);
    let affordable = budget.money.is_none_or(|limit| middle(money) <= limit.as_amount())
        && budget.hours.is_none_or(|limit| middle(hours) <= limit.as_h());
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
        paid: money.1 > 0.0,
        dangerous: danger.is_some(),
        worse: worse(&prediction, before),
    });
    Appraisal {
        remedy: id,
        title: title(id, &case.setup),
        standing,
        danger,
        unmet,
        hired,
        affordable,
        change: evaluation.change(now),
        noticeable,
        firm: won > 4.0 * (won - expected_worth),
        money,
        hours,
        spoil: entry.spoil,
        worth: Spread::of(worth),
        expected_worth,
        reach_per_money: per(middle(money)),
        reach_per_hour: per(middle(hours)),
        prediction,
        why: String::new(),
    }
}

fn hired(entry: &Remedy, means: &[Means]) -> Vec<Means> {
    entry.needs.iter().copied().filter(|need| need.price().is_some() && !means.contains(need)).collect()
}

fn price(entry: &Remedy, hired: &[Means]) -> (f64, f64) {
    hired.iter().filter_map(|means| means.price()).fold(entry.money, |sum, price| (sum.0 + price.0, sum.1 + price.1))
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
}

/// Whether the part moves, the table is snatched or the drive stalls noticeably
/// more often than before.
fn worse(with: &Prediction, without: &Prediction) -> bool {
    const MORE: f64 = 0.05;
    let more = |of: fn(&Prediction) -> f64| of(with) > of(without) + MORE;
    more(|p| p.slip) || more(|p| p.lift) || more(|p| p.pull_in) || more(|p| p.stall)
}

/// Gains below this share of the goal are called little.
const LITTLE: f64 = 0.03;

fn standing(facts: &Facts) -> Standing {
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
    let undecided = facts.paid && facts.won < 2.0 * lost && lost < 2.0 * facts.won;
    match (facts.affordable, undecided) {
        (true, true) => Standing::CannotTell,
        (true, false) if pays => Standing::Worth,
        (false, _) => Standing::TooDear,
        _ if little => Standing::LittleGain,
        _ => Standing::TooDear,
    }
}

/// The mean.
pub fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}
