//! An event as it stands in a line.

use super::imported::WireImported;
use super::plan::{WireItem, WirePlan, WirePlannedSet, place, program};
use super::set::{WireAmendment, WireSet, spare};
use super::text::{DateText, WeightText};
use crate::domain::session::{
    Adopted, Choice, Closed, Event, EventId, ImportEnded, Opened, Pain, Whereabouts,
};
use crate::formats::mirror::{WireBoldness, WireExperience, WireJoint, WireMuscle};
use serde::{Deserialize, Serialize};

/// What can happen.
#[derive(Serialize, Deserialize)]
pub(super) enum WireEvent {
    Opened(WirePlan),
    Set(WireSet),
    Spare {
        set: String,
        spare: u32,
    },
    Skipped {
        item: u16,
        whole: bool,
    },
    PutOff {
        item: u16,
    },
    Swapped {
        item: u16,
        with: WireItem,
    },
    Added {
        item: u16,
        set: WirePlannedSet,
    },
    Pain {
        #[serde(skip_serializing_if = "Option::is_none")]
        item: Option<u16>,
        #[serde(rename = "where")]
        whereabouts: WireWhereabouts,
    },
    Note {
        text: String,
    },
    Paused,
    Resumed,
    Closed {
        #[serde(skip_serializing_if = "Option::is_none")]
        effort: Option<u8>,
    },
    BodyWeight {
        weight: WeightText,
    },
    Adopted {
        program: String,
        from: DateText,
        phase: u16,
    },
    Chose(WireChoice),
    Eased {
        #[serde(skip_serializing_if = "Option::is_none")]
        until: Option<DateText>,
    },
    Imported(WireImported),
    ImportEnded {
        source: String,
        days: u32,
    },
    Amended(WireAmendment),
    Voided {
        event: String,
    },
}

/// Where it hurts.
#[derive(Clone, Copy, Serialize, Deserialize)]
pub(super) enum WireWhereabouts {
    Joint(WireJoint),
    Muscle(WireMuscle),
    Alarm,
}

/// What was chosen.
#[derive(Serialize, Deserialize)]
pub(super) enum WireChoice {
    Place(String),
    Boldness(WireBoldness),
    Experience(WireExperience),
}

impl From<Whereabouts> for WireWhereabouts {
    fn from(whereabouts: Whereabouts) -> Self {
        match whereabouts {
            Whereabouts::Joint(joint) => Self::Joint(joint.into()),
            Whereabouts::Muscle(muscle) => Self::Muscle(muscle.into()),
            Whereabouts::Alarm => Self::Alarm,
        }
    }
}

impl From<WireWhereabouts> for Whereabouts {
    fn from(whereabouts: WireWhereabouts) -> Self {
        match whereabouts {
            WireWhereabouts::Joint(joint) => Self::Joint(joint.into()),
            WireWhereabouts::Muscle(muscle) => Self::Muscle(muscle.into()),
            WireWhereabouts::Alarm => Self::Alarm,
        }
    }
}

impl From<&Choice> for WireChoice {
    fn from(choice: &Choice) -> Self {
        match choice {
            Choice::Place(place) => Self::Place(place.as_str().to_owned()),
            Choice::Boldness(boldness) => Self::Boldness((*boldness).into()),
            Choice::Experience(experience) => Self::Experience((*experience).into()),
        }
    }
}

impl TryFrom<WireChoice> for Choice {
    type Error = String;

    fn try_from(choice: WireChoice) -> Result<Self, String> {
        Ok(match choice {
            WireChoice::Place(name) => Self::Place(place(&name)?),
            WireChoice::Boldness(boldness) => Self::Boldness(boldness.into()),
            WireChoice::Experience(experience) => Self::Experience(experience.into()),
        })
    }
}

impl From<&Event> for WireEvent {
    fn from(event: &Event) -> Self {
        match event {
            Event::Opened(opened) => Self::Opened((&opened.plan).into()),
            Event::Set(set) => Self::Set((&**set).into()),
            Event::Spare { set, spare } => Self::Spare {
                set: set.0.clone(),
                spare: spare.get(),
            },
            Event::Skipped { item, whole } => Self::Skipped {
                item: *item,
                whole: *whole,
            },
            Event::PutOff { item } => Self::PutOff { item: *item },
            Event::Swapped { item, with } => Self::Swapped {
                item: *item,
                with: (&**with).into(),
            },
            Event::Added { item, set } => Self::Added {
                item: *item,
                set: set.into(),
            },
            Event::Pain(pain) => Self::Pain {
                item: pain.item,
                whereabouts: pain.whereabouts.into(),
            },
            Event::Note { text } => Self::Note { text: text.clone() },
            Event::Paused => Self::Paused,
            Event::Resumed => Self::Resumed,
            Event::Closed(closed) => Self::Closed {
                effort: closed.effort,
            },
            Event::BodyWeight(weight) => Self::BodyWeight {
                weight: WeightText(*weight),
            },
            Event::Adopted(adopted) => Self::Adopted {
                program: adopted.program.as_str().to_owned(),
                from: DateText(adopted.from),
                phase: adopted.phase,
            },
            Event::Chose(choice) => Self::Chose(choice.into()),
            Event::Eased { until } => Self::Eased {
                until: until.map(DateText),
            },
            Event::Imported(imported) => Self::Imported((&**imported).into()),
            Event::ImportEnded(end) => Self::ImportEnded {
                source: end.source.clone(),
                days: end.days,
            },
            Event::Amended { target, change } => {
                Self::Amended(WireAmendment::new(&target.0, change))
            }
            Event::Voided { target } => Self::Voided {
                event: target.0.clone(),
            },
        }
    }
}

impl TryFrom<WireEvent> for Event {
    type Error = String;

    fn try_from(event: WireEvent) -> Result<Self, String> {
        Ok(match event {
            WireEvent::Opened(plan) => Self::Opened(Box::new(Opened {
                plan: plan.try_into()?,
            })),
            WireEvent::Set(set) => Self::Set(Box::new(set.try_into()?)),
            WireEvent::Spare { set, spare: count } => Self::Spare {
                set: EventId(set),
                spare: spare(count)?,
            },
            WireEvent::Skipped { item, whole } => Self::Skipped { item, whole },
            WireEvent::PutOff { item } => Self::PutOff { item },
            WireEvent::Swapped { item, with } => Self::Swapped {
                item,
                with: Box::new(with.try_into()?),
            },
            WireEvent::Added { item, set } => Self::Added {
                item,
                set: set.try_into()?,
            },
            WireEvent::Pain { item, whereabouts } => Self::Pain(Pain {
                item,
                whereabouts: whereabouts.into(),
            }),
            WireEvent::Note { text } => Self::Note { text },
            WireEvent::Paused => Self::Paused,
            WireEvent::Resumed => Self::Resumed,
            WireEvent::Closed { effort } => Self::Closed(closed(effort)?),
            WireEvent::BodyWeight { weight } => Self::BodyWeight(weight.0),
            WireEvent::Adopted {
                program: name,
                from,
                phase,
            } => Self::Adopted(Adopted {
                program: program(&name)?,
                from: from.0,
                phase,
            }),
            WireEvent::Chose(choice) => Self::Chose(choice.try_into()?),
            WireEvent::Eased { until } => Self::Eased {
                until: until.map(|date| date.0),
            },
            WireEvent::Imported(imported) => Self::Imported(Box::new(imported.try_into()?)),
            WireEvent::ImportEnded { source, days } => {
                Self::ImportEnded(ImportEnded { source, days })
            }
            WireEvent::Amended(amendment) => {
                let (set, change) = amendment.change()?;
                Self::Amended {
                    target: EventId(set),
                    change,
                }
            }
            WireEvent::Voided { event } => Self::Voided {
                target: EventId(event),
            },
        })
    }
}

fn closed(effort: Option<u8>) -> Result<Closed, String> {
    in_bounds(effort).map(|effort| Closed { effort })
}

/// The effort of a session, 0 to 10.
pub(super) fn in_bounds(effort: Option<u8>) -> Result<Option<u8>, String> {
    if effort.is_some_and(|effort| effort > 10) {
        return Err("effort must be 0 to 10".to_owned());
    }
    Ok(effort)
}
