//! When the program stops by a fault of its own, the page must say so: nothing
//! on it works any more.

use std::panic;

use leptos::prelude::document;
use wasm_bindgen::JsValue;

/// From now on a panic is logged and shown.
pub fn install() {
    panic::set_hook(Box::new(|info| {
        console_error_panic_hook::hook(info);
        // What went wrong may include the document; then the log has to do.
        _ = show_banner();
    }));
}

/// Built from plain elements: the program's own state is not to be trusted.
fn show_banner() -> Result<(), JsValue> {
    let document = document();
    if document.get_element_by_id("stopped").is_some() {
        return Ok(());
    }
    let banner = document.create_element("div")?;
    banner.set_id("stopped");
    banner.set_attribute("role", "alert")?;
    let words = document.create_element("p")?;
    words.set_text_content(Some("The page stopped. Your saved work is intact. Reload."));
    let reload = document.create_element("a")?;
    reload.set_attribute("href", "")?;
    reload.set_text_content(Some("Reload"));
    banner.append_child(&words)?;
    banner.append_child(&reload)?;
    if let Some(body) = document.body() {
        body.prepend_with_node_1(&banner)?;
    }
    Ok(())
}
