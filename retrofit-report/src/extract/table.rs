//! A table with columns of its own, as lines of our columns.

use std::io::{self, Read};
use std::path::{Path, PathBuf};

use retrofit_core::portfolio::Translator;

use super::raw::{RawFault, RawRow};
use crate::input::MapFile;
use crate::triage::{BadRow, Lines, ReadSoFar, Rows, TriageError, rows};

/// The header of a table: its names, and how its rows are read.
pub(super) fn header(lines: &mut Lines, row: &mut RawRow) -> Result<Vec<String>, TriageError> {
    let line = lines.line();
    let bytes = lines.header_bytes()?;
    row.read(&bytes).map_err(|fault| TriageError::Header {
        path: lines.path().to_owned(),
        line,
        problem: match fault.cell {
            Some(cell) => format!("column {}: {}", cell + 1, fault.problem),
            None => fault.problem,
        },
    })?;
    Ok(row.cells().map(|name| name.trim().to_owned()).collect())
}

/// The rows of a table through a column map.
#[derive(Debug)]
pub(super) struct TableRows {
    path: PathBuf,
    lines: Lines,
    header: Vec<String>,
    row: RawRow,
    translator: Translator,
    block: Vec<u8>,
    /// The number of the next line that is to be written.
    next_line: u64,
    out: Output,
    bad: Vec<BadRow>,
}

/// Lines that wait to be read.
#[derive(Debug, Default)]
pub(super) struct Output {
    pub(super) bytes: Vec<u8>,
    at: usize,
}

impl Output {
    /// Begins with the header of a translated table.
    pub(super) fn of(translator: &Translator) -> Self {
        Self {
            bytes: (translator.names().join(",") + "\n").into_bytes(),
            at: 0,
        }
    }

    /// Whether everything has been read; then there is room for more.
    pub(super) fn is_spent(&mut self) -> bool {
        let is_spent = self.at >= self.bytes.len();
        if is_spent {
            self.bytes.clear();
            self.at = 0;
        }
        is_spent
    }

    pub(super) fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let read = self.bytes.get(self.at..).unwrap_or_default().read(buffer)?;
        self.at += read;
        Ok(read)
    }
}

impl TableRows {
    pub(super) fn open(path: &Path, map: &MapFile) -> Result<Self, TriageError> {
        let mut lines = Lines::open(path)?;
        let mut row = RawRow::new(map.map.file);
        let header = header(&mut lines, &mut row)?;
        let translator = map
            .map
            .compile(&header)
            .map_err(|fault| TriageError::Map(Box::new(map.fault(&fault))))?;
        // The header stands on the same line as in the table, and so does every row after it.
        let before = usize::try_from(lines.line().saturating_sub(2)).unwrap_or_default();
        let mut out = Output::of(&translator);
        out.bytes.splice(0..0, std::iter::repeat_n(b'\n', before));
        Ok(Self {
            path: lines.path().to_owned(),
            next_line: lines.line(),
            lines,
            header,
            row,
            translator,
            block: Vec::new(),
            out,
            bad: Vec::new(),
        })
    }

    pub(super) fn translator(&self) -> &Translator {
        &self.translator
    }

    /// Translates the next lines; false where there are none.
    fn refill(&mut self) -> Result<bool, TriageError> {
        let Some(first) = self.lines.next_block(&mut self.block, &mut self.bad)? else {
            return Ok(false);
        };
        for (number, line) in rows(&self.block, first) {
            // Lines that are blank or too long leave a gap.
            while self.next_line < number {
                self.out.bytes.push(b'\n');
                self.next_line += 1;
            }
            self.next_line += 1;
            let row = &mut self.row;
            let read = row.read(line).and_then(|()| {
                if row.is_blank() {
                    return Ok(false);
                }
                row.has_cells(self.header.len())?;
                Ok(true)
            });
            let translated = match read {
                Ok(false) => {
                    self.out.bytes.push(b'\n');
                    continue;
                }
                Ok(true) => self
                    .translator
                    .translate(|position| row.cell(position), &mut self.out.bytes)
                    .map_err(|fault| (Some(fault.column), fault.problem)),
                Err(RawFault { cell, problem }) => {
                    let column = cell.and_then(|cell| self.header.get(cell));
                    Err((column.cloned(), problem))
                }
            };
            if let Err((column, problem)) = translated {
                self.bad.push(BadRow {
                    file: self.path.clone(),
                    line: number,
                    column,
                    problem,
                });
                self.out.bytes.push(b'\n');
            }
        }
        Ok(true)
    }
}

impl Read for TableRows {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        while self.out.is_spent() {
            match self.refill() {
                Ok(true) => {}
                Ok(false) => return Ok(0),
                Err(TriageError::Read { source, .. }) => return Err(source),
                Err(error) => return Err(io::Error::other(error)),
            }
        }
        self.out.read(buffer)
    }
}

impl Rows for TableRows {
    fn bad_rows(&mut self, bad: &mut Vec<BadRow>) {
        bad.append(&mut self.bad);
    }

    fn read_so_far(&self) -> &ReadSoFar {
        self.lines.read_so_far()
    }
}
