//! The checks on the house as a whole, and what they hang on.

use super::builder::{Builder, column};
use super::{Lists, Slot};
use crate::check::CheckId;

/// The checks by which a house is within the provisions or not.
pub(super) fn limits(to: &mut Builder<'_>, lists: &Lists) {
    let foundation = lists.foundation.slot;
    let limits = [
        (CheckId::StoriesLimit, "stories", Slot::NONE),
        (CheckId::DwellingUnits, "units", Slot::NONE),
        (CheckId::GroundSlope, "slope", Slot::NONE),
        (
            CheckId::ContinuousPerimeter,
            "continuous_perimeter",
            column("foundation_kind"),
        ),
        (CheckId::FloorLevels, "floors_at_one_level", Slot::NONE),
        (CheckId::VeneerHeight, "veneer_height", Slot::NONE),
        (CheckId::RoomsOverGarage, "rooms_over_garage", Slot::NONE),
        (CheckId::SlabOrPoles, "slab_or_pole_portion", Slot::NONE),
    ];
    let limits = limits.map(|(id, name, other)| match other {
        Slot::NONE => to.check(id, &[], &[column(name)]),
        other => to.check(id, &[], &[column(name), foundation, other]),
    });
    to.group(&limits);
}

/// The other checks on the house as a whole.
pub(super) fn house_in_general(to: &mut Builder<'_>, lists: &Lists) {
    let year = to.check(CheckId::YearBuilt, &[], &[column("year_built")]);
    let areas = ["crawl_space_area", "vent_area"].map(column);
    let vents = to.check(CheckId::UnderfloorVentArea, &[], &areas);
    let [top, base, sound] = ["posts_top", "posts_base", "posts_sound"].map(column);
    let posts = to.check(
        CheckId::PostsConnected,
        &[],
        &[lists.posts.slot, top, base, sound],
    );
    to.group(&[year, vents, posts]);
}
