//! A file with all that another device had stored.

use std::collections::BTreeMap;

use spindlewise_engine::scenario::Record;
use spindlewise_engine::scenario::intake::{self, Backup, Found};

pub fn holds(bytes: &[u8]) -> bool {
    let text = String::from_utf8_lossy(bytes);
    let found = match intake::read(&text) {
        Ok(found) => found,
        Err(why) => {
            super::is_said(&why.to_string());
            return false;
        }
    };
    assert!(found.len() <= 500, "{} scenarios", found.len());
    let mut stored = BTreeMap::new();
    for (at, Found { scenario, .. }) in found.iter().enumerate() {
        match scenario {
            Ok(scenario) => {
                super::scenario::is_whole(scenario);
                let record = Record { saved: at as f64, after: None, scenario: scenario.clone() };
                let text = serde_json::to_string(&record).expect("plain data always has a JSON form");
                stored.insert(format!("spindlewise:v1:scenario:{at:03}"), text);
            }
            Err(why) => super::is_said(&why.to_string()),
        }
    }
    // Taken over and stored anew, all of it comes back.
    let again = serde_json::to_string(&Backup::new(stored)).expect("plain data always has a JSON form");
    let again = intake::read(&again).expect("a backup is a file to import");
    let readable = |found: Vec<Found>| found.into_iter().filter_map(|found| found.scenario.ok()).collect::<Vec<_>>();
    let taken = readable(found);
    assert_eq!(readable(again), taken);
    !taken.is_empty()
}
