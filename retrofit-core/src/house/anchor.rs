//! Anchors between sill plate and foundation, one by one or as a run with a spacing.

use std::fmt;
use std::str::FromStr;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::choice::choices;
use crate::measure::{Force, Length};
use crate::observation::{Observable, Observed};

/// One anchor (`at`), or a run of like anchors (`spacing`, and `first` and `last` where they were found).
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Anchor {
    /// Station of a single anchor.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at: Option<Length>,
    /// Station of the first anchor of a run; left out, where the run begins was not found.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub first: Option<Length>,
    /// Station of the last anchor of a run; left out, where the run ends was not found.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub last: Option<Length>,
    /// Largest distance between anchors of a run.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub spacing: Observed<Length>,
    /// Distance from the ends of the sill pieces to the nearest anchor of a run, where it was measured.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub end_distance: Observed<Length>,
    /// How it holds.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub kind: Observed<AnchorKind>,
    /// Diameter of the rod or bolt.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub diameter: Observed<Length>,
    /// Length of the rod inside the foundation.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub embedment: Observed<Length>,
    /// Distance from the center of the rod to the nearest face of the foundation.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub edge_distance: Observed<Length>,
    /// Plate washer under the nut.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub washer: Observed<Washer>,
    /// Whether the nut is tight.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub tightness: Observed<Tightness>,
    /// How far it has rusted.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub corrosion: Observed<Corrosion>,
    /// Whether it is original or came with later work.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub installed: Observed<Installed>,
    /// Allowable shear along the sill that a maker declares for it, for one anchor: a side plate or a strap.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub capacity: Observed<Force>,
}

/// Where an anchor record puts its anchors.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Placement<'a> {
    /// One anchor at a station.
    At(Length),
    /// Anchors at a spacing.
    Run {
        /// Station of the first, where it was found.
        first: Option<Length>,
        /// Station of the last, where it was found.
        last: Option<Length>,
        /// Largest distance between two of them.
        spacing: &'a Observed<Length>,
    },
}

impl Anchor {
    /// Where the anchors of this record are.
    pub fn placement(&self) -> Placement<'_> {
        match self.at {
            Some(station) => Placement::At(station),
            None => Placement::Run {
                first: self.first,
                last: self.last,
                spacing: &self.spacing,
            },
        }
    }
}

choices! {
    /// How an anchor holds the sill.
    pub enum AnchorKind: "anchor kind" {
        /// Bolt cast in when the foundation was poured.
        CastInPlace = "cast_in_place", "cast-in-place bolt";
        /// Threaded rod set in adhesive.
        Adhesive = "adhesive", "adhesive anchor";
        /// Expansion or wedge anchor.
        Expansion = "expansion", "expansion anchor";
        /// Screw anchor cut into the concrete.
        Screw = "screw", "screw anchor";
        /// Steel plate on the side of sill and foundation.
        SidePlate = "side_plate", "side plate";
        /// Strap or bent plate cast in.
        Strap = "strap", "cast-in strap";
        /// Nail or pin driven with powder.
        PowderDriven = "powder_driven", "powder-driven pin";
        /// Cut nail or spike driven from above.
        Nail = "nail", "nail or spike";
    }
}

choices! {
    /// Whether the nut of an anchor is tight.
    pub enum Tightness: "nut tightness" {
        /// Snug-tight.
        Snug = "snug", "snug-tight";
        /// Loose, or it turns by hand.
        Loose = "loose", "loose";
        /// No nut.
        Missing = "missing", "nut missing";
    }
}

choices! {
    /// How far steel has rusted.
    pub enum Corrosion: "corrosion" {
        /// None, or a film.
        Light = "light", "none or light rust";
        /// Scale, but the section is whole.
        Scaling = "scaling", "scaling rust";
        /// Part of the section is gone.
        Wasted = "wasted", "wasted by rust";
    }
}

choices! {
    /// When something came into the house.
    pub enum Installed: "installed" {
        /// With the house.
        Original = "original", "original";
        /// With later work.
        Added = "added", "added later";
    }
}

/// A washer: a square plate by side and thickness, a round cut washer, or none.
///
/// ```
/// use retrofit_core::house::Washer;
/// let found: Washer = "2 in x 2 in x 3/16 in".parse()?;
/// let required: Washer = "3 in x 3 in x 0.229 in".parse()?;
/// assert!(!found.is_as_good_as(required));
/// assert!(required.is_as_good_as(found));
/// # Ok::<(), String>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Washer {
    /// No washer.
    None,
    /// A round cut washer.
    Cut,
    /// A square plate.
    Plate {
        /// The shorter side.
        side: Length,
        /// The thickness.
        thickness: Length,
    },
}

impl Washer {
    /// Whether this washer may stand in for the required one.
    pub fn is_as_good_as(self, required: Self) -> bool {
        match (self, required) {
            (_, Self::None) | (Self::Cut | Self::Plate { .. }, Self::Cut) => true,
            (
                Self::Plate { side, thickness },
                Self::Plate {
                    side: least_side,
                    thickness: least_thickness,
                },
            ) => side >= least_side && thickness >= least_thickness,
            _ => false,
        }
    }
}

impl Observable for Washer {}

impl FromStr for Washer {
    type Err = String;
    fn from_str(text: &str) -> Result<Self, String> {
        let text = text.trim();
        let refuse = |why: String| {
            let found: String = text.chars().take(60).collect();
            format!("found {found:?}; expected none, cut, or a plate such as \"3 in x 3 in x 0.229 in\"{why}")
        };
        match text {
            "none" => return Ok(Self::None),
            "cut" => return Ok(Self::Cut),
            _ => {}
        }
        let mut sizes = text.split(['x', '×']).map(|size| size.trim().parse::<Length>());
        let (Some(a), Some(b), Some(c), None) = (sizes.next(), sizes.next(), sizes.next(), sizes.next())
        else {
            return Err(refuse(String::new()));
        };
        match (a, b, c) {
            (Ok(a), Ok(b), Ok(thickness))
                if a > Length::ZERO && b > Length::ZERO && thickness > Length::ZERO =>
            {
                Ok(Self::Plate {
                    side: a.min(b),
                    thickness,
                })
            }
            (Err(error), _, _) | (_, Err(error), _) | (_, _, Err(error)) => {
                Err(refuse(format!(" ({error})")))
            }
            _ => Err(refuse(String::new())),
        }
    }
}

impl fmt::Display for Washer {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::None => f.write_str("none"),
            Self::Cut => f.write_str("cut"),
            Self::Plate { side, thickness } => {
                write!(
                    f,
                    "{} x {} x {}",
                    Inches(*side),
                    Inches(*side),
                    Inches(*thickness)
                )
            }
        }
    }
}

/// Plates are called by decimals of an inch (0.229 in) as often as by fractions; both read back.
struct Inches(Length);

impl fmt::Display for Inches {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        const THOUSANDTH: i64 = 25_400;
        let nanometers = self.0.nanometers();
        let is_fraction = nanometers % Length::sixty_fourths(1).nanometers() == 0;
        if is_fraction || nanometers % THOUSANDTH != 0 {
            return self.0.fmt(f);
        }
        let thousandths = nanometers / THOUSANDTH;
        let decimals = format!("{:03}", thousandths % 1000);
        write!(f, "{}.{} in", thousandths / 1000, decimals.trim_end_matches('0'))
    }
}

impl Serialize for Washer {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Washer {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = std::borrow::Cow::<'de, str>::deserialize(deserializer)?;
        text.parse().map_err(serde::de::Error::custom)
    }
}

impl JsonSchema for Washer {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Washer".into()
    }
    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "description": "A washer: none, cut (round), or a square plate by its two sides and thickness.",
            "pattern": "^\\s*(none|cut|[^x×]+[x×][^x×]+[x×][^x×]+)\\s*$",
            "examples": ["none", "cut", "3 in x 3 in x 0.229 in"]
        })
    }
}
