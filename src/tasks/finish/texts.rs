//! Makes the page's own texts smaller.

use crate::process::{Outcome, because};
use std::fs;
use std::path::Path;

/// Puts all style sheets of the page into one and takes from it and from the
/// scripts what only their readers need.
pub fn shrink(folder: &Path) -> Outcome {
    let page = folder.join("index.html");
    let text = because(fs::read_to_string(&page), page.display())?;
    let (text, sheets) = take_out_sheets(&text);
    let mut style = String::new();
    for sheet in &sheets {
        let file = folder.join(sheet);
        style += &bare(&because(fs::read_to_string(&file), file.display())?);
        because(fs::remove_file(&file), file.display())?;
    }
    let name = format!("style-{:016x}.css", super::fingerprint(&style));
    because(fs::write(folder.join(&name), style), &name)?;
    let link = format!("<link rel=\"stylesheet\" href=\"./{name}\">\n</head>");
    because(fs::write(&page, text.replacen("</head>", &link, 1)), page.display())?;

    for entry in because(fs::read_dir(folder), folder.display())? {
        let path = because(entry, folder.display())?.path();
        if path.extension().is_some_and(|ending| ending == "js") {
            let script = because(fs::read_to_string(&path), path.display())?;
            because(fs::write(&path, bare(&script)), path.display())?;
        }
    }
    Ok(())
}

/// The page without its links to style sheets, and what they lead to.
fn take_out_sheets(page: &str) -> (String, Vec<String>) {
    const LINK: &str = "<link rel=\"stylesheet\" href=\"./";
    let mut parts = page.split(LINK);
    let mut rest = parts.next().unwrap_or_default().to_owned();
    let mut sheets = Vec::new();
    for part in parts {
        let (address, after) = part.split_once('"').unwrap_or_default();
        sheets.push(address.to_owned());
        rest += after.split_once('>').unwrap_or_default().1.trim_start();
    }
    (rest, sheets)
}

/// A style sheet or script without indentation and without comments that stand
/// on lines of their own.
pub fn bare(text: &str) -> String {
    let mut within = false;
    let mut kept = String::new();
    for line in text.lines().map(str::trim) {
        within |= line.starts_with("/*") && (line.ends_with("*/") || !line.contains("*/"));
        if !within && !line.is_empty() && !line.starts_with("//") {
            kept.push_str(line);
            kept.push('\n');
        }
        within &= !line.ends_with("*/");
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_is_read_by_people_goes() {
        let text = "/* One. */\na {\n  /* Two\n     lines. */\n  color: red; /* three */\n}\n\n// four\n/* five */ let a = 1;\n";
        assert_eq!(bare(text), "a {\ncolor: red; /* three */\n}\n/* five */ let a = 1;\n");
    }

    #[test]
    fn style_sheets_are_found_in_their_order() {
        let page = "<title>A</title>\n<link rel=\"stylesheet\" href=\"./b.css\"/>\n<link rel=\"stylesheet\" href=\"./a.css\" />\n<link rel=\"icon\" href=\"c\">";
        let (rest, sheets) = take_out_sheets(page);
        assert_eq!(rest, "<title>A</title>\n<link rel=\"icon\" href=\"c\">");
        assert_eq!(sheets, ["b.css", "a.css"]);
    }
}
