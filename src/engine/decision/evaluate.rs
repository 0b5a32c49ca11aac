//! Every remedy on the same plausible machines.

use std::cell::RefCell;
use std::sync::Arc;

use super::{Case, Change, Fit, Prediction, Spread};
use crate::mechanics::{Bearings, Chatter, CutForces, LoopPart, Motion, Outcome, Plausible, Prepared, Unknown};
use crate::remedies::{Plan, RemedySet};
use crate::work::{Setup, Surfaces};

/// What counts as good in this case.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Goal {
    finish: f64,
    tolerance: Option<f64>,
    counts: Surfaces,
}

impl Goal {
    /// From what the user wants.
    pub fn new(case: &Case) -> Self {
        Goal {
            finish: case.want.finish.as_mm(),
            tolerance: case.want.size_counts.then_some(case.want.tolerance.as_mm()),
            counts: case.want.surfaces,
        }
    }

    /// The surfaces whose finish counts.
    pub fn counts(&self) -> Surfaces {
        self.counts
    }

    /// The roughness that counts.
    pub fn roughness(&self, outcome: &Outcome) -> f64 {
        self.counts.rougher(outcome.wall, outcome.floor)
    }

    /// How much of the goal is reached, 0 to 1: the share of the wanted finish,
    /// times the share of the depth that does not chatter, times that of the
    /// tolerance if size counts; a part that moves in its grip is worth little.
    pub fn quality(&self, outcome: &Outcome, depth: f64) -> f64 {
        let finish = (self.finish / self.roughness(outcome)).min(1.0);
        let deep = (outcome.depth_limit / depth).min(1.0);
        let size = self.tolerance.map_or(1.0, |tolerance| (tolerance / outcome.location).min(1.0));
        let held = if holds(outcome) { 1.0 } else { 0.3 };
        finish * deep * size * held
    }

    /// Whether finish, size and grip are as wanted and `depth` does not chatter.
    pub fn reached(&self, outcome: &Outcome, depth: f64) -> bool {
        self.quality(outcome, depth) >= 1.0
    }
}

/// What a smaller depth than wanted is worth: the finish may be there, but in
/// more passes than the user had in mind. Half the depth counts 0.87; the
/// minutes it costs are charged besides.
pub fn pace(depth: f64, wanted: f64) -> f64 {
    (depth / wanted).min(1.0).powf(0.2)
}

/// Whether the part stays put, the table is not snatched and the drive turns.
fn holds(outcome: &Outcome) -> bool {
    outcome.slip >= 1.0 && outcome.lift >= 1.0 && outcome.pull_in <= 1.0 && outcome.drive <= 1.0
}

/// What a remedy does on every machine of a sample.
#[derive(Clone, Debug, PartialEq)]
pub struct Evaluation {
    /// Outcomes, machine by machine.
    pub outcomes: Vec<Outcome>,
    /// Share of the goal reached, machine by machine.
    pub quality: Vec<f64>,
    /// Load of the cutter over what it bears, machine by machine.
    snaps: Vec<f64>,
    depth: f64,
    minutes: f64,
    goal: Goal,
}

/// The machines that fit a case with the forces of the cut as it is: what every
/// remedy is evaluated on.
pub struct Ground {
    /// The machines.
    pub fit: Arc<Fit>,
    forces: Vec<CutForces>,
    chatter: Vec<Chatter>,
    /// One of every geometry of cut met so far.
    cuts: RefCell<Vec<Prepared>>,
}

/// Unknowns that the forces of a cut depend on.
const FORCE_UNKNOWNS: [Unknown; 6] = [
    Unknown::ForceFactor,
    Unknown::RadialRatio,
    Unknown::AxialRatio,
    Unknown::EdgeFactor,
    Unknown::Runout,
    Unknown::SpindleWeight,
];

/// Unknowns that what is fed back to vibration depends on.
const FEEDBACK_UNKNOWNS: [Unknown; 3] = [Unknown::ForceFactor, Unknown::RadialRatio, Unknown::RubDamping];

/// Unknowns that the swinging of the frame depends on.
const FRAME_UNKNOWNS: [Unknown; 9] = [
    Unknown::Build,
    Unknown::HeadX,
    Unknown::HeadY,
    Unknown::ColumnX,
    Unknown::ColumnY,
    Unknown::FrequencyX,
    Unknown::FrequencyY,
    Unknown::DampingX,
    Unknown::DampingY,
];

impl Ground {
    /// Computes forces and chatter of the cut as it is.
    pub fn new(fit: Arc<Fit>) -> Self {
        let Fit { prepared, sample, .. } = &*fit;
        let forces: Vec<CutForces> = sample.machines.iter().map(|iron| prepared.forces(iron)).collect();
        let chatter =
            sample.machines.iter().zip(&forces).map(|(iron, forces)| prepared.chatter(iron, forces)).collect();
        let cuts = RefCell::new(vec![prepared.clone()]);
        Ground { fit, forces, chatter, cuts }
    }

    /// Deepest cut (mm) that no speed makes chatter, with everything as it is.
    pub fn depth_any_speed(&self) -> Spread {
        let machines = self.fit.sample.machines.iter().zip(&self.chatter);
        Spread::of(machines.map(|(iron, chatter)| self.fit.prepared.depth_any_speed(iron, chatter)).collect())
    }

    /// How the parts move with everything as it is.
    pub fn motions(&self) -> Motions {
        let machines = self.fit.sample.machines.iter().zip(&self.forces);
        let motion = |(iron, forces)| self.fit.prepared.motion(iron, forces, Bearings::AsTheyAre);
        Motions(machines.map(motion).collect())
    }

    /// Takes the cut on every machine with `remedies` in place.
    pub fn evaluate(&self, remedies: RemedySet, bearings: Bearings) -> Evaluation {
        let changed = self.change(remedies);
        changed.evaluation(|index| changed.taken(index, bearings))
    }

    /// The machines with `remedies` in place, to be asked one by one.
    pub fn change(&self, remedies: RemedySet) -> Changed<'_> {
        let plan = Plan::new(remedies, &self.fit.prepared.setup);
        let prepared = self.prepare(plan.setup());
        Changed {
            same_cut: prepared.same_forces(&self.fit.prepared),
            same_feedback: prepared.same_feedback(&self.fit.prepared),
            ground: self,
            plan,
            prepared,
        }
    }

    fn prepare(&self, setup: &Setup) -> Prepared {
        let mut cuts = self.cuts.borrow_mut();
        if let Some(alike) = cuts.iter().find(|known| known.cuts_like(setup)) {
            return alike.after(setup);
        }
        cuts.push(Prepared::new(setup));
        cuts[cuts.len() - 1].clone()
    }
}

/// A set of remedies on the machines of a [`Ground`].
pub struct Changed<'a> {
    ground: &'a Ground,
    /// The remedies.
    pub plan: Plan,
    prepared: Prepared,
    same_cut: bool,
    same_feedback: bool,
}

impl Changed<'_> {
    /// The machine `index` takes the cut.
    pub fn outcome(&self, index: usize, bearings: Bearings) -> Outcome {
        self.taken(index, bearings).0
    }

    /// The same, and how the cutter is loaded by it ([`Prepared::snaps`]).
    fn taken(&self, index: usize, bearings: Bearings) -> (Outcome, f64) {
        let iron = self.iron(index);
        let forces = self.forces_on(index, &iron);
        let Ground { fit, chatter, .. } = self.ground;
        let as_before = self.same_feedback && same(&FEEDBACK_UNKNOWNS, &iron, &fit.sample.machines[index]);
        let outcome = self.prepared.run_changed(&iron, &forces, bearings, as_before.then(|| &chatter[index]));
        (outcome, self.prepared.snaps(&forces, &outcome))
    }

    /// [`Changed::outcome`] where the forces are known, and what chatters in a cut
    /// that feeds back alike.
    pub fn outcome_given(&self, index: usize, forces: &CutForces, chatter: &Chatter, bearings: Bearings) -> Outcome {
        self.prepared.run_changed(&self.iron(index), forces, bearings, Some(chatter))
    }

    /// [`Changed::outcome_given`] on every machine.
    pub fn evaluate_given(&self, forces: &[CutForces], chatter: &[Chatter], bearings: Bearings) -> Evaluation {
        self.evaluation(|index| {
            let outcome = self.outcome_given(index, &forces[index], &chatter[index], bearings);
            (outcome, self.prepared.snaps(&forces[index], &outcome))
        })
    }

    fn evaluation(&self, taken: impl Fn(usize) -> (Outcome, f64)) -> Evaluation {
        let Fit { sample, wanted, goal, .. } = &*self.ground.fit;
        let taken = (0..sample.machines.len()).map(taken).collect();
        Evaluation::of(taken, self.plan.setup(), *wanted, *goal)
    }

    /// What chatters on every machine under `forces`.
    pub fn chatter(&self, forces: &[CutForces]) -> Vec<Chatter> {
        forces.iter().enumerate().map(|(index, forces)| self.prepared.chatter(&self.iron(index), forces)).collect()
    }

    /// Whether it is fed back, or the frame swings, otherwise than without.
    pub fn changes_feedback(&self) -> bool {
        let fit = &self.ground.fit;
        let as_before = |index: usize| {
            let (iron, before) = (self.iron(index), &fit.sample.machines[index]);
            same(&FEEDBACK_UNKNOWNS, &iron, before) && same(&FRAME_UNKNOWNS, &iron, before)
        };
        !self.same_feedback
            || self.prepared.setup.cut.axis != fit.prepared.setup.cut.axis
            || !(0..fit.sample.machines.len()).all(as_before)
    }

    /// The forces of the cut on every machine.
    pub fn forces(&self) -> Vec<CutForces> {
        (0..self.ground.forces.len()).map(|index| self.forces_on(index, &self.iron(index))).collect()
    }

    /// Whether the forces of the cut are others than without.
    pub fn changes_forces(&self) -> bool {
        let machines = &self.ground.fit.sample.machines;
        !self.same_cut || (0..machines.len()).any(|index| !same(&FORCE_UNKNOWNS, &self.iron(index), &machines[index]))
    }

    /// Share of the goal reached with `outcome`.
    pub fn quality(&self, outcome: &Outcome) -> f64 {
        let fit = &self.ground.fit;
        fit.pace(self.plan.setup()) * fit.goal.quality(outcome, self.depth())
    }

    /// Whether the goal is reached with `outcome`.
    pub fn reached(&self, outcome: &Outcome) -> bool {
        self.ground.fit.goal.reached(outcome, self.depth())
    }

    fn depth(&self) -> f64 {
        self.plan.setup().cut.axial_depth.as_mm()
    }

    fn iron(&self, index: usize) -> Plausible {
        let sample = &self.ground.fit.sample;
        let mut iron = sample.machines[index];
        self.plan.change_machine(&mut iron, sample.extra(index));
        iron
    }

    fn forces_on(&self, index: usize, iron: &Plausible) -> CutForces {
        let Ground { fit, forces, .. } = self.ground;
        let as_before = self.same_cut && same(&FORCE_UNKNOWNS, iron, &fit.sample.machines[index]);
        if as_before { forces[index] } else { self.prepared.forces(iron) }
    }
}

/// Whether two machines agree in these.
fn same(unknowns: &[Unknown], a: &Plausible, b: &Plausible) -> bool {
    unknowns.iter().all(|&unknown| a[unknown] == b[unknown])
}

impl Evaluation {
    /// What came of the cut of `setup` on each machine, with the load of the cutter
    /// ([`Prepared::snaps`]), where a depth of `wanted` (mm) was in mind.
    pub fn of(taken: Vec<(Outcome, f64)>, setup: &Setup, wanted: f64, goal: Goal) -> Self {
        let (outcomes, snaps): (Vec<Outcome>, Vec<f64>) = taken.into_iter().unzip();
        let depth = setup.cut.axial_depth.as_mm();
        let pace = pace(depth, wanted);
        let quality = outcomes.iter().map(|outcome| pace * goal.quality(outcome, depth)).collect();
        Evaluation { outcomes, quality, snaps, depth, minutes: setup.cut.minutes(setup.cutter.flutes), goal }
    }

    /// Minutes in the cut for the whole job.
    pub fn minutes(&self) -> f64 {
        self.minutes
    }

    fn spread(&self, of: impl Fn(&Outcome) -> f64) -> Spread {
        Spread::of(self.outcomes.iter().map(of).collect())
    }

    fn share(&self, of: impl Fn(&Outcome) -> bool) -> f64 {
        self.outcomes.iter().filter(|outcome| of(outcome)).count() as f64 / self.outcomes.len() as f64
    }

    /// What to expect.
    pub fn prediction(&self) -> Prediction {
        Prediction {
            wall: self.spread(|o| o.wall),
            floor: self.spread(|o| o.floor),
            depth_limit: self.spread(|o| o.depth_limit),
            location: self.spread(|o| o.location),
            play_travel: self.spread(|o| o.play_travel),
            stiffness: self.spread(|o| o.stiffness),
            torque: self.spread(|o| o.torque),
            minutes: self.minutes,
            reach: self.share(|o| self.goal.reached(o, self.depth)),
            chatter: self.share(|o| o.depth_limit < self.depth),
            slip: self.share(|o| o.slip < 1.0),
            lift: self.share(|o| o.lift < 1.0),
            pull_in: self.share(|o| o.pull_in > 1.0),
            stall: self.share(|o| o.drive > 1.0),
            snap: self.snaps.iter().filter(|&&load| load > 1.0).count() as f64 / self.snaps.len() as f64,
        }
    }

    /// How it differs from `now`, machine by machine.
    pub fn change(&self, now: &Evaluation) -> Change {
        let ratio = |of: fn(&Outcome) -> f64| {
            Spread::of(self.outcomes.iter().zip(&now.outcomes).map(|(with, without)| of(with) / of(without)).collect())
        };
        Change {
            wall: ratio(|o| o.wall),
            floor: ratio(|o| o.floor),
            depth_limit: ratio(|o| o.depth_limit),
            location: ratio(|o| o.location),
        }
    }

    /// Share of machines on which one could notice the difference: what is
    /// short of the goal shrinks by a tenth or more.
    pub fn noticeable(&self, now: &Evaluation) -> f64 {
        let noticed = self.quality.iter().zip(&now.quality).filter(|(with, without)| **with > 1.1 * **without).count();
        noticed as f64 / self.quality.len() as f64
    }

    /// Share of evaluations that did not settle.
    pub fn unconverged(&self) -> f64 {
        self.share(|o| !o.converged)
    }
}

/// How the parts move on every machine.
pub struct Motions(Vec<Motion>);

impl Motions {
    /// Each part's share of the motion across and along the feed.
    pub fn shares(&self) -> Vec<(LoopPart, Spread, Spread)> {
        let spread = |part: LoopPart, of: fn(&Motion) -> &[f64; 12]| {
            let share = |motion: &Motion| {
                let motion = of(motion);
                motion[part as usize] / motion.iter().sum::<f64>()
            };
            Spread::of(self.0.iter().map(share).collect())
        };
        LoopPart::ALL.into_iter().map(|part| (part, spread(part, |m| &m.normal), spread(part, |m| &m.feed))).collect()
    }

    /// The bearings' share of the motion across the feed.
    pub fn bearing_share(&self) -> Spread {
        let share = |Motion { normal, .. }: &Motion| {
            let bearings = LoopPart::ALL.into_iter().filter(|part| part.is_bearing());
            bearings.map(|part| normal[part as usize]).sum::<f64>() / normal.iter().sum::<f64>()
        };
        Spread::of(self.0.iter().map(share).collect())
    }
}

impl Spread {
    /// The 10, 50 and 90 % quantiles of `values` (nearest rank).
    ///
    /// # Panics
    /// If there are none.
    pub fn of(values: Vec<f64>) -> Spread {
        let last = values.len() - 1;
        let rank = |p: f64| (p * last as f64).round() as usize;
        // Integers in the order of the values are compared faster.
        let mut keys: Vec<i64> = values.into_iter().map(|value| in_order(value.to_bits().cast_signed())).collect();
        let value = |key: i64| f64::from_bits(in_order(key).cast_unsigned());
        let (below, &mut mid, above) = keys.select_nth_unstable(rank(0.5));
        let low = if below.is_empty() { mid } else { *below.select_nth_unstable(rank(0.1)).1 };
        let high = if above.is_empty() { mid } else { *above.select_nth_unstable(rank(0.9) - rank(0.5) - 1).1 };
        Spread { low: value(low), mid: value(mid), high: value(high) }
    }
}

/// The bits of a number as an integer that is larger where the number is, by
/// [`f64::total_cmp`]; and back.
fn in_order(bits: i64) -> i64 {
    // Of a negative number all bits but the sign are turned over.
    bits ^ ((bits >> 63).cast_unsigned() >> 1).cast_signed()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_of_a_ladder() {
        let spread = Spread::of((0..=100).rev().map(f64::from).collect());
        assert_eq!(spread, Spread { low: 10.0, mid: 50.0, high: 90.0 });
        assert_eq!(Spread::of(vec![3.0]), Spread { low: 3.0, mid: 3.0, high: 3.0 });
        let about_zero = Spread::of((-50..=50).rev().map(f64::from).collect());
        assert_eq!(about_zero, Spread { low: -40.0, mid: 0.0, high: 40.0 });
    }
}
