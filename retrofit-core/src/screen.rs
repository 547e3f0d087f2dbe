//! What an earthquake asks of a house's load path, and what the path can give: a screen, not a design.
//!
//! [`screen`] computes, for each wall line and each link from floor to soil, demand over capacity; it names the weakest
//! link, and at which shaking each link reaches its capacity. What is not known stands at both ends of what it can be,
//! so that a result is a range, and the unknown that widens it most is named. Every number can show how it was computed.
//!
//! ```
//! use retrofit_core::house::{AsBuilt, House};
//! use retrofit_core::screen::{Options, Standards, screen};
//!
//! let record = include_str!("../../examples/quince-lantern-way.json");
//! let house: House = serde_json::from_str(record)?;
//! let house = AsBuilt::new(house).expect("the record makes sense");
//! let standards = Standards::shipped().expect("the shipped tables are in order");
//! let screen = screen(&house, standards, Options::default()).expect("the house can be computed");
//! let north = &screen.lines[0];
//! // Nothing holds the sill and nothing braces the studs: those links have no capacity at all.
//! assert!(north.weakest.is_some());
//! # Ok::<(), serde_json::Error>(())
//! ```

pub mod aci318;
mod agreement;
mod asce7;
mod cases;
mod demand;
mod derivation;
mod diaphragm;
mod equation;
mod existing;
mod input;
mod line;
mod link;
mod method;
mod model;
pub mod nds;
mod number;
mod plan;
mod quantity;
mod range;
mod result;
mod sdpws;
mod shipped;
mod soil;
mod standard;
mod standards;
mod unit;
mod weights;

pub use agreement::{Agreement, LineAgreement, agreement};
pub use asce7::{
    Asce7, Asce7Error, Coefficients, Combination, Demand, DesignCategory, Finishes, Ground, LateralSystem,
    Level, MOST_LEVELS, Redundancy, SystemFactors,
};
pub use cases::screen;
pub use derivation::{Content, Derivation, Expression, Line};
pub use diaphragm::{Acting, Resisting, RigidFloor};
pub use existing::ExistingBuildings;
pub use input::UnknownKind;
pub use link::LinkKind;
pub use method::Method;
pub use model::{Declined, Options, STRONGEST};
pub use number::{
    Bare, Binary, Given, Ledger, Number, Origin, Step, Tagged, Tagging, Traced, Tracing, Unary, UnknownId,
};
pub use plan::{Direction, FloorPlan, PlacedLine, PlanError};
pub use quantity::{Density, Distance, Force, LineLoad, Moment, Quantity, Ratio, Stress, Surface, Volume};
pub use range::OutOfRange;
pub use result::{
    DirectionScreen, End, LevelForce, LineScreen, LinkResult, LinkScreen, Path, Range, Screen, Shear, Value,
    WeightPart,
};
pub use sdpws::{
    Boundary, Covering, Family, PanelGrade, Panelling, Sdpws, ShearWallError, Sill, UnitShear, Wall,
};
pub use soil::{EccentricLoad, Soil, SoilError};
pub use standard::{Cell, Edition, Equation, Figure, Series, StandardName, StandardTable};
pub use standards::{StandardFolder, Standards};
pub use unit::*;
pub use weights::DeadLoads;
