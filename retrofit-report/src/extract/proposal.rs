//! A proposal for a column map, from the header of an extract and a sample of its rows.
//!
//! What is proposed is for someone to look over: names are matched by likeness, and a code means nothing until somebody
//! says what it means. Nothing is guessed of what a code may stand for, only hinted at in a comment.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;

use retrofit_core::choice::nearest;
use retrofit_core::portfolio::{
    COLUMNS, CellJudge, ColumnMap, DecimalMark, Delimiter, Encoding, FileForm, Form, Holds, ID, Layout,
    plain_number,
};
use toml::Value;

use super::Kind;
use super::features::Features;
use super::named::NamedRows;
use super::raw::RawRow;
use super::table::header;
use crate::triage::{Cells, Lines, TriageError, rows};

/// The maps that are shipped for public column sets, as examples too.
const SHIPPED: [&str; 5] = [
    include_str!("../../../examples/maps/county-residential-buildings.toml"),
    include_str!("../../../examples/maps/regional-parcels.toml"),
    include_str!("../../../examples/maps/listings.toml"),
    include_str!("../../../examples/maps/structure-inventory.toml"),
    include_str!("../../../examples/maps/city-roll.toml"),
];

/// How many rows are looked at.
const SAMPLE: usize = 2_000;

/// More codes than this are no list.
const MOST_CODES: usize = 60;

/// A map to be looked over.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Proposal {
    /// The map as commented TOML.
    pub text: String,
    /// The public column set that was recognized.
    pub recognized: Option<String>,
    /// How many rows were looked at.
    pub rows: usize,
}

/// How others name what our columns hold: letters and digits only, in small letters; and the unit of a bare number.
const NAMES: [(&str, Option<&str>, &[&str]); 21] = [
    (
        "id",
        None,
        &[
            "id",
            "parcel",
            "parcelid",
            "parcelnumber",
            "parcelno",
            "pin",
            "apn",
            "ain",
            "fdid",
            "accountnumber",
            "listingid",
            "listingkey",
            "propertyid",
            "objectid",
            "blklot",
            "featureid",
        ],
    ),
    (
        "year_built",
        None,
        &[
            "yearbuilt",
            "yrbuilt",
            "builtyear",
            "yearpropertybuilt",
            "medyrblt",
            "actualyearbuilt",
            "yearconstructed",
            "constructionyear",
        ],
    ),
    (
        "stories",
        None,
        &[
            "stories",
            "storys",
            "storeys",
            "numstory",
            "numstories",
            "nostories",
            "numberofstories",
            "storiestotal",
            "floors",
            "storyheight",
        ],
    ),
    (
        "units",
        None,
        &[
            "units",
            "residentialunits",
            "nbrlivingunits",
            "numberofunits",
            "dwellingunits",
            "livingunits",
            "unitstotal",
            "numberofunitstotal",
        ],
    ),
    (
        "floor_area",
        Some("sq ft"),
        &[
            "floorarea",
            "buildingsqft",
            "bldgsqft",
            "sqft",
            "sqfttotliving",
            "livingarea",
            "grosslivingarea",
            "propertyarea",
            "totalsqft",
            "buildingarea",
            "squarefeet",
            "squarefootage",
        ],
    ),
    (
        "exterior",
        None,
        &[
            "exterior",
            "exteriorwall",
            "extwall",
            "siding",
            "constructionmaterials",
            "exteriorfeatures",
        ],
    ),
    (
        "roof",
        None,
        &["roof", "roofcover", "rooftype", "roofmaterial", "roofing"],
    ),
    (
        "foundation_kind",
        None,
        &[
            "foundation",
            "foundationtype",
            "foundationdetails",
            "foundtype",
            "fndtype",
            "foundationkind",
        ],
    ),
    (
        "foundation_condition",
        None,
        &["foundationcondition", "foundationstate"],
    ),
    (
        "slope",
        Some("%"),
        &["slope", "slopepercent", "siteslope", "percentslope"],
    ),
    (
        "seismic_category",
        None,
        &["seismiccategory", "sdc", "seismicdesigncategory"],
    ),
    (
        "cripple_wall_height",
        Some("in"),
        &["cripplewallheight", "cwheight", "shortwallheight"],
    ),
    (
        "crawl_space_area",
        Some("sq ft"),
        &["crawlspacearea", "crawlarea", "sqftcrawl"],
    ),
    (
        "earlier_retrofit",
        None,
        &["retrofit", "retrofitted", "earlierretrofit", "seismicretrofit"],
    ),
    (
        "district",
        None,
        &[
            "district",
            "neighborhood",
            "assessorneighborhood",
            "councildistrict",
        ],
    ),
    ("known_by", None, &["knownby"]),
    ("region", None, &["region", "county", "countyid"]),
    ("longitude", None, &["longitude", "lon", "lng", "long", "x"]),
    ("latitude", None, &["latitude", "lat", "y"]),
    (
        "replacement_value",
        Some("dollars"),
        &[
            "replacementvalue",
            "replacementcost",
            "valstruct",
            "reconstructioncost",
        ],
    ),
    ("climate_zone", None, &["climatezone", "iecczone"]),
];

/// Texts that only fill a gap, in small letters.
const GAPS: [&str; 12] = [
    "n/a",
    "na",
    "unk",
    "unknown",
    "null",
    "nan",
    "-",
    "--",
    "?",
    ".",
    "not available",
    "#n/a",
];

/// Proposes a column map for an extract.
pub fn propose(path: &Path) -> Result<Proposal, TriageError> {
    let sample = Sample::read(path)?;
    let recognized = SHIPPED
        .iter()
        .filter_map(|text| toml::from_str::<ColumnMap>(text).ok())
        .filter_map(|map| sample.recognized(map))
        .max_by_key(|(_, there)| *there);
    let (text, recognized) = match recognized {
        Some((map, _)) => (sample.adapted(&map), Some(map.name)),
        None => (sample.proposed(), None),
    };
    Ok(Proposal {
        text,
        recognized,
        rows: sample.rows.len(),
    })
}

/// The header of an extract and some of its rows.
struct Sample {
    file: String,
    form: FileForm,
    header: Vec<String>,
    rows: Vec<Vec<String>>,
}

impl Sample {
    fn read(path: &Path) -> Result<Self, TriageError> {
        match Kind::of(path) {
            Kind::Table => Self::of_table(path),
            Kind::Features => Self::of_named(path, Features::open(path, false)?),
            #[cfg(feature = "parquet")]
            Kind::Columnar => Self::of_named(path, super::columnar::Columnar::open(path)?),
            #[cfg(not(feature = "parquet"))]
            Kind::Columnar => Err(TriageError::NoParquet(path.to_owned())),
            Kind::HomeEnergy => Err(TriageError::MapOfHomeEnergy(path.to_owned())),
        }
    }

    fn of_named<R: NamedRows>(path: &Path, mut source: R) -> Result<Self, TriageError> {
        let (mut rows, mut cells): (Vec<Vec<String>>, _) = (Vec::new(), Vec::new());
        while rows.len() < SAMPLE {
            let next = source
                .next(&mut cells)
                .map_err(|error| TriageError::read(path, error))?;
            match next {
                None => break,
                Some(Ok(())) => rows.push(cells.iter().map(|cell| cell.trim().to_owned()).collect()),
                // The coverage tells of it.
                Some(Err(_)) => {}
            }
        }
        let mut header = source.header().to_vec();
        // What a file could have and has nowhere is nothing to propose.
        for at in (0..header.len()).rev() {
            let is_made = header
                .get(at)
                .is_some_and(|name| R::MADE.contains(&name.as_str()));
            if is_made && rows.iter().all(|row| row.get(at).is_none_or(String::is_empty)) {
                header.remove(at);
                for row in &mut rows {
                    row.remove(at);
                }
            }
        }
        Ok(Self {
            file: path.display().to_string(),
            form: FileForm::default(),
            header,
            rows,
        })
    }

    fn of_table(path: &Path) -> Result<Self, TriageError> {
        let mut lines = Lines::open(path)?;
        let (mut block, mut bad) = (lines.header_bytes()?, Vec::new());
        block.push(b'\n');
        let mut more = Vec::new();
        lines.next_block(&mut more, &mut bad)?;
        block.append(&mut more);
        let encoding = match std::str::from_utf8(&block) {
            Ok(_) => Encoding::Utf8,
            Err(_) => Encoding::Windows1252,
        };
        let delimiter = delimiter(&block);
        let mut form = FileForm {
            delimiter,
            encoding,
            decimal: DecimalMark::Point,
        };
        let mut raw = RawRow::new(form);
        // What cannot be read as a header is told as it will be told of the whole extract.
        let names = header(&mut Lines::open(path)?, &mut raw)?;
        let sample: Vec<Vec<String>> = rows(&block, 1)
            .skip(1)
            .filter_map(|(_, line)| {
                raw.read(line).ok()?;
                Some(raw.cells().map(|cell| cell.trim().to_owned()).collect::<Vec<_>>())
            })
            .filter(|row| row.len() == names.len())
            .take(SAMPLE)
            .collect();
        if delimiter == Delimiter::Semicolon && has_decimal_commas(&sample) {
            form.decimal = DecimalMark::Comma;
        }
        Ok(Self {
            file: path.display().to_string(),
            form,
            header: names,
            rows: sample,
        })
    }

    /// How many of the columns of a map are there, where most are.
    fn recognized(&self, map: ColumnMap) -> Option<(ColumnMap, usize)> {
        let has = |name: &&str| self.header.iter().any(|other| other.eq_ignore_ascii_case(name));
        let all = map.sources().count();
        let there = map.sources().filter(has).count();
        (there >= 3 && there * 5 >= all * 3).then_some((map, there))
    }

    /// A shipped map without the columns that are not there.
    fn adapted(&self, shipped: &ColumnMap) -> String {
        let has = |name: &String| self.header.iter().any(|other| other.eq_ignore_ascii_case(name));
        let mut map = shipped.clone();
        let missing: Vec<String> = shipped
            .sources()
            .map(str::to_owned)
            .filter(|name| !has(name))
            .collect();
        map.columns.retain(|_, rule| rule.from.0.iter().all(has));
        map.inferences.retain(|inference| inference.when.keys().all(has));
        map.file = self.form;
        let mut text = String::new();
        comment(
            &mut text,
            &format!(
                "Proposed for {}: its columns are those of \"{}\".",
                self.file, shipped.name
            ),
        );
        if !missing.is_empty() {
            comment(
                &mut text,
                &format!(
                    "Left out, since their columns are not there: {}.",
                    missing.join(", ")
                ),
            );
        }
        if !map.columns.contains_key(ID) {
            let (at, why) = self.id();
            comment(
                &mut text,
                &format!("The house is named by {:?}: {why}.", self.name(at)),
            );
            map = map.with(ID, retrofit_core::portfolio::ColumnRule::from([self.name(at)]));
        }
        self.foot(&mut text, &map);
        // Every part of a map can be written; were one not, nothing would be proposed.
        text.push('\n');
        text.push_str(&toml::to_string(&map).unwrap_or_default());
        text
    }

    fn proposed(&self) -> String {
        let (id, why) = self.id();
        let mut columns: BTreeMap<&str, (usize, Option<&str>)> = BTreeMap::new();
        for (at, name) in self.header.iter().enumerate() {
            // Of several columns that could name the house, one does.
            if at != id
                && let Some((ours, unit)) = ours(name)
                && ours != ID
            {
                columns.entry(ours).or_insert((at, unit));
            }
        }
        let mut body = String::new();
        self.column(&mut body, ID, id, None, &format!("names the house: {why}"));
        for (ours, (at, unit)) in &columns {
            self.column(&mut body, ours, *at, *unit, "");
        }

        let mut text = String::new();
        comment(
            &mut text,
            &format!(
                "Proposed for {} from its header and {} rows. Look it over: names were matched by likeness.",
                self.file,
                self.rows.len()
            ),
        );
        comment(
            &mut text,
            "A code that means \"\" tells nothing until you say what it means.",
        );
        entry(&mut text, "format", "column-map-1");
        entry(&mut text, "name", self.file.as_str());
        let gaps = self.gaps();
        if !gaps.is_empty() {
            comment(&mut text, "Texts of the sample that only fill a gap.");
            entry(&mut text, "blank", gaps);
        }
        let form = self.form;
        if form != FileForm::default() {
            text.push_str("\n[file]\n");
            if let Ok(Value::Table(table)) = Value::try_from(form) {
                text.push_str(&table.to_string());
            }
        }
        text.push_str(&body);
        text.push('\n');
        let used: Vec<usize> = columns.values().map(|(at, _)| *at).chain([id]).collect();
        let unused = self
            .header
            .iter()
            .enumerate()
            .filter(|(at, name)| !used.contains(at) && !name.is_empty());
        let unused: Vec<&str> = unused.map(|(_, name)| name.as_str()).collect();
        not_used(&mut text, &unused);
        text
    }

    /// One of our columns with what the sample says of it.
    fn column(&self, text: &mut String, ours: &str, at: usize, unit: Option<&str>, remark: &str) {
        let values = self.values(at);
        let filled: usize = values.values().sum();
        let _ = write!(text, "\n[columns.{ours}]\n");
        let mut seen: Vec<_> = values.iter().collect();
        seen.sort_by_key(|(value, count)| (std::cmp::Reverse(**count), value.as_str()));
        let examples: Vec<&str> = seen.iter().take(3).map(|(value, _)| value.as_str()).collect();
        comment(
            text,
            &format!(
                "Filled in {filled} of {} rows{}{}.",
                self.rows.len(),
                if examples.is_empty() {
                    String::new()
                } else {
                    format!(", such as {}", examples.join(", "))
                },
                if remark.is_empty() {
                    String::new()
                } else {
                    format!("; {remark}")
                }
            ),
        );
        entry(text, "from", self.name(at));
        let holds = COLUMNS
            .iter()
            .find(|column| column.name == ours)
            .map(retrofit_core::portfolio::Column::holds);
        let has_bare_numbers = values.keys().any(|value| self.number(value).is_some());
        if let (Some(unit), true) = (unit_of(self.name(at), holds.as_ref()).or(unit), has_bare_numbers) {
            comment(text, "The unit of a bare number; the extract does not say it.");
            entry(text, "unit", unit);
        }
        let blank = self.number_gaps(ours, &values);
        if !blank.is_empty() {
            comment(text, "These stand out in the sample and are taken for gaps.");
            entry(text, "blank", blank);
        }
        let terms: Vec<&str> = match &holds {
            Some(Holds::OneOf(terms)) => terms.clone(),
            Some(Holds::YesOrNo) => vec!["yes", "no"],
            _ => return,
        };
        self.codes(text, ours, &terms, &seen);
    }

    /// The codes of a column, where it has any that are not ours already.
    fn codes(&self, text: &mut String, ours: &str, terms: &[&str], seen: &[(&String, &usize)]) {
        let gaps = self.gaps();
        let codes: Vec<_> = seen.iter().filter(|(value, _)| !gaps.contains(*value)).collect();
        let mut judge = CellJudge::new(ours);
        let is_ours = |value: &str| {
            terms.contains(&value)
                || (terms == ["yes", "no"]
                    && ["y", "n", "true", "false", "yes", "no"]
                        .contains(&value.to_ascii_lowercase().as_str()))
        };
        if codes.iter().all(|(value, _)| is_ours(value)) {
            return;
        }
        if codes.len() > MOST_CODES {
            comment(
                text,
                &format!(
                    "{} different texts; of a column with as many no code can be listed here.",
                    codes.len()
                ),
            );
            entry(text, "otherwise", "unknown");
            return;
        }
        comment(
            text,
            &format!(
                "What is not listed is a bad row; otherwise = \"unknown\" lets it be unknown. Our words: {}.",
                terms.join(", ")
            ),
        );
        let _ = writeln!(text, "[columns.{ours}.codes]");
        for (value, count) in codes {
            let plain = value.to_ascii_lowercase().replace([' ', '-'], "_");
            // Only what is our word already stands for itself; of anything else somebody has to say so.
            let word = if judge.accepts(&plain).is_ok() {
                plain.as_str()
            } else {
                ""
            };
            let hint = if word.is_empty() {
                let likely = terms.iter().find(|term| plain.contains(**term)).copied();
                likely.or_else(|| nearest(&plain, terms.iter().copied()))
            } else {
                None
            };
            let mut line = String::new();
            entry(&mut line, value, word);
            let hint = hint.map_or_else(String::new, |hint| format!("; perhaps \"{hint}\""));
            let _ = writeln!(text, "{} # {count} of {}{hint}", line.trim_end(), self.rows.len());
        }
    }

    /// The column that names the house: one that is called so, or the first whose texts are all different.
    fn id(&self) -> (usize, &'static str) {
        let is_named = |at: &usize| ours(self.name(*at)).is_some_and(|(column, _)| column == ID);
        let is_filled = |at: &usize| !self.values(*at).is_empty();
        let named = || (0..self.header.len()).filter(is_named);
        if let Some(at) = named().find(is_filled).or_else(|| named().next()) {
            return (at, "by its name");
        }
        let is_unique = |at: usize| {
            let values = self.values(at);
            !self.rows.is_empty() && values.len() == self.rows.len()
        };
        if let Some(at) = (0..self.header.len()).find(|at| is_unique(*at) && !self.name(*at).is_empty()) {
            return (at, "its texts are all different");
        }
        let first = self.header.iter().position(|name| !name.is_empty());
        (
            first.unwrap_or_default(),
            "no column is called so, and no texts are all different; name the right one",
        )
    }

    fn name(&self, at: usize) -> &str {
        self.header.get(at).map_or("", String::as_str)
    }

    /// The texts of a column, each with how often it stands there; blanks are left out.
    fn values(&self, at: usize) -> BTreeMap<String, usize> {
        let mut values = BTreeMap::new();
        for cell in self
            .rows
            .iter()
            .filter_map(|row| row.get(at))
            .filter(|cell| !cell.is_empty())
        {
            *values.entry(cell.clone()).or_default() += 1;
        }
        values
    }

    fn number(&self, text: &str) -> Option<f64> {
        let mut plain = String::new();
        plain_number(text, self.form.decimal, &mut plain).then(|| plain.parse().ok())?
    }

    /// Texts of the sample that only fill a gap.
    fn gaps(&self) -> Vec<String> {
        let mut gaps: Vec<String> = self
            .rows
            .iter()
            .flatten()
            .filter(|cell| GAPS.contains(&cell.to_ascii_lowercase().as_str()))
            .cloned()
            .collect();
        gaps.sort();
        gaps.dedup();
        gaps
    }

    /// Numbers that can only fill a gap: nothing was built in the year 0, and where far more houses seem to be of 1900
    /// than of the years beside it, the year is a way to say that nobody knows.
    fn number_gaps(&self, ours: &str, values: &BTreeMap<String, usize>) -> Vec<String> {
        let count = |number: f64| -> usize {
            values
                .iter()
                .filter(|(text, _)| {
                    self.number(text)
                        .is_some_and(|other| other.total_cmp(&number).is_eq())
                })
                .map(|(_, count)| count)
                .sum()
        };
        let mut gaps = Vec::new();
        if [
            "year_built",
            "stories",
            "floor_area",
            "replacement_value",
            "crawl_space_area",
        ]
        .contains(&ours)
            && count(0.0) > 0
        {
            gaps.push("0".to_owned());
        }
        if ours == "year_built" {
            let beside = count(1899.0) + count(1901.0);
            if count(1900.0) >= 5 && count(1900.0) > 5 * beside {
                gaps.push("1900".to_owned());
            }
            if count(9999.0) > 0 {
                gaps.push("9999".to_owned());
            }
        }
        gaps
    }

    fn foot(&self, text: &mut String, map: &ColumnMap) {
        let used: Vec<&str> = map.sources().collect();
        let is_unused =
            |name: &&str| !name.is_empty() && !used.iter().any(|other| other.eq_ignore_ascii_case(name));
        let unused: Vec<&str> = self.header.iter().map(String::as_str).filter(is_unused).collect();
        not_used(text, &unused);
    }
}

fn not_used(text: &mut String, names: &[&str]) {
    if names.is_empty() {
        return;
    }
    comment(text, &format!("Not used: {}.", names.join(", ")));
    comment(
        text,
        "To hand one on unread: [columns.x_name] and from = \"Its Name\".",
    );
}

/// The column of ours that a name stands for, and the unit of a bare number.
fn ours(name: &str) -> Option<(&'static str, Option<&'static str>)> {
    let plain: String = name
        .chars()
        .filter(char::is_ascii_alphanumeric)
        .collect::<String>()
        .to_ascii_lowercase();
    let is_here = |column: &str| Layout::new([ID, column], Form::OneTable).is_ok() || column == ID;
    let known = NAMES.iter().find(|(_, _, names)| names.contains(&plain.as_str()));
    if let Some((column, unit, _)) = known.filter(|(column, _, _)| is_here(column)) {
        return Some((column, *unit));
    }
    let same = COLUMNS
        .iter()
        .find(|column| column.name.replace('_', "") == plain);
    same.map(|column| (column.name, None))
}

/// The unit that the name of a column ends with.
fn unit_of(name: &str, holds: Option<&Holds>) -> Option<&'static str> {
    let name = name.to_ascii_lowercase();
    let ends = |ends: &[&str]| ends.iter().any(|end| name.ends_with(end));
    match holds? {
        Holds::Length if ends(&["_ft", " ft", "(ft)", "feet"]) => Some("ft"),
        Holds::Length if ends(&["_in", " in", "(in)", "inches"]) => Some("in"),
        Holds::Length if ends(&["_cm", " cm", "(cm)"]) => Some("cm"),
        Holds::Length if ends(&["_m", " m", "(m)", "meters"]) => Some("m"),
        Holds::Area if ends(&["_m2", "sqm", "sq_m", "(m2)", "m²"]) => Some("sq m"),
        Holds::Area if ends(&["sqft", "sq_ft", "sf", "(sq ft)"]) => Some("sq ft"),
        _ => None,
    }
}

/// The mark that takes the header apart into most names.
fn delimiter(block: &[u8]) -> Delimiter {
    let line = rows(block, 1).next().map_or(&b""[..], |(_, line)| line);
    let header = String::from_utf8_lossy(line);
    let cells = |delimiter: Delimiter| {
        let mut cells = Cells::delimited_by(delimiter.byte());
        cells.split(&header).map_or(0, |()| cells.len())
    };
    // Of equals the first: where no mark is found at all, a comma is what is expected.
    let mut best = Delimiter::Comma;
    for other in Delimiter::ALL {
        if cells(other) > cells(best) {
            best = other;
        }
    }
    best
}

/// Whether numbers of the sample have decimals after a comma.
fn has_decimal_commas(sample: &[Vec<String>]) -> bool {
    let is_one = |cell: &&String| {
        cell.split_once(',').is_some_and(|(whole, decimals)| {
            let is_digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
            is_digits(whole) && is_digits(decimals) && decimals.len() != 3
        })
    };
    sample.iter().flatten().filter(is_one).count() > 0
}

fn entry(text: &mut String, key: &str, value: impl Into<Value>) {
    let mut table = toml::Table::new();
    table.insert(key.to_owned(), value.into());
    text.push_str(&table.to_string());
}

/// A comment; whatever stands in a cell stays in its line.
fn comment(text: &mut String, words: &str) {
    let plain: String = words
        .chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    let _ = writeln!(text, "# {plain}");
}
