//! How a reading is taken: drawings, steps, what is typical. Folded away on
//! screen, open on paper.

use crate::app::prelude::*;
use spindlewise_engine::choice::Choice;
use spindlewise_engine::decision::{Spread, typical};
use spindlewise_engine::quantity::{Dimension, UnitSystem, format, format_range};
use spindlewise_engine::readings::{Guide, ReadingGroup, ReadingKind, minutes};
use spindlewise_engine::scenario::Field;

use crate::app::answer::words::{middle, range};
use crate::app::components::caution_text;
use crate::app::drawings::guide_panels;
use crate::app::state::{Workbench, workbench};

/// What every reading would usually show, worked out once for all of them.
#[derive(Clone, Copy)]
pub struct Typical(Memo<Vec<(Field, ReadingKind, Spread)>>);

impl Typical {
    /// Follows the machine and how it is set up.
    pub fn new() -> Self {
        let bench = workbench();
        let asked = Memo::new(move |_| {
            bench.resolved.with(|resolved| {
                let kinds = Field::ALL.iter().filter_map(|&field| Some((field, resolved.reading(field)?)));
                (resolved.case.setup.clone(), kinds.collect::<Vec<_>>())
            })
        });
        Typical(Memo::new(move |_| {
            asked.with(|(setup, readings)| {
                let kinds: Vec<_> = readings.iter().map(|(_, kind)| *kind).collect();
                let spreads = typical(setup, &kinds);
                readings.iter().zip(spreads).map(|(&(field, kind), spread)| (field, kind, spread)).collect()
            })
        }))
    }
}

/// The guide to a group, whose readings are kept in `fields`.
pub fn guide(group: ReadingGroup, fields: &'static [Field], typical: Typical) -> AnyView {
    let Guide { title, kit, caution, steps, good, mistakes, .. } = group.guide();
    let panels = guide_panels(group).into_iter().map(|panel| {
        view! {
            <figure>
                <div class="picture" role="img" aria-label=panel.words inner_html=panel.svg></div>
                <figcaption>{panel.caption}</figcaption>
            </figure>
        }
    });
    let items = |items: &'static [&'static str]| items.iter().map(|&item| view! { <li>{item}</li> }).collect_view();
    let content = view! {
        <div class="guide-panels">{panels.collect_view()}</div>
        {caution_text(caution)}
        <div class="guide-words">
            <section>
                <h3>"Step by step"</h3>
                <p class="hint">{kit} " " {move || time(fields)}</p>
                <ol>{items(steps)}</ol>
            </section>
            <section>
                <h3>"A good reading"</h3>
                <ul>{items(good)}</ul>
                <h3>"Usual mistakes"</h3>
                <ul>{items(mistakes)}</ul>
            </section>
        </div>
        {usual(fields, typical)}
    };
    view! {
        <details class="more guide">
            <summary>
                <span>"How to take it, step by step" <span class="unseen">": " {title}</span></span>
            </summary>
            <div class="inside">{content}</div>
        </details>
    }
    .into_any()
}

/// How long one of the readings takes.
fn time(fields: &[Field]) -> String {
    let bench = workbench();
    let kinds = bench.resolved.with(|resolved| {
        let kinds = fields.iter().filter_map(|&field| resolved.reading(field));
        kinds.map(minutes).collect::<Vec<_>>()
    });
    let (least, most) = kinds.iter().fold((f64::MAX, 0.0_f64), |(least, most), &one| (least.min(one), most.max(one)));
    let minutes = format_range(least, most, Dimension::Minutes, bench.units());
    format!("About {minutes} for each reading, repeats and all (common practice, no source).")
}

/// What is usual on such a machine.
fn usual(fields: &'static [Field], Typical(all): Typical) -> AnyView {
    let bench = workbench();
    let rows = move || {
        let units = bench.units();
        all.with(|all| {
            let own = all.iter().filter(|(field, ..)| fields.contains(field));
            own.map(|(field, kind, spread)| row(*field, *kind, *spread, units)).collect_view()
        })
    };
    view! {
        <section class="guide-usual">
            <h3>"What is usual: typical range, computed"</h3>
            <p class="hint">
                {move || machine(bench)}
                ". Before any reading, eight in ten of such machines, set up as you said, would show this. Yours may well lie outside: that is what the reading is for."
            </p>
            <dl>{rows}</dl>
        </section>
    }
    .into_any()
}

fn machine(bench: Workbench) -> &'static str {
    bench.resolved.with(|resolved| resolved.case.setup.machine.archetype.label())
}

fn row(field: Field, kind: ReadingKind, spread: Spread, units: UnitSystem) -> AnyView {
    let dimension = kind.dimension();
    let at = match kind {
        ReadingKind::Pull { force, .. } => format!(", at {}", format(force.as_newton(), Dimension::Force, units)),
        ReadingKind::PastFinish { depth, .. } => {
            format!(", {} deep", format(depth.as_mm(), Dimension::Length, units))
        }
        _ => String::new(),
    };
    view! {
        <div data-usual=field.spec().key>
            <dt>{field.spec().label} {at}</dt>
            <dd>
                <strong>{range(spread, dimension, units)}</strong>
                " "
                <small>"middle " {middle(spread, dimension, units)}</small>
            </dd>
        </div>
    }
    .into_any()
}
