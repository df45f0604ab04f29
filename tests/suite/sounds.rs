//! The sounds that ship: what the code makes, audible in a gym, told apart by ear, never an alarm.

use crate::rig::cli::Cli;
use rackside::domain::cue::{Clip, Cue, RATE, Volume, synthesize};
use rackside::formats::sound_file;
use std::f64::consts::TAU;

/// Frames of one window of the envelope: 5 ms.
const WINDOW: usize = RATE as usize / 200;

/// The power of a signal by frequency: bin `k` of `n` is `k / n` of the rate. Radix 2 (Cooley and
/// Tukey 1965), padded with zeros.
fn spectrum(samples: &[f64]) -> Vec<f64> {
    let n = samples.len().next_power_of_two();
    let mut re: Vec<f64> = samples.to_vec();
    re.resize(n, 0.0);
    let mut im = vec![0.0; n];
    let bits = n.trailing_zeros();
    for i in 0..n {
        let j = i.reverse_bits() >> (usize::BITS - bits);
        if i < j {
            re.swap(i, j);
        }
    }
    let mut half = 1;
    while half < n {
        for k in 0..half {
            let (sin, cos) = (-TAU * k as f64 / (2 * half) as f64).sin_cos();
            for a in (k..n).step_by(2 * half) {
                let b = a + half;
                let (x, y) = (re[b] * cos - im[b] * sin, re[b] * sin + im[b] * cos);
                (re[b], im[b]) = (re[a] - x, im[a] - y);
                (re[a], im[a]) = (re[a] + x, im[a] + y);
            }
        }
        half *= 2;
    }
    (0..=n / 2).map(|k| re[k].powi(2) + im[k].powi(2)).collect()
}

fn hertz(bin: usize, bins: usize) -> f64 {
    bin as f64 * f64::from(RATE) / (2 * (bins - 1)) as f64
}

/// The strongest frequency of a stretch, its ends faded (Hann) so that they add none.
fn pitch(samples: &[f64]) -> f64 {
    let n = samples.len() as f64;
    let fade = |i: usize| 0.5 - 0.5 * (TAU * i as f64 / n).cos();
    let faded: Vec<f64> = samples
        .iter()
        .enumerate()
        .map(|(i, s)| s * fade(i))
        .collect();
    let mut padded = faded;
    padded.resize(1 << 14, 0.0);
    let power = spectrum(&padded);
    let best = (0..power.len()).max_by(|a, b| power[*a].total_cmp(&power[*b]));
    hertz(best.expect("a spectrum"), power.len())
}

fn waves(clip: &Clip) -> Vec<f64> {
    clip.samples
        .iter()
        .map(|sample| f64::from(*sample))
        .collect()
}

/// Stretches of sound, as first and last window: louder than a tenth (-20 dB) of the loudest.
fn pulses(clip: &Clip) -> Vec<(usize, usize)> {
    let waves = waves(clip);
    let loud: Vec<f64> = waves
        .chunks(WINDOW)
        .map(|window| {
            window
                .iter()
                .fold(0.0, |most: f64, wave| most.max(wave.abs()))
        })
        .collect();
    let loudest = loud.iter().copied().fold(0.0, f64::max);
    let mut found: Vec<(usize, usize)> = Vec::new();
    for at in (0..loud.len()).filter(|at| loud[*at] > loudest / 10.0) {
        match found.last_mut() {
            Some((_, last)) if *last + 1 == at => *last = at,
            _ => found.push((at, at)),
        }
    }
    found
}

/// What an ear tells of a sound: its pulses, the pitches at its begin and end, its milliseconds.
struct Heard {
    pulses: usize,
    first: f64,
    last: f64,
    ms: f64,
}

impl Heard {
    fn of(cue: Cue) -> Self {
        let clip = synthesize(cue);
        let waves = waves(&clip);
        let piece = waves.len().min(RATE as usize * 60 / 1000);
        Self {
            pulses: pulses(&clip).len(),
            first: pitch(&waves[..piece]),
            last: pitch(&waves[waves.len() - piece..]),
            ms: clip.ms() as f64,
        }
    }

    /// Up, down or level: more than a semitone is a way.
    fn way(&self) -> i32 {
        let semitones = 12.0 * (self.last / self.first).log2();
        if semitones.abs() < 1.0 {
            0
        } else {
            semitones.signum() as i32
        }
    }
}

#[test]
fn the_files_that_ship_are_what_the_code_makes() {
    let cli = Cli::new();
    let folder = cli.home().join("made");
    let path = folder.to_str().expect("a path");
    cli.run(["sounds", "write", path]).ok();
    for cue in Cue::ALL {
        let made = std::fs::read(folder.join(format!("{}.wav", cue.name()))).expect("written");
        assert!(
            made == sound_file::shipped(cue),
            "sounds/{}.wav is another",
            cue.name()
        );
        assert_eq!(sound_file::read(&made), Ok(synthesize(cue)));
    }
    let refused = cli.run(["sounds", "write", path]);
    assert!(
        refused
            .stderr
            .contains("is there already and stays as it is")
    );
    assert_eq!(refused.code(), Some(1));
}

/// From memory: drums and dropped plates are loudest below 500 Hz, and hearing fades above 2500.
#[test]
fn nearly_all_of_their_energy_is_where_a_gym_is_quiet_and_ears_are_good() {
    for cue in Cue::ALL {
        let clip = synthesize(cue);
        assert!(
            (50..1000).contains(&clip.ms()),
            "{} lasts {} ms",
            cue.name(),
            clip.ms()
        );
        let power = spectrum(&waves(&clip));
        let inside = |bin: &usize| (500.0..=2500.0).contains(&hertz(*bin, power.len()));
        let within: f64 = (0..power.len()).filter(inside).map(|bin| power[bin]).sum();
        let share = within / power.iter().sum::<f64>();
        assert!(share > 0.97, "{}: {share}", cue.name());
        let loudest = clip.samples.iter().map(|s| s.unsigned_abs()).max();
        assert!(
            loudest.is_some_and(|loudest| loudest > 24_000),
            "{} is faint",
            cue.name()
        );
    }
}

#[test]
fn the_spectrum_finds_a_known_tone() {
    let tone = |hertz: f64| -> Vec<f64> {
        let phase = |i: usize| TAU * hertz * i as f64 / f64::from(RATE);
        (0..4800).map(|i| phase(i).sin()).collect()
    };
    for hertz in [440.0, 1000.0, 3000.0] {
        assert!((pitch(&tone(hertz)) - hertz).abs() < 2.0);
    }
    let sum: Vec<f64> = tone(700.0)
        .iter()
        .zip(tone(5000.0))
        .map(|(a, b)| a + b / 2.0)
        .collect();
    let power = spectrum(&sum);
    let low: f64 = (0..power.len())
        .filter(|k| hertz(*k, power.len()) < 2500.0)
        .map(|k| power[k])
        .sum();
    assert!((low / power.iter().sum::<f64>() - 0.8).abs() < 0.01);
}

/// Two that begin alike can be taken for one another: pitches differ by two semitones, and one
/// thing more than the pitch differs too.
#[test]
fn each_is_told_from_every_other_with_eyes_shut() {
    let heard = Cue::ALL.map(|cue| (cue.name(), Heard::of(cue)));
    for (place, (one, a)) in heard.iter().enumerate() {
        for (other, b) in heard.iter().skip(place + 1) {
            let semitones = (12.0 * (a.first / b.first).log2()).abs();
            let longer = a.ms.max(b.ms) / a.ms.min(b.ms);
            let differs = a.way() != b.way() || a.pulses != b.pulses || longer >= 1.5;
            assert!(
                semitones > 1.8,
                "{one} and {other} begin {semitones} semitones apart"
            );
            assert!(differs, "{one} and {other} move alike");
        }
    }
}

#[test]
fn they_move_as_the_list_says() {
    let ways = Cue::ALL.map(|cue| Heard::of(cue).way());
    assert_eq!(ways, [1, 0, -1, 0, 1, -1, 1, 0]);
    let listed = Cli::new().run(["sounds"]).ok();
    for cue in Cue::ALL {
        assert!(listed.contains(cue.name()), "{listed}");
    }
}

/// ISO 8201 (from memory): three pulses of half a second each, half a second apart, then a second
/// and a half of silence, say "leave the building". A tenth more or less is still that rhythm.
fn is_evacuation(pulses: &[(usize, usize)]) -> bool {
    let half = |windows: usize| (90..=110).contains(&windows);
    pulses.windows(3).any(|three| {
        three.iter().all(|(first, last)| half(last - first + 1))
            && three.windows(2).all(|two| half(two[1].0 - two[0].1 - 1))
    })
}

#[test]
fn none_is_the_rhythm_of_an_evacuation_alone_or_in_a_row() {
    let silence = |ms: usize| vec![0_i16; RATE as usize * ms / 1000];
    let row = |cue: Cue, every: usize| -> Clip {
        let one = synthesize(cue).samples;
        let gap = silence(every).len().saturating_sub(one.len());
        let period = one.into_iter().chain(std::iter::repeat_n(0, gap));
        let samples: Vec<i16> = period.collect();
        Clip {
            rate: RATE,
            channels: 1,
            samples: samples.repeat(5),
        }
    };
    let second = RATE as usize;
    let square = |frame: usize| {
        let sounds = frame % second < second / 2 && frame % 50 < 25;
        if sounds { 20_000 } else { 0 }
    };
    let samples = (0..3 * second).map(square).collect();
    let alarm = Clip {
        rate: RATE,
        channels: 1,
        samples,
    };
    assert!(is_evacuation(&pulses(&alarm)), "the test knows the rhythm");
    for cue in Cue::ALL {
        assert_ne!(pulses(&synthesize(cue)).len(), 3, "{}", cue.name());
        for every in [700, 900, 1000, 1100] {
            assert!(
                !is_evacuation(&pulses(&row(cue, every))),
                "{} in a row",
                cue.name()
            );
        }
    }
}

#[test]
fn volume_goes_by_the_third_power_and_never_over() {
    let at = |percent| Volume::new(percent).expect("a volume");
    let samples = [i16::MIN, -8000, 0, 8000, i16::MAX];
    assert_eq!(samples.map(|s| at(100).of(s)), samples);
    assert_eq!(samples.map(|s| at(50).of(s)), [-4096, -1000, 0, 1000, 4095]);
    assert_eq!(samples.map(|s| at(0).of(s)), [0; 5]);
    assert_eq!(Volume::new(101), None);
}

/// A WAV file by hand (RIFF, the format chunk, the data), as its specification of 1991 has it.
fn wav(rate: u32, channels: u16, bits: u16, data: &[u8]) -> Vec<u8> {
    let frame = channels * bits / 8;
    let mut file = b"RIFF".to_vec();
    let length = |bytes: usize| u32::try_from(bytes).expect("short").to_le_bytes();
    file.extend(length(36 + data.len()));
    file.extend(b"WAVEfmt \x10\0\0\0\x01\0");
    file.extend(channels.to_le_bytes());
    file.extend(rate.to_le_bytes());
    file.extend((rate * u32::from(frame)).to_le_bytes());
    file.extend(frame.to_le_bytes());
    file.extend(bits.to_le_bytes());
    file.extend(b"data");
    file.extend(length(data.len()));
    file.extend(data);
    file
}

#[test]
fn a_persons_own_files_are_read_whatever_their_samples() {
    let clip = |rate, channels, samples: &[i16]| Clip {
        rate,
        channels,
        samples: samples.to_vec(),
    };
    let read = |file: Vec<u8>| sound_file::read(&file);
    let sixteen = wav(44_100, 2, 16, &[1, 0, 2, 0, 0, 0x80, 0xff, 0x7f]);
    let wanted = clip(44_100, 2, &[1, 2, i16::MIN, i16::MAX]);
    assert_eq!(read(sixteen), Ok(wanted));
    // Eight bits have no sign: 128 is silence.
    let eight = wav(8_000, 1, 8, &[128, 0, 255]);
    assert_eq!(read(eight), Ok(clip(8_000, 1, &[0, i16::MIN, 127 << 8])));
    let finer = wav(96_000, 1, 24, &[0xff, 0x34, 0x12, 0, 0, 0x80]);
    assert_eq!(read(finer), Ok(clip(96_000, 1, &[0x1234, i16::MIN])));
    for (file, said) in [
        (b"OggS".to_vec(), "no WAV file"),
        (wav(48_000, 6, 16, &[0; 24]), "6 channels"),
        (wav(400, 1, 16, &[0; 24]), "400 samples a second"),
        (wav(8_000, 1, 8, &[0; 40_001]), "5 seconds"),
        (wav(8_000, 1, 16, &[0; 24])[..60].to_vec(), "no WAV file"),
    ] {
        let refused = read(file).expect_err("refused");
        assert!(refused.contains(said), "{refused}");
    }
}

proptest::proptest! {
    #[test]
    fn no_bytes_bring_the_reader_of_sounds_down(
        bytes in proptest::collection::vec(proptest::num::u8::ANY, 0..80),
        (at, byte) in (0..100_usize, proptest::num::u8::ANY),
    ) {
        let _ = sound_file::read(&bytes);
        let mut file = wav(8_000, 1, 16, &[7; 56]);
        file[at] = byte;
        let _ = sound_file::read(&file);
    }
}

#[test]
fn an_own_file_takes_a_sounds_place_and_a_broken_one_is_told() {
    let cli = Cli::new();
    let own = cli.home().join("config/sounds");
    std::fs::create_dir_all(&own).expect("a folder");
    std::fs::write(own.join("record.wav"), wav(8_000, 1, 8, &[9; 80])).expect("written");
    let listed = cli.run(["sounds"]).ok();
    let line = |name: &str| {
        listed
            .lines()
            .find(|line| line.starts_with(name))
            .map(str::to_owned)
    };
    assert!(line("record").is_some_and(|line| line.contains("your own")));
    assert!(line("mistake").is_some_and(|line| line.contains("growl")));
    std::fs::write(own.join("mistake.wav"), "growl").expect("written");
    let told = cli.run(["sounds"]);
    assert_eq!(told.code(), Some(3));
    assert!(
        told.stderr
            .contains("mistake.wav is not played: no WAV file"),
        "{}",
        told.stderr
    );
}

#[test]
fn without_a_server_it_says_why_nothing_is_heard() {
    let said = Cli::new().run(["sounds", "play", "record"]).refused(1);
    assert!(said.contains("no sound server on this machine"), "{said}");
    let gone = Cli::new().env("PULSE_SERVER", "unix:/nowhere/native");
    let said = gone.run(["sounds", "play", "record"]).refused(1);
    assert!(said.contains("/nowhere/native"), "{said}");
    // A server on another machine is none: nothing goes over a network.
    let far = Cli::new().env("PULSE_SERVER", "tcp:127.0.0.1:4713");
    let said = far.run(["sounds", "play", "record"]).refused(1);
    assert!(said.contains("no sound server on this machine"), "{said}");
    let said = Cli::new().run(["sounds", "play", "gong"]).refused(2);
    assert!(said.contains("rest_opens"), "{said}");
}
