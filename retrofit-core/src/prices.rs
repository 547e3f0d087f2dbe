//! Unit prices: what an item of work costs, from an editable and dated table.
//!
//! A remedy is the cheapest layout that satisfies the provisions, so prices stand before remedies. They are
//! data: each row names its year, its source and how well the source was seen. The table shipped with the
//! program is a placeholder of published ratios and says so.
//!
//! ```
//! use retrofit_core::prices::{Item, UnitPrices};
//! let prices = UnitPrices::placeholder();
//! // Drilling from the side costs more than drilling from above, which published prices agree on.
//! assert!(prices.likely(Item::SidePlate) > prices.likely(Item::AdhesiveAnchor));
//! ```

use std::fmt;
use std::sync::LazyLock;

use thiserror::Error;

use crate::choice::{Choice, choices, parse_choice};
use crate::provisions::Standing;

const SHIPPED: &str = include_str!("../../tables/unit-prices-placeholder/prices.csv");

choices! {
    /// An item of work or material that has a price.
    pub enum Item: "priced item" {
        /// An hour of one worker.
        LaborHour = "labor_hour", "hour of labor";
        /// A threaded rod set in adhesive.
        AdhesiveAnchor = "adhesive_anchor", "adhesive anchor";
        /// An expansion anchor.
        ExpansionAnchor = "expansion_anchor", "expansion anchor";
        /// A screw anchor.
        ScrewAnchor = "screw_anchor", "screw anchor";
        /// A steel plate on the side of sill and foundation.
        SidePlate = "side_plate", "side plate";
        /// What drilling costs in tight space, as a multiple of what it costs with room for a hammer drill.
        TightDrilling = "tight_drilling", "drilling in tight space";
        /// What panel work costs in a low crawl space, as a multiple of what it costs where there is room.
        LowCrawl = "low_crawl", "panel work in a low crawl space";
        /// What everything costs where the house stands, as a multiple of what the table says.
        RegionalMultiplier = "regional_multiplier", "regional multiplier";
        /// A plate washer put under an existing nut.
        PlateWasher = "plate_washer", "plate washer";
        /// A nut made snug-tight.
        TightenNut = "tighten_nut", "nut tightened";
        /// Sheathing, nailed.
        Sheathing = "sheathing", "sheathing";
        /// What one more panel costs whatever its length.
        PanelStart = "panel_start", "panel set out and fitted";
        /// Taking an old panel off.
        PanelRemoval = "panel_removal", "old panel taken off";
        /// Blocking behind a level joint between two sheets of one panel.
        JointBlocking = "joint_blocking", "blocking behind a level panel joint";
        /// A block on the sill between two studs.
        SillBlock = "sill_block", "block on the sill";
        /// A ventilation hole through a panel.
        VentilationHole = "ventilation_hole", "ventilation hole";
        /// A vent closed and cut anew elsewhere.
        VentMove = "vent_move", "vent moved";
        /// A framing clip.
        FramingClip = "framing_clip", "framing clip";
        /// A full-depth block between two joists.
        JoistBlock = "joist_block", "block between joists";
        /// An end joist over the wall.
        EndJoist = "end_joist", "end joist";
        /// Nailing two loose top plates together.
        TopPlateNailing = "top_plate_nailing", "top plates nailed together";
        /// A top plate put in.
        TopPlate = "top_plate", "top plate";
        /// A strap across a break in the top plate.
        PlateStrap = "plate_strap", "strap across a plate break";
        /// Solid blocking in place of short studs.
        SolidBlocking = "solid_blocking", "solid blocking";
        /// A sill piece replaced.
        SillReplacement = "sill_replacement", "sill replaced";
        /// A cartridge of adhesive.
        AdhesiveCartridge = "adhesive_cartridge", "cartridge of adhesive";
        /// Nails.
        Nails = "nails", "nails";
    }
}

impl Item {
    /// The unit that the table has to give the item in.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::LaborHour => "hour",
            Self::TightDrilling | Self::LowCrawl | Self::RegionalMultiplier => "factor",
            Self::Sheathing | Self::PanelRemoval => "square foot",
            Self::JointBlocking
            | Self::EndJoist
            | Self::TopPlateNailing
            | Self::TopPlate
            | Self::SolidBlocking
            | Self::SillReplacement => "foot",
            Self::Nails => "pound",
            Self::AdhesiveAnchor
            | Self::ExpansionAnchor
            | Self::ScrewAnchor
            | Self::SidePlate
            | Self::PlateWasher
            | Self::TightenNut
            | Self::PanelStart
            | Self::SillBlock
            | Self::VentilationHole
            | Self::VentMove
            | Self::FramingClip
            | Self::JoistBlock
            | Self::PlateStrap
            | Self::AdhesiveCartridge => "each",
        }
    }

    /// Whether the row is a multiple of other prices and not a price.
    pub const fn is_factor(self) -> bool {
        matches!(
            self,
            Self::TightDrilling | Self::LowCrawl | Self::RegionalMultiplier
        )
    }
}

/// An amount of money in cents.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Cents(pub i64);

impl Cents {
    /// Nothing.
    pub const ZERO: Self = Self(0);

    /// The sum of two amounts.
    #[must_use]
    pub const fn plus(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }

    /// A multiple given in hundredths, rounded to the nearest cent: 150 is one and a half times the amount.
    #[must_use]
    pub const fn hundredths_of(self, hundredths: i64) -> Self {
        Self(
            self.0
                .saturating_mul(hundredths)
                .saturating_add(50)
                .div_euclid(100),
        )
    }

    /// A whole number of times the amount.
    #[must_use]
    pub const fn times(self, count: i64) -> Self {
        Self(self.0.saturating_mul(count))
    }
}

impl fmt::Display for Cents {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.0 < 0 { "-" } else { "" };
        let cents = self.0.unsigned_abs();
        write!(f, "{sign}${}.{:02}", cents / 100, cents % 100)
    }
}

/// A low, a likely and a high figure, in hundredths of the unit: cents, or hundredths of an hour.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Spread {
    /// The low figure.
    pub low: i64,
    /// The likely figure.
    pub likely: i64,
    /// The high figure.
    pub high: i64,
}

impl Spread {
    /// The sums of two spreads, end by end.
    #[must_use]
    pub const fn plus(self, other: Self) -> Self {
        Self {
            low: self.low.saturating_add(other.low),
            likely: self.likely.saturating_add(other.likely),
            high: self.high.saturating_add(other.high),
        }
    }
}

/// What something costs: at least, likely, at most.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct CostRange {
    /// The low cost.
    pub low: Cents,
    /// The likely cost.
    pub likely: Cents,
    /// The high cost.
    pub high: Cents,
}

impl CostRange {
    /// Nothing.
    pub const ZERO: Self = Self {
        low: Cents::ZERO,
        likely: Cents::ZERO,
        high: Cents::ZERO,
    };

    /// The sums of two ranges, end by end.
    #[must_use]
    pub const fn plus(self, other: Self) -> Self {
        Self {
            low: self.low.plus(other.low),
            likely: self.likely.plus(other.likely),
            high: self.high.plus(other.high),
        }
    }

    /// A whole number of times the range.
    #[must_use]
    pub const fn times(self, count: i64) -> Self {
        Self {
            low: self.low.times(count),
            likely: self.likely.times(count),
            high: self.high.times(count),
        }
    }

    /// The range under a factor in hundredths, end by end.
    #[must_use]
    pub const fn under(self, factor: Spread) -> Self {
        Self {
            low: self.low.hundredths_of(factor.low),
            likely: self.likely.hundredths_of(factor.likely),
            high: self.high.hundredths_of(factor.high),
        }
    }

    /// How far the ends lie apart.
    #[must_use]
    pub const fn width(self) -> Cents {
        Cents(self.high.0.saturating_sub(self.low.0))
    }
}

/// What one item costs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnitPrice {
    /// The item.
    pub item: Item,
    /// The unit it is counted in.
    pub unit: String,
    /// Its material in cents a unit, or its installed price where the source gives no hours; for a factor,
    /// the factor in hundredths.
    pub material: Spread,
    /// The labor in hundredths of an hour a unit.
    pub hours: Spread,
    /// The year of the price.
    pub price_year: u16,
    /// The key of its source in the source sheet beside the table.
    pub source: String,
    /// Where in the source.
    pub section: String,
    /// How well the source was seen.
    pub standing: Standing,
    /// A note for the reader.
    pub note: String,
}

/// A table of unit prices: a row for every item.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnitPrices {
    rows: Vec<UnitPrice>,
}

/// A fault in a table of unit prices.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{file}{}{}: {fault}", line.map_or_else(String::new, |line| format!(", line {line}")), column.map_or_else(String::new, |column| format!(", column {column:?}")))]
pub struct PriceError {
    /// The file.
    pub file: String,
    /// The line, when the fault lies in one.
    pub line: Option<u64>,
    /// The column, when the fault lies in one.
    pub column: Option<&'static str>,
    /// What was found and what was expected.
    pub fault: String,
}

const COLUMNS: [&str; 13] = [
    "item",
    "unit",
    "material_low",
    "material_likely",
    "material_high",
    "hours_low",
    "hours_likely",
    "hours_high",
    "price_year",
    "source",
    "section",
    "standing",
    "note",
];

/// The source of a row that has none.
const PLACEHOLDER: &str = "placeholder";

/// No unit takes more hours than this, and no factor is larger; a figure beyond it is a slip of the pen.
const MOST_HOURS: i64 = 1_000;
const LARGEST_FACTOR: i64 = 100;

/// No unit under a house costs more than this; a figure beyond it is a slip of the pen.
const MOST_DOLLARS: i64 = 1_000_000;

impl UnitPrices {
    /// The table shipped with the program: a placeholder of published ratios.
    pub fn placeholder() -> &'static Self {
        static PRICES: LazyLock<UnitPrices> = LazyLock::new(|| {
            // A test holds that the shipped table reads; a table without rows would price everything at
            // nothing.
            UnitPrices::parse("prices.csv", SHIPPED).unwrap_or(UnitPrices { rows: Vec::new() })
        });
        &PRICES
    }

    /// Reads a table from its text; the error lists every fault, each with file, line and column.
    pub fn parse(file: &str, text: &str) -> Result<Self, Vec<PriceError>> {
        let mut faults = Vec::new();
        let mut rows: Vec<UnitPrice> = Vec::new();
        let mut fault = |line: Option<u64>, column: Option<&'static str>, fault: String| {
            faults.push(PriceError {
                file: file.to_owned(),
                line,
                column,
                fault,
            });
        };
        let mut reader = csv::ReaderBuilder::new()
            .flexible(true)
            .from_reader(text.trim_start_matches('\u{feff}').as_bytes());
        match reader.headers() {
            Ok(header) if header.iter().map(str::trim).eq(COLUMNS) => {}
            Ok(header) => {
                let found: Vec<&str> = header.iter().take(20).collect();
                let expected = COLUMNS.join(", ");
                fault(
                    Some(1),
                    None,
                    format!("found the columns {}; expected {expected}", found.join(", ")),
                );
            }
            Err(error) => fault(None, None, error.to_string()),
        }
        for record in reader.records() {
            let record = match record {
                Ok(record) => record,
                Err(error) => {
                    let line = error.position().map(csv::Position::line);
                    fault(line, None, error.to_string());
                    continue;
                }
            };
            let line = record.position().map(csv::Position::line);
            if record.len() != COLUMNS.len() {
                fault(
                    line,
                    None,
                    format!("found {} cells; expected {}", record.len(), COLUMNS.len()),
                );
                continue;
            }
            match row(&record) {
                Ok(price) if rows.iter().any(|other| other.item == price.item) => {
                    fault(
                        line,
                        Some("item"),
                        format!(
                            "{:?} stands here a second time; expected once",
                            price.item.spelling()
                        ),
                    );
                }
                Ok(price) => rows.push(price),
                Err((column, words)) => fault(line, Some(column), words),
            }
        }
        if faults.is_empty() {
            for item in Item::ALL
                .iter()
                .filter(|item| !rows.iter().any(|row| row.item == **item))
            {
                faults.push(PriceError {
                    file: file.to_owned(),
                    line: None,
                    column: Some("item"),
                    fault: format!(
                        "there is no row for {:?}; expected one for every item",
                        item.spelling()
                    ),
                });
            }
        }
        if faults.is_empty() {
            Ok(Self { rows })
        } else {
            Err(faults)
        }
    }

    /// Every row, in the order of the table.
    pub fn rows(&self) -> &[UnitPrice] {
        &self.rows
    }

    /// The row of an item.
    pub fn row(&self, item: Item) -> Option<&UnitPrice> {
        self.rows.iter().find(|row| row.item == item)
    }

    /// What a unit likely costs, labor included; for a factor, the factor in hundredths.
    pub fn likely(&self, item: Item) -> Cents {
        let hour = self.row(Item::LaborHour).map_or(0, |row| row.material.likely);
        let Some(row) = self.row(item) else {
            return Cents::ZERO;
        };
        Cents(row.material.likely).plus(Cents(hour).hundredths_of(row.hours.likely))
    }

    /// What a unit costs, labor included: the low end is low material and few hours at a low wage, and the
    /// high end the other way round.
    ///
    /// ```
    /// use retrofit_core::prices::{Item, UnitPrices};
    /// let prices = UnitPrices::placeholder();
    /// let block = prices.range(Item::SillBlock);
    /// assert!(block.low < block.likely && block.likely < block.high);
    /// assert_eq!(block.likely, prices.likely(Item::SillBlock));
    /// ```
    pub fn range(&self, item: Item) -> CostRange {
        let hour = self.spread(Item::LaborHour);
        let Some(row) = self.row(item) else {
            return CostRange::ZERO;
        };
        let end = |material, hour, hours| Cents(material).plus(Cents(hour).hundredths_of(hours));
        CostRange {
            low: end(row.material.low, hour.low, row.hours.low),
            likely: end(row.material.likely, hour.likely, row.hours.likely),
            high: end(row.material.high, hour.high, row.hours.high),
        }
    }

    /// The material of a unit, without labor; of a factor, the factor in hundredths.
    pub fn spread(&self, item: Item) -> Spread {
        self.row(item).map_or_else(Spread::default, |row| row.material)
    }

    /// The hours a unit takes, in hundredths.
    pub fn hours(&self, item: Item) -> Spread {
        self.row(item).map_or_else(Spread::default, |row| row.hours)
    }

    /// Whether a row has no source but stands in until somebody puts a price of their own in its place.
    pub fn is_placeholder(&self, item: Item) -> bool {
        self.row(item).is_none_or(|row| row.source == PLACEHOLDER)
    }
}

fn row(record: &csv::StringRecord) -> Result<UnitPrice, (&'static str, String)> {
    let cell = |column: &'static str| -> &str {
        let position = COLUMNS.iter().position(|name| *name == column);
        position
            .and_then(|position| record.get(position))
            .unwrap_or_default()
            .trim()
    };
    let spread = |columns: [&'static str; 3]| -> Result<Spread, (&'static str, String)> {
        let [low, likely, high] =
            columns.map(|column| hundredths(cell(column)).map_err(|words| (column, words)));
        let spread = Spread {
            low: low?,
            likely: likely?,
            high: high?,
        };
        let [_, middle, top] = columns;
        if spread.likely < spread.low {
            return Err((
                middle,
                "found a likely figure below the low one; expected low, likely and high in order".to_owned(),
            ));
        }
        if spread.high < spread.likely {
            return Err((
                top,
                "found a high figure below the likely one; expected low, likely and high in order".to_owned(),
            ));
        }
        Ok(spread)
    };
    let standing = match cell("standing") {
        "verified" => Standing::Verified,
        "secondary" => Standing::Secondary,
        "memory" => Standing::Memory,
        "common practice" => Standing::CommonPractice,
        found => {
            return Err((
                "standing",
                format!("found {found:?}; expected verified, secondary, memory or common practice"),
            ));
        }
    };
    let year = cell("price_year");
    let item: Item = parse_choice(cell("item")).map_err(|error| ("item", error.to_string()))?;
    if cell("unit") != item.unit() {
        let found: String = cell("unit").chars().take(40).collect();
        return Err(("unit", format!("found {found:?}; expected {:?}", item.unit())));
    }
    let material = spread(["material_low", "material_likely", "material_high"])?;
    let hours = spread(["hours_low", "hours_likely", "hours_high"])?;
    if hours.high > MOST_HOURS * 100 {
        return Err((
            "hours_high",
            format!("found more than {MOST_HOURS} hours for one unit; expected fewer"),
        ));
    }
    if (item.is_factor() || item == Item::LaborHour) && hours.high > 0 {
        return Err((
            "hours_high",
            format!("found hours for a {}; expected 0", item.unit()),
        ));
    }
    if item.is_factor() && (material.low == 0 || material.high > LARGEST_FACTOR * 100) {
        return Err((
            "material_low",
            format!("found a factor of zero or of more than {LARGEST_FACTOR}; expected one such as 1.5"),
        ));
    }
    if cell("source").is_empty() {
        return Err((
            "source",
            "found no source; expected a key of the source sheet, or \"placeholder\"".to_owned(),
        ));
    }
    Ok(UnitPrice {
        item,
        unit: cell("unit").to_owned(),
        material,
        hours,
        price_year: year
            .parse()
            .ok()
            .filter(|year| (1900..=2200).contains(year))
            .ok_or_else(|| {
                (
                    "price_year",
                    format!("found {year:?}; expected a year such as 2026"),
                )
            })?,
        source: cell("source").to_owned(),
        section: cell("section").to_owned(),
        standing,
        note: cell("note").to_owned(),
    })
}

/// Reads a plain decimal with up to two places as hundredths.
fn hundredths(text: &str) -> Result<i64, String> {
    let refuse = || {
        let found: String = text.chars().take(40).collect();
        format!("found {found:?}; expected an amount of zero or more with up to two decimals, such as 3.25")
    };
    let (whole, places) = text.split_once('.').unwrap_or((text, ""));
    let is_plain = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
    if whole.is_empty() || !is_plain(whole) || !is_plain(places) || places.len() > 2 {
        return Err(refuse());
    }
    let whole: i64 = whole.parse().map_err(|_| refuse())?;
    let cents: i64 = format!("{places:0<2}").parse().map_err(|_| refuse())?;
    if whole > MOST_DOLLARS {
        return Err(format!("found {whole}; expected no more than {MOST_DOLLARS}"));
    }
    Ok(whole * 100 + cents)
}

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    #[test]
    fn the_shipped_table_prices_every_item() {
        let prices = UnitPrices::parse("prices.csv", SHIPPED).unwrap();
        assert_eq!(prices.rows().len(), Item::ALL.len());
        assert_eq!(prices.likely(Item::AdhesiveAnchor), Cents(7200));
        // 3 hundredths of material and a twentieth of an hour.
        assert_eq!(prices.likely(Item::Sheathing), Cents(330 + 450));
    }

    #[rstest]
    #[case("1.5", Ok(150))]
    #[case("12", Ok(1200))]
    #[case("0.05", Ok(5))]
    #[case("-1", Err(()))]
    #[case("1e3", Err(()))]
    #[case("NaN", Err(()))]
    #[case("1.234", Err(()))]
    #[case("", Err(()))]
    #[case("99999999999999999999", Err(()))]
    fn amounts_are_plain_decimals(#[case] text: &str, #[case] expected: Result<i64, ()>) {
        assert_eq!(hundredths(text).map_err(|_| ()), expected);
    }

    #[rstest]
    #[case("side_plate,each,115", "side_plat,each,115", &["line 6", "column \"item\"", "did you mean \"side_plate\""])]
    #[case("115,138,161", "115,100,161", &["line 6", "material_likely", "in order"])]
    #[case("secondary,23 dollars", "seen,23 dollars", &["line 6", "column \"standing\""])]
    #[case("side_plate,each", "screw_anchor,each", &["a second time"])]
    #[case("side_plate,each", "side_plate,pair", &["line 6", "column \"unit\"", "expected \"each\""])]
    #[case("side_plate,each,115,138,161,0,0,0", "side_plate,each,115,138,161,0,0,2000", &["line 6", "hours_high"])]
    #[case("side_plate,each,115", "side_plate,each,-115", &["line 6", "material_low", "zero or more"])]
    #[case("tight_drilling,factor,1.5,1.5", "tight_drilling,factor,0,1.5", &["line 7", "material_low", "factor of zero"])]
    #[case("labor_hour,hour,60,90,140,0,0,0", "labor_hour,hour,60,90,140,0,0,1", &["line 2", "hours_high"])]
    #[case("2026,placeholder,,common practice,Of a", "2026,,,common practice,Of a", &["line 2", "column \"source\""])]
    fn a_wrong_row_is_refused_where_it_stands(#[case] from: &str, #[case] to: &str, #[case] says: &[&str]) {
        let text = SHIPPED.replacen(from, to, 1);
        assert_ne!(text, SHIPPED);
        let faults = UnitPrices::parse("prices.csv", &text).unwrap_err();
        let told = faults
            .iter()
            .map(ToString::to_string)
            .collect::<Vec<_>>()
            .join("\n");
        for words in says {
            assert!(told.contains(words), "{told:?} does not say {words:?}");
        }
    }
}
