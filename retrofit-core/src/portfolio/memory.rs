//! The cells of a column that were read before, by their texts.

use indexmap::IndexSet;

use super::cell::{Holds, Value};
use super::rows::{ColumnCells, ROWS, RowSet, Span, each, rows_with};

/// The values of cells by their text, and a number for each: in a portfolio most cells of a column have been
/// read before.
#[derive(Clone, Debug)]
pub(super) struct Memory {
    /// Texts of up to eight bytes, as most are.
    short: Texts<1>,
    /// Texts of up to 24.
    long: Texts<3>,
    /// The values read so far; the number of a value is one more than its place here.
    values: IndexSet<Value, foldhash::fast::FixedState>,
}

/// The number of *yes* and of *no* in every column of answers; of a cell that is blank it is 0.
pub(super) const YES: u16 = 1;
pub(super) const NO: u16 = 2;

impl Memory {
    /// More values than this are not kept.
    pub(super) const MOST_VALUES: usize = 1 << 13;

    pub(super) fn new(holds: &Holds) -> Self {
        let mut values = IndexSet::default();
        if *holds == Holds::YesOrNo {
            values.extend([Value::YesOrNo(true), Value::YesOrNo(false)]);
        }
        Self {
            short: Texts::new(),
            long: Texts::new(),
            values,
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

    /// The number of the value of a cell whose text has stood in a row that made sense.
    pub(super) fn number_of(&self, text: &[u8]) -> Option<u16> {
        let told = self.told(text);
        told.is_sound().then_some(told.number())
    }

    /// The numbers of the cells of a column, one for each row: the rows whose cells are known, and those whose cells are not
    /// blank. Where none is written, no number is put.
    // On its own, so that the processor has all its registers for the cells.
    #[inline(never)]
    pub(super) fn number_each(
        &self,
        text: &[u8],
        column: &ColumnCells,
        numbers: &mut [u16; ROWS],
    ) -> (RowSet, RowSet) {
        let ColumnCells { written, spans } = column;
        if *written == 0 {
            return (RowSet::MAX, 0);
        }
        let mut told = [Told::BLANK.0; ROWS];
        for row in each(*written) {
            if let (Some(told), Some(span)) = (told.get_mut(row), spans.get(row)) {
                *told = self.short.told(text, *span).0;
            }
        }
        // Those that are long, stand beside their place, or have space around them.
        let (mut unknown, mut written): (RowSet, RowSet) = (0, *written);
        for row in each(written & !Told::rows_that_are_sound(&told)) {
            let (Some(here), Some(span)) = (told.get_mut(row), spans.get(row)) else {
                continue;
            };
            let beside = Words::ahead(text, *span).and_then(|key| self.short.find_near(key));
            let told = beside.unwrap_or_else(|| self.told(text.get(span.range()).unwrap_or_default()));
            *here = told.0;
            unknown |= RowSet::from(!told.is_sound()) << row;
            // Where there is only space in it.
            written &= !(RowSet::from(told.number() == 0) << row);
        }
        for (number, told) in numbers.iter_mut().zip(told) {
            *number = Told(told).number();
        }
        (!unknown, written)
    }

    /// What is known of a cell. There may be space around it; other space than this is rare, and such a row is read.
    fn told(&self, text: &[u8]) -> Told {
        if let Some(told) = self.find(text) {
            return told;
        }
        let trimmed = text.trim_ascii();
        if trimmed.is_empty() {
            return Told::BLANK;
        }
        let known = (trimmed.len() < text.len()).then(|| self.find(trimmed)).flatten();
        known.unwrap_or_default()
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
        let known = self
            .find(text.as_bytes())
            .and_then(|found| self.value(found.number()));
        if let Some(value) = known {
            return Ok(value);
        }
        let value = read()?;
        if self.values.len() >= 2 * Self::MOST_VALUES {
            self.forget(); // nobody goes by the numbers, or this would have been done before
        }
        let (place, _) = self.values.insert_full(value);
        if let Ok(number) = u16::try_from(place + 1) {
            let told = Told(number);
            match key_of(text.as_bytes()) {
                Some(Key::Short(key)) => self.short.keep(key, told),
                Some(Key::Long(key)) => self.long.keep(key, told),
                None => {}
            }
        }
        Ok(value)
    }

    /// Notes that a text stood in a row that made sense; the number of its value.
    pub(super) fn vouch<E>(&mut self, text: &str, read: impl FnOnce() -> Result<Value, E>) -> Result<u16, E> {
        let value = self.recall(text, read)?;
        match key_of(text.as_bytes()) {
            Some(Key::Short(key)) => self.short.vouch(key),
            Some(Key::Long(key)) => self.long.vouch(key),
            None => {}
        }
        let (place, _) = self.values.insert_full(value);
        // Everything is forgotten long before there are so many.
        Ok(u16::try_from(place + 1).unwrap_or(u16::MAX))
    }

    #[inline]
    fn find(&self, text: &[u8]) -> Option<Told> {
        match key_of(text)? {
            Key::Short(key) => self.short.find(key),
            Key::Long(key) => self.long.find(key),
        }
    }
}

/// What is known of texts of so many words.
#[derive(Clone, Debug)]
struct Texts<const WORDS: usize> {
    places: Vec<Text<WORDS>>,
    shift: u32,
    /// How many texts there are.
    kept: usize,
    turn: usize,
}

/// A text that was read: its words, its length in bytes, and what is known of it, side by side in as little room as can be.
#[derive(Clone, Copy, Debug)]
struct Text<const WORDS: usize> {
    words: [u64; WORDS],
    length: u32,
    told: Told,
}

impl<const WORDS: usize> Text<WORDS> {
    #[inline]
    fn is(&self, key: Words<WORDS>) -> bool {
        let Self { words, length, .. } = *self;
        Words { words, length } == key
    }

    fn key(&self) -> Words<WORDS> {
        let Self { words, length, .. } = *self;
        Words { words, length }
    }
}

/// What is known of a text: the number of its value, and in the top bit whether it stood in a row that made sense.
#[derive(Clone, Copy, Debug, Default)]
struct Told(u16);

impl Told {
    const SOUND: u16 = 1 << 15;
    /// What is known of a blank cell.
    const BLANK: Self = Self(Self::SOUND);

    /// The number of its value; 0 where there is no text, or nothing is known of it.
    #[inline]
    fn number(self) -> u16 {
        self.0 & !Self::SOUND
    }

    #[inline]
    fn is_sound(self) -> bool {
        self.0 & Self::SOUND > 0
    }

    /// The rows of which what is told is sound.
    #[inline]
    fn rows_that_are_sound(told: &[u16; ROWS]) -> RowSet {
        rows_with(&told.map(|told| told & Self::SOUND), Self::SOUND)
    }
}

/// A text as words and its length in bytes.
#[derive(Clone, Copy, Debug)]
struct Words<const WORDS: usize> {
    words: [u64; WORDS],
    length: u32,
}

impl<const WORDS: usize> PartialEq for Words<WORDS> {
    /// Word by word, without a call.
    #[inline]
    fn eq(&self, other: &Self) -> bool {
        let words = self.words.iter().zip(&other.words);
        let differ = words.fold(0, |differ, (one, other)| differ | (one ^ other));
        differ == 0 && self.length == other.length
    }
}

impl<const WORDS: usize> Texts<WORDS> {
    const FIRST_BITS: u32 = 4;
    const MOST_BITS: u32 = 13;
    /// How many places a text may stand in, one beside the other.
    const NEAR: usize = 4;
    const NO_TEXT: Text<WORDS> = Text {
        words: [0; WORDS],
        length: 0,
        told: Told(0),
    };

    /// At the first place stands the text of a blank cell, and nothing else ever does.
    const BLANK: Text<WORDS> = Text {
        told: Told::BLANK,
        ..Self::NO_TEXT
    };

    fn new() -> Self {
        Self {
            places: Self::places(1 << Self::FIRST_BITS),
            shift: u64::BITS - Self::FIRST_BITS,
            kept: 0,
            turn: 0,
        }
    }

    fn places(count: usize) -> Vec<Text<WORDS>> {
        let mut places = vec![Self::NO_TEXT; count];
        if let Some(first) = places.first_mut() {
            *first = Self::BLANK;
        }
        places
    }

    #[inline]
    fn place(&self, key: Words<WORDS>) -> usize {
        let length = u64::from(key.length);
        let mixed = key
            .words
            .iter()
            .fold(length, |mixed, word| mixed.rotate_left(23) ^ word);
        // Multiplying by an odd number spreads all bits into the top ones.
        let mixed = (mixed ^ (mixed >> 32)).wrapping_mul(0x9e37_79b9_7f4a_7c15);
        usize::try_from(mixed >> self.shift).unwrap_or_default()
    }

    /// The places in which a text may stand.
    fn near(&self, key: Words<WORDS>) -> impl Iterator<Item = usize> + use<WORDS> {
        let (place, last) = (self.place(key), self.places.len() - 1);
        (0..Self::NEAR).map(move |step| (place + step) & last)
    }

    fn place_of(&self, key: Words<WORDS>) -> Option<usize> {
        self.near(key)
            .find(|place| self.places.get(*place).is_some_and(|text| text.is(key)))
    }

    #[inline]
    fn find(&self, key: Words<WORDS>) -> Option<Told> {
        match self.places.get(self.place(key)) {
            Some(text) if text.is(key) => Some(text.told),
            _ => self.find_near(key),
        }
    }

    fn find_near(&self, key: Words<WORDS>) -> Option<Told> {
        let place = self.place_of(key)?;
        self.places.get(place).map(|text| text.told)
    }

    fn vouch(&mut self, key: Words<WORDS>) {
        let place = self.place_of(key);
        if let Some(text) = place.and_then(|place| self.places.get_mut(place)) {
            text.told.0 |= Told::SOUND;
        }
    }

    fn keep(&mut self, key: Words<WORDS>, told: Told) {
        // Texts beside their places take longer to find: most should have one to themselves.
        if self.kept >= self.places.len() / 8 && self.places.len() < 1 << Self::MOST_BITS {
            let twice = Self::places(self.places.len() * 2);
            let before = std::mem::replace(&mut self.places, twice);
            self.shift -= 1;
            self.kept = 0;
            before
                .into_iter()
                .filter(|text| text.told.number() > 0)
                .for_each(|text| self.keep(text.key(), text.told));
        }
        let is_free = |place: &usize| {
            let here = self.places.get(*place);
            *place > 0 && here.is_some_and(|here| here.told.number() == 0)
        };
        let free = self.near(key).find(is_free);
        self.kept += usize::from(free.is_some());
        self.turn = self.turn.wrapping_add(1);
        let taken = self
            .near(key)
            .nth(self.turn % Self::NEAR)
            .map(|place| place.max(1));
        let Words { words, length } = key;
        if let Some(slot) = free.or(taken).and_then(|place| self.places.get_mut(place)) {
            *slot = Text { words, length, told };
        }
    }
}

impl Texts<1> {
    /// What is known of a cell at its own place; nothing of one that has no key here.
    #[inline]
    fn told(&self, text: &[u8], cell: Span) -> Told {
        let Some(key) = Words::ahead(text, cell) else {
            return Told::default();
        };
        match self.places.get(self.place(key)) {
            Some(text) if text.is(key) => text.told,
            _ => Told::default(),
        }
    }
}

impl Words<1> {
    /// The key of a cell, from the word that begins with it; none where it is longer than that, or stands at the very end
    /// of its text.
    #[inline]
    fn ahead(text: &[u8], cell: Span) -> Option<Self> {
        let (from, length) = (cell.from as usize, cell.to.wrapping_sub(cell.from));
        let bytes = text.get(from..from + BYTES)?.first_chunk()?;
        let mask = SHORT_TEXTS.get(length as usize)?;
        let words = [u64::from_le_bytes(*bytes) & mask];
        Some(Self { words, length })
    }
}

/// What a text is told by.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Key {
    /// Up to eight bytes.
    Short(Words<1>),
    /// Up to 24.
    Long(Words<3>),
}

/// How many bytes a short text has at most.
const BYTES: usize = 8;

/// By the length of a short text, the bytes of a word that are its own.
static SHORT_TEXTS: [u64; BYTES + 1] = [
    0,
    0xff,
    0xffff,
    0xff_ffff,
    0xffff_ffff,
    0xff_ffff_ffff,
    0xffff_ffff_ffff,
    0xff_ffff_ffff_ffff,
    u64::MAX,
];

/// The key of a text: its bytes in words, the last of which overlaps the one before where the text is longer than a word
/// and does not fill it. None of a text that is blank or too long.
#[inline]
fn key_of(bytes: &[u8]) -> Option<Key> {
    let length = u32::try_from(bytes.len()).ok()?;
    if let (Some(head), Some(tail), 9..=24) = (bytes.first_chunk(), bytes.last_chunk(), length) {
        let middle = bytes.get(8..).and_then(|rest| rest.first_chunk());
        let middle = middle.map_or(0, |middle| u64::from_le_bytes(*middle));
        let words = [u64::from_le_bytes(*head), middle, u64::from_le_bytes(*tail)];
        return Some(Key::Long(Words { words, length }));
    }
    let mut word = [0; BYTES];
    word.get_mut(..bytes.len())?.copy_from_slice(bytes);
    let words = [u64::from_le_bytes(word)];
    (length > 0).then_some(Key::Short(Words { words, length }))
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
        assert!(memory.short.places.len() <= 1 << Texts::<1>::MOST_BITS);
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
