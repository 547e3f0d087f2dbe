//! Checks against the outside: what the standards, handbooks, plans and articles print, a file for each source.

#![cfg(test)]

mod aci_318_anchor_guide;
mod bay_area_plan_set_a;
mod box_cribs;
mod building_research_digest_251;
mod california_building_code_2013;
mod california_existing_building_code_2013;
mod california_residential_code_2013;
mod cherry_tree_regression;
mod concrete_examples;
mod connection_examples;
mod design_map_reports;
mod earthwork_and_bars;
mod footing_tables;
mod illinois_pier_footings;
mod international_building_code_walls;
mod international_existing_building_code_recalled;
mod international_yard_and_pound;
mod los_angeles_division_92;
mod metric_print;
mod nails_per_pound;
mod national_design_specification;
mod panel_trading_questions;
mod panels;
mod portland_strengthening;
mod published;
mod residential_design_guide;
mod residential_footings;
mod rigid_floor_textbook;
mod salem_homeowner_page;
mod san_leandro_handout;
mod seismic_load_examples;
mod seismic_sleuths;
mod settlement_examples;
mod sound_house;
mod special_design_provisions;
mod trade_practice;
mod ucbc_article;
mod where_the_documents_disagree;
mod wood_house_losses;
