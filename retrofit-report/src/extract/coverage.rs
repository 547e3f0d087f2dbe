//! What a column map finds in an extract: for each of our columns how many cells hold something, and what the others hold.

use std::path::Path;

use retrofit_core::house::AsBuilt;
use retrofit_core::portfolio::{
    CellError, CellJudge, CellState, ColumnMap, Form, Layout, RowReader, Translator,
};
use schemars::JsonSchema;
use serde::Serialize;

use super::Kind;
use super::features::Features;
use super::named::{self, NamedRows};
use super::raw::RawRow;
use super::table::header;
use crate::input::MapFile;
use crate::triage::{Cells, Lines, TriageError, rows};

/// What a column map finds in an extract.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Coverage {
    /// The file.
    pub file: String,
    /// What the map is for.
    pub map: String,
    /// Rows that are not blank.
    pub rows: u64,
    /// Of those, the rows that become a house.
    pub readable_rows: u64,
    /// What is wrong with the first of the others, with their lines.
    pub faults: Vec<String>,
    /// Our columns, those that hold observations first.
    pub fields: Vec<FieldCoverage>,
    /// Columns of the extract that the map does not read.
    pub not_used: Vec<String>,
}

/// What the cells of one of our columns hold.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub struct FieldCoverage {
    /// Our column.
    pub column: String,
    /// The columns of the extract that it comes from.
    pub source: String,
    /// Cells that hold something that can be read.
    pub filled: u64,
    /// Cells that say nothing themselves, and were concluded from other columns.
    pub inferred: u64,
    /// Empty cells.
    pub blank: u64,
    /// Cells that hold a text that only fills a gap.
    pub placeholder: u64,
    /// Cells that hold a code that tells nothing, or several that differ.
    pub untold: u64,
    /// Cells that cannot be read and are unknown by the map.
    pub unread: u64,
    /// Cells that cannot be read, each of which makes a bad row.
    pub faulty: u64,
    /// Some of what the cells hold.
    pub examples: Vec<Example>,
    /// Some of what cannot be read.
    pub faulty_examples: Vec<Example>,
}

/// What a cell holds, and what became of it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Example {
    /// What stands in the extract.
    pub found: String,
    /// What stands in our column; or, for a cell that cannot be read, why not.
    pub becomes: String,
}

/// How many examples are kept of each kind.
const EXAMPLES: usize = 3;

/// How many faults of rows are kept.
const FAULTS: usize = 10;

/// An example is not longer than a line of a table has room for.
const LONGEST_EXAMPLE: usize = 40;

/// Reads an extract through a map and counts.
pub fn coverage(path: &Path, map: &MapFile) -> Result<Coverage, TriageError> {
    match Kind::of(path) {
        Kind::Table => of_table(path, map),
        Kind::Features => of_named(path, map, Features::open(path, false)?),
        #[cfg(feature = "parquet")]
        Kind::Columnar => of_named(path, map, super::columnar::Columnar::open(path)?),
        #[cfg(not(feature = "parquet"))]
        Kind::Columnar => Err(TriageError::NoParquet(path.to_owned())),
        Kind::HomeEnergy => Err(TriageError::MapOfHomeEnergy(path.to_owned())),
    }
}

fn of_named<R: NamedRows>(path: &Path, map: &MapFile, mut rows: R) -> Result<Coverage, TriageError> {
    let mut translator = named::translator(&rows, map)?;
    let mut tally = Tally::new(&translator, R::ROW);
    let (mut cells, mut number) = (Vec::new(), 0);
    while let Some(row) = rows
        .next(&mut cells)
        .map_err(|error| TriageError::read(path, error))?
    {
        number += 1;
        match row {
            Ok(()) => {
                let cell = |position: usize| cells.get(position).map_or("", String::as_str);
                tally.add(number, cell, &mut translator);
            }
            Err((column, problem)) => tally.fault(number, column.as_deref(), &problem),
        }
    }
    let header = rows.header().iter();
    Ok(tally.told(
        path,
        &map.map,
        header.filter(|name| !R::MADE.contains(&name.as_str())),
    ))
}

fn of_table(path: &Path, map: &MapFile) -> Result<Coverage, TriageError> {
    let mut lines = Lines::open(path)?;
    let mut row = RawRow::new(map.map.file);
    let header = header(&mut lines, &mut row)?;
    let mut translator = map
        .map
        .compile(&header)
        .map_err(|fault| TriageError::Map(Box::new(map.fault(&fault))))?;
    let mut tally = Tally::new(&translator, "line");
    let (mut block, mut bad) = (Vec::new(), Vec::new());
    while let Some(first) = lines.next_block(&mut block, &mut bad)? {
        for (number, line) in rows(&block, first) {
            match row.read(line).and_then(|()| {
                if row.is_blank() {
                    return Ok(false);
                }
                row.has_cells(header.len())?;
                Ok(true)
            }) {
                Ok(false) => {}
                Ok(true) => tally.add(number, |position| row.cell(position), &mut translator),
                Err(fault) => {
                    let column = fault.cell.and_then(|cell| header.get(cell));
                    tally.fault(number, column.map(String::as_str), &fault.problem);
                }
            }
        }
        for row in bad.drain(..) {
            tally.fault(row.line, row.column.as_deref(), &row.problem);
        }
    }
    Ok(tally.told(path, &map.map, header.iter()))
}

struct Tally {
    /// What a row is called, to tell one by its number.
    row: &'static str,
    rows: u64,
    readable: u64,
    faults: Vec<String>,
    fields: Vec<FieldCoverage>,
    judges: Vec<CellJudge>,
    /// Whole rows as houses; there is none where the columns do not fit together, and then no row is readable.
    reader: Option<RowReader>,
    house: AsBuilt,
    line: Vec<u8>,
    cells: Cells,
}

impl Tally {
    fn new(translator: &Translator, row: &'static str) -> Self {
        let names = || translator.names().iter();
        let fields = names().map(|name| FieldCoverage {
            column: name.clone(),
            source: translator.source_of(name).unwrap_or_default().to_owned(),
            ..FieldCoverage::default()
        });
        let layout = Layout::new(names().map(String::as_str), Form::OneTable);
        Self {
            row,
            rows: 0,
            readable: 0,
            faults: Vec::new(),
            fields: fields.filter(|field| !field.source.is_empty()).collect(),
            judges: names().map(|name| CellJudge::new(name)).collect(),
            reader: layout.ok().map(RowReader::one_table),
            house: AsBuilt::default(),
            line: Vec::new(),
            cells: Cells::default(),
        }
    }

    /// What was counted.
    fn told<'h>(self, path: &Path, map: &ColumnMap, header: impl Iterator<Item = &'h String>) -> Coverage {
        let used: Vec<String> = map.sources().map(str::to_ascii_lowercase).collect();
        let is_unused = |name: &&String| !name.is_empty() && !used.contains(&name.to_ascii_lowercase());
        Coverage {
            file: path.display().to_string(),
            map: map.name.clone(),
            rows: self.rows,
            readable_rows: self.readable,
            faults: self.faults,
            fields: self.fields,
            not_used: header.filter(is_unused).cloned().collect(),
        }
    }

    fn fault(&mut self, line: u64, column: Option<&str>, problem: &str) {
        self.rows += 1;
        self.note(line, column, problem);
    }

    fn note(&mut self, line: u64, column: Option<&str>, problem: &str) {
        if self.faults.len() < FAULTS {
            let column = column.map_or_else(String::new, |column| format!("column {column}: "));
            self.faults
                .push(format!("{} {line}: {column}{problem}", self.row));
        }
    }

    fn add<'c>(&mut self, line: u64, cell: impl Fn(usize) -> &'c str + Copy, translator: &mut Translator) {
        self.rows += 1;
        for (number, (field, judge)) in self.fields.iter_mut().zip(&mut self.judges).enumerate() {
            let positions = translator.positions(number);
            let found = || {
                let parts: Vec<&str> = positions.iter().map(|position| cell(*position)).collect();
                short(&parts.join(" + "))
            };
            let read = translator.cell(number, cell).map_err(|fault| fault.problem);
            let read = read.and_then(|(state, text)| {
                if state == CellState::Filled {
                    judge.accepts(text)?;
                }
                Ok((state, text))
            });
            let (count, becomes) = match read {
                Ok((CellState::Filled, text)) => (&mut field.filled, Some(Ok(text.to_owned()))),
                Ok((CellState::Inferred, text)) => (&mut field.inferred, Some(Ok(text.to_owned()))),
                Ok((CellState::Blank, _)) => (&mut field.blank, None),
                Ok((CellState::Placeholder, _)) => (&mut field.placeholder, None),
                Ok((CellState::Untold, _)) => (&mut field.untold, None),
                Ok((CellState::Unread, _)) => (&mut field.unread, Some(Err("unknown by the map".to_owned()))),
                Err(problem) => (&mut field.faulty, Some(Err(problem))),
            };
            *count += 1;
            let (examples, becomes) = match becomes {
                None => continue,
                Some(Ok(text)) => (&mut field.examples, text),
                Some(Err(problem)) => (&mut field.faulty_examples, problem),
            };
            if examples.len() < EXAMPLES {
                let example = Example {
                    found: found(),
                    becomes,
                };
                if !examples.contains(&example) {
                    examples.push(example);
                }
            }
        }
        match self.whole(cell, translator) {
            Ok(()) => self.readable += 1,
            Err((column, problem)) => self.note(line, Some(&column), &problem),
        }
    }

    /// Reads the row as triage will.
    fn whole<'c>(
        &mut self,
        cell: impl Fn(usize) -> &'c str,
        translator: &mut Translator,
    ) -> Result<(), (String, String)> {
        self.line.clear();
        translator
            .translate(cell, &mut self.line)
            .map_err(|fault| (fault.column, fault.problem))?;
        let told = |error: CellError| {
            let source = translator.source_of(&error.column).map(str::to_owned);
            (source.unwrap_or(error.column), error.problem)
        };
        let line = std::str::from_utf8(&self.line)
            .unwrap_or_default()
            .trim_end_matches('\n');
        // A translated line is in order by itself.
        let (Ok(()), Some(reader)) = (self.cells.split(line), &mut self.reader) else {
            return Err((
                "id".to_owned(),
                "found columns that do not fit together".to_owned(),
            ));
        };
        let cells = &self.cells;
        let mut read = Ok(());
        let whole = self
            .house
            .refill(|house| read = reader.read(house, cells.of(line)));
        read.map_err(told)?;
        match whole {
            Ok(()) => Ok(()),
            Err(problems) => Err(problems.first().map_or_else(
                || (String::new(), "found a house that does not make sense".to_owned()),
                |problem| told(CellError::of_house(problem)),
            )),
        }
    }
}

fn short(text: &str) -> String {
    match text.char_indices().nth(LONGEST_EXAMPLE) {
        Some((end, _)) => format!("{}…", text.get(..end).unwrap_or_default()),
        None => text.to_owned(),
    }
}
