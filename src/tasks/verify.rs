//! Every check of the project, one after the other.

use crate::audit::audit;
use crate::process::{Outcome, Stop, run};
use crate::project::Project;
use crate::setup::{self, Web};
use crate::web_build::{Profile, build};
use crate::weight;
use crate::{browser_tests, setup::wasm_target::TARGET};
use std::time::{Duration, Instant};

/// Runs every check, those after a failed one too, and sums up at the end.
pub fn verify(project: &Project) -> Outcome {
    let start = Instant::now();
    let (web, browser) = setup::for_testing(project)?;
    let mut checks = Checks::default();
    checks.run("formatting", || formatting(project));
    checks.run("lints of the whole workspace", || {
        let mut clippy = project.command("cargo");
        clippy.args(["clippy", "--quiet", "--workspace", "--all-targets"]);
        run(clippy.args(["--", "--deny", "warnings"]))
    });
    checks.run("lints of the app as compiled for the browser", || lint_for_browser(project, &web));
    checks.run("tests", || run(project.command("cargo").args(["test", "--workspace"])));
    checks.run("audit of what the project depends on", || audit(project));
    let built = checks.run("build of the app", || build(project, &web, Profile::Release));
    if built {
        checks.run("weight of the app", || weight::weigh(project));
        checks.run("browser tests", || browser_tests::run(project, &browser, None));
    }
    checks.sum_up(start.elapsed())
}

/// Of the workspace, and of the fuzz targets, which stand outside it.
fn formatting(project: &Project) -> Outcome {
    let check = |more: &[&str]| run(project.command("cargo").args(["fmt", "--check"]).args(more));
    check(&["--all"]).and(check(&["--manifest-path", "tests/fuzz/Cargo.toml"]))
}

fn lint_for_browser(project: &Project, web: &Web) -> Outcome {
    let mut clippy = project.command("cargo");
    web.toolchain.apply(&mut clippy, &[])?;
    // In the release profile, whose build scripts and macros the build of the
    // app needs as well.
    clippy.args(["clippy", "--quiet", "--release", "--package", "spindlewise"]);
    clippy.args(["--target", TARGET, "--", "--deny", "warnings"]);
    run(&mut clippy)
}

#[derive(Default)]
struct Checks {
    lines: Vec<String>,
    failed: Vec<&'static str>,
}

impl Checks {
    /// Runs one check; says whether it passed.
    fn run(&mut self, name: &'static str, check: impl FnOnce() -> Outcome) -> bool {
        println!("\n== {name}");
        let start = Instant::now();
        let result = check();
        let verdict = if result.is_ok() { "passed" } else { "FAILED" };
        let seconds = start.elapsed().as_secs_f64();
        self.lines.push(format!("{verdict} {seconds:7.1} s  {name}"));
        if let Err(stop) = &result {
            println!("{stop}");
            self.failed.push(name);
        }
        result.is_ok()
    }

    fn sum_up(self, took: Duration) -> Outcome {
        let minutes = took.as_secs() / 60;
        let seconds = took.as_secs() % 60;
        println!("\n{}", self.lines.join("\n"));
        if self.failed.is_empty() {
            println!("Everything passed, in {minutes} min {seconds} s.");
            return Ok(());
        }
        Err(Stop(format!("Failed: {}.", self.failed.join(", "))))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_failed_check_is_named_and_the_others_still_run() {
        let mut checks = Checks::default();
        assert!(!checks.run("first", || Err(Stop("broken.".into()))));
        assert!(checks.run("second", || Ok(())));
        assert_eq!(checks.lines.len(), 2);
        let Stop(sentence) = checks.sum_up(Duration::ZERO).unwrap_err();
        assert_eq!(sentence, "Failed: first.");
    }

    #[test]
    fn no_failed_check_is_a_success() {
        let mut checks = Checks::default();
        checks.run("only", || Ok(()));
        assert_eq!(checks.sum_up(Duration::from_secs(61)), Ok(()));
    }
}
