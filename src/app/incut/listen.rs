//! The vibration to listen to: silent until asked, never loud.

use std::sync::Arc;

use crate::app::prelude::*;
use wasm_bindgen::JsValue;
use web_sys::{AudioContext, AudioContextOptions, GainNode};

/// Samples a second.
pub const RATE: f64 = 44_100.0;

/// How long it sounds, s.
pub const SECONDS: f64 = 4.0;

/// Largest amplitude sent to the loudspeaker, of 1.
const LOUDEST: f32 = 0.25;

/// Volume at the start, in percent of that.
const AT_FIRST: u32 = 30;

/// A sound with the words on its button.
#[derive(Clone, Debug, PartialEq)]
pub struct Sound {
    /// "Hear it as now".
    pub label: String,
    /// Samples at [`RATE`], in any unit that all sounds share.
    pub samples: Arc<Vec<f32>>,
}

/// What is being played.
struct Playing {
    context: AudioContext,
    gain: GainNode,
}

impl Playing {
    fn start(samples: &[f32], scale: f32, volume: u32) -> Result<Self, JsValue> {
        let options = AudioContextOptions::new();
        options.set_sample_rate(RATE as f32);
        let context = AudioContext::new_with_context_options(&options)?;
        let buffer = context.create_buffer(1, samples.len() as u32, RATE as f32)?;
        let scaled: Vec<f32> = samples.iter().enumerate().map(|(at, v)| v * scale * edge(at, samples.len())).collect();
        buffer.copy_to_channel(&scaled, 0)?;
        let source = context.create_buffer_source()?;
        source.set_buffer(Some(&buffer));
        let gain = context.create_gain()?;
        gain.gain().set_value(loudness(volume));
        source.connect_with_audio_node(&gain)?;
        gain.connect_with_audio_node(&context.destination())?;
        source.start()?;
        Ok(Playing { context, gain })
    }

    fn stop(self) {
        // Takes what sounds with it.
        _ = self.context.close();
    }
}

/// Of the loudest allowed, by percent: squared, as ears hear it.
fn loudness(volume: u32) -> f32 {
    let share = volume.min(100) as f32 / 100.0;
    LOUDEST * share * share
}

/// Comes in and goes out over a fortieth of a second, so that nothing clicks.
fn edge(at: usize, count: usize) -> f32 {
    let ramp = RATE as usize / 40;
    at.min(count - at).min(ramp) as f32 / ramp as f32
}

/// The buttons. The sounds keep their loudness against each other.
pub fn listen(sounds: Vec<Sound>) -> AnyView {
    let loudest = sounds.iter().flat_map(|sound| sound.samples.iter()).fold(0.0_f32, |most, v| most.max(v.abs()));
    let scale = 1.0 / loudest.max(f32::MIN_POSITIVE);
    let playing = StoredValue::new_local(None::<Playing>);
    let sounding = RwSignal::new(None::<usize>);
    let refused = RwSignal::new(false);
    let volume = RwSignal::new(AT_FIRST);
    let silence = move || {
        playing.try_update_value(|playing| playing.take().map(Playing::stop));
        sounding.try_set(None);
    };
    on_cleanup(silence);
    let play = move |index: usize, samples: &[f32]| {
        silence();
        match Playing::start(samples, scale, volume.get_untracked()) {
            Ok(started) => {
                playing.set_value(Some(started));
                sounding.set(Some(index));
                let after = std::time::Duration::from_secs_f64(SECONDS);
                set_timeout(
                    move || {
                        if sounding.try_get_untracked() == Some(Some(index)) {
                            silence()
                        }
                    },
                    after,
                );
            }
            Err(_) => refused.set(true),
        }
    };
    let buttons = sounds
        .into_iter()
        .enumerate()
        .map(|(index, Sound { label, samples })| {
            let pressed = move || (sounding.get() == Some(index)).to_string();
            view! {
                <button type="button" class="button" aria-pressed=pressed on:click=move |_| play(index, &samples)>
                    {label}
                </button>
            }
        })
        .collect_view();
    let turn = move |to: u32| {
        volume.set(to);
        playing.with_value(|playing| {
            if let Some(playing) = playing {
                playing.gain.gain().set_value(loudness(to));
            }
        });
    };
    view! {
        <div class="listen">
            <div class="actions">
                {buttons}
                <button type="button" class="button" disabled=move || sounding.get().is_none() on:click=move |_| silence()>
                    "Stop the sound"
                </button>
            </div>
            <label class="listen-volume">
                "Volume"
                <input
                    type="range"
                    min="0"
                    max="100"
                    step="5"
                    prop:value=AT_FIRST.to_string()
                    aria-valuetext=move || format!("{} percent", volume.get())
                    on:input:target=move |event| turn(event.target().value().parse().unwrap_or(0))
                />
            </label>
            <p class="note">"Start low, above all with headphones on. It plays four seconds and stops by itself."</p>
            {move || refused.get().then(|| view! { <p class="error" role="alert">"This browser would not play a sound. Nothing else depends on it."</p> })}
        </div>
    }
    .into_any()
}
