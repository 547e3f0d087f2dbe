//! The rows of a block through the checks or the tables of likelihoods, into frames with their scores.

use std::sync::{Mutex, PoisonError};

use retrofit_core::check::Assessor;
use retrofit_core::house::AsBuilt;
use retrofit_core::portfolio::{CellError, Context, Digest, RowReader};
use retrofit_core::provisions::Provisions;
use retrofit_core::ranking::{Evidence, Pricing, Prospect, Score, ShakingFrom, Spectrum, Worlds};

use super::{RankOptions, frame};
use crate::triage::{BadRow, Block, Cells, Lane, Table, rows};

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
    ) -> impl Iterator<Item = Score> + 's {
        self.worlds.draw(id, evidence, prospect, &self.options.tables)
    }
}

/// Scores blocks, one after another, in memory of its own.
pub(super) struct Scoring<'a> {
    setting: &'a Setting<'a>,
    reader: RowReader,
    house: AsBuilt,
    assessor: Assessor,
    cells: Cells,
    spectrum: Spectrum,
}

impl<'a> Scoring<'a> {
    pub(super) fn new(setting: &'a Setting<'a>) -> Self {
        Self {
            setting,
            reader: RowReader::one_table(setting.houses.layout.clone()),
            house: AsBuilt::default(),
            assessor: Assessor::default(),
            cells: Cells::default(),
            spectrum: Spectrum::new(setting.worlds),
        }
    }

    /// Scores the house of a row, and writes its frame.
    fn score(&mut self, number: u64, line: &[u8], frames: &mut Vec<u8>) -> Result<(), BadRow> {
        let (setting, table) = (self.setting, self.setting.houses);
        let options = setting.options;
        let text = table.take_apart(number, line, &mut self.cells)?;
        let (cells, reader) = (&self.cells, &mut self.reader);
        let context = Context::read(&table.layout, |position| cells.get(text, position))
            .map_err(|error| table.bad_cell(number, error))?;
        let mut read = Ok(());
        let whole = self
            .house
            .refill(|house| read = reader.read(house, cells.of(text)));
        read.map_err(|error| table.bad_cell(number, error))?;
        whole.map_err(|problems| match problems.first() {
            Some(problem) => table.bad_cell(number, CellError::of_house(problem)),
            None => table.bad(number, None, "found a house that does not make sense".into()),
        })?;

        let mut evidence = Evidence::of_row(&self.house, &context);
        if let (None, Some((longitude, latitude)), Some(grid)) =
            (evidence.shaking, evidence.place, &options.hazard)
            && let Some(shaking) = grid.at(longitude, latitude)
        {
            evidence.shaking = Some(shaking);
            evidence.shaking_from = ShakingFrom::Grid;
        }
        if Evidence::was_looked_at(&self.house) {
            let findings = self.assessor.run(&self.house, setting.provisions);
            let digest = Digest::of(findings, setting.provisions);
            evidence = evidence.with_findings(findings, &digest);
        }
        let prospect = setting.prospect(&evidence);
        let id = &self.house.name;
        self.spectrum.add(setting.draw(id, &evidence, &prospect));
        let handed_on: Vec<&str> = setting
            .passed
            .iter()
            .map(|(at, _)| cells.get(text, *at))
            .collect();
        let written = frame::write(frames, prospect.score(), number, id, &evidence, &handed_on);
        written.map_err(|error| table.bad(number, None, format!("cannot be kept: {error}")))
    }
}

impl Lane for Scoring<'_> {
    fn work(&mut self, block: &mut Block) {
        for (number, line) in rows(&block.houses, block.first_line) {
            if let Err(row) = self.score(number, line, &mut block.results) {
                block.bad.push(row);
            }
        }
    }

    fn end(self) {
        // Counts add up to the same in any order, and are as good after a panic elsewhere.
        let mut all = self
            .setting
            .spectrum
            .lock()
            .unwrap_or_else(PoisonError::into_inner);
        all.merge(&self.spectrum);
    }
}
