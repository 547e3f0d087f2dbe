//! A bounded table from a short key to what was worked out for it.

/// Eight numbers in two words: all that something remembered hangs on.
pub(super) type Key = [u64; 2];

/// What was worked out for each of many keys of so many words. It grows as keys come, up to a most; from there on a new key
/// takes the place of an old one. A key is always compared whole: what is found is never that of another.
#[derive(Clone, Debug)]
pub(super) struct Table<T, const WORDS: usize = 2> {
    places: Vec<([u64; WORDS], T)>,
    /// The place of a key is the top bits of its hash.
    shift: u32,
    most: usize,
    /// Which of its places a key takes when all are taken.
    turn: usize,
}

/// A key that is looked for, and what stands at its own place.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sought<T, const WORDS: usize = 2> {
    key: [u64; WORDS],
    home: ([u64; WORDS], T),
}

impl<T: Copy + Default, const WORDS: usize> Sought<T, WORDS> {
    /// What is not looked for.
    pub(super) fn nothing() -> Self {
        Self {
            key: [0; WORDS],
            home: ([0; WORDS], T::default()),
        }
    }

    pub(super) const fn key(&self) -> [u64; WORDS] {
        self.key
    }
}

impl<T: Copy + Default, const WORDS: usize> Table<T, WORDS> {
    /// The key of a place that holds nothing; no number in a key is ever so large.
    const NOTHING: [u64; WORDS] = [u64::MAX; WORDS];
    /// How many places a key may stand in, one beside the other.
    const NEAR: usize = 8;
    const FIRST_BITS: u32 = 5;

    /// A table of at most two to the power of `most_bits` keys.
    pub(super) fn new(most_bits: u32) -> Self {
        Self {
            places: vec![(Self::NOTHING, T::default()); 1 << Self::FIRST_BITS],
            shift: u64::BITS - Self::FIRST_BITS,
            most: 1 << most_bits,
            turn: 0,
        }
    }

    fn place(&self, key: [u64; WORDS]) -> usize {
        let mixed = key.iter().fold(0u64, |mixed, word| {
            (mixed.rotate_left(29) ^ word).wrapping_mul(0xd6e8_feb8_6659_fd93)
        });
        let mixed = (mixed ^ (mixed >> 32)).wrapping_mul(0x9e37_79b9_7f4a_7c15);
        usize::try_from(mixed >> self.shift).unwrap_or_default()
    }

    /// The places in which a key may stand.
    fn near(&self, place: usize) -> impl Iterator<Item = usize> + use<T, WORDS> {
        let last = self.places.len() - 1;
        (0..Self::NEAR).map(move |step| (place + step) & last)
    }

    pub(super) fn find(&self, key: [u64; WORDS]) -> Option<T> {
        self.find_sought(&self.seek(key))
    }

    /// Begins to look for a key. Where many are looked for, all are to be begun with before the first is gone on with: what
    /// stands at their places comes from far away, and all of it at once where nothing is decided by it yet.
    #[inline]
    pub(super) fn seek(&self, key: [u64; WORDS]) -> Sought<T, WORDS> {
        let home = self.places.get(self.place(key)).copied();
        Sought {
            key,
            home: home.unwrap_or((Self::NOTHING, T::default())),
        }
    }

    /// What was kept for a key that is being looked for in this table.
    #[inline]
    pub(super) fn find_sought(&self, sought: &Sought<T, WORDS>) -> Option<T> {
        let (here, found) = sought.home;
        if here == sought.key {
            Some(found)
        } else {
            self.find_near(sought.key)
        }
    }

    fn find_near(&self, key: [u64; WORDS]) -> Option<T> {
        self.near(self.place(key))
            .skip(1)
            .filter_map(|near| self.places.get(near))
            .find(|(here, _)| *here == key)
            .map(|(_, found)| *found)
    }

    /// How many places there are.
    pub(super) fn len(&self) -> usize {
        self.places.len()
    }

    /// Keeps what was worked out for a key that is not there yet. Where there is no room left for it, the table
    /// grows if it may.
    pub(super) fn keep(&mut self, key: [u64; WORDS], value: T, may_grow: bool) {
        loop {
            let place = self.place(key);
            let free = self.near(place).find(|near| {
                self.places
                    .get(*near)
                    .is_some_and(|(here, _)| *here == Self::NOTHING)
            });
            if free.is_none() && may_grow && self.places.len() < self.most {
                self.grow();
                continue;
            }
            self.turn = self.turn.wrapping_add(1);
            let taken = (place + self.turn % Self::NEAR) & (self.places.len() - 1);
            if let Some(slot) = self.places.get_mut(free.unwrap_or(taken)) {
                *slot = (key, value);
            }
            return;
        }
    }

    fn grow(&mut self) {
        let twice = vec![(Self::NOTHING, T::default()); self.places.len() * 2];
        let before = std::mem::replace(&mut self.places, twice);
        self.shift -= 1;
        for (key, value) in before.into_iter().filter(|(key, _)| *key != Self::NOTHING) {
            self.keep(key, value, true);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::HashMap;

    /// Against a map of the standard library: a table may forget a key, and never tells a wrong value.
    #[test]
    fn what_is_found_is_what_was_kept() {
        let mut table = Table::new(8);
        let mut map = HashMap::new();
        let mut random = 1u64;
        let mut found = 0;
        for _ in 0..20_000 {
            random = random
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            let key = [random >> 55, (random >> 40) & 3];
            if let Some(value) = table.find(key) {
                assert_eq!(map.get(&key), Some(&value));
                found += 1;
            } else {
                table.keep(key, random, true);
                map.insert(key, random);
            }
        }
        assert!(table.places.len() <= 256);
        assert!(found > 1000, "{found}");
    }

    #[test]
    fn as_long_as_there_is_room_nothing_is_forgotten() {
        let mut table = Table::new(12);
        for number in 0..1000 {
            table.keep([number, number << 48], number, true);
        }
        assert!((0..1000).all(|number| table.find([number, number << 48]) == Some(number)));
    }
}
