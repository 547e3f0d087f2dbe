//! A row of an extract as it stands in the file: its bytes as text, its text as cells.

use encoding_rs::WINDOWS_1252;
use retrofit_core::portfolio::{Encoding, FileForm};

use crate::triage::Cells;

/// Reads the rows of an extract, one after another, in memory that is used again.
#[derive(Debug)]
pub(super) struct RawRow {
    encoding: Encoding,
    text: String,
    cells: Cells,
}

/// What is wrong with a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct RawFault {
    /// The cell, counted from 0, where it lies in one.
    pub(super) cell: Option<usize>,
    pub(super) problem: String,
}

impl RawRow {
    pub(super) fn new(form: FileForm) -> Self {
        Self {
            encoding: form.encoding,
            text: String::new(),
            cells: Cells::delimited_by(form.delimiter.byte()),
        }
    }

    /// Reads a line.
    pub(super) fn read(&mut self, line: &[u8]) -> Result<(), RawFault> {
        self.text.clear();
        match self.encoding {
            Encoding::Utf8 => match std::str::from_utf8(line) {
                Ok(text) => self.text.push_str(text),
                Err(error) => {
                    let whole = line.get(..error.valid_up_to()).unwrap_or_default();
                    let whole = String::from_utf8_lossy(whole);
                    let cell = self
                        .cells
                        .split(&whole)
                        .map_or_else(|fault| fault.cell, |()| self.cells.len().saturating_sub(1));
                    return Err(RawFault {
                        cell: Some(cell),
                        problem: "found bytes that are not UTF-8; expected UTF-8 text, or encoding = \
                                  \"windows-1252\" in the map"
                            .to_owned(),
                    });
                }
            },
            Encoding::Windows1252 => {
                let mut decoder = WINDOWS_1252.new_decoder_without_bom_handling();
                // A byte becomes three at most; where the length overflows nothing is read, and the cells are counted.
                let length = decoder.max_utf8_buffer_length(line.len()).unwrap_or_default();
                self.text.reserve(length);
                // Every byte stands for some character in this encoding.
                let _ = decoder.decode_to_string(line, &mut self.text, true);
            }
        }
        self.cells.split(&self.text).map_err(|fault| RawFault {
            cell: Some(fault.cell),
            problem: fault.problem.to_owned(),
        })
    }

    pub(super) fn len(&self) -> usize {
        self.cells.len()
    }

    pub(super) fn cell(&self, position: usize) -> &str {
        self.cells.get(&self.text, position)
    }

    pub(super) fn cells(&self) -> impl Iterator<Item = &str> + Clone {
        self.cells.of(&self.text)
    }

    /// Whether no cell holds anything: spreadsheets leave such rows behind.
    pub(super) fn is_blank(&self) -> bool {
        self.cells().all(|cell| cell.trim().is_empty())
    }

    /// That the row has as many cells as the header, if not, why that is a fault.
    pub(super) fn has_cells(&self, expected: usize) -> Result<(), RawFault> {
        if self.len() == expected {
            return Ok(());
        }
        Err(RawFault {
            cell: None,
            problem: format!(
                "found {} cells; expected {expected}, as in the header",
                self.len()
            ),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use retrofit_core::portfolio::Delimiter;

    fn raw(encoding: Encoding, delimiter: Delimiter) -> RawRow {
        RawRow::new(FileForm {
            delimiter,
            encoding,
            ..FileForm::default()
        })
    }

    #[test]
    fn windows_1252_is_read_as_the_encoding_standard_has_it() {
        let mut row = raw(Encoding::Windows1252, Delimiter::Semicolon);
        row.read(b"Caf\xE9;1\xBD;\x93x\x94;\x80").unwrap();
        assert_eq!(row.cells().collect::<Vec<_>>(), ["Café", "1½", "“x”", "€"]);
    }

    #[test]
    fn bytes_that_are_not_utf_8_are_told_by_their_cell() {
        let fault = raw(Encoding::Utf8, Delimiter::Comma)
            .read(b"a,b,1\xBD,c")
            .unwrap_err();
        assert_eq!(fault.cell, Some(2));
        assert!(fault.problem.contains("windows-1252"), "{fault:?}");
    }

    proptest! {
        /// Against the csv crate: whatever bytes a line has, what is accepted is read as that reads it.
        #[test]
        fn any_bytes_can_be_asked(line in prop::collection::vec(any::<u8>(), 1..40), windows: bool) {
            let line: Vec<u8> = line.into_iter().filter(|byte| !matches!(byte, b'\n' | b'\r')).collect();
            prop_assume!(!line.is_empty());
            let encoding = if windows { Encoding::Windows1252 } else { Encoding::Utf8 };
            let mut row = raw(encoding, Delimiter::Tab);
            if row.read(&line).is_ok() {
                let mut reader = csv::ReaderBuilder::new().has_headers(false).delimiter(b'\t').from_reader(&line[..]);
                let record = reader.byte_records().next().unwrap().unwrap();
                let cells: Vec<String> = record
                    .iter()
                    .map(|cell| match encoding {
                        Encoding::Utf8 => String::from_utf8(cell.to_vec()).unwrap(),
                        Encoding::Windows1252 => WINDOWS_1252.decode_without_bom_handling(cell).0.into_owned(),
                    })
                    .collect();
                prop_assert_eq!(row.cells().collect::<Vec<_>>(), cells);
            }
        }
    }
}
