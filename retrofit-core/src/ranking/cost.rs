//! What the work on a house costs: by the takeoff of a bare house like it, or by published prices of whole jobs.
//!
//! A row of a portfolio does not say how long each side of its house is, so no layout can be drawn for it. What it
//! does say (stories, weight, height of the cripple wall, size, what falls short) is enough to draw one for a *bare
//! house* like it: a rectangle of its size with nothing credited, as [`design`] lays it out and [`take_off`] counts
//! it, at the same unit prices. There are only so many bare houses, and each is laid out once; so a row takes three
//! look-ups. What lies outside the provisions, or needs a new foundation, has no layout; there, and only there,
//! published prices of whole jobs stand in.

use std::collections::{BTreeMap, HashMap};
use std::sync::{PoisonError, RwLock};

use foldhash::fast::FixedState;
use serde::{Deserialize, Serialize};

use super::estimate::{End, Estimate};
use super::evidence::{Evidence, Seen, Work};
use super::tables::{Assumption, RankingTables, Sourced, UsedFor};
use crate::choice::{Choice, choices};
use crate::house::{
    AsBuilt, Building, CrippleStretch, ExteriorWall, FoundationCondition, FoundationKind, FoundationStretch,
    House, JoistDirection, Rim, Roof, Stories, WallLine,
};
use crate::measure::Length;
use crate::observation::{Observed, Truth};
use crate::portfolio::Part;
use crate::prices::{CostRange, UnitPrices};
use crate::provisions::{Provisions, Standing};
use crate::remedy::design;
use crate::takeoff::{Article, Stock, Takeoff, take_off};

choices! {
    /// Where the cost of the work on a house comes from.
    pub enum CostFrom: "source of a cost" {
        /// The takeoff of a bare house of the size, stories, weight and cripple wall on record.
        SizeOnRecord = "size_on_record", "takeoff of a bare house like it";
        /// The takeoff of a bare house, with some of those assumed.
        SizeAssumed = "size_assumed", "takeoff of a bare house, size or framing assumed";
        /// Published prices of whole jobs.
        WholeJobs = "whole_jobs", "published prices of whole jobs";
        /// Nothing was found short, and so no work is priced.
        NoWork = "no_work", "nothing found short, no work priced";
    }
}

/// What the work on one house costs, in dollars.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JobCost {
    /// The cost; low and high are those of everything cheap and of everything dear at once.
    pub range: Estimate,
    /// Where it comes from.
    pub from: CostFrom,
}

/// What is known of a house that the amount of work on it hangs on. What is `None` is unknown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Extent {
    /// Stories, a half one as a half.
    pub stories: Option<f64>,
    /// Whether outside walls of cement plaster carry a tile roof.
    pub is_heavy: Option<bool>,
    /// The cripple wall.
    pub cripple_wall: CrippleWall,
    /// Length in feet of the wall line that stands for all.
    pub wall_length: Option<f64>,
    /// Area of the crawl space in square feet.
    pub crawl_space_area: Option<f64>,
    /// Whether the foundation is known to be of concrete, for which bare houses are laid out.
    pub is_on_concrete: bool,
    /// Whether the joists are known to run along the wall line that stands for all.
    pub has_joists_along: bool,
    /// What was found short of what ties the floor to the walls.
    pub floor: FloorShort,
}

/// What was found short of what ties the floor to the walls. What was not found short is not priced.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct FloorShort {
    /// The joist bays over the walls are open.
    pub rim: bool,
    /// The floor is not tied to the wall below.
    pub tie: bool,
}

/// The cripple wall of a house, as far as the amount of work hangs on it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum CrippleWall {
    /// Not known.
    #[default]
    Unknown,
    /// The floor bears on the sill.
    None,
    /// So many steps of half a foot high, a part of a step as a whole one.
    HalfFeet(u8),
}

impl CrippleWall {
    /// A wall of such a height.
    fn of_height(height: Length) -> Self {
        let step = Length::inches(HALF_FOOT).nanometers();
        let steps = (height.nanometers().max(1) - 1).div_euclid(step) + 1;
        Self::HalfFeet(u8::try_from(steps).unwrap_or(u8::MAX))
    }
}

/// Inches in the steps by which heights of cripple walls are told apart.
const HALF_FOOT: i64 = 6;

/// The shorter side of a bare house, in feet, goes by steps of two between these.
const NARROWEST: f64 = 8.0;
const WIDEST: f64 = 60.0;

/// A wall line and an area make a rectangle of their own where neither side is more than this many times the other.
const MOST_DRAWN_OUT: f64 = 4.0;

impl Extent {
    /// What a record says of it; what the checks found is added by [`Evidence::with_digest`].
    pub fn of(house: &House) -> Self {
        let wall = house.wall_lines.first();
        let cripple_wall = wall.and_then(|wall| wall.cripple_wall.value());
        let stretches = wall.map_or(&[][..], |wall| wall.foundation.listed());
        Self {
            stories: house
                .building
                .stories
                .value()
                .map(|stories| f64::from(stories.halves()) / 2.0),
            is_heavy: match house.building.is_heavy() {
                Truth::True => Some(true),
                Truth::False => Some(false),
                Truth::Maybe => None,
            },
            cripple_wall: match cripple_wall.map(Vec::as_slice) {
                None => CrippleWall::Unknown,
                Some([]) => CrippleWall::None,
                Some(stretches) => stretches
                    .iter()
                    .filter_map(|stretch| stretch.height.value().copied())
                    .max()
                    .map_or(CrippleWall::Unknown, CrippleWall::of_height),
            },
            wall_length: wall
                .and_then(|wall| wall.length.value())
                .map(|length| length.as_feet_f64()),
            crawl_space_area: house
                .crawl_space_area
                .value()
                .map(|area| area.as_square_feet_f64()),
            is_on_concrete: !stretches.is_empty()
                && stretches
                    .iter()
                    .all(|stretch| stretch.kind.value() == Some(&FoundationKind::Concrete)),
            has_joists_along: wall.is_some_and(|wall| wall.joists.value() == Some(&JoistDirection::Parallel)),
            floor: FloorShort::default(),
        }
    }

    /// The length around the house in feet, where it stands on such an area, known or assumed, and is drawn out so much.
    fn perimeter(&self, area: Option<f64>, ratio: f64) -> Option<f64> {
        match (self.wall_length, area) {
            (Some(length), Some(area))
                if (1.0 / MOST_DRAWN_OUT..=MOST_DRAWN_OUT).contains(&(area / length / length)) =>
            {
                Some(2.0 * (length + area / length))
            }
            (_, Some(area)) => Some(2.0 * (1.0 + ratio) * (area / ratio).sqrt()),
            // It stands for every wall line, and there are four of them.
            (Some(length), None) => Some(4.0 * length),
            (None, None) => None,
        }
    }
}

/// A bare house: all by which the work on it is laid out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
struct Bare {
    stories: u8,
    is_heavy: bool,
    /// Height of the cripple wall in half feet; 0 where there is none.
    half_feet: u8,
    /// The shorter side in feet.
    width: u8,
    /// The longer side in feet.
    length: u16,
    has_joists_along: bool,
    floor: FloorShort,
}

/// What the parts of the work on a bare house cost; `None` where there is no layout.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct ByPart {
    anchors: Option<CostRange>,
    bracing: Option<CostRange>,
    floor: Option<CostRange>,
}

/// Prices the work on houses of a portfolio.
///
/// ```
/// use retrofit_core::prices::UnitPrices;
/// use retrofit_core::provisions::Library;
/// use retrofit_core::ranking::{CostFrom, Evidence, Pricing, RankingTables, Work};
///
/// let provisions = Library::shipped().set(Library::DEFAULT_SET).expect("the shipped tables are in order");
/// let pricing = Pricing::by_takeoff(RankingTables::shipped(), UnitPrices::placeholder(), &provisions);
/// let mut evidence = Evidence { floor_area: Some(1200.0), ..Evidence::default() };
/// // Nobody looked: stories and cripple wall are assumed.
/// assert_eq!(pricing.of(&evidence).from, CostFrom::SizeAssumed);
/// // For what an engineer has to design there is no layout.
/// evidence.work = Work::Engineered;
/// assert_eq!(pricing.of(&evidence).from, CostFrom::WholeJobs);
/// ```
#[derive(Debug)]
pub struct Pricing<'a> {
    tables: &'a RankingTables,
    /// By what bare houses are laid out and priced; `None` where whole jobs stand in for all.
    by: Option<(&'a UnitPrices, &'a Provisions)>,
    /// The bare houses that were laid out so far. There are only so many.
    laid_out: RwLock<HashMap<Bare, ByPart, FixedState>>,
}

/// Where unit prices come from, and how well that was seen; the sheet beside their table has the document of each source.
pub fn price_sources(prices: &UnitPrices) -> Vec<Sourced> {
    let mut rows: BTreeMap<(&str, Standing), usize> = BTreeMap::new();
    for price in prices.rows() {
        *rows.entry((&price.source, price.standing)).or_default() += 1;
    }
    let sourced = rows.into_iter().map(|((source, standing), rows)| Sourced {
        used_for: UsedFor::UnitPrices,
        document: format!("{source}, in the table of unit prices"),
        standing,
        rows,
    });
    sourced.collect()
}

impl<'a> Pricing<'a> {
    /// By the takeoff of bare houses, laid out by these provisions at the lowest of these prices.
    pub fn by_takeoff(tables: &'a RankingTables, prices: &'a UnitPrices, provisions: &'a Provisions) -> Self {
        Self {
            by: Some((prices, provisions)),
            ..Self::by_whole_jobs(tables)
        }
    }

    /// By published prices of whole jobs alone, whatever the house.
    pub fn by_whole_jobs(tables: &'a RankingTables) -> Self {
        Self {
            tables,
            by: None,
            laid_out: RwLock::default(),
        }
    }

    /// What the work on a house costs.
    pub fn of(&self, evidence: &Evidence) -> JobCost {
        let has_layout = matches!(evidence.work, Work::AnchorsAndBracing | Work::AnchorsOnly);
        if evidence.parts == [Seen::NotShort; Part::ALL.len()] && has_layout {
            return JobCost {
                range: Estimate::default(),
                from: CostFrom::NoWork,
            };
        }
        let priced = self.by.filter(|_| has_layout).and_then(|by| {
            let ends = End::ALL.map(|end| self.at(by, evidence, end));
            let [Some(low), Some(likely), Some(high)] = ends else {
                return None;
            };
            // More of one thing may need less of another: a low wall takes solid blocks for panels, and costs more.
            let dollars = Estimate {
                low: in_dollars(low.low.min(likely.low).min(high.low)),
                likely: in_dollars(likely.likely),
                high: in_dollars(low.high.max(likely.high).max(high.high)),
            };
            // Where the only shortfall is one that no takeoff of a bare house counts, nothing would be no answer.
            (dollars.likely > 0.0).then_some(dollars)
        });
        match priced {
            Some(range) => JobCost {
                range,
                from: if is_on_record(evidence) {
                    CostFrom::SizeOnRecord
                } else {
                    CostFrom::SizeAssumed
                },
            },
            None => JobCost {
                range: self.tables.whole_job(evidence.work),
                from: CostFrom::WholeJobs,
            },
        }
    }

    /// What the work costs with all that is unknown at one end of its range.
    fn at(&self, by: (&UnitPrices, &Provisions), evidence: &Evidence, end: End) -> Option<CostRange> {
        let extent = &evidence.extent;
        let assumed = |assumption| self.tables.assumed(assumption).at(end);
        let stories = extent.stories.unwrap_or_else(|| assumed(Assumption::Stories));
        let ratio = self.tables.assumed(Assumption::PlanRatio).likely;
        let ground = ground(evidence, Some(stories));
        let perimeter = extent.perimeter(ground, ratio).or_else(|| {
            let area = assumed(Assumption::FloorArea) / stories;
            extent.perimeter(Some(area), ratio)
        })?;
        let (width, length) = sides(perimeter, ratio)?;
        let half_feet = match extent.cripple_wall {
            CrippleWall::None => 0,
            CrippleWall::HalfFeet(steps) => steps,
            CrippleWall::Unknown => {
                let height = Length::nearest_inches(assumed(Assumption::CrippleHeight));
                match CrippleWall::of_height(height) {
                    CrippleWall::HalfFeet(steps) => steps,
                    CrippleWall::None | CrippleWall::Unknown => 0,
                }
            }
        };
        let bare = Bare {
            stories: whole(stories.ceil())?,
            // As a layout takes it, the heavier case where that is not known; at the low end the other.
            is_heavy: extent.is_heavy.unwrap_or(end != End::Low),
            half_feet,
            width,
            length,
            has_joists_along: extent.has_joists_along && extent.floor.rim,
            floor: extent.floor,
        };
        let cost = self.laid_out(by, bare);
        let [anchorage, bracing, _] = evidence.parts;
        let mut sum = cost.floor?;
        if anchorage != Seen::NotShort {
            sum = sum.plus(cost.anchors?);
        }
        if bracing != Seen::NotShort {
            sum = sum.plus(cost.bracing?);
        }
        Some(sum)
    }

    /// What the work on a bare house costs, which is worked out once.
    fn laid_out(&self, (prices, provisions): (&UnitPrices, &Provisions), bare: Bare) -> ByPart {
        let known = self.laid_out.read().unwrap_or_else(PoisonError::into_inner);
        if let Some(cost) = known.get(&bare) {
            return *cost;
        }
        drop(known);
        let cost = bare.cost(prices, provisions);
        let mut known = self.laid_out.write().unwrap_or_else(PoisonError::into_inner);
        known.insert(bare, cost);
        cost
    }
}

/// Whether all that a bare house is drawn by is on record.
fn is_on_record(evidence: &Evidence) -> bool {
    let extent = &evidence.extent;
    extent.stories.is_some()
        && extent.is_heavy.is_some()
        && extent.cripple_wall != CrippleWall::Unknown
        && extent.is_on_concrete
        && (extent.wall_length.is_some() || ground(evidence, extent.stories).is_some())
}

/// The area on the ground in square feet: that of the crawl space, or that of the floors over their number.
fn ground(evidence: &Evidence, stories: Option<f64>) -> Option<f64> {
    let of_floors = || Some(evidence.floor_area? / stories?);
    evidence.extent.crawl_space_area.or_else(of_floors)
}

/// The sides of the rectangle with such a perimeter and ratio, in feet; the shorter to the nearest two. `None` where
/// that is no size for one of the houses that the provisions are for.
fn sides(perimeter: f64, ratio: f64) -> Option<(u8, u16)> {
    let width = 2.0 * (perimeter / (4.0 * (1.0 + ratio))).round();
    if !(NARROWEST..=WIDEST).contains(&width) {
        return None;
    }
    Some((whole(width)?, whole((width * ratio).round())?))
}

/// A number without a fraction.
#[expect(
    clippy::cast_possible_truncation,
    reason = "a float saturates, and what does not fit is refused"
)]
fn whole<T: TryFrom<i64>>(number: f64) -> Option<T> {
    T::try_from(number as i64).ok()
}

#[expect(clippy::cast_precision_loss, reason = "cents of one house")]
fn in_dollars(cents: crate::prices::Cents) -> f64 {
    cents.0 as f64 / 100.0
}

impl Bare {
    /// Its record: sound concrete all around, and on it nothing that could be credited.
    fn house(self) -> House {
        let wall = |name: &str, feet: i64| WallLine {
            name: name.to_owned(),
            length: Observed::inferred(Length::feet(feet)),
            foundation: Observed::inferred(vec![FoundationStretch {
                kind: Observed::inferred(FoundationKind::Concrete),
                condition: Observed::inferred(FoundationCondition::Sound),
                ..FoundationStretch::default()
            }]),
            anchors: Observed::inferred(Vec::new()),
            panels: Observed::inferred(Vec::new()),
            cripple_wall: Observed::inferred(match self.half_feet {
                0 => Vec::new(),
                steps => vec![CrippleStretch {
                    height: Observed::inferred(Length::inches(HALF_FOOT * i64::from(steps))),
                    ..CrippleStretch::default()
                }],
            }),
            joists: match (self.floor.rim, self.has_joists_along) {
                (false, _) => Observed::default(),
                (true, true) => Observed::inferred(JoistDirection::Parallel),
                (true, false) => Observed::inferred(JoistDirection::Perpendicular),
            },
            rim: if self.floor.rim {
                Observed::inferred(Rim::None)
            } else {
                Observed::default()
            },
            connections: if self.floor.tie {
                Observed::inferred(Vec::new())
            } else {
                Observed::default()
            },
            ..WallLine::default()
        };
        let (short, long) = (i64::from(self.width), i64::from(self.length));
        House {
            name: "bare".to_owned(),
            building: Building {
                stories: Observed::inferred(Stories::whole(self.stories)),
                exterior: Observed::inferred(if self.is_heavy {
                    ExteriorWall::Stucco
                } else {
                    ExteriorWall::Wood
                }),
                roof: Observed::inferred(if self.is_heavy { Roof::Tile } else { Roof::Light }),
                ..Building::default()
            },
            wall_lines: vec![
                wall("front", long),
                wall("right", short),
                wall("back", long),
                wall("left", short),
            ],
            ..House::default()
        }
    }

    /// What the parts of the work on it cost.
    fn cost(self, prices: &UnitPrices, provisions: &Provisions) -> ByPart {
        let Ok(house) = AsBuilt::new(self.house()) else {
            return ByPart::of_none();
        };
        ByPart::of(&take_off(
            &design(&house, provisions, prices),
            prices,
            Stock::shipped(),
        ))
    }
}

impl ByPart {
    const fn of_none() -> Self {
        Self {
            anchors: None,
            bracing: None,
            floor: None,
        }
    }

    /// The rows of a takeoff, each with the part it is for.
    fn of(takeoff: &Takeoff) -> Self {
        let mut sums = [CostRange::ZERO; 3];
        for row in &takeoff.rows {
            let [anchors, bracing, floor] = &mut sums;
            let part = match row.article {
                Article::Anchor { .. }
                | Article::Washer(_)
                | Article::WasherUnderOldNut(_)
                | Article::NutTightened
                | Article::Adhesive { .. } => anchors,
                Article::FramingClip | Article::JoistBlock | Article::EndJoist => floor,
                // Solid blocks stand in for panels where studs are too short; nothing else is laid out for a bare house.
                _ => bracing,
            };
            *part = part.plus(row.price.cost());
        }
        let [anchors, bracing, floor] = sums;
        let unless_open =
            |part: &str, cost| (!takeoff.gaps.iter().any(|gap| gap.part == part)).then_some(cost);
        Self {
            anchors: unless_open("anchors", anchors),
            bracing: unless_open("panels", bracing),
            floor: unless_open("floor connection", floor),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::prices::Cents;
    use crate::provisions::Library;
    use rstest::rstest;

    fn provisions() -> Provisions {
        Library::shipped().set(Library::DEFAULT_SET).unwrap()
    }

    /// A house of 24 by 48 ft with a cripple wall of 2 ft, of which all that the work hangs on is on record.
    fn on_record() -> Evidence {
        Evidence {
            floor_area: Some(24.0 * 48.0),
            extent: Extent {
                stories: Some(1.0),
                is_heavy: Some(false),
                cripple_wall: CrippleWall::HalfFeet(4),
                wall_length: Some(48.0),
                is_on_concrete: true,
                ..Extent::default()
            },
            ..Evidence::default()
        }
    }

    fn cost(evidence: &Evidence) -> JobCost {
        Pricing::by_takeoff(RankingTables::shipped(), UnitPrices::placeholder(), &provisions()).of(evidence)
    }

    /// The same house in a house file, laid out and counted by hand of the verb for one house.
    #[test]
    fn a_bare_house_costs_what_its_takeoff_says() {
        let wall = |name: &str, feet: u8| {
            format!(
                r#"{{"name": "{name}", "length": {{"measured": "{feet} ft"}},
                    "foundation": [{{"kind": "concrete", "condition": "sound"}}],
                    "anchors": [], "panels": [], "cripple_wall": [{{"height": {{"measured": "2 ft"}}}}]}}"#
            )
        };
        let text = format!(
            r#"{{"format": "house-1", "name": "Quince", "building": {{"stories": 1, "exterior": "wood", "roof": "light"}},
                "wall_lines": [{}, {}, {}, {}]}}"#,
            wall("north", 48),
            wall("east", 24),
            wall("south", 48),
            wall("west", 24)
        );
        let house = AsBuilt::new(serde_json::from_str(&text).unwrap()).unwrap();
        let prices = UnitPrices::placeholder();
        let takeoff = take_off(&design(&house, &provisions(), prices), prices, Stock::shipped());
        let total = takeoff.total();
        assert!(takeoff.gaps.is_empty() && total.low > Cents::ZERO);
        assert_eq!(
            cost(&on_record()),
            JobCost {
                range: Estimate {
                    low: in_dollars(total.low),
                    likely: in_dollars(total.likely),
                    high: in_dollars(total.high),
                },
                from: CostFrom::SizeOnRecord,
            }
        );
    }

    /// A part that is as it should be is not paid for.
    #[test]
    fn only_what_falls_short_is_priced() {
        let with = |parts| cost(&Evidence { parts, ..on_record() });
        let (all, anchors, bracing) = (
            with([Seen::Short; 3]),
            with([Seen::Short, Seen::NotShort, Seen::Open]),
            with([Seen::NotShort, Seen::Short, Seen::Open]),
        );
        assert!(anchors.range.likely > 0.0 && bracing.range.likely > 0.0);
        assert!((anchors.range.likely + bracing.range.likely - all.range.likely).abs() < 0.005);
        let nothing = with([Seen::NotShort; 3]);
        assert_eq!(
            (nothing.range, nothing.from),
            (Estimate::default(), CostFrom::NoWork)
        );
        // What falls short is no part of a bare house: a published price is better than none.
        let other = with([Seen::NotShort, Seen::NotShort, Seen::Short]);
        assert_eq!(other.from, CostFrom::WholeJobs);
        assert!(other.range.low > 0.0);
    }

    #[test]
    fn open_joist_bays_add_to_it() {
        let mut evidence = on_record();
        let before = cost(&evidence).range.likely;
        evidence.extent.floor.rim = true;
        let across = cost(&evidence).range.likely;
        evidence.extent.has_joists_along = true;
        let along = cost(&evidence).range.likely;
        assert!(before < across && before < along);
        // 144 ft of end joist at 6 dollars and 0.15 hours of 90 dollars.
        assert!((along - before - 144.0 * 19.5).abs() < 0.005);
    }

    /// A larger house, a taller house and a house of more stories cost more; an unknown one lies in a wider range.
    #[test]
    fn more_of_a_house_costs_more() {
        let of = |change: fn(&mut Evidence)| {
            let mut evidence = on_record();
            change(&mut evidence);
            cost(&evidence)
        };
        let plain = of(|_| {}).range;
        let larger = of(|house| {
            house.floor_area = Some(40.0 * 80.0);
            house.extent.wall_length = Some(80.0);
        });
        assert!(larger.range.likely > plain.likely);
        assert!(
            of(|house| house.extent.cripple_wall = CrippleWall::HalfFeet(8))
                .range
                .likely
                > plain.likely
        );
        let of_two_stories = of(|house| {
            house.extent.stories = Some(2.0);
            house.floor_area = Some(2.0 * 24.0 * 48.0);
        });
        assert!(of_two_stories.range.likely > plain.likely);
        let unknown = of(|house| house.extent.cripple_wall = CrippleWall::Unknown);
        assert_eq!(unknown.from, CostFrom::SizeAssumed);
        assert!(unknown.range.high - unknown.range.low > plain.high - plain.low);
        assert_eq!(
            of(|house| house.work = Work::NewFoundation).from,
            CostFrom::WholeJobs
        );
        // No layout is drawn for a house larger than those that the provisions are for.
        assert_eq!(
            of(|house| house.floor_area = Some(90_000.0)).from,
            CostFrom::WholeJobs
        );
    }

    #[rstest]
    #[case(Some(48.0), Some(1152.0), Some(144.0))]
    #[case(None, Some(1152.0), Some(144.0))]
    #[case(Some(30.0), None, Some(120.0))]
    // A wall of 5 ft on such an area is not a side of a rectangle.
    #[case(Some(5.0), Some(1152.0), Some(144.0))]
    #[case(None, None, None)]
    fn a_perimeter_comes_from_what_is_known(
        #[case] wall_length: Option<f64>,
        #[case] area: Option<f64>,
        #[case] perimeter: Option<f64>,
    ) {
        let extent = Extent {
            wall_length,
            ..Extent::default()
        };
        assert_eq!(extent.perimeter(area, 2.0), perimeter);
    }

    #[rstest]
    #[case("0 in", 1)]
    #[case("6 in", 1)]
    #[case("6 1/8 in", 2)]
    #[case("2 ft", 4)]
    #[case("9000 ft", 255)]
    fn heights_go_up_in_half_feet(#[case] height: &str, #[case] steps: u8) {
        let height = CrippleWall::of_height(height.parse().unwrap());
        assert_eq!(height, CrippleWall::HalfFeet(steps));
    }

    /// Whatever is unknown, there is a cost over nothing, in order, unless nothing was found short.
    #[test]
    fn every_house_has_a_cost_in_order() {
        let (provisions, tables) = (provisions(), RankingTables::shipped());
        let pricing = Pricing::by_takeoff(tables, UnitPrices::placeholder(), &provisions);
        for stories in [None, Some(0.5), Some(1.5), Some(3.0), Some(10.0)] {
            for cripple_wall in [
                CrippleWall::Unknown,
                CrippleWall::None,
                CrippleWall::HalfFeet(255),
            ] {
                for floor_area in [None, Some(1.0), Some(1800.0), Some(f64::MAX)] {
                    for wall_length in [None, Some(0.0), Some(36.0)] {
                        let evidence = Evidence {
                            floor_area,
                            extent: Extent {
                                stories,
                                cripple_wall,
                                wall_length,
                                ..Extent::default()
                            },
                            ..Evidence::default()
                        };
                        let cost = pricing.of(&evidence).range;
                        assert!(
                            cost.low > 0.0 && cost.low <= cost.likely && cost.likely <= cost.high,
                            "{evidence:?}"
                        );
                        assert!(cost.high < 1e6);
                    }
                }
            }
        }
    }
}
