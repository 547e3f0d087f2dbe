//! Seismic loads by ASCE 7: design accelerations, base shear, its distribution over the height, load
//! combinations.
//!
//! Sections are those of ASCE 7-16; an edition that numbers them otherwise says so in its table.

use thiserror::Error;
use typenum::Z0;

use super::method::Method;
use super::number::{Ledger, Number};
use super::quantity::{Distance, Force, Ratio};
use super::range::{OutOfRange, not_negative, positive};
use super::standard::{Edition, Equation, Figure, StandardTable};
use super::unit::{FOOT, POUND, Unit};
use crate::choice::{Choice, choices};
use crate::house::SiteClass;
use crate::provisions::Standing;
use crate::table::TableError;

choices! {
    /// What resists the earthquake (table 12.2-1, bearing walls of light frame).
    pub enum LateralSystem: "lateral system" {
        /// Walls sheathed with wood structural panels.
        WoodPanels = "wood_panels", "light-frame walls with wood structural panels";
        /// Walls with shear panels of any other material.
        OtherPanels = "other_panels", "light-frame walls with shear panels of other materials";
    }
}

/// Seismic design category by section 11.6, for risk categories I to III.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum DesignCategory {
    /// Category A.
    A,
    /// Category B.
    B,
    /// Category C.
    C,
    /// Category D.
    D,
    /// Category E: near a large fault.
    E,
}

/// Why no load is computed.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Asce7Error {
    /// The standard gives no coefficient here and asks for a study of the site.
    #[error(
        "{class} at {acceleration} g takes a study of the site ({clause}); no coefficient is given for it"
    )]
    SiteStudy {
        /// The site class.
        class: SiteClass,
        /// The mapped acceleration, in units of gravity.
        acceleration: f64,
        /// The clause that asks for the study.
        clause: String,
    },
    /// The edition has no site coefficients.
    #[error("{edition} has no site coefficients; give S_DS and S_D1 of the site instead of S_S and S_1")]
    NoSiteCoefficients {
        /// The edition.
        edition: String,
    },
    /// A number that no house has.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// More levels or stories than the procedure is for.
    #[error("found {found} {what}; expected 1 to {most}")]
    TooMany {
        /// Levels, or stories.
        what: &'static str,
        /// How many.
        found: usize,
        /// How many there may be.
        most: usize,
    },
}

const SITE_STUDY: &str = "11.4.8";

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

const fn gravities(symbol: &'static str, words: &'static str, section: &'static str) -> Equation {
    Equation {
        symbol,
        words,
        unit: Unit::Gravity,
        section,
        standing: Standing::Secondary,
    }
}

const FA: Equation = plain(
    "F_a",
    "site coefficient at short periods",
    "11.4.4",
    Standing::Secondary,
);
const FV: Equation = plain(
    "F_v",
    "site coefficient at one second",
    "11.4.4",
    Standing::Secondary,
);
const S_MS: Equation = gravities(
    "S_MS",
    "acceleration at short periods with the effect of the site",
    "11.4.4, Eq. 11.4-1",
);
const S_M1: Equation = gravities(
    "S_M1",
    "acceleration at one second with the effect of the site",
    "11.4.4, Eq. 11.4-2",
);
const S_DS: Equation = gravities(
    "S_DS",
    "design acceleration at short periods",
    "11.4.5, Eq. 11.4-3",
);
const S_D1: Equation = gravities("S_D1", "design acceleration at one second", "11.4.5, Eq. 11.4-4");
const PERIOD: Equation = Equation {
    symbol: "T_a",
    words: "approximate period",
    unit: Unit::Second,
    section: "12.8.2.1, Eq. 12.8-7",
    standing: Standing::Secondary,
};
const STRENGTH: Equation = plain(
    "R/I_e",
    "reduction for the give of the system, over importance",
    "12.8.1.1",
    Standing::Secondary,
);
const PLATEAU: Equation = plain(
    "C_s,plateau",
    "coefficient on the plateau of short periods",
    "12.8.1.1, Eq. 12.8-2",
    Standing::Secondary,
);
const LIMIT: Equation = plain(
    "C_s,most",
    "limit of the coefficient beyond the plateau",
    "12.8.1.1, Eq. 12.8-3",
    Standing::Secondary,
);
const LONG_LIMIT: Equation = plain(
    "C_s,most",
    "limit of the coefficient at long periods",
    "12.8.1.1, Eq. 12.8-4",
    Standing::Secondary,
);
const FLOOR: Equation = plain(
    "C_s,least",
    "least coefficient",
    "12.8.1.1, Eq. 12.8-5",
    Standing::Secondary,
);
const NEAR_FAULT: Equation = plain(
    "C_s,near fault",
    "least coefficient where S_1 is 0.6 g or more",
    "12.8.1.1, Eq. 12.8-6",
    Standing::Secondary,
);
const COEFFICIENT: Equation = plain(
    "C_s",
    "seismic response coefficient",
    "12.8.1.1",
    Standing::Secondary,
);
const COEFFICIENT_ON_THE_PLATEAU: Equation = plain(
    "C_s",
    "seismic response coefficient, on the plateau: the limit is not taken, S_D1 or S_1 not being given",
    "12.8.1.1",
    Standing::Secondary,
);
const BASE_SHEAR: Equation = Equation {
    symbol: "V",
    words: "seismic base shear",
    unit: Unit::Pound,
    section: "12.8.1, Eq. 12.8-1",
    standing: Standing::Secondary,
};
const REDUCED_BASE_SHEAR: Equation = Equation {
    words: "seismic base shear, with the reduction for an existing building",
    ..BASE_SHEAR
};
const WEIGHT_TIMES_HEIGHT: Equation = plain(
    "w h^k",
    "weight of the level times its height to the power k, in pounds and feet",
    "12.8.3",
    Standing::Secondary,
);
const SHARE: Equation = plain(
    "C_vx",
    "share of the level",
    "12.8.3, Eq. 12.8-12",
    Standing::Secondary,
);
const LEVEL_FORCE: Equation = Equation {
    symbol: "F_x",
    words: "force at the level",
    unit: Unit::Pound,
    section: "12.8.3, Eq. 12.8-11",
    standing: Standing::Secondary,
};
const SIMPLIFIED_S_DS: Equation = Equation {
    section: "12.14.8.1",
    standing: Standing::Secondary,
    ..S_DS
};
const SIMPLIFIED_BASE_SHEAR: Equation = Equation {
    symbol: "V",
    words: "seismic base shear by the simplified procedure",
    unit: Unit::Pound,
    section: "12.14.8.1, Eq. 12.14-12",
    standing: Standing::Memory,
};
const SIMPLIFIED_LEVEL_FORCE: Equation = Equation {
    section: "12.14.8.2, Eq. 12.14-13",
    standing: Standing::Memory,
    ..LEVEL_FORCE
};
const ACCIDENTAL_ECCENTRICITY: Equation = Equation {
    symbol: "e_acc",
    words: "accidental eccentricity, each way",
    unit: Unit::Foot,
    section: "12.8.4.2",
    standing: Standing::Secondary,
};
const DRIFT: Equation = Equation {
    symbol: "δ_x",
    words: "drift in the design earthquake",
    unit: Unit::Inch,
    section: "12.8.6, Eq. 12.8-15",
    standing: Standing::Memory,
};
const DRIFT_MOST: Equation = Equation {
    symbol: "Δ_a",
    words: "drift that is allowed",
    unit: Unit::Inch,
    section: "12.12.1, Table 12.12-1",
    standing: Standing::Secondary,
};

/// One of the load combinations that a wall is judged by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Combination {
    /// Least dead load, against uplift and overturning.
    Uplift,
    /// Dead load and earthquake.
    Gravity,
    /// Dead load, live load and earthquake together; with load and resistance factors the same as
    /// [`Self::Gravity`].
    GravityAndLive,
}

/// What the dead load and the horizontal effect of the earthquake are multiplied by in a load combination.
#[derive(Clone, Copy, Debug)]
pub struct Coefficients<N: Number> {
    /// On the dead load; holds the vertical effect of the earthquake.
    pub dead: Ratio<N>,
    /// On the horizontal effect of the earthquake, redundancy not included.
    pub earthquake: f64,
}

/// Which condition the redundancy of a house meets (12.3.4).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Redundancy {
    /// A condition for 1.0 is shown to be met, or the rule sets 1.0.
    Shown,
    /// None is shown to be met.
    NotShown,
}

/// What the finishes of a house can follow (table 12.12-1).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Finishes {
    /// At most four stories, with partitions, ceilings and cladding made for the drift.
    Accommodating,
    /// Any other.
    Other,
}

/// What the ground is taken for in the simplified procedure (12.14.8.1).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ground {
    /// At most ten feet of soil over rock.
    Rock,
    /// Any other.
    Soil,
}

/// Factors of a lateral system (table 12.2-1).
#[derive(Clone, Copy, Debug)]
pub struct SystemFactors<N: Number> {
    /// `R`, by which forces are divided.
    pub r: Ratio<N>,
    /// `Ω_0`, for parts that must not fail first.
    pub omega0: Ratio<N>,
    /// `C_d`, by which elastic drift is multiplied.
    pub cd: Ratio<N>,
}

/// What the seismic response coefficient hangs on.
#[derive(Clone, Copy, Debug)]
pub struct Demand<N: Number> {
    /// `S_DS`, in units of gravity.
    pub sds: Ratio<N>,
    /// `S_D1`; `None` where it is not known, or where no study gives it (11.4.8).
    pub sd1: Option<Ratio<N>>,
    /// `S_1`; `None` where it is not known.
    pub s1: Option<Ratio<N>>,
    /// `R`.
    pub r: Ratio<N>,
    /// `I_e`.
    pub ie: Ratio<N>,
    /// The period, in seconds.
    pub period: Ratio<N>,
    /// `T_L`, in seconds; `None` for a house, whose period is far below it.
    pub long_period: Option<Ratio<N>>,
}

/// A level that has weight: a floor, or the roof.
#[derive(Clone, Copy, Debug)]
pub struct Level<N: Number> {
    /// Its seismic weight.
    pub weight: Force<N>,
    /// Its height above the base.
    pub height: Distance<N>,
}

/// How many levels a force is distributed to at most.
pub const MOST_LEVELS: usize = 6;
/// How many stories the simplified procedure is for.
const MOST_SIMPLIFIED_STORIES: usize = 3;

type Plain = Figure<Z0, Z0>;

/// A row of table 11.4-1 or 11.4-2: the coefficient at each acceleration, or none where a study is asked for.
type Series = Vec<(f64, Option<Plain>)>;

#[derive(Debug)]
struct SystemRow {
    r: Plain,
    omega0: Plain,
    cd: Plain,
}

/// Seismic loads by one edition of ASCE 7.
#[derive(Debug)]
pub struct Asce7 {
    /// The edition.
    pub edition: Edition,
    fa: Vec<Series>,
    fv: Vec<Series>,
    /// `S_1` from which no `F_v` is given, by site class.
    fv_study_from: Vec<Option<f64>>,
    systems: Vec<SystemRow>,
    importance: Plain,
    period: [Plain; 2],
    redundancy: [Plain; 2],
    simplified_f: [Plain; MOST_SIMPLIFIED_STORIES],
    simplified_fa: [Plain; 2],
    simplified_ss_most: Plain,
    accidental_eccentricity: Plain,
    drift_limit: [Plain; 2],
    category_sds: [Plain; 3],
    category_sd1: [Plain; 3],
    category_s1: Plain,
}

impl Asce7 {
    /// Reads an edition from its table.
    ///
    /// ```
    /// use retrofit_core::screen::{Asce7, StandardTable};
    /// let table = StandardTable::shipped("asce7-16").unwrap();
    /// assert_eq!(Asce7::parse(&table).unwrap().edition.name(), "ASCE 7-16");
    /// ```
    pub fn parse(table: &StandardTable) -> Result<Self, Vec<TableError>> {
        let read = Self::read(table).map_err(|fault| vec![fault])?;
        table.unread().map_or(Ok(read), |fault| Err(vec![fault]))
    }

    fn read(table: &StandardTable) -> Result<Self, TableError> {
        let figure = |figure, of| table.figure::<Z0, Z0>(figure, of);
        let series = |figure: &str| -> Result<Vec<Series>, TableError> {
            let of_class = |class: &SiteClass| -> Result<Series, TableError> {
                let mut series: Series = table
                    .rows(figure)
                    .filter(|cell| cell.of.as_ref() == class.spelling())
                    .map(|cell| {
                        let at = cell.at.ok_or_else(|| {
                            table.fault(cell, "found no acceleration in column \"at\"; expected one")
                        })?;
                        Ok((at, table.read_cell(cell)?))
                    })
                    .collect::<Result<_, TableError>>()?;
                series.sort_by(|a, b| a.0.total_cmp(&b.0));
                Ok(series)
            };
            SiteClass::ALL.iter().map(of_class).collect()
        };
        let study_from = |class: &SiteClass| {
            let mut rows = table.rows("fv-study-from");
            let cell = rows.find(|cell| cell.of.as_ref() == class.spelling());
            let read = cell.map(|cell| table.read_cell::<Z0, Z0>(cell));
            Ok(read.transpose()?.flatten().map(|figure| figure.low))
        };
        let system = |system: &LateralSystem| {
            Ok(SystemRow {
                r: figure("system-r", system.spelling())?,
                omega0: figure("system-omega0", system.spelling())?,
                cd: figure("system-cd", system.spelling())?,
            })
        };
        // A house is of risk category II; the others are read, so that the table may hold them.
        for risk in ["I", "III", "IV"] {
            figure("importance", risk)?;
        }
        let categories = |name| Ok([figure(name, "B")?, figure(name, "C")?, figure(name, "D")?]);
        Ok(Self {
            edition: table.edition.clone(),
            fa: series("fa")?,
            fv: series("fv")?,
            fv_study_from: SiteClass::ALL
                .iter()
                .map(study_from)
                .collect::<Result<_, TableError>>()?,
            systems: LateralSystem::ALL
                .iter()
                .map(system)
                .collect::<Result<_, TableError>>()?,
            importance: figure("importance", "II")?,
            period: [figure("period-ct", "")?, figure("period-x", "")?],
            redundancy: [figure("redundancy", "shown")?, figure("redundancy", "not_shown")?],
            simplified_f: [
                figure("simplified-f", "1")?,
                figure("simplified-f", "2")?,
                figure("simplified-f", "3")?,
            ],
            simplified_fa: [figure("simplified-fa", "rock")?, figure("simplified-fa", "soil")?],
            simplified_ss_most: figure("simplified-ss-most", "")?,
            accidental_eccentricity: figure("accidental-eccentricity", "")?,
            drift_limit: [
                figure("drift-limit", "accommodating")?,
                figure("drift-limit", "other")?,
            ],
            category_sds: categories("category-sds")?,
            category_sd1: categories("category-sd1")?,
            category_s1: figure("category-s1", "E")?,
        })
    }

    /// `F_a` of a site: by table 11.4-1, on a straight line between its columns.
    ///
    /// ```
    /// use retrofit_core::house::SiteClass;
    /// use retrofit_core::screen::{Asce7, Bare, PLAIN, StandardTable};
    /// let asce7 = Asce7::parse(&StandardTable::shipped("asce7-10").unwrap()).unwrap();
    /// // A report of the U.S. Geological Survey prints 1.112.
    /// let fa = asce7.fa(Bare, SiteClass::D, PLAIN.of(0.970)).unwrap();
    /// assert!((fa.value() - 1.112).abs() < 1e-9);
    /// assert!(asce7.fa(Bare, SiteClass::F, PLAIN.of(0.970)).is_err());
    /// ```
    pub fn fa<G: Ledger>(
        &self,
        ledger: G,
        class: SiteClass,
        ss: Ratio<G::Number>,
    ) -> Result<Ratio<G::Number>, Asce7Error> {
        let ss = not_negative(ss, "S_S")?;
        let fa = self.interpolate(ledger, &self.fa, class, ss, "F_a")?;
        Ok(fa.by(&FA, &self.edition))
    }

    /// `F_v` of a site: by table 11.4-2, on a straight line between its columns.
    pub fn fv<G: Ledger>(
        &self,
        ledger: G,
        class: SiteClass,
        s1: Ratio<G::Number>,
    ) -> Result<Ratio<G::Number>, Asce7Error> {
        let s1 = not_negative(s1, "S_1")?;
        let from = self.fv_study_from.get(class.index() as usize).copied().flatten();
        if from.is_some_and(|from| s1.value() >= from) {
            return Err(self.site_study(class, s1.value()));
        }
        let fv = self.interpolate(ledger, &self.fv, class, s1, "F_v")?;
        Ok(fv.by(&FV, &self.edition))
    }

    fn site_study(&self, class: SiteClass, acceleration: f64) -> Asce7Error {
        Asce7Error::SiteStudy {
            class,
            acceleration,
            clause: format!("{}, {}", self.edition.name(), self.edition.section(SITE_STUDY)),
        }
    }

    fn interpolate<G: Ledger>(
        &self,
        ledger: G,
        table: &[Series],
        class: SiteClass,
        acceleration: Ratio<G::Number>,
        symbol: &str,
    ) -> Result<Ratio<G::Number>, Asce7Error> {
        let series = table.get(class.index() as usize).map_or(&[][..], Vec::as_slice);
        if series.is_empty() {
            return Err(Asce7Error::NoSiteCoefficients {
                edition: self.edition.name(),
            });
        }
        let at = acceleration.value();
        let study = || self.site_study(class, at);
        let above = series.partition_point(|(column, _)| *column < at);
        let right = series.get(above);
        let left = above.checked_sub(1).and_then(|left| series.get(left));
        let alone = |figure: &Option<Plain>| -> Result<Ratio<G::Number>, Asce7Error> {
            let figure = figure.as_ref().ok_or_else(study)?;
            Ok(figure.given(ledger, symbol, "site coefficient in the column of the table"))
        };
        #[expect(
            clippy::float_cmp,
            reason = "in a column of the table there is nothing to interpolate"
        )]
        match (left, right) {
            (None, Some((_, figure))) | (Some((_, figure)), None) => alone(figure),
            (_, Some((column, figure))) if *column == at => alone(figure),
            (Some((from, left)), Some((to, right))) => {
                let left = left.as_ref().ok_or_else(study)?;
                let right = right.as_ref().ok_or_else(study)?;
                let left = left.given(ledger, symbol, "site coefficient in the column to the left");
                let right = right.given(ledger, symbol, "site coefficient in the column to the right");
                Ok(left + acceleration.minus(*from) / (to - from) * (right - left))
            }
            (None, None) => Err(study()),
        }
    }

    /// `S_DS` of a site: two thirds of `S_MS`, which is `F_a` times the mapped `S_S`.
    ///
    /// ```
    /// use retrofit_core::house::SiteClass;
    /// use retrofit_core::screen::{Asce7, Bare, PLAIN, StandardTable};
    /// let asce7 = Asce7::parse(&StandardTable::shipped("asce7-16").unwrap()).unwrap();
    /// // Where nothing is known of the soil, F_a is not below 1.2.
    /// let sds = asce7.sds(Bare, SiteClass::Default, PLAIN.of(1.5)).unwrap();
    /// assert!((sds.value() - 1.2).abs() < 1e-9);
    /// ```
    pub fn sds<G: Ledger>(
        &self,
        ledger: G,
        class: SiteClass,
        ss: Ratio<G::Number>,
    ) -> Result<Ratio<G::Number>, Asce7Error> {
        let sms = (self.fa(ledger, class, ss)? * ss).by(&S_MS, &self.edition);
        Ok((2.0 * sms / 3.0).by(&S_DS, &self.edition))
    }

    /// `S_D1` of a site: two thirds of `S_M1`, which is `F_v` times the mapped `S_1`.
    ///
    /// On soft ground with a large `S_1` the standard gives no `F_v` and asks for a study; the coefficient of
    /// a house can then still be computed on the plateau, with `sd1: None`.
    pub fn sd1<G: Ledger>(
        &self,
        ledger: G,
        class: SiteClass,
        s1: Ratio<G::Number>,
    ) -> Result<Ratio<G::Number>, Asce7Error> {
        let sm1 = (self.fv(ledger, class, s1)? * s1).by(&S_M1, &self.edition);
        Ok((2.0 * sm1 / 3.0).by(&S_D1, &self.edition))
    }

    /// Seismic design category by tables 11.6-1 and 11.6-2, the more severe of the two; by `S_DS` alone where
    /// no more is known.
    pub fn design_category(
        &self,
        sds: f64,
        sd1: Option<f64>,
        s1: Option<f64>,
    ) -> Result<DesignCategory, Asce7Error> {
        let in_table = |limits: &[Plain; 3], acceleration: f64| {
            let reached = limits.iter().filter(|limit| acceleration >= limit.low).count();
            match reached {
                0 => DesignCategory::A,
                1 => DesignCategory::B,
                2 => DesignCategory::C,
                _ => DesignCategory::D,
            }
        };
        let accelerations = [(Some(sds), "S_DS"), (sd1, "S_D1"), (s1, "S_1")];
        for (acceleration, what) in accelerations {
            acceleration.map_or(Ok(()), |value| not_negative(Ratio::new(value), what).map(|_| ()))?;
        }
        if s1.is_some_and(|s1| s1 >= self.category_s1.low) {
            return Ok(DesignCategory::E);
        }
        let by_sds = in_table(&self.category_sds, sds);
        Ok(sd1.map_or(by_sds, |sd1| by_sds.max(in_table(&self.category_sd1, sd1))))
    }

    /// Factors of a lateral system (table 12.2-1).
    pub fn system<G: Ledger>(&self, ledger: G, system: LateralSystem) -> Option<SystemFactors<G::Number>> {
        let row = self.systems.get(system.index() as usize)?;
        Some(SystemFactors {
            r: row.r.given(ledger, "R", system.words()),
            omega0: row.omega0.given(ledger, "Ω_0", system.words()),
            cd: row.cd.given(ledger, "C_d", system.words()),
        })
    }

    /// `I_e` of a house (risk category II).
    pub fn importance<G: Ledger>(&self, ledger: G) -> Ratio<G::Number> {
        self.importance.given(ledger, "I_e", "importance of a house")
    }

    /// Redundancy factor `ρ` (12.3.4).
    pub fn redundancy<G: Ledger>(&self, ledger: G, redundancy: Redundancy) -> Ratio<G::Number> {
        let [shown, not_shown] = &self.redundancy;
        match redundancy {
            Redundancy::Shown => shown.given(ledger, "ρ", "redundancy, shown"),
            Redundancy::NotShown => not_shown.given(ledger, "ρ", "redundancy, not shown"),
        }
    }

    /// Approximate period in seconds: `T_a = C_t h_n^x`, with the height in feet (Eq. 12.8-7).
    pub fn period<G: Ledger>(
        &self,
        ledger: G,
        height: Distance<G::Number>,
    ) -> Result<Ratio<G::Number>, Asce7Error> {
        let height = positive(height, "the height of the house")?;
        let [ct, x] = &self.period;
        let ct = ct.given(ledger, "C_t", "coefficient of the approximate period");
        Ok((ct * height.count(FOOT).powf(x.low)).by(&PERIOD, &self.edition))
    }

    /// Seismic response coefficient `C_s` (Eq. 12.8-2 to 12.8-6).
    ///
    /// The limit beyond the plateau is taken only where both `S_D1` and `S_1` are given. Without them the
    /// coefficient stays on the plateau, which is never less, and its derivation says so.
    ///
    /// ```
    /// use retrofit_core::screen::{Asce7, Demand, PLAIN, StandardTable};
    /// let asce7 = Asce7::parse(&StandardTable::shipped("asce7-16").unwrap()).unwrap();
    /// let demand = Demand {
    ///     sds: PLAIN.of(1.0),
    ///     sd1: None,
    ///     s1: None,
    ///     r: PLAIN.of(6.5),
    ///     ie: PLAIN.of(1.0),
    ///     period: PLAIN.of(0.22),
    ///     long_period: None,
    /// };
    /// let coefficient = asce7.response_coefficient(&demand).unwrap();
    /// assert!((coefficient.value() - 1.0 / 6.5).abs() < 1e-12);
    /// ```
    pub fn response_coefficient<N: Number>(&self, demand: &Demand<N>) -> Result<Ratio<N>, Asce7Error> {
        let sds = not_negative(demand.sds, "S_DS")?;
        let ie = positive(demand.ie, "I_e")?;
        let period = positive(demand.period, "the period")?;
        let edition = &self.edition;
        let strength = (positive(demand.r, "R")? / ie).by(&STRENGTH, edition);
        let plateau = (sds / strength).by(&PLATEAU, edition);
        let floor = (0.044 * sds * ie).at_least(0.01).by(&FLOOR, edition);
        let (Some(sd1), Some(s1)) = (demand.sd1, demand.s1) else {
            return Ok(plateau.max(floor).by(&COEFFICIENT_ON_THE_PLATEAU, edition));
        };
        let sd1 = not_negative(sd1, "S_D1")?;
        let s1 = not_negative(s1, "S_1")?;
        let long_period = demand
            .long_period
            .map(|period| positive(period, "T_L"))
            .transpose()?;
        let limit = match long_period {
            Some(long) if period.value() > long.value() => {
                (sd1 * long / (period * period * strength)).by(&LONG_LIMIT, edition)
            }
            _ => (sd1 / (period * strength)).by(&LIMIT, edition),
        };
        let mut coefficient = plateau.min(limit).max(floor);
        if s1.value() >= 0.6 {
            coefficient = coefficient.max((0.5 * s1 / strength).by(&NEAR_FAULT, edition));
        }
        Ok(coefficient.by(&COEFFICIENT, edition))
    }

    /// Base shear `V = C_s W` (Eq. 12.8-1), times the reduction that a rule for existing buildings allows.
    pub fn base_shear<N: Number>(
        &self,
        coefficient: Ratio<N>,
        weight: Force<N>,
        reduction: Option<Ratio<N>>,
    ) -> Result<Force<N>, Asce7Error> {
        let coefficient = positive(coefficient, "C_s")?;
        let weight = not_negative(weight, "the seismic weight")?;
        Ok(match reduction {
            None => (coefficient * weight).by(&BASE_SHEAR, &self.edition),
            Some(reduction) => (positive(reduction, "the reduction")? * coefficient * weight)
                .by(&REDUCED_BASE_SHEAR, &self.edition),
        })
    }

    /// The base shear distributed to the levels by weight and height: `F_x = C_vx V` (Eq. 12.8-11 and
    /// 12.8-12), in the order of the levels.
    ///
    /// ```
    /// use retrofit_core::screen::{Asce7, FOOT, KIP, Level, PLAIN, StandardTable};
    /// let asce7 = Asce7::parse(&StandardTable::shipped("asce7-16").unwrap()).unwrap();
    /// let levels = [
    ///     Level { weight: KIP.of(24.0), height: FOOT.of(10.0) },
    ///     Level { weight: KIP.of(18.0), height: FOOT.of(19.0) },
    /// ];
    /// let forces = asce7.vertical_distribution(KIP.of(1.0), PLAIN.of(0.2), &levels).unwrap();
    /// let roof = forces.into_iter().flatten().nth(1).unwrap();
    /// assert!((roof.to(KIP) - 0.587_629).abs() < 1e-6);
    /// ```
    pub fn vertical_distribution<N: Number>(
        &self,
        base_shear: Force<N>,
        period: Ratio<N>,
        levels: &[Level<N>],
    ) -> Result<[Option<Force<N>>; MOST_LEVELS], Asce7Error> {
        let exponent = exponent(positive(period, "the period")?.value());
        let mut parts = [None; MOST_LEVELS];
        check_count("levels", levels.len(), MOST_LEVELS)?;
        for ((number, level), part) in (1_u8..).zip(levels).zip(&mut parts) {
            let weight = not_negative(level.weight, "the weight of a level")?;
            let height = positive(level.height, "the height of a level")?;
            let product = weight.count(POUND) * height.count(FOOT).powf(exponent);
            *part = Some(product.by_for(&WEIGHT_TIMES_HEIGHT, &self.edition, || format!("level {number}")));
        }
        let sum = parts.into_iter().flatten().reduce(|sum, part| sum + part);
        let Some(sum) = sum
            .map(|sum| positive(sum, "the weight of all levels"))
            .transpose()?
        else {
            return Ok([None; MOST_LEVELS]);
        };
        let mut forces = [None; MOST_LEVELS];
        for ((number, part), force) in (1_u8..).zip(parts).zip(&mut forces) {
            *force = part.map(|part| {
                let subject = || format!("level {number}");
                let share = (part / sum).by_for(&SHARE, &self.edition, subject);
                (share * base_shear).by_for(&LEVEL_FORCE, &self.edition, subject)
            });
        }
        Ok(forces)
    }

    /// `S_DS` of the simplified procedure: two thirds of `F_a S_S`, with a coefficient for rock or soil and
    /// `S_S` taken up to a limit (12.14.8.1).
    pub fn simplified_sds<G: Ledger>(
        &self,
        ledger: G,
        ground: Ground,
        ss: Ratio<G::Number>,
    ) -> Result<Ratio<G::Number>, Asce7Error> {
        let ss = not_negative(ss, "S_S")?;
        let most = self
            .simplified_ss_most
            .given(ledger, "S_S,most", "most that S_S need be taken as");
        let [rock, soil] = &self.simplified_fa;
        let fa = match ground {
            Ground::Rock => rock.given(ledger, "F_a", "rock, simplified"),
            Ground::Soil => soil.given(ledger, "F_a", "soil, simplified"),
        };
        Ok((2.0 * (fa * ss.min(most)) / 3.0).by(&SIMPLIFIED_S_DS, &self.edition))
    }

    /// Base shear by the simplified procedure: `V = F S_DS W / R` for houses of one to three stories (Eq.
    /// 12.14-12).
    pub fn simplified_base_shear<G: Ledger>(
        &self,
        ledger: G,
        stories: u8,
        sds: Ratio<G::Number>,
        r: Ratio<G::Number>,
        weight: Force<G::Number>,
    ) -> Result<Force<G::Number>, Asce7Error> {
        let sds = not_negative(sds, "S_DS")?;
        let r = positive(r, "R")?;
        let weight = not_negative(weight, "the seismic weight")?;
        check_count("stories", stories.into(), MOST_SIMPLIFIED_STORIES)?;
        let figure = usize::from(stories)
            .checked_sub(1)
            .and_then(|place| self.simplified_f.get(place));
        let figure = figure.ok_or(Asce7Error::TooMany {
            what: "stories",
            found: stories.into(),
            most: MOST_SIMPLIFIED_STORIES,
        })?;
        let f = figure.given(ledger, "F", "factor for the number of stories");
        Ok((f * sds * weight / r).by(&SIMPLIFIED_BASE_SHEAR, &self.edition))
    }

    /// The force of one level by the simplified procedure: the base shear shared by weight (Eq. 12.14-13).
    pub fn simplified_level_force<N: Number>(
        &self,
        base_shear: Force<N>,
        level: Force<N>,
        whole: Force<N>,
    ) -> Result<Force<N>, Asce7Error> {
        let level = not_negative(level, "the weight of a level")?;
        let whole = positive(whole, "the weight of all levels")?;
        Ok((level / whole * base_shear).by(&SIMPLIFIED_LEVEL_FORCE, &self.edition))
    }

    /// What dead load and earthquake are multiplied by (2.4.5 and 2.3.6); the vertical effect of the
    /// earthquake, `0.2 S_DS D`, is in the coefficient of the dead load.
    ///
    /// ```
    /// use retrofit_core::screen::{Asce7, Combination, Method, PLAIN, StandardTable};
    /// let asce7 = Asce7::parse(&StandardTable::shipped("asce7-16").unwrap()).unwrap();
    /// let uplift = asce7.coefficients(Method::Asd, Combination::Uplift, PLAIN.of(1.0)).unwrap();
    /// assert!((uplift.dead.value() - 0.46).abs() < 1e-12);
    /// assert_eq!(uplift.earthquake, 0.7);
    /// ```
    pub fn coefficients<N: Number>(
        &self,
        method: Method,
        combination: Combination,
        sds: Ratio<N>,
    ) -> Result<Coefficients<N>, Asce7Error> {
        const fn dead(words: &'static str, section: &'static str, standing: Standing) -> Equation {
            plain("c_D", words, section, standing)
        }
        const LEAST: Equation = dead("on the dead load, least", "2.4.5", Standing::Secondary);
        const MOST: Equation = dead("on the dead load, most", "2.4.5", Standing::Secondary);
        const WITH_LIVE: Equation = dead("on the dead load, with live load", "2.4.5", Standing::Secondary);
        const LEAST_FACTORED: Equation = dead("on the dead load, least", "2.3.6", Standing::Memory);
        const MOST_FACTORED: Equation = dead("on the dead load, most", "2.3.6", Standing::Memory);
        let sds = not_negative(sds, "S_DS")?;
        let (dead, equation, earthquake) = match (method, combination) {
            (Method::Asd, Combination::Uplift) => ((0.14 * sds).from(0.6), &LEAST, 0.7),
            (Method::Asd, Combination::Gravity) => ((0.14 * sds).plus(1.0), &MOST, 0.7),
            (Method::Asd, Combination::GravityAndLive) => ((0.105 * sds).plus(1.0), &WITH_LIVE, 0.75 * 0.7),
            (Method::Lrfd, Combination::Uplift) => ((0.2 * sds).from(0.9), &LEAST_FACTORED, 1.0),
            (Method::Lrfd, _) => ((0.2 * sds).plus(1.2), &MOST_FACTORED, 1.0),
        };
        Ok(Coefficients {
            dead: dead.by(equation, &self.edition),
            earthquake,
        })
    }

    /// Accidental eccentricity: a share of the dimension across the force, to be taken each way (12.8.4.2).
    pub fn accidental_eccentricity<G: Ledger>(
        &self,
        ledger: G,
        across: Distance<G::Number>,
    ) -> Result<Distance<G::Number>, Asce7Error> {
        let across = positive(across, "the dimension across the force")?;
        let share = self
            .accidental_eccentricity
            .given(ledger, "share", "of the dimension across the force");
        Ok((share * across).by(&ACCIDENTAL_ECCENTRICITY, &self.edition))
    }

    /// Drift in the design earthquake: `C_d δ_xe / I_e`, of the elastic drift under the forces of this
    /// standard without redundancy (Eq. 12.8-15).
    pub fn drift<N: Number>(
        &self,
        cd: Ratio<N>,
        ie: Ratio<N>,
        elastic: Distance<N>,
    ) -> Result<Distance<N>, Asce7Error> {
        let cd = positive(cd, "C_d")?;
        let ie = positive(ie, "I_e")?;
        let elastic = not_negative(elastic, "the elastic drift")?;
        Ok((cd * elastic / ie).by(&DRIFT, &self.edition))
    }

    /// Drift that is allowed in a story of this height (table 12.12-1, risk categories I and II).
    pub fn drift_limit<G: Ledger>(
        &self,
        ledger: G,
        finishes: Finishes,
        height: Distance<G::Number>,
    ) -> Result<Distance<G::Number>, Asce7Error> {
        let height = positive(height, "the height of the story")?;
        let [accommodating, other] = &self.drift_limit;
        let share = match finishes {
            Finishes::Accommodating => accommodating.given(ledger, "share", "of the story height"),
            Finishes::Other => other.given(ledger, "share", "of the story height"),
        };
        Ok((share * height).by(&DRIFT_MOST, &self.edition))
    }
}

/// The exponent `k` of section 12.8.3: 1 up to half a second, 2 from two seconds and a half, a straight line
/// between.
fn exponent(period: f64) -> f64 {
    (1.0 + (period - 0.5) / 2.0).clamp(1.0, 2.0)
}

fn check_count(what: &'static str, found: usize, most: usize) -> Result<(), Asce7Error> {
    if (1..=most).contains(&found) {
        Ok(())
    } else {
        Err(Asce7Error::TooMany { what, found, most })
    }
}

#[cfg(test)]
mod tests {
    use typed_arena::Arena;

    use super::*;
    use crate::screen::{Bare, Content, Derivation, Given, Line, Origin, Tagging, Tracing};

    fn edition() -> Asce7 {
        Asce7::parse(&StandardTable::shipped("asce7-16").unwrap()).unwrap()
    }

    fn chosen<G: Ledger>(ledger: G, symbol: &str, value: f64) -> Ratio<G::Number> {
        Ratio::new(ledger.given(value, Standing::Verified, None, || Given {
            symbol: symbol.to_owned(),
            words: String::new(),
            unit: Unit::Plain,
            origin: Origin::Setting {
                document: "a test".to_owned(),
                section: String::new(),
                standing: Standing::Verified,
            },
        }))
    }

    fn shear<G: Ledger>(ledger: G, asce7: &Asce7) -> Force<G::Number> {
        let demand = Demand {
            sds: asce7
                .sds(ledger, SiteClass::Default, chosen(ledger, "S_S", 1.1))
                .unwrap(),
            sd1: Some(
                asce7
                    .sd1(ledger, SiteClass::C, chosen(ledger, "S_1", 0.5))
                    .unwrap(),
            ),
            s1: Some(chosen(ledger, "S_1", 0.5)),
            r: asce7.system(ledger, LateralSystem::WoodPanels).unwrap().r,
            ie: asce7.importance(ledger),
            period: asce7
                .period(ledger, chosen(ledger, "h_n", 25.0).of(FOOT))
                .unwrap(),
            long_period: None,
        };
        let coefficient = asce7.response_coefficient(&demand).unwrap();
        let weight = chosen(ledger, "W", 42_000.0).of(POUND);
        let reduction = chosen(ledger, "reduction", 0.75);
        asce7.base_shear(coefficient, weight, Some(reduction)).unwrap()
    }

    /// With every kind of number the same value comes out, and its derivation computes to it.
    #[test]
    fn the_derivation_is_the_calculation() {
        let asce7 = edition();
        let bare = shear(Bare, &asce7).value();
        assert!((bare - 0.75 * 42_000.0 * (2.0 / 3.0 * 1.2 * 1.1) / 6.5).abs() < 1e-6);
        assert!((shear(Tagging(&std::cell::Cell::new(0)), &asce7).value() - bare).abs() < 1e-9);
        let arena = Arena::new();
        let derivation = Derivation::of(shear(Tracing(&arena), &asce7));
        assert!((derivation.value().unwrap() - bare).abs() < 1e-9);
        for line in &derivation.lines {
            if let Content::Step(step, expression) = &line.content {
                let again = expression.evaluate(&derivation.lines);
                assert!(
                    (again - line.value).abs() <= 1e-12 * line.value,
                    "{}",
                    step.symbol
                );
                assert!(!step.section.is_empty(), "{}", step.symbol);
                assert_eq!(step.document, "ASCE 7-16");
            }
        }
        let symbols: Vec<&str> = derivation.lines.iter().map(Line::symbol).collect();
        for symbol in [
            "F_a",
            "S_MS",
            "S_DS",
            "F_v",
            "S_D1",
            "T_a",
            "R/I_e",
            "C_s,plateau",
            "C_s",
            "V",
        ] {
            assert!(symbols.contains(&symbol), "no {symbol} in {symbols:?}");
        }
    }

    #[test]
    fn the_derivation_says_when_the_limit_is_not_taken() {
        let asce7 = edition();
        let arena = Arena::new();
        let ledger = Tracing(&arena);
        let demand = Demand {
            sds: chosen(ledger, "S_DS", 1.0),
            sd1: None,
            s1: None,
            r: asce7.system(ledger, LateralSystem::WoodPanels).unwrap().r,
            ie: asce7.importance(ledger),
            period: chosen(ledger, "T", 0.2),
            long_period: None,
        };
        let derivation = Derivation::of(asce7.response_coefficient(&demand).unwrap());
        let last = derivation.lines.last().unwrap();
        assert!(last.words().contains("not taken"), "{}", last.words());
    }
}
