//! The tail of an address that somebody sent.

use spindlewise_engine::scenario::link::{self, LONGEST_LINK, LinkError};

/// Takes the bytes as the letters of a link, and as what is packed into one.
pub fn holds(bytes: &[u8]) -> bool {
    let as_letters = reads(&String::from_utf8_lossy(bytes));
    reads(&letters(bytes)) || as_letters
}

fn reads(link: &str) -> bool {
    match link::read(link) {
        Ok(scenario) => {
            assert!(link.len() <= LONGEST_LINK);
            super::scenario::is_whole(&scenario);
            true
        }
        Err(why) => {
            super::is_said(&why.to_string());
            assert_eq!(link.len() > LONGEST_LINK, matches!(why, LinkError::TooLong { .. }), "{why:?}");
            false
        }
    }
}

/// RFC 4648, section 5, without padding; slow and plain.
fn letters(bytes: &[u8]) -> String {
    let alphabet: Vec<char> = ('A'..='Z').chain('a'..='z').chain('0'..='9').chain(['-', '_']).collect();
    let bit = |at: usize| bytes.get(at / 8).is_some_and(|byte| byte >> (7 - at % 8) & 1 == 1);
    let count = (8 * bytes.len()).div_ceil(6);
    let letter = |at: usize| (0..6).fold(0, |value, next| value << 1 | usize::from(bit(6 * at + next)));
    (0..count).map(|at| alphabet[letter(at)]).collect()
}
