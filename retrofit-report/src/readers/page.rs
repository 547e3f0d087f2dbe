//! A page for one of those who read a result, in every format.

use serde::Serialize;
use tera::Context;

use super::owner::Part;
use super::{AssessorSheet, CrewSheets, HouseResult, OwnerPage, ReaderError};
use crate::drawing::sheets;
use crate::language::{LanguageError, Words};
use crate::look::Look;
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
    pub fn page_for(&self, reader: Reader, words: &Words, look: &Look) -> Result<Page, ReaderError> {
        match reader {
            Reader::Owner => {
                let page = OwnerPage::new(self, words)?;
                let mut parts = page.sections.iter().flat_map(|section| &section.parts);
                let picture = parts.find_map(|part| match part {
                    Part::Picture { picture } => Some(picture),
                    _ => None,
                });
                let picture = picture.map(|picture| picture.svg(look)).transpose()?;
                self.filled_in(
                    ["owner.html", "owner.md"],
                    &page,
                    picture.as_deref().unwrap_or_default(),
                    words,
                    look,
                )
            }
            Reader::Assessor => self.filled_in(
                ["assessor.html", "assessor.md"],
                &AssessorSheet::new(self, words)?,
                "",
                words,
                look,
            ),
            Reader::Crew => self.filled_in(
                ["crew.html", "crew.md"],
                &CrewSheets::new(self, words)?,
                "",
                words,
                look,
            ),
            Reader::Engineer => Ok(Page {
                html: html::render(&self.report, look)?,
                markdown: markdown::render(&self.report, look)?,
                json: json::render(&self.report),
            }),
            Reader::Permit => Ok(Page {
                html: html::render_worksheet(&self.worksheet, &sheets(&self.remedy, &self.provisions), look)?,
                markdown: markdown::render_worksheet(&self.worksheet, look)?,
                json: json::render_worksheet(&self.worksheet),
            }),
        }
    }

    fn filled_in(
        &self,
        [html, markdown]: [&'static str; 2],
        page: &impl Serialize,
        picture: &str,
        words: &Words,
        look: &Look,
    ) -> Result<Page, ReaderError> {
        let mut context = Context::from_serialize(page).map_err(RenderError::from)?;
        context.insert("picture_svg", picture.trim_end());
        context.insert("lang", words.language().tag());
        context.insert("written_by", &self.written_by(words)?);
        Ok(Page {
            html: look.fill_in(html, context.clone())?,
            markdown: look.fill_in(markdown, context)?,
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
