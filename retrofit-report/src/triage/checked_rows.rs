//! The rows of a block through the checks, taken apart and checked some at a time.

use retrofit_core::portfolio::{RowCells, RowChecker, RowDigest, RowError, Rows};
use retrofit_core::provisions::Provisions;

use super::block::Block;
use super::cells::{Cells, Row, Splitter};
use super::error::BadRow;
use super::lines::{Walk, rows};
use super::worker::Table;

/// Checks the rows of blocks, each a house with its one wall line, in memory that is used again for the next.
#[derive(Debug)]
pub(crate) struct CheckedRows<'p> {
    checker: RowChecker<'p>,
    splitter: Splitter,
    cells: RowCells,
    /// The numbers of their lines.
    numbers: Vec<u64>,
    /// Of a row that is taken apart on its own.
    alone: Cells,
}

/// A row that was taken apart, and what its checks came to.
pub(crate) struct CheckedRow<'r> {
    /// The number of its line.
    pub(crate) number: u64,
    pub(crate) cells: Row<'r>,
    pub(crate) digest: Result<RowDigest<'r>, &'r RowError>,
}

/// What stands after the last cell of a text, so that a whole word of it can be read from any cell on.
const AFTER_CELLS: &str = "        ";

impl<'p> CheckedRows<'p> {
    /// For rows of a table.
    pub(crate) fn new(table: &Table, provisions: &'p Provisions) -> Self {
        Self {
            checker: RowChecker::new(table.layout.clone(), provisions),
            splitter: Splitter::of_lines(b','),
            cells: RowCells::new(table.layout.len()),
            numbers: Vec::new(),
            alone: Cells::default(),
        }
    }

    /// Hands over the rows of a block, one after another. Those that cannot be taken apart go among the bad ones.
    pub(crate) fn each(
        &mut self,
        table: &Table,
        block: &mut Block,
        mut hand_over: impl FnMut(CheckedRow<'_>, &mut Block),
    ) {
        match String::from_utf8(std::mem::take(&mut block.houses)) {
            Ok(text) => self.each_of_text(table, text, block, hand_over),
            // Where there are bytes in it that are not text, their rows are found one by one.
            Err(error) => {
                let houses = error.into_bytes();
                for (number, line) in rows(&houses, block.first_line) {
                    match table.take_apart(number, line, &mut self.alone) {
                        Ok(text) => {
                            let cells = self.alone.row(text);
                            let digest = self.checker.check(cells.iter());
                            hand_over(
                                CheckedRow {
                                    number,
                                    cells,
                                    digest: digest.as_ref().map(RowDigest::from),
                                },
                                block,
                            );
                        }
                        Err(row) => block.bad.push(row),
                    }
                }
                block.houses = houses;
            }
        }
    }

    /// The same of a block whose rows are all text, some of them at a time.
    fn each_of_text(
        &mut self,
        table: &Table,
        mut text: String,
        block: &mut Block,
        mut hand_over: impl FnMut(CheckedRow<'_>, &mut Block),
    ) {
        let end = text.len();
        let mut walk = Walk::new(block.first_line);
        while self.take_apart(table, &mut walk, &mut text, end, &mut block.bad) {
            let rows = Rows::new(&text, &self.cells);
            self.checker.check_rows(rows, |row, digest| {
                let number = self.numbers.get(row).copied().unwrap_or_default();
                let cells = Row::Among { rows, row };
                hand_over(
                    CheckedRow {
                        number,
                        cells,
                        digest,
                    },
                    block,
                );
            });
        }
        text.truncate(end);
        block.houses = text.into_bytes();
        block.bad.sort_by_key(|bad| bad.line);
    }

    /// Takes the next rows of a text apart; false where there are none. Cells that had to be rewritten stand in it from an
    /// end on.
    fn take_apart(
        &mut self,
        table: &Table,
        walk: &mut Walk,
        text: &mut String,
        end: usize,
        bad: &mut Vec<BadRow>,
    ) -> bool {
        text.truncate(end);
        self.splitter.begin(end);
        self.cells.clear();
        self.numbers.clear();
        while !self.cells.is_full() {
            let next = walk.split_next(text, &mut self.splitter, &mut self.cells);
            let Some((number, count)) = next else {
                break;
            };
            match table.whole(number, count) {
                Ok(()) => {
                    self.cells.end_row();
                    self.numbers.push(number);
                }
                Err(row) => {
                    self.cells.leave_out();
                    bad.push(row);
                }
            }
        }
        text.push_str(self.splitter.rewritten());
        text.push_str(AFTER_CELLS);
        !self.cells.is_empty()
    }
}
