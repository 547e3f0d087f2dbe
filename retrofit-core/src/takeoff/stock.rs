//! What material comes in: sheets, cartridges, nails by the pound, and what is lost on the way.

use std::fmt;
use std::str::FromStr;
use std::sync::LazyLock;

use crate::house::Nail;
use crate::measure::{Length, Percent};
use crate::provisions::{Standing, TableError, TableFile};
use crate::table::{Row, each_row};

const SHIPPED: &str = include_str!("../../../tables/takeoff-stock/stock.csv");

const COLUMNS: [&str; 7] = ["figure", "of", "value", "source", "section", "standing", "note"];

/// Sheets larger than this are not carried under a house; a larger figure is a slip of the pen.
const LARGEST_SHEET: Length = Length::feet(30);

/// A figure with its origin.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sourced<T> {
    /// The figure.
    pub value: T,
    /// The key of its source in the source sheet beside the table.
    pub source: String,
    /// Where in the source.
    pub section: String,
    /// How well the source was seen.
    pub standing: Standing,
    /// A note for the reader.
    pub note: String,
}

/// A size of sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Sheet {
    /// The longer side.
    pub length: Length,
    /// The shorter side.
    pub width: Length,
}

impl fmt::Display for Sheet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{} x {}",
            self.width.in_feet_inches(),
            self.length.in_feet_inches()
        )
    }
}

/// What material comes in, from an editable table.
///
/// ```
/// use retrofit_core::measure::Length;
/// use retrofit_core::takeoff::Stock;
/// let stock = Stock::shipped();
/// let longest = stock.sheets().map(|sheet| sheet.length).max();
/// assert_eq!(longest, Some(Length::feet(10)));
/// assert_eq!(stock.per_pound("8d common".parse()?), Some(100));
/// // No table of box nails was seen, so their weight is not known.
/// assert_eq!(stock.per_pound("8d box".parse()?), None);
/// # Ok::<(), String>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stock {
    sheets: Vec<Sourced<Sheet>>,
    kerf: Sourced<Length>,
    hole_oversize: Sourced<Length>,
    nut_height: Sourced<u32>,
    thread_past_nut: Sourced<u32>,
    cartridge: Sourced<u32>,
    adhesive_allowance: Sourced<Percent>,
    nail_allowance: Sourced<Percent>,
    nails: Vec<Sourced<(Nail, u32)>>,
}

/// The rows read so far: a figure that stands once, or a list.
#[derive(Default)]
struct Rows {
    sheets: Vec<Sourced<Sheet>>,
    kerf: Option<Sourced<Length>>,
    hole_oversize: Option<Sourced<Length>>,
    nut_height: Option<Sourced<u32>>,
    thread_past_nut: Option<Sourced<u32>>,
    cartridge: Option<Sourced<u32>>,
    adhesive_allowance: Option<Sourced<Percent>>,
    nail_allowance: Option<Sourced<Percent>>,
    nails: Vec<Sourced<(Nail, u32)>>,
}

impl Stock {
    /// The table shipped with the program.
    pub fn shipped() -> &'static Self {
        static STOCK: LazyLock<Stock> = LazyLock::new(|| {
            // A test holds that the shipped table reads; were it not to, nothing would be cut from nothing.
            Stock::parse("stock.csv", SHIPPED).unwrap_or_else(|_| Stock::empty())
        });
        &STOCK
    }

    /// Reads a table from its text; the error lists every fault, each with file, line and column.
    ///
    /// ```
    /// use retrofit_core::takeoff::Stock;
    /// let faults = Stock::parse("mine.csv", "figure,of,value,source,section,standing,note\nsaw-kerf,,-1/8 in,x,,memory,\n");
    /// let told = faults.unwrap_err()[0].to_string();
    /// assert!(told.starts_with("mine.csv, line 2, column \"value\": found"), "{told}");
    /// ```
    pub fn parse(file: &str, text: &str) -> Result<Self, Vec<TableError>> {
        let file = TableFile {
            path: file.to_owned(),
            name: file.to_owned(),
            text: text.to_owned(),
        };
        let mut faults = Vec::new();
        let mut rows = Rows::default();
        each_row(&file, &COLUMNS, &mut faults, |row| rows.read(row));
        faults.extend(rows.missing().into_iter().map(|missing| {
            TableError::column(
                &file,
                "figure",
                format!("there is no row for {missing:?}; expected one"),
            )
        }));
        match rows.stock() {
            Some(stock) if faults.is_empty() => Ok(stock),
            _ => Err(faults),
        }
    }

    fn empty() -> Self {
        fn none<T: Default>() -> Sourced<T> {
            Sourced {
                value: T::default(),
                source: String::new(),
                section: String::new(),
                standing: Standing::CommonPractice,
                note: String::new(),
            }
        }
        let nothing = Sourced {
            value: Percent::from_hundredths(0).unwrap_or_default(),
            ..none()
        };
        Self {
            sheets: Vec::new(),
            kerf: none(),
            hole_oversize: none(),
            nut_height: none(),
            thread_past_nut: none(),
            cartridge: none(),
            adhesive_allowance: nothing.clone(),
            nail_allowance: nothing,
            nails: Vec::new(),
        }
    }

    /// Sizes of sheet, shortest first.
    pub fn sheets(&self) -> impl Iterator<Item = Sheet> + '_ {
        self.sheets.iter().map(|sheet| sheet.value)
    }

    /// What a saw takes out of a sheet at each cut.
    pub const fn kerf(&self) -> &Sourced<Length> {
        &self.kerf
    }

    /// How much wider than its rod the hole of an adhesive anchor is.
    pub const fn hole_oversize(&self) -> &Sourced<Length> {
        &self.hole_oversize
    }

    /// The height of a nut in rod diameters.
    pub const fn nut_height(&self) -> &Sourced<u32> {
        &self.nut_height
    }

    /// The thread that stands out of a nut, in rod diameters.
    pub const fn thread_past_nut(&self) -> &Sourced<u32> {
        &self.thread_past_nut
    }

    /// What a cartridge of adhesive holds, in milliliters.
    pub const fn cartridge(&self) -> &Sourced<u32> {
        &self.cartridge
    }

    /// The adhesive that is lost, as a share of what fills the holes.
    pub const fn adhesive_allowance(&self) -> &Sourced<Percent> {
        &self.adhesive_allowance
    }

    /// The nails that are lost, as a share of those driven.
    pub const fn nail_allowance(&self) -> &Sourced<Percent> {
        &self.nail_allowance
    }

    /// How many nails of a kind weigh a pound.
    pub fn per_pound(&self, nail: Nail) -> Option<u32> {
        self.nails
            .iter()
            .map(|row| row.value)
            .find(|(of, _)| *of == nail)
            .map(|(_, count)| count)
    }

    /// Nails by the pound, with their sources.
    pub fn nails(&self) -> &[Sourced<(Nail, u32)>] {
        &self.nails
    }

    /// Sheets, with their sources.
    pub fn sourced_sheets(&self) -> &[Sourced<Sheet>] {
        &self.sheets
    }
}

impl Rows {
    fn read(&mut self, row: &Row<'_>) -> Result<(), TableError> {
        let (of, value) = (row.get("of"), row.get("value"));
        match row.get("figure") {
            "sheet" => {
                let sheet = sourced(row, sheet)?;
                if self.sheets.iter().any(|other| other.value == sheet.value) {
                    return Err(row.fault("value", twice(value)));
                }
                self.sheets.push(sheet);
                self.sheets.sort_by_key(|sheet| sheet.value);
                Ok(())
            }
            "nails-per-pound" => {
                let nail: Nail = of.parse().map_err(|words| row.fault("of", words))?;
                let count = sourced(row, |text| count(text, "nails", 1..=10_000))?;
                if self.nails.iter().any(|other| other.value.0 == nail) {
                    return Err(row.fault("of", twice(of)));
                }
                self.nails.push(count.with(|count| (nail, count)));
                Ok(())
            }
            "saw-kerf" => put(
                row,
                &mut self.kerf,
                sourced(row, |text| short(text, Length::inches(1)))?,
            ),
            "hole-oversize" => put(
                row,
                &mut self.hole_oversize,
                sourced(row, |text| short(text, Length::inches(1)))?,
            ),
            "nut-height" => put(
                row,
                &mut self.nut_height,
                sourced(row, |text| count(text, "rod diameters", 0..=10))?,
            ),
            "thread-past-nut" => put(
                row,
                &mut self.thread_past_nut,
                sourced(row, |text| count(text, "rod diameters", 0..=10))?,
            ),
            "cartridge" => put(
                row,
                &mut self.cartridge,
                sourced(row, |text| {
                    let milliliters = text.strip_suffix("ml").map(str::trim);
                    milliliters.map_or_else(
                        || Err(format!("found {text:?}; expected milliliters such as 825 ml")),
                        |text| count(text, "milliliters", 1..=10_000),
                    )
                })?,
            ),
            "adhesive-allowance" => put(row, &mut self.adhesive_allowance, sourced(row, share)?),
            "nail-allowance" => put(row, &mut self.nail_allowance, sourced(row, share)?),
            figure => {
                let found: String = figure.chars().take(40).collect();
                let expected = SINGLE.join(", ");
                Err(row.fault(
                    "figure",
                    format!("found {found:?}; expected sheet, nails-per-pound, {expected}"),
                ))
            }
        }
    }

    fn missing(&self) -> Vec<&'static str> {
        let is_there = [
            self.kerf.is_some(),
            self.hole_oversize.is_some(),
            self.nut_height.is_some(),
            self.thread_past_nut.is_some(),
            self.cartridge.is_some(),
            self.adhesive_allowance.is_some(),
            self.nail_allowance.is_some(),
        ];
        let single = SINGLE.into_iter().zip(is_there);
        let missing = single.filter(|(_, is_there)| !is_there).map(|(name, _)| name);
        let sheet = Some("sheet").filter(|_| self.sheets.is_empty());
        missing.chain(sheet).collect()
    }

    fn stock(self) -> Option<Stock> {
        Some(Stock {
            sheets: self.sheets,
            kerf: self.kerf?,
            hole_oversize: self.hole_oversize?,
            nut_height: self.nut_height?,
            thread_past_nut: self.thread_past_nut?,
            cartridge: self.cartridge?,
            adhesive_allowance: self.adhesive_allowance?,
            nail_allowance: self.nail_allowance?,
            nails: self.nails,
        })
    }
}

/// The figures that stand once in a table.
const SINGLE: [&str; 7] = [
    "saw-kerf",
    "hole-oversize",
    "nut-height",
    "thread-past-nut",
    "cartridge",
    "adhesive-allowance",
    "nail-allowance",
];

impl<T> Sourced<T> {
    fn with<U>(self, change: impl FnOnce(T) -> U) -> Sourced<U> {
        Sourced {
            value: change(self.value),
            source: self.source,
            section: self.section,
            standing: self.standing,
            note: self.note,
        }
    }
}

/// The figure of a row with its origin.
fn sourced<T>(row: &Row<'_>, read: impl Fn(&str) -> Result<T, String>) -> Result<Sourced<T>, TableError> {
    let source = row.get("source");
    if source.is_empty() {
        return Err(row.fault("source", "found no source; expected a key of the source sheet"));
    }
    Ok(Sourced {
        standing: Standing::of_row(row)?,
        value: read(row.get("value")).map_err(|fault| row.fault("value", fault))?,
        source: source.to_owned(),
        section: row.get("section").to_owned(),
        note: row.get("note").to_owned(),
    })
}

/// Keeps a figure that is given once.
fn put<T>(row: &Row<'_>, held: &mut Option<Sourced<T>>, figure: Sourced<T>) -> Result<(), TableError> {
    if held.is_some() {
        return Err(row.fault("figure", "stands here a second time; expected once"));
    }
    *held = Some(figure);
    Ok(())
}

fn twice(found: &str) -> String {
    let found: String = found.chars().take(40).collect();
    format!("{found:?} stands here a second time; expected once")
}

/// Reads a standing as the tables spell it; `attested` needs a name and a day, for which these tables have no
/// room.
fn sheet(text: &str) -> Result<Sheet, String> {
    let refuse = || {
        let found: String = text.chars().take(40).collect();
        format!("found {found:?}; expected a width and a length, neither over 30 ft, such as 4 ft x 8 ft")
    };
    let (width, length) = text.split_once(" x ").ok_or_else(refuse)?;
    let side = |text: &str| Length::from_str(text.trim()).map_err(|_| refuse());
    let (width, length) = (side(width)?, side(length)?);
    if width <= Length::ZERO || length < width || length > LARGEST_SHEET {
        return Err(refuse());
    }
    Ok(Sheet { length, width })
}

fn short(text: &str, most: Length) -> Result<Length, String> {
    let length = Length::from_str(text).map_err(|error| error.to_string())?;
    if (Length::ZERO..=most).contains(&length) {
        Ok(length)
    } else {
        Err(format!("found {length}; expected from nothing up to {most}"))
    }
}

fn count(text: &str, of: &str, within: std::ops::RangeInclusive<u32>) -> Result<u32, String> {
    let count = text.parse().ok().filter(|count| within.contains(count));
    count.ok_or_else(|| {
        let found: String = text.chars().take(40).collect();
        format!(
            "found {found:?}; expected {} to {} {of}",
            within.start(),
            within.end()
        )
    })
}

fn share(text: &str) -> Result<Percent, String> {
    Percent::from_str(text).map_err(|error| error.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    #[test]
    fn the_shipped_table_reads() {
        let stock = Stock::parse("stock.csv", SHIPPED).unwrap();
        assert_eq!(stock.sheets().count(), 3);
        assert_eq!(&stock, Stock::shipped());
    }

    #[rstest]
    #[case("4 ft x 9 ft", "9 ft x 4 ft", &["line 3", "column \"value\"", "4 ft x 8 ft"])]
    #[case("4 ft x 9 ft", "4 ft x 8 ft", &["line 3", "second time"])]
    #[case("4 ft x 9 ft", "4 ft x 900 ft", &["line 3", "30 ft"])]
    #[case("1/8 in,kerf", "9 in,kerf", &["line 5", "expected from nothing up to"])]
    #[case("825 ml", "0 ml", &["line 9", "1 to 10000 milliliters"])]
    #[case("825 ml", "28 oz", &["line 9", "expected milliliters"])]
    #[case("10 %,common", "-10 %,common", &["line 11", "column \"value\""])]
    #[case("8d common,100", "8d comon,100", &["line 13", "column \"of\""])]
    #[case("8d common,100", "8d common,0", &["line 13", "expected 1 to"])]
    #[case("nut-height", "nut-hight", &["line 7", "found \"nut-hight\"", "no row for \"nut-height\""])]
    #[case(",secondary,", ",seen,", &["line 5", "column \"standing\""])]
    fn a_wrong_row_is_refused_where_it_stands(#[case] from: &str, #[case] to: &str, #[case] says: &[&str]) {
        let text = SHIPPED.replacen(from, to, 1);
        assert_ne!(text, SHIPPED);
        let faults = Stock::parse("stock.csv", &text).unwrap_err();
        let told: Vec<String> = faults.iter().map(ToString::to_string).collect();
        for words in says {
            assert!(
                told.iter().any(|fault| fault.contains(words)),
                "{told:?} does not say {words:?}"
            );
        }
    }
}
