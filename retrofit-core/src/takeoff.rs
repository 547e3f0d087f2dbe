//! Takeoff.

mod cutting;
mod stock;

pub use cutting::{CutSheet, Cutting, PieceSize, Placed, cut};
pub use stock::{Sheet, Sourced, Stock, StockError};
