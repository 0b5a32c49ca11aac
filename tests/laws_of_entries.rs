//! What is typed: units, limits and texts of every kind.

use proptest::prelude::*;
use proptest::sample::select;
use serde_json::Value;
use spindlewise_engine::choice::Choice;
use spindlewise_engine::decision::decide_with;
use spindlewise_engine::machine::{Archetype, QuillUse};
use spindlewise_engine::quantity::{UnitSystem, parse, with_unit};
use spindlewise_engine::scenario::{Choices, Field, Scenario, demo};
use spindlewise_engine::work::{CutKind, CutterKind, ToolMaterial};

fn answer<C: Choice + std::fmt::Debug>() -> impl Strategy<Value = Option<C>> {
    prop::option::of(select(C::ALL))
}

/// Answers that typed numbers are checked against.
fn choices_that_set_limits() -> impl Strategy<Value = Choices> {
    let answers = (
        answer::<Archetype>(),
        answer::<QuillUse>(),
        answer::<CutterKind>(),
        answer::<ToolMaterial>(),
        answer::<CutKind>(),
    );
    answers.prop_map(|(archetype, quill, cutter, tool_material, cut)| Choices {
        archetype,
        quill,
        cutter,
        tool_material,
        cut,
        ..Choices::default()
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    /// Writing out the unit of what was typed changes neither its value nor
    /// anything that follows from it.
    #[test]
    fn a_written_out_unit_changes_nothing(
        which in select(Field::ALL), number in "[0-9]{1,3}([.][0-9]{1,3})?",
        system in select(vec![UnitSystem::Metric, UnitSystem::Inch]),
        unit in select(vec!["", " mm", " thou", " in", " N", " lb", " rpm", "°", " h", "x"]),
    ) {
        let text = format!("{number}{unit}");
        let spec = which.spec();
        let default = spec.dimension.default_unit(system);
        let written = with_unit(&text, default);
        let value = |text: &str| parse(text, spec.dimension, default).map(|parsed| parsed.value).ok();
        prop_assert_eq!(value(&written), value(&text));
        let resolved = |text: &str| {
            let mut scenario = Scenario::new("unit");
            scenario.units = system;
            scenario.set_entry(which, text);
            scenario.resolve().case
        };
        prop_assert_eq!(resolved(&written), resolved(&text));
    }

    /// Whatever is typed anywhere, there is a case, and every text that can't be
    /// used is reported by its field.
    #[test]
    fn any_text_resolves(
        choices in choices_that_set_limits(),
        typed in prop::collection::vec((select(Field::ALL), prop_oneof![
            any::<String>(),
            "[-+]?[0-9]{0,6}[.,/]?[0-9]{0,4}(e[-+]?[0-9]{1,3})? ?(mm|in|thou|µm|N|lb|rpm|h|%)?",
            "(NaN|inf|-0|1e999|-1e999|1e-320|0x10|0)",
        ]), 0..12),
        system in select(vec![UnitSystem::Metric, UnitSystem::Inch]),
    ) {
        let mut scenario = Scenario::new("texts");
        scenario.choices = choices;
        scenario.units = system;
        for (field, text) in &typed {
            scenario.set_entry(*field, text.clone());
        }
        let resolved = scenario.resolve();
        for problem in &resolved.problems {
            let field = problem.field().expect("only known fields were typed into");
            prop_assert!(!scenario.entry(field).trim().is_empty());
            prop_assert!(!problem.message(system).is_empty());
        }
        // Taking out what was reported leaves the same case and no complaint of
        // the fields themselves.
        let mut clean = scenario.clone();
        for problem in &resolved.problems {
            clean.set_entry(problem.field().expect("known"), "");
        }
        prop_assert_eq!(clean.resolve().case, resolved.case);
    }

    /// What is in use for a field is what was typed into it.
    #[test]
    fn a_typed_number_is_the_one_in_use(which in select(Field::ALL), share in 0.0..=1.0_f64) {
        let spec = which.spec();
        let (low, high) = spec.range;
        // Wide enough that limits set by other fields hardly matter.
        let mut scenario = Scenario::new("in use");
        scenario.set_entry(Field::CutterDiameter, "100 mm");
        scenario.set_entry(Field::StickOut, "250 mm");
        scenario.set_entry(Field::FluteLength, "200 mm");
        scenario.choices.cut = Some(CutKind::Side);
        scenario.choices.cutter = Some(CutterKind::EndMill);
        let value = low + share * (high - low);
        let value = if spec.whole { value.round() } else { value };
        let base = spec.dimension.units().iter().find(|unit| unit.factor == 1.0).expect("base");
        scenario.set_entry(which, format!("{value} {}", base.symbol));
        let resolved = scenario.resolve();
        prop_assume!(resolved.problems.is_empty());
        // Blank is "not taken" for readings and "no limit" for budgets.
        if let Some(used) = resolved.in_use(which) {
            prop_assert!((used - value).abs() <= 1e-9 * high, "{}: typed {value}, in use {used}", spec.key);
        }
    }
}

/// The same job written in millimetres and in inches.
fn in_both_units() -> [Scenario; 2] {
    let metric = demo();
    let mut inch = metric.clone();
    inch.units = UnitSystem::Inch;
    for &field in Field::ALL {
        let text = metric.entry(field);
        if text.is_empty() {
            continue;
        }
        let spec = field.spec();
        let metric_unit = spec.dimension.default_unit(UnitSystem::Metric);
        let unit = spec.dimension.default_unit(UnitSystem::Inch);
        let value = parse(text, spec.dimension, metric_unit).expect(text).value;
        // Full precision, with no unit: the wizard's own inch is meant.
        inch.set_entry(field, format!("{}", value / unit.factor));
    }
    [metric, inch]
}

/// Every number of two documents agrees within `tolerance`, and all else exactly.
fn assert_same(a: &Value, b: &Value, tolerance: f64, path: &str) {
    match (a, b) {
        (Value::Number(x), Value::Number(y)) => {
            let (x, y) = (x.as_f64().expect("finite"), y.as_f64().expect("finite"));
            assert!((x - y).abs() <= tolerance * x.abs().max(y.abs()), "{path}: {x} and {y}");
        }
        (Value::Array(x), Value::Array(y)) => {
            assert_eq!(x.len(), y.len(), "{path}");
            for (index, (x, y)) in x.iter().zip(y).enumerate() {
                assert_same(x, y, tolerance, &format!("{path}[{index}]"));
            }
        }
        (Value::Object(x), Value::Object(y)) => {
            assert!(x.keys().eq(y.keys()), "{path}");
            for (key, value) in x {
                assert_same(value, &y[key], tolerance, &format!("{path}.{key}"));
            }
        }
        _ => assert_eq!(a, b, "{path}"),
    }
}

#[test]
fn inches_and_millimetres_give_the_same_answer() {
    let [metric, inch] = in_both_units();
    assert_ne!(metric.entries, inch.entries);
    let answer = |scenario: &Scenario| {
        let resolved = scenario.resolve();
        assert_eq!(resolved.problems, []);
        serde_json::to_value(decide_with(&resolved.case, 256)).expect("plain data")
    };
    assert_same(&answer(&metric), &answer(&inch), 1e-9, "decision");
}
