//! In what a piece differs from what was designed.

use super::{Compared, Difference};
use crate::check::{LookAt, Quantity};
use crate::choice::Choice;
use crate::measure::Length;
use crate::observation::{Observed, Truth};

/// The differences of one piece, collected.
#[derive(Default)]
pub(super) struct Differences(pub(super) Vec<Difference>);

impl Differences {
    fn add(&mut self, look_at: LookAt, designed: Quantity, built: Quantity, is: Compared) {
        self.0.push(Difference {
            look_at,
            designed,
            built,
            is,
        });
    }

    /// A term that has to be the same.
    pub(super) fn term<T: Choice>(&mut self, look_at: LookAt, designed: T, built: &Observed<T>) {
        self.same(look_at, designed, built, |term| Quantity::Word(term.words()));
    }

    /// A yes or no that has to be the same.
    pub(super) fn yes(&mut self, look_at: LookAt, designed: bool, built: &Observed<bool>) {
        self.same(look_at, designed, built, |yes| {
            Quantity::Word(if yes { "yes" } else { "no" })
        });
    }

    /// A value that has to be the same.
    pub(super) fn same<T: Copy + PartialEq>(
        &mut self,
        look_at: LookAt,
        designed: T,
        built: &Observed<T>,
        show: impl Fn(T) -> Quantity,
    ) {
        self.good_if(look_at, designed, built, |built| built == designed, show);
    }

    /// A value that has to be as good.
    pub(super) fn good_if<T: Copy>(
        &mut self,
        look_at: LookAt,
        designed: T,
        built: &Observed<T>,
        is_good: impl FnOnce(T) -> bool,
        show: impl Fn(T) -> Quantity,
    ) {
        match built.value() {
            Some(value) if is_good(*value) => {}
            Some(value) => self.add(look_at, show(designed), show(*value), Compared::Other),
            None => self.add(look_at, show(designed), Quantity::None, Compared::NotRecorded),
        }
    }

    /// A length of at least so much; `None` where the design asks for none.
    pub(super) fn at_least(&mut self, look_at: LookAt, least: Option<Length>, built: &Observed<Length>) {
        let Some(least) = least else { return };
        let is = match built.at_least(least) {
            Truth::True => return,
            Truth::False => Compared::Less,
            Truth::Maybe => Compared::NotRecorded,
        };
        self.add(look_at, Quantity::Length(least), Quantity::of_length(built), is);
    }

    /// A length of at most so much.
    pub(super) fn at_most(&mut self, look_at: LookAt, most: Option<Length>, built: &Observed<Length>) {
        let Some(most) = most else { return };
        let is = match built.at_most(most) {
            Truth::True => return,
            Truth::False => Compared::More,
            Truth::Maybe => Compared::NotRecorded,
        };
        self.add(look_at, Quantity::Length(most), Quantity::of_length(built), is);
    }

    /// A length that has to be this one: more is told as well.
    pub(super) fn exactly(&mut self, look_at: LookAt, designed: Option<Length>, built: &Observed<Length>) {
        let before = self.0.len();
        self.at_least(look_at, designed, built);
        if self.0.len() == before {
            self.at_most(look_at, designed, built);
        }
    }
}
