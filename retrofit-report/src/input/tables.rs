//! Folders of tables that a user adds: each is a set of provisions of its own, or changes and attests figures
//! of a shipped set of the same name.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use retrofit_core::provisions::{Library, TableFile};
use retrofit_core::screen::StandardFolder;
use thiserror::Error;

use super::text::{BYTE_ORDER_MARK, Origin, TextError, read_text};

/// The largest table that is read.
pub const LARGEST_TABLE: u64 = 8 << 20;

/// Why a folder of tables could not be used.
#[derive(Debug, Error)]
pub enum TablesError {
    /// The folder cannot be read.
    #[error("{}: cannot be read: {cause}", .path.display())]
    Unreadable {
        /// The folder.
        path: PathBuf,
        /// What the system says.
        #[source]
        cause: io::Error,
    },
    /// It is not a folder.
    #[error("{}: found a file; expected a folder of tables", .0.display())]
    NotAFolder(PathBuf),
    /// It holds no set.
    #[error(
        "{}: found no tables; expected .csv files and a set.json (of a standard, an edition.json), or folders that \
         hold them",
        .0.display()
    )]
    Empty(PathBuf),
    /// Something in it is neither a file nor a folder.
    #[error("{}: found a link; expected a file (copy the file into the folder)", .0.display())]
    Link(PathBuf),
    /// A pipe or a device lies where only files may.
    #[error("{}: found a pipe or a device; expected a file", .0.display())]
    NotAFile(PathBuf),
    /// A folder lies where only files may.
    #[error("{}: found a folder inside a set; expected files only", .0.display())]
    FolderInside(PathBuf),
    /// A name that cannot be the name of a set or a table.
    #[error("{}: found a name that is not plain text; expected letters, digits and hyphens", .0.display())]
    Name(PathBuf),
    /// A table cannot be read.
    #[error(transparent)]
    Text(#[from] TextError),
}

/// Adds the sets of a folder to a library: the folder itself where it holds tables, or else each folder in it.
/// Returns the names of the sets.
pub fn add_table_folders(library: &mut Library, path: &Path) -> Result<Vec<String>, TablesError> {
    let mut ids = Vec::new();
    for (id, files) in table_folders(path)? {
        library.add_folder(&id, files);
        ids.push(id);
    }
    Ok(ids)
}

/// Reads the sets of a folder: their names and the text of their tables.
pub fn table_folders(path: &Path) -> Result<Vec<(String, Vec<TableFile>)>, TablesError> {
    let entries = entries(path)?;
    let holds_tables = entries.iter().any(|entry| is_table(entry));
    if holds_tables {
        // The folder may be given as "." or with a slash at its end: its own name is asked for.
        let full = fs::canonicalize(path).map_err(|cause| unreadable(path, cause))?;
        return Ok(vec![(name(&full)?, read_set(&entries)?)]);
    }
    let mut sets = Vec::new();
    for folder in entries.iter().filter(|entry| entry.is_dir()) {
        let inside = self::entries(folder)?;
        if inside.iter().any(|entry| is_table(entry)) {
            refuse_link(folder)?;
            sets.push((name(folder)?, read_set(&inside)?));
        }
    }
    if sets.is_empty() {
        return Err(TablesError::Empty(path.to_owned()));
    }
    Ok(sets)
}

/// Reads the editions of standards in a folder: the folder itself where it holds tables, or else each folder in it.
pub fn read_standards(path: &Path) -> Result<Vec<StandardFolder>, TablesError> {
    let folders = table_folders(path)?;
    Ok(folders
        .into_iter()
        .map(|(id, files)| StandardFolder { id, files })
        .collect())
}

/// What a folder holds, in the order of its names, so that every run reads alike.
fn entries(path: &Path) -> Result<Vec<PathBuf>, TablesError> {
    if path.is_file() {
        return Err(TablesError::NotAFolder(path.to_owned()));
    }
    let mut entries = fs::read_dir(path)
        .and_then(|entries| {
            entries
                .map(|entry| Ok(entry?.path()))
                .collect::<io::Result<Vec<_>>>()
        })
        .map_err(|cause| unreadable(path, cause))?;
    entries.retain(|entry| !is_hidden(entry));
    entries.sort();
    Ok(entries)
}

fn unreadable(path: &Path, cause: io::Error) -> TablesError {
    TablesError::Unreadable {
        path: path.to_owned(),
        cause,
    }
}

fn is_hidden(path: &Path) -> bool {
    path.file_name()
        .is_some_and(|name| name.as_encoded_bytes().starts_with(b"."))
}

fn is_table(path: &Path) -> bool {
    let is_csv = path
        .extension()
        .is_some_and(|extension| extension.eq_ignore_ascii_case("csv"));
    let is_head = |name: &std::ffi::OsStr| name == "set.json" || name == "edition.json";
    !path.is_dir() && (is_csv || path.file_name().is_some_and(is_head))
}

fn name(path: &Path) -> Result<String, TablesError> {
    path.file_name()
        .and_then(|name| name.to_str())
        .map(str::to_owned)
        .ok_or_else(|| TablesError::Name(path.to_owned()))
}

fn read_set(entries: &[PathBuf]) -> Result<Vec<TableFile>, TablesError> {
    entries
        .iter()
        .map(|path| {
            refuse_link(path)?;
            if path.is_dir() {
                return Err(TablesError::FolderInside(path.clone()));
            }
            // Whoever opens a pipe waits until somebody writes to it.
            if !path.is_file() {
                return Err(TablesError::NotAFile(path.clone()));
            }
            let text = read_text(&Origin::File(path.clone()), LARGEST_TABLE)?;
            let text = text
                .strip_prefix(BYTE_ORDER_MARK)
                .map_or_else(|| text.clone(), str::to_owned);
            Ok(TableFile {
                path: path.display().to_string(),
                name: name(path)?,
                text,
            })
        })
        .collect()
}

/// A link could lead anywhere, and a table is evidence: it has to lie in its folder.
fn refuse_link(path: &Path) -> Result<(), TablesError> {
    let about = fs::symlink_metadata(path).map_err(|cause| unreadable(path, cause))?;
    if about.is_symlink() {
        return Err(TablesError::Link(path.to_owned()));
    }
    Ok(())
}
