//! What was not seen, as the record says it.

use retrofit_core::check::LookAt;
use retrofit_core::choice::Choice;
use retrofit_core::house::{Access, House};
use schemars::JsonSchema;
use serde::Serialize;
use serde_json::Value;

use super::together::paths as paths_together;
use super::wording::{self, plain};

/// What was not seen.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct NotSeen {
    /// How far the crawl space was entered.
    pub access: String,
    /// Everything the record names as unknown, with its reason, in the order of a crawl.
    pub unknowns: Vec<UnknownValue>,
    /// Stretches of wall lines that could not be seen.
    pub stretches: Vec<UnseenStretch>,
    /// The same unknowns for a reader: what is unknown for one reason at the same wall lines stands together.
    #[serde(skip)]
    pub(crate) together: Vec<UnknownTogether>,
}

/// Something the record names as unknown.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct UnknownValue {
    /// What it is.
    pub what: String,
    /// The wall line; null for the house.
    pub wall_line: Option<String>,
    /// Its path in the house file.
    pub path: String,
    /// Why it is not known.
    pub reason: String,
}

/// What the record names as unknown for one reason at the same wall lines.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(crate) struct UnknownTogether {
    /// Why it is not known.
    pub reason: String,
    /// The names of the wall lines; nothing for the house as a whole.
    pub wall_lines: Vec<String>,
    /// Whether these are all the wall lines there are, and more than one.
    pub every_line: bool,
    /// What is not known, with its paths in the house file.
    pub items: Vec<UnknownItem>,
}

/// One thing that is not known, wherever it is.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(crate) struct UnknownItem {
    /// What it is.
    pub what: String,
    /// Its paths in the house file.
    pub paths: Vec<String>,
}

/// A stretch that could not be seen.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct UnseenStretch {
    /// The wall line.
    pub wall_line: String,
    /// From where to where.
    pub station: String,
    /// What could not be seen there.
    pub parts: String,
    /// Why not.
    pub reason: String,
}

impl NotSeen {
    pub(super) fn of(house: &House) -> Self {
        let access = match house.inspection.access.value() {
            Some(Access::Entered) => "The crawl space was entered.".to_owned(),
            Some(Access::Partly) => {
                "Only part of the crawl space was entered; nothing is claimed for the rest.".to_owned()
            }
            Some(Access::HeadAndShoulders) => {
                "The crawl space was looked into from its opening and not entered.".to_owned()
            }
            Some(Access::None) => "The crawl space was not entered.".to_owned(),
            None => "How far the crawl space was entered is not recorded.".to_owned(),
        };
        let found = found(house);
        Self {
            access,
            together: together(house, &found),
            unknowns: unknowns(house, found),
            stretches: stretches(house),
        }
    }
}

fn stretches(house: &House) -> Vec<UnseenStretch> {
    let mut stretches = Vec::new();
    for wall in &house.wall_lines {
        for unseen in &wall.unseen {
            let parts: Vec<&str> = unseen.parts.iter().map(|part| part.words()).collect();
            stretches.push(UnseenStretch {
                wall_line: plain(&wall.name),
                station: match (unseen.from, unseen.to, wall.length.value()) {
                    (None, None, _) => "the whole wall line".to_owned(),
                    (.., length) => wording::span(unseen.span(length.copied())),
                },
                parts: if parts.is_empty() {
                    "everything".to_owned()
                } else {
                    parts.join(", ")
                },
                reason: plain(&unseen.why),
            });
        }
    }
    stretches
}

/// Every observation that the record names as unknown.
///
/// The record is walked in its written form: there an unknown is an object with the one key `unknown`,
/// whatever the type of the value, so that an observation added to the model is listed without a line here.
fn found(house: &House) -> Vec<Found> {
    let mut found = Vec::new();
    if let Ok(record) = serde_json::to_value(house) {
        let root = Place {
            pattern: String::new(),
            path: String::new(),
            wall_line: None,
        };
        walk(&record, &root, &mut found);
    }
    found.sort();
    found
}

fn unknowns(house: &House, found: Vec<Found>) -> Vec<UnknownValue> {
    let name = |index: usize| house.wall_lines.get(index).map(|wall| plain(&wall.name));
    found
        .into_iter()
        .map(|(_, wall_line, path, what, reason)| UnknownValue {
            what,
            wall_line: wall_line.and_then(name),
            path,
            reason,
        })
        .collect()
}

/// The same with as few rows as say it all, in the order in which they are first come by.
fn together(house: &House, found: &[Found]) -> Vec<UnknownTogether> {
    struct Same<'a> {
        what: &'a str,
        reason: &'a str,
        lines: Vec<usize>,
        paths: Vec<String>,
    }
    let mut by_what: Vec<Same<'_>> = Vec::new();
    for (_, line, path, what, reason) in found {
        let same = by_what.iter_mut().find(|other| {
            other.what == what && other.reason == reason && other.lines.is_empty() == line.is_none()
        });
        if let Some(same) = same {
            same.lines.extend(line.filter(|line| !same.lines.contains(line)));
            same.paths.push(path.clone());
        } else {
            by_what.push(Same {
                what,
                reason,
                lines: line.iter().copied().collect(),
                paths: vec![path.clone()],
            });
        }
    }
    let mut rows: Vec<(Vec<usize>, UnknownTogether)> = Vec::new();
    for Same {
        what,
        reason,
        lines,
        paths,
    } in by_what
    {
        let item = UnknownItem {
            what: what.to_owned(),
            paths: paths_together(&paths),
        };
        let row = rows
            .iter_mut()
            .find(|(other, row)| *other == lines && row.reason == reason);
        if let Some((_, row)) = row {
            row.items.push(item);
        } else {
            let names = lines.iter().filter_map(|line| house.wall_lines.get(*line));
            let row = UnknownTogether {
                reason: reason.to_owned(),
                wall_lines: names.map(|wall| plain(&wall.name)).collect(),
                every_line: house.wall_lines.len() > 1 && lines.len() == house.wall_lines.len(),
                items: vec![item],
            };
            rows.push((lines, row));
        }
    }
    rows.into_iter().map(|(_, row)| row).collect()
}

/// In the order in which they are sorted: place in the crawl, wall line, path, what, reason.
type Found = (u32, Option<usize>, String, String, String);

struct Place {
    /// The path with empty brackets, as [`LookAt`] spells it.
    pattern: String,
    path: String,
    wall_line: Option<usize>,
}

fn walk(value: &Value, place: &Place, found: &mut Vec<Found>) {
    match value {
        Value::Object(map) => {
            if let (1, Some(Value::String(reason))) = (map.len(), map.get("unknown")) {
                let look_at = LookAt::ALL
                    .iter()
                    .find(|look_at| look_at.spelling() == place.pattern);
                let what =
                    look_at.map_or_else(|| in_words(&place.pattern), |look_at| look_at.words().to_owned());
                let order = look_at.map_or(u32::MAX, |look_at| look_at.index());
                found.push((order, place.wall_line, place.path.clone(), what, plain(reason)));
                return;
            }
            for (key, value) in map {
                // A known value stands behind how it is known; that key is not part of the path.
                let is_basis = matches!(key.as_str(), "measured" | "seen" | "reported" | "inferred");
                if is_basis && map.len() == 1 {
                    walk(value, place, found);
                    continue;
                }
                if is_leaf(value) {
                    continue;
                }
                let dot = if place.path.is_empty() { "" } else { "." };
                let inner = Place {
                    pattern: format!("{}{dot}{key}", place.pattern),
                    path: format!("{}{dot}{key}", place.path),
                    wall_line: place.wall_line,
                };
                walk(value, &inner, found);
            }
        }
        Value::Array(items) => {
            for (index, item) in items.iter().enumerate().filter(|(_, item)| !is_leaf(item)) {
                let inner = Place {
                    pattern: format!("{}[]", place.pattern),
                    path: format!("{}[{index}]", place.path),
                    wall_line: if place.pattern == "wall_lines" {
                        Some(index)
                    } else {
                        place.wall_line
                    },
                };
                walk(item, &inner, found);
            }
        }
        _ => {}
    }
}

/// Whether nothing unknown can stand in a value. Most are so, and their paths are not worth spelling.
fn is_leaf(value: &Value) -> bool {
    match value {
        // A known value stands behind how it is known.
        Value::Object(map) => {
            map.len() == 1 && map.iter().all(|(key, value)| key != "unknown" && is_leaf(value))
        }
        Value::Array(items) => items.is_empty(),
        _ => true,
    }
}

/// The last key of a path in words, for an observation that no check reads.
fn in_words(pattern: &str) -> String {
    pattern
        .rsplit('.')
        .next()
        .unwrap_or(pattern)
        .replace("[]", "")
        .replace('_', " ")
}
