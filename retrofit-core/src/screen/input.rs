//! The inputs of a screen: what the record and the tables say, and between what ends the rest may lie.
//!
//! A house is computed for a *case*: every unknown stands at its low or its high end. Both ends of a result are
//! results of cases, so that the range of a result is what the same calculation gives, not an estimate beside it.

use std::sync::Arc;

use super::number::{Given, Ledger, Origin, UnknownId};
use super::quantity::Quantity;
use super::standard::Figure;
use super::unit::{TypedUnit, Unit};
use crate::choice::choices;
use crate::measure::{Area, Force, Length, Pressure};
use crate::observation::{Basis, Observed};
use crate::provisions::Standing;

choices! {
    /// A kind of unknown. Unknowns of one kind stand at the same end along all wall lines of a case.
    pub enum UnknownKind: "unknown" {
        /// The design spectral acceleration.
        Shaking = "shaking", "the design spectral acceleration of the site";
        /// Redundancy of the building.
        Redundancy = "redundancy", "whether the conditions for a redundancy factor of 1.0 hold";
        /// Number of stories.
        Stories = "stories", "the number of stories";
        /// Height of the stories.
        StoryHeight = "story_height", "the height of the stories";
        /// Roof covering.
        Roof = "roof", "the roof covering and its weight";
        /// Slope of the roof.
        RoofSlope = "roof_slope", "the slope of the roof";
        /// Outside walls.
        OutsideWalls = "outside_walls", "the weight of the outside walls";
        /// Finish inside.
        Plaster = "plaster", "whether walls and ceilings are plastered";
        /// Floors and partitions.
        Floors = "floors", "the weight of floors and partitions";
        /// Chimneys.
        Chimneys = "chimneys", "the weight of masonry chimneys";
        /// Porch roofs.
        Porch = "porch", "the porch roofs that hang on the house";
        /// Height of the cripple wall.
        CrippleHeight = "cripple_height", "the height of the cripple wall";
        /// What sheathing a panel is.
        Sheathing = "sheathing", "the material, thickness and grade of the panels";
        /// Nails of panels.
        PanelNailing = "panel_nailing", "the nails of the panels and their spacing";
        /// Whether a panel works.
        PanelFoot = "panel_foot", "whether the panels are nailed through to the sill";
        /// Whether an outside covering braces.
        Covering = "covering", "whether the outside covering is fastened so that it braces the wall";
        /// Hold-downs.
        HoldDown = "hold_down", "whether panel ends have hold-downs";
        /// Studs at the ends of panels.
        EndStuds = "end_studs", "the studs at the ends of the panels";
        /// Species of the sill and the framing.
        Species = "species", "the species of sill and framing";
        /// Sill size.
        SillSize = "sill_size", "the thickness and width of the sill";
        /// Soundness of the sill.
        SillSoundness = "sill_soundness", "whether the sill is sound";
        /// Diameter of anchors.
        AnchorDiameter = "anchor_diameter", "the diameter of the anchors";
        /// Number of anchors.
        AnchorCount = "anchor_count", "the number of anchors";
        /// State and embedment of anchors.
        AnchorHold = "anchor_hold", "how deep and how soundly the anchors hold";
        /// Edge distance of anchors.
        AnchorEdge = "anchor_edge", "the distance of the anchors from the edge of the concrete";
        /// Strength of concrete.
        Concrete = "concrete", "the strength of the concrete";
        /// Floor connection.
        Connection = "connection", "how the floor is nailed to the wall or sill below";
        /// Declared capacity of framing clips.
        Clips = "clips", "the declared capacity of the framing clips";
        /// Splices of the top plate.
        Splices = "splices", "the nails in the splices of the top plate";
        /// Size of the foundation.
        Foundation = "foundation", "the size of stem wall and footing";
        /// Soil.
        Soil = "soil", "the soil";
        /// How floors and roof bear.
        Bearing = "bearing", "how upper floors and roof bear on the wall lines";
        /// Posts and their pads.
        Posts = "posts", "the size of posts and their pads";
    }
}

impl UnknownKind {
    /// Its place among the unknowns.
    pub(super) const fn id(self) -> UnknownId {
        UnknownId(self as u8)
    }
}

/// A case: of each unknown, whether it stands at its high end. A bit for each kind.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub(super) struct Case(pub u64);

impl Case {
    /// Every unknown at its low end.
    pub(super) const LOW: Self = Self(0);

    /// Whether an unknown stands at its high end.
    pub(super) const fn is_high(self, id: UnknownId) -> bool {
        self.0 >> id.0 & 1 == 1
    }

    /// The case with one unknown at its other end.
    #[must_use]
    pub(super) const fn with(self, id: UnknownId, is_high: bool) -> Self {
        let bit = 1 << id.0;
        Self(if is_high { self.0 | bit } else { self.0 & !bit })
    }
}

/// Where an input came from.
#[derive(Clone, Debug, PartialEq)]
enum From {
    House(Arc<str>, Basis),
    Table {
        document: Arc<str>,
        section: Arc<str>,
        standing: Standing,
        note: Arc<str>,
    },
    Setting {
        document: &'static str,
        section: &'static str,
        standing: Standing,
    },
}

/// An input: a value, or the two ends of what it can be.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Input<F, L> {
    symbol: &'static str,
    words: Arc<str>,
    low: f64,
    high: f64,
    unit: Unit,
    unknown: Option<UnknownId>,
    from: From,
    dimension: std::marker::PhantomData<(F, L)>,
}

impl<F, L> Input<F, L> {
    /// The input in a case.
    pub(super) fn get<G: Ledger>(&self, ledger: G, case: Case) -> Quantity<F, L, G::Number> {
        let unknown = self.unknown.filter(|_| self.low < self.high);
        let value = match unknown {
            Some(id) if case.is_high(id) => self.high,
            _ => self.low,
        };
        let standing = match &self.from {
            From::House(..) => Standing::Verified,
            From::Table { standing, .. } | From::Setting { standing, .. } => *standing,
        };
        Quantity::new(ledger.given(value, standing, unknown, || Given {
            symbol: self.symbol.to_owned(),
            words: self.words.as_ref().to_owned(),
            unit: self.unit,
            origin: self.origin(unknown.is_some()),
        }))
    }

    fn origin(&self, is_unknown: bool) -> Origin {
        match &self.from {
            From::House(path, basis) if is_unknown => Origin::Unknown {
                between: (self.low, self.high),
                document: format!("the record, {path}"),
                section: basis.word().to_owned(),
                standing: Standing::Verified,
                note: String::new(),
            },
            From::House(path, basis) => Origin::House {
                path: path.as_ref().to_owned(),
                basis: *basis,
            },
            From::Table {
                document,
                section,
                standing,
                note,
            } if is_unknown => Origin::Unknown {
                between: (self.low, self.high),
                document: document.as_ref().to_owned(),
                section: section.as_ref().to_owned(),
                standing: *standing,
                note: note.as_ref().to_owned(),
            },
            From::Table {
                document,
                section,
                standing,
                note,
            } => Origin::Table {
                document: document.as_ref().to_owned(),
                section: section.as_ref().to_owned(),
                standing: *standing,
                note: note.as_ref().to_owned(),
            },
            From::Setting {
                document,
                section,
                standing,
            } => Origin::Setting {
                document: (*document).to_owned(),
                section: (*section).to_owned(),
                standing: *standing,
            },
        }
    }

    /// The ends of what it can be, in pounds and inches.
    pub(super) const fn ends(&self) -> (f64, f64) {
        (self.low, self.high)
    }

    /// What it is, where it is not known.
    pub(super) fn unknown(&self) -> Option<UnknownId> {
        self.unknown.filter(|_| self.low < self.high)
    }

    /// The same between two ends.
    #[must_use]
    pub(super) fn between(mut self, low: f64, high: f64, kind: UnknownKind) -> Self {
        self.low = low;
        self.high = high.max(low);
        self.unknown = Some(kind.id());
        self
    }

    /// The same of one more piece.
    #[must_use]
    pub(super) fn plus_one(mut self) -> Self {
        self.low += 1.0;
        self.high += 1.0;
        self
    }

    /// The same, up to a high end.
    #[must_use]
    pub(super) fn up_to(self, high: f64, kind: UnknownKind) -> Self {
        let low = self.low;
        self.between(low, high, kind)
    }

    /// The smaller of two, end by end: it rests on the one that is smaller at its low end.
    #[must_use]
    pub(super) fn smaller_of(self, other: Self) -> Self {
        let (low, high) = (self.low.min(other.low), self.high.min(other.high));
        let mut smaller = if other.low < self.low { other } else { self };
        smaller.low = low;
        smaller.high = high.max(low);
        smaller
    }

    /// The larger of two, end by end: it rests on the one that is larger at its high end.
    #[must_use]
    pub(super) fn larger_of(self, other: Self) -> Self {
        let (low, high) = (self.low.max(other.low), self.high.max(other.high));
        let mut larger = if other.high > self.high { other } else { self };
        larger.low = low;
        larger.high = high;
        larger
    }

    /// The same, with at least nothing for its low end: it may not be there at all.
    #[must_use]
    pub(super) fn or_none(mut self, kind: UnknownKind) -> Self {
        self.low = 0.0;
        self.unknown = Some(kind.id());
        self
    }

    /// A value on record.
    pub(super) fn seen(
        symbol: &'static str,
        words: &str,
        unit: TypedUnit<F, L>,
        value: f64,
        at: &str,
        basis: Basis,
    ) -> Self {
        Self {
            symbol,
            words: words.into(),
            low: value,
            high: value,
            unit: unit.unit(),
            unknown: None,
            from: From::House(at.into(), basis),
            dimension: std::marker::PhantomData,
        }
    }

    /// A figure of a table; of a range, both ends.
    pub(super) fn figure(
        symbol: &'static str,
        words: &str,
        figure: &Figure<F, L>,
        kind: UnknownKind,
    ) -> Self {
        Self {
            symbol,
            words: words.into(),
            low: figure.low,
            high: figure.high,
            unit: figure.unit,
            unknown: Some(kind.id()),
            from: From::Table {
                document: Arc::clone(&figure.document),
                section: Arc::clone(&figure.section),
                standing: figure.standing,
                note: Arc::clone(&figure.note),
            },
            dimension: std::marker::PhantomData,
        }
    }

    /// A value that whoever asked for the screen chose.
    pub(super) fn setting(
        symbol: &'static str,
        words: &str,
        unit: TypedUnit<F, L>,
        value: f64,
        clause: (&'static str, &'static str, Standing),
    ) -> Self {
        Self {
            symbol,
            words: words.into(),
            low: value,
            high: value,
            unit: unit.unit(),
            unknown: None,
            from: From::Setting {
                document: clause.0,
                section: clause.1,
                standing: clause.2,
            },
            dimension: std::marker::PhantomData,
        }
    }

    /// The range over several figures of which it may be any.
    pub(super) fn any_of<'a>(
        symbol: &'static str,
        words: &str,
        figures: impl IntoIterator<Item = &'a Figure<F, L>>,
        kind: UnknownKind,
    ) -> Option<Self>
    where
        F: 'a,
        L: 'a,
    {
        figures
            .into_iter()
            .map(|figure| Self::figure(symbol, words, figure, kind))
            .reduce(|mut all, other| {
                // The range rests on the weaker of the two.
                if rank(&other.from) > rank(&all.from) {
                    all.from = other.from;
                }
                all.low = all.low.min(other.low);
                all.high = all.high.max(other.high);
                all
            })
    }
}

fn rank(from: &From) -> Standing {
    match from {
        From::House(..) => Standing::Verified,
        From::Table { standing, .. } | From::Setting { standing, .. } => *standing,
    }
}

/// What a record holds as a quantity: its value in pounds and inches.
pub(super) trait InPoundsAndInches: Copy {
    /// The value.
    fn in_pounds_and_inches(self) -> f64;
}

#[expect(clippy::cast_precision_loss, reason = "computed with in floating point")]
impl InPoundsAndInches for Length {
    fn in_pounds_and_inches(self) -> f64 {
        self.nanometers() as f64 / Self::inches(1).nanometers() as f64
    }
}

impl InPoundsAndInches for Area {
    fn in_pounds_and_inches(self) -> f64 {
        self.as_square_inches_f64()
    }
}

impl InPoundsAndInches for Force {
    fn in_pounds_and_inches(self) -> f64 {
        self.as_pounds_f64()
    }
}

impl InPoundsAndInches for Pressure {
    fn in_pounds_and_inches(self) -> f64 {
        self.as_psi_f64()
    }
}

impl InPoundsAndInches for u16 {
    fn in_pounds_and_inches(self) -> f64 {
        f64::from(self)
    }
}

impl InPoundsAndInches for crate::house::SpectralAcceleration {
    fn in_pounds_and_inches(self) -> f64 {
        self.gravities()
    }
}

/// What an input is: symbol, words and unit, and the kind of unknown it is where it is not known.
#[derive(Clone, Copy, Debug)]
pub(super) struct What<F, L> {
    /// Its symbol.
    pub(super) symbol: &'static str,
    /// What it is, in words.
    pub(super) words: &'static str,
    /// The unit it is shown in.
    pub(super) unit: TypedUnit<F, L>,
    /// The kind of unknown.
    pub(super) kind: UnknownKind,
}

impl<F: Copy, L: Copy> What<F, L> {
    /// The input as the record has it; where the record leaves an end open, that end by a table.
    pub(super) fn or<T: InPoundsAndInches>(
        &self,
        observed: &Observed<T>,
        at: impl FnOnce() -> String,
        assumed: &Figure<F, L>,
    ) -> Input<F, L> {
        let (low, high) = observed.bounds();
        let basis = observed.basis();
        let (low, high) = (
            low.map(|value| value.in_pounds_and_inches()),
            high.map(|value| value.in_pounds_and_inches()),
        );
        if let (Some(low), Some(high), Some(basis)) = (low, high, basis) {
            let mut input = Input::seen(self.symbol, self.words, self.unit, low, &at(), basis);
            input.high = high;
            input.unknown = Some(self.kind.id());
            return input;
        }
        let mut input = Input::figure(self.symbol, self.words, assumed, self.kind);
        if let Some(low) = low {
            input.low = low;
            input.high = input.high.max(low);
        }
        if let Some(high) = high {
            input.high = high;
            input.low = input.low.min(high);
        }
        input
    }

    /// The input where the record has both its ends.
    pub(super) fn known<T: InPoundsAndInches>(
        &self,
        observed: &Observed<T>,
        at: impl FnOnce() -> String,
    ) -> Option<Input<F, L>> {
        let (low, high) = observed.bounds();
        let (low, high, basis) = (low?, high?, observed.basis()?);
        let mut input = Input::seen(
            self.symbol,
            self.words,
            self.unit,
            low.in_pounds_and_inches(),
            &at(),
            basis,
        );
        input.high = high.in_pounds_and_inches();
        input.unknown = Some(self.kind.id());
        Some(input)
    }
}

/// One of two ends that is no number: a nail, a species.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Pick<T> {
    /// The low end.
    pub(super) low: T,
    /// The high end.
    pub(super) high: T,
    /// The kind of unknown.
    pub(super) kind: UnknownKind,
}

impl<T: Copy + PartialEq> Pick<T> {
    /// One value.
    pub(super) const fn one(value: T, kind: UnknownKind) -> Self {
        Self {
            low: value,
            high: value,
            kind,
        }
    }

    /// The value in a case.
    pub(super) fn get(&self, ledger: impl Ledger, case: Case) -> T {
        if self.low == self.high {
            return self.low;
        }
        ledger.notice(self.kind.id());
        if case.is_high(self.kind.id()) {
            self.high
        } else {
            self.low
        }
    }
}
