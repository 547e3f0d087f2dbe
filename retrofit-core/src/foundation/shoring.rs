//! Temporary support of a wall line.

mod figures;

pub use figures::{CribFigures, Gate, GateKind, Named, Pace, Published, ShoringFigures};
