//! From events to what they tell.

use super::outing::Outing;
use super::{Adoption, History, PainReport};
use crate::domain::exercise::ExerciseId;
use crate::domain::session::{Choice, Event, EventId, Session, Stamped, resolve, sort};
use std::collections::{BTreeMap, BTreeSet};

impl History {
    /// The history that these events tell, in whatever order they come, each id once.
    pub fn of(events: Vec<Stamped>) -> Self {
        Self::with_damaged(events, &BTreeSet::new())
    }

    /// The same, where some of the events are sets read from damaged lines: they stand in their
    /// sessions, marked, and are no evidence. One whose session nothing else tells of is left out.
    pub fn with_damaged(events: Vec<Stamped>, damaged: &BTreeSet<EventId>) -> Self {
        Self::default().after(events, damaged)
    }

    /// This history, and what came after it: none of these events may belong to a session that is
    /// told already, or act on what is.
    #[must_use]
    pub fn after(mut self, mut events: Vec<Stamped>, damaged: &BTreeSet<EventId>) -> Self {
        sort(&mut events);
        let resolved = resolve(events);
        self.strays.extend(resolved.strays);
        let told = self.sessions.len();
        let mut places: BTreeMap<&EventId, usize> = BTreeMap::new();
        let mut imported: Vec<Session> = Vec::new();
        let mut last: Option<(&EventId, usize)> = None;
        for event in &resolved.events {
            if let Event::Imported(sets) = &event.event {
                imported.push(Session::imported(event, sets));
                continue;
            }
            let Some(id) = &event.session else {
                self.choose(event);
                continue;
            };
            let place = match last {
                Some((same, place)) if same == id => place,
                _ => match places.get(id) {
                    Some(place) => *place,
                    None if damaged.contains(&event.id) => continue,
                    None => {
                        self.sessions.push(Session::new(id.clone(), event.at));
                        places.insert(id, self.sessions.len() - 1);
                        self.sessions.len() - 1
                    }
                },
            };
            last = Some((id, place));
            if let Some(session) = self.sessions.get_mut(place) {
                session.apply(event);
            }
        }
        self.weigh(&imported);
        self.put_among(imported);
        for session in self.sessions.iter_mut().skip(told) {
            session.mark_damaged(damaged);
        }
        self.collect(told);
        self
    }

    fn choose(&mut self, event: &Stamped) {
        let after = self.last_own().map(|session| session.id.clone());
        let choices = &mut self.choices;
        match &event.event {
            Event::BodyWeight(weight) => {
                choices.body_weight = Some(*weight);
                self.weighed.push((event.at.date(), *weight));
            }
            Event::Adopted(adopted) => choices.adopted.push(Adoption {
                adopted: adopted.clone(),
                said: event.at.date(),
                after,
            }),
            Event::Chose(Choice::Place(place)) => choices.place = Some(place.clone()),
            Event::Chose(Choice::Boldness(boldness)) => choices.boldness = Some(*boldness),
            Event::Chose(Choice::Experience(level)) => choices.experience = Some(*level),
            Event::Eased { until } => choices.eased_until = *until,
            Event::Opened(_)
            | Event::Set(_)
            | Event::Spare { .. }
            | Event::Skipped { .. }
            | Event::PutOff { .. }
            | Event::Swapped { .. }
            | Event::Added { .. }
            | Event::Pain(_)
            | Event::Note { .. }
            | Event::Paused
            | Event::Resumed
            | Event::Closed(_)
            | Event::Imported(_)
            | Event::ImportEnded(_)
            | Event::Amended { .. }
            | Event::Voided { .. } => {}
        }
    }

    /// Puts body weights that came from elsewhere among those that were said, by their day.
    fn weigh(&mut self, imported: &[Session]) {
        let weighed = |s: &Session| s.body_weight.map(|weight| (s.opened.date(), weight));
        let mut all: Vec<_> = imported.iter().filter_map(weighed).collect();
        all.append(&mut self.weighed);
        all.sort_by_key(|(day, _)| *day);
        self.weighed = all;
    }

    /// Puts sessions that came from elsewhere among the others by their day; those recorded here
    /// keep their order, whatever the clock said.
    fn put_among(&mut self, mut imported: Vec<Session>) {
        if imported.is_empty() {
            return;
        }
        imported.sort_by_key(|session| session.opened.date());
        let mut imported = imported.into_iter().peekable();
        let mut all = Vec::with_capacity(self.sessions.len() + imported.len());
        for session in std::mem::take(&mut self.sessions) {
            let day = session.opened.date();
            while let Some(earlier) = imported.next_if(|other| other.opened.date() < day) {
                all.push(earlier);
            }
            all.push(session);
        }
        all.extend(imported);
        self.sessions = all;
    }

    /// Gathers outings and pains from the sessions that are not told yet.
    fn collect(&mut self, told: usize) {
        for session in self.sessions.iter().skip(told) {
            let mut of_session: BTreeMap<&ExerciseId, Outing> = BTreeMap::new();
            for set in session.sets.iter().filter(|set| !set.damaged) {
                let outing = of_session.entry(&set.record.exercise);
                outing
                    .or_insert_with(|| Outing::of(session, set))
                    .sets
                    .push(set.clone());
            }
            for (exercise, outing) in of_session {
                match self.outings.get_mut(exercise) {
                    Some(outings) => outings.push(outing),
                    None => {
                        let outings = self.outings.entry(exercise.clone()).or_default();
                        outings.push(outing);
                    }
                }
            }
            for (at, pain) in &session.pains {
                let item = pain
                    .item
                    .and_then(|item| session.items.get(usize::from(item)));
                self.pains.push(PainReport {
                    at: *at,
                    session: session.id.clone(),
                    whereabouts: pain.whereabouts,
                    exercise: item.map(|item| item.planned.exercise.clone()),
                });
            }
        }
    }
}
