//! The floor level survey: what was read, made comparable, and what it says.
//!
//! # From readings to findings
//!
//! 1. [`readings_from_csv`] reads a list of readings from a table; a house file holds them as
//!    [`house::Survey`](crate::house::Survey).
//! 2. [`Corrected`] takes drift of the instrument and thickness of floor finishes out of them, shown point by
//!    point, in exact lengths.
//! 3. [`Plane`] is the tilt of the floor as a whole; what is left is its distortion. A reading that stands
//!    apart from the plane, and that none of its neighbors bears out, is left out of the fit and named.
//! 4. [`Surface`] spans the readings with triangles; [`contours`](Surface::contours) and
//!    [`section`](Surface::section) are exact to it.
//! 5. [`Profile`] is the floor along a line: slopes, angular distortion, deflection ratio.
//! 6. [`Limits`] are the published limits, each with its source; [`Compared`] says for each one whether it is
//!    kept, exceeded, or within what the readings can be off.
//! 7. [`Movement`] is the difference of two surveys.
//! 8. [`Damage`] classes cracks, doors and walls by a published scale.
//!
//! [`SurveyFindings`] brings it all together for one survey.
//!
//! Heights are exact [`Length`](crate::measure::Length)s up to the fit. A fit, a slope and a ratio are
//! computed in floating point, in inches, together with what the readings can be off ([`Uncertain`]); a
//! comparison that depends on that is *maybe*.

mod condition;
mod contour;
mod corrections;
mod findings;
mod limits;
mod movement;
mod plane;
mod profile;
mod readings_csv;
mod section;
mod surface;
mod uncertain;

pub use condition::{CrackFinding, Damage, DamageCategory, DoorFinding, PlumbFinding};
pub use contour::{Contour, ContourError, MOST_LEVELS};
pub use corrections::{BaseLeg, Closure, Corrected, FinishStep, Point, SurveyError};
pub use findings::{LevelFinding, LineFindings, SurveyFindings};
pub use limits::{Compared, Limit, LimitMeasure, LimitValue, Limits};
pub(crate) use limits::{Documents, origin, read_sources};
pub use movement::{Moved, Movement, MovementError};
pub use plane::{Apart, FitError, Plane, READINGS_TO_TELL_APART};
pub use profile::{Deflection, Distortion, Profile, ProfileError, ProfilePoint, REACH};
pub use readings_csv::{ReadingsFile, readings_from_csv};
pub use section::{SectionPoint, SectionRun};
pub use surface::Surface;
pub use uncertain::Uncertain;
