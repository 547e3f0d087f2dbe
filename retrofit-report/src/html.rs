//! The report as one HTML file: no network, no script, for a phone, a screen and letter paper.

use std::sync::OnceLock;

use retrofit_core::provisions::Standing;
use tera::{Context, Tera};

use crate::document::Document;
use crate::drawing::Sheet;
use crate::plan;
use crate::result::{BeforeAfter, Comparison, RenderError, Report, Trust};
use crate::screen::{ScreenReport, ScreensReport, ladder};
use crate::worksheet::{SideBySide, Worksheet};

/// Renders a report.
pub fn render(report: &Report) -> Result<String, RenderError> {
    let mut context = context(report)?;
    context.insert("plan_svg", plan::render(report)?.trim_end());
    context.insert("plan_has_strips", &report.plan.has_strips());
    Ok(templates()?.render("report.html", &context)?)
}

/// Renders a comparison.
pub fn render_comparison(comparison: &Comparison) -> Result<String, RenderError> {
    let context = Context::from_serialize(comparison)?;
    Ok(templates()?.render("comparison.html", &context)?)
}

/// Renders a permit worksheet with its drawings.
pub fn render_worksheet(worksheet: &Worksheet, drawings: &[Sheet]) -> Result<String, RenderError> {
    let mut context = Context::from_serialize(worksheet)?;
    let pictures: Vec<String> = drawings.iter().map(Sheet::to_svg).collect();
    context.insert("drawings", &pictures);
    let confirm = worksheet
        .figures
        .iter()
        .any(|figure| figure.trust == Trust::Confirm);
    context.insert("to_confirm", &confirm);
    context.insert("seen_words", Standing::Verified.words());
    Ok(templates()?.render("worksheet.html", &context)?)
}

/// Renders the work by several sets of provisions side by side.
pub fn render_worksheets(worksheets: &SideBySide) -> Result<String, RenderError> {
    let context = Context::from_serialize(worksheets)?;
    Ok(templates()?.render("worksheets.html", &context)?)
}

/// Renders two records of a house side by side.
pub fn render_before_after(compared: &BeforeAfter) -> Result<String, RenderError> {
    let context = Context::from_serialize(compared)?;
    Ok(templates()?.render("before-after.html", &context)?)
}

/// Renders an engineering screen, each number with its derivation folded up beside it.
pub fn render_screen(report: &ScreenReport) -> Result<String, RenderError> {
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
    Ok(templates()?.render("screen.html", &context)?)
}

/// Renders a page that is put together from its parts.
pub fn render_document(document: &Document) -> Result<String, RenderError> {
    let context = Context::from_serialize(document)?;
    Ok(templates()?.render("document.html", &context)?)
}

/// Renders the screens by several editions side by side.
pub fn render_screens(screens: &ScreensReport) -> Result<String, RenderError> {
    let context = Context::from_serialize(screens)?;
    Ok(templates()?.render("screens.html", &context)?)
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
    Ok(context)
}

fn templates() -> Result<&'static Tera, RenderError> {
    static TEMPLATES: OnceLock<Tera> = OnceLock::new();
    if let Some(tera) = TEMPLATES.get() {
        return Ok(tera);
    }
    let mut tera = Tera::new();
    tera.add_raw_templates([
        ("style.css", include_str!("../templates/style.css")),
        ("head.html", include_str!("../templates/head.html")),
        ("letter.html", include_str!("../templates/letter.html")),
        ("parts.html", include_str!("../templates/parts.html")),
        ("report.html", include_str!("../templates/report.html")),
        (
            "before-after.html",
            include_str!("../templates/before-after.html"),
        ),
        ("comparison.html", include_str!("../templates/comparison.html")),
        ("worksheet.html", include_str!("../templates/worksheet.html")),
        ("worksheets.html", include_str!("../templates/worksheets.html")),
        ("screen.html", include_str!("../templates/screen.html")),
        ("screens.html", include_str!("../templates/screens.html")),
        ("document.html", include_str!("../templates/document.html")),
    ])?;
    Ok(TEMPLATES.get_or_init(|| tera))
}
