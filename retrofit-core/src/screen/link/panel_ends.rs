//! Overturning of the braced panels: uplift against weight and hold-downs, and compression at the other end.

use super::{At, Ledger, State, statics};
use crate::screen::asce7::Combination;
use crate::screen::line::{Cripple, Part};
use crate::screen::method::Method;
use crate::screen::nds::{Duration, LumberGrade, Pieces, Post};
use crate::screen::number::Number;
use crate::screen::quantity::{Distance, Force, LineLoad, Moment};
use crate::screen::standard::Equation;
use crate::screen::unit::{INCH, Unit};

const UNIT: Equation = statics("v", "shear along the panels", Unit::PoundPerFoot);
const OVERTURNING: Equation = statics("M_o", "moment that overturns the panel", Unit::PoundFoot);
const RESISTING: Equation = statics(
    "M_r",
    "moment of weight and hold-down against overturning",
    Unit::PoundFoot,
);
const WEIGHT: Equation = statics(
    "w_D",
    "weight that bears on a foot of the wall line",
    Unit::PoundPerFoot,
);
const UPLIFT: Equation = statics("T", "uplift at the end of the panel", Unit::Pound);
const COMPRESSION: Equation = statics("C", "compression at the end of the panel", Unit::Pound);
const ON_SOIL: Equation = statics(
    "C_s",
    "compression at the end of the panel, at the level by which soil is judged",
    Unit::Pound,
);
const END_STUDS: Equation = statics(
    "C_end",
    "what the studs at the end and the sill under them carry",
    Unit::Pound,
);

/// Moment that overturns a panel, moment against it, and the panel's length.
type Overturned<N> = (Moment<N>, Moment<N>, Distance<N>);

/// Forces at the ends of the panel that is worst off.
#[derive(Clone, Copy)]
pub(super) struct EndForces<N: Number> {
    pub(super) uplift: Force<N>,
    /// The compression at the level of allowable stresses, by which soil is judged.
    pub(super) on_soil: Force<N>,
}

pub(super) struct PanelEnds<N: Number> {
    pub(super) overturning: State<N>,
    pub(super) compression: State<N>,
    pub(super) forces: Option<EndForces<N>>,
}

impl<N: Number> PanelEnds<N> {
    fn both(state: &State<N>) -> Self {
        Self {
            overturning: state.clone(),
            compression: state.clone(),
            forces: None,
        }
    }
}

/// The weight on a foot of the line: the walls above; where the joists bear on it, half their span of the first floor;
/// and of the floors above and the roof a share that hangs on how they are framed, which nobody under the house sees.
pub(super) fn weight_on_foot<G: Ledger>(at: &At<'_, G>) -> LineLoad<G::Number> {
    let weights = &at.demands.weights;
    let width = at.line.tributary.get(at.ledger, at.case) / at.line.length.get(at.ledger, at.case);
    let above = at.line.bearing_share.get(at.ledger, at.case) * (weights.upper_and_roof_unit * width);
    // A line inside the house carries no outside wall.
    let walls = if at.line.placed.is_inside {
        above
    } else {
        weights.wall_on_foot + above
    };
    let weight = match &at.line.bearing_width {
        Some(span) => walls + weights.first_floor_unit * span.get(at.ledger, at.case) / 2.0,
        None => walls,
    };
    weight.by_for(&WEIGHT, at.statics(), || at.subject())
}

pub(super) fn panel_ends<G: Ledger>(at: &At<'_, G>) -> PanelEnds<G::Number> {
    let cripple = match &at.line.cripple {
        Part::There(cripple) => cripple,
        Part::Nothing => return PanelEnds::both(&State::NotApplicable("the floor lies on the sill")),
        Part::NotDetermined(why) => return PanelEnds::both(&State::NotDetermined(why.clone())),
    };
    if cripple.panels.is_empty() {
        return PanelEnds::both(&State::NotApplicable("no panel is counted that could overturn"));
    }
    let total = cripple
        .panels
        .iter()
        .map(|panel| panel.length.get(at.ledger, at.case) * panel.works.get(at.ledger, at.case))
        .reduce(|sum, length| sum + length);
    let Some(total) = total.filter(|total| total.value() > 0.0) else {
        return PanelEnds::both(&State::NotDetermined("no panel surely works".into()));
    };
    let edition = &at.by.asce7;
    let factors = |combination| edition.coefficients(at.method, combination, at.demands.sds);
    let (Ok(least), Ok(most), Ok(on_soil)) = (
        factors(Combination::Uplift),
        factors(Combination::Gravity),
        at.allowable_factors(Combination::Gravity),
    ) else {
        return PanelEnds::both(&State::NotDetermined(
            "the load combinations take a positive S_DS".into(),
        ));
    };
    let unit = (at.shear.factored / total).by_for(&UNIT, at.statics(), || at.subject());
    let height = cripple.height.get(at.ledger, at.case);
    let on_foot = weight_on_foot(at);
    // The panel that is worst off: the one whose own moment outweighs its weight and hold-down the most.
    let mut worst: Option<Overturned<G::Number>> = None;
    for panel in &cripple.panels {
        let length = panel.shortest.get(at.ledger, at.case);
        let overturning = (unit * length * height).by_for(&OVERTURNING, at.statics(), || at.subject());
        let weight = least.dead * (on_foot * length) * (length / 2.0);
        let hold_down = panel.hold_down.get(at.ledger, at.case);
        let resisting = if hold_down.value() > 0.0 {
            weight + hold_down * length
        } else {
            weight
        };
        let resisting = resisting.by_for(&RESISTING, at.statics(), || at.subject());
        let is_worse = worst.as_ref().is_none_or(|(demand, capacity, _)| {
            overturning.value() * capacity.value() > demand.value() * resisting.value()
        });
        if is_worse {
            worst = Some((overturning, resisting, length));
        }
    }
    let Some((overturning, resisting, length)) = worst else {
        return PanelEnds::both(&State::NotApplicable("no panel is counted that could overturn"));
    };
    let uplift = (unit * height - least.dead * on_foot * length / 2.0)
        .at_least(0.0)
        .by_for(&UPLIFT, at.statics(), || at.subject());
    let compression =
        (unit * height + most.dead * on_foot * length / 2.0)
            .by_for(&COMPRESSION, at.statics(), || at.subject());
    let on_soil = match at.method {
        Method::Asd => compression,
        Method::Lrfd => (at.allowable(unit * height) + on_soil.dead * on_foot * length / 2.0).by_for(
            &ON_SOIL,
            at.statics(),
            || at.subject(),
        ),
    };
    PanelEnds {
        overturning: State::Computed(at.computed(
            overturning,
            resisting,
            Unit::PoundFoot,
            "weight on the panel, and hold-downs",
        )),
        compression: end_studs(at, cripple, compression),
        forces: Some(EndForces { uplift, on_soil }),
    }
}

/// The studs at the end of a panel as a column, held by the sheathing the weak way, and the sill under them.
fn end_studs<G: Ledger>(
    at: &At<'_, G>,
    cripple: &Cripple,
    compression: Force<G::Number>,
) -> State<G::Number> {
    let nds = &at.by.nds;
    let thickness = cripple.stud_thickness.get(at.ledger, at.case);
    let studs = cripple.end_studs.get(at.ledger, at.case);
    let depth = cripple.stud_depth.get(at.ledger, at.case);
    let column = nds.post(
        at.ledger,
        &Post {
            wood: at.line.framing.get(at.ledger, at.case),
            grade: LumberGrade::No3,
            depth,
            width: thickness * studs,
            effective_length: cripple.height.get(at.ledger, at.case),
            pieces: Pieces::Solid,
        },
        at.method,
        Duration::Earthquake,
    );
    let column = match column {
        Ok(column) => column,
        Err(error) => return State::NotDetermined(error.into()),
    };
    let Some(perpendicular) = &at.line.sill.compression else {
        return State::NotDetermined("no strength across the grain is on record for the sill's wood".into());
    };
    // End studs stand at the end of the panel, but seldom at the end of the sill.
    let bearing = nds.bearing_across_grain(
        at.ledger,
        perpendicular.get(at.ledger, at.case),
        thickness * studs,
        thickness.to(INCH) >= 6.0,
        at.method,
    );
    let bearing = match bearing {
        Ok(bearing) => bearing * (thickness * studs) * depth,
        Err(error) => return State::NotDetermined(error.into()),
    };
    let governs = if column.value() < bearing.value() {
        "the studs"
    } else {
        "the sill under the studs"
    };
    let capacity = column
        .min(bearing)
        .by_for(&END_STUDS, &nds.edition, || at.subject());
    State::Computed(at.computed(compression, capacity, Unit::Pound, governs))
}
