//! The device's microphone, asked for only when it is wanted and let go as soon
//! as it is not.
//!
//! Samples come from a script processor node. It is called deprecated, but it is
//! in every browser, hands out each sample once and in order, and needs no file
//! of its own: an audio worklet has to be fetched, which a page opened from disk
//! may not do, and a media recorder passes the sound through a speech codec.

use std::cell::RefCell;
use std::fmt;
use std::rc::Rc;

use leptos::prelude::window;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    AudioContext, AudioProcessingEvent, DomException, MediaStream, MediaStreamConstraints, MediaStreamTrack,
    MediaTrackConstraints, ScriptProcessorNode,
};

/// Samples in a block: a tenth of a second or so.
const BLOCK: u32 = 4096;

/// Why there is no microphone.
#[derive(Clone, Debug, PartialEq)]
pub enum Refused {
    /// The browser has none to offer, or not on a page like this.
    Unavailable,
    /// The user or the browser said no.
    Denied,
    /// None is plugged in.
    Missing,
    /// Another program holds it, or it fails.
    Busy,
}

impl fmt::Display for Refused {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(match self {
            Refused::Unavailable => {
                "This browser offers no microphone on this page. Record the taps with any recorder and open the file, or type what you read elsewhere."
            }
            Refused::Denied => {
                "The microphone was not allowed. Allow it in the browser’s settings for this page and try again; or open a sound file, or type what you read elsewhere."
            }
            Refused::Missing => {
                "No microphone was found. Plug one in and try again; or open a sound file, or type what you read elsewhere."
            }
            Refused::Busy => {
                "The microphone could not be started; another program may hold it. Close that and try again; or open a sound file."
            }
        })
    }
}

/// An open microphone. Dropping it closes it.
pub struct Microphone {
    context: AudioContext,
    stream: MediaStream,
    node: ScriptProcessorNode,
    samples: Rc<RefCell<Vec<f32>>>,
    _on_block: Closure<dyn FnMut(AudioProcessingEvent)>,
}

impl Microphone {
    /// Asks for the microphone and starts to listen; `on_block` is told the
    /// loudest sample of each block (full scale being 1) and how long it has
    /// listened, s.
    pub async fn open(on_block: impl Fn(f32, f64) + 'static) -> Result<Self, Refused> {
        let stream = ask().await.map_err(refused)?;
        let started = listen(&stream, on_block);
        if started.is_err() {
            stop(&stream);
        }
        let (context, node, samples, closure) = started.map_err(refused)?;
        Ok(Microphone { context, stream, node, samples, _on_block: closure })
    }

    /// Samples a second, and the samples so far.
    pub fn recorded(&self) -> (f64, Vec<f64>) {
        let samples = self.samples.borrow().iter().map(|&sample| f64::from(sample)).collect();
        (f64::from(self.context.sample_rate()), samples)
    }
}

impl Drop for Microphone {
    fn drop(&mut self) {
        self.node.set_onaudioprocess(None);
        _ = self.node.disconnect();
        stop(&self.stream);
        _ = self.context.close();
    }
}

async fn ask() -> Result<MediaStream, JsValue> {
    let devices = window().navigator().media_devices()?;
    if devices.is_undefined() {
        return Err(JsValue::UNDEFINED);
    }
    // What makes speech clear would take the ring away.
    let track = MediaTrackConstraints::new();
    track.set_echo_cancellation(&false.into());
    track.set_noise_suppression(&false.into());
    track.set_auto_gain_control(&false.into());
    let wanted = MediaStreamConstraints::new();
    wanted.set_audio(&track);
    let stream = JsFuture::from(devices.get_user_media_with_constraints(&wanted)?).await?;
    Ok(stream.unchecked_into())
}

type Listening = (AudioContext, ScriptProcessorNode, Rc<RefCell<Vec<f32>>>, Closure<dyn FnMut(AudioProcessingEvent)>);

fn listen(stream: &MediaStream, on_block: impl Fn(f32, f64) + 'static) -> Result<Listening, JsValue> {
    let context = AudioContext::new()?;
    _ = context.resume()?;
    let source = context.create_media_stream_source(stream)?;
    let node = context
        .create_script_processor_with_buffer_size_and_number_of_input_channels_and_number_of_output_channels(
            BLOCK, 1, 1,
        )?;
    let samples = Rc::new(RefCell::new(Vec::new()));
    let (rate, kept) = (f64::from(context.sample_rate()), samples.clone());
    let closure = Closure::<dyn FnMut(AudioProcessingEvent)>::new(move |event: AudioProcessingEvent| {
        let Ok(block) = event.input_buffer().and_then(|buffer| buffer.get_channel_data(0)) else { return };
        let loudest = block.iter().fold(0.0_f32, |most, sample| most.max(sample.abs()));
        let mut kept = kept.borrow_mut();
        kept.extend(block);
        let seconds = kept.len() as f64 / rate;
        drop(kept);
        on_block(loudest, seconds);
    });
    node.set_onaudioprocess(Some(closure.as_ref().unchecked_ref()));
    source.connect_with_audio_node(&node)?;
    // It runs only while it is led somewhere; what it hands on is silence.
    node.connect_with_audio_node(&context.destination())?;
    Ok((context, node, samples, closure))
}

fn stop(stream: &MediaStream) {
    for track in stream.get_tracks() {
        track.unchecked_into::<MediaStreamTrack>().stop();
    }
}

fn refused(error: JsValue) -> Refused {
    match error.dyn_ref::<DomException>().map(DomException::name).as_deref() {
        Some("NotAllowedError" | "SecurityError") => Refused::Denied,
        Some("NotFoundError" | "OverconstrainedError") => Refused::Missing,
        Some("NotReadableError" | "AbortError" | "InvalidStateError") => Refused::Busy,
        _ => Refused::Unavailable,
    }
}
