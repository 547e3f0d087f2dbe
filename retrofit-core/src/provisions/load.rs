//! Reading a set of provisions from the text of its tables, with every fault located.

use super::catalog::FigureName;
use super::figure::{Attestation, Case, Compare, Content, Figure, Source, Standing, Value};
use crate::by_name::by_name;
use crate::choice::{Choice, nearest};
use crate::house::{CheckedOn, WeightCase};
use crate::measure::{Length, Percent};
use crate::table::{Row, TableError, TableFile, each_row};
use serde::Deserialize;

/// The head of a set: what `set.json` holds.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Head {
    pub(super) id: String,
    pub(super) title: String,
    pub(super) document: String,
    #[serde(default)]
    pub(super) edition: String,
    #[serde(default)]
    pub(super) jurisdiction: String,
    #[serde(default)]
    pub(super) summary: String,
    #[serde(default)]
    pub(super) comparison_only: bool,
    #[serde(default)]
    pub(super) extends: Option<String>,
    #[serde(default)]
    pub(super) notes: Vec<String>,
}

/// A set as its folder gives it, before it is resolved.
pub(super) struct ReadSet {
    pub(super) head: Head,
    pub(super) figures: Vec<Figure>,
    pub(super) attested: Vec<Attested>,
}

/// One row of `attested.csv`.
pub(super) struct Attested {
    file: TableFile,
    line: u64,
    name: FigureName,
    case: Case,
    value: Value,
    attestation: Attestation,
}

const FIGURE_COLUMNS: [&str; 14] = [
    "figure",
    "stories",
    "weight",
    "diameter",
    "piece_over",
    "piece_up_to",
    "stud_over",
    "stud_up_to",
    "compare",
    "value",
    "source",
    "section",
    "standing",
    "note",
];
const SOURCE_COLUMNS: [&str; 7] = [
    "source",
    "document",
    "edition",
    "publisher",
    "where",
    "seen_on",
    "note",
];
const ATTESTED_COLUMNS: [&str; 14] = [
    "figure",
    "stories",
    "weight",
    "diameter",
    "piece_over",
    "piece_up_to",
    "stud_over",
    "stud_up_to",
    "value",
    "document",
    "edition",
    "page",
    "attested_by",
    "attested_on",
];

/// Reads a folder that is a set of its own.
pub(super) fn read_set(id: &str, files: &[TableFile]) -> Result<ReadSet, Vec<TableError>> {
    let Some(file) = files.iter().find(|file| file.name == "set.json") else {
        return Err(vec![TableError::set(
            id,
            "the folder holds no set.json".to_owned(),
        )]);
    };
    let mut reader = serde_json::Deserializer::from_str(&file.text);
    let head: Head = by_name(&mut reader)
        .and_then(|head| reader.end().map(|()| head))
        .map_err(|error| vec![TableError::file(file, error)])?;
    if head.id != id {
        let fault = format!(
            "found the id {:?}; expected {id:?}, the name of the folder",
            head.id
        );
        return Err(vec![TableError::file(file, fault)]);
    }
    read_tables(files, head)
}

/// Reads a folder that overrides and attests figures of a shipped set; its `set.json` may be left out.
pub(super) fn read_overlay(id: &str, files: &[TableFile], base: Head) -> Result<ReadSet, Vec<TableError>> {
    if files.iter().any(|file| file.name == "set.json") {
        read_set(id, files)
    } else {
        read_tables(files, base)
    }
}

fn read_tables(files: &[TableFile], head: Head) -> Result<ReadSet, Vec<TableError>> {
    let mut faults = Vec::new();
    let mut sources = Vec::new();
    for file in files.iter().filter(|file| file.name == "sources.csv") {
        each_row(file, &SOURCE_COLUMNS, &mut faults, |row| {
            let source = Source {
                key: row.required("source")?.to_owned(),
                document: row.required("document")?.to_owned(),
                edition: row.get("edition").to_owned(),
                publisher: row.get("publisher").to_owned(),
                seen_at: row.get("where").to_owned(),
                seen_on: row.get("seen_on").to_owned(),
                note: row.get("note").to_owned(),
            };
            if sources.iter().any(|other: &Source| other.key == source.key) {
                return Err(row.fault("source", format!("the source {:?} stands twice", source.key)));
            }
            sources.push(source);
            Ok(())
        });
    }
    let mut figures: Vec<Figure> = Vec::new();
    let mut attested = Vec::new();
    for file in files {
        match file.name.as_str() {
            "set.json" | "sources.csv" => {}
            "attested.csv" => each_row(file, &ATTESTED_COLUMNS, &mut faults, |row| {
                attested.push(read_attested(row)?);
                Ok(())
            }),
            name if has_extension(name, "csv") => each_row(file, &FIGURE_COLUMNS, &mut faults, |row| {
                let figure = read_figure(row, &sources)?;
                if let Some(twin) = figures.iter().find(|other| is_same_place(other, &figure)) {
                    return Err(row.fault(
                        "figure",
                        format!("the same figure and case stand at {}", twin.row),
                    ));
                }
                figures.push(figure);
                Ok(())
            }),
            name if has_extension(name, "md") => {}
            _ => faults.push(TableError::file(
                file,
                "found a file that is not a table; expected .csv, set.json or .md",
            )),
        }
    }
    if faults.is_empty() {
        Ok(ReadSet {
            head,
            figures,
            attested,
        })
    } else {
        Err(faults)
    }
}

fn has_extension(name: &str, extension: &str) -> bool {
    name.rsplit_once('.')
        .is_some_and(|(_, found)| found.eq_ignore_ascii_case(extension))
}

fn is_same_place(a: &Figure, b: &Figure) -> bool {
    a.name == b.name && a.case == b.case
}

/// Two rows that both apply to some house, neither of them the narrower, would leave it open which counts.
pub(super) fn refuse_contradictions(id: &str, figures: &[Figure]) -> Result<(), Vec<TableError>> {
    let mut faults = Vec::new();
    for (index, figure) in figures.iter().enumerate() {
        let earlier = figures
            .iter()
            .take(index)
            .filter(|other| other.name == figure.name);
        let fault = earlier.into_iter().find_map(|other| {
            let expected = contradiction(figures, figure, other)?;
            Some(format!(
                "{} is given at {} and at {} {expected}",
                figure.name.words(),
                other.row,
                figure.row
            ))
        });
        faults.extend(fault.map(|fault| TableError::set(id, fault)));
    }
    if faults.is_empty() { Ok(()) } else { Err(faults) }
}

/// Why two rows of a figure cannot be held side by side, and what was expected.
fn contradiction(figures: &[Figure], one: &Figure, other: &Figure) -> Option<&'static str> {
    let nests = one.case.covers(&other.case) || other.case.covers(&one.case);
    if one.case.meets(&other.case) {
        return (!nests)
            .then_some("for cases that overlap; expected one to be the narrower, or none in common");
    }
    if one.case.diameter == other.case.diameter || !one.case.meets_house(&other.case) {
        return None;
    }
    // The rows by diameter that apply to one house are read side by side.
    if one.name == FigureName::AnchorSpacing {
        if one.case.diameter.is_none() || other.case.diameter.is_none() {
            return Some(
                "for one house, once for any diameter and once for a diameter; expected a diameter in both",
            );
        }
        if matches!(one.content, Content::None) != matches!(other.content, Content::None) {
            return Some(
                "for one house, once as none; expected a value or missing, or no row for a diameter that \
                 does not count",
            );
        }
    }
    let (broad, narrow) = match (
        one.case.covers_house(&other.case),
        other.case.covers_house(&one.case),
    ) {
        (true, true) => return None,
        (true, false) => (one, other),
        (false, true) => (other, one),
        (false, false) => {
            return Some("for houses that overlap; expected one to be the narrower, or none in common");
        }
    };
    let gives_way = figures.iter().any(|row| {
        row.name == broad.name
            && row.case.is_same_place(&broad.case)
            && row.case.covers_house(&narrow.case)
            && !row.case.covers_house(&broad.case)
    });
    (!nests && !gives_way).then_some(
        "for two diameters, of which one holds for more houses; expected a row for each diameter in each \
         case, because both would apply where the cases overlap",
    )
}

/// Rows of the second list replace the rows of the first that they cover: a row for any number of stories
/// replaces the rows for one, two and three, which would otherwise go on applying unnoticed. Anchor spacings by
/// diameter replace one for any diameter, so that a figure nobody had seen can be filled in.
pub(super) fn overlay(base: Vec<Figure>, over: Vec<Figure>) -> Vec<Figure> {
    let is_replaced = |figure: &Figure| {
        let is_for_any_diameter = figure.name == FigureName::AnchorSpacing && figure.case.diameter.is_none();
        over.iter().any(|other| {
            other.name == figure.name
                && (other.case.covers(&figure.case)
                    || is_for_any_diameter && other.case.covers_house(&figure.case))
        })
    };
    let mut figures: Vec<Figure> = base.into_iter().filter(|figure| !is_replaced(figure)).collect();
    figures.extend(over);
    figures
}

/// Hangs attestations on the figures they confirm; one that confirms another value is a fault.
pub(super) fn attest(set: &mut ReadSet) -> Result<(), Vec<TableError>> {
    let mut faults = Vec::new();
    for row in &set.attested {
        let place = set
            .figures
            .iter_mut()
            .find(|figure| figure.name == row.name && figure.case == row.case);
        match place {
            Some(figure) if figure.attested.is_some() => faults.push(TableError::cell(
                &row.file,
                row.line,
                "figure",
                "the figure and case are attested a second time; expected once",
            )),
            Some(figure) if figure.value() == Some(row.value) => {
                figure.attested = Some(row.attestation.clone());
            }
            Some(figure) => {
                let held = figure
                    .value()
                    .map_or_else(|| "no value".to_owned(), |value| value.to_string());
                faults.push(TableError::cell(
                    &row.file,
                    row.line,
                    "value",
                    format!(
                        "attested {}, but the table holds {held} ({}); to use another value, put it in a figure table of this folder",
                        row.value, figure.row
                    ),
                ));
            }
            None => faults.push(TableError::cell(
                &row.file,
                row.line,
                "figure",
                "the set has no row for this figure and case; attest a row that it has",
            )),
        }
    }
    set.attested.clear();
    if faults.is_empty() { Ok(()) } else { Err(faults) }
}

// ---- Rows ----------------------------------------------------------------------------------------------

fn read_name(row: &Row<'_>) -> Result<FigureName, TableError> {
    row.required("figure")?
        .parse()
        .map_err(|error| row.fault("figure", error))
}

fn read_length(text: &str) -> Result<Length, String> {
    text.parse()
        .map_err(|error: crate::measure::MeasureError| error.to_string())
}

/// Reads the case of a row, as far as the figure can have one: a check would not see the rest.
fn read_case(row: &Row<'_>, name: FigureName) -> Result<Case, TableError> {
    let by_diameter: &[_] = if name.goes_by_diameter() {
        &[]
    } else {
        &["diameter"]
    };
    let by_piece: &[_] = if name.goes_by_piece() {
        &[]
    } else {
        &["piece_over", "piece_up_to"]
    };
    for column in by_diameter.iter().chain(by_piece) {
        if !row.get(column).is_empty() {
            let fault = format!(
                "found {:?}; expected nothing, because {name} does not go by it",
                row.get(column),
            );
            return Err(row.fault(column, fault));
        }
    }
    let case = Case {
        stories: row.optional("stories", |text| match text.parse() {
            Ok(stories @ 1..=4) => Ok(stories),
            _ => Err(format!("found {text:?}; expected 1, 2, 3, 4 or nothing for any")),
        })?,
        weight: row.optional("weight", |text| match text {
            "heavy" => Ok(WeightCase::Heavy),
            "other" => Ok(WeightCase::Other),
            _ => Err(format!(
                "found {text:?}; expected heavy, other or nothing for any"
            )),
        })?,
        diameter: row.optional("diameter", read_length)?,
        piece_over: row.optional("piece_over", read_length)?,
        piece_up_to: row.optional("piece_up_to", read_length)?,
        stud_over: row.optional("stud_over", read_length)?,
        stud_up_to: row.optional("stud_up_to", read_length)?,
    };
    for (column, over, up_to) in [
        ("piece_up_to", case.piece_over, case.piece_up_to),
        ("stud_up_to", case.stud_over, case.stud_up_to),
    ] {
        if let (Some(over), Some(up_to)) = (over, up_to)
            && over >= up_to
        {
            return Err(row.fault(column, format!("found {up_to}; expected more than {over}")));
        }
    }
    Ok(case)
}

fn read_value(row: &Row<'_>, name: FigureName, text: &str) -> Result<Value, TableError> {
    let value = Value::parse(name.measure(), text).map_err(|fault| row.fault("value", fault))?;
    match value {
        Value::Percent(share) if name.is_share() && share > Percent::WHOLE => Err(row.fault(
            "value",
            format!("found {share}; expected at most {}", Percent::WHOLE),
        )),
        value => Ok(value),
    }
}

fn read_figure(row: &Row<'_>, sources: &[Source]) -> Result<Figure, TableError> {
    let name = read_name(row)?;
    let key = row.required("source")?;
    let source = sources
        .iter()
        .find(|source| source.key == key)
        .cloned()
        .ok_or_else(|| {
            let near = nearest(key, sources.iter().map(|source| source.key.as_str()))
                .map_or_else(String::new, |near| format!("; did you mean {near:?}?"));
            row.fault(
                "source",
                format!("found {key:?}; expected a source of sources.csv{near}"),
            )
        })?;
    let compare = match row.get("compare") {
        "less-than" if !name.can_exclude_its_limit() => {
            let fault = format!(
                "found \"less-than\"; expected nothing, because the check of {name} lets the limit itself pass"
            );
            return Err(row.fault("compare", fault));
        }
        "less-than" => Compare::LessThan,
        "" | "at-most" | "at-least" => Compare::Inclusive,
        other => {
            return Err(row.fault(
                "compare",
                format!("found {other:?}; expected less-than, at-most, at-least or nothing"),
            ));
        }
    };
    let standing = match row.required("standing")? {
        "missing" | "none" => None,
        other => Some(Standing::spelled(other).ok_or_else(|| {
            row.fault(
                "standing",
                format!(
                    "found {other:?}; expected verified, secondary, memory, common practice, missing or none"
                ),
            )
        })?),
    };
    let content = match (standing, row.get("value")) {
        (Some(_), "") => {
            return Err(row.fault(
                "value",
                "found an empty cell; expected a value, or standing missing or none",
            ));
        }
        (Some(standing), text) => Content::Value(read_value(row, name, text)?, compare, standing),
        (None, "") if row.get("standing") == "missing" => Content::Missing,
        (None, "") => Content::None,
        (None, text) => {
            return Err(row.fault(
                "value",
                format!("found {text:?}; expected nothing, because the standing says there is no figure"),
            ));
        }
    };
    Ok(Figure {
        name,
        case: read_case(row, name)?,
        content,
        source,
        section: row.get("section").to_owned(),
        note: row.get("note").to_owned(),
        attested: None,
        row: format!("{}, line {}", row.file.path, row.line),
    })
}

fn read_attested(row: &Row<'_>) -> Result<Attested, TableError> {
    let name = read_name(row)?;
    Ok(Attested {
        file: row.file.clone(),
        line: row.line,
        name,
        case: read_case(row, name)?,
        value: read_value(row, name, row.required("value")?)?,
        attestation: Attestation {
            document: row.required("document")?.to_owned(),
            edition: row.required("edition")?.to_owned(),
            page: row.required("page")?.to_owned(),
            by: row.required("attested_by")?.to_owned(),
            on: row
                .required("attested_on")?
                .parse::<CheckedOn>()
                .map_err(|fault| row.fault("attested_on", fault))?
                .to_string(),
        },
    })
}
