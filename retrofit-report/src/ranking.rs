//! Rankings: the houses of a portfolio in the order in which a budget does most, from file to file.
//!
//! The rows are read as [`crate::triage`] reads them. Each becomes a frame with its score; frames are put in order on
//! disk, so that memory does not grow with the file. One walk down the list tells where the money is gone, a second
//! writes the list with what only then is known: how sure a place is, and what is worth looking at. The same input gives
//! the same bytes for any number of threads. All judgment is that of [`retrofit_core::ranking`].

mod amount;
mod chart;
mod frame;
mod ids;
mod kept;
mod map;
mod page;
mod row;
mod scoring;
mod sort;
mod summary;
mod writing;

use std::io;
use std::num::NonZeroUsize;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

use retrofit_core::portfolio::Form;
use retrofit_core::prices::UnitPrices;
use retrofit_core::provisions::{Provisions, TableError};
use retrofit_core::ranking::{BudgetWalk, HazardError, HazardGrid, Money, Pricing, RankingTables, Worlds};
use thiserror::Error;

use crate::extract;
use crate::input::{MapFile, Origin, TablesError, TextError, read_text, table_folders};
use crate::lanes::pass;
use crate::triage::{
    Destination, Progress, Source, Stop, TriageError, refuse_one_file_twice, table, threads,
};

use ids::RepeatedRows;
use kept::Scan;
use scoring::{Scoring, Setting};
use sort::Sorted;
use summary::Tallies;
use writing::Writing;

pub use amount::{count, money, number};
pub use ids::{RepeatedId, RepeatedIds};
pub use kept::{ListCounts, RankedBy, RankingCounts, RankingManifest};
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
    /// What the work is priced by.
    pub costs: Costs,
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
    /// Whether to go on with a run to the same file that was stopped. The list comes out as if it had not been.
    pub resume: bool,
    /// Stops the run from outside.
    pub stop: Stop,
}

/// What the work on a house is priced by.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Costs {
    /// The takeoff of a bare house like it, at the prices shipped, which are placeholders.
    #[default]
    Placeholder,
    /// The takeoff of a bare house like it, at prices of one's own.
    Own {
        /// The file they were read from.
        file: PathBuf,
        /// The prices.
        prices: UnitPrices,
    },
    /// Published prices of whole jobs alone.
    WholeJobs,
}

impl Costs {
    /// The unit prices, where the work is priced by any.
    pub fn prices(&self) -> Option<&UnitPrices> {
        match self {
            Self::Placeholder => Some(UnitPrices::placeholder()),
            Self::Own { prices, .. } => Some(prices),
            Self::WholeJobs => None,
        }
    }
}

impl RankOptions {
    /// How many worlds are drawn where nobody says otherwise.
    pub const DRAWS: usize = 100;
    /// More worlds than this take more memory than a ranking shall have.
    pub const MOST_DRAWS: usize = 1000;

    fn pricing<'a>(&'a self, provisions: &'a Provisions) -> Pricing<'a> {
        match self.costs.prices() {
            Some(prices) => Pricing::by_takeoff(&self.tables, prices, provisions),
            None => Pricing::by_whole_jobs(&self.tables),
        }
    }
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
    #[error("stopped after {houses} houses: no list was written, since none is in order before every row was read{}", kept.as_deref().map_or_else(String::new, told_kept))]
    Stopped {
        /// How many houses were worked out.
        houses: u64,
        /// Where what was worked out of them stands, where the list was to go to a file.
        kept: Option<PathBuf>,
    },
}

fn told_kept(kept: &Path) -> String {
    format!(
        "; what was worked out of them stands in {}, and --resume goes on from there",
        kept.display()
    )
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
/// A row that cannot be read is counted and reported; only what concerns a file as a whole is an error. A run that is
/// stopped leaves what it has worked out, so that [`RankOptions::resume`] goes on from there to the same list.
pub fn run(
    options: &RankOptions,
    provisions: &Provisions,
    progress: &mut dyn Progress,
) -> Result<RankingSummary, RankError> {
    let map = options.map.as_ref().and_then(|map| map.origin.path());
    let inputs = [Some(options.houses.as_path()), map];
    let outputs = [options.out.as_deref(), options.bad_rows.as_deref()];
    refuse_one_file_twice(inputs.into_iter().chain(outputs).flatten())?;
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
    let pricing = options.pricing(provisions);
    let mut scan = Scan::open(options, RankedBy::new(options, provisions), &out, progress)?;
    let spectrum = Mutex::new(scan.take_up(&worlds)?);
    let setting = Setting {
        options,
        provisions,
        houses: &houses,
        passed: &passed,
        worlds: &worlds,
        pricing: &pricing,
        spectrum: &spectrum,
    };
    scan.progress.begin(size);
    let mut source = Source::One(Box::new(lines));
    let scanned = scan.pass_over_what_is_done(&mut source).and_then(|()| {
        pass(
            |block| source.fill(block),
            |block| scan.take(block),
            &options.stop,
            threads(options.threads),
            || Scoring::new(&setting),
        )
    });
    scan.progress.end();
    scanned?;
    let spectrum = spectrum.lock().unwrap_or_else(PoisonError::into_inner);
    let (mut list, ids, mut done) = scan.finish()?;
    if options.stop.is_asked() {
        return Err(done.leave(&mut list, &spectrum)?);
    }
    done.read_to_the_end(&source);

    let (repeated, mut repeated_rows) = ids.finish(folder_of(options))?;
    let walk = walk_down(&mut list, &mut repeated_rows, options.budget)?;
    let mut tallies = Tallies::new(options, provisions, cuts);
    let writing = Writing {
        setting: &setting,
        cut: walk.cut_line(),
        stability: spectrum.clone().stability(options.budget),
    };
    if writing.write(&mut list, &mut repeated_rows, &mut tallies, &mut out)? {
        let summary = tallies.finish(&walk, repeated, &done);
        done.finish(out, &summary)?;
        return Ok(summary);
    }
    // Room for what is left in place of the list.
    drop(out);
    Err(done.leave(&mut list, &spectrum)?)
}

/// Goes down the list with the budget.
fn walk_down(list: &mut Sorted, repeated: &mut RepeatedRows, budget: Option<f64>) -> io::Result<BudgetWalk> {
    let mut walk = BudgetWalk::new(budget, list.len());
    let (mut frames, mut repeats) = (list.walk()?, repeated.walk()?);
    while let Some(frame) = frames.next()? {
        if repeats.of(frame)?.is_none() {
            walk.pays(frame.score());
        }
    }
    Ok(walk)
}

/// Where frames are put in order: beside the list there is room for it; the folder of temporary files may be memory.
fn folder_of(options: &RankOptions) -> Option<&Path> {
    options.out.as_deref().and_then(Path::parent)
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
