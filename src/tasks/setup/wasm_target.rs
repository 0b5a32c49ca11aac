//! Rust for `wasm32-unknown-unknown`.
//!
//! With rustup it is one command. Where rustup is absent or can't download,
//! Debian has what is needed: a newer compiler (`rustc-web`), the source of its
//! standard library and LLVM's linker. The standard library is then built once
//! into `.tools/`, and that compiler is used for the app alone, with a build
//! folder of its own.

use super::apt::Apt;
use super::say;
use crate::pins::{Pins, at_least, version_in};
use crate::process::{Outcome, Stop, because, find_program, first_line, run, run_within};
use crate::project::Project;
use std::ffi::OsString;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

/// The target's name.
pub const TARGET: &str = "wasm32-unknown-unknown";

const DEBIAN_BIN: &str = "/usr/bin";
/// How long rustup may try where there is another way.
const SHORT_TRY: Duration = Duration::from_secs(90);
/// How long rustup may try where there is none.
const LONG_TRY: Duration = Duration::from_secs(15 * 60);

/// The Rust tools that can build for WebAssembly.
#[derive(Debug)]
pub enum WasmToolchain {
    /// The ones that build everything else.
    Usual,
    /// Debian's, with a standard library built by us.
    Debian {
        /// Where that library is.
        sysroot: PathBuf,
        /// LLVM's linker for WebAssembly.
        linker: PathBuf,
        /// A build folder of its own.
        target_dir: PathBuf,
    },
}

impl WasmToolchain {
    /// Readies a command to build for WebAssembly, with `programs` first on
    /// its PATH.
    pub fn apply(&self, command: &mut Command, programs: &[PathBuf]) -> Outcome {
        let mut folders = programs.to_vec();
        if let Self::Debian { sysroot, linker, target_dir } = self {
            folders.push(DEBIAN_BIN.into());
            // The first flag is that of `.cargo/config.toml`, which this one
            // takes the place of.
            let mut flags = OsString::from("-C target-feature=+simd128 --sysroot ");
            flags.push(sysroot);
            command
                .env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUSTFLAGS", flags)
                .env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER", linker)
                .env("CARGO_TARGET_DIR", target_dir);
            forget_usual_toolchain(command);
        }
        let path = std::env::var_os("PATH").unwrap_or_default();
        folders.extend(std::env::split_paths(&path));
        let path = std::env::join_paths(folders)
            .map_err(|error| Stop(format!("The project's folder can't be put on PATH: {error}.")))?;
        command.env("PATH", path);
        Ok(())
    }
}

/// Finds or installs the target.
pub fn ensure(project: &Project, pins: &Pins) -> Outcome<WasmToolchain> {
    if usual_has_target() {
        return Ok(WasmToolchain::Usual);
    }
    if let Some(built) = debian_built(project) {
        return Ok(built);
    }
    let apt = Apt::find();
    if find_program("rustup").is_some() {
        say("rustup's wasm32-unknown-unknown target, which the app is compiled for");
        let limit = if apt.is_some() { SHORT_TRY } else { LONG_TRY };
        let mut rustup = project.command("rustup");
        rustup.args(["target", "add", TARGET]).env("RUST_BACKTRACE", "0");
        let added = run_within(limit, &mut rustup);
        if added.is_ok() && usual_has_target() {
            return Ok(WasmToolchain::Usual);
        }
    }
    let Some(apt) = apt else {
        return Err(Stop(format!(
            "Rust on this machine can't build for the browser yet: \
             install its target with `rustup target add {TARGET}` and try again."
        )));
    };
    install_debian(&apt, pins)?;
    build_standard_library(project)?;
    debian_built(project).ok_or_else(|| Stop("Debian's Rust could not be set up.".into()))
}

fn usual_has_target() -> bool {
    let mut rustc = Command::new("rustc");
    rustc.args(["--print", "target-libdir", "--target", TARGET]);
    first_line(&mut rustc).is_some_and(|folder| has_standard_library(Path::new(&folder)))
}

fn has_standard_library(folder: &Path) -> bool {
    let is_std = |name: OsString| name.to_string_lossy().starts_with("libstd-");
    fs::read_dir(folder).is_ok_and(|mut files| files.any(|file| file.is_ok_and(|file| is_std(file.file_name()))))
}

fn install_debian(apt: &Apt, pins: &Pins) -> Outcome {
    say("Debian's rustc-web with lld, since rustup can't give the target the app is compiled for");
    apt.update()?;
    let lld = newest_lld(&apt.names("lld-")?);
    let lld = lld.ok_or_else(|| Stop("Debian's package list has no lld.".into()))?;
    apt.install(&["rustc-web", "cargo-web", "rust-web-src", "rust-web-clippy", &lld])?;
    let version = debian_rustc_version().unwrap_or_default();
    if version_in(&version).is_some_and(|version| at_least(version, &pins.rust)) {
        return Ok(());
    }
    Err(Stop(format!("Debian's rustc-web is \"{version}\", and the project needs Rust {} or later.", pins.rust)))
}

/// `lld-22` out of `lld-9`, `lld-22` and `lld-22-dev`.
fn newest_lld(packages: &[String]) -> Option<String> {
    let number = |name: &str| name.strip_prefix("lld-")?.parse::<u32>().ok();
    let newest = packages.iter().filter_map(|name| number(name)).max()?;
    Some(format!("lld-{newest}"))
}

fn debian_rustc_version() -> Option<String> {
    first_line(debian_command("rustc").arg("--version"))
}

fn debian_command(program: &str) -> Command {
    let mut command = Command::new(Path::new(DEBIAN_BIN).join(program));
    forget_usual_toolchain(&mut command);
    command
}

/// Takes away what the Cargo that started us told its own tools.
fn forget_usual_toolchain(command: &mut Command) {
    for name in ["CARGO", "RUSTC", "RUSTUP_TOOLCHAIN", "LD_LIBRARY_PATH"] {
        command.env_remove(name);
    }
}

/// The standard library built before, if it is that of the compiler now there.
fn debian_built(project: &Project) -> Option<WasmToolchain> {
    let sysroot = project.tools().join("wasm-sysroot");
    let stamp = fs::read_to_string(sysroot.join("rustc-version")).ok()?;
    let same = debian_rustc_version()? == stamp;
    let linker = newest_linker()?;
    let target_dir = project.target().join("web");
    let built = WasmToolchain::Debian { sysroot, linker, target_dir };
    same.then_some(built)
}

fn newest_linker() -> Option<PathBuf> {
    let number = |name: &str| name.strip_prefix("wasm-ld-")?.parse::<u32>().ok();
    let files = fs::read_dir(DEBIAN_BIN).ok()?.flatten();
    let numbers = files.filter_map(|file| number(file.file_name().to_str()?));
    let newest = numbers.max()?;
    Some(Path::new(DEBIAN_BIN).join(format!("wasm-ld-{newest}")))
}

fn build_standard_library(project: &Project) -> Outcome {
    let sysroot = project.tools().join("wasm-sysroot");
    if sysroot.to_string_lossy().contains(' ') {
        return Err(Stop(format!(
            "{} has a space in it, which Rust's settings can't take here: move the project.",
            project.root().display()
        )));
    }
    say("Rust's standard library for WebAssembly, built from Debian's source");
    let crate_folder = project.tools().join("wasm-std");
    let build = crate_folder.join("target");
    fresh_folder(&crate_folder)?;
    fresh_folder(&sysroot)?;
    write(&crate_folder.join("lib.rs"), "")?;
    write(&crate_folder.join("Cargo.toml"), EMPTY_CRATE)?;

    let mut cargo = debian_command("cargo");
    cargo
        .current_dir(&crate_folder)
        .args(["build", "--quiet", "--release", "--target", TARGET])
        .arg("-Zbuild-std=std,panic_abort")
        .env("RUSTC", Path::new(DEBIAN_BIN).join("rustc"))
        .env("RUSTC_BOOTSTRAP", "1")
        // Link-time optimisation of the app needs it.
        .env("RUSTFLAGS", "-Cembed-bitcode=yes")
        .env("CARGO_TARGET_DIR", &build)
        .stdin(Stdio::null());
    run(&mut cargo)?;

    let libraries = sysroot.join("lib/rustlib").join(TARGET).join("lib");
    because(fs::create_dir_all(&libraries), libraries.display())?;
    let built = build.join(TARGET).join("release/deps");
    for file in because(fs::read_dir(&built), built.display())? {
        let file = because(file, built.display())?.path();
        let name = file.file_name().unwrap_or_default();
        let is_library = file.extension().is_some_and(|ending| ending == "rlib");
        if is_library && !name.to_string_lossy().starts_with("libempty") {
            because(fs::copy(&file, libraries.join(name)), file.display())?;
        }
    }
    let version = debian_rustc_version().unwrap_or_default();
    write(&sysroot.join("rustc-version"), &version)
}

const EMPTY_CRATE: &str = "\
[package]
name = \"empty\"
version = \"0.0.0\"
edition = \"2024\"

[lib]
path = \"lib.rs\"

# A project of its own.
[workspace]
";

fn fresh_folder(folder: &Path) -> Outcome {
    if folder.exists() {
        because(fs::remove_dir_all(folder), folder.display())?;
    }
    because(fs::create_dir_all(folder), folder.display())
}

fn write(file: &Path, text: &str) -> Outcome {
    because(fs::write(file, text), file.display())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_newest_linker_package_is_the_highest_number() {
        let packages = ["lld-9", "lld-22", "lld-19", "lld-22-dev", "lld-mingw"];
        let packages = packages.map(str::to_owned);
        assert_eq!(newest_lld(&packages), Some("lld-22".into()));
        assert_eq!(newest_lld(&["lld".to_owned()]), None);
    }
}
