//! Vents that make room for panels.

use super::pairing::pair;
use super::{Built, Designed, DesignedPiece, LineSignOff, NotDesigned, There, Walls};
use crate::house::{Opening, Parts, Span};
use crate::measure::Length;
use crate::remedy::{LineRemedy, MovedVent};

/// Openings that stay are expected where they were, so that none of them is taken for one that was moved.
pub(super) fn vents(line: &LineRemedy, walls: &Walls<'_>, sign_off: &mut LineSignOff) {
    let old = walls.found.openings.listed();
    let moved: &[MovedVent] = line.panels.work().map_or(&[], |work| &work.moved_vents);
    let of = |item: usize| moved.iter().find(|vent| vent.opening == item);
    let ends = |opening: &Opening| (opening.from, opening.to);

    let mut expected: Vec<(Length, Length)> = Vec::new();
    let mut pieces: Vec<Option<(Designed, Span)>> = Vec::new();
    let mut closed: Vec<&Opening> = Vec::new();
    for (item, opening) in old.iter().enumerate() {
        let was = Span::new(opening.from, opening.to);
        match of(item).map(|vent| vent.to) {
            None => {
                expected.push(ends(opening));
                pieces.push(None);
            }
            Some(Some(to)) => {
                expected.push(to);
                pieces.push(Some((Designed::MovedVent { from: was }, Span::new(to.0, to.1))));
            }
            Some(None) => closed.push(opening),
        }
    }
    let Some(records) = walls.built.openings.value() else {
        for (what, span) in pieces.into_iter().flatten() {
            push(sign_off, what, span, Built::NotSeen);
        }
        for opening in closed {
            let span = Span::new(opening.from, opening.to);
            push(sign_off, Designed::ClosedVent, span, Built::NotSeen);
        }
        return;
    };
    let built: Vec<(Length, Length)> = records.iter().map(ends).collect();
    // What is where it always was, and where nothing else is expected, was not moved.
    let was_to_go = |place: &(Length, Length)| {
        let stood_there = |(item, opening)| of(item).is_some() && ends(opening) == *place;
        !expected.contains(place) && old.iter().enumerate().any(stood_there)
    };
    let places: Vec<(usize, (Length, Length))> = built
        .iter()
        .copied()
        .enumerate()
        .filter(|(_, place)| !was_to_go(place))
        .collect();
    let others: Vec<(Length, Length)> = places.iter().map(|(_, place)| *place).collect();
    let pairs = pair(&expected, &others);
    let is_told_apart = pairs.is_some();
    let pairs: Vec<Option<usize>> = pairs
        .unwrap_or_default()
        .into_iter()
        .map(|found| Some(places.get(found?)?.0))
        .collect();
    let mut is_free: Vec<bool> = built.iter().map(|place| !was_to_go(place)).collect();
    for ((index, place), piece) in expected.iter().enumerate().zip(pieces) {
        let found = pairs.get(index).copied().flatten();
        if let Some(free) = found.and_then(|item| is_free.get_mut(item)) {
            *free = false;
        }
        let Some((what, span)) = piece else { continue };
        let record = found.and_then(|item| built.get(item));
        let was = match &what {
            Designed::MovedVent { from } => Some(*from),
            _ => None,
        };
        let is_where_it_was =
            |place: &(Length, Length)| was_to_go(place) && was == Some(Span::new(place.0, place.1));
        let result = match record {
            Some(ends) => Built::There(There::at(*place, *ends, Vec::new())),
            None if built.iter().any(is_where_it_was) => Built::Not,
            None if is_told_apart => walls.missing(Parts::Openings, span),
            None => Built::NotSeen,
        };
        push(sign_off, what, span, result);
    }
    for opening in closed {
        let span = Span::new(opening.from, opening.to);
        let is_still_there = built.contains(&ends(opening)) && was_to_go(&ends(opening));
        let result = if is_still_there {
            Built::Not
        } else {
            match walls.missing(Parts::Openings, span) {
                Built::Not if is_told_apart => Built::There(There::default()),
                _ => Built::NotSeen,
            }
        };
        push(sign_off, Designed::ClosedVent, span, result);
    }
    let free = is_free.iter().enumerate().filter(|(_, free)| **free);
    let extra = free.filter_map(|(item, _)| {
        let (from, to) = built.get(item).copied()?;
        Some(NotDesigned {
            part: Parts::Openings,
            item,
            span: Some(Span::new(from, to)),
        })
    });
    sign_off.not_designed.extend(extra);
}

fn push(sign_off: &mut LineSignOff, what: Designed, span: Span, built: Built) {
    sign_off.pieces.push(DesignedPiece { what, span, built });
}
