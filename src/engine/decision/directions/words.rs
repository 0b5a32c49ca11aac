//! Directions in words: what rules each, and what is bad about the bad one.

use super::super::verdict::{count, of_hundred};
use super::{Course, Directions, Heading, Prediction, Push, Stop, Swings, Way};
use crate::quantity::{Dimension, UnitSystem, format, format_estimate, format_number, format_range};
use crate::work::{Axis, CutKind, CutSense};

/// A ratio from which on it is worth a word.
const MARKED: f64 = 1.4;

/// Share of a force that acts the other way, from which on it is said to turn.
const TURNS: f64 = 0.05;

/// Angle (rad) of swing below which play is said to stay seated: a third of it is
/// crossed there.
const SEATED: f64 = 0.7;

/// Directions whose share of the goal differs by less come to the same.
const SAME: f64 = 0.02;

impl Way {
    /// Along `axis`, as the operator sees the table move.
    pub fn label(self, axis: Axis) -> &'static str {
        match (axis, self) {
            (Axis::X, Way::Plus) => "table to the right (+X)",
            (Axis::X, Way::Minus) => "table to the left (\u{2212}X)",
            (Axis::Y, Way::Plus) => "table away from you (+Y)",
            (Axis::Y, Way::Minus) => "table towards you (\u{2212}Y)",
        }
    }
}

impl Heading {
    /// Axis and sense, within a sentence.
    fn along(&self, kind: CutKind) -> String {
        format!("along {}{}", letter(self.axis), self.sense_label(kind))
    }

    /// The direction in a few words. Where a stop tells one way from the other
    /// it goes by the stop: on which side that is was not asked.
    pub(super) fn title(&self, kind: CutKind, stop: Stop) -> String {
        match stop {
            Stop::None => format!("{}{}", self.way.label(self.axis), self.sense_label(kind)),
            Stop::Against => self.along(kind) + ", onto the stop",
            Stop::Away => self.along(kind) + ", off the stop",
        }
    }

    fn sense_label(&self, kind: CutKind) -> &'static str {
        match (kind, self.sense) {
            (_, None) => "",
            (CutKind::Slot, Some(CutSense::Climb)) => ", the wall that counts on the climb side",
            (CutKind::Slot, Some(CutSense::Conventional)) => ", the wall that counts on the conventional side",
            (_, Some(CutSense::Climb)) => ", climb",
            (_, Some(CutSense::Conventional)) => ", conventional",
        }
    }
}

fn letter(axis: Axis) -> &'static str {
    match axis {
        Axis::X => "X",
        Axis::Y => "Y",
    }
}

impl Swings {
    /// What chatters first, within a sentence.
    fn short(&self) -> String {
        format!("{} {}", self.group.label().0, self.swing())
    }

    fn swing(&self) -> String {
        let lies = if self.along_feed { "in line with the feed" } else { "across the feed" };
        let way = match self.axis {
            Axis::X => "left to right",
            Axis::Y => "to and from you",
        };
        format!("shakes {way}, {lies}")
    }

    /// What chatters first and why this direction feeds it, within a sentence.
    fn clause(&self, units: UnitSystem) -> String {
        let Swings { fed, softer, frequency, .. } = self;
        let pitch = format_range(frequency.low, frequency.high, Dimension::Frequency, units);
        let times = |ratio: f64| format!("{} times", format_number(ratio, 2));
        let because = match (*softer >= MARKED, *fed >= MARKED) {
            (true, true) => format!(
                "; that way it is {} as soft as at right angles to it, and this cut shakes it {} as hard",
                times(*softer),
                times(*fed)
            ),
            (true, false) => format!("; that way it is {} as soft as at right angles to it", times(*softer)),
            (false, true) => {
                format!("; that way this cut shakes it {} as hard as at right angles to it", times(*fed))
            }
            (false, false) => "; that way it is hardly softer or harder shaken than at right angles to it".to_owned(),
        };
        let (group, parts) = self.group.label();
        format!("{group} ({parts}) {}, at {pitch}{because}", self.swing())
    }
}

impl Push {
    /// What the force does to play, within a sentence.
    fn clause(&self, units: UnitSystem) -> String {
        let newtons = |force: f64| format_estimate(force, Dimension::Force, units);
        let (out, into) = (-self.wall.0, self.wall.1);
        if self.turns >= TURNS {
            return format!(
                "the force across the feed turns round within every tooth pass, {} away from the wall and {} into it, so play is crossed each time",
                newtons(out),
                newtons(into)
            );
        }
        let (force, side) = if out >= into { (out, "away from the wall") } else { (into, "into the wall") };
        let swings = format_estimate(self.swings, Dimension::Angle, units);
        let play = if self.swings < SEATED {
            format!("and its direction swings through no more than {swings}, so play stays all but seated")
        } else {
            format!("but its direction swings through {swings} in all, so play is crossed in part")
        };
        format!("the force across the feed, up to {}, only ever pushes {side}, {play}", newtons(force))
    }
}

impl Course {
    /// Whether another direction comes to the same.
    pub fn like(&self, other: &Course) -> bool {
        (self.quality - other.quality).abs() < SAME && self.dangerous == other.dangerous
    }

    /// The direction as a heading; both ways along the axis where they come out
    /// the same.
    pub fn line(&self, kind: CutKind) -> String {
        match self.stop {
            Stop::None => super::super::verdict::upper(&self.heading.along(kind)),
            _ => super::super::verdict::upper(&self.title),
        }
    }

    /// What rules this direction, in plain sentences.
    pub fn why(&self, directions: &Directions, units: UnitSystem) -> String {
        let mut facts = Vec::new();
        if let Some(pulls) = self.pulls() {
            facts.extend([pulls, self.pull(directions, units)]);
        }
        facts.extend(self.moves(units));
        facts.push(
            format!("{} machines like yours chatter", count(self.prediction.chatter))
                + ": "
                + &self.swings.clause(units),
        );
        facts.push(self.push.clause(units));
        facts.into_iter().map(|fact| sentence(&fact)).collect::<Vec<_>>().join(" ")
    }

    /// Whether the cut pulls the table along.
    fn pulls(&self) -> Option<String> {
        let snatched = of_hundred(self.prediction.pull_in);
        let held = match snatched {
            0 => "which the slides’ drag holds".to_owned(),
            _ => format!("on {} machines harder than the slides’ drag holds", count(self.prediction.pull_in)),
        };
        (self.push.mean_feed > 0.0 || snatched > 0).then(|| format!("the cutter pulls the table along, {held}"))
    }

    /// How hard it does, and why.
    fn pull(&self, directions: &Directions, units: UnitSystem) -> String {
        let pull = format_estimate(self.push.feed.1, Dimension::Force, units);
        let [width, most] = [directions.width, directions.self_feed].map(|share| format_number(100.0 * share, 2));
        match self.heading.sense {
            Some(CutSense::Climb) if directions.width < directions.self_feed => format!(
                "it pulls with up to {pull}: a climb cut takes the table with it where it is narrower than about {most}\u{a0}% of the cutter, and this one is {width}\u{a0}%"
            ),
            _ => format!("it pulls with up to {pull}, for part of each tooth pass"),
        }
    }

    /// Whether the part may move in its grip.
    fn moves(&self, units: UnitSystem) -> Option<String> {
        let Prediction { slip, lift, .. } = self.prediction;
        let [slips, lifts] = [slip, lift].map(count);
        let along = format_estimate(self.push.feed.1.max(-self.push.feed.0), Dimension::Force, units);
        match self.stop {
            _ if lift > slip => {
                Some(format!("on {lifts} machines like yours the force tips the part or lifts it off its grip"))
            }
            Stop::Away => Some(format!(
                "up to {along} pushes the part away from its stop, so that the jaws alone hold it; it slips on {slips} machines like yours"
            )),
            _ if of_hundred(slip) > 0 => Some(format!("on {slips} machines like yours the part slips in its grip")),
            Stop::Against => Some(format!("up to {along} pushes the part against its stop")),
            Stop::None => None,
        }
    }

    /// The fact that rules this direction, within a sentence.
    fn ruling(&self, units: UnitSystem) -> String {
        let Prediction { pull_in, slip, lift, .. } = &self.prediction;
        let danger = match self.dangerous {
            true if *pull_in >= slip.max(*lift) => self.pulls(),
            true => self.moves(units),
            false => None,
        };
        danger.unwrap_or_else(|| self.swings.short())
    }
}

impl Directions {
    /// Why the worst direction is bad, in one sentence; `None` where
    /// [`Self::sentence`] says so or it is hardly worse than the best.
    pub fn warning(&self, units: UnitSystem) -> Option<String> {
        let (best, worst) = (self.best(), self.worst());
        let said = worst.present || self.axes_alike() && !worst.dangerous;
        (!best.like(worst) && !said).then(|| {
            format!(
                "Keep from feeding {}: {}; {} machines like yours would chatter.",
                self.name(worst),
                worst.ruling(units),
                count(worst.prediction.chatter)
            )
        })
    }

    /// A direction, and the same along the other axis where that comes to the same.
    fn name(&self, course: &Course) -> String {
        let Course { heading, stop, title, .. } = course;
        let twin = |other: &&Course| other.heading.sense == heading.sense && other.heading.axis != heading.axis;
        match stop {
            Stop::None if self.courses.iter().find(twin).is_some_and(|twin| twin.like(course)) => {
                format!("along X or Y{}", heading.sense_label(self.kind))
            }
            Stop::None => heading.along(self.kind),
            _ => title.clone(),
        }
    }

    /// Whether only climb or conventional makes a difference.
    fn axes_alike(&self) -> bool {
        self.courses.iter().all(|one| {
            one.stop == Stop::None
                && one.heading.sense.is_some()
                && self.courses.iter().filter(|other| other.heading.sense == one.heading.sense).all(|two| two.like(one))
        })
    }

    /// What is good or bad about the present direction, in one sentence; each
    /// course says why at length.
    pub fn sentence(&self, units: UnitSystem) -> String {
        let (present, best, worst) = (self.present(), self.best(), self.worst());
        let chatter = |course: &Course| count(course.prediction.chatter);
        // Of a hundred as well, which has been said by then.
        let against = |course: &Course| chatter(course).replace(" of 100", "");
        let deep = format(self.depth, Dimension::Length, units);
        let outcome = format!("{} machines like yours chatter at {deep} deep", chatter(present));
        let alone = |course: &Course| match course.stop {
            Stop::None => course.heading.along(self.kind),
            _ => course.title.clone(),
        };
        let here = alone(present);
        let rules = present.ruling(units);
        if best.dangerous {
            return format!(
                "No way of feeding makes this cut safe: even {}, {}; {} chatter at {deep} deep.",
                self.name(best),
                best.ruling(units),
                chatter(best)
            );
        }
        if best.like(worst) {
            return format!("No direction is much better than another here; {here}, {rules}; {outcome}.");
        }
        if self.axes_alike() {
            let [now, other] = [present, if present.like(best) { worst } else { best }]
                .map(|course| course.heading.sense_label(self.kind).trim_start_matches(", "));
            return if present.like(best) {
                format!(
                    "X or Y makes no difference, {other} is worse: as you cut now, {now}, {rules}; {outcome}, {} with {other}.",
                    against(worst)
                )
            } else {
                format!(
                    "X or Y makes no difference, {other} is better: as you cut now, {now}, {rules}; {outcome}, {} with {other}.",
                    against(best)
                )
            };
        }
        if best.like(present) && chatter(best) != chatter(present) {
            return format!(
                "Feeding {here}, is about as good as any way: {rules}; {outcome}, {} {}, {} {}, the worst way.",
                against(best),
                alone(best),
                against(worst),
                self.name(worst)
            );
        }
        if best.like(present) {
            return format!(
                "Feeding {here}, is already the best way: {rules}; {outcome}, {} {}, the worst way.",
                against(worst),
                self.name(worst)
            );
        }
        format!("Feeding {here}, is not the best way: {rules}; {outcome}, {} {}.", against(best), alone(best))
    }
}

fn sentence(fact: &str) -> String {
    super::super::verdict::upper(fact) + "."
}
