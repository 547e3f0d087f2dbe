//! Text from a file or from standard input: UTF-8, of a bounded size, or a plain reason why not.

use std::fmt;
use std::fs::File;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use thiserror::Error;

/// The largest house file that is read: one house takes a few kilobytes.
pub const LARGEST_HOUSE_FILE: u64 = 64 << 20;

/// What some programs write before UTF-8 text.
pub(super) const BYTE_ORDER_MARK: char = '\u{feff}';

/// Where a text comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Origin {
    /// Standard input, written as `-`.
    StandardInput,
    /// A file.
    File(PathBuf),
}

impl Origin {
    /// The file, where it is one.
    pub fn path(&self) -> Option<&Path> {
        match self {
            Self::StandardInput => None,
            Self::File(path) => Some(path),
        }
    }
}

impl From<&str> for Origin {
    fn from(name: &str) -> Self {
        match name {
            "-" => Self::StandardInput,
            name => Self::File(name.into()),
        }
    }
}

impl From<&Path> for Origin {
    fn from(path: &Path) -> Self {
        match path.to_str() {
            Some("-") => Self::StandardInput,
            _ => Self::File(path.to_owned()),
        }
    }
}

impl fmt::Display for Origin {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::StandardInput => f.write_str("standard input"),
            Self::File(path) => path.display().fmt(f),
        }
    }
}

/// Why a text could not be had.
#[derive(Debug, Error)]
pub enum TextError {
    /// It cannot be opened or read.
    #[error("{origin}: cannot be read: {cause}")]
    Unreadable {
        /// The file.
        origin: Origin,
        /// What the system says.
        #[source]
        cause: io::Error,
    },
    /// It is a directory.
    #[error("{0}: found a directory; expected a file")]
    Directory(Origin),
    /// It is larger than a file of its kind can sensibly be.
    #[error("{origin}: found {}; expected at most {} MB", found(*.bytes, *.limit), .limit >> 20)]
    TooLarge {
        /// The file.
        origin: Origin,
        /// Its size; `None` where the end was not reached.
        bytes: Option<u64>,
        /// The largest that is read.
        limit: u64,
    },
    /// It holds nothing.
    #[error("{0}: found an empty file; expected text")]
    Empty(Origin),
    /// It is in UTF-16.
    #[error("{0}: found text in UTF-16; expected UTF-8 (save it again with the encoding UTF-8)")]
    Utf16(Origin),
    /// It is in some other encoding.
    #[error(
        "{origin}:{line}: found the byte 0x{byte:02X} at offset {offset}, which is not UTF-8{}; expected UTF-8 (save it again with that encoding)",
        windows_1252_hint(*.byte)
    )]
    NotUtf8 {
        /// The file.
        origin: Origin,
        /// The line of the first byte that does not fit.
        line: usize,
        /// Its position in the file, counted from 0.
        offset: usize,
        /// The byte.
        byte: u8,
    },
}

fn found(bytes: Option<u64>, limit: u64) -> String {
    match bytes {
        Some(bytes) => format!("{} MB", bytes.div_ceil(1 << 20)),
        None => format!("more than {} MB", limit >> 20),
    }
}

/// What a stray byte stands for in the encoding that office programs on Windows write.
fn windows_1252_hint(byte: u8) -> &'static str {
    match byte {
        0x85 => " (in Windows-1252 it is …)",
        0x91 | 0x92 => " (in Windows-1252 it is a curly single quote)",
        0x93 | 0x94 => " (in Windows-1252 it is a curly double quote)",
        0x96 | 0x97 => " (in Windows-1252 it is a dash)",
        0xB0 => " (in Windows-1252 it is °)",
        0xBC => " (in Windows-1252 it is ¼)",
        0xBD => " (in Windows-1252 it is ½)",
        0xBE => " (in Windows-1252 it is ¾)",
        0xD7 => " (in Windows-1252 it is ×)",
        0x80..=0xFF => " (the text may be in Windows-1252 or Latin-1)",
        _ => "",
    }
}

/// Reads a whole text of at most `limit` bytes. What is larger is refused before it takes up memory.
pub fn read_text(origin: &Origin, limit: u64) -> Result<String, TextError> {
    let unreadable = |cause| TextError::Unreadable {
        origin: origin.clone(),
        cause,
    };
    let bytes = match origin {
        Origin::StandardInput => read_at_most(io::stdin().lock(), origin, limit)?,
        Origin::File(path) => {
            let file = File::open(path).map_err(unreadable)?;
            let about = file.metadata().map_err(unreadable)?;
            if about.is_dir() {
                return Err(TextError::Directory(origin.clone()));
            }
            if about.len() > limit {
                return Err(TextError::TooLarge {
                    origin: origin.clone(),
                    bytes: Some(about.len()),
                    limit,
                });
            }
            read_at_most(file, origin, limit)?
        }
    };
    decode(bytes, origin)
}

/// Reads to the end, but never more than the limit: a pipe does not tell its size beforehand.
fn read_at_most(source: impl Read, origin: &Origin, limit: u64) -> Result<Vec<u8>, TextError> {
    let mut bytes = Vec::new();
    let read = source.take(limit + 1).read_to_end(&mut bytes);
    let read = read.map_err(|cause| TextError::Unreadable {
        origin: origin.clone(),
        cause,
    })?;
    if read as u64 > limit {
        return Err(TextError::TooLarge {
            origin: origin.clone(),
            bytes: None,
            limit,
        });
    }
    Ok(bytes)
}

fn decode(bytes: Vec<u8>, origin: &Origin) -> Result<String, TextError> {
    if bytes.starts_with(&[0xFF, 0xFE]) || bytes.starts_with(&[0xFE, 0xFF]) {
        return Err(TextError::Utf16(origin.clone()));
    }
    let content = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(&bytes);
    if content.iter().all(u8::is_ascii_whitespace) {
        return Err(TextError::Empty(origin.clone()));
    }
    String::from_utf8(bytes).map_err(|error| {
        let offset = error.utf8_error().valid_up_to();
        let before = error.as_bytes().iter().take(offset);
        TextError::NotUtf8 {
            origin: origin.clone(),
            line: 1 + before.filter(|byte| **byte == b'\n').count(),
            offset,
            byte: error.as_bytes().get(offset).copied().unwrap_or_default(),
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn decoded(bytes: &[u8]) -> Result<String, String> {
        decode(bytes.to_vec(), &Origin::from("house.json")).map_err(|error| error.to_string())
    }

    #[test]
    fn a_text_is_kept_byte_for_byte() {
        assert_eq!(decoded(b"\xEF\xBB\xBF{}\r\n").unwrap(), "\u{feff}{}\r\n");
    }

    #[test]
    fn nothing_but_a_byte_order_mark_is_empty() {
        assert!(decoded(b"\xEF\xBB\xBF\r\n").unwrap_err().contains("empty file"));
    }

    #[test]
    fn a_stray_byte_is_named_with_its_line_and_offset() {
        let error = decoded(b"{\n\"note\": \"2\xBD in\"}").unwrap_err();
        assert!(
            error.starts_with("house.json:2: found the byte 0xBD at offset 12"),
            "{error}"
        );
        assert!(error.contains("it is ½"), "{error}");
    }

    #[test]
    fn a_pipe_without_end_is_refused_at_the_limit() {
        let endless = io::repeat(b' ');
        let error = read_at_most(endless, &Origin::StandardInput, 1 << 20).unwrap_err();
        assert_eq!(
            error.to_string(),
            "standard input: found more than 1 MB; expected at most 1 MB"
        );
    }
}
