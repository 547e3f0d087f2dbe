//! Drawings of a remedy: foundation plan, an elevation of each wall line, and section details.
//!
//! Every drawing is a [`Sheet`]: shapes in real lengths, drawn once from the layout. [`Sheet::to_svg`] and
//! [`Sheet::to_dxf`] write that one sheet, so that the picture and the CAD file cannot differ from each other
//! or from the layout. Nothing here decides anything: stations, kinds and counts are those of the [`Remedy`],
//! sizes are those of the house it was designed for, and a size that is not on record is drawn dashed and
//! called to be verified.

mod details;
mod drafting;
mod dxf;
mod elevation;
mod existing;
mod foundation;
mod lettering;
mod plan;
mod profiles;
mod sheet;
mod survey;
mod svg;
mod symbol;
mod words;

pub use details::details;
pub use dxf::DxfError;
pub use elevation::elevation;
pub(crate) use foundation::bay_name;
pub use foundation::foundation;
pub use plan::plan;
pub use sheet::{Anchor, Dimension, Extent, Hatch, Item, Layer, Point, Scale, Shape, Sheet, Text, Tint};
pub use survey::survey;
pub use symbol::{Kind, Symbol, View};

use retrofit_core::provisions::Provisions;
use retrofit_core::remedy::Remedy;

/// Every sheet of a remedy in order: the plan, the elevations, the details.
pub fn sheets(remedy: &Remedy, provisions: &Provisions) -> Vec<Sheet> {
    let mut sheets = vec![plan(remedy, provisions)];
    sheets
        .extend((0..remedy.taken_as.wall_lines.len()).filter_map(|line| elevation(remedy, provisions, line)));
    sheets.extend(details(remedy, provisions));
    sheets
}
