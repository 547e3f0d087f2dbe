//! Where the houses of a list stand: a point for each while they are few, cells of a grid when they are many.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Serialize;

use super::row::Place;

/// How a house comes out, for a map.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Tier {
    /// The budget reaches it.
    Funded,
    /// It would avoid something, and the budget does not reach it.
    BeyondBudget,
    /// Nothing was found short, so that there is nothing to avoid by this work.
    NothingShort,
}

impl Tier {
    /// Of a house in the list.
    pub(super) fn of(place: &Place<'_>) -> Self {
        if place.is_funded {
            Self::Funded
        } else if place.score.benefit > 0.0 {
            Self::BeyondBudget
        } else {
            Self::NothingShort
        }
    }
}

/// The houses on a map.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PortfolioMap {
    /// Side of a cell in degrees; 0 where each house, or all houses at one place, has a cell of its own.
    pub cell_degrees: f64,
    /// The cells, from the south-west, row by row.
    pub cells: Vec<MapCell>,
    /// Houses whose place is not known.
    pub without_place: u64,
}

/// Houses at a place, or in a cell of a grid.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, JsonSchema)]
pub struct MapCell {
    /// Longitude of the place, or of the middle of the cell, in degrees.
    pub longitude: f64,
    /// Latitude, likewise.
    pub latitude: f64,
    /// Houses that the budget reaches.
    pub funded: u64,
    /// Houses that it does not reach.
    pub beyond_budget: u64,
    /// Houses at which nothing was found short.
    pub nothing_short: u64,
    /// Of all of them, those whose place in the list is inferred.
    pub inferred: u64,
}

/// Puts houses on a map, in memory that is bounded: when there are too many cells, their side doubles.
#[derive(Debug)]
pub(super) struct MapMaker {
    side: i64,
    cells: BTreeMap<(i64, i64), MapCell>,
    without_place: u64,
}

/// Cells are counted in these parts of a degree: about ten centimeters.
const STEPS: f64 = 1e6;

/// More cells than this are no longer told apart on a page.
const MOST_CELLS: usize = 4000;

/// The first side that houses are put together by: about fifty meters.
const FIRST_SIDE: i64 = 500;

impl MapMaker {
    pub(super) const fn new() -> Self {
        Self {
            side: 1,
            cells: BTreeMap::new(),
            without_place: 0,
        }
    }

    pub(super) fn add(&mut self, place: &Place<'_>) {
        let Some((longitude, latitude)) = place.evidence.place else {
            self.without_place += 1;
            return;
        };
        let key = (self.key(latitude), self.key(longitude));
        let cell = self.cells.entry(key).or_default();
        *match Tier::of(place) {
            Tier::Funded => &mut cell.funded,
            Tier::BeyondBudget => &mut cell.beyond_budget,
            Tier::NothingShort => &mut cell.nothing_short,
        } += 1;
        cell.inferred += u64::from(place.evidence.is_inferred());
        while self.cells.len() > MOST_CELLS {
            self.widen();
        }
    }

    #[expect(clippy::cast_possible_truncation, reason = "degrees, of which there are few")]
    fn key(&self, degrees: f64) -> i64 {
        ((degrees * STEPS).round() as i64).div_euclid(self.side)
    }

    fn widen(&mut self) {
        let (from, to) = (self.side, if self.side == 1 { FIRST_SIDE } else { self.side * 2 });
        self.side = to;
        for ((latitude, longitude), cell) in std::mem::take(&mut self.cells) {
            let wider = |key: i64| (key * from).div_euclid(to);
            let all = self.cells.entry((wider(latitude), wider(longitude))).or_default();
            all.funded += cell.funded;
            all.beyond_budget += cell.beyond_budget;
            all.nothing_short += cell.nothing_short;
            all.inferred += cell.inferred;
        }
    }

    #[expect(clippy::cast_precision_loss, reason = "far below what a float holds")]
    pub(super) fn finish(self) -> PortfolioMap {
        let side = self.side;
        let middle = |key: i64| {
            let begin = (key * side) as f64;
            (begin + if side == 1 { 0.0 } else { side as f64 / 2.0 }) / STEPS
        };
        PortfolioMap {
            cell_degrees: if side == 1 { 0.0 } else { side as f64 / STEPS },
            cells: self
                .cells
                .into_iter()
                .map(|((latitude, longitude), cell)| MapCell {
                    longitude: middle(longitude),
                    latitude: middle(latitude),
                    ..cell
                })
                .collect(),
            without_place: self.without_place,
        }
    }
}
