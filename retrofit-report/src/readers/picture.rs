//! The picture of a house from above with its weak places marked, and the same in words.

use retrofit_core::check::Ruling;
use schemars::JsonSchema;
use serde::Serialize;
use tera::Context;

use super::HouseResult;
use super::amount;
use super::passage::{Passage, Speaker};
use crate::language::LanguageError;
use crate::look::Look;
use crate::plan::{Plan, PlanWords, Room};
use crate::result::RenderError;

/// The picture, as its key says it.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Picture {
    /// What it is.
    pub title: String,
    /// What is to be read under it.
    pub caption: Vec<Passage>,
    /// Each side with its mark.
    pub sides: Vec<Side>,
    #[serde(skip)]
    plan: Plan,
}

/// A side of the house.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Side {
    /// Its number on the picture.
    pub number: String,
    /// Its name.
    pub name: String,
    /// What it came to.
    pub ruling: Ruling,
    /// The same in words.
    pub words: String,
}

impl Picture {
    pub(super) fn of(result: &HouseResult, speaker: &mut Speaker<'_>) -> Result<Self, LanguageError> {
        let words = speaker.words();
        let lines = &result.report.wall_lines;
        let mut sides = Vec::with_capacity(lines.len());
        for line in lines {
            sides.push(Side {
                number: line.number.clone(),
                name: amount::side_name(&line.name, words)?,
                ruling: line.verdict.ruling,
                words: amount::ruling(line.verdict.ruling, words)?,
            });
        }
        let title = words.term("picture-title")?;
        let told: Vec<String> = sides
            .iter()
            .map(|side| format!("{}, {}: {}.", side.number, side.name, side.words))
            .collect();
        let ruling = |ruling: Ruling, _: Room| {
            let side = sides.iter().find(|side| side.ruling == ruling);
            side.map_or_else(String::new, |side| side.words.clone())
        };
        let plan = Plan::in_words(
            &result.house,
            lines,
            &PlanWords {
                title: title.clone(),
                description: told.join(" "),
                has_marks: true,
                ruling: &ruling,
            },
        );
        let mut caption = vec![speaker.term("picture-caption")?];
        if plan.is_placed() {
            caption.push(speaker.term("picture-north")?);
        }
        if plan.has_strips() {
            caption.push(speaker.term("picture-without-place")?);
        }
        Ok(Self {
            title,
            caption,
            sides,
            plan,
        })
    }

    /// The picture as SVG that stands on its own.
    pub(super) fn svg(&self, look: &Look) -> Result<String, RenderError> {
        let mut context = Context::new();
        context.insert("plan", &self.plan);
        look.fill_in("picture.svg", context)
    }
}
