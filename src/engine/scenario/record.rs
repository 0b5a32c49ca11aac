//! A scenario as it is stored.

use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::Scenario;
use super::document::{self, LONGEST, LONGEST_ENVELOPE, Unreadable};

/// A scenario and when it was saved.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Record {
    /// Milliseconds since 1970, to a thousandth of one; tells one saving from
    /// the next.
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
        let envelope = serde_json::from_value(document::json(text, LONGEST + LONGEST_ENVELOPE)?);
        let Envelope { saved, after, scenario } = envelope.map_err(|_| Unreadable::NotAScenario)?;
        Ok(Record { saved, after, scenario: document::from_value(scenario)? })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::readings::scattered;

    /// Whose saving follows whose is told by equality: a moment has to come back
    /// from the store to the last bit. Thousandths do, as whole numbers of them
    /// are exact: 16 digits.
    #[test]
    fn a_moment_comes_back_as_it_was() {
        for fraction in scattered(2000, 9) {
            let moment = |whole: f64| whole + (1000.0 * fraction).floor() / 1000.0;
            let saved = moment((1_764_094_000_000.0 + 1e12 * fraction).floor());
            let record = Record { saved, after: Some(moment(saved.floor() - 1.0)), scenario: Scenario::new("kept") };
            let text = serde_json::to_string(&record).expect("plain data always has a JSON form");
            assert_eq!(Record::read(&text), Ok(record));
        }
    }
}
