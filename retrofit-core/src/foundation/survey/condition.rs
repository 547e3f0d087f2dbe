//! Cracks, doors and walls, classed by a published scale of damage and put beside published tolerances.
//!
//! Width is one sign among several: the scale itself says that place and number of cracks count too, and it
//! was made for masonry. A class is no judgment of the building.

use super::limits::{Compared, Documents, LimitMeasure, Limits, origin};
use super::uncertain::Uncertain;
use crate::house::{Crack, Door, DoorAction, PlumbWall, WallPlumb};
use crate::measure::Length;
use crate::observation::Observed;
use crate::provisions::{Standing, TableError, TableFile};
use crate::table::{Row, each_row};

const COLUMNS: [&str; 10] = [
    "category",
    "name",
    "wider_than",
    "up_to",
    "door",
    "words",
    "source",
    "section",
    "standing",
    "note",
];

/// One category of the scale of damage.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DamageCategory {
    /// Its number, from 0 up.
    pub number: u8,
    /// Its name.
    pub name: String,
    /// Cracks are wider than this; zero in the least category.
    pub wider_than: Length,
    /// And no wider than this; `None` in the greatest category.
    pub up_to: Option<Length>,
    /// How doors work at this category, where the scale says so.
    pub door: Option<DoorAction>,
    /// What the category looks like.
    pub words: String,
    /// The document, with its edition.
    pub document: String,
    /// Where in the document.
    pub section: String,
    /// How well it was seen.
    pub standing: Standing,
    /// A note for the reader.
    pub note: String,
}

/// The categories that something can be in, by what is known of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Damage<'a> {
    /// The least it can be.
    pub least: &'a DamageCategory,
    /// The greatest it can be.
    pub most: &'a DamageCategory,
}

/// One crack, classed.
#[derive(Clone, Debug, PartialEq)]
pub struct CrackFinding<'a> {
    /// The crack.
    pub crack: &'a Crack,
    /// Its category by width; `None` where nothing is known of its width.
    pub damage: Option<Damage<'a>>,
}

/// One door, classed.
#[derive(Clone, Debug, PartialEq)]
pub struct DoorFinding<'a> {
    /// The door.
    pub door: &'a Door,
    /// The category whose words fit how it works; `None` of a door that works, or of which that is not known.
    pub damage: Option<&'a DamageCategory>,
    /// How far it is out of square beside each tolerance.
    pub squareness: Vec<Compared<'a>>,
}

/// One wall, beside each tolerance.
#[derive(Clone, Debug, PartialEq)]
pub struct PlumbFinding<'a> {
    /// The wall.
    pub wall: &'a WallPlumb,
    /// Its lean beside each tolerance for a wall of its kind, or of any kind where its kind is not known;
    /// none for a kind for which no tolerance is on record.
    pub plumb: Vec<Compared<'a>>,
}

impl<'a> CrackFinding<'a> {
    /// Classes a crack.
    ///
    /// ```
    /// use retrofit_core::foundation::survey::{CrackFinding, Limits};
    /// use retrofit_core::house::Crack;
    /// use retrofit_core::measure::Length;
    /// use retrofit_core::observation::Observed;
    /// let crack = Crack { width: Observed::measured(Length::millimeters(5)), ..Crack::default() };
    /// let found = CrackFinding::of(&crack, Limits::shipped()).damage.unwrap();
    /// assert_eq!((found.least.name.as_str(), found.least), ("slight", found.most));
    /// ```
    pub fn of(crack: &'a Crack, limits: &'a Limits) -> Self {
        let scale = limits.damage();
        let category = |width: Length| {
            scale
                .iter()
                .find(|category| category.up_to.is_none_or(|up_to| width <= up_to))
        };
        let damage = match crack.width.bounds() {
            (None, None) => None,
            (least, most) => {
                let least = least.map_or(scale.first(), |least| category(*least));
                let most = most.map_or(scale.last(), |most| category(*most));
                least.zip(most).map(|(least, most)| Damage { least, most })
            }
        };
        Self { crack, damage }
    }
}

impl<'a> DoorFinding<'a> {
    /// Classes a door.
    pub fn of(door: &'a Door, limits: &'a Limits) -> Self {
        let damage = door.action.value().and_then(|action| {
            let mut scale = limits.damage().iter();
            scale.find(|category| category.door == Some(*action))
        });
        let squareness = lean(&door.out_of_square, &door.width)
            .map(|slope| limits.compare(LimitMeasure::Square, slope))
            .unwrap_or_default();
        Self {
            door,
            damage,
            squareness,
        }
    }
}

impl<'a> PlumbFinding<'a> {
    /// Puts a wall beside the tolerances.
    pub fn of(wall: &'a WallPlumb, limits: &'a Limits) -> Self {
        let measures: &[LimitMeasure] = match wall.kind.value() {
            Some(PlumbWall::WoodFramed) => &[LimitMeasure::PlumbWoodFramed],
            Some(PlumbWall::Concrete) => &[LimitMeasure::PlumbConcrete],
            Some(PlumbWall::Masonry) => &[],
            None => &[LimitMeasure::PlumbWoodFramed, LimitMeasure::PlumbConcrete],
        };
        let slope = lean(&wall.out_of_plumb, &wall.over);
        let plumb = slope.map(|slope| {
            measures
                .iter()
                .flat_map(|measure| limits.compare(*measure, slope))
                .collect()
        });
        Self {
            wall,
            plumb: plumb.unwrap_or_default(),
        }
    }
}

/// A part over a whole, with what bounds leave open; `None` where one of the two is not known at all.
fn lean(part: &Observed<Length>, over: &Observed<Length>) -> Option<Uncertain> {
    let ((part_least, part_most), (over_least, over_most)) = (part.bounds(), over.bounds());
    if (part_least.is_none() && part_most.is_none()) || (over_least.is_none() && over_most.is_none()) {
        return None;
    }
    let inches = |length: &Length| length.as_inches_f64();
    let least = match (part_least, over_most) {
        (Some(part), Some(over)) => inches(part) / inches(over),
        _ => 0.0,
    };
    match (part_most, over_least) {
        (Some(part), Some(over)) => {
            let most = inches(part) / inches(over);
            Some(Uncertain::new(f64::midpoint(least, most), (most - least) / 2.0))
        }
        _ => Some(Uncertain::new(least, f64::INFINITY)),
    }
}

/// Reads the scale: categories in order, each beginning where the one before it ends.
pub(super) fn read_damage(
    file: &TableFile,
    documents: &Documents,
    faults: &mut Vec<TableError>,
) -> Vec<DamageCategory> {
    let mut scale: Vec<DamageCategory> = Vec::new();
    each_row(file, &COLUMNS, faults, |row| {
        let category = read_category(row, documents)?;
        let (number, begins) = match scale.last() {
            None => (0, Some(Length::ZERO)),
            Some(last) => (last.number.saturating_add(1), last.up_to),
        };
        if category.number != number {
            let fault = format!("found {}; expected {number}", category.number);
            return Err(row.fault("category", fault));
        }
        if begins != Some(category.wider_than) {
            let expected = begins.map_or_else(
                || "no category after one without an end".to_owned(),
                |begins| begins.to_string(),
            );
            let fault = format!("found {}; expected {expected}", category.wider_than);
            return Err(row.fault("wider_than", fault));
        }
        if let Some(up_to) = category.up_to.filter(|up_to| *up_to <= category.wider_than) {
            let fault = format!("found {up_to}; expected more than {}", category.wider_than);
            return Err(row.fault("up_to", fault));
        }
        scale.push(category);
        Ok(())
    });
    if faults.is_empty() && scale.last().is_none_or(|last| last.up_to.is_some()) {
        let fault = "the scale ends; expected a last category without an end";
        faults.push(TableError::column(file, "up_to", fault));
    }
    scale
}

fn read_category(row: &Row<'_>, documents: &Documents) -> Result<DamageCategory, TableError> {
    let length = |text: &str| text.parse::<Length>().map_err(|error| error.to_string());
    let (document, section, standing) = origin(row, documents)?;
    let number = row.required("category")?;
    Ok(DamageCategory {
        number: number
            .parse()
            .map_err(|_| row.fault("category", format!("found {number:?}; expected a whole number")))?,
        name: row.required("name")?.to_owned(),
        wider_than: row.optional("wider_than", length)?.unwrap_or(Length::ZERO),
        up_to: row.optional("up_to", length)?,
        door: row.optional("door", |text| {
            text.parse::<DoorAction>().map_err(|error| error.to_string())
        })?,
        words: row.required("words")?.to_owned(),
        document,
        section,
        standing,
        note: row.get("note").to_owned(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::observation::{Basis, Truth};

    fn classes(width: Observed<Length>) -> Option<(u8, u8)> {
        let crack = Crack {
            width,
            ..Crack::default()
        };
        let damage = CrackFinding::of(&crack, Limits::shipped()).damage;
        damage.map(|damage| (damage.least.number, damage.most.number))
    }

    #[test]
    fn what_is_not_known_of_a_width_stays_open() {
        assert_eq!(classes(Observed::unknown("behind paneling")), None);
        let mm = Length::millimeters;
        assert_eq!(
            classes(Observed::bounded(Some(mm(3)), None, Basis::Seen)),
            Some((2, 5))
        );
        assert_eq!(
            classes(Observed::bounded(None, Some(mm(3)), Basis::Seen)),
            Some((0, 2))
        );
        assert_eq!(classes(Observed::measured(Length::ZERO)), Some((0, 0)));
        assert_eq!(
            classes(Observed::measured(
                mm(25).saturating_add(Length::from_nanometers(1))
            )),
            Some((5, 5))
        );
    }

    #[test]
    fn a_wall_at_the_tolerance_keeps_it() {
        let wall = |out: &str, over: &str| WallPlumb {
            kind: Observed::seen(PlumbWall::WoodFramed),
            out_of_plumb: Observed::measured(out.parse().unwrap()),
            over: Observed::measured(over.parse().unwrap()),
            ..WallPlumb::default()
        };
        let kept = |wall: &WallPlumb| PlumbFinding::of(wall, Limits::shipped()).plumb[0].kept;
        assert_eq!(kept(&wall("3/8 in", "32 in")), Truth::True);
        assert_eq!(kept(&wall("3/4 in", "64 in")), Truth::True);
        assert_eq!(kept(&wall("25/64 in", "32 in")), Truth::False);
        let open = WallPlumb {
            over: Observed::unknown("not measured"),
            ..wall("3/8 in", "32 in")
        };
        assert!(PlumbFinding::of(&open, Limits::shipped()).plumb.is_empty());
    }

    #[test]
    fn a_door_is_classed_by_the_words_of_the_scale() {
        let door = |action| Door {
            action: Observed::seen(action),
            ..Door::default()
        };
        let number = |door: &Door| {
            let damage = DoorFinding::of(door, Limits::shipped()).damage;
            damage.map(|damage| damage.number)
        };
        assert_eq!(number(&door(DoorAction::Sticks)), Some(3));
        assert_eq!(number(&door(DoorAction::Free)), None);
        assert_eq!(number(&Door::default()), None);
    }
}
