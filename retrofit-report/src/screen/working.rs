//! How every number of a screen was computed: the derivations of the core in words, symbols and numbers.
//!
//! The core keeps a book of lines for each case. Here the books become one list in which a line that stands in several
//! of them stands once, so that a report can show it once and lead to it from wherever it is used again.

use std::collections::HashMap;
use std::fmt::Write;

use retrofit_core::screen::{
    Binary, Content, Derivation, Expression, Given, Line, Origin, Range, Step, Unary,
};
use schemars::JsonSchema;
use serde::Serialize;

use super::amount::{Amount, Units, in_equation, number};
use crate::result::wording::plain;

/// Significant digits of a number that stands in an equation itself.
const OF_LITERAL: i32 = 7;

/// One line of a derivation: an input, or a step with its equation.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct WorkLine {
    /// Its symbol; empty where it has none of its own.
    pub symbol: String,
    /// What it is, in words.
    pub words: String,
    /// Whose it is, where there are several alike: a wall line, a part of the house.
    pub subject: String,
    /// Its value.
    pub value: Amount,
    /// The equation in symbols, without its left side; null for an input. Symbols that stand for several inputs of one
    /// equation are numbered in the order of `inputs`.
    pub equation: Option<String>,
    /// The equation in numbers with units; null for an input.
    pub numbers: Option<String>,
    /// The lines that the equation is over, as positions in the list.
    pub inputs: Vec<usize>,
    /// Where it comes from.
    pub source: Source,
    /// The line of the core, its expression over positions in the list.
    #[serde(skip)]
    pub(crate) line: Line,
}

/// Where a line of a derivation comes from.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Source {
    /// Of what kind.
    pub kind: SourceKind,
    /// The document, with its edition; empty where there is none.
    pub document: String,
    /// Section, table or equation; empty where there is none.
    pub section: String,
    /// How well it was seen, as tables spell it; empty for what stands in the record of the house.
    pub standing: &'static str,
    /// The same in words.
    pub standing_words: &'static str,
    /// The place in the house file; empty for anything else.
    pub path: String,
    /// How it is known: measured, seen, reported or inferred; empty for anything else.
    pub known: String,
    /// What it may be, where it is not known; it stands at one end of it.
    pub between: Option<Amount>,
    /// A note on the figure.
    pub note: String,
}

/// Kinds of sources.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum SourceKind {
    /// An equation.
    Equation,
    /// The record of the house.
    Record,
    /// A figure of a table.
    Table,
    /// Not known: one end of what it may be.
    Unknown,
    /// Chosen by whoever asked for the screen.
    Setting,
}

impl Source {
    fn of_step(step: &Step) -> Self {
        Self {
            document: plain(&step.document),
            section: plain(&step.section),
            ..Self::new(SourceKind::Equation).seen(step.standing)
        }
    }

    fn of_given(given: &Given, units: Units) -> Self {
        let from = |kind, document: &str, section: &str, standing, note: &str| Self {
            document: if document == "none" {
                String::new()
            } else {
                plain(document)
            },
            section: plain(section),
            note: plain(note),
            ..Self::new(kind).seen(standing)
        };
        match &given.origin {
            Origin::House { path, basis } => Self {
                path: plain(path),
                known: basis.word().to_owned(),
                ..Self::new(SourceKind::Record)
            },
            Origin::Table {
                document,
                section,
                standing,
                note,
            } => from(SourceKind::Table, document, section, *standing, note),
            Origin::Unknown {
                between: (low, high),
                document,
                section,
                standing,
                note,
            } => Self {
                between: Some(Amount::of(
                    Range {
                        low: *low,
                        high: *high,
                    },
                    given.unit,
                    units,
                )),
                ..from(SourceKind::Unknown, document, section, *standing, note)
            },
            Origin::Setting {
                document,
                section,
                standing,
            } => from(SourceKind::Setting, document, section, *standing, ""),
        }
    }

    const fn new(kind: SourceKind) -> Self {
        Self {
            kind,
            document: String::new(),
            section: String::new(),
            standing: "",
            standing_words: "",
            path: String::new(),
            known: String::new(),
            between: None,
            note: String::new(),
        }
    }

    fn seen(self, standing: retrofit_core::provisions::Standing) -> Self {
        Self {
            standing: standing.spelling(),
            standing_words: standing.words(),
            ..self
        }
    }

    /// Where it comes from, in a sentence without its full stop.
    pub(crate) fn words(&self) -> String {
        let mut words = match self.kind {
            SourceKind::Record => return format!("in the house file at {}, {}", self.path, self.known),
            SourceKind::Unknown => match &self.between {
                Some(between) => format!("not known; it may be {}", between.shown),
                None => "not known".to_owned(),
            },
            SourceKind::Setting => "as asked for".to_owned(),
            SourceKind::Equation | SourceKind::Table => String::new(),
        };
        let place: Vec<&str> = [self.document.as_str(), self.section.as_str()]
            .into_iter()
            .filter(|part| !part.is_empty())
            .collect();
        for part in [
            place.join(", "),
            // Equilibrium, and the sum of a takeoff, are nobody's to confirm.
            if self.kind == SourceKind::Equation
                && matches!(self.document.as_str(), "Statics" | "Weights of materials")
            {
                String::new()
            } else {
                self.standing_words.to_owned()
            },
            self.note.clone(),
        ] {
            if !part.is_empty() {
                if !words.is_empty() {
                    words.push_str("; ");
                }
                words.push_str(&part);
            }
        }
        words
    }
}

/// The lines of all books, each once, and where each line of each book went.
#[derive(Debug, Default)]
pub(super) struct Workings {
    pub(super) lines: Vec<WorkLine>,
    places: Vec<Vec<usize>>,
}

impl Workings {
    pub(super) fn of(books: &[Derivation], units: Units) -> Self {
        let mut workings = Self::default();
        let mut known: HashMap<String, usize> = HashMap::new();
        let mut lines: Vec<Line> = Vec::new();
        for book in books {
            let mut places: Vec<usize> = Vec::with_capacity(book.lines.len());
            for line in &book.lines {
                let content = match &line.content {
                    Content::Given(given) => Content::Given(given.clone()),
                    Content::Step(step, expression) => Content::Step(
                        step.clone(),
                        moved(expression, &|line| {
                            places.get(line).copied().unwrap_or(usize::MAX)
                        }),
                    ),
                };
                let line = Line {
                    value: line.value,
                    content,
                };
                let place = *known.entry(format!("{line:?}")).or_insert_with(|| {
                    lines.push(line);
                    lines.len() - 1
                });
                places.push(place);
            }
            workings.places.push(places);
        }
        workings.lines = lines
            .iter()
            .map(|line| WorkLine::of(line, &lines, units))
            .collect();
        workings
    }

    /// Where a line of a book went.
    pub(super) fn place(&self, line: Option<(usize, usize)>) -> Option<usize> {
        let (book, line) = line?;
        self.places.get(book)?.get(line).copied()
    }
}

fn moved(expression: &Expression, to: &dyn Fn(usize) -> usize) -> Expression {
    let boxed = |expression: &Expression| Box::new(moved(expression, to));
    match expression {
        Expression::Line(line) => Expression::Line(to(*line)),
        Expression::Literal(literal) => Expression::Literal(*literal),
        Expression::Binary(operation, a, b) => Expression::Binary(*operation, boxed(a), boxed(b)),
        Expression::Unary(operation, a) => Expression::Unary(*operation, boxed(a)),
    }
}

impl WorkLine {
    fn of(line: &Line, lines: &[Line], units: Units) -> Self {
        let value = Amount::step(line.value, line.unit(), units);
        let symbol = plain(line.symbol());
        let words = plain(line.words());
        match &line.content {
            Content::Given(given) => Self {
                symbol,
                words,
                subject: String::new(),
                value,
                equation: None,
                numbers: None,
                inputs: Vec::new(),
                source: Source::of_given(given, units),
                line: line.clone(),
            },
            Content::Step(step, expression) => {
                let inputs = inputs(expression);
                let names = names(line.symbol(), &inputs, &|line| {
                    lines.get(line).map_or("", Line::symbol)
                });
                Self {
                    symbol,
                    words,
                    subject: plain(&step.subject),
                    value,
                    equation: Some(equation(expression, &|line| named(&names, line))),
                    numbers: Some(equation(expression, &|line| {
                        lines
                            .get(line)
                            .map_or_else(String::new, |line| in_equation(line.value, line.unit(), units))
                    })),
                    inputs,
                    source: Source::of_step(step),
                    line: line.clone(),
                }
            }
        }
    }

    /// What it is, with whose it is.
    pub(crate) fn title(&self) -> String {
        let words = if self.words.is_empty() {
            "computed value"
        } else {
            &self.words
        };
        if self.subject.is_empty() {
            words.to_owned()
        } else {
            format!("{words}: {}", self.subject)
        }
    }

    /// Its expression over the list; `None` for an input.
    pub(crate) const fn expression(&self) -> Option<&Expression> {
        match &self.line.content {
            Content::Step(_, expression) => Some(expression),
            Content::Given(_) => None,
        }
    }

    /// The names that its equation gives to its inputs, in their order.
    pub(crate) fn input_names(&self, lines: &[Self]) -> Vec<(usize, String)> {
        names(&self.symbol, &self.inputs, &|line| {
            lines.get(line).map_or("", |line| line.symbol.as_str())
        })
    }
}

/// The lines that an expression is over, each once, in the order in which they stand in it.
fn inputs(expression: &Expression) -> Vec<usize> {
    fn add(expression: &Expression, list: &mut Vec<usize>) {
        match expression {
            Expression::Line(line) => {
                if !list.contains(line) {
                    list.push(*line);
                }
            }
            Expression::Literal(_) => {}
            Expression::Binary(_, a, b) => {
                add(a, list);
                add(b, list);
            }
            Expression::Unary(_, a) => add(a, list),
        }
    }
    let mut list = Vec::new();
    add(expression, &mut list);
    list
}

/// The names of inputs in one equation: symbols that stand for several of them, or for the result too, are numbered.
fn names<'a>(result: &str, inputs: &[usize], symbol: &dyn Fn(usize) -> &'a str) -> Vec<(usize, String)> {
    inputs
        .iter()
        .enumerate()
        .map(|(place, line)| {
            let of = symbol(*line);
            let alike = |other: &&usize| symbol(**other) == of;
            let name = if inputs.iter().filter(alike).count() > 1 || of == result {
                let before = inputs.iter().take(place).filter(alike).count();
                format!("{}[{}]", plain(of), before + 1)
            } else {
                plain(of)
            };
            (*line, name)
        })
        .collect()
}

pub(crate) fn named(names: &[(usize, String)], line: usize) -> String {
    let name = names
        .iter()
        .find(|(other, _)| *other == line)
        .map_or("", |(_, name)| name);
    // A name of several words or with a stroke would read as a product or a quotient.
    if name.contains([' ', '/']) {
        format!("({name})")
    } else {
        name.to_owned()
    }
}

/// How tightly an operation binds.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Binds {
    Sum,
    Product,
    /// What stands right of a minus or a stroke.
    Right,
    Power,
}

/// An expression as a reader knows it, each line by its name or by its value.
pub(crate) fn equation(expression: &Expression, name: &dyn Fn(usize) -> String) -> String {
    let mut text = String::new();
    write(expression, Binds::Sum, name, &mut text);
    text
}

fn write(expression: &Expression, within: Binds, name: &dyn Fn(usize) -> String, text: &mut String) {
    match expression {
        Expression::Line(line) => {
            let name = name(*line);
            // A quantity with its unit is raised as a whole, and 1 lb / 2 ft over which something stands is one too.
            let is_loose = within >= Binds::Right && name.contains(' ') && !name.starts_with('(');
            if is_loose {
                let _ = write!(text, "({name})");
            } else {
                text.push_str(&name);
            }
        }
        Expression::Literal(literal) => text.push_str(&number(*literal, OF_LITERAL)),
        Expression::Unary(operation, a) => match operation {
            Unary::Root => {
                text.push_str("√(");
                write(a, Binds::Sum, name, text);
                text.push(')');
            }
            Unary::Power(exponent) => {
                write(a, Binds::Power, name, text);
                let _ = write!(text, "^{}", number(*exponent, OF_LITERAL));
            }
            Unary::In(unit) | Unary::Of(unit) if unit.sign().is_empty() => write(a, within, name, text),
            Unary::In(unit) => bracketed(within > Binds::Product, text, |text| {
                write(a, Binds::Product, name, text);
                let _ = write!(text, " / (1 {})", unit.sign());
            }),
            Unary::Of(unit) => bracketed(within > Binds::Product, text, |text| {
                write(a, Binds::Product, name, text);
                let _ = write!(text, " × (1 {})", unit.sign());
            }),
        },
        Expression::Binary(operation, a, b) => {
            let (binds, sign, right) = match operation {
                Binary::Add => (Binds::Sum, " + ", Binds::Sum),
                Binary::Subtract => (Binds::Sum, " − ", Binds::Product),
                Binary::Multiply => (Binds::Product, " × ", Binds::Product),
                Binary::Divide => (Binds::Product, " / ", Binds::Right),
                Binary::Smaller | Binary::Larger => {
                    text.push_str(if *operation == Binary::Smaller {
                        "min("
                    } else {
                        "max("
                    });
                    let mut is_first = true;
                    each_of(*operation, expression, &mut |part| {
                        if !is_first {
                            text.push_str(", ");
                        }
                        is_first = false;
                        write(part, Binds::Sum, name, text);
                    });
                    text.push(')');
                    return;
                }
            };
            bracketed(within > binds, text, |text| {
                write(a, binds, name, text);
                text.push_str(sign);
                write(b, right, name, text);
            });
        }
    }
}

fn bracketed(is_bracketed: bool, text: &mut String, inside: impl FnOnce(&mut String)) {
    if is_bracketed {
        text.push('(');
    }
    inside(text);
    if is_bracketed {
        text.push(')');
    }
}

/// What a chain of the same minimum or maximum is over.
fn each_of(operation: Binary, expression: &Expression, each: &mut dyn FnMut(&Expression)) {
    match expression {
        Expression::Binary(other, a, b) if *other == operation => {
            each_of(operation, a, each);
            each_of(operation, b, each);
        }
        part => each(part),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const fn line(line: usize) -> Expression {
        Expression::Line(line)
    }

    fn binary(operation: Binary, a: Expression, b: Expression) -> Expression {
        Expression::Binary(operation, Box::new(a), Box::new(b))
    }

    fn shown(expression: &Expression) -> String {
        equation(expression, &|line| ["a", "b", "c", "d"][line].to_owned())
    }

    #[test]
    fn brackets_stand_where_they_change_the_result_and_nowhere_else() {
        use Binary::{Add, Divide, Larger, Multiply, Subtract};
        let sum = || binary(Add, line(0), line(1));
        assert_eq!(shown(&binary(Add, sum(), line(2))), "a + b + c");
        assert_eq!(shown(&binary(Multiply, sum(), line(2))), "(a + b) × c");
        assert_eq!(shown(&binary(Subtract, line(2), sum())), "c − (a + b)");
        assert_eq!(shown(&binary(Subtract, sum(), line(2))), "a + b − c");
        let product = || binary(Multiply, line(0), line(1));
        assert_eq!(shown(&binary(Divide, line(2), product())), "c / (a × b)");
        assert_eq!(shown(&binary(Divide, product(), line(2))), "a × b / c");
        assert_eq!(
            shown(&binary(Multiply, line(2), binary(Divide, line(0), line(1)))),
            "c × a / b"
        );
        let power = Expression::Unary(Unary::Power(0.75), Box::new(product()));
        assert_eq!(shown(&power), "(a × b)^0.75");
        let root = Expression::Unary(Unary::Root, Box::new(sum()));
        assert_eq!(shown(&root), "√(a + b)");
        let nested = binary(Larger, binary(Larger, line(0), line(1)), line(2));
        assert_eq!(shown(&nested), "max(a, b, c)");
        let per = Expression::Unary(Unary::In(retrofit_core::screen::Unit::Foot), Box::new(line(0)));
        assert_eq!(
            shown(&Expression::Unary(Unary::Power(2.0), Box::new(per))),
            "(a / (1 ft))^2"
        );
    }
}
