//! The findings at one place, row by row.

use retrofit_core::check::{Assessment, Finding, Limit, LookAt, Quantity, Ruling};
use retrofit_core::choice::Choice;
use retrofit_core::provisions::Provisions;
use schemars::JsonSchema;
use serde::Serialize;

use super::wording::{self, plain, sentence_case};
use super::{Trust, Verdict};

/// The findings at one place: the house as a whole or a wall line.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Place {
    /// What applies there, in the order of the registry.
    pub rows: Vec<Row>,
    /// What does not apply there, and why.
    pub not_applicable: Vec<Row>,
    /// How many of the rows fall short or are outside the provisions.
    pub deficiencies: usize,
    /// What is not determined, and what would decide it; checks that wait for the same stand together.
    pub left_open: Vec<LeftOpen>,
}

/// Checks that are left open in the same way.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LeftOpen {
    /// The titles of the checks.
    pub titles: Vec<String>,
    /// What was found, in a sentence.
    pub fact: String,
    /// Best and worst case.
    pub range: String,
    /// The observations that would decide it.
    pub decided_by: Vec<Open>,
}

/// One wall line.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct WallLine {
    /// Its number on the sketch.
    pub number: String,
    /// Its name.
    pub name: String,
    /// Its length and how that is known.
    pub length: String,
    /// Its verdict.
    pub verdict: Verdict,
    /// Its findings.
    pub findings: Place,
    /// A remark of whoever looked at it.
    pub remark: String,
}

/// One finding.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Row {
    /// The name of the check.
    pub check: String,
    /// The group of the check.
    pub group: String,
    /// The title of the check.
    pub title: String,
    /// The ruling.
    pub ruling: Ruling,
    /// The ruling in words.
    pub ruling_words: String,
    /// The best it can come to.
    pub best: Ruling,
    /// The worst it can come to.
    pub worst: Ruling,
    /// What was found, in a sentence.
    pub fact: String,
    /// Where along the wall line; null for all of it.
    pub station: Option<String>,
    /// What was found; null when nothing was.
    pub measured: Option<Amount>,
    /// What is asked for; null when it is not an amount.
    pub required: Option<Amount>,
    /// What is to spare or missing; null where there is no difference to take.
    pub margin: Option<Amount>,
    /// How it is known: measured, seen, reported, inferred, or not known.
    pub known: String,
    /// The clauses applied.
    pub clauses: Vec<Clause>,
    /// The observation it is about, as a path into the house file.
    pub path: Option<String>,
    /// The observations that would decide it.
    pub decided_by: Vec<Open>,
    /// Why it matters and what to do; null where nothing is amiss.
    pub help: Option<Help>,
    /// The amounts behind the words, for pages in other languages.
    #[serde(skip)]
    pub(crate) amounts: Amounts,
}

/// What was found and what is asked for, before it is put into words.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Amounts {
    pub(crate) measured: Quantity,
    pub(crate) required: Quantity,
    pub(crate) limit: Limit,
}

/// An amount for a reader and for a machine.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Amount {
    /// As it is shown; lengths to the nearest 1/16 in, marked where that is not exact.
    pub shown: String,
    /// Exactly; null where there is no more exact text.
    pub exact: Option<String>,
}

/// A clause that a finding applies.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Clause {
    /// The figures of this clause that are applied.
    pub figures: Vec<String>,
    /// Document, edition and section.
    pub clause: String,
    /// The section alone; the document where there is no section.
    pub section: String,
    /// How well its source was seen.
    pub standing: String,
    /// Whether it has to be confirmed before anyone leans on it.
    pub confirm: bool,
}

/// An observation that was not made.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Open {
    /// What to look at.
    pub what: String,
    /// Its path in the house file.
    pub path: String,
}

/// Why a check matters and what would satisfy it.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Help {
    /// Why it matters in an earthquake.
    pub why: String,
    /// What would satisfy it.
    pub satisfied_by: String,
    /// The general direction of the fix.
    pub fix: String,
}

/// What falls short at one place.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Shortfall {
    /// The number of the wall line; null for the house as a whole.
    pub number: Option<String>,
    /// The name of the wall line; null for the house as a whole.
    pub wall_line: Option<String>,
    /// The ruling.
    pub ruling: Ruling,
    /// The title of the governing check.
    pub title: String,
    /// What is found and asked for, or the fact where there are no amounts.
    pub detail: String,
    /// By how much; null where there is no difference to take.
    pub margin: Option<String>,
    /// The titles of everything else that falls short there.
    pub also: Vec<String>,
}

pub(super) fn place(assessment: &Assessment<'_>, wall_line: Option<usize>) -> Place {
    let (mut not_applicable, rows): (Vec<Row>, Vec<Row>) = assessment
        .findings_at(wall_line)
        .map(|finding| row(finding, assessment))
        .partition(|row| row.ruling == Ruling::NotApplicable);
    // A check of several parts gives the same reason for each; once is enough to read.
    not_applicable.dedup_by(|row, earlier| row.check == earlier.check && row.fact == earlier.fact);
    let falls_short = |row: &&Row| matches!(row.ruling, Ruling::NotMet | Ruling::Outside);
    Place {
        deficiencies: rows.iter().filter(falls_short).count(),
        left_open: left_open(&rows),
        rows,
        not_applicable,
    }
}

fn left_open(rows: &[Row]) -> Vec<LeftOpen> {
    let mut groups: Vec<LeftOpen> = Vec::new();
    for row in rows.iter().filter(|row| row.ruling == Ruling::NotDetermined) {
        let range = format!(
            "Best case {}, worst case {}.",
            row.best.words(),
            row.worst.words()
        );
        let group = groups.iter_mut().find(|group| {
            group.fact == row.fact && group.range == range && group.decided_by == row.decided_by
        });
        match group {
            Some(group) if group.titles.contains(&row.title) => {}
            Some(group) => group.titles.push(row.title.clone()),
            None => groups.push(LeftOpen {
                titles: vec![row.title.clone()],
                fact: row.fact.clone(),
                range,
                decided_by: row.decided_by.clone(),
            }),
        }
    }
    groups
}

pub(super) fn wall_lines(assessment: &Assessment<'_>) -> Vec<WallLine> {
    let walls = assessment.house.wall_lines.iter().zip(&assessment.wall_lines);
    walls
        .enumerate()
        .map(|(index, (wall, verdict))| WallLine {
            number: (index + 1).to_string(),
            name: plain(&wall.name),
            length: super::record::observed(&wall.length, |length| wording::length(*length)),
            verdict: Verdict::of(verdict, assessment),
            findings: place(assessment, Some(index)),
            remark: plain(&wall.note),
        })
        .collect()
}

/// What falls short, place by place; the first in the order of the registry governs, and what is outside the
/// provisions comes before what is not met.
pub(super) fn shortfalls(whole_house: &Place, wall_lines: &[WallLine]) -> Vec<Shortfall> {
    let whole = std::iter::once((None, None, whole_house));
    let lines = wall_lines
        .iter()
        .map(|line| (Some(line.number.clone()), Some(line.name.clone()), &line.findings));
    whole
        .chain(lines)
        .filter_map(|(number, wall_line, place)| {
            let of = |ruling: Ruling| place.rows.iter().filter(move |row| row.ruling == ruling);
            let mut falling_short = of(Ruling::Outside).chain(of(Ruling::NotMet));
            let governing = falling_short.next()?;
            let mut also: Vec<String> = Vec::new();
            for row in falling_short {
                if row.title != governing.title && !also.contains(&row.title) {
                    also.push(row.title.clone());
                }
            }
            Some(Shortfall {
                number,
                wall_line,
                ruling: governing.ruling,
                title: governing.title.clone(),
                detail: match (&governing.measured, &governing.required) {
                    (Some(measured), Some(required)) => {
                        format!("{} found, {} asked for", measured.shown, required.shown)
                    }
                    _ => governing.fact.trim_end_matches('.').to_owned(),
                },
                margin: governing.margin.as_ref().map(|margin| margin.shown.clone()),
                also,
            })
        })
        .collect()
}

/// The clauses applied, each once with its figures.
fn clauses(finding: &Finding, provisions: &Provisions) -> Vec<Clause> {
    let mut clauses: Vec<Clause> = Vec::new();
    for figure in finding.figures.iter().filter_map(|id| provisions.figure(id)) {
        let (title, clause) = (plain(&figure.title()), plain(&figure.clause()));
        let standing = super::figures::standing_words(figure);
        let same = clauses
            .iter_mut()
            .find(|other| other.clause == clause && other.standing == standing);
        if let Some(same) = same {
            same.figures.push(title);
            continue;
        }
        clauses.push(Clause {
            figures: vec![title],
            clause,
            section: plain(if figure.section.is_empty() {
                &figure.source.document
            } else {
                &figure.section
            }),
            standing: standing.to_owned(),
            confirm: super::figures::trust(figure) == Trust::Confirm,
        });
    }
    clauses
}

fn row(finding: &Finding, assessment: &Assessment<'_>) -> Row {
    let (check, provisions) = (finding.check(), assessment.provisions);
    let ruling = finding.outcomes.ruling();
    let amount = |shown: Option<String>, exact: Option<String>| shown.map(|shown| Amount { shown, exact });
    let open = |look_at: LookAt| Open {
        what: look_at.words().to_owned(),
        path: look_at.path(finding.wall_line, None),
    };
    let help = (!matches!(ruling, Ruling::Met | Ruling::NotApplicable)).then(|| Help {
        why: check.explanation.why.to_owned(),
        satisfied_by: check.explanation.satisfied_by.to_owned(),
        fix: check.explanation.fix.to_owned(),
    });
    Row {
        check: check.name.to_owned(),
        group: check.group.words().to_owned(),
        title: check.title.to_owned(),
        ruling,
        ruling_words: sentence_case(ruling.words()),
        best: wording::ruling_of(finding.outcomes.best()),
        worst: wording::ruling_of(finding.outcomes.worst()),
        fact: finding.fact.to_owned(),
        station: finding.span.map(wording::span),
        measured: amount(
            wording::quantity(finding.measured, provisions),
            wording::exact(finding.measured, provisions),
        ),
        required: amount(
            wording::required(finding.required, finding.limit, provisions),
            wording::exact(finding.required, provisions),
        ),
        margin: finding.margin().map(|margin| Amount {
            shown: wording::margin(margin),
            exact: Some(wording::exact_margin(margin)),
        }),
        known: finding.basis.map_or("not known", |basis| basis.word()).to_owned(),
        clauses: clauses(finding, provisions),
        path: finding.path(),
        decided_by: finding.deciding.iter().map(open).collect(),
        help,
        amounts: Amounts {
            measured: finding.measured,
            required: finding.required,
            limit: finding.limit,
        },
    }
}
