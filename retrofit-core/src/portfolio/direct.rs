//! A table with a place for each way in which a few small numbers can stand together.

use std::collections::HashMap;
use std::hash::Hash;

use foldhash::fast::FixedState;

use super::graph::{INPUTS, Inputs, SLOTS, Slot};
use super::rows::{ROWS, RowList};
use super::table::Key;

/// For each slot of a row, one more than the largest number that can stand in it.
pub(super) type Extents = [u16; SLOTS];

/// So many rows are gone on with at a time.
const SOME: usize = 8;

/// What was worked out for each of many combinations of numbers: nothing is compared to find it.
///
/// Most combinations come to the same few things, so that a place holds no more than which of them it is.
#[derive(Clone, Debug)]
pub(super) struct Direct<T> {
    /// How far apart two combinations stand that differ by one in a number.
    strides: [u16; INPUTS],
    /// One more than the largest number of each input.
    ends: [u16; INPUTS],
    /// How many inputs there are up to the last.
    count: usize,
    /// For each combination the number of what came of it, or 0.
    places: Vec<u16>,
    /// The places of the combinations that are known.
    known: Vec<u32>,
    /// By number; of number 0, which is that of nothing known, it is of no account.
    came: Vec<T>,
    /// The number of each.
    numbers: HashMap<T, u16, FixedState>,
}

impl<T: Copy + Default + Eq + Hash> Direct<T> {
    /// A table for numbers of some extents; none where it would have more places than some, or than a stride reaches.
    pub(super) fn new(inputs: &Inputs, extents: &Extents, most: usize) -> Option<Self> {
        let (mut strides, mut ends) = ([0; INPUTS], [1; INPUTS]);
        let mut count: usize = 1;
        for ((stride, end), slot) in strides.iter_mut().zip(&mut ends).zip(inputs) {
            *end = extents.get(slot.place()).copied().unwrap_or(1);
            // Where nothing but 0 can stand in a slot, how far apart makes no difference.
            if *end > 1 {
                *stride = u16::try_from(count).ok()?;
            }
            count = count
                .checked_mul(usize::from(*end))
                .filter(|count| *count <= most)?;
        }
        Some(Self {
            strides,
            ends,
            count: inputs
                .iter()
                .rposition(|slot| *slot != Slot::NONE)
                .map_or(0, |last| last + 1),
            places: vec![0; count],
            known: Vec::new(),
            came: vec![T::default()],
            numbers: HashMap::default(),
        })
    }

    /// Where what is kept for the numbers of a row stands.
    #[inline]
    fn place(&self, inputs: &Inputs, numbers: &[u16; SLOTS]) -> usize {
        let mut place = 0;
        for (slot, stride) in inputs.iter().zip(&self.strides).take(self.count) {
            let number = numbers.get(slot.place()).copied().unwrap_or_default();
            place += u32::from(number) * u32::from(*stride);
        }
        place as usize
    }

    #[inline]
    pub(super) fn find(&self, inputs: &Inputs, numbers: &[u16; SLOTS]) -> Option<T> {
        let number = self.number_at(self.place(inputs, numbers));
        (number > 0).then(|| self.came(number))
    }

    #[inline]
    fn number_at(&self, place: usize) -> u16 {
        self.places.get(place).copied().unwrap_or_default()
    }

    /// What has a number, which is not 0.
    #[inline]
    pub(super) fn came(&self, number: u16) -> T {
        self.came.get(usize::from(number)).copied().unwrap_or_default()
    }

    /// Finds the number of what is kept for the numbers of each of some rows; 0 where it is not known.
    #[inline]
    pub(super) fn number_each<'n>(
        &self,
        inputs: &Inputs,
        numbers: impl Fn(Slot) -> &'n [u16; ROWS],
        rows: &RowList,
    ) -> [u16; ROWS] {
        let columns = inputs.map(numbers);
        match self.count {
            0 | 1 => self.number_by::<1>(&columns, rows),
            2 => self.number_by::<2>(&columns, rows),
            3 => self.number_by::<3>(&columns, rows),
            4 => self.number_by::<4>(&columns, rows),
            5 => self.number_by::<5>(&columns, rows),
            6 => self.number_by::<6>(&columns, rows),
            _ => self.number_by::<INPUTS>(&columns, rows),
        }
    }

    /// The same by so many of the numbers.
    #[inline(never)]
    fn number_by<const BY: usize>(&self, columns: &[&[u16; ROWS]; INPUTS], rows: &RowList) -> [u16; ROWS] {
        let mut found = [0; ROWS];
        let (columns, strides) = (columns.first_chunk::<BY>(), self.strides.first_chunk::<BY>());
        let (Some(columns), Some(strides)) = (columns, strides) else {
            return found;
        };
        let places = add_up(columns, strides);
        for row in rows.iter() {
            if let (Some(found), Some(place)) = (found.get_mut(row), places.get(row)) {
                *found = self.number_at(*place as usize);
            }
        }
        found
    }

    /// Keeps what was worked out. The numbers have to lie within the extents for which the table was made.
    pub(super) fn keep(&mut self, inputs: &Inputs, numbers: &[u16; SLOTS], value: T) {
        let place = self.place(inputs, numbers);
        // With more than can have a number, what is new is worked out again each time.
        let Ok(next) = u16::try_from(self.came.len()) else {
            return;
        };
        let number = *self.numbers.entry(value).or_insert(next);
        if number == next {
            self.came.push(value);
        }
        if let Some(here) = self.places.get_mut(place) {
            if *here == 0 {
                self.known.extend(u32::try_from(place));
            }
            *here = number;
        }
    }

    /// How many places it has.
    pub(super) fn len(&self) -> usize {
        self.places.len()
    }

    /// Everything in it, with the numbers it was kept for.
    pub(super) fn entries(&self) -> impl Iterator<Item = ([u16; INPUTS], T)> {
        self.known.iter().map(|place| {
            let mut numbers = [0; INPUTS];
            for ((number, stride), end) in numbers.iter_mut().zip(self.strides).zip(self.ends) {
                let steps = place.checked_div(u32::from(stride)).unwrap_or_default();
                *number = u16::try_from(steps % u32::from(end)).unwrap_or_default();
            }
            (numbers, self.came(self.number_at(*place as usize)))
        })
    }
}

/// Adds up, for all rows, the numbers of some columns, each times its stride. Some rows at a time, whether anybody asks for
/// them or not: where numbers are left over from earlier rows, nobody looks what comes of them.
fn add_up<const BY: usize>(columns: &[&[u16; ROWS]; BY], strides: &[u16; BY]) -> [u32; ROWS] {
    let mut sums = [0u32; ROWS];
    let (chunks, _) = sums.as_chunks_mut::<SOME>();
    for (chunk, sums) in chunks.iter_mut().enumerate() {
        let mut sum = [0u32; SOME];
        for (column, stride) in columns.iter().zip(strides) {
            let (numbers, _) = column.as_chunks::<SOME>();
            let numbers = numbers.get(chunk).unwrap_or(&[0; SOME]);
            for (sum, number) in sum.iter_mut().zip(numbers) {
                *sum = sum.wrapping_add(u32::from(*number) * u32::from(*stride));
            }
        }
        *sums = sum;
    }
    sums
}

/// Numbers side by side in the words of a key.
pub(super) fn key_of(numbers: [u16; INPUTS]) -> Key {
    let word = |numbers: &[u16]| {
        let numbers = numbers.iter().rev();
        numbers.fold(0, |word, number| word << u16::BITS | u64::from(*number))
    };
    let (head, tail) = numbers.split_at(INPUTS / 2);
    [word(head), word(tail)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::portfolio::rows::RowSet;

    /// Of many rows and of few, what is found for each is what is found for it alone, whatever stands in the others.
    #[test]
    fn rows_are_found_side_by_side_as_one_by_one() {
        let mut inputs = [Slot::NONE; INPUTS];
        let mut extents = [1; SLOTS];
        for (at, (input, extent)) in (0..).zip(inputs.iter_mut().zip([3, 5, 2])) {
            *input = Slot(at);
            extents[usize::from(at)] = extent;
        }
        let mut table = Direct::new(&inputs, &extents, 30).unwrap();
        let mut columns = vec![[0; ROWS]; SLOTS];
        let mut all = Vec::new();
        for (row, number) in (0..ROWS).zip(0u16..) {
            let mut numbers = [0; SLOTS];
            (numbers[0], numbers[1], numbers[2]) = (number % 3, number % 5, number % 2);
            columns
                .iter_mut()
                .zip(numbers)
                .for_each(|(column, number)| column[row] = number);
            if number % 7 > 0 {
                table.keep(&inputs, &numbers, number % 11);
            }
            all.push(numbers);
        }
        for set in [RowSet::MAX, 0x8000_0000_0100_0013, 0xffff_00ff] {
            let rows = RowList::new(set);
            let mut columns = columns.clone();
            for row in (0..ROWS).filter(|row| set >> row & 1 == 0) {
                for column in &mut columns {
                    column[row] = u16::MAX;
                }
            }
            let found = table.number_each(&inputs, |slot| &columns[slot.place()], &rows);
            for row in rows.iter() {
                let alone = table.find(&inputs, &all[row]);
                assert!(alone.is_some(), "row {row}");
                assert_eq!(Some(table.came(found[row])), alone, "row {row}");
            }
        }
    }

    /// Every combination has a place of its own, is found at it, and is told again by its numbers.
    #[test]
    fn what_is_found_is_what_was_kept() {
        let mut inputs = [Slot::NONE; INPUTS];
        let mut extents = [1; SLOTS];
        for (at, (input, extent)) in (0..).zip(inputs.iter_mut().zip([2, 3, 5, 1, 4])) {
            *input = Slot(at);
            extents[usize::from(at)] = extent;
        }
        assert!(Direct::<u32>::new(&inputs, &extents, 119).is_none(), "too many");
        let mut table = Direct::new(&inputs, &extents, 120).unwrap();
        let mut numbers = [0; SLOTS];
        let mut kept = Vec::new();
        for number in 0..120u16 {
            (numbers[0], numbers[1], numbers[2]) = (number % 2, number / 2 % 3, number / 6 % 5);
            numbers[4] = number / 30;
            if number % 7 > 0 {
                table.keep(&inputs, &numbers, number);
                kept.push((inputs.map(|slot| numbers[slot.place()]), number));
            }
        }
        for (of, number) in &kept {
            inputs
                .iter()
                .zip(of)
                .for_each(|(slot, of)| numbers[slot.place()] = *of);
            assert_eq!(table.find(&inputs, &numbers), Some(*number));
        }
        let mut entries: Vec<_> = table.entries().collect();
        entries.sort_by_key(|(_, number)| *number);
        assert_eq!(entries, kept);
    }
}
