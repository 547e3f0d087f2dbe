//! Why a text could not be read as a measure, and what to write instead.

use thiserror::Error;

/// The most characters of the offending text that an error keeps.
const FOUND_LIMIT: usize = 60;

/// A text, or a JSON value, that is not an acceptable measure.
///
/// The message states what was found, what was expected, and a hint.
///
/// ```
/// use retrofit_core::measure::{Length, MeasureErrorKind};
///
/// let error = "6 furlongs".parse::<Length>().unwrap_err();
/// assert_eq!(error.kind(), MeasureErrorKind::UnknownUnit);
/// assert_eq!(error.found(), "6 furlongs");
/// assert_eq!(
///     error.to_string(),
///     "found \"6 furlongs\"; \
///      expected a length with its unit (in, ft, \", ', mm, cm, or m); \
///      the unit \"furlongs\" is not one of these",
/// );
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("{}", self.message())]
pub struct MeasureError {
    quantity: Quantity,
    fault: Fault,
    found: Box<str>,
}

impl MeasureError {
    pub(super) fn new(quantity: Quantity, fault: Fault, found: &str) -> Self {
        Self {
            quantity,
            fault,
            found: shortened(found),
        }
    }

    /// The class of the fault, for code that reacts to it.
    #[must_use]
    pub const fn kind(&self) -> MeasureErrorKind {
        self.fault.kind()
    }

    /// The offending text without surrounding spaces, shortened to at most 60
    /// characters.
    #[must_use]
    pub fn found(&self) -> &str {
        &self.found
    }

    fn message(&self) -> String {
        let Self {
            quantity,
            fault,
            found,
        } = self;
        let hint = fault.hint(*quantity, found);
        let expected = quantity.expected();
        match fault {
            Fault::BareNumber => format!("found the bare number {found}; {hint}"),
            Fault::Empty => format!("found no text; expected {expected}; {hint}"),
            _ => format!("found {found:?}; expected {expected}; {hint}"),
        }
    }
}

/// The class of a [`MeasureError`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum MeasureErrorKind {
    /// Nothing but spaces.
    Empty,
    /// More than 64 characters.
    TooLong,
    /// A number without its unit.
    MissingUnit,
    /// A unit this quantity is not measured in.
    UnknownUnit,
    /// A value that could only be held rounded, such as 1/3 in.
    NotExact,
    /// A value beyond what a building could need.
    TooLarge,
    /// A negative value of a quantity that has none.
    Negative,
    /// A text with two plausible readings, such as the slope `1:3`.
    Ambiguous,
    /// Any other text that does not follow the accepted forms.
    Malformed,
}

/// What the text was meant to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Quantity {
    Length,
    Area,
    Slope,
    Percent,
    Force,
    Pressure,
}

impl Quantity {
    /// The accepted forms, worded to follow "expected".
    pub(super) const fn expected(self) -> &'static str {
        match self {
            Self::Length => "a length with its unit (in, ft, \", ', mm, cm, or m)",
            Self::Area => "an area with its unit (sq in, sq ft, sf, sq mm, sq cm, or sq m)",
            Self::Slope => "a slope such as \"3H:1V\", \"33.3%\", or \"flat\"",
            Self::Percent => "a percentage such as \"40%\" or \"33.3%\"",
            Self::Force => "a force with its unit (lb, kip, N, or kN)",
            Self::Pressure => "a strength or pressure with its unit (psi, psf, ksi, kPa, or MPa)",
        }
    }
}

/// The precise fault. Finer than [`MeasureErrorKind`], so that each fault can
/// carry its own advice without freezing that detail into the public API.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Fault {
    Empty,
    TooLong,
    BareNumber,
    UnmarkedInches,
    UnknownUnit(Box<str>),
    BadNumber,
    Comma,
    Exponent,
    ZeroDenominator,
    OddDenominator,
    ImproperFraction,
    FeetThenInches,
    InchesBeyondFoot,
    Trailing(Box<str>),
    TooFine,
    TooLarge,
    Negative,
    UnmarkedSides,
    SidesAlike,
    Vertical,
}

impl Fault {
    pub(super) fn unknown_unit(unit: &str) -> Self {
        Self::UnknownUnit(shortened(unit))
    }

    pub(super) fn trailing(rest: &str) -> Self {
        Self::Trailing(shortened(rest))
    }

    const fn kind(&self) -> MeasureErrorKind {
        match self {
            Self::Empty => MeasureErrorKind::Empty,
            Self::TooLong => MeasureErrorKind::TooLong,
            Self::BareNumber | Self::UnmarkedInches => MeasureErrorKind::MissingUnit,
            Self::UnknownUnit(_) => MeasureErrorKind::UnknownUnit,
            Self::OddDenominator | Self::TooFine => MeasureErrorKind::NotExact,
            Self::TooLarge => MeasureErrorKind::TooLarge,
            Self::Negative => MeasureErrorKind::Negative,
            Self::UnmarkedSides => MeasureErrorKind::Ambiguous,
            Self::BadNumber
            | Self::Comma
            | Self::Exponent
            | Self::ZeroDenominator
            | Self::ImproperFraction
            | Self::FeetThenInches
            | Self::InchesBeyondFoot
            | Self::Trailing(_)
            | Self::SidesAlike
            | Self::Vertical => MeasureErrorKind::Malformed,
        }
    }

    fn hint(&self, quantity: Quantity, found: &str) -> String {
        let fixed = match self {
            Self::BareNumber => return missing_unit_hint(quantity, found),
            Self::UnknownUnit(unit) => return format!("the unit {unit:?} is not one of these"),
            Self::Trailing(rest) => return format!("remove or correct {rest:?}"),
            Self::Empty => "write a value or leave the field out",
            Self::TooLong => "write it in at most 64 characters",
            Self::UnmarkedInches => r#"mark the inches too, for example "6'-2\"" or "6 ft 2 in""#,
            Self::BadNumber => "begin with a number such as 72 or 0.229",
            Self::Comma => "write the number without commas, with a period before decimals",
            Self::Exponent => "write the number out in full, without an exponent",
            Self::ZeroDenominator => "a fraction cannot have the denominator zero",
            Self::OddDenominator => "write fractions in halves, quarters, eighths, 16ths, 32nds, or 64ths",
            Self::ImproperFraction => {
                r#"write the whole number apart from a fraction below one, for example "8 1/2 in""#
            }
            Self::FeetThenInches => {
                r#"only inches may follow, and only after whole feet, for example "5'-6 1/2\"""#
            }
            Self::InchesBeyondFoot => {
                r#"carry every 12 in into the feet, for example "6'-1\"" for 5 ft and 13 in"#
            }
            Self::TooFine => match quantity {
                Quantity::Length => "round it to a whole nanometer or to 1/64 in",
                Quantity::Area => "round it to a whole square nanometer or to fewer decimals",
                Quantity::Slope => "round it to fewer digits",
                Quantity::Percent => "round it to at most two decimals",
                Quantity::Force | Quantity::Pressure => "round it to fewer decimals",
            },
            Self::TooLarge => match quantity {
                Quantity::Length => "check the unit; lengths may be up to 10 km",
                Quantity::Area => "check the unit; areas may be up to 100 square kilometers",
                Quantity::Slope => "check the value; each side may be up to 4294967295",
                Quantity::Percent => "check the value; percentages may be up to 1000%",
                Quantity::Force => "check the unit; forces may be up to 1,000,000 lb",
                Quantity::Pressure => "check the unit; pressures may be up to 100,000 psi",
            },
            Self::Negative => "write it without a minus sign",
            Self::UnmarkedSides => r#"mark both sides, for example "3H:1V" for 3 horizontal to 1 vertical"#,
            Self::SidesAlike => "mark one side H and the other V",
            Self::Vertical => "the horizontal side must be more than zero",
        };
        fixed.to_owned()
    }
}

fn missing_unit_hint(quantity: Quantity, number: &str) -> String {
    match quantity {
        Quantity::Length => {
            format!(r#"write a unit, for example "{number} in" or "6'-0\"""#)
        }
        Quantity::Area => format!(r#"write a unit, for example "{number} sq in""#),
        Quantity::Slope => {
            format!(r#"write which side is which or a percent sign, for example "3H:1V" or "{number}%""#)
        }
        Quantity::Percent => format!(r#"write the percent sign, for example "{number}%""#),
        Quantity::Force => format!(r#"write a unit, for example "{number} lb""#),
        Quantity::Pressure => format!(r#"write a unit, for example "{number} psi""#),
    }
}

/// Bounds what an error keeps, however long the offending text was.
fn shortened(text: &str) -> Box<str> {
    if text.chars().nth(FOUND_LIMIT).is_none() {
        return text.into();
    }
    let mut kept: String = text.chars().take(FOUND_LIMIT - 1).collect();
    kept.push('…');
    kept.into_boxed_str()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keeps_at_most_sixty_characters_of_the_text() {
        let exactly = "é".repeat(60);
        assert_eq!(&*shortened(&exactly), exactly);

        let longer = shortened(&"é".repeat(1_000));
        assert_eq!(longer.chars().count(), 60);
        assert!(longer.ends_with('…'));
    }

    #[test]
    fn message_states_found_expected_and_hint() {
        let error = MeasureError::new(Quantity::Length, Fault::InchesBeyondFoot, "5'-13\"");
        assert_eq!(
            error.to_string(),
            "found \"5'-13\\\"\"; \
             expected a length with its unit (in, ft, \", ', mm, cm, or m); \
             carry every 12 in into the feet, for example \"6'-1\\\"\" for 5 ft and 13 in",
        );
    }
}
