//! The report for machines.

use crate::result::{Comparison, Report};

/// Renders a report.
pub fn render(report: &Report) -> String {
    pretty(report)
}

/// Renders a comparison.
pub fn render_comparison(comparison: &Comparison) -> String {
    pretty(comparison)
}

/// The JSON Schema of a report.
pub fn schema() -> String {
    pretty(&schemars::schema_for!(Report))
}

fn pretty(value: &impl serde::Serialize) -> String {
    // Only maps with keys that are not text, or a failing writer, make this fail; there is neither.
    let mut text = serde_json::to_string_pretty(value).unwrap_or_default();
    text.push('\n');
    text
}
