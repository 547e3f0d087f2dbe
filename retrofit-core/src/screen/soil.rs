//! Soil under footings by the building code, chapter 18: presumptive bearing, sliding and passive resistance,
//! and the pressure under a footing.

use thiserror::Error;
use typenum::{N2, N3, P1, Z0};

use super::number::{Ledger, Number};
use super::quantity::{Density, Distance, Force, LineLoad, Ratio, Stress, Surface};
use super::range::{OutOfRange, not_negative, positive};
use super::standard::{Edition, Equation, Figure, StandardTable};
use super::unit::Unit;
use crate::choice::Choice;
use crate::house::SoilClass;
use crate::provisions::Standing;
use crate::table::TableError;

/// The row of the table for soil that nothing is known of.
const UNKNOWN: &str = "unknown";

/// Why nothing is computed.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum SoilError {
    /// The load stands outside the footing.
    #[error(
        "the load stands {eccentricity:.1} in off the center of a footing {width:.1} in wide: it overturns"
    )]
    Overturns {
        /// Distance of the load from the center, in inches.
        eccentricity: f64,
        /// Width of the footing, in inches.
        width: f64,
    },
    /// A number that no footing has.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
}

/// A load on a footing, off its center.
#[derive(Clone, Copy, Debug)]
pub struct EccentricLoad<N: Number> {
    /// The load, its weight included.
    pub load: Force<N>,
    /// How far it stands off the center, along the width.
    pub eccentricity: Distance<N>,
    /// Dimension of the footing along which the load is off center.
    pub width: Distance<N>,
    /// The other dimension of the footing.
    pub length: Distance<N>,
}

/// What holds a footing from sliding: friction of the dead load, or cohesion of clay.
#[derive(Debug)]
enum Hold {
    Friction(Figure<Z0, Z0>),
    Cohesion(Figure<P1, N2>),
}

#[derive(Debug)]
struct SoilRow {
    bearing: Figure<P1, N2>,
    lateral_bearing: Figure<P1, N3>,
    hold: Hold,
}

/// Presumptive soil values by one edition of the building code.
#[derive(Debug)]
pub struct Soil {
    /// The edition.
    pub edition: Edition,
    rows: Vec<SoilRow>,
    unknown: SoilRow,
    cohesion_share_most: Figure<Z0, Z0>,
    short_load_increase: Figure<Z0, Z0>,
}

const fn equation(
    symbol: &'static str,
    words: &'static str,
    unit: Unit,
    section: &'static str,
    standing: Standing,
) -> Equation {
    Equation {
        symbol,
        words,
        unit,
        section,
        standing,
    }
}

const BEARING_WITH_EARTHQUAKE: Equation = equation(
    "q_a,E",
    "allowable bearing pressure with earthquake in the load",
    Unit::PoundPerSquareFoot,
    "1806.1",
    Standing::Secondary,
);
const FRICTION: Equation = equation(
    "R_s",
    "sliding resistance from friction",
    Unit::Pound,
    "Table 1806.2, note a",
    Standing::Secondary,
);
const COHESION: Equation = equation(
    "R_s",
    "sliding resistance from cohesion",
    Unit::Pound,
    "Table 1806.2, note b, and 1806.3.2",
    Standing::Secondary,
);
const PASSIVE: Equation = equation(
    "R_p",
    "resistance of the soil in front",
    Unit::Pound,
    "1806.3.1",
    Standing::Memory,
);
const STRIP_WIDTH: Equation = equation(
    "b",
    "width of strip footing that the load needs",
    Unit::Inch,
    "Table 1806.2",
    Standing::Secondary,
);
const PAD_AREA: Equation = equation(
    "A",
    "area of pad that the load needs",
    Unit::SquareInch,
    "Table 1806.2",
    Standing::Secondary,
);
const PAD_SIDE: Equation = equation(
    "b",
    "side of the square pad that the load needs",
    Unit::Inch,
    "Table 1806.2",
    Standing::Secondary,
);

/// Pressures follow from equilibrium, which no document has to state.
const fn statics(symbol: &'static str, words: &'static str) -> Equation {
    equation(
        symbol,
        words,
        Unit::PoundPerSquareFoot,
        "statics",
        Standing::Secondary,
    )
}

const LINE_PRESSURE: Equation = statics("q", "pressure under a strip footing");
const EDGE_PRESSURE: Equation = statics("q_max", "pressure at the edge of the footing");
const EDGE_PRESSURE_PARTLY_LIFTED: Equation = statics(
    "q_max",
    "pressure at the edge of the footing, which lifts at the other",
);

impl Soil {
    /// Reads an edition from its table.
    ///
    /// ```
    /// use retrofit_core::screen::{Soil, StandardTable};
    /// let table = StandardTable::shipped("ibc-soil-2012").unwrap();
    /// assert!(Soil::parse(&table).is_ok());
    /// ```
    pub fn parse(table: &StandardTable) -> Result<Self, Vec<TableError>> {
        let read = Self::read(table).map_err(|fault| vec![fault])?;
        table.unread().map_or(Ok(read), |fault| Err(vec![fault]))
    }

    fn read(table: &StandardTable) -> Result<Self, TableError> {
        let row = |of: &str| -> Result<SoilRow, TableError> {
            let has_cohesion = table.rows("cohesion").any(|cell| cell.of.as_ref() == of);
            Ok(SoilRow {
                bearing: table.figure("bearing", of)?,
                lateral_bearing: table.figure("lateral-bearing", of)?,
                hold: if has_cohesion {
                    Hold::Cohesion(table.figure("cohesion", of)?)
                } else {
                    Hold::Friction(table.figure("friction", of)?)
                },
            })
        };
        Ok(Self {
            edition: table.edition.clone(),
            rows: SoilClass::ALL
                .iter()
                .map(|class| row(class.spelling()))
                .collect::<Result<_, TableError>>()?,
            unknown: row(UNKNOWN)?,
            cohesion_share_most: table.figure("cohesion-share-most", "")?,
            short_load_increase: table.figure("short-load-increase", "")?,
        })
    }

    /// The row of a class; that for soil of which nothing is known where it is `None`.
    fn row(&self, class: Option<SoilClass>) -> &SoilRow {
        let known = class.and_then(|class| self.rows.get(class.index() as usize));
        known.unwrap_or(&self.unknown)
    }

    /// Presumptive bearing pressure, as the table gives it: a range where nothing is known of the soil.
    pub fn bearing_figure(&self, class: Option<SoilClass>) -> &Figure<P1, N2> {
        &self.row(class).bearing
    }

    /// Lateral bearing for each foot of depth, as the table gives it: a range where nothing is known of the
    /// soil.
    pub fn lateral_bearing_figure(&self, class: Option<SoilClass>) -> &Figure<P1, N3> {
        &self.row(class).lateral_bearing
    }

    /// Coefficient of friction, as the table gives it: a range where nothing is known of the soil, `None` for
    /// clay.
    pub fn friction_figure(&self, class: Option<SoilClass>) -> Option<&Figure<Z0, Z0>> {
        match &self.row(class).hold {
            Hold::Friction(friction) => Some(friction),
            Hold::Cohesion(_) => None,
        }
    }

    /// Allowable bearing pressure (table 1806.2); of a range, the low end.
    ///
    /// ```
    /// use retrofit_core::house::SoilClass;
    /// use retrofit_core::screen::{Bare, PSF, Soil, StandardTable};
    /// let soil = Soil::parse(&StandardTable::shipped("ibc-soil-2012").unwrap()).unwrap();
    /// assert!((soil.bearing(Bare, Some(SoilClass::Sand)).to(PSF) - 2000.0).abs() < 1e-9);
    /// assert!((soil.bearing(Bare, None).to(PSF) - 1500.0).abs() < 1e-9);
    /// ```
    pub fn bearing<G: Ledger>(&self, ledger: G, class: Option<SoilClass>) -> Stress<G::Number> {
        self.row(class)
            .bearing
            .given(ledger, "q_a", "presumptive bearing pressure")
    }

    /// Lateral bearing for each foot of depth (table 1806.2); of a range, the low end.
    pub fn lateral_bearing<G: Ledger>(&self, ledger: G, class: Option<SoilClass>) -> Density<G::Number> {
        let figure = &self.row(class).lateral_bearing;
        figure.given(ledger, "S", "presumptive lateral bearing for each foot of depth")
    }

    /// Allowable bearing pressure with earthquake in the load: a third more, with the alternative basic load
    /// combinations only (1806.1).
    pub fn bearing_with_earthquake<G: Ledger>(
        &self,
        ledger: G,
        bearing: Stress<G::Number>,
    ) -> Result<Stress<G::Number>, SoilError> {
        let bearing = positive(bearing, "the bearing pressure")?;
        let increase = &self.short_load_increase;
        let increase = increase.given(ledger, "increase", "for loads of short duration");
        Ok((increase * bearing).by(&BEARING_WITH_EARTHQUAKE, &self.edition))
    }

    /// Allowable sliding resistance of a footing (1806.3.2): friction times the dead load; of clay, cohesion
    /// times the contact area, at most half the dead load.
    pub fn sliding<G: Ledger>(
        &self,
        ledger: G,
        class: Option<SoilClass>,
        dead: Force<G::Number>,
        contact: Surface<G::Number>,
    ) -> Result<Force<G::Number>, SoilError> {
        let dead = not_negative(dead, "the dead load")?;
        match &self.row(class).hold {
            Hold::Friction(friction) => {
                let friction = friction.given(ledger, "μ", "presumptive coefficient of friction");
                Ok(self.friction(friction, dead)?)
            }
            Hold::Cohesion(cohesion) => {
                let contact = not_negative(contact, "the contact area")?;
                let cohesion = cohesion.given(ledger, "c", "presumptive cohesion");
                let share = &self.cohesion_share_most;
                let share = share.given(ledger, "share", "of the dead load, at most");
                Ok((cohesion * contact)
                    .min(share * dead)
                    .by(&COHESION, &self.edition))
            }
        }
    }

    /// Sliding resistance from a coefficient of friction that is given otherwise, such as one end of a range.
    pub fn friction<N: Number>(&self, friction: Ratio<N>, dead: Force<N>) -> Result<Force<N>, OutOfRange> {
        let friction = not_negative(friction, "the coefficient of friction")?;
        let dead = not_negative(dead, "the dead load")?;
        Ok((friction * dead).by(&FRICTION, &self.edition))
    }

    /// Allowable resistance of the soil in front of a footing (1806.3.1): the lateral bearing grows with
    /// depth, so that half of it at the bottom acts on the face.
    pub fn passive<N: Number>(
        &self,
        lateral_bearing: Density<N>,
        depth: Distance<N>,
        face: Distance<N>,
    ) -> Result<Force<N>, SoilError> {
        let lateral_bearing = not_negative(lateral_bearing, "the lateral bearing")?;
        let depth = not_negative(depth, "the depth of the footing")?;
        let face = not_negative(face, "the length of the face")?;
        let force = lateral_bearing * depth * depth * face / 2.0;
        Ok(force.by(&PASSIVE, &self.edition))
    }

    /// Width of strip footing that a line load needs.
    ///
    /// ```
    /// use retrofit_core::screen::{INCH, PLF, PSF, Soil, StandardTable};
    /// let soil = Soil::parse(&StandardTable::shipped("ibc-soil-2012").unwrap()).unwrap();
    /// let width = soil.strip_width(PLF.of(1500.0), PSF.of(1500.0)).unwrap();
    /// assert!((width.to(INCH) - 12.0).abs() < 1e-9);
    /// ```
    pub fn strip_width<N: Number>(
        &self,
        load: LineLoad<N>,
        bearing: Stress<N>,
    ) -> Result<Distance<N>, SoilError> {
        let load = not_negative(load, "the load of the wall")?;
        let bearing = positive(bearing, "the bearing pressure")?;
        Ok((load / bearing).by(&STRIP_WIDTH, &self.edition))
    }

    /// Area of pad that a load needs.
    pub fn pad_area<N: Number>(&self, load: Force<N>, bearing: Stress<N>) -> Result<Surface<N>, SoilError> {
        let load = not_negative(load, "the load of the post")?;
        let bearing = positive(bearing, "the bearing pressure")?;
        Ok((load / bearing).by(&PAD_AREA, &self.edition))
    }

    /// Side of the square pad that a load needs.
    pub fn pad_side<N: Number>(&self, load: Force<N>, bearing: Stress<N>) -> Result<Distance<N>, SoilError> {
        Ok(self.pad_area(load, bearing)?.sqrt().by(&PAD_SIDE, &self.edition))
    }

    /// Pressure under a strip footing.
    pub fn line_pressure<N: Number>(
        &self,
        load: LineLoad<N>,
        width: Distance<N>,
    ) -> Result<Stress<N>, SoilError> {
        let load = not_negative(load, "the load of the wall")?;
        let width = positive(width, "the width of the footing")?;
        Ok((load / width).by(&LINE_PRESSURE, &self.edition))
    }

    /// Pressure at the edge of a footing whose load stands off its center: over the whole footing while the
    /// load is within the middle third, and over the part that is still pressed beyond it; an error where the
    /// load stands outside the footing.
    ///
    /// ```
    /// use retrofit_core::screen::{EccentricLoad, FOOT, POUND, PSF, Soil, StandardTable};
    /// let soil = Soil::parse(&StandardTable::shipped("ibc-soil-2012").unwrap()).unwrap();
    /// let mut footing = EccentricLoad {
    ///     load: POUND.of(6000.0),
    ///     eccentricity: FOOT.of(0.5),
    ///     width: FOOT.of(3.0),
    ///     length: FOOT.of(1.0),
    /// };
    /// // At the edge of the middle third the pressure is twice the mean.
    /// assert!((soil.edge_pressure(&footing).unwrap().to(PSF) - 4000.0).abs() < 1e-6);
    /// footing.eccentricity = FOOT.of(1.5);
    /// assert!(soil.edge_pressure(&footing).is_err());
    /// ```
    pub fn edge_pressure<N: Number>(&self, footing: &EccentricLoad<N>) -> Result<Stress<N>, SoilError> {
        let load = not_negative(footing.load, "the load of the footing")?;
        let eccentricity = not_negative(footing.eccentricity, "the eccentricity")?;
        let width = positive(footing.width, "the width of the footing")?;
        let length = positive(footing.length, "the length of the footing")?;
        if 2.0 * eccentricity.value() >= width.value() {
            return Err(SoilError::Overturns {
                eccentricity: eccentricity.value(),
                width: width.value(),
            });
        }
        if 6.0 * eccentricity.value() <= width.value() {
            let off_center = (6.0 * eccentricity / width).plus(1.0);
            let pressure = load / (width * length) * off_center;
            return Ok(pressure.by(&EDGE_PRESSURE, &self.edition));
        }
        let pressed = 3.0 * (width / 2.0 - eccentricity);
        let pressure = 2.0 * load / (pressed * length);
        Ok(pressure.by(&EDGE_PRESSURE_PARTLY_LIFTED, &self.edition))
    }
}
