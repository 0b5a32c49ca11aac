//! WAV files of every common kind, written here byte by byte after the format's
//! description (Microsoft and IBM, Multimedia Programming Interface and Data
//! Specifications 1.0 (1991); WAVEFORMATEXTENSIBLE as documented by Microsoft;
//! both from memory).

use approx::assert_relative_eq;
use spindlewise_engine::tap::{UnreadableWav, read_wav};

const PCM: u16 = 1;
const ADPCM: u16 = 2;
const FLOAT: u16 = 3;

fn chunk(name: &str, body: &[u8]) -> Vec<u8> {
    let mut chunk = [name.as_bytes(), &(body.len() as u32).to_le_bytes(), body].concat();
    if body.len() % 2 == 1 {
        chunk.push(0);
    }
    chunk
}

fn format(code: u16, channels: u16, rate: u32, bits: u16) -> Vec<u8> {
    let block = channels * bits / 8;
    [
        &code.to_le_bytes()[..],
        &channels.to_le_bytes(),
        &rate.to_le_bytes(),
        &(rate * u32::from(block)).to_le_bytes(),
        &block.to_le_bytes(),
        &bits.to_le_bytes(),
    ]
    .concat()
}

fn file(chunks: &[Vec<u8>]) -> Vec<u8> {
    chunk("RIFF", &[b"WAVE", &chunks.concat()[..]].concat())
}

fn wav(code: u16, channels: u16, rate: u32, bits: u16, data: &[u8]) -> Vec<u8> {
    file(&[chunk("fmt ", &format(code, channels, rate, bits)), chunk("data", data)])
}

const WANTED: [f64; 5] = [0.0, 0.5, -0.5, -1.0, 0.25];

fn assert_reads(bytes: &[u8], rate: f64, wanted: &[f64]) {
    let (read_rate, samples) = read_wav(bytes).expect("a sound file");
    assert_eq!(read_rate, rate);
    assert_eq!(samples.len(), wanted.len());
    for (sample, wanted) in samples.iter().zip(wanted) {
        assert_relative_eq!(*sample, *wanted, epsilon = 1e-12);
    }
}

#[test]
fn every_common_kind_of_sample() {
    // Samples of eight bits have no sign, and silence in the middle.
    let eight: Vec<u8> = WANTED.iter().map(|x| (128.0 + 128.0 * x) as u8).collect();
    assert_reads(&wav(PCM, 1, 16_000, 8, &eight), 16_000.0, &WANTED);
    let sixteen: Vec<u8> = WANTED.iter().flat_map(|x| ((x * 32_768.0) as i16).to_le_bytes()).collect();
    assert_reads(&wav(PCM, 1, 44_100, 16, &sixteen), 44_100.0, &WANTED);
    let twenty_four: Vec<u8> =
        WANTED.iter().flat_map(|x| ((x * 8_388_608.0) as i32).to_le_bytes()[..3].to_vec()).collect();
    assert_reads(&wav(PCM, 1, 48_000, 24, &twenty_four), 48_000.0, &WANTED);
    let thirty_two: Vec<u8> = WANTED.iter().flat_map(|x| ((x * 2_147_483_648.0) as i32).to_le_bytes()).collect();
    assert_reads(&wav(PCM, 1, 96_000, 32, &thirty_two), 96_000.0, &WANTED);
    let long: Vec<u8> = WANTED.iter().flat_map(|x| x.to_le_bytes()).collect();
    assert_reads(&wav(FLOAT, 1, 48_000, 64, &long), 48_000.0, &WANTED);
    let float: Vec<u8> = WANTED.iter().flat_map(|x| (*x as f32).to_le_bytes()).collect();
    assert_reads(&wav(FLOAT, 1, 48_000, 32, &float), 48_000.0, &WANTED);
}

#[test]
fn channels_are_averaged() {
    let frames = [(0.5, 0.25), (-1.0, 0.0)];
    let data: Vec<u8> =
        frames.iter().flat_map(|(l, r)| [*l, *r]).flat_map(|x: f64| ((x * 32_768.0) as i16).to_le_bytes()).collect();
    assert_reads(&wav(PCM, 2, 44_100, 16, &data), 44_100.0, &[0.375, -0.5]);
}

/// Phones write the extended header, and notes before the sound.
#[test]
fn extended_headers_and_foreign_chunks() {
    let mut extended = format(0xfffe, 1, 48_000, 16);
    extended.extend(22_u16.to_le_bytes());
    extended.extend(16_u16.to_le_bytes());
    extended.extend(4_u32.to_le_bytes());
    extended.extend([1, 0, 0, 0, 0, 0, 0x10, 0, 0x80, 0, 0, 0xaa, 0, 0x38, 0x9b, 0x71]);
    let data: Vec<u8> = WANTED.iter().flat_map(|x| ((x * 32_768.0) as i16).to_le_bytes()).collect();
    let bytes = file(&[chunk("LIST", b"INFOabc"), chunk("fmt ", &extended), chunk("data", &data)]);
    assert_reads(&bytes, 48_000.0, &WANTED);
}

#[test]
fn what_cannot_be_read_is_refused() {
    let data = [0; 64];
    assert_eq!(read_wav(b""), Err(UnreadableWav::NotWav));
    assert_eq!(read_wav(b"ID3 something else altogether, and long enough"), Err(UnreadableWav::NotWav));
    assert_eq!(read_wav(&wav(ADPCM, 1, 44_100, 4, &data)), Err(UnreadableWav::Unsupported));
    let whole = wav(PCM, 1, 44_100, 16, &data);
    assert_eq!(read_wav(&whole[..30]), Err(UnreadableWav::BrokenOff));
    assert_eq!(read_wav(&wav(PCM, 0, 44_100, 16, &data)), Err(UnreadableWav::Unsupported));
    assert_eq!(read_wav(&wav(PCM, 1, 44_100, 0, &data)), Err(UnreadableWav::Unsupported));
}

/// A recorder that was switched off has not come to writing how long it was, or
/// not all of the sound: what is there counts.
#[test]
fn a_recording_without_its_end_is_read_as_far_as_it_goes() {
    let data: Vec<u8> = WANTED.iter().flat_map(|x| ((x * 32_768.0) as i16).to_le_bytes()).collect();
    let whole = wav(PCM, 1, 44_100, 16, &data);
    assert_reads(&whole[..whole.len() - 3], 44_100.0, &WANTED[..3]);
    let mut endless = whole;
    let size_at = endless.len() - data.len() - 4;
    endless[size_at..size_at + 4].copy_from_slice(&u32::MAX.to_le_bytes());
    assert_reads(&endless, 44_100.0, &WANTED);
}

/// No text, however cut or garbled, makes the reader fall over.
#[test]
fn garbled_files_are_read_or_refused() {
    let data: Vec<u8> = (0..200).collect();
    let whole = wav(PCM, 2, 44_100, 24, &data);
    for length in 0..whole.len() {
        _ = read_wav(&whole[..length]);
    }
    for at in 0..44 {
        for value in [0, 1, 127, 255] {
            let mut garbled = whole.clone();
            garbled[at] = value;
            if let Ok((rate, samples)) = read_wav(&garbled) {
                assert!(rate >= 0.0 && samples.iter().all(|sample| sample.abs() <= 1.0));
            }
        }
    }
}
