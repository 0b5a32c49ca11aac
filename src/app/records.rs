//! Saved scenarios in the store, one key each. The keys themselves are the
//! list, so that two tabs can't disagree about it.

use gloo_storage::{SessionStorage, Storage};
use serde::{Deserialize, Serialize};
use serde_json::Value;
use spindlewise_engine::scenario::Scenario;

use super::storage::{self, Refused};
use spindlewise_engine::scenario::document::{self, Unreadable};

/// Key of the scenario last open.
const CURRENT: &str = "current";
const SCENARIO: &str = "scenario:";
const ASIDE: &str = "aside:";

/// A scenario and when it was saved.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Record {
    /// Milliseconds since 1970; tells one saving from the next.
    pub saved: f64,
    /// The scenario.
    pub scenario: Scenario,
}

/// A saved scenario in the list.
#[derive(Clone, Debug, PartialEq)]
pub struct Listed {
    /// Its key.
    pub id: String,
    /// Its name.
    pub name: String,
    /// When it was saved, ms since 1970.
    pub saved: f64,
}

/// A saved text that can't be read, kept word for word.
#[derive(Clone, Debug, PartialEq)]
pub struct Aside {
    /// Its key.
    pub id: String,
    /// Why it can't be read.
    pub why: Unreadable,
}

/// The record under `id`, if there is one that can be read.
pub fn load(id: &str) -> Option<Record> {
    storage::get(&[SCENARIO, id].concat()).and_then(|text| read(&text).ok())
}

/// Keeps a record under `id`.
///
/// # Errors
/// [`Refused`] when the browser won't take it.
pub fn save(id: &str, record: &Record) -> Result<(), Refused> {
    storage::set(&[SCENARIO, id].concat(), record)
}

/// Forgets the record under `id`.
pub fn remove(id: &str) {
    storage::remove(&[SCENARIO, id].concat());
}

/// Every record that can be read, the latest first.
pub fn list() -> Vec<Listed> {
    let mut list: Vec<Listed> = storage::names_under(SCENARIO)
        .into_iter()
        .filter_map(|id| {
            let Record { saved, scenario } = load(&id)?;
            Some(Listed { id, name: scenario.name, saved })
        })
        .collect();
    list.sort_by(|one, other| other.saved.total_cmp(&one.saved));
    list
}

/// Moves records that can't be read out of the way, and records that could
/// not be read before (by an older version, say) back; says what stays aside.
pub fn sort_out() -> Vec<Aside> {
    for id in storage::names_under(SCENARIO) {
        move_if(&id, SCENARIO, ASIDE, |text| read(text).is_err());
    }
    for id in storage::names_under(ASIDE) {
        move_if(&id, ASIDE, SCENARIO, |text| read(text).is_ok());
    }
    let aside = storage::names_under(ASIDE).into_iter();
    aside.filter_map(|id| read(&aside_text(&id)?).err().map(|why| Aside { id, why })).collect()
}

/// The text set aside under `id`.
pub fn aside_text(id: &str) -> Option<String> {
    storage::get(&[ASIDE, id].concat())
}

/// Forgets the text set aside under `id`.
pub fn remove_aside(id: &str) {
    storage::remove(&[ASIDE, id].concat());
}

/// A key that no other record has.
pub fn new_id() -> String {
    let random = (js_sys::Math::random() * 1e9) as u32;
    format!("{:x}-{random:x}", js_sys::Date::now() as u64)
}

/// Remembers the open record, for a reload of this tab and for the next visit.
pub fn remember_open(id: &str) {
    if storage::works() {
        _ = SessionStorage::set([storage::PREFIX, CURRENT].concat(), id);
    }
    _ = storage::set(CURRENT, &id);
}

/// The record last open in this tab, or else in any.
pub fn last_open() -> Option<String> {
    let here = || SessionStorage::get([storage::PREFIX, CURRENT].concat()).ok();
    let anywhere = || storage::get(CURRENT).and_then(|text| serde_json::from_str(&text).ok());
    storage::works().then(here).flatten().or_else(anywhere)
}

/// Moves a text unless the new place is taken or the store refuses it: then it
/// stays where it is.
fn move_if(id: &str, from: &str, to: &str, wanted: impl Fn(&str) -> bool) {
    let (from, to) = ([from, id].concat(), [to, id].concat());
    let Some(text) = storage::get(&from).filter(|text| wanted(text)) else {
        return;
    };
    if storage::get(&to).is_none() && storage::set_text(&to, &text).is_ok() {
        storage::remove(&from);
    }
}

fn read(text: &str) -> Result<Record, Unreadable> {
    #[derive(Deserialize)]
    struct Envelope {
        saved: f64,
        scenario: Value,
    }
    let Envelope { saved, scenario } = serde_json::from_str(text).map_err(|error| match error.classify() {
        serde_json::error::Category::Data => Unreadable::NotAScenario,
        _ => Unreadable::NotJson { line: error.line(), column: error.column() },
    })?;
    Ok(Record { saved, scenario: document::from_value(scenario)? })
}
