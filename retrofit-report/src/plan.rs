//! The plan sketch.

use retrofit_core::house::House;

use crate::result::WallLine;

/// A sketch.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Plan;

impl Plan {
    pub(crate) fn of(_house: &House, _lines: &[WallLine]) -> Self {
        Self
    }
}
