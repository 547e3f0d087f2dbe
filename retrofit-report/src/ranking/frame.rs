//! A house on its way through the sort: its score and its id, which put it in order, and what else the list will say.

use std::cmp::Ordering;
use std::io::{self, Read};

use retrofit_core::ranking::{Evidence, Score};

/// The bytes of one house: what puts it in order first, in fixed places.
///
/// ```text
/// length u32 | benefit f64 | cost f64 | paid f64 | line u64 | length of the id u32 | id | evidence and cells
/// ```
///
/// A *bare* frame ends with the id, or with one byte more; see [`write_bare`].
#[derive(Clone, Copy, Debug)]
pub(super) struct Frame<'f>(&'f [u8]);

const BENEFIT: usize = 4;
const COST: usize = 12;
const PAID: usize = 20;
const LINE: usize = 28;
const ID_LENGTH: usize = 36;
const ID: usize = 40;

/// Writes a frame at the end of a buffer.
pub(super) fn write(
    out: &mut Vec<u8>,
    score: Score,
    line: u64,
    id: &str,
    evidence: &Evidence,
    cells: &[&str],
) -> Result<(), postcard::Error> {
    let begin = write_head(out, score, line, id);
    postcard::to_io(&(evidence, cells), &mut *out)?;
    write_length(out, begin);
    Ok(())
}

/// Writes what puts a house in order, and whether it differs from another, at the end of a buffer.
pub(super) fn write_bare(out: &mut Vec<u8>, of: Frame<'_>, differs: bool) {
    let begin = write_head(out, of.score(), of.line(), of.id());
    out.push(u8::from(differs));
    write_length(out, begin);
}

/// Writes all up to the id; where the frame begins.
fn write_head(out: &mut Vec<u8>, score: Score, line: u64, id: &str) -> usize {
    let begin = out.len();
    out.extend_from_slice(&[0; 4]);
    out.extend_from_slice(&score.benefit.to_le_bytes());
    out.extend_from_slice(&score.cost.to_le_bytes());
    out.extend_from_slice(&score.paid.to_le_bytes());
    out.extend_from_slice(&line.to_le_bytes());
    // A line is no longer than a mebibyte.
    out.extend_from_slice(&u32::try_from(id.len()).unwrap_or_default().to_le_bytes());
    out.extend_from_slice(id.as_bytes());
    begin
}

fn write_length(out: &mut [u8], begin: usize) {
    let length = u32::try_from(out.len() - begin).unwrap_or_default();
    if let Some(place) = out.get_mut(begin..begin + 4) {
        place.copy_from_slice(&length.to_le_bytes());
    }
}

/// No frame is longer: a line of the input is no longer than a mebibyte, and its cells are in it once.
const LONGEST: usize = 4 << 20;

impl<'f> Frame<'f> {
    /// The frame at the beginning of the bytes, and what follows it.
    pub(super) fn first(bytes: &'f [u8]) -> Option<(Self, &'f [u8])> {
        let length = u32::from_le_bytes(*bytes.first_chunk()?) as usize;
        let (frame, rest) = bytes.split_at_checked(length.max(ID))?;
        Some((Self(frame), rest))
    }

    /// The frames that stand one after another.
    pub(super) fn all(mut bytes: &'f [u8]) -> impl Iterator<Item = Self> {
        std::iter::from_fn(move || {
            let (frame, rest) = Self::first(bytes)?;
            bytes = rest;
            Some(frame)
        })
    }

    /// Reads the next frame into a buffer; false at the end of what is read.
    pub(super) fn read(from: &mut impl Read, frame: &mut Vec<u8>) -> io::Result<bool> {
        let mut length = [0; 4];
        match from.read_exact(&mut length) {
            Err(error) if error.kind() == io::ErrorKind::UnexpectedEof => return Ok(false),
            read => read?,
        }
        let size = u32::from_le_bytes(length) as usize;
        if !(ID..=LONGEST).contains(&size) {
            return Err(io::ErrorKind::InvalidData.into());
        }
        frame.clear();
        frame.extend_from_slice(&length);
        frame.resize(size, 0);
        from.read_exact(frame.get_mut(4..).unwrap_or_default())?;
        Ok(true)
    }

    /// Its bytes.
    pub(super) const fn bytes(self) -> &'f [u8] {
        self.0
    }

    fn eight(self, at: usize) -> [u8; 8] {
        let bytes = self.0.get(at..).and_then(|bytes| bytes.first_chunk());
        bytes.copied().unwrap_or_default()
    }

    /// Its score.
    pub(super) fn score(self) -> Score {
        Score {
            benefit: f64::from_le_bytes(self.eight(BENEFIT)),
            cost: f64::from_le_bytes(self.eight(COST)),
            paid: f64::from_le_bytes(self.eight(PAID)),
        }
    }

    /// The line it stands on in the input.
    pub(super) fn line(self) -> u64 {
        u64::from_le_bytes(self.eight(LINE))
    }

    fn id_length(self) -> usize {
        let bytes = self.0.get(ID_LENGTH..).and_then(|bytes| bytes.first_chunk());
        bytes.map_or(0, |bytes| u32::from_le_bytes(*bytes) as usize)
    }

    /// Its id.
    pub(super) fn id(self) -> &'f str {
        let id = self.0.get(ID..ID + self.id_length()).unwrap_or_default();
        std::str::from_utf8(id).unwrap_or_default()
    }

    /// Its evidence and the cells that are handed on.
    pub(super) fn body(self) -> Option<(Evidence, Vec<&'f str>)> {
        postcard::from_bytes(self.0.get(ID + self.id_length()..)?).ok()
    }

    /// Of a bare frame, whether it differs.
    pub(super) fn differs(self) -> bool {
        self.0.get(ID + self.id_length()) == Some(&1)
    }
}

/// The better house first; of equals the one whose id comes first, then the one that was read first.
pub(super) fn by_place(one: Frame<'_>, other: Frame<'_>) -> Ordering {
    let (score, others) = (one.score().per_dollar(), other.score().per_dollar());
    others
        .total_cmp(&score)
        .then_with(|| one.id().cmp(other.id()))
        .then_with(|| one.line().cmp(&other.line()))
}

/// By id, and under one id by place.
pub(super) fn by_id(one: Frame<'_>, other: Frame<'_>) -> Ordering {
    one.id().cmp(other.id()).then_with(|| by_place(one, other))
}
