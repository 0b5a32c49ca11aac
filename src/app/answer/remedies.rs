//! The remedies, best first.

use crate::app::prelude::*;
use spindlewise_engine::decision::{Appraisal, Standing};
use spindlewise_engine::remedies::RemedyId;

use super::filter::{Filter, toggles};
use super::remedy_card::{card, refused};
use super::settle::settled;
use super::sheet::Sheet;
use crate::app::charts::{Interval, Ratio};

/// A remedy with its rank.
type Ranked = (usize, Appraisal);

/// Where it begins on the page.
pub const HEADING: &str = "remedies";

/// The section.
pub fn section(sheet: &Sheet, filter: RwSignal<Filter>) -> AnyView {
    let ranked = sheet.decision.appraisals.iter().cloned().enumerate().map(|(at, one)| (at + 1, one));
    let (impossible, possible): (Vec<Ranked>, Vec<Ranked>) =
        ranked.partition(|(_, one)| one.standing == Standing::NotPossible);
    let surface = sheet.surface();
    let axis = Ratio::holding(possible.iter().flat_map(|(_, one)| intervals(one, surface)).flat_map(Interval::ends));
    let total = possible.len();
    let (promising, other): (Vec<Ranked>, Vec<Ranked>) = possible.into_iter().partition(|(_, one)| is_promising(one));
    let [promising, other] = [promising, other].map(StoredValue::new);
    let admitted = move |group: StoredValue<Vec<Ranked>>| {
        group.with_value(|group| group.iter().filter(|(_, one)| filter.get().admits(one)).cloned().collect::<Vec<_>>())
    };
    let settled = settled(sheet);
    let sheet = sheet.clone();
    let cards = move |group| {
        let sheet = sheet.clone();
        move || admitted(group).iter().map(|(rank, one)| card(&sheet, *rank, one, axis)).collect_view()
    };
    let shown = move || admitted(promising).len() + admitted(other).len();
    let refusals = (!impossible.is_empty()).then(|| {
        let rows = impossible.iter().map(|(rank, one)| refused(*rank, one)).collect_view();
        view! {
            <details class="more refused">
                <summary>"Not possible here (" {impossible.len()} ")"</summary>
                <ul class="inside">{rows}</ul>
            </details>
        }
    });
    view! {
        <section aria-labelledby=HEADING>
            <h2 id=HEADING tabindex="-1">"What each remedy would bring"</h2>
            <p class="lead">
                "Best first: what it brings on all the plausible machines like yours, weighed against what it costs in your own money, your hours and the risk. “As now” is the middle line of each strip; right of it is better."
            </p>
            {settled}
            <p class="strip-key">
                <span class="strip-key-solid">"finish of the " {surface.name()}</span>
                <span class="strip-key-open">"depth without chatter"</span>
            </p>
            {toggles("Which remedies to show", &Filter::CHOICES, filter)}
            <p class="remedies-shown" role="status">{shown} " of " {total} " shown"</p>
            <ol class="remedies">{cards(promising)}</ol>
            <details class="more">
                <summary>
                    "The rest: little gain, too dear or worse (" {move || admitted(other).len()} ")"
                </summary>
                <ol class="remedies inside">{cards(other)}</ol>
            </details>
            {refusals}
        </section>
    }
    .into_any()
}

/// Whether it is shown at once; the others are folded away.
fn is_promising(appraisal: &Appraisal) -> bool {
    appraisal.expected_worth > 0.0
        || matches!(appraisal.standing, Standing::First | Standing::Worth | Standing::CannotTell)
}

/// What a remedy's strip shows: the finish, and the depth unless it is to cut less
/// deep.
pub fn intervals(appraisal: &Appraisal, surface: super::sheet::Surface) -> Vec<Interval> {
    let change = &appraisal.change;
    let depth = (appraisal.remedy != RemedyId::LighterCut).then(|| Interval::of_larger(change.depth_limit));
    std::iter::once(Interval::of_smaller(surface.change(change))).chain(depth).collect()
}
