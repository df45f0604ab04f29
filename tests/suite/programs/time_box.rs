//! Every session that ships, made to fit from 10 to 90 minutes: the estimate never passes the
//! time, a longer time never cuts more, and cuts come in their order.

use crate::files;
use crate::rig::cli::Cli;
use crate::rig::script::Script;
use rackside::domain::exercise::Role;
use rackside::domain::gear::PlaceId;
use rackside::domain::history::{History, Lifter};
use rackside::domain::schedule::{Briefing, Cut, Material, Today, Wish};
use rackside::domain::session::{Boldness, Experience, SetKind};
use rackside::domain::units::{Civil, Unit};

struct Ground {
    catalogue: rackside::domain::exercise::Catalogue,
    places: Vec<rackside::domain::gear::Place>,
    programs: Vec<rackside::domain::program::Program>,
    history: History,
}

impl Ground {
    fn new() -> Self {
        Self {
            catalogue: files::catalogue(),
            places: files::places(),
            programs: files::programs(),
            history: History::of(Vec::new()),
        }
    }

    fn brief(&self, program: usize, session: &Today, minutes: Option<u32>) -> Briefing {
        let lifter = Lifter {
            unit: Unit::Kg,
            body_weight: None,
            experience: Experience::Intermediate,
            boldness: Boldness::Steady,
            place: PlaceId::new("club").expect("a name"),
            program: self.programs[program].id.clone(),
        };
        let material = Material {
            catalogue: &self.catalogue,
            places: &self.places,
            programs: &self.programs,
            history: &self.history,
            lifter: &lifter,
            now: Civil::parse("2026-11-19T18:22:00.000+01:00").expect("a time"),
            beliefs: None,
        };
        let wish = Wish {
            session: Some(session.clone()),
            minutes,
            ..Wish::default()
        };
        material.brief(&wish).expect("a briefing")
    }

    /// Every session that ships: its program and where in it it is.
    fn sessions(&self) -> Vec<(usize, Today)> {
        let mut all = Vec::new();
        for (k, program) in self.programs.iter().enumerate() {
            for (phase, found) in program.phases.iter().enumerate() {
                for day in 0..found.days.len() {
                    let session = Today {
                        phase: phase as u16 + 1,
                        week: 1,
                        day: day as u16 + 1,
                        name: String::new(),
                        easier_week: false,
                        why: String::new(),
                    };
                    all.push((k, session));
                }
            }
        }
        all
    }
}

/// Hard sets of a session.
fn hard(briefing: &Briefing) -> usize {
    let items = briefing.plan.items.iter();
    let sets = items.flat_map(|item| &item.sets);
    sets.filter(|set| set.kind != SetKind::Ramp).count()
}

fn ramps(briefing: &Briefing) -> usize {
    let items = briefing.plan.items.iter();
    let sets = items.flat_map(|item| &item.sets);
    sets.filter(|set| set.kind == SetKind::Ramp).count()
}

#[test]
fn every_session_fits_every_time_or_says_the_shortest() {
    let ground = Ground::new();
    for (program, session) in ground.sessions() {
        let whole = ground.brief(program, &session, None);
        let mut before: Option<(Briefing, u32)> = None;
        for minutes in (10..=90).step_by(3) {
            let fitted = ground.brief(program, &session, Some(minutes));
            let boxed = fitted.boxed.as_ref().expect("a box");
            let name = format!("{} day {}, {minutes} min", fitted.plan.program, session.day);
            match boxed.shortest {
                None => assert!(
                    fitted.takes.get() <= minutes * 60,
                    "{name}: {}",
                    fitted.takes
                ),
                Some(shortest) => {
                    assert_eq!(shortest, fitted.takes, "{name}");
                    assert!(shortest.get() > minutes * 60, "{name}");
                }
            }
            let stages: Vec<u8> = boxed.cuts.iter().map(Cut::stage).collect();
            assert!(stages.is_sorted(), "{name}: {stages:?}");
            keeps(&ground, &whole, &fitted, &name);
            if let Some((shorter, _)) = &before {
                assert!(
                    hard(&fitted) >= hard(shorter),
                    "{name}: more time, fewer sets"
                );
                let cuts = |b: &Briefing| b.boxed.as_ref().map_or(0, |boxed| boxed.cuts.len());
                assert!(
                    cuts(&fitted) <= cuts(shorter),
                    "{name}: more time, more cuts"
                );
            }
            before = Some((fitted, minutes));
        }
        let (roomy, minutes) = before.expect("a time");
        if whole.takes.get() <= minutes * 60 {
            assert_eq!(roomy.plan, whole.plan, "nothing is cut without need");
        }
    }
}

/// What no cut touches.
fn keeps(ground: &Ground, whole: &Briefing, fitted: &Briefing, name: &str) {
    let sets = |briefing: &Briefing, slot: &str| {
        let item = briefing.plan.items.iter().find(|item| item.slot.0 == slot);
        item.map_or(0, |item| {
            let hard = item.sets.iter().filter(|set| set.kind != SetKind::Ramp);
            hard.count()
        })
    };
    let compound = |item: &&rackside::domain::session::PlannedItem| {
        ground.catalogue.get(&item.exercise).unwrap().role == Role::Compound
    };
    let mut compounds = whole.plan.items.iter().filter(compound);
    let first = compounds.next().expect("a compound exercise");
    let slot = first.slot.0.as_str();
    assert_eq!(
        sets(fitted, slot),
        sets(whole, slot),
        "{name}: the first compound"
    );
    for other in compounds {
        let slot = other.slot.0.as_str();
        assert!(
            sets(fitted, slot) >= sets(whole, slot).min(2),
            "{name}: {slot}"
        );
    }
    assert_eq!(ramps(fitted), ramps(whole), "{name}: ramp sets");
    for item in &fitted.plan.items {
        let had = whole
            .plan
            .items
            .iter()
            .find(|had| had.slot == item.slot)
            .unwrap();
        assert_eq!(
            item.rest.opens, had.rest.opens,
            "{name}: the opening of a rest"
        );
    }
}

#[test]
fn the_command_line_takes_minutes_or_a_time() {
    let cli = Cli::new();
    let brief = |arguments: &[&str]| -> serde_json::Value {
        let all = [&["brief", "--json"], arguments].concat();
        serde_json::from_str(&cli.run(all).ok()).unwrap()
    };
    let whole = brief(&[])["takes_s"].as_u64().unwrap();
    let short = brief(&["--minutes", "25"]);
    assert!(short["takes_s"].as_u64().unwrap() <= 25 * 60 && whole > 25 * 60);
    assert!(
        short["remarks"].to_string().contains("to fit 25 minutes"),
        "{short}"
    );
    let few = brief(&["--minutes", "5"])["remarks"].to_string();
    assert!(few.contains("5 minutes are too few"), "{few}");
    let wrong = cli.run(["brief", "--by", "soon"]).refused(2);
    assert!(wrong.contains("like 19:10"), "{wrong}");
    let both = cli
        .run(["brief", "--by", "19:10", "--minutes", "30"])
        .refused(2);
    assert!(both.contains("cannot be used with"), "{both}");
}

#[test]
fn a_key_in_the_briefing_shows_the_cuts_before_the_session_starts() {
    let (_, text) = rackside::formats::program_file::SHIPPED[0];
    let script = Script::of(text).keys("t");
    assert!(
        script.screen().contains("how much time is there?"),
        "{}",
        script.screen()
    );
    let script = script.keys("3");
    assert!(
        script.screen().contains("to fit 25 minutes"),
        "{}",
        script.screen()
    );
    assert!(script.journal.is_empty(), "nothing is settled yet");
    let script = script.keys("t").keys("1");
    assert!(
        !script.screen().contains("25 minutes"),
        "{}",
        script.screen()
    );
    let script = script.keys("t").keys("3").keys("<enter>");
    let rest = script.floor().session.items[1].planned.rest;
    assert_eq!(
        rest.opens, rest.closes,
        "the session is the one that was shown"
    );
}
