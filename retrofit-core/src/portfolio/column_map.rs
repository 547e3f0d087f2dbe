//! Column maps: how an extract with columns of its own becomes a portfolio.
//!
//! A [`ColumnMap`] says for each of our columns where its cells come from, in which unit a bare number stands, what a
//! code means, and which texts only fill a gap. It is compiled once against the header of an extract into a
//! [`Translator`], which then turns row after row into a line of our columns, in memory that is used again.
//!
//! What a map concludes from other columns ([`Inference`]) is written as *inferred* and never as seen, and the row says
//! why. Everything else is known as the map says; where it says nothing, as *reported*: nobody who keeps an extract
//! looked under the house for it.
//!
//! ```
//! use retrofit_core::portfolio::{ColumnMap, ColumnRule};
//!
//! let map = ColumnMap::new("An invented roll")
//!     .with("id", ColumnRule::from(["Major", "Minor"]).joined_by("-").of_widths([6, 4]))
//!     .with("year_built", ColumnRule::from(["YrBuilt"]).blank_where(["0", "1900"]))
//!     .with("floor_area", ColumnRule::from(["SqFtTotLiving"]).in_unit("sq ft"));
//! let mut translator = map.compile(&["Major", "Minor", "YrBuilt", "SqFtTotLiving"])?;
//! assert_eq!(translator.names(), ["id", "known_by", "floor_area", "year_built"]);
//!
//! let cells = ["4021", "35", "1900", "1,480"];
//! let mut line = Vec::new();
//! translator.translate(|column| cells[column], &mut line)?;
//! assert_eq!(line, b"004021-0035,reported,1480 sq ft,\n");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod compile;
mod number;
mod translator;

use std::collections::BTreeMap;
use std::fmt;

use serde::de::{Error as _, SeqAccess, Visitor};
use serde::{Deserialize, Deserializer, Serialize};
use thiserror::Error;

pub use compile::CellJudge;
pub use number::{DecimalMark, plain_number};
pub use translator::{CellState, Translator};

/// The column in which a translated row says what was inferred in it, and why.
pub const INFERRED: &str = "x_inferred";

/// How an extract with columns of its own becomes a portfolio.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ColumnMap {
    /// The format of the map.
    pub format: MapFormat,
    /// What it is for.
    pub name: String,
    /// What of it was seen, where, and what is from memory.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub about: String,
    /// How everything that is read is known; left out, *reported*.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub known_by: Option<String>,
    /// Texts that only fill a gap, in every column.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub blank: Vec<String>,
    /// How the file is written.
    #[serde(default, skip_serializing_if = "FileForm::is_plain")]
    pub file: FileForm,
    /// Our columns, each with where it comes from.
    pub columns: BTreeMap<String, ColumnRule>,
    /// What is concluded where a column says nothing itself; of several that fit, the first.
    #[serde(default, rename = "infer", skip_serializing_if = "Vec::is_empty")]
    pub inferences: Vec<Inference>,
}

/// The format of a map.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum MapFormat {
    /// The first.
    #[default]
    #[serde(rename = "column-map-1")]
    One,
}

/// How an extract is written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct FileForm {
    /// What stands between its cells.
    pub delimiter: Delimiter,
    /// How its text is encoded.
    pub encoding: Encoding,
    /// What stands before the decimals of its numbers.
    pub decimal: DecimalMark,
}

impl FileForm {
    #[expect(clippy::trivially_copy_pass_by_ref, reason = "serde asks with a reference")]
    fn is_plain(&self) -> bool {
        *self == Self::default()
    }
}

/// What stands between cells.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Delimiter {
    /// `,`
    #[default]
    Comma,
    /// `;`
    Semicolon,
    /// A tab.
    Tab,
    /// `|`
    Bar,
}

impl Delimiter {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Comma, Self::Semicolon, Self::Tab, Self::Bar];

    /// The byte of the file.
    pub const fn byte(self) -> u8 {
        match self {
            Self::Comma => b',',
            Self::Semicolon => b';',
            Self::Tab => b'\t',
            Self::Bar => b'|',
        }
    }
}

/// How text is encoded.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Encoding {
    /// UTF-8.
    #[default]
    #[serde(rename = "utf-8")]
    Utf8,
    /// Windows-1252, which older office programs write.
    #[serde(rename = "windows-1252")]
    Windows1252,
}

/// Where the cells of one of our columns come from.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ColumnRule {
    /// The columns of the extract: one, or several that are put together.
    #[serde(default, skip_serializing_if = "Names::is_empty")]
    pub from: Names,
    /// What stands in every row instead.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub constant: Option<String>,
    /// What is put between several columns.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub join: Option<String>,
    /// How many characters each of them has; zeros are put before what is shorter.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub widths: Vec<usize>,
    /// The unit of a bare number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<String>,
    /// Texts that only fill a gap in this column.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub blank: Vec<String>,
    /// What a code of the extract means in our words; an empty text says that it tells nothing.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub codes: BTreeMap<String, String>,
    /// What stands between several codes in one cell.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub separator: Option<String>,
    /// Which of our words to take where several codes differ, the worst first; left out, they tell nothing then.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub worst_first: Vec<String>,
    /// What becomes of a cell that is on no list and cannot be read.
    #[serde(default, skip_serializing_if = "Otherwise::is_error")]
    pub otherwise: Otherwise,
}

/// What becomes of a cell that cannot be read.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Otherwise {
    /// Its row is a bad row.
    #[default]
    Error,
    /// It is unknown, and counted as such in the coverage.
    Unknown,
}

impl Otherwise {
    #[expect(clippy::trivially_copy_pass_by_ref, reason = "serde asks with a reference")]
    fn is_error(&self) -> bool {
        *self == Self::Error
    }
}

/// One name, or several.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Names(pub Vec<String>);

impl Names {
    fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

impl Serialize for Names {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self.0.as_slice() {
            [one] => serializer.serialize_str(one),
            several => serializer.collect_seq(several),
        }
    }
}

impl<'de> Deserialize<'de> for Names {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct OneOrSeveral;
        impl<'de> Visitor<'de> for OneOrSeveral {
            type Value = Names;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("the name of a column, or a list of names")
            }
            fn visit_str<E: serde::de::Error>(self, name: &str) -> Result<Names, E> {
                Ok(Names(vec![name.to_owned()]))
            }
            fn visit_seq<A: SeqAccess<'de>>(self, mut names: A) -> Result<Names, A::Error> {
                let mut all = Vec::new();
                while let Some(name) = names.next_element()? {
                    all.push(name);
                }
                if all.is_empty() {
                    return Err(A::Error::invalid_length(0, &self));
                }
                Ok(Names(all))
            }
        }
        deserializer.deserialize_any(OneOrSeveral)
    }
}

/// A conclusion from other columns, drawn where a column says nothing itself.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Inference {
    /// Our column.
    pub column: String,
    /// What is concluded.
    pub then: String,
    /// Why it may be; the row says so.
    pub because: String,
    /// Columns of the extract and what has to be so in each of them, all at once.
    pub when: BTreeMap<String, Test>,
}

/// What has to be so in a cell. Of what is not asked for nothing is required.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Test {
    /// It is one of these texts.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub is: Vec<String>,
    /// It is a number above this one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub above: Option<f64>,
    /// It is a number below this one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub below: Option<f64>,
}

impl ColumnMap {
    /// A map without columns.
    pub fn new(name: &str) -> Self {
        Self {
            format: MapFormat::One,
            name: name.to_owned(),
            about: String::new(),
            known_by: None,
            blank: Vec::new(),
            file: FileForm::default(),
            columns: BTreeMap::new(),
            inferences: Vec::new(),
        }
    }

    /// The map with one column more.
    #[must_use]
    pub fn with(mut self, column: &str, rule: ColumnRule) -> Self {
        self.columns.insert(column.to_owned(), rule);
        self
    }

    /// The columns of the extract that the map reads, each once.
    pub fn sources(&self) -> impl Iterator<Item = &str> {
        let of_columns = self.columns.values().flat_map(|rule| &rule.from.0);
        let of_inferences = self.inferences.iter().flat_map(|inference| inference.when.keys());
        let all: std::collections::BTreeSet<&str> =
            of_columns.chain(of_inferences).map(String::as_str).collect();
        all.into_iter()
    }
}

impl ColumnRule {
    /// Cells that come from one column, or from several put together.
    pub fn from<'a>(columns: impl IntoIterator<Item = &'a str>) -> Self {
        Self {
            from: Names(columns.into_iter().map(str::to_owned).collect()),
            ..Self::default()
        }
    }

    /// The same text in every row.
    pub fn constant(text: &str) -> Self {
        Self {
            constant: Some(text.to_owned()),
            ..Self::default()
        }
    }

    /// With a text between the columns that are put together.
    #[must_use]
    pub fn joined_by(mut self, text: &str) -> Self {
        self.join = Some(text.to_owned());
        self
    }

    /// With zeros before what has lost them.
    #[must_use]
    pub fn of_widths(mut self, widths: impl Into<Vec<usize>>) -> Self {
        self.widths = widths.into();
        self
    }

    /// With the unit of a bare number.
    #[must_use]
    pub fn in_unit(mut self, unit: &str) -> Self {
        self.unit = Some(unit.to_owned());
        self
    }

    /// With texts that only fill a gap.
    #[must_use]
    pub fn blank_where<'a>(mut self, texts: impl IntoIterator<Item = &'a str>) -> Self {
        self.blank = texts.into_iter().map(str::to_owned).collect();
        self
    }

    /// With what the codes of the extract mean.
    #[must_use]
    pub fn coded<'a>(mut self, codes: impl IntoIterator<Item = (&'a str, &'a str)>) -> Self {
        let owned = |(code, word): (&str, &str)| (code.to_owned(), word.to_owned());
        self.codes = codes.into_iter().map(owned).collect();
        self
    }

    /// With unknown for what cannot be read, instead of a bad row.
    #[must_use]
    pub fn or_unknown(mut self) -> Self {
        self.otherwise = Otherwise::Unknown;
        self
    }
}

/// What is wrong with a map, and where in it.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{}: {problem}", path.join("."))]
pub struct MapFault {
    /// The keys that lead to the place, from the outermost.
    pub path: Vec<String>,
    /// What was found and what was expected.
    pub problem: String,
}

/// A cell of an extract that cannot be translated.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("column {column}: {problem}")]
pub struct SourceFault {
    /// The column of the extract.
    pub column: String,
    /// What was found and what was expected.
    pub problem: String,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::house::House;
    use crate::observation::Basis;
    use crate::portfolio::{Form, Layout, RowReader};
    use rstest::rstest;

    fn line(map: &ColumnMap, header: &[&str], cells: &[&str]) -> Result<String, SourceFault> {
        let mut translator = map.compile(header).unwrap();
        let mut out = b"before".to_vec();
        translator
            .translate(|column| cells[column], &mut out)
            .inspect_err(|_| assert_eq!(out, b"before", "a row that fails leaves nothing"))?;
        Ok(String::from_utf8(out).unwrap().split_off("before".len()))
    }

    fn one(column: &str, rule: ColumnRule, cell: &str) -> Result<String, SourceFault> {
        let map = ColumnMap::new("")
            .with("id", ColumnRule::from(["A"]))
            .with(column, rule);
        let line = line(&map, &["A", "B"], &["x", cell])?;
        Ok(line.trim_end().strip_prefix("x,reported,").unwrap().to_owned())
    }

    fn from_b() -> ColumnRule {
        ColumnRule::from(["B"])
    }

    #[rstest]
    #[case("year_built", from_b(), " 1,926 ", "1926")]
    #[case("year_built", from_b().blank_where(["0", "1900"]), "1900.0", "")]
    #[case("year_built", from_b().blank_where(["0"]), "0000", "")]
    #[case("year_built", from_b().blank_where(["N/A"]), "n/a", "")]
    #[case("stories", from_b(), "1 1/2", "1.5")]
    #[case("stories", from_b().coded([("1.75", "2")]), "1.75", "2")]
    #[case("stories", from_b().coded([("1.75", "2")]), "2.0", "2")]
    #[case("stories", from_b().or_unknown(), "1.75", "")]
    #[case("floor_area", from_b().in_unit("sq ft"), "1,480", "1480 sq ft")]
    #[case("floor_area", from_b().in_unit("sq m"), "137.5", "137.5 sq m")]
    #[case("wall_length", from_b().in_unit("ft"), "24'-6\"", "\"24'-6\"\"\"")]
    #[case("slope", from_b().in_unit("%"), "20", "20 %")]
    #[case("rooms_over_garage", from_b(), "Y", "yes")]
    #[case("rooms_over_garage", from_b().coded([("0", "no"), ("1", "yes")]), "1", "yes")]
    #[case("foundation_kind", from_b().coded([("C", "concrete"), ("U", "")]), "c", "concrete")]
    #[case("foundation_kind", from_b().coded([("C", "concrete"), ("U", "")]), "U", "")]
    #[case("foundation_kind", from_b().coded([("C", "concrete")]).or_unknown(), "Q", "")]
    #[case("x_grade", from_b(), " 007, \"A\" ", "\"007, \"\"A\"\"\"")]
    #[case("x_grade", from_b(), "two\nlines", "\"two lines\"")]
    fn a_cell_becomes_ours(
        #[case] column: &str,
        #[case] rule: ColumnRule,
        #[case] cell: &str,
        #[case] expected: &str,
    ) {
        assert_eq!(one(column, rule, cell).unwrap(), expected);
    }

    #[test]
    fn a_code_that_is_not_listed_is_told_by_the_column_of_the_extract() {
        let error = one("foundation_kind", from_b().coded([("Conc", "concrete")]), "Cong").unwrap_err();
        assert_eq!(error.column, "B");
        assert_eq!(
            error.problem,
            "found \"Cong\"; expected a code of the map: one of Conc; did you mean \"Conc\"?"
        );
    }

    /// What is open beside a word may be worse, so that only the worst word of all stands beside it.
    #[rstest]
    #[case(&[], "Slab, Perimeter", "")]
    #[case(&[], "Perimeter,Perimeter", "no")]
    #[case(&[], "Perimeter,Other", "")]
    #[case(&["yes", "no"], "Perimeter, Slab", "yes")]
    #[case(&["yes", "no"], "Other,Slab", "yes")]
    #[case(&["yes", "no"], "Other,Perimeter", "")]
    #[case(&["yes", "no"], "Other", "")]
    #[case(&["yes", "no"], ",", "")]
    fn several_codes_in_a_cell(#[case] worst_first: &[&str], #[case] cell: &str, #[case] expected: &str) {
        let mut rule = from_b().coded([("Slab", "yes"), ("Perimeter", "no"), ("Other", "")]);
        rule.separator = Some(",".into());
        rule.worst_first = worst_first.iter().map(|word| (*word).to_owned()).collect();
        assert_eq!(one("slab_or_pole_portion", rule, cell).unwrap(), expected);
    }

    fn with_inference() -> ColumnMap {
        let mut map = ColumnMap::new("")
            .with("id", ColumnRule::from(["A"]))
            .with("rooms_over_garage", ColumnRule::from(["Over"]));
        map.inferences.push(Inference {
            column: "rooms_over_garage".into(),
            then: "yes".into(),
            because: "the garage lies in the basement".into(),
            when: [(
                "Garage".to_owned(),
                Test {
                    above: Some(0.0),
                    ..Test::default()
                },
            )]
            .into(),
        });
        map
    }

    #[rstest]
    #[case(
        "",
        "440",
        "x,reported,inferred: yes,rooms_over_garage: the garage lies in the basement\n"
    )]
    #[case("no", "440", "x,reported,no,\n")]
    #[case("", "0", "x,reported,,\n")]
    #[case("", "", "x,reported,,\n")]
    #[case("", "some", "x,reported,,\n")]
    fn what_is_concluded_says_so_and_why(#[case] over: &str, #[case] garage: &str, #[case] expected: &str) {
        let header = ["A", "Over", "Garage"];
        assert_eq!(
            line(&with_inference(), &header, &["x", over, garage]).unwrap(),
            expected
        );
    }

    #[test]
    fn what_is_concluded_is_never_read_as_seen() {
        let mut translator = with_inference().compile(&["A", "Over", "Garage"]).unwrap();
        let mut out = Vec::new();
        translator
            .translate(|column| ["x", "", "1"][column], &mut out)
            .unwrap();
        let names = translator.names().iter().map(String::as_str);
        let mut reader = RowReader::one_table(Layout::new(names, Form::OneTable).unwrap());
        let mut house = House::default();
        let line = String::from_utf8(out).unwrap();
        reader.read(&mut house, line.trim_end().split(',')).unwrap();
        assert_eq!(house.building.rooms_over_garage.basis(), Some(Basis::Inferred));
    }

    #[rstest]
    #[case(ColumnMap::new(""), "columns", "no column \"id\"")]
    #[case(with_inference().with("storeys", from_b()), "columns.storeys", "did you mean \"stories\"?")]
    #[case(with_inference().with("stories", ColumnRule::from(["Ovr"])), "columns.stories.from", "did you mean \"Over\"?")]
    #[case(with_inference().with("stories", ColumnRule::default()), "columns.stories", "neither")]
    #[case(with_inference().with("stories", ColumnRule::constant("one")), "columns.stories.constant", "found \"one\"")]
    #[case(with_inference().with("floor_area", ColumnRule::from(["A"]).in_unit("acre-ft")), "columns.floor_area.unit", "acre-ft")]
    #[case(with_inference().with("units", ColumnRule::from(["A"]).in_unit("ft")), "columns.units.unit", "\"ft\"")]
    #[case(with_inference().with("roof", ColumnRule::from(["A"]).coded([("T", "tiles")])), "columns.roof.codes.T", "did you mean \"tile\"?")]
    #[case(with_inference().with("x_a", ColumnRule::from(["A"]).in_unit("ft")), "columns.x_a.unit", "handed on")]
    #[case(with_inference().with("id", ColumnRule::from(["A"]).of_widths([2, 3])), "columns.id.widths", "found 2")]
    #[case(with_inference().with("x_inferred", from_b()), "columns.x_inferred", "another name")]
    fn a_faulty_map_is_refused_with_its_place(
        #[case] map: ColumnMap,
        #[case] path: &str,
        #[case] says: &str,
    ) {
        let fault = map.compile(&["A", "Over", "Garage"]).unwrap_err();
        assert_eq!(fault.path.join("."), path, "{fault}");
        assert!(fault.problem.contains(says), "{fault}");
        assert!(fault.problem.contains("found"), "{fault}");
    }

    #[test]
    fn a_faulty_conclusion_is_refused_with_its_place() {
        let broken = |change: fn(&mut Inference)| {
            let mut map = with_inference();
            change(&mut map.inferences[0]);
            map.compile(&["A", "Over", "Garage"]).unwrap_err().path.join(".")
        };
        assert_eq!(broken(|it| it.column = "id".into()), "infer.0.column");
        assert_eq!(broken(|it| it.then = "perhaps".into()), "infer.0.then");
        assert_eq!(broken(|it| it.because = " ".into()), "infer.0.because");
        assert_eq!(broken(|it| it.when.clear()), "infer.0.when");
        assert_eq!(
            broken(|it| it.when = [("Garage".to_owned(), Test::default())].into()),
            "infer.0.when.Garage"
        );
    }
}
