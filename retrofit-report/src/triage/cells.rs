//! One line of comma-separated values, taken apart into its cells.
//!
//! A row is one line: a line break inside a quoted cell is refused. So a stray quote spoils its own row and
//! not the rest of the file, and the line that an error names is the line an editor shows. Unlike lenient
//! readers this one repairs nothing: text after a closing quote and a quote that is never closed are faults.

use retrofit_core::portfolio::Span;
use wide::u8x16;

/// The cells of one line, or of some lines of the same text; read into again for the next.
#[derive(Debug)]
pub(crate) struct Cells {
    delimiter: u8,
    spans: Vec<Span>,
    /// Cells whose doubled quotes had to be made single ones.
    rewritten: String,
    /// The place at which the first of them is said to stand.
    rewritten_from: u32,
}

impl Default for Cells {
    fn default() -> Self {
        Self::delimited_by(b',')
    }
}

/// Where cells are said to stand that were rewritten; lines are far shorter.
const REWRITTEN: u32 = 1 << 31;

/// What is wrong with a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct QuoteFault {
    /// The cell, counted from 0.
    pub(crate) cell: usize,
    pub(crate) problem: &'static str,
}

impl Cells {
    /// For lines with this mark between their cells.
    pub(crate) fn delimited_by(delimiter: u8) -> Self {
        Self {
            delimiter,
            spans: Vec::new(),
            rewritten: String::new(),
            rewritten_from: REWRITTEN,
        }
    }

    /// Takes a line apart.
    pub(crate) fn split(&mut self, line: &str) -> Result<(), QuoteFault> {
        self.begin_line();
        self.split_at(line, 0)
    }

    /// Begins anew, for one line.
    pub(crate) fn begin_line(&mut self) {
        self.begin(REWRITTEN as usize);
    }

    /// Begins anew, for lines of one text. Cells that have to be rewritten are told as if they stood in that text from
    /// a place on.
    pub(crate) fn begin(&mut self, rewritten_from: usize) {
        self.spans.clear();
        self.rewritten.clear();
        self.rewritten_from = u32::try_from(rewritten_from).unwrap_or(REWRITTEN);
    }

    /// Takes one more line apart: what stands in a text from a place up to its end. Where there is a fault in it, none of
    /// its cells is kept.
    pub(crate) fn split_at(&mut self, text: &str, from: usize) -> Result<(), QuoteFault> {
        let first = self.spans.len();
        let split = self.split_from(first, text, place(from));
        if split.is_err() {
            self.spans.truncate(first);
        }
        split
    }

    /// Many bytes are looked at at a time: cells are so short that setting out anew from each of them costs more than the
    /// search for its end.
    fn split_from(&mut self, first: usize, text: &str, from: u32) -> Result<(), QuoteFault> {
        let mut next = Next {
            at: from,
            from,
            begins: 1,
        };
        let (parts, rest) = text
            .as_bytes()
            .get(from as usize..)
            .unwrap_or_default()
            .as_chunks();
        for part in parts {
            self.split_part(first, text, part, &mut next)?;
        }
        let mut tail = [0; PART];
        if let Some(tail) = tail.get_mut(..rest.len()) {
            tail.copy_from_slice(rest);
        }
        self.split_part(first, text, &tail, &mut next)?;
        // The last cell ends with the line; after a quoted one nothing is left.
        let (from, to) = (next.from, place(text.len()));
        if from <= to {
            self.spans.push(Span { from, to });
        }
        Ok(())
    }

    /// Takes the cells that end in a part of a line, and those in quotes that begin in it.
    #[inline]
    fn split_part(
        &mut self,
        first: usize,
        text: &str,
        part: &[u8; PART],
        next: &mut Next,
    ) -> Result<(), QuoteFault> {
        let ends = places_of(self.delimiter, part);
        let begins = ends << 1 | next.begins;
        next.begins = ends >> (u64::BITS - 1);
        // A quote inside a cell that does not begin with one is an inch mark: 6'-0".
        let quoted = places_of(b'"', part) & begins;
        loop {
            let rest = next.rest();
            let quoted = quoted & rest;
            let before_quoted = (quoted & quoted.wrapping_neg()).wrapping_sub(1);
            self.plain(ends & rest & before_quoted, next);
            if quoted == 0 {
                break;
            }
            next.from = place(self.quoted(first, text, next.from as usize + 1)?) + 1;
        }
        next.at += u64::BITS;
        Ok(())
    }

    /// Takes cells without quotes, which follow each other and end before some bytes of a part.
    #[inline]
    fn plain(&mut self, mut ends: u64, next: &mut Next) {
        let Next { at, mut from, .. } = *next;
        // How many there are is known, so that room is asked for once.
        self.spans.extend((0..ends.count_ones()).map(|_| {
            let to = at + ends.trailing_zeros();
            ends &= ends.wrapping_sub(1);
            let span = Span { from, to };
            from = to + 1;
            span
        }));
        next.from = from;
    }

    /// Takes the quoted cell whose text begins at `from`; where it ends, after its closing quote.
    #[inline(never)]
    fn quoted(&mut self, first: usize, text: &str, from: usize) -> Result<usize, QuoteFault> {
        let bytes = text.as_bytes();
        let cell = self.spans.len() - first;
        let refuse = |problem| QuoteFault { cell, problem };
        let start_of_rewritten = self.rewritten.len();
        let mut written = from;
        let mut at = from;
        let end = loop {
            let rest = bytes.get(at..).unwrap_or_default();
            let quote = memchr::memchr(b'"', rest).map(|offset| at + offset).ok_or_else(|| {
                refuse("found a quote that is not closed on this line; expected a closing one, and no line break inside a cell")
            })?;
            if bytes.get(quote + 1) != Some(&b'"') {
                break quote;
            }
            // Two quotes stand for one: keep the first of them.
            self.rewritten
                .push_str(text.get(written..=quote).unwrap_or_default());
            at = quote + 2;
            written = at;
        };
        if bytes.get(end + 1).is_some_and(|byte| *byte != self.delimiter) {
            return Err(refuse(
                "found text after the closing quote of a cell; expected the next cell, or two quotes for one inside it",
            ));
        }
        if written == from {
            self.spans.push(Span {
                from: place(from),
                to: place(end),
            });
        } else {
            self.rewritten
                .push_str(text.get(written..end).unwrap_or_default());
            self.spans.push(Span {
                from: self.rewritten_from + place(start_of_rewritten),
                to: self.rewritten_from + place(self.rewritten.len()),
            });
        }
        Ok(end + 1)
    }

    pub(crate) fn len(&self) -> usize {
        self.spans.len()
    }

    /// Forgets all cells but the first of some number.
    pub(crate) fn keep(&mut self, count: usize) {
        self.spans.truncate(count);
    }

    /// Where all cells stand, one after another.
    pub(crate) fn spans(&self) -> &[Span] {
        &self.spans
    }

    /// What had to be rewritten.
    pub(crate) fn rewritten(&self) -> &str {
        &self.rewritten
    }

    /// The cells of the line that was last taken apart.
    pub(crate) fn of<'a>(&'a self, line: &'a str) -> impl Iterator<Item = &'a str> + Clone {
        self.row(line).iter()
    }

    /// One cell of that line; empty where it has none.
    pub(crate) fn get<'a>(&'a self, line: &'a str, position: usize) -> &'a str {
        self.row(line).get(position)
    }

    /// That line as a row.
    pub(crate) fn row<'a>(&'a self, line: &'a str) -> Row<'a> {
        Row {
            text: line,
            rewritten: &self.rewritten,
            spans: &self.spans,
        }
    }
}

/// The cells of one line.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Row<'a> {
    text: &'a str,
    rewritten: &'a str,
    spans: &'a [Span],
}

impl<'a> Row<'a> {
    /// Cells that all stand in a text.
    pub(crate) const fn new(text: &'a str, spans: &'a [Span]) -> Self {
        Self {
            text,
            rewritten: "",
            spans,
        }
    }

    /// One cell; empty where there is none.
    pub(crate) fn get(self, position: usize) -> &'a str {
        self.spans.get(position).map_or("", |span| self.text(*span))
    }

    /// One cell after another.
    pub(crate) fn iter(self) -> impl Iterator<Item = &'a str> + Clone {
        self.spans.iter().map(move |span| self.text(*span))
    }

    fn text(self, span: Span) -> &'a str {
        let text = match span.from.checked_sub(REWRITTEN) {
            None => self.text.get(span.range()),
            Some(from) => self.rewritten.get(from as usize..(span.to - REWRITTEN) as usize),
        };
        text.unwrap_or_default()
    }
}

/// A place in a text, in 31 bits; texts are far shorter.
#[inline]
fn place(at: usize) -> u32 {
    u32::try_from(at).unwrap_or(REWRITTEN).min(REWRITTEN - 1)
}

/// So many bytes of a line are looked at together, as there are bits in a word.
const PART: usize = 64;

/// Where a line is gone on with.
struct Next {
    /// Where the next part begins.
    at: u32,
    /// Where the next cell begins.
    from: u32,
    /// Whether the first byte of the next part is the first of a cell, in the lowest bit.
    begins: u64,
}

impl Next {
    /// A bit for each byte of the next part that does not belong to a cell that was taken already.
    #[inline]
    fn rest(&self) -> u64 {
        let taken = self.from.saturating_sub(self.at);
        u64::MAX.checked_shl(taken).unwrap_or_default()
    }
}

/// A bit for each byte of a part that is a certain one.
#[inline]
fn places_of(byte: u8, part: &[u8; PART]) -> u64 {
    let wanted = u8x16::splat(byte);
    let (quarters, _) = part.as_chunks();
    quarters.iter().rev().fold(0, |found, quarter| {
        found << 16 | u64::from(u8x16::new(*quarter).simd_eq(wanted).to_bitmask())
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use rstest::rstest;

    fn split(line: &str) -> Result<Vec<String>, QuoteFault> {
        let mut cells = Cells::default();
        cells.split(line)?;
        Ok(cells.of(line).map(str::to_owned).collect())
    }

    #[rstest]
    #[case("", &[""])]
    #[case("a,,b,", &["a", "", "b", ""])]
    #[case(r#"6'-0",2"#, &["6'-0\"", "2"])]
    #[case(r#""6'-0""","a,b","""#, &["6'-0\"", "a,b", ""])]
    #[case(r#""6'-0""","a,b","""""#, &["6'-0\"", "a,b", "\""])]
    #[case(r#""",x"#, &["", "x"])]
    fn cells_are_taken_apart(#[case] line: &str, #[case] expected: &[&str]) {
        assert_eq!(split(line).unwrap(), expected);
    }

    #[rstest]
    #[case(r#"a,"b"#, 1, "not closed")]
    #[case(r#"a,"b"c"#, 1, "after the closing quote")]
    fn what_a_lenient_reader_repairs_is_refused(#[case] line: &str, #[case] cell: usize, #[case] says: &str) {
        let fault = split(line).unwrap_err();
        assert_eq!(fault.cell, cell);
        assert!(fault.problem.contains(says), "{}", fault.problem);
    }

    proptest! {
        /// Against the csv crate: what it writes comes back, cell by cell.
        #[test]
        fn what_the_csv_crate_writes_is_read_back(
            row in prop::collection::vec("[a-z,\"' é=]{0,8}", 1..40),
        ) {
            let mut writer = csv::WriterBuilder::new().from_writer(Vec::new());
            writer.write_record(&row).unwrap();
            let text = String::from_utf8(writer.into_inner().unwrap()).unwrap();
            prop_assert_eq!(split(text.trim_end_matches('\n')).unwrap(), row);
        }

        /// Against the csv crate, with every mark between cells that an extract may have.
        #[test]
        fn other_delimiters_are_read_back(
            row in prop::collection::vec("[a-z,;|\t\"' é=]{0,8}", 1..40),
            delimiter in prop::sample::select(b",;|\t".to_vec()),
        ) {
            let mut writer = csv::WriterBuilder::new().delimiter(delimiter).from_writer(Vec::new());
            writer.write_record(&row).unwrap();
            let text = String::from_utf8(writer.into_inner().unwrap()).unwrap();
            let line = text.trim_end_matches('\n');
            let mut cells = Cells::delimited_by(delimiter);
            cells.split(line).unwrap();
            prop_assert_eq!(cells.of(line).collect::<Vec<_>>(), row);
        }

        /// Against the csv crate: what is accepted is read as it reads it.
        #[test]
        fn what_is_accepted_is_read_as_the_csv_crate_reads_it(line in "[a-c,\"]{1,12}") {
            if let Ok(cells) = split(&line) {
                let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(line.as_bytes());
                let record = reader.records().next().unwrap().unwrap();
                prop_assert_eq!(cells, record.iter().collect::<Vec<_>>());
            }
        }
    }
}
