//! What comes from npm: Binaryen's `wasm-opt` for the build, and the libraries
//! of the browser tests.

use super::say;
use crate::pins::{Pins, at_least, version_in};
use crate::process::{Outcome, Stop, because, find_program, first_line, run_within};
use crate::project::Project;
use std::fs;
use std::path::PathBuf;
use std::process::{Command, Stdio};
use std::time::Duration;

const LIMIT: Duration = Duration::from_secs(10 * 60);
const OLDEST_NODE: &str = "20.10";

/// Finds or installs `wasm-opt`; says which folder it is in.
pub fn ensure_binaryen(project: &Project, pins: &Pins) -> Outcome<PathBuf> {
    let node = node()?;
    let modules = project.tools().join("node_modules");
    let manifest = fs::read_to_string(modules.join("binaryen/package.json"));
    let wanted = format!("\"version\": \"{}\"", pins.binaryen);
    if !manifest.is_ok_and(|text| text.contains(&wanted)) {
        say("Binaryen, which makes the compiled app small");
        let package = format!("binaryen@{}", pins.binaryen);
        let mut npm = npm(&node)?;
        npm.args(["install", "--no-save", "--no-package-lock", "--prefix"]);
        npm.arg(project.tools()).arg(package);
        run_within(LIMIT, &mut npm)?;
    }
    Ok(modules.join(".bin"))
}

/// Finds or installs what `tests/browser/package-lock.json` lists; hands back
/// Node.js.
pub fn ensure_test_packages(project: &Project) -> Outcome<PathBuf> {
    let node = node()?;
    let folder = project.browser_tests();
    let lock = folder.join("package-lock.json");
    let wanted = because(fs::read_to_string(&lock), lock.display())?;
    let stamp = folder.join("node_modules/.installed-lock.json");
    if fs::read_to_string(&stamp).ok().as_ref() != Some(&wanted) {
        say("the libraries of the browser tests");
        let mut npm = npm(&node)?;
        npm.arg("ci").current_dir(&folder);
        run_within(LIMIT, &mut npm)?;
        because(fs::write(&stamp, wanted), stamp.display())?;
    }
    Ok(node)
}

fn node() -> Outcome<PathBuf> {
    let found = find_program("node");
    let line = found.as_ref().and_then(|path| first_line(Command::new(path).arg("--version")));
    let version = line.as_deref().and_then(version_in).unwrap_or("none");
    match found {
        Some(path) if at_least(version, OLDEST_NODE) => Ok(path),
        _ => Err(Stop(format!(
            "The build needs Node.js {OLDEST_NODE} or later with npm (found: {version}): \
             install it and try again."
        ))),
    }
}

fn npm(node: &std::path::Path) -> Outcome<Command> {
    let beside_node = node.parent().and_then(|folder| crate::process::program_in(folder, "npm"));
    let program = beside_node.or_else(|| find_program("npm"));
    let program = program.ok_or_else(|| {
        Stop("Node.js is there without npm, which the build needs: install npm and try again.".into())
    })?;
    let mut npm = Command::new(program);
    npm.args(["--no-audit", "--no-fund", "--loglevel=error"])
        .env("PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD", "1")
        .stdin(Stdio::null())
        .stdout(Stdio::null());
    Ok(npm)
}
