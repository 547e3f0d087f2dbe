//! Quantities of foundation work: concrete, forms, bars, sill, old foundation, soil, and what carries it away.
//!
//! Everything is counted for each length of work and then added up, so a total is the sum over the lengths. Only loads and
//! containers are counted over all of them: half a container of one length and half of another are one.
//!
//! Some things are simplified, and the notes of a takeoff say so. Forms stand on both faces of the stem and at the ends of
//! each pour, while the footing is cast against the ground. The trench is dug as if no old foundation stood in it. Bars are
//! cut for each length by itself. A cap is counted as a stem without a footing, for which nothing is dug.
//!
//! ```
//! use retrofit_core::foundation::earthwork::{Earthwork, OldMaterial};
//! use retrofit_core::foundation::sequence::WorkKind;
//! use retrofit_core::foundation::work_takeoff::{BarRun, SectionSize, WorkAmount, WorkArticle, WorkPiece, take_off_work};
//! use retrofit_core::house::SoilClass;
//! use retrofit_core::measure::Length;
//! use retrofit_core::prices::UnitPrices;
//!
//! let section = SectionSize {
//!     footing_width: Length::inches(15),
//!     footing_thickness: Length::inches(12),
//!     stem_thickness: Length::inches(8),
//!     stem_height: Length::inches(18),
//!     depth_below_grade: Length::inches(18),
//!     old_width: Length::inches(10),
//!     old_height: Length::inches(24),
//!     old_material: OldMaterial::Concrete,
//!     bars: vec![BarRun { number: 4, count: 2, lap: Length::inches(24) }],
//!     verticals: None,
//!     dowels: None,
//!     sill_width: Length::inches(6),
//!     sill_thickness: Length::inches(2),
//! };
//! let south = WorkPiece {
//!     wall_line: 0,
//!     name: "south".to_owned(),
//!     from: Length::ZERO,
//!     to: Length::feet(36),
//!     kind: WorkKind::Replace,
//!     section,
//!     anchors: 10,
//!     shoring_sets: 6,
//!     jacks: 0,
//! };
//! let earthwork = Earthwork::shipped().unwrap();
//! let takeoff = take_off_work(&[south], earthwork, Some(SoilClass::Clay), None, UnitPrices::placeholder())?;
//! let concrete = takeoff.line(WorkArticle::Concrete).unwrap();
//! assert_eq!(concrete.total.to_string(), "3.00 cu yd");
//! // Bars of 20 ft that lap by 2 ft: two of them reach 38 ft.
//! let bars = takeoff.line(WorkArticle::StockBars(4)).unwrap();
//! assert_eq!(bars.total, WorkAmount::Pieces(4));
//! # Ok::<(), retrofit_core::foundation::work_takeoff::WorkTakeoffError>(())
//! ```

use std::collections::BTreeSet;
use std::fmt;

use thiserror::Error;

use super::earthwork::{Earthwork, OldMaterial, SolidVolume};
use super::sequence::{Activity, Bay, Schedule, WorkKind, length, percent};
use crate::house::SoilClass;
use crate::measure::{Area, Length};
use crate::prices::{Cents, CostRange, Item, UnitPrices};

/// Bars that run along a length.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BarRun {
    /// The number of the bar: its diameter in eighths of an inch.
    pub number: u8,
    /// How many run beside each other.
    pub count: u16,
    /// How far one reaches past the beginning of the next.
    pub lap: Length,
}

/// Bars that stand in the stem.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct VerticalBars {
    /// The number of the bar.
    pub number: u8,
    /// From one to the next.
    pub spacing: Length,
    /// The length of one, with its bend.
    pub length: Length,
}

/// Bars set in the old foundation, which tie the new work to it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DowelRun {
    /// The number of the bar.
    pub number: u8,
    /// The length of one: what is set in the old concrete, and its lap with the new bars.
    pub length: Length,
    /// Where they are.
    pub places: DowelPlaces,
}

/// Where dowels are set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DowelPlaces {
    /// So many at each end of a length, which meets the old foundation there.
    AtEachEnd(u16),
    /// One at each end and no two farther apart than this, along an old wall that stays.
    Along(Length),
}

impl DowelRun {
    /// How many a length takes.
    pub fn count(&self, run: Length) -> u64 {
        match self.places {
            DowelPlaces::AtEachEnd(count) => 2 * u64::from(count),
            DowelPlaces::Along(spacing) => {
                let (run, spacing) = (
                    run.nanometers().unsigned_abs(),
                    spacing.nanometers().unsigned_abs(),
                );
                run.div_ceil(spacing.max(1)) + 1
            }
        }
    }
}

/// The cross-section of a length of work.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SectionSize {
    /// Width of the new footing; nothing under a cap.
    pub footing_width: Length,
    /// Thickness of the new footing; nothing under a cap.
    pub footing_thickness: Length,
    /// Thickness of the new stem, or the width of a cap.
    pub stem_thickness: Length,
    /// Height of the new stem above its footing, or of a cap above the old foundation.
    pub stem_height: Length,
    /// Bottom of the footing below the ground.
    pub depth_below_grade: Length,
    /// Width of the old foundation.
    pub old_width: Length,
    /// Height of the old foundation.
    pub old_height: Length,
    /// What the old foundation is made of.
    pub old_material: OldMaterial,
    /// Bars along the length.
    pub bars: Vec<BarRun>,
    /// Bars in the stem.
    pub verticals: Option<VerticalBars>,
    /// Bars set in the old foundation.
    pub dowels: Option<DowelRun>,
    /// Width of the new sill.
    pub sill_width: Length,
    /// Thickness of the new sill.
    pub sill_thickness: Length,
}

impl SectionSize {
    /// The concrete in the cross-section.
    pub const fn concrete(&self) -> Area {
        let footing = self.footing_width.by(self.footing_thickness);
        footing.saturating_add(self.stem_thickness.by(self.stem_height))
    }

    /// The part of it below the ground.
    fn below_grade(&self) -> Area {
        let footing = self.footing_thickness.min(self.depth_below_grade);
        let stem = self.depth_below_grade.saturating_sub(self.footing_thickness);
        let stem = stem.clamp(Length::ZERO, self.stem_height);
        self.footing_width
            .by(footing)
            .saturating_add(self.stem_thickness.by(stem))
    }
}

/// A length of work with its section.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WorkPiece {
    /// The wall line, by its place in the house.
    pub wall_line: usize,
    /// The name of the wall line.
    pub name: String,
    /// Station where it begins.
    pub from: Length,
    /// Station where it ends.
    pub to: Length,
    /// What is done: beside a sister the old foundation stays, and one side of it is dug; under a cap it stays, and
    /// nothing is dug.
    pub kind: WorkKind,
    /// Its cross-section.
    pub section: SectionSize,
    /// Anchors of its sill.
    pub anchors: u16,
    /// Sets of shoring that carry the wall meanwhile, as the shoring is laid out.
    pub shoring_sets: u16,
    /// Jacks in use meanwhile.
    pub jacks: u16,
}

impl WorkPiece {
    /// Its length.
    pub const fn length(&self) -> Length {
        self.to.saturating_sub(self.from)
    }
}

/// What is counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum WorkArticle {
    /// Concrete as drawn.
    Concrete,
    /// Concrete as ordered, with waste.
    ConcreteOrdered,
    /// Forms.
    Formwork,
    /// Bars of a number, laps included.
    Bars(u8),
    /// Bars of a number by weight.
    BarWeight(u8),
    /// Bars of a number in the length that they are sold in.
    StockBars(u8),
    /// Bars set in the old foundation.
    Dowels,
    /// Anchors.
    Anchors,
    /// Sill.
    Sill,
    /// The old foundation as it stands.
    OldFoundation,
    /// The old foundation by weight.
    OldFoundationWeight,
    /// Soil as it lies.
    Excavation,
    /// Soil put back.
    Backfill,
    /// Soil carried away, loose.
    LooseSoil,
    /// Soil carried away, by weight.
    SoilWeight,
    /// The old foundation carried away, loose.
    LooseRubble,
    /// Containers of soil.
    SoilContainers,
    /// Containers of rubble.
    RubbleContainers,
    /// Loads of a dump truck in place of all containers.
    TruckLoads,
    /// Sets of shoring, each day.
    ShoringDays,
    /// Jacks, each day.
    JackDays,
    /// Visits of the inspector.
    Inspections,
    /// Concrete trucks.
    ConcreteTrucks,
    /// Days of crews.
    CrewDays,
}

impl WorkArticle {
    /// What it costs by; `None` where it is counted for ordering, and its cost lies in that of another.
    pub const fn item(self) -> Option<Item> {
        match self {
            Self::ConcreteOrdered => Some(Item::Concrete),
            Self::Formwork => Some(Item::Formwork),
            Self::BarWeight(_) => Some(Item::Reinforcing),
            Self::Anchors => Some(Item::CastAnchor),
            Self::Sill => Some(Item::NewSill),
            Self::OldFoundation => Some(Item::Demolition),
            Self::Excavation => Some(Item::Excavation),
            Self::Backfill => Some(Item::Backfill),
            Self::SoilContainers | Self::RubbleContainers => Some(Item::SpoilContainer),
            Self::ShoringDays => Some(Item::ShoringDay),
            Self::JackDays => Some(Item::JackDay),
            Self::Inspections => Some(Item::Inspection),
            Self::Concrete
            | Self::Bars(_)
            | Self::StockBars(_)
            | Self::Dowels
            | Self::OldFoundationWeight
            | Self::LooseSoil
            | Self::SoilWeight
            | Self::LooseRubble
            | Self::TruckLoads
            | Self::ConcreteTrucks
            | Self::CrewDays => None,
        }
    }

    /// Where the quantity comes from.
    pub const fn because(self) -> &'static str {
        match self {
            Self::Concrete => "footing and stem, or cap, of each length",
            Self::ConcreteOrdered => "as drawn, and the waste on top",
            Self::Formwork => "both faces of the stem or the cap, and the ends of each pour",
            Self::Bars(_) => "bars along each length with their laps, bars in the stem, and dowels",
            Self::BarWeight(_) => "their length by the weight of a foot",
            Self::StockBars(_) => "cut for each length by itself",
            Self::Dowels => "at both ends of a replaced length, or along the old wall by their spacing",
            Self::Anchors => "as laid out for each length",
            Self::Sill => "each length",
            Self::OldFoundation => "width and height of the old foundation where it is replaced",
            Self::OldFoundationWeight => "its volume by what the material weighs",
            Self::Excavation => "footing and room to work, down to its bottom",
            Self::Backfill => "what is dug less the new concrete below the ground",
            Self::LooseSoil => "what is dug less what is put back, swollen",
            Self::SoilWeight => "its loose volume by what the soil weighs loose, at most",
            Self::LooseRubble => "the weight of the old foundation by what rubble weighs loose",
            Self::SoilContainers | Self::RubbleContainers => "by volume and by weight, whichever is more",
            Self::TruckLoads => "soil and rubble each by volume and by weight, in place of containers",
            Self::ShoringDays => "sets of each length, from its first day of digging to its last sill",
            Self::JackDays => "jacks of each length, on the same days",
            Self::Inspections => "days on which an inspection is passed, of either kind",
            Self::ConcreteTrucks => "pour days of the schedule",
            Self::CrewDays => "the schedule",
        }
    }
}

impl fmt::Display for WorkArticle {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let words = match self {
            Self::Concrete => "concrete as drawn",
            Self::ConcreteOrdered => "concrete to order",
            Self::Formwork => "forms",
            Self::Bars(number) => return write!(f, "#{number} bars"),
            Self::BarWeight(number) => return write!(f, "#{number} bars by weight"),
            Self::StockBars(number) => return write!(f, "#{number} bars to buy"),
            Self::Dowels => "dowels into old concrete",
            Self::Anchors => "anchors",
            Self::Sill => "treated sill",
            Self::OldFoundation => "old foundation broken out",
            Self::OldFoundationWeight => "old foundation by weight",
            Self::Excavation => "soil dug, as it lies",
            Self::Backfill => "soil put back",
            Self::LooseSoil => "soil carried away, loose",
            Self::SoilWeight => "soil carried away by weight",
            Self::LooseRubble => "rubble carried away, loose",
            Self::SoilContainers => "containers of soil",
            Self::RubbleContainers => "containers of rubble",
            Self::TruckLoads => "truck loads of soil and rubble",
            Self::ShoringDays => "sets of shoring, days",
            Self::JackDays => "jacks, days",
            Self::Inspections => "inspections",
            Self::ConcreteTrucks => "concrete trucks",
            Self::CrewDays => "crew days",
        };
        f.pad(words)
    }
}

/// How much of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WorkAmount {
    /// A volume as it stands or lies.
    Solid(SolidVolume),
    /// A loose volume, in cubic yards.
    Loose(f64),
    /// An area.
    Surface(Area),
    /// A length.
    Run(Length),
    /// A weight in pounds.
    Pounds(f64),
    /// A count of pieces, visits or loads.
    Pieces(u64),
    /// Days.
    Days(u64),
}

impl WorkAmount {
    /// The sum of two amounts of one article; the first where they are of two kinds.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        match (self, other) {
            (Self::Solid(a), Self::Solid(b)) => Self::Solid(a.plus(b)),
            (Self::Loose(a), Self::Loose(b)) => Self::Loose(a + b),
            (Self::Surface(a), Self::Surface(b)) => Self::Surface(a.saturating_add(b)),
            (Self::Run(a), Self::Run(b)) => Self::Run(a.saturating_add(b)),
            (Self::Pounds(a), Self::Pounds(b)) => Self::Pounds(a + b),
            (Self::Pieces(a), Self::Pieces(b)) => Self::Pieces(a.saturating_add(b)),
            (Self::Days(a), Self::Days(b)) => Self::Days(a.saturating_add(b)),
            _ => self,
        }
    }

    /// The unit it is counted in.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Solid(_) | Self::Loose(_) => "cubic yard",
            Self::Surface(_) => "square foot",
            Self::Run(_) => "foot",
            Self::Pounds(_) => "pound",
            Self::Pieces(_) => "each",
            Self::Days(_) => "day",
        }
    }

    /// What it costs at a price for its unit, rounded to the cent.
    fn at(self, unit: Cents) -> Cents {
        match self {
            // To a millionth of the unit, which is far below a cent.
            Self::Solid(volume) => unit.share(millionths(volume.cubic_yards()), 1_000_000),
            Self::Loose(amount) | Self::Pounds(amount) => unit.share(millionths(amount), 1_000_000),
            Self::Surface(area) => unit.for_square_feet(area),
            Self::Run(length) => unit.for_feet(length),
            Self::Pieces(count) | Self::Days(count) => unit.times(i64::try_from(count).unwrap_or(i64::MAX)),
        }
    }
}

#[expect(clippy::cast_possible_truncation, reason = "the cast keeps to the range")]
fn millionths(amount: f64) -> i128 {
    (amount * 1e6).round() as i128
}

impl fmt::Display for WorkAmount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Solid(volume) => volume.fmt(f),
            Self::Loose(yards) => write!(f, "{yards:.2} cu yd"),
            Self::Surface(area) => write!(f, "{:.1} sq ft", area.as_square_feet_f64()),
            Self::Run(length) => length.in_feet_inches().fmt(f),
            Self::Pounds(pounds) => write!(f, "{pounds:.0} lb"),
            Self::Pieces(count) => count.fmt(f),
            Self::Days(1) => f.write_str("1 day"),
            Self::Days(days) => write!(f, "{days} days"),
        }
    }
}

/// One article with where it comes from.
#[derive(Clone, Debug, PartialEq)]
pub struct QuantityLine {
    /// The article.
    pub article: WorkArticle,
    /// How much in all.
    pub total: WorkAmount,
    /// How much for each length, by its place in the list; empty where it is counted over all of them.
    pub parts: Vec<(usize, WorkAmount)>,
    /// What it costs; nothing where it is counted for ordering.
    pub cost: CostRange,
}

/// The quantities of a job.
#[derive(Clone, Debug, PartialEq)]
pub struct WorkTakeoff {
    /// What is counted, in the order of the work.
    pub lines: Vec<QuantityLine>,
    /// What a reader has to know of the counts.
    pub notes: Vec<&'static str>,
    /// The items whose price has no source but stands in for one of your own.
    pub placeholders: Vec<Item>,
}

impl WorkTakeoff {
    /// The line of an article.
    pub fn line(&self, article: WorkArticle) -> Option<&QuantityLine> {
        self.lines.iter().find(|line| line.article == article)
    }

    /// What all of it costs: everything cheap at once, likely, everything dear at once.
    pub fn total(&self) -> CostRange {
        self.lines
            .iter()
            .fold(CostRange::ZERO, |sum, line| sum.plus(line.cost))
    }
}

/// Why a length of work cannot be counted.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum WorkTakeoffError {
    /// A size that no foundation has.
    #[error("{size} of the work on {name:?}: found {found}; expected {least} to {most}")]
    Size {
        /// The wall line.
        name: String,
        /// The size.
        size: &'static str,
        /// What was found.
        found: Length,
        /// The least that is read.
        least: Length,
        /// The most that is read.
        most: Length,
    },
    /// A bar that the table does not hold.
    #[error("the work on {name:?} names a #{number} bar; the table of weights holds no such bar")]
    Bar {
        /// The wall line.
        name: String,
        /// The number.
        number: u8,
    },
}

/// The quantities of lengths of work, with low, likely and high cost.
///
/// With bays and their schedule, pours, shoring days, inspections, trucks and crew days are counted too; without, each
/// length is one pour. The error names the length and the size that no foundation has.
pub fn take_off_work(
    pieces: &[WorkPiece],
    earthwork: &Earthwork,
    soil: Option<SoilClass>,
    job: Option<(&[Bay], &Schedule)>,
    prices: &UnitPrices,
) -> Result<WorkTakeoff, WorkTakeoffError> {
    let mut count = Count {
        earthwork,
        soil,
        job,
        lines: Vec::new(),
    };
    for (place, piece) in pieces.iter().enumerate() {
        check(piece, earthwork)?;
        count.piece(place, piece);
    }
    count.hauled();
    if let Some((_, schedule)) = job {
        count.of_the_schedule(schedule);
    }
    let mut lines = count.lines;
    lines.sort_by_key(|line| line.article);
    let region = prices.spread(Item::RegionalMultiplier);
    for line in &mut lines {
        if let Some(item) = line.article.item() {
            let unit = prices.range(item);
            let at = |unit| line.total.at(unit);
            line.cost = CostRange {
                low: at(unit.low),
                likely: at(unit.likely),
                high: at(unit.high),
            }
            .under(region);
        }
    }
    let mut placeholders: Vec<Item> = lines.iter().filter_map(|line| line.article.item()).collect();
    placeholders.push(Item::LaborHour);
    placeholders.retain(|item| prices.is_placeholder(*item));
    placeholders.sort_unstable();
    placeholders.dedup();
    let mut notes = vec![
        "Forms are counted on both faces of the stem and at the ends of each pour; the footing is cast against the ground.",
        "The trench is counted as if no old foundation stood in it.",
        "Bars are cut for each length by itself; offcuts of one are not used in another.",
        "Drilling and adhesive for dowels are not priced.",
        "Setting up and taking down of shoring is not counted, nor drainage, siding, utilities, permits and design.",
    ];
    if pieces.iter().all(|piece| piece.section.dowels.is_none()) {
        notes.retain(|note| !note.contains("dowels"));
    }
    if pieces.iter().any(|piece| piece.kind == WorkKind::Cap) {
        notes.push(
            "Under a cap nothing is dug: the top of the old foundation is taken to lie clear of the ground. Its days are \
             those of a length that is dug.",
        );
    }
    if soil.is_none() {
        notes.push("The soil is not known: swell and weight are the greatest of any soil in the table.");
    }
    if job.is_none() {
        notes
            .push("Without a schedule each length is one pour, and days, visits and trucks are not counted.");
    }
    Ok(WorkTakeoff {
        lines,
        notes,
        placeholders,
    })
}

/// No foundation under a house is longer, wider or higher.
const LONGEST: Length = Length::feet(1_000);
const LARGEST: Length = Length::feet(20);
const LEAST: Length = Length::inches(1);

fn check(piece: &WorkPiece, earthwork: &Earthwork) -> Result<(), WorkTakeoffError> {
    let section = &piece.section;
    let stock = length(&earthwork.stock_bar);
    let half_a_bar = Length::from_nanometers(stock.nanometers() / 2);
    let footing = if piece.kind == WorkKind::Cap {
        Length::ZERO
    } else {
        LEAST
    };
    let mut sizes = vec![
        ("length", piece.length(), LEAST, LONGEST),
        ("footing width", section.footing_width, footing, LARGEST),
        ("footing thickness", section.footing_thickness, footing, LARGEST),
        ("stem thickness", section.stem_thickness, LEAST, LARGEST),
        ("stem height", section.stem_height, Length::ZERO, LARGEST),
        (
            "depth below the ground",
            section.depth_below_grade,
            Length::ZERO,
            LARGEST,
        ),
        (
            "width of the old foundation",
            section.old_width,
            Length::ZERO,
            LARGEST,
        ),
        (
            "height of the old foundation",
            section.old_height,
            Length::ZERO,
            LARGEST,
        ),
        ("width of the sill", section.sill_width, Length::ZERO, LARGEST),
        (
            "thickness of the sill",
            section.sill_thickness,
            Length::ZERO,
            LARGEST,
        ),
    ];
    sizes.extend(
        section
            .bars
            .iter()
            .map(|bar| ("lap of a bar", bar.lap, Length::ZERO, half_a_bar)),
    );
    if let Some(bars) = &section.verticals {
        sizes.push(("spacing of bars in the stem", bars.spacing, LEAST, LARGEST));
        sizes.push(("length of a bar in the stem", bars.length, LEAST, stock));
    }
    if let Some(dowels) = &section.dowels {
        sizes.push(("length of a dowel", dowels.length, LEAST, stock));
        if let DowelPlaces::Along(spacing) = dowels.places {
            sizes.push(("spacing of dowels", spacing, LEAST, LARGEST));
        }
    }
    for (size, found, least, most) in sizes {
        if !(least..=most).contains(&found) {
            return Err(WorkTakeoffError::Size {
                name: piece.name.clone(),
                size,
                found,
                least,
                most,
            });
        }
    }
    let numbers = section.bars.iter().map(|bar| bar.number);
    let verticals = section.verticals.iter().map(|bars| bars.number);
    let dowels = section.dowels.iter().map(|dowels| dowels.number);
    for number in numbers.chain(verticals).chain(dowels) {
        if earthwork.bar(number).is_none() {
            return Err(WorkTakeoffError::Bar {
                name: piece.name.clone(),
                number,
            });
        }
    }
    Ok(())
}

struct Count<'a> {
    earthwork: &'a Earthwork,
    soil: Option<SoilClass>,
    job: Option<(&'a [Bay], &'a Schedule)>,
    lines: Vec<QuantityLine>,
}

impl Count<'_> {
    fn add(&mut self, article: WorkArticle, place: Option<usize>, amount: WorkAmount) {
        let part = place.map(|place| (place, amount));
        match self.lines.iter_mut().find(|line| line.article == article) {
            Some(line) => {
                line.total = line.total.plus(amount);
                let held = line.parts.iter_mut().find(|(of, _)| Some(*of) == place);
                match held {
                    Some((_, held)) => *held = held.plus(amount),
                    None => line.parts.extend(part),
                }
            }
            None => self.lines.push(QuantityLine {
                article,
                total: amount,
                parts: part.into_iter().collect(),
                cost: CostRange::ZERO,
            }),
        }
    }

    /// The bays of a length, by their places.
    fn bays(&self, piece: &WorkPiece) -> Vec<usize> {
        let bays = self.job.map_or(&[][..], |(bays, _)| bays).iter().enumerate();
        let is_in =
            |bay: &Bay| bay.wall_line == piece.wall_line && bay.from >= piece.from && bay.to <= piece.to;
        bays.filter(|(_, bay)| is_in(bay))
            .map(|(place, _)| place)
            .collect()
    }

    fn piece(&mut self, place: usize, piece: &WorkPiece) {
        use WorkAmount::{Loose, Pieces, Pounds, Run, Solid, Surface};
        let (section, run, at) = (&piece.section, piece.length(), Some(place));
        let pours = self.bays(piece).len().max(1) as u64;
        let concrete = SolidVolume::of(section.concrete(), run);
        let ordered = concrete.with(percent(&self.earthwork.concrete_waste.used));
        self.add(WorkArticle::Concrete, at, Solid(concrete));
        self.add(WorkArticle::ConcreteOrdered, at, Solid(ordered));
        let faces = run.by(section.stem_height).times(2).unwrap_or_default();
        let ends = section
            .concrete()
            .times(i64::try_from(pours + 1).unwrap_or(i64::MAX));
        self.add(
            WorkArticle::Formwork,
            at,
            Surface(faces.saturating_add(ends.unwrap_or_default())),
        );
        self.bars(place, piece, pours);
        if let Some(dowels) = &section.dowels {
            self.add(WorkArticle::Dowels, at, Pieces(dowels.count(run)));
        }
        self.add(WorkArticle::Anchors, at, Pieces(piece.anchors.into()));
        self.add(WorkArticle::Sill, at, Run(run));

        if let Some(days) = self.days_supported(piece) {
            let of = |count: u16| WorkAmount::Days(days.saturating_mul(count.into()));
            self.add(WorkArticle::ShoringDays, at, of(piece.shoring_sets));
            self.add(WorkArticle::JackDays, at, of(piece.jacks));
        }
        let is_replaced = piece.kind == WorkKind::Replace;
        if is_replaced {
            let old = SolidVolume::of(section.old_width.by(section.old_height), run);
            let pounds = self.earthwork.old_pounds(old, section.old_material);
            self.add(WorkArticle::OldFoundation, at, Solid(old));
            self.add(WorkArticle::OldFoundationWeight, at, Pounds(pounds));
            self.add(
                WorkArticle::LooseRubble,
                at,
                Loose(pounds / self.earthwork.rubble_weight.low),
            );
        }
        if piece.kind == WorkKind::Cap {
            return;
        }
        let sides = if is_replaced { 2 } else { 1 };
        let room = Length::sixty_fourths(room_in_sixty_fourths(self.earthwork)).times(sides);
        let width = section.footing_width.saturating_add(room.unwrap_or_default());
        let dug = SolidVolume::of(width.by(section.depth_below_grade), run);
        let filled = SolidVolume::of(section.below_grade(), run);
        let soil = self.earthwork.soil(self.soil);
        let carried_away = dug.less(dug.less(filled));
        self.add(WorkArticle::Excavation, at, Solid(dug));
        self.add(WorkArticle::Backfill, at, Solid(dug.less(filled)));
        self.add(
            WorkArticle::LooseSoil,
            at,
            Loose(soil.loose_cubic_yards(carried_away)),
        );
        self.add(WorkArticle::SoilWeight, at, Pounds(soil.pounds(carried_away)));
    }

    /// Calendar days from the first day of digging to the last sill of a length, both included.
    fn days_supported(&self, piece: &WorkPiece) -> Option<u64> {
        let (_, schedule) = self.job?;
        let bays = self.bays(piece);
        let of = |activity: Activity| {
            let tasks = schedule.tasks.iter();
            tasks
                .filter(move |task| task.activity == activity)
                .filter(|task| bays.contains(&task.bay))
        };
        let first = of(Activity::Dig).map(|task| task.first).min()?;
        let last = of(Activity::SillAndAnchors).map(|task| task.last).max()?;
        Some(u64::from(last.saturating_sub(first)) + 1)
    }

    fn bars(&mut self, place: usize, piece: &WorkPiece, pours: u64) {
        let stock = length(&self.earthwork.stock_bar);
        let nanometers = |length: Length| length.nanometers().unsigned_abs();
        let run = nanometers(piece.length());
        let mut add = |number: u8, length: Length, to_buy: u64| {
            let at = Some(place);
            let pounds = self.earthwork.bar_pounds(number, length).unwrap_or(0.0);
            self.add(WorkArticle::Bars(number), at, WorkAmount::Run(length));
            self.add(WorkArticle::BarWeight(number), at, WorkAmount::Pounds(pounds));
            self.add(WorkArticle::StockBars(number), at, WorkAmount::Pieces(to_buy));
        };
        for bars in &piece.section.bars {
            // So many bars lapped reach from end to end; and a bar ends with its pour.
            let lap = nanometers(bars.lap);
            let by_stock = run
                .saturating_sub(lap)
                .div_ceil(nanometers(stock).saturating_sub(lap).max(1));
            let segments = by_stock.max(pours).max(1);
            let whole = run.saturating_add(lap.saturating_mul(segments - 1));
            let count = u64::from(bars.count);
            // Whole bars and a rest, or bars as long as a pour; what is cut shorter comes several out of one bar.
            let (whole_bars, cut, each) = if segments > by_stock {
                (0, segments, whole.div_ceil(segments))
            } else {
                let rest = whole.saturating_sub(nanometers(stock).saturating_mul(segments - 1));
                (segments - 1, 1, rest)
            };
            let out_of_one = (nanometers(stock) / each.max(1)).max(1);
            let to_buy = count.saturating_mul(whole_bars) + count.saturating_mul(cut).div_ceil(out_of_one);
            let whole = i64::try_from(whole.saturating_mul(count)).unwrap_or(i64::MAX);
            add(bars.number, Length::from_nanometers(whole), to_buy);
        }
        let mut add_cut = |number: u8, pieces: u64, length: Length| {
            let out_of_one = nanometers(stock) / nanometers(length).max(1);
            let whole = length.times(i64::try_from(pieces).unwrap_or(i64::MAX));
            add(
                number,
                whole.unwrap_or(Length::LIMIT),
                pieces.div_ceil(out_of_one.max(1)),
            );
        };
        if let Some(bars) = &piece.section.verticals {
            let pieces = run / nanometers(bars.spacing).max(1) + 1;
            add_cut(bars.number, pieces, bars.length);
        }
        if let Some(dowels) = &piece.section.dowels {
            add_cut(dowels.number, dowels.count(piece.length()), dowels.length);
        }
    }

    fn hauled(&mut self) {
        let of = |article: WorkArticle| {
            let line = self.lines.iter().find(|line| line.article == article);
            match line.map(|line| line.total) {
                Some(WorkAmount::Loose(amount) | WorkAmount::Pounds(amount)) => amount,
                _ => 0.0,
            }
        };
        let soil = (of(WorkArticle::LooseSoil), of(WorkArticle::SoilWeight));
        let rubble = (of(WorkArticle::LooseRubble), of(WorkArticle::OldFoundationWeight));
        let containers = |(yards, pounds)| self.earthwork.containers_for(yards, pounds);
        let loads = |(yards, pounds)| self.earthwork.truck_loads_for(yards, pounds);
        let (of_soil, of_rubble) = (containers(soil), containers(rubble));
        let loads = loads(soil).saturating_add(loads(rubble));
        self.add(WorkArticle::SoilContainers, None, WorkAmount::Pieces(of_soil));
        self.add(WorkArticle::RubbleContainers, None, WorkAmount::Pieces(of_rubble));
        self.add(WorkArticle::TruckLoads, None, WorkAmount::Pieces(loads));
    }

    fn of_the_schedule(&mut self, schedule: &Schedule) {
        let passed = schedule.tasks.iter().filter(|task| !task.activity.takes_a_crew());
        let visits: BTreeSet<(Activity, u32)> = passed.map(|task| (task.activity, task.last)).collect();
        let trucks = schedule
            .pours
            .iter()
            .fold(0, |sum: u64, pour| sum.saturating_add(pour.trucks));
        self.add(
            WorkArticle::Inspections,
            None,
            WorkAmount::Pieces(visits.len() as u64),
        );
        self.add(WorkArticle::ConcreteTrucks, None, WorkAmount::Pieces(trucks));
        self.add(WorkArticle::CrewDays, None, WorkAmount::Days(schedule.crew_days));
    }
}

/// Room beside a footing, at most.
#[expect(clippy::cast_possible_truncation, reason = "the cast keeps to the range")]
fn room_in_sixty_fourths(earthwork: &Earthwork) -> i64 {
    // Figures are kept in inches.
    (earthwork.working_room.high * 64.0).round() as i64
}

#[cfg(test)]
mod tests {
    #![expect(
        clippy::cast_precision_loss,
        clippy::float_cmp,
        reason = "counts are small, and what is exact is compared exactly"
    )]

    use super::*;
    use crate::foundation::sequence::{Practice, Settings, WorkLength, divide, schedule};
    use proptest::prelude::*;
    use rstest::rstest;

    fn inches(inches: i64) -> Length {
        Length::inches(inches)
    }

    fn piece(from: Length, to: Length) -> WorkPiece {
        WorkPiece {
            wall_line: 0,
            name: "south".to_owned(),
            from,
            to,
            kind: WorkKind::Replace,
            section: SectionSize {
                footing_width: inches(15),
                footing_thickness: inches(12),
                stem_thickness: inches(8),
                stem_height: inches(18),
                depth_below_grade: inches(18),
                old_width: inches(10),
                old_height: inches(24),
                old_material: OldMaterial::Concrete,
                bars: vec![BarRun {
                    number: 4,
                    count: 2,
                    lap: inches(24),
                }],
                verticals: Some(VerticalBars {
                    number: 4,
                    spacing: inches(24),
                    length: inches(36),
                }),
                dowels: None,
                sill_width: inches(6),
                sill_thickness: inches(2),
            },
            anchors: 10,
            shoring_sets: 6,
            jacks: 2,
        }
    }

    fn count(pieces: &[WorkPiece], soil: Option<SoilClass>) -> WorkTakeoff {
        take_off_work(
            pieces,
            Earthwork::shipped().unwrap(),
            soil,
            None,
            UnitPrices::placeholder(),
        )
        .unwrap()
    }

    fn of(takeoff: &WorkTakeoff, article: WorkArticle) -> f64 {
        number(takeoff.line(article).unwrap().total)
    }

    fn number(amount: WorkAmount) -> f64 {
        match amount {
            WorkAmount::Solid(volume) => volume.cubic_yards(),
            WorkAmount::Loose(amount) | WorkAmount::Pounds(amount) => amount,
            WorkAmount::Surface(area) => area.as_square_feet_f64(),
            WorkAmount::Run(length) => length.as_feet_f64(),
            WorkAmount::Pieces(count) | WorkAmount::Days(count) => count as f64,
        }
    }

    /// Counted by hand: 36 ft of footing 15 by 12 in with a stem 8 by 18 in, 18 in deep in clay.
    #[rstest]
    #[case(WorkArticle::Concrete, 3.0)] // 2.25 sq ft x 36 ft / 27
    #[case(WorkArticle::ConcreteOrdered, 3.3)]
    #[case(WorkArticle::Formwork, 112.5)] // 2 x 1.5 x 36, and two ends of 2.25
    #[case(WorkArticle::Bars(4), 133.0)] // 2 x 38 along, 19 of 3 ft standing
    #[case(WorkArticle::BarWeight(4), 88.844)] // x 0.668
    #[case(WorkArticle::StockBars(4), 8.0)] // 4, and 19 at 6 from one
    #[case(WorkArticle::Anchors, 10.0)]
    #[case(WorkArticle::Sill, 36.0)]
    #[case(WorkArticle::OldFoundation, 60.0 / 27.0)]
    #[case(WorkArticle::OldFoundationWeight, 9_000.0)]
    #[case(WorkArticle::LooseRubble, 3.75)] // / 2,400
    #[case(WorkArticle::RubbleContainers, 1.0)]
    #[case(WorkArticle::Excavation, 6.5)] // 39 in x 18 in x 36 ft / 27
    #[case(WorkArticle::Backfill, 6.5 - 57.0 / 27.0)] // less 1.25 + 0.3333 sq ft
    #[case(WorkArticle::LooseSoil, 57.0 / 27.0 * 1.5)] // dry clay at most
    #[case(WorkArticle::SoilWeight, 9_500.0)] // x 3,000
    #[case(WorkArticle::SoilContainers, 1.0)]
    #[case(WorkArticle::TruckLoads, 2.0)]
    fn one_length_agrees_with_a_count_by_hand(#[case] article: WorkArticle, #[case] expected: f64) {
        let takeoff = count(&[piece(Length::ZERO, Length::feet(36))], Some(SoilClass::Clay));
        let found = of(&takeoff, article);
        assert!((found - expected).abs() < 1e-6, "{article}: {found}");
    }

    #[test]
    fn concrete_agrees_with_the_worked_example() {
        // 40 ft of footing 15 by 12 in with a tenth on top: 2.037 cubic yards.
        let mut piece = piece(Length::ZERO, Length::feet(40));
        piece.section.stem_height = Length::ZERO;
        let found = of(&count(&[piece], None), WorkArticle::ConcreteOrdered);
        assert!((found - 2.037).abs() < 0.000_5, "{found}");
    }

    #[test]
    fn a_sister_leaves_the_old_foundation_and_is_dug_from_one_side() {
        let mut sister = piece(Length::ZERO, Length::feet(36));
        sister.kind = WorkKind::Sister;
        let takeoff = count(&[sister], Some(SoilClass::Sand));
        assert!(takeoff.line(WorkArticle::OldFoundation).is_none());
        assert!(
            (of(&takeoff, WorkArticle::Excavation) - 4.5).abs() < 1e-9,
            "27 in wide"
        );
        assert_eq!(of(&takeoff, WorkArticle::RubbleContainers), 0.0);
    }

    /// Counted by hand: 36 ft of cap 8 in wide and 8-1/2 in thick, with one bar along it and dowels 30 in long every
    /// 24 in; a run of it in two lengths adds up to their sum.
    #[rstest]
    #[case(WorkArticle::Concrete, 17.0 / 27.0)] // 68 sq in x 36 ft
    #[case(WorkArticle::ConcreteOrdered, 1.1 * 17.0 / 27.0)]
    #[case(WorkArticle::Formwork, 51.0 + 2.0 * 68.0 / 144.0)] // 2 x 8.5 in x 36 ft, and two ends
    #[case(WorkArticle::Dowels, 19.0)]
    #[case(WorkArticle::Bars(4), 38.0 + 19.0 * 2.5)]
    #[case(WorkArticle::BarWeight(4), 0.668 * (38.0 + 19.0 * 2.5))]
    #[case(WorkArticle::StockBars(4), 2.0 + 3.0)] // 38 ft out of two, and 19 at 8 from one
    #[case(WorkArticle::Anchors, 10.0)]
    #[case(WorkArticle::Sill, 36.0)]
    fn a_cap_agrees_with_a_count_by_hand(#[case] article: WorkArticle, #[case] expected: f64) {
        let whole = count(&[cap(Length::ZERO, Length::feet(36))], None);
        let found = of(&whole, article);
        assert!((found - expected).abs() < 1e-6, "{article}: {found}");
    }

    fn cap(from: Length, to: Length) -> WorkPiece {
        let mut cap = piece(from, to);
        cap.kind = WorkKind::Cap;
        cap.section = SectionSize {
            footing_width: Length::ZERO,
            footing_thickness: Length::ZERO,
            stem_thickness: inches(8),
            stem_height: Length::sixty_fourths(17 * 32),
            depth_below_grade: Length::ZERO,
            bars: vec![BarRun {
                number: 4,
                count: 1,
                lap: inches(24),
            }],
            verticals: None,
            dowels: Some(DowelRun {
                number: 4,
                length: inches(30),
                places: DowelPlaces::Along(inches(24)),
            }),
            ..cap.section
        };
        cap
    }

    #[test]
    fn for_a_cap_nothing_is_dug_or_broken_out_and_the_takeoff_says_so() {
        let takeoff = count(&[cap(Length::ZERO, Length::feet(36))], None);
        for article in [
            WorkArticle::OldFoundation,
            WorkArticle::Excavation,
            WorkArticle::Backfill,
            WorkArticle::LooseSoil,
        ] {
            assert!(takeoff.line(article).is_none(), "{article}");
        }
        assert!(
            takeoff
                .notes
                .iter()
                .any(|note| note.contains("Under a cap nothing is dug"))
        );
        let both = count(
            &[
                cap(Length::ZERO, Length::feet(18)),
                piece(Length::feet(18), Length::feet(36)),
            ],
            None,
        );
        for line in both.lines.iter().filter(|line| !line.parts.is_empty()) {
            let sum: f64 = line.parts.iter().map(|(_, part)| number(*part)).sum();
            let total = number(line.total);
            assert!((sum - total).abs() <= 1e-9 * total.abs(), "{}", line.article);
        }
    }

    #[test]
    fn dowels_of_a_replaced_length_are_at_its_two_ends() {
        let mut replaced = piece(Length::ZERO, Length::feet(36));
        replaced.section.dowels = Some(DowelRun {
            number: 4,
            length: inches(30),
            places: DowelPlaces::AtEachEnd(2),
        });
        let takeoff = count(&[replaced], None);
        assert_eq!(
            takeoff.line(WorkArticle::Dowels).unwrap().total,
            WorkAmount::Pieces(4)
        );
        assert_eq!(of(&takeoff, WorkArticle::Bars(4)), 133.0 + 4.0 * 2.5);
    }

    #[test]
    fn a_schedule_brings_pours_visits_days_and_trucks() {
        let mut settings = Settings::of(Practice::shipped().unwrap());
        settings.perimeter = Some(Length::feet(120));
        let piece = piece(Length::ZERO, Length::feet(12));
        let work = WorkLength {
            wall_line: 0,
            name: piece.name.clone(),
            from: piece.from,
            to: piece.to,
            line_length: Some(Length::feet(36)),
            plan: None,
            kind: piece.kind,
            concrete: piece.section.concrete(),
        };
        let bays = divide(&[work], &settings).unwrap();
        let plan = schedule(&bays, &settings).unwrap();
        let earthwork = Earthwork::shipped().unwrap();
        let takeoff = take_off_work(
            &[piece],
            earthwork,
            None,
            Some((&bays, &plan)),
            UnitPrices::placeholder(),
        )
        .unwrap();
        // Three bays one after the other: bars lap twice, and no bar is longer than its bay and a lap.
        assert_eq!(of(&takeoff, WorkArticle::Bars(4)), 2.0 * 16.0 + 7.0 * 3.0);
        assert_eq!(of(&takeoff, WorkArticle::Formwork), 2.0 * 1.5 * 12.0 + 4.0 * 2.25);
        assert_eq!(of(&takeoff, WorkArticle::Inspections), 6.0);
        assert_eq!(of(&takeoff, WorkArticle::ConcreteTrucks), 3.0);
        assert_eq!(
            takeoff.line(WorkArticle::CrewDays).unwrap().total,
            WorkAmount::Days(plan.crew_days)
        );
        let last_sill = plan.open.iter().map(|open| open.to).max().unwrap();
        assert_eq!(
            of(&takeoff, WorkArticle::ShoringDays),
            6.0 * f64::from(last_sill + 1)
        );
        assert_eq!(
            of(&takeoff, WorkArticle::JackDays),
            2.0 * f64::from(last_sill + 1)
        );
        assert_eq!(takeoff.line(WorkArticle::Concrete).unwrap().total, {
            let poured = bays
                .iter()
                .fold(SolidVolume::ZERO, |sum, bay| sum.plus(bay.concrete));
            WorkAmount::Solid(poured)
        });
    }

    #[test]
    fn costs_are_quantities_at_unit_prices() {
        let takeoff = count(&[piece(Length::ZERO, Length::feet(36))], None);
        let prices = UnitPrices::placeholder();
        let sill = takeoff.line(WorkArticle::Sill).unwrap();
        assert_eq!(sill.cost, prices.range(Item::NewSill).times(36));
        let concrete = takeoff.line(WorkArticle::ConcreteOrdered).unwrap();
        let expected = prices.range(Item::Concrete).likely.0 as f64 * 3.3;
        assert!((concrete.cost.likely.0 as f64 - expected).abs() <= 1.0);
        let total = takeoff.total();
        assert!(total.low < total.likely && total.likely < total.high);
        assert!(takeoff.placeholders.contains(&Item::Concrete));
        assert_eq!(
            takeoff.line(WorkArticle::LooseSoil).unwrap().cost,
            CostRange::ZERO
        );
    }

    #[rstest]
    #[case::no_length(|piece: &mut WorkPiece| piece.to = piece.from, "length of the work on \"south\"")]
    #[case::backward(|piece: &mut WorkPiece| piece.from = Length::feet(99), "length of the work")]
    #[case::a_lap_of_a_bar(|piece: &mut WorkPiece| piece.section.bars[0].lap = Length::feet(20), "lap of a bar")]
    #[case::no_spacing(
        |piece: &mut WorkPiece| piece.section.verticals.as_mut().unwrap().spacing = Length::ZERO,
        "spacing of bars"
    )]
    #[case::a_wide_footing(|piece: &mut WorkPiece| piece.section.footing_width = Length::feet(21), "footing width")]
    #[case::a_long_dowel(
        |piece: &mut WorkPiece| piece.section.dowels = Some(DowelRun {
            number: 4,
            length: Length::feet(21),
            places: DowelPlaces::AtEachEnd(2),
        }),
        "length of a dowel"
    )]
    #[case::no_such_bar(|piece: &mut WorkPiece| piece.section.bars[0].number = 14, "#14 bar")]
    fn a_size_that_no_foundation_has_is_refused_by_name(
        #[case] change: fn(&mut WorkPiece),
        #[case] says: &str,
    ) {
        let mut piece = piece(Length::ZERO, Length::feet(36));
        change(&mut piece);
        let told = take_off_work(
            &[piece],
            Earthwork::shipped().unwrap(),
            None,
            None,
            UnitPrices::placeholder(),
        );
        let told = told.unwrap_err().to_string();
        assert!(told.contains(says), "{told}");
    }

    proptest! {
        /// A length counted in two parts is counted as a whole: to a cubic nanometer for what is rounded.
        #[test]
        fn quantities_add_up_over_lengths(
            a in 12_i64..2_000, b in 12_i64..2_000, width in 6_i64..40, stem in 0_i64..60, depth in 0_i64..80,
        ) {
            let with = |from, to| {
                let mut piece = piece(inches(from), inches(to));
                piece.section.footing_width = inches(width);
                piece.section.stem_height = inches(stem);
                piece.section.depth_below_grade = inches(depth);
                piece
            };
            let whole = count(&[with(0, a + b)], None);
            let parts = count(&[with(0, a), with(a, a + b)], None);
            for article in [
                WorkArticle::Concrete,
                WorkArticle::Sill,
                WorkArticle::OldFoundation,
                WorkArticle::Excavation,
                WorkArticle::Backfill,
            ] {
                prop_assert_eq!(whole.line(article).unwrap().total, parts.line(article).unwrap().total);
            }
            for article in [
                WorkArticle::ConcreteOrdered,
                WorkArticle::OldFoundationWeight,
                WorkArticle::LooseRubble,
                WorkArticle::LooseSoil,
                WorkArticle::SoilWeight,
            ] {
                let (whole, parts) = (of(&whole, article), of(&parts, article));
                prop_assert!((whole - parts).abs() <= 1e-9 * whole.abs(), "{article}: {whole} and {parts}");
            }
            // A cut takes laps, standing bars and offcuts; it saves none.
            prop_assert!(of(&parts, WorkArticle::StockBars(4)) + 1.0 >= of(&whole, WorkArticle::StockBars(4)));
            for line in &parts.lines {
                if !line.parts.is_empty() {
                    let sum: f64 = line.parts.iter().map(|(_, part)| number(*part)).sum();
                    let total = number(line.total);
                    prop_assert!((sum - total).abs() <= 1e-9 * total.abs(), "{}", line.article);
                }
            }
        }

        /// The bars that are bought are no shorter than those that are laid.
        #[test]
        fn bars_bought_reach(length in 12_u32..2_000, lap in 0_u32..120, bars in 1_u16..5) {
            let mut piece = piece(Length::ZERO, inches(length.into()));
            piece.section.verticals = None;
            piece.section.bars = vec![BarRun { number: 5, count: bars, lap: inches(lap.into()) }];
            let takeoff = count(&[piece], None);
            let (bought, laid) = (of(&takeoff, WorkArticle::StockBars(5)), of(&takeoff, WorkArticle::Bars(5)));
            prop_assert!(bought * 20.0 >= laid - 1e-6);
            let segments = length.saturating_sub(lap).max(1).div_ceil(240 - lap).max(1);
            prop_assert!(bought <= f64::from(bars) * f64::from(segments), "no more than a whole bar for each piece");
            prop_assert!(laid * 12.0 >= f64::from(bars) * f64::from(length) - 1e-6);
        }

        #[test]
        fn an_unknown_soil_never_takes_less(length in 12_i64..2_000, depth in 1_i64..80) {
            let mut piece = piece(Length::ZERO, inches(length));
            piece.section.depth_below_grade = inches(depth);
            let unknown = count(std::slice::from_ref(&piece), None);
            for soil in [SoilClass::Gravel, SoilClass::Sand, SoilClass::Clay] {
                let known = count(std::slice::from_ref(&piece), Some(soil));
                prop_assert!(of(&known, WorkArticle::LooseSoil) <= of(&unknown, WorkArticle::LooseSoil));
                prop_assert!(known.total().high <= unknown.total().high);
            }
        }
    }
}
