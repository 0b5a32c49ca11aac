//! The page.

use std::sync::Arc;

use leptos::prelude::*;
use spindlewise_engine::mechanics::simulation::Invalid;
use spindlewise_engine::remedies::RemedyId;

use super::later::later;
use super::pair::{Pair, possible};
use super::{motion, surface};
use crate::app::answer::wire_name;
use crate::app::components::unusable;
use crate::app::state::workbench;

/// The page.
#[component]
pub fn InTheCutPage() -> impl IntoView {
    let bench = workbench();
    let name = move || bench.scenario.with(|scenario| scenario.name.clone());
    view! {
        <article class="answer incut">
            <header class="answer-head">
                <h1 tabindex="-1">"In the cut"</h1>
                <p class="answer-for">{name}</p>
            </header>
            {unusable()}
            {close_up()}
        </article>
    }
}

/// Surface, movement and sound of the cut, now and with a remedy.
fn close_up() -> AnyView {
    let bench = workbench();
    let remedies = Memo::new(move |_| possible(bench));
    let picked = RwSignal::new(None::<RemedyId>);
    // What was picked, while it is possible; else the best.
    let chosen = Memo::new(move |_| {
        remedies.with(|all| {
            let still = all.iter().find(|(id, _)| Some(*id) == picked.get());
            still.or(all.first()).cloned()
        })
    });
    let pair =
        later(move || chosen.with(|chosen| chosen.as_ref().map_or(RemedyId::LeaveAlone, |(id, _)| *id)), Pair::new);
    let options = move || {
        remedies.with(|all| {
            all.iter()
                .map(|(id, title)| {
                    let (id, title) = (*id, title.clone());
                    let is_chosen = move || chosen.with(|chosen| chosen.as_ref().is_some_and(|(one, _)| *one == id));
                    view! { <option value=wire_name(&id) selected=is_chosen>{title}</option> }
                })
                .collect_view()
        })
    };
    let pick = move |value: String| {
        picked.set(remedies.with_untracked(|all| all.iter().map(|(id, _)| *id).find(|id| wire_name(id) == value)));
    };
    let title = move || chosen.with(|chosen| chosen.as_ref().map_or(String::new(), |(_, title)| title.clone()));
    view! {
        <section aria-labelledby="close-up">
            <h2 id="close-up">"Before and after"</h2>
            <label class="pick">
                "The remedy to look at"
                <select on:change:target=move |event| pick(event.target().value())>{options}</select>
            </label>
            {move || match pair.get() {
                None => view! { <p role="status">"Cutting it in the computer…"</p> }.into_any(),
                Some(result) => with_pair(&result, |pair| {
                    let (title, units) = (title(), bench.units());
                    let wall = bench.decision.with_untracked(|decision| decision.as_ref().is_none_or(|one| one.counts.wall));
                    view! {
                        <h3>{if wall { "The wall under a low light" } else { "The floor under a low light" }}</h3>
                        {surface::pictures(pair, wall, &title, units)}
                        <h3>"What the tip does"</h3>
                        {motion::drawn(pair, &title, units)}
                        <h3>"Listen to it"</h3>
                        {motion::heard(pair, &title)}
                    }
                    .into_any()
                }),
            }}
        </section>
    }
    .into_any()
}

fn with_pair(result: &Arc<Result<Pair, Invalid>>, draw: impl FnOnce(&Pair) -> AnyView) -> AnyView {
    match &**result {
        Ok(pair) => draw(pair),
        Err(reason) => view! { <p class="error">"This cut can’t be drawn. " {reason.to_string()}</p> }.into_any(),
    }
}
