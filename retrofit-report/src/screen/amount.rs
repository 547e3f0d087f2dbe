//! Quantities of a screen for a reader and for a machine: U.S. units with their SI companions.

use retrofit_core::screen::{Range, Unit};
use schemars::JsonSchema;
use serde::Serialize;

/// Which units a reader is shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Units {
    /// U.S. units.
    Us,
    /// SI units.
    Si,
    /// U.S. units, with the SI companion in brackets.
    #[default]
    Both,
}

/// Significant digits of a result: what a screen is good for.
pub(super) const OF_RESULT: i32 = 3;
/// Significant digits within a derivation, so that a reader who computes it anew comes to the same result.
pub(super) const OF_STEP: i32 = 5;

/// A quantity, or the range it lies in: exact in U.S. and SI units, and as a reader is shown it.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Amount {
    /// The lower end in the U.S. unit; null where it is infinite.
    pub low: Option<f64>,
    /// The upper end in the U.S. unit, the same as the lower where it is one value; null where it is infinite.
    pub high: Option<f64>,
    /// The U.S. unit; empty for a plain number.
    pub unit: &'static str,
    /// The lower end in the SI unit; null where it is infinite.
    pub si_low: Option<f64>,
    /// The upper end in the SI unit; null where it is infinite.
    pub si_high: Option<f64>,
    /// The SI unit; empty for a plain number.
    pub si_unit: &'static str,
    /// It as a reader is shown it.
    pub shown: String,
}

impl Amount {
    /// A range in pounds and inches.
    pub(super) fn of(range: Range, unit: Unit, units: Units) -> Self {
        Self::rounded(range, unit, units, OF_RESULT)
    }

    /// One value in pounds and inches, as a step of a derivation shows it.
    pub(super) fn step(value: f64, unit: Unit, units: Units) -> Self {
        let range = Range {
            low: value,
            high: value,
        };
        Self::rounded(range, unit, units, OF_STEP)
    }

    fn rounded(range: Range, unit: Unit, units: Units, digits: i32) -> Self {
        let finite = |value: f64| value.is_finite().then_some(value);
        Self {
            low: finite(range.low / unit.factor()),
            high: finite(range.high / unit.factor()),
            unit: unit.sign(),
            si_low: finite(range.low / unit.si_factor()),
            si_high: finite(range.high / unit.si_factor()),
            si_unit: unit.si_sign(),
            shown: shown(range, unit, units, digits),
        }
    }
}

fn shown(range: Range, unit: Unit, units: Units, digits: i32) -> String {
    let us = || in_one(range, unit.factor(), unit.sign(), digits);
    let si = |digits| in_one(range, unit.si_factor(), unit.si_sign(), digits);
    // A plain number, a count or an acceleration is the same in both.
    if unit.sign() == unit.si_sign() {
        return us();
    }
    match units {
        Units::Us => us(),
        Units::Si => si(digits),
        // The companion is there to be read, not to be computed with.
        Units::Both => format!("{} ({})", us(), si(OF_RESULT)),
    }
}

fn in_one(range: Range, factor: f64, sign: &str, digits: i32) -> String {
    let (low, high) = (
        number(range.low / factor, digits),
        number(range.high / factor, digits),
    );
    // A range up to no limit is no one value, however it is compared.
    let numbers = if (range.high.is_finite() && range.is_one()) || low == high {
        high
    } else {
        format!("{low} to {high}")
    };
    with_sign(&numbers, sign)
}

fn with_sign(number: &str, sign: &str) -> String {
    if sign.is_empty() {
        number.to_owned()
    } else {
        format!("{number} {sign}")
    }
}

/// One value in one system of units, as it stands in an equation in numbers.
pub(super) fn in_equation(value: f64, unit: Unit, units: Units) -> String {
    let (factor, sign) = match units {
        Units::Us | Units::Both => (unit.factor(), unit.sign()),
        Units::Si => (unit.si_factor(), unit.si_sign()),
    };
    with_sign(&number(value / factor, OF_STEP), sign)
}

/// A number in so many significant digits, without trailing zeros, its thousands set apart.
pub(super) fn number(value: f64, digits: i32) -> String {
    if value.is_nan() {
        return "not a number".to_owned();
    }
    if value.is_infinite() {
        return if value > 0.0 { "no limit" } else { "no lower limit" }.to_owned();
    }
    if value == 0.0 {
        return "0".to_owned();
    }
    let exponent = exponent(value);
    let decimals = digits - 1 - exponent;
    // Beyond twelve places nothing is left of any quantity under a house.
    if decimals > 12 {
        return format!("{value:.2e}");
    }
    if decimals <= 0 {
        let unit = 10_f64.powi(-decimals);
        return grouped(&format!("{:.0}", (value / unit).round() * unit));
    }
    let decimals = usize::try_from(decimals).unwrap_or(0);
    let text = format!("{value:.decimals$}");
    grouped(text.trim_end_matches('0').trim_end_matches('.'))
}

/// The power of ten of the first digit.
#[expect(
    clippy::cast_possible_truncation,
    reason = "a power of ten of a finite number"
)]
fn exponent(value: f64) -> i32 {
    value.abs().log10().floor() as i32
}

/// Sets thousands apart.
fn grouped(text: &str) -> String {
    let (sign, rest) = text.strip_prefix('-').map_or(("", text), |rest| ("−", rest));
    let (whole, fraction) = rest
        .split_once('.')
        .map_or((rest, None), |(whole, fraction)| (whole, Some(fraction)));
    let mut digits = String::new();
    for (place, digit) in whole.chars().enumerate() {
        if place > 0 && (whole.len() - place).is_multiple_of(3) {
            digits.push(',');
        }
        digits.push(digit);
    }
    match fraction {
        Some(fraction) => format!("{sign}{digits}.{fraction}"),
        None => format!("{sign}{digits}"),
    }
}

/// Demand over capacity for a reader: two decimals, or one from 10 up. What is over 1 is never rounded down to it.
pub(super) fn ratio(ratio: f64) -> String {
    if ratio.is_infinite() || ratio.is_nan() {
        return "no capacity".to_owned();
    }
    if ratio > 1.0 && ratio < 1.01 {
        return "1.01".to_owned();
    }
    if ratio >= 100.0 {
        return grouped(&format!("{ratio:.0}"));
    }
    if ratio >= 10.0 {
        return format!("{ratio:.1}");
    }
    if ratio > 0.0 && ratio < 0.005 {
        return "under 0.01".to_owned();
    }
    format!("{ratio:.2}")
}

/// An acceleration for a reader.
pub(super) fn gravities(shaking: f64) -> String {
    if shaking > 0.0 && shaking < 0.005 {
        return "under 0.01 g".to_owned();
    }
    format!("{shaking:.2} g")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_rounded_to_what_is_useful() {
        for (value, digits, shown) in [
            (0.0, 3, "0"),
            (18_007.6, 3, "18,000"),
            (18_007.6, 5, "18,008"),
            (9_996.0, 3, "10,000"),
            (0.230_769, 5, "0.23077"),
            (0.625, 5, "0.625"),
            (1_234_567.0, 3, "1,230,000"),
            (-512.34, 3, "−512"),
            (33.0, 3, "33"),
            (0.5, 3, "0.5"),
            (99.96, 3, "100"),
            (f64::INFINITY, 3, "no limit"),
        ] {
            assert_eq!(number(value, digits), shown, "{value}");
        }
    }

    #[test]
    fn a_range_is_one_value_where_a_reader_would_see_no_range() {
        let of = |low, high| shown(Range { low, high }, Unit::Pound, Units::Us, OF_RESULT);
        assert_eq!(of(4_417.5, 8_193.5), "4,420 to 8,190 lb");
        assert_eq!(of(8_190.1, 8_193.5), "8,190 lb");
    }

    /// 1 lbf is 4.448 221 615 260 5 N exactly (NIST SP 811, appendix B.8).
    #[test]
    fn both_units_stand_side_by_side() {
        let amount = Amount::of(
            Range {
                low: 1000.0,
                high: 1000.0,
            },
            Unit::Pound,
            Units::Both,
        );
        assert_eq!(amount.shown, "1,000 lb (4.45 kN)");
        assert!((amount.si_low.unwrap() - 4.448_221_615_260_5).abs() < 1e-12);
        let of = |units| {
            Amount::of(
                Range {
                    low: 1000.0,
                    high: 1000.0,
                },
                Unit::Pound,
                units,
            )
            .shown
        };
        assert_eq!(of(Units::Us), "1,000 lb");
        assert_eq!(of(Units::Si), "4.45 kN");
        let plain = Amount::of(Range { low: 1.5, high: 1.5 }, Unit::Gravity, Units::Both);
        assert_eq!(plain.shown, "1.5 g");
    }

    #[test]
    fn what_is_over_one_is_never_shown_as_one() {
        assert_eq!(ratio(1.0), "1.00");
        assert_eq!(ratio(1.000_001), "1.01");
        assert_eq!(ratio(0.999), "1.00");
        assert_eq!(ratio(f64::INFINITY), "no capacity");
        assert_eq!(ratio(12.34), "12.3");
        assert_eq!(ratio(0.001), "under 0.01");
    }

    #[test]
    fn an_infinite_end_is_no_number_for_a_machine() {
        let amount = Amount::of(
            Range {
                low: 1.0,
                high: f64::INFINITY,
            },
            Unit::Plain,
            Units::Both,
        );
        assert_eq!((amount.low, amount.high), (Some(1.0), None));
        assert_eq!(amount.shown, "1 to no limit");
    }
}
