//! The published limits as data, and a measured value beside each of them.

use std::collections::BTreeMap;
use std::fmt;
use std::sync::LazyLock;

use super::condition::{DamageCategory, read_damage};
use super::uncertain::Uncertain;
use crate::choice::{Choice, choices};
use crate::measure::Length;
use crate::observation::Truth;
use crate::provisions::{Standing, TableError, TableFile};
use crate::table::{Row, each_row};

const LIMITS: &str = include_str!("../../../../tables/foundation-limits/limits.csv");
const DAMAGE: &str = include_str!("../../../../tables/foundation-limits/damage.csv");
const SOURCES: &str = include_str!("../../../../tables/foundation-limits/sources.csv");

const LIMIT_COLUMNS: [&str; 10] = [
    "limit",
    "measure",
    "value",
    "within",
    "effect",
    "applies_to",
    "source",
    "section",
    "standing",
    "note",
];
const SOURCE_COLUMNS: [&str; 7] = [
    "source",
    "document",
    "edition",
    "publisher",
    "where",
    "seen_on",
    "note",
];

choices! {
    /// What a limit is compared with.
    pub enum LimitMeasure: "measure" {
        /// Rotation of a stretch between two readings against the tilt of the floor as a whole.
        AngularDistortion = "angular_distortion", "angular distortion";
        /// Departure from the chord over its length, up or down.
        DeflectionRatio = "deflection_ratio", "deflection ratio";
        /// Departure below the chord over its length.
        SaggingRatio = "sagging_ratio", "deflection ratio in sagging";
        /// Departure above the chord over its length.
        HoggingRatio = "hogging_ratio", "deflection ratio in hogging";
        /// Slope of the best-fit plane.
        Tilt = "tilt", "tilt";
        /// Slope between neighboring readings.
        Slope = "slope", "slope between readings";
        /// Difference of height of two points no farther apart than a distance.
        Level = "level", "difference of level";
        /// Lean of a wood-framed wall.
        PlumbWoodFramed = "plumb_wood_framed", "plumb of a wood-framed wall";
        /// Lean of a concrete wall.
        PlumbConcrete = "plumb_concrete", "plumb of a concrete wall";
        /// Out of square over a length.
        Square = "square", "squareness";
        /// Error of a loop of readings.
        LoopClosure = "loop_closure", "loop closure";
        /// What a reading can be off.
        ReadingError = "reading_error", "reading error";
    }
}

/// The value of a limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LimitValue {
    /// One in so many.
    OneIn(u32),
    /// A length.
    Length(Length),
    /// A length over a distance, or between points within it.
    Within(Length, Length),
}

impl LimitValue {
    /// The limit as a slope; a length by itself is none.
    pub fn ratio(self) -> Option<f64> {
        match self {
            Self::OneIn(run) => Some(1.0 / f64::from(run)),
            Self::Within(rise, run) => Some(rise.as_inches_f64() / run.as_inches_f64()),
            Self::Length(_) => None,
        }
    }
}

impl fmt::Display for LimitValue {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OneIn(run) => write!(f, "1/{run}"),
            Self::Length(length) => length.fmt(f),
            Self::Within(rise, run) => write!(f, "{rise} in {run}"),
        }
    }
}

/// One published limit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Limit {
    /// Its name in the table.
    pub name: String,
    /// What it is compared with.
    pub measure: LimitMeasure,
    /// Its value.
    pub value: LimitValue,
    /// What is said to come at the limit.
    pub effect: String,
    /// What it was made for, which is seldom an old raised-floor wood house.
    pub applies_to: String,
    /// The document, with its edition.
    pub document: String,
    /// Where in the document.
    pub section: String,
    /// How well it was seen.
    pub standing: Standing,
    /// A note for the reader.
    pub note: String,
}

/// A measured value beside one limit.
#[derive(Clone, Debug, PartialEq)]
pub struct Compared<'a> {
    /// The limit.
    pub limit: &'a Limit,
    /// The value, in the unit of the limit: a slope for a ratio, inches for a length.
    pub value: Uncertain,
    /// Whether it is at most the limit; *maybe* where that is within what the readings can be off.
    pub kept: Truth,
}

/// Every published limit, and the scale of damage.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Limits {
    rows: Vec<Limit>,
    damage: Vec<DamageCategory>,
    closure: Limit,
    reading_error: (Length, Limit),
}

impl Limits {
    /// The shipped tables.
    pub fn shipped() -> &'static Self {
        static SHIPPED: LazyLock<Limits> = LazyLock::new(|| {
            // A test holds that the shipped tables read; a value without rows would find nothing exceeded.
            Limits::parse(LIMITS, DAMAGE, SOURCES).unwrap_or_else(|_| Limits::of_nothing())
        });
        &SHIPPED
    }

    /// What a table that cannot be read comes to: no limits, and readings of which nothing is known.
    fn of_nothing() -> Self {
        let nothing = |measure| Limit {
            name: String::new(),
            measure,
            value: LimitValue::Length(Length::ZERO),
            effect: String::new(),
            applies_to: String::new(),
            document: String::new(),
            section: String::new(),
            standing: Standing::CommonPractice,
            note: String::new(),
        };
        Self {
            rows: Vec::new(),
            damage: Vec::new(),
            closure: nothing(LimitMeasure::LoopClosure),
            reading_error: (Length::feet(1), nothing(LimitMeasure::ReadingError)),
        }
    }

    /// Reads the three files of the folder; the error lists every fault with file, line and column.
    pub fn parse(limits: &str, damage: &str, sources: &str) -> Result<Self, Vec<TableError>> {
        let file = |name: &str, text: &str| TableFile {
            path: format!("tables/foundation-limits/{name}"),
            name: name.to_owned(),
            text: text.to_owned(),
        };
        let mut faults = Vec::new();
        let documents = read_sources(&file("sources.csv", sources), &mut faults);
        let limits_file = file("limits.csv", limits);
        let mut rows: Vec<Limit> = Vec::new();
        each_row(&limits_file, &LIMIT_COLUMNS, &mut faults, |row| {
            let limit = read_limit(row, &documents)?;
            if rows.iter().any(|other| other.name == limit.name) {
                return Err(row.fault("limit", format!("found {:?} a second time", limit.name)));
            }
            rows.push(limit);
            Ok(())
        });
        let damage = read_damage(&file("damage.csv", damage), &documents, &mut faults);
        let one = |measure: LimitMeasure, faults: &mut Vec<TableError>| {
            let found = rows.iter().find(|limit| limit.measure == measure).cloned();
            if found.is_none() {
                let fault = format!("there is no row for {:?}; expected one", measure.spelling());
                faults.push(TableError::column(&limits_file, "measure", fault));
            }
            found
        };
        let closure = one(LimitMeasure::LoopClosure, &mut faults);
        let reading_error = one(LimitMeasure::ReadingError, &mut faults);
        match (closure, reading_error) {
            (Some(closure), Some(reading_error)) if faults.is_empty() => {
                let LimitValue::Length(error) = reading_error.value else {
                    return Err(vec![TableError::column(&limits_file, "value", NO_LENGTH)]);
                };
                Ok(Self {
                    rows,
                    damage,
                    closure,
                    reading_error: (error, reading_error),
                })
            }
            _ => Err(faults),
        }
    }

    /// Every limit, in the order of the table.
    pub fn all(&self) -> &[Limit] {
        &self.rows
    }

    /// The scale of damage, from the least category up.
    pub fn damage(&self) -> &[DamageCategory] {
        &self.damage
    }

    /// The limit for the error of a loop.
    pub fn closure(&self) -> &Limit {
        &self.closure
    }

    /// What a reading can be off where the record does not say, with its source.
    pub fn reading_error(&self) -> (Length, &Limit) {
        (self.reading_error.0, &self.reading_error.1)
    }

    /// The limits for one measure.
    pub fn of(&self, measure: LimitMeasure) -> impl Iterator<Item = &Limit> {
        self.rows.iter().filter(move |limit| limit.measure == measure)
    }

    /// A slope, zero or more, beside every limit for its measure.
    ///
    /// ```
    /// use retrofit_core::foundation::survey::{LimitMeasure, Limits, Uncertain};
    /// use retrofit_core::observation::Truth;
    /// // One in four hundred: some say that walls crack, others that they do not. All are shown.
    /// let compared = Limits::shipped().compare(LimitMeasure::AngularDistortion, Uncertain::new(0.0025, 0.0));
    /// assert!(compared.iter().any(|limit| limit.kept == Truth::False));
    /// assert!(compared.iter().any(|limit| limit.kept == Truth::True));
    /// ```
    pub fn compare(&self, measure: LimitMeasure, value: Uncertain) -> Vec<Compared<'_>> {
        self.of(measure)
            .filter_map(|limit| {
                Some(Compared {
                    limit,
                    value,
                    kept: value.at_most(limit.value.ratio()?),
                })
            })
            .collect()
    }
}

const NO_LENGTH: &str = "found no length by itself for what a reading can be off; expected one";

/// The documents by their keys.
pub(crate) type Documents = BTreeMap<String, String>;

pub(crate) fn read_sources(file: &TableFile, faults: &mut Vec<TableError>) -> Documents {
    let mut documents = Documents::new();
    each_row(file, &SOURCE_COLUMNS, faults, |row| {
        let key = row.required("source")?.to_owned();
        let document = match (row.required("document")?, row.get("edition")) {
            (document, "") => document.to_owned(),
            (document, edition) => format!("{document}, {edition}"),
        };
        if documents.insert(key.clone(), document).is_some() {
            return Err(row.fault("source", format!("found {key:?} a second time")));
        }
        Ok(())
    });
    documents
}

/// Document, section and standing of a row.
pub(crate) fn origin(row: &Row<'_>, documents: &Documents) -> Result<(String, String, Standing), TableError> {
    let key = row.required("source")?;
    let Some(document) = documents.get(key) else {
        return Err(row.fault(
            "source",
            format!("found {key:?}; expected a source of sources.csv"),
        ));
    };
    let standing = Standing::of_row(row)?;
    if (key == "none") != (standing == Standing::CommonPractice) {
        let fault = format!("found {:?} with the source {key:?}", standing.spelling());
        return Err(row.fault(
            "standing",
            format!("{fault}; expected common practice where there is no source, and only there"),
        ));
    }
    Ok((document.clone(), row.get("section").to_owned(), standing))
}

fn read_limit(row: &Row<'_>, documents: &Documents) -> Result<Limit, TableError> {
    let measure: LimitMeasure = row
        .required("measure")?
        .parse()
        .map_err(|error| row.fault("measure", error))?;
    let (document, section, standing) = origin(row, documents)?;
    Ok(Limit {
        name: row.required("limit")?.to_owned(),
        measure,
        value: read_value(row, measure)?,
        effect: row.required("effect")?.to_owned(),
        applies_to: row.required("applies_to")?.to_owned(),
        document,
        section,
        standing,
        note: row.get("note").to_owned(),
    })
}

fn read_value(row: &Row<'_>, measure: LimitMeasure) -> Result<LimitValue, TableError> {
    use LimitMeasure as M;
    let text = row.required("value")?;
    let length = |column: &str| {
        let length: Length = row
            .required(column)?
            .parse()
            .map_err(|error| row.fault(column, error))?;
        if length > Length::ZERO {
            Ok(length)
        } else {
            Err(row.fault(column, format!("found {length}; expected more than zero")))
        }
    };
    match measure {
        M::LoopClosure | M::ReadingError => length("value").map(LimitValue::Length),
        M::Level | M::PlumbWoodFramed | M::PlumbConcrete | M::Square => {
            Ok(LimitValue::Within(length("value")?, length("within")?))
        }
        M::AngularDistortion
        | M::DeflectionRatio
        | M::SaggingRatio
        | M::HoggingRatio
        | M::Tilt
        | M::Slope => {
            let run = text
                .strip_prefix("1/")
                .and_then(|run| run.parse::<u32>().ok())
                .filter(|run| *run > 0);
            run.map(LimitValue::OneIn)
                .ok_or_else(|| row.fault("value", format!("found {text:?}; expected a ratio such as 1/300")))
        }
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[test]
    fn the_shipped_tables_read() {
        let limits = Limits::parse(LIMITS, DAMAGE, SOURCES).unwrap();
        assert_eq!(&limits, Limits::shipped());
        assert_eq!(limits.damage().len(), 6);
        for measure in LimitMeasure::ALL {
            assert!(limits.of(*measure).next().is_some(), "{measure}");
        }
    }

    /// No figure gains a standing unnoticed.
    #[test]
    fn standings_are_what_they_were() {
        let limits = Limits::shipped();
        let count = |standing| {
            let of_limits = limits.all().iter().map(|limit| limit.standing);
            let of_damage = limits.damage().iter().map(|category| category.standing);
            of_limits.chain(of_damage).filter(|it| *it == standing).count()
        };
        assert_eq!(count(Standing::Verified), 0);
        assert_eq!(count(Standing::Secondary), 34);
        assert_eq!(count(Standing::CommonPractice), 1);
    }

    #[rstest]
    #[case::no_ratio("1/150", "0.01", "column \"value\"")]
    #[case::no_run("1/150", "1/0", "column \"value\"")]
    #[case::unknown_measure("angular_distortion,1/150", "anglar_distortion,1/150", "did you mean")]
    #[case::unknown_source("geo5-help", "geo6-help", "expected a source of sources.csv")]
    #[case::a_higher_standing("none,,common practice", "none,,verified", "column \"standing\"")]
    #[case::twice("skempton-macdonald-cracks", "skempton-macdonald-structural", "a second time")]
    #[case::no_distance("20 ft", "", "column \"within\"")]
    fn a_fault_is_named_with_its_place(#[case] from: &str, #[case] to: &str, #[case] words: &str) {
        let text = LIMITS.replacen(from, to, 1);
        assert_ne!(text, LIMITS);
        let errors = Limits::parse(&text, DAMAGE, SOURCES).unwrap_err();
        let told: Vec<String> = errors.iter().map(ToString::to_string).collect();
        assert!(told.iter().any(|error| error.contains(words)), "{told:?}");
        assert!(told[0].contains("limits.csv"), "{told:?}");
    }
}
