//! What a later record no longer says of what the earlier one said.
//!
//! The two records are gone through in their written form, so that no field of the house can be forgotten
//! here.

use serde_json::{Map, Value};

use super::Place;
use crate::house::{AsBuilt, Span};
use crate::measure::Length;

/// An observation of the earlier record that the later one does not make, or makes less exactly.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LessSaid {
    /// The wall line, by its position in the earlier record; `None` for the house as a whole.
    pub wall_line: Option<usize>,
    /// Its path in the earlier house file.
    pub path: String,
    /// Where along the wall line, of an item that stood where nobody could look now.
    pub span: Option<Span>,
    /// What the earlier record said.
    pub said: String,
    /// What the later record says instead.
    pub now: SaidNow,
}

/// What a later record says in place of an observation.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SaidNow {
    /// Nothing at all.
    Nothing,
    /// That it is not known, and why.
    Unknown(String),
    /// Bounds only.
    Bounds(String),
    /// That this stretch could not be seen, and why.
    Unseen(String),
}

const BASES: [&str; 4] = ["measured", "seen", "reported", "inferred"];
/// What is no observation of the house: names, remarks, and how and when the house was looked at.
const NOT_OBSERVED: [&str; 11] = [
    "format",
    "name",
    "note",
    "plan",
    "outline",
    "inspection",
    "distress",
    "surveys",
    "photos",
    "unseen",
    "count",
];
/// Where an item of a list is, by which it is found again.
const STATIONS: [&str; 5] = ["at", "first", "last", "from", "to"];

/// Goes through the house as a whole and the wall lines that both records have.
pub(super) fn less_said(before: &AsBuilt, after: &AsBuilt, places: &[Place]) -> Vec<LessSaid> {
    let written = |house: &AsBuilt| serde_json::to_value(house).unwrap_or_default();
    let (earlier, later) = (written(before), written(after));
    let mut all = All {
        wall_line: None,
        hidden: Vec::new(),
        list: Vec::new(),
    };
    if let (Value::Object(earlier), Value::Object(later)) = (&earlier, &later) {
        let fields = earlier.iter().filter(|(key, _)| *key != "wall_lines");
        for (key, value) in fields {
            all.field(key, value, later.get(key), key);
        }
    }
    for place in places {
        let Place::WallLine {
            before: then,
            after: now,
        } = *place
        else {
            continue;
        };
        all.wall_line = Some(then);
        let line = |house: &Value, index: usize| house.get("wall_lines")?.get(index).cloned();
        let path = format!("wall_lines[{then}]");
        if let (Some(Value::Object(earlier)), Some(Value::Object(later))) =
            (line(&earlier, then), line(&later, now))
        {
            all.hidden = later
                .get("unseen")
                .and_then(Value::as_array)
                .cloned()
                .unwrap_or_default();
            all.fields(&earlier, &later, &path);
            all.unseen(earlier.get("unseen"), later.get("unseen"), &path);
        }
    }
    all.list
}

struct All {
    wall_line: Option<usize>,
    /// The stretches of the wall line that the later record could not see.
    hidden: Vec<Value>,
    list: Vec<LessSaid>,
}

/// What is written at a place.
enum Written<'a> {
    Nothing,
    Unknown(&'a str),
    Bounds(&'a Value),
    Value(&'a Value),
}

fn written(value: Option<&Value>) -> Written<'_> {
    let Some(value) = value else {
        return Written::Nothing;
    };
    let alone = value.as_object().filter(|map| map.len() == 1);
    match alone.and_then(|map| map.iter().next()) {
        Some((key, why)) if key == "unknown" => Written::Unknown(why.as_str().unwrap_or_default()),
        Some((key, reading)) if BASES.contains(&key.as_str()) => match reading {
            Value::Object(bounds) if bounds.contains_key("at_least") || bounds.contains_key("at_most") => {
                Written::Bounds(reading)
            }
            reading => Written::Value(reading),
        },
        _ => Written::Value(value),
    }
}

impl All {
    fn fields(&mut self, before: &Map<String, Value>, after: &Map<String, Value>, path: &str) {
        for (key, value) in before {
            self.field(key, value, after.get(key), &format!("{path}.{key}"));
        }
    }

    fn field(&mut self, key: &str, before: &Value, after: Option<&Value>, path: &str) {
        if NOT_OBSERVED.contains(&key) || STATIONS.contains(&key) {
            return;
        }
        let (said, is_exact) = match written(Some(before)) {
            Written::Nothing | Written::Unknown(_) => return,
            Written::Bounds(bounds) => (bounds, false),
            Written::Value(value) => (value, true),
        };
        let now = match (written(after), said) {
            (Written::Value(Value::Object(after)), Value::Object(before)) if is_exact => {
                return self.fields(before, after, path);
            }
            (Written::Value(Value::Array(after)), Value::Array(before)) => {
                return self.items(key, before, after, path);
            }
            (Written::Nothing, Value::Object(before)) if is_exact => {
                return self.fields(before, &Map::new(), path);
            }
            (Written::Value(_), _) => return,
            (Written::Bounds(_), _) if !is_exact => return,
            (Written::Bounds(bounds), _) => SaidNow::Bounds(shown(bounds)),
            (Written::Nothing, _) => SaidNow::Nothing,
            (Written::Unknown(why), _) => SaidNow::Unknown(why.to_owned()),
        };
        self.list.push(LessSaid {
            wall_line: self.wall_line,
            path: path.to_owned(),
            span: None,
            said: shown(said),
            now,
        });
    }

    /// An item that is gone was taken away or replaced: that is said, unless it stood where nobody could
    /// look. Of one that is found again, less may be said.
    fn items(&mut self, list: &str, before: &[Value], after: &[Value], path: &str) {
        // What is recorded again as it was says the same, and no other item is found in it: two anchors may
        // stand at one station.
        let mut after: Vec<Option<&Value>> = after.iter().map(Some).collect();
        let mut changed: Vec<(usize, &Value)> = Vec::new();
        for (index, item) in before.iter().enumerate() {
            match after.iter_mut().find(|other| **other == Some(item)) {
                Some(same) => *same = None,
                None => changed.push((index, item)),
            }
        }
        for (index, item) in changed {
            let Value::Object(item) = item else { continue };
            let again = after.iter().enumerate().filter_map(|(other, value)| {
                let value = (*value)?.as_object()?;
                let is_the_same = match list {
                    "posts" => other == index,
                    "anchors" => STATIONS.iter().all(|key| item.get(*key) == value.get(*key)),
                    _ => overlap(item, value),
                };
                is_the_same.then_some(value)
            });
            let again: Vec<&Map<String, Value>> = again.collect();
            let path = format!("{path}[{index}]");
            if again.is_empty() && list != "posts" {
                self.hidden_item(list, item, &path);
            }
            for (key, value) in item {
                // Ways of tying the floor lie over one another: it is enough if one of them says it.
                let says_it = |one: &&&Map<String, Value>| {
                    matches!(written(one.get(key)), Written::Value(_) | Written::Bounds(_))
                };
                if list == "connections" && again.iter().any(|one| says_it(&one)) {
                    continue;
                }
                let silent = again.iter().find(|one| !says_it(one)).or(again.first());
                if let Some(one) = silent {
                    self.field(key, value, one.get(key), &format!("{path}.{key}"));
                }
            }
        }
    }

    fn hidden_item(&mut self, list: &str, item: &Map<String, Value>, path: &str) {
        let is_of_list = |unseen: &Map<String, Value>| match unseen.get("parts").and_then(Value::as_array) {
            Some(parts) if !parts.is_empty() => parts.iter().any(|part| part == list),
            _ => !matches!(list, "foundation" | "sill"),
        };
        let hidden = self.hidden.iter().filter_map(Value::as_object);
        let Some(unseen) = hidden
            .into_iter()
            .find(|unseen| is_of_list(unseen) && touch(item, unseen))
        else {
            return;
        };
        let why = unseen.get("why").and_then(Value::as_str).unwrap_or_default();
        let (from, to) = ends(item);
        self.list.push(LessSaid {
            wall_line: self.wall_line,
            path: path.to_owned(),
            span: Some(Span {
                from: from.unwrap_or(Length::ZERO),
                to,
            }),
            said: "recorded".to_owned(),
            now: SaidNow::Unseen(why.to_owned()),
        });
    }

    /// Stretches that could be seen before.
    fn unseen(&mut self, before: Option<&Value>, after: Option<&Value>, path: &str) {
        let list = |value: Option<&Value>| value.and_then(Value::as_array).cloned().unwrap_or_default();
        let places = |item: &Value| ["from", "to", "parts"].map(|key| item.get(key).cloned());
        let before = list(before);
        for item in list(after) {
            if before.iter().any(|other| places(other) == places(&item)) {
                continue;
            }
            let text = |key: &str| item.get(key).and_then(Value::as_str).map(str::to_owned);
            self.list.push(LessSaid {
                wall_line: self.wall_line,
                path: path.to_owned(),
                span: None,
                said: format!(
                    "{} to {}",
                    text("from").unwrap_or_else(|| "the beginning".to_owned()),
                    text("to").unwrap_or_else(|| "the end".to_owned())
                ),
                now: SaidNow::Unseen(text("why").unwrap_or_default()),
            });
        }
    }
}

/// Whether two items share some of the wall line; an end that is left out is that of the wall line.
fn overlap(one: &Map<String, Value>, other: &Map<String, Value>) -> bool {
    let station = |item: &Map<String, Value>, key: &str| item.get(key)?.as_str()?.parse::<Length>().ok();
    let begins_before = |from: &Map<String, Value>, to: &Map<String, Value>| {
        station(to, "to").is_none_or(|to| station(from, "from").unwrap_or(Length::ZERO) < to)
    };
    begins_before(one, other) && begins_before(other, one)
}

/// Where an item begins and ends, as far as that is written.
fn ends(item: &Map<String, Value>) -> (Option<Length>, Option<Length>) {
    let first = |keys: [&str; 3]| {
        let written = keys.into_iter().find_map(|key| item.get(key))?;
        written.as_str()?.parse::<Length>().ok()
    };
    (first(["at", "first", "from"]), first(["at", "last", "to"]))
}

/// Whether two items share at least a station.
fn touch(one: &Map<String, Value>, other: &Map<String, Value>) -> bool {
    let begins_by = |(from, _): (Option<Length>, Option<Length>),
                     (_, to): (Option<Length>, Option<Length>)| {
        to.is_none_or(|to| from.unwrap_or(Length::ZERO) <= to)
    };
    begins_by(ends(one), ends(other)) && begins_by(ends(other), ends(one))
}

/// A written value for a reader.
fn shown(value: &Value) -> String {
    match value {
        Value::String(text) => text.clone(),
        Value::Bool(true) => "yes".to_owned(),
        Value::Bool(false) => "no".to_owned(),
        Value::Array(items) if items.is_empty() => "none".to_owned(),
        Value::Array(items) => format!("{} listed", items.len()),
        Value::Object(bounds) => {
            let bound = |key: &str, words: &str| bounds.get(key).map(|to| format!("{words} {}", shown(to)));
            let both = [bound("at_least", "at least"), bound("at_most", "at most")];
            both.into_iter().flatten().collect::<Vec<_>>().join(", ")
        }
        other => other.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::json;

    use super::*;
    use crate::before_after::compare;
    use crate::provisions::Library;

    fn less(before: &Value, after: &Value) -> Vec<(String, String, SaidNow)> {
        let house = |wall: &Value| {
            let house = json!({
                "format": "house-1", "name": "trial", "building": {}, "wall_lines": [wall],
            });
            AsBuilt::new(serde_json::from_value(house).unwrap()).unwrap()
        };
        let (before, after) = (house(before), house(after));
        let set = Library::shipped().set(Library::DEFAULT_SET).unwrap();
        let less = compare(&before, &after, &set).less_said.into_iter();
        less.map(|one| (one.path, one.said, one.now)).collect()
    }

    fn wall(key: &str, value: &Value) -> Value {
        json!({"name": "north", "length": "20 ft", key: value})
    }

    #[rstest]
    #[case("joists", json!("parallel"), json!({"unknown": "insulated"}), SaidNow::Unknown("insulated".into()))]
    #[case("anchors", json!([]), json!({"unknown": "hidden"}), SaidNow::Unknown("hidden".into()))]
    #[case("length", json!({"measured": "20 ft"}), json!({"measured": {"at_least": "19 ft"}}), SaidNow::Bounds("at least 19'-0\"".into()))]
    fn what_was_known_and_is_not(
        #[case] key: &str,
        #[case] before: Value,
        #[case] after: Value,
        #[case] now: SaidNow,
    ) {
        let said = less(&wall(key, &before), &wall(key, &after));
        assert_eq!(said.len(), 1, "{said:?}");
        assert_eq!(said[0].0, format!("wall_lines[0].{key}"));
        assert_eq!(said[0].2, now);
        // What was not known before cannot be lost.
        assert!(less(&wall(key, &after), &wall(key, &before)).is_empty());
    }

    #[test]
    fn an_item_is_found_again_by_its_station_and_one_taken_away_is_not_lost() {
        let before = wall(
            "anchors",
            &json!([{"at": "1 ft", "diameter": "1/2 in"}, {"at": "3 ft", "washer": "cut"}]),
        );
        let after = wall("anchors", &json!([{"at": "3 ft"}, {"at": "9 ft"}]));
        assert_eq!(
            less(&before, &after),
            [(
                "wall_lines[0].anchors[1].washer".to_owned(),
                "cut".to_owned(),
                SaidNow::Nothing
            )]
        );
    }

    #[test]
    fn a_stretch_recorded_in_two_halves_has_to_be_told_of_in_both() {
        let before = wall("sill", &json!([{"soundness": "sound"}]));
        let after = wall(
            "sill",
            &json!([{"to": "10 ft", "soundness": "sound"}, {"from": "10 ft"}]),
        );
        assert_eq!(less(&before, &after)[0].0, "wall_lines[0].sill[0].soundness");
        let whole = wall(
            "sill",
            &json!([{"to": "10 ft", "soundness": "sound"}, {"from": "10 ft", "soundness": "split"}]),
        );
        assert!(less(&before, &whole).is_empty());
    }

    #[test]
    fn a_stretch_that_can_no_longer_be_seen_is_told() {
        let after = wall("unseen", &json!([{"from": "4 ft", "why": "a new duct"}]));
        assert_eq!(
            less(&wall("note", &json!("")), &after)[0].2,
            SaidNow::Unseen("a new duct".into())
        );
        assert!(less(&after, &after).is_empty());
    }
}
