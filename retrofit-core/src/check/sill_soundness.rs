//! Whether the sill plate is free of decay and insect damage.

use super::context::Line;
use super::finding::{Findings, Judgment, Quantity};
use super::look_at::LookAt;
use super::registry::{Check, Explanation, Group, Run};
use super::stretches::{Reading, Stretches, met_or_not};
use crate::house::SillSoundness;
use crate::observation::Truth;
use crate::provisions::{FigureName, keys};

pub(super) static CHECK: Check = Check {
    name: "sill-soundness",
    group: Group::Sill,
    title: "Sound sill plate",
    explanation: Explanation {
        looks_at: "Decay by fungus and damage by insects in every piece of the sill plate.",
        why: "The sill passes the whole push of the house to the anchors; soft wood lets the bolts tear through it.",
        satisfied_by: "Sill pieces free of decay and insect damage. A split piece is reported, but these provisions set no rule for splits.",
        fix: "Replace decayed pieces; strengthen or replace pieces damaged by insects; find and stop the source of the damp.",
    },
    figures: &[FigureName::SoundSill],
    reads: &[LookAt::WallLength, LookAt::Sill, LookAt::SillSoundness],
    run: Run::Line(check),
};

fn check(line: &Line<'_>, findings: &mut Findings) {
    findings.add(Judgment::by(line.rule(keys::SOUND_SILL), |_| {
        let is_split = line
            .sill()
            .iter()
            .any(|piece| piece.soundness.value() == Some(&SillSoundness::Split));
        Stretches::of_sill(line)
            .judge(line, met_or_not(), LookAt::SillSoundness, |piece| {
                let is_sound = match piece.soundness.value() {
                    // Wood has to be free of defects that take much of its strength; whether a split does is
                    // for whoever stands before it.
                    Some(SillSoundness::Split) | None => Truth::Maybe,
                    Some(found) => (*found == SillSoundness::Sound).into(),
                };
                Reading {
                    outcomes: Judgment::met_if(is_sound).outcomes(),
                    measured: Quantity::of_choice(&piece.soundness),
                    basis: piece.soundness.basis(),
                }
            })
            .facts(
                "The sill is sound.",
                "A sill piece is decayed or damaged by insects.",
                if is_split {
                    "A sill piece is split; whether the split takes much of its strength has to be judged on the spot."
                } else {
                    "Whether the sill is sound was not found out along the whole wall line."
                },
            )
            .required(Quantity::Word("sound"))
    }).or_about(LookAt::Sill));
}

#[cfg(test)]
mod tests {
    use crate::check::Ruling::{self, Met, NotApplicable, NotDetermined, NotMet};
    use crate::check::sample::{changed, findings, ruling_after, shipped};
    use crate::observation::Basis;
    use rstest::rstest;

    #[rstest]
    #[case("cebc-a3-2013", r#"wall.sill = [{"soundness": "sound"}]"#, Met)]
    #[case("cebc-a3-2013", r#"wall.sill = [{"soundness": "split"}]"#, NotDetermined)]
    #[case("cebc-a3-2013", r#"wall.sill = [{"soundness": "insects"}]"#, NotMet)]
    #[case("cebc-a3-2013", r#"wall.sill = [{"soundness": "decayed"}]"#, NotMet)]
    #[case("cebc-a3-2013", "wall.sill = [{}]", NotDetermined)]
    #[case("cebc-a3-2013", "wall.sill = ?", NotDetermined)]
    #[case("la-division-92-2018", r#"wall.sill = [{"soundness": "decayed"}]"#, NotMet)]
    #[case(
        "crc-2013-new-construction",
        r#"wall.sill = [{"soundness": "decayed"}]"#,
        NotApplicable
    )]
    fn decay_and_insects_fall_short(#[case] set: &str, #[case] changes: &str, #[case] expected: Ruling) {
        assert_eq!(ruling_after(changes, &shipped(set), "sill-soundness"), expected);
    }

    #[test]
    fn a_split_is_told_though_no_rule_speaks_of_it() {
        let house = changed(r#"wall.sill = [{"soundness": "split"}]"#);
        let found = findings(house, "cebc-a3-2013", "sill-soundness");
        assert!(found[0].fact.contains("split"), "{}", found[0].fact);
    }

    #[test]
    fn what_is_met_rests_on_the_weakest_observation() {
        let house = changed(
            r#"wall.sill = [
                {"to": "12 ft", "soundness": {"seen": "sound"}},
                {"from": "12 ft", "soundness": {"reported": "sound"}}]"#,
        );
        let found = findings(house, "cebc-a3-2013", "sill-soundness");
        assert_eq!(found[0].basis, Some(Basis::Reported));
    }
}
