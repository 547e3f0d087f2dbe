//! Whether the cripple wall is no higher than the provisions cover.

use super::bracing::NO_CRIPPLE_WALL;
use super::context::{Line, tallest_stud, wall_height};
use super::finding::{Findings, Judgment, Quantity};
use super::limit;
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::house::CrippleStretch;
use crate::measure::Length;
use crate::observation::{Observed, Truth};
use crate::provisions::{FigureName, Rule, keys};

pub(super) static CHECK: Check = Check {
    name: "cripple-wall-height",
    group: Group::Applicability,
    title: "Cripple wall height",
    explanation: Explanation {
        looks_at: "The greatest height of the cripple wall, plates included, or of its tallest stud, whichever the provisions limit.",
        why: "The taller the wall, the harder it tips and the more its panels lift at their ends; tall walls need hold-downs and design.",
        satisfied_by: "No stretch of cripple wall higher than the provisions cover.",
        fix: "None by these provisions: an engineer or architect has to design the strengthening, or a taller stem wall is built.",
    },
    figures: &[FigureName::MaxCrippleWallHeight, FigureName::MaxStudHeight],
    reads: &[
        LookAt::CrippleWall,
        LookAt::CrippleHeight,
        LookAt::TallestStud,
        LookAt::ShortestStud,
    ],
    run: Run::Line(check),
};

fn check(line: &Line<'_>, findings: &mut Findings) {
    let wall = line.rule(keys::MAX_CRIPPLE_WALL_HEIGHT);
    let stud = line.rule(keys::MAX_STUD_HEIGHT);
    // A set limits the wall or the stud, by stories; the other is worth a line only where neither is limited.
    if stud == Rule::NotRegulated || wall != Rule::NotRegulated {
        let height = wall_height(line.wall);
        findings.add(judge(line, wall, &height, LookAt::CrippleHeight, |stretch| {
            stretch.height.bounds().0.copied()
        }));
    }
    if stud != Rule::NotRegulated {
        let height = tallest_stud(line.wall);
        findings.add(judge(line, stud, &height, LookAt::TallestStud, |stretch| {
            stretch.tallest_stud.bounds().0.copied()
        }));
    }
}

fn judge(
    line: &Line<'_>,
    rule: Rule<Length>,
    height: &Observed<Length>,
    look_at: LookAt,
    least: impl Fn(&CrippleStretch) -> Option<Length>,
) -> Judgment {
    let judgment = Judgment::by_limit(rule, |most| {
        let answer = limit::is_within(height, most, rule);
        // Where it is too high, the highest stretch; where it is open, one that was not measured.
        let stretches = || line.cripple_wall().iter().enumerate();
        let shown = if answer == Truth::Maybe {
            stretches().find(|(_, stretch)| least(stretch).is_none())
        } else {
            None
        };
        let shown = shown.or_else(|| {
            stretches().fold(None, |highest, next| match highest {
                Some((_, highest_stretch)) if least(highest_stretch) >= least(next.1) => highest,
                _ => Some(next),
            })
        });
        Judgment::inside_if(answer)
            .facts(
                "The cripple wall is no higher than these provisions cover.",
                "The cripple wall is higher than these provisions cover.",
                "Whether the cripple wall is higher than these provisions cover was not found out.",
            )
            .measured(Quantity::of_length(height))
            .at_most(limit::shown(most, rule))
            .basis(
                height
                    .basis()
                    .max(line.wall.cripple_wall.basis())
                    .filter(|_| height.basis().is_some()),
            )
            .span(shown.map(|(_, stretch)| stretch.span(line.length())))
            .about(look_at, shown.map(|(item, _)| item))
    });
    match line.has_cripple_wall() {
        Truth::True => judgment.or_about(look_at).decided_by(look_at),
        there_is => judgment
            .about(LookAt::CrippleWall, None)
            .applicable_if(there_is, NO_CRIPPLE_WALL, LookAt::CrippleWall)
            .about(LookAt::CrippleWall, None),
    }
}

#[cfg(test)]
mod tests {
    use crate::check::Ruling::{self, Met, NotApplicable, NotDetermined, Outside};
    use crate::check::sample::{changed, findings, ruling_after, shipped};
    use crate::house::Span;
    use crate::measure::Length;
    use rstest::rstest;

    #[rstest]
    #[case("cebc-a3-2013", r#"wall.cripple_wall = [{"height": "47 in"}]"#, Met)]
    #[case("cebc-a3-2013", r#"wall.cripple_wall = [{"height": "48 in"}]"#, Met)]
    #[case("cebc-a3-2013", r#"wall.cripple_wall = [{"height": "48 1/64 in"}]"#, Outside)]
    #[case(
        "bay-area-plan-set-a-2008",
        r#"wall.cripple_wall = [{"height": "47 63/64 in"}]"#,
        Met
    )]
    #[case(
        "bay-area-plan-set-a-2008",
        r#"wall.cripple_wall = [{"height": "48 in"}]"#,
        Outside
    )]
    #[case(
        "bay-area-plan-set-a-2008",
        r#"wall.cripple_wall = [{"height": "49 in"}]"#,
        Outside
    )]
    #[case(
        "cebc-a3-2013",
        r#"wall.cripple_wall = [{"tallest_stud": "44 in"}]"#,
        NotDetermined
    )]
    #[case("cebc-a3-2013", r#"wall.cripple_wall = [{"tallest_stud": "49 in"}]"#, Outside)]
    #[case("cebc-a3-2013", "wall.cripple_wall = [{}]", NotDetermined)]
    #[case("cebc-a3-2013", "wall.cripple_wall = ?", NotDetermined)]
    #[case("cebc-a3-2013", "wall.cripple_wall = []", NotApplicable)]
    #[case(
        "crc-2013-new-construction",
        r#"wall.cripple_wall = [{"height": "99 in"}]"#,
        NotApplicable
    )]
    fn the_whole_wall_is_held_to_the_limit(
        #[case] set: &str,
        #[case] changes: &str,
        #[case] expected: Ruling,
    ) {
        assert_eq!(
            ruling_after(changes, &shipped(set), "cripple-wall-height"),
            expected
        );
    }

    #[rstest]
    #[case(
        "cebc-a3-2013",
        r#"wall.cripple_wall = [{"tallest_stud": "13 in", "height": "18 in"}]; building.stories = 3"#,
        Met
    )]
    #[case(
        "cebc-a3-2013",
        r#"wall.cripple_wall = [{"tallest_stud": "14 in", "height": "19 in"}]; building.stories = 3"#,
        Met
    )]
    #[case(
        "cebc-a3-2013",
        r#"wall.cripple_wall = [{"tallest_stud": "14 1/64 in"}]; building.stories = 3"#,
        Outside
    )]
    #[case(
        "cebc-a3-2013",
        r#"wall.cripple_wall = [{"height": "14 in"}]; building.stories = 3"#,
        Met
    )]
    #[case(
        "cebc-a3-2013",
        r#"wall.cripple_wall = [{"height": "18 in"}]; building.stories = 3"#,
        NotDetermined
    )]
    fn the_stud_is_held_to_it_under_three_stories(
        #[case] set: &str,
        #[case] changes: &str,
        #[case] expected: Ruling,
    ) {
        assert_eq!(
            ruling_after(changes, &shipped(set), "cripple-wall-height"),
            expected
        );
    }

    #[test]
    fn the_highest_stretch_is_the_one_shown() {
        let house = changed(
            r#"wall.cripple_wall = [
                {"to": "8 ft", "height": "30 in"},
                {"from": "8 ft", "to": "16 ft", "height": "52 in"},
                {"from": "16 ft", "height": "49 in"}]"#,
        );
        let found = findings(house, "cebc-a3-2013", "cripple-wall-height");
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].span, Some(Span::new(Length::feet(8), Length::feet(16))));
        assert_eq!(found[0].measured.to_string(), "4'-4\"");
        assert_eq!(found[0].path().unwrap(), "wall_lines[0].cripple_wall[1].height");
    }
}
