//! Items that count and items that do not: the one way in which single properties of anchors and panels are
//! judged.
//!
//! What does not count is a deficiency only where what counts is not enough. Otherwise it is surplus, and
//! something added to a house could make it worse.

use super::finding::{Found, Judgment, Quantity};
use super::look_at::LookAt;
use crate::house::Span;
use crate::observation::{Observed, Truth};

/// A list of items, and whether those that count are enough.
pub(super) struct Credit<'a, T> {
    pub(super) list: &'a Observed<Vec<T>>,
    pub(super) enough: Truth,
    /// Whether the provisions ask for an amount at all: without one nothing can be called enough.
    pub(super) amount_is_asked: bool,
    pub(super) look_at_list: LookAt,
    pub(super) words: CreditWords,
}

/// What is said of the items.
pub(super) struct CreditWords {
    pub(super) not_recorded: &'static str,
    pub(super) none: &'static str,
    pub(super) all: &'static str,
    pub(super) surplus: &'static str,
    pub(super) no_amount: &'static str,
    pub(super) failing: &'static str,
    pub(super) open: &'static str,
}

impl<T> Credit<'_, T> {
    /// Judges one property of the items.
    pub(super) fn judge(
        &self,
        look_at: LookAt,
        has_property: impl Fn(&T) -> Truth,
        show: &impl Fn(&T) -> Found,
        place: impl Fn(&T) -> Option<Span>,
    ) -> Judgment {
        let Some(list) = self.list.value() else {
            // There may be none: then there is nothing to judge.
            return Judgment::met_if(Truth::Maybe)
                .applicable_if(Truth::Maybe, self.words.none, self.look_at_list)
                .fact(self.words.not_recorded)
                .about(self.look_at_list, None);
        };
        if list.is_empty() {
            return Judgment::not_applicable(self.words.none).about(self.look_at_list, None);
        }
        let first = |answer: Truth| list.iter().position(|item| has_property(item) == answer);
        let (failing, open) = (first(Truth::False), first(Truth::Maybe));
        let judgment = match (failing.or(open), self.enough) {
            (None, _) => Judgment::met_if(Truth::True).fact(self.words.all),
            (Some(_), _) if !self.amount_is_asked => {
                let judgment = Judgment::not_applicable(self.words.no_amount);
                if failing.is_some() {
                    judgment
                } else {
                    judgment.or(Judgment::met_if(Truth::True))
                }
            }
            (Some(_), Truth::True) => Judgment::met_if(Truth::True).fact(self.words.surplus),
            (Some(_), enough) => {
                let answer = if failing.is_some() && enough == Truth::False {
                    Truth::False
                } else {
                    Truth::Maybe
                };
                Judgment::met_if(answer).facts("", self.words.failing, self.words.open)
            }
        };
        let item = failing.or(open);
        let shown = list.get(item.unwrap_or(0));
        let found = shown.map(show);
        // What is met rests on every item; what falls short or is open, on the one that does or is. Nothing is
        // better known than that the item is there.
        let basis = match item {
            Some(_) => found.and_then(|found| found.basis),
            None => list.iter().filter_map(|item| show(item).basis).max(),
        };
        let judgment = judgment
            .about(look_at, item.or(Some(0)))
            .measured(found.map_or(Quantity::None, |found| found.measured))
            .basis(basis.max(self.list.basis().filter(|_| basis.is_some())))
            .span(shown.and_then(place));
        if open.is_some() {
            judgment.decided_by(look_at)
        } else {
            judgment.decided_by(self.look_at_list)
        }
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::{Value, json};

    use crate::check::trial::*;
    use crate::observation::Basis;

    /// How a single property is known, not how its list is: a washer somebody told of, on an anchor seen.
    #[rstest]
    #[case("anchor-washer", "anchors", json!({"washer": {"reported": "2 in x 2 in x 1/4 in"}}), Some(Basis::Reported))]
    #[case("anchor-washer", "anchors", json!({"washer": {"reported": "3 in x 3 in x 1/4 in"}}), Some(Basis::Reported))]
    #[case("anchor-kind", "anchors", json!({"kind": {"inferred": "nail"}}), Some(Basis::Inferred))]
    #[case("anchor-diameter", "anchors", json!({"diameter": {"measured": "3/8 in"}}), Some(Basis::Seen))]
    #[case("anchor-diameter", "anchors", json!({"diameter": {"unknown": "nut and washer rusted"}}), None)]
    #[case("panel-sheathing", "panels", json!({"sheathing": {"reported": "stucco"}, "thickness": null}), Some(Basis::Reported))]
    #[case("panel-nailing", "panels", json!({"nail": {"inferred": "6d box"}}), Some(Basis::Inferred))]
    #[case("panel-joints", "panels", json!({"joints_blocked": {"reported": false}}), Some(Basis::Reported))]
    #[case("panel-foot", "panels", json!({"foot": {"reported": "short"}}), Some(Basis::Reported))]
    #[case("panel-openings", "panels", json!({"cut_through": {"inferred": true}}), Some(Basis::Inferred))]
    #[case("panel-proportion", "panels", json!({"to": "5 in", "from": "0 in"}), Some(Basis::Seen))]
    fn a_property_is_known_as_itself(
        #[case] check: &str,
        #[case] list: &str,
        #[case] changes: Value,
        #[case] expected: Option<Basis>,
    ) {
        let mut wall = good_wall();
        wall[list][0] = with(&wall[list][0], &changes);
        let said = ask(check, CEBC, 1, &wall);
        assert_eq!(said.findings[0].basis, expected);
    }

    /// The same holds of what a record says of several together: a run, a summary, a stretch of connections.
    #[rstest]
    #[case("anchor-spacing", json!({"anchors": [{"spacing": {"reported": "4 ft"}}]}))]
    #[case("anchor-end-distance", json!({"anchors": [{"spacing": "4 ft", "end_distance": {"reported": "9 in"}}]}))]
    #[case("bracing-length", json!({"panels": [{"total_length": {"reported": "8 ft"}}]}))]
    #[case("bracing-ends", json!({"panels": [{"at_each_end": {"reported": true}}]}))]
    #[case("floor-connection", json!({"connections": [{"kind": "clips", "spacing": {"reported": "16 in"}}]}))]
    fn so_is_what_is_said_of_several(#[case] check: &str, #[case] changes: Value) {
        let said = ask(check, CEBC, 2, &wall_with(&changes));
        assert_eq!(said.findings[0].basis, Some(Basis::Reported));
    }
}
