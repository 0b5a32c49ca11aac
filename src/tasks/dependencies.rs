//! What may be built into the project: libraries from crates.io only, under
//! licences that let anybody use what is made of them. All of it is judged by
//! what is here already, so that it needs no network.
//!
//! Known vulnerabilities are looked up where `cargo audit` and its list are on
//! the machine; without them that is skipped, and said.

use crate::process::{Outcome, Stop, because, find_program, output, run};
use crate::project::Project;
use std::fs;
use std::path::PathBuf;

/// Licences that ask for no more than their text to be passed on.
const LICENCES: [&str; 11] = [
    "0BSD",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "CC0-1.0",
    "MIT",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// Where libraries may come from.
const SOURCE: &str = "registry+https://github.com/rust-lang/crates.io-index";

/// Checks sources and licences of everything in `Cargo.lock`.
pub fn check(project: &Project) -> Outcome {
    let lock = project.root().join("Cargo.lock");
    let lock = because(fs::read_to_string(&lock), lock.display())?;
    let mut faults = foreign_sources(&lock);
    let mut cargo = project.command("cargo");
    // With every kind of dependency and for every system.
    cargo.args(["tree", "--workspace", "--locked", "--target", "all", "--edges", "normal,build,dev"]);
    faults.extend(unfit_licences(&output(cargo.args(["--prefix", "none", "--format", "{p}|{l}"]))?));
    if faults.is_empty() { look_up_vulnerabilities(project) } else { Err(Stop(faults.join("\n"))) }
}

/// Each package with another source than the one allowed; those of this
/// project have none.
fn foreign_sources(lock: &str) -> Vec<String> {
    let mut faults = Vec::new();
    for package in lock.split("[[package]]").skip(1) {
        let value = |key: &str| {
            let line = package.lines().find_map(|line| line.strip_prefix(key)?.strip_prefix(" = "));
            line.map(|text| text.trim_matches('"'))
        };
        let name = value("name").unwrap_or_default();
        match (value("source"), value("checksum")) {
            (None, _) | (Some(SOURCE), Some(_)) => {}
            (Some(SOURCE), None) => faults.push(format!("{name} has no checksum in Cargo.lock.")),
            (Some(other), _) => faults.push(format!("{name} comes from {other}; only crates.io is allowed.")),
        }
    }
    faults
}

/// Each package whose licence is missing or leaves no allowed choice; `tree`
/// has a line `name version|licence` for each.
fn unfit_licences(tree: &str) -> Vec<String> {
    let packages = tree.lines().filter_map(|line| line.trim_end_matches(" (*)").split_once('|'));
    let mut faults: Vec<String> = packages
        .filter(|(_, licence)| !is_allowed(licence))
        .map(|(package, licence)| format!("{package} has a licence that is not allowed: “{licence}”."))
        .collect();
    faults.sort();
    faults.dedup();
    faults
}

/// Whether an SPDX expression leaves an allowed choice. The old `/` means OR.
fn is_allowed(licence: &str) -> bool {
    let spaced = licence.replace('/', " OR ").replace('(', " ( ").replace(')', " ) ");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let mut rest = words.as_slice();
    any_of(&mut rest) && rest.is_empty()
}

fn any_of(words: &mut &[&str]) -> bool {
    let mut allowed = all_of(words);
    while let ["OR", rest @ ..] = *words {
        *words = rest;
        allowed |= all_of(words);
    }
    allowed
}

fn all_of(words: &mut &[&str]) -> bool {
    let mut allowed = one(words);
    while let ["AND", rest @ ..] = *words {
        *words = rest;
        allowed &= one(words);
    }
    allowed
}

fn one(words: &mut &[&str]) -> bool {
    match *words {
        ["(", rest @ ..] => {
            *words = rest;
            let allowed = any_of(words);
            let closed = words.first() == Some(&")");
            *words = words.get(1..).unwrap_or_default();
            allowed && closed
        }
        [name, "WITH", exception, rest @ ..] => {
            *words = rest;
            LICENCES.contains(&format!("{name} WITH {exception}").as_str())
        }
        [name, rest @ ..] => {
            *words = rest;
            LICENCES.contains(name)
        }
        [] => false,
    }
}

fn look_up_vulnerabilities(project: &Project) -> Outcome {
    let list = cargo_home().map(|home| home.join("advisory-db")).filter(|list| list.is_dir());
    match (find_program("cargo-audit"), list) {
        // The list as it is here: the check must not depend on a network.
        (Some(_), Some(_)) => run(project.command("cargo").args(["audit", "--no-fetch", "--stale"])),
        _ => {
            println!(
                "Known vulnerabilities were not looked up: `cargo audit` or its list is not on this machine. \
                 To have them, run `cargo install cargo-audit` and `cargo audit` once with a network."
            );
            Ok(())
        }
    }
}

fn cargo_home() -> Option<PathBuf> {
    let told = std::env::var_os("CARGO_HOME").map(PathBuf::from);
    told.or_else(|| std::env::home_dir().map(|home| home.join(".cargo")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_licence_is_allowed_if_it_leaves_an_allowed_choice() {
        for licence in [
            "MIT",
            "MIT/Apache-2.0",
            "MIT OR Apache-2.0 OR LGPL-2.1-or-later",
            "(MIT OR Apache-2.0) AND Unicode-3.0",
            "Apache-2.0 WITH LLVM-exception OR GPL-3.0",
            "GPL-3.0 AND LGPL-3.0 OR Zlib",
        ] {
            assert!(is_allowed(licence), "{licence}");
        }
        for licence in [
            "",
            "GPL-3.0",
            "MIT AND GPL-3.0",
            "(MIT OR Apache-2.0) AND LGPL-3.0",
            "MIT AND (GPL-3.0 OR AGPL-3.0)",
            "(MIT",
            "MIT Apache-2.0",
            "MIT WITH a-secret",
        ] {
            assert!(!is_allowed(licence), "{licence}");
        }
    }

    #[test]
    fn an_unfit_licence_is_named_once() {
        let tree = "a v1.0.0|MIT\nb v2.0.0 (proc-macro)|GPL-3.0\nb v2.0.0 (proc-macro)|GPL-3.0 (*)\n[dev-dependencies]\nc v3.0.0|\n";
        assert_eq!(
            unfit_licences(tree),
            [
                "b v2.0.0 (proc-macro) has a licence that is not allowed: “GPL-3.0”.",
                "c v3.0.0 has a licence that is not allowed: “”."
            ]
        );
    }

    #[test]
    fn only_crates_io_is_a_source() {
        let package = |name: &str, rest: &str| format!("[[package]]\nname = \"{name}\"\nversion = \"1.0.0\"\n{rest}\n");
        let lock = [
            package("own", ""),
            package("good", &format!("source = \"{SOURCE}\"\nchecksum = \"abc\"")),
            package("bare", &format!("source = \"{SOURCE}\"")),
            package("git", "source = \"git+https://example.org/x\""),
        ];
        assert_eq!(
            foreign_sources(&lock.concat()),
            [
                "bare has no checksum in Cargo.lock.",
                "git comes from git+https://example.org/x; only crates.io is allowed."
            ]
        );
    }
}
