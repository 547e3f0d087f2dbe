//! Work on the sill, the top plate and short studs: what the checks find short is mended stretch by stretch.

use super::given::NOMINAL_2_IN;
use super::layout::{Framing, FramingWork, SillWork};
use super::line::{Line, given};
use crate::check::Ruling;
use crate::house::{Installed, SillSoundness, SillTreatment, TopPlate};
use crate::measure::Length;
use crate::prices::{Cents, Item};
use crate::provisions::keys;

/// Sill pieces to replace: decayed, eaten, or new and not as new ones have to be.
pub(super) fn sill(line: &Line<'_>) -> (Vec<SillWork>, Cents) {
    let is_unsound = line.ruling(&["sill-soundness"]) == Ruling::NotMet;
    let is_poor = line.ruling(&["new-sill"]) == Ruling::NotMet;
    let least = given(line.rule(keys::MIN_SILL_THICKNESS)).ok().flatten();
    let mut work = Vec::new();
    let mut cost = Cents::ZERO;
    for (index, piece) in line.sill().iter().enumerate() {
        let is_decayed = matches!(
            piece.soundness.value(),
            Some(SillSoundness::Decayed | SillSoundness::Insects)
        );
        let is_new = piece.installed.value() == Some(&Installed::Added);
        let is_thin = least.is_some_and(|least| piece.thickness.bounds().1.is_some_and(|most| *most < least));
        let is_untreated = piece.treatment.value() == Some(&SillTreatment::Untreated);
        if !((is_unsound && is_decayed) || (is_poor && is_new && (is_thin || is_untreated))) {
            continue;
        }
        let (from, to) = line.ends(piece.span(Some(line.length)));
        let thickness = least.or(piece.thickness.value().copied()).unwrap_or(NOMINAL_2_IN);
        work.push(SillWork {
            piece: index,
            from,
            to,
            thickness,
        });
        cost = cost.plus(by_foot(line, Item::SillReplacement, to.saturating_sub(from)));
    }
    (work, cost)
}

/// Top plates, splices and short studs.
pub(super) fn framing(line: &Line<'_>) -> (Vec<FramingWork>, Cents) {
    let plates = given(line.rule(keys::TOP_PLATES)).ok().flatten();
    let short = given(line.rule(keys::SHORT_STUD_HEIGHT)).ok().flatten();
    let falls_short = |check| line.ruling(&[check]) == Ruling::NotMet;
    let mut work = Vec::new();
    let mut cost = Cents::ZERO;
    for (index, stretch) in line.cripple_wall().iter().enumerate() {
        let (from, to) = line.ends(stretch.span(Some(line.length)));
        let length = to.saturating_sub(from);
        let mut add = |what, price: Cents| {
            work.push(FramingWork {
                stretch: index,
                from,
                to,
                what,
            });
            cost = cost.plus(price);
        };
        let plate = stretch.top_plate.value().copied();
        let will_not_do = plate.is_some_and(|plate| plates.is_some_and(|plates| !plates.contains(plate)));
        if falls_short("top-plate") && will_not_do {
            let (what, item) = if plate == Some(TopPlate::DoubleLoose) {
                (Framing::NailTopPlates, Item::TopPlateNailing)
            } else {
                (Framing::AddTopPlate, Item::TopPlate)
            };
            add(what, by_foot(line, item, length));
        }
        if falls_short("plate-splices") && stretch.plate_splices_tied.value() == Some(&false) {
            add(Framing::TieSplices, line.prices.likely(Item::PlateStrap));
        }
        let stud = stretch
            .shortest_stud
            .bounds()
            .1
            .or(stretch.tallest_stud.bounds().1);
        let is_short = short.is_some_and(|short| stud.is_some_and(|stud| *stud < short));
        let is_blocked = stretch.solid_blocked.value() == Some(&true);
        if falls_short("short-studs") && is_short && !is_blocked {
            add(Framing::SolidBlocking, by_foot(line, Item::SolidBlocking, length));
        }
    }
    (work, cost)
}

/// The likely cost of a length of an item that is priced by the foot.
pub(super) fn by_foot(line: &Line<'_>, item: Item, length: Length) -> Cents {
    line.prices.likely(item).for_feet(length)
}
