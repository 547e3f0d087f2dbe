//! Sill anchors by the edge of the concrete: a wedge breaks out of the face of the stem wall.
//!
//! Where the conditions of the building code are met, wood and bolt yield first, and the code lets this link be left
//! out; it is then shown as not applicable. Elsewhere it counts.

use super::{At, Computed, Ledger, State};
use crate::provisions::Standing;
use crate::screen::aci318::{AciError, Cracking, EdgeAnchor, Range, SillAnchorage};
use crate::screen::line::{GroupKind, Part};
use crate::screen::quantity::Force;
use crate::screen::standard::Equation;
use crate::screen::unit::Unit;

const CAPACITY: Equation = Equation {
    symbol: "C_edge",
    words: "what the edge of the concrete carries along the wall",
    unit: Unit::Pound,
    section: "17.7.2",
    standing: Standing::Memory,
};
const STRENGTH: Equation = Equation {
    symbol: "E_u",
    words: "shear of the wall line at strength level",
    unit: Unit::Pound,
    section: "2.3.6",
    standing: Standing::Memory,
};

pub(super) fn link<G: Ledger>(at: &At<'_, G>) -> State<G::Number> {
    let anchors = match &at.line.anchors {
        Part::There(anchors) => anchors,
        Part::Nothing => return State::NotApplicable("no anchor is on record"),
        Part::NotDetermined(why) => return State::NotDetermined(why.clone()),
    };
    let foundation = match &at.line.foundation {
        Part::There(foundation) => foundation,
        Part::Nothing => return State::NoCapacity("there is no foundation under the wall line"),
        Part::NotDetermined(why) => return State::NotDetermined(why.clone()),
    };
    let concrete = &at.by.concrete;
    let strength = foundation.strength.get(at.ledger, at.case);
    let sill_thickness = at.line.sill.thickness.get(at.ledger, at.case);
    let mut sum: Option<Force<G::Number>> = None;
    let (mut is_exempt, mut is_weak) = (true, false);
    for group in &anchors.groups {
        let GroupKind::Dowel(dowel) = &group.kind else {
            continue;
        };
        let (diameter, embedment, edge) = (
            dowel.diameter.get(at.ledger, at.case),
            dowel.embedment.get(at.ledger, at.case),
            dowel.edge_distance.get(at.ledger, at.case),
        );
        let of = || -> Result<_, AciError> {
            let unmet = concrete.keeps_wood_from_governing(&SillAnchorage {
                diameter,
                embedment,
                edge,
                end: at.line.end_distance.get(at.ledger, at.case),
                sill_thickness,
            })?;
            let breakout = concrete.breakout_along_edge(
                at.ledger,
                &EdgeAnchor {
                    diameter,
                    embedment,
                    concrete: strength,
                    edge,
                    sides: [None, None],
                    thickness: None,
                    cracking: if foundation.is_cracked {
                        Cracking::Cracked
                    } else {
                        Cracking::Uncracked
                    },
                    has_supplementary_reinforcement: false,
                    row: None,
                },
            )?;
            Ok((unmet, breakout))
        };
        let (unmet, breakout) = match of() {
            Ok(found) => found,
            Err(error) => return State::NotDetermined(error.into()),
        };
        is_exempt &= unmet.is_none();
        is_weak |= breakout.range == Range::BelowLeastStrength;
        let all = group.count.get(at.ledger, at.case) * group.works.get(at.ledger, at.case) * breakout.design;
        sum = Some(sum.map_or(all, |sum| sum + all));
    }
    let Some(sum) = sum else {
        return State::NotApplicable("no anchor is on record that bears on concrete");
    };
    if is_exempt {
        return State::NotApplicable(
            "diameter, embedment, edge and sill are such that the code lets wood and bolt govern (IBC 1905.1.8)",
        );
    }
    let capacity = sum.by_for(&CAPACITY, &concrete.edition, || at.subject());
    let demand =
        (at.strength_factor() * at.shear.factored).by_for(&STRENGTH, &at.by.asce7.edition, || at.subject());
    State::Computed(Computed {
        may_hold_more: anchors.may_hold_more,
        ..at.computed(
            demand,
            capacity,
            Unit::Pound,
            if is_weak {
                "the edge of concrete weaker than the code knows: an estimate outside it"
            } else {
                "the edge of the concrete"
            },
        )
    })
}
