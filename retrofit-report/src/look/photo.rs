//! Pictures from files beside a record: photographs, and the logo of a letterhead.
//!
//! A picture becomes part of the page, so that a page is one file. Only PNG and JPEG are taken, told by their first
//! bytes and not by their name, only from below the folder of the file that names them, and only up to a size.

use std::fs;
use std::io;
use std::path::{Component, Path, PathBuf};

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use retrofit_core::house::House;
use serde::Serialize;
use thiserror::Error;

use crate::result::wording::plain;

/// The largest photograph that is taken into a page, in bytes.
pub const LARGEST_PHOTO: u64 = 8 << 20;
/// The most that the photographs of one house may be together, in bytes.
pub const LARGEST_PHOTOS: u64 = 32 << 20;

/// A photograph as a page shows it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Picture {
    /// Its file, as the record names it.
    pub file: String,
    /// What it shows; its file where the record does not say.
    pub caption: String,
    /// The number of the wall line it shows, from 1; null where it shows the house.
    pub line: Option<usize>,
    /// The name of that wall line.
    pub wall_line: Option<String>,
    /// The station it shows.
    pub station: Option<String>,
    /// The picture itself, as a `data:` address.
    pub data: String,
}

/// Why a picture cannot be taken into a page.
#[derive(Debug, Error)]
pub enum PhotoError {
    /// Its path leads out of the folder.
    #[error("{field}: found {file:?}; expected a path below the folder of the file that names it")]
    LeadsOut {
        /// The field that names it.
        field: String,
        /// The path.
        file: String,
    },
    /// It cannot be read.
    #[error("{field}: {} cannot be read: {why}", .path.display())]
    Unreadable {
        /// The field that names it.
        field: String,
        /// Where it was looked for.
        path: PathBuf,
        /// What the system says.
        why: io::Error,
    },
    /// It is too large.
    #[error("{field}: found {} of {bytes} bytes; expected at most {limit}", .path.display())]
    TooLarge {
        /// The field that names it.
        field: String,
        /// Its file.
        path: PathBuf,
        /// Its size.
        bytes: u64,
        /// The largest that is taken.
        limit: u64,
    },
    /// It is neither PNG nor JPEG.
    #[error("{field}: found {} that is neither PNG nor JPEG by its first bytes; expected one of them", .path.display())]
    OtherKind {
        /// The field that names it.
        field: String,
        /// Its file.
        path: PathBuf,
    },
}

/// Reads the photographs that a record names, from below the folder it lies in.
pub fn read_photos(house: &House, folder: &Path) -> Result<Vec<Picture>, PhotoError> {
    let mut left = LARGEST_PHOTOS;
    let mut pictures = Vec::with_capacity(house.photos.len());
    for (index, photo) in house.photos.iter().enumerate() {
        let field = format!("photos[{index}].file");
        let (data, bytes) = read(folder, &photo.file, &field, left.min(LARGEST_PHOTO))?;
        left = left.saturating_sub(bytes);
        let line = photo.wall_line.as_ref().and_then(|name| {
            let place = house.wall_lines.iter().position(|wall| wall.name == *name)?;
            Some(place + 1)
        });
        let caption = if photo.caption.trim().is_empty() {
            &photo.file
        } else {
            &photo.caption
        };
        pictures.push(Picture {
            file: plain(&photo.file),
            caption: plain(caption),
            line,
            wall_line: photo.wall_line.as_deref().map(plain),
            station: photo.station.map(|station| station.to_string()),
            data,
        });
    }
    Ok(pictures)
}

/// A picture as a `data:` address, and the size of its file.
pub(super) fn read(folder: &Path, file: &str, field: &str, limit: u64) -> Result<(String, u64), PhotoError> {
    let relative = Path::new(file);
    let path = folder.join(relative);
    let unreadable = |why| PhotoError::Unreadable {
        field: field.to_owned(),
        path: path.clone(),
        why,
    };
    let leads_out = || PhotoError::LeadsOut {
        field: field.to_owned(),
        file: plain(file),
    };
    if !relative
        .components()
        .all(|part| matches!(part, Component::Normal(_) | Component::CurDir))
    {
        return Err(leads_out());
    }
    let folder = if folder.as_os_str().is_empty() {
        Path::new(".")
    } else {
        folder
    };
    let root = fs::canonicalize(folder).map_err(unreadable)?;
    let place = fs::canonicalize(&path).map_err(unreadable)?;
    if !place.starts_with(&root) {
        return Err(leads_out());
    }
    let about = fs::metadata(&place).map_err(unreadable)?;
    if !about.is_file() {
        return Err(unreadable(io::Error::other("it is no ordinary file")));
    }
    let bytes = about.len();
    if bytes > limit {
        return Err(PhotoError::TooLarge {
            field: field.to_owned(),
            path: path.clone(),
            bytes,
            limit,
        });
    }
    let picture = fs::read(&place).map_err(unreadable)?;
    let kind = match picture.as_slice() {
        // The first bytes by which the two formats say what they are (ISO/IEC 15948, 5.2; ISO/IEC 10918-1, B.1.1.3).
        [0x89, b'P', b'N', b'G', 0x0d, 0x0a, 0x1a, 0x0a, ..] => "png",
        [0xff, 0xd8, 0xff, ..] => "jpeg",
        _ => {
            return Err(PhotoError::OtherKind {
                field: field.to_owned(),
                path: path.clone(),
            });
        }
    };
    Ok((
        format!("data:image/{kind};base64,{}", STANDARD.encode(&picture)),
        bytes,
    ))
}
