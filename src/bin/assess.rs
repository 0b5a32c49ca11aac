//! Reads an exported scenario and prints the decision as JSON.
//!
//! `assess scenario.json` (or `-` for standard input); `assess --example`
//! prints a complete scenario to start from. Bad input: exit code 2 and, for
//! each problem, the field, the value and the allowed range.

use std::io::Read;
use std::process::ExitCode;

use spindlewise_engine::decision::decide;
use spindlewise_engine::scenario::{self, document};

const USAGE: &str = "usage: assess SCENARIO.json | - | --example";

fn main() -> ExitCode {
    let mut arguments = std::env::args().skip(1);
    let answer = match (arguments.next().as_deref(), arguments.next()) {
        (Some("--example"), None) => Ok(document::write(&scenario::demo())),
        (Some("--help" | "-h"), None) => Ok(USAGE.to_owned()),
        (Some(path), None) => read(path).and_then(|text| assess(&text)),
        _ => Err(USAGE.to_owned()),
    };
    match answer {
        Ok(text) => {
            println!("{text}");
            ExitCode::SUCCESS
        }
        Err(message) => {
            eprintln!("{message}");
            ExitCode::from(2)
        }
    }
}

fn read(path: &str) -> Result<String, String> {
    if path == "-" {
        let mut text = String::new();
        return match std::io::stdin().read_to_string(&mut text) {
            Ok(_) => Ok(text),
            Err(error) => Err(format!("standard input: {error}")),
        };
    }
    std::fs::read_to_string(path).map_err(|error| format!("{path}: {error}"))
}

fn assess(text: &str) -> Result<String, String> {
    let scenario = document::read(text).map_err(|error| error.to_string())?;
    let resolved = scenario.resolve();
    if resolved.problems.is_empty() {
        Ok(to_json(&decide(&resolved.case)))
    } else {
        let lines: Vec<String> = resolved.problems.iter().map(ToString::to_string).collect();
        Err(lines.join("\n"))
    }
}

fn to_json(value: &impl serde::Serialize) -> String {
    serde_json::to_string_pretty(value).expect("plain data always has a JSON form")
}
