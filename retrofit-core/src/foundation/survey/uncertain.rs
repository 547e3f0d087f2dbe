//! A number with what it can be off.

use crate::observation::Truth;

/// A number computed from readings, with the most that it can be off; without a bound where a reading stands
/// on a finish whose thickness is not known.
///
/// What single readings can be off is added up in full, not as squares: readings of one instrument on one day
/// need not be independent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Uncertain {
    /// Its value by the readings.
    pub likely: f64,
    /// The most it can be off either way; infinite where that is not known.
    pub off: f64,
}

impl Uncertain {
    /// A number.
    pub const fn new(likely: f64, off: f64) -> Self {
        Self { likely, off }
    }

    /// Its size whatever its sign.
    #[must_use]
    pub const fn size(self) -> Self {
        Self {
            likely: self.likely.abs(),
            off: self.off,
        }
    }

    /// The number divided by a positive one that is exact.
    #[must_use]
    pub fn over(self, divisor: f64) -> Self {
        Self {
            likely: self.likely / divisor,
            off: self.off / divisor,
        }
    }

    /// Whether the number, zero or more, is at most a limit.
    ///
    /// ```
    /// use retrofit_core::foundation::survey::Uncertain;
    /// use retrofit_core::observation::Truth;
    /// assert_eq!(Uncertain::new(0.5, 0.1).at_most(1.0), Truth::True);
    /// assert_eq!(Uncertain::new(0.95, 0.1).at_most(1.0), Truth::Maybe);
    /// assert_eq!(Uncertain::new(0.5, f64::INFINITY).at_most(1.0), Truth::Maybe);
    /// ```
    pub fn at_most(self, limit: f64) -> Truth {
        let (least, most) = (self.likely - self.off, self.likely + self.off);
        Truth::from_cases(least <= limit, most <= limit)
    }
}
