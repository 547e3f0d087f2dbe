//! Whether the house has no more stories than the provisions cover.

use super::context::Whole;
use super::finding::{Findings, Judgment, Quantity};
use super::limit;
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use crate::house::Stories;
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "stories-limit",
    group: Group::Applicability,
    title: "Stories",
    explanation: Explanation {
        looks_at: "The stories above the crawl space; a half story counts as a whole one.",
        why: "Each story adds its weight to the push on the cripple walls; the tables end where it was no longer studied.",
        satisfied_by: "No more stories than the provisions cover.",
        fix: "None by these provisions: an engineer or architect has to design the strengthening.",
    },
    figures: &[FigureName::MaxStories],
    reads: &[LookAt::Stories],
    limit_is_a_maximum: true,
    run: Run::House(check),
};

fn check(whole: &Whole<'_>, findings: &mut Findings) {
    let stories = &whole.house.building.stories;
    let rule = whole.rule(keys::MAX_STORIES);
    let judgment = Judgment::by_limit(rule, |most| {
        let most = Stories::whole(u8::try_from(most).unwrap_or(u8::MAX));
        let measured = match stories.bounds() {
            (Some(least), Some(most)) if least == most => Quantity::Stories(*least),
            (Some(least), Some(most)) => {
                Quantity::CountBetween(least.counted().into(), most.counted().into())
            }
            _ => Quantity::None,
        };
        Judgment::inside_if(limit::is_within(stories, most, rule))
            .facts(
                "The house has no more stories than these provisions cover.",
                "The house has more stories than these provisions cover.",
                "The number of stories is not known.",
            )
            .measured(measured)
            .required(Quantity::Stories(most))
    });
    findings.add(
        judgment
            .about(LookAt::Stories, None)
            .basis(stories.basis())
            .decided_by(LookAt::Stories),
    );
}
