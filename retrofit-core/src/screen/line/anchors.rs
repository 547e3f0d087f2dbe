//! The anchors: how many, of what kind, and whether they hold.

use typenum::{P1, Z0};

use super::{Around, Number, Part, Size, size};
use crate::house::{Anchor, AnchorKind, Corrosion, Parts, Placement, Tightness, WallLine};
use crate::observation::Basis;
use crate::screen::input::{InPoundsAndInches, Input, UnknownKind, What};
use crate::screen::plan::PlacedLine;
use crate::screen::unit::{COUNT, POUND};

/// The anchors of a line.
#[derive(Clone, Debug)]
pub(in crate::screen) struct Anchors {
    pub(in crate::screen) groups: Vec<AnchorGroup>,
    /// Whether more anchors may be there than were seen.
    pub(in crate::screen) may_hold_more: bool,
}

/// Anchors that are alike.
#[derive(Clone, Debug)]
pub(in crate::screen) struct AnchorGroup {
    pub(in crate::screen) count: Number,
    /// Whether they hold: 1, or from 0 to 1 where that was not seen.
    pub(in crate::screen) works: Number,
    pub(in crate::screen) kind: GroupKind,
}

/// How a group of anchors is computed.
#[derive(Clone, Debug)]
pub(in crate::screen) enum GroupKind {
    /// As a dowel through the sill into concrete.
    Dowel(Box<Dowel>),
    /// By what its maker declares.
    Declared(Input<P1, Z0>),
}

/// A bolt through the sill into concrete.
#[derive(Clone, Debug)]
pub(in crate::screen) struct Dowel {
    pub(in crate::screen) diameter: Size,
    pub(in crate::screen) embedment: Size,
    pub(in crate::screen) edge_distance: Size,
    /// Distance to the end of its piece of sill, where that was taken.
    pub(in crate::screen) sill_end: Option<Size>,
}
pub(super) fn anchors(
    around: &Around<'_>,
    wall: &WallLine,
    placed: &PlacedLine,
    at: &dyn Fn(&str) -> String,
) -> Part<Anchors> {
    let Some(listed) = wall.anchors.value() else {
        return Part::NotDetermined("whether there are anchors is not on record".into());
    };
    let mut groups: Vec<AnchorGroup> = Vec::new();
    let mut singles: Vec<(usize, &Anchor)> = Vec::new();
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
        // Like anchors at stations of their own are counted together.
        if let Some((group, _)) = singles.iter().find(|(_, other)| are_alike(other, anchor)) {
            if let Some(group) = groups.get_mut(*group) {
                group.count = group.count.clone().plus_one();
            }
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
            None if is_dowel => GroupKind::Dowel(Box::new(Dowel {
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
                sill_end: size(
                    "e",
                    "distance of the anchor from the end of its piece of sill",
                    UnknownKind::AnchorEdge,
                )
                .known(&anchor.end_distance, || at("end_distance")),
            })),
            // A side plate or strap without a declared capacity may hold something.
            None => {
                may_hold_more = true;
                continue;
            }
        };
        let is_seen = anchor.kind.is_known() && anchor.corrosion.is_known() && anchor.tightness.is_known();
        if matches!(anchor.placement(), Placement::At(_)) {
            singles.push((groups.len(), anchor));
        }
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

/// Whether two anchors at stations of their own differ in nothing else.
fn are_alike(one: &Anchor, other: &Anchor) -> bool {
    let elsewhere = Anchor {
        at: one.at,
        ..other.clone()
    };
    one.at.is_some() && other.at.is_some() && *one == elsewhere
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
