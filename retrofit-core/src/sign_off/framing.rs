//! Sill pieces, plates, studs, and what ties the floor to the wall.

use super::differences::Differences;
use super::{Built, Designed, DesignedPiece, LineSignOff, NotDesigned, Walls};
use crate::check::{LookAt, Quantity};
use crate::house::{
    Connection, ConnectionKind, CrippleStretch, Installed, Parts, SillPiece, SillSoundness, SillTreatment,
    Span, TopPlate,
};
use crate::measure::Length;
use crate::observation::Observed;
use crate::remedy::{Framing, LineRemedy};

/// The items of a record that share some of a stretch; `None` where the list is not known or leaves part of
/// it out.
fn along<T>(list: &Observed<Vec<T>>, span: Span, span_of: impl Fn(&T) -> Span) -> Option<Vec<&T>> {
    let mut items: Vec<&T> = list
        .value()?
        .iter()
        .filter(|item| span_of(item).overlaps(span))
        .collect();
    items.sort_by_key(|item| span_of(item).from);
    let mut reached = Some(span.from);
    for item in &items {
        let span = span_of(item);
        if reached.is_some_and(|reached| span.from <= reached) {
            // Without an end it runs to that of the wall line.
            reached = reached.zip(span.to).map(|(reached, to)| reached.max(to));
        }
    }
    let is_whole = reached.is_none_or(|reached| span.to.is_some_and(|to| reached >= to));
    is_whole.then_some(items)
}

/// Sill pieces to be replaced.
pub(super) fn sill(line: &LineRemedy, walls: &Walls<'_>, sign_off: &mut LineSignOff) {
    let length = walls.found.length.value().copied();
    for work in &line.sill {
        let span = Span::new(work.from, work.to);
        let built = match along(&walls.built.sill, span, |piece| piece.span(length)) {
            None => Built::NotSeen,
            Some(pieces) => {
                let is_old = |piece: &&SillPiece| piece.installed.value() == Some(&Installed::Original);
                let mut differences = Differences::default();
                for piece in &pieces {
                    differences.at_least(LookAt::SillThickness, Some(work.thickness), &piece.thickness);
                    differences.good_if(
                        LookAt::SillTreatment,
                        SillTreatment::Treated,
                        &piece.treatment,
                        |found| found != SillTreatment::Untreated,
                        |treatment| Quantity::Word(crate::choice::Choice::words(treatment)),
                    );
                    differences.term(LookAt::SillSoundness, SillSoundness::Sound, &piece.soundness);
                    differences.term(LookAt::SillInstalled, Installed::Added, &piece.installed);
                }
                if pieces.iter().all(is_old) {
                    Built::Not
                } else {
                    Built::differing(differences.0)
                }
            }
        };
        sign_off.pieces.push(DesignedPiece {
            what: Designed::Sill(*work),
            span,
            built,
        });
    }
}

/// Top plates, splices, short studs.
pub(super) fn framing(line: &LineRemedy, walls: &Walls<'_>, sign_off: &mut LineSignOff) {
    let length = walls.found.length.value().copied();
    for work in &line.framing {
        let span = Span::new(work.from, work.to);
        let stretches = along(&walls.built.cripple_wall, span, |stretch| {
            Span::of(stretch.from, stretch.to, length)
        });
        let built = stretches.map_or(Built::NotSeen, |stretches| of_framing(work.what, &stretches));
        sign_off.pieces.push(DesignedPiece {
            what: Designed::Framing(work.what),
            span,
            built,
        });
    }
}

fn of_framing(what: Framing, stretches: &[&CrippleStretch]) -> Built {
    let is_done = |stretch: &CrippleStretch| match what {
        Framing::NailTopPlates | Framing::AddTopPlate => {
            stretch.top_plate.value().map(|plate| *plate == TopPlate::Double)
        }
        Framing::TieSplices => stretch.plate_splices_tied.value().copied(),
        Framing::SolidBlocking => stretch.solid_blocked.value().copied(),
    };
    let done: Vec<Option<bool>> = stretches.iter().map(|stretch| is_done(stretch)).collect();
    if done.contains(&Some(false)) {
        Built::Not
    } else if done.contains(&None) {
        Built::NotSeen
    } else {
        Built::differing(Vec::new())
    }
}

/// Blocks or end joist, and clips.
pub(super) fn floor(line: &LineRemedy, walls: &Walls<'_>, sign_off: &mut LineSignOff) {
    let Some(length) = walls.found.length.value().copied() else {
        return;
    };
    let whole = Span::new(Length::ZERO, length);
    let work = line.floor.work();
    if let Some(rim) = work.and_then(|work| work.rim.as_ref()) {
        let built = match walls.built.rim.value() {
            None => Built::NotSeen,
            Some(found) if *found == rim.pattern => Built::differing(Vec::new()),
            Some(found) if walls.found.rim.value() == Some(found) => Built::Not,
            Some(_) => {
                let mut differences = Differences::default();
                differences.term(LookAt::Rim, rim.pattern, &walls.built.rim);
                Built::differing(differences.0)
            }
        };
        sign_off.pieces.push(DesignedPiece {
            what: Designed::Rim(rim.clone()),
            span: whole,
            built,
        });
    }
    // What was there before is matched with its like and set aside.
    let mut old: Vec<&Connection> = walls.found.connections.listed().iter().collect();
    let records = walls.built.connections.value();
    let new: Vec<(usize, &Connection)> = records
        .into_iter()
        .flatten()
        .enumerate()
        .filter(|(_, record)| match old.iter().position(|one| one == record) {
            Some(place) => {
                old.remove(place);
                false
            }
            None => true,
        })
        .collect();
    let designed = work.filter(|work| !work.clips.is_empty());
    let designed = designed.and_then(|work| Some((work.clips.len(), work.clip_spacing?)));
    let Some((count, spacing)) = designed else {
        // An old joint of which more or less is known now is no new one.
        let is_another = |record: &Connection| {
            let kinds = walls.found.connections.listed().iter();
            record.kind.is_known() && kinds.clone().all(|one| one.kind.value() != record.kind.value())
        };
        let extra = new.iter().filter(|(_, record)| is_another(record));
        sign_off
            .not_designed
            .extend(extra.map(|(item, record)| NotDesigned {
                part: Parts::Connections,
                item: *item,
                span: Some(record.span(Some(length))),
            }));
        return;
    };
    let built = match (records, new.as_slice()) {
        (None, _) => Built::NotSeen,
        (Some(_), []) => walls.missing(Parts::Connections, whole),
        (Some(_), new) => of_clips(spacing, length, new.iter().map(|(_, record)| *record)),
    };
    sign_off.pieces.push(DesignedPiece {
        what: Designed::Clips { count, spacing },
        span: whole,
        built,
    });
}

/// Clips along the whole wall line, whether recorded at one go or stretch by stretch; another joint in their
/// place is told as such.
fn of_clips<'a>(
    spacing: Length,
    length: Length,
    records: impl Iterator<Item = &'a Connection> + Clone,
) -> Built {
    let is_clips = |record: &&Connection| record.kind.value() == Some(&ConnectionKind::Clips);
    let mut differences = Differences::default();
    if !records.clone().any(|record| is_clips(&record)) {
        for record in records {
            differences.term(LookAt::ConnectionKind, ConnectionKind::Clips, &record.kind);
        }
        return Built::differing(differences.0);
    }
    let mut spans: Vec<Span> = Vec::new();
    for record in records.filter(is_clips) {
        differences.at_most(LookAt::ConnectionSpacing, Some(spacing), &record.spacing);
        spans.push(record.span(Some(length)));
    }
    spans.sort_by_key(|span| span.from);
    let (mut reached, mut covered) = (Length::ZERO, Length::ZERO);
    for span in spans {
        let to = span.to.unwrap_or(length);
        covered = covered.saturating_add(to.saturating_sub(span.from.max(reached)).max(Length::ZERO));
        reached = reached.max(to);
    }
    differences.at_least(LookAt::Connections, Some(length), &Observed::inferred(covered));
    Built::differing(differences.0)
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::{Value, json};

    use super::super::{Compared, Status};
    use super::*;

    /// Clips designed 2 ft apart along 20 ft.
    #[rstest]
    #[case(json!([{"kind": "clips", "spacing": "24 in"}]), Status::AsDesigned, &[])]
    #[case(json!([{"kind": "clips", "spacing": "16 in"}]), Status::AsDesigned, &[])]
    #[case(json!([{"kind": "clips", "spacing": "32 in"}]), Status::Differently, &[(LookAt::ConnectionSpacing, Compared::More)])]
    #[case(json!([{"kind": "clips"}]), Status::NotAllRecorded, &[(LookAt::ConnectionSpacing, Compared::NotRecorded)])]
    #[case(json!([{"kind": "nailed_blocks"}]), Status::Differently, &[(LookAt::ConnectionKind, Compared::Other)])]
    #[case::a_part_only(
        json!([{"kind": "clips", "spacing": "24 in", "to": "12 ft"}]),
        Status::Differently,
        &[(LookAt::Connections, Compared::Less)]
    )]
    #[case::in_two_parts(
        json!([{"kind": "clips", "spacing": "24 in", "from": "8 ft"}, {"kind": "clips", "spacing": "24 in", "to": "12 ft"}]),
        Status::AsDesigned,
        &[]
    )]
    fn clips(#[case] built: Value, #[case] status: Status, #[case] expected: &[(LookAt, Compared)]) {
        let records: Vec<Connection> = serde_json::from_value(built).unwrap();
        let built = of_clips(Length::inches(24), Length::feet(20), records.iter());
        assert_eq!(built.status(), status);
        let Built::There(there) = built else { panic!() };
        let differences: Vec<_> = there
            .differences
            .iter()
            .map(|one| (one.look_at, one.is))
            .collect();
        assert_eq!(differences, expected);
    }

    #[rstest]
    #[case(json!([{"plate_splices_tied": true}]), Status::AsDesigned)]
    #[case(json!([{"plate_splices_tied": false}]), Status::NotBuilt)]
    #[case(json!([{"to": "10 ft", "plate_splices_tied": true}, {"from": "10 ft"}]), Status::NotSeen)]
    fn splices(#[case] built: Value, #[case] status: Status) {
        let stretches: Vec<CrippleStretch> = serde_json::from_value(built).unwrap();
        let stretches: Vec<&CrippleStretch> = stretches.iter().collect();
        assert_eq!(of_framing(Framing::TieSplices, &stretches).status(), status);
    }

    #[rstest]
    #[case(json!([{}]), true)]
    #[case(json!([{"to": "10 ft"}, {"from": "10 ft"}]), true)]
    #[case(json!([{"to": "9 ft"}, {"from": "10 ft"}]), false)]
    #[case(json!([{"from": "1 ft"}]), false)]
    #[case(json!({"unknown": "hidden"}), false)]
    fn what_a_list_leaves_out_is_not_seen(#[case] list: Value, #[case] is_whole: bool) {
        let list: Observed<Vec<SillPiece>> = serde_json::from_value(list).unwrap();
        let span = Span::new(Length::ZERO, Length::feet(20));
        let found = along(&list, span, |piece| piece.span(Some(Length::feet(20))));
        assert_eq!(found.is_some(), is_whole);
    }
}
