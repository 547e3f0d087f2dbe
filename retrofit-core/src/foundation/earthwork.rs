//! Soil and concrete by volume and weight: swell, containers, trucks, and what they hold.
//!
//! Volumes of what stands in the ground are exact, like the lengths they are made of; swell, weight and everything that
//! comes of them is measured in handbooks and counted in floating point.
//!
//! ```
//! use retrofit_core::foundation::earthwork::{Earthwork, SolidVolume};
//! use retrofit_core::house::SoilClass;
//! use retrofit_core::measure::{Area, Length};
//!
//! let trench = SolidVolume::of(Length::feet(3).by(Length::feet(2)), Length::feet(18));
//! assert_eq!(trench.cubic_yards(), 4.0);
//! let sand = Earthwork::shipped().unwrap().soil(Some(SoilClass::Sand));
//! assert!((sand.loose_cubic_yards(trench) - 4.6).abs() < 1e-9, "15 percent of swell");
//! # let unknown = Earthwork::shipped().unwrap().soil(None);
//! # assert!(unknown.loose_cubic_yards(trench) > sand.loose_cubic_yards(trench));
//! ```

use std::fmt;
use std::sync::LazyLock;

use typenum::{N1, N3, P1, Z0};

use super::sequence::Published;
use crate::choice::{Choice, choices};
use crate::house::SoilClass;
use crate::measure::{Area, Length, Percent};
use crate::screen::{Edition, Figure, PCF, PLAIN, PLF, POUND, StandardTable};
use crate::table::TableError;

/// Cubic nanometers in a cubic yard, exact: 914,400,000 nm on a side.
const CUBIC_YARD: i128 = 914_400_000 * 914_400_000 * 914_400_000;

/// A volume of solid ground or concrete: whole cubic nanometers, never below zero.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SolidVolume(i128);

impl SolidVolume {
    /// Nothing.
    pub const ZERO: Self = Self(0);

    /// A cross-section along a length, exactly; nothing where one of them is below zero.
    #[must_use]
    pub fn of(section: Area, length: Length) -> Self {
        let product = section
            .square_nanometers()
            .saturating_mul(length.nanometers().into());
        Self(if section < Area::default() {
            0
        } else {
            product.max(0)
        })
    }

    /// So many cubic yards, to the nanometer; nothing below zero.
    #[must_use]
    #[expect(
        clippy::cast_possible_truncation,
        reason = "a figure of a table has few digits, and the cast keeps to the range"
    )]
    pub fn from_cubic_yards(yards: f64) -> Self {
        Self(
            ((yards * 1e6).round() as i128)
                .saturating_mul(CUBIC_YARD / 1_000_000)
                .max(0),
        )
    }

    /// The volume in cubic yards. Approximate: for a reader.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "documented as approximate")]
    pub fn cubic_yards(self) -> f64 {
        self.0 as f64 / CUBIC_YARD as f64
    }

    /// The volume in cubic feet. Approximate: for a reader.
    #[must_use]
    pub fn cubic_feet(self) -> f64 {
        self.cubic_yards() * 27.0
    }

    /// The volume in hundredths of a cubic yard, rounded.
    #[must_use]
    pub fn hundredths_of_cubic_yards(self) -> i64 {
        let hundredths = (self.0.saturating_mul(100).saturating_add(CUBIC_YARD / 2)) / CUBIC_YARD;
        i64::try_from(hundredths).unwrap_or(i64::MAX)
    }

    /// The sum.
    #[must_use]
    pub const fn plus(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }

    /// The difference, and nothing where there is more to take away than there is.
    #[must_use]
    pub const fn less(self, other: Self) -> Self {
        let left = self.0.saturating_sub(other.0);
        Self(if left < 0 { 0 } else { left })
    }

    /// So many times the volume.
    #[must_use]
    pub fn times(self, count: u64) -> Self {
        Self(self.0.saturating_mul(count.into()))
    }

    /// The volume and a share of it on top, rounded up to a cubic nanometer.
    #[must_use]
    pub fn with(self, more: Percent) -> Self {
        let whole = 10_000 + i128::from(more.hundredths());
        Self(self.0.saturating_mul(whole).saturating_add(9_999) / 10_000)
    }

    /// How many loads it makes; of an empty load, as many as can be counted.
    #[must_use]
    pub fn loads_of(self, load: Self) -> u64 {
        if load.0 <= 0 {
            return u64::MAX;
        }
        u64::try_from(self.0 / load.0 + i128::from(self.0 % load.0 > 0)).unwrap_or(u64::MAX)
    }
}

impl fmt::Display for SolidVolume {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let hundredths = self.hundredths_of_cubic_yards();
        write!(f, "{}.{:02} cu yd", hundredths / 100, hundredths % 100)
    }
}

choices! {
    /// What an old foundation is made of, for its weight.
    pub enum OldMaterial: "material of an old foundation" {
        /// Concrete.
        Concrete = "concrete", "concrete";
        /// Brick in mortar.
        Brick = "brick", "brick";
        /// Stone in mortar.
        Stone = "stone", "stone";
    }
}

/// What becomes of a soil that is dug.
#[derive(Clone, Debug, PartialEq)]
pub struct SoilFigures {
    /// The soil; `None` where it is not known.
    pub soil: Option<SoilClass>,
    /// By how many percent it swells.
    pub swell: Figure<Z0, Z0>,
    /// Pounds in a loose cubic yard.
    pub loose_weight: Figure<Z0, Z0>,
}

impl SoilFigures {
    /// What a volume in the ground takes when it is loose, in cubic yards; where the figure is a range, at most.
    pub fn loose_cubic_yards(&self, bank: SolidVolume) -> f64 {
        loose_cubic_yards(bank.cubic_yards(), self.swell.high)
    }

    /// What it weighs, in pounds; where a figure is a range, at most.
    pub fn pounds(&self, bank: SolidVolume) -> f64 {
        self.loose_cubic_yards(bank) * self.loose_weight.high
    }
}

/// A loose volume: the volume in the ground and its swell in percent on top.
///
/// ```
/// use retrofit_core::foundation::earthwork::loose_cubic_yards;
/// assert_eq!(loose_cubic_yards(1_000.0, 30.0), 1_300.0);
/// ```
pub fn loose_cubic_yards(bank: f64, swell: f64) -> f64 {
    bank + bank * swell / 100.0
}

/// How many loads a loose volume makes, by volume and by weight: the larger count.
///
/// ```
/// use retrofit_core::foundation::earthwork::loads;
/// // Ten cubic yards of rubble fill a container of ten, and weigh more than it may carry.
/// assert_eq!(loads(10.0, 24_000.0, 10.0, 20_000.0), 2);
/// assert_eq!(loads(0.0, 0.0, 10.0, 20_000.0), 0);
/// ```
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "not below 0, and the cast keeps to the range"
)]
pub fn loads(cubic_yards: f64, pounds: f64, most_cubic_yards: f64, most_pounds: f64) -> u64 {
    // What falls on a full load by less than a millionth is a full load: the rounding of the sums is smaller by far.
    let by = |what: f64, most: f64| ((what / most) * (1.0 - 1e-6)).ceil().max(0.0) as u64;
    by(cubic_yards, most_cubic_yards).max(by(pounds, most_pounds))
}

/// Swell, weights, containers, trucks and bars.
#[derive(Clone, Debug)]
pub struct Earthwork {
    /// The edition of the table.
    pub edition: Edition,
    soils: Vec<SoilFigures>,
    unknown_soil: SoilFigures,
    /// Pounds in a loose cubic yard of concrete, brick or stone.
    pub rubble_weight: Figure<Z0, Z0>,
    solid: Vec<(OldMaterial, Figure<P1, N3>)>,
    /// The sizes of roll-off containers, in cubic yards.
    pub containers: Vec<Figure<Z0, Z0>>,
    /// The size that is used for soil and rubble, in cubic yards.
    pub container: Figure<Z0, Z0>,
    /// What a container may weigh.
    pub container_limit: Figure<P1, Z0>,
    /// What the price of the smallest container often includes; not used, for the reader.
    pub container_ordinary: Figure<P1, Z0>,
    /// What a dump truck holds, in cubic yards.
    pub dump_truck: Figure<Z0, Z0>,
    /// What a dump truck may carry.
    pub dump_truck_limit: Figure<P1, Z0>,
    /// What a concrete truck brings, in cubic yards.
    pub concrete_truck: Figure<Z0, Z0>,
    /// Percent of concrete ordered above what the drawing holds.
    pub concrete_waste: Published<Z0, Z0>,
    /// Room to work beside a footing.
    pub working_room: Figure<Z0, P1>,
    bars: Vec<Numbered<P1, N1>>,
    /// The length that bars are sold in.
    pub stock_bar: Figure<Z0, P1>,
}

impl Earthwork {
    /// The shipped table.
    pub fn shipped() -> Result<&'static Self, &'static [TableError]> {
        static EARTHWORK: LazyLock<Result<Earthwork, Vec<TableError>>> =
            LazyLock::new(|| Earthwork::parse(&StandardTable::shipped("earthwork")?));
        EARTHWORK.as_ref().map_err(Vec::as_slice)
    }

    /// Reads the figures from their table.
    pub fn parse(table: &StandardTable) -> Result<Self, Vec<TableError>> {
        Self::read(table).map_err(|fault| vec![fault])
    }

    fn read(table: &StandardTable) -> Result<Self, TableError> {
        let soil = |soil: Option<SoilClass>| {
            let of = soil.map_or(UNKNOWN, Choice::spelling);
            Ok(SoilFigures {
                soil,
                swell: table.figure("swell", of)?,
                loose_weight: table.figure("loose-pounds-per-cubic-yard", of)?,
            })
        };
        let soils = SoilClass::ALL.iter().map(|known| soil(Some(*known)));
        let solid = OldMaterial::ALL
            .iter()
            .map(|material| Ok((*material, table.figure("solid-weight", material.spelling())?)));
        let read = Self {
            edition: table.edition.clone(),
            soils: soils.collect::<Result<_, TableError>>()?,
            rubble_weight: table.figure("rubble-pounds-per-cubic-yard", "")?,
            unknown_soil: soil(None)?,
            solid: solid.collect::<Result<_, TableError>>()?,
            containers: series(table, "container-cubic-yards")?
                .into_iter()
                .map(|(_, figure)| figure)
                .collect(),
            container: table.figure("container-used", "")?,
            container_limit: table.figure("container-limit", "")?,
            container_ordinary: table.figure("container-limit", "ordinary debris")?,
            dump_truck: table.figure("truck-cubic-yards", "dump")?,
            dump_truck_limit: table.figure("truck-limit", "dump")?,
            concrete_truck: table.figure("truck-cubic-yards", "concrete")?,
            concrete_waste: super::sequence::published(table, "concrete-waste")?,
            working_room: table.figure("working-room", "")?,
            bars: series(table, "bar-weight")?,
            stock_bar: table.figure("stock-bar", "")?,
        };
        for (of, figure) in [
            ("container-used", read.container.low),
            ("container-limit", read.container_limit.low),
            ("truck-cubic-yards", read.dump_truck.low),
            ("truck-limit", read.dump_truck_limit.low),
            ("rubble-pounds-per-cubic-yard", read.rubble_weight.low),
        ] {
            if figure <= 0.0 {
                return Err(TableError::set(
                    &table.edition.id,
                    format!("found a {of} that holds nothing; expected a size above 0"),
                ));
            }
        }
        table.unread().map_or(Ok(read), Err)
    }

    /// The figures of a soil, or of one that is not known.
    pub fn soil(&self, soil: Option<SoilClass>) -> &SoilFigures {
        let row = self.soils.iter().find(|row| row.soil == soil);
        row.unwrap_or(&self.unknown_soil)
    }

    /// What an old foundation weighs in a cubic foot.
    pub fn solid_weight(&self, material: OldMaterial) -> Option<&Figure<P1, N3>> {
        self.solid
            .iter()
            .find(|(of, _)| *of == material)
            .map(|(_, figure)| figure)
    }

    /// What an old foundation weighs, in pounds.
    pub fn old_pounds(&self, volume: SolidVolume, material: OldMaterial) -> f64 {
        let weight = self.solid_weight(material).map_or(0.0, |weight| weight.to(PCF));
        volume.cubic_feet() * weight
    }

    /// What a foot of a bar weighs, by its number; `None` where the table has no such bar.
    pub fn bar(&self, number: u8) -> Option<&Figure<P1, N1>> {
        self.bars
            .iter()
            .find(|(of, _)| *of == number)
            .map(|(_, figure)| figure)
    }

    /// What a length of bar weighs, in pounds.
    pub fn bar_pounds(&self, number: u8, length: Length) -> Option<f64> {
        Some(self.bar(number)?.to(PLF) * length.as_feet_f64())
    }

    /// Containers for a loose volume of a weight.
    pub fn containers_for(&self, cubic_yards: f64, pounds: f64) -> u64 {
        loads(
            cubic_yards,
            pounds,
            self.container.to(PLAIN),
            self.container_limit.to(POUND),
        )
    }

    /// Loads of a dump truck for a loose volume of a weight.
    pub fn truck_loads_for(&self, cubic_yards: f64, pounds: f64) -> u64 {
        loads(
            cubic_yards,
            pounds,
            self.dump_truck.to(PLAIN),
            self.dump_truck_limit.to(POUND),
        )
    }
}

/// The word of the row for what nobody knows.
const UNKNOWN: &str = "unknown";

/// A row with its place in a series.
type Numbered<F, L> = (u8, Figure<F, L>);

/// The rows of a series of whole numbers.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "not below 0, and the cast keeps to the range"
)]
fn series<F: typenum::Integer, L: typenum::Integer>(
    table: &StandardTable,
    figure: &str,
) -> Result<Vec<Numbered<F, L>>, TableError> {
    let rows = table.rows(figure).map(|cell| {
        let read = table.read_cell(cell)?.filter(|_| cell.at.is_some());
        let read = read.ok_or_else(|| table.fault(cell, "expected a number, and its place in the series"))?;
        Ok((cell.at.unwrap_or(0.0) as u8, read))
    });
    rows.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screen::PCF;
    use proptest::prelude::*;
    use rstest::rstest;

    fn earthwork() -> &'static Earthwork {
        Earthwork::shipped().unwrap()
    }

    /// Worked examples: 1,000 cubic yards of 30 percent and 10 of 30 (construction engineering page on swell factors), 200
    /// of 40 percent (page on swell and shrinkage), 100 of common clay at 25 percent in trucks of 20 (earthwork page).
    #[rstest]
    #[case(1_000.0, 30.0, 1_300.0)]
    #[case(10.0, 30.0, 13.0)]
    #[case(200.0, 40.0, 280.0)]
    #[case(100.0, 25.0, 125.0)]
    fn swell_agrees_with_published_examples(#[case] bank: f64, #[case] swell: f64, #[case] loose: f64) {
        assert!((loose_cubic_yards(bank, swell) - loose).abs() < 1e-9);
    }

    /// The same pages count loads: 125 in trucks of 20 are 7; 17.63 in trucks of 7 are 3; 1,788 in trucks of 12 are 149.
    #[rstest]
    #[case(125.0, 20.0, 7)]
    #[case(17.63, 7.0, 3)]
    #[case(1_788.0, 12.0, 149)]
    fn loads_agree_with_published_examples(#[case] loose: f64, #[case] truck: f64, #[case] expected: u64) {
        assert_eq!(loads(loose, 0.0, truck, 20_000.0), expected);
    }

    /// A table of concrete in a foot of footing by width and depth in inches, in cubic yards to three places (a collection
    /// of engineering tables on the web, concrete footings).
    #[rstest]
    #[case(12, 6, 0.019)]
    #[case(12, 12, 0.037)]
    #[case(15, 12, 0.046)]
    #[case(18, 10, 0.046)]
    #[case(24, 24, 0.148)]
    #[case(15, 36, 0.139)]
    fn footings_hold_what_a_published_table_says(
        #[case] width: i64,
        #[case] depth: i64,
        #[case] expected: f64,
    ) {
        let section = Length::inches(width).by(Length::inches(depth));
        let found = SolidVolume::of(section, Length::feet(1)).cubic_yards();
        assert!((found - expected).abs() <= 0.000_5 + 1e-9, "{found}");
    }

    #[test]
    fn concrete_with_waste_agrees_with_a_worked_example() {
        // 40 ft of 15 by 12 in and a tenth on top.
        let section = Length::inches(15).by(Length::inches(12));
        let ordered =
            SolidVolume::of(section, Length::feet(40)).with(Percent::from_hundredths(1_000).unwrap());
        assert!((ordered.cubic_yards() - 2.037).abs() < 0.000_5);
        assert_eq!(ordered.to_string(), "2.04 cu yd");
    }

    #[test]
    fn bars_weigh_what_the_trade_table_says() {
        for (number, expected) in [(3, 0.376), (4, 0.668), (5, 1.043), (6, 1.502)] {
            let found = earthwork().bar_pounds(number, Length::feet(1)).unwrap();
            assert!((found - expected).abs() < 1e-9, "#{number}");
            // Steel weighs 490 lb in a cubic foot, and the number is the diameter in eighths of an inch.
            let area = std::f64::consts::PI * (f64::from(number) / 16.0).powi(2);
            assert!((found - area * 490.0 / 144.0).abs() < 0.005 * found);
        }
        assert!(earthwork().bar(14).is_none());
    }

    #[test]
    fn an_unknown_soil_is_never_lighter_or_smaller_than_one_under_a_house() {
        let unknown = earthwork().soil(None);
        for soil in [SoilClass::Gravel, SoilClass::Sand, SoilClass::Clay] {
            let known = earthwork().soil(Some(soil));
            assert!(known.swell.high <= unknown.swell.high);
            assert!(known.loose_weight.high <= unknown.loose_weight.high);
        }
        let concrete = earthwork().solid_weight(OldMaterial::Concrete).unwrap();
        assert!((concrete.to(PCF) - 150.0).abs() < 1e-9);
    }

    #[test]
    fn weight_fills_a_container_before_rubble_does() {
        // 10 cubic yards of loose rubble at 2,400 lb.
        assert_eq!(earthwork().containers_for(10.0, 24_000.0), 2);
        assert_eq!(earthwork().containers_for(8.0, 19_200.0), 1);
    }

    proptest! {
        #[test]
        fn volumes_add_up_along_a_length(width in 1_i64..100, depth in 1_i64..100, a in 0_i64..5_000, b in 0_i64..5_000) {
            let section = Length::inches(width).by(Length::inches(depth));
            let part = |length| SolidVolume::of(section, Length::sixty_fourths(length));
            prop_assert_eq!(part(a).plus(part(b)), part(a + b));
            prop_assert_eq!(part(a + b).less(part(b)), part(a));
        }

        #[test]
        fn as_many_loads_as_it_takes(volume in 0_u32..10_000, load in 1_u32..100) {
            let of = |yards: u32| SolidVolume::from_cubic_yards(yards.into());
            let loads = of(volume).loads_of(of(load));
            prop_assert!(of(load).times(loads) >= of(volume));
            prop_assert!(loads == 0 || of(load).times(loads - 1) < of(volume));
        }
    }
}
