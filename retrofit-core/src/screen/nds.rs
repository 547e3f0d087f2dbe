//! Wood members and connections by the National Design Specification (NDS).
//!
//! What holds a sill to its foundation and a floor to its sill: bolts, nails and toe-nails by the yield-limit
//! equations, with the factors that adjust them; what a post or a panel's end stud can carry; and beams.
//!
//! A connection is computed in three steps, each with its clause:
//!
//! 1. the strength of one fastener, Z, as the least of the yield modes ([`Nds::sill_anchor`], [`Nds::nail`],
//!    [`Nds::toe_nail`], or any joint by [`Nds::yield_modes`]);
//! 2. the factors of its place ([`Nds::group_action`], [`Nds::geometry`], [`Nds::end_grain`],
//!    [`Nds::damp_in_service`]), which multiply Z;
//! 3. the factors of method and duration ([`Nds::adjusted`]).
//!
//! Angles are in degrees between load and grain: 0 along the grain, 90 across it. The wood of a connection
//! enters by its specific gravity alone.
//!
//! Not held: timbers of 5 in and more but Douglas fir, lag screws, wood screws, gaps between members, threads
//! that bear on the wood, and concrete too weak for the published bearing strength.

mod beam;

use thiserror::Error;
use typenum::{N1, N2, P1, Z0};

pub use beam::{
    BEAM_SIZES, Beam, BeamCheck, BeamLimit, BeamLoads, BeamValues, Compared, CompressionEdge, Dressed,
};

use super::equation::equations;
use super::method::Method;
use super::number::{Ledger, Number};
use super::quantity::{Distance, Force, LineLoad, Quantity, Ratio, Stress};
use super::range::{OutOfRange, positive};
use super::standard::{Edition, Figure, StandardTable};
use super::unit::{INCH, PLAIN, PSI};
use crate::choice::{Choice, choices};
use crate::house::{Nail, SillSpecies};
use crate::table::TableError;

type Plain = Figure<Z0, Z0>;
type Length = Figure<Z0, P1>;
type Strength = Figure<P1, N2>;

choices! {
    /// A wood, as the tables of design values group them.
    pub enum Wood: "wood" {
        /// Redwood.
        Redwood = "redwood", "redwood";
        /// Western cedars.
        Cedar = "cedar", "cedar";
        /// Douglas fir-larch.
        DouglasFir = "douglas_fir", "Douglas fir-larch";
        /// Hem-fir.
        HemFir = "hem_fir", "hem-fir";
        /// Spruce-pine-fir.
        SprucePineFir = "spruce_pine_fir", "spruce-pine-fir";
        /// Southern pine.
        SouthernPine = "southern_pine", "southern pine";
        /// A wood that was not told: from the lightest of the table to the heaviest.
        Other = "other", "another wood";
    }
}

impl From<SillSpecies> for Wood {
    fn from(species: SillSpecies) -> Self {
        match species {
            SillSpecies::Redwood => Self::Redwood,
            SillSpecies::Cedar => Self::Cedar,
            SillSpecies::DouglasFir => Self::DouglasFir,
            SillSpecies::HemFir => Self::HemFir,
            SillSpecies::Other => Self::Other,
        }
    }
}

/// What the tables hold of a wood; `None` where no value is held.
#[derive(Clone, Debug)]
pub struct Species {
    /// Which wood.
    pub wood: Wood,
    /// Specific gravity, G; a range where the record of a house cannot tell grades apart.
    pub specific_gravity: Plain,
    /// Compression across the grain.
    pub compression_perpendicular: Option<Strength>,
    /// Dimension lumber, grade No. 2.
    pub no_2: Option<Grade>,
    /// Dimension lumber, grade No. 3.
    pub no_3: Option<Grade>,
    /// Posts and timbers of 5 in and more, grade No. 2.
    pub timber: Option<Grade>,
}

/// Design values of a grade for a post.
#[derive(Clone, Debug)]
pub struct Grade {
    /// Compression along the grain, Fc.
    pub compression: Strength,
    /// Modulus of elasticity for stability, Emin.
    pub modulus: Strength,
}

/// A nail of the table: `8d common` is 2-1/2 in by 0.131 in.
#[derive(Clone, Debug)]
pub struct NailSize {
    /// Which nail.
    pub nail: Nail,
    /// Diameter of the shank.
    pub diameter: Length,
    /// Length from head to point.
    pub length: Length,
    /// Bending yield strength, Fyb.
    pub bending_yield: Strength,
}

/// A way in which a fastener and the wood around it give, named as the specification names it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum YieldMode {
    /// The main member is crushed.
    Im,
    /// The side member is crushed.
    Is,
    /// The fastener turns in both members without bending.
    II,
    /// The fastener bends once, in the side member, and crushes the main member.
    IIIm,
    /// The fastener bends once, in the main member, and crushes the side member.
    IIIs,
    /// The fastener bends twice.
    IV,
}

impl YieldMode {
    /// Every mode, in the order of the specification.
    pub const ALL: [Self; 6] = [Self::Im, Self::Is, Self::II, Self::IIIm, Self::IIIs, Self::IV];

    /// The mode as the specification writes it.
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Im => "Im",
            Self::Is => "Is",
            Self::II => "II",
            Self::IIIm => "IIIm",
            Self::IIIs => "IIIs",
            Self::IV => "IV",
        }
    }

    /// What gives, in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Im => "the main member is crushed",
            Self::Is => "the side member is crushed",
            Self::II => "the fastener turns in both members",
            Self::IIIm => "the fastener bends in the side member and crushes the main member",
            Self::IIIs => "the fastener bends in the main member and crushes the side member",
            Self::IV => "the fastener bends twice",
        }
    }
}

/// The strength of one fastener across its axis, and how it gives.
#[derive(Clone, Copy, Debug)]
pub struct Lateral<N: Number> {
    /// The strength, Z, before any factor.
    pub z: Force<N>,
    /// The yield mode that governs.
    pub mode: YieldMode,
}

/// The strengths of the six yield modes of one shear plane.
#[derive(Clone, Copy, Debug)]
pub struct Modes<N: Number> {
    /// Mode Im.
    pub im: Force<N>,
    /// Mode Is.
    pub is: Force<N>,
    /// Mode II.
    pub ii: Force<N>,
    /// Mode `IIIm`.
    pub iiim: Force<N>,
    /// Mode `IIIs`.
    pub iiis: Force<N>,
    /// Mode IV.
    pub iv: Force<N>,
}

/// A dowel between two members: what the yield-limit equations take.
#[derive(Clone, Copy, Debug)]
pub struct Joint<N: Number> {
    /// Diameter, D.
    pub diameter: Distance<N>,
    /// Bending yield strength of the dowel, Fyb.
    pub bending_yield: Stress<N>,
    /// The main member: that with the point or the nut.
    pub main: Bearing<N>,
    /// The side member: that under the head.
    pub side: Bearing<N>,
    /// The greatest angle of load to grain in either member, in degrees.
    pub angle_degrees: f64,
}

/// What a dowel bears on in one member.
#[derive(Clone, Copy, Debug)]
pub struct Bearing<N: Number> {
    /// Length of the dowel in the member, l.
    pub length: Distance<N>,
    /// Dowel bearing strength, Fe.
    pub strength: Stress<N>,
}

/// A bolt that holds a sill down on concrete.
#[derive(Clone, Copy, Debug)]
pub struct SillAnchor<N: Number> {
    /// Diameter of the bolt.
    pub diameter: Distance<N>,
    /// Thickness of the sill, as it is.
    pub sill_thickness: Distance<N>,
    /// Depth of the bolt in the concrete; the published table is for 6 in.
    pub embedment: Distance<N>,
    /// Specific gravity of the sill.
    pub specific_gravity: Ratio<N>,
    /// The concrete.
    pub concrete: Concrete<N>,
    /// Angle between load and grain, in degrees: 0 along the sill, 90 across it.
    pub angle_degrees: f64,
}

/// What is known of the concrete that a sill anchor bears on.
#[derive(Clone, Copy, Debug)]
pub enum Concrete<N: Number> {
    /// Its strength, f′c.
    Strength(Stress<N>),
    /// Nobody tested it, but it was judged sound: existing bolts may then be rated as in new concrete.
    JudgedSound,
}

/// A nail through a side member into a main member.
#[derive(Clone, Copy, Debug)]
pub struct NailedJoint<'a, N: Number> {
    /// The nail.
    pub nail: &'a NailSize,
    /// Thickness of the member under the head.
    pub side_thickness: Distance<N>,
    /// What the member under the head is of.
    pub side: Side<N>,
    /// Thickness of the member with the point, if it may end before the nail does.
    pub main_thickness: Option<Distance<N>>,
    /// Specific gravity of the member with the point.
    pub main_gravity: Ratio<N>,
}

/// What the side member of a nailed joint is of.
#[derive(Clone, Copy, Debug)]
pub enum Side<N: Number> {
    /// Wood, plywood or OSB of a specific gravity.
    Wood(Ratio<N>),
    /// Another material, by its bearing strength: a steel strap or clip.
    Other(Stress<N>),
}

/// The lengths of a toe-nail in its two members.
#[derive(Clone, Copy, Debug)]
pub struct ToeNailLengths<N: Number> {
    /// In the member it starts in, across the load.
    pub in_side: Distance<N>,
    /// In the member with the point, across the load.
    pub across: Distance<N>,
    /// In the member with the point, along the nail.
    pub along: Distance<N>,
}

/// A row of fasteners along the load.
#[derive(Clone, Copy, Debug)]
pub struct Row<N: Number> {
    /// How many there are.
    pub fasteners: u16,
    /// From center to center.
    pub spacing: Distance<N>,
    /// Diameter.
    pub diameter: Distance<N>,
    /// Modulus times gross area of the main member, E A.
    pub main_stiffness: Force<N>,
    /// Modulus times gross area of the side member, E A.
    pub side_stiffness: Force<N>,
    /// What the side member is of.
    pub slip: Slip,
}

/// What the side member of a row of fasteners is of, which sets how far a fastener slips.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Slip {
    /// Wood on wood.
    WoodToWood,
    /// Metal on wood.
    WoodToMetal,
}

/// A distance that reduces a bolt's strength when it is short.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Place {
    /// From the end of the member toward which the load acts, at an angle of load to grain in degrees.
    End {
        /// The angle.
        angle_degrees: f64,
    },
    /// From the end of the member away from which the load acts.
    EndInCompression,
    /// From bolt to bolt in a row.
    Spacing,
}

/// How long a load lasts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Duration {
    /// Weight that is always there.
    Dead,
    /// Weight together with occupancy.
    Occupancy,
    /// Earthquake.
    Earthquake,
}

/// A post or an end stud.
#[derive(Clone, Copy, Debug)]
pub struct Column<N: Number> {
    /// Compression strength with every factor but that of stability, Fc*.
    pub compression: Stress<N>,
    /// Modulus for stability with its factors, E′min.
    pub modulus: Stress<N>,
    /// Unbraced length times the factor of its ends, le.
    pub effective_length: Distance<N>,
    /// Depth of the section in the direction in which it would buckle, d.
    pub depth: Distance<N>,
    /// How it is made up.
    pub pieces: Pieces,
}

/// How a column is made up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pieces {
    /// One piece, or a built-up column that buckles the strong way.
    Solid,
    /// Pieces nailed together as 15.3.3 asks, buckling across the seams.
    Nailed,
    /// Pieces bolted together as 15.3.4 asks, buckling across the seams.
    Bolted,
}

/// A post of sawn lumber, by wood and size.
#[derive(Clone, Copy, Debug)]
pub struct Post<N: Number> {
    /// The wood.
    pub wood: Wood,
    /// The grade.
    pub grade: LumberGrade,
    /// The side in the direction in which it would buckle, as it is.
    pub depth: Distance<N>,
    /// The other side, as it is.
    pub width: Distance<N>,
    /// Unbraced length times the factor of its ends.
    pub effective_length: Distance<N>,
    /// How it is made up.
    pub pieces: Pieces,
}

/// A grade of lumber.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LumberGrade {
    /// No. 2.
    No2,
    /// No. 3.
    No3,
}

/// What the specification gives no number for.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum NdsError {
    /// A dimension or strength that is no number over zero.
    #[error(transparent)]
    Input(#[from] OutOfRange),
    /// An angle outside 0 to 90 degrees.
    #[error("found an angle of {found} degrees between load and grain; expected 0 to 90")]
    Angle {
        /// What was found.
        found: f64,
    },
    /// A value outside what the equations were made for.
    #[error("found {what} of {found}{unit}; the specification goes from {least} to {most}")]
    Outside {
        /// What it is.
        what: &'static str,
        /// What was found, in the unit.
        found: f64,
        /// The least.
        least: f64,
        /// The greatest.
        most: f64,
        /// The unit, after a space; empty for a plain number.
        unit: &'static str,
    },
    /// Concrete weaker than that for which a bearing strength is published.
    #[error("found concrete of {found} psi; a bearing strength is published from {least} psi")]
    WeakConcrete {
        /// What was found, in psi.
        found: f64,
        /// The least, in psi.
        least: f64,
    },
    /// A nail that does not reach far enough into the main member to count.
    #[error("the nail reaches {found} in into the main member; it must reach {least} in to count")]
    Penetration {
        /// How far it reaches, in inches.
        found: f64,
        /// How far it must reach, in inches.
        least: f64,
    },
    /// A bolt too near an end, or bolts too near each other, for any value.
    #[error("found {found} in; the least distance for which a bolt has a value is {least} in")]
    TooClose {
        /// The distance found, in inches.
        found: f64,
        /// The least, in inches.
        least: f64,
    },
    /// A nail that the table does not hold.
    #[error("no diameter and length of a {0} nail is held")]
    NoSuchNail(Nail),
    /// A wood and grade whose design values are not held.
    #[error("no design values of {wood} in a section {depth} in deep are held")]
    NoDesignValue {
        /// The wood.
        wood: Wood,
        /// The lesser side of the section, in inches.
        depth: f64,
    },
    /// Lumber of a size that the table does not hold.
    #[error("no dressed size of lumber called {thickness}x{depth} is held")]
    NoSuchSize {
        /// The thickness by name, in inches.
        thickness: u8,
        /// The depth by name, in inches.
        depth: u8,
    },
    /// A column or beam more slender than the specification allows.
    #[error("found a slenderness of {found}; the specification allows {most}")]
    Slender {
        /// Effective length over depth.
        found: f64,
        /// The most.
        most: f64,
    },
}

/// One edition of the specification.
///
/// ```
/// use retrofit_core::house::SillSpecies;
/// use retrofit_core::screen::nds::{Concrete, Nds, SillAnchor, YieldMode};
/// use retrofit_core::screen::{Bare, INCH, POUND, PSI, StandardTable};
/// let nds = Nds::parse(&StandardTable::shipped("nds-2018").unwrap()).unwrap();
///
/// // A 1/2 in bolt in a 2x4 sill of Douglas fir, loaded along the sill.
/// let anchor = SillAnchor {
///     diameter: INCH.of(0.5),
///     sill_thickness: INCH.of(1.5),
///     embedment: INCH.of(6.0),
///     specific_gravity: nds.species(SillSpecies::DouglasFir).specific_gravity.given(Bare, "G", ""),
///     concrete: Concrete::Strength(PSI.of(2500.0)),
///     angle_degrees: 0.0,
/// };
/// let strength = nds.sill_anchor(Bare, &anchor)?;
/// assert_eq!(strength.z.to(POUND).round(), 648.0);
/// assert_eq!(strength.mode, YieldMode::IIIs);
/// # Ok::<(), retrofit_core::screen::nds::NdsError>(())
/// ```
#[derive(Clone, Debug)]
pub struct Nds {
    /// The edition.
    pub edition: Edition,
    redwood: Species,
    cedar: Species,
    douglas_fir: Species,
    hem_fir: Species,
    spruce_pine_fir: Species,
    southern_pine: Species,
    other: Species,
    gravity_range: Plain,
    nails: Vec<NailSize>,
    bolt_diameters: Length,
    bolt_yield: Strength,
    concrete_bearing: Strength,
    concrete_least: Strength,
    judged_sound_bearing: Strength,
    judged_sound_diameters: Length,
    judged_sound_sill: Length,
    reduction_one: Plain,
    reduction_two: Plain,
    reduction_three_and_four: Plain,
    nail_reduction: Plain,
    least_penetration: Plain,
    short_nails: ShortNails,
    toe_nail_lateral: Plain,
    toe_nail_withdrawal: Plain,
    end_grain: Plain,
    damp: Plain,
    group_of_nails: Plain,
    slip_wood: Figure<P1, N1>,
    slip_metal: Figure<P1, N1>,
    end_full: ByGrain,
    end_least: ByGrain,
    end_compression_full: Plain,
    end_compression_least: Plain,
    spacing_full: Plain,
    spacing_least: Plain,
    edge: ByGrain,
    duration: ByDuration,
    time_effect: ByDuration,
    connections: Conversion,
    compression: Conversion,
    modulus: Conversion,
    bearing: Conversion,
    stability: Plain,
    most_slender: Plain,
    nailed_pieces: Plain,
    bolted_pieces: Plain,
    size_factors: Vec<(f64, Plain)>,
    beams: beam::Beams,
}

/// A figure along the grain and one across it.
#[derive(Clone, Debug)]
struct ByGrain {
    along: Plain,
    across: Plain,
}

/// A figure for each duration.
#[derive(Clone, Debug)]
struct ByDuration {
    dead: Plain,
    occupancy: Plain,
    earthquake: Plain,
}

/// From an allowable value to a factored resistance.
#[derive(Clone, Debug)]
struct Conversion {
    format: Plain,
    resistance: Plain,
}

/// What an edition does with a nail that reaches less than ten diameters into the main member.
#[derive(Clone, Debug)]
enum ShortNails {
    /// The equations are used with the bearing length less half the tip; the tip is so many diameters long.
    ByTip(Plain),
    /// The strength at so many diameters falls in proportion.
    InProportion(Plain),
}

impl Nds {
    /// Makes an edition of its tables; a row that is missing, of the wrong kind or never asked for is an
    /// error.
    pub fn parse(table: &StandardTable) -> Result<Self, Vec<TableError>> {
        let nds = Self::read(table).map_err(|fault| vec![fault])?;
        match table.unread() {
            Some(fault) => Err(vec![fault]),
            None => Ok(nds),
        }
    }

    fn read(table: &StandardTable) -> Result<Self, TableError> {
        let plain = |figure: &str, of: &str| table.figure::<Z0, Z0>(figure, of);
        let strength = |figure: &str, of: &str| table.figure::<P1, N2>(figure, of);
        let by_grain = |figure: &str| {
            Ok::<_, TableError>(ByGrain {
                along: plain(figure, "along the grain")?,
                across: plain(figure, "across the grain")?,
            })
        };
        let by_duration = |figure: &str| {
            Ok::<_, TableError>(ByDuration {
                dead: plain(figure, "dead")?,
                occupancy: plain(figure, "occupancy")?,
                earthquake: plain(figure, "earthquake")?,
            })
        };
        let conversion = |of: &str| {
            Ok::<_, TableError>(Conversion {
                format: plain("format-conversion", of)?,
                resistance: plain("resistance-factor", of)?,
            })
        };
        Ok(Self {
            edition: table.edition.clone(),
            redwood: Species::read(table, Wood::Redwood)?,
            cedar: Species::read(table, Wood::Cedar)?,
            douglas_fir: Species::read(table, Wood::DouglasFir)?,
            hem_fir: Species::read(table, Wood::HemFir)?,
            spruce_pine_fir: Species::read(table, Wood::SprucePineFir)?,
            southern_pine: Species::read(table, Wood::SouthernPine)?,
            other: Species::read(table, Wood::Other)?,
            gravity_range: plain("specific-gravity-range", "")?,
            nails: NailSize::read_all(table)?,
            bolt_diameters: table.figure("bolt-diameters", "")?,
            bolt_yield: strength("bending-yield", "bolt")?,
            concrete_bearing: strength("concrete-bearing", "")?,
            concrete_least: strength("concrete-least-strength", "")?,
            judged_sound_bearing: strength("concrete-bearing", "judged sound")?,
            judged_sound_diameters: table.figure("judged-sound-diameters", "")?,
            judged_sound_sill: table.figure("judged-sound-sill", "")?,
            reduction_one: plain("reduction", "I")?,
            reduction_two: plain("reduction", "II")?,
            reduction_three_and_four: plain("reduction", "III and IV")?,
            nail_reduction: plain("reduction", "nails up to 0.17 in")?,
            least_penetration: plain("nail-least-penetration", "")?,
            short_nails: if table.rows("nail-tip").next().is_some() {
                ShortNails::ByTip(plain("nail-tip", "")?)
            } else {
                ShortNails::InProportion(plain("nail-full-penetration", "")?)
            },
            toe_nail_lateral: plain("toe-nail", "lateral")?,
            toe_nail_withdrawal: plain("toe-nail", "withdrawal")?,
            end_grain: plain("end-grain", "lateral")?,
            damp: plain("damp-in-service", "lateral")?,
            group_of_nails: plain("group-action", "under 1/4 in")?,
            slip_wood: table.figure("slip", "wood to wood")?,
            slip_metal: table.figure("slip", "wood to metal")?,
            end_full: by_grain("end-distance-full")?,
            end_least: by_grain("end-distance-least")?,
            end_compression_full: plain("end-distance-full", "in compression")?,
            end_compression_least: plain("end-distance-least", "in compression")?,
            spacing_full: plain("spacing-full", "")?,
            spacing_least: plain("spacing-least", "")?,
            edge: by_grain("edge-distance-least")?,
            duration: by_duration("load-duration")?,
            time_effect: by_duration("time-effect")?,
            connections: conversion("connections")?,
            compression: conversion("compression")?,
            modulus: conversion("modulus")?,
            bearing: conversion("bearing across the grain")?,
            stability: plain("column-c", "sawn lumber")?,
            most_slender: plain("column-slenderness", "")?,
            nailed_pieces: plain("built-up-column", "nailed")?,
            bolted_pieces: plain("built-up-column", "bolted")?,
            size_factors: table.series("size-factor-compression", "")?,
            beams: beam::Beams::read(table)?,
        })
    }

    /// What is held of a wood.
    pub fn species(&self, wood: impl Into<Wood>) -> &Species {
        match wood.into() {
            Wood::Redwood => &self.redwood,
            Wood::Cedar => &self.cedar,
            Wood::DouglasFir => &self.douglas_fir,
            Wood::HemFir => &self.hem_fir,
            Wood::SprucePineFir => &self.spruce_pine_fir,
            Wood::SouthernPine => &self.southern_pine,
            Wood::Other => &self.other,
        }
    }

    /// Diameter, length and steel of a nail by penny size and shank.
    pub fn nail_size(&self, nail: Nail) -> Result<&NailSize, NdsError> {
        let size = self.nails.iter().find(|size| size.nail == nail);
        size.ok_or(NdsError::NoSuchNail(nail))
    }

    /// Dowel bearing strength of wood, Fe, psi: Table 12.3.3 and, at an angle to the grain, 12.3.4.
    ///
    /// The table gives Fe to the nearest 50 psi and the published connection values follow from it so
    /// rounded; they are reproduced cell by cell only by rounding here too.
    pub fn wood_bearing<N: Number>(
        &self,
        gravity: Ratio<N>,
        diameter: Distance<N>,
        angle_degrees: f64,
    ) -> Result<Stress<N>, NdsError> {
        let edition = &self.edition;
        in_range("a specific gravity", gravity, "", &self.gravity_range)?;
        positive(diameter, "a diameter")?;
        let angle = angle(angle_degrees)?;
        if is_small(diameter) {
            let exact = (16600.0 * gravity.powf(1.84)).of(PSI);
            return Ok(to_nearest_fifty(exact).by(&FE_SMALL, edition));
        }
        let along = || to_nearest_fifty((11200.0 * gravity).of(PSI)).by(&FE_ALONG, edition);
        let across = || {
            let exact = (6100.0 * gravity.powf(1.45) / diameter.count(INCH).sqrt()).of(PSI);
            to_nearest_fifty(exact).by(&FE_ACROSS, edition)
        };
        if angle <= 0.0 {
            return Ok(along());
        }
        if angle >= 90.0 {
            return Ok(across());
        }
        let (sine, cosine) = angle.to_radians().sin_cos();
        let (along, across) = (along(), across());
        Ok((along * across / (sine * sine * along + cosine * cosine * across)).by(&HANKINSON, edition))
    }

    /// The strengths of the six yield modes, lb: Table 12.3.1A, Eqs. 12.3-1 to 12.3-6, with the reduction
    /// terms of Table 12.3.1B.
    pub fn yield_modes<G: Ledger>(
        &self,
        ledger: G,
        joint: &Joint<G::Number>,
    ) -> Result<Modes<G::Number>, NdsError> {
        let edition = &self.edition;
        let Joint {
            diameter: d,
            bending_yield: fyb,
            main: Bearing {
                length: lm,
                strength: fem,
            },
            side: Bearing {
                length: ls,
                strength: fes,
            },
            ..
        } = *joint;
        positive(d, "a diameter")?;
        positive(fyb, "a bending yield strength")?;
        positive(lm, "a bearing length in the main member")?;
        positive(ls, "a bearing length in the side member")?;
        positive(fem, "a bearing strength of the main member")?;
        positive(fes, "a bearing strength of the side member")?;
        let (one, two, rest) = self.reduction(ledger, joint)?;

        let re = (fem / fes).by(&RE, edition);
        let rt = (lm / ls).by(&RT, edition);
        let k1 = (((re + 2.0 * re * re * (rt + rt * rt).plus(1.0) + rt * rt * re * re * re).sqrt()
            - re * rt.plus(1.0))
            / re.plus(1.0))
        .by(&K1, edition);
        // How hard the dowel is to bend, against how hard the wood over a length is to crush.
        let bending =
            |share: Ratio<G::Number>, l: Distance<G::Number>| 2.0 * fyb * share * d * d / (3.0 * fem * l * l);
        let k2 = (2.0 * re.plus(1.0) + bending((2.0 * re).plus(1.0), lm))
            .sqrt()
            .minus(1.0)
            .by(&K2, edition);
        let k3 = (2.0 * re.plus(1.0) / re + bending(re.plus(2.0), ls))
            .sqrt()
            .minus(1.0)
            .by(&K3, edition);
        Ok(Modes {
            im: (d * lm * fem / one).by(&Z_IM, edition),
            is: (d * ls * fes / one).by(&Z_IS, edition),
            ii: (k1 * d * ls * fes / two).by(&Z_II, edition),
            iiim: (k2 * d * lm * fem / ((2.0 * re).plus(1.0) * rest)).by(&Z_IIIM, edition),
            iiis: (k3 * d * ls * fem / (re.plus(2.0) * rest)).by(&Z_IIIS, edition),
            iv: (d * d / rest * (2.0 * fem * fyb / (3.0 * re.plus(1.0))).sqrt()).by(&Z_IV, edition),
        })
    }

    /// The reduction terms Rd of modes I, II, and III and IV: Table 12.3.1B.
    #[expect(clippy::type_complexity, reason = "three of the same kind")]
    fn reduction<G: Ledger>(
        &self,
        ledger: G,
        joint: &Joint<G::Number>,
    ) -> Result<(Ratio<G::Number>, Ratio<G::Number>, Ratio<G::Number>), NdsError> {
        let edition = &self.edition;
        let given = |figure: &Plain| figure.given(ledger, "R_d", "reduction term");
        let d = joint.diameter;
        let angle = angle(joint.angle_degrees)?;
        if is_small(d) {
            let kd = if d.value() <= 0.17 {
                given(&self.nail_reduction)
            } else {
                (10.0 * d.count(INCH)).plus(0.5).by(&KD, edition)
            };
            return Ok((kd, kd, kd));
        }
        in_range("a bolt diameter", d, " in", &self.bolt_diameters)?;
        let k_theta = 1.0 + 0.25 * angle / 90.0;
        let times = |figure: &Plain| (k_theta * given(figure)).by(&RD, edition);
        Ok((
            times(&self.reduction_one),
            times(&self.reduction_two),
            times(&self.reduction_three_and_four),
        ))
    }

    /// A bolt through a sill into concrete: Table 12E by its equations, for any bolt and sill.
    pub fn sill_anchor<G: Ledger>(
        &self,
        ledger: G,
        anchor: &SillAnchor<G::Number>,
    ) -> Result<Lateral<G::Number>, NdsError> {
        let concrete = match anchor.concrete {
            Concrete::JudgedSound => {
                let what = "a bolt in concrete that was judged sound, a diameter";
                in_range(what, anchor.diameter, " in", &self.judged_sound_diameters)?;
                let what = "a sill on concrete that was judged sound, a thickness";
                in_range(what, anchor.sill_thickness, " in", &self.judged_sound_sill)?;
                &self.judged_sound_bearing
            }
            Concrete::Strength(strength) => {
                positive(strength, "a concrete strength")?;
                let (found, least) = (strength.to(PSI), self.concrete_least.to(PSI));
                if found < least {
                    return Err(NdsError::WeakConcrete { found, least });
                }
                &self.concrete_bearing
            }
        };
        in_range("a bolt diameter", anchor.diameter, " in", &self.bolt_diameters)?;
        let joint = Joint {
            diameter: anchor.diameter,
            bending_yield: self
                .bolt_yield
                .given(ledger, "F_yb", "bending yield strength of the bolt"),
            main: Bearing {
                length: anchor.embedment,
                strength: concrete.given(ledger, "F_em", "bearing strength of the concrete"),
            },
            side: Bearing {
                length: anchor.sill_thickness,
                strength: self.wood_bearing(
                    anchor.specific_gravity,
                    anchor.diameter,
                    anchor.angle_degrees,
                )?,
            },
            angle_degrees: anchor.angle_degrees,
        };
        Ok(self.yield_modes(ledger, &joint)?.in_single_shear(&self.edition))
    }

    /// A nail driven square through one member into another, across its axis: Tables 12N and 12P by their
    /// equations, with what the edition does about a nail that reaches less than ten diameters in.
    pub fn nail<G: Ledger>(
        &self,
        ledger: G,
        joint: &NailedJoint<'_, G::Number>,
    ) -> Result<Lateral<G::Number>, NdsError> {
        positive(joint.side_thickness, "a thickness of the side member")?;
        let nail = joint.nail.given(ledger);
        let reach = nail.length - joint.side_thickness;
        let reach = self.reach(ledger, reach, nail.diameter, joint.main_thickness)?;
        self.driven(ledger, joint, &nail, joint.side_thickness, reach, true)
    }

    /// A toe-nail, across its axis: 12.5.4, with the lengths of 12.3.10.2 for a nail at 30 degrees to the
    /// member, started a third of its length from the end.
    pub fn toe_nail<G: Ledger>(
        &self,
        ledger: G,
        joint: &NailedJoint<'_, G::Number>,
    ) -> Result<Lateral<G::Number>, NdsError> {
        positive(joint.side_thickness, "a thickness of the side member")?;
        let edition = &self.edition;
        let nail = joint.nail.given(ledger);
        let lengths = self.toe_nail_lengths(nail.length);
        let in_side = lengths.in_side.min(joint.side_thickness);
        let reach = self.reach(ledger, lengths.across, nail.diameter, joint.main_thickness)?;
        let square = self.driven(ledger, joint, &nail, in_side, reach, false)?;
        let factor = self
            .toe_nail_lateral
            .given(ledger, "C_tn", "toe-nail factor, lateral");
        Ok(Lateral {
            z: (square.z * factor).by(&TOE_NAIL, edition),
            ..square
        })
    }

    /// How far a nail reaches into the main member, if that is far enough to count: 12.1.6.4.
    fn reach<G: Ledger>(
        &self,
        ledger: G,
        reach: Distance<G::Number>,
        diameter: Distance<G::Number>,
        main_thickness: Option<Distance<G::Number>>,
    ) -> Result<Reach<G::Number>, NdsError> {
        let within = match main_thickness {
            Some(thickness) => {
                positive(thickness, "a thickness of the main member")?;
                reach.min(thickness)
            }
            None => reach,
        }
        .by(&PENETRATION, &self.edition);
        let least = self
            .least_penetration
            .given(ledger, "p_min", "least penetration, in diameters")
            * diameter;
        let (found, least) = (within.to(INCH), least.to(INCH));
        // A nail is sold to a hundredth of an inch; six diameters are not missed by the last bit of a number.
        if found.is_nan() || found < least - 1e-9 {
            return Err(NdsError::Penetration { found, least });
        }
        Ok(Reach {
            to_point: reach,
            within,
            main_thickness,
        })
    }

    fn driven<G: Ledger>(
        &self,
        ledger: G,
        joint: &NailedJoint<'_, G::Number>,
        nail: &DrivenNail<G::Number>,
        in_side: Distance<G::Number>,
        reach: Reach<G::Number>,
        tip_counts: bool,
    ) -> Result<Lateral<G::Number>, NdsError> {
        let edition = &self.edition;
        let d = nail.diameter;
        let (in_main, share) = match &self.short_nails {
            ShortNails::ByTip(tip) => {
                let bears = if tip_counts {
                    let tip = tip.given(ledger, "E/D", "length of the tapered tip, in diameters");
                    reach.to_point - tip * d / 2.0
                } else {
                    reach.to_point
                };
                let bears = reach
                    .main_thickness
                    .map_or(bears, |thickness| bears.min(thickness));
                (bears.by(&NAIL_BEARING, edition), None)
            }
            ShortNails::InProportion(full) => {
                let full = full.given(ledger, "p_full", "penetration at full strength, in diameters") * d;
                let share = (reach.within / full).at_most(1.0).by(&PENETRATION_SHARE, edition);
                (reach.within.max(full), Some(share))
            }
        };
        let dowel = Joint {
            diameter: d,
            bending_yield: nail.bending_yield,
            main: Bearing {
                length: in_main,
                strength: self.wood_bearing(joint.main_gravity, d, 0.0)?,
            },
            side: Bearing {
                length: in_side,
                strength: match joint.side {
                    Side::Wood(gravity) => self.wood_bearing(gravity, d, 0.0)?,
                    Side::Other(strength) => strength,
                },
            },
            // Thin dowels crush wood alike in every direction.
            angle_degrees: 0.0,
        };
        let lateral = self.yield_modes(ledger, &dowel)?.in_single_shear(edition);
        Ok(match share {
            Some(share) => Lateral {
                z: (lateral.z * share).by(&Z, edition),
                ..lateral
            },
            None => lateral,
        })
    }

    /// What an inch of a nail holds against pulling out of side grain, W, lb/in: 12.2.3. In end grain a nail
    /// holds nothing.
    pub fn withdrawal_per_inch<N: Number>(
        &self,
        gravity: Ratio<N>,
        diameter: Distance<N>,
    ) -> Result<LineLoad<N>, NdsError> {
        in_range("a specific gravity", gravity, "", &self.gravity_range)?;
        positive(diameter, "a diameter")?;
        Ok(((1380.0 * gravity.powf(2.5)).of(PSI) * diameter).by(&W, &self.edition))
    }

    /// What a nail driven square into side grain holds against pulling out, lb: 12.2.3.
    pub fn withdrawal<G: Ledger>(
        &self,
        ledger: G,
        joint: &NailedJoint<'_, G::Number>,
    ) -> Result<Force<G::Number>, NdsError> {
        positive(joint.side_thickness, "a thickness of the side member")?;
        let nail = joint.nail.given(ledger);
        let reach = nail.length - joint.side_thickness;
        let reach = self.reach(ledger, reach, nail.diameter, joint.main_thickness)?;
        let per_inch = self.withdrawal_per_inch(joint.main_gravity, nail.diameter)?;
        Ok((per_inch * reach.within).by(&WITHDRAWAL, &self.edition))
    }

    /// What a toe-nail holds against pulling out, lb: 12.5.4.1.
    pub fn toe_nail_withdrawal<G: Ledger>(
        &self,
        ledger: G,
        joint: &NailedJoint<'_, G::Number>,
    ) -> Result<Force<G::Number>, NdsError> {
        let nail = joint.nail.given(ledger);
        let lengths = self.toe_nail_lengths(nail.length);
        let reach = self.reach(ledger, lengths.along, nail.diameter, joint.main_thickness)?;
        let per_inch = self.withdrawal_per_inch(joint.main_gravity, nail.diameter)?;
        let factor = self
            .toe_nail_withdrawal
            .given(ledger, "C_tn", "toe-nail factor, withdrawal");
        Ok((per_inch * reach.within * factor).by(&WITHDRAWAL, &self.edition))
    }

    /// The lengths of a toe-nail in its two members, in: 12.3.10.2, 12.5.4.
    pub fn toe_nail_lengths<N: Number>(&self, length: Distance<N>) -> ToeNailLengths<N> {
        let edition = &self.edition;
        let third = length / 3.0;
        ToeNailLengths {
            in_side: third.by(&TOE_NAIL_SIDE, edition),
            across: (COSINE_OF_30_DEGREES * length - third).by(&TOE_NAIL_REACH, edition),
            along: (length - third / COSINE_OF_30_DEGREES).by(&TOE_NAIL_HOLD, edition),
        }
    }

    /// A nail that is pulled at an angle to its member, lb: Eq. 12.4-2. The angle is 0 across the nail's axis
    /// and 90 along it.
    pub fn pulled_at_an_angle<N: Number>(
        &self,
        lateral: Force<N>,
        withdrawal: Force<N>,
        angle_degrees: f64,
    ) -> Result<Force<N>, NdsError> {
        positive(lateral, "a lateral strength")?;
        positive(withdrawal, "a withdrawal strength")?;
        let (sine, cosine) = angle(angle_degrees)?.to_radians().sin_cos();
        let shared = cosine * withdrawal + sine * lateral;
        Ok((withdrawal * lateral / shared).by(&Z_ALPHA, &self.edition))
    }

    /// Group action factor, Cg: Eq. 11.3-1. Thin fasteners share a load evenly.
    ///
    /// It is made for a row of bolts in two members of wood or metal; anchors several feet apart on a
    /// foundation are no such row.
    pub fn group_action<G: Ledger>(
        &self,
        ledger: G,
        row: &Row<G::Number>,
    ) -> Result<Ratio<G::Number>, NdsError> {
        positive(row.diameter, "a diameter")?;
        positive(row.spacing, "a spacing")?;
        positive(row.main_stiffness, "a stiffness of the main member")?;
        positive(row.side_stiffness, "a stiffness of the side member")?;
        let alike = || {
            self.group_of_nails
                .given(ledger, "C_g", "group action factor where all carry alike")
        };
        if is_small(row.diameter) || row.fasteners <= 1 {
            return Ok(alike());
        }
        let edition = &self.edition;
        let n = f64::from(row.fasteners);
        let slip = match row.slip {
            Slip::WoodToWood => &self.slip_wood,
            Slip::WoodToMetal => &self.slip_metal,
        };
        let slip = slip.given(ledger, "gamma_1", "load-slip modulus of a fastener 1 in thick");
        let gamma = (slip * row.diameter.count(INCH).powf(1.5)).by(&GAMMA, edition);
        let (main, side) = (row.main_stiffness, row.side_stiffness);
        let u = (gamma * row.spacing / 2.0 / main + gamma * row.spacing / 2.0 / side)
            .plus(1.0)
            .by(&U, edition);
        let m = (u - (u * u).minus(1.0).sqrt()).by(&M, edition);
        // Members so stiff that the difference is lost in the last bit: every fastener carries alike.
        if m.value().is_nan() || m.value() >= 1.0 {
            return Ok(alike());
        }
        let r = (main / side).min(side / main).by(&R_EA, edition);
        let (mn, m2n) = (m.powf(n), m.powf(2.0 * n));
        let even = n * ((r * mn).plus(1.0) * m.plus(1.0) - m2n.from(1.0));
        Ok((m * m2n.from(1.0) / even * (r.plus(1.0) / m.from(1.0)))
            .at_most(1.0)
            .by(&CG, edition))
    }

    /// Geometry factor of a bolt, CΔ: 12.5.1. Under the least distance a bolt has no value.
    pub fn geometry<G: Ledger>(
        &self,
        ledger: G,
        place: Place,
        distance: Distance<G::Number>,
        diameter: Distance<G::Number>,
    ) -> Result<Ratio<G::Number>, NdsError> {
        positive(distance, "a distance")?;
        positive(diameter, "a diameter")?;
        let edition = &self.edition;
        let given = |figure: &Plain, words: &'static str| figure.given(ledger, "l/D", words);
        let between = |by_grain: &ByGrain, angle: f64, words: &'static str| {
            let (along, across) = (given(&by_grain.along, words), given(&by_grain.across, words));
            match angle {
                0.0 => along,
                90.0 => across,
                _ => along + (angle / 90.0) * (across - along),
            }
        };
        let (full, least) = match place {
            Place::End { angle_degrees } => {
                let angle_degrees = angle(angle_degrees)?;
                (
                    between(&self.end_full, angle_degrees, "end distance at full strength"),
                    between(&self.end_least, angle_degrees, "least end distance"),
                )
            }
            Place::EndInCompression => (
                given(&self.end_compression_full, "end distance at full strength"),
                given(&self.end_compression_least, "least end distance"),
            ),
            Place::Spacing => (
                given(&self.spacing_full, "spacing at full strength"),
                given(&self.spacing_least, "least spacing"),
            ),
        };
        let (found, least) = (distance.to(INCH), (least * diameter).to(INCH));
        if found < least - 1e-9 {
            return Err(NdsError::TooClose { found, least });
        }
        Ok((distance / (full * diameter)).at_most(1.0).by(&C_DELTA, edition))
    }

    /// The least distance from a bolt to the edge of a member, in: 12.5.1.3; across the grain, to the edge
    /// toward which the load acts.
    pub fn least_edge_distance<G: Ledger>(
        &self,
        ledger: G,
        diameter: Distance<G::Number>,
        angle_degrees: f64,
    ) -> Result<Distance<G::Number>, NdsError> {
        positive(diameter, "a diameter")?;
        let figure = if angle(angle_degrees)? > 0.0 {
            &self.edge.across
        } else {
            &self.edge.along
        };
        Ok((figure.given(ledger, "l/D", "least edge distance") * diameter).by(&LEAST_EDGE, &self.edition))
    }

    /// The factor of a nail driven into end grain, across its axis, Ceg: 12.5.2.
    pub fn end_grain<G: Ledger>(&self, ledger: G) -> Ratio<G::Number> {
        self.end_grain.given(ledger, "C_eg", "end grain factor, lateral")
    }

    /// The factor of wood damper than 19 % in service, CM, for bolts and nails across their axis: 11.3.3.
    pub fn damp_in_service<G: Ledger>(&self, ledger: G) -> Ratio<G::Number> {
        self.damp
            .given(ledger, "C_M", "wet service factor of connections, lateral")
    }

    /// A connection with the factors of method and duration, Z′, lb: 11.3.
    pub fn adjusted<G: Ledger>(
        &self,
        ledger: G,
        z: Force<G::Number>,
        method: Method,
        duration: Duration,
    ) -> Force<G::Number> {
        (z * self.conversion(ledger, &self.connections, method, duration)).by(&Z_ADJUSTED, &self.edition)
    }

    /// CD for allowable stress design; KF φ λ for load and resistance factor design.
    fn conversion<G: Ledger>(
        &self,
        ledger: G,
        conversion: &Conversion,
        method: Method,
        duration: Duration,
    ) -> Ratio<G::Number> {
        match method {
            Method::Asd => self
                .duration
                .of(duration)
                .given(ledger, "C_D", "load duration factor"),
            Method::Lrfd => {
                conversion.given(ledger)
                    * self
                        .time_effect
                        .of(duration)
                        .given(ledger, "lambda", "time effect factor")
            }
        }
    }

    /// A lap splice of a doubled top plate, lb: what the nails on one side of the joint carry together.
    pub fn plate_splice<N: Number>(&self, nail: Force<N>, nails: Ratio<N>) -> Force<N> {
        (nails * nail).by(&SPLICE, &self.edition)
    }

    /// Column stability factor, CP: 3.7.1, and 15.3.2 for pieces fastened together.
    pub fn column_stability<G: Ledger>(
        &self,
        ledger: G,
        column: &Column<G::Number>,
    ) -> Result<Ratio<G::Number>, NdsError> {
        let edition = &self.edition;
        positive(column.compression, "a compression strength")?;
        positive(column.modulus, "a modulus of elasticity")?;
        positive(column.effective_length, "an effective length")?;
        positive(column.depth, "a depth")?;
        let slenderness = (column.effective_length / column.depth).by(&SLENDERNESS, edition);
        let most = self.most_slender.to(PLAIN);
        if slenderness.value() > most {
            return Err(NdsError::Slender {
                found: slenderness.value(),
                most,
            });
        }
        let euler = (0.822 * column.modulus / (slenderness * slenderness)).by(&FCE, edition);
        let c = self.stability.given(ledger, "c", "sawn lumber");
        let ratio = euler / column.compression;
        let half = ratio.plus(1.0) / (2.0 * c);
        let solid = half - (half * half - ratio / c).sqrt();
        let factor = |figure: &Plain| figure.given(ledger, "K_f", "built-up column factor") * solid;
        Ok(match column.pieces {
            Pieces::Solid => solid,
            Pieces::Nailed => factor(&self.nailed_pieces),
            Pieces::Bolted => factor(&self.bolted_pieces),
        }
        .by(&CP, edition))
    }

    /// What a post of sawn lumber can carry along its axis, lb: 3.7.1 with the size factor of the supplement.
    pub fn post<G: Ledger>(
        &self,
        ledger: G,
        post: &Post<G::Number>,
        method: Method,
        duration: Duration,
    ) -> Result<Force<G::Number>, NdsError> {
        let edition = &self.edition;
        positive(post.depth, "a depth")?;
        positive(post.width, "a width")?;
        let species = self.species(post.wood);
        let (lesser, greater) = (post.depth.min(post.width), post.depth.max(post.width));
        let absent = NdsError::NoDesignValue {
            wood: post.wood,
            depth: lesser.to(INCH),
        };
        // A built-up post is of dimension lumber, however deep its pieces together.
        let is_timber = lesser.to(INCH) >= LEAST_TIMBER && post.pieces == Pieces::Solid;
        let (grade, size) = if is_timber {
            let grade = match post.grade {
                LumberGrade::No2 => species.timber.as_ref(),
                LumberGrade::No3 => None,
            };
            (grade, None)
        } else {
            // Southern pine is tabulated by size.
            let size = match post.wood {
                Wood::SouthernPine => None,
                _ => Some(self.size_factor(greater).ok_or(absent)?),
            };
            (species.grade(post.grade), size)
        };
        let grade = grade.ok_or(absent)?;
        let reference = grade
            .compression
            .given(ledger, "F_c", "compression along the grain");
        let sized = match size {
            Some(size) => reference * size.given(ledger, "C_F", "size factor"),
            None => reference,
        };
        let compression =
            (sized * self.conversion(ledger, &self.compression, method, duration)).by(&FC_STAR, edition);
        let modulus = grade
            .modulus
            .given(ledger, "E_min", "modulus of elasticity for stability");
        let modulus = match method {
            Method::Asd => modulus,
            Method::Lrfd => (modulus * self.modulus.given(ledger)).by(&E_MIN, edition),
        };
        let stability = self.column_stability(
            ledger,
            &Column {
                compression,
                modulus,
                effective_length: post.effective_length,
                depth: post.depth,
                pieces: post.pieces,
            },
        )?;
        Ok((compression * stability * post.width * post.depth).by(&POST, edition))
    }

    fn size_factor<N: Number>(&self, depth: Distance<N>) -> Option<&Plain> {
        beam::up_to(&self.size_factors, depth.to(INCH))
    }

    /// Bearing across the grain, F′c⊥, psi, under a plate or post of a length along the grain: 3.10.2, and
    /// the bearing area factor of 3.10.4, which a bearing nearer than 3 in to the end of the member does not
    /// have. No load duration raises it.
    pub fn bearing_across_grain<G: Ledger>(
        &self,
        ledger: G,
        reference: Stress<G::Number>,
        length: Distance<G::Number>,
        near_the_end: bool,
        method: Method,
    ) -> Result<Stress<G::Number>, NdsError> {
        let edition = &self.edition;
        positive(reference, "a compression strength")?;
        positive(length, "a bearing length")?;
        let strength = match method {
            Method::Asd => reference,
            Method::Lrfd => reference * self.bearing.given(ledger),
        };
        let length = length.count(INCH);
        if near_the_end || length.value() >= 6.0 {
            return Ok(strength.by(&BEARING, edition));
        }
        let factor = (length.plus(0.375) / length).by(&CB, edition);
        Ok((strength * factor).by(&BEARING, edition))
    }
}

impl<N: Number> Modes<N> {
    /// A mode by its name.
    pub const fn of(&self, mode: YieldMode) -> Force<N> {
        match mode {
            YieldMode::Im => self.im,
            YieldMode::Is => self.is,
            YieldMode::II => self.ii,
            YieldMode::IIIm => self.iiim,
            YieldMode::IIIs => self.iiis,
            YieldMode::IV => self.iv,
        }
    }

    /// The least of the six modes: one shear plane.
    pub fn in_single_shear(&self, edition: &Edition) -> Lateral<N> {
        least(
            edition,
            (self.im, YieldMode::Im),
            [
                (self.is, YieldMode::Is),
                (self.ii, YieldMode::II),
                (self.iiim, YieldMode::IIIm),
                (self.iiis, YieldMode::IIIs),
                (self.iv, YieldMode::IV),
            ],
        )
    }

    /// The least of the four modes that two shear planes have: Eqs. 12.3-7 to 12.3-10.
    pub fn in_double_shear(&self, edition: &Edition) -> Lateral<N> {
        least(
            edition,
            (self.im, YieldMode::Im),
            [
                (2.0 * self.is, YieldMode::Is),
                (2.0 * self.iiis, YieldMode::IIIs),
                (2.0 * self.iv, YieldMode::IV),
            ],
        )
    }
}

fn least<N: Number, const M: usize>(
    edition: &Edition,
    first: (Force<N>, YieldMode),
    others: [(Force<N>, YieldMode); M],
) -> Lateral<N> {
    let (mut z, mut mode) = first;
    for (other, other_mode) in others {
        if other.value() < z.value() {
            mode = other_mode;
        }
        z = z.min(other);
    }
    Lateral {
        z: z.by(&Z, edition),
        mode,
    }
}

impl Species {
    /// Design values of a grade of dimension lumber.
    pub const fn grade(&self, grade: LumberGrade) -> Option<&Grade> {
        match grade {
            LumberGrade::No2 => self.no_2.as_ref(),
            LumberGrade::No3 => self.no_3.as_ref(),
        }
    }

    fn read(table: &StandardTable, wood: Wood) -> Result<Self, TableError> {
        let of = wood.spelling();
        let strength = |figure: &str| {
            let held = table.rows(figure).any(|cell| cell.of.as_ref() == of);
            held.then(|| table.figure::<P1, N2>(figure, of)).transpose()
        };
        let grade = |compression: &str, modulus: &str| {
            let compression = strength(compression)?;
            let modulus = strength(modulus)?;
            let both = compression.zip(modulus);
            Ok::<_, TableError>(both.map(|(compression, modulus)| Grade { compression, modulus }))
        };
        Ok(Self {
            wood,
            specific_gravity: table.figure("specific-gravity", of)?,
            compression_perpendicular: strength("compression-perpendicular")?,
            no_2: grade("compression-no-2", "modulus-no-2")?,
            no_3: grade("compression-no-3", "modulus-no-3")?,
            timber: grade("compression-timber-no-2", "modulus-timber-no-2")?,
        })
    }
}

impl NailSize {
    /// Every nail that has both a diameter and a length.
    fn read_all(table: &StandardTable) -> Result<Vec<Self>, TableError> {
        let steels: Vec<(f64, Strength)> = table
            .rows("nail-bending-yield")
            .filter_map(|cell| {
                let most = cell.at?;
                Some(table.read_cell(cell).map(|steel| (most, steel)))
            })
            .filter_map(|row| {
                row.map(|(most, steel)| steel.map(|steel| (most, steel)))
                    .transpose()
            })
            .collect::<Result<_, _>>()?;
        table
            .rows("nail-diameter")
            .map(|cell| {
                let nail: Nail = cell.of.parse().map_err(|fault| table.fault(cell, fault))?;
                let diameter: Length = table.figure("nail-diameter", &cell.of)?;
                let wire = diameter.to(INCH);
                let steel = steels.iter().find(|(most, _)| wire <= *most + 1e-9);
                let (_, steel) = steel.ok_or_else(|| {
                    table.fault(
                        cell,
                        format!("found {wire} in; expected a row of nail-bending-yield that reaches it"),
                    )
                })?;
                Ok(Self {
                    nail,
                    diameter,
                    length: table.figure("nail-length", &cell.of)?,
                    bending_yield: steel.clone(),
                })
            })
            .collect()
    }

    fn given<G: Ledger>(&self, ledger: G) -> DrivenNail<G::Number> {
        let shank = self.nail.shank;
        let words =
            |what: &'static str| move || format!("{what} of a {}d {} nail", self.nail.penny, shank.words());
        DrivenNail {
            diameter: self.diameter.given_as(ledger, "D", words("diameter")),
            length: self.length.given_as(ledger, "L", words("length")),
            bending_yield: self
                .bending_yield
                .given_as(ledger, "F_yb", words("bending yield strength")),
        }
    }
}

/// A nail as an input of a calculation.
struct DrivenNail<N: Number> {
    diameter: Distance<N>,
    length: Distance<N>,
    bending_yield: Stress<N>,
}

/// How far a nail goes beyond the side member.
#[derive(Clone, Copy)]
struct Reach<N: Number> {
    /// To its point, even where that comes out.
    to_point: Distance<N>,
    /// In the main member.
    within: Distance<N>,
    main_thickness: Option<Distance<N>>,
}

impl ByDuration {
    const fn of(&self, duration: Duration) -> &Plain {
        match duration {
            Duration::Dead => &self.dead,
            Duration::Occupancy => &self.occupancy,
            Duration::Earthquake => &self.earthquake,
        }
    }
}

impl Conversion {
    fn given<G: Ledger>(&self, ledger: G) -> Ratio<G::Number> {
        self.format.given(ledger, "K_F", "format conversion factor")
            * self.resistance.given(ledger, "phi", "resistance factor")
    }
}

/// The cosine of the angle at which a toe-nail is driven: 12.1.6.3.
const COSINE_OF_30_DEGREES: f64 = 0.866_025_403_784_438_6;
/// The thinnest side of what is graded as a post or timber: 5 in nominal.
const LEAST_TIMBER: f64 = 4.5;

// The text of the specification was not seen. Its equations were seen quoted with their numbers, and they
// give the published table cells that were seen quoted.
equations! { Secondary:
    FE_SMALL "F_e" PoundPerSquareInch "Table 12.3.3" "dowel bearing strength of wood, fasteners under 1/4 in";
    FE_ALONG "F_e par" PoundPerSquareInch "Table 12.3.3" "dowel bearing strength of wood along the grain";
    FE_ACROSS "F_e perp" PoundPerSquareInch "Table 12.3.3" "dowel bearing strength of wood across the grain";
    HANKINSON "F_e theta" PoundPerSquareInch "Eq. 12.3-11" "bearing strength of wood at an angle to grain";
    RE "R_e" Plain "Table 12.3.1A" "bearing strength of the main member over that of the side member";
    RT "R_t" Plain "Table 12.3.1A" "bearing length in the main member over that in the side member";
    K1 "k_1" Plain "Table 12.3.1A" "coefficient of mode II";
    K2 "k_2" Plain "Table 12.3.1A" "coefficient of mode IIIm";
    K3 "k_3" Plain "Table 12.3.1A" "coefficient of mode IIIs";
    KD "K_D" Plain "Table 12.3.1B" "reduction term of nails over 0.17 in";
    RD "R_d" Plain "Table 12.3.1B" "reduction term, with 1 + 0.25 theta/90 for the angle to the grain";
    Z_IM "Z_Im" Pound "Eq. 12.3-1" "mode Im: the main member is crushed";
    Z_IS "Z_Is" Pound "Eq. 12.3-2" "mode Is: the side member is crushed";
    Z_II "Z_II" Pound "Eq. 12.3-3" "mode II: the fastener turns in both members";
    Z_IIIM "Z_IIIm" Pound "Eq. 12.3-4" "mode IIIm: the fastener bends in the side member";
    Z_IIIS "Z_IIIs" Pound "Eq. 12.3-5" "mode IIIs: the fastener bends in the main member";
    Z_IV "Z_IV" Pound "Eq. 12.3-6" "mode IV: the fastener bends twice";
    Z "Z" Pound "12.3.1" "strength of one fastener across its axis";
    PENETRATION "p" Inch "12.1.6.4" "penetration of the nail into the main member";
    NAIL_BEARING "l_m" Inch "12.3.5.3" "bearing length of the nail in the main member";
    PENETRATION_SHARE "p/p_full" Plain "Table 12N" "share of the strength that a short nail keeps";
    TOE_NAIL_SIDE "l_s" Inch "12.3.10.2" "bearing length of the toe-nail in the side member";
    TOE_NAIL_REACH "p_L" Inch "12.5.4" "length of the toe-nail in the main member, across the load";
    TOE_NAIL_HOLD "p_t" Inch "12.5.4" "length of the toe-nail in the main member";
    TOE_NAIL "Z" Pound "12.5.4.2" "strength of a toe-nail across its axis";
    W "W" PoundPerFoot "12.2.3" "withdrawal strength of an inch of nail";
    WITHDRAWAL "W p" Pound "12.2.3" "withdrawal strength of the nail";
    Z_ALPHA "Z_alpha" Pound "Eq. 12.4-2" "strength of a nail that is pulled at an angle";
    GAMMA "gamma" KipPerInch "11.3.6" "load-slip modulus";
    U "u" Plain "Eq. 11.3-1" "coefficient of the group action factor";
    M "m" Plain "Eq. 11.3-1" "coefficient of the group action factor";
    R_EA "R_EA" Plain "Eq. 11.3-1" "stiffness of the softer member over that of the stiffer";
    CG "C_g" Plain "Eq. 11.3-1" "group action factor";
    C_DELTA "C_Delta" Plain "12.5.1" "geometry factor";
    LEAST_EDGE "edge" Inch "12.5.1.3" "least edge distance";
    Z_ADJUSTED "Z'" Pound "11.3" "adjusted strength of the connection";
    SLENDERNESS "l_e/d" Plain "3.7.1.4" "slenderness";
    FCE "F_cE" PoundPerSquareInch "3.7.1.5" "critical buckling stress";
    CP "C_P" Plain "3.7.1.5" "column stability factor";
    FC_STAR "F_c*" PoundPerSquareInch "3.7.1.5" "compression strength with every factor but stability";
}

// Remembered.
equations! { Memory:
    SPLICE "n Z'" Pound "11.2.2" "strength of the lap splice";
    E_MIN "E'_min" PoundPerSquareInch "Table 4.3.1" "modulus of elasticity for stability, factored";
    POST "P'" Pound "3.6.3" "strength of the post along its axis";
    CB "C_b" Plain "3.10.4" "bearing area factor";
    BEARING "F'_c perp" PoundPerSquareInch "3.10.2" "bearing strength across the grain";
}

/// Table 12.3.3 is to the nearest 50 psi. The difference is added, so that the number still hangs on what it
/// was computed from.
fn to_nearest_fifty<N: Number>(exact: Stress<N>) -> Stress<N> {
    let psi = exact.count(PSI);
    let nearest = (psi.value() / 50.0 + 0.5).floor() * 50.0;
    psi.plus(nearest - psi.value()).of(PSI)
}

fn is_small<N: Number>(diameter: Distance<N>) -> bool {
    diameter.value() < 0.25
}

fn in_range<F, L, N: Number>(
    what: &'static str,
    quantity: Quantity<F, L, N>,
    unit: &'static str,
    range: &Figure<F, L>,
) -> Result<(), NdsError> {
    let found = quantity.value();
    positive(quantity, what)?;
    if (range.low - 1e-9..=range.high + 1e-9).contains(&found) {
        Ok(())
    } else {
        Err(NdsError::Outside {
            what,
            found,
            least: range.low,
            most: range.high,
            unit,
        })
    }
}

fn angle(found: f64) -> Result<f64, NdsError> {
    if (0.0..=90.0).contains(&found) {
        Ok(found)
    } else {
        Err(NdsError::Angle { found })
    }
}

#[cfg(test)]
mod tests {
    use typed_arena::Arena;

    use super::*;
    use crate::provisions::Standing;
    use crate::screen::{Bare, Content, Derivation, Given, Origin, Tagging, Tracing, Unit, UnknownId};

    fn nds() -> Nds {
        Nds::parse(&StandardTable::shipped("nds-2018").unwrap()).unwrap()
    }

    /// An input that was measured, or not.
    fn input<G: Ledger, F, L>(
        ledger: G,
        value: f64,
        unknown: Option<UnknownId>,
    ) -> Quantity<F, L, G::Number> {
        Quantity::new(ledger.given(value, Standing::Verified, unknown, || Given {
            symbol: "x".to_owned(),
            words: String::new(),
            unit: Unit::Plain,
            origin: Origin::House {
                path: "sill".to_owned(),
                basis: crate::observation::Basis::Measured,
            },
        }))
    }

    fn anchor<G: Ledger>(nds: &Nds, ledger: G) -> SillAnchor<G::Number> {
        SillAnchor {
            diameter: input(ledger, 0.5, None),
            sill_thickness: input(ledger, 1.5, Some(UnknownId(3))),
            embedment: input(ledger, 7.0, None),
            specific_gravity: nds
                .species(SillSpecies::DouglasFir)
                .specific_gravity
                .given(ledger, "G", "sill"),
            concrete: Concrete::JudgedSound,
            angle_degrees: 30.0,
        }
    }

    #[test]
    fn the_derivation_is_the_calculation() {
        let nds = nds();
        let arena = Arena::new();
        let traced = nds
            .sill_anchor(Tracing(&arena), &anchor(&nds, Tracing(&arena)))
            .unwrap();
        let bare = nds.sill_anchor(Bare, &anchor(&nds, Bare)).unwrap();
        assert_eq!(traced.z.value().to_bits(), bare.z.value().to_bits());
        assert_eq!(traced.mode, bare.mode);
        let derivation = Derivation::of(traced.z);
        for line in &derivation.lines {
            if let Content::Step(step, expression) = &line.content {
                assert!(!step.section.is_empty(), "{} has no clause", step.symbol);
                assert_eq!(step.document, "NDS-2018");
                let again = expression.evaluate(&derivation.lines);
                assert!(
                    (again - line.value).abs() <= 1e-12 * line.value.abs(),
                    "{}",
                    step.symbol
                );
            }
        }
        // Every mode is shown, not only the one that governs.
        for mode in YieldMode::ALL {
            let symbol = format!("Z_{}", mode.symbol());
            assert!(
                derivation.lines.iter().any(|line| line.symbol() == symbol),
                "{symbol}"
            );
        }
        assert_eq!(derivation.lines.last().unwrap().symbol(), "Z");
    }

    #[test]
    fn a_strength_knows_what_it_rests_on() {
        let nds = nds();
        let unknowns = std::cell::Cell::new(0);
        let tagging = Tagging(&unknowns);
        let strength = nds.sill_anchor(tagging, &anchor(&nds, tagging)).unwrap();
        let tag = strength.z.number();
        assert_eq!(tag.weakest, Standing::Secondary);
        assert_eq!(unknowns.get(), 1 << 3);
        let lrfd = nds.adjusted(tagging, strength.z, Method::Lrfd, Duration::Earthquake);
        assert_eq!(lrfd.number().weakest, Standing::Memory);
    }
}
