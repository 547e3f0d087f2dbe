//! Sizes of new work in words.
use super::SizeRow;
use retrofit_core::foundation::new_work::NewFoundation;
pub(super) fn rows(_: &NewFoundation) -> Vec<SizeRow> { Vec::new() }
pub(super) fn notes(_: &NewFoundation) -> Vec<String> { Vec::new() }
