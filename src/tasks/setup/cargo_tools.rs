//! Trunk and wasm-bindgen's command-line tool, built from source into
//! `.tools/`: there is no other download that works on every machine.

use super::say;
use crate::pins::{Pins, version_in};
use crate::process::{Outcome, find_program, first_line, program_in, run_within};
use crate::project::Project;
use std::path::PathBuf;
use std::process::Command;
use std::time::Duration;

/// Two slow cores and a slow line need most of it.
const LIMIT: Duration = Duration::from_secs(45 * 60);

/// Finds or installs both; says which folder has what was installed.
pub fn ensure(project: &Project, pins: &Pins) -> Outcome<PathBuf> {
    let bin = project.tools().join("bin");
    if !has(&bin, "wasm-bindgen", &pins.wasm_bindgen) {
        say("wasm-bindgen, which joins the compiled app to the browser (about 2 min)");
        install(project, "wasm-bindgen-cli", &pins.wasm_bindgen, &[])?;
    }
    if !has(&bin, "trunk", &pins.trunk) {
        say("Trunk, which puts the app's files together (about 4 min)");
        // Neither its downloads nor its look for a newer version is wanted.
        install(project, "trunk", &pins.trunk, &["--locked", "--no-default-features"])?;
    }
    Ok(bin)
}

/// Whether the program that would be called has that version: ours comes first
/// on PATH.
fn has(bin: &std::path::Path, program: &str, version: &str) -> bool {
    let found = program_in(bin, program).or_else(|| find_program(program));
    let line = found.and_then(|path| first_line(Command::new(path).arg("--version")));
    line.as_deref().and_then(version_in) == Some(version)
}

fn install(project: &Project, package: &str, version: &str, more: &[&str]) -> Outcome {
    let mut cargo = project.command("cargo");
    cargo
        .args(["install", "--quiet", package, "--version", version])
        // Unoptimised they are built in half the time and fast enough.
        .args(["--debug", "--force"])
        .args(more)
        .arg("--root")
        .arg(project.tools())
        .env("CARGO_PROFILE_DEV_DEBUG", "false");
    run_within(LIMIT, &mut cargo)
}
