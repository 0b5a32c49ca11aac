//! Word of a newer version, which comes when the user wants it to.

use crate::app::prelude::*;

use crate::app::host;
use crate::app::shelf::{SaveStatus, Shelf};

/// Offers the newer version once it is ready. A reload keeps what is saved, so
/// nothing but that is let go.
pub fn newer_version(shelf: Shelf) -> AnyView {
    let ready = RwSignal::new(host::newer());
    _ = window_event_listener_untyped("newversion", move |_| ready.set(true));
    let renew = move |_| {
        shelf.save();
        if shelf.status.get_untracked() == SaveStatus::Saved {
            host::renew();
        }
    };
    let safe = Memo::new(move |_| matches!(shelf.status.get(), SaveStatus::Saved | SaveStatus::Pending));
    let offer = move || {
        if safe.get() {
            view! {
                <p>"A new version of Spindlewise is ready. What you entered stays."</p>
                <button type="button" on:click=renew>"Reload"</button>
            }
            .into_any()
        } else {
            view! {
                <p>"A new version of Spindlewise is ready. It waits, because what you entered is not saved: export it to a file first."</p>
            }
            .into_any()
        }
    };
    view! { {move || ready.get().then(|| view! { <div class="news" role="status">{offer}</div> })} }.into_any()
}
