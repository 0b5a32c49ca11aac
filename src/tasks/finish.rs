//! The last step of a build, called by Trunk before `dist/` is put in place.
//!
//! Trunk starts the app from a script inside the page. The page's security
//! policy lets scripts come from files beside it only, so that nothing that
//! finds its way into the page can run: the script is moved to a file. Then a
//! service worker is written that keeps every file of the app, so that it
//! works without a network from the second start on.

use crate::process::{Outcome, Stop, because};
use std::fs;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::{Path, PathBuf};

const SERVICE_WORKER: &str = include_str!("finish/service_worker.js");
const SERVICE_WORKER_FILE: &str = "service-worker.js";

/// Finishes the build in Trunk's staging folder.
pub fn finish_staging() -> Outcome {
    let staging = std::env::var_os("TRUNK_STAGING_DIR").map(PathBuf::from);
    let staging =
        staging.ok_or_else(|| Stop("Trunk calls this task at the end of a build; use `cargo task build`.".into()))?;
    move_scripts_to_files(&staging)?;
    write_service_worker(&staging)
}

fn move_scripts_to_files(folder: &Path) -> Outcome {
    let page = folder.join("index.html");
    let html = because(fs::read_to_string(&page), page.display())?;
    let (html, scripts) = without_inline_scripts(&html);
    for script in scripts {
        let file = folder.join(&script.name);
        because(fs::write(&file, script.text), file.display())?;
    }
    because(fs::write(&page, html), page.display())
}

#[derive(Debug, PartialEq, Eq)]
struct Script {
    name: String,
    text: String,
}

/// Replaces each `<script …>text</script>` by one that names a file.
fn without_inline_scripts(html: &str) -> (String, Vec<Script>) {
    let mut page = String::with_capacity(html.len());
    let mut scripts = Vec::new();
    let mut rest = html;
    while let Some((before, tag, text, after)) = next_script(rest) {
        page.push_str(before);
        page.push_str(tag);
        if text.trim().is_empty() {
            page.push_str(text);
        } else {
            let script = Script { name: format!("start-{:016x}.js", fingerprint(text)), text: text.to_owned() };
            page.truncate(page.len() - 1);
            page.push_str(&format!(" src=\"./{}\">", script.name));
            scripts.push(script);
        }
        rest = after;
    }
    page.push_str(rest);
    (page, scripts)
}

/// What stands before the next script, its opening tag, its text, and the rest
/// from its closing tag on.
fn next_script(html: &str) -> Option<(&str, &str, &str, &str)> {
    let start = html.find("<script")?;
    let tag_end = start + html[start..].find('>')? + 1;
    let text_end = tag_end + html[tag_end..].find("</script>")?;
    Some((&html[..start], &html[start..tag_end], &html[tag_end..text_end], &html[text_end..]))
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
    SERVICE_WORKER
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
    fn an_inline_script_becomes_a_file() {
        let (page, scripts) =
            without_inline_scripts("<head><script type=\"module\">\nimport x from './x.js';\n</script></head>");
        let [script] = scripts.as_slice() else {
            panic!("one script expected: {scripts:?}");
        };
        assert_eq!(script.text, "\nimport x from './x.js';\n");
        assert_eq!(page, format!("<head><script type=\"module\" src=\"./{}\"></script></head>", script.name));
    }

    #[test]
    fn scripts_that_are_files_already_and_the_page_around_them_stay() {
        let html = "<p>a</p><script src=\"./a.js\"></script><p>b</p>";
        assert_eq!(without_inline_scripts(html), (html.to_owned(), vec![]));
    }

    #[test]
    fn another_text_has_another_name() {
        let name = |html| without_inline_scripts(html).1.remove(0).name;
        assert_ne!(name("<script>a</script>"), name("<script>b</script>"));
        assert_eq!(name("<script>a</script>"), name("<p><script>a</script>"));
    }

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
