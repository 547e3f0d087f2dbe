//! Site coefficients, design accelerations and seismic design categories, against reports and data files of
//! the U.S. Geological Survey.
//!
//! 1. Design Maps Detailed Reports for sites in Eugene, San Joaquin County and Santa Ana, as filed with
//!    building permits.
//! 2. The expected values that come with the U.S. Seismic Design web service, for nine cities.
//!
//! One report was scanned with a digit misread (`F_v` 2.808); its own `S_D1` of 0.605 g shows that 2.608 was
//! printed. The rows that disagree are kept as disagreeing.

use crate::published::{Outcome, Row, every_row, table};
use retrofit_core::house::SiteClass;
use retrofit_core::screen::{Asce7, Asce7Error, Bare, PLAIN, Ratio};

fn compute(row: &Row) -> Outcome {
    let asce7 = Asce7::parse(&table(row.text("edition"))).unwrap();
    if row.check == "category" {
        let optional = |name| row.optional(name).map(|_| row.number(name));
        let category = asce7.design_category(row.number("sds"), optional("sd1"), optional("s1"));
        return Outcome::Word(format!("{:?}", category.unwrap()));
    }
    let class: SiteClass = row.text("class").parse().unwrap();
    let mapped = PLAIN.of(row.number("s"));
    let value = |result: Result<Ratio<f64>, Asce7Error>| result.map(Ratio::value);
    match row.check.as_str() {
        "Fa" => value(asce7.fa(Bare, class, mapped)).into(),
        "Fv" => value(asce7.fv(Bare, class, mapped)).into(),
        "SMS" => value(asce7.sds(Bare, class, mapped)).map(|sds| sds * 1.5).into(),
        "SM1" => value(asce7.sd1(Bare, class, mapped)).map(|sd1| sd1 * 1.5).into(),
        "SDS" => value(asce7.sds(Bare, class, mapped)).into(),
        "SD1" => value(asce7.sd1(Bare, class, mapped)).into(),
        other => panic!("no such check: {other}"),
    }
}

#[test]
fn every_printed_value() {
    every_row(include_str!("published/design-map-reports.csv"), 126, compute);
}
