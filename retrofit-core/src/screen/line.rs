//! A wall line as inputs: its panels, anchors, connection and foundation, each known or between two ends.

mod anchors;
mod connection;
mod cripple;
mod foundation;
mod sill;

use std::sync::Arc;

use typenum::{N2, P1, P2, Z0};

use super::aci318::AciError;
use super::asce7::Asce7Error;
use super::existing::ExistingBuildings;
use super::input::{Case, Input, Pick, UnknownKind, What};
use super::nds::{Nds, NdsError, Wood};
use super::number::Ledger;
use super::plan::PlacedLine;
use super::quantity::LineLoad;
use super::range::OutOfRange;
use super::sdpws::{Sdpws, ShearWallError};
use super::soil::{Soil, SoilError};
use super::standard::Figure;
use super::unit::{FOOT, INCH, PLAIN, SQUARE_FOOT};
use crate::house::{House, JoistDirection, Nail, Rim, Shank, WallLine};
use crate::measure::Length;
use crate::observation::{Basis, Observed};

pub(super) use anchors::{Anchors, Dowel, GroupKind};
pub(super) use connection::{Fastening, FasteningKind};
pub(super) use cripple::{BracedPanel, Cripple, Rating};
pub(super) use foundation::Foundation;
pub(super) use sill::Sill;

/// Why a link is not computed. It is put into words only when somebody reads it.
#[derive(Clone, Debug, thiserror::Error)]
pub(super) enum Why {
    /// What is missing.
    #[error("{0}")]
    Missing(&'static str),
    /// What the record says that cannot be computed with.
    #[error("{0}")]
    OnRecord(Arc<str>),
    /// The wood specification gives no number.
    #[error(transparent)]
    Wood(#[from] NdsError),
    /// The shear wall provisions give no number.
    #[error(transparent)]
    ShearWall(#[from] ShearWallError),
    /// The concrete code gives no number.
    #[error(transparent)]
    Concrete(#[from] AciError),
    /// The soil table gives no number.
    #[error(transparent)]
    Soil(#[from] SoilError),
    /// A number is out of range.
    #[error(transparent)]
    Range(#[from] OutOfRange),
    /// The seismic loads give no number.
    #[error(transparent)]
    Load(#[from] Asce7Error),
}

impl From<&'static str> for Why {
    fn from(missing: &'static str) -> Self {
        Self::Missing(missing)
    }
}

type Size = Input<Z0, P1>;
type Number = Input<Z0, Z0>;

/// Something of a wall line that is either there, as inputs, or not there, or not on record.
#[derive(Clone, Debug)]
pub(super) enum Part<T> {
    /// It is there.
    There(T),
    /// It is not there, or does not count.
    Nothing,
    /// The record does not let it be computed.
    NotDetermined(Why),
}

/// A wall line.
#[derive(Clone, Debug)]
pub(super) struct Line<'a> {
    pub(super) placed: PlacedLine,
    pub(super) name: String,
    pub(super) length: Size,
    pub(super) tributary: Input<Z0, P2>,
    pub(super) cripple: Part<Cripple<'a>>,
    pub(super) anchors: Part<Anchors>,
    pub(super) connection: Part<Vec<Fastening>>,
    /// Whether joist ends are closed, so that shear gets from the floor into the wall.
    pub(super) rim: Option<Rim>,
    pub(super) sill: Sill,
    pub(super) foundation: Part<Foundation>,
    /// The joist span, where the joists bear on the line.
    pub(super) bearing_width: Option<Size>,
    /// Share of upper floors and roof, nearer to this line than to the next, that bears on it.
    pub(super) bearing_share: Number,
    /// Depth of the footing's bottom in the ground.
    pub(super) embedment: Size,
    /// Its distance from the origin, across its direction.
    pub(super) across: Size,
    /// The framing above the sill.
    pub(super) framing: Pick<Wood>,
    pub(super) framing_gravity: Number,
    pub(super) framing_elasticity: Input<P1, N2>,
    /// Thickness of the piece that floor nails go through first.
    pub(super) framing_thickness: Size,
    pub(super) splice_nail: Pick<Nail>,
    /// How far the end of a panel gives upward.
    pub(super) end_give: Size,
    pub(super) bearing: Input<P1, N2>,
    /// Distance of an anchor from the end of the concrete.
    pub(super) end_distance: Size,
}

impl Line<'_> {
    /// Stiffness of the panels of the line; `None` where that of any is not known, or none is counted.
    pub(super) fn stiffness<G: Ledger>(&self, ledger: G, case: Case) -> Option<LineLoad<G::Number>> {
        let Part::There(cripple) = &self.cripple else {
            return None;
        };
        let height = cripple.height.get(ledger, case);
        cripple
            .panels
            .iter()
            .map(|panel| {
                let Rating::Panel(row) = panel.rating.get(ledger, case) else {
                    return None;
                };
                let length = panel.length.get(ledger, case) * panel.works.get(ledger, case);
                Some(row.stiffness(ledger) * length / height)
            })
            .reduce(|sum, stiffness| Some(sum? + stiffness?))
            .flatten()
    }
}
/// What is known of the house beside the line.
pub(super) struct Around<'a> {
    pub(super) house: &'a House,
    pub(super) existing: &'a ExistingBuildings,
    pub(super) sdpws: &'a Sdpws,
    pub(super) nds: &'a Nds,
    pub(super) soil: &'a Soil,
}

impl Around<'_> {
    /// Whether something works that was perhaps not looked at.
    fn works(&self, words: &str, kind: UnknownKind, is_known: bool, at: &str) -> Number {
        if is_known {
            Input::seen("c", words, PLAIN, 1.0, at, Basis::Seen)
        } else {
            Input::figure("c", words, &self.existing.counted, kind)
        }
    }
}

const fn size(symbol: &'static str, words: &'static str, kind: UnknownKind) -> What<Z0, P1> {
    What {
        symbol,
        words,
        unit: INCH,
        kind,
    }
}

impl<'a> Line<'a> {
    pub(super) fn of(around: &Around<'a>, placed: &PlacedLine, wall: &WallLine) -> Self {
        let at = |field: &str| format!("wall_lines[{}].{field}", placed.wall);
        let name = wall.name.clone();
        let plan = |symbol, words, unit, value| {
            Input::seen(symbol, words, unit, value, &at("plan"), Basis::Measured)
        };
        let length = size("L", "length of the wall line", UnknownKind::CrippleHeight)
            .known(&wall.length, || at("length"))
            .filter(|length| length.unknown().is_none())
            .unwrap_or_else(|| plan("L", "length of the wall line", FOOT, placed.length()));
        let joists_bear = wall.joists.value() == Some(&JoistDirection::Perpendicular);
        let span = &around.house.floor.joist_span;
        Self {
            tributary: Input::seen(
                "A_t",
                "floor area nearer to this wall line than to the next",
                SQUARE_FOOT,
                placed.tributary,
                &at("plan"),
                Basis::Measured,
            ),
            cripple: cripple::cripple(around, wall, placed, &at),
            anchors: anchors::anchors(around, wall, placed, &at),
            connection: connection::connection(around, wall, placed, &at),
            rim: wall.rim.value().copied(),
            sill: sill::sill(around, wall, &at),
            foundation: foundation::foundation(around, wall, &at),
            bearing_width: joists_bear
                .then(|| {
                    size("s", "span of the joists", UnknownKind::Floors)
                        .known(span, || "floor.joist_span".into())
                })
                .flatten(),
            across: plan(
                "x",
                "distance of the wall line from the origin, across its direction",
                FOOT,
                placed.across,
            ),
            framing: Pick {
                low: Wood::HemFir,
                high: Wood::DouglasFir,
                kind: UnknownKind::Species,
            },
            framing_gravity: framing_gravity(around),
            framing_elasticity: Input::figure(
                "E",
                "modulus of elasticity of the end studs",
                &around.existing.framing_elasticity,
                UnknownKind::Species,
            ),
            framing_thickness: Input::figure(
                "t_s",
                "thickness of rim, block or plate under the nail's head",
                &around.existing.stud_thickness,
                UnknownKind::EndStuds,
            ),
            splice_nail: Pick::one(nail(16), UnknownKind::Splices),
            end_give: Input::figure(
                "Δ_a",
                "give of the end of a panel: nails, bearing and hold-down",
                &around.existing.end_give,
                UnknownKind::HoldDown,
            ),
            bearing: Input::figure(
                "q_a",
                "presumptive bearing pressure",
                around
                    .soil
                    .bearing_figure(around.house.site.soil.value().copied()),
                UnknownKind::Soil,
            ),
            end_distance: Input::figure(
                "c_a2",
                "distance of an anchor from the end of the concrete",
                &around.existing.anchor_end_distance,
                UnknownKind::AnchorEdge,
            ),
            bearing_share: Input::figure(
                "s_b",
                "share of upper floors and roof that bears on the wall line",
                &around.existing.bearing_share,
                UnknownKind::Bearing,
            ),
            embedment: least(
                &size(
                    "d_f",
                    "depth of the footing in the ground",
                    UnknownKind::Foundation,
                ),
                wall.foundation.listed(),
                |stretch| &stretch.footing_depth,
                |item| at(&format!("foundation[{item}].footing_depth")),
                &around.existing.footing_depth,
            ),
            placed: placed.clone(),
            name,
            length,
        }
    }
}

/// Framing of hem-fir or Douglas fir, as houses are framed where nothing else is known.
fn framing_gravity(around: &Around<'_>) -> Number {
    let of = |wood: Wood| &around.nds.species(wood).specific_gravity;
    let figure = |wood| {
        Input::figure(
            "G",
            "specific gravity of the framing",
            of(wood),
            UnknownKind::Species,
        )
    };
    let (least, most) = (figure(Wood::HemFir), figure(Wood::DouglasFir));
    let (low, high) = (least.ends().0, most.ends().1);
    least.between(low, high, UnknownKind::Species)
}

/// The least of several sizes: a stretch is as weak as its weakest part.
fn least<'a, T>(
    what: &What<Z0, P1>,
    items: &'a [T],
    of: impl Fn(&'a T) -> &'a Observed<Length>,
    at: impl Fn(usize) -> String,
    assumed: &Figure<Z0, P1>,
) -> Size {
    items
        .iter()
        .enumerate()
        .map(|(item, it)| what.or(of(it), || at(item), assumed))
        .reduce(Input::smaller_of)
        .unwrap_or_else(|| Input::figure(what.symbol, what.words, assumed, what.kind))
}
const fn nail(penny: u8) -> Nail {
    Nail {
        penny,
        shank: Shank::Common,
    }
}
