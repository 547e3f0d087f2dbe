//! The rows of a block through the checks or the tables of likelihoods, into frames with their scores.

use std::sync::{Mutex, PoisonError};

use retrofit_core::house::House;
use retrofit_core::portfolio::{Context, RowReader};
use retrofit_core::provisions::Provisions;
use retrofit_core::ranking::{Drawn, Evidence, Pricing, Prospect, ShakingFrom, Spectrum, Worlds};

use super::{RankOptions, frame};
use crate::lanes::Lane;
use crate::triage::{BadRow, Block, CheckedRow, CheckedRows, Table};

/// What is the same for every row of a run.
pub(super) struct Setting<'a> {
    pub(super) options: &'a RankOptions,
    pub(super) provisions: &'a Provisions,
    pub(super) houses: &'a Table,
    /// The columns handed on: where they stand, and their names.
    pub(super) passed: &'a [(usize, String)],
    pub(super) worlds: &'a Worlds,
    pub(super) pricing: &'a Pricing<'a>,
    /// What all houses come to in every world.
    pub(super) spectrum: &'a Mutex<Spectrum>,
}

impl Setting<'_> {
    /// What a house comes to, by its evidence.
    pub(super) fn prospect(&self, evidence: &Evidence) -> Prospect<'_> {
        let options = self.options;
        let cost = self.pricing.of(evidence);
        Prospect::of(evidence, &options.tables, cost, options.money)
    }

    /// What a house comes to in each world.
    pub(super) fn draw<'s>(
        &'s self,
        id: &str,
        evidence: &Evidence,
        prospect: &'s Prospect<'_>,
    ) -> impl Iterator<Item = Drawn> + 's {
        self.worlds.draw(id, evidence, prospect, &self.options.tables)
    }
}

/// Scores blocks, one after another, in memory of its own.
pub(super) struct Scoring<'a> {
    rows: CheckedRows<'a>,
    scorer: Scorer<'a>,
}

impl<'a> Scoring<'a> {
    pub(super) fn new(setting: &'a Setting<'a>) -> Self {
        Self {
            rows: CheckedRows::new(setting.houses, setting.provisions),
            scorer: Scorer {
                setting,
                reader: RowReader::one_table(setting.houses.layout.clone()),
                house: House::default(),
                spectrum: Spectrum::new(setting.worlds),
            },
        }
    }
}

/// Scores houses that have been checked.
struct Scorer<'a> {
    setting: &'a Setting<'a>,
    reader: RowReader,
    house: House,
    spectrum: Spectrum,
}

impl Scorer<'_> {
    /// Scores the house of a row by what its checks came to, and writes its frame.
    fn score(
        &mut self,
        CheckedRow {
            number,
            cells,
            digest,
        }: CheckedRow<'_>,
        frames: &mut Vec<u8>,
    ) -> Result<(), BadRow> {
        let (setting, table) = (self.setting, self.setting.houses);
        let options = setting.options;
        let context = Context::read(&table.layout, |position| cells.get(position))
            .map_err(|error| table.bad_cell(number, error))?;
        let digest = digest.map_err(|error| table.bad_row(number, error))?.digest;
        // That it makes sense is known by now.
        self.reader
            .read(&mut self.house, cells.iter())
            .map_err(|error| table.bad_cell(number, error))?;

        let mut evidence = Evidence::of_row(&self.house, &context);
        if let (None, Some((longitude, latitude)), Some(grid)) =
            (evidence.shaking, evidence.place, &options.hazard)
            && let Some(shaking) = grid.at(longitude, latitude)
        {
            evidence.shaking = Some(shaking);
            evidence.shaking_from = ShakingFrom::Grid;
        }
        if Evidence::was_looked_at(&self.house) {
            evidence = evidence.with_digest(digest);
        }
        let prospect = setting.prospect(&evidence);
        let id = &self.house.name;
        self.spectrum.add(setting.draw(id, &evidence, &prospect));
        let handed_on: Vec<&str> = setting.passed.iter().map(|(at, _)| cells.get(*at)).collect();
        let written = frame::write(frames, prospect.score(), number, id, &evidence, &handed_on);
        written.map_err(|error| table.bad(number, None, format!("cannot be kept: {error}")))
    }
}

impl Lane<Block> for Scoring<'_> {
    fn work(&mut self, block: &mut Block) {
        let Self { rows, scorer } = self;
        rows.each(scorer.setting.houses, block, |row, block| {
            let scored = scorer.score(row, &mut block.results);
            block.bad.extend(scored.err());
        });
    }

    fn end(self) {
        // Counts add up to the same in any order, and are as good after a panic elsewhere.
        let mut all = self
            .scorer
            .setting
            .spectrum
            .lock()
            .unwrap_or_else(PoisonError::into_inner);
        all.merge(&self.scorer.spectrum);
    }
}
