//! Every input of the record, echoed with how it is known.

use retrofit_core::check::LookAt;
use retrofit_core::choice::Choice;
use retrofit_core::house::House;
use retrofit_core::measure::Area;
use schemars::JsonSchema;
use serde::Serialize;
use serde_json::{Map, Value};

use super::wording::plain;

/// How an input is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum HowKnown {
    /// Measured.
    Measured,
    /// Seen.
    Seen,
    /// Reported by somebody, or by a document.
    Reported,
    /// Inferred from something else.
    Inferred,
    /// Not known, with a reason.
    Unknown,
}

impl HowKnown {
    const ALL: [(Self, &'static str); 4] = [
        (Self::Measured, "measured"),
        (Self::Seen, "seen"),
        (Self::Reported, "reported"),
        (Self::Inferred, "inferred"),
    ];

    /// It in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Measured => "measured",
            Self::Seen => "seen",
            Self::Reported => "reported",
            Self::Inferred => "inferred",
            Self::Unknown => "not known",
        }
    }
}

/// One input of the record.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Input {
    /// What it is.
    pub what: String,
    /// The wall line; null for the house.
    pub wall_line: Option<String>,
    /// Its path in the house file.
    pub path: String,
    /// What was recorded, with its unit; where it is not known, why.
    pub value: String,
    /// How it is known.
    pub known: HowKnown,
}

/// The inputs of one place, as a reader is shown them: what belongs to one thing and is known one way stands together.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(crate) struct InputsOfPlace {
    /// The number of the wall line; nothing for the house.
    number: Option<usize>,
    /// Its name.
    name: String,
    rows: Vec<InputRow>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct InputRow {
    /// The thing: a part of the house, or an item of a list with its number.
    of: String,
    /// What was recorded of it; where it is not known, what.
    recorded: Vec<String>,
    /// Why it is not known.
    why: String,
    known: &'static str,
    is_known: bool,
    path: String,
}

/// What stands elsewhere in a report, or is no observation of the house.
const TOLD_ELSEWHERE: [&str; 6] = ["format", "name", "note", "distress", "surveys", "unseen"];

/// Every input of a record in the order of its written form, and the same by place for a reader.
///
/// The record is walked in its written form, so that an observation added to the model is echoed without a line here.
pub(super) fn of(house: &House) -> (Vec<Input>, Vec<InputsOfPlace>) {
    let Ok(Value::Object(record)) = serde_json::to_value(house) else {
        return (Vec::new(), Vec::new());
    };
    let mut leaves = Vec::new();
    for (key, value) in &record {
        if key == "wall_lines" || TOLD_ELSEWHERE.contains(&key.as_str()) {
            continue;
        }
        walk(value, &Place::of_house(key), HowKnown::Seen, &mut leaves);
    }
    for (index, wall) in record
        .get("wall_lines")
        .and_then(Value::as_array)
        .into_iter()
        .flatten()
        .enumerate()
    {
        for (key, value) in wall.as_object().into_iter().flatten() {
            if !TOLD_ELSEWHERE.contains(&key.as_str()) {
                walk(value, &Place::of_line(index, key), HowKnown::Seen, &mut leaves);
            }
        }
    }
    let inputs = leaves
        .iter()
        .map(|leaf| Input {
            what: leaf.what(),
            wall_line: leaf.line.map(|line| name_of(house, line)),
            path: leaf.path.clone(),
            value: leaf.value.clone(),
            known: leaf.known,
        })
        .collect();
    (inputs, by_place(house, &leaves))
}

fn name_of(house: &House, line: usize) -> String {
    house
        .wall_lines
        .get(line)
        .map_or_else(String::new, |wall| plain(&wall.name))
}

fn by_place(house: &House, leaves: &[Leaf]) -> Vec<InputsOfPlace> {
    let mut places: Vec<InputsOfPlace> = Vec::new();
    for leaf in leaves {
        let number = leaf.line.map(|line| line + 1);
        if places.last().is_none_or(|place| place.number != number) {
            places.push(InputsOfPlace {
                number,
                name: leaf.line.map_or_else(String::new, |line| name_of(house, line)),
                rows: Vec::new(),
            });
        }
        let Some(place) = places.last_mut() else { continue };
        let same = place.rows.iter_mut().rev().find(|row| row.takes(leaf));
        if let Some(row) = same {
            row.take(leaf);
        } else {
            place.rows.push(InputRow::of(leaf));
        }
    }
    places
}

impl InputRow {
    fn of(leaf: &Leaf) -> Self {
        let is_known = leaf.known != HowKnown::Unknown;
        Self {
            of: leaf.parent.clone(),
            recorded: if is_known {
                vec![leaf.recorded()]
            } else {
                vec![leaf.key.clone()]
            },
            why: if is_known {
                String::new()
            } else {
                leaf.value.clone()
            },
            known: leaf.known.words(),
            is_known,
            path: leaf.path.clone(),
        }
    }

    /// Whether it belongs to the same thing, is known the same way and, where it is not known, for the same reason.
    fn takes(&self, leaf: &Leaf) -> bool {
        self.of == leaf.parent
            && self.known == leaf.known.words()
            && (self.is_known || self.why == leaf.value)
    }

    fn take(&mut self, leaf: &Leaf) {
        self.recorded.push(if self.is_known {
            leaf.recorded()
        } else {
            leaf.key.clone()
        });
        self.path.clone_from(&leaf.parent_path);
    }
}

struct Leaf {
    line: Option<usize>,
    /// The thing it belongs to.
    parent: String,
    parent_path: String,
    /// What of it; empty where the thing itself is the value.
    key: String,
    pattern: String,
    path: String,
    value: String,
    known: HowKnown,
}

impl Leaf {
    /// What it is: as the checks call it, or as its path says.
    fn what(&self) -> String {
        let look_at = LookAt::ALL
            .iter()
            .find(|look_at| look_at.spelling() == self.pattern);
        look_at.map_or_else(
            || match (self.parent.as_str(), self.key.as_str()) {
                ("", key) => key.to_owned(),
                (parent, "") => parent.to_owned(),
                (parent, key) => format!("{parent}: {key}"),
            },
            |look_at| look_at.words().to_owned(),
        )
    }

    fn recorded(&self) -> String {
        if self.key.is_empty() {
            self.value.clone()
        } else {
            format!("{}: {}", self.key, self.value)
        }
    }
}

#[derive(Clone)]
struct Place {
    line: Option<usize>,
    parent: String,
    parent_path: String,
    key: String,
    /// The path with empty brackets, as [`LookAt`] spells it.
    pattern: String,
    path: String,
}

impl Place {
    fn of_house(key: &str) -> Self {
        Self {
            line: None,
            parent: String::new(),
            parent_path: String::new(),
            key: in_words(key),
            pattern: key.to_owned(),
            path: key.to_owned(),
        }
    }

    fn of_line(line: usize, key: &str) -> Self {
        Self {
            line: Some(line),
            parent: String::new(),
            parent_path: format!("wall_lines[{line}]"),
            key: in_words(key),
            pattern: format!("wall_lines[].{key}"),
            path: format!("wall_lines[{line}].{key}"),
        }
    }

    fn field(&self, key: &str) -> Self {
        Self {
            line: self.line,
            parent: self.thing(),
            parent_path: self.path.clone(),
            key: in_words(key),
            pattern: format!("{}.{key}", self.pattern),
            path: format!("{}.{key}", self.path),
        }
    }

    fn item(&self, index: usize) -> Self {
        Self {
            key: format!("{} {}", self.key, index + 1),
            pattern: format!("{}[]", self.pattern),
            path: format!("{}[{index}]", self.path),
            ..self.clone()
        }
    }

    fn thing(&self) -> String {
        if self.parent.is_empty() {
            self.key.clone()
        } else {
            format!("{}, {}", self.parent, self.key)
        }
    }

    fn leaf(&self, value: String, known: HowKnown) -> Leaf {
        Leaf {
            line: self.line,
            parent: self.parent.clone(),
            parent_path: self.parent_path.clone(),
            key: self.key.clone(),
            pattern: self.pattern.clone(),
            path: self.path.clone(),
            value,
            known,
        }
    }
}

fn walk(value: &Value, place: &Place, known: HowKnown, leaves: &mut Vec<Leaf>) {
    match value {
        Value::Object(map) => {
            if let (1, Some(Value::String(why))) = (map.len(), map.get("unknown")) {
                leaves.push(place.leaf(plain(why), HowKnown::Unknown));
                return;
            }
            for (basis, spelling) in HowKnown::ALL {
                if let (1, Some(inner)) = (map.len(), map.get(spelling)) {
                    return walk(inner, place, basis, leaves);
                }
            }
            if let Some(bounds) = bounds(map) {
                leaves.push(place.leaf(bounds, known));
                return;
            }
            for (key, inner) in map {
                walk(inner, &place.field(key), known, leaves);
            }
        }
        Value::Array(items) if items.is_empty() => leaves.push(place.leaf("none found".to_owned(), known)),
        Value::Array(items) => {
            if let Some(corners) = corners(items) {
                leaves.push(place.leaf(corners, known));
                return;
            }
            if items.iter().all(|item| !item.is_object() && !item.is_array()) {
                let listed: Vec<String> = items.iter().map(spelled).collect();
                leaves.push(place.leaf(listed.join(", "), known));
                return;
            }
            for (index, item) in items.iter().enumerate() {
                walk(item, &place.item(index), known, leaves);
            }
        }
        Value::Null => {}
        bare => leaves.push(place.leaf(spelled(bare), known)),
    }
}

/// A value known within bounds only.
fn bounds(map: &Map<String, Value>) -> Option<String> {
    match (map.len(), map.get("at_least"), map.get("at_most")) {
        (2, Some(least), Some(most)) => Some(format!("{} to {}", spelled(least), spelled(most))),
        (1, Some(least), None) => Some(format!("at least {}", spelled(least))),
        (1, None, Some(most)) => Some(format!("at most {}", spelled(most))),
        _ => None,
    }
}

/// Corners in plan, each as its two distances.
fn corners(items: &[Value]) -> Option<String> {
    let corner = |item: &Value| {
        let map = item.as_object().filter(|map| map.len() == 2)?;
        Some(format!(
            "({}, {})",
            spelled(map.get("x")?),
            spelled(map.get("y")?)
        ))
    };
    let corners: Option<Vec<String>> = items.iter().map(corner).collect();
    Some(corners?.join(" "))
}

fn spelled(value: &Value) -> String {
    match value {
        Value::String(text) => whole_square_feet(text).unwrap_or_else(|| plain(&in_words(text))),
        Value::Bool(true) => "yes".to_owned(),
        Value::Bool(false) => "no".to_owned(),
        other => other.to_string(),
    }
}

/// An area of whole square feet as such: the record writes areas in square inches, to hold each exactly.
fn whole_square_feet(text: &str) -> Option<String> {
    let area: Area = text.strip_suffix(" sq in").and_then(|_| text.parse().ok())?;
    let foot = Area::square_feet(1).square_nanometers();
    let feet = area.square_nanometers() / foot;
    (feet > 0 && feet * foot == area.square_nanometers()).then(|| format!("{feet} sq ft"))
}

/// A spelling of the house file in words; symbols of the standards as these have them.
fn in_words(spelling: &str) -> String {
    match spelling {
        "s_ds" | "s_d1" | "s_s" | "s_1" => spelling.to_uppercase(),
        words => words.replace('_', " "),
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    fn inputs(house: Value) -> (Vec<Input>, Vec<InputsOfPlace>) {
        of(&serde_json::from_value(house).unwrap())
    }

    fn house() -> Value {
        json!({
            "format": "house-1", "name": "Quince Lantern Way", "note": "told elsewhere",
            "site": {"slope": {"reported": "3 %"}, "s_ds": {"reported": 1.5}},
            "building": {
                "stories": 1, "floor_area": {"seen": {"at_least": "900 sq ft", "at_most": "1000 sq ft"}},
                "roof": {"unknown": "not looked at"}, "exterior": {"unknown": "not looked at"},
            },
            "wall_lines": [{
                "name": "north", "length": {"measured": "24'-0\""}, "panels": [],
                "anchors": [{"at": "2'-0\"", "diameter": {"inferred": "1/2 in"}, "kind": "cast_in_place"}],
            }],
        })
    }

    #[test]
    fn every_input_comes_with_how_it_is_known() {
        let (inputs, _) = inputs(house());
        let told = |path: &str| {
            let input = inputs.iter().find(|input| input.path == path).unwrap();
            (input.value.as_str(), input.known)
        };
        assert_eq!(told("site.slope"), ("3%", HowKnown::Reported));
        assert_eq!(told("building.stories"), ("1", HowKnown::Seen));
        assert_eq!(told("site.s_ds"), ("1.5", HowKnown::Reported));
        assert_eq!(
            told("building.floor_area"),
            ("900 sq ft to 1000 sq ft", HowKnown::Seen)
        );
        assert_eq!(told("building.roof"), ("not looked at", HowKnown::Unknown));
        assert_eq!(told("wall_lines[0].length"), ("24'-0\"", HowKnown::Measured));
        assert_eq!(told("wall_lines[0].panels"), ("none found", HowKnown::Seen));
        assert_eq!(
            told("wall_lines[0].anchors[0].kind"),
            ("cast in place", HowKnown::Seen)
        );
        assert_eq!(
            told("wall_lines[0].anchors[0].diameter"),
            ("1/2\"", HowKnown::Inferred)
        );
        assert!(
            inputs
                .iter()
                .all(|input| input.path != "note" && input.path != "name")
        );
        let of_line: Vec<_> = inputs.iter().filter(|input| input.wall_line.is_some()).collect();
        assert!(
            of_line
                .iter()
                .all(|input| input.wall_line.as_deref() == Some("north"))
        );
        assert_eq!(of_line.len(), 5);
    }

    #[test]
    fn what_belongs_to_one_thing_and_is_known_one_way_stands_together() {
        let (inputs, places) = inputs(house());
        assert_eq!(
            places.iter().map(|place| place.number).collect::<Vec<_>>(),
            [None, Some(1)]
        );
        let shown: usize = places
            .iter()
            .flat_map(|place| &place.rows)
            .map(|row| row.recorded.len())
            .sum();
        assert_eq!(shown, inputs.len(), "nothing is left out on the way to a reader");
        let unknown = places[0].rows.iter().find(|row| !row.is_known).unwrap();
        assert_eq!(
            (unknown.recorded.join(", "), unknown.why.as_str()),
            ("exterior, roof".to_owned(), "not looked at")
        );
        let anchor = places[1]
            .rows
            .iter()
            .find(|row| row.of == "anchors 1" && row.known == "seen")
            .unwrap();
        assert_eq!(anchor.recorded.join("; "), "at: 2'-0\"; kind: cast in place");
        assert_eq!(anchor.path, "wall_lines[0].anchors[0]");
    }
}
