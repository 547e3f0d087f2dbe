//! Braced panels: new ones, old ones that stay, old ones that are taken off.

use super::differences::Differences;
use super::pairing::pair;
use super::{Built, Designed, DesignedPiece, LineSignOff, NotDesigned, There, Walls};
use crate::check::{LookAt, Quantity};
use crate::house::{Panel, PanelFoot, Parts, Span};
use crate::measure::Length;
use crate::remedy::{Credit, ExistingPanel, LineRemedy, NewPanel, PanelLayout, PanelMake};

/// A panel that is expected from one station to another: an old one that stays, or one designed.
struct Expected {
    ends: (Length, Length),
    /// Its position among the old ones.
    old: Option<usize>,
    what: Option<Designed>,
}

/// An old panel that is to be taken off: where it stands, and its record.
type TakenOff<'a> = ((Length, Length), &'a Panel);

/// Old panels that stay are expected where they were, so that none of them is taken for a new one.
pub(super) fn panels(line: &LineRemedy, walls: &Walls<'_>, sign_off: &mut LineSignOff) {
    let old = walls.found.panels.listed();
    let work = line.panels.work();
    let (expected, taken_off) = expected(work, old);
    let Some(records) = walls.built.panels.value() else {
        let expected = expected.into_iter().filter_map(|one| Some((one.what?, one.ends)));
        let taken_off = taken_off.into_iter();
        let taken_off = taken_off.map(|(ends, _)| (Designed::PanelTakenOff, ends));
        for (what, ends) in expected.chain(taken_off) {
            push(sign_off, what, ends, Built::NotSeen);
        }
        return;
    };
    // A summary of all panels does not tell where each stands.
    let is_summary = records.iter().any(|record| record.stations().is_none());
    // An old panel that is recorded as it was is no new one.
    let is_still_there = |record: &Panel| !is_summary && taken_off.iter().any(|(_, old)| *old == record);
    let placed: Vec<(usize, (Length, Length))> = records
        .iter()
        .enumerate()
        .filter(|(_, record)| !is_still_there(record))
        .filter_map(|(item, record)| Some((item, record.stations()?)))
        .collect();
    let designed: Vec<(Length, Length)> = expected.iter().map(|one| one.ends).collect();
    let built: Vec<(Length, Length)> = placed.iter().map(|(_, ends)| *ends).collect();
    let pairs = pair(&designed, &built);
    let is_told_apart = pairs.is_some() && !is_summary;
    let pairs = pairs.unwrap_or_default();
    let mut free: Vec<(usize, (Length, Length))> = placed.clone();
    for (index, one) in expected.into_iter().enumerate() {
        let found = pairs.get(index).copied().flatten();
        let found = found.and_then(|place| placed.get(place));
        if let Some((item, _)) = found {
            free.retain(|(other, _)| other != item);
        }
        let Some(what) = one.what else { continue };
        let record = found.and_then(|(item, ends)| Some((records.get(*item)?, *ends)));
        let built = match record {
            Some((record, ends)) => {
                let differences = match &what {
                    Designed::Panel(panel, make) => of_new(panel, make, record),
                    Designed::KeptPanel(holes) => {
                        of_kept(one.old.and_then(|item| old.get(item)), *holes, record)
                    }
                    _ => Differences::default(),
                };
                Built::There(There::at(one.ends, ends, differences.0))
            }
            None if is_told_apart => walls.missing(Parts::Panels, Span::new(one.ends.0, one.ends.1)),
            None => Built::NotSeen,
        };
        push(sign_off, what, one.ends, built);
    }
    for (ends, old) in taken_off {
        // So is what is left over where it stood.
        let left_over = free.iter().position(|(_, other)| *other == ends);
        if let Some(place) = left_over {
            free.remove(place);
        }
        let is_there = left_over.is_some() || (!is_summary && records.contains(old));
        let built = match walls.missing(Parts::Panels, Span::new(ends.0, ends.1)) {
            _ if is_there => Built::Not,
            Built::Not if is_told_apart => Built::There(There::default()),
            _ => Built::NotSeen,
        };
        push(sign_off, Designed::PanelTakenOff, ends, built);
    }
    let spans = free
        .into_iter()
        .map(|(item, (from, to))| (item, Some(Span::new(from, to))));
    let summaries = records
        .iter()
        .enumerate()
        .filter(|(_, record)| record.stations().is_none() && !old.contains(record))
        .map(|(item, _)| (item, None));
    let extra = spans.chain(summaries).map(|(item, span)| NotDesigned {
        part: Parts::Panels,
        item,
        span,
    });
    sign_off.not_designed.extend(extra);
}

/// What is expected, and which of the old panels are to be taken off.
fn expected<'a>(work: Option<&PanelLayout>, old: &'a [Panel]) -> (Vec<Expected>, Vec<TakenOff<'a>>) {
    let mut expected: Vec<Expected> = Vec::new();
    let mut taken_off: Vec<TakenOff<'a>> = Vec::new();
    for (item, record) in old.iter().enumerate() {
        let Some(ends) = record.stations() else { continue };
        let existing = work.and_then(|work| work.existing.iter().find(|old| old.item == item));
        if existing.is_some_and(|old| old.is_removed) {
            taken_off.push((ends, record));
            continue;
        }
        let stays = |old: &&ExistingPanel| matches!(old.credit, Credit::Counts) || old.gets_holes.is_some();
        expected.push(Expected {
            ends,
            old: Some(item),
            what: existing
                .filter(stays)
                .map(|old| Designed::KeptPanel(old.gets_holes.map(|holes| holes.diameter))),
        });
    }
    if let Some(work) = work {
        expected.extend(work.added.iter().map(|panel| Expected {
            ends: (panel.from, panel.to),
            old: None,
            what: Some(Designed::Panel(Box::new(panel.clone()), work.make)),
        }));
    }
    (expected, taken_off)
}

fn push(sign_off: &mut LineSignOff, what: Designed, (from, to): (Length, Length), built: Built) {
    sign_off.pieces.push(DesignedPiece {
        what,
        span: Span::new(from, to),
        built,
    });
}

fn of_new(panel: &NewPanel, make: &PanelMake, built: &Panel) -> Differences {
    let mut differences = Differences::default();
    differences.term(LookAt::Sheathing, make.sheathing, &built.sheathing);
    differences.at_least(LookAt::SheathingThickness, make.thickness, &built.thickness);
    if let Some(nail) = make.nail {
        differences.same(LookAt::PanelNail, nail, &built.nail, Quantity::Nail);
    }
    differences.at_most(LookAt::EdgeNailing, make.edge_nailing, &built.edge_nailing);
    differences.at_most(LookAt::FieldNailing, make.field_nailing, &built.field_nailing);
    differences.yes(LookAt::NailsFlush, true, &built.nails_flush);
    differences.yes(LookAt::JointsBlocked, true, &built.joints_blocked);
    differences.term(LookAt::PanelFoot, panel.foot, &built.foot);
    if let (PanelFoot::SillBlocks, Some(nails)) = (panel.foot, make.nails_per_sill_block) {
        differences.good_if(
            LookAt::NailsPerSillBlock,
            nails,
            &built.nails_per_sill_block,
            |found| found >= nails,
            |nails| Quantity::Count(nails.into()),
        );
    }
    differences.yes(LookAt::CutThrough, false, &built.cut_through);
    differences.at_least(LookAt::VentHoles, make.vent_holes, &built.vent_holes);
    differences
}

/// An old panel that counts has to be what it was; what was not known of it then need not be known now.
fn of_kept(old: Option<&Panel>, holes: Option<Length>, built: &Panel) -> Differences {
    let mut differences = Differences::default();
    let Some(old) = old else { return differences };
    if let Some(sheathing) = old.sheathing.value() {
        differences.term(LookAt::Sheathing, *sheathing, &built.sheathing);
    }
    if let Some(foot) = old.foot.value() {
        differences.term(LookAt::PanelFoot, *foot, &built.foot);
    }
    if let Some(cut) = old.cut_through.value() {
        differences.yes(LookAt::CutThrough, *cut, &built.cut_through);
    }
    differences.at_least(LookAt::VentHoles, holes, &built.vent_holes);
    differences
}
