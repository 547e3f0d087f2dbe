//! What several checks share, or go by instead of the observations behind it, as short codes: alike where it is.

use super::anchorage::{self, Spacing};
use super::bracing::{self, Bracing};
use super::context::{Line, tallest_stud};
use super::piecemeal::{Begun, END, by_case};
use super::{anchor_diameter, panel_proportion, stud_bay_vents};
use crate::choice::Choice;
use crate::house::{Anchor, Panel, WallLine};
use crate::measure::Length;
use crate::observation::{Observed, Truth};
use crate::provisions::{FigureId, Rule, keys};

/// Something that several checks share, or that they go by instead of the observations behind it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Shared {
    /// Nothing but that the observations behind it do not contradict each other.
    Sound,
    /// The cases in which the house can fall.
    HouseCases,
    /// The cases in which the wall line can fall.
    LineCases,
    /// The tallest stud.
    TallestStud,
    Anchors(OfAnchors),
    Panels(OfPanels),
    Bracing(OfBracing),
}

/// What is shared of the anchors.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum OfAnchors {
    /// Whether they are of a kind without a rod.
    HaveNoRod,
    /// Whether they have one of the properties by which they count.
    Property(usize),
    /// Whether they count, and what leaves it open.
    Count,
    /// Whether they count, whatever leaves it open.
    MayCount,
    /// Whether they answer to each row for anchors of a diameter or stouter.
    Stout,
    /// Whether those that count stand close enough together.
    Spaced,
    /// Whether they stand near the ends of sill pieces.
    AtEnds,
    /// Whether there are enough of them in each sill piece, and which pieces are so short that one may hold each.
    InPieces,
}

/// What is shared of the panels one by one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum OfPanels {
    /// The length of the shortest.
    Length,
    /// The least length of a panel for the height of its studs.
    LeastLength,
    /// Whether they have the least length.
    LongEnough,
    /// Whether they have the least length for the height of their studs.
    LongForHeight,
    /// Whether they have one of the properties by which they count.
    Property(usize),
    /// Whether they count.
    Count,
    /// Whether they close stud bays, and have the holes asked for if they do.
    Ventilated,
}

/// What is shared of the panels that count, taken together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum OfBracing {
    /// Whether they are long enough together.
    LongEnough,
    /// Whether one stands at each end.
    AtEnds,
    /// Whether the gaps between them are small enough.
    GapsSmallEnough,
    /// All three, and whether any amount of bracing is asked for.
    Enough,
}

/// How many properties an anchor needs to count.
pub(crate) const ANCHOR_PROPERTIES: usize = anchorage::PROPERTIES.len();

/// How many properties a panel needs to count.
pub(crate) const PANEL_PROPERTIES: usize = bracing::PROPERTIES.len();

/// Tells what is shared on a wall line, under each of its cases.
pub(super) struct Telling<'a, L> {
    pub(super) wall: &'a WallLine,
    pub(super) lines: L,
    pub(super) begun: Begun,
    pub(super) codes: &'a mut Vec<i64>,
}

impl<'a, L: Iterator<Item = Line<'a>> + Clone> Telling<'a, L> {
    /// Tells something; whether there is nothing to it.
    pub(super) fn tell(&mut self, shared: Shared) -> bool {
        match shared {
            Shared::Sound => {}
            Shared::HouseCases | Shared::LineCases => {
                let Begun { possible, bands } = self.begun;
                let (least, most) = possible.stories;
                let heavy = possible.heavy as i64;
                self.codes.extend([i64::from(least), i64::from(most), heavy]);
                self.codes
                    .extend(possible.looks.map(|look| i64::from(look.is_some())));
                if shared == Shared::LineCases {
                    let bands = [bands.0, bands.1].map(|band| i64::try_from(band).unwrap_or(i64::MAX));
                    self.codes.extend(bands);
                }
            }
            Shared::TallestStud => self.codes.extend(bounds(&tallest_stud(self.wall))),
            Shared::Anchors(of_anchors) => {
                let is_recorded = self.wall.anchors.value().is_some();
                let anchor = self.wall.anchors.listed().first();
                let is_none = self.tell_anchors(of_anchors, anchor);
                return if anchor.is_some() {
                    is_none
                } else {
                    of_anchors == OfAnchors::Count && is_recorded
                };
            }
            Shared::Panels(of_panels) => {
                let is_recorded = self.wall.panels.value().is_some();
                if let Some(panel) = self.wall.panels.listed().first() {
                    return self.tell_panels(of_panels, panel);
                }
                let is_stud_known = tallest_stud(self.wall).is_known();
                self.codes.extend([is_recorded, is_stud_known].map(i64::from));
                return match of_panels {
                    OfPanels::Count => is_recorded,
                    of_panels => of_panels == OfPanels::Ventilated,
                };
            }
            Shared::Bracing(of_bracing) => self.each(|line| {
                let Bracing {
                    long_enough,
                    at_ends,
                    gaps_small_enough,
                    enough,
                    amount_is_asked,
                    ..
                } = *line.bracing();
                match of_bracing {
                    OfBracing::LongEnough => long_enough as i64,
                    OfBracing::AtEnds => at_ends as i64,
                    OfBracing::GapsSmallEnough => gaps_small_enough as i64,
                    OfBracing::Enough => enough as i64 * 2 + i64::from(amount_is_asked),
                }
            }),
        }
        false
    }

    fn by_case(&mut self, mut add: impl FnMut(&Line<'a>, &mut Vec<i64>)) {
        by_case(self.begun, self.lines.clone(), self.codes, |line, codes| {
            add(&line, codes);
        });
    }

    fn each(&mut self, of: impl Fn(&Line<'a>) -> i64) {
        self.by_case(|line, codes| codes.push(of(line)));
    }

    fn tell_anchors(&mut self, of_anchors: OfAnchors, anchor: Option<&Anchor>) -> bool {
        self.codes.push(self.wall.anchors.value().is_some().into());
        match (of_anchors, anchor) {
            (OfAnchors::Spaced, anchor) => {
                let is_known = anchor.is_some_and(|anchor| anchor.spacing.is_known());
                self.codes.push(is_known.into());
                self.by_case(|line, codes| {
                    let Spacing {
                        answer,
                        applies,
                        rule,
                        ..
                    } = *line.spacing();
                    codes.extend([answer as i64, applies as i64, figure(rule.figure())]);
                    codes.push(line.length().is_some().into());
                });
            }
            (OfAnchors::AtEnds, anchor) => {
                let is_known = anchor.is_some_and(|anchor| anchor.end_distance.is_known());
                self.codes.push(is_known.into());
                self.by_case(|line, codes| {
                    codes.push(line.ends().answer as i64);
                    codes.push(anchorage::may_have_other_pieces(line).into());
                    codes.push(line.length().is_some().into());
                });
            }
            (OfAnchors::InPieces, _) => self.by_case(in_pieces),
            (_, None) => {}
            (OfAnchors::HaveNoRod, Some(anchor)) => {
                self.codes.push(anchor_diameter::has_no_rod(anchor) as i64);
            }
            (OfAnchors::Property(number), Some(anchor)) => {
                if let Some((has, _)) = anchorage::PROPERTIES.get(number) {
                    self.each(|line| has(anchor, line.requirement) as i64);
                }
            }
            (OfAnchors::Count, Some(anchor)) => {
                let mut none = true;
                self.by_case(|line, codes| {
                    let counts = anchorage::counts(anchor, line.requirement);
                    none &= !counts.possible();
                    codes.push(counts as i64);
                    let open = anchorage::what_decides_whether_anchors_count(line);
                    codes.extend(open.map(|look_at| i64::from(look_at.index())));
                    codes.push(END);
                });
                return none;
            }
            (OfAnchors::MayCount, Some(anchor)) => {
                self.each(|line| anchorage::counts(anchor, line.requirement) as i64);
            }
            (OfAnchors::Stout, Some(anchor)) => self.by_case(|line, codes| {
                codes.extend(anchorage::stoutness(anchor, line).map(|stout| stout as i64));
                codes.push(END);
            }),
        }
        false
    }

    fn tell_panels(&mut self, of_panels: OfPanels, panel: &Panel) -> bool {
        let is_stud_known = i64::from(tallest_stud(self.wall).is_known());
        match of_panels {
            OfPanels::Length => self.codes.extend(bounds(&bracing::panel_length(panel))),
            OfPanels::LeastLength => {
                self.codes.push(is_stud_known);
                self.by_case(|line, codes| {
                    let least = panel_proportion::least_for_height(panel, line);
                    codes.extend(least.map(|least| least.map_or(-1, Length::nanometers)));
                    codes.push(match line.rule(keys::MIN_PANEL_PROPORTION) {
                        Rule::Given { .. } => 0,
                        Rule::Missing(_) => 1,
                        Rule::Silent(_) | Rule::NotRegulated => 2,
                    });
                });
            }
            OfPanels::LongEnough => {
                self.each(|line| panel_proportion::is_long_enough(panel, line) as i64);
            }
            OfPanels::LongForHeight => {
                self.codes.push(is_stud_known);
                self.each(|line| panel_proportion::is_long_for_its_height(panel, line) as i64);
            }
            OfPanels::Property(number) => {
                if let Some((has, _)) = bracing::PROPERTIES.get(number) {
                    self.each(|line| has(panel, line) as i64);
                }
            }
            OfPanels::Count => {
                let mut none = true;
                self.by_case(|line, codes| {
                    let counts = bracing::counts(panel, line);
                    none &= !counts.possible();
                    codes.push(counts as i64);
                });
                return none;
            }
            OfPanels::Ventilated => {
                let closes = panel.closes_stud_bays.satisfies(|closes| closes);
                self.codes.push(closes as i64);
                self.codes.extend(bounds(&panel.vent_holes));
                let mut all = true;
                self.by_case(|line, codes| {
                    let is_ventilated = stud_bay_vents::is_ventilated(panel, line);
                    all &= is_ventilated == Truth::True;
                    codes.push(is_ventilated as i64);
                });
                return all;
            }
        }
        false
    }
}

/// How many anchors there are in sill pieces, and what the short ones come to.
fn in_pieces(line: &Line<'_>, codes: &mut Vec<i64>) {
    let number = *line.number();
    codes.extend([number.answer as i64, number.applies as i64, figure(number.figure)]);
    codes.push(number.at.is_some().into());
    codes.push(anchorage::may_have_other_pieces(line).into());
    codes.push(line.length().is_some().into());
    let start = codes.len();
    for held in anchorage::short_pieces(line) {
        let held = held.map(|truth| truth as i64);
        // A row divides its sill into pieces that are alike.
        if codes.get(start..).is_some_and(|codes| !codes.ends_with(&held)) {
            codes.extend(held);
        }
    }
}

/// The code of a figure, or of none.
fn figure(figure: Option<FigureId>) -> i64 {
    figure.map_or(-1, |figure| i64::from(figure.number()))
}

/// The bounds of a length as codes; what has no bound is told apart from any length.
fn bounds(length: &Observed<Length>) -> [i64; 4] {
    let (least, most) = length.bounds();
    let code = |bound: Option<&Length>| bound.map_or(0, |bound| bound.nanometers());
    [
        i64::from(least.is_some()),
        code(least),
        i64::from(most.is_some()),
        code(most),
    ]
}
