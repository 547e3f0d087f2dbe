//! The study of what the bracing and anchor table implies is what its program prints today. After a change that is
//! meant to move it: `cargo run --example what_the_table_implies > docs/what-the-table-implies.md`.

#![cfg(test)]

#[path = "../examples/what_the_table_implies.rs"]
#[allow(dead_code, reason = "the program's own entry is not used here")]
mod program;

#[test]
fn the_study_is_current() {
    let written = include_str!("../docs/what-the-table-implies.md");
    assert_eq!(program::study().unwrap(), written);
    assert!(written.contains("The remembered figures are plausible"));
}
