//! Where results go: the standard output, or a file that is written whole or not at all.

use std::fs::OpenOptions;
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

use super::TriageError;

/// A place to write to.
#[derive(Debug)]
pub(super) struct Destination {
    path: Option<PathBuf>,
    to: To,
}

#[derive(Debug)]
enum To {
    /// Straight on: the standard output, or something that is no regular file, such as a pipe.
    Stream(Box<dyn WriteDebug>),
    /// Into a file beside it that takes its name at the end.
    Whole(BufWriter<NamedTempFile>),
}

/// A stream that can be written to and named in a debug message.
trait WriteDebug: Write + std::fmt::Debug {}
impl<T: Write + std::fmt::Debug> WriteDebug for T {}

impl Destination {
    pub(super) fn standard_output() -> Self {
        Self {
            path: None,
            to: To::Stream(Box::new(io::stdout())),
        }
    }

    pub(super) fn file(path: &Path) -> Result<Self, TriageError> {
        let to = open(path).map_err(|error| TriageError::write(Some(path), error))?;
        Ok(Self {
            path: Some(path.to_owned()),
            to,
        })
    }

    pub(super) fn write(&mut self, bytes: &[u8]) -> Result<(), TriageError> {
        let written = match &mut self.to {
            To::Stream(stream) => stream.write_all(bytes),
            To::Whole(file) => file.write_all(bytes),
        };
        written.map_err(|error| TriageError::write(self.path.as_deref(), error))
    }

    /// Gives the file its name.
    pub(super) fn finish(self) -> Result<(), TriageError> {
        let finished = match self.to {
            To::Stream(mut stream) => stream.flush(),
            To::Whole(file) => match (file.into_inner(), &self.path) {
                (Ok(file), Some(path)) => file.persist(path).map(drop).map_err(|error| error.error),
                (Ok(_), None) => Ok(()),
                (Err(error), _) => Err(error.into_error()),
            },
        };
        finished.map_err(|error| TriageError::write(self.path.as_deref(), error))
    }
}

fn open(path: &Path) -> io::Result<To> {
    if let Ok(metadata) = path.metadata() {
        if metadata.is_dir() {
            return Err(io::Error::new(
                io::ErrorKind::IsADirectory,
                "found a directory; expected the name of a file",
            ));
        }
        // A pipe or a device must not be replaced by a file of its name.
        if !metadata.is_file() {
            let stream = OpenOptions::new().write(true).open(path)?;
            return Ok(To::Stream(Box::new(stream)));
        }
    }
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
    let mut builder = tempfile::Builder::new();
    #[cfg(unix)]
    {
        // As any other program would create the file; the process's mask takes from it what it must.
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(std::fs::Permissions::from_mode(0o666));
    }
    let file = builder.tempfile_in(folder.unwrap_or(Path::new(".")))?;
    Ok(To::Whole(BufWriter::with_capacity(1 << 17, file)))
}
