//! Keeping the open scenario: when it is stored, and what happens when another
//! tab has stored it meanwhile.

use std::time::Duration;

use crate::app::prelude::*;
use leptos::ev::{pagehide, storage as stored_elsewhere, visibilitychange};
use spindlewise_engine::scenario::{Record, Scenario};
use web_sys::StorageEvent;

use super::{SaveStatus, Shelf, take};
use crate::app::records;
use crate::app::storage;

/// Pause after the last change before it is saved.
const SAVE_AFTER: Duration = Duration::from_millis(400);

impl Shelf {
    /// Stores the open scenario now, if it has changed.
    pub fn save(self) {
        let scenario = self.bench.scenario.get_untracked();
        let id = self.id.get_untracked();
        let seen = self.stored.with_value(|(seen, stored)| (*stored != scenario).then_some(*seen));
        let Some(seen) = seen else { return };
        let beside = records::load(&id).map(|record| record.saved);
        if beside.is_some() && beside != seen {
            self.status.set(SaveStatus::Conflict);
            return;
        }
        let record = Record { saved: records::moment(), after: seen, scenario };
        let kept = records::save(&id, &record);
        self.status.set(match kept {
            _ if !storage::works() => SaveStatus::Blocked,
            Ok(()) => SaveStatus::Saved,
            Err(_) => SaveStatus::Full,
        });
        self.held.update(|held| *held &= kept.is_err());
        if kept.is_ok() {
            self.stored.set_value((Some(record.saved), record.scenario));
            records::remember_open(&id);
            self.list.set(records::list());
        }
    }

    pub(super) fn put_on_bench(self, id: String, saved: Option<f64>, scenario: Scenario) {
        records::remember_open(&id);
        self.id.set(id);
        self.stored.set_value((saved, scenario.clone()));
        self.bench.scenario.set(scenario);
        self.status.set(if storage::works() { SaveStatus::Saved } else { SaveStatus::Blocked });
    }

    pub(super) fn keep_saving(self) {
        Effect::new(move |_| {
            let same = self.bench.scenario.with(|open| self.stored.with_value(|(_, stored)| stored == open));
            if let Some(handle) = self.waiting.get_value() {
                handle.clear();
            }
            if same {
                return;
            }
            if self.status.get_untracked() == SaveStatus::Saved {
                self.status.set(SaveStatus::Pending);
            }
            let handle = set_timeout_with_handle(move || self.save(), SAVE_AFTER);
            self.waiting.set_value(handle.ok());
        });
        window_event_listener(pagehide, move |_| self.save());
        window_event_listener(visibilitychange, move |_| self.save());
        window_event_listener(stored_elsewhere, move |event| self.follow_other_tab(&event));
    }

    /// Takes over what another tab has stored, unless something here waits to
    /// be stored: then it is a conflict, which saving will find.
    ///
    /// Two tabs that save in the same moment don't see each other, and the one
    /// overwrites the other: it shows by not following what was saved here.
    fn follow_other_tab(self, event: &StorageEvent) {
        self.list.set(records::list());
        let id = self.id.get_untracked();
        let Some(Record { saved, after, scenario }) = records::kept_elsewhere(&id, event) else { return };
        let (seen, same) =
            self.stored.with_value(|(seen, stored)| (*seen, self.bench.scenario.with_untracked(|open| open == stored)));
        if !same || Some(saved) == seen {
            return;
        }
        if after == seen {
            self.put_on_bench(id, Some(saved), scenario);
        } else if records::load(&id).is_some_and(|record| record.saved == saved) {
            self.status.set(SaveStatus::Conflict);
        }
    }

    /// Settles a conflict: what the other tab stored is opened here.
    pub fn take_other(self) {
        let id = self.id.get_untracked();
        let (saved, scenario) = take(&id);
        self.put_on_bench(id, saved, scenario);
    }

    /// Settles a conflict: what is open here is kept beside it, as a copy.
    pub fn keep_both(self) {
        let mut scenario = self.bench.scenario.get_untracked();
        scenario.name = self.free_name(&format!("{} (copy)", scenario.name));
        self.put_on_bench(records::new_id(), None, Scenario::new(""));
        self.bench.scenario.set(scenario);
        self.save();
    }
}
