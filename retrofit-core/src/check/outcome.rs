//! What a check can come to, and sets of it where an unknown leaves more than one open.

use std::fmt;

use serde::{Deserialize, Serialize, Serializer};

/// What a check comes to once everything is known, from the best to the worst.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Outcome {
    /// The provisions ask nothing here.
    NotApplicable,
    /// What was found is what the provisions ask, or better.
    Met,
    /// What was found falls short.
    NotMet,
    /// The house or wall line is outside the prescriptive provisions: an engineer or architect has to
    /// design its strengthening.
    Outside,
}

impl Outcome {
    const ALL: [Self; 4] = [Self::NotApplicable, Self::Met, Self::NotMet, Self::Outside];

    const fn bit(self) -> u8 {
        match self {
            Self::NotApplicable => 1,
            Self::Met => 2,
            Self::NotMet => 4,
            Self::Outside => 8,
        }
    }
}

/// The outcomes that are possible, given what is not known. Never empty.
///
/// ```
/// use retrofit_core::check::{Outcome, Outcomes, Ruling};
/// let open = Outcomes::only(Outcome::Met).or(Outcomes::only(Outcome::NotMet));
/// assert_eq!(open.ruling(), Ruling::NotDetermined);
/// assert_eq!((open.best(), open.worst()), (Outcome::Met, Outcome::NotMet));
/// // Together with something that is surely not met, the whole is surely not met.
/// assert_eq!(open.strictest(Outcomes::only(Outcome::NotMet)).ruling(), Ruling::NotMet);
/// ```
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub struct Outcomes(u8);

impl Outcomes {
    /// One outcome, whatever the unknowns are.
    pub const fn only(outcome: Outcome) -> Self {
        Self(outcome.bit())
    }

    /// Any outcome of either set.
    #[must_use]
    pub const fn or(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// The stricter of one outcome from each set, for every pair.
    #[must_use]
    pub fn strictest(self, other: Self) -> Self {
        // The stricter of a pair is never better than the better set's worst best: keep, of both sets, what
        // is at least as strict as the best outcome of the other. A set's best outcome is its lowest bit.
        let at_least_best_of = |set: Self| !(set.0 & set.0.wrapping_neg()).wrapping_sub(1);
        Self((self.0 & at_least_best_of(other)) | (other.0 & at_least_best_of(self)))
    }

    /// A word for the set, such that the words of some sets or-ed tell the strictest of them all: its outcomes and, in the
    /// upper byte, all that are better than its best.
    pub(crate) const fn word(self) -> u16 {
        let best = self.0 & self.0.wrapping_neg();
        u16::from_le_bytes([self.0, best.wrapping_sub(1)])
    }

    /// The strictest of some sets, of their words or-ed.
    #[inline]
    pub(crate) const fn strictest_of(words: u16) -> Self {
        let [any, better] = words.to_le_bytes();
        Self(any & !better)
    }

    /// Whether an outcome is possible.
    pub const fn contains(self, outcome: Outcome) -> bool {
        self.0 & outcome.bit() != 0
    }

    /// The best that is possible.
    pub const fn best(self) -> Outcome {
        Self::of_bit(self.0.trailing_zeros())
    }

    /// The worst that is possible.
    pub const fn worst(self) -> Outcome {
        Self::of_bit(7u32.wrapping_sub(self.0.leading_zeros()))
    }

    const fn of_bit(position: u32) -> Outcome {
        match position {
            0 => Outcome::NotApplicable,
            1 => Outcome::Met,
            2 => Outcome::NotMet,
            _ => Outcome::Outside,
        }
    }

    /// How many bits tell it apart from every other set.
    pub(super) const BITS: u32 = 4;

    /// Those bits.
    pub(super) const fn bits(self) -> u8 {
        self.0
    }

    /// Whether only one outcome is possible.
    pub const fn is_determined(self) -> bool {
        self.0.is_power_of_two()
    }

    /// The outcome in the words of a report.
    ///
    /// What is surely not met stays *not met* even where an unknown could still put it outside the
    /// provisions; what is not applicable or met stays *not determined* until it is known which.
    pub const fn ruling(self) -> Ruling {
        const NOT_SHORT: u8 = Outcome::NotApplicable.bit() | Outcome::Met.bit();
        let may_be_met = self.0 & NOT_SHORT != 0;
        let may_fall_short = self.0 & !NOT_SHORT != 0;
        match (may_be_met, may_fall_short) {
            (true, true) => Ruling::NotDetermined,
            (true, false) if self.contains(Outcome::Met) => Ruling::Met,
            (true, false) => Ruling::NotApplicable,
            _ if self.contains(Outcome::NotMet) => Ruling::NotMet,
            _ => Ruling::Outside,
        }
    }
}

impl fmt::Debug for Outcomes {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_set()
            .entries(Outcome::ALL.into_iter().filter(|outcome| self.contains(*outcome)))
            .finish()
    }
}

impl Serialize for Outcomes {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(Outcome::ALL.into_iter().filter(|outcome| self.contains(*outcome)))
    }
}

/// The outcome of a check, a wall line or a house, as a report says it.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, schemars::JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum Ruling {
    /// The provisions ask nothing here.
    NotApplicable,
    /// Met.
    Met,
    /// An observation that was not made decides it.
    NotDetermined,
    /// Not met.
    NotMet,
    /// Outside the prescriptive provisions.
    Outside,
}

impl Ruling {
    /// Every ruling, in their order.
    pub(crate) const ALL: [Self; 5] = [
        Self::NotApplicable,
        Self::Met,
        Self::NotDetermined,
        Self::NotMet,
        Self::Outside,
    ];

    /// The ruling in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::NotApplicable => "not applicable",
            Self::Met => "met",
            Self::NotDetermined => "not determined",
            Self::NotMet => "not met",
            Self::Outside => "outside the prescriptive provisions",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[rstest::rstest]
    #[case(&[Outcome::NotApplicable], Ruling::NotApplicable)]
    #[case(&[Outcome::NotApplicable, Outcome::Met], Ruling::Met)]
    #[case(&[Outcome::Met], Ruling::Met)]
    #[case(&[Outcome::NotApplicable, Outcome::NotMet], Ruling::NotDetermined)]
    #[case(&[Outcome::Met, Outcome::Outside], Ruling::NotDetermined)]
    #[case(&[Outcome::NotMet], Ruling::NotMet)]
    #[case(&[Outcome::NotMet, Outcome::Outside], Ruling::NotMet)]
    #[case(&[Outcome::Outside], Ruling::Outside)]
    fn rulings(#[case] possible: &[Outcome], #[case] ruling: Ruling) {
        let outcomes = possible.iter().map(|outcome| Outcomes::only(*outcome));
        assert_eq!(outcomes.reduce(Outcomes::or).unwrap().ruling(), ruling);
    }

    /// All fifteen sets, against the definition: the stricter of every pair.
    #[test]
    fn strictest_is_the_stricter_of_every_pair() {
        for a in 1..16 {
            for b in 1..16 {
                let mut expected = 0;
                for x in Outcome::ALL.into_iter().filter(|x| Outcomes(a).contains(*x)) {
                    for y in Outcome::ALL.into_iter().filter(|y| Outcomes(b).contains(*y)) {
                        expected |= x.max(y).bit();
                    }
                }
                assert_eq!(Outcomes(a).strictest(Outcomes(b)), Outcomes(expected), "{a} {b}");
            }
        }
    }
}
