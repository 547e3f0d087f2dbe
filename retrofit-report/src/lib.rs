//! Reading house files, writing reports: everything around the judgment that `retrofit-core` makes.

pub mod input;
pub mod output;
