//! What the cuts show, beside what was foretold.

use crate::app::prelude::*;
use spindlewise_engine::decision::{Decision, Figure, Spread, Standing, count};
use spindlewise_engine::quantity::{Dimension, UnitSystem, format, format_margin};
use spindlewise_engine::remedies::RemedyId;
use spindlewise_engine::scenario::Field;
use spindlewise_engine::trial::{Evidence, Outcome, Ratio as Measured, TooFew, Trial, Turns, Verdict};

use crate::app::answer::words::{DEPTH, Direction, ROUGHNESS, change, percent};
use crate::app::answer::{Surface, remedy_anchor, sourced};
use crate::app::charts::{Grades, Interval, Mark, Ratio, Table, chart, dot_plot, mark, strip};
use crate::app::route::Route;
use crate::app::state::{Workbench, workbench};

/// The section's content.
pub fn view() -> AnyView {
    let bench = workbench();
    let trial = Memo::new(move |_| bench.resolved.with(|resolved| resolved.trial.clone()));
    let wanted = Memo::new(move |_| bench.resolved.with(|resolved| resolved.case.want.finish.as_mm()));
    let outcome = Memo::new(move |_| trial.with(Trial::outcome));
    let said = move || match outcome.get() {
        Ok(Outcome { verdict, .. }) => {
            view! { <p class="standing" id="trial-verdict">{mark(sign(verdict))} <span>{verdict.label()}</span></p> }
        }
        Err(few) => view! { <p>{too_few(few)}</p> },
    };
    let more =
        move || outcome.get().ok().map(|outcome| trial.with(|trial| came_out(trial, &outcome, wanted.get(), bench)));
    view! { <div role="status">{said}</div> {more} }.into_any()
}

fn sign(verdict: Verdict) -> Mark {
    match verdict {
        Verdict::Better => Mark::Star,
        Verdict::LittleBetter => Mark::Tick,
        Verdict::Same | Verdict::LittleWorse => Mark::Waves,
        Verdict::Worse => Mark::Cross,
        Verdict::CannotTell => Mark::Question,
    }
}

fn too_few(few: TooFew) -> String {
    match few {
        TooFew::Cuts([was, now]) => format!(
            "There are {was} cuts as it was and {now} as it is now. From three of each kind on they tell how much cuts scatter, and so what a difference means."
        ),
        TooFew::Unpaired([was, now]) => format!(
            "There are {was} cuts as it was and {now} as it is now. Taken turn and turn about each has its neighbour: write down as many of either."
        ),
        TooFew::Pairs => "No pair has been judged yet in which you saw a difference.".to_owned(),
    }
}

fn came_out(trial: &Trial, outcome: &Outcome, wanted: f64, bench: Workbench) -> AnyView {
    let Outcome { ratio, control, by_chance, verdict, shows, would_settle, .. } = *outcome;
    let kind = direction(trial.evidence);
    let told = ratio.map(|ratio| view! {
        <p>
            "As it is now it comes out " {sourced(Figure::TestRatio, view! { <strong>{change(spread(ratio), kind)}</strong> })}
            ". The range holds the truth 19 times out of 20."
        </p>
    });
    let taken_out = control.map(|control| {
        view! {
            <p>"What the control cut changed by, " {change(spread(control), kind)} ", is taken out of it."</p>
        }
    });
    let alone = view! {
        <p>
            "If there were no difference, chance alone would show as much on "
            {sourced(Figure::TestChance, count(by_chance))} " occasions."
        </p>
    };
    let settles = (verdict == Verdict::CannotTell).then(|| {
        let said = match (trial.evidence, would_settle) {
            (Evidence::Pairs, _) => "More pairs would tell.".to_owned(),
            (_, Some(each)) => format!(
                "So few cuts, scattered so, show a change from {} on. About {each} of each kind would likely settle it.",
                percent(shows.unwrap_or_default())
            ),
            (_, None) => "More cuts alone won’t settle it. Measure them more finely, hold them side by side, or find what makes them scatter.".to_owned(),
        };
        view! { <p>{said}</p> }
    });
    let unwatched = (trial.turns == Turns::After && trial.evidence != Evidence::Pairs && control.is_none()).then(|| view! {
        <p class="hint">"Whatever else changed between the two rounds is in this too: a control cut would take it out."</p>
    });
    view! {
        {told}
        {taken_out}
        {alone}
        {settles}
        {unwatched}
        {(trial.evidence == Evidence::Finish).then(|| dots(trial, wanted, bench.units()))}
        {foretold(trial, ratio, bench)}
        {go_on(trial, verdict, bench)}
        {as_reading(trial, bench)}
    }
    .into_any()
}

fn direction(evidence: Evidence) -> Direction {
    if evidence == Evidence::Depth { DEPTH } else { ROUGHNESS }
}

fn spread(Measured { low, mid, high }: Measured) -> Spread {
    Spread { low, mid, high }
}

/// Each cut as a dot.
fn dots(trial: &Trial, wanted: f64, units: UnitSystem) -> AnyView {
    let axis = Grades::holding(trial.cuts.iter().flatten().copied().chain([wanted]));
    let label = move |grade| format(grade, Dimension::Roughness, units);
    let plots = ["As it was", "As it is now"].into_iter().zip(&trial.cuts).map(|(when, cuts)| {
        view! { <p class="dots-said">{when}</p> {dot_plot(cuts, wanted, axis, label)} }
    });
    let longest = trial.cuts.iter().map(Vec::len).max().unwrap_or(0);
    let cell = |cuts: &Vec<f64>, at: usize| cuts.get(at).map_or_else(String::new, |&cut| label(cut));
    let rows = (0..longest)
        .map(|at| [(at + 1).to_string()].into_iter().chain(trial.cuts.iter().map(|cuts| cell(cuts, at))).collect());
    let table = Table { headings: vec!["Cut", "As it was", "As it is now"], rows: rows.collect() };
    chart(
        "Each dot is one cut. Solid: as fine as you want it. Hollow: rougher. Dashed line: what you want.",
        plots.collect_view(),
        table,
    )
}

/// What is next, once it made a difference.
fn go_on(trial: &Trial, verdict: Verdict, bench: Workbench) -> Option<AnyView> {
    let changed = trial.changed.filter(|_| matches!(verdict, Verdict::Better | Verdict::LittleBetter))?;
    let done = bench.scenario.with(|scenario| scenario.choices.done.contains(&changed));
    (!done).then(|| {
        view! {
            <p>
                "Mark it as done, and the answer goes on from there: what would be the next thing to do."
            </p>
            <p><a class="button" href=Route::Answer.href_to(&remedy_anchor(changed))>"Go to where it is marked"</a></p>
        }
        .into_any()
    })
}

/// The change that the answer foretold, beside the one that came out.
fn foretold(trial: &Trial, ratio: Option<Measured>, bench: Workbench) -> Option<AnyView> {
    let (changed, ratio) = trial.changed.zip(ratio)?;
    let done = bench.scenario.with(|scenario| scenario.choices.done.contains(&changed));
    if done {
        let said = view! {
            <p>
                "What was changed is marked as done, so the answer reckons with it and foretells no change by it. "
                "Take the mark off to see the two side by side."
            </p>
            <p><a class="button" href=Route::Answer.href_to(&remedy_anchor(changed))>"Go to the mark"</a></p>
        };
        return Some(said.into_any());
    }
    let predicted = bench.decision.with(|decision| predicted(decision.as_deref()?, changed, trial.evidence))?;
    let kind = direction(trial.evidence);
    let said = match (ratio.high < predicted.low, ratio.low > predicted.high) {
        (false, false) => "The two agree.",
        _ => {
            "The two do not agree: what was foretold lies outside what came out. Readings of the machine narrow what is foretold."
        }
    };
    let interval = |change: Spread, solid| match trial.evidence {
        Evidence::Depth => Interval { solid, ..Interval::of_larger(change) },
        _ => Interval { solid, ..Interval::of_smaller(change) },
    };
    let intervals = vec![interval(spread(ratio), true), interval(predicted, false)];
    let axis = Ratio::holding(intervals.iter().copied().flat_map(Interval::ends));
    let [worst, best] = axis.ends();
    let beside = view! {
        <h3>"Foretold, and come out"</h3>
        <ul class="effect">
            <li class="strip-key-solid">"came out " {sourced(Figure::TestRatio, change(spread(ratio), kind))}</li>
            <li class="strip-key-open">"foretold " {sourced(Figure::Change, change(predicted, kind))}</li>
        </ul>
        {strip(intervals, axis)}
        <p class="strip-axis" aria-hidden="true"><span>{worst}</span> <span>"as it was"</span> <span>{best}</span></p>
        <p>{said}</p>
    };
    Some(beside.into_any())
}

fn predicted(decision: &Decision, changed: RemedyId, evidence: Evidence) -> Option<Spread> {
    let appraisal = decision.appraisals.iter().find(|one| one.remedy == changed)?;
    if appraisal.standing == Standing::NotPossible {
        return None;
    }
    let change = &appraisal.change;
    Some(match evidence {
        Evidence::Depth => change.depth_limit,
        _ => Surface::that_counts(decision).change(change),
    })
}

/// The cuts as it was tell of the machine too.
fn as_reading(trial: &Trial, bench: Workbench) -> Option<AnyView> {
    let (value, margin) = trial.as_it_was()?;
    let (field, dimension) = match trial.evidence {
        Evidence::Depth => (Field::QuietDepth, Dimension::Length),
        _ => (Field::PastFinish, Dimension::Roughness),
    };
    let text = format_margin(value, margin, dimension, bench.units());
    let taken = text.clone();
    let said = move || bench.scenario.with(|scenario| if scenario.entry(field) == taken { "It is there." } else { "" });
    let entry = text.clone();
    let take = move |_| bench.update(|scenario| scenario.set_entry(field, entry.clone()));
    let tell = view! {
            <h3>"What they tell of the machine"</h3>
            <p>
                "The cuts as it was are a reading too: " <strong>{text.clone()}</strong>
                ", with what judging them may be off by. It tells most where the cut in question is the one you took."
            </p>
            <p>
                <button type="button" class="button" on:click=take>"Take it over to the readings"</button> " "
                <span role="status">{said}</span>
            </p>
    };
    Some(tell.into_any())
}
