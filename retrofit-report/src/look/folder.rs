//! A folder of templates of a user's own.

use std::collections::BTreeMap;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use retrofit_core::choice::nearest;
use thiserror::Error;

use super::{HEAD, LARGEST_TEMPLATE, TemplateError, templates};

/// Why a folder of templates cannot be used.
#[derive(Debug, Error)]
pub enum FolderError {
    /// The folder or a file in it cannot be read.
    #[error("{}: cannot be read: {why}", .path.display())]
    Unreadable {
        /// The folder or file.
        path: PathBuf,
        /// What the system says.
        why: io::Error,
    },
    /// There is nothing in it.
    #[error("{}: found no template; expected at least one file named as one of ours, as `retrofit templates` writes them", .0.display())]
    Nothing(PathBuf),
    /// A file is not named as one of our templates.
    #[error("{}: found a file that overrides none of our templates; expected {expected}", .path.display())]
    Unknown {
        /// The file.
        path: PathBuf,
        /// What may stand there.
        expected: String,
    },
    /// A name leads out of the folder.
    #[error("{}: found a link that leads out of the folder of templates; expected a file within it", .0.display())]
    LeadsOut(PathBuf),
    /// A folder, a pipe or a device stands where a template is expected.
    #[error("{}: found no ordinary file; expected a template", .0.display())]
    NoFile(PathBuf),
    /// A file is larger than a template can sensibly be.
    #[error("{}: found {bytes} bytes; expected at most {LARGEST_TEMPLATE}", .path.display())]
    TooLarge {
        /// The file.
        path: PathBuf,
        /// Its size.
        bytes: u64,
    },
    /// A file is no text.
    #[error("{}: found bytes that are no UTF-8 text; expected a template", .0.display())]
    NoText(PathBuf),
    /// A template cannot be understood.
    #[error(transparent)]
    Template(#[from] TemplateError),
}

type Own = BTreeMap<&'static str, (PathBuf, String)>;

/// Reads every template of a folder; what is hidden, by a dot before its name, is left alone.
pub(super) fn read(folder: &Path) -> Result<Own, FolderError> {
    let unreadable = |path: &Path| {
        let path = path.to_owned();
        |why| FolderError::Unreadable { path, why }
    };
    let root = fs::canonicalize(folder).map_err(unreadable(folder))?;
    let mut own = Own::new();
    for entry in fs::read_dir(&root).map_err(unreadable(folder))? {
        let name = entry.map_err(unreadable(folder))?.file_name();
        let path = folder.join(&name);
        let name = name.to_string_lossy();
        if name.starts_with('.') {
            continue;
        }
        let Some((ours, _)) = templates().find(|(ours, _)| *ours == name) else {
            return Err(FolderError::Unknown {
                path,
                expected: expected(&name),
            });
        };
        let place = fs::canonicalize(&path).map_err(unreadable(&path))?;
        if !place.starts_with(&root) {
            return Err(FolderError::LeadsOut(path));
        }
        let about = fs::metadata(&place).map_err(unreadable(&path))?;
        if !about.is_file() {
            return Err(FolderError::NoFile(path));
        }
        let bytes = about.len();
        if bytes > LARGEST_TEMPLATE {
            return Err(FolderError::TooLarge { path, bytes });
        }
        let text = fs::read(&place).map_err(unreadable(&path))?;
        let text = String::from_utf8(text).map_err(|_| FolderError::NoText(path.clone()))?;
        own.insert(ours, (path, text));
    }
    if own.is_empty() {
        return Err(FolderError::Nothing(folder.to_owned()));
    }
    Ok(own)
}

fn expected(name: &str) -> String {
    if name == HEAD {
        return "every file but this one: it holds the policy that keeps a page from the network".to_owned();
    }
    let names: Vec<&str> = templates().map(|(name, _)| name).collect();
    match nearest(name, names.iter().copied()) {
        Some(near) => format!("a name of ours, perhaps {near}"),
        None => format!("one of {}", names.join(", ")),
    }
}
