//! One line of comma-separated values, taken apart into its cells.
//!
//! A row is one line: a line break inside a quoted cell is refused. So a stray quote spoils its own row and
//! not the rest of the file, and the line that an error names is the line an editor shows. Unlike lenient
//! readers this one repairs nothing: text after a closing quote and a quote that is never closed are faults.

/// The cells of one line; read into again for the next.
#[derive(Debug)]
pub(crate) struct Cells {
    delimiter: u8,
    bounds: Vec<Bounds>,
    /// Where the delimiters stand, and the end of the line.
    ends: Vec<u32>,
    /// Cells whose doubled quotes had to be made single ones.
    rewritten: String,
}

impl Default for Cells {
    fn default() -> Self {
        Self::delimited_by(b',')
    }
}

/// Where the text of a cell stands in its line, or among what was rewritten. Lines are far shorter than 4 GB.
#[derive(Clone, Copy, Debug)]
struct Bounds {
    from: u32,
    /// The end, and in the top bit whether it was rewritten.
    to: u32,
}

const REWRITTEN: u32 = 1 << 31;

impl Bounds {
    #[inline]
    fn range(self) -> std::ops::Range<usize> {
        self.from as usize..(self.to & !REWRITTEN) as usize
    }
}

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
            bounds: Vec::new(),
            ends: Vec::new(),
            rewritten: String::new(),
        }
    }

    /// Takes a line apart.
    pub(crate) fn split(&mut self, line: &str) -> Result<(), QuoteFault> {
        self.bounds.clear();
        self.rewritten.clear();
        let bytes = line.as_bytes();
        self.find_ends(bytes);
        let ends = std::mem::take(&mut self.ends);
        let split = self.split_at(line, bytes, &ends);
        self.ends = ends;
        split
    }

    /// Finds the delimiters, and after them the end of the line. Many bytes are looked at at a time: cells are so short
    /// that setting out anew from each of them costs more than the search.
    fn find_ends(&mut self, bytes: &[u8]) {
        self.ends.clear();
        let (parts, rest) = bytes.as_chunks();
        let mut tail = [0; PART];
        for (slot, byte) in tail.iter_mut().zip(rest) {
            *slot = *byte;
        }
        let mut at = 0;
        for part in parts.iter().chain([&tail]) {
            let mut found = delimiters_of(part, self.delimiter);
            while found != 0 {
                self.ends.push(at + found.trailing_zeros());
                found &= found - 1;
            }
            at += u64::BITS;
        }
        // A place in a line is told in 31 bits; lines are far shorter.
        self.ends
            .push(u32::try_from(bytes.len()).unwrap_or(REWRITTEN - 1));
    }

    fn split_at(&mut self, line: &str, bytes: &[u8], ends: &[u32]) -> Result<(), QuoteFault> {
        let mut from = 0;
        for to in ends {
            if *to < from {
                continue; // inside the quotes of the cell before
            }
            // A quote inside a cell that does not begin with one is an inch mark: 6'-0".
            from = if bytes.get(from as usize) == Some(&b'"') {
                let after = self.quoted(line, from as usize + 1)? + 1;
                u32::try_from(after).unwrap_or(REWRITTEN)
            } else {
                self.bounds.push(Bounds { from, to: *to });
                *to + 1
            };
        }
        Ok(())
    }

    /// Takes the quoted cell whose text begins at `from`; where it ends, after its closing quote.
    #[inline(never)]
    fn quoted(&mut self, line: &str, from: usize) -> Result<usize, QuoteFault> {
        let bytes = line.as_bytes();
        let cell = self.bounds.len();
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
                .push_str(line.get(written..=quote).unwrap_or_default());
            at = quote + 2;
            written = at;
        };
        if bytes.get(end + 1).is_some_and(|byte| *byte != self.delimiter) {
            return Err(refuse(
                "found text after the closing quote of a cell; expected the next cell, or two quotes for one inside it",
            ));
        }
        if written == from {
            self.add(from, end, 0);
        } else {
            self.rewritten
                .push_str(line.get(written..end).unwrap_or_default());
            self.add(start_of_rewritten, self.rewritten.len(), REWRITTEN);
        }
        Ok(end + 1)
    }

    #[inline]
    fn add(&mut self, from: usize, to: usize, rewritten: u32) {
        let place = |at: usize| u32::try_from(at).unwrap_or(REWRITTEN - 1);
        self.bounds.push(Bounds {
            from: place(from),
            to: place(to) | rewritten,
        });
    }

    pub(crate) fn len(&self) -> usize {
        self.bounds.len()
    }

    /// The cells of the line that was last taken apart.
    pub(crate) fn of<'a>(&'a self, line: &'a str) -> impl Iterator<Item = &'a str> + Clone {
        self.bounds.iter().map(move |bounds| self.text(*bounds, line))
    }

    /// Those of them in which anything is written, as bytes, each with its position.
    pub(crate) fn written<'a>(&'a self, line: &'a str) -> impl Iterator<Item = (usize, &'a [u8])> {
        let written = self.bounds.iter().enumerate();
        let written = written.filter(|(_, bounds)| !bounds.range().is_empty());
        written.map(move |(position, bounds)| {
            let text = self.text_of(*bounds, line).as_bytes();
            (position, text.get(bounds.range()).unwrap_or_default())
        })
    }

    /// One cell of that line; empty where it has none.
    pub(crate) fn get<'a>(&'a self, line: &'a str, position: usize) -> &'a str {
        self.bounds
            .get(position)
            .map_or("", |bounds| self.text(*bounds, line))
    }

    fn text<'a>(&'a self, bounds: Bounds, line: &'a str) -> &'a str {
        self.text_of(bounds, line).get(bounds.range()).unwrap_or_default()
    }

    /// The text in which a cell stands.
    #[inline]
    fn text_of<'a>(&'a self, bounds: Bounds, line: &'a str) -> &'a str {
        if bounds.to & REWRITTEN == 0 {
            line
        } else {
            &self.rewritten
        }
    }
}

/// So many bytes of a line are looked at together, as there are bits in a word.
const PART: usize = 64;

/// A bit for each byte that is a delimiter.
fn delimiters_of(part: &[u8; PART], delimiter: u8) -> u64 {
    const LOW_SEVEN: u64 = u64::from_le_bytes([0x7f; 8]);
    // Gathers the lowest bits of eight bytes in the top byte.
    const GATHER: u64 = 0x0102_0408_1020_4080;
    let (words, _) = part.as_chunks();
    words.iter().rev().fold(0, |found, word| {
        // A delimiter becomes a zero byte; of each byte, the top bit then says whether it is zero.
        let zero_where_it_is = u64::from_le_bytes(*word) ^ u64::from_le_bytes([delimiter; 8]);
        let is_zero = !(((zero_where_it_is & LOW_SEVEN) + LOW_SEVEN) | zero_where_it_is | LOW_SEVEN);
        found << 8 | (is_zero >> 7).wrapping_mul(GATHER) >> 56
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
