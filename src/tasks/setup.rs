//! Sets up what the project needs and the machine doesn't have.
//!
//! Every step looks first and does nothing, without a word, when its part is
//! there; otherwise it says in one line what it installs and why. All that is
//! installed goes into `.tools/` and `tests/browser/node_modules/`, except what
//! only the system's own package manager or rustup can give.

mod apt;
mod cargo_tools;
mod chromium;
mod firefox;
mod npm;
pub mod wasm_target;

use crate::pins::Pins;
use crate::process::Outcome;
use crate::project::Project;
use std::path::PathBuf;
use wasm_target::WasmToolchain;

/// What it takes to build the app.
#[derive(Debug)]
pub struct Web {
    /// The Rust tools that can build for WebAssembly.
    pub toolchain: WasmToolchain,
    /// Folders with the programs Trunk calls.
    pub programs: Vec<PathBuf>,
}

/// What it takes to run the browser tests.
#[derive(Debug)]
pub struct Browser {
    /// The browser's program.
    pub chromium: PathBuf,
    /// The second browser's, where there is one.
    pub firefox: Option<PathBuf>,
    /// Node.js.
    pub node: PathBuf,
}

/// Sets up what building the app needs.
pub fn for_building(project: &Project) -> Outcome<Web> {
    let pins = Pins::read(&project.manifest())?;
    let toolchain = wasm_target::ensure(project, &pins)?;
    let scripts = npm::ensure_binaryen(project, &pins)?;
    let binaries = cargo_tools::ensure(project, &pins)?;
    Ok(Web { toolchain, programs: vec![binaries, scripts] })
}

/// Sets up what the browser tests need.
pub fn for_browser(project: &Project) -> Outcome<Browser> {
    let node = npm::ensure_test_packages(project)?;
    let chromium = chromium::ensure()?;
    let firefox = firefox::ensure()?;
    Ok(Browser { chromium, firefox, node })
}

/// Sets up everything; what takes longest comes last, so that whoever has to
/// install something by hand hears of it at once.
pub fn for_testing(project: &Project) -> Outcome<(Web, Browser)> {
    let browser = for_browser(project)?;
    Ok((for_building(project)?, browser))
}

/// Says what is about to be installed and why.
fn say(what: &str) {
    println!("Set-up: {what}");
}
