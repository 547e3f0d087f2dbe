//! Exact quantities: lengths, areas, slopes, and percentages that compare
//! exactly with the limits in a code book.
//!
//! A code says "72 in" and a survey says "6'-0\"". Whether the second meets the
//! first must not hang on a rounding error, so nothing here is read, stored, or
//! compared in floating point:
//!
//! | Type        | Held as                         | Reads and writes             |
//! |-------------|---------------------------------|------------------------------|
//! | [`Length`]  | whole nanometers, `i64`         | `6'-0"`, `8 1/2"`, `1830.1 mm` |
//! | [`Area`]    | whole square nanometers, `i128` | `72 sq in`, `1.5 sq ft`, `0.05 sq m` |
//! | [`Slope`]   | rise over run in lowest terms   | `3H:1V`, `33.3%`, `flat`    |
//! | [`Percent`] | whole hundredths of a percent   | `40%`, `33.3%`             |
//! | [`Force`]   | whole 10⁻¹³ N, `u128`           | `450 lb`, `2 kN`           |
//! | [`Pressure`] | whole 10⁻¹³ N/ft², `u128`      | `2500 psi`, `17 MPa`       |
//!
//! The nanometer is the base unit because both systems land on it exactly: an
//! inch is 25 400 000 nm, and even 1/64 in is a whole 396 875 nm.
//!
//! Each type is written in one text form, which [`Display`](std::fmt::Display),
//! [`FromStr`](std::str::FromStr), serde, and the JSON schema share. Reading
//! what was written always gives back the same value. A number without a unit
//! is never accepted, in text or in JSON; the refusal is a [`MeasureError`]
//! that says what was found, what was expected, and what to write instead.
//!
//! ```
//! use retrofit_core::measure::{Length, MeasureErrorKind};
//!
//! let limit: Length = "72 in".parse()?;
//! let spacing: Length = "6'-0\"".parse()?;
//! assert!(spacing <= limit);
//! assert_eq!(spacing.to_string(), "6'-0\"");
//!
//! let refused = "72".parse::<Length>().unwrap_err();
//! assert_eq!(refused.kind(), MeasureErrorKind::MissingUnit);
//! assert_eq!(
//!     refused.to_string(),
//!     r#"found the bare number 72; write a unit, for example "72 in" or "6'-0\"""#,
//! );
//! # Ok::<(), retrofit_core::measure::MeasureError>(())
//! ```

mod area;
mod error;
mod length;
mod load;
mod percent;
mod slope;
mod text;
mod wire;

pub use area::Area;
pub use error::{MeasureError, MeasureErrorKind};
pub use length::{FeetInches, Length, Metric};
pub use load::{Force, Pressure};
pub use percent::Percent;
pub use slope::Slope;
