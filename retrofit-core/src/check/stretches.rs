//! Stretches of a wall line, each of which has to have what is asked for: shared by the checks on the
//! foundation, the sill and the framing of the cripple wall.

use super::context::Line;
use super::finding::{Judgment, Quantity};
use super::look_at::LookAt;
use super::outcome::{Outcome, Outcomes};
use crate::house::{CrippleStretch, FoundationStretch, Parts, SillPiece, Span};
use crate::measure::Length;
use crate::observation::{Basis, Observed};

/// A list of stretches.
pub(super) struct Stretches<'a, T> {
    list: &'a Observed<Vec<T>>,
    look_at_list: LookAt,
    span_of: fn(&T, Option<Length>) -> Span,
    /// What is there everywhere, also where the list leaves a part of the wall line out; `None` for what need
    /// not be.
    everywhere: Option<Parts>,
}

/// What a check reads of a stretch.
pub(super) struct Reading {
    /// What the stretch can come to.
    pub(super) outcomes: Outcomes,
    pub(super) measured: Quantity,
    pub(super) basis: Option<Basis>,
}

impl<'a> Stretches<'a, FoundationStretch> {
    pub(super) fn of_foundation(line: &Line<'a>) -> Self {
        Self {
            list: &line.wall.foundation,
            look_at_list: LookAt::Foundation,
            span_of: FoundationStretch::span,
            everywhere: Some(Parts::Foundation),
        }
    }
}

impl<'a> Stretches<'a, SillPiece> {
    pub(super) fn of_sill(line: &Line<'a>) -> Self {
        Self {
            list: &line.wall.sill,
            look_at_list: LookAt::Sill,
            span_of: SillPiece::span,
            everywhere: Some(Parts::Sill),
        }
    }
}

impl<'a> Stretches<'a, CrippleStretch> {
    pub(super) fn of_cripple_wall(line: &Line<'a>) -> Self {
        Self {
            list: &line.wall.cripple_wall,
            look_at_list: LookAt::CrippleWall,
            span_of: CrippleStretch::span,
            everywhere: None,
        }
    }
}

impl<T> Stretches<'_, T> {
    /// The strictest of all stretches, shown by the stretch that decides it. A stretch that was not recorded
    /// may come to anything in `unrecorded`.
    pub(super) fn judge(
        &self,
        line: &Line<'_>,
        unrecorded: Outcomes,
        look_at: LookAt,
        read: impl Fn(&T) -> Reading,
    ) -> Judgment {
        let Some(list) = self.list.value() else {
            return Judgment::new(unrecorded)
                .about(self.look_at_list, None)
                .decided_by(self.look_at_list);
        };
        let mut outcomes = Outcomes::only(Outcome::NotApplicable);
        let mut weakest = self.list.basis();
        let mut is_all_known = true;
        let mut is_any_open = false;
        let mut shown: Option<(usize, &T, Reading)> = None;
        for (item, stretch) in list.iter().enumerate() {
            let reading = read(stretch);
            outcomes = outcomes.strictest(reading.outcomes);
            is_any_open |= !reading.outcomes.is_determined();
            is_all_known &= reading.basis.is_some();
            weakest = weakest.max(reading.basis);
            if shown
                .as_ref()
                .is_none_or(|(_, _, other)| reading.is_closer_than(other))
            {
                shown = Some((item, stretch, reading));
            }
        }
        let spans = list.iter().map(|stretch| (self.span_of)(stretch, line.length()));
        let leaves_out = self
            .everywhere
            .is_some_and(|part| !line.is_covered_by(spans) || line.wall.unseen_of(part).next().is_some());
        if leaves_out {
            outcomes = outcomes.strictest(unrecorded);
        }
        let mut judgment = Judgment::new(outcomes).about(self.look_at_list, None);
        if let Some((item, stretch, reading)) = shown {
            // What is met rests on every stretch; what falls short, on the one that does.
            let basis = if outcomes.best() <= Outcome::Met {
                weakest.filter(|_| is_all_known)
            } else {
                reading.basis.max(self.list.basis())
            };
            judgment = judgment
                .about(look_at, Some(item))
                .measured(reading.measured)
                .basis(basis)
                .span(Some((self.span_of)(stretch, line.length())));
        }
        if is_any_open {
            judgment = judgment.decided_by(look_at);
        }
        if leaves_out {
            judgment = judgment.decided_by(self.look_at_list);
            if line.length().is_none() {
                judgment = judgment.decided_by(LookAt::WallLength);
            }
        }
        judgment
    }
}

impl Reading {
    /// Whether this stretch tells more of the whole: it comes to something worse, or, where both come to the
    /// same, it has the smaller dimension.
    fn is_closer_than(&self, other: &Self) -> bool {
        let rank = |reading: &Self| (reading.outcomes.best(), reading.outcomes.worst());
        rank(self) > rank(other)
            || rank(self) == rank(other)
                && matches!(
                    (self.measured, other.measured),
                    (Quantity::Length(a), Quantity::Length(b)) if a < b
                )
    }
}

/// Met or not met: what a stretch that was not recorded may come to, where something is asked of it.
pub(super) fn met_or_not() -> Outcomes {
    Outcomes::only(Outcome::Met).or(Outcomes::only(Outcome::NotMet))
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::{Value, json};

    use crate::check::look_at::LookAt;
    use crate::check::trial::*;

    /// What was named as not seen may be other than the record says of the whole length.
    #[rstest]
    #[case::foundation("foundation-condition", json!(["foundation"]), Some(LookAt::Foundation))]
    #[case::kind_of_foundation("foundation-kind", json!(["foundation"]), Some(LookAt::Foundation))]
    #[case::sill("sill-soundness", json!(["sill"]), Some(LookAt::Sill))]
    #[case::splices("anchor-end-distance", json!(["sill"]), Some(LookAt::Sill))]
    #[case::another_part("foundation-condition", json!(["sill", "openings"]), None)]
    #[case::another_part_than_the_sill("sill-soundness", json!(["foundation"]), None)]
    #[case::whatever_could_not_be_seen("foundation-condition", json!([]), None)]
    fn an_unseen_stretch_is_not_taken_on_trust(
        #[case] check: &str,
        #[case] parts: Value,
        #[case] looks_at: Option<LookAt>,
    ) {
        let wall = wall_with(&json!({
            "foundation": [{"kind": "concrete", "condition": "sound"}],
            "sill": [{"soundness": "sound"}],
        }));
        assert_eq!(ruling(check, &wall), "met");
        let unseen =
            json!({"unseen": [{"from": "2 ft", "to": "4 ft", "parts": parts, "why": "stored things"}]});
        let said = ask(check, CEBC, 1, &with(&wall, &unseen));
        match looks_at {
            Some(looks_at) => {
                assert_eq!(said.ruling, "not determined");
                assert!(said.deciding.contains(&looks_at), "{:?}", said.deciding);
            }
            None => assert_eq!(said.ruling, "met"),
        }
    }
}
