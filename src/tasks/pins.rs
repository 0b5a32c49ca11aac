//! The versions of the outside tools, read from where they are pinned.
//!
//! Trunk and Binaryen stand in the root `Cargo.toml` under
//! `[workspace.metadata.tools]`. The command-line half of wasm-bindgen has to
//! equal the library half to the last digit, so its pin is the dependency's
//! own `=` version. What the browser tests need stands in their `package.json`.

use crate::process::{Outcome, Stop, because};
use std::path::Path;

/// The pinned versions, such as `0.21.14`.
#[derive(Debug, PartialEq, Eq)]
pub struct Pins {
    /// Trunk, which drives the build of the app.
    pub trunk: String,
    /// wasm-bindgen's command-line tool, which Trunk calls.
    pub wasm_bindgen: String,
    /// Binaryen's npm package, whose `wasm-opt` Trunk calls.
    pub binaryen: String,
    /// The oldest Rust that can build the project.
    pub rust: String,
}

impl Pins {
    /// Reads the pins from the root `Cargo.toml`.
    pub fn read(manifest: &Path) -> Outcome<Self> {
        let text = std::fs::read_to_string(manifest);
        Self::parse(&because(text, manifest.display())?)
    }

    fn parse(manifest: &str) -> Outcome<Self> {
        let wanted = |section, key| {
            value_of(manifest, section, key)
                .map(|value| value.trim_start_matches('=').to_owned())
                .ok_or_else(|| Stop(format!("Cargo.toml has no `{key} = \"…\"` in [{section}].")))
        };
        const WEB: &str = "target.'cfg(target_arch = \"wasm32\")'.dependencies";
        Ok(Self {
            trunk: wanted("workspace.metadata.tools", "trunk")?,
            wasm_bindgen: wanted(WEB, "wasm-bindgen")?,
            binaryen: wanted("workspace.metadata.tools", "binaryen")?,
            rust: wanted("workspace.package", "rust-version")?,
        })
    }
}

/// What the built app may weigh, in kB of 1000 bytes, compressed.
#[derive(Debug, PartialEq, Eq)]
pub struct Budgets {
    /// All that is loaded at the start.
    pub start: String,
    /// The one file.
    pub one_file: String,
}

impl Budgets {
    /// Reads them from the root `Cargo.toml`.
    pub fn read(manifest: &Path) -> Outcome<Self> {
        let text = std::fs::read_to_string(manifest);
        let text = because(text, manifest.display())?;
        let wanted = |key| {
            value_of(&text, "workspace.metadata.budgets", key)
                .filter(|value| value.parse::<f64>().is_ok_and(|kilobytes| kilobytes > 0.0))
                .map(str::to_owned)
                .ok_or_else(|| Stop(format!("Cargo.toml has no number as `{key}` in [workspace.metadata.budgets].")))
        };
        Ok(Self { start: wanted("start")?, one_file: wanted("one-file")? })
    }
}

/// The text of `key = "text"` in `[section]`. Enough TOML for one line; the
/// whole of it is Cargo's business.
fn value_of<'a>(manifest: &'a str, section: &str, key: &str) -> Option<&'a str> {
    let header = format!("[{section}]");
    let mut lines = manifest.lines().map(str::trim);
    lines.find(|line| *line == header)?;
    lines
        .take_while(|line| !line.starts_with('['))
        .filter_map(|line| line.split_once('='))
        .find(|(name, _)| name.trim() == key)
        .and_then(|(_, value)| value.split('"').nth(1))
}

/// The version a tool tells about itself: `trunk 0.21.14` or
/// `rustc 1.95.0 (59807616e 2026-04-14)`.
pub fn version_in(line: &str) -> Option<&str> {
    line.split_whitespace()
        .map(|word| word.trim_start_matches('v'))
        .find(|word| word.starts_with(|c: char| c.is_ascii_digit()))
}

/// Whether `version` is `least` or later, part by part; a part that is missing
/// counts as 0, and so does one that is not a number.
pub fn at_least(version: &str, least: &str) -> bool {
    parts(version) >= parts(least)
}

fn parts(version: &str) -> [u32; 3] {
    let mut parts = [0; 3];
    for (slot, part) in parts.iter_mut().zip(version.split(['.', '-', '+'])) {
        *slot = part.parse().unwrap_or(0);
    }
    parts
}

#[cfg(test)]
mod tests {
    use super::*;

    const MANIFEST: &str = r#"
[workspace.package]
rust-version = "1.95"

[workspace.metadata.tools]
# a remark
trunk = "0.21.14"
binaryen = "132.0.0" # why

[dependencies]
wasm-bindgen = "=9.9.9"

[target.'cfg(target_arch = "wasm32")'.dependencies]
web-sys = { version = "0.3" }
wasm-bindgen = "=0.2.130"
"#;

    #[test]
    fn pins_come_from_their_own_sections() {
        assert_eq!(
            Pins::parse(MANIFEST),
            Ok(Pins {
                trunk: "0.21.14".into(),
                wasm_bindgen: "0.2.130".into(),
                binaryen: "132.0.0".into(),
                rust: "1.95".into(),
            })
        );
    }

    #[test]
    fn a_missing_pin_is_named() {
        let without = MANIFEST.replace("binaryen", "something");
        let Stop(sentence) = Pins::parse(&without).unwrap_err();
        assert!(sentence.contains("binaryen"), "{sentence}");
    }

    #[test]
    fn the_manifest_of_this_project_has_every_pin() {
        let pins = Pins::read(&crate::project::Project::find().manifest()).unwrap();
        for version in [pins.trunk, pins.wasm_bindgen, pins.binaryen] {
            assert_eq!(version.split('.').count(), 3, "{version} is not a full version");
        }
    }

    #[test]
    fn the_manifest_of_this_project_has_budgets() {
        let budgets = Budgets::read(&crate::project::Project::find().manifest()).unwrap();
        assert_ne!(budgets.start, budgets.one_file);
    }

    #[test]
    fn versions_are_found_in_what_tools_print() {
        assert_eq!(version_in("trunk 0.21.14"), Some("0.21.14"));
        assert_eq!(version_in("v20.20.2"), Some("20.20.2"));
        assert_eq!(version_in("rustc 1.95.0 (59807616e 2026-04-14)"), Some("1.95.0"));
        assert_eq!(version_in("no version"), None);
    }

    #[test]
    fn versions_compare_by_number() {
        assert!(at_least("1.100.0", "1.95"));
        assert!(at_least("1.95.0", "1.95"));
        assert!(at_least("20.20.2", "20"));
        assert!(!at_least("1.94.9", "1.95"));
        assert!(!at_least("18.20.4", "20"));
    }
}
