//! Rankings: the houses of a portfolio in the order in which a budget does most, from file to file.
//!
//! The rows are read as [`crate::triage`] reads them. Each becomes a frame with its score; frames are put in order on
//! disk, so that memory does not grow with the file. One walk down the list tells where the money is gone, a second
//! writes the list with what only then is known: how sure a place is, and what is worth looking at. The same input gives
//! the same bytes for any number of threads. All judgment is that of [`retrofit_core::ranking`].

mod amount;
mod chart;
mod frame;
mod map;
mod page;
mod row;
mod scoring;
mod sort;
mod summary;

use std::io;
use std::num::NonZeroUsize;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

use retrofit_core::portfolio::Form;
use retrofit_core::provisions::{Provisions, TableError};
use retrofit_core::ranking::{
    BudgetWalk, HazardError, HazardGrid, Money, Prospect, RankingTables, Spectrum, Worlds,
};
use thiserror::Error;

use crate::extract;
use crate::input::{MapFile, Origin, TablesError, TextError, read_text, table_folders};
use crate::output::is_same_file;
use crate::triage::{
    BadRow, Block, Destination, Fingerprint, Outlet, Progress, Source, Stop, Table, TriageError, pass, table,
    threads,
};

use row::{Place, RowWriter};
use scoring::{Scoring, Setting};
use sort::Sorter;
use summary::Tallies;

pub use amount::{count, money, number};
pub use map::{MapCell, PortfolioMap, Tier};
pub use summary::{
    CutTable, DataQuality, DeficiencyRow, EraRow, GroupRow, InputFacts, LookRow, Looks, Method,
    RankingFormat, RankingSummary, SensitivityRow, Settings, StabilityFacts, ToInspect,
};

/// How a ranked list is written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum ListFormat {
    /// Comma-separated values, with a header.
    #[default]
    Csv,
    /// One JSON object a line.
    JsonLines,
}

/// What to read, how to rank it, and where to write what.
#[derive(Clone, Debug)]
pub struct RankOptions {
    /// The houses: one row a house.
    pub houses: PathBuf,
    /// How the columns of an extract become ours; `None` where they are ours.
    pub map: Option<MapFile>,
    /// Where the ranked list goes; `None` for the standard output. A file is written whole or not at all.
    pub out: Option<PathBuf>,
    /// How the list is written.
    pub format: ListFormat,
    /// A CSV file for the rows that could not be read; `None` to hand each to [`Progress::bad_row`].
    pub bad_rows: Option<PathBuf>,
    /// What is inferred by.
    pub tables: RankingTables,
    /// Shaking where no column tells it.
    pub hazard: Option<HazardGrid>,
    /// What there is to spend, in dollars.
    pub budget: Option<f64>,
    /// How the program pays.
    pub money: Money,
    /// The seed of the worlds that are drawn.
    pub seed: u64,
    /// How many worlds are drawn.
    pub draws: usize,
    /// Columns to group results by.
    pub cut_by: Vec<String>,
    /// How many threads check; `None` for as many as there are cores. The output is the same for any number.
    pub threads: Option<NonZeroUsize>,
    /// Stops the run from outside.
    pub stop: Stop,
}

impl RankOptions {
    /// How many worlds are drawn where nobody says otherwise.
    pub const DRAWS: usize = 100;
    /// More worlds than this take more memory than a ranking shall have.
    pub const MOST_DRAWS: usize = 1000;
}

/// Why a portfolio could not be ranked at all.
#[derive(Debug, Error)]
pub enum RankError {
    /// A file of the run is at fault.
    #[error(transparent)]
    Triage(#[from] TriageError),
    /// A text cannot be read.
    #[error(transparent)]
    Text(#[from] TextError),
    /// A folder of tables cannot be read.
    #[error(transparent)]
    Folder(#[from] TablesError),
    /// Tables are at fault.
    #[error("{}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))]
    Tables(Vec<TableError>),
    /// A grid of shaking is at fault.
    #[error("{}:{}: {}", path.display(), error.line, error.problem)]
    Hazard {
        /// The file.
        path: PathBuf,
        /// What is wrong with it.
        error: HazardError,
    },
    /// There is no column of that name to group by.
    #[error("{}: found no column {column:?} to group by; expected one of {known}", path.display())]
    NoSuchColumn {
        /// The file.
        path: PathBuf,
        /// The column.
        column: String,
        /// The columns there are.
        known: String,
    },
    /// A column to group by holds as many values as there are houses.
    #[error("{}: found more than {most} values in column {column:?}; expected one to group houses by", path.display())]
    TooManyGroups {
        /// The file.
        path: PathBuf,
        /// The column.
        column: String,
        /// How many there may be.
        most: usize,
    },
    /// The run was stopped before there was a list.
    #[error("stopped: nothing was written, since no list is complete before every row was read")]
    Stopped,
}

impl From<io::Error> for RankError {
    fn from(error: io::Error) -> Self {
        Self::Triage(error.into())
    }
}

/// The largest grid that is read.
const LARGEST_GRID: u64 = 256 << 20;

/// Reads a grid of shaking.
pub fn read_hazard(path: &Path) -> Result<HazardGrid, RankError> {
    let text = read_text(&Origin::from(path), LARGEST_GRID)?;
    HazardGrid::parse(&text).map_err(|error| RankError::Hazard {
        path: path.to_owned(),
        error,
    })
}

/// Reads a folder of tables that take the place of those shipped.
pub fn read_ranking_tables(folder: &Path) -> Result<RankingTables, RankError> {
    let mut files = Vec::new();
    for (_, inside) in table_folders(folder)? {
        files.extend(inside);
    }
    // Notes may lie beside the tables.
    files.retain(|file| {
        Path::new(&file.name)
            .extension()
            .is_some_and(|extension| extension == "csv")
    });
    RankingTables::with(&files).map_err(RankError::Tables)
}

/// Ranks every house of a portfolio, and tells what the list comes to.
///
/// A row that cannot be read is counted and reported; only what concerns a file as a whole is an error.
pub fn run(
    options: &RankOptions,
    provisions: &Provisions,
    progress: &mut dyn Progress,
) -> Result<RankingSummary, RankError> {
    refuse_one_file_twice(options)?;
    let (mut lines, sources) = extract::open(&options.houses, options.map.as_ref())?;
    let size = lines.size();
    let houses = table(&mut lines, Form::OneTable, sources)?;
    if extract::Kind::of(&options.houses) != extract::Kind::Table {
        lines.count_from_one();
    }
    let passed: Vec<(usize, String)> = houses
        .layout
        .passed()
        .map(|(at, name)| (at, name.to_owned()))
        .collect();
    let cuts = cuts(options, &passed)?;
    let mut out = match &options.out {
        Some(path) => Destination::file(path)?,
        None => Destination::standard_output(),
    };

    let worlds = Worlds::new(&options.tables, options.seed, options.draws);
    let spectrum = Mutex::new(Spectrum::new(&worlds));
    let setting = Setting {
        options,
        provisions,
        houses: &houses,
        passed: &passed,
        worlds: &worlds,
        spectrum: &spectrum,
    };
    let mut scan = Scan::open(options, progress)?;
    scan.progress.begin(size);
    let mut source = Source::One(lines);
    let scanned = pass(
        &mut source,
        &mut scan,
        &options.stop,
        threads(options.threads),
        || Scoring::new(&setting),
    );
    scan.progress.end();
    scanned?;
    if options.stop.is_asked() {
        return Err(RankError::Stopped);
    }
    let input: Vec<Fingerprint> = source
        .files()
        .map(|lines| Fingerprint::new(&options.houses, lines.read_so_far()))
        .collect();
    let (sorter, bad_rows) = scan.finish()?;
    let mut list = sorter.finish()?;

    let mut walk = BudgetWalk::new(options.budget, list.len());
    let mut before = Repeats::default();
    list.each(|frame| {
        if !before.repeats(frame.id()) {
            walk.pays(frame.score());
        }
        Ok::<(), RankError>(())
    })?;
    let cut = walk.cut_line();
    let spectrum = spectrum.into_inner().unwrap_or_else(PoisonError::into_inner);
    let mut stability = spectrum.stability(options.budget);

    let mut tallies = Tallies::new(options, provisions, cuts);
    let mut again = BudgetWalk::new(options.budget, list.len());
    let mut writer = RowWriter::new(options.format, provisions, &passed);
    let mut before = Repeats::default();
    let mut text = writer.header();
    let mut rank = 0;
    list.each(|frame| {
        if options.stop.is_asked() {
            return Err(RankError::Stopped);
        }
        let Some((evidence, cells)) = frame.body() else {
            return Err(io::Error::from(io::ErrorKind::InvalidData).into());
        };
        rank += 1;
        let prospect = Prospect::of(&evidence, &options.tables, options.money);
        let repeats = before.repeats(frame.id());
        let drawn = worlds.draw(frame.id(), &evidence, &prospect, &options.tables);
        let place = Place {
            rank,
            id: frame.id(),
            cells: &cells,
            evidence: &evidence,
            prospect: &prospect,
            score: frame.score(),
            zone_is_known: options.tables.has_zone(evidence.climate_zone),
            is_funded: !repeats && again.pays(frame.score()),
            is_repeat: repeats,
            look: if repeats { None } else { prospect.look_next(cut) },
            among: stability.of(drawn),
        };
        writer.write(&place, &mut text);
        tallies.add(&place, cut)?;
        if text.len() >= WRITTEN_AT_ONCE {
            out.write(&text)?;
            text.clear();
        }
        Ok(())
    })?;
    out.write(&text)?;
    out.finish()?;
    Ok(tallies.finish(&walk, &input, bad_rows))
}

/// How much of the list is written at a time.
const WRITTEN_AT_ONCE: usize = 64 << 10;

/// Tells rows that repeat the one before them: tables put together from several hold them, and no house is paid for twice.
#[derive(Debug, Default)]
struct Repeats(Option<String>);

impl Repeats {
    fn repeats(&mut self, id: &str) -> bool {
        let before = self.0.get_or_insert_default();
        if before == id {
            return true;
        }
        id.clone_into(before);
        false
    }
}

/// Where the columns to group by stand among those handed on.
fn cuts(options: &RankOptions, passed: &[(usize, String)]) -> Result<Vec<(usize, String)>, RankError> {
    let find = |column: &String| {
        let found = passed.iter().position(|(_, name)| name == column);
        found
            .map(|at| (at, column.clone()))
            .ok_or_else(|| RankError::NoSuchColumn {
                path: options.houses.clone(),
                column: column.clone(),
                known: if passed.is_empty() {
                    "those handed on unread, of which there are none".to_owned()
                } else {
                    passed
                        .iter()
                        .map(|(_, name)| name.as_str())
                        .collect::<Vec<_>>()
                        .join(", ")
                },
            })
    };
    options.cut_by.iter().map(find).collect()
}

/// Refuses to write over the input, or the list and the bad rows over each other.
fn refuse_one_file_twice(options: &RankOptions) -> Result<(), TriageError> {
    let all: Vec<&PathBuf> = std::iter::once(&options.houses)
        .chain(&options.out)
        .chain(&options.bad_rows)
        .collect();
    for (number, path) in all.iter().enumerate() {
        let is_device = path
            .metadata()
            .is_ok_and(|metadata| !metadata.is_file() && !metadata.is_dir());
        if !is_device && all.iter().take(number).any(|other| is_same_file(other, path)) {
            return Err(TriageError::SameFile((*path).clone()));
        }
    }
    Ok(())
}

/// The rows as they are read: into the sorter, or among the bad ones.
struct Scan<'a> {
    sorter: Sorter,
    bad_rows: Option<Destination>,
    bad: u64,
    progress: &'a mut dyn Progress,
}

impl<'a> Scan<'a> {
    fn open(options: &RankOptions, progress: &'a mut dyn Progress) -> Result<Self, RankError> {
        let mut bad_rows = options.bad_rows.as_deref().map(Destination::file).transpose()?;
        if let Some(file) = &mut bad_rows {
            file.write(b"file,line,column,problem\n")?;
        }
        Ok(Self {
            // Beside the list there is room for it; the folder of temporary files may be memory.
            sorter: Sorter::new(options.out.as_deref().and_then(Path::parent)),
            bad_rows,
            bad: 0,
            progress,
        })
    }

    fn finish(self) -> Result<(Sorter, u64), RankError> {
        if let Some(file) = self.bad_rows {
            file.finish()?;
        }
        Ok((self.sorter, self.bad))
    }
}

impl Outlet for Scan<'_> {
    fn take(&mut self, block: &Block) -> Result<(), TriageError> {
        let houses = self.sorter.add(&block.results)?;
        for row in &block.bad {
            self.bad += 1;
            match &mut self.bad_rows {
                Some(file) => file.write(&BadRow::as_csv(row))?,
                None => self.progress.bad_row(row),
            }
        }
        self.progress.advance(block.len(), houses);
        Ok(())
    }
}

impl Setting<'_> {
    /// The table of houses.
    fn table(&self) -> &Table {
        self.houses
    }
}
