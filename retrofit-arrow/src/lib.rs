//! The checks of a portfolio over Arrow record batches, and as a Python module.
//!
//! A record batch with the columns of a portfolio goes in; a record batch with a row for each row of it comes out:
//! what `retrofit triage` writes of that row, and, where a row cannot be read, why not. The rows pass through the
//! same code as those of a file, as text, so that the two cannot differ.

mod batch;
mod lines;
mod python;

pub use batch::{BatchError, Checker};
