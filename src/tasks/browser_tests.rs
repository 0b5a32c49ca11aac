//! Runs the browser tests against the built app.

use crate::process;
use crate::process::{Outcome, Stop, because};
use crate::project::Project;
use crate::serve;
use crate::setup::Browser;
use std::fs;
use std::io::{IsTerminal, stdout};
use std::path::{Path, PathBuf};

/// Not the root of the site, so that an address which only works there is
/// found out.
const PREFIX: &str = "/some/folder/";

/// So that a test that hangs is a failure and not a wait for ever.
const LONGEST_TEST_MS: &str = "300000";

/// Serves `dist/` and runs the test files whose name contains `filter`.
pub fn run(project: &Project, browser: &Browser, filter: Option<&str>) -> Outcome {
    let files = test_files(&project.browser_tests(), filter)?;
    let address = serve::serve_in_background(&project.dist(), PREFIX)?;
    let report = if stdout().is_terminal() { "spec" } else { "tap" };
    let mut node = project.command(&browser.node);
    node.args(["--test", "--test-timeout", LONGEST_TEST_MS])
        .args(["--test-reporter", report])
        .args(files)
        .env("APP_URL", address)
        .env("CHROMIUM", &browser.chromium)
        .env("SCREENSHOTS", project.screenshots());
    process::run(&mut node)
}

fn test_files(folder: &Path, filter: Option<&str>) -> Outcome<Vec<PathBuf>> {
    let mut files = Vec::new();
    for file in because(fs::read_dir(folder), folder.display())? {
        let path = because(file, folder.display())?.path();
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        if name.ends_with(".test.mjs") && name.contains(filter.unwrap_or_default()) {
            files.push(path);
        }
    }
    files.sort();
    if files.is_empty() {
        return Err(Stop("No browser test has that word in its file name.".into()));
    }
    Ok(files)
}
