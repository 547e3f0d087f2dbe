//! The foundation: its strength and its size.

use typenum::{N2, P1, Z0};

use super::{Around, Part, Size, Why, least, size};
use crate::house::{FoundationCondition, FoundationKind, FoundationStretch, Reinforcing, WallLine};
use crate::measure::Length;
use crate::observation::Observed;
use crate::screen::input::{Input, UnknownKind, What};
use crate::screen::unit::PSI;

/// The foundation of a line.
#[derive(Clone, Debug)]
pub(in crate::screen) struct Foundation {
    pub(in crate::screen) strength: Input<P1, N2>,
    pub(in crate::screen) stem_thickness: Size,
    pub(in crate::screen) stem_height: Size,
    pub(in crate::screen) footing_width: Size,
    pub(in crate::screen) footing_thickness: Size,
    pub(in crate::screen) is_cracked: bool,
    /// Whether the condition of all of it was seen.
    pub(in crate::screen) is_seen: bool,
    /// Whether bars are in it, or may be.
    pub(in crate::screen) may_have_bars: bool,
}
pub(super) fn foundation(
    around: &Around<'_>,
    wall: &WallLine,
    at: &dyn Fn(&str) -> String,
) -> Part<Foundation> {
    let existing = around.existing;
    let Some(stretches) = wall.foundation.value() else {
        return Part::NotDetermined("the foundation is not on record".into());
    };
    if stretches.is_empty() {
        return Part::Nothing;
    }
    let (mut is_cracked, mut crumbles) = (false, false);
    for stretch in stretches {
        match stretch.kind.value() {
            Some(FoundationKind::Concrete) => {}
            Some(kind) => {
                let kind = crate::choice::Choice::words(*kind);
                return Part::NotDetermined(Why::OnRecord(
                    format!("the equations are for concrete, and part of the foundation is {kind}").into(),
                ));
            }
            None => return Part::NotDetermined("what the foundation is made of is not on record".into()),
        }
        match stretch.condition.value() {
            Some(FoundationCondition::Sound) => {}
            Some(FoundationCondition::Cracked) | None => is_cracked = true,
            Some(FoundationCondition::Crumbling | FoundationCondition::Displaced) => crumbles = true,
        }
    }
    if crumbles {
        return Part::NotDetermined("crumbling or displaced concrete has no strength to compute with".into());
    }
    let field = |name: &'static str| move |item: usize| at(&format!("foundation[{item}].{name}"));
    let of = |what: What<Z0, P1>, of: fn(&FoundationStretch) -> &Observed<Length>, name, assumed| {
        least(&what, stretches, of, field(name), assumed)
    };
    let strength = What {
        symbol: "f'_c",
        words: "compressive strength of the concrete",
        unit: PSI,
        kind: UnknownKind::Concrete,
    };
    let strength = stretches
        .iter()
        .enumerate()
        .map(|(item, stretch)| {
            strength.or(
                &stretch.concrete_strength,
                || field("concrete_strength")(item),
                &existing.concrete_strength,
            )
        })
        .reduce(Input::smaller_of);
    let Some(strength) = strength else {
        return Part::Nothing;
    };
    let kind = UnknownKind::Foundation;
    Part::There(Foundation {
        strength,
        stem_thickness: of(
            size("t", "thickness of the stem wall", kind),
            |stretch| &stretch.stem_thickness,
            "stem_thickness",
            &existing.stem_thickness,
        ),
        stem_height: of(
            size("h_f", "height of the stem wall", kind),
            |stretch| &stretch.stem_height,
            "stem_height",
            &existing.stem_height,
        ),
        footing_width: of(
            size("B", "width of the footing", kind),
            |stretch| &stretch.footing_width,
            "footing_width",
            &existing.footing_width,
        ),
        footing_thickness: of(
            size("t_f", "thickness of the footing", kind),
            |stretch| &stretch.footing_thickness,
            "footing_thickness",
            &existing.footing_thickness,
        ),
        is_cracked,
        is_seen: stretches
            .iter()
            .all(|stretch| stretch.condition.value().is_some()),
        // A stretch without bars is as weak as it is, whatever the others have.
        may_have_bars: stretches
            .iter()
            .all(|stretch| stretch.reinforcing.value() != Some(&Reinforcing::None)),
    })
}
