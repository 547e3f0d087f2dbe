//! The report for machines.

use schemars::generate::SchemaSettings;

use crate::result::{Comparison, Report};

/// The name of the result format, and of its schema.
const FORMAT: &str = "result-1";

/// Renders a report. Keys stand in the order of [`Report`], which only changes with the version of the format.
pub fn render(report: &Report) -> String {
    pretty(report)
}

/// Renders a comparison.
pub fn render_comparison(comparison: &Comparison) -> String {
    pretty(comparison)
}

/// The JSON Schema of a report, named `result-1`.
pub fn schema() -> String {
    let generator = SchemaSettings::draft2020_12().for_serialize().into_generator();
    let mut schema = generator.into_root_schema_for::<Report>();
    schema.insert("$id".to_owned(), FORMAT.into());
    pretty(&schema)
}

fn pretty(value: &impl serde::Serialize) -> String {
    // Only a map whose keys are not text, or a failing writer, makes this fail; there is neither.
    let mut text = serde_json::to_string_pretty(value).unwrap_or_default();
    text.push('\n');
    text
}
