//! Where the keyboard is.

use crate::app::prelude::*;
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlElement};

/// Focuses `element`, also one that the Tab key passes over.
pub fn focus(element: &Element) {
    let Some(element) = element.dyn_ref::<HtmlElement>() else {
        return;
    };
    if element.tab_index() < 0 && !element.has_attribute("tabindex") {
        _ = element.set_attribute("tabindex", "-1");
    }
    _ = element.focus();
}

/// Unfolds all that `element` is folded away in.
pub fn unfold(element: &Element) {
    let mut around = element.parent_element();
    while let Some(element) = around {
        if element.tag_name() == "DETAILS" {
            _ = element.set_attribute("open", "");
        }
        around = element.parent_element();
    }
}

/// To be called before part of the page is drawn anew: what is focused is focused
/// again afterwards, and stays where it is in the window, so that the keyboard
/// and the eye don't lose it. If it is gone, `otherwise` (an id) is focused.
pub fn keep(otherwise: &'static str) {
    let Some(before) = document().active_element().filter(|element| !element.id().is_empty()) else {
        return;
    };
    let (id, top) = (before.id(), before.get_bounding_client_rect().top());
    request_animation_frame(move || {
        if document().active_element().is_some_and(|now| now.id() == id) {
            return;
        }
        if let Some(after) = document().get_element_by_id(&id) {
            unfold(&after);
            focus(&after);
            window().scroll_by_with_x_and_y(0.0, after.get_bounding_client_rect().top() - top);
        } else if let Some(other) = document().get_element_by_id(otherwise) {
            focus(&other);
        }
    });
}
