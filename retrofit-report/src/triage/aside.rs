//! The rows that cannot be read: into a file of their own, or told one by one.

use std::path::Path;

use super::error::{BadRow, TriageError};
use super::manifest::{Fingerprint, partial};
use super::{Destination, Progress};

/// Where the rows go that cannot be read.
#[derive(Debug)]
pub(crate) struct Aside {
    file: Option<Destination>,
    count: u64,
}

impl Aside {
    /// Into a file, where one is named.
    pub(crate) fn open(path: Option<&Path>) -> Result<Self, TriageError> {
        let mut file = path.map(Destination::file).transpose()?;
        if let Some(file) = &mut file {
            file.write(b"file,line,column,problem\n")?;
            file.keep();
        }
        Ok(Self { file, count: 0 })
    }

    /// Goes on with so many rows of an earlier run; `None` where that run had another file.
    pub(crate) fn open_again(
        path: Option<&Path>,
        earlier: Option<&Fingerprint>,
        count: u64,
    ) -> Result<Option<Self>, TriageError> {
        let file = match (path, earlier) {
            (None, None) => None,
            (Some(path), Some(earlier)) if partial(path) == earlier.file => {
                Some(Destination::file_going_on(path, earlier)?)
            }
            _ => return Ok(None),
        };
        Ok(Some(Self { file, count }))
    }

    /// Takes the rows of a block.
    pub(crate) fn take(&mut self, rows: &[BadRow], progress: &mut dyn Progress) -> Result<(), TriageError> {
        self.count += u64::try_from(rows.len()).unwrap_or_default();
        match &mut self.file {
            Some(file) => {
                file.write(&rows.iter().flat_map(BadRow::as_csv).collect::<Vec<u8>>())?;
                file.keep();
            }
            None => rows.iter().for_each(|row| progress.bad_row(row)),
        }
        Ok(())
    }

    /// How many there were.
    pub(crate) const fn count(&self) -> u64 {
        self.count
    }

    /// The fingerprint of the file, where there is one that can be found again.
    pub(crate) fn fingerprint(&self) -> Option<Fingerprint> {
        self.file.as_ref().and_then(Destination::fingerprint)
    }

    /// Gives the file its name.
    pub(crate) fn finish(self) -> Result<(), TriageError> {
        self.file.map_or(Ok(()), Destination::finish)
    }

    /// Leaves the file under the name of a partial one.
    pub(crate) fn leave_partial(self) -> Result<Option<Fingerprint>, TriageError> {
        let left = self.file.map(|file| file.leave_partial(b"")).transpose()?;
        Ok(left.flatten())
    }
}
