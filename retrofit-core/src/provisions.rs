//! Sets of provisions: what a document asks for, figure by figure, each with its source and standing.
//!
//! A set is data. It is read from the text of a few small tables (this crate opens no file; the caller hands
//! the text over), and every figure in it keeps its document, edition, section and [`Standing`] all the way
//! into the report. Sets are values: the same house can be checked under several.
//!
//! Before checking, a set is *resolved*: for each number of stories, weight case and stud height band the
//! applicable figures are looked up once and kept in a [`Requirement`], so that a check only reads a slot.

mod catalog;
mod figure;
mod load;
mod requirement;
mod set;

pub use crate::table::{TableError, TableFile};
pub use catalog::{FigureKey, FigureName, Measure, keys};
pub use figure::{
    Attestation, Case, Compare, Content, Figure, FigureId, FromValue, Source, Standing, Value, cited,
};
pub use requirement::{Requirement, Rule};
pub use set::{Library, Provisions};
