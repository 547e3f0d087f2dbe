//! What a calculation is done with: bare numbers, or numbers that remember where they came from.
//!
//! Equations are written once, over any [`Number`]. With `f64` they compile to bare arithmetic. With [`Traced`] every
//! operation leaves a node behind, so that the equation a reader is shown is the one that was computed. With
//! [`Tagged`] a number carries the weakest standing of what it rests on.

use std::cell::Cell;

use typed_arena::Arena;

use super::unit::Unit;
use crate::provisions::Standing;

/// An operation on two numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Binary {
    /// The sum.
    Add,
    /// The difference.
    Subtract,
    /// The product.
    Multiply,
    /// The quotient.
    Divide,
    /// The smaller of the two.
    Smaller,
    /// The larger of the two.
    Larger,
}

impl Binary {
    #[inline]
    fn of(self, a: f64, b: f64) -> f64 {
        match self {
            Self::Add => a + b,
            Self::Subtract => a - b,
            Self::Multiply => a * b,
            Self::Divide => a / b,
            Self::Smaller => a.min(b),
            Self::Larger => a.max(b),
        }
    }
}

/// An operation on one number.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Unary {
    /// The square root.
    Root,
    /// A power.
    Power(f64),
    /// The number of units in a quantity, for an equation that is written in them.
    In(Unit),
    /// The quantity that is so many units.
    Of(Unit),
}

impl Unary {
    #[inline]
    fn of(self, a: f64) -> f64 {
        match self {
            Self::Root => a.sqrt(),
            Self::Power(exponent) => a.powf(exponent),
            Self::In(unit) => a / unit.factor(),
            Self::Of(unit) => a * unit.factor(),
        }
    }
}

/// A number that equations can be written over.
pub trait Number: Copy {
    /// The number itself, in pounds and inches.
    fn value(self) -> f64;
    /// An operation on two numbers.
    #[must_use]
    fn binary(self, operation: Binary, other: Self) -> Self;
    /// An operation with a factor or term that stands in the equation itself.
    #[must_use]
    fn literal(self, operation: Binary, literal: f64, literal_first: bool) -> Self;
    /// An operation on one number.
    #[must_use]
    fn unary(self, operation: Unary) -> Self;
    /// Gives the number a name and the clause it follows from.
    #[must_use]
    fn named(self, standing: Standing, step: impl FnOnce() -> Step) -> Self;
}

impl Number for f64 {
    #[inline]
    fn value(self) -> f64 {
        self
    }
    #[inline]
    fn binary(self, operation: Binary, other: Self) -> Self {
        operation.of(self, other)
    }
    #[inline]
    fn literal(self, operation: Binary, literal: f64, literal_first: bool) -> Self {
        if literal_first {
            operation.of(literal, self)
        } else {
            operation.of(self, literal)
        }
    }
    #[inline]
    fn unary(self, operation: Unary) -> Self {
        operation.of(self)
    }
    #[inline]
    fn named(self, _: Standing, _: impl FnOnce() -> Step) -> Self {
        self
    }
}

/// A step of a calculation: what a number is called, and the clause its equation stands in.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Its symbol.
    pub symbol: String,
    /// What it is, in words.
    pub words: String,
    /// Whose it is, where there are several alike: a wall line, an anchor, a floor.
    pub subject: String,
    /// The unit it is shown in.
    pub unit: Unit,
    /// The document and its edition.
    pub document: String,
    /// The section, table or equation.
    pub section: String,
    /// How well the equation's source was seen.
    pub standing: Standing,
}

/// Where an input came from.
#[derive(Clone, Debug, PartialEq)]
pub enum Origin {
    /// The record of the house: the place in the file, and how the value is known.
    House {
        /// The path in the house file.
        path: String,
        /// How it is known.
        basis: crate::observation::Basis,
    },
    /// A row of a table.
    Table {
        /// The document.
        document: String,
        /// The section or table.
        section: String,
        /// How well it was seen.
        standing: Standing,
        /// A note for the reader.
        note: String,
    },
    /// Not known; one end of what it can be, by a row of a table or by the bounds on record.
    Unknown {
        /// What it can be, least and most, in pounds and inches.
        between: (f64, f64),
        /// The document that says so.
        document: String,
        /// The section or table.
        section: String,
        /// How well it was seen.
        standing: Standing,
        /// A note for the reader.
        note: String,
    },
    /// Chosen by whoever asked for the screen.
    Setting {
        /// The clause that offers the choice, and how well it was seen.
        document: String,
        /// The section.
        section: String,
        /// How well it was seen.
        standing: Standing,
    },
}

/// An input of a calculation.
#[derive(Clone, Debug, PartialEq)]
pub struct Given {
    /// Its symbol.
    pub symbol: String,
    /// What it is, in words.
    pub words: String,
    /// The unit it is shown in.
    pub unit: Unit,
    /// Where it came from.
    pub origin: Origin,
}

/// The place of an unknown among the unknowns of a house.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct UnknownId(pub u8);

/// Makes the numbers of a calculation: every input comes in through it.
pub trait Ledger: Copy {
    /// The kind of number it makes.
    type Number: Number;
    /// An input, in pounds and inches.
    fn given(
        self,
        value: f64,
        standing: Standing,
        unknown: Option<UnknownId>,
        given: impl FnOnce() -> Given,
    ) -> Self::Number;
    /// An unknown that decided between inputs.
    fn notice(self, _: UnknownId) {}
}

/// Bare numbers.
#[derive(Clone, Copy, Debug, Default)]
pub struct Bare;

impl Ledger for Bare {
    type Number = f64;
    #[inline]
    fn given(self, value: f64, _: Standing, _: Option<UnknownId>, _: impl FnOnce() -> Given) -> f64 {
        value
    }
}

/// A number with what it rests on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tagged {
    value: f64,
    /// The weakest standing of a figure or an equation behind it.
    pub weakest: Standing,
}

impl Tagged {
    fn with(self, value: f64, other: Self) -> Self {
        Self {
            value,
            weakest: self.weakest.max(other.weakest),
        }
    }
}

impl Number for Tagged {
    fn value(self) -> f64 {
        self.value
    }
    fn binary(self, operation: Binary, other: Self) -> Self {
        self.with(operation.of(self.value, other.value), other)
    }
    fn literal(self, operation: Binary, literal: f64, literal_first: bool) -> Self {
        Self {
            value: self.value.literal(operation, literal, literal_first),
            ..self
        }
    }
    fn unary(self, operation: Unary) -> Self {
        Self {
            value: operation.of(self.value),
            ..self
        }
    }
    fn named(self, standing: Standing, _: impl FnOnce() -> Step) -> Self {
        Self {
            weakest: self.weakest.max(standing),
            ..self
        }
    }
}

/// Numbers that carry what they rest on; the unknowns among the inputs are gathered, a bit for each.
#[derive(Clone, Copy, Debug)]
pub struct Tagging<'a>(pub &'a Cell<u64>);

impl Ledger for Tagging<'_> {
    type Number = Tagged;
    fn given(
        self,
        value: f64,
        standing: Standing,
        unknown: Option<UnknownId>,
        _: impl FnOnce() -> Given,
    ) -> Tagged {
        if let Some(id) = unknown {
            self.notice(id);
        }
        Tagged {
            value,
            weakest: standing,
        }
    }
    fn notice(self, id: UnknownId) {
        self.0
            .set(self.0.get() | 1_u64.checked_shl(id.0.into()).unwrap_or(0));
    }
}

/// What one operation left behind.
pub struct Node<'a> {
    pub(super) value: f64,
    pub(super) kind: Kind<'a>,
}

pub(super) enum Kind<'a> {
    Given(Given),
    Binary(Binary, &'a Node<'a>, &'a Node<'a>),
    Literal(Binary, &'a Node<'a>, f64, bool),
    Unary(Unary, &'a Node<'a>),
    Named(&'a Node<'a>, Step),
}

/// A number that remembers how it was computed.
#[derive(Clone, Copy)]
pub struct Traced<'a> {
    arena: &'a Arena<Node<'a>>,
    pub(super) node: &'a Node<'a>,
}

impl<'a> Traced<'a> {
    fn leave(self, value: f64, kind: Kind<'a>) -> Self {
        Self {
            node: self.arena.alloc(Node { value, kind }),
            ..self
        }
    }
}

impl Number for Traced<'_> {
    fn value(self) -> f64 {
        self.node.value
    }
    fn binary(self, operation: Binary, other: Self) -> Self {
        let value = operation.of(self.value(), other.value());
        self.leave(value, Kind::Binary(operation, self.node, other.node))
    }
    fn literal(self, operation: Binary, literal: f64, literal_first: bool) -> Self {
        let value = self.value().literal(operation, literal, literal_first);
        self.leave(value, Kind::Literal(operation, self.node, literal, literal_first))
    }
    fn unary(self, operation: Unary) -> Self {
        self.leave(operation.of(self.value()), Kind::Unary(operation, self.node))
    }
    fn named(self, _: Standing, step: impl FnOnce() -> Step) -> Self {
        self.leave(self.value(), Kind::Named(self.node, step()))
    }
}

/// Numbers that remember, in an arena that is dropped with the calculation.
#[derive(Clone, Copy)]
pub struct Tracing<'a>(pub &'a Arena<Node<'a>>);

impl<'a> Ledger for Tracing<'a> {
    type Number = Traced<'a>;
    fn given(
        self,
        value: f64,
        _: Standing,
        _: Option<UnknownId>,
        given: impl FnOnce() -> Given,
    ) -> Traced<'a> {
        Traced {
            arena: self.0,
            node: self.0.alloc(Node {
                value,
                kind: Kind::Given(given()),
            }),
        }
    }
}
