//! Readings from a table, with every fault located.

use crate::choice::parse_choice;
use crate::house::{BaseCheck, FloorFinish, LevelReading, PlanPoint};
use crate::measure::Length;
use crate::observation::Observed;
use crate::table::{Row, TableError, TableFile, each_row};

const COLUMNS: [&str; 7] = ["label", "x", "y", "height", "finish", "thickness", "minute"];

/// The label of a row that repeats the reading of the base point.
const BASE: &str = "base";

/// What a table of readings holds.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ReadingsFile {
    /// What the base point showed at the start, where the first row says it.
    pub base_height: Option<Length>,
    /// The readings, in order.
    pub readings: Vec<LevelReading>,
    /// The line of the table that each reading stands in.
    pub lines: Vec<u64>,
    /// The repeat readings of the base point, in order.
    pub base_checks: Vec<BaseCheck>,
}

/// Reads a table of readings with the columns `label`, `x`, `y`, `height`, `finish`, `thickness` and
/// `minute`, one reading a row in the order they were taken. A row labeled `base` is a reading of the base
/// point and has no place and no finish; at the head of the table it is what the base showed at the start. An
/// empty `finish` or `thickness` is not known, and `unknown` says so.
///
/// ```
/// use retrofit_core::foundation::survey::readings_from_csv;
/// let table = "label,x,y,height,finish,thickness,minute\n\
///              A1,2 ft,2 ft,1/4 in,hardwood,3/4 in,\n\
///              A2,12 ft,2 ft,0 in,carpet,,\n\
///              base,,,1/16 in,,,\n";
/// let file = readings_from_csv("readings.csv", table).unwrap();
/// assert_eq!((file.readings.len(), file.base_checks[0].after), (2, 2));
/// assert_eq!(file.lines, [2, 3]);
///
/// let errors = readings_from_csv("readings.csv", &table.replace("12 ft", "12")).unwrap_err();
/// assert!(errors[0].to_string().starts_with("readings.csv, line 3, column \"x\": found the bare number 12"));
/// ```
pub fn readings_from_csv(file: &str, text: &str) -> Result<ReadingsFile, Vec<TableError>> {
    let file = TableFile {
        path: file.to_owned(),
        name: file.to_owned(),
        text: text.to_owned(),
    };
    let mut faults = Vec::new();
    let mut found = ReadingsFile::default();
    let mut is_first = true;
    each_row(&file, &COLUMNS, &mut faults, |row| {
        let at_head = std::mem::take(&mut is_first);
        let minute = row.optional("minute", |text| {
            text.parse::<u16>()
                .map_err(|_| format!("found {:?}; expected whole minutes, such as 12", shortened(text)))
        })?;
        let height = length(row, "height")?;
        if row.get("label") != BASE {
            found.readings.push(reading(row, height, minute)?);
            found.lines.push(row.line);
            return Ok(());
        }
        for column in ["x", "y", "finish", "thickness"] {
            if !row.get(column).is_empty() {
                let fault = format!(
                    "found {:?}; expected an empty cell in a row of the base point",
                    shortened(row.get(column))
                );
                return Err(row.fault(column, fault));
            }
        }
        if at_head {
            found.base_height = Some(height);
        } else {
            found.base_checks.push(BaseCheck {
                after: u16::try_from(found.readings.len()).unwrap_or(u16::MAX),
                height,
                minute,
            });
        }
        Ok(())
    });
    if faults.is_empty() { Ok(found) } else { Err(faults) }
}

fn reading(row: &Row<'_>, height: Length, minute: Option<u16>) -> Result<LevelReading, TableError> {
    let finish = match row.get("finish") {
        "" => Observed::default(),
        "unknown" => Observed::unknown("said to be unknown in the table of readings"),
        text => {
            Observed::seen(parse_choice::<FloorFinish>(text).map_err(|error| row.fault("finish", error))?)
        }
    };
    let finish_thickness = match row.get("thickness") {
        "" => Observed::default(),
        "unknown" => Observed::unknown("said to be unknown in the table of readings"),
        _ => Observed::measured(length(row, "thickness")?),
    };
    Ok(LevelReading {
        label: row.get("label").to_owned(),
        at: PlanPoint {
            x: length(row, "x")?,
            y: length(row, "y")?,
        },
        height,
        finish,
        finish_thickness,
        minute,
    })
}

fn length(row: &Row<'_>, column: &str) -> Result<Length, TableError> {
    row.required(column)?
        .parse()
        .map_err(|error| row.fault(column, error))
}

fn shortened(text: &str) -> String {
    text.chars().take(40).collect()
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    const HEAD: &str = "label,x,y,height,finish,thickness,minute\n";

    #[rstest]
    #[case::no_table("", "found the columns")]
    #[case::other_columns("label,x,y,height\n", "expected label,x,y,height,finish,thickness,minute")]
    #[case::bare_height("A,1 ft,1 ft,3,,,", "line 2, column \"height\"")]
    #[case::no_height("A,1 ft,1 ft,,,,", "line 2, column \"height\": found an empty cell")]
    #[case::unknown_finish("A,1 ft,1 ft,3 in,carpt,,", "did you mean \"carpet\"")]
    #[case::base_with_a_place("base,1 ft,,3 in,,,", "line 2, column \"x\"")]
    #[case::late("A,1 ft,1 ft,3 in,,,noon", "line 2, column \"minute\"")]
    #[case::cells_missing("A,1 ft,1 ft", "found 3 cells; expected 7")]
    #[case::endless("A,1e999 ft,1 ft,3 in,,,", "line 2, column \"x\"")]
    fn a_fault_is_named_with_its_place(#[case] table: &str, #[case] words: &str) {
        let text = if table.starts_with('A') || table.starts_with("base") {
            format!("{HEAD}{table}\n")
        } else {
            table.to_owned()
        };
        let errors = readings_from_csv("survey.csv", &text).unwrap_err();
        let told = errors[0].to_string();
        assert!(told.contains(words) && told.starts_with("survey.csv"), "{told}");
    }

    #[test]
    fn the_base_at_the_head_is_where_it_starts() {
        let text = format!("{HEAD}base,,,1 in,,,0\nA,0 ft,0 ft,1 in,bare,,5\nbase,,,1 in,,,9\n");
        let file = readings_from_csv("survey.csv", &text).unwrap();
        assert_eq!(file.base_height, Some(Length::inches(1)));
        assert_eq!(
            file.base_checks,
            [BaseCheck {
                after: 1,
                height: Length::inches(1),
                minute: Some(9)
            }]
        );
    }
}
