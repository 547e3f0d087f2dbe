//! Tables in Parquet, batch by batch, as lines of our columns.
//!
//! A number, a date or a boolean is taken as its text, so that a column map reads it as it reads a cell of a table; a null
//! is blank. Reading takes the feature `parquet` of this crate.

use std::fs::File;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use arrow_array::{Array, RecordBatch};
use arrow_cast::display::{ArrayFormatter, FormatOptions};
use arrow_schema::{ArrowError, DataType};
use parquet::arrow::arrow_reader::{ParquetRecordBatchReader, ParquetRecordBatchReaderBuilder};
use retrofit_core::portfolio::Translator;
use sha2::Digest;

use super::features::straight;
use super::table::Output;
use crate::input::MapFile;
use crate::triage::{BadRow, ReadSoFar, Rows, TriageError};

/// How many rows are decoded at a time.
const BATCH: usize = 4096;

/// The rows of a Parquet file.
#[derive(Debug)]
pub(super) struct ColumnarRows {
    path: PathBuf,
    batches: Batches,
    header: Vec<String>,
    translator: Translator,
    number: u64,
    read_so_far: ReadSoFar,
    cells: Vec<String>,
    out: Output,
    bad: Vec<BadRow>,
}

/// The reader, which cannot show itself.
struct Batches(ParquetRecordBatchReader);

impl std::fmt::Debug for Batches {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Batches")
    }
}

impl ColumnarRows {
    pub(super) fn open(path: &Path, map: Option<&MapFile>) -> Result<Self, TriageError> {
        let unreadable = |error| TriageError::read(path, error);
        let read_so_far = fingerprint(path).map_err(unreadable)?;
        let file = File::open(path).map_err(unreadable)?;
        let of_parquet = |error| unreadable(io::Error::other(error));
        let builder = ParquetRecordBatchReaderBuilder::try_new(file).map_err(of_parquet)?;
        let header: Vec<String> = builder
            .schema()
            .fields()
            .iter()
            .map(|field| field.name().clone())
            .collect();
        let fault = |problem: String| TriageError::Header {
            path: path.to_owned(),
            line: 1,
            problem,
        };
        let translator = match map {
            Some(file) => file
                .map
                .compile(&header)
                .map_err(|problem| TriageError::Map(Box::new(file.fault(&problem))))?,
            None => straight(header.iter())
                .map_err(fault)?
                .compile(&header)
                .map_err(|problem| fault(problem.problem))?,
        };
        let reader = builder.with_batch_size(BATCH).build().map_err(of_parquet)?;
        Ok(Self {
            path: path.to_owned(),
            batches: Batches(reader),
            cells: vec![String::new(); header.len()],
            header,
            out: Output::of(&translator),
            translator,
            number: 0,
            read_so_far,
            bad: Vec::new(),
        })
    }

    pub(super) fn translator(&self) -> &Translator {
        &self.translator
    }

    /// Translates the next batch; false where there is none.
    fn refill(&mut self) -> Result<bool, ArrowError> {
        let Some(batch) = self.batches.0.next().transpose()? else {
            return Ok(false);
        };
        let options = FormatOptions::new();
        let columns = batch
            .columns()
            .iter()
            .map(|column| ArrayFormatter::try_new(column.as_ref(), &options))
            .collect::<Result<Vec<_>, _>>()?;
        for row in 0..batch.num_rows() {
            self.number += 1;
            if let Err((column, problem)) = self.translate(&batch, &columns, row) {
                self.bad.push(BadRow {
                    file: self.path.clone(),
                    line: self.number,
                    column,
                    problem,
                });
                self.out.bytes.push(b'\n');
            }
        }
        Ok(true)
    }

    fn translate(
        &mut self,
        batch: &RecordBatch,
        columns: &[ArrayFormatter<'_>],
        row: usize,
    ) -> Result<(), (Option<String>, String)> {
        for (((cell, column), formatter), name) in self
            .cells
            .iter_mut()
            .zip(batch.columns())
            .zip(columns)
            .zip(&self.header)
        {
            cell.clear();
            if column.is_null(row) {
                continue;
            }
            formatter
                .value(row)
                .write(cell)
                .map_err(|error| (Some(name.clone()), error.to_string()))?;
            if column.data_type() == &DataType::Boolean {
                let word = if cell == "true" { "yes" } else { "no" };
                word.clone_into(cell);
            }
        }
        let cells = &self.cells;
        self.translator
            .translate(
                |position| cells.get(position).map_or("", String::as_str),
                &mut self.out.bytes,
            )
            .map_err(|fault| (Some(fault.column), fault.problem))
    }
}

/// The whole file, since its parts are read in no order.
fn fingerprint(path: &Path) -> io::Result<ReadSoFar> {
    let mut read = ReadSoFar::default();
    let mut file = File::open(path)?;
    let mut buffer = vec![0; 1 << 16];
    loop {
        match file.read(&mut buffer) {
            Ok(0) => return Ok(read),
            Ok(count) => {
                read.bytes += u64::try_from(count).unwrap_or_default();
                read.sha256.update(buffer.get(..count).unwrap_or_default());
            }
            Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
            Err(error) => return Err(error),
        }
    }
}

impl Read for ColumnarRows {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        while self.out.is_spent() {
            if !self.refill().map_err(io::Error::other)? {
                return Ok(0);
            }
        }
        self.out.read(buffer)
    }
}

impl Rows for ColumnarRows {
    fn bad_rows(&mut self, bad: &mut Vec<BadRow>) {
        bad.append(&mut self.bad);
    }

    fn read_so_far(&self) -> &ReadSoFar {
        &self.read_so_far
    }
}
