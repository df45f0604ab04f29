//! The thread that plays signs. A sound server that is stuck or absent costs the sound and nothing
//! else: no key and no frame ever waits here.

#[cfg(any(target_os = "macos", windows))]
mod device;
#[cfg(any(target_os = "macos", windows))]
use device::Stream;
#[cfg(not(any(target_os = "macos", windows)))]
mod pulse;
#[cfg(not(any(target_os = "macos", windows)))]
use pulse::Stream;

use super::Home;
use crate::domain::cue::{Clip, Cue, Volume};
use crate::domain::history::Prefs;
use crate::formats::sound_file;
use std::fs;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, RecvTimeoutError, SyncSender, sync_channel};
use std::time::{Duration, Instant};

/// Orders that may wait; what comes on top is not played.
const WAITING: usize = 4;
/// A sign that comes so late says nothing any more.
const STALE: Duration = Duration::from_millis(500);
/// After a failure the next try waits so long: a server that is stuck holds a try up.
const AGAIN: Duration = Duration::from_secs(5);
/// How long nothing is played, so that a loudspeaker that sleeps is awake for the sign behind.
const AWAKE: u32 = 4_500;
/// How much longer than it lasts a sound is held, for all that lies between us and the ear.
const LINGERS: Duration = Duration::from_secs(3);
/// So many sounds are held at once: one to keep the way open, two that overlap.
const AT_ONCE: usize = 3;
/// No sound file is larger: five seconds of the finest samples.
const LARGEST: u64 = 8 << 20;

/// The sound of a sign, and whose it is.
pub struct Sounds {
    folder: PathBuf,
}

impl Sounds {
    /// Those of a home.
    pub fn of(home: &Home) -> Self {
        Self {
            folder: home.sounds(),
        }
    }

    /// Where a person's own file for a sign lies, if there is one.
    pub fn path(&self, cue: Cue) -> PathBuf {
        self.folder.join(format!("{}.wav", cue.name()))
    }

    /// The person's own file for a sign, where there is one: its sound, or why it cannot be used.
    pub fn own(&self, cue: Cue) -> Option<Result<Clip, String>> {
        let path = self.path(cue);
        let found = fs::metadata(&path).ok()?;
        if !found.is_file() || found.len() > LARGEST {
            return Some(Err("it is no plain file, or larger than 8 MB".to_owned()));
        }
        let bytes = fs::read(&path).map_err(|why| why.to_string());
        Some(bytes.and_then(|bytes| sound_file::read(&bytes)))
    }

    /// What is played for a sign: the person's own where it can be used, else what ships.
    pub fn clip(&self, cue: Cue) -> Result<Clip, String> {
        match self.own(cue) {
            Some(Ok(clip)) => Ok(clip),
            Some(Err(_)) | None => sound_file::read(sound_file::shipped(cue)),
        }
    }
}

/// Plays a sound and comes back when it is over.
///
/// # Errors
///
/// Nothing here can play it; words say why.
pub fn play(clip: &Clip) -> Result<(), String> {
    let mut stream = Stream::open(clip)?;
    stream.begin(clip)?;
    std::thread::sleep(Duration::from_millis(clip.ms()) + Duration::from_millis(250));
    Ok(())
}

enum Order {
    /// A sign comes within seconds.
    Ahead(Cue),
    /// A sign is due.
    Play(Cue, Volume, Instant),
}

/// The thread that plays signs.
pub struct Player {
    orders: SyncSender<Order>,
    unheard: Arc<dyn Fn(Cue) + Send + Sync>,
}

impl Player {
    /// Starts it. It opens nothing before it has something to play; a sign that could not be played
    /// goes to `unheard`.
    pub fn start(home: &Home, unheard: impl Fn(Cue) + Send + Sync + 'static) -> Self {
        let (orders, inbox) = sync_channel(WAITING);
        let sounds = Sounds::of(home);
        let unheard: Arc<dyn Fn(Cue) + Send + Sync> = Arc::new(unheard);
        let told = unheard.clone();
        let thread = std::thread::Builder::new().name("sound".to_owned());
        // Without the thread orders cannot be sent, and signs are unheard.
        let _ = thread.spawn(move || {
            let speaker = Speaker {
                sounds,
                held: Vec::new(),
                ready: None,
                failed: None,
            };
            speaker.work(&inbox, told.as_ref());
        });
        Self { orders, unheard }
    }

    /// A sign comes within seconds: the way to the ear is opened.
    pub fn ahead(&self, cue: Cue, prefs: Prefs) {
        if !prefs.mute {
            let _ = self.orders.try_send(Order::Ahead(cue));
        }
    }

    /// Has a sign played now, where sound is wanted.
    pub fn play(&self, cue: Cue, prefs: Prefs) {
        let order = Order::Play(cue, prefs.volume, Instant::now());
        if !prefs.mute && self.orders.try_send(order).is_err() {
            (self.unheard)(cue);
        }
    }
}

struct Speaker {
    sounds: Sounds,
    /// What plays, and until when it is held: dropping it ends it.
    held: Vec<(Stream, Instant)>,
    /// The way for the sign that comes next, and until when it is kept open.
    ready: Option<(Ready, Instant)>,
    /// When it last failed.
    failed: Option<Instant>,
}

/// A sign that one message begins.
struct Ready {
    cue: Cue,
    clip: Clip,
    stream: Stream,
}

impl Speaker {
    fn work(mut self, inbox: &Receiver<Order>, unheard: &dyn Fn(Cue)) {
        loop {
            let held = self.held.iter().map(|(_, until)| *until);
            let next = held.chain(self.ready.iter().map(|(_, until)| *until)).min();
            let order = match next {
                Some(until) => inbox.recv_timeout(until.saturating_duration_since(Instant::now())),
                None => inbox.recv().map_err(|_| RecvTimeoutError::Disconnected),
            };
            match order {
                Ok(Order::Ahead(cue)) => self.prepare(cue),
                Ok(Order::Play(cue, volume, asked)) => {
                    if asked.elapsed() > STALE || self.sign(cue, volume).is_err() {
                        unheard(cue);
                    }
                }
                Err(RecvTimeoutError::Timeout) => {}
                Err(RecvTimeoutError::Disconnected) => return,
            }
            let now = Instant::now();
            self.held.retain(|(_, until)| *until > now);
            self.ready.take_if(|(_, until)| *until <= now);
        }
    }

    /// Wakes the loudspeaker, and makes the way for a sign that comes within seconds.
    fn prepare(&mut self, cue: Cue) {
        let is_ready = |(ready, _): &(Ready, Instant)| ready.cue == cue;
        if self.ready.as_ref().is_some_and(is_ready) {
            return;
        }
        let silence = Clip::silence(AWAKE);
        let woken = self
            .open(&silence)
            .and_then(|stream| self.hold(stream, &silence));
        if woken.is_ok()
            && let Ok(clip) = self.sounds.clip(cue)
            && let Ok(stream) = self.open(&clip)
        {
            let until = Instant::now() + Duration::from_millis(u64::from(AWAKE));
            self.ready = Some((Ready { cue, clip, stream }, until));
        }
    }

    /// Plays a sign.
    fn sign(&mut self, cue: Cue, volume: Volume) -> Result<(), String> {
        let (clip, stream) = match self.ready.take_if(|(ready, _)| ready.cue == cue) {
            Some((Ready { clip, stream, .. }, _)) => (clip, stream),
            None => {
                let clip = self.sounds.clip(cue)?;
                let stream = self.open(&clip)?;
                (clip, stream)
            }
        };
        self.hold(stream, &clip.at(volume))
    }

    /// The way for a sound, unless there was none a moment ago.
    fn open(&mut self, clip: &Clip) -> Result<Stream, String> {
        if self.failed.is_some_and(|failed| failed.elapsed() < AGAIN) {
            return Err("it failed a moment ago".to_owned());
        }
        let stream = Stream::open(clip);
        self.failed = stream.is_err().then(Instant::now);
        stream
    }

    /// Begins a sound and holds it until it is over.
    fn hold(&mut self, mut stream: Stream, clip: &Clip) -> Result<(), String> {
        let begun = stream.begin(clip);
        self.failed = begun.is_err().then(Instant::now);
        begun?;
        if self.held.len() >= AT_ONCE {
            self.held.remove(0);
        }
        let until = Instant::now() + Duration::from_millis(clip.ms()) + LINGERS;
        self.held.push((stream, until));
        Ok(())
    }
}
