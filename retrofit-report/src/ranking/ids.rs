//! Ids that stand in more than one row: found by a second sort, so that memory does not grow with the list.

use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::io;
use std::path::Path;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::frame::{self, Frame};
use super::sort::{Sorted, Sorter, Walk};

/// How many bytes of ids are put in order at a time.
const MOST: usize = 8 << 20;

/// How many ids are named.
const MOST_NAMED: usize = 25;

/// How many lines of one id are named.
const MOST_LINES: usize = 5;

/// Ids that stand in more than one row: one parcel twice, or two parcels under one number. Every row stays in the list;
/// the program pays for an id once, at its best place.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RepeatedIds {
    /// How many ids stand in more than one row.
    pub ids: u64,
    /// The rows beyond the first of each of them.
    pub further_rows: u64,
    /// How many of those ids have rows that come to different scores.
    pub ids_that_differ: u64,
    /// Some of them: those whose rows differ first, then those with the most rows; of equals by id.
    pub named: Vec<RepeatedId>,
}

/// One id that stands in more than one row.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RepeatedId {
    /// The id.
    pub id: String,
    /// In how many rows it stands.
    pub rows: u64,
    /// Whether those rows come to different scores.
    pub differs: bool,
    /// The lines of the input on which the first of them stand, in the order of the list.
    pub lines: Vec<u64>,
}

/// Takes the ids of a list.
#[derive(Debug)]
pub(super) struct Ids {
    sorter: Sorter,
    bare: Vec<u8>,
}

impl Ids {
    pub(super) fn new(folder: Option<&Path>) -> Self {
        Self {
            sorter: Sorter::new(folder, frame::by_id, MOST),
            bare: Vec::new(),
        }
    }

    /// Adds the id of a house.
    pub(super) fn add(&mut self, house: Frame<'_>) -> io::Result<()> {
        add_bare(&mut self.sorter, &mut self.bare, house, false)
    }

    /// What is repeated, and the rows that repeat another, in the order of the list.
    pub(super) fn finish(mut self, folder: Option<&Path>) -> io::Result<(RepeatedIds, RepeatedRows)> {
        let mut facts = RepeatedIds::default();
        let mut rows = Sorter::new(folder, frame::by_place, MOST);
        let mut named = Named::default();
        // The rows of one id, and the first of them, which stands at its best place.
        let mut best: Option<(RepeatedId, [u64; 3])> = None;
        let mut ids = self.sorter.finish()?;
        let mut walk = ids.walk()?;
        while let Some(house) = walk.next()? {
            let score = house.score();
            // What differs by a bit differs.
            let score = [score.benefit, score.cost, score.paid].map(f64::to_bits);
            match &mut best {
                Some((held, first)) if held.id == house.id() => {
                    let differs = *first != score;
                    held.rows += 1;
                    held.differs |= differs;
                    if held.lines.len() < MOST_LINES {
                        held.lines.push(house.line());
                    }
                    add_bare(&mut rows, &mut self.bare, house, differs)?;
                }
                _ => {
                    let next = RepeatedId {
                        id: house.id().to_owned(),
                        rows: 1,
                        differs: false,
                        lines: vec![house.line()],
                    };
                    if let Some((held, _)) = best.replace((next, score)) {
                        facts.count(held, &mut named);
                    }
                }
            }
        }
        if let Some((held, _)) = best {
            facts.count(held, &mut named);
        }
        facts.named = named.finish();
        Ok((facts, RepeatedRows(rows.finish()?)))
    }
}

fn add_bare(sorter: &mut Sorter, bare: &mut Vec<u8>, house: Frame<'_>, differs: bool) -> io::Result<()> {
    bare.clear();
    frame::write_bare(bare, house, differs);
    match Frame::first(bare) {
        Some((frame, _)) => sorter.add(frame),
        None => Ok(()),
    }
}

impl RepeatedIds {
    fn count(&mut self, id: RepeatedId, named: &mut Named) {
        if id.rows > 1 {
            self.ids += 1;
            self.further_rows += id.rows - 1;
            self.ids_that_differ += u64::from(id.differs);
            named.add(id);
        }
    }
}

/// How ids are chosen to be named: the greatest first.
type Rank = (bool, u64, Reverse<String>, Vec<u64>);

/// The ids to be named; the least of them stands at the top of the heap.
#[derive(Debug, Default)]
struct Named(BinaryHeap<Reverse<Rank>>);

impl Named {
    fn add(&mut self, id: RepeatedId) {
        self.0
            .push(Reverse((id.differs, id.rows, Reverse(id.id), id.lines)));
        if self.0.len() > MOST_NAMED {
            self.0.pop();
        }
    }

    fn finish(self) -> Vec<RepeatedId> {
        let named = self.0.into_sorted_vec().into_iter();
        named
            .map(|Reverse((differs, rows, Reverse(id), lines))| RepeatedId {
                id,
                rows,
                differs,
                lines,
            })
            .collect()
    }
}

/// The rows that repeat the id of another, in the order of the list.
#[derive(Debug)]
pub(super) struct RepeatedRows(Sorted);

/// How a row repeats another that stands higher in the list, under the same id.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Repeats {
    /// With the same score.
    Alike,
    /// With another score.
    Differing,
}

impl RepeatedRows {
    /// A walk along the list.
    pub(super) fn walk(&mut self) -> io::Result<RepeatsOnTheWay<'_>> {
        let mut walk = self.0.walk()?;
        let next = next(&mut walk)?;
        Ok(RepeatsOnTheWay { walk, next })
    }
}

/// Tells along the list which of its rows repeat another.
pub(super) struct RepeatsOnTheWay<'s> {
    walk: Walk<'s>,
    next: Option<(u64, Repeats)>,
}

impl RepeatsOnTheWay<'_> {
    /// Whether the next row of the list repeats another.
    pub(super) fn of(&mut self, house: Frame<'_>) -> io::Result<Option<Repeats>> {
        match self.next {
            Some((line, repeats)) if line == house.line() => {
                self.next = next(&mut self.walk)?;
                Ok(Some(repeats))
            }
            _ => Ok(None),
        }
    }
}

fn next(walk: &mut Walk<'_>) -> io::Result<Option<(u64, Repeats)>> {
    Ok(walk.next()?.map(|row| {
        let repeats = if row.differs() {
            Repeats::Differing
        } else {
            Repeats::Alike
        };
        (row.line(), repeats)
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use retrofit_core::ranking::{Evidence, Score};
    use std::collections::BTreeMap;

    proptest! {
        /// Against counting in a map: which rows repeat, whether they differ, and how many there are.
        #[test]
        fn repeats_are_those_that_a_map_finds(houses in prop::collection::vec((0u8..3, "[a-d]{1,2}"), 0..80)) {
            let mut frames = Vec::new();
            for (line, (benefit, id)) in houses.iter().enumerate() {
                let score = Score { benefit: f64::from(*benefit), cost: 1.0, paid: 1.0 };
                frame::write(&mut frames, score, line as u64, id, &Evidence::default(), &[]).unwrap();
            }
            let mut ids = Ids::new(None);
            let mut list = Sorter::new(None, frame::by_place, 1 << 20);
            for frame in Frame::all(&frames) {
                ids.add(frame).unwrap();
                list.add(frame).unwrap();
            }
            let (facts, mut rows) = ids.finish(None).unwrap();

            let mut by_id: BTreeMap<&str, Vec<u8>> = BTreeMap::new();
            for (benefit, id) in &houses {
                by_id.entry(id).or_default().push(*benefit);
            }
            by_id.retain(|_, scores| scores.len() > 1);
            let differ = |scores: &Vec<u8>| scores.iter().any(|score| *score != scores[0]);
            prop_assert_eq!(facts.ids, by_id.len() as u64);
            prop_assert_eq!(facts.further_rows, by_id.values().map(|rows| rows.len() as u64 - 1).sum::<u64>());
            prop_assert_eq!(facts.ids_that_differ, by_id.values().filter(|scores| differ(scores)).count() as u64);
            for named in &facts.named {
                let scores = &by_id[&*named.id];
                prop_assert_eq!((named.rows, named.differs), (scores.len() as u64, differ(scores)));
            }

            let mut list = list.finish().unwrap();
            let (mut walk, mut repeats) = (list.walk().unwrap(), rows.walk().unwrap());
            let mut met: BTreeMap<String, f64> = BTreeMap::new();
            while let Some(house) = walk.next().unwrap() {
                let benefit = house.score().benefit;
                let expected = met.get(house.id()).map(|first| {
                    if first.total_cmp(&benefit).is_eq() { Repeats::Alike } else { Repeats::Differing }
                });
                prop_assert_eq!(repeats.of(house).unwrap(), expected);
                met.entry(house.id().to_owned()).or_insert(benefit);
            }
        }
    }
}
