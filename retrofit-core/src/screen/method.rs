//! How load and strength are set against each other.

use crate::choice::choices;

choices! {
    /// How load and strength are set against each other.
    pub enum Method: "design method" {
        /// Allowable stress design: loads as they are, strengths divided.
        Asd = "asd", "allowable stress design";
        /// Load and resistance factor design: loads raised, strengths at their limit with a resistance factor.
        Lrfd = "lrfd", "load and resistance factor design";
    }
}
