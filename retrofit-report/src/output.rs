//! Writing files whole or not at all.
//!
//! What is written goes to a new file beside the place it is meant for and takes that place only when it is
//! complete. A run that fails or is stopped leaves the old file, or none, but never half of one. What a run
//! that is stopped from outside leaves beside it, [`abandon_unfinished`] takes away.

use std::fs;
use std::io::{self, BufWriter, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

use tempfile::NamedTempFile;
use thiserror::Error;

/// Why a file could not be written.
#[derive(Debug, Error)]
#[error("{}: cannot be written: {why}", .path.display())]
pub struct OutputError {
    /// The file.
    pub path: PathBuf,
    why: Why,
}

#[derive(Debug, Error)]
enum Why {
    #[error("it is a directory; name a file")]
    Directory,
    #[error("the folder {} does not exist", .0.display())]
    NoFolder(PathBuf),
    #[error("{} is a file, not a folder", .0.display())]
    FolderIsFile(PathBuf),
    #[error(transparent)]
    Io(#[from] io::Error),
}

/// Writes a file whole or not at all.
///
/// ```no_run
/// use retrofit_report::output::write_whole;
/// write_whole("report.html".as_ref(), b"<!doctype html>")?;
/// # Ok::<(), retrofit_report::output::OutputError>(())
/// ```
pub fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), OutputError> {
    let mut file = WholeFile::create(path)?;
    file.write_all(bytes).map_err(|error| file.error(error))?;
    file.finish()
}

/// A file that is being written and is there only once [`WholeFile::finish`] has been called.
#[derive(Debug)]
pub struct WholeFile {
    path: PathBuf,
    target: Target,
}

#[derive(Debug)]
enum Target {
    /// A new file that takes the place of the old one at the end.
    Beside(Box<BufWriter<NamedTempFile>>, PathBuf, Unfinished),
    /// A terminal, a pipe or a device: it cannot be replaced, only written to.
    Stream(BufWriter<fs::File>),
}

/// Every unfinished file of this process; whoever holds the lock keeps the list and the folders in step.
static UNFINISHED: Mutex<Vec<PathBuf>> = Mutex::new(Vec::new());

fn unfinished() -> MutexGuard<'static, Vec<PathBuf>> {
    // A list of paths is as good after a panic as before it.
    UNFINISHED.lock().unwrap_or_else(PoisonError::into_inner)
}

/// An entry in the list of unfinished files, taken out when this is dropped.
#[derive(Debug)]
struct Unfinished(PathBuf);

impl Drop for Unfinished {
    fn drop(&mut self) {
        unfinished().retain(|path| *path != self.0);
    }
}

/// Removes every unfinished file and then ends the run by `end`; until that is done no file can be begun or
/// put in its place. For a program that is stopped from outside and will not come to drop what it holds.
pub fn abandon_unfinished(end: impl FnOnce()) {
    let mut unfinished = unfinished();
    for path in unfinished.drain(..) {
        // It may be gone already, and there is nobody left to tell.
        drop(fs::remove_file(path));
    }
    end();
}

impl WholeFile {
    /// Begins a file.
    pub fn create(path: &Path) -> Result<Self, OutputError> {
        let error = |why: Why| OutputError {
            path: path.to_owned(),
            why,
        };
        // Through a link the file it leads to is replaced, not the link.
        let place = fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
        if let Ok(about) = fs::metadata(&place) {
            if about.is_dir() {
                return Err(error(Why::Directory));
            }
            if !about.is_file() {
                let file = fs::OpenOptions::new()
                    .write(true)
                    .open(&place)
                    .map_err(|e| error(e.into()))?;
                return Ok(Self {
                    path: path.to_owned(),
                    target: Target::Stream(BufWriter::new(file)),
                });
            }
        }
        let folder = match place.parent() {
            Some(folder) if folder.as_os_str().is_empty() => Path::new("."),
            Some(folder) => folder,
            None => return Err(error(Why::Directory)),
        };
        match fs::metadata(folder) {
            Ok(about) if !about.is_dir() => return Err(error(Why::FolderIsFile(folder.to_owned()))),
            Err(cause) if cause.kind() == io::ErrorKind::NotFound => {
                return Err(error(Why::NoFolder(folder.to_owned())));
            }
            _ => {}
        }
        let mut builder = tempfile::Builder::new();
        builder.prefix(".retrofit-").suffix(".part");
        // A private file would stay private when it takes its place; a report is as open as any other file.
        #[cfg(unix)]
        builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
        let mut unfinished = unfinished();
        let file = builder.tempfile_in(folder).map_err(|cause| {
            // The name of the unfinished file would only puzzle.
            error(Why::Io(cause.kind().into()))
        })?;
        let entry = Unfinished(file.path().to_owned());
        unfinished.push(entry.0.clone());
        Ok(Self {
            path: path.to_owned(),
            target: Target::Beside(Box::new(BufWriter::new(file)), place, entry),
        })
    }

    /// Puts the complete file in its place.
    pub fn finish(self) -> Result<(), OutputError> {
        let Self { path, target } = self;
        let done = match target {
            Target::Beside(file, place, _entry) => file
                .into_inner()
                .map_err(io::IntoInnerError::into_error)
                .and_then(|file| {
                    let _no_one_abandons_it = unfinished();
                    file.persist(place).map_err(|error| error.error)
                })
                .map(drop),
            Target::Stream(mut file) => file.flush(),
        };
        done.map_err(|cause| OutputError {
            path,
            why: Why::Io(cause),
        })
    }

    /// Puts the first so many bytes into another place, with what makes them whole after them, when a run could not be
    /// brought to its end. What was not written through by then is dropped.
    pub fn finish_short(self, path: &Path, bytes: u64, foot: &[u8]) -> Result<(), OutputError> {
        let error = |cause: io::Error| OutputError {
            path: path.to_owned(),
            why: Why::Io(cause),
        };
        let Target::Beside(file, _, _entry) = self.target else {
            return Ok(()); // what went to a terminal or a pipe is there already
        };
        let (mut file, _) = file.into_parts();
        let cut = file.as_file().set_len(bytes);
        cut.and_then(|()| file.seek(SeekFrom::End(0)))
            .and_then(|_| file.write_all(foot))
            .map_err(error)?;
        let _no_one_abandons_it = unfinished();
        file.persist(path).map_err(|fault| error(fault.error))?;
        Ok(())
    }

    /// Whether it is a file with a place of its own, and not a terminal, a pipe or a device.
    pub fn has_a_place(&self) -> bool {
        matches!(self.target, Target::Beside(..))
    }

    /// An error of writing, with the name of the file.
    pub fn error(&self, cause: io::Error) -> OutputError {
        // The name of the unfinished file, which the error may hold, would only puzzle.
        let why = cause
            .raw_os_error()
            .or_else(|| {
                let inner = cause.get_ref()?.source()?.downcast_ref::<io::Error>()?;
                inner.raw_os_error()
            })
            .map_or(cause, io::Error::from_raw_os_error);
        OutputError {
            path: self.path.clone(),
            why: Why::Io(why),
        }
    }
}

impl Write for WholeFile {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        match &mut self.target {
            Target::Beside(file, ..) => file.write(bytes),
            Target::Stream(file) => file.write(bytes),
        }
    }

    fn flush(&mut self) -> io::Result<()> {
        match &mut self.target {
            Target::Beside(file, ..) => file.flush(),
            Target::Stream(file) => file.flush(),
        }
    }
}

/// Whether two names lead to the same file, be it there already or not.
pub fn is_same_file(a: &Path, b: &Path) -> bool {
    a == b || matches!((place_of(a), place_of(b)), (Some(a), Some(b)) if a == b)
}

/// The one name of a file, without links and detours; of a file that is not there yet, by its folder.
fn place_of(path: &Path) -> Option<PathBuf> {
    if let Ok(place) = fs::canonicalize(path) {
        return Some(place);
    }
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
    let folder = fs::canonicalize(folder.unwrap_or(Path::new("."))).ok()?;
    Some(folder.join(path.file_name()?))
}

/// Makes a folder, and those it lies in, where they are not there yet.
pub fn make_folder(path: &Path) -> Result<(), OutputError> {
    fs::create_dir_all(path).map_err(|cause| OutputError {
        path: path.to_owned(),
        why: match cause.kind() {
            io::ErrorKind::AlreadyExists | io::ErrorKind::NotADirectory => {
                Why::FolderIsFile(nearest_file(path).to_owned())
            }
            _ => Why::Io(cause),
        },
    })
}

fn nearest_file(path: &Path) -> &Path {
    path.ancestors().find(|part| part.is_file()).unwrap_or(path)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_unfinished_file_leaves_the_old_one_and_nothing_else() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("report.html");
        write_whole(&path, b"old").unwrap();

        let mut file = WholeFile::create(&path).unwrap();
        file.write_all(b"half of the new").unwrap();
        drop(file);

        assert_eq!(fs::read(&path).unwrap(), b"old");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    /// The list holds what is being written, and nothing of what is done or given up.
    #[test]
    fn only_files_being_written_are_unfinished() {
        let folder = tempfile::tempdir().unwrap();
        let here = || {
            let all = unfinished();
            all.iter().filter(|path| path.starts_with(folder.path())).count()
        };
        let [first, second] = ["a", "b"].map(|name| WholeFile::create(&folder.path().join(name)).unwrap());
        assert_eq!(here(), 2);
        first.finish().unwrap();
        assert_eq!(here(), 1);
        drop(second);
        assert_eq!(here(), 0);
    }

    #[test]
    fn a_finished_file_replaces_the_old_one() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("report.html");
        write_whole(&path, b"a longer old text").unwrap();
        write_whole(&path, b"new").unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"new");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn a_file_is_known_by_any_of_its_names() {
        let folder = tempfile::tempdir().unwrap();
        let name = |name: &str| folder.path().join(name);
        fs::create_dir(name("in")).unwrap();
        assert!(is_same_file(&name("new"), &name("in/../new")), "not there yet");
        assert!(!is_same_file(&name("new"), &name("in/new")));
        write_whole(&name("new"), b"text").unwrap();
        assert!(is_same_file(&name("new"), &name("in/../new")));
    }

    #[test]
    fn a_folder_is_not_overwritten() {
        let folder = tempfile::tempdir().unwrap();
        let error = write_whole(folder.path(), b"text").unwrap_err().to_string();
        assert!(error.contains("it is a directory"), "{error}");
    }

    #[cfg(unix)]
    #[test]
    fn a_device_is_written_to_and_not_replaced() {
        use std::os::unix::fs::FileTypeExt;
        let device = Path::new("/dev/null");
        write_whole(device, b"text").unwrap();
        assert!(fs::metadata(device).unwrap().file_type().is_char_device());
    }

    #[cfg(unix)]
    #[test]
    fn a_link_is_followed() {
        let folder = tempfile::tempdir().unwrap();
        let (path, link) = (
            folder.path().join("report.html"),
            folder.path().join("latest.html"),
        );
        write_whole(&path, b"old").unwrap();
        std::os::unix::fs::symlink(&path, &link).unwrap();
        write_whole(&link, b"new").unwrap();
        assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
        assert_eq!(fs::read(&path).unwrap(), b"new");
    }
}
