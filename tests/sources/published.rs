//! Published values as tables: what is checked, with what inputs, what the source prints, and how far off is
//! still the same number. Every row is computed; the failure lists all rows that do not come out.
#![allow(dead_code, reason = "each test uses what it needs of it")]

use retrofit_core::screen::StandardTable;

/// One published value.
pub(crate) struct Row {
    /// What is checked.
    pub(crate) check: String,
    inputs: Vec<(String, String)>,
}

impl Row {
    /// An input as text.
    pub(crate) fn text(&self, name: &str) -> &str {
        self.optional(name)
            .unwrap_or_else(|| panic!("{}: no input {name:?}", self.check))
    }

    /// An input that a row may leave out.
    pub(crate) fn optional(&self, name: &str) -> Option<&str> {
        let found = self.inputs.iter().find(|(key, _)| key == name);
        found.map(|(_, value)| value.as_str())
    }

    /// An input as a number.
    pub(crate) fn number(&self, name: &str) -> f64 {
        self.text(name)
            .parse()
            .unwrap_or_else(|_| panic!("{}: {name} is no number", self.check))
    }

    /// An input as several numbers.
    pub(crate) fn numbers(&self, name: &str) -> Vec<f64> {
        let numbers = self.text(name).split(' ').map(str::parse);
        numbers.collect::<Result<_, _>>().unwrap()
    }
}

/// What a row comes to.
#[derive(Debug, PartialEq)]
pub(crate) enum Outcome {
    /// A number.
    Number(f64),
    /// A word, such as a category.
    Word(String),
    /// Refused, with the reason.
    Refused(String),
}

impl<E: std::fmt::Display> From<Result<f64, E>> for Outcome {
    fn from(result: Result<f64, E>) -> Self {
        result.map_or_else(|error| Self::Refused(error.to_string()), Self::Number)
    }
}

/// A shipped edition of a standard.
pub(crate) fn table(id: &str) -> StandardTable {
    StandardTable::shipped(id).unwrap_or_else(|faults| panic!("{faults:#?}"))
}

/// Computes every row of a table, whose number of rows is told so that none is skipped. A row whose standing
/// is *disagrees* must not come out as its source prints it: such rows are kept, not loosened.
pub(crate) fn every_row(csv: &str, count: usize, compute: impl Fn(&Row) -> Outcome) {
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let columns = ["check", "inputs", "published", "tolerance", "standing", "source"];
    assert_eq!(reader.headers().unwrap(), columns.as_slice());
    let mut rows = 0;
    let mut failures = Vec::new();
    for record in reader.records() {
        let record = record.unwrap();
        let [check, inputs, published, tolerance, standing, source] =
            std::array::from_fn(|column| record.get(column).unwrap());
        assert!(
            !standing.is_empty() && !source.is_empty(),
            "{check}, {inputs}: no source"
        );
        rows += 1;
        let pair = |pair: &str| {
            let (name, value) = pair.split_once('=').unwrap();
            (name.to_owned(), value.to_owned())
        };
        let row = Row {
            check: check.to_owned(),
            inputs: inputs
                .split("; ")
                .filter(|text| !text.is_empty())
                .map(pair)
                .collect(),
        };
        let outcome = compute(&row);
        let tolerance: f64 = tolerance.parse().unwrap();
        let agrees = match (&outcome, published.parse::<f64>()) {
            // What is computed in binary may miss a printed decimal by its last bit.
            (Outcome::Number(number), Ok(printed)) => (number - printed).abs() <= tolerance + 1e-9,
            (Outcome::Word(word), Err(_)) => word == published,
            (Outcome::Refused(_), Err(_)) => published == "refused",
            _ => false,
        };
        if agrees == (standing == "disagrees") {
            failures.push(format!(
                "line {}: {check} ({inputs}): printed {published}, {standing}; computed {outcome:?}; {source}",
                rows + 1
            ));
        }
    }
    assert!(
        failures.is_empty(),
        "{} of {rows} rows:\n{}",
        failures.len(),
        failures.join("\n")
    );
    assert_eq!(rows, count, "rows of the table");
}
