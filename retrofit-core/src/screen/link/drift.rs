//! Drift of the cripple wall in the design earthquake.

use super::{At, Ledger, State};
use crate::screen::asce7::{Asce7Error, Finishes};
use crate::screen::line::{Part, Rating};
use crate::screen::quantity::Distance;
use crate::screen::sdpws::{Boundary, ShearWallError, Wall};
use crate::screen::unit::{PSI, Unit};

pub(super) fn link<G: Ledger>(at: &At<'_, G>) -> State<G::Number> {
    let cripple = match &at.line.cripple {
        Part::There(cripple) => cripple,
        Part::Nothing => return State::NotApplicable("the floor lies on the sill"),
        Part::NotDetermined(why) => return State::NotDetermined(why.clone()),
    };
    let wood: Vec<_> = cripple
        .panels
        .iter()
        .filter(|panel| matches!(panel.rating.get(at.ledger, at.case), Rating::Panel(_)))
        .collect();
    let total = wood
        .iter()
        .map(|panel| panel.length.get(at.ledger, at.case) * panel.works.get(at.ledger, at.case))
        .reduce(|sum, length| sum + length);
    let Some(total) = total.filter(|total| total.value() > 0.0) else {
        return State::NotApplicable("no wood panel is counted whose stiffness is known");
    };
    let direction = at.demands.directions.get(at.line.placed.direction as usize);
    let Some(direction) = direction else {
        return State::NotApplicable("no direction");
    };
    let height = cripple.height.get(at.ledger, at.case);
    // Drift is judged under the forces of the standard without redundancy (12.3.4.1).
    let unit = at.shear.envelope / total;
    let ends = Boundary {
        elasticity: at
            .line
            .framing_elasticity
            .get(at.ledger, at.case)
            .count(PSI)
            .of(PSI),
        area: cripple.stud_thickness.get(at.ledger, at.case)
            * cripple.end_studs.get(at.ledger, at.case)
            * cripple.stud_depth.get(at.ledger, at.case),
        give: at.line.end_give.get(at.ledger, at.case),
    };
    let deflection = wood
        .iter()
        .map(|panel| {
            let row = panel.rating.get(at.ledger, at.case).row();
            let wall = Wall {
                height,
                length: panel.shortest.get(at.ledger, at.case),
                gravity: at.line.framing_gravity.get(at.ledger, at.case),
                blocked: true,
            };
            at.by
                .sdpws
                .deflection(unit, row.stiffness(at.ledger), &wall, &ends)
        })
        .reduce(|a, b| Ok::<Distance<_>, ShearWallError>(a?.max(b?)));
    let Some(deflection) = deflection else {
        return State::NotApplicable("no wood panel is counted whose stiffness is known");
    };
    let deflection = match deflection {
        Ok(deflection) => deflection,
        Err(error) => return State::NotDetermined(error.into()),
    };
    let asce7 = &at.by.asce7;
    let of = || -> Result<_, Asce7Error> {
        let drift = asce7.drift(direction.system.cd, at.demands.ie, deflection)?;
        Ok((
            drift,
            // Finishes of old houses were not made for drift.
            asce7.drift_limit(at.ledger, Finishes::Other, height)?,
        ))
    };
    match of() {
        Ok((drift, most)) => {
            State::Computed(at.computed(drift, most, Unit::Inch, "the drift that is allowed"))
        }
        Err(error) => State::NotDetermined(error.into()),
    }
}
