//! Wood shear walls by SDPWS: unit shears of panels, boards and plaster, slender walls, framing species,
//! unlike coverings, stiffness and deflection.

use thiserror::Error;
use typenum::{N1, P1, Z0};

use super::method::Method;
use super::number::{Ledger, Number};
use super::quantity::{Distance, Force, LineLoad, Ratio, Stress, Surface};
use super::range::{OutOfRange, not_negative, positive};
use super::standard::{Cell, Edition, Equation, Figure, StandardTable};
use super::unit::{FOOT, INCH, PLF, PSI, SQUARE_INCH, Unit};
use crate::choice::{Choice, choices, parse_choice};
use crate::house::{Nail, Shank, Sheathing};
use crate::measure::Length;
use crate::provisions::Standing;
use crate::table::TableError;

choices! {
    /// Grade of a wood structural panel, as its stamp gives it.
    pub enum PanelGrade: "panel grade" {
        /// Structural I.
        Structural1 = "structural_1", "Structural I";
        /// Sheathing: any other rated panel, and one whose stamp cannot be read.
        Sheathing = "sheathing", "sheathing grade";
    }
}

choices! {
    /// What covers a wall, other than wood structural panels.
    pub enum Covering: "wall covering" {
        /// Cement plaster on expanded metal or woven wire lath.
        CementPlaster = "cement_plaster", "cement plaster on metal lath";
        /// Plaster on gypsum lath.
        GypsumLathPlaster = "gypsum_lath_plaster", "plaster on gypsum lath";
        /// Plaster on gypsum lath whose vertical joints are staggered.
        GypsumLathPlasterStaggered = "gypsum_lath_plaster_staggered", "plaster on staggered gypsum lath";
        /// Gypsum board, nails at 7 in, studs at 16 in.
        GypsumBoard7 = "gypsum_board_7", "gypsum board nailed at 7 in";
        /// Gypsum board, nails at 4 in, studs at 16 in.
        GypsumBoard4 = "gypsum_board_4", "gypsum board nailed at 4 in";
        /// Gypsum board, nails at 7 in, studs at 24 in.
        GypsumBoardWideStuds = "gypsum_board_wide_studs", "gypsum board on studs at 24 in";
        /// Gypsum board with blocked joints, nails at 4 in.
        GypsumBoardBlocked = "gypsum_board_blocked", "blocked gypsum board nailed at 4 in";
        /// Two layers of gypsum board, blocked.
        GypsumBoardTwoPly = "gypsum_board_two_ply", "two layers of gypsum board";
        /// Gypsum sheathing 4 ft wide, nails at 7 in.
        GypsumSheathing = "gypsum_sheathing", "gypsum sheathing nailed at 7 in";
        /// Gypsum sheathing 2 ft wide.
        GypsumSheathingNarrow = "gypsum_sheathing_narrow", "narrow gypsum sheathing";
        /// Gypsum sheathing 4 ft wide with blocked joints, nails at 4 in.
        GypsumSheathingBlocked = "gypsum_sheathing_blocked", "blocked gypsum sheathing nailed at 4 in";
        /// Boards laid level.
        HorizontalBoards = "horizontal_boards", "boards laid level";
        /// Boards laid on the diagonal.
        DiagonalBoards = "diagonal_boards", "boards laid on the diagonal";
        /// Two layers of boards laid on opposite diagonals.
        DoubleDiagonalBoards = "double_diagonal_boards", "two layers of boards on opposite diagonals";
        /// Boards set upright.
        VerticalBoards = "vertical_boards", "boards set upright";
    }
}

impl Covering {
    const fn family(self) -> Family {
        match self {
            Self::CementPlaster | Self::GypsumLathPlaster | Self::GypsumLathPlasterStaggered => {
                Family::Plaster
            }
            Self::GypsumBoard7
            | Self::GypsumBoard4
            | Self::GypsumBoardWideStuds
            | Self::GypsumBoardBlocked
            | Self::GypsumBoardTwoPly
            | Self::GypsumSheathing
            | Self::GypsumSheathingNarrow
            | Self::GypsumSheathingBlocked => Family::Gypsum,
            // No ratio is given for upright boards; they are held to that of boards laid level.
            Self::HorizontalBoards | Self::VerticalBoards => Family::LevelBoards,
            Self::DiagonalBoards | Self::DoubleDiagonalBoards => Family::DiagonalBoards,
        }
    }
}

/// Coverings that act alike: they share the limit of slenderness, and only their own kind adds to them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Family {
    /// Wood structural panels.
    Panels,
    /// Boards laid level or set upright.
    LevelBoards,
    /// Boards laid on the diagonal.
    DiagonalBoards,
    /// Gypsum board and gypsum sheathing.
    Gypsum,
    /// Plaster.
    Plaster,
}

/// Why no strength is computed.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum ShearWallError {
    /// The covering has no unit shear.
    #[error("{covering} has no unit shear in {edition}")]
    NotRated {
        /// The covering.
        covering: &'static str,
        /// The edition.
        edition: String,
    },
    /// The panel is thinner, its nails are lighter or farther apart than any row of the table.
    #[error("{edition}, table 4.3A has no row for {thickness} panels with {nail} nails at {spacing}")]
    OffTheTable {
        /// The edition.
        edition: String,
        /// Thickness of the panel.
        thickness: Length,
        /// The nail.
        nail: Nail,
        /// Spacing at the edges.
        spacing: Length,
    },
    /// The table is for common nails and galvanized box nails.
    #[error("{edition}, table 4.3A is for common nails; it has no row for {nail} nails")]
    NailKind {
        /// The edition.
        edition: String,
        /// The nail.
        nail: Nail,
    },
    /// Joints of panels lie without a member behind them.
    #[error("panels with unblocked joints: the factor of {edition}, section 4.3.3.2 was not seen")]
    Unblocked {
        /// The edition.
        edition: String,
    },
    /// The wall is too slender to count.
    #[error("a wall {ratio:.2} times as high as long; expected at most {most} ({edition}, section 4.3.4)")]
    TooSlender {
        /// Height over length.
        ratio: f64,
        /// The most.
        most: f64,
        /// The edition.
        edition: String,
    },
    /// A number that no wall has.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
}

/// A panel as the table looks it up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Panelling {
    /// Grade; sheathing where it is not known.
    pub grade: PanelGrade,
    /// What the panel is made of.
    pub sheathing: Sheathing,
    /// Its thickness.
    pub thickness: Length,
    /// Its nails.
    pub nail: Nail,
    /// Spacing of the nails at panel edges.
    pub edge_spacing: Length,
}

/// A row of the tables: the nominal unit shear of a covering, and its stiffness.
#[derive(Debug)]
pub struct UnitShear {
    /// Coverings it acts alike with.
    pub family: Family,
    nominal: Figure<P1, N1>,
    stiffness: Figure<P1, N1>,
}

/// A wall that a covering is on.
#[derive(Clone, Copy, Debug)]
pub struct Wall<N: Number> {
    /// Height of the covering.
    pub height: Distance<N>,
    /// Length of the covering along the wall.
    pub length: Distance<N>,
    /// Specific gravity of the framing.
    pub gravity: Ratio<N>,
    /// Whether every joint of the covering lies over a member.
    pub blocked: bool,
}

/// What the end of a panel is made of, for its deflection.
#[derive(Clone, Copy, Debug)]
pub struct Boundary<N: Number> {
    /// Modulus of elasticity of the end posts.
    pub elasticity: Stress<N>,
    /// Cross-section of the end posts at one end.
    pub area: Surface<N>,
    /// How far the hold-down gives, upward, under the load.
    pub give: Distance<N>,
}

/// What an older building code asks of the sill under a strong panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sill {
    /// A 2x sill will do.
    TwoBy,
    /// A 3x sill, or a 2x sill with twice the bolts.
    ThreeByOrDoubleBolts,
    /// A 3x sill.
    ThreeBy,
}

#[derive(Debug)]
struct PanelRow {
    grade: PanelGrade,
    thickness: Length,
    penny: u8,
    edge_spacing: Length,
    plywood: UnitShear,
    osb: UnitShear,
}

type Plain = Figure<Z0, Z0>;
type Line = Figure<P1, N1>;

/// Shear walls by one edition of SDPWS.
#[derive(Debug)]
pub struct Sdpws {
    /// The edition.
    pub edition: Edition,
    panels: Vec<PanelRow>,
    coverings: Vec<UnitShear>,
    asd_divisor: Plain,
    lrfd_factor: Plain,
    aspect_most: [Plain; 5],
    aspect_most_unblocked: Plain,
    /// The two numbers of the strength reduction of slender walls, where the edition has it.
    aspect_strength: Option<[Plain; 2]>,
    inside_hold_down: Plain,
    plate_washer_over: Line,
    sill_3x_over: [Line; 2],
    sill_double_bolts_most: [Line; 2],
}

const fn plain(
    symbol: &'static str,
    words: &'static str,
    section: &'static str,
    standing: Standing,
) -> Equation {
    Equation {
        symbol,
        words,
        unit: Unit::Plain,
        section,
        standing,
    }
}

const fn unit_shear(
    symbol: &'static str,
    words: &'static str,
    section: &'static str,
    standing: Standing,
) -> Equation {
    Equation {
        symbol,
        words,
        unit: Unit::PoundPerFoot,
        section,
        standing,
    }
}

const SPECIES: Equation = plain(
    "C_G",
    "factor for light framing species",
    "Table 4.3A, note 3",
    Standing::Secondary,
);
const RATIO: Equation = plain("h/b", "height over length", "4.3.4", Standing::Secondary);
const SLENDER: Equation = plain("C_hb", "factor for slender walls", "4.3.4.2", Standing::Secondary);
const SLENDER_SHARE: Equation = plain(
    "2b/h",
    "factor for slender walls, by proportion",
    "4.3.3.4.1",
    Standing::Secondary,
);
const ADJUSTED: Equation = unit_shear(
    "v_n",
    "nominal unit shear of the wall, species and slenderness in it",
    "4.3.3",
    Standing::Secondary,
);
const ALLOWABLE: Equation = unit_shear("v_ASD", "allowable unit shear", "4.3.3", Standing::Secondary);
const FACTORED: Equation = unit_shear(
    "v_LRFD",
    "factored unit shear resistance",
    "4.3.3",
    Standing::Memory,
);
const ALIKE_FACES: Equation = unit_shear(
    "v_n",
    "nominal unit shear of two faces covered alike",
    "4.3.3.3",
    Standing::Secondary,
);
const UNLIKE_FACES: Equation = unit_shear(
    "v_n",
    "nominal unit shear of two faces covered differently: twice the smaller, or the larger",
    "4.3.3.3",
    Standing::Secondary,
);
const UNLIKE_IN_LINE: Equation = Equation {
    symbol: "V",
    words: "strength of the line: the strongest of the coverings in it, which do not add to each other",
    unit: Unit::Pound,
    section: "4.3.3.3",
    standing: Standing::Memory,
};
const INSIDE_HOLD_DOWN: Equation = unit_shear(
    "v_n",
    "nominal unit shear with 10d nails and the hold-down on the inside face of the end post",
    "Table 4.3A, note 10",
    Standing::Secondary,
);
const BENDING: Equation = Equation {
    symbol: "δ_b",
    words: "deflection from bending of the end posts",
    unit: Unit::Inch,
    section: "4.3.2, Eq. 4.3-1",
    standing: Standing::Secondary,
};
const SHEAR: Equation = Equation {
    symbol: "δ_v",
    words: "deflection from shear of the panel and slip of its nails",
    ..BENDING
};
const ROCKING: Equation = Equation {
    symbol: "δ_a",
    words: "deflection from the give of the hold-down",
    ..BENDING
};
const DEFLECTION: Equation = Equation {
    symbol: "δ_sw",
    words: "deflection of the wall at its top",
    ..BENDING
};

impl Sdpws {
    /// Reads an edition from its table.
    ///
    /// ```
    /// use retrofit_core::screen::{Sdpws, StandardTable};
    /// let table = StandardTable::shipped("sdpws-2015").unwrap();
    /// assert_eq!(Sdpws::parse(&table).unwrap().edition.name(), "SDPWS-2015");
    /// ```
    pub fn parse(table: &StandardTable) -> Result<Self, Vec<TableError>> {
        let read = Self::read(table).map_err(|fault| vec![fault])?;
        table.unread().map_or(Ok(read), |fault| Err(vec![fault]))
    }

    fn read(table: &StandardTable) -> Result<Self, TableError> {
        let figure = |figure, of| table.figure::<Z0, Z0>(figure, of);
        let line = |figure, of| table.figure::<P1, N1>(figure, of);
        let covering = |covering: &Covering| {
            Ok(UnitShear {
                family: covering.family(),
                nominal: line("nominal", covering.spelling())?,
                stiffness: line("stiffness", covering.spelling())?,
            })
        };
        let is_panel = |cell: &&Cell| cell.at.is_some();
        let aspect_strength = match table.rows("aspect-term").next() {
            Some(_) => Some([figure("aspect-term", "")?, figure("aspect-slope", "")?]),
            None => None,
        };
        Ok(Self {
            edition: table.edition.clone(),
            panels: table
                .rows("nominal")
                .filter(is_panel)
                .map(|cell| PanelRow::read(table, cell))
                .collect::<Result<_, TableError>>()?,
            coverings: Covering::ALL
                .iter()
                .map(covering)
                .collect::<Result<_, TableError>>()?,
            asd_divisor: figure("asd-divisor", "")?,
            lrfd_factor: figure("lrfd-factor", "")?,
            aspect_most: [
                figure("aspect-most", "panels")?,
                figure("aspect-most", "horizontal_boards")?,
                figure("aspect-most", "diagonal_boards")?,
                figure("aspect-most", "gypsum")?,
                figure("aspect-most", "plaster")?,
            ],
            aspect_most_unblocked: figure("aspect-most", "panels_unblocked")?,
            aspect_strength,
            inside_hold_down: figure("inside-hold-down-factor", "")?,
            plate_washer_over: line("plate-washer-over", "")?,
            sill_3x_over: [line("sill-3x-over", "asd")?, line("sill-3x-over", "lrfd")?],
            sill_double_bolts_most: [
                line("sill-2x-double-bolts-most", "asd")?,
                line("sill-2x-double-bolts-most", "lrfd")?,
            ],
        })
    }

    /// The row of table 4.3A that a panel meets: the strongest of those whose panel is no thicker, whose nail
    /// is no heavier and whose nails stand no closer.
    ///
    /// ```
    /// use retrofit_core::house::Sheathing;
    /// use retrofit_core::screen::{Bare, PLF, PanelGrade, Panelling, Sdpws, StandardTable};
    /// let sdpws = Sdpws::parse(&StandardTable::shipped("sdpws-2008").unwrap()).unwrap();
    /// let mut panelling = Panelling {
    ///     grade: PanelGrade::Sheathing,
    ///     sheathing: Sheathing::Plywood,
    ///     thickness: "15/32 in".parse()?,
    ///     nail: "8d common".parse().unwrap(),
    ///     edge_spacing: "4 in".parse()?,
    /// };
    /// assert_eq!(sdpws.panel(&panelling).unwrap().nominal(Bare).to(PLF), 760.0);
    /// // Nails at 5 in are taken as at 6 in, and a 1/2 in panel as one of 15/32 in.
    /// panelling.thickness = "1/2 in".parse()?;
    /// panelling.edge_spacing = "5 in".parse()?;
    /// assert_eq!(sdpws.panel(&panelling).unwrap().nominal(Bare).to(PLF), 520.0);
    /// panelling.edge_spacing = "8 in".parse()?;
    /// assert!(sdpws.panel(&panelling).is_err());
    /// # Ok::<(), retrofit_core::measure::MeasureError>(())
    /// ```
    pub fn panel(&self, panelling: &Panelling) -> Result<&UnitShear, ShearWallError> {
        let nail = panelling.nail;
        if !is_panel(panelling.sheathing) {
            return Err(self.not_rated(panelling.sheathing.words()));
        }
        if nail.shank != Shank::Common {
            return Err(ShearWallError::NailKind {
                edition: self.edition.name(),
                nail,
            });
        }
        let meets = |row: &&PanelRow| {
            row.grade == panelling.grade
                && row.thickness <= panelling.thickness
                && row.penny <= nail.penny
                && row.edge_spacing >= panelling.edge_spacing
        };
        let strength = |row: &&PanelRow| row.osb.nominal.low;
        let found = self
            .panels
            .iter()
            .filter(meets)
            .max_by(|a, b| strength(a).total_cmp(&strength(b)));
        let row = found.ok_or_else(|| ShearWallError::OffTheTable {
            edition: self.edition.name(),
            thickness: panelling.thickness,
            nail,
            spacing: panelling.edge_spacing,
        })?;
        Ok(if panelling.sheathing == Sheathing::Osb {
            &row.osb
        } else {
            &row.plywood
        })
    }

    /// The row of table 4.3C or 4.3D for another covering.
    pub fn covering(&self, covering: Covering) -> Result<&UnitShear, ShearWallError> {
        let row = self.coverings.get(covering.index() as usize);
        row.ok_or_else(|| self.not_rated(covering.words()))
    }

    /// The covering that a house file's sheathing stands for; an error for a panel, which [`Self::panel`]
    /// looks up, and for a board without a rating.
    pub fn sheathing(&self, sheathing: Sheathing) -> Result<&UnitShear, ShearWallError> {
        match sheathing {
            Sheathing::Stucco => self.covering(Covering::CementPlaster),
            Sheathing::HorizontalBoards => self.covering(Covering::HorizontalBoards),
            Sheathing::DiagonalBoards => self.covering(Covering::DiagonalBoards),
            Sheathing::Plywood | Sheathing::ThreePly | Sheathing::Osb | Sheathing::Board => {
                Err(self.not_rated(sheathing.words()))
            }
        }
    }

    fn not_rated(&self, covering: &'static str) -> ShearWallError {
        ShearWallError::NotRated {
            covering,
            edition: self.edition.name(),
        }
    }

    /// Factor for framing lighter than Douglas fir: `1 - (0.5 - G)`, at most 1 (table 4.3A, note 3).
    pub fn species_factor<N: Number>(&self, gravity: Ratio<N>) -> Result<Ratio<N>, ShearWallError> {
        let gravity = positive(gravity, "the specific gravity of the framing")?;
        Ok(gravity
            .from(0.5)
            .from(1.0)
            .at_most(1.0)
            .by(&SPECIES, &self.edition))
    }

    /// Factor for walls more than twice as high as long; an error beyond the ratio that the covering may have
    /// (4.3.4).
    ///
    /// The edition of 2008 takes `2b/h`; later ones take `1.25 - 0.125 h/b`, never both.
    pub fn aspect_factor<G: Ledger>(
        &self,
        ledger: G,
        family: Family,
        wall: &Wall<G::Number>,
    ) -> Result<Option<Ratio<G::Number>>, ShearWallError> {
        let ratio = self.aspect_ratio(family, wall)?;
        if ratio.value() <= 2.0 {
            return Ok(None);
        }
        let Some([term, slope]) = &self.aspect_strength else {
            return self.aspect_proportion(family, wall);
        };
        let term = term.given(ledger, "term", "of the factor for slender walls");
        let slope = slope.given(ledger, "slope", "of the factor for slender walls");
        Ok(Some((term - slope * ratio).by(&SLENDER, &self.edition)))
    }

    /// The other reduction of walls more than twice as high as long, `2b/h`: for a line whose walls share its
    /// load by strength and not by stiffness. It takes the place of [`Self::aspect_factor`] and is not
    /// multiplied with it.
    pub fn aspect_proportion<N: Number>(
        &self,
        family: Family,
        wall: &Wall<N>,
    ) -> Result<Option<Ratio<N>>, ShearWallError> {
        let ratio = self.aspect_ratio(family, wall)?;
        if ratio.value() <= 2.0 {
            return Ok(None);
        }
        Ok(Some(
            (2.0 * wall.length / wall.height).by(&SLENDER_SHARE, &self.edition),
        ))
    }

    fn aspect_ratio<N: Number>(&self, family: Family, wall: &Wall<N>) -> Result<Ratio<N>, ShearWallError> {
        let height = positive(wall.height, "the height of the wall")?;
        let length = positive(wall.length, "the length of the wall")?;
        let [panels, level, diagonal, gypsum, plaster] = &self.aspect_most;
        let most = match family {
            Family::Panels if wall.blocked => panels,
            Family::Panels => &self.aspect_most_unblocked,
            Family::LevelBoards => level,
            Family::DiagonalBoards => diagonal,
            Family::Gypsum => gypsum,
            Family::Plaster => plaster,
        };
        let ratio = height / length;
        // The ratio is of lengths read in inches; that of 3.5 exactly must not fail by the last bit.
        if ratio.value() > most.low + 1e-9 {
            return Err(ShearWallError::TooSlender {
                ratio: ratio.value(),
                most: most.low,
                edition: self.edition.name(),
            });
        }
        Ok(ratio.by(&RATIO, &self.edition))
    }

    /// Nominal unit shear of a wall: the row of the table, with the factor for the framing species where the
    /// covering is nailed wood, and that for slender walls.
    pub fn nominal<G: Ledger>(
        &self,
        ledger: G,
        row: &UnitShear,
        wall: &Wall<G::Number>,
    ) -> Result<LineLoad<G::Number>, ShearWallError> {
        if row.family == Family::Panels && !wall.blocked {
            return Err(ShearWallError::Unblocked {
                edition: self.edition.name(),
            });
        }
        let mut nominal = row.nominal(ledger);
        let is_wood = !matches!(row.family, Family::Gypsum | Family::Plaster);
        if is_wood {
            nominal = self.species_factor(wall.gravity)? * nominal;
        }
        if let Some(slender) = self.aspect_factor(ledger, row.family, wall)? {
            nominal = slender * nominal;
        }
        Ok(nominal.by(&ADJUSTED, &self.edition))
    }

    /// What a nominal unit shear may be taken for (4.3.3; 4.1.4 in 2021): divided for allowable stress
    /// design, or multiplied for load and resistance factor design.
    ///
    /// ```
    /// use retrofit_core::screen::{Bare, Method, PLF, Sdpws, StandardTable};
    /// let sdpws = Sdpws::parse(&StandardTable::shipped("sdpws-2015").unwrap()).unwrap();
    /// assert_eq!(sdpws.design(Bare, PLF.of(760.0), Method::Asd).unwrap().to(PLF), 380.0);
    /// ```
    pub fn design<G: Ledger>(
        &self,
        ledger: G,
        nominal: LineLoad<G::Number>,
        method: Method,
    ) -> Result<LineLoad<G::Number>, ShearWallError> {
        let nominal = not_negative(nominal, "the nominal unit shear")?;
        Ok(match method {
            Method::Asd => {
                let divisor = self
                    .asd_divisor
                    .given(ledger, "Ω", "reduction for allowable stress design");
                (nominal / divisor).by(&ALLOWABLE, &self.edition)
            }
            Method::Lrfd => {
                let factor = self.lrfd_factor.given(ledger, "φ", "resistance factor");
                (factor * nominal).by(&FACTORED, &self.edition)
            }
        })
    }

    /// Nominal unit shear of a wall covered on both faces: twice one face where they are alike; where they
    /// are not, twice the smaller or the larger.
    pub fn both_faces<N: Number>(
        &self,
        one: LineLoad<N>,
        other: LineLoad<N>,
        alike: bool,
    ) -> Result<LineLoad<N>, ShearWallError> {
        let one = not_negative(one, "the unit shear of a face")?;
        let other = not_negative(other, "the unit shear of a face")?;
        let twice_the_smaller = 2.0 * one.min(other);
        Ok(if alike {
            twice_the_smaller.by(&ALIKE_FACES, &self.edition)
        } else {
            twice_the_smaller
                .max(one.max(other))
                .by(&UNLIKE_FACES, &self.edition)
        })
    }

    /// Strength of a wall line in which coverings of unlike families stand, each with its own sum: the
    /// strongest, because they do not reach their strength at one drift and do not add.
    pub fn unlike_in_line<N: Number>(
        &self,
        strengths: impl IntoIterator<Item = Force<N>>,
    ) -> Option<Force<N>> {
        let strongest = strengths.into_iter().reduce(Force::max)?;
        Some(strongest.by(&UNLIKE_IN_LINE, &self.edition))
    }

    /// Nominal unit shear of a panel with 10d common nails and the hold-down on the inside face of the end
    /// post.
    pub fn with_inside_hold_down<G: Ledger>(
        &self,
        ledger: G,
        nominal: LineLoad<G::Number>,
    ) -> LineLoad<G::Number> {
        let factor = self
            .inside_hold_down
            .given(ledger, "factor", "for a hold-down on the inside face");
        (factor * nominal).by(&INSIDE_HOLD_DOWN, &self.edition)
    }

    /// Whether a wall of this nominal unit shear needs plate washers at its anchors (4.3.6.4.3).
    pub fn needs_plate_washers<N: Number>(&self, nominal: LineLoad<N>) -> bool {
        nominal.value() > self.plate_washer_over.low
    }

    /// What the building code of 2006 asked of the sill under a panel of this unit shear (2305.3.11).
    pub fn sill<N: Number>(&self, unit_shear: LineLoad<N>, method: Method) -> Sill {
        let by_method = |[asd, lrfd]: &[Line; 2]| match method {
            Method::Asd => asd.low,
            Method::Lrfd => lrfd.low,
        };
        if unit_shear.value() <= by_method(&self.sill_3x_over) {
            Sill::TwoBy
        } else if unit_shear.value() <= by_method(&self.sill_double_bolts_most) {
            Sill::ThreeByOrDoubleBolts
        } else {
            Sill::ThreeBy
        }
    }

    /// Deflection of a wall at its top under a unit shear at strength level: `8vh³/(EAb) + vh/(1000 G_a) +
    /// hΔ_a/b` (Eq. 4.3-1), with `v` in pounds per foot, `h` and `b` in feet, `E` in psi, `A` in square
    /// inches and `G_a` in kips per inch.
    ///
    /// ```
    /// use retrofit_core::screen::{
    ///     Boundary, FOOT, INCH, KIP_PER_INCH, PLAIN, PLF, PSI, SQUARE_INCH, Sdpws, StandardTable, Wall,
    /// };
    /// let sdpws = Sdpws::parse(&StandardTable::shipped("sdpws-2015").unwrap()).unwrap();
    /// let wall = Wall { height: FOOT.of(8.0), length: FOOT.of(8.0), gravity: PLAIN.of(0.5), blocked: true };
    /// let ends = Boundary { elasticity: PSI.of(1.6e6), area: SQUARE_INCH.of(10.5), give: INCH.of(0.1) };
    /// let deflection = sdpws.deflection(PLF.of(364.0), KIP_PER_INCH.of(13.0), &wall, &ends).unwrap();
    /// assert!((deflection.to(INCH) - 0.335).abs() < 0.0005);
    /// ```
    pub fn deflection<N: Number>(
        &self,
        unit_shear: LineLoad<N>,
        stiffness: LineLoad<N>,
        wall: &Wall<N>,
        ends: &Boundary<N>,
    ) -> Result<Distance<N>, ShearWallError> {
        let unit_shear = not_negative(unit_shear, "the unit shear")?;
        let stiffness = positive(stiffness, "the apparent stiffness")?;
        let height = positive(wall.height, "the height of the wall")?;
        let length = positive(wall.length, "the length of the wall")?;
        let elasticity = positive(ends.elasticity, "the modulus of elasticity of the end posts")?;
        let area = positive(ends.area, "the cross-section of the end posts")?;
        let give = not_negative(ends.give, "the give of the hold-down")?;
        let rigidity = elasticity.count(PSI) * area.count(SQUARE_INCH) * length.count(FOOT);
        let bending = 8.0 * unit_shear.count(PLF) * height.count(FOOT).powf(3.0) / rigidity;
        let bending = bending.of(INCH).by(&BENDING, &self.edition);
        // Pounds and inches here; the thousand of the printed equation turns the kips of G_a into pounds.
        let shear = (unit_shear * height / stiffness).by(&SHEAR, &self.edition);
        let rocking = (height * give / length).by(&ROCKING, &self.edition);
        Ok((bending + shear + rocking).by(&DEFLECTION, &self.edition))
    }
}

impl UnitShear {
    /// Nominal unit shear for earthquakes, as the table gives it.
    pub fn nominal<G: Ledger>(&self, ledger: G) -> LineLoad<G::Number> {
        self.nominal
            .given(ledger, "v_s", "nominal unit shear of the table")
    }

    /// Apparent shear stiffness `G_a`, as the table gives it.
    pub fn stiffness<G: Ledger>(&self, ledger: G) -> LineLoad<G::Number> {
        self.stiffness
            .given(ledger, "G_a", "apparent shear stiffness of the table")
    }

    /// How well the unit shear was seen.
    pub const fn standing(&self) -> Standing {
        self.nominal.standing
    }
}

impl PanelRow {
    /// Reads the row of a panel at one nail spacing: `grade; thickness; nail`, with its stiffness beside it.
    fn read(table: &StandardTable, cell: &Cell) -> Result<Self, TableError> {
        let mut parts = cell.of.split("; ");
        let mut part = || parts.next().unwrap_or_default();
        let grade = parse_choice(part()).map_err(|fault| table.fault(cell, fault))?;
        let thickness = part().parse().map_err(|fault| table.fault(cell, fault))?;
        let nail: Nail = part().parse().map_err(|fault| table.fault(cell, fault))?;
        let inches = cell.at.unwrap_or_default();
        let spacing = format!("{inches} in").parse();
        let nominal = || {
            let read = table.read_cell(cell)?;
            read.ok_or_else(|| table.fault(cell, "found \"study\"; expected a unit shear"))
        };
        let stiffness = |figure| {
            let mut rows = table.rows(figure);
            let beside = rows.find(|other| other.of == cell.of && other.at == cell.at);
            let read = beside.map(|cell| table.read_cell(cell)).transpose()?.flatten();
            read.ok_or_else(|| table.fault(cell, format!("found no row {figure:?} for it; expected one")))
        };
        let row = |figure| {
            Ok::<_, TableError>(UnitShear {
                family: Family::Panels,
                nominal: nominal()?,
                stiffness: stiffness(figure)?,
            })
        };
        Ok(Self {
            grade,
            thickness,
            penny: nail.penny,
            edge_spacing: spacing.map_err(|fault| table.fault(cell, fault))?,
            plywood: row("stiffness-plywood")?,
            osb: row("stiffness-osb")?,
        })
    }
}

const fn is_panel(sheathing: Sheathing) -> bool {
    matches!(
        sheathing,
        Sheathing::Plywood | Sheathing::ThreePly | Sheathing::Osb
    )
}
