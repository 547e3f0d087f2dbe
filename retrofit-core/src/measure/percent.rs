//! Percentages, exact to a hundredth of a percent.

use std::{fmt, str::FromStr};

use super::{
    error::{Fault, MeasureError, Quantity},
    length::Length,
    text::{Scanner, decimal_text, read},
    wire::travels_as_text,
};

const MOST_HUNDREDTHS: u32 = 100_000;
const HUNDREDTHS_PER_WHOLE: i128 = 10_000;

/// A percentage from 0% to 1000%, held in whole hundredths of a percent.
///
/// # Text
///
/// Reads `40%`, `40 %`, `33.3%`, or `40 percent`, with at most two decimals;
/// writes `40%`. A bare number is refused, because 0.4 could be 40% or 0.4%.
///
/// ```
/// use retrofit_core::measure::{Length, Percent};
///
/// let required: Percent = "40%".parse()?;
/// let wall = Length::feet(30);
/// assert_eq!(required.of(wall), Length::feet(12));
/// assert!(required.reached_by(Length::feet(12), wall));
/// assert!(!required.reached_by("11'-11 63/64\"".parse()?, wall));
/// # Ok::<(), retrofit_core::measure::MeasureError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Percent(u32);

impl Percent {
    /// Nothing, 0%.
    pub const ZERO: Self = Self(0);

    /// The whole, 100%.
    pub const WHOLE: Self = Self(10_000);

    /// A percentage in hundredths of a percent; `None` beyond 1000%.
    ///
    /// ```
    /// use retrofit_core::measure::Percent;
    ///
    /// assert_eq!(Percent::from_hundredths(3_330), "33.3%".parse().ok());
    /// ```
    #[must_use]
    pub const fn from_hundredths(hundredths: u32) -> Option<Self> {
        if hundredths <= MOST_HUNDREDTHS {
            Some(Self(hundredths))
        } else {
            None
        }
    }

    /// The percentage in hundredths of a percent, exactly.
    #[must_use]
    pub const fn hundredths(self) -> u32 {
        self.0
    }

    /// The share of `part` in `whole` for display, rounded down to a hundredth
    /// of a percent. To compare with a requirement, use
    /// [`Percent::reached_by`], which does not round.
    ///
    /// `None` if `whole` is not positive, `part` is negative, or the share
    /// exceeds 1000%.
    ///
    /// ```
    /// use retrofit_core::measure::{Length, Percent};
    ///
    /// let share = Percent::ratio(Length::feet(10), Length::feet(30));
    /// assert_eq!(share, "33.33%".parse().ok());
    /// ```
    #[must_use]
    pub fn ratio(part: Length, whole: Length) -> Option<Self> {
        if part < Length::ZERO || whole <= Length::ZERO {
            return None;
        }
        let hundredths = nanometers(part) * HUNDREDTHS_PER_WHOLE / nanometers(whole);
        u32::try_from(hundredths).ok().and_then(Self::from_hundredths)
    }

    /// This share of a length, rounded up to a whole nanometer so that a
    /// required length is never understated; saturating beyond 9 million km.
    #[must_use]
    pub fn of(self, whole: Length) -> Length {
        let product = nanometers(whole) * i128::from(self.0);
        let down = product.div_euclid(HUNDREDTHS_PER_WHOLE);
        let up = down + i128::from(product.rem_euclid(HUNDREDTHS_PER_WHOLE) > 0);
        let beyond = if up > 0 { i64::MAX } else { i64::MIN };
        Length::from_nanometers(i64::try_from(up).unwrap_or(beyond))
    }

    /// Whether `part` is at least this share of `whole`, exactly.
    ///
    /// Never true if `whole` is not positive: no part of nothing can show that
    /// a requirement is met.
    #[must_use]
    pub fn reached_by(self, part: Length, whole: Length) -> bool {
        whole > Length::ZERO
            && nanometers(part) * HUNDREDTHS_PER_WHOLE >= nanometers(whole) * i128::from(self.0)
    }
}

/// Widened, so that scaling by a percentage cannot overflow.
fn nanometers(length: Length) -> i128 {
    i128::from(length.nanometers())
}

impl fmt::Display for Percent {
    /// Writes the exact percentage; a width such as `{:>8}` pads it. Give no
    /// precision: it would cut the text short.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&format!("{}%", decimal_text(u128::from(self.0), 2)))
    }
}

impl FromStr for Percent {
    type Err = MeasureError;

    /// Reads a percentage with its percent sign.
    ///
    /// # Errors
    ///
    /// Refuses a bare number, a negative value, more than two decimals, more
    /// than 1000%, and any text beyond 64 characters or outside the forms that
    /// [`Percent`] documents.
    fn from_str(text: &str) -> Result<Self, MeasureError> {
        read(Quantity::Percent, text, read_percent)
    }
}

fn read_percent(scanner: &mut Scanner<'_>) -> Result<Percent, Fault> {
    scanner.no_minus()?;
    let number = scanner.decimal()?;
    scanner.percent_sign()?;
    u32::try_from(number.of_unit(100)?)
        .ok()
        .and_then(Percent::from_hundredths)
        .ok_or(Fault::TooLarge)
}

travels_as_text!(
    Percent,
    description: "An exact percentage with its percent sign, from 0% to 1000% and with at most \
                  two decimals.",
    examples: ["40%", "33.3%", "100%"],
    pattern: "[0-9]\\s*(%|[Pp][Ee][Rr][Cc][Ee][Nn][Tt])\\s*$",
);

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::MeasureErrorKind::{self, *};
    use proptest::prelude::*;
    use rstest::rstest;

    fn percent(text: &str) -> Percent {
        text.parse().unwrap_or_else(|error| panic!("{error}"))
    }

    #[rstest]
    #[case("40 %", 4_000)]
    #[case("40%", 4_000)]
    #[case("33.3 %", 3_330)]
    #[case("33.33 %", 3_333)]
    #[case("33.3000 %", 3_330)]
    #[case(".5 %", 50)]
    #[case("+40 %", 4_000)]
    #[case("40 Percent", 4_000)]
    #[case(" 0 % ", 0)]
    #[case("1000 %", 100_000)]
    fn accepts(#[case] text: &str, #[case] hundredths: u32) {
        assert_eq!(percent(text).hundredths(), hundredths);
    }

    #[rstest]
    #[case("", Empty, "found no text")]
    #[case(
        "40",
        MissingUnit,
        r#"found the bare number 40; write the percent sign, for example "40%""#
    )]
    #[case("40 in", UnknownUnit, r#"the unit "in" is not"#)]
    #[case("33.333 %", NotExact, "two decimals")]
    #[case("1000.01 %", TooLarge, "1000%")]
    #[case("99999999999999999999999999999999999999999 %", TooLarge, "1000%")]
    #[case("-1 %", Negative, "without a minus sign")]
    #[case("% 40", Malformed, "begin with a number")]
    #[case("NaN %", Malformed, "begin with a number")]
    #[case("4e1 %", Malformed, "without an exponent")]
    #[case("40 % or so", Malformed, r#"remove or correct "or so""#)]
    fn refuses(#[case] text: &str, #[case] kind: MeasureErrorKind, #[case] message: &str) {
        let error = text.parse::<Percent>().unwrap_err();
        assert_eq!(error.kind(), kind, "{error}");
        assert!(error.to_string().contains(message), "{error}");
    }

    #[test]
    fn every_percentage_reads_back() {
        for hundredths in 0..=MOST_HUNDREDTHS {
            let written = Percent(hundredths);
            assert_eq!(percent(&written.to_string()), written);
        }
        assert_eq!(Percent::from_hundredths(MOST_HUNDREDTHS + 1), None);
    }

    #[test]
    fn display_pads() {
        assert_eq!(format!("[{:>8}]", percent("33.3 %")), "[   33.3%]");
    }

    #[rstest]
    #[case(1, 1)]
    #[case(3, 1)]
    #[case(4, 2)]
    #[case(0, 0)]
    #[case(-1, 0)]
    #[case(-4, -1)]
    #[case(i64::MAX, i64::MAX / 100 * 33 + 3)]
    fn share_rounds_up(#[case] nanometers: i64, #[case] share: i64) {
        let of = percent("33 %").of(Length::from_nanometers(nanometers));
        assert_eq!(of.nanometers(), share);
    }

    #[test]
    fn share_saturates() {
        let ends = [i64::MIN, i64::MAX].map(Length::from_nanometers);
        assert_eq!(ends.map(|end| percent("1000 %").of(end)), ends);
    }

    #[test]
    fn ratio_rounds_down_and_needs_a_whole() {
        let nm = Length::from_nanometers;
        assert_eq!(Percent::ratio(nm(2), nm(3)), Some(percent("66.66 %")));
        assert_eq!(Percent::ratio(nm(10), nm(1)), Some(percent("1000 %")));
        assert_eq!(Percent::ratio(nm(11), nm(1)), None);
        assert_eq!(Percent::ratio(nm(1), nm(0)), None);
        assert_eq!(Percent::ratio(nm(-1), nm(1)), None);
        assert_eq!(Percent::ratio(nm(i64::MAX), nm(i64::MAX)), Some(Percent::WHOLE));
    }

    #[test]
    fn nothing_shows_no_requirement_met() {
        assert!(!Percent::ZERO.reached_by(Length::ZERO, Length::ZERO));
        assert!(Percent::ZERO.reached_by(Length::ZERO, Length::feet(1)));
    }

    #[test]
    fn json_is_the_text_and_never_a_number() {
        let json = serde_json::to_string(&percent("40 %")).unwrap();
        assert_eq!(json, r#""40%""#);
        assert_eq!(serde_json::from_str::<Percent>(&json).unwrap(), percent("40 %"));
        let error = serde_json::from_str::<Percent>("40").unwrap_err().to_string();
        assert!(error.contains("found the bare number 40"), "{error}");
    }

    #[test]
    fn schema_examples_are_readable() {
        let schema = schemars::schema_for!(Percent);
        for example in schema.get("examples").unwrap().as_array().unwrap() {
            percent(example.as_str().unwrap());
        }
    }

    proptest! {
        /// The share rounded up is the least length that reaches the share.
        #[test]
        fn share_is_the_least_that_reaches(hundredths in 0..=10_000_u32, whole in 1..=i64::MAX) {
            let (required, whole) = (Percent(hundredths), Length::from_nanometers(whole));
            let share = required.of(whole);
            let less = share.saturating_sub(Length::from_nanometers(1));
            prop_assert!(required.reached_by(share, whole));
            prop_assert!(!required.reached_by(less, whole));
        }

        #[test]
        fn no_length_panics(hundredths in 0..=MOST_HUNDREDTHS, part: i64, whole: i64) {
            let (part, whole) = (Length::from_nanometers(part), Length::from_nanometers(whole));
            let _ = (Percent(hundredths).of(whole), Percent(hundredths).reached_by(part, whole));
            let _ = Percent::ratio(part, whole);
        }

        #[test]
        fn no_text_panics(text: String) {
            let _ = text.parse::<Percent>();
        }
    }
}
