//! New footings, pads, bars and sills, against residential tables and common practice.
//!
//! 1. Widths by stories and soil of the International Residential Code, in two editions; the later one asks for other
//!    widths than the table that is held, and its rows are kept as disagreeing.
//! 2. Tables of strip and pad sizes by load and soil for home builders (NAHB and HUD), as reprinted by the Boulder
//!    library. They leave out what the concrete weighs, so that load and own weight together are the load of a row.
//! 3. Facts of common practice that have no source.

use crate::published::{Outcome, Row, every_row};
use retrofit_core::foundation::new_work::{
    Ends, FootingTable, NewFoundation, NewWork, Pier, PierInput, SizingInput, Wall, Work,
};
use retrofit_core::foundation::work_takeoff::WorkArticle;
use retrofit_core::house::{SoilClass, Stories};
use retrofit_core::measure::Length;
use retrofit_core::observation::Observed;
use retrofit_core::provisions::Library;
use retrofit_core::screen::nds::Wood;
use retrofit_core::screen::{PCF, Standards};

fn soil(row: &Row) -> Option<SoilClass> {
    row.optional("soil").map(|soil| soil.parse().unwrap())
}

fn sized(row: &Row, load: Option<f64>) -> NewFoundation {
    let stories = row
        .optional("stories")
        .map_or(1, |stories| stories.parse().unwrap());
    let input = SizingInput {
        stories: Observed::seen(Stories::whole(stories)),
        soil: soil(row),
        line_load: load.map(|load| Ends {
            low: load,
            high: load,
        }),
        frost_depth: Some(Length::ZERO),
        ..SizingInput::new(NewWork::Replacement)
    };
    let set = row.optional("set").unwrap_or(Library::DEFAULT_SET);
    let set = Library::shipped().set(set).unwrap();
    let (table, standards) = (FootingTable::shipped().unwrap(), Standards::shipped().unwrap());
    NewFoundation::size(&input, table, standards, &set).unwrap()
}

fn wall(row: &Row, load: Option<f64>) -> Wall {
    match sized(row, load).work {
        Work::Wall(wall) => *wall,
        Work::Cap(_) => panic!("a replacement is no cap"),
    }
}

fn pad(row: &Row, load: f64) -> Pier {
    let input = PierInput {
        load: Ends {
            low: load,
            high: load,
        },
        soil: soil(row),
        post_height: None,
        girder_width: None,
        wood: Wood::DouglasFir,
    };
    Pier::size(
        &input,
        FootingTable::shipped().unwrap(),
        Standards::shipped().unwrap(),
    )
    .unwrap()
}

/// What is sized for a load whose own weight is part of it: taken off until nothing changes.
fn with_own_weight<T>(total: f64, size: impl Fn(f64) -> T, own: impl Fn(&T) -> f64) -> T {
    let mut taken = 0.0;
    for _ in 0..20 {
        let sized = size(total - taken);
        let weight = own(&sized);
        if (weight - taken).abs() < 1e-6 {
            return sized;
        }
        taken = weight;
    }
    panic!("the own weight of {total} does not settle");
}

fn compute(row: &Row) -> Outcome {
    Outcome::Number(match row.check.as_str() {
        "width by stories" => wall(row, None).section.footing_width.as_inches_f64(),
        "least thickness" => wall(row, None).section.footing_thickness.as_inches_f64(),
        "least projection" => wall(row, None).footing.projection_least.value.as_inches_f64(),
        "least depth" => wall(row, None).footing.depth.as_inches_f64(),
        "strip" => {
            let by_load = |wall: &Wall| wall.footing.by_load.clone().unwrap();
            let wall = with_own_weight(
                row.number("w"),
                |load| wall(row, Some(load)),
                |wall| by_load(wall).own_plf,
            );
            by_load(&wall).width.as_inches_f64()
        }
        "pad" => {
            let concrete = Standards::shipped().unwrap().loads.concrete.high / PCF.of(1.0).value();
            let own = |pad: &Pier| {
                pad.side_by_load.by(pad.side_by_load).as_square_feet_f64()
                    * pad.thickness.as_feet_f64()
                    * concrete
            };
            let pad = with_own_weight(row.number("p"), |load| pad(row, load), own);
            pad.side_by_load.as_inches_f64()
        }
        "anchor spacing in feet" => {
            let rows = sized(row, None).anchors.rows;
            let spacings = rows.iter().map(|row| row.spacing.value);
            spacings.max().unwrap().as_feet_f64()
        }
        "vertical bars in feet" => wall(row, None).section.vertical.spacing.value.as_feet_f64(),
        "sill" => return Outcome::Word(WorkArticle::Sill.to_string()),
        other => panic!("no such check: {other}"),
    })
}

#[test]
fn every_printed_value() {
    every_row(include_str!("published/residential-footings.csv"), 31, compute);
}
