//! Takeoffs: what a remedy takes, counted off its layout piece by piece, cut from whole sheets, and priced.
//!
//! [`take_off`] reads the layout and nothing else: every row names its wall line, the stations it was counted
//! at and why it is there. Panels are cut from whole sheets, and what is wasted is a row like any other.
//! Costs are ranges by an editable [price table](crate::prices); what the table has only a stand-in for is
//! named in [`Takeoff::placeholders`]. What a layout could not be drawn for is in [`Takeoff::gaps`], so that
//! no total is taken for that of the whole house when it is not.
//!
//! ```
//! use retrofit_core::house::{AsBuilt, House};
//! use retrofit_core::prices::UnitPrices;
//! use retrofit_core::provisions::Library;
//! use retrofit_core::remedy::design;
//! use retrofit_core::takeoff::{Article, Stock, take_off};
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
//! let anchors = takeoff.rows.iter().find(|row| matches!(row.article, Article::Anchor { .. })).unwrap();
//! assert_eq!(anchors.places.len(), 10);
//! let total = takeoff.total();
//! assert!(total.low < total.likely && total.likely < total.high);
//! assert!(!takeoff.placeholders.is_empty());
//! # Ok::<(), serde_json::Error>(())
//! ```

mod anchors;
mod count;
mod cutting;
mod quantity;
mod sheathing;
mod stock;

pub use count::take_off;
pub use cutting::{CutSheet, Cutting, PieceSize, Placed, cut};
pub use quantity::{Amount, Article, Place, Price, RodLength, Row};
pub use sheathing::{PanelPiece, SheetList};
pub use stock::{Sheet, Sourced, Stock};

use crate::prices::{CostRange, Item, Spread};

/// What a remedy takes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Takeoff {
    /// What is counted: wall line by wall line, then what is shared by all of them.
    pub rows: Vec<Row>,
    /// The sheets to buy and how they are cut, for each kind of sheathing.
    pub sheets: Vec<SheetList>,
    /// What is not counted, because there is no layout for it.
    pub gaps: Vec<Gap>,
    /// What a reader has to know of the counts, in words.
    pub notes: Vec<&'static str>,
    /// The years of the prices that went into the costs, earliest first. Prices of several years are added as
    /// they stand in the table: no index is applied to them.
    pub price_years: Vec<u16>,
    /// The items whose price has no source but stands in for one of your own.
    pub placeholders: Vec<Item>,
}

/// A part of a wall line for which there is no layout, and so no count and no cost.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gap {
    /// The wall line, by its place in the house.
    pub wall_line: usize,
    /// The part, in words.
    pub part: &'static str,
}

/// What one item adds to the cost, and to the distance between its low and its high end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Driver {
    /// The item.
    pub item: Item,
    /// What all of it costs.
    pub cost: CostRange,
    /// The labor in all of it, in hundredths of an hour.
    pub hours: Spread,
}

impl Takeoff {
    /// What all of it costs: the sum of the rows, to the cent.
    ///
    /// The ends are those of everything being cheap and of everything being dear at once, and so lie farther
    /// apart than the cost of one house is likely to.
    pub fn total(&self) -> CostRange {
        total(&self.rows)
    }

    /// What one wall line costs, or what is shared by all of them.
    pub fn total_of(&self, wall_line: Option<usize>) -> CostRange {
        total(self.rows.iter().filter(|row| row.wall_line == wall_line))
    }

    /// The hours of labor in all of it, in hundredths; work whose price is an installed one is not in them.
    pub fn hours(&self) -> Spread {
        self.rows
            .iter()
            .fold(Spread::default(), |sum, row| sum.plus(row.hours))
    }

    /// One row for each article over all wall lines, in the order in which they first appear, without places.
    pub fn articles(&self) -> Vec<Row> {
        let mut articles: Vec<Row> = Vec::new();
        for row in &self.rows {
            match articles.iter_mut().find(|held| held.article == row.article) {
                Some(held) => {
                    held.amount = held.amount.plus(row.amount);
                    held.hours = held.hours.plus(row.hours);
                    if let (Price::Of(held), Price::Of(more)) = (&mut held.price, row.price) {
                        *held = held.plus(more);
                    }
                }
                None => articles.push(Row {
                    wall_line: None,
                    places: Vec::new(),
                    ..row.clone()
                }),
            }
        }
        articles
    }

    /// The items by how far the ends of their cost lie apart, farthest first: what drives the spread of the
    /// total.
    pub fn drivers(&self) -> Vec<Driver> {
        let mut drivers: Vec<Driver> = Vec::new();
        for row in &self.rows {
            let Price::Of(cost) = row.price else { continue };
            let item = row.article.item();
            match drivers.iter_mut().find(|driver| driver.item == item) {
                Some(driver) => {
                    driver.cost = driver.cost.plus(cost);
                    driver.hours = driver.hours.plus(row.hours);
                }
                None => drivers.push(Driver {
                    item,
                    cost,
                    hours: row.hours,
                }),
            }
        }
        drivers.sort_by_key(|driver| std::cmp::Reverse(driver.cost.width()));
        drivers
    }
}

fn total<'r>(rows: impl IntoIterator<Item = &'r Row>) -> CostRange {
    rows.into_iter()
        .fold(CostRange::ZERO, |sum, row| sum.plus(row.price.cost()))
}
