//! What ties the floor to a wall line: blocks or an end joist where the joist bays are open, and framing clips.

use super::framing::by_foot;
use super::given::{USUAL_JOIST_SPACING, joist_spacing};
use super::layout::{Decline, FloorLayout, PanelLayout, Part, RimWork};
use super::line::{Line, given, most};
use crate::check::Ruling;
use crate::house::{JoistDirection, Panel, Rim};
use crate::measure::Length;
use crate::prices::{Cents, Item};
use crate::provisions::keys;

/// Designs the floor connection of a wall line; blocks may be asked for over its panels, old and new.
pub(super) fn design(line: &Line<'_>, panels: &Part<PanelLayout>) -> (Part<FloorLayout>, Cents) {
    match layout(line, panels) {
        Ok((layout, _)) if layout.rim.is_none() && layout.clips.is_empty() => {
            (Part::NothingToAdd, Cents::ZERO)
        }
        Ok((layout, cost)) => (Part::Work(layout), cost),
        Err(decline) => (Part::Declined(decline), Cents::ZERO),
    }
}

fn layout(line: &Line<'_>, panels: &Part<PanelLayout>) -> Result<(FloorLayout, Cents), Decline> {
    let (rim, rim_cost) = if line.ruling(&["rim-or-blocking"]) == Ruling::NotMet {
        rim(line, panels)?
    } else {
        (None, Cents::ZERO)
    };
    let mut layout = FloorLayout {
        rim,
        clips: Vec::new(),
        clip_spacing: None,
    };
    let is_tied = line.is_enough(&["floor-connection"]);
    if is_tied {
        return Ok((layout, rim_cost));
    }
    let largest = most(line.rule(keys::CLIP_SPACING)).map_err(Decline::FigureNotSeen)?;
    let largest = largest
        .filter(|largest| *largest > Length::ZERO)
        .ok_or(Decline::NoWayToTieTheFloor)?;
    let (count, spacing) = spread(line.length, largest);
    let between = spacing.times(count - 1).unwrap_or(line.length);
    let first = to_a_mark(half(line.length.saturating_sub(between)));
    let station = |clip| {
        spacing
            .times(clip)
            .map(|from_first| first.saturating_add(from_first))
    };
    layout.clips = (0..count).filter_map(station).collect();
    layout.clip_spacing = Some(spacing);
    let clips = line.prices.likely(Item::FramingClip).times(count);
    Ok((layout, rim_cost.plus(clips)))
}

/// How many clips a wall line takes, and the spacing at which they are evenly spread, to the mark of a tape below.
fn spread(length: Length, largest: Length) -> (i64, Length) {
    let (whole, rest) = (
        length.nanometers().div_euclid(largest.nanometers()),
        length.nanometers().rem_euclid(largest.nanometers()),
    );
    let count = (whole + i64::from(rest != 0)).max(1);
    let even = Length::from_nanometers(length.nanometers() / count);
    let marked = to_a_mark(even);
    (count, if marked > Length::ZERO { marked } else { even })
}

/// The sixteenth of an inch at or below a length.
fn to_a_mark(length: Length) -> Length {
    let sixteenth = Length::sixty_fourths(4).nanometers();
    Length::from_nanometers(length.nanometers() / sixteenth * sixteenth)
}

fn half(length: Length) -> Length {
    Length::from_nanometers(length.nanometers() / 2)
}

/// What closes the joist bays with the fewest blocks.
fn rim(line: &Line<'_>, panels: &Part<PanelLayout>) -> Result<(Option<RimWork>, Cents), Decline> {
    let end_joist = || {
        let work = RimWork {
            pattern: Rim::Continuous,
            blocks: Vec::new(),
        };
        (Some(work), by_foot(line, Item::EndJoist, line.length))
    };
    if line.wall.joists.value() == Some(&JoistDirection::Parallel) {
        return Ok(end_joist());
    }
    let allowed = given(line.rule(keys::RIM_PATTERNS)).map_err(Decline::FigureNotSeen)?;
    let Some(allowed) = allowed else {
        return Ok((None, Cents::ZERO));
    };
    let bays = joist_bays(line);
    let alternate = || bays.iter().copied().step_by(2);
    // The check takes a pattern of alternate bays for one without blocks over panels.
    let alternate_will_do = allowed.contains(Rim::AlternateBays);
    let (pattern, blocks): (Rim, Vec<Length>) = if alternate_will_do {
        (Rim::AlternateBays, alternate().collect())
    } else if allowed.contains(Rim::AlternateAndOverPanels) {
        let over = spans(line, panels);
        let is_over = |station: &Length| over.iter().any(|(from, to)| from <= station && station <= to);
        let mut blocks: Vec<Length> = alternate().chain(bays.iter().copied().filter(is_over)).collect();
        blocks.sort_unstable();
        blocks.dedup();
        (Rim::AlternateAndOverPanels, blocks)
    } else if allowed.contains(Rim::EveryBay) {
        (Rim::EveryBay, bays)
    } else {
        return Ok(end_joist());
    };
    let count = i64::try_from(blocks.len()).unwrap_or(i64::MAX);
    let cost = line.prices.likely(Item::JoistBlock).times(count);
    Ok((Some(RimWork { pattern, blocks }), cost))
}

/// The panels of a wall line, old ones that stay and new ones.
fn spans(line: &Line<'_>, panels: &Part<PanelLayout>) -> Vec<(Length, Length)> {
    let records = line.wall.panels.listed().iter();
    let old = records.filter_map(Panel::stations);
    let new = panels.work().into_iter().flat_map(|work| &work.added);
    old.chain(new.map(|panel| (panel.from, panel.to))).collect()
}

/// The middles of the joist bays, by the joist spacing of the floor or the usual one.
fn joist_bays(line: &Line<'_>) -> Vec<Length> {
    let spacing = joist_spacing(line.house).unwrap_or(USUAL_JOIST_SPACING);
    let mut bays = Vec::new();
    let mut from = Length::ZERO;
    while from < line.length {
        let to = from.saturating_add(spacing).min(line.length);
        bays.push(Length::from_nanometers(from.saturating_add(to).nanometers() / 2));
        from = to;
    }
    bays
}
