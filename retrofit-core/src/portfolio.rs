//! Portfolios: many houses in a table, one row a house.
//!
//! A row says less than a house file: it describes one wall line that stands for all wall lines of its house
//! (or, in the form with two tables, each wall line in a row of its own), and one run of anchors, one summary
//! of panels, one foundation that stand for all of that wall line. What it can say is the closed list of
//! [`COLUMNS`]. A blank cell is *unknown*: never zero, never *no*, never fine. Beside observations it may have
//! columns of [`Context`], which no check reads: where the house stands, and what it is worth.
//!
//! ```
//! use retrofit_core::house::House;
//! use retrofit_core::portfolio::{Form, Layout, RowReader};
//!
//! let layout = Layout::new(["id", "stories", "wall_length", "anchors"], Form::OneTable)?;
//! let mut rows = RowReader::one_table(layout);
//! let mut house = House::default();
//! rows.read(&mut house, ["Q-17", "1", "24'-0\"", ""].into_iter())?;
//! assert_eq!(house.name, "Q-17");
//! assert!(house.wall_lines[0].anchors.is_not_recorded());
//!
//! let error = rows.read(&mut house, ["Q-18", "1", "24", "no"].into_iter()).unwrap_err();
//! assert_eq!(error.column, "wall_length");
//! assert!(error.problem.contains("write a unit"));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! Reading a row, checking its house and taking the [`Digest`] of the findings takes no memory of its own once
//! the first rows have been read.

mod cell;
mod checker;
mod column;
mod column_map;
mod context;
mod digest;
mod direct;
mod graph;
mod layout;
mod memory;
mod parts;
mod row;
mod rows;
mod share;
mod table;

pub use cell::Holds;
pub use checker::{RowChecker, RowDigest, RowError};
pub use column::{COLUMNS, Column, ID, KNOWN_BY, PASSED_ON, PASSED_PREFIX, Table, WALL_LINE};
pub use column_map::{
    CellJudge, CellState, ColumnMap, ColumnRule, DecimalMark, Delimiter, Encoding, FileForm, INFERRED,
    Inference, MapFault, MapFormat, Names, Otherwise, SourceFault, Test, Translator, plain_number,
};
pub use context::{ClimateZone, Context, ContextField, NoClimateZone};
pub use digest::{Digest, Governing};
pub use layout::{Form, HeaderError, Layout};
pub(crate) use parts::Shortfall;
pub use parts::{Part, PartsFound};
pub use row::{CellError, RowReader};
pub use rows::{RowCells, Rows, Span};
