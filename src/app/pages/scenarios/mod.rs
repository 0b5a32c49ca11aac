//! The saved scenarios: open, rename, duplicate, delete, to a file and back,
//! and on to somebody else.

mod address;
mod files;
mod keeping;
mod share;
mod unread;

use crate::app::prelude::*;
use leptos::html::Input;
use spindlewise_engine::scenario::document::LONGEST_ENTRY;

use crate::app::components::{brief, page, section, unusable};
use crate::app::markup::rows;
use crate::app::records::Listed;
use crate::app::route::{Route, focus_heading};
use crate::app::shelf::shelf;

use unread::unread;

/// The page.
pub fn view() -> AnyView {
    let shelf = shelf();
    // The open one may not have been stored yet.
    shelf.save();
    let news = RwSignal::new(String::new());
    let offer = RwSignal::new(None);
    let content = view! {
        <p class="news" role="status" class:empty=move || news.with(String::is_empty)>{news}</p>
        {move || shelf.removed.get().map(|removed| undo(removed.name()))}
        {unusable()}
        {held()}
        {files::offered(offer, news)}
        {section("begin", "Begin", begin())}
        {section("saved", "Saved", saved())}
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

fn begin() -> AnyView {
    let shelf = shelf();
    let go = move || {
        if !shelf.held.get_untracked() {
            _ = window().location().set_hash(&Route::Trouble.href());
        }
    };
    view! {
        <div class="actions">
            <button type="button" on:click=move |_| { shelf.add_empty(); go() }>"New scenario"</button>
            <button type="button" on:click=move |_| { shelf.add_demo(); go() }>"Load the demo"</button>
        </div>
    }
    .into_any()
}

/// Another was to be opened, and the open one would have been lost.
fn held() -> AnyView {
    let shelf = shelf();
    let words = "The open scenario is not saved, so no other was opened: export it to a file first, or make room.";
    view! { {move || shelf.held.get().then(|| view! { <p class="news" role="alert">{words}</p> })} }.into_any()
}

fn saved() -> AnyView {
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
        <ul class="saved">{rows(move || shelf.list.get(), key, row)}</ul>
        {none}
    }
    .into_any()
}

fn row(saved: Listed) -> AnyView {
    let shelf = shelf();
    let Listed { id, name, saved } = saved;
    let id = StoredValue::new(id);
    let renaming = RwSignal::new(false);
    let open = move || id.with_value(|id| shelf.id.with(|open| open == id));
    let when =
        String::from(js_sys::Date::new(&saved.into()).to_locale_string("default", &wasm_bindgen::JsValue::UNDEFINED));
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
    let give_up = move |event: leptos::ev::KeyboardEvent| {
        if event.key() == "Escape" {
            // Not from within the field's own event: it goes away with this.
            set_timeout(move || _ = renaming.try_set(false), std::time::Duration::ZERO);
        }
    };
    let rename = move |name: String| {
        if !name.trim().is_empty() {
            id.with_value(|id| shelf.rename(id, name.trim()));
            focus_heading();
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
                on:keydown=give_up
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
                            _ = window().location().set_hash(&Route::Trouble.href());
                        }
                    }
                >
                    "Open"
                </button>
                <button
                    type="button"
                    aria-label=named("Rename")
                    aria-pressed=move || renaming.get().to_string()
                    on:click=move |_| renaming.update(|renaming| *renaming = !*renaming)
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
