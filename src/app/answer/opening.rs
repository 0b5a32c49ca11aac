//! The sentence, the count behind it, and whether it is firm.

use crate::app::prelude::*;
use spindlewise_engine::choice::Choice;
use spindlewise_engine::decision::{Case, Decision, Figure, NextReading, Prediction, Verdict, of_hundred};
use spindlewise_engine::quantity::{Dimension, format};
use spindlewise_engine::work::Setup;

use super::certainty::why_rough;
use super::sheet::Sheet;
use super::sourced::sourced;
use super::words::{self, likelihood, lower_first};
use crate::app::charts::{Mark, hundred, mark};
use crate::app::route::Route;

/// The opening of the page.
pub fn section(sheet: &Sheet) -> AnyView {
    let decision = &sheet.decision;
    let verdict = &decision.verdict;
    view! {
        <section class="opening" class:opening-open=!verdict.firm aria-label="The answer in short">
            {(!sheet.case().told).then(|| view! { <p id="nothing-told">{nothing_told(sheet)}</p> })}
            {(!verdict.firm).then(|| view! { <p class="opening-flag">{mark(Mark::Question)} {doubt(decision)}</p> })}
            <h2 id="verdict" class="opening-sentence">{verdict.sentence()}</h2>
            {quiet_to(sheet)}
            <p>{verdict.bearings.clone()}</p>
            {count(sheet)}
            {(!verdict.firm).then(|| settle(decision))}
        </section>
    }
    .into_any()
}

/// What is taken for granted while nothing was said.
fn nothing_told(sheet: &Sheet) -> String {
    let Setup { machine, material, cut, .. } = &sheet.case().setup;
    format!(
        "You have said nothing yet of your machine and your work. This is for a common case: {}, {}, {} deep.",
        lower_first(machine.archetype.label()),
        lower_first(material.label()),
        format(cut.axial_depth.as_mm(), Dimension::Length, sheet.units)
    )
}

/// What the goal is.
fn goal(sheet: &Sheet) -> String {
    let Case { want, setup, .. } = sheet.case();
    let finish = format(want.finish.as_mm(), Dimension::Roughness, sheet.units);
    let depth = format(setup.cut.axial_depth.as_mm(), Dimension::Length, sheet.units);
    let size = match want.size_counts {
        true => format!(", within {} of size", format(want.tolerance.as_mm(), Dimension::FineLength, sheet.units)),
        false => String::new(),
    };
    format!("Your goal: Ra {finish} or finer, no chatter at {depth}, part and table stay put{size}.")
}

/// What keeps most of those that fail from the goal now, if it is not the finish.
fn in_the_way(now: &Prediction) -> Option<(f64, &'static str)> {
    let all = [
        (now.chatter, "it chatters"),
        (now.slip.max(now.lift), "the part moves"),
        (now.pull_in, "the cut snatches the table"),
        (now.stall, "the drive stalls"),
    ];
    let (share, what) = all.into_iter().max_by(|(a, _), (b, _)| a.total_cmp(b))?;
    let fails = 1.0 - now.reach;
    (share > 0.0 && share >= 0.5 * fails).then_some((share, what))
}

/// The depth that can be dialled in, where chatter is what stands in the way.
fn quiet_to(sheet: &Sheet) -> Option<AnyView> {
    let now = &sheet.decision.now;
    in_the_way(now).filter(|(share, _)| *share == now.chatter).map(|_| {
        let asked = format(sheet.case().setup.cut.axial_depth.as_mm(), Dimension::Length, sheet.units);
        let quiet = words::middle(now.depth_limit, Dimension::Length, sheet.units);
        let range = words::range(now.depth_limit, Dimension::Length, sheet.units);
        view! {
            <p id="quiet-to">
                "This cut is " {asked} " deep; as it is, machines like yours stay quiet to about "
                {sourced(Figure::DepthLimit, view! { <strong>{quiet}</strong> })} " (" {range} " on eight in ten of them)."
            </p>
        }
        .into_any()
    })
}

/// How open the question is.
fn doubt(decision: &Decision) -> &'static str {
    match decision.verdict.first {
        _ if decision.clashes() => "Your readings don’t fit this machine, or each other",
        Some(_) => "Not certain yet",
        None => "Can’t tell yet",
    }
}

fn count(sheet: &Sheet) -> impl IntoView + use<> {
    let decision = &sheet.decision;
    let count = decision.verdict.of_hundred;
    let said = match count {
        0 => "None of the machines looked at does.".to_owned(),
        _ => format!("That is {}.", likelihood(f64::from(count) / 100.0)),
    };
    let Verdict { danger, first, .. } = decision.verdict;
    let in_the_way = in_the_way(&decision.now)
        .map(|(share, what)| format!("What stands in the way as it is: {what} on {}.", words::count(share)));
    let safety = (danger.is_some() && first.is_some()).then(|| {
        view! { <p>"This step is for safety. What brings you nearer to the goal after it stands below."</p> }
    });
    let rough = why_rough(decision);
    let before = of_hundred(decision.now.reach);
    let first = decision.appraisals.iter().find(|one| Some(one.remedy) == decision.verdict.first);
    let title = first.map(|one| one.title.clone());
    let how = title.as_ref().map_or("as it is now".to_owned(), |title| format!("with the first step, “{title}”"));
    let meaning = format!("machines like yours on which the job comes out as you want it {how}");
    let compared = title.map(|_| {
        view! { <p>"As it is now: " {sourced(Figure::Reach, view! { <strong>{before} " of 100"</strong> })} "."</p> }
    });
    view! {
        <figure class="opening-count" data-figure="verdict.count" data-mid=count>
            {hundred(count, meaning)}
            <figcaption>
                <p class="opening-number">
                    {sourced(Figure::Reach, view! { <strong>{count} " of 100"</strong> })}
                    {rough.map(|_| ", give or take ten")}
                </p>
                {rough.map(|why| view! { <p id="rough">{why} ", so the count is rough."</p> })}
                <p>
                    "machines like yours reach your goal " {how} ". " <strong>{said}</strong>
                </p>
                {compared}
                <p id="goal">{goal(sheet)} " " {in_the_way}</p>
                {safety}
                <p class="opening-key">"Solid square: reaches it. Small ring: doesn’t."</p>
            </figcaption>
        </figure>
    }
}

/// What would settle an open question.
fn settle(decision: &Decision) -> Option<impl IntoView + use<>> {
    let NextReading { field, label, .. } = decision.knowing.readings.first()?.clone();
    Some(view! {
        <p>
            <a class="big-link" href=Route::Readings.href_to(&field)>
                <span class="big-link-lead">"The reading that would tell most"</span>
                <span class="big-link-text">{label}</span>
            </a>
        </p>
    })
}
