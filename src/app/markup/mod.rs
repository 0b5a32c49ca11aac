//! What `view!` (`src/view`) makes, and how it gets into the page.
//!
//! A view is a plain description. It is built into nodes of the page, and where
//! it is made anew, as in `{move || ...}`, what is there already is brought up to
//! date: an element of the same template stays, with the keyboard in it. One piece
//! of code does so for all views. Signals, owners and effects are Leptos'.

mod built;
mod built_element;
mod element;
#[allow(dead_code, reason = "what fills an open place says itself of which kind it is")]
#[path = "../../view/letters.rs"]
mod letters;
mod rows;
mod value;
mod view;

use std::mem;

use any_spawner::Executor;
use leptos::prelude::{Owner, document};

pub use element::Element;
pub use rows::rows;
pub use value::{Attributes, IntoValue};
pub use view::{AnyView, CollectView, IntoView};

/// Shows what `app` makes, for as long as the page is there.
pub fn mount_to_body(app: impl FnOnce() -> AnyView) {
    // Fails only where it is set up already.
    _ = Executor::init_wasm_bindgen();
    let owner = Owner::new();
    let shown = owner.with(|| app().build());
    if let Some(body) = document().body() {
        shown.put_into(&body);
    }
    mem::forget((owner, shown));
}
