//! The saved scenarios: open, rename, duplicate, delete, to a file and back,
//! and on to somebody else.

mod address;
mod files;
mod keeping;
mod share;
mod unread;

use std::time::Duration;

use crate::app::prelude::*;
use leptos::html::Input;
use spindlewise_engine::scenario::document::LONGEST_ENTRY;
use wasm_bindgen::JsValue;

use crate::app::components::{brief, page, section, unusable};
use crate::app::markup::rows;
use crate::app::records::Listed;
use crate::app::route::{Route, focus_heading};
use crate::app::shelf::shelf;

use unread::unread;

/// The scenario that is being named: which, and whether it was just begun.
type Naming = RwSignal<Option<(String, bool)>>;

/// The page.
pub fn view() -> AnyView {
    let shelf = shelf();
    // The open one may not have been stored yet.
    shelf.save();
    let news = RwSignal::new(String::new());
    let offer = RwSignal::new(None);
    let naming = RwSignal::new(None);
    let content = view! {
        <p class="news" role="status" class:empty=move || news.with(String::is_empty)>{news}</p>
        {move || shelf.removed.get().map(|removed| undo(removed.name()))}
        {unusable()}
        {held()}
        {files::offered(offer, news)}
        {section("begin", "Begin", begin(naming))}
        {section("saved", "Saved", saved(naming))}
        {move || shelf.aside.with(|aside| (!aside.is_empty()).then(|| unread(aside)))}
        {section("files", "To a file and back", files::view(offer, news))}
        {section("share", "To somebody else", share::view())}
        {section("keeping", "Where it is kept", keeping::view())}
    };
    page(
        "Scenarios",
        "One machine and one job each, kept in this browser only. A file is the safe copy, and the way to a friend.",
        content.into_any(),
    )
}

fn begin(naming: Naming) -> AnyView {
    let shelf = shelf();
    // Named at once, or there would soon be several of one name.
    let begin = move |_| {
        shelf.add_empty();
        if shelf.held.get_untracked() {
            return;
        }
        let id = shelf.id.get_untracked();
        if shelf.list.with_untracked(|list| list.iter().any(|saved| saved.id == id)) {
            naming.set(Some((id, true)));
        } else {
            to_the_questions();
        }
    };
    let demo = move |_| {
        shelf.add_demo();
        if !shelf.held.get_untracked() {
            to_the_questions();
        }
    };
    view! {
        <div class="actions">
            <button type="button" on:click=begin>"New scenario"</button>
            <button type="button" on:click=demo>"Load the demo"</button>
        </div>
    }
    .into_any()
}

fn to_the_questions() {
    _ = window().location().set_hash(&Route::Trouble.href());
}

/// Another was to be opened, and the open one would have been lost.
fn held() -> AnyView {
    let shelf = shelf();
    let words = "The open scenario is not saved, so no other was opened: export it to a file first, or make room.";
    view! { {move || shelf.held.get().then(|| view! { <p class="news" role="alert">{words}</p> })} }.into_any()
}

fn saved(naming: Naming) -> AnyView {
    let shelf = shelf();
    // Keyed, so that a row in use stays as it is while others change.
    let key = |saved: &Listed| format!("{} {} {}", saved.id, saved.saved, saved.name);
    let none = move || {
        shelf
            .list
            .with(Vec::is_empty)
            .then(|| view! { <p>"Nothing saved yet: what is open is saved with its first change."</p> })
    };
    view! {
        <ul class="saved">{rows(move || shelf.list.get(), key, move |saved| row(saved, naming))}</ul>
        {none}
    }
    .into_any()
}

fn row(saved: Listed, naming: Naming) -> AnyView {
    let shelf = shelf();
    let Listed { id, name, saved } = saved;
    let id = StoredValue::new(id);
    let renaming =
        Memo::new(move |_| naming.with(|naming| naming.as_ref().is_some_and(|(one, _)| id.with_value(|id| id == one))));
    let open = move || id.with_value(|id| shelf.id.with(|open| open == id));
    let when = String::from(js_sys::Date::new(&saved.into()).to_locale_string("default", &to_the_minute()));
    let heading = name.clone();
    let label = format!("New name for “{name}”");
    let input = NodeRef::<Input>::new();
    let old_name = name.clone();
    Effect::new(move |_| {
        if let Some(input) = input.get() {
            // Its value comes first, or there would be nothing to select.
            input.set_value(&old_name);
            _ = input.focus();
            input.select();
        }
    });
    let done = move || {
        let begun = naming.with_untracked(|naming| naming.as_ref().is_some_and(|(_, begun)| *begun));
        naming.set(None);
        if begun {
            to_the_questions();
        } else {
            focus_heading();
        }
    };
    let unchanged = name.clone();
    let leave = move |event: leptos::ev::KeyboardEvent| {
        let typed = event_target_value(&event);
        // Not from within the field's own event: it goes away with this.
        match event.key().as_str() {
            "Escape" => {
                let give_up = move || {
                    naming.set(None);
                    focus_heading();
                };
                set_timeout(give_up, Duration::ZERO);
            }
            // Tells of no change.
            "Enter" if typed == unchanged => set_timeout(done, Duration::ZERO),
            _ => {}
        }
    };
    let rename = move |name: String| {
        if !name.trim().is_empty() {
            id.with_value(|id| shelf.rename(id, name.trim()));
            done();
        }
    };
    let title = move || {
        if !renaming.get() {
            return view! { <h3 class="two-lines" title=heading.clone()>{heading.clone()}</h3> }.into_any();
        }
        view! {
            <input
                type="text"
                class="rename"
                maxlength=LONGEST_ENTRY.to_string()
                node_ref=input
                aria-label=label.clone()
                on:keydown=leave.clone()
                on:change:target=move |event| rename(event.target().value())
            />
        }
        .into_any()
    };
    let named = |verb: &str| format!("{verb} “{name}”");
    view! {
        <li class:open=open>
            <div class="what">
                {title}
                <p class="hint">{move || if open() { "Open now. " } else { "" }} "Saved " {when}</p>
            </div>
            <div class="actions">
                <button
                    type="button"
                    aria-label=named("Open")
                    on:click=move |_| {
                        id.with_value(|id| shelf.open(id));
                        if !shelf.held.get_untracked() {
                            to_the_questions();
                        }
                    }
                >
                    "Open"
                </button>
                <button
                    type="button"
                    aria-label=named("Rename")
                    aria-pressed=move || renaming.get().to_string()
                    on:click=move |_| {
                        naming.set((!renaming.get_untracked()).then(|| (id.get_value(), false)));
                    }
                >
                    "Rename"
                </button>
                <button type="button" aria-label=named("Duplicate") on:click=move |_| id.with_value(|id| shelf.duplicate(id))>
                    "Duplicate"
                </button>
                <button
                    type="button"
                    class="risky"
                    aria-label=named("Delete")
                    on:click=move |_| {
                        id.with_value(|id| shelf.delete(id));
                        focus_heading();
                    }
                >
                    "Delete"
                </button>
            </div>
        </li>
    }
    .into_any()
}

/// How a moment is written.
fn to_the_minute() -> JsValue {
    let style = js_sys::Object::new();
    for (part, length) in [("dateStyle", "medium"), ("timeStyle", "short")] {
        // Fails only on a frozen object.
        _ = js_sys::Reflect::set(&style, &part.into(), &length.into());
    }
    style.into()
}

fn undo(name: &str) -> AnyView {
    let shelf = shelf();
    view! {
        <div class="news" role="status">
            <p>{format!("“{}” was deleted.", brief(name))}</p>
            <button type="button" on:click=move |_| { shelf.bring_back(); focus_heading() }>"Undo"</button>
        </div>
    }
    .into_any()
}
