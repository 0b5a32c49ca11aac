//! What cuts already taken have shown, with the cutter, the speed and the grip of
//! the setup.

use super::resolve::{EDGES, Reader};
use super::{Field, Problem};
use crate::quantity::Length;
use crate::readings::{FinishJudged, Reading, ReadingKind};
use crate::work::Surfaces;

/// Standard deviation of the logarithm of the depth at which a cut goes from
/// quiet to chatter, by ear and dial: common practice, no source.
const HEARD: f64 = 0.1;

/// What is known of past cuts besides what was typed.
pub struct PastCut {
    /// How the finish was found.
    pub judged: Option<FinishJudged>,
    /// Depth of the cut in question.
    pub wanted: Length,
    /// What the edges allow, mm.
    pub deepest: f64,
    /// The surfaces that matter.
    pub surfaces: Surfaces,
}

/// The past cuts that were told.
pub fn past_cuts(past: &PastCut, reader: &mut Reader<'_>) -> Vec<Reading> {
    let &PastCut { judged, wanted, deepest, surfaces } = past;
    let judged = judged.unwrap_or(FinishJudged::USUAL).log_sd();
    let depth = reader.typed_within(Field::PastDepth, (0.0, deepest), EDGES).map_or(wanted, Length::mm);
    let finish = reader.measured(Field::PastFinish, |_| judged);
    let quiet = reader.measured_within(Field::QuietDepth, (0.0, deepest), EDGES, |_| HEARD);
    let chatters = reader.measured_within(Field::ChatterDepth, (0.0, deepest), EDGES, |_| HEARD);
    let chatters = chatters.filter(|&(value, _)| match quiet {
        Some((than, _)) if value <= than => {
            reader.refuse(Problem::NotDeeper { field: Field::ChatterDepth, value, than: (Field::QuietDepth, than) });
            false
        }
        _ => true,
    });
    let read = [
        (ReadingKind::PastFinish { depth, surfaces }, finish),
        (ReadingKind::Quiet, quiet),
        (ReadingKind::Chatters, chatters),
    ];
    let taken =
        |(kind, read): (ReadingKind, Option<(f64, f64)>)| read.map(|(value, log_sd)| Reading { kind, value, log_sd });
    read.into_iter().filter_map(taken).collect()
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::super::demo;
    use super::*;
    use crate::choice::Choice;
    use crate::quantity::UnitSystem;
    use crate::scenario::{Resolved, Scenario};

    fn with(entries: &[(Field, &str)]) -> Scenario {
        let mut scenario = demo();
        for &(field, text) in entries {
            scenario.set_entry(field, text);
        }
        scenario
    }

    fn told(resolved: &Resolved, key: &str) -> Option<Reading> {
        resolved.case.readings.iter().copied().find(|reading| reading.kind.key() == key)
    }

    fn depth(reading: Reading) -> Length {
        match reading.kind {
            ReadingKind::PastFinish { depth, .. } => depth,
            other => panic!("{other:?} is no finish"),
        }
    }

    #[test]
    fn a_past_cut_is_as_deep_as_the_one_in_question_unless_told() {
        let finish = |entries: &[(Field, &str)]| {
            let resolved = with(entries).resolve();
            assert_eq!(resolved.problems, []);
            told(&resolved, "readings.past.finish").expect("it was typed")
        };
        let same = finish(&[(Field::PastFinish, "250 µin")]);
        assert_eq!(depth(same), Length::mm(0.6));
        // 250 µin are 6.35 µm.
        assert_relative_eq!(same.value, 6.35e-3, max_relative = 1e-12);
        let deeper = finish(&[(Field::PastFinish, "6.3 µm"), (Field::PastDepth, "1 mm")]);
        assert_eq!(depth(deeper), Length::mm(1.0));
    }

    /// What chattered was deeper than what did not; if not, the entry stays and
    /// is not used.
    #[test]
    fn a_cut_that_chattered_is_deeper_than_one_that_did_not() {
        for depth in ["0.5 mm", "0.8 mm"] {
            let scenario = with(&[(Field::QuietDepth, "0.8 mm"), (Field::ChatterDepth, depth)]);
            let resolved = scenario.resolve();
            let fields: Vec<_> = resolved.problems.iter().map(Problem::field).collect();
            assert_eq!(fields, [Some(Field::ChatterDepth)]);
            assert!(resolved.problems[0].message(UnitSystem::Metric).contains("0.8 mm"));
            assert_eq!(told(&resolved, "readings.chatter.depth"), None);
            assert!(told(&resolved, "readings.quiet.depth").is_some());
            assert_eq!(resolved.in_use(Field::ChatterDepth), None);
            assert_eq!(scenario.entry(Field::ChatterDepth), depth);
        }
        let resolved = with(&[(Field::QuietDepth, "0.8 mm"), (Field::ChatterDepth, "1.2 mm")]).resolve();
        assert_eq!(resolved.problems, []);
        assert_eq!(told(&resolved, "readings.chatter.depth").map(|reading| reading.value), Some(1.2));
    }

    #[test]
    fn no_past_cut_is_deeper_than_the_edges_are_long() {
        for field in [Field::PastDepth, Field::QuietDepth, Field::ChatterDepth] {
            let problems = with(&[(field, "22.5 mm")]).resolve().problems;
            assert!(matches!(problems[..], [Problem::OutOfRange { field: which, .. }] if which == field));
        }
    }

    /// A margin that was typed beats the way of judging.
    #[test]
    fn the_way_of_judging_says_how_far_off_a_finish_may_be() {
        let error = |judged, text| {
            let mut scenario = with(&[(Field::PastFinish, text)]);
            scenario.choices.judged = judged;
            told(&scenario.resolve(), "readings.past.finish").expect("it was typed").log_sd
        };
        for &judged in FinishJudged::ALL {
            assert_eq!(error(Some(judged), "6.3 µm"), judged.log_sd());
        }
        assert_eq!(error(None, "6.3 µm"), FinishJudged::Eye.log_sd());
        assert_relative_eq!(error(None, "6.3 ± 1.26 µm"), 0.2 / 1.96, max_relative = 1e-12);
    }
}
