//! A rigid floor against the examples of a textbook: Taly, *Design of Reinforced Masonry Structures*, examples 7.12 and
//! 7.13, as a digital library shows them (pages 509 to 513). The book is on masonry; a floor does not know of what its
//! walls are.

use crate::published::{Outcome, every_row};
use retrofit_core::screen::{
    Acting, Direction, Edition, FOOT, KIP, KIP_PER_INCH, POUND_FOOT, Resisting, RigidFloor,
};

fn direction(text: &str) -> Direction {
    match text {
        "NS" => Direction::NorthSouth,
        "EW" => Direction::EastWest,
        other => panic!("{other}"),
    }
}

#[test]
fn floors_share_and_turn_as_printed() {
    let table = include_str!("published/rigid-floor-textbook.csv");
    every_row(table, 10, |row| {
        let walls: Vec<Resisting<f64>> = row
            .text("walls")
            .split(' ')
            .map(|wall| {
                let parts: Vec<&str> = wall.split(':').collect();
                Resisting {
                    direction: direction(parts[0]),
                    stiffness: KIP_PER_INCH.of(parts[1].parse().unwrap()),
                    across: FOOT.of(parts[2].parse().unwrap()),
                }
            })
            .collect();
        let edition = Edition::default();
        let floor = RigidFloor::of(&walls, &edition).unwrap();
        Outcome::Number(match row.check.as_str() {
            "center" => floor.center(direction(row.text("direction"))).to(FOOT),
            // Stiffness in kips per inch and distances in feet, as the book has them.
            "polar" => floor.polar().to(POUND_FOOT) / 12_000.0,
            "shear" => {
                let wall = &walls[row.text("wall").parse::<usize>().unwrap()];
                let mut center = FOOT.of(row.number("center"));
                if row.optional("direct").is_some() {
                    center = floor.center(wall.direction);
                }
                let accidental = FOOT.of(row.number("accidental"));
                let acting = Acting { center, accidental };
                floor
                    .shear(wall, KIP.of(row.number("force")), &acting, &edition, String::new)
                    .to(KIP)
            }
            other => panic!("{other}"),
        })
    });
}
