//! A recording in a file: WAV by the engine, all else by the browser.

use js_sys::Float32Array;
use spindlewise_engine::tap::{UnreadableWav, read_wav};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{AudioBuffer, File, OfflineAudioContext};

use crate::app::files::read_bytes;

/// Larger files are no taps, bytes.
const LARGEST: f64 = 100e6;

/// Sample rate and samples of `file`, or what is wrong with it.
pub async fn read_sound(file: &File) -> Result<(f64, Vec<f64>), String> {
    if file.size() > LARGEST {
        return Err("It is larger than 100 MB. Cut it down to the taps, ten seconds or so.".to_owned());
    }
    let bytes = read_bytes(file).await.map_err(|_| "The browser could not read it.".to_owned())?;
    match read_wav(&bytes) {
        Err(UnreadableWav::BrokenOff) => Err(UnreadableWav::BrokenOff.to_string()),
        Err(why) => decode(&bytes).await.map_err(|_| why.to_string()),
        Ok(sound) => Ok(sound),
    }
}

/// What the browser makes of it: phones record in forms of their own.
async fn decode(bytes: &[u8]) -> Result<(f64, Vec<f64>), JsValue> {
    const RATE: f32 = 48_000.0;
    let context = OfflineAudioContext::new_with_number_of_channels_and_length_and_sample_rate(1, 1, RATE)?;
    let encoded = js_sys::Uint8Array::from(bytes).buffer();
    let buffer: AudioBuffer = JsFuture::from(context.decode_audio_data(&encoded)?).await?.unchecked_into();
    let count = buffer.number_of_channels();
    let mut mixed = vec![0.0; buffer.length() as usize];
    for channel in 0..count {
        let samples: Float32Array = JsValue::from(buffer.get_channel_data(channel)?).unchecked_into();
        for (sum, sample) in mixed.iter_mut().zip(samples.to_vec()) {
            *sum += f64::from(sample) / f64::from(count);
        }
    }
    Ok((buffer.sample_rate().into(), mixed))
}
