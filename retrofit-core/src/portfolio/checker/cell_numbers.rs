//! The numbers of the cells of some rows side by side.

use super::super::rows::{Group, ROWS, RowSet, Rows, each};
use super::{Role, Slots, Works, is_name};
use crate::portfolio::column::COLUMNS;
use crate::portfolio::graph::{Graph, Slot};
use crate::portfolio::row::basis_of;

/// What stands in the columns of observations, column by column.
#[derive(Clone, Debug)]
pub(super) struct CellNumbers {
    /// By column, the number of each cell, 0 where it is blank; of no account where nothing is written in any.
    numbers: Vec<[u16; ROWS]>,
    /// By column, the rows in which anything is written.
    written: Vec<RowSet>,
    /// The numbers of one row that had to be read.
    alone: Slots,
}

impl CellNumbers {
    pub(super) fn new() -> Self {
        Self {
            numbers: vec![[0; ROWS]; COLUMNS.len()],
            written: vec![0; COLUMNS.len()],
            alone: Slots::new(),
        }
    }

    /// Numbers the cells of a group of rows. A row of which a cell is new is read. The rows that have a name and of which
    /// every cell is known then.
    pub(super) fn number(
        &mut self,
        graph: &Graph,
        roles: &[Role],
        works: &mut Works<'_>,
        (rows, group): (Rows<'_>, Group<'_>),
    ) -> RowSet {
        // Rows of another number of cells than the table has columns are read one by one.
        if group.columns.len() != roles.len() {
            return 0;
        }
        let (mut known, mut sound, mut named) = (group.all, group.all, 0);
        let columns = roles.iter().zip(works.reader.memories()).zip(group.columns);
        for (position, ((role, memory), column)) in columns.enumerate() {
            let cell = |row: usize| rows.cell(group.first + row, position);
            match role {
                Role::Observation(_, slot) => {
                    let place = slot.place();
                    if let (Some(numbers), Some(written)) =
                        (self.numbers.get_mut(place), self.written.get_mut(place))
                    {
                        let are_known;
                        (are_known, *written) = memory.number_each(rows.bytes(), column, numbers);
                        known &= are_known;
                    }
                }
                Role::Id => {
                    for row in each(column.written) {
                        named |= RowSet::from(is_name(cell(row).as_bytes())) << row;
                    }
                }
                Role::KnownBy => {
                    for row in each(column.written) {
                        sound &= !(RowSet::from(basis_of(cell(row)).is_err()) << row);
                    }
                }
                Role::Passed => {}
            }
        }
        sound &= named;
        for row in each(sound & !known) {
            known |= RowSet::from(self.read(graph, roles, works, (rows, group.first), row)) << row;
        }
        sound & known
    }

    /// Reads a row of which a cell is new; whether it makes sense.
    fn read(
        &mut self,
        graph: &Graph,
        roles: &[Role],
        works: &mut Works<'_>,
        (rows, first): (Rows<'_>, usize),
        row: usize,
    ) -> bool {
        let cells = rows.row(first + row);
        works.begun = None;
        let read = works.begin(cells.clone()).is_ok()
            && works.number_vouched(graph, roles, &mut self.alone, cells).is_ok();
        if !read {
            return false;
        }
        for role in roles {
            if let Role::Observation(_, slot) = role
                && let Some(numbers) = self.numbers.get_mut(slot.place())
                && let (Some(here), Some(written)) =
                    (numbers.get_mut(row), self.written.get_mut(slot.place()))
            {
                *here = self.alone.get(*slot);
                *written = *written & !(1 << row) | RowSet::from(*here > 0) << row;
            }
        }
        true
    }

    /// By column, the numbers in it, and the rows in which anything is written.
    pub(super) fn columns(&self) -> impl Iterator<Item = (&[u16; ROWS], RowSet)> {
        self.numbers.iter().zip(self.written.iter().copied())
    }

    /// One of these.
    pub(super) fn column(&self, slot: Slot) -> Option<(&[u16; ROWS], RowSet)> {
        let (numbers, written) = (self.numbers.get(slot.place())?, self.written.get(slot.place())?);
        Some((numbers, *written))
    }
}
