//! How a number was computed, read off the calculation itself.

use std::collections::HashMap;

use super::number::{Binary, Given, Kind, Node, Number, Step, Traced, Unary};
use super::quantity::Quantity;
use super::unit::Unit;

/// How the numbers of one case were computed: lines in order, each after those it uses.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Derivation {
    /// The lines.
    pub lines: Vec<Line>,
}

/// One line of a derivation.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Its value, in pounds and inches.
    pub value: f64,
    /// What it is.
    pub content: Content,
}

/// What a line of a derivation says.
#[derive(Clone, Debug, PartialEq)]
pub enum Content {
    /// An input.
    Given(Given),
    /// A step, with what was computed.
    Step(Step, Expression),
}

impl Line {
    /// The symbol.
    pub fn symbol(&self) -> &str {
        match &self.content {
            Content::Given(given) => &given.symbol,
            Content::Step(step, _) => &step.symbol,
        }
    }

    /// What it is, in words.
    pub fn words(&self) -> &str {
        match &self.content {
            Content::Given(given) => &given.words,
            Content::Step(step, _) => &step.words,
        }
    }

    /// The unit it is shown in.
    pub const fn unit(&self) -> Unit {
        match &self.content {
            Content::Given(given) => given.unit,
            Content::Step(step, _) => step.unit,
        }
    }
}

/// What was computed, over earlier lines.
#[derive(Clone, Debug, PartialEq)]
pub enum Expression {
    /// An earlier line.
    Line(usize),
    /// A number that stands in the equation itself.
    Literal(f64),
    /// An operation on two.
    Binary(Binary, Box<Expression>, Box<Expression>),
    /// An operation on one.
    Unary(Unary, Box<Expression>),
}

impl Expression {
    /// Adds the lines it is over to a list.
    fn lines(&self, list: &mut Vec<usize>) {
        match self {
            Self::Line(line) => list.push(*line),
            Self::Literal(_) => {}
            Self::Binary(_, a, b) => {
                a.lines(list);
                b.lines(list);
            }
            Self::Unary(_, a) => a.lines(list),
        }
    }

    /// The expression computed anew from the values of the lines: what a reader with a calculator gets.
    pub fn evaluate(&self, lines: &[Line]) -> f64 {
        match self {
            Self::Line(line) => lines.get(*line).map_or(f64::NAN, |line| line.value),
            Self::Literal(literal) => *literal,
            Self::Binary(operation, a, b) => a.evaluate(lines).binary(*operation, b.evaluate(lines)),
            Self::Unary(operation, a) => a.evaluate(lines).unary(*operation),
        }
    }
}

impl Derivation {
    /// How a quantity was computed; it is the last line.
    pub fn of<F, L>(quantity: Quantity<F, L, Traced<'_>>) -> Self {
        let mut reader = Reader::default();
        reader.line(quantity.number().node);
        reader.finish()
    }

    /// The value of the last line.
    pub fn value(&self) -> Option<f64> {
        self.lines.last().map(|line| line.value)
    }

    /// The lines that one line rests on, itself the last, in order.
    pub fn behind(&self, line: usize) -> Vec<usize> {
        let mut needed = vec![false; self.lines.len()];
        let mut open = vec![line];
        while let Some(line) = open.pop() {
            if let (Some(is_needed @ false), Some(content)) = (needed.get_mut(line), self.lines.get(line)) {
                *is_needed = true;
                if let Content::Step(_, expression) = &content.content {
                    expression.lines(&mut open);
                }
            }
        }
        (0..)
            .zip(needed)
            .filter(|(_, is_needed)| *is_needed)
            .map(|(line, _)| line)
            .collect()
    }
}

/// Reads numbers off their nodes; what several rest on is read once.
#[derive(Default)]
pub(super) struct Reader {
    lines: Vec<Line>,
    places: HashMap<*const (), usize>,
}

impl Reader {
    pub(super) fn finish(self) -> Derivation {
        Derivation { lines: self.lines }
    }

    /// The line of a number.
    pub(super) fn line(&mut self, node: &Node<'_>) -> usize {
        let place = std::ptr::from_ref(node).cast::<()>();
        if let Some(line) = self.places.get(&place) {
            return *line;
        }
        let content = match &node.kind {
            Kind::Given(given) => Content::Given(given.clone()),
            Kind::Named(inner, step) => {
                let expression = self.expression(inner);
                Content::Step(step.clone(), expression)
            }
            // Every result has a name; a number without one is shown as what was computed.
            _ => {
                let expression = self.expression(node);
                Content::Step(Step::unnamed(), expression)
            }
        };
        self.lines.push(Line {
            value: node.value,
            content,
        });
        self.places.insert(place, self.lines.len() - 1);
        self.lines.len() - 1
    }

    fn expression(&mut self, node: &Node<'_>) -> Expression {
        match &node.kind {
            Kind::Given(_) | Kind::Named(..) => Expression::Line(self.line(node)),
            Kind::Binary(operation, a, b) => {
                let a = Box::new(self.expression(a));
                Expression::Binary(*operation, a, Box::new(self.expression(b)))
            }
            Kind::Literal(operation, a, literal, literal_first) => {
                let a = Box::new(self.expression(a));
                let literal = Box::new(Expression::Literal(*literal));
                let (a, b) = if *literal_first {
                    (literal, a)
                } else {
                    (a, literal)
                };
                Expression::Binary(*operation, a, b)
            }
            Kind::Unary(operation, a) => Expression::Unary(*operation, Box::new(self.expression(a))),
        }
    }
}

impl Step {
    fn unnamed() -> Self {
        Self {
            symbol: String::new(),
            words: String::new(),
            subject: String::new(),
            unit: Unit::Plain,
            document: String::new(),
            section: String::new(),
            standing: crate::provisions::Standing::Verified,
        }
    }
}
