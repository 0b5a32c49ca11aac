//! Saved scenarios in the store, one key each. The keys themselves are the
//! list, so that two tabs can't disagree about it.

use gloo_storage::{SessionStorage, Storage};
use spindlewise_engine::order;
use spindlewise_engine::scenario::document::Unreadable;
use spindlewise_engine::scenario::intake::Backup;
use spindlewise_engine::scenario::{Record, Scenario};

use super::storage::{self, Refused};
use web_sys::StorageEvent;

/// Key of the scenario last open.
const CURRENT: &str = "current";
const SCENARIO: &str = "scenario:";
const ASIDE: &str = "aside:";

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
    storage::get(&[SCENARIO, id].concat()).and_then(|text| Record::read(&text).ok())
}

/// What another tab has just kept under `id`, if that is what happened.
pub fn kept_elsewhere(id: &str, event: &StorageEvent) -> Option<Record> {
    let ours = event.key()? == [storage::PREFIX, SCENARIO, id].concat();
    Record::read(&event.new_value().filter(|_| ours)?).ok()
}

/// Now, in milliseconds since 1970. Thousandths drawn by chance tell apart what
/// two tabs save in the same millisecond; finer parts would not come back from
/// the store to the last bit.
pub fn moment() -> f64 {
    js_sys::Date::now() + (1000.0 * js_sys::Math::random()).floor() / 1000.0
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
            let Record { saved, scenario, .. } = load(&id)?;
            Some(Listed { id, name: scenario.name, saved })
        })
        .collect();
    order::greatest_first(&mut list, |one| one.saved);
    list
}

/// Every scenario that can be read.
pub fn scenarios() -> Vec<Scenario> {
    let ids = storage::names_under(SCENARIO).into_iter();
    ids.filter_map(|id| load(&id)).map(|record| record.scenario).collect()
}

/// All that is stored, word for word: what can't be read too. `scenario` is
/// the one under `id` as it is now, stored or not.
pub fn backup(id: &str, scenario: Scenario) -> Backup {
    let mut stored = storage::everything();
    let record = Record { saved: moment(), after: None, scenario };
    let text = serde_json::to_string(&record).unwrap_or_default();
    stored.insert([storage::PREFIX, SCENARIO, id].concat(), text);
    Backup::new(stored)
}

/// Moves records that can't be read out of the way, and records that could
/// not be read before (by an older version, say) back; says what stays aside.
pub fn sort_out() -> Vec<Aside> {
    for id in storage::names_under(SCENARIO) {
        move_if(&id, SCENARIO, ASIDE, |text| Record::read(text).is_err());
    }
    for id in storage::names_under(ASIDE) {
        move_if(&id, ASIDE, SCENARIO, |text| Record::read(text).is_ok());
    }
    let aside = storage::names_under(ASIDE).into_iter();
    aside.filter_map(|id| Record::read(&aside_text(&id)?).err().map(|why| Aside { id, why })).collect()
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
