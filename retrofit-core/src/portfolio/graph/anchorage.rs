//! The checks on anchors, and what they hang on.

use super::Slot;
use super::builder::{Builder, CaseOf, column};
use crate::check::{ANCHOR_PROPERTIES, CheckId, OfAnchors, Shared};
use crate::provisions::FigureName;

/// The checks on anchors: how many there are and where, and what each is. Both parts of the link.
pub(super) fn anchorage(to: &mut Builder<'_>, anchors: Slot, [length, pieces]: [Slot; 2]) -> [Slot; 2] {
    let (count, single) = to.together(CaseOf::Line, |to| anchors_one_by_one(to, anchors));
    let [spacing, end, diameter] = ["anchor_spacing", "anchor_end_distance", "anchor_diameter"]
        .map(column)
        .map(|amount| to.unless(count.with_what_decides, amount));
    let rod = to.unless(count.with_what_decides, count.no_rod);
    let stout = to.shared(
        Shared::Anchors(OfAnchors::Stout),
        &[FigureName::AnchorSpacing],
        &[anchors, diameter, rod],
    );
    let [for_number, of_ends] =
        [CheckId::AnchorsPerPiece, CheckId::AnchorEndDistance].map(|id| id.check().figures);
    let for_ends = [FigureName::AnchorsPerPiece, FigureName::MinAnchorSpacing];
    let along = [length, pieces, spacing];
    let with = |more: &[Slot]| [&[count.alone], along.as_slice(), more].concat();
    let in_pieces = to.along(
        // Both checks go by it, and so it is open only where both are.
        [&[for_number, of_ends].concat(), &for_ends],
        Shared::Anchors(OfAnchors::InPieces),
        &[count.alone],
        &along,
    );
    // Some sets count the distance from an end by the diameter.
    let by_distance = if to.provisions.leaves_open(&[FigureName::MinEndDiameters]) {
        vec![end]
    } else {
        vec![end, diameter, rod]
    };
    let for_spacing = [FigureName::MaxEndDistance, FigureName::MinEndDistance];
    let is_spaced = to.along(
        [CheckId::AnchorSpacing.check().figures, &for_spacing],
        Shared::Anchors(OfAnchors::Spaced),
        &[count.alone, stout],
        &along,
    );
    let are_at_ends = to.part_of(
        [of_ends, &for_ends],
        Shared::Anchors(OfAnchors::AtEnds),
        &[&[count.alone, in_pieces], by_distance.as_slice()].concat(),
    );
    let mut judged = |id, more: &[FigureName], by, shown_by: &[Slot]| {
        to.check_showing(id, more, &[count.with_what_decides, by], shown_by)
    };
    let spaced = judged(CheckId::AnchorSpacing, &for_spacing, is_spaced, &with(&[stout]));
    let ends = judged(
        CheckId::AnchorEndDistance,
        &for_ends,
        are_at_ends,
        &with(&by_distance),
    );
    let number = judged(CheckId::AnchorsPerPiece, &[], in_pieces, &with(&[]));
    let amount = to.link(&[spaced, ends, number]);
    [amount, single]
}

/// Whether the anchors count.
struct AnchorsCount {
    no_rod: Slot,
    alone: Slot,
    /// With the observations that leave it open.
    with_what_decides: Slot,
}

/// Whether the anchors count, and the checks on what each is; their part of the link.
fn anchors_one_by_one(to: &mut Builder<'_>, anchors: Slot) -> (AnchorsCount, Slot) {
    let [kind, diameter, washer, embedment, edge, tightness, corrosion] = [
        "anchor_kind",
        "anchor_diameter",
        "anchor_washer",
        "anchor_embedment",
        "anchor_edge_distance",
        "anchor_tightness",
        "anchor_corrosion",
    ]
    .map(column);
    let no_rod = to.plain(Shared::Anchors(OfAnchors::HaveNoRod), &[anchors, kind]);
    // In the order of the properties.
    let hang_on: [(CheckId, &[Slot]); ANCHOR_PROPERTIES] = [
        (CheckId::AnchorKind, &[kind]),
        (CheckId::AnchorDiameter, &[diameter, no_rod]),
        (CheckId::AnchorWasher, &[washer, diameter, no_rod]),
        (CheckId::AnchorEmbedment, &[embedment, no_rod]),
        (CheckId::AnchorEdgeDistance, &[edge, no_rod]),
        (CheckId::AnchorCondition, &[tightness, no_rod]),
        (CheckId::AnchorCondition, &[corrosion]),
    ];
    let mut properties = [anchors; ANCHOR_PROPERTIES + 1];
    let slots = properties.iter_mut().skip(1);
    for (number, (slot, (id, inputs))) in slots.zip(hang_on).enumerate() {
        let inputs = [&[anchors], inputs].concat();
        *slot = to.shared(
            Shared::Anchors(OfAnchors::Property(number)),
            id.check().figures,
            &inputs,
        );
    }
    let count = AnchorsCount {
        no_rod,
        alone: to.plain(Shared::Anchors(OfAnchors::MayCount), &properties),
        with_what_decides: to.plain(Shared::Anchors(OfAnchors::Count), &properties),
    };
    // Whether the anchors that count are enough plays no part: a row describes one run of anchors, and where that may
    // lack a property, no anchor surely counts, and so there surely are not enough. Whether any number is asked for
    // does.
    let amount_asked = [
        FigureName::AnchorSpacing,
        FigureName::AnchorsPerPiece,
        FigureName::MaxEndDistance,
    ];
    let mut one = |id, columns: &[Slot]| to.check(id, &amount_asked, &[&[anchors, kind], columns].concat());
    let single = [
        one(CheckId::AnchorKind, &[]),
        one(CheckId::AnchorDiameter, &[diameter]),
        one(CheckId::AnchorWasher, &[washer, diameter]),
        one(CheckId::AnchorEmbedment, &[embedment]),
        one(CheckId::AnchorEdgeDistance, &[edge]),
        one(CheckId::AnchorCondition, &[tightness, corrosion]),
    ];
    (count, to.link(&single))
}
