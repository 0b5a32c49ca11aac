//! The remedies, best first.

use crate::app::prelude::*;
use spindlewise_engine::decision::{Appraisal, Danger, Standing};
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
    let verdict = &sheet.decision.verdict;
    // What deals with the danger comes first, if only one that is dear does.
    let (way_out, possible): (Vec<Ranked>, Vec<Ranked>) =
        possible.into_iter().partition(|(_, one)| verdict.first.is_none() && deals_with(one, verdict.danger));
    let (promising, other): (Vec<Ranked>, Vec<Ranked>) = possible.into_iter().partition(|(_, one)| is_promising(one));
    let promising = [way_out, promising].concat();
    let [promising, other] = [promising, other].map(StoredValue::new);
    let admitted = move |group: StoredValue<Vec<Ranked>>| {
        group.with_value(|group| group.iter().filter(|(_, one)| filter.get().admits(one)).cloned().collect::<Vec<_>>())
    };
    let settled = settled(sheet);
    let sheet = sheet.clone();
    // Only those shown at once are numbered.
    let cards = move |group, numbered: bool| {
        let sheet = sheet.clone();
        move || {
            let shown = admitted(group).into_iter().enumerate();
            shown.map(|(at, (rank, one))| card(&sheet, rank, numbered.then_some(at + 1), &one, axis)).collect_view()
        }
    };
    let shown = move || {
        let [shown, folded] = [promising, other].map(|group| admitted(group).len());
        let left_out = match total - shown - folded {
            0 => String::new(),
            others => format!(", {others} left out"),
        };
        format!("{shown} shown, {folded} folded below{left_out}")
    };
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
                "Best first: what it brings on machines like yours against what it costs you in money, hours and risk. In each strip, right of “as now” is better: the dot is the finish, the diamond the depth without chatter."
            </p>
            {settled}
            <div class="remedies-head">
                {toggles("Which remedies to show", &Filter::CHOICES, filter)}
                <p class="remedies-shown" role="status">{shown}</p>
            </div>
            <ol class="remedies">{cards(promising, true)}</ol>
            <details class="more">
                <summary>
                    "The rest: little gain, too dear or worse (" {move || admitted(other).len()} ")"
                </summary>
                <ol class="remedies inside">{cards(other, false)}</ol>
            </details>
            {refusals}
        </section>
    }
    .into_any()
}

/// Whether it is shown at once; the others are folded away.
fn is_promising(appraisal: &Appraisal) -> bool {
    appraisal.expected_worth > 0.0
        || matches!(appraisal.standing, Standing::First | Standing::Worth | Standing::ForSafety | Standing::CannotTell)
}

/// Whether a remedy leaves no danger as grave as this one, if there is one.
fn deals_with(appraisal: &Appraisal, danger: Option<Danger>) -> bool {
    danger.is_some_and(|danger| appraisal.danger.is_none_or(|left| left > danger))
}

/// What a remedy's strip shows: the finish, and the depth unless it is to cut less
/// deep.
pub fn intervals(appraisal: &Appraisal, surface: super::sheet::Surface) -> Vec<Interval> {
    let change = &appraisal.change;
    let depth = (appraisal.remedy != RemedyId::LighterCut).then(|| Interval::of_larger(change.depth_limit));
    std::iter::once(Interval::of_smaller(surface.change(change))).chain(depth).collect()
}
