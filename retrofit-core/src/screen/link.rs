//! The links of a load path, from the floor to the soil. One file for each; a path is as good as its weakest.

mod concrete_edge;
mod drift;
mod floor_connection;
mod foundation;
mod panel_ends;
mod posts;
mod sheathing;
mod sill_anchors;
mod sliding;
mod top_plate;

use typenum::{N3, P1, Z0};

use super::asce7::{Asce7Error, Coefficients, Combination};
use super::demand::{Demands, LineShear};
use super::input::{Case, Input};
use super::line::{Line, Why};
use super::method::Method;
use super::number::{Binary, Given, Ledger, Number, Origin};
use super::quantity::{Force, Quantity, Ratio};
use super::standard::{Edition, Equation};
use super::standards::Standards;
use super::unit::Unit;
use crate::choice::choices;
use crate::provisions::Standing;

pub(super) use posts::{PostModel, posts};
pub(super) use sliding::sliding;

choices! {
    /// A link of the load path.
    pub enum LinkKind: "link of the load path" {
        /// Floor to wall or sill below.
        FloorConnection = "floor_connection", "fastening of the floor to the wall or sill below";
        /// Splices of the top plate.
        TopPlate = "top_plate", "splices of the top plate";
        /// Shear of the panels.
        Sheathing = "sheathing", "shear of the braced panels";
        /// Overturning of the panels.
        Overturning = "overturning", "overturning of the braced panels";
        /// Compression at the ends of the panels.
        Compression = "compression", "compression at the ends of the braced panels";
        /// Drift.
        Drift = "drift", "drift of the cripple wall";
        /// Sill anchors, by the wood and the steel.
        SillAnchors = "sill_anchors", "sill anchors, by sill and bolt";
        /// Sill anchors, by the concrete.
        ConcreteEdge = "concrete_edge", "sill anchors, by the edge of the concrete";
        /// Bending of the stem wall.
        StemWall = "stem_wall", "bending of the stem wall under the panel ends";
        /// Rocking of the whole line on its footing.
        Rocking = "rocking", "rocking of the foundation on its footing";
        /// Bearing of the soil.
        Bearing = "bearing", "bearing of the soil under the panel ends";
        /// Sliding.
        Sliding = "sliding", "sliding of the whole foundation on the soil";
        /// Posts in compression.
        Posts = "posts", "posts under the floor";
        /// Pads under the posts.
        Pads = "pads", "pads under the posts";
        /// Uplift of posts.
        PostUplift = "post_uplift", "weight left on the posts";
    }
}

/// A quantity of which only the unit is known.
#[derive(Clone, Copy)]
pub(super) struct Any<N> {
    pub(super) number: N,
    pub(super) unit: Unit,
}

impl<N: Number> Any<N> {
    pub(super) fn of<F, L>(quantity: Quantity<F, L, N>, unit: Unit) -> Self {
        Self {
            number: quantity.number(),
            unit,
        }
    }
}

/// What a link is asked for and what it can give.
#[derive(Clone)]
pub(super) struct Computed<N: Number> {
    pub(super) demand: Any<N>,
    pub(super) capacity: Any<N>,
    /// Demand over capacity.
    pub(super) ratio: Ratio<N>,
    /// What governs the capacity.
    pub(super) governs: &'static str,
    /// Whether more may be there than was counted, so that the capacity has no upper end.
    pub(super) may_hold_more: bool,
}

/// What became of a link.
#[derive(Clone)]
pub(super) enum State<N: Number> {
    /// It was computed.
    Computed(Computed<N>),
    /// Nothing on record carries it.
    NoCapacity(&'static str),
    /// The house has no such link.
    NotApplicable(&'static str),
    /// Something that is not on record, or that no equation covers, is missing.
    NotDetermined(Why),
}

/// One link of a wall line.
#[derive(Clone)]
pub(super) struct Link<N: Number> {
    pub(super) kind: LinkKind,
    pub(super) state: State<N>,
}

const RATIO: Equation = Equation {
    symbol: "D/C",
    words: "demand over capacity",
    unit: Unit::Plain,
    section: "",
    standing: Standing::Verified,
};

/// An equation of equilibrium, which no standard has to state.
const fn statics(symbol: &'static str, words: &'static str, unit: Unit) -> Equation {
    Equation {
        symbol,
        words,
        unit,
        section: "statics",
        standing: Standing::Verified,
    }
}

/// The ground that the house stands on.
#[derive(Clone, Debug)]
pub(super) struct GroundModel {
    /// Friction of the soil; `None` for clay, which holds by cohesion.
    pub(super) friction: Option<Input<Z0, Z0>>,
    /// What plain concrete weighs.
    pub(super) concrete: Input<P1, N3>,
    /// Lateral bearing of the soil for each foot of depth.
    pub(super) lateral_bearing: Input<P1, N3>,
    /// Whether the foundation runs around the house without a break.
    pub(super) is_in_one_piece: bool,
}

/// Where a link is computed.
#[derive(Clone, Copy)]
pub(super) struct At<'a, G: Ledger> {
    pub(super) ledger: G,
    pub(super) case: Case,
    pub(super) lines: &'a [Line<'a>],
    pub(super) ground: &'a GroundModel,
    pub(super) line: &'a Line<'a>,
    pub(super) shear: &'a LineShear<G::Number>,
    pub(super) demands: &'a Demands<G::Number>,
    pub(super) by: &'a Standards,
    pub(super) method: Method,
}

impl<G: Ledger> At<'_, G> {
    /// Demand over capacity, of whichever dimension.
    fn computed<F: typenum::Integer, L: typenum::Integer>(
        &self,
        demand: Quantity<F, L, G::Number>,
        capacity: Quantity<F, L, G::Number>,
        unit: Unit,
        governs: &'static str,
    ) -> Computed<G::Number> {
        let edition = &self.by.statics;
        let number = demand.number().binary(Binary::Divide, capacity.number());
        Computed {
            demand: Any::of(demand, unit),
            capacity: Any::of(capacity, unit),
            ratio: Ratio::new(number).by_for(&RATIO, edition, || self.line.name.clone()),
            governs,
            may_hold_more: false,
        }
    }

    /// What a force of the method's load combination is multiplied by to stand at strength level.
    fn strength_factor(&self) -> Ratio<G::Number> {
        let factor = 1.0 / self.demands.earthquake;
        Ratio::new(self.ledger.given(factor, Standing::Memory, None, || Given {
            symbol: "k".into(),
            words: "from the level of the method to strength level".into(),
            unit: Unit::Plain,
            origin: Origin::Setting {
                document: self.by.asce7.edition.name(),
                section: "2.3.6, 2.4.5".into(),
                standing: Standing::Memory,
            },
        }))
    }

    /// The factors of a combination at the level of allowable stresses, by which soil is judged whatever the method.
    fn allowable_factors(&self, combination: Combination) -> Result<Coefficients<G::Number>, Asce7Error> {
        self.by
            .asce7
            .coefficients(Method::Asd, combination, self.demands.sds)
    }

    /// An earthquake load of the method's combination at the level of allowable stresses, by which soil is judged. It
    /// is for loads of the earthquake alone: dead load has a factor of its own.
    fn allowable<F: typenum::Integer, L: typenum::Integer>(
        &self,
        load: Quantity<F, L, G::Number>,
    ) -> Quantity<F, L, G::Number> {
        match self.method {
            Method::Asd => load,
            Method::Lrfd => 0.7 * load,
        }
    }

    fn subject(&self) -> String {
        self.line.name.clone()
    }

    fn statics(&self) -> &Edition {
        &self.by.statics
    }
}

/// Every link of a wall line, from the floor down; gives the uplift that a hold-down would have to hold.
pub(super) fn links<G: Ledger>(at: &At<'_, G>, links: &mut Vec<Link<G::Number>>) -> Option<Force<G::Number>> {
    let mut add = |kind, state| links.push(Link { kind, state });
    add(LinkKind::FloorConnection, floor_connection::link(at));
    add(LinkKind::TopPlate, top_plate::link(at));
    add(LinkKind::Sheathing, sheathing::link(at));
    let ends = panel_ends::panel_ends(at);
    add(LinkKind::Overturning, ends.overturning);
    add(LinkKind::Compression, ends.compression);
    add(LinkKind::Drift, drift::link(at));
    add(LinkKind::SillAnchors, sill_anchors::link(at));
    add(LinkKind::ConcreteEdge, concrete_edge::link(at));
    let foundation = foundation::foundation(at, ends.forces);
    add(LinkKind::StemWall, foundation.stem_wall);
    add(LinkKind::Rocking, foundation.rocking);
    add(LinkKind::Bearing, foundation.bearing);
    ends.forces.map(|forces| forces.uplift)
}
