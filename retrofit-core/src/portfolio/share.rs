//! What some findings add to the digest of a house: shares are put together, and a digest is read off the whole.

use super::digest::{Digest, Governing};
use crate::check::{Brief, Counts, LookAt, Outcome, Outcomes, Ruling};
use crate::choice::Choice;
use crate::provisions::{Provisions, Standing};

/// As many bytes as there are rulings, and as there are observations, rounded up so that a processor adds many at once.
const RULINGS: usize = Ruling::ALL.len().next_multiple_of(16);
const LOOKS: usize = LookAt::ALL.len().next_multiple_of(16);
/// Where the numbers of a share begin: findings by ruling; in how many findings that are open each observation
/// is; in how many of those that may put the house outside the provisions.
const OPEN: usize = RULINGS;
const MAY_BE_OUTSIDE: usize = OPEN + LOOKS;
const BYTES: usize = MAY_BE_OUTSIDE + LOOKS;

/// What some findings on a house with one wall line come to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) struct Share {
    outcomes: Outcomes,
    /// Numbers side by side, so that shares are put together without a branch. A house with one wall line has fewer
    /// findings than a byte holds.
    numbers: [u8; BYTES],
    by_ruling: [Findings; Ruling::ALL.len()],
}

/// The findings that came to one ruling.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
struct Findings {
    /// The place of the first in the order of findings.
    first: u8,
    /// The best and the weakest standing of the figures that each of them rests on.
    standings: (Standing, Standing),
}

impl Share {
    /// Of no finding.
    pub(super) const NOTHING: Self = Self {
        outcomes: Outcomes::only(Outcome::NotApplicable),
        numbers: [0; BYTES],
        by_ruling: [Findings {
            first: u8::MAX,
            standings: (Standing::CommonPractice, Standing::Verified),
        }; Ruling::ALL.len()],
    };

    fn count(&mut self, at: usize) {
        if let Some(number) = self.numbers.get_mut(at) {
            *number += 1;
        }
    }

    fn bytes<const N: usize>(&self, from: usize) -> [u8; N] {
        let bytes = self.numbers.get(from..).and_then(|rest| rest.first_chunk());
        bytes.copied().unwrap_or([0; N])
    }

    /// Adds a finding, which has a place in the order of findings.
    pub(super) fn add(&mut self, place: u8, finding: &Brief, provisions: &Provisions) {
        let ruling = finding.outcomes.ruling();
        self.outcomes = self.outcomes.strictest(finding.outcomes);
        self.count(ruling as usize);
        let standings = finding
            .figures
            .iter()
            .filter_map(|id| provisions.figure(id)?.standing());
        let standing = standings.max().unwrap_or(Standing::Verified);
        if let Some(of_ruling) = self.by_ruling.get_mut(ruling as usize) {
            let (best, weakest) = of_ruling.standings;
            of_ruling.first = of_ruling.first.min(place);
            of_ruling.standings = (best.min(standing), weakest.max(standing));
        }
        if ruling == Ruling::NotDetermined {
            for look_at in finding.deciding.iter() {
                let at = look_at.index() as usize;
                self.count(OPEN + at);
                if finding.outcomes.worst() == Outcome::Outside {
                    self.count(MAY_BE_OUTSIDE + at);
                }
            }
        }
    }

    /// Adds the findings of another share.
    #[inline]
    fn join(&mut self, other: &Self) {
        self.outcomes = self.outcomes.strictest(other.outcomes);
        for (sum, more) in self.numbers.iter_mut().zip(&other.numbers) {
            *sum = sum.wrapping_add(*more);
        }
    }

    /// The digest of a house of whose findings these are all, in their order; the finding of a place is asked for.
    #[inline]
    pub(super) fn digest<'s>(
        shares: impl Iterator<Item = &'s Self> + Clone,
        finding_at: impl FnOnce(u8) -> Option<Governing>,
    ) -> Digest {
        let mut whole = Self::NOTHING;
        shares.clone().for_each(|share| whole.join(share));
        let ruling = whole.outcomes.ruling();
        let counts: [u8; RULINGS] = whole.bytes(0);
        let count = |of: Ruling| u32::from(counts.get(of as usize).copied().unwrap_or_default());
        let counts = Counts {
            met: count(Ruling::Met),
            not_met: count(Ruling::NotMet),
            not_determined: count(Ruling::NotDetermined),
            not_applicable: count(Ruling::NotApplicable),
            outside: count(Ruling::Outside),
        };
        let of = |ruling: Ruling| {
            let of_ruling = shares
                .clone()
                .filter_map(move |share| share.by_ruling.get(ruling as usize));
            of_ruling.filter(|findings| findings.first != u8::MAX)
        };
        let weakest = |ruling| of(ruling).map(|findings| findings.standings.1).max();
        let governing = match ruling {
            Ruling::NotMet | Ruling::Outside => of(ruling).next(),
            _ => None,
        };
        Digest {
            outcomes: whole.outcomes,
            counts,
            governing: governing.and_then(|findings| finding_at(findings.first)),
            standing: match ruling {
                Ruling::NotMet | Ruling::Outside => of(ruling).map(|findings| findings.standings.0).min(),
                Ruling::NotDetermined => weakest(ruling).max(weakest(Ruling::Met)),
                _ => weakest(ruling),
            },
            next: if counts.not_determined == 0 {
                [None; Digest::MOST_LOOKS]
            } else {
                whole.most_open()
            },
        }
    }

    /// The observations that would narrow the verdict most: those that may put the house outside first, then
    /// those that are open in most findings; of equals, the one that comes first in a crawl. They come out in
    /// the order of a crawl.
    fn most_open(&self) -> [Option<LookAt>; Digest::MOST_LOOKS] {
        const OUTSIDE: u8 = 1 << 7;
        let mut rank: [u8; LOOKS] = self.bytes(OPEN);
        let may_be_outside: [u8; LOOKS] = self.bytes(MAY_BE_OUTSIDE);
        for (rank, outside) in rank.iter_mut().zip(&may_be_outside) {
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
