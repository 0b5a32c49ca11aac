//! The header: product, scenario, whether it is saved, units and display.

use crate::app::prelude::*;
use leptos::ev;
use leptos::html::Details;
use spindlewise_engine::quantity::{Dimension, UnitSystem, with_unit};
use spindlewise_engine::scenario::{Field, Scenario};
use wasm_bindgen::JsCast;
use web_sys::HtmlElement;

use crate::app::prefs::{Prefs, Theme};
use crate::app::route::Route;
use crate::app::shelf::{SaveStatus, shelf};
use crate::app::state::workbench;

/// The header.
pub fn header(prefs: RwSignal<Prefs>) -> AnyView {
    let bench = workbench();
    let name = Memo::new(move |_| bench.scenario.with(|scenario| scenario.name.clone()));
    let shown = move || name.with(|name| if name.trim().is_empty() { "Unnamed".to_owned() } else { name.clone() });
    view! {
        <header class="top">
            <p class="brand">
                <svg viewBox="0 0 40 40" aria-hidden="true">
                    <path d="M3 20H37M20 3V37" />
                    <circle cx="20" cy="20" r="10" />
                </svg>
                <span>"Spindlewise"</span>
            </p>
            <p class="at-hand">
                <a href=Route::Scenarios.href()>
                    <span class="unseen">"Scenarios; open now: "</span>
                    <span class="two-lines" title=shown>{shown}</span>
                </a>
                {status()}
            </p>
            {units()}
            {display(prefs)}
        </header>
    }
    .into_any()
}

fn status() -> AnyView {
    let shelf = shelf();
    let words = move || match shelf.status.get() {
        SaveStatus::Saved => "Saved",
        SaveStatus::Pending => "Saving…",
        SaveStatus::Blocked => "Not saved: this browser refuses storage; export to a file",
        SaveStatus::Full => "Not saved: this browser’s storage is full; export to a file",
        SaveStatus::Conflict => "Not saved: changed in another tab",
    };
    let bad = move || !matches!(shelf.status.get(), SaveStatus::Saved | SaveStatus::Pending);
    // Only bad news is read aloud: "Saved" after every key would drown the rest.
    view! {
        <span id="save-status" class:bad=bad>{words}</span>
        <span class="unseen" role="alert">{move || bad().then(words)}</span>
    }
    .into_any()
}

fn units() -> AnyView {
    let bench = workbench();
    let button = |system: UnitSystem, value: &'static str, label: &'static str| {
        let unit = Dimension::Length.default_unit(system).symbol;
        view! {
            <span class="option">
                <input
                    type="radio"
                    name="units"
                    id=format!("units-{value}")
                    value=value
                    prop:checked=move || bench.units() == system
                    on:change=move |_| bench.update(|scenario| switch_units(scenario, system))
                />
                <label for=format!("units-{value}")>
                    <span class="unseen-narrow">{label}</span> <span class="switch-unit">{unit}</span>
                </label>
            </span>
        }
    };
    view! {
        <fieldset class="switch">
            <legend class="unseen">"Units"</legend>
            {button(UnitSystem::Metric, "metric", "Metric")}
            {button(UnitSystem::Inch, "inch", "Inch")}
        </fieldset>
    }
    .into_any()
}

/// Shows everything in other units. A bare number was meant in the old unit,
/// so that is written out first: nothing typed changes its meaning.
fn switch_units(scenario: &mut Scenario, to: UnitSystem) {
    for &field in Field::ALL {
        let typed = scenario.entry(field);
        if !typed.is_empty() {
            let plain = with_unit(typed, field.spec().dimension.default_unit(scenario.units));
            scenario.set_entry(field, plain);
        }
    }
    scenario.units = to;
}

fn display(prefs: RwSignal<Prefs>) -> AnyView {
    let themes = Theme::ALL.map(|theme| {
        let id = format!("theme-{}", theme.value());
        view! {
            <div class="line">
                <input
                    type="radio"
                    name="theme"
                    id=id.clone()
                    value=theme.value()
                    prop:checked=move || prefs.get().theme == theme
                    on:change=move |_| prefs.update(|prefs| prefs.theme = theme)
                />
                <label for=id>{theme.label()}</label>
            </div>
        }
    });
    let panel = NodeRef::<Details>::new();
    let close = move |event: ev::KeyboardEvent| {
        if let (Some(panel), "Escape") = (panel.get(), event.key().as_str()) {
            panel.set_open(false);
            // The keyboard goes back to what opened it.
            if let Ok(Some(summary)) = panel.query_selector("summary") {
                _ = summary.unchecked_into::<HtmlElement>().focus();
            }
        }
    };
    view! {
        <details class="display" node_ref=panel on:keydown=close>
            <summary>"Display"</summary>
            <div class="inside">
                <fieldset>
                    <legend>"Colours"</legend>
                    {themes.collect_view()}
                </fieldset>
                <div class="line">
                    <input
                        type="checkbox"
                        id="large"
                        prop:checked=move || prefs.get().large
                        on:change:target=move |event| prefs.update(|prefs| prefs.large = event.target().checked())
                    />
                    <label for="large">"Large controls, for gloves"</label>
                </div>
            </div>
        </details>
    }
    .into_any()
}
