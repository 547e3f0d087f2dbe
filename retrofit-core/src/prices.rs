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

use crate::choice::{Choice, choices, parse_choice};
use crate::measure::{Area, Length};
use crate::provisions::{Standing, TableError, TableFile};
use crate::table::{Row, each_row};

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
        /// Concrete, placed.
        Concrete = "concrete", "concrete, placed";
        /// Forms of a new foundation, set and stripped.
        Formwork = "formwork", "forms, set and stripped";
        /// Reinforcing bars, placed.
        Reinforcing = "reinforcing", "reinforcing bars, placed";
        /// Soil dug by hand under a house.
        Excavation = "excavation", "soil dug";
        /// Soil put back and compacted.
        Backfill = "backfill", "soil put back";
        /// An old foundation broken out.
        Demolition = "demolition", "old foundation broken out";
        /// A container of soil or rubble, filled and hauled.
        SpoilContainer = "spoil_container", "container of soil or rubble";
        /// A new sill on a new foundation.
        NewSill = "new_sill", "new sill";
        /// An anchor cast into a new foundation.
        CastAnchor = "cast_anchor", "anchor cast into a new foundation";
        /// A set of shoring, for a day.
        ShoringDay = "shoring_day", "set of shoring for a day";
        /// A jack, for a day.
        JackDay = "jack_day", "jack for a day";
        /// An inspection, with the wait for it.
        Inspection = "inspection", "inspection";
    }
}

impl Item {
    /// The unit that the table has to give the item in.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::LaborHour => "hour",
            Self::TightDrilling | Self::LowCrawl | Self::RegionalMultiplier => "factor",
            Self::Sheathing | Self::PanelRemoval | Self::Formwork => "square foot",
            Self::Concrete | Self::Excavation | Self::Backfill | Self::Demolition => "cubic yard",
            Self::ShoringDay | Self::JackDay => "day",
            Self::JointBlocking
            | Self::EndJoist
            | Self::TopPlateNailing
            | Self::TopPlate
            | Self::SolidBlocking
            | Self::SillReplacement
            | Self::NewSill => "foot",
            Self::Nails | Self::Reinforcing => "pound",
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
            | Self::AdhesiveCartridge
            | Self::SpoilContainer
            | Self::CastAnchor
            | Self::Inspection => "each",
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

    /// The price of a length at this price a foot, rounded to the cent.
    #[must_use]
    pub fn for_feet(self, length: Length) -> Self {
        let (length, foot) = (length.nanometers(), Length::feet(1).nanometers());
        self.share(length.into(), foot.into())
    }

    /// The price of an area at this price a square foot, rounded to the cent.
    #[must_use]
    pub fn for_square_feet(self, area: Area) -> Self {
        let square_foot = Area::square_feet(1).square_nanometers();
        self.share(area.square_nanometers(), square_foot)
    }

    /// A part of the amount, rounded to the cent: so many of as many as the amount is for.
    #[must_use]
    pub(crate) fn share(self, part: i128, of: i128) -> Self {
        Self(rounded_share(self.0, part, of))
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

/// A part of a number, rounded to the nearest whole one.
pub(crate) fn rounded_share(number: i64, part: i128, of: i128) -> i64 {
    let share = (i128::from(number).saturating_mul(part) + of / 2) / of;
    i64::try_from(share).unwrap_or(i64::MAX)
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

    /// The same in whole hundreds of dollars, which is as closely as a reader should take a rough range: the low end
    /// rounded down, the high end up, the likely cost to the nearest.
    ///
    /// ```
    /// use retrofit_core::prices::{Cents, CostRange};
    /// let cost = CostRange { low: Cents(481_230), likely: Cents(695_000), high: Cents(1_120_001) };
    /// let rough = CostRange { low: Cents(480_000), likely: Cents(700_000), high: Cents(1_130_000) };
    /// assert_eq!(cost.in_hundreds_of_dollars(), rough);
    /// ```
    #[must_use]
    pub const fn in_hundreds_of_dollars(self) -> Self {
        const HUNDRED: i64 = 100 * 100;
        const fn down(cents: i64, more: i64) -> Cents {
            Cents(
                cents
                    .saturating_add(more)
                    .div_euclid(HUNDRED)
                    .saturating_mul(HUNDRED),
            )
        }
        Self {
            low: down(self.low.0, 0),
            likely: down(self.likely.0, HUNDRED / 2),
            high: down(self.high.0, HUNDRED - 1),
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
    pub fn parse(file: &str, text: &str) -> Result<Self, Vec<TableError>> {
        let file = TableFile {
            path: file.to_owned(),
            name: file.to_owned(),
            text: text.to_owned(),
        };
        let mut faults = Vec::new();
        let mut rows: Vec<UnitPrice> = Vec::new();
        each_row(&file, &COLUMNS, &mut faults, |row| {
            let price = price(row)?;
            if rows.iter().any(|other| other.item == price.item) {
                let item = price.item.spelling();
                return Err(row.fault(
                    "item",
                    format!("{item:?} stands here a second time; expected once"),
                ));
            }
            rows.push(price);
            Ok(())
        });
        if faults.is_empty() {
            let is_there = |item: &&Item| rows.iter().any(|row| row.item == **item);
            faults.extend(Item::ALL.iter().filter(|item| !is_there(item)).map(|item| {
                let item = item.spelling();
                TableError::column(
                    &file,
                    "item",
                    format!("there is no row for {item:?}; expected one for every item"),
                )
            }));
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

fn price(row: &Row<'_>) -> Result<UnitPrice, TableError> {
    let item: Item = parse_choice(row.get("item")).map_err(|error| row.fault("item", error))?;
    let unit = row.get("unit");
    if unit != item.unit() {
        let found: String = unit.chars().take(40).collect();
        return Err(row.fault("unit", format!("found {found:?}; expected {:?}", item.unit())));
    }
    let material = spread(row, ["material_low", "material_likely", "material_high"])?;
    let hours = spread(row, ["hours_low", "hours_likely", "hours_high"])?;
    if hours.high > MOST_HOURS * 100 {
        let fault = format!("found more than {MOST_HOURS} hours for one unit; expected fewer");
        return Err(row.fault("hours_high", fault));
    }
    if (item.is_factor() || item == Item::LaborHour) && hours.high > 0 {
        let fault = format!("found hours for a {}; expected 0", item.unit());
        return Err(row.fault("hours_high", fault));
    }
    if item.is_factor() && (material.low == 0 || material.high > LARGEST_FACTOR * 100) {
        let fault =
            format!("found a factor of zero or of more than {LARGEST_FACTOR}; expected one such as 1.5");
        return Err(row.fault("material_low", fault));
    }
    if row.get("source").is_empty() {
        let fault = "found no source; expected a key of the source sheet, or \"placeholder\"";
        return Err(row.fault("source", fault));
    }
    let year = row.get("price_year");
    let price_year = year.parse().ok().filter(|year| (1900..=2200).contains(year));
    Ok(UnitPrice {
        item,
        unit: unit.to_owned(),
        material,
        hours,
        price_year: price_year.ok_or_else(|| {
            row.fault(
                "price_year",
                format!("found {year:?}; expected a year such as 2026"),
            )
        })?,
        source: row.get("source").to_owned(),
        section: row.get("section").to_owned(),
        standing: Standing::of_row(row)?,
        note: row.get("note").to_owned(),
    })
}

/// A low, a likely and a high amount, in order.
fn spread(row: &Row<'_>, columns: [&str; 3]) -> Result<Spread, TableError> {
    let [low, likely, high] =
        columns.map(|column| hundredths(row.get(column)).map_err(|fault| row.fault(column, fault)));
    let spread = Spread {
        low: low?,
        likely: likely?,
        high: high?,
    };
    let [_, middle, top] = columns;
    if spread.likely < spread.low {
        let fault = "found a likely figure below the low one; expected low, likely and high in order";
        return Err(row.fault(middle, fault));
    }
    if spread.high < spread.likely {
        let fault = "found a high figure below the likely one; expected low, likely and high in order";
        return Err(row.fault(top, fault));
    }
    Ok(spread)
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
