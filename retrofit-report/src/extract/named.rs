//! Rows of an extract that is no text, cell by cell, as lines of our columns.

use std::fmt::Debug;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use retrofit_core::portfolio::{ColumnMap, Form, ID, KNOWN_BY, Layout, Translator};

use super::table::Output;
use crate::input::MapFile;
use crate::triage::{BadRow, ReadSoFar, Rows, TriageError};

/// What is wrong with a row: the column of the extract, where it lies in one, and why.
pub(super) type RowFault = (Option<String>, String);

/// Rows by the names of a header.
pub(super) trait NamedRows: Debug + Send {
    /// What a row is called, to tell one by its number.
    const ROW: &'static str;
    /// Names of the header that no file has.
    const MADE: &'static [&'static str] = &[];

    /// The names of the cells of every row.
    fn header(&self) -> &[String];

    /// A map as it is used here.
    fn completed(map: ColumnMap) -> ColumnMap {
        map
    }

    /// Reads the next row into cells as many as the header has names, or says what is wrong with it; `None` where there
    /// is no further one.
    fn next(&mut self, cells: &mut Vec<String>) -> io::Result<Option<Result<(), RowFault>>>;

    /// How much of the file has been read for what was handed out.
    fn read_so_far(&self) -> &ReadSoFar;
}

/// Such rows through a column map.
#[derive(Debug)]
pub(super) struct TranslatedRows<R> {
    path: PathBuf,
    rows: R,
    translator: Translator,
    cells: Vec<String>,
    number: u64,
    out: Output,
    bad: Vec<BadRow>,
}

impl<R: NamedRows> TranslatedRows<R> {
    /// By a map, or by names that are ours already.
    pub(super) fn new(path: &Path, rows: R, map: Option<&MapFile>) -> Result<Self, TriageError> {
        let translator = match map {
            Some(map) => translator(&rows, map)?,
            None => straight::<R>(rows.header()).map_err(|problem| TriageError::Header {
                path: path.to_owned(),
                line: 1,
                problem,
            })?,
        };
        Ok(Self {
            path: path.to_owned(),
            rows,
            out: Output::of(&translator),
            translator,
            cells: Vec::new(),
            number: 0,
            bad: Vec::new(),
        })
    }

    pub(super) fn translator(&self) -> &Translator {
        &self.translator
    }

    /// Translates the next row; false where there is none.
    fn refill(&mut self) -> io::Result<bool> {
        let Some(row) = self.rows.next(&mut self.cells)? else {
            return Ok(false);
        };
        self.number += 1;
        let cells = &self.cells;
        let translated = row.and_then(|()| {
            let cell = |position: usize| cells.get(position).map_or("", String::as_str);
            let translated = self.translator.translate(cell, &mut self.out.bytes);
            translated.map_err(|fault| (Some(fault.column), fault.problem))
        });
        if let Err((column, problem)) = translated {
            self.bad.push(BadRow {
                file: self.path.clone(),
                line: self.number,
                column,
                problem,
            });
            self.out.bytes.push(b'\n');
        }
        Ok(true)
    }
}

impl<R: NamedRows> Read for TranslatedRows<R> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        while self.out.is_spent() {
            if !self.refill()? {
                return Ok(0);
            }
        }
        self.out.read(buffer)
    }
}

impl<R: NamedRows> Rows for TranslatedRows<R> {
    fn bad_rows(&mut self, bad: &mut Vec<BadRow>) {
        bad.append(&mut self.bad);
    }

    fn read_so_far(&self) -> &ReadSoFar {
        self.rows.read_so_far()
    }
}

/// A map compiled against rows.
pub(super) fn translator<R: NamedRows>(rows: &R, map: &MapFile) -> Result<Translator, TriageError> {
    R::completed(map.map.clone())
        .compile(rows.header())
        .map_err(|fault| TriageError::Map(Box::new(map.fault(&fault))))
}

/// A map for names that are ours already.
fn straight<R: NamedRows>(header: &[String]) -> Result<Translator, String> {
    let names: Vec<&str> = header
        .iter()
        .map(String::as_str)
        .filter(|name| !R::MADE.contains(name))
        .collect();
    // The header of a table would have to say the same, and is told what is wrong in the same words.
    let id = (!names.contains(&ID)).then_some(ID);
    Layout::new(names.iter().copied().chain(id), Form::OneTable).map_err(|error| error.to_string())?;
    let mut map = ColumnMap::new("columns by our names");
    if !names.contains(&KNOWN_BY) {
        // As in a table: what says nothing of it was seen.
        map.known_by = Some("seen".to_owned());
    }
    for name in names {
        map = map.with(name, retrofit_core::portfolio::ColumnRule::from([name]));
    }
    R::completed(map).compile(header).map_err(|fault| fault.problem)
}
