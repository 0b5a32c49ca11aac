//! The project's task runner: sets up the outside tools, builds, serves and
//! checks the app. It uses the standard library only, so that it is itself
//! built in a moment on any machine that has Rust.
//!
//! Reached through the aliases in `.cargo/config.toml`: `cargo app`,
//! `cargo verify` and, for the parts they are made of, `cargo task <name>`.

mod audit;
mod browser_tests;
mod finish;
mod fuzz;
mod pins;
mod process;
mod project;
mod serve;
mod setup;
mod verify;
mod web_build;
mod weight;

use process::Outcome;
use project::Project;
use std::process::ExitCode;

const USAGE: &str = "\
cargo app                 set up what is missing, build the app and serve it on this machine
cargo verify              set up what is missing, then run every check of the project

cargo task setup          set up what is missing and stop
cargo task build          build dist/, with the whole app in dist/spindlewise.html too
cargo task build --dev    build dist/ unoptimised, in less time
cargo task serve          serve dist/ as it is
cargo task weigh          say what dist/ weighs, against its budget
cargo task audit          look through what the project depends on
cargo task fuzz           try every reader of foreign text for 60 s with made-up input;
                          a word after it picks one of them, a number the seconds
cargo task browser-tests  run the browser tests against dist/ as it is;
                          a word after it runs only the files with it in their name";

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    match run(&words) {
        Ok(()) => ExitCode::SUCCESS,
        Err(stop) => {
            eprintln!("{stop}");
            ExitCode::FAILURE
        }
    }
}

fn run(words: &[&str]) -> Outcome {
    let project = Project::find();
    match words {
        ["app"] => {
            let web = setup::for_building(&project)?;
            web_build::build(&project, &web, web_build::Profile::Release)?;
            serve::serve_forever(&project.dist())
        }
        ["verify"] => verify::verify(&project),
        ["setup"] => setup::for_testing(&project).map(drop),
        ["build"] => {
            let web = setup::for_building(&project)?;
            web_build::build(&project, &web, web_build::Profile::Release)
        }
        ["build", "--dev"] => {
            let web = setup::for_building(&project)?;
            web_build::build(&project, &web, web_build::Profile::Dev)
        }
        ["weigh"] => weight::weigh(&project),
        ["audit"] => audit::audit(&project),
        ["fuzz", wish @ ..] => fuzz::fuzz(&project, wish),
        ["serve"] => serve::serve_forever(&project.dist()),
        ["browser-tests", filter @ ..] if filter.len() <= 1 => {
            let browser = setup::for_browser(&project)?;
            browser_tests::run(&project, &browser, filter.first().copied())
        }
        // Called by Trunk as the last step of a build.
        ["finish-build"] => finish::finish_staging(&project),
        [] | ["help" | "--help" | "-h"] => {
            println!("{USAGE}");
            Ok(())
        }
        _ => Err(process::Stop(format!("\"{}\" is not a task. These are:\n\n{USAGE}", words.join(" ")))),
    }
}
