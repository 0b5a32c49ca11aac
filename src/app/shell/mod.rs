//! What surrounds every page: header, steps, the live answer, the way on.

mod header;
mod newer;
mod panic;
mod steps;

use crate::app::prelude::*;

use super::answer::verdict_bar;
use super::markup::mount_to_body;
use super::prefs;
use super::route::{self, Route, focus_heading};
use super::shelf::Shelf;
use super::{pages, shelf::SaveStatus};

use header::header;
use newer::newer_version;
use steps::{onward, steps};

/// Starts the app in place of the loading shell.
pub fn start() {
    panic::install();
    if let Some(shell) = document().get_element_by_id("shell") {
        shell.remove();
    }
    mount_to_body(app);
}

fn app() -> AnyView {
    let shelf = Shelf::open_last();
    provide_context(shelf);
    provide_context(shelf.bench());
    let prefs = prefs::follow();
    let location = route::follow();
    provide_context(location);
    let here = Memo::new(move |_| location.with(|location| location.route));
    let skip = move |event: leptos::ev::MouseEvent| {
        event.prevent_default();
        focus_heading();
    };
    // The answer needs no short form of itself, and the list of scenarios is
    // about more than the open one.
    let docked = Memo::new(move |_| !matches!(here.get(), Route::Answer | Route::Scenarios));
    let bar = move || docked.get().then(|| view! { <div class="dock">{verdict_bar()}</div> });
    view! {
        <a class="skip" href=move || here.get().href() on:click=skip>"Skip to the questions"</a>
        {header(prefs)}
        <div class="bench">
            {steps(here)}
            <main id="main">
                {newer_version(shelf)}
                {conflict(shelf)}
                {move || pages::view(here.get())}
                {onward(here)}
            </main>
        </div>
        {bar}
    }
    .into_any()
}

/// Another tab has stored this scenario since it was opened here.
fn conflict(shelf: Shelf) -> AnyView {
    let choice = move || {
        (shelf.status.get() == SaveStatus::Conflict).then(|| {
            view! {
                <div class="news" role="alert">
                    <p>"Another tab has changed this scenario. What you changed here is not saved yet."</p>
                    <div class="actions">
                        <button type="button" on:click=move |_| shelf.keep_both()>"Keep mine as a copy"</button>
                        <button type="button" on:click=move |_| shelf.take_other()>"Take the other tab’s instead"</button>
                    </div>
                </div>
            }
        })
    };
    view! { {choice} }.into_any()
}
