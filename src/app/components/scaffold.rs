//! The frame of a page.

use crate::app::prelude::*;

use crate::app::state::workbench;

/// A page: its heading (focused when it opens), a line under it, its content.
pub fn page(title: &'static str, lead: &'static str, content: AnyView) -> AnyView {
    view! {
        <h1 tabindex="-1">{title}</h1>
        <p class="lead">{lead}</p>
        {content}
    }
    .into_any()
}

/// The head of a page that speaks about the open scenario: its heading (focused
/// when it opens) and the scenario's name.
pub fn scenario_head(title: &'static str) -> AnyView {
    let bench = workbench();
    let name = move || bench.scenario.with(|scenario| scenario.name.clone());
    view! {
        <header class="answer-head">
            <h1 tabindex="-1">{title}</h1>
            <p class="answer-for two-lines" title=name>{name}</p>
        </header>
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
