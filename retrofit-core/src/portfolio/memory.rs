//! The cells of a column that were read before, by their texts.

use indexmap::IndexSet;

use super::cell::{Holds, Value};

/// The values of cells by their text, and a number for each: in a portfolio most cells of a column have been
/// read before.
#[derive(Clone, Debug)]
pub(super) struct Memory {
    texts: Vec<Text>,
    shift: u32,
    /// The values read so far; the number of a value is one more than its place here.
    values: IndexSet<Value, foldhash::fast::FixedState>,
    turn: usize,
}

/// A text that was read.
#[derive(Clone, Copy, Debug, Default)]
struct Text {
    key: Key,
    number: u16,
    /// Whether it stood in a row that made sense.
    is_sound: bool,
}

/// A text of one to 24 bytes; of none, where there is no text.
#[derive(Clone, Copy, Debug, Default)]
struct Key {
    words: [u64; 3],
    length: u8,
}

impl PartialEq for Key {
    /// Word by word, without a call.
    #[inline]
    fn eq(&self, other: &Self) -> bool {
        let words = self.words.iter().zip(&other.words);
        let differ = words.fold(0, |differ, (one, other)| differ | (one ^ other));
        differ == 0 && self.length == other.length
    }
}

/// The number of *yes* and of *no* in every column of answers; of a cell that is blank it is 0.
pub(super) const YES: u16 = 1;
pub(super) const NO: u16 = 2;

impl Memory {
    const FIRST_BITS: u32 = 4;
    const MOST_BITS: u32 = 11;
    /// How many places a text may stand in, one beside the other.
    const NEAR: usize = 4;
    /// More values than this are not kept.
    pub(super) const MOST_VALUES: usize = 1 << 13;

    pub(super) fn new(holds: &Holds) -> Self {
        let mut values = IndexSet::default();
        if *holds == Holds::YesOrNo {
            values.extend([Value::YesOrNo(true), Value::YesOrNo(false)]);
        }
        Self {
            texts: vec![Text::default(); 1 << Self::FIRST_BITS],
            shift: u64::BITS - Self::FIRST_BITS,
            values,
            turn: 0,
        }
    }

    /// Whether there are so many values that it is time to begin anew.
    pub(super) fn is_full(&self) -> bool {
        self.values.len() >= Self::MOST_VALUES
    }

    /// Begins anew; but the answers keep their numbers.
    pub(super) fn forget(&mut self) {
        let answers = self
            .values
            .get_index(0)
            .is_some_and(|value| matches!(value, Value::YesOrNo(_)));
        *self = Self::new(if answers { &Holds::YesOrNo } else { &Holds::Text });
    }

    /// The number of the value of a text that has stood in a row that made sense.
    #[inline]
    pub(super) fn number_of(&self, text: &[u8]) -> Option<u16> {
        let key = key_of(text)?;
        let found = self.find(key)?;
        found.is_sound.then_some(found.number)
    }

    /// The value of a number; none of 0, which is that of a blank cell.
    #[inline]
    pub(super) fn value(&self, number: u16) -> Option<Value> {
        self.values
            .get_index(usize::from(number).checked_sub(1)?)
            .copied()
    }

    /// The value of a text, read where it was not read before.
    pub(super) fn recall<E>(
        &mut self,
        text: &str,
        read: impl FnOnce() -> Result<Value, E>,
    ) -> Result<Value, E> {
        let key = key_of(text.as_bytes());
        let known = key
            .and_then(|key| self.find(key))
            .and_then(|found| self.value(found.number));
        if let Some(value) = known {
            return Ok(value);
        }
        let value = read()?;
        if self.values.len() >= 2 * Self::MOST_VALUES {
            self.forget(); // nobody goes by the numbers, or this would have been done before
        }
        let (place, _) = self.values.insert_full(value);
        if let (Some(key), Ok(number)) = (key, u16::try_from(place + 1)) {
            self.keep(Text {
                key,
                number,
                is_sound: false,
            });
        }
        Ok(value)
    }

    /// Notes that a text stood in a row that made sense; the number of its value.
    pub(super) fn vouch<E>(&mut self, text: &str, read: impl FnOnce() -> Result<Value, E>) -> Result<u16, E> {
        let value = self.recall(text, read)?;
        if let Some(place) = key_of(text.as_bytes()).and_then(|key| self.place_of(key))
            && let Some(text) = self.texts.get_mut(place)
        {
            text.is_sound = true;
        }
        let (place, _) = self.values.insert_full(value);
        // Everything is forgotten long before there are so many.
        Ok(u16::try_from(place + 1).unwrap_or(u16::MAX))
    }

    #[inline]
    fn place(&self, key: Key) -> usize {
        let [head, middle, tail] = key.words;
        // Multiplying by an odd number spreads all bits into the top ones.
        let mixed = head ^ middle.rotate_left(23) ^ tail.rotate_left(41) ^ u64::from(key.length);
        let mixed = (mixed ^ (mixed >> 32)).wrapping_mul(0x9e37_79b9_7f4a_7c15);
        usize::try_from(mixed >> self.shift).unwrap_or_default()
    }

    /// The places in which a text may stand.
    fn near(&self, key: Key) -> impl Iterator<Item = usize> + use<> {
        let (place, last) = (self.place(key), self.texts.len() - 1);
        (0..Self::NEAR).map(move |step| (place + step) & last)
    }

    fn place_of(&self, key: Key) -> Option<usize> {
        self.near(key)
            .find(|place| self.texts.get(*place).is_some_and(|text| text.key == key))
    }

    #[inline]
    fn find(&self, key: Key) -> Option<Text> {
        match self.texts.get(self.place(key)) {
            Some(text) if text.key == key => Some(*text),
            _ => self
                .place_of(key)
                .and_then(|place| self.texts.get(place))
                .copied(),
        }
    }

    fn keep(&mut self, text: Text) {
        loop {
            let free = self
                .near(text.key)
                .find(|place| self.texts.get(*place).is_some_and(|here| here.number == 0));
            if free.is_none() && self.texts.len() < 1 << Self::MOST_BITS {
                let twice = vec![Text::default(); self.texts.len() * 2];
                let before = std::mem::replace(&mut self.texts, twice);
                self.shift -= 1;
                before
                    .into_iter()
                    .filter(|text| text.number > 0)
                    .for_each(|text| self.keep(text));
                continue;
            }
            self.turn = self.turn.wrapping_add(1);
            let taken = self.near(text.key).nth(self.turn % Self::NEAR);
            if let Some(slot) = free.or(taken).and_then(|place| self.texts.get_mut(place)) {
                *slot = text;
            }
            return;
        }
    }
}

/// The key of a text, from loads that overlap where it is not as long as they are together: so a short text
/// takes no loop and no copy.
#[inline]
fn key_of(bytes: &[u8]) -> Option<Key> {
    let length = u8::try_from(bytes.len())
        .ok()
        .filter(|length| (1..=24).contains(length))?;
    let words = if let (Some(head), Some(tail)) = (bytes.first_chunk::<8>(), bytes.last_chunk::<8>()) {
        let middle = bytes.get(8..).and_then(|rest| rest.first_chunk());
        [
            u64::from_le_bytes(*head),
            middle.map_or(0, |middle| u64::from_le_bytes(*middle)),
            u64::from_le_bytes(*tail),
        ]
    } else if let (Some(head), Some(tail)) = (bytes.first_chunk::<4>(), bytes.last_chunk::<4>()) {
        [
            u32::from_le_bytes(*head).into(),
            0,
            u32::from_le_bytes(*tail).into(),
        ]
    } else {
        let few = bytes.iter().fold(0, |few, byte| few << 8 | u64::from(*byte));
        [few, 0, 0]
    };
    Some(Key { words, length })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Texts are told apart by their keys: all of one or two letters, and none that is longer than a key.
    #[test]
    fn texts_that_differ_have_keys_that_differ() {
        let texts = (0..=26usize).flat_map(|length| {
            let spoiled = (0..length).map(move |at| {
                let mut text = "a".repeat(length);
                text.replace_range(at..=at, "b");
                text
            });
            std::iter::once("a".repeat(length)).chain(spoiled)
        });
        let mut keys: Vec<Key> = Vec::new();
        for text in texts {
            let key = key_of(text.as_bytes());
            assert_eq!(key.is_some(), (1..=24).contains(&text.len()), "{text}");
            if let Some(key) = key {
                assert!(!keys.contains(&key), "{text}");
                keys.push(key);
            }
        }
    }

    /// More texts than there are places: each is told its own value all the same.
    #[test]
    fn a_text_is_told_its_own_value() {
        let mut memory = Memory::new(&Holds::Count);
        for round in 0..3 {
            for number in 0..u16::MAX {
                let text = number.to_string();
                let value = memory.recall(&text, || Ok::<_, ()>(Value::Count(number)));
                assert_eq!(value, Ok(Value::Count(number)), "round {round}");
            }
        }
        assert!(memory.is_full());
        assert!(memory.values.len() <= 2 * Memory::MOST_VALUES);
        assert!(memory.texts.len() <= 1 << Memory::MOST_BITS);
    }

    #[test]
    fn only_what_stood_in_a_row_that_made_sense_has_a_number() {
        let mut memory = Memory::new(&Holds::YesOrNo);
        let no = || Ok::<_, ()>(Value::YesOrNo(false));
        memory.recall("no", no).unwrap();
        assert_eq!(memory.number_of(b"no"), None);
        assert_eq!(memory.vouch("no", no), Ok(NO));
        assert_eq!(memory.number_of(b"no"), Some(NO));
        assert_eq!(memory.vouch("yes", || Ok::<_, ()>(Value::YesOrNo(true))), Ok(YES));
    }
}
