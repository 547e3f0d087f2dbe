//! The screen of a whole house: its ranges hold, its derivations are what was computed, its ladder is where it says, and
//! what makes a house stronger never makes it weaker.

#![cfg(test)]
#![allow(clippy::float_cmp, reason = "the same calculation gives the same number")]

use retrofit_core::house::{AsBuilt, House};
use retrofit_core::provisions::Standing;
use retrofit_core::screen::{
    Content, Declined, LinkKind, LinkResult, LinkScreen, Method, Options, Path, Screen, Standards, screen,
};
use rstest::rstest;
use serde_json::{Value, json};

const EXAMPLES: [(&str, &str); 10] = [
    (
        "quince-lantern-way",
        include_str!("../examples/quince-lantern-way.json"),
    ),
    (
        "quince-lantern-way.twin",
        include_str!("../examples/quince-lantern-way.twin.json"),
    ),
    (
        "larch-harbor-way",
        include_str!("../examples/larch-harbor-way.json"),
    ),
    (
        "larch-harbor-way.twin",
        include_str!("../examples/larch-harbor-way.twin.json"),
    ),
    (
        "sorrel-ferry-street",
        include_str!("../examples/sorrel-ferry-street.json"),
    ),
    (
        "heron-mill-crescent",
        include_str!("../examples/heron-mill-crescent.json"),
    ),
    (
        "wren-cellar-close",
        include_str!("../examples/wren-cellar-close.json"),
    ),
    (
        "mango-anchor-road",
        include_str!("../examples/mango-anchor-road.json"),
    ),
    (
        "copper-finch-row",
        include_str!("../examples/copper-finch-row.json"),
    ),
    (
        "bramble-kiln-court",
        include_str!("../examples/bramble-kiln-court.json"),
    ),
];

/// A house that is strengthened and of which everything is known that a screen asks.
fn sound() -> Value {
    let mut house: Value =
        serde_json::from_str(include_str!("../examples/larch-harbor-way.twin.json")).unwrap();
    house["building"]["story_height"] = json!({"measured": "9 ft"});
    for line in house["wall_lines"].as_array_mut().unwrap() {
        for clip in line["connections"].as_array_mut().unwrap() {
            clip["capacity"] = json!({"reported": "450 lb"});
        }
    }
    house
}

fn read(house: Value) -> AsBuilt {
    let house: House = serde_json::from_value(house).unwrap();
    AsBuilt::new(house).unwrap_or_else(|problems| panic!("{problems:?}"))
}

fn screened(house: Value) -> Screen {
    let options = Options {
        derivations: true,
        ..Options::default()
    };
    screen(&read(house), Standards::shipped().unwrap(), options).unwrap()
}

fn computed(screen: &Screen) -> impl Iterator<Item = (usize, LinkKind, &LinkResult)> {
    (0..).zip(&screen.lines).flat_map(|(place, line)| {
        line.links.iter().filter_map(move |(kind, link)| match link {
            LinkScreen::Computed(link) => Some((place, *kind, link)),
            _ => None,
        })
    })
}

fn link(screen: &Screen, line: usize, kind: LinkKind) -> &LinkResult {
    let found = computed(screen).find(|found| (found.0, found.1) == (line, kind));
    found.unwrap_or_else(|| panic!("{kind:?} of line {line}")).2
}

#[test]
fn the_shipped_standards_read() {
    let faults = Standards::choose(&[]).err().unwrap_or_default();
    assert_eq!(faults, []);
}

#[test]
fn every_example_is_screened_or_declined_with_a_reason() {
    for (name, text) in EXAMPLES {
        let house = read(serde_json::from_str(text).unwrap());
        match screen(&house, Standards::shipped().unwrap(), Options::default()) {
            Ok(screen) => {
                for line in &screen.lines {
                    assert_eq!(line.links.len(), 11, "{name}");
                    let is_told = |(_, link): &(LinkKind, LinkScreen)| match link {
                        LinkScreen::Computed(link) => link.worst.ratio >= link.best.ratio,
                        LinkScreen::NoCapacity(why) | LinkScreen::NotApplicable(why) => !why.is_empty(),
                        LinkScreen::NotDetermined(why) => !why.is_empty(),
                    };
                    assert!(line.links.iter().all(is_told), "{name}: {line:#?}");
                }
            }
            Err(declined) => assert!(!declined.to_string().is_empty()),
        }
    }
}

/// What a reader with a calculator gets from the numbers shown on a line is what stands on the line.
#[test]
fn every_line_of_every_derivation_comes_out_again() {
    let mut lines = 0;
    for (name, text) in EXAMPLES {
        let house = read(serde_json::from_str(text).unwrap());
        let options = Options {
            derivations: true,
            ..Options::default()
        };
        let Ok(screen) = screen(&house, Standards::shipped().unwrap(), options) else {
            continue;
        };
        for book in &screen.derivations {
            for line in &book.lines {
                if let Content::Step(step, expression) = &line.content {
                    let again = expression.evaluate(&book.lines);
                    let is_same = again == line.value || (again / line.value - 1.0).abs() < 1e-12;
                    assert!(
                        is_same,
                        "{name}: {} is {} and comes out as {again}",
                        step.symbol, line.value
                    );
                    assert!(
                        !step.symbol.is_empty() && !step.document.is_empty(),
                        "{name}: {step:?}"
                    );
                    lines += 1;
                }
            }
        }
        for (_, kind, link) in computed(&screen) {
            let (book, line) = link
                .line
                .unwrap_or_else(|| panic!("{name}: {kind:?} has no derivation"));
            assert_eq!(
                screen.derivations[book].lines[line].value, link.worst.ratio,
                "{name}: {kind:?}"
            );
        }
    }
    assert!(lines > 2_500, "{lines} lines");
}

/// Setting the site's acceleration to a rung of the ladder brings that link to its capacity: exactly in the case that the
/// rung was computed for, and within a hundredth where another case is the worst at that shaking.
#[test]
fn at_the_shaking_of_its_rung_a_link_is_at_its_capacity() {
    let first = screened(sound());
    let mut tried = 0;
    for (line, kind, result) in computed(&first) {
        let Some(shaking) = result.worst.shaking else {
            continue;
        };
        let mut house = sound();
        house["site"]["s_ds"] = json!({"measured": shaking});
        let again = screened(house);
        let ratio = link(&again, line, kind).worst.ratio;
        assert!(
            (1.0 - 1e-6..1.01).contains(&ratio),
            "line {line}, {kind:?} at {shaking} g: {ratio}"
        );
        tried += 1;
    }
    assert!(tried > 20, "{tried}");
}

/// Demand is linear in weight: with everything twice as heavy, every shear is twice as large.
#[test]
fn demand_is_linear_in_weight() {
    let ids = ["dead-loads"];
    let folder = |factor: f64| {
        let table = include_str!("../tables/standards/dead-loads/figures.csv");
        let mut reader = csv::Reader::from_reader(table.as_bytes());
        let mut writer = csv::Writer::from_writer(Vec::new());
        writer.write_record(reader.headers().unwrap()).unwrap();
        for record in reader.records() {
            let record = record.unwrap();
            let scaled = record
                .iter()
                .enumerate()
                .map(|(column, cell)| match (column, cell) {
                    (3 | 4, "") => String::new(),
                    (3 | 4, number) => (number.parse::<f64>().unwrap() * factor).to_string(),
                    (_, text) => text.to_owned(),
                });
            writer.write_record(scaled).unwrap();
        }
        let figures = String::from_utf8(writer.into_inner().unwrap()).unwrap();
        let file = |name: &str, text: &str| retrofit_core::provisions::TableFile {
            path: name.to_owned(),
            name: name.to_owned(),
            text: text.to_owned(),
        };
        let files = vec![
            file(
                "edition.json",
                include_str!("../tables/standards/dead-loads/edition.json"),
            ),
            file(
                "sources.csv",
                include_str!("../tables/standards/dead-loads/sources.csv"),
            ),
            file("figures.csv", &figures),
        ];
        let folder = retrofit_core::screen::StandardFolder {
            id: "dead-loads".to_owned(),
            files,
        };
        Standards::with_folders(&ids, &[folder]).unwrap()
    };
    let of = |factor| screen(&read(sound()), &folder(factor), Options::default()).unwrap();
    let (once, twice) = (of(1.0), of(2.0));
    for (light, heavy) in once.lines.iter().zip(&twice.lines) {
        for (light, heavy) in [
            (light.shear.flexible, heavy.shear.flexible),
            (light.shear.factored, heavy.shear.factored),
        ] {
            assert!((heavy.range.high / light.range.high - 2.0).abs() < 1e-9);
            assert!((heavy.range.low / light.range.low - 2.0).abs() < 1e-9);
        }
    }
}

fn with(change: impl FnOnce(&mut Value)) -> Screen {
    let mut house = sound();
    change(&mut house);
    screened(house)
}

/// More of anything that holds never raises demand over capacity, at either end.
#[test]
fn what_strengthens_a_house_never_weakens_a_link() {
    let before = screened(sound());
    let no_worse = |after: &Screen, kind: LinkKind, what: &str| {
        for (line, _, found) in computed(&before).filter(|(_, found, _)| *found == kind) {
            let after = link(after, line, kind);
            assert!(
                after.worst.ratio <= found.worst.ratio * (1.0 + 1e-9),
                "{what}: {kind:?}"
            );
            assert!(
                after.best.ratio <= found.best.ratio * (1.0 + 1e-9),
                "{what}: {kind:?}"
            );
        }
    };
    let each_line = |change: fn(&mut Value)| {
        with(|house| {
            house["wall_lines"]
                .as_array_mut()
                .unwrap()
                .iter_mut()
                .for_each(change);
        })
    };
    let anchors = each_line(|line| {
        let anchor = line["anchors"][0].clone();
        let mut anchor = anchor;
        anchor["at"] = json!("10'-1\"");
        line["anchors"].as_array_mut().unwrap().push(anchor);
    });
    no_worse(&anchors, LinkKind::SillAnchors, "one more anchor");
    let sill = each_line(|line| {
        for piece in line["sill"].as_array_mut().unwrap() {
            piece["thickness"] = json!({"measured": "2-1/2 in"});
        }
    });
    no_worse(&sill, LinkKind::SillAnchors, "a thicker sill");
    let nailing = each_line(|line| {
        for panel in line["panels"].as_array_mut().unwrap() {
            panel["edge_nailing"] = json!({"measured": "3 in"});
        }
    });
    no_worse(&nailing, LinkKind::Sheathing, "closer nails");
    let hold_downs = each_line(|line| {
        for panel in line["panels"].as_array_mut().unwrap() {
            panel["hold_down"] = json!({"reported": "2000 lb"});
        }
    });
    no_worse(&hold_downs, LinkKind::Overturning, "hold-downs");
    let light = with(|house| house["site"]["s_ds"] = json!({"reported": 0.5}));
    for kind in [
        LinkKind::Sheathing,
        LinkKind::SillAnchors,
        LinkKind::Overturning,
        LinkKind::Drift,
    ] {
        no_worse(&light, kind, "less shaking");
    }
}

/// Learning what was unknown narrows a range and never moves it outside what it was.
#[rstest]
#[case::story_height(|house: &mut Value| house["building"]["story_height"] = json!({"measured": "8'-6\""}))]
#[case::stiff_soil(|house: &mut Value| house["site"]["soil"] = json!("gravel"))]
#[case::sand(|house: &mut Value| house["site"]["soil"] = json!("sand"))]
#[case::strength(|house: &mut Value| {
    for line in house["wall_lines"].as_array_mut().unwrap() {
        for stretch in line["foundation"].as_array_mut().unwrap() {
            stretch["concrete_strength"] = json!({"measured": "2000 psi"});
        }
    }
})]
#[case::splices(|house: &mut Value| {
    for line in house["wall_lines"].as_array_mut().unwrap() {
        for stretch in line["cripple_wall"].as_array_mut().unwrap() {
            stretch["splice_nails"] = json!(5);
        }
    }
})]
#[case::sill_wood(|house: &mut Value| {
    for line in house["wall_lines"].as_array_mut().unwrap() {
        for piece in line["sill"].as_array_mut().unwrap() {
            piece["species"] = json!("redwood");
        }
    }
})]
fn learning_only_narrows(#[case] learn: fn(&mut Value)) {
    let mut house = sound();
    house["building"].as_object_mut().unwrap().remove("story_height");
    let before = screened(house.clone());
    learn(&mut house);
    let after = screened(house);
    let slack = 1.0 + 1e-9;
    for (line, kind, before) in computed(&before) {
        let after = link(&after, line, kind);
        assert!(after.worst.ratio <= before.worst.ratio * slack, "{kind:?}");
        assert!(after.best.ratio * slack >= before.best.ratio, "{kind:?}");
    }
}

#[test]
fn a_user_s_reduction_and_method_are_taken() {
    let house = read(sound());
    let of = |options| screen(&house, Standards::shipped().unwrap(), options).unwrap();
    let full = of(Options::default());
    let reduced = of(Options {
        reduced: true,
        ..Options::default()
    });
    let ratio = reduced.lines[0].shear.factored.range.high / full.lines[0].shear.factored.range.high;
    assert!((ratio - 0.75).abs() < 1e-9);
    let chosen = of(Options {
        redundancy: Some(1.0),
        ..Options::default()
    });
    let ratio = full.lines[0].shear.factored.range.high / chosen.lines[0].shear.factored.range.high;
    assert!((ratio - 1.3).abs() < 1e-9);
}

/// Editions are values: each changes what it should and nothing else.
#[test]
fn editions_stand_side_by_side() {
    let house = read(sound());
    let of = |ids: &[&str]| screen(&house, &Standards::choose(ids).unwrap(), Options::default()).unwrap();
    let (new, old) = (of(&[]), of(&["sdpws-2021"]));
    assert_eq!(new.lines[0].shear.flexible, old.lines[0].shear.flexible);
    assert_ne!(
        link(&new, 0, LinkKind::Sheathing).worst.capacity,
        link(&old, 0, LinkKind::Sheathing).worst.capacity
    );
    assert_eq!(
        link(&new, 0, LinkKind::SillAnchors).worst,
        link(&old, 0, LinkKind::SillAnchors).worst
    );
}

#[rstest]
#[case::no_plan(|house: &mut Value| {house["building"].as_object_mut().unwrap().remove("outline");}, "outline")]
#[case::no_stories(|house: &mut Value| {house["building"].as_object_mut().unwrap().remove("stories");}, "stories")]
#[case::split_level(|house: &mut Value| house["building"]["floors_at_one_level"] = json!(false), "more than one level")]
#[case::poles(|house: &mut Value| house["building"]["slab_or_pole_portion"] = json!(true), "poles")]
#[case::hillside(|house: &mut Value| house["site"]["slope"] = json!({"measured": "2H:1V"}), "hillside")]
#[case::skew_wall(
    |house: &mut Value| house["wall_lines"][0]["plan"][1]["y"] = json!("3 ft"), "neither east-west nor north-south"
)]
#[case::outline_that_crosses_itself(
    |house: &mut Value| house["building"]["outline"] = json!([
        {"x": "0 ft", "y": "0 ft"}, {"x": "20 ft", "y": "0 ft"}, {"x": "20 ft", "y": "10 ft"},
        {"x": "10 ft", "y": "10 ft"}, {"x": "10 ft", "y": "-5 ft"}, {"x": "0 ft", "y": "-5 ft"}
    ]),
    "crosses itself"
)]
fn a_house_that_cannot_be_computed_is_declined(#[case] change: fn(&mut Value), #[case] why: &str) {
    let mut house = sound();
    change(&mut house);
    let declined: Declined =
        screen(&read(house), Standards::shipped().unwrap(), Options::default()).unwrap_err();
    assert!(declined.to_string().contains(why), "{declined}");
}

/// A site that takes a study has no number; its ladder still says at which shaking links give.
#[rstest]
#[case::nothing(json!({}), "on record")]
#[case::failing_ground(json!({"s_s": {"reported": 1.5}, "site_class": "F"}), "study")]
#[case::soft_clay(json!({"s_s": {"reported": 1.5}, "site_class": "E"}), "study")]
#[case::no_such_shaking(json!({"s_ds": {"reported": 5}}), "up to which")]
fn a_site_without_shaking_gives_a_ladder_and_no_verdict(#[case] site: Value, #[case] why: &str) {
    let mut house = sound();
    house["site"] = site;
    let screen = screened(house);
    assert!(
        screen.shaking.as_ref().unwrap_err().contains(why),
        "{:?}",
        screen.shaking
    );
    assert!(screen.lines.iter().all(|line| line.path == Path::NotDetermined));
    assert!(!screen.ladder().is_empty());
}

/// Mapped accelerations on soil of the default class: `S_DS` = 2/3 · 1.2 · 1.5.
#[test]
fn mapped_accelerations_are_taken_to_the_site() {
    let mut house = sound();
    house["site"] = json!({"s_s": {"reported": 1.5}, "s_1": {"reported": 0.6}});
    let shaking = screened(house).shaking.unwrap();
    assert!((shaking.range.high - 1.2).abs() < 1e-9, "{shaking:?}");
}

/// What nobody saw is never taken for there, and what is not there never for unseen.
#[test]
fn unseen_is_not_fine() {
    let unseen = with(|house| {
        house["wall_lines"][0]["anchors"] = json!({"unknown": "behind a finished wall"});
    });
    let found = unseen.lines[0]
        .links
        .iter()
        .find(|(kind, _)| *kind == LinkKind::SillAnchors);
    assert!(matches!(found.unwrap().1, LinkScreen::NotDetermined(_)));
    assert_ne!(unseen.lines[0].path, Path::Reaches);
    let none = with(|house| house["wall_lines"][0]["anchors"] = json!([]));
    let found = none.lines[0]
        .links
        .iter()
        .find(|(kind, _)| *kind == LinkKind::SillAnchors);
    assert!(matches!(found.unwrap().1, LinkScreen::NoCapacity(_)));
    assert_eq!(none.lines[0].path, Path::Short);
}

/// Every wall line of the sound house, changed alike.
fn with_each_line(change: impl Fn(&mut Value)) -> Value {
    let mut house = sound();
    for line in house["wall_lines"].as_array_mut().unwrap() {
        change(line);
    }
    house
}

/// A link that nothing carries at one end of an unknown has that for its worse end, not the other.
#[test]
fn what_carries_nothing_at_one_end_is_the_worse_end() {
    // From 12 to 48 in high: a panel 12 in long is too slender to count at the high end.
    let slender = with_each_line(|line| {
        for stretch in line["cripple_wall"].as_array_mut().unwrap() {
            stretch["height"] = json!({"unknown": "dark"});
        }
        let mut panel = line["panels"][0].clone();
        (panel["from"], panel["to"]) = (json!("0 in"), json!("12 in"));
        line["panels"] = json!([panel]);
    });
    let screen = screened(slender);
    let sheathing = link(&screen, 0, LinkKind::Sheathing);
    assert_eq!(
        (sheathing.worst.ratio, sheathing.worst.capacity),
        (f64::INFINITY, 0.0)
    );
    assert!(sheathing.best.capacity > 0.0 && sheathing.best.ratio.is_finite());
    // Anchors of 1/2 to 5/8 in, 2 in from the end of their piece: 3-1/2 diameters are there for the thin ones alone.
    let near = screened(with_each_line(near_the_end));
    let anchors = link(&near, 0, LinkKind::SillAnchors);
    assert_eq!(anchors.worst.ratio, f64::INFINITY);
    assert!(anchors.best.ratio.is_finite() && anchors.best.capacity > 0.0);
}

fn near_the_end(line: &mut Value) {
    for anchor in line["anchors"].as_array_mut().unwrap() {
        anchor["diameter"] = json!({"unknown": "rust"});
        anchor["end_distance"] = json!({"measured": "2 in"});
    }
}

/// The edge of the concrete counts for thick anchors near a corner alone; there, what else is not known counts too.
#[test]
fn a_link_that_is_there_in_few_cases_is_told_at_its_worst_and_rests_on_what_it_rests_on() {
    let anchored = |strength: Value, diameter: &str| {
        screened(with_each_line(|line| {
            near_the_end(line);
            for anchor in line["anchors"].as_array_mut().unwrap() {
                anchor["diameter"] = json!({"measured": diameter});
            }
            for stretch in line["foundation"].as_array_mut().unwrap() {
                stretch["concrete_strength"] = strength.clone();
            }
        }))
    };
    let unknown = screened(with_each_line(near_the_end));
    let weak = anchored(json!({"reported": "1000 psi"}), "5/8 in");
    let (all, weak) = (
        link(&unknown, 1, LinkKind::ConcreteEdge),
        link(&weak, 1, LinkKind::ConcreteEdge),
    );
    assert!(
        (all.worst.ratio - weak.worst.ratio).abs() < 1e-9,
        "{} {}",
        all.worst.ratio,
        weak.worst.ratio
    );
    assert_ne!(all.standing, Standing::Verified);
}

/// Soil is judged at the level of allowable stresses by either method.
#[test]
fn soil_is_judged_alike_by_both_methods() {
    let by = |method| {
        let options = Options {
            method,
            ..Options::default()
        };
        screen(&read(sound()), Standards::shipped().unwrap(), options).unwrap()
    };
    let (asd, lrfd) = (by(Method::Asd), by(Method::Lrfd));
    let sliding = |screen: &Screen| match &screen.directions[0].sliding {
        LinkScreen::Computed(sliding) => sliding.worst.ratio,
        other => panic!("{other:?}"),
    };
    assert!((sliding(&asd) - sliding(&lrfd)).abs() < 1e-9);
    let bearing = |screen| link(screen, 0, LinkKind::Bearing).worst;
    assert!((bearing(&asd).ratio - bearing(&lrfd).ratio).abs() < 1e-9);
    // 1,500 psf, without the third more that goes with other combinations.
    assert!((bearing(&asd).capacity * 144.0 - 1500.0).abs() < 1e-9);
}

/// A link that holds beyond the end of the ladder at its better end has no rung there.
#[test]
fn the_better_end_of_a_link_that_holds_has_no_rung() {
    let anchors = screened(sound());
    let anchors = link(&anchors, 0, LinkKind::SillAnchors);
    // S_DS of 1.3 g over its ratio.
    assert!(1.3 / anchors.best.ratio > 3.0);
    assert_eq!(anchors.best.shaking, None);
    let rung = anchors.worst.shaking.unwrap();
    assert!((rung - 1.3 / anchors.worst.ratio).abs() < 1e-9);
}

/// Panels of 8 and 2 ft on 32 ft of floor: at the end of the long one the floor has brought a quarter of the shear and
/// the panel has taken four fifths.
#[test]
fn the_top_plate_carries_what_the_floor_brings_less_what_the_panels_take() {
    let screen = with(|house| {
        let line = &mut house["wall_lines"][0];
        let panel = line["panels"][0].clone();
        let at = |from: &str, to: &str| {
            let mut panel = panel.clone();
            (panel["from"], panel["to"]) = (json!(from), json!(to));
            panel
        };
        line["panels"] = json!([at("0 ft", "8 ft"), at("24 ft", "26 ft")]);
    });
    let pull = link(&screen, 0, LinkKind::TopPlate).worst.demand;
    let share = pull / screen.lines[0].shear.factored.range.high;
    assert!((share - (8.0 / 10.0 - 8.0 / 32.0)).abs() < 1e-9, "{share}");
}

/// What nobody saw at the joist ends may be nothing, and then no fastener is loaded.
#[test]
fn joist_ends_that_nobody_saw_may_be_open() {
    let screen = with(|house| house["wall_lines"][0]["rim"] = json!({"unknown": "insulation"}));
    let floor = link(&screen, 0, LinkKind::FloorConnection);
    assert_eq!(floor.worst.ratio, f64::INFINITY);
    assert!(floor.best.ratio.is_finite());
}

/// Plain concrete is the least that a stem wall is; bars hold more.
#[rstest]
#[case::bars("some", true)]
#[case::none("none", false)]
fn a_stem_wall_with_bars_may_hold_more(#[case] bars: &str, #[case] expected: bool) {
    let screen = screened(with_each_line(|line| {
        for stretch in line["foundation"].as_array_mut().unwrap() {
            stretch["reinforcing"] = json!(bars);
        }
    }));
    assert_eq!(link(&screen, 0, LinkKind::StemWall).may_hold_more, expected);
}

/// Table 12.12-1 allows a house of old finishes 0.020 of the height: of 38 in, 0.76 in.
#[test]
fn old_finishes_are_not_made_for_drift() {
    let drift = screened(sound());
    let drift = link(&drift, 0, LinkKind::Drift);
    assert!(
        (drift.worst.capacity - 0.76).abs() < 1e-9,
        "{}",
        drift.worst.capacity
    );
}

#[test]
fn anchors_into_no_foundation_hold_nothing() {
    let screen = with(|house| house["wall_lines"][0]["foundation"] = json!([]));
    let found = screen.lines[0]
        .links
        .iter()
        .find(|(kind, _)| *kind == LinkKind::SillAnchors);
    assert!(matches!(found.unwrap().1, LinkScreen::NoCapacity(_)));
}

#[rstest]
#[case::negative(-1.0)]
#[case::none(0.0)]
#[case::below_one(0.9)]
#[case::no_number(f64::NAN)]
#[case::endless(f64::INFINITY)]
fn a_redundancy_factor_that_is_none_is_refused(#[case] redundancy: f64) {
    let options = Options {
        redundancy: Some(redundancy),
        ..Options::default()
    };
    let declined = screen(&read(sound()), Standards::shipped().unwrap(), options).unwrap_err();
    assert!(declined.to_string().contains("redundancy"), "{declined}");
}

/// The table rates old bolts where the concrete was judged sound; nobody judged what nobody saw.
#[test]
fn anchors_in_concrete_that_nobody_saw_are_not_rated() {
    let screen = with(|house| {
        house["wall_lines"][0]["foundation"][0]["condition"] = json!({"unknown": "plastered over"});
    });
    let found = screen.lines[0]
        .links
        .iter()
        .find(|(kind, _)| *kind == LinkKind::SillAnchors);
    assert!(matches!(found.unwrap().1, LinkScreen::NotDetermined(_)));
}
