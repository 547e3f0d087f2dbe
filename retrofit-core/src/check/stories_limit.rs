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

#[cfg(test)]
mod tests {
    use crate::check::LookAt;
    use crate::check::Ruling::{self, Met, NotApplicable, NotDetermined, Outside};
    use crate::check::sample::{changed, findings, ruling_after, shipped};
    use rstest::rstest;

    #[rstest]
    #[case("cebc-a3-2013", "building.stories = 2", Met)]
    #[case("cebc-a3-2013", "building.stories = 3", Met)]
    #[case("cebc-a3-2013", "building.stories = 3.5", Outside)]
    #[case("cebc-a3-2013", "building.stories = 4", Outside)]
    #[case("bay-area-plan-set-a-2008", "building.stories = 1.5", Met)]
    #[case("bay-area-plan-set-a-2008", "building.stories = 2", Met)]
    #[case("bay-area-plan-set-a-2008", "building.stories = 2.5", Outside)]
    #[case("cebc-a3-2013", "building.stories = ?", NotDetermined)]
    #[case("cebc-a3-2013", r#"building.stories = {"reported": {"at_most": 3}}"#, Met)]
    #[case(
        "cebc-a3-2013",
        r#"building.stories = {"reported": {"at_least": 4}}"#,
        Outside
    )]
    #[case("crc-2013-new-construction", "building.stories = 4", NotApplicable)]
    fn stories_are_counted_up_to_the_limit(
        #[case] set: &str,
        #[case] changes: &str,
        #[case] expected: Ruling,
    ) {
        assert_eq!(ruling_after(changes, &shipped(set), "stories-limit"), expected);
    }

    #[test]
    fn an_open_number_of_stories_is_decided_by_the_stories_alone() {
        let found = findings(changed("building.stories = ?"), "cebc-a3-2013", "stories-limit");
        let deciding: Vec<_> = found.iter().flat_map(|finding| finding.deciding.iter()).collect();
        assert_eq!(deciding, [LookAt::Stories]);
    }
}
