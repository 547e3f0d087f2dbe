//! Extracts: tables, points and outlines, and home-energy files that others keep, as portfolios.
//!
//! Whatever is read, a source yields *lines of our columns*: comma-separated values under a header, one line for each row
//! of the source. What follows does not know where they come from. A column map says how the columns of the source become
//! ours; where there is none, a table goes straight to the checks and costs nothing more.

#[cfg(feature = "parquet")]
mod columnar;
mod coverage;
mod features;
mod home_energy;
mod inside;
mod named;
mod proposal;
mod raw;
mod table;

use std::collections::BTreeMap;
use std::path::Path;

use retrofit_core::portfolio::Translator;

use self::named::{NamedRows, TranslatedRows};
use crate::input::MapFile;
use crate::triage::{BadRow, Lines, TriageError, rows};

pub use coverage::{Coverage, Example, FieldCoverage, coverage};
pub(crate) use features::POSITION;
pub use inside::{Point, point_inside};
pub use proposal::{Proposal, propose};

/// What kind of file an extract is, by the end of its name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A table: comma-separated values, or with another mark between them.
    Table,
    /// GeoJSON: a collection of features.
    Features,
    /// HPXML: home-energy data.
    HomeEnergy,
    /// Parquet: a table by columns.
    Columnar,
}

impl Kind {
    /// The kind of a file.
    pub fn of(path: &Path) -> Self {
        let end = path.extension().and_then(|end| end.to_str()).unwrap_or_default();
        match end.to_ascii_lowercase().as_str() {
            "geojson" | "json" => Self::Features,
            "xml" => Self::HomeEnergy,
            "parquet" => Self::Columnar,
            _ => Self::Table,
        }
    }
}

/// The columns of an extract by the names of ours that come from them.
#[derive(Clone, Debug, Default)]
pub(crate) struct SourceNames(BTreeMap<String, String>);

impl SourceNames {
    fn of(translator: &Translator) -> Self {
        let names = translator.names().iter();
        Self(
            names
                .filter_map(|name| Some((name.clone(), translator.source_of(name)?.to_owned())))
                .collect(),
        )
    }

    /// How an error names one of our columns: by the column of the extract, and by ours where it is another name.
    pub(crate) fn told(&self, column: &str) -> String {
        match self.0.get(column) {
            Some(source) if source != column => format!("{source} (our {column})"),
            _ => column.to_owned(),
        }
    }
}

/// Writes an extract as a table of our columns, block by block, header first; what is blank in it is left out. The rows
/// that cannot be translated go to `bad`. What a translated cell holds is judged by whoever reads it.
pub fn translate(
    path: &Path,
    map: Option<&MapFile>,
    bad: &mut dyn FnMut(BadRow),
    out: &mut dyn FnMut(&[u8]) -> Result<(), TriageError>,
) -> Result<(), TriageError> {
    let (mut lines, _) = open(path, map)?;
    let mut text = lines.header_bytes()?;
    text.push(b'\n');
    let (mut block, mut faulty) = (Vec::new(), Vec::new());
    loop {
        out(&text)?;
        let next = lines.next_block(&mut block, &mut faulty)?;
        faulty.drain(..).for_each(&mut *bad);
        let Some(first) = next else { return Ok(()) };
        text.clear();
        for (_, line) in rows(&block, first) {
            text.extend_from_slice(line);
            text.push(b'\n');
        }
    }
}

/// Opens an extract as lines of our columns.
pub(crate) fn open(path: &Path, map: Option<&MapFile>) -> Result<(Lines, SourceNames), TriageError> {
    match (Kind::of(path), map) {
        (Kind::Table, None) => Ok((Lines::open(path)?, SourceNames::default())),
        (Kind::Table, Some(map)) => {
            let rows = table::TableRows::open(path, map)?;
            let names = SourceNames::of(rows.translator());
            Ok((Lines::made(path, rows)?, names))
        }
        (Kind::Features, map) => named(path, features::Features::open(path, map.is_none())?, map),
        (Kind::HomeEnergy, None) => Ok((
            Lines::made(path, home_energy::HomeRows::open(path)?)?,
            SourceNames::default(),
        )),
        #[cfg(feature = "parquet")]
        (Kind::Columnar, map) => named(path, columnar::Columnar::open(path)?, map),
        #[cfg(not(feature = "parquet"))]
        (Kind::Columnar, _) => Err(TriageError::NoParquet(path.to_owned())),
        (Kind::HomeEnergy, Some(_)) => Err(TriageError::MapOfHomeEnergy(path.to_owned())),
    }
}

fn named(
    path: &Path,
    rows: impl NamedRows + 'static,
    map: Option<&MapFile>,
) -> Result<(Lines, SourceNames), TriageError> {
    let rows = TranslatedRows::new(path, rows, map)?;
    let names = SourceNames::of(rows.translator());
    Ok((Lines::made(path, rows)?, names))
}
