//! Any bytes as an extract: a map is proposed for them, and the rows go through it.
#![no_main]

use std::fs;

use libfuzzer_sys::fuzz_target;
use retrofit_report::extract::{coverage, propose, translate};
use retrofit_report::input::{Origin, parse_column_map};

fuzz_target!(|bytes: &[u8]| {
    let folder = tempfile::tempdir().expect("a folder");
    for name in ["extract.csv", "extract.geojson", "extract.xml"] {
        let path = folder.path().join(name);
        fs::write(&path, bytes).expect("a file");
        let _ = translate(&path, None, &mut |_| {}, &mut |_| Ok(()));
    }
    let path = folder.path().join("extract.csv");
    if let Ok(proposal) = propose(&path) {
        let map = parse_column_map(&Origin::from("map.toml"), proposal.text).expect("a proposal is a map");
        let _ = coverage(&path, &map);
        let _ = translate(&path, Some(&map), &mut |_| {}, &mut |_| Ok(()));
    }
});
