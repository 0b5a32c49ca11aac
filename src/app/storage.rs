//! The browser's local storage behind a small wall.
//!
//! It can be blocked, full, or hold what somebody else wrote. Where the browser
//! refuses it, the same functions work on memory, so that the pages need not
//! care; the status in the header says that nothing is kept.

use std::cell::{LazyCell, RefCell};
use std::collections::BTreeMap;

use gloo_storage::{LocalStorage, Storage};
use leptos::prelude::window;
use serde::Serialize;
use wasm_bindgen::JsCast;
use wasm_bindgen_futures::JsFuture;
use web_sys::StorageManager;

/// Every key of this product begins so: pages opened from disk share one store.
pub const PREFIX: &str = "spindlewise:v1:";

thread_local! {
    static WORKS: LazyCell<bool> = LazyCell::new(|| probe().is_some());
    static MEMORY: RefCell<BTreeMap<String, String>> = const { RefCell::new(BTreeMap::new()) };
}

/// The browser did not keep what it was given; most likely it is full.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Refused;

/// Whether the browser keeps anything at all.
pub fn works() -> bool {
    WORKS.with(|works| **works)
}

/// The text under `key`.
pub fn get(key: &str) -> Option<String> {
    let key = full(key);
    if works() {
        LocalStorage::raw().get_item(&key).ok().flatten()
    } else {
        MEMORY.with_borrow(|memory| memory.get(&key).cloned())
    }
}

/// Keeps `value` as JSON under `key`.
///
/// # Errors
/// [`Refused`] when the browser won't take it.
pub fn set(key: &str, value: &impl Serialize) -> Result<(), Refused> {
    let key = full(key);
    if works() {
        return LocalStorage::set(&key, value).map_err(|_| Refused);
    }
    let text = serde_json::to_string(value).map_err(|_| Refused)?;
    MEMORY.with_borrow_mut(|memory| memory.insert(key, text));
    Ok(())
}

/// Keeps `text` word for word under `key`.
///
/// # Errors
/// [`Refused`] when the browser won't take it.
pub fn set_text(key: &str, text: &str) -> Result<(), Refused> {
    let key = full(key);
    if works() {
        return LocalStorage::raw().set_item(&key, text).map_err(|_| Refused);
    }
    MEMORY.with_borrow_mut(|memory| memory.insert(key, text.to_owned()));
    Ok(())
}

/// Forgets `key`.
pub fn remove(key: &str) {
    let key = full(key);
    if works() {
        LocalStorage::delete(&key);
    } else {
        MEMORY.with_borrow_mut(|memory| memory.remove(&key));
    }
}

/// What follows `start` in every key that begins with it.
pub fn names_under(start: &str) -> Vec<String> {
    let start = full(start);
    let keys = if works() {
        let store = LocalStorage::raw();
        (0..LocalStorage::length()).filter_map(|i| store.key(i).ok().flatten()).collect()
    } else {
        MEMORY.with_borrow(|memory| memory.keys().cloned().collect::<Vec<_>>())
    };
    keys.iter().filter_map(|key| key.strip_prefix(&start)).map(str::to_owned).collect()
}

/// All that is stored, by its full key.
pub fn everything() -> BTreeMap<String, String> {
    // Collected, they would be sorted first, by code of its own.
    let mut all = BTreeMap::new();
    for name in names_under("") {
        if let Some(text) = get(&name) {
            all.insert(full(&name), text);
        }
    }
    all
}

/// Whether the browser has promised to clear nothing of its own accord;
/// `None` where it makes no such promise.
pub async fn is_kept_for_good() -> Option<bool> {
    let manager = manager()?;
    JsFuture::from(manager.persisted().ok()?).await.ok()?.as_bool()
}

/// Asks the browser for that promise. Some ask the user, some decide alone.
pub async fn ask_to_keep() -> Option<bool> {
    let manager = manager()?;
    JsFuture::from(manager.persist().ok()?).await.ok()?.as_bool()
}

/// Only pages from a secure place have it.
fn manager() -> Option<StorageManager> {
    let storage = js_sys::Reflect::get(&window().navigator(), &"storage".into()).ok()?;
    storage.dyn_into().ok()
}

fn full(key: &str) -> String {
    [PREFIX, key].concat()
}

/// Even looking at the store can fail, so it is looked at once before anything
/// relies on it. Nothing is written: a full store still holds what was saved.
fn probe() -> Option<()> {
    let store = window().local_storage().ok()??;
    store.get_item(&full("probe")).ok().map(|_| ())
}
