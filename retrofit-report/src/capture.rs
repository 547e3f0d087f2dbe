//! Taking a house down: one list of questions, with three faces.
//!
//! [`SECTIONS`] holds every question in the order of a crawl, and the schema of the house file says what kind of answer
//! each takes ([`Answers`]). From these come a commented file to fill in ([`Record::starter`], [`Record::written`]), a
//! [`Session`] that asks on a terminal, and a form on paper ([`Form`]); so paper, file and program cannot drift apart.
//!
//! ```
//! use retrofit_report::capture::{Depth, Record, Session};
//! use retrofit_report::language::{Language, Words};
//!
//! let words = Words::of(Language::ENGLISH)?;
//! let record = Record::starter("Tamarind Gate", &["north", "east"]);
//! let mut session = Session::new(record, Depth::Checked, &words)?;
//! while let Some(place) = session.place() {
//!     if place.path() == "building.stories" {
//!         session.answer("reported 1.5")?;
//!         break;
//!     }
//!     session.skip();
//! }
//! let house = session.record().house().expect("the record makes sense");
//! assert!(house.building.stories.is_known());
//! # Ok::<(), retrofit_report::capture::CaptureError>(())
//! ```

mod answer;
mod form;

mod listing;
mod path;
mod prompt;
mod question;
mod record;
mod session;
mod starter;

pub use answer::{Answer, AnswerError, Answers, Kind};

pub use form::{Form, FormPart, Row, Sheet};
pub use listing::{List, ListError};
pub use question::{Depth, NOT_ASKED, Question, SECTIONS, Section, When, questions};
pub use record::Record;
pub use session::{CaptureError, Given, Place, Session};
