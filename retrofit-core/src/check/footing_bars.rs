//! Whether continuous bars run at the top and bottom of the foundation.

use super::context::Line;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use super::stretches::{Reading, Stretches, met_or_not};
use crate::house::Reinforcing;
use crate::observation::Truth;
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "footing-bars",
    group: Group::Foundation,
    title: "Reinforcing bars",
    explanation: Explanation {
        looks_at: "Whether a continuous bar runs at the top and at the bottom of the foundation.",
        why: "Concrete without bars breaks apart where the ground or the panels bend it.",
        satisfied_by: "A continuous bar at top and bottom along the whole wall line, where the provisions ask for it.",
        fix: "A new reinforced foundation beside or under the old one; an engineer tells whether it is needed.",
    },
    figures: &[FigureName::FootingBars],
    reads: &[LookAt::WallLength, LookAt::Foundation, LookAt::Reinforcing],
    limit_is_a_maximum: false,
    run: Run::Line(check),
};

fn check(line: &Line<'_>, findings: &mut Findings) {
    findings.add(
        Judgment::by(line.rule(keys::FOOTING_BARS), |_| {
            Stretches::of_foundation(line)
            .judge(line, met_or_not(), LookAt::Reinforcing, |stretch| {
                let has_bars = match stretch.reinforcing.value() {
                    Some(Reinforcing::TopAndBottom) => Truth::True,
                    Some(Reinforcing::None) => Truth::False,
                    // Some bars were found: they may be the ones asked for.
                    Some(Reinforcing::Some) | None => Truth::Maybe,
                };
                Reading {
                    outcomes: Judgment::met_if(has_bars).outcomes(),
                    measured: Quantity::of_choice(&stretch.reinforcing),
                    basis: stretch.reinforcing.basis(),
                }
            })
            .facts(
                "Continuous bars run at the top and bottom of the foundation.",
                "The foundation has no reinforcing here.",
                "Whether continuous bars run at top and bottom was not found out for the whole wall line.",
            )
            .required(Quantity::Word("continuous bars at top and bottom"))
        })
        .or_about(LookAt::Foundation),
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
        r#"wall.foundation = [{"reinforcing": "top_and_bottom"}]"#,
        Met
    )]
    #[case(
        "crc-2013-new-construction",
        r#"wall.foundation = [{"reinforcing": "some"}]"#,
        NotDetermined
    )]
    #[case(
        "crc-2013-new-construction",
        r#"wall.foundation = [{"reinforcing": "none"}]"#,
        NotMet
    )]
    #[case("crc-2013-new-construction", "wall.foundation = [{}]", NotDetermined)]
    #[case(
        "cebc-a3-2013",
        r#"wall.foundation = [{"reinforcing": "none"}]"#,
        NotApplicable
    )]
    fn some_bars_may_be_the_ones_asked_for(
        #[case] set: &str,
        #[case] changes: &str,
        #[case] expected: Ruling,
    ) {
        assert_eq!(ruling_after(changes, &shipped(set), "footing-bars"), expected);
    }
}
