//! How the floor is fastened to the wall or sill below.

use typenum::{P1, Z0};

use super::{Around, Number, Part, nail};
use crate::house::{Connection, ConnectionKind, Nail, Rim, WallLine};
use crate::observation::Basis;
use crate::screen::input::{InPoundsAndInches, Input, Pick, UnknownKind, What};
use crate::screen::plan::PlacedLine;
use crate::screen::unit::{COUNT, POUND};

/// A way of fastening the floor, along a stretch.
#[derive(Clone, Debug)]
pub(in crate::screen) struct Fastening {
    pub(in crate::screen) count: Number,
    pub(in crate::screen) kind: FasteningKind,
}

/// How a fastening is computed.
#[derive(Clone, Debug)]
pub(in crate::screen) enum FasteningKind {
    /// Toenails.
    Toenail(Pick<Nail>),
    /// Nails through a block's face into the plate.
    FaceNail(Pick<Nail>),
    /// By what its maker declares.
    Declared(Input<P1, Z0>),
}
pub(super) fn connection(
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
    // Where nobody saw what closes the joist ends, nothing may; no fastener is then loaded before they roll over.
    let low = if wall.rim.value().is_some() { low } else { 0.0 };
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
