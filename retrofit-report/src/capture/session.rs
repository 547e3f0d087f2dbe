//! Asking the questions one after another, with a way back and a way out.

use serde_json::Value;
use thiserror::Error;

use super::answer::{Answer, AnswerError, Answers, bare};
use super::listing::List;
use super::path::{Spelled, Step, steps};
use super::question::{Depth, Question, When, questions};
use super::record::Record;
use crate::language::{LanguageError, Words};

/// Why an answer is not taken.
#[derive(Debug, Error)]
pub enum CaptureError {
    /// It cannot be read.
    #[error(transparent)]
    Answer(#[from] AnswerError),
    /// With it, the record would not make sense.
    #[error("{path}: {message}")]
    Contradicts {
        /// Where: a path into the house file.
        path: String,
        /// What was found and what was expected.
        message: String,
    },
    /// The place has to have an answer.
    #[error("found no answer; expected one, because a house file cannot do without it")]
    Required,
    /// There is no question left.
    #[error("every question has been asked")]
    NothingAsked,
    /// A question has no words in this language.
    #[error(transparent)]
    Language(#[from] LanguageError),
}

/// Where a session stands: a question about the house, a wall line, or things that are alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    question: &'static Question,
    /// The items on the way, the outermost first.
    items: Vec<usize>,
    /// How many items, from the last of these on, the answer is for.
    alike: usize,
    /// Whether it asks for more things, different from those listed.
    more: bool,
}

impl Place {
    /// The question.
    pub const fn question(&self) -> &'static Question {
        self.question
    }

    /// The path into the house file; of things that are alike, to the first.
    pub fn path(&self) -> String {
        Spelled(&self.steps()).to_string()
    }

    /// How many like things the answer is for.
    pub const fn alike(&self) -> usize {
        self.alike
    }

    /// Whether it asks for more things, different from those listed.
    pub const fn asks_for_more(&self) -> bool {
        self.more
    }

    /// The wall line it is about, counted from 0.
    pub fn wall_line(&self) -> Option<usize> {
        self.question
            .is_of_a_wall_line()
            .then(|| self.items.first().copied())?
    }

    fn steps(&self) -> Vec<Step> {
        steps(self.question.path, &self.items)
    }

    /// The place in each of the things that are alike.
    fn each(&self) -> impl Iterator<Item = Vec<Step>> {
        let last = self.items.last().copied();
        (0..self.alike).map(move |further| {
            let mut items = self.items.clone();
            if let (Some(item), Some(last)) = (items.last_mut(), last) {
                *item = last + further;
            }
            steps(self.question.path, &items)
        })
    }
}

/// What became of an answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Given {
    /// It was written down.
    Recorded,
    /// What stood there was kept.
    Kept,
    /// There is no more of it.
    NoMore,
}

/// Asks question after question and writes the answers into a record. After every answer the record is one that can
/// be read; an answer with which it could not be is refused, and the question stands.
#[derive(Debug)]
pub struct Session {
    record: Record,
    depth: Depth,
    answers: Answers,
    plan: Vec<Place>,
    at: usize,
    no_reason: String,
}

impl Session {
    /// A session over a record, at the question behind the last one that has an answer.
    pub fn new(record: Record, depth: Depth, words: &Words) -> Result<Self, CaptureError> {
        let mut session = Self {
            record,
            depth,
            answers: Answers::default(),
            plan: Vec::new(),
            at: 0,
            no_reason: words.term("capture-not-seen")?,
        };
        session.plan_anew();
        let is_answered = |place: &Place| {
            let stands_in_every_record = matches!(place.question.path, "name" | "wall_lines");
            !stands_in_every_record && !place.more && session.record.has_answer(&place.steps())
        };
        session.at = session
            .plan
            .iter()
            .rposition(is_answered)
            .map_or(0, |last| last + 1);
        Ok(session)
    }

    /// What is asked now; nothing when every question has been asked.
    pub fn place(&self) -> Option<&Place> {
        self.plan.get(self.at)
    }

    /// How many questions are behind, and how many there are as far as can be told.
    pub fn progress(&self) -> (usize, usize) {
        (self.at, self.plan.len())
    }

    /// What kind of answer the question takes.
    pub fn answer_taken(&self) -> Option<Answer> {
        self.answers.at(self.place()?.question.path)
    }

    /// What is recorded at the question, as it would be typed.
    pub fn recorded(&self) -> Option<String> {
        let place = self.place().filter(|place| !place.more)?;
        let path = place.steps();
        let value = self.record.get(&path).filter(|_| self.record.has_answer(&path))?;
        Some(self.answers.at(place.question.path)?.spelled(value))
    }

    /// The record as it is now.
    pub const fn record(&self) -> &Record {
        &self.record
    }

    /// The name of the wall line that the question is about.
    pub fn wall_line(&self) -> Option<&str> {
        let line = self.place()?.wall_line()?;
        let lines = self.record.items(&steps("wall_lines", &[]));
        lines.get(line)?.get("name")?.as_str()
    }

    /// The things that the question is about, as they would be typed: `2'-0", 6'-0"`.
    pub fn things(&self) -> Option<String> {
        let place = self.place()?;
        let (list, _) = place.question.path.rsplit_once("[].")?;
        let kind = List::of(list)?;
        let (first, outer) = place.items.split_last()?;
        let all = self.record.items(&steps(list, outer));
        let things = all.iter().skip(*first).take(place.alike).cloned().collect();
        (list != "wall_lines").then(|| kind.spelled(&Value::Array(things)))
    }

    /// Takes an answer. An empty one keeps what is recorded; where nothing is, it says that it was not seen.
    pub fn answer(&mut self, text: &str) -> Result<Given, CaptureError> {
        let place = self.place().cloned().ok_or(CaptureError::NothingAsked)?;
        let answer = self.answer_taken().ok_or(CaptureError::NothingAsked)?;
        let text = text.trim();
        if place.more {
            return self.more(&place, &answer, text);
        }
        let path = place.steps();
        if text.is_empty() {
            if self.record.has_answer(&path) {
                self.skip();
                return Ok(Given::Kept);
            }
            if !answer.is_observed {
                self.skip();
                return Ok(Given::NoMore);
            }
        }
        let value = if text.is_empty() {
            answer.read("unknown", &self.no_reason)?
        } else {
            answer.read(text, &self.no_reason)?
        };
        let value = self.with_what_is_known(&place, value);
        let mut changed = self.record.clone();
        for path in place.each() {
            changed.set(&path, Some(value.clone()));
        }
        self.take(changed)?;
        self.advance(&place);
        Ok(Given::Recorded)
    }

    /// A list that is typed again keeps what is known of those of its things that are still on it.
    fn with_what_is_known(&self, place: &Place, mut value: Value) -> Value {
        let known = self.record.items(&place.steps());
        let list = match &mut value {
            Value::Array(list) => Some(list),
            Value::Object(observed) => observed.values_mut().next().and_then(Value::as_array_mut),
            _ => None,
        };
        for item in list.into_iter().flatten() {
            let is_the_same = |other: &&Value| {
                let gives = place.question.gives;
                !gives.is_empty() && gives.iter().all(|field| other.get(field) == item.get(field))
            };
            if let Some(same) = known.iter().find(is_the_same) {
                *item = same.clone();
            }
        }
        value
    }

    /// Takes what is listed behind what is listed already.
    fn more(&mut self, place: &Place, answer: &Answer, text: &str) -> Result<Given, CaptureError> {
        if text.is_empty() || ["no", "none"].contains(&text.to_lowercase().as_str()) {
            self.skip();
            return Ok(Given::NoMore);
        }
        let path = place.steps();
        let before = self.record.items(&path).len();
        let value = answer.read(text, &self.no_reason)?;
        let Value::Array(items) = bare(&value) else {
            return Err(AnswerError::NotObserved(text.chars().take(60).collect()).into());
        };
        let mut changed = self.record.clone();
        changed.add(&path, items.clone());
        self.take(changed)?;
        self.plan_anew();
        let is_of_the_new = |other: &Place| {
            other
                .question
                .path
                .starts_with(&format!("{}[].", place.question.path))
                && other.items.starts_with(&place.items)
                && other
                    .items
                    .last()
                    .is_some_and(|first| first + other.alike > before)
        };
        let next = self.plan.iter().position(is_of_the_new);
        let stays = self.plan.iter().position(|other| other == place);
        self.at = next.or(stays).unwrap_or(self.plan.len());
        Ok(Given::Recorded)
    }

    /// Leaves the question without an answer; what is recorded stays.
    pub fn skip(&mut self) {
        self.at = self.plan.len().min(self.at + 1);
    }

    /// Goes back to the question before; false at the first.
    pub fn back(&mut self) -> bool {
        let before = self.at.checked_sub(1);
        self.at = before.unwrap_or(0);
        before.is_some()
    }

    /// Keeps a record if it can be read.
    fn take(&mut self, changed: Record) -> Result<(), CaptureError> {
        match changed.house() {
            Ok(_) => {
                self.record = changed;
                Ok(())
            }
            Err(faults) => {
                let fault = faults.into_iter().next();
                Err(
                    fault.map_or(CaptureError::Required, |fault| CaptureError::Contradicts {
                        path: fault.path,
                        message: fault.message,
                    }),
                )
            }
        }
    }

    /// Goes to the question behind a place.
    fn advance(&mut self, place: &Place) {
        self.plan_anew();
        let here = self.plan.iter().position(|other| other == place);
        // Things that have become alike are asked about together, under the first of them.
        let here = here.or_else(|| {
            self.plan.iter().position(|other| {
                let of_the_same = other.question == place.question && other.more == place.more;
                let range = |place: &Place| {
                    let first = place.items.last().copied().unwrap_or(0);
                    first..first + place.alike
                };
                of_the_same && range(other).contains(&range(place).start)
            })
        });
        self.at = here.map_or(self.at, |here| here + 1);
    }

    fn plan_anew(&mut self) {
        let asked: Vec<&'static Question> = questions()
            .filter(|question| question.depth <= self.depth)
            .collect();
        let mut plan = Vec::new();
        self.add_places(&asked, &[], 1, &mut plan);
        self.plan = plan;
    }

    fn add_places(
        &self,
        questions: &[&'static Question],
        items: &[usize],
        alike: usize,
        plan: &mut Vec<Place>,
    ) {
        let mut rest = questions;
        while let Some((question, behind)) = rest.split_first() {
            let beneath = format!("{}[].", question.path);
            let of_items = behind
                .iter()
                .take_while(|other| other.path.starts_with(&beneath))
                .count();
            let (of_items, behind) = behind.split_at_checked(of_items).unwrap_or((behind, &[]));
            rest = behind;
            if !self.is_asked(question, items) {
                continue;
            }
            let place = |more| Place {
                question,
                items: items.to_vec(),
                alike,
                more,
            };
            plan.push(place(false));
            let list = self.record.items(&steps(question.path, items));
            for (first, count) in Self::groups(question, list) {
                let mut items = items.to_vec();
                items.push(first);
                self.add_places(of_items, &items, count, plan);
            }
            let Some(kind) = List::of(question.path) else {
                continue;
            };
            // Stretches that run on to the end of the wall line leave room for no other.
            let is_full = kind == List::Stretches
                && question.field() != "connections"
                && list.iter().any(|item| item.get("to").is_none());
            if kind.has_more() && !list.is_empty() && !is_full {
                plan.push(place(true));
            }
        }
    }

    /// Like things that follow one another: where each group begins, and how many are in it.
    fn groups(question: &Question, list: &[Value]) -> Vec<(usize, usize)> {
        let given = |key: &str| question.gives.contains(&key) && key != "kind";
        let is_alike = |a: &Value, b: &Value| {
            let differs = |key: &String| !given(key) && a.get(key) != b.get(key);
            let any_differs = |item: &Value| item.as_object().is_some_and(|map| map.keys().any(differs));
            a.get("at").is_some() == b.get("at").is_some() && !any_differs(a) && !any_differs(b)
        };
        let mut groups: Vec<(usize, usize)> = Vec::new();
        for (index, item) in list.iter().enumerate() {
            let before = index.checked_sub(1).and_then(|before| list.get(before));
            match (groups.last_mut(), before) {
                (Some((_, count)), Some(before))
                    if question.path != "wall_lines" && is_alike(before, item) =>
                {
                    *count += 1;
                }
                _ => groups.push((index, 1)),
            }
        }
        groups
    }

    fn is_asked(&self, question: &Question, items: &[usize]) -> bool {
        let beside = |field: &str| {
            let mut path = steps(question.path, items);
            path.pop();
            path.push(Step::Field(field.to_owned()));
            self.record.get(&path)
        };
        let term = |field: &str| beside(field).and_then(|value| bare(value).as_str());
        match question.when {
            When::Always => true,
            When::Is(field, terms) => term(field).is_none_or(|found| terms.contains(&found)),
            When::Unless(field, terms) => term(field).is_none_or(|found| !terms.contains(&found)),
            When::Without(field) => beside(field).is_none(),
        }
    }
}
