//! Changes to the written form of a house: observations taken away, units and keys written otherwise.

use retrofit_core::house::{AsBuilt, House, Parts, Unseen};
use retrofit_core::measure::Length;
use retrofit_core::observation::Observed;
use serde_json::{Map, Value, json};

use crate::houses::Dice;

const BASES: [&str; 4] = ["measured", "seen", "reported", "inferred"];

/// The same house with some of its observations taken away, or known only within bounds.
pub(crate) fn blanked(house: &House, dice: &mut Dice<'_>) -> House {
    let mut value = serde_json::to_value(house).unwrap();
    let how_many = dice.pick(&[6, 20, 1, 60]);
    blank_fields(&mut value, how_many, dice);
    let open: House = serde_json::from_value(value).unwrap();
    AsBuilt::new(open.clone()).expect("a record with less in it makes sense");
    open
}

/// What is observed is written as an object with one key that says how it is known.
fn observed(value: &Value) -> Option<(&str, &Value)> {
    let (key, inner) = value.as_object().filter(|map| map.len() == 1)?.iter().next()?;
    BASES.contains(&key.as_str()).then_some((key.as_str(), inner))
}

fn blank_fields(value: &mut Value, percent: usize, dice: &mut Dice<'_>) {
    match value {
        Value::Object(map) => {
            let keys: Vec<String> = map.keys().cloned().collect();
            for key in keys {
                let field = map.get_mut(&key).unwrap();
                let Some((basis, inner)) = observed(field) else {
                    blank_fields(field, percent, dice);
                    continue;
                };
                if !dice.chance(percent) {
                    let basis = basis.to_owned();
                    blank_fields(&mut field[&basis], percent, dice);
                    continue;
                }
                let bounds = bounds(inner, dice).map(|bounds| json!({ "inferred": bounds }));
                match (bounds, dice.below(3)) {
                    (Some(bounds), 0) => *field = bounds,
                    // A run of anchors and a summary of panels are told by these keys.
                    (_, 1) if !matches!(key.as_str(), "spacing" | "total_length") => {
                        map.remove(&key);
                    }
                    _ => *field = json!({ "unknown": "not seen" }),
                }
            }
        }
        Value::Array(list) => list.iter_mut().for_each(|item| blank_fields(item, percent, dice)),
        _ => {}
    }
}

/// Bounds that hold the value, or bounds within it already known.
fn bounds(value: &Value, dice: &mut Dice<'_>) -> Option<Value> {
    let (least, most) = match value {
        Value::Object(map) => (
            map.get("at_least").and_then(length),
            map.get("at_most").and_then(length),
        ),
        value => (length(value), length(value)),
    };
    if least.is_none() && most.is_none() {
        return None;
    }
    let mut map = Map::new();
    let by = |dice: &mut Dice<'_>| Length::sixty_fourths(dice.pick(&[64, 0, 1, 768, 16]));
    let keep = dice.below(3);
    if let Some(least) = least.filter(|_| keep != 1) {
        let least = least
            .saturating_sub(by(dice))
            .max(Length::from_nanometers(1).min(least));
        map.insert("at_least".to_owned(), json!(least));
    }
    if let Some(most) = most.filter(|_| keep != 2) {
        map.insert("at_most".to_owned(), json!(most.saturating_add(by(dice))));
    }
    (!map.is_empty()).then_some(Value::Object(map))
}

fn length(value: &Value) -> Option<Length> {
    value.as_str()?.parse().ok()
}

/// The same house with a stretch of one wall line in which some parts could not be seen.
pub(crate) fn with_hidden_stretch(house: &House, dice: &mut Dice<'_>) -> House {
    let mut house = house.clone();
    let number = dice.below(house.wall_lines.len());
    let wall = &mut house.wall_lines[number];
    let Some(length) = wall.length.value().copied() else {
        return house;
    };
    let inches = length.nanometers() / Length::inches(1).nanometers();
    let from = dice.between(0, inches - 1);
    let to = dice.between(from + 1, inches);
    let (from, to) = (Length::inches(from), Length::inches(to));
    let is_hidden = |a: Length, b: Length| from <= a && b <= to;
    let parts = dice.pick(&[
        vec![],
        vec![Parts::Anchors],
        vec![Parts::Panels],
        vec![Parts::Openings, Parts::Connections],
        vec![Parts::Sill],
        vec![Parts::Foundation],
    ]);
    if let (true, Observed::Known { value, .. }) = (parts.contains(&Parts::Sill), &mut wall.sill) {
        value.retain(|piece| {
            let span = piece.span(Some(length));
            !is_hidden(span.from, span.to.unwrap())
        });
    }
    if let (true, Observed::Known { value, .. }) = (parts.contains(&Parts::Foundation), &mut wall.foundation)
    {
        value.retain(|stretch| {
            let span = stretch.span(Some(length));
            !is_hidden(span.from, span.to.unwrap())
        });
    }
    let hides = |part: Parts| parts.is_empty() || parts.contains(&part);
    if let (true, Observed::Known { value, .. }) = (hides(Parts::Anchors), &mut wall.anchors) {
        value.retain(|anchor| !anchor.at.is_some_and(|at| is_hidden(at, at)));
    }
    if let (true, Observed::Known { value, .. }) = (hides(Parts::Panels), &mut wall.panels) {
        value.retain(|panel| !panel.stations().is_some_and(|(a, b)| is_hidden(a, b)));
    }
    if let (true, Observed::Known { value, .. }) = (hides(Parts::Connections), &mut wall.connections) {
        value.retain(|stretch| {
            let span = stretch.span(Some(length));
            !is_hidden(span.from, span.to.unwrap())
        });
    }
    if let (true, Observed::Known { value, .. }) = (hides(Parts::Openings), &mut wall.openings) {
        value.retain(|opening| !is_hidden(opening.from, opening.to));
    }
    wall.unseen.push(Unseen {
        from: Some(from),
        to: (!(to == length && dice.chance(50))).then_some(to),
        parts,
        why: "water heater in the way".to_owned(),
    });
    house
}

/// The same house with every length written in another unit.
pub(crate) fn in_other_units(house: &House, dice: &mut Dice<'_>) -> House {
    let mut value = serde_json::to_value(house).unwrap();
    rewrite_lengths(&mut value, dice);
    serde_json::from_value(value).unwrap()
}

fn rewrite_lengths(value: &mut Value, dice: &mut Dice<'_>) {
    match value {
        Value::Object(map) => map
            .iter_mut()
            .filter(|(key, _)| !["name", "why", "unknown", "note"].contains(&key.as_str()))
            .for_each(|(_, field)| rewrite_lengths(field, dice)),
        Value::Array(list) => list.iter_mut().for_each(|item| rewrite_lengths(item, dice)),
        Value::String(text) => {
            if let Ok(length) = text.parse::<Length>() {
                *text = written(length, dice.below(4));
            }
        }
        _ => {}
    }
}

fn written(length: Length, form: usize) -> String {
    const SIXTY_FOURTH: i64 = 396_875;
    let nanometers = length.nanometers();
    let (parts, rest) = (nanometers / SIXTY_FOURTH, nanometers % SIXTY_FOURTH);
    let (inches, parts) = (parts / 64, parts % 64);
    match form {
        0 if rest == 0 => format!("{}'-{} {parts}/64\"", inches / 12, inches % 12),
        1 if rest == 0 => format!("{inches} {parts}/64 in"),
        2 if rest == 0 && parts == 0 && inches % 12 == 0 => format!("{} ft", inches / 12),
        3 => format!(
            "{}.{:09} m",
            nanometers / 1_000_000_000,
            nanometers % 1_000_000_000
        ),
        _ => format!("{}.{:06} mm", nanometers / 1_000_000, nanometers % 1_000_000),
    }
}

/// The text of a value, with the keys of every object in another order.
pub(crate) fn shuffled_keys(value: &Value, dice: &mut Dice<'_>) -> String {
    match value {
        Value::Object(map) => {
            let mut fields: Vec<(&String, &Value)> = map.iter().collect();
            dice.shuffle(&mut fields);
            let fields: Vec<String> = fields
                .into_iter()
                .map(|(key, field)| format!("{}: {}", json!(key), shuffled_keys(field, dice)))
                .collect();
            format!("{{{}}}", fields.join(", "))
        }
        Value::Array(list) => {
            let items: Vec<String> = list.iter().map(|item| shuffled_keys(item, dice)).collect();
            format!("[{}]", items.join(", "))
        }
        other => other.to_string(),
    }
}

/// A house in whose record a few values were replaced by others, if it can still be read.
pub(crate) fn misread(house: &House, dice: &mut Dice<'_>) -> Option<House> {
    let mut value = serde_json::to_value(house).unwrap();
    for _ in 0..=dice.below(4) {
        let mut leaves = Vec::new();
        collect_leaves(&mut value, &mut leaves);
        let count = leaves.len();
        let leaf = &mut *leaves[dice.below(count)];
        let (least, most) = (
            dice.pick(&["10000 m", "1 in"]),
            dice.pick(&["0.000001 mm", "40 ft"]),
        );
        let other = [
            json!("0 in"),
            json!("0.000001 mm"),
            json!("10000 m"),
            json!("-3 in"),
            json!({"measured": {"at_least": least, "at_most": most}}),
            json!({"measured": {"at_least": least}}),
            json!({"measured": {"at_least": 3, "at_most": 1}}),
            json!({"unknown": "?"}),
            json!({"measured": []}),
            json!([]),
            json!(65535),
            json!("side_plate"),
        ];
        *leaf = dice.pick(&other);
    }
    serde_json::from_value(value).ok()
}

/// Every value that is not an object or list of others, and every observation.
fn collect_leaves<'a>(value: &'a mut Value, leaves: &mut Vec<&'a mut Value>) {
    if observed(value).is_some_and(|(_, inner)| !inner.is_array()) {
        leaves.push(value);
        return;
    }
    match value {
        Value::Object(map) => map.values_mut().for_each(|field| collect_leaves(field, leaves)),
        Value::Array(list) => list.iter_mut().for_each(|item| collect_leaves(item, leaves)),
        leaf => leaves.push(leaf),
    }
}
