//! Readings and what goes with them: which field holds which, and how far off
//! each may be.

use std::collections::BTreeMap;

use super::resolve::{EDGES, Reader};
use super::{Field, Problem, Resolved};
use crate::machine::Axis;
use crate::quantity::{Force, Frequency, Length};
use crate::readings::{Gauges, Place, Reading, ReadingError, ReadingKind};
use crate::work::Surfaces;

/// Pull of the scale when only the movement was written down, N.
pub const USUAL_PULL: f64 = 100.0;

/// The fields that hold readings, in the order of the page.
const READINGS: [Field; 19] = [
    Field::TipX,
    Field::TipY,
    Field::NoseX,
    Field::NoseY,
    Field::HeadX,
    Field::HeadY,
    Field::PartX,
    Field::PartY,
    Field::RockRadial,
    Field::RockAxial,
    Field::Runout,
    Field::QuillShake,
    Field::TapX,
    Field::DecayX,
    Field::TapY,
    Field::DecayY,
    Field::PastFinish,
    Field::QuietDepth,
    Field::ChatterDepth,
];

/// The past cut whose finish was judged, as far as it was told.
#[derive(Clone, Copy)]
pub struct PastCut {
    /// Its depth: that of the cut in question, unless told.
    pub depth: Length,
    /// The surfaces that matter.
    pub surfaces: Surfaces,
}

/// The readings that were written down, taken with `gauges`; `deepest` (mm) is what
/// the edges allow.
pub fn readings(gauges: &Gauges, past: PastCut, deepest: f64, reader: &mut Reader<'_>) -> Vec<Reading> {
    for force in [Field::TipForce, Field::NoseForce, Field::HeadForce, Field::PartForce] {
        reader.typed(force);
    }
    reader.typed_within(Field::PastDepth, (0.0, deepest), EDGES);
    let mut readings = Vec::new();
    for field in READINGS {
        let (range, because) = match field {
            Field::QuietDepth | Field::ChatterDepth => ((0.0, deepest), EDGES),
            _ => (field.spec().range, ""),
        };
        let Some((value, margin)) = reader.measured(field, range, because) else { continue };
        if let (Field::ChatterDepth, Some(&quiet)) = (field, reader.typed.get(&Field::QuietDepth))
            && value <= quiet
        {
            reader.refuse(Problem::NotDeeper { field, value, than: (Field::QuietDepth, quiet) });
            continue;
        }
        if let Some(kind) = kind(field, &reader.typed, past) {
            let ReadingError { share, blur } = error(value, margin, kind.usual_error(gauges));
            readings.push(Reading { kind, value, log_sd: share, blur });
        }
    }
    readings
}

/// How far off a reading is. The deviation of a margin that was typed takes the
/// place of the `usual` ones: of a dial it is the touch as far as that reaches, and
/// for the rest the dial itself.
fn error(value: f64, margin: Option<f64>, usual: ReadingError) -> ReadingError {
    /// Wider than any reading that says something.
    const WIDEST: f64 = 1.6;
    let touch = usual.share * value;
    match margin {
        None => usual,
        Some(margin) if usual.blur == 0.0 => ReadingError { share: (margin / value).min(WIDEST), blur: 0.0 },
        Some(margin) if margin < touch => ReadingError { share: margin / value, blur: 0.0 },
        Some(margin) => ReadingError { blur: (margin * margin - touch * touch).sqrt(), ..usual },
    }
}

/// The reading that `field` holds, with what else was `typed` of it; `None` if it
/// holds none.
fn kind(field: Field, typed: &BTreeMap<Field, f64>, past: PastCut) -> Option<ReadingKind> {
    let told = |field: Field| typed.get(&field).copied();
    let pull = |place, axis, force| {
        let force = Force::newton(told(force).unwrap_or(USUAL_PULL));
        ReadingKind::Pull { place, axis, force }
    };
    let decay = |axis, ring| ReadingKind::Decay { axis, ring: told(ring).map(Frequency::hertz) };
    Some(match field {
        Field::TipX => pull(Place::Tip, Axis::X, Field::TipForce),
        Field::TipY => pull(Place::Tip, Axis::Y, Field::TipForce),
        Field::NoseX => pull(Place::Nose, Axis::X, Field::NoseForce),
        Field::NoseY => pull(Place::Nose, Axis::Y, Field::NoseForce),
        Field::HeadX => pull(Place::Head, Axis::X, Field::HeadForce),
        Field::HeadY => pull(Place::Head, Axis::Y, Field::HeadForce),
        Field::PartX => pull(Place::Part, Axis::X, Field::PartForce),
        Field::PartY => pull(Place::Part, Axis::Y, Field::PartForce),
        Field::RockRadial => ReadingKind::RadialPlay,
        Field::RockAxial => ReadingKind::AxialPlay,
        Field::Runout => ReadingKind::Runout,
        Field::QuillShake => ReadingKind::QuillShake,
        Field::TapX => ReadingKind::Tap(Axis::X),
        Field::TapY => ReadingKind::Tap(Axis::Y),
        Field::DecayX => decay(Axis::X, Field::TapX),
        Field::DecayY => decay(Axis::Y, Field::TapY),
        Field::PastFinish => ReadingKind::PastFinish {
            depth: told(Field::PastDepth).map_or(past.depth, Length::mm),
            surfaces: past.surfaces,
        },
        Field::QuietDepth => ReadingKind::Quiet,
        Field::ChatterDepth => ReadingKind::Chatters,
        _ => return None,
    })
}

impl Resolved {
    /// The reading that `field` holds or would hold, with the pull, the pitch or
    /// the depth that goes with it; `None` if the field is no reading.
    pub fn reading(&self, field: Field) -> Option<ReadingKind> {
        let past = PastCut { depth: self.case.setup.cut.axial_depth, surfaces: self.case.want.surfaces };
        kind(field, &self.typed, past)
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::super::demo;
    use super::*;
    use crate::choice::Choice;
    use crate::quantity::UnitSystem;
    use crate::readings::FinishJudged;
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

    #[test]
    fn each_reading_is_kept_under_its_own_name() {
        let blank = Scenario::new("blank").resolve();
        let held: Vec<Field> = Field::ALL.iter().copied().filter(|&field| blank.reading(field).is_some()).collect();
        for &field in &held {
            let kind = blank.reading(field).expect("it holds one");
            assert_eq!(kind.key(), field.spec().key);
            assert_eq!(kind.dimension(), field.spec().dimension);
        }
        assert_eq!(held.len(), READINGS.len());
        assert!(READINGS.iter().all(|field| held.contains(field)));
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
        assert_eq!(depth(same), Length::mm(1.0));
        // 250 µin are 6.35 µm.
        assert_relative_eq!(same.value, 6.35e-3, max_relative = 1e-12);
        let deeper = finish(&[(Field::PastFinish, "6.3 µm"), (Field::PastDepth, "2 mm")]);
        assert_eq!(depth(deeper), Length::mm(2.0));
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
