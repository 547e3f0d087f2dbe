//! What the findings on one house come to, in as few words as a row has room for.

use super::parts::PartsFound;
use crate::check::{Check, CheckId, Counts, Finding, LookAt, Outcome, Outcomes, Quantity, Ruling};
use crate::choice::Choice;
use crate::provisions::{Provisions, Standing};

/// The findings on one house in short; taking it needs no memory.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Digest {
    /// What the house can come to.
    pub outcomes: Outcomes,
    /// What was found of its parts.
    pub parts: PartsFound,
    /// How many findings came to each ruling.
    pub counts: Counts,
    /// The deficiency to begin with: of the findings of the verdict's own ruling the first in the order of a
    /// report, which follows the load from the ground up. `None` where nothing falls short.
    pub governing: Option<Governing>,
    /// The weakest standing of a figure that the verdict rests on; `None` where it rests on no finding.
    pub standing: Option<Standing>,
    /// What would narrow the verdict most, in the order of a crawl.
    pub next: [Option<LookAt>; Self::MOST_LOOKS],
}

/// As much of a finding as a row shows of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Governing {
    check: CheckId,
    /// The wall line, by its position in the house; `None` for the house as a whole.
    pub wall_line: Option<u16>,
    /// The value found.
    pub measured: Quantity,
    /// The value asked for.
    pub required: Quantity,
}

impl Governing {
    pub(super) const fn new(
        check: CheckId,
        wall_line: Option<u16>,
        [measured, required]: [Quantity; 2],
    ) -> Self {
        Self {
            check,
            wall_line,
            measured,
            required,
        }
    }

    fn of(finding: &Finding) -> Self {
        Self::new(
            finding.id(),
            finding.wall_line,
            [finding.measured, finding.required],
        )
    }

    pub(super) const fn id(&self) -> CheckId {
        self.check
    }

    /// The check that found it.
    pub fn check(&self) -> &'static Check {
        self.check.check()
    }

    /// The position of that check in the registry.
    pub fn check_index(&self) -> usize {
        self.check as usize
    }
}

impl Digest {
    /// How many observations a row names.
    pub const MOST_LOOKS: usize = 3;

    /// Takes the findings of one house together.
    pub fn of(findings: &[Finding], provisions: &Provisions) -> Self {
        let mut outcomes = Outcomes::only(Outcome::NotApplicable);
        let mut parts = PartsFound::NOTHING.word();
        let mut counts = Counts::default();
        let mut open_in = [(Outcome::NotApplicable, 0u16); LookAt::ALL.len()];
        for finding in findings {
            let ruling = finding.outcomes.ruling();
            outcomes = outcomes.strictest(finding.outcomes);
            parts |= PartsFound::of(finding.id(), finding.outcomes).word();
            let count = match ruling {
                Ruling::Met => &mut counts.met,
                Ruling::NotMet => &mut counts.not_met,
                Ruling::NotDetermined => &mut counts.not_determined,
                Ruling::NotApplicable => &mut counts.not_applicable,
                Ruling::Outside => &mut counts.outside,
            };
            *count += 1;
            if ruling == Ruling::NotDetermined {
                for look_at in finding.deciding.iter() {
                    if let Some((worst, open)) = open_in.get_mut(look_at.index() as usize) {
                        *worst = finding.outcomes.worst().max(*worst);
                        *open = open.saturating_add(1);
                    }
                }
            }
        }
        let ruling = outcomes.ruling();
        let falls_short = matches!(ruling, Ruling::NotMet | Ruling::Outside);
        let governing = findings
            .iter()
            .find(|finding| falls_short && finding.outcomes.ruling() == ruling)
            .map(Governing::of);
        Self {
            outcomes,
            parts: PartsFound::of_word(parts),
            counts,
            governing,
            standing: standing(findings, ruling, provisions),
            next: if counts.not_determined == 0 {
                [None; Self::MOST_LOOKS]
            } else {
                most_open(&open_in)
            },
        }
    }
}

/// The weakest figure that a verdict needs, by the same rule as [`crate::check::Rests`].
fn standing(findings: &[Finding], ruling: Ruling, provisions: &Provisions) -> Option<Standing> {
    let weakest = |finding: &Finding| {
        let standings = finding
            .figures
            .iter()
            .filter_map(|id| provisions.figure(id)?.standing());
        standings.max().unwrap_or(Standing::Verified)
    };
    let also = match ruling {
        Ruling::NotDetermined => Ruling::Met,
        ruling => ruling,
    };
    let deciding = findings.iter().filter(|finding| {
        let of_finding = finding.outcomes.ruling();
        of_finding == ruling || of_finding == also
    });
    match ruling {
        Ruling::NotMet | Ruling::Outside => deciding.map(weakest).min(),
        _ => deciding.map(weakest).max(),
    }
}

/// The worst that an observation can come to where it is open, and in how many findings it is.
type Open = (Outcome, u16);

/// The observations that would narrow the verdict most, by the same rule as those of an assessment; of equals,
/// the one that comes first in a crawl.
fn most_open(open_in: &[Open; LookAt::ALL.len()]) -> [Option<LookAt>; Digest::MOST_LOOKS] {
    let mut next: [Option<(Open, LookAt)>; Digest::MOST_LOOKS] = [None; Digest::MOST_LOOKS];
    for (open, look_at) in open_in.iter().zip(LookAt::ALL).filter(|((_, open), _)| *open > 0) {
        // Insertion into a list that is kept sorted: whatever falls off its end is the least open.
        let mut entry = (*open, *look_at);
        for slot in &mut next {
            let rank = |(open, look_at): (Open, LookAt)| (std::cmp::Reverse(open), look_at.index());
            if slot.is_none_or(|other| rank(entry) < rank(other)) {
                match slot.replace(entry) {
                    Some(displaced) => entry = displaced,
                    None => break,
                }
            }
        }
    }
    let mut next = next.map(|entry| entry.map(|(_, look_at)| look_at));
    next.sort_by_key(|look_at| look_at.map_or(u32::MAX, Choice::index));
    next
}
