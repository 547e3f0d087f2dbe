//! A house file to fill in by hand, with a comment at every question.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use serde_json::{Map, Value, json};

use super::answer::{Answer, Answers, Kind};
use super::path::steps;
use super::question::{Depth, Question, questions};
use super::record::{NOT_YET, Record};
use crate::language::{LanguageError, Words};

/// The longest line of what is written, in characters.
const WIDTH: usize = 100;

/// An entry of each list, as somebody might write it down.
const EXAMPLES: &[(&str, &str)] = &[
    (
        "building.outline",
        r#"[{"x": "0 ft", "y": "0 ft"}, {"x": "48 ft", "y": "0 ft"}, {"x": "48 ft", "y": "24 ft"}]"#,
    ),
    (
        "wall_lines[].plan",
        r#"[{"x": "0 ft", "y": "24 ft"}, {"x": "48 ft", "y": "24 ft"}]"#,
    ),
    (
        "wall_lines[].foundation",
        r#"[{"kind": "concrete", "condition": "sound", "stem_height": {"measured": "10 in"}}]"#,
    ),
    (
        "wall_lines[].sill",
        r#"[{"to": "12'-0\"", "thickness": {"measured": "1-5/8 in"}}, {"from": "12'-0\"", "soundness": "decayed"}]"#,
    ),
    (
        "wall_lines[].anchors",
        r#"[{"at": "2'-0\"", "kind": "cast_in_place", "washer": "cut"}, {"first": "4'-0\"", "last": "16'-0\"", "spacing": "6'-0\""}]"#,
    ),
    (
        "wall_lines[].cripple_wall",
        r#"[{"height": {"measured": "2'-9\""}, "top_plate": "double"}]"#,
    ),
    (
        "wall_lines[].panels",
        r#"[{"from": "0 ft", "to": "4'-0\"", "sheathing": "plywood", "nail": "8d common"}]"#,
    ),
    (
        "wall_lines[].connections",
        r#"[{"kind": "toenails", "spacing": {"unknown": "heads are under paint"}}]"#,
    ),
    (
        "wall_lines[].openings",
        r#"[{"kind": "vent", "from": "1'-4\"", "to": "2'-6\"", "net_area": {"measured": "84 sq in"}}]"#,
    ),
    (
        "wall_lines[].unseen",
        r#"[{"from": "12'-0\"", "parts": ["anchors"], "why": "behind a duct"}]"#,
    ),
    (
        "posts",
        r#"[{"count": 8, "top": "toenailed", "base": "bearing"}]"#,
    ),
    (
        "distress",
        r#"[{"kind": "sticking_door", "place": "back bedroom"}]"#,
    ),
];

/// An entry of a list, as JSON.
fn example(path: &str) -> Option<&'static str> {
    let (_, example) = EXAMPLES.iter().find(|(list, _)| *list == path)?;
    Some(example)
}

impl Record {
    /// Writes at every place that is always asked for, and where nothing stands, that nobody has looked yet: so the
    /// file shows what to look for, and no check takes it for more than it is.
    #[must_use]
    pub fn with_every_question(mut self) -> Self {
        let answers = Answers::default();
        let lines = self.items(&steps("wall_lines", &[])).len();
        for question in questions().filter(|question| question.depth == Depth::Checked) {
            let is_observed = answers.at(question.path).is_some_and(|answer| answer.is_observed);
            let beneath = question.path.matches("[]").count();
            let places: Vec<Vec<usize>> = match beneath {
                0 => vec![Vec::new()],
                1 if question.is_of_a_wall_line() => (0..lines).map(|line| vec![line]).collect(),
                _ => continue,
            };
            for items in places.iter().filter(|_| is_observed) {
                let path = steps(question.path, items);
                if self.get(&path).is_none() {
                    self.set(&path, Some(json!({ "unknown": NOT_YET })));
                }
            }
            // An empty note closes each part of the file, so that every line above it may end with a comma.
            if question.field() == "note" {
                for items in &places {
                    let path = steps(question.path, items);
                    if self.get(&path).is_none() {
                        self.set(&path, Some("".into()));
                    }
                }
            }
        }
        self
    }

    /// The text of the house file, in the order of the questions.
    pub fn written(&self) -> String {
        let mut writer = Writer::default();
        writer.value(&self.root, "", 0);
        writer.text.push('\n');
        writer.text
    }

    /// The text of the house file, with a comment at every question. The house file takes comments from `//` to the
    /// end of the line.
    pub fn with_comments(&self, words: &Words) -> Result<String, LanguageError> {
        let mut writer = Writer {
            comments: comments(words)?,
            ..Writer::default()
        };
        for key in [
            "capture-file-about",
            "capture-file-known",
            "capture-file-comments",
            "capture-caution",
        ] {
            writer.comment(0, &words.term(key)?);
        }
        writer.value(&self.root, "", 0);
        writer.text.push('\n');
        Ok(writer.text)
    }
}

/// What stands above a key.
struct Comment {
    path: &'static str,
    text: String,
    /// A line to be taken out of the comment and filled in, where the key may be left out.
    line: String,
}

fn comments(words: &Words) -> Result<Vec<Comment>, LanguageError> {
    let answers = Answers::default();
    let mut comments = Vec::new();
    for question in questions().filter(|question| question.depth == Depth::Checked) {
        let (Some(answer), Ok(asked)) = (answers.at(question.path), words.term(&question.message())) else {
            continue;
        };
        let mut text = format!("{asked} {}", values(&answer));
        if let Some(example) = example(question.path) {
            let each = words.term("capture-file-each")?;
            let _ = write!(text, "\n{each}");
            for field in of_each(question, &answers, words)? {
                let _ = write!(text, "\n  {field}");
            }
            let _ = write!(text, "\n{} {example}", words.term("capture-for-example")?);
        }
        let shown = match (example(question.path), answer.examples.first()) {
            (Some(list), _) => list.to_owned(),
            (None, Some(value)) => json!(value).to_string(),
            (None, None) => "\"\"".to_owned(),
        };
        comments.push(Comment {
            path: question.path,
            text: text.trim_end().to_owned(),
            line: format!("\"{}\": {shown},", question.field()),
        });
    }
    Ok(comments)
}

/// What may stand in a place.
fn values(answer: &Answer) -> String {
    match &answer.kind {
        Kind::Term(_, terms) => format!("({})", terms.join(", ")),
        Kind::YesNo => "(true, false)".to_owned(),
        Kind::Written(_) => {
            let examples = answer
                .examples
                .iter()
                .take(3)
                .map(|example| json!(example).to_string());
            format!("({})", examples.collect::<Vec<_>>().join(", "))
        }
        Kind::Words | Kind::Number | Kind::List(_) => String::new(),
    }
}

/// The fields of the things on a list, each with its question.
fn of_each(list: &Question, answers: &Answers, words: &Words) -> Result<Vec<String>, LanguageError> {
    let beneath = format!("{}[].", list.path);
    let mut fields = vec![list.gives.join(", ")];
    for question in questions().filter(|question| question.path.starts_with(&beneath)) {
        let asked = words.term(&question.message())?;
        let values = answers.at(question.path).as_ref().map(values).unwrap_or_default();
        fields.push(format!("{}: {asked} {values}", question.field()));
    }
    Ok(fields)
}

#[derive(Default)]
struct Writer {
    text: String,
    comments: Vec<Comment>,
    /// What has been explained, and is not explained again at the next wall line.
    explained: BTreeSet<&'static str>,
}

impl Writer {
    fn value(&mut self, value: &Value, path: &str, depth: usize) {
        let in_one_line = compact(value, path);
        let lies_deep = path.contains("[].") || depth > 1;
        let column = self.text.len() - self.text.rfind('\n').map_or(0, |at| at + 1);
        let is_plain = !matches!(value, Value::Object(_) | Value::Array(_)) || is_observed(value);
        if is_plain || (lies_deep && column + in_one_line.chars().count() <= WIDTH) {
            self.text.push_str(&in_one_line);
            return;
        }
        match value {
            Value::Object(map) => self.object(map, path, depth),
            Value::Array(items) if items.is_empty() => self.text.push_str("[]"),
            Value::Array(items) => {
                self.text.push('[');
                for (index, item) in items.iter().enumerate() {
                    self.text.push_str(if index == 0 { "\n" } else { ",\n" });
                    self.indent(depth + 1);
                    self.value(item, &format!("{path}[]"), depth + 1);
                }
                self.text.push('\n');
                self.indent(depth);
                self.text.push(']');
            }
            _ => {}
        }
    }

    fn object(&mut self, map: &Map<String, Value>, path: &str, depth: usize) {
        self.text.push_str("{\n");
        let mut entries: Vec<(usize, Entry<'_>)> = in_order(map, path)
            .into_iter()
            .map(|key| (rank(&beneath(path, key)), Entry::Key(key)))
            .collect();
        let absent = self.comments.iter().enumerate().filter(|(_, comment)| {
            let field = comment.path.rsplit('.').next().unwrap_or(comment.path);
            beneath(path, field) == comment.path && !map.contains_key(field)
        });
        entries.extend(absent.map(|(index, comment)| (rank(comment.path), Entry::Absent(index))));
        entries.sort_by_key(|(rank, _)| *rank);
        let last = entries
            .iter()
            .rposition(|(_, entry)| matches!(entry, Entry::Key(_)));
        for (index, (_, entry)) in entries.iter().enumerate() {
            match entry {
                Entry::Absent(comment) => self.explain(*comment, depth + 1, true),
                Entry::Key(key) => {
                    let place = beneath(path, key);
                    if let Some(comment) = self.comments.iter().position(|comment| comment.path == place) {
                        self.explain(comment, depth + 1, false);
                    }
                    self.indent(depth + 1);
                    let _ = write!(self.text, "{}: ", Value::from(*key));
                    if let Some(value) = map.get(*key) {
                        self.value(value, &place, depth + 1);
                    }
                    self.text.push_str(if Some(index) == last { "\n" } else { ",\n" });
                }
            }
        }
        self.indent(depth);
        self.text.push('}');
    }

    /// Writes a comment, once, and behind it the line that could be filled in where the file has none.
    fn explain(&mut self, comment: usize, depth: usize, is_absent: bool) {
        let Some(comment) = self.comments.get(comment) else {
            return;
        };
        if !self.explained.insert(comment.path) {
            return;
        }
        let (text, line) = (comment.text.clone(), comment.line.clone());
        if !self.text.ends_with("{\n") {
            self.text.push('\n');
        }
        self.comment(depth, &text);
        if is_absent {
            self.comment_line(depth, &line);
        }
    }

    /// Writes a comment, broken into lines.
    fn comment(&mut self, depth: usize, text: &str) {
        for paragraph in text.lines() {
            let mut line = String::new();
            for word in paragraph.trim_end().split(' ') {
                if !line.is_empty() && line.chars().count() + word.chars().count() + 2 * depth + 4 > WIDTH {
                    self.comment_line(depth, &line);
                    "      ".clone_into(&mut line);
                }
                if !line.is_empty() {
                    line.push(' ');
                }
                line.push_str(word);
            }
            self.comment_line(depth, &line);
        }
    }

    fn comment_line(&mut self, depth: usize, line: &str) {
        self.indent(depth);
        let _ = writeln!(self.text, "// {line}");
    }

    fn indent(&mut self, depth: usize) {
        for _ in 0..depth {
            self.text.push_str("  ");
        }
    }
}

fn beneath(path: &str, key: &str) -> String {
    let dot = if path.is_empty() { "" } else { "." };
    format!("{path}{dot}{key}")
}

/// Whether an object holds how something is known, and no fields.
fn is_observed(value: &Value) -> bool {
    const WORDS: [&str; 7] = [
        "measured", "seen", "reported", "inferred", "unknown", "at_least", "at_most",
    ];
    let is_small = |value: &Value| !matches!(value, Value::Array(_));
    value.as_object().is_some_and(|map| {
        !map.is_empty()
            && map
                .iter()
                .all(|(key, value)| WORDS.contains(&key.as_str()) && is_small(value))
    })
}

/// What stands in an object, or could.
enum Entry<'m> {
    /// A key of the file.
    Key(&'m str),
    /// A key that the file does not have, by its comment.
    Absent(usize),
}

/// Where in the order of the questions a place comes; what is not asked for comes last.
fn rank(place: &str) -> usize {
    if place == "format" {
        return 0;
    }
    let within = format!("{place}.");
    let by_question =
        questions().position(|question| question.path == place || question.path.starts_with(&within));
    let given = || {
        let (list, field) = place.rsplit_once("[].")?;
        questions().position(|question| question.path == list && question.gives.contains(&field))
    };
    by_question.or_else(given).map_or(usize::MAX, |rank| rank + 1)
}

/// The keys of an object in the order in which they are asked for.
fn in_order<'m>(map: &'m Map<String, Value>, path: &str) -> Vec<&'m str> {
    let list = questions().find(|question| path.strip_suffix("[]") == Some(question.path));
    let mut keys: Vec<&str> = map.keys().map(String::as_str).collect();
    keys.sort_by_key(|key| {
        let given = list.and_then(|list| list.gives.iter().position(|field| field == key));
        (rank(&beneath(path, key)), given)
    });
    keys
}

/// A value in one line, with spaces as a person writes them.
fn compact(value: &Value, path: &str) -> String {
    match value {
        Value::Object(map) => {
            let fields: Vec<String> = in_order(map, path)
                .into_iter()
                .filter_map(|key| {
                    let value = compact(map.get(key)?, &beneath(path, key));
                    Some(format!("{}: {value}", Value::from(key)))
                })
                .collect();
            format!("{{{}}}", fields.join(", "))
        }
        Value::Array(items) => {
            let items: Vec<String> = items
                .iter()
                .map(|item| compact(item, &format!("{path}[]")))
                .collect();
            format!("[{}]", items.join(", "))
        }
        value => value.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What the comments show has to be what the reader of house files takes.
    #[test]
    fn every_example_of_a_list_is_read() {
        for (list, example) in EXAMPLES {
            let mut record = Record::starter("Tamarind Gate", &["north"]);
            let value: Value = serde_json::from_str(example).unwrap();
            record.set(&steps(list, &[0]), Some(value));
            record
                .house()
                .unwrap_or_else(|faults| panic!("{list}: {faults:?}"));
        }
    }

    #[test]
    fn every_list_has_an_example() {
        let answers = Answers::default();
        for question in questions().filter(|question| question.path != "wall_lines") {
            let is_list = answers
                .at(question.path)
                .is_some_and(|answer| matches!(answer.kind, Kind::List(_)));
            assert_eq!(is_list, example(question.path).is_some(), "{}", question.path);
        }
    }
}
