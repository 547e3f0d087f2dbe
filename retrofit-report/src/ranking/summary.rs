//! What a ranked list comes to: everything that a page about the portfolio tells, for a machine and for whoever renders it.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};
use std::path::PathBuf;

use retrofit_core::check::{Ruling, check_named};
use retrofit_core::choice::Choice;
use retrofit_core::provisions::Provisions;
use retrofit_core::ranking::{
    BudgetPoint, BudgetWalk, CostFrom, CutLine, EvidenceGrade, RankingTables, ShakingFrom, Sourced, Unknown,
    Work, price_sources,
};
use schemars::JsonSchema;
use serde::Serialize;

use super::ids::RepeatedIds;
use super::kept::Done;
use super::map::{MapMaker, PortfolioMap};
use super::row::{Place, rounded};
use super::{Costs, RankError, RankOptions};

/// The version of the format of a summary.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub enum RankingFormat {
    /// The second, with fingerprints by BLAKE3.
    #[default]
    #[serde(rename = "ranking-2")]
    Ranking2,
}

/// What a ranked list comes to. Money is in whole dollars; losses are those of one earthquake with the shaking told or
/// assumed for each site, by proxy curves, and no forecast.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RankingSummary {
    /// The version of this format.
    pub format: RankingFormat,
    /// The version of the program that wrote it.
    pub program_version: String,
    /// What was read.
    pub input: InputFacts,
    /// How it was ranked.
    pub settings: Settings,
    /// All houses together.
    pub all: GroupRow,
    /// What the last dollar of cost avoids: the line between funded and not.
    pub cut_line: f64,
    /// Houses by verdict; those that nobody looked at by *inferred*.
    pub verdicts: Vec<GroupRow>,
    /// Houses that were judged to fall short or to lie outside, by the deficiency to begin with.
    pub deficiencies: Vec<DeficiencyRow>,
    /// Houses by how much of their place was seen.
    pub evidence: Vec<GroupRow>,
    /// Houses by the stretches of years that the tables tell apart.
    pub eras: Vec<EraRow>,
    /// Houses by the columns asked for.
    pub cuts: Vec<CutTable>,
    /// Points along the list, evenly by houses, from none to all.
    pub budget_curve: Vec<BudgetPoint>,
    /// Where the houses stand.
    pub map: PortfolioMap,
    /// What to look at next.
    pub looks: Looks,
    /// How far the list can be relied on.
    pub stability: StabilityFacts,
    /// What the low and the high end of the figures that nobody observed do to it.
    pub sensitivity: Vec<SensitivityRow>,
    /// Where the costs come from.
    pub costs: CostFacts,
    /// What the table told and what it did not.
    pub data_quality: DataQuality,
    /// How it was come by.
    pub method: Method,
}

/// What was read.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct InputFacts {
    /// The file, as it was named.
    pub file: PathBuf,
    /// How many bytes were read of it.
    pub bytes: u64,
    /// The BLAKE3 fingerprint of those bytes, in hexadecimal digits.
    pub blake3: String,
    /// Rows that could not be read.
    pub bad_rows: u64,
}

/// How it was ranked.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Settings {
    /// The set of provisions by its name.
    pub provisions: String,
    /// Its document and edition.
    pub provisions_document: String,
    /// What there was to spend, in dollars; null: as long as a dollar avoids a dollar.
    pub budget: Option<f64>,
    /// The most that one house is given, in dollars; null: its whole cost.
    pub grant_cap: Option<f64>,
    /// The seed of the draws.
    pub seed: u64,
    /// How many worlds were drawn.
    pub draws: usize,
    /// Whether a grid of shaking was given.
    pub hazard_grid: bool,
}

/// Houses that have something in common.
#[derive(Clone, Debug, Default, PartialEq, Serialize, JsonSchema)]
pub struct GroupRow {
    /// What they have in common, as a machine spells it.
    pub name: String,
    /// The same in words.
    pub words: String,
    /// How many they are.
    pub houses: u64,
    /// How many of them the budget reaches.
    pub funded: u64,
    /// Dollars paid for those.
    pub paid: f64,
    /// Dollars of loss avoided by those.
    pub avoided: f64,
    /// Dollars of loss that could be avoided by all of them.
    pub avoidable: f64,
}

/// Houses of one governing deficiency.
#[derive(Clone, Debug, Default, PartialEq, Serialize, JsonSchema)]
pub struct DeficiencyRow {
    /// The name of the check, its title, and its houses.
    #[serde(flatten)]
    pub group: GroupRow,
}

/// Houses of one stretch of years.
#[derive(Clone, Debug, Default, PartialEq, Serialize, JsonSchema)]
pub struct EraRow {
    /// The stretch, and its houses.
    #[serde(flatten)]
    pub group: GroupRow,
    /// How many of them nobody looked at.
    pub inferred: u64,
}

/// Houses by the values of one column.
#[derive(Clone, Debug, Default, PartialEq, Serialize, JsonSchema)]
pub struct CutTable {
    /// The column.
    pub column: String,
    /// Its values, in their order.
    pub groups: Vec<GroupRow>,
}

/// What to look at next.
#[derive(Clone, Debug, Default, PartialEq, Serialize, JsonSchema)]
pub struct Looks {
    /// For each thing to find out, of how many houses it is worth most, and what that is worth in all.
    pub by_unknown: Vec<LookRow>,
    /// Houses at which no answer would change the decision.
    pub nothing_to_gain: u64,
    /// The houses at which looking is worth most, dearest first.
    pub houses: Vec<ToInspect>,
}

/// One thing to find out.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LookRow {
    /// What.
    pub unknown: Unknown,
    /// In words.
    pub words: String,
    /// At how many houses it is the one thing to find out.
    pub houses: u64,
    /// What knowing it is worth at one of them on average, in dollars of loss avoided by the same money. Worths of several
    /// houses do not add up: they share one budget.
    pub mean_worth: f64,
}

/// One house to look at.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ToInspect {
    /// Its id.
    pub id: String,
    /// Its place in the list.
    pub rank: u64,
    /// Whether the budget reaches it as it stands.
    pub funded: bool,
    /// What to find out.
    pub unknown: Unknown,
    /// In words.
    pub words: String,
    /// What knowing it is worth, in dollars.
    pub worth: f64,
}

/// How far the list can be relied on.
#[derive(Clone, Debug, Default, PartialEq, Serialize, JsonSchema)]
pub struct StabilityFacts {
    /// Houses that the budget reaches, and that it reaches in nine of ten worlds or more.
    pub funded_and_sure: u64,
    /// Houses that it reaches, and that it reaches in half of all worlds or more, but not in nine of ten.
    pub funded_and_likely: u64,
    /// Houses that it reaches, and that it reaches in fewer than half of all worlds.
    pub funded_and_unsure: u64,
    /// Houses that it does not reach, and that it would reach in half of all worlds or more.
    pub left_out_and_likely: u64,
    /// Of the houses that it reaches, the mean share of worlds in which it reaches them.
    pub mean_share: f64,
}

/// What one figure does that nobody observed.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SensitivityRow {
    /// The figure.
    pub figure: Unknown,
    /// In words.
    pub words: String,
    /// Houses whose place hangs on it.
    pub houses: u64,
    /// Loss avoided by the funded houses with the figure at its low end, in dollars.
    pub avoided_low: f64,
    /// Loss avoided by the funded houses with the figure at its high end, in dollars.
    pub avoided_high: f64,
    /// Funded houses that fall below the cut line at the low end.
    pub drop_out_at_low: u64,
    /// Houses not funded that rise above the cut line at the high end.
    pub come_in_at_high: u64,
}

/// Where the costs come from.
#[derive(Clone, Debug, Default, PartialEq, Serialize, JsonSchema)]
pub struct CostFacts {
    /// The file of unit prices, as it was named; null where they are those shipped, or where whole jobs are priced.
    pub prices_file: Option<PathBuf>,
    /// Whether the work is priced by the unit prices that are shipped, every one of which is a placeholder.
    pub prices_are_placeholders: bool,
    /// The years of the unit prices, earliest and latest; no index brings them to one year.
    pub price_years: Option<[u16; 2]>,
    /// Houses by where their cost comes from.
    pub by_source: Vec<CostRow>,
    /// What whole jobs cost by published prices, to hold the others beside.
    pub whole_jobs: Vec<WholeJobRow>,
}

/// Houses whose cost comes from one source.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct CostRow {
    /// The source.
    pub from: CostFrom,
    /// The kind of work, where whole jobs are priced; null otherwise.
    pub work: Option<Work>,
    /// In words.
    pub words: String,
    /// How many houses.
    pub houses: u64,
    /// The mean of their low, likely and high costs, in dollars.
    pub mean_cost: [f64; 3],
}

/// What whole jobs of one kind of work cost by published prices.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct WholeJobRow {
    /// The kind of work.
    pub work: Work,
    /// In words.
    pub words: String,
    /// The low, likely and high cost, in dollars of their year.
    pub cost: [f64; 3],
}

/// What the table told and what it did not.
#[derive(Clone, Debug, Default, PartialEq, Serialize, JsonSchema)]
pub struct DataQuality {
    /// Houses that nobody looked under.
    pub not_looked_at: u64,
    /// Houses without a year.
    pub no_year: u64,
    /// Houses of the year 1900, which often stands for an unknown one.
    pub year_1900: u64,
    /// Houses without a climate zone, or with one that the tables do not have.
    pub no_climate_zone: u64,
    /// Houses whose shaking is assumed.
    pub shaking_assumed: u64,
    /// Of those, houses that have a place: the grid does not reach them, or none was given.
    pub shaking_assumed_with_place: u64,
    /// Houses whose shaking is that of the grid.
    pub shaking_from_grid: u64,
    /// Houses without a place.
    pub no_place: u64,
    /// Houses whose value is assumed.
    pub value_assumed: u64,
    /// Of those, houses without a floor area.
    pub no_floor_area: u64,
    /// Ids that stand in more than one row.
    pub repeated_ids: RepeatedIds,
}

/// How it was come by.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Method {
    /// In plain words, one sentence each.
    pub sentences: Vec<String>,
    /// The documents behind the figures, and how well each was seen.
    pub sources: Vec<Sourced>,
}

/// How many houses to look at are named.
const MOST_TO_INSPECT: usize = 25;

/// How many groups a column may have.
const MOST_GROUPS: usize = 10_000;

/// Houses with something in common, counted.
#[derive(Clone, Copy, Debug, Default)]
struct Tally {
    houses: u64,
    funded: u64,
    paid: f64,
    avoided: f64,
    avoidable: f64,
    inferred: u64,
}

impl Tally {
    fn add(&mut self, place: &Place<'_>) {
        self.houses += 1;
        self.inferred += u64::from(place.evidence.verdict.is_none());
        if place.repeats.is_some() {
            return;
        }
        self.avoidable += place.score.benefit;
        if place.is_funded {
            self.funded += 1;
            self.paid += place.score.paid;
            self.avoided += place.score.benefit;
        }
    }

    fn row(&self, name: &str, words: &str) -> GroupRow {
        GroupRow {
            name: name.to_owned(),
            words: words.to_owned(),
            houses: self.houses,
            funded: self.funded,
            paid: self.paid.round(),
            avoided: self.avoided.round(),
            avoidable: self.avoidable.round(),
        }
    }
}

/// By source of the cost, and by kind of work where whole jobs are priced: houses, and the sums of low, likely and high.
type CostTallies = BTreeMap<(CostFrom, Option<Work>), (u64, [f64; 3])>;

/// One figure at its ends.
#[derive(Clone, Copy, Debug, Default)]
struct Ends {
    houses: u64,
    low: f64,
    high: f64,
    drop_out: u64,
    come_in: u64,
}

/// The figures whose ends are tried.
const TRIED: [Unknown; 5] = [
    Unknown::Anchorage,
    Unknown::Bracing,
    Unknown::Other,
    Unknown::Shaking,
    Unknown::Value,
];

/// Adds up a list, house by house, in its order.
pub(super) struct Tallies<'a> {
    options: &'a RankOptions,
    provisions: &'a Provisions,
    all: Tally,
    /// By ruling, in the order of a report, and last those that nobody looked at.
    verdicts: [Tally; 6],
    deficiencies: BTreeMap<&'static str, Tally>,
    evidence: [Tally; 4],
    /// By class of years, and last those of unknown year.
    eras: Vec<Tally>,
    /// Where each column stands among the cells, its name, and its values.
    cuts: Vec<(usize, String, BTreeMap<String, Tally>)>,
    map: MapMaker,
    looks: [(u64, f64); 8],
    nothing_to_gain: u64,
    to_inspect: BinaryHeap<Reverse<Inspect>>,
    stability: StabilityFacts,
    funded_shares: f64,
    ends: [Ends; 5],
    costs: CostTallies,
    quality: DataQuality,
}

/// A house to look at; the dearer is the greater, of equals the one that comes first.
#[derive(Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Inspect {
    /// In cents, so that it has an order.
    worth: u64,
    rank: Reverse<u64>,
    id: String,
    funded: bool,
    unknown: Unknown,
}

/// The rulings in the order of a report.
const RULINGS: [Ruling; 5] = [
    Ruling::NotMet,
    Ruling::Outside,
    Ruling::NotDetermined,
    Ruling::Met,
    Ruling::NotApplicable,
];

impl<'a> Tallies<'a> {
    pub(super) fn new(
        options: &'a RankOptions,
        provisions: &'a Provisions,
        cuts: Vec<(usize, String)>,
    ) -> Self {
        Self {
            options,
            provisions,
            all: Tally::default(),
            verdicts: Default::default(),
            deficiencies: BTreeMap::new(),
            evidence: Default::default(),
            eras: vec![Tally::default(); options.tables.class_words().len() + 1],
            cuts: cuts
                .into_iter()
                .map(|(at, column)| (at, column, BTreeMap::new()))
                .collect(),
            map: MapMaker::new(),
            looks: Default::default(),
            nothing_to_gain: 0,
            to_inspect: BinaryHeap::new(),
            stability: StabilityFacts::default(),
            funded_shares: 0.0,
            ends: Default::default(),
            costs: CostTallies::new(),
            quality: DataQuality::default(),
        }
    }

    pub(super) fn add(&mut self, place: &Place<'_>, cut: CutLine) -> Result<(), RankError> {
        self.all.add(place);
        let verdict = place.ruling().map_or(RULINGS.len(), |ruling| {
            RULINGS
                .iter()
                .position(|other| *other == ruling)
                .unwrap_or_default()
        });
        let year = place.evidence.year;
        let last = self.eras.len() - 1;
        let era = year.map_or(last, |year| self.options.tables.class_of(year).position());
        let grade = place.grade().index() as usize;
        let of_house = [
            self.verdicts.get_mut(verdict),
            self.evidence.get_mut(grade),
            self.eras.get_mut(era),
        ];
        for tally in of_house.into_iter().flatten() {
            tally.add(place);
        }
        if let Some(check) = place.deficiency() {
            self.deficiencies.entry(check).or_default().add(place);
        }
        for (at, column, groups) in &mut self.cuts {
            let value = place.cells.get(*at).copied().unwrap_or_default();
            if let Some(tally) = groups.get_mut(value) {
                tally.add(place);
                continue;
            }
            if groups.len() == MOST_GROUPS {
                return Err(RankError::TooManyGroups {
                    path: self.options.houses.clone(),
                    column: column.clone(),
                    most: MOST_GROUPS,
                });
            }
            groups.entry(value.to_owned()).or_default().add(place);
        }
        self.map.add(place);
        self.add_quality(place);
        self.add_cost(place);
        if place.repeats.is_none() {
            self.add_look(place);
            self.add_stability(place);
            self.add_ends(place, cut);
        }
        Ok(())
    }

    fn add_look(&mut self, place: &Place<'_>) {
        let Some((unknown, worth)) = place.look else {
            self.nothing_to_gain += 1;
            return;
        };
        if let Some((houses, all)) = self.looks.get_mut(unknown.index() as usize) {
            *houses += 1;
            *all += worth;
        }
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "dollars of one house; a float saturates"
        )]
        let cents = (worth * 100.0).round() as u64;
        let is_among_them = self.to_inspect.len() < MOST_TO_INSPECT
            || self
                .to_inspect
                .peek()
                .is_some_and(|Reverse(least)| (cents, Reverse(place.rank)) > (least.worth, least.rank));
        if is_among_them {
            self.to_inspect.push(Reverse(Inspect {
                worth: cents,
                rank: Reverse(place.rank),
                id: place.id.to_owned(),
                funded: place.is_funded,
                unknown,
            }));
            if self.to_inspect.len() > MOST_TO_INSPECT {
                self.to_inspect.pop();
            }
        }
    }

    fn add_stability(&mut self, place: &Place<'_>) {
        let share = place.among.funded;
        let facts = &mut self.stability;
        match (place.is_funded, share) {
            (true, 0.9..) => facts.funded_and_sure += 1,
            (true, 0.5..) => facts.funded_and_likely += 1,
            (true, _) => facts.funded_and_unsure += 1,
            (false, 0.5..) => facts.left_out_and_likely += 1,
            (false, _) => {}
        }
        if place.is_funded {
            self.funded_shares += share;
        }
    }

    fn add_ends(&mut self, place: &Place<'_>, cut: CutLine) {
        for (ends, figure) in self.ends.iter_mut().zip(TRIED) {
            let [low, high] = place.prospect.at_the_ends(figure);
            ends.houses += u64::from(place.prospect.is_open(figure));
            let line = cut.per_dollar() * place.score.cost;
            if place.is_funded {
                ends.low += low;
                ends.high += high;
                ends.drop_out += u64::from(low < line && place.prospect.is_open(figure));
            } else {
                ends.come_in += u64::from(high > line && place.prospect.is_open(figure));
            }
        }
    }

    fn add_cost(&mut self, place: &Place<'_>) {
        let (cost, from) = (place.prospect.cost, place.prospect.cost_from);
        let work = (from == CostFrom::WholeJobs).then_some(place.evidence.work);
        let (houses, sums) = self.costs.entry((from, work)).or_default();
        *houses += 1;
        for (sum, end) in sums.iter_mut().zip([cost.low, cost.likely, cost.high]) {
            *sum += end;
        }
    }

    fn add_quality(&mut self, place: &Place<'_>) {
        let (evidence, quality) = (place.evidence, &mut self.quality);
        for (count, holds) in [
            (&mut quality.not_looked_at, evidence.verdict.is_none()),
            (&mut quality.no_year, evidence.year.is_none()),
            (&mut quality.year_1900, evidence.year == Some(1900)),
            (&mut quality.no_climate_zone, !place.zone_is_known),
            (&mut quality.shaking_assumed, evidence.shaking.is_none()),
            (
                &mut quality.shaking_assumed_with_place,
                evidence.shaking.is_none() && evidence.place.is_some(),
            ),
            (
                &mut quality.shaking_from_grid,
                evidence.shaking_from == ShakingFrom::Grid,
            ),
            (&mut quality.no_place, evidence.place.is_none()),
            (&mut quality.value_assumed, evidence.replacement_value.is_none()),
            (
                &mut quality.no_floor_area,
                evidence.replacement_value.is_none() && evidence.floor_area.is_none(),
            ),
        ] {
            *count += u64::from(holds);
        }
    }

    pub(super) fn finish(
        mut self,
        walk: &BudgetWalk,
        repeated_ids: RepeatedIds,
        done: &Done,
    ) -> RankingSummary {
        let options = self.options;
        let inputs = done.inputs();
        let input = inputs.first();
        self.quality.repeated_ids = repeated_ids;
        let funded = walk.funded().houses;
        if funded > 0 {
            self.stability.mean_share = rounded(self.funded_shares / as_number(funded), 1000.0);
        }
        let years = options.tables.class_words();
        let years = years.iter().map(String::as_str).chain(["year unknown"]);
        let verdicts = RULINGS
            .iter()
            .map(|ruling| (spelled(*ruling), ruling.words()))
            .chain([("inferred", "inferred: nobody looked")]);
        let mut to_inspect = self.to_inspect.into_sorted_vec();
        to_inspect.truncate(MOST_TO_INSPECT);
        RankingSummary {
            format: RankingFormat::default(),
            program_version: env!("CARGO_PKG_VERSION").to_owned(),
            input: InputFacts {
                file: options.houses.clone(),
                bytes: input.map_or(0, |input| input.bytes),
                blake3: input.map_or_else(String::new, |input| input.blake3.clone()),
                bad_rows: done.bad_rows(),
            },
            settings: Settings {
                provisions: self.provisions.id.clone(),
                provisions_document: format!("{} {}", self.provisions.document, self.provisions.edition),
                budget: options.budget,
                grant_cap: options.money.grant_cap,
                seed: options.seed,
                draws: options.draws,
                hazard_grid: options.hazard.is_some(),
            },
            all: self.all.row("all", "all houses"),
            cut_line: rounded(walk.cut_line().per_dollar(), 1000.0),
            verdicts: verdicts
                .zip(&self.verdicts)
                .filter(|(_, tally)| tally.houses > 0)
                .map(|((name, words), tally)| tally.row(name, words))
                .collect(),
            deficiencies: deficiencies(&self.deficiencies),
            evidence: EvidenceGrade::ALL
                .iter()
                .zip(&self.evidence)
                .map(|(grade, tally)| tally.row(grade.spelling(), grade.words()))
                .collect(),
            eras: years
                .zip(&self.eras)
                .map(|(years, tally)| EraRow {
                    group: tally.row(years, years),
                    inferred: tally.inferred,
                })
                .collect(),
            cuts: self
                .cuts
                .into_iter()
                .map(|(_, column, groups)| CutTable {
                    column,
                    groups: groups
                        .iter()
                        .map(|(value, tally)| tally.row(value, value))
                        .collect(),
                })
                .collect(),
            budget_curve: walk.curve().into_iter().map(in_dollars).collect(),
            map: self.map.finish(),
            looks: Looks {
                by_unknown: Unknown::ALL
                    .iter()
                    .zip(self.looks)
                    .filter(|(_, (houses, _))| *houses > 0)
                    .map(|(unknown, (houses, worth))| LookRow {
                        unknown: *unknown,
                        words: unknown.words().to_owned(),
                        houses,
                        mean_worth: (worth / as_number(houses)).round(),
                    })
                    .collect(),
                nothing_to_gain: self.nothing_to_gain,
                houses: to_inspect
                    .into_iter()
                    .map(|Reverse(house)| inspect(house))
                    .collect(),
            },
            stability: self.stability,
            sensitivity: TRIED
                .iter()
                .zip(&self.ends)
                .map(|(figure, ends)| sensitivity(*figure, ends))
                .collect(),
            costs: cost_facts(options, &self.costs),
            data_quality: self.quality,
            method: Method {
                sentences: sentences(options, &options.tables),
                sources: sources(options),
            },
        }
    }
}

#[expect(clippy::cast_precision_loss, reason = "a count of houses")]
const fn as_number(houses: u64) -> f64 {
    houses as f64
}

/// A ruling as JSON spells it.
const fn spelled(ruling: Ruling) -> &'static str {
    match ruling {
        Ruling::NotMet => "not_met",
        Ruling::Outside => "outside",
        Ruling::NotDetermined => "not_determined",
        Ruling::Met => "met",
        Ruling::NotApplicable => "not_applicable",
    }
}

/// The commonest first; of equals, by name.
fn deficiencies(tallies: &BTreeMap<&'static str, Tally>) -> Vec<DeficiencyRow> {
    let mut rows: Vec<DeficiencyRow> = tallies
        .iter()
        .map(|(check, tally)| DeficiencyRow {
            group: tally.row(check, check_named(check).map_or(check, |check| check.title)),
        })
        .collect();
    rows.sort_by_key(|row| Reverse(row.group.houses));
    rows
}

fn in_dollars(point: BudgetPoint) -> BudgetPoint {
    BudgetPoint {
        houses: point.houses,
        paid: point.paid.round(),
        benefit: point.benefit.round(),
    }
}

fn inspect(house: Inspect) -> ToInspect {
    #[expect(clippy::cast_precision_loss, reason = "cents of one house")]
    let worth = house.worth as f64 / 100.0;
    ToInspect {
        id: house.id,
        rank: house.rank.0,
        funded: house.funded,
        unknown: house.unknown,
        words: house.unknown.words().to_owned(),
        worth: worth.round(),
    }
}

fn sensitivity(figure: Unknown, ends: &Ends) -> SensitivityRow {
    SensitivityRow {
        figure,
        words: figure.words().to_owned(),
        houses: ends.houses,
        avoided_low: ends.low.round(),
        avoided_high: ends.high.round(),
        drop_out_at_low: ends.drop_out,
        come_in_at_high: ends.come_in,
    }
}

fn cost_facts(options: &RankOptions, costs: &CostTallies) -> CostFacts {
    let years = options.costs.prices().map(|prices| {
        let years = prices.rows().iter().map(|row| row.price_year);
        [years.clone().min(), years.max()].map(Option::unwrap_or_default)
    });
    CostFacts {
        prices_file: match &options.costs {
            Costs::Own { file, .. } => Some(file.clone()),
            Costs::Placeholder | Costs::WholeJobs => None,
        },
        prices_are_placeholders: options.costs == Costs::Placeholder,
        price_years: years,
        by_source: costs
            .iter()
            .map(|((from, work), (houses, sums))| CostRow {
                from: *from,
                work: *work,
                words: match work {
                    Some(work) => format!("{}: {}", from.words(), work.words()),
                    None => from.words().to_owned(),
                },
                houses: *houses,
                mean_cost: sums.map(|sum| (sum / as_number(*houses)).round()),
            })
            .collect(),
        whole_jobs: Work::ALL
            .iter()
            .map(|work| {
                let cost = options.tables.whole_job(*work);
                WholeJobRow {
                    work: *work,
                    words: work.words().to_owned(),
                    cost: [cost.low, cost.likely, cost.high],
                }
            })
            .collect(),
    }
}

/// The documents behind the figures, those of the unit prices last.
fn sources(options: &RankOptions) -> Vec<Sourced> {
    let mut sources = options.tables.sources().to_vec();
    sources.extend(options.costs.prices().into_iter().flat_map(price_sources));
    sources
}

/// What the costs are, and what they leave out.
fn cost_sentences(costs: &Costs) -> Vec<String> {
    let prices = match costs {
        Costs::WholeJobs => {
            return vec![
                "What the work costs is a published range for whole jobs of its kind, alike for small houses and large \
                 ones. They are prices of several years."
                    .to_owned(),
            ];
        }
        Costs::Placeholder => {
            "The unit prices are placeholders: they stand in until prices of your own take their place, and so does every \
             cost that rests on them."
                .to_owned()
        }
        Costs::Own { file, .. } => format!("The unit prices are those of {}.", file.display()),
    };
    vec![
        "What the work costs is the takeoff of a bare house: a rectangle of the size, stories, weight and cripple wall of \
         the house, with only those parts paid for that fall short or are open, laid out and counted as for a single \
         house. What is known of a house is taken from its row; what is not is assumed, and its cost says so."
            .to_owned(),
        "Work that is there and falls short is not credited, which the takeoff of a single house does piece by piece. Sill, \
         posts, framing, permits, access, and whatever a contractor adds are not counted."
            .to_owned(),
        prices,
        "The low cost is that of everything cheap at once, and the high cost that of everything dear at once.".to_owned(),
        "For an engineered design or a new foundation there is no layout to count: published ranges for whole jobs stand \
         in, and for houses of a size or kind that has no layout."
            .to_owned(),
    ]
}

/// How the list was come by, in plain words.
fn sentences(options: &RankOptions, tables: &RankingTables) -> Vec<String> {
    let [before, after] = tables.proxies();
    let line = match options.budget {
        Some(_) => {
            "Houses are paid for from the top of the list until one is too dear for what is left of the budget."
        }
        None => "Without a budget, houses are paid for as long as a dollar avoids a dollar of loss.",
    };
    let mut sentences = vec![
        "A house that somebody looked under is judged by the prescriptive checks; what they found short is short.".to_owned(),
        "Any other house is inferred: from the share of houses of its years and climate zone that stand over a crawl \
         space, and from assumptions on how likely anchors and bracing of its years fall short. Nobody saw them."
            .to_owned(),
        format!(
            "What a house may lose is read off the published damage curve {before:?} before and {after:?} after the \
             work. They are proxies: neither was made for a house on unbraced cripple walls. They put houses in order \
             and forecast nothing."
        ),
        "The list is in the order of loss avoided for each dollar that the work costs, whoever pays it; of equals, by id. \
         Money set aside for a house counts as spent, whether or not it turns out to need it."
            .to_owned(),
        line.to_owned(),
        format!(
            "To see how far the list can be relied on, everything unknown was drawn {} times from its range (seed {}), \
             and the list made anew each time.",
            options.draws, options.seed
        ),
        "What to look at next is computed: how much more the same money would avoid on average if the answer were known \
         before it is spent. It is worked out house by house at the cut line."
            .to_owned(),
    ];
    sentences.extend(cost_sentences(&options.costs));
    if let Some(cap) = options.money.grant_cap {
        sentences.push(format!(
            "No house is given more than ${cap:.0}; its owner bears the rest."
        ));
    }
    if options.hazard.is_some() {
        sentences.push(
            "Shaking is that of the column where it tells one, and otherwise interpolated between the four points of \
             the grid around the house. Outside the grid it is unknown."
                .to_owned(),
        );
    }
    sentences.push(
        "No house in the list is called safe, and none unsafe. The local code official and a licensed engineer decide."
            .to_owned(),
    );
    sentences
}
