//! The report as Markdown: plain enough to read as it stands, with tables as most viewers know them.

use std::io::Write;

use tera::Context;

use crate::document::Document;
use crate::html;
use crate::look::Look;
use crate::result::{BeforeAfter, Comparison, RenderError, Report};
use crate::screen::{ScreenReport, ScreensReport};
use crate::worksheet::{SideBySide, Worksheet};

/// Renders a report.
pub fn render(report: &Report, look: &Look) -> Result<String, RenderError> {
    look.fill_in("report.md", html::context(report)?)
}

/// Renders a comparison.
pub fn render_comparison(comparison: &Comparison, look: &Look) -> Result<String, RenderError> {
    let context = Context::from_serialize(comparison)?;
    look.fill_in("comparison.md", context)
}

/// Renders a permit worksheet.
pub fn render_worksheet(worksheet: &Worksheet, look: &Look) -> Result<String, RenderError> {
    let context = Context::from_serialize(worksheet)?;
    look.fill_in("worksheet.md", context)
}

/// Renders the work by several sets of provisions side by side.
pub fn render_worksheets(worksheets: &SideBySide, look: &Look) -> Result<String, RenderError> {
    let context = Context::from_serialize(worksheets)?;
    look.fill_in("worksheets.md", context)
}

/// Renders two records of a house side by side.
pub fn render_before_after(compared: &BeforeAfter, look: &Look) -> Result<String, RenderError> {
    let context = Context::from_serialize(compared)?;
    look.fill_in("before-after.md", context)
}

/// Renders an engineering screen.
pub fn render_screen(report: &ScreenReport, look: &Look) -> Result<String, RenderError> {
    let context = Context::from_serialize(report)?;
    look.fill_in("screen.md", context)
}

/// Renders the screens by several editions side by side.
pub fn render_screens(screens: &ScreensReport, look: &Look) -> Result<String, RenderError> {
    let context = Context::from_serialize(screens)?;
    look.fill_in("screens.md", context)
}

/// Renders a page that is put together from its parts.
pub fn render_document(document: &Document, look: &Look) -> Result<String, RenderError> {
    let context = Context::from_serialize(document)?;
    look.fill_in("document.md", context)
}

/// Writes text so that Markdown takes none of it for a mark. The templates never begin a line with it, so
/// that signs which only count at the beginning of a line can stay as they are.
pub(crate) fn escape(text: &str, output: &mut dyn Write) -> std::io::Result<()> {
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        let after = rest.get(c.len_utf8()..).unwrap_or_default();
        let is_mark = matches!(
            c,
            '\\' | '`' | '*' | '_' | '[' | ']' | '<' | '>' | '#' | '|' | '&' | '~' | '$' | '@' | '!'
        );
        // Some viewers make links of bare addresses.
        let begins_address = (c == ':' && after.starts_with("//"))
            || (c.eq_ignore_ascii_case(&'w')
                && rest.get(..4).is_some_and(|w| w.eq_ignore_ascii_case("www.")));
        if is_mark || (begins_address && c == ':') {
            output.write_all(b"\\")?;
        }
        let mut utf8 = [0; 4];
        output.write_all(c.encode_utf8(&mut utf8).as_bytes())?;
        rest = after;
        if begins_address && c != ':' {
            let (letters, address) = rest.split_at(2);
            output.write_all(letters.as_bytes())?;
            output.write_all(b"\\")?;
            rest = address;
        }
    }
    Ok(())
}
