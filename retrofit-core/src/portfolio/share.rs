//! What some findings add to the digest of a house: shares are put together, and a digest is read off the whole.

use wide::u8x16;

use super::digest::Digest;
use super::parts::PartsFound;
use super::rows::each;
use crate::check::{Brief, CheckId, Counts, LookAt, Outcome, Outcomes, Ruling};
use crate::choice::Choice;
use crate::provisions::{Provisions, Standing};

/// Where the counts of a share begin, side by side so that many are gone over at once: findings by ruling; in how many
/// findings that are open each observation is.
const BY_RULING: usize = 0;
const OPEN: usize = Ruling::ALL.len().next_multiple_of(AT_ONCE);
const LOOKS: usize = LookAt::ALL.len().next_multiple_of(AT_ONCE);
const COUNTS: usize = OPEN + LOOKS;

/// So many bytes are gone over at once.
const AT_ONCE: usize = 16;

/// How many standings there are, and so how many marks tell on which of them findings rest.
const STANDING_MARKS: u32 = 5;

/// From the strongest to the weakest.
const STANDINGS: [Standing; STANDING_MARKS as usize] = [
    Standing::Verified,
    Standing::Attested,
    Standing::Secondary,
    Standing::Memory,
    Standing::CommonPractice,
];

/// Where the marks of a share begin, in words of a bit for each: the observations that are open where the house may be
/// outside; and, each in a word of its own, what was found of the parts, and what the house can come to (see
/// [`Outcomes::word`]) and on what that rests.
const MAY_BE_OUTSIDE: usize = 0;
const PARTS: usize = MAY_BE_OUTSIDE + LookAt::ALL.len().div_ceil(64);
const OUTCOMES: usize = PARTS + 1;
const MARKS: usize = OUTCOMES + 1;

/// Of the rulings of which a row shows the first finding, where that stands.
const NOT_MET: usize = 0;
const OUTSIDE: usize = 1;

/// What some findings on a house with one wall line come to, in counts and marks that are put together without a branch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) struct Share {
    /// A house with one wall line has fewer findings than a byte holds.
    counts: [u8; COUNTS],
    marks: [u64; MARKS],
    /// How far from the last place in the order of findings the first one stands that is not met, and the first that is
    /// outside; 0 where there is none. A whole word, so that all are put together at once.
    firsts: [u8; 8],
}

impl Share {
    /// Of no finding.
    pub(super) const NOTHING: Self = {
        let mut marks = [0; MARKS];
        let [.., parts, outcomes] = &mut marks;
        *parts = PartsFound::NOTHING.word();
        *outcomes = Outcomes::only(Outcome::NotApplicable).word() as u64;
        Self {
            counts: [0; COUNTS],
            marks,
            firsts: [0; 8],
        }
    };

    fn add_one(&mut self, at: usize) {
        if let Some(count) = self.counts.get_mut(at) {
            *count += 1;
        }
    }

    /// Sets a mark, among those that begin at a word.
    fn mark(&mut self, from: usize, at: u32) {
        if let Some(word) = self.marks.get_mut(from + (at / u64::BITS) as usize) {
            *word |= 1 << (at % u64::BITS);
        }
    }

    fn note_first(&mut self, of: usize, place: u8) {
        debug_assert!(place < u8::MAX, "0 tells that there is none");
        if let Some(first) = self.firsts.get_mut(of) {
            *first = u8::MAX.saturating_sub(place).max(*first);
        }
    }

    fn count(&self, at: usize) -> u8 {
        self.counts.get(at).copied().unwrap_or_default()
    }

    /// Adds a finding of a check, which has a place in the order of findings.
    pub(super) fn add(&mut self, check: CheckId, place: u8, finding: &Brief, provisions: &Provisions) {
        let ruling = finding.outcomes.ruling();
        let [.., parts, outcomes] = &mut self.marks;
        *parts |= PartsFound::of(check, finding.outcomes).word();
        *outcomes |= u64::from(finding.outcomes.word());
        self.add_one(BY_RULING + ruling as usize);
        let standings = finding
            .figures
            .iter()
            .filter_map(|id| provisions.figure(id)?.standing());
        let standing = standings.max().unwrap_or(Standing::Verified);
        self.mark(OUTCOMES, by_standing(ruling) + standing as u32);
        match ruling {
            Ruling::NotMet => self.note_first(NOT_MET, place),
            Ruling::Outside => self.note_first(OUTSIDE, place),
            Ruling::NotDetermined => {
                for look_at in finding.deciding.iter() {
                    self.add_one(OPEN + look_at.index() as usize);
                    if finding.outcomes.worst() == Outcome::Outside {
                        self.mark(MAY_BE_OUTSIDE, look_at.index());
                    }
                }
            }
            Ruling::NotApplicable | Ruling::Met => {}
        }
    }

    /// Adds the findings of another share.
    #[inline]
    pub(super) fn join(&mut self, other: &Self) {
        for (sum, more) in self.counts.iter_mut().zip(&other.counts) {
            *sum = sum.wrapping_add(*more);
        }
        for (marks, more) in self.marks.iter_mut().zip(&other.marks) {
            *marks |= *more;
        }
        for (first, more) in self.firsts.iter_mut().zip(&other.firsts) {
            *first = (*first).max(*more);
        }
    }

    /// The findings of some shares.
    #[inline(never)]
    pub(super) fn of_all<'s>(shares: impl Iterator<Item = &'s Self>) -> Self {
        let mut all = Self::NOTHING;
        shares.for_each(|share| all.join(share));
        all
    }

    /// What the house can come to.
    fn outcomes(&self) -> Outcomes {
        let [.., outcomes] = self.marks;
        let [low, high, ..] = outcomes.to_le_bytes();
        Outcomes::strictest_of(u16::from_le_bytes([low, high]))
    }

    /// The digest of a house of whose findings these are all, but for the deficiency to begin with; and the place of that
    /// among the findings, where there is one.
    #[inline]
    pub(super) fn digest(&self) -> (Digest, Option<u8>) {
        let outcomes = self.outcomes();
        let ruling = outcomes.ruling();
        let count = |of: Ruling| u32::from(self.count(BY_RULING + of as usize));
        let counts = Counts {
            met: count(Ruling::Met),
            not_met: count(Ruling::NotMet),
            not_determined: count(Ruling::NotDetermined),
            not_applicable: count(Ruling::NotApplicable),
            outside: count(Ruling::Outside),
        };
        let [.., parts, outcomes_and_standings] = self.marks;
        let rests_on = |ruling| outcomes_and_standings >> by_standing(ruling) & ((1 << STANDING_MARKS) - 1);
        let strongest = |ruling| STANDINGS.get(rests_on(ruling).trailing_zeros() as usize).copied();
        let weakest = |ruling| {
            let last = rests_on(ruling).checked_ilog2()?;
            STANDINGS.get(last as usize).copied()
        };
        let first = match ruling {
            Ruling::NotMet => self.first_of(NOT_MET),
            Ruling::Outside => self.first_of(OUTSIDE),
            _ => None,
        };
        let digest = Digest {
            outcomes,
            parts: PartsFound::of_word(parts),
            counts,
            governing: None,
            standing: match ruling {
                Ruling::NotMet | Ruling::Outside => strongest(ruling),
                Ruling::NotDetermined => weakest(ruling).max(weakest(Ruling::Met)),
                _ => weakest(ruling),
            },
            next: if counts.not_determined == 0 {
                [None; Digest::MOST_LOOKS]
            } else {
                self.most_open()
            },
        };
        (digest, first)
    }

    /// The place of the first finding of a ruling of which that is kept.
    fn first_of(&self, of: usize) -> Option<u8> {
        let first = self.firsts.get(of).filter(|first| **first > 0)?;
        Some(u8::MAX - first)
    }

    /// The observations that would narrow the verdict most: those that may put the house outside first, then
    /// those that are open in most findings; of equals, the one that comes first in a crawl. They come out in
    /// the order of a crawl.
    #[inline]
    fn most_open(&self) -> [Option<LookAt>; Digest::MOST_LOOKS] {
        /// More findings than a house has, and fewer than a byte holds beside them.
        const MAY_BE_OUTSIDE_FIRST: u8 = 1 << 6;
        let mut ranks = self.counts.last_chunk().copied().unwrap_or([0; LOOKS]);
        let [may_be_outside @ .., _, _] = &self.marks;
        for (from, marks) in (0..).step_by(64).zip(may_be_outside) {
            for at in each(*marks) {
                if let Some(rank) = ranks.get_mut(from + at) {
                    *rank = rank.saturating_add(MAY_BE_OUTSIDE_FIRST);
                }
            }
        }
        let (ranks, _) = ranks.as_chunks::<AT_ONCE>();
        let mut left = [u8x16::ZERO; LOOKS / AT_ONCE];
        for (left, ranks) in left.iter_mut().zip(ranks) {
            *left = u8x16::new(*ranks);
        }
        let mut next = [None; Digest::MOST_LOOKS];
        let mut slots = next.iter_mut();
        while slots.len() > 0 {
            let most = left.iter().fold(u8x16::ZERO, |most, ranks| most.max(*ranks));
            let most = most.to_array().into_iter().fold(0, u8::max);
            if most == 0 {
                break;
            }
            // A bit for each of those that are most open; they are not gone over again.
            const { assert!(LOOKS <= u128::BITS as usize) };
            let mut are_most = 0;
            for (at, ranks) in left.iter_mut().enumerate() {
                let same = ranks.simd_eq(u8x16::splat(most));
                are_most |= u128::from(same.to_bitmask()) << (at * AT_ONCE);
                *ranks &= !same;
            }
            for slot in slots.by_ref() {
                *slot = LookAt::ALL.get(are_most.trailing_zeros() as usize).copied();
                are_most &= are_most - 1;
                if are_most == 0 {
                    break;
                }
            }
        }
        next.sort_by_key(|look_at| look_at.map_or(u32::MAX, Choice::index));
        next
    }
}

/// Where the marks of the standings begin that findings of a ruling rest on, after what the house can come to.
const fn by_standing(ruling: Ruling) -> u32 {
    u16::BITS + ruling as u32 * STANDING_MARKS
}
