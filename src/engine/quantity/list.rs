//! Several quantities in one line, as people type them.

use super::units;

/// The items of a list: "500, 780; 1250 2100 rpm". Commas, semicolons, line ends
/// and blanks all part them; a unit stays with the number before it.
pub fn items(text: &str) -> Vec<&str> {
    text.split([',', ';', '\n', '\t']).flat_map(numbers).collect()
}

/// Parts a piece where a blank is followed by a number.
fn numbers(piece: &str) -> Vec<&str> {
    let mut items = Vec::new();
    let mut rest = piece.trim();
    while !rest.is_empty() {
        let end = next_number(rest).unwrap_or(rest.len());
        items.push(rest[..end].trim_end());
        rest = &rest[end..];
    }
    items
}

/// Where the second number of `text` starts.
fn next_number(text: &str) -> Option<usize> {
    let starts = |index: &usize| {
        let word = text[*index..].split_whitespace().next().unwrap_or_default();
        // "1/min" begins with a digit too.
        word.starts_with(|char: char| char.is_ascii_digit()) && units::find_anywhere(word).is_none()
    };
    let after_blanks =
        text.char_indices().filter(|(_, char)| char.is_whitespace()).map(|(at, char)| at + char.len_utf8());
    after_blanks.filter(|&at| text[at..].starts_with(|char: char| !char.is_whitespace())).find(starts)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_part_at_whatever_people_use() {
        let four = ["500", "780", "1250", "2100"];
        for text in [
            "500, 780, 1250, 2100",
            "500;780;1250;2100",
            "500 780  1250 2100",
            " 500,780,\n1250 ; 2100, ",
            "500\t780,1250,2100",
        ] {
            assert_eq!(items(text), four, "{text}");
        }
        assert_eq!(
            items("500 rpm, 780 1/min 1250rpm 2100 rev/min"),
            ["500 rpm", "780 1/min", "1250rpm", "2100 rev/min"]
        );
        assert_eq!(items("500, fast, 12O0"), ["500", "fast", "12O0"]);
        assert!(items(" ,; \n").is_empty());
        // Blanks of any width, and letters of any length, are parted whole.
        assert_eq!(items("µ\u{a0}5 ½\u{2009}7"), ["µ", "5 ½", "7"]);
    }
}
