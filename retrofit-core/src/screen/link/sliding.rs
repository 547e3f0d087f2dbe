//! Sliding of the foundation as a whole: friction under all of it, and the soil that the walls across the shaking push.

use super::foundation::Size;
use super::{At, Ledger, State};
use crate::provisions::Standing;
use crate::screen::asce7::Combination;
use crate::screen::line::Part;
use crate::screen::plan::Direction;
use crate::screen::quantity::Force;
use crate::screen::standard::Equation;
use crate::screen::unit::Unit;

const fn statics(symbol: &'static str, words: &'static str) -> Equation {
    Equation {
        symbol,
        words,
        unit: Unit::Pound,
        section: "statics",
        standing: Standing::Verified,
    }
}

const DEMAND: Equation = statics("E", "shear of all wall lines of the direction");
const WEIGHT: Equation = statics("D", "weight of house and foundation on the soil");
const PASSIVE: Equation = statics("P", "soil in front of the walls across the shaking");
const CAPACITY: Equation = statics("C_sliding", "what holds the foundation from sliding");

/// The link in a direction. `at` is at any wall line.
pub(in crate::screen) fn sliding<G: Ledger>(at: &At<'_, G>, direction: Direction) -> State<G::Number> {
    let Ok(least) = at.allowable_factors(Combination::Uplift) else {
        return State::NotDetermined("the load combinations take a positive S_DS".into());
    };
    if !at.ground.is_in_one_piece {
        return State::NotDetermined(
            "it is not on record that the foundation runs around the house in one piece".into(),
        );
    }
    let soil = &at.by.soil;
    let mut weight = at.demands.weights.total;
    let mut demand: Option<Force<G::Number>> = None;
    let mut passive: Option<Force<G::Number>> = None;
    for (line, shear) in at.lines.iter().zip(&at.demands.lines) {
        let foundation = match &line.foundation {
            Part::There(foundation) => foundation,
            Part::Nothing => return State::NotDetermined("a wall line has no foundation".into()),
            Part::NotDetermined(why) => return State::NotDetermined(why.clone()),
        };
        let here = At { line, shear, ..*at };
        let length = line.length.get(at.ledger, at.case);
        weight = weight + Size::of(&here, foundation).weight * length;
        if line.placed.direction == direction {
            demand = Some(demand.map_or(shear.factored, |sum| sum + shear.factored));
        } else {
            let lateral = at.ground.lateral_bearing.get(at.ledger, at.case);
            match soil.passive(lateral, line.embedment.get(at.ledger, at.case), length) {
                Ok(force) => passive = Some(passive.map_or(force, |sum| sum + force)),
                Err(error) => return State::NotDetermined(error.into()),
            }
        }
    }
    let subject = || direction.words().to_owned();
    let Some(demand) = demand else {
        return State::NotDetermined("no wall line runs in the direction".into());
    };
    let demand = demand.by_for(&DEMAND, at.statics(), subject);
    let held = (least.dead * weight).by_for(&WEIGHT, at.statics(), subject);
    let friction = match &at.ground.friction {
        Some(friction) => soil.friction(friction.get(at.ledger, at.case), held).ok(),
        // Clay holds by cohesion, at most by a share of the weight: the area of contact is left out, which is that share.
        None => None,
    };
    let Some(friction) = friction else {
        return State::NotDetermined(
            "clay holds by cohesion over the area of contact, which is not on record".into(),
        );
    };
    let capacity = match passive {
        // Of two faces of the house only the one that is pushed outward has soil in front of it.
        Some(passive) => friction + (passive / 2.0).by_for(&PASSIVE, at.statics(), subject),
        None => friction,
    };
    let capacity = capacity.by_for(&CAPACITY, at.statics(), subject);
    State::Computed(at.computed(
        at.allowable(demand),
        capacity,
        Unit::Pound,
        "friction of the soil and the soil in front of the walls across",
    ))
}
