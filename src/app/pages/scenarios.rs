//! The saved scenarios: open, rename, duplicate, delete, to a file and back.

use leptos::html::Input;
use leptos::prelude::*;
use spindlewise_engine::scenario::document;

use crate::app::components::{page, section, unusable};
use crate::app::files::{download, file_name, read_picked};
use crate::app::records::{Aside, Listed, aside_text};
use crate::app::route::{Route, focus_heading};
use crate::app::shelf::{SaveStatus, shelf};

/// The page.
pub fn view() -> AnyView {
    let shelf = shelf();
    // The open one may not have been stored yet.
    shelf.save();
    let news = RwSignal::new(String::new());
    let content = view! {
        <p class="news" role="status" class:empty=move || news.with(String::is_empty)>{news}</p>
        {move || shelf.removed.get().map(|removed| undo(removed.name().to_owned()))}
        {unusable()}
        {section("begin", "Begin", begin(news))}
        {section("saved", "Saved", saved())}
        {move || shelf.aside.with(|aside| (!aside.is_empty()).then(|| unread(aside)))}
    };
    page(
        "Scenarios",
        "One machine and one job each, kept in this browser only. A file is the safe copy, and the way to a friend.",
        content.into_any(),
    )
}

fn begin(news: RwSignal<String>) -> AnyView {
    let shelf = shelf();
    let go = move || _ = window().location().set_hash(&Route::Trouble.href());
    let export = move |_| {
        let scenario = shelf.bench().scenario.get_untracked();
        let name = file_name(&scenario.name);
        news.set(match download(&name, &document::write(&scenario)) {
            Ok(()) => format!("“{}” goes to your downloads as {name}.", scenario.name),
            Err(_) => "This browser would not make a file.".to_owned(),
        });
    };
    let import = move |event: leptos::ev::Targeted<leptos::ev::Event, web_sys::HtmlInputElement>| {
        read_picked(&event.target(), move |name, text| {
            let read = text.map_err(|_| "The browser could not read it.".to_owned());
            let read = read.and_then(|text| document::read(&text).map_err(|why| why.to_string()));
            news.try_set(match read {
                Ok(scenario) => {
                    let title = scenario.name.clone();
                    shelf.add(scenario);
                    format!("“{title}” was read from {name} and is open now.")
                }
                Err(why) => {
                    format!("{name} was not taken over, and nothing here was changed. {why}")
                }
            });
        });
    };
    view! {
        <div class="actions">
            <button type="button" on:click=move |_| { shelf.add_empty(); go() }>"New scenario"</button>
            <button type="button" on:click=move |_| { shelf.add_demo(); go() }>"Load the demo"</button>
            <button type="button" on:click=export>"Export the open one to a file"</button>
            <div class="pick-file">
                <input id="import" type="file" accept=".json,application/json" on:change:target=import />
                <label class="button" for="import">"Import from a file"</label>
            </div>
        </div>
    }
    .into_any()
}

fn saved() -> AnyView {
    let shelf = shelf();
    // Keyed, so that a row in use stays as it is while others change.
    let key = |saved: &Listed| (saved.id.clone(), saved.name.clone(), saved.saved.to_bits());
    let none = move || {
        shelf
            .list
            .with(Vec::is_empty)
            .then(|| view! { <p>"Nothing saved yet: what is open is saved with its first change."</p> })
    };
    view! {
        <ul class="saved">
            <For each=move || shelf.list.get() key children=row />
        </ul>
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
            return view! { <h3>{heading.clone()}</h3> }.into_any();
        }
        view! {
            <input
                type="text"
                class="rename"
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
                        _ = window().location().set_hash(&Route::Trouble.href());
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

fn undo(name: String) -> AnyView {
    let shelf = shelf();
    view! {
        <div class="news" role="status">
            <p>{format!("“{name}” was deleted.")}</p>
            <button type="button" on:click=move |_| { shelf.bring_back(); focus_heading() }>"Undo"</button>
        </div>
    }
    .into_any()
}

/// Texts in the store that can't be read.
fn unread(aside: &[Aside]) -> AnyView {
    let shelf = shelf();
    let row = |Aside { id, why }: &Aside| {
        let (keep, discard) = (id.clone(), id.clone());
        let save_text = move |_| {
            let text = aside_text(&keep).unwrap_or_default();
            if download(&file_name(&format!("unread {keep}")), &text).is_err() {
                shelf.status.set(SaveStatus::Blocked);
            }
        };
        view! {
            <li>
                <div class="what">
                    <h3>{format!("Saved under “{id}”")}</h3>
                    <p>{why.to_string()}</p>
                </div>
                <div class="actions">
                    <button type="button" on:click=save_text>"Save the raw text as a file"</button>
                    <button type="button" class="risky" on:click=move |_| shelf.discard_aside(&discard)>"Discard it"</button>
                </div>
            </li>
        }
    };
    let rows = aside.iter().map(row).collect_view();
    section(
        "unread",
        "Could not be read",
        view! {
            <p>"These were in the store but are not whole. They are kept as they are until you discard them."</p>
            <ul class="saved">{rows}</ul>
        }
        .into_any(),
    )
}
