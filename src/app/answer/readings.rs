//! What each reading said, and which to take next.

use crate::app::prelude::*;
use spindlewise_engine::decision::{AtOdds, Figure, Knowing, NextReading, ReadingCheck};
use spindlewise_engine::quantity::{Dimension, format};
use spindlewise_engine::readings::ReadingKind;

use super::sheet::{Sheet, point};
use super::sourced::sourced;
use super::words::{capitalised, count, middle, misfit, percent, range};
use crate::app::charts::{Mark, mark};
use crate::app::components::{boxed, folded};
use crate::app::route::Route;

/// What was read: unfolded where something is wrong with it.
pub fn taken(sheet: &Sheet) -> AnyView {
    let checks = &sheet.decision.readings;
    let wrong = sheet.decision.to_take_again().is_some() || checks.iter().any(|check| check.at_odds.is_some());
    let (said, taken) = match checks.len() {
        0 => (
            "none taken yet".to_owned(),
            view! { <p>"Everything here rests on what is typical of such machines."</p> }.into_any(),
        ),
        number => {
            let rows = checks.iter().map(|check| row(sheet, check)).collect_view();
            let said = match (wrong, number) {
                (true, _) => "something doesn’t fit".to_owned(),
                (false, 1) => "it fits the machine".to_owned(),
                (false, _) => format!("all {number} go together"),
            };
            (said, view! { <ul class="readings">{rows}</ul> }.into_any())
        }
    };
    let agreement = sheet.decision.agreement.map(|chance| {
        view! {
            <p class="standing">
                {wrong.then(|| mark(Mark::Caution))}
                <span>
                    "Good readings of a machine like this would disagree as much as yours on "
                    {sourced(Figure::Agreement, count(chance))} " occasions."
                </span>
            </p>
        }
    });
    folded("readings", "What your readings said", said, wrong, view! { {taken} {agreement} }.into_any())
}

/// What to read next.
pub fn next(sheet: &Sheet) -> AnyView {
    let Knowing { everything, changes, readings } = &sheet.decision.knowing;
    let rows = readings.iter().map(|reading| reading_to_take(sheet, reading)).collect_view();
    let all = sourced(Figure::Everything, middle(point(*everything), Dimension::Money, sheet.units));
    let pays = readings.first().is_some_and(|reading| reading.worth_taking);
    // One reading tells a part of it only, which is why none need be worth its minutes.
    let (stands, part) = match pays {
        true => (None, "Each of these readings tells a part of it:"),
        false => (
            Some(view! {
                <p class="standing">{mark(Mark::Tick)} "No reading left tells enough by itself to pay for its minutes."</p>
            }),
            match readings.is_empty() {
                true => "No reading left comes near to that.",
                false => {
                    "No single reading comes near to that. If you want to know more all the same, these tell most:"
                }
            },
        ),
    };
    let most = view! {
        <p>
            "If you knew your machine to the last detail, another remedy would be the best buy on " {count(*changes)}
            " machines like yours, and you would be " {all} " better off on average, in your money. " {part}
        </p>
    };
    let next = (!readings.is_empty()).then(|| view! { <ol class="next-readings">{rows}</ol> });
    view! {
        <section aria-labelledby="next">
            <h2 id="next">"What to measure next"</h2>
            {stands}
            {most}
            {next}
        </section>
    }
    .into_any()
}

/// That something is wrong with the readings, or with what was told: before
/// anything that rests on them.
pub fn disagree(sheet: &Sheet) -> Option<AnyView> {
    let again = sheet.decision.to_take_again()?;
    let whom = match sheet.decision.readings.len() {
        1 => "Your reading doesn’t fit the machine you named.",
        _ => "Your readings don’t fit each other, or the machine you named.",
    };
    let links = again.iter().enumerate().filter_map(|(at, check)| {
        let kind = kind_of(sheet, &check.label)?;
        let joint = if at > 0 { "; " } else { " Take again: " };
        Some(view! { {joint} <a href=Route::Readings.href_to(kind.key())>{kind.label()}</a> })
    });
    let all = again.is_empty().then_some(" Take them again");
    let said = view! {
        <strong>{whom}</strong> {all} {links.collect_view()} ". Until they fit, the answer is less sure than it looks."
    };
    Some(view! { <div id="disagree">{boxed(said.into_any())}</div> }.into_any())
}

fn row(sheet: &Sheet, check: &ReadingCheck) -> AnyView {
    let ReadingCheck { label, read, expected, fitted, off, at_odds, .. } = check.clone();
    let dimension = dimension_of(sheet, &label);
    let against = at_odds.is_some();
    let sign = if against { Mark::Caution } else { Mark::Tick };
    let advice = at_odds.map(|at_odds| {
        view! {
            <p>
                {match at_odds {
                    AtOdds::With(other) => format!(
                        "It does not go together with another reading: {other}. Without that one it would fit. Take both again, and look at where the indicator stood and what it touched; until then the answer is less sure than it looks."
                    ),
                    AtOdds::Typical => {
                        "No machine of the kind you told is likely to show this. Take it again, and look at where the indicator stood and what it touched; if it stays so, look again at what you told about the machine.".to_owned()
                    }
                }}
            </p>
        }
    });
    view! {
        <li class="checked" class:checked-against=against>
            <h3>{capitalised(&label)}</h3>
            <dl class="facts">
                <div><dt>"You read"</dt><dd>{sourced(Figure::Read, view! { <strong>{format(read, dimension, sheet.units)}</strong> })}</dd></div>
                <div><dt>"Expected before it"</dt><dd>{sourced(Figure::Expected, range(expected, dimension, sheet.units))}</dd></div>
                <div><dt>"Fitted to all readings"</dt><dd>{sourced(Figure::Fitted, range(fitted, dimension, sheet.units))}</dd></div>
            </dl>
            <p class="standing">{mark(sign)} {sourced(Figure::Misfit, capitalised(misfit(off)))}</p>
            {advice}
        </li>
    }
    .into_any()
}

fn reading_to_take(sheet: &Sheet, reading: &NextReading) -> AnyView {
    let NextReading { field, label, minutes, gain, changes, worth_taking, settles, .. } = reading;
    let brings = if *worth_taking {
        let money = middle(point(*gain), Dimension::Money, sheet.units);
        view! {
            " is worth about " {sourced(Figure::NextReading, view! { <strong>{money}</strong> })}
            " in your money, and would change what is the best buy on " {count(*changes)} " machines."
        }
        .into_any()
    } else {
        view! {
            " would settle about " {sourced(Figure::Settles, view! { <strong>{percent(*settles)}</strong> })}
            " of the doubt about how near you are to the goal, or what new bearings would bring."
        }
        .into_any()
    };
    view! {
        <li data-next=field.clone() data-mid=settles.to_string()>
            <a class="big-link" href=Route::Readings.href_to(field)>
                <span class="big-link-text">{capitalised(label)}</span>
            </a>
            <p>"Takes about " {format!("{minutes:.0}")} " minutes, and" {brings}</p>
        </li>
    }
    .into_any()
}

/// Taps are read as frequencies and times, all else as movements.
fn dimension_of(sheet: &Sheet, label: &str) -> Dimension {
    kind_of(sheet, label).map_or(Dimension::FineLength, ReadingKind::dimension)
}

fn kind_of(sheet: &Sheet, label: &str) -> Option<ReadingKind> {
    sheet.case().readings.iter().map(|reading| reading.kind).find(|kind| kind.label() == label)
}
