//! Temporary support of a wall line while its foundation is taken out.
//!
//! Where the joists run across the wall, a carrying beam along it takes their ends; where they run along it, needle
//! beams go through the wall, with a post inside and one outside. Where nobody saw which, both are shown and
//! neither is chosen.
//!
//! Everything is put beside published figures, at the high end of the load: beam, post, crib, jack and pad, each in
//! a list of sizes, every ratio with its load, its figure and the source of that. Nothing here says that a support
//! will do: see [`ASKS_FOR_DESIGN`].

mod figures;

pub use figures::{CribFigures, Gate, GateKind, Named, Pace, Published, ShoringFigures};

use std::cell::Cell;

use super::loads::{LineLoads, LoadKind, NotDetermined, missing, stands_outside};
use crate::house::{AsBuilt, JoistDirection, WallLine};
use crate::measure::Length;
use crate::observation::{Observed, Truth};
use crate::provisions::Standing;
use crate::screen::nds::{
    BEAM_SIZES, Beam, BeamLimit, BeamLoads, CompressionEdge, Duration, LumberGrade, NdsError, Pieces, Post,
    Wood,
};
use crate::screen::{
    Bare, Distance, Figure, INCH, Method, PLF, POUND, PSF, PSI, SQUARE_INCH, Standards, Tagging, Unit,
};

/// What goes with every result.
pub const ASKS_FOR_DESIGN: &str = "Temporary support is designed by a licensed engineer, and the local code \
    official is asked first. What is shown here was put beside published figures and nothing else was looked at.";

/// What was not looked at.
pub const NOT_SEEN: [&str; 6] = [
    "whether the joists, the rim and the sill stand being held at another place than before",
    "bracing that keeps posts, cribs and the house from leaning, in wind or in an earthquake",
    "how posts, beams, jacks and pads are fastened to each other",
    "the state, species and grade of the lumber at hand",
    "the ground under each pad, and an excavation beside it",
    "loads that stand in one place, such as a chimney or the posts of a large opening",
];

/// Under two equal spans the middle support takes five quarters of what a span brings (statics).
const MIDDLE_SUPPORT: f64 = 1.25;

/// The deflection of a carrying beam under live load is put beside the span over this, as that of a floor.
const SPAN_OVER: f64 = 360.0;

/// Sides of posts by name, and as dressed.
const POSTS: [(u8, u8); 2] = [(4, 4), (6, 6)];

/// Supports more than this along one wall are a slip of the pen.
const MOST_SUPPORTS: i64 = 1_000;

/// How temporary support is laid out.
///
/// ```
/// use retrofit_core::foundation::shoring::{ShoringFigures, ShoringSettings};
/// use retrofit_core::measure::Length;
/// let settings = ShoringSettings::of(ShoringFigures::shipped().expect("the shipped table is in order"));
/// assert_eq!(settings.support_spacing, Length::feet(5));
/// assert_eq!(settings.needle_spacing, Length::feet(6));
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShoringSettings {
    /// Most, between supports of a carrying beam.
    pub support_spacing: Length,
    /// From the wall to a carrying beam.
    pub beam_offset: Length,
    /// Most, between needle beams.
    pub needle_spacing: Length,
    /// From either face of the foundation to the posts of a needle beam.
    pub needle_post_offset: Length,
    /// From the ground to the floor framing; left out, that of the record.
    pub height: Option<Length>,
    /// The wood of beams and posts.
    pub wood: Wood,
    /// Its grade.
    pub grade: LumberGrade,
}

impl ShoringSettings {
    /// The settings that the table gives, with the first of every figure that it holds several of.
    pub fn of(figures: &ShoringFigures) -> Self {
        let first = |sizes: &[Named<Figure<typenum::Z0, typenum::P1>>]| {
            sizes
                .first()
                .map_or(Length::ZERO, |size| Length::nearest_inches(size.figure.low))
        };
        Self {
            support_spacing: first(&figures.support_spacings),
            beam_offset: Length::nearest_inches(figures.carrying_beam_offset.low),
            needle_spacing: first(&figures.needle_spacings),
            needle_post_offset: Length::nearest_inches(figures.needle_post_offset.low),
            height: None,
            wood: Wood::DouglasFir,
            grade: LumberGrade::No2,
        }
    }
}

/// A load put beside a published figure.
#[derive(Clone, Debug, PartialEq)]
pub struct LoadCheck {
    /// What of.
    pub words: &'static str,
    /// What is asked.
    pub load: f64,
    /// What is published.
    pub figure: f64,
    /// The unit of both.
    pub unit: Unit,
    /// Where the figure comes from; of strengths of lumber, the specification that they were computed by.
    pub published: Published,
}

impl LoadCheck {
    fn of<F, L>(words: &'static str, load: f64, figure: &Figure<F, L>) -> Self {
        let published = Published::from(figure);
        Self {
            words,
            load: load / figure.unit.factor(),
            figure: published.value,
            unit: figure.unit,
            published,
        }
    }

    /// Load over figure; infinite where the figure is nothing.
    pub fn ratio(&self) -> f64 {
        if self.figure > 0.0 {
            self.load / self.figure
        } else {
            f64::INFINITY
        }
    }
}

/// One size of one part, put beside every figure for it.
#[derive(Clone, Debug, PartialEq)]
pub struct Trial {
    /// The size, such as `4x8`.
    pub size: String,
    /// How it measures, to be drawn: thickness and depth of a beam, the sides of a post, the side of a piece of a crib and
    /// its length, the side of a pad twice; `None` of a jack.
    pub measures: Option<[Length; 2]>,
    /// What it was put beside; an error where the specification gives no number for it.
    pub checks: Result<Vec<LoadCheck>, NdsError>,
    /// What could not be put beside a figure.
    pub not_determined: Vec<NotDetermined>,
}

impl Trial {
    fn of(size: impl Into<String>, measures: Option<[Length; 2]>, checks: Vec<LoadCheck>) -> Self {
        Self {
            size: size.into(),
            measures,
            checks: Ok(checks),
            not_determined: Vec::new(),
        }
    }

    /// The greatest ratio; `None` where there is none.
    pub fn greatest(&self) -> Option<f64> {
        self.checks
            .as_ref()
            .ok()?
            .iter()
            .map(LoadCheck::ratio)
            .reduce(f64::max)
    }

    /// Whether every figure is kept; *maybe* where something is not determined.
    pub fn is_within(&self) -> Truth {
        match self.greatest() {
            Some(greatest) if greatest > 1.0 => Truth::False,
            Some(_) if self.not_determined.is_empty() => Truth::True,
            _ => Truth::Maybe,
        }
    }
}

/// The first size of which every figure is kept; `None` where there is none in the list.
pub fn first_within(trials: &[Trial]) -> Option<&Trial> {
    trials.iter().find(|trial| trial.is_within() == Truth::True)
}

/// That size, or the largest of the list where none keeps every figure; `None` of an empty list.
pub fn shown(trials: &[Trial]) -> Option<&Trial> {
    first_within(trials).or_else(|| trials.last())
}

/// What has to be said beside that size where no size of the list keeps every figure; empty where one does.
pub fn without_a_match(trials: &[Trial]) -> &'static str {
    let possible = trials.iter().any(|trial| trial.is_within() == Truth::Maybe);
    match (first_within(trials), possible) {
        (Some(_), _) => "",
        (None, true) => ", not put beside every figure",
        (None, false) => ", the largest in the list: none keeps every figure",
    }
}

/// A way to hold up a wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Arrangement {
    /// A beam along the wall, inside, under joists that run across it.
    CarryingBeam,
    /// Beams through the wall, along which the joists run.
    Needles,
}

/// Where a support stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Under the house.
    Inside,
    /// Outside it.
    Outside,
}

/// A post on its jack, crib and pad.
#[derive(Clone, Debug, PartialEq)]
pub struct Support {
    /// Its name, to find it in a drawing.
    pub label: String,
    /// Its station along the wall line.
    pub station: Length,
    /// On which side of the foundation.
    pub side: Side,
    /// How far from the foundation.
    pub offset: Length,
    /// The most that comes down on it, in pounds.
    pub load: f64,
}

/// One way to hold up a wall, with everything it was put beside.
#[derive(Clone, Debug, PartialEq)]
pub struct Scheme {
    /// Which way.
    pub arrangement: Arrangement,
    /// The supports, in the order of their stations.
    pub supports: Vec<Support>,
    /// From support to support of a beam.
    pub span: Length,
    /// From the ground to the floor framing, at most; `None` where that is not known.
    pub height: Option<Length>,
    /// Thickness of the foundation, at most.
    pub foundation_thickness: Length,
    /// The load of the wall line, high end, in pounds on a foot.
    pub line_load: f64,
    /// What the load grows by because the beam stands inside the wall, which bears on the ends of the joists
    /// beyond it: span over span less offset. One for needles.
    pub lever: f64,
    /// Beams, by size.
    pub beams: Vec<Trial>,
    /// Posts, by size.
    pub posts: Vec<Trial>,
    /// Cribs in place of posts, by size of their pieces.
    pub cribs: Vec<Trial>,
    /// Jacks, by capacity. Both reserves that are published are shown.
    pub jacks: Vec<Trial>,
    /// Pads, by side.
    pub pads: Vec<Trial>,
    /// What has to go with it.
    pub asks_for_design: &'static str,
}

/// The temporary support of a wall line.
///
/// ```
/// use retrofit_core::foundation::loads::HouseLoads;
/// use retrofit_core::foundation::shoring::{Arrangement, ShoringFigures, ShoringSettings, WallShoring};
/// use retrofit_core::house::{AsBuilt, House};
/// use retrofit_core::screen::Standards;
///
/// let house: House = serde_json::from_str(include_str!("../../../examples/quince-lantern-way.json"))?;
/// let house = AsBuilt::new(house).expect("the record makes sense");
/// let (standards, figures) = (Standards::shipped().unwrap(), ShoringFigures::shipped().unwrap());
/// let loads = HouseLoads::of(&house, standards, figures);
/// let settings = ShoringSettings::of(figures);
/// let shoring = WallShoring::of(&house, 0, &loads.wall_lines[0], standards, figures, &settings).unwrap();
/// for scheme in &shoring.schemes {
///     assert!(scheme.asks_for_design.contains("licensed engineer"));
/// }
/// # Ok::<(), serde_json::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct WallShoring {
    /// The ways to hold it up: one where the run of the joists is known, both where it is not.
    pub schemes: Vec<Scheme>,
    /// Why there is no scheme, or not a decided one.
    pub not_determined: Vec<NotDetermined>,
    /// What was not looked at.
    pub not_seen: [&'static str; NOT_SEEN.len()],
}

impl WallShoring {
    /// Lays out temporary support of a wall line by its number; `None` where the house has no such wall line.
    pub fn of(
        house: &AsBuilt,
        number: usize,
        loads: &LineLoads,
        standards: &Standards,
        figures: &ShoringFigures,
        settings: &ShoringSettings,
    ) -> Option<Self> {
        let wall = house.wall_lines.get(number)?;
        let mut shoring = Self {
            schemes: Vec::new(),
            not_determined: loads.not_determined.clone(),
            not_seen: NOT_SEEN,
        };
        let mut lack = |field: &str, reason: &str, needed| {
            shoring.not_determined.push(NotDetermined {
                field: format!("wall_lines[{number}].{field}"),
                reason: reason.to_owned(),
                needed,
            });
        };
        let length = wall.length.bounds().1.copied();
        if length.is_none() {
            lack(
                "length",
                "not recorded",
                "the stations of the supports hang on it",
            );
        }
        let inside = stands_outside(house, wall) == Truth::False;
        if inside {
            lack(
                "plan",
                "inside the house",
                "a wall inside is held up on both sides, which is not laid out here",
            );
        }
        let joists = wall.joists.value().copied();
        if joists.is_none() {
            lack(
                "joists",
                "not recorded",
                "both ways are shown, and neither is chosen",
            );
        }
        let (Some(length), Some((_, load)), Some((_, live)), false) =
            (length, loads.total(), loads.of(LoadKind::Live), inside)
        else {
            return Some(shoring);
        };
        let at = At {
            house,
            wall,
            number,
            length,
            load: load.to(PLF),
            live: live.to(PLF),
            standards,
            figures,
            settings,
        };
        if joists != Some(JoistDirection::Parallel) {
            match at.carrying_beam() {
                Ok(scheme) => shoring.schemes.push(scheme),
                Err(reason) => shoring.not_determined.push(reason),
            }
        }
        if joists != Some(JoistDirection::Perpendicular) {
            match at.needles() {
                Ok(scheme) => shoring.schemes.push(scheme),
                Err(reason) => shoring.not_determined.push(reason),
            }
        }
        Some(shoring)
    }
}

/// A wall line with its load.
struct At<'a> {
    house: &'a AsBuilt,
    wall: &'a WallLine,
    number: usize,
    length: Length,
    /// Pounds on a foot, high end.
    load: f64,
    /// The live part of it.
    live: f64,
    standards: &'a Standards,
    figures: &'a ShoringFigures,
    settings: &'a ShoringSettings,
}

/// What a beam carries: on a foot and its live part, or in the middle and its live part.
enum Carried {
    AllAlong(f64, f64),
    Middle(f64, f64),
}

impl At<'_> {
    fn carrying_beam(&self) -> Result<Scheme, NotDetermined> {
        let lever = self.lever()?;
        let count = spaces(self.length, self.settings.support_spacing, "support_spacing")?;
        let span = marked(share(self.length, 1, count), Rounding::Up);
        let (load, live) = (self.load * lever, self.live * lever);
        // A beam that runs on over supports leans on the inner ones.
        let inner = MIDDLE_SUPPORT * load * span.as_feet_f64();
        let outer = load * span.as_feet_f64() / 2.0;
        let supports: Vec<Support> = (0..=count)
            .map(|number| Support {
                label: format!("S{}", number + 1),
                station: if number == count {
                    self.length
                } else {
                    marked(share(self.length, number, count), Rounding::Down)
                },
                side: Side::Inside,
                offset: self.settings.beam_offset,
                load: if number == 0 || number == count {
                    outer
                } else {
                    inner
                },
            })
            .collect();
        let has_inner = count > 1;
        Ok(self.scheme(
            Arrangement::CarryingBeam,
            supports,
            span,
            lever,
            &Carried::AllAlong(load, live),
            if has_inner { MIDDLE_SUPPORT } else { 1.0 },
        ))
    }

    /// What a beam inside the wall takes of a load that bears on the ends of the joists beyond it.
    fn lever(&self) -> Result<f64, NotDetermined> {
        let span = self.house.floor.joist_span.bounds().0;
        let span = span.map_or(self.figures.joist_span.low, |span| span.as_inches_f64());
        let offset = self.settings.beam_offset.as_inches_f64();
        if offset < 0.0 || offset >= span {
            return Err(NotDetermined {
                field: "floor.joist_span".into(),
                reason: format!("{span} in at least, with the beam {offset} in from the wall"),
                needed: "the beam has to stand within the span of the joists",
            });
        }
        Ok(span / (span - offset))
    }

    fn needles(&self) -> Result<Scheme, NotDetermined> {
        let count = spaces(self.length, self.settings.needle_spacing, "needle_spacing")?;
        let each = share(self.length, 1, count).as_feet_f64();
        let thickness = self.foundation_thickness();
        let offset = self.settings.needle_post_offset;
        let span = offset.saturating_add(offset).saturating_add(thickness);
        if span <= Length::ZERO {
            return Err(NotDetermined {
                field: "needle_post_offset".into(),
                reason: offset.to_string(),
                needed: "a needle beam needs a span of more than nothing",
            });
        }
        let (load, live) = (self.load * each, self.live * each);
        let mut supports = Vec::new();
        for number in 0..count {
            // In the middle of its stretch: an odd number of half stretches.
            let station = marked(share(self.length, 2 * number + 1, 2 * count), Rounding::Down);
            for (side, letter) in [(Side::Inside, 'a'), (Side::Outside, 'b')] {
                supports.push(Support {
                    label: format!("N{}{letter}", number + 1),
                    station,
                    side,
                    offset,
                    load: load / 2.0,
                });
            }
        }
        Ok(self.scheme(
            Arrangement::Needles,
            supports,
            span,
            1.0,
            &Carried::Middle(load, live),
            1.0,
        ))
    }

    /// The greatest thickness of the foundation that the record or, failing that, the table allows.
    fn foundation_thickness(&self) -> Length {
        let otherwise = Length::nearest_inches(self.standards.existing.stem_thickness.high);
        let stretches = self.wall.foundation.listed().iter();
        stretches
            .map(|stretch| stretch.stem_thickness.bounds().1.copied().unwrap_or(otherwise))
            .max()
            .unwrap_or(otherwise)
    }

    /// From the ground inside to the floor framing, at most.
    fn height(&self) -> Result<Length, NotDetermined> {
        if let Some(height) = self.settings.height {
            return Ok(height);
        }
        let needed = "the height of posts and cribs hangs on it";
        let greatest = |heights: &mut dyn Iterator<Item = &Observed<Length>>, field: String| {
            let mut most = None;
            for height in heights {
                match height.bounds().1 {
                    Some(height) => most = most.max(Some(*height)),
                    None => return Err(missing(&field, height, needed)),
                }
            }
            Ok(most)
        };
        let field = |part: &str| format!("wall_lines[{}].{part}", self.number);
        let mut stems = self
            .wall
            .foundation
            .listed()
            .iter()
            .map(|stretch| &stretch.stem_height);
        let stem = greatest(&mut stems, field("foundation.stem_height"))?
            .ok_or_else(|| missing(&field("foundation"), &self.wall.foundation, needed))?;
        if self.wall.cripple_wall.value().is_none() {
            return Err(missing(&field("cripple_wall"), &self.wall.cripple_wall, needed));
        }
        let mut walls = self
            .wall
            .cripple_wall
            .listed()
            .iter()
            .map(|stretch| &stretch.height);
        let wall = greatest(&mut walls, field("cripple_wall.height"))?.unwrap_or_default();
        Ok(stem.saturating_add(wall))
    }

    /// Puts every part of a scheme beside its figures. `leaning` is how much more than half a span's load on either
    /// side an inner support takes.
    fn scheme(
        &self,
        arrangement: Arrangement,
        supports: Vec<Support>,
        span: Length,
        lever: f64,
        carried: &Carried,
        leaning: f64,
    ) -> Scheme {
        let heaviest = supports.iter().map(|support| support.load).fold(0.0, f64::max);
        let height = self.height();
        Scheme {
            arrangement,
            supports,
            span,
            height: height.as_ref().ok().copied(),
            foundation_thickness: self.foundation_thickness(),
            line_load: self.load,
            lever,
            beams: BEAM_SIZES
                .iter()
                .map(|size| Trial {
                    size: format!("{}x{}", size.0, size.1),
                    measures: self.dressed(*size),
                    checks: self.beam(*size, span, carried, leaning, heaviest),
                    not_determined: Vec::new(),
                })
                .collect(),
            posts: POSTS
                .iter()
                .map(|size| self.post(*size, heaviest, &height))
                .collect(),
            cribs: self
                .figures
                .cribs
                .iter()
                .map(|crib| self.crib(crib, heaviest, &height))
                .collect(),
            jacks: self.jacks(heaviest),
            pads: self.pads(heaviest),
            asks_for_design: ASKS_FOR_DESIGN,
        }
    }

    fn beam(
        &self,
        name: (u8, u8),
        span: Length,
        carried: &Carried,
        leaning: f64,
        heaviest: f64,
    ) -> Result<Vec<LoadCheck>, NdsError> {
        let nds = &self.standards.nds;
        let (width, depth) = nds.dressed(Bare, name.0, name.1)?;
        let values = nds.beam_values(Bare, self.settings.wood, self.settings.grade, width, depth)?;
        let (post, _) = nds.dressed(Bare, POSTS[0].0, POSTS[0].1)?;
        let none = BeamLoads {
            uniform: PLF.of(0.0),
            uniform_live: PLF.of(0.0),
            middle: POUND.of(0.0),
            middle_live: POUND.of(0.0),
        };
        let loads = match *carried {
            Carried::AllAlong(load, live) => BeamLoads {
                uniform: PLF.of(load),
                uniform_live: PLF.of(live),
                ..none
            },
            Carried::Middle(load, live) => BeamLoads {
                middle: POUND.of(load),
                middle_live: POUND.of(live),
                ..none
            },
        };
        let span = inches(span);
        let beam = Beam {
            width,
            depth,
            span,
            bearing: post,
            loads,
            // Nothing that only rests on a beam for a while holds its edge.
            edge: CompressionEdge::Unbraced(span),
            repetitive: false,
            span_over: SPAN_OVER,
        };
        let check = nds.beam(Bare, &beam, &values, Duration::Occupancy)?;
        let standing = nds.lumber_standing(self.settings.wood, self.settings.grade, name)?;
        let row = |limit: BeamLimit, load: f64, figure: f64, unit: Unit, section: &str| LoadCheck {
            words: limit.words(),
            load,
            figure,
            unit,
            published: self.by_specification(figure, unit, section, standing),
        };
        Ok(vec![
            row(
                BeamLimit::Bending,
                check.bending.demand.to(PSI),
                check.bending.capacity.to(PSI),
                PSI.unit(),
                "3.3",
            ),
            row(
                BeamLimit::Shear,
                check.shear.demand.to(PSI) * leaning,
                check.shear.capacity.to(PSI),
                PSI.unit(),
                "3.4",
            ),
            row(
                BeamLimit::Deflection,
                check.deflection.demand.to(INCH),
                check.deflection.capacity.to(INCH),
                INCH.unit(),
                "3.5",
            ),
            row(
                BeamLimit::Bearing,
                (POUND.of(heaviest) / (width * post)).to(PSI),
                check.bearing.capacity.to(PSI),
                PSI.unit(),
                "3.10",
            ),
        ])
    }

    fn by_specification(&self, value: f64, unit: Unit, section: &str, standing: Standing) -> Published {
        let edition = &self.standards.nds.edition;
        Published {
            value,
            high: value,
            unit,
            document: edition.name(),
            section: section.to_owned(),
            standing,
            note: "Computed by the specification from its design values, for loads of ten years".into(),
        }
    }

    fn post(&self, (thickness, depth): (u8, u8), load: f64, height: &Result<Length, NotDetermined>) -> Trial {
        let size = format!("{thickness}x{depth}");
        let measures = self.dressed((thickness, depth));
        let height = match height {
            Ok(height) => *height,
            Err(reason) => {
                return Trial {
                    not_determined: vec![reason.clone()],
                    ..Trial::of(size, measures, Vec::new())
                };
            }
        };
        let checks = || {
            let unknowns = Cell::new(0);
            let ledger = Tagging(&unknowns);
            let (width, depth) = self.standards.nds.dressed(ledger, thickness, depth)?;
            let post = Post {
                wood: self.settings.wood,
                grade: self.settings.grade,
                depth: width,
                width: depth,
                effective_length: (height.as_inches_f64() / width.to(INCH)) * width,
                pieces: Pieces::Solid,
            };
            let carries = self
                .standards
                .nds
                .post(ledger, &post, Method::Asd, Duration::Occupancy)?;
            let figure = carries.to(POUND);
            let standing = carries.number().weakest;
            Ok(vec![LoadCheck {
                words: "load along the post, its slenderness counted",
                load,
                figure,
                unit: POUND.unit(),
                published: self.by_specification(figure, POUND.unit(), "3.7", standing),
            }])
        };
        Trial {
            checks: checks(),
            ..Trial::of(size, measures, Vec::new())
        }
    }

    fn dressed(&self, (thickness, depth): (u8, u8)) -> Option<[Length; 2]> {
        let (thickness, depth) = self.standards.nds.dressed(Bare, thickness, depth).ok()?;
        Some([thickness, depth].map(|side| Length::nearest_inches(side.to(INCH))))
    }

    fn crib(&self, crib: &CribFigures, load: f64, height: &Result<Length, NotDetermined>) -> Trial {
        let figures = self.figures;
        let area = crib.side.low * crib.side.low;
        let mut checks = vec![
            LoadCheck::of("load on a crib of two pieces in a layer", load, &crib.capacity),
            LoadCheck::of("load on one of its four crossings", load / 4.0, &crib.contact),
            LoadCheck::of(
                "stress across the grain at a crossing",
                load / 4.0 / area,
                &figures.crib_stress,
            ),
        ];
        let mut not_determined = Vec::new();
        match height {
            Ok(height) => {
                let height = height.as_inches_f64();
                // Pieces run past each other by their own side, so that the crossings stand in by as much.
                let width = crib.piece.low - 2.0 * crib.side.low;
                checks.push(LoadCheck::of(
                    "height over width",
                    height / width,
                    &figures.crib_slenderness,
                ));
                checks.push(LoadCheck::of("height", height, &crib.height));
            }
            Err(reason) => not_determined.push(reason.clone()),
        }
        Trial {
            not_determined,
            ..Trial::of(
                crib.name,
                Some([crib.side.low, crib.piece.low].map(Length::nearest_inches)),
                checks,
            )
        }
    }

    fn jacks(&self, load: f64) -> Vec<Trial> {
        let reserves = &self.figures.jack_reserves;
        let jacks = self.figures.jack_capacities.iter().map(|jack| {
            let checks = reserves.iter().map(|reserve| {
                let asked = load * reserve.figure.low;
                LoadCheck {
                    published: Published::from(&reserve.figure),
                    ..LoadCheck::of(
                        "load with its reserve, against the marked capacity",
                        asked,
                        &jack.figure,
                    )
                }
            });
            Trial::of(jack.name.clone(), None, checks.collect())
        });
        jacks.collect()
    }

    fn pads(&self, load: f64) -> Vec<Trial> {
        let soil = self.house.site.soil.value().copied();
        let bearing = self.standards.soil.bearing_figure(soil);
        let pads = self.figures.pad_sides.iter().map(|pad| {
            let area = SQUARE_INCH.of(pad.figure.low * pad.figure.low);
            let pressure = (POUND.of(load) / area).to(PSF) * PSF.unit().factor();
            let check = LoadCheck::of("pressure under the pad", pressure, bearing);
            let side = Length::nearest_inches(pad.figure.to(INCH));
            Trial::of(
                format!("{} in", pad.figure.to(INCH)),
                Some([side, side]),
                vec![check],
            )
        });
        pads.collect()
    }
}

/// How many equal spaces of at most so much a length falls into; at least one.
fn spaces(length: Length, most: Length, field: &'static str) -> Result<i64, NotDetermined> {
    let count = (most > Length::ZERO && length > Length::ZERO).then(|| {
        length
            .nanometers()
            .saturating_sub(1)
            .div_euclid(most.nanometers())
            .saturating_add(1)
    });
    count
        .filter(|count| *count <= MOST_SUPPORTS)
        .ok_or_else(|| NotDetermined {
            field: field.to_owned(),
            reason: most.to_string(),
            needed: "a spacing of more than nothing, and no more than a thousand supports",
        })
}

/// So many of so many equal shares of a length.
fn share(length: Length, number: i64, of: i64) -> Length {
    let part = i128::from(length.nanometers()) * i128::from(number) / i128::from(of.max(1));
    Length::from_nanometers(i64::try_from(part).unwrap_or(i64::MAX))
}

enum Rounding {
    Up,
    Down,
}

/// A length at the next mark of a tape, in sixteenths of an inch: a crew cannot set a station between two.
const fn marked(length: Length, rounding: Rounding) -> Length {
    let mark = Length::sixty_fourths(4).nanometers();
    let past = match rounding {
        Rounding::Up => length.nanometers().saturating_add(mark - 1),
        Rounding::Down => length.nanometers(),
    };
    Length::from_nanometers(past.div_euclid(mark).saturating_mul(mark))
}

fn inches(length: Length) -> Distance<f64> {
    INCH.of(length.as_inches_f64())
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use rstest::rstest;
    use serde_json::{Value, json};

    use super::super::loads::HouseLoads;
    use super::*;
    use crate::house::House;

    fn record() -> Value {
        json!({
            "format": "house-1", "name": "Tern Ladder Lane",
            "site": {"soil": "sand"},
            "building": {
                "stories": 1, "story_height": "9 ft", "exterior": "wood", "roof": "light",
                "interior_plaster": false, "masonry_chimneys": 0,
                "outline": [{"x": "0 ft", "y": "0 ft"}, {"x": "40 ft", "y": "0 ft"},
                            {"x": "40 ft", "y": "24 ft"}, {"x": "0 ft", "y": "24 ft"}]
            },
            "floor": {"joist_span": "12 ft", "joist_spacing": "16 in"},
            "wall_lines": [
                {"name": "south", "length": "40 ft", "joists": "perpendicular",
                 "foundation": [{"stem_height": "12 in", "stem_thickness": "6 in"}],
                 "cripple_wall": [{"height": "24 in"}],
                 "plan": [{"x": "0 ft", "y": "0 ft"}, {"x": "40 ft", "y": "0 ft"}]},
                {"name": "east", "length": "24 ft", "joists": "parallel",
                 "foundation": [{"stem_height": "12 in", "stem_thickness": "6 in"}],
                 "cripple_wall": [{"height": "24 in"}],
                 "plan": [{"x": "40 ft", "y": "0 ft"}, {"x": "40 ft", "y": "24 ft"}]},
                {"name": "girder", "length": "40 ft", "joists": "perpendicular",
                 "plan": [{"x": "0 ft", "y": "12 ft"}, {"x": "40 ft", "y": "12 ft"}]}
            ]
        })
    }

    fn figures() -> &'static ShoringFigures {
        ShoringFigures::shipped().unwrap()
    }

    fn shored(record: &Value, wall: usize, settings: &ShoringSettings) -> WallShoring {
        let house: House = serde_json::from_value(record.clone()).unwrap();
        let house = AsBuilt::new(house).unwrap();
        let standards = Standards::shipped().unwrap();
        let loads = HouseLoads::of(&house, standards, figures());
        WallShoring::of(
            &house,
            wall,
            &loads.wall_lines[wall],
            standards,
            figures(),
            settings,
        )
        .unwrap()
    }

    fn usual(record: &Value, wall: usize) -> WallShoring {
        shored(record, wall, &ShoringSettings::of(figures()))
    }

    fn near(found: f64, expected: f64, share: f64) {
        assert!(
            (found - expected).abs() <= share * expected.abs(),
            "{found} is not {expected}"
        );
    }

    #[test]
    fn joists_across_the_wall_ask_for_a_beam_along_it() {
        let shoring = usual(&record(), 0);
        assert!(shoring.not_determined.is_empty(), "{:?}", shoring.not_determined);
        let [scheme] = shoring.schemes.as_slice() else {
            panic!("one scheme")
        };
        assert_eq!(scheme.arrangement, Arrangement::CarryingBeam);
        let stations: Vec<Length> = scheme.supports.iter().map(|support| support.station).collect();
        assert_eq!(
            stations,
            (0..=8).map(|number| Length::feet(5 * number)).collect::<Vec<_>>()
        );
        // Half of 12 ft of joists, and the wall over their ends, by the lever of 12 over 10.
        near(scheme.lever, 1.2, 1e-12);
        near(
            scheme.supports[1].load,
            1.25 * 1.2 * scheme.line_load * 5.0,
            1e-12,
        );
        near(scheme.supports[0].load, 1.2 * scheme.line_load * 2.5, 1e-12);
    }

    #[test]
    fn joists_along_the_wall_ask_for_needles_through_it() {
        let shoring = usual(&record(), 1);
        let [scheme] = shoring.schemes.as_slice() else {
            panic!("one scheme")
        };
        assert_eq!(scheme.arrangement, Arrangement::Needles);
        assert_eq!(scheme.supports.len(), 8, "four needles on two posts each");
        let stations: Vec<Length> = scheme.supports.iter().map(|support| support.station).collect();
        assert_eq!(stations[..4], [3, 3, 9, 9].map(Length::feet));
        assert_eq!(scheme.span, Length::inches(24 + 6 + 24));
        let all: f64 = scheme.supports.iter().map(|support| support.load).sum();
        near(all, scheme.line_load * 24.0, 1e-12);
    }

    #[test]
    fn joists_that_nobody_saw_leave_it_open() {
        let mut record = record();
        record["wall_lines"][0].as_object_mut().unwrap().remove("joists");
        let shoring = usual(&record, 0);
        let ways: Vec<Arrangement> = shoring.schemes.iter().map(|scheme| scheme.arrangement).collect();
        assert_eq!(ways, [Arrangement::CarryingBeam, Arrangement::Needles]);
        assert_eq!(shoring.not_determined[0].field, "wall_lines[0].joists");
    }

    #[rstest]
    #[case("length", "wall_lines[0].length")]
    #[case("stories", "building.stories")]
    fn a_lack_is_named(#[case] key: &str, #[case] field: &str) {
        let mut record = record();
        for part in ["/building", "/wall_lines/0"] {
            record
                .pointer_mut(part)
                .unwrap()
                .as_object_mut()
                .unwrap()
                .remove(key);
        }
        let shoring = usual(&record, 0);
        assert!(shoring.schemes.is_empty());
        assert_eq!(shoring.not_determined[0].field, field);
    }

    #[test]
    fn a_wall_inside_and_a_beam_beyond_the_joists_are_not_laid_out() {
        assert!(usual(&record(), 2).schemes.is_empty());
        let settings = ShoringSettings {
            beam_offset: Length::feet(12),
            ..ShoringSettings::of(figures())
        };
        let shoring = shored(&record(), 0, &settings);
        assert!(shoring.schemes.is_empty());
        assert_eq!(shoring.not_determined[0].field, "floor.joist_span");
        let settings = ShoringSettings {
            support_spacing: Length::ZERO,
            needle_spacing: Length::ZERO,
            ..ShoringSettings::of(figures())
        };
        assert!(shored(&record(), 0, &settings).schemes.is_empty());
        assert!(shored(&record(), 1, &settings).schemes.is_empty());
    }

    #[test]
    fn an_unknown_height_leaves_posts_and_cribs_open() {
        let mut record = record();
        record["wall_lines"][0]
            .as_object_mut()
            .unwrap()
            .remove("cripple_wall");
        let shoring = usual(&record, 0);
        let scheme = &shoring.schemes[0];
        assert!(scheme.posts.iter().all(|post| post.is_within() == Truth::Maybe));
        assert!(first_within(&scheme.cribs).is_none());
        assert_eq!(
            scheme.cribs[1].not_determined[0].field,
            "wall_lines[0].cripple_wall"
        );
    }

    fn at<'a>(house: &'a AsBuilt, settings: &'a ShoringSettings) -> At<'a> {
        At {
            house,
            wall: &house.wall_lines[0],
            number: 0,
            length: Length::feet(40),
            load: 1000.0,
            live: 500.0,
            standards: Standards::shipped().unwrap(),
            figures: figures(),
            settings,
        }
    }

    fn house() -> AsBuilt {
        AsBuilt::new(serde_json::from_value(record()).unwrap()).unwrap()
    }

    /// Rescue practice: 24,000 lb on a crib of 4x4, 60,000 lb on one of 6x6; and 4 b² at 500 psi, which comes to
    /// 24,500 and 60,500 lb. Both published ways have to agree within one in forty.
    #[rstest]
    #[case(0, 24_000.0, 24_500.0)]
    #[case(1, 60_000.0, 60_500.0)]
    fn cribs(#[case] number: usize, #[case] published: f64, #[case] by_stress: f64) {
        let (house, settings) = (house(), ShoringSettings::of(figures()));
        let trial = at(&house, &settings).crib(&figures().cribs[number], published, &Ok(Length::inches(36)));
        let checks = trial.checks.unwrap();
        near(checks[0].ratio(), 1.0, 1e-12);
        near(checks[1].ratio(), 1.0, 1e-12);
        near(checks[2].ratio(), published / by_stress, 1e-12);
        near(checks[2].ratio(), 1.0, 1.0 / 40.0);
        // Height: 36 in over the 24 - 7 and 36 - 11 in between the outer crossings, beside three.
        near(checks[3].load, 36.0 / [17.0, 25.0][number], 1e-12);
        near(checks[3].figure, 3.0, 1e-12);
    }

    #[test]
    fn a_crib_too_tall_for_its_width_is_past_its_figure() {
        let (house, settings) = (house(), ShoringSettings::of(figures()));
        let trial = at(&house, &settings).crib(&figures().cribs[0], 1.0, &Ok(Length::inches(52)));
        assert_eq!(trial.is_within(), Truth::False);
    }

    /// A post of 4x4 Douglas fir No. 2, 8 ft high: Fc 1350, Emin 580,000 psi and a size factor of 1.15 by the
    /// supplement, so that `FcE` = 0.822 · 580,000 / (96/3.5)² = 633.7 psi, Fc* = 1552.5 psi, CP = 0.3659 and
    /// P = 6960 lb, reckoned by hand with NDS 3.7.1. Beyond le/d = 50 it gives no number.
    #[test]
    fn a_post_by_hand() {
        let (house, settings) = (house(), ShoringSettings::of(figures()));
        let at = at(&house, &settings);
        let (fce, star): (f64, f64) = (0.822 * 580_000.0 / (96.0_f64 / 3.5).powi(2), 1350.0 * 1.15);
        let half = (1.0 + fce / star) / 1.6;
        let by_hand = (half - (half * half - fce / star / 0.8).sqrt()) * star * 3.5 * 3.5;
        let trial = at.post((4, 4), 5000.0, &Ok(Length::feet(8)));
        let check = &trial.checks.unwrap()[0];
        near(check.figure, by_hand, 1e-3);
        near(check.figure, 6959.6, 1e-4);
        assert!(matches!(
            at.post((4, 4), 1.0, &Ok(Length::feet(16))).checks,
            Err(NdsError::Slender { .. })
        ));
    }

    /// A 4x10 on 5 ft under 1000 lb on a foot, by statics: M = wL²/8 = 37,500 lb-in over S = 49.91 in³, and
    /// 1.5 · 1.25 · wL/2 over 3.5 by 9.25 in of section; on an inner support 6250 lb over 3.5 by 3.5 in.
    #[test]
    fn a_beam_by_hand() {
        let (house, settings) = (house(), ShoringSettings::of(figures()));
        let checks = at(&house, &settings)
            .beam(
                (4, 10),
                Length::feet(5),
                &Carried::AllAlong(1000.0, 500.0),
                1.25,
                6250.0,
            )
            .unwrap();
        near(checks[0].load, 37_500.0 / (3.5 * 9.25 * 9.25 / 6.0), 1e-9);
        near(checks[1].load, 1.5 * 1.25 * 2500.0 / (3.5 * 9.25), 1e-9);
        near(checks[3].load, 6250.0 / (3.5 * 3.5), 1e-9);
        near(checks[3].figure, 625.0, 1e-9);
        assert!(
            checks
                .iter()
                .all(|check| check.published.standing >= Standing::Secondary)
        );
    }

    /// IBC Table 1806.2: sand carries 2000 psf, so 8000 lb on a pad of 24 in is just that.
    #[test]
    fn a_pad_and_a_jack_by_hand() {
        let (house, settings) = (house(), ShoringSettings::of(figures()));
        let at = at(&house, &settings);
        let pads = at.pads(8000.0);
        near(pads[0].greatest().unwrap(), 1.0, 1e-12);
        let jacks = at.jacks(10_000.0);
        assert_eq!(
            first_within(&jacks).unwrap().size,
            "12-ton",
            "half of its marking is 12,000 lb"
        );
        near(jacks[0].greatest().unwrap(), 20_000.0 / 12_000.0, 1e-12);
    }

    #[test]
    fn soil_that_nobody_looked_at_counts_by_its_least_figure() {
        let mut record = record();
        record.as_object_mut().unwrap().remove("site");
        let house = AsBuilt::new(serde_json::from_value(record).unwrap()).unwrap();
        let settings = ShoringSettings::of(figures());
        let pads = at(&house, &settings).pads(6000.0);
        near(pads[0].checks.as_ref().unwrap()[0].figure, 1500.0, 1e-12);
    }

    /// The words of danger: nothing is called by a name that would pass it.
    #[test]
    fn nothing_is_passed() {
        let said = format!("{:?}", usual(&record(), 0)).to_lowercase();
        for word in ["adequate", "\"ok\"", "safe"] {
            assert!(!said.contains(word), "{word}");
        }
        assert!(said.contains("licensed engineer"));
    }

    fn ratios(scheme: &Scheme) -> Vec<f64> {
        let parts = [
            &scheme.beams,
            &scheme.posts,
            &scheme.cribs,
            &scheme.jacks,
            &scheme.pads,
        ];
        let greatest = |trial: &Trial| trial.greatest().unwrap_or(f64::NAN);
        parts
            .iter()
            .flat_map(|trials| trials.iter().map(greatest))
            .collect()
    }

    /// A post of unknown height is not said to fail; a beam that is too weak in every size is.
    #[test]
    fn what_was_not_looked_at_is_not_said_to_fail() {
        let strong = |load| LoadCheck::of("load", load, &ShoringFigures::shipped().unwrap().crib_stress);
        let missing = NotDetermined {
            field: "height".to_owned(),
            reason: "not recorded".to_owned(),
            needed: "it",
        };
        let open = Trial {
            not_determined: vec![missing],
            ..Trial::of("4x4", None, Vec::new())
        };
        let (weak, good) = (
            Trial::of("4x4", None, vec![strong(1e9)]),
            Trial::of("6x6", None, vec![strong(1.0)]),
        );
        assert!(without_a_match(std::slice::from_ref(&open)).contains("not put beside"));
        assert!(without_a_match(std::slice::from_ref(&weak)).contains("none keeps"));
        assert_eq!(without_a_match(&[weak.clone(), good.clone()]), "");
        assert_eq!(shown(&[weak.clone(), good.clone()]), Some(&good));
        assert_eq!(shown(std::slice::from_ref(&weak)), Some(&weak));
    }

    proptest! {
        /// Supports nearer together never have a larger ratio, and a heavier house never a smaller one.
        #[test]
        fn closer_is_never_worse_and_heavier_never_better(wide in 36_i64..120, closer in 0_i64..36, halves in 1_u8..4) {
            let at = |inches: i64, halves: u8, wall: usize| {
                let mut record = record();
                record["building"]["stories"] = json!(f64::from(halves) / 2.0);
                let settings = ShoringSettings {
                    support_spacing: Length::inches(inches),
                    needle_spacing: Length::inches(inches),
                    ..ShoringSettings::of(figures())
                };
                ratios(&shored(&record, wall, &settings).schemes[0])
            };
            for wall in 0..2 {
                let wider = at(wide, halves, wall);
                for (near, far) in at(wide - closer, halves, wall).iter().zip(&wider) {
                    prop_assert!(near.is_nan() && far.is_nan() || *near <= far + 1e-9);
                }
                for (light, heavy) in wider.iter().zip(&at(wide, halves + 1, wall)) {
                    prop_assert!(light.is_nan() && heavy.is_nan() || *light <= heavy + 1e-9);
                }
            }
        }
    }
}
