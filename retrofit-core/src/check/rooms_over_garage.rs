//! Whether rooms stand over a garage or another open space at the ground.

use super::context::Whole;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "rooms-over-garage",
    group: Group::Applicability,
    title: "Rooms over a garage",
    explanation: Explanation {
        looks_at: "Whether rooms stand over a garage or another open space at ground level.",
        why: "The wide door opening leaves next to no wall below the rooms; that story can fold sideways.",
        satisfied_by: "No rooms over a garage, where the provisions leave such houses out.",
        fix: "None by these provisions: an engineer or architect has to design the strengthening.",
    },
    figures: &[FigureName::NoRoomsOverGarage],
    reads: &[LookAt::RoomsOverGarage],
    limit_is_a_maximum: false,
    run: Run::House(check),
};

fn check(whole: &Whole<'_>, findings: &mut Findings) {
    let rooms = &whole.house.building.rooms_over_garage;
    let judgment = Judgment::by_limit(whole.rule(keys::NO_ROOMS_OVER_GARAGE), |_| {
        Judgment::inside_if(rooms.satisfies(|are_there| !are_there))
            .facts(
                "No rooms stand over a garage.",
                "Rooms stand over a garage; these provisions leave such houses out.",
                "Whether rooms stand over a garage is not known.",
            )
            .measured(match rooms.value() {
                Some(true) => Quantity::Word("rooms over a garage"),
                Some(false) => Quantity::Word("none"),
                None => Quantity::None,
            })
            .required(Quantity::Word("none"))
    });
    findings.add(
        judgment
            .about(LookAt::RoomsOverGarage, None)
            .basis(rooms.basis())
            .decided_by(LookAt::RoomsOverGarage),
    );
}
