//! How far a place in the list can be relied on: the list drawn again and again, every unknown in its range.
//!
//! A *world* is one draw of everything that the tables leave open for all houses alike: how likely shortfalls are, and
//! what shaking and value are where they are assumed. In a world, each house draws what is unknown of itself. Draws of a
//! house hang on the seed and on its id and on nothing else, so that the order of rows, the number of threads and other
//! houses do not move them.

use std::hash::Hasher;

use fnv::FnvHasher;
use oorandom::Rand32;
use serde::{Deserialize, Serialize};

use super::estimate::End;
use super::evidence::Evidence;
use super::prospect::{Case, Prospect, Score};
use super::tables::RankingTables;

/// Worlds to draw houses in.
#[derive(Clone, Debug)]
pub struct Worlds {
    seed: u64,
    worlds: Vec<World>,
}

/// One world: what is the same for all houses in it.
#[derive(Clone, Debug)]
pub(super) struct World {
    /// How likely each part is to fall short, for each class of years.
    pub(super) chances: Vec<[f64; 3]>,
    /// At which end assumed shaking lies.
    pub(super) shaking: End,
    /// At which end assumed value lies.
    pub(super) value: End,
}

impl Worlds {
    /// Draws so many worlds.
    pub fn new(tables: &RankingTables, seed: u64, count: usize) -> Self {
        let worlds = (0..count).map(|world| {
            let mut draw = Rand32::new(hash(seed, &(world as u64).to_le_bytes()));
            // Where the figures of a part are low, they are low for every class of years: one draw for each part.
            let ends = [(); 3].map(|()| even(&mut draw));
            let mut end = || End::drawn(tables.end_weight(), even(&mut draw));
            World {
                chances: tables.short_drawn(ends),
                shaking: end(),
                value: end(),
            }
        });
        Self {
            seed,
            worlds: worlds.collect(),
        }
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.worlds.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.worlds.is_empty()
    }

    /// What a house comes to in each world.
    pub fn draw<'w>(
        &'w self,
        id: &str,
        evidence: &Evidence,
        prospect: &'w Prospect<'_>,
        tables: &RankingTables,
    ) -> impl Iterator<Item = Drawn> + 'w {
        let first_class = Prospect::first_class(evidence, tables);
        let mut draw = Rand32::new(hash(self.seed, id.as_bytes()));
        let mut met = Met::default();
        self.worlds.iter().map(move |world| {
            let case = prospect.drawn(world, first_class, || even(&mut draw));
            met.of(case, || prospect.in_case(case).into())
        })
    }
}

fn hash(seed: u64, bytes: &[u8]) -> u64 {
    let mut hash = FnvHasher::default();
    hash.write(&seed.to_le_bytes());
    hash.write(bytes);
    hash.finish()
}

/// A number drawn evenly from 0 to 1.
fn even(draw: &mut Rand32) -> f64 {
    f64::from(draw.rand_u32()) / (f64::from(u32::MAX) + 1.0)
}

/// What a house comes to in one world, and where that stands in the spectrum of the world.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drawn {
    /// What it comes to.
    pub score: Score,
    step: u16,
    cents: u64,
}

impl From<Score> for Drawn {
    fn from(score: Score) -> Self {
        Self {
            score,
            step: Spectrum::step(score),
            cents: cents(score.paid),
        }
    }
}

/// What a house comes to in those cases that were drawn so far: it is worked out once for each.
#[derive(Debug, Default)]
struct Met {
    /// By the end of the cost, and by those of shaking and value where there is something to strengthen.
    cases: [[Option<Drawn>; 1 + ENDS * ENDS]; ENDS],
}

/// How many ends an estimate has.
const ENDS: usize = End::ALL.len();

impl Met {
    #[inline]
    fn of(&mut self, case: Case, work_out: impl Fn() -> Drawn) -> Drawn {
        let of_need = 1 + case.shaking as usize * ENDS + case.value as usize;
        let cases = self.cases.get_mut(case.cost as usize);
        match cases.and_then(|cases| cases.get_mut(usize::from(case.has_need) * of_need)) {
            Some(here) => *here.get_or_insert_with(work_out),
            None => work_out(),
        }
    }
}

/// In each world, how many houses come to what, and what they are paid: the list of that world in few numbers.
///
/// What a house avoids for a dollar is kept to about two hundredths of itself. All counts are whole, so that spectra of
/// parts of a list add up to that of the list in any order.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Spectrum {
    /// Step by step, world by world: houses, and cents paid. A house comes to much the same in all worlds, so that what is
    /// counted of it stands close together.
    steps: Vec<(u32, u64)>,
    worlds: usize,
}

impl Spectrum {
    /// Steps for a doubling.
    const FINENESS: f64 = 32.0;
    /// The first step holds what avoids nothing, the last whatever avoids most.
    const STEPS: usize = 1 + Self::LAST as usize;
    const LAST: u16 = 1023;
    /// The step at which a dollar avoids a dollar.
    const ONE: u16 = 640;

    /// A spectrum of no houses yet.
    pub fn new(worlds: &Worlds) -> Self {
        Self {
            steps: vec![(0, 0); worlds.len() * Self::STEPS],
            worlds: worlds.len(),
        }
    }

    /// Whether it is one of so many worlds.
    pub fn is_of(&self, worlds: &Worlds) -> bool {
        (self.worlds, self.steps.len()) == (worlds.len(), worlds.len() * Self::STEPS)
    }

    /// The step of a score.
    fn step(score: Score) -> u16 {
        let per_dollar = score.per_dollar();
        if per_dollar <= 0.0 {
            return 0;
        }
        let step = f64::from(Self::ONE) + Self::FINENESS * libm::log2(per_dollar);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "clamped to the steps there are"
        )]
        let step = step.clamp(1.0, f64::from(Self::LAST)) as u16;
        step
    }

    /// Adds a house by what it comes to in each world.
    pub fn add(&mut self, drawn: impl Iterator<Item = Drawn>) {
        let worlds = self.worlds;
        for (world, drawn) in (0..worlds).zip(drawn) {
            if let Some((houses, paid)) = self.steps.get_mut(usize::from(drawn.step) * worlds + world) {
                *houses = houses.saturating_add(1);
                *paid = paid.saturating_add(drawn.cents);
            }
        }
    }

    /// Adds the houses of another spectrum of the same worlds.
    pub fn merge(&mut self, other: &Self) {
        for ((houses, paid), (more, dollars)) in self.steps.iter_mut().zip(&other.steps) {
            *houses = houses.saturating_add(*more);
            *paid = paid.saturating_add(*dollars);
        }
    }

    /// Puts the list of every world in order, and walks down each with the budget.
    pub fn stability(self, budget: Option<f64>) -> Stability {
        let budget = budget.map(cents);
        let mut above = vec![0; self.steps.len()];
        let mut cuts = Vec::with_capacity(self.worlds);
        for world in 0..self.worlds {
            let (mut houses, mut paid, mut cut) = (0u64, 0u64, None);
            for step in (0..=Self::LAST).rev() {
                let at = usize::from(step) * self.worlds + world;
                let (here, cents) = self.steps.get(at).copied().unwrap_or_default();
                // In the middle of those that come to the same.
                if let Some(above) = above.get_mut(at) {
                    *above = houses + u64::from(here) / 2;
                }
                houses += u64::from(here);
                paid = paid.saturating_add(cents);
                let is_within = match budget {
                    Some(budget) => paid <= budget,
                    None => step >= Self::ONE,
                };
                if (!is_within || step == 0) && cut.is_none() {
                    cut = Some(step);
                }
            }
            cuts.push(cut.unwrap_or_default());
        }
        Stability { above, cuts }
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "dollars of a budget; a float saturates"
)]
fn cents(dollars: f64) -> u64 {
    (dollars * 100.0).round() as u64
}

/// How often a house stays within the budget, and which places it takes.
#[derive(Clone, Debug)]
pub struct Stability {
    /// Step by step, world by world, how many houses stand higher.
    above: Vec<u64>,
    /// The step of each world at which the money is gone: what lies above it was paid for.
    cuts: Vec<u16>,
}

/// What the worlds say of one house.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Places {
    /// In what share of the worlds it would be paid for.
    pub funded: f64,
    /// The places that it takes: nine in ten lie between these two.
    pub between: (u64, u64),
}

impl Stability {
    /// Of one house, by what it comes to in each world; in memory that is used again for the next.
    pub fn of(&self, drawn: impl Iterator<Item = Drawn>, ranks: &mut Vec<u64>) -> Places {
        ranks.clear();
        let mut funded = 0u32;
        let worlds = self.cuts.len();
        for ((world, cut), drawn) in self.cuts.iter().enumerate().zip(drawn) {
            funded += u32::from(drawn.step > *cut);
            let above = self.above.get(usize::from(drawn.step) * worlds + world);
            ranks.push(above.copied().unwrap_or_default() + 1);
        }
        let count = ranks.len();
        let mut place = |hundredths: usize| {
            let at = (count * hundredths / 100).min(count.saturating_sub(1));
            if at < count {
                *ranks.select_nth_unstable(at).1
            } else {
                0
            }
        };
        Places {
            funded: f64::from(funded) / f64::from(u32::try_from(count.max(1)).unwrap_or(u32::MAX)),
            between: (place(5), place(95)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ranking::{Money, Pricing, Seen};

    fn house(value: f64, parts: [Seen; 3]) -> Evidence {
        Evidence {
            year: Some(1930),
            climate_zone: Some("3C".parse().unwrap()),
            shaking: Some(0.5),
            replacement_value: Some(value),
            parts,
            ..Evidence::default()
        }
    }

    /// Draws hang on the seed and the id alone.
    #[test]
    fn the_same_seed_draws_the_same_worlds() {
        let tables = RankingTables::shipped();
        let evidence = house(300_000.0, [Seen::Open; 3]);
        let prospect = Prospect::of(
            &evidence,
            tables,
            Pricing::by_whole_jobs(tables).of(&evidence),
            Money::default(),
        );
        let drawn = |seed, id| {
            let worlds = Worlds::new(tables, seed, 40);
            worlds.draw(id, &evidence, &prospect, tables).collect::<Vec<_>>()
        };
        assert_eq!(drawn(7, "Q-1"), drawn(7, "Q-1"));
        assert_ne!(drawn(7, "Q-1"), drawn(7, "Q-2"));
        assert_ne!(drawn(7, "Q-1"), drawn(8, "Q-1"));
    }

    /// The mean over many worlds is what the score says: drawing and averaging are two ways to one number.
    #[test]
    fn draws_average_to_the_score() {
        let tables = RankingTables::shipped();
        for evidence in [
            house(300_000.0, [Seen::Open; 3]),
            Evidence {
                year: None,
                ..house(300_000.0, [Seen::NotShort, Seen::Open, Seen::NotShort])
            },
            Evidence {
                shaking: None,
                replacement_value: None,
                ..house(1.0, [Seen::Short; 3])
            },
        ] {
            let prospect = Prospect::of(
                &evidence,
                tables,
                Pricing::by_whole_jobs(tables).of(&evidence),
                Money::default(),
            );
            let worlds = Worlds::new(tables, 1, 400_000);
            let (mut benefit, mut paid) = (0.0, 0.0);
            for drawn in worlds.draw("Q-1", &evidence, &prospect, tables) {
                benefit += drawn.score.benefit;
                paid += drawn.score.paid;
            }
            let count = f64::from(u32::try_from(worlds.len()).unwrap());
            let score = prospect.score();
            // Four hundred thousand draws: three thousandths of what varies by as much as itself or twice that.
            assert!(
                (benefit / count / score.benefit - 1.0).abs() < 0.01,
                "{} {}",
                benefit / count,
                score.benefit
            );
            assert!((paid / count / score.paid - 1.0).abs() < 0.01);
        }
    }

    /// Parts of a list, added up in any order, are the list.
    #[test]
    fn spectra_add_up_in_any_order() {
        let worlds = Worlds::new(RankingTables::shipped(), 1, 1);
        let scores = [0.0, 3.0, 0.1, 900.0].map(|benefit| Score {
            benefit,
            cost: 1.0,
            paid: 1.0,
        });
        let spectrum = |scores: &[Score]| {
            let mut spectrum = Spectrum::new(&worlds);
            for score in scores {
                spectrum.add(std::iter::once(Drawn::from(*score)));
            }
            spectrum
        };
        let whole = spectrum(&scores);
        let (first, second) = scores.split_at(1);
        let mut other = spectrum(second);
        other.merge(&spectrum(first));
        assert_eq!(whole.steps, other.steps);
    }

    /// With nothing unknown, a house stands at one place in every world: where the list puts it.
    #[test]
    fn what_is_settled_keeps_its_place() {
        let worlds = Worlds::new(RankingTables::shipped(), 1, 50);
        let score = |benefit| Score {
            benefit,
            cost: 1000.0,
            paid: 1000.0,
        };
        let mut spectrum = Spectrum::new(&worlds);
        for benefit in [9000.0, 7000.0, 5000.0, 3000.0] {
            spectrum.add(std::iter::repeat_n(Drawn::from(score(benefit)), 50));
        }
        let stability = spectrum.stability(Some(2500.0));
        for (benefit, place, funded) in [
            (9000.0, 1, 1.0),
            (7000.0, 2, 1.0),
            (5000.0, 3, 0.0),
            (3000.0, 4, 0.0),
        ] {
            let standing = stability.of(
                std::iter::repeat_n(Drawn::from(score(benefit)), 50),
                &mut Vec::new(),
            );
            assert_eq!(
                standing,
                Places {
                    funded,
                    between: (place, place)
                }
            );
        }
    }
}
