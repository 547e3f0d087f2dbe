//! What an older raised-floor wood house stands on, judged against the provisions for strengthening it.
//!
//! The house stands on a low perimeter foundation, often with short *cripple* walls between foundation and
//! floor. In an earthquake it slides off, or its cripple walls fold. This crate holds what was found under
//! one house, holds what published provisions ask, and says, wall line by wall line, what falls short, by
//! how much, by which clause, and what could not be judged. It reads no files, prints nothing, and has no
//! threads and no clock: text comes in, values go out.
//!
//! # A tour, from the ground up
//!
//! 1. [`measure`]: lengths, areas, slopes and shares that are exact, so that 72 in is never over 6 ft.
//! 2. [`observation`]: a value together with how it is known; *unknown* is a value, and a comparison over it
//!    is *maybe*.
//! 3. [`house`]: the as-built record, and [`house::AsBuilt`], a record that makes sense.
//! 4. [`provisions`]: sets of provisions as data, every figure with its document, section and standing.
//! 5. [`check`]: the checks, their findings, and the verdicts that follow.
//! 6. [`prices`] and [`remedy`]: the work that closes what falls short, laid out by station and proved.
//! 7. [`screen`]: what an earthquake asks of every link of the load path and what the link can give, each number with
//!    its derivation.
//! 8. [`before_after`] and [`sign_off`]: what became of every check between two records of a house, and of every
//!    designed piece.
//! 8. [`foundation`]: the floor level survey and what distress is consistent with, apart from the seismic verdict.
//! 9. [`ranking`]: of many houses, which first, how sure that is, and what to look at next.
//!
//! A part knows only those above it in this list.
//!
//! # From a record to a verdict
//!
//! ```
//! use retrofit_core::check::{Outcome, Ruling, assess};
//! use retrofit_core::house::{AsBuilt, House};
//! use retrofit_core::provisions::Library;
//!
//! let record = r#"{
//!     "format": "house-1",
//!     "name": "Quince Lantern Way",
//!     "building": {"stories": 1},
//!     "wall_lines": [{
//!         "name": "north",
//!         "length": {"measured": "24'-0\""},
//!         "anchors": [
//!             {"at": "0'-10\"", "kind": "cast_in_place", "diameter": "1/2 in"},
//!             {"at": "12'-0\"", "kind": "cast_in_place", "diameter": "1/2 in"},
//!             {"at": "23'-2\"", "kind": "cast_in_place", "diameter": "1/2 in"}
//!         ]
//!     }]
//! }"#;
//! let house: House = serde_json::from_str(record)?;
//! let house = AsBuilt::new(house).expect("the record makes sense");
//!
//! let provisions = Library::shipped().set(Library::DEFAULT_SET).expect("the shipped tables are in order");
//! let assessment = assess(&house, &provisions);
//!
//! // Three anchors in 24 ft are too few, whatever was not written down about them.
//! assert_eq!(assessment.verdict.ruling(), Ruling::NotMet);
//! let spacing = assessment.findings.iter().find(|finding| finding.check().name == "anchor-spacing").unwrap();
//! assert_eq!(spacing.outcomes.best(), Outcome::NotMet);
//! # Ok::<(), serde_json::Error>(())
//! ```
//!
//! # What it never does
//!
//! It never says that a house is safe. It says what was checked, by which provision, and what was not seen;
//! the local code official and a licensed engineer decide.

mod by_name;
mod table;

pub mod before_after;
pub mod check;
pub mod choice;
pub mod foundation;
pub mod house;
pub mod measure;
pub mod observation;
pub mod portfolio;
pub mod prices;
pub mod provisions;
pub mod ranking;
pub mod remedy;
pub mod screen;
pub mod sign_off;
pub mod takeoff;
