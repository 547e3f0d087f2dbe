//! `retrofit map`: how the columns of an extract become those of a portfolio.

use std::io::{self, Write};
use std::path::PathBuf;

use clap::{Args, ValueEnum};
use retrofit_report::extract::{self, Coverage, FieldCoverage};
use retrofit_report::input::{MapFile, Origin, read_column_map};
use retrofit_report::output::{WholeFile, is_same_file, write_whole};
use retrofit_report::triage::{TriageError, TriageSummary};

use super::console::Console;
use super::exit::{Failure, Status};
use super::explain::as_json;
use super::interrupt;
use super::words::Page;

/// Propose a column map for an extract, or say what a map finds in it
///
/// A county roll, a listing service or an inventory has columns of its own. A column map is a small TOML or JSON file that says
/// which of them becomes which of the columns of `retrofit triage`, in which unit a bare number stands, what a code means,
/// and which texts only fill a gap. Without --with, a map is proposed from the header and the first rows, for you to look
/// over. With it, the map is held against the whole extract: for each column how many cells are filled, blank, a
/// placeholder, or cannot be read. GeoJSON and Parquet take a map as tables do. HPXML takes none: every element of it has one
/// meaning. With `--format csv` an extract of any kind is written as a table of our columns.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES, after_long_help = FORMAT_HELP)]
pub(super) struct Map {
    /// The extract: a table with a header, GeoJSON (`.geojson`, `.json`), Parquet (`.parquet`, where the program is built
    /// with it); with `--format csv` also HPXML (`.xml`), which takes no map
    #[arg(value_name = "EXTRACT")]
    extract: PathBuf,
    /// Say what this map finds in the extract
    #[arg(long, value_name = "MAP.toml")]
    with: Option<PathBuf>,
    /// What to print, and how
    #[arg(long, value_name = "FORMAT", default_value = "terminal", value_enum)]
    format: Format,
    /// Write it to this file, whole or not at all, instead of standard output
    #[arg(long, short, value_name = "FILE")]
    out: Option<PathBuf>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Format {
    /// The proposal, or the coverage for a reader
    Terminal,
    /// The coverage for a machine
    Json,
    /// The rows, as a table of our columns
    Csv,
}

const EXAMPLES: &str = "\
Examples:
  retrofit map roll.csv --out roll.toml
      A proposal, with comments, to look over in an editor.
  retrofit map roll.csv --with roll.toml
      What the map finds in the extract, column by column.
  retrofit triage roll.csv --map roll.toml --out verdicts.csv
      The houses of the extract through the checks.
  retrofit map parcels.geojson --out parcels.toml
      The same for the properties of features.
  retrofit map homes.xml --format csv --out homes.csv
      Home-energy data as a table of our columns.

`retrofit map --help` describes the file; `examples/maps` has maps for public column sets.";

const FORMAT_HELP: &str = "\
Examples:
  retrofit map roll.csv --out roll.toml
      A proposal, with comments, to look over in an editor.
  retrofit map roll.csv --with roll.toml
      What the map finds in the extract, column by column.
  retrofit triage roll.csv --map roll.toml --out verdicts.csv
      The houses of the extract through the checks.
  retrofit map parcels.geojson --out parcels.toml
      The same for the properties of features.
  retrofit map homes.xml --format csv --out homes.csv
      Home-energy data as a table of our columns.

The file:
  format = \"column-map-1\"
  name = \"An invented roll\"              # what it is for
  about = \"...\"                          # what of it was seen, where, and what is from memory
  known_by = \"reported\"                  # how everything is known; this is what it is when left out
  blank = [\"N/A\", \"UNKNOWN\"]             # texts that only fill a gap, in every column that is read

  [file]                                 # each may be left out
  delimiter = \"comma\"                    # comma, semicolon, tab or bar
  encoding = \"utf-8\"                     # utf-8 or windows-1252
  decimal = \"point\"                      # point (1,234.5) or comma (1.234,5)

  [columns.id]                           # text that is handed on: id, region, district, x_...
  from = [\"Major\", \"Minor\"]              # one column, or several put together
  join = \"-\"                             # what stands between them
  widths = [6, 4]                        # zeros are put before what has lost them

  [columns.year_built]                   # any column that `retrofit triage --columns` lists
  from = \"YrBuilt\"
  blank = [\"0\", \"1900\"]                  # texts that only fill a gap here

  [columns.floor_area]
  from = \"SqFtTotLiving\"
  unit = \"sq ft\"                         # of a bare number: ft, in, m, cm, sq ft, sq m, % ...; dollars
                                         # 1,480 and $1,480.00 are read, and 1 1/2 and 2\u{bd}

  [columns.slab_or_pole_portion]
  from = \"FoundationDetails\"
  separator = \",\"                        # several codes in one cell
  codes = { Slab = \"yes\", Perimeter = \"no\", Other = \"\" }
                                         # \"\" says that the code tells nothing
  worst_first = [\"yes\", \"no\"]            # which to take where codes differ; left out, they tell nothing then
  otherwise = \"unknown\"                  # a cell on no list: unknown; left out, its row is a bad row

  [columns.x_source]
  constant = \"roll of 2026\"              # the same text in every row

  [[infer]]                              # a conclusion where a column says nothing itself: always inferred,
  column = \"rooms_over_garage\"           # never seen; the column x_inferred says what was inferred and why
  then = \"yes\"
  because = \"the garage lies in the basement\"
  when = { SqFtGarageBasement = { above = 0 } }   # is = [...], above, below; several columns all at once

In JSON it is the same keys, in braces: {\"format\": \"column-map-1\", \"name\": \"...\", \"columns\": {\"id\": {\"from\": \"APN\"}}}.
In GeoJSON the properties of the first feature are the columns; \"(longitude)\", \"(latitude)\" and \"(feature id)\" name what stands beside them.

Columns that the map does not name are left out. Capitals make no difference in codes, gaps and names of columns.";

impl Map {
    pub(super) fn run(self, console: &mut Console) -> Result<Status, Failure> {
        self.spare_the_inputs()?;
        let map = self
            .with
            .as_deref()
            .map(|path| read_column_map(&Origin::from(path)))
            .transpose()?;
        if self.format == Format::Csv {
            return self.translate(map.as_ref(), console);
        }
        let Some(map) = map else {
            if self.format == Format::Json {
                return Err(Failure::Usage(
                    "found --format json without --with; expected the map whose coverage is asked for"
                        .to_owned(),
                ));
            }
            let proposal = extract::propose(&self.extract)?;
            self.deliver(&proposal.text, console)?;
            console.remark(&match &proposal.recognized {
                Some(set) => format!(
                    "{} rows looked at; the columns are those of {set:?}",
                    proposal.rows
                ),
                None => format!("{} rows looked at", proposal.rows),
            });
            return Ok(Status::Done);
        };
        let coverage = extract::coverage(&self.extract, &map)?;
        let text = match self.format {
            Format::Json => as_json(&coverage)?,
            _ => told(&coverage),
        };
        self.deliver(&text, console)?;
        Ok(if coverage.readable_rows == coverage.rows {
            Status::Done
        } else {
            Status::PartlyBad
        })
    }

    /// Writes the rows as a table of our columns.
    fn translate(&self, map: Option<&MapFile>, console: &mut Console) -> Result<Status, Failure> {
        interrupt::leave_nothing_unfinished();
        let mut file = self.out.as_deref().map(WholeFile::create).transpose()?;
        let mut bad = Vec::new();
        let mut rows_bad = 0u64;
        let mut out = |block: &[u8]| match &mut file {
            Some(file) => file
                .write_all(block)
                .map_err(|error| TriageError::from(file.error(error))),
            None => io::stdout().write_all(block).map_err(TriageError::Stdout),
        };
        let mut note = |row| {
            rows_bad += 1;
            if bad.len() < TriageSummary::MOST_BAD_ROWS {
                bad.push(row);
            }
        };
        extract::translate(&self.extract, map, &mut note, &mut out)?;
        if let Some(file) = file {
            file.finish()?;
        }
        for row in &bad {
            console.complain_of(row);
        }
        if rows_bad == 0 {
            return Ok(Status::Done);
        }
        console.remark(&format!(
            "{rows_bad} rows could not be translated and were left out"
        ));
        Ok(Status::PartlyBad)
    }

    fn spare_the_inputs(&self) -> Result<(), Failure> {
        let Some(out) = &self.out else { return Ok(()) };
        let inputs = [Some(&self.extract), self.with.as_ref()];
        if inputs.into_iter().flatten().any(|input| is_same_file(input, out)) {
            return Err(Failure::Usage(format!(
                "{}: found a file that is read; expected another to write to",
                out.display()
            )));
        }
        Ok(())
    }

    fn deliver(&self, text: &str, console: &mut Console) -> Result<(), Failure> {
        let Some(out) = &self.out else {
            return console.say(text);
        };
        write_whole(out, (text.trim_end().to_owned() + "\n").as_bytes())?;
        console.remark(&format!("wrote {}", out.display()));
        Ok(())
    }
}

/// The coverage for a reader.
fn told(coverage: &Coverage) -> String {
    let mut page = Page::default();
    page.paragraph(0, &format!("{} through \"{}\"", coverage.file, coverage.map));
    let left_out = coverage.rows - coverage.readable_rows;
    page.paragraph(
        0,
        &format!(
            "{} rows, of which {} become houses and {left_out} cannot be read. What is not filled is unknown: never zero, never no, never fine.",
            coverage.rows, coverage.readable_rows
        ),
    );
    let width = coverage
        .fields
        .iter()
        .map(|field| field.column.chars().count())
        .max()
        .unwrap_or_default()
        .max(6);
    page.heading("In hundredths of the rows:");
    page.line(format_args!(
        "  {:width$}  filled  inferred  blank  placeholder  untold  unread  faulty  from",
        "column"
    ));
    for field in &coverage.fields {
        let part = |count| in_hundredths(count, coverage.rows);
        page.line(format_args!(
            "  {:width$}  {:>6}  {:>8}  {:>5}  {:>11}  {:>6}  {:>6}  {:>6}  {}",
            field.column,
            part(field.filled),
            part(field.inferred),
            part(field.blank),
            part(field.placeholder),
            part(field.untold),
            part(field.unread),
            part(field.faulty),
            field.source
        ));
    }
    page.heading("What cells become:");
    for field in &coverage.fields {
        examples(&mut page, field);
    }
    if !coverage.faults.is_empty() {
        page.heading("The first rows that cannot be read:");
        for fault in &coverage.faults {
            page.paragraph(2, fault);
        }
    }
    if !coverage.not_used.is_empty() {
        page.section(
            "Columns that the map does not read:",
            &coverage.not_used.join(", "),
        );
    }
    page.into_text()
}

fn examples(page: &mut Page, field: &FieldCoverage) {
    let each = |examples: &[extract::Example]| -> Vec<String> {
        let told = |example: &extract::Example| match example.found.as_str() {
            "" => example.becomes.clone(),
            found if found == example.becomes => found.to_owned(),
            found => format!("{found} → {}", example.becomes),
        };
        examples.iter().map(told).collect()
    };
    let filled = each(&field.examples);
    if !filled.is_empty() {
        page.paragraph(2, &format!("{}: {}", field.column, filled.join("; ")));
    }
    for fault in each(&field.faulty_examples) {
        page.paragraph(2, &format!("{}, cannot be read: {fault}", field.column));
    }
}

/// A share in hundredths; a few of many are never shown as none, nor nearly all as all.
fn in_hundredths(count: u64, of: u64) -> String {
    if count == 0 {
        return "-".to_owned();
    }
    if count == of {
        return "100".to_owned();
    }
    match u128::from(count) * 100 / u128::from(of.max(1)) {
        0 => "<1".to_owned(),
        hundredths => hundredths.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn few_are_never_shown_as_none_and_nearly_all_never_as_all() {
        assert_eq!(in_hundredths(0, 10), "-");
        assert_eq!(in_hundredths(1, 1000), "<1");
        assert_eq!(in_hundredths(999, 1000), "99");
        assert_eq!(in_hundredths(1000, 1000), "100");
    }
}
