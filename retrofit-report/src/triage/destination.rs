//! Where results go: the standard output, or a file that is written whole or not at all.

use std::fs::File;
use std::io::{self, Read, Stdout, Write};
use std::path::{Path, PathBuf};

use super::TriageError;
use super::lines::ReadSoFar;
use super::manifest::{Fingerprint, partial};
use crate::output::WholeFile;

/// A place to write to.
#[derive(Debug)]
pub(crate) enum Destination {
    StandardOutput(Stdout),
    File(Box<Written>),
}

/// A file that is being written.
#[derive(Debug)]
pub(crate) struct Written {
    file: WholeFile,
    path: PathBuf,
    so_far: ReadSoFar,
    /// What stands in it for good: the rows of whole blocks.
    for_good: ReadSoFar,
}

impl Destination {
    pub(crate) fn standard_output() -> Self {
        Self::StandardOutput(io::stdout())
    }

    pub(crate) fn file(path: &Path) -> Result<Self, TriageError> {
        Ok(Self::File(Box::new(Written {
            file: WholeFile::create(path)?,
            path: path.to_owned(),
            so_far: ReadSoFar::default(),
            for_good: ReadSoFar::default(),
        })))
    }

    /// A file that begins with what an earlier run wrote.
    pub(crate) fn file_going_on(path: &Path, earlier: &Fingerprint) -> Result<Self, TriageError> {
        let mut to = Self::file(path)?;
        let fault = |error| TriageError::read(&earlier.file, error);
        let mut from = File::open(&earlier.file).map_err(fault)?.take(earlier.bytes);
        let mut buffer = vec![0; 1 << 16];
        loop {
            match from.read(&mut buffer) {
                Ok(0) => break,
                Ok(count) => to.write(buffer.get(..count).unwrap_or_default())?,
                Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
                Err(error) => return Err(fault(error)),
            }
        }
        to.keep();
        if to
            .fingerprint()
            .is_none_or(|copied| !copied.is_of_same_content(earlier))
        {
            return Err(TriageError::Resume {
                path: earlier.file.clone(),
                problem: "found another content than the stopped run wrote; expected it unchanged".into(),
            });
        }
        Ok(to)
    }

    /// Writes bytes through.
    pub(crate) fn write(&mut self, bytes: &[u8]) -> Result<(), TriageError> {
        match self {
            Self::StandardOutput(stdout) => stdout.write_all(bytes).map_err(TriageError::Stdout),
            Self::File(to) => {
                let written = to.file.write_all(bytes).and_then(|()| to.file.flush());
                written.map_err(|error| to.file.error(error))?;
                to.so_far.add(bytes);
                Ok(())
            }
        }
    }

    /// What was written so far is whole: it is kept when a later write fails.
    pub(crate) fn keep(&mut self) {
        if let Self::File(to) = self {
            to.for_good.clone_from(&to.so_far);
        }
    }

    /// The fingerprint of what is kept, where it is a file that can be found again.
    pub(crate) fn fingerprint(&self) -> Option<Fingerprint> {
        match self {
            Self::File(to) if to.file.has_a_place() => Some(Fingerprint::new(&to.path, &to.for_good)),
            _ => None,
        }
    }

    /// Gives the file its name.
    pub(crate) fn finish(self) -> Result<(), TriageError> {
        match self {
            Self::StandardOutput(mut stdout) => stdout.flush().map_err(TriageError::Stdout),
            Self::File(to) => Ok(to.file.finish()?),
        }
    }

    /// Leaves what is kept under the name of a partial file, with the foot that makes it whole; what is kept and where
    /// it stands, for a file that can be found again.
    pub(crate) fn leave_partial(mut self, foot: &[u8]) -> Result<Option<Fingerprint>, TriageError> {
        let Some(mut fingerprint) = self.fingerprint() else {
            self.write(foot)?;
            self.finish()?;
            return Ok(None);
        };
        fingerprint.file = partial(&fingerprint.file);
        if let Self::File(to) = self {
            to.file.finish_short(&fingerprint.file, fingerprint.bytes, foot)?;
        }
        Ok(Some(fingerprint))
    }
}
