//! A record batch as lines of comma-separated values.

use arrow_array::{Array, RecordBatch};
use arrow_cast::display::{ArrayFormatter, FormatOptions};
use arrow_schema::{ArrowError, DataType};

/// What stands in a line for a row of a batch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Row {
    /// Its cells.
    Written,
    /// Nothing: all its cells are blank.
    Blank,
    /// Nothing: a cell cannot be written in a line.
    Refused(String),
}

/// Writes each row of a batch as one line; `rows` tells what each line holds.
pub(crate) fn write(batch: &RecordBatch, out: &mut Vec<u8>, rows: &mut Vec<Row>) -> Result<(), ArrowError> {
    out.clear();
    rows.clear();
    let options = FormatOptions::new().with_display_error(true);
    let columns = batch
        .columns()
        .iter()
        .map(|column| Ok((column, ArrayFormatter::try_new(column.as_ref(), &options)?)))
        .collect::<Result<Vec<_>, ArrowError>>()?;
    let schema = batch.schema();
    let mut cell = String::new();
    for number in 0..batch.num_rows() {
        let begin = out.len();
        let mut row = Row::Blank;
        for (position, (column, formatter)) in columns.iter().enumerate() {
            if position > 0 {
                out.push(b',');
            }
            if column.is_null(number) {
                continue;
            }
            cell.clear();
            formatter.value(number).write(&mut cell)?;
            let text = match (column.data_type(), cell.as_str()) {
                (DataType::Boolean, "true") => "yes",
                (DataType::Boolean, _) => "no",
                (_, text) => text,
            };
            if text.contains(['\n', '\r']) {
                let name = schema.field(position).name();
                row = Row::Refused(format!(
                    "column {name}: found a line break in the cell; expected text of one line"
                ));
                break;
            }
            if !text.trim().is_empty() {
                row = Row::Written;
            }
            quote(text, out);
        }
        if row != Row::Written {
            out.truncate(begin);
        }
        out.push(b'\n');
        rows.push(row);
    }
    Ok(())
}

/// The names of the columns as a line.
pub(crate) fn header(batch: &RecordBatch) -> String {
    let mut out = Vec::new();
    for (position, field) in batch.schema().fields().iter().enumerate() {
        if position > 0 {
            out.push(b',');
        }
        quote(field.name(), &mut out);
    }
    String::from_utf8_lossy(&out).into_owned()
}

fn quote(text: &str, out: &mut Vec<u8>) {
    if !text.contains(['"', ',']) {
        out.extend_from_slice(text.as_bytes());
        return;
    }
    out.push(b'"');
    for byte in text.bytes() {
        if byte == b'"' {
            out.push(b'"');
        }
        out.push(byte);
    }
    out.push(b'"');
}
