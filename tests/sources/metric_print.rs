//! The metric sizes that codes print behind their own, rounded: `4 feet (1219 mm)`.

use retrofit_core::measure::Length;

/// Makes sure that a length comes out as the code prints it in millimeters: no farther off than half of the
/// last place printed.
#[track_caller]
pub(crate) fn assert_prints_as(customary: &str, millimeters: &str) {
    let exact: Length = customary.parse().unwrap();
    let printed: Length = format!("{millimeters} mm").parse().unwrap();
    let decimals = millimeters
        .split_once('.')
        .map_or(0, |(_, decimals)| decimals.len());
    let last_place = 1_000_000 / 10_i64.pow(u32::try_from(decimals).unwrap());
    assert!(
        exact.abs_diff(printed).nanometers() * 2 <= last_place,
        "{customary} is {exact:?}; the code prints {millimeters} mm"
    );
}
