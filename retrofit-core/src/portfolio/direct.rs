//! A table with a place for each way in which a few small numbers can stand together.

use super::graph::{INPUTS, Inputs, SLOTS, Slot};
use super::table::Key;

/// For each slot of a row, one more than the largest number that can stand in it.
pub(super) type Extents = [u16; SLOTS];

/// What was worked out for each of many combinations of numbers: nothing is compared to find it.
#[derive(Clone, Debug)]
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
    /// A table has no more places than this.
    const MOST: usize = 1 << 17;

    /// A table for numbers of some extents; none where it would have too many places.
    pub(super) fn new(inputs: &Inputs, extents: &Extents) -> Option<Self> {
        let (mut strides, mut ends) = ([0; INPUTS], [1; INPUTS]);
        let mut count: usize = 1;
        for ((stride, end), slot) in strides.iter_mut().zip(&mut ends).zip(inputs) {
            *end = extents.get(slot.place()).copied().unwrap_or(1);
            *stride = u32::try_from(count).ok()?;
            count = count
                .checked_mul(usize::from(*end))
                .filter(|count| *count <= Self::MOST)?;
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

    /// Keeps what was worked out. The numbers have to lie within the extents for which the table was made.
    pub(super) fn keep(&mut self, inputs: &Inputs, numbers: &[u16; SLOTS], value: T) {
        let place = self.place(inputs, numbers);
        if let Some(here) = self.places.get_mut(place) {
            *here = Some(value);
        }
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
