//! Rows in which little is written. Most of what decides is under the floor, and most houses have been seen from the
//! street only, so that the same few cells come again and again; then what they came to is known as a whole.

use super::RowDigest;
use super::cell_numbers::CellNumbers;
use crate::check::CheckId;
use crate::portfolio::column::COLUMNS;
use crate::portfolio::digest::Digest;
use crate::portfolio::graph::{Graph, Slot, Step};
use crate::portfolio::rows::{ROWS, RowSet, each};
use crate::portfolio::table::Table;

/// The cells of a row that are not blank, each by its column and its number, two in a word.
type Written = [u64; WORDS];

/// A row with as many cells as that, or more, is not one of them.
const MANY: usize = 8;
const WORDS: usize = MANY / 2;

/// What such rows came to.
#[derive(Clone, Debug)]
pub(super) struct SparseRows {
    /// By what is written, one more than the place of the digest.
    known: Table<u16, WORDS>,
    digests: Vec<Digest>,
    /// How many digests there were before it began anew.
    before: u32,
}

impl SparseRows {
    /// With more of them, it is time to begin anew.
    const MOST_BITS: u32 = 12;

    pub(super) fn new() -> Self {
        Self {
            known: Table::new(Self::MOST_BITS),
            digests: Vec::new(),
            before: 0,
        }
    }

    /// Without anything, but no digest gets a number that another had.
    pub(super) fn anew(&self) -> Self {
        let count = u32::try_from(self.digests.len()).unwrap_or_default();
        Self {
            before: self.before.wrapping_add(count),
            ..Self::new()
        }
    }

    /// Begins anew when there are so many. What was found before is not to be asked for after it.
    pub(super) fn begin_anew_when_full(&mut self) {
        if self.digests.len() >> Self::MOST_BITS > 0 {
            *self = self.anew();
        }
    }

    /// What such a row comes to, by its number.
    pub(super) fn digest(&self, number: u16) -> Option<RowDigest<'_>> {
        let digest = self.digests.get(usize::from(number).checked_sub(1)?)?;
        let number = self.before.wrapping_add(u32::from(number));
        Some(RowDigest {
            digest,
            number: Some(number),
        })
    }

    fn keep(&mut self, written: Written, digest: Digest) {
        // The same may have stood in another row since it was looked for.
        if self.known.find(written).is_some() {
            return;
        }
        self.digests.push(digest);
        if let Ok(number) = u16::try_from(self.digests.len()) {
            self.known.keep(written, number, true);
        }
    }
}

/// The same of some rows side by side.
#[derive(Clone, Debug)]
pub(super) struct Sparse {
    /// The columns of the table that any finding hangs on.
    columns: Vec<Slot>,
    /// The checks of which what is shown hangs on others too.
    shows_more: Vec<CheckId>,
    written: Box<[Written; ROWS]>,
    /// Rows that have not come before.
    new: RowSet,
    /// What is written in those that are gathered, and their places.
    gathered: Vec<(usize, Written)>,
}

/// Rows of which it is known as a whole what they come to.
pub(super) struct Found {
    pub(super) rows: RowSet,
    /// By row, the number of what it comes to.
    numbers: [u16; ROWS],
}

impl Found {
    const NONE: Self = Self {
        rows: 0,
        numbers: [0; ROWS],
    };

    /// Each row, and the number of what it comes to.
    pub(super) fn iter(&self) -> impl Iterator<Item = (usize, u16)> + '_ {
        each(self.rows).filter_map(|row| Some((row, *self.numbers.get(row)?)))
    }
}

impl Sparse {
    /// For a table with these columns.
    pub(super) fn new(graph: &Graph, columns: impl Iterator<Item = Slot>) -> Self {
        let lists = graph.lists.iter().chain([&graph.sill]);
        let of_lists = lists.flat_map(|list| [&[list.stated], list.described.as_slice()].concat());
        let read = graph.steps.iter().flat_map(Step::reads);
        let read: Vec<Slot> = read.chain(of_lists).collect();
        let is_read = |slot: &Slot| slot.place() >= COLUMNS.len() || read.contains(slot);
        let shown_by = graph.checks.iter().zip(&graph.shown_by);
        Self {
            columns: columns.filter(is_read).collect(),
            shows_more: shown_by
                .filter(|(_, shown_by)| !shown_by.iter().all(is_read))
                .map(|(check, _)| *check)
                .collect(),
            written: Box::new([[0; WORDS]; ROWS]),
            new: 0,
            gathered: Vec::with_capacity(ROWS),
        }
    }

    /// Of some rows that make sense as far as they have been looked at, those of which it is known as a whole what they come
    /// to.
    pub(super) fn find(&mut self, known: &SparseRows, cells: &CellNumbers, rows: RowSet) -> Found {
        let columns = self.columns.iter();
        let columns = columns.filter_map(|slot| Some((*slot, cells.column(*slot)?)));
        // How many cells each row has, a bit of its count in each word: `MANY` is what is carried out of the last.
        let (mut count, mut many) = ([0; MANY.ilog2() as usize], 0);
        for (_, (_, written)) in columns.clone() {
            let mut carried = written;
            for bits in &mut count {
                (*bits, carried) = (*bits ^ carried, *bits & carried);
            }
            many |= carried;
        }
        let rows = rows & !many;
        let mut found = Found::NONE;
        self.new = 0;
        if rows == 0 {
            return found;
        }
        *self.written = [[0; WORDS]; ROWS];
        let mut counts = [0u8; ROWS];
        for (slot, (numbers, written)) in columns {
            for row in each(written & rows) {
                let (Some(count), Some(key), Some(number)) =
                    (counts.get_mut(row), self.written.get_mut(row), numbers.get(row))
                else {
                    continue;
                };
                if let Some(word) = key.get_mut(usize::from(*count / 2)) {
                    *word = *word << u32::BITS | u64::from(slot.0) << u16::BITS | u64::from(*number);
                }
                *count += 1;
            }
        }
        for row in each(rows) {
            let number = self
                .written
                .get(row)
                .and_then(|written| known.known.find(*written));
            if let (Some(number), Some(here)) = (number, found.numbers.get_mut(row)) {
                *here = number;
                found.rows |= 1 << row;
            }
        }
        self.new = rows & !found.rows;
        found
    }

    /// Some of these rows are gathered, one after another from some place on.
    pub(super) fn gather(&mut self, rows: RowSet, begin: usize) {
        for (place, row) in (begin..).zip(each(rows)) {
            if let (1, Some(written)) = (self.new >> row & 1, self.written.get(row)) {
                self.gathered.push((place, *written));
            }
        }
    }

    /// Remembers what those that are gathered came to, by their places.
    pub(super) fn keep<'d>(
        &mut self,
        known: &mut SparseRows,
        digest_of: impl Fn(usize) -> Option<&'d Digest>,
    ) {
        for (place, written) in self.gathered.drain(..) {
            if let Some(digest) = digest_of(place)
                && digest
                    .governing
                    .is_none_or(|of| !self.shows_more.contains(&of.id()))
            {
                known.keep(written, *digest);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::super::RowChecker;
    use super::super::tests::{few_in_each, first_wrong_together, layout};
    use super::*;
    use crate::provisions::Library;

    /// Under every set a row with few cells comes to what its house comes to, once it is known as well. And what such rows
    /// are known by is needed: without most of the columns some row of some set comes out wrong.
    #[test]
    fn what_is_known_of_a_row_is_what_its_house_comes_to() {
        let mut is_needed = BTreeMap::new();
        for (seed, set) in (200..).zip(Library::shipped().ids()) {
            let provisions = Library::shipped().set(set).unwrap();
            let judged = few_in_each(seed, 4000, &provisions);
            let mut checker = RowChecker::new(layout(), &provisions);
            for round in ["new", "known"] {
                let (wrong, _) = first_wrong_together(&mut checker, &judged);
                assert_eq!(wrong, None, "{set}, {round}");
            }
            let known = checker.works.recalled.sparse.digests.len();
            assert!(known > 1000, "{set}: {known}");
            for left_out in checker.together.sparse.columns.clone() {
                let is_needed = is_needed.entry(left_out).or_insert(false);
                if !*is_needed {
                    checker.works.recalled.sparse = SparseRows::new();
                    let columns = &mut checker.together.sparse.columns;
                    columns.retain(|slot| *slot != left_out);
                    *is_needed = first_wrong_together(&mut checker, &judged).0.is_some();
                    checker.together.sparse.columns.push(left_out);
                }
            }
        }
        // The others count only together with more than stands in such a row.
        let needed = is_needed.values().filter(|is_needed| **is_needed).count();
        assert!(needed > 40, "{needed} of {}", is_needed.len());
    }

    /// What is remembered is bounded.
    #[test]
    fn with_more_than_some_it_begins_anew() {
        let mut known = SparseRows::new();
        let digest = Digest::of(&[], &Library::shipped().set(Library::DEFAULT_SET).unwrap());
        for number in 0..5 << (SparseRows::MOST_BITS - 1) {
            known.begin_anew_when_full();
            known.keep([number, 0, 0, 0], digest);
            let place = known.known.find([number, 0, 0, 0]).unwrap();
            // No two of them have the same number.
            let of_row = known.digest(place).unwrap();
            assert_eq!(of_row.number, u32::try_from(number + 1).ok());
        }
        assert_eq!(known.digests.len(), 1 << (SparseRows::MOST_BITS - 1));
    }
}
