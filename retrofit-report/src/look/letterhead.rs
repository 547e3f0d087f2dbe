//! A letterhead: whose report it is.

use std::path::Path;

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::photo::{self, PhotoError};
use crate::input::{Origin, TextError, read_text};
use crate::result::wording::plain;

/// The largest letterhead that is read, in bytes.
const LARGEST: u64 = 64 << 10;
/// The largest logo, in bytes.
const LARGEST_LOGO: u64 = 1 << 20;
/// The most lines under the name.
const MOST_LINES: usize = 6;

/// Whose report it is: a name, lines under it, a logo.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Letterhead {
    name: String,
    lines: Vec<String>,
    /// The logo as a `data:` address.
    logo: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Written {
    name: String,
    #[serde(default)]
    lines: Vec<String>,
    logo: Option<String>,
}

/// Why a letterhead cannot be used.
#[derive(Debug, Error)]
pub enum LetterheadError {
    /// Its file cannot be read.
    #[error(transparent)]
    Text(#[from] TextError),
    /// Its file is no letterhead.
    #[error("{origin}: {}", .fault.to_string().trim_end())]
    Faulty {
        /// The file.
        origin: Origin,
        /// What is wrong with it, and where.
        fault: toml::de::Error,
    },
    /// It has no name.
    #[error("{0}: name: found an empty name; expected whose report it is")]
    NoName(Origin),
    /// It has too many lines for the head of a page.
    #[error("{origin}: lines: found {found}; expected at most {MOST_LINES}")]
    TooManyLines {
        /// The file.
        origin: Origin,
        /// How many.
        found: usize,
    },
    /// Its logo cannot be taken into a page.
    #[error("{origin}: {fault}")]
    Logo {
        /// The file.
        origin: Origin,
        /// Why not.
        fault: PhotoError,
    },
}

impl Letterhead {
    /// Reads a letterhead: `name`, `lines`, and `logo` as a path below the folder of the file.
    pub fn read(path: &Path) -> Result<Self, LetterheadError> {
        let origin = Origin::File(path.to_owned());
        let text = read_text(&origin, LARGEST)?;
        let written: Written = match toml::from_str(&text) {
            Ok(written) => written,
            Err(fault) => return Err(LetterheadError::Faulty { origin, fault }),
        };
        if plain(&written.name).is_empty() {
            return Err(LetterheadError::NoName(origin));
        }
        if written.lines.len() > MOST_LINES {
            let found = written.lines.len();
            return Err(LetterheadError::TooManyLines { origin, found });
        }
        let folder = path.parent().unwrap_or(Path::new("."));
        let logo = match &written.logo {
            Some(file) => match photo::read(folder, file, "logo", LARGEST_LOGO) {
                Ok((data, _)) => Some(data),
                Err(fault) => return Err(LetterheadError::Logo { origin, fault }),
            },
            None => None,
        };
        Ok(Self {
            name: plain(&written.name),
            lines: written.lines.iter().map(|line| plain(line)).collect(),
            logo,
        })
    }
}
