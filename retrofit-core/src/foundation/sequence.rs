//! In what order a foundation is replaced: bays, days, crews, inspections and pours.
//!
//! A house stands on what is left while a part of its foundation is away. [`divide`] cuts the lengths to be replaced
//! into bays no longer than may be open; [`schedule`] finds the order and the days; [`check_schedule`] reads the result
//! with eyes of its own and knows nothing of how it was found. How much may be open at once is published practice that
//! disagrees ([`Practice`]); an engineer confirms it for the house at hand.
//!
//! # The rules of a schedule
//!
//! A bay is dug, its bars and forms are set, the foundation inspection is a hold point, and the pour is the next work
//! day: no work day passes in an open bay that nobody uses. Then it cures; forms are stripped, sill and anchors set when
//! the concrete may be loaded, and a second hold point stands before anything is covered. A bay counts as *open* from
//! the first day of digging until its sill is set and the neighbor's cure gate is passed. Two bays are open together
//! only with enough untouched bays between them, and all that is open stays within the limit.
//!
//! ```
//! use retrofit_core::foundation::sequence::{Practice, Settings, WorkKind, WorkLength, check_schedule, divide, schedule};
//! use retrofit_core::measure::{Area, Length};
//!
//! let mut settings = Settings::of(Practice::shipped().unwrap());
//! settings.perimeter = Some(Length::feet(120));
//! let south = WorkLength {
//!     wall_line: 0,
//!     name: "south".to_owned(),
//!     from: Length::ZERO,
//!     to: Length::feet(22),
//!     line_length: Some(Length::feet(32)),
//!     plan: None,
//!     kind: WorkKind::Replace,
//!     concrete: Area::square_feet(2),
//! };
//! let bays = divide(&[south], &settings)?;
//! assert_eq!(bays.len(), 6, "22 ft in bays of no more than 4 ft");
//!
//! let plan = schedule(&bays, &settings)?;
//! assert!(plan.lower_bound <= plan.days());
//! assert!(check_schedule(&bays, &plan, &settings).is_empty());
//! # Ok::<(), retrofit_core::foundation::sequence::SequenceError>(())
//! ```

mod bays;
mod checker;
mod schedule;
mod settings;
mod side;

pub use bays::{Bay, WorkKind, WorkLength, divide};
pub use checker::{ScheduleFault, check_schedule};
pub use schedule::{OpenInterval, PourDay, Schedule, Task, schedule};
pub use settings::{Activity, Durations, Other, Practice, Published, SequenceError, Settings, Yards};
pub(super) use settings::{length, percent, published};
pub use side::SideAtATime;
