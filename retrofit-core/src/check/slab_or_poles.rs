//! Whether part of the house stands on a slab at grade or on poles set in the ground.

use super::context::Whole;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "slab-or-poles",
    group: Group::Applicability,
    title: "Slab or pole portions",
    explanation: Explanation {
        looks_at: "Whether part of the house stands on a slab at grade or on poles set in the ground.",
        why: "A part on a slab or on poles moves differently from a part on cripple walls; the two tear at each other.",
        satisfied_by: "A house all on a raised floor, where the provisions leave the others out.",
        fix: "None by these provisions: an engineer or architect has to design the strengthening.",
    },
    figures: &[FigureName::NoSlabOrPoles],
    reads: &[LookAt::SlabOrPoles],
    limit_is_a_maximum: false,
    run: Run::House(check),
};

fn check(whole: &Whole<'_>, findings: &mut Findings) {
    let portion = &whole.house.building.slab_or_pole_portion;
    let judgment = Judgment::by_limit(whole.rule(keys::NO_SLAB_OR_POLES), |_| {
        Judgment::inside_if(portion.satisfies(|is_there| !is_there))
            .facts(
                "No part of the house stands on a slab or on poles.",
                "Part of the house stands on a slab or on poles; these provisions leave it out.",
                "Whether part of the house stands on a slab or on poles is not known.",
            )
            .measured(match portion.value() {
                Some(true) => Quantity::Word("a part on a slab or on poles"),
                Some(false) => Quantity::Word("none"),
                None => Quantity::None,
            })
            .required(Quantity::Word("none"))
    });
    findings.add(
        judgment
            .about(LookAt::SlabOrPoles, None)
            .basis(portion.basis())
            .decided_by(LookAt::SlabOrPoles),
    );
}

#[cfg(test)]
mod tests {
    use crate::check::Ruling::{self, Met, NotApplicable, NotDetermined, Outside};
    use crate::check::sample::{ruling_after, shipped};
    use rstest::rstest;

    #[rstest]
    #[case("cebc-a3-2013", "building.slab_or_pole_portion = false", Met)]
    #[case("cebc-a3-2013", "building.slab_or_pole_portion = true", Outside)]
    #[case("cebc-a3-2013", "building.slab_or_pole_portion = ?", NotDetermined)]
    #[case(
        "bay-area-plan-set-a-2008",
        "building.slab_or_pole_portion = true",
        NotApplicable
    )]
    fn a_part_on_a_slab_or_poles_is_outside(
        #[case] set: &str,
        #[case] changes: &str,
        #[case] expected: Ruling,
    ) {
        assert_eq!(ruling_after(changes, &shipped(set), "slab-or-poles"), expected);
    }
}
