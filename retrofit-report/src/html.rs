//! Reports as web pages: one file each, without network, for a phone, a screen and letter paper. The one script they have
//! is their own, and they say the same without it.

use retrofit_core::provisions::Standing;
use tera::Context;

use crate::document::Document;
use crate::drawing::Sheet;
use crate::look::Look;
use crate::plan;
use crate::result::{BeforeAfter, Comparison, RenderError, Report, Trust};
use crate::screen::{ScreenReport, ScreensReport, ladder};
use crate::worksheet::{SideBySide, Worksheet};

/// Renders a report.
pub fn render(report: &Report, look: &Look) -> Result<String, RenderError> {
    let mut context = context(report)?;
    context.insert("plan_svg", plan::render(report, look)?.trim_end());
    context.insert("plan_has_strips", &report.plan.has_strips());
    context.insert("has_work", &report.plan.has_work);
    context.insert("without_layout", &report.plan.without_layout);
    context.insert("photos", &report.photos);
    let mut load_path = report.load_path.clone();
    if let Some(found) = load_path.as_mut().and_then(|screen| screen.found.as_mut()) {
        found.unfold();
    }
    context.insert("load_path", &load_path);
    look.fill_in("report.html", context)
}

/// Renders a comparison.
pub fn render_comparison(comparison: &Comparison, look: &Look) -> Result<String, RenderError> {
    let context = Context::from_serialize(comparison)?;
    look.fill_in("comparison.html", context)
}

/// Renders a permit worksheet with its drawings.
pub fn render_worksheet(
    worksheet: &Worksheet,
    drawings: &[Sheet],
    look: &Look,
) -> Result<String, RenderError> {
    let mut context = Context::from_serialize(worksheet)?;
    let pictures: Vec<String> = drawings.iter().map(Sheet::to_svg).collect();
    context.insert("drawings", &pictures);
    let confirm = worksheet
        .figures
        .iter()
        .any(|figure| figure.trust == Trust::Confirm);
    context.insert("to_confirm", &confirm);
    context.insert("seen_words", Standing::Verified.words());
    look.fill_in("worksheet.html", context)
}

/// Renders the work by several sets of provisions side by side.
pub fn render_worksheets(worksheets: &SideBySide, look: &Look) -> Result<String, RenderError> {
    let context = Context::from_serialize(worksheets)?;
    look.fill_in("worksheets.html", context)
}

/// Renders two records of a house side by side.
pub fn render_before_after(compared: &BeforeAfter, look: &Look) -> Result<String, RenderError> {
    let context = Context::from_serialize(compared)?;
    look.fill_in("before-after.html", context)
}

/// Renders an engineering screen, each number with its derivation folded up beside it.
pub fn render_screen(report: &ScreenReport, look: &Look) -> Result<String, RenderError> {
    let mut page = report.clone();
    let mut strips = Vec::new();
    if let Some(found) = &mut page.found {
        found.unfold();
        strips = ladder::strips(found);
    }
    let mut context = Context::from_serialize(&page)?;
    context.insert("strips", &strips);
    context.insert(
        "ladder_end",
        &page.found.as_ref().map_or_else(String::new, ladder::end),
    );
    look.fill_in("screen.html", context)
}

/// Renders a page that is put together from its parts.
pub fn render_document(document: &Document, look: &Look) -> Result<String, RenderError> {
    let context = Context::from_serialize(document)?;
    look.fill_in("document.html", context)
}

/// Renders the screens by several editions side by side.
pub fn render_screens(screens: &ScreensReport, look: &Look) -> Result<String, RenderError> {
    let context = Context::from_serialize(screens)?;
    look.fill_in("screens.html", context)
}

/// The report, what its places have in common, and which kinds of figures it has.
pub(crate) fn context(report: &Report) -> Result<Context, RenderError> {
    let mut context = Context::from_serialize(report)?;
    for (name, trust) in [
        ("to_confirm", Trust::Confirm),
        ("attested", Trust::Attested),
        ("seen", Trust::Seen),
    ] {
        let any = report.figures.iter().any(|figure| figure.trust == trust);
        context.insert(name, &any);
    }
    context.insert("seen_words", Standing::Verified.words());
    context.insert("explained", &report.explained);
    context.insert("left_open", &report.left_open);
    context.insert("unknown_together", &report.not_seen.together);
    context.insert("not_asked", &report.not_asked);
    context.insert("to_confirm_heading", &report.to_confirm_heading);
    context.insert("recorded", &report.recorded);
    Ok(context)
}
