//! A finding: one check at one place. It holds facts; its sentence is made when it is printed.

use std::fmt;

use super::look_at::LookAt;
use super::outcome::{Outcome, Outcomes, Ruling};
use super::registry::{Check, CheckId};
use crate::choice::Choice;
use crate::house::{Nail, Span, Stories, Washer};
use crate::measure::{Area, Length, Percent, Slope};
use crate::observation::{Basis, Observed, Truth};
use crate::provisions::{FigureId, Rule};

/// Something measured or required.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Quantity {
    /// Nothing to show.
    #[default]
    None,
    /// A length.
    Length(Length),
    /// A length between bounds.
    LengthBetween(Option<Length>, Option<Length>),
    /// A length that was required to be less than this.
    LessThan(Length),
    /// A range of lengths, both ends included.
    LengthRange(Length, Length),
    /// A share of a length, and that length.
    Share(Percent, Length),
    /// A percentage.
    Percent(Percent),
    /// A count.
    Count(u32),
    /// A count between bounds.
    CountBetween(u32, u32),
    /// A number of items out of all.
    OutOf(u32, u32),
    /// A number of stories.
    Stories(Stories),
    /// A slope.
    Slope(Slope),
    /// An area.
    Area(Area),
    /// A nail.
    Nail(Nail),
    /// A washer.
    Washer(Washer),
    /// A term of the trade.
    Word(&'static str),
    /// A list of terms, by the figure that holds it.
    Figure(FigureId),
}

impl Quantity {
    /// What was observed of a length.
    pub(crate) fn of_length(observed: &Observed<Length>) -> Self {
        match observed.bounds() {
            (Some(least), Some(most)) if least == most => Self::Length(*least),
            (None, None) => Self::None,
            (least, most) => Self::LengthBetween(least.copied(), most.copied()),
        }
    }

    /// What was observed of a term.
    pub(super) fn of_choice<T: Choice>(observed: &Observed<T>) -> Self {
        observed
            .value()
            .map_or(Self::None, |term| Self::Word(term.words()))
    }
}

/// What was found of one item of a list, and how it is known.
#[derive(Clone, Copy, Debug)]
pub(super) struct Found {
    pub(super) measured: Quantity,
    pub(super) basis: Option<Basis>,
}

impl Found {
    pub(super) fn of<T: Copy>(observed: &Observed<T>, show: impl FnOnce(T) -> Quantity) -> Self {
        Self {
            measured: observed.value().copied().map_or(Quantity::None, show),
            basis: observed.basis(),
        }
    }

    pub(super) fn of_length(observed: &Observed<Length>) -> Self {
        Self {
            measured: Quantity::of_length(observed),
            basis: observed.basis(),
        }
    }

    pub(super) fn of_choice<T: Choice>(observed: &Observed<T>) -> Self {
        Self {
            measured: Quantity::of_choice(observed),
            basis: observed.basis(),
        }
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::None | Self::Figure(_) | Self::LengthBetween(None, None) => f.write_str("–"),
            Self::Length(length) => length.fmt(f),
            Self::LengthBetween(Some(least), None) => write!(f, "at least {least}"),
            Self::LengthBetween(None, Some(most)) => write!(f, "at most {most}"),
            Self::LessThan(limit) => write!(f, "less than {limit}"),
            Self::LengthBetween(Some(least), Some(most)) | Self::LengthRange(least, most) => {
                write!(f, "{least} to {most}")
            }
            Self::Share(percent, whole) => write!(f, "{percent} of {whole}"),
            Self::Percent(percent) => percent.fmt(f),
            Self::Count(count) => count.fmt(f),
            Self::CountBetween(least, most) => write!(f, "{least} to {most}"),
            Self::OutOf(some, all) => write!(f, "{some} of {all}"),
            Self::Stories(stories) => stories.fmt(f),
            Self::Slope(slope) => slope.fmt(f),
            Self::Area(area) => area.fmt(f),
            Self::Nail(nail) => nail.fmt(f),
            Self::Washer(washer) => washer.fmt(f),
            Self::Word(word) => f.write_str(word),
        }
    }
}

/// A few values in a fixed place, so that a finding can be copied and needs no memory of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Few<T, const N: usize> {
    items: [Option<T>; N],
}

impl<T: Copy + PartialEq, const N: usize> Few<T, N> {
    pub(super) const fn new() -> Self {
        Self { items: [None; N] }
    }

    /// Adds a value unless it is there already; what does not fit is left out.
    pub(super) fn add(&mut self, item: T) {
        for slot in &mut self.items {
            match slot {
                Some(other) if *other == item => return,
                Some(_) => {}
                None => {
                    *slot = Some(item);
                    return;
                }
            }
        }
    }

    /// Adds what is not there already of other values.
    pub(super) fn add_all(&mut self, others: &Self) {
        let is_full = self.items.last().is_none_or(Option::is_some);
        if !is_full {
            others.iter().for_each(|item| self.add(item));
        }
    }

    /// The values.
    pub fn iter(&self) -> impl Iterator<Item = T> + '_ {
        // They are filled from the front.
        self.items.iter().map_while(|slot| *slot)
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.items.first().is_none_or(Option::is_none)
    }
}

/// One check at one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Finding {
    check: CheckId,
    /// The wall line, by its position in the house; `None` for the house as a whole.
    pub wall_line: Option<u16>,
    /// Where along the wall line.
    pub span: Option<Span>,
    /// What it can come to.
    pub outcomes: Outcomes,
    /// What was found, in a plain sentence.
    pub fact: &'static str,
    /// The value found.
    pub measured: Quantity,
    /// The value asked for.
    pub required: Quantity,
    /// Which way the value asked for is a limit.
    pub limit: Limit,
    /// How the value is known; `None` when it is not.
    pub basis: Option<Basis>,
    /// The figures applied.
    pub figures: Few<FigureId, 4>,
    /// The observations that would decide it.
    pub deciding: Few<LookAt, 4>,
    /// The observation it is about, and the item of its list.
    pub about: Option<(LookAt, Option<u16>)>,
}

impl Finding {
    /// The check that found it.
    pub fn check(&self) -> &'static Check {
        self.check.check()
    }

    pub(crate) const fn id(&self) -> CheckId {
        self.check
    }

    /// The position of the check in the registry.
    pub fn check_index(&self) -> usize {
        self.check as usize
    }

    /// What a verdict over many findings goes by.
    pub(crate) const fn brief(&self) -> Brief {
        Brief {
            outcomes: self.outcomes,
            figures: self.figures,
            deciding: self.deciding,
        }
    }

    /// The path of the observation it is about, into the house file: that of the list where no item of it is
    /// meant more than another.
    pub fn path(&self) -> Option<String> {
        let (look_at, item) = self.about?;
        let mut path = look_at.path(self.wall_line, item);
        if let Some(end) = path.find("[]") {
            path.truncate(end);
        }
        Some(path)
    }

    /// How far the value is from what is asked for, where both are of one kind. Of a value known only within
    /// bounds, the bound nearer to the limit counts, and only where it falls short even so.
    pub fn margin(&self) -> Option<Margin> {
        let limit = match (self.limit, self.measured, self.required) {
            (limit @ (Limit::AtMost | Limit::AtLeast), ..) => limit,
            // Of a range, the limit that is the nearer one.
            (Limit::None, Quantity::Length(measured), Quantity::LengthRange(least, most)) => {
                if measured.abs_diff(most) <= measured.abs_diff(least) {
                    Limit::AtMost
                } else {
                    Limit::AtLeast
                }
            }
            _ => return None,
        };
        let is_short = self.outcomes.is_determined() && self.outcomes.best() >= Outcome::NotMet;
        let (measured, is_bound) = match (self.measured, limit) {
            (Quantity::LengthBetween(Some(least), _), Limit::AtMost) if is_short => {
                (Quantity::Length(least), true)
            }
            (Quantity::LengthBetween(_, Some(most)), Limit::AtLeast) if is_short => {
                (Quantity::Length(most), true)
            }
            (measured, _) => (measured, false),
        };
        let spare = match (measured, self.required) {
            (Quantity::Length(measured), required) => {
                let required = match (required, limit) {
                    (Quantity::Length(required) | Quantity::LessThan(required), _) => required,
                    (Quantity::Share(share, whole), _) => share.of(whole),
                    (Quantity::LengthRange(_, most), Limit::AtMost) => most,
                    (Quantity::LengthRange(least, _), _) => least,
                    _ => return None,
                };
                Spare::Length(limit.spare(required, measured, Length::checked_sub)?)
            }
            (Quantity::Count(measured), Quantity::Count(required)) => {
                Spare::Count(limit.spare(i64::from(required), i64::from(measured), i64::checked_sub)?)
            }
            _ => return None,
        };
        Some(Margin {
            spare,
            limit,
            is_bound,
        })
    }
}

/// As much of a finding as a verdict over many of them goes by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) struct Brief {
    pub(crate) outcomes: Outcomes,
    pub(crate) figures: Few<FigureId, 4>,
    pub(crate) deciding: Few<LookAt, 4>,
}

/// Which way a value asked for is a limit.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Limit {
    /// It is none: a property, a range, a list.
    #[default]
    None,
    /// No more is allowed.
    AtMost,
    /// No less is allowed.
    AtLeast,
}

impl Limit {
    /// What is to spare between limit and value.
    fn spare<T>(self, limit: T, value: T, less: impl Fn(T, T) -> Option<T>) -> Option<T> {
        match self {
            Self::AtLeast => less(value, limit),
            Self::AtMost | Self::None => less(limit, value),
        }
    }
}

/// How far a value is from its limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Margin {
    /// What is to spare; negative, what is missing.
    pub spare: Spare,
    /// Which way the limit goes.
    pub limit: Limit,
    /// Whether it is at least this much, because the value is known only within bounds.
    pub is_bound: bool,
}

/// An amount to spare or missing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spare {
    /// A length.
    Length(Length),
    /// A count.
    Count(i64),
}

impl fmt::Display for Margin {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let missing = if self.limit == Limit::AtMost {
            "over by"
        } else {
            "short by"
        };
        let missing = if self.is_bound {
            format!("{missing} at least")
        } else {
            missing.to_owned()
        };
        match self.spare {
            Spare::Length(Length::ZERO) | Spare::Count(0) => f.write_str("none to spare"),
            Spare::Length(length) if length < Length::ZERO => {
                write!(
                    f,
                    "{missing} {}",
                    Length::ZERO.saturating_sub(length).in_feet_inches()
                )
            }
            Spare::Length(length) => write!(f, "{} to spare", length.in_feet_inches()),
            Spare::Count(count) if count < 0 => write!(f, "{missing} {}", count.unsigned_abs()),
            Spare::Count(count) => write!(f, "{count} to spare"),
        }
    }
}

/// A finding before the assessor has said which check and wall line it belongs to.
#[derive(Clone, Copy, Debug)]
pub(super) struct Judgment {
    span: Option<Span>,
    outcomes: Outcomes,
    fact: &'static str,
    measured: Quantity,
    required: Quantity,
    limit: Limit,
    basis: Option<Basis>,
    figures: Few<FigureId, 4>,
    deciding: Few<LookAt, 4>,
    about: Option<(LookAt, Option<u16>)>,
}

impl Judgment {
    pub(super) fn new(outcomes: Outcomes) -> Self {
        Self {
            span: None,
            outcomes,
            fact: "",
            measured: Quantity::None,
            required: Quantity::None,
            limit: Limit::None,
            basis: None,
            figures: Few::new(),
            deciding: Few::new(),
            about: None,
        }
    }

    /// Met where the answer is yes and not met where it is no.
    pub(super) fn met_if(answer: Truth) -> Self {
        Self::either(answer, Outcome::NotMet)
    }

    /// Met where the answer is yes and outside the provisions where it is no.
    pub(super) fn inside_if(answer: Truth) -> Self {
        Self::either(answer, Outcome::Outside)
    }

    fn either(answer: Truth, otherwise: Outcome) -> Self {
        let (met, otherwise) = (Outcomes::only(Outcome::Met), Outcomes::only(otherwise));
        Self::new(match answer {
            Truth::True => met,
            Truth::False => otherwise,
            Truth::Maybe => met.or(otherwise),
        })
    }

    /// The provisions ask nothing here, and why.
    pub(super) fn not_applicable(why: &'static str) -> Self {
        Self::new(Outcomes::only(Outcome::NotApplicable)).fact(why)
    }

    /// Judges by a rule: not applicable where the set is silent, not determined where its figure is missing.
    pub(super) fn by<T: Copy>(rule: Rule<T>, judge: impl FnOnce(T) -> Self) -> Self {
        Self::by_rule(rule, judge, Outcome::NotMet)
    }

    /// The same for a limit of the provisions: where its figure is missing, the house may lie beyond it.
    pub(super) fn by_limit<T: Copy>(rule: Rule<T>, judge: impl FnOnce(T) -> Self) -> Self {
        Self::by_rule(rule, judge, Outcome::Outside)
    }

    fn by_rule<T: Copy>(rule: Rule<T>, judge: impl FnOnce(T) -> Self, otherwise: Outcome) -> Self {
        let judgment = match rule {
            Rule::Given { value, .. } => judge(value),
            Rule::Missing(_) => Self::either(Truth::Maybe, otherwise)
                .fact("The document is believed to give a figure here, but nobody has seen it; look it up."),
            Rule::Silent(_) => Self::not_applicable("The document gives no figure here."),
            Rule::NotRegulated => Self::not_applicable("This set of provisions does not regulate it."),
        };
        match rule.figure() {
            Some(figure) => judgment.figure(figure),
            None => judgment,
        }
    }

    pub(super) fn fact(mut self, fact: &'static str) -> Self {
        self.fact = fact;
        self
    }

    /// One of three facts, by what the judgment comes to.
    pub(super) fn facts(self, met: &'static str, not_met: &'static str, open: &'static str) -> Self {
        let fact = match self.outcomes.ruling() {
            _ if !self.outcomes.is_determined() => open,
            Ruling::NotApplicable | Ruling::Met => met,
            _ => not_met,
        };
        self.fact(fact)
    }

    pub(super) fn measured(mut self, measured: Quantity) -> Self {
        self.measured = measured;
        self
    }

    /// What is asked for, where it is no limit of more or less.
    pub(super) fn required(mut self, required: Quantity) -> Self {
        self.required = required;
        self
    }

    /// The most that is allowed.
    pub(super) fn at_most(mut self, most: Quantity) -> Self {
        self.required = most;
        self.limit = Limit::AtMost;
        self
    }

    /// The least that is asked for.
    pub(super) fn at_least(mut self, least: Quantity) -> Self {
        self.required = least;
        self.limit = Limit::AtLeast;
        self
    }

    pub(super) fn basis(mut self, basis: Option<Basis>) -> Self {
        self.basis = basis;
        self
    }

    pub(super) fn span(mut self, span: Option<Span>) -> Self {
        self.span = span;
        self
    }

    pub(super) fn figure(mut self, figure: FigureId) -> Self {
        self.figures.add(figure);
        self
    }

    pub(super) fn figure_of<T: Copy>(self, rule: Rule<T>) -> Self {
        match rule.figure() {
            Some(figure) => self.figure(figure),
            None => self,
        }
    }

    /// The observation it is about.
    pub(super) fn about(mut self, look_at: LookAt, item: Option<usize>) -> Self {
        self.about = Some((look_at, item.and_then(|item| u16::try_from(item).ok())));
        self
    }

    /// Another observation of the same item.
    pub(super) fn about_its(mut self, look_at_of: impl FnOnce(Option<u16>) -> LookAt) -> Self {
        if let Some((look_at, item)) = &mut self.about {
            *look_at = look_at_of(*item);
        }
        self
    }

    /// The same where nothing was said of what it is about, as when there is no figure to judge by.
    pub(super) fn or_about(self, look_at: LookAt) -> Self {
        match self.about {
            Some(_) => self,
            None => self.about(look_at, None),
        }
    }

    /// An observation that would decide it; of no account when it is decided.
    pub(super) fn decided_by(mut self, look_at: LookAt) -> Self {
        if !self.outcomes.is_determined() {
            self.deciding.add(look_at);
        }
        self
    }

    /// The same where it depends on an answer whether the provisions ask anything here at all.
    pub(super) fn applicable_if(mut self, applies: Truth, why_not: &'static str, decided_by: LookAt) -> Self {
        match applies {
            Truth::True => self,
            Truth::False => {
                let mut judgment = Self::not_applicable(why_not);
                judgment.about = self.about;
                judgment
            }
            Truth::Maybe => {
                self.outcomes = self.outcomes.or(Outcomes::only(Outcome::NotApplicable));
                self.decided_by(decided_by)
            }
        }
    }

    /// Either of two judgments, where it is not known which of them applies.
    #[must_use]
    pub(super) fn or(mut self, other: Self) -> Self {
        self.outcomes = self.outcomes.or(other.outcomes);
        other.figures.iter().for_each(|figure| self.figures.add(figure));
        if !self.outcomes.is_determined() {
            other
                .deciding
                .iter()
                .for_each(|look_at| self.deciding.add(look_at));
        }
        self
    }

    pub(super) fn outcomes(&self) -> Outcomes {
        self.outcomes
    }
}

/// The findings of one assessment, in a list that is cleared and filled again for the next.
#[derive(Clone, Debug)]
pub struct Findings {
    list: Vec<Finding>,
    /// The check being run.
    check: CheckId,
    wall_line: Option<u16>,
}

impl Default for Findings {
    fn default() -> Self {
        let [first, ..] = CheckId::ALL;
        Self {
            list: Vec::new(),
            check: first,
            wall_line: None,
        }
    }
}

impl Findings {
    /// The findings so far.
    pub fn as_slice(&self) -> &[Finding] {
        &self.list
    }

    pub(super) fn clear(&mut self) {
        self.list.clear();
    }

    pub(super) fn at(&mut self, check: CheckId, wall_line: Option<usize>) {
        self.check = check;
        self.wall_line = wall_line.and_then(|line| u16::try_from(line).ok());
    }

    pub(super) fn add(&mut self, judgment: Judgment) {
        let Judgment {
            span,
            outcomes,
            fact,
            measured,
            required,
            limit,
            basis,
            figures,
            deciding,
            about,
        } = judgment;
        self.list.push(Finding {
            check: self.check,
            wall_line: self.wall_line,
            span,
            outcomes,
            fact,
            measured,
            required,
            limit,
            basis,
            figures,
            deciding,
            about,
        });
    }

    /// Brings together what a check found under each of several possible requirements: everything after
    /// `start`, run by run as `ends` says. What comes to the same in every case is kept from one of them;
    /// what does not becomes one open finding.
    pub(super) fn reconcile(&mut self, start: usize, ends: &[usize], decided_by: [Option<LookAt>; 4]) {
        let Some((first_end, rest)) = ends.split_first() else {
            return;
        };
        let Some((last_end, _)) = rest.split_last() else {
            return;
        };
        let run = |from: usize, to: usize| self.list.get(from..to).unwrap_or_default();
        let outcome = |findings: &[Finding]| {
            findings
                .iter()
                .map(|finding| finding.outcomes)
                .reduce(Outcomes::strictest)
                .unwrap_or(Outcomes::only(Outcome::NotApplicable))
        };
        let first = run(start, *first_end);
        let mut from = *first_end;
        let is_the_same_in_every_case = rest
            .iter()
            .all(|to| run(std::mem::replace(&mut from, *to), *to) == first);
        if is_the_same_in_every_case {
            // Nothing hangs on the case: what is open here is open for reasons of its own.
            self.list.truncate(*first_end);
            return;
        }
        let union = ends.iter().scan(start, |from, to| {
            Some(outcome(run(std::mem::replace(from, *to), *to)))
        });
        let (union, all_same) = union.fold((outcome(first), true), |(union, same), one| {
            (
                union.or(one),
                same && one == outcome(first) && one.is_determined(),
            )
        });
        if all_same && union.worst() >= Outcome::NotMet {
            // It falls short even by the mildest requirement: show that one.
            self.list.truncate(*first_end);
        } else if all_same {
            // It is met even by the strictest requirement: show that one.
            let last_start = rest
                .len()
                .checked_sub(2)
                .and_then(|at| rest.get(at))
                .unwrap_or(first_end);
            self.list.drain(start..*last_start);
        } else {
            let Some(mut merged) = run(start, *last_end)
                .iter()
                .max_by_key(|f| f.outcomes.worst())
                .copied()
            else {
                return;
            };
            for other in run(start, *last_end) {
                other.figures.iter().for_each(|figure| merged.figures.add(figure));
                other
                    .deciding
                    .iter()
                    .for_each(|look_at| merged.deciding.add(look_at));
            }
            merged.outcomes = union;
            let mut deciding = Few::new();
            decided_by
                .into_iter()
                .flatten()
                .chain(merged.deciding.iter())
                .for_each(|look_at| deciding.add(look_at));
            merged.deciding = deciding;
            if union.ruling() == Ruling::NotDetermined {
                merged.fact = "What is asked for depends on something about the house that is not known.";
            }
            self.list.truncate(start);
            self.list.push(merged);
        }
    }
}
