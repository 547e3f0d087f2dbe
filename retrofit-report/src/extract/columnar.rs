//! Tables in Parquet, batch by batch, as lines of our columns.
//!
//! A number, a date or a boolean is taken as its text, so that a column map reads it as it reads a cell of a table; a null
//! is blank. Reading takes the feature `parquet` of this crate.

use std::fs::File;
use std::io;
use std::path::Path;

use arrow_array::{Array, RecordBatch};
use arrow_cast::display::{ArrayFormatter, FormatOptions};
use arrow_schema::{ArrowError, DataType};
use parquet::arrow::arrow_reader::{ParquetRecordBatchReader, ParquetRecordBatchReaderBuilder};

use super::named::{NamedRows, RowFault};
use crate::triage::{ReadSoFar, TriageError};

/// How many rows are decoded at a time.
const BATCH: usize = 4096;

/// The rows of a Parquet file.
#[derive(Debug)]
pub(super) struct Columnar {
    batches: Batches,
    header: Vec<String>,
    decoded: Decoded,
    read_so_far: ReadSoFar,
}

/// The cells of a batch as text, in memory that is used again.
#[derive(Debug, Default)]
struct Decoded {
    text: String,
    /// Where each cell ends, row by row.
    ends: Vec<usize>,
    /// The cells that cannot be written as text, by their row, the last first.
    faults: Vec<(usize, RowFault)>,
    rows: usize,
    /// The next row to be handed out.
    next: usize,
}

/// The reader, which cannot show itself.
struct Batches(ParquetRecordBatchReader);

impl std::fmt::Debug for Batches {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Batches")
    }
}

impl Columnar {
    pub(super) fn open(path: &Path) -> Result<Self, TriageError> {
        let unreadable = |error| TriageError::read(path, error);
        // The whole file, since its parts are read in no order.
        let read_so_far = ReadSoFar::of_file(path).map_err(unreadable)?;
        let file = File::open(path).map_err(unreadable)?;
        let of_parquet = |error| unreadable(io::Error::other(error));
        let builder = ParquetRecordBatchReaderBuilder::try_new(file).map_err(of_parquet)?;
        let fields = builder.schema().fields().iter();
        let header = fields.map(|field| field.name().clone()).collect();
        let reader = builder.with_batch_size(BATCH).build().map_err(of_parquet)?;
        Ok(Self {
            batches: Batches(reader),
            header,
            decoded: Decoded::default(),
            read_so_far,
        })
    }

    /// Decodes the next batch; false where there is none.
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
        self.decoded.fill(&self.header, &batch, &columns);
        Ok(true)
    }
}

impl Decoded {
    fn fill(&mut self, header: &[String], batch: &RecordBatch, columns: &[ArrayFormatter<'_>]) {
        self.text.clear();
        self.ends.clear();
        self.faults.clear();
        (self.rows, self.next) = (batch.num_rows(), 0);
        for row in 0..self.rows {
            for ((column, formatter), name) in batch.columns().iter().zip(columns).zip(header) {
                let begin = self.text.len();
                if !column.is_null(row) {
                    if let Err(error) = formatter.value(row).write(&mut self.text) {
                        self.faults.push((row, (Some(name.clone()), error.to_string())));
                    }
                    if column.data_type() == &DataType::Boolean {
                        let is_so = self.text.get(begin..) == Some("true");
                        self.text.truncate(begin);
                        self.text.push_str(if is_so { "yes" } else { "no" });
                    }
                }
                self.ends.push(self.text.len());
            }
        }
        self.faults.reverse();
    }

    /// The next row, of so many cells; `None` where there is none.
    fn next(&mut self, width: usize, cells: &mut Vec<String>) -> Option<Result<(), RowFault>> {
        let row = self.next;
        if row >= self.rows {
            return None;
        }
        self.next += 1;
        let mut fault = None;
        while self.faults.last().is_some_and(|(at, _)| *at <= row) {
            fault = fault.or(self.faults.pop().map(|(_, fault)| fault));
        }
        if let Some(fault) = fault {
            return Some(Err(fault));
        }
        cells.resize_with(width, String::new);
        let first = row * width;
        let mut begin = first.checked_sub(1).and_then(|at| self.ends.get(at).copied());
        let ends = self.ends.get(first..first + width).unwrap_or_default();
        for (cell, end) in cells.iter_mut().zip(ends) {
            cell.clear();
            cell.push_str(self.text.get(begin.unwrap_or_default()..*end).unwrap_or_default());
            begin = Some(*end);
        }
        Some(Ok(()))
    }
}

impl NamedRows for Columnar {
    const ROW: &'static str = "row";

    fn header(&self) -> &[String] {
        &self.header
    }

    fn next(&mut self, cells: &mut Vec<String>) -> io::Result<Option<Result<(), RowFault>>> {
        loop {
            if let Some(row) = self.decoded.next(self.header.len(), cells) {
                return Ok(Some(row));
            }
            if !self.refill().map_err(io::Error::other)? {
                return Ok(None);
            }
        }
    }

    fn read_so_far(&self) -> &ReadSoFar {
        &self.read_so_far
    }
}
