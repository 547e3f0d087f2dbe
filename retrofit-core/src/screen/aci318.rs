//! Concrete, and anchors in it near an edge, by ACI 318.
//!
//! What the foundation can give: breakout of the concrete in front of a sill anchor, the steel of the anchor
//! itself, and a stem wall or footing without reinforcement in bending and shear. All of it is strength
//! design: a strength with its resistance factor is set against a factored load, whatever the method of the
//! wood.
//!
//! Concrete is of normal weight. Old foundations are often weaker than the least strength the code knows;
//! then the equations are carried beyond their range, the result says so ([`Strength::range`]), and the step
//! at which that happens has the standing of common practice.
//!
//! Not held: breakout, pullout and side-face blowout in tension, pryout, splitting, adhesive and expansion
//! anchors, anchor reinforcement, and the limit on the edge distance of an anchor close to three edges,
//! without which the strength is on the low side.
//!
//! An anchor near the end of a wall is asked twice, once toward the side and once toward the end
//! ([`Aci318::breakout_toward_edge`] with the end as its edge); the lesser governs.

use std::f64::consts::FRAC_PI_4;

use thiserror::Error;
use typenum::{N2, P1, Z0};

use super::equation::equations;
use super::number::{Ledger, Number};
use super::quantity::{Distance, Force, Moment, Ratio, Stress, Surface, Volume};
use super::range::{OutOfRange, not_negative, positive};
use super::standard::{Edition, Figure, StandardTable};
use super::unit::{INCH, POUND, PSI, SQUARE_INCH};
use crate::table::TableError;

type Plain = Figure<Z0, Z0>;
type Length = Figure<Z0, P1>;
type StressFigure = Figure<P1, N2>;

/// An anchor, or a row of them along an edge, that is pushed across its axis.
#[derive(Clone, Copy, Debug)]
pub struct EdgeAnchor<N: Number> {
    /// Diameter, da.
    pub diameter: Distance<N>,
    /// Depth in the concrete, hef.
    pub embedment: Distance<N>,
    /// Strength of the concrete, f′c.
    pub concrete: Stress<N>,
    /// From the center of the anchor to the edge, ca1.
    pub edge: Distance<N>,
    /// From the center of the anchor to the edges on either side, ca2, where there are any.
    pub sides: [Option<Distance<N>>; 2],
    /// Thickness of the concrete along the anchor, ha, where it is less than one and a half edge distances.
    pub thickness: Option<Distance<N>>,
    /// Whether the concrete may be cracked at the anchor, and what reinforces the edge.
    pub cracking: Cracking,
    /// Whether reinforcement ties the piece that would break out into the rest (condition A of older
    /// editions).
    pub has_supplementary_reinforcement: bool,
    /// Like anchors in a row along the edge.
    pub row: Option<AnchorRow<N>>,
}

/// Anchors in a row along an edge that share a load.
#[derive(Clone, Copy, Debug)]
pub struct AnchorRow<N: Number> {
    /// How many there are.
    pub anchors: u16,
    /// From center to center.
    pub spacing: Distance<N>,
    /// How far the load acts from the middle of the row, e′V.
    pub eccentricity: Option<Distance<N>>,
}

/// Whether concrete is cracked at an anchor, and what reinforces it there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cracking {
    /// Analysis shows no cracking.
    Uncracked,
    /// Cracked, with no reinforcement along the edge, or bars thinner than No. 4.
    Cracked,
    /// Cracked, with a No. 4 bar or thicker between anchor and edge.
    CrackedWithBar,
    /// Cracked, with such a bar and stirrups at most 4 in apart.
    CrackedWithStirrups,
}

/// A strength, and whether the concrete is within the range of the code.
#[derive(Clone, Copy, Debug)]
pub struct Strength<Q> {
    /// The nominal strength, before the resistance factor.
    pub nominal: Q,
    /// The strength with its resistance factor, to be set against a factored load.
    pub design: Q,
    /// Whether the equation was made for such concrete.
    pub range: Range,
}

/// Whether the equations were made for a concrete.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Range {
    /// They were.
    Within,
    /// It is weaker than the least strength the code knows: the result is an estimate outside the code.
    BelowLeastStrength,
    /// It is stronger than the code counts on: the code's limit was taken.
    AboveGreatestStrength,
}

/// A rectangular section of a wall or footing without reinforcement that counts.
#[derive(Clone, Copy, Debug)]
pub struct PlainSection<N: Number> {
    /// Its width, b: the length of wall that is looked at.
    pub width: Distance<N>,
    /// Its whole depth, h.
    pub depth: Distance<N>,
    /// Whether its lower face was cast against soil, of which part does not count.
    pub cast_against_soil: bool,
    /// Strength of the concrete, f′c.
    pub concrete: Stress<N>,
}

/// A sill anchor, for the conditions under which the wood governs.
#[derive(Clone, Copy, Debug)]
pub struct SillAnchorage<N: Number> {
    /// Diameter of the anchor.
    pub diameter: Distance<N>,
    /// Depth in the concrete.
    pub embedment: Distance<N>,
    /// From the center of the anchor to the edge along the sill.
    pub edge: Distance<N>,
    /// From the center of the anchor to the edge across the sill's end.
    pub end: Distance<N>,
    /// Thickness of the sill, as it is.
    pub sill_thickness: Distance<N>,
}

/// A condition under which the strength of a sill anchor may be taken from the wood alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SillCondition {
    /// The anchor is no thicker than the limit.
    Diameter,
    /// The anchor is deep enough.
    Embedment,
    /// The anchor is far enough from the edge along the sill.
    EdgeDistance,
    /// The anchor is far enough from the end.
    EndDistance,
    /// The sill is a 2x or a 3x.
    SillThickness,
}

/// What the code gives no number for.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum AciError {
    /// A dimension or strength that is no number over zero.
    #[error(transparent)]
    Input(#[from] OutOfRange),
    /// A bolt whose thread is not held.
    #[error("found a bolt of {found} in; the threads held are of {least} to {most} in")]
    Thread {
        /// The diameter, in inches.
        found: f64,
        /// The least held.
        least: f64,
        /// The greatest held.
        most: f64,
    },
    /// A section of which nothing is left once the face against the soil is taken off.
    #[error("found a section {found} in deep cast against soil; {lost} in of it does not count")]
    NothingLeft {
        /// The depth, in inches.
        found: f64,
        /// What does not count, in inches.
        lost: f64,
    },
}

/// One edition of the code.
///
/// ```
/// use retrofit_core::screen::aci318::{Aci318, Cracking, EdgeAnchor, Range};
/// use retrofit_core::screen::{Bare, INCH, POUND, PSI, StandardTable};
/// let aci = Aci318::parse(&StandardTable::shipped("aci318-19").unwrap()).unwrap();
///
/// // A 5/8 in bolt, 7 in deep, 1-3/4 in from the face of an old stem wall, pushed along it.
/// let anchor = EdgeAnchor {
///     diameter: INCH.of(0.625),
///     embedment: INCH.of(7.0),
///     concrete: PSI.of(1500.0),
///     edge: INCH.of(1.75),
///     sides: [None, None],
///     thickness: None,
///     cracking: Cracking::Cracked,
///     has_supplementary_reinforcement: false,
///     row: None,
/// };
/// let breakout = aci.breakout_along_edge(Bare, &anchor)?;
/// let toward = aci.breakout_toward_edge(Bare, &anchor)?;
/// assert_eq!(breakout.nominal.to(POUND), 2.0 * toward.nominal.to(POUND));
/// // No code was written for concrete as weak as this.
/// assert_eq!(breakout.range, Range::BelowLeastStrength);
/// # Ok::<(), retrofit_core::screen::aci318::AciError>(())
/// ```
#[derive(Clone, Debug)]
pub struct Aci318 {
    /// The edition.
    pub edition: Edition,
    least_strength: StressFigure,
    greatest_strength: StressFigure,
    uncracked: Plain,
    cracked: Plain,
    cracked_with_bar: Plain,
    cracked_with_stirrups: Plain,
    bearing_length: Plain,
    breakout_factor: Plain,
    breakout_factor_supplementary: Plain,
    seismic_shear: Plain,
    steel_factor: Plain,
    steel_strength: StressFigure,
    threads: Vec<(f64, Plain)>,
    plain_factor: Plain,
    soil_face: Length,
    sill_diameter: Length,
    sill_embedment: Length,
    sill_edge: Length,
    sill_end: Plain,
    sill_thickness: Length,
}

impl Aci318 {
    /// Makes an edition of its tables; a row that is missing, of the wrong kind or never asked for is an
    /// error.
    pub fn parse(table: &StandardTable) -> Result<Self, Vec<TableError>> {
        let aci = Self::read(table).map_err(|fault| vec![fault])?;
        match table.unread() {
            Some(fault) => Err(vec![fault]),
            None => Ok(aci),
        }
    }

    fn read(table: &StandardTable) -> Result<Self, TableError> {
        let plain = |figure: &str, of: &str| table.figure::<Z0, Z0>(figure, of);
        let length = |figure: &str, of: &str| table.figure::<Z0, P1>(figure, of);
        let mut threads = Vec::new();
        for cell in table.rows("threads-per-inch") {
            let diameter = cell
                .at
                .ok_or_else(|| table.fault(cell, "found no diameter in the column at; expected one"))?;
            if let Some(count) = table.read_cell(cell)? {
                threads.push((diameter, count));
            }
        }
        threads.sort_by(|a, b| a.0.total_cmp(&b.0));
        Ok(Self {
            edition: table.edition.clone(),
            least_strength: table.figure("concrete-strength", "least")?,
            greatest_strength: table.figure("concrete-strength", "greatest for anchors")?,
            uncracked: plain("cracking", "uncracked")?,
            cracked: plain("cracking", "cracked")?,
            cracked_with_bar: plain("cracking", "cracked, with a No. 4 bar")?,
            cracked_with_stirrups: plain("cracking", "cracked, with a No. 4 bar and stirrups")?,
            bearing_length: plain("bearing-length", "")?,
            breakout_factor: plain("resistance-factor", "breakout in shear")?,
            breakout_factor_supplementary: plain(
                "resistance-factor",
                "breakout in shear, supplementary reinforcement",
            )?,
            seismic_shear: plain("seismic-factor", "shear")?,
            steel_factor: plain("resistance-factor", "ductile steel in shear")?,
            steel_strength: table.figure("anchor-steel-strength", "")?,
            threads,
            plain_factor: plain("resistance-factor", "plain concrete")?,
            soil_face: length("soil-face", "")?,
            sill_diameter: length("wood-governs", "diameter up to")?,
            sill_embedment: length("wood-governs", "embedment from")?,
            sill_edge: length("wood-governs", "edge distance from")?,
            sill_end: plain("wood-governs-end-distance", "")?,
            sill_thickness: length("wood-governs", "sill thickness")?,
        })
    }

    /// The concrete strength as the equations take it, and whether they were made for it: 19.2.1.1 and
    /// 17.3.1.
    fn strength<G: Ledger>(
        &self,
        ledger: G,
        concrete: Stress<G::Number>,
    ) -> Result<(Stress<G::Number>, Range), AciError> {
        positive(concrete, "the strength of the concrete")?;
        if concrete.value() < self.least_strength.low {
            return Ok((concrete.by(&WEAK, &self.edition), Range::BelowLeastStrength));
        }
        if concrete.value() > self.greatest_strength.low {
            let most = self
                .greatest_strength
                .given(ledger, "f'c", "greatest concrete strength");
            return Ok((most.min(concrete), Range::AboveGreatestStrength));
        }
        Ok((concrete, Range::Within))
    }

    /// Basic breakout strength of one anchor in cracked concrete, Vb, lb: the lesser of Eqs. 17.7.2.2.1a and
    /// b.
    pub fn basic_breakout<G: Ledger>(
        &self,
        ledger: G,
        anchor: &EdgeAnchor<G::Number>,
    ) -> Result<BasicBreakout<G::Number>, AciError> {
        let edition = &self.edition;
        positive(anchor.diameter, "the diameter of the anchor")?;
        positive(anchor.embedment, "the embedment of the anchor")?;
        positive(anchor.edge, "the edge distance of the anchor")?;
        let (concrete, range) = self.strength(ledger, anchor.concrete)?;
        let root = concrete.count(PSI).sqrt();
        let edge = anchor.edge.count(INCH).powf(1.5);
        let most = self
            .bearing_length
            .given(ledger, "le/da", "greatest bearing length, in diameters");
        let bearing = anchor
            .embedment
            .min(most * anchor.diameter)
            .by(&BEARING_LENGTH, edition);
        let slender = (bearing / anchor.diameter).powf(0.2) * anchor.diameter.count(INCH).sqrt();
        let by_anchor = (7.0 * slender * root * edge).of(POUND).by(&VB_A, edition);
        let by_edge = (9.0 * root * edge).of(POUND).by(&VB_B, edition);
        Ok(BasicBreakout {
            by_anchor,
            by_edge,
            strength: by_anchor.min(by_edge).by(&VB, edition),
            range,
        })
    }

    /// Breakout of an anchor, or a row of them, pushed toward an edge, Vcb or Vcbg, lb: Eq. 17.7.2.1.
    pub fn breakout_toward_edge<G: Ledger>(
        &self,
        ledger: G,
        anchor: &EdgeAnchor<G::Number>,
    ) -> Result<Strength<Force<G::Number>>, AciError> {
        let basic = self.basic_breakout(ledger, anchor)?;
        let spread = self.spread(ledger, anchor)?;
        let nearest = match anchor.sides {
            [Some(a), Some(b)] => Some(a.min(b)),
            [Some(a), None] | [None, Some(a)] => Some(a),
            [None, None] => None,
        };
        let product = match nearest {
            Some(side) => spread * self.edge_effect(anchor.edge, side),
            None => spread,
        };
        let nominal = (product * basic.strength).by(&VCB, &self.edition);
        Ok(self.factored_breakout(ledger, anchor, nominal, basic.range))
    }

    /// Breakout of an anchor, or a row of them, pushed along an edge, lb: twice that toward the edge, without
    /// the effect of the edges at the sides, 17.7.2.1(c).
    pub fn breakout_along_edge<G: Ledger>(
        &self,
        ledger: G,
        anchor: &EdgeAnchor<G::Number>,
    ) -> Result<Strength<Force<G::Number>>, AciError> {
        let basic = self.basic_breakout(ledger, anchor)?;
        let spread = self.spread(ledger, anchor)?;
        let nominal = (2.0 * (spread * basic.strength)).by(&VCB_ALONG, &self.edition);
        Ok(self.factored_breakout(ledger, anchor, nominal, basic.range))
    }

    /// Table 17.5.3, and 17.10 for earthquakes.
    fn factored_breakout<G: Ledger>(
        &self,
        ledger: G,
        anchor: &EdgeAnchor<G::Number>,
        nominal: Force<G::Number>,
        range: Range,
    ) -> Strength<Force<G::Number>> {
        let factor = if anchor.has_supplementary_reinforcement {
            &self.breakout_factor_supplementary
        } else {
            &self.breakout_factor
        };
        let factor = factor.given(ledger, "phi", "resistance factor, breakout in shear");
        let seismic = self
            .seismic_shear
            .given(ledger, "phi_E", "factor of earthquakes, breakout in shear");
        Strength {
            nominal,
            design: (factor * seismic * nominal).by(&PHI_VCB, &self.edition),
            range,
        }
    }

    /// Everything that a breakout strength is multiplied with but the effect of the edges at the sides.
    fn spread<G: Ledger>(
        &self,
        ledger: G,
        anchor: &EdgeAnchor<G::Number>,
    ) -> Result<Ratio<G::Number>, AciError> {
        let edition = &self.edition;
        let edge = anchor.edge;
        let reach = 1.5 * edge;
        let toward = |side: Option<Distance<G::Number>>| match side {
            Some(side) => {
                positive(side, "the distance of the anchor from the edge at its side")?;
                Ok(reach.min(side))
            }
            None => Ok::<_, AciError>(reach),
        };
        let [left, right] = anchor.sides;
        let alone = toward(left)? + toward(right)?;
        let full = (4.5 * edge * edge).by(&AVCO, edition);
        let (width, most) = match &anchor.row {
            Some(row) if row.anchors > 1 => {
                positive(row.spacing, "the spacing of the anchors")?;
                let count = f64::from(row.anchors);
                // Anchors farther apart than this break out each for itself.
                let between = (count - 1.0) * row.spacing.min(3.0 * edge);
                (alone + between, count * full)
            }
            _ => (alone, full),
        };
        let depth = match anchor.thickness {
            Some(thickness) => {
                positive(thickness, "the thickness of the concrete")?;
                reach.min(thickness)
            }
            None => reach,
        };
        let area = (width * depth).min(most).by(&AVC, edition);
        let cracking = match anchor.cracking {
            Cracking::Uncracked => &self.uncracked,
            Cracking::Cracked => &self.cracked,
            Cracking::CrackedWithBar => &self.cracked_with_bar,
            Cracking::CrackedWithStirrups => &self.cracked_with_stirrups,
        };
        let mut product = area / full * cracking.given(ledger, "psi_c,V", "cracking factor");
        if let Some(thickness) = anchor.thickness {
            product = product * self.thickness_effect(edge, thickness);
        }
        if let Some(eccentricity) = anchor.row.and_then(|row| row.eccentricity) {
            not_negative(eccentricity, "the eccentricity of the load")?;
            product = product * self.eccentricity_effect(edge, eccentricity);
        }
        Ok(product)
    }

    /// Edge effect factor, ψed,V: Eq. 17.7.2.4.1.
    pub fn edge_effect<N: Number>(&self, edge: Distance<N>, side: Distance<N>) -> Ratio<N> {
        (0.3 * (side / (1.5 * edge)))
            .plus(0.7)
            .at_most(1.0)
            .by(&PSI_ED, &self.edition)
    }

    /// Thickness factor, ψh,V: Eq. 17.7.2.6.1. It makes up for what the shallow area takes away too much.
    pub fn thickness_effect<N: Number>(&self, edge: Distance<N>, thickness: Distance<N>) -> Ratio<N> {
        (1.5 * edge / thickness)
            .sqrt()
            .at_least(1.0)
            .by(&PSI_H, &self.edition)
    }

    /// Eccentricity factor of a row, ψec,V: Eq. 17.7.2.3.1.
    pub fn eccentricity_effect<N: Number>(&self, edge: Distance<N>, eccentricity: Distance<N>) -> Ratio<N> {
        let reach = 1.5 * edge;
        (reach / (reach + eccentricity)).by(&PSI_EC, &self.edition)
    }

    /// Steel strength of a cast-in bolt across its axis, Vsa, lb: Eq. 17.7.1.2b, with the area between the
    /// threads.
    pub fn steel<G: Ledger>(
        &self,
        ledger: G,
        diameter: Distance<G::Number>,
    ) -> Result<Strength<Force<G::Number>>, AciError> {
        let area = self.thread_area(ledger, diameter)?;
        let steel = self
            .steel_strength
            .given(ledger, "futa", "tensile strength of the anchor");
        let nominal = (0.6 * area * steel).by(&VSA, &self.edition);
        let factor = self
            .steel_factor
            .given(ledger, "phi", "resistance factor, ductile steel in shear");
        Ok(Strength {
            nominal,
            design: (factor * nominal).by(&PHI_VSA, &self.edition),
            range: Range::Within,
        })
    }

    /// Area of a bolt between its threads, Ase, sq in.
    pub fn thread_area<G: Ledger>(
        &self,
        ledger: G,
        diameter: Distance<G::Number>,
    ) -> Result<Surface<G::Number>, AciError> {
        positive(diameter, "the diameter of the anchor")?;
        let found = diameter.to(INCH);
        let thread = self.threads.iter().find(|(held, _)| (held - found).abs() < 1e-3);
        let (_, threads) = thread.ok_or_else(|| AciError::Thread {
            found,
            least: self.threads.first().map_or(0.0, |(held, _)| *held),
            most: self.threads.last().map_or(0.0, |(held, _)| *held),
        })?;
        let threads = threads.given(ledger, "n_t", "threads in an inch");
        let across = (threads * diameter.count(INCH)).minus(0.9743) / threads;
        Ok((FRAC_PI_4 * across * across)
            .of(SQUARE_INCH)
            .by(&ASE, &self.edition))
    }

    /// Bending strength of a plain section, Mn: the lesser of tension and compression, 14.5.2.1.
    pub fn plain_bending<G: Ledger>(
        &self,
        ledger: G,
        section: &PlainSection<G::Number>,
    ) -> Result<Strength<Moment<G::Number>>, AciError> {
        let edition = &self.edition;
        let depth = self.depth(ledger, section)?;
        let (concrete, range) = self.strength(ledger, section.concrete)?;
        let modulus: Volume<G::Number> = (section.width * depth * depth / 6.0).by(&SM, edition);
        let tension = ((5.0 * concrete.count(PSI).sqrt()).of(PSI) * modulus).by(&MN_TENSION, edition);
        let compression = (0.85 * concrete * modulus).by(&MN_COMPRESSION, edition);
        let nominal = tension.min(compression).by(&MN, edition);
        Ok(Strength {
            nominal,
            design: (self.plain_factor(ledger) * nominal).by(&PHI_MN, edition),
            range,
        })
    }

    /// One-way shear strength of a plain section, Vn, lb: Table 14.5.5.1(a).
    pub fn plain_shear<G: Ledger>(
        &self,
        ledger: G,
        section: &PlainSection<G::Number>,
    ) -> Result<Strength<Force<G::Number>>, AciError> {
        let depth = self.depth(ledger, section)?;
        let (concrete, range) = self.strength(ledger, section.concrete)?;
        let stress = (4.0 * concrete.count(PSI).sqrt() / 3.0).of(PSI);
        let nominal = (stress * section.width * depth).by(&VN, &self.edition);
        Ok(Strength {
            nominal,
            design: (self.plain_factor(ledger) * nominal).by(&PHI_VN, &self.edition),
            range,
        })
    }

    fn plain_factor<G: Ledger>(&self, ledger: G) -> Ratio<G::Number> {
        self.plain_factor
            .given(ledger, "phi", "resistance factor, plain concrete")
    }

    fn depth<G: Ledger>(
        &self,
        ledger: G,
        section: &PlainSection<G::Number>,
    ) -> Result<Distance<G::Number>, AciError> {
        positive(section.width, "the width of the section")?;
        positive(section.depth, "the depth of the section")?;
        if !section.cast_against_soil {
            return Ok(section.depth);
        }
        let lost = self
            .soil_face
            .given(ledger, "face", "depth against the soil that does not count");
        let depth = (section.depth - lost).by(&SOIL_DEPTH, &self.edition);
        if depth.value() > 0.0 {
            Ok(depth)
        } else {
            Err(AciError::NothingLeft {
                found: section.depth.to(INCH),
                lost: lost.to(INCH),
            })
        }
    }

    /// The first condition that keeps the strength of a sill anchor from being taken from the wood alone;
    /// `None` where all are met. IBC 1905.1.8, as recalled: its text was not seen.
    ///
    /// Where all are met, tests have the wood and the bolt yield before the concrete breaks.
    pub fn keeps_wood_from_governing<N: Number>(
        &self,
        anchor: &SillAnchorage<N>,
    ) -> Result<Option<SillCondition>, AciError> {
        positive(anchor.diameter, "the diameter of the anchor")?;
        positive(anchor.embedment, "the embedment of the anchor")?;
        positive(anchor.edge, "the edge distance of the anchor")?;
        positive(anchor.end, "the end distance of the anchor")?;
        positive(anchor.sill_thickness, "the thickness of the sill")?;
        // Lengths come from a tape in sixteenths; a limit is not missed by the last bit of a number.
        let within = |least: f64, value: f64, most: f64| least - 1e-9 <= value && value <= most + 1e-9;
        let end = self.sill_end.low * anchor.diameter.value();
        let conditions = [
            (
                SillCondition::Diameter,
                within(0.0, anchor.diameter.value(), self.sill_diameter.low),
            ),
            (
                SillCondition::Embedment,
                within(self.sill_embedment.low, anchor.embedment.value(), f64::INFINITY),
            ),
            (
                SillCondition::EdgeDistance,
                within(self.sill_edge.low, anchor.edge.value(), f64::INFINITY),
            ),
            (
                SillCondition::EndDistance,
                within(end, anchor.end.value(), f64::INFINITY),
            ),
            (
                SillCondition::SillThickness,
                within(
                    self.sill_thickness.low,
                    anchor.sill_thickness.value(),
                    self.sill_thickness.high,
                ),
            ),
        ];
        let unmet = conditions.into_iter().find(|(_, is_met)| !is_met);
        Ok(unmet.map(|(condition, _)| condition))
    }

    /// The figures of those conditions, for a reader: each with its section and standing.
    pub fn wood_governs_figures(&self) -> [(SillCondition, &Figure<Z0, P1>); 4] {
        [
            (SillCondition::Diameter, &self.sill_diameter),
            (SillCondition::Embedment, &self.sill_embedment),
            (SillCondition::EdgeDistance, &self.sill_edge),
            (SillCondition::SillThickness, &self.sill_thickness),
        ]
    }
}

/// The basic breakout strength of one anchor, and both of its limits.
#[derive(Clone, Copy, Debug)]
pub struct BasicBreakout<N: Number> {
    /// Eq. 17.7.2.2.1a: by the stiffness of the anchor.
    pub by_anchor: Force<N>,
    /// Eq. 17.7.2.2.1b: by the edge alone.
    pub by_edge: Force<N>,
    /// The lesser of both.
    pub strength: Force<N>,
    /// Whether the equations were made for such concrete.
    pub range: Range,
}

// The text of the code was not seen. The equations of breakout were seen with their numbers in a design guide
// to the edition of 2019, the others in a copy of the code or quoted from it.
equations! { Secondary:
    VB_A "Vb(a)" Pound "Eq. 17.7.2.2.1a" "basic breakout strength, by the stiffness of the anchor";
    VB_B "Vb(b)" Pound "Eq. 17.7.2.2.1b" "basic breakout strength, by the edge alone";
    VB "Vb" Pound "17.7.2.2.1" "basic breakout strength, the lesser";
    AVCO "A_Vco" SquareInch "Eq. 17.7.2.1.3" "breakout area of one anchor far from other edges";
    AVC "A_Vc" SquareInch "17.7.2.1.1" "breakout area";
    PSI_ED "psi_ed,V" Plain "Eq. 17.7.2.4.1" "breakout edge effect factor";
    PSI_H "psi_h,V" Plain "Eq. 17.7.2.6.1" "breakout thickness factor";
    PSI_EC "psi_ec,V" Plain "Eq. 17.7.2.3.1" "breakout eccentricity factor";
    VCB "Vcb" Pound "17.7.2.1" "breakout strength toward the edge";
    VCB_ALONG "Vcb" Pound "17.7.2.1(c)" "breakout strength along the edge";
    PHI_VCB "phi Vcb" Pound "17.5.3" "design breakout strength";
    BEARING_LENGTH "le" Inch "17.7.2.2.1" "load-bearing length of the anchor";
    ASE "Ase" SquareInch "17.7.1.2" "area of the bolt between its threads";
    VSA "Vsa" Pound "Eq. 17.7.1.2b" "steel strength of the bolt";
    PHI_VSA "phi Vsa" Pound "17.5.3" "design steel strength";
    SM "Sm" CubicInch "14.5.2.1" "section modulus";
    MN_TENSION "Mn(a)" PoundFoot "Eq. 14.5.2.1a" "bending strength by tension in the concrete";
    MN_COMPRESSION "Mn(b)" PoundFoot "Eq. 14.5.2.1b" "bending strength by compression in the concrete";
    MN "Mn" PoundFoot "14.5.2.1" "bending strength of plain concrete, the lesser";
    PHI_MN "phi Mn" PoundFoot "21.2.1" "design bending strength";
    VN "Vn" Pound "Table 14.5.5.1(a)" "one-way shear strength of plain concrete";
    PHI_VN "phi Vn" Pound "21.2.1" "design shear strength";
    SOIL_DEPTH "h" Inch "14.5.1.7" "depth of the section without the face cast against soil";
}

// No clause allows it: the reader is told.
equations! { CommonPractice:
    WEAK "f'c" PoundPerSquareInch "19.2.1.1" "strength of concrete, below the range of the code";
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::provisions::Standing;
    use crate::screen::{Given, Origin, Tagging, Unit};

    /// Concrete weaker than the code knows takes the lowest standing with it into every result.
    #[test]
    fn weak_concrete_lowers_the_standing() {
        let aci = Aci318::parse(&StandardTable::shipped("aci318-19").unwrap()).unwrap();
        let unknowns = std::cell::Cell::new(0);
        let standing = |strength: f64| {
            let measured = |value: f64| {
                Tagging(&unknowns).given(value, Standing::Verified, None, || Given {
                    symbol: String::new(),
                    words: String::new(),
                    unit: Unit::Plain,
                    origin: Origin::House {
                        path: String::new(),
                        basis: crate::observation::Basis::Measured,
                    },
                })
            };
            let section = PlainSection {
                width: Distance::new(measured(12.0)),
                depth: Distance::new(measured(8.0)),
                cast_against_soil: false,
                concrete: Stress::new(measured(strength)),
            };
            aci.plain_bending(Tagging(&unknowns), &section)
                .unwrap()
                .design
                .number()
                .weakest
        };
        assert_eq!(standing(3000.0), Standing::Secondary);
        assert_eq!(standing(2000.0), Standing::CommonPractice);
    }
}
