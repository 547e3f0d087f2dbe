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

#[cfg(test)]
mod tests {
    use crate::check::Ruling::{self, Met, NotApplicable, NotDetermined, Outside};
    use crate::check::sample::{amended, ruling_after, shipped};
    use rstest::rstest;

    #[rstest]
    #[case("building.rooms_over_garage = false", Met)]
    #[case("building.rooms_over_garage = true", Outside)]
    #[case("building.rooms_over_garage = ?", NotDetermined)]
    fn rooms_over_a_garage_are_outside_where_a_set_says_so(#[case] changes: &str, #[case] expected: Ruling) {
        let provisions = amended(&[("no-rooms-over-garage", "", "yes")]);
        assert_eq!(ruling_after(changes, &provisions, "rooms-over-garage"), expected);
    }

    #[rstest]
    #[case("cebc-a3-2013", "building.rooms_over_garage = true", NotApplicable)]
    #[case("la-division-92-2018", "building.rooms_over_garage = true", NotApplicable)]
    fn no_shipped_set_speaks_of_them(#[case] set: &str, #[case] changes: &str, #[case] expected: Ruling) {
        assert_eq!(
            ruling_after(changes, &shipped(set), "rooms-over-garage"),
            expected
        );
    }
}
