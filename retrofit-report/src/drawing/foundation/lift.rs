//! The floor before, during and after a lift.

use retrofit_core::foundation::lift::LiftPlan;
use retrofit_core::foundation::survey::{Plane, Profile, Surface};
use retrofit_core::house::House;

use super::super::drafting::Title;
use super::super::profiles::{self, Stacked};
use super::super::sheet::{Layer, Sheet};

/// How many wall lines a sheet of a lift holds.
const LIFTS: usize = 4;
/// How high one stands on paper, in thousandths of an inch.
const LIFT_HIGH: i64 = 1_600;

/// The floor along the wall lines before, half way and after the lift.
pub(super) fn floor(house: &House, lift: &LiftPlan) -> Vec<Sheet> {
    if lift.steps.is_empty() {
        return Vec::new();
    }
    let states = [0, lift.steps.len() / 2, lift.steps.len()].map(|steps| lift.floor_after(steps));
    let lines: Vec<(&str, Vec<Profile>)> = house
        .wall_lines
        .iter()
        .filter_map(|wall| {
            let [from, to] = wall.plan?;
            let profiles: Vec<Profile> = states
                .iter()
                .filter_map(|points| {
                    let plane = Plane::fit(points).ok()?;
                    let surface = Surface::of(points).ok()?;
                    Profile::along(points, Some(&plane), Some(&surface), from, to).ok()
                })
                .collect();
            (profiles.len() == states.len()).then_some((wall.name.as_str(), profiles))
        })
        .collect();
    let sheets = lines.chunks(LIFTS).enumerate();
    sheets
        .map(|(number, lines)| lift_sheet(house, lift, lines, number))
        .collect()
}

fn lift_sheet(house: &House, lift: &LiftPlan, lines: &[(&str, Vec<Profile>)], number: usize) -> Sheet {
    let places: Vec<Stacked<'_>> = lines
        .iter()
        .map(|(name, profiles)| {
            let points = |profile: &Profile| {
                let points = profile.points.iter();
                points.map(|point| (point.station, point.height.likely)).collect()
            };
            let states = profiles.iter().zip([Layer::Existing, Layer::Hidden, Layer::New]);
            Stacked {
                name,
                lines: states.map(|(profile, layer)| (layer, points(profile))).collect(),
                is_labeled: false,
            }
        })
        .collect();
    let names: Vec<&str> = lines.iter().map(|(name, _)| *name).collect();
    let steps = lift.steps.len();
    profiles::sheet(
        &places,
        LIFT_HIGH,
        |larger| {
            let notes = vec![
                format!(
                    "Thin: as read. Dashed: after {} of {steps} steps. Heavy: after the last. Heights are drawn {larger} \
                     times as large as lengths.",
                    steps / 2
                ),
                "Cribs follow every lift. Nobody is under a load that stands on jacks alone.".to_owned(),
            ];
            let description = format!(
                "The floor of {} along {} before, during and after the lift.",
                house.name,
                names.join(", ")
            );
            (notes, description)
        },
        &Title {
            house: &house.name,
            sheet: "The floor during the lift",
            provisions: "lift settings named in the report",
            number: format!("J{}", number + 1),
            scale: None,
        },
        format!("lift-{}", number + 1),
    )
}
