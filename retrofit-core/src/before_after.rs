//! Before and after: the same house in two records, as found and as built, under one set of provisions.
//!
//! [`compare`] checks both records and pairs wall lines by name. For every check and place it tells the
//! ruling before and after and what [became](Became) of it. Nothing closes by being forgotten: what fell
//! short and can no longer be determined is told apart from what is met, and [`BeforeAfter::less_said`] lists
//! what the later record no longer says.
//!
//! ```
//! use retrofit_core::before_after::{Became, compare};
//! use retrofit_core::house::{AsBuilt, House};
//! use retrofit_core::provisions::Library;
//!
//! let house = |anchors: &str| -> AsBuilt {
//!     let record = format!(r#"{{
//!         "format": "house-1", "name": "Quince Lantern Way", "building": {{"stories": 1}},
//!         "wall_lines": [{{"name": "north", "length": "6 ft", "anchors": {anchors}}}]
//!     }}"#);
//!     AsBuilt::new(serde_json::from_str(&record).unwrap()).unwrap()
//! };
//! let found = house("[]");
//! let built = house(r#"[{"at": "10 in", "kind": "adhesive", "diameter": "1/2 in"},
//!                       {"at": "62 in", "kind": "adhesive", "diameter": "1/2 in"}]"#);
//! let unseen = house(r#"{"unknown": "a new ceiling hides the sill"}"#);
//! let provisions = Library::shipped().set(Library::DEFAULT_SET).unwrap();
//! let became = |after: &AsBuilt| {
//!     let both = compare(&found, after, &provisions);
//!     let spacing = both.changes.iter().find(|change| change.check.name == "anchor-spacing");
//!     spacing.unwrap().became
//! };
//! assert_eq!(became(&found), Became::StillShort);
//! // Whether the bolts have the washers that make them count was not written down.
//! assert_eq!(became(&built), Became::NoLongerDetermined);
//! assert_eq!(became(&unseen), Became::NoLongerDetermined);
//! ```

mod less_said;

pub use less_said::{LessSaid, SaidNow};

use crate::check::{Assessment, Check, Finding, Outcomes, REGISTRY, Ruling, assess};
use crate::choice::choices;
use crate::house::{AsBuilt, Span};
use crate::provisions::Provisions;

/// Two records of one house, checked against the same provisions.
#[derive(Clone, Debug)]
pub struct BeforeAfter<'a> {
    /// What the earlier record came to.
    pub before: Assessment<'a>,
    /// What the later record came to.
    pub after: Assessment<'a>,
    /// The house as a whole, then the wall lines: in the order of the later record, with those that are only
    /// in the earlier one at the end.
    pub places: Vec<Place>,
    /// Every check at every place, in the order of the places.
    pub changes: Vec<Change>,
    /// What the later record no longer says.
    pub less_said: Vec<LessSaid>,
}

/// The house as a whole, or a wall line by its position in each record.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// The house as a whole.
    House,
    /// A wall line of both records.
    WallLine {
        /// Its position in the earlier record.
        before: usize,
        /// Its position in the later record.
        after: usize,
    },
    /// A wall line of which only the earlier record tells, by its position there.
    OnlyBefore(usize),
    /// A wall line of which only the later record tells, by its position there.
    OnlyAfter(usize),
}

/// One check at one place, before and after.
#[derive(Clone, Copy, Debug)]
pub struct Change {
    /// Where.
    pub place: Place,
    /// The check.
    pub check: &'static Check,
    /// What it came to by the earlier record; `None` where that does not tell of the place.
    pub before: Option<Came>,
    /// What it came to by the later record; `None` where that does not tell of the place.
    pub after: Option<Came>,
    /// What became of it.
    pub became: Became,
}

/// What a check came to at a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Came {
    /// The strictest of its findings there.
    pub ruling: Ruling,
    /// The finding that governs; `None` where the check had nothing to look at.
    pub finding: Option<Finding>,
}

impl Came {
    /// Whether it fell short.
    pub const fn is_short(&self) -> bool {
        matches!(self.ruling, Ruling::NotMet | Ruling::Outside)
    }

    /// Whether it was met, or nothing was asked.
    pub const fn is_fine(&self) -> bool {
        matches!(self.ruling, Ruling::Met | Ruling::NotApplicable)
    }
}

choices! {
    /// What became of a check at a place.
    pub enum Became: "what became of a check" {
        /// It fell short and is met.
        Closed = "closed", "closed";
        /// It fell short, was open or was met, and the provisions ask nothing there any more.
        NoLongerAsked = "no_longer_asked", "no longer asked for";
        /// It fell short and still does.
        StillShort = "still_short", "still short";
        /// It was met, or nothing was asked, and now it falls short.
        NewlyShort = "newly_short", "newly short";
        /// It was not determined, and now it is known to fall short.
        FoundShort = "found_short", "found short";
        /// It was not determined or not asked, and now it is met.
        NewlyMet = "newly_met", "newly met";
        /// It was determined, whichever way, and no longer is: the later record says too little.
        NoLongerDetermined = "no_longer_determined", "no longer determined";
        /// It was not determined and still is not.
        StillNotDetermined = "still_not_determined", "still not determined";
        /// It was met and is.
        StillMet = "still_met", "still met";
        /// Nothing was or is asked.
        StillNotAsked = "still_not_asked", "still not asked for";
        /// The later record does not tell of this wall line.
        OnlyBefore = "only_before", "not in the later record";
        /// The earlier record does not tell of this wall line.
        OnlyAfter = "only_after", "not in the earlier record";
    }
}

impl Became {
    /// What becomes of one ruling when another follows.
    pub const fn of(before: Ruling, after: Ruling) -> Self {
        use Ruling::{Met, NotApplicable, NotDetermined, NotMet, Outside};
        match (before, after) {
            (NotMet | Outside, Met) => Self::Closed,
            (NotMet | Outside, NotMet | Outside) => Self::StillShort,
            (Met | NotApplicable, NotMet | Outside) => Self::NewlyShort,
            (NotDetermined, NotMet | Outside) => Self::FoundShort,
            (NotDetermined, NotDetermined) => Self::StillNotDetermined,
            (_, NotDetermined) => Self::NoLongerDetermined,
            (NotApplicable, NotApplicable) => Self::StillNotAsked,
            (_, NotApplicable) => Self::NoLongerAsked,
            (Met, Met) => Self::StillMet,
            (NotDetermined | NotApplicable, Met) => Self::NewlyMet,
        }
    }

    /// Whether the ruling is another than before.
    pub const fn is_a_change(self) -> bool {
        !matches!(
            self,
            Self::StillShort | Self::StillNotDetermined | Self::StillMet | Self::StillNotAsked
        )
    }
}

/// Checks two records of a house against one set of provisions and tells what became of every check.
pub fn compare<'a>(before: &'a AsBuilt, after: &'a AsBuilt, provisions: &'a Provisions) -> BeforeAfter<'a> {
    let places = places(before, after);
    let less_said = less_said::less_said(before, after, &places);
    let (before, after) = (assess(before, provisions), assess(after, provisions));
    let is_out_of_sight = |place: Place, check: &Check| {
        let Place::WallLine { before: line, .. } = place else {
            return false;
        };
        let of_check = before.findings_at(Some(line));
        let mut of_check = of_check.filter(|finding| finding.check().name == check.name);
        of_check.any(|finding| less_said.iter().any(|less| hides(less, line, finding)))
    };
    let mut changes = Vec::new();
    for place in &places {
        let (then, now) = match *place {
            Place::House => (Some(came(&before, None)), Some(came(&after, None))),
            Place::WallLine {
                before: then,
                after: now,
            } => (Some(came(&before, Some(then))), Some(came(&after, Some(now)))),
            Place::OnlyBefore(then) => (Some(came(&before, Some(then))), None),
            Place::OnlyAfter(now) => (None, Some(came(&after, Some(now)))),
        };
        for (index, check) in REGISTRY.into_iter().enumerate() {
            let at = |of: &Option<Vec<Option<Came>>>| {
                let of = of.as_ref()?;
                Some(of.get(index).copied().flatten())
            };
            let (then, now) = (at(&then), at(&now));
            if then.flatten().is_none() && now.flatten().is_none() {
                continue;
            }
            let silent = Came {
                ruling: Ruling::NotApplicable,
                finding: None,
            };
            let (before, after) = (
                then.map(|came| came.unwrap_or(silent)),
                now.map(|came| came.unwrap_or(silent)),
            );
            let became = match (before, after) {
                // What fell short stands where nobody could look: it is met as far as it could be seen, and
                // no more.
                (Some(before), Some(after))
                    if before.is_short() && after.is_fine() && is_out_of_sight(*place, check) =>
                {
                    Became::NoLongerDetermined
                }
                (Some(before), Some(after)) => Became::of(before.ruling, after.ruling),
                (_, None) => Became::OnlyBefore,
                (None, _) => Became::OnlyAfter,
            };
            changes.push(Change {
                place: *place,
                check,
                before,
                after,
                became,
            });
        }
    }
    BeforeAfter {
        before,
        after,
        places,
        changes,
        less_said,
    }
}

impl BeforeAfter<'_> {
    /// What the house comes to now. Where the later record does not tell of a wall line that the earlier one
    /// had, or could not see again what fell short, it is no better than not determined.
    pub fn ruling(&self) -> Ruling {
        let lines = self.places.iter().filter(|place| **place != Place::House);
        lines
            .map(|place| match self.ruling_at(*place) {
                Some(Ruling::NotDetermined) | None => Ruling::NotDetermined,
                Some(_) => Ruling::NotApplicable,
            })
            .fold(self.after.verdict.ruling(), Ruling::max)
    }

    /// What a place comes to now by the same rule; `None` where the later record does not tell of it.
    pub fn ruling_at(&self, place: Place) -> Option<Ruling> {
        let ruling = match place {
            Place::House => return Some(self.ruling()),
            Place::WallLine { after, .. } | Place::OnlyAfter(after) => {
                self.after.wall_lines.get(after)?.ruling()
            }
            Place::OnlyBefore(_) => return None,
        };
        let is_out_of_sight = |change: &Change| {
            change.became == Became::NoLongerDetermined && change.after.is_some_and(|came| came.is_fine())
        };
        if self.changes_at(place).any(is_out_of_sight) {
            Some(ruling.max(Ruling::NotDetermined))
        } else {
            Some(ruling)
        }
    }

    /// The changes at one place.
    pub fn changes_at(&self, place: Place) -> impl Iterator<Item = &Change> {
        self.changes.iter().filter(move |change| change.place == place)
    }
}

/// Whether a finding of the earlier record is about a list of which an item, just there, could not be seen
/// again.
fn hides(less: &LessSaid, line: usize, finding: &Finding) -> bool {
    let (Some(hidden), SaidNow::Unseen(_)) = (less.span, &less.now) else {
        return false;
    };
    let ruling = finding.outcomes.ruling();
    let list = |path: &str| path.rsplit_once('[').map(|(list, _)| list.to_owned());
    let is_of_list = || {
        let (list, path) = (list(&less.path)?, finding.path()?);
        Some(path.starts_with(&list))
    };
    let touches =
        |span: Span| hidden.to.is_none_or(|to| span.from <= to) && span.to.is_none_or(|to| hidden.from <= to);
    less.wall_line == Some(line)
        && matches!(ruling, Ruling::NotMet | Ruling::Outside)
        && finding.span.is_none_or(touches)
        && is_of_list().unwrap_or(false)
}

fn places(before: &AsBuilt, after: &AsBuilt) -> Vec<Place> {
    let named = |house: &AsBuilt, name: &str| house.wall_lines.iter().position(|wall| wall.name == name);
    let later = after.wall_lines.iter().enumerate();
    let later = later.map(|(index, wall)| match named(before, &wall.name) {
        Some(before) => Place::WallLine { before, after: index },
        None => Place::OnlyAfter(index),
    });
    let earlier = before.wall_lines.iter().enumerate();
    let earlier = earlier.filter(|(_, wall)| named(after, &wall.name).is_none());
    let earlier = earlier.map(|(index, _)| Place::OnlyBefore(index));
    std::iter::once(Place::House)
        .chain(later)
        .chain(earlier)
        .collect()
}

/// What every check of the registry came to at a place, by its position; `None` for checks that are not run
/// there.
fn came(assessment: &Assessment<'_>, wall_line: Option<usize>) -> Vec<Option<Came>> {
    let mut all: Vec<Option<(Outcomes, Finding)>> = vec![None; REGISTRY.len()];
    for finding in assessment.findings_at(wall_line) {
        let Some(slot) = all.get_mut(finding.check_index()) else {
            continue;
        };
        *slot = Some(match *slot {
            None => (finding.outcomes, *finding),
            Some((outcomes, governing)) => {
                let is_stricter = finding.outcomes.ruling() > governing.outcomes.ruling();
                let governing = if is_stricter { *finding } else { governing };
                (outcomes.strictest(finding.outcomes), governing)
            }
        });
    }
    let all = all.into_iter();
    all.map(|came| {
        came.map(|(outcomes, finding)| Came {
            ruling: outcomes.ruling(),
            finding: Some(finding),
        })
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::{Value, json};

    use super::*;
    use crate::provisions::Library;

    fn house(wall_lines: &Value) -> AsBuilt {
        let house = json!({
            "format": "house-1", "name": "trial", "building": {"stories": 1}, "wall_lines": wall_lines,
        });
        AsBuilt::new(serde_json::from_value(house).unwrap()).unwrap()
    }

    fn default_set() -> Provisions {
        Library::shipped().set(Library::DEFAULT_SET).unwrap()
    }

    #[rstest]
    #[case(Ruling::NotMet, Ruling::Met, Became::Closed)]
    #[case(Ruling::Outside, Ruling::Met, Became::Closed)]
    #[case(Ruling::NotMet, Ruling::NotDetermined, Became::NoLongerDetermined)]
    #[case(Ruling::Met, Ruling::NotDetermined, Became::NoLongerDetermined)]
    #[case(Ruling::NotMet, Ruling::NotApplicable, Became::NoLongerAsked)]
    #[case(Ruling::Outside, Ruling::NotMet, Became::StillShort)]
    #[case(Ruling::Met, Ruling::NotMet, Became::NewlyShort)]
    #[case(Ruling::NotApplicable, Ruling::Outside, Became::NewlyShort)]
    #[case(Ruling::NotDetermined, Ruling::NotMet, Became::FoundShort)]
    #[case(Ruling::NotDetermined, Ruling::Met, Became::NewlyMet)]
    #[case(Ruling::NotApplicable, Ruling::Met, Became::NewlyMet)]
    fn what_becomes_of_a_ruling(#[case] before: Ruling, #[case] after: Ruling, #[case] became: Became) {
        assert_eq!(Became::of(before, after), became);
    }

    #[test]
    fn wall_lines_are_paired_by_name_and_one_left_out_is_told() {
        let (north, south) = (
            json!({"name": "north", "length": "10 ft", "anchors": []}),
            json!({"name": "south", "length": "10 ft", "anchors": []}),
        );
        let before = house(&json!([north, south]));
        let after = house(&json!([{"name": "east"}, south]));
        let set = default_set();
        let both = compare(&before, &after, &set);
        assert_eq!(
            both.places,
            [
                Place::House,
                Place::OnlyAfter(0),
                Place::WallLine { before: 1, after: 1 },
                Place::OnlyBefore(0)
            ]
        );
        let at_north: Vec<Became> = both
            .changes_at(Place::OnlyBefore(0))
            .map(|change| change.became)
            .collect();
        assert!(!at_north.is_empty());
        assert!(at_north.iter().all(|became| *became == Became::OnlyBefore));
    }

    /// Leaving out the wall line that falls short is no way to a house that is met.
    #[test]
    fn a_wall_line_left_out_leaves_the_house_not_determined() {
        let before = house(&json!([{"name": "north", "length": "10 ft", "anchors": []}, {"name": "south"}]));
        let after = house(&json!([{"name": "south"}]));
        let set = default_set();
        let mut both = compare(&before, &after, &set);
        // As if all of the later record were met.
        both.after.verdict.outcomes = Outcomes::only(crate::check::Outcome::Met);
        assert_eq!(both.ruling(), Ruling::NotDetermined);
        both.places.retain(|place| !matches!(place, Place::OnlyBefore(_)));
        both.after.wall_lines.clear();
        both.places.truncate(1);
        assert_eq!(both.ruling(), Ruling::Met);
    }

    /// What fell short and now stands behind a new duct is not closed, though all that is to be seen is met.
    #[test]
    fn what_fell_short_and_is_out_of_sight_is_not_closed() {
        let panel = |from: &str, to: &str, sheathing: &str| {
            json!({
                "from": from, "to": to, "sheathing": sheathing, "thickness": "15/32 in",
            })
        };
        let wall = |panels: Value, unseen: Value| {
            json!([{
                "name": "north", "length": "24 ft", "panels": panels, "unseen": unseen,
                "cripple_wall": [{"height": "2 ft", "tallest_stud": "20 in", "stud_spacing": "16 in"}],
            }])
        };
        let good = panel("0 ft", "8 ft", "plywood");
        let before = house(&wall(json!([good, panel("12 ft", "16 ft", "board")]), json!([])));
        let duct = json!([{"from": "12 ft", "to": "16 ft", "why": "a new duct"}]);
        let hidden = house(&wall(json!([good]), duct));
        let replaced = house(&wall(
            json!([good, panel("12 ft", "16 ft", "plywood")]),
            json!([]),
        ));
        let set = default_set();
        let sheathing = |after: &AsBuilt| {
            let both = compare(&before, after, &set);
            let change = both
                .changes
                .iter()
                .find(|change| change.check.name == "panel-sheathing");
            let change = *change.unwrap();
            assert_eq!(change.before.unwrap().ruling, Ruling::NotMet);
            change.became
        };
        assert_eq!(sheathing(&hidden), Became::NoLongerDetermined);
        assert_eq!(sheathing(&replaced), Became::Closed);
    }
}
