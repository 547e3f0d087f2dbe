//! What a run has worked out so far: on its way to a list, or left behind by a run that was stopped.
//!
//! No list is in order before every row was read, so a run that is stopped has nothing to show. What it has worked out
//! it leaves in a file of its own beside the place of the list, as the manifest beside that file says: the frames of all
//! houses done, and what they come to in the worlds. A later run takes them up and reads on behind them. Frames are put
//! in one order whatever order they come in, so the list is the one that a single run would have written.

use std::fs::File;
use std::io::{self, BufReader, Read};
use std::path::{Path, PathBuf};

use retrofit_core::provisions::Provisions;
use retrofit_core::ranking::{Spectrum, Worlds};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::frame::{self, Frame};
use super::ids::{Ids, RepeatedIds};
use super::sort::{Sorted, Sorter};
use super::{Costs, ListFormat, RankError, RankOptions, RankingSummary, folder_of};
use crate::triage::{
    Aside, Block, By, Destination, Fingerprint, Format, Lines, MadeBy, Manifest, Progress, ReadSoFar, Source,
    State, TriageError, fingerprint_of, pass_over,
};

/// How many bytes of frames are put in order at a time.
const MOST: usize = 24 << 20;

/// How many bytes of what is left behind are written at a time.
const WRITTEN_AT_ONCE: usize = 64 << 10;

/// What a ranking read, by which tables and settings, and what it wrote: a file beside the list.
pub type RankingManifest = Manifest<RankedBy, RankingCounts>;

/// By what houses were put in order. A run goes on only by the same.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RankedBy {
    /// By what houses that somebody looked under were checked, and how the list is written.
    pub checked_by: MadeBy,
    /// The fingerprint of the tables that everything else is inferred by, with their sources and standings.
    pub tables_sha256: String,
    /// The fingerprint of the unit prices; null where whole jobs were priced.
    pub prices_sha256: Option<String>,
    /// Whether those prices are the placeholders shipped.
    pub prices_are_placeholders: bool,
    /// The fingerprint of the grid of shaking, where one was named.
    pub hazard_sha256: Option<String>,
    /// What there was to spend, in dollars; null: as long as a dollar avoids a dollar.
    pub budget: Option<f64>,
    /// The most that one house is given, in dollars; null: its whole cost.
    pub grant_cap: Option<f64>,
    /// The seed of the draws.
    pub seed: u64,
    /// How many worlds were drawn.
    pub draws: usize,
    /// The columns that houses were grouped by.
    pub cut_by: Vec<String>,
}

impl By for RankedBy {
    const FORMAT: &'static str = "ranking-manifest-3";
}

impl RankedBy {
    pub(super) fn new(options: &RankOptions, provisions: &Provisions) -> Self {
        let format = match options.format {
            ListFormat::Csv => Format::Csv,
            ListFormat::JsonLines => Format::JsonLines,
        };
        Self {
            checked_by: MadeBy::new(provisions, options.map.as_ref(), format),
            tables_sha256: fingerprint_of([&options.tables]),
            prices_sha256: options.costs.prices().map(|prices| fingerprint_of(prices.rows())),
            prices_are_placeholders: options.costs == Costs::Placeholder,
            hazard_sha256: options.hazard.as_ref().map(|grid| fingerprint_of([grid])),
            budget: options.budget,
            grant_cap: options.money.grant_cap,
            seed: options.seed,
            draws: options.draws,
            cut_by: options.cut_by.clone(),
        }
    }
}

/// What a ranking came to, in few numbers.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RankingCounts {
    /// Houses that were worked out.
    pub houses: u64,
    /// Rows that could not be read.
    pub bad_rows: u64,
    /// What the list comes to; null where the run was stopped before there was one.
    pub list: Option<ListCounts>,
}

/// What a list came to, in few numbers.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ListCounts {
    /// Houses that the budget reaches.
    pub funded: u64,
    /// Dollars paid for those.
    pub paid: f64,
    /// Dollars of loss avoided by those.
    pub avoided: f64,
    /// What the last dollar of cost avoids.
    pub cut_line: f64,
    /// Ids that stand in more than one row.
    pub repeated_ids: RepeatedIds,
}

/// The rows as they are read: into the sorters, or among the bad ones.
pub(super) struct Scan<'a> {
    frames: Sorter,
    ids: Ids,
    aside: Aside,
    pub(super) progress: &'a mut dyn Progress,
    options: &'a RankOptions,
    has_a_place: bool,
    made_by: RankedBy,
    houses: u64,
    blocks: u64,
    read_so_far: Vec<ReadSoFar>,
    /// The run that this one goes on with.
    earlier: Option<RankingManifest>,
}

impl<'a> Scan<'a> {
    pub(super) fn open(
        options: &'a RankOptions,
        made_by: RankedBy,
        list: &Destination,
        progress: &'a mut dyn Progress,
    ) -> Result<Self, RankError> {
        let bad_rows = options.bad_rows.as_deref();
        let (earlier, aside) = if options.resume {
            let Some(out) = &options.out else {
                return Err(RankError::Triage(TriageError::Resume {
                    path: "standard output".into(),
                    problem: "found no file for the list; expected that of the run to go on with".into(),
                }));
            };
            let earlier = RankingManifest::of_stopped(&kept_beside(out), &made_by)?;
            let aside = earlier.bad_rows_again(bad_rows, earlier.summary.bad_rows)?;
            (Some(earlier), aside)
        } else {
            (None, Aside::open(bad_rows)?)
        };
        let folder = folder_of(options);
        Ok(Self {
            frames: Sorter::new(folder, frame::by_place, MOST),
            ids: Ids::new(folder),
            aside,
            progress,
            options,
            has_a_place: list.fingerprint().is_some(),
            made_by,
            houses: 0,
            blocks: 0,
            read_so_far: Vec::new(),
            earlier,
        })
    }

    fn add(&mut self, frame: Frame<'_>) -> io::Result<()> {
        self.houses += 1;
        self.ids.add(frame)?;
        self.frames.add(frame)
    }

    /// Takes up what an earlier run worked out, where this one goes on with it; what that comes to in the worlds.
    pub(super) fn take_up(&mut self, worlds: &Worlds) -> Result<Spectrum, TriageError> {
        let Some(earlier) = &self.earlier else {
            return Ok(Spectrum::new(worlds));
        };
        let kept = earlier.results.clone();
        let fault = |error| TriageError::read(&kept.file, error);
        let is_whole = Fingerprint::of_file(&kept.file)
            .map_err(fault)?
            .is_of_same_content(&kept);
        let mut from = BufReader::new(File::open(&kept.file).map_err(fault)?);
        // What is not as it was left is not even looked at.
        let spectrum = if is_whole {
            read_spectrum(&mut from, kept.bytes)
                .map_err(fault)?
                .filter(|spectrum| spectrum.is_of(worlds))
        } else {
            None
        };
        let Some(spectrum) = spectrum else {
            return Err(TriageError::Resume {
                path: kept.file,
                problem: "found another content than the stopped run wrote; expected it unchanged".into(),
            });
        };
        let mut frame = Vec::new();
        while Frame::read(&mut from, &mut frame).map_err(fault)? {
            if let Some((frame, _)) = Frame::first(&frame) {
                self.add(frame)?;
            }
        }
        Ok(spectrum)
    }

    /// Reads past the rows that an earlier run worked out. They must be those that were read then.
    pub(super) fn pass_over_what_is_done(&mut self, source: &mut Source) -> Result<(), TriageError> {
        if let Some(earlier) = &self.earlier {
            self.read_so_far = pass_over(source, earlier.blocks, &earlier.inputs, self.progress)?;
            self.blocks = earlier.blocks;
        }
        Ok(())
    }

    /// Takes what came of the next block.
    pub(super) fn take(&mut self, block: &Block) -> Result<(), TriageError> {
        let before = self.houses;
        for frame in Frame::all(&block.results) {
            self.add(frame)?;
        }
        self.aside.take(&block.bad, self.progress)?;
        self.blocks += 1;
        self.read_so_far.clone_from(&block.read_so_far);
        self.progress.advance(block.len(), self.houses - before);
        Ok(())
    }

    /// All houses in order, their ids, and what else is known of the run.
    pub(super) fn finish(self) -> Result<(Sorted, Ids, Done), RankError> {
        let list = self.frames.finish()?;
        let done = Done {
            out: self.options.out.clone(),
            has_a_place: self.has_a_place,
            input: self.options.houses.clone(),
            aside: self.aside,
            made_by: self.made_by,
            houses: self.houses,
            blocks: self.blocks,
            read_so_far: self.read_so_far,
            whole: Vec::new(),
            earlier: self.earlier,
        };
        Ok((list, self.ids, done))
    }
}

/// A run whose rows are read: all of them, or as many as it came to before it was stopped.
#[derive(Debug)]
pub(super) struct Done {
    out: Option<PathBuf>,
    /// Whether the list goes to a file, and not to a terminal, a pipe or a device.
    has_a_place: bool,
    input: PathBuf,
    aside: Aside,
    made_by: RankedBy,
    houses: u64,
    blocks: u64,
    /// How much had been read for the last block.
    read_so_far: Vec<ReadSoFar>,
    /// How much there is, once all was read.
    whole: Vec<ReadSoFar>,
    earlier: Option<RankingManifest>,
}

impl Done {
    /// Every row was read, and what stands behind the last of them.
    pub(super) fn read_to_the_end(&mut self, source: &Source) {
        self.whole = source.files().map(Lines::read_so_far).cloned().collect();
    }

    /// What was read, from the first byte to the last.
    pub(super) fn inputs(&self) -> Vec<Fingerprint> {
        self.fingerprints(&self.whole)
    }

    fn fingerprints(&self, read: &[ReadSoFar]) -> Vec<Fingerprint> {
        let read = read.iter();
        read.map(|so_far| Fingerprint::new(&self.input, so_far)).collect()
    }

    /// Rows that could not be read.
    pub(super) const fn bad_rows(&self) -> u64 {
        self.aside.count()
    }

    fn manifest(&self, state: State) -> RankingManifest {
        RankingManifest {
            inputs: self.fingerprints(match state {
                State::Complete => &self.whole,
                // A later run finds again where the last block ended, and not what stands behind it.
                State::Stopped => &self.read_so_far,
            }),
            blocks: self.blocks,
            summary: RankingCounts {
                houses: self.houses,
                bad_rows: self.bad_rows(),
                list: None,
            },
            ..RankingManifest::new(self.made_by.clone(), state)
        }
    }

    /// Gives the list its name, with the manifest beside it.
    pub(super) fn finish(self, list: Destination, summary: &RankingSummary) -> Result<(), RankError> {
        let manifest = list.fingerprint().map(|results| {
            let mut manifest = self.manifest(State::Complete);
            manifest.results = results;
            manifest.bad_rows = self.aside.fingerprint();
            manifest.summary.list = Some(ListCounts {
                funded: summary.all.funded,
                paid: summary.all.paid,
                avoided: summary.all.avoided,
                cut_line: summary.cut_line,
                repeated_ids: summary.data_quality.repeated_ids.clone(),
            });
            manifest
        });
        // The bad rows first: a list that is there stands for a run that is over.
        self.aside.finish()?;
        list.finish()?;
        if let Some(manifest) = manifest {
            manifest.write()?;
        }
        if let Some(earlier) = self.earlier {
            earlier.clear_away();
        }
        Ok(())
    }

    /// Leaves what was worked out, so that a later run can go on; what to tell of it.
    pub(super) fn leave(self, list: &mut Sorted, spectrum: &Spectrum) -> Result<RankError, RankError> {
        let houses = self.houses;
        let Some(path) = self.out.as_deref().filter(|_| self.has_a_place && houses > 0) else {
            return Ok(RankError::Stopped { houses, kept: None });
        };
        let mut to = Destination::file(&kept_beside(path))?;
        let mut text = Vec::new();
        write_spectrum(&mut text, spectrum)?;
        let mut frames = list.walk()?;
        while let Some(frame) = frames.next()? {
            text.extend_from_slice(frame.bytes());
            if text.len() >= WRITTEN_AT_ONCE {
                to.write(&text)?;
                text.clear();
            }
        }
        to.write(&text)?;
        to.keep();
        let mut manifest = self.manifest(State::Stopped);
        if let Some(results) = to.fingerprint() {
            manifest.results = results;
        }
        manifest.bad_rows = self.aside.leave_partial()?;
        to.finish()?;
        manifest.write()?;
        Ok(RankError::Stopped {
            houses,
            kept: Some(manifest.results.file),
        })
    }
}

/// Where what a run worked out is left, beside the place of its list: `ranked.csv.partial` for `ranked.csv`.
fn kept_beside(list: &Path) -> PathBuf {
    let mut name = list.as_os_str().to_owned();
    name.push(".partial");
    name.into()
}

/// Writes a spectrum with its length before it.
fn write_spectrum(out: &mut Vec<u8>, spectrum: &Spectrum) -> io::Result<()> {
    let bytes = postcard::to_stdvec(spectrum).map_err(io::Error::other)?;
    out.extend_from_slice(&u64::try_from(bytes.len()).unwrap_or(u64::MAX).to_le_bytes());
    out.extend_from_slice(&bytes);
    Ok(())
}

/// Reads a spectrum from a file of so many bytes; `None` where there is none.
fn read_spectrum(from: &mut impl Read, most: u64) -> io::Result<Option<Spectrum>> {
    let mut length = [0; 8];
    from.read_exact(&mut length)?;
    let length = u64::from_le_bytes(length).min(most);
    let mut bytes = Vec::new();
    from.take(length).read_to_end(&mut bytes)?;
    Ok(postcard::from_bytes(&bytes).ok())
}
