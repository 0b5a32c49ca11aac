//! Why the best buy wins: it against the next best, in words.

use super::balance::{Balance, exactly};
use super::weigh::middle;
use super::{Appraisal, Budget, Case, Danger, Decision, Standing, Verdict, of_hundred};
use crate::order;
use crate::remedies::{RemedyId, lower};

/// Remedies that can be had for the money and hours and make nothing worse, and
/// leaving it alone: worth most on average first. What leaves a danger that is
/// there is among them, as wherever remedies are weighed: [`make_safe`] comes
/// before all of them.
pub fn contenders(decision: &Decision) -> Vec<&Appraisal> {
    let stands = |one: &&Appraisal| {
        let harmless = one.standing != Standing::Harmful;
        one.remedy == RemedyId::LeaveAlone || (harmless && one.affordable && one.unmet.is_empty())
    };
    let mut contenders: Vec<&Appraisal> = decision.appraisals.iter().filter(stands).collect();
    order::greatest_first(&mut contenders, |one| one.expected_worth);
    contenders
}

/// What comes before all weighing where there is a danger.
pub fn make_safe(decision: &Decision) -> Option<String> {
    let danger = decision.verdict.danger?;
    let first = decision.appraisals.iter().find(|one| Some(one.remedy) == decision.verdict.first);
    let what = match (first, danger) {
        (Some(first), _) => lower(&first.title),
        (None, Danger::BareTaper) => "something positive has to keep the holder in the spindle".to_owned(),
        (None, Danger::PartMoves) => "the part has to be held so that it can’t move".to_owned(),
        (None, Danger::Snatch) => "the cut must not snatch the table".to_owned(),
        (None, Danger::CutterSnaps) => "the cut has to be lighter than what snaps the cutter".to_owned(),
        (None, Danger::FlyingBit) => "the fly cutter has to turn slower".to_owned(),
        (None, Danger::ShotBearings) => "the bearings have to be replaced".to_owned(),
    };
    Some(format!(
        "First make it safe: {what}. That comes before everything here, whatever it is worth. What else brings you nearer to the goal is weighed below; none of it stands in for that."
    ))
}

/// Why the best of the [`contenders`] wins, sentence by sentence.
pub fn why(decision: &Decision, case: &Case) -> Vec<String> {
    let contenders = contenders(decision);
    let [winner, rest @ ..] = &contenders[..] else { return Vec::new() };
    let [won, lost] = [Some(winner), rest.first()].map(|one| one.map(|one| Weighed::of(one, &case.budget)));
    let mut said = Vec::new();
    let Verdict { danger, first, .. } = decision.verdict;
    if danger.is_none() && first.is_none() && winner.remedy != RemedyId::LeaveAlone {
        let now = of_hundred(decision.now.reach);
        said.push(format!(
            "Nothing has to be done: {now} of 100 machines like yours reach the goal as they are. This is only for who wants more."
        ));
    }
    said.extend(won.as_ref().map(|won| won.sentence("Taken one by one, worth most to you is", decision)));
    said.extend(lost.as_ref().map(|lost| lost.sentence("Next comes", decision)));
    if let (Some(won), Some(lost)) = (won, lost) {
        said.push(won.against(&lost));
        said.push(format!(
            "Coming nearer to the goal counts already. So a machine that goes from a miss to a hit gains less than the {} that reaching it is worth.",
            exactly(case.budget.target_worth.as_amount())
        ));
    }
    said
}

/// Whether a remedy is worth its cost on average, though on most machines it costs more than it brings.
pub fn is_a_try(one: &Appraisal) -> bool {
    let worth_it = matches!(one.standing, Standing::First | Standing::Worth) && one.expected_worth > 0.0;
    worth_it && one.remedy != RemedyId::LeaveAlone && one.regret > 0.5
}

/// Of a remedy that is worth its cost on average, though on most machines it costs
/// more than it brings: how that goes together.
pub fn seldom_pays(one: &Appraisal, budget: &Budget) -> Option<String> {
    let hours = middle(one.hours) * budget.hour_worth.as_amount();
    let risk = one.spoil * budget.spoil_worth.as_amount();
    let cost = if one.remedy == RemedyId::LighterCut {
        "because half the depth takes twice the passes"
    } else if middle(one.money) > hours.max(risk) {
        "mostly the money"
    } else if risk > hours {
        "mostly the risk of spoiling something"
    } else {
        "mostly your time"
    };
    is_a_try(one).then(|| {
        format!(
            "A try, not a sure thing: on {} of 100 machines like yours it costs you more than it brings, {cost}; on the other {} it brings so much that it pays on average.",
            of_hundred(one.regret),
            100 - of_hundred(one.regret)
        )
    })
}

/// A remedy with what it brings and costs.
struct Weighed<'a> {
    of: &'a Appraisal,
    balance: Balance,
}

impl<'a> Weighed<'a> {
    fn of(of: &'a Appraisal, budget: &Budget) -> Self {
        Weighed { of, balance: Balance::of(of.expected_worth, of.money, of.hours, of.spoil, budget) }
    }

    fn sentence(&self, lead: &str, decision: &Decision) -> String {
        let title = &self.of.title;
        if self.of.remedy == RemedyId::LeaveAlone {
            return format!("{lead} to leave it alone, which brings nothing and costs nothing.");
        }
        let costs = self.balance.costs_said();
        format!(
            "{lead} “{title}”: {} of 100 machines like yours then reach the goal, {} do now, and others come nearer to it or get further off. All that is worth about {} in your money; it costs {costs}. {} is left.",
            of_hundred(self.of.prediction.reach),
            of_hundred(decision.now.reach),
            exactly(self.balance.brings()),
            exactly(self.balance.left),
        )
    }

    /// What tips the scales.
    fn against(&self, second: &Self) -> String {
        let (own, other) = (self.balance, second.balance);
        let (more, dearer) = (own.brings() - other.brings(), own.costs() - other.costs());
        let (gain, cost) = (exactly(more.abs()), exactly(dearer.abs()));
        let brings = format!("The first brings {gain} {} than the second", if more >= 0.0 { "more" } else { "less" });
        let tips = match (more >= 0.0, dearer > 0.0) {
            _ if own.left == other.left => "The two are worth the same to you, as near as can be said".to_owned(),
            _ if dearer == 0.0 => format!("{brings} and costs the same"),
            (true, true) => format!("{brings} and costs {cost} more"),
            (true, false) => format!("{brings} and costs {cost} less"),
            (false, _) => format!("{brings}, but costs {cost} less"),
        };
        let [first, second] = [self.of, second.of].map(|one| of_hundred(one.best));
        let seldom = if first < second {
            " It comes first all the same: where it does win, it wins by more, and the average counts."
        } else {
            ""
        };
        format!("{tips}. On {first} of 100 machines like yours it is the best buy, on {second} the second is.{seldom}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::decision::decide_with;
    use crate::machine::Archetype;
    use crate::scenario::{Field, Scenario, demo};
    use crate::work::{Holder, Material};

    #[test]
    fn the_best_on_average_is_named_before_the_next() {
        let case = demo().resolve().case;
        let decision = decide_with(&case, 256);
        let [first, second, ..] = contenders(&decision)[..] else { panic!("two at least") };
        let said = why(&decision, &case).join(" ");
        let at = |one: &Appraisal| said.find(&one.title);
        assert!(at(first).is_some() && at(first) < at(second), "{said}");
        assert!(first.expected_worth >= second.expected_worth);
    }

    /// A machine that is good enough four times in five, and half an hour's work that
    /// mends most of the others: it costs more than it brings where nothing is wrong.
    #[test]
    fn what_pays_seldom_says_so() {
        let mut scenario = Scenario::new("good enough");
        scenario.choices.archetype = Some(Archetype::Knee);
        scenario.choices.material = Some(Material::AluminiumSoft);
        scenario.choices.holder = Some(Holder::ShankInTaper);
        scenario.set_entries([
            (Field::CutterDiameter, "1/2 in"),
            (Field::Flutes, "2"),
            (Field::StickOut, "1.5 in"),
            (Field::AxialDepth, "1/4 in"),
            (Field::RadialWidth, "1/8 in"),
            (Field::SpindleSpeed, "1600 rpm"),
        ]);
        let case = scenario.resolve().case;
        let decision = decide_with(&case, 512);
        let lock = decision.appraisals.iter().find(|one| one.remedy == RemedyId::LockAndSnug).expect("it can be done");
        assert!(lock.expected_worth > 0.0 && lock.regret > 0.6, "the case shows nothing");
        let said = seldom_pays(lock, &case.budget).expect("it pays seldom");
        assert!(
            said.contains(&format!("on {} of 100", of_hundred(lock.regret))) && said.contains("your time"),
            "{said}"
        );
        for one in decision.appraisals.iter().filter(|one| one.regret < 0.5 || one.expected_worth < 0.0) {
            assert_eq!(seldom_pays(one, &case.budget), None, "{}", one.title);
        }
    }

    /// What reaches the goal on many more machines is said to bring something.
    #[test]
    fn what_brings_the_goal_brings_money() {
        let case = demo().resolve().case;
        let decision = decide_with(&case, 256);
        for one in contenders(&decision) {
            if one.prediction.reach > decision.now.reach + 0.3 {
                assert!(Weighed::of(one, &case.budget).balance.brings() > 0.0, "{}", one.title);
            }
        }
    }
}
