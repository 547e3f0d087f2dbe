//! Which braced panels count, and whether those that count are enough: shared by the checks on bracing.
//!
//! A panel counts when its sheathing, nailing, joints, foot, proportion and openings are what the provisions
//! ask. Length, ends and gaps are judged over the panels that count. So a panel or a nail more never makes a
//! wall line worse.

use super::context::{Line, tallest_stud};
use super::credit::{Credit, CreditWords};
use super::finding::{Judgment, Quantity};
use super::look_at::LookAt;
use super::{panel_foot, panel_joints, panel_nailing, panel_openings, panel_proportion, panel_sheathing};
use crate::house::{Panel, Parts, Span};
use crate::measure::{Length, Percent};
use crate::observation::{Observed, Truth};
use crate::provisions::{Rule, keys};

/// A property by which a panel counts or does not.
pub(super) type Property = fn(&Panel, &Line<'_>) -> Truth;

/// Every property a panel has to have.
const PROPERTIES: [Property; 6] = [
    panel_sheathing::counts,
    panel_nailing::counts,
    panel_joints::counts,
    panel_foot::counts,
    panel_proportion::counts,
    panel_openings::counts,
];

/// Whether a panel counts.
pub(super) fn counts(panel: &Panel, line: &Line<'_>) -> Truth {
    let mut truth = Truth::True;
    for property in PROPERTIES {
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
    /// Length of the cripple wall; `None` where it is not known.
    pub(super) base: Option<Length>,
    pub(super) share: Rule<Percent>,
    /// Length of the panels that count, in the worst and in the best case.
    pub(super) length: (Length, Option<Length>),
    pub(super) long_enough: Truth,
    /// Whether a panel that counts stands at each end.
    pub(super) at_ends: Truth,
    /// The end that has none.
    pub(super) bare_end: Option<Span>,
    /// The largest gap in the worst and in the best case.
    pub(super) gap: Option<(Length, Length, Span)>,
    pub(super) gaps_small_enough: Truth,
    /// Length, ends and gaps together.
    pub(super) enough: Truth,
}

impl Bracing {
    pub(super) fn of(line: &Line<'_>) -> Self {
        let panels = counted(line);
        let range = range(line);
        let base = match line.wall.cripple_wall.value() {
            Some(stretches) => stretches
                .iter()
                .map(|stretch| stretch.span(line.length()).length())
                .try_fold(Length::ZERO, |sum, length| Some(sum.saturating_add(length?))),
            None => line.length(),
        };
        let share = line.rule(keys::BRACED_SHARE);
        let length = total_length(line, &panels, range);
        let long_enough = match (share, base) {
            (Rule::Given { value: share, .. }, Some(base)) => {
                let best = length.1.is_none_or(|best| share.reached_by(best.min(base), base));
                Truth::from_cases(best || !is_extent_known(line), share.reached_by(length.0, base))
            }
            // However long the wall is, no panel at all is less than any share of it.
            (Rule::Given { .. }, None) if length.1 == Some(Length::ZERO) && is_extent_known(line) => {
                Truth::False
            }
            (Rule::Given { .. }, None) | (Rule::Missing(_), _) => Truth::Maybe,
            (Rule::Silent(_) | Rule::NotRegulated, _) => Truth::True,
        };
        let (at_ends, bare_end) = match line.rule(keys::PANEL_AT_EACH_END) {
            Rule::Given { .. } => ends(line, &panels, range),
            Rule::Missing(_) => (Truth::Maybe, None),
            Rule::Silent(_) | Rule::NotRegulated => (Truth::True, None),
        };
        let gap = largest_gap(line, &panels, range);
        let gaps_small_enough = match line.rule(keys::MAX_PANEL_GAP) {
            Rule::Given { value: limit, .. } => match gap {
                Some((worst, best, _)) => {
                    Truth::from_cases(best <= limit || !is_extent_known(line), worst <= limit)
                }
                None => Truth::Maybe,
            },
            Rule::Missing(_) => Truth::Maybe,
            Rule::Silent(_) | Rule::NotRegulated => Truth::True,
        };
        let enough = long_enough.and(at_ends).and(gaps_small_enough);
        Self {
            base,
            share,
            length,
            long_enough,
            at_ends,
            bare_end,
            gap,
            gaps_small_enough,
            enough,
        }
    }
}

/// Whether it is known where the cripple wall is.
fn is_extent_known(line: &Line<'_>) -> bool {
    line.wall.cripple_wall.value().is_some()
}

/// The panels of a wall line, each with whether it counts.
fn counted<'a>(line: &'a Line<'_>) -> impl Iterator<Item = (&'a Panel, Truth)> + Clone + 'a {
    let list = line.wall.panels.value().map(Vec::as_slice).unwrap_or_default();
    list.iter().map(|panel| (panel, counts(panel, line)))
}

/// From where to where the cripple wall runs.
fn range(line: &Line<'_>) -> Span {
    let spans = || {
        line.cripple_wall()
            .iter()
            .map(|stretch| stretch.span(line.length()))
    };
    match spans().map(|span| span.from).min() {
        Some(from) => Span {
            from,
            to: if spans().any(|span| span.to.is_none()) {
                None
            } else {
                spans().filter_map(|span| span.to).max()
            },
        },
        None => line.whole(),
    }
}

fn unseen<'a>(line: &'a Line<'_>) -> impl Iterator<Item = Span> + Clone + 'a {
    let length = line.length();
    line.wall
        .unseen_of(Parts::Panels)
        .map(move |unseen| unseen.span(length))
}

type Counted<'a> = (&'a Panel, Truth);

fn total_length<'a>(
    line: &Line<'_>,
    panels: &(impl Iterator<Item = Counted<'a>> + Clone),
    range: Span,
) -> (Length, Option<Length>) {
    if line.wall.panels.value().is_none() {
        return (Length::ZERO, None);
    }
    let (mut worst, mut best) = (Length::ZERO, Some(Length::ZERO));
    for (panel, counts) in panels.clone() {
        let (least, most) = match panel.stations() {
            Some((from, to)) => {
                let length = to.saturating_sub(from);
                (
                    Some(length.saturating_sub(panel_openings::length_inside(panel, line))),
                    Some(length),
                )
            }
            None => {
                let (least, most) = panel.total_length.bounds();
                (least.copied(), most.copied())
            }
        };
        if counts.certain() {
            worst = worst.saturating_add(least.unwrap_or(Length::ZERO));
        }
        if counts.possible() {
            // An opening that is surely there shortens the panel in the best case too.
            let most = if panel.stations().is_some() { least } else { most };
            best = best.zip(most).map(|(best, most)| best.saturating_add(most));
        }
    }
    for span in unseen(line) {
        let from = span.from.max(range.from);
        let to = match (span.to, range.to) {
            (Some(to), Some(end)) => Some(to.min(end)),
            (to, end) => to.or(end),
        };
        best = best
            .zip(to)
            .map(|(best, to)| best.saturating_add(to.saturating_sub(from).max(Length::ZERO)));
    }
    (worst, best)
}

fn ends<'a>(
    line: &Line<'_>,
    panels: &(impl Iterator<Item = Counted<'a>> + Clone),
    range: Span,
) -> (Truth, Option<Span>) {
    if line.wall.panels.value().is_none() {
        return (Truth::Maybe, None);
    }
    let offset = match line.rule(keys::MAX_END_OFFSET) {
        Rule::Given { value, .. } => value,
        Rule::Missing(_) => return (Truth::Maybe, None),
        Rule::Silent(_) | Rule::NotRegulated => Length::ZERO,
    };
    let start_window = Span::new(range.from, range.from.saturating_add(offset));
    let end_window = range.to.map(|end| Span::new(end.saturating_sub(offset), end));
    let mut answer = Truth::True;
    let mut bare = None;
    for (window, is_start) in [(Some(start_window), true), (end_window, false)] {
        let mut at_end = Truth::False;
        for (panel, counts) in panels.clone() {
            let stands_there = match (panel.stations(), window) {
                (Some((from, _)), Some(window)) if is_start => (Some(from) <= window.to).into(),
                (Some((_, to)), Some(window)) => (to >= window.from).into(),
                (Some(_), None) => Truth::Maybe,
                (None, _) => panel.at_each_end.satisfies(|both| both),
            };
            at_end = at_end.or(counts.and(stands_there));
        }
        let is_hidden = unseen(line).any(|span| match window {
            // A point-like window still lies in a stretch that begins or ends at it.
            Some(window) => {
                span.from <= window.to.unwrap_or(window.from) && span.to.is_none_or(|to| to >= window.from)
            }
            None => true,
        });
        if is_hidden || !is_extent_known(line) {
            at_end = at_end.or(Truth::Maybe);
        }
        if !at_end.certain() && (bare.is_none() || !at_end.possible()) {
            bare = window;
        }
        answer = answer.and(at_end);
    }
    (answer, bare)
}

fn largest_gap<'a>(
    line: &Line<'_>,
    panels: &(impl Iterator<Item = Counted<'a>> + Clone),
    range: Span,
) -> Option<(Length, Length, Span)> {
    let end = range.to?;
    let whole = end.saturating_sub(range.from);
    if line.wall.panels.value().is_none() {
        return Some((whole, Length::ZERO, range));
    }
    let sweep = |worst: bool| {
        let stands = panels
            .clone()
            .filter(move |(_, counts)| {
                if worst {
                    counts.certain()
                } else {
                    counts.possible()
                }
            })
            .filter_map(|(panel, _)| panel.stations())
            .chain(
                unseen(line)
                    .filter(move |_| !worst)
                    .map(move |span| (span.from, span.to.unwrap_or(end))),
            );
        let mut largest = (Length::ZERO, range.from);
        let mut reached = range.from;
        // Each turn ends at a panel farther on, so there are no more turns than panels.
        while let Some((from, to)) = stands
            .clone()
            .filter(|(_, to)| *to > reached)
            .min_by_key(|(from, _)| *from)
        {
            let gap = from.min(end).saturating_sub(reached);
            if gap > largest.0 {
                largest = (gap, reached);
            }
            reached = to;
        }
        let gap = end.saturating_sub(reached);
        if gap > largest.0 { (gap, reached) } else { largest }
    };
    let summary = panels.clone().find(|(panel, _)| panel.stations().is_none());
    match summary {
        Some((panel, counts)) => {
            let (least, most) = panel.largest_gap.bounds();
            let worst = most.copied().filter(|_| counts.certain()).unwrap_or(whole);
            let best = if counts.possible() {
                least.copied().unwrap_or(Length::ZERO)
            } else {
                whole
            };
            Some((worst, best, range))
        }
        None => {
            let ((worst, at), (best, _)) = (sweep(true), sweep(false));
            Some((worst, best, Span::new(at, at.saturating_add(worst))))
        }
    }
}

/// The length of a panel; of a summary, that of its shortest.
pub(super) fn panel_length(panel: &Panel) -> Observed<Length> {
    match panel.stations() {
        Some((from, to)) => Observed::seen(to.saturating_sub(from)),
        None => panel.shortest.clone(),
    }
}

/// The tallest stud behind a panel: that of the whole wall line for a summary, that of the stretches it
/// stands on for a single panel.
pub(super) fn stud_height(panel: &Panel, line: &Line<'_>) -> Observed<Length> {
    let Some((from, to)) = panel.stations() else {
        return tallest_stud(line.wall);
    };
    let on = Span::new(from, to);
    let mut behind = line
        .cripple_wall()
        .iter()
        .filter(|stretch| stretch.span(line.length()).overlaps(on));
    match (behind.next(), behind.next()) {
        (Some(only), None) if only.tallest_stud.is_known() => only.tallest_stud.clone(),
        (Some(only), None) if only.tallest_stud.is_not_recorded() && !only.height.is_not_recorded() => {
            // A stud is lower than its wall.
            Observed::Between {
                at_least: only.shortest_stud.bounds().0.copied(),
                at_most: only.height.bounds().1.copied(),
                basis: only.height.basis().unwrap_or(crate::observation::Basis::Inferred),
            }
        }
        (Some(only), None) => only.tallest_stud.clone(),
        _ => tallest_stud(line.wall),
    }
}

/// The judgment on one property of the panels: shared by the checks on sheathing, nailing, joints, foot,
/// proportion and openings.
pub(super) fn judge_property<T: Copy>(
    line: &Line<'_>,
    rule: Rule<T>,
    property: Property,
    look_at: LookAt,
    show: impl Fn(&Panel) -> Quantity,
) -> Judgment {
    Judgment::by(rule, |_| {
        Credit {
            list: &line.wall.panels,
            enough: line.bracing().enough,
            look_at_list: LookAt::Panels,
            words: CreditWords {
                not_recorded: "The braced panels of this wall line were not recorded.",
                none: "There are no braced panels to judge.",
                all: "Every panel recorded here has what is asked for.",
                surplus: "Enough panels have what is asked for; those that do not are surplus.",
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
        .applicable_if(line.has_cripple_wall(), NO_CRIPPLE_WALL, LookAt::CrippleWall)
    })
}

/// Why nothing is asked of the bracing of a wall line whose floor bears on the sill.
pub(super) const NO_CRIPPLE_WALL: &str = "There is no cripple wall here; the floor bears on the sill.";
