//! The test cuts that were written down.

use super::resolve::Reader;
use super::{Choices, Field};
use crate::readings::FinishJudged;
use crate::trial::{Evidence, SideBySide, Trial, Turns, USUALLY_MATTERS};

/// The trial of a scenario, its finish `judged` so; lists that can't be read are left out.
pub(super) fn trial(choices: &Choices, judged: FinishJudged, reader: &mut Reader<'_>) -> Trial {
    let evidence = choices.evidence.unwrap_or(Evidence::Finish);
    let mut list = |field: Field| reader.typed_list(field, field.spec().range, "").unwrap_or_default();
    let finish = [list(Field::FinishWas), list(Field::FinishNow)];
    let depth = [list(Field::DepthWas), list(Field::DepthNow)];
    let control = [list(Field::ControlWas), list(Field::ControlNow)];
    // Everything is read, so that what is wrong is said; what counts is what is asked.
    let (cuts, control) = match evidence {
        Evidence::Depth => (depth, [Vec::new(), Vec::new()]),
        Evidence::Finish | Evidence::Pairs => (finish, control),
    };
    let mut count = |field| reader.typed(field).map_or(0, |count| count as u32);
    Trial {
        evidence,
        turns: choices.turns.unwrap_or(Turns::After),
        judged,
        changed: choices.changed,
        cuts,
        control,
        pairs: SideBySide {
            better: count(Field::PairsBetter),
            same: count(Field::PairsSame),
            worse: count(Field::PairsWorse),
        },
        matters: reader.typed(Field::TrialMatters).unwrap_or(USUALLY_MATTERS),
    }
}
