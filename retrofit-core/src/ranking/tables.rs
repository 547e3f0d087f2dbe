//! What a ranking infers by: shares, curves, ratios, costs and assumptions, as data, each with source and standing.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Serialize;

use super::estimate::Estimate;
use super::evidence::Work;
use super::loss::{Damage, FragilityCurve, LossCurve};
use crate::choice::{Choice, choices, parse_choice};
use crate::foundation::survey::{Documents, origin, read_sources};
use crate::portfolio::{ClimateZone, Part};
use crate::provisions::{Standing, TableError, TableFile};
use crate::table::{Row, each_row};

/// The shipped files, by name.
const SHIPPED: [(&str, &str); 8] = [
    ("sources.csv", include_str!("../../../tables/ranking/sources.csv")),
    (
        "crawl-space.csv",
        include_str!("../../../tables/ranking/crawl-space.csv"),
    ),
    (
        "shortfall.csv",
        include_str!("../../../tables/ranking/shortfall.csv"),
    ),
    (
        "fragility.csv",
        include_str!("../../../tables/ranking/fragility.csv"),
    ),
    ("losses.csv", include_str!("../../../tables/ranking/losses.csv")),
    ("proxies.csv", include_str!("../../../tables/ranking/proxies.csv")),
    ("costs.csv", include_str!("../../../tables/ranking/costs.csv")),
    (
        "assumptions.csv",
        include_str!("../../../tables/ranking/assumptions.csv"),
    ),
];

choices! {
    /// A figure that stands in where nobody told better.
    pub enum Assumption: "assumption" {
        /// Shaking of a site, in g.
        Shaking = "shaking", "shaking of the site";
        /// Replacement value of a square foot of floor, in dollars.
        ValuePerSquareFoot = "value_per_square_foot", "replacement value of a square foot";
        /// Floor area in square feet.
        FloorArea = "floor_area", "floor area";
        /// How likely the low and the high end of a range each are.
        WeightOfAnEnd = "weight_of_an_end", "weight of either end of a range";
        /// Stories above the crawl space.
        Stories = "stories", "stories";
        /// Height of the cripple wall in inches.
        CrippleHeight = "cripple_height", "height of the cripple wall";
        /// How many times as long as wide a house is.
        PlanRatio = "plan_ratio", "length of a house over its width";
    }
}

impl Assumption {
    /// The unit that the table has to give it in.
    const fn unit(self) -> &'static str {
        match self {
            Self::Shaking => "g",
            Self::ValuePerSquareFoot => "dollars",
            Self::FloorArea => "square feet",
            Self::CrippleHeight => "inches",
            Self::WeightOfAnEnd | Self::Stories | Self::PlanRatio => "",
        }
    }
}

choices! {
    /// What a row of the tables is used for.
    pub enum UsedFor: "use" {
        /// How likely a crawl space is.
        CrawlSpace = "crawl_space", "how likely a crawl space is";
        /// How likely a part falls short.
        Shortfall = "shortfall", "how likely a part falls short";
        /// How likely damage is.
        Fragility = "fragility", "how likely damage is";
        /// What damage costs.
        Losses = "losses", "what damage costs";
        /// Which curve stands for which house.
        Proxies = "proxies", "which curve stands for which house";
        /// What the work costs.
        Costs = "costs", "what the work costs";
        /// What a piece of the work costs.
        UnitPrices = "unit_prices", "what a piece of the work costs";
        /// What stands in for what nobody told.
        Assumptions = "assumptions", "what stands in for what nobody told";
    }
}

/// A document that rows of the tables come from, and how well they were seen.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, schemars::JsonSchema)]
pub struct Sourced {
    /// What its rows are used for.
    pub used_for: UsedFor,
    /// The document, with its edition.
    pub document: String,
    /// How well they were seen.
    #[schemars(with = "String")]
    pub standing: Standing,
    /// How many rows.
    pub rows: usize,
}

/// A stretch of years that no row of the tables tells apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct YearClass(pub(super) usize);

/// How likely it is, for houses of one class of years in one climate zone, that there is something to strengthen.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Likelihoods {
    /// That the house stands over a crawl space.
    pub crawl_space: Estimate,
    /// That each part falls short, where nobody looked.
    pub short: [Estimate; 3],
}

/// What a ranking infers by.
///
/// A folder of a user's own replaces the files it holds, and adds its sources to those that are shipped.
///
/// ```
/// use retrofit_core::provisions::TableFile;
/// use retrofit_core::ranking::{Assumption, RankingTables};
/// let own = TableFile {
///     path: "ours/assumptions.csv".into(),
///     name: "assumptions.csv".into(),
///     text: "assumption,low,likely,high,unit,source,section,standing,note\n\
///            shaking,0.4,0.5,0.6,g,none,,common practice,\n\
///            value_per_square_foot,300,350,500,dollars,none,,common practice,\n\
///            floor_area,900,1400,2200,square feet,none,,common practice,\n\
///            weight_of_an_end,,0.25,,,none,,common practice,\n\
///            stories,1,1,2,,none,,common practice,\n\
///            cripple_height,12,24,36,inches,none,,common practice,\n\
///            plan_ratio,,2,,,none,,common practice,\n".into(),
/// };
/// let tables = RankingTables::with(&[own]).unwrap();
/// assert_eq!(tables.assumed(Assumption::Shaking).likely, 0.5);
/// ```
#[derive(Clone, Debug)]
pub struct RankingTables {
    zones: Vec<ClimateZone>,
    /// Where each class of years begins; the first is open to the past.
    classes: Vec<Option<u16>>,
    /// Class by class for each zone, and last for a zone that is unknown.
    likelihoods: Vec<Likelihoods>,
    curves: BTreeMap<String, LossCurve>,
    before: LossCurve,
    after: LossCurve,
    proxies: [String; 2],
    costs: [Estimate; 4],
    assumed: [Estimate; Assumption::ALL.len()],
    /// What is lost before and after where the shaking is assumed: the same for every such house.
    assumed_losses: [Estimate; 2],
    sources: Vec<Sourced>,
}

impl RankingTables {
    /// The shipped tables.
    pub fn shipped() -> &'static Self {
        static TABLES: LazyLock<RankingTables> = LazyLock::new(|| {
            // A test holds that the shipped tables read; without any, nothing is likely and nothing is avoided.
            RankingTables::with(&[]).unwrap_or_else(|_| RankingTables::of_nothing())
        });
        &TABLES
    }

    fn of_nothing() -> Self {
        Self {
            zones: Vec::new(),
            classes: vec![None],
            likelihoods: vec![Likelihoods::default()],
            curves: BTreeMap::new(),
            before: LossCurve::default(),
            after: LossCurve::default(),
            proxies: [String::new(), String::new()],
            costs: [Estimate::default(); 4],
            assumed: [Estimate::default(); Assumption::ALL.len()],
            assumed_losses: [Estimate::default(); 2],
            sources: Vec::new(),
        }
    }

    /// The names of the files of a folder.
    pub fn file_names() -> impl Iterator<Item = &'static str> {
        SHIPPED.into_iter().map(|(name, _)| name)
    }

    /// The shipped tables with files of a user's own in place of those of the same name; the error lists every fault.
    pub fn with(own: &[TableFile]) -> Result<Self, Vec<TableError>> {
        let mut faults = Vec::new();
        for file in own {
            if !Self::file_names().any(|name| name == file.name) {
                let names = Self::file_names().collect::<Vec<_>>().join(", ");
                faults.push(TableError::file(
                    file,
                    format!("found a file that is no table of a ranking; expected one of {names}"),
                ));
            }
        }
        let shipped = |name: &str| {
            let found = SHIPPED.into_iter().find(|(shipped, _)| *shipped == name);
            TableFile {
                path: format!("tables/ranking/{name}"),
                name: name.to_owned(),
                text: found.map_or("", |(_, text)| text).to_owned(),
            }
        };
        let file = |name: &str| {
            own.iter()
                .find(|file| file.name == name)
                .cloned()
                .unwrap_or_else(|| shipped(name))
        };
        let mut documents = read_sources(&shipped("sources.csv"), &mut faults);
        for file in own.iter().filter(|file| file.name == "sources.csv") {
            documents.extend(read_sources(file, &mut faults));
        }
        let mut read = Reading {
            documents,
            sources: BTreeMap::new(),
            faults,
        };
        let crawl = read.crawl_space(&file("crawl-space.csv"));
        let short = read.shortfall(&file("shortfall.csv"));
        let curves = read.fragility(&file("fragility.csv"));
        let ratios = read.losses(&file("losses.csv"));
        let proxies = read.proxies(&file("proxies.csv"), &curves);
        let costs = read.costs(&file("costs.csv"));
        let assumed = read.assumptions(&file("assumptions.csv"));
        let curves: BTreeMap<String, LossCurve> = curves
            .into_iter()
            .map(|(name, fragility)| (name, LossCurve { fragility, ratios }))
            .collect();
        let [before, after] = proxies
            .each_ref()
            .map(|name| curves.get(name).copied().unwrap_or_default());
        if !read.faults.is_empty() {
            return Err(read.faults);
        }
        let (classes, zones, likelihoods) = likelihoods(&crawl, &short);
        let shaking = assumed.get(Assumption::Shaking.index() as usize);
        let shaking = shaking.copied().unwrap_or_default();
        Ok(Self {
            zones,
            classes,
            likelihoods,
            curves,
            before,
            after,
            proxies,
            costs,
            assumed,
            assumed_losses: [before, after].map(|curve| shaking.map(|g| curve.expected_loss(g))),
            sources: read
                .sources
                .into_iter()
                .map(|((used_for, document, standing), rows)| Sourced {
                    used_for,
                    document,
                    standing,
                    rows,
                })
                .collect(),
        })
    }

    /// Whether a climate zone is one of the table.
    pub fn has_zone(&self, zone: Option<ClimateZone>) -> bool {
        zone.is_some_and(|zone| self.zones.contains(&zone))
    }

    /// The class of a year.
    pub fn class_of(&self, year: u16) -> YearClass {
        let later = self
            .classes
            .iter()
            .skip(1)
            .flatten()
            .filter(|from| **from <= year);
        YearClass(later.count())
    }

    /// Each class of years in words, from the earliest.
    pub fn class_words(&self) -> Vec<String> {
        let ends = self.classes.iter().skip(1).flatten();
        let mut words: Vec<String> = ends
            .clone()
            .zip(&self.classes)
            .map(|(end, from)| match from {
                None => format!("before {end}"),
                Some(from) => format!("{from} to {}", end - 1),
            })
            .collect();
        words.extend(ends.last().map(|last| format!("{last} and later")));
        words
    }

    /// How likely crawl space and shortfall are; one for each class of years where the class is unknown.
    pub fn likelihoods(&self, zone: Option<ClimateZone>, class: Option<YearClass>) -> &[Likelihoods] {
        let zone = zone.and_then(|zone| self.zones.iter().position(|other| *other == zone));
        let classes = self.classes.len();
        let first = zone.unwrap_or(self.zones.len()) * classes;
        let of_zone = self.likelihoods.get(first..first + classes).unwrap_or_default();
        match class {
            Some(YearClass(class)) => of_zone.get(class..=class).unwrap_or_default(),
            None => of_zone,
        }
    }

    /// The chance of each part to fall short, class by class, with the figures of each part at one end or the other.
    pub(super) fn short_drawn(&self, ends: [f64; 3]) -> Vec<[f64; 3]> {
        let weight = self.end_weight();
        self.likelihoods
            .iter()
            .take(self.classes.len())
            .map(|likely| {
                let mut chances = [0.0; 3];
                for ((chance, short), end) in chances.iter_mut().zip(likely.short).zip(ends) {
                    *chance = short.drawn(weight, end);
                }
                chances
            })
            .collect()
    }

    /// A curve by its name, be it used as a proxy or not.
    pub fn curve(&self, name: &str) -> Option<LossCurve> {
        self.curves.get(name).copied()
    }

    /// The curve that stands for a house that falls short.
    pub const fn before(&self) -> &LossCurve {
        &self.before
    }

    /// The curve that stands for the same house once it is strengthened.
    pub const fn after(&self) -> &LossCurve {
        &self.after
    }

    /// What is lost before and after at a shaking, or where it is assumed, as a share of the value.
    pub(super) fn losses(&self, shaking: Option<f64>) -> [Estimate; 2] {
        match shaking {
            Some(g) => [self.before, self.after].map(|curve| Estimate::known(curve.expected_loss(g))),
            None => self.assumed_losses,
        }
    }

    /// The names of the two curves that stand for a house before and after.
    pub fn proxies(&self) -> [&str; 2] {
        let [before, after] = &self.proxies;
        [before, after]
    }

    /// What whole jobs of a kind of work cost by published prices, in dollars of their year.
    pub fn whole_job(&self, work: Work) -> Estimate {
        self.costs.get(work.index() as usize).copied().unwrap_or_default()
    }

    /// What stands in where nobody told better.
    pub fn assumed(&self, assumption: Assumption) -> Estimate {
        self.assumed
            .get(assumption.index() as usize)
            .copied()
            .unwrap_or_default()
    }

    /// How likely the low and the high end of a range each are.
    pub fn end_weight(&self) -> f64 {
        self.assumed(Assumption::WeightOfAnEnd).likely
    }

    /// Where the rows come from, by what they are used for.
    pub fn sources(&self) -> &[Sourced] {
        &self.sources
    }
}

/// A share by climate zone and first year.
struct CrawlSpace {
    zone: ClimateZone,
    from: Option<u16>,
    share: f64,
}

/// A chance by first year.
type ByYear = Vec<(Option<u16>, Estimate)>;

/// The row for the years from a year on: the last that does not begin later.
fn at_year<T: Copy>(rows: impl Iterator<Item = (Option<u16>, T)>, from: Option<u16>) -> Option<T> {
    rows.filter(|(begins, _)| *begins <= from)
        .max_by_key(|(begins, _)| *begins)
        .map(|(_, value)| value)
}

/// Classes of years that no row tells apart, the zones, and the likelihoods of each class in each zone; last those of
/// a zone that is unknown: the least, the middle and the greatest share of all zones.
fn likelihoods(
    crawl: &[CrawlSpace],
    short: &[ByYear; 3],
) -> (Vec<Option<u16>>, Vec<ClimateZone>, Vec<Likelihoods>) {
    let mut classes: Vec<Option<u16>> = crawl.iter().map(|row| row.from).collect();
    classes.extend(short.iter().flatten().map(|(from, _)| *from));
    classes.push(None);
    classes.sort_unstable();
    classes.dedup();
    let mut zones: Vec<ClimateZone> = crawl.iter().map(|row| row.zone).collect();
    zones.sort_unstable();
    zones.dedup();
    let share = |zone: ClimateZone, class: Option<u16>| {
        let rows = crawl.iter().filter(|row| row.zone == zone);
        at_year(rows.map(|row| (row.from, row.share)), class).unwrap_or_default()
    };
    let likely = |class: Option<u16>, crawl_space: Estimate| Likelihoods {
        crawl_space,
        short: short
            .each_ref()
            .map(|rows| at_year(rows.iter().copied(), class).unwrap_or_default()),
    };
    let mut all = Vec::with_capacity((zones.len() + 1) * classes.len());
    for zone in &zones {
        all.extend(
            classes
                .iter()
                .map(|class| likely(*class, Estimate::known(share(*zone, *class)))),
        );
    }
    all.extend(classes.iter().map(|class| {
        let mut shares: Vec<f64> = zones.iter().map(|zone| share(*zone, *class)).collect();
        shares.sort_by(f64::total_cmp);
        let at = |position: usize| shares.get(position).copied().unwrap_or_default();
        let any = Estimate {
            low: at(0),
            likely: at(shares.len() / 2),
            high: at(shares.len().saturating_sub(1)),
        };
        likely(*class, any)
    }));
    (classes, zones, all)
}

/// The tables under way.
struct Reading {
    documents: Documents,
    sources: BTreeMap<(UsedFor, String, Standing), usize>,
    faults: Vec<TableError>,
}

impl Reading {
    /// Reads every row of a file, and notes where it comes from.
    fn rows(
        &mut self,
        file: &TableFile,
        columns: &'static [&'static str],
        used_for: UsedFor,
        mut read: impl FnMut(&Row<'_>) -> Result<(), TableError>,
    ) {
        let (documents, sources) = (&self.documents, &mut self.sources);
        each_row(file, columns, &mut self.faults, |row| {
            let (document, _, standing) = origin(row, documents)?;
            read(row)?;
            *sources.entry((used_for, document, standing)).or_default() += 1;
            Ok(())
        });
    }

    fn missing(&mut self, file: &TableFile, column: &str, what: &str) {
        let fault = format!("there is no row for {what}; expected one");
        self.faults.push(TableError::column(file, column, fault));
    }

    fn crawl_space(&mut self, file: &TableFile) -> Vec<CrawlSpace> {
        const COLUMNS: [&str; 8] = [
            "climate_zone",
            "built_from",
            "vented",
            "unvented",
            "source",
            "section",
            "standing",
            "note",
        ];
        let mut all: Vec<CrawlSpace> = Vec::new();
        self.rows(file, &COLUMNS, UsedFor::CrawlSpace, |row| {
            let zone: ClimateZone = row
                .required("climate_zone")?
                .parse()
                .map_err(|error| row.fault("climate_zone", error))?;
            let from = year(row)?;
            let share = number(row, "vented", 0.0, 1.0)? + number(row, "unvented", 0.0, 1.0)?;
            if share > 1.0 {
                return Err(row.fault(
                    "unvented",
                    "found shares of more than 1 together; expected 1 or less",
                ));
            }
            if all.iter().any(|other| (other.zone, other.from) == (zone, from)) {
                return Err(row.fault("built_from", "found the same zone and year a second time"));
            }
            all.push(CrawlSpace { zone, from, share });
            Ok(())
        });
        if let Some(zone) = all
            .iter()
            .map(|row| row.zone)
            .find(|zone| !all.iter().any(|row| row.zone == *zone && row.from.is_none()))
        {
            self.missing(file, "built_from", &format!("the earliest houses of {zone}"));
        }
        all
    }

    fn shortfall(&mut self, file: &TableFile) -> [ByYear; 3] {
        const COLUMNS: [&str; 9] = [
            "part",
            "built_from",
            "low",
            "likely",
            "high",
            "source",
            "section",
            "standing",
            "note",
        ];
        let mut all: [ByYear; 3] = Default::default();
        self.rows(file, &COLUMNS, UsedFor::Shortfall, |row| {
            let part: Part = parse_choice(row.get("part")).map_err(|error| row.fault("part", error))?;
            let from = year(row)?;
            let chance = range(row, 1.0)?;
            if let Some(rows) = all.get_mut(part.index() as usize) {
                if rows.iter().any(|(other, _)| *other == from) {
                    return Err(row.fault("built_from", "found the same part and year a second time"));
                }
                rows.push((from, chance));
            }
            Ok(())
        });
        for (part, rows) in Part::ALL.iter().zip(&all) {
            if !rows.iter().any(|(from, _)| from.is_none()) {
                self.missing(
                    file,
                    "built_from",
                    &format!("{:?} of the earliest houses", part.spelling()),
                );
            }
        }
        all
    }

    fn fragility(&mut self, file: &TableFile) -> BTreeMap<String, FragilityCurve> {
        const COLUMNS: [&str; 10] = [
            "curve",
            "slight",
            "moderate",
            "extensive",
            "complete",
            "beta",
            "source",
            "section",
            "standing",
            "note",
        ];
        let mut all = BTreeMap::new();
        self.rows(file, &COLUMNS, UsedFor::Fragility, |row| {
            let mut medians = [0.0; 4];
            for (median, damage) in medians.iter_mut().zip(Damage::ALL) {
                *median = number(row, damage.spelling(), 0.001, 100.0)?;
            }
            if !medians.is_sorted() {
                return Err(row.fault(
                    "complete",
                    "found medians that fall; expected them to rise with the damage",
                ));
            }
            let beta = number(row, "beta", 0.01, 10.0)?;
            let curve = FragilityCurve { medians, beta };
            if all.insert(row.required("curve")?.to_owned(), curve).is_some() {
                return Err(row.fault("curve", "found the same curve a second time"));
            }
            Ok(())
        });
        all
    }

    fn losses(&mut self, file: &TableFile) -> [f64; 4] {
        const COLUMNS: [&str; 6] = ["damage", "ratio", "source", "section", "standing", "note"];
        let mut found: [Option<f64>; 4] = [None; 4];
        self.rows(file, &COLUMNS, UsedFor::Losses, |row| {
            let damage: Damage =
                parse_choice(row.get("damage")).map_err(|error| row.fault("damage", error))?;
            let ratio = number(row, "ratio", 0.0, 1.0)?;
            fill(row, "damage", found.get_mut(damage.index() as usize), ratio)
        });
        self.all_of(file, "damage", found, Damage::ALL)
    }

    fn proxies(&mut self, file: &TableFile, curves: &BTreeMap<String, FragilityCurve>) -> [String; 2] {
        const COLUMNS: [&str; 6] = ["state", "curve", "source", "section", "standing", "note"];
        let mut found: [Option<String>; 2] = [None, None];
        self.rows(file, &COLUMNS, UsedFor::Proxies, |row| {
            let [before, after] = &mut found;
            let slot = match row.get("state") {
                "before" => before,
                "after" => after,
                other => {
                    let found: String = other.chars().take(40).collect();
                    return Err(row.fault("state", format!("found {found:?}; expected before or after")));
                }
            };
            let curve = row.required("curve")?;
            if !curves.contains_key(curve) {
                let names = curves.keys().map(String::as_str).collect::<Vec<_>>().join(", ");
                return Err(row.fault(
                    "curve",
                    format!("found {curve:?}; expected a curve of fragility.csv: {names}"),
                ));
            }
            fill(row, "state", Some(slot), curve.to_owned())
        });
        if found.iter().any(Option::is_none) {
            self.missing(file, "state", "before and for after");
        }
        found.map(Option::unwrap_or_default)
    }

    fn costs(&mut self, file: &TableFile) -> [Estimate; 4] {
        const COLUMNS: [&str; 9] = [
            "work",
            "low",
            "likely",
            "high",
            "price_year",
            "source",
            "section",
            "standing",
            "note",
        ];
        let mut found: [Option<Estimate>; 4] = [None; 4];
        self.rows(file, &COLUMNS, UsedFor::Costs, |row| {
            let work: Work = parse_choice(row.get("work")).map_err(|error| row.fault("work", error))?;
            number(row, "price_year", 1900.0, 2200.0)?;
            let cost = range(row, 1e7)?;
            if cost.low <= 0.0 {
                return Err(row.fault("low", "found no cost; expected dollars over 0"));
            }
            fill(row, "work", found.get_mut(work.index() as usize), cost)
        });
        self.all_of(file, "work", found, Work::ALL)
    }

    fn assumptions(&mut self, file: &TableFile) -> [Estimate; Assumption::ALL.len()] {
        const COLUMNS: [&str; 9] = [
            "assumption",
            "low",
            "likely",
            "high",
            "unit",
            "source",
            "section",
            "standing",
            "note",
        ];
        let mut found = [None; Assumption::ALL.len()];
        self.rows(file, &COLUMNS, UsedFor::Assumptions, |row| {
            let assumption: Assumption =
                parse_choice(row.get("assumption")).map_err(|error| row.fault("assumption", error))?;
            if row.get("unit") != assumption.unit() {
                let fault = format!("found {:?}; expected {:?}", row.get("unit"), assumption.unit());
                return Err(row.fault("unit", fault));
            }
            let value = match assumption {
                Assumption::WeightOfAnEnd => Estimate::known(number(row, "likely", 0.0, 0.5)?),
                Assumption::PlanRatio => Estimate::known(number(row, "likely", 1.0, 4.0)?),
                Assumption::Stories => {
                    let stories = range(row, 10.0)?;
                    if stories.low < 1.0 {
                        return Err(row.fault("low", "found less than a story; expected 1 or more"));
                    }
                    stories
                }
                _ => range(row, 1e7)?,
            };
            fill(
                row,
                "assumption",
                found.get_mut(assumption.index() as usize),
                value,
            )
        });
        self.all_of(file, "assumption", found, Assumption::ALL)
    }

    /// One value for each term of a list.
    fn all_of<T: Default, C: Choice, const N: usize>(
        &mut self,
        file: &TableFile,
        column: &str,
        found: [Option<T>; N],
        terms: &[C],
    ) -> [T; N] {
        for (term, value) in terms.iter().zip(&found) {
            if value.is_none() {
                self.missing(file, column, &format!("{:?}", term.spelling()));
            }
        }
        found.map(Option::unwrap_or_default)
    }
}

/// Puts the one value of a term.
fn fill<T>(row: &Row<'_>, column: &str, slot: Option<&mut Option<T>>, value: T) -> Result<(), TableError> {
    match slot {
        Some(slot @ None) => {
            *slot = Some(value);
            Ok(())
        }
        _ => Err(row.fault(column, format!("found {:?} a second time", row.get(column)))),
    }
}

/// The first year of a row; blank where it is open to the past.
fn year(row: &Row<'_>) -> Result<Option<u16>, TableError> {
    row.optional("built_from", |text| {
        let year = text.parse().ok().filter(|year| (1700..=2200).contains(year));
        year.ok_or_else(|| format!("found {text:?}; expected a year, or nothing for the earliest houses"))
    })
}

/// A number within bounds.
fn number(row: &Row<'_>, column: &str, least: f64, most: f64) -> Result<f64, TableError> {
    let text = row.required(column)?;
    let number = text.parse().ok().filter(|number| (least..=most).contains(number));
    number.ok_or_else(|| {
        let found: String = text.chars().take(40).collect();
        row.fault(
            column,
            format!("found {found:?}; expected a number from {least} to {most}"),
        )
    })
}

/// Low, likely and high, in order; a likely figure that is blank is the middle of the two ends.
fn range(row: &Row<'_>, most: f64) -> Result<Estimate, TableError> {
    let (low, high) = (number(row, "low", 0.0, most)?, number(row, "high", 0.0, most)?);
    let likely = match row.get("likely") {
        "" => f64::midpoint(low, high),
        _ => number(row, "likely", 0.0, most)?,
    };
    if low > likely || likely > high {
        return Err(row.fault(
            "likely",
            "found a figure outside its range; expected low, likely and high in order",
        ));
    }
    Ok(Estimate { low, likely, high })
}

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    #[test]
    fn the_shipped_tables_read() {
        let tables = RankingTables::with(&[]).unwrap();
        assert_eq!(tables.zones.len(), 15);
        // Rows begin in 1940, 1958, 1960, 1978, 1980, 2000 and 2010.
        assert_eq!(tables.class_words().len(), 8);
        assert_eq!(tables.class_words()[0], "before 1940");
        assert_eq!(tables.class_of(1939), YearClass(0));
        assert_eq!(tables.class_of(1940), YearClass(1));
        assert_eq!(tables.class_of(2024), YearClass(7));
    }

    /// A share is that of the row whose years hold the year; where the zone is unknown it is any of them.
    #[test]
    fn a_crawl_space_is_as_likely_as_the_table_says() {
        let tables = RankingTables::shipped();
        let share = |zone: &str, year| {
            tables.likelihoods(Some(zone.parse().unwrap()), Some(tables.class_of(year)))[0].crawl_space
        };
        assert_eq!(share("3C", 1926), Estimate::known(0.435_363));
        assert_eq!(share("3C", 1959), Estimate::known(0.546_535));
        assert_eq!(share("4C", 1985), Estimate::known(0.643_659 + 0.031_802));
        let anywhere = tables.likelihoods(None, Some(tables.class_of(1926)))[0].crawl_space;
        assert_eq!((anywhere.low, anywhere.high), (0.169_440, 0.692_6));
        assert_eq!(tables.likelihoods(None, None).len(), 8);
        // A zone that the table does not have is unknown, and not another.
        assert_eq!(share("8", 1926), anywhere);
    }

    #[rstest]
    #[case("shortfall.csv", "anchorage,,0.6,0.85,0.98", "anchorage,,0.9,0.85,0.98", &["line 2", "likely", "in order"])]
    #[case("shortfall.csv", "other,,0.1", "others,,0.1", &["line 10", "part", "did you mean \"other\"?"])]
    #[case("shortfall.csv", "other,,0.1", "other,1950,0.1", &["built_from", "no row for \"other\" of the earliest"])]
    #[case("crawl-space.csv", "3C,,0.435363", "3Z,,0.435363", &["climate_zone", "3Z"])]
    #[case("crawl-space.csv", "3C,,0.435363", "3C,,1.435363", &["vented", "from 0 to 1"])]
    #[case("fragility.csv", "pre,0.18,0.29", "pre,0.38,0.29", &["line 5", "rise with the damage"])]
    #[case("losses.csv", "complete,1", "extensive,1", &["line 5", "a second time"])]
    #[case("proxies.csv", "before,pre", "before,prehistoric", &["line 2", "expected a curve of fragility.csv"])]
    #[case("costs.csv", "anchors_only,3000", "anchors_only,0", &["line 3", "over 0"])]
    #[case("costs.csv", "program-average", "hearsay", &["line 2", "source"])]
    #[case("assumptions.csv", "0.6,g", "0.6,percent", &["line 2", "unit", "expected \"g\""])]
    #[case("assumptions.csv", "weight_of_an_end,,0.25", "weight_of_an_end,,0.75", &["line 5", "from 0 to 0.5"])]
    fn a_wrong_row_is_refused_where_it_stands(
        #[case] name: &str,
        #[case] from: &str,
        #[case] to: &str,
        #[case] says: &[&str],
    ) {
        let (_, shipped) = SHIPPED.into_iter().find(|(shipped, _)| *shipped == name).unwrap();
        let text = shipped.replacen(from, to, 1);
        assert_ne!(text, shipped);
        let own = TableFile {
            path: format!("ours/{name}"),
            name: name.to_owned(),
            text,
        };
        let faults = RankingTables::with(&[own]).unwrap_err();
        let told = faults
            .iter()
            .map(ToString::to_string)
            .collect::<Vec<_>>()
            .join("\n");
        for words in says.iter().chain(&[name]) {
            assert!(told.contains(words), "{told:?} does not say {words:?}");
        }
    }

    #[test]
    fn a_file_that_is_no_table_is_refused() {
        let own = TableFile {
            path: "ours/costs-2026.csv".into(),
            name: "costs-2026.csv".into(),
            text: String::new(),
        };
        assert!(
            RankingTables::with(&[own]).unwrap_err()[0]
                .to_string()
                .contains("expected one of sources.csv")
        );
    }
}
