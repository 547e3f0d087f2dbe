//! Where results go: the standard output, or a file that is written whole or not at all.

use std::io::{self, Stdout, Write};
use std::path::Path;

use super::TriageError;
use crate::output::WholeFile;

/// A place to write to.
#[derive(Debug)]
pub(super) enum Destination {
    StandardOutput(Stdout),
    File(WholeFile),
}

impl Destination {
    pub(super) fn standard_output() -> Self {
        Self::StandardOutput(io::stdout())
    }

    pub(super) fn file(path: &Path) -> Result<Self, TriageError> {
        Ok(Self::File(WholeFile::create(path)?))
    }

    pub(super) fn write(&mut self, bytes: &[u8]) -> Result<(), TriageError> {
        match self {
            Self::StandardOutput(stdout) => stdout.write_all(bytes).map_err(TriageError::Stdout),
            Self::File(file) => file.write_all(bytes).map_err(|error| file.error(error).into()),
        }
    }

    /// Gives the file its name.
    pub(super) fn finish(self) -> Result<(), TriageError> {
        match self {
            Self::StandardOutput(mut stdout) => stdout.flush().map_err(TriageError::Stdout),
            Self::File(file) => Ok(file.finish()?),
        }
    }
}
