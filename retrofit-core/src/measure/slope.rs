//! Slopes as exact ratios.

use std::{cmp::Ordering, fmt, str::FromStr};

use super::{
    error::{Fault, MeasureError, Quantity},
    text::{Number, Scanner, decimal_text, gcd, read},
    wire::travels_as_text,
};

/// A slope, held as rise over run in lowest terms. Steeper is greater.
///
/// # Text
///
/// Reads a ratio with both sides marked (`3H:1V`, `1V:3H`, `2.5H:1V`), a
/// percentage (`33.3%`), or `flat`. An unmarked `1:3` is refused: a geologist
/// and a roofer read it in opposite ways.
///
/// Writes `flat`, `3H:1V` where one unit of rise takes a whole run, a
/// percentage where two decimals hold it, and otherwise whole sides such as
/// `7H:3V`. All are exact, so reading gives back the same slope.
///
/// ```
/// use retrofit_core::measure::Slope;
///
/// let limit: Slope = "3H:1V".parse()?;
/// let site: Slope = "33.3%".parse()?;
/// assert!(site < limit, "33.3% is just short of one third");
/// assert_eq!(Slope::new(2, 6), Some(limit));
/// assert_eq!(site.to_string(), "33.3%");
/// # Ok::<(), retrofit_core::measure::MeasureError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Slope {
    // Lowest terms make the derived equality agree with the order.
    rise: u32,
    run: u32,
}

impl Slope {
    /// No slope at all.
    pub const FLAT: Self = Self { rise: 0, run: 1 };

    /// The slope that rises `rise` over a horizontal `run`, both in the same
    /// unit; `None` if `run` is zero.
    #[must_use]
    pub const fn new(rise: u32, run: u32) -> Option<Self> {
        if run == 0 {
            return None;
        }
        let (mut shared, mut rest) = (run, rise);
        while rest != 0 {
            (shared, rest) = (rest, shared % rest);
        }
        Some(Self {
            rise: rise / shared,
            run: run / shared,
        })
    }

    /// The rise, in lowest terms with [`Slope::run`].
    #[must_use]
    pub const fn rise(self) -> u32 {
        self.rise
    }

    /// The horizontal run, in lowest terms with [`Slope::rise`]; never zero.
    #[must_use]
    pub const fn run(self) -> u32 {
        self.run
    }

    /// The exact quotient of two written numbers.
    fn from_numbers(rise: Number, run: Number) -> Result<Self, Fault> {
        let (rise, rise_parts) = rise.as_fraction();
        let (run, run_parts) = run.as_fraction();
        let product = |a: u128, b: u128| a.checked_mul(b).ok_or(Fault::TooLarge);
        let rise = product(rise, run_parts)?;
        let run = product(run, rise_parts)?;
        if run == 0 {
            return Err(Fault::Vertical);
        }
        let shared = gcd(rise, run);
        Ok(Self {
            rise: u32::try_from(rise / shared).map_err(|_| Fault::TooLarge)?,
            run: u32::try_from(run / shared).map_err(|_| Fault::TooFine)?,
        })
    }

    fn text(self) -> String {
        const HUNDREDTHS_OF_PERCENT: u32 = 10_000;
        match self {
            Self { rise: 0, .. } => "flat".to_owned(),
            Self { rise: 1, run } => format!("{run}H:1V"),
            Self { rise, run } if HUNDREDTHS_OF_PERCENT.is_multiple_of(run) => {
                let hundredths = u128::from(rise) * u128::from(HUNDREDTHS_OF_PERCENT / run);
                format!("{}%", decimal_text(hundredths, 2))
            }
            Self { rise, run } => format!("{run}H:{rise}V"),
        }
    }
}

impl Default for Slope {
    fn default() -> Self {
        Self::FLAT
    }
}

impl Ord for Slope {
    fn cmp(&self, other: &Self) -> Ordering {
        let across = |rise: u32, run: u32| u64::from(rise) * u64::from(run);
        across(self.rise, other.run).cmp(&across(other.rise, self.run))
    }
}

impl PartialOrd for Slope {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl fmt::Display for Slope {
    /// Writes the exact slope; a width such as `{:>8}` pads it. Give no
    /// precision: it would cut the text short.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.text())
    }
}

impl FromStr for Slope {
    type Err = MeasureError;

    /// Reads a slope.
    ///
    /// # Errors
    ///
    /// Refuses a ratio whose sides are not marked, a bare number, a negative or
    /// vertical slope, a ratio whose sides in lowest terms exceed 32 bits, and
    /// any text beyond 64 characters or outside the forms that [`Slope`]
    /// documents.
    fn from_str(text: &str) -> Result<Self, MeasureError> {
        read(Quantity::Slope, text, read_slope)
    }
}

fn read_slope(scanner: &mut Scanner<'_>) -> Result<Slope, Fault> {
    let mut ahead = *scanner;
    if ahead.word().eq_ignore_ascii_case("flat") {
        *scanner = ahead;
        return Ok(Slope::FLAT);
    }
    scanner.no_minus()?;
    let first = scanner.decimal()?;
    scanner.spaces();
    if scanner.is_at(RATIO_SIGNS) {
        return Err(Fault::UnmarkedSides);
    }
    let Some(first_side) = read_side(scanner) else {
        scanner.percent_sign()?;
        return Slope::from_numbers(first, Number::HUNDRED);
    };
    scanner.spaces();
    if !scanner.eat(RATIO_SIGNS) {
        return Err(Fault::UnmarkedSides);
    }
    scanner.spaces();
    scanner.no_minus()?;
    let second = scanner.decimal()?;
    scanner.spaces();
    let second_side = read_side(scanner).ok_or(Fault::UnmarkedSides)?;
    match (first_side, second_side) {
        (Side::Horizontal, Side::Vertical) => Slope::from_numbers(second, first),
        (Side::Vertical, Side::Horizontal) => Slope::from_numbers(first, second),
        _ => Err(Fault::SidesAlike),
    }
}

const RATIO_SIGNS: &[char] = &[':', '/'];

enum Side {
    Horizontal,
    Vertical,
}

fn read_side(scanner: &mut Scanner<'_>) -> Option<Side> {
    if scanner.eat(&['H', 'h']) {
        Some(Side::Horizontal)
    } else if scanner.eat(&['V', 'v']) {
        Some(Side::Vertical)
    } else {
        None
    }
}

travels_as_text!(
    Slope,
    description: "An exact slope: a ratio with its horizontal side marked H and its vertical side \
                  marked V (3H:1V), a percentage (33.3%), or flat.",
    examples: ["3H:1V", "1V:3H", "33.3%", "0%", "flat"],
    pattern: "^\\s*([Ff][Ll][Aa][Tt]|.*[HhVv].*[HhVv]|.*[0-9]\\s*(%|[Pp][Ee][Rr][Cc][Ee][Nn][Tt]))\\s*$",
);

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::MeasureErrorKind::{self, *};
    use proptest::prelude::*;
    use rstest::rstest;
    use std::hash::{DefaultHasher, Hash, Hasher};

    fn slope(text: &str) -> Slope {
        text.parse().unwrap_or_else(|error| panic!("{error}"))
    }

    #[rstest]
    #[case("3H:1V", 1, 3)]
    #[case("1V:3H", 1, 3)]
    #[case("3h:1v", 1, 3)]
    #[case("3 H : 1 V", 1, 3)]
    #[case("6H:2V", 1, 3)]
    #[case("2.5H:1V", 2, 5)]
    #[case("7H:3V", 3, 7)]
    #[case("3H:0V", 0, 1)]
    #[case("33.3 %", 333, 1_000)]
    #[case("33.3%", 333, 1_000)]
    #[case("50 percent", 1, 2)]
    #[case("200 %", 2, 1)]
    #[case("0 %", 0, 1)]
    #[case("flat", 0, 1)]
    #[case(" Flat ", 0, 1)]
    #[case("4294967295H:1V", 1, u32::MAX)]
    fn accepts(#[case] text: &str, #[case] rise: u32, #[case] run: u32) {
        assert_eq!((slope(text).rise(), slope(text).run()), (rise, run));
    }

    #[rstest]
    #[case("", Empty, "found no text")]
    #[case("1:3", Ambiguous, r#"mark both sides, for example "3H:1V""#)]
    #[case("4/12", Ambiguous, "mark both sides")]
    #[case("3H:1", Ambiguous, "mark both sides")]
    #[case("3H 1V", Ambiguous, "mark both sides")]
    #[case("3", MissingUnit, "found the bare number 3; write")]
    #[case("33 deg", UnknownUnit, r#"the unit "deg" is not"#)]
    #[case("-5 %", Negative, "without a minus sign")]
    #[case("3H:-1V", Negative, "without a minus sign")]
    #[case("0H:1V", Malformed, "horizontal side")]
    #[case("0H:0V", Malformed, "horizontal side")]
    #[case("3H:1H", Malformed, "one side H and the other V")]
    #[case("3H:1V:2V", Malformed, r#"remove or correct ":2V""#)]
    #[case("flatter", Malformed, "expected a slope")]
    #[case("NaN %", Malformed, "expected a slope")]
    #[case("1e2 %", Malformed, "without an exponent")]
    #[case("0.000000001 %", NotExact, "fewer digits")]
    #[case("4294967296H:1V", NotExact, "fewer digits")]
    #[case("1H:4294967296V", TooLarge, "4294967295")]
    #[case("99999999999999999999999999999999999999999 %", TooLarge, "4294967295")]
    fn refuses(#[case] text: &str, #[case] kind: MeasureErrorKind, #[case] message: &str) {
        let error = text.parse::<Slope>().unwrap_err();
        assert_eq!(error.kind(), kind, "{error}");
        assert!(error.to_string().contains(message), "{error}");
    }

    #[rstest]
    #[case("0 %", "flat")]
    #[case("1V:3H", "3H:1V")]
    #[case("5 %", "20H:1V")]
    #[case("33.3 %", "33.3%")]
    #[case("2.5H:1V", "40%")]
    #[case("1H:2V", "200%")]
    #[case("1H:1V", "1H:1V")]
    #[case("7H:3V", "7H:3V")]
    fn displays(#[case] text: &str, #[case] shown: &str) {
        assert_eq!(slope(text).to_string(), shown);
    }

    #[test]
    fn run_is_never_zero() {
        assert_eq!(Slope::new(1, 0), None);
        assert_eq!(Slope::new(0, 7), Some(Slope::FLAT));
        assert_eq!(Slope::default(), Slope::FLAT);
    }

    #[test]
    fn json_is_the_text_and_never_a_number() {
        let json = serde_json::to_string(&slope("3H:1V")).unwrap();
        assert_eq!(json, r#""3H:1V""#);
        assert_eq!(serde_json::from_str::<Slope>(&json).unwrap(), slope("3H:1V"));
        let error = serde_json::from_str::<Slope>("0.33").unwrap_err().to_string();
        assert!(error.contains("found the bare number 0.33"), "{error}");
    }

    #[test]
    fn schema_examples_are_readable() {
        let schema = schemars::schema_for!(Slope);
        for example in schema.get("examples").unwrap().as_array().unwrap() {
            slope(example.as_str().unwrap());
        }
    }

    fn any_slope() -> impl Strategy<Value = Slope> {
        let side = || prop_oneof![0..200_u32, any::<u32>()];
        (side(), side()).prop_filter_map("run is zero", |(rise, run)| Slope::new(rise, run))
    }

    proptest! {
        #[test]
        fn reads_back_what_it_writes(written in any_slope()) {
            prop_assert_eq!(written.to_string().parse(), Ok(written));
        }

        #[test]
        fn order_equality_and_hash_agree(a in any_slope(), b in any_slope()) {
            let hash = |slope: Slope| {
                let mut hasher = DefaultHasher::new();
                slope.hash(&mut hasher);
                hasher.finish()
            };
            prop_assert_eq!(a == b, a.cmp(&b) == Ordering::Equal);
            prop_assert_eq!(a.cmp(&b), b.cmp(&a).reverse());
            prop_assert!(a != b || hash(a) == hash(b));
        }

        #[test]
        fn scaling_both_sides_changes_nothing(rise in 0_u32..10_000, run in 1_u32..10_000, by in 1_u32..10_000) {
            prop_assert_eq!(Slope::new(rise * by, run * by), Slope::new(rise, run));
        }

        #[test]
        fn no_text_panics(text: String) {
            let _ = text.parse::<Slope>();
        }

        #[test]
        fn no_near_miss_panics(text in "[-+0-9 .:/%HV]{0,70}") {
            let _ = text.parse::<Slope>();
        }
    }
}
