//! A number that is known, or known by a low, a likely and a high value.

use serde::Serialize;

/// A number by its ends: where low and high are alike it is known.
///
/// How likely each of the three is, is a row of the tables: so an estimate has a mean, and a draw.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Estimate {
    /// The low value.
    pub low: f64,
    /// The likely value.
    pub likely: f64,
    /// The high value.
    pub high: f64,
}

impl Estimate {
    /// A number that is known.
    pub const fn known(value: f64) -> Self {
        Self {
            low: value,
            likely: value,
            high: value,
        }
    }

    /// Whether nothing is left open.
    pub fn is_known(self) -> bool {
        self.low.total_cmp(&self.high).is_eq()
    }

    /// The mean, where each end is as likely as `end` says and the likely value takes the rest.
    ///
    /// ```
    /// use retrofit_core::ranking::Estimate;
    /// let estimate = Estimate { low: 1.0, likely: 2.0, high: 5.0 };
    /// assert_eq!(estimate.mean(0.25), 0.25 * 1.0 + 0.5 * 2.0 + 0.25 * 5.0);
    /// assert_eq!(Estimate::known(3.0).mean(0.25), 3.0);
    /// ```
    pub fn mean(self, end: f64) -> f64 {
        if self.is_known() {
            return self.likely;
        }
        self.points(end)
            .iter()
            .map(|(weight, value)| weight * value)
            .sum()
    }

    /// The three values, each with how likely it is.
    pub fn points(self, end: f64) -> [(f64, f64); 3] {
        [(end, self.low), (1.0 - 2.0 * end, self.likely), (end, self.high)]
    }

    /// The value at one end.
    pub(super) const fn at(self, end: End) -> f64 {
        match end {
            End::Low => self.low,
            End::Likely => self.likely,
            End::High => self.high,
        }
    }

    /// The value that a number drawn evenly from 0 to 1 falls on.
    pub fn drawn(self, end: f64, even: f64) -> f64 {
        self.at(End::drawn(end, even))
    }

    /// A function of the number that rises with it, end by end.
    #[must_use]
    pub fn map(self, of: impl Fn(f64) -> f64) -> Self {
        Self {
            low: of(self.low),
            likely: of(self.likely),
            high: of(self.high),
        }
    }

    /// A function of two numbers of which nothing is known but that both are low, likely or high together.
    #[must_use]
    pub fn with(self, other: Self, of: impl Fn(f64, f64) -> f64) -> Self {
        Self {
            low: of(self.low, other.low),
            likely: of(self.likely, other.likely),
            high: of(self.high, other.high),
        }
    }

    /// The product of two such numbers.
    #[must_use]
    pub fn times(self, other: Self) -> Self {
        self.with(other, |one, other| one * other)
    }
}

/// The three values of an estimate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum End {
    Low,
    Likely,
    High,
}

impl End {
    /// All, from the lowest.
    pub(super) const ALL: [Self; 3] = [Self::Low, Self::Likely, Self::High];

    /// The one that a number drawn evenly from 0 to 1 falls on, where low and high are each as likely as told.
    pub(super) fn drawn(end: f64, even: f64) -> Self {
        // Without a branch, which would go the wrong way as often as not.
        let at = usize::from(even >= end) * (1 + usize::from(even >= 1.0 - end));
        Self::ALL.get(at).copied().unwrap_or(Self::High)
    }
}
