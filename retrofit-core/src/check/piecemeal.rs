//! Checks one at a time, and what several of them share as short codes.
//!
//! A portfolio remembers what a check found for the few observations and figures it hangs on. What it does not
//! remember it asks here, check by check, of the same code that goes over a whole house.

use super::anchorage::{self, Spacing};
use super::assess::{Assessor, Bands, Possible, lines};
use super::bracing::{self, Bracing};
use super::context::{Line, tallest_stud};
use super::earlier_retrofit::{self, Chain};
use super::finding::Finding;
use super::registry::{CheckId, Run};
use super::{anchor_diameter, panel_proportion, stud_bay_vents};
use crate::choice::Choice;
use crate::house::AsBuilt;
use crate::measure::Length;
use crate::observation::{Observed, Truth};
use crate::provisions::{FigureId, FigureName, Provisions, Rule, keys};

/// A house whose cases are found, so that single checks can be run over it and over its first wall line.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Begun {
    possible: Possible,
    bands: Bands,
}

/// Something that several checks share, or that they go by instead of the observations behind it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Shared {
    /// Nothing but that the observations behind it do not contradict each other.
    Sound,
    /// The cases in which the house can fall.
    HouseCases,
    /// The cases in which the wall line can fall.
    LineCases,
    /// Whether the anchors are of a kind without a rod.
    HasNoRod,
    /// Whether the anchors have one of the properties by which they count.
    AnchorProperty(usize),
    /// Whether the anchors count, and what leaves it open.
    AnchorsCount,
    /// Whether they count, whatever leaves it open.
    AnchorsMayCount,
    /// Whether they answer to each row for anchors of a diameter or stouter.
    AnchorsStout,
    /// Whether those that count stand close enough together.
    AnchorsSpaced,
    /// Whether they stand near the ends of sill pieces.
    AnchorsAtEnds,
    /// Whether there are enough of them in each sill piece, and which pieces are so short that one may hold each.
    AnchorsInPieces,
    /// The tallest stud.
    TallestStud,
    /// The length of the shortest panel.
    PanelLength,
    /// The least length of a panel for the height of its studs.
    LeastPanelLength,
    /// Whether the panels have the least length.
    PanelLongEnough,
    /// Whether they have the least length for the height of their studs.
    PanelLongForHeight,
    /// Whether the panels have one of the properties by which they count.
    PanelProperty(usize),
    /// Whether the panels count.
    PanelsCount,
    /// Whether the panels that count are long enough together.
    LongEnough,
    /// Whether one stands at each end.
    AtEnds,
    /// Whether the gaps between them are small enough.
    GapsSmallEnough,
    /// All three, and whether any amount of bracing is asked for.
    BracingEnough,
    /// Whether the panels close stud bays, and have the holes asked for if they do.
    Ventilated,
}

/// How many properties an anchor needs to count.
pub(crate) const ANCHOR_PROPERTIES: usize = anchorage::PROPERTIES.len();

/// How many properties a panel needs to count.
pub(crate) const PANEL_PROPERTIES: usize = bracing::PROPERTIES.len();

impl Assessor {
    /// Finds the cases of a house and of its first wall line, and forgets the house before.
    pub(crate) fn begin(&mut self, house: &AsBuilt, provisions: &Provisions) -> Begun {
        self.findings.clear();
        let possible = Possible::of(&house.building);
        possible.cases(provisions, (0, 0), &mut self.house_cases);
        let bands = house
            .wall_lines
            .first()
            .map_or((0, 0), |wall| self.begin_wall_line(wall, provisions, possible));
        Begun { possible, bands }
    }

    /// Runs one check; not one that goes over the findings of others.
    pub(crate) fn findings_of(
        &mut self,
        id: CheckId,
        house: &AsBuilt,
        provisions: &Provisions,
        Begun { possible, bands }: Begun,
    ) -> &[Finding] {
        self.findings.clear();
        match (id.check().run, house.wall_lines.first()) {
            (Run::House(run), _) => self.run_on_house(id, run, house, provisions, possible),
            (Run::Line(run), Some(wall)) => {
                self.run_on_line(id, run, (house, 0, wall), provisions, possible, bands);
            }
            _ => {}
        }
        self.findings.as_slice()
    }

    /// Goes over the three links of an earlier strengthening.
    pub(crate) fn over_links(&mut self, done: Truth, chain: &Chain) -> &[Finding] {
        self.findings.clear();
        self.findings.at(CheckId::EarlierRetrofit, Some(0));
        self.findings.add(earlier_retrofit::judge(done, chain));
        self.findings.as_slice()
    }

    /// What is asked by some figures of the house, or of its wall line: alike where the same rows of the tables
    /// apply in every case.
    pub(crate) fn asked(
        &self,
        of_house: bool,
        figures: &[FigureName],
        provisions: &Provisions,
        Begun { possible, bands }: Begun,
        codes: &mut Vec<i64>,
    ) {
        let cases = if of_house { &self.house_cases } else { &self.cases };
        let bands = if of_house { (0, 0) } else { bands };
        by_case(Begun { possible, bands }, cases, codes, |case, codes| {
            for name in figures {
                let rows = case.requirement(provisions).map(|asks| asks.rows_of(*name));
                codes.extend(rows.into_iter().flatten().map(|row| i64::from(row.number())));
                codes.push(END);
            }
        });
    }

    /// Tells something shared in codes that are alike where it is. The answer is whether there is nothing to it:
    /// no anchor or panel that could count, or none without its holes.
    pub(crate) fn codes_of(
        &self,
        shared: Shared,
        house: &AsBuilt,
        provisions: &Provisions,
        begun: Begun,
        codes: &mut Vec<i64>,
    ) -> bool {
        let Some(wall) = house.wall_lines.first() else {
            return false;
        };
        let lines = lines(&self.cases, &self.worked_out, (house, wall), provisions);
        let lines = || lines.clone();
        let anchor = wall.anchors.listed().first();
        let panel = wall.panels.listed().first();
        let mut each = |of: &dyn Fn(&Line<'_>) -> i64| {
            by_case(begun, lines(), codes, |line, codes| codes.push(of(&line)));
        };
        match shared {
            Shared::Sound => {}
            Shared::HouseCases | Shared::LineCases => {
                let Begun { possible, bands } = begun;
                let (least, most) = possible.stories;
                codes.extend([i64::from(least), i64::from(most), possible.heavy as i64]);
                codes.extend(possible.looks.map(|look| i64::from(look.is_some())));
                if shared == Shared::LineCases {
                    codes.extend([bands.0, bands.1].map(|band| i64::try_from(band).unwrap_or(i64::MAX)));
                }
            }
            Shared::HasNoRod => codes.extend(anchor.map(|anchor| anchor_diameter::has_no_rod(anchor) as i64)),
            Shared::AnchorProperty(number) => {
                if let (Some(anchor), Some((has, _))) = (anchor, anchorage::PROPERTIES.get(number)) {
                    each(&|line| has(anchor, line.requirement) as i64);
                }
            }
            Shared::AnchorsCount => {
                codes.push(i64::from(wall.anchors.value().is_some()));
                let Some(anchor) = anchor else {
                    return wall.anchors.value().is_some();
                };
                let mut none = true;
                by_case(begun, lines(), codes, |line, codes| {
                    let counts = anchorage::counts(anchor, line.requirement);
                    none &= !counts.possible();
                    codes.push(counts as i64);
                    let open = anchorage::what_decides_whether_anchors_count(&line);
                    codes.extend(open.map(|look_at| i64::from(look_at.index())));
                    codes.push(END);
                });
                return none;
            }
            Shared::AnchorsMayCount => {
                if let Some(anchor) = anchor {
                    each(&|line| anchorage::counts(anchor, line.requirement) as i64);
                }
                codes.push(i64::from(wall.anchors.value().is_some()));
            }
            Shared::AnchorsStout => {
                if let Some(anchor) = anchor {
                    by_case(begun, lines(), codes, |line, codes| {
                        codes.extend(anchorage::stoutness(anchor, &line).map(|stout| stout as i64));
                        codes.push(END);
                    });
                }
            }
            Shared::AnchorsSpaced => {
                codes.push(i64::from(anchor.is_some_and(|anchor| anchor.spacing.is_known())));
                by_case(begun, lines(), codes, |line, codes| {
                    let Spacing {
                        answer,
                        applies,
                        rule,
                        ..
                    } = line.anchorage().spacing;
                    codes.extend([answer as i64, applies as i64, figure(rule.figure())]);
                    codes.push(i64::from(line.length().is_some()));
                });
            }
            Shared::AnchorsAtEnds => {
                codes.push(i64::from(
                    anchor.is_some_and(|anchor| anchor.end_distance.is_known()),
                ));
                by_case(begun, lines(), codes, |line, codes| {
                    codes.push(line.anchorage().ends.answer as i64);
                    codes.push(i64::from(anchorage::may_have_other_pieces(&line)));
                    codes.push(i64::from(line.length().is_some()));
                });
            }
            Shared::AnchorsInPieces => by_case(begun, lines(), codes, |line, codes| {
                let number = line.anchorage().number;
                codes.extend([number.answer as i64, number.applies as i64, figure(number.figure)]);
                codes.push(i64::from(number.at.is_some()));
                codes.push(i64::from(anchorage::may_have_other_pieces(&line)));
                codes.push(i64::from(line.length().is_some()));
                let start = codes.len();
                for held in anchorage::short_pieces(&line) {
                    let held = held.map(|truth| truth as i64);
                    // A row divides its sill into pieces that are alike.
                    if codes.get(start..).is_some_and(|codes| !codes.ends_with(&held)) {
                        codes.extend(held);
                    }
                }
            }),
            Shared::TallestStud => codes.extend(bounds(&tallest_stud(wall))),
            Shared::PanelLength => {
                codes.extend(
                    panel
                        .into_iter()
                        .flat_map(|panel| bounds(&bracing::panel_length(panel))),
                );
            }
            Shared::LeastPanelLength => {
                codes.push(i64::from(tallest_stud(wall).is_known()));
                if let Some(panel) = panel {
                    by_case(begun, lines(), codes, |line, codes| {
                        let least = panel_proportion::least_for_height(panel, &line);
                        codes.extend(least.map(|least| least.map_or(-1, Length::nanometers)));
                        codes.push(match line.rule(keys::MIN_PANEL_PROPORTION) {
                            Rule::Given { .. } => 0,
                            Rule::Missing(_) => 1,
                            Rule::Silent(_) | Rule::NotRegulated => 2,
                        });
                    });
                }
            }
            Shared::PanelLongEnough => {
                if let Some(panel) = panel {
                    each(&|line| panel_proportion::is_long_enough(panel, line) as i64);
                }
            }
            Shared::PanelLongForHeight => {
                if let Some(panel) = panel {
                    each(&|line| panel_proportion::is_long_for_its_height(panel, line) as i64);
                }
                codes.push(i64::from(tallest_stud(wall).is_known()));
            }
            Shared::PanelProperty(number) => {
                if let (Some(panel), Some((has, _))) = (panel, bracing::PROPERTIES.get(number)) {
                    each(&|line| has(panel, line) as i64);
                }
            }
            Shared::PanelsCount => {
                codes.push(i64::from(wall.panels.value().is_some()));
                let Some(panel) = panel else {
                    return wall.panels.value().is_some();
                };
                let mut none = true;
                by_case(begun, lines(), codes, |line, codes| {
                    let counts = bracing::counts(panel, &line);
                    none &= !counts.possible();
                    codes.push(counts as i64);
                });
                return none;
            }
            Shared::LongEnough => each(&|line| line.bracing().long_enough as i64),
            Shared::AtEnds => each(&|line| line.bracing().at_ends as i64),
            Shared::GapsSmallEnough => each(&|line| line.bracing().gaps_small_enough as i64),
            Shared::BracingEnough => each(&|line| {
                let Bracing {
                    enough,
                    amount_is_asked,
                    ..
                } = *line.bracing();
                enough as i64 * 2 + i64::from(amount_is_asked)
            }),
            Shared::Ventilated => {
                let Some(panel) = panel else { return true };
                codes.push(panel.closes_stud_bays.satisfies(|closes| closes) as i64);
                codes.extend(bounds(&panel.vent_holes));
                let mut all = true;
                by_case(begun, lines(), codes, |line, codes| {
                    let is_ventilated = stud_bay_vents::is_ventilated(panel, &line);
                    all &= is_ventilated == Truth::True;
                    codes.push(is_ventilated as i64);
                });
                return all;
            }
        }
        false
    }
}

/// Stands after what has no fixed length.
const END: i64 = -1;

/// Adds codes case by case; once, where they are alike in all cases. Where they differ, the observations that would tell
/// the cases apart are named among what decides; so they are added too.
fn by_case<C>(
    Begun { possible, bands }: Begun,
    cases: impl IntoIterator<Item = C>,
    codes: &mut Vec<i64>,
    mut add: impl FnMut(C, &mut Vec<i64>),
) {
    let start = codes.len();
    let mut first = None;
    let mut are_alike = true;
    for case in cases {
        let from = codes.len();
        add(case, codes);
        let first = first.get_or_insert(start..codes.len()).clone();
        are_alike &= codes.get(first) == codes.get(from..);
    }
    if are_alike {
        codes.truncate(first.map_or(start, |first| first.end));
    } else {
        codes.push(END);
        codes.extend(possible.looks.map(|look| i64::from(look.is_some())));
        codes.push(i64::from(bands.0 != bands.1));
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
