//! The name of a scenario, which may be as long as an entry.

/// So many characters are a name and not yet a tale.
const BRIEF: usize = 60;

/// The name for the middle of a sentence: a long one is cut.
pub fn brief(name: &str) -> String {
    match name.char_indices().nth(BRIEF) {
        Some((end, _)) => format!("{}…", name[..end].trim_end()),
        None => name.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_long_names_are_cut() {
        let long = "ü".repeat(BRIEF);
        assert_eq!(brief(&long), long);
        assert_eq!(brief(&format!("{long}x")), format!("{long}…"));
        assert_eq!(brief("My mill"), "My mill");
    }
}
