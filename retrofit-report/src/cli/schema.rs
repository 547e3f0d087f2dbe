//! `retrofit schema`: what the files hold, for editors and machines.

use clap::{Args, ValueEnum};
use retrofit_core::choice::Choice;
use retrofit_core::house::House;
use retrofit_core::portfolio::{
    COLUMNS, Column, ContextField, Holds, ID, KNOWN_BY, PASSED_ON, PASSED_PREFIX, Table, WALL_LINE,
};
use retrofit_report::extract::Coverage;
use retrofit_report::{json, readers, takeoff};
use serde_json::{Value, json as object};

use super::console::Console;
use super::exit::{Failure, Status};
use super::explain::as_json;
use super::words::Page;

/// Print the JSON Schema of a house file, of what other verbs print for a machine, or of the columns of a portfolio
///
/// With the schema of the house file an editor completes keys and marks mistakes while the file is written.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Schema {
    /// What to describe
    #[arg(value_enum)]
    of: Of,
}

const EXAMPLES: &str = "\
Examples:
  retrofit schema house > house.schema.json
      The house file.
  retrofit schema result > result.schema.json
      What `retrofit check --format json` prints; with several sets, `retrofit schema comparison`.
  retrofit schema before-after
      What `retrofit compare --format json` prints.
  retrofit schema columns
      A row of the CSV files of `retrofit triage`; `retrofit triage --columns` tells the same to a reader.";

#[derive(Clone, Copy, Debug, ValueEnum)]
enum Of {
    /// The house file
    House,
    /// The result for a machine
    Result,
    /// The result for a machine, where several sets of provisions were asked for
    Comparison,
    /// The permit worksheet for a machine
    Worksheet,
    /// The permit worksheets for a machine, where several sets of provisions were asked for
    Worksheets,
    /// The takeoff for a machine
    Takeoff,
    /// The result for a machine of `retrofit compare`
    BeforeAfter,
    /// The engineering screen for a machine
    Screen,
    /// The engineering screens for a machine, where several editions were asked for
    Screens,
    /// Everything that is known of one house, as `retrofit report --for all` writes it
    HouseResult,
    /// The owner's page for a machine
    OwnerPage,
    /// The assessor's sheet for a machine
    AssessorSheet,
    /// The crew's sheets for a machine
    CrewSheets,
    /// The floor level survey for a machine
    Survey,
    /// The foundation work for a machine
    Foundation,
    /// What a column map finds in an extract, for a machine
    Coverage,
    /// The manifest beside the results of a portfolio
    Manifest,
    /// What a ranked list comes to, as `retrofit rank --summary` writes it
    Ranking,
    /// The manifest beside a ranked list
    RankingManifest,
    /// A row of a portfolio
    Columns,
}

impl Schema {
    pub(super) fn run(self, console: &mut Console) -> Result<Status, Failure> {
        let text = match self.of {
            Of::House => as_json(&schemars::schema_for!(House))?,
            Of::Result => json::schema(),
            Of::Comparison => json::comparison_schema(),
            Of::Worksheet => json::worksheet_schema(),
            Of::Worksheets => json::worksheets_schema(),
            Of::Takeoff => takeoff::schema(),
            Of::BeforeAfter => json::before_after_schema(),
            Of::Screen => json::screen_schema(),
            Of::Screens => json::screens_schema(),
            Of::HouseResult => readers::schema(),
            Of::OwnerPage => readers::owner_schema(),
            Of::AssessorSheet => readers::assessor_schema(),
            Of::CrewSheets => readers::crew_schema(),
            Of::Survey => json::survey_schema(),
            Of::Foundation => json::foundation_schema(),
            Of::Coverage => as_json(&schemars::schema_for!(Coverage))?,
            Of::Manifest => json::manifest_schema(),
            Of::Ranking => json::ranking_schema(),
            Of::RankingManifest => json::ranking_manifest_schema(),
            Of::Columns => as_json(&row_schema())?,
        };
        console.say(&text)?;
        Ok(Status::Done)
    }
}

/// A row as an object of texts: every cell of a CSV file is one, and a blank cell is unknown.
fn row_schema() -> Value {
    let text = |means: &str| object!({ "type": "string", "description": means });
    let mut properties = serde_json::Map::new();
    properties.insert(ID.to_owned(), text("Parcel or file number of the house"));
    properties.insert(
        WALL_LINE.to_owned(),
        text("Name of the wall line, in a file of wall lines"),
    );
    properties.insert(
        KNOWN_BY.to_owned(),
        object!({
            "enum": ["", "measured", "seen", "reported", "inferred"],
            "description": "How everything in the row is known; blank: seen"
        }),
    );
    for name in PASSED_ON {
        properties.insert(name.to_owned(), text("Handed on unread"));
    }
    properties.extend(ContextField::ALL.iter().map(|field| {
        let means = format!(
            "{} ({}); blank: unknown. No check reads it",
            field.means(),
            field.holds()
        );
        (field.spelling().to_owned(), text(&means))
    }));
    properties.extend(
        COLUMNS
            .iter()
            .map(|column| (column.name.to_owned(), cell_schema(column))),
    );
    object!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Row of a portfolio",
        "type": "object",
        "properties": properties,
        "patternProperties": { format!("^{PASSED_PREFIX}"): text("Handed on unread") },
        "additionalProperties": false,
        "required": [ID],
    })
}

fn cell_schema(column: &Column) -> Value {
    let holds = column.holds();
    let means = format!(
        "{} ({holds}); blank: unknown. In a house file: {}",
        column.means, column.path
    );
    match holds {
        Holds::OneOf(mut terms) => {
            terms.insert(0, "");
            object!({ "enum": terms, "description": means })
        }
        Holds::YesOrNo => object!({ "enum": ["", "yes", "no"], "description": means }),
        _ => object!({ "type": "string", "description": means }),
    }
}

/// The columns for a reader.
pub(super) fn columns() -> String {
    let mut page = Page::default();
    page.paragraph(
        0,
        "Columns may stand in any order, and any but the first may be left out. A blank cell is unknown: never \
         zero, never no, never fine.",
    );
    page.line(format_args!(""));
    page.paragraph(2, &format!("{ID}: parcel or file number of the house; required"));
    page.paragraph(2, &format!("{KNOWN_BY}: how everything in the row is known: measured, seen (also where it is left out), reported or inferred"));
    page.paragraph(
        2,
        &format!(
            "{}, and names that begin with {PASSED_PREFIX}: handed on unread",
            PASSED_ON.join(", ")
        ),
    );
    page.section(
        "Of the house",
        "In a file with one row a house the columns of a wall line may stand in the same row; they then stand for all its wall lines.",
    );
    add_columns(&mut page, Table::House);
    page.section(
        "Of its context",
        "Where the house stands and what it is worth. No check reads them; `retrofit rank` does.",
    );
    for field in ContextField::ALL {
        page.paragraph(2, &format!("{}: {}", field.spelling(), field.means()));
        page.paragraph(6, field.holds());
    }
    page.section(
        "Of a wall line",
        &format!("In a file of wall lines, beside {ID} and {WALL_LINE}, the name of the wall line."),
    );
    add_columns(&mut page, Table::WallLine);
    page.into_text()
}

fn add_columns(page: &mut Page, table: Table) {
    for column in COLUMNS.iter().filter(|column| column.table == table) {
        page.paragraph(2, &format!("{}: {}", column.name, column.means));
        page.paragraph(6, &format!("{}", column.holds()));
    }
}
