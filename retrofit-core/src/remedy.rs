//! Work in progress.
mod anchor_stations;
mod panel_bays;
