//! Forces and pressures as a data sheet or a test report declares them, exact in either system of units.

use std::{fmt, str::FromStr};

use super::{
    error::{Fault, MeasureError, Quantity},
    text::{Scanner, decimal_text, read},
    wire::travels_as_text,
};

/// A pound-force in ten-trillionths of a newton: 0.453 592 37 kg at 9.806 65 m/s², exact (NIST SP 811, appendix B.8).
const POUND: u128 = 44_482_216_152_605;
/// A newton in the same.
const NEWTON: u128 = 10_000_000_000_000;
/// A newton on a square meter, in ten-trillionths of a newton on a square foot of 0.3048 m by 0.3048 m.
const PASCAL: u128 = 929_030_400_000;

/// A declared force, held as a whole number of ten-trillionths of a newton.
///
/// Reads `450 lb`, `1.2 kip`, `2000 N`, `2 kN`, up to 1,000,000 lb; never negative. Writes pounds where those end
/// within two decimals, and otherwise newtons.
///
/// ```
/// use retrofit_core::measure::Force;
/// let declared: Force = "1.2 kip".parse()?;
/// assert_eq!(declared.to_string(), "1200 lb");
/// assert_eq!("2 kN".parse::<Force>()?.to_string(), "2000 N");
/// assert!("450".parse::<Force>().is_err());
/// # Ok::<(), retrofit_core::measure::MeasureError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Force(u128);

/// A declared strength or pressure, held as a whole number of ten-trillionths of a newton on a square foot.
///
/// Reads `2500 psi`, `1500 psf`, `2.5 ksi`, `17 MPa`, `72 kPa`, up to 100,000 psi; never negative. Writes pounds on a
/// square inch or foot where those end within two decimals, and otherwise pascals.
///
/// ```
/// use retrofit_core::measure::Pressure;
/// let tested: Pressure = "2500 psi".parse()?;
/// assert_eq!(tested.as_psi_f64(), 2500.0);
/// assert_eq!("17 MPa".parse::<Pressure>()?.to_string(), "17000000 Pa");
/// assert_eq!("1500 psf".parse::<Pressure>()?.to_string(), "1500 psf");
/// # Ok::<(), retrofit_core::measure::MeasureError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Pressure(u128);

impl Force {
    /// The largest force that text may give.
    pub const LIMIT: Self = Self(1_000_000 * POUND);

    /// A force in whole pounds.
    #[must_use]
    pub const fn pounds(pounds: u32) -> Self {
        Self(pounds as u128 * POUND)
    }

    /// The force in pounds for engineering formulas.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "formulas are in floating point")]
    pub const fn as_pounds_f64(self) -> f64 {
        self.0 as f64 / POUND as f64
    }

    fn text(self) -> String {
        in_hundredths(self.0, POUND, "lb").unwrap_or_else(|| format!("{} N", decimal_text(self.0, 13)))
    }
}

impl Pressure {
    /// The largest pressure that text may give.
    pub const LIMIT: Self = Self(100_000 * 144 * POUND);

    /// A pressure in whole pounds on a square inch.
    #[must_use]
    pub const fn psi(psi: u32) -> Self {
        Self(psi as u128 * 144 * POUND)
    }

    /// A pressure in whole pounds on a square foot.
    #[must_use]
    pub const fn psf(psf: u32) -> Self {
        Self(psf as u128 * POUND)
    }

    /// The pressure in pounds on a square inch for engineering formulas.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "formulas are in floating point")]
    pub const fn as_psi_f64(self) -> f64 {
        self.0 as f64 / (144 * POUND) as f64
    }

    fn text(self) -> String {
        let pascals = || {
            // A pascal is a whole number of the unit held, so that a pressure read in pascals is written in them.
            format!("{} Pa", decimal_text(self.0 * 1_000_000 / PASCAL, 6))
        };
        let psi = in_hundredths(self.0, 144 * POUND, "psi");
        psi.or_else(|| in_hundredths(self.0, POUND, "psf"))
            .unwrap_or_else(pascals)
    }
}

/// The value in a unit, where it ends within two decimals.
fn in_hundredths(value: u128, unit: u128, sign: &str) -> Option<String> {
    let hundredths = value * 100;
    hundredths
        .is_multiple_of(unit)
        .then(|| format!("{} {sign}", decimal_text(hundredths / unit, 2)))
}

fn load(scanner: &mut Scanner<'_>, units: &[(&str, u128)], limit: u128) -> Result<u128, Fault> {
    scanner.no_minus()?;
    let number = scanner.number()?;
    scanner.spaces();
    let start = *scanner;
    let word = scanner.word();
    let unit = units.iter().find(|(name, _)| name.eq_ignore_ascii_case(word));
    let (_, unit) = unit.ok_or_else(|| {
        if word.is_empty() {
            start.not_a_unit(word)
        } else {
            Fault::unknown_unit(start.rest())
        }
    })?;
    let value = number.of_unit(*unit)?;
    if value > limit {
        Err(Fault::TooLarge)
    } else {
        Ok(value)
    }
}

const FORCES: [(&str, u128); 8] = [
    ("lb", POUND),
    ("lbs", POUND),
    ("lbf", POUND),
    ("kip", 1000 * POUND),
    ("kips", 1000 * POUND),
    ("N", NEWTON),
    ("kN", 1000 * NEWTON),
    ("pounds", POUND),
];

const PRESSURES: [(&str, u128); 6] = [
    ("psi", 144 * POUND),
    ("psf", POUND),
    ("ksi", 144_000 * POUND),
    ("Pa", PASCAL),
    ("kPa", 1000 * PASCAL),
    ("MPa", 1_000_000 * PASCAL),
];

impl FromStr for Force {
    type Err = MeasureError;
    fn from_str(text: &str) -> Result<Self, MeasureError> {
        read(Quantity::Force, text, |scanner| {
            load(scanner, &FORCES, Self::LIMIT.0).map(Self)
        })
    }
}

impl FromStr for Pressure {
    type Err = MeasureError;
    fn from_str(text: &str) -> Result<Self, MeasureError> {
        read(Quantity::Pressure, text, |scanner| {
            load(scanner, &PRESSURES, Self::LIMIT.0).map(Self)
        })
    }
}

impl fmt::Display for Force {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.text())
    }
}

impl fmt::Display for Pressure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.text())
    }
}

travels_as_text!(
    Force,
    description: "A force with its unit: 450 lb, 1.2 kip, 2 kN; up to 1,000,000 lb.",
    examples: ["450 lb", "1.2 kip", "2 kN"],
    pattern: "[0-9½¼¾⅛⅜⅝⅞]\\s*[A-Za-z]+\\s*$",
);

travels_as_text!(
    Pressure,
    description: "A strength or pressure with its unit: 2500 psi, 1500 psf, 17 MPa; up to 100,000 psi.",
    examples: ["2500 psi", "1500 psf", "17 MPa"],
    pattern: "[0-9½¼¾⅛⅜⅝⅞]\\s*[A-Za-z]+\\s*$",
);

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::MeasureErrorKind::{self, *};
    use proptest::prelude::*;
    use rstest::rstest;

    #[rstest]
    #[case("450 lb", "450 lb")]
    #[case("1 1/2 kip", "1500 lb")]
    #[case("4448.2216152605 N", "1000 lb")]
    #[case("2.5 kN", "2500 N")]
    fn forces_are_read_and_written(#[case] text: &str, #[case] written: &str) {
        let force: Force = text.parse().unwrap();
        assert_eq!(force.to_string(), written);
    }

    #[rstest]
    #[case("450", MissingUnit)]
    #[case("450 in", UnknownUnit)]
    #[case("-450 lb", Negative)]
    #[case("2000 kip", TooLarge)]
    #[case("NaN lb", Malformed)]
    #[case("1e3 lb", Malformed)]
    fn forces_are_refused(#[case] text: &str, #[case] kind: MeasureErrorKind) {
        assert_eq!(text.parse::<Force>().unwrap_err().kind(), kind);
    }

    /// NIST SP 811 (2008), appendix B.8: 1 psi is 6.894 757 kPa, 1 psf 47.880 26 Pa, 1 lbf 4.448 222 N.
    #[rstest]
    #[case("6.894757 kPa", 1.0)]
    #[case("47.88026 Pa", 1.0 / 144.0)]
    fn units_agree_with_the_published_factors(#[case] text: &str, #[case] psi: f64) {
        let pressure: Pressure = text.parse().unwrap();
        approx(pressure.as_psi_f64(), psi);
    }

    fn approx(found: f64, expected: f64) {
        assert!((found / expected - 1.0).abs() < 1e-6, "{found} for {expected}");
    }

    proptest! {
        #[test]
        fn what_is_written_reads_back(value in 0_u128..=Force::LIMIT.0) {
            let force = Force(value);
            prop_assert_eq!(force.to_string().parse::<Force>().unwrap(), force);
        }

        #[test]
        fn pressures_read_back(psf in 0_u32..14_400_000, pascals in 0_u32..600_000_000) {
            for text in [format!("{psf} psf"), format!("{pascals} Pa")] {
                let pressure: Pressure = text.parse().unwrap();
                prop_assert_eq!(pressure.to_string().parse::<Pressure>().unwrap(), pressure);
            }
        }
    }
}
