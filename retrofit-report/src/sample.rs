//! Houses for the tests of this crate; invented.

use retrofit_core::check::assess;
use retrofit_core::house::AsBuilt;
use retrofit_core::provisions::{Library, Provisions};
use retrofit_core::screen::{Options, Standards, screen};

use crate::result::{Report, ReportInfo};

/// One wall line, one thing amiss, one thing open.
pub(crate) const SMALL: &str = r#"{
  "format": "house-1", "name": "Tamarack Spool Lane",
  "building": {"stories": 1, "exterior": "wood", "roof": "light"},
  "wall_lines": [{
    "name": "north", "length": {"measured": "20'-0\""},
    "sill": [{}],
    "anchors": [
      {"at": "9 in", "kind": "cast_in_place", "diameter": {"measured": "1/2 in"}, "washer": "3 in x 3 in x 1/4 in", "tightness": "snug"},
      {"at": "10 ft", "kind": "cast_in_place", "diameter": {"measured": "1/2 in"}, "washer": "3 in x 3 in x 1/4 in", "tightness": "snug"}
    ],
    "cripple_wall": {"unknown": "finished inside"}
  }]
}"#;

/// Four wall lines in plan and one without, with findings of every kind.
pub(crate) const RICH: &str = include_str!("sample.json");

/// A report on a house under a shipped set.
pub(crate) fn report(house: &str, set: &str) -> Report {
    report_by(house, &Library::shipped().set(set).unwrap())
}

/// A report on a house under a set.
pub(crate) fn report_by(house: &str, provisions: &Provisions) -> Report {
    let as_built = AsBuilt::new(serde_json::from_str(house).unwrap()).unwrap();
    let info = ReportInfo::of_input("0.1.0", "house.json", house.as_bytes());
    let assessment = assess(&as_built, provisions);
    let screened = screen(&as_built, Standards::shipped().unwrap(), Options::default());
    Report::new(&assessment, &info).with_screen(&assessment, &screened)
}
