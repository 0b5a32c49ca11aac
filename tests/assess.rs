//! The command that reads a scenario and prints the decision.

use std::io::Write;
use std::path::PathBuf;
use std::process::{Command, Output, Stdio};

use serde_json::Value;
use spindlewise_engine::decision::decide;
use spindlewise_engine::scenario::{Field, SCHEMA, Scenario, demo, document};

fn assess() -> Command {
    Command::new(env!("CARGO_BIN_EXE_assess"))
}

/// Runs the command on a text from standard input.
fn assess_text(text: &str) -> Output {
    let mut child = assess()
        .arg("-")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the command starts");
    child.stdin.take().expect("piped").write_all(text.as_bytes()).expect("it reads");
    child.wait_with_output().expect("it ends")
}

fn text(bytes: &[u8]) -> &str {
    std::str::from_utf8(bytes).expect("UTF-8")
}

/// What it says when it refuses: exit code 2, nothing on standard output.
fn refusal(output: &Output) -> &str {
    assert_eq!(output.status.code(), Some(2), "{output:?}");
    assert_eq!(text(&output.stdout), "");
    let message = text(&output.stderr);
    assert!(!message.contains("panicked"), "{message}");
    assert!(message.trim().len() > 10, "{message}");
    message
}

fn typed(field: Field, entry: &str) -> String {
    let mut scenario = demo();
    scenario.set_entry(field, entry);
    document::write(&scenario)
}

#[test]
fn the_example_reads_back_as_written() {
    let output = assess().arg("--example").output().expect("it runs");
    assert_eq!(output.status.code(), Some(0));
    assert_eq!(text(&output.stderr), "");
    let example = text(&output.stdout);
    let scenario = document::read(example).expect("a scenario");
    assert_eq!(scenario, demo());
    assert_eq!(document::write(&scenario), example.trim_end());
    assert_eq!(scenario.resolve().problems, []);
}

#[test]
fn the_example_gets_a_decision() {
    let output = assess_text(&document::write(&demo()));
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    assert_eq!(text(&output.stderr), "");
    let printed: Value = serde_json::from_str(text(&output.stdout)).expect("JSON");
    for (part, least) in [("short", 8), ("reason", 20)] {
        let said = printed["verdict"][part].as_str().expect("a text");
        assert!(said.len() > least, "{part}: {said}");
    }
    let appraised = printed["appraisals"].as_array().expect("a list");
    assert!(appraised.len() > 5);
    // Nothing is lost or rounded on the way out.
    let decided = decide(&demo().resolve().case);
    let expected = serde_json::to_string_pretty(&decided).expect("plain data");
    assert_eq!(text(&output.stdout).trim_end(), expected);
}

#[test]
fn a_file_is_as_good_as_standard_input() {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("blank.json");
    let blank = document::write(&Scenario::new("blank"));
    std::fs::write(&path, &blank).expect("a writable directory");
    let from_file = assess().arg(&path).output().expect("it runs");
    assert_eq!(from_file.status.code(), Some(0), "{from_file:?}");
    assert_eq!(from_file.stdout, assess_text(&blank).stdout);
}

#[test]
fn bad_files_are_refused_with_a_reason() {
    let output = assess().arg("/no/such/scenario.json").output().expect("it runs");
    assert!(refusal(&output).contains("/no/such/scenario.json"));

    assert!(refusal(&assess_text("")).contains("line 1"));
    let whole = document::write(&demo());
    let broken_off = &whole[..whole.len() / 2];
    assert!(refusal(&assess_text(broken_off)).contains("line"));
    assert!(refusal(&assess_text("{\"a\": 1}")).contains("not a Spindlewise scenario"));
    assert!(refusal(&assess_text("[]")).contains("not a Spindlewise scenario"));

    let newer = whole.replacen(&format!("\"schema\": {SCHEMA}"), "\"schema\": 99", 1);
    assert_ne!(newer, whole);
    assert!(refusal(&assess_text(&newer)).contains("99"));

    let wrong_choice = whole.replacen("\"bench_drill\"", "\"lathe\"", 1);
    assert_ne!(wrong_choice, whole);
    assert!(refusal(&assess_text(&wrong_choice)).contains("lathe"));

    // Bytes that are no text at all.
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("bytes.json");
    std::fs::write(&path, [0xff, 0xfe, 0x00, 0x80]).expect("a writable directory");
    let output = assess().arg(&path).output().expect("it runs");
    assert!(refusal(&output).contains("bytes.json"));
}

#[test]
fn wrong_usage_is_explained() {
    for arguments in [&[][..], &["a.json", "b.json"]] {
        let output = assess().args(arguments).output().expect("it runs");
        assert!(refusal(&output).contains("usage"));
    }
    let help = assess().arg("--help").output().expect("it runs");
    assert_eq!(help.status.code(), Some(0));
    assert!(text(&help.stdout).contains("usage"));
}

/// The message names the field, the value and the allowed range.
#[test]
fn a_number_out_of_range_is_named_with_its_range() {
    for (field, entry, parts) in [
        (Field::Span, "900 mm", ["machine.span", "900 mm", "20", "500 mm"]),
        (Field::CutterDiameter, "9999 mm", ["cutter.diameter", "be 9999 mm", "1 mm", "150 mm"]),
        (Field::SpindleSpeed, "5 rpm", ["cut.speed", "5 rpm", "20", "30000 rpm"]),
        (Field::Power, "20 kW", ["machine.power", "20000 W", "50 W", "10000 W"]),
        // Limits that another entry sets.
        (Field::RadialWidth, "11 mm", ["cut.radial_width", "11 mm", "10 mm", "diameter"]),
        (Field::FluteLength, "65 mm", ["cutter.flute_length", "65 mm", "60 mm", "stick-out"]),
        (Field::AxialDepth, "-1 mm", ["cut.axial_depth", "1 mm", "22 mm", "edges"]),
    ] {
        let output = assess_text(&typed(field, entry));
        // Spaces inside numbers and before units are a matter of typography.
        let bare = |text: &str| text.replace(|c: char| c.is_whitespace(), "");
        let message = bare(refusal(&output));
        for part in parts {
            assert!(message.contains(&bare(part)), "{entry}: no {part} in {message}");
        }
    }
}

#[test]
fn what_cannot_be_read_is_named_with_what_was_typed() {
    for (field, entry, part) in [
        (Field::Span, "about a foot", "about a foot"),
        (Field::Span, "12 N", "12 N"),
        (Field::Span, "90 furlongs", "furlongs"),
        (Field::Flutes, "NaN", "NaN"),
        (Field::Span, "NaN", "NaN"),
        (Field::Span, "inf", "inf"),
        (Field::Span, "1e999", "1e999"),
        (Field::Flutes, "3.5", "3.5"),
    ] {
        let output = assess_text(&typed(field, entry));
        let message = refusal(&output);
        assert!(message.contains(field.spec().key), "{entry}: {message}");
        assert!(message.contains(part), "{entry}: {message}");
    }
}

/// All problems at once, one to a line.
#[test]
fn every_problem_is_reported() {
    let mut scenario = demo();
    scenario.set_entry(Field::Span, "900 mm");
    scenario.set_entry(Field::Flutes, "many");
    scenario.entries.insert("machine.wheels".into(), "4".into());
    let output = assess_text(&document::write(&scenario));
    let message = refusal(&output);
    for key in ["machine.span", "cutter.flutes", "machine.wheels"] {
        let lines = message.lines().filter(|line| line.contains(key)).count();
        assert_eq!(lines, 1, "{key}: {message}");
    }
}

/// JSON has no such numbers, and entries are texts.
#[test]
fn numbers_in_place_of_texts_are_refused() {
    let whole = document::write(&demo());
    for number in ["NaN", "1e999", "90"] {
        let changed = whole.replacen("\"10 mm\"", number, 1);
        assert_ne!(changed, whole);
        refusal(&assess_text(&changed));
    }
}

#[test]
fn an_unknown_part_of_the_document_is_refused() {
    let whole = document::write(&demo());
    let changed = whole.replacen("\"units\"", "\"unites\"", 1);
    assert_ne!(changed, whole);
    assert!(refusal(&assess_text(&changed)).contains("unites"));
}
