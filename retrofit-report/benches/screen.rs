//! How long it takes to screen a house, bare and with every derivation.
//!
//! Run with `cargo bench -p retrofit-report --bench screen`. What is wanted: under 1 ms bare, under 5 ms with
//! derivations.

use divan::{Bencher, black_box};
use retrofit_core::house::{AsBuilt, House};
use retrofit_core::screen::{Options, Standards, screen};

/// The house that the program itself shows, and the example with the most to compute.
const HOUSES: [(&str, &str); 2] = [
    ("demo", include_str!("../../examples/quince-lantern-way.json")),
    ("richest", include_str!("../../examples/larch-harbor-way.json")),
];

fn main() {
    divan::main();
}

#[divan::bench(args = HOUSES.map(|(name, _)| name))]
fn bare(bencher: Bencher<'_, '_>, name: &str) {
    measure(bencher, name, false);
}

#[divan::bench(args = HOUSES.map(|(name, _)| name))]
fn with_derivations(bencher: Bencher<'_, '_>, name: &str) {
    measure(bencher, name, true);
}

fn measure(bencher: Bencher<'_, '_>, name: &str, derivations: bool) {
    let options = Options {
        derivations,
        ..Options::default()
    };
    let text = HOUSES
        .iter()
        .find(|(other, _)| *other == name)
        .map_or("", |(_, text)| text);
    let house = serde_json::from_str::<House>(text)
        .ok()
        .and_then(|house| AsBuilt::new(house).ok());
    let (Some(house), Ok(standards)) = (house, Standards::shipped()) else {
        return;
    };
    bencher.bench_local(|| screen(black_box(&house), standards, options));
}
