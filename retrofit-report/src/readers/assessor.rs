//! The sheet for an assessor who sorts many houses: verdict and tier, what governs, how much was seen, a row for each
//! side, what is unknown, what to look at next, and the rough cost.

use retrofit_core::check::{EvidenceGrade, Ruling};
use retrofit_core::prices::Cents;
use schemars::JsonSchema;
use serde::Serialize;

use super::HouseResult;
use super::amount;
use super::owner::{
    Everywhere, HeadRow, Item, Part, Place, Section, access, everywhere, falls_short, head, named_places,
    observation, was_not_seen, where_only,
};
use super::passage::Passage;
use crate::language::{LanguageError, Words};
use crate::result::wording::{plain, sentence_case};
use crate::result::{Row, WallLine};

/// The version of the format of an assessor's sheet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub enum Format {
    /// The first published format.
    #[default]
    #[serde(rename = "assessor-sheet-1")]
    AssessorSheet1,
}

/// The sheet for an assessor.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(title = "Assessor's sheet")]
pub struct AssessorSheet {
    /// The version of this format: always `assessor-sheet-1`.
    pub format: Format,
    /// The tag of the language.
    pub language: String,
    /// The name of the house.
    pub house: String,
    /// For whom the sheet is.
    pub kind: String,
    /// What takes a reader of the page by ear to the answer.
    pub skip: String,
    /// By which rules, when and by whom.
    pub head: Vec<HeadRow>,
    /// The ruling on the house.
    pub ruling: Ruling,
    /// The answer: what has to happen with this house.
    pub headline: String,
    /// The heading over the facts.
    pub summary: String,
    /// What an assessor sorts by.
    pub facts: Vec<HeadRow>,
    /// The heading over the sides.
    pub sides_heading: String,
    /// The columns of the table of sides.
    pub columns: Vec<String>,
    /// A row for each side.
    pub sides: Vec<SideRow>,
    /// What is unknown, what to look at next and what was not seen.
    pub sections: Vec<Section>,
    /// What the sheet is and is not.
    pub about: Section,
}

/// A side in a row.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SideRow {
    /// Its number.
    pub number: String,
    /// Its name.
    pub name: String,
    /// What it came to.
    pub ruling: Ruling,
    /// The same in words.
    pub words: String,
    /// Best and worst case; empty where they are the same.
    pub range: String,
    /// What governs; empty where nothing falls short.
    pub governing: String,
    /// What was found and what is asked for there; may be empty.
    pub amounts: String,
    /// How many findings fall short.
    pub short: usize,
    /// How many findings are open.
    pub open: u32,
}

impl AssessorSheet {
    /// Puts a result on a sheet.
    pub fn new(result: &HouseResult, words: &Words) -> Result<Self, LanguageError> {
        let verdict = &result.report.verdict;
        let key = amount::key_of(verdict.ruling);
        let mut sides = Vec::with_capacity(result.report.wall_lines.len());
        for line in &result.report.wall_lines {
            sides.push(SideRow::of(line, words)?);
        }
        let mut columns = Vec::new();
        for key in [
            "column-side",
            "column-verdict",
            "column-governing",
            "column-found",
            "column-others",
            "column-open",
        ] {
            columns.push(words.term(key)?);
        }
        Ok(Self {
            format: Format::AssessorSheet1,
            language: words.language().tag().to_owned(),
            house: result.report.house.clone(),
            kind: words.term("assessor-kind")?,
            skip: words.term("skip-to-answer")?,
            head: head(result, words)?,
            ruling: verdict.ruling,
            headline: words.term(&format!("tier-{key}"))?,
            summary: words.term("assessor-summary")?,
            facts: facts(result, words)?,
            sides_heading: words.term("assessor-sides")?,
            columns,
            sides,
            sections: vec![
                open(result, words)?,
                next(result, words)?,
                not_seen(result, words)?,
            ],
            about: section("about", "owner-about", vec![paragraph("deferral", words)?], words)?,
        })
    }
}

impl SideRow {
    fn of(line: &WallLine, words: &Words) -> Result<Self, LanguageError> {
        let verdict = &line.verdict;
        let governing = governing(line.findings.rows.iter());
        let (title, amounts) = match governing {
            Some(row) => (words.term(&format!("{}.title", row.check))?, amounts(row, words)?),
            None => (String::new(), String::new()),
        };
        Ok(Self {
            number: line.number.clone(),
            name: amount::side_name(&line.name, words)?,
            ruling: verdict.ruling,
            words: amount::ruling(verdict.ruling, words)?,
            range: if verdict.best == verdict.worst {
                String::new()
            } else {
                range(verdict.best, verdict.worst, words)?
            },
            governing: title,
            amounts,
            short: line.findings.deficiencies,
            open: verdict.counts.not_determined,
        })
    }
}

/// What falls short and comes first: outside the provisions before not met, each in the order of the registry.
fn governing<'a>(rows: impl Iterator<Item = &'a Row> + Clone) -> Option<&'a Row> {
    let of = |ruling: Ruling| rows.clone().find(move |row| row.ruling == ruling);
    of(Ruling::Outside).or_else(|| of(Ruling::NotMet))
}

fn amounts(row: &Row, words: &Words) -> Result<String, LanguageError> {
    Ok(match amount::found_and_asked(row.amounts, words)? {
        Some((found, asked)) => words.say(
            "amount-found-and-asked",
            &[("found", found.into()), ("asked", asked.into())],
        )?,
        None => String::new(),
    })
}

fn range(best: Ruling, worst: Ruling, words: &Words) -> Result<String, LanguageError> {
    words.say(
        "assessor-best-to-worst",
        &[
            ("best", amount::ruling(best, words)?.into()),
            ("worst", amount::ruling(worst, words)?.into()),
        ],
    )
}

fn facts(result: &HouseResult, words: &Words) -> Result<Vec<HeadRow>, LanguageError> {
    let verdict = &result.report.verdict;
    let ruling = amount::ruling(verdict.ruling, words)?;
    let ruling = if verdict.to_confirm.is_empty() {
        ruling
    } else {
        words.say("assessor-to-confirm", &[("ruling", ruling.into())])?
    };
    let building = &result.house.building;
    let facts = [
        ("assessor-verdict", ruling),
        ("assessor-range", range(verdict.best, verdict.worst, words)?),
        ("assessor-governing", governing_of_house(result, words)?),
        ("assessor-evidence", evidence(result, words)?),
        ("assessor-lines", lines(result, words)?),
        ("assessor-cost", cost(result, words)?),
        (
            "assessor-built",
            building
                .year_built
                .value()
                .map(u16::to_string)
                .unwrap_or_default(),
        ),
        (
            "assessor-stories",
            building
                .stories
                .value()
                .map(ToString::to_string)
                .unwrap_or_default(),
        ),
        ("assessor-access", words.term(access(&result.house))?),
    ];
    let mut rows = Vec::new();
    for (key, value) in facts {
        if !value.is_empty() {
            rows.push(HeadRow {
                name: words.term(key)?,
                value,
                language: None,
            });
        }
    }
    Ok(rows)
}

fn governing_of_house(result: &HouseResult, words: &Words) -> Result<String, LanguageError> {
    let short = everywhere(&result.report, falls_short);
    let of = |wanted: Ruling| {
        let has = move |(_, rows): &(_, Vec<&Row>)| rows.iter().any(|row| row.ruling == wanted);
        short
            .iter()
            .find(move |everywhere| everywhere.places.iter().any(has))
    };
    match of(Ruling::Outside).or_else(|| of(Ruling::NotMet)) {
        Some(Everywhere { check, .. }) => words.term(&format!("{}.title", check.name)),
        None => words.term("assessor-none"),
    }
}

fn evidence(result: &HouseResult, words: &Words) -> Result<String, LanguageError> {
    let evidence = result.evidence;
    let grade = words.term(match evidence.grade {
        EvidenceGrade::Most => "evidence-most",
        EvidenceGrade::Some => "evidence-some",
        EvidenceGrade::Little => "evidence-little",
    })?;
    words.say(
        "assessor-evidence-counts",
        &[
            ("grade", grade.into()),
            ("all", evidence.all.into()),
            ("witnessed", evidence.measured_or_seen.into()),
            ("told", evidence.reported_or_inferred.into()),
            ("unsaid", evidence.unsaid.into()),
            ("open", evidence.open.into()),
        ],
    )
}

fn lines(result: &HouseResult, words: &Words) -> Result<String, LanguageError> {
    let counts = result.wall_lines;
    words.say(
        "assessor-lines-counts",
        &[
            ("outside", counts.outside.into()),
            ("short", counts.not_met.into()),
            ("open", counts.not_determined.into()),
            ("met", counts.met.into()),
        ],
    )
}

fn cost(result: &HouseResult, words: &Words) -> Result<String, LanguageError> {
    let (takeoff, worksheet) = (&result.takeoff, &result.worksheet);
    let is_partly = !worksheet.is_complete || !takeoff.not_counted.is_empty();
    if result.pieces.total().high <= Cents::ZERO {
        return words.term(if is_partly {
            "assessor-cost-none"
        } else {
            "assessor-cost-no-work"
        });
    }
    let rough = &takeoff.rough_total;
    let mut cost = words.say(
        "cost-range",
        &[
            ("low", amount::dollars(&rough.low).into()),
            ("high", amount::dollars(&rough.high).into()),
        ],
    )?;
    if is_partly {
        cost = words.say("assessor-cost-partly", &[("cost", cost.into())])?;
    }
    if !takeoff.placeholders.is_empty() {
        cost = words.say("assessor-cost-placeholders", &[("cost", cost.into())])?;
    }
    Ok(cost)
}

fn section(id: &str, heading: &str, parts: Vec<Part>, words: &Words) -> Result<Section, LanguageError> {
    Ok(Section {
        id: id.to_owned(),
        heading: words.term(heading)?,
        parts,
    })
}

fn paragraph(key: &str, words: &Words) -> Result<Part, LanguageError> {
    Ok(Part::Paragraph {
        passage: Passage::plain(words.term(key)?),
    })
}

fn item(ruling: Option<Ruling>, text: String, places: Vec<Place>) -> Item {
    Item {
        ruling,
        passage: Passage::plain(text),
        places,
    }
}

fn open(result: &HouseResult, words: &Words) -> Result<Section, LanguageError> {
    let report = &result.report;
    let mut items = Vec::new();
    for everywhere in everywhere(report, was_not_seen) {
        let title = words.term(&format!("{}.title", everywhere.check.name))?;
        items.push(item(
            Some(Ruling::NotDetermined),
            title,
            where_only(&everywhere, report, words)?,
        ));
    }
    let mut parts = if items.is_empty() {
        vec![paragraph("assessor-nothing-open", words)?]
    } else {
        vec![Part::List { items }]
    };
    let is_figure = |row: &Row| row.ruling == Ruling::NotDetermined && !was_not_seen(row);
    if !everywhere(report, is_figure).is_empty() {
        parts.push(paragraph("assessor-figures-open", words)?);
    }
    section("open", "assessor-open", parts, words)
}

fn next(result: &HouseResult, words: &Words) -> Result<Section, LanguageError> {
    let report = &result.report;
    let mut items = Vec::new();
    for look in &report.next {
        let what = words.term(&observation(look.look_at))?;
        let mut passage = Passage::plain(format!("{}.", sentence_case(&what)));
        passage
            .meanings
            .push(words.say("assessor-look-decides", &[("count", look.decides.into())])?);
        items.push(Item {
            ruling: None,
            passage,
            places: named_places(&look.places, report, words)?,
        });
    }
    let parts = if items.is_empty() {
        vec![paragraph("assessor-nothing-next", words)?]
    } else {
        vec![Part::List { items }]
    };
    section("next", "assessor-next", parts, words)
}

fn not_seen(result: &HouseResult, words: &Words) -> Result<Section, LanguageError> {
    let mut parts = vec![paragraph(access(&result.house), words)?];
    let walls = result.house.wall_lines.iter();
    let names: Vec<String> = walls
        .filter(|wall| !wall.unseen.is_empty())
        .map(|wall| plain(&wall.name))
        .collect();
    if !names.is_empty() {
        let places = named_places(&names, &result.report, words)?;
        parts.push(Part::List {
            items: vec![item(None, words.term("not-seen-stretches")?, places)],
        });
    }
    parts.push(paragraph("not-seen-rest", words)?);
    section("not-seen", "assessor-not-seen", parts, words)
}
