//! Reading and writing exact numbers, shared by every measure.
//!
//! A [`Scanner`] walks the text once from left to right and borrows from it, so
//! that reading a well-formed measure allocates nothing.

use super::error::{Fault, MeasureError, Quantity};

/// The most characters a measure may have; the longest text any measure is
/// written as needs fewer than 50.
const TEXT_LIMIT: usize = 64;

/// A square meter has 10^18 square nanometers, and no accepted unit is held to
/// more decimals than that.
const FRACTION_DIGITS_LIMIT: usize = 18;

const DASHES: &[char] = &['-', '−'];
const FRACTION_SLASHES: &[char] = &['/', '⁄'];

/// Reads the whole of `text` with `grammar`, and turns a fault into an error
/// that quotes the text.
pub(super) fn read<T>(
    quantity: Quantity,
    text: &str,
    grammar: impl FnOnce(&mut Scanner<'_>) -> Result<T, Fault>,
) -> Result<T, MeasureError> {
    read_bounded(text, grammar).map_err(|fault| MeasureError::new(quantity, fault, text.trim()))
}

fn read_bounded<T>(
    text: &str,
    grammar: impl FnOnce(&mut Scanner<'_>) -> Result<T, Fault>,
) -> Result<T, Fault> {
    // No character is shorter than a byte, so most texts need no counting.
    if text.len() > TEXT_LIMIT && text.chars().nth(TEXT_LIMIT).is_some() {
        return Err(Fault::TooLong);
    }
    let mut scanner = Scanner { rest: text.trim() };
    if scanner.is_done() {
        return Err(Fault::Empty);
    }
    let value = grammar(&mut scanner)?;
    scanner.spaces();
    if scanner.is_done() {
        Ok(value)
    } else {
        Err(Fault::trailing(scanner.rest))
    }
}

/// A number as written, held as an exact fraction.
#[derive(Debug, Clone, Copy)]
pub(super) struct Number {
    numerator: u128,
    /// Never zero: a power of ten up to 10^18, or a power of two up to 64.
    denominator: u128,
}

impl Number {
    pub(super) const HUNDRED: Self = Self {
        numerator: 100,
        denominator: 1,
    };

    pub(super) const fn is_whole(self) -> bool {
        self.numerator.is_multiple_of(self.denominator)
    }

    pub(super) const fn is_at_least(self, whole: u32) -> bool {
        self.numerator / self.denominator >= whole as u128
    }

    /// The number as numerator and denominator; the latter is never zero.
    pub(super) const fn as_fraction(self) -> (u128, u128) {
        (self.numerator, self.denominator)
    }

    /// `self × unit`, if that is a whole number.
    pub(super) fn of_unit(self, unit: u128) -> Result<u128, Fault> {
        // Dividing by what the unit and denominator share comes first, so that
        // no product outgrows the result itself.
        let shared = gcd(unit, self.denominator);
        let divisor = self.denominator / shared;
        if !self.numerator.is_multiple_of(divisor) {
            return Err(Fault::TooFine);
        }
        (self.numerator / divisor)
            .checked_mul(unit / shared)
            .ok_or(Fault::TooLarge)
    }
}

/// What remains of a text being read.
#[derive(Debug, Clone, Copy)]
pub(super) struct Scanner<'a> {
    rest: &'a str,
}

impl<'a> Scanner<'a> {
    pub(super) const fn is_done(&self) -> bool {
        self.rest.is_empty()
    }

    pub(super) const fn rest(&self) -> &'a str {
        self.rest
    }

    pub(super) fn spaces(&mut self) {
        self.rest = self.rest.trim_start();
    }

    /// Takes the next character if it is one of `accepted`.
    pub(super) fn eat(&mut self, accepted: &[char]) -> bool {
        let after = self.rest.strip_prefix(accepted);
        self.rest = after.unwrap_or(self.rest);
        after.is_some()
    }

    pub(super) fn eat_dash(&mut self) -> bool {
        self.eat(DASHES)
    }

    /// Takes an optional leading sign; true if it was a minus.
    pub(super) fn minus(&mut self) -> bool {
        self.eat_dash() || {
            self.eat(&['+']);
            false
        }
    }

    /// Takes a leading plus; a minus is a fault.
    pub(super) fn no_minus(&mut self) -> Result<(), Fault> {
        if self.minus() {
            Err(Fault::Negative)
        } else {
            Ok(())
        }
    }

    /// Takes a run of letters, with the period of an abbreviation. Empty if the
    /// next character is not a letter.
    pub(super) fn word(&mut self) -> &'a str {
        let word = self.take_while(char::is_alphabetic);
        if !word.is_empty() {
            self.eat(&['.']);
        }
        word
    }

    /// Takes `%` or the word `percent`.
    pub(super) fn percent_sign(&mut self) -> Result<(), Fault> {
        self.spaces();
        if self.eat(&['%']) {
            return Ok(());
        }
        let word = self.word();
        if word.eq_ignore_ascii_case("percent") {
            Ok(())
        } else {
            Err(self.not_a_unit(word))
        }
    }

    /// The fault of having found `word` where a unit should stand.
    pub(super) fn not_a_unit(&self, word: &str) -> Fault {
        if !word.is_empty() {
            Fault::unknown_unit(word)
        } else if self.is_done() {
            Fault::BareNumber
        } else {
            Fault::trailing(self.rest)
        }
    }

    pub(super) fn is_at(&self, accepted: &[char]) -> bool {
        self.rest.starts_with(accepted)
    }

    pub(super) fn is_at_number(&self) -> bool {
        self.rest
            .starts_with(|c: char| c.is_ascii_digit() || c == '.' || vulgar_fraction(c).is_some())
    }

    /// Takes a number with or without a fraction: `72`, `0.229`, `1/2`,
    /// `8 1/2`, `8-1/2`, `8½`.
    pub(super) fn number(&mut self) -> Result<Number, Fault> {
        if let Some(fraction) = self.fraction()? {
            return Ok(fraction);
        }
        let has_point = self.past_digits().rest.starts_with('.');
        let number = self.decimal()?;
        if has_point {
            return Ok(number);
        }
        // A dash or spaces, but not both: "1 - 1/2" looks like a subtraction.
        let mut ahead = *self;
        if !ahead.eat_dash() {
            ahead.spaces();
        }
        let Some(fraction) = ahead.fraction()? else {
            return Ok(number);
        };
        *self = ahead;
        let numerator = number
            .numerator
            .checked_mul(fraction.denominator)
            .and_then(|whole| whole.checked_add(fraction.numerator))
            .ok_or(Fault::TooLarge)?;
        Ok(Number {
            numerator,
            denominator: fraction.denominator,
        })
    }

    /// Takes a number with or without decimals: `72`, `0.229`, `.5`.
    pub(super) fn decimal(&mut self) -> Result<Number, Fault> {
        let whole = self.digits();
        let decimals = if self.eat(&['.']) {
            let decimals = self.digits();
            if decimals.is_empty() {
                return Err(Fault::BadNumber);
            }
            decimals.trim_end_matches('0')
        } else if whole.is_empty() {
            return Err(Fault::BadNumber);
        } else {
            ""
        };
        self.refuse_comma_and_exponent()?;
        if decimals.len() > FRACTION_DIGITS_LIMIT {
            return Err(Fault::TooFine);
        }
        let mut numerator = append_digits(0, whole)?;
        let mut denominator = 1;
        if !decimals.is_empty() {
            numerator = append_digits(numerator, decimals)?;
            denominator = decimals.bytes().fold(1, |power, _| power * 10);
        }
        Ok(Number {
            numerator,
            denominator,
        })
    }

    /// Takes a fraction below one, `1/2` or `½`, or takes nothing if none stands
    /// here.
    fn fraction(&mut self) -> Result<Option<Number>, Fault> {
        let mut ahead = *self;
        if let Some((numerator, denominator)) = ahead.next_char().and_then(vulgar_fraction) {
            *self = ahead;
            return Ok(Some(Number {
                numerator,
                denominator,
            }));
        }
        let mut ahead = *self;
        let numerator = ahead.digits();
        if numerator.is_empty() || !ahead.eat(FRACTION_SLASHES) {
            return Ok(None);
        }
        let denominator = ahead.digits();
        if denominator.is_empty() {
            return Err(Fault::BadNumber);
        }
        ahead.refuse_comma_and_exponent()?;
        *self = ahead;
        let numerator = append_digits(0, numerator)?;
        let denominator = append_digits(0, denominator)?;
        match denominator {
            0 => Err(Fault::ZeroDenominator),
            // "81/2" is more likely a slip for "8 1/2" than forty and a half.
            _ if numerator >= denominator => Err(Fault::ImproperFraction),
            2 | 4 | 8 | 16 | 32 | 64 => Ok(Some(Number {
                numerator,
                denominator,
            })),
            _ => Err(Fault::OddDenominator),
        }
    }

    /// Names these two mistakes, which would otherwise surface as a puzzling
    /// unit called ",500" or "e5".
    fn refuse_comma_and_exponent(&self) -> Result<(), Fault> {
        let mut ahead = *self;
        if ahead.eat(&[',']) {
            return Err(Fault::Comma);
        }
        if ahead.eat(&['e', 'E']) {
            ahead.minus();
            if ahead.rest.starts_with(|c: char| c.is_ascii_digit()) {
                return Err(Fault::Exponent);
            }
        }
        Ok(())
    }

    fn digits(&mut self) -> &'a str {
        self.take_while(|c| c.is_ascii_digit())
    }

    fn past_digits(mut self) -> Self {
        self.digits();
        self
    }

    fn next_char(&mut self) -> Option<char> {
        let mut chars = self.rest.chars();
        let next = chars.next();
        self.rest = chars.as_str();
        next
    }

    fn take_while(&mut self, keep: impl Fn(char) -> bool) -> &'a str {
        let end = self.rest.find(|c| !keep(c)).unwrap_or(self.rest.len());
        let (taken, rest) = self.rest.split_at(end);
        self.rest = rest;
        taken
    }
}

fn append_digits(number: u128, digits: &str) -> Result<u128, Fault> {
    digits.bytes().try_fold(number, |number, digit| {
        number
            .checked_mul(10)
            .and_then(|shifted| shifted.checked_add(u128::from(digit - b'0')))
            .ok_or(Fault::TooLarge)
    })
}

const fn vulgar_fraction(c: char) -> Option<(u128, u128)> {
    Some(match c {
        '½' => (1, 2),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        _ => return None,
    })
}

/// The greatest common divisor; zero only if both are zero.
pub(super) const fn gcd(mut a: u128, mut b: u128) -> u128 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

/// Writes `value ÷ 10^places` exactly, without trailing zeros.
pub(super) fn decimal_text(value: u128, places: usize) -> String {
    let padded = format!("{value:0>width$}", width = places + 1);
    let (whole, decimals) = padded.split_at(padded.len() - places);
    match decimals.trim_end_matches('0') {
        "" => whole.to_owned(),
        decimals => format!("{whole}.{decimals}"),
    }
}

/// The sign to write before a magnitude.
pub(super) const fn sign_text(negative: bool) -> &'static str {
    if negative { "-" } else { "" }
}

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    #[rstest]
    #[case(0, 2, "0")]
    #[case(5, 2, "0.05")]
    #[case(4_000, 2, "40")]
    #[case(3_330, 2, "33.3")]
    #[case(72, 0, "72")]
    fn decimal_text_is_exact_and_trimmed(#[case] value: u128, #[case] places: usize, #[case] text: &str) {
        assert_eq!(decimal_text(value, places), text);
    }
}
