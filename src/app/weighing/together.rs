//! Which remedies together: the best buy, and the best for each amount spent.

use std::sync::Arc;

use crate::app::prelude::*;
use spindlewise_engine::decision::sets::{Bundle, Sets, Step};
use spindlewise_engine::decision::{Case, Decision, Figure, exactly, of_hundred};
use spindlewise_engine::quantity::{Dimension, UnitSystem, format, format_number};
use spindlewise_engine::remedies::RemedyId;

use crate::app::answer::words::{count, hours, middle, money, percent, range, risk};
use crate::app::answer::{point, sourced, toggles, wire_name};
use crate::app::charts::{Mark, Marks, Scale, Stair, Table, chart, mark, round_above, stairs_chart};
use crate::app::components::compare;

/// What is spent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum By {
    Money,
    Hours,
}

/// What is had for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum For {
    Goal,
    Finish,
}

const BY: [(By, &str); 2] = [(By::Money, "By money"), (By::Hours, "By hours")];
const FOR: [(For, &str); 2] = [(For::Goal, "Reaching the goal"), (For::Finish, "Finish you can count on")];

/// What is shown of which sets.
#[derive(Clone)]
struct Shown {
    sets: Arc<Sets>,
    /// Probability of reaching the goal as it is.
    before: f64,
    units: UnitSystem,
    by: By,
    goal: For,
}

/// The section.
pub fn section(sets: &Sets, decision: &Decision, case: &Case, units: UnitSystem) -> AnyView {
    let sets = Arc::new(sets.clone());
    let before = decision.now.reach;
    let (by, goal) = (RwSignal::new(By::Money), RwSignal::new(For::Goal));
    let best = best_buy(&sets, before, units);
    let rival = rival(&sets, case, units);
    let searched = searched(&sets);
    let staircase = move || Shown { sets: Arc::clone(&sets), before, units, by: by.get(), goal: goal.get() }.view();
    view! {
        <section aria-labelledby="together">
            <h2 id="together">"Which remedies together"</h2>
            {best}
            {rival}
            <h3>"The best for each amount spent"</h3>
            <div class="weighing-toggles">
                {toggles("What is spent", &BY, by)}
                {toggles("What is had for it", &FOR, goal)}
            </div>
            {staircase}
            {searched}
        </section>
    }
    .into_any()
}

fn best_buy(sets: &Sets, before: f64, units: UnitSystem) -> AnyView {
    let best = &sets.bundles[sets.best_buy];
    if best.remedies.is_empty() {
        return view! {
            <p class="weighing-best" id="best-together">
                "No set of remedies within your money and hours is worth what it costs: leave it alone."
            </p>
        }
        .into_any();
    }
    let title = |id: RemedyId| {
        let titles = best.remedies.iter().zip(&best.titles);
        titles.into_iter().find(|(other, _)| *other == id).map(|(_, title)| title.clone())
    };
    let steps = sets.order.iter().map(|&id| view! { <li>{title(id)}</li> }).collect_view();
    // Safety comes before money: what leaves a danger is not among them where something doesn't.
    let lead = if best.expected_worth < 0.0 {
        "No set of remedies pays here. If this cut has to be made safe all the same, this loses you least:"
    } else if sets.order.len() == 1 {
        "Of all sets of remedies, one by itself is the best buy:"
    } else {
        "Of all sets of remedies, this one is the best buy, in this order:"
    };
    view! {
        <div class="weighing-best" id="best-together">
            <p>{mark(Mark::Star)} " " {lead}</p>
            <ol>{steps}</ol>
            <p>
                "That takes the goal from " {of_hundred(before)} " to "
                {sourced(Figure::BestTogether, view! { <strong>{of_hundred(best.reach)} " of 100"</strong> })}
                " machines like yours. Cost, in your own money: " {sourced(Figure::Money, money(best.money, units))} "; time: "
                {sourced(Figure::Hours, hours(best.hours, units))} ". Eight machines in ten then come out at "
                {sourced(Figure::CountedOn, roughness(best.counted_on, units))} " Ra or finer."
            </p>
            {left(best)}
        </div>
    }
    .into_any()
}

/// The best buy against what seems the better one.
fn rival(sets: &Sets, case: &Case, units: UnitSystem) -> Option<AnyView> {
    let rival = sets.rival()?;
    let best = &sets.bundles[sets.best_buy];
    let row = |name: &'static str, figure: Figure, say: &dyn Fn(&Bundle) -> String| {
        let [ours, theirs] = [best, rival].map(|one| sourced(figure, say(one)));
        view! {
            <tr>
                <th scope="row">{name}</th>
                <td data-label="Best buy">{ours}</td>
                <td data-label="Reaches it more often">{theirs}</td>
            </tr>
        }
    };
    let balance = |one: &Bundle| one.balance(&case.budget);
    let rows = [
        row("Reaches the goal", Figure::Reach, &|one| count(one.reach)),
        row("Depth in one pass", Figure::Pace, &|one| format(one.depth, Dimension::Length, units)),
        row("Money", Figure::Money, &|one| money(one.money, units)),
        row("Time", Figure::Hours, &|one| hours(one.hours, units)),
        row("What it brings, in your money", Figure::Worth, &|one| exactly(balance(one).brings())),
        row("What it costs, hours and risk counted in", Figure::Worth, &|one| exactly(balance(one).costs())),
        row("What is left for you", Figure::Worth, &|one| exactly(balance(one).left)),
    ];
    let what = titles(rival).into_iter().map(|title| view! { <li>{title}</li> }).collect_view();
    let why = sets.why_not(rival, case, units);
    Some(
        view! {
            <div id="rival" class="weighing-said">
                <h3>"Why not the set that reaches the goal more often"</h3>
                <p>
                    "This set costs no more money and reaches the goal on "
                    {sourced(Figure::Reach, count(rival.reach))} " machines like yours:"
                </p>
                <ul class="stair-what">{what}</ul>
                <p>{why}</p>
                {compare(&["", "Best buy", "Reaches it more often"], rows.into_any())}
            </div>
        }
        .into_any(),
    )
}

fn searched(sets: &Sets) -> AnyView {
    let whole = |number: usize| format(number as f64, Dimension::Count, UnitSystem::Metric);
    view! {
        <p class="weighing-note">
            "So it was found: " {sourced(Figure::Tried, format!("{} sets", whole(sets.tried)))} " of "
            {whole(sets.remedies)} " remedies that can be had here, each on " {whole(sets.machines)}
            " machines like yours. " {sourced(Figure::Spared, percent(sets.spared))}
            " of these trials could be left out: those sets could not win any more."
        </p>
    }
    .into_any()
}

/// A danger that a set leaves.
fn left(bundle: &Bundle) -> Option<AnyView> {
    bundle.danger.map(|danger| {
        view! { <p class="standing">{mark(Mark::Caution)} <span>"Not by itself: " {danger.left()} "."</span></p> }
            .into_any()
    })
}

fn roughness(value: f64, units: UnitSystem) -> String {
    middle(point(value), Dimension::Roughness, units)
}

fn half((low, high): (f64, f64)) -> f64 {
    0.5 * (low + high)
}

impl Shown {
    fn steps(&self) -> &[Step] {
        let frontier = match self.by {
            By::Money => &self.sets.by_money,
            By::Hours => &self.sets.by_hours,
        };
        match self.goal {
            For::Goal => &frontier.reach,
            For::Finish => &frontier.finish,
        }
    }

    fn bundle(&self, step: usize) -> &Bundle {
        &self.sets.bundles[self.steps()[step].bundle]
    }

    /// All that the chart has to hold.
    fn drawn(&self) -> impl Iterator<Item = &Bundle> {
        let bundles = &self.sets.bundles;
        let marked = bundles.iter().filter(|bundle| bundle.remedies.is_empty()).chain([&bundles[self.sets.best_buy]]);
        self.steps().iter().map(|step| &bundles[step.bundle]).chain(marked)
    }

    fn cost(&self, bundle: &Bundle) -> f64 {
        half(match self.by {
            By::Money => bundle.money,
            By::Hours => bundle.hours,
        })
    }

    fn value(&self, bundle: &Bundle) -> f64 {
        match self.goal {
            For::Goal => bundle.reach,
            For::Finish => bundle.counted_on,
        }
    }

    /// What a step costs and brings, in a few words.
    fn brief(&self, bundle: &Bundle) -> String {
        let cost = match self.by {
            By::Money if bundle.money.1 <= 0.0 => "free of charge".to_owned(),
            By::Money => format!("money {}", money(bundle.money, self.units)),
            By::Hours => format!("time {}", hours(bundle.hours, self.units)),
        };
        let value = match self.goal {
            For::Goal => format!("{} reach the goal", count(bundle.reach)),
            For::Finish => format!("{} Ra or finer", roughness(bundle.counted_on, self.units)),
        };
        format!("{cost}: {value}")
    }

    fn cost_scale(&self) -> Scale {
        let costs = || self.drawn().map(|bundle| self.cost(bundle));
        let least = costs().fold(0.0, f64::min);
        let low = if least < -1e-9 { -round_above(-least) } else { 0.0 };
        let high = round_above(costs().fold(1e-3, f64::max));
        let label = |at: f64| format_number(at, 3);
        let mut ticks = vec![(0.0, label(0.0)), (0.5 * high, label(0.5 * high)), (high, label(high))];
        if low < 0.0 {
            ticks.push((low, label(low)));
        }
        Scale { ends: (low, high), ticks }
    }

    fn value_scale(&self) -> Scale {
        match self.goal {
            For::Goal => {
                Scale { ends: (0.0, 1.0), ticks: [0.0, 0.5, 1.0].map(|at| (at, of_hundred(at).to_string())).into() }
            }
            For::Finish => {
                let unit = Dimension::Roughness.default_unit(self.units).factor;
                let roughest = self.drawn().map(|bundle| bundle.counted_on).fold(0.1 * unit, f64::max);
                let end = unit * round_above(roughest / unit);
                let label = |at| format(at, Dimension::Roughness, self.units);
                Scale { ends: (end, 0.0), ticks: [0.0, 0.5 * end, end].map(|at| (at, label(at))).into() }
            }
        }
    }

    fn view(self) -> AnyView {
        let steps = self.steps();
        if steps.len() < 2 {
            return view! { <p>"Nothing within your money and hours brings more than leaving it alone."</p> }
                .into_any();
        }
        let last = steps.len() - 1;
        let stairs: Vec<Stair> = steps
            .iter()
            .map(|step| {
                let bundle = &self.sets.bundles[step.bundle];
                Stair { cost: self.cost(bundle), value: self.value(bundle), worth_stopping_at: step.worth_stopping_at }
            })
            .collect();
        let start = steps.iter().position(|step| step.bundle == self.sets.best_buy).unwrap_or_default();
        let chosen = RwSignal::new(start);
        let best = &self.sets.bundles[self.sets.best_buy];
        let now = self.sets.bundles.iter().find(|bundle| bundle.remedies.is_empty()).unwrap_or(best);
        let marks = Marks { best_buy: (self.cost(best), self.value(best)), now: self.value(now) };
        let drawing = stairs_chart(&stairs, marks, &self.cost_scale(), &self.value_scale(), chosen);
        let along = match self.by {
            By::Money => "Along: money, middle of its range",
            By::Hours => "Along: hours of your time, middle of their range",
        };
        let up = match self.goal {
            For::Goal => "Up: machines of 100 that reach the goal",
            For::Finish => "Up: roughness Ra that eight machines in ten keep to, finer on top",
        };
        let caption = format!(
            "{up}. {along}. Solid dots are worth stopping at. At a small ring, spend a little more: the next solid dot gives more for what it costs. Diamond: the best buy. It weighs money, hours, risk and goal together, so it may lie below the stairs. Tap a dot, or move along them below."
        );
        let chart = chart(caption, drawing, self.table());
        let shown = StoredValue::new(self);
        let said = move || shown.with_value(|shown| shown.brief(shown.bundle(chosen.get())));
        let walk = move |by: isize| chosen.set(chosen.get_untracked().saturating_add_signed(by).min(last));
        let slide = move |text: String| {
            if let Ok(at) = text.parse::<usize>() {
                chosen.set(at.clamp(1, last + 1) - 1);
            }
        };
        view! {
            {chart}
            <div class="stairs-walk screen-only">
                <label for="stairs-at">"Step " {move || chosen.get() + 1} " of " {last + 1} ", cheapest first"</label>
                <button type="button" aria-label="The step before" disabled=move || chosen.get() == 0 on:click=move |_| walk(-1)>
                    "‹"
                </button>
                <input
                    type="range"
                    id="stairs-at"
                    min="1"
                    max=last + 1
                    step="1"
                    aria-valuetext=said
                    prop:value=move || (chosen.get() + 1).to_string()
                    on:input:target=move |event| slide(event.target().value())
                />
                <button type="button" aria-label="The next step" disabled=move || chosen.get() == last on:click=move |_| walk(1)>
                    "›"
                </button>
            </div>
            {move || shown.with_value(|shown| shown.describe(chosen.get()))}
        }
        .into_any()
    }

    fn table(&self) -> Table {
        let row = |step: &Step| {
            let bundle = &self.sets.bundles[step.bundle];
            vec![
                titles(bundle).join("; "),
                money(bundle.money, self.units),
                hours(bundle.hours, self.units),
                count(bundle.reach),
                roughness(bundle.counted_on, self.units),
                worth(bundle, self.units),
                if step.worth_stopping_at { "yes" } else { "no" }.to_owned(),
            ]
        };
        let headings = vec![
            "Remedies",
            "Money",
            "Time",
            "Reaches the goal",
            "Finish to count on",
            "Worth on average",
            "Worth stopping at",
        ];
        Table { headings, rows: self.steps().iter().map(row).collect() }
    }

    fn describe(&self, step: usize) -> AnyView {
        let bundle = self.bundle(step);
        let units = self.units;
        let best = self.steps()[step].bundle == self.sets.best_buy;
        let faint = !best && !self.steps()[step].worth_stopping_at;
        let alone = match self.by {
            By::Money => "money",
            By::Hours => "hours",
        };
        let flag = best.then(|| view! { <p class="standing">{mark(Mark::Star)} "The best buy"</p> });
        let what = titles(bundle).into_iter().map(|title| view! { <li>{title}</li> }).collect_view();
        let fact = |figure: Figure, label: &'static str, value: String| {
            view! { <div><dt>{label}</dt><dd>{sourced(figure, value)}</dd></div> }
        };
        let names = bundle.remedies.iter().map(|id| wire_name(&id)).collect::<Vec<_>>().join(" ");
        let reach = format!("{}\u{a0}→ {}\u{a0}of\u{a0}100", of_hundred(self.before), of_hundred(bundle.reach));
        view! {
            <div class="stair" role="group" aria-label="The step chosen" data-bundle=names>
                {flag}
                <ul class="stair-what">{what}</ul>
                <dl class="facts">
                    {fact(Figure::Reach, "Reaches the goal", reach)}
                    {fact(Figure::Money, "Money", money(bundle.money, units))}
                    {fact(Figure::Hours, "Time", hours(bundle.hours, units))}
                    {fact(Figure::CountedOn, "Finish to count on", roughness(bundle.counted_on, units))}
                    {fact(Figure::Dots, "Finish Ra, eight machines in ten", range(bundle.finish, Dimension::Roughness, units))}
                    {fact(Figure::DepthLimit, "Deepest cut without chatter", range(bundle.depth_limit, Dimension::Length, units))}
                    {fact(Figure::Worth, "Worth to you on average", worth(bundle, units))}
                    {fact(Figure::Regret, "Costs you more than it brings on", count(bundle.regret))}
                    {fact(Figure::Spoil, "Risk of spoiling", risk(bundle.spoil))}
                </dl>
                {left(bundle)}
                {faint.then(|| view! {
                    <p class="standing">
                        {mark(Mark::Waves)} <span>"By " {alone} " alone not worth stopping at: spend a little more, and the next solid dot gives more for what it costs."</span>
                    </p>
                })}
            </div>
        }
        .into_any()
    }
}

/// What is in a set, each by its title.
fn titles(bundle: &Bundle) -> Vec<String> {
    if bundle.titles.is_empty() { vec!["Everything left as it is".to_owned()] } else { bundle.titles.clone() }
}

fn worth(bundle: &Bundle, units: UnitSystem) -> String {
    middle(point(bundle.expected_worth), Dimension::Money, units)
}
