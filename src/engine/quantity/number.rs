//! The number at the start of a typed quantity: decimals, fractions, mixed numbers, powers of ten.

use super::decimal::decimal;
use super::{Dimension, ParseError};

/// Splits a trimmed text into its leading number and whatever follows it. Messages quote `whole`,
/// the text it is part of.
///
/// # Errors
/// Everything that can be wrong with the number itself.
pub(super) fn read<'a>(text: &'a str, whole: &str, dimension: Dimension) -> Result<(f64, &'a str), ParseError> {
    let typed = || clip(whole);
    let not_a_number = || ParseError::NotANumber { text: typed(), dimension };

    let (sign, body) = take_sign(text);
    let minus = if sign < 0.0 { "-" } else { "" };
    let (run, after) = take_while(body, |c| matches!(c, '0'..='9' | '.' | ','));
    let digits = run.bytes().filter(u8::is_ascii_digit).count();
    let marks = run.len() - digits;

    let (magnitude, rest) = if run.is_empty() {
        take_vulgar_fraction(body).ok_or_else(not_a_number)?
    } else if digits == 0 || run.ends_with(',') {
        return Err(not_a_number());
    } else if let Some((fraction, rest)) = take_fraction(run, after).filter(|_| marks == 0) {
        (fraction, rest)
    } else if let Some(plain) = without_grouping(body).filter(|plain| plain.len() <= QUOTED) {
        return Err(ParseError::GroupedDigits { text: typed(), plain: [minus, &plain].concat() });
    } else if marks > 1 {
        return Err(not_a_number());
    } else if let Some((before, decimals)) = run.split_once(',').filter(|(a, b)| is_ambiguous(a, b)) {
        return Err(ParseError::AmbiguousComma {
            text: typed(),
            decimal: [minus, before, ".", decimals].concat(),
            whole: [minus, before, decimals].concat(),
        });
    } else {
        let (power, rest) = take_power_of_ten(after);
        let value = decimal(run, power);
        let vanished = value == 0.0 && run.bytes().any(|b| matches!(b, b'1'..=b'9'));
        (if vanished { f64::INFINITY } else { value }, rest)
    };

    match magnitude {
        m if m.is_nan() => Err(ParseError::DivisionByZero { text: typed() }),
        m if m.is_infinite() => Err(ParseError::OutOfRange { text: typed() }),
        m => Ok((sign * m, rest)),
    }
}

/// Longest text quoted in a message, in characters.
const QUOTED: usize = 40;

/// The text as quoted in a message.
pub(super) fn clip(text: &str) -> String {
    match text.char_indices().nth(QUOTED) {
        Some((cut, _)) => [&text[..cut], "…"].concat(),
        None => text.to_owned(),
    }
}

/// One of ¼ ½ ¾ ⅛ ⅜ ⅝ ⅞ ⅓ ⅔ at the start.
pub(super) fn take_vulgar_fraction(text: &str) -> Option<(f64, &str)> {
    let mut chars = text.chars();
    let value = match chars.next()? {
        '¼' => 0.25,
        '½' => 0.5,
        '¾' => 0.75,
        '⅛' => 0.125,
        '⅜' => 0.375,
        '⅝' => 0.625,
        '⅞' => 0.875,
        '⅓' => 1.0 / 3.0,
        '⅔' => 2.0 / 3.0,
        _ => return None,
    };
    Some((value, chars.as_str()))
}

fn take_sign(text: &str) -> (f64, &str) {
    let mut chars = text.chars();
    let sign = match chars.next() {
        Some('+') => 1.0,
        Some('-' | '−') => -1.0,
        _ => return (1.0, text),
    };
    (sign, chars.as_str().trim_start())
}

fn take_while(text: &str, wanted: impl Fn(char) -> bool) -> (&str, &str) {
    text.split_at(text.find(|c| !wanted(c)).unwrap_or(text.len()))
}

fn take_digits(text: &str) -> Option<(&str, &str)> {
    let (digits, rest) = take_while(text, |c| c.is_ascii_digit());
    (!digits.is_empty()).then_some((digits, rest))
}

/// "1/2", "1-1/4", "1 1/4", "1½", "1-½": a fraction, alone or after a whole number. NaN when it
/// divides by zero, infinite when a part of it is too large.
fn take_fraction<'a>(whole: &str, after: &'a str) -> Option<(f64, &'a str)> {
    if let Some((below, rest)) = take_denominator(after) {
        return Some((quotient(whole, below), rest));
    }
    let spaced = after.strip_prefix(['-', '\u{2010}', '\u{2011}']).unwrap_or(after.trim_start());
    if let Some((part, rest)) = take_vulgar_fraction(spaced) {
        return Some((decimal(whole, 0) + part, rest));
    }
    let (above, rest) = take_digits(spaced)?;
    let (below, rest) = take_denominator(rest)?;
    Some((decimal(whole, 0) + quotient(above, below), rest))
}

fn take_denominator(text: &str) -> Option<(&str, &str)> {
    let slash = ['/', '\u{2044}', '\u{2215}'];
    take_digits(text.trim_start().strip_prefix(slash)?.trim_start())
}

fn quotient(above: &str, below: &str) -> f64 {
    match (decimal(above, 0), decimal(below, 0)) {
        (_, 0.0) => f64::NAN,
        (above, below) if below.is_finite() => above / below,
        _ => f64::INFINITY,
    }
}

/// The exponent of "e-2"; 0 when there is none, and no further off than any number goes.
fn take_power_of_ten(after: &str) -> (i32, &str) {
    const FURTHEST: i32 = 9999;
    let exponent = after.strip_prefix(['e', 'E']).and_then(|tail| {
        let negative = tail.strip_prefix(['-', '−']);
        let unsigned = negative.unwrap_or(tail.strip_prefix('+').unwrap_or(tail));
        let (digits, rest) = take_digits(unsigned)?;
        let power = digits.parse().unwrap_or(FURTHEST).min(FURTHEST);
        Some((if negative.is_some() { -power } else { power }, rest))
    });
    exponent.unwrap_or((0, after))
}

/// Whether "before,decimals" is as good a way to write thousands as it is to write decimals.
fn is_ambiguous(before: &str, decimals: &str) -> bool {
    (1..=3).contains(&before.len()) && !before.starts_with('0') && decimals.len() == 3
}

/// The number without its thousands separators, if it is written with them beyond doubt:
/// "1,234.5", "1.234,5", "1 234", "1'234", "1,234,567".
fn without_grouping(text: &str) -> Option<String> {
    let (first, mut rest) = take_digits(text).filter(|(first, _)| first.len() <= 3)?;
    let separator = rest.chars().next()?;
    let separates = |c: char| c.is_whitespace() || matches!(c, ',' | '.' | '\'' | '’');
    if !separates(separator) {
        return None;
    }
    let mut plain = first.to_owned();
    let mut groups = 0;
    while let Some((group, tail)) = rest.strip_prefix(separator).and_then(take_digits) {
        if group.len() != 3 {
            break;
        }
        plain.push_str(group);
        rest = tail;
        groups += 1;
    }
    let decimals = rest.strip_prefix(['.', ',']).and_then(take_digits);
    if let Some((decimals, _)) = decimals.filter(|_| !rest.starts_with(separator)) {
        plain.push('.');
        plain.push_str(decimals);
    } else if groups == 1 && matches!(separator, ',' | '.') {
        return None;
    }
    (groups > 0).then_some(plain)
}
