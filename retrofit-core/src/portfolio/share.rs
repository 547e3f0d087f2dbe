//! What some findings add to the digest of a house: shares are put together, and a digest is read off the whole.

use super::digest::{Digest, Governing};
use crate::check::{Brief, Counts, LookAt, Outcome, Outcomes, Ruling};
use crate::choice::Choice;
use crate::provisions::{Provisions, Standing};

/// As many bytes as there are rulings, and as there are observations, rounded up so that a processor takes many at once.
const RULINGS: usize = 8;
const LOOKS: usize = LookAt::ALL.len().next_multiple_of(16);
/// Where the sums of a share begin: findings by ruling; in how many findings that are open each observation
/// is; in how many of those that may put the house outside the provisions.
const OPEN: usize = 2 * RULINGS;
const MAY_BE_OUTSIDE: usize = OPEN + LOOKS;
const SUMS: usize = MAY_BE_OUTSIDE + LOOKS;
/// Where the least of each ruling begin: the place of the first finding in the order of findings; the best standing of
/// what a finding rests on.
const FIRST: usize = 0;
const BEST: usize = FIRST + RULINGS;
const LEAST: usize = BEST + RULINGS;

/// What some findings on a house with one wall line come to: bytes side by side, so that shares are put together without
/// a branch. A house with one wall line has fewer findings than a byte holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) struct Share {
    outcomes: Outcomes,
    sums: [u8; SUMS],
    least: [u8; LEAST],
    /// By ruling, the weakest standing of what a finding rests on, counted from one.
    most: [u8; 2 * RULINGS],
}

/// Where no finding came to a ruling.
const NO_FINDING: u8 = u8::MAX;

impl Share {
    /// Of no finding.
    pub(super) const NOTHING: Self = Self {
        outcomes: Outcomes::only(Outcome::NotApplicable),
        sums: [0; SUMS],
        least: [NO_FINDING; LEAST],
        most: [0; 2 * RULINGS],
    };

    fn count(&mut self, at: usize) {
        if let Some(sum) = self.sums.get_mut(at) {
            *sum += 1;
        }
    }

    /// Adds a finding, which has a place in the order of findings.
    pub(super) fn add(&mut self, place: u8, finding: &Brief, provisions: &Provisions) {
        let ruling = finding.outcomes.ruling();
        let of_ruling = ruling as usize;
        self.outcomes = self.outcomes.strictest(finding.outcomes);
        self.count(of_ruling);
        let standings = finding
            .figures
            .iter()
            .filter_map(|id| provisions.figure(id)?.standing());
        let standing = standings.max().unwrap_or(Standing::Verified) as u8;
        for (at, byte) in [(FIRST, place), (BEST, standing)] {
            if let Some(least) = self.least.get_mut(at + of_ruling) {
                *least = byte.min(*least);
            }
        }
        if let Some(weakest) = self.most.get_mut(of_ruling) {
            *weakest = (standing + 1).max(*weakest);
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
    pub(super) fn join(&mut self, other: &Self) {
        self.outcomes = self.outcomes.strictest(other.outcomes);
        for (sum, more) in self.sums.iter_mut().zip(&other.sums) {
            *sum = sum.wrapping_add(*more);
        }
        for (least, other) in self.least.iter_mut().zip(&other.least) {
            *least = (*least).min(*other);
        }
        for (most, other) in self.most.iter_mut().zip(&other.most) {
            *most = (*most).max(*other);
        }
    }

    /// The digest of a house of whose findings these are all; the finding of a place is asked for.
    #[inline]
    pub(super) fn digest<E>(
        &self,
        finding_at: impl FnOnce(u8) -> Result<Option<Governing>, E>,
    ) -> Result<Digest, E> {
        let ruling = self.outcomes.ruling();
        let count = |of: Ruling| u32::from(self.sums.get(of as usize).copied().unwrap_or_default());
        let counts = Counts {
            met: count(Ruling::Met),
            not_met: count(Ruling::NotMet),
            not_determined: count(Ruling::NotDetermined),
            not_applicable: count(Ruling::NotApplicable),
            outside: count(Ruling::Outside),
        };
        let least = |at: usize, ruling: Ruling| {
            let byte = self.least.get(at + ruling as usize).copied();
            byte.filter(|byte| *byte != NO_FINDING)
        };
        let weakest = |ruling: Ruling| {
            let byte = self.most.get(ruling as usize)?.checked_sub(1)?;
            standing_of(byte)
        };
        let first = match ruling {
            Ruling::NotMet | Ruling::Outside => least(FIRST, ruling),
            _ => None,
        };
        Ok(Digest {
            outcomes: self.outcomes,
            counts,
            governing: first.map_or(Ok(None), finding_at)?,
            standing: match ruling {
                Ruling::NotMet | Ruling::Outside => least(BEST, ruling).and_then(standing_of),
                Ruling::NotDetermined => weakest(ruling).max(weakest(Ruling::Met)),
                _ => weakest(ruling),
            },
            next: if counts.not_determined == 0 {
                [None; Digest::MOST_LOOKS]
            } else {
                self.most_open()
            },
        })
    }

    fn looks(&self, from: usize) -> [u8; LOOKS] {
        let bytes = self.sums.get(from..).and_then(|rest| rest.first_chunk());
        bytes.copied().unwrap_or([0; LOOKS])
    }

    /// The observations that would narrow the verdict most: those that may put the house outside first, then
    /// those that are open in most findings; of equals, the one that comes first in a crawl. They come out in
    /// the order of a crawl.
    #[inline]
    fn most_open(&self) -> [Option<LookAt>; Digest::MOST_LOOKS] {
        const OUTSIDE: u8 = 1 << 7;
        let mut rank = self.looks(OPEN);
        let may_be_outside = self.looks(MAY_BE_OUTSIDE);
        for (rank, outside) in rank.iter_mut().zip(&may_be_outside) {
            // As many findings as a house has leave the top bit alone.
            *rank |= if *outside > 0 { OUTSIDE } else { 0 };
        }
        let mut next = [None; Digest::MOST_LOOKS];
        for slot in &mut next {
            let most = rank.iter().fold(0, |most: u8, rank| most.max(*rank));
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

/// The standing of a byte.
fn standing_of(byte: u8) -> Option<Standing> {
    const STANDINGS: [Standing; 5] = [
        Standing::Verified,
        Standing::Attested,
        Standing::Secondary,
        Standing::Memory,
        Standing::CommonPractice,
    ];
    let mut standings = STANDINGS.into_iter();
    standings.find(|standing| *standing as u8 == byte)
}
