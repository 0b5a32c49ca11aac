//! Looks through what the project depends on: from where it comes, on what
//! terms, and whether something is known to be wrong with it.
//!
//! The rules stand in `.cargo/deny.toml`. All but the last needs no network and
//! no further tool; known vulnerabilities are cargo-deny's business, and where
//! it or its database is not to be had, a sentence says so and nothing fails.

mod licences;

use crate::process::{Outcome, Stop, because, run};
use crate::project::Project;
use licences::is_met;
use std::collections::BTreeMap;
use std::process::Stdio;

/// The folders of the project and of the fuzz targets, which are a package by
/// themselves.
const FOLDERS: [&str; 2] = ["", "tests/fuzz/"];

/// Checks every package that the project could be built with, on any system.
pub fn audit(project: &Project) -> Outcome {
    let read = |name: &str| because(std::fs::read_to_string(project.root().join(name)), name);
    let rules = Rules::parse(&read(".cargo/deny.toml")?)?;
    let mut faults = Vec::new();
    let mut packages = Some(BTreeMap::new());
    for folder in FOLDERS {
        faults.extend(rules.sources_of(&read(&format!("{folder}Cargo.lock"))?));
        packages = packages.zip(licences_of_packages(project, folder)).map(|(mut all, more)| {
            all.extend(more);
            all
        });
    }
    match packages {
        Some(packages) => {
            println!("Looked through {} packages.", packages.len());
            faults.extend(rules.terms_of(&packages));
        }
        None => println!("Licences not looked through: some packages are neither on this machine nor to be fetched."),
    }
    faults.sort();
    faults.dedup();
    if !faults.is_empty() {
        return Err(Stop(faults.join("\n")));
    }
    known_vulnerabilities(project)
}

/// What is allowed.
#[derive(Debug, PartialEq)]
struct Rules {
    licences: Vec<String>,
    banned: Vec<String>,
    registries: Vec<String>,
}

impl Rules {
    fn parse(text: &str) -> Outcome<Self> {
        let wanted = |section, key| {
            list_of(text, section, key)
                .ok_or_else(|| Stop(format!("deny.toml has no `{key} = [\"…\"]` in [{section}].")))
        };
        Ok(Rules {
            licences: wanted("licenses", "allow")?,
            banned: wanted("bans", "deny")?,
            registries: wanted("sources", "allow-registry")?,
        })
    }

    /// What in a lock file comes from elsewhere, can't be checked on arrival, or is banned.
    fn sources_of(&self, lock: &str) -> Vec<String> {
        let mut faults = Vec::new();
        for package in lock.split("[[package]]").skip(1) {
            let value = |key: &str| package.lines().find_map(|line| line.strip_prefix(key)?.split('"').nth(1));
            let name = value("name = ").unwrap_or("a package without a name");
            if self.banned.iter().any(|banned| banned == name) {
                faults.push(format!("{name} is banned in .cargo/deny.toml."));
            }
            // The project's own have no source.
            let Some(source) = value("source = ") else { continue };
            let known =
                source.strip_prefix("registry+").is_some_and(|from| self.registries.iter().any(|it| it == from));
            if !known {
                faults.push(format!("{name} comes from {source}, which .cargo/deny.toml doesn't allow."));
            } else if value("checksum = ").is_none() {
                faults.push(format!("{name} has no checksum in Cargo.lock."));
            }
        }
        faults
    }

    fn terms_of(&self, packages: &BTreeMap<String, String>) -> Vec<String> {
        let refused = packages.iter().filter(|(_, licence)| !is_met(licence, &self.licences));
        let fault = |(package, licence): (&String, &String)| {
            let terms = if licence.is_empty() { "no licence" } else { licence };
            format!("{package} is under {terms}, which .cargo/deny.toml doesn't allow.")
        };
        refused.map(fault).collect()
    }
}

/// The strings of `key = ["…", …]` in `[section]`, over one line or several.
/// Enough TOML for this one file.
fn list_of(text: &str, section: &str, key: &str) -> Option<Vec<String>> {
    let header = format!("[{section}]");
    let lines = text.lines().map(|line| line.split('#').next().unwrap_or_default().trim());
    let section = lines.skip_while(|line| *line != header).skip(1).take_while(|line| !is_header(line));
    let section = section.collect::<Vec<_>>().join(" ");
    let (_, list) = section.split_once(&format!("{key} = ["))?;
    let (list, _) = list.split_once(']')?;
    Some(list.split('"').skip(1).step_by(2).map(str::to_owned).collect())
}

fn is_header(line: &str) -> bool {
    line.starts_with('[') && line.ends_with(']')
}

/// The licence of each package by its name and version, or nothing when Cargo
/// can't look into all of them.
fn licences_of_packages(project: &Project, folder: &str) -> Option<BTreeMap<String, String>> {
    let tree = |more: &[&str]| {
        let mut tree = project.command("cargo");
        tree.args(["tree", "--locked", "--workspace", "--target", "all", "--edges", "all"]);
        tree.arg("--manifest-path").arg(project.root().join(folder).join("Cargo.toml"));
        tree.args(["--prefix", "none", "--format", "{p}|{l}"]).args(more);
        let output = tree.stdin(Stdio::null()).stderr(Stdio::null()).output().ok()?;
        output.status.success().then(|| String::from_utf8_lossy(&output.stdout).into_owned())
    };
    // Those for other systems are fetched only here.
    let listed = tree(&["--offline"]).or_else(|| tree(&[]))?;
    Some(packages_in(&listed))
}

fn packages_in(tree: &str) -> BTreeMap<String, String> {
    let package = |line: &str| {
        let (package, licence) = line.split_once('|')?;
        // `name v1.2.3 (proc-macro)`, and `(*)` at the end of one listed before.
        let package = package.split(" (").next()?;
        let licence = licence.strip_suffix("(*)").unwrap_or(licence);
        Some((package.to_owned(), licence.trim().to_owned()))
    };
    tree.lines().filter_map(package).collect()
}

/// By cargo-deny, from a public database that it keeps a copy of.
fn known_vulnerabilities(project: &Project) -> Outcome {
    let deny = |words: &[&str]| {
        let mut deny = project.command("cargo");
        deny.args(["deny", "--log-level", "error"]).args(words);
        deny
    };
    let silently = |words: &[&str]| {
        let quiet = deny(words).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).status();
        quiet.is_ok_and(|status| status.success())
    };
    if !silently(&["--version"]) {
        println!("Known vulnerabilities not looked for: that needs cargo-deny (`cargo install --locked cargo-deny`).");
        return Ok(());
    }
    // Its own reading of the same rules.
    run(&mut deny(&["check", "bans", "licenses", "sources"]))?;
    if !silently(&["fetch", "db"]) {
        println!("Known vulnerabilities not looked for: their database can't be fetched now.");
        return Ok(());
    }
    run(&mut deny(&["--offline", "check", "advisories"]))
}

#[cfg(test)]
mod tests {
    use super::*;

    const RULES: &str = r#"
[licenses]
# a remark
allow = [
    "MIT", # why
    "Zlib",
]

[bans]
deny = ["openssl-sys"]
multiple-versions = "allow"

[sources]
allow-registry = ["https://good.example/index"]
"#;

    fn rules() -> Rules {
        Rules::parse(RULES).unwrap()
    }

    #[test]
    fn rules_are_read_from_their_sections() {
        let list = |words: &[&str]| words.iter().map(|&word| word.to_owned()).collect::<Vec<_>>();
        let Rules { licences, banned, registries } = rules();
        assert_eq!(licences, list(&["MIT", "Zlib"]));
        assert_eq!(banned, list(&["openssl-sys"]));
        assert_eq!(registries, list(&["https://good.example/index"]));
        let Stop(sentence) = Rules::parse(&RULES.replace("[bans]", "[other]")).unwrap_err();
        assert!(sentence.contains("[bans]"), "{sentence}");
    }

    #[test]
    fn what_comes_from_elsewhere_is_named() {
        let package = |name: &str, more: &str| format!("[[package]]\nname = \"{name}\"\nversion = \"1.0.0\"\n{more}\n");
        let good = "source = \"registry+https://good.example/index\"";
        let lock = [
            package("ours", ""),
            package("fine", &format!("{good}\nchecksum = \"00\"")),
            package("unchecked", good),
            package("forked", "source = \"git+https://good.example/index#1234\""),
            package("openssl-sys", &format!("{good}\nchecksum = \"00\"")),
        ];
        let faults = rules().sources_of(&lock.concat());
        assert_eq!(faults.len(), 3, "{faults:?}");
        assert!(faults[0].starts_with("unchecked has no checksum"), "{faults:?}");
        assert!(faults[1].starts_with("forked comes from git+https"), "{faults:?}");
        assert!(faults[2].starts_with("openssl-sys is banned"), "{faults:?}");
    }

    #[test]
    fn terms_are_read_from_what_cargo_lists() {
        let tree = "a v1.0.0 (proc-macro)|MIT\nb v2.0.0 (/some/where)|Zlib/GPL-3.0\nb v2.0.0|Zlib/GPL-3.0 (*)\nc v3.0.0|\nd v4.0.0|GPL-3.0\n\n";
        let packages = packages_in(tree);
        assert_eq!(packages.keys().collect::<Vec<_>>(), ["a v1.0.0", "b v2.0.0", "c v3.0.0", "d v4.0.0"]);
        let faults = rules().terms_of(&packages);
        assert_eq!(faults.len(), 2, "{faults:?}");
        assert!(faults[0].starts_with("c v3.0.0 is under no licence"), "{faults:?}");
        assert!(faults[1].starts_with("d v4.0.0 is under GPL-3.0"), "{faults:?}");
    }
}
