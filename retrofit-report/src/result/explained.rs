//! What the places have in common, told once: each check that falls short, each that is left open, and each
//! that asks nothing.

use retrofit_core::check::Ruling;
use serde::Serialize;

use super::together::paths as paths_together;
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
    /// What was found, in a sentence, where that is the same everywhere; otherwise each place has its own.
    pub fact: Option<String>,
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

/// Checks that are left open in the same way, with every place where they are.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(crate) struct OpenTogether {
    /// The titles of the checks.
    pub titles: Vec<String>,
    /// What was found, in a sentence.
    pub fact: String,
    /// Best and worst case.
    pub range: String,
    /// The numbers of the wall lines; nothing for the house as a whole.
    pub numbers: Vec<String>,
    /// The names of the same wall lines.
    pub wall_lines: Vec<String>,
    /// Whether these are all the wall lines there are, and more than one.
    pub every_line: bool,
    /// The observations that would decide it.
    pub decided_by: Vec<Decides>,
}

/// An observation that would decide it, wherever it is.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(crate) struct Decides {
    /// What to look at.
    pub what: String,
    /// Its paths in the house file.
    pub paths: Vec<String>,
}

/// Checks that ask nothing for the same reason at the same places.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(crate) struct NotAsked {
    /// Why they ask nothing.
    pub fact: String,
    /// The numbers of the wall lines; nothing for the house as a whole.
    pub numbers: Vec<String>,
    /// The names of the same wall lines.
    pub wall_lines: Vec<String>,
    /// Whether these are all the wall lines there are, and more than one.
    pub every_line: bool,
    /// The checks.
    pub checks: Vec<Asked>,
}

/// A check and where the provisions would ask it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(crate) struct Asked {
    /// Its title.
    pub title: String,
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
                    fact: None,
                    help: help.clone(),
                    places: vec![here],
                });
            }
        }
    }
    for check in &mut checks {
        let first = check.places.first().map(|place| place.fact.clone());
        check.fact = first.filter(|fact| check.places.iter().all(|place| place.fact == *fact));
    }
    // The sort keeps the order among equals.
    checks.sort_by_key(|check| check.ruling != Ruling::Outside);
    checks
}

fn falls_short(row: &Row) -> bool {
    matches!(row.ruling, Ruling::NotMet | Ruling::Outside)
}

/// Every check that is left open somewhere; wall lines of which the same is to be said stand together.
pub(super) fn left_open(whole_house: &Place, wall_lines: &[WallLine]) -> Vec<OpenTogether> {
    let mut groups: Vec<OpenTogether> = Vec::new();
    for (line, place) in places(whole_house, wall_lines) {
        for open in &place.left_open {
            let twin = groups.iter_mut().find(|group| {
                let looks = || group.decided_by.iter().map(|look| &look.what);
                group.titles == open.titles
                    && group.fact == open.fact
                    && group.range == open.range
                    && group.numbers.is_empty() == line.is_none()
                    && looks().eq(open.decided_by.iter().map(|look| &look.what))
            });
            if let Some(twin) = twin {
                twin.numbers.extend(line.map(|line| line.number.clone()));
                twin.wall_lines.extend(line.map(|line| line.name.clone()));
                for (look, here) in twin.decided_by.iter_mut().zip(&open.decided_by) {
                    look.paths.push(here.path.clone());
                }
            } else {
                let decides = |open: &super::Open| Decides {
                    what: open.what.clone(),
                    paths: vec![open.path.clone()],
                };
                groups.push(OpenTogether {
                    titles: open.titles.clone(),
                    fact: open.fact.clone(),
                    range: open.range.clone(),
                    numbers: line.map(|line| line.number.clone()).into_iter().collect(),
                    wall_lines: line.map(|line| line.name.clone()).into_iter().collect(),
                    every_line: false,
                    decided_by: open.decided_by.iter().map(decides).collect(),
                });
            }
        }
    }
    for group in &mut groups {
        group.every_line = wall_lines.len() > 1 && group.numbers.len() == wall_lines.len();
        for look in &mut group.decided_by {
            look.paths = paths_together(&look.paths);
        }
    }
    groups
}

/// Every check that asks nothing somewhere; checks with the same reason at the same places stand together.
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
            let check = Asked {
                title: row.title.clone(),
                sections,
            };
            let twin = checks.iter_mut().find(|known| {
                known.checks.contains(&check)
                    && known.fact == row.fact
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
                    fact: row.fact.clone(),
                    numbers: line.map(|line| line.number.clone()).into_iter().collect(),
                    wall_lines: line.map(|line| line.name.clone()).into_iter().collect(),
                    every_line: false,
                    checks: vec![check],
                }),
            }
        }
    }
    let mut rows: Vec<NotAsked> = Vec::new();
    for mut check in checks {
        check.every_line = wall_lines.len() > 1 && check.numbers.len() == wall_lines.len();
        let mut others = rows.iter_mut();
        match others.find(|row| row.fact == check.fact && row.numbers == check.numbers) {
            Some(row) => row.checks.extend(check.checks),
            None => rows.push(check),
        }
    }
    rows
}
