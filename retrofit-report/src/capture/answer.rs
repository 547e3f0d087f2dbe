//! What kind of answer a place of the house file takes, as its schema says, and how an answer is typed.

use std::fmt::Write as _;

use retrofit_core::choice::nearest;
use retrofit_core::house::House;
use retrofit_core::observation::Basis;
use serde_json::{Map, Number, Value, json};
use thiserror::Error;

use super::listing::{List, ListError};
use super::path::Step;

/// The answers that the house file takes, read off its schema, so that what is asked, what stands on the form and
/// what is read from a file are the same.
#[derive(Debug)]
pub struct Answers {
    schema: Value,
}

/// What one place takes.
#[derive(Clone, Debug)]
pub struct Answer {
    /// The kind of value.
    pub kind: Kind,
    /// Whether it says how it is known, and may be unknown.
    pub is_observed: bool,
    /// Whether it may be known within bounds only.
    pub is_on_a_scale: bool,
    /// What the schema says of it.
    pub means: String,
    /// Values as they are written.
    pub examples: Vec<String>,
}

/// A kind of value.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Any words.
    Words,
    /// A quantity or another value with a notation of its own, by the name of its type in the schema.
    Written(String),
    /// A number.
    Number,
    /// Yes or no.
    YesNo,
    /// A term from a closed list: the name of the list, and its terms as files spell them.
    Term(String, Vec<String>),
    /// Things that are listed.
    List(List),
}

/// Why an answer cannot be taken down.
#[derive(Debug, Error, PartialEq, Eq)]
pub enum AnswerError {
    /// It is no number.
    #[error("found {0:?}; expected a number")]
    NotANumber(String),
    /// It is neither yes nor no.
    #[error("found {0:?}; expected yes or no")]
    NotYesOrNo(String),
    /// It is not on the list.
    #[error("found {found:?}; expected one of {expected}{hint}")]
    NotOnTheList {
        /// What was typed.
        found: String,
        /// The terms of the list.
        expected: String,
        /// The nearest of them.
        hint: String,
    },
    /// The place takes a plain value.
    #[error("found {0:?}; expected the answer alone: this place does not say how it is known")]
    NotObserved(String),
    /// The place takes one value, and nothing between two.
    #[error("found {0:?}; expected one answer, which cannot lie within bounds")]
    NotOnAScale(String),
    /// The things listed cannot be read.
    #[error(transparent)]
    List(#[from] ListError),
}

impl Default for Answers {
    fn default() -> Self {
        Self {
            schema: schemars::schema_for!(House).to_value(),
        }
    }
}

impl Answers {
    /// What a place takes, by its path with `[]` for the items of lists; nothing where the schema has no such place.
    pub fn at(&self, path: &str) -> Option<Answer> {
        let mut node = &self.schema;
        for name in path.split('.') {
            let key = name.strip_suffix("[]").unwrap_or(name);
            node = self.value_of(node)?.get("properties")?.get(key)?;
            if key != name {
                node = self.value_of(node)?.get("items")?;
            }
        }
        let observed = self.observed(node);
        let value = self.value_of(node)?;
        let examples = value.get("examples").and_then(Value::as_array);
        let text = |node: &Value| node.get("description").and_then(Value::as_str).map(str::to_owned);
        Some(Answer {
            kind: self.kind(path, node)?,
            is_observed: observed.is_some(),
            is_on_a_scale: observed.is_some_and(|(_, is_on_a_scale)| is_on_a_scale),
            means: text(node).unwrap_or_default().replace('\n', " "),
            examples: examples
                .into_iter()
                .flatten()
                .filter_map(|example| example.as_str().map(str::to_owned))
                .collect(),
        })
    }

    /// Every place that takes a value, by its path: the leaves of the schema.
    pub fn places(&self) -> Vec<String> {
        let mut places = Vec::new();
        self.add_places(&self.schema, "", &mut places);
        places
    }

    fn add_places(&self, node: &Value, path: &str, places: &mut Vec<String>) {
        let Some(value) = self.value_of(node) else { return };
        if let Some(properties) = value.get("properties").and_then(Value::as_object) {
            for (key, property) in properties {
                let dot = if path.is_empty() { "" } else { "." };
                self.add_places(property, &format!("{path}{dot}{key}"), places);
            }
        } else if let Some(items) = value.get("items") {
            places.push(path.to_owned());
            if self
                .value_of(items)
                .is_some_and(|item| item.get("properties").is_some())
            {
                self.add_places(items, &format!("{path}[]"), places);
            }
        } else {
            places.push(path.to_owned());
        }
    }

    /// Follows references.
    fn followed<'s>(&'s self, mut node: &'s Value) -> &'s Value {
        while let Some(name) = node.get("$ref").and_then(Value::as_str) {
            let name = name.rsplit('/').next().unwrap_or_default();
            match self.schema.get("$defs").and_then(|all| all.get(name)) {
                Some(definition) => node = definition,
                None => break,
            }
        }
        node
    }

    /// The schema of the bare value of an observation, and whether bounds will do.
    fn observed<'s>(&'s self, node: &'s Value) -> Option<(&'s Value, bool)> {
        let forms = self.followed(node).get("anyOf")?.as_array()?;
        let measured = forms
            .iter()
            .find_map(|form| form.get("properties")?.get("measured"))?;
        Some((forms.first()?, measured.get("anyOf").is_some()))
    }

    /// The schema of a value, behind references, observations and what may be left out.
    fn value_of<'s>(&'s self, node: &'s Value) -> Option<&'s Value> {
        Some(self.named_value(node)?.1)
    }

    fn named_value<'s>(&'s self, node: &'s Value) -> Option<(Option<&'s str>, &'s Value)> {
        if let Some((value, _)) = self.observed(node) {
            return self.named_value(value);
        }
        if let Some(forms) = node.get("anyOf").and_then(Value::as_array)
            && let Some(form) = forms.iter().find(|form| form.get("$ref").is_some())
        {
            return self.named_value(form);
        }
        let name = node.get("$ref").and_then(Value::as_str);
        let name = name.and_then(|name| name.rsplit('/').next());
        Some((name, self.followed(node)))
    }

    fn kind(&self, path: &str, node: &Value) -> Option<Kind> {
        if let Some(list) = List::of(path) {
            return Some(Kind::List(list));
        }
        let (name, value) = self.named_value(node)?;
        let name = name.unwrap_or_default().to_owned();
        if let Some(terms) = value.get("oneOf").and_then(Value::as_array) {
            let spelled = terms.iter().filter_map(|term| term.get("const")?.as_str());
            return Some(Kind::Term(name, spelled.map(str::to_owned).collect()));
        }
        let kind = match value.get("type") {
            Some(Value::Array(kinds)) => kinds.first()?.as_str()?,
            kind => kind?.as_str()?,
        };
        match kind {
            "boolean" => Some(Kind::YesNo),
            "integer" | "number" => Some(Kind::Number),
            "string" if name.is_empty() => Some(Kind::Words),
            "string" => Some(Kind::Written(name)),
            _ => None,
        }
    }
}

/// The words for how a value is known, in full and by their first letter.
fn basis(word: &str) -> Option<Basis> {
    Basis::ALL
        .into_iter()
        .find(|basis| word == basis.word() || (word.len() == 1 && basis.word().starts_with(word)))
}

/// Takes a word off the beginning of a text.
pub(super) fn after_word<'t>(text: &'t str, word: &str) -> Option<&'t str> {
    let (head, rest) = text.split_at_checked(word.len())?;
    let is_whole = rest.is_empty() || rest.starts_with([' ', ':', ',', ';']);
    (head.eq_ignore_ascii_case(word) && is_whole).then(|| rest.trim_start())
}

/// The reason behind the word `unknown`; empty where none was given.
pub(super) fn unknown(text: &str) -> Option<&str> {
    let rest = after_word(text, "unknown")?;
    Some(rest.strip_prefix(':').unwrap_or(rest).trim())
}

impl Answer {
    /// Takes an answer down as the house file writes it. `no_reason` stands where somebody says that it is not
    /// known, and not why.
    pub fn read(&self, text: &str, no_reason: &str) -> Result<Value, AnswerError> {
        let text = text.trim();
        if !self.is_observed {
            return self.kind.read(text, no_reason);
        }
        self.kind.observed(text, no_reason, self.is_on_a_scale)
    }

    /// How a value of the house file would be typed as an answer.
    pub fn spelled(&self, value: &Value) -> String {
        if !self.is_observed {
            return self.kind.spelled(value);
        }
        self.kind.spelled_with_basis(value)
    }
}

impl Kind {
    /// Reads an observation: how it is known, then the value or its bounds.
    pub(super) fn observed(
        &self,
        text: &str,
        no_reason: &str,
        is_on_a_scale: bool,
    ) -> Result<Value, AnswerError> {
        if let Some(why) = unknown(text) {
            return Ok(json!({ "unknown": if why.is_empty() { no_reason } else { why } }));
        }
        let (first, rest) = text.split_once(' ').unwrap_or((text, ""));
        let (known, text) = match basis(&first.to_ascii_lowercase()) {
            Some(known) if !rest.trim().is_empty() => (known, rest.trim()),
            _ => (Basis::Seen, text),
        };
        let reading = match bounds(text) {
            Some(_) if matches!(self, Self::List(_) | Self::Words) => self.read(text, no_reason)?,
            Some(_) if !is_on_a_scale => return Err(AnswerError::NotOnAScale(shortened(text))),
            Some((least, most)) => {
                let mut reading = Map::new();
                for (key, bound) in [("at_least", least), ("at_most", most)] {
                    if let Some(bound) = bound {
                        reading.insert(key.to_owned(), self.read(bound, no_reason)?);
                    }
                }
                Value::Object(reading)
            }
            None => self.read(text, no_reason)?,
        };
        Ok(match known {
            Basis::Seen if !reading.is_object() => reading,
            known => json!({ known.word(): reading }),
        })
    }

    fn read(&self, text: &str, no_reason: &str) -> Result<Value, AnswerError> {
        match self {
            Self::Words | Self::Written(_) => Ok(text.into()),
            Self::Number => number(text).ok_or_else(|| AnswerError::NotANumber(shortened(text))),
            Self::YesNo => match text.to_lowercase().as_str() {
                "yes" | "y" | "true" | "sí" | "si" => Ok(true.into()),
                "no" | "n" | "false" => Ok(false.into()),
                _ => Err(AnswerError::NotYesOrNo(shortened(text))),
            },
            Self::Term(_, terms) => term(text, terms).map(Value::from),
            Self::List(list) => Ok(list.read(text, no_reason)?),
        }
    }

    fn spelled(&self, value: &Value) -> String {
        match (self, value) {
            (Self::YesNo, Value::Bool(yes)) => if *yes { "yes" } else { "no" }.to_owned(),
            (Self::List(list), value) => list.spelled(value),
            (_, Value::String(text)) => text.clone(),
            (_, value) => value.to_string(),
        }
    }

    pub(super) fn spelled_with_basis(&self, value: &Value) -> String {
        let only = value.as_object().and_then(|map| map.iter().next());
        let Some((word, reading)) = only else {
            return self.spelled(value);
        };
        if word == "unknown" {
            return format!("unknown: {}", reading.as_str().unwrap_or_default());
        }
        let mut text = word.clone();
        let bound = |key: &str| reading.get(key).map(|bound| self.spelled(bound));
        match (bound("at_least"), bound("at_most")) {
            (Some(least), Some(most)) => drop(write!(text, " {least} to {most}")),
            (Some(least), None) => drop(write!(text, " at least {least}")),
            (None, Some(most)) => drop(write!(text, " at most {most}")),
            (None, None) => drop(write!(text, " {}", self.spelled(reading))),
        }
        text
    }
}

/// `at least A`, `at most B`, or `A to B`.
fn bounds(text: &str) -> Option<(Option<&str>, Option<&str>)> {
    if let Some(least) = after_word(text, "at least") {
        return Some((Some(least), None));
    }
    if let Some(most) = after_word(text, "at most") {
        return Some((None, Some(most)));
    }
    let (least, most) = text.split_once(" to ")?;
    Some((Some(least.trim()), Some(most.trim())))
}

fn number(text: &str) -> Option<Value> {
    if let Ok(whole) = text.parse::<u64>() {
        return Some(whole.into());
    }
    let number: f64 = text.parse().ok()?;
    Number::from_f64(number).map(Value::Number)
}

/// A term by its spelling, with spaces or in any case, or by its number on the list.
pub(super) fn term(text: &str, terms: &[String]) -> Result<String, AnswerError> {
    let plain = |text: &str| text.trim().replace([' ', '-'], "_").to_lowercase();
    let by_number = text.parse::<usize>().ok();
    let by_number = by_number.and_then(|number| terms.get(number.checked_sub(1)?));
    let by_name = terms.iter().find(|term| plain(term) == plain(text));
    by_name.or(by_number).cloned().ok_or_else(|| {
        let near = nearest(&plain(text), terms.iter().map(String::as_str));
        AnswerError::NotOnTheList {
            found: shortened(text),
            expected: terms.join(", "),
            hint: near.map_or_else(String::new, |near| format!("; did you mean {near:?}?")),
        }
    })
}

pub(super) fn shortened(text: &str) -> String {
    text.chars().take(60).collect()
}

/// The value behind the word for how it is known.
pub(super) fn bare(value: &Value) -> &Value {
    const WORDS: [&str; 4] = ["measured", "seen", "reported", "inferred"];
    let only = value.as_object().filter(|map| map.len() == 1);
    let reading = only.and_then(|map| map.iter().find(|(word, _)| WORDS.contains(&word.as_str())));
    reading.map_or(value, |(_, reading)| reading)
}

/// Goes down to a place, through the words for how lists are known.
pub(super) fn found_at<'v>(root: &'v Value, path: &[Step]) -> Option<&'v Value> {
    path.iter().try_fold(root, |value, step| match step {
        Step::Field(name) => value.get(name),
        Step::Item(index) => bare(value).get(index),
    })
}
