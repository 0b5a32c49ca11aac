//! What can be done in the background.

use serde::{Deserialize, Serialize};
use spindlewise_engine::decision::sets::Bundle;
use spindlewise_engine::decision::{DRAFT_DRAWS, Deciding, Decision, Findings, FreeOfCharge, Study};
use spindlewise_engine::scenario::Scenario;

/// A piece of work, with all that it needs.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub enum Job {
    /// The answer to a scenario, on so many machines.
    Decide(#[serde(with = "exported")] Box<Scenario>, usize),
    /// What takes longer to find out about a scenario.
    Study(#[serde(with = "exported")] Box<Scenario>),
    /// The best that a scenario leaves to be had for no money.
    Free(#[serde(with = "exported")] Box<Scenario>),
}

/// A scenario goes the way it is exported: all the code for that is there.
mod exported {
    use serde::de::Error;
    use serde::{Deserialize, Deserializer, Serialize, Serializer};
    use spindlewise_engine::scenario::{Scenario, document};

    pub fn serialize<S: Serializer>(scenario: &Scenario, serializer: S) -> Result<S::Ok, S::Error> {
        document::write(scenario).serialize(serializer)
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Box<Scenario>, D::Error> {
        let text = String::deserialize(deserializer)?;
        document::read(&text).map(Box::new).map_err(D::Error::custom)
    }
}

/// What comes of a [`Job`].
#[derive(Debug, Serialize, Deserialize)]
pub enum Reply {
    /// Of [`Job::Decide`].
    Decision(Box<Decision>),
    /// Of [`Job::Study`].
    Findings(Box<Findings>),
    /// Of [`Job::Free`]; none if that leaves a danger.
    Free(Option<Box<Bundle>>),
}

/// How far a job has come.
#[derive(Debug, Serialize, Deserialize)]
pub enum Step {
    /// This share of it is done, 0 to 1.
    Progress(f64),
    /// All of it.
    Done(Reply),
}

/// A job begun. Each call does the next slice; none follows the one that is done.
pub type Work = Box<dyn FnMut() -> Step>;

impl Job {
    /// Whether it is done so soon that someone waits for it.
    pub fn is_quick(&self) -> bool {
        matches!(self, Job::Decide(_, draws) if *draws <= DRAFT_DRAWS)
    }

    /// Begins it.
    ///
    /// A job on the page holds everything up for as long as one slice takes,
    /// so what can be parted should come in slices of some 10 ms.
    pub fn begin(self) -> Work {
        match self {
            Job::Decide(scenario, draws) => sliced(
                move || Deciding::new(&scenario.resolve().case, draws),
                Deciding::step,
                |done| Some(Reply::Decision(Box::new(done.decision()))),
            ),
            Job::Study(scenario) => sliced(
                move || Study::new(scenario.resolve().case),
                Study::step,
                |done| Some(Reply::Findings(Box::new(done.findings()?))),
            ),
            Job::Free(scenario) => sliced(
                move || FreeOfCharge::new(&scenario.resolve().case),
                FreeOfCharge::step,
                |done| Some(Reply::Free(done.finish().map(Box::new))),
            ),
        }
    }
}

/// Work that begins with its first slice; `step` does the next and says what share
/// is done.
fn sliced<T: 'static>(begin: impl Fn() -> T + 'static, step: fn(&mut T) -> f64, reply: fn(T) -> Option<Reply>) -> Work {
    let mut begun = None;
    Box::new(move || {
        let share = step(begun.get_or_insert_with(&begin));
        let done = (share >= 1.0).then(|| begun.take()).flatten().and_then(reply);
        done.map_or(Step::Progress(share), Step::Done)
    })
}
