//! What comes before finish and money: the cut must not hurt anyone.

use serde::{Deserialize, Serialize};

use super::{Appraisal, Case, Prediction, Standing};
use crate::machine::{BearingCondition, SpindleBore, SpindleSupport, TaperRetention};
use crate::quantity::{Dimension, Rotation, UnitSystem, format};
use crate::readings::ReadingKind;
use crate::remedies::{Caution, RemedyId};
use crate::work::{CutKind, CutSense, CutterKind, EdgeState, Holder, Setup, Workholding};

/// A danger that has to be dealt with before anything else, the gravest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Danger {
    /// Nothing but its own grip keeps the taper in the spindle.
    BareTaper,
    /// A fly cutter that turns too fast to hold together.
    FlyingBit,
    /// The part may slip, lift or tip in its grip.
    PartMoves,
    /// The cut may snatch the table.
    Snatch,
    /// The cutter is loaded beyond what it bears.
    CutterSnaps,
    /// Bearings that grind or knock.
    ShotBearings,
}

impl Danger {
    /// What not to do, in a few words, where no way out is known.
    pub fn in_short(self) -> &'static str {
        match self {
            Danger::BareTaper => "Don’t mill: the holder can drop out",
            Danger::FlyingBit => "Don’t run it: too fast for a fly cutter",
            Danger::PartMoves => "Don’t take this cut: the part can move",
            // A slot pulls with the half that climbs.
            Danger::Snatch => "Don’t take this cut: the table can be snatched",
            Danger::CutterSnaps => "Don’t take this cut: the cutter may snap",
            Danger::ShotBearings => "Don’t run it: bearings that grind can seize",
        }
    }

    /// That it is left, within a sentence.
    pub fn left(self) -> &'static str {
        match self {
            Danger::BareTaper => "the holder could still come out of the spindle",
            Danger::FlyingBit => "the cutter would still turn too fast",
            Danger::PartMoves => "the part could still move in its grip",
            Danger::Snatch => "the cut could still snatch the table",
            Danger::CutterSnaps => "the cutter could still snap",
            Danger::ShotBearings => "the bearings have to be replaced anyway",
        }
    }
}

/// A danger on more than one plausible machine in twenty is not to be borne.
pub(super) const TOLERATED: f64 = 0.05;

/// A cutter that may snap on more machines than this is one that is likely to: how
/// strong it is, is known to a quarter only.
const LIKELY: f64 = 0.25;

/// The gravest danger of a cut, if it has one.
pub fn danger(setup: &Setup, prediction: &Prediction) -> Option<Danger> {
    let of_the_cut = [
        (prediction.slip.max(prediction.lift) > TOLERATED, Danger::PartMoves),
        (prediction.pull_in > TOLERATED, Danger::Snatch),
        (prediction.snap > LIKELY, Danger::CutterSnaps),
    ];
    let of_the_cut = of_the_cut.into_iter().find_map(|(present, danger)| present.then_some(danger));
    built_in(setup).into_iter().chain(of_the_cut).min()
}

/// The gravest danger of a machine and its speed that no cut has to bring out.
pub fn built_in(setup: &Setup) -> Option<Danger> {
    let machine = &setup.machine;
    [
        (machine.retention_told && machine.retention == TaperRetention::Unretained, Danger::BareTaper),
        (flies(setup), Danger::FlyingBit),
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
        .filter(|appraisal| bears_on(appraisal.remedy, danger))
        .max_by(|a, b| {
            let rank = |one: &Appraisal| (goes_to_the_root(one.remedy, danger), one.affordable, one.danger.is_none());
            rank(a).cmp(&rank(b)).then(a.expected_worth.total_cmp(&b.expected_worth))
        })
        .map(|appraisal| appraisal.remedy)
}

/// Whether a fly cutter turns so fast that its one bit, or its lopsided arm, may
/// come loose: five metres a second at the bit. Common practice, no source.
fn flies(setup: &Setup) -> bool {
    const MOST: f64 = 300.0;
    let Setup { cutter, cut, .. } = setup;
    cutter.kind == CutterKind::FlyCutter && cut.cutting_speed(cutter.diameter).as_m_per_min() > MOST
}

/// Whether a remedy is the sort of thing that deals with `danger`: nobody buys a
/// spindle to hold a taper or a table, though its truer cutter pulls less. Common
/// practice, no source.
fn bears_on(remedy: RemedyId, danger: Danger) -> bool {
    use RemedyId as R;
    let of_the_cut = matches!(remedy, R::ReverseSense | R::LighterCut | R::SharpCutter);
    goes_to_the_root(remedy, danger)
        || match danger {
            Danger::BareTaper | Danger::FlyingBit => false,
            Danger::PartMoves => of_the_cut,
            Danger::Snatch => of_the_cut || remedy == R::LockAndSnug,
            // What runs truer shares the load among its teeth.
            Danger::CutterSnaps => matches!(remedy, R::SharpCutter | R::ColletChuck),
            Danger::ShotBearings => true,
        }
}

/// Whether a remedy deals with the danger itself: a loose part wants holding, not
/// a cut so light that it happens to stay.
fn goes_to_the_root(remedy: RemedyId, danger: Danger) -> bool {
    match danger {
        Danger::BareTaper => remedy == RemedyId::Drawbar,
        Danger::FlyingBit => remedy == RemedyId::SlowDown,
        Danger::PartMoves => matches!(remedy, RemedyId::ClampLower | RemedyId::StopAndClamp),
        Danger::Snatch => remedy == RemedyId::ReverseSense,
        Danger::CutterSnaps => {
            matches!(remedy, RemedyId::LighterCut | RemedyId::ShortenStickOut | RemedyId::StoutCutter)
        }
        Danger::ShotBearings => remedy == RemedyId::SameBearings,
    }
}

/// Whether a remedy answers one of the [`cautions`] of the cut: it is not to be
/// judged by finish, depth and money alone.
pub fn for_safety(case: &Case, now: &Prediction, remedy: RemedyId) -> bool {
    let machine = &case.setup.machine;
    let answers = |caution: Caution| match caution {
        // Another spindle for the sake of its taper only where the taper is known to be
        // bare, and no drawbar to pass.
        Caution::UnretainedTaper if remedy == RemedyId::AnotherSpindle => {
            machine.retention_told && machine.bore != Some(SpindleBore::Through)
        }
        Caution::UnretainedTaper => goes_to_the_root(remedy, Danger::BareTaper),
        Caution::PartMaySlip | Caution::PartMayLift => goes_to_the_root(remedy, Danger::PartMoves),
        Caution::CutterMaySnap => goes_to_the_root(remedy, Danger::CutterSnaps),
        Caution::ShotBearings => remedy.is_bearing_job(),
        Caution::DrillChuckSideLoad => remedy == RemedyId::ColletChuck,
        Caution::PullIn => now.pull_in > TOLERATED && goes_to_the_root(remedy, Danger::Snatch),
        _ => false,
    };
    cautions(case, now).into_iter().any(answers)
}

/// Whether `speed` is beyond what is usual for the edge in this material, or for a
/// machine of this kind.
pub fn too_fast(setup: &Setup, speed: Rotation) -> bool {
    const SLACK: f64 = 1.05;
    speed > setup.fastest_advised() * SLACK
}

/// Whether the spindle was rocked and found looser than any sound bearing lets it,
/// and nothing has been done about it.
///
/// The loosest standard ball bearings of a bore up to 40 mm (ISO 5753-1, group 5,
/// from memory) have 64 um; half as much again at the nose. A bush that knocks:
/// common practice, no source.
pub fn loose(case: &Case) -> bool {
    let sound = match case.setup.machine.support {
        SpindleSupport::PlainBush => 0.25,
        _ => 0.1,
    };
    let mends = |id: RemedyId| id.is_bearing_job() || matches!(id, RemedyId::ResetPreload | RemedyId::AnotherSpindle);
    !case.settled.done.iter().any(mends)
        && case.readings.iter().any(|reading| reading.kind == ReadingKind::RadialPlay && reading.value >= sound)
}

/// Whether the thickest chip is too thin for the edge to bite: three tenths of the
/// radius it is rounded with (what is published of cutting with small chips has a
/// fifth to two fifths, from memory; the radii are common practice, no source).
fn rubs(setup: &Setup) -> bool {
    let Setup { cutter, cut, .. } = setup;
    let rounded = match cutter.edge {
        EdgeState::Sharp => 5e-3,
        EdgeState::Used => 10e-3,
        EdgeState::Dull => 30e-3,
    };
    // Half a cutter's width takes the whole feed, less of it a part.
    let width = (cut.radial_width / cutter.diameter).min(0.5);
    let thickest = 2.0 * cut.feed_per_tooth.as_mm() * (width * (1.0 - width)).sqrt();
    thickest < 0.3 * rounded
}

/// What the cutter would mill into if it took the cut of `setup`. What is screwed to
/// a plate may be cut down into it.
fn in_the_way(setup: &Setup) -> Option<&'static str> {
    let Setup { cut, holding, .. } = setup;
    let grip = match holding.kind {
        Workholding::BareVise | Workholding::ViseStop | Workholding::Angled => "jaws",
        Workholding::StepClamps | Workholding::HandTight => "clamps",
        Workholding::Plate => return None,
    };
    (cut.axial_depth > holding.height).then_some(grip)
}

/// That the cut reaches down into the grip, with the figures, if it does.
pub fn cuts_into_grip(setup: &Setup, units: UnitSystem) -> Option<String> {
    let [deep, above] =
        [setup.cut.axial_depth, setup.holding.height].map(|length| format(length.as_mm(), Dimension::Length, units));
    in_the_way(setup).map(|grip| {
        format!(
            "This cut is {deep} deep, but begins only {above} above the {grip}: the cutter would mill into them. Hold the part higher, or cut less deep."
        )
    })
}

/// What to mind in the cut as it is, the gravest first.
pub fn cautions(case: &Case, now: &Prediction) -> Vec<Caution> {
    let setup = &case.setup;
    let Setup { machine, cutter, cut, .. } = setup;
    let climbs = cut.sense == CutSense::Climb && matches!(cut.kind, CutKind::Side | CutKind::Floor);
    [
        (machine.retention == TaperRetention::Unretained, Caution::UnretainedTaper),
        (now.slip > TOLERATED, Caution::PartMaySlip),
        (now.lift > TOLERATED, Caution::PartMayLift),
        (in_the_way(setup).is_some(), Caution::IntoTheGrip),
        (now.snap > LIKELY, Caution::CutterMaySnap),
        (machine.condition == Some(BearingCondition::Shot), Caution::ShotBearings),
        (loose(case), Caution::LooseSpindle),
        (too_fast(setup, cut.speed), Caution::OverSpeed),
        (cutter.holder == Holder::DrillChuck, Caution::DrillChuckSideLoad),
        (climbs || now.pull_in > TOLERATED, Caution::PullIn),
        (rubs(setup), Caution::Rubbing),
        (now.stall > TOLERATED, Caution::Stall),
        (true, Caution::RotatingCutter),
        (true, Caution::Guards),
    ]
    .into_iter()
    .filter_map(|(holds, caution)| holds.then_some(caution))
    .collect()
}
