//! A scenario as text: an exported file, or what was stored.

use std::collections::BTreeMap;

use serde_json::Value;
use spindlewise_engine::quantity::UnitSystem;
use spindlewise_engine::readings::Reading;
use spindlewise_engine::scenario::document::{self, LONGEST};
use spindlewise_engine::scenario::intake::{self, Backup, Compared};
use spindlewise_engine::scenario::link::{self, LONGEST_LINK, LinkError};
use spindlewise_engine::scenario::{Field, Problem, Record, Scenario};

pub fn holds(bytes: &[u8]) -> bool {
    let text = String::from_utf8_lossy(bytes);
    let scenario = document::read(&text);
    match &scenario {
        Ok(scenario) => {
            assert!(text.len() <= LONGEST);
            is_word_for_word(scenario, &text);
            is_whole(scenario);
        }
        Err(why) => super::is_said(&why.to_string()),
    }
    match Record::read(&text) {
        Ok(record) => {
            let stored = serde_json::to_string(&record).expect("plain data always has a JSON form");
            assert_eq!(Record::read(&stored), Ok(record.clone()), "{text}");
            is_whole(&record.scenario);
        }
        Err(why) => super::is_said(&why.to_string()),
    }
    scenario.is_ok()
}

/// What was typed is kept as it was typed.
fn is_word_for_word(scenario: &Scenario, text: &str) {
    let value: Value = serde_json::from_str(text).expect("it was read before");
    assert_eq!(value["name"], scenario.name);
    let typed = value["entries"].as_object().expect("entries have keys");
    assert_eq!(typed.len(), scenario.entries.len());
    for (key, entry) in &scenario.entries {
        assert_eq!(typed[key], *entry, "{key}");
    }
}

/// Whatever way a scenario that was read goes out, it comes back the same, and
/// what it says can be used.
pub fn is_whole(scenario: &Scenario) {
    let exported = document::write(scenario);
    assert_eq!(document::read(&exported).as_ref(), Ok(scenario), "exported");
    let file = intake::read(&exported).expect("an export is a file to import");
    assert_eq!(file.iter().map(|found| &found.scenario).collect::<Vec<_>>(), [&Ok(scenario.clone())]);
    assert_eq!(intake::compare(scenario, [scenario]), Compared::Same);

    let record = Record { saved: 1_764_064_800_000.0, after: Some(0.1), scenario: scenario.clone() };
    let stored = serde_json::to_string(&record).expect("plain data always has a JSON form");
    assert_eq!(Record::read(&stored), Ok(record), "stored");
    let backup = Backup::new(BTreeMap::from([("spindlewise:v1:scenario:a".to_owned(), stored)]));
    let backup = serde_json::to_string_pretty(&backup).expect("plain data always has a JSON form");
    let found = intake::read(&backup).expect("a backup is a file to import");
    assert_eq!(found.into_iter().map(|found| found.scenario).collect::<Vec<_>>(), [Ok(scenario.clone())]);

    match link::write(scenario) {
        Ok(link) => {
            assert!(link.len() <= LONGEST_LINK, "{} letters", link.len());
            assert_eq!(link::read(&link).as_ref(), Ok(scenario), "sent");
        }
        Err(why) => assert!(matches!(why, LinkError::TooLong { found } if found > LONGEST_LINK), "{why:?}"),
    }
    is_usable(scenario);
}

/// A value is in its range and finite, or there is a word about it.
fn is_usable(scenario: &Scenario) {
    let resolved = scenario.resolve();
    assert_eq!(scenario.resolve(), resolved, "the same says the same");
    for problem in &resolved.problems {
        for units in [UnitSystem::Metric, UnitSystem::Inch] {
            match problem {
                // It names a key, which may be as long as keys may be.
                Problem::UnknownKey { .. } => assert!(problem.message(units).ends_with('.')),
                _ => super::is_said(&problem.message(units)),
            }
        }
        assert!(problem.to_string().ends_with('.'), "{problem}");
    }
    for &field in Field::ALL {
        let Some(value) = resolved.in_use(field) else { continue };
        let spec = field.spec();
        assert!(value.is_finite() && value >= 0.0, "{}: {value}", spec.key);
        let typed = !scenario.entry(field).trim().is_empty();
        if typed && !resolved.problems.iter().any(|problem| problem.field() == Some(field)) && !follows(field) {
            let slack = 1e-9 * spec.range.1;
            let still = spec.still && value == 0.0;
            assert!(still || (spec.range.0 - slack..=spec.range.1 + slack).contains(&value), "{}: {value}", spec.key);
        }
    }
    let machine = &resolved.case.setup.machine;
    let (slowest, fastest) = machine.speeds;
    assert!(slowest <= fastest && slowest.as_rpm() > 0.0, "{slowest:?} to {fastest:?}");
    assert!(machine.steps.is_sorted(), "{:?}", machine.steps);
    let readings = &resolved.case.readings;
    for Reading { value, log_sd, blur, .. } in readings {
        assert!(*value > 0.0 || *value == 0.0 && *blur > 0.0, "{value} read off {blur}");
        assert!(*log_sd > 0.0 && log_sd.is_finite() && blur.is_finite(), "{log_sd} {blur}");
    }
}

/// A list has no one value in use.
fn follows(field: Field) -> bool {
    field.spec().list
}
