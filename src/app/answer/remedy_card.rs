//! One remedy weighed.

use crate::app::prelude::*;
use spindlewise_engine::decision::{Appraisal, Figure, Standing, of_hundred, seldom_pays};
use spindlewise_engine::quantity::{Dimension, format};
use spindlewise_engine::remedies::{RemedyId, change_setup, remedy};

use super::cautions::list;
use super::remedies::intervals;
use super::settle::{choice, choice_of_refused};
use super::sheet::{Sheet, remedy_attributes};
use super::sourced::sourced;
use super::words;
use crate::app::charts::{Mark, Ratio, mark, strip};

fn standing_mark(appraisal: &Appraisal) -> Mark {
    match appraisal.standing {
        Standing::Worth if appraisal.remedy == RemedyId::LeaveAlone => Mark::Waves,
        Standing::First => Mark::Star,
        Standing::Worth => Mark::Tick,
        Standing::ForSafety => Mark::Caution,
        Standing::TooDear => Mark::Coin,
        Standing::LittleGain => Mark::Waves,
        Standing::Harmful | Standing::Unsafe => Mark::Cross,
        Standing::CannotTell => Mark::Question,
        Standing::NotPossible => Mark::Barred,
    }
}

/// A remedy that can be had, with its number in the list if it has one.
pub fn card(sheet: &Sheet, rank: usize, number: Option<usize>, appraisal: &Appraisal, axis: Ratio) -> AnyView {
    let surface = sheet.surface();
    let is_as_now = appraisal.remedy == RemedyId::LeaveAlone;
    let effect = (!is_as_now).then(|| {
        let finish = words::change(surface.change(&appraisal.change), words::ROUGHNESS);
        let depth = (appraisal.remedy != RemedyId::LighterCut).then(|| {
            let change = words::change(appraisal.change.depth_limit, words::DEPTH);
            view! { <li class="strip-key-open">"depth " {sourced(Figure::Change, change)}</li> }
        });
        let [worst, best] = axis.ends();
        view! {
            <ul class="effect">
                <li class="strip-key-solid">{surface.name()} " " {sourced(Figure::Change, finish)}</li>
                {depth}
            </ul>
            <div class="remedy-strip" aria-hidden="true">
                {strip(intervals(appraisal, surface), axis)}
                <p class="strip-axis"><span>{worst}</span> <span>"as now"</span> <span>{best}</span></p>
            </div>
        }
    });
    // What is worth it says why in its figures; the words are folded away with the rest.
    let is_worth_it = matches!(appraisal.standing, Standing::First | Standing::Worth) && !is_as_now;
    let why = (!is_worth_it).then(|| view! { <p class="remedy-why">{appraisal.why.clone()}</p> });
    let lighter = (appraisal.remedy == RemedyId::LighterCut).then(|| lighter_cut(sheet));
    view! {
        <li class="remedy" {..remedy_attributes(rank, appraisal)}>
            <h3>{number.map(|number| view! { <span class="balloon">{number}</span> })} " " {appraisal.title.clone()}</h3>
            <p class="standing">{mark(standing_mark(appraisal))} {words::standing(appraisal, &sheet.decision.verdict)}</p>
            {lighter}
            {why}
            {effect}
            {(!is_as_now).then(|| view! { <dl class="facts">{cost(sheet, appraisal)}</dl> {details(sheet, appraisal, is_worth_it)} })}
        </li>
    }
    .into_any()
}

/// What a lighter cut is: "0.5 mm a pass instead of 1 mm".
fn lighter_cut(sheet: &Sheet) -> AnyView {
    let setup = &sheet.case().setup;
    let [full, less] = [setup, &change_setup(RemedyId::LighterCut, setup)]
        .map(|setup| format(setup.cut.axial_depth.as_mm(), Dimension::Length, sheet.units));
    view! { <p class="remedy-why">{less} " a pass instead of " {full} ", in twice as many passes."</p> }.into_any()
}

/// What it brings and costs at a glance.
fn cost(sheet: &Sheet, appraisal: &Appraisal) -> impl IntoView {
    let [before, after] = [sheet.decision.now.reach, appraisal.prediction.reach].map(of_hundred);
    let reach = view! {
        {before} <span aria-hidden="true">"\u{a0}→\u{a0}"</span> <span class="unseen">" now, then "</span>
        <strong>{after}</strong> "\u{a0}of\u{a0}100"
    };
    let over = (!appraisal.affordable).then(|| view! { <small>"over your budget"</small> });
    view! {
        <div>
            <dt>"Reaches your goal"</dt>
            <dd>
                {sourced(Figure::Reach, reach)}
            </dd>
        </div>
        <div>
            <dt>"Money"</dt>
            <dd>{sourced(Figure::Money, words::money(appraisal.money, sheet.units))} {over}</dd>
        </div>
        <div>
            <dt>"Time"</dt>
            <dd>{sourced(Figure::Hours, words::hours(appraisal.hours, sheet.units))}</dd>
        </div>
        <div>
            <dt>"Risk of spoiling"</dt>
            <dd>{sourced(Figure::Spoil, words::risk(appraisal.spoil))}</dd>
        </div>
    }
}

/// The rest, for whoever wants it; with the reason where the card leaves it out.
fn details(sheet: &Sheet, appraisal: &Appraisal, with_why: bool) -> AnyView {
    let known = remedy(appraisal.remedy);
    let units = sheet.units;
    let prediction = &appraisal.prediction;
    let surface = sheet.surface();
    let fact = |figure: Figure, label: String, value: String| {
        view! { <div><dt>{label}</dt><dd>{sourced(figure, value)}</dd></div> }
    };
    let for_money = appraisal.reach_per_money.map(|rate| {
        let whole = words::money(appraisal.money, units);
        let gained = words::gain_for(rate, appraisal.money, &whole, (10.0, "10 of money"));
        fact(Figure::PerMoney, "Reach the goal, for the money".into(), gained)
    });
    let for_time = appraisal.reach_per_hour.map(|rate| {
        let whole = words::hours(appraisal.hours, units);
        let gained = words::gain_for(rate, appraisal.hours, &whole, (1.0, "hour"));
        fact(Figure::PerHour, "Reach the goal, for the time".into(), gained)
    });
    let roughness = words::range(surface.roughness(prediction), Dimension::Roughness, units);
    let depth = words::range(prediction.depth_limit, Dimension::Length, units);
    let worth = words::range(words::whole(appraisal.worth), Dimension::Money, units);
    let mean = words::mean(appraisal.expected_worth, appraisal.worth, units);
    let at_hand: Vec<_> = known.needs.iter().copied().filter(|need| !appraisal.hired.contains(need)).collect();
    let needs =
        (!at_hand.is_empty()).then(|| view! { <p><strong>"Needs: "</strong> {words::things(&at_hand)} "."</p> });
    let hired = (!appraisal.hired.is_empty()).then(|| {
        view! {
            <p>
                <strong>"To be bought or hired, and in the money above: "</strong> {words::things(&appraisal.hired)} "."
            </p>
        }
    });
    let cautions = (!known.cautions.is_empty()).then(|| {
        view! { <h4>"Cautions"</h4> {list(known.cautions)} }
    });
    // Worth knows nothing of who gets hurt.
    let regret = (appraisal.standing != Standing::ForSafety).then(|| {
        fact(Figure::Regret, "Costs you more than it brings on".into(), words::count(appraisal.regret) + " machines")
    });
    let why = with_why.then(|| {
        let seldom = seldom_pays(appraisal, &sheet.case().budget);
        view! { <p class="remedy-why">{appraisal.why.clone()} " " {seldom}</p> }
    });
    let unmet = appraisal.unmet.iter().map(|&unmet| view! { <p>{words::unmet(unmet)}</p> }).collect_view();
    view! {
        <details class="more">
            <summary>
                "Details, cautions; done, or ruled out" <span class="unseen">" of “" {appraisal.title.clone()} "”"</span>
            </summary>
            <div class="inside">
                {why}
                <p>{known.changes}</p>
                {needs}
                {hired}
                {unmet}
                <dl class="facts">
                    {fact(surface.figure(), format!("Then: roughness Ra of the {}", surface.name()), roughness)}
                    {fact(Figure::DepthLimit, "Then: deepest cut without chatter".into(), depth)}
                    {fact(Figure::Noticeable, "You would notice it on".into(), words::count(appraisal.noticeable) + " machines")}
                    {fact(Figure::Worth, "Worth to you, all costs off".into(), worth)}
                    {fact(Figure::Worth, "On average".into(), mean)}
                    {fact(Figure::BestBuy, "The best buy on".into(), words::count(appraisal.best) + " machines")}
                    {regret}
                    {for_money}
                    {for_time}
                </dl>
                {cautions}
                {choice(appraisal.remedy)}
            </div>
        </details>
    }
    .into_any()
}

/// A remedy that can't be had: why not, at first in one sentence.
pub fn refused(rank: usize, appraisal: &Appraisal) -> impl IntoView {
    let mut reasons = appraisal.unmet.iter().map(|&unmet| view! { <p>{words::unmet(unmet)}</p> });
    let first = reasons.next();
    let others: Vec<_> = reasons.collect();
    let others = (!others.is_empty()).then(|| {
        let more =
            if others.len() == 1 { "One more reason".to_owned() } else { format!("{} more reasons", others.len()) };
        view! {
            <details class="more">
                <summary>{more} <span class="unseen">" against “" {appraisal.title.clone()} "”"</span></summary>
                <div class="inside">{others}</div>
            </details>
        }
    });
    view! {
        <li {..remedy_attributes(rank, appraisal)}>
            {mark(Mark::Barred)}
            <div>
                <strong>{appraisal.title.clone()}</strong>
                {first}
                {others}
                {choice_of_refused(appraisal.remedy, &appraisal.unmet)}
            </div>
        </li>
    }
}
