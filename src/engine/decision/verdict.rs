//! The answer in words.

use super::{Appraisal, Ceiling, Prediction, Standing, Verdict};
use crate::remedies::{RemedyId, remedy};

/// Remedies that change or reset the spindle's bearings for money.
const BEARING_JOBS: [RemedyId; 4] = [
    RemedyId::SameBearings,
    RemedyId::AngularPair,
    RemedyId::TaperedRollers,
    RemedyId::AnotherSpindle,
];

/// Good enough to be left alone: three machines in four come out as wanted.
const GOOD_ENOUGH: f64 = 0.75;

/// A probability as a count of a hundred.
pub fn of_hundred(probability: f64) -> u32 {
    (100.0 * probability).round() as u32
}

fn percent(share: f64) -> String {
    let value = 100.0 * share;
    if value < 1.0 {
        "under 1 %".to_owned()
    } else {
        format!("{value:.0} %")
    }
}

/// Marks the first step among the ranked remedies, if one is worth taking.
pub fn mark_first(ranked: &mut [Appraisal], now: &Prediction) {
    if now.reach >= GOOD_ENOUGH {
        return;
    }
    let first = ranked.iter_mut().find(|appraisal| {
        appraisal.remedy != RemedyId::LeaveAlone
            && appraisal.standing == Standing::Worth
            && appraisal.expected_worth > 0.0
    });
    if let Some(appraisal) = first {
        appraisal.standing = Standing::First;
    }
}

/// Says why each remedy stands where it does.
pub fn explain(appraisal: &Appraisal, now: &Prediction, counts_wall: bool) -> String {
    let change = if counts_wall {
        appraisal.change.wall
    } else {
        appraisal.change.floor
    };
    let finish = |ratio: f64| -> String {
        let gain = 100.0 * (1.0 - ratio);
        if gain.abs() < 2.0 {
            "the finish hardly changes".to_owned()
        } else if gain > 0.0 {
            format!("the finish gets about {gain:.0} % finer")
        } else {
            format!("the finish gets about {:.0} % rougher", -gain)
        }
    };
    let depth = |ratio: f64| -> String {
        let gain = 100.0 * (ratio - 1.0);
        if gain.abs() < 2.0 {
            "the chatter-free depth stays as it is".to_owned()
        } else if gain > 0.0 {
            format!("the chatter-free depth grows by about {gain:.0} %")
        } else {
            format!("the chatter-free depth shrinks by about {:.0} %", -gain)
        }
    };
    let effect = format!(
        "{}, {}",
        finish(change.mid),
        depth(appraisal.change.depth_limit.mid)
    );
    let reach = format!(
        "{} of 100 machines like yours reach the goal, {} do now",
        of_hundred(appraisal.prediction.reach),
        of_hundred(now.reach)
    );
    let sentence = match appraisal.standing {
        Standing::First | Standing::Worth if appraisal.remedy == RemedyId::LeaveAlone => {
            format!(
                "{} of 100 machines like yours do what you want already",
                of_hundred(now.reach)
            )
        }
        Standing::First | Standing::Worth => format!("{effect}; {reach}"),
        Standing::TooDear if !appraisal.affordable => {
            format!("{effect}; but it is beyond the money or the hours you set")
        }
        Standing::TooDear => format!("{effect}; but that is not worth its cost to you"),
        Standing::LittleGain => format!("it changes little on this machine and this cut: {effect}"),
        Standing::Harmful => format!("it makes this cut worse: {effect}"),
        Standing::CannotTell => {
            format!("it may pay or not, depending on what you have not measured yet: {effect}")
        }
        Standing::NotPossible => {
            use crate::choice::Choice;
            use crate::remedies::Unmet;
            match appraisal.unmet.first() {
                Some(Unmet::AlreadySo) => "it is so already, or as good as".to_owned(),
                Some(Unmet::Missing(means)) => format!(
                    "it needs something you did not tick: {}",
                    lower(means.label())
                ),
                Some(Unmet::DoesNotApply) | None => {
                    "it does not apply to this machine or this cut".to_owned()
                }
            }
        }
    };
    upper(&sentence) + "."
}

/// Puts the whole answer into words.
pub fn verdict(
    ranked: &[Appraisal],
    now: &Prediction,
    ceiling: &Ceiling,
    settles: Option<&str>,
) -> Verdict {
    let first = ranked
        .iter()
        .find(|appraisal| appraisal.standing == Standing::First);
    let reach_now = of_hundred(now.reach);
    let (sentence, count) = match first {
        _ if now.reach >= GOOD_ENOUGH => (
            format!(
                "Leave it alone: {reach_now} of 100 plausible machines like yours already cut this the way you want."
            ),
            reach_now,
        ),
        Some(appraisal) => {
            let reach = of_hundred(appraisal.prediction.reach);
            let title = remedy(appraisal.remedy).title;
            let sentence = if appraisal.prediction.reach < now.reach + 0.05 {
                format!(
                    "{title} first: it takes you part of the way, but no single step on the list brings more than {} of 100 plausible machines like yours to the goal.",
                    of_hundred(best_reach(ranked))
                )
            } else {
                format!(
                    "{title} first: that brings {reach} of 100 plausible machines like yours to the goal, against {reach_now} now."
                )
            };
            (sentence, reach)
        }
        None => {
            let unclear = ranked
                .iter()
                .any(|appraisal| appraisal.standing == Standing::CannotTell);
            let sentence = match (unclear, settles) {
                (true, Some(reading)) => format!(
                    "Can't tell yet: whether a remedy pays hangs on what has not been measured. Take the {reading} first."
                ),
                _ => format!(
                    "Spend nothing: {reach_now} of 100 plausible machines like yours reach the goal, and nothing on the list is worth its cost."
                ),
            };
            (sentence, reach_now)
        }
    };
    let not_to_buy = ranked
        .iter()
        .filter(|appraisal| {
            appraisal.money.1 > 0.0
                && matches!(
                    appraisal.standing,
                    Standing::LittleGain | Standing::TooDear | Standing::Harmful
                )
        })
        .map(|appraisal| (appraisal.remedy, appraisal.why.clone()))
        .collect();
    Verdict {
        sentence,
        of_hundred: count,
        first: first.map(|appraisal| appraisal.remedy),
        bearings: bearings(ranked, now, ceiling, settles),
        not_to_buy,
        firm: first.map_or(now.reach >= GOOD_ENOUGH, |appraisal| appraisal.firm),
    }
}

fn best_reach(ranked: &[Appraisal]) -> f64 {
    ranked
        .iter()
        .filter(|appraisal| appraisal.standing != Standing::NotPossible)
        .map(|appraisal| appraisal.prediction.reach)
        .fold(0.0, f64::max)
}

/// The sentence about the bearings.
fn bearings(
    ranked: &[Appraisal],
    now: &Prediction,
    ceiling: &Ceiling,
    settles: Option<&str>,
) -> String {
    let share = ceiling.share;
    let owns = format!(
        "The bearings own {} to {} of the movement",
        percent(share.low),
        percent(share.high)
    );
    let perfect = format!(
        "even perfect ones would bring {} of 100 to the goal, against {} now",
        of_hundred(ceiling.prediction.reach),
        of_hundred(now.reach)
    );
    let best = ranked
        .iter()
        .filter(|appraisal| {
            BEARING_JOBS.contains(&appraisal.remedy) && appraisal.standing != Standing::NotPossible
        })
        .find(|appraisal| appraisal.remedy != RemedyId::AnotherSpindle);
    match best.map(|appraisal| (appraisal.standing, appraisal.remedy)) {
        Some((Standing::First | Standing::Worth, id)) => {
            format!(
                "Bearing work pays here: {}. {owns}.",
                lower(remedy(id).title)
            )
        }
        Some((Standing::CannotTell, _)) => match settles {
            Some(reading) => format!(
                "Can't tell yet whether new bearings pay. {owns}; the {reading} would tell most."
            ),
            None => format!(
                "Whether new bearings pay is a toss-up, and no reading left would settle it. {owns}."
            ),
        },
        _ => format!("Don't buy bearings for this. {owns}; {perfect}."),
    }
}

fn upper(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| {
        first.to_ascii_uppercase().to_string() + chars.as_str()
    })
}

fn lower(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| {
        first.to_ascii_lowercase().to_string() + chars.as_str()
    })
}
