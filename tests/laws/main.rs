//! Laws, tried over random houses, walls, connections and surveys.

#![cfg(test)]

mod change;
mod checks;
mod connections;
mod foundation;
mod houses;
mod level_survey;
mod loads_and_walls;
#[path = "../sources/published.rs"]
mod published;
mod remedy;
