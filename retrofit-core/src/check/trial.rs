//! One wall line put before one check: what the tests of the checks share.

use serde_json::{Map, Value, json};

use super::assess;
use super::finding::Finding;
use super::look_at::LookAt;
use super::outcome::Outcomes;
use crate::house::{AsBuilt, House};
use crate::provisions::Library;

/// The set whose figures the tests were written down from.
pub(super) const CEBC: &str = "cebc-a3-2013";
/// Two sets in which most figures are known to be there and were not seen.
pub(super) const MISSING: [&str; 2] = ["la-division-92-2018", "bay-area-plan-set-a-2008"];

/// What a check says of a wall line: its ruling in words, and what would decide it.
pub(super) struct Said {
    pub(super) ruling: &'static str,
    pub(super) deciding: Vec<LookAt>,
    pub(super) findings: Vec<Finding>,
}

/// Puts a wall line of a light house before a check.
pub(super) fn ask(check: &str, set: &str, stories: u8, wall: &Value) -> Said {
    let mut wall = wall.clone();
    wall["name"] = json!("north");
    let house: House = serde_json::from_value(json!({
        "format": "house-1",
        "name": "trial",
        "building": {
            "stories": stories, "exterior": "wood", "interior_plaster": false, "roof": "light"
        },
        "wall_lines": [wall],
    }))
    .expect("the trial house can be read");
    let house = AsBuilt::new(house).expect("the trial house makes sense");
    let provisions = Library::shipped()
        .set(set)
        .expect("the shipped tables are in order");
    let assessment = assess(&house, &provisions);
    let findings: Vec<Finding> = assessment
        .findings_at(Some(0))
        .filter(|finding| finding.check().name == check)
        .copied()
        .collect();
    let outcomes = findings.iter().map(|finding| finding.outcomes);
    let outcomes = outcomes
        .reduce(Outcomes::strictest)
        .expect("every check says something");
    Said {
        ruling: outcomes.ruling().words(),
        deciding: findings
            .iter()
            .flat_map(|finding| finding.deciding.iter())
            .collect(),
        findings,
    }
}

/// The ruling of a check on a wall line of a house of one story.
pub(super) fn ruling(check: &str, wall: &Value) -> &'static str {
    ask(check, CEBC, 1, wall).ruling
}

/// A value with some of its fields replaced; `null` takes a field away.
pub(super) fn with(base: &Value, changes: &Value) -> Value {
    let mut fields: Map<String, Value> = base.as_object().cloned().unwrap_or_default();
    for (key, change) in changes.as_object().expect("changes are an object") {
        if change.is_null() {
            fields.remove(key);
        } else {
            fields.insert(key.clone(), change.clone());
        }
    }
    Value::Object(fields)
}

/// An anchor that has whatever the set asks of it, without its station.
pub(super) fn good_anchor() -> Value {
    json!({
        "kind": "cast_in_place", "diameter": "1/2 in", "embedment": "7 in", "edge_distance": "4 in",
        "washer": "3 in x 3 in x 0.229 in", "tightness": "snug", "corrosion": "light"
    })
}

/// Good anchors at stations, each with some changes.
pub(super) fn anchors(stations: &[&str], changes: &Value) -> Value {
    let at = |station: &&str| with(&with(&good_anchor(), &json!({ "at": station })), changes);
    stations.iter().map(at).collect()
}

/// A panel that has whatever the set asks of it, without its stations.
pub(super) fn good_panel() -> Value {
    json!({
        "sheathing": "plywood", "thickness": "15/32 in", "nail": "8d common", "edge_nailing": "4 in",
        "field_nailing": "12 in", "nails_flush": true, "joints_blocked": true, "foot": "sill",
        "cut_through": false
    })
}

/// Good panels between stations, each with some changes.
pub(super) fn panels(stations: &[(&str, &str)], changes: &Value) -> Value {
    let at =
        |(from, to): &(&str, &str)| with(&with(&good_panel(), &json!({ "from": from, "to": to })), changes);
    stations.iter().map(at).collect()
}

/// A wall line of 20 ft on one sill piece, with a low cripple wall, that has just what is asked for.
pub(super) fn good_wall() -> Value {
    json!({
        "length": "20 ft",
        "sill": [{}],
        "anchors": anchors(&["10 in", "80 in", "150 in", "220 in", "230 in"], &json!({})),
        "cripple_wall": [{"height": "24 in", "shortest_stud": "20 in", "tallest_stud": "20 in"}],
        "panels": panels(&[("0 in", "4 ft"), ("16 ft", "20 ft")], &json!({})),
        "openings": []
    })
}

/// The good wall line with some of its fields replaced.
pub(super) fn wall_with(changes: &Value) -> Value {
    with(&good_wall(), changes)
}

/// The good wall line with the same change to every anchor.
pub(super) fn wall_with_anchors(changes: &Value) -> Value {
    let stations = ["10 in", "80 in", "150 in", "220 in", "230 in"];
    wall_with(&json!({ "anchors": anchors(&stations, changes) }))
}

/// The good wall line with the same change to every panel.
pub(super) fn wall_with_panels(changes: &Value) -> Value {
    wall_with(&json!({ "panels": panels(&[("0 in", "4 ft"), ("16 ft", "20 ft")], changes) }))
}
