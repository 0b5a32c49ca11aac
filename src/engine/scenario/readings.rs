//! Readings and what goes with them: which field holds which, and how far off
//! each may be.

use std::collections::BTreeMap;

use super::resolve::{EDGES, Reader};
use super::{Field, Problem, Resolved};
use crate::machine::Axis;
use crate::quantity::{Force, Frequency, Length};
use crate::readings::{FinishJudged, Place, Reading, ReadingKind};
use crate::work::Surfaces;

/// Pull of the scale when only the movement was written down, N.
pub const USUAL_PULL: f64 = 100.0;

/// Joints damp the more the harder they are shaken: by so much (standard
/// deviation of the logarithm) the damping in a cut may differ from that after a
/// light tap. Assumed.
const LIGHT_TAP: f64 = 0.15;

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

/// How the finish of a past cut was found.
#[derive(Clone, Copy)]
pub struct Judged {
    /// In which way.
    pub how: Option<FinishJudged>,
    /// Depth of the cut in question: that of the past cut, unless told.
    pub depth: Length,
    /// The surfaces that matter.
    pub surfaces: Surfaces,
}

/// The readings that were written down; `deepest` (mm) is what the edges allow.
pub fn readings(judged: Judged, deepest: f64, reader: &mut Reader<'_>) -> Vec<Reading> {
    for force in [Field::TipForce, Field::NoseForce, Field::HeadForce, Field::PartForce] {
        reader.typed(force);
    }
    reader.typed_within(Field::PastDepth, (0.0, deepest), EDGES);
    let division = reader.typed(Field::IndicatorDivision).unwrap_or(0.01);
    let how = judged.how.unwrap_or(FinishJudged::USUAL);
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
        if let Some(kind) = kind(field, &reader.typed, judged) {
            let (share, blur) = error(value, margin, usual(field, division, how));
            let log_sd = match kind {
                ReadingKind::Decay { .. } => share.hypot(LIGHT_TAP),
                _ => share,
            };
            readings.push(Reading { kind, value, log_sd, blur });
        }
    }
    readings
}

/// How far off a reading is: standard deviation of its logarithm, and of what does
/// not shrink with it. The deviation of a margin that was typed takes the place of
/// the `usual` ones: of a dial it is the touch as far as that reaches, and for the
/// rest the dial itself.
fn error(value: f64, margin: Option<f64>, (share, blur): (f64, f64)) -> (f64, f64) {
    /// Wider than any reading that says something.
    const WIDEST: f64 = 1.6;
    match margin {
        None => (share, blur),
        Some(margin) if blur == 0.0 => ((margin / value).min(WIDEST), 0.0),
        Some(margin) if margin < share * value => (margin / value, 0.0),
        Some(margin) => (share, (margin * margin - (share * value).powi(2)).sqrt()),
    }
}

/// The same, as a rule, of the reading in `field`. Common practice, no source, but
/// where one is named.
fn usual(field: Field, division: f64, judged: FinishJudged) -> (f64, f64) {
    // Half a division each for setting and reading, rectangular: JCGM 100:2008
    // (GUM) F.2.2.1. Beside it, the touch of the hand.
    let indicator = |touch: f64| (touch, division / 12_f64.sqrt() * 2_f64.sqrt());
    let by_share = |share: f64| (share, 0.0);
    match field {
        Field::RockRadial | Field::RockAxial | Field::QuillShake => indicator(0.20),
        Field::Runout => indicator(0.10),
        Field::TapX | Field::TapY => by_share(0.05),
        // By eye.
        Field::DecayX | Field::DecayY => by_share(0.25),
        Field::PastFinish => by_share(judged.log_sd()),
        // Where chatter begins is a matter of the ear and of the dial.
        Field::QuietDepth | Field::ChatterDepth => by_share(0.1),
        // A pull: the scale, its direction, and how well it repeats.
        _ => indicator(0.08),
    }
}

/// The reading that `field` holds, with what else was `typed` of it; `None` if it
/// holds none.
fn kind(field: Field, typed: &BTreeMap<Field, f64>, judged: Judged) -> Option<ReadingKind> {
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
            depth: told(Field::PastDepth).map_or(judged.depth, Length::mm),
            surfaces: judged.surfaces,
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
        let judged = Judged { how: None, depth: self.case.setup.cut.axial_depth, surfaces: self.case.want.surfaces };
        kind(field, &self.typed, judged)
    }
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
