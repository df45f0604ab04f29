//! How each sign sounds, as numbers. A gym is loud below 500 Hz (drums, dropped plates) and ears
//! are dull above 2500 Hz after years of it, so that all is between. What tells signs apart is the
//! way they move: up, down, level or sliding, quick or long.

use super::{Clip, Cue};
use std::f64::consts::TAU;

/// Frames a second of what is made here.
pub const RATE: u32 = 48_000;

/// Overtones above this are left out.
const HIGHEST: f64 = 2_450.0;
/// How loud the tone and its overtones are: 1, 2 and 3 times its frequency.
const OVERTONES: [(f64, f64); 3] = [(1.0, 1.0), (2.0, 0.35), (3.0, 0.2)];
/// How long a note takes to be there, and to be gone, in seconds: short, yet without a click.
const RISES: f64 = 0.005;
const FALLS: f64 = 0.03;
/// The loudest sample, of a full scale of 1.
const LOUDEST: f64 = 0.85;

/// One note.
struct Note {
    /// When it begins, in milliseconds.
    at: u32,
    /// How long it lasts, in milliseconds.
    lasts: u32,
    /// Its frequency when it begins, in hertz.
    from: f64,
    /// Its frequency at its end.
    to: f64,
}

const fn level(at: u32, lasts: u32, hertz: f64) -> Note {
    slide(at, lasts, (hertz, hertz))
}

const fn slide(at: u32, lasts: u32, (from, to): (f64, f64)) -> Note {
    Note {
        at,
        lasts,
        from,
        to,
    }
}

/// The notes of a sign: pitches of the equal-tempered scale, A at 440 Hz.
fn notes(cue: Cue) -> Vec<Note> {
    match cue {
        Cue::Opens => vec![level(0, 180, 783.99), level(180, 400, 1174.66)],
        Cue::ClosesSoon => vec![level(0, 90, 1396.91), level(160, 90, 1396.91)],
        Cue::Closed => vec![level(0, 300, 1046.50), level(300, 520, 698.46)],
        Cue::LeadIn => vec![level(0, 70, 1567.98)],
        Cue::HoldBegins => vec![slide(0, 320, (830.61, 1760.0))],
        Cue::HoldOver => vec![slide(0, 650, (1975.53, 659.26))],
        Cue::Record => vec![
            level(0, 120, 659.26),
            level(120, 120, 830.61),
            level(240, 120, 987.77),
            level(360, 440, 1318.51),
        ],
        // Two tones so close that they grate.
        Cue::Mistake => vec![level(0, 240, 554.37), level(0, 240, 622.25)],
    }
}

/// The sound of a sign.
pub fn synthesize(cue: Cue) -> Clip {
    let notes = notes(cue);
    let ends = notes.iter().map(|note| note.at + note.lasts).max();
    let frames = ends.unwrap_or(0) * (RATE / 1000);
    let sum = |frame: u32| {
        let seconds = f64::from(frame) / f64::from(RATE);
        notes.iter().map(|note| note.at(seconds)).sum::<f64>()
    };
    let waves: Vec<f64> = (0..frames).map(sum).collect();
    let loudest = waves
        .iter()
        .fold(0.0_f64, |most, wave| most.max(wave.abs()));
    let scale = LOUDEST * f64::from(i16::MAX) / loudest.max(f64::MIN_POSITIVE);
    Clip {
        rate: RATE,
        channels: 1,
        // Within the bounds of the type by the choice of the scale.
        samples: waves
            .iter()
            .map(|wave| libm::round(wave * scale) as i16)
            .collect(),
    }
}

impl Note {
    /// Its wave at an instant of the sign, in seconds.
    fn at(&self, seconds: f64) -> f64 {
        let since = seconds - f64::from(self.at) / 1000.0;
        let lasts = f64::from(self.lasts) / 1000.0;
        if since < 0.0 || since >= lasts {
            return 0.0;
        }
        let per_second = (self.to - self.from) / lasts;
        let turns = self.from * since + per_second * since * since / 2.0;
        let highest = self.from.max(self.to);
        let heard = OVERTONES
            .iter()
            .filter(|(times, _)| times * highest <= HIGHEST);
        let wave: f64 = heard
            .map(|(times, loud)| loud * libm::sin(TAU * times * turns))
            .sum();
        wave * loudness(since, lasts)
    }
}

/// How loud a note is: there at once, dying away to a third, gone at its end.
fn loudness(since: f64, lasts: f64) -> f64 {
    let rising = (since / RISES).min(1.0);
    let falling = ((lasts - since) / FALLS).min(1.0);
    let dying = libm::exp(-since / lasts);
    rising * falling * dying
}
