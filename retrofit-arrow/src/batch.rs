//! Record batches through the checks of a portfolio.

use std::sync::mpsc::{Receiver, SyncSender, sync_channel};
use std::sync::{Arc, Mutex, PoisonError};

use arrow_array::builder::{Int32Builder, StringBuilder};
use arrow_array::{ArrayRef, RecordBatch};
use arrow_schema::{ArrowError, DataType, Field, Schema, SchemaRef};
use retrofit_core::provisions::Provisions;
use retrofit_report::triage::{BadRow, ResultCells, RowChecker, TriageError, check_in_memory};
use thiserror::Error;

use crate::lines::{self, Row};

/// The columns of the results that hold counts.
const COUNTS: [&str; 5] = ["met", "not_met", "not_determined", "not_applicable", "outside"];

/// Why a batch could not be checked.
#[derive(Debug, Error)]
pub enum BatchError {
    /// Its columns are not those of a portfolio.
    #[error(transparent)]
    Columns(#[from] TriageError),
    /// Its values cannot be written as text, or the results not put together.
    #[error(transparent)]
    Arrow(#[from] ArrowError),
    /// The results could not be read back.
    #[error("the results are no text; this is a defect of the program")]
    Results(#[from] std::str::Utf8Error),
    /// The thread that checks has ended.
    #[error("the checks broke off; this is a defect of the program")]
    BrokeOff,
}

/// Checks record batches by one set of provisions, one after another.
///
/// What it learns from the values of a batch it keeps for the next, so make one checker for many batches.
///
/// ```
/// use std::sync::Arc;
/// use arrow_array::{ArrayRef, RecordBatch, StringArray};
/// use retrofit_arrow::Checker;
/// use retrofit_core::provisions::Library;
///
/// let provisions = Library::shipped().set(Library::DEFAULT_SET).map_err(|errors| format!("{errors:?}"))?;
/// let checker = Checker::new(provisions);
/// let text = |values: [&str; 2]| Arc::new(StringArray::from(values.to_vec())) as ArrayRef;
/// let houses = RecordBatch::try_from_iter([
///     ("id", text(["Q-1", "Q-2"])),
///     ("stories", text(["1", "one"])),
/// ])?;
/// let results = checker.check(&houses)?;
/// assert_eq!(results.num_rows(), 2);
/// let problems = results.column_by_name("problem").ok_or("no problems")?;
/// assert!(problems.is_null(0) && problems.is_valid(1));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug)]
pub struct Checker {
    provisions: Arc<Provisions>,
    /// The thread that checks tables with a header, and the header.
    lane: Mutex<Option<Lane>>,
}

#[derive(Debug)]
struct Lane {
    header: String,
    batches: SyncSender<RecordBatch>,
    results: Receiver<Result<RecordBatch, BatchError>>,
}

impl Checker {
    /// Checks by these provisions.
    pub fn new(provisions: Provisions) -> Self {
        Self {
            provisions: Arc::new(provisions),
            lane: Mutex::new(None),
        }
    }

    /// Checks the houses of a batch: a row of results for each of its rows. A row that cannot be read has no
    /// verdict, and the column `problem` says what was found and what was expected.
    pub fn check(&self, batch: &RecordBatch) -> Result<RecordBatch, BatchError> {
        let header = lines::header(batch);
        // A lane whose owner broke off is as good as none, and is begun anew.
        let mut lane = self.lane.lock().unwrap_or_else(PoisonError::into_inner);
        if lane.as_ref().is_none_or(|lane| lane.header != header) {
            *lane = Some(Lane::begin(header, Arc::clone(&self.provisions)));
        }
        let checked = lane
            .as_ref()
            .map_or(Err(BatchError::BrokeOff), |lane| lane.pass(batch));
        if matches!(checked, Err(BatchError::BrokeOff | BatchError::Columns(_))) {
            *lane = None;
        }
        checked
    }
}

impl Lane {
    fn begin(header: String, provisions: Arc<Provisions>) -> Self {
        let (batches, to_check) = sync_channel::<RecordBatch>(1);
        let (done, results) = sync_channel(1);
        let columns = header.clone();
        std::thread::spawn(move || {
            let checked = check_in_memory("record batch", &columns, &provisions, |checker| {
                let mut pass = Pass::of(checker);
                for batch in &to_check {
                    if done.send(pass.check(&batch, checker)).is_err() {
                        break; // nobody waits any more
                    }
                }
            });
            if let Err(error) = checked {
                // Whoever waits is told why; nobody may be.
                drop(done.send(Err(error.into())));
            }
        });
        Self {
            header,
            batches,
            results,
        }
    }

    fn pass(&self, batch: &RecordBatch) -> Result<RecordBatch, BatchError> {
        // Where the thread has ended, this cannot be sent; what it said last is still there to be told.
        drop(self.batches.send(batch.clone()));
        self.results.recv().unwrap_or(Err(BatchError::BrokeOff))
    }
}

/// What is used again from batch to batch.
struct Pass {
    schema: SchemaRef,
    lines: Vec<u8>,
    rows: Vec<Row>,
    cells: ResultCells,
}

/// A column of results that is being filled.
enum Column {
    Text(StringBuilder),
    Count(Int32Builder),
}

impl Column {
    fn add(&mut self, text: Option<&str>) {
        let text = text.filter(|text| !text.is_empty());
        match self {
            Self::Text(column) => column.append_option(text),
            Self::Count(column) => column.append_option(text.and_then(|text| text.parse().ok())),
        }
    }

    fn finish(self) -> ArrayRef {
        match self {
            Self::Text(mut column) => Arc::new(column.finish()),
            Self::Count(mut column) => Arc::new(column.finish()),
        }
    }
}

impl Pass {
    fn of(checker: &RowChecker<'_>) -> Self {
        let header = String::from_utf8_lossy(checker.header()).into_owned();
        let mut fields: Vec<Field> = header
            .trim_end()
            .split(',')
            .map(|name| {
                let kind = if COUNTS.contains(&name) {
                    DataType::Int32
                } else {
                    DataType::Utf8
                };
                Field::new(name, kind, true)
            })
            .collect();
        fields.push(Field::new("problem", DataType::Utf8, true));
        Self {
            schema: Arc::new(Schema::new(fields)),
            lines: Vec::new(),
            rows: Vec::new(),
            cells: ResultCells::default(),
        }
    }

    fn check(
        &mut self,
        batch: &RecordBatch,
        checker: &mut RowChecker<'_>,
    ) -> Result<RecordBatch, BatchError> {
        lines::write(batch, &mut self.lines, &mut self.rows)?;
        let (results, bad) = checker.check(&self.lines);
        let mut results = str::from_utf8(results)?.lines();
        let mut bad = bad.iter().peekable();
        let mut columns: Vec<Column> = self
            .schema
            .fields()
            .iter()
            .map(|field| match field.data_type() {
                DataType::Int32 => Column::Count(Int32Builder::with_capacity(batch.num_rows())),
                _ => Column::Text(StringBuilder::new()),
            })
            .collect();
        for (line, row) in (1..).zip(&self.rows) {
            let problem = match row {
                Row::Written => bad.next_if(|bad| bad.line == line).map(told),
                Row::Blank => Some("found an empty row; expected a house".to_owned()),
                Row::Refused(problem) => Some(problem.clone()),
            };
            let result = if problem.is_none() { results.next() } else { None };
            let cells = self.cells.of(result.unwrap_or_default());
            let cells = cells.map(Some).chain(std::iter::repeat(None));
            let last = columns.len().saturating_sub(1);
            for (column, cell) in columns.iter_mut().take(last).zip(cells) {
                column.add(cell);
            }
            if let Some(column) = columns.last_mut() {
                column.add(problem.as_deref());
            }
        }
        let columns = columns.into_iter().map(Column::finish).collect();
        Ok(RecordBatch::try_new(Arc::clone(&self.schema), columns)?)
    }
}

/// A bad row without the place, which its own row tells.
fn told(bad: &BadRow) -> String {
    match &bad.column {
        Some(column) => format!("column {column}: {}", bad.problem),
        None => bad.problem.clone(),
    }
}
