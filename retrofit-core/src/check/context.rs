//! What a check is given: a house or one of its wall lines, and what the provisions ask of it.

use std::cell::OnceCell;

use super::anchorage::{Ends, FirstCounts, Number, Spacing};
use super::bracing::{self, Bracing};
use crate::house::{CrippleStretch, FoundationStretch, House, SillPiece, Span, WallLine};
use crate::measure::Length;
use crate::observation::{Basis, Observed, Truth};
use crate::provisions::{FigureKey, FromValue, Requirement, Rule};

/// A house and what is asked of it.
pub(super) struct Whole<'a> {
    pub(super) house: &'a House,
    pub(super) requirement: &'a Requirement,
}

impl Whole<'_> {
    pub(super) fn rule<T: FromValue>(&self, key: FigureKey<T>) -> Rule<T> {
        self.requirement.get(key)
    }
}

/// A wall line and what is asked of it.
pub(super) struct Line<'a> {
    pub(super) house: &'a House,
    pub(super) wall: &'a WallLine,
    pub(super) requirement: &'a Requirement,
    worked_out: &'a WorkedOut,
}

/// What checks on one wall line under one requirement share, worked out when the first of them asks for it:
/// nine checks share the anchors that count, nine the bracing. It is kept apart from the line so that its memory can
/// be used again for the next.
#[derive(Clone, Debug, Default)]
pub(super) struct WorkedOut {
    first_anchor_counts: OnceCell<FirstCounts>,
    spacing: OnceCell<Spacing>,
    ends: OnceCell<Ends>,
    number: OnceCell<Number>,
    bracing: OnceCell<Bracing>,
}

impl<'a> Line<'a> {
    pub(super) fn new(
        house: &'a House,
        wall: &'a WallLine,
        requirement: &'a Requirement,
        worked_out: &'a WorkedOut,
    ) -> Self {
        Self {
            house,
            wall,
            requirement,
            worked_out,
        }
    }

    pub(super) fn rule<T: FromValue>(&self, key: FigureKey<T>) -> Rule<T> {
        self.requirement.get(key)
    }

    /// Its length, when it is known exactly.
    pub(super) fn length(&self) -> Option<Length> {
        self.wall.length.value().copied()
    }

    /// The whole wall line.
    pub(super) fn whole(&self) -> Span {
        Span {
            from: Length::ZERO,
            to: self.length(),
        }
    }

    pub(super) fn foundation(&self) -> &'a [FoundationStretch] {
        self.wall.foundation.listed()
    }

    pub(super) fn sill(&self) -> &'a [SillPiece] {
        self.wall.sill.listed()
    }

    pub(super) fn cripple_wall(&self) -> &'a [CrippleStretch] {
        self.wall.cripple_wall.listed()
    }

    /// Whether there is a cripple wall at all.
    pub(super) fn has_cripple_wall(&self) -> Truth {
        match self.wall.cripple_wall.value() {
            Some(stretches) => (!stretches.is_empty()).into(),
            None => Truth::Maybe,
        }
    }

    /// Whether a list of stretches leaves no part of the wall line out.
    pub(super) fn is_covered_by(&self, mut spans: impl Iterator<Item = Span> + Clone) -> bool {
        let Some(end) = self.length() else {
            // Without a length only a stretch that runs to the end, whichever it is, covers it.
            return spans.any(|span| span.from == Length::ZERO && span.to.is_none());
        };
        let mut reached = Length::ZERO;
        while reached < end {
            let next = spans
                .clone()
                .filter(|span| span.from <= reached)
                .filter_map(|span| span.to)
                .max();
            match next {
                Some(next) if next > reached => reached = next,
                _ => return false,
            }
        }
        true
    }

    pub(super) fn first_anchor_counts(&self, work_out: impl FnOnce() -> FirstCounts) -> &FirstCounts {
        self.worked_out.first_anchor_counts.get_or_init(work_out)
    }

    /// The distances between its anchors.
    pub(super) fn spacing(&self) -> &Spacing {
        self.worked_out.spacing.get_or_init(|| Spacing::of(self))
    }

    /// How its anchors stand to the ends of sill pieces.
    pub(super) fn ends(&self) -> &Ends {
        self.worked_out.ends.get_or_init(|| Ends::of(self))
    }

    /// How many anchors its sill pieces have.
    pub(super) fn number(&self) -> &Number {
        self.worked_out.number.get_or_init(|| Number::of(self))
    }

    pub(super) fn bracing(&self) -> &Bracing {
        self.worked_out
            .bracing
            .get_or_init(|| Bracing::of(self, bracing::counts))
    }
}

/// The tallest stud of a wall line.
pub(super) fn tallest_stud(wall: &WallLine) -> Observed<Length> {
    tallest_stud_of(wall.cripple_wall.listed().iter())
}

/// The tallest stud of some stretches. A stud is no taller than its wall and no shorter than the shortest.
pub(super) fn tallest_stud_of<'a>(stretches: impl Iterator<Item = &'a CrippleStretch>) -> Observed<Length> {
    greatest(
        stretches,
        |stretch| &stretch.tallest_stud,
        |stretch| {
            let (least, most) = stretch.tallest_stud.bounds();
            (
                least.max(stretch.shortest_stud.bounds().0).copied(),
                least_upper_bound([most, stretch.height.bounds().1]),
            )
        },
    )
}

/// The tightest of several upper bounds. What is written down of a stud may say less than what its neighbors
/// imply, and must not put the tighter bound out of sight: more on record would then be less known.
pub(super) fn least_upper_bound<const N: usize>(bounds: [Option<&Length>; N]) -> Option<Length> {
    bounds.into_iter().flatten().min().copied()
}

/// The greatest height of the cripple wall of a wall line, plates included.
pub(super) fn wall_height(wall: &WallLine) -> Observed<Length> {
    let stretches = wall.cripple_wall.listed().iter();
    greatest(stretches, |stretch| &stretch.height, height_bounds)
}

/// The least and the most the height of a stretch can be. A wall is no lower than its studs.
pub(super) fn height_bounds(stretch: &CrippleStretch) -> (Option<Length>, Option<Length>) {
    let (least, most) = stretch.height.bounds();
    let studs = stretch
        .tallest_stud
        .bounds()
        .0
        .max(stretch.shortest_stud.bounds().0);
    (least.max(studs).copied(), most.copied())
}

/// The greatest of a dimension over some stretches, as far as it is known.
fn greatest<'a>(
    stretches: impl Iterator<Item = &'a CrippleStretch>,
    recorded: impl Fn(&CrippleStretch) -> &Observed<Length>,
    bounds: impl Fn(&CrippleStretch) -> (Option<Length>, Option<Length>),
) -> Observed<Length> {
    let mut at_least = None;
    let mut at_most = Some(Length::ZERO);
    let mut basis: Option<Basis> = None;
    for stretch in stretches {
        let (least, most) = bounds(stretch);
        at_least = at_least.max(least);
        at_most = at_most.zip(most).map(|(high, most)| high.max(most));
        // What is recorded as one value rests on that alone; bounds rest on all they may come from.
        let recorded = recorded(stretch);
        let known_by = if recorded.is_known() {
            [recorded; 3]
        } else {
            [&stretch.tallest_stud, &stretch.height, &stretch.shortest_stud]
        };
        basis = basis.max(known_by.into_iter().filter_map(Observed::basis).max());
    }
    let Some(basis) = basis else {
        return Observed::default();
    };
    match (at_least, at_most) {
        (Some(least), Some(most)) if least == most => Observed::Known { value: least, basis },
        (None, None) => Observed::default(),
        _ => Observed::Between {
            at_least,
            at_most,
            basis,
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stretch(text: &str) -> CrippleStretch {
        serde_json::from_str(text).unwrap()
    }

    /// The height of a wall is known as the wall was, whatever is known of its studs.
    #[test]
    fn a_measured_stud_does_not_make_a_wall_measured() {
        let text = r#"{"height": {"inferred": "3 ft"}, "tallest_stud": {"measured": "30 in"}}"#;
        let wall = WallLine {
            cripple_wall: Observed::seen(vec![stretch(text)]),
            ..WallLine::default()
        };
        assert_eq!(wall_height(&wall).basis(), Some(Basis::Inferred));
        assert_eq!(tallest_stud(&wall).basis(), Some(Basis::Measured));
    }

    /// The tighter bound holds, whichever of the dimensions it comes from.
    #[test]
    fn a_weak_bound_does_not_hide_a_strong_one() {
        let stretch = stretch(
            r#"{"height": {"measured": {"at_least": "9 in", "at_most": "25 in"}},
                "tallest_stud": {"inferred": {"at_least": "8 in", "at_most": "40 in"}},
                "shortest_stud": {"measured": "20 in"}}"#,
        );
        let tallest = tallest_stud_of(std::iter::once(&stretch));
        assert_eq!(
            tallest.bounds(),
            (Some(&Length::inches(20)), Some(&Length::inches(25)))
        );
        assert_eq!(
            height_bounds(&stretch),
            (Some(Length::inches(20)), Some(Length::inches(25)))
        );
    }
}
