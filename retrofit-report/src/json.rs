//! The report for machines.

use schemars::JsonSchema;
use schemars::generate::SchemaSettings;

use crate::foundation::FoundationReport;
use crate::ranking::{RankingManifest, RankingSummary};
use crate::result::{BeforeAfter, Comparison, Report};
use crate::screen::{ScreenReport, ScreensReport};
use crate::survey::SurveyReport;
use crate::triage::Manifest;
use crate::worksheet::{SideBySide, Worksheet};

/// Renders a report. Keys stand in the order of [`Report`], which only changes with the version of the format.
pub fn render(report: &Report) -> String {
    pretty(report)
}

/// Renders a comparison.
pub fn render_comparison(comparison: &Comparison) -> String {
    pretty(comparison)
}

/// Renders a permit worksheet.
pub fn render_worksheet(worksheet: &Worksheet) -> String {
    pretty(worksheet)
}

/// Renders the work by several sets of provisions side by side.
pub fn render_worksheets(worksheets: &SideBySide) -> String {
    pretty(worksheets)
}

/// The JSON Schema of worksheets side by side, named `worksheets-1`.
pub fn worksheets_schema() -> String {
    schema_of::<SideBySide>("worksheets-1")
}

/// The JSON Schema of a worksheet, named `worksheet-1`.
pub fn worksheet_schema() -> String {
    schema_of::<Worksheet>("worksheet-1")
}

/// Renders two records of a house side by side.
pub fn render_before_after(compared: &BeforeAfter) -> String {
    pretty(compared)
}

/// Renders an engineering screen.
pub fn render_screen(report: &ScreenReport) -> String {
    pretty(report)
}

/// Renders the screens by several editions side by side.
pub fn render_screens(screens: &ScreensReport) -> String {
    pretty(screens)
}

/// The JSON Schema of an engineering screen, named `screen-1`.
pub fn screen_schema() -> String {
    schema_of::<ScreenReport>("screen-1")
}

/// The JSON Schema of screens side by side, named `screens-1`.
pub fn screens_schema() -> String {
    schema_of::<ScreensReport>("screens-1")
}

/// Renders a floor level survey.
pub fn render_survey(report: &SurveyReport) -> String {
    pretty(report)
}

/// Renders the foundation work of a house.
pub fn render_foundation(report: &FoundationReport) -> String {
    pretty(report)
}

/// The JSON Schema of foundation work, named `foundation-1`.
pub fn foundation_schema() -> String {
    schema_of::<FoundationReport>("foundation-1")
}

/// The JSON Schema of the manifest of a portfolio run, named `triage-manifest-2`.
pub fn manifest_schema() -> String {
    schema_of::<Manifest>("triage-manifest-2")
}

/// The JSON Schema of a floor level survey, named `survey-1`.
pub fn survey_schema() -> String {
    schema_of::<SurveyReport>("survey-1")
}

/// What a ranked list comes to, as JSON.
pub fn ranking(summary: &RankingSummary) -> String {
    pretty(summary)
}

/// The JSON Schema of the manifest of a ranking, named `ranking-manifest-3`.
pub fn ranking_manifest_schema() -> String {
    schema_of::<RankingManifest>("ranking-manifest-3")
}

/// The JSON Schema of what a ranked list comes to, named `ranking-2`.
pub fn ranking_schema() -> String {
    schema_of::<RankingSummary>("ranking-2")
}

/// The JSON Schema of a report, named `result-1`.
pub fn schema() -> String {
    schema_of::<Report>("result-1")
}

/// The JSON Schema of a comparison, named `comparison-1`.
pub fn comparison_schema() -> String {
    schema_of::<Comparison>("comparison-1")
}

/// The JSON Schema of two records of a house side by side, named `before-after-1`.
pub fn before_after_schema() -> String {
    schema_of::<BeforeAfter>("before-after-1")
}

pub(crate) fn schema_of<T: JsonSchema>(id: &str) -> String {
    let generator = SchemaSettings::draft2020_12().for_serialize().into_generator();
    let mut schema = generator.into_root_schema_for::<T>();
    schema.insert("$id".to_owned(), id.into());
    pretty(&schema)
}

pub(crate) fn pretty(value: &impl serde::Serialize) -> String {
    // Only a map whose keys are not text, or a failing writer, makes this fail; there is neither.
    let mut text = serde_json::to_string_pretty(value).unwrap_or_default();
    text.push('\n');
    text
}
