//! Which braced panels count, and whether those that count are enough: shared by the checks on bracing.
//!
//! A panel counts when its sheathing, nailing, joints, foot, proportion and openings are what the provisions
//! ask. Length, ends and gaps are judged over the panels that count. So a panel or a nail more never makes a
//! wall line worse.

use super::context::{Line, tallest_stud_of};
use super::credit::{Credit, CreditWords};
use super::finding::{Found, Judgment};
use super::look_at::LookAt;
use super::{panel_foot, panel_joints, panel_nailing, panel_openings, panel_proportion, panel_sheathing};
use crate::house::{CrippleStretch, Panel, Parts, Span};
use crate::measure::{Length, Percent};
use crate::observation::{Basis, Observed, Truth};
use crate::provisions::{Rule, keys};

/// A property by which a panel counts or does not.
pub(super) type Property = fn(&Panel, &Line<'_>) -> Truth;

/// Every property a panel has to have, with the observation that stands for it.
pub(super) const PROPERTIES: [(Property, LookAt); 6] = [
    (panel_sheathing::counts, LookAt::Sheathing),
    (panel_nailing::counts, LookAt::EdgeNailing),
    (panel_joints::counts, LookAt::JointsBlocked),
    (panel_foot::counts, LookAt::PanelFoot),
    (panel_proportion::counts, LookAt::ShortestPanel),
    (panel_openings::counts, LookAt::CutThrough),
];

/// Whether a panel counts.
pub(super) fn counts(panel: &Panel, line: &Line<'_>) -> Truth {
    let mut truth = Truth::True;
    for (property, _) in PROPERTIES {
        truth = truth.and(property(panel, line));
        if truth == Truth::False {
            break; // nothing else can make it count
        }
    }
    truth
}

/// What the panels of a wall line come to.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bracing {
    /// Length of the cripple wall; that of the whole wall line where it is not known where the cripple wall
    /// is; `None` where neither is known.
    pub(super) base: Option<Length>,
    pub(super) share: Rule<Percent>,
    /// Length of the panels that count, in the worst and in the best case.
    pub(super) length: (Length, Option<Length>),
    pub(super) long_enough: Truth,
    /// Whether a panel that counts stands at each end.
    pub(super) at_ends: Truth,
    /// The end that has none.
    pub(super) bare_end: Option<Span>,
    pub(super) gap: Option<Gap>,
    pub(super) gaps_small_enough: Truth,
    /// Length, ends and gaps together.
    pub(super) enough: Truth,
    /// Whether the provisions ask for any amount of bracing.
    pub(super) amount_is_asked: bool,
}

/// The largest gap without a panel that counts.
#[derive(Clone, Copy, Debug)]
pub(super) struct Gap {
    pub(super) worst: Length,
    pub(super) best: Length,
    pub(super) span: Span,
}

impl Bracing {
    /// What the panels that count come to.
    pub(super) fn of(line: &Line<'_>, counts: Property) -> Self {
        let first = first_counts(line, counts);
        let panels = counted(line, counts, &first);
        let base = match line.wall.cripple_wall.value() {
            Some(stretches) => stretches
                .iter()
                .map(|stretch| stretch.span(line.length()).length())
                .try_fold(Length::ZERO, |sum, length| Some(sum.saturating_add(length?))),
            None => line.length(),
        };
        // Where it is not known where the cripple wall is, panels anywhere may be enough, and may be too few
        // or in the wrong place; none at all are too few wherever it is.
        let with_extent = |answer: Truth| match line.wall.cripple_wall.value() {
            Some(_) => answer,
            None if may_have_panels(line, &panels) => Truth::Maybe,
            None => Truth::False,
        };

        let share = line.rule(keys::BRACED_SHARE);
        let length = total_length(line, &panels);
        let long_enough = match (share, base) {
            (Rule::Silent(_) | Rule::NotRegulated, _) => Truth::True,
            // No panel at all is less than any share of a wall, whichever share it is and however long the wall.
            _ if !may_have_panels(line, &panels) => Truth::False,
            (Rule::Given { value: share, .. }, Some(base)) => {
                let best = length.1.is_none_or(|best| share.reached_by(best.min(base), base));
                with_extent(Truth::from_cases(best, share.reached_by(length.0, base)))
            }
            (Rule::Given { .. }, None) | (Rule::Missing(_), _) => Truth::Maybe,
        };
        let (at_ends, bare_end) = match line.rule(keys::PANEL_AT_EACH_END) {
            Rule::Given { .. } => {
                let (at_ends, bare_end) = ends(line, &panels);
                (with_extent(at_ends), bare_end)
            }
            Rule::Missing(_) => (Truth::Maybe, None),
            Rule::Silent(_) | Rule::NotRegulated => (Truth::True, None),
        };
        let gap = largest_gap(line, &panels);
        let gaps_small_enough = match (line.rule(keys::MAX_PANEL_GAP), gap) {
            // The cripple wall may be no longer than the gap allowed, wherever it is.
            (Rule::Given { value: limit, .. }, Some(gap)) if is_extent_known(line) => {
                Truth::from_cases(gap.best <= limit, gap.worst <= limit)
            }
            (Rule::Given { .. } | Rule::Missing(_), _) => Truth::Maybe,
            (Rule::Silent(_) | Rule::NotRegulated, _) => Truth::True,
        };
        Self {
            base,
            share,
            length,
            long_enough,
            at_ends,
            bare_end,
            gap,
            gaps_small_enough,
            enough: long_enough.and(at_ends).and(gaps_small_enough),
            amount_is_asked: !(share.is_open()
                && line.rule(keys::PANEL_AT_EACH_END).is_open()
                && line.rule(keys::MAX_PANEL_GAP).is_open()),
        }
    }
}

/// Whether it is known where the cripple wall is.
fn is_extent_known(line: &Line<'_>) -> bool {
    line.wall.cripple_wall.value().is_some()
}

type Counted<'a> = (&'a Panel, Truth);

/// Whether each of the first panels of a wall line counts: asked for so often that it is worked out once.
type FirstCounts = [Truth; 16];

fn first_counts(line: &Line<'_>, counts: Property) -> FirstCounts {
    let mut first = [Truth::Maybe; 16];
    for (slot, panel) in first.iter_mut().zip(panels(line)) {
        *slot = counts(panel, line);
    }
    first
}

fn panels<'a>(line: &Line<'a>) -> &'a [Panel] {
    line.wall.panels.listed()
}

/// The panels of a wall line, each with whether it counts.
fn counted<'a>(
    line: &'a Line<'_>,
    counts: Property,
    first: &'a FirstCounts,
) -> impl Iterator<Item = Counted<'a>> + Clone + 'a {
    panels(line).iter().enumerate().map(move |(item, panel)| {
        let known = first.get(item).copied();
        (panel, known.unwrap_or_else(|| counts(panel, line)))
    })
}

/// Whether there may be a panel that counts at all.
fn may_have_panels<'a>(line: &Line<'_>, panels: &(impl Iterator<Item = Counted<'a>> + Clone)) -> bool {
    line.wall.panels.value().is_none()
        || unseen(line).next().is_some()
        || panels.clone().any(|(_, counts)| counts.possible())
}

/// The stretches of the cripple wall; the whole wall line where they are not known.
fn stretches<'a>(line: &'a Line<'_>) -> impl Iterator<Item = Span> + Clone + 'a {
    let known = line
        .cripple_wall()
        .iter()
        .map(|stretch| stretch.span(line.length()));
    known.chain((!is_extent_known(line)).then(|| line.whole()))
}

/// From where to where the cripple wall runs; any stretches without one in between are left out of account.
fn range(line: &Line<'_>) -> Span {
    let Some(from) = stretches(line).map(|span| span.from).min() else {
        return line.whole();
    };
    let to = if stretches(line).any(|span| span.to.is_none()) {
        None
    } else {
        stretches(line).filter_map(|span| span.to).max()
    };
    Span { from, to }
}

fn unseen<'a>(line: &'a Line<'_>) -> impl Iterator<Item = Span> + Clone + 'a {
    let length = line.length();
    line.wall
        .unseen_of(Parts::Panels)
        .map(move |unseen| unseen.span(length))
}

/// The length of a stretch that lies on the cripple wall; `None` where one of them has no known end.
fn on_the_cripple_wall(line: &Line<'_>, span: Span) -> Option<Length> {
    stretches(line)
        .map(|stretch| {
            let from = span.from.max(stretch.from);
            let to = match (span.to, stretch.to) {
                (Some(to), Some(end)) => Some(to.min(end)),
                (to, end) => to.or(end),
            };
            Some(to?.saturating_sub(from).max(Length::ZERO))
        })
        .try_fold(Length::ZERO, |sum, length| Some(sum.saturating_add(length?)))
}

/// The length of all panels that count, in the worst and in the best case.
fn total_length<'a>(
    line: &Line<'_>,
    panels: &(impl Iterator<Item = Counted<'a>> + Clone),
) -> (Length, Option<Length>) {
    if line.wall.panels.value().is_none() {
        return (Length::ZERO, None);
    }
    let (mut worst, mut best) = (Length::ZERO, Some(Length::ZERO));
    for (panel, counts) in panels.clone() {
        let (least, most) = if let Some((from, to)) = panel.stations() {
            // An opening shortens the panel in the best case too.
            let whole = on_the_cripple_wall(line, Span::new(from, to));
            let (least, most) = panel_openings::length_inside(panel, line);
            let left = |taken: Length| whole.map(|whole| whole.saturating_sub(taken).max(Length::ZERO));
            (most.and_then(left), left(least))
        } else {
            let (least, most) = panel.total_length.bounds();
            (least.copied(), most.copied())
        };
        if counts.certain() {
            worst = worst.saturating_add(least.unwrap_or(Length::ZERO));
        }
        if counts.possible() {
            best = best.zip(most).map(|(best, most)| best.saturating_add(most));
        }
    }
    for span in unseen(line) {
        best = best
            .zip(on_the_cripple_wall(line, span))
            .map(|(best, length)| best.saturating_add(length));
    }
    (worst, best)
}

/// Whether a panel that counts stands at each end of the cripple wall, and an end where none does.
fn ends<'a>(line: &Line<'_>, panels: &(impl Iterator<Item = Counted<'a>> + Clone)) -> (Truth, Option<Span>) {
    if line.wall.panels.value().is_none() {
        return (Truth::Maybe, None);
    }
    let offset = match line.rule(keys::MAX_END_OFFSET) {
        Rule::Given { value, .. } => value,
        Rule::Missing(_) => return (Truth::Maybe, None),
        Rule::Silent(_) | Rule::NotRegulated => Length::ZERO,
    };
    let range = range(line);
    let start_window = Span::new(range.from, range.from.saturating_add(offset));
    let end_window = range.to.map(|end| Span::new(end.saturating_sub(offset), end));
    let mut answer = Truth::True;
    let mut bare = None;
    for (window, is_start) in [(Some(start_window), true), (end_window, false)] {
        let stands_there = |panel: &Panel| match (panel.stations(), window) {
            (Some((from, to)), Some(window)) => {
                let reaches_in = if is_start {
                    Some(from) <= window.to
                } else {
                    to >= window.from
                };
                (reaches_in && range.overlaps(Span::new(from, to))).into()
            }
            (Some(_), None) => Truth::Maybe,
            (None, _) => panel.at_each_end.satisfies(|both| both),
        };
        let mut at_end = panels.clone().fold(Truth::False, |at_end, (panel, counts)| {
            at_end.or(counts.and(stands_there(panel)))
        });
        let is_hidden = unseen(line).any(|span| match window {
            // A point-like window still lies in a stretch that begins or ends at it.
            Some(window) => {
                span.from <= window.to.unwrap_or(window.from) && span.to.is_none_or(|to| to >= window.from)
            }
            None => true,
        });
        if is_hidden {
            at_end = at_end.or(Truth::Maybe);
        }
        if !at_end.certain() && (bare.is_none() || !at_end.possible()) {
            bare = window;
        }
        answer = answer.and(at_end);
    }
    (answer, bare)
}

/// The largest gap in any stretch of the cripple wall. `None` where it is not known how long one is.
fn largest_gap<'a>(line: &Line<'_>, panels: &(impl Iterator<Item = Counted<'a>> + Clone)) -> Option<Gap> {
    let mut worst = (Length::ZERO, range(line));
    let mut best = Length::ZERO;
    for stretch in stretches(line) {
        let from_list = gap_in(line, panels, stretch, true)?;
        if from_list.0 > worst.0 {
            worst = from_list;
        }
        best = best.max(gap_in(line, panels, stretch, false)?.0);
    }
    // What a summary says of all gaps holds for each of them.
    for (summary, counts) in panels.clone().filter(|(panel, _)| panel.stations().is_none()) {
        let (least, most) = summary.largest_gap.bounds();
        if let Some(most) = most.filter(|most| counts.certain() && **most < worst.0) {
            worst = (*most, range(line));
        }
        if counts.possible() {
            best = best.min(least.copied().unwrap_or(Length::ZERO));
        }
    }
    let (worst, span) = worst;
    Some(Gap { worst, best, span })
}

/// The largest gap in one stretch of cripple wall between the panels with stations, and where it is.
fn gap_in<'a>(
    line: &Line<'_>,
    panels: &(impl Iterator<Item = Counted<'a>> + Clone),
    stretch: Span,
    is_worst: bool,
) -> Option<(Length, Span)> {
    let end = stretch.to?;
    if line.wall.panels.value().is_none() && !is_worst {
        return Some((Length::ZERO, stretch));
    }
    let stands = panels
        .clone()
        .filter(|(_, counts)| {
            if is_worst {
                counts.certain()
            } else {
                counts.possible()
            }
        })
        .filter_map(|(panel, _)| panel.stations());
    let hidden = unseen(line)
        .filter(|_| !is_worst)
        .map(|span| (span.from, span.to.unwrap_or(end)));
    let stands = stands.chain(hidden);
    let mut largest = (Length::ZERO, Span::new(stretch.from, stretch.from));
    let mut reached = stretch.from;
    // Each turn ends at a panel farther on, so there are no more turns than panels.
    while reached < end {
        let ahead = stands.clone().filter(|(_, to)| *to > reached);
        let (from, to) = ahead.min_by_key(|(from, _)| *from).unwrap_or((end, end));
        let gap = from.min(end).saturating_sub(reached);
        if gap > largest.0 {
            largest = (gap, Span::new(reached, reached.saturating_add(gap)));
        }
        reached = to;
    }
    Some(largest)
}

/// The length of a panel; of a summary, that of its shortest.
pub(super) fn panel_length(panel: &Panel) -> Observed<Length> {
    match panel.stations() {
        Some((from, to)) => Observed::seen(to.saturating_sub(from)),
        None => shortest_of(panel),
    }
}

/// The shortest panel of a summary, which is no longer than all panels together.
fn shortest_of(summary: &Panel) -> Observed<Length> {
    let (least, most) = summary.shortest.bounds();
    match (summary.total_length.bounds().1, summary.total_length.basis()) {
        (Some(total), Some(basis)) if most.is_none_or(|most| total < most) => {
            let basis = summary.shortest.basis().map_or(basis, |own| own.weaker(basis));
            Observed::bounded(least.copied(), Some(*total), basis)
        }
        _ => summary.shortest.clone(),
    }
}

/// The stretches of cripple wall that a panel stands on; all of them for a summary.
pub(super) fn behind<'a>(
    panel: &Panel,
    line: &'a Line<'_>,
) -> impl Iterator<Item = &'a CrippleStretch> + Clone + 'a {
    let on = panel.stations().map(|(from, to)| Span::new(from, to));
    line.cripple_wall()
        .iter()
        .filter(move |stretch| on.is_none_or(|on| stretch.span(line.length()).overlaps(on)))
}

/// The tallest stud behind a panel.
pub(super) fn stud_height(panel: &Panel, line: &Line<'_>) -> Observed<Length> {
    tallest_stud_of(behind(panel, line))
}

/// How what all panels together come to is known: as the list, and as what a summary says of them.
pub(super) fn basis(line: &Line<'_>, of: impl Fn(&Panel) -> Option<Basis>) -> Option<Basis> {
    let list = &line.wall.panels;
    let weakest = list.listed().iter().filter_map(of).max();
    list.basis().max(weakest)
}

/// The judgment on one property of the panels: shared by the checks on sheathing, nailing, joints, foot,
/// proportion and openings.
pub(super) fn judge_property<T: Copy>(
    line: &Line<'_>,
    rule: Rule<T>,
    property: Property,
    look_at: LookAt,
    show: impl Fn(&Panel) -> Found,
) -> Judgment {
    let judgment = Judgment::by(rule, |_| {
        Credit {
            list: &line.wall.panels,
            enough: line.bracing().enough,
            amount_is_asked: line.bracing().amount_is_asked,
            look_at_list: LookAt::Panels,
            words: CreditWords {
                not_recorded: "The braced panels of this wall line were not recorded.",
                none: "There are no braced panels to judge.",
                all: "Every panel recorded here has what is asked for.",
                surplus: "Enough panels have what is asked for; those that do not are surplus.",
                no_amount: "Panels here lack what is asked for; how much bracing is needed these provisions do not say.",
                failing: "Panels here lack what is asked for and do not count.",
                open: "Whether these panels count depends on something that was not seen.",
            },
        }
        .judge(
            look_at,
            |panel| property(panel, line),
            &show,
            |panel| panel.stations().map(|(from, to)| Span::new(from, to)),
        )
    })
    .or_about(look_at);
    where_there_is_a_cripple_wall(line, judgment)
}

/// A judgment that is of account only where there is a cripple wall.
pub(super) fn where_there_is_a_cripple_wall(line: &Line<'_>, judgment: Judgment) -> Judgment {
    judgment.applicable_if(line.has_cripple_wall(), NO_CRIPPLE_WALL, LookAt::CrippleWall)
}

/// Whether some of the panels were recorded together, without stations.
pub(super) fn has_summary(line: &Line<'_>) -> bool {
    let mut panels = line.wall.panels.listed().iter();
    panels.any(|panel| panel.stations().is_none())
}

/// Why nothing is asked of the bracing of a wall line whose floor bears on the sill.
pub(super) const NO_CRIPPLE_WALL: &str = "There is no cripple wall here; the floor bears on the sill.";
