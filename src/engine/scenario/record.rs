//! A scenario as it is stored.

use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::Scenario;
use super::document::{self, LONGEST, Unreadable};

/// A scenario and when it was saved.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Record {
    /// Milliseconds since 1970; tells one saving from the next.
    pub saved: f64,
    /// When that was saved which this one changes, if it was saved before.
    pub after: Option<f64>,
    /// The scenario.
    pub scenario: Scenario,
}

impl Record {
    /// Reads what was stored.
    ///
    /// # Errors
    /// [`Unreadable`] when the text isn't a record.
    pub fn read(text: &str) -> Result<Self, Unreadable> {
        #[derive(Deserialize)]
        struct Envelope {
            saved: f64,
            after: Option<f64>,
            scenario: Value,
        }
        let envelope = serde_json::from_value(document::json(text, LONGEST)?);
        let Envelope { saved, after, scenario } = envelope.map_err(|_| Unreadable::NotAScenario)?;
        Ok(Record { saved, after, scenario: document::from_value(scenario)? })
    }
}
