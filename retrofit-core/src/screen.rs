//! What an earthquake asks of a house's load path, and what the path can give.
mod asce7;
mod derivation;
mod input;
mod method;
mod number;
mod plan;
mod quantity;
mod range;
mod sdpws;
mod shipped;
mod soil;
mod standard;
mod unit;

pub use asce7::{
    Asce7, Asce7Error, Coefficients, Combination, Demand, DesignCategory, Finishes, Ground, LateralSystem,
    Level, MOST_LEVELS, Redundancy, SystemFactors,
};
pub use derivation::{Content, Derivation, Expression, Line};
pub use method::Method;
pub use number::{
    Bare, Binary, Given, Ledger, Number, Origin, Step, Tagged, Tagging, Traced, Tracing, Unary, UnknownId,
};
pub use plan::{Direction, FloorPlan, PlacedLine, PlanError};
pub use quantity::{Density, Distance, Force, LineLoad, Moment, Quantity, Ratio, Stress, Surface, Volume};
pub use range::OutOfRange;
pub use sdpws::{
    Boundary, Covering, Family, PanelGrade, Panelling, Sdpws, ShearWallError, Sill, UnitShear, Wall,
};
pub use soil::{EccentricLoad, Soil, SoilError};
pub use standard::{Cell, Edition, Equation, Figure, StandardName, StandardTable};
pub use unit::*;
