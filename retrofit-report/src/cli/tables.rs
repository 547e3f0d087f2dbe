//! `retrofit tables`: the sets of provisions, and every figure with its source.

use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use retrofit_core::choice::{Choice, parse_choice};
use retrofit_core::provisions::{
    Attestation, Compare, Content, Figure, FigureName, Library, Provisions, Source, Standing,
};
use retrofit_report::input::table_folders;
use serde::Serialize;

use super::console::Console;
use super::exit::{Failure, Status};
use super::explain::as_json;
use super::provisions::TablesArgs;
use super::words::Page;

/// List the sets of provisions, or print one with the source of every figure
///
/// Each figure is shown with its document, edition and section, and with how well its source was seen. A
/// figure that nobody has seen in its document says so, here and in every report that uses it.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Tables {
    /// The set to print; left out, the sets are listed
    #[arg(value_name = "SET")]
    set: Option<String>,
    /// Print only the rows of this figure; without a set, those of all sets
    #[arg(long, value_name = "NAME")]
    figure: Option<String>,
    /// How to print it
    #[arg(long, value_name = "FORMAT", default_value = "text", value_enum)]
    format: Format,
    /// Read a folder of tables and tell whether it is in order
    #[arg(long, value_name = "DIR", conflicts_with_all = ["set", "figure", "format", "folders"])]
    check: Option<PathBuf>,
    #[command(flatten)]
    from: TablesArgs,
}

const EXAMPLES: &str = "\
Examples:
  retrofit tables
      The sets, with how many of their figures were seen in the document.
  retrofit tables cebc-a3-2013
      Every figure of a set.
  retrofit tables --figure anchor-spacing
      One figure in every set, to see where they disagree.
  retrofit tables iebc-a3-2021 --format csv > figures.csv
      For a spreadsheet.
  retrofit tables --check our-tables
      Before using `--tables our-tables`: every fault with file, line and column.";

/// How tables are printed.
#[derive(Clone, Copy, Debug, ValueEnum)]
enum Format {
    /// For a reader
    Text,
    /// For a machine
    Json,
    /// For a spreadsheet
    Csv,
}

impl Tables {
    pub(super) fn run(self, console: &mut Console) -> Result<Status, Failure> {
        if let Some(folder) = &self.check {
            return check_folder(folder, console);
        }
        let library = self.from.library()?;
        let figure = self.figure.as_deref().map(parse_choice::<FigureName>).transpose();
        let figure = figure.map_err(|error| Failure::Usage(error.to_string()))?;
        let sets = match &self.set {
            Some(id) => vec![library.set(id).map_err(Failure::Tables)?],
            None => all_sets(&library)?,
        };
        let wanted = |row: &FigureRow| figure.is_none_or(|name| row.figure == name.spelling());
        let is_list = self.set.is_none() && figure.is_none();
        let text = match self.format {
            Format::Text if is_list => list(&sets),
            Format::Text => sets
                .iter()
                .map(|set| page(set, figure))
                .collect::<Vec<_>>()
                .join("\n"),
            Format::Json if is_list => as_json(&sets.iter().map(Brief::of).collect::<Vec<_>>())?,
            Format::Json => as_json(
                &sets
                    .iter()
                    .flat_map(figure_rows)
                    .filter(wanted)
                    .collect::<Vec<_>>(),
            )?,
            Format::Csv if is_list => as_csv(sets.iter().map(Brief::of))?,
            Format::Csv => as_csv(sets.iter().flat_map(figure_rows).filter(wanted).map(Flat::of))?,
        };
        console.say(&text)?;
        Ok(Status::Done)
    }
}

fn all_sets(library: &Library) -> Result<Vec<Provisions>, Failure> {
    library
        .ids()
        .into_iter()
        .map(|id| library.set(id).map_err(Failure::Tables))
        .collect()
}

fn check_folder(folder: &Path, console: &mut Console) -> Result<Status, Failure> {
    let mut library = Library::shipped().clone();
    let mut ids = Vec::new();
    for (id, files) in table_folders(folder)? {
        library.add_folder(&id, files);
        ids.push(id);
    }
    let mut faults = Vec::new();
    for id in ids {
        match library.set(&id) {
            Ok(set) => {
                let brief = Brief::of(&set);
                console.say(&format!(
                    "{id}: in order; {} figures, {} of them attested",
                    brief.figures, brief.attested
                ))?;
            }
            Err(errors) => faults.extend(errors),
        }
    }
    if faults.is_empty() {
        Ok(Status::Done)
    } else {
        Err(Failure::Tables(faults))
    }
}

/// A set in one line of a list.
#[derive(Debug, Serialize)]
struct Brief {
    id: String,
    title: String,
    document: String,
    edition: String,
    jurisdiction: String,
    comparison_only: bool,
    figures: usize,
    verified: usize,
    attested: usize,
    secondary: usize,
    memory: usize,
    common_practice: usize,
    missing: usize,
    none: usize,
}

impl Brief {
    fn of(set: &Provisions) -> Self {
        let count = |standing| {
            set.figures()
                .iter()
                .filter(|figure| figure.standing() == Some(standing))
                .count()
        };
        let content = |content| {
            set.figures()
                .iter()
                .filter(|figure| figure.content == content)
                .count()
        };
        Self {
            id: set.id.clone(),
            title: set.title.clone(),
            document: set.document.clone(),
            edition: set.edition.clone(),
            jurisdiction: set.jurisdiction.clone(),
            comparison_only: set.comparison_only,
            figures: set.figures().len(),
            verified: count(Standing::Verified),
            attested: count(Standing::Attested),
            secondary: count(Standing::Secondary),
            memory: count(Standing::Memory),
            common_practice: count(Standing::CommonPractice),
            missing: content(Content::Missing),
            none: content(Content::None),
        }
    }
}

/// The sets, each with the number of its figures by standing.
fn list(sets: &[Provisions]) -> String {
    let mut page = Page::default();
    page.line(format_args!(
        "{:34} figures by how well their source was seen",
        ""
    ));
    page.line(format_args!(
        "{:28}  seen attested second-hand remembered practice missing  none",
        "set"
    ));
    for set in sets {
        let brief = Brief::of(set);
        page.line(format_args!(
            "{:28} {:5} {:8} {:11} {:10} {:8} {:7} {:5}",
            brief.id,
            brief.verified,
            brief.attested,
            brief.secondary,
            brief.memory,
            brief.common_practice,
            brief.missing,
            brief.none,
        ));
        let only = if set.comparison_only {
            " For comparison only."
        } else {
            ""
        };
        page.paragraph(4, &format!("{}.{only}", set.title));
    }
    page.line(format_args!(""));
    page.paragraph(
        0,
        &format!(
            "The default is {}. `retrofit tables SET` prints a set. Missing: the document is believed to give \
             a figure that nobody has seen. None: it is known to give none.",
            Library::DEFAULT_SET
        ),
    );
    page.into_text()
}

/// One figure of a set, or all of them with what there is to know of the set.
fn page(set: &Provisions, figure: Option<FigureName>) -> String {
    let mut page = Page::default();
    page.line(format_args!("{}", set.id));
    page.paragraph(0, &set.title);
    if figure.is_none() {
        page.paragraph(2, &set.summary);
        if !set.jurisdiction.is_empty() {
            page.paragraph(2, &format!("Where: {}.", set.jurisdiction));
        }
        if set.comparison_only {
            page.paragraph(2, "For comparison only: not for judging an older house.");
        }
        for note in &set.notes {
            page.paragraph(2, note);
        }
        page.line(format_args!(""));
    }
    add_figures(
        &mut page,
        set.figures()
            .iter()
            .filter(|it| figure.is_none_or(|name| it.name == name)),
    );
    if figure.is_none() {
        page.heading("Sources");
        let mut sources: Vec<&Source> = set.figures().iter().map(|figure| &figure.source).collect();
        sources.sort_by(|a, b| a.key.cmp(&b.key));
        sources.dedup_by(|a, b| a.key == b.key);
        for source in sources {
            let parts = [
                &source.document,
                &source.edition,
                &source.publisher,
                &source.seen_at,
                &source.note,
            ];
            let given: Vec<&str> = parts
                .into_iter()
                .map(String::as_str)
                .filter(|part| !part.is_empty())
                .collect();
            page.paragraph(2, &format!("{}: {}", source.key, given.join("; ")));
        }
    }
    page.into_text()
}

/// Adds figures for a reader: name, case and value, then clause and standing, attestation and note below.
pub(super) fn add_figures<'a>(page: &mut Page, figures: impl Iterator<Item = &'a Figure>) {
    let mut figures = figures.peekable();
    if figures.peek().is_none() {
        page.paragraph(2, "none: this set does not regulate it");
    }
    for figure in figures {
        page.paragraph(2, &format!("{}: {}", figure.title(), shown(figure)));
        page.paragraph(6, &format!("{}; {}", figure.clause(), standing_words(figure)));
        if let Some(attested) = &figure.attested {
            page.paragraph(6, &attestation_words(attested));
        }
        if !figure.note.is_empty() {
            page.paragraph(6, &figure.note);
        }
    }
}

fn shown(figure: &Figure) -> String {
    match figure.content {
        Content::Value(value, Compare::LessThan, _) => format!("less than {value}"),
        Content::Value(value, Compare::Inclusive, _) => value.to_string(),
        Content::Missing => "missing".to_owned(),
        Content::None => "none".to_owned(),
    }
}

fn standing_words(figure: &Figure) -> &'static str {
    match (figure.standing(), figure.content) {
        (Some(standing), _) => standing.words(),
        (None, Content::None) => "the document gives no figure",
        (None, _) => "believed to be in the document; look it up",
    }
}

fn attestation_words(attested: &Attestation) -> String {
    format!(
        "attested by {} on {}: {}, {}, {}",
        attested.by, attested.on, attested.document, attested.edition, attested.page
    )
}

/// A figure for a machine.
#[derive(Debug, Serialize)]
pub(super) struct FigureRow {
    /// The set.
    set: String,
    /// The name of the figure.
    pub(super) figure: &'static str,
    /// What it means.
    meaning: &'static str,
    /// The case it belongs to, in words; empty for any.
    case: String,
    /// Its value; empty where there is none.
    value: String,
    /// Whether the limit itself is not allowed.
    less_than: bool,
    /// How well its source was seen: a standing, `missing` or `none`.
    standing: &'static str,
    document: String,
    edition: String,
    section: String,
    seen_at: String,
    note: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    attested: Option<Attestation>,
    /// The table file and line.
    row: String,
}

pub(super) fn figure_rows(set: &Provisions) -> impl Iterator<Item = FigureRow> + '_ {
    set.figures().iter().map(|figure| FigureRow {
        set: set.id.clone(),
        figure: figure.name.spelling(),
        meaning: figure.name.words(),
        case: figure.case.to_string(),
        value: figure.value().map_or_else(String::new, |value| value.to_string()),
        less_than: matches!(figure.content, Content::Value(_, Compare::LessThan, _)),
        standing: match (figure.standing(), figure.content) {
            (Some(standing), _) => standing.spelling(),
            (None, Content::None) => "none",
            (None, _) => "missing",
        },
        document: figure.source.document.clone(),
        edition: figure.source.edition.clone(),
        section: figure.section.clone(),
        seen_at: figure.source.seen_at.clone(),
        note: figure.note.clone(),
        attested: figure.attested.clone(),
        row: figure.row.clone(),
    })
}

/// A figure as one row of a spreadsheet, which knows no values inside values.
#[derive(Debug, Serialize)]
struct Flat {
    set: String,
    figure: &'static str,
    meaning: &'static str,
    case: String,
    value: String,
    less_than: bool,
    standing: &'static str,
    document: String,
    edition: String,
    section: String,
    seen_at: String,
    note: String,
    attested: String,
    row: String,
}

impl Flat {
    fn of(row: FigureRow) -> Self {
        Self {
            attested: row.attested.as_ref().map_or_else(String::new, attestation_words),
            set: row.set,
            figure: row.figure,
            meaning: row.meaning,
            case: row.case,
            value: row.value,
            less_than: row.less_than,
            standing: row.standing,
            document: row.document,
            edition: row.edition,
            section: row.section,
            seen_at: row.seen_at,
            note: row.note,
            row: row.row,
        }
    }
}

fn as_csv(rows: impl Iterator<Item = impl Serialize>) -> Result<String, Failure> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    for row in rows {
        writer
            .serialize(row)
            .map_err(|_| Failure::Internal("the table"))?;
    }
    let bytes = writer.into_inner().map_err(|_| Failure::Internal("the table"))?;
    String::from_utf8(bytes).map_err(|_| Failure::Internal("the table"))
}
