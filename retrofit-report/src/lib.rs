//! Reports.

pub mod triage;
