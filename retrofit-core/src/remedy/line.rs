//! One wall line while its remedy is designed: the record with its gaps filled, what is asked of it, and what the
//! checks found.

use super::layout::Decline;
use crate::check::{Counted, Finding, LookAt, Outcome, Outcomes, Ruling};
use crate::house::{CrippleStretch, FoundationStretch, House, SillPiece, Span, WallLine};
use crate::measure::Length;
use crate::prices::UnitPrices;
use crate::provisions::{Compare, FigureId, FigureKey, FromValue, Requirement, Rule};

/// A wall line of known length, and everything a designer looks at.
pub(super) struct Line<'a> {
    pub(super) house: &'a House,
    pub(super) wall: &'a WallLine,
    pub(super) length: Length,
    pub(super) requirement: &'a Requirement,
    pub(super) prices: &'a UnitPrices,
    pub(super) findings: Vec<&'a Finding>,
}

impl<'a> Line<'a> {
    pub(super) fn rule<T: FromValue>(&self, key: FigureKey<T>) -> Rule<T> {
        self.requirement.get(key)
    }

    pub(super) fn counted(&self) -> Counted<'a> {
        Counted::new(self.house, self.wall, self.requirement)
    }

    /// What some checks came to on this wall line, the strictest of them.
    pub(super) fn ruling(&self, checks: &[&str]) -> Ruling {
        self.findings
            .iter()
            .filter(|finding| checks.contains(&finding.check().name))
            .fold(Outcomes::only(Outcome::NotApplicable), |outcomes, finding| {
                outcomes.strictest(finding.outcomes)
            })
            .ruling()
    }

    /// Whether some checks leave nothing to be done.
    pub(super) fn is_enough(&self, checks: &[&str]) -> bool {
        matches!(self.ruling(checks), Ruling::Met | Ruling::NotApplicable)
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

    /// The stations of a stretch.
    pub(super) fn ends(&self, span: Span) -> (Length, Length) {
        (span.from, span.to.unwrap_or(self.length))
    }

    /// The stretch of cripple wall at a station.
    pub(super) fn cripple_wall_at(&self, station: Length) -> Option<&'a CrippleStretch> {
        self.cripple_wall().iter().find(|stretch| {
            let (from, to) = self.ends(stretch.span(Some(self.length)));
            from <= station && station <= to
        })
    }
}

/// A figure that a layout keeps to: `Err` where the document is believed to give one that nobody has seen.
pub(super) fn given<T: Copy>(rule: Rule<T>) -> Result<Option<T>, FigureId> {
    match rule {
        Rule::Given { value, .. } => Ok(Some(value)),
        Rule::Missing(figure) => Err(figure),
        Rule::Silent(_) | Rule::NotRegulated => Ok(None),
    }
}

/// The most that is still within a limit.
pub(super) fn most(rule: Rule<Length>) -> Result<Option<Length>, FigureId> {
    let limit = given(rule)?;
    Ok(match rule {
        Rule::Given {
            compare: Compare::LessThan,
            ..
        } => limit.map(|limit| limit.saturating_sub(Length::from_nanometers(1))),
        _ => limit,
    })
}

/// The studs of a stretch of cripple wall between two stations, as layouts are drawn on them: one at each end, and
/// those between at the stud spacing on record. `None` where the spacing is not known or leaves no room between two
/// studs.
///
/// ```
/// use retrofit_core::house::CrippleStretch;
/// use retrofit_core::measure::Length;
/// use retrofit_core::observation::Observed;
/// use retrofit_core::remedy::studs;
/// let stretch = CrippleStretch { stud_spacing: Observed::measured(Length::inches(16)), ..Default::default() };
/// let studs = studs(&stretch, Length::ZERO, Length::inches(40));
/// assert_eq!(studs, Some([0, 16, 32, 40].map(Length::inches).to_vec()));
/// ```
pub fn studs(stretch: &CrippleStretch, from: Length, to: Length) -> Option<Vec<Length>> {
    let spacing = stretch.stud_spacing.value().copied()?;
    let thickness = stud_thickness(stretch);
    if spacing <= thickness || to <= from {
        return None;
    }
    let mut studs = vec![from];
    let mut next = from.saturating_add(spacing);
    // A stud whose face would touch the last one is the last one.
    while next.saturating_add(thickness) < to {
        studs.push(next);
        next = next.saturating_add(spacing);
    }
    studs.push(to);
    Some(studs)
}

/// Why the studs of a stretch cannot be laid out.
pub(super) fn too_close(stretch: &CrippleStretch) -> Decline {
    stretch
        .stud_spacing
        .value()
        .map_or(Decline::NotObserved(LookAt::StudSpacing), |spacing| {
            Decline::StudsTooClose {
                spacing: *spacing,
                thickness: stud_thickness(stretch),
            }
        })
}

/// The thickness of the studs along the wall, that of a nominal 2 in member where it was not measured.
pub(super) fn stud_thickness(stretch: &CrippleStretch) -> Length {
    stretch
        .stud_thickness
        .bounds()
        .1
        .copied()
        .unwrap_or(super::given::NOMINAL_2_IN)
}
