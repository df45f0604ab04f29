//! What is kept beside the journal: the device's name, preferences, the draft of a session.

use crate::rig::faulty::{Fault, FaultyDisk, Plan};
use rackside::domain::cue::Volume;
use rackside::domain::history::{Ground, Preference, Prefs};
use rackside::domain::session::{Aside, Asides, Beat, Cued, Draft, EventId, SetKind, Typed};
use rackside::domain::units::{Boot, Civil, Load, Mass, Now, Unit, Weight};
use rackside::shell::{Home, StateStore, Storage};
use std::path::{Path, PathBuf};
use std::sync::Arc;

fn home() -> Home {
    let under = |name: &str| PathBuf::from("/home").join(name);
    Home {
        data: under("data"),
        config: under("config"),
        state: under("state"),
        cache: under("cache"),
    }
}

/// A machine of that name, with nothing kept.
fn machine(name: &str) -> Arc<FaultyDisk> {
    let disk = FaultyDisk::new(None);
    let id = Path::new("/etc/machine-id");
    disk.append(id, name.as_bytes()).unwrap();
    Arc::new(disk)
}

fn store(disk: &Arc<FaultyDisk>) -> StateStore {
    StateStore::of(&home(), disk.clone())
}

fn file(name: &str) -> PathBuf {
    home().state.join(name)
}

#[test]
fn a_device_keeps_its_name_on_its_machine_and_takes_another_on_another() {
    let here = machine("one\n");
    let name = store(&here).device();
    assert_eq!(store(&here).device(), name);
    let kept = here.read(&file("device.ron")).unwrap();
    let there = machine("two\n");
    there.create(&file("device.ron"), &kept).unwrap();
    let other = store(&there).device();
    assert_ne!(other, name, "a copied home");
    assert_eq!(store(&there).device(), other);
    here.replace(&file("device.ron"), b"rubbish").unwrap();
    let anew = store(&here).device();
    assert_ne!(anew, name);
    assert_eq!(store(&here).device(), anew);
}

#[test]
fn where_no_name_can_be_kept_each_run_draws_one() {
    let (from, count, fault) = (0, usize::MAX, Fault::Refused);
    let full = Arc::new(FaultyDisk::new(Some(Plan { from, count, fault })));
    assert_ne!(store(&full).device(), store(&full).device());
}

#[test]
fn a_run_is_named_by_its_device_and_letters_that_nobody_had() {
    let store = store(&machine("one\n"));
    let (a, b) = (store.origin("dev1"), store.origin("dev1"));
    assert_ne!(a, b);
    let drawn = a.strip_prefix("dev1-").unwrap();
    let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit();
    assert!(drawn.len() == 10 && drawn.chars().all(plain), "{a}");
}

#[test]
fn preferences_are_kept_and_none_are_the_usual_ones() {
    let disk = machine("one\n");
    assert_eq!(store(&disk).prefs(), Prefs::default());
    let volume = Volume::new(40).unwrap();
    let all = [
        Preference::Mute(true),
        Preference::Volume(volume),
        Preference::NoNotices(true),
        Preference::MayDarken(true),
        Preference::Small(true),
        Preference::Ground(Ground::Light),
    ];
    let mut wanted = Prefs::default();
    for one in all {
        wanted.prefer(one);
        store(&disk).keep_preferences(&[one]).unwrap();
        assert_eq!(store(&disk).prefs(), wanted, "what was kept before stays");
    }
    let prefs = Prefs {
        mute: true,
        volume,
        no_notices: true,
        may_darken: true,
        small: true,
        ground: Some(Ground::Light),
    };
    assert_eq!(wanted, prefs);
    disk.replace(&file("prefs.ron"), b"\xff").unwrap();
    assert_eq!(store(&disk).prefs(), Prefs::default());
}

#[test]
fn a_draft_is_kept_until_there_is_none() {
    let disk = machine("one\n");
    let at = (
        Boot(5_000),
        Civil::parse("2026-11-19T18:22:05.123+01:00").unwrap(),
    );
    let now = Now {
        boot: at.0,
        civil: at.1,
    };
    let draft = Draft {
        session: EventId("d-r-1".to_owned()),
        end: Some((EventId("d-r-2".to_owned()), Boot(4_000))),
        at,
        beat: Beat::Resting,
        typed: Typed::SpareOfLast,
        loads: Vec::new(),
        asides: asides(),
        cued: Cued::Opened,
    };
    assert_eq!(store(&disk).draft(now), None);
    store(&disk).keep_draft(Some(&draft)).unwrap();
    assert_eq!(store(&disk).draft(now), Some(draft));
    store(&disk).keep_draft(None).unwrap();
    assert_eq!(store(&disk).draft(now), None);
    assert!(disk.read(&file("draft.ron")).is_err());
}

/// One of each kind that can be taken back, and brought back.
fn asides() -> Asides {
    let weight = |text, unit| Weight::new(Mass::parse(text, unit).expect("a mass"), unit);
    let chosen = |before, after| Aside::Load {
        of: (1, SetKind::BackOff),
        before,
        after,
    };
    let pounds = Load::Mass(weight("50", Unit::Lb));
    Asides {
        done: vec![
            (2, Aside::RestEarlier(EventId("d-r-2".to_owned()))),
            (2, chosen(None, Load::Mass(weight("22.5", Unit::Kg)))),
        ],
        undone: vec![(3, chosen(Some(pounds), Load::Body(weight("5", Unit::Kg))))],
    }
}
