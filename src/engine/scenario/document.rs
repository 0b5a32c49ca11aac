//! A scenario as text: what is stored and what is exported to a file.

use std::fmt;

use super::{SCHEMA, Scenario};
use serde_json::Value;

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
    let value: Value = serde_json::from_str(text)
        .map_err(|error| Unreadable::NotJson { line: error.line(), column: error.column() })?;
    from_value(value)
}

/// Takes a scenario out of JSON.
///
/// # Errors
/// [`Unreadable`] when it isn't one.
pub fn from_value(value: Value) -> Result<Scenario, Unreadable> {
    match value.get("schema").and_then(Value::as_u64) {
        None => Err(Unreadable::NotAScenario),
        Some(schema) if schema > u64::from(SCHEMA) => Err(Unreadable::Newer { schema }),
        Some(_) => serde_json::from_value(value).map_err(|error| Unreadable::Damaged { fault: error.to_string() }),
    }
}

/// Writes a scenario as it is exported.
pub fn write(scenario: &Scenario) -> String {
    serde_json::to_string_pretty(scenario).unwrap_or_default()
}
