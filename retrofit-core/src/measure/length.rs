//! Lengths, exact to the nanometer.

use std::{fmt, str::FromStr};

use super::{
    area::Area,
    error::{Fault, MeasureError, Quantity},
    text::{Scanner, decimal_text, read, sign_text},
    wire::travels_as_text,
};

const NM_PER_INCH: i64 = 25_400_000;
const NM_PER_FOOT: i64 = 12 * NM_PER_INCH;
const NM_PER_SIXTY_FOURTH: i64 = NM_PER_INCH / 64;
const NM_PER_MILLIMETER: i64 = 1_000_000;
const INCHES_PER_FOOT: u32 = 12;

/// A length, held as a whole number of nanometers.
///
/// Every multiple of 1/64 in and every millimeter decimal down to the sixth is
/// held exactly, so `==` and `<=` decide a code limit without tolerance.
///
/// # Text
///
/// Reads feet and inches (`6'-0"`, `2'-8 1/2"`, `5 ft 6 in`, `8½ in`), decimals
/// (`0.229 in`, `5.5 ft`), and metric (`1.83 m`, `183 cm`, `1830 mm`), up to
/// 10 km either way. Customary units may be in capitals; the symbols `mm`,
/// `cm`, and `m` may not, because SI symbols are case-sensitive.
///
/// Writes feet and inches if the length is a multiple of 1/64 in, and otherwise
/// millimeters. Both are exact, so reading gives back the same length.
///
/// ```
/// use retrofit_core::measure::Length;
///
/// let sill: Length = "2'-8 1/2\"".parse()?;
/// assert_eq!(sill, "32.5 in".parse()?);
/// assert_eq!(sill.nanometers(), 825_500_000);
/// assert_eq!(Length::inches(72), Length::feet(6));
/// assert_eq!(Length::inches(72).to_string(), "6'-0\"");
/// assert_eq!("1830.1 mm".parse::<Length>()?.to_string(), "1830.1 mm");
/// # Ok::<(), retrofit_core::measure::MeasureError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Length(i64);

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self(0);

    /// The longest length that text may give, 10 km.
    pub const LIMIT: Self = Self::millimeters(10_000_000);

    /// A length in nanometers.
    ///
    /// A length beyond [`Length::LIMIT`] may be computed and compared, but its
    /// text is not accepted back.
    #[must_use]
    pub const fn from_nanometers(nanometers: i64) -> Self {
        Self(nanometers)
    }

    /// A length in inches, saturating beyond 9 million km.
    #[must_use]
    pub const fn inches(inches: i64) -> Self {
        Self(inches.saturating_mul(NM_PER_INCH))
    }

    /// A length in feet, saturating beyond 9 million km.
    #[must_use]
    pub const fn feet(feet: i64) -> Self {
        Self(feet.saturating_mul(NM_PER_FOOT))
    }

    /// A length in sixty-fourths of an inch, saturating beyond 9 million km.
    #[must_use]
    pub const fn sixty_fourths(sixty_fourths: i64) -> Self {
        Self(sixty_fourths.saturating_mul(NM_PER_SIXTY_FOURTH))
    }

    /// A length in millimeters, saturating beyond 9 million km.
    #[must_use]
    pub const fn millimeters(millimeters: i64) -> Self {
        Self(millimeters.saturating_mul(NM_PER_MILLIMETER))
    }

    /// The length in nanometers, exactly.
    #[must_use]
    pub const fn nanometers(self) -> i64 {
        self.0
    }

    /// The sum, or `None` beyond 9 million km.
    #[must_use]
    pub const fn checked_add(self, other: Self) -> Option<Self> {
        match self.0.checked_add(other.0) {
            Some(sum) => Some(Self(sum)),
            None => None,
        }
    }

    /// The difference, or `None` beyond 9 million km.
    #[must_use]
    pub const fn checked_sub(self, other: Self) -> Option<Self> {
        match self.0.checked_sub(other.0) {
            Some(difference) => Some(Self(difference)),
            None => None,
        }
    }

    /// The sum, saturating beyond 9 million km.
    #[must_use]
    pub const fn saturating_add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }

    /// The difference, saturating beyond 9 million km.
    #[must_use]
    pub const fn saturating_sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }

    /// The length `count` times over, or `None` beyond 9 million km.
    ///
    /// ```
    /// use retrofit_core::measure::Length;
    ///
    /// assert_eq!(Length::inches(16).times(3), Some(Length::feet(4)));
    /// ```
    #[must_use]
    pub const fn times(self, count: i64) -> Option<Self> {
        match self.0.checked_mul(count) {
            Some(product) => Some(Self(product)),
            None => None,
        }
    }

    /// The distance between two lengths, never negative, saturating beyond
    /// 9 million km.
    #[must_use]
    pub const fn abs_diff(self, other: Self) -> Self {
        if self.0 < other.0 {
            other.saturating_sub(self)
        } else {
            self.saturating_sub(other)
        }
    }

    /// The area of a rectangle of this length by `width`, exactly.
    ///
    /// ```
    /// use retrofit_core::measure::{Area, Length};
    ///
    /// assert_eq!(Length::feet(4).by(Length::feet(8)), Area::square_feet(32));
    /// ```
    #[must_use]
    pub const fn by(self, width: Self) -> Area {
        // The product of two 64-bit integers always fits in 128 bits.
        Area::from_square_nanometers(self.0 as i128 * width.0 as i128)
    }

    /// The length in feet for engineering formulas. Approximate: never compare
    /// it with a code limit.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "documented as approximate")]
    pub const fn as_feet_f64(self) -> f64 {
        self.0 as f64 / NM_PER_FOOT as f64
    }

    /// The length in inches for engineering formulas. Approximate: never
    /// compare it with a code limit.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "documented as approximate")]
    pub const fn as_inches_f64(self) -> f64 {
        self.0 as f64 / NM_PER_INCH as f64
    }

    /// The nearest length to a number of inches that was computed; beyond all
    /// lengths it saturates, and what is no number is zero.
    ///
    /// ```
    /// use retrofit_core::measure::Length;
    ///
    /// assert_eq!(Length::nearest_inches(1.5), Length::sixty_fourths(96));
    /// assert_eq!(Length::nearest_inches(f64::NAN), Length::ZERO);
    /// ```
    #[must_use]
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_precision_loss,
        reason = "to the nanometer; a cast saturates"
    )]
    pub fn nearest_inches(inches: f64) -> Self {
        Self((inches * NM_PER_INCH as f64).round() as i64)
    }

    /// Shows the length in feet and inches to the nearest 1/16 in for a report,
    /// marked `≈` if that is not the exact length.
    ///
    /// ```
    /// use retrofit_core::measure::Length;
    ///
    /// assert_eq!(Length::inches(72).in_feet_inches().to_string(), "6'-0\"");
    /// assert_eq!(Length::millimeters(1830).in_feet_inches().to_string(), "≈ 6'-0 1/16\"");
    /// ```
    #[must_use]
    pub const fn in_feet_inches(self) -> FeetInches {
        FeetInches(self)
    }

    /// Shows the length in whole millimeters for a report, marked `≈` if that
    /// is not the exact length.
    ///
    /// ```
    /// use retrofit_core::measure::Length;
    ///
    /// assert_eq!(Length::millimeters(1830).in_metric().to_string(), "1830 mm");
    /// assert_eq!(Length::inches(72).in_metric().to_string(), "≈ 1829 mm");
    /// ```
    #[must_use]
    pub const fn in_metric(self) -> Metric {
        Metric(self)
    }

    fn text(self) -> String {
        if self.0 % NM_PER_SIXTY_FOURTH == 0 {
            self.feet_inches_text()
        } else {
            self.millimeters_text()
        }
    }

    /// Exact only for a multiple of 1/64 in.
    fn feet_inches_text(self) -> String {
        let sixty_fourths = self.0.unsigned_abs() / NM_PER_SIXTY_FOURTH.unsigned_abs();
        let sign = sign_text(self.0 < 0);
        let inches = sixty_fourths / 64;
        let (feet, inches) = (inches / 12, inches % 12);
        match (feet, inches, fraction_text(sixty_fourths % 64)) {
            (0, inches, None) => format!("{sign}{inches}\""),
            (0, 0, Some(fraction)) => format!("{sign}{fraction}\""),
            (0, inches, Some(fraction)) => format!("{sign}{inches} {fraction}\""),
            (feet, inches, None) => format!("{sign}{feet}'-{inches}\""),
            (feet, inches, Some(fraction)) => format!("{sign}{feet}'-{inches} {fraction}\""),
        }
    }

    fn millimeters_text(self) -> String {
        let magnitude = decimal_text(u128::from(self.0.unsigned_abs()), 6);
        format!("{}{magnitude} mm", sign_text(self.0 < 0))
    }

    /// The nearest multiple of `step`, halves away from zero.
    const fn rounded_to(self, step: i64) -> Self {
        let beyond = self.0 % step;
        let down = self.0 - beyond;
        if beyond.unsigned_abs() < step.unsigned_abs().div_ceil(2) {
            Self(down)
        } else {
            Self(down.saturating_add(step * beyond.signum()))
        }
    }
}

/// A fraction of an inch in lowest terms; none if there are no sixty-fourths.
fn fraction_text(sixty_fourths: u64) -> Option<String> {
    if sixty_fourths == 0 {
        return None;
    }
    let halvings = sixty_fourths.trailing_zeros();
    Some(format!("{}/{}", sixty_fourths >> halvings, 64 >> halvings))
}

impl fmt::Display for Length {
    /// Writes the exact length; a width such as `{:>8}` pads it. Give no
    /// precision: it would cut the text short.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.text())
    }
}

impl FromStr for Length {
    type Err = MeasureError;

    /// Reads a length with its unit.
    ///
    /// # Errors
    ///
    /// Refuses a number without a unit, an unknown unit, a value that cannot be
    /// held exactly or exceeds 10 km, and any text beyond 64 characters or
    /// outside the forms that [`Length`] documents.
    fn from_str(text: &str) -> Result<Self, MeasureError> {
        read(Quantity::Length, text, read_length)
    }
}

fn read_length(scanner: &mut Scanner<'_>) -> Result<Length, Fault> {
    let negative = scanner.minus();
    let number = scanner.number()?;
    let unit = read_unit(scanner)?;
    let mut magnitude = number.of_unit(unit.nanometers())?;

    let mut ahead = *scanner;
    ahead.spaces();
    ahead.eat_dash();
    ahead.spaces();
    if ahead.is_at_number() {
        if unit != Unit::Foot || !number.is_whole() {
            return Err(Fault::FeetThenInches);
        }
        *scanner = ahead;
        let inches = read_inches_after_feet(scanner)?;
        magnitude = magnitude.checked_add(inches).ok_or(Fault::TooLarge)?;
    }
    i64::try_from(magnitude)
        .ok()
        .filter(|nanometers| *nanometers <= Length::LIMIT.0)
        .map(|nanometers| Length(if negative { -nanometers } else { nanometers }))
        .ok_or(Fault::TooLarge)
}

/// Reads the inches of `5'-6 1/2"`, in nanometers.
fn read_inches_after_feet(scanner: &mut Scanner<'_>) -> Result<u128, Fault> {
    let number = scanner.number()?;
    let unit = read_unit(scanner).map_err(|fault| match fault {
        Fault::BareNumber => Fault::UnmarkedInches,
        fault => fault,
    })?;
    if unit != Unit::Inch {
        return Err(Fault::FeetThenInches);
    }
    if number.is_at_least(INCHES_PER_FOOT) {
        return Err(Fault::InchesBeyondFoot);
    }
    number.of_unit(unit.nanometers())
}

fn read_unit(scanner: &mut Scanner<'_>) -> Result<Unit, Fault> {
    scanner.spaces();
    if scanner.eat(&['\'', '′', '’']) {
        return Ok(Unit::Foot);
    }
    if scanner.eat(&['"', '″', '”']) {
        return Ok(Unit::Inch);
    }
    let word = scanner.word();
    Unit::named(word).ok_or_else(|| scanner.not_a_unit(word))
}

/// A unit of length that text may use.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Unit {
    Inch,
    Foot,
    Millimeter,
    Centimeter,
    Meter,
}

impl Unit {
    pub(super) fn named(word: &str) -> Option<Self> {
        // An SI symbol means something else in capitals: "Mm" is a megameter.
        match word {
            "mm" => return Some(Self::Millimeter),
            "cm" => return Some(Self::Centimeter),
            "m" => return Some(Self::Meter),
            _ => {}
        }
        UNIT_WORDS
            .iter()
            .find(|(name, _)| name.eq_ignore_ascii_case(word))
            .map(|(_, unit)| *unit)
    }

    pub(super) const fn nanometers(self) -> u128 {
        let nanometers = match self {
            Self::Inch => NM_PER_INCH,
            Self::Foot => NM_PER_FOOT,
            Self::Millimeter => NM_PER_MILLIMETER,
            Self::Centimeter => 10 * NM_PER_MILLIMETER,
            Self::Meter => 1_000 * NM_PER_MILLIMETER,
        };
        nanometers.unsigned_abs() as u128
    }
}

const UNIT_WORDS: &[(&str, Unit)] = &[
    ("in", Unit::Inch),
    ("ft", Unit::Foot),
    ("inch", Unit::Inch),
    ("inches", Unit::Inch),
    ("foot", Unit::Foot),
    ("feet", Unit::Foot),
    ("millimeter", Unit::Millimeter),
    ("millimeters", Unit::Millimeter),
    ("millimetre", Unit::Millimeter),
    ("millimetres", Unit::Millimeter),
    ("centimeter", Unit::Centimeter),
    ("centimeters", Unit::Centimeter),
    ("centimetre", Unit::Centimeter),
    ("centimetres", Unit::Centimeter),
    ("meter", Unit::Meter),
    ("meters", Unit::Meter),
    ("metre", Unit::Meter),
    ("metres", Unit::Meter),
];

/// Shows a [`Length`] to the nearest 1/16 in; see [`Length::in_feet_inches`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FeetInches(Length);

impl fmt::Display for FeetInches {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let shown = self.0.rounded_to(NM_PER_INCH / 16);
        f.pad(&marked_if_rounded(self.0, shown, shown.feet_inches_text()))
    }
}

/// Shows a [`Length`] in whole millimeters; see [`Length::in_metric`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Metric(Length);

impl fmt::Display for Metric {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let shown = self.0.rounded_to(NM_PER_MILLIMETER);
        f.pad(&marked_if_rounded(self.0, shown, shown.millimeters_text()))
    }
}

fn marked_if_rounded(exact: Length, shown: Length, text: String) -> String {
    if exact == shown {
        text
    } else {
        format!("≈ {text}")
    }
}

travels_as_text!(
    Length,
    description: "An exact length with its unit: feet and inches (6'-0\", 2'-8 1/2\", 72 in, \
                  5.5 ft) or metric (1830 mm, 183 cm, 1.83 m), up to 10 km. Fractions of an inch \
                  go down to 1/64.",
    examples: ["6'-0\"", "2'-8 1/2\"", "72 in", "0.229 in", "1830 mm", "1.83 m"],
    pattern: "^\\s*[+−-]?[0-9.½¼¾⅛⅜⅝⅞][0-9./⁄½¼¾⅛⅜⅝⅞\\s−-]*((['’′]|[Ff]([Tt]|[Oo][Oo][Tt]|[Ee][Ee][Tt])\\.?)([0-9./⁄½¼¾⅛⅜⅝⅞\\s−-]*[0-9.½¼¾⅛⅜⅝⅞][0-9./⁄½¼¾⅛⅜⅝⅞\\s−-]*([\"”″]|[Ii][Nn]([Cc][Hh]([Ee][Ss])?)?\\.?))?|([\"”″]|[Ii][Nn]([Cc][Hh]([Ee][Ss])?)?\\.?)|(mm|cm|m|([Mm][Ii][Ll][Ll][Ii]|[Cc][Ee][Nn][Tt][Ii])?[Mm][Ee][Tt]([Ee][Rr]|[Rr][Ee])[Ss]?)\\.?)\\s*$",
);

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::MeasureErrorKind::{self, *};
    use proptest::prelude::*;
    use rstest::rstest;

    const IN: i64 = NM_PER_INCH;

    fn length(text: &str) -> Length {
        text.parse().unwrap_or_else(|error| panic!("{error}"))
    }

    #[rstest]
    #[case("6'-0\"", 72 * IN)]
    #[case("6' 0\"", 72 * IN)]
    #[case("6'0\"", 72 * IN)]
    #[case("6' - 0\"", 72 * IN)]
    #[case("6'", 72 * IN)]
    #[case("2'-8 1/2\"", 65 * IN / 2)]
    #[case("2'-8-1/2\"", 65 * IN / 2)]
    #[case("2' 8½\"", 65 * IN / 2)]
    #[case("2'-½\"", 49 * IN / 2)]
    #[case("2'-1/2\"", 49 * IN / 2)]
    #[case("2'-0 1/2\"", 49 * IN / 2)]
    #[case("5'-11 63/64\"", 72 * IN - IN / 64)]
    #[case("8 1/2\"", 17 * IN / 2)]
    #[case("1/2\"", IN / 2)]
    #[case("72 in", 72 * IN)]
    #[case("72in", 72 * IN)]
    #[case("72 in.", 72 * IN)]
    #[case("72 IN", 72 * IN)]
    #[case("0.229 in", 5_816_600)]
    #[case(".5 in", IN / 2)]
    #[case("72.000000000000000000000000 in", 72 * IN)]
    #[case("5 ft", 60 * IN)]
    #[case("5.5 ft", 66 * IN)]
    #[case("5 1/2 ft", 66 * IN)]
    #[case("5 ft 6 in", 66 * IN)]
    #[case("5 ft. 6 in.", 66 * IN)]
    #[case("5ft6in", 66 * IN)]
    #[case("5 feet 6 inches", 66 * IN)]
    #[case("5 ft 6\"", 66 * IN)]
    #[case("5 ft 6 1/2 in", 133 * IN / 2)]
    #[case("5 ft 6.5 in", 133 * IN / 2)]
    #[case("1-1/2 in", 3 * IN / 2)]
    #[case("15/32 in", 15 * IN / 32)]
    #[case("15⁄32 in", 15 * IN / 32)]
    #[case("1.83 m", 1_830_000_000)]
    #[case("1830 mm", 1_830_000_000)]
    #[case("183 cm", 1_830_000_000)]
    #[case("0.000001 mm", 1)]
    #[case("2 meters", 2_000_000_000)]
    #[case("1 Metre", 1_000_000_000)]
    #[case("3 millimeters", 3_000_000)]
    #[case("3 centimetres", 30_000_000)]
    #[case("6′-0″", 72 * IN)]
    #[case("6’-0”", 72 * IN)]
    #[case("½ in", IN / 2)]
    #[case("¼ inch", IN / 4)]
    #[case("¾\"", 3 * IN / 4)]
    #[case("1⅛\"", 9 * IN / 8)]
    #[case("1 ⅜\"", 11 * IN / 8)]
    #[case("1-⅝\"", 13 * IN / 8)]
    #[case("⅞\"", 7 * IN / 8)]
    #[case("1 foot", 12 * IN)]
    #[case("1 inch", IN)]
    #[case("+6'-0\"", 72 * IN)]
    #[case("-1'-2\"", -14 * IN)]
    #[case("−1'-2\"", -14 * IN)]
    #[case("-0 in", 0)]
    #[case(" \t\u{a0}72 in \n", 72 * IN)]
    #[case("10000 m", 10_000_000_000_000)]
    #[case("-10000 m", -10_000_000_000_000)]
    fn accepts(#[case] text: &str, #[case] nanometers: i64) {
        assert_eq!(length(text).nanometers(), nanometers);
    }

    #[rstest]
    #[case("", Empty, "found no text")]
    #[case("  \t", Empty, "found no text")]
    #[case(
        "72",
        MissingUnit,
        r#"found the bare number 72; write a unit, for example "72 in" or "6'-0\"""#
    )]
    #[case(
        " -1.5 ",
        MissingUnit,
        r#"the bare number -1.5; write a unit, for example "-1.5 in""#
    )]
    #[case("8 1/2", MissingUnit, r#""8 1/2 in""#)]
    #[case("6'-2", MissingUnit, "mark the inches")]
    #[case("5 ft 6", MissingUnit, "mark the inches")]
    #[case(
        "6 furlongs",
        UnknownUnit,
        r#"(in, ft, ", ', mm, cm, or m); the unit "furlongs" is not"#
    )]
    #[case("5 MM", UnknownUnit, r#""MM""#)]
    #[case("5 ft 6 x", UnknownUnit, r#""x""#)]
    #[case("1/3 in", NotExact, "halves")]
    #[case("1/128 in", NotExact, "64ths")]
    #[case("2'-8 1/5\"", NotExact, "64ths")]
    #[case("0.0000001 in", NotExact, "whole nanometer")]
    #[case("0.0000001 mm", NotExact, "whole nanometer")]
    #[case("0.0000000000000000000000001 m", NotExact, "whole nanometer")]
    #[case("10000.000000001 m", TooLarge, "10 km")]
    #[case("32808'-5\"", TooLarge, "10 km")]
    #[case("99999999999999999999999999999999999999999999999999 in", TooLarge, "10 km")]
    #[case("340282366920938463463374607431768211455 in", TooLarge, "10 km")]
    #[case("340282366920938463463374607431768211455 1/2 in", TooLarge, "10 km")]
    #[case("NaN in", Malformed, "begin with a number")]
    #[case("inf", Malformed, "begin with a number")]
    #[case("-", Malformed, "begin with a number")]
    #[case("--5 in", Malformed, "begin with a number")]
    #[case("- 5 in", Malformed, "begin with a number")]
    #[case("'", Malformed, "begin with a number")]
    #[case("5. in", Malformed, "begin with a number")]
    #[case("1/ in", Malformed, "begin with a number")]
    #[case("1e5 in", Malformed, "without an exponent")]
    #[case("1E-5 in", Malformed, "without an exponent")]
    #[case("1.5e+5 in", Malformed, "without an exponent")]
    #[case("1,830 mm", Malformed, "without commas")]
    #[case("1/0 in", Malformed, "denominator zero")]
    #[case("8 5/4 in", Malformed, "below one")]
    #[case("81/2 in", Malformed, "below one")]
    #[case("1/1 in", Malformed, "below one")]
    #[case("1 - 1/2 in", Malformed, "remove or correct")]
    #[case("8 -1/2 in", Malformed, "remove or correct")]
    #[case("5'-12\"", Malformed, "carry every 12 in")]
    #[case("5'-13\"", Malformed, "carry every 12 in")]
    #[case("5.5' 6\"", Malformed, "whole feet")]
    #[case("5½' 6\"", Malformed, "whole feet")]
    #[case("6' 6 mm", Malformed, "only inches may follow")]
    #[case("6 in 2 in", Malformed, "only inches may follow")]
    #[case("6'-0\" high", Malformed, r#"remove or correct "high""#)]
    #[case("6''", Malformed, r#"remove or correct "'""#)]
    #[case("6'-", Malformed, r#"remove or correct "-""#)]
    #[case("1.2.3 in", Malformed, r#"remove or correct ".3 in""#)]
    #[case("1.5 1/2 in", Malformed, "remove or correct")]
    #[case("6'--2\"", Malformed, "remove or correct")]
    #[case("72 $", Malformed, r#"remove or correct "$""#)]
    fn refuses(#[case] text: &str, #[case] kind: MeasureErrorKind, #[case] message: &str) {
        let error = text.parse::<Length>().unwrap_err();
        assert_eq!(error.kind(), kind, "{error}");
        assert!(error.to_string().contains(message), "{error}");
        assert_eq!(error.found(), text.trim());
    }

    #[test]
    fn refuses_more_than_64_characters() {
        let padded = |width: usize| format!("{:>width$}", "72 in").parse::<Length>();
        assert_eq!(padded(64), Ok(Length::inches(72)));
        assert_eq!(padded(65).unwrap_err().kind(), TooLong);

        let error = "9".repeat(1_000_000).parse::<Length>().unwrap_err();
        assert_eq!(error.kind(), TooLong);
        assert_eq!(error.found().chars().count(), 60);
    }

    /// International yard and pound agreement of 1959, as restated in NIST
    /// SP 811 (2008), appendix B.8: 1 in = 25.4 mm and 1 ft = 0.3048 m exactly.
    #[test]
    fn customary_units_have_their_agreed_metric_size() {
        assert_eq!(length("1 in"), length("25.4 mm"));
        assert_eq!(length("1 ft"), length("0.3048 m"));
        assert_eq!(Length::sixty_fourths(64), Length::inches(1));
        assert_eq!(Length::sixty_fourths(1).nanometers(), 396_875);
        assert_eq!(length("72 in"), length("6 ft"));
    }

    #[rstest]
    #[case(0, "0\"")]
    #[case(72 * IN, "6'-0\"")]
    #[case(65 * IN / 2, "2'-8 1/2\"")]
    #[case(49 * IN / 2, "2'-0 1/2\"")]
    #[case(17 * IN / 2, "8 1/2\"")]
    #[case(IN / 2, "1/2\"")]
    #[case(IN / 64, "1/64\"")]
    #[case(-14 * IN, "-1'-2\"")]
    #[case(-IN / 2, "-1/2\"")]
    #[case(1_830_100_000, "1830.1 mm")]
    #[case(1, "0.000001 mm")]
    #[case(-1_830_000_000, "-1830 mm")]
    #[case(i64::MIN, "-9223372036854.775808 mm")]
    fn displays(#[case] nanometers: i64, #[case] text: &str) {
        assert_eq!(Length::from_nanometers(nanometers).to_string(), text);
    }

    #[test]
    fn display_pads() {
        assert_eq!(format!("[{:>8}]", Length::feet(6)), "[   6'-0\"]");
        assert_eq!(format!("[{:<8}]", Length::inches(3)), "[3\"      ]");
        assert_eq!(
            format!("[{:>10}]", Length::inches(72).in_metric()),
            "[ ≈ 1829 mm]"
        );
    }

    #[rstest]
    #[case("6'-0 1/16\"", "6'-0 1/16\"", "≈ 1830 mm")]
    #[case("6'-0 1/32\"", "≈ 6'-0 1/16\"", "≈ 1830 mm")]
    #[case("1/64\"", "≈ 0\"", "≈ 0 mm")]
    #[case("-1/64\"", "≈ 0\"", "≈ 0 mm")]
    #[case("11 31/32\"", "≈ 1'-0\"", "≈ 304 mm")]
    #[case("-0.5 mm", "≈ 0\"", "≈ -1 mm")]
    #[case("127 mm", "5\"", "127 mm")]
    fn reports(#[case] text: &str, #[case] feet_inches: &str, #[case] metric: &str) {
        assert_eq!(length(text).in_feet_inches().to_string(), feet_inches);
        assert_eq!(length(text).in_metric().to_string(), metric);
    }

    #[test]
    fn every_sixty_fourth_up_to_100_ft_reads_back() {
        for sixty_fourths in 0..=100 * 12 * 64 {
            let written = Length::sixty_fourths(sixty_fourths);
            assert_eq!(length(&written.to_string()), written);
        }
    }

    #[test]
    fn arithmetic_stops_at_the_ends() {
        let (least, most) = (Length(i64::MIN), Length(i64::MAX));
        assert_eq!(most.checked_add(Length(1)), None);
        assert_eq!(least.checked_sub(Length(1)), None);
        assert_eq!(most.saturating_add(most), most);
        assert_eq!(least.saturating_sub(most), least);
        assert_eq!(least.times(-1), None);
        assert_eq!(least.abs_diff(most), most);
        assert_eq!(Length(-3).abs_diff(Length(4)), Length(7));
        assert_eq!(Length::feet(i64::MAX), most);
        assert_eq!(Length::millimeters(i64::MIN), least);
    }

    #[test]
    fn engineering_values_are_close() {
        assert!((Length::inches(30).as_feet_f64() - 2.5).abs() < 1e-12);
        assert!((Length::feet(2).as_inches_f64() - 24.0).abs() < 1e-12);
    }

    #[test]
    fn json_is_the_text() {
        let json = serde_json::to_string(&Length::feet(6)).unwrap();
        assert_eq!(json, r#""6'-0\"""#);
        assert_eq!(serde_json::from_str::<Length>(&json).unwrap(), Length::feet(6));
    }

    #[rstest]
    #[case(
        "72",
        "found the bare number 72; write a unit, for example \"72 in\" or \"6'-0\\\"\""
    )]
    #[case("-72", "found the bare number -72; write a unit")]
    #[case("7.5", "found the bare number 7.5; write a unit")]
    #[case("\"72\"", "found the bare number 72; write a unit")]
    #[case("null", "expected a length with its unit")]
    #[case("[72]", "expected a length with its unit")]
    fn json_without_a_unit_is_refused(#[case] json: &str, #[case] message: &str) {
        let error = serde_json::from_str::<Length>(json).unwrap_err().to_string();
        assert!(error.contains(message), "{error}");
    }

    #[test]
    fn schema_describes_text_with_readable_examples() {
        let schema = schemars::schema_for!(Length);
        assert_eq!(schema.get("type").unwrap(), "string");
        assert!(schema.get("description").is_some() && schema.get("pattern").is_some());
        for example in schema.get("examples").unwrap().as_array().unwrap() {
            length(example.as_str().unwrap());
        }
    }

    proptest! {
        #[test]
        fn reads_back_what_it_writes(nm in -Length::LIMIT.0..=Length::LIMIT.0) {
            let written = Length(nm);
            prop_assert_eq!(written.to_string().parse(), Ok(written));
        }

        #[test]
        fn reads_back_sixty_fourths(n in -25_196_850_i64..=25_196_850) {
            let written = Length::sixty_fourths(n);
            prop_assert_eq!(written.to_string().parse(), Ok(written));
        }

        #[test]
        fn orders_by_nanometers(a: i64, b: i64) {
            prop_assert_eq!(Length(a).cmp(&Length(b)), a.cmp(&b));
        }

        #[test]
        fn reports_any_length(nm: i64) {
            let reported = Length(nm).in_feet_inches().to_string();
            prop_assert_eq!(reported.starts_with('≈'), nm % (IN / 16) != 0);
            let reported = Length(nm).in_metric().to_string();
            prop_assert_eq!(reported.starts_with('≈'), nm % NM_PER_MILLIMETER != 0);
        }

        #[test]
        fn no_text_panics(text: String) {
            let _ = text.parse::<Length>();
        }

        #[test]
        fn no_near_miss_panics(text in "[-+0-9 ./'\"½⅞′”eE,aftinmc]{0,70}") {
            if let Err(error) = text.parse::<Length>() {
                prop_assert!(error.found().chars().count() <= 60);
                prop_assert!(!error.to_string().is_empty());
            }
        }
    }
}
