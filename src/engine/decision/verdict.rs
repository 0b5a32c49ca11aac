//! The answer in words.

use super::safety::way_out;
use super::weigh::what_gets_worse;
use super::{Appraisal, Ceiling, Danger, Prediction, Standing, Verdict};
use crate::remedies::{RemedyId, lower};

/// Good enough to be left alone: three machines in four come out as wanted.
const GOOD_ENOUGH: f64 = 0.75;

/// Whether the share that reaches the goal falls, by what shows in a count of a
/// hundred.
pub fn falls(with: f64, without: f64) -> bool {
    with < without - 0.005
}

/// What the verdict is made of.
pub struct Findings<'a> {
    /// Remedies, best first, the first step marked.
    pub ranked: &'a [Appraisal],
    /// Everything left as it is.
    pub now: &'a Prediction,
    /// Perfect bearings.
    pub ceiling: &'a Ceiling,
    /// The gravest danger of the cut as it is.
    pub danger: Option<Danger>,
    /// The reading that would settle most.
    pub settles: Option<&'a str>,
    /// Whether it is about the user's own machine at all ([`Case::told`](super::Case::told)).
    pub told: bool,
    /// Whether enough plausible machines fit the readings to speak firmly.
    pub firm_sample: bool,
    /// Whether the cut runs faster than is usual for its edge or the machine.
    pub too_fast: bool,
    /// Whether the spindle was found looser than any sound bearing lets it be.
    pub loose: bool,
}

/// A probability as a count of a hundred.
pub fn of_hundred(probability: f64) -> u32 {
    (100.0 * probability).round() as u32
}

/// The same in words, with what is too rare or too sure to count said so.
pub fn count(probability: f64) -> String {
    match short_count(probability).as_str() {
        "<1" => "fewer than 1 of 100".to_owned(),
        ">99" => "more than 99 of 100".to_owned(),
        of => format!("{of} of 100"),
    }
}

/// The same where there is no room for words.
pub fn short_count(probability: f64) -> String {
    match of_hundred(probability) {
        0 if probability > 0.0 => "<1".to_owned(),
        100 if probability < 1.0 => ">99".to_owned(),
        of => of.to_string(),
    }
}

fn percent(share: f64) -> String {
    let value = 100.0 * share;
    if value < 1.0 { "under 1\u{a0}%".to_owned() } else { format!("{value:.0}\u{a0}%") }
}

/// Finds the first step among the ranked remedies and puts it on top: what deals with a danger, or
/// else what is worth most, if the cut isn't good enough already.
pub fn mark_first(ranked: &mut [Appraisal], now: &Prediction, danger: Option<Danger>) {
    let first = match danger {
        Some(danger) => way_out(ranked, danger),
        None if now.reach >= GOOD_ENOUGH => None,
        None => ranked
            .iter()
            .find(|one| one.remedy != RemedyId::LeaveAlone && one.standing == Standing::Worth)
            .map(|one| one.remedy),
    };
    if let Some(index) = ranked.iter().position(|one| Some(one.remedy) == first) {
        ranked[index].standing = Standing::First;
        ranked[..=index].rotate_right(1);
    }
}

/// Says why a remedy stands where it does.
pub fn explain(appraisal: &Appraisal, now: &Prediction, counts_wall: bool) -> String {
    let change = if counts_wall { appraisal.change.wall } else { appraisal.change.floor };
    let by = |gain: f64| format!("{:.0}\u{a0}%", 100.0 * gain.abs());
    let same = |ratio: f64| (ratio - 1.0).abs() < 0.02;
    let finish = match 1.0 - change.mid {
        _ if same(change.mid) => "the finish hardly changes".to_owned(),
        gain if gain > 0.0 => format!("the finish gets about {} finer", by(gain)),
        gain => format!("the finish gets about {} rougher", by(gain)),
    };
    let depth = match appraisal.change.depth_limit.mid - 1.0 {
        _ if same(appraisal.change.depth_limit.mid) => "the chatter-free depth stays as it is".to_owned(),
        gain if gain > 0.0 => format!("the chatter-free depth grows by about {}", by(gain)),
        gain => format!("the chatter-free depth shrinks by about {}", by(gain)),
    };
    // How deep it could go matters little to a cut that is made shallower.
    let effect = if appraisal.remedy == RemedyId::LighterCut {
        finish
    } else if same(change.mid) && same(appraisal.change.depth_limit.mid) {
        "finish and chatter-free depth stay about as they are".to_owned()
    } else {
        format!("{finish}, {depth}")
    };
    let at_half = if appraisal.remedy == RemedyId::LighterCut { " at half the depth per pass" } else { "" };
    let reach = format!(
        "{} of 100 machines like yours reach the goal{at_half}, {} do now",
        of_hundred(appraisal.prediction.reach),
        of_hundred(now.reach)
    );
    let sentence = match appraisal.standing {
        _ if appraisal.remedy == RemedyId::LeaveAlone => {
            format!("{} of 100 machines like yours do what you want already", of_hundred(now.reach))
        }
        Standing::First | Standing::Worth => format!("{effect}; {reach}"),
        Standing::ForSafety => format!("it makes the cut safer, whatever else: {effect}"),
        Standing::TooDear if !appraisal.affordable => {
            format!("beyond the money or the hours you set: {effect}")
        }
        Standing::TooDear => format!("not worth its cost to you: {effect}"),
        Standing::LittleGain if falls(appraisal.prediction.reach, now.reach) => {
            format!("no nearer to the goal: {effect}; {reach}")
        }
        Standing::LittleGain => format!("hardly any nearer to the goal: {effect}"),
        Standing::Harmful if let Some((what, with, without)) = what_gets_worse(&appraisal.prediction, now) => format!(
            "it makes this cut worse: {what} on {} of 100 machines like yours, on {} now",
            of_hundred(with),
            of_hundred(without)
        ),
        Standing::Harmful => format!("it makes this cut worse: {effect}; {reach}"),
        Standing::Unsafe => {
            format!("not by itself: {}. {}", appraisal.danger.map_or("", Danger::left), upper(&effect))
        }
        Standing::CannotTell => "it may pay or not, depending on what you have not measured yet".to_owned(),
        Standing::NotPossible => appraisal.unmet.first().map_or_else(String::new, |unmet| unmet.reason()),
    };
    upper(&sentence) + "."
}

/// Puts the whole answer into words.
pub fn verdict(findings: &Findings<'_>) -> Verdict {
    let Findings { ranked, now, danger, .. } = findings;
    let first = ranked.iter().find(|one| one.standing == Standing::First);
    let Said { short, reason } = match danger {
        Some(danger) => warning(*danger, first, now),
        None => advice(findings, first),
    };
    let not_to_buy = ranked
        .iter()
        .filter(|one| {
            one.money.1 > 0.0
                && matches!(one.standing, Standing::LittleGain | Standing::TooDear | Standing::Harmful)
                && !(findings.loose && one.remedy.is_bearing_job())
        })
        .map(|one| (one.remedy, one.why.clone()))
        .collect();
    let sure = findings.firm_sample && findings.told;
    let firm = match (danger, first) {
        (Some(_), _) => true,
        (None, Some(one)) => one.firm && sure,
        (None, None) => now.reach >= GOOD_ENOUGH && sure,
    };
    Verdict {
        short,
        reason,
        of_hundred: of_hundred(first.map_or(now.reach, |one| one.prediction.reach)),
        first: first.map(|one| one.remedy),
        danger: *danger,
        bearings: bearings(findings),
        not_to_buy,
        firm,
    }
}

/// What to do, and the reason, which goes on from it.
struct Said {
    short: String,
    reason: String,
}

impl Said {
    fn new(short: impl Into<String>, reason: impl Into<String>) -> Self {
        Said { short: short.into(), reason: reason.into() }
    }
}

/// What is said when a danger comes first.
fn warning(danger: Danger, first: Option<&Appraisal>, now: &Prediction) -> Said {
    let title = first.map(|one| one.title.as_str());
    match (danger, title) {
        (Danger::BareTaper, Some(title)) => Said::new(
            format!("{title} before you mill"),
            "nothing but the taper’s own grip keeps the holder in the spindle, and side load can shake it out.",
        ),
        (Danger::BareTaper, None) => Said::new(
            "Don’t mill in this spindle until something positive keeps the holder in it",
            "side load can shake a bare taper loose.",
        ),
        (Danger::FlyingBit, title) => Said::new(
            format!("{}, whatever the finish", title.unwrap_or("Don’t run this fly cutter so fast")),
            "at this speed a fly cutter can throw its bit or shake itself loose.",
        ),
        (Danger::PartMoves, title) => {
            let moves = of_hundred(now.slip.max(now.lift));
            let what = if now.slip >= now.lift { "slips in its grip" } else { "lifts or tips" };
            let (short, then) = match title {
                Some(title) => (format!("{title} first"), "Don’t take this cut as it is."),
                None => ("Don’t take this cut".to_owned(), "Hold it some other way, or cut much lighter."),
            };
            Said::new(short, format!("on {moves} of 100 machines like yours the part {what}. {then}"))
        }
        (Danger::Snatch, title) => {
            let snatches = of_hundred(now.pull_in);
            let snatched = format!("on {snatches} of 100 machines like yours the cut snatches the table.");
            match title {
                Some(title) => Said::new(title, snatched),
                // Not only climb cuts pull: a slot does with the half that climbs.
                None => Said::new(
                    "Don’t take this cut with this screw and these slides",
                    format!("{snatched} Snug the gibs, or cut much lighter."),
                ),
            }
        }
        (Danger::CutterSnaps, title) => {
            let snaps = of_hundred(now.snap);
            let snaps = format!(
                "on {snaps} of 100 machines like yours this cut loads the cutter beyond what such a cutter bears, and it may snap."
            );
            match title {
                Some(title) => Said::new(format!("{title} first"), format!("{snaps} Don’t take this cut as it is.")),
                None => Said::new(
                    "Don’t take this cut with this cutter",
                    format!("{snaps} Cut much lighter, or with a stouter cutter."),
                ),
            }
        }
        (Danger::ShotBearings, Some(title)) => Said::new(
            format!("{title}, whatever the finish"),
            "bearings that grind or knock can seize or shed parts while they turn.",
        ),
        (Danger::ShotBearings, None) => Said::new(
            "Replace the bearings before you go on",
            "ones that grind or knock can seize or shed parts while they turn.",
        ),
    }
}

/// What is said when it is only a matter of finish, depth and cost.
fn advice(findings: &Findings<'_>, first: Option<&Appraisal>) -> Said {
    let Findings { ranked, now, settles, .. } = findings;
    let reach_now = of_hundred(now.reach);
    if now.reach >= GOOD_ENOUGH {
        let already = format!("{reach_now} of 100 machines like yours already cut this the way you want");
        return if findings.loose {
            Said::new(
                "Leave this cut alone, but not the spindle",
                format!("{already}, but its play is more than any sound bearing has."),
            )
        } else if findings.too_fast {
            Said::new(
                "Leave it alone, but mind the speed",
                format!("{already}, but it is faster than this edge or this kind of machine usually runs."),
            )
        } else {
            Said::new("Leave it alone", format!("{already}."))
        };
    }
    let Some(one) = first else {
        let unclear = ranked.iter().any(|one| one.standing == Standing::CannotTell);
        return match (unclear, settles) {
            (true, Some(reading)) => Said::new(
                "Can’t tell yet",
                format!("whether a remedy pays hangs on what has not been measured. Take the {reading} first."),
            ),
            _ => Said::new(
                "Spend nothing",
                format!(
                    "{reach_now} of 100 machines like yours reach the goal, and nothing on the list is worth its cost."
                ),
            ),
        };
    };
    let short = format!("{} first", one.title);
    if one.prediction.reach < now.reach + 0.05 {
        return Said::new(
            short,
            format!(
                "it takes you part of the way, but no single step you can afford brings more than {} of 100 machines like yours to the goal, against {reach_now} now.",
                of_hundred(best_reach(ranked))
            ),
        );
    }
    let at_half = if one.remedy == RemedyId::LighterCut { ", at half the depth per pass" } else { "" };
    Said::new(
        short,
        format!(
            "that brings {} of 100 machines like yours to the goal{at_half}, against {reach_now} now.",
            of_hundred(one.prediction.reach)
        ),
    )
}

fn best_reach(ranked: &[Appraisal]) -> f64 {
    ranked
        .iter()
        .filter(|one| one.standing != Standing::NotPossible && one.affordable)
        .map(|one| one.prediction.reach)
        .fold(0.0, f64::max)
}

/// The sentence about the bearings.
fn bearings(findings: &Findings<'_>) -> String {
    let Findings { ranked, now, ceiling, danger, settles, .. } = findings;
    let (low, high) = (percent(ceiling.share.low), percent(ceiling.share.high));
    let share = if low == high { high } else { format!("{low} to {high}") };
    let owns = format!("The bearings own {share} of the movement");
    if *danger == Some(Danger::ShotBearings) {
        return format!("Replace them in any case: they are worn out. {owns}.");
    }
    let (perfect, as_is) = (of_hundred(ceiling.prediction.reach), of_hundred(now.reach));
    let perfect = if perfect > as_is {
        format!("even perfect ones would bring {perfect} of 100 to the goal, against {as_is} now")
    } else {
        "even perfect ones would bring you no nearer to the goal".to_owned()
    };
    let best = ranked.iter().find(|one| one.remedy.is_bearing_job() && one.standing != Standing::NotPossible);
    match best.map(|one| (one.standing, one)) {
        Some((Standing::First | Standing::Worth, one)) => {
            format!("Bearing work pays here: {}. {owns}.", lower(&one.title))
        }
        _ if findings.loose => format!(
            "So much play is more than any sound bearing has: take it up, and if it stays, replace them, whatever this cut gains by it. {owns}; {perfect}."
        ),
        Some((Standing::CannotTell, _)) => match settles {
            Some(reading) => format!("Can’t tell yet whether new bearings pay. {owns}; the {reading} would tell most."),
            None => format!("Whether new bearings pay is a toss-up, and no reading left would settle it. {owns}."),
        },
        _ if !findings.told => {
            format!(
                "Say which machine it is before you buy bearings. On a common one they are not worth it: {}; {perfect}.",
                lower(&owns)
            )
        }
        _ if ceiling.prediction.reach < now.reach + 0.05 => {
            format!("Don’t buy bearings for this. {owns}; {perfect}.")
        }
        Some((_, one)) if !one.affordable => {
            format!("Bearings are not within the money or the hours you set. {owns}; {perfect}.")
        }
        _ => format!(
            "Don’t buy bearings for this. {owns}; {perfect}, and real ones cost more than that is worth to you."
        ),
    }
}

pub fn upper(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_ascii_uppercase().to_string() + chars.as_str())
}
