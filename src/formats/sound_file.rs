//! Sounds as files (WAV): those that ship, and a person's own.

use crate::domain::cue::{Clip, Cue};
use hound::{SampleFormat, WavReader, WavSpec, WavWriter};
use std::io::Cursor;

/// The longest sound of a person's own, in milliseconds: a sign, not a song.
const LONGEST: u64 = 5_000;

/// The file of a sign that ships: `rackside sounds write` makes it.
pub const fn shipped(cue: Cue) -> &'static [u8] {
    match cue {
        Cue::Opens => include_bytes!("../../sounds/rest_opens.wav"),
        Cue::ClosesSoon => include_bytes!("../../sounds/ten_seconds.wav"),
        Cue::Closed => include_bytes!("../../sounds/rest_closed.wav"),
        Cue::LeadIn => include_bytes!("../../sounds/lead_in.wav"),
        Cue::HoldBegins => include_bytes!("../../sounds/hold_begins.wav"),
        Cue::HoldOver => include_bytes!("../../sounds/hold_over.wav"),
        Cue::Record => include_bytes!("../../sounds/record.wav"),
        Cue::Mistake => include_bytes!("../../sounds/mistake.wav"),
    }
}

/// A sound as a WAV file of 16-bit samples.
///
/// # Errors
///
/// It is longer than such a file can be.
pub fn write(clip: &Clip) -> Result<Vec<u8>, hound::Error> {
    let spec = WavSpec {
        channels: u16::from(clip.channels),
        sample_rate: clip.rate,
        bits_per_sample: 16,
        sample_format: SampleFormat::Int,
    };
    let mut file = Cursor::new(Vec::new());
    let mut writer = WavWriter::new(&mut file, spec)?;
    for sample in &clip.samples {
        writer.write_sample(*sample)?;
    }
    writer.finalize()?;
    Ok(file.into_inner())
}

/// The sound in a WAV file: samples of 8, 16, 24 or 32 bits, mono or stereo, 8 to 192 kHz.
///
/// # Errors
///
/// The file is none, or holds something else; words say what is wanted.
pub fn read(bytes: &[u8]) -> Result<Clip, String> {
    let unreadable = |why: hound::Error| format!("no WAV file of plain samples ({why})");
    let mut reader = WavReader::new(bytes).map_err(unreadable)?;
    let spec = reader.spec();
    let channels = match u8::try_from(spec.channels) {
        Ok(channels @ 1..=2) => channels,
        _ => {
            return Err(format!(
                "{} channels: mono or stereo is wanted",
                spec.channels
            ));
        }
    };
    if !(8_000..=192_000).contains(&spec.sample_rate) {
        let rate = spec.sample_rate;
        return Err(format!(
            "{rate} samples a second: 8000 to 192000 are wanted"
        ));
    }
    if u64::from(reader.duration()) * 1000 > LONGEST * u64::from(spec.sample_rate) {
        return Err("too long: a sign lasts 5 seconds at most".to_owned());
    }
    let samples = match spec.sample_format {
        SampleFormat::Int => {
            let shift = i32::from(spec.bits_per_sample) - 16;
            let scaled = |sample: i32| {
                let sixteen = if shift < 0 {
                    sample << -shift
                } else {
                    sample >> shift
                };
                i16::try_from(sixteen).unwrap_or(i16::MAX)
            };
            let samples = reader.samples::<i32>();
            samples
                .map(|sample| sample.map(scaled))
                .collect::<Result<_, _>>()
        }
        SampleFormat::Float => {
            // `as` keeps to the bounds of the type, and makes nothing of what is no number.
            let scaled = |sample: f32| (sample * f32::from(i16::MAX)) as i16;
            let samples = reader.samples::<f32>();
            samples.map(|sample| sample.map(scaled)).collect()
        }
    };
    Ok(Clip {
        rate: spec.sample_rate,
        channels,
        samples: samples.map_err(unreadable)?,
    })
}
