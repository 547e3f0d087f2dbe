//! A table with a place for each way in which a few small numbers can stand together.

use super::graph::{INPUTS, Inputs, SLOTS, Slot};
use super::rows::{ROWS, RowList};
use super::table::Key;

/// For each slot of a row, one more than the largest number that can stand in it.
pub(super) type Extents = [u16; SLOTS];

/// What was worked out for each of many combinations of numbers: nothing is compared to find it.
#[derive(Clone, Debug, Default)]
pub(super) struct Direct<T> {
    /// How far apart two combinations stand that differ by one in a number.
    strides: [u32; INPUTS],
    /// One more than the largest number of each input.
    ends: [u16; INPUTS],
    /// How many inputs there are up to the last.
    count: usize,
    places: Vec<Option<T>>,
}

impl<T: Copy> Direct<T> {
    /// A table for numbers of some extents; none where it would have more places than some.
    pub(super) fn new(inputs: &Inputs, extents: &Extents, most: usize) -> Option<Self> {
        let (mut strides, mut ends) = ([0; INPUTS], [1; INPUTS]);
        let mut count: usize = 1;
        for ((stride, end), slot) in strides.iter_mut().zip(&mut ends).zip(inputs) {
            *end = extents.get(slot.place()).copied().unwrap_or(1);
            *stride = u32::try_from(count).ok()?;
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
            places: vec![None; count],
        })
    }

    /// Where what is kept for the numbers of a row stands.
    #[inline]
    fn place(&self, inputs: &Inputs, numbers: &[u16; SLOTS]) -> usize {
        let mut place = 0;
        for (slot, stride) in inputs.iter().zip(&self.strides).take(self.count) {
            let number = numbers.get(slot.place()).copied().unwrap_or_default();
            place += u32::from(number) * stride;
        }
        place as usize
    }

    #[inline]
    pub(super) fn find(&self, inputs: &Inputs, numbers: &[u16; SLOTS]) -> Option<T> {
        self.places.get(self.place(inputs, numbers)).copied().flatten()
    }

    /// Finds what is kept for the numbers of each of some rows, and hands it over row by row.
    #[inline]
    pub(super) fn find_each<'n>(
        &self,
        inputs: &Inputs,
        numbers: impl Fn(Slot) -> &'n [u16; ROWS],
        rows: &RowList,
        found: impl FnMut(usize, Option<T>),
    ) {
        let columns = inputs.map(numbers);
        match self.count {
            0 | 1 => self.find_by::<1>(&columns, rows, found),
            2 => self.find_by::<2>(&columns, rows, found),
            3 => self.find_by::<3>(&columns, rows, found),
            4 => self.find_by::<4>(&columns, rows, found),
            5 => self.find_by::<5>(&columns, rows, found),
            6 => self.find_by::<6>(&columns, rows, found),
            _ => self.find_by::<INPUTS>(&columns, rows, found),
        }
    }

    /// The same by so many of the numbers.
    #[inline(never)]
    fn find_by<const BY: usize>(
        &self,
        columns: &[&[u16; ROWS]; INPUTS],
        rows: &RowList,
        mut found: impl FnMut(usize, Option<T>),
    ) {
        let (columns, strides) = (columns.first_chunk::<BY>(), self.strides.first_chunk::<BY>());
        let (Some(columns), Some(strides)) = (columns, strides) else {
            return;
        };
        let (columns, strides) = (*columns, *strides);
        for row in rows.iter() {
            let mut place = 0;
            for (column, stride) in columns.iter().zip(strides) {
                let number = column.get(row).copied().unwrap_or_default();
                place += u32::from(number) * stride;
            }
            found(row, self.places.get(place as usize).copied().flatten());
        }
    }

    /// Keeps what was worked out. The numbers have to lie within the extents for which the table was made.
    pub(super) fn keep(&mut self, inputs: &Inputs, numbers: &[u16; SLOTS], value: T) {
        let place = self.place(inputs, numbers);
        if let Some(here) = self.places.get_mut(place) {
            *here = Some(value);
        }
    }

    /// How many places it has.
    pub(super) fn len(&self) -> usize {
        self.places.len()
    }

    /// Everything in it, with the numbers it was kept for.
    pub(super) fn into_entries(self) -> impl Iterator<Item = ([u16; INPUTS], T)> {
        let (strides, ends) = (self.strides, self.ends);
        let entries = (0u32..).zip(self.places);
        entries.filter_map(move |(place, value)| {
            let mut numbers = [0; INPUTS];
            for ((number, stride), end) in numbers.iter_mut().zip(strides).zip(ends) {
                *number = u16::try_from(place / stride % u32::from(end)).unwrap_or_default();
            }
            Some((numbers, value?))
        })
    }
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
        let mut entries: Vec<_> = table.into_entries().collect();
        entries.sort_by_key(|(_, number)| *number);
        assert_eq!(entries, kept);
    }
}
