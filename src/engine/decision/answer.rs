//! The shape of an answer: figures with their spread, ranked remedies, the
//! verdict.

use serde::{Deserialize, Serialize};

use super::{Danger, Dots};
use crate::mechanics::LoopPart;
use crate::order;
use crate::remedies::{Caution, Means, RemedyId, Unmet};
use crate::work::Surfaces;

/// A spread: one plausible machine in ten lies below `low`, one in ten above
/// `high`, half below `mid`.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs, reason = "said above")]
pub struct Spread {
    pub low: f64,
    pub mid: f64,
    pub high: f64,
}

/// What the machine would do with one remedy in place. Lengths in mm,
/// probabilities 0 to 1.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Prediction {
    /// Roughness Ra of the wall.
    pub wall: Spread,
    /// Roughness Ra of the floor.
    pub floor: Spread,
    /// Deepest cut without chatter at this speed.
    pub depth_limit: Spread,
    /// How far the wall ends up from where it should be.
    pub location: Spread,
    /// How far the tip travels across the play in each tooth pass.
    pub play_travel: Spread,
    /// Stiffness between tip and work in the weaker direction, N/um.
    pub stiffness: Spread,
    /// Torque at the cutter, N.m.
    pub torque: Spread,
    /// Minutes in the cut for the whole job (exact, given the settings).
    pub minutes: f64,
    /// Probability that finish (and size, if it counts) come out as wanted and
    /// the cut does not chatter.
    pub reach: f64,
    /// Probability of chatter at this depth of cut.
    pub chatter: f64,
    /// Probability that the part slips in its grip.
    pub slip: f64,
    /// Probability that the part lifts or tips.
    pub lift: f64,
    /// Probability that the cut pulls the table along.
    pub pull_in: f64,
    /// Probability that the drive stalls.
    pub stall: f64,
    /// Probability that the cutter is loaded beyond what it bears.
    pub snap: f64,
}

/// Change against leaving everything as it is, on the same plausible machines:
/// each is "with remedy / without", so 0.8 is 20 % less.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Change {
    /// Roughness of the wall.
    pub wall: Spread,
    /// Roughness of the floor.
    pub floor: Spread,
    /// Chatter-free depth.
    pub depth_limit: Spread,
    /// Location error.
    pub location: Spread,
}

/// Where a remedy stands after all is weighed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Standing {
    /// The first thing to do.
    First,
    /// Worth its cost.
    Worth,
    /// Brings the goal hardly nearer for its cost, but makes the cut safer.
    ForSafety,
    /// Helps, but costs more than it is worth to this user.
    TooDear,
    /// Hardly changes anything on this machine and this cut.
    LittleGain,
    /// Makes it worse.
    Harmful,
    /// Leaves a danger that has to be dealt with first.
    Unsafe,
    /// May be worth it or not: the readings so far can't tell.
    CannotTell,
    /// Doesn't apply or something it needs is missing.
    NotPossible,
}

/// One remedy weighed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Appraisal {
    /// Which remedy.
    pub remedy: RemedyId,
    /// What to do, in this very case.
    pub title: String,
    /// Where it stands.
    pub standing: Standing,
    /// The gravest danger it leaves, if any.
    pub danger: Option<Danger>,
    /// What it needs that isn't there, if anything.
    pub unmet: Vec<Unmet>,
    /// What it needs that would have to be bought or hired; its price is in
    /// the money below.
    pub hired: Vec<Means>,
    /// Whether it lies within the money and hours allowed.
    pub affordable: bool,
    /// What it leads to.
    pub prediction: Prediction,
    /// How that differs from now.
    pub change: Change,
    /// Share of plausible machines on which it makes a difference one could
    /// notice (a tenth or more in what counts).
    pub noticeable: f64,
    /// Whether what it wins on some plausible machines outweighs what it costs
    /// on the others, four to one.
    pub firm: bool,
    /// Money: 10 and 90 %.
    pub money: (f64, f64),
    /// Hours of work: 10 and 90 %; extra minutes in the cut included.
    pub hours: (f64, f64),
    /// Chance of spoiling something, 0 to 1.
    pub spoil: f64,
    /// Net worth to this user, in money, over leaving it alone.
    pub worth: Spread,
    /// Mean of the net worth; the ranking goes by it.
    pub expected_worth: f64,
    /// Share of the machines on which it is the best buy of all that are possible
    /// and affordable; to leave it alone is one of them.
    pub best: f64,
    /// Share of the machines on which one would be better off leaving it alone.
    pub regret: f64,
    /// Points of probability of reaching the goal per unit of money (mid cost),
    /// if it costs any.
    pub reach_per_money: Option<f64>,
    /// The same per hour of work.
    pub reach_per_hour: Option<f64>,
    /// Why it stands where it does, in a sentence.
    pub why: String,
}

/// A part's share of the movement between tip and work, 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Share {
    /// Which part.
    pub part: LoopPart,
    /// Its share of the motion across the feed.
    pub normal: Spread,
    /// Its share of the motion along the feed.
    pub feed: Spread,
}

/// What perfect bearings would do: no compliance, no play, no cost.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Ceiling {
    /// The bearings' share of the motion in the decisive direction.
    pub share: Spread,
    /// What could be had.
    pub prediction: Prediction,
    /// Against now.
    pub change: Change,
}

/// What a reading is at odds with.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum AtOdds {
    /// Another reading, by its label: without that it would fit.
    With(String),
    /// What is typical of this kind of machine.
    Typical,
}

/// What one reading did.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ReadingCheck {
    /// What was read.
    pub label: String,
    /// The value read, mm or Hz.
    pub read: f64,
    /// What was expected before it, same unit.
    pub expected: Spread,
    /// What the fitted machine says, same unit.
    pub fitted: Spread,
    /// Distance of the reading from the fit in standard errors: above about
    /// two and a half, it contradicts the model or another reading.
    pub misfit: f64,
    /// How far it is off what all other readings and the typical ranges lead to
    /// expect, in standard deviations of that.
    pub off: f64,
    /// What it is at odds with, if that is far.
    pub at_odds: Option<AtOdds>,
}

/// A reading worth taking next.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct NextReading {
    /// The field it goes into, by [`crate::scenario::FieldSpec::key`].
    pub field: String,
    /// What it observes.
    pub label: String,
    /// Minutes it takes.
    pub minutes: f64,
    /// What knowing it gains on average, in money, its own error reckoned in.
    pub gain: f64,
    /// The same for each minute.
    pub gain_per_minute: f64,
    /// Probability that the best buy is another one once it is known.
    pub changes: f64,
    /// Whether it gains more than its minutes are worth, and more than chance
    /// could feign.
    pub worth_taking: bool,
    /// Share of the spread of how near the goal is, or of what bearings could
    /// gain, that goes along with what it shows, 0 to 1.
    pub settles: f64,
}

/// What knowing more could gain.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Knowing {
    /// What knowing everything would gain on average, in money: no reading gains
    /// more.
    pub everything: f64,
    /// Probability that the best buy is another one once everything is known.
    pub changes: f64,
    /// Readings not yet taken: those worth taking first. If the first is not, no
    /// reading can change the advice for enough; it still tells most about what
    /// moves.
    pub readings: Vec<NextReading>,
}

/// The answer in words.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Verdict {
    /// What to do, as a friend would say it; of dangers, what not to do.
    pub short: String,
    /// Why, as the rest of the sentence.
    pub reason: String,
    /// On how many of 100 plausible machines like this one the first step, if
    /// there is one, brings the goal.
    pub of_hundred: u32,
    /// What to do first.
    pub first: Option<RemedyId>,
    /// The danger that comes before everything else, if there is one.
    pub danger: Option<Danger>,
    /// About the bearings: worth it, not worth it, or can't tell yet.
    pub bearings: String,
    /// What not to buy, best known first, with the reason.
    pub not_to_buy: Vec<(RemedyId, String)>,
    /// Whether the answer is firm, or hangs on readings not yet taken.
    pub firm: bool,
}

impl Verdict {
    /// What to do and why, in one sentence.
    pub fn sentence(&self) -> String {
        format!("{}: {}", self.short, self.reason)
    }

    /// What fits where there is room for a few words only.
    pub fn in_short(&self) -> &str {
        match (self.danger, self.first) {
            (Some(danger), None) => danger.in_short(),
            _ => &self.short,
        }
    }
}

/// Good readings of a machine as it was told disagree as much on fewer occasions
/// than this: something is wrong with one of them, or with what was told.
const DISAGREE: f64 = 0.05;

/// And on fewer than this: they leave nothing firm.
const CLASH: f64 = 0.01;

/// Whether readings that agree with this chance ([`Decision::agreement`]) leave
/// nothing firm.
pub(super) fn clash(agreement: Option<f64>) -> bool {
    agreement.is_some_and(|chance| chance < CLASH)
}

impl Decision {
    /// Whether the readings are so much at odds, with each other or with what is
    /// typical, that nothing is firm.
    pub fn clashes(&self) -> bool {
        clash(self.agreement)
    }

    /// The readings to take again, farthest off first, if they don't go together
    /// with each other and with what was told.
    pub fn to_take_again(&self) -> Option<Vec<&ReadingCheck>> {
        /// An ordinary reading is off by so much, in standard deviations.
        const ORDINARY: f64 = 1.0;
        const NAMED: usize = 2;
        self.agreement.filter(|chance| *chance < DISAGREE)?;
        let mut off: Vec<&ReadingCheck> = self.readings.iter().filter(|one| one.off.abs() >= ORDINARY).collect();
        order::greatest_first(&mut off, |one| one.off.abs());
        off.truncate(NAMED);
        Some(off)
    }
}

/// Everything the answer page shows.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Decision {
    /// Plausible machines looked at.
    pub draws: usize,
    /// How many independent ones they are worth after the readings.
    pub effective_draws: f64,
    /// How heavy the tail of the machines' weights is: above 0.7 a few of them
    /// decide. Nothing (minus infinity) without readings.
    pub tail: f64,
    /// Probability that readings as good as these disagree as much with each other
    /// and with what is typical, if nothing is wrong; none without readings.
    pub agreement: Option<f64>,
    /// Share of evaluations whose iteration did not converge.
    pub unconverged: f64,
    /// In words.
    pub verdict: Verdict,
    /// Whether the wall's finish, the floor's, or both count towards the goal.
    pub counts: Surfaces,
    /// Everything left as it is.
    pub now: Prediction,
    /// The finish that counts, machine by machine.
    pub dots: Dots,
    /// Deepest cut (mm) that no speed makes chatter, everything left as it is.
    pub depth_any_speed: Spread,
    /// Perfect bearings.
    pub ceiling: Ceiling,
    /// Who owns the motion, largest first.
    pub shares: Vec<Share>,
    /// Remedies, best first; "leave it alone" is among them.
    pub appraisals: Vec<Appraisal>,
    /// Cautions that hold for the cut as it is.
    pub cautions: Vec<Caution>,
    /// What the readings said.
    pub readings: Vec<ReadingCheck>,
    /// What to measure next.
    pub knowing: Knowing,
}
