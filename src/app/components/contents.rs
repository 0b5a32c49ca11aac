//! What stands on a long page.

use crate::app::prelude::*;

use crate::app::route::Route;

/// Links to the headings of `route`: the id of each, and what to call it.
pub fn contents(route: Route, headings: &[(&'static str, &'static str)]) -> AnyView {
    let link = |&(id, name): &(&'static str, &'static str)| view! { <li><a href=route.href_to(id)>{name}</a></li> };
    view! {
        <nav class="contents" aria-labelledby="contents">
            <p id="contents">"On this page"</p>
            <ul>{headings.iter().map(link).collect_view()}</ul>
        </nav>
    }
    .into_any()
}
