//! Finding the place in a JSON text that a path such as `wall_lines[0].anchors[2].diameter` names.
//!
//! The text is taken apart a second time for this, with the position of every value, and only when there is
//! an error to show.

use std::collections::BTreeSet;
use std::ops::Range;

use jsonc_parser::ast::{Object, ObjectProp, ObjectPropName, Value};
use jsonc_parser::common::Ranged;
use jsonc_parser::{CollectOptions, ParseOptions, parse_to_ast};

/// One step of a path.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Step {
    Key(String),
    Index(usize),
}

/// Takes a path apart.
pub(super) fn steps(path: &str) -> Vec<Step> {
    let mut steps = Vec::new();
    for part in path.split('.') {
        let mut pieces = part.split('[');
        if let Some(key) = pieces.next().filter(|key| !key.is_empty()) {
            steps.push(Step::Key(key.to_owned()));
        }
        steps.extend(pieces.filter_map(|index| Some(Step::Index(index.trim_end_matches(']').parse().ok()?))));
    }
    steps
}

/// Puts a path together.
pub(super) fn spelled(steps: &[Step]) -> String {
    let mut path = String::new();
    for step in steps {
        match step {
            Step::Key(key) => {
                if !path.is_empty() {
                    path.push('.');
                }
                path.push_str(key);
            }
            Step::Index(index) => {
                path.push('[');
                path.push_str(&index.to_string());
                path.push(']');
            }
        }
    }
    path
}

/// A JSON text with the position of every value.
pub(super) struct Places<'a> {
    root: Option<Value<'a>>,
}

/// What at a path is wanted.
#[derive(Clone, Copy)]
pub(super) enum Part<'a> {
    /// The value itself.
    Value,
    /// A key inside it.
    Key(&'a str),
    /// The second of two like keys inside it.
    SecondKey(&'a str),
}

impl<'a> Places<'a> {
    /// Takes a text apart; one that is not JSON has no places.
    pub(super) fn of(text: &'a str) -> Self {
        let strict = ParseOptions {
            allow_comments: false,
            allow_loose_object_property_names: false,
            allow_trailing_commas: false,
            allow_missing_commas: false,
            allow_single_quoted_strings: false,
            allow_hexadecimal_numbers: false,
            allow_unary_plus_numbers: false,
            allow_bare_decimal_point_numbers: false,
            allow_non_finite_numbers: false,
            allow_extended_string_escapes: false,
        };
        let parsed = parse_to_ast(text, &CollectOptions::default(), &strict);
        Self {
            root: parsed.ok().and_then(|parsed| parsed.value),
        }
    }

    /// The bytes of what a path names; where the text does not go that far, the last thing on the way.
    pub(super) fn find(&self, steps: &[Step], part: Part<'_>) -> Option<Range<usize>> {
        let mut value = self.root.as_ref()?;
        // A whole object or list would underline half the file: its beginning will do.
        let mut place = beginning(value);
        for step in steps {
            let next = match (step, beneath_basis(value, step)) {
                (Step::Key(key), Value::Object(object)) => property(object, key).map(|property| {
                    place = name_range(property);
                    &property.value
                }),
                (Step::Index(index), Value::Array(array)) => array.elements.get(*index).inspect(|element| {
                    place = beginning(element);
                }),
                _ => None,
            };
            let Some(next) = next else { return Some(place) };
            value = next;
        }
        let object = value.as_object();
        Some(match part {
            Part::Value => match beneath(value) {
                Some(inner) if is_scalar(inner) => whole(inner),
                _ if is_scalar(value) => whole(value),
                _ => place,
            },
            Part::Key(key) => object
                .and_then(|object| property(object, key))
                .map_or(place, name_range),
            Part::SecondKey(key) => object
                .and_then(|object| object.properties.iter().filter(|p| p.name.as_str() == key).nth(1))
                .map_or(place, name_range),
        })
    }

    /// A key that stands a second time in its object, and where.
    pub(super) fn repeated_key(&self) -> Option<(&str, Range<usize>)> {
        repeated_in(self.root.as_ref()?)
    }

    /// The text of a scalar at a path, for telling what was found.
    pub(super) fn scalar(&self, steps: &[Step], text: &'a str) -> Option<&'a str> {
        let mut value = self.root.as_ref()?;
        for step in steps {
            value = match (step, beneath_basis(value, step)) {
                (Step::Key(key), Value::Object(object)) => &property(object, key)?.value,
                (Step::Index(index), Value::Array(array)) => array.elements.get(*index)?,
                _ => return None,
            };
        }
        is_scalar(value).then(|| text.get(whole(value)))?
    }
}

fn repeated_in<'v>(value: &'v Value<'_>) -> Option<(&'v str, Range<usize>)> {
    match value {
        Value::Object(object) => {
            let mut seen = BTreeSet::new();
            let mut properties = object.properties.iter();
            properties.find_map(|property| {
                if seen.insert(property.name.as_str()) {
                    repeated_in(&property.value)
                } else {
                    Some((property.name.as_str(), name_range(property)))
                }
            })
        }
        Value::Array(array) => array.elements.iter().find_map(repeated_in),
        _ => None,
    }
}

/// An observation may stand behind the word for how it is known: `{"measured": […]}` is gone into.
fn beneath_basis<'v, 'a>(value: &'v Value<'a>, step: &Step) -> &'v Value<'a> {
    match step {
        Step::Index(_) => beneath(value).unwrap_or(value),
        Step::Key(_) => value,
    }
}

/// What stands behind the word for how it is known.
fn beneath<'v, 'a>(value: &'v Value<'a>) -> Option<&'v Value<'a>> {
    const WORDS: [&str; 5] = ["measured", "seen", "reported", "inferred", "unknown"];
    let object = value.as_object()?;
    let property = WORDS.iter().find_map(|word| property(object, word))?;
    Some(&property.value)
}

fn property<'v, 'a>(object: &'v Object<'a>, key: &str) -> Option<&'v ObjectProp<'a>> {
    object
        .properties
        .iter()
        .find(|property| property.name.as_str() == key)
}

fn is_scalar(value: &Value<'_>) -> bool {
    !matches!(value, Value::Object(_) | Value::Array(_))
}

fn whole(value: &Value<'_>) -> Range<usize> {
    let range = value.range();
    range.start..range.end
}

fn beginning(value: &Value<'_>) -> Range<usize> {
    let range = whole(value);
    if is_scalar(value) {
        range
    } else {
        range.start..range.start + 1
    }
}

fn name_range(property: &ObjectProp<'_>) -> Range<usize> {
    let range = match &property.name {
        ObjectPropName::String(name) => name.range,
        ObjectPropName::Word(name) => name.range,
    };
    range.start..range.end
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str =
        r#"{"wall_lines": [{"anchors": {"measured": [{"diameter": {"seen": "1/2 in"}}, {"at": "12 ft"}]}}]}"#;

    fn found(path: &str, part: Part<'_>) -> &'static str {
        let place = Places::of(TEXT).find(&steps(path), part).unwrap();
        &TEXT[place]
    }

    #[test]
    fn a_path_leads_through_the_word_for_how_a_list_is_known() {
        assert_eq!(found("wall_lines[0].anchors[1].at", Part::Value), "\"12 ft\"");
        assert_eq!(
            found("wall_lines[0].anchors[0].diameter", Part::Value),
            "\"1/2 in\""
        );
    }

    #[test]
    fn a_path_that_goes_too_far_leads_to_the_last_thing_on_the_way() {
        assert_eq!(found("wall_lines[0].sill[3]", Part::Value), "{");
        assert_eq!(found("wall_lines[0].anchors[1].diameter", Part::Value), "{");
        assert_eq!(found("site.slope", Part::Value), "{");
    }

    #[test]
    fn a_path_reads_back_as_it_was_spelled() {
        let path = "wall_lines[12].anchors[3].diameter.measured";
        assert_eq!(spelled(&steps(path)), path);
    }
}
