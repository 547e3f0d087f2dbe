//! The plan sketch.
