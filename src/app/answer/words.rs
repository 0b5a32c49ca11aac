//! Figures in words: chances, changes, costs and misfits as one would say them.

use spindlewise_engine::choice::Choice;
pub use spindlewise_engine::decision::count;
use spindlewise_engine::decision::{Appraisal, Spread, Standing, Verdict, is_a_try, of_hundred};
use spindlewise_engine::quantity::{
    Dimension, UnitSystem, format_estimate, format_middle, format_number, format_range,
};
use spindlewise_engine::readings::AT_ODDS;
use spindlewise_engine::remedies::{Means, RemedyId, Unmet};

/// Keeps a number and its unit on one line.
const NBSP: char = '\u{a0}';

/// A probability in words, by the count it is shown with.
pub fn likelihood(probability: f64) -> &'static str {
    match of_hundred(probability) {
        98.. => "almost certain",
        85..=97 => "very likely",
        60..=84 => "likely",
        41..=59 => "about even",
        16..=40 => "unlikely",
        3..=15 => "very unlikely",
        0..=2 => "almost never",
    }
}

/// "very unlikely, 6 of 100".
pub fn chance(probability: f64) -> String {
    format!("{}, {}", likelihood(probability), count(probability))
}

/// A share in whole percent.
pub fn percent(share: f64) -> String {
    match 100.0 * share {
        small if small > 0.0 && small < 0.5 => format!("under 1{NBSP}%"),
        percent => format!("{percent:.0}{NBSP}%"),
    }
}

/// A rise or fall of a probability in machines of a hundred: "5.5 more of 100".
pub fn gain(probability: f64) -> String {
    let machines = format_number((1000.0 * probability.abs()).round() / 10.0, 2);
    let word = if probability < 0.0 { "fewer" } else { "more" };
    format!("{machines} {word} of 100")
}

/// What is gained at a `rate` for a cost, told as `whole`: by the `unit` of it,
/// named `each`, where it costs so much and more. Of less nobody can buy a unit:
/// there the whole gain is set against the whole cost.
pub fn gain_for(rate: f64, cost: (f64, f64), whole: &str, (unit, each): (f64, &str)) -> String {
    let spent = 0.5 * (cost.0 + cost.1);
    if spent < unit {
        format!("{} for {whole} in all", gain(rate * spent))
    } else {
        format!("{} for each {each}", gain(rate * unit))
    }
}

/// A risk: "none", or in words and as a count.
pub fn risk(probability: f64) -> String {
    if probability > 0.0 { chance(probability) } else { "none".into() }
}

/// The middle of a spread in the unit of its range, to two figures: it isn't known
/// better.
pub fn middle(spread: Spread, dimension: Dimension, units: UnitSystem) -> String {
    format_middle(spread.mid, spread.high, dimension, units)
}

/// A spread as a range with its unit.
pub fn range(spread: Spread, dimension: Dimension, units: UnitSystem) -> String {
    format_range(spread.low, spread.high, dimension, units)
}

/// A spread of money without its cents.
pub fn whole(money: Spread) -> Spread {
    // No minus in front of nothing.
    let Spread { low, mid, high } = money;
    let [low, mid, high] = [low, mid, high].map(|amount| amount.round() + 0.0);
    Spread { low, mid, high }
}

/// A mean of money; where it lies outside the spread that holds eight in ten, why.
pub fn mean(mean: f64, spread: Spread, units: UnitSystem) -> String {
    let amount = format_estimate(mean, Dimension::Money, units);
    let Spread { low, high, .. } = whole(spread);
    match mean.round() {
        mean if mean > high => format!("{amount}, for a few machines gain much more"),
        mean if mean < low => format!("{amount}, for a few machines lose much more"),
        _ => amount,
    }
}

/// A pair of quantiles as a range.
pub fn pair((low, high): (f64, f64), dimension: Dimension, units: UnitSystem) -> String {
    format_range(low, high, dimension, units)
}

/// Money; nothing is "free".
pub fn money(range: (f64, f64), units: UnitSystem) -> String {
    if range.1 <= 0.0 { "free".into() } else { pair(range, Dimension::Money, units) }
}

/// Time, in minutes while that reads better; what is saved is said so.
pub fn hours((low, high): (f64, f64), units: UnitSystem) -> String {
    const READS_AS_MINUTES: f64 = 1.5;
    let say = |low: f64, high: f64| {
        if low.abs().max(high.abs()) <= READS_AS_MINUTES {
            pair(((60.0 * low).round(), (60.0 * high).round()), Dimension::Minutes, units)
        } else {
            pair((low, high), Dimension::Hours, units)
        }
    };
    // Half a minute is nothing.
    if low.abs().max(high.abs()) < 1.0 / 120.0 {
        "none".into()
    } else if high <= 0.0 {
        format!("saves {}", say(-high, -low))
    } else {
        say(low, high)
    }
}

/// Words for less and for more of something.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Direction {
    /// Said of a ratio below one: "smoother".
    pub less: &'static str,
    /// Said of a ratio above one: "rougher".
    pub more: &'static str,
    /// Said of a ratio of two and more: so many times "as rough".
    pub times: &'static str,
}

/// Of a roughness.
pub const ROUGHNESS: Direction = Direction { less: "smoother", more: "rougher", times: "as rough" };
/// Of a depth of cut.
pub const DEPTH: Direction = Direction { less: "shallower", more: "deeper", times: "as deep" };

/// A change from now (1) to a ratio: "20–35 % smoother", "up to 20 % smoother",
/// "20 % smoother to 5 % rougher", "2–3 times as deep".
pub fn change(ratio: Spread, direction: Direction) -> String {
    const UNCHANGED: f64 = 0.005;
    let Spread { low, high, .. } = ratio;
    if !(low.is_finite() && high.is_finite()) {
        return "can’t be said".into();
    }
    let is_same = |ratio: f64| (ratio - 1.0).abs() < UNCHANGED;
    let plain = |low: f64, high: f64| format_range(low, high, Dimension::Plain, UnitSystem::Metric);
    let percents = |low: f64, high: f64| {
        let word = if low < 1.0 { direction.less } else { direction.more };
        let [one, other] = [low, high].map(|ratio| ((ratio - 1.0).abs() * 100.0).round());
        format!("{}{NBSP}% {word}", plain(one, other))
    };
    let times = |number: String| format!("{number} times {}", direction.times);
    let part = |ratio: f64| if ratio < 2.0 { percents(ratio, ratio) } else { times(format_number(ratio, 2)) };
    match (is_same(low), is_same(high)) {
        (true, true) => "unchanged".into(),
        (true, false) => format!("up to {}", part(high)),
        (false, true) => format!("up to {}", part(low)),
        _ if low >= 2.0 => times(plain(low, high)),
        _ if low < 1.0 && high > 1.0 => format!("{} to {}", part(low), part(high)),
        _ => percents(low, high),
    }
}

/// Where a remedy stands, in a few words.
pub fn standing(appraisal: &Appraisal, verdict: &Verdict) -> &'static str {
    let good_already = verdict.danger.is_none() && verdict.first.is_none();
    match appraisal.standing {
        Standing::First => "Do this first",
        Standing::Worth if appraisal.remedy == RemedyId::LeaveAlone => "To compare with",
        Standing::Worth if good_already => "Worth it only if you want more",
        Standing::Worth if is_a_try(appraisal) => "Worth a try",
        Standing::Worth => "Worth it",
        Standing::ForSafety => "For safety",
        Standing::TooDear if !appraisal.affordable => "Over your budget",
        Standing::TooDear => "Costs more than it brings",
        Standing::LittleGain => "Little gain",
        Standing::Harmful => "Makes it worse",
        Standing::Unsafe if appraisal.remedy == RemedyId::LeaveAlone => "Not an option",
        Standing::Unsafe => "Not before the danger is gone",
        Standing::CannotTell => "Can’t tell yet",
        Standing::NotPossible => "Not possible here",
    }
}

/// What stands in a remedy's way.
pub fn unmet(unmet: Unmet) -> String {
    format!("{}.", capitalised(&unmet.reason()))
}

/// Things a remedy needs.
pub fn things(means: &[Means]) -> String {
    means.iter().map(|means| lower_first(means.label())).collect::<Vec<_>>().join("; ")
}

/// How far a reading is off what the others and the typical ranges lead to
/// expect.
pub fn misfit(deviations: f64) -> &'static str {
    match deviations.abs() {
        off if off < 1.0 => "agrees with the rest",
        off if off < AT_ODDS => "a little off, as readings are",
        _ => "contradicts the rest",
    }
}

/// `text` with a capital in front. Labels begin with a Latin letter or none:
/// the tables for all others would be 5 kB of the page.
pub fn capitalised(text: &str) -> String {
    let mut text = text.to_owned();
    if let Some(first) = text.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    text
}

/// `text` within a sentence.
pub fn lower_first(text: &str) -> String {
    let mut text = text.to_owned();
    if let Some(first) = text.get_mut(..1) {
        first.make_ascii_lowercase();
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ratio(low: f64, high: f64) -> Spread {
        Spread { low, mid: (low * high).sqrt(), high }
    }

    #[test]
    fn chances() {
        for (probability, text) in [
            (1.0, "almost certain, 100 of 100"),
            (0.999, "almost certain, more than 99 of 100"),
            (0.9, "very likely, 90 of 100"),
            (0.71, "likely, 71 of 100"),
            (0.5, "about even, 50 of 100"),
            (0.34, "unlikely, 34 of 100"),
            (0.06, "very unlikely, 6 of 100"),
            (0.001, "almost never, fewer than 1 of 100"),
            (0.0, "almost never, 0 of 100"),
        ] {
            assert_eq!(chance(probability), text);
        }
    }

    #[test]
    fn changes() {
        for (low, high, text) in [
            (0.65, 0.80, "20–35\u{a0}% smoother"),
            (1.15, 1.4, "15–40\u{a0}% rougher"),
            (0.8, 1.05, "20\u{a0}% smoother to 5\u{a0}% rougher"),
            (0.8, 1.0, "up to 20\u{a0}% smoother"),
            (1.0, 1.3, "up to 30\u{a0}% rougher"),
            (1.3, 2.6, "30–160\u{a0}% rougher"),
            (0.999, 1.001, "unchanged"),
            (2.0, 3.0, "2–3 times as rough"),
            (0.46, 3.32, "54\u{a0}% smoother to 3.3 times as rough"),
            (f64::NAN, 1.0, "can’t be said"),
        ] {
            assert_eq!(change(ratio(low, high), ROUGHNESS), text);
        }
        assert_eq!(change(ratio(1.15, 1.4), DEPTH), "15–40\u{a0}% deeper");
        assert_eq!(change(ratio(0.72, 3.4), DEPTH), "28\u{a0}% shallower to 3.4 times as deep");
    }

    #[test]
    fn times() {
        for (hours, text) in
            [((0.0, 0.0), "none"), ((0.1, 0.4), "6–24 min"), ((3.0, 9.0), "3–9 h"), ((-0.1, -0.05), "saves 3–6 min")]
        {
            assert_eq!(super::hours(hours, UnitSystem::Metric), text);
        }
    }

    /// A mean outside its own range is said to be so for a reason.
    #[test]
    fn means_of_money() {
        let few = Spread { low: -1.25, mid: -1.2, high: -1.14 };
        assert_eq!(range(whole(few), Dimension::Money, UnitSystem::Metric), "−1");
        assert_eq!(mean(-0.04, few, UnitSystem::Metric), "0, for a few machines gain much more");
        assert_eq!(mean(-1.2, few, UnitSystem::Metric), "−1");
        assert_eq!(mean(-7.3, few, UnitSystem::Metric), "−7, for a few machines lose much more");
    }

    #[test]
    fn gains() {
        assert_eq!(gain(0.0551), "5.5 more of 100");
        assert_eq!(gain(-0.3), "30 fewer of 100");
    }

    /// A quarter of an hour can't be had four times over.
    #[test]
    fn rates_are_what_can_be_had() {
        let for_time = |rate, hours| gain_for(rate, hours, &super::hours(hours, UnitSystem::Metric), (1.0, "hour"));
        assert_eq!(for_time(1.72, (0.1, 0.4)), "43 more of 100 for 6–24 min in all");
        assert_eq!(for_time(0.1075, (3.0, 5.0)), "11 more of 100 for each hour");
        assert_eq!(for_time(-0.002, (60.0, 140.0)), "0.2 fewer of 100 for each hour");
    }

    #[test]
    fn misfits() {
        assert_eq!(misfit(-0.3), "agrees with the rest");
        assert_eq!((misfit(2.4), misfit(-2.6)), ("a little off, as readings are", "contradicts the rest"));
    }
}
