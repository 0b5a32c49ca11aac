//! A scenario as the tail of an address, for a friend or a picture to scan:
//! the exported text, compressed, in letters that need no escape.

use std::fmt;

use miniz_oxide::deflate::compress_to_vec;
use miniz_oxide::inflate::decompress_to_vec_with_limit;

use super::Scenario;
use super::document::{self, LONGEST, Unreadable};

/// Longest tail written, in characters: what messengers and browsers pass on.
pub const LONGEST_LINK: usize = 8000;

/// The highest level the format knows; there is little to compress.
const LEVEL: u8 = 9;

/// RFC 4648, section 5: the alphabet that needs no escape in an address.
const ALPHABET: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

/// Why a link brings no scenario.
#[derive(Clone, Debug, PartialEq)]
pub enum LinkError {
    /// There is more in the scenario than goes into a link.
    TooLong {
        /// Its characters.
        found: usize,
    },
    /// It was cut off or changed on its way.
    Garbled,
    /// What it holds can't be read.
    Unreadable(Unreadable),
}

impl fmt::Display for LinkError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            LinkError::TooLong { found } => write!(
                out,
                "This scenario would make a link of {found} characters; more than {LONGEST_LINK} get lost on the way. Export it to a file."
            ),
            LinkError::Garbled => {
                write!(out, "The link was cut off or changed on its way. Ask for it again, or for the file.")
            }
            LinkError::Unreadable(why) => why.fmt(out),
        }
    }
}

/// The tail of the address for `scenario`.
///
/// # Errors
/// [`LinkError::TooLong`].
pub fn write(scenario: &Scenario) -> Result<String, LinkError> {
    let text = serde_json::to_vec(scenario).unwrap_or_default();
    let link = to_letters(&compress_to_vec(&text, LEVEL));
    if link.len() > LONGEST_LINK { Err(LinkError::TooLong { found: link.len() }) } else { Ok(link) }
}

/// Reads the tail of an address.
///
/// # Errors
/// [`LinkError`] when it brings no scenario.
pub fn read(link: &str) -> Result<Scenario, LinkError> {
    if link.len() > LONGEST_LINK {
        return Err(LinkError::TooLong { found: link.len() });
    }
    let packed = from_letters(link).ok_or(LinkError::Garbled)?;
    // A few letters can stand for any length: no more is unpacked than is read.
    let text = decompress_to_vec_with_limit(&packed, LONGEST).map_err(|_| LinkError::Garbled)?;
    let text = String::from_utf8(text).map_err(|_| LinkError::Garbled)?;
    document::read(&text).map_err(LinkError::Unreadable)
}

/// Base64 without padding.
fn to_letters(bytes: &[u8]) -> String {
    let mut letters = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for group in bytes.chunks(3) {
        let bits = group.iter().enumerate().fold(0_u32, |bits, (i, &byte)| bits | u32::from(byte) << (16 - 8 * i));
        for i in 0..=group.len() {
            letters.push(char::from(ALPHABET[(bits >> (18 - 6 * i) & 63) as usize]));
        }
    }
    letters
}

fn from_letters(letters: &str) -> Option<Vec<u8>> {
    let mut bytes = Vec::with_capacity(letters.len() / 4 * 3);
    for group in letters.as_bytes().chunks(4) {
        if group.len() == 1 {
            return None;
        }
        let mut bits = 0_u32;
        for (i, letter) in group.iter().enumerate() {
            let value = ALPHABET.iter().position(|known| known == letter)?;
            bits |= (value as u32) << (18 - 6 * i);
        }
        let [_, three @ ..] = bits.to_be_bytes();
        bytes.extend_from_slice(&three[..group.len() - 1]);
    }
    Some(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 4648, section 10, without the padding.
    #[test]
    fn letters_are_those_of_the_standard() {
        for (text, letters) in
            [("", ""), ("f", "Zg"), ("fo", "Zm8"), ("foo", "Zm9v"), ("foob", "Zm9vYg"), ("foobar", "Zm9vYmFy")]
        {
            assert_eq!(to_letters(text.as_bytes()), letters);
            assert_eq!(from_letters(letters).as_deref(), Some(text.as_bytes()));
        }
        assert_eq!(from_letters("Zm9v+A"), None, "not in this alphabet");
        assert_eq!(from_letters("Zm9vY"), None, "a letter alone holds no byte");
        assert_eq!(to_letters(&[0xfb, 0xff]), "-_8");
    }
}
