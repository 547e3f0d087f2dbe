//! Reports.

pub mod html;
pub mod json;
pub mod markdown;
pub mod plan;
pub mod result;
pub mod terminal;

#[cfg(test)]
mod report_tests;
#[cfg(test)]
mod sample;
pub mod triage;
