//! Files out to the user's disk and in from it. Nothing goes over the network.

use crate::app::prelude::*;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::{Blob, BlobPropertyBag, File, HtmlAnchorElement, HtmlInputElement, Url};

use std::time::Duration;

/// Time a browser may take to begin writing a download.
const RELEASE_AFTER: Duration = Duration::from_secs(60);

/// Hands `text` to the user as a file.
///
/// # Errors
/// The browser's own, when it makes no files.
pub fn download(file_name: &str, text: &str) -> Result<(), JsValue> {
    let kind = BlobPropertyBag::new();
    kind.set_type("application/json");
    let parts = js_sys::Array::of1(&text.into());
    let blob = Blob::new_with_str_sequence_and_options(&parts, &kind)?;
    let url = Url::create_object_url_with_blob(&blob)?;
    let link: HtmlAnchorElement = document().create_element("a")?.unchecked_into();
    link.set_href(&url);
    link.set_download(file_name);
    link.click();
    set_timeout(move || _ = Url::revoke_object_url(&url), RELEASE_AFTER);
    Ok(())
}

/// Reads the file picked in `input` and hands its name and text on. The same
/// file can be picked again afterwards.
pub fn read_picked(input: &HtmlInputElement, done: impl FnOnce(String, Result<String, JsValue>) + 'static) {
    let Some(file) = picked(input) else { return };
    spawn_local(async move {
        let text = JsFuture::from(file.text()).await.map(|text| text.as_string().unwrap_or_default());
        done(file.name(), text);
    });
}

/// The file picked in `input`, which is then free to pick it again.
pub fn picked(input: &HtmlInputElement) -> Option<File> {
    let file = input.files()?.get(0)?;
    input.set_value("");
    Some(file)
}

/// What is in `file`.
///
/// # Errors
/// The browser's own, when it can't be read.
pub async fn read_bytes(file: &File) -> Result<Vec<u8>, JsValue> {
    let buffer = JsFuture::from(file.array_buffer()).await?;
    Ok(js_sys::Uint8Array::new(&buffer).to_vec())
}

/// A file name made of `name`: letters, digits and dashes, as many as every
/// system takes.
pub fn file_name(name: &str) -> String {
    /// A letter may take four of the 255 bytes that most allow.
    const MOST: usize = 50;
    let mut safe = String::new();
    for c in name.chars().take(MOST) {
        if c.is_alphanumeric() {
            safe.push(c);
        } else if !safe.is_empty() && !safe.ends_with('-') {
            safe.push('-');
        }
    }
    let safe = safe.trim_end_matches('-');
    format!("{}.spindlewise.json", if safe.is_empty() { "scenario" } else { safe })
}
