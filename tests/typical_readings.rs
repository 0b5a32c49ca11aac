//! What readings usually show: against the closed form where one unknown alone
//! shows, and against what any machinist would expect (common practice, no
//! source).

use spindlewise_engine::decision::{Spread, typical};
use spindlewise_engine::machine::{Archetype, QuillUse};
use spindlewise_engine::mechanics::{Unknown, usual};
use spindlewise_engine::readings::ReadingKind;
use spindlewise_engine::scenario::{Field, Scenario};

fn machine(archetype: Archetype) -> Scenario {
    let mut scenario = Scenario::new("typical");
    scenario.choices.archetype = Some(archetype);
    scenario
}

fn shown<const N: usize>(scenario: &Scenario, fields: [Field; N]) -> [Spread; N] {
    let resolved = scenario.resolve();
    assert_eq!(resolved.problems, []);
    let kinds = fields.map(|field| resolved.reading(field).expect("a reading"));
    typical(&resolved.case.setup, &kinds).try_into().expect("one for each")
}

/// A reading that shows one unknown alone has the quantiles of that unknown's
/// log-normal: one in ten lies 1.2816 deviations or more below the median, one in
/// ten above (NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.1).
#[test]
fn the_range_holds_eight_in_ten() {
    let setup = machine(Archetype::BenchDrill).resolve().case.setup;
    let usual = usual(&setup);
    let single = [
        (ReadingKind::Runout, Unknown::Runout),
        (ReadingKind::QuillShake, Unknown::QuillPlay),
        (ReadingKind::AxialPlay, Unknown::AxialPlay),
    ];
    for (kind, unknown) in single {
        let [spread] = typical(&setup, &[kind]).try_into().expect("one");
        let (median, one_up) = (usual[unknown].at(0.0), usual[unknown].at(1.0));
        let deviations = |value: f64| (value / median).ln() / (one_up / median).ln();
        for (value, wanted) in [(spread.low, -1.2816), (spread.mid, 0.0), (spread.high, 1.2816)] {
            assert!((deviations(value) - wanted).abs() < 0.05, "{kind:?}: {} of {wanted}", deviations(value));
        }
    }
}

#[test]
fn stouter_machines_move_less() {
    let fields = [Field::TipX, Field::TipY, Field::HeadX, Field::HeadY];
    let tables =
        [Archetype::BenchDrill, Archetype::RoundColumn, Archetype::Knee].map(|kind| shown(&machine(kind), fields));
    for pair in tables.windows(2) {
        for (lighter, stouter) in pair[0].iter().zip(&pair[1]) {
            assert!(stouter.mid < lighter.mid);
        }
    }
}

/// The tip is pushed away by all that lies behind it, the nose by less of it,
/// the head by head and column alone.
#[test]
fn less_moves_the_nearer_to_the_column() {
    for &archetype in [Archetype::BenchDrill, Archetype::MiniMill, Archetype::Knee].iter() {
        let [tip, nose, head] = shown(&machine(archetype), [Field::TipY, Field::NoseY, Field::HeadY]);
        assert!(tip.mid > nose.mid && nose.mid > head.mid, "{archetype:?}");
    }
}

/// Bearings stiffen under load, everything else is a straight spring: twice the
/// pull moves the tip by nearly twice as much, never by more.
#[test]
fn a_harder_pull_shows_more() {
    let pulled = |force| {
        let mut scenario = machine(Archetype::BenchDrill);
        scenario.set_entry(Field::TipForce, force);
        shown(&scenario, [Field::TipX])[0].mid
    };
    let ratio = pulled("200 N") / pulled("100 N");
    assert!((1.7..=2.0 + 1e-9).contains(&ratio), "{ratio}");
}

#[test]
fn an_unlocked_quill_shakes_more() {
    let shake = |quill| {
        let mut scenario = machine(Archetype::BenchDrill);
        scenario.choices.quill = Some(quill);
        shown(&scenario, [Field::QuillShake])[0].low
    };
    assert!(shake(QuillUse::Free) > shake(QuillUse::Locked));
}

/// Readings are compared with what they are: those taken change nothing.
#[test]
fn readings_taken_do_not_move_what_is_typical() {
    let mut scenario = machine(Archetype::BenchDrill);
    let before = shown(&scenario, [Field::RockRadial, Field::TipX]);
    scenario.set_entries([(Field::RockRadial, "90 µm"), (Field::TipX, "0.9 mm")]);
    assert_eq!(shown(&scenario, [Field::RockRadial, Field::TipX]), before);
}
