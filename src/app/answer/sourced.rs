//! "Where does this come from": every figure opens its derivation.

use crate::app::prelude::*;
use leptos::ev;
use leptos::html::Dialog;
use spindlewise_engine::decision::{Derivation, Figure, Input, Spread, derivation};
use spindlewise_engine::quantity::{Dimension, Origin, UnitSystem, format, format_range};
use spindlewise_engine::scenario::{Field, Resolved, inputs};

use super::words::{middle, range};
use crate::app::state::workbench;

/// The figure whose derivation is open. Given by the answer page.
#[derive(Clone, Copy)]
pub struct OpenFigure(pub RwSignal<Option<Figure>>);

/// A figure, shown as `content`, that opens its derivation.
pub fn sourced(figure: Figure, content: impl IntoView + 'static) -> AnyView {
    let OpenFigure(open) = expect_context();
    view! {
        <button type="button" class="sourced" aria-haspopup="dialog" on:click=move |_| open.set(Some(figure))>
            {content}
            <span class="unseen">", source"</span>
        </button>
    }
    .into_any()
}

/// A spread: its middle, then eight machines in ten.
pub fn spread(figure: Figure, value: Spread, dimension: Dimension, units: UnitSystem) -> AnyView {
    let content = view! {
        <strong>{middle(value, dimension, units)}</strong> <small>{range(value, dimension, units)}</small>
    };
    sourced(figure, content)
}

/// The one dialog of the page. The browser closes it on Esc and gives the
/// focus back to the figure.
pub fn source_dialog() -> impl IntoView {
    let OpenFigure(open) = expect_context();
    let bench = workbench();
    let dialog = NodeRef::<Dialog>::new();
    Effect::new(move |_| {
        if let (Some(_), Some(dialog)) = (open.get(), dialog.get())
            && !dialog.open()
        {
            // Fails only on a dialog taken out of the page.
            _ = dialog.show_modal();
        }
    });
    let close = move |_: ev::MouseEvent| {
        if let Some(dialog) = dialog.get_untracked() {
            dialog.close();
        }
    };
    let content = move || {
        open.get().map(|figure| bench.resolved.with_untracked(|resolved| explain(figure, resolved, bench.units())))
    };
    view! {
        <dialog
            class="source"
            node_ref=dialog
            aria-labelledby="source-title"
            on:close=move |_| open.set(None)
        >
            // Scrolls, so the keyboard has to reach it.
            <div class="source-body" tabindex="0" role="group" aria-labelledby="source-title">{content}</div>
            <button type="button" class="button primary source-close" on:click=close>"Close"</button>
        </dialog>
    }
}

fn explain(figure: Figure, resolved: &Resolved, units: UnitSystem) -> AnyView {
    let Derivation { title, meaning, formula, source, inputs: unknown } = derivation(figure, &resolved.case);
    let known = inputs(figure).filter_map(|field| known(field, resolved, units));
    let rows: Vec<AnyView> = known.chain(unknown.into_iter().map(|input| row(input, units))).collect();
    let inputs = (!rows.is_empty()).then(|| {
        view! {
            <h3>"What went into it"</h3>
            <table class="source-inputs">
                <thead>
                    <tr>
                        <th scope="col">"Input"</th>
                        <th scope="col">"Value"</th>
                        <th scope="col">"Where from"</th>
                    </tr>
                </thead>
                <tbody>{rows}</tbody>
            </table>
        }
    });
    view! {
        <h2 id="source-title" tabindex="-1" autofocus>{title}</h2>
        <p>{meaning}</p>
        <h3>"Formula"</h3>
        <p class="source-formula">{formula}</p>
        <h3>"Source"</h3>
        <p>{source}</p>
        {inputs}
    }
    .into_any()
}

/// A number the user gave, or what is usual in its place.
fn known(field: Field, resolved: &Resolved, units: UnitSystem) -> Option<AnyView> {
    let spec = field.spec();
    let value = format(resolved.in_use(field)?, spec.dimension, units);
    let (origin, source) = match resolved.is_typed(field) {
        true => (Origin::Typed, ""),
        false => (Origin::Typical, "the box is blank"),
    };
    Some(cells(spec.label, value, origin, source))
}

fn row(Input { label, value, dimension, origin, source }: Input, units: UnitSystem) -> AnyView {
    cells(label, format_range(value.low, value.high, dimension, units), origin, &source)
}

fn cells(label: &'static str, value: String, origin: Origin, source: &str) -> AnyView {
    view! {
        <tr>
            <th scope="row">{label}</th>
            <td>{value}</td>
            <td>
                <span class="source-origin">{origin_word(origin)}</span>
                {(!source.is_empty()).then(|| view! { <span>{source.to_owned()}</span> })}
            </td>
        </tr>
    }
    .into_any()
}

fn origin_word(origin: Origin) -> &'static str {
    match origin {
        Origin::Measured => "Measured",
        Origin::Typed => "Typed in",
        Origin::Typical => "Typical",
        Origin::Narrowed => "Narrowed by your readings",
        Origin::Computed => "Worked out",
    }
}
