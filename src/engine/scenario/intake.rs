//! What a file brings, before any of it is taken over: one scenario, or all
//! that another device had stored.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::document::{self, Unreadable, at_most};
use super::{Record, Scenario};

/// Version of the form of a backup.
const FORM: u64 = 1;

/// Longest file read, in bytes: more than any browser stores.
pub const LONGEST_FILE: usize = 16 * 1024 * 1024;

/// Most scenarios taken from one file.
const MOST: usize = 500;

/// What the key of a stored scenario holds, those set aside included.
const KEYS: [&str; 2] = [":scenario:", ":aside:"];

/// Everything stored, word for word, by its key: also what can't be read.
#[derive(Serialize)]
pub struct Backup {
    backup: u64,
    stored: BTreeMap<String, String>,
}

impl Backup {
    /// A backup of what is `stored` under each key.
    pub fn new(stored: BTreeMap<String, String>) -> Self {
        Backup { backup: FORM, stored }
    }
}

/// A scenario found in a file, or why it could not be read.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// Where it stood in the file; empty for a file that is one scenario.
    pub place: String,
    /// The scenario.
    pub scenario: Result<Scenario, Unreadable>,
}

/// How what was found compares with what is here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Compared {
    /// Nothing here is called so.
    New,
    /// The same is here already.
    Same,
    /// Something else is called so here.
    Differs,
}

/// Looks through the text of a file: an exported scenario or a backup.
///
/// # Errors
/// [`Unreadable`] when it is neither.
pub fn read(text: &str) -> Result<Vec<Found>, Unreadable> {
    #[derive(Deserialize)]
    struct Stored {
        stored: BTreeMap<String, String>,
    }
    let value = document::json(text, LONGEST_FILE)?;
    match value.get("backup").and_then(serde_json::Value::as_u64) {
        None => Ok(vec![Found { place: String::new(), scenario: Ok(document::read(text)?) }]),
        Some(form) if form > FORM => Err(Unreadable::Newer { schema: form }),
        Some(_) => {
            let Stored { stored } = serde_json::from_value(value).map_err(document::damaged)?;
            let records: Vec<_> =
                stored.into_iter().filter(|(key, _)| KEYS.iter().any(|part| key.contains(part))).collect();
            at_most("scenarios", records.len(), MOST)?;
            let found = |(place, text): (String, String)| Found {
                place,
                scenario: Record::read(&text).map(|record| record.scenario),
            };
            Ok(records.into_iter().map(found).collect())
        }
    }
}

/// Compares `scenario` with those that are here.
pub fn compare<'a>(scenario: &Scenario, here: impl IntoIterator<Item = &'a Scenario>) -> Compared {
    let mut compared = Compared::New;
    for other in here {
        if other == scenario {
            return Compared::Same;
        }
        if other.name == scenario.name {
            compared = Compared::Differs;
        }
    }
    compared
}
