//! Where things are in the project.

use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The project's folders.
#[derive(Debug)]
pub struct Project {
    root: PathBuf,
}

impl Project {
    /// The project this program was built from.
    pub fn find() -> Self {
        let tasks = Path::new(env!("CARGO_MANIFEST_DIR"));
        let root = tasks.ancestors().nth(2).unwrap_or(tasks);
        Self { root: root.into() }
    }

    /// The root of the repository.
    pub fn root(&self) -> &Path {
        &self.root
    }

    /// The root package's manifest.
    pub fn manifest(&self) -> PathBuf {
        self.root.join("Cargo.toml")
    }

    /// The built app.
    pub fn dist(&self) -> PathBuf {
        self.root.join("dist")
    }

    /// Where Cargo builds, as it was told.
    pub fn target(&self) -> PathBuf {
        let told = std::env::var_os("CARGO_TARGET_DIR");
        self.root.join(told.unwrap_or_else(|| "target".into()))
    }

    /// Outside tools, kept here so that nothing else on the machine changes.
    pub fn tools(&self) -> PathBuf {
        self.root.join(".tools")
    }

    /// The browser tests.
    pub fn browser_tests(&self) -> PathBuf {
        self.root.join("tests/browser")
    }

    /// Pictures taken by the browser tests.
    pub fn screenshots(&self) -> PathBuf {
        self.root.join("target/screenshots")
    }

    /// A program to be run in the root of the repository.
    pub fn command(&self, program: impl Into<OsString>) -> Command {
        let mut command = Command::new(program.into());
        command.current_dir(&self.root);
        command
    }
}
