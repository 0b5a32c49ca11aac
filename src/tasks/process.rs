//! Running other programs, with a plain sentence when one of them fails.

use std::ffi::OsStr;
use std::fmt;
use std::io;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitStatus, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

/// Why a task can't go on, as a sentence for the person at the keyboard.
#[derive(Debug, PartialEq, Eq)]
pub struct Stop(pub String);

impl fmt::Display for Stop {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// What a task hands back.
pub type Outcome<T = ()> = Result<T, Stop>;

/// Turns an error of the operating system into a [`Stop`] that says what was
/// being done.
pub fn because<T>(result: io::Result<T>, doing: impl fmt::Display) -> Outcome<T> {
    result.map_err(|error| Stop(format!("{doing}: {error}.")))
}

/// Runs a program in the open: its output goes where ours goes.
pub fn run(command: &mut Command) -> Outcome {
    finish(command.status(), command)
}

/// Runs a program in the open and ends it when `limit` has passed.
pub fn run_within(limit: Duration, command: &mut Command) -> Outcome {
    let status = command.spawn().and_then(|child| wait(child, limit));
    match status {
        Ok(None) => Err(Stop(format!("{} took longer than {} s and was ended.", spoken(command), limit.as_secs()))),
        Ok(Some(status)) => finish(Ok(status), command),
        Err(error) => finish(Err(error), command),
    }
}

/// The first line a program prints, or nothing when it isn't there or fails.
pub fn first_line(command: &mut Command) -> Option<String> {
    let output = command.stdin(Stdio::null()).stderr(Stdio::null()).output();
    let output = output.ok().filter(|output| output.status.success())?;
    let text = String::from_utf8(output.stdout).ok()?;
    text.lines().next().map(|line| line.trim().to_owned())
}

/// Finds a program by name the way the shell would.
pub fn find_program(name: &str) -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    std::env::split_paths(&path).find_map(|folder| program_in(&folder, name))
}

/// Finds a program by name in one folder, with the endings Windows gives to
/// programs and scripts.
pub fn program_in(folder: &Path, name: &str) -> Option<PathBuf> {
    let endings: &[&str] = if cfg!(windows) { &[".exe", ".cmd", ".bat"] } else { &[""] };
    let candidates = endings.iter().map(|end| folder.join(format!("{name}{end}")));
    candidates.into_iter().find(|path| path.is_file())
}

fn wait(mut child: Child, limit: Duration) -> io::Result<Option<ExitStatus>> {
    let start = Instant::now();
    loop {
        if let Some(status) = child.try_wait()? {
            return Ok(Some(status));
        }
        if start.elapsed() >= limit {
            child.kill()?;
            child.wait()?;
            return Ok(None);
        }
        sleep(Duration::from_millis(50));
    }
}

fn finish(status: io::Result<ExitStatus>, command: &Command) -> Outcome {
    match status {
        Ok(status) if status.success() => Ok(()),
        Ok(status) => Err(Stop(format!("{} failed ({status}).", spoken(command)))),
        Err(error) => Err(Stop(format!("{} could not be started: {error}.", spoken(command)))),
    }
}

fn spoken(command: &Command) -> String {
    let program = Path::new(command.get_program());
    let name = program.file_stem().unwrap_or(program.as_os_str());
    let words = std::iter::once(name).chain(command.get_args());
    let words: Vec<_> = words.map(OsStr::to_string_lossy).collect();
    format!("`{}`", words.join(" "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_failure_names_the_program_and_its_arguments() {
        let mut command = Command::new("/nowhere/no-such-program");
        command.arg("--flag");
        let Stop(sentence) = run(&mut command).unwrap_err();
        assert!(sentence.starts_with("`no-such-program --flag` could not be started"));
    }

    #[test]
    fn a_program_that_is_not_there_says_nothing() {
        assert_eq!(first_line(&mut Command::new("/nowhere/no-such-program")), None);
        assert_eq!(find_program("no-such-program-anywhere"), None);
    }

    #[cfg(unix)]
    #[test]
    fn a_program_is_ended_at_its_limit() {
        let start = Instant::now();
        let result = run_within(Duration::from_millis(200), Command::new("sleep").arg("30"));
        assert!(result.unwrap_err().0.contains("was ended"));
        assert!(start.elapsed() < Duration::from_secs(10));
    }
}
