//! A browser for the tests: any Chromium the machine has.

use super::apt::Apt;
use super::say;
use crate::process::{Outcome, Stop, find_program};
use std::path::PathBuf;

const NAMES: [&str; 5] = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "microsoft-edge"];

const MAC_APPLICATIONS: [&str; 3] = [
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
];

const WINDOWS_FOLDERS: [&str; 3] = ["ProgramFiles", "ProgramFiles(x86)", "LocalAppData"];

const WINDOWS_APPLICATIONS: [&str; 3] = [
    r"Chromium\Application\chrome.exe",
    r"Google\Chrome\Application\chrome.exe",
    r"Microsoft\Edge\Application\msedge.exe",
];

/// Finds or installs a Chromium.
pub fn ensure() -> Outcome<PathBuf> {
    for variable in ["CHROMIUM", "CHROME"] {
        if let Some(path) = std::env::var_os(variable).map(PathBuf::from) {
            let missing = || Stop(format!("{variable} names {}, which isn't there.", path.display()));
            return path.is_file().then(|| path.clone()).ok_or_else(missing);
        }
    }
    if let Some(path) = find() {
        return Ok(path);
    }
    if let Some(apt) = Apt::find() {
        say("Debian's Chromium, which the browser tests run in");
        apt.update()?;
        apt.install(&["chromium"])?;
    }
    find().ok_or_else(|| {
        Stop(
            "The browser tests need Chromium, Chrome or Edge: install one, \
             or put the path of its program in the variable CHROMIUM."
                .into(),
        )
    })
}

fn find() -> Option<PathBuf> {
    let on_path = NAMES.iter().find_map(|name| find_program(name));
    on_path.or_else(|| usual_places().into_iter().find(|path| path.is_file()))
}

fn usual_places() -> Vec<PathBuf> {
    let mac = MAC_APPLICATIONS.iter().map(PathBuf::from);
    let folders = WINDOWS_FOLDERS.iter().filter_map(std::env::var_os);
    let windows =
        folders.flat_map(|folder| WINDOWS_APPLICATIONS.map(|application| PathBuf::from(&folder).join(application)));
    mac.chain(windows).collect()
}
