//! Cribs of two pieces in a layer, against rescue practice as public pages repeat it.
//!
//! What a crib carries is read off a support of a house: the load on it over the ratio that is shown for it. The
//! documents of rescue services themselves were not seen.

use crate::published::{Outcome, Row, every_row};
use retrofit_core::foundation::loads::HouseLoads;
use retrofit_core::foundation::shoring::{LoadCheck, ShoringFigures, ShoringSettings, WallShoring};
use retrofit_core::house::{AsBuilt, House};
use retrofit_core::screen::Standards;
use serde_json::json;

/// The checks of a crib under the heaviest support of a wall line.
fn crib(size: &str) -> Vec<LoadCheck> {
    let corner = |x: u8, y: u8| json!({"x": format!("{x} ft"), "y": format!("{y} ft")});
    let house: House = serde_json::from_value(json!({
        "format": "house-1", "name": "trial",
        "building": {
            "stories": 1, "story_height": "9 ft", "exterior": "wood", "roof": "light", "interior_plaster": false,
            "masonry_chimneys": 0, "outline": [corner(0, 0), corner(36, 0), corner(36, 22), corner(0, 22)],
        },
        "floor": {"joist_span": "11 ft", "joist_spacing": "16 in"},
        "wall_lines": [{
            "name": "south", "length": "36 ft", "joists": "perpendicular",
            "foundation": [{"stem_height": "10 in", "stem_thickness": "6 in"}],
            "cripple_wall": [{"height": "20 in"}], "plan": [corner(0, 0), corner(36, 0)],
        }],
    }))
    .unwrap();
    let house = AsBuilt::new(house).unwrap();
    let (standards, figures) = (Standards::shipped().unwrap(), ShoringFigures::shipped().unwrap());
    let line = &HouseLoads::of(&house, standards, figures).wall_lines[0];
    let settings = ShoringSettings::of(figures);
    let shoring = WallShoring::of(&house, 0, line, standards, figures, &settings).unwrap();
    let trial = shoring.schemes[0].cribs.iter().find(|trial| trial.size == size);
    trial.unwrap().checks.clone().unwrap()
}

fn compute(row: &Row) -> Outcome {
    let checks = crib(row.text("size"));
    let of = |words: &str| checks.iter().find(|check| check.words == words).unwrap();
    let load = of("load on a crib of two pieces in a layer");
    let carries = |check: &LoadCheck| load.load / check.ratio();
    Outcome::Number(match row.check.as_str() {
        "carries by capacity" => carries(load),
        "carries by crossing" => carries(of("load on one of its four crossings")),
        "carries by stress" => carries(of("stress across the grain at a crossing")),
        // Heights are compared in inches.
        "height in feet" => of("height").figure / 12.0,
        "height over width" => of("height over width").figure,
        other => panic!("no such check: {other}"),
    })
}

#[test]
fn every_printed_value() {
    every_row(include_str!("published/box-cribs.csv"), 11, compute);
}
