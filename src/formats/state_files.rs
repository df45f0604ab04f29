//! Files of ours that deleting loses nothing recorded by: device, preferences, draft.

use super::mirror::WireKind;
use crate::domain::cue::Volume;
use crate::domain::history::{Ground, Prefs};
use crate::domain::session::{Aside, Asides, Beat, Cued, Draft, EventId, Typed};
use crate::domain::units::{Boot, Civil, Now, Seconds, Spare};
use crate::formats::journal;
use serde::{Deserialize, Serialize};

/// A device's name in the journal, and the mark of the machine that it was given on.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct Device {
    /// Its name: lower-case letters and digits.
    pub id: String,
    /// The machine's mark: on a copied home it differs, and the device gets a new name.
    pub machine: String,
}

/// The mark of a machine: enough to tell two apart, too little to tell which one it is.
pub fn machine_mark(machine_id: &[u8]) -> String {
    let mut salted = b"rackside device ".to_vec();
    salted.extend_from_slice(machine_id);
    format!("{:08x}", crc32fast::hash(&salted))
}

/// Letters that make up a name: none that is taken for another.
const LETTERS: &[u8; 32] = b"abcdefghjkmnpqrstuvwxyz123456789";

/// A name drawn from random bytes, a letter each.
pub fn name_of(random: &[u8]) -> String {
    let letter = |byte: &u8| {
        LETTERS
            .get(usize::from(byte % 32))
            .map_or('a', |b| char::from(*b))
    };
    random.iter().map(letter).collect()
}

/// Reads the device's file.
pub fn read_device(text: &str) -> Option<Device> {
    let device: Device = ron::from_str(text).ok()?;
    let plain = device
        .id
        .bytes()
        .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit());
    (plain && (4..=16).contains(&device.id.len())).then_some(device)
}

/// The text of the device's file.
pub fn device_text(device: &Device) -> String {
    ron::to_string(device).unwrap_or_default()
}

#[derive(Serialize, Deserialize)]
struct WirePrefs {
    #[serde(default)]
    mute: bool,
    #[serde(default)]
    volume: Option<u8>,
    #[serde(default)]
    no_notices: bool,
    #[serde(default)]
    may_darken: bool,
    #[serde(default)]
    small: bool,
    #[serde(default)]
    ground: Option<String>,
}

/// Reads the preferences; what cannot be read is as if nothing had been preferred.
pub fn read_prefs(text: &str) -> Prefs {
    match ron::from_str::<WirePrefs>(text) {
        Ok(wire) => Prefs {
            mute: wire.mute,
            volume: wire.volume.and_then(Volume::new).unwrap_or_default(),
            no_notices: wire.no_notices,
            may_darken: wire.may_darken,
            small: wire.small,
            ground: wire.ground.as_deref().and_then(Ground::named),
        },
        Err(_) => Prefs::default(),
    }
}

/// The text of the preferences' file.
pub fn prefs_text(prefs: Prefs) -> String {
    let Prefs {
        mute,
        volume,
        no_notices,
        may_darken,
        small,
        ground,
    } = prefs;
    let ground = ground.map(|ground| ground.name().to_owned());
    ron::to_string(&WirePrefs {
        mute,
        volume: (volume != Volume::FULL).then_some(volume.percent()),
        no_notices,
        may_darken,
        small,
        ground,
    })
    .unwrap_or_default()
}

#[derive(Serialize, Deserialize)]
struct WireDraft {
    /// Which start of the machine its instants belong to.
    start: String,
    session: String,
    end: Option<(String, i64)>,
    boot: i64,
    civil: String,
    beat: WireBeat,
    typed: WireTyped,
    loads: Vec<(usize, WireKind, String)>,
    /// What stands, and what was taken back, each behind so many events.
    #[serde(default)]
    asides: (WireAsides, WireAsides),
    cued: u8,
}

type WireAsides = Vec<(usize, WireAside)>;

#[derive(Serialize, Deserialize)]
enum WireAside {
    RestEarlier(String),
    Load {
        item: usize,
        kind: WireKind,
        before: Option<String>,
        after: String,
    },
}

#[derive(Serialize, Deserialize)]
enum WireBeat {
    Resting,
    LeadIn {
        until: i64,
        first: Option<u32>,
        began: i64,
        told: u8,
    },
    Between {
        first: u32,
        began: i64,
    },
    Lifting {
        since: i64,
        began: i64,
        first: Option<u32>,
    },
}

#[derive(Serialize, Deserialize)]
enum WireTyped {
    Nothing,
    Count {
        digits: String,
        point: bool,
        spare: Option<u32>,
    },
    SpareOfLast,
    OtherSide {
        first: u32,
        spare: Option<u32>,
        digits: String,
    },
    Load(String),
}

/// The text of a draft. `start` names the start of the machine that its instants belong to.
pub fn draft_text(draft: &Draft, start: &str) -> String {
    let wire = WireDraft {
        start: start.to_owned(),
        session: draft.session.to_string(),
        end: draft.end.as_ref().map(|(id, at)| (id.to_string(), at.0)),
        boot: draft.at.0.0,
        civil: draft.at.1.to_string(),
        beat: beat_to_wire(draft.beat),
        typed: typed_to_wire(&draft.typed),
        loads: draft
            .loads
            .iter()
            .map(|(k, kind, load)| (*k, (*kind).into(), journal::write_load(*load)))
            .collect(),
        asides: (
            draft.asides.done.iter().map(aside_to_wire).collect(),
            draft.asides.undone.iter().map(aside_to_wire).collect(),
        ),
        cued: draft.cued as u8,
    };
    ron::to_string(&wire).unwrap_or_default()
}

/// Reads a draft, its instants made this run's: as they are within one start of the machine, else
/// by the wall clock. What cannot be read is as if it were not there.
pub fn read_draft(text: &str, start: &str, now: Now) -> Option<Draft> {
    let wire: WireDraft = ron::from_str(text).ok()?;
    let civil = Civil::parse(&wire.civil)?;
    let shift = if wire.start == start {
        0
    } else {
        now.boot.0 - now.civil.since(civil).max(0) - wire.boot
    };
    let here = |at: i64| Boot(at.saturating_add(shift));
    let loads = wire.loads.into_iter();
    Some(Draft {
        session: EventId(wire.session),
        end: wire.end.map(|(id, at)| (EventId(id), here(at))),
        at: (here(wire.boot), civil),
        beat: beat_of(wire.beat, here),
        typed: typed_of(wire.typed),
        loads: loads
            .filter_map(|(k, kind, load)| Some((k, kind.into(), journal::read_load(&load).ok()?)))
            .collect(),
        asides: Asides {
            done: wire.asides.0.into_iter().filter_map(aside_of).collect(),
            undone: wire.asides.1.into_iter().filter_map(aside_of).collect(),
        },
        cued: match wire.cued {
            0 => Cued::Nothing,
            1 => Cued::Opened,
            2 => Cued::ClosesSoon,
            _ => Cued::Closed,
        },
    })
}

fn aside_to_wire((after, aside): &(usize, Aside)) -> (usize, WireAside) {
    let wire = match aside {
        Aside::RestEarlier(set) => WireAside::RestEarlier(set.to_string()),
        Aside::Load {
            of: (item, kind),
            before,
            after,
        } => WireAside::Load {
            item: *item,
            kind: (*kind).into(),
            before: before.map(journal::write_load),
            after: journal::write_load(*after),
        },
    };
    (*after, wire)
}

fn aside_of((after, wire): (usize, WireAside)) -> Option<(usize, Aside)> {
    let load = |text: String| journal::read_load(&text).ok();
    let aside = match wire {
        WireAside::RestEarlier(set) => Aside::RestEarlier(EventId(set)),
        WireAside::Load {
            item,
            kind,
            before,
            after,
        } => Aside::Load {
            of: (item, kind.into()),
            before: before.and_then(load),
            after: load(after)?,
        },
    };
    Some((after, aside))
}

fn beat_to_wire(beat: Beat) -> WireBeat {
    let seconds = |s: Option<Seconds>| s.map(Seconds::get);
    match beat {
        Beat::Resting => WireBeat::Resting,
        Beat::LeadIn {
            until,
            first,
            began,
            told,
        } => WireBeat::LeadIn {
            until: until.0,
            first: seconds(first),
            began: began.0,
            told,
        },
        Beat::Between { first, began } => WireBeat::Between {
            first: first.get(),
            began: began.0,
        },
        Beat::Lifting {
            since,
            began,
            first,
        } => WireBeat::Lifting {
            since: since.0,
            began: began.0,
            first: seconds(first),
        },
    }
}

fn beat_of(wire: WireBeat, here: impl Fn(i64) -> Boot) -> Beat {
    let seconds = |s: Option<u32>| s.map(Seconds::clamped);
    match wire {
        WireBeat::Resting => Beat::Resting,
        WireBeat::LeadIn {
            until,
            first,
            began,
            told,
        } => Beat::LeadIn {
            until: here(until),
            first: seconds(first),
            began: here(began),
            told,
        },
        WireBeat::Between { first, began } => Beat::Between {
            first: Seconds::clamped(first),
            began: here(began),
        },
        WireBeat::Lifting {
            since,
            began,
            first,
        } => Beat::Lifting {
            since: here(since),
            began: here(began),
            first: seconds(first),
        },
    }
}

fn typed_to_wire(typed: &Typed) -> WireTyped {
    match typed {
        Typed::Nothing => WireTyped::Nothing,
        Typed::Count { digits, spare } => WireTyped::Count {
            digits: digits.clone(),
            point: spare.is_some(),
            spare: spare.flatten().map(Spare::get),
        },
        Typed::SpareOfLast => WireTyped::SpareOfLast,
        Typed::OtherSide {
            first,
            spare,
            digits,
        } => WireTyped::OtherSide {
            first: *first,
            spare: spare.map(Spare::get),
            digits: digits.clone(),
        },
        Typed::Load(text) => WireTyped::Load(text.clone()),
    }
}

fn typed_of(wire: WireTyped) -> Typed {
    match wire {
        WireTyped::Nothing => Typed::Nothing,
        WireTyped::Count {
            digits,
            point,
            spare,
        } => Typed::Count {
            digits,
            spare: point.then_some(spare.map(Spare::clamped)),
        },
        WireTyped::SpareOfLast => Typed::SpareOfLast,
        WireTyped::OtherSide {
            first,
            spare,
            digits,
        } => Typed::OtherSide {
            first,
            spare: spare.map(Spare::clamped),
            digits,
        },
        WireTyped::Load(text) => Typed::Load(text),
    }
}
