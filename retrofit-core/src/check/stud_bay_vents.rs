//! Whether stud bays closed by panels are ventilated.

use super::bracing::{self, Bracing, NO_CRIPPLE_WALL};
use super::context::Line;
use super::credit::{Credit, CreditWords};
use super::finding::{Findings, Found, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::house::{Panel, Span};
use crate::measure::Length;
use crate::observation::Truth;
use crate::provisions::{FigureName, Rule, keys};

pub(super) static CHECK: Check = Check {
    name: "stud-bay-vents",
    group: Group::Ventilation,
    title: "Ventilated stud bays",
    explanation: Explanation {
        looks_at: "The ventilation holes in panels that close the stud bays, with another covering on the other face.",
        why: "A closed bay stays damp; studs, sill and the panel itself rot where nobody looks, and large holes weaken the panel.",
        satisfied_by: "Round holes of the size the provisions name at the top and bottom of each closed bay.",
        fix: "Drill the holes, or open the bays.",
    },
    figures: &[FigureName::MinVentHole, FigureName::MaxVentHole],
    reads: &[
        LookAt::CrippleWall,
        LookAt::Panels,
        LookAt::ClosedBays,
        LookAt::VentHoles,
    ],
    run: Run::Line(check),
};

/// Whether a panel closes no bays, or has holes of the right size in them.
pub(super) fn is_ventilated(panel: &Panel, line: &Line<'_>) -> Truth {
    let large_enough = match line.rule(keys::MIN_VENT_HOLE) {
        Rule::Given { value, .. } => panel.vent_holes.at_least(value),
        Rule::Missing(_) => Truth::Maybe,
        Rule::Silent(_) | Rule::NotRegulated => Truth::True,
    };
    let small_enough = match line.rule(keys::MAX_VENT_HOLE) {
        Rule::Given { value, .. } => panel.vent_holes.at_most(value),
        Rule::Missing(_) => Truth::Maybe,
        Rule::Silent(_) | Rule::NotRegulated => Truth::True,
    };
    let closes = panel.closes_stud_bays.satisfies(|closes| closes);
    (!closes).or(large_enough.and(small_enough))
}

/// A panel that counts as bracing and is ventilated.
fn counts(panel: &Panel, line: &Line<'_>) -> Truth {
    bracing::counts(panel, line).and(is_ventilated(panel, line))
}

fn check(line: &Line<'_>, findings: &mut Findings) {
    let (least, most) = (line.rule(keys::MIN_VENT_HOLE), line.rule(keys::MAX_VENT_HOLE));
    let required = match (least.value(), most.value()) {
        (Some(least), Some(most)) => Quantity::LengthRange(least, most),
        (None, None) => Quantity::None,
        (least, most) => Quantity::LengthBetween(least, most),
    };
    let judgment = match (least, most) {
        (Rule::Given { .. }, _) | (_, Rule::Given { .. }) => judge(line),
        (Rule::Missing(_), _) => Judgment::by(least, |_| judge(line)),
        _ => Judgment::by(most, |_| judge(line)),
    };
    findings.add(
        judgment
            .required(required)
            .applicable_if(line.has_cripple_wall(), NO_CRIPPLE_WALL, LookAt::CrippleWall)
            .figure_of(least)
            .figure_of(most)
            .or_about(LookAt::VentHoles),
    );
}

fn judge(line: &Line<'_>) -> Judgment {
    let panels = line.wall.panels.listed();
    let closes = match panels {
        // The list was not recorded, or is empty: the credit below says which.
        [] => Truth::True,
        _ => panels.iter().fold(Truth::False, |truth, panel| {
            truth.or(panel.closes_stud_bays.satisfies(|closes| closes))
        }),
    };
    let is_all_ventilated = panels
        .iter()
        .all(|panel| is_ventilated(panel, line) == Truth::True);
    Credit {
        list: &line.wall.panels,
        // A panel beyond those that brace the wall is surplus; without this an added panel, bare of holes,
        // would make a wall line worse. Worked out only where some panel may lack its holes.
        enough: if is_all_ventilated {
            Truth::True
        } else {
            Bracing::of(line, counts).enough
        },
        amount_is_asked: true,
        look_at_list: LookAt::Panels,
        words: CreditWords {
            not_recorded: "The braced panels of this wall line were not recorded.",
            none: "There are no braced panels that could close stud bays.",
            all: "Stud bays closed by panels are ventilated as asked for.",
            surplus: "Enough ventilated panels brace this wall; a panel beyond them closes stud bays without the holes asked for.",
            no_amount: "",
            failing: "Panels close stud bays without the ventilation holes asked for.",
            open: "Whether stud bays are closed, and ventilated if they are, depends on something that was not seen.",
        },
    }
    .judge(
        LookAt::VentHoles,
        |panel| is_ventilated(panel, line),
        &|panel: &Panel| match panel.vent_holes.value() {
            Some(&Length::ZERO) => Found::of(&panel.vent_holes, |_| Quantity::Word("no holes")),
            _ => Found::of_length(&panel.vent_holes),
        },
        |panel| panel.stations().map(|(from, to)| Span::new(from, to)),
    )
    .applicable_if(closes, "No panel here closes stud bays.", LookAt::ClosedBays)
}

#[cfg(test)]
mod tests {
    use crate::check::Ruling::{self, Met, NotApplicable, NotDetermined, NotMet};
    use crate::check::sample::{changed, findings, good_panel, ruling_after, shipped};
    use crate::measure::Length;
    use crate::observation::Observed;
    use rstest::rstest;

    #[rstest]
    #[case(
        "cebc-a3-2013",
        r#"panel.vent_holes = "1 63/64 in"; panel.closes_stud_bays = true"#,
        NotMet
    )]
    #[case(
        "cebc-a3-2013",
        r#"panel.vent_holes = "2 in"; panel.closes_stud_bays = true"#,
        Met
    )]
    #[case(
        "cebc-a3-2013",
        r#"panel.vent_holes = "3 in"; panel.closes_stud_bays = true"#,
        Met
    )]
    #[case(
        "cebc-a3-2013",
        r#"panel.vent_holes = "3 1/64 in"; panel.closes_stud_bays = true"#,
        NotMet
    )]
    #[case(
        "cebc-a3-2013",
        r#"panel.vent_holes = "0 in"; panel.closes_stud_bays = true"#,
        NotMet
    )]
    #[case(
        "cebc-a3-2013",
        "panel.vent_holes = ?; panel.closes_stud_bays = true",
        NotDetermined
    )]
    #[case(
        "cebc-a3-2013",
        r#"panel.vent_holes = "0 in"; panel.closes_stud_bays = ?"#,
        NotDetermined
    )]
    #[case(
        "cebc-a3-2013",
        r#"panel.vent_holes = "0 in"; panel.closes_stud_bays = false"#,
        NotApplicable
    )]
    #[case("cebc-a3-2013", "wall.panels = ?", NotDetermined)]
    #[case("cebc-a3-2013", "wall.panels = []", NotApplicable)]
    #[case("cebc-a3-2013", "wall.cripple_wall = []", NotApplicable)]
    #[case(
        "la-division-92-2018",
        r#"panel.vent_holes = "2 in"; panel.closes_stud_bays = true"#,
        NotDetermined
    )]
    #[case(
        "crc-2013-new-construction",
        r#"panel.vent_holes = "0 in"; panel.closes_stud_bays = true"#,
        NotApplicable
    )]
    fn holes_in_closed_bays_are_of_the_right_size(
        #[case] set: &str,
        #[case] changes: &str,
        #[case] expected: Ruling,
    ) {
        assert_eq!(ruling_after(changes, &shipped(set), "stud-bay-vents"), expected);
    }

    #[test]
    fn a_surplus_panel_without_holes_does_not_make_the_wall_worse() {
        let mut house = changed("");
        let mut surplus = good_panel((15, 17));
        surplus.vent_holes = Observed::seen(Length::ZERO);
        let Observed::Known { value: panels, .. } = &mut house.wall_lines[0].panels else {
            panic!("the good house has panels");
        };
        panels.push(surplus);
        let found = findings(house, "cebc-a3-2013", "stud-bay-vents");
        assert_eq!(found[0].outcomes.ruling(), Met);
        assert!(found[0].fact.contains("beyond"), "{}", found[0].fact);
    }
}
