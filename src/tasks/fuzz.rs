//! Fuzzing: every reader of foreign text and bytes is tried for a while with
//! what libFuzzer makes up (`tests/fuzz`).
//!
//! What breaks a property is kept in `tests/fuzz/findings`, where `cargo test`
//! tries it again ever after. What only leads to new places in the code goes
//! into `target/`, for the next time.

use crate::process::{Outcome, Stop, because, run};
use crate::project::Project;
use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// How long each target is tried, s, unless told.
const USUAL_SECONDS: &str = "60";

/// Longest input made up, in bytes. What is typed into a field is short, and is
/// tried as every kind of quantity.
fn longest_input(target: &str) -> u32 {
    if target == "quantity" { 100 } else { 16 * 1024 }
}

/// What to fuzz, and for how long.
#[derive(Debug, PartialEq, Eq)]
struct Wish<'a> {
    target: Option<&'a str>,
    seconds: &'a str,
}

impl<'a> Wish<'a> {
    /// A number is the seconds, a word the target; either may be left out.
    fn parse(words: &[&'a str]) -> Option<Self> {
        let is_number = |word: &&str| word.bytes().all(|byte| byte.is_ascii_digit());
        let (numbers, names): (Vec<&str>, Vec<&str>) = words.iter().partition(|word| is_number(word));
        match (numbers[..].len(), names[..].len()) {
            (0 | 1, 0 | 1) => Some(Wish {
                target: names.first().copied(),
                seconds: numbers.first().copied().unwrap_or(USUAL_SECONDS),
            }),
            _ => None,
        }
    }
}

/// Tries every target, or the one that is named, those after a finding too.
pub fn fuzz(project: &Project, words: &[&str]) -> Outcome {
    let wish = Wish::parse(words)
        .ok_or_else(|| Stop("`cargo task fuzz` takes the name of one target and a number of seconds.".into()))?;
    let places = Places::new(project);
    let known = targets(&places.kept.join("corpus"))?;
    let wanted: Vec<&String> = known.iter().filter(|name| wish.target.is_none_or(|target| target == **name)).collect();
    if wanted.is_empty() {
        return Err(Stop(format!("There is no such target; these are: {}.", known.join(", "))));
    }
    let program = build(project, &places)?;
    let mut found = Vec::new();
    for target in wanted {
        println!("{target}: for {} s …", wish.seconds);
        found.extend(try_target(&program, target, wish.seconds, &places)?);
    }
    match found.len() {
        0 => Ok(()),
        _ => Err(Stop(format!("Found:\n{}", found.join("\n")))),
    }
}

/// Where things are.
struct Places {
    /// The targets, their examples and findings.
    kept: PathBuf,
    /// Documents of earlier versions: examples for every target.
    documents: PathBuf,
    /// What is built and grown.
    work: PathBuf,
}

impl Places {
    fn new(project: &Project) -> Self {
        let tests = project.root().join("tests");
        Places {
            kept: tests.join("fuzz"),
            documents: tests.join("data/scenarios"),
            work: project.target().join("fuzz"),
        }
    }
}

/// Each has a folder of examples of its name.
fn targets(corpus: &Path) -> Outcome<Vec<String>> {
    let mut names = Vec::new();
    for folder in because(fs::read_dir(corpus), corpus.display())? {
        names.push(because(folder, corpus.display())?.file_name().to_string_lossy().into_owned());
    }
    names.sort();
    Ok(names)
}

/// Builds the targets, which are a package by themselves; says where they are.
fn build(project: &Project, places: &Places) -> Outcome<PathBuf> {
    let mut cargo = project.command("cargo");
    // What libFuzzer needs of the compiler stands in that folder's own `.cargo`.
    cargo.current_dir(&places.kept).args(["build", "--quiet", "--release", "--locked"]);
    cargo.arg("--target-dir").arg(&places.work);
    run(&mut cargo).map_err(|Stop(why)| Stop(format!("{why} Building it takes a C++ compiler, for libFuzzer.")))?;
    for folder in because(fs::read_dir(&places.work), places.work.display())? {
        let program = because(folder, places.work.display())?.path().join("release/fuzz");
        if program.is_file() {
            return Ok(program);
        }
    }
    Err(Stop(format!("No fuzz targets were built in {}.", places.work.display())))
}

/// Tries one target; says what was found, a line for each finding.
fn try_target(program: &Path, target: &str, seconds: &str, places: &Places) -> Outcome<Vec<String>> {
    let grown = places.work.join("corpus").join(target);
    let findings = places.kept.join("findings").join(target);
    for folder in [&grown, &findings] {
        because(fs::create_dir_all(folder), folder.display())?;
    }
    let log = places.work.join(format!("{target}.log"));
    let mut fuzz = Command::new(program);
    fuzz.env("FUZZ_TARGET", target)
        .arg(format!("-max_total_time={seconds}"))
        .arg(format!("-max_len={}", longest_input(target)))
        .args(["-timeout=10", "-rss_limit_mb=2048", "-print_final_stats=1"])
        .arg(format!("-dict={}", places.kept.join("words").join(target).display()))
        .arg(format!("-artifact_prefix={}/", findings.display()))
        // What leads to new places is written to the first.
        .arg(&grown)
        .args([places.kept.join("corpus").join(target), findings, places.documents.clone()])
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(because(File::create(&log), log.display())?);
    let status = because(fuzz.status(), program.display())?;
    let said = String::from_utf8_lossy(&because(fs::read(&log), log.display())?).into_owned();
    let runs = value_after(&said, "stat::number_of_executed_units:").unwrap_or("no");
    if status.success() {
        println!("{target}: {runs} inputs tried, nothing found.");
        return Ok(Vec::new());
    }
    let what = what_was_found(&said);
    println!("{target}: {what}");
    Ok(vec![format!("{target}: {what} All it said is in {}.", log.display())])
}

/// The word after `label` in what libFuzzer says at the end.
fn value_after<'a>(said: &'a str, label: &str) -> Option<&'a str> {
    said.lines().find_map(|line| line.strip_prefix(label)).map(str::trim)
}

/// The property that was broken, and where the input is that breaks it.
fn what_was_found(said: &str) -> String {
    let mut lines = said.lines();
    let panicked = lines.by_ref().find(|line| line.contains("panicked at"));
    let reason = match panicked {
        Some(place) => format!("{} {}", place.trim(), lines.next().unwrap_or_default().trim()),
        None => said.lines().find(|line| line.contains("ERROR: libFuzzer")).unwrap_or("it ended early.").to_owned(),
    };
    let file = said.lines().find_map(|line| line.split_once("Test unit written to ")).map(|(_, file)| file.trim());
    match file {
        Some(file) => format!("{reason}\n  Kept as {file}: `cargo test` tries it from now on."),
        None => format!("{reason}\n  No input was kept."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_is_a_target_and_a_number_the_seconds() {
        let wish = |words: &[&'static str]| Wish::parse(words);
        assert_eq!(wish(&[]), Some(Wish { target: None, seconds: USUAL_SECONDS }));
        assert_eq!(wish(&["link"]), Some(Wish { target: Some("link"), seconds: USUAL_SECONDS }));
        assert_eq!(wish(&["180", "link"]), Some(Wish { target: Some("link"), seconds: "180" }));
        assert_eq!(wish(&["link", "quantity"]), None);
        assert_eq!(wish(&["1", "2"]), None);
    }

    #[test]
    fn a_finding_is_told_by_its_reason_and_its_file() {
        let said = "INFO: Seed: 1\n\nthread '<unnamed>' panicked at properties/link.rs:9:5:\nnot a sentence\n==1== ERROR: libFuzzer: deadly signal\n\
                    artifact_prefix='f/'; Test unit written to f/crash-1\nstat::number_of_executed_units: 42\n";
        let what = what_was_found(said);
        assert!(what.contains("properties/link.rs:9:5: not a sentence") && what.contains("f/crash-1"), "{what}");
        assert_eq!(value_after(said, "stat::number_of_executed_units:"), Some("42"));
        let slow = "==1== ERROR: libFuzzer: timeout after 10 seconds\n";
        assert!(what_was_found(slow).contains("timeout"));
    }

    #[test]
    fn every_target_has_examples_words_and_findings() {
        let places = Places::new(&Project::find());
        let known = targets(&places.kept.join("corpus")).expect("a folder of examples");
        assert!(["link", "quantity", "scenario"].iter().all(|wanted| known.iter().any(|name| name == wanted)));
        let source = fs::read_to_string(places.kept.join("properties/mod.rs")).expect("the table of targets");
        for name in known {
            assert!(places.kept.join("words").join(&name).is_file(), "{name}");
            assert!(source.contains(&format!("(\"{name}\", ")), "{name}");
        }
    }
}
