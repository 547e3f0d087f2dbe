//! Sill anchors along the sill, by the yielding of bolt and wood, or by what a maker declares.

use super::{At, Computed, Ledger, State};
use crate::provisions::Standing;
use crate::screen::line::{Dowel, GroupKind, Part};
use crate::screen::nds::{Concrete, Duration, NdsError, Place, SillAnchor};
use crate::screen::quantity::{Force, Ratio};
use crate::screen::standard::Equation;
use crate::screen::unit::Unit;

const CAPACITY: Equation = Equation {
    symbol: "C_anchors",
    words: "what the anchors carry along the sill",
    unit: Unit::Pound,
    section: "11.3, 12.3",
    standing: Standing::Memory,
};

pub(super) fn link<G: Ledger>(at: &At<'_, G>) -> State<G::Number> {
    let anchors = match &at.line.anchors {
        Part::There(anchors) => anchors,
        Part::Nothing => return State::NoCapacity("no anchor holds the sill: only its weight does"),
        Part::NotDetermined(why) => return State::NotDetermined(why.clone()),
    };
    match &at.line.foundation {
        Part::There(foundation) => {
            let has_dowels = anchors
                .groups
                .iter()
                .any(|group| matches!(group.kind, GroupKind::Dowel(_)));
            if has_dowels && !foundation.is_seen {
                return State::NotDetermined(
                    "old bolts are rated in sound concrete, and whether it is sound is not on record".into(),
                );
            }
        }
        Part::Nothing => return State::NoCapacity("there is no foundation under the wall line"),
        Part::NotDetermined(why) => return State::NotDetermined(why.clone()),
    }
    let nds = &at.by.nds;
    let sill = &at.line.sill;
    let mut sum: Option<Force<_>> = None;
    let mut governs = "";
    for group in &anchors.groups {
        let each = match &group.kind {
            GroupKind::Declared(declared) => {
                governs = "what the maker declares";
                declared.get(at.ledger, at.case)
            }
            GroupKind::Dowel(dowel) => {
                let anchor = SillAnchor {
                    diameter: dowel.diameter.get(at.ledger, at.case),
                    sill_thickness: sill.thickness.get(at.ledger, at.case),
                    embedment: dowel.embedment.get(at.ledger, at.case),
                    specific_gravity: sill.gravity.get(at.ledger, at.case),
                    concrete: Concrete::JudgedSound,
                    angle_degrees: 0.0,
                };
                let lateral = match nds.sill_anchor(at.ledger, &anchor) {
                    Ok(lateral) => lateral,
                    Err(error) => return State::NotDetermined(error.into()),
                };
                governs = lateral.mode.words();
                let z = nds.adjusted(at.ledger, lateral.z, at.method, Duration::Earthquake);
                match end_factor(at, dowel) {
                    Ok(None) => z,
                    Ok(Some(factor)) => factor * z,
                    // An anchor nearer to the end of its piece than the least distance has no value.
                    Err(NdsError::TooClose { .. }) => continue,
                    Err(error) => return State::NotDetermined(error.into()),
                }
            }
        };
        let all = group.count.get(at.ledger, at.case) * group.works.get(at.ledger, at.case) * each;
        sum = Some(sum.map_or(all, |sum| sum + all));
    }
    let Some(sum) = sum else {
        return if anchors.may_hold_more {
            State::NotDetermined("no anchor was seen that can be computed, and some may be there".into())
        } else {
            State::NoCapacity("no anchor holds the sill: only its weight does")
        };
    };
    let capacity =
        (sum * sill.works.get(at.ledger, at.case)).by_for(&CAPACITY, &nds.edition, || at.subject());
    State::Computed(Computed {
        may_hold_more: anchors.may_hold_more,
        ..at.computed(at.shear.factored, capacity, Unit::Pound, governs)
    })
}

/// The factor for an anchor near the end of its piece of sill, which is pushed both ways; nothing where the distance was
/// not taken.
///
/// The factor for a row of fasteners is not taken: it is for a piece that is pulled at its end, and a sill is fed with
/// shear all along.
fn end_factor<G: Ledger>(at: &At<'_, G>, dowel: &Dowel) -> Result<Option<Ratio<G::Number>>, NdsError> {
    let Some(distance) = &dowel.sill_end else {
        return Ok(None);
    };
    let factor = at.by.nds.geometry(
        at.ledger,
        Place::End { angle_degrees: 0.0 },
        distance.get(at.ledger, at.case),
        dowel.diameter.get(at.ledger, at.case),
    )?;
    Ok(Some(factor))
}
