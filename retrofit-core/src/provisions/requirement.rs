//! The figures that apply to one case, looked up once so that a check only reads a slot.

use super::catalog::{FigureKey, FigureName};
use super::figure::{Compare, Content, Figure, FigureId, FromValue};
use crate::choice::Choice;

/// Everything a set asks of a wall line with a given number of stories, weight and stud height.
#[derive(Clone, Debug)]
pub struct Requirement {
    /// Where in `rows` the rows of each figure stand: the slot of a figure is its index in the catalog.
    slots: Vec<(u16, u16)>,
    rows: Vec<Row>,
}

#[derive(Clone, Copy, Debug)]
struct Row {
    id: FigureId,
    content: Content,
    case: super::figure::Case,
}

/// What a set says about one figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rule<T> {
    /// It gives a value.
    Given {
        /// The value.
        value: T,
        /// Whether the limit itself is allowed.
        compare: Compare,
        /// The figure.
        figure: FigureId,
    },
    /// The document is believed to give one, but nobody has seen it.
    Missing(FigureId),
    /// The document gives none, and a row says so.
    Silent(FigureId),
    /// The set has no row for it.
    NotRegulated,
}

impl<T: Copy> Rule<T> {
    /// The value, when there is one.
    pub fn value(self) -> Option<T> {
        match self {
            Self::Given { value, .. } => Some(value),
            _ => None,
        }
    }

    /// The figure, when there is a row.
    pub fn figure(self) -> Option<FigureId> {
        match self {
            Self::Given { figure, .. } | Self::Missing(figure) | Self::Silent(figure) => Some(figure),
            Self::NotRegulated => None,
        }
    }

    /// Whether the set leaves the matter open: a check over it is not applicable.
    pub fn is_open(self) -> bool {
        matches!(self, Self::Silent(_) | Self::NotRegulated)
    }
}

impl Requirement {
    pub(super) fn resolve(figures: &[Figure], applies: impl Fn(&Figure) -> bool) -> Self {
        let mut rows = Vec::new();
        let mut slots = Vec::with_capacity(FigureName::ALL.len());
        for name in FigureName::ALL {
            let start = rows.len();
            let applicable = || {
                figures
                    .iter()
                    .filter(|figure| figure.name == *name && applies(figure))
            };
            for (index, figure) in figures.iter().enumerate() {
                // A row for a narrower case takes the place of a row for any case.
                let is_displaced = || {
                    applicable().any(|other| {
                        other.case.is_same_place(&figure.case)
                            && figure.case.covers_house(&other.case)
                            && !other.case.covers_house(&figure.case)
                    })
                };
                if figure.name == *name && applies(figure) && !is_displaced() {
                    let id = FigureId(u16::try_from(index).unwrap_or(u16::MAX));
                    rows.push(Row {
                        id,
                        content: figure.content,
                        case: figure.case,
                    });
                }
            }
            let position = |at: usize| u16::try_from(at).unwrap_or(u16::MAX);
            slots.push((position(start), position(rows.len())));
        }
        Self { slots, rows }
    }

    fn rows(&self, name: FigureName) -> &[Row] {
        let (start, end) = self.slots.get(name.index() as usize).copied().unwrap_or_default();
        self.rows
            .get(usize::from(start)..usize::from(end))
            .unwrap_or_default()
    }

    /// The rows of a figure that apply: two requirements with the same rows ask the same.
    pub(crate) fn rows_of(&self, name: FigureName) -> impl Iterator<Item = FigureId> + '_ {
        self.rows(name).iter().map(|row| row.id)
    }

    /// What the set says about a figure.
    pub fn get<T: FromValue>(&self, key: FigureKey<T>) -> Rule<T> {
        self.rows(key.name).first().map_or(Rule::NotRegulated, Row::rule)
    }

    /// Every row of a figure that is keyed by diameter or piece length, with its case.
    pub fn all<T: FromValue>(
        &self,
        key: FigureKey<T>,
    ) -> impl ExactSizeIterator<Item = (super::figure::Case, Rule<T>)> + Clone + '_ {
        self.rows(key.name).iter().map(|row| (row.case, row.rule()))
    }
}

impl Row {
    fn rule<T: FromValue>(&self) -> Rule<T> {
        match self.content {
            Content::Value(value, compare, _) => match T::from_value(value) {
                Some(value) => Rule::Given {
                    value,
                    compare,
                    figure: self.id,
                },
                // The loader reads a value by the kind of its figure, so that the types always agree.
                None => Rule::Missing(self.id),
            },
            Content::Missing => Rule::Missing(self.id),
            Content::None => Rule::Silent(self.id),
        }
    }
}
