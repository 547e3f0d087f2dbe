//! Whether studs too short to be nailed properly are replaced by solid blocking, or sheathed.

use super::bracing::NO_CRIPPLE_WALL;
use super::context::{Line, least_upper_bound};
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use super::stretches::{Reading, Stretches, met_or_not};
use crate::house::{CrippleStretch, Panel, Parts, Sheathing, Span};
use crate::measure::Length;
use crate::observation::{Observed, Truth};
use crate::provisions::{FigureName, Rule, keys};

pub(super) static CHECK: Check = Check {
    name: "short-studs",
    group: Group::Framing,
    title: "Short studs",
    explanation: Explanation {
        looks_at: "Stretches of cripple wall with studs shorter than the height the provisions name.",
        why: "Very short studs cannot be nailed well at both ends; they split or roll over.",
        satisfied_by: "Solid blocking in place of the short studs, or wood structural panels over the whole stretch.",
        fix: "Fill the stretch with solid blocking, or sheathe all of it.",
    },
    figures: &[FigureName::ShortStudHeight, FigureName::ShortStudSheathing],
    reads: &[
        LookAt::CrippleWall,
        LookAt::CrippleHeight,
        LookAt::TallestStud,
        LookAt::ShortestStud,
        LookAt::SolidBlocked,
        LookAt::Panels,
        LookAt::Sheathing,
    ],
    run: Run::Line(check),
};

/// The shortest stud of a stretch, which is no taller than the tallest, nor than the wall.
fn shortest_stud(stretch: &CrippleStretch) -> Observed<Length> {
    if stretch.shortest_stud.is_known() {
        return stretch.shortest_stud.clone();
    }
    let above = [&stretch.shortest_stud, &stretch.tallest_stud, &stretch.height];
    let at_most = least_upper_bound(above.map(|above| above.bounds().1));
    let at_least = stretch.shortest_stud.bounds().0.copied();
    match above.into_iter().filter_map(Observed::basis).max() {
        Some(basis) if at_least.is_some() || at_most.is_some() => Observed::Between {
            at_least,
            at_most,
            basis,
        },
        _ => stretch.shortest_stud.clone(),
    }
}

/// Whether wood structural panels stand over a whole stretch.
fn is_sheathed(line: &Line<'_>, on: Span) -> Truth {
    let Some(panels) = line.wall.panels.value() else {
        return Truth::Maybe;
    };
    let Some(end) = on.to else {
        let may_be = |panel: &Panel| structural(panel).possible();
        let none = !panels.iter().any(may_be) && line.wall.unseen_of(Parts::Panels).next().is_none();
        return if none { Truth::False } else { Truth::Maybe };
    };
    let covers = |worst: bool| {
        let stands = panels
            .iter()
            .filter(move |panel| {
                let counts = structural(panel);
                if worst {
                    counts.certain()
                } else {
                    counts.possible()
                }
            })
            // A summary names no stations: at best its panels stand here.
            .filter_map(move |panel| match panel.stations() {
                Some((from, to)) => Some((from, to)),
                None => (!worst).then_some((on.from, end)),
            });
        let unseen = line
            .wall
            .unseen_of(Parts::Panels)
            .filter(move |_| !worst)
            .map(|unseen| unseen.span(line.length()))
            .map(|span| (span.from, span.to.unwrap_or(end)));
        let stands = stands.chain(unseen);
        let mut reached = on.from;
        while reached < end {
            let next = stands
                .clone()
                .filter(|(from, _)| *from <= reached)
                .map(|(_, to)| to)
                .max();
            match next {
                Some(next) if next > reached => reached = next,
                _ => return false,
            }
        }
        true
    };
    Truth::from_cases(covers(false), covers(true))
}

fn structural(panel: &Panel) -> Truth {
    panel.sheathing.satisfies(|sheathing| {
        matches!(
            sheathing,
            Sheathing::Plywood | Sheathing::ThreePly | Sheathing::Osb
        )
    })
}

fn check(line: &Line<'_>, findings: &mut Findings) {
    let may_be_sheathed = match line.rule(keys::SHORT_STUD_SHEATHING) {
        Rule::Given { .. } => Truth::True,
        Rule::Missing(_) => Truth::Maybe,
        Rule::Silent(_) | Rule::NotRegulated => Truth::False,
    };
    let judgment = Judgment::by(line.rule(keys::SHORT_STUD_HEIGHT), |height| {
        let judgment = Stretches::of_cripple_wall(line)
            .judge(line, met_or_not(), LookAt::SolidBlocked, |stretch| {
                let stud = shortest_stud(stretch);
                let answer = stud
                    .at_least(height)
                    .or(stretch.solid_blocked.satisfies(|blocked| blocked))
                    .or(may_be_sheathed.and(is_sheathed(line, stretch.span(line.length()))));
                Reading {
                    outcomes: Judgment::met_if(answer).outcomes(),
                    measured: Quantity::of_length(&stud),
                    basis: stud.basis(),
                }
            })
            .facts(
                "No stud is shorter than the height named, or the short ones are blocked or sheathed.",
                "Short studs here are neither replaced by solid blocking nor sheathed along the whole stretch.",
                "Whether studs are short, and blocked or sheathed if they are, depends on something that was not seen.",
            )
            .at_least(Quantity::Length(height));
        let is_open = |stretch: &CrippleStretch| shortest_stud(stretch).at_least(height) == Truth::Maybe;
        if line.cripple_wall().iter().any(is_open) {
            judgment.decided_by(LookAt::ShortestStud)
        } else {
            judgment
        }
    });
    findings.add(
        judgment
            .applicable_if(line.has_cripple_wall(), NO_CRIPPLE_WALL, LookAt::CrippleWall)
            .or_about(LookAt::SolidBlocked),
    );
}

#[cfg(test)]
mod tests {
    use crate::check::Ruling::{self, Met, NotApplicable, NotDetermined, NotMet};
    use crate::check::sample::{ruling_after, shipped};
    use rstest::rstest;

    #[rstest]
    #[case(
        "crc-2013-new-construction",
        r#"wall.panels = []; wall.cripple_wall.0.shortest_stud = "13 63/64 in""#,
        NotMet
    )]
    #[case(
        "crc-2013-new-construction",
        r#"wall.panels = []; wall.cripple_wall.0.shortest_stud = "14 in""#,
        Met
    )]
    #[case(
        "crc-2013-new-construction",
        r#"wall.panels = []; wall.cripple_wall.0.shortest_stud = "14 1/64 in""#,
        Met
    )]
    #[case(
        "crc-2013-new-construction",
        r#"wall.panels = [];
            wall.cripple_wall.0.shortest_stud = "13 in";
            wall.cripple_wall.0.solid_blocked = true"#,
        Met
    )]
    #[case(
        "crc-2013-new-construction",
        r#"wall.panels = [];
            wall.cripple_wall.0.shortest_stud = "13 in";
            wall.cripple_wall.0.solid_blocked = ?"#,
        NotDetermined
    )]
    #[case(
        "crc-2013-new-construction",
        "wall.panels = []; wall.cripple_wall.0.shortest_stud = ?",
        NotDetermined
    )]
    #[case(
        "crc-2013-new-construction",
        r#"wall.panels = []; wall.cripple_wall = [{"height": "13 in", "solid_blocked": false}]"#,
        NotMet
    )]
    #[case(
        "crc-2013-new-construction",
        r#"wall.panels = [{"from": "0 in", "to": "24 ft", "sheathing": "plywood"}];
            wall.cripple_wall.0.shortest_stud = "13 in""#,
        Met
    )]
    #[case(
        "crc-2013-new-construction",
        r#"wall.panels = [{"from": "0 in", "to": "23 ft", "sheathing": "osb"}];
            wall.cripple_wall.0.shortest_stud = "13 in""#,
        NotMet
    )]
    #[case(
        "crc-2013-new-construction",
        r#"wall.panels = [{"from": "0 in", "to": "24 ft", "sheathing": "stucco"}];
            wall.cripple_wall.0.shortest_stud = "13 in""#,
        NotMet
    )]
    #[case(
        "crc-2013-new-construction",
        r#"wall.panels = ?; wall.cripple_wall.0.shortest_stud = "13 in""#,
        NotDetermined
    )]
    #[case(
        "crc-2013-new-construction",
        r#"wall.panels = [{"total_length": "24 ft", "sheathing": "osb"}];
            wall.cripple_wall.0.shortest_stud = "13 in""#,
        NotDetermined
    )]
    #[case("crc-2013-new-construction", "wall.cripple_wall = []", NotApplicable)]
    #[case(
        "cebc-a3-2013",
        r#"wall.panels = []; wall.cripple_wall.0.shortest_stud = "13 in""#,
        NotApplicable
    )]
    fn short_studs_are_blocked_or_sheathed(
        #[case] set: &str,
        #[case] changes: &str,
        #[case] expected: Ruling,
    ) {
        assert_eq!(ruling_after(changes, &shipped(set), "short-studs"), expected);
    }
}
