//! Reading a table of unit prices.

use std::path::Path;

use retrofit_core::prices::UnitPrices;
use retrofit_core::provisions::TableError;
use thiserror::Error;

use super::tables::LARGEST_TABLE;
use super::text::{Origin, TextError, read_text};

/// Why a table of unit prices cannot be used.
#[derive(Debug, Error)]
pub enum PricesError {
    /// The file cannot be read.
    #[error(transparent)]
    Text(#[from] TextError),
    /// Rows are at fault.
    #[error("{}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))]
    Rows(Vec<TableError>),
}

/// Reads a table of unit prices; the error lists every row at fault.
pub fn read_prices(path: &Path) -> Result<UnitPrices, PricesError> {
    let text = read_text(&Origin::from(path), LARGEST_TABLE)?;
    UnitPrices::parse(&path.display().to_string(), &text).map_err(PricesError::Rows)
}
