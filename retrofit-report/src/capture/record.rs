//! A house file while it is being filled in.

use retrofit_core::house::AsBuilt;
use serde_json::{Map, Value, json};

use super::answer::{bare, found_at};
use super::path::Step;
use crate::input::{Fault, parse_house, without_comments};

/// What stands in a starter file where nobody has looked yet; a session takes it for no answer.
pub(super) const NOT_YET: &str = "not looked at yet";

/// A house file while it is being filled in: always one that can be read, and whole.
#[derive(Clone, Debug, PartialEq)]
pub struct Record {
    pub(super) root: Value,
}

impl Record {
    /// A record of a house of which nothing is known but its name and those of its wall lines.
    pub fn starter(name: &str, wall_lines: &[&str]) -> Self {
        let lines: Vec<Value> = wall_lines.iter().map(|name| json!({ "name": name })).collect();
        Self {
            root: json!({ "format": "house-1", "name": name, "wall_lines": lines }),
        }
    }

    /// Takes up the text of a house file; comments in it are not kept. The error is everything that is wrong with it.
    pub fn read(text: &str) -> Result<Self, Vec<Fault>> {
        parse_house(text)?;
        // What can be read as a house can be read as bare values.
        let plain = without_comments(text);
        let root = serde_json::from_str(plain.trim_start_matches('\u{feff}')).unwrap_or_default();
        Ok(Self { root })
    }

    /// The house as recorded so far. The error is everything in it that cannot be.
    pub fn house(&self) -> Result<AsBuilt, Vec<Fault>> {
        parse_house(&self.root.to_string())
    }

    /// The name of the house.
    pub fn name(&self) -> &str {
        self.root.get("name").and_then(Value::as_str).unwrap_or_default()
    }

    /// What is recorded at a place.
    pub(super) fn get(&self, path: &[Step]) -> Option<&Value> {
        found_at(&self.root, path)
    }

    /// Whether there is an answer at a place; that nobody has looked yet is none.
    pub(super) fn has_answer(&self, path: &[Step]) -> bool {
        self.get(path).is_some_and(|value| {
            *value != "" && value.get("unknown").and_then(Value::as_str) != Some(NOT_YET)
        })
    }

    /// The items of a list.
    pub(super) fn items(&self, path: &[Step]) -> &[Value] {
        let list = self.get(path).map(bare);
        list.and_then(Value::as_array)
            .map(Vec::as_slice)
            .unwrap_or_default()
    }

    /// Writes a value to a place, or takes away what stands there. A place in an item that is not there is left alone.
    pub(super) fn set(&mut self, path: &[Step], value: Option<Value>) {
        let Some((last, way)) = path.split_last() else {
            return;
        };
        let mut node = &mut self.root;
        for step in way {
            let next = match step {
                Step::Field(name) => {
                    if !node.is_object() {
                        *node = Value::Object(Map::new());
                    }
                    let Value::Object(map) = node else { return };
                    map.entry(name).or_insert(Value::Null)
                }
                Step::Item(index) => match item(node, *index) {
                    Some(item) => item,
                    None => return,
                },
            };
            node = next;
        }
        match (last, value) {
            (Step::Field(name), Some(value)) => {
                if !node.is_object() {
                    *node = Value::Object(Map::new());
                }
                if let Value::Object(map) = node {
                    map.insert(name.clone(), value);
                }
            }
            (Step::Field(name), None) => {
                if let Value::Object(map) = node {
                    map.remove(name);
                }
            }
            (Step::Item(index), Some(value)) => {
                if let Some(item) = item(node, *index) {
                    *item = value;
                }
            }
            (Step::Item(_), None) => {}
        }
        // A section that holds nothing is left out.
        if let [Step::Field(section), ..] = way
            && self
                .root
                .get(section)
                .is_some_and(|section| section.is_null() || section.as_object().is_some_and(Map::is_empty))
            && let Value::Object(map) = &mut self.root
        {
            map.remove(section);
        }
    }

    /// Adds items to a list.
    pub(super) fn add(&mut self, path: &[Step], more: Vec<Value>) {
        let mut list = self.items(path).to_vec();
        list.extend(more);
        let list = Value::Array(list);
        let value = match self.get(path) {
            Some(Value::Object(known)) => match known.iter().next() {
                Some((word, Value::Array(_))) => json!({ word.as_str(): list }),
                _ => list,
            },
            _ => list,
        };
        self.set(path, Some(value));
    }
}

/// An item of a list that may stand behind the word for how it is known.
fn item(list: &mut Value, index: usize) -> Option<&mut Value> {
    match list {
        Value::Object(known) => known.values_mut().next()?.get_mut(index),
        list => list.get_mut(index),
    }
}
