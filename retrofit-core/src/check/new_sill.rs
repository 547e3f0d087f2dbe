//! Whether sill pieces that came with later work are thick enough and resist decay.

use super::context::Line;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::outcome::{Outcome, Outcomes, Ruling};
use super::registry::{Check, Explanation, Group, Run};
use super::stretches::{Reading, Stretches, met_or_not};
use crate::house::{Installed, SillPiece, SillTreatment};
use crate::observation::{Basis, Truth};
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "new-sill",
    group: Group::Sill,
    title: "New sill pieces",
    explanation: Explanation {
        looks_at: "The thickness and the decay resistance of sill pieces that came with later work. Original pieces are not held to it.",
        why: "A thin plate splits at the bolts, and untreated wood on concrete rots where nobody looks.",
        satisfied_by: "New pieces of at least the least thickness, preservative-treated or of a naturally durable species.",
        fix: "Replace the new pieces that are too thin or not treated.",
    },
    figures: &[FigureName::MinSillThickness, FigureName::TreatedNewSill],
    reads: &[
        LookAt::WallLength,
        LookAt::Sill,
        LookAt::SillInstalled,
        LookAt::SillThickness,
        LookAt::SillTreatment,
    ],
    limit_is_a_maximum: false,
    run: Run::Line(check),
};

fn check(line: &Line<'_>, findings: &mut Findings) {
    findings.add(
        Judgment::by(line.rule(keys::MIN_SILL_THICKNESS), |least| {
            judge(
                line,
                LookAt::SillThickness,
                |piece| piece.thickness.at_least(least),
                |piece| (Quantity::of_length(&piece.thickness), piece.thickness.basis()),
                [
                    "New sill pieces, if any, are as thick as asked for.",
                    "A new sill piece is thinner than asked for.",
                    "Whether there are new sill pieces, and whether they are thick enough, is not known.",
                ],
            )
            .required(Quantity::Length(least))
        })
        .or_about(LookAt::SillThickness),
    );
    findings.add(
        Judgment::by(line.rule(keys::TREATED_NEW_SILL), |_| {
            judge(
                line,
                LookAt::SillTreatment,
                |piece| {
                    piece
                        .treatment
                        .satisfies(|treatment| treatment != SillTreatment::Untreated)
                },
                |piece| (Quantity::of_choice(&piece.treatment), piece.treatment.basis()),
                [
                    "New sill pieces, if any, are treated or of durable wood.",
                    "A new sill piece is of untreated wood.",
                    "Whether there are new sill pieces, and whether they resist decay, is not known.",
                ],
            )
            .required(Quantity::Word("treated or durable wood"))
        })
        .or_about(LookAt::SillTreatment),
    );
}

fn judge(
    line: &Line<'_>,
    look_at: LookAt,
    is_good: impl Fn(&SillPiece) -> Truth,
    show: impl Fn(&SillPiece) -> (Quantity, Option<Basis>),
    [met, not_met, open]: [&'static str; 3],
) -> Judgment {
    let not_asked = Outcomes::only(Outcome::NotApplicable);
    let unrecorded = met_or_not().or(not_asked);
    let judgment = Stretches::of_sill(line).judge(line, unrecorded, look_at, |piece| {
        let if_new = Judgment::met_if(is_good(piece)).outcomes();
        let (measured, basis) = show(piece);
        Reading {
            outcomes: match piece.installed.value() {
                Some(Installed::Added) => if_new,
                Some(Installed::Original) => not_asked,
                None => if_new.or(not_asked),
            },
            measured,
            basis,
        }
    });
    let judgment = judgment.fact(match judgment.outcomes().ruling() {
        Ruling::NotApplicable => "Every sill piece is original; the rule is for new ones.",
        Ruling::Met => met,
        Ruling::NotMet | Ruling::Outside => not_met,
        Ruling::NotDetermined => open,
    });
    if line.sill().iter().any(|piece| !piece.installed.is_known()) {
        judgment.decided_by(LookAt::SillInstalled)
    } else {
        judgment
    }
}

#[cfg(test)]
mod tests {
    use crate::check::Ruling::{self, Met, NotApplicable, NotDetermined, NotMet};
    use crate::check::sample::{ruling_after, shipped};
    use rstest::rstest;

    #[rstest]
    #[case(
        "cebc-a3-2013",
        r#"wall.sill = [{"installed": "added", "thickness": "1 1/2 in", "treatment": "treated"}]"#,
        Met
    )]
    #[case(
        "cebc-a3-2013",
        r#"wall.sill = [{"installed": "added", "thickness": "1 33/64 in", "treatment": "durable"}]"#,
        Met
    )]
    #[case(
        "cebc-a3-2013",
        r#"wall.sill = [{"installed": "added", "thickness": "1 31/64 in", "treatment": "treated"}]"#,
        NotMet
    )]
    #[case(
        "cebc-a3-2013",
        r#"wall.sill = [{"installed": "added", "thickness": "1 1/2 in", "treatment": "untreated"}]"#,
        NotMet
    )]
    #[case(
        "cebc-a3-2013",
        r#"wall.sill = [{"installed": "added", "treatment": "treated"}]"#,
        NotDetermined
    )]
    #[case(
        "cebc-a3-2013",
        r#"wall.sill = [{"installed": "added", "thickness": "1 1/2 in"}]"#,
        NotDetermined
    )]
    #[case(
        "cebc-a3-2013",
        r#"wall.sill = [{"installed": "original", "thickness": "1 in", "treatment": "untreated"}]"#,
        NotApplicable
    )]
    #[case(
        "cebc-a3-2013",
        r#"wall.sill = [{"thickness": "1 in", "treatment": "untreated"}]"#,
        NotDetermined
    )]
    #[case(
        "cebc-a3-2013",
        r#"wall.sill = [{"thickness": "2 in", "treatment": "treated"}]"#,
        Met
    )]
    #[case("cebc-a3-2013", "wall.sill = ?", NotDetermined)]
    #[case(
        "la-division-92-2018",
        r#"wall.sill = [{"installed": "added", "thickness": "1 1/2 in", "treatment": "treated"}]"#,
        NotDetermined
    )]
    #[case(
        "bay-area-plan-set-a-2008",
        r#"wall.sill = [{"installed": "added", "thickness": "1 in"}]"#,
        NotApplicable
    )]
    fn only_new_pieces_are_held_to_it(#[case] set: &str, #[case] changes: &str, #[case] expected: Ruling) {
        assert_eq!(ruling_after(changes, &shipped(set), "new-sill"), expected);
    }
}
