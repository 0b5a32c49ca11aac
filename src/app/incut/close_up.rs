//! Surface, movement and sound of the cut, now and with a remedy.

use std::sync::Arc;

use crate::app::prelude::*;
use spindlewise_engine::remedies::RemedyId;

use super::middle::{Middle, Pair, possible};
use super::page::simulated;
use super::{motion, surface};
use crate::app::answer::Surface;
use crate::app::components::pick_remedy;
use crate::app::later::later;
use crate::app::state::workbench;

/// The section.
pub fn section(middle: Signal<Option<Arc<Middle>>>) -> AnyView {
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
    let looked_at = Memo::new(move |_| chosen.with(|chosen| chosen.as_ref().map(|(id, _)| *id)));
    let remedy = move || looked_at.get().unwrap_or(RemedyId::LeaveAlone);
    let title = move || chosen.with(|chosen| chosen.as_ref().map_or(String::new(), |(_, title)| title.clone()));
    let pair = later(
        "cut in time",
        move || middle.get().map(|middle| (middle, remedy())),
        |(middle, remedy): &(Arc<Middle>, RemedyId)| Pair::new(&middle.machine, *remedy),
    );
    let pick = move |one| picked.set(one);
    let shown = move || simulated(pair, |pair| pictures(pair, &title()));
    view! {
        <section aria-labelledby="close-up">
            <h2 id="close-up">"Before and after"</h2>
            <p class="lead">
                "One machine, in the middle of all that fit what you told, takes the cut in the computer: once as it is, once with the remedy."
            </p>
            {pick_remedy("close-up-remedy", "The remedy to look at", None, remedies, looked_at, pick)}
            {shown}
        </section>
    }
    .into_any()
}

fn pictures(pair: &Pair, title: &str) -> AnyView {
    let bench = workbench();
    let units = bench.units();
    let told = bench.decision.with_untracked(|decision| {
        decision.as_deref().map(|decision| {
            let surface = Surface::that_counts(decision);
            (surface, surface.roughness(&decision.now))
        })
    });
    let (surface, answer) = told.map_or((Surface::Wall, None), |(surface, answer)| (surface, Some(answer)));
    view! {
        <h3>"The " {surface.name()} " under a low light"</h3>
        {surface::pictures(pair, surface, title, answer, units)}
        <h3>"What the tip does"</h3>
        <p id="motion-sentence">{pair.now.motion_sentence(units)}</p>
        {motion::drawn(pair, title, units)}
        <h3>"Listen to it"</h3>
        {motion::heard(pair, title)}
    }
    .into_any()
}
