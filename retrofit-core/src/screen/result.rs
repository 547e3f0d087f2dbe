//! What a screen found.

use super::derivation::Derivation;
use super::input::UnknownKind;
use super::link::LinkKind;
use super::method::Method;
use super::plan::Direction;
use super::standard::Edition;
use super::unit::Unit;
use crate::provisions::Standing;

/// A range from the better end to the worse, or one value where both are the same.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    /// The lower end.
    pub low: f64,
    /// The upper end.
    pub high: f64,
}

impl Range {
    /// Whether it is one value, as far as anyone can measure. A range without an upper end is none.
    ///
    /// ```
    /// use retrofit_core::screen::Range;
    /// assert!(Range { low: 2.0, high: 2.0 + 1e-12 }.is_one());
    /// assert!(!Range { low: 1.0, high: f64::INFINITY }.is_one());
    /// ```
    pub fn is_one(self) -> bool {
        self.low.to_bits() == self.high.to_bits()
            || self.high.is_finite() && self.high - self.low <= 1e-9 * self.high.abs()
    }
}

/// A quantity as a range, in pounds and inches, with the unit it is shown in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Value {
    /// Its ends.
    pub range: Range,
    /// The unit it is shown in.
    pub unit: Unit,
    /// The line of the derivation of its worse end, in [`Screen::derivations`].
    pub line: Option<(usize, usize)>,
}

/// One end of a link's range.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct End {
    /// What the link is asked for, in pounds and inches.
    pub demand: f64,
    /// What it can give, in pounds and inches.
    pub capacity: f64,
    /// Demand over capacity.
    pub ratio: f64,
    /// The design acceleration, in units of gravity, at which it reaches its capacity; `None` where none up to 3 g does.
    pub shaking: Option<f64>,
}

impl End {
    /// What it can give over what it is asked for: a reserve, or below nothing a shortfall.
    pub fn margin(&self) -> f64 {
        self.capacity - self.demand
    }
}

/// A link that was computed.
#[derive(Clone, Debug, PartialEq)]
pub struct LinkResult {
    /// The better end of what it can be.
    pub best: End,
    /// The worse end.
    pub worst: End,
    /// The unit of demand and capacity.
    pub unit: Unit,
    /// What governs the capacity at the worse end.
    pub governs: &'static str,
    /// Whether more may be there than was counted: the better end is then open.
    pub may_hold_more: bool,
    /// The unknown that widens the range most.
    pub widest: Option<UnknownKind>,
    /// The weakest standing of any figure or equation behind it.
    pub standing: Standing,
    /// The line of the derivation of its worse end, in [`Screen::derivations`].
    pub line: Option<(usize, usize)>,
}

/// What became of a link.
#[derive(Clone, Debug, PartialEq)]
pub enum LinkScreen {
    /// It was computed.
    Computed(LinkResult),
    /// Nothing on record carries it.
    NoCapacity(&'static str),
    /// The house has no such link.
    NotApplicable(&'static str),
    /// It could not be computed, and why.
    NotDetermined(String),
}

impl LinkScreen {
    /// Whether it falls short at both ends of what it can be, so that no unknown can save it.
    pub fn surely_falls_short(&self) -> bool {
        match self {
            Self::Computed(link) => link.best.ratio > 1.0 && !link.may_hold_more,
            Self::NoCapacity(_) => true,
            Self::NotApplicable(_) | Self::NotDetermined(_) => false,
        }
    }

    /// How it is ranked among links: the worse end of demand over capacity. A link without capacity comes first, and
    /// one that is not determined or has no part in the path is not ranked.
    pub fn worst(&self) -> Option<f64> {
        match self {
            Self::Computed(link) => Some(link.worst.ratio),
            Self::NoCapacity(_) => Some(f64::INFINITY),
            Self::NotApplicable(_) | Self::NotDetermined(_) => None,
        }
    }
}

/// How a load path stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Path {
    /// A link surely falls short.
    Short,
    /// A link falls short at one end of what it can be.
    MayBeShort,
    /// A link was not determined, and no other surely falls short.
    NotDetermined,
    /// Every link reaches its demand at both ends of what it can be.
    Reaches,
}

/// Shears of a wall line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shear {
    /// By the floor area nearer to it than to the next.
    pub flexible: Value,
    /// By stiffness with accidental torsion, where the stiffness of every line is known.
    pub rigid: Option<Value>,
    /// The greater of the two.
    pub envelope: Value,
    /// What every link has to carry: with redundancy, at the level of the method.
    pub factored: Value,
}

/// A wall line.
#[derive(Clone, Debug, PartialEq)]
pub struct LineScreen {
    /// Its name.
    pub name: String,
    /// Its place among the wall lines of the house.
    pub wall: usize,
    /// The direction it resists in.
    pub direction: Direction,
    /// The floor that has to drag its load into it from beyond its ends, in inches.
    pub drag: f64,
    /// Its shears.
    pub shear: Shear,
    /// The uplift at the end of its worst panel, which a hold-down would have to hold; `None` where no panel counts.
    pub uplift: Option<Value>,
    /// Its links, from the floor to the soil.
    pub links: Vec<(LinkKind, LinkScreen)>,
    /// The weakest link: the first in `links` of the greatest worse end.
    pub weakest: Option<LinkKind>,
    /// How the path stands.
    pub path: Path,
}

impl LineScreen {
    /// The weakest of the links that surely fall short; another may be weaker at its worse end and reach its demand at
    /// its better one.
    pub fn surely_short(&self) -> Option<LinkKind> {
        let mut weakest: Option<(LinkKind, f64)> = None;
        for (kind, link) in &self.links {
            if let (true, Some(ratio)) = (link.surely_falls_short(), link.worst())
                && weakest.is_none_or(|(_, other)| ratio > other)
            {
                weakest = Some((*kind, ratio));
            }
        }
        weakest.map(|(kind, _)| kind)
    }
}

/// A direction.
#[derive(Clone, Debug, PartialEq)]
pub struct DirectionScreen {
    /// The direction of the shaking.
    pub direction: Direction,
    /// The seismic response coefficient.
    pub coefficient: Value,
    /// The base shear by the equivalent lateral force procedure.
    pub base_shear: Value,
    /// The base shear by the simplified procedure, where it applies.
    pub simplified: Option<Value>,
    /// The forces at the levels, from the first floor to the roof.
    pub levels: Vec<LevelForce>,
    /// Sliding of the whole foundation.
    pub sliding: LinkScreen,
}

/// The force at a level.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LevelForce {
    /// The level: 0 is the first floor.
    pub level: usize,
    /// Its force.
    pub force: Value,
}

/// One part of the weight of a house.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WeightPart {
    /// What it is.
    pub what: &'static str,
    /// The level it is counted at: 0 is the first floor.
    pub level: usize,
    /// Its weight.
    pub weight: Value,
}

/// What a screen found. It is no design: a licensed engineer designs.
#[derive(Clone, Debug, PartialEq)]
pub struct Screen {
    /// The editions it computed by.
    pub editions: Vec<Edition>,
    /// The design method.
    pub method: Method,
    /// Whether forces were reduced as for an existing building.
    pub reduced: bool,
    /// The design acceleration, or why that of the site is not known; only the ladder means something then.
    pub shaking: Result<Value, String>,
    /// The weight, part by part.
    pub weights: Vec<WeightPart>,
    /// The whole weight.
    pub weight: Value,
    /// Both directions.
    pub directions: [DirectionScreen; 2],
    /// The wall lines.
    pub lines: Vec<LineScreen>,
    /// The interior posts.
    pub posts: Vec<(LinkKind, LinkScreen)>,
    /// What was not known, in the order of [`UnknownKind`].
    pub unknowns: Vec<UnknownKind>,
    /// What was taken for granted because the record does not say.
    pub granted: Vec<&'static str>,
    /// Whether the plan is more than one rectangle.
    pub has_parts: bool,
    /// The derivations, a book for each case that is the worse end of something; empty where none were asked for.
    pub derivations: Vec<Derivation>,
}

impl Screen {
    /// How the house stands: as its worst wall line, or as a link of the house as a whole where that is worse.
    pub fn path(&self) -> Path {
        let of_house = self
            .directions
            .iter()
            .map(|direction| &direction.sliding)
            .chain(self.posts.iter().map(|(_, link)| link))
            .map(|link| match link {
                LinkScreen::NoCapacity(_) => Path::Short,
                LinkScreen::NotDetermined(_) => Path::NotDetermined,
                LinkScreen::Computed(_) if self.shaking.is_err() => Path::NotDetermined,
                link if link.surely_falls_short() => Path::Short,
                LinkScreen::Computed(link) if link.worst.ratio > 1.0 => Path::MayBeShort,
                LinkScreen::Computed(_) | LinkScreen::NotApplicable(_) => Path::Reaches,
            });
        // `Path` is listed from the worst to the best.
        let paths = self.lines.iter().map(|line| line.path).chain(of_house);
        paths
            .min_by_key(|path| *path as u8)
            .unwrap_or(Path::NotDetermined)
    }

    /// The wall line and link that go first: the least design acceleration at which a link reaches its capacity, at
    /// the worse end, links without capacity first of all.
    pub fn ladder(&self) -> Vec<(&LineScreen, LinkKind, Option<f64>)> {
        let mut rungs: Vec<_> = self
            .lines
            .iter()
            .flat_map(|line| line.links.iter().map(move |(kind, link)| (line, *kind, link)))
            .filter_map(|(line, kind, link)| match link {
                LinkScreen::Computed(link) => Some((line, kind, Some(link.worst.shaking?))),
                LinkScreen::NoCapacity(_) => Some((line, kind, None)),
                LinkScreen::NotApplicable(_) | LinkScreen::NotDetermined(_) => None,
            })
            .collect();
        rungs.sort_by(|a, b| a.2.unwrap_or(0.0).total_cmp(&b.2.unwrap_or(0.0)));
        rungs
    }
}
