//! A page for one of those who read a result, in every format.

use std::sync::OnceLock;

use serde::Serialize;
use tera::{Context, Tera};

use super::owner::Part;
use super::picture::Picture;
use super::{AssessorSheet, CrewSheets, HouseResult, OwnerPage, ReaderError};
use crate::language::{LanguageError, Words};
use crate::result::RenderError;
use crate::{html, json, markdown};

/// Somebody who reads the result for a house.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reader {
    /// The owner.
    Owner,
    /// An engineer, or whoever checks the findings.
    Engineer,
    /// An assessor of many houses.
    Assessor,
    /// A plan checker.
    Permit,
    /// The crew that does the work.
    Crew,
}

impl Reader {
    /// All of them.
    pub const ALL: [Self; 5] = [
        Self::Owner,
        Self::Engineer,
        Self::Assessor,
        Self::Permit,
        Self::Crew,
    ];

    /// The name by which a page is asked for, which is also part of the name of its file.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Owner => "owner",
            Self::Engineer => "engineer",
            Self::Assessor => "assessor",
            Self::Permit => "permit",
            Self::Crew => "crew",
        }
    }

    /// Whether the page is written in the language that was asked for; the others are in English.
    pub const fn is_in_every_language(self) -> bool {
        matches!(self, Self::Owner | Self::Assessor | Self::Crew)
    }
}

/// A page in every format.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Page {
    /// As one web page.
    pub html: String,
    /// As Markdown.
    pub markdown: String,
    /// For a machine.
    pub json: String,
}

impl HouseResult {
    /// The page for a reader, in a language where the page is written in every one.
    pub fn page_for(&self, reader: Reader, words: &Words) -> Result<Page, ReaderError> {
        match reader {
            Reader::Owner => {
                let page = OwnerPage::new(self, words)?;
                let pictures = page.sections.iter().flat_map(|section| &section.parts);
                let picture = pictures.clone().find_map(|part| match part {
                    Part::Picture { picture } => Some(picture),
                    _ => None,
                });
                let picture = picture.map(Picture::svg).transpose()?;
                self.filled_in("owner", &page, picture.as_deref().unwrap_or_default(), words)
            }
            Reader::Assessor => self.filled_in("assessor", &AssessorSheet::new(self, words)?, "", words),
            Reader::Crew => self.filled_in("crew", &CrewSheets::new(self, words)?, "", words),
            Reader::Engineer => Ok(Page {
                html: html::render(&self.report)?,
                markdown: markdown::render(&self.report)?,
                json: json::render(&self.report),
            }),
            Reader::Permit => Ok(Page {
                html: html::render_worksheet(&self.worksheet, &self.sheets)?,
                markdown: markdown::render_worksheet(&self.worksheet)?,
                json: json::render_worksheet(&self.worksheet),
            }),
        }
    }

    fn filled_in(
        &self,
        template: &str,
        page: &impl Serialize,
        picture: &str,
        words: &Words,
    ) -> Result<Page, ReaderError> {
        let mut context = Context::from_serialize(page).map_err(RenderError::from)?;
        context.insert("picture_svg", picture.trim_end());
        context.insert("lang", words.language().tag());
        context.insert("written_by", &self.written_by(words)?);
        let filled = |tera: &Tera, kind: &str| tera.render(&format!("{template}.{kind}"), &context);
        Ok(Page {
            html: filled(web_pages()?, "html").map_err(RenderError::from)?,
            markdown: filled(texts()?, "md").map_err(RenderError::from)?,
            json: json::pretty(page),
        })
    }

    fn written_by(&self, words: &Words) -> Result<String, LanguageError> {
        words.say(
            "written-by",
            &[
                ("version", self.report.program_version.as_str().into()),
                ("fingerprint", self.report.input_sha256.as_str().into()),
            ],
        )
    }
}

fn web_pages() -> Result<&'static Tera, RenderError> {
    static TEMPLATES: OnceLock<Tera> = OnceLock::new();
    if let Some(tera) = TEMPLATES.get() {
        return Ok(tera);
    }
    let mut tera = Tera::new();
    tera.add_raw_templates([
        ("style.css", include_str!("../../templates/style.css")),
        ("owner.css", include_str!("../../templates/owner.css")),
        ("head.html", include_str!("../../templates/head.html")),
        ("letter.html", include_str!("../../templates/letter.html")),
        ("passages.html", include_str!("../../templates/passages.html")),
        ("owner.html", include_str!("../../templates/owner.html")),
        ("assessor.html", include_str!("../../templates/assessor.html")),
        ("crew.css", include_str!("../../templates/crew.css")),
        ("crew.html", include_str!("../../templates/crew.html")),
    ])?;
    Ok(TEMPLATES.get_or_init(|| tera))
}

fn texts() -> Result<&'static Tera, RenderError> {
    static TEMPLATES: OnceLock<Tera> = OnceLock::new();
    if let Some(tera) = TEMPLATES.get() {
        return Ok(tera);
    }
    let mut tera = Tera::new();
    tera.autoescape_on([".md"]);
    tera.set_escape_fn(markdown::escape);
    tera.add_raw_templates([
        ("passages.md", include_str!("../../templates/passages.md")),
        ("owner.md", include_str!("../../templates/owner.md")),
        ("assessor.md", include_str!("../../templates/assessor.md")),
        ("crew.md", include_str!("../../templates/crew.md")),
    ])?;
    Ok(TEMPLATES.get_or_init(|| tera))
}
