//! What rang, and the reading it makes.

use std::sync::Arc;

use crate::app::prelude::*;
use spindlewise_engine::quantity::{Dimension, UnitSystem, format_estimate};
use spindlewise_engine::scenario::Field;
use spindlewise_engine::tap::{Heard, Ring};

use super::picture::{outline, ringing};
use crate::app::state::workbench;

/// A direction to tap in: its name, what it is called, and its fields.
const DIRECTIONS: [(&str, &str, Field, Field); 2] =
    [("x", "Left to right", Field::TapX, Field::DecayX), ("y", "Towards you", Field::TapY, Field::DecayY)];

/// The pitches, to pick one of; the direction it was tapped in; and the button
/// that makes a reading of it.
pub fn result(heard: Arc<Heard>) -> AnyView {
    let bench = workbench();
    let (picked, direction) = (RwSignal::new(0_usize), RwSignal::new(None::<usize>));
    let news = RwSignal::new(String::new());
    let heard = StoredValue::new(heard);
    let ring = move |index: usize| heard.with_value(|heard| heard.rings[index].clone());
    let count = heard.with_value(|heard| heard.rings.len());
    let take = move |_| {
        let Some(direction) = direction.get_untracked() else {
            news.set("Say first in which direction you tapped.".to_owned());
            return;
        };
        let (_, name, pitch, decay) = DIRECTIONS[direction];
        let ring = ring(picked.get_untracked());
        let (heard_pitch, heard_time) = (pitch_of(&ring), time_of(&ring));
        news.set(format!("Written down for “{name}”: {heard_pitch}, dying to a tenth in {heard_time}."));
        bench.update(|scenario| {
            scenario.set_entry(pitch, heard_pitch);
            scenario.set_entry(decay, heard_time);
        });
    };
    let cards = (0..count).map(|index| {
        let ring = ring(index);
        let pick = move || picked.set(index);
        card(
            "tap-ring",
            &index.to_string(),
            &pitch_of(&ring),
            Some(described(&ring)),
            move || picked.get() == index,
            pick,
        )
    });
    let directions = DIRECTIONS.iter().enumerate().map(|(index, (id, label, ..))| {
        let pick = move || {
            direction.set(Some(index));
            news.set(String::new());
        };
        card("tap-direction", id, label, None, move || direction.get() == Some(index), pick)
    });
    let question = if count > 1 { "Several pitches rang. Which one?" } else { "This rang" };
    view! {
        <div class="tap-result">
            <fieldset class="question" id="tap-ring">
                <legend>{question} <span class="aside">" The loudest first."</span></legend>
                <div class="cards">{cards.collect_view()}</div>
            </fieldset>
            <details class="more">
                <summary>"How sure the ± is"</summary>
                <div class="inside"><p>{move || ring(picked.get()).on_margins()}</p></div>
            </details>
            <div class="tap-pictures">
                {move || ringing(&ring(picked.get()))}
                {move || heard.with_value(|heard| outline(heard, picked.get()))}
            </div>
            <fieldset class="question" id="tap-direction">
                <legend>"In which direction did you tap?"</legend>
                <div class="cards">{directions.collect_view()}</div>
            </fieldset>
            <div class="actions">
                <button type="button" class="button primary" on:click=take>"Use this reading"</button>
            </div>
            <p class="news" role="status" class:empty=move || news.with(String::is_empty)>{news}</p>
        </div>
    }
    .into_any()
}

/// One answer of a question.
fn card(
    name: &'static str,
    value: &str,
    label: &str,
    hint: Option<String>,
    picked: impl Fn() -> bool + Send + 'static,
    pick: impl Fn() + 'static,
) -> AnyView {
    let id = format!("{name}-{value}");
    let hint_id = format!("{id}-hint");
    let described = hint.is_some().then(|| hint_id.clone());
    let hint = hint.map(|hint| view! { <span class="hint" id=hint_id>{hint}</span> });
    view! {
        <div class="card">
            <input
                type="radio"
                id=id.clone()
                name=name
                value=value.to_owned()
                aria-describedby=described
                prop:checked=picked
                on:change=move |_| pick()
            />
            <label for=id><span class="name">{label.to_owned()}</span></label>
            {hint}
        </div>
    }
    .into_any()
}

/// "212 ± 4 Hz"
fn pitch_of(ring: &Ring) -> String {
    ring.pitch_reading().written(Dimension::Frequency)
}

/// "81 ± 13 ms"
fn time_of(ring: &Ring) -> String {
    ring.time_reading().written(Dimension::Milliseconds)
}

/// The rest of what there is to say about a ring.
fn described(ring: &Ring) -> String {
    let share = |value| format_estimate(value, Dimension::Share, UnitSystem::Metric);
    let taps = if ring.taps == 1 { "one tap".to_owned() } else { format!("{} taps", ring.taps) };
    let doubt = if ring.is_doubtful() {
        format!(
            " The width of its peak says {}: another pitch may lie close to it, so be wary of its decay.",
            share(ring.half_power)
        )
    } else {
        String::new()
    };
    format!(
        "Dies to a tenth in {}; damping ratio {}. Heard in {taps}, {:.0} dB above the noise.{doubt}",
        time_of(ring),
        share(ring.damping.value),
        ring.signal_to_noise,
    )
}
