//! The same house under several sets of provisions.

use retrofit_core::check::Ruling;
use schemars::JsonSchema;
use serde::Serialize;

use super::{Place, Report, Row, Verdict, wording};

/// The version of the comparison format.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub enum ComparisonFormat {
    /// The first published format of a comparison.
    #[default]
    #[serde(rename = "comparison-1")]
    Comparison1,
}

/// The same house under several sets of provisions: where they agree, where they do not, and which limits
/// differ. The disagreement is the result; none of the sets is taken to be the right one.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(title = "Comparison of results")]
pub struct Comparison {
    /// The version of this format: always `comparison-1`.
    pub format: ComparisonFormat,
    /// The version of the program that wrote it.
    pub program_version: String,
    /// The name of the input file.
    pub input_file: String,
    /// The SHA-256 of the input.
    pub input_sha256: String,
    /// The name of the house.
    pub house: String,
    /// The sets, in the order given.
    pub sets: Vec<ComparedSet>,
    /// Whether the sets come to different rulings on the house.
    pub disagree: bool,
    /// The answer in a sentence.
    pub answer: String,
    /// The verdicts on the house as a whole and on each wall line.
    pub places: Vec<ComparedPlace>,
    /// The limits that differ.
    pub limits: Vec<ComparedLimit>,
    /// What the engineering screen is, or why there is none; null where none was asked for.
    pub screen: Option<String>,
    /// To whom the reader has to turn.
    pub deferral: String,
}

/// One set of a comparison.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ComparedSet {
    /// The name by which it is chosen.
    pub id: String,
    /// Its title.
    pub title: String,
    /// Whether it must not be used to judge an older house.
    pub comparison_only: bool,
}

/// The verdicts of all sets on one place, in the order of the sets.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ComparedPlace {
    /// The house or the wall line.
    pub name: String,
    /// Whether the rulings differ.
    pub disagree: bool,
    /// How its load path stands by the engineering screen, which knows no set of provisions; null where it is not
    /// screened.
    pub screen: Option<&'static str>,
    /// The verdicts.
    pub verdicts: Vec<Verdict>,
}

/// A limit that differs between sets.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ComparedLimit {
    /// The title of the check.
    pub title: String,
    /// Where: the wall lines, or nothing for the house as a whole.
    pub places: Vec<String>,
    /// The limit in each set.
    pub limits: Vec<LimitInSet>,
}

/// A limit in one set.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LimitInSet {
    /// The limit in words.
    pub shown: String,
    /// The section and how well it was seen; empty where the set asks nothing.
    pub clause: String,
    /// Whether it has to be confirmed.
    pub confirm: bool,
}

impl Comparison {
    /// Brings reports on one house together.
    pub fn new(reports: &[Report]) -> Self {
        let first = reports.first();
        let text = |of: fn(&Report) -> &String| first.map(of).cloned().unwrap_or_default();
        let sets = reports
            .iter()
            .map(|report| ComparedSet {
                id: report.provisions.id.clone(),
                title: report.provisions.title.clone(),
                comparison_only: report.provisions.comparison_only,
            })
            .collect();
        let mut places = vec![compared(
            "the house".to_owned(),
            reports.iter().map(|report| report.verdict.clone()).collect(),
        )];
        for (index, line) in first
            .into_iter()
            .flat_map(|report| &report.wall_lines)
            .enumerate()
        {
            let verdicts = reports
                .iter()
                .filter_map(|report| report.wall_lines.get(index))
                .map(|line| line.verdict.clone())
                .collect();
            let mut place = compared(line.name.clone(), verdicts);
            place.screen = first.and_then(|report| {
                let mut rows = report.screen.as_ref()?.rows.iter();
                rows.find(|row| row.numbers.contains(&(index + 1)))
                    .map(|row| row.path_words)
            });
            places.push(place);
        }
        let disagree = places.first().is_some_and(|house| house.disagree);
        let on_a_line = places.iter().skip(1).filter(|place| place.disagree).count();
        let answer = match (disagree, on_a_line) {
            (true, _) => "The sets come to different verdicts on the house.".to_owned(),
            (false, 0) => "The sets come to the same verdict on the house and on every wall line.".to_owned(),
            (false, 1) => "The sets agree on the house and differ on one wall line.".to_owned(),
            (false, lines) => format!("The sets agree on the house and differ on {lines} wall lines."),
        };
        Self {
            format: ComparisonFormat::Comparison1,
            program_version: text(|report| &report.program_version),
            input_file: text(|report| &report.input_file),
            input_sha256: text(|report| &report.input_sha256),
            house: text(|report| &report.house),
            sets,
            disagree,
            answer,
            places,
            limits: limits(reports),
            screen: first.and_then(|report| Some(report.screen.as_ref()?.about.clone())),
            deferral: wording::DEFERRAL_COMPARED.to_owned(),
        }
    }
}

fn compared(name: String, verdicts: Vec<Verdict>) -> ComparedPlace {
    let mut rulings = verdicts.iter().map(|verdict| verdict.ruling);
    let first = rulings.next();
    ComparedPlace {
        name,
        disagree: rulings.any(|ruling| Some(ruling) != first),
        screen: None,
        verdicts,
    }
}

/// The limits that differ; wall lines on which they differ in the same way stand together.
fn limits(reports: &[Report]) -> Vec<ComparedLimit> {
    let mut limits: Vec<ComparedLimit> = Vec::new();
    let Some(first) = reports.first() else {
        return limits;
    };
    let lines = first.wall_lines.iter().enumerate();
    let places =
        std::iter::once((None, None)).chain(lines.map(|(index, line)| (Some(index), Some(&line.name))));
    for (index, name) in places {
        let at: Vec<&Place> = reports.iter().filter_map(|report| place(report, index)).collect();
        for check in checks_of(&at) {
            let in_sets: Vec<LimitInSet> = at.iter().map(|place| limit(place, check)).collect();
            let Some(title) = at
                .iter()
                .find_map(|place| Some(rows_of(place, check).next()?.title.clone()))
            else {
                continue;
            };
            let is_same =
                |other: &LimitInSet| in_sets.first().is_some_and(|first| first.shown == other.shown);
            if in_sets.iter().all(is_same) {
                continue;
            }
            let twin = limits
                .iter_mut()
                .find(|other| other.title == title && other.limits == in_sets && name.is_some());
            match (twin, name) {
                (Some(twin), Some(name)) => twin.places.push(name.clone()),
                _ => limits.push(ComparedLimit {
                    title,
                    places: name.into_iter().cloned().collect(),
                    limits: in_sets,
                }),
            }
        }
    }
    limits
}

fn place(report: &Report, index: Option<usize>) -> Option<&Place> {
    match index {
        None => Some(&report.whole_house),
        Some(index) => report.wall_lines.get(index).map(|line| &line.findings),
    }
}

/// The names of all checks at a place, each once, in the order in which they first stand.
fn checks_of<'a>(places: &[&'a Place]) -> Vec<&'a str> {
    let mut checks = Vec::new();
    for row in places
        .iter()
        .flat_map(|place| place.rows.iter().chain(&place.not_applicable))
    {
        if !checks.contains(&row.check.as_str()) {
            checks.push(&row.check);
        }
    }
    checks
}

fn rows_of<'a>(place: &'a Place, check: &'a str) -> impl Iterator<Item = &'a Row> {
    place
        .rows
        .iter()
        .chain(&place.not_applicable)
        .filter(move |row| row.check == check)
}

fn limit(place: &Place, check: &str) -> LimitInSet {
    let mut shown: Vec<&str> = Vec::new();
    let mut clauses: Vec<String> = Vec::new();
    let (mut applies, mut confirm) = (false, false);
    for row in rows_of(place, check) {
        if row.ruling == Ruling::NotApplicable {
            continue;
        }
        applies = true;
        if let Some(required) = &row.required
            && !shown.contains(&required.shown.as_str())
        {
            shown.push(&required.shown);
        }
        for clause in &row.clauses {
            confirm |= clause.confirm;
            if !clauses.contains(&clause.section) {
                clauses.push(clause.section.clone());
            }
        }
    }
    LimitInSet {
        shown: match (applies, shown.is_empty(), confirm) {
            (false, ..) => "asks nothing here".to_owned(),
            (true, true, true) => "the figure was not seen".to_owned(),
            (true, true, false) => "asks, without an amount".to_owned(),
            (true, false, _) => shown.join("; "),
        },
        clause: clauses.join("; "),
        confirm,
    }
}
