//! What can be done about each length of foundation: keep, repair, cap, sister, replace.
//!
//! The rules are data with their reasons ([`OptionRules`]). Each says what one [`Fact`] means for one
//! [`FoundationOption`]: the option *needs* it, is *ruled out* by it, is *spoken for* by it, or *asks an
//! engineer* because of it. A fact is true, false or maybe; what nobody looked at is maybe, and never turns
//! into true or false. So an option is open, not open, or cannot be told.
//!
//! A length is decided for the least intrusive option that is surely open and surely wanted, and only where
//! nothing less intrusive may yet turn out so. Whatever is learned later never changes a decision; it only
//! makes the options fewer. Where nothing is decided, [`LengthDecision::look_at`] names what to look at.
//!
//! This is no verdict on earthquakes and no design. It says what the rules leave open by what was seen.
//!
//! ```
//! use retrofit_core::foundation::decision::{Decisions, FoundationOption, OptionRules};
//! use retrofit_core::house::{AsBuilt, House};
//! use retrofit_core::observation::Truth;
//!
//! let house: House = serde_json::from_str(r#"{
//!     "format": "house-1",
//!     "name": "Copper Finch Row",
//!     "wall_lines": [{"name": "north", "length": "25 ft", "foundation": [
//!         {"to": "11 ft", "kind": "brick", "condition": "sound", "outside": "stair", "inside": "open"},
//!         {"from": "11 ft", "kind": "brick", "condition": "sound", "outside": "open", "inside": "open"}
//!     ]}]
//! }"#)?;
//! let house = AsBuilt::new(house).expect("the record makes sense");
//!
//! let decisions = Decisions::of(&house, OptionRules::shipped());
//! let [beside_the_stair, in_the_open] = &decisions.lengths[..] else { panic!("two lengths") };
//! assert_eq!(beside_the_stair.chosen(), None, "how far the house has to move was not seen");
//! assert_eq!(beside_the_stair.option(FoundationOption::Keep).unwrap().open, Truth::False);
//! assert_eq!(beside_the_stair.possible, [FoundationOption::Sister, FoundationOption::ReplaceLength]);
//! assert_eq!(in_the_open.chosen(), Some(FoundationOption::ReplaceLength));
//! assert!(in_the_open.engineer().iter().any(|reason| reason.asked == Truth::True));
//! # Ok::<(), serde_json::Error>(())
//! ```

mod fact;
mod rules;

pub use crate::house::FoundationOption;
pub use fact::{Fact, Facts};
pub use rules::{
    Bearing, OptionFigure, OptionFigureName, OptionRequirement, OptionRule, OptionRules, OptionTables,
    Provenance,
};

use crate::choice::Choice;
use crate::house::{AsBuilt, FoundationStretch, Parts, Span, WallLine};
use crate::measure::{Length, Percent};
use crate::observation::Truth;

/// What can be done about every length of foundation of a house.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Decisions<'a> {
    /// Every length, by wall line and station: those recorded, and those that the record leaves out.
    pub lengths: Vec<LengthDecision<'a>>,
    /// How much of it the rules replace.
    pub replacing: Replacing,
}

/// One length of foundation.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LengthDecision<'a> {
    /// The wall line, by its place in the record.
    pub wall_line: usize,
    /// The name of the wall line.
    pub name: String,
    /// The stretch that describes it, by its place in the record; `None` where nobody described it, or where
    /// the foundation is named as not seen.
    pub stretch: Option<usize>,
    /// Station where it begins.
    pub from: Length,
    /// Station where it ends; `None` at the end of a wall line of unknown length.
    pub to: Option<Length>,
    /// What is known of it.
    pub facts: Facts,
    /// Every option, from the least intrusive up.
    pub options: Vec<OptionFinding<'a>>,
    /// The options it can still come to, from the least intrusive up; the last one may be sure. Where there is
    /// none, nothing is open.
    pub possible: Vec<FoundationOption>,
    /// What the rules decide, when they decide.
    pub by_rules: Option<FoundationOption>,
    /// What the estimator has chosen, whether or not the rules leave it open.
    pub by_estimator: Option<FoundationOption>,
}

/// Who chose.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ChosenBy {
    /// The estimator, in the record.
    Estimator,
    /// The rules.
    Rules,
}

impl ChosenBy {
    /// The chooser in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Estimator => "chosen by the estimator",
            Self::Rules => "by the rules",
        }
    }
}

/// One option beside the facts of a length.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OptionFinding<'a> {
    /// The option.
    pub option: FoundationOption,
    /// Whether it is open: all it needs is there, and nothing that rules it out.
    pub open: Truth,
    /// Whether something speaks for it.
    pub wanted: Truth,
    /// Every rule for it, with whether its fact is there.
    pub rules: Vec<(&'a OptionRule, Truth)>,
    /// What provisions ask of it.
    pub requires: Vec<&'a OptionRequirement>,
}

/// Something for which an engineer's word is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct EngineerReason<'a> {
    /// The rule.
    pub rule: &'a OptionRule,
    /// Whether it is asked for: never false, and *maybe* where the fact was not seen.
    pub asked: Truth,
}

/// How much of the foundation is to be replaced, by the rules.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Replacing {
    /// Length that is surely to be replaced.
    pub surely: Length,
    /// Length that may have to be; `None` where a length that may have to be is of unknown extent.
    pub possibly: Option<Length>,
    /// Length of all wall lines; `None` where one is not known.
    pub of: Option<Length>,
    /// The share from which replacing all of it opens.
    pub share: Percent,
    /// Whether that share is reached.
    pub most: Truth,
}

impl<'a> Decisions<'a> {
    /// Holds the rules against every length of foundation of a house.
    pub fn of(house: &AsBuilt, rules: &'a OptionRules) -> Self {
        let of_house = Facts::of_house(house, rules);
        let mut lengths = Vec::new();
        for (index, wall) in house.wall_lines.iter().enumerate() {
            for (span, stretch) in lengths_of(wall) {
                let unknown = FoundationStretch::default();
                let described = stretch.and_then(|item| wall.foundation.listed().get(item));
                let described = described.unwrap_or(&unknown);
                lengths.push(LengthDecision::of(
                    Place {
                        index,
                        wall,
                        span,
                        stretch,
                    },
                    of_house.of_length(house, wall, described, span, rules.measures()),
                    described.work,
                    rules,
                ));
            }
        }
        let replacing = Replacing::of(&lengths, rules.measures().share_to_replace_all);
        for length in &mut lengths {
            length.facts.put(Fact::MostNeedReplacing, replacing.most);
            length.judge(rules);
        }
        Self { lengths, replacing }
    }
}

/// Where a length is.
struct Place<'h> {
    index: usize,
    wall: &'h WallLine,
    span: Span,
    stretch: Option<usize>,
}

impl<'a> LengthDecision<'a> {
    fn of(place: Place<'_>, facts: Facts, work: Option<FoundationOption>, rules: &'a OptionRules) -> Self {
        let mut length = Self {
            wall_line: place.index,
            name: place.wall.name.clone(),
            stretch: place.stretch,
            from: place.span.from,
            to: place.span.to,
            facts,
            options: Vec::new(),
            possible: Vec::new(),
            by_rules: None,
            by_estimator: work,
        };
        length.judge(rules);
        length
    }

    fn judge(&mut self, rules: &'a OptionRules) {
        self.options = FoundationOption::ALL
            .iter()
            .map(|option| OptionFinding::of(*option, &self.facts, rules))
            .collect();
        (self.possible, self.by_rules) = outcome(&self.options);
    }

    /// Its extent along the wall line, where both ends are known.
    pub fn length(&self) -> Option<Length> {
        self.to.and_then(|to| to.checked_sub(self.from))
    }

    /// What is to be done: what the estimator has chosen, or else what the rules decide.
    pub fn chosen(&self) -> Option<FoundationOption> {
        self.by_estimator.or(self.by_rules)
    }

    /// Who chose it.
    pub fn chosen_by(&self) -> Option<ChosenBy> {
        self.by_estimator
            .map(|_| ChosenBy::Estimator)
            .or(self.by_rules.map(|_| ChosenBy::Rules))
    }

    /// Whether the rules leave open what the estimator has chosen.
    pub fn estimator_is_open(&self) -> Option<Truth> {
        self.by_estimator
            .and_then(|option| self.option(option))
            .map(|finding| finding.open)
    }

    /// One option; there is one finding for each.
    pub fn option(&self, option: FoundationOption) -> Option<&OptionFinding<'a>> {
        self.options.iter().find(|finding| finding.option == option)
    }

    /// Why an engineer's word is asked for: by what the estimator has chosen and what the rules decide, or else
    /// by any option that it can still come to; where nothing is open, by all of them. A reason stands once
    /// for each fact.
    pub fn engineer(&self) -> Vec<EngineerReason<'a>> {
        let chosen: Vec<FoundationOption> = self.by_estimator.into_iter().chain(self.by_rules).collect();
        let asked: &[FoundationOption] = match (&chosen[..], &self.possible[..]) {
            ([], []) => FoundationOption::ALL,
            ([], possible) => possible,
            (chosen, _) => chosen,
        };
        let mut reasons: Vec<EngineerReason<'a>> = Vec::new();
        for finding in self.options.iter().filter(|it| asked.contains(&it.option)) {
            for reason in finding.engineer() {
                let is_said = |other: &EngineerReason<'_>| {
                    (other.rule.fact, &other.rule.reason) == (reason.rule.fact, &reason.rule.reason)
                };
                if !reasons.iter().any(is_said) {
                    reasons.push(reason);
                }
            }
        }
        reasons
    }

    /// What to look at so that the rules can decide: the facts that keep the possible options from being sure,
    /// each once.
    pub fn look_at(&self) -> Vec<&'a OptionRule> {
        let mut looks: Vec<&'a OptionRule> = Vec::new();
        if self.by_rules.is_none() {
            let possible = |it: &&OptionFinding<'_>| self.possible.contains(&it.option);
            for rule in self
                .options
                .iter()
                .filter(possible)
                .flat_map(OptionFinding::not_seen)
            {
                if !looks.iter().any(|other| other.fact == rule.fact) {
                    looks.push(rule);
                }
            }
        }
        looks
    }
}

impl<'a> OptionFinding<'a> {
    fn of(option: FoundationOption, facts: &Facts, rules: &'a OptionRules) -> Self {
        let found: Vec<(&OptionRule, Truth)> = rules
            .rules()
            .iter()
            .filter(|rule| rule.option == option)
            .map(|rule| (rule, facts.get(rule.fact)))
            .collect();
        let of = |bearing: Bearing| {
            let found = found.iter().filter(move |(rule, _)| rule.bearing == bearing);
            found.map(|(_, there)| *there)
        };
        let all_there = of(Bearing::Needs).fold(Truth::True, Truth::and);
        let any_against = of(Bearing::RulesOut).fold(Truth::False, Truth::or);
        let wanted = of(Bearing::SpeaksFor).fold(Truth::False, Truth::or);
        Self {
            option,
            open: all_there.and(!any_against),
            wanted,
            rules: found,
            requires: rules.requirements(option).collect(),
        }
    }

    /// Why it is not open: what it needs and is not there, and what rules it out.
    pub fn against(&self) -> impl Iterator<Item = &'a OptionRule> {
        self.rules
            .iter()
            .filter(|(rule, there)| match rule.bearing {
                Bearing::Needs => *there == Truth::False,
                Bearing::RulesOut => *there == Truth::True,
                Bearing::SpeaksFor | Bearing::AsksEngineer => false,
            })
            .map(|(rule, _)| *rule)
    }

    /// What speaks for it.
    pub fn in_favor(&self) -> impl Iterator<Item = &'a OptionRule> {
        let speaks =
            |(rule, there): &&(&OptionRule, Truth)| rule.bearing == Bearing::SpeaksFor && there.certain();
        self.rules.iter().filter(speaks).map(|(rule, _)| *rule)
    }

    /// What was not seen and could decide whether it is open or wanted.
    pub fn not_seen(&self) -> impl Iterator<Item = &'a OptionRule> {
        let (open, wanted) = (self.open, self.wanted);
        self.rules
            .iter()
            .filter(move |(rule, there)| {
                *there == Truth::Maybe
                    && match rule.bearing {
                        Bearing::Needs | Bearing::RulesOut => open == Truth::Maybe,
                        Bearing::SpeaksFor => wanted == Truth::Maybe,
                        Bearing::AsksEngineer => false,
                    }
            })
            .map(|(rule, _)| *rule)
    }

    /// Why an engineer's word is asked for, where this is done.
    pub fn engineer(&self) -> impl Iterator<Item = EngineerReason<'a>> {
        self.rules
            .iter()
            .filter(|(rule, there)| rule.bearing == Bearing::AsksEngineer && there.possible())
            .map(|(rule, there)| EngineerReason { rule, asked: *there })
    }
}

/// The options it can still come to, and the one that is decided.
fn outcome(options: &[OptionFinding<'_>]) -> (Vec<FoundationOption>, Option<FoundationOption>) {
    let mut possible = Vec::new();
    for finding in options {
        let is_it = finding.open.and(finding.wanted);
        if is_it.possible() {
            possible.push(finding.option);
        }
        if is_it.certain() {
            let decided = (possible.len() == 1).then_some(finding.option);
            return (possible, decided);
        }
    }
    (possible, None)
}

impl Replacing {
    fn of(lengths: &[LengthDecision<'_>], share: Percent) -> Self {
        let replaced = FoundationOption::ReplaceLength;
        let sum = |of: &dyn Fn(&LengthDecision<'_>) -> bool| {
            let lengths = lengths.iter().filter(|length| of(length));
            lengths
                .map(LengthDecision::length)
                .try_fold(Length::ZERO, |sum, length| Some(sum.saturating_add(length?)))
        };
        let is_sure = |length: &LengthDecision<'_>| length.by_rules == Some(replaced);
        let may_be = |length: &LengthDecision<'_>| length.possible.contains(&replaced);
        // A wall line whose end is not known has a length of unknown extent: all of it, or none, still tells.
        let surely = sum(&|length| is_sure(length) && length.length().is_some()).unwrap_or_default();
        let (possibly, of) = (sum(&may_be), sum(&|_| true));
        let most = match of {
            Some(of) => Truth::from_cases(
                possibly.is_some_and(|possibly| share.reached_by(possibly, of)),
                share.reached_by(surely, of),
            ),
            None => Truth::from_cases(lengths.iter().any(may_be), lengths.iter().all(is_sure)),
        };
        Self {
            surely,
            possibly,
            of,
            share,
            most,
        }
    }
}

/// The lengths of a wall line, in order: each with the stretch that describes it, if one does.
fn lengths_of(wall: &WallLine) -> Vec<(Span, Option<usize>)> {
    let end = wall.length.value().copied();
    let stretches: Vec<Span> = wall
        .foundation
        .listed()
        .iter()
        .map(|stretch| stretch.span(end))
        .collect();
    let unseen: Vec<Span> = wall
        .unseen_of(Parts::Foundation)
        .map(|unseen| unseen.span(end))
        .collect();
    let mut cuts: Vec<Length> = stretches
        .iter()
        .chain(&unseen)
        .flat_map(|span| [Some(span.from), span.to])
        .flatten()
        .chain([Length::ZERO])
        .filter(|station| end.is_none_or(|end| *station < end))
        .collect();
    cuts.sort_unstable();
    cuts.dedup();
    let ends = cuts.iter().skip(1).copied().map(Some).chain([end]);
    let mut lengths: Vec<(Span, Option<usize>)> = Vec::new();
    for (from, to) in cuts.iter().copied().zip(ends) {
        let here = Span { from, to };
        let stretch = if unseen.iter().any(|span| span.overlaps(here)) {
            None
        } else {
            stretches.iter().position(|span| span.overlaps(here))
        };
        match lengths.last_mut() {
            Some((before, described)) if *described == stretch => before.to = to,
            _ => lengths.push((here, stretch)),
        }
    }
    lengths
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use rstest::rstest;
    use serde_json::{Map, Value, json};

    use super::*;
    use crate::house::FoundationCondition;
    use crate::provisions::{Library, Standing, keys};

    fn house_with(part: Value, wall_part: Value) -> AsBuilt {
        let mut house = json!({"format": "house-1", "name": "trial",
            "wall_lines": [{"name": "north", "length": "30 ft"}]});
        let with = |place: &mut Value, part: Value| {
            place
                .as_object_mut()
                .unwrap()
                .extend(part.as_object().unwrap().clone());
        };
        with(&mut house, part);
        with(&mut house["wall_lines"][0], wall_part);
        AsBuilt::new(serde_json::from_value(house).unwrap()).unwrap()
    }

    /// A stretch of which everything was seen and nothing is wrong, with some of it changed.
    fn seen(changes: Value) -> Value {
        let mut stretch = json!({"kind": "concrete", "condition": "sound", "outside": "open", "inside": "open",
            "sill_above_ground": "10 in", "settled": "0 in", "footing_depth": "18 in", "footing_width": "15 in",
            "footing_thickness": "8 in", "stem_height": "1 ft", "reinforcing": "top_and_bottom"});
        stretch
            .as_object_mut()
            .unwrap()
            .extend(changes.as_object().unwrap().clone());
        stretch
    }

    fn level_site() -> Value {
        json!({"building": {"stories": 1}, "continuous_perimeter": true,
            "site": {"slope": "0%", "fault_zone": false, "liquefaction_zone": false, "landslide_zone": false},
            "surroundings": {"undermined": false, "fill": false, "slope_moves": false, "expansive_soil": false}})
    }

    fn of_stretch(stretch: Value) -> LengthDecision<'static> {
        let sill = json!([{"treatment": "untreated"}]);
        let house = house_with(level_site(), json!({"foundation": [stretch], "sill": sill}));
        let mut lengths = Decisions::of(&house, OptionRules::shipped()).lengths;
        assert_eq!(lengths.len(), 1);
        lengths.remove(0)
    }

    #[test]
    fn the_shipped_tables_read_and_use_every_fact() {
        let rules = OptionRules::parse(OptionTables::SHIPPED).unwrap();
        assert_eq!(&rules, OptionRules::shipped());
        for fact in Fact::ALL {
            assert!(rules.rules().iter().any(|rule| rule.fact == *fact), "{fact}");
        }
        for option in FoundationOption::ALL {
            assert!(rules.requirements(*option).count() > 0, "{option}");
        }
        for rule in rules.rules() {
            let words = format!("{} {}", rule.reason, rule.look_at).to_lowercase();
            assert!(!words.contains("safe") && !words.contains("adequate"), "{words}");
        }
    }

    #[rstest]
    #[case::sound(json!({}), FoundationOption::Keep)]
    #[case::low_sill(json!({"sill_above_ground": "7 63/64 in"}), FoundationOption::Repair)]
    #[case::low_sill_over_a_shallow_footing(
        json!({"sill_above_ground": "2 in", "footing_depth": "12 in"}), FoundationOption::Cap
    )]
    #[case::settled(json!({"settled": "1-1/2 in"}), FoundationOption::Cap)]
    #[case::settled_without_steel(
        json!({"settled": "1-1/2 in", "reinforcing": "none"}), FoundationOption::ReplaceLength
    )]
    #[case::settled_within_tolerance(json!({"settled": "1/2 in"}), FoundationOption::Keep)]
    #[case::heaved(json!({"settled": "-1-1/2 in"}), FoundationOption::ReplaceLength)]
    #[case::crumbling(json!({"condition": "crumbling"}), FoundationOption::ReplaceLength)]
    #[case::crumbling_behind_paving(
        json!({"condition": "crumbling", "outside": "paving"}), FoundationOption::Sister
    )]
    #[case::brick(json!({"kind": "brick"}), FoundationOption::ReplaceLength)]
    #[case::brick_behind_a_stair(json!({"kind": "brick", "outside": "stair"}), FoundationOption::Sister)]
    #[case::stone_with_no_room_inside(
        json!({"kind": "stone", "inside": "blocked"}), FoundationOption::ReplaceLength
    )]
    #[case::posts(json!({"kind": "posts"}), FoundationOption::PostsAndPiers)]
    #[case::framing_on_the_ground(json!({"kind": "ground"}), FoundationOption::ReplaceLength)]
    fn a_length_that_was_seen_is_decided(#[case] changes: Value, #[case] expected: FoundationOption) {
        let length = of_stretch(seen(changes));
        assert_eq!(length.by_rules, Some(expected), "{:?}", length.look_at());
        assert_eq!(length.possible, [expected]);
        assert_eq!(
            (length.chosen(), length.chosen_by()),
            (Some(expected), Some(ChosenBy::Rules))
        );
        assert!(length.look_at().is_empty());
    }

    fn of_house_with_crack(changes: Value, crack: Value) -> LengthDecision<'static> {
        let mut part = level_site();
        part["surveys"] = json!([{"date": "2026-05-04", "cracks": [crack]}]);
        let plan = json!([{"x": "0 ft", "y": "0 ft"}, {"x": "30 ft", "y": "0 ft"}]);
        let house = house_with(part, json!({"plan": plan, "foundation": [seen(changes)]}));
        Decisions::of(&house, OptionRules::shipped()).lengths.remove(0)
    }

    #[rstest]
    #[case::wide("1/4 in", "0 in", "9 ft", "2 in", Truth::True)]
    #[case::stepped("1/32 in", "1/8 in", "9 ft", "2 in", Truth::True)]
    #[case::at_the_limits("1/8 in", "1/16 in", "9 ft", "2 in", Truth::False)]
    #[case::near_the_wall("1/4 in", "0 in", "9 ft", "1 ft", Truth::Maybe)]
    #[case::another_wall("1/4 in", "0 in", "9 ft", "20 ft", Truth::Maybe)]
    fn a_crack_is_told_by_its_place(
        #[case] width: &str,
        #[case] offset: &str,
        #[case] x: &str,
        #[case] y: &str,
        #[case] wide: Truth,
    ) {
        let crack = json!({"part": "foundation", "at": {"x": x, "y": y}, "width": width, "offset": offset});
        let cracked = of_house_with_crack(json!({"condition": "cracked"}), crack.clone());
        // Cracked concrete whose crack nobody measured may have a wide one.
        assert_eq!(cracked.facts.get(Fact::WideCrack), wide);
        let expected = match wide {
            Truth::True => Some(FoundationOption::Repair),
            Truth::False => Some(FoundationOption::Keep),
            Truth::Maybe => None,
        };
        assert_eq!(cracked.by_rules, expected);
        let sound = of_house_with_crack(json!({}), crack);
        let measured_there = if wide.certain() { Truth::True } else { Truth::False };
        assert_eq!(sound.facts.get(Fact::WideCrack), measured_there);
    }

    #[test]
    fn where_nobody_looked_nothing_is_decided_and_nothing_is_open() {
        let house = house_with(json!({}), json!({}));
        let decisions = Decisions::of(&house, OptionRules::shipped());
        let [length] = &decisions.lengths[..] else {
            panic!()
        };
        assert_eq!(
            (length.stretch, length.chosen(), length.chosen_by()),
            (None, None, None)
        );
        assert_eq!((length.from, length.to), (Length::ZERO, Some(Length::feet(30))));
        for finding in &length.options {
            assert_eq!(finding.open, Truth::Maybe, "{}", finding.option);
        }
        assert_eq!(length.possible.len(), FoundationOption::ALL.len());
        assert!(length.look_at().iter().any(|rule| rule.fact == Fact::Hard));
        assert_eq!(decisions.replacing.most, Truth::Maybe);
    }

    #[test]
    fn with_no_room_on_either_side_nothing_is_open_and_every_reason_is_given() {
        let length = of_stretch(seen(
            json!({"condition": "displaced", "outside": "neighbor", "inside": "blocked"}),
        ));
        assert_eq!((length.by_rules, &length.possible[..]), (None, &[][..]));
        let replace = length.option(FoundationOption::ReplaceLength).unwrap();
        let against: Vec<Fact> = replace.against().map(|rule| rule.fact).collect();
        assert_eq!(against, [Fact::NoAccess]);
        assert!(replace.in_favor().any(|rule| rule.fact == Fact::Displaced));
        let asked = length.engineer();
        assert!(
            asked
                .iter()
                .any(|reason| reason.rule.fact == Fact::Neighbor && reason.asked.certain())
        );
    }

    #[test]
    fn what_the_estimator_chose_stands_beside_what_the_rules_say() {
        let length = of_stretch(seen(json!({"condition": "crumbling", "work": "cap"})));
        assert_eq!(length.chosen(), Some(FoundationOption::Cap));
        assert_eq!(length.chosen_by(), Some(ChosenBy::Estimator));
        assert_eq!(length.by_rules, Some(FoundationOption::ReplaceLength));
        assert_eq!(length.estimator_is_open(), Some(Truth::False));
    }

    #[rstest]
    #[case::slope(json!({"site": {"slope": "2H:1V"}}), Fact::SteepSlope, Truth::True)]
    #[case::clay(json!({"surroundings": {"expansive_soil": true}}), Fact::ExpansiveSoil, Truth::True)]
    #[case::soil_unknown(json!({}), Fact::ExpansiveSoil, Truth::Maybe)]
    #[case::zone(json!({"site": {"landslide_zone": true}}), Fact::StudyZone, Truth::True)]
    fn an_engineer_is_asked_for(#[case] part: Value, #[case] fact: Fact, #[case] asked: Truth) {
        let house = house_with(
            part,
            json!({"foundation": [seen(json!({"condition": "crumbling"}))]}),
        );
        let decisions = Decisions::of(&house, OptionRules::shipped());
        let reasons = decisions.lengths[0].engineer();
        let reason = reasons.iter().find(|reason| reason.rule.fact == fact).unwrap();
        assert_eq!(reason.asked, asked);
        // The house hangs on shores while a length is replaced: that asks for one whatever else is so.
        assert!(reasons.iter().any(|reason| reason.rule.fact == Fact::AnyHouse));
    }

    #[test]
    fn what_a_record_leaves_out_or_did_not_see_is_a_length_of_its_own() {
        let house = house_with(
            json!({}),
            json!({"foundation": [{"from": "4 ft", "to": "20 ft", "kind": "concrete"}, {"from": "20 ft"}],
                "unseen": [{"from": "10 ft", "to": "12 ft", "parts": ["foundation"], "why": "stored things"}]}),
        );
        let lengths = Decisions::of(&house, OptionRules::shipped()).lengths;
        let found: Vec<_> = lengths.iter().map(|it| (it.from, it.to, it.stretch)).collect();
        let feet = |feet| Some(Length::feet(feet));
        assert_eq!(
            found,
            [
                (Length::ZERO, feet(4), None),
                (Length::feet(4), feet(10), Some(0)),
                (Length::feet(10), feet(12), None),
                (Length::feet(12), feet(20), Some(0)),
                (Length::feet(20), feet(30), Some(1)),
            ]
        );
    }

    #[test]
    fn of_a_wall_line_of_unknown_length_the_end_is_unknown() {
        let house = house_with(
            json!({}),
            json!({"length": {"unknown": "no tape"}, "foundation": [{"to": "8 ft"}]}),
        );
        let lengths = Decisions::of(&house, OptionRules::shipped()).lengths;
        let found: Vec<_> = lengths.iter().map(|it| (it.from, it.to, it.stretch)).collect();
        let eight = Length::feet(8);
        assert_eq!(found, [(Length::ZERO, Some(eight), Some(0)), (eight, None, None)]);
    }

    #[rstest]
    #[case::half("15 ft", Truth::True)]
    #[case::just_less("14'-11 63/64\"", Truth::False)]
    fn replacing_all_opens_by_share(#[case] to: &str, #[case] most: Truth) {
        let stretches = json!([
            {"to": to, "kind": "concrete", "condition": "crumbling", "outside": "open", "inside": "open"},
            {"from": to, "kind": "concrete", "condition": "sound", "settled": "0 in", "sill_above_ground": "9 in"},
        ]);
        let house = house_with(level_site(), json!({"foundation": stretches}));
        let decisions = Decisions::of(&house, OptionRules::shipped());
        assert_eq!(decisions.replacing.most, most);
        let bad = &decisions.lengths[0];
        assert_eq!(
            bad.by_rules,
            Some(FoundationOption::ReplaceLength),
            "one length by itself still does"
        );
        assert_eq!(bad.option(FoundationOption::ReplaceAll).unwrap().open, most);
    }

    #[test]
    fn a_sill_that_resists_decay_may_be_near_the_soil() {
        let house = |treatment: &str| {
            let sill = json!([{"to": "30 ft", "treatment": treatment}]);
            house_with(
                level_site(),
                json!({"sill": sill, "foundation": [seen(json!({"sill_above_ground": "4 in"}))]}),
            )
        };
        let low = |treatment: &str| {
            let house = house(treatment);
            Decisions::of(&house, OptionRules::shipped()).lengths[0]
                .facts
                .get(Fact::LowSill)
        };
        assert_eq!(low("treated"), Truth::False);
        assert_eq!(low("untreated"), Truth::True);
    }

    /// California Residential Code 2013, R317.1 item 2 (wood on foundation walls less than 8 in from exposed
    /// ground), Table R403.1 for 1,500 psf, R403.1.1 and R403.1.4. Verified; the footings also against the set
    /// of provisions that has them.
    #[test]
    fn figures_are_those_of_the_residential_code() {
        let measures = OptionRules::shipped().measures();
        assert_eq!(measures.least_sill_height, Length::inches(8));
        let widths = [12, 15, 23].map(Length::inches);
        assert_eq!(measures.least_footing_widths, widths);
        let code = Library::shipped().set("crc-2013-new-construction").unwrap();
        for (stories, width) in (1..).zip(widths) {
            let asked = code
                .requirement(stories, crate::house::WeightCase::Other, 0)
                .unwrap();
            assert_eq!(asked.get(keys::MIN_FOOTING_WIDTH).value(), Some(width));
            let least = measures.least_footing_thickness;
            assert_eq!(asked.get(keys::MIN_FOOTING_THICKNESS).value(), Some(least));
            let least = measures.least_footing_depth;
            assert_eq!(asked.get(keys::MIN_FOOTING_DEPTH).value(), Some(least));
        }
        for figure in OptionRules::shipped().figures() {
            let of_code = figure
                .provenance
                .document
                .starts_with("California Residential Code");
            assert_eq!(
                of_code && figure.provenance.standing == Standing::Verified,
                of_code
            );
        }
    }

    #[rstest]
    #[case(1.0, "12 in", Truth::False)]
    #[case(1.0, "11 63/64 in", Truth::True)]
    #[case(1.5, "14 63/64 in", Truth::True)]
    #[case(2.0, "15 in", Truth::False)]
    #[case(3.0, "22 63/64 in", Truth::True)]
    #[case(4.0, "30 in", Truth::Maybe)]
    #[case(4.0, "22 in", Truth::True)]
    fn a_footing_is_small_by_stories(#[case] stories: f64, #[case] width: &str, #[case] small: Truth) {
        let part = json!({"building": {"stories": stories}});
        let house = house_with(
            part,
            json!({"foundation": [seen(json!({"footing_width": width}))]}),
        );
        let decisions = Decisions::of(&house, OptionRules::shipped());
        assert_eq!(decisions.lengths[0].facts.get(Fact::SmallFooting), small);
    }

    #[rstest]
    #[case::fact("keep,hard,needs", "keep,hrad,needs", "did you mean \"hard\"?")]
    #[case::option("keep,hard,needs", "kept,hard,needs", "did you mean \"keep\"?")]
    #[case::twice("keep,hard,speaks_for", "keep,hard,needs", "a second time")]
    #[case::unwanted("keep,hard,speaks_for", "keep,cracked,needs", "nothing speaks for")]
    #[case::source(
        ",none,,common practice",
        ",nobody,,common practice",
        "expected a source of sources.csv"
    )]
    #[case::standing(
        ",none,,common practice",
        ",none,,verified",
        "common practice where there is no source"
    )]
    fn a_fault_in_the_rules_is_named_with_its_place(
        #[case] from: &str,
        #[case] to: &str,
        #[case] words: &str,
    ) {
        let rules = OptionTables::SHIPPED.rules.replacen(from, to, 1);
        assert_ne!(rules, OptionTables::SHIPPED.rules);
        let tables = OptionTables {
            rules: &rules,
            ..OptionTables::SHIPPED
        };
        let errors = OptionRules::parse(tables).unwrap_err();
        let said = errors
            .iter()
            .map(ToString::to_string)
            .collect::<Vec<_>>()
            .join("; ");
        assert!(said.contains(words) && said.contains("rules.csv"), "{said}");
    }

    #[rstest]
    #[case::no_length("8 in", "8", "value")]
    #[case::missing("tallest-stem,", "wide-crack,", "figure")]
    #[case::stories("least-footing-width,2,", "least-footing-width,4,", "stories")]
    #[case::no_stories("least-footing-width,2,", "least-footing-width,,", "stories")]
    fn a_fault_in_the_figures_is_named_with_its_place(
        #[case] from: &str,
        #[case] to: &str,
        #[case] column: &str,
    ) {
        let figures = OptionTables::SHIPPED.figures.replacen(from, to, 1);
        assert_ne!(figures, OptionTables::SHIPPED.figures);
        let tables = OptionTables {
            figures: &figures,
            ..OptionTables::SHIPPED
        };
        let said = OptionRules::parse(tables).unwrap_err()[0].to_string();
        assert!(
            said.contains("figures.csv") && said.contains(&format!("column {column:?}")),
            "{said}"
        );
    }

    #[test]
    fn a_check_that_is_not_there_is_refused_with_the_nearest() {
        let requirements =
            OptionTables::SHIPPED
                .requirements
                .replacen("keep,foundation-kind", "keep,foundation-kin", 1);
        let tables = OptionTables {
            requirements: &requirements,
            ..OptionTables::SHIPPED
        };
        let said = OptionRules::parse(tables).unwrap_err()[0].to_string();
        assert!(said.contains("did you mean \"foundation-kind\"?"), "{said}");
    }

    fn facts_of(told: &[u8]) -> Facts {
        let mut facts = Facts::default();
        for (fact, told) in Fact::ALL.iter().zip(told) {
            facts.put(
                *fact,
                [Truth::True, Truth::False, Truth::Maybe][usize::from(*told)],
            );
        }
        facts
    }

    fn judged(facts: &Facts) -> (Vec<Truth>, Vec<FoundationOption>, Option<FoundationOption>) {
        let options: Vec<OptionFinding<'_>> = FoundationOption::ALL
            .iter()
            .map(|option| OptionFinding::of(*option, facts, OptionRules::shipped()))
            .collect();
        let (possible, decided) = outcome(&options);
        (options.iter().map(|it| it.open).collect(), possible, decided)
    }

    /// What a stretch and its surroundings can be recorded as, field by field, everything known.
    fn any_record() -> impl Strategy<Value = (Map<String, Value>, Map<String, Value>, Value)> {
        let stretch = (
            prop::sample::select(vec![
                "concrete", "block", "brick", "stone", "posts", "ground", "none",
            ]),
            prop::sample::select(vec!["sound", "cracked", "crumbling", "displaced"]),
            prop::sample::select(vec!["open", "stair", "neighbor"]),
            any::<bool>(),
            (-4_i32..14, -3_i32..4, 0_i32..30, 6_i32..26, 0_i32..60),
            any::<bool>(),
        );
        let around = (any::<[bool; 8]>(), 1_u8..5, 0_u8..60, 0_u8..3);
        (stretch, around).prop_map(|((kind, condition, outside, inside, sizes, bars), around)| {
            let (sill, settled, depth, width, stem) = sizes;
            let inches = |inches: i32| format!("{inches} in");
            let stretch = json!({"kind": kind, "condition": condition, "outside": outside,
                "inside": if inside { "open" } else { "blocked" }, "sill_above_ground": inches(sill),
                "settled": inches(settled), "footing_depth": inches(depth), "footing_width": inches(width),
                "footing_thickness": inches(width / 2), "stem_height": inches(stem),
                "reinforcing": if bars { "some" } else { "none" }});
            let (flags, stories, slope, treatment) = around;
            let [
                undermined,
                fill,
                slope_moves,
                expansive,
                fault,
                liquefaction,
                landslide,
                perimeter,
            ] = flags;
            let part = json!({
                "surroundings": {"undermined": undermined, "fill": fill, "slope_moves": slope_moves,
                    "expansive_soil": expansive},
                "site": {"slope": format!("{slope}%"), "fault_zone": fault, "liquefaction_zone": liquefaction,
                    "landslide_zone": landslide},
                "building": {"stories": stories}, "continuous_perimeter": perimeter});
            let treatment = ["treated", "durable", "untreated"][usize::from(treatment)];
            let sill = json!([{"treatment": treatment}]);
            let object = |value: Value| value.as_object().unwrap().clone();
            (object(stretch), object(part), sill)
        })
    }

    fn of_record(stretch: &Map<String, Value>, part: &Map<String, Value>, sill: &Value) -> AsBuilt {
        let wall = json!({"foundation": [stretch], "sill": sill});
        house_with(Value::Object(part.clone()), wall)
    }

    proptest! {
        /// Forgetting a fact never opens an option, and never rules one out either; learning makes the options
        /// that are possible fewer and never changes what is decided.
        #[test]
        fn learning_only_narrows(
            told in prop::collection::vec(0_u8..3, Fact::ALL.len()),
            forgotten in 0..Fact::ALL.len(),
        ) {
            let facts = facts_of(&told);
            let mut fewer = facts.clone();
            fewer.put(Fact::ALL[forgotten], Truth::Maybe);
            let ((open, possible, decided), (open_before, possible_before, decided_before)) =
                (judged(&facts), judged(&fewer));
            for (now, before) in open.iter().zip(&open_before) {
                prop_assert!(before == now || *before == Truth::Maybe);
            }
            prop_assert!(possible.iter().all(|option| possible_before.contains(option)));
            prop_assert!(decided_before.is_none() || decided == decided_before);
        }

        /// The same over records: a field that is left out makes facts unknown and never another answer.
        #[test]
        fn leaving_a_field_out_never_makes_up_a_fact(
            (stretch, part, sill) in any_record(),
            which in any::<prop::sample::Index>(),
        ) {
            let house = of_record(&stretch, &part, &sill);
            let full = Decisions::of(&house, OptionRules::shipped());
            let (mut less, mut less_part, mut less_sill) = (stretch.clone(), part.clone(), sill.clone());
            let keys: Vec<String> = stretch.keys().chain(part.keys()).cloned().chain(["sill".into()]).collect();
            let key = &keys[which.index(keys.len())];
            less.remove(key);
            less_part.remove(key);
            if key == "sill" {
                less_sill = json!([{}]);
            }
            let house = of_record(&less, &less_part, &less_sill);
            let before = Decisions::of(&house, OptionRules::shipped());
            let (now, before) = (&full.lengths[0], &before.lengths[0]);
            for ((fact, there), (_, before)) in now.facts.iter().zip(before.facts.iter()) {
                prop_assert!(before == there || before == Truth::Maybe, "{fact} without {key}");
            }
            prop_assert!(before.by_rules.is_none() || before.by_rules == now.by_rules);
        }

        /// A worse condition, a worse kind or a greater change of level never makes keeping open.
        #[test]
        fn nothing_worse_opens_keeping((stretch, part, sill) in any_record(), worse in 0..4_usize) {
            let keep = |stretch: &Map<String, Value>| {
                let house = of_record(stretch, &part, &sill);
                let decisions = Decisions::of(&house, OptionRules::shipped());
                decisions.lengths[0].option(FoundationOption::Keep).unwrap().open
            };
            let rank = |open: Truth| (open.possible(), open.certain());
            let mut other = stretch.clone();
            match worse {
                0 => {
                    let list = FoundationCondition::ALL.iter().map(|it| it.spelling());
                    let worse: Vec<&str> = list.skip_while(|it| stretch["condition"] != **it).collect();
                    other["condition"] = json!(worse.last().unwrap());
                }
                1 => other["kind"] = json!("brick"),
                2 => other["settled"] = json!("3 in"),
                _ => other["sill_above_ground"] = json!("-5 in"),
            }
            prop_assert!(rank(keep(&other)) <= rank(keep(&stretch)));
        }
    }
}
