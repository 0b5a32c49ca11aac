//! The frame of a page.

use crate::app::prelude::*;

/// A page: its heading (focused when it opens), a line under it, its content.
pub fn page(title: &'static str, lead: &'static str, content: AnyView) -> AnyView {
    view! {
        <h1 tabindex="-1">{title}</h1>
        <p class="lead">{lead}</p>
        {content}
    }
    .into_any()
}

/// A group of questions under a heading. `id` can be linked to.
pub fn section(id: &'static str, title: &'static str, content: AnyView) -> AnyView {
    view! {
        <section class="group" id=id>
            <h2>{title}</h2>
            {content}
        </section>
    }
    .into_any()
}

/// Questions that most people can pass over.
pub fn details(summary: &'static str, content: AnyView) -> AnyView {
    view! {
        <details class="more">
            <summary>{summary}</summary>
            <div class="inside">{content}</div>
        </details>
    }
    .into_any()
}
