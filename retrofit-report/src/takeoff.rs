//! A takeoff for those who order and build: as JSON, as CSV and as a table to read.
//!
//! Everything here is said, not computed: amounts, costs and sums are those of [`retrofit_core::takeoff`].
//!
//! ```
//! use retrofit_core::house::{AsBuilt, House};
//! use retrofit_core::prices::UnitPrices;
//! use retrofit_core::provisions::Library;
//! use retrofit_core::remedy::design;
//! use retrofit_core::takeoff::{Stock, take_off};
//! use retrofit_report::takeoff::{TakeoffReport, csv, cutting_csv, json, markdown, terminal};
//!
//! let house: House = serde_json::from_str(r#"{
//!     "format": "house-1", "name": "Quince Lantern Way",
//!     "building": {"stories": 1, "exterior": "wood", "roof": "light"},
//!     "wall_lines": [{
//!         "name": "north", "length": {"measured": "52'-0\""},
//!         "foundation": [{"kind": "concrete", "condition": "sound"}],
//!         "anchors": [], "panels": [],
//!         "cripple_wall": [{"height": {"measured": "2'-0\""}, "stud_spacing": "16 in"}]
//!     }]
//! }"#)?;
//! let house = AsBuilt::new(house).expect("the record makes sense");
//! let provisions = Library::shipped().set(Library::DEFAULT_SET).expect("the shipped tables are in order");
//! let prices = UnitPrices::placeholder();
//! let takeoff = take_off(&design(&house, &provisions, prices), prices, Stock::shipped());
//!
//! let report = TakeoffReport::new(&house, &provisions.title, &takeoff);
//! assert!(csv(&report).starts_with("wall_line,article,amount,unit,"));
//! assert!(cutting_csv(&report).starts_with("sheathing,sheet,size,"));
//! assert!(json(&report).contains("\"format\": \"takeoff-1\""));
//! assert!(markdown(&report).contains("| north |"));
//! assert!(terminal(&report).contains("placeholder"));
//! # Ok::<(), serde_json::Error>(())
//! ```

mod csv;
mod table;

pub use csv::{csv, cutting_csv};
pub use table::{markdown, terminal};

use retrofit_core::choice::Choice;
use retrofit_core::house::House;
use retrofit_core::measure::{Area, Length};
use retrofit_core::prices::{Cents, CostRange, Item, Spread};
use retrofit_core::takeoff::{Amount, Price, Row, SheetList, Takeoff};
use schemars::JsonSchema;
use serde::Serialize;

use crate::result::wording::{plain, sentence_case};

/// What a takeoff is and is not.
const MEANING: &str = "This takeoff counts what a layout by one published set of prescriptive provisions takes. It \
    is not a bid, a design or a permit. Verify the assumptions of the layout on site before anything is ordered; \
    the local code official decides what is accepted, and a licensed engineer where the provisions do not reach.";

/// What is shared by all wall lines stands here.
const ALL_LINES: &str = "all wall lines";

/// A takeoff as it is written out.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct TakeoffReport {
    /// The version of this format: always `takeoff-1`.
    pub format: String,
    /// The house.
    pub house: String,
    /// The title of the provisions the layout keeps to.
    pub provisions: String,
    /// What a takeoff is and is not.
    pub meaning: String,
    /// What is counted, article by article over the whole house.
    pub whole_house: Vec<TakeoffRow>,
    /// What is counted, wall line by wall line.
    pub rows: Vec<TakeoffRow>,
    /// What all of it costs; the likely figure is the sum of those of the rows, to the cent.
    pub total: Costs,
    /// The same in whole hundreds of dollars, low end rounded down and high end up, for readers of a rough range.
    pub rough_total: Costs,
    /// The labor in it.
    pub hours: Hours,
    /// What the distance between the low and the high total comes from, farthest first.
    pub drivers: Vec<DriverRow>,
    /// The sheets to buy and how they are cut.
    pub sheets: Vec<SheetRow>,
    /// Parts of wall lines for which there is no layout, and so no count and no cost.
    pub not_counted: Vec<NotCounted>,
    /// What a reader has to know of the counts.
    pub notes: Vec<String>,
    /// The years of the prices.
    pub price_years: Vec<u16>,
    /// Items whose price is a placeholder without a source.
    pub placeholders: Vec<String>,
}

/// One article on one wall line.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct TakeoffRow {
    /// The wall line, or `all wall lines`.
    pub wall_line: String,
    /// The article.
    pub article: String,
    /// How many of the unit, with up to two decimals; left out where it is not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub amount: Option<String>,
    /// The unit.
    pub unit: String,
    /// The amount in words.
    pub shown: String,
    /// The stations.
    pub places: Vec<String>,
    /// Why it is there.
    pub because: String,
    /// What it costs; left out where the cost lies in that of another item.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cost: Option<Costs>,
    /// The item in whose price its cost lies.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cost_lies_in: Option<String>,
    /// The labor in it.
    pub hours: Hours,
}

/// A low, a likely and a high cost in dollars.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Costs {
    /// The low end.
    pub low: String,
    /// The likely cost.
    pub likely: String,
    /// The high end.
    pub high: String,
}

/// A low, a likely and a high number of hours.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Hours {
    /// The low end.
    pub low: String,
    /// The likely number.
    pub likely: String,
    /// The high end.
    pub high: String,
}

/// What one item adds to the cost and its spread.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct DriverRow {
    /// The item.
    pub item: String,
    /// Its cost.
    pub cost: Costs,
    /// The high end less the low one, in dollars.
    pub spread: String,
    /// Whether its price is a placeholder without a source.
    pub is_placeholder: bool,
}

/// The sheets of one kind of sheathing.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct SheetRow {
    /// What they are made of.
    pub sheathing: String,
    /// Sheets by size, and how many of each to buy.
    pub to_buy: Vec<ToBuy>,
    /// The area bought, in square feet.
    pub bought_sq_ft: String,
    /// The area used, in square feet.
    pub used_sq_ft: String,
    /// What is left over or sawn away, in square feet.
    pub waste_sq_ft: String,
    /// The same as a share of what is bought, in percent.
    pub waste_percent: String,
    /// Whether no other way of cutting these pieces takes a smaller area of sheets.
    pub is_least: bool,
    /// No way of cutting these pieces takes less than this, in square feet.
    pub least_sq_ft: String,
    /// The cutting list.
    pub cuts: Vec<CutRow>,
}

/// How many sheets of a size to buy.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ToBuy {
    /// The size.
    pub size: String,
    /// The number.
    pub count: usize,
}

/// A piece of the cutting list, or an offcut.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct CutRow {
    /// The sheet, counted from 1.
    pub sheet: usize,
    /// Its size.
    pub size: String,
    /// How far the piece lies along the sheet.
    pub along: String,
    /// How far it lies across.
    pub across: String,
    /// The side of the piece along the sheet.
    pub cut_length: String,
    /// The side of the piece across the sheet.
    pub cut_width: String,
    /// The wall line it goes to; left out for an offcut.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wall_line: Option<String>,
    /// The stations it covers; left out for an offcut.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stations: Option<String>,
}

/// A part of a wall line that is not counted.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct NotCounted {
    /// The wall line.
    pub wall_line: String,
    /// The part.
    pub part: String,
}

impl TakeoffReport {
    /// Says a takeoff of a house by the provisions of some title.
    pub fn new(house: &House, provisions: &str, takeoff: &Takeoff) -> Self {
        let name = |line: Option<usize>| match line.map(|line| house.wall_lines.get(line)) {
            Some(Some(wall)) => plain(&wall.name),
            _ => ALL_LINES.to_owned(),
        };
        let is_placeholder = |item: Item| takeoff.placeholders.contains(&item);
        Self {
            format: "takeoff-1".to_owned(),
            house: plain(&house.name),
            provisions: plain(provisions),
            meaning: MEANING.to_owned(),
            whole_house: takeoff
                .articles()
                .iter()
                .map(|row| TakeoffRow::new(row, ALL_LINES.to_owned()))
                .collect(),
            rows: takeoff
                .rows
                .iter()
                .map(|row| TakeoffRow::new(row, name(row.wall_line)))
                .collect(),
            total: takeoff.total().into(),
            rough_total: takeoff.total().in_hundreds_of_dollars().into(),
            hours: takeoff.hours().into(),
            drivers: takeoff
                .drivers()
                .into_iter()
                .map(|driver| DriverRow {
                    item: driver.item.words().to_owned(),
                    cost: driver.cost.into(),
                    spread: dollars(driver.cost.width()),
                    is_placeholder: is_placeholder(driver.item)
                        || (driver.hours.high > 0 && is_placeholder(Item::LaborHour)),
                })
                .collect(),
            sheets: takeoff
                .sheets
                .iter()
                .map(|list| SheetRow::new(list, |line| name(Some(line))))
                .collect(),
            not_counted: takeoff
                .gaps
                .iter()
                .map(|gap| NotCounted {
                    wall_line: name(Some(gap.wall_line)),
                    part: gap.part.to_owned(),
                })
                .collect(),
            notes: takeoff.notes.iter().map(|note| (*note).to_owned()).collect(),
            price_years: takeoff.price_years.clone(),
            placeholders: takeoff
                .placeholders
                .iter()
                .map(|item| item.words().to_owned())
                .collect(),
        }
    }
}

impl TakeoffRow {
    fn new(row: &Row, wall_line: String) -> Self {
        let (amount, unit) = match row.amount {
            Amount::Pieces(count) => (Some(count.to_string()), "each"),
            Amount::AtLeast(count) => (Some(count.to_string()), "each, at least"),
            Amount::Run(length) => (Some(feet(length)), "ft"),
            Amount::Surface(area) => (Some(square_feet(area)), "sq ft"),
            Amount::Pounds(pounds) => (Some(pounds.to_string()), "lb"),
            Amount::Unknown => (None, ""),
        };
        let (cost, cost_lies_in) = match row.price {
            Price::Of(cost) => (Some(cost.into()), None),
            Price::Within(item) => (None, Some(item.words().to_owned())),
        };
        Self {
            wall_line,
            article: sentence_case(&row.article.to_string()),
            amount,
            unit: unit.to_owned(),
            shown: row.amount.to_string(),
            places: row.places.iter().map(ToString::to_string).collect(),
            because: row.because.to_owned(),
            cost,
            cost_lies_in,
            hours: row.hours.into(),
        }
    }
}

impl SheetRow {
    fn new(list: &SheetList, name: impl Fn(usize) -> String) -> Self {
        let cutting = &list.cutting;
        let thickness = list
            .thickness
            .map_or_else(String::new, |thickness| format!("{thickness} "));
        let mut cuts = Vec::new();
        for (number, cut) in (1..).zip(&cutting.sheets) {
            let row = |along: Length, across: Length, length: Length, width: Length| CutRow {
                sheet: number,
                size: cut.sheet.to_string(),
                along: along.in_feet_inches().to_string(),
                across: across.in_feet_inches().to_string(),
                cut_length: length.in_feet_inches().to_string(),
                cut_width: width.in_feet_inches().to_string(),
                wall_line: None,
                stations: None,
            };
            for placed in &cut.pieces {
                let piece = list.pieces.get(placed.what);
                cuts.push(CutRow {
                    wall_line: piece.map(|piece| name(piece.wall_line)),
                    stations: piece.map(|piece| {
                        format!("{} to {}", piece.from.in_feet_inches(), piece.to.in_feet_inches())
                    }),
                    ..row(placed.along, placed.across, placed.size.along, placed.size.across)
                });
            }
            cuts.extend(
                cut.offcuts
                    .iter()
                    .map(|rest| row(rest.along, rest.across, rest.size.along, rest.size.across)),
            );
        }
        Self {
            sheathing: format!("{thickness}{}", list.sheathing.words()),
            to_buy: list
                .to_buy()
                .into_iter()
                .map(|(sheet, count)| ToBuy {
                    size: sheet.to_string(),
                    count,
                })
                .collect(),
            bought_sq_ft: square_feet(cutting.area()),
            used_sq_ft: square_feet(cutting.used()),
            waste_sq_ft: square_feet(cutting.waste()),
            waste_percent: hundredths(i64::from(list.waste_share())),
            is_least: cutting.is_least(),
            least_sq_ft: square_feet(cutting.least_area),
            cuts,
        }
    }
}

impl From<CostRange> for Costs {
    fn from(range: CostRange) -> Self {
        Self {
            low: dollars(range.low),
            likely: dollars(range.likely),
            high: dollars(range.high),
        }
    }
}

impl From<Spread> for Hours {
    fn from(spread: Spread) -> Self {
        Self {
            low: hundredths(spread.low),
            likely: hundredths(spread.likely),
            high: hundredths(spread.high),
        }
    }
}

/// An amount of money as a plain decimal: `1234.50`.
fn dollars(cents: Cents) -> String {
    hundredths(cents.0)
}

fn hundredths(hundredths: i64) -> String {
    let sign = if hundredths < 0 { "-" } else { "" };
    let magnitude = hundredths.unsigned_abs();
    format!("{sign}{}.{:02}", magnitude / 100, magnitude % 100)
}

/// A length in feet with two decimals, rounded.
fn feet(length: Length) -> String {
    of_unit(
        i128::from(length.nanometers()),
        i128::from(Length::feet(1).nanometers()),
    )
}

/// An area in square feet with two decimals, rounded.
fn square_feet(area: Area) -> String {
    of_unit(area.square_nanometers(), Area::square_feet(1).square_nanometers())
}

fn of_unit(amount: i128, unit: i128) -> String {
    let parts = (amount.saturating_mul(100) + unit / 2).div_euclid(unit);
    hundredths(i64::try_from(parts).unwrap_or(i64::MAX))
}

/// Renders a takeoff as JSON. Keys stand in the order of [`TakeoffReport`].
pub fn json(report: &TakeoffReport) -> String {
    crate::json::pretty(report)
}

/// The JSON Schema of a takeoff, named `takeoff-1`.
pub fn schema() -> String {
    crate::json::schema_of::<TakeoffReport>("takeoff-1")
}

#[cfg(test)]
mod tests;
