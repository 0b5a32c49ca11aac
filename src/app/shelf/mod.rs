//! Which scenario is open, and keeping it: saved a moment after each change,
//! and when the page is left.

mod saving;

use crate::app::prelude::*;
use leptos::leptos_dom::helpers::TimeoutHandle;
use spindlewise_engine::scenario::document::LONGEST_ENTRY;
use spindlewise_engine::scenario::{Record, Scenario, demo};

use crate::app::records::{self, Aside, Listed};
use crate::app::state::Workbench;
use crate::app::storage;

/// How safe the user's work is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SaveStatus {
    /// Everything is stored.
    Saved,
    /// A change waits to be stored.
    Pending,
    /// This browser stores nothing.
    Blocked,
    /// This browser did not take the last change.
    Full,
    /// Another tab has stored something else since.
    Conflict,
}

/// A deleted scenario, until the next one is deleted.
#[derive(Clone, Debug, PartialEq)]
pub struct Removed {
    id: String,
    record: Record,
}

impl Removed {
    /// Its name.
    pub fn name(&self) -> &str {
        &self.record.scenario.name
    }
}

/// The saved scenarios and the open one.
#[derive(Clone, Copy)]
pub struct Shelf {
    bench: Workbench,
    /// The open one.
    pub id: RwSignal<String>,
    /// Every saved one, the latest first.
    pub list: RwSignal<Vec<Listed>>,
    /// What could not be read.
    pub aside: RwSignal<Vec<Aside>>,
    /// How safe the open one is.
    pub status: RwSignal<SaveStatus>,
    /// What can be brought back.
    pub removed: RwSignal<Option<Removed>>,
    /// Whether another could not be opened, because the open one is not saved.
    pub held: RwSignal<bool>,
    /// The open one as it is stored, and when it was stored if ever.
    stored: StoredValue<(Option<f64>, Scenario)>,
    waiting: StoredValue<Option<TimeoutHandle>>,
}

/// The shelf of this app.
pub fn shelf() -> Shelf {
    expect_context()
}

impl Shelf {
    /// Opens the scenario last worked on, or a new one, and keeps it from then
    /// on. Call once, at the root.
    pub fn open_last() -> Self {
        let aside = records::sort_out();
        let list = records::list();
        let last = records::last_open().filter(|id| list.iter().any(|saved| saved.id == *id));
        let id = last.or_else(|| list.first().map(|saved| saved.id.clone())).unwrap_or_else(records::new_id);
        let (saved, scenario) = take(&id);
        let shelf = Shelf {
            bench: Workbench::new(scenario.clone()),
            id: RwSignal::new(id),
            list: RwSignal::new(list),
            aside: RwSignal::new(aside),
            status: RwSignal::new(if storage::works() { SaveStatus::Saved } else { SaveStatus::Blocked }),
            removed: RwSignal::new(None),
            held: RwSignal::new(false),
            stored: StoredValue::new((saved, scenario)),
            waiting: StoredValue::new(None),
        };
        shelf.keep_saving();
        shelf
    }

    /// The workbench that the open scenario lies on.
    pub fn bench(&self) -> Workbench {
        self.bench
    }

    /// Saves the open scenario; says whether another may take its place.
    fn let_go(self) -> bool {
        self.save();
        let safe = matches!(self.status.get_untracked(), SaveStatus::Saved | SaveStatus::Blocked);
        self.held.set(!safe);
        safe
    }

    /// Opens the saved scenario `id`, unless the open one can't be saved.
    pub fn open(self, id: &str) {
        if !self.let_go() {
            return;
        }
        let (saved, scenario) = take(id);
        self.put_on_bench(id.to_owned(), saved, scenario);
    }

    /// Opens `scenario` as a new one, unless the open one can't be saved.
    pub fn add(self, scenario: Scenario) {
        if !self.let_go() {
            return;
        }
        self.put_on_bench(records::new_id(), None, Scenario::new(""));
        self.bench.scenario.set(scenario);
        self.save();
    }

    /// Opens a new, empty scenario in the units of the open one.
    pub fn add_empty(self) {
        let mut scenario = Scenario::new(self.free_name("My mill"));
        scenario.units = self.bench.scenario.with_untracked(|open| open.units);
        self.add(scenario);
    }

    /// Opens the demonstration.
    pub fn add_demo(self) {
        let mut scenario = demo();
        scenario.name = self.free_name(&scenario.name);
        self.add(scenario);
    }

    /// Keeps scenarios from elsewhere beside those that are here, each under a
    /// name of its own, and opens the first; says how many the store took.
    pub fn take_over(self, scenarios: Vec<Scenario>) -> usize {
        let mut ids = Vec::new();
        for mut scenario in scenarios {
            scenario.name = self.free_name(&scenario.name);
            let id = records::new_id();
            if records::save(&id, &Record { saved: records::moment(), after: None, scenario }).is_err() {
                break;
            }
            ids.push(id);
            self.list.set(records::list());
        }
        if let Some(first) = ids.first() {
            self.open(first);
        }
        ids.len()
    }

    /// Opens a copy of the saved scenario `id`.
    pub fn duplicate(self, id: &str) {
        self.save();
        let Some(Record { mut scenario, .. }) = records::load(id) else {
            return;
        };
        scenario.name = self.free_name(&format!("{} (copy)", scenario.name));
        self.add(scenario);
    }

    /// Gives the saved scenario `id` another name.
    pub fn rename(self, id: &str, name: &str) {
        if self.id.with_untracked(|open| open == id) {
            self.bench.update(|scenario| name.clone_into(&mut scenario.name));
            self.save();
        } else if let Some(mut record) = records::load(id) {
            name.clone_into(&mut record.scenario.name);
            record.after = Some(record.saved);
            record.saved = records::moment();
            if records::save(id, &record).is_err() {
                self.status.set(SaveStatus::Full);
            }
        }
        self.list.set(records::list());
    }

    /// Deletes the saved scenario `id`; [`Shelf::bring_back`] undoes it.
    pub fn delete(self, id: &str) {
        self.save();
        let Some(mut record) = records::load(id) else {
            return;
        };
        let open = self.id.with_untracked(|open| open == id);
        if open {
            // With what could not be saved.
            record.scenario = self.bench.scenario.get_untracked();
        }
        records::remove(id);
        self.removed.set(Some(Removed { id: id.to_owned(), record }));
        self.list.set(records::list());
        if open {
            let next = self.list.with_untracked(|list| list.first().map(|saved| saved.id.clone()));
            let id = next.unwrap_or_else(records::new_id);
            let (saved, scenario) = take(&id);
            self.put_on_bench(id, saved, scenario);
        }
    }

    /// Brings the scenario deleted last back.
    pub fn bring_back(self) {
        let Some(Removed { id, record }) = self.removed.get_untracked() else {
            return;
        };
        if records::save(&id, &record).is_ok() {
            self.removed.set(None);
            self.list.set(records::list());
        } else {
            self.status.set(SaveStatus::Full);
        }
    }

    /// Forgets a text that could not be read.
    pub fn discard_aside(self, id: &str) {
        records::remove_aside(id);
        self.aside.set(records::sort_out());
    }

    /// `name`, with a number after it if it is taken; no longer than can be
    /// read again.
    fn free_name(self, name: &str) -> String {
        /// More scenarios than fit any store.
        const NUMBER: usize = 10;
        let short = |most: usize| name.chars().take(most).collect::<String>();
        let name = &short(LONGEST_ENTRY);
        let taken = |name: &str| self.list.with_untracked(|list| list.iter().any(|saved| saved.name == name));
        if !taken(name) {
            return name.to_owned();
        }
        let stem = short(LONGEST_ENTRY - NUMBER);
        let numbered = (2..).map(|number| format!("{stem} {number}"));
        numbered.into_iter().find(|name| !taken(name)).unwrap_or_default()
    }
}

/// The scenario under `id` and when it was saved; a new one if there is none.
fn take(id: &str) -> (Option<f64>, Scenario) {
    match records::load(id) {
        Some(Record { saved, scenario, .. }) => (Some(saved), scenario),
        None => (None, Scenario::new("My mill")),
    }
}
