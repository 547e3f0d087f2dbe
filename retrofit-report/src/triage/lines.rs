//! A file read in blocks of whole lines, in an amount of memory that does not depend on its size.

use std::fs::File;
use std::io::{self, Read, Stdin};
use std::ops::Range;
use std::path::{Path, PathBuf};

use super::TriageError;
use super::cells::{Put, QuoteFault, Splitter};
use super::error::BadRow;

/// How much is read at a time.
const BLOCK: usize = 192 * 1024;

/// A line longer than this is no row.
const LONGEST_LINE: usize = 1024 * 1024;

/// The mark that some programs put at the beginning of UTF-8 text.
const BYTE_ORDER_MARK: &[u8] = b"\xEF\xBB\xBF";

/// What is read from: a file, or standard input, which is written as `-`, or rows that are made from a file of another
/// form while they are read.
#[derive(Debug)]
enum Input {
    File(File),
    Standard(Stdin),
    Rows(Box<dyn Rows>),
}

/// Rows of our columns made from a file of another form: lines of comma-separated values under a header, one for each row
/// of the source and an empty one for each that cannot be read, so that a line has the number of its row.
pub(crate) trait Rows: Read + Send + std::fmt::Debug {
    /// Hands over the rows that could not be made since the last time.
    fn bad_rows(&mut self, bad: &mut Vec<BadRow>);
    /// How much of the file has been read for what was made.
    fn read_so_far(&self) -> &ReadSoFar;
}

impl Input {
    /// Reads so many bytes more, or as many as there are.
    fn read_more(&mut self, most: u64, into: &mut Vec<u8>) -> io::Result<usize> {
        match self {
            Self::File(file) => file.take(most).read_to_end(into),
            Self::Standard(stdin) => stdin.take(most).read_to_end(into),
            Self::Rows(rows) => rows.take(most).read_to_end(into),
        }
    }
}

/// How much of a file has been read, and its fingerprint up to there.
#[derive(Clone, Debug, Default)]
pub(crate) struct ReadSoFar {
    pub(crate) bytes: u64,
    pub(crate) hash: blake3::Hasher,
}

impl ReadSoFar {
    /// A whole file as it stands.
    pub(crate) fn of_file(path: &Path) -> io::Result<Self> {
        let (mut read, mut file) = (Self::default(), File::open(path)?);
        let mut buffer = vec![0; 1 << 16];
        loop {
            match file.read(&mut buffer) {
                Ok(0) => return Ok(read),
                Ok(count) => read.add(buffer.get(..count).unwrap_or_default()),
                Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
                Err(error) => return Err(error),
            }
        }
    }

    /// Counts what has been read further.
    pub(crate) fn add(&mut self, read: &[u8]) {
        self.bytes += u64::try_from(read.len()).unwrap_or_default();
        self.hash.update(read);
    }
}

/// A file, line by line.
#[derive(Debug)]
pub(crate) struct Lines {
    path: PathBuf,
    file: Input,
    read_so_far: ReadSoFar,
    /// The beginning of a line whose end has not been read yet.
    carried: Vec<u8>,
    next_line: u64,
    is_at_end: bool,
    /// Whether the rest of a line is being passed over because it is too long.
    is_skipping: bool,
}

impl Lines {
    pub(crate) fn open(path: &Path) -> Result<Self, TriageError> {
        let fault = |error| TriageError::read(path, error);
        let (path, file) = if path == Path::new("-") {
            (Path::new("standard input"), Input::Standard(io::stdin()))
        } else {
            let file = File::open(path).map_err(fault)?;
            if file.metadata().map_err(fault)?.is_dir() {
                return Err(fault(io::Error::new(
                    io::ErrorKind::IsADirectory,
                    "found a directory; expected a CSV file",
                )));
            }
            (path, Input::File(file))
        };
        Self::begin(path, file)
    }

    /// Rows that are made from a file of another form.
    pub(crate) fn made(path: &Path, rows: impl Rows + 'static) -> Result<Self, TriageError> {
        Self::begin(path, Input::Rows(Box::new(rows)))
    }

    /// Whether its lines are made from a file of another form.
    pub(crate) fn is_made(&self) -> bool {
        matches!(self.file, Input::Rows(_))
    }

    /// Counts what follows from 1: rows that are no lines of their file are told by their number.
    pub(crate) fn count_from_one(&mut self) {
        self.next_line = 1;
    }

    fn begin(path: &Path, file: Input) -> Result<Self, TriageError> {
        let mut lines = Self {
            path: path.to_owned(),
            file,
            read_so_far: ReadSoFar::default(),
            carried: Vec::new(),
            next_line: 1,
            is_at_end: false,
            is_skipping: false,
        };
        lines.read_more()?;
        if lines.carried.starts_with(BYTE_ORDER_MARK) {
            lines.carried.drain(..BYTE_ORDER_MARK.len());
        }
        Ok(lines)
    }

    pub(crate) fn path(&self) -> &Path {
        &self.path
    }

    /// What has been read of the file, which is more than has been handed out.
    pub(crate) fn read_so_far(&self) -> &ReadSoFar {
        match &self.file {
            Input::Rows(rows) => rows.read_so_far(),
            _ => &self.read_so_far,
        }
    }

    /// The number of the next line.
    pub(crate) fn line(&self) -> u64 {
        self.next_line
    }

    /// The size of the file, where it has one.
    pub(crate) fn size(&self) -> Option<u64> {
        let Input::File(file) = &self.file else {
            return None;
        };
        let metadata = file.metadata().ok()?;
        metadata.is_file().then_some(metadata.len())
    }

    /// Reads until there is a block, or nothing is left.
    fn read_more(&mut self) -> Result<(), TriageError> {
        let before = self.carried.len();
        let room = BLOCK.saturating_sub(before);
        if self.is_at_end || room == 0 {
            return Ok(());
        }
        self.carried.reserve(room);
        match self.file.read_more(room as u64, &mut self.carried) {
            Ok(count) => {
                self.is_at_end = count < room;
                if !matches!(self.file, Input::Rows(_)) {
                    self.read_so_far
                        .add(self.carried.get(before..).unwrap_or_default());
                }
                Ok(())
            }
            Err(error) => {
                self.carried.truncate(before);
                Err(TriageError::read(&self.path, error))
            }
        }
    }

    /// The first line that is not blank: the header.
    pub(crate) fn header(&mut self) -> Result<String, TriageError> {
        let line = self.header_bytes()?;
        String::from_utf8(line).map_err(|_| TriageError::Header {
            path: self.path.clone(),
            line: self.next_line - 1,
            problem: "found bytes that are not UTF-8; expected UTF-8 text".to_owned(),
        })
    }

    /// The first line that is not blank, in the encoding of the file.
    pub(crate) fn header_bytes(&mut self) -> Result<Vec<u8>, TriageError> {
        let fault = |lines: &Self, problem: &str| TriageError::Header {
            path: lines.path.clone(),
            line: lines.next_line,
            problem: problem.to_owned(),
        };
        loop {
            let end = memchr::memchr(b'\n', &self.carried);
            if end.is_none() && !self.is_at_end {
                return Err(fault(
                    self,
                    "found a line without an end; expected the names of the columns",
                ));
            }
            if end.is_none() && self.carried.is_empty() {
                return Err(fault(
                    self,
                    "found an empty file; expected the names of the columns",
                ));
            }
            let stop = end.map_or(self.carried.len(), |end| end + 1);
            let line: Vec<u8> = self.carried.drain(..stop).collect();
            let line = without_end(&line);
            if is_blank(line) {
                self.next_line += 1;
                continue;
            }
            if line.starts_with(b"\xFF\xFE") || line.starts_with(b"\xFE\xFF") {
                return Err(fault(
                    self,
                    "found UTF-16 text; expected UTF-8 (save the table as \"CSV UTF-8\")",
                ));
            }
            if line.contains(&b'\r') {
                return Err(fault(
                    self,
                    "found bare carriage returns; expected lines that end in LF or CR LF",
                ));
            }
            self.next_line += 1;
            return Ok(line.to_vec());
        }
    }

    /// Replaces `block` by the next lines; `None` at the end of the file. Says which line is the first.
    pub(crate) fn next_block(
        &mut self,
        block: &mut Vec<u8>,
        bad: &mut Vec<BadRow>,
    ) -> Result<Option<u64>, TriageError> {
        block.clear();
        loop {
            self.read_more()?;
            if let Input::Rows(rows) = &mut self.file {
                rows.bad_rows(bad);
            }
            if self.is_skipping {
                match memchr::memchr(b'\n', &self.carried) {
                    Some(end) => {
                        self.carried.drain(..=end);
                        self.next_line += 1;
                        self.is_skipping = false;
                    }
                    None => self.carried.clear(),
                }
            }
            if self.carried.is_empty() && self.is_at_end {
                return Ok(None);
            }
            let end = memchr::memrchr(b'\n', &self.carried);
            match end {
                _ if self.is_skipping => {}
                None if self.is_at_end => {
                    std::mem::swap(block, &mut self.carried);
                    return Ok(Some(self.count_lines(block, 1)));
                }
                None if self.carried.len() >= LONGEST_LINE => {
                    bad.push(BadRow {
                        file: self.path.clone(),
                        line: self.next_line,
                        column: None,
                        problem: format!("found a line of more than {LONGEST_LINE} bytes; expected a row"),
                    });
                    self.is_skipping = true;
                    self.carried.clear();
                }
                None => self.read_a_longer_line()?,
                Some(end) => {
                    std::mem::swap(block, &mut self.carried);
                    self.carried
                        .extend_from_slice(block.get(end + 1..).unwrap_or_default());
                    block.truncate(end + 1);
                    return Ok(Some(self.count_lines(block, 0)));
                }
            }
        }
    }

    /// A line longer than a block: read on, a block at a time.
    fn read_a_longer_line(&mut self) -> Result<(), TriageError> {
        let head = std::mem::take(&mut self.carried);
        self.read_more()?;
        let tail = std::mem::replace(&mut self.carried, head);
        self.carried.extend_from_slice(&tail);
        Ok(())
    }

    fn count_lines(&mut self, block: &[u8], unended: u64) -> u64 {
        let first = self.next_line;
        let ends = memchr::memchr_iter(b'\n', block).count();
        self.next_line += u64::try_from(ends).unwrap_or(u64::MAX) + unended;
        first
    }
}

/// The lines of a block, each with its number and without its end; blank lines are left out.
pub(crate) fn rows(block: &[u8], first_line: u64) -> impl Iterator<Item = (u64, &[u8])> {
    let mut walk = Walk::new(first_line);
    std::iter::from_fn(move || {
        let (number, line) = walk.next(block)?;
        Some((number, block.get(line)?))
    })
}

/// Goes from line to line of a block.
#[derive(Debug)]
pub(super) struct Walk {
    at: usize,
    number: u64,
}

impl Walk {
    pub(super) const fn new(first_line: u64) -> Self {
        Self {
            at: 0,
            number: first_line,
        }
    }

    /// The number of the next line that is not blank, and where it stands without its end.
    #[inline]
    pub(super) fn next(&mut self, block: &[u8]) -> Option<(u64, Range<usize>)> {
        loop {
            let from = self.at;
            let rest = block.get(from..).filter(|rest| !rest.is_empty())?;
            let end = memchr::memchr(b'\n', rest);
            self.at += end.map_or(rest.len(), |end| end + 1);
            self.number += 1;
            let line = without_end(rest.get(..end.unwrap_or(rest.len()))?);
            if !is_blank(line) {
                return Some((self.number - 1, from..from + line.len()));
            }
        }
    }

    /// Takes the next line that is not blank apart: its number, and how many cells it has.
    #[inline]
    pub(super) fn split_next(
        &mut self,
        text: &str,
        splitter: &mut Splitter,
        cells: &mut impl Put,
    ) -> Option<(u64, Result<usize, QuoteFault>)> {
        let first = text.as_bytes().get(self.at)?;
        let from = if matches!(first, b',' | b' ' | b'\t' | b'\r' | b'\n') {
            // It may be blank, and so may those after it.
            self.next(text.as_bytes())?.1.start
        } else {
            self.number += 1;
            self.at
        };
        let line = splitter.split(text, from, cells);
        self.at = line.after;
        Some((self.number - 1, line.count))
    }
}

/// A line without its end.
pub(super) fn without_end(line: &[u8]) -> &[u8] {
    let line = line.strip_suffix(b"\n").unwrap_or(line);
    line.strip_suffix(b"\r").unwrap_or(line)
}

/// Whether a line says nothing: spreadsheets also leave rows of commas behind.
fn is_blank(line: &[u8]) -> bool {
    line.iter().all(|byte| matches!(byte, b',' | b' ' | b'\t'))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Write;

    fn lines_of(content: &[u8]) -> (Vec<(u64, Vec<u8>)>, Vec<BadRow>) {
        let mut file = tempfile::NamedTempFile::new().unwrap();
        file.write_all(content).unwrap();
        let mut lines = Lines::open(file.path()).unwrap();
        let (mut block, mut bad, mut found) = (Vec::new(), Vec::new(), Vec::new());
        while let Some(first) = lines.next_block(&mut block, &mut bad).unwrap() {
            found.extend(rows(&block, first).map(|(number, line)| (number, line.to_vec())));
        }
        (found, bad)
    }

    #[test]
    fn blank_lines_and_line_ends_do_not_move_line_numbers() {
        let (found, _) = lines_of(b"\xEF\xBB\xBFa\r\n\r\n,,\nb\n\nc");
        assert_eq!(
            found,
            [(1, b"a".to_vec()), (4, b"b".to_vec()), (6, b"c".to_vec())]
        );
    }

    #[test]
    fn lines_that_cross_blocks_are_whole_and_in_order() {
        let mut content = Vec::new();
        for number in 1..=40_000u64 {
            writeln!(
                content,
                "row {number} {}",
                "x".repeat(usize::try_from(number % 37).unwrap())
            )
            .unwrap();
        }
        let (found, _) = lines_of(&content);
        assert_eq!(found.len(), 40_000);
        for (number, line) in found {
            assert!(line.starts_with(format!("row {number} ").as_bytes()));
        }
    }

    #[test]
    fn a_line_longer_than_memory_allows_is_one_bad_row() {
        let mut content = b"a\n".to_vec();
        content.extend(vec![b'x'; 3 * LONGEST_LINE]);
        content.extend(b"\nb\n");
        content.extend(vec![b'y'; BLOCK * 2]);
        content.extend(b"\nc\n");
        let (found, bad) = lines_of(&content);
        let numbers: Vec<_> = found.iter().map(|(number, line)| (*number, line.len())).collect();
        assert_eq!(numbers, [(1, 1), (3, 1), (4, BLOCK * 2), (5, 1)]);
        assert_eq!(bad.iter().map(|row| row.line).collect::<Vec<_>>(), [2]);
    }
}
