//! Runs the browser tests against the built app.

use crate::process;
use crate::process::{Outcome, Stop, because};
use crate::project::Project;
use crate::serve;
use crate::setup::Browser;
use std::borrow::Cow;
use std::env::consts::EXE_SUFFIX;
use std::fs;
use std::io::{IsTerminal, stdout};
use std::num::NonZero;
use std::path::{Path, PathBuf};
use std::thread::available_parallelism;

/// Where the app is tested: every test file in each place, but for [`LEFT_OUT`].
const PLACES: [Place; 3] = [Place::Root, Place::Folder, Place::OneFile];

/// Test files, by a word in their name, that are left out in a place, and why.
const LEFT_OUT: [(&str, &[Place], &str); 5] = [
    ("access", &[Place::Folder], "no look and no size depends on the address"),
    ("bench", &[Place::Folder, Place::OneFile], "it prints times, and other tests see each answer follow its change"),
    ("interactive", &[Place::Folder], "the same bytes come from the same server as fast"),
    ("offline", &[Place::OneFile], "a page opened from disk has no service worker, and needs none"),
    ("phone", &[Place::Folder], "no look and no size depends on the address"),
];

/// The test file that nothing may run beside, since it judges a time.
const ALONE: &str = "interactive";

#[derive(Clone, Copy, PartialEq, Eq)]
enum Place {
    /// The built folder, served as a site of its own.
    Root,
    /// The same, served as a folder within another site.
    Folder,
    /// The page that holds everything, opened from disk.
    OneFile,
}

impl Place {
    /// Readies it; says where it is.
    fn address(self, project: &Project) -> Outcome<String> {
        match self {
            Place::Root => serve::serve_in_background(&project.dist(), "/"),
            Place::Folder => serve::serve_in_background(&project.dist(), "/a/b/"),
            Place::OneFile => Ok(format!("file://{}", project.dist().join("spindlewise.html").display())),
        }
    }

    /// Whether `file` is tested there; says why if not.
    fn takes(self, file: &Path) -> bool {
        let reason = LEFT_OUT.iter().find(|(word, places, _)| name(file).contains(word) && places.contains(&self));
        if let Some((word, _, why)) = reason {
            println!("Without {word} there: {why}.");
        }
        reason.is_none()
    }
}

/// So that a test file that hangs is a failure and not a wait for ever. Node counts
/// the time of all of a file's tests together.
const LONGEST_FILE_MS: &str = "1800000";

/// Runs the test files whose name contains `filter`, in every place, those
/// after a failure too.
pub fn run(project: &Project, browser: &Browser, filter: Option<&str>) -> Outcome {
    let files = test_files(&project.browser_tests(), filter)?;
    build_assess(project)?;
    let mut outcome = Ok(());
    for place in PLACES {
        let address = place.address(project)?;
        println!("At {address}:");
        let here = files.iter().filter(|file| place.takes(file));
        let (alone, together): (Vec<_>, Vec<_>) = here.partition(|file| name(file).contains(ALONE));
        for files in [together, alone] {
            if !files.is_empty() {
                outcome = outcome.and(run_at(place, &address, &files, project, browser));
            }
        }
    }
    outcome
}

/// Builds the native program that the page is compared with, ahead of the tests
/// that wait for its answers. Built the way `cargo test` builds it, there is
/// nothing left to do after that.
fn build_assess(project: &Project) -> Outcome {
    let mut cargo = project.command("cargo");
    process::run(cargo.args(["test", "--quiet", "--workspace", "--test", "assess", "--no-run"]))
}

fn run_at(place: Place, address: &str, files: &[&PathBuf], project: &Project, browser: &Browser) -> Outcome {
    let report = if stdout().is_terminal() { "spec" } else { "tap" };
    let at_once = available_parallelism().map_or(1, NonZero::get);
    let assess = project.target().join("debug").join(format!("assess{EXE_SUFFIX}"));
    let mut node = project.command(&browser.node);
    node.args(["--test", "--test-timeout", LONGEST_FILE_MS])
        .args(["--test-concurrency", &at_once.to_string()])
        .args(["--test-reporter", report])
        .args(files)
        .env("APP_URL", address)
        .env("ASSESS", assess)
        .env("CHROMIUM", &browser.chromium)
        // Empty where there is none: its tests say that they are skipped.
        .env("FIREFOX", browser.firefox.as_deref().unwrap_or(Path::new("")));
    // Elsewhere they would show the same.
    if place == Place::Root {
        node.env("SCREENSHOTS", project.screenshots());
    } else {
        node.env_remove("SCREENSHOTS");
    }
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_exception_is_about_one_test_file() {
        let words = LEFT_OUT.iter().map(|(word, ..)| *word).chain([ALONE]);
        for word in words {
            let files = test_files(&Project::find().browser_tests(), Some(word)).unwrap();
            assert_eq!(files.len(), 1, "{word}");
        }
    }
}
