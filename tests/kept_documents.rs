//! What was saved, exported or sent once can be read for ever, and nothing in
//! it gets lost; what is no scenario is refused with a reason, whatever it is.
//!
//! `tests/data/scenarios` holds what earlier versions wrote, as they wrote it:
//! it is added to and never changed. `link.txt` was packed by Python's zlib
//! and base64 modules.

use std::collections::BTreeMap;
use std::fs;

use serde_json::{Value, json};
use spindlewise_engine::decision::decide;
use spindlewise_engine::machine::SpindleBore;
use spindlewise_engine::quantity::{UnitSystem, with_unit};
use spindlewise_engine::remedies::{Means, RemedyId};
use spindlewise_engine::scenario::document::{self, LONGEST, LONGEST_ENTRY, Unreadable};
use spindlewise_engine::scenario::intake::{self, Backup, Compared};
use spindlewise_engine::scenario::link::{self, LONGEST_LINK, LinkError};
use spindlewise_engine::scenario::{Field, Problem, Record, SCHEMA, Scenario, demo};

fn kept(name: &str) -> String {
    let path = format!("{}/tests/data/scenarios/{name}", env!("CARGO_MANIFEST_DIR"));
    fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"))
}

/// Fails where `now` lacks anything that `then` has.
fn assert_holds(now: &Value, then: &Value, place: &str) {
    match then {
        Value::Object(fields) => {
            for (name, value) in fields {
                assert_holds(&now[name], value, &format!("{place}/{name}"));
            }
        }
        _ => assert_eq!(now, then, "{place}"),
    }
}

#[test]
fn exports_of_earlier_versions_are_read_whole() {
    for name in ["first.json", "with_margins.json", "third.json"] {
        let text = kept(name);
        let scenario = document::read(&text).unwrap_or_else(|why| panic!("{name}: {why}"));
        assert_eq!(scenario.resolve().problems, [], "{name}");
        let again: Value = serde_json::from_str(&document::write(&scenario)).unwrap();
        let mut then: Value = serde_json::from_str(&text).unwrap();
        assert!(then["schema"].as_u64() < Some(u64::from(SCHEMA)), "{name}");
        // The one thing that changes.
        then["schema"] = json!(SCHEMA);
        assert_holds(&again, &then, name);
        let stored = format!("{{\"saved\":1764064800000.0,\"scenario\":{text}}}");
        assert_eq!(Record::read(&stored).unwrap(), Record { saved: 1_764_064_800_000.0, after: None, scenario });
    }
}

/// Up to the second form it was ticked among what is at hand; since then it is
/// asked of the machine, and no tick no longer means no.
#[test]
fn a_spindle_once_ticked_as_bored_through_is_one() {
    let scenario = document::read(&kept("bored_through.json")).unwrap();
    assert_eq!(scenario.choices.bore, Some(SpindleBore::Through));
    assert_eq!(scenario.choices.means, [Means::SecondClamp, Means::Press]);
    let again: Value = serde_json::from_str(&document::write(&scenario)).unwrap();
    let mut then: Value = serde_json::from_str(&kept("bored_through.json")).unwrap();
    then["schema"] = json!(SCHEMA);
    then["choices"]["means"] = json!(["second_clamp", "press"]);
    assert_holds(&again, &then, "bored_through.json");
    let decision = decide(&scenario.resolve().case);
    assert_eq!(decision.verdict.first, Some(RemedyId::Drawbar));
    assert_eq!(document::read(&kept("with_margins.json")).unwrap().choices.bore, None);
}

#[test]
fn every_word_and_key_of_earlier_versions_is_still_known() {
    let words: Value = serde_json::from_str(&kept("words.json")).unwrap();
    let document = |choices: Value, entries: Value| json!({ "schema": 1, "name": "", "units": "metric", "choices": choices, "entries": entries });
    let mut asked = 0;
    for (question, answers) in words["questions"].as_object().unwrap() {
        for answer in answers.as_array().unwrap() {
            let several = ["troubles", "means"].contains(&question.as_str());
            let answer = if several { json!([answer]) } else { answer.clone() };
            let read = document::from_value(document(json!({ question: answer }), json!({})));
            assert!(read.is_ok(), "{question}: {answer}: {read:?}");
            asked += 1;
        }
    }
    let entries = words["numbers"].as_array().unwrap().iter().map(|key| (key.as_str().unwrap().to_owned(), json!("1")));
    let scenario = document::from_value(document(json!({}), Value::Object(entries.collect()))).unwrap();
    let problems = scenario.resolve().problems;
    let unknown: Vec<_> = problems.iter().filter(|problem| matches!(problem, Problem::UnknownKey { .. })).collect();
    assert!(unknown.is_empty(), "{unknown:?}");
    assert!(asked >= 82 && scenario.entries.len() >= 62, "{asked} words, {} keys", scenario.entries.len());
}

#[test]
fn a_link_packed_elsewhere_is_read_and_one_packed_here_comes_back() {
    let there = link::read(kept("link.txt").trim()).unwrap();
    assert_eq!(there, document::read(&kept("with_margins.json")).unwrap());
    let mut scenario = demo();
    scenario.name = "Ständer – 12 µm, “soft” ½ 🙂".into();
    let packed = link::write(&scenario).unwrap();
    assert!(packed.bytes().all(|letter| letter.is_ascii_alphanumeric() || b"-_".contains(&letter)), "{packed}");
    assert_eq!(link::read(&packed), Ok(scenario));
}

#[test]
fn a_link_that_is_cut_off_changed_or_swollen_is_refused() {
    let good = link::write(&demo()).unwrap();
    for end in 0..good.len() {
        assert!(link::read(&good[..end]).is_err(), "cut off after {end}");
    }
    assert_eq!(link::read(&good.replace(&good[..4], "!!!!")), Err(LinkError::Garbled));
    assert_eq!(link::read(&"A".repeat(LONGEST_LINK + 1)), Err(LinkError::TooLong { found: LONGEST_LINK + 1 }));
    // 4 MB of blanks, packed by Python's zlib into what fits a link.
    let swollen = kept("swollen_link.txt");
    assert!(swollen.trim().len() < LONGEST_LINK);
    assert_eq!(link::read(swollen.trim()), Err(LinkError::Garbled));
    let mut endless = demo();
    // Digits without a pattern can't be made short.
    let digits: String = (0..20_000_u64).map(|i| format!("{:x}", i.wrapping_mul(0x9e37_79b9_7f4a_7c15))).collect();
    endless.name = digits;
    assert!(matches!(link::write(&endless), Err(LinkError::TooLong { .. })));
}

/// Whether a refusal is the one expected.
type IsIt = fn(&Unreadable) -> bool;

/// What no version wrote: hostile, foreign or damaged.
fn hostile() -> Vec<(&'static str, String, IsIt)> {
    let plain = json!({ "schema": SCHEMA, "name": "x", "units": "metric", "choices": {}, "entries": {} });
    let with = |field: &str, value: Value| {
        let mut changed = plain.clone();
        changed[field] = value;
        changed.to_string()
    };
    let many: Value = (0..20_000).map(|i| (i.to_string(), json!(""))).collect::<serde_json::Map<_, _>>().into();
    let is_json_fault: fn(&Unreadable) -> bool = |why| matches!(why, Unreadable::NotJson { .. });
    let too_much: fn(&Unreadable) -> bool = |why| matches!(why, Unreadable::TooMuch { .. });
    let damaged: fn(&Unreadable) -> bool = |why| matches!(why, Unreadable::Damaged { .. });
    let none: fn(&Unreadable) -> bool = |why| *why == Unreadable::NotAScenario;
    vec![
        ("nothing", String::new(), is_json_fault),
        ("cut off", plain.to_string()[..40].to_owned(), is_json_fault),
        ("deep nesting", "[".repeat(100_000), is_json_fault),
        ("deep objects", "{\"schema\":".repeat(10_000), is_json_fault),
        ("a number too large", plain.to_string().replace(&format!(":{SCHEMA}"), ":1e999"), is_json_fault),
        ("no schema", "{}".into(), none),
        ("a list", "[1,2,3]".into(), none),
        ("a schema in words", with("schema", json!("one")), none),
        ("a negative schema", with("schema", json!(-1)), none),
        ("the wrong version", with("schema", json!(u64::MAX)), |why| *why == Unreadable::Newer { schema: u64::MAX }),
        ("a number for a text", with("name", json!(7)), damaged),
        ("a field nobody knows", with("owner", json!("me")), damaged),
        ("an answer nobody knows", with("choices", json!({ "archetype": "spaceship" })), damaged),
        ("thousands of entries", with("entries", many), too_much),
        ("a million items", with("choices", json!({ "means": vec!["press"; 1_000_000] })), too_much),
        ("an answer thousands of times", with("choices", json!({ "means": vec!["press"; 9000] })), too_much),
        (
            "a remedy ruled out thousands of times",
            with("choices", json!({ "ruled_out": vec!["drawbar"; 2000] })),
            too_much,
        ),
        ("a name without end", with("name", json!("x".repeat(5000))), too_much),
        ("a file without end", " ".repeat(LONGEST + 1), too_much),
    ]
}

#[test]
fn hostile_texts_are_refused_with_a_reason() {
    for (name, text, expected) in hostile() {
        let why = document::read(&text).expect_err(name);
        assert!(expected(&why), "{name}: {why:?}");
        assert!(why.to_string().ends_with('.'), "{name}: {why}");
        let stored = format!("{{\"saved\":1,\"scenario\":{text}}}");
        assert!(Record::read(&stored).is_err(), "{name}, stored");
        assert!(intake::read(&text).is_err(), "{name}, in a file");
    }
}

#[test]
fn an_entry_that_is_no_number_is_kept_and_said() {
    let mut scenario = demo();
    for text in ["1e999 mm", "-1e999", "NaN", "<script>alert(1)</script>", "\u{202e}12 mm"] {
        scenario.entries.insert("cutter.diameter".into(), text.into());
        let again = document::read(&document::write(&scenario)).unwrap();
        assert_eq!(again, scenario, "{text}");
        assert_eq!(again.resolve().problems.len(), 1, "{text}: {:?}", again.resolve().problems);
    }
}

/// What a box takes can be read again, whatever is written behind it.
#[test]
fn the_longest_entry_is_read_again_with_its_unit() {
    let mut full = demo();
    full.name = "½".repeat(LONGEST_ENTRY);
    let longest = |end: &str| "0".repeat(LONGEST_ENTRY - end.chars().count()) + end;
    for end in ["1", "1 ± 1"] {
        for &field in Field::ALL {
            for units in [UnitSystem::Metric, UnitSystem::Inch] {
                let written = with_unit(&longest(end), field.spec().dimension.default_unit(units));
                full.set_entry(field, written);
                let read = document::read(&document::write(&full));
                assert_eq!(read.as_ref(), Ok(&full), "{}", field.spec().key);
            }
        }
    }
}

/// What is taken in can be handed out: blanks and answers that were left out
/// may not make a file of it that is refused.
#[test]
fn a_scenario_that_is_taken_in_can_be_exported_and_stored() {
    let with = |entries: usize| {
        let entry = |at: usize| (format!("{at:03}"), json!("x".repeat(LONGEST_ENTRY)));
        let entries: Value = (0..entries).map(entry).collect::<serde_json::Map<_, _>>().into();
        json!({ "schema": SCHEMA, "name": "", "units": "metric", "choices": {}, "entries": entries })
    };
    let fits = |entries: &usize| with(*entries).to_string().len() <= LONGEST;
    let most = (0..LONGEST / LONGEST_ENTRY).rev().find(fits).unwrap();
    let (mut taken, mut refused) = (0, 0);
    for (entries, name) in
        (most - 4..=most).flat_map(|entries| (0..LONGEST_ENTRY).step_by(50).map(move |name| (entries, name)))
    {
        let mut document = with(entries);
        document["name"] = json!("x".repeat(name));
        match document::read(&document.to_string()) {
            Ok(scenario) => {
                assert_eq!(document::read(&document::write(&scenario)).as_ref(), Ok(&scenario));
                let record = Record { saved: f64::MIN_POSITIVE, after: Some(-f64::MIN_POSITIVE), scenario };
                assert_eq!(Record::read(&serde_json::to_string(&record).unwrap()), Ok(record));
                taken += 1;
            }
            Err(why) => {
                assert!(matches!(why, Unreadable::TooMuch { .. }), "{why:?}");
                refused += 1;
            }
        }
    }
    assert!(taken > 10 && refused > 10, "{taken} taken, {refused} refused");
}

#[test]
fn a_backup_brings_back_all_that_can_be_read_and_says_what_can_not() {
    let record = |scenario: &Scenario| {
        serde_json::to_string(&Record { saved: 1.0, after: None, scenario: scenario.clone() }).unwrap()
    };
    let mut other = demo();
    other.name = "Other".into();
    let stored = BTreeMap::from([
        ("spindlewise:v1:scenario:a".to_owned(), record(&demo())),
        ("spindlewise:v1:scenario:b".to_owned(), record(&other)),
        ("spindlewise:v1:aside:c".to_owned(), "{\"saved\":1,\"scen".to_owned()),
        ("spindlewise:v1:prefs".to_owned(), "{\"theme\":\"dark\"}".to_owned()),
    ]);
    let text = serde_json::to_string(&Backup::new(stored)).unwrap();
    let found = intake::read(&text).unwrap();
    let scenarios: Vec<_> = found.iter().filter_map(|found| found.scenario.clone().ok()).collect();
    assert_eq!(scenarios, [demo(), other.clone()]);
    let broken: Vec<_> =
        found.iter().filter(|found| found.scenario.is_err()).map(|found| found.place.as_str()).collect();
    assert_eq!(broken, ["spindlewise:v1:aside:c"]);

    let single = intake::read(&document::write(&other)).unwrap();
    assert_eq!(single.len(), 1);
    assert_eq!(single[0].scenario, Ok(other));

    for (text, expected) in [
        ("{\"backup\":2,\"stored\":{}}", Unreadable::Newer { schema: 2 }),
        ("{\"backup\":1,\"stored\":{},\"stored\":7}", Unreadable::Damaged { fault: String::new() }),
    ] {
        let why = intake::read(text).unwrap_err();
        assert_eq!(std::mem::discriminant(&why), std::mem::discriminant(&expected), "{text}: {why:?}");
    }
    let many: BTreeMap<_, _> = (0..5000).map(|i| (format!("spindlewise:v1:scenario:{i}"), String::new())).collect();
    let text = serde_json::to_string(&Backup::new(many)).unwrap();
    assert!(matches!(intake::read(&text), Err(Unreadable::TooMuch { .. })));
}

#[test]
fn what_is_found_is_compared_with_what_is_here() {
    let (mut other, mut renamed) = (demo(), demo());
    other.entries.insert("cut.parts".into(), "7".into());
    renamed.name = "Other".into();
    assert_eq!(intake::compare(&demo(), []), Compared::New);
    assert_eq!(intake::compare(&demo(), [&renamed]), Compared::New);
    assert_eq!(intake::compare(&demo(), [&other]), Compared::Differs);
    assert_eq!(intake::compare(&demo(), [&other, &demo()]), Compared::Same);
}
