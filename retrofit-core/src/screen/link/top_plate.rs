//! The top plate gathers shear along the wall line and carries it to the panels, across its own splices.

use super::floor_connection::splice_nail;
use super::{At, Ledger, State};
use crate::provisions::Standing;
use crate::screen::line::Part;
use crate::screen::standard::Equation;
use crate::screen::unit::Unit;

const FORCE: Equation = Equation {
    symbol: "T_plate",
    words: "pull or push in the top plate between what the floor brings and what the panels take",
    unit: Unit::Pound,
    section: "statics",
    standing: Standing::Verified,
};

pub(super) fn link<G: Ledger>(at: &At<'_, G>) -> State<G::Number> {
    let cripple = match &at.line.cripple {
        Part::There(cripple) => cripple,
        Part::Nothing => return State::NotApplicable("the floor lies on the sill"),
        Part::NotDetermined(why) => return State::NotDetermined(why.clone()),
    };
    if cripple.panels.is_empty() {
        return State::NotApplicable("no panel is counted that the plate could bring shear to");
    }
    let Some(gathered) = &cripple.gathered else {
        return State::NotDetermined("the places of the panels are not on record".into());
    };
    let each = match splice_nail(at) {
        Ok(each) => each,
        Err(error) => return State::NotDetermined(error.into()),
    };
    let length = at.line.length.get(at.ledger, at.case);
    let force =
        (at.shear.factored * gathered.get(at.ledger, at.case) / length)
            .by_for(&FORCE, at.statics(), || at.subject());
    let nails = cripple.splice_nails.get(at.ledger, at.case);
    let capacity = at.by.nds.plate_splice(each, nails);
    State::Computed(at.computed(force, capacity, Unit::Pound, "nails of a splice"))
}
