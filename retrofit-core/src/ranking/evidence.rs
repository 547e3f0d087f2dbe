//! What is known of one house that bears on its place in a ranking, and how much of it was seen.

use serde::{Deserialize, Serialize};

use super::cost::Extent;
use crate::check::{LookAt, Ruling};
use crate::choice::{Allowed, Choice, choices};
use crate::house::House;
use crate::observation::Basis;
use crate::portfolio::{ClimateZone, Context, Digest, Part, Shortfall};

/// What was seen of a part.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Seen {
    /// Not enough to tell.
    #[default]
    Open,
    /// It falls short of the provisions.
    Short,
    /// It is as the provisions ask, or they ask nothing.
    NotShort,
}

choices! {
    /// The kind of work that a house needs, by which it is priced.
    pub enum Work: "kind of work" {
        /// Anchors and braced cripple walls.
        AnchorsAndBracing = "anchors_and_bracing", "anchors and bracing";
        /// Anchors, where bracing is as it should be or not asked for.
        AnchorsOnly = "anchors_only", "anchors";
        /// Work that an engineer or architect has to design, outside the prescriptive provisions.
        Engineered = "engineered", "an engineered design";
        /// A new foundation, whole or in part, before anything can be anchored to it.
        NewFoundation = "new_foundation", "a new foundation";
    }
}

impl Default for Work {
    /// Where nobody looked: the usual work.
    fn default() -> Self {
        Self::AnchorsAndBracing
    }
}

/// Where the shaking of a site comes from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum ShakingFrom {
    /// Nobody told it.
    #[default]
    Assumption,
    /// A column of the table.
    Column,
    /// A grid.
    Grid,
}

choices! {
    /// How much of a place in the list was seen, and how much is inferred.
    pub enum EvidenceGrade: "evidence grade" {
        /// Somebody looked, the verdict is determined, shaking and value were told.
        Seen = "seen", "seen";
        /// Somebody looked, but an observation or a figure is open.
        SeenInPart = "seen_in_part", "seen in part";
        /// Nobody looked: inferred from year and climate zone.
        Inferred = "inferred", "inferred";
        /// Nobody looked, and year, climate zone, shaking or value are assumed.
        Assumed = "assumed", "inferred over assumptions";
    }
}

choices! {
    /// A reason why a house stands where it does, in few words.
    pub enum Reason: "reason" {
        /// The anchors were judged short.
        AnchorsShort = "anchors_short", "anchors fall short";
        /// The bracing was judged short.
        BracingShort = "bracing_short", "bracing falls short";
        /// Another part was judged short.
        OtherShort = "other_short", "another part falls short";
        /// Every part was judged not to be short.
        NothingShort = "nothing_short", "nothing found short";
        /// Somebody looked, and something is still open.
        StillOpen = "still_open", "not determined";
        /// Nobody looked under the floor.
        NotLookedAt = "not_looked_at", "inferred: nobody looked";
        /// Outside the prescriptive provisions.
        Outside = "outside", "outside the prescriptive provisions";
        /// The foundation has to be replaced first.
        FoundationFirst = "foundation_first", "foundation first";
        /// The year is unknown.
        NoYear = "no_year", "year unknown";
        /// The climate zone is unknown, or in no row of the table.
        NoZone = "no_zone", "climate zone unknown";
        /// The shaking is an assumption.
        NoShaking = "no_shaking", "shaking assumed";
        /// The value is an assumption.
        NoValue = "no_value", "value assumed";
    }
}

/// What is known of one house. What is `None` or open is unknown, and stays so.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Evidence {
    /// The year in which it was built.
    pub year: Option<u16>,
    /// Its climate zone.
    pub climate_zone: Option<ClimateZone>,
    /// What its checks came to, where somebody looked under it.
    pub verdict: Option<Verdict>,
    /// What was seen of anchorage, bracing and the rest.
    pub parts: [Seen; 3],
    /// The kind of work it needs.
    pub work: Work,
    /// Peak ground acceleration, as a fraction of g.
    pub shaking: Option<f64>,
    /// Where that comes from.
    pub shaking_from: ShakingFrom,
    /// Replacement value in dollars.
    pub replacement_value: Option<f64>,
    /// Floor area in square feet.
    pub floor_area: Option<f64>,
    /// Longitude and latitude in degrees.
    pub place: Option<(f64, f64)>,
    /// What the amount of work hangs on.
    pub extent: Extent,
}

/// What the checks of a house came to, for a ranking.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Verdict {
    /// The ruling.
    pub ruling: Ruling,
    /// The deficiency to begin with, as its position in [`crate::check::REGISTRY`].
    pub governing: Option<u8>,
    /// The first of the observations that would narrow the verdict most, as its position among all.
    next: Option<u8>,
}

impl Verdict {
    /// The first of the observations that would narrow the verdict most.
    pub fn next(self) -> Option<LookAt> {
        LookAt::ALL.get(usize::from(self.next?)).copied()
    }
}

impl Evidence {
    /// The evidence of a row: the house read from it, and its context.
    ///
    /// [`Evidence::with_digest`] adds what the checks found where somebody [looked](Evidence::was_looked_at).
    pub fn of_row(house: &House, context: &Context) -> Self {
        let building = &house.building;
        Self {
            year: building.year_built.value().copied(),
            climate_zone: context.climate_zone,
            shaking: context.peak_ground_acceleration,
            shaking_from: match context.peak_ground_acceleration {
                Some(_) => ShakingFrom::Column,
                None => ShakingFrom::Assumption,
            },
            replacement_value: context.replacement_value,
            floor_area: building.floor_area.value().map(|area| area.as_square_feet_f64()),
            place: context.place(),
            extent: Extent::of(house),
            ..Self::default()
        }
    }

    /// Whether somebody saw anything at all of what is under the floor of a house; what a table only infers of it is as
    /// good as blank here.
    pub fn was_looked_at(house: &House) -> bool {
        let of_house = [
            house.crawl_space_area.basis(),
            house.vent_area.basis(),
            house.posts.basis(),
        ];
        let of_walls = house.wall_lines.iter().flat_map(|wall| {
            [
                wall.foundation.basis(),
                wall.sill.basis(),
                wall.anchors.basis(),
                wall.cripple_wall.basis(),
                wall.panels.basis(),
                wall.connections.basis(),
            ]
        });
        let mut bases = of_house.into_iter().chain(of_walls).flatten();
        bases.any(|basis| basis != Basis::Inferred)
    }

    /// The same evidence with what the checks found under the floor.
    #[must_use]
    pub fn with_digest(mut self, digest: &Digest) -> Self {
        let found = digest.parts;
        self.extent.floor.rim |= found.has(Shortfall::Rim);
        self.extent.floor.tie |= found.has(Shortfall::FloorTie);
        for (part, seen) in Part::ALL.iter().zip(&mut self.parts) {
            *seen = match found.outcomes(*part).ruling() {
                Ruling::NotDetermined => Seen::Open,
                Ruling::NotMet | Ruling::Outside => Seen::Short,
                Ruling::Met | Ruling::NotApplicable => Seen::NotShort,
            };
        }
        let outside = digest.counts.outside > 0;
        // Beyond the limits nobody has checked what holds the house: that nothing was found short is not known.
        if let (true, [.., other]) = (outside, &mut self.parts)
            && *other == Seen::NotShort
        {
            *other = Seen::Open;
        }
        let [_, bracing, _] = self.parts;
        self.work = match (found.has(Shortfall::Foundation), outside, bracing) {
            (true, ..) => Work::NewFoundation,
            (_, true, _) => Work::Engineered,
            (.., Seen::NotShort) => Work::AnchorsOnly,
            _ => Work::AnchorsAndBracing,
        };
        self.verdict = Some(Verdict {
            ruling: digest.outcomes.ruling(),
            governing: digest
                .governing
                .and_then(|finding| u8::try_from(finding.check_index()).ok()),
            next: digest
                .next
                .iter()
                .flatten()
                .next()
                .and_then(|look| u8::try_from(look.index()).ok()),
        });
        self
    }

    /// Whether its place in the list hangs on what nobody saw.
    pub fn is_inferred(&self) -> bool {
        self.verdict.is_none()
    }

    /// How much of its place in the list was seen.
    pub fn grade(&self, zone_is_known: bool) -> EvidenceGrade {
        let is_told = self.shaking.is_some() && self.replacement_value.is_some();
        match self.verdict {
            Some(verdict) => {
                if is_told && verdict.ruling != Ruling::NotDetermined && !self.parts.contains(&Seen::Open) {
                    EvidenceGrade::Seen
                } else {
                    EvidenceGrade::SeenInPart
                }
            }
            None if is_told && self.year.is_some() && zone_is_known => EvidenceGrade::Inferred,
            None => EvidenceGrade::Assumed,
        }
    }

    /// Why it stands where it does, in the order of [`Reason::ALL`].
    ///
    /// ```
    /// use retrofit_core::ranking::{Evidence, Reason};
    /// let reasons = Evidence::default().reasons(false);
    /// assert!(reasons.contains(Reason::NotLookedAt) && reasons.contains(Reason::NoShaking));
    /// ```
    pub fn reasons(&self, zone_is_known: bool) -> Allowed<Reason> {
        let looked = self.verdict.is_some();
        let [anchorage, bracing, other] = self.parts;
        let is_outside = self
            .verdict
            .is_some_and(|verdict| verdict.ruling == Ruling::Outside);
        let facts = [
            (Reason::AnchorsShort, anchorage == Seen::Short),
            (Reason::BracingShort, bracing == Seen::Short),
            (Reason::OtherShort, other == Seen::Short),
            (Reason::NothingShort, self.parts == [Seen::NotShort; 3]),
            (Reason::StillOpen, looked && self.parts.contains(&Seen::Open)),
            (Reason::NotLookedAt, !looked),
            (Reason::Outside, is_outside || self.work == Work::Engineered),
            (Reason::FoundationFirst, self.work == Work::NewFoundation),
            // A verdict that is settled no longer hangs on year or zone.
            (
                Reason::NoYear,
                self.year.is_none() && self.parts.contains(&Seen::Open),
            ),
            (Reason::NoZone, !looked && !zone_is_known),
            (Reason::NoShaking, self.shaking.is_none()),
            (Reason::NoValue, self.replacement_value.is_none()),
        ];
        let holding = facts.into_iter().filter(|(_, holds)| *holds);
        holding.fold(Allowed::NONE, |reasons, (reason, _)| reasons.with(reason))
    }
}
