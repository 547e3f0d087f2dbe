//! A most that a set of provisions gives: the limit itself is allowed, or it is not.

use super::finding::Quantity;
use crate::measure::Length;
use crate::observation::{Observed, Truth};
use crate::provisions::{Compare, Rule};

/// Whether a value stays within the limit of a rule, which may have been brought to the type of the value.
pub(super) fn is_within<T: Copy + Ord, V: Copy>(value: &Observed<T>, limit: T, rule: Rule<V>) -> Truth {
    match rule {
        Rule::Given {
            compare: Compare::LessThan,
            ..
        } => value.less_than(limit),
        _ => value.at_most(limit),
    }
}

/// The limit as it is shown.
pub(super) fn shown(limit: Length, rule: Rule<Length>) -> Quantity {
    match rule {
        Rule::Given {
            compare: Compare::LessThan,
            ..
        } => Quantity::LessThan(limit),
        _ => Quantity::Length(limit),
    }
}
