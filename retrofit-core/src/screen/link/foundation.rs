//! The foundation of a wall line: bending of the stem wall where a panel pulls it up, rocking, bearing.

use super::panel_ends::{EndForces, weight_on_foot};
use super::{At, Computed, Ledger, State, statics};
use crate::screen::aci318::PlainSection;
use crate::screen::asce7::Combination;
use crate::screen::line::{Foundation, Part};
use crate::screen::number::Number;
use crate::screen::quantity::{Distance, LineLoad};
use crate::screen::standard::Equation;
use crate::screen::unit::Unit;

const CONCRETE_WEIGHT: Equation = statics(
    "w_f",
    "weight of stem wall and footing on a foot of wall line",
    Unit::PoundPerFoot,
);
const UPLIFT: Equation = statics("T_u", "uplift at the panel's end, at strength level", Unit::Pound);
const HELD: Equation = statics(
    "T_n",
    "uplift that the foundation holds while it bends: the length it lifts weighs as much as the uplift",
    Unit::Pound,
);
const ROCKING: Equation = statics(
    "M_o",
    "moment that rocks the whole line on its footing",
    Unit::PoundFoot,
);
const HOLDING: Equation = statics(
    "M_r",
    "moment of the weight of wall and foundation",
    Unit::PoundFoot,
);
const SPREAD: Equation = statics(
    "l_b",
    "length of footing under the panel end, spread at 45 degrees",
    Unit::Inch,
);
const PRESSURE: Equation = statics(
    "q",
    "pressure of the footing on the soil",
    Unit::PoundPerSquareFoot,
);

pub(super) struct Links<N: Number> {
    pub(super) stem_wall: State<N>,
    pub(super) rocking: State<N>,
    pub(super) bearing: State<N>,
}

pub(super) fn foundation<G: Ledger>(at: &At<'_, G>, ends: Option<EndForces<G::Number>>) -> Links<G::Number> {
    let foundation = match &at.line.foundation {
        Part::There(foundation) => foundation,
        Part::Nothing => return all(&State::NoCapacity("there is no foundation under the wall line")),
        Part::NotDetermined(why) => return all(&State::NotDetermined(why.clone())),
    };
    let size = Size::of(at, foundation);
    Links {
        stem_wall: stem_wall(at, foundation, &size, ends),
        rocking: rocking(at, &size),
        bearing: bearing(at, &size, ends),
    }
}

fn all<N: Number>(state: &State<N>) -> Links<N> {
    Links {
        stem_wall: state.clone(),
        rocking: state.clone(),
        bearing: state.clone(),
    }
}

pub(super) struct Size<N: Number> {
    stem_thickness: Distance<N>,
    stem_height: Distance<N>,
    footing_width: Distance<N>,
    footing_thickness: Distance<N>,
    pub(super) weight: LineLoad<N>,
}

impl<N: Number> Size<N> {
    pub(super) fn of<G: Ledger<Number = N>>(at: &At<'_, G>, foundation: &Foundation) -> Self {
        let get =
            |input: &crate::screen::input::Input<typenum::Z0, typenum::P1>| input.get(at.ledger, at.case);
        let (stem_thickness, stem_height) = (get(&foundation.stem_thickness), get(&foundation.stem_height));
        let (footing_width, footing_thickness) =
            (get(&foundation.footing_width), get(&foundation.footing_thickness));
        let concrete = at.ground.concrete.get(at.ledger, at.case);
        let weight = (concrete * (stem_thickness * stem_height + footing_width * footing_thickness)).by_for(
            &CONCRETE_WEIGHT,
            at.statics(),
            || at.subject(),
        );
        Self {
            stem_thickness,
            stem_height,
            footing_width,
            footing_thickness,
            weight,
        }
    }
}

/// The uplift at a panel's end takes up the foundation beside it; until the foundation rises, it bends like a beam
/// held at one end.
fn stem_wall<G: Ledger>(
    at: &At<'_, G>,
    foundation: &Foundation,
    size: &Size<G::Number>,
    ends: Option<EndForces<G::Number>>,
) -> State<G::Number> {
    let Some(ends) = ends else {
        return State::NotApplicable("no panel is counted that could pull the foundation up");
    };
    if ends.uplift.value() <= 0.0 {
        return State::NotApplicable(
            "weight holds the panel ends down, so that nothing pulls the foundation up",
        );
    }
    let uplift = (at.strength_factor() * ends.uplift).by_for(&UPLIFT, at.statics(), || at.subject());
    // Only the stem is taken; where footing and stem act as one, they carry more.
    let strength = foundation.strength.get(at.ledger, at.case);
    let capacity = at.by.concrete.plain_bending(
        at.ledger,
        &PlainSection {
            width: size.stem_thickness,
            depth: size.stem_height,
            cast_against_soil: false,
            concrete: strength,
        },
    );
    match capacity {
        Ok(capacity) => {
            // Of the length a = T / w that is lifted, the moment is T a / 2 = T² / (2 w).
            let held = (2.0 * size.weight * capacity.design)
                .sqrt()
                .by_for(&HELD, at.statics(), || at.subject());
            State::Computed(Computed {
                // Bars that are there, or may be, hold more than plain concrete does.
                may_hold_more: foundation.may_have_bars,
                ..at.computed(uplift, held, Unit::Pound, "plain concrete in bending")
            })
        }
        Err(error) => State::NotDetermined(error.into()),
    }
}

fn rocking<G: Ledger>(at: &At<'_, G>, size: &Size<G::Number>) -> State<G::Number> {
    let Ok(least) = at
        .by
        .asce7
        .coefficients(at.method, Combination::Uplift, at.demands.sds)
    else {
        return State::NotDetermined("the load combinations take a positive S_DS".into());
    };
    let length = at.line.length.get(at.ledger, at.case);
    let below = size.stem_height + size.footing_thickness;
    let arm = match &at.line.cripple {
        Part::There(cripple) => cripple.height.get(at.ledger, at.case) + below,
        _ => below,
    };
    let overturning = (at.shear.factored * arm).by_for(&ROCKING, at.statics(), || at.subject());
    let weight = least.dead * (weight_on_foot(at) + size.weight);
    let holding = (weight * length * length / 2.0).by_for(&HOLDING, at.statics(), || at.subject());
    State::Computed(at.computed(
        overturning,
        holding,
        Unit::PoundFoot,
        "the weight of wall and foundation",
    ))
}

fn bearing<G: Ledger>(
    at: &At<'_, G>,
    size: &Size<G::Number>,
    ends: Option<EndForces<G::Number>>,
) -> State<G::Number> {
    let Some(ends) = ends else {
        return State::NotApplicable("no panel is counted that could press on the soil with its end");
    };
    let below = size.stem_height + size.footing_thickness;
    let spread = (2.0 * below).by_for(&SPREAD, at.statics(), || at.subject());
    let pressure = (ends.on_soil / (size.footing_width * spread) + size.weight / size.footing_width).by_for(
        &PRESSURE,
        at.statics(),
        || at.subject(),
    );
    // The third more for loads of short duration goes with the alternative combinations (1806.1), which are not used.
    let allowed = at.line.bearing.get(at.ledger, at.case);
    State::Computed(at.computed(
        pressure,
        allowed,
        Unit::PoundPerSquareFoot,
        "the presumptive pressure of the soil",
    ))
}
