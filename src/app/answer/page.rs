//! The answer page: the sentence first, then what it rests on.

use crate::app::prelude::*;
use spindlewise_engine::decision::Danger;

use super::filter::Filter;
use super::movement::FeedView;
use super::sheet::Sheet;
use super::sourced::{OpenFigure, source_dialog};
use super::{
    cautions, ceiling, certainty, dots, first_step, free_set, movement, now, opening, readings, remedies, told,
};
use crate::app::charts::hatches;
use crate::app::components::{contents, scenario_head, unusable};
use crate::app::focus;
use crate::app::route::Route;
use crate::app::state::workbench;

/// The answer page.
pub fn answer_page() -> impl IntoView {
    let bench = workbench();
    provide_context(OpenFigure(RwSignal::new(None)));
    // Made here, so that a new answer leaves them as they are.
    let filter = RwSignal::new(Filter::All);
    let feed = RwSignal::new(FeedView::Across);
    free_set::keep_up();
    let sheet = Memo::new(move |_| {
        let decision = bench.decision.get()?;
        Some(Same(Sheet { decision, resolved: bench.resolved.get_untracked(), units: bench.units() }))
    });
    view! {
        <article class="answer" aria-busy=move || bench.computing.get().to_string()>
            {scenario_head("The answer")}
            {unusable()}
            {hatches()}
            {move || match sheet.get() {
                Some(Same(sheet)) => {
                    focus::keep(remedies::HEADING);
                    sections(&sheet, filter, feed)
                }
                None => view! { <p role="status">"Working it out…"</p> }.into_any(),
            }}
            {source_dialog()}
        </article>
    }
}

/// A sheet is drawn again only when the answer or the units are others.
#[derive(Clone)]
struct Same(Sheet);

impl PartialEq for Same {
    fn eq(&self, other: &Self) -> bool {
        std::sync::Arc::ptr_eq(&self.0.decision, &other.0.decision) && self.0.units == other.0.units
    }
}

fn sections(sheet: &Sheet, filter: RwSignal<Filter>, feed: RwSignal<FeedView>) -> AnyView {
    let usual_cautions = cautions::section(sheet);
    let verdict = &sheet.decision.verdict;
    let headings = [
        ("first-step", "What to do first", verdict.first.is_some() || verdict.danger == Some(Danger::BareTaper)),
        ("not-to-buy", "What not to buy", !verdict.not_to_buy.is_empty()),
        ("next", "What to measure next", true),
        ("movement", "What moves", true),
        ("ceiling", "The ceiling on new bearings", true),
        (remedies::HEADING, "What each remedy would bring", true),
        ("dots", "The finish to expect", true),
        ("now", "As it is now", true),
        ("readings", "What your readings said", true),
        ("cautions", "Cautions for this cut", usual_cautions.is_some()),
        ("told", "What it rests on", true),
        ("certainty", "How sure is this?", true),
    ];
    let headings: Vec<_> = headings.into_iter().filter(|one| one.2).map(|(id, name, _)| (id, name)).collect();
    view! {
        {readings::disagree(sheet)}
        {opening::section(sheet)}
        {cautions::grave(&sheet.decision)}
        {contents(Route::Answer, &headings)}
        {first_step::section(sheet, filter)}
        {free_set::section(&sheet.decision, sheet.units)}
        {readings::next(sheet)}
        {movement::section(sheet, feed)}
        {ceiling::section(sheet)}
        {remedies::section(sheet, filter)}
        {dots::section(sheet)}
        {now::section(sheet)}
        {readings::taken(sheet)}
        {usual_cautions}
        {told::section()}
        {certainty::section(sheet)}
    }
    .into_any()
}
