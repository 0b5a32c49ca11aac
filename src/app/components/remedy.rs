//! Picking one remedy of several.

use crate::app::prelude::*;
use spindlewise_engine::remedies::RemedyId;

use crate::app::answer::wire_name;

/// A list of `remedies` with their titles to pick one from; `none` is what stands for
/// none of them, if that can be.
pub fn pick_remedy(
    id: &'static str,
    label: &'static str,
    none: Option<&'static str>,
    remedies: Memo<Vec<(RemedyId, String)>>,
    picked: Memo<Option<RemedyId>>,
    pick: impl Fn(Option<RemedyId>) + 'static,
) -> AnyView {
    let options = move || {
        let option = |(id, title): &(RemedyId, String)| {
            let id = *id;
            view! { <option value=wire_name(&id) selected=move || picked.get() == Some(id)>{title.clone()}</option> }
        };
        remedies.with(|all| all.iter().map(option).collect_view())
    };
    let none = none.map(|none| view! { <option value="" selected=move || picked.get().is_none()>{none}</option> });
    let named = move |name: String| {
        remedies.with_untracked(|all| all.iter().map(|(id, _)| *id).find(|id| wire_name(id) == name))
    };
    view! {
        <div class="pick">
            <label for=id>{label}</label>
            <select id=id on:change:target=move |event| pick(named(event.target().value()))>{none} {options}</select>
        </div>
    }
    .into_any()
}
