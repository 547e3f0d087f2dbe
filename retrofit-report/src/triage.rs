//! Portfolios: many houses from one CSV file (or two) through the same checks, one line of output each.
//!
//! One row of the input is one line of the file and one house; its columns are those of
//! [`retrofit_core::portfolio`]. Rows are read, checked and written in a stream, so that memory does not grow
//! with the file, and come out in the order in which they went in. A row that cannot be read is reported with
//! its line and column, is left out of the output, and never stops the run.

mod aside;
mod block;
mod cells;
mod checked_rows;
mod destination;
mod error;
mod in_memory;
mod lines;
mod manifest;
mod progress;
mod result;
mod worker;

use std::num::NonZeroUsize;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use retrofit_core::check::{Counts, Ruling};
use retrofit_core::portfolio::{Form, Layout, PASSED_PREFIX};
use retrofit_core::provisions::Provisions;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use block::Join;
use result::ResultWriter;
use worker::{Tables, Worker};

use crate::extract::{self, SourceNames};
use crate::input::MapFile;
use crate::lanes::pass;
use crate::output::is_same_file;

pub(crate) use aside::Aside;
pub(crate) use block::{Block, Source};
pub(crate) use cells::Cells;
pub(crate) use checked_rows::{CheckedRow, CheckedRows};
pub(crate) use destination::Destination;
pub(crate) use lines::{Lines, ReadSoFar, Rows, rows};
pub(crate) use manifest::fingerprint_of;
use manifest::partial;
pub(crate) use result::cell;
pub(crate) use worker::Table;

pub use error::{BadRow, TriageError};
pub use in_memory::{ResultCells, RowChecker, check_in_memory};
pub use manifest::{By, Fingerprint, MadeBy, Manifest, State};
pub use progress::{Progress, Silent, Terminal};

/// What to read, and where to write what.
#[derive(Clone, Debug)]
pub struct TriageOptions {
    /// The houses: one row a house, with or without the columns of a wall line; or an extract of another form.
    pub houses: PathBuf,
    /// How the columns of an extract become ours.
    pub map: Option<MapFile>,
    /// The wall lines, in a file of their own, grouped by house in the order of `houses`.
    pub wall_lines: Option<PathBuf>,
    /// Where the results go; `None` for the standard output. A file is written whole or not at all.
    pub out: Option<PathBuf>,
    /// How the results are written.
    pub format: Format,
    /// A CSV file for the rows that could not be read; `None` to hand each to [`Progress::bad_row`].
    pub bad_rows: Option<PathBuf>,
    /// How many threads check; `None` for as many as there are cores. The output is the same for any number.
    pub threads: Option<NonZeroUsize>,
    /// Whether to go on with a run to the same file that was stopped. The file comes out as if it had not been.
    pub resume: bool,
    /// Stops the run from outside.
    pub stop: Stop,
}

/// Stops a run from outside, at the end of a block of rows; its clones stop the same run.
#[derive(Clone, Debug, Default)]
pub struct Stop(Arc<AtomicBool>);

impl Stop {
    /// Asks the run to stop.
    pub fn ask(&self) {
        self.0.store(true, Ordering::Relaxed);
    }

    /// Whether the run was asked to stop.
    pub fn is_asked(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}

/// How results are written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Format {
    /// Comma-separated values, with a header.
    #[default]
    Csv,
    /// One JSON object a line.
    JsonLines,
    /// A collection of GeoJSON features; the geometry is the point of the house, or null where it has none.
    GeoJson,
}

/// What a run came to.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct TriageSummary {
    /// Houses whose verdict was written.
    pub houses: u64,
    /// Rows that could not be read.
    pub bad_rows: u64,
    /// The first of those, up to [`TriageSummary::MOST_BAD_ROWS`].
    #[serde(skip)]
    pub first_bad_rows: Vec<BadRow>,
    /// Houses that are met.
    pub met: u64,
    /// Houses that are not met.
    pub not_met: u64,
    /// Houses that are not determined.
    pub not_determined: u64,
    /// Houses to which nothing applies.
    pub not_applicable: u64,
    /// Houses outside the prescriptive provisions.
    pub outside: u64,
    /// Of a run that was stopped: where its results stand, `None` where they went to the standard output.
    #[serde(skip)]
    pub stopped: Option<Option<PathBuf>>,
}

impl TriageSummary {
    /// How many bad rows a summary keeps.
    pub const MOST_BAD_ROWS: usize = 20;

    /// Houses of one ruling.
    pub const fn of(&self, ruling: Ruling) -> u64 {
        match ruling {
            Ruling::Met => self.met,
            Ruling::NotMet => self.not_met,
            Ruling::NotDetermined => self.not_determined,
            Ruling::NotApplicable => self.not_applicable,
            Ruling::Outside => self.outside,
        }
    }
}

/// Checks every house of a portfolio against a set of provisions.
///
/// A row that cannot be read is counted and reported; only what concerns a file as a whole is an error.
pub fn run(
    options: &TriageOptions,
    provisions: &Provisions,
    progress: &mut dyn Progress,
) -> Result<TriageSummary, TriageError> {
    let map = options.map.as_ref().and_then(|map| map.origin.path());
    let inputs = [Some(options.houses.as_path()), options.wall_lines.as_deref(), map];
    let outputs = [options.out.as_deref(), options.bad_rows.as_deref()];
    refuse_one_file_twice(inputs.into_iter().chain(outputs).flatten())?;
    let (mut houses, sources) = extract::open(&options.houses, options.map.as_ref())?;
    let mut size = houses.size();
    let (mut source, tables);
    match &options.wall_lines {
        None => {
            tables = Tables {
                provisions,
                houses: table(&mut houses, Form::OneTable, sources)?,
                walls: None,
            };
            if extract::Kind::of(&options.houses) != extract::Kind::Table {
                houses.count_from_one();
            }
            source = Source::One(Box::new(houses));
        }
        Some(path) if houses.is_made() => return Err(TriageError::WallLinesOfExtract(path.clone())),
        Some(path) => {
            let mut walls = Lines::open(path)?;
            size = size.zip(walls.size()).map(|(houses, walls)| houses + walls);
            let house_table = table(&mut houses, Form::Houses, sources)?;
            let wall_table = table(&mut walls, Form::WallLines, SourceNames::default())?;
            let join = Join::new(houses, house_table.layout.id(), walls, wall_table.layout.id());
            source = Source::Two(Box::new(join));
            tables = Tables {
                provisions,
                houses: house_table,
                walls: Some(wall_table),
            };
        }
    }
    let passed = tables
        .houses
        .layout
        .passed()
        .map(|(at, name)| (at, name.to_owned()));
    let writer = ResultWriter::new(
        options.format,
        provisions,
        passed.collect(),
        position_of(&tables.houses.layout),
    );
    let made_by = MadeBy::new(provisions, options.map.as_ref(), options.format);
    let mut sink = if options.resume {
        Sink::open_again(options, made_by, progress)?
    } else {
        Sink::open(options, made_by, progress, &writer.header())?
    };
    sink.progress.begin(size);
    sink.pass_over_what_is_done(&mut source)?;
    let threads = threads(options.threads);
    let passed = pass(
        |block| source.fill(block),
        |block| sink.take(block),
        &options.stop,
        threads,
        || Worker::new(&tables, writer.clone()),
    );
    sink.progress.end();
    match passed {
        Ok(()) if options.stop.is_asked() => sink.stop(),
        Ok(()) => sink.finish(&source),
        Err(error) => Err(sink.break_off(error)),
    }
}

/// Where the point of a house stands: in columns of ours, or in columns handed on.
fn position_of(layout: &Layout) -> Option<[usize; 2]> {
    let at = |name: &str| {
        let is_it = |other: &String| other.strip_prefix(PASSED_PREFIX).unwrap_or(other) == name;
        layout.names().iter().position(is_it)
    };
    let [longitude, latitude] = extract::POSITION.map(at);
    Some([longitude?, latitude?])
}

/// Reads the header of a file.
pub(crate) fn table(lines: &mut Lines, form: Form, sources: SourceNames) -> Result<Table, TriageError> {
    let line = lines.line();
    let header = lines.header()?;
    let fault = |problem: String| TriageError::Header {
        path: lines.path().to_owned(),
        line,
        problem,
    };
    let mut cells = Cells::default();
    let names = columns_of(&header, &mut cells).map_err(fault)?;
    let layout = Layout::new(names, form).map_err(|error| fault(error.to_string()))?;
    Ok(Table {
        path: lines.path().to_owned(),
        layout,
        sources,
    })
}

/// The names in a header.
fn columns_of<'a>(
    header: &'a str,
    cells: &'a mut Cells,
) -> Result<impl Iterator<Item = &'a str> + use<'a>, String> {
    cells
        .split(header)
        .map_err(|quotes| format!("column {}: {}", quotes.cell + 1, quotes.problem))?;
    Ok(cells.of(header))
}

/// More threads than this only take memory.
pub const MOST_THREADS: usize = 256;

/// How many threads work where so many are asked for, or none is.
pub(crate) fn threads(asked: Option<NonZeroUsize>) -> usize {
    asked
        .or_else(|| std::thread::available_parallelism().ok())
        .map_or(1, NonZeroUsize::get)
        .min(MOST_THREADS)
}

/// Refuses to write over an input, to write two outputs over each other, and to read one file as two.
pub fn refuse_one_file_twice<'p>(files: impl IntoIterator<Item = &'p Path>) -> Result<(), TriageError> {
    let mut before: Vec<&Path> = Vec::new();
    for path in files {
        // Devices may be named as often as one likes.
        let is_device = path
            .metadata()
            .is_ok_and(|metadata| !metadata.is_file() && !metadata.is_dir());
        if !is_device && before.iter().any(|other| is_same_file(other, path)) {
            return Err(TriageError::SameFile(path.to_owned()));
        }
        before.push(path);
    }
    Ok(())
}

/// Reads past the blocks that an earlier run had done; how far that is, which has to be where that run was.
pub(crate) fn pass_over(
    source: &mut Source,
    blocks: u64,
    inputs: &[Fingerprint],
    progress: &mut dyn Progress,
) -> Result<Vec<ReadSoFar>, TriageError> {
    let mut block = Block::default();
    let mut done = 0;
    while done < blocks && source.fill(&mut block)? {
        done += 1;
        progress.advance(block.len(), 0);
    }
    let is_same = done == blocks
        && block.read_so_far.len() == inputs.len()
        && block
            .read_so_far
            .iter()
            .zip(inputs)
            .all(|(now, then)| Fingerprint::new(&then.file, now).is_of_same_content(then));
    if is_same {
        return Ok(block.read_so_far);
    }
    Err(TriageError::Resume {
        path: inputs.first().map(|input| input.file.clone()).unwrap_or_default(),
        problem: "found other rows than the stopped run had read; expected the input unchanged".into(),
    })
}

/// Houses by ruling.
#[derive(Clone, Copy, Debug, Default)]
struct Tally {
    by_ruling: Counts,
}

impl Tally {
    fn add(&mut self, ruling: Ruling) {
        let counts = &mut self.by_ruling;
        *match ruling {
            Ruling::Met => &mut counts.met,
            Ruling::NotMet => &mut counts.not_met,
            Ruling::NotDetermined => &mut counts.not_determined,
            Ruling::NotApplicable => &mut counts.not_applicable,
            Ruling::Outside => &mut counts.outside,
        } += 1;
    }
}

/// Where results, bad rows and progress go.
struct Sink<'a> {
    results: Destination,
    bad_rows: Aside,
    progress: &'a mut dyn Progress,
    made_by: MadeBy,
    summary: TriageSummary,
    /// What stands between two results, and whether none has been written yet.
    between: &'static [u8],
    is_first: bool,
    /// What stands after the last of them.
    foot: &'static [u8],
    /// How many blocks are done, and how far the files had been read for the last of them.
    blocks: u64,
    read_so_far: Vec<ReadSoFar>,
    inputs: Vec<PathBuf>,
    /// The run that this one goes on with.
    earlier: Option<Manifest>,
}

impl<'a> Sink<'a> {
    /// Takes what came of the next block.
    fn take(&mut self, block: &Block) -> Result<(), TriageError> {
        self.results.write(
            block
                .results
                .strip_prefix(self.between)
                .filter(|_| self.is_first)
                .unwrap_or(&block.results),
        )?;
        self.is_first &= block.results.is_empty();
        self.bad_rows.take(&block.bad, self.progress)?;
        self.results.keep();
        self.summary.bad_rows = self.bad_rows.count();
        let kept = &mut self.summary.first_bad_rows;
        let room = TriageSummary::MOST_BAD_ROWS - kept.len();
        kept.extend(block.bad.iter().take(room).cloned());
        let counts = block.tally.by_ruling;
        let summary = &mut self.summary;
        let mut houses = 0;
        for (total, count) in [
            (&mut summary.met, counts.met),
            (&mut summary.not_met, counts.not_met),
            (&mut summary.not_determined, counts.not_determined),
            (&mut summary.not_applicable, counts.not_applicable),
            (&mut summary.outside, counts.outside),
        ] {
            *total += u64::from(count);
            houses += u64::from(count);
        }
        summary.houses += houses;
        self.blocks += 1;
        self.read_so_far.clone_from(&block.read_so_far);
        self.progress.advance(block.len(), houses);
        Ok(())
    }

    fn open(
        options: &TriageOptions,
        made_by: MadeBy,
        progress: &'a mut dyn Progress,
        header: &[u8],
    ) -> Result<Self, TriageError> {
        let mut results = match &options.out {
            Some(path) => Destination::file(path)?,
            None => Destination::standard_output(),
        };
        results.write(header)?;
        results.keep();
        let bad_rows = Aside::open(options.bad_rows.as_deref())?;
        Ok(Self::new(options, made_by, progress, results, bad_rows))
    }

    /// Goes on where an earlier run to the same files was stopped.
    fn open_again(
        options: &TriageOptions,
        made_by: MadeBy,
        progress: &'a mut dyn Progress,
    ) -> Result<Self, TriageError> {
        let Some(out) = &options.out else {
            return Err(TriageError::Resume {
                path: "standard output".into(),
                problem: "found no file of results; expected the file of the run to go on with".into(),
            });
        };
        let earlier: Manifest = Manifest::of_stopped(&partial(out), &made_by)?;
        let bad_rows = earlier.bad_rows_again(options.bad_rows.as_deref(), earlier.summary.bad_rows)?;
        let results = Destination::file_going_on(out, &earlier.results)?;
        let mut sink = Self::new(options, made_by, progress, results, bad_rows);
        sink.summary = earlier.summary.clone();
        sink.is_first = earlier.summary.houses == 0;
        sink.earlier = Some(earlier);
        Ok(sink)
    }

    fn new(
        options: &TriageOptions,
        made_by: MadeBy,
        progress: &'a mut dyn Progress,
        results: Destination,
        bad_rows: Aside,
    ) -> Self {
        Self {
            results,
            bad_rows,
            progress,
            made_by,
            summary: TriageSummary::default(),
            between: result::between(options.format),
            is_first: true,
            foot: result::foot(options.format),
            blocks: 0,
            read_so_far: Vec::new(),
            inputs: std::iter::once(&options.houses)
                .chain(&options.wall_lines)
                .cloned()
                .collect(),
            earlier: None,
        }
    }

    /// Reads past the rows whose results stand already. They must be those that were read then.
    fn pass_over_what_is_done(&mut self, source: &mut Source) -> Result<(), TriageError> {
        let Some(earlier) = &self.earlier else {
            return Ok(());
        };
        self.read_so_far = pass_over(source, earlier.blocks, &earlier.inputs, self.progress)?;
        self.blocks = earlier.blocks;
        Ok(())
    }

    /// What has been read of each input.
    fn fingerprints(&self) -> Vec<Fingerprint> {
        self.inputs
            .iter()
            .zip(&self.read_so_far)
            .map(|(path, so_far)| Fingerprint::new(path, so_far))
            .collect()
    }

    fn finish(mut self, source: &Source) -> Result<TriageSummary, TriageError> {
        self.results.write(self.foot)?;
        self.read_so_far = source.files().map(Lines::read_so_far).cloned().collect();
        let manifest = self.results.fingerprint().map(|results| Manifest {
            inputs: self.fingerprints(),
            results,
            bad_rows: self.bad_rows.fingerprint(),
            summary: self.summary.clone(),
            blocks: self.blocks,
            ..Manifest::new(self.made_by.clone(), State::Complete)
        });
        // The bad rows first: results that are there stand for a run that is over.
        self.bad_rows.finish()?;
        self.results.finish()?;
        if let Some(manifest) = manifest {
            manifest.write()?;
        }
        if let Some(earlier) = self.earlier {
            earlier.clear_away();
        }
        Ok(self.summary)
    }

    /// Leaves what was done so that a later run can go on.
    fn stop(mut self) -> Result<TriageSummary, TriageError> {
        let inputs = self.fingerprints();
        let bad_rows = self.bad_rows.leave_partial()?;
        let results = self.results.leave_partial(self.foot)?;
        self.summary.stopped = Some(results.as_ref().map(|results| results.file.clone()));
        if let Some(results) = results {
            let manifest = Manifest {
                inputs,
                results,
                bad_rows,
                summary: self.summary.clone(),
                blocks: self.blocks,
                ..Manifest::new(self.made_by, State::Stopped)
            };
            manifest.write()?;
        }
        Ok(self.summary)
    }

    /// Leaves what was done before an error, where there is anything and it can be left.
    fn break_off(self, error: TriageError) -> TriageError {
        if self.summary.houses == 0 {
            return error;
        }
        match self.stop() {
            Ok(TriageSummary {
                stopped: Some(Some(partial)),
                houses,
                ..
            }) => TriageError::BrokeOff {
                source: Box::new(error),
                partial,
                houses,
            },
            _ => error,
        }
    }
}
