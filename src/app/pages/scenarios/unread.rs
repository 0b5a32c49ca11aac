//! Texts in the store that can't be read.

use crate::app::prelude::*;

use crate::app::components::section;
use crate::app::files::{download, file_name};
use crate::app::records::{Aside, aside_text};
use crate::app::shelf::{SaveStatus, shelf};

/// Kept as they are, to be saved as files or discarded.
pub fn unread(aside: &[Aside]) -> AnyView {
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
