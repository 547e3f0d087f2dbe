//! The report as Markdown: plain enough to read as it stands, with tables as most viewers know them.

use std::io::Write;
use std::sync::OnceLock;

use tera::{Context, Tera};

use crate::document::Document;
use crate::html;
use crate::result::{BeforeAfter, Comparison, RenderError, Report};
use crate::screen::{ScreenReport, ScreensReport};
use crate::worksheet::{SideBySide, Worksheet};

/// Renders a report.
pub fn render(report: &Report) -> Result<String, RenderError> {
    Ok(templates()?.render("report.md", &html::context(report)?)?)
}

/// Renders a comparison.
pub fn render_comparison(comparison: &Comparison) -> Result<String, RenderError> {
    let context = Context::from_serialize(comparison)?;
    Ok(templates()?.render("comparison.md", &context)?)
}

/// Renders a permit worksheet.
pub fn render_worksheet(worksheet: &Worksheet) -> Result<String, RenderError> {
    let context = Context::from_serialize(worksheet)?;
    Ok(templates()?.render("worksheet.md", &context)?)
}

/// Renders the work by several sets of provisions side by side.
pub fn render_worksheets(worksheets: &SideBySide) -> Result<String, RenderError> {
    let context = Context::from_serialize(worksheets)?;
    Ok(templates()?.render("worksheets.md", &context)?)
}

/// Renders two records of a house side by side.
pub fn render_before_after(compared: &BeforeAfter) -> Result<String, RenderError> {
    let context = Context::from_serialize(compared)?;
    Ok(templates()?.render("before-after.md", &context)?)
}

/// Renders an engineering screen.
pub fn render_screen(report: &ScreenReport) -> Result<String, RenderError> {
    let context = Context::from_serialize(report)?;
    Ok(templates()?.render("screen.md", &context)?)
}

/// Renders the screens by several editions side by side.
pub fn render_screens(screens: &ScreensReport) -> Result<String, RenderError> {
    let context = Context::from_serialize(screens)?;
    Ok(templates()?.render("screens.md", &context)?)
}

/// Renders a page that is put together from its parts.
pub fn render_document(document: &Document) -> Result<String, RenderError> {
    let context = Context::from_serialize(document)?;
    Ok(templates()?.render("document.md", &context)?)
}

fn templates() -> Result<&'static Tera, RenderError> {
    static TEMPLATES: OnceLock<Tera> = OnceLock::new();
    if let Some(tera) = TEMPLATES.get() {
        return Ok(tera);
    }
    let mut tera = Tera::new();
    tera.autoescape_on([".md"]);
    tera.set_escape_fn(escape);
    tera.add_raw_templates([
        ("parts.md", include_str!("../templates/parts.md")),
        ("report.md", include_str!("../templates/report.md")),
        ("before-after.md", include_str!("../templates/before-after.md")),
        ("comparison.md", include_str!("../templates/comparison.md")),
        ("worksheet.md", include_str!("../templates/worksheet.md")),
        ("worksheets.md", include_str!("../templates/worksheets.md")),
        ("screen.md", include_str!("../templates/screen.md")),
        ("screens.md", include_str!("../templates/screens.md")),
        ("document.md", include_str!("../templates/document.md")),
    ])?;
    Ok(TEMPLATES.get_or_init(|| tera))
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
