//! The open scenario as a link and as a picture to scan, made on this device.

use crate::app::prelude::*;
use leptos::html::Input;
use qrcodegen::{QrCode, QrCodeEcc};
use spindlewise_engine::scenario::link;
use wasm_bindgen::JsCast;
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::Clipboard;

use super::address::is_this_device;
use crate::app::route::href_with;
use crate::app::shelf::shelf;

/// White margin around the picture in modules: ISO/IEC 18004 asks for four.
const QUIET: i32 = 4;

/// The button, and what it makes.
pub fn view() -> AnyView {
    let shelf = shelf();
    let made = RwSignal::new(None::<Result<String, String>>);
    let make = move |_| {
        let packed = shelf.bench().scenario.with_untracked(link::write);
        made.set(Some(packed.map(|packed| href_with(&packed)).map_err(|why| why.to_string())));
    };
    let result = move || {
        made.get().map(|made| match made {
            Ok(address) => links(address),
            Err(why) => view! { <p class="news" role="alert">{why}</p> }.into_any(),
        })
    };
    view! {
        <p>"All of the open scenario goes into the link itself, behind the #: no server sees or keeps it. Whoever opens the link is asked before anything is taken over."</p>
        <div class="actions">
            <button type="button" on:click=make>"Make a link of the open one"</button>
        </div>
        {result}
    }
    .into_any()
}

fn links(address: String) -> AnyView {
    let input = NodeRef::<Input>::new();
    let said = RwSignal::new("");
    let picture = if leads_anywhere() { qr_code(&address) } else { only_here() };
    let text = address.clone();
    let copy = move |_| {
        if let Some(input) = input.get_untracked() {
            _ = input.focus();
            input.select();
        }
        let text = text.clone();
        spawn_local(async move {
            let copied = copied(&text).await;
            said.try_set(if copied {
                "Copied."
            } else {
                "The browser did not copy it; the link is picked out for you to copy."
            });
        });
    };
    view! {
        <div class="link-made">
            <label for="link">"Link"</label>
            <input id="link" type="text" readonly=true node_ref=input prop:value=address />
            <div class="actions">
                <button type="button" on:click=copy>"Copy the link"</button>
                <p role="status">{said}</p>
            </div>
            {picture}
        </div>
    }
    .into_any()
}

/// Only pages from a secure place have a clipboard.
async fn copied(text: &str) -> bool {
    let clipboard = js_sys::Reflect::get(&window().navigator(), &"clipboard".into()).ok();
    match clipboard.and_then(|clipboard| clipboard.dyn_into::<Clipboard>().ok()) {
        Some(clipboard) => JsFuture::from(clipboard.write_text(text)).await.is_ok(),
        None => false,
    }
}

fn qr_code(address: &str) -> AnyView {
    let Ok(code) = QrCode::encode_binary(address.as_bytes(), QrCodeEcc::Low) else {
        return view! { <p>"It is too long for a picture to scan: use the link, or a file."</p> }.into_any();
    };
    let dark = (0..code.size()).flat_map(|y| (0..code.size()).map(move |x| (x, y)));
    let dark = dark.filter(|&(x, y)| code.get_module(x, y));
    let path: String = dark.map(|(x, y)| format!("M{x} {y}h1v1h-1z")).collect();
    let side = code.size() + 2 * QUIET;
    view! {
        <figure class="qr">
            <svg viewBox=format!("-{QUIET} -{QUIET} {side} {side}") role="img" aria-label="The link as a QR code">
                <path d=path />
            </svg>
            <figcaption>"Scan it with the camera of the other device. Both need to reach the place this page comes from."</figcaption>
        </figure>
    }
    .into_any()
}

/// In place of a picture that no other device could follow.
fn only_here() -> AnyView {
    let words = if from_disk() {
        "This page was opened from disk, so the link works on this device only, and only while the file stays where it is."
    } else {
        "This page is served to this device only, so the link works on this device only: elsewhere its address leads nowhere."
    };
    view! {
        <p class="news" role="status">
            {words} " To somebody else, or to another device, send a file: “Export the open one to a file”."
        </p>
    }
    .into_any()
}

/// Whether the page was opened from disk.
pub fn from_disk() -> bool {
    window().location().protocol().is_ok_and(|protocol| protocol == "file:")
}

/// Whether the address of the page can mean the same on another device.
fn leads_anywhere() -> bool {
    !from_disk() && !window().location().hostname().is_ok_and(|host| is_this_device(&host))
}
