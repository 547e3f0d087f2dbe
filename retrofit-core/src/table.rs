//! Reading a table from the text of a CSV file, with every fault located: provisions, unit prices and stock alike.

use thiserror::Error;

/// The text of one table file and where it came from.
#[derive(Clone, Debug)]
pub struct TableFile {
    /// The path, for error messages.
    pub path: String,
    /// The file name inside its folder, which says what the file holds.
    pub name: String,
    /// The text.
    pub text: String,
}

/// A fault in a table.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{place}: {fault}")]
pub struct TableError {
    place: String,
    fault: String,
}

impl TableError {
    pub(crate) fn set(id: &str, fault: String) -> Self {
        Self {
            place: format!("set {id:?}"),
            fault,
        }
    }

    pub(crate) fn file(file: &TableFile, fault: impl std::fmt::Display) -> Self {
        Self {
            place: file.path.clone(),
            fault: fault.to_string(),
        }
    }

    /// A fault in a column as a whole: a row that is not there.
    pub(crate) fn column(file: &TableFile, column: &str, fault: impl std::fmt::Display) -> Self {
        Self {
            place: format!("{}, column {column:?}", file.path),
            fault: fault.to_string(),
        }
    }

    pub(crate) fn cell(file: &TableFile, line: u64, column: &str, fault: impl std::fmt::Display) -> Self {
        Self {
            place: format!("{}, line {line}, column {column:?}", file.path),
            fault: fault.to_string(),
        }
    }
}

/// One row of a table, by the names of its columns.
pub(crate) struct Row<'a> {
    pub(crate) file: &'a TableFile,
    pub(crate) line: u64,
    columns: &'a [&'static str],
    record: &'a csv::StringRecord,
}

impl Row<'_> {
    /// A cell, without the space around it.
    pub(crate) fn get(&self, column: &str) -> &str {
        let position = self.columns.iter().position(|name| *name == column);
        position
            .and_then(|position| self.record.get(position))
            .unwrap_or_default()
            .trim()
    }

    /// A fault in a cell.
    pub(crate) fn fault(&self, column: &str, fault: impl std::fmt::Display) -> TableError {
        TableError::cell(self.file, self.line, column, fault)
    }

    /// A cell that must not be empty.
    pub(crate) fn required(&self, column: &str) -> Result<&str, TableError> {
        match self.get(column) {
            "" => Err(self.fault(column, "found an empty cell; expected a value")),
            text => Ok(text),
        }
    }

    /// A cell that may be empty.
    pub(crate) fn optional<T>(
        &self,
        column: &str,
        read: impl FnOnce(&str) -> Result<T, String>,
    ) -> Result<Option<T>, TableError> {
        match self.get(column) {
            "" => Ok(None),
            text => read(text).map(Some).map_err(|fault| self.fault(column, fault)),
        }
    }
}

/// Reads every row of a table that has just these columns; a row at fault does not stop the others.
pub(crate) fn each_row(
    file: &TableFile,
    columns: &'static [&'static str],
    faults: &mut Vec<TableError>,
    mut read: impl FnMut(&Row<'_>) -> Result<(), TableError>,
) {
    let text = file.text.strip_prefix('\u{feff}').unwrap_or(&file.text);
    let mut reader = csv::ReaderBuilder::new()
        .flexible(true)
        .from_reader(text.as_bytes());
    match reader.headers() {
        Ok(found) if found.iter().map(str::trim).eq(columns.iter().copied()) => {}
        Ok(found) => {
            let found = found.iter().collect::<Vec<_>>().join(",");
            let fault = format!("found the columns {found}; expected {}", columns.join(","));
            return faults.push(TableError::cell(file, 1, "header", fault));
        }
        Err(error) => return faults.push(TableError::file(file, error)),
    }
    for record in reader.records() {
        let record = match record {
            Ok(record) => record,
            Err(error) => return faults.push(TableError::file(file, error)),
        };
        let line = record
            .position()
            .map_or(0, |at| at.line() + empty_lines_from(text, at.byte()));
        let row = Row {
            file,
            line,
            columns,
            record: &record,
        };
        let outcome = if record.len() == columns.len() {
            read(&row)
        } else {
            Err(row.fault(
                "row",
                format!("found {} cells; expected {}", record.len(), columns.len()),
            ))
        };
        faults.extend(outcome.err());
    }
}

/// Empty lines from a place on: the reader passes over them, and counts them only with the row that follows.
fn empty_lines_from(text: &str, byte: u64) -> u64 {
    let rest = usize::try_from(byte)
        .ok()
        .and_then(|byte| text.as_bytes().get(byte..));
    let breaks = rest
        .into_iter()
        .flatten()
        .take_while(|byte| matches!(byte, b'\r' | b'\n'));
    breaks.fold(0, |lines, byte| lines + u64::from(*byte == b'\n'))
}
