//! The machines that fit a case, and the one in their middle.

use super::decide::DRAWS;
use super::evaluate::{Goal, pace};
use super::{Case, Spread};
use crate::mechanics::demonstration::PlayAndSwing;
use crate::mechanics::simulation::{Invalid, Run, Simulation};
use crate::mechanics::{
    Bearings, CutForces, Estimates, ModeGroup, Outcome, Plausible, Prepared, Unknown, Weakest, lobes,
};
use crate::readings::{Sample, sample, usual_given};
use crate::remedies::{Effect, Plan, RemedyId};
use crate::work::Setup;

/// The same sample for the same scenario, everywhere and always.
pub(super) const SEED: u64 = 0x5b1d_1e71_5e00_0001;

/// The plausible machines of a case, with what the user has done already in
/// place.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// The case; what is done already is in place in its setup.
    pub case: Case,
    /// Its setup, prepared.
    pub prepared: Prepared,
    /// What counts.
    pub(super) goal: Goal,
    /// Axial depth that was in mind, mm.
    pub(super) wanted: f64,
    /// The machines, and what is not known about how remedies turn out.
    pub sample: Sample,
    /// The machines as the readings found them.
    pub(super) found: Found,
}

/// What readings see: the machines before anything is done to them.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Found {
    pub prepared: Prepared,
    pub usual: Estimates,
    /// In the order of the sample.
    pub machines: Vec<Plausible>,
}

/// A machine that stands for the others: the middle of what fits, for pictures
/// and for the exact methods.
#[derive(Clone, Debug, PartialEq)]
pub struct Representative {
    /// The setup, prepared.
    pub(super) prepared: Prepared,
    /// The machine.
    pub iron: Plausible,
    /// Forces of the cut on it.
    pub forces: CutForces,
    /// What it does in closed form.
    pub outcome: Outcome,
    /// The mode that chatters first, with the bearings as they are.
    pub weakest: Weakest,
}

/// Weight of a machine's unknowns against its figures in how far from the middle
/// it lies: enough to choose between machines of nearly the same figures.
const UNKNOWNS: f64 = 0.05;

impl Fit {
    /// The machines that fit `case`.
    pub fn new(case: &Case) -> Self {
        Self::with(case, DRAWS)
    }

    /// [`Fit::new`] with another number of machines.
    pub fn with(case: &Case, draws: usize) -> Self {
        let prepared = Prepared::new(&case.setup);
        let usual = usual_given(&case.setup, &case.readings);
        let mut sample = sample(&usual, &prepared, &case.readings, draws, Effect::COUNT, SEED);
        let found = Found { prepared, usual, machines: sample.machines.clone() };
        let done = Plan::new(case.settled.done, &case.setup);
        for (index, iron) in sample.machines.iter_mut().enumerate() {
            done.change_machine(iron, &sample.extras[index * sample.extra_count..][..sample.extra_count]);
        }
        Fit {
            prepared: Prepared::new(done.setup()),
            goal: Goal::new(case),
            wanted: case.setup.cut.axial_depth.as_mm(),
            case: Case { setup: done.setup().clone(), ..case.clone() },
            sample,
            found,
        }
    }

    /// All of the machines.
    pub fn machines(&self) -> &[Plausible] {
        &self.sample.machines
    }

    /// `count` of the machines, which stand for all.
    pub fn some(&self, count: usize) -> Vec<Plausible> {
        self.sample.picks(count).into_iter().map(|pick| self.sample.machines[pick]).collect()
    }

    /// The same with [`Fit::some`] of the machines.
    pub(super) fn thinned(&self, count: usize) -> Fit {
        let picks = self.sample.picks(count);
        let Found { prepared, usual, machines } = &self.found;
        Fit {
            case: self.case.clone(),
            prepared: self.prepared.clone(),
            goal: self.goal,
            wanted: self.wanted,
            sample: self.sample.of_picks(&picks),
            found: Found {
                prepared: prepared.clone(),
                usual: usual.clone(),
                machines: picks.iter().map(|&pick| machines[pick]).collect(),
            },
        }
    }

    /// Remedies that can be had, leaving it alone not among them.
    pub(super) fn possible(&self) -> Vec<RemedyId> {
        let case = &self.case;
        let open = |&id: &RemedyId| id != RemedyId::LeaveAlone && case.settled.unmet(id, &case.setup).is_empty();
        RemedyId::ALL.iter().copied().filter(open).collect()
    }

    /// What the axial depth of `setup` is worth against the depth in mind, 0 to 1.
    pub(super) fn pace(&self, setup: &Setup) -> f64 {
        pace(setup.cut.axial_depth.as_mm(), self.wanted)
    }

    /// The machine nearest the middle, by depth limit and the roughness that
    /// counts, of those in which the most frequent mode chatters first; among
    /// nearly equal ones the most ordinary.
    pub fn representative(&self) -> Representative {
        let all: Vec<(Outcome, Weakest)> =
            self.sample.machines.iter().map(|iron| take(&self.prepared, iron, &self.prepared.forces(iron))).collect();
        let machine = |index: usize| &self.sample.machines[index];
        let figures = |(outcome, _): &(Outcome, Weakest)| [outcome.depth_limit, self.goal.roughness(outcome)];
        let middles = [0, 1].map(|i| Middle::of(all.iter().map(|one| figures(one)[i])));
        let ordinary: Vec<Middle> =
            Unknown::ALL.iter().map(|&one| Middle::of(self.sample.machines.iter().map(|iron| iron[one]))).collect();
        let distance = |index: usize| {
            let far = |middles: &[Middle], values: &[f64]| -> f64 {
                middles.iter().zip(values).map(|(middle, &value)| middle.off(value)).sum()
            };
            far(&middles, &figures(&all[index])) + UNKNOWNS * far(&ordinary, &machine(index).0) / ordinary.len() as f64
        };
        let chatters = |(_, weakest): &(Outcome, Weakest)| (weakest.group, weakest.along_feed);
        let usual = most_frequent(all.iter().map(chatters));
        let chosen = (0..all.len())
            .filter(|&index| Some(chatters(&all[index])) == usual)
            .min_by(|&a, &b| distance(a).total_cmp(&distance(b)))
            .expect("a sample is never empty");
        Representative::new(self.prepared.clone(), *machine(chosen))
    }
}

/// Takes the cut on a machine; which mode chatters first.
fn take(prepared: &Prepared, iron: &Plausible, forces: &CutForces) -> (Outcome, Weakest) {
    let bearings = Bearings::AsTheyAre;
    (prepared.run(iron, forces, bearings), prepared.weakest(iron, forces, bearings))
}

/// What occurs most often; the first of those that occur equally often.
pub(super) fn most_frequent<T: PartialEq + Copy>(all: impl Iterator<Item = T>) -> Option<T> {
    let mut counts: Vec<(T, u32)> = Vec::new();
    for one in all {
        match counts.iter_mut().find(|(known, _)| *known == one) {
            Some((_, count)) => *count += 1,
            None => counts.push((one, 1)),
        }
    }
    // The last of equals is what `max_by_key` gives.
    counts.into_iter().rev().max_by_key(|(_, count)| *count).map(|(one, _)| one)
}

/// Median of logarithms, with their spread as the measure of distance.
struct Middle {
    at: f64,
    spread: f64,
}

impl Middle {
    fn of(values: impl Iterator<Item = f64>) -> Self {
        let Spread { low, mid, high } = Spread::of(values.map(f64::ln).collect());
        Middle { at: mid, spread: (high - low).max(1e-9) }
    }

    fn off(&self, value: f64) -> f64 {
        ((value.ln() - self.at) / self.spread).powi(2)
    }
}

impl Representative {
    pub(super) fn new(prepared: Prepared, iron: Plausible) -> Self {
        let forces = prepared.forces(&iron);
        let (outcome, weakest) = take(&prepared, &iron, &forces);
        Representative { prepared, iron, forces, outcome, weakest }
    }

    /// Its cut in time.
    ///
    /// # Errors
    /// [`Invalid`] where the machine lies beyond what can be simulated, or `run`
    /// is too long for it.
    pub fn simulation(&self, bearings: Bearings, run: Run) -> Result<Simulation, Invalid> {
        self.prepared.simulation(&self.iron, &self.forces, bearings, run)
    }

    /// Its lobes: those of the group that chatters first.
    pub fn lobes(&self, bearings: Bearings) -> lobes::Milling {
        let group = self.prepared.weakest(&self.iron, &self.forces, bearings).group;
        self.lobes_of(group, bearings)
    }

    /// The lobes of any group.
    pub fn lobes_of(&self, group: ModeGroup, bearings: Bearings) -> lobes::Milling {
        self.prepared.lobes(&self.iron, &self.forces, bearings, group)
    }

    /// Its own spindle and play under a load that keeps its direction, and under
    /// one that turns.
    ///
    /// # Errors
    /// [`Invalid`] where the spindle lies beyond what can be simulated.
    pub fn play_and_swing(&self) -> Result<PlayAndSwing, Invalid> {
        self.prepared.play_and_swing(&self.iron, &self.forces)
    }
}
