//! What some findings add to the digest of a house: shares are put together, and a digest is read off the whole.

use super::digest::{Digest, Governing};
use crate::check::{Brief, Counts, LookAt, Outcome, Outcomes, Ruling};
use crate::choice::Choice;
use crate::provisions::{Provisions, Standing};

/// As many bytes as there are observations, rounded up so that they are added many at a time.
const LOOKS: usize = LookAt::ALL.len().next_multiple_of(16);
/// The same for rulings.
const RULINGS: usize = Ruling::ALL.len().next_multiple_of(16);
/// Where no finding came to a ruling.
const NONE: u8 = u8::MAX;

/// What some findings on a house with one wall line come to. Numbers lie side by side by observation and by
/// ruling, so that shares are put together without a branch; such a house has fewer findings than a byte holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) struct Share {
    outcomes: Outcomes,
    /// Findings by ruling.
    counts: [u8; RULINGS],
    /// The first finding of each ruling, by its place in the order of findings.
    firsts: [u8; RULINGS],
    /// The best and the weakest standing of the figures that a finding of each ruling rests on; the weakest is
    /// one more, and 0 where there is none.
    best: [u8; RULINGS],
    weakest: [u8; RULINGS],
    /// In how many findings that are open each observation is, and in how many that may put the house outside
    /// the provisions.
    open: [u8; LOOKS],
    may_be_outside: [u8; LOOKS],
}

impl Share {
    /// Of no finding.
    pub(super) const NOTHING: Self = Self {
        outcomes: Outcomes::only(Outcome::NotApplicable),
        counts: [0; RULINGS],
        firsts: [NONE; RULINGS],
        best: [NONE; RULINGS],
        weakest: [0; RULINGS],
        open: [0; LOOKS],
        may_be_outside: [0; LOOKS],
    };

    /// Adds a finding, which has a place in the order of findings.
    pub(super) fn add(&mut self, place: u8, finding: &Brief, provisions: &Provisions) {
        let ruling = finding.outcomes.ruling();
        self.outcomes = self.outcomes.strictest(finding.outcomes);
        let standings = finding
            .figures
            .iter()
            .filter_map(|id| provisions.figure(id)?.standing());
        let standing = standings.max().unwrap_or(Standing::Verified) as u8;
        let at = ruling as usize;
        if let Some(count) = self.counts.get_mut(at) {
            *count = count.saturating_add(1);
        }
        for (slots, value) in [(&mut self.firsts, place), (&mut self.best, standing)] {
            if let Some(slot) = slots.get_mut(at) {
                *slot = value.min(*slot);
            }
        }
        if let Some(slot) = self.weakest.get_mut(at) {
            *slot = (standing + 1).max(*slot);
        }
        if ruling == Ruling::NotDetermined {
            let may_be_outside = u8::from(finding.outcomes.worst() == Outcome::Outside);
            for look_at in finding.deciding.iter() {
                let at = look_at.index() as usize;
                for (slots, more) in [(&mut self.open, 1), (&mut self.may_be_outside, may_be_outside)] {
                    if let Some(slot) = slots.get_mut(at) {
                        *slot = slot.saturating_add(more);
                    }
                }
            }
        }
    }

    /// Adds the findings of another share.
    #[inline]
    pub(super) fn join(&mut self, other: &Self) {
        self.outcomes = self.outcomes.strictest(other.outcomes);
        for (sum, more) in self.counts.iter_mut().zip(&other.counts) {
            *sum = sum.wrapping_add(*more);
        }
        for (least, other) in self.firsts.iter_mut().zip(&other.firsts) {
            *least = (*other).min(*least);
        }
        for (least, other) in self.best.iter_mut().zip(&other.best) {
            *least = (*other).min(*least);
        }
        for (most, other) in self.weakest.iter_mut().zip(&other.weakest) {
            *most = (*other).max(*most);
        }
        for (sum, more) in self.open.iter_mut().zip(&other.open) {
            *sum = sum.wrapping_add(*more);
        }
        for (sum, more) in self.may_be_outside.iter_mut().zip(&other.may_be_outside) {
            *sum = sum.wrapping_add(*more);
        }
    }

    /// The digest of a house of whose findings this is all; the finding of a place is asked for.
    pub(super) fn digest(&self, finding_at: impl FnOnce(u8) -> Option<Governing>) -> Digest {
        let ruling = self.outcomes.ruling();
        let of = |list: &[u8; RULINGS], ruling: Ruling| list.get(ruling as usize).copied().unwrap_or_default();
        let [not_applicable, met, not_determined, not_met, outside] =
            Ruling::ALL.map(|ruling| u32::from(of(&self.counts, ruling)));
        let standing = match ruling {
            Ruling::NotMet | Ruling::Outside => of(&self.best, ruling).checked_add(1).unwrap_or(0),
            Ruling::NotDetermined => of(&self.weakest, ruling).max(of(&self.weakest, Ruling::Met)),
            _ => of(&self.weakest, ruling),
        };
        let falls_short = matches!(ruling, Ruling::NotMet | Ruling::Outside);
        Digest {
            outcomes: self.outcomes,
            counts: Counts {
                met,
                not_met,
                not_determined,
                not_applicable,
                outside,
            },
            governing: falls_short
                .then(|| of(&self.firsts, ruling))
                .filter(|first| *first != NONE)
                .and_then(finding_at),
            standing: usize::from(standing)
                .checked_sub(1)
                .and_then(|at| Standing::ALL.get(at))
                .copied(),
            next: if not_determined == 0 {
                [None; Digest::MOST_LOOKS]
            } else {
                self.most_open()
            },
        }
    }

    /// The observations that would narrow the verdict most: those that may put the house outside first, then
    /// those that are open in most findings; of equals, the one that comes first in a crawl. They come out in
    /// the order of a crawl.
    fn most_open(&self) -> [Option<LookAt>; Digest::MOST_LOOKS] {
        const OUTSIDE: u8 = 1 << 7;
        let mut rank = self.open;
        for (rank, outside) in rank.iter_mut().zip(&self.may_be_outside) {
            // As many findings as a house has leave the top bit alone.
            *rank |= if *outside > 0 { OUTSIDE } else { 0 };
        }
        let mut next = [None; Digest::MOST_LOOKS];
        for slot in &mut next {
            let most = rank.iter().copied().max().unwrap_or(0);
            let Some(at) = rank.iter().position(|rank| *rank == most).filter(|_| most > 0) else {
                break;
            };
            if let Some(rank) = rank.get_mut(at) {
                *rank = 0;
            }
            *slot = LookAt::ALL.get(at).copied();
        }
        next.sort_by_key(|look_at| look_at.map_or(u32::MAX, Choice::index));
        next
    }
}
