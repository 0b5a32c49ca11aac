//! A scenario as text: what is stored and what is exported to a file.

use std::fmt;

use super::{SCHEMA, Scenario};
use serde_json::Value;

/// Longest text read as one scenario, in bytes: a hundred times a full one.
/// No scenario is taken in that would be longer once it is exported.
pub const LONGEST: usize = 256 * 1024;

/// What is stored beside a scenario is no longer than this, in bytes.
pub(super) const LONGEST_ENVELOPE: usize = 1024;

/// Most numbers, and most picked answers to one question, in a scenario:
/// several times as many as there are.
const MOST: usize = 1000;

/// Longest name or number that can be typed, in characters.
pub const LONGEST_ENTRY: usize = 1000;

/// Room for the unit that is written behind a bare number.
const UNIT: usize = 50;

/// Why a text is not a scenario.
#[derive(Clone, Debug, PartialEq)]
pub enum Unreadable {
    /// It isn't JSON.
    NotJson {
        /// Line of the first fault.
        line: usize,
        /// Column of the first fault.
        column: usize,
    },
    /// It is JSON, but nothing this product wrote.
    NotAScenario,
    /// A later version of this product wrote it.
    Newer {
        /// Its schema.
        schema: u64,
    },
    /// There is more of something than anybody would enter: it would only hold
    /// up the page.
    TooMuch {
        /// Of what.
        what: &'static str,
        /// How many.
        found: usize,
        /// How many are taken.
        most: usize,
    },
    /// It is a scenario with something in it that doesn't belong.
    Damaged {
        /// What.
        fault: String,
    },
}

impl fmt::Display for Unreadable {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Unreadable::NotJson { line, column } => write!(
                out,
                "It breaks off or is garbled at line {line}, column {column}. Ask for the file again, or open it in a text editor and mend that place."
            ),
            Unreadable::NotAScenario => {
                write!(out, "It is not a Spindlewise scenario. Pick a .json file that was exported from here.")
            }
            Unreadable::Newer { schema } => write!(
                out,
                "It was written by a newer Spindlewise (form {schema}; this one reads up to {SCHEMA}). Open it there, or update this one."
            ),
            Unreadable::TooMuch { what, found, most } => write!(
                out,
                "It holds {found} {what}; no more than {most} are taken. Spindlewise writes nothing like it: ask for the file again."
            ),
            Unreadable::Damaged { fault } => {
                write!(out, "Something in it doesn’t belong: {fault}. Mend that in a text editor and try again.")
            }
        }
    }
}

/// Reads a scenario.
///
/// # Errors
/// [`Unreadable`] when the text isn't one.
pub fn read(text: &str) -> Result<Scenario, Unreadable> {
    from_value(json(text, LONGEST)?)
}

/// Reads JSON of at most `longest` bytes.
pub(super) fn json(text: &str, longest: usize) -> Result<Value, Unreadable> {
    at_most("bytes", text.len(), longest)?;
    serde_json::from_str(text).map_err(|error| Unreadable::NotJson { line: error.line(), column: error.column() })
}

/// Takes a scenario out of JSON.
///
/// # Errors
/// [`Unreadable`] when it isn't one.
pub fn from_value(value: Value) -> Result<Scenario, Unreadable> {
    match value.get("schema").and_then(Value::as_u64) {
        None => Err(Unreadable::NotAScenario),
        Some(schema) if schema > u64::from(SCHEMA) => Err(Unreadable::Newer { schema }),
        Some(schema) => {
            let mut value = value;
            if schema < 3 {
                ask_of_the_machine(&mut value);
            }
            let mut scenario: Scenario = serde_json::from_value(value).map_err(damaged)?;
            within_bounds(&scenario)?;
            // All else that a form added may be left out.
            scenario.schema = SCHEMA;
            Ok(scenario)
        }
    }
}

/// Up to the second form, whether the spindle is bored through was ticked among
/// what is at hand.
fn ask_of_the_machine(value: &mut Value) {
    const TICKED: &str = "hollow_spindle";
    let Some(choices) = value.get_mut("choices") else { return };
    let Some(means) = choices.get_mut("means").and_then(Value::as_array_mut) else { return };
    if means.iter().any(|means| means == TICKED) {
        means.retain(|means| means != TICKED);
        choices["bore"] = "through".into();
    }
}

/// Says what doesn't belong, as far as it can be read at a glance: the reason
/// quotes what it found, which may be all of the text.
pub(super) fn damaged(error: serde_json::Error) -> Unreadable {
    const LONGEST_REASON: usize = 200;
    let mut fault = error.to_string();
    if let Some((cut, _)) = fault.char_indices().nth(LONGEST_REASON) {
        fault.truncate(cut);
        fault.push('…');
    }
    Unreadable::Damaged { fault }
}

fn within_bounds(scenario: &Scenario) -> Result<(), Unreadable> {
    at_most("entries", scenario.entries.len(), MOST)?;
    let choices = &scenario.choices;
    let picked = [choices.troubles.len(), choices.means.len(), choices.done.len(), choices.ruled_out.len()];
    at_most("answers to one question", picked.into_iter().max().unwrap_or_default(), MOST)?;
    let texts = scenario.entries.iter().flat_map(|(key, text)| [key, text]).chain([&scenario.name]);
    let longest = texts.map(|text| text.chars().count()).max().unwrap_or_default();
    at_most("characters in one entry", longest, LONGEST_ENTRY + UNIT)?;
    // Blanks and answers that were left out make it longer than it came.
    at_most("bytes", write(scenario).len(), LONGEST)
}

pub(super) fn at_most(what: &'static str, found: usize, most: usize) -> Result<(), Unreadable> {
    if found > most { Err(Unreadable::TooMuch { what, found, most }) } else { Ok(()) }
}

/// Writes a scenario as it is exported.
pub fn write(scenario: &Scenario) -> String {
    laid_out(&serde_json::to_string(scenario).unwrap_or_default())
}

/// JSON without spaces, laid out in lines. What serde_json has for that would be
/// compiled beside the code for JSON without spaces, of every type once more.
pub fn laid_out(json: &str) -> String {
    let mut out = String::new();
    let (mut depth, mut before) = (0_usize, ' ');
    let (mut quoted, mut escaped) = (false, false);
    for c in json.chars() {
        if quoted {
            out.push(c);
            (quoted, escaped) = (escaped || c != '"', c == '\\' && !escaped);
            continue;
        }
        match (matches!(before, '{' | '['), matches!(c, '}' | ']')) {
            (true, false) => {
                depth += 1;
                begin_line(&mut out, depth);
            }
            (false, true) => {
                depth = depth.saturating_sub(1);
                begin_line(&mut out, depth);
            }
            _ => {}
        }
        out.push(c);
        match c {
            ',' => begin_line(&mut out, depth),
            ':' => out.push(' '),
            '"' => quoted = true,
            _ => {}
        }
        before = c;
    }
    out
}

fn begin_line(out: &mut String, depth: usize) {
    out.push('\n');
    (0..depth).for_each(|_| out.push_str("  "));
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn json_is_laid_out_as_is_usual() {
        let values = [
            json!({}),
            json!([]),
            json!(["{", "a \\\" ] \\", 1.5, [[]], null]),
            json!({ "a": {}, "b": [{ "c": [1, 2], "d: ,": "“e”\n" }, true], "f": "" }),
        ];
        for value in values {
            let usual = serde_json::to_string_pretty(&value).expect("plain data always has a JSON form");
            assert_eq!(laid_out(&value.to_string()), usual);
        }
    }
}
