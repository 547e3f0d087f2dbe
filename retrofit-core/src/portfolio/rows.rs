//! Some rows of a table side by side.

use std::cmp::Ordering;
use std::ops::Range;

use wide::u16x8;

/// So many rows are looked up together: as many as a word has bits.
pub(super) const ROWS: usize = RowSet::BITS as usize;

/// From so many times as many rows those are gathered that are looked up together.
const GROUPS: usize = 8;

/// Some of these rows, a bit for each.
pub(super) type RowSet = u64;

/// The rows of a set, in their order.
#[derive(Clone, Copy, Debug)]
pub(super) struct RowList {
    set: RowSet,
    rows: [u8; ROWS],
    count: usize,
}

impl RowList {
    pub(super) fn new(set: RowSet) -> Self {
        let mut list = Self {
            set: 0,
            rows: [0; ROWS],
            count: 0,
        };
        list.change(set);
        list
    }

    pub(super) const fn set(&self) -> RowSet {
        self.set
    }

    /// Makes it the list of another set.
    pub(super) fn change(&mut self, set: RowSet) {
        if self.set == set {
            return;
        }
        self.set = set;
        self.count = 0;
        for row in each(set) {
            if let (Some(next), Ok(row)) = (self.rows.get_mut(self.count), u8::try_from(row)) {
                *next = row;
                self.count += 1;
            }
        }
    }

    /// One row after another.
    #[inline]
    pub(super) fn iter(&self) -> impl Iterator<Item = usize> + '_ {
        let rows = self.rows.get(..self.count).unwrap_or_default();
        rows.iter().map(|row| usize::from(*row) % ROWS)
    }
}

/// The rows of a set, one after another: of a set of few, or one that is gone through once.
#[inline]
pub(super) fn each(rows: RowSet) -> impl Iterator<Item = usize> {
    let mut left = rows;
    std::iter::from_fn(move || {
        if left == 0 {
            return None;
        }
        let row = left.trailing_zeros() as usize;
        left &= left - 1;
        Some(row % ROWS)
    })
}

/// The rows in which some number stands.
#[inline]
pub(super) fn rows_with(numbers: &[u16; ROWS], number: u16) -> RowSet {
    let (some, _) = numbers.as_chunks();
    some.iter().rev().fold(0, |found, numbers| {
        let is_it = u16x8::new(*numbers).simd_eq(u16x8::splat(number));
        found << numbers.len() | RowSet::from(is_it.to_bitmask())
    })
}

/// Puts a number into some rows.
#[inline]
pub(super) fn put_for(numbers: &mut [u16; ROWS], rows: RowSet, number: u16) {
    for row in each(rows) {
        if let Some(here) = numbers.get_mut(row) {
            *here = number;
        }
    }
}

/// Where a cell stands in a text, in bytes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Span {
    /// Where it begins.
    pub from: u32,
    /// Where it ends: the place after its last byte.
    pub to: u32,
}

impl Span {
    /// Its bytes in the text.
    #[inline]
    pub const fn range(self) -> Range<usize> {
        self.from as usize..self.to as usize
    }
}

/// The cells of a column, for some rows side by side.
#[derive(Clone, Debug)]
pub(super) struct ColumnCells {
    /// The rows in which anything is written.
    pub(super) written: RowSet,
    /// Where it stands; of the other rows of no account.
    pub(super) spans: [Span; ROWS],
}

/// Where the cells of some rows stand in a text, column by column. Filled again for the next rows.
#[derive(Clone, Debug)]
pub struct RowCells {
    /// The columns of the groups that are full, as many as there are; and of some that are to come.
    full: Vec<Vec<ColumnCells>>,
    /// Those of the group to which the next row belongs.
    columns: Vec<ColumnCells>,
    /// Which row of its group that is.
    row: usize,
    count: usize,
}

impl RowCells {
    /// Rows of a table with so many columns; as yet none.
    pub fn new(columns: usize) -> Self {
        let none = ColumnCells {
            written: 0,
            spans: [Span::default(); ROWS],
        };
        let columns = vec![none; columns];
        Self {
            full: vec![columns.clone(); GROUPS],
            columns,
            row: 0,
            count: 0,
        }
    }

    /// Takes all rows out.
    pub fn clear(&mut self) {
        let columns = self.full.iter_mut().chain([&mut self.columns]).flatten();
        columns.for_each(|column| column.written = 0);
        (self.row, self.count) = (0, 0);
    }

    /// Puts a cell into the row that is next to come. Cells in which nothing is written need not be put.
    #[inline]
    pub fn put(&mut self, column: usize, span: Span) {
        if let Some(column) = self.columns.get_mut(column)
            && let Some(here) = column.spans.get_mut(self.row)
        {
            *here = span;
            column.written |= RowSet::from(span.from < span.to) << self.row;
        }
    }

    /// All cells of the next row have been put. When there are as many rows as can be, nothing is added.
    pub fn end_row(&mut self) {
        if self.is_full() {
            return self.leave_out();
        }
        (self.row, self.count) = (self.row + 1, self.count + 1);
        if self.row == ROWS
            && let Some(full) = self.full.get_mut(self.count / ROWS - 1)
        {
            std::mem::swap(full, &mut self.columns);
            self.row = 0;
        }
    }

    /// Takes out what has been put of the next row.
    pub fn leave_out(&mut self) {
        let before = first_rows(self.row);
        self.columns
            .iter_mut()
            .for_each(|column| column.written &= before);
    }

    /// How many rows there are.
    pub const fn len(&self) -> usize {
        self.count
    }

    /// Whether there is none.
    pub const fn is_empty(&self) -> bool {
        self.count == 0
    }

    /// Whether there are as many as are checked at a time.
    pub const fn is_full(&self) -> bool {
        self.count == Rows::MOST
    }

    /// Where a cell stands; an empty span where nothing is written in it.
    pub fn span(&self, row: usize, column: usize) -> Span {
        let column = self.group(row / ROWS).get(column);
        column.map_or(Span::default(), |column| column.span(row % ROWS))
    }

    /// The columns of a group; none where there is no such group.
    fn group(&self, group: usize) -> &[ColumnCells] {
        match group.cmp(&(self.count / ROWS)) {
            Ordering::Less => self.full.get(group).map_or(&[], Vec::as_slice),
            Ordering::Equal => &self.columns,
            Ordering::Greater => &[],
        }
    }
}

/// So many rows from the first on.
pub(super) fn first_rows(count: usize) -> RowSet {
    if count < ROWS {
        (1 << count) - 1
    } else {
        RowSet::MAX
    }
}

impl ColumnCells {
    #[inline]
    fn span(&self, row: usize) -> Span {
        let span = self.spans.get(row).filter(|_| self.written >> row & 1 > 0);
        span.copied().unwrap_or_default()
    }
}

/// Rows of a table that are taken apart already.
#[derive(Clone, Copy, Debug)]
pub struct Rows<'t> {
    text: &'t str,
    cells: &'t RowCells,
}

/// As many of them as a word has bits, or fewer.
#[derive(Clone, Copy, Debug)]
pub(super) struct Group<'t> {
    /// Which of the rows is the first of them.
    pub(super) first: usize,
    /// All of them.
    pub(super) all: RowSet,
    /// The cells of each column.
    pub(super) columns: &'t [ColumnCells],
}

impl<'t> Rows<'t> {
    /// Up to this many rows are checked at a time.
    pub const MOST: usize = ROWS * GROUPS;

    /// Rows whose cells stand in a text.
    ///
    /// Cells are looked up quickest where some bytes of the text follow the last of them.
    ///
    /// ```
    /// use retrofit_core::check::Ruling;
    /// use retrofit_core::portfolio::{Form, Layout, RowCells, RowChecker, Rows, Span};
    /// use retrofit_core::provisions::Library;
    ///
    /// let provisions = Library::shipped().set(Library::DEFAULT_SET).expect("the shipped tables are in order");
    /// let layout = Layout::new(["id", "stories", "anchors"], Form::OneTable)?;
    /// let mut checker = RowChecker::new(layout, &provisions);
    /// let text = "Q-17,1,no\nQ-18,2,        ";
    /// let mut cells = RowCells::new(3);
    /// for row in [[(0, 4), (5, 6), (7, 9)], [(10, 14), (15, 16), (17, 17)]] {
    ///     for (column, (from, to)) in row.into_iter().enumerate() {
    ///         cells.put(column, Span { from, to });
    ///     }
    ///     cells.end_row();
    /// }
    /// let mut rulings = Vec::new();
    /// checker.check_rows(Rows::new(text, &cells), |_, of_row| {
    ///     rulings.extend(of_row.map(|of_row| of_row.digest.outcomes.ruling()));
    /// });
    /// assert_eq!(rulings, [Ruling::NotMet, Ruling::NotDetermined]);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub const fn new(text: &'t str, cells: &'t RowCells) -> Self {
        Self { text, cells }
    }

    pub(super) const fn bytes(&self) -> &'t [u8] {
        self.text.as_bytes()
    }

    /// How many there are.
    pub const fn len(&self) -> usize {
        self.cells.len()
    }

    /// Whether there is none.
    pub const fn is_empty(&self) -> bool {
        self.cells.is_empty()
    }

    /// How many columns they have.
    pub const fn width(&self) -> usize {
        self.cells.columns.len()
    }

    /// One group of them after another.
    pub(super) fn groups(self) -> impl Iterator<Item = Group<'t>> {
        (0..self.len()).step_by(ROWS).map(move |first| Group {
            first,
            all: first_rows(self.len() - first),
            columns: self.cells.group(first / ROWS),
        })
    }

    /// One cell; empty where nothing is written in it.
    pub fn cell(&self, row: usize, column: usize) -> &'t str {
        let span = self.cells.span(row, column);
        self.text.get(span.range()).unwrap_or_default()
    }

    /// The cells of a row, one after another.
    pub fn row(self, row: usize) -> impl Iterator<Item = &'t str> + Clone {
        (0..self.width()).map(move |column| self.cell(row, column))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What was put of a row stands in it and in no other, in whatever group it is; what was left out, and what is one
    /// row too many, stands nowhere.
    #[test]
    fn cells_stand_in_the_row_they_were_put_in() {
        let text = "x".repeat(2000);
        let span = |row: usize| {
            let from = u32::try_from(row).unwrap();
            Span { from, to: from + 1 }
        };
        let mut cells = RowCells::new(3);
        for round in [Rows::MOST, 3 * ROWS, ROWS + 7, 5, 0] {
            cells.clear();
            for row in 0..round {
                cells.put(0, Span { from: 1900, to: 1910 });
                cells.put(7, span(row));
                cells.leave_out();
                cells.put(row % 2, span(row));
                cells.end_row();
            }
            if cells.is_full() {
                cells.put(2, span(0));
                cells.end_row();
            } else {
                cells.put(2, span(0));
                cells.leave_out();
            }
            assert_eq!(cells.len(), round);
            let rows = Rows::new(&text, &cells);
            for row in 0..Rows::MOST + ROWS {
                for column in 0..4 {
                    let is_put = row < round && column == row % 2;
                    assert_eq!(
                        rows.cell(row, column),
                        if is_put { "x" } else { "" },
                        "{row} {column}"
                    );
                    if is_put {
                        assert_eq!(cells.span(row, column), span(row));
                    }
                }
            }
            let groups: Vec<u32> = rows.groups().map(|group| group.all.count_ones()).collect();
            assert_eq!(usize::try_from(groups.iter().sum::<u32>()).unwrap(), round);
            assert_eq!(groups.len(), round.div_ceil(ROWS));
        }
    }

    /// Side by side as one by one.
    #[test]
    fn the_rows_with_a_number_are_those_it_was_put_for() {
        for set in [0, RowSet::MAX, 0x8000_0000_0100_0013, 0xffff_00ff] {
            let mut numbers = [0x8000; ROWS];
            put_for(&mut numbers, set, 0x80);
            assert_eq!(rows_with(&numbers, 0x80), set);
            assert_eq!(rows_with(&numbers, 0x8000), !set);
            assert_eq!(rows_with(&numbers, 0), 0);
            for (row, number) in numbers.into_iter().enumerate() {
                assert_eq!(number == 0x80, set >> row & 1 > 0, "row {row}");
            }
        }
    }
}
