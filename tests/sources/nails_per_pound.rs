//! Nails per pound, against two tables and against the weight of the wire.
//!
//! 1. "About Nails", penny conversion chart (<http://woodtools.nov.ru/projects2/WoodPlan/about_nails.htm>): the
//!    figures of the shipped table.
//! 2. "Nailweights" (<https://m.everything2.com/title/nailweights>): approximate numbers of common nails.
//! 3. City of Santa Ana, fastening schedule of its building code
//!    (<https://publicdocs.santa-ana.org/BuildingWeblink/0/doc/753244/Page8.aspx>): 8d common is 2-1/2 in by
//!    0.131 in, 16d common is 3-1/2 in by 0.162 in.
//! 4. A nail maker's answer in a trade journal
//!    (<http://www.jlconline.com/finishes-and-surfaces/q-a--box--sinker--and-cooler-nails.aspx>): 10d common is 3 in
//!    by 0.148 in.
//!
//! All were seen on 2026-11-25. That a cubic inch of steel weighs 0.2836 lb is remembered.
use retrofit_core::takeoff::Stock;
use rstest::rstest;

fn shipped(nail: &str) -> f64 {
    f64::from(Stock::shipped().per_pound(nail.parse().unwrap()).unwrap())
}

#[rstest]
#[case("6d common", 170)]
#[case("8d common", 100)]
#[case("10d common", 65)]
#[case("12d common", 60)]
#[case("16d common", 50)]
#[case("20d common", 30)]
fn the_chart(#[case] nail: &str, #[case] count: u32) {
    assert_eq!(Stock::shipped().per_pound(nail.parse().unwrap()), Some(count));
}

/// Two tables of approximate numbers; the shipped one never promises more nails to the pound than the other.
#[rstest]
#[case("6d common", 175.0)]
#[case("8d common", 100.0)]
#[case("10d common", 70.0)]
#[case("12d common", 65.0)]
#[case("16d common", 50.0)]
#[case("20d common", 30.0)]
fn another_table(#[case] nail: &str, #[case] count: f64) {
    assert!(shipped(nail) <= count);
    assert!(shipped(nail) >= count * 0.9, "within the rounding of such tables");
}

/// The wire alone weighs this much; head and rounding of the charts make up the rest.
#[rstest]
#[case("8d common", 2.5, 0.131)]
#[case("10d common", 3.0, 0.148)]
#[case("16d common", 3.5, 0.162)]
fn the_weight_of_the_wire(#[case] nail: &str, #[case] length: f64, #[case] diameter: f64) {
    const POUNDS_IN_A_CUBIC_INCH: f64 = 0.2836;
    let pounds = std::f64::consts::PI / 4.0 * diameter * diameter * length * POUNDS_IN_A_CUBIC_INCH;
    assert!(
        (shipped(nail) * pounds - 1.0).abs() < 0.10,
        "{nail}: {pounds} lb a nail"
    );
}

#[test]
fn nails_without_a_table_have_no_weight() {
    for nail in ["8d box", "10d box", "8d sinker", "8d ring"] {
        assert_eq!(Stock::shipped().per_pound(nail.parse().unwrap()), None, "{nail}");
    }
}
