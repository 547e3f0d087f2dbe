//! The checks on braced panels and on the ventilation of the bays they close, and what they hang on.

use super::builder::{Builder, CaseOf, column};
use super::{Lists, Slot};
use crate::check::{CheckId, OfBracing, OfPanels, PANEL_PROPERTIES, Shared};
use crate::provisions::FigureName;

/// The figures by which an amount of bracing is asked for.
const AMOUNT_OF_BRACING: [FigureName; 4] = [
    FigureName::BracedShare,
    FigureName::PanelAtEachEnd,
    FigureName::MaxEndOffset,
    FigureName::MaxPanelGap,
];

/// What comes of the bracing.
pub(super) struct Braced {
    /// Whether the panels count.
    count: Slot,
    /// What is said of their amount, where they do.
    amount: Slot,
    at_each_end: Slot,
    gap: Slot,
}

const SHEATHING: [&str; 2] = ["sheathing", "sheathing_thickness"];
const NAILING: [&str; 4] = ["panel_nail", "edge_nailing", "field_nailing", "nails_flush"];
const FOOT: [&str; 2] = ["panel_foot", "nails_per_sill_block"];

/// The checks on panels: how much of the wall they brace, and what each is. All parts of the link.
pub(super) fn bracing(
    to: &mut Builder<'_>,
    lists: &Lists,
    [length, to_brace, has_length]: [Slot; 3],
    studs: Slot,
) -> (Braced, Vec<Slot>) {
    let [panels, cripple_wall] = [lists.panels.slot, lists.cripple_wall.slot];
    let [braced, shortest, gap] = ["braced_length", "shortest_panel", "largest_panel_gap"].map(column);
    for pair in [
        [braced, length],
        [shortest, length],
        [gap, length],
        [shortest, braced],
    ] {
        to.within(pair);
    }
    let proportion = Proportion::new(to, [panels, cripple_wall], [shortest, braced], studs);
    let count = whether_panels_count(to, panels, &proportion);
    let [amount, at_each_end, gap] =
        [braced, column("braced_at_each_end"), gap].map(|amount| to.unless(count, amount));
    // Where no panel counts, any length is too long.
    let to_brace = to.unless(count, to_brace);
    let (link, enough) = to.together(CaseOf::Line, |to| {
        let lengths = [length, to_brace, has_length];
        amount_of_bracing(to, [count, cripple_wall], lengths, [amount, at_each_end, gap])
    });
    let single = panels_one_by_one(to, [panels, cripple_wall, enough], &proportion);
    let braced = Braced {
        count,
        amount,
        at_each_end,
        gap,
    };
    (braced, [&[link], single.as_slice()].concat())
}

/// How long the panels are for their studs.
struct Proportion {
    length: Slot,
    studs: Slot,
    is_long_enough: Slot,
    is_long_for_its_height: Slot,
}

impl Proportion {
    fn new(
        to: &mut Builder<'_>,
        [panels, cripple_wall]: [Slot; 2],
        [shortest, braced]: [Slot; 2],
        studs: Slot,
    ) -> Self {
        // No panel is longer than all together; which tells something only where its own length was not recorded.
        let braced = to.in_place_of(shortest, braced);
        let length = to.plain(Shared::Panels(OfPanels::Length), &[panels, shortest, braced]);
        let of_length = [FigureName::MinPanelLength];
        let for_height = [FigureName::MinPanelProportion];
        let least = to.shared(
            Shared::Panels(OfPanels::LeastLength),
            &for_height,
            &[panels, cripple_wall, studs],
        );
        Self {
            length,
            studs,
            is_long_enough: to.shared(
                Shared::Panels(OfPanels::LongEnough),
                &of_length,
                &[panels, length],
            ),
            // What is asked and whether there are panels is told by what it goes by.
            is_long_for_its_height: to.plain(Shared::Panels(OfPanels::LongForHeight), &[length, least]),
        }
    }
}

/// Whether the panels count.
fn whether_panels_count(to: &mut Builder<'_>, panels: Slot, proportion: &Proportion) -> Slot {
    let (sheathing, nailing, foot) = (SHEATHING.map(column), NAILING.map(column), FOOT.map(column));
    let stout = [proportion.is_long_enough, proportion.is_long_for_its_height];
    // In the order of the properties.
    let hang_on: [(CheckId, &[Slot]); PANEL_PROPERTIES] = [
        (CheckId::PanelSheathing, &sheathing),
        (CheckId::PanelNailing, &nailing),
        (CheckId::PanelJoints, &[column("joints_blocked")]),
        (CheckId::PanelFoot, &foot),
        (CheckId::PanelProportion, &stout),
        (CheckId::PanelOpenings, &[column("panel_cut_through")]),
    ];
    let property = |to: &mut Builder<'_>, number: usize| match hang_on.get(number) {
        Some((id, inputs)) => {
            let inputs = [&[panels], *inputs].concat();
            to.shared(
                Shared::Panels(OfPanels::Property(number)),
                id.check().figures,
                &inputs,
            )
        }
        None => Slot::NONE,
    };
    let [sheathed, nailed] = [0, 1].map(|number| property(to, number));
    let [joined, at_foot, whole] =
        to.together(CaseOf::Line, |to| [2, 3, 5].map(|number| property(to, number)));
    let stout = property(to, 4);
    let properties: [Slot; PANEL_PROPERTIES] = [sheathed, nailed, joined, at_foot, stout, whole];
    to.plain(
        Shared::Panels(OfPanels::Count),
        &[&[panels], properties.as_slice()].concat(),
    )
}

/// The checks on how much of the wall is braced: their part of the link, and whether it is enough.
fn amount_of_bracing(
    to: &mut Builder<'_>,
    [count, cripple_wall]: [Slot; 2],
    [length, to_brace, has_length]: [Slot; 3],
    [amount, at_each_end, gap]: [Slot; 3],
) -> (Slot, Slot) {
    let (long, long_enough) = to.answering(
        CheckId::BracingLength,
        &[count, cripple_wall, to_brace, amount],
        &[count, cripple_wall, length, amount],
        Shared::Bracing(OfBracing::LongEnough),
    );
    let at_ends = [count, cripple_wall, has_length, at_each_end];
    let (ends, at_ends) = to.answering(
        CheckId::BracingEnds,
        &at_ends,
        &at_ends,
        Shared::Bracing(OfBracing::AtEnds),
    );
    let gaps = [count, cripple_wall, length, gap];
    let (gaps, gaps_small_enough) = to.answering(
        CheckId::PanelGaps,
        &gaps,
        &gaps,
        Shared::Bracing(OfBracing::GapsSmallEnough),
    );
    let link = to.link(&[long, ends, gaps]);
    let enough = to.shared(
        Shared::Bracing(OfBracing::Enough),
        &AMOUNT_OF_BRACING,
        &[long_enough, at_ends, gaps_small_enough],
    );
    (link, enough)
}

/// The checks on single properties of the panels; their parts of the link.
fn panels_one_by_one(to: &mut Builder<'_>, common: [Slot; 3], proportion: &Proportion) -> [Slot; 2] {
    let with = |inputs: &[Slot]| [&common, inputs].concat();
    let by = with(&[proportion.is_long_enough, proportion.is_long_for_its_height]);
    let shown_by = with(&[proportion.length, proportion.studs]);
    let first = [
        to.check_showing(CheckId::PanelProportion, &[], &by, &shown_by),
        to.check(CheckId::PanelSheathing, &[], &with(&SHEATHING.map(column))),
        to.check(CheckId::PanelNailing, &[], &with(&NAILING.map(column))),
    ];
    let first = to.link(&first);
    let others = to.together(CaseOf::Line, |to| {
        let [cut, height] = ["panel_cut_through", "cripple_wall_height"].map(column);
        let others = [
            to.check(CheckId::PanelJoints, &[], &with(&[column("joints_blocked")])),
            to.check(CheckId::PanelFoot, &[], &with(&FOOT.map(column))),
            to.check_showing(CheckId::PanelOpenings, &[], &with(&[cut]), &with(&[cut, height])),
        ];
        to.link(&others)
    });
    [first, others]
}

/// The check on the ventilation of stud bays.
pub(super) fn stud_bay_vents(to: &mut Builder<'_>, lists: &Lists, braced: &Braced, length: Slot) {
    let holes = to.shared(
        Shared::Panels(OfPanels::Ventilated),
        CheckId::StudBayVents.check().figures,
        &[
            lists.panels.slot,
            column("panels_close_bays"),
            column("panel_vent_holes"),
        ],
    );
    let amounts = [length, braced.amount, braced.at_each_end, braced.gap];
    let [length, amount, at_each_end, gap] = amounts.map(|amount| to.unless(holes, amount));
    let cripple_wall = lists.cripple_wall.slot;
    let hang_on = [
        holes,
        braced.count,
        cripple_wall,
        length,
        amount,
        at_each_end,
        gap,
    ];
    to.together(CaseOf::Line, |to| {
        let vents = to.check(CheckId::StudBayVents, &AMOUNT_OF_BRACING, &hang_on);
        to.group(&[vents]);
    });
}
