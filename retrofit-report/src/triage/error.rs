//! What can be wrong with a portfolio: one row, or a whole file.

use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

use thiserror::Error;

use super::result::cell;
use crate::input::{ColumnMapError, TextError};
use crate::output::OutputError;

/// A row that could not be read, and where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BadRow {
    /// The file, as it was named.
    pub file: PathBuf,
    /// The line in it, counted from 1.
    pub line: u64,
    /// The column, where the fault lies in one.
    pub column: Option<String>,
    /// What was found and what was expected.
    pub problem: String,
}

impl BadRow {
    /// The row as a line of a CSV file: file, line, column, problem.
    pub(crate) fn as_csv(&self) -> Vec<u8> {
        let mut out = Vec::new();
        cell(&self.file.display().to_string(), &mut out);
        out.extend_from_slice(format!(",{},", self.line).as_bytes());
        cell(self.column.as_deref().unwrap_or_default(), &mut out);
        out.push(b',');
        cell(&self.problem, &mut out);
        out.push(b'\n');
        out
    }
}

impl fmt::Display for BadRow {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}: ", self.file.display(), self.line)?;
        if let Some(column) = &self.column {
            write!(f, "column {column}: ")?;
        }
        f.write_str(&self.problem)
    }
}

/// Why a portfolio could not be checked at all.
#[derive(Debug, Error)]
pub enum TriageError {
    /// A file could not be read.
    #[error("cannot read {path}: {source}", path = path.display())]
    Read {
        /// The file.
        path: PathBuf,
        /// Why not.
        source: io::Error,
    },
    /// The first line of a file does not name its columns as it should.
    #[error("{path}:{line}: {problem}", path = path.display())]
    Header {
        /// The file.
        path: PathBuf,
        /// The line of the header.
        line: u64,
        /// What was found and what was expected.
        problem: String,
    },
    /// A result could not be written to the standard output.
    #[error("the standard output cannot be written to: {0}")]
    Stdout(io::Error),
    /// A file could not be written; nothing was left half written.
    #[error(transparent)]
    Output(#[from] OutputError),
    /// The column map cannot be used for the extract.
    #[error(transparent)]
    Map(Box<ColumnMapError>),
    /// A file that is read as a whole cannot be read.
    #[error(transparent)]
    Text(Box<TextError>),
    /// A column map was named for a file of a form that has one meaning only.
    #[error(
        "{}: found home-energy data, every element of which has one meaning; expected no column map for it: `retrofit \
         triage` reads it as it is, and `retrofit map --format csv` writes it as a table of our columns, to change there",
        .0.display()
    )]
    MapOfHomeEnergy(PathBuf),
    /// A table in Parquet, and this program was built without what reads it.
    #[error("{}: found a table in Parquet; this program was built without the feature `parquet`, which reads it (`cargo install --path retrofit-report --features parquet`)", .0.display())]
    NoParquet(PathBuf),
    /// A table of wall lines was named for an extract.
    #[error("{}: found a file of wall lines beside an extract; expected houses in columns of ours, as `retrofit triage --columns` lists them", .0.display())]
    WallLinesOfExtract(PathBuf),
    /// A run that was stopped cannot be gone on with.
    #[error("{path}: {problem}; begin again without --resume", path = path.display())]
    Resume {
        /// The file that does not fit.
        path: PathBuf,
        /// What was found and what was expected.
        problem: String,
    },
    /// The run broke off and left what it had done.
    #[error("{source}; the first {houses} houses stand in {partial}: `--resume` goes on from there", partial = partial.display())]
    BrokeOff {
        /// Why.
        source: Box<TriageError>,
        /// Where what was done stands.
        partial: PathBuf,
        /// How many houses were done.
        houses: u64,
    },
    /// A file that houses are put in order in could not be written or read.
    #[error("a file to put houses in order in cannot be used: {0}; no list was written")]
    Scratch(#[from] io::Error),
    /// Two files of the run are one.
    #[error("{}: found the same file twice; expected files of their own", .0.display())]
    SameFile(PathBuf),
}

impl TriageError {
    pub(crate) fn read(path: &Path, source: io::Error) -> Self {
        Self::Read {
            path: path.to_owned(),
            source,
        }
    }
}
