//! Debian's package manager, where there is one that may be used without a
//! password.

use crate::process::{Outcome, Stop, find_program, first_line, run_within};
use std::process::{Command, Stdio};
use std::time::Duration;

const LIMIT: Duration = Duration::from_secs(15 * 60);

/// apt, run by root or through a sudo that doesn't ask.
#[derive(Debug)]
pub struct Apt {
    through_sudo: bool,
}

impl Apt {
    /// apt, when it is there and allowed.
    pub fn find() -> Option<Self> {
        find_program("apt-get")?;
        if first_line(Command::new("id").arg("-u")).as_deref() == Some("0") {
            return Some(Self { through_sudo: false });
        }
        let mut sudo = Command::new("sudo");
        sudo.args(["-n", "true"]).stdin(Stdio::null());
        let silent = sudo.stdout(Stdio::null()).stderr(Stdio::null());
        silent.status().is_ok_and(|status| status.success()).then_some(Self { through_sudo: true })
    }

    /// Brings the list of packages up to date.
    pub fn update(&self) -> Outcome {
        self.run(&["update", "--quiet=2"])
    }

    /// Installs packages; never takes another one away.
    pub fn install(&self, packages: &[&str]) -> Outcome {
        let mut arguments = vec!["install", "--yes", "--quiet=2"];
        arguments.extend(["--no-install-recommends", "--no-remove"]);
        arguments.extend(packages);
        self.run(&arguments)
    }

    /// The packages whose name begins with `prefix`, as `apt-cache` lists them.
    pub fn names(&self, prefix: &str) -> Outcome<Vec<String>> {
        let output = Command::new("apt-cache").args(["pkgnames", prefix]).output();
        let output = output.map_err(|error| Stop(format!("apt-cache could not start: {error}.")))?;
        let text = String::from_utf8_lossy(&output.stdout);
        Ok(text.lines().map(str::to_owned).collect())
    }

    fn run(&self, arguments: &[&str]) -> Outcome {
        let mut command = if self.through_sudo {
            let mut sudo = Command::new("sudo");
            sudo.args(["-n", "DEBIAN_FRONTEND=noninteractive", "apt-get"]);
            sudo
        } else {
            let mut apt = Command::new("apt-get");
            apt.env("DEBIAN_FRONTEND", "noninteractive");
            apt
        };
        command.args(arguments).stdin(Stdio::null()).stdout(Stdio::null());
        run_within(LIMIT, &mut command)
    }
}
