//! Builds the app into `dist/` with Trunk.

use crate::process::{Outcome, run};
use crate::project::Project;
use crate::setup::Web;
use crate::setup::wasm_target::TARGET;
use std::process::Stdio;

/// How the app is compiled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Profile {
    /// As it is handed out.
    Release,
    /// Unoptimised, in less time.
    Dev,
}

/// Builds the app.
pub fn build(project: &Project, web: &Web, profile: Profile) -> Outcome {
    // Trunk works offline, so the libraries have to be here before.
    let mut fetch = project.command("cargo");
    run(fetch.args(["fetch", "--quiet", "--target", TARGET, "--target", "host-tuple"]))?;

    let mut trunk = project.command("trunk");
    web.toolchain.apply(&mut trunk, &web.programs)?;
    trunk
        .args(["build", "--log", "warn"])
        .arg(match profile {
            Profile::Release => "--release=true",
            Profile::Dev => "--release=false",
        })
        .env_remove("NO_COLOR")
        .stdin(Stdio::null());
    run(&mut trunk)
}
