//! Licence expressions, as packages state them.

use std::iter::Peekable;
use std::str::SplitWhitespace;

type Words<'a> = Peekable<SplitWhitespace<'a>>;

/// Whether the terms of an SPDX expression (version 3.0, annex B) can be met with
/// `allowed` licences alone. The older `MIT/Apache-2.0` leaves the choice, as
/// `OR` does. What can't be read is not met.
pub fn is_met(expression: &str, allowed: &[String]) -> bool {
    let spaced = expression.replace('/', " OR ").replace('(', " ( ").replace(')', " ) ");
    let mut words = spaced.split_whitespace().peekable();
    any(&mut words, allowed) == Some(true) && words.next().is_none()
}

fn any(words: &mut Words<'_>, allowed: &[String]) -> Option<bool> {
    let mut met = all(words, allowed)?;
    while words.next_if_eq(&"OR").is_some() {
        met |= all(words, allowed)?;
    }
    Some(met)
}

fn all(words: &mut Words<'_>, allowed: &[String]) -> Option<bool> {
    let mut met = one(words, allowed)?;
    while words.next_if_eq(&"AND").is_some() {
        met &= one(words, allowed)?;
    }
    Some(met)
}

fn one(words: &mut Words<'_>, allowed: &[String]) -> Option<bool> {
    match words.next()? {
        "(" => {
            let met = any(words, allowed)?;
            words.next_if_eq(&")").map(|_| met)
        }
        "OR" | "AND" | "WITH" | ")" => None,
        name => {
            let terms = match words.next_if_eq(&"WITH") {
                Some(_) => format!("{name} WITH {}", words.next()?),
                None => name.to_owned(),
            };
            Some(allowed.contains(&terms))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn expressions_are_met_as_the_standard_reads_them() {
        let allowed = ["MIT", "Zlib", "Unicode-3.0"].map(str::to_owned);
        for (expression, met) in [
            ("MIT", true),
            ("GPL-3.0", false),
            ("MIT OR GPL-3.0", true),
            ("MIT/GPL-3.0", true),
            ("MIT AND GPL-3.0", false),
            ("(GPL-3.0 OR MIT) AND Unicode-3.0", true),
            // AND binds closer than OR.
            ("MIT OR Zlib AND GPL-3.0", true),
            ("(MIT OR Zlib) AND GPL-3.0", false),
            // An exception makes other terms of it.
            ("MIT WITH something", false),
            ("", false),
            ("MIT OR", false),
            ("MIT Zlib", false),
            ("(MIT", false),
        ] {
            assert_eq!(is_met(expression, &allowed), met, "{expression}");
        }
    }
}
