//! A number the user may type: kept word for word, read aloud in the units
//! shown, never rewritten while it is being typed.

use crate::app::prelude::*;
use spindlewise_engine::quantity::{
    Dimension, Parsed, UnitSystem, format, format_estimate, format_margin, format_typed, items, parse, with_unit,
};
use spindlewise_engine::scenario::document::LONGEST_ENTRY;
use spindlewise_engine::scenario::{Field, FieldSpec};

use super::step::stepped;
use crate::app::route::element_id;
use crate::app::state::{Workbench, workbench};

/// Several numbers in a grid.
pub fn numbers(fields: &[Field]) -> AnyView {
    let fields = fields.iter().map(|&field| number(field)).collect_view();
    view! { <div class="fields">{fields}</div> }.into_any()
}

/// One number: label with the unit of a bare number, help, entry with − and +,
/// how the entry is read, and what is wrong with it.
pub fn number(field: Field) -> AnyView {
    let bench = workbench();
    let spec = field.spec();
    let id = element_id(spec.key);
    let (hint_id, echo_id, error_id) = (format!("{id}-hint"), format!("{id}-echo"), format!("{id}-error"));
    let typing = RwSignal::new(false);
    let text = Memo::new(move |_| bench.scenario.with(|scenario| scenario.entry(field).to_owned()));
    let problem = Memo::new(move |_| problem(bench, field));
    // Half a number is no mistake: nothing is said against it until it is done.
    let error = Memo::new(move |_| if typing.get() { None } else { problem.get() });
    // Also told when the page is left with the field in focus: by then what
    // belongs to the field itself may be gone, and the bench is not.
    let leave = move |_| {
        typing.try_set(false);
        let (done, typed) = bench.scenario.with_untracked(|scenario| {
            let typed = scenario.entry(field);
            (with_unit(typed, spec.dimension.default_unit(scenario.units)), typed.to_owned())
        });
        if done != typed {
            bench.update(|scenario| scenario.set_entry(field, done));
        }
    };
    let step = move |up: bool| {
        let blank = bench.resolved.with_untracked(|resolved| resolved.in_use(field));
        let units = bench.scenario.with_untracked(|scenario| scenario.units);
        if let Some(next) = stepped(&text.get_untracked(), spec, blank, units, up) {
            typing.set(false);
            bench.update(|scenario| scenario.set_entry(field, next));
        }
    };
    // A reading that was not taken has nothing to start from.
    let cannot_step = move || {
        text.with(|text| text.trim().is_empty()) && bench.resolved.with(|resolved| resolved.in_use(field).is_none())
    };
    // A list is typed, not stepped.
    let nudge = |name: &str, sign: &'static str, up: bool| {
        let name = format!("{name}: {}", spec.label);
        (!spec.list).then(|| {
            view! {
                <button type="button" class="nudge" aria-label=name disabled=cannot_step on:click=move |_| step(up)>
                    {sign}
                </button>
            }
        })
    };
    view! {
        <div class="field" class:wrong=move || error.with(Option::is_some)>
            <label for=id.clone()>{move || label(bench, spec)}</label>
            <p class="hint" id=hint_id.clone()>{move || spec.hint(bench.units())}</p>
            <div class="entry">
                {nudge("Less", "−", false)}
                <input
                    id=id.clone()
                    type="text"
                    maxlength=LONGEST_ENTRY.to_string()
                    inputmode=if spec.list { "text" } else { "decimal" }
                    autocomplete="off"
                    autocapitalize="off"
                    spellcheck="false"
                    aria-describedby=format!("{error_id} {echo_id} {hint_id}")
                    aria-invalid=move || error.with(|error| error.is_some().then_some("true"))
                    prop:value=text
                    on:input:target=move |event| {
                        typing.set(true);
                        bench.update(|scenario| scenario.set_entry(field, event.target().value()));
                    }
                    on:blur=leave
                />
                {nudge("More", "+", true)}
            </div>
            <p class="echo" id=echo_id>{move || echo(bench, field)}</p>
            <p class="error" id=error_id aria-live="polite">{error}</p>
        </div>
    }
    .into_any()
}

/// The label, with the unit that a bare number has.
fn label(bench: Workbench, spec: FieldSpec) -> String {
    let symbol = spec.dimension.default_unit(bench.units()).symbol;
    if symbol.is_empty() { spec.label.to_owned() } else { format!("{}, {symbol}", spec.label) }
}

fn problem(bench: Workbench, field: Field) -> Option<String> {
    bench.resolved.with(|resolved| {
        let problem = resolved.problems.iter().find(|problem| problem.field() == Some(field));
        problem.map(|problem| problem.message(bench.units()))
    })
}

/// How the entry is read, or what is used in its place.
fn echo(bench: Workbench, field: Field) -> String {
    let spec = field.spec();
    let units = bench.units();
    let typed = bench.scenario.with(|scenario| scenario.entry(field).to_owned());
    if spec.list && !typed.trim().is_empty() {
        return list_echo(&typed, spec, units);
    }
    if !typed.trim().is_empty() {
        let Ok(read) = parse(&typed, spec.dimension, spec.dimension.default_unit(units)) else {
            return String::new();
        };
        let shown = match read.plus_minus {
            Some(margin) => format_margin(read.value, margin, spec.dimension, units),
            None => as_read(&read, spec.dimension, units),
        };
        return if same(&shown, &typed) { String::new() } else { format!("= {shown}") };
    }
    match bench.resolved.with(|resolved| resolved.in_use(field)) {
        Some(value) => format!("Blank: {}, as is usual", usual(value, spec.dimension, units)),
        None => match field {
            Field::MoneyBudget | Field::HoursBudget => "Blank: no limit",
            Field::ClampForce | Field::Backlash => "Blank: anything usual stays possible",
            Field::SpeedSteps => "Blank: any speed between slowest and fastest",
            _ if spec.list => "Blank: none taken yet",
            _ => "Blank: not taken",
        }
        .to_owned(),
    }
}

/// A value as it was read: rounded off only where it was typed in another unit.
fn as_read(read: &Parsed, dimension: Dimension, units: UnitSystem) -> String {
    let as_typed = read.unit == dimension.default_unit(units);
    if as_typed { format_typed(read.value, dimension, units) } else { format(read.value, dimension, units) }
}

/// A value taken for granted. Such values are round in metric units; in inches they
/// are told to two figures, which is all that is meant.
fn usual(value: f64, dimension: Dimension, units: UnitSystem) -> String {
    match (units, dimension) {
        (UnitSystem::Inch, Dimension::Length | Dimension::FineLength | Dimension::Power) => {
            format_estimate(value, dimension, units)
        }
        _ => format(value, dimension, units),
    }
}

/// How many values were read, and which.
fn list_echo(typed: &str, spec: FieldSpec, units: UnitSystem) -> String {
    let read = items(typed).into_iter().map(|item| parse(item, spec.dimension, spec.dimension.default_unit(units)));
    let Ok(read) = read.collect::<Result<Vec<_>, _>>() else { return String::new() };
    let shown: Vec<String> = read.iter().map(|item| as_read(item, spec.dimension, units)).collect();
    let things = if spec.dimension == Dimension::Rotation { "speeds" } else { "cuts" };
    format!("{} {things}: {}", shown.len(), shown.join(", "))
}

/// Whether two texts differ in spaces only.
fn same(one: &str, other: &str) -> bool {
    let solid = |text: &str| text.chars().filter(|c| !c.is_whitespace()).collect::<String>();
    solid(one) == solid(other)
}
