//! The report on a terminal.

use crate::result::{Comparison, Report};

/// Renders a report.
pub fn render(report: &Report, _styled: bool) -> String {
    report.name.clone()
}

/// Renders a comparison.
pub fn render_comparison(comparison: &Comparison, _styled: bool) -> String {
    comparison.name.clone()
}
