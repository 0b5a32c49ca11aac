//! WAV files: a list of named chunks, of which one describes the samples and
//! one holds them (Microsoft and IBM, Multimedia Programming Interface and Data
//! Specifications 1.0, 1991; from memory).

use super::{Recording, UnreadableWav};

const PCM: u16 = 1;
const FLOAT: u16 = 3;
/// The kind of sample stands further back, as the start of a longer name.
const EXTENSIBLE: u16 = 0xfffe;

/// How samples are written.
#[derive(Clone, Copy)]
struct Format {
    rate: u32,
    channels: usize,
    bytes: usize,
    is_float: bool,
}

/// Sample rate and samples of a WAV file of plain PCM or float samples, full
/// scale being 1, channels averaged; no more than a [`Recording`] can hold. A
/// file that breaks off within its sound is read as far as it goes.
///
/// # Errors
/// [`UnreadableWav`] when `bytes` is not such a file.
pub fn read_wav(bytes: &[u8]) -> Result<(f64, Vec<f64>), UnreadableWav> {
    let mut rest = match bytes {
        [b'R', b'I', b'F', b'F', _, _, _, _, b'W', b'A', b'V', b'E', rest @ ..] => rest,
        _ => return Err(UnreadableWav::NotWav),
    };
    let mut format = None;
    while let Some((name, size)) = rest.get(..4).zip(word(rest, 4)) {
        let end = (size as usize).saturating_add(8).min(rest.len());
        let body = &rest[8..end];
        match (name, format) {
            (b"fmt ", _) => format = Some(read_format(body)?),
            (b"data", Some(format)) => return Ok((f64::from(format.rate), read_samples(body, format))),
            _ => {}
        }
        // Chunks begin at even places.
        rest = rest.get(end + end % 2..).unwrap_or_default();
    }
    Err(UnreadableWav::BrokenOff)
}

fn half_word(bytes: &[u8], at: usize) -> Option<u16> {
    Some(u16::from_le_bytes(bytes.get(at..at + 2)?.try_into().ok()?))
}

fn word(bytes: &[u8], at: usize) -> Option<u32> {
    Some(u32::from_le_bytes(bytes.get(at..at + 4)?.try_into().ok()?))
}

fn read_format(body: &[u8]) -> Result<Format, UnreadableWav> {
    let half = |at| half_word(body, at).ok_or(UnreadableWav::BrokenOff);
    let code = match half(0)? {
        EXTENSIBLE => half(24)?,
        code => code,
    };
    let format = Format {
        rate: word(body, 4).ok_or(UnreadableWav::BrokenOff)?,
        channels: usize::from(half(2)?),
        bytes: usize::from(half(14)? / 8),
        is_float: code == FLOAT,
    };
    let known = match code {
        PCM => (1..=4).contains(&format.bytes),
        FLOAT => matches!(format.bytes, 4 | 8),
        _ => false,
    };
    if known && format.channels > 0 { Ok(format) } else { Err(UnreadableWav::Unsupported) }
}

fn read_samples(data: &[u8], format: Format) -> Vec<f64> {
    let Format { rate, channels, bytes, .. } = format;
    let longest = (Recording::LONGEST * f64::from(rate)) as usize;
    let frames = data.chunks_exact(channels * bytes).take(longest);
    frames.map(|frame| frame.chunks(bytes).map(|one| read_sample(one, format)).sum::<f64>() / channels as f64).collect()
}

fn read_sample(bytes: &[u8], format: Format) -> f64 {
    match (bytes, format.is_float) {
        (&[a, b, c, d], true) => f32::from_le_bytes([a, b, c, d]).into(),
        (&[a, b, c, d, e, f, g, h], true) => f64::from_le_bytes([a, b, c, d, e, f, g, h]),
        // Eight bits have no sign, and their silence is in the middle.
        (&[a], false) => (f64::from(a) - 128.0) / 128.0,
        _ => {
            // Fewer bytes are the upper ones of 32 bits.
            let mut full = [0; 4];
            full[4 - bytes.len()..].copy_from_slice(bytes);
            f64::from(i32::from_le_bytes(full)) / 2_f64.powi(31)
        }
    }
}
