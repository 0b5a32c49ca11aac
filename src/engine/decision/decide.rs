//! The whole decision, in the order of the job.

use std::sync::Arc;

use super::answer::clash;
use super::dots::dots;
use super::evaluate::{Evaluation, Ground};
use super::fit::{Found, SEED};
use super::information;
use super::next::next_readings;
use super::safety::{cautions, danger, loose, too_fast};
use super::verdict::{Findings, explain, mark_first, verdict};
use super::weigh::{best_buys, weigh};
use super::{
    Appraisal, AtOdds, Case, Ceiling, Decision, Dots, Fit, Knowing, Prediction, ReadingCheck, Share, Spread, Standing,
};
use crate::mechanics::{Bearings, Plausible};
use crate::order;
use crate::readings::{AT_ODDS, Agreement, HEAVY_TAIL, Observer, Reading, sample};
use crate::remedies::{RemedyId, RemedySet};

/// Plausible machines looked at.
pub const DRAWS: usize = 4096;

/// Machines looked at for an answer at a moment's notice. They are the first of
/// those of the whole answer, before readings move them, so that it seldom says
/// anything else.
pub const DRAFT_DRAWS: usize = 512;

/// Fewer independent machines of [`DRAWS`] than this make no firm answer.
const FEW: f64 = 150.0;

/// The answer to `case`; the same for the same case everywhere.
pub fn decide(case: &Case) -> Decision {
    decide_with(case, DRAWS)
}

/// [`decide`] with another number of plausible machines.
pub fn decide_with(case: &Case, draws: usize) -> Decision {
    let mut deciding = Deciding::new(case, draws);
    while deciding.step() < 1.0 {}
    deciding.decision()
}

/// An answer on its way, one remedy after the other.
pub struct Deciding {
    ground: Ground,
    now: Evaluation,
    prediction: Prediction,
    perfect: Evaluation,
    weighed: Vec<(Appraisal, Vec<f64>)>,
}

impl Deciding {
    /// Finds `draws` machines that fit `case`, and lets them take the cut as they
    /// are.
    pub fn new(case: &Case, draws: usize) -> Self {
        let ground = Ground::new(Arc::new(Fit::with(case, draws)));
        let now = ground.evaluate(RemedySet::NONE, Bearings::AsTheyAre);
        let perfect = ground.evaluate(RemedySet::NONE, Bearings::Perfect);
        Deciding { prediction: now.prediction(), ground, now, perfect, weighed: Vec::new() }
    }

    /// Weighs the next remedy; the share that is done, 0 to 1.
    pub fn step(&mut self) -> f64 {
        if let Some(&id) = RemedyId::ALL.get(self.weighed.len()) {
            self.weighed.push(weigh(&self.ground, &self.now, &self.prediction, id));
        }
        self.weighed.len() as f64 / RemedyId::ALL.len() as f64
    }

    /// The answer, of the remedies weighed so far.
    pub fn decision(self) -> Decision {
        let Deciding { ground, now, prediction, perfect, mut weighed } = self;
        let fit = Arc::clone(&ground.fit);
        let motions = ground.motions();
        let ceiling =
            Ceiling { share: motions.bearing_share(), prediction: perfect.prediction(), change: perfect.change(&now) };
        let bearing_gain: Vec<f64> =
            perfect.quality.iter().zip(&now.quality).map(|(with, without)| with - without).collect();
        let setup = &fit.case.setup;
        let danger = danger(setup, &prediction);
        let questions: [&[f64]; 2] = [&bearing_gain, &now.quality];
        let knowing = mark_best(&mut weighed, &fit, &now, &questions, danger.is_none());
        let mut ranked: Vec<Appraisal> = weighed.into_iter().map(|(appraisal, _)| appraisal).collect();
        rank(&mut ranked);
        mark_first(&mut ranked, &prediction, danger);
        for appraisal in &mut ranked {
            appraisal.why = explain(appraisal, &prediction, fit.goal.counts().wall);
        }

        let draws = fit.machines().len();
        let settles = knowing.readings.first().map(|reading| reading.label.as_str());
        let told = fit.case.told;
        let enough = fit.sample.effective / draws as f64 >= FEW / DRAWS as f64;
        let firm_sample = enough && fit.sample.tail < HEAVY_TAIL && !clash(fit.sample.agreement.chance);
        let verdict = verdict(&Findings {
            ranked: &ranked,
            now: &prediction,
            ceiling: &ceiling,
            danger,
            settles,
            told,
            firm_sample,
            too_fast: too_fast(setup, setup.cut.speed),
            loose: loose(&fit.case),
        });
        let mut shares: Vec<Share> =
            motions.shares().into_iter().map(|(part, normal, feed)| Share { part, normal, feed }).collect();
        order::greatest_first(&mut shares, |share| share.normal.mid);
        let finishes = |of: &Evaluation| dots(of.outcomes.iter().map(|outcome| fit.goal.roughness(outcome)).collect());
        let first = verdict.first.map(|first| finishes(&ground.evaluate(first.into(), Bearings::AsTheyAre)));
        Decision {
            draws,
            effective_draws: fit.sample.effective,
            tail: fit.sample.tail,
            agreement: fit.sample.agreement.chance,
            unconverged: now.unconverged(),
            verdict,
            cautions: cautions(&fit.case, &prediction),
            counts: fit.goal.counts(),
            dots: Dots { now: finishes(&now), first },
            now: prediction,
            depth_any_speed: ground.depth_any_speed(),
            ceiling,
            shares,
            appraisals: ranked,
            readings: check_readings(&fit),
            knowing,
        }
    }
}

/// Notes on what share of the machines each option is the best buy, and finds
/// what knowing more would gain.
fn mark_best(
    weighed: &mut [(Appraisal, Vec<f64>)],
    fit: &Fit,
    now: &Evaluation,
    questions: &[&[f64]],
    safe: bool,
) -> Knowing {
    let open: Vec<usize> =
        (0..weighed.len()).filter(|&index| weighed[index].0.affordable && weighed[index].0.unmet.is_empty()).collect();
    let worths: Vec<&[f64]> = open.iter().map(|&index| weighed[index].1.as_slice()).collect();
    let everything = information::perfect(&worths);
    let readings = next_readings(fit, now, &worths, questions, safe);
    let shares = best_buys(&worths);
    for (index, share) in open.into_iter().zip(shares) {
        weighed[index].0.best = share;
    }
    Knowing { everything: everything.mean, changes: everything.changes, readings }
}

/// Best first: what is possible before what is not, then by expected worth,
/// then by what costs less.
fn rank(ranked: &mut [Appraisal]) {
    order::sort(ranked, |a, b| {
        let impossible = |standing| standing == Standing::NotPossible;
        impossible(a.standing)
            .cmp(&impossible(b.standing))
            .then(b.expected_worth.total_cmp(&a.expected_worth))
            .then(a.money.1.total_cmp(&b.money.1))
            .then(a.remedy.cmp(&b.remedy))
    });
}

fn check_readings(fit: &Fit) -> Vec<ReadingCheck> {
    let Found { prepared, usual, machines } = &fit.found;
    let readings = &fit.case.readings;
    let before = sample(usual, prepared, &[], 256, 0, SEED);
    let observer = Observer::of(prepared, readings);
    let expected = |reading: &Reading, machines: &[Plausible]| {
        Spread::of(machines.iter().map(|iron| observer.expected_for(reading, iron)).collect())
    };
    let Agreement { off, against, .. } = &fit.sample.agreement;
    readings
        .iter()
        .enumerate()
        .map(|(index, reading)| ReadingCheck {
            label: reading.kind.label().to_owned(),
            read: reading.value,
            expected: expected(reading, &before.machines),
            fitted: expected(reading, machines),
            misfit: Spread::of(machines.iter().map(|iron| observer.misfit(reading, iron)).collect()).mid,
            off: off[index],
            at_odds: (off[index].abs() >= AT_ODDS).then(|| match against[index] {
                Some(other) => AtOdds::With(readings[other].kind.label().to_owned()),
                None => AtOdds::Typical,
            }),
        })
        .collect()
}
