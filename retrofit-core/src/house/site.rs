//! The ground under a house and the shaking expected there.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::choice::choices;
use crate::measure::Slope;
use crate::observation::{Observed, on_a_scale};

/// The site.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Site {
    /// Steepest slope of the ground under or along the foundation, such as `3H:1V` or `20%`.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub slope: Observed<Slope>,
    /// Seismic design category.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub seismic_category: Observed<SeismicCategory>,
    /// Design spectral acceleration at short periods, `S_DS`, in units of gravity.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub s_ds: Observed<SpectralAcceleration>,
    /// Design spectral acceleration at one second, `S_D1`, in units of gravity.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub s_d1: Observed<SpectralAcceleration>,
    /// Mapped spectral acceleration at short periods, `S_S`, in units of gravity.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub s_s: Observed<SpectralAcceleration>,
    /// Mapped spectral acceleration at one second, `S_1`, in units of gravity.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub s_1: Observed<SpectralAcceleration>,
    /// Site class, as a soil report or the building department gives it.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub site_class: Observed<SiteClass>,
    /// The soil under the footings, as far as can be told.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub soil: Observed<SoilClass>,
    /// Whether the site lies in a mapped fault-rupture zone.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub fault_zone: Observed<bool>,
    /// Whether the site lies in a mapped liquefaction zone.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub liquefaction_zone: Observed<bool>,
    /// Whether the site lies in a mapped landslide or ground-failure zone.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub landslide_zone: Observed<bool>,
}

choices! {
    /// Seismic design category, as building codes letter it.
    pub enum SeismicCategory: "seismic design category" {
        /// Category A.
        A = "A", "category A";
        /// Category B.
        B = "B", "category B";
        /// Category C.
        C = "C", "category C";
        /// Category D₀.
        D0 = "D0", "category D0";
        /// Category D₁.
        D1 = "D1", "category D1";
        /// Category D₂.
        D2 = "D2", "category D2";
        /// Category E.
        E = "E", "category E";
    }
}

choices! {
    /// Site class: how the ground passes shaking on.
    pub enum SiteClass: "site class" {
        /// Hard rock.
        A = "A", "site class A";
        /// Rock.
        B = "B", "site class B";
        /// Very dense soil and soft rock.
        C = "C", "site class C";
        /// Stiff soil.
        D = "D", "site class D";
        /// Taken because nothing is known of the soil.
        Default = "default", "the default site class";
        /// Soft clay.
        E = "E", "site class E";
        /// Ground that may fail.
        F = "F", "site class F";
    }
}

choices! {
    /// The soil under footings, as building codes class it for presumptive bearing.
    pub enum SoilClass: "soil" {
        /// Crystalline bedrock.
        Bedrock = "bedrock", "crystalline bedrock";
        /// Sedimentary and foliated rock.
        Sedimentary = "sedimentary", "sedimentary or foliated rock";
        /// Sandy gravel and gravel.
        Gravel = "gravel", "sandy gravel or gravel";
        /// Sand, silty sand, clayey sand, silty gravel and clayey gravel.
        Sand = "sand", "sand, silty or clayey sand or gravel";
        /// Clay, sandy clay, silty clay, clayey silt, silt and sandy silt.
        Clay = "clay", "clay or silt";
    }
}

/// A spectral acceleration in units of gravity: a finite number from 0 to 10.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Serialize, JsonSchema)]
pub struct SpectralAcceleration(#[schemars(range(min = 0.0, max = 10.0))] f64);

impl SpectralAcceleration {
    /// A value in units of gravity; `None` when it is not a finite number from 0 to 10.
    pub fn new(gravities: f64) -> Option<Self> {
        (0.0..=10.0).contains(&gravities).then_some(Self(gravities))
    }

    /// The value in units of gravity.
    pub const fn gravities(self) -> f64 {
        self.0
    }
}

on_a_scale!(SpectralAcceleration);

impl std::fmt::Display for SpectralAcceleration {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} g", self.0)
    }
}

impl<'de> Deserialize<'de> for SpectralAcceleration {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let gravities = f64::deserialize(deserializer)?;
        Self::new(gravities).ok_or_else(|| {
            serde::de::Error::custom(format!(
                "found {gravities}; expected a spectral acceleration from 0 to 10 g"
            ))
        })
    }
}
