//! Anchors: new ones, old ones that stay, old ones that are mended.

use super::differences::Differences;
use super::pairing::pair;
use super::{Built, Designed, DesignedPiece, LineSignOff, NotDesigned, There, Walls};
use crate::check::{LookAt, Quantity};
use crate::house::{Anchor, AnchorKind, Parts, Span, Tightness, Washer};
use crate::measure::Length;
use crate::remedy::{AnchorLayout, Credit, LineRemedy, NewAnchor};

/// An anchor that is expected at a station: an old one, or one designed.
struct Expected {
    at: Length,
    /// Its position among the old ones.
    old: Option<usize>,
    what: Option<Designed>,
}

/// Old anchors are expected where they were, so that none of them is taken for a new one.
pub(super) fn anchors(line: &LineRemedy, walls: &Walls<'_>, sign_off: &mut LineSignOff) {
    let old = walls.found.anchors.listed();
    let work = line.anchors.work();
    let mut expected: Vec<Expected> = Vec::new();
    for (item, record) in old.iter().enumerate() {
        let what = relied_on(work, item);
        if let Some(at) = record.at {
            expected.push(Expected {
                at,
                old: Some(item),
                what,
            });
        }
    }
    let added = work.into_iter().flat_map(|work| &work.added);
    expected.extend(added.map(|anchor| Expected {
        at: anchor.at,
        old: None,
        what: Some(Designed::Anchor(*anchor)),
    }));

    let Some(records) = walls.built.anchors.value() else {
        for (what, at) in expected.into_iter().filter_map(|one| Some((one.what?, one.at))) {
            push(sign_off, what, at, Built::NotSeen);
        }
        return;
    };
    let placed: Vec<(usize, Length)> = records
        .iter()
        .enumerate()
        .filter_map(|(item, record)| Some((item, record.at?)))
        .collect();
    for (item, record) in old.iter().enumerate() {
        if let Some(what) = relied_on(work, item).filter(|_| record.at.is_none()) {
            let span = Span::of(record.first, record.last, walls.found.length.value().copied());
            let unchanged = records.iter().find(|built| *built == record);
            let built = unchanged.or_else(|| records.iter().find(|built| is_same_run(record, built)));
            // A run that is recorded otherwise now cannot be told from other anchors.
            let built = built.map_or(Built::NotSeen, |built| {
                Built::differing(differences(&what, Some(record), built).0)
            });
            sign_off.pieces.push(DesignedPiece { what, span, built });
        }
    }
    // A run that was not there before may hold any of the new anchors: where each stands was not taken.
    let is_old_run = |record: &Anchor| old.iter().any(|old| is_same_run(old, record));
    let has_new_run = records
        .iter()
        .any(|record| record.at.is_none() && !is_old_run(record));
    let designed: Vec<(Length, Length)> = expected.iter().map(|one| (one.at, one.at)).collect();
    let built: Vec<(Length, Length)> = placed.iter().map(|(_, at)| (*at, *at)).collect();
    let pairs = pair(&designed, &built);
    let is_told_apart = pairs.is_some() && !has_new_run;
    let pairs = pairs.unwrap_or_default();
    let mut is_free = vec![true; records.len()];
    for (index, one) in expected.into_iter().enumerate() {
        let found = pairs.get(index).copied().flatten();
        let found = found.and_then(|place| placed.get(place));
        if let Some((item, _)) = found
            && let Some(free) = is_free.get_mut(*item)
        {
            *free = false;
        }
        let Some(what) = one.what else { continue };
        let record = found.and_then(|(item, at)| Some((records.get(*item)?, *at)));
        let built = match record {
            Some((record, at)) => {
                let differences = differences(&what, one.old.and_then(|item| old.get(item)), record);
                Built::There(There::at((one.at, one.at), (at, at), differences.0))
            }
            None if is_told_apart => walls.missing(Parts::Anchors, Span::new(one.at, one.at)),
            None => Built::NotSeen,
        };
        push(sign_off, what, one.at, built);
    }
    for (item, record) in records.iter().enumerate() {
        let is_of_before = is_old_run(record);
        if is_free.get(item).copied().unwrap_or(false) && !is_of_before {
            sign_off.not_designed.push(NotDesigned {
                part: Parts::Anchors,
                item,
                span: record.at.or(record.first).map(|from| Span {
                    from,
                    to: record.at.or(record.last),
                }),
            });
        }
    }
}

/// What the layout asks of an old anchor on which it relies.
fn relied_on(work: Option<&AnchorLayout>, item: usize) -> Option<Designed> {
    let existing = work?.existing.iter().find(|old| old.item == item)?;
    match existing.credit {
        Credit::Counts => Some(Designed::KeptAnchor),
        Credit::Mended { washer, tighten } => Some(Designed::MendedAnchor { washer, tighten }),
        Credit::Lacks(_) | Credit::NotSeen(_) | Credit::NotPlaced => None,
    }
}

/// Whether two records are of one run, by where it begins and ends and how far apart its anchors are.
fn is_same_run(one: &Anchor, other: &Anchor) -> bool {
    let run = |anchor: &Anchor| (anchor.at, anchor.first, anchor.last);
    one.at.is_none() && run(one) == run(other) && one.spacing == other.spacing
}

fn differences(what: &Designed, old: Option<&Anchor>, built: &Anchor) -> Differences {
    match what {
        Designed::Anchor(anchor) => of_new(anchor, built),
        Designed::MendedAnchor { washer, tighten } => of_mended(*washer, *tighten, built),
        _ => of_kept(old, built),
    }
}

fn push(sign_off: &mut LineSignOff, what: Designed, at: Length, built: Built) {
    sign_off.pieces.push(DesignedPiece {
        what,
        span: Span::new(at, at),
        built,
    });
}

fn of_new(designed: &NewAnchor, built: &Anchor) -> Differences {
    let mut differences = Differences::default();
    differences.term(LookAt::AnchorKind, designed.kind, &built.kind);
    differences.exactly(LookAt::AnchorDiameter, designed.diameter, &built.diameter);
    differences.at_least(LookAt::AnchorEmbedment, designed.embedment, &built.embedment);
    differences.at_least(LookAt::AnchorEdge, designed.edge_distance, &built.edge_distance);
    if let Some(washer) = designed.washer {
        has_washer(&mut differences, washer, built);
    }
    if !matches!(designed.kind, AnchorKind::SidePlate | AnchorKind::Strap) {
        differences.term(LookAt::AnchorTightness, Tightness::Snug, &built.tightness);
    }
    differences
}

fn of_mended(washer: Option<Washer>, tighten: bool, built: &Anchor) -> Differences {
    let mut differences = Differences::default();
    if let Some(washer) = washer {
        has_washer(&mut differences, washer, built);
    }
    if tighten {
        differences.term(LookAt::AnchorTightness, Tightness::Snug, &built.tightness);
    }
    differences
}

/// An old anchor that counts has to be what it was; what was not known of it then need not be known now.
fn of_kept(old: Option<&Anchor>, built: &Anchor) -> Differences {
    let mut differences = Differences::default();
    let Some(old) = old else { return differences };
    if let Some(kind) = old.kind.value() {
        differences.term(LookAt::AnchorKind, *kind, &built.kind);
    }
    differences.exactly(
        LookAt::AnchorDiameter,
        old.diameter.value().copied(),
        &built.diameter,
    );
    if let Some(washer) = old.washer.value() {
        has_washer(&mut differences, *washer, built);
    }
    if let Some(tightness) = old.tightness.value() {
        differences.term(LookAt::AnchorTightness, *tightness, &built.tightness);
    }
    differences
}

fn has_washer(differences: &mut Differences, washer: Washer, built: &Anchor) {
    let is_good = |found: Washer| found.is_as_good_as(washer);
    differences.good_if(
        LookAt::AnchorWasher,
        washer,
        &built.washer,
        is_good,
        Quantity::Washer,
    );
}
