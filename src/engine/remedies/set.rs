//! Several remedies together.

use serde::{Deserialize, Serialize};

use super::{Means, RemedyId, Unmet, change_machine, change_setup, remedy, unmet};
use crate::mechanics::Plausible;
use crate::work::Setup;

/// A set of remedies. Order and repetition mean nothing: what is in it is put in
/// place in the order of the catalogue, once.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct RemedySet(u32);

const _: () = assert!(RemedyId::ALL.len() <= u32::BITS as usize);

impl RemedySet {
    /// Nothing at all.
    pub const NONE: RemedySet = RemedySet(0);

    /// This set and `id`. To leave it alone adds nothing.
    #[must_use]
    pub fn with(self, id: RemedyId) -> Self {
        if id == RemedyId::LeaveAlone { self } else { RemedySet(self.0 | 1 << id as u32) }
    }

    /// What is in both.
    #[must_use]
    pub fn and(self, other: RemedySet) -> Self {
        RemedySet(self.0 & other.0)
    }

    /// Whether `id` is in it.
    pub fn contains(self, id: RemedyId) -> bool {
        self.0 & (1 << id as u32) != 0
    }

    /// Whether nothing is in it.
    pub fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// How many are in it.
    pub fn len(self) -> usize {
        self.0.count_ones() as usize
    }

    /// What is in it, in the order of the catalogue.
    pub fn iter(self) -> impl Iterator<Item = RemedyId> {
        RemedyId::ALL.iter().copied().filter(move |&id| self.contains(id))
    }

    /// Whether `id` can be done along with everything in it.
    pub fn admits(self, id: RemedyId) -> bool {
        remedy(id).excludes.iter().all(|&other| !self.contains(other))
    }
}

impl FromIterator<RemedyId> for RemedySet {
    fn from_iter<I: IntoIterator<Item = RemedyId>>(remedies: I) -> Self {
        remedies.into_iter().fold(RemedySet::NONE, RemedySet::with)
    }
}

impl From<RemedyId> for RemedySet {
    fn from(id: RemedyId) -> Self {
        RemedySet::NONE.with(id)
    }
}

impl Serialize for RemedySet {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        // Compact forms have to know the length first.
        self.iter().collect::<Vec<_>>().serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for RemedySet {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Ok(Vec::<RemedyId>::deserialize(deserializer)?.into_iter().collect())
    }
}

/// What the user has said about the remedies themselves.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Settled {
    /// Done in any case: everything else is judged with these in place, and
    /// what they cost is spent already.
    pub done: RemedySet,
    /// Not to be considered.
    pub ruled_out: RemedySet,
}

impl Settled {
    /// From what the user marked; and what of `done` can't be in place in
    /// `setup` together with the rest, with the reason.
    pub fn new(done: &[RemedyId], ruled_out: &[RemedyId], setup: &Setup) -> (Self, Vec<(RemedyId, Unmet)>) {
        let marked: RemedySet = done.iter().copied().collect();
        let mut settled = Settled { ruled_out: ruled_out.iter().copied().collect(), ..Settled::default() };
        let mut refused = Vec::new();
        for id in marked.iter() {
            let plan = Plan::new(settled.done, setup);
            // Whether it could be done is known by what was done.
            let reason = settled.unmet(id, plan.setup());
            match reason.into_iter().find(|unmet| !matches!(unmet, Unmet::BoreUnknown | Unmet::RuledOut)) {
                None => settled.done = settled.done.with(id),
                Some(unmet) => refused.push((id, unmet)),
            }
        }
        (settled, refused)
    }

    /// Why `id` can't be done in `setup`, in which what is done is in place.
    pub fn unmet(&self, id: RemedyId, setup: &Setup) -> Vec<Unmet> {
        if id == RemedyId::LeaveAlone {
            return Vec::new();
        }
        if self.done.contains(id) {
            return vec![Unmet::Done];
        }
        let mut unmet: Vec<Unmet> = unmet(id, setup).into_iter().collect();
        if self.ruled_out.contains(id) {
            unmet.insert(0, Unmet::RuledOut);
        }
        if let Some(&other) = remedy(id).excludes.iter().find(|&&other| self.done.contains(other)) {
            unmet.push(Unmet::Excluded(other));
        }
        unmet
    }
}

/// A set of remedies put in place one after another, in the order of the
/// catalogue: each finds the setup as those before left it.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    steps: Vec<(RemedyId, Setup)>,
    setup: Setup,
}

impl Plan {
    /// Puts `remedies` in place in `setup`.
    pub fn new(remedies: RemedySet, setup: &Setup) -> Self {
        let mut setup = setup.clone();
        let steps = remedies
            .iter()
            .map(|id| {
                let after = change_setup(id, &setup);
                (id, std::mem::replace(&mut setup, after))
            })
            .collect();
        Plan { steps, setup }
    }

    /// The setup with all of them in place.
    pub fn setup(&self) -> &Setup {
        &self.setup
    }

    /// What they do to one plausible machine; `effects` are the machine's
    /// [`super::Effect`] normals.
    pub fn change_machine(&self, iron: &mut Plausible, effects: &[f64]) {
        for (id, before) in &self.steps {
            change_machine(*id, before, iron, effects);
        }
    }
}

/// What a set of remedies costs, apart from minutes in the cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Price {
    /// What would have to be bought or hired, each thing once.
    pub hired: Vec<Means>,
    /// Money, 10 and 90 %; prices go up and down together.
    pub money: (f64, f64),
    /// Hours of work, 10 and 90 %.
    pub hours: (f64, f64),
    /// Chance that something is spoiled.
    pub spoil: f64,
}

impl Price {
    /// Of `remedies` for a shop with `means`.
    pub fn new(remedies: RemedySet, means: &[Means]) -> Self {
        let mut price = Price { hired: Vec::new(), money: (0.0, 0.0), hours: (0.0, 0.0), spoil: 0.0 };
        let add = |sum: &mut (f64, f64), more: (f64, f64)| *sum = (sum.0 + more.0, sum.1 + more.1);
        let mut sound = 1.0;
        for id in remedies.iter() {
            let entry = remedy(id);
            add(&mut price.money, entry.money);
            add(&mut price.hours, entry.hours);
            sound *= 1.0 - entry.spoil;
            for &need in entry.needs {
                if !means.contains(&need) && !price.hired.contains(&need) {
                    price.hired.push(need);
                    add(&mut price.money, need.price());
                }
            }
        }
        // One minus a product near one would leave dust on a single chance.
        price.spoil = if remedies.len() == 1 { remedies.iter().map(|id| remedy(id).spoil).sum() } else { 1.0 - sound };
        price
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn order_and_repetition_mean_nothing() {
        use RemedyId as R;
        let a: RemedySet = [R::Drawbar, R::TurnPart, R::LeaveAlone, R::TurnPart].into_iter().collect();
        let b: RemedySet = [R::TurnPart, R::Drawbar].into_iter().collect();
        assert_eq!(a, b);
        assert_eq!(a.iter().collect::<Vec<_>>(), [R::TurnPart, R::Drawbar]);
        assert_eq!(a.len(), 2);
    }

    #[test]
    fn what_two_remedies_need_is_hired_once() {
        use RemedyId as R;
        let both: RemedySet = [R::SharpCutter, R::ColletChuck].into_iter().collect();
        let price = Price::new(both, &[Means::ColletChuck]);
        assert_eq!(price.hired, [Means::SharpCutter]);
        assert_eq!(price.money, Means::SharpCutter.price());
        assert_eq!(Price::new(R::SameBearings.into(), &[]).spoil, remedy(R::SameBearings).spoil);
    }
}
