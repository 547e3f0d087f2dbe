//! What was found of each part of the way from floor to ground: as much of the findings on a house as a ranking goes by.

use crate::check::{CheckId, Group, Outcome, Outcomes, Ruling};
use crate::choice::{Choice, choices};

choices! {
    /// A part of the way from floor to ground that may fall short by itself.
    pub enum Part: "part" {
        /// The anchors of the sill.
        Anchorage = "anchorage", "the anchors of the sill";
        /// The bracing of the cripple walls.
        Bracing = "bracing", "the bracing of the cripple walls";
        /// Everything else that the provisions look at, ventilation aside.
        Other = "other", "sill, framing, floor, posts and foundation";
    }
}

impl Part {
    /// The part that a group of checks belongs to; ventilation takes no part in an earthquake.
    const fn of(group: Group) -> Option<Self> {
        match group {
            Group::Anchorage => Some(Self::Anchorage),
            Group::Bracing => Some(Self::Bracing),
            Group::Applicability
            | Group::Foundation
            | Group::Sill
            | Group::Framing
            | Group::Floor
            | Group::Posts => Some(Self::Other),
            // The audit of an earlier retrofit repeats what the other checks found.
            Group::Ventilation | Group::Retrofit => None,
        }
    }
}

/// A shortfall that decides which work is done, and not only that there is some.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Shortfall {
    /// The foundation itself is of a kind, or in a condition, that nothing can be anchored to.
    Foundation,
    /// The joist bays over the walls are open.
    Rim,
    /// The floor is not tied to the wall below.
    FloorTie,
}

impl Shortfall {
    /// Where its mark stands.
    const fn mark(self) -> u64 {
        1 << (PartsFound::SHORTFALLS + self as u32)
    }

    /// The one that a check finds, where it is one of these.
    const fn of(check: CheckId) -> Option<Self> {
        match check {
            CheckId::FoundationKind | CheckId::FoundationCondition => Some(Self::Foundation),
            CheckId::RimOrBlocking => Some(Self::Rim),
            CheckId::FloorConnection => Some(Self::FloorTie),
            _ => None,
        }
    }
}

/// What was found of each part, in marks: those of some findings or-ed are those of all of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct PartsFound(u64);

impl PartsFound {
    /// Of no finding.
    pub(super) const NOTHING: Self = {
        let word = Outcomes::only(Outcome::NotApplicable).word() as u64;
        Self(word | word << Self::PART_BITS | word << (2 * Self::PART_BITS))
    };
    /// The outcomes of each part have as many bits; see [`Outcomes::word`].
    const PART_BITS: u32 = u16::BITS;
    /// Where those of the shortfalls begin.
    const SHORTFALLS: u32 = {
        assert!(Part::ALL.len() == 3, "as many words as there are parts");
        3 * Self::PART_BITS
    };

    /// What one check found.
    pub(super) fn of(check: CheckId, found: Outcomes) -> Self {
        let mut marks = Self::NOTHING;
        let group = check.check().group;
        if let Some(part) = Part::of(group) {
            // A limit of the provisions that a house lies beyond says who designs the work, not that work is needed.
            let found = match (group, found.is_determined()) {
                (Group::Applicability, true) => Outcomes::only(Outcome::Met),
                (Group::Applicability, false) => {
                    Outcomes::only(Outcome::Met).or(Outcomes::only(Outcome::NotMet))
                }
                _ => found,
            };
            marks.0 |= u64::from(found.word()) << (part.index() * Self::PART_BITS);
        }
        if let (Ruling::NotMet | Ruling::Outside, Some(shortfall)) = (found.ruling(), Shortfall::of(check)) {
            marks.0 |= shortfall.mark();
        }
        marks
    }

    /// The marks as a word.
    pub(super) const fn word(self) -> u64 {
        self.0
    }

    /// What such a word tells.
    pub(super) const fn of_word(word: u64) -> Self {
        Self(word)
    }

    /// What a part can come to.
    pub fn outcomes(self, part: Part) -> Outcomes {
        let [low, high, ..] = (self.0 >> (part.index() * Self::PART_BITS)).to_le_bytes();
        Outcomes::strictest_of(u16::from_le_bytes([low, high]))
    }

    /// Whether something falls short.
    pub(crate) const fn has(self, shortfall: Shortfall) -> bool {
        self.0 & shortfall.mark() > 0
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::REGISTRY;

    const SHORTFALLS: [Shortfall; 3] = [Shortfall::Foundation, Shortfall::Rim, Shortfall::FloorTie];

    /// Marks or-ed come to what the outcomes come to, the strictest of each part, whichever checks find which.
    #[test]
    fn the_marks_of_findings_are_those_of_all() {
        let all: Vec<Outcomes> = [
            Outcome::NotApplicable,
            Outcome::Met,
            Outcome::NotMet,
            Outcome::Outside,
        ]
        .iter()
        .flat_map(|one| {
            [
                Outcomes::only(*one),
                Outcomes::only(*one).or(Outcomes::only(Outcome::Met)),
            ]
        })
        .collect();
        for check in CheckId::ALL {
            for other in CheckId::ALL {
                for (one, two) in all.iter().zip(all.iter().rev()) {
                    let found = [(check, *one), (other, *two)];
                    let marks = found.map(|(check, found)| PartsFound::of(check, found));
                    let together = PartsFound(marks[0].0 | marks[1].0);
                    for part in Part::ALL {
                        let strictest = marks[0].outcomes(*part).strictest(marks[1].outcomes(*part));
                        assert_eq!(together.outcomes(*part), strictest, "{found:?} {part:?}");
                    }
                    for shortfall in SHORTFALLS {
                        let has = marks.iter().any(|marks| marks.has(shortfall));
                        assert_eq!(together.has(shortfall), has);
                    }
                }
            }
        }
    }

    /// Every part and every shortfall is found by some check, and a check that finds nothing short marks none.
    #[test]
    fn every_part_has_its_checks() {
        let found =
            |found: Outcome| CheckId::ALL.map(move |check| PartsFound::of(check, Outcomes::only(found)));
        for part in Part::ALL {
            let short = found(Outcome::NotMet);
            let of = short
                .iter()
                .filter(|marks| marks.outcomes(*part).ruling() == Ruling::NotMet);
            assert!((1..REGISTRY.len()).contains(&of.count()), "{part:?}");
        }
        for shortfall in SHORTFALLS {
            assert!(found(Outcome::NotMet).iter().any(|marks| marks.has(shortfall)));
            assert!(!found(Outcome::Met).iter().any(|marks| marks.has(shortfall)));
        }
    }
}
