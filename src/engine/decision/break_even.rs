//! What would have to be true for new bearings to win.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::balance::{Balance, exactly};
use super::evaluate::Ground;
use super::weigh::{Cost, mean};
use super::{Case, Fit, Spread};
use crate::machine::{Axis, BearingCondition, typical_radial_play};
use crate::mechanics::Bearings;
use crate::order;
use crate::quantity::{Dimension, Force, UnitSystem, format, format_estimate, format_range};
use crate::readings::{Observer, Place, Reading, ReadingError, ReadingKind};
use crate::remedies::{RemedyId, RemedySet, lower, title};

/// Machines each reading is tried on.
pub const TRIED_ON: usize = 512;

/// A reading at which new bearings would be the thing to buy.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Threshold {
    /// The field it goes into.
    pub field: String,
    /// What it observes.
    pub label: String,
    /// Reading (mm) from which they are worth their cost, if any would be.
    pub pays_from: Option<f64>,
    /// Reading (mm) from which nothing else is worth more.
    pub wins_from: Option<f64>,
    /// The reading (mm) that was taken, if it was.
    pub read: Option<f64>,
    /// What it would show on the machines that fit, mm.
    pub usual: Spread,
    /// Share of the machines that fit which would show as much as makes them win.
    pub likely: f64,
}

/// What would have to be true for new bearings to win.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct BreakEven {
    /// The bearing job that comes nearest.
    pub remedy: RemedyId,
    /// What it is, in the words of this case.
    pub title: String,
    /// One for each reading that could tell.
    pub thresholds: Vec<Threshold>,
    /// What it brings and costs with the most play looked at.
    pub at_most: Balance,
    /// What is worth most there of all else, if anything is worth doing: what it is,
    /// what it brings and costs.
    pub rival: Option<(String, Balance)>,
    /// Whether what play does to size counts.
    pub size_counts: bool,
}

/// Readings looked through, mm: from nothing worth mentioning to what nobody
/// would mill with.
const RANGE: (f64, f64) = (0.002, MOST_READ);

/// The largest of them, mm.
pub const MOST_READ: f64 = 0.5;

/// Readings tried before the place of the change is narrowed down, and how often
/// that is halved.
const COARSE: usize = 7;
const HALVINGS: usize = 6;

/// The readings that could speak for bearings.
const TELLING: [ReadingKind; 2] =
    [ReadingKind::RadialPlay, ReadingKind::Pull { place: Place::Nose, axis: Axis::Y, force: Force::newton(100.0) }];

/// The search for the readings at which new bearings would win, reading by
/// reading.
pub struct Search {
    case: Case,
    fit: Arc<Fit>,
    job: Option<RemedyId>,
    /// What was tried for each kind, smallest reading first.
    tried: [Vec<Trial>; 2],
    kind: usize,
}

/// What a reading would make of the job.
#[derive(Clone, Copy)]
struct Trial {
    reading: f64,
    /// The job.
    own: Priced,
    /// The best of all else; none if nothing is worth doing.
    rest: Option<(RemedyId, Priced)>,
}

/// What a remedy is worth on average after all costs, and those.
#[derive(Clone, Copy)]
struct Priced {
    worth: f64,
    balance: Balance,
}

impl Search {
    /// For `case`, whose machines are those of `fit`.
    pub fn new(case: &Case, fit: &Arc<Fit>) -> Self {
        let mut jobs = fit.possible();
        // Where they have to go, no reading decides.
        jobs.retain(|id| id.is_bearing_job() && !is_shot(case));
        let priced = priced(&Ground::new(Arc::new(fit.thinned(TRIED_ON))), &jobs);
        let job = jobs.into_iter().zip(priced).max_by(|a, b| a.1.worth.total_cmp(&b.1.worth)).map(|(job, _)| job);
        Search { case: case.clone(), fit: Arc::clone(fit), job, tried: Default::default(), kind: 0 }
    }

    /// Share done, 0 to 1.
    pub fn progress(&self) -> f64 {
        let steps = (COARSE + 2 * HALVINGS) as f64;
        let here = self.tried.get(self.kind).map_or(0.0, |tried| tried.len() as f64 / steps);
        ((self.kind as f64 + here) / TELLING.len() as f64).min(1.0)
    }

    /// Whether all was tried.
    pub fn done(&self) -> bool {
        self.job.is_none() || self.kind == TELLING.len()
    }

    /// Tries the next reading.
    pub fn step(&mut self) {
        let (Some(job), Some(tried)) = (self.job, self.tried.get(self.kind)) else { return };
        let next = if tried.len() < COARSE {
            let share = tried.len() as f64 / (COARSE - 1) as f64;
            Some(RANGE.0 * (RANGE.1 / RANGE.0).powf(share))
        } else {
            [Trial::wins, Trial::pays].into_iter().find_map(|holds| narrowed(tried, holds))
        };
        let Some(reading) = next else {
            self.kind += 1;
            return;
        };
        let (own, rest) = self.asked(job, TELLING[self.kind], reading);
        let tried = &mut self.tried[self.kind];
        tried.push(Trial { reading, own, rest });
        order::least_first(tried, |trial| trial.reading);
    }

    /// `job`, and the best of all else, if `kind` read `value`.
    fn asked(&self, job: RemedyId, kind: ReadingKind, value: f64) -> (Priced, Option<(RemedyId, Priced)>) {
        let case = with_reading(&self.case, kind, value);
        let ground = Ground::new(Arc::new(Fit::with(&case, TRIED_ON)));
        let mut others = ground.fit.possible();
        others.retain(|id| !id.is_bearing_job());
        let priced = priced(&ground, &[&[job], &others[..]].concat());
        let rest = others.into_iter().zip(priced[1..].iter().copied()).max_by(|a, b| a.1.worth.total_cmp(&b.1.worth));
        (priced[0], rest.filter(|(_, best)| best.worth > 0.0))
    }

    /// What was found.
    pub fn finish(self) -> Option<BreakEven> {
        let job = self.job?;
        let Fit { found, case, .. } = &*self.fit;
        let observer = Observer::new(&found.prepared, []);
        let thresholds = TELLING.iter().zip(&self.tried).map(|(&kind, tried)| {
            let shown: Vec<f64> = found.machines.iter().map(|iron| observer.expected(kind, iron)).collect();
            let wins_from = tried.iter().find(|one| one.wins()).map(|one| one.reading);
            let beyond = |limit: f64| shown.iter().filter(|&&shown| shown >= limit).count() as f64 / shown.len() as f64;
            Threshold {
                field: kind.key().to_owned(),
                label: kind.label().to_owned(),
                pays_from: tried.iter().find(|one| one.pays()).map(|one| one.reading),
                wins_from,
                read: case.readings.iter().find(|one| one.kind.key() == kind.key()).map(|one| one.value),
                likely: wins_from.map_or(0.0, beyond),
                usual: Spread::of(shown),
            }
        });
        let most = self.tried[0].last()?;
        Some(BreakEven {
            remedy: job,
            title: title(job, &case.setup),
            thresholds: thresholds.collect(),
            at_most: most.own.balance,
            rival: most.rest.map(|(id, priced)| (title(id, &case.setup), priced.balance)),
            size_counts: case.want.size_counts,
        })
    }
}

fn is_shot(case: &Case) -> bool {
    case.setup.machine.condition == Some(BearingCondition::Shot)
}

/// Of bearings that have to go whatever that is worth: why, and what play tells of
/// it. None of others.
pub fn must_go(case: &Case, units: UnitSystem) -> Option<String> {
    let machine = &case.setup.machine;
    is_shot(case).then(|| {
        let usual = |condition| {
            let play = typical_radial_play(machine.support, Some(condition), machine.preload);
            format_range(play.low(), play.high(), Dimension::FineLength, units)
        };
        format!(
            "They have to go, whatever they are worth: bearings that grind or knock can seize or shed parts while they turn. No figure of play alone says when; grinding, knocking and heat do. As a rule the nose rocks by {} on sound bearings of this kind and by {} on shot ones (common practice, no source).",
            usual(BearingCondition::Sound),
            usual(BearingCondition::Shot)
        )
    })
}

/// `case` if `kind` had read `value`, as well as it is usually read.
pub fn with_reading(case: &Case, kind: ReadingKind, value: f64) -> Case {
    let mut case = case.clone();
    let ReadingError { share, blur } = kind.usual_error(&case.gauges);
    case.readings.retain(|reading| reading.kind.key() != kind.key());
    case.readings.push(Reading { kind, value, log_sd: share, blur });
    case
}

impl Trial {
    fn wins(&self) -> bool {
        self.own.worth > self.rest.map_or(0.0, |(_, best)| best.worth)
    }

    fn pays(&self) -> bool {
        self.own.worth > 0.0
    }
}

/// Between which readings it begins to hold: the middle of that, unless it is
/// narrow enough, begins before the first, or never does.
fn narrowed(tried: &[Trial], holds: fn(&Trial) -> bool) -> Option<f64> {
    let narrow = (RANGE.1 / RANGE.0).ln() / (COARSE - 1) as f64 / 2_f64.powi(HALVINGS as i32);
    let first = tried.iter().position(holds)?;
    let (below, above) = (tried[first.checked_sub(1)?].reading, tried[first].reading);
    ((above / below).ln() > 1.5 * narrow).then(|| (below * above).sqrt())
}

/// What each remedy is worth; what is beyond the budget is worth nothing to
/// anybody.
fn priced(ground: &Ground, remedies: &[RemedyId]) -> Vec<Priced> {
    let case = &ground.fit.case;
    let now = ground.evaluate(RemedySet::NONE, Bearings::AsTheyAre);
    let price = |&id: &RemedyId| {
        let with = ground.evaluate(id.into(), Bearings::AsTheyAre);
        let cost = Cost::new(id.into(), case, with.minutes() - now.minutes());
        let worth = mean(&cost.worth(&ground.fit, &with, &now));
        let balance = Balance::of(worth, cost.money, cost.hours, cost.spoil, &case.budget);
        Priced { worth: if cost.affordable(&case.budget) { worth } else { f64::NEG_INFINITY }, balance }
    };
    remedies.iter().map(price).collect()
}

impl BreakEven {
    /// The whole in a sentence.
    pub fn sentence(&self, units: UnitSystem) -> String {
        let show = |value: f64| format_estimate(value, Dimension::FineLength, units);
        let told: Vec<String> = self
            .thresholds
            .iter()
            .filter_map(|one| {
                let from = one.wins_from?;
                let read = one
                    .read
                    .map_or(String::new(), |read| format!("; you read {}", format(read, Dimension::FineLength, units)));
                let likely = match super::of_hundred(one.likely) {
                    0 => "fewer than 1".to_owned(),
                    count => count.to_string(),
                };
                Some(format!(
                    "the {} were over {} ({likely} of 100 machines like yours show as much{read})",
                    one.label,
                    show(from)
                ))
            })
            .collect();
        let what = lower(&self.title);
        if !told.is_empty() {
            return format!("To {what} would be the best buy only if {}.", told.join(", or "));
        }
        let mut said = format!(
            "To {what} is not the best buy with any play or softness at the nose. Even with {} of play there, more than anybody should mill with, it would bring {} in your money and cost {}: {}.",
            show(RANGE.1),
            exactly(self.at_most.brings()),
            exactly(self.at_most.costs()),
            self.at_most.costs_said()
        );
        if let Some((title, balance)) = &self.rival {
            said += &format!(
                " “{title}” would bring {} then and cost {}.",
                exactly(balance.brings()),
                exactly(balance.costs())
            );
        }
        if !self.size_counts {
            said += " What play does to size is not counted: you named no error of size to keep to.";
        }
        said
    }

    /// Whether there is a reading at which it would be worth its cost.
    pub fn pays_somewhere(&self) -> bool {
        self.thresholds.iter().any(|one| one.pays_from.is_some())
    }
}
