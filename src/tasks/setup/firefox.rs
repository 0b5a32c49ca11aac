//! A second browser for the tests: the Firefox the machine has. Without one
//! its tests are skipped, and say so.

use super::apt::Apt;
use super::say;
use crate::process::{Outcome, Stop, find_program};
use std::path::PathBuf;

const NAMES: [&str; 2] = ["firefox-esr", "firefox"];

const MAC_APPLICATION: &str = "/Applications/Firefox.app/Contents/MacOS/firefox";

const WINDOWS_FOLDERS: [&str; 2] = ["ProgramFiles", "ProgramFiles(x86)"];

const WINDOWS_APPLICATION: &str = r"Mozilla Firefox\firefox.exe";

/// Finds or installs a Firefox; nothing where there is none to be had.
pub fn ensure() -> Outcome<Option<PathBuf>> {
    if let Some(path) = std::env::var_os("FIREFOX").map(PathBuf::from) {
        let missing = || Stop(format!("FIREFOX names {}, which isn't there.", path.display()));
        return path.is_file().then(|| Some(path.clone())).ok_or_else(missing);
    }
    if let Some(path) = find() {
        return Ok(Some(path));
    }
    if let Some(apt) = Apt::find() {
        say("Debian's Firefox, the second browser of the tests");
        // Other systems with apt have it under another name, or not at all.
        if let Err(Stop(why)) = apt.update().and_then(|()| apt.install(&["firefox-esr"])) {
            say(&format!("went on without it, and without its tests. {why}"));
        }
    }
    Ok(find())
}

fn find() -> Option<PathBuf> {
    let on_path = NAMES.iter().find_map(|name| find_program(name));
    on_path.or_else(|| usual_places().into_iter().find(|path| path.is_file()))
}

fn usual_places() -> Vec<PathBuf> {
    let folders = WINDOWS_FOLDERS.iter().filter_map(std::env::var_os);
    let windows = folders.map(|folder| PathBuf::from(folder).join(WINDOWS_APPLICATION));
    std::iter::once(MAC_APPLICATION.into()).chain(windows).collect()
}
