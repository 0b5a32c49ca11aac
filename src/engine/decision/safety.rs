//! What comes before finish and money: the cut must not hurt anyone.

use serde::{Deserialize, Serialize};

use super::{Appraisal, Prediction, Standing};
use crate::machine::{BearingCondition, SpindleBore, TaperRetention};
use crate::quantity::Rotation;
use crate::remedies::{Caution, RemedyId};
use crate::work::{CutKind, CutSense, Holder, Setup};

/// A danger that has to be dealt with before anything else, the gravest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Danger {
    /// Nothing but its own grip keeps the taper in the spindle.
    BareTaper,
    /// The part may slip, lift or tip in its grip.
    PartMoves,
    /// The cut may snatch the table.
    Snatch,
    /// Bearings that grind or knock.
    ShotBearings,
}

impl Danger {
    /// What not to do, in a few words, where no way out is known.
    pub fn in_short(self) -> &'static str {
        match self {
            Danger::BareTaper => "Don’t mill: the holder can drop out",
            Danger::PartMoves => "Don’t take this cut: the part can move",
            Danger::Snatch => "Don’t climb: the cut can snatch the table",
            Danger::ShotBearings => "Don’t run it: bearings that grind can seize",
        }
    }

    /// That it is left, within a sentence.
    pub fn left(self) -> &'static str {
        match self {
            Danger::BareTaper => "the holder could still come out of the spindle",
            Danger::PartMoves => "the part could still move in its grip",
            Danger::Snatch => "the cut could still snatch the table",
            Danger::ShotBearings => "the bearings have to be replaced anyway",
        }
    }
}

/// A danger on more than one plausible machine in twenty is not to be borne.
pub(super) const TOLERATED: f64 = 0.05;

/// The gravest danger of a cut, if it has one.
pub fn danger(setup: &Setup, prediction: &Prediction) -> Option<Danger> {
    let of_the_cut = [
        (prediction.slip.max(prediction.lift) > TOLERATED, Danger::PartMoves),
        (prediction.pull_in > TOLERATED, Danger::Snatch),
    ];
    let of_the_cut = of_the_cut.into_iter().find_map(|(present, danger)| present.then_some(danger));
    built_in(setup).into_iter().chain(of_the_cut).min()
}

/// The gravest danger of a machine that no cut has to bring out.
pub fn built_in(setup: &Setup) -> Option<Danger> {
    let machine = &setup.machine;
    [
        (machine.retention_told && machine.retention == TaperRetention::Unretained, Danger::BareTaper),
        (machine.condition == Some(BearingCondition::Shot), Danger::ShotBearings),
    ]
    .into_iter()
    .find_map(|(present, danger)| present.then_some(danger))
}

/// The remedy that deals with `danger`: among those that can be done and leave a
/// lesser one or none, what goes to its root, is affordable, leaves no other,
/// and is worth most.
pub fn way_out(ranked: &[Appraisal], danger: Danger) -> Option<RemedyId> {
    ranked
        .iter()
        .filter(|appraisal| appraisal.standing != Standing::NotPossible && appraisal.remedy != RemedyId::LeaveAlone)
        .filter(|appraisal| appraisal.danger.is_none_or(|left| left > danger))
        // Nobody buys a spindle to hold a taper.
        .filter(|appraisal| danger != Danger::BareTaper || appraisal.remedy == RemedyId::Drawbar)
        .max_by(|a, b| {
            let rank = |one: &Appraisal| (goes_to_the_root(one.remedy, danger), one.affordable, one.danger.is_none());
            rank(a).cmp(&rank(b)).then(a.expected_worth.total_cmp(&b.expected_worth))
        })
        .map(|appraisal| appraisal.remedy)
}

/// Whether a remedy deals with the danger itself: a loose part wants holding, not
/// a cut so light that it happens to stay.
fn goes_to_the_root(remedy: RemedyId, danger: Danger) -> bool {
    match danger {
        Danger::BareTaper => remedy == RemedyId::Drawbar,
        Danger::PartMoves => matches!(remedy, RemedyId::ClampLower | RemedyId::StopAndClamp),
        Danger::Snatch => remedy == RemedyId::ReverseSense,
        Danger::ShotBearings => remedy == RemedyId::SameBearings,
    }
}

/// Whether a remedy answers one of the [`cautions`] of the cut: it is not to be
/// judged by finish, depth and money alone.
pub fn for_safety(setup: &Setup, now: &Prediction, remedy: RemedyId) -> bool {
    let answers = |caution: Caution| match caution {
        // Another spindle for the sake of its taper only where the taper is known to be
        // bare, and no drawbar to pass.
        Caution::UnretainedTaper if remedy == RemedyId::AnotherSpindle => {
            setup.machine.retention_told && setup.machine.bore != Some(SpindleBore::Through)
        }
        Caution::UnretainedTaper => goes_to_the_root(remedy, Danger::BareTaper),
        Caution::PartMaySlip | Caution::PartMayLift => goes_to_the_root(remedy, Danger::PartMoves),
        Caution::ShotBearings => remedy.is_bearing_job(),
        Caution::DrillChuckSideLoad => remedy == RemedyId::ColletChuck,
        Caution::PullIn => now.pull_in > TOLERATED && goes_to_the_root(remedy, Danger::Snatch),
        _ => false,
    };
    cautions(setup, now).into_iter().any(answers)
}

/// Whether `speed` is beyond what is usual for the edge in this material, or for a
/// machine of this kind.
pub fn too_fast(setup: &Setup, speed: Rotation) -> bool {
    const SLACK: f64 = 1.05;
    speed > setup.fastest_advised() * SLACK
}

/// What to mind in the cut as it is, the gravest first.
pub fn cautions(setup: &Setup, now: &Prediction) -> Vec<Caution> {
    let Setup { machine, cutter, cut, .. } = setup;
    let climbs = cut.sense == CutSense::Climb && matches!(cut.kind, CutKind::Side | CutKind::Floor);
    [
        (machine.retention == TaperRetention::Unretained, Caution::UnretainedTaper),
        (now.slip > TOLERATED, Caution::PartMaySlip),
        (now.lift > TOLERATED, Caution::PartMayLift),
        (machine.condition == Some(BearingCondition::Shot), Caution::ShotBearings),
        (too_fast(setup, cut.speed), Caution::OverSpeed),
        (cutter.holder == Holder::DrillChuck, Caution::DrillChuckSideLoad),
        (climbs || now.pull_in > TOLERATED, Caution::PullIn),
        (now.stall > TOLERATED, Caution::Stall),
        (true, Caution::RotatingCutter),
        (true, Caution::Guards),
    ]
    .into_iter()
    .filter_map(|(holds, caution)| holds.then_some(caution))
    .collect()
}
