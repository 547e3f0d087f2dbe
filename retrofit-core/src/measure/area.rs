//! Areas, exact to the square nanometer.

use std::{fmt, str::FromStr};

use super::{
    error::{Fault, MeasureError, Quantity},
    length::{Length, Unit},
    text::{Scanner, decimal_text, read, sign_text},
    wire::travels_as_text,
};

const NM2_PER_SQUARE_INCH: i128 = 25_400_000 * 25_400_000;
const NM2_PER_SQUARE_FOOT: i128 = 144 * NM2_PER_SQUARE_INCH;

/// 127², the part of a square inch that is foreign to decimals: 1 in² is
/// 127² × 2^12 × 5^10 nm².
const DECIMAL_SQUARE_INCH_STEP: u128 = 127 * 127;

/// An area, held as a whole number of square nanometers.
///
/// # Text
///
/// Reads square inches, feet, millimeters, centimeters, and meters, up to 100
/// square kilometers either way: `72 sq in`, `1.5 sq ft`, `32 sf`, `0.05 m2`,
/// `0.05 m²`, `2 square feet`.
///
/// Writes square inches if those end within twelve decimals, and otherwise
/// square millimeters. Both are exact, so reading gives back the same area.
///
/// ```
/// use retrofit_core::measure::{Area, Length};
///
/// let vent: Area = "0.5 sq ft".parse()?;
/// assert_eq!(vent, Length::inches(8).by(Length::inches(9)));
/// assert_eq!(vent.to_string(), "72 sq in");
/// assert_eq!("0.05 m2".parse::<Area>()?.to_string(), "50000 sq mm");
/// # Ok::<(), retrofit_core::measure::MeasureError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Area(i128);

impl Area {
    /// No area at all.
    pub const ZERO: Self = Self(0);

    /// The largest area that text may give, 100 square kilometers.
    pub const LIMIT: Self = Length::LIMIT.by(Length::LIMIT);

    /// An area in square nanometers.
    ///
    /// An area beyond [`Area::LIMIT`] may be computed and compared, but its
    /// text is not accepted back.
    #[must_use]
    pub const fn from_square_nanometers(square_nanometers: i128) -> Self {
        Self(square_nanometers)
    }

    /// An area in square inches.
    #[must_use]
    pub const fn square_inches(square_inches: i64) -> Self {
        Self(square_inches as i128 * NM2_PER_SQUARE_INCH)
    }

    /// An area in square feet.
    #[must_use]
    pub const fn square_feet(square_feet: i64) -> Self {
        Self(square_feet as i128 * NM2_PER_SQUARE_FOOT)
    }

    /// The area inside a polygon given by its corners `(x, y)` in order, either
    /// way round; the last corner joins the first.
    ///
    /// Exact, except that half a square nanometer is dropped: the shoelace sum
    /// is twice the area and may be odd. Fewer than three corners enclose
    /// nothing. Where the outline crosses itself, parts that run the opposite
    /// way round subtract. The sum saturates, but only for corners more than a
    /// million kilometers from the origin.
    ///
    /// ```
    /// use retrofit_core::measure::{Area, Length};
    ///
    /// let ft = Length::feet;
    /// let l_shape = [
    ///     (ft(0), ft(0)),
    ///     (ft(30), ft(0)),
    ///     (ft(30), ft(10)),
    ///     (ft(12), ft(10)),
    ///     (ft(12), ft(20)),
    ///     (ft(0), ft(20)),
    /// ];
    /// assert_eq!(Area::of_polygon(&l_shape), Area::square_feet(420));
    /// ```
    #[must_use]
    pub fn of_polygon(corners: &[(Length, Length)]) -> Self {
        let next_corners = corners.iter().cycle().skip(1);
        let doubled = corners
            .iter()
            .zip(next_corners)
            .map(|((x, y), (next_x, next_y))| x.by(*next_y).0.saturating_sub(next_x.by(*y).0))
            .fold(0, i128::saturating_add);
        Self(doubled.saturating_abs() / 2)
    }

    /// The area in square nanometers, exactly.
    #[must_use]
    pub const fn square_nanometers(self) -> i128 {
        self.0
    }

    /// The sum, or `None` if it overflows.
    #[must_use]
    pub const fn checked_add(self, other: Self) -> Option<Self> {
        match self.0.checked_add(other.0) {
            Some(sum) => Some(Self(sum)),
            None => None,
        }
    }

    /// The difference, or `None` if it overflows.
    #[must_use]
    pub const fn checked_sub(self, other: Self) -> Option<Self> {
        match self.0.checked_sub(other.0) {
            Some(difference) => Some(Self(difference)),
            None => None,
        }
    }

    /// The sum, saturating if it overflows.
    #[must_use]
    pub const fn saturating_add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }

    /// The difference, saturating if it overflows.
    #[must_use]
    pub const fn saturating_sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }

    /// The area `count` times over, or `None` if it overflows.
    #[must_use]
    pub const fn times(self, count: i64) -> Option<Self> {
        match self.0.checked_mul(count as i128) {
            Some(product) => Some(Self(product)),
            None => None,
        }
    }

    /// The area in square feet for engineering formulas. Approximate: never
    /// compare it with a code limit.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "documented as approximate")]
    pub const fn as_square_feet_f64(self) -> f64 {
        self.0 as f64 / NM2_PER_SQUARE_FOOT as f64
    }

    /// The area in square inches for engineering formulas. Approximate: never
    /// compare it with a code limit.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "documented as approximate")]
    pub const fn as_square_inches_f64(self) -> f64 {
        self.0 as f64 / NM2_PER_SQUARE_INCH as f64
    }

    fn text(self) -> String {
        let magnitude = self.0.unsigned_abs();
        let sign = sign_text(self.0 < 0);
        if magnitude.is_multiple_of(DECIMAL_SQUARE_INCH_STEP) {
            format!("{sign}{} sq in", square_inches_text(magnitude))
        } else {
            format!("{sign}{} sq mm", decimal_text(magnitude, 12))
        }
    }
}

/// Exact only for a multiple of [`DECIMAL_SQUARE_INCH_STEP`].
fn square_inches_text(square_nanometers: u128) -> String {
    // A step is 1 / (2^12 × 5^10) in², that is, 5^2 / 10^12 in².
    let steps = square_nanometers / DECIMAL_SQUARE_INCH_STEP;
    decimal_text(steps * 25, 12)
}

impl fmt::Display for Area {
    /// Writes the exact area; a width such as `{:>12}` pads it. Give no
    /// precision: it would cut the text short.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.text())
    }
}

impl FromStr for Area {
    type Err = MeasureError;

    /// Reads an area with its unit.
    ///
    /// # Errors
    ///
    /// Refuses a number without a unit, an unknown unit, a value that cannot be
    /// held exactly or exceeds 100 square kilometers, and any text beyond 64
    /// characters or outside the forms that [`Area`] documents.
    fn from_str(text: &str) -> Result<Self, MeasureError> {
        read(Quantity::Area, text, read_area)
    }
}

fn read_area(scanner: &mut Scanner<'_>) -> Result<Area, Fault> {
    let negative = scanner.minus();
    let number = scanner.number()?;
    scanner.spaces();
    let side = read_squared_unit(scanner)?.nanometers();
    i128::try_from(number.of_unit(side * side)?)
        .ok()
        .filter(|square_nanometers| *square_nanometers <= Area::LIMIT.0)
        .map(|square_nanometers| {
            Area(if negative {
                -square_nanometers
            } else {
                square_nanometers
            })
        })
        .ok_or(Fault::TooLarge)
}

/// Reads `sq in`, `square feet`, `sf`, `m2`, or `m²`; the unit of the side.
fn read_squared_unit(scanner: &mut Scanner<'_>) -> Result<Unit, Fault> {
    let start = *scanner;
    let word = scanner.word();
    let is = |name: &str| word.eq_ignore_ascii_case(name);
    let unit = if is("sf") || is("sqft") {
        Some(Unit::Foot)
    } else if is("sqin") {
        Some(Unit::Inch)
    } else if is("sq") || is("square") {
        scanner.spaces();
        Unit::named(scanner.word())
    } else {
        scanner.eat(&['^']);
        let squared = scanner.eat(&['2', '²']);
        Unit::named(word).filter(|_| squared)
    };
    unit.ok_or_else(|| {
        if word.is_empty() {
            start.not_a_unit(word)
        } else {
            Fault::unknown_unit(start.rest())
        }
    })
}

travels_as_text!(
    Area,
    description: "An exact area with its unit: 72 sq in, 1.5 sq ft, 32 sf, 0.05 sq m, 0.05 m2, \
                  50000 sq mm; up to 100 square kilometers.",
    examples: ["72 sq in", "1.5 sq ft", "32 sf", "0.05 sq m", "0.05 m2"],
    pattern: "[0-9½¼¾⅛⅜⅝⅞]\\s*[A-Za-z][A-Za-z. ]*(\\^?2|²)?\\s*$",
);

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::MeasureErrorKind::{self, *};
    use proptest::prelude::*;
    use rstest::rstest;

    fn area(text: &str) -> Area {
        text.parse().unwrap_or_else(|error| panic!("{error}"))
    }

    fn corners(nanometers: &[(i64, i64)]) -> Vec<(Length, Length)> {
        let nm = Length::from_nanometers;
        nanometers.iter().map(|(x, y)| (nm(*x), nm(*y))).collect()
    }

    #[rstest]
    #[case("72 sq in", Area::square_inches(72))]
    #[case("72 sq. in.", Area::square_inches(72))]
    #[case("72 square inches", Area::square_inches(72))]
    #[case("72 in2", Area::square_inches(72))]
    #[case("72in²", Area::square_inches(72))]
    #[case("72 in^2", Area::square_inches(72))]
    #[case("72 sqin", Area::square_inches(72))]
    #[case("1.5 sq ft", Area::square_inches(216))]
    #[case("1 1/2 sq ft", Area::square_inches(216))]
    #[case("1½ sq ft", Area::square_inches(216))]
    #[case("32 sf", Area::square_feet(32))]
    #[case("32 SF", Area::square_feet(32))]
    #[case("32 sqft", Area::square_feet(32))]
    #[case("32 ft2", Area::square_feet(32))]
    #[case("1 square foot", Area::square_feet(1))]
    #[case("0.05 sq m", Area(50_000_000_000_000_000))]
    #[case("0.05 m2", Area(50_000_000_000_000_000))]
    #[case("0.05 m²", Area(50_000_000_000_000_000))]
    #[case("500 sq cm", Area(50_000_000_000_000_000))]
    #[case("50000 mm2", Area(50_000_000_000_000_000))]
    #[case("0.000000000000000001 sq m", Area(1))]
    #[case(" -2 sq in ", Area::square_inches(-2))]
    #[case("100000000 sq m", Area::LIMIT)]
    fn accepts(#[case] text: &str, #[case] expected: Area) {
        assert_eq!(area(text), expected);
    }

    #[rstest]
    #[case("", Empty, "found no text")]
    #[case(
        "72",
        MissingUnit,
        r#"found the bare number 72; write a unit, for example "72 sq in""#
    )]
    #[case("72 in", UnknownUnit, r#"the unit "in" is not one of these"#)]
    #[case("72 acres", UnknownUnit, r#"the unit "acres" is not"#)]
    #[case("72 sq", UnknownUnit, r#"the unit "sq" is not"#)]
    #[case("72 sq rods", UnknownUnit, r#"the unit "sq rods" is not"#)]
    #[case("72 in3", UnknownUnit, r#"the unit "in3" is not"#)]
    #[case("1/3 sq ft", NotExact, "halves")]
    #[case("0.0000000000001 sq mm", NotExact, "fewer decimals")]
    #[case("100000001 sq m", TooLarge, "100 square kilometers")]
    #[case("99999999999999999999999999999999999999 sq ft", TooLarge, "100 square")]
    #[case("NaN sq ft", Malformed, "begin with a number")]
    #[case("1e5 sq ft", Malformed, "without an exponent")]
    #[case("1,200 sf", Malformed, "without commas")]
    #[case("72 sq in each", Malformed, r#"remove or correct "each""#)]
    #[case("72\"", Malformed, "remove or correct")]
    fn refuses(#[case] text: &str, #[case] kind: MeasureErrorKind, #[case] message: &str) {
        let error = text.parse::<Area>().unwrap_err();
        assert_eq!(error.kind(), kind, "{error}");
        assert!(error.to_string().contains(message), "{error}");
    }

    #[rstest]
    #[case(Area::ZERO, "0 sq in")]
    #[case(Area::square_feet(1), "144 sq in")]
    #[case(Area::square_inches(-3), "-3 sq in")]
    #[case(Length::sixty_fourths(1).by(Length::sixty_fourths(1)), "0.000244140625 sq in")]
    #[case(Length::millimeters(10).by(Length::millimeters(10)), "100 sq mm")]
    #[case(Area(1), "0.000000000001 sq mm")]
    fn displays(#[case] area: Area, #[case] text: &str) {
        assert_eq!(area.to_string(), text);
    }

    #[test]
    fn display_pads() {
        assert_eq!(format!("[{:>10}]", Area::square_inches(72)), "[  72 sq in]");
    }

    #[test]
    fn polygon_area_does_not_depend_on_direction() {
        let triangle = corners(&[(0, 0), (10, 0), (0, 7)]);
        let reversed: Vec<_> = triangle.iter().rev().copied().collect();
        assert_eq!(Area::of_polygon(&triangle), Area(35));
        assert_eq!(Area::of_polygon(&reversed), Area(35));
    }

    #[test]
    fn polygon_drops_half_a_square_nanometer() {
        assert_eq!(Area::of_polygon(&corners(&[(0, 0), (1, 0), (0, 1)])), Area::ZERO);
        assert_eq!(Area::of_polygon(&corners(&[(0, 0), (3, 0), (0, 1)])), Area(1));
    }

    #[test]
    fn degenerate_polygons_enclose_nothing() {
        for points in [&[][..], &[(5, 5)], &[(0, 0), (9, 9)]] {
            assert_eq!(Area::of_polygon(&corners(points)), Area::ZERO);
        }
    }

    #[test]
    fn engineering_values_are_close() {
        assert!((Area::square_inches(72).as_square_feet_f64() - 0.5).abs() < 1e-12);
        assert!((Area::square_feet(2).as_square_inches_f64() - 288.0).abs() < 1e-9);
    }

    #[test]
    fn json_is_the_text_and_never_a_number() {
        let json = serde_json::to_string(&Area::square_inches(72)).unwrap();
        assert_eq!(json, r#""72 sq in""#);
        assert_eq!(
            serde_json::from_str::<Area>(&json).unwrap(),
            Area::square_inches(72)
        );
        let error = serde_json::from_str::<Area>("72").unwrap_err().to_string();
        assert!(error.contains("found the bare number 72"), "{error}");
    }

    #[test]
    fn schema_examples_are_readable() {
        let schema = schemars::schema_for!(Area);
        for example in schema.get("examples").unwrap().as_array().unwrap() {
            area(example.as_str().unwrap());
        }
    }

    proptest! {
        #[test]
        fn reads_back_what_it_writes(nm2 in -Area::LIMIT.0..=Area::LIMIT.0) {
            prop_assert_eq!(Area(nm2).to_string().parse(), Ok(Area(nm2)));
        }

        #[test]
        fn reads_back_square_inches(steps in -6_200_012_400_024_800_049_600_i128..=6_200_012_400_024_800_049_600) {
            let written = Area(steps * 127 * 127);
            prop_assert!(written.to_string().ends_with("sq in"));
            prop_assert_eq!(written.to_string().parse(), Ok(written));
        }

        #[test]
        fn rectangles_agree_with_polygons(width in 0_i64..1 << 60, height in 0_i64..1 << 60) {
            let outline = corners(&[(0, 0), (width, 0), (width, height), (0, height)]);
            let nm = Length::from_nanometers;
            prop_assert_eq!(Area::of_polygon(&outline), nm(width).by(nm(height)));
        }

        #[test]
        fn no_polygon_panics(points: Vec<(i64, i64)>) {
            prop_assert!(Area::of_polygon(&corners(&points)) >= Area::ZERO);
        }

        #[test]
        fn no_text_panics(text: String) {
            let _ = text.parse::<Area>();
        }

        #[test]
        fn no_near_miss_panics(text in "[-+0-9 ./½^2²eE,sqaftinmc]{0,70}") {
            let _ = text.parse::<Area>();
        }
    }
}
