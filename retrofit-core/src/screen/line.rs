//! A wall line as inputs: its panels, anchors, connection and foundation, each known or between two ends.

use std::borrow::Cow;

use typenum::{N2, P1, P2, Z0};

use super::existing::ExistingBuildings;
use super::input::{Case, InPoundsAndInches, Input, Pick, UnknownKind, What};
use super::nds::{Nds, Wood};
use super::number::Ledger;
use super::plan::PlacedLine;
use super::quantity::LineLoad;
use super::sdpws::{Covering, PanelGrade, Panelling, Sdpws, ShearWallError, UnitShear};
use super::soil::Soil;
use super::standard::Figure;
use super::unit::{COUNT, FOOT, INCH, PLAIN, POUND, PSI, SQUARE_FOOT};
use crate::house::{
    Anchor, AnchorKind, Connection, ConnectionKind, Corrosion, CrippleCovering, CrippleStretch,
    FoundationCondition, FoundationKind, FoundationStretch, House, JoistDirection, Nail, Panel, PanelFoot,
    Parts, Placement, Rim, Shank, Sheathing, SillPiece, SillSoundness, SillSpecies, Tightness, WallLine,
};
use crate::measure::Length;
use crate::observation::{Basis, Observed};

/// Why a link is not computed.
pub(super) type Why = Cow<'static, str>;

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
pub(super) struct Line {
    pub(super) placed: PlacedLine,
    pub(super) name: String,
    pub(super) length: Size,
    pub(super) tributary: Input<Z0, P2>,
    pub(super) cripple: Part<Cripple>,
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

impl Line {
    /// Stiffness of the panels of the line; `None` where that of any is not known, or none is counted.
    pub(super) fn stiffness<G: Ledger>(
        &self,
        ledger: G,
        case: Case,
        sdpws: &Sdpws,
    ) -> Option<LineLoad<G::Number>> {
        let Part::There(cripple) = &self.cripple else {
            return None;
        };
        let height = cripple.height.get(ledger, case);
        cripple
            .panels
            .iter()
            .map(|panel| {
                let rating = panel.rating.get(ledger, case);
                let row = rating
                    .row(sdpws)
                    .ok()
                    .filter(|_| matches!(rating, Rating::Panel(_)))?;
                let length = panel.length.get(ledger, case) * panel.works.get(ledger, case);
                Some(row.stiffness(ledger) * length / height)
            })
            .reduce(|sum, stiffness| Some(sum? + stiffness?))
            .flatten()
    }
}

/// The cripple wall of a line.
#[derive(Clone, Debug)]
pub(super) struct Cripple {
    pub(super) height: Size,
    pub(super) stud_thickness: Size,
    pub(super) stud_depth: Size,
    pub(super) end_studs: Number,
    pub(super) panels: Vec<BracedPanel>,
    /// What is on record as a panel and cannot be rated, and why.
    pub(super) unrated: Vec<Why>,
    /// Whether more panels may be there than were seen.
    pub(super) may_hold_more: bool,
    /// An outside covering, and whether it can be relied on.
    pub(super) covering: Option<(Covering, Number)>,
    pub(super) splice_nails: Number,
    /// The longest stretch of the line without a panel, floor beyond its ends with it; `None` where the places of
    /// the panels were not taken.
    pub(super) longest_gap: Option<Size>,
}

/// What a panel is rated as.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Rating {
    /// A wood structural panel.
    Panel(Panelling),
    /// Another covering.
    Covering(Covering),
}

impl Rating {
    pub(super) fn row(self, sdpws: &Sdpws) -> Result<&UnitShear, ShearWallError> {
        match self {
            Self::Panel(panelling) => sdpws.panel(&panelling),
            Self::Covering(covering) => sdpws.covering(covering),
        }
    }
}

/// A braced panel.
#[derive(Clone, Debug)]
pub(super) struct BracedPanel {
    pub(super) length: Size,
    /// The length by which its proportions are judged.
    pub(super) shortest: Size,
    pub(super) rating: Pick<Rating>,
    /// Whether it works: 1, or from 0 to 1 where that was not seen.
    pub(super) works: Number,
    pub(super) hold_down: Input<P1, Z0>,
}

/// The anchors of a line.
#[derive(Clone, Debug)]
pub(super) struct Anchors {
    pub(super) groups: Vec<AnchorGroup>,
    /// Whether more anchors may be there than were seen.
    pub(super) may_hold_more: bool,
}

/// Anchors that are alike.
#[derive(Clone, Debug)]
pub(super) struct AnchorGroup {
    pub(super) count: Number,
    /// Whether they hold: 1, or from 0 to 1 where that was not seen.
    pub(super) works: Number,
    pub(super) kind: GroupKind,
}

/// How a group of anchors is computed.
#[derive(Clone, Debug)]
pub(super) enum GroupKind {
    /// As a dowel through the sill into concrete.
    Dowel {
        diameter: Size,
        embedment: Size,
        edge_distance: Size,
    },
    /// By what its maker declares.
    Declared(Input<P1, Z0>),
}

/// A way of fastening the floor, along a stretch.
#[derive(Clone, Debug)]
pub(super) struct Fastening {
    pub(super) count: Number,
    pub(super) kind: FasteningKind,
}

/// How a fastening is computed.
#[derive(Clone, Debug)]
pub(super) enum FasteningKind {
    /// Toenails.
    Toenail(Pick<Nail>),
    /// Nails through a block's face into the plate.
    FaceNail(Pick<Nail>),
    /// By what its maker declares.
    Declared(Input<P1, Z0>),
}

/// The sill of a line.
#[derive(Clone, Debug)]
pub(super) struct Sill {
    pub(super) thickness: Size,
    pub(super) gravity: Number,
    /// Strength across the grain, where the tables have it for the wood.
    pub(super) compression: Option<Input<P1, N2>>,
    pub(super) works: Number,
}

/// The foundation of a line.
#[derive(Clone, Debug)]
pub(super) struct Foundation {
    pub(super) strength: Input<P1, N2>,
    pub(super) stem_thickness: Size,
    pub(super) stem_height: Size,
    pub(super) footing_width: Size,
    pub(super) footing_thickness: Size,
    /// Whether it is in one piece and sound enough to be computed as concrete.
    pub(super) is_cracked: bool,
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

impl Line {
    pub(super) fn of(around: &Around<'_>, placed: &PlacedLine, wall: &WallLine) -> Self {
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
            cripple: cripple(around, wall, placed, &at),
            anchors: anchors(around, wall, placed, &at),
            connection: connection(around, wall, placed, &at),
            rim: wall.rim.value().copied(),
            sill: sill(around, wall, &at),
            foundation: foundation(around, wall, &at),
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
        .reduce(|a, b| a.smaller_of(b))
        .unwrap_or_else(|| Input::figure(what.symbol, what.words, assumed, what.kind))
}

fn cripple(
    around: &Around<'_>,
    wall: &WallLine,
    placed: &PlacedLine,
    at: &dyn Fn(&str) -> String,
) -> Part<Cripple> {
    let existing = around.existing;
    let stretches: &[CrippleStretch] = match wall.cripple_wall.value() {
        Some(stretches) if stretches.is_empty() => return Part::Nothing,
        Some(stretches) => stretches,
        None => {
            return Part::NotDetermined(Cow::Borrowed("whether there is a cripple wall is not on record"));
        }
    };
    let field = |name: &'static str| {
        move |item: usize| format!("wall_lines[{}].cripple_wall[{item}].{name}", placed.wall)
    };
    let height = size("h", "height of the cripple wall", UnknownKind::CrippleHeight);
    let height = stretches
        .iter()
        .enumerate()
        .map(|(item, stretch)| {
            height.or(
                &stretch.height,
                || field("height")(item),
                &existing.cripple_height,
            )
        })
        .reduce(|a, b| a.larger_of(b));
    let Some(height) = height else {
        return Part::Nothing;
    };
    let may_hold_more = wall.unseen_of(Parts::Panels).next().is_some();
    let (mut panels, mut unrated) = (Vec::new(), Vec::new());
    match wall.panels.value() {
        None => unrated.push(Cow::Borrowed("whether there are braced panels is not on record")),
        Some(listed) => {
            for (item, panel) in listed.iter().enumerate() {
                match braced_panel(around, panel, &|name| at(&format!("panels[{item}].{name}"))) {
                    Ok(panel) => panels.push(panel),
                    Err(why) => unrated.push(why),
                }
            }
        }
    }
    let may_hold_more = may_hold_more || wall.panels.value().is_none();
    let covering = stretches
        .iter()
        .map(|stretch| stretch.covering.value().copied())
        .reduce(|a, b| if a == b { a } else { Some(CrippleCovering::None) })
        .flatten();
    let covering = covering.and_then(|covering| {
        let covering = match covering {
            CrippleCovering::HorizontalBoards => Covering::HorizontalBoards,
            CrippleCovering::DiagonalBoards => Covering::DiagonalBoards,
            CrippleCovering::Stucco => Covering::CementPlaster,
            CrippleCovering::None => return None,
        };
        let relied = Input::figure(
            "c",
            "share of the covering that braces the wall",
            &existing.counted,
            UnknownKind::Covering,
        );
        Some((covering, relied))
    });
    let splice_nails = What {
        symbol: "n_s",
        words: "nails on each side of a splice of the top plate",
        unit: COUNT,
        kind: UnknownKind::Splices,
    };
    let splice_nails = stretches
        .iter()
        .enumerate()
        .map(|(item, stretch)| {
            splice_nails.or(
                &stretch.splice_nails,
                || field("splice_nails")(item),
                &existing.splice_nails,
            )
        })
        .reduce(|a, b| a.smaller_of(b));
    let Some(splice_nails) = splice_nails else {
        return Part::Nothing;
    };
    Part::There(Cripple {
        height,
        stud_thickness: least(
            &size("t_s", "thickness of a stud", UnknownKind::EndStuds),
            stretches,
            |stretch| &stretch.stud_thickness,
            field("stud_thickness"),
            &existing.stud_thickness,
        ),
        stud_depth: least(
            &size("d_s", "depth of a stud", UnknownKind::EndStuds),
            stretches,
            |stretch| &stretch.stud_depth,
            field("stud_depth"),
            &existing.stud_depth,
        ),
        end_studs: Input::figure(
            "n_e",
            "studs at the end of a panel",
            &existing.end_studs,
            UnknownKind::EndStuds,
        ),
        panels,
        unrated,
        may_hold_more,
        covering,
        splice_nails,
        longest_gap: longest_gap(wall, placed),
    })
}

/// The longest stretch between panels, or between a panel and an end of the line; at an end, floor that the line has
/// to drag in from beyond counts with it.
fn longest_gap(wall: &WallLine, placed: &PlacedLine) -> Option<Size> {
    let mut stations: Vec<(f64, f64)> = wall
        .panels
        .listed()
        .iter()
        .map(|panel| {
            let (from, to) = panel.stations()?;
            Some((from.in_pounds_and_inches(), to.in_pounds_and_inches()))
        })
        .collect::<Option<_>>()?;
    stations.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (first, last) = (stations.first()?.0, stations.last()?.1);
    let between = stations
        .windows(2)
        .filter_map(|pair| match pair {
            [a, b] => Some(b.0 - a.1),
            _ => None,
        })
        .fold(0.0, f64::max);
    let at_ends = first.max(placed.length() - last) + placed.drag;
    // From the middle of a gap the plate pulls both ways.
    let longest = at_ends.max(between / 2.0);
    Some(Input::seen(
        "l_g",
        "longest stretch that the top plate gathers shear along",
        FOOT,
        longest.max(0.0),
        &format!("wall_lines[{}].panels", placed.wall),
        Basis::Measured,
    ))
}

fn braced_panel(around: &Around<'_>, panel: &Panel, at: &dyn Fn(&str) -> String) -> Result<BracedPanel, Why> {
    let length_of = |symbol, words, value: Length, field: &str| {
        Input::seen(
            symbol,
            words,
            INCH,
            value.in_pounds_and_inches(),
            &at(field),
            Basis::Measured,
        )
    };
    let (length, shortest) = if let Some((from, to)) = panel.stations() {
        let length = length_of("b", "length of the panel", to.saturating_sub(from), "to");
        (length.clone(), length)
    } else {
        let total = size("b", "total length of the panels", UnknownKind::Sheathing)
            .known(&panel.total_length, || at("total_length"))
            .ok_or("the length of the panels is not on record")?;
        let shortest = size("b", "length of the shortest panel", UnknownKind::Sheathing)
            .known(&panel.shortest, || at("shortest"))
            .ok_or("the length of the shortest panel is not on record")?;
        (total, shortest)
    };
    let sheathing = *panel
        .sheathing
        .value()
        .ok_or("what a panel is made of is not on record")?;
    if panel.cut_through.value() == Some(&true) {
        return Err("a panel with a hole cut through it is not rated".into());
    }
    if panel.joints_blocked.value() == Some(&false) {
        return Err("a panel with joints that are not blocked is not rated".into());
    }
    if panel.foot.value() == Some(&PanelFoot::Short) {
        return Err("a panel that is not nailed to the sill braces nothing".into());
    }
    let ends = |observed: &Observed<Length>, assumed: &Figure<Z0, P1>| {
        let of = |value: f64| {
            #[expect(
                clippy::cast_possible_truncation,
                reason = "a table's inches, far within range"
            )]
            let nanometers = (value * 25_400_000.0).round() as i64;
            Length::from_nanometers(nanometers)
        };
        let (low, high) = observed.bounds();
        (
            low.copied().unwrap_or_else(|| of(assumed.low)),
            high.copied().unwrap_or_else(|| of(assumed.high)),
        )
    };
    let thickness = ends(&panel.thickness, &around.existing.panel_thickness);
    let edge = ends(&panel.edge_nailing, &around.existing.edge_nailing);
    let nail = panel.nail.value().copied().unwrap_or(nail(8));
    let rating = |thickness, edge_spacing| {
        let rating = match sheathing {
            Sheathing::HorizontalBoards => Rating::Covering(Covering::HorizontalBoards),
            Sheathing::DiagonalBoards => Rating::Covering(Covering::DiagonalBoards),
            Sheathing::Stucco => Rating::Covering(Covering::CementPlaster),
            // A board without a rating is refused by the table, as are panels off it.
            Sheathing::Plywood | Sheathing::ThreePly | Sheathing::Osb | Sheathing::Board => {
                Rating::Panel(Panelling {
                    grade: PanelGrade::Sheathing,
                    sheathing,
                    thickness,
                    nail,
                    edge_spacing,
                })
            }
        };
        let is_rated = rating.row(around.sdpws);
        is_rated
            .map(|_| rating)
            .map_err(|error| Cow::Owned(error.to_string()))
    };
    let low = rating(thickness.0, edge.1)?;
    let high = rating(thickness.1, edge.0)?;
    let is_nailed = panel.foot.is_known() && panel.joints_blocked.is_known() && panel.cut_through.is_known();
    let hold_down = What {
        symbol: "T_h",
        words: "declared uplift of the hold-down at the panel's end",
        unit: POUND,
        kind: UnknownKind::HoldDown,
    };
    Ok(BracedPanel {
        rating: Pick {
            low,
            high,
            kind: UnknownKind::PanelNailing,
        },
        works: around.works(
            "share of the panel that works as one: nailed to the sill, its joints blocked, no hole through it",
            UnknownKind::PanelFoot,
            is_nailed && panel.nail.is_known(),
            &at("foot"),
        ),
        hold_down: hold_down.known(&panel.hold_down, || at("hold_down")).unwrap_or_else(|| {
            Input::seen("T_h", "hold-down: none on record", POUND, 0.0, &at("hold_down"), Basis::Inferred)
        }),
        length,
        shortest,
    })
}

const fn nail(penny: u8) -> Nail {
    Nail {
        penny,
        shank: Shank::Common,
    }
}

fn anchors(
    around: &Around<'_>,
    wall: &WallLine,
    placed: &PlacedLine,
    at: &dyn Fn(&str) -> String,
) -> Part<Anchors> {
    let Some(listed) = wall.anchors.value() else {
        return Part::NotDetermined("whether there are anchors is not on record".into());
    };
    let mut groups = Vec::new();
    let mut may_hold_more = wall.unseen_of(Parts::Anchors).next().is_some();
    for (item, anchor) in listed.iter().enumerate() {
        let at = |field: &str| at(&format!("anchors[{item}].{field}"));
        let holds_nothing = matches!(
            anchor.kind.value(),
            Some(AnchorKind::PowderDriven | AnchorKind::Nail)
        ) || anchor.corrosion.value() == Some(&Corrosion::Wasted)
            || anchor.tightness.value() == Some(&Tightness::Missing);
        if holds_nothing {
            continue;
        }
        let Some(count) = anchor_count(around, anchor, placed, &at) else {
            may_hold_more = true;
            continue;
        };
        let declared = What {
            symbol: "Z_d",
            words: "declared shear of one connector",
            unit: POUND,
            kind: UnknownKind::AnchorHold,
        };
        let declared = declared.known(&anchor.capacity, || at("capacity"));
        let is_dowel = matches!(
            anchor.kind.value(),
            None | Some(
                AnchorKind::CastInPlace | AnchorKind::Adhesive | AnchorKind::Expansion | AnchorKind::Screw
            )
        );
        let kind = match declared {
            Some(declared) => GroupKind::Declared(declared),
            None if is_dowel => GroupKind::Dowel {
                diameter: size("D", "diameter of the anchor", UnknownKind::AnchorDiameter).or(
                    &anchor.diameter,
                    || at("diameter"),
                    &around.existing.anchor_diameter,
                ),
                embedment: size("l_m", "embedment of the anchor", UnknownKind::AnchorHold).or(
                    &anchor.embedment,
                    || at("embedment"),
                    &around.existing.anchor_embedment,
                ),
                edge_distance: size(
                    "c_a1",
                    "distance of the anchor from the edge of the concrete",
                    UnknownKind::AnchorEdge,
                )
                .or(
                    &anchor.edge_distance,
                    || at("edge_distance"),
                    &around.existing.anchor_edge_distance,
                ),
            },
            // A side plate or strap without a declared capacity may hold something.
            None => {
                may_hold_more = true;
                continue;
            }
        };
        let is_seen = anchor.kind.is_known() && anchor.corrosion.is_known() && anchor.tightness.is_known();
        groups.push(AnchorGroup {
            count,
            works: around.works(
                "share of the anchors that hold: kind, rust and nut as they should be",
                UnknownKind::AnchorHold,
                is_seen,
                &at("corrosion"),
            ),
            kind,
        });
    }
    Part::There(Anchors {
        groups,
        may_hold_more,
    })
}

/// How many anchors a record stands for; `None` where not even a spacing bounds it.
fn anchor_count(
    around: &Around<'_>,
    anchor: &Anchor,
    placed: &PlacedLine,
    at: &dyn Fn(&str) -> String,
) -> Option<Number> {
    let seen = |low: f64, high: f64, field: &str, basis| {
        let one = Input::seen("n", "number of anchors", COUNT, low, &at(field), basis);
        if low < high {
            one.up_to(high, UnknownKind::AnchorCount)
        } else {
            one
        }
    };
    match anchor.placement() {
        Placement::At(_) => Some(seen(1.0, 1.0, "at", Basis::Seen)),
        Placement::Run { first, last, spacing } => {
            let (least, most) = spacing.bounds();
            let (closest, widest) = (
                least.map(|length| length.in_pounds_and_inches()),
                most.map(|length| length.in_pounds_and_inches()),
            );
            let from = first.map_or(0.0, InPoundsAndInches::in_pounds_and_inches);
            let to = last.map_or(placed.length(), InPoundsAndInches::in_pounds_and_inches);
            let run = (to - from).max(0.0);
            let extra = if first.is_some() && last.is_some() {
                1.0
            } else {
                0.0
            };
            let count = |spacing: f64| (run / spacing + 1e-9).floor() + extra;
            let widest = widest.unwrap_or(around.existing.anchor_spacing.high);
            let closest = closest.unwrap_or(around.existing.anchor_spacing.low);
            (closest > 0.0).then(|| {
                seen(
                    count(widest),
                    count(closest.min(widest)),
                    "spacing",
                    anchor.spacing.basis().unwrap_or(Basis::Inferred),
                )
            })
        }
    }
}

fn connection(
    around: &Around<'_>,
    wall: &WallLine,
    placed: &PlacedLine,
    at: &dyn Fn(&str) -> String,
) -> Part<Vec<Fastening>> {
    let Some(listed) = wall.connections.value() else {
        return Part::NotDetermined("how the floor is fastened is not on record".into());
    };
    let mut fastenings = Vec::new();
    for (item, connection) in listed.iter().enumerate() {
        let at = |field: &str| at(&format!("connections[{item}].{field}"));
        let Some(kind) = connection.kind.value() else {
            return Part::NotDetermined("what makes the joint of floor and wall is not on record".into());
        };
        let nails = match connection.nail.value() {
            Some(nail) => Pick::one(*nail, UnknownKind::Connection),
            None => Pick {
                low: nail(penny(around.existing.toenail.low)),
                high: nail(penny(around.existing.toenail.high)),
                kind: UnknownKind::Connection,
            },
        };
        let kind = match kind {
            ConnectionKind::None => continue,
            ConnectionKind::Toenails => FasteningKind::Toenail(nails),
            ConnectionKind::NailedBlocks => FasteningKind::FaceNail(nails),
            ConnectionKind::Clips => {
                let declared = What {
                    symbol: "Z_c",
                    words: "declared shear of one framing clip",
                    unit: POUND,
                    kind: UnknownKind::Clips,
                };
                match declared.known(&connection.capacity, || at("capacity")) {
                    Some(declared) => FasteningKind::Declared(declared),
                    None => {
                        return Part::NotDetermined(
                            "the declared capacity of the framing clips is not on record".into(),
                        );
                    }
                }
            }
        };
        fastenings.push(Fastening {
            count: fastener_count(around, wall, connection, placed, &at),
            kind,
        });
    }
    if fastenings.is_empty() {
        Part::Nothing
    } else {
        Part::There(fastenings)
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a penny size of a table"
)]
fn penny(size: f64) -> u8 {
    size.clamp(2.0, 60.0) as u8
}

fn fastener_count(
    around: &Around<'_>,
    wall: &WallLine,
    connection: &Connection,
    placed: &PlacedLine,
    at: &dyn Fn(&str) -> String,
) -> Number {
    let span = connection.span(wall.length.value().copied());
    let from = span.from.in_pounds_and_inches();
    let to = span
        .to
        .map_or(placed.length(), InPoundsAndInches::in_pounds_and_inches);
    let length = (to - from).max(0.0);
    let (blocks_low, blocks_high) = match wall.rim.value() {
        Some(Rim::EveryBay) => (1.0, 1.0),
        Some(Rim::AlternateBays | Rim::AlternateAndOverPanels) => (0.5, 0.5),
        Some(Rim::Scattered) => (0.0, 0.5),
        _ => (0.5, 1.0),
    };
    let bay = around
        .house
        .floor
        .joist_spacing
        .value()
        .map(|spacing| spacing.in_pounds_and_inches());
    let each = connection.nails_per_block.bounds();
    let by_blocks =
        wall.rim.value().is_none_or(|rim| rim.is_of_blocks()) && connection.spacing.bounds() == (None, None);
    let (low, high, field) = match (each, bay) {
        ((Some(least), Some(most)), Some(bay)) if by_blocks && bay > 0.0 => (
            length / bay * blocks_low * f64::from(*least),
            length / bay * blocks_high * f64::from(*most),
            "nails_per_block",
        ),
        _ => {
            let (least, most) = connection.spacing.bounds();
            let closest = least.map_or(around.existing.connection_spacing.low, |length| {
                length.in_pounds_and_inches()
            });
            let widest = most.map_or(around.existing.connection_spacing.high, |length| {
                length.in_pounds_and_inches()
            });
            (length / widest.max(closest), length / closest, "spacing")
        }
    };
    let is_on_record = !connection.spacing.is_not_recorded() || field == "nails_per_block";
    let count = if is_on_record {
        Input::seen(
            "n",
            "fasteners along the wall line",
            COUNT,
            low,
            &at(field),
            connection.spacing.basis().unwrap_or(Basis::Inferred),
        )
    } else {
        Input::figure(
            "n",
            "fasteners along the wall line",
            &around.existing.counted,
            UnknownKind::Connection,
        )
    };
    count.between(low, high, UnknownKind::Connection)
}

fn sill(around: &Around<'_>, wall: &WallLine, at: &dyn Fn(&str) -> String) -> Sill {
    let existing = around.existing;
    let pieces: &[SillPiece] = wall.sill.listed();
    let field = |name: &'static str| move |item: usize| at(&format!("sill[{item}].{name}"));
    let species = pieces
        .iter()
        .map(|piece| piece.species.value().copied())
        .reduce(|a, b| if a == b { a } else { None })
        .flatten();
    let woods: Vec<Wood> = match species {
        Some(species) => vec![species.into()],
        None => [
            SillSpecies::Redwood,
            SillSpecies::Cedar,
            SillSpecies::DouglasFir,
            SillSpecies::HemFir,
        ]
        .map(Wood::from)
        .to_vec(),
    };
    let species = || woods.iter().map(|wood| around.nds.species(*wood));
    let kind = UnknownKind::Species;
    let gravity = Input::any_of(
        "G",
        "specific gravity of the sill",
        species().map(|species| &species.specific_gravity),
        kind,
    )
    .unwrap_or_else(|| framing_gravity(around));
    let compression = Input::any_of(
        "F_c⊥",
        "strength of the sill across the grain",
        species().filter_map(|species| species.compression_perpendicular.as_ref()),
        kind,
    );
    let soundness = pieces.iter().map(|piece| piece.soundness.value().copied());
    let is_decayed = soundness
        .clone()
        .any(|found| found.is_some_and(|found| found != SillSoundness::Sound));
    let is_seen = !pieces.is_empty() && soundness.clone().all(|found| found.is_some());
    let works = if is_decayed {
        Input::seen(
            "c",
            "share of the sill that is sound: decayed",
            PLAIN,
            0.0,
            &at("sill"),
            Basis::Seen,
        )
    } else {
        around.works(
            "share of the sill that is sound",
            UnknownKind::SillSoundness,
            is_seen,
            &at("sill"),
        )
    };
    Sill {
        thickness: least(
            &size("l_s", "thickness of the sill", UnknownKind::SillSize),
            pieces,
            |piece| &piece.thickness,
            field("thickness"),
            &existing.sill_thickness,
        ),
        gravity,
        compression,
        works,
    }
}

fn foundation(around: &Around<'_>, wall: &WallLine, at: &dyn Fn(&str) -> String) -> Part<Foundation> {
    let existing = around.existing;
    let Some(stretches) = wall.foundation.value() else {
        return Part::NotDetermined("the foundation is not on record".into());
    };
    if stretches.is_empty() {
        return Part::Nothing;
    }
    let (mut is_cracked, mut crumbles) = (false, false);
    for stretch in stretches {
        match stretch.kind.value() {
            Some(FoundationKind::Concrete) => {}
            Some(kind) => {
                let kind = crate::choice::Choice::words(*kind);
                return Part::NotDetermined(Cow::Owned(format!(
                    "the equations are for concrete, and part of the foundation is {kind}"
                )));
            }
            None => return Part::NotDetermined("what the foundation is made of is not on record".into()),
        }
        match stretch.condition.value() {
            Some(FoundationCondition::Sound) => {}
            Some(FoundationCondition::Cracked) | None => is_cracked = true,
            Some(FoundationCondition::Crumbling | FoundationCondition::Displaced) => crumbles = true,
        }
    }
    if crumbles {
        return Part::NotDetermined("crumbling or displaced concrete has no strength to compute with".into());
    }
    let field = |name: &'static str| move |item: usize| at(&format!("foundation[{item}].{name}"));
    let of = |what: What<Z0, P1>, of: fn(&FoundationStretch) -> &Observed<Length>, name, assumed| {
        least(&what, stretches, of, field(name), assumed)
    };
    let strength = What {
        symbol: "f'_c",
        words: "compressive strength of the concrete",
        unit: PSI,
        kind: UnknownKind::Concrete,
    };
    let strength = stretches
        .iter()
        .enumerate()
        .map(|(item, stretch)| {
            strength.or(
                &stretch.concrete_strength,
                || field("concrete_strength")(item),
                &existing.concrete_strength,
            )
        })
        .reduce(|a, b| a.smaller_of(b));
    let Some(strength) = strength else {
        return Part::Nothing;
    };
    let kind = UnknownKind::Foundation;
    Part::There(Foundation {
        strength,
        stem_thickness: of(
            size("t", "thickness of the stem wall", kind),
            |stretch| &stretch.stem_thickness,
            "stem_thickness",
            &existing.stem_thickness,
        ),
        stem_height: of(
            size("h_f", "height of the stem wall", kind),
            |stretch| &stretch.stem_height,
            "stem_height",
            &existing.stem_height,
        ),
        footing_width: of(
            size("B", "width of the footing", kind),
            |stretch| &stretch.footing_width,
            "footing_width",
            &existing.footing_width,
        ),
        footing_thickness: of(
            size("t_f", "thickness of the footing", kind),
            |stretch| &stretch.footing_thickness,
            "footing_thickness",
            &existing.footing_thickness,
        ),
        is_cracked,
    })
}
