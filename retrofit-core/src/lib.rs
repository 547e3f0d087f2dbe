//! What an older raised-floor wood house stands on, judged against the provisions for strengthening it.

pub mod check;
pub mod choice;
pub mod house;
pub mod measure;
pub mod observation;
pub mod portfolio;
pub mod provisions;
