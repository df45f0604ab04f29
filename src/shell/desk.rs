//! What the program stands on: the shipped files, and the person's own.

use super::{Error, Home, Storage};
use crate::app::model::Desk;
use crate::domain::diagnostic::Diagnostic;
use crate::domain::exercise::Catalogue;
use crate::domain::gear::{Place, PlaceId};
use crate::domain::history::{History, Lifter};
use crate::domain::program::{Program, ProgramId};
use crate::domain::schedule::Material;
use crate::domain::session::{Boldness, Experience};
use crate::domain::units::{Civil, Unit};
use crate::formats::{gear_file, lifter_file, program_file, table};
use std::io;
use std::path::Path;
use std::sync::Arc;

/// What a home holds beside its journal.
#[derive(Clone, Debug)]
pub struct Loaded {
    /// Exercises, places, programs.
    pub desk: Arc<Desk>,
    /// Who trains, once they have said.
    pub lifter: Option<Lifter>,
    /// Who trains, until they say.
    default: Lifter,
}

impl Loaded {
    /// Reads a home.
    ///
    /// # Errors
    ///
    /// All that is wrong with all of its files at once.
    pub fn from(home: &Home, storage: &dyn Storage) -> Result<Self, Error> {
        let mut problems = Vec::new();
        let catalogue = read_catalogue(home, storage)?;
        let mut places: Vec<Place> = Vec::new();
        for (name, path, text) in files(storage, &home.places(), &gear_file::SHIPPED)? {
            match PlaceId::new(&name) {
                Some(id) => match gear_file::read(&path, &id, &text) {
                    Ok(place) => places.push(place),
                    Err(found) => problems.extend(found),
                },
                None => problems.push(misnamed(&path)),
            }
        }
        let mut programs: Vec<Program> = Vec::new();
        for (name, path, text) in files(storage, &home.programs(), &program_file::SHIPPED)? {
            match ProgramId::new(&name) {
                Some(id) => match program_file::read(&path, &id, &text, &catalogue) {
                    Ok(program) => programs.push(program),
                    Err(found) => problems.extend(found),
                },
                None => problems.push(misnamed(&path)),
            }
        }
        let lifter = match text(storage, &home.lifter())? {
            None => None,
            Some(text) => match lifter_file::read(&home.lifter().to_string_lossy(), &text) {
                Ok(lifter) => Some(lifter),
                Err(found) => {
                    problems.extend(found);
                    None
                }
            },
        };
        if !problems.is_empty() {
            return Err(Error::Problems(problems));
        }
        let default = newcomer(&places, &programs)
            .ok_or_else(|| Error::Said("no place or no program to begin with".to_owned()))?;
        let desk = Arc::new(Desk {
            catalogue,
            places,
            programs,
        });
        Ok(Self {
            desk,
            lifter,
            default,
        })
    }

    /// Who trains, until they say.
    pub fn default_lifter(&self) -> Lifter {
        self.default.clone()
    }
}

/// Somebody of whom nothing is known, at home on the first program; the first of each where those
/// are not there.
fn newcomer(places: &[Place], programs: &[Program]) -> Option<Lifter> {
    let home = places.iter().find(|place| place.id.as_str() == "home");
    let steps = programs
        .iter()
        .find(|program| program.id.as_str() == "three_steps");
    Some(Lifter {
        unit: Unit::Kg,
        body_weight: None,
        experience: Experience::default(),
        boldness: Boldness::default(),
        place: home.or(places.first())?.id.clone(),
        program: steps.or(programs.first())?.id.clone(),
    })
}

/// What a briefing is drawn up from.
pub fn material<'a>(
    desk: &'a Desk,
    history: &'a History,
    lifter: &'a Lifter,
    now: Civil,
) -> Material<'a> {
    Material {
        catalogue: &desk.catalogue,
        places: &desk.places,
        programs: &desk.programs,
        history,
        lifter,
        now,
        beliefs: None,
    }
}

/// All exercises: those that ship, and the person's own.
///
/// # Errors
///
/// The person's own cannot be read, or have problems.
pub fn read_catalogue(home: &Home, storage: &dyn Storage) -> Result<Catalogue, Error> {
    let own = text(storage, &home.exercises())?;
    let path = home.exercises().to_string_lossy().into_owned();
    let catalogue = table::catalogue(own.as_deref().map(|text| (path.as_str(), text)));
    catalogue.map_err(Error::Problems)
}

/// A file that a person wrote.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Text {
    /// Its name without what follows the point.
    pub name: String,
    /// Where it is.
    pub path: String,
    /// What it holds.
    pub text: String,
}

/// The person's own programs, in order of name.
///
/// # Errors
///
/// A file cannot be read, or is not a text.
pub fn own_programs(home: &Home, storage: &dyn Storage) -> Result<Vec<Text>, Error> {
    let found = files(storage, &home.programs(), &[])?;
    let text = |(name, path, text)| Text { name, path, text };
    Ok(found.into_iter().map(text).collect())
}

/// One file by its path.
///
/// # Errors
///
/// It is not there, cannot be read, or is not a text.
pub fn read_text(storage: &dyn Storage, path: &Path) -> Result<Text, Error> {
    let Some(text) = text(storage, path)? else {
        return Err(Error::Said(format!("{}: no such file", path.display())));
    };
    let stem = path.file_stem().map(|stem| stem.to_string_lossy());
    Ok(Text {
        name: stem.unwrap_or_default().into_owned(),
        path: path.to_string_lossy().into_owned(),
        text,
    })
}

fn misnamed(path: &str) -> Diagnostic {
    let advice = "name the file with lower-case letters, digits and _ before .ron";
    Diagnostic::about(path, "this file's name cannot be used", advice)
}

/// The text of a file of the person's; none where there is no file.
fn text(storage: &dyn Storage, path: &Path) -> Result<Option<String>, Error> {
    match storage.read(path) {
        Ok(bytes) => match String::from_utf8(bytes) {
            Ok(text) => Ok(Some(text)),
            Err(_) => {
                let advice = "save it as UTF-8";
                let path = path.to_string_lossy();
                Err(Error::Problems(vec![Diagnostic::about(
                    &path,
                    "not a text",
                    advice,
                )]))
            }
        },
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(error) => Err(Error::file("read", path)(error)),
    }
}

/// The person's files of a folder, and the shipped ones whose names they do not take: name, path
/// and text, in order of name.
fn files(
    storage: &dyn Storage,
    folder: &Path,
    shipped: &[(&str, &str)],
) -> Result<Vec<(String, String, String)>, Error> {
    let mut files = Vec::new();
    for name in storage.list(folder).map_err(Error::file("read", folder))? {
        let path = folder.join(&name);
        let (Some(stem), Some("ron")) = (
            path.file_stem().and_then(|s| s.to_str()),
            path.extension().and_then(|e| e.to_str()),
        ) else {
            continue;
        };
        if let Some(text) = text(storage, &path)? {
            files.push((stem.to_owned(), path.to_string_lossy().into_owned(), text));
        }
    }
    for (name, text) in shipped {
        if !files.iter().any(|(own, _, _)| own == name) {
            files.push((
                (*name).to_owned(),
                format!("{name} (shipped)"),
                (*text).to_owned(),
            ));
        }
    }
    files.sort_by(|a, b| a.0.cmp(&b.0));
    Ok(files)
}
