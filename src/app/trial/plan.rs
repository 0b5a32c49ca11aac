//! How many cuts it takes, and in which turn.

use crate::app::prelude::*;
use spindlewise_engine::decision::Figure;
use spindlewise_engine::trial::{Evidence, Plan, Trial, Turn, Turns, order};

use crate::app::answer::sourced;
use crate::app::answer::words::percent;
use crate::app::components::details;
use crate::app::state::workbench;

/// More pairs than anybody takes in an afternoon.
const MOST_PAIRS: usize = 12;

/// The plan for what is compared.
pub fn view() -> AnyView {
    let bench = workbench();
    let trial = Memo::new(move |_| bench.resolved.with(|resolved| resolved.trial.clone()));
    view! { {move || trial.with(plan)} }.into_any()
}

fn plan(trial: &Trial) -> AnyView {
    let Plan { each, scatter, seen } = Plan::of(trial);
    let unit = if trial.evidence == Evidence::Pairs { "pairs" } else { "cuts of each kind" };
    let matters = percent(trial.matters);
    let said = match each {
        Some(each) => {
            let why = match (trial.evidence, seen) {
                (Evidence::Pairs, _) => ": fewer can fall all on one side by chance.".to_owned(),
                (_, true) => format!(
                    " show a change of {matters} in four trials of five, since your cuts scatter by {}.",
                    percent(scatter)
                ),
                (_, false) => format!(
                    " show a change of {matters} in four trials of five, if single cuts scatter by {}, as is usual.",
                    percent(scatter)
                ),
            };
            view! { <p>{sourced(Figure::TestCuts, view! { <strong>{each} " " {unit}</strong> })} {why}</p> }
        }
        None => view! {
            <p>
                "Judged like that, " {sourced(Figure::TestCuts, "no number of cuts")}
                " that anybody would take shows a change of " {matters} " for sure. Hold cuts side by side instead, or measure them with a gauge."
            </p>
        },
    };
    let pairs = each.unwrap_or(0).min(MOST_PAIRS);
    let paired = trial.evidence == Evidence::Pairs || trial.turns == Turns::About;
    view! { {said} {(paired && pairs > 0).then(|| in_turn(pairs))} }.into_any()
}

/// The order of the cuts of so many pairs.
fn in_turn(pairs: usize) -> AnyView {
    let pair = |turn| match turn {
        Turn::WasFirst => "as it was, then as it is now",
        Turn::NowFirst => "as it is now, then as it was",
    };
    let rows = order(pairs).into_iter().map(|turn| view! { <li>{pair(turn)}</li> }).collect_view();
    let list = view! {
        <p>"Drawn by lot, and even on the whole: neither wear nor warming up favours one."</p>
        <ol>{rows}</ol>
    };
    details("In this order", list.into_any())
}
