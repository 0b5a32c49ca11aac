//! The last step of a build, called by Trunk before `dist/` is put in place.
//!
//! What is handed out is made smaller. A service worker is written that keeps
//! every file of the app, so that it works without a network from the second
//! start on. Then the whole app is put into one page that needs no server at all.

mod module;
mod order;
mod program;
mod texts;

use crate::process::{Outcome, Stop, because, find_program, run};
use crate::project::Project;
use std::fs;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::{Path, PathBuf};

const SERVICE_WORKER: &str = include_str!("finish/service_worker.js");
const SERVICE_WORKER_FILE: &str = "service-worker.js";

/// Finishes the build in Trunk's staging folder.
pub fn finish_staging(project: &Project) -> Outcome {
    let staging = std::env::var_os("TRUNK_STAGING_DIR").map(PathBuf::from);
    let staging =
        staging.ok_or_else(|| Stop("Trunk calls this task at the end of a build; use `cargo task build`.".into()))?;
    texts::shrink(&staging)?;
    if std::env::var_os("TRUNK_PROFILE").is_some_and(|profile| profile == "release") {
        program::shrink(project, &staging)?;
    }
    write_service_worker(&staging)?;
    // After it, so that what is kept for the served app doesn't hold it twice.
    write_one_file(project, &staging)
}

fn write_one_file(project: &Project, folder: &Path) -> Outcome {
    let node = find_program("node");
    let node = node.ok_or_else(|| Stop("The build needs Node.js: install it and try again.".into()))?;
    let mut node = project.command(node);
    run(node.arg(project.root().join("src/tasks/finish/one_file.mjs")).arg(folder))
}

fn write_service_worker(folder: &Path) -> Outcome {
    let mut files = Vec::new();
    collect_files(folder, "", &mut files)?;
    files.sort();
    let file = folder.join(SERVICE_WORKER_FILE);
    because(fs::write(&file, service_worker(&files)), file.display())
}

/// Names relative to the served folder, with `/`, and what is in the files.
fn collect_files(folder: &Path, prefix: &str, files: &mut Vec<(String, Vec<u8>)>) -> Outcome {
    for entry in because(fs::read_dir(folder), folder.display())? {
        let path = because(entry, folder.display())?.path();
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        let name = format!("{prefix}{name}");
        if path.is_dir() {
            collect_files(&path, &format!("{name}/"), files)?;
        } else {
            files.push((name, because(fs::read(&path), path.display())?));
        }
    }
    Ok(())
}

/// The worker for these files. Its cache is named after their content, so that
/// each version has one of its own.
fn service_worker(files: &[(String, Vec<u8>)]) -> String {
    let names = files.iter().map(|(name, _)| name.as_str());
    // The folder's own address is the page too.
    let names: Vec<_> = ["./"].into_iter().chain(names).collect();
    texts::bare(SERVICE_WORKER)
        .replace("__CACHE__", &format!("spindlewise-{:016x}", fingerprint(files)))
        .replace("__FILES__", &format!("{names:?}"))
}

/// Tells one content from another in a name, so that a browser's cache never
/// mistakes the old for the new.
fn fingerprint(content: &(impl Hash + ?Sized)) -> u64 {
    let mut hasher = DefaultHasher::new();
    content.hash(&mut hasher);
    hasher.finish()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_service_worker_names_every_file_and_the_version() {
        let files = |text: &str| vec![("a b/c.css".to_owned(), text.as_bytes().to_vec())];
        let worker = service_worker(&files("one"));
        assert!(worker.contains(r#"const FILES = ["./", "a b/c.css"];"#), "{worker}");
        assert!(!worker.contains("__"), "a placeholder is left: {worker}");
        assert_eq!(worker, service_worker(&files("one")));
        assert_ne!(worker, service_worker(&files("two")));
    }
}
