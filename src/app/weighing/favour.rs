//! How often each remedy is the best buy, against what the goal is worth.

use crate::app::prelude::*;
use spindlewise_engine::decision::{Acceptability, Case, Favour, Figure, about};
use spindlewise_engine::order;
use spindlewise_engine::quantity::{Dimension, UnitSystem, format, format_number};
use spindlewise_engine::scenario::Field;

use crate::app::answer::sourced;
use crate::app::answer::words::count;
use crate::app::charts::{Curve, DASHES, Table, chart, curve_key, curves_chart};
use crate::app::route::Route;

/// What is the best buy on more than this share somewhere is drawn by itself, though
/// it leads nowhere.
const OFTEN: f64 = 0.15;

/// Of the steps from nothing to three times what the goal is worth, those told in
/// the table, and what they are.
const TOLD: [(f64, &str); 5] = [
    (0.0, "Worth nothing"),
    (0.5, "Half as much"),
    (1.0, "As now"),
    (2.0, "Twice as much"),
    (3.0, "Three times as much"),
];

/// The section. `typed` is whether the user said what the goal is worth.
pub fn section(found: &Acceptability, case: &Case, typed: bool, units: UnitSystem) -> AnyView {
    let own = case.budget.target_worth.as_amount();
    let end = found.worths.last().copied().unwrap_or(own);
    let at = |worth: f64| nearest(&found.worths, worth);
    let own_at = at(own);
    let mut drawn = leading(found);
    // What wins on average is there even if it seldom wins by itself.
    let winner = found.favours[found.best_on_average[own_at]].remedy;
    order::greatest_first(&mut drawn, |one| if one.remedy == winner { 2.0 } else { one.best[own_at] });
    drawn.truncate(DASHES);
    let rest: Vec<f64> = (0..found.worths.len())
        .map(|step| (1.0 - drawn.iter().map(|one| one.best[step]).sum::<f64>()).max(0.0))
        .collect();
    let others = rest.iter().any(|&share| share > 1e-9).then_some(("All others", &rest));
    // Numbered as they end on the right, from top to bottom.
    let mut all: Vec<(&str, &Vec<f64>, bool)> = drawn.iter().map(|one| (&*one.title, &one.best, false)).collect();
    all.extend(others.map(|(title, shares)| (title, shares, true)));
    order::greatest_first(&mut all, |(_, shares, _)| shares.last().copied().unwrap_or_default());
    let curves: Vec<Curve> = all
        .iter()
        .enumerate()
        .map(|(at, (_, shares, faint))| Curve { name: (at + 1).to_string(), shares: (*shares).clone(), faint: *faint })
        .collect();
    let money = |worth: f64| format(worth, Dimension::Money, units);
    let ticks: Vec<(f64, String)> =
        [0.0, 1.0, 2.0, 3.0].iter().map(|times| times * own).map(|worth| (worth, format_number(worth, 3))).collect();
    let rows = all.iter().map(|(title, shares, _)| {
        let told = TOLD.iter().map(|(times, _)| count(shares[at(times * own)]));
        std::iter::once((*title).to_owned()).chain(told).collect()
    });
    let table = Table {
        headings: std::iter::once("Remedy").chain(TOLD.iter().map(|(_, told)| *told)).collect(),
        rows: rows.collect(),
    };
    let list = all.iter().enumerate().map(|(number, (title, shares, faint))| {
        let here = format!("{} machines", count(shares[own_at]));
        view! {
            <li>
                <span class="balloon" aria-hidden="true">{number + 1}</span>
                {curve_key(number, *faint)}
                <span>{(*title).to_owned()} ": " {sourced(Figure::Favour, here)}</span>
            </li>
        }
    });
    let source = if typed { "you said" } else { "taken here, as you named none" };
    let caption = format!(
        "Up: machines of 100 on which it is the best buy. Along: what reaching the goal is worth to you, up to three times the {} {source}. Grey: all others together, each of them seldom the best buy.",
        money(own)
    );
    let worth = Field::TargetWorth.spec().key;
    let say_it = Route::of_field(worth).href_to(worth);
    view! {
        <section aria-labelledby="favour">
            <h2 id="favour">"How often each is the best buy"</h2>
            <p>
                "It depends on what reaching the goal is worth to you. At the " {money(own)} " " {source} ", the best buy is:"
            </p>
            {(!typed).then(|| view! { <p><a class="plain-link" href=say_it>"Say what it is worth to you"</a></p> })}
            <ol class="curve-list">{list.collect_view()}</ol>
            {chart(caption, curves_chart(&curves, end, &ticks, (own, &format!("at {}", money(own)))), table)}
            <h3>"Best on average"</h3>
            <ul class="plain-list" id="favour-ranges">{ranges(found)}</ul>
            <p class="weighing-note">
                "Most often best is not best on average: a few machines on which one remedy is far ahead can outweigh many on which it is a little behind. The advice goes by the average."
            </p>
        </section>
    }
    .into_any()
}

/// Those worth a curve of their own: what is the best buy most often, or on average,
/// whatever the goal is worth, or comes up often.
fn leading(found: &Acceptability) -> Vec<&Favour> {
    let steps = 0..found.worths.len();
    let leads =
        |one: &Favour| steps.clone().any(|step| found.favours.iter().all(|other| other.best[step] <= one.best[step]));
    let comes_up = |one: &Favour| one.best.iter().any(|&share| share > OFTEN);
    let best_on_average = |at: usize| found.best_on_average.contains(&at);
    let favours = found.favours.iter().enumerate();
    favours.filter(|(at, one)| leads(one) || comes_up(one) || best_on_average(*at)).map(|(_, one)| one).collect()
}

/// Which step of `worths` lies nearest to `worth`.
fn nearest(worths: &[f64], worth: f64) -> usize {
    let off = |step: &usize| (worths[*step] - worth).abs();
    (0..worths.len()).min_by(|a, b| off(a).total_cmp(&off(b))).unwrap_or_default()
}

/// From which worth to which each is the best on average.
fn ranges(found: &Acceptability) -> AnyView {
    let best = &found.best_on_average;
    let between = |step: usize| about(0.5 * (found.worths[step - 1] + found.worths[step]));
    let changes: Vec<usize> = (1..best.len()).filter(|&step| best[step] != best[step - 1]).collect();
    let starts = std::iter::once(0).chain(changes.iter().copied());
    let ends = changes.iter().copied().map(Some).chain([None]);
    starts
        .zip(ends)
        .map(|(from, to)| {
            let title = found.favours[best[from]].title.clone();
            let said = match (from, to) {
                (0, None) => "Whatever it is worth: ".to_owned(),
                (0, Some(to)) => format!("Up to about {}: ", between(to)),
                (from, None) => format!("From about {} on: ", between(from)),
                (from, Some(to)) => {
                    format!("From about {} to {}: ", between(from), between(to))
                }
            };
            view! { <li>{said} <strong>{title}</strong></li> }
        })
        .collect_view()
        .into_any()
}
