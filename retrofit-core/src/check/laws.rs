//! Two laws, tried on many houses: learning what was unknown never leads outside of what was thought possible,
//! and work added to a wall line never makes it worse.

use std::collections::BTreeMap;

use serde_json::Value;

use super::sample::{amended, changed, good_panel, shipped};
use super::{Outcome, Outcomes, Verdict, assess};
use crate::house::{AsBuilt, Connection, ConnectionKind, House, Panel};
use crate::measure::Length;
use crate::observation::Observed;
use crate::provisions::Provisions;

/// What each check comes to at each place.
fn outcomes(house: &AsBuilt, provisions: &Provisions) -> BTreeMap<(&'static str, Option<u16>), Outcomes> {
    let mut all = BTreeMap::new();
    for finding in assess(house, provisions).findings {
        let outcomes = all
            .entry((finding.check().name, finding.wall_line))
            .or_insert(Outcomes::only(Outcome::NotApplicable));
        *outcomes = outcomes.strictest(finding.outcomes);
    }
    all
}

/// Pointers to every field that holds an observation: those that may be left out.
fn fields(value: &Value, path: &str, found: &mut Vec<String>) {
    match value {
        Value::Object(map) => {
            for (key, value) in map {
                let path = format!("{path}/{key}");
                found.push(path.clone());
                fields(value, &path, found);
            }
        }
        Value::Array(list) => {
            for (item, value) in list.iter().enumerate() {
                fields(value, &format!("{path}/{item}"), found);
            }
        }
        _ => {}
    }
}

fn without(house: &Value, path: &str) -> Option<AsBuilt> {
    let mut blanked = house.clone();
    let (parent, field) = path.rsplit_once('/')?;
    blanked.pointer_mut(parent)?.as_object_mut()?.remove(field)?;
    // Stations and names are not observations: without them a record means something else, or nothing.
    if [
        "from", "to", "at", "first", "last", "outline", "unseen", "parts", "count",
    ]
    .contains(&field)
    {
        return None;
    }
    AsBuilt::new(serde_json::from_value::<House>(blanked).ok()?).ok()
}

const HOUSES: [&str; 14] = [
    "",
    "building.stories = 2",
    "building.stories = 3",
    "building.stories = 4",
    "building.stories = 2; building.exterior = \"stucco\"; building.roof = \"tile\"",
    "wall.foundation = [{\"to\": \"9 ft\", \"kind\": \"brick\", \"condition\": \"crumbling\"}, {\"from\": \"9 ft\"}]",
    "wall.sill = [{\"to\": \"9 ft\", \"installed\": \"added\", \"thickness\": \"1 in\", \"soundness\": \"decayed\"},
        {\"from\": \"9 ft\", \"installed\": \"original\", \"soundness\": \"split\"}]",
    "wall.cripple_wall = []; wall.panels = []; wall.rim = \"every_bay\"; wall.joists = \"parallel\"",
    "wall.cripple_wall = [{\"to\": \"9 ft\", \"height\": \"50 in\", \"tallest_stud\": \"45 in\", \"shortest_stud\": \"12 in\"},
        {\"from\": \"9 ft\", \"height\": \"30 in\", \"shortest_stud\": \"13 in\", \"solid_blocked\": true}]",
    "panel.vent_holes = \"0 in\"; building.stories = 2; wall.rim = \"every_bay\";
        wall.connections = [{\"kind\": \"toenails\", \"nails_per_block\": 2}]",
    "building.stories = 2; wall.unseen = [{\"from\": \"18 ft\", \"why\": \"duct\"}]; wall.connections.0.to = \"18 ft\"",
    "wall.anchors = []; posts = [{\"top\": \"bearing\", \"base\": \"loose\", \"sound_and_plumb\": false}]; earlier_retrofit = false",
    "building.slab_or_pole_portion = true; continuous_perimeter = false; building.veneer_height = \"5 ft\"; building.units = 7",
    "wall.anchors.0.washer = \"cut\"; wall.anchors.5.tightness = \"loose\"; wall.panels.1.foot = \"short\"; building.stories = 1.5",
];

#[test]
fn learning_a_field_never_leads_outside_of_what_was_possible() {
    // Between them these sets give, leave out and miss every kind of figure.
    let everything = [
        ("max-slope", "", "3H:1V"),
        ("max-veneer-height", "less-than", "4 ft"),
        ("floors-at-one-level", "", "yes"),
        ("no-rooms-over-garage", "", "yes"),
        ("built-before", "", "1980"),
        ("connected-posts", "", "yes"),
        ("tied-splices", "", "yes"),
        ("short-stud-height", "", "14 in"),
        ("area-per-vent-area", "", "150"),
        ("footing-bars", "", "yes"),
        ("min-footing-width", "", "12 in"),
        ("max-panel-gap", "", "8 ft"),
        ("min-embedment", "", "7 in"),
        ("min-edge-distance", "", "2 in"),
    ];
    let sets = [
        amended(&everything),
        shipped("la-division-92-2018"),
        shipped("bay-area-plan-set-a-2008"),
        shipped("crc-2013-new-construction"),
    ];
    let mut compared = 0;
    let mut faults = Vec::new();
    for changes in HOUSES {
        let house = changed(changes);
        let text = serde_json::to_value(&house).unwrap();
        let house = AsBuilt::new(house).expect(changes);
        let mut paths = Vec::new();
        fields(&text, "", &mut paths);
        for provisions in &sets {
            let id = &provisions.id;
            let learned = outcomes(&house, provisions);
            for path in &paths {
                let Some(before) = without(&text, path) else {
                    continue;
                };
                compared += 1;
                for (place, before) in outcomes(&before, provisions) {
                    let after = learned.get(&place).copied();
                    if after.is_none_or(|after| after.or(before) != before) {
                        faults.push(format!(
                            "{changes:.60} | {id} | {path} | {place:?}: {before:?} → {after:?}"
                        ));
                    }
                }
            }
        }
    }
    assert!(compared > 3_000, "only {compared} fields were blanked");
    assert!(
        faults.is_empty(),
        "{} faults:\n{}",
        faults.len(),
        faults.join("\n")
    );
}

#[test]
fn every_finding_says_what_it_is_about() {
    let sets = [
        shipped("cebc-a3-2013"),
        shipped("la-division-92-2018"),
        shipped("crc-2013-new-construction"),
    ];
    for changes in HOUSES {
        let house = AsBuilt::new(changed(changes)).unwrap();
        for provisions in &sets {
            for finding in assess(&house, provisions).findings {
                let check = finding.check();
                assert!(
                    finding.path().is_some(),
                    "{} | {changes} | {}",
                    provisions.id,
                    check.name
                );
                assert!(
                    !finding.fact.is_empty(),
                    "{} | {changes} | {}",
                    provisions.id,
                    check.name
                );
                let is_decided = finding.outcomes.is_determined();
                assert!(
                    !is_decided || finding.deciding.is_empty(),
                    "{}: {changes}",
                    check.name
                );
            }
        }
    }
}

#[test]
fn a_panel_or_a_connection_more_never_worsens_a_wall_line() {
    let worth = |verdict: &Verdict| (verdict.best(), verdict.worst());
    let unvented = |panel: Panel| Panel {
        vent_holes: Observed::seen(Length::ZERO),
        closes_stud_bays: Observed::seen(true),
        ..panel
    };
    let bare = Panel {
        from: Some(Length::feet(14)),
        to: Some(Length::feet(18)),
        ..Panel::default()
    };
    let panels = [
        good_panel((14, 18)),
        unvented(good_panel((14, 18))),
        bare.clone(),
        unvented(bare),
    ];
    let connection = |kind: Option<ConnectionKind>| Connection {
        from: Some(Length::feet(20)),
        kind: kind.map_or_else(Observed::default, Observed::seen),
        ..Connection::default()
    };
    let connections = [
        connection(None),
        connection(Some(ConnectionKind::None)),
        connection(Some(ConnectionKind::Clips)),
    ];
    // Each house also without its panels, so that the one added may decide.
    let starts = ["", "; wall.panels = []"];
    let mut tried = 0;
    for provisions in [shipped("cebc-a3-2013"), shipped("crc-2013-new-construction")] {
        for changes in HOUSES
            .into_iter()
            .flat_map(|house| starts.map(|start| format!("{house}{start}")))
        {
            let start = changed(&changes);
            let before = assess(&AsBuilt::new(start.clone()).unwrap(), &provisions).wall_lines[0].clone();
            let more = |add: &dyn Fn(&mut House)| {
                let mut house = start.clone();
                add(&mut house);
                let house = AsBuilt::new(house).ok()?;
                Some(assess(&house, &provisions).wall_lines[0].clone())
            };
            let with_panel = panels.iter().map(|panel| {
                more(&|house| {
                    if let Observed::Known { value, .. } = &mut house.wall_lines[0].panels {
                        value.push(panel.clone());
                    }
                })
            });
            let with_connection = connections.iter().map(|connection| {
                more(&|house| {
                    if let Observed::Known { value, .. } = &mut house.wall_lines[0].connections {
                        // Where the record covers the whole wall there is no room; the house is then refused.
                        value.push(connection.clone());
                    }
                })
            });
            for after in with_panel.chain(with_connection).flatten() {
                tried += 1;
                assert!(
                    worth(&after).0 <= worth(&before).0 && worth(&after).1 <= worth(&before).1,
                    "{} | {changes}: {:?} → {:?}",
                    provisions.id,
                    before.outcomes,
                    after.outcomes
                );
            }
        }
    }
    assert!(tried > 200, "only {tried} additions were tried");
}
