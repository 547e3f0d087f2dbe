//! A house as a screen sees it: plan, weight, wall lines and posts, and what was asked.

use typenum::{P1, Z0};

use super::asce7::Asce7Error;
use super::demand::{Asked, Demands, Shaking, Sources};
use super::existing::ExistingBuildings;
use super::input::{Case, Input, Pick, UnknownKind, What};
use super::line::{Around, Line};
use super::link::{At, GroundModel, Link, LinkKind, PostModel, links, posts, sliding};
use super::method::Method;
use super::nds::Wood;
use super::number::{Ledger, Number};
use super::plan::{Direction, FloorPlan, PlanError};
use super::quantity::Force;
use super::range::OutOfRange;
use super::standard::Figure;
use super::standards::Standards;
use super::unit::{FOOT, GRAVITY, PLAIN};
use super::weights::Weighed;
use crate::house::{AsBuilt, House, SiteClass};
use crate::measure::Slope;
use crate::observation::{Basis, Truth};
use crate::provisions::Standing;

/// What is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Options {
    /// The design method.
    pub method: Method,
    /// The redundancy factor; left out, whether 1.0 is allowed counts as not known.
    pub redundancy: Option<f64>,
    /// Whether forces are reduced as for an existing building.
    pub reduced: bool,
    /// Whether every number comes with its derivation.
    pub derivations: bool,
}

impl Default for Options {
    fn default() -> Self {
        Self {
            method: Method::Asd,
            redundancy: None,
            reduced: false,
            derivations: false,
        }
    }
}

/// Why a house is not screened.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Declined {
    /// Its plan cannot be computed with.
    #[error(transparent)]
    Plan(#[from] PlanError),
    /// The number of stories is not bounded.
    #[error("the number of stories is not on record")]
    Stories,
    /// Floors at several levels.
    #[error("the floors lie at more than one level, which takes an engineer's own model of the house")]
    SplitLevel,
    /// On a hillside.
    #[error(
        "the ground falls by {found}, and from {limit} on a house is a hillside house, which takes an engineer's own model"
    )]
    Hillside {
        /// The slope on record.
        found: String,
        /// The slope from which a house is one.
        limit: String,
    },
    /// Partly on a slab or poles.
    #[error(
        "part of the house stands on a slab or on poles, which share its load in a way that is not computed here"
    )]
    SlabOrPoles,
    /// The seismic load cannot be computed.
    #[error(transparent)]
    Load(#[from] Asce7Error),
}

/// A house, ready to be computed.
pub(super) struct Model<'a> {
    pub(super) standards: &'a Standards,
    pub(super) options: Options,
    pub(super) plan: FloorPlan,
    pub(super) weighed: Weighed,
    pub(super) asked: Asked,
    pub(super) lines: Vec<Line<'a>>,
    posts: Vec<PostModel>,
    ground: GroundModel,
    has_posts: bool,
    /// Whether the shaking of the site is known; otherwise 1 g stands for it, and only ladders mean something.
    pub(super) shaking: Result<(), String>,
    /// What the screen took for granted because the record does not say.
    pub(super) granted: Vec<&'static str>,
}

/// What one case came to.
pub(super) struct Pass<N: Number> {
    pub(super) demands: Demands<N>,
    /// Links by wall line.
    pub(super) links: Vec<Vec<Link<N>>>,
    /// For each wall line the uplift at the end of its worst panel.
    pub(super) uplifts: Vec<Option<Force<N>>>,
    /// Sliding in both directions, then the posts.
    pub(super) of_house: Vec<Link<N>>,
}

/// The ladder ends here, in units of gravity: no site is mapped stronger, and beyond it the vertical effect of the
/// earthquake leaves no weight to compute with.
pub const STRONGEST: f64 = 3.0;

/// The shaking that stands in where that of the site is not known, for the ladder.
const REFERENCE_SHAKING: f64 = 1.0;

impl<'a> Model<'a> {
    pub(super) fn of(
        house: &'a AsBuilt,
        standards: &'a Standards,
        options: Options,
    ) -> Result<Self, Declined> {
        let house: &House = house;
        let existing = &standards.existing;
        decline(house, existing)?;
        if let Some(value) = options
            .redundancy
            .filter(|redundancy| !(redundancy.is_finite() && *redundancy >= 1.0))
        {
            let found = OutOfRange {
                what: "the redundancy factor",
                value,
                expected: "a number of 1.0 or more",
            };
            return Err(Declined::Load(found.into()));
        }
        let plan = FloorPlan::of(house)?;
        let weighed = Weighed::of(
            &house.building,
            (plan.area, plan.perimeter),
            &standards.loads,
            existing,
        )
        .ok_or(Declined::Stories)?;
        let around = Around {
            house,
            existing,
            sdpws: &standards.sdpws,
            nds: &standards.nds,
            soil: &standards.soil,
        };
        let lines: Vec<Line<'a>> = plan
            .lines
            .iter()
            .filter_map(|placed| Some(Line::of(&around, placed, house.wall_lines.get(placed.wall)?)))
            .collect();
        let (shaking, known) = shaking(house);
        let known = known.and_then(|()| is_computable(&shaking, standards));
        let asked = asked(
            &plan,
            if known.is_ok() { shaking } else { reference() },
            standards,
            options,
        );
        let soil = house.site.soil.value().copied();
        let wood = Pick {
            low: Wood::HemFir,
            high: Wood::DouglasFir,
            kind: UnknownKind::Species,
        };
        let bearing = Input::figure(
            "q_a",
            "presumptive bearing pressure",
            standards.soil.bearing_figure(soil),
            UnknownKind::Soil,
        );
        Ok(Self {
            standards,
            options,
            weighed,
            asked,
            lines,
            posts: PostModel::of(house, &bearing, wood),
            ground: GroundModel {
                friction: standards.soil.friction_figure(soil).map(|figure| {
                    Input::figure(
                        "μ",
                        "presumptive coefficient of friction",
                        figure,
                        UnknownKind::Soil,
                    )
                }),
                concrete: Input::figure(
                    "γ",
                    "weight of plain concrete",
                    &standards.loads.concrete,
                    UnknownKind::Foundation,
                ),
                lateral_bearing: Input::figure(
                    "S",
                    "presumptive lateral bearing for each foot of depth",
                    standards.soil.lateral_bearing_figure(soil),
                    UnknownKind::Soil,
                ),
                is_in_one_piece: house.continuous_perimeter.value() == Some(&true),
            },
            has_posts: !house.posts.listed().is_empty() || house.posts.value().is_none(),
            shaking: known,
            granted: granted(house, existing, &plan),
            plan,
        })
    }

    /// Computes one case; `shaking` scales the design accelerations.
    pub(super) fn pass<G: Ledger>(
        &self,
        ledger: G,
        case: Case,
        shaking: Option<f64>,
    ) -> Result<Pass<G::Number>, Asce7Error> {
        let sources = Sources {
            asked: &self.asked,
            weighed: &self.weighed,
            lines: &self.lines,
            loads: &self.standards.loads,
            asce7: &self.standards.asce7,
        };
        let demands = sources.demands(ledger, case, shaking)?;
        let mut of_lines = Vec::with_capacity(self.lines.len());
        let mut uplifts = Vec::with_capacity(self.lines.len());
        let mut of_house = Vec::with_capacity(5);
        for (line, shear) in self.lines.iter().zip(&demands.lines) {
            let at = At {
                ledger,
                case,
                lines: &self.lines,
                ground: &self.ground,
                line,
                shear,
                demands: &demands,
                by: self.standards,
                method: self.options.method,
            };
            let mut of_line = Vec::with_capacity(12);
            uplifts.push(links(&at, &mut of_line));
            of_lines.push(of_line);
            if of_house.is_empty() {
                of_house.extend(Direction::BOTH.map(|direction| Link {
                    kind: LinkKind::Sliding,
                    state: sliding(&at, direction),
                }));
                of_house.extend(posts(&at, &self.posts, self.has_posts));
            }
        }
        Ok(Pass {
            demands,
            links: of_lines,
            uplifts,
            of_house,
        })
    }
}

/// The kinds of house that take an engineer's own model.
fn decline(house: &House, existing: &ExistingBuildings) -> Result<(), Declined> {
    let building = &house.building;
    if building.floors_at_one_level.value() == Some(&false) {
        return Err(Declined::SplitLevel);
    }
    if building.slab_or_pole_portion.value() == Some(&true) {
        return Err(Declined::SlabOrPoles);
    }
    let limit = existing.hillside_slope.low;
    match house.site.slope.bounds().0 {
        Some(least) if share(*least) > limit => Err(Declined::Hillside {
            found: least.to_string(),
            limit: format!("{:.0}%", limit * 100.0),
        }),
        _ => Ok(()),
    }
}

/// What is taken for granted because the record does not say.
fn granted(house: &House, existing: &ExistingBuildings, plan: &FloorPlan) -> Vec<&'static str> {
    let building = &house.building;
    let is_flat = house
        .site
        .slope
        .satisfies(|slope| share(slope) <= existing.hillside_slope.low);
    [
        (
            building.floors_at_one_level.is_known(),
            "that the floors of each story lie at one level",
        ),
        (
            building.slab_or_pole_portion.is_known(),
            "that no part of the house stands on a slab or on poles",
        ),
        (
            is_flat == Truth::True,
            "that the house does not stand on a hillside",
        ),
        (
            building.rooms_over_garage.value() == Some(&false),
            "that no room lies over a garage or another open front, whose own walls are not screened",
        ),
        (
            building.porch_area.is_known(),
            "that no porch roof hangs on the house",
        ),
    ]
    .into_iter()
    // What no record has a word for.
    .chain([
        (false, "that no floor has an opening large enough to weaken it"),
        (
            false,
            "that the floor spreads the overturning of the stories above, of which only the shear is carried down",
        ),
        (
            plan.lines.iter().all(|line| line.drag < 1.0),
            "that the floor drags its load into walls that are shorter than it, at inner corners of the plan",
        ),
    ])
    .filter(|(is_on_record, _)| !is_on_record)
    .map(|(_, what)| what)
    .collect()
}

fn asked(plan: &FloorPlan, shaking: Shaking, standards: &Standards, options: Options) -> Asked {
    let existing = &standards.existing;
    let from_plan = |symbol, words: &str, value| {
        Input::<Z0, P1>::seen(symbol, words, FOOT, value, "building.outline", Basis::Measured)
    };
    let of_figure = |figure: &Figure<Z0, Z0>, symbol, words, kind| Input::figure(symbol, words, figure, kind);
    Asked {
        shaking,
        redundancy: match options.redundancy {
            Some(redundancy) => Input::setting(
                "ρ",
                "redundancy factor, as chosen",
                PLAIN,
                redundancy,
                ("ASCE 7", "12.3.4", Standing::Secondary),
            ),
            None => of_figure(
                &existing.redundancy,
                "ρ",
                "redundancy factor",
                UnknownKind::Redundancy,
            ),
        },
        reduction: options.reduced.then(|| {
            of_figure(
                &existing.reduced_force,
                "r",
                "share of the design force for an existing building, as chosen",
                UnknownKind::Redundancy,
            )
        }),
        method: options.method,
        width_across: Direction::BOTH.map(|direction| {
            from_plan(
                "L_across",
                "extent of the house across the force",
                plan.width_across(direction),
            )
        }),
        center_across: Direction::BOTH.map(|direction| {
            from_plan(
                "x_m",
                "center of the floor, across the direction",
                plan.center_across(direction),
            )
        }),
        first_floor: Input::figure(
            "h_1",
            "height of the first floor above the foundation",
            &existing.floor_depth,
            UnknownKind::CrippleHeight,
        ),
    }
}

/// The shaking on record, or why there is none.
fn shaking(house: &House) -> (Shaking, Result<(), String>) {
    let site = &house.site;
    let what = |symbol, words| What {
        symbol,
        words,
        unit: GRAVITY,
        kind: UnknownKind::Shaking,
    };
    let s1 = what("S_1", "mapped acceleration at one second").known(&site.s_1, || "site.s_1".into());
    if let Some(sds) =
        what("S_DS", "design acceleration at short periods").known(&site.s_ds, || "site.s_ds".into())
    {
        let sd1 = what("S_D1", "design acceleration at one second").known(&site.s_d1, || "site.s_d1".into());
        return (Shaking::Design { sds, sd1, s1 }, Ok(()));
    }
    if let Some(ss) =
        what("S_S", "mapped acceleration at short periods").known(&site.s_s, || "site.s_s".into())
    {
        let class = site.site_class.value().copied().unwrap_or(SiteClass::Default);
        return (Shaking::Mapped { ss, s1, class }, Ok(()));
    }
    (
        reference(),
        Err("neither S_DS nor S_S of the site is on record".into()),
    )
}

fn reference() -> Shaking {
    Shaking::Design {
        sds: Input::setting(
            "S_DS",
            "acceleration that stands in, because that of the site is not known",
            GRAVITY,
            REFERENCE_SHAKING,
            ("Screen", "no site", Standing::CommonPractice),
        ),
        sd1: None,
        s1: None,
    }
}

/// Whether the standard gives design accelerations for what is on record.
fn is_computable(shaking: &Shaking, standards: &Standards) -> Result<(), String> {
    let bare = super::number::Bare;
    for case in [Case::LOW, Case(u64::MAX)] {
        let sds = match shaking {
            Shaking::Design { sds, .. } => sds.get(bare, case),
            Shaking::Mapped { ss, class, .. } => standards
                .asce7
                .sds(bare, *class, ss.get(bare, case))
                .map_err(|error| error.to_string())?,
        };
        if sds.value() > STRONGEST {
            return Err(format!(
                "S_DS of {} g is more than the {STRONGEST} g up to which a house is computed",
                sds.value()
            ));
        }
    }
    Ok(())
}

fn share(slope: Slope) -> f64 {
    f64::from(slope.rise()) / f64::from(slope.run())
}
