//! Quantities whose dimension the compiler knows, over any kind of number.
//!
//! ```
//! use retrofit_core::screen::{POUND, INCH, POUND_INCH, Force, Distance, Moment};
//! let uplift: Force<f64> = POUND.of(1200.0);
//! let arm: Distance<f64> = INCH.of(90.0);
//! let moment: Moment<f64> = uplift * arm;
//! assert_eq!(moment.to(POUND_INCH), 108_000.0);
//! ```
//!
//! A force cannot be added to a length:
//!
//! ```compile_fail,E0308
//! use retrofit_core::screen::{POUND, INCH};
//! let nonsense = POUND.of(1.0) + INCH.of(1.0);
//! ```

use std::marker::PhantomData;
use std::ops::{Add, Div, Mul, Sub};

use typenum::{Diff, Integer, N1, N2, N3, P1, P2, P3, PartialDiv, PartialQuot, Sum, Z0};

use super::number::{Binary, Number, Step, Unary};
use super::standard::{Edition, Equation};
use super::unit::TypedUnit;

/// A quantity of the dimension force to the power `F` and length to the power `L`.
pub struct Quantity<F, L, N> {
    number: N,
    dimension: PhantomData<(F, L)>,
}

/// A plain number.
pub type Ratio<N> = Quantity<Z0, Z0, N>;
/// A force.
pub type Force<N> = Quantity<P1, Z0, N>;
/// A length.
pub type Distance<N> = Quantity<Z0, P1, N>;
/// An area.
pub type Surface<N> = Quantity<Z0, P2, N>;
/// A section modulus or a volume.
pub type Volume<N> = Quantity<Z0, P3, N>;
/// A force on an area.
pub type Stress<N> = Quantity<P1, N2, N>;
/// A force along a length, or for a deflection.
pub type LineLoad<N> = Quantity<P1, N1, N>;
/// A force in a volume.
pub type Density<N> = Quantity<P1, N3, N>;
/// A force at an arm.
pub type Moment<N> = Quantity<P1, P1, N>;

impl<F, L, N: Copy> Clone for Quantity<F, L, N> {
    fn clone(&self) -> Self {
        *self
    }
}
impl<F, L, N: Copy> Copy for Quantity<F, L, N> {}

impl<F, L, N: Number> std::fmt::Debug for Quantity<F, L, N> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}", self.number.value())
    }
}

impl<F, L, N: Number> Quantity<F, L, N> {
    pub(super) const fn new(number: N) -> Self {
        Self {
            number,
            dimension: PhantomData,
        }
    }

    /// The number behind it, in pounds and inches.
    pub const fn number(self) -> N {
        self.number
    }

    /// Its value in pounds and inches.
    pub fn value(self) -> f64 {
        self.number.value()
    }

    /// Its value in a unit.
    pub fn to(self, unit: TypedUnit<F, L>) -> f64 {
        self.value() / unit.unit().factor()
    }

    /// How many units it is, as a number to go on calculating with: for equations that are written in a unit.
    #[must_use]
    pub fn count(self, unit: TypedUnit<F, L>) -> Ratio<N> {
        Quantity::new(self.number.unary(Unary::In(unit.unit())))
    }

    /// The smaller of two.
    #[must_use]
    pub fn min(self, other: Self) -> Self {
        Self::new(self.number.binary(Binary::Smaller, other.number))
    }

    /// The larger of two.
    #[must_use]
    pub fn max(self, other: Self) -> Self {
        Self::new(self.number.binary(Binary::Larger, other.number))
    }

    /// A number times the quantity that stands in the equation itself, in pounds and inches.
    #[must_use]
    pub fn at_least(self, least: f64) -> Self {
        Self::new(self.number.literal(Binary::Larger, least, false))
    }

    /// The square root.
    #[must_use]
    pub fn sqrt(self) -> Quantity<PartialQuot<F, P2>, PartialQuot<L, P2>, N>
    where
        F: PartialDiv<P2>,
        L: PartialDiv<P2>,
    {
        Quantity::new(self.number.unary(Unary::Root))
    }

    /// Gives the quantity its name and clause.
    #[must_use]
    pub fn by(self, equation: &Equation, edition: &Edition) -> Self {
        self.by_for(equation, edition, String::new)
    }

    /// The same, for one of several alike.
    #[must_use]
    pub fn by_for(self, equation: &Equation, edition: &Edition, subject: impl FnOnce() -> String) -> Self {
        Self::new(self.number.named(equation.standing, || Step {
            symbol: equation.symbol.to_owned(),
            words: equation.words.to_owned(),
            subject: subject(),
            unit: equation.unit,
            document: edition.name(),
            section: edition.section(equation.section).to_owned(),
            standing: equation.standing,
        }))
    }
}

impl<N: Number> Ratio<N> {
    /// A power.
    #[must_use]
    pub fn powf(self, exponent: f64) -> Self {
        Self::new(self.number.unary(Unary::Power(exponent)))
    }

    /// So many units.
    #[must_use]
    pub fn of<F, L>(self, unit: TypedUnit<F, L>) -> Quantity<F, L, N> {
        Quantity::new(self.number.unary(Unary::Of(unit.unit())))
    }

    /// At most a limit that stands in the equation itself.
    #[must_use]
    pub fn at_most(self, most: f64) -> Self {
        Self::new(self.number.literal(Binary::Smaller, most, false))
    }

    /// Plus a term that stands in the equation itself.
    #[must_use]
    pub fn plus(self, term: f64) -> Self {
        Self::new(self.number.literal(Binary::Add, term, false))
    }

    /// Minus a term that stands in the equation itself.
    #[must_use]
    pub fn minus(self, term: f64) -> Self {
        Self::new(self.number.literal(Binary::Subtract, term, false))
    }

    /// A term that stands in the equation itself, minus this.
    #[must_use]
    pub fn from(self, term: f64) -> Self {
        Self::new(self.number.literal(Binary::Subtract, term, true))
    }
}

impl<F, L> TypedUnit<F, L> {
    /// So many of the unit, as a bare number.
    pub fn of(self, count: f64) -> Quantity<F, L, f64> {
        Quantity::new(count * self.unit().factor())
    }
}

impl<F, L, N: Number> Add for Quantity<F, L, N> {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::new(self.number.binary(Binary::Add, other.number))
    }
}

impl<F, L, N: Number> Sub for Quantity<F, L, N> {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::new(self.number.binary(Binary::Subtract, other.number))
    }
}

impl<F, L, G, M, N> Mul<Quantity<G, M, N>> for Quantity<F, L, N>
where
    F: Integer + Add<G>,
    L: Integer + Add<M>,
    N: Number,
{
    type Output = Quantity<Sum<F, G>, Sum<L, M>, N>;
    fn mul(self, other: Quantity<G, M, N>) -> Self::Output {
        Quantity::new(self.number.binary(Binary::Multiply, other.number))
    }
}

impl<F, L, G, M, N> Div<Quantity<G, M, N>> for Quantity<F, L, N>
where
    F: Integer + Sub<G>,
    L: Integer + Sub<M>,
    N: Number,
{
    type Output = Quantity<Diff<F, G>, Diff<L, M>, N>;
    fn div(self, other: Quantity<G, M, N>) -> Self::Output {
        Quantity::new(self.number.binary(Binary::Divide, other.number))
    }
}

impl<F, L, N: Number> Mul<Quantity<F, L, N>> for f64 {
    type Output = Quantity<F, L, N>;
    fn mul(self, other: Quantity<F, L, N>) -> Self::Output {
        Quantity::new(other.number.literal(Binary::Multiply, self, true))
    }
}

impl<F, L, N: Number> Div<f64> for Quantity<F, L, N> {
    type Output = Self;
    fn div(self, divisor: f64) -> Self {
        Self::new(self.number.literal(Binary::Divide, divisor, false))
    }
}
