//! The whole decision, in the order of the job.

use super::evaluate::Ground;
use super::next::next_readings;
use super::safety::{cautions, danger};
use super::verdict::{Findings, explain, mark_first, verdict};
use super::weigh::weigh;
use super::{Appraisal, Case, Ceiling, Decision, ReadingCheck, Share, Spread, Standing};
use crate::mechanics::{Bearings, Estimates, Prepared};
use crate::readings::{Reading, Sample, misfit, observe_for, sample, usual_given};
use crate::remedies::{Effect, RemedyId};

/// Plausible machines looked at.
pub const DRAWS: usize = 2048;

/// Fewer independent machines than this make no firm answer.
const FEW: f64 = 150.0;

/// The same sample for the same scenario, everywhere and always.
const SEED: u64 = 0x5b1d_1e71_5e00_0001;

/// The answer to `case`; the same for the same case everywhere.
pub fn decide(case: &Case) -> Decision {
    decide_with(case, DRAWS)
}

/// [`decide`] with another number of plausible machines.
pub fn decide_with(case: &Case, draws: usize) -> Decision {
    let prepared = Prepared::new(&case.setup);
    let usual = usual_given(&case.setup, &case.readings);
    let sample = draw_machines(case, &usual, &prepared, draws);

    let ground = Ground::new(case, &sample, &prepared);
    let now = ground.evaluate(RemedyId::LeaveAlone, Bearings::AsTheyAre);
    let perfect = ground.evaluate(RemedyId::LeaveAlone, Bearings::Perfect);
    let prediction = now.prediction();
    let ceiling =
        Ceiling { share: now.bearing_share(), prediction: perfect.prediction(), change: perfect.change(&now) };

    let mut ranked: Vec<Appraisal> = RemedyId::ALL.iter().map(|&id| weigh(&ground, &now, &prediction, id)).collect();
    rank(&mut ranked);
    let danger = danger(&case.setup, &prediction);
    mark_first(&mut ranked, &prediction, danger);
    for appraisal in &mut ranked {
        appraisal.why = explain(appraisal, &prediction, ground.goal.counts().wall);
    }

    let bearing_gain: Vec<f64> =
        perfect.quality.iter().zip(&now.quality).map(|(with, without)| with - without).collect();
    let next_readings = next_readings(case, &sample, &prepared, &[&bearing_gain, &now.quality]);
    let settles = next_readings.first().map(|reading| reading.label.as_str());
    let firm_sample = sample.effective >= FEW;
    let verdict =
        verdict(&Findings { ranked: &ranked, now: &prediction, ceiling: &ceiling, danger, settles, firm_sample });
    let mut shares: Vec<Share> =
        now.shares().into_iter().map(|(part, normal, feed)| Share { part, normal, feed }).collect();
    shares.sort_by(|a, b| b.normal.mid.total_cmp(&a.normal.mid));
    Decision {
        draws,
        effective_draws: sample.effective,
        unconverged: now.unconverged(),
        verdict,
        cautions: cautions(&case.setup, &prediction),
        counts: ground.goal.counts(),
        now: prediction,
        depth_any_speed: ground.depth_any_speed(),
        ceiling,
        shares,
        appraisals: ranked,
        readings: check_readings(case, &usual, &prepared, &sample),
        next_readings,
    }
}

/// Plausible machines that fit the readings of `case`.
pub(super) fn draw_machines(case: &Case, usual: &Estimates, prepared: &Prepared, draws: usize) -> Sample {
    sample(usual, prepared, &case.readings, draws, Effect::COUNT, SEED)
}

/// Best first: what is possible before what is not, then by expected worth,
/// then by what costs less.
fn rank(ranked: &mut [Appraisal]) {
    ranked.sort_by(|a, b| {
        let impossible = |standing| standing == Standing::NotPossible;
        impossible(a.standing)
            .cmp(&impossible(b.standing))
            .then(b.expected_worth.total_cmp(&a.expected_worth))
            .then(a.money.1.total_cmp(&b.money.1))
            .then(a.remedy.cmp(&b.remedy))
    });
}

fn check_readings(case: &Case, usual: &Estimates, prepared: &Prepared, fitted: &Sample) -> Vec<ReadingCheck> {
    let before = sample(usual, prepared, &[], 256, 0, SEED);
    let expected = |reading: &Reading, sample: &Sample| {
        Spread::of(sample.machines.iter().map(|iron| observe_for(reading, prepared, iron)).collect())
    };
    case.readings
        .iter()
        .map(|reading| {
            let misfits = fitted.machines.iter().map(|iron| misfit(reading, prepared, iron)).collect();
            ReadingCheck {
                label: reading.kind.label().to_owned(),
                read: reading.value,
                expected: expected(reading, &before),
                fitted: expected(reading, fitted),
                misfit: Spread::of(misfits).mid,
            }
        })
        .collect()
}
