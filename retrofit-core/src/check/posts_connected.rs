//! Whether interior posts are connected at top and bottom, sound and plumb.

use super::context::Whole;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::outcome::{Outcome, Outcomes};
use super::registry::{Check, Explanation, Group, Run};
use super::stretches::met_or_not;
use crate::house::{Post, PostBase, PostTop};
use crate::observation::{Basis, Truth};
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "posts-connected",
    group: Group::Posts,
    title: "Posts and piers",
    explanation: Explanation {
        looks_at: "How each interior post meets its beam and its pier, and whether it is sound and plumb.",
        why: "A post that only bears walks off its pier when the floor moves, and the floor drops.",
        satisfied_by: "Every post nailed or connected to its beam and to its pier, sound and plumb, where the provisions ask for it.",
        fix: "Add connectors or gussets at top and bottom; replace or straighten posts that are decayed or lean.",
    },
    figures: &[FigureName::ConnectedPosts],
    reads: &[
        LookAt::Posts,
        LookAt::PostTop,
        LookAt::PostBase,
        LookAt::PostCondition,
    ],
    run: Run::House(check),
};

/// The three things asked of a post, each with what was found, what it is worth, and how it is known.
fn parts(post: &Post) -> [(LookAt, Truth, Quantity, Option<Basis>); 3] {
    [
        (
            LookAt::PostTop,
            post.top.satisfies(|top| top != PostTop::Bearing),
            Quantity::of_choice(&post.top),
            post.top.basis(),
        ),
        (
            LookAt::PostBase,
            post.base
                .satisfies(|base| matches!(base, PostBase::Connected | PostBase::NailedBlock)),
            Quantity::of_choice(&post.base),
            post.base.basis(),
        ),
        (
            LookAt::PostCondition,
            post.sound_and_plumb.satisfies(|is_sound| is_sound),
            match post.sound_and_plumb.value() {
                Some(true) => Quantity::Word("sound and plumb"),
                Some(false) => Quantity::Word("decayed or leaning"),
                None => Quantity::None,
            },
            post.sound_and_plumb.basis(),
        ),
    ]
}

fn check(whole: &Whole<'_>, findings: &mut Findings) {
    let posts = &whole.house.posts;
    findings.add(
        Judgment::by(whole.rule(keys::CONNECTED_POSTS), |_| {
            let Some(list) = posts.value() else {
                return Judgment::new(met_or_not().or(Outcomes::only(Outcome::NotApplicable)))
                    .fact("The interior posts were not recorded.")
                    .about(LookAt::Posts, None)
                    .decided_by(LookAt::Posts);
            };
            let all = || {
                list.iter()
                    .enumerate()
                    .flat_map(|(item, post)| parts(post).map(|part| (item, part)))
            };
            let answer = all().fold(Truth::True, |truth, (_, part)| truth.and(part.1));
            let shown = all().find(|(_, part)| part.1 == answer);
            let Some((item, (look_at, _, found, basis))) = shown else {
                return Judgment::not_applicable("There are no interior posts.").about(LookAt::Posts, None);
            };
            // What is met rests on every post; what falls short, on the one that does.
            let basis = match answer {
                Truth::True => all().filter_map(|(_, part)| part.3).max(),
                _ => basis,
            };
            let judgment = Judgment::met_if(answer)
                .facts(
                    "Every post is connected at top and bottom, sound and plumb.",
                    "A post is not connected at top and bottom, or not sound and plumb.",
                    "Whether every post is connected, sound and plumb was not seen.",
                )
                .about(look_at, Some(item))
                .measured(found)
                .required(Quantity::Word("connected at top and bottom, sound and plumb"))
                .basis(basis.max(posts.basis().filter(|_| basis.is_some())));
            all()
                .filter(|(_, part)| part.1 == Truth::Maybe)
                .fold(judgment, |judgment, (_, part)| judgment.decided_by(part.0))
        })
        .or_about(LookAt::Posts),
    );
}

#[cfg(test)]
mod tests {
    use crate::check::Ruling::{self, Met, NotApplicable, NotDetermined, NotMet};
    use crate::check::sample::{amended, changed, findings_under, ruling_after, shipped};
    use rstest::rstest;

    #[rstest]
    #[case(
        r#"posts = [{"top": "connected", "base": "connected", "sound_and_plumb": true}]"#,
        Met
    )]
    #[case(
        r#"posts = [{"top": "toenailed", "base": "nailed_block", "sound_and_plumb": true}]"#,
        Met
    )]
    #[case(
        r#"posts = [{"top": "bearing", "base": "connected", "sound_and_plumb": true}]"#,
        NotMet
    )]
    #[case(
        r#"posts = [{"top": "connected", "base": "bearing", "sound_and_plumb": true}]"#,
        NotMet
    )]
    #[case(
        r#"posts = [{"top": "connected", "base": "loose", "sound_and_plumb": true}]"#,
        NotMet
    )]
    #[case(
        r#"posts = [{"top": "connected", "base": "connected", "sound_and_plumb": false}]"#,
        NotMet
    )]
    #[case(r#"posts = [{"base": "connected", "sound_and_plumb": true}]"#, NotDetermined)]
    #[case(r#"posts = [{"base": "loose", "sound_and_plumb": true}]"#, NotMet)]
    #[case("posts = ?", NotDetermined)]
    #[case("posts = []", NotApplicable)]
    fn posts_are_held_at_both_ends(#[case] changes: &str, #[case] expected: Ruling) {
        let provisions = amended(&[("connected-posts", "", "yes")]);
        assert_eq!(ruling_after(changes, &provisions, "posts-connected"), expected);
    }

    #[rstest]
    #[case(
        "cebc-a3-2013",
        r#"posts = [{"top": "bearing", "base": "loose", "sound_and_plumb": false}]"#,
        NotApplicable
    )]
    #[case(
        "la-division-92-2018",
        r#"posts = [{"top": "bearing", "base": "loose", "sound_and_plumb": false}]"#,
        NotApplicable
    )]
    fn no_shipped_set_speaks_of_posts(#[case] set: &str, #[case] changes: &str, #[case] expected: Ruling) {
        assert_eq!(ruling_after(changes, &shipped(set), "posts-connected"), expected);
    }

    #[test]
    fn the_post_that_falls_short_is_the_one_shown() {
        let house = changed(
            r#"posts = [
                {"top": "connected", "base": "connected", "sound_and_plumb": true},
                {"top": "connected", "base": "loose", "sound_and_plumb": true}]"#,
        );
        let provisions = amended(&[("connected-posts", "", "yes")]);
        let found = findings_under(house, &provisions, "posts-connected");
        assert_eq!(found[0].path().unwrap(), "posts[1].base");
    }
}
