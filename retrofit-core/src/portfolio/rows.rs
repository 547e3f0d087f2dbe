//! Some rows of a table side by side.

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
    /// The columns of one group of rows after those of another.
    columns: Vec<ColumnCells>,
    width: usize,
    count: usize,
    /// Where the columns of the next row begin.
    begin: usize,
}

impl RowCells {
    /// Rows of a table with so many columns; as yet none.
    pub fn new(columns: usize) -> Self {
        let none = ColumnCells {
            written: 0,
            spans: [Span::default(); ROWS],
        };
        Self {
            columns: vec![none; columns * GROUPS],
            width: columns,
            count: 0,
            begin: 0,
        }
    }

    /// Takes all rows out.
    pub fn clear(&mut self) {
        self.columns.iter_mut().for_each(|column| column.written = 0);
        (self.count, self.begin) = (0, 0);
    }

    /// Puts a cell into the row that is next to come. Cells in which nothing is written need not be put.
    #[inline]
    pub fn put(&mut self, column: usize, span: Span) {
        let row = self.count % ROWS;
        if column < self.width
            && let Some(column) = self.columns.get_mut(self.begin + column)
            && let Some(here) = column.spans.get_mut(row)
        {
            *here = span;
            column.written |= RowSet::from(span.from < span.to) << row;
        }
    }

    /// All cells of the next row have been put.
    pub fn end_row(&mut self) {
        self.count = (self.count + 1).min(Rows::MOST);
        self.begin = self.count / ROWS * self.width;
    }

    /// Takes out what has been put of the next row.
    pub fn leave_out(&mut self) {
        let before = first_rows(self.count % ROWS);
        let columns = self.columns.get_mut(self.begin..).unwrap_or_default();
        columns.iter_mut().for_each(|column| column.written &= before);
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
        if column >= self.width {
            return Span::default();
        }
        let column = self.columns.get(row / ROWS * self.width + column);
        column.map_or(Span::default(), |column| column.span(row % ROWS))
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
    /// checker.check_rows(Rows::new(text, &cells), |_, digest| {
    ///     rulings.extend(digest.map(|digest| digest.outcomes.ruling()));
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
        self.cells.width
    }

    /// One group of them after another.
    pub(super) fn groups(self) -> impl Iterator<Item = Group<'t>> {
        (0..self.len()).step_by(ROWS).map(move |first| {
            let begin = first / ROWS * self.width();
            let columns = self.cells.columns.get(begin..begin + self.width());
            Group {
                first,
                all: first_rows(self.len() - first),
                columns: columns.unwrap_or_default(),
            }
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
