//! How things along a wall line, and other lists, are typed in one go.
//!
//! | list | typed |
//! | --- | --- |
//! | stretches (foundation, sill, cripple wall, connections) | `all`; `joints 20'-0", 36'-0"`; `start to 12'-0"`; `none` |
//! | anchors | `2'-0", 6'-0", 10'-0"`; `from 1'-0" to 23'-0" every 6'-0"`; `none` |
//! | panels | `0'-0" to 4'-0", 20'-0" to 24'-0"`; `total 18'-0"`; `none` |
//! | openings | `vent 1'-4" to 2'-6"; access 30'-0" to 32'-6"`; `none` |
//! | what was not seen | `36'-0" to end of anchors, sill: behind a duct`; `all: no room` |
//! | posts | `10`; `none` |
//! | distress | `sticking_door: back bedroom; damp` |
//! | wall lines | `north, east, south, west` |
//! | corners | `0'-0", 0'-0"; 48'-0", 0'-0"; 48'-0", 24'-0"` |
//!
//! Stretches that are open at one end say `start` or `end`.

use retrofit_core::choice::Choice;
use retrofit_core::house::{DistressKind, OpeningKind, Parts};
use retrofit_core::measure::{Length, MeasureError};
use serde_json::{Map, Value, json};
use thiserror::Error;

use super::answer::{Kind, after_word, shortened, term};

/// A list that is typed in one go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum List {
    /// Wall lines, by name.
    WallLines,
    /// Stretches along a wall line.
    Stretches,
    /// Anchors, by station or in runs.
    Anchors,
    /// Braced panels, by stations or all together.
    Panels,
    /// Openings, with what they are for.
    Openings,
    /// What could not be seen, and why.
    Unseen,
    /// Posts, by number.
    Posts,
    /// Signs of trouble, with their place.
    Distress,
    /// Corners of the plan.
    Outline,
    /// The two ends of a wall line in plan.
    Ends,
}

/// Why a list cannot be read.
#[derive(Debug, Error, PartialEq, Eq)]
pub enum ListError {
    /// A station that is no length.
    #[error("station: {0}")]
    Station(#[from] MeasureError),
    /// Something that does not have the form it should.
    #[error("found {found:?}; expected {expected}")]
    Form {
        /// What was typed.
        found: String,
        /// The form it should have.
        expected: &'static str,
    },
    /// A term that is not on its list, or a spacing that cannot be read.
    #[error("{0}")]
    Part(String),
}

fn form(found: &str, expected: &'static str) -> ListError {
    ListError::Form {
        found: shortened(found),
        expected,
    }
}

impl List {
    /// The list at a path with `[]` for items.
    pub(super) fn of(path: &str) -> Option<Self> {
        Some(match path {
            "wall_lines" => Self::WallLines,
            "wall_lines[].foundation"
            | "wall_lines[].sill"
            | "wall_lines[].cripple_wall"
            | "wall_lines[].connections" => Self::Stretches,
            "wall_lines[].anchors" => Self::Anchors,
            "wall_lines[].panels" => Self::Panels,
            "wall_lines[].openings" => Self::Openings,
            "wall_lines[].unseen" => Self::Unseen,
            "posts" => Self::Posts,
            "distress" => Self::Distress,
            "building.outline" => Self::Outline,
            "wall_lines[].plan" => Self::Ends,
            _ => return None,
        })
    }

    /// The name of its message on how it is typed.
    pub fn message(self) -> &'static str {
        match self {
            Self::WallLines => "capture-list-wall-lines",
            Self::Stretches => "capture-list-stretches",
            Self::Anchors => "capture-list-anchors",
            Self::Panels => "capture-list-panels",
            Self::Openings => "capture-list-openings",
            Self::Unseen => "capture-list-unseen",
            Self::Posts => "capture-list-posts",
            Self::Distress => "capture-list-distress",
            Self::Outline => "capture-list-outline",
            Self::Ends => "capture-list-ends",
        }
    }

    /// Whether more things, different from the first, may be listed behind them.
    pub(super) const fn has_more(self) -> bool {
        !matches!(self, Self::WallLines | Self::Outline | Self::Ends)
    }

    /// The list as the house file writes it.
    pub(super) fn read(self, text: &str, no_reason: &str) -> Result<Value, ListError> {
        let text = text.trim();
        if text.eq_ignore_ascii_case("none") {
            return Ok(Value::Array(Vec::new()));
        }
        let each = |split: &[char], one: &dyn Fn(&str) -> Result<Value, ListError>| {
            let parts = text.split(split).map(str::trim).filter(|part| !part.is_empty());
            let items: Vec<Value> = parts.map(one).collect::<Result<_, _>>()?;
            if items.is_empty() {
                return Err(form(text, "at least one, or none"));
            }
            Ok(Value::Array(items))
        };
        match self {
            Self::WallLines => each(&[',', ';'], &|name| Ok(json!({ "name": name }))),
            Self::Stretches => match after_word(text, "joints") {
                Some(joints) => Ok(Value::Array(between(joints)?)),
                None => each(&[',', ';'], &|part| Ok(Value::Object(span(part)?))),
            },
            Self::Anchors if text.contains("every") || after_word(text, "from").is_some() => {
                each(&[';'], &|part| run(part, no_reason))
            }
            Self::Anchors => each(&[',', ';'], &|part| Ok(json!({ "at": station(part)? }))),
            Self::Panels => match after_word(text, "total") {
                Some(total) => {
                    let total = length().observed(total, no_reason, true);
                    let total = total.map_err(|error| ListError::Part(error.to_string()))?;
                    Ok(json!([{ "total_length": total }]))
                }
                None => each(&[',', ';'], &|part| Ok(Value::Object(span(part)?))),
            },
            Self::Openings => each(&[',', ';'], &opening),
            Self::Unseen => each(&[';'], &unseen),
            Self::Posts => {
                let count: u16 = text
                    .parse()
                    .map_err(|_| form(text, "a number of posts that are alike, or none"))?;
                Ok(json!([{ "count": count }]))
            }
            Self::Distress => each(&[';'], &distress),
            Self::Outline | Self::Ends => each(&[';'], &point),
        }
    }

    /// How a list would be typed.
    pub(super) fn spelled(self, value: &Value) -> String {
        let items = value.as_array().map(Vec::as_slice).unwrap_or_default();
        if items.is_empty() {
            return "none".to_owned();
        }
        let text = |item: &Value, key: &str| {
            item.get(key)
                .and_then(Value::as_str)
                .unwrap_or_default()
                .to_owned()
        };
        let each = |separator: &str, one: &dyn Fn(&Value) -> String| {
            let parts: Vec<String> = items.iter().map(one).collect();
            parts.join(separator)
        };
        match self {
            Self::WallLines => each(", ", &|item| text(item, "name")),
            Self::Stretches => each(", ", &spelled_span),
            Self::Anchors if items.iter().all(|item| item.get("at").is_some()) => {
                each(", ", &|item| text(item, "at"))
            }
            Self::Anchors => each("; ", &spelled_run),
            Self::Panels => each(", ", &|item| match item.get("total_length") {
                Some(total) => format!("total {}", length().spelled_with_basis(total)),
                None => spelled_span(item),
            }),
            Self::Openings => each("; ", &|item| {
                format!("{} {}", text(item, "kind"), spelled_span(item))
            }),
            Self::Unseen => each("; ", &|item| {
                let parts = item.get("parts").and_then(Value::as_array);
                let parts: Vec<&str> = parts.into_iter().flatten().filter_map(Value::as_str).collect();
                let of = if parts.is_empty() { "" } else { " of " };
                format!(
                    "{}{of}{}: {}",
                    spelled_span(item),
                    parts.join(", "),
                    text(item, "why")
                )
            }),
            Self::Posts => each(", ", &|item| {
                item.get("count").map_or_else(|| "1".to_owned(), Value::to_string)
            }),
            Self::Distress => each("; ", &|item| match item.get("place") {
                Some(_) => format!("{}: {}", text(item, "kind"), text(item, "place")),
                None => text(item, "kind"),
            }),
            Self::Outline | Self::Ends => {
                each("; ", &|item| format!("{}, {}", text(item, "x"), text(item, "y")))
            }
        }
    }
}

fn length() -> Kind {
    Kind::Written("Length".to_owned())
}

fn station(text: &str) -> Result<String, ListError> {
    let text = text.trim();
    text.parse::<Length>()?;
    Ok(text.to_owned())
}

/// `all`, or `A to B` with `start` and `end` for the ends of the wall line.
fn span(text: &str) -> Result<Map<String, Value>, ListError> {
    let mut span = Map::new();
    if text.eq_ignore_ascii_case("all") {
        return Ok(span);
    }
    let Some((from, to)) = text.split_once(" to ") else {
        return Err(form(
            text,
            "all, none, or stations such as 2'-0\" to 6'-0\" (start and end for the ends of the wall line)",
        ));
    };
    for (key, bound, open) in [("from", from, "start"), ("to", to, "end")] {
        if !bound.trim().eq_ignore_ascii_case(open) {
            span.insert(key.to_owned(), station(bound)?.into());
        }
    }
    Ok(span)
}

fn spelled_span(item: &Value) -> String {
    let bound = |key: &str| item.get(key).and_then(Value::as_str);
    match (bound("from"), bound("to")) {
        (None, None) => "all".to_owned(),
        (from, to) => format!("{} to {}", from.unwrap_or("start"), to.unwrap_or("end")),
    }
}

/// The pieces between joints.
fn between(joints: &str) -> Result<Vec<Value>, ListError> {
    let joints = joints.split([',', ';']).filter(|joint| !joint.trim().is_empty());
    let joints: Vec<String> = joints.map(station).collect::<Result<_, _>>()?;
    let ends = std::iter::once(None).chain(joints.iter().map(Some));
    let pieces = ends.zip(joints.iter().map(Some).chain(std::iter::once(None)));
    Ok(pieces
        .map(|(from, to)| {
            let mut piece = Map::new();
            if let Some(from) = from {
                piece.insert("from".to_owned(), from.as_str().into());
            }
            if let Some(to) = to {
                piece.insert("to".to_owned(), to.as_str().into());
            }
            Value::Object(piece)
        })
        .collect())
}

/// `from A to B every S`, of which anything but one may be left out.
fn run(text: &str, no_reason: &str) -> Result<Value, ListError> {
    let expected = "a run such as from 1'-0\" to 23'-0\" every 6'-0\"";
    let mut run = Map::new();
    let (ends, spacing) = match text.find("every") {
        Some(at) => (
            text.get(..at).unwrap_or_default(),
            after_word(text.get(at..).unwrap_or_default(), "every"),
        ),
        None => (text, None),
    };
    let mut ends = ends.trim();
    if let Some(rest) = after_word(ends, "from") {
        let (first, rest) = rest.split_once(" to ").unwrap_or((rest, ""));
        run.insert("first".to_owned(), station(first)?.into());
        if !rest.is_empty() {
            run.insert("last".to_owned(), station(rest)?.into());
        }
        ends = "";
    } else if let Some(last) = after_word(ends, "to") {
        run.insert("last".to_owned(), station(last)?.into());
        ends = "";
    }
    if let Some(spacing) = spacing {
        let spacing = length().observed(spacing, no_reason, true);
        let spacing = spacing.map_err(|error| ListError::Part(error.to_string()))?;
        run.insert("spacing".to_owned(), spacing);
    }
    if run.is_empty() || !ends.is_empty() {
        return Err(form(text, expected));
    }
    Ok(Value::Object(run))
}

fn spelled_run(item: &Value) -> String {
    let text = |key: &str| item.get(key).and_then(Value::as_str);
    let first = text("first").map(|first| format!("from {first}"));
    let last = text("last").map(|last| format!("to {last}"));
    let spacing = item
        .get("spacing")
        .map(|spacing| format!("every {}", length().spelled_with_basis(spacing)));
    let parts: Vec<String> = [first, last, spacing].into_iter().flatten().collect();
    parts.join(" ")
}

fn one_of<T: Choice>(text: &str) -> Result<String, ListError> {
    let terms: Vec<String> = T::ALL.iter().map(|term| term.spelling().to_owned()).collect();
    term(text, &terms).map_err(|error| ListError::Part(error.to_string()))
}

/// `vent 1'-4" to 2'-6"`.
fn opening(text: &str) -> Result<Value, ListError> {
    let expected = "what it is and where, such as vent 1'-4\" to 2'-6\"";
    let (kind, place) = text.split_once(' ').ok_or_else(|| form(text, expected))?;
    let mut opening = span(place.trim())?;
    opening.insert("kind".to_owned(), one_of::<OpeningKind>(kind)?.into());
    if opening.len() < 3 {
        return Err(form(text, "both stations of the opening"));
    }
    Ok(Value::Object(opening))
}

/// `36'-0" to end of anchors, sill: behind a duct`.
fn unseen(text: &str) -> Result<Value, ListError> {
    let expected = "where and why, such as 36'-0\" to end of anchors: behind a duct";
    let (place, why) = text.split_once(':').ok_or_else(|| form(text, expected))?;
    if why.trim().is_empty() {
        return Err(form(text, expected));
    }
    let (place, parts) = place.split_once(" of ").unwrap_or((place, ""));
    let mut unseen = span(place.trim())?;
    let parts = parts.split(',').map(str::trim).filter(|part| !part.is_empty());
    let parts: Vec<String> = parts.map(one_of::<Parts>).collect::<Result<_, _>>()?;
    if !parts.is_empty() {
        unseen.insert("parts".to_owned(), parts.into());
    }
    unseen.insert("why".to_owned(), why.trim().into());
    Ok(Value::Object(unseen))
}

/// `sticking_door: back bedroom`.
fn distress(text: &str) -> Result<Value, ListError> {
    let (kind, place) = text.split_once(':').unwrap_or((text, ""));
    let mut distress = Map::new();
    distress.insert("kind".to_owned(), one_of::<DistressKind>(kind)?.into());
    if !place.trim().is_empty() {
        distress.insert("place".to_owned(), place.trim().into());
    }
    Ok(Value::Object(distress))
}

/// `48'-0", 24'-0"`: east, then north.
fn point(text: &str) -> Result<Value, ListError> {
    let (x, y) = text
        .split_once(',')
        .ok_or_else(|| form(text, "a corner as east, north, such as 48'-0\", 24'-0\""))?;
    Ok(json!({ "x": station(x)?, "y": station(y)? }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    #[rstest]
    #[case(List::Stretches, "all", json!([{}]))]
    #[case(List::Stretches, "none", json!([]))]
    #[case(List::Stretches, "joints 20'-0\", 36'-0\"", json!([{"to": "20'-0\""}, {"from": "20'-0\"", "to": "36'-0\""}, {"from": "36'-0\""}]))]
    #[case(List::Stretches, "start to 3 ft, 5 ft to end", json!([{"to": "3 ft"}, {"from": "5 ft"}]))]
    #[case(List::Anchors, "2'-0\", 6'-0\"; 10'-0\"", json!([{"at": "2'-0\""}, {"at": "6'-0\""}, {"at": "10'-0\""}]))]
    #[case(List::Anchors, "from 1'-0\" to 23'-0\" every measured 6'-0\"", json!([{"first": "1'-0\"", "last": "23'-0\"", "spacing": {"measured": "6'-0\""}}]))]
    #[case(List::Anchors, "every unknown: from one end, it looks even", json!([{"spacing": {"unknown": "from one end, it looks even"}}]))]
    #[case(List::Panels, "total reported at least 18'-0\"", json!([{"total_length": {"reported": {"at_least": "18'-0\""}}}]))]
    #[case(List::Openings, "vent 1'-4\" to 2'-6\", access 30'-0\" to 32'-6\"", json!([{"kind": "vent", "from": "1'-4\"", "to": "2'-6\""}, {"kind": "access", "from": "30'-0\"", "to": "32'-6\""}]))]
    #[case(List::Unseen, "36'-0\" to end of anchors, sill: duct: low", json!([{"from": "36'-0\"", "parts": ["anchors", "sill"], "why": "duct: low"}]))]
    #[case(List::Unseen, "all: no room", json!([{"why": "no room"}]))]
    #[case(List::Distress, "sticking_door: back bedroom; damp", json!([{"kind": "sticking_door", "place": "back bedroom"}, {"kind": "damp"}]))]
    #[case(List::Outline, "0 ft, 0 ft; 8 ft, 0 ft; 8 ft, 9 ft", json!([{"x": "0 ft", "y": "0 ft"}, {"x": "8 ft", "y": "0 ft"}, {"x": "8 ft", "y": "9 ft"}]))]
    fn a_list_is_read_and_typed_again(#[case] list: List, #[case] text: &str, #[case] expected: Value) {
        let read = list.read(text, "not seen").unwrap();
        assert_eq!(read, expected);
        assert_eq!(list.read(&list.spelled(&read), "not seen").unwrap(), expected);
    }

    #[rstest]
    #[case(List::Anchors, "2, 6", "write a unit")]
    #[case(List::Anchors, "from 2 ft", "")]
    #[case(List::Stretches, "6 ft", "expected all, none, or stations")]
    #[case(List::Openings, "vnet 1 ft to 2 ft", "did you mean \"vent\"")]
    #[case(List::Openings, "vent start to 2 ft", "both stations")]
    #[case(List::Unseen, "all", "where and why")]
    #[case(List::Posts, "many", "a number of posts")]
    #[case(List::Outline, "4 ft", "east, north")]
    fn a_list_that_cannot_be_read_says_what_was_expected(
        #[case] list: List,
        #[case] text: &str,
        #[case] says: &str,
    ) {
        if says.is_empty() {
            assert!(list.read(text, "not seen").is_ok());
        } else {
            let error = list.read(text, "not seen").unwrap_err().to_string();
            assert!(error.contains(says), "{error}");
        }
    }
}
