//! Where everything is kept, how safe it is there, and what this way of
//! opening the page can't do.

use crate::app::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::share::from_disk;
use crate::app::storage::{self, ask_to_keep, is_kept_for_good};

/// What can be said of it.
pub fn view() -> AnyView {
    if !storage::works() {
        return view! {
            <p>"Nowhere: this browser refuses storage to this page, so everything is gone when it is closed. Export to a file."</p>
        }
        .into_any();
    }
    let promised = RwSignal::new(None::<bool>);
    spawn_local(async move {
        let answer = is_kept_for_good().await;
        promised.try_set(answer);
    });
    let ask = move |_| {
        spawn_local(async move {
            let answer = ask_to_keep().await;
            promised.try_set(answer.or(Some(false)));
        });
    };
    let promise = move || {
        promised.get().map(|promised| {
            if promised {
                view! { <p>"The browser has promised not to clear it of its own accord."</p> }.into_any()
            } else {
                view! {
                    <p>"The browser may clear it when the device runs short of room, or after weeks without a visit."</p>
                    <div class="actions">
                        <button type="button" on:click=ask>"Ask the browser to keep it"</button>
                    </div>
                }
                .into_any()
            }
        })
    };
    view! {
        <p>"In this browser on this device, and nowhere else. A private window forgets it when it is closed. A file is the safe copy."</p>
        <div role="status">{promise}</div>
        {place()}
    }
    .into_any()
}

fn place() -> AnyView {
    if from_disk() {
        return view! {
            <p>"This page was opened from disk. It needs no network at all, but it can’t be installed, and what is saved belongs to this browser and the place of this file: moved or renamed, it may start empty. Other pages opened from disk may see what is saved. Export before you move it."</p>
        }
        .into_any();
    }
    view! {
        <p>"Once opened it works without a network. To have it as an app, use “Install” or “Add to home screen” in the browser’s menu."</p>
        <p>"There is a copy of it all in one file, which opens from a disk or a memory stick and needs no server. Fetch it while there is a network; the saved scenarios are not in it."</p>
        <a class="big-link" href="spindlewise.html" download="spindlewise.html">
            <span class="big-link-text">"Spindlewise as one file"</span>
        </a>
    }
    .into_any()
}
