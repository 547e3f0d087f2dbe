//! Shear from the floor into the top of the cripple wall, or into the sill where there is no cripple wall.

use super::{At, Ledger, State};
use crate::house::{Nail, Rim};
use crate::provisions::Standing;
use crate::screen::line::{FasteningKind, Part};
use crate::screen::nds::{Duration, NailedJoint, NdsError, Side};
use crate::screen::quantity::Force;
use crate::screen::standard::Equation;
use crate::screen::unit::Unit;

const CAPACITY: Equation = Equation {
    symbol: "C_floor",
    words: "what the fasteners between floor and wall carry along the wall",
    unit: Unit::Pound,
    section: "11.3",
    standing: Standing::Memory,
};

pub(super) fn link<G: Ledger>(at: &At<'_, G>) -> State<G::Number> {
    if at.line.rim == Some(Rim::None) {
        return State::NoCapacity(
            "nothing closes the ends of the joists, so that they roll over before any fastener is loaded",
        );
    }
    let fastenings = match &at.line.connection {
        Part::There(fastenings) => fastenings,
        Part::Nothing => {
            return State::NoCapacity("nothing fastens the floor to what is below it but weight");
        }
        Part::NotDetermined(why) => return State::NotDetermined(why.clone()),
    };
    // Clips over old toenails slip less than the toenails do: what is of one kind adds up, and the stronger kind counts.
    let (mut nails, mut declared): (Option<Force<_>>, Option<Force<_>>) = (None, None);
    for fastening in fastenings {
        let count = fastening.count.get(at.ledger, at.case);
        let sum = match &fastening.kind {
            FasteningKind::Toenail(pick) | FasteningKind::FaceNail(pick) => {
                let is_toenail = matches!(fastening.kind, FasteningKind::Toenail(_));
                match nail(at, pick.get(at.ledger, at.case), is_toenail) {
                    Ok(each) => {
                        let all = count * each;
                        nails = Some(nails.map_or(all, |sum| sum + all));
                        continue;
                    }
                    Err(error) => return State::NotDetermined(error.into()),
                }
            }
            FasteningKind::Declared(capacity) => count * capacity.get(at.ledger, at.case),
        };
        declared = Some(declared.map_or(sum, |all| all + sum));
    }
    let (capacity, governs) = match (nails, declared) {
        (Some(nails), Some(declared)) => (
            nails.max(declared),
            "framing clips or nails, whichever is stronger",
        ),
        (Some(nails), None) => (nails, "nails"),
        (None, Some(declared)) => (declared, "framing clips"),
        (None, None) => return State::NotDetermined("no fastener is on record".into()),
    };
    let capacity = capacity.by_for(&CAPACITY, &at.by.nds.edition, || at.subject());
    State::Computed(at.computed(at.shear.factored, capacity, Unit::Pound, governs))
}

/// What one nail through a 2x carries.
fn nail<G: Ledger>(at: &At<'_, G>, nail: Nail, is_toenail: bool) -> Result<Force<G::Number>, NdsError> {
    let nds = &at.by.nds;
    let gravity = at.line.framing_gravity.get(at.ledger, at.case);
    let joint = NailedJoint {
        nail: nds.nail_size(nail)?,
        side_thickness: at.line.framing_thickness.get(at.ledger, at.case),
        side: Side::Wood(gravity),
        main_thickness: None,
        main_gravity: gravity,
    };
    let lateral = if is_toenail {
        nds.toe_nail(at.ledger, &joint)?
    } else {
        nds.nail(at.ledger, &joint)?
    };
    Ok(nds.adjusted(at.ledger, lateral.z, at.method, Duration::Earthquake))
}

/// What one nail through a splice of the top plate carries.
pub(super) fn splice_nail<G: Ledger>(at: &At<'_, G>) -> Result<Force<G::Number>, NdsError> {
    nail(at, at.line.splice_nail.get(at.ledger, at.case), false)
}
