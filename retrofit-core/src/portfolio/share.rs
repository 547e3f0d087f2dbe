//! What some findings add to the digest of a house: shares are put together, and a digest is read off the whole.

use super::digest::Digest;
use crate::check::{Brief, Counts, LookAt, Outcome, Outcomes, Ruling};
use crate::choice::Choice;
use crate::provisions::{Provisions, Standing};

/// Where the counts of a share begin: findings by ruling; by ruling and by the standing of what they rest on; in how many
/// findings that are open each observation is.
const BY_RULING: usize = 0;
const BY_STANDING: usize = BY_RULING + Ruling::ALL.len();
const OPEN: usize = (BY_STANDING + Ruling::ALL.len() * STANDINGS.len()).next_multiple_of(BYTES);
const LOOKS: usize = LookAt::ALL.len().next_multiple_of(BYTES);
const COUNTS: usize = (OPEN + LOOKS) / BYTES;

/// Counts in a word, a byte for each.
const BYTES: usize = 8;

/// From the strongest to the weakest.
const STANDINGS: [Standing; 5] = [
    Standing::Verified,
    Standing::Attested,
    Standing::Secondary,
    Standing::Memory,
    Standing::CommonPractice,
];

/// Where the marks of a share begin, in words of a bit for each: the places in the order of findings of what is not met,
/// and of what is outside; the observations that are open where the house may be outside.
const NOT_MET: usize = 0;
const OUTSIDE: usize = NOT_MET + WORDS_OF_PLACES;
const MAY_BE_OUTSIDE: usize = OUTSIDE + WORDS_OF_PLACES;
/// The word of what the house can come to: see [`Outcomes::word`].
const OUTCOMES: usize = MAY_BE_OUTSIDE + LookAt::ALL.len().div_ceil(64);
const MARKS: usize = OUTCOMES + 1;
const WORDS_OF_PLACES: usize = 3;

/// What some findings on a house with one wall line come to, in words that are put together without a branch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) struct Share {
    /// Bytes side by side: a house with one wall line has fewer findings than a byte holds, so that none is ever carried
    /// into the next.
    counts: [u64; COUNTS],
    marks: [u64; MARKS],
}

impl Share {
    /// Of no finding.
    pub(super) const NOTHING: Self = {
        let mut marks = [0; MARKS];
        if let Some(outcomes) = marks.last_mut() {
            *outcomes = Outcomes::only(Outcome::NotApplicable).word() as u64;
        }
        Self {
            counts: [0; COUNTS],
            marks,
        }
    };

    fn add_one(&mut self, at: usize) {
        if let Some(word) = self.counts.get_mut(at / BYTES) {
            *word += 1 << (at % BYTES * 8);
        }
    }

    /// Sets a mark, among those that begin at a word.
    fn mark(&mut self, from: usize, at: u32) {
        if let Some(word) = self.marks.get_mut(from + (at / u64::BITS) as usize) {
            *word |= 1 << (at % u64::BITS);
        }
    }

    fn count(&self, at: usize) -> u8 {
        let word = self.counts.get(at / BYTES).copied().unwrap_or_default();
        word.to_le_bytes().get(at % BYTES).copied().unwrap_or_default()
    }

    /// Adds a finding, which has a place in the order of findings.
    pub(super) fn add(&mut self, place: u8, finding: &Brief, provisions: &Provisions) {
        debug_assert!(usize::from(place) < 64 * WORDS_OF_PLACES, "a bit for every place");
        let ruling = finding.outcomes.ruling();
        if let Some(outcomes) = self.marks.get_mut(OUTCOMES) {
            *outcomes |= u64::from(finding.outcomes.word());
        }
        self.add_one(BY_RULING + ruling as usize);
        let standings = finding
            .figures
            .iter()
            .filter_map(|id| provisions.figure(id)?.standing());
        let standing = standings.max().unwrap_or(Standing::Verified);
        self.add_one(by_standing(ruling) + standing as usize);
        match ruling {
            Ruling::NotMet => self.mark(NOT_MET, u32::from(place)),
            Ruling::Outside => self.mark(OUTSIDE, u32::from(place)),
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
        let rests_on =
            |ruling: Ruling, standing: &Standing| self.count(by_standing(ruling) + *standing as usize) > 0;
        let strongest = |ruling| STANDINGS.into_iter().find(|standing| rests_on(ruling, standing));
        let weakest = |ruling| STANDINGS.into_iter().rfind(|standing| rests_on(ruling, standing));
        let first = match ruling {
            Ruling::NotMet => self.first_of(NOT_MET),
            Ruling::Outside => self.first_of(OUTSIDE),
            _ => None,
        };
        let digest = Digest {
            outcomes,
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

    /// The first of the places in the words from one on.
    fn first_of(&self, from: usize) -> Option<u8> {
        let words = self.marks.iter().skip(from).take(WORDS_OF_PLACES);
        let (word, places) = (0u32..).zip(words).find(|(_, places)| **places > 0)?;
        u8::try_from(word * u64::BITS + places.trailing_zeros()).ok()
    }

    /// The observations that would narrow the verdict most: those that may put the house outside first, then
    /// those that are open in most findings; of equals, the one that comes first in a crawl. They come out in
    /// the order of a crawl.
    #[inline]
    fn most_open(&self) -> [Option<LookAt>; Digest::MOST_LOOKS] {
        /// More findings than a house has, and fewer than make a rank negative.
        const MAY_BE_OUTSIDE_FIRST: i16 = 1 << 6;
        let mut open = [0; LOOKS];
        let (bytes, _) = open.as_chunks_mut();
        for (bytes, word) in bytes.iter_mut().zip(self.counts.iter().skip(OPEN / BYTES)) {
            *bytes = word.to_le_bytes();
        }
        // A rank, and after it, so that the first of equals is the greatest, how far from the last an observation stands.
        let mut ranks = FROM_LAST;
        for (rank, open) in ranks.iter_mut().zip(&open) {
            *rank |= i16::from(*open) << u8::BITS;
        }
        for (from, marks) in (0..).step_by(64).zip(self.marks.iter().skip(MAY_BE_OUTSIDE)) {
            let mut marks = *marks;
            while marks > 0 {
                let at = from + marks.trailing_zeros() as usize;
                if let Some(rank) = ranks.get_mut(at) {
                    *rank |= MAY_BE_OUTSIDE_FIRST << u8::BITS;
                }
                marks &= marks - 1;
            }
        }
        let mut next = [None; Digest::MOST_LOOKS];
        let mut before = i16::MAX;
        for slot in &mut next {
            // No two observations have the same.
            let of_others = |rank: i16| if rank < before { rank } else { 0 };
            before = ranks.iter().fold(0, |most, rank| most.max(of_others(*rank)));
            let [from_last, rank] = before.to_le_bytes();
            if rank == 0 {
                break;
            }
            let at = LOOKS - 1 - usize::from(from_last);
            *slot = LookAt::ALL.get(at).copied();
        }
        next.sort_by_key(|look_at| look_at.map_or(u32::MAX, Choice::index));
        next
    }
}

/// For each observation, how far from the last it stands.
static FROM_LAST: [i16; LOOKS] = {
    let mut from_last = [0; LOOKS];
    let (mut rest, mut far): (&mut [i16], i16) = (&mut from_last, 0);
    while let [before @ .., last] = rest {
        *last = far;
        far += 1;
        rest = before;
    }
    from_last
};

/// Where the counts of findings by standing begin that came to a ruling.
const fn by_standing(ruling: Ruling) -> usize {
    BY_STANDING + ruling as usize * STANDINGS.len()
}
