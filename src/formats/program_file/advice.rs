//! Advice on a program, each piece with its place in the file. The numbers stand in
//! `shared/program_advice.ron`.

use super::{Check, WireProgram, hints};
use crate::domain::diagnostic::{Diagnostic, Severity};
use crate::domain::exercise::Catalogue;
use crate::domain::gear::Place;
use crate::domain::program::{Finding, For, Program, ProgramId, Rule, Rules, review};
use crate::formats::ron_text::{Source, draft, parse};
use serde::Deserialize;

/// The numbers, with their sources.
const TABLE: &str = include_str!("../../../shared/program_advice.ron");

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct WireRule {
    limit: f64,
    source: String,
}

macro_rules! rules {
    ($($name:ident),+ $(,)?) => {
        #[derive(Deserialize)]
        #[serde(deny_unknown_fields)]
        struct WireRules { $($name: WireRule),+ }

        impl From<WireRules> for Rules {
            fn from(wire: WireRules) -> Self {
                Self { $($name: Rule { limit: wire.$name.limit, source: wire.$name.source }),+ }
            }
        }
    };
}

rules! {
    heavy_rest, heavy_reps, compound_rest, isolation_rest, week_least, week_most, novice_week,
    novice_session, session_most, pull_share, isolation_first, place,
}

/// The numbers that advice goes by.
///
/// # Errors
///
/// The table that ships is broken.
pub fn rules() -> Result<Rules, Vec<Diagnostic>> {
    parse::<WireRules>("shared/program_advice.ron", TABLE).map(Rules::from)
}

/// For whom a program is looked over, and where they train.
#[derive(Clone, Copy, Debug)]
pub struct Whom<'a> {
    /// All exercises.
    pub catalogue: &'a Catalogue,
    /// The place, where it is known.
    pub place: Option<&'a Place>,
    /// Whether they are new to this.
    pub novice: bool,
}

/// Reads a program's file, with advice on it as warnings.
///
/// # Errors
///
/// Everything that is wrong with the text.
pub fn read_with_advice(
    path: &str,
    id: &ProgramId,
    text: &str,
    whom: Whom<'_>,
) -> Result<(Program, Vec<Diagnostic>), Vec<Diagnostic>> {
    let rules = rules()?;
    let draft = draft::<WireProgram>(Source::new(path, text), hints)?;
    let mut check = Check::of(&draft, whom.catalogue);
    let program = check.program(id);
    let mut found = std::mem::take(&mut check.found);
    if found.is_empty() {
        let whom = For {
            catalogue: whom.catalogue,
            place: whom.place,
            novice: whom.novice,
            rules: &rules,
        };
        let advice = review(&program, whom);
        found.extend(advice.iter().filter_map(|finding| check.placed(finding)));
    }
    draft.finish(program, found)
}

impl Check<'_> {
    /// A piece of advice where its slot stands, or its phase.
    fn placed(&self, finding: &Finding) -> Option<Diagnostic> {
        let phase = self.draft.root().field("phases").item(finding.phase);
        let slot = finding.slot.as_ref();
        let slot = slot.and_then(|id| self.places.get(&(finding.phase, id.clone())));
        let place = slot.copied().unwrap_or_else(|| phase.field("name"));
        let problem = self
            .draft
            .problem(place, &finding.message, &finding.advice)?;
        Some(Diagnostic {
            severity: Severity::Warning,
            ..problem
        })
    }
}
