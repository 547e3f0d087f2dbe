//! Whether vents, doors or pipes are cut through the panels.

use super::bracing::judge_property;
use super::context::{Line, height_bounds};
use super::finding::{Findings, Found, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::house::{Opening, OpeningKind, Panel, Parts, Span};
use crate::measure::{Length, Percent};
use crate::observation::Truth;
use crate::provisions::{FigureName, Rule, keys};

pub(super) static CHECK: Check = Check {
    name: "panel-openings",
    group: Group::Bracing,
    title: "Openings in panels",
    explanation: Explanation {
        looks_at: "Vents, doors and large holes cut through a panel, and how high they reach.",
        why: "A hole in the middle of a panel takes its strength; panels with a vent cut into every bay brace nothing.",
        satisfied_by: "Panels without openings, or with low ones where the provisions allow them; the panel then counts for its length less the opening.",
        fix: "Move the vent and close the hole with a new panel, or add panels clear of the openings.",
    },
    figures: &[FigureName::MaxOpeningInPanel],
    reads: &[
        LookAt::Panels,
        LookAt::CutThrough,
        LookAt::Openings,
        LookAt::OpeningTop,
        LookAt::CrippleHeight,
    ],
    run: Run::Line(check),
};

/// The openings along a panel, pipes included.
fn along<'a>(panel: &Panel, line: &'a Line<'_>) -> impl Iterator<Item = &'a Opening> {
    let span = panel.stations().map(|(from, to)| Span::new(from, to));
    listed(line).filter(move |opening| span.is_some_and(|span| span.overlaps(span_of(opening))))
}

fn listed<'a>(line: &'a Line<'_>) -> impl Iterator<Item = &'a Opening> {
    let openings = line.wall.openings.listed().iter();
    openings.filter(|opening| opening.kind != OpeningKind::Blocked)
}

fn span_of(opening: &Opening) -> Span {
    Span::new(opening.from, opening.to)
}

/// The provisions speak of vents and doors; a pipe takes nothing from a panel.
const fn is_of_account(kind: OpeningKind) -> bool {
    matches!(kind, OpeningKind::Vent | OpeningKind::Access)
}

/// The length that openings take from a panel, at least and at most: each takes its own length, and no less
/// than a stud space where the provisions allow openings at all. `None` where the studs may stand any
/// distance apart.
pub(super) fn length_inside(panel: &Panel, line: &Line<'_>) -> (Length, Option<Length>) {
    let Some((from, to)) = panel.stations() else {
        return (Length::ZERO, Some(Length::ZERO));
    };
    let openings = along(panel, line).filter(|opening| is_of_account(opening.kind));
    openings.fold((Length::ZERO, Some(Length::ZERO)), |(least, most), opening| {
        let own = opening.to.min(to).saturating_sub(opening.from.max(from));
        let (least_space, most_space) = stud_space(opening, line);
        (
            least.saturating_add(own.max(least_space)),
            most.zip(most_space)
                .map(|(most, space)| most.saturating_add(own.max(space))),
        )
    })
}

/// The stud space where an opening lies, at least and at most.
fn stud_space(opening: &Opening, line: &Line<'_>) -> (Length, Option<Length>) {
    if line.rule(keys::MAX_OPENING_IN_PANEL).is_open() {
        return (Length::ZERO, Some(Length::ZERO));
    }
    let stretches = line.cripple_wall().iter();
    stretches
        .filter(|stretch| stretch.span(line.length()).overlaps(span_of(opening)))
        .map(|stretch| {
            let (least, most) = stretch.stud_spacing.bounds();
            (least.copied().unwrap_or(Length::ZERO), most.copied())
        })
        .reduce(|a, b| (a.0.max(b.0), a.1.zip(b.1).map(|(a, b)| a.max(b))))
        .unwrap_or((Length::ZERO, None))
}

/// Whether some opening in a panel takes a stud space of unknown width from it.
pub(super) fn openings_take_an_unknown_length(line: &Line<'_>) -> bool {
    let panels = line.wall.panels.listed().iter();
    panels
        .map(|panel| length_inside(panel, line))
        .any(|(least, most)| most != Some(least))
}

/// Whether an opening reaches no higher than allowed in any stretch of cripple wall it lies in.
fn is_low(opening: &Opening, line: &Line<'_>, limit: Percent) -> Truth {
    let (least_top, most_top) = opening.top.bounds();
    line.cripple_wall()
        .iter()
        .filter(|stretch| stretch.span(line.length()).overlaps(span_of(opening)))
        .map(|stretch| {
            let (lowest, highest) = height_bounds(stretch);
            let best = match (least_top, highest) {
                (Some(top), Some(height)) => *top <= limit.of(height),
                _ => true,
            };
            let worst = match (most_top, lowest) {
                (Some(top), Some(height)) => *top <= limit.of(height),
                _ => false,
            };
            Truth::from_cases(best, worst)
        })
        .reduce(Truth::and)
        .unwrap_or(Truth::Maybe)
}

/// Whether the panel has only openings that are allowed in it. An opening on the list lies where it says,
/// whatever is said of the panel.
pub(super) fn counts(panel: &Panel, line: &Line<'_>) -> Truth {
    let limit = match line.rule(keys::MAX_OPENING_IN_PANEL) {
        Rule::Given { value, .. } => value,
        Rule::Missing(_) => {
            let is_whole = panel.cut_through.satisfies(|cut| !cut).or(Truth::Maybe);
            let has_any = along(panel, line).any(|opening| is_of_account(opening.kind));
            return if has_any { Truth::Maybe } else { is_whole };
        }
        Rule::Silent(_) | Rule::NotRegulated => return Truth::True,
    };
    let all_low = along(panel, line)
        .filter(|opening| is_of_account(opening.kind))
        .fold(Truth::True, |truth, opening| {
            truth.and(is_low(opening, line, limit))
        });
    let hides_some = match panel.stations() {
        _ if line.wall.openings.value().is_none() => true,
        Some((from, to)) => line
            .wall
            .unseen_of(Parts::Openings)
            .any(|unseen| unseen.span(line.length()).overlaps(Span::new(from, to))),
        // A summary names no stations: which openings lie in its panels is not known.
        None => listed(line).any(|opening| is_low(opening, line, limit) != Truth::False),
    };
    match panel.cut_through.value() {
        // What was cut is not on the list: it may be a low opening that nobody listed.
        Some(true) if along(panel, line).next().is_none() && hides_some => Truth::Maybe,
        Some(true) if along(panel, line).next().is_none() => Truth::False,
        None if panel.stations().is_none() => all_low.and(Truth::Maybe),
        // What is on the list need not be all that was cut.
        None | Some(true) if hides_some => all_low.and(Truth::Maybe),
        _ => all_low,
    }
}

fn check(line: &Line<'_>, findings: &mut Findings) {
    let rule = line.rule(keys::MAX_OPENING_IN_PANEL);
    let judgment = judge_property(line, rule, counts, LookAt::CutThrough, |panel| {
        let openings = along(panel, line).filter(|opening| is_of_account(opening.kind));
        let highest = openings
            .filter_map(|opening| Some((*opening.top.bounds().1?, opening.top.basis())))
            .max_by_key(|(top, _)| *top);
        match highest {
            Some((top, basis)) => Found {
                measured: Quantity::Length(top),
                basis: basis.max(line.wall.openings.basis()),
            },
            None => Found::of(&panel.cut_through, |is_cut| {
                Quantity::Word(if is_cut { "cut through" } else { "not cut" })
            }),
        }
    });
    let panels = line.wall.panels.listed().iter();
    let is_height_open = panels
        .flat_map(|panel| along(panel, line).filter(|opening| is_of_account(opening.kind)))
        .any(|opening| {
            rule.value()
                .is_some_and(|limit| is_low(opening, line, limit) == Truth::Maybe)
        });
    let judgment = match rule {
        Rule::Given { .. } if line.wall.openings.value().is_none() => judgment.decided_by(LookAt::Openings),
        Rule::Given { .. } if is_height_open => judgment
            .decided_by(LookAt::OpeningTop)
            .decided_by(LookAt::CrippleHeight),
        _ => judgment,
    };
    // The height that an opening may reach, where the wall is of one known height; else the share of it.
    let height = match line.cripple_wall() {
        [stretch] => stretch.height.value().copied(),
        _ => None,
    };
    let required = rule.value().map_or(Quantity::None, |share| {
        height.map_or(Quantity::Percent(share), |height| {
            Quantity::Length(share.of(height))
        })
    });
    findings.add(judgment.at_most(required));
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::{Value, json};

    use super::*;
    use crate::check::trial::*;

    /// Two panels that are just enough, the first with an opening of 1 ft in it, under a wall of 24 in.
    fn wall(opening: &Value, panel: &Value) -> Value {
        let place = json!({"from": "1 ft", "to": "2 ft", "kind": "vent", "top": "6 in"});
        wall_with(&json!({
            "panels": panels(&[("0 in", "5 ft"), ("16 ft", "20 ft")], panel),
            "openings": [with(&place, opening)]
        }))
    }

    #[rstest]
    #[case::a_quarter(json!({"top": "6 in"}), json!({"cut_through": true}), "met")]
    #[case::less(json!({"top": "5 63/64 in"}), json!({"cut_through": true}), "met")]
    #[case::more(json!({"top": "6 1/64 in"}), json!({"cut_through": true}), "not met")]
    #[case::cut_not_recorded(json!({"top": "6 1/64 in"}), json!({"cut_through": null}), "not met")]
    #[case::listed_though_said_whole(json!({"top": "6 1/64 in"}), json!({"cut_through": false}), "not met")]
    #[case::top_not_known(json!({"top": null}), json!({"cut_through": null}), "not determined")]
    #[case::a_pipe(json!({"kind": "pipe", "top": "20 in"}), json!({"cut_through": null}), "met")]
    #[case::beside_the_panels(json!({"from": "5 ft", "to": "16 ft", "top": "20 in"}), json!({"cut_through": null}), "met")]
    fn single_panels(#[case] opening: Value, #[case] panel: Value, #[case] expected: &str) {
        let mut wall = wall(&opening, &panel);
        wall["panels"][1]["cut_through"] = json!(false);
        assert_eq!(ruling(CHECK.name, &wall), expected);
    }

    /// The opening takes its own length off the panel, and no less than a stud space.
    #[rstest]
    #[case::its_own_length("12 in", "24 in", "12 in", "met")]
    #[case::a_64th_more("12 in", "24 1/64 in", "12 in", "not met")]
    #[case::a_stud_space("12 in", "13 in", "12 in", "met")]
    #[case::a_wider_stud_space("12 in", "13 in", "12 1/64 in", "not met")]
    fn an_opening_shortens_the_panel(
        #[case] from: &str,
        #[case] to: &str,
        #[case] stud_spacing: &str,
        #[case] expected: &str,
    ) {
        let mut wall = wall(&json!({"from": from, "to": to}), &json!({"cut_through": null}));
        wall["cripple_wall"][0]["stud_spacing"] = json!(stud_spacing);
        assert_eq!(ruling("bracing-length", &wall), expected);
    }

    #[test]
    fn without_the_stud_spacing_what_an_opening_takes_is_open() {
        let wall = wall(
            &json!({"from": "12 in", "to": "13 in"}),
            &json!({"cut_through": null}),
        );
        assert_eq!(ruling("bracing-length", &wall), "not determined");
    }

    #[rstest]
    #[case::nothing_listed(json!([]), "not met")]
    #[case::not_recorded(Value::Null, "not determined")]
    fn cut_but_not_listed(#[case] openings: Value, #[case] expected: &str) {
        let wall = with(
            &wall_with_panels(&json!({"cut_through": true})),
            &json!({"openings": openings}),
        );
        assert_eq!(ruling(CHECK.name, &wall), expected);
    }

    #[test]
    fn openings_that_were_not_recorded_are_named() {
        let wall = with(
            &wall_with_panels(&json!({"cut_through": null})),
            &json!({"openings": null}),
        );
        let said = ask(CHECK.name, CEBC, 1, &wall);
        assert_eq!(said.ruling, "not determined");
        assert!(said.deciding.contains(&LookAt::Openings), "{:?}", said.deciding);
    }

    #[rstest]
    #[case(json!({"from": "0 in", "to": "3 ft", "parts": ["openings"], "why": "ducts"}), "not determined")]
    #[case(json!({"from": "6 ft", "to": "9 ft", "parts": ["openings"], "why": "ducts"}), "met")]
    fn unseen_stretches(#[case] unseen: Value, #[case] expected: &str) {
        let wall = with(
            &wall_with_panels(&json!({"cut_through": null})),
            &json!({"unseen": [unseen]}),
        );
        assert_eq!(ruling(CHECK.name, &wall), expected);
    }

    /// A low vent that is listed need not be all that was cut, where part of the panel was not seen.
    #[test]
    fn a_listed_vent_does_not_account_for_what_was_not_seen() {
        let mut wall = wall(&json!({}), &json!({"cut_through": true}));
        wall["panels"][1]["cut_through"] = json!(false);
        wall["unseen"] = json!([{"from": "3 ft", "to": "5 ft", "parts": ["openings"], "why": "ducts"}]);
        assert_eq!(ruling(CHECK.name, &wall), "not determined");
    }

    /// The wall may be higher than its studs by what its plates take, so that the studs alone do not settle it.
    #[test]
    fn a_wall_of_unknown_height_is_not_judged_by_its_studs() {
        let wall = with(
            &wall(&json!({"top": "5 1/2 in"}), &json!({"cut_through": null})),
            &json!({"cripple_wall": [{"tallest_stud": "20 in"}]}),
        );
        let said = ask(CHECK.name, CEBC, 1, &wall);
        assert_eq!(said.ruling, "not determined");
        assert!(
            said.deciding.contains(&LookAt::CrippleHeight),
            "{:?}",
            said.deciding
        );
    }

    /// Of a summary it is not known which openings lie in its panels; high ones everywhere are too high.
    #[rstest]
    #[case(json!(false), "6 in", "met")]
    #[case(json!(true), "6 in", "not determined")]
    #[case(json!(true), "7 in", "not met")]
    #[case(Value::Null, "7 in", "not determined")]
    fn summaries(#[case] cut: Value, #[case] top: &str, #[case] expected: &str) {
        let summary =
            json!({"total_length": "8 ft", "at_each_end": true, "shortest": "4 ft", "cut_through": cut});
        let wall = wall_with(&json!({
            "panels": [with(&good_panel(), &summary)],
            "openings": [{"from": "1 ft", "to": "2 ft", "kind": "vent", "top": top}]
        }));
        assert_eq!(ruling(CHECK.name, &wall), expected);
    }

    #[rstest]
    fn where_there_is_no_cripple_wall_it_does_not_apply(#[values(CEBC, MISSING[0], MISSING[1])] set: &str) {
        let wall = wall_with(&json!({"cripple_wall": []}));
        assert_eq!(ask(CHECK.name, set, 1, &wall).ruling, "not applicable");
    }
}
