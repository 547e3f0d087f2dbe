//! The report as html.

use crate::result::{Comparison, RenderError, Report};

/// Renders a report.
pub fn render(report: &Report) -> Result<String, RenderError> {
    Ok(report.name.clone())
}

/// Renders a comparison.
pub fn render_comparison(comparison: &Comparison) -> Result<String, RenderError> {
    Ok(comparison.name.clone())
}
