//! Lines of comma-separated values, taken apart into their cells.
//!
//! A row is one line: a line break inside a quoted cell is refused. So a stray quote spoils its own row and
//! not the rest of the file, and the line that an error names is the line an editor shows. Unlike lenient
//! readers this one repairs nothing: text after a closing quote and a quote that is never closed are faults.

use retrofit_core::portfolio::{RowCells, Rows, Span};
use wide::u8x16;

use super::lines::without_end;

/// Takes lines apart into their cells.
#[derive(Debug)]
pub(crate) struct Splitter {
    delimiter: u8,
    /// Whether lines end in a text as they do in a file; otherwise the whole text is one.
    is_of_lines: bool,
    /// The part of the text that was looked at last: lines are short, and the next begins in it.
    part: Part,
    /// Cells whose doubled quotes had to be made single ones.
    rewritten: String,
    /// The place at which the first of them is said to stand.
    rewritten_from: u32,
}

/// The cells of one line; read into again for the next.
#[derive(Debug)]
pub(crate) struct Cells {
    splitter: Splitter,
    spans: Vec<Span>,
}

impl Default for Cells {
    fn default() -> Self {
        Self::delimited_by(b',')
    }
}

/// Where the cells of a line are put.
pub(crate) trait Put {
    /// Puts a cell in which anything is written into its column; no others are put. They come from left to right.
    fn put(&mut self, column: usize, span: Span);
}

impl Put for RowCells {
    #[inline]
    fn put(&mut self, column: usize, span: Span) {
        self.put(column, span);
    }
}

impl Put for Vec<Span> {
    fn put(&mut self, column: usize, span: Span) {
        self.resize(column, Span::default());
        self.push(span);
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

/// A line that was taken apart.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct SplitLine {
    /// Where the next one begins.
    pub(crate) after: usize,
    /// How many cells it has.
    pub(crate) count: Result<usize, QuoteFault>,
}

impl Splitter {
    /// For a text that is one line, with this mark between its cells.
    pub(crate) fn delimited_by(delimiter: u8) -> Self {
        Self {
            delimiter,
            is_of_lines: false,
            part: Part::NONE,
            rewritten: String::new(),
            rewritten_from: REWRITTEN,
        }
    }

    /// For a text of many lines.
    pub(crate) fn of_lines(delimiter: u8) -> Self {
        Self {
            is_of_lines: true,
            ..Self::delimited_by(delimiter)
        }
    }

    /// Begins anew, with the same text or another. Cells that have to be rewritten are told as if they stood in it from a place
    /// on.
    pub(crate) fn begin(&mut self, rewritten_from: usize) {
        self.part = Part::NONE;
        self.rewritten.clear();
        self.rewritten_from = u32::try_from(rewritten_from).unwrap_or(REWRITTEN);
    }

    /// What had to be rewritten.
    pub(crate) fn rewritten(&self) -> &str {
        &self.rewritten
    }

    /// Takes the line of a text apart that begins at a place.
    ///
    /// Many bytes are looked at at a time: cells are so short that setting out anew from each of them costs more than the
    /// search for its end.
    pub(crate) fn split(&mut self, text: &str, from: usize, cells: &mut impl Put) -> SplitLine {
        let bytes = text.as_bytes();
        let start = place(from);
        let mut next = Next {
            at: start - start % u64::BITS,
            end: Next::LATER,
            from: start,
            column: 0,
            begins: 1 << (start % u64::BITS),
        };
        let mut own = u64::MAX << (start % u64::BITS);
        let mut line_end = bytes.len();
        loop {
            if self.part.at != next.at {
                self.part = self.part_of(bytes, next.at);
            }
            let ending = self.part.line_ends & own;
            let is_last = ending > 0 || next.at as usize + PART >= bytes.len();
            if is_last {
                line_end = line_end.min((next.at + ending.trailing_zeros()) as usize);
                next.end = place(self.without_return(bytes, from, line_end));
            }
            own &= (ending & ending.wrapping_neg()).wrapping_sub(1);
            if let Err(fault) = self.split_part(text, own, &mut next, cells) {
                return SplitLine {
                    after: self.line_end(bytes, from) + 1,
                    count: Err(fault),
                };
            }
            if is_last {
                break;
            }
            own = u64::MAX;
        }
        // The last cell ends with the line; after a quoted one nothing is left.
        let span = Span {
            from: next.from,
            to: next.end,
        };
        if span.from < span.to {
            cells.put(next.column as usize, span);
        }
        SplitLine {
            after: line_end + 1,
            count: Ok(next.column as usize + usize::from(span.from <= span.to)),
        }
    }

    /// A part of a text, looked at.
    fn part_of(&self, text: &[u8], at: u32) -> Part {
        let rest = text.get(at as usize..).unwrap_or_default();
        let mut padded = [0; PART];
        let part = rest.first_chunk().unwrap_or_else(|| {
            if let Some(part) = padded.get_mut(..rest.len()) {
                part.copy_from_slice(rest);
            }
            &padded
        });
        Part {
            at,
            delimiters: places_of(self.delimiter, part),
            quotes: places_of(b'"', part),
            line_ends: if self.is_of_lines {
                places_of(b'\n', part)
            } else {
                0
            },
        }
    }

    /// Where a line ends that begins at a place, or is gone on with there.
    fn line_end(&self, text: &[u8], from: usize) -> usize {
        let rest = text.get(from..).filter(|_| self.is_of_lines);
        let end = rest.and_then(|rest| memchr::memchr(b'\n', rest));
        end.map_or(text.len(), |end| from + end)
    }

    /// The same without the carriage return that belongs to the end of a line.
    fn without_return(&self, text: &[u8], from: usize, line_end: usize) -> usize {
        match text.get(from..line_end) {
            Some(line) if self.is_of_lines => from + without_end(line).len(),
            _ => line_end,
        }
    }

    /// Takes the cells that end in a part of a line, and those in quotes that begin in it. Some of the bytes are its own.
    #[inline]
    fn split_part(
        &mut self,
        text: &str,
        own: u64,
        next: &mut Next,
        cells: &mut impl Put,
    ) -> Result<(), QuoteFault> {
        let delimiters = self.part.delimiters & own;
        let begins = delimiters << 1 | next.begins;
        next.begins = delimiters >> (u64::BITS - 1);
        // Where a cell begins and ends in which anything is written. A quote inside a cell that does not begin with one is
        // an inch mark: 6'-0".
        let (starts, ends) = (begins & !delimiters, delimiters & !begins);
        let quoted = self.part.quotes & own & begins;
        loop {
            let rest = next.rest();
            let quoted = quoted & rest;
            let before_quoted = (quoted & quoted.wrapping_neg()).wrapping_sub(1);
            // The quoted cell is where the one before it leads to.
            let up_to_quoted = before_quoted << 1 | 1;
            next.plain([starts & rest & up_to_quoted, ends & rest & before_quoted], cells);
            if quoted == 0 {
                break;
            }
            if !next.quoted_in(&self.part, cells) {
                self.quoted(text, next, cells)?;
            }
        }
        next.at += u64::BITS;
        Ok(())
    }

    /// Takes the quoted cell that comes next, wherever it ends and whatever quotes there are in it.
    #[inline(never)]
    fn quoted(&mut self, text: &str, next: &mut Next, cells: &mut impl Put) -> Result<(), QuoteFault> {
        let from = next.from as usize + 1;
        let line_end = match next.end {
            Next::LATER => self.without_return(text.as_bytes(), from, self.line_end(text.as_bytes(), from)),
            end => end as usize,
        };
        let text = text.get(..line_end).unwrap_or_default();
        let bytes = text.as_bytes();
        let cell = next.column as usize;
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
        let span = if written == from {
            Span {
                from: place(from),
                to: place(end),
            }
        } else {
            self.rewritten
                .push_str(text.get(written..end).unwrap_or_default());
            Span {
                from: self.rewritten_from + place(start_of_rewritten),
                to: self.rewritten_from + place(self.rewritten.len()),
            }
        };
        if span.from < span.to {
            cells.put(cell, span);
        }
        next.from = place(end + 1) + 1;
        next.column += 1;
        Ok(())
    }
}

impl Cells {
    /// For lines with this mark between their cells.
    pub(crate) fn delimited_by(delimiter: u8) -> Self {
        Self {
            splitter: Splitter::delimited_by(delimiter),
            spans: Vec::new(),
        }
    }

    /// Takes a line apart.
    pub(crate) fn split(&mut self, line: &str) -> Result<(), QuoteFault> {
        self.spans.clear();
        self.splitter.begin(REWRITTEN as usize);
        let count = self.splitter.split(line, 0, &mut self.spans).count?;
        self.spans.resize(count, Span::default());
        Ok(())
    }

    pub(crate) fn len(&self) -> usize {
        self.spans.len()
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
        Row::Line {
            text: line,
            rewritten: self.splitter.rewritten(),
            spans: &self.spans,
        }
    }
}

/// The cells of one row.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Row<'a> {
    /// Of a line that was taken apart on its own.
    Line {
        text: &'a str,
        rewritten: &'a str,
        spans: &'a [Span],
    },
    /// One of some rows side by side.
    Among { rows: Rows<'a>, row: usize },
}

impl<'a> Row<'a> {
    /// One cell; empty where there is none.
    #[inline]
    pub(crate) fn get(self, position: usize) -> &'a str {
        match self {
            Self::Line {
                text,
                rewritten,
                spans,
            } => {
                let span = spans.get(position).copied().unwrap_or_default();
                let cell = match span.from.checked_sub(REWRITTEN) {
                    None => text.get(span.range()),
                    Some(from) => rewritten.get(from as usize..(span.to - REWRITTEN) as usize),
                };
                cell.unwrap_or_default()
            }
            Self::Among { rows, row } => rows.cell(row, position),
        }
    }

    fn len(self) -> usize {
        match self {
            Self::Line { spans, .. } => spans.len(),
            Self::Among { rows, .. } => rows.width(),
        }
    }

    /// One cell after another.
    pub(crate) fn iter(self) -> impl Iterator<Item = &'a str> + Clone {
        (0..self.len()).map(move |position| self.get(position))
    }
}

/// A place in a text, in 31 bits; texts are far shorter.
#[inline]
fn place(at: usize) -> u32 {
    u32::try_from(at).unwrap_or(REWRITTEN).min(REWRITTEN - 1)
}

/// So many bytes of a line are looked at together, as there are bits in a word.
const PART: usize = 64;

/// A part of a text, by what stands in it: a bit for each byte.
#[derive(Clone, Copy, Debug)]
struct Part {
    /// Where it begins.
    at: u32,
    delimiters: u64,
    quotes: u64,
    line_ends: u64,
}

impl Part {
    /// Of no text.
    const NONE: Self = Self {
        at: u32::MAX,
        delimiters: 0,
        quotes: 0,
        line_ends: 0,
    };
}

/// Where a line is gone on with.
struct Next {
    /// Where the next part begins.
    at: u32,
    /// Where the line ends, if it does in this part.
    end: u32,
    /// Where the next cell begins, and its column.
    from: u32,
    column: u32,
    /// Whether the first byte of the next part is the first of a cell, in the lowest bit.
    begins: u64,
}

impl Next {
    /// The end of a line that ends in a later part.
    const LATER: u32 = u32::MAX;

    /// A bit for each byte of the next part that does not belong to a cell that was taken already.
    #[inline]
    fn rest(&self) -> u64 {
        let taken = self.from.saturating_sub(self.at);
        u64::MAX.checked_shl(taken).unwrap_or_default()
    }

    /// Takes the quoted cell that comes next, if it stands in a part as most do: with no quote in it, or with one at its end,
    /// as an inch mark is. It stands in the text as it is to be read then.
    #[inline]
    fn quoted_in(&mut self, part: &Part, cells: &mut impl Put) -> bool {
        let begin = self.from - self.at + 1;
        let quotes = part.quotes & u64::MAX.checked_shl(begin).unwrap_or_default();
        let first = quotes.trailing_zeros();
        let side_by_side = (!quotes.checked_shr(first).unwrap_or_default()).trailing_zeros();
        let after = first + side_by_side;
        let is_before_another = part
            .delimiters
            .checked_shr(after)
            .is_some_and(|rest| rest & 1 > 0);
        let to = self.at + after;
        let ends_in_line = to < self.end && is_before_another || to == self.end;
        if !ends_in_line || !matches!(side_by_side, 1 | 3) {
            return false;
        }
        let span = Span {
            from: self.from + 1,
            to: self.at + first + u32::from(side_by_side > 1),
        };
        if span.from < span.to {
            cells.put(self.column as usize, span);
        }
        self.from = to + 1;
        self.column += 1;
        true
    }

    /// Takes cells without quotes, by where in a part of a line such cells begin and end in which anything is written. It
    /// goes on to where the last of them begins, or to the end of the part.
    #[inline]
    fn plain(&mut self, [mut starts, mut ends]: [u64; 2], cells: &mut impl Put) {
        let Self {
            at,
            end,
            mut from,
            mut column,
            ..
        } = *self;
        // Each byte from where one cell ends up to where the next begins is a mark between cells, and so a column.
        let mut go_on = |after: u32, column: &mut u32| {
            let begin = at + starts.trailing_zeros();
            starts &= starts.wrapping_sub(1);
            *column += begin - after;
            begin
        };
        if (at..at + u64::BITS).contains(&from) && from <= end {
            from = go_on(from, &mut column);
        }
        while ends > 0 {
            let to = at + ends.trailing_zeros();
            ends &= ends - 1;
            cells.put(column as usize, Span { from, to });
            from = go_on(to, &mut column);
        }
        (self.from, self.column) = (from, column);
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

        /// Whatever stands before and after a line in its text, it is taken apart as on its own.
        #[test]
        fn a_line_of_a_text_is_taken_apart_as_on_its_own(
            lines in prop::collection::vec("([a-c]{0,9}|\"([a-c,]|\"\"){0,70}\"|[a-c\"]{1,3})(,([a-c]{0,9}|\"[a-c,]{0,9}\")){0,30}", 1..6),
            end in prop::sample::select(vec!["\n", "\r\n"]),
            is_ended: bool,
        ) {
            let text = lines.join(end) + if is_ended { end } else { "" };
            let mut splitter = Splitter::of_lines(b',');
            splitter.begin(text.len());
            let mut from = 0;
            for line in &lines {
                let mut spans: Vec<Span> = Vec::new();
                let split = splitter.split(&text, from, &mut spans);
                let mut alone = Cells::default();
                prop_assert_eq!(split.count, alone.split(line).map(|()| alone.len()));
                if split.count.is_ok() {
                    let whole = format!("{text}{}", splitter.rewritten());
                    spans.resize(alone.len(), Span::default());
                    let cells: Vec<&str> = spans.iter().map(|span| &whole[span.range()]).collect();
                    prop_assert_eq!(cells, alone.of(line).collect::<Vec<_>>());
                }
                from = split.after;
            }
            prop_assert!(from >= text.len());
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
