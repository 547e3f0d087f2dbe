//! A record batch as lines of comma-separated values.

use arrow_array::cast::AsArray;
use arrow_array::{Array, BooleanArray, LargeStringArray, RecordBatch, StringArray, StringViewArray};
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

/// The cells of a column.
enum Cells<'a> {
    Text(&'a StringArray),
    LongText(&'a LargeStringArray),
    TextView(&'a StringViewArray),
    Answers(&'a BooleanArray),
    Others(ArrayFormatter<'a>),
}

impl<'a> Cells<'a> {
    fn of(column: &'a dyn Array, options: &FormatOptions<'a>) -> Result<Self, ArrowError> {
        Ok(match column.data_type() {
            DataType::Utf8 => Self::Text(column.as_string()),
            DataType::LargeUtf8 => Self::LongText(column.as_string()),
            DataType::Utf8View => Self::TextView(column.as_string_view()),
            DataType::Boolean => Self::Answers(column.as_boolean()),
            _ => Self::Others(ArrayFormatter::try_new(column, options)?),
        })
    }

    /// The text of a cell that is not null, in a buffer where it has to be made.
    fn text<'t>(&'t self, number: usize, buffer: &'t mut String) -> Result<&'t str, ArrowError> {
        Ok(match self {
            Self::Text(column) => column.value(number),
            Self::LongText(column) => column.value(number),
            Self::TextView(column) => column.value(number),
            Self::Answers(column) if column.value(number) => "yes",
            Self::Answers(_) => "no",
            Self::Others(formatter) => {
                buffer.clear();
                formatter.value(number).write(buffer)?;
                buffer
            }
        })
    }
}

/// Writes each row of a batch as one line; `rows` tells what each line holds.
pub(crate) fn write(batch: &RecordBatch, out: &mut Vec<u8>, rows: &mut Vec<Row>) -> Result<(), ArrowError> {
    out.clear();
    rows.clear();
    let options = FormatOptions::new().with_display_error(true);
    let columns = batch
        .columns()
        .iter()
        .map(|column| Ok((column.logical_nulls(), Cells::of(column.as_ref(), &options)?)))
        .collect::<Result<Vec<_>, ArrowError>>()?;
    let schema = batch.schema();
    let mut buffer = String::new();
    for number in 0..batch.num_rows() {
        let begin = out.len();
        let mut row = Row::Blank;
        for (position, (nulls, cells)) in columns.iter().enumerate() {
            if position > 0 {
                out.push(b',');
            }
            if nulls.as_ref().is_some_and(|nulls| nulls.is_null(number)) {
                continue;
            }
            let text = cells.text(number, &mut buffer)?;
            if text.bytes().any(|byte| matches!(byte, b'\n' | b'\r')) {
                let name = schema.field(position).name();
                row = Row::Refused(format!(
                    "column {name}: found a line break in the cell; expected text of one line"
                ));
                break;
            }
            if row == Row::Blank && !text.trim().is_empty() {
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
    if !text.bytes().any(|byte| matches!(byte, b'"' | b',')) {
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
