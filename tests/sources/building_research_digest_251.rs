//! Classes of cracks and doors against accounts of BRE Digest 251, *Assessment of damage in low-rise
//! buildings*, other than the one that the table was taken from.

use crate::published::{Outcome, Row, every_row};
use retrofit_core::foundation::survey::{CrackFinding, DoorFinding, Limits};
use retrofit_core::house::{Crack, Door};
use retrofit_core::observation::Observed;

fn compute(row: &Row) -> Outcome {
    let limits = Limits::shipped();
    let name = match row.check.as_str() {
        "crack" => {
            let crack = Crack {
                width: Observed::measured(row.text("width").parse().unwrap()),
                ..Crack::default()
            };
            let damage = CrackFinding::of(&crack, limits).damage.unwrap();
            assert_eq!(damage.least, damage.most);
            damage.least.name.clone()
        }
        "door" => {
            let door = Door {
                action: Observed::seen(row.text("action").parse().unwrap()),
                ..Door::default()
            };
            DoorFinding::of(&door, limits).damage.unwrap().name.clone()
        }
        other => panic!("no such check: {other}"),
    };
    Outcome::Word(name)
}

#[test]
fn every_printed_value() {
    every_row(include_str!("published/damage-scale.csv"), 13, compute);
}
