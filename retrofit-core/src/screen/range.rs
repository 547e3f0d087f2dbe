//! Numbers that an equation takes: refused with what was found and what was expected, before they can come
//! out as something that is not a number.

use thiserror::Error;

use super::number::Number;
use super::quantity::Quantity;

/// A number that an equation does not take.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
#[error("found {value} for {what}; expected {expected}")]
pub struct OutOfRange {
    /// What it was given for.
    pub what: &'static str,
    /// What was given, in pounds and inches.
    pub value: f64,
    /// What would do.
    pub expected: &'static str,
}

/// The quantity, if it is finite and greater than zero.
pub(super) fn positive<F, L, N: Number>(
    quantity: Quantity<F, L, N>,
    what: &'static str,
) -> Result<Quantity<F, L, N>, OutOfRange> {
    let value = quantity.value();
    if value.is_finite() && value > 0.0 {
        return Ok(quantity);
    }
    Err(OutOfRange {
        what,
        value,
        expected: "a number greater than zero",
    })
}

/// The quantity, if it is finite and not below zero.
pub(super) fn not_negative<F, L, N: Number>(
    quantity: Quantity<F, L, N>,
    what: &'static str,
) -> Result<Quantity<F, L, N>, OutOfRange> {
    let value = quantity.value();
    if value.is_finite() && value >= 0.0 {
        return Ok(quantity);
    }
    Err(OutOfRange {
        what,
        value,
        expected: "a number that is not below zero",
    })
}
