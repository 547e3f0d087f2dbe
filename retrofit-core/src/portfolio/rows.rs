//! Some rows of a table side by side.

use std::ops::Range;

/// So many rows are looked up together: as many as a word has bits.
pub(super) const ROWS: usize = RowSet::BITS as usize;

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

/// Where a cell stands in a text, in bytes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Span {
    /// Where it begins.
    pub from: u32,
    /// Where it ends: the place after its last byte.
    pub to: u32,
}

impl Span {
    /// How many bytes it has.
    #[inline]
    pub const fn len(self) -> usize {
        self.to.saturating_sub(self.from) as usize
    }

    /// Whether the cell is empty.
    #[inline]
    pub const fn is_empty(self) -> bool {
        self.len() == 0
    }

    /// Its bytes in the text.
    #[inline]
    pub const fn range(self) -> Range<usize> {
        self.from as usize..self.to as usize
    }
}

/// Rows of a table that are taken apart already.
#[derive(Clone, Copy, Debug)]
pub struct Rows<'t> {
    text: &'t str,
    cells: &'t [Span],
    columns: usize,
}

impl<'t> Rows<'t> {
    /// Up to this many rows are checked at a time.
    pub const MOST: usize = ROWS;

    /// Rows of so many cells each, as many as their table has columns, which stand in a text one after another.
    ///
    /// Cells are looked up quickest where some bytes of the text follow the last of them.
    ///
    /// ```
    /// use retrofit_core::check::Ruling;
    /// use retrofit_core::portfolio::{Form, Layout, RowChecker, Rows, Span};
    /// use retrofit_core::provisions::Library;
    ///
    /// let provisions = Library::shipped().set(Library::DEFAULT_SET).expect("the shipped tables are in order");
    /// let layout = Layout::new(["id", "stories", "anchors"], Form::OneTable)?;
    /// let mut checker = RowChecker::new(layout, &provisions);
    /// let text = "Q-17,1,no\nQ-18,2,        ";
    /// let cells = [(0, 4), (5, 6), (7, 9), (10, 14), (15, 16), (17, 17)].map(|(from, to)| Span { from, to });
    /// let mut rulings = Vec::new();
    /// checker.check_rows(Rows::new(text, &cells, 3), |_, digest| {
    ///     rulings.extend(digest.map(|digest| digest.outcomes.ruling()));
    /// });
    /// assert_eq!(rulings, [Ruling::NotMet, Ruling::NotDetermined]);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub const fn new(text: &'t str, cells: &'t [Span], columns: usize) -> Self {
        Self {
            text,
            cells,
            columns: if columns == 0 { 1 } else { columns },
        }
    }

    pub(super) const fn columns(&self) -> usize {
        self.columns
    }

    pub(super) const fn bytes(&self) -> &'t [u8] {
        self.text.as_bytes()
    }

    /// How many there are, up to the most.
    pub fn len(&self) -> usize {
        (self.cells.len() / self.columns).min(Self::MOST)
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// All of them.
    pub(super) fn all(&self) -> RowSet {
        match self.len() {
            ROWS => RowSet::MAX,
            count => (1 << count) - 1,
        }
    }

    /// Finds, for each column, the rows in which anything is written.
    pub(super) fn find_written(&self, written: &mut Vec<RowSet>) {
        written.clear();
        written.resize(self.columns, 0);
        for (row, cells) in self.cells.chunks_exact(self.columns).take(ROWS).enumerate() {
            for (written, cell) in written.iter_mut().zip(cells) {
                *written |= RowSet::from(cell.from < cell.to) << row;
            }
        }
    }

    /// The cells from that of a column in the first row on, and how far apart those of that column stand.
    pub(super) fn column(&self, position: usize) -> (&'t [Span], usize) {
        (self.cells.get(position..).unwrap_or_default(), self.columns)
    }

    /// The cells of a row.
    pub(super) fn row(&self, row: usize) -> impl Iterator<Item = &'t str> + Clone {
        let from = row * self.columns;
        let cells = self.cells.get(from..from + self.columns).unwrap_or_default();
        let text = self.text;
        cells
            .iter()
            .map(move |cell| text.get(cell.range()).unwrap_or_default())
    }
}
