//! Items that count and items that do not: the one way in which single properties of anchors and panels are
//! judged.
//!
//! What does not count is a deficiency only where what counts is not enough. Otherwise it is surplus, and
//! something added to a house could make it worse.

use super::finding::{Judgment, Quantity};
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
        show: &impl Fn(&T) -> Quantity,
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
        let judgment = judgment
            .about(look_at, item)
            .measured(shown.map_or(Quantity::None, show))
            .basis(self.list.basis())
            .span(shown.and_then(place));
        if open.is_some() {
            judgment.decided_by(look_at)
        } else {
            judgment.decided_by(self.look_at_list)
        }
    }
}
