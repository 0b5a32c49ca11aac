//! Runs the browser tests against the built app.

use crate::process;
use crate::process::{Outcome, Stop, because};
use crate::project::Project;
use crate::serve;
use crate::setup::Browser;
use std::borrow::Cow;
use std::fs;
use std::io::{IsTerminal, stdout};
use std::path::{Path, PathBuf};

/// Where the app is tested, and with which test files: those with one of these
/// words in their name. What doesn't depend on the place is tested once.
const PLACES: [(Place, &[&str]); 3] = [
    (Place::Served("/"), &[""]),
    (Place::Served("/a/b/"), &["start", "journey", "offline", "firefox"]),
    (
        Place::OneFile,
        &[
            "start",
            "journey",
            "demo",
            "storage",
            "tap",
            "background",
            "stopped",
            "security",
            "interactive",
            "scenarios",
            "keyboard",
            "readings",
            "incut",
            "weighing",
            "firefox",
        ],
    ),
];

enum Place {
    /// The built folder, served below this address.
    Served(&'static str),
    /// The page that holds everything, opened from disk.
    OneFile,
}

/// So that a test that hangs is a failure and not a wait for ever.
const LONGEST_TEST_MS: &str = "300000";

/// Runs the test files whose name contains `filter`, in every place, those
/// after a failure too.
pub fn run(project: &Project, browser: &Browser, filter: Option<&str>) -> Outcome {
    let files = test_files(&project.browser_tests(), filter)?;
    let mut outcome = Ok(());
    for (place, words) in &PLACES {
        let files = files.iter().filter(|file| words.iter().any(|word| name(file).contains(word)));
        let files: Vec<_> = files.collect();
        if files.is_empty() {
            continue;
        }
        let address = match place {
            Place::Served(prefix) => serve::serve_in_background(&project.dist(), prefix)?,
            Place::OneFile => format!("file://{}", project.dist().join("spindlewise.html").display()),
        };
        println!("At {address}:");
        outcome = outcome.and(run_at(&address, &files, project, browser));
    }
    outcome
}

fn run_at(address: &str, files: &[&PathBuf], project: &Project, browser: &Browser) -> Outcome {
    let report = if stdout().is_terminal() { "spec" } else { "tap" };
    let mut node = project.command(&browser.node);
    node.args(["--test", "--test-timeout", LONGEST_TEST_MS])
        .args(["--test-reporter", report])
        .args(files)
        .env("APP_URL", address)
        .env("CHROMIUM", &browser.chromium)
        // Empty where there is none: its tests say that they are skipped.
        .env("FIREFOX", browser.firefox.as_deref().unwrap_or(Path::new("")))
        .env("SCREENSHOTS", project.screenshots());
    process::run(&mut node)
}

fn name(file: &Path) -> Cow<'_, str> {
    file.file_name().unwrap_or_default().to_string_lossy()
}

fn test_files(folder: &Path, filter: Option<&str>) -> Outcome<Vec<PathBuf>> {
    let mut files = Vec::new();
    for file in because(fs::read_dir(folder), folder.display())? {
        let path = because(file, folder.display())?.path();
        if name(&path).ends_with(".test.mjs") && name(&path).contains(filter.unwrap_or_default()) {
            files.push(path);
        }
    }
    files.sort();
    if files.is_empty() {
        return Err(Stop("No browser test has that word in its file name.".into()));
    }
    Ok(files)
}
