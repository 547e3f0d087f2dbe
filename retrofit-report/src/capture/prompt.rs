//! A question in words, for a terminal.

use std::fmt::Write as _;

use super::answer::{Answer, Kind};
use super::session::{CaptureError, Session};
use crate::language::{LanguageError, Words};

impl Session {
    /// The question in one line: the wall line and the things it is about, the question, and what is recorded.
    pub fn asked(&self, words: &Words) -> Result<String, CaptureError> {
        let place = self.place().ok_or(CaptureError::NothingAsked)?;
        let mut asked = String::new();
        for part in [self.wall_line().map(str::to_owned), self.things()]
            .into_iter()
            .flatten()
        {
            asked.push_str(&part);
            asked.push_str(": ");
        }
        if place.asks_for_more() {
            asked.push_str(&words.term("capture-more")?);
            return Ok(asked);
        }
        asked.push_str(&words.term(&place.question().message())?);
        if let Some(answer) = self.answer_taken()
            && let Some(kind) = in_short(&answer, words)?
        {
            let _ = write!(asked, " ({kind})");
        }
        if let Some(recorded) = self.recorded() {
            let now = words.say("capture-now", &[("answer", recorded.into())])?;
            let _ = write!(asked, " [{now}]");
        }
        Ok(asked)
    }

    /// What answer the question takes, in full.
    pub fn explained(&self, words: &Words) -> Result<String, CaptureError> {
        let place = self.place().ok_or(CaptureError::NothingAsked)?;
        let answer = self.answer_taken().ok_or(CaptureError::NothingAsked)?;
        let mut lines = Vec::new();
        match &answer.kind {
            Kind::Term(list, terms) => {
                for (index, term) in terms.iter().enumerate() {
                    let means = words.term(&format!("choice-{list}-{term}"))?;
                    let means = if means == *term {
                        String::new()
                    } else {
                        format!(": {means}")
                    };
                    lines.push(format!("  {}. {term}{means}", index + 1));
                }
            }
            Kind::List(list) => {
                lines.push(format!("  {}", words.term(list.message())?));
                if place.question().is_of_a_wall_line() {
                    lines.push(format!("  {}", words.term("capture-stations")?));
                }
            }
            Kind::Written(_) => {
                let examples = answer.examples.join(", ");
                lines.push(format!(
                    "  {}",
                    words.say("capture-such-as", &[("examples", examples.into())])?
                ));
            }
            Kind::YesNo => lines.push(format!("  {}", words.term("capture-yes-no")?)),
            Kind::Number => lines.push(format!("  {}", words.term("capture-a-number")?)),
            Kind::Words => lines.push(format!("  {}", words.term("capture-in-words")?)),
        }
        let means = [("path", place.path().into()), ("means", answer.means.into())];
        lines.push(format!("  {}", words.say("capture-in-the-file", &means)?));
        lines.push(format!("  {}", words.term("capture-hint")?));
        Ok(lines.join("\n"))
    }

    /// The heading of the section that begins with the question, if one does.
    pub fn heading(&self, words: &Words) -> Result<Option<String>, LanguageError> {
        let question = self
            .place()
            .filter(|place| !place.asks_for_more())
            .map(super::Place::question);
        let section = super::SECTIONS
            .iter()
            .find(|section| section.questions.first() == question);
        section
            .map(|section| words.term(&format!("capture-section-{}", section.name)))
            .transpose()
    }
}

/// A hint behind a question: the terms, or how a list is typed.
fn in_short(answer: &Answer, words: &Words) -> Result<Option<String>, LanguageError> {
    Ok(match &answer.kind {
        Kind::Term(_, terms) => Some(terms.join(", ")),
        Kind::YesNo => Some(words.term("capture-yes-no")?),
        Kind::List(list) => Some(words.term(list.message())?),
        Kind::Written(_) => answer.examples.first().cloned(),
        Kind::Words | Kind::Number => None,
    })
}
