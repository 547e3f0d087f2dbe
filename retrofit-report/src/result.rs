//! The result of a check as a report shows it: one value from which every format is rendered.

use retrofit_core::check::Assessment;
use schemars::JsonSchema;
use serde::Serialize;
use sha2::{Digest, Sha256};

/// What a report says about itself and its input.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ReportInfo {
    /// The version of this program.
    pub program_version: String,
    /// The name of the input file.
    pub input_file: String,
    /// The SHA-256 of the input, in lower-case hexadecimal digits.
    pub input_sha256: String,
}

impl ReportInfo {
    /// The information for an input of this name and content.
    pub fn of_input(program_version: &str, input_file: &str, content: &[u8]) -> Self {
        let digest = Sha256::digest(content);
        Self {
            program_version: program_version.to_owned(),
            input_file: input_file.to_owned(),
            input_sha256: digest.iter().map(|byte| format!("{byte:02x}")).collect(),
        }
    }
}

/// A report: everything that is shown of an assessment.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Report {
    /// The name of the house.
    pub name: String,
}

impl Report {
    /// Puts an assessment into words.
    pub fn new(assessment: &Assessment<'_>, _info: &ReportInfo) -> Self {
        Self {
            name: assessment.house.name.clone(),
        }
    }
}

/// The same house under several sets of provisions.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Comparison {
    /// The name of the house.
    pub name: String,
}

impl Comparison {
    /// Brings reports on one house together.
    pub fn new(reports: &[Report]) -> Self {
        Self {
            name: reports
                .first()
                .map(|report| report.name.clone())
                .unwrap_or_default(),
        }
    }
}

/// A template that could not be filled in.
#[derive(Debug, thiserror::Error)]
#[error("the report could not be put together: {0}")]
pub struct RenderError(#[from] pub(crate) tera::Error);
