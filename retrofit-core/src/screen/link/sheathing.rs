//! Shear of the braced panels, and of an outside covering where it can be relied on.

use super::{At, Computed, Ledger, State};
use crate::provisions::Standing;
use crate::screen::line::{BracedPanel, Cripple, Part, Rating};
use crate::screen::quantity::Force;
use crate::screen::sdpws::{ShearWallError, UnitShear, Wall};
use crate::screen::standard::Equation;
use crate::screen::unit::Unit;

const PANEL: Equation = Equation {
    symbol: "C_panel",
    words: "what a panel carries",
    unit: Unit::Pound,
    section: "4.3.3",
    standing: Standing::Secondary,
};
const ALL: Equation = Equation {
    symbol: "C_wall",
    words: "what the panels of the wall line carry",
    unit: Unit::Pound,
    section: "4.3.3",
    standing: Standing::Secondary,
};

pub(super) fn link<G: Ledger>(at: &At<'_, G>) -> State<G::Number> {
    let cripple = match &at.line.cripple {
        Part::There(cripple) => cripple,
        Part::Nothing => return State::NotApplicable("the floor lies on the sill"),
        Part::NotDetermined(why) => return State::NotDetermined(why.clone()),
    };
    let (mut panels, mut others): (Option<Force<_>>, Option<Force<_>>) = (None, None);
    for panel in &cripple.panels {
        let rating = panel.rating.get(at.ledger, at.case);
        let strength = match panel_strength(at, cripple, panel, rating) {
            Ok(strength) => strength,
            // A panel too slender to count carries nothing; the others still do.
            Err(ShearWallError::TooSlender { .. }) => continue,
            Err(error) => return State::NotDetermined(error.into()),
        };
        let sum = match rating {
            Rating::Panel(_) => &mut panels,
            Rating::Covering(_) => &mut others,
        };
        *sum = Some(sum.map_or(strength, |sum| sum + strength));
    }
    if let Some((covering, relied)) = &cripple.covering {
        let relied = relied.get(at.ledger, at.case);
        let wall = whole_wall(at, cripple);
        let strength = unit_strength(at, covering, &wall).map(|unit| relied * (unit * wall.length));
        if let Ok(strength) = strength {
            others = Some(others.map_or(strength, |sum| sum + strength));
        }
    }
    let governs = match (panels.is_some(), others.is_some()) {
        (true, true) => "wood panels or the other covering, whichever is stronger",
        (true, false) => "wood panels",
        (false, true) => "the outside covering",
        (false, false) => {
            return match cripple.unrated.first() {
                Some(why) => State::NotDetermined(why.clone()),
                None if cripple.may_hold_more => State::NotDetermined(
                    "no braced panel was seen, and part of the wall could not be seen".into(),
                ),
                None => {
                    State::NoCapacity("no braced panel counts: nothing keeps the cripple wall from folding")
                }
            };
        }
    };
    let Some(capacity) = at.by.sdpws.unlike_in_line([panels, others].into_iter().flatten()) else {
        return State::NotDetermined("no braced panel is on record".into());
    };
    let capacity = capacity.by_for(&ALL, &at.by.sdpws.edition, || at.subject());
    State::Computed(Computed {
        may_hold_more: cripple.may_hold_more || !cripple.unrated.is_empty(),
        ..at.computed(at.shear.factored, capacity, Unit::Pound, governs)
    })
}

/// The wall line as one wall, for a covering that runs along all of it.
fn whole_wall<G: Ledger>(at: &At<'_, G>, cripple: &Cripple) -> Wall<G::Number> {
    Wall {
        height: cripple.height.get(at.ledger, at.case),
        length: at.line.length.get(at.ledger, at.case),
        gravity: at.line.framing_gravity.get(at.ledger, at.case),
        blocked: true,
    }
}

/// What a panel carries along the wall.
fn panel_strength<G: Ledger>(
    at: &At<'_, G>,
    cripple: &Cripple,
    panel: &BracedPanel,
    rating: Rating<'_>,
) -> Result<Force<G::Number>, ShearWallError> {
    let row = rating.row();
    let wall = Wall {
        length: panel.shortest.get(at.ledger, at.case),
        ..whole_wall(at, cripple)
    };
    let strength = unit_strength(at, row, &wall)?
        * panel.length.get(at.ledger, at.case)
        * panel.works.get(at.ledger, at.case);
    Ok(strength.by_for(&PANEL, &at.by.sdpws.edition, || at.subject()))
}

fn unit_strength<G: Ledger>(
    at: &At<'_, G>,
    row: &UnitShear,
    wall: &Wall<G::Number>,
) -> Result<crate::screen::quantity::LineLoad<G::Number>, ShearWallError> {
    let nominal = at.by.sdpws.nominal(at.ledger, row, wall)?;
    at.by.sdpws.design(at.ledger, nominal, at.method)
}
