//! What a run read, by which tables and settings, and what it wrote: a file beside the output.
//!
//! The manifest of a run that came to its end lets anybody tell later which input, tables and settings a file
//! of results rests on. That of a run that was stopped also says how far it came, so that it can go on.

use std::fmt::{self, Debug, Write};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use retrofit_core::provisions::Provisions;
use schemars::JsonSchema;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use super::lines::ReadSoFar;
use super::{Aside, Format, TriageError, TriageSummary};
use crate::input::MapFile;
use crate::output::write_whole;
use crate::result::hexadecimal;

/// By what a run was made: what it has to have in common with the run that it goes on with.
pub trait By {
    /// The version of the format of its manifest.
    const FORMAT: &'static str;
}

impl By for MadeBy {
    const FORMAT: &'static str = "triage-manifest-2";
}

/// What a run read, by which tables and settings, and what it wrote.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Manifest<B = MadeBy, S = TriageSummary> {
    /// The version of this format.
    pub format: String,
    /// Whether the run came to its end.
    pub state: State,
    /// By what the houses were checked, and how the results are written.
    pub made_by: B,
    /// What was read, the houses first. Of a run that was stopped: what had been read when its last whole block
    /// of rows was taken up.
    pub inputs: Vec<Fingerprint>,
    /// The results.
    pub results: Fingerprint,
    /// The rows that could not be read, where a file was named for them.
    pub bad_rows: Option<Fingerprint>,
    /// What the run came to.
    pub summary: S,
    /// How many blocks of rows were done.
    pub blocks: u64,
}

/// Whether a run came to its end.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum State {
    /// Every row was read.
    Complete,
    /// The run was stopped: the results are whole rows from the beginning, and not all of them.
    Stopped,
}

/// By what houses were checked, and how the results are written. A run goes on only by the same.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MadeBy {
    /// The version of this program.
    pub program_version: String,
    /// The set of provisions.
    pub provisions: String,
    /// Its document.
    pub document: String,
    /// The edition of the document.
    pub edition: String,
    /// The fingerprint of all its figures, with their sources and standings.
    pub figures_sha256: String,
    /// How the results are written.
    pub output_format: Format,
    /// The fingerprint of the column map, where one was named.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub map_sha256: Option<String>,
}

/// A file by its length and BLAKE3 fingerprint.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Fingerprint {
    /// The file, as it was named.
    pub file: PathBuf,
    /// Its length.
    pub bytes: u64,
    /// Its BLAKE3 fingerprint, in hexadecimal digits.
    pub blake3: String,
}

impl Fingerprint {
    pub(crate) fn new(file: &Path, so_far: &ReadSoFar) -> Self {
        Self {
            file: file.to_owned(),
            bytes: so_far.bytes,
            blake3: so_far.hash.finalize().to_hex().to_string(),
        }
    }

    /// Of a file as it stands.
    pub(crate) fn of_file(path: &Path) -> io::Result<Self> {
        Ok(Self::new(path, &ReadSoFar::of_file(path)?))
    }

    /// Whether two files hold the same, whatever they are called.
    pub(crate) fn is_of_same_content(&self, other: &Self) -> bool {
        (self.bytes, &self.blake3) == (other.bytes, &other.blake3)
    }
}

impl MadeBy {
    pub(crate) fn new(provisions: &Provisions, map: Option<&MapFile>, output_format: Format) -> Self {
        Self {
            program_version: env!("CARGO_PKG_VERSION").to_owned(),
            provisions: provisions.id.clone(),
            document: provisions.document.clone(),
            edition: provisions.edition.clone(),
            figures_sha256: fingerprint_of(provisions.figures()),
            output_format,
            map_sha256: map.map(|map| hexadecimal(&Sha256::digest(map.text()))),
        }
    }
}

/// The fingerprint of things as a debugger shows them, one a line; it takes no memory for all of them.
pub(crate) fn fingerprint_of<T: Debug>(things: impl IntoIterator<Item = T>) -> String {
    struct Hash(Sha256);
    impl Write for Hash {
        fn write_str(&mut self, text: &str) -> fmt::Result {
            self.0.update(text);
            Ok(())
        }
    }
    let mut hash = Hash(Sha256::new());
    for thing in things {
        // A hash takes whatever is written to it.
        let _ = writeln!(hash, "{thing:?}");
    }
    hexadecimal(&hash.0.finalize())
}

impl Manifest {
    /// Where the manifest of a file of results stands.
    pub fn path_of(results: &Path) -> PathBuf {
        let mut name = results.as_os_str().to_owned();
        name.push(".manifest.json");
        name.into()
    }
}

impl<B, S> Manifest<B, S>
where
    B: By + Serialize + DeserializeOwned + PartialEq,
    S: Default + Serialize + DeserializeOwned,
{
    pub(crate) fn new(made_by: B, state: State) -> Self {
        Self {
            format: B::FORMAT.to_owned(),
            state,
            made_by,
            inputs: Vec::new(),
            results: Fingerprint::new(Path::new(""), &ReadSoFar::default()),
            bad_rows: None,
            summary: S::default(),
            blocks: 0,
        }
    }

    pub(crate) fn write(&self) -> Result<(), TriageError> {
        let mut text = serde_json::to_string_pretty(self).unwrap_or_default();
        text.push('\n');
        Ok(write_whole(
            &Manifest::path_of(&self.results.file),
            text.as_bytes(),
        )?)
    }

    /// Reads the manifest of a run that was stopped, which has to have been made by the same.
    pub(crate) fn of_stopped(results: &Path, made_by: &B) -> Result<Self, TriageError> {
        let path = Manifest::path_of(results);
        let text = fs::read(&path).map_err(|error| TriageError::read(&path, error))?;
        let refuse = |problem: String| TriageError::Resume {
            path: path.clone(),
            problem,
        };
        let manifest: Self = serde_json::from_slice(&text).map_err(|error| {
            refuse(format!(
                "{error}; expected the manifest of a run that was stopped"
            ))
        })?;
        if manifest.state != State::Stopped || manifest.format != B::FORMAT {
            return Err(refuse(
                "found no run that was stopped; expected one to go on with".into(),
            ));
        }
        if manifest.made_by != *made_by {
            return Err(refuse(
                "found another version of the program, other provisions, other settings or another format; expected \
                 those the stopped run had"
                    .into(),
            ));
        }
        Ok(manifest)
    }
}

impl<B, S> Manifest<B, S> {
    /// Goes on with the file of rows that could not be read, which has to be the one the stopped run had.
    pub(crate) fn bad_rows_again(&self, path: Option<&Path>, count: u64) -> Result<Aside, TriageError> {
        Aside::open_again(path, self.bad_rows.as_ref(), count)?.ok_or_else(|| TriageError::Resume {
            path: Manifest::path_of(&self.results.file),
            problem: "found another --bad-rows; expected that of the stopped run".into(),
        })
    }

    /// Takes away what a run that was stopped left, once another has brought it to its end.
    pub(crate) fn clear_away(self) {
        let files = [Manifest::path_of(&self.results.file), self.results.file];
        for file in files.into_iter().chain(self.bad_rows.map(|rows| rows.file)) {
            // The results are whole without it; a file that stays is only a nuisance.
            drop(fs::remove_file(file));
        }
    }
}

/// Where the results of a run stand that did not come to its end: `verdicts.partial.csv` for `verdicts.csv`.
pub(crate) fn partial(path: &Path) -> PathBuf {
    let mut name = path.file_stem().unwrap_or_default().to_owned();
    name.push(".partial");
    if let Some(extension) = path.extension() {
        name.push(".");
        name.push(extension);
    }
    path.with_file_name(name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_partial_file_stands_beside_the_whole_one() {
        assert_eq!(
            partial(Path::new("out/verdicts.csv")),
            Path::new("out/verdicts.partial.csv")
        );
        assert_eq!(partial(Path::new("verdicts")), Path::new("verdicts.partial"));
        assert_eq!(
            Manifest::path_of(Path::new("out/verdicts.csv")),
            Path::new("out/verdicts.csv.manifest.json")
        );
    }
}
