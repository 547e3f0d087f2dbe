//! Reading house files, writing reports: everything around the judgment that `retrofit-core` makes.

pub mod capture;
pub mod document;
pub mod drawing;
pub mod extract;
pub mod foundation;
pub mod html;
pub mod input;
pub mod json;
mod lanes;
pub mod language;
pub mod look;
pub mod markdown;
pub mod output;
pub mod plan;
pub mod ranking;
pub mod readers;
pub mod result;
pub mod screen;
pub mod survey;
pub mod takeoff;
pub mod terminal;
pub mod triage;
pub mod worksheet;

#[cfg(test)]
mod report_tests;
#[cfg(test)]
mod sample;
