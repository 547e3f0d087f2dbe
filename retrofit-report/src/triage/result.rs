//! The line of output on one house.

use std::collections::HashMap;

use retrofit_core::check::{Counts, LookAt, Outcome, Quantity, Ruling};
use retrofit_core::choice::Choice;
use retrofit_core::portfolio::Digest;
use retrofit_core::provisions::{Figure, Provisions, Standing};
use serde::{Serialize, Serializer};

use super::Format;
use super::cells::Cells;

/// The columns of the output besides those handed on from the input.
const COLUMNS: [&str; 14] = [
    "verdict",
    "best",
    "worst",
    "rests_on",
    "met",
    "not_met",
    "not_determined",
    "not_applicable",
    "outside",
    "deficiency",
    "wall_line",
    "measured",
    "required",
    "look_at",
];

/// What is known of one house once it has been checked.
pub(super) struct ResultRow<'a> {
    /// Its name.
    pub(super) id: &'a str,
    /// The name of the wall line whose deficiency governs, where it is one of a wall line.
    pub(super) wall_line: &'a str,
    pub(super) digest: &'a Digest,
    /// Its line in the input, and the cells of that line.
    pub(super) line: &'a str,
    pub(super) cells: &'a Cells,
}

impl ResultRow<'_> {
    fn wall_line(&self) -> &str {
        let governing = self.digest.governing.and_then(|finding| finding.wall_line);
        governing.map_or("", |_| self.wall_line)
    }
}

/// Writes results in one format.
#[derive(Clone, Debug)]
pub(super) struct ResultWriter<'a> {
    format: Format,
    provisions: &'a Provisions,
    /// The columns handed on: where they stand in the input, and their names.
    passed: Vec<(usize, String)>,
    texts: Texts,
    looks: String,
}

impl<'a> ResultWriter<'a> {
    pub(super) fn new(format: Format, provisions: &'a Provisions, passed: Vec<(usize, String)>) -> Self {
        Self {
            format,
            provisions,
            passed,
            texts: Texts::default(),
            looks: String::new(),
        }
    }

    /// What stands before the first result.
    pub(super) fn header(&self) -> Vec<u8> {
        let mut out = Vec::new();
        if self.format == Format::Csv {
            cell("id", &mut out);
            for name in self.passed.iter().map(|(_, name)| name.as_str()).chain(COLUMNS) {
                out.push(b',');
                cell(name, &mut out);
            }
            out.push(b'\n');
        }
        out
    }

    pub(super) fn write(&mut self, row: &ResultRow<'_>, out: &mut Vec<u8>) {
        match self.format {
            Format::Csv => self.write_csv(row, out),
            Format::JsonLines => self.write_json(row, out),
        }
    }

    fn write_csv(&mut self, row: &ResultRow<'_>, out: &mut Vec<u8>) {
        let digest = row.digest;
        cell(row.id, out);
        for (position, _) in &self.passed {
            out.push(b',');
            cell(row.cells.get(row.line, *position), out);
        }
        for word in [
            digest.outcomes.ruling().words(),
            words(digest.outcomes.best()),
            words(digest.outcomes.worst()),
            digest.standing.map_or("", Standing::spelling),
        ] {
            out.push(b',');
            out.extend_from_slice(word.as_bytes());
        }
        let counts = digest.counts;
        for count in [
            counts.met,
            counts.not_met,
            counts.not_determined,
            counts.not_applicable,
            counts.outside,
        ] {
            out.push(b',');
            number(count, out);
        }
        out.push(b',');
        match &digest.governing {
            None => out.extend_from_slice(b",,,"),
            Some(finding) => {
                out.extend_from_slice(finding.check().name.as_bytes());
                out.push(b',');
                cell(row.wall_line(), out);
                let shown = [finding.measured, finding.required];
                for text in self.texts.of(shown, self.provisions) {
                    out.push(b',');
                    cell(text, out);
                }
            }
        }
        out.push(b',');
        self.looks.clear();
        for look_at in digest.next.iter().flatten() {
            if !self.looks.is_empty() {
                self.looks.push_str("; ");
            }
            self.looks.push_str(look_at.words());
        }
        cell(&self.looks, out);
        out.push(b'\n');
    }

    fn write_json(&mut self, row: &ResultRow<'_>, out: &mut Vec<u8>) {
        let digest = row.digest;
        let governing = digest.governing.as_ref();
        let quantities = governing.map_or([Quantity::None; 2], |finding| {
            [finding.measured, finding.required]
        });
        let [measured, required] = self.texts.of(quantities, self.provisions);
        let deficiency = governing.map(|finding| Deficiency {
            check: finding.check().name,
            wall_line: Some(row.wall_line()).filter(|name| !name.is_empty()),
            measured: Some(measured).filter(|text| !text.is_empty()),
            required: Some(required).filter(|text| !text.is_empty()),
        });
        let line = JsonRow {
            id: row.id,
            verdict: digest.outcomes.ruling(),
            best: digest.outcomes.best(),
            worst: digest.outcomes.worst(),
            rests_on: digest.standing,
            counts: digest.counts,
            deficiency,
            look_at: Looks(&digest.next),
            passed: Passed(&self.passed, row),
        };
        // Nothing in the row can fail to be written: no number is a float and no key is anything but text.
        if serde_json::to_writer(&mut *out, &line).is_ok() {
            out.push(b'\n');
        }
    }
}

/// The texts of quantities that were shown before: the same few come up again and again.
#[derive(Clone, Debug, Default)]
struct Texts {
    known: HashMap<Quantity, String>,
}

impl Texts {
    /// How many are kept before beginning anew, so that memory does not grow with the file.
    const MOST: usize = 4096;

    /// The texts of two quantities; empty where there is nothing to show.
    fn of(&mut self, quantities: [Quantity; 2], provisions: &Provisions) -> [&str; 2] {
        if self.known.len() > Self::MOST {
            self.known.clear();
        }
        for quantity in quantities {
            if quantity == Quantity::None {
                continue;
            }
            self.known.entry(quantity).or_insert_with(|| match quantity {
                Quantity::Figure(id) => match provisions.figure(id).and_then(Figure::value) {
                    Some(value) => value.to_string(),
                    None => String::new(),
                },
                quantity => quantity.to_string(),
            });
        }
        let known = &self.known;
        quantities.map(|quantity| match quantity {
            Quantity::None => "",
            quantity => known.get(&quantity).map_or("", String::as_str),
        })
    }
}

const fn words(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::NotApplicable => Ruling::NotApplicable.words(),
        Outcome::Met => Ruling::Met.words(),
        Outcome::NotMet => Ruling::NotMet.words(),
        Outcome::Outside => Ruling::Outside.words(),
    }
}

/// Writes a cell, in quotes where it needs them. What a spreadsheet would take for a formula gets an
/// apostrophe before it, which a spreadsheet shows as text.
pub(crate) fn cell(text: &str, out: &mut Vec<u8>) {
    let bytes = text.as_bytes();
    let is_formula = matches!(bytes.first(), Some(b'=' | b'+' | b'-' | b'@' | b'\t' | b'\r'));
    let is_plain = !is_formula
        && memchr::memchr3(b',', b'"', b'\n', bytes).is_none()
        && memchr::memchr(b'\r', bytes).is_none();
    if is_plain {
        out.extend_from_slice(bytes);
        return;
    }
    out.push(b'"');
    if is_formula {
        out.push(b'\'');
    }
    let mut rest = bytes;
    while let Some((before, after)) = memchr::memchr(b'"', rest).and_then(|at| rest.split_at_checked(at + 1))
    {
        out.extend_from_slice(before);
        out.push(b'"');
        rest = after;
    }
    out.extend_from_slice(rest);
    out.push(b'"');
}

fn number(number: u32, out: &mut Vec<u8>) {
    // Nearly all counts have one or two digits; u32 has ten at most.
    let mut digits = [0u8; 10];
    let mut rest = number;
    let mut used = 0;
    for digit in digits.iter_mut().rev() {
        *digit = b'0' + u8::try_from(rest % 10).unwrap_or_default();
        rest /= 10;
        used += 1;
        if rest == 0 {
            break;
        }
    }
    out.extend_from_slice(digits.get(digits.len() - used..).unwrap_or_default());
}

#[derive(Serialize)]
struct JsonRow<'a> {
    id: &'a str,
    verdict: Ruling,
    best: Outcome,
    worst: Outcome,
    rests_on: Option<Standing>,
    counts: Counts,
    deficiency: Option<Deficiency<'a>>,
    look_at: Looks<'a>,
    passed: Passed<'a>,
}

#[derive(Serialize)]
struct Deficiency<'a> {
    check: &'static str,
    wall_line: Option<&'a str>,
    measured: Option<&'a str>,
    required: Option<&'a str>,
}

struct Looks<'a>(&'a [Option<LookAt>]);

impl Serialize for Looks<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.0.iter().flatten().map(|look_at| look_at.spelling()))
    }
}

struct Passed<'a>(&'a [(usize, String)], &'a ResultRow<'a>);

impl Serialize for Passed<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let Self(columns, row) = self;
        serializer.collect_map(
            columns
                .iter()
                .map(|(position, name)| (name, row.cells.get(row.line, *position))),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    #[rstest]
    #[case("plain", "plain")]
    #[case("6'-0\"", "\"6'-0\"\"\"")]
    #[case("a,b", "\"a,b\"")]
    #[case("=SUM(A1)", "\"'=SUM(A1)\"")]
    #[case("+1", "\"'+1\"")]
    #[case("-1", "\"'-1\"")]
    #[case("@x", "\"'@x\"")]
    #[case("\tx", "\"'\tx\"")]
    fn no_cell_is_a_formula(#[case] text: &str, #[case] expected: &str) {
        let mut out = Vec::new();
        cell(text, &mut out);
        assert_eq!(String::from_utf8(out).unwrap(), expected);
    }

    #[rstest]
    #[case(0)]
    #[case(7)]
    #[case(10)]
    #[case(4_294_967_295)]
    fn numbers_are_written_as_the_standard_library_writes_them(#[case] value: u32) {
        let mut out = Vec::new();
        number(value, &mut out);
        assert_eq!(String::from_utf8(out).unwrap(), value.to_string());
    }
}
