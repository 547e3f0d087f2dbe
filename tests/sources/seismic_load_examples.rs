//! Base shear, its distribution and what goes with it, against worked examples.
//!
//! 1. Permit calculations for light-frame houses in Everett and Rexburg.
//! 2. A light-frame calculation sheet by the building code of 2003.
//! 3. R. Taly, *Design of Reinforced Masonry Structures*, examples 7.9 to 7.12 (by ASCE 7-05, whose equations
//!    are the same).
//! 4. Rows by own arithmetic, equal to what a general reference library gives.
//!
//! Where a source leaves an input unprinted, the row's standing says which was fitted.

use crate::published::{Outcome, Row, every_row, table};
use retrofit_core::house::SiteClass;
use retrofit_core::screen::{
    Asce7, Bare, Combination, Demand, FOOT, Finishes, Force, KIP, LateralSystem, Level, Method, PLAIN, PLF,
    POUND, Ratio,
};

fn period(asce7: &Asce7, row: &Row) -> Ratio<f64> {
    row.optional("t").map_or_else(
        || asce7.period(Bare, FOOT.of(row.number("h"))).unwrap(),
        |_| PLAIN.of(row.number("t")),
    )
}

fn level_force(asce7: &Asce7, row: &Row) -> f64 {
    let pairs = row.numbers("w").into_iter().zip(row.numbers("h"));
    let levels: Vec<Level<f64>> = pairs
        .map(|(weight, height)| Level {
            weight: KIP.of(weight),
            height: FOOT.of(height),
        })
        .collect();
    let shear = KIP.of(row.number("v"));
    let forces = asce7
        .vertical_distribution(shear, PLAIN.of(0.3), &levels)
        .unwrap();
    let sum = forces
        .iter()
        .flatten()
        .copied()
        .reduce(|sum, force| sum + force)
        .unwrap();
    assert!(
        (sum.to(KIP) - shear.to(KIP)).abs() < 1e-9,
        "no part of the base shear is lost"
    );
    forces[row.text("level").parse::<usize>().unwrap() - 1]
        .unwrap()
        .to(KIP)
}

/// The period from which the distribution is by the square of the height.
fn square_from(asce7: &Asce7) -> f64 {
    let levels = [1.0, 2.0].map(|height| Level {
        weight: KIP.of(1.0),
        height: FOOT.of(height),
    });
    let top = |period: f64| {
        let forces = asce7.vertical_distribution(KIP.of(1.0), PLAIN.of(period), &levels);
        forces.unwrap()[1].unwrap().to(KIP)
    };
    let is_square = |hundredths: &u16| (top(f64::from(*hundredths) / 100.0) - 0.8).abs() < 1e-12;
    f64::from((50..=400).find(is_square).unwrap()) / 100.0
}

#[expect(
    clippy::too_many_lines,
    reason = "a case for each kind of check, in the order of the table"
)]
fn compute(row: &Row) -> Outcome {
    let asce7 = Asce7::parse(&table(row.optional("edition").unwrap_or("asce7-16"))).unwrap();
    let number = |name| row.number(name);
    let coefficient = |demand: &Demand<f64>| asce7.response_coefficient(demand).unwrap().value();
    let demand = Demand {
        sds: PLAIN.of(1.0),
        sd1: None,
        s1: None,
        r: PLAIN.of(6.5),
        ie: PLAIN.of(1.0),
        period: PLAIN.of(0.2),
        long_period: None,
    };
    let value = match row.check.as_str() {
        "SDS" => asce7
            .sds(Bare, SiteClass::D, PLAIN.of(number("s")))
            .unwrap()
            .value(),
        "SD1" => asce7
            .sd1(Bare, SiteClass::D, PLAIN.of(number("s")))
            .unwrap()
            .value(),
        "Fa" => asce7
            .fa(Bare, SiteClass::D, PLAIN.of(number("s")))
            .unwrap()
            .value(),
        "Fv" => asce7
            .fv(Bare, SiteClass::D, PLAIN.of(number("s")))
            .unwrap()
            .value(),
        // Rock, on which F_a is 1, leaves the two thirds alone.
        "2/3" => {
            let older = Asce7::parse(&table("asce7-10")).unwrap();
            older
                .sds(Bare, SiteClass::B, PLAIN.of(number("s")))
                .unwrap()
                .value()
        }
        "Ta" => period(&asce7, row).value(),
        "Cs" => {
            let given = |name: &str| row.optional(name).map(|_| PLAIN.of(row.number(name)));
            coefficient(&Demand {
                sds: PLAIN.of(number("sds")),
                sd1: given("sd1"),
                s1: given("s1"),
                r: PLAIN.of(number("r")),
                ie: PLAIN.of(number("ie")),
                period: row.optional("h").map_or(PLAIN.of(0.2), |_| period(&asce7, row)),
                long_period: given("tl"),
            })
        }
        "Cs max" => {
            let period = period(&asce7, row);
            coefficient(&Demand {
                // A plateau just above the limit, so that the limit governs and the floor does not.
                sds: PLAIN.of(1.1 * number("sd1") / period.value()),
                sd1: Some(PLAIN.of(number("sd1"))),
                s1: Some(PLAIN.of(0.0)),
                r: PLAIN.of(number("r")),
                ie: PLAIN.of(number("ie")),
                period,
                ..demand
            })
        }
        "Cs min" => coefficient(&Demand {
            sds: PLAIN.of(number("sds")),
            // So great that the plateau falls below the floor.
            r: PLAIN.of(100.0),
            ie: PLAIN.of(number("ie")),
            ..demand
        }),
        "V" => {
            let reduction = row.optional("reduction").map(|_| PLAIN.of(number("reduction")));
            let shear = asce7.base_shear(PLAIN.of(number("cs")), POUND.of(number("w")), reduction);
            shear.unwrap().to(POUND)
        }
        "V simplified" => {
            let stories = row.text("stories").parse().unwrap();
            let (sds, r) = (PLAIN.of(number("sds")), PLAIN.of(number("r")));
            let weight = KIP.of(number("w"));
            asce7
                .simplified_base_shear(Bare, stories, sds, r, weight)
                .unwrap()
                .to(KIP)
        }
        "Fx" => level_force(&asce7, row),
        "k=2 from" => square_from(&asce7),
        "dead coefficient" => {
            let combination = match row.text("combination") {
                "0.6-0.14SDS" => Combination::Uplift,
                "1.0+0.14SDS" => Combination::Gravity,
                "1.0+0.105SDS" => Combination::GravityAndLive,
                other => panic!("no such combination: {other}"),
            };
            let sds = PLAIN.of(number("sds"));
            asce7
                .coefficients(Method::Asd, combination, sds)
                .unwrap()
                .dead
                .value()
        }
        "hold-down" => {
            let [height, length, arm] = ["h", "l", "arm"].map(|name| FOOT.of(number(name)));
            let sds = PLAIN.of(number("sds"));
            let uplift = asce7.coefficients(Method::Asd, Combination::Uplift, sds).unwrap();
            let overturning = PLF.of(number("v")) * length * height / arm;
            let dead: Force<f64> = uplift.dead * (PLF.of(number("d")) * length) / 2.0;
            (overturning - dead).to(POUND)
        }
        "accidental eccentricity" => {
            let across = FOOT.of(number("l"));
            asce7.accidental_eccentricity(Bare, across).unwrap().to(FOOT)
        }
        "table 12.2-1" => {
            let system: LateralSystem = row.text("system").parse().unwrap();
            let factors = asce7.system(Bare, system).unwrap();
            match row.text("factor") {
                "R" => factors.r.value(),
                "Omega0" => factors.omega0.value(),
                "Cd" => factors.cd.value(),
                other => panic!("no such factor: {other}"),
            }
        }
        "drift limit" => {
            let finishes = match row.text("finishes") {
                "accommodating" => Finishes::Accommodating,
                _ => Finishes::Other,
            };
            asce7
                .drift_limit(Bare, finishes, FOOT.of(number("h")))
                .unwrap()
                .to(FOOT)
        }
        other => panic!("no such check: {other}"),
    };
    Outcome::Number(value)
}

#[test]
fn every_printed_value() {
    every_row(include_str!("published/seismic-load-examples.csv"), 59, compute);
}
