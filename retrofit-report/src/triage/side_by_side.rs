//! The rows of a block taken apart, some at a time, so that they can be checked together.

use retrofit_core::portfolio::{RowCells, Rows};

use super::block::Block;
use super::cells::Splitter;
use super::error::BadRow;
use super::lines::Walk;
use super::worker::Table;

/// Takes rows apart that are checked together, in memory that is used again for the next.
#[derive(Debug)]
pub(crate) struct SideBySide {
    splitter: Splitter,
    cells: RowCells,
    /// The numbers of their lines.
    numbers: Vec<u64>,
}

/// What stands after the last cell of a text, so that a whole word of it can be read from any cell on.
const AFTER_CELLS: &str = "        ";

impl SideBySide {
    /// For rows of a table.
    pub(crate) fn new(table: &Table) -> Self {
        Self {
            splitter: Splitter::delimited_by(b','),
            cells: RowCells::new(table.layout.len()),
            numbers: Vec::new(),
        }
    }

    /// Hands over the rows of a block, some at a time, with the numbers of their lines. Those that cannot be taken apart go
    /// among the bad ones, which end up in the order of their lines. Where there are bytes in it that are not UTF-8 none is
    /// handed over, and it says false: then rows are to be found one by one.
    pub(crate) fn each(
        &mut self,
        table: &Table,
        block: &mut Block,
        mut hand_over: impl FnMut(Rows<'_>, &[u64], &mut Block),
    ) -> bool {
        let mut text = match String::from_utf8(std::mem::take(&mut block.houses)) {
            Ok(text) => text,
            Err(error) => {
                block.houses = error.into_bytes();
                return false;
            }
        };
        let end = text.len();
        let mut walk = Walk::new(block.first_line);
        while self.take_apart(table, &mut walk, &mut text, end, &mut block.bad) {
            hand_over(Rows::new(&text, &self.cells), &self.numbers, block);
        }
        text.truncate(end);
        block.houses = text.into_bytes();
        block.bad.sort_by_key(|bad| bad.line);
        true
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
            let Some((number, line)) = walk.next(text.as_bytes()) else {
                break;
            };
            let split = self.splitter.split(text, line, &mut self.cells);
            match table.whole(number, split) {
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
