//! Panels as the tables of published values name them.

use retrofit_core::house::Sheathing;
use retrofit_core::screen::Panelling;

use crate::published::Row;

/// The panel of a row.
pub(crate) fn panelling(row: &Row) -> Panelling {
    Panelling {
        grade: row.text("grade").parse().unwrap(),
        sheathing: row
            .optional("made_of")
            .map_or(Sheathing::Osb, |name| name.parse().unwrap()),
        thickness: format!("{} in", row.text("thickness")).parse().unwrap(),
        nail: format!("{} common", row.text("nail")).parse().unwrap(),
        edge_spacing: format!("{} in", row.text("edge")).parse().unwrap(),
    }
}
