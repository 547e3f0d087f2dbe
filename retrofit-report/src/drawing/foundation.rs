//! Drawings of foundation work: sections of new work, temporary support in plan and cut across, the bays in plan by the
//! order of their pours, the calendar, and the floor during its lift.

mod bays;
mod calendar;
mod lift;
mod section;
mod shoring;

use retrofit_core::foundation::plan::FoundationPlan;
use retrofit_core::foundation::sequence::{Bay, Schedule};
use retrofit_core::house::House;

use super::sheet::Sheet;

/// Every sheet of a foundation plan.
pub fn foundation(house: &House, plan: &FoundationPlan<'_>) -> Vec<Sheet> {
    let mut sheets = section::sections(house, plan);
    sheets.extend(shoring::plans(house, plan));
    sheets.extend(shoring::sections(house, plan));
    if let Some(Ok(schedule)) = &plan.schedule {
        sheets.extend(bays::bays(house, &plan.bays, schedule));
        sheets.extend(calendar::calendars(house, &plan.bays, schedule));
    }
    if let Some(lift) = &plan.lift
        && let Ok(lift) = &lift.plan
    {
        sheets.extend(lift::floor(house, lift));
    }
    sheets
}

/// The place of each bay's pour among all pour days, from 1.
fn step_of(bay: usize, schedule: &Schedule) -> usize {
    let step = schedule.pours.iter().position(|pour| pour.bays.contains(&bay));
    step.map_or(0, |step| step + 1)
}

/// The name of a bay: its wall line and its stations.
pub(crate) fn bay_name(bay: &Bay) -> String {
    format!(
        "{}, {} to {}",
        bay.name,
        bay.from.in_feet_inches(),
        bay.to.in_feet_inches()
    )
}
