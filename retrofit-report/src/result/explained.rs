//! What the places have in common, told once: each check that falls short, and each that asks nothing.

use retrofit_core::check::Ruling;
use serde::Serialize;

use super::{Amount, Clause, Help, Place, Row, WallLine};

/// A check that falls short somewhere, with every place where it does.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(crate) struct Explained {
    /// The name of the check.
    pub check: String,
    /// Its title.
    pub title: String,
    /// The gravest ruling it came to.
    pub ruling: Ruling,
    /// That ruling in words.
    pub ruling_words: String,
    /// Why it matters, what would satisfy it, and the direction of a fix.
    pub help: Help,
    /// Where it falls short, in the order of the house file.
    pub places: Vec<FallsShort>,
}

/// A check falling short at one place.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(crate) struct FallsShort {
    /// The number of the wall line; null for the house as a whole.
    pub number: Option<String>,
    /// The name of the wall line; null for the house as a whole.
    pub wall_line: Option<String>,
    /// Where along the wall line; null for all of it.
    pub station: Option<String>,
    /// The ruling.
    pub ruling: Ruling,
    /// The ruling in words.
    pub ruling_words: String,
    /// What was found, in a sentence.
    pub fact: String,
    /// What was found.
    pub measured: Option<Amount>,
    /// What is asked for.
    pub required: Option<Amount>,
    /// What is missing.
    pub margin: Option<Amount>,
    /// The clauses applied.
    pub clauses: Vec<Clause>,
    /// The observation it is about, as a path into the house file.
    pub path: Option<String>,
}

/// A check that asks nothing, with every place where it does so for the same reason.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(crate) struct NotAsked {
    /// Its title.
    pub title: String,
    /// Why it asks nothing.
    pub fact: String,
    /// The numbers of the wall lines; nothing for the house as a whole.
    pub numbers: Vec<String>,
    /// The names of the same wall lines.
    pub wall_lines: Vec<String>,
    /// Whether these are all the wall lines there are, and more than one.
    pub every_line: bool,
    /// The sections applied.
    pub sections: Vec<String>,
}

/// The house as a whole, then its wall lines.
fn places<'a>(
    whole_house: &'a Place,
    wall_lines: &'a [WallLine],
) -> impl Iterator<Item = (Option<&'a WallLine>, &'a Place)> {
    std::iter::once((None, whole_house)).chain(wall_lines.iter().map(|line| (Some(line), &line.findings)))
}

/// Every check that falls short, in the order in which the places come to it; what is outside the provisions
/// comes first.
pub(super) fn falling_short(whole_house: &Place, wall_lines: &[WallLine]) -> Vec<Explained> {
    let mut checks: Vec<Explained> = Vec::new();
    for (line, place) in places(whole_house, wall_lines) {
        for row in &place.rows {
            let Some(help) = row.help.as_ref().filter(|_| falls_short(row)) else {
                continue;
            };
            let here = FallsShort {
                number: line.map(|line| line.number.clone()),
                wall_line: line.map(|line| line.name.clone()),
                station: row.station.clone(),
                ruling: row.ruling,
                ruling_words: row.ruling_words.clone(),
                fact: row.fact.clone(),
                measured: row.measured.clone(),
                required: row.required.clone(),
                margin: row.margin.clone(),
                clauses: row.clauses.clone(),
                path: row.path.clone(),
            };
            if let Some(known) = checks.iter_mut().find(|known| known.check == row.check) {
                if row.ruling == Ruling::Outside {
                    known.ruling = row.ruling;
                    known.ruling_words.clone_from(&row.ruling_words);
                }
                known.places.push(here);
            } else {
                checks.push(Explained {
                    check: row.check.clone(),
                    title: row.title.clone(),
                    ruling: row.ruling,
                    ruling_words: row.ruling_words.clone(),
                    help: help.clone(),
                    places: vec![here],
                });
            }
        }
    }
    // The sort keeps the order among equals.
    checks.sort_by_key(|check| check.ruling != Ruling::Outside);
    checks
}

fn falls_short(row: &Row) -> bool {
    matches!(row.ruling, Ruling::NotMet | Ruling::Outside)
}

/// Every check that asks nothing somewhere; wall lines with the same reason stand together.
pub(super) fn not_asked(whole_house: &Place, wall_lines: &[WallLine]) -> Vec<NotAsked> {
    let mut checks: Vec<NotAsked> = Vec::new();
    for (line, place) in places(whole_house, wall_lines) {
        for row in &place.not_applicable {
            let mut sections: Vec<String> = Vec::new();
            for clause in &row.clauses {
                if !sections.contains(&clause.section) {
                    sections.push(clause.section.clone());
                }
            }
            let twin = checks.iter_mut().find(|known| {
                known.title == row.title
                    && known.fact == row.fact
                    && known.sections == sections
                    && known.numbers.is_empty() == line.is_none()
            });
            match (twin, line) {
                // Two wall lines may bear one name; their numbers tell them apart.
                (Some(twin), Some(line)) if !twin.numbers.contains(&line.number) => {
                    twin.numbers.push(line.number.clone());
                    twin.wall_lines.push(line.name.clone());
                }
                (Some(_), _) => {}
                (None, line) => checks.push(NotAsked {
                    title: row.title.clone(),
                    fact: row.fact.clone(),
                    numbers: line.map(|line| line.number.clone()).into_iter().collect(),
                    wall_lines: line.map(|line| line.name.clone()).into_iter().collect(),
                    every_line: false,
                    sections,
                }),
            }
        }
    }
    for check in &mut checks {
        check.every_line = wall_lines.len() > 1 && check.numbers.len() == wall_lines.len();
    }
    checks
}
