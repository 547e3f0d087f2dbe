//! What strengthening one house may avoid, what it costs, and what knowing one thing more would be worth.

use super::budget::CutLine;
use super::cost::{CostFrom, JobCost};
use super::estimate::{End, Estimate};
use super::evidence::{Evidence, Seen};
use super::tables::{Assumption, Likelihoods, RankingTables, YearClass};
use super::worlds::World;
use crate::choice::{Choice, choices};

choices! {
    /// Something that may be unknown of a house, and that somebody could find out.
    pub enum Unknown: "unknown" {
        /// Whether it stands over a crawl space.
        CrawlSpace = "crawl_space", "whether there is a crawl space";
        /// Its year.
        Year = "year", "the year it was built";
        /// Its anchors.
        Anchorage = "anchorage", "the anchors of the sill";
        /// Its bracing.
        Bracing = "bracing", "the bracing of the cripple walls";
        /// Everything else under the floor.
        Other = "other", "sill, framing, floor, posts and foundation";
        /// The shaking of its site.
        Shaking = "shaking", "the shaking of the site";
        /// Its value.
        Value = "value", "the replacement value";
        /// What the work will cost.
        Cost = "cost", "a bid for the work";
    }
}

/// How the program pays.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Money {
    /// The most that one house is given, in dollars; the owner bears the rest. `None` to bear the whole cost.
    pub grant_cap: Option<f64>,
}

impl Money {
    /// What the program pays of a cost.
    fn pays(self, cost: f64) -> f64 {
        self.grant_cap.map_or(cost, |cap| cost.min(cap))
    }
}

/// What strengthening one house may avoid, and what it costs: all factors, each known or estimated.
///
/// The factors are taken as independent of one another, the year aside, on which several hang together.
#[derive(Clone, Debug)]
pub struct Prospect<'t> {
    /// How likely crawl space and shortfall are; one for each class of years where the year is unknown.
    likely: &'t [Likelihoods],
    seen: [Seen; 3],
    looked: bool,
    /// Loss avoided, as a share of the value.
    pub avoided: Estimate,
    /// Loss before, as a share of the value, at the likely shaking.
    pub loss_before: f64,
    /// Loss after, as a share of the value, at the likely shaking.
    pub loss_after: f64,
    /// Replacement value in dollars.
    pub value: Estimate,
    /// What the work costs, in dollars.
    pub cost: Estimate,
    /// Where that comes from.
    pub cost_from: CostFrom,
    /// What the program pays of it, in dollars.
    pub paid: Estimate,
    end: f64,
}

/// What a house comes to on average over everything unknown.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Score {
    /// Loss avoided by strengthening it, in dollars, should the shaking come.
    pub benefit: f64,
    /// What that costs, in dollars, whoever pays it.
    pub cost: f64,
    /// What the program pays of it, in dollars.
    pub paid: f64,
}

impl Score {
    /// Dollars of loss avoided for a dollar of cost: by this, and not by what is paid of the cost, houses are put in
    /// order, so that a cap on grants puts no house first whose owner would have to bear nearly all.
    pub fn per_dollar(self) -> f64 {
        if self.cost > 0.0 {
            self.benefit / self.cost
        } else {
            0.0
        }
    }
}

/// A house with everything settled that was unknown of it. There are only a few such cases.
#[derive(Clone, Copy, Debug)]
pub(super) struct Case {
    /// Whether there is something to strengthen.
    pub(super) has_need: bool,
    /// The end at which the shaking lies.
    pub(super) shaking: End,
    /// The end at which the value lies.
    pub(super) value: End,
    /// The end at which the cost lies.
    pub(super) cost: End,
}

/// How likely it is that a house stands over a crawl space, and that each part falls short.
#[derive(Clone, Copy, Debug)]
struct Chances {
    weight: f64,
    crawl: f64,
    parts: [f64; 3],
}

impl Chances {
    /// How likely it is that any part falls short.
    fn any_short(&self) -> f64 {
        1.0 - self.parts.iter().map(|short| 1.0 - short).product::<f64>()
    }

    /// How likely it is that there is something to strengthen.
    fn need(&self) -> f64 {
        self.crawl * self.any_short()
    }

    /// The same with one part known.
    fn knowing(mut self, part: usize, is_short: bool) -> Self {
        if let Some(chance) = self.parts.get_mut(part) {
            *chance = f64::from(u8::from(is_short));
        }
        self
    }
}

impl<'t> Prospect<'t> {
    /// What the tables infer from the evidence, for work that costs so much.
    pub fn of(evidence: &Evidence, tables: &'t RankingTables, cost: JobCost, money: Money) -> Self {
        let [before, after] = tables.losses(evidence.shaking);
        let value = evidence.replacement_value.map_or_else(
            || {
                let area = evidence
                    .floor_area
                    .map_or_else(|| tables.assumed(Assumption::FloorArea), Estimate::known);
                tables.assumed(Assumption::ValuePerSquareFoot).times(area)
            },
            Estimate::known,
        );
        Self {
            likely: tables.likelihoods(
                evidence.climate_zone,
                evidence.year.map(|year| tables.class_of(year)),
            ),
            seen: evidence.parts,
            looked: evidence.verdict.is_some(),
            avoided: before.with(after, |before, after| (before - after).max(0.0)),
            loss_before: before.likely,
            loss_after: after.likely,
            value,
            cost: cost.range,
            cost_from: cost.from,
            paid: cost.range.map(|cost| money.pays(cost)),
            end: tables.end_weight(),
        }
    }

    /// The chances under each class of years that it may belong to, all alike.
    fn chances(&self) -> impl Iterator<Item = Chances> + Clone {
        let weight = 1.0 / f64::from(u32::try_from(self.likely.len().max(1)).unwrap_or(1));
        self.likely.iter().map(move |likely| Chances {
            weight,
            crawl: if self.looked {
                1.0
            } else {
                likely.crawl_space.mean(self.end)
            },
            parts: self.parts(likely.short.map(|short| short.mean(self.end))),
        })
    }

    /// What was seen of each part, and the given chance where it is open.
    fn parts(&self, open: [f64; 3]) -> [f64; 3] {
        let mut parts = open;
        for (part, seen) in parts.iter_mut().zip(self.seen) {
            match seen {
                Seen::Short => *part = 1.0,
                Seen::NotShort => *part = 0.0,
                Seen::Open => {}
            }
        }
        parts
    }

    /// How likely it is that there is something to strengthen.
    pub fn need(&self) -> f64 {
        self.chances()
            .map(|chances| chances.weight * chances.need())
            .sum()
    }

    /// How likely it is that it stands over a crawl space.
    pub fn crawl_space(&self) -> f64 {
        self.chances().map(|chances| chances.weight * chances.crawl).sum()
    }

    /// What is lost, on average, where there is something to strengthen.
    fn stake(&self) -> f64 {
        self.avoided.mean(self.end) * self.value.mean(self.end)
    }

    /// Loss avoided on average, in dollars.
    pub fn benefit(&self) -> f64 {
        self.need() * self.stake()
    }

    /// Benefit and payment on average.
    pub fn score(&self) -> Score {
        Score {
            benefit: self.benefit(),
            cost: self.cost.mean(self.end),
            paid: self.paid.mean(self.end),
        }
    }

    /// Whether something is unknown of this house that could be found out.
    pub fn is_open(&self, unknown: Unknown) -> bool {
        match unknown {
            Unknown::CrawlSpace => !self.looked,
            Unknown::Year => self.likely.len() > 1 && self.seen.contains(&Seen::Open),
            Unknown::Anchorage | Unknown::Bracing | Unknown::Other => {
                part_of(unknown).and_then(|part| self.seen.get(part)) == Some(&Seen::Open)
            }
            Unknown::Shaking => !self.avoided.is_known(),
            Unknown::Value => !self.value.is_known(),
            Unknown::Cost => !self.cost.is_known(),
        }
    }

    /// What knowing one thing would be worth to the decision to pay for this house or not, in dollars of loss avoided.
    ///
    /// Without it, the better of two courses is taken: to leave the house out, or to do the work, which at the cut line
    /// has to avoid what the same money would avoid elsewhere. With it, the better course is taken in every case; how much better that
    /// is on average is its value. It is never less than zero, and zero where no answer would change the decision.
    pub fn value_of_learning(&self, unknown: Unknown, cut: CutLine) -> f64 {
        if !self.is_open(unknown) {
            return 0.0;
        }
        let score = self.score();
        let gain = |benefit: f64, cost: f64| (benefit - cut.per_dollar() * cost).max(0.0);
        let now = gain(score.benefit, score.cost);
        let stake = self.stake();
        let informed = match unknown {
            Unknown::CrawlSpace => {
                let crawl = self.crawl_space();
                if crawl > 0.0 {
                    crawl * gain(score.benefit / crawl, score.cost)
                } else {
                    0.0
                }
            }
            Unknown::Year => self
                .chances()
                .map(|chances| chances.weight * gain(chances.need() * stake, score.cost))
                .sum(),
            Unknown::Anchorage | Unknown::Bracing | Unknown::Other => {
                let part = part_of(unknown).unwrap_or_default();
                [true, false]
                    .map(|is_short| self.knowing_part(part, is_short))
                    .map(|(chance, need)| chance * gain(need * stake, score.cost))
                    .iter()
                    .sum()
            }
            Unknown::Shaking => {
                let rest = self.need() * self.value.mean(self.end);
                over(self.avoided.points(self.end), |avoided| {
                    gain(rest * avoided, score.cost)
                })
            }
            Unknown::Value => {
                let rest = self.need() * self.avoided.mean(self.end);
                over(self.value.points(self.end), |value| {
                    gain(rest * value, score.cost)
                })
            }
            Unknown::Cost => over(self.cost.points(self.end), |cost| gain(score.benefit, cost)),
        };
        (informed - now).max(0.0)
    }

    /// How likely an answer about a part is, and how likely, given that answer, there is something to strengthen.
    fn knowing_part(&self, part: usize, is_short: bool) -> (f64, f64) {
        let (mut chance, mut need) = (0.0, 0.0);
        for chances in self.chances() {
            let short = chances.parts.get(part).copied().unwrap_or_default();
            let answer = chances.weight * if is_short { short } else { 1.0 - short };
            chance += answer;
            need += answer * chances.knowing(part, is_short).need();
        }
        if chance > 0.0 {
            (chance, need / chance)
        } else {
            (0.0, 0.0)
        }
    }

    /// The one thing that would change the decision most, and what knowing it is worth; of equals, the first of
    /// [`Unknown::ALL`]. `None` where no answer would change it.
    pub fn look_next(&self, cut: CutLine) -> Option<(Unknown, f64)> {
        let mut best: Option<(Unknown, f64)> = None;
        for unknown in Unknown::ALL {
            let value = self.value_of_learning(*unknown, cut);
            // Less than a cent is what rounding leaves.
            if value > best.map_or(0.01, |(_, value)| value) {
                best = Some((*unknown, value));
            }
        }
        best
    }

    /// The benefit with one figure of the tables at its low and at its high end, the others as they are.
    pub fn at_the_ends(&self, figure: Unknown) -> [f64; 2] {
        let at = |low: bool| {
            let end = |estimate: Estimate| if low { estimate.low } else { estimate.high };
            match figure {
                Unknown::Shaking => self.need() * end(self.avoided) * self.value.mean(self.end),
                Unknown::Value => self.need() * self.avoided.mean(self.end) * end(self.value),
                Unknown::Anchorage | Unknown::Bracing | Unknown::Other => {
                    let part = part_of(figure).unwrap_or_default();
                    let need: f64 = self
                        .chances()
                        .zip(self.likely)
                        .map(|(mut chances, likely)| {
                            if let (Some(Seen::Open), Some(chance), Some(short)) = (
                                self.seen.get(part),
                                chances.parts.get_mut(part),
                                likely.short.get(part),
                            ) {
                                *chance = end(*short);
                            }
                            chances.weight * chances.need()
                        })
                        .sum();
                    need * self.stake()
                }
                Unknown::CrawlSpace | Unknown::Year | Unknown::Cost => self.benefit(),
            }
        };
        [at(true), at(false)]
    }

    /// What the house comes to in one drawn world; `even` gives numbers drawn evenly from 0 to 1.
    #[inline]
    pub(super) fn drawn(&self, world: &World, first_class: usize, mut even: impl FnMut() -> f64) -> Case {
        // Every draw takes as many numbers, whatever is known, so that learning one thing leaves the others as drawn.
        let [year, crawl, anchorage, bracing, other, cost] = std::array::from_fn(|_| even());
        let classes = self.likely.len().max(1);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            clippy::cast_precision_loss,
            reason = "a number from 0 to 1 times a handful"
        )]
        let class = ((year * classes as f64) as usize).min(classes - 1);
        let crawl_space = if self.looked {
            1.0
        } else {
            let likely = self.likely.get(class);
            likely.map_or(0.0, |likely| likely.crawl_space.mean(self.end))
        };
        let open = world
            .chances
            .get(first_class + class)
            .copied()
            .unwrap_or_default();
        let [no_anchorage, no_bracing, no_other] = self.parts(open);
        #[expect(
            clippy::needless_bitwise_bool,
            reason = "all are compared at once: no processor can tell beforehand which way a draw goes"
        )]
        let is_short = (anchorage < no_anchorage) | (bracing < no_bracing) | (other < no_other);
        // What is known is the same at every end.
        let end_of = |estimate: Estimate, end| if estimate.is_known() { End::Likely } else { end };
        Case {
            has_need: (crawl < crawl_space) & is_short,
            shaking: end_of(self.avoided, world.shaking),
            value: end_of(self.value, world.value),
            cost: end_of(self.cost, End::drawn(self.end, cost)),
        }
    }

    /// What the house comes to in such a case.
    pub(super) fn in_case(&self, case: Case) -> Score {
        Score {
            benefit: if case.has_need {
                self.avoided.at(case.shaking) * self.value.at(case.value)
            } else {
                0.0
            },
            cost: self.cost.at(case.cost),
            paid: self.paid.at(case.cost),
        }
    }

    /// Which class of years it belongs to; the first where that is unknown.
    pub(super) fn first_class(evidence: &Evidence, tables: &RankingTables) -> usize {
        evidence.year.map_or(0, |year| tables.class_of(year).0)
    }

    /// Whether anything could come out otherwise in another draw.
    pub fn is_settled(&self) -> bool {
        Unknown::ALL.iter().all(|unknown| !self.is_open(*unknown))
    }
}

/// The position of a part among all.
const fn part_of(unknown: Unknown) -> Option<usize> {
    match unknown {
        Unknown::Anchorage => Some(0),
        Unknown::Bracing => Some(1),
        Unknown::Other => Some(2),
        _ => None,
    }
}

/// The mean of a function over three points.
fn over(points: [(f64, f64); 3], of: impl Fn(f64) -> f64) -> f64 {
    points.iter().map(|(weight, value)| weight * of(*value)).sum()
}

impl YearClass {
    /// The position of the class among those of the tables.
    pub const fn position(self) -> usize {
        self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::portfolio::Part;
    use crate::ranking::Pricing;
    use proptest::prelude::*;

    /// With the cost of whole jobs.
    fn of<'t>(evidence: &Evidence, tables: &'t RankingTables, money: Money) -> Prospect<'t> {
        Prospect::of(
            evidence,
            tables,
            Pricing::by_whole_jobs(tables).of(evidence),
            money,
        )
    }

    fn evidence() -> impl Strategy<Value = Evidence> {
        let seen = prop_oneof![Just(Seen::Open), Just(Seen::Short), Just(Seen::NotShort)];
        (
            prop::option::of(1890u16..2000),
            prop::option::of(prop_oneof![Just("3C"), Just("4C"), Just("7")]),
            prop::option::of(0.05f64..1.5),
            prop::option::of(50_000.0f64..2e6),
            prop::option::of(500.0f64..4000.0),
            prop::array::uniform3(seen),
        )
            .prop_map(
                |(year, zone, shaking, replacement_value, floor_area, parts)| Evidence {
                    year,
                    climate_zone: zone.map(|zone| zone.parse().unwrap()),
                    shaking,
                    replacement_value,
                    floor_area,
                    parts,
                    ..Evidence::default()
                },
            )
    }

    proptest! {
        /// Looking is never worth less than nothing, and nothing where no answer changes the decision.
        #[test]
        fn learning_is_worth_no_less_than_nothing(evidence in evidence(), cut in 0.1f64..30.0) {
            let prospect = of(&evidence, RankingTables::shipped(), Money::default());
            for unknown in Unknown::ALL {
                let worth = prospect.value_of_learning(*unknown, CutLine::at(cut));
                prop_assert!(worth >= 0.0);
                prop_assert!(worth.is_finite());
                // Nothing is worth more than knowing everything, which is worth no more than the benefit at best.
                let most = prospect.avoided.high * prospect.value.high;
                prop_assert!(worth <= most + 1e-6, "{worth} of {most}");
            }
            prop_assert!(prospect.look_next(CutLine::at(0.0)).is_none(), "without a cut line every house is paid for");
        }

        /// The mean over all answers is what is expected without one.
        #[test]
        fn answers_average_to_what_is_expected(evidence in evidence(), part in 0usize..3) {
            let prospect = of(&evidence, RankingTables::shipped(), Money::default());
            let answers = [true, false].map(|is_short| prospect.knowing_part(part, is_short));
            let chance: f64 = answers.iter().map(|(chance, _)| chance).sum();
            let need: f64 = answers.iter().map(|(chance, need)| chance * need).sum();
            prop_assert!((chance - 1.0).abs() < 1e-12);
            prop_assert!((need - prospect.need()).abs() < 1e-12);
        }

        /// Twice the value is twice the benefit; more shaking is never less loss before.
        #[test]
        fn benefit_scales_with_value(evidence in evidence(), times in 1.0f64..4.0) {
            let tables = RankingTables::shipped();
            let value = 250_000.0;
            let of = |replacement_value| {
                let evidence = Evidence { replacement_value: Some(replacement_value), ..evidence };
                of(&evidence, tables, Money::default()).benefit()
            };
            let (once, scaled) = (of(value), of(value * times));
            prop_assert!((scaled - once * times).abs() <= 1e-9 * scaled.max(1.0));
        }

        /// The low end of a chance of shortfall never avoids more than the high end.
        #[test]
        fn ends_are_in_order(evidence in evidence()) {
            let prospect = of(&evidence, RankingTables::shipped(), Money::default());
            for unknown in Unknown::ALL {
                let [low, high] = prospect.at_the_ends(*unknown);
                prop_assert!(low <= high + 1e-9);
            }
        }
    }

    /// Against every case counted out: a house of unknown year, with two parts open.
    #[test]
    fn the_value_of_learning_is_that_of_every_case_counted_out() {
        let tables = RankingTables::shipped();
        let evidence = Evidence {
            climate_zone: Some("3C".parse().unwrap()),
            shaking: Some(0.6),
            replacement_value: Some(300_000.0),
            parts: [Seen::Open, Seen::NotShort, Seen::Open],
            ..Evidence::default()
        };
        let prospect = of(&evidence, tables, Money::default());
        let stake = 300_000.0 * (tables.before().expected_loss(0.6) - tables.after().expected_loss(0.6));
        let (cost, cut) = (prospect.score().cost, 7.0);
        let classes = tables.likelihoods(evidence.climate_zone, None);
        // Every combination of year, crawl space, anchors and the rest: its chance, and whether there is a need.
        let mut cases = Vec::new();
        let years = f64::from(u32::try_from(classes.len()).unwrap());
        for (year, likely) in classes.iter().enumerate() {
            for answers in 0..8u8 {
                let [crawl, anchors, rest] = [1, 2, 4].map(|bit| answers & bit != 0);
                let chance = |chance: f64, is_so| if is_so { chance } else { 1.0 - chance };
                let weight = chance(likely.crawl_space.mean(0.25), crawl)
                    * chance(likely.short[0].mean(0.25), anchors)
                    * chance(likely.short[2].mean(0.25), rest)
                    / years;
                cases.push(Case {
                    year,
                    crawl,
                    anchors,
                    rest,
                    weight,
                });
            }
        }
        // What the better course brings over the cases that an answer leaves.
        let gain = |is_left: &dyn Fn(&Case) -> bool| {
            let left = cases.iter().filter(|case| is_left(case));
            let net: f64 = left
                .map(|case| case.weight * (if case.need() { stake } else { 0.0 } - cut * cost))
                .sum();
            net.max(0.0)
        };
        let now = gain(&|_| true);
        let of_years: f64 = (0..classes.len())
            .map(|year| gain(&|case| case.year == year))
            .sum();
        let yes_or_no = |of: fn(&Case) -> bool| gain(&of) + gain(&move |case| !of(case));
        for (unknown, informed) in [
            (Unknown::Year, of_years),
            (Unknown::CrawlSpace, yes_or_no(|case| case.crawl)),
            (Unknown::Anchorage, yes_or_no(|case| case.anchors)),
            (Unknown::Other, yes_or_no(|case| case.rest)),
            (Unknown::Bracing, now),
        ] {
            let worth = prospect.value_of_learning(unknown, CutLine::at(cut));
            assert!(
                (worth - (informed - now)).abs() < 1e-6,
                "{unknown}: {worth}, {}",
                informed - now
            );
        }
        assert!(yes_or_no(|case| case.crawl) > now, "the case says something");
    }

    /// One way in which a house may turn out.
    struct Case {
        year: usize,
        crawl: bool,
        anchors: bool,
        rest: bool,
        weight: f64,
    }

    impl Case {
        fn need(&self) -> bool {
            self.crawl && (self.anchors || self.rest)
        }
    }

    #[test]
    fn parts_and_unknowns_stand_in_one_order() {
        for part in Part::ALL {
            let unknown = Unknown::ALL
                .iter()
                .find(|unknown| unknown.spelling() == part.spelling())
                .unwrap();
            assert_eq!(part_of(*unknown), Some(part.index() as usize));
            assert_eq!(unknown.words(), part.words());
        }
    }

    #[test]
    fn a_grant_is_capped_and_the_owner_bears_the_rest() {
        let tables = RankingTables::shipped();
        let capped = of(
            &Evidence::default(),
            tables,
            Money {
                grant_cap: Some(3000.0),
            },
        );
        assert_eq!(capped.paid, Estimate::known(3000.0));
        assert_eq!(capped.cost, tables.whole_job(Evidence::default().work));
    }
}
