//! What an earthquake asks of a house's load path, and what the path can give.

pub mod aci318;
mod derivation;
mod equation;
mod method;
pub mod nds;
mod number;
mod quantity;
mod range;
mod shipped;
mod standard;
mod unit;

pub use derivation::{Content, Derivation, Expression, Line};
pub use method::Method;
pub use number::{
    Bare, Binary, Given, Ledger, Number, Origin, Step, Tagged, Tagging, Traced, Tracing, Unary, UnknownId,
};
pub use quantity::{Density, Distance, Force, LineLoad, Moment, Quantity, Ratio, Stress, Surface, Volume};
pub use range::OutOfRange;
pub use standard::{Cell, Edition, Equation, Figure, StandardName, StandardTable};
pub use unit::*;
