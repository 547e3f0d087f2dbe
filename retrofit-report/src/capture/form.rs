//! The blank form for paper: one sheet for the house, and one to be copied for each wall line.
//!
//! It holds the questions that checks read, in the order in which the terminal asks them.

use std::fmt::Write as _;

use serde::Serialize;
use tera::{Context, Tera};

use super::answer::{Answers, Kind};
use super::question::{Depth, Question, SECTIONS};
use crate::language::{LanguageError, Words};
use crate::result::RenderError;

/// A blank form.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Form {
    /// The tag of its language.
    pub language: String,
    /// What has to be read before anybody goes under.
    pub caution: String,
    /// How to write down how something is known.
    pub how_known: String,
    /// The sheet for the house.
    pub house: Sheet,
    /// The sheet for a wall line.
    pub wall_line: Sheet,
}

/// One side of paper.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Sheet {
    /// Its title.
    pub title: String,
    /// What is written at its head, such as the name of the house.
    pub head: Vec<String>,
    /// What the field for a sketch is for.
    pub sketch: String,
    /// What stands at the left and at the right of the sketch, or at its top.
    pub ends: Vec<String>,
    /// Its sections.
    pub parts: Vec<FormPart>,
}

/// A section of the form.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct FormPart {
    /// Its heading.
    pub heading: String,
    /// Its rows.
    pub rows: Vec<Row>,
}

/// A question on the form.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Row {
    /// The place in the house file that the answer goes to.
    pub path: &'static str,
    /// The question.
    pub asked: String,
    /// The boxes to tick; none where the answer is written out.
    pub boxes: Vec<String>,
    /// Whether the answer says how it is known.
    pub is_observed: bool,
    /// Whether it takes a whole line, or several: lists and notes.
    pub is_long: bool,
}

impl Form {
    /// The form in a language.
    pub fn new(words: &Words) -> Result<Self, LanguageError> {
        let answers = Answers::default();
        let mut of_house = Vec::new();
        let mut of_wall_line = Vec::new();
        for section in SECTIONS {
            let asked = section.questions.iter().filter(|question| {
                // The name of the house and that of the wall line stand at the head of the sheets.
                question.depth == Depth::Checked && !matches!(question.path, "name" | "wall_lines")
            });
            let rows: Vec<Row> = asked
                .map(|question| row(question, &answers, words))
                .collect::<Result<_, _>>()?;
            let sheet = match section.questions.last() {
                Some(last) if last.is_of_a_wall_line() => &mut of_wall_line,
                _ => &mut of_house,
            };
            sheet.push(FormPart {
                heading: words.term(&format!("capture-section-{}", section.name))?,
                rows,
            });
        }
        let all = |keys: &[&str]| {
            keys.iter()
                .map(|key| words.term(key))
                .collect::<Result<Vec<_>, _>>()
        };
        Ok(Self {
            language: words.language().tag().to_owned(),
            caution: words.term("capture-caution")?,
            how_known: words.term("form-how-known")?,
            house: Sheet {
                title: words.term("form-house-sheet")?,
                head: all(&["form-house", "form-sheets"])?,
                sketch: words.term("form-sketch")?,
                ends: all(&["form-north"])?,
                parts: of_house,
            },
            wall_line: Sheet {
                title: words.term("form-wall-line-sheet")?,
                head: all(&["form-house", "form-wall-line"])?,
                sketch: words.term("form-strip")?,
                ends: all(&["form-left-end", "form-right-end"])?,
                parts: of_wall_line,
            },
        })
    }

    /// The form as a web page: two sheets of letter paper in black and white.
    pub fn html(&self) -> Result<String, RenderError> {
        let mut tera = Tera::new();
        tera.add_raw_templates([
            ("form.css", include_str!("../../templates/form.css")),
            ("form.html", include_str!("../../templates/form.html")),
        ])?;
        Ok(tera.render("form.html", &Context::from_serialize(self)?)?)
    }

    /// The form as Markdown.
    pub fn markdown(&self) -> String {
        let mut page = String::new();
        for (index, sheet) in [&self.house, &self.wall_line].into_iter().enumerate() {
            let _ = writeln!(page, "# {}\n", sheet.title);
            for head in &sheet.head {
                let _ = writeln!(page, "{head}: \\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\n");
            }
            if index == 0 {
                let _ = writeln!(page, "**{}**\n", self.caution);
            }
            let _ = writeln!(page, "{}\n", self.how_known);
            for part in &sheet.parts {
                let _ = writeln!(page, "## {}\n", part.heading);
                for row in &part.rows {
                    let _ = write!(page, "- {}", row.asked);
                    for term in &row.boxes {
                        let _ = write!(page, " ☐ {term}");
                    }
                    if row.boxes.is_empty() {
                        page.push_str(" \\_\\_\\_\\_\\_\\_\\_\\_");
                    }
                    page.push('\n');
                }
                page.push('\n');
            }
        }
        page
    }
}

fn row(question: &'static Question, answers: &Answers, words: &Words) -> Result<Row, LanguageError> {
    let answer = answers.at(question.path);
    let kind = answer.as_ref().map(|answer| &answer.kind);
    let boxes = match kind {
        Some(Kind::Term(list, terms)) => terms
            .iter()
            .map(|term| words.term(&format!("choice-{list}-{term}")))
            .collect::<Result<_, _>>()?,
        Some(Kind::YesNo) => vec![words.term("form-yes")?, words.term("form-no")?],
        _ => Vec::new(),
    };
    Ok(Row {
        path: question.path,
        asked: words.term(&question.message())?,
        is_long: question.field() == "note" || matches!(kind, Some(Kind::List(_))),
        is_observed: answer.is_some_and(|answer| answer.is_observed),
        boxes,
    })
}
