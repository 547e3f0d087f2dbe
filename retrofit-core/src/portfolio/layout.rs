//! The header of a table: which column stands where. It is read once, and rows go by position.

use thiserror::Error;

use super::cell::shown;
use super::column::{COLUMNS, Column, ID, KNOWN_BY, PASSED_ON, PASSED_PREFIX, Table, WALL_LINE};
use crate::choice::nearest;

/// What a wall line is called where a row does not name it.
pub(super) const STANDS_FOR_ALL: &str = "every wall line";

/// What a table holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// One row a house, with the columns of its house and of the wall line that stands for all.
    OneTable,
    /// One row a house, with the columns of the house only; its wall lines stand in another table.
    Houses,
    /// One row a wall line: the house it belongs to, its name, and its columns.
    WallLines,
}

/// What stands in one column of a table.
#[derive(Clone, Copy, Debug)]
pub(super) enum Meaning {
    Id,
    WallLine,
    KnownBy,
    Passed,
    Observation(&'static Column),
}

/// The columns of a table by position.
#[derive(Clone, Debug)]
pub struct Layout {
    pub(super) meanings: Vec<Meaning>,
    names: Vec<String>,
    id: usize,
    wall_line: Option<usize>,
    pub(super) known_by: Option<usize>,
}

impl Layout {
    /// Reads the names of a header.
    pub fn new<'a>(names: impl IntoIterator<Item = &'a str>, form: Form) -> Result<Self, HeaderError> {
        let mut layout = Self {
            meanings: Vec::new(),
            names: Vec::new(),
            id: 0,
            wall_line: None,
            known_by: None,
        };
        let mut id = None;
        for (position, name) in names.into_iter().enumerate() {
            let name = name.trim();
            let number = position + 1;
            if let Some(first) = layout.names.iter().position(|other| other == name) {
                return Err(HeaderError(format!(
                    "column {number}: found {} a second time (it is column {} too); expected each name once",
                    shown(name),
                    first + 1
                )));
            }
            let meaning =
                meaning_of(name, form).map_err(|why| HeaderError(format!("column {number}: {why}")))?;
            match meaning {
                Meaning::Id => id = Some(position),
                Meaning::KnownBy => layout.known_by = Some(position),
                Meaning::WallLine => layout.wall_line = Some(position),
                _ => {}
            }
            layout.meanings.push(meaning);
            layout.names.push(name.to_owned());
        }
        layout.id = id.ok_or_else(|| {
            HeaderError(format!(
                "found no column {ID:?}; expected one that names the house"
            ))
        })?;
        Ok(layout)
    }

    /// How many cells a row has.
    pub fn len(&self) -> usize {
        self.names.len()
    }

    /// Whether there is no column; a layout has at least that of the house's name.
    pub fn is_empty(&self) -> bool {
        self.names.is_empty()
    }

    /// The names of the columns in their order.
    pub fn names(&self) -> &[String] {
        &self.names
    }

    /// Where the name of the house stands.
    pub fn id(&self) -> usize {
        self.id
    }

    /// What a row calls its wall line, of the cells of the row.
    pub fn wall_line_of<'c>(&self, mut cells: impl Iterator<Item = &'c str>) -> &'c str {
        let name = self
            .wall_line
            .and_then(|at| cells.nth(at))
            .unwrap_or_default()
            .trim();
        if name.is_empty() { STANDS_FOR_ALL } else { name }
    }

    /// Where the columns stand that are handed on unread, each with its name.
    pub fn passed(&self) -> impl Iterator<Item = (usize, &str)> {
        self.meanings
            .iter()
            .zip(&self.names)
            .enumerate()
            .filter(|(_, (meaning, _))| matches!(meaning, Meaning::Passed))
            .map(|(position, (_, name))| (position, name.as_str()))
    }

    /// The columns that hold observations, by their positions.
    pub fn columns(&self) -> impl Iterator<Item = (usize, &'static Column)> {
        self.meanings
            .iter()
            .enumerate()
            .filter_map(|(position, meaning)| match meaning {
                Meaning::Observation(column) => Some((position, *column)),
                _ => None,
            })
    }
}

fn meaning_of(name: &str, form: Form) -> Result<Meaning, String> {
    let of_the_house = form != Form::WallLines;
    let of_a_wall_line = form != Form::Houses;
    match name {
        "" => return Err("found a column without a name; expected a name, or no column".into()),
        ID => return Ok(Meaning::Id),
        KNOWN_BY => return Ok(Meaning::KnownBy),
        WALL_LINE if of_a_wall_line => return Ok(Meaning::WallLine),
        _ if of_the_house && (PASSED_ON.contains(&name) || name.starts_with(PASSED_PREFIX)) => {
            return Ok(Meaning::Passed);
        }
        _ => {}
    }
    let is_here = |column: &&Column| match column.table {
        Table::House => of_the_house,
        Table::WallLine => of_a_wall_line,
    };
    if let Some(column) = COLUMNS.iter().find(|column| column.name == name) {
        return if is_here(&column) {
            Ok(Meaning::Observation(column))
        } else {
            Err(format!(
                "found {name:?}; it belongs in the table of {}",
                match column.table {
                    Table::House => "houses",
                    Table::WallLine => "wall lines",
                }
            ))
        };
    }
    for (mark, separator) in [('\t', "tabs"), (';', "semicolons")] {
        if name.contains(mark) {
            return Err(format!(
                "found names with {separator} between them; expected commas (save the table as \"CSV UTF-8\")"
            ));
        }
    }
    let columns = COLUMNS.iter().filter(is_here).map(|column| column.name);
    let hint = nearest(name, columns.chain([ID, KNOWN_BY, WALL_LINE]).chain(PASSED_ON))
        .map_or_else(String::new, |near| format!("; did you mean {near:?}?"));
    Err(format!(
        "found {}; expected a documented column, or a name that begins with {PASSED_PREFIX:?} for one to be \
         handed on unread{hint}",
        shown(name)
    ))
}

/// A header that cannot be read: the column, what was found and what was expected.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{0}")]
pub struct HeaderError(String);

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    #[rstest]
    #[case(&["stories"], Form::OneTable, "found no column \"id\"")]
    #[case(&["id", "storeys"], Form::OneTable, "did you mean \"stories\"?")]
    #[case(&["id", "stories", "stories"], Form::OneTable, "column 3: found \"stories\" a second time")]
    #[case(&["id", ""], Form::OneTable, "without a name")]
    #[case(&["id", "wall_length"], Form::Houses, "belongs in the table of wall lines")]
    #[case(&["id", "stories"], Form::WallLines, "belongs in the table of houses")]
    fn a_header_that_says_nothing_certain_is_refused(
        #[case] names: &[&str],
        #[case] form: Form,
        #[case] says: &str,
    ) {
        let error = Layout::new(names.iter().copied(), form).unwrap_err().to_string();
        assert!(error.contains(says), "{error}");
    }

    #[test]
    fn columns_of_the_owner_of_the_table_are_handed_on() {
        let layout = Layout::new(["x_parcel", "id", "region", "stories"], Form::OneTable).unwrap();
        assert_eq!(layout.id(), 1);
        assert_eq!(
            layout.passed().collect::<Vec<_>>(),
            [(0, "x_parcel"), (2, "region")]
        );
    }
}
