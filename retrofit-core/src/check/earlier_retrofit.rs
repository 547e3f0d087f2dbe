//! Whether an earlier strengthening is whole: sill to foundation, panels, panels to floor.

use super::context::Line;
use super::finding::{Brief, Few, Finding, Judgment, Quantity};
use super::look_at::LookAt;
use super::outcome::{Outcome, Outcomes, Ruling};
use super::registry::{Check, Explanation, Group, Run};
use crate::choice::Choice;
use crate::observation::{Basis, Truth};
use crate::provisions::{FigureId, FigureName};

pub(super) static CHECK: Check = Check {
    name: "earlier-retrofit",
    group: Group::Retrofit,
    title: "Earlier strengthening",
    explanation: Explanation {
        looks_at: "The three links of an earlier strengthening along this wall line: sill to foundation, braced panels, panels to floor.",
        why: "The links work like a chain: bolts without panels, or panels without a tie to the floor, leave the house to slide or fold at the link that is missing.",
        satisfied_by: "All three links as the provisions ask; where there is no cripple wall, nothing is asked of panels.",
        fix: "Add the missing link; the checks of its group say what it lacks.",
    },
    // It applies the figures of the checks it goes over; these lead each link.
    figures: &[
        FigureName::AnchorSpacing,
        FigureName::BracedShare,
        FigureName::RimPatterns,
    ],
    reads: &[
        LookAt::EarlierRetrofit,
        LookAt::Anchors,
        LookAt::Panels,
        LookAt::Rim,
        LookAt::Connections,
    ],
    run: Run::Audit(check),
};

const NOT_DONE: &str = "No earlier strengthening was done here.";

/// The groups of checks that stand for the three links, in the order of a report.
pub(super) const LINKS: [Group; 3] = [Group::Anchorage, Group::Bracing, Group::Floor];

/// What the findings on one link come to together, as far as this check goes by them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) struct Link {
    outcomes: Outcomes,
    /// By ruling: how the findings that come to it are known, and by which figures.
    by_ruling: [(Option<Basis>, Few<FigureId, 4>); Ruling::ALL.len()],
    /// What decides those that are open.
    deciding: Few<LookAt, 4>,
}

impl Link {
    /// A link of which nothing was found; not applicable, as where the provisions ask nothing of it.
    pub(crate) const NOTHING: Self = Self {
        outcomes: Outcomes::only(Outcome::NotApplicable),
        by_ruling: [(None, Few::new()); Ruling::ALL.len()],
        deciding: Few::new(),
    };

    fn of<'f>(findings: impl IntoIterator<Item = &'f Finding>) -> Self {
        let mut link = Self::NOTHING;
        for finding in findings {
            link.add(finding.basis, &finding.brief());
        }
        link
    }

    /// Adds a finding to those before it.
    pub(crate) fn add(&mut self, basis: Option<Basis>, finding: &Brief) {
        self.outcomes = self.outcomes.strictest(finding.outcomes);
        if let Some((weakest, figures)) = self.by_ruling.get_mut(finding.outcomes.ruling() as usize) {
            *weakest = basis.max(*weakest);
            finding.figures.iter().for_each(|figure| figures.add(figure));
        }
        if !finding.outcomes.is_determined() {
            finding
                .deciding
                .iter()
                .for_each(|look_at| self.deciding.add(look_at));
        }
    }
}

/// The three links together, each in parts: as much of them as the judgment goes by.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Chain {
    links: [Outcomes; LINKS.len()],
    /// How the findings that come to what all come to are known, and by which figures.
    basis: Option<Basis>,
    figures: Few<FigureId, 4>,
    deciding: Few<LookAt, 4>,
}

impl Chain {
    pub(crate) fn new<'l>(links: [impl Iterator<Item = &'l Link> + Clone; LINKS.len()]) -> Self {
        let strictest = |one: Outcomes, other: Outcomes| one.strictest(other);
        let nothing = Outcomes::only(Outcome::NotApplicable);
        let mut chain = Self {
            links: links
                .clone()
                .map(|parts| parts.map(|part| part.outcomes).fold(nothing, strictest)),
            basis: None,
            figures: Few::new(),
            deciding: Few::new(),
        };
        let all = chain.outcomes();
        for part in links.into_iter().flatten() {
            if let Some((basis, figures)) = part.by_ruling.get(all.ruling() as usize) {
                chain.basis = chain.basis.max(*basis);
                chain.figures.add_all(figures);
            }
            // Nothing decides what is decided.
            if !all.is_determined() {
                chain.deciding.add_all(&part.deciding);
            }
        }
        chain
    }

    fn outcomes(&self) -> Outcomes {
        let [anchorage, bracing, floor] = self.links;
        anchorage.strictest(bracing).strictest(floor)
    }

    /// Two words that are alike where the judgment is, but for its basis.
    pub(crate) fn key(&self, done: Truth) -> [u64; 2] {
        let links = self.links.map(Outcomes::word);
        key(
            done,
            links,
            in_figure_word(&self.figures),
            in_look_word(self.deciding),
        )
    }
}

/// A link in words: what a key of a chain takes of it, at hand.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct LinkInWords {
    outcomes: u16,
    figures: [u64; Ruling::ALL.len()],
    deciding: u64,
}

impl LinkInWords {
    pub(crate) fn new(link: &Link) -> Self {
        Self {
            outcomes: link.outcomes.word(),
            figures: link
                .by_ruling
                .each_ref()
                .map(|(_, figures)| in_figure_word(figures)),
            deciding: in_look_word(link.deciding),
        }
    }

    /// The key of the chain of some parts, each with the number of its link: see [`Chain::key`].
    #[inline]
    pub(crate) fn key_of_chain<'l>(
        done: Truth,
        parts: impl Iterator<Item = (usize, &'l Self)> + Clone,
    ) -> [u64; 2] {
        let mut links = [Outcomes::only(Outcome::NotApplicable).word(); LINKS.len()];
        for (link, part) in parts.clone() {
            if let Some(link) = links.get_mut(link) {
                *link |= part.outcomes;
            }
        }
        let all = Outcomes::strictest_of(links.iter().fold(0, |all, link| all | link));
        let ruling = all.ruling() as usize;
        let (mut figures, mut deciding) = (0, 0);
        for (_, part) in parts {
            let of_ruling = part.figures.get(ruling).copied().unwrap_or_default();
            figures = with_more::<FIGURE_BITS>(figures, of_ruling);
            if !all.is_determined() {
                deciding = with_more::<LOOK_BITS>(deciding, part.deciding);
            }
        }
        key(done, links, figures, deciding)
    }
}

fn key(done: Truth, links: [u16; LINKS.len()], figures: u64, deciding: u64) -> [u64; 2] {
    let links = links.into_iter().fold(done as u64, |word, link| {
        word << Outcomes::BITS | u64::from(Outcomes::strictest_of(link).bits())
    });
    [figures, links << (FEW * LOOK_BITS) | deciding]
}

/// How many figures and observations a chain keeps.
const FEW: u32 = 4;
const FIGURE_BITS: u32 = 16;
const LOOK_BITS: u32 = 8;

/// Figures side by side in a word, the last in the lowest bits.
fn in_figure_word(figures: &Few<FigureId, { FEW as usize }>) -> u64 {
    figures.iter().fold(0, |word, figure| {
        word << FIGURE_BITS | (u64::from(figure.number()) + 1)
    })
}

/// Observations side by side in a word, the last in the lowest bits.
fn in_look_word(looks: Few<LookAt, { FEW as usize }>) -> u64 {
    looks.iter().fold(0, |word, look_at| {
        word << LOOK_BITS | (u64::from(look_at.index()) + 1)
    })
}

/// What is side by side in a word and, after it, what is in another and not there already: as [`Few`] adds.
#[inline]
fn with_more<const BITS: u32>(word: u64, more: u64) -> u64 {
    match (word, more) {
        (_, 0) => word,
        (0, _) => more,
        _ if word == more => word,
        _ => with_each::<BITS>(word, more),
    }
}

fn with_each<const BITS: u32>(mut word: u64, more: u64) -> u64 {
    let lane: u64 = (1 << BITS) - 1;
    // The lowest bit of each lane.
    let low = (0..FEW).fold(0, |low, at| low | 1 << (at * BITS));
    let mut left = (u64::BITS - more.leading_zeros()).div_ceil(BITS);
    // Until the last of what was there comes up to the first lane, and there is no room left.
    while left > 0 && word >> ((FEW - 1) * BITS) == 0 {
        left -= 1;
        let item = more >> (left * BITS) & lane;
        let differs = word ^ (item * low);
        let is_there = differs.wrapping_sub(low) & !differs & (low << (BITS - 1)) > 0;
        word = if is_there { word } else { word << BITS | item };
    }
    word
}

/// Whether a link is there: a link of which nothing is asked does not break the chain.
fn holds(link: Outcomes) -> Truth {
    Truth::from_cases(link.best() <= Outcome::Met, link.worst() <= Outcome::Met)
}

/// The findings on one link. Findings stand in the order of a report, and so group by group.
fn on_link(group: Group, findings: &[Finding]) -> &[Finding] {
    let from = findings.partition_point(|finding| finding.check().group < group);
    let to = findings.partition_point(|finding| finding.check().group <= group);
    findings.get(from..to).unwrap_or_default()
}

fn check(line: &Line<'_>, findings: &[Finding]) -> Judgment {
    let done = match &line.wall.earlier_retrofit {
        along_this_line if !along_this_line.is_not_recorded() => along_this_line,
        _ => &line.house.earlier_retrofit,
    }
    .satisfies(|done| done);
    let links = LINKS.map(|group| Link::of(on_link(group, findings)));
    let judgment = judge(done, &Chain::new(links.each_ref().map(std::iter::once)));
    if judgment.outcomes() == Outcomes::only(Outcome::NotApplicable) {
        return judgment;
    }
    judgment.span(Some(line.whole()))
}

/// The judgment on an earlier strengthening, as far as it is known whether there was one.
pub(super) fn judge(done: Truth, chain: &Chain) -> Judgment {
    if done == Truth::False {
        return Judgment::not_applicable(NOT_DONE).about(LookAt::EarlierRetrofit, None);
    }
    let holds = chain.links.map(holds);
    let all = chain.outcomes();
    let judgment = Judgment::new(all)
        .fact(match holds {
            [Truth::True, Truth::True, Truth::True] => {
                "The three links of the earlier strengthening are as asked for."
            }
            [Truth::False, Truth::False, Truth::False] => {
                "None of the three links of the earlier strengthening is as asked for."
            }
            _ if holds.contains(&Truth::False) && holds.contains(&Truth::True) => {
                "A link of the earlier strengthening falls short; without it the others are of no use."
            }
            _ if holds.contains(&Truth::False) => {
                "A link of the earlier strengthening falls short; whether the others are there was not seen."
            }
            _ => "Whether the three links of the earlier strengthening are there depends on something that was not seen.",
        })
        .measured(Quantity::Word(match holds.map(|holds| holds == Truth::False) {
            [true, true, true] => "all three links fall short",
            [true, true, false] => "sill to foundation and panels fall short",
            [true, false, true] => "sill to foundation and panels to floor fall short",
            [false, true, true] => "panels and panels to floor fall short",
            [true, false, false] => "sill to foundation falls short",
            [false, true, false] => "panels fall short",
            [false, false, true] => "panels to floor falls short",
            [false, false, false] if holds.contains(&Truth::Maybe) => "not seen in full",
            [false, false, false] => "all three links",
        }))
        .required(Quantity::Word("sill to foundation, panels, panels to floor"))
        .about(LookAt::EarlierRetrofit, None);

    // It rests on the findings that come to the same, and is decided by what decides those that are open.
    let judgment = chain
        .figures
        .iter()
        .fold(judgment, Judgment::figure)
        .basis(chain.basis);
    let judgment = chain.deciding.iter().fold(judgment, Judgment::decided_by);
    let judgment = if all == Outcomes::only(Outcome::NotApplicable) {
        Judgment::not_applicable("These provisions ask nothing of the three links here.")
    } else {
        judgment
    };
    judgment
        .applicable_if(done, NOT_DONE, LookAt::EarlierRetrofit)
        .or_about(LookAt::EarlierRetrofit)
}

#[cfg(test)]
mod tests {
    use crate::check::Ruling::{self, Met, NotApplicable, NotDetermined, NotMet};
    use crate::check::sample::{changed, findings, ruling_after, shipped};
    use rstest::rstest;

    #[rstest]
    #[case("cebc-a3-2013", "earlier_retrofit = true", Met)]
    #[case("cebc-a3-2013", "earlier_retrofit = false", NotApplicable)]
    #[case("cebc-a3-2013", "wall.anchors = []", NotMet)]
    #[case("cebc-a3-2013", "wall.panels = []", NotMet)]
    #[case("cebc-a3-2013", r#"wall.rim = "none""#, NotMet)]
    #[case(
        "cebc-a3-2013",
        r#"wall.anchors = []; wall.panels = []; wall.rim = "none""#,
        NotMet
    )]
    #[case("cebc-a3-2013", "wall.anchors = ?", NotDetermined)]
    #[case("cebc-a3-2013", r#"wall.anchors = ?; wall.rim = "none""#, NotMet)]
    #[case("cebc-a3-2013", "earlier_retrofit = ?; wall.anchors = []", NotDetermined)]
    #[case("cebc-a3-2013", "wall.cripple_wall = []; wall.panels = []", Met)]
    #[case("cebc-a3-2013", "earlier_retrofit = false; wall.anchors = []", NotApplicable)]
    fn one_missing_link_is_not_met(#[case] set: &str, #[case] changes: &str, #[case] expected: Ruling) {
        assert_eq!(ruling_after(changes, &shipped(set), "earlier-retrofit"), expected);
    }

    #[rstest]
    #[case("wall.panels = []", "panels fall short", "of no use")]
    #[case("wall.anchors = []", "sill to foundation falls short", "of no use")]
    #[case(r#"wall.rim = "none""#, "panels to floor falls short", "of no use")]
    #[case(
        "wall.anchors = []; wall.panels = []; wall.rim = \"none\"",
        "all three links fall short",
        "None"
    )]
    fn the_missing_link_is_named(#[case] changes: &str, #[case] measured: &str, #[case] fact: &str) {
        let found = findings(changed(changes), "cebc-a3-2013", "earlier-retrofit");
        assert_eq!(found[0].measured.to_string(), measured);
        assert!(found[0].fact.contains(fact), "{}", found[0].fact);
        // Without figures the verdict would seem better founded than the findings it goes over.
        assert!(!found[0].figures.is_empty());
    }
}
