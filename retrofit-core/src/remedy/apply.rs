//! A house as it is once a remedy is built, to be checked again.

use super::anchors::mend;
use super::layout::{
    AnchorLayout, Credit, FloorLayout, Framing, FramingWork, LineRemedy, NewAnchor, PanelLayout, SillWork,
};
use super::panels::drill;
use crate::house::{
    Connection, ConnectionKind, House, Installed, OpeningKind, SillSoundness, SillTreatment, TopPlate,
    WallLine,
};
use crate::observation::{Basis, Observed};

/// Puts the work of every wall line into a record whose gaps were filled.
pub(super) fn apply(house: &House, lines: &[LineRemedy]) -> House {
    let mut house = house.clone();
    let mut lost = None;
    for remedy in lines {
        let Some(wall) = house.wall_lines.get_mut(remedy.wall_line) else {
            continue;
        };
        sill(wall, &remedy.sill);
        if let Some(work) = remedy.anchors.work() {
            anchors(wall, work);
        }
        if let Some(work) = remedy.panels.work() {
            for vent in work.moved_vents.iter().filter(|vent| vent.to.is_none()) {
                let openings = wall.openings.listed();
                lost = lost.max(openings.get(vent.opening).map(|opening| opening.kind));
            }
            panels(wall, work);
        }
        framing(wall, &remedy.framing);
        if let Some(work) = remedy.floor.work() {
            floor(wall, work);
        }
    }
    // A vent that goes takes an unknown part of the area that was written down for the house.
    if lost == Some(OpeningKind::Vent) && house.vent_area.is_known() {
        let most = house.vent_area.value().copied();
        house.vent_area = Observed::bounded(None, most, Basis::Inferred);
    }
    house
}

fn known<T>(list: &mut Observed<Vec<T>>) -> Option<&mut Vec<T>> {
    match list {
        Observed::Known { value, .. } => Some(value),
        _ => None,
    }
}

fn sill(wall: &mut WallLine, work: &[SillWork]) {
    for piece in work {
        if let Some(record) = known(&mut wall.sill).and_then(|pieces| pieces.get_mut(piece.piece)) {
            record.thickness = Observed::seen(piece.thickness);
            record.treatment = Observed::seen(SillTreatment::Treated);
            record.soundness = Observed::seen(SillSoundness::Sound);
            record.installed = Observed::seen(Installed::Added);
        }
    }
}

fn anchors(wall: &mut WallLine, work: &AnchorLayout) {
    let Some(records) = known(&mut wall.anchors) else {
        return;
    };
    for existing in &work.existing {
        if let (Credit::Mended { washer, .. }, Some(record)) =
            (existing.credit, records.get_mut(existing.item))
        {
            *record = mend(record, washer);
        }
    }
    records.extend(work.added.iter().map(NewAnchor::record));
}

fn panels(wall: &mut WallLine, work: &PanelLayout) {
    if let Some(records) = known(&mut wall.panels) {
        for panel in work.existing.iter().filter(|panel| panel.gets_holes.is_some()) {
            if let Some(record) = records.get_mut(panel.item) {
                *record = drill(record, &work.make);
            }
        }
        let mut place = 0;
        records.retain(|_| {
            let is_removed = work
                .existing
                .iter()
                .any(|panel| panel.item == place && panel.is_removed);
            place += 1;
            !is_removed
        });
        records.extend(work.added.iter().map(|panel| panel.record(&work.make)));
    }
    if let Some(openings) = known(&mut wall.openings) {
        for vent in &work.moved_vents {
            if let (Some((from, to)), Some(opening)) = (vent.to, openings.get_mut(vent.opening)) {
                opening.from = from;
                opening.to = to;
            }
        }
        let mut place = 0;
        openings.retain(|_| {
            let is_gone = work
                .moved_vents
                .iter()
                .any(|vent| vent.opening == place && vent.to.is_none());
            place += 1;
            !is_gone
        });
    }
}

fn framing(wall: &mut WallLine, work: &[FramingWork]) {
    for work in work {
        let Some(stretch) = known(&mut wall.cripple_wall).and_then(|list| list.get_mut(work.stretch)) else {
            continue;
        };
        match work.what {
            Framing::NailTopPlates | Framing::AddTopPlate => {
                stretch.top_plate = Observed::seen(TopPlate::Double);
            }
            Framing::TieSplices => stretch.plate_splices_tied = Observed::seen(true),
            Framing::SolidBlocking => stretch.solid_blocked = Observed::seen(true),
        }
    }
}

fn floor(wall: &mut WallLine, work: &FloorLayout) {
    if let Some(rim) = &work.rim {
        wall.rim = Observed::seen(rim.pattern);
    }
    if let (Some(spacing), Some(connections)) = (work.clip_spacing, known(&mut wall.connections)) {
        connections.push(Connection {
            kind: Observed::seen(ConnectionKind::Clips),
            spacing: Observed::seen(spacing),
            ..Connection::default()
        });
    }
}
