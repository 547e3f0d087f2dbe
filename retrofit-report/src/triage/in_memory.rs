//! Rows that are handed over in memory, for tables that come from elsewhere than a file.

use std::path::PathBuf;

use retrofit_core::portfolio::{Form, Layout};
use retrofit_core::provisions::Provisions;

use super::block::Block;
use super::cells::Cells;
use super::error::{BadRow, TriageError};
use super::result::ResultWriter;
use super::worker::{Table, Tables, Worker};
use super::{Format, columns_of};
use crate::extract::SourceNames;
use crate::lanes::Lane;

/// Checks rows, lines of comma-separated values, in memory that is used again for the next.
#[derive(Debug)]
pub struct RowChecker<'a> {
    worker: Worker<'a>,
    header: Vec<u8>,
    block: Block,
}

impl RowChecker<'_> {
    /// The names of the columns of the results, as a line of comma-separated values.
    pub fn header(&self) -> &[u8] {
        &self.header
    }

    /// Checks rows: one line each, without a header; blank lines are passed over. The results, a line for each row
    /// that can be read, in their order; and the rows that cannot, by their lines, counted from 1.
    pub fn check(&mut self, rows: &[u8]) -> (&[u8], &[BadRow]) {
        self.block.begin(rows);
        self.worker.work(&mut self.block);
        (&self.block.results, &self.block.bad)
    }
}

/// Takes results apart into their cells, in memory that is used again for the next.
///
/// ```
/// use retrofit_report::triage::ResultCells;
///
/// let mut cells = ResultCells::default();
/// let of_result: Vec<&str> = cells.of("Q-1,met,\"4'-0\"\"\"").collect();
/// assert_eq!(of_result, ["Q-1", "met", "4'-0\""]);
/// ```
#[derive(Debug, Default)]
pub struct ResultCells(Cells);

impl ResultCells {
    /// The cells of one line of results; none where it is no such line.
    pub fn of<'c>(&'c mut self, line: &'c str) -> impl Iterator<Item = &'c str> {
        let is_whole = self.0.split(line).is_ok();
        is_whole.then(|| self.0.of(line)).into_iter().flatten()
    }
}

/// Checks rows of a table with this header, a line of the columns of [`retrofit_core::portfolio`]; `name` stands
/// for it in errors.
///
/// ```
/// use retrofit_core::provisions::Library;
/// use retrofit_report::triage::check_in_memory;
///
/// let provisions = Library::shipped().set(Library::DEFAULT_SET).map_err(|errors| format!("{errors:?}"))?;
/// let verdict = check_in_memory("houses", "id,stories,anchors", &provisions, |checker| {
///     let (results, bad) = checker.check(b"Q-1,1,no\nQ-2,one,no\n");
///     (String::from_utf8_lossy(results).into_owned(), bad.len())
/// })?;
/// assert!(verdict.0.starts_with("Q-1,not met"));
/// assert_eq!(verdict.1, 1);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn check_in_memory<T>(
    name: &str,
    header: &str,
    provisions: &Provisions,
    check: impl FnOnce(&mut RowChecker<'_>) -> T,
) -> Result<T, TriageError> {
    let path = PathBuf::from(name);
    let fault = |problem: String| TriageError::Header {
        path: path.clone(),
        line: 1,
        problem,
    };
    let mut cells = Cells::default();
    let names = columns_of(header, &mut cells).map_err(fault)?;
    let layout = Layout::new(names, Form::OneTable).map_err(|error| fault(error.to_string()))?;
    let passed = layout.passed().map(|(at, name)| (at, name.to_owned())).collect();
    let writer = ResultWriter::new(Format::Csv, provisions, passed, None);
    let tables = Tables {
        provisions,
        houses: Table {
            path,
            layout,
            sources: SourceNames::default(),
        },
        walls: None,
    };
    let header = writer.header();
    Ok(check(&mut RowChecker {
        worker: Worker::new(&tables, writer),
        header,
        block: Block::default(),
    }))
}
