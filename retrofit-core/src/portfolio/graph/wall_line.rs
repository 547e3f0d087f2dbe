//! The checks on foundation, sill, framing and floor of the wall line, and what they hang on.

use super::builder::{Builder, CaseOf, column};
use super::{ListSlot, Lists, Slot};
use crate::check::CheckId;

/// The height of the cripple wall, and the checks on what is below it.
pub(super) fn foundation_and_sill(to: &mut Builder<'_>, lists: &Lists, studs: Slot) {
    let height = column("cripple_wall_height");
    let height = to.check(
        CheckId::CrippleWallHeight,
        &[],
        &[lists.cripple_wall.slot, height, studs],
    );
    to.together(CaseOf::Line, |to| {
        let mut one = |id, list: &ListSlot, names: &[&str]| {
            let columns = names.iter().map(|name| column(name));
            let inputs: Vec<Slot> = [list.slot].into_iter().chain(columns).collect();
            to.check(id, &[], &inputs)
        };
        let (foundation, sill) = (&lists.foundation, &lists.sill);
        let below = [
            height,
            one(CheckId::FoundationKind, foundation, &["foundation_kind"]),
            one(
                CheckId::FoundationCondition,
                foundation,
                &["foundation_condition"],
            ),
            one(
                CheckId::FootingSize,
                foundation,
                &["footing_width", "footing_thickness", "footing_depth"],
            ),
            one(CheckId::FootingBars, foundation, &["reinforcing"]),
            one(CheckId::SillSoundness, sill, &["sill_soundness"]),
            one(
                CheckId::NewSill,
                sill,
                &["sill_installed", "sill_thickness", "sill_treatment"],
            ),
        ];
        to.group(&below);
    });
}

/// The checks on the framing of the cripple wall.
pub(super) fn framing(to: &mut Builder<'_>, lists: &Lists) {
    let cripple_wall = lists.cripple_wall.slot;
    let plate = to.check(CheckId::TopPlate, &[], &[cripple_wall, column("top_plate")]);
    let splices = to.check(
        CheckId::PlateSplices,
        &[],
        &[cripple_wall, column("plate_splices_tied")],
    );
    let [shortest, tallest, height] = ["shortest_stud", "tallest_stud", "cripple_wall_height"].map(column);
    let [blocked, sheathing] = ["solid_blocked", "sheathing"].map(column);
    let studs = [
        cripple_wall,
        shortest,
        tallest,
        height,
        blocked,
        lists.panels.slot,
        sheathing,
    ];
    let studs = to.check(CheckId::ShortStuds, &[], &studs);
    to.group(&[plate, splices, studs]);
}

/// The checks on what ties the floor to the wall; the link that they are.
pub(super) fn floor(to: &mut Builder<'_>, lists: &Lists, has_length: Slot) -> Slot {
    let [joists, rim] = ["joists", "rim"].map(column);
    let closed = to.check(
        CheckId::RimOrBlocking,
        &[],
        &[joists, rim, lists.cripple_wall.slot],
    );
    let [kind, spacing, nails] = ["floor_connection", "connection_spacing", "nails_per_block"].map(column);
    let tied = [lists.connections.slot, has_length, rim, kind, spacing, nails];
    let tied = to.check(CheckId::FloorConnection, &[], &tied);
    to.link(&[closed, tied])
}
