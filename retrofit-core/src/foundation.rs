//! The other half of the job: why a floor slopes and a wall cracks, and what to do about the foundation.
//!
//! It shares the record of the house with the seismic checks and is kept apart from their verdict.
//!
//! # A short tour
//!
//! 1. [`survey`]: a floor level survey of one day, corrected, fitted, drawn as contours and sections, and put
//!    beside every published limit; two surveys give movement.
//! 2. [`causes`]: what the distress is consistent with, by rules that are data; never a diagnosis.
//! 3. [`gates`]: what has to be so before a step of the work begins.
//! 4. [`decision`]: what the rules leave open for each length of foundation, with reasons and what to look at.
//! 5. [`loads`]: what the house brings to each wall line and post, part by part.
//! 6. [`new_work`]: new lengths of foundation, piers and girders sized by the prescriptive tables and by load.
//! 7. [`shoring`]: temporary support of a wall line, put beside published figures; never passed.
//! 8. [`lift`]: a lift in steps from the level survey, and a check of its table of steps.
//! 9. [`sequence`]: bays, their order and days, and a check of the calendar by itself.
//! 10. [`work_takeoff`]: quantities and cost, with [`earthwork`] for what is dug and carried away.
//! 11. [`plan`]: all of it for one house.
//!
//! ```
//! use retrofit_core::foundation::causes::{CauseRules, Signs};
//! use retrofit_core::foundation::survey::{Limits, SurveyFindings};
//! use retrofit_core::house::{AsBuilt, House};
//!
//! let house: House = serde_json::from_str(r#"{
//!     "format": "house-1",
//!     "name": "Quince Lantern Way",
//!     "wall_lines": [{"name": "south", "length": "20 ft",
//!                     "plan": [{"x": "0 ft", "y": "0 ft"}, {"x": "20 ft", "y": "0 ft"}]}],
//!     "surroundings": {"standing_water": true},
//!     "surveys": [{"date": "2026-05-04", "readings": [
//!         {"at": {"x": "0 ft", "y": "0 ft"}, "height": "0 in", "finish": "bare", "finish_thickness": "0 in"},
//!         {"at": {"x": "10 ft", "y": "0 ft"}, "height": "-3/4 in", "finish": "bare", "finish_thickness": "0 in"},
//!         {"at": {"x": "20 ft", "y": "0 ft"}, "height": "0 in", "finish": "bare", "finish_thickness": "0 in"},
//!         {"at": {"x": "0 ft", "y": "16 ft"}, "height": "0 in", "finish": "bare", "finish_thickness": "0 in"},
//!         {"at": {"x": "20 ft", "y": "16 ft"}, "height": "0 in", "finish": "bare", "finish_thickness": "0 in"}
//!     ]}]
//! }"#)?;
//! let house = AsBuilt::new(house).expect("the record makes sense");
//!
//! let findings = SurveyFindings::of(&house, &house.surveys[0], Limits::shipped());
//! let south = &findings.wall_lines[0];
//! let deflection = south.profile.as_ref().unwrap().deflection().unwrap();
//! assert_eq!(deflection.departure.likely, -0.75, "three quarters of an inch below the chord");
//!
//! let causes = CauseRules::shipped().judge(&Signs::of(&house, Limits::shipped()));
//! assert!(causes.iter().any(|cause| cause.cause.name == "poor-drainage"));
//! # Ok::<(), serde_json::Error>(())
//! ```

pub mod causes;
pub mod decision;
pub mod earthwork;
pub mod gates;
pub mod lift;
pub mod loads;
pub mod new_work;
pub mod plan;
pub mod sequence;
pub mod shoring;
pub mod survey;
pub mod work_takeoff;
