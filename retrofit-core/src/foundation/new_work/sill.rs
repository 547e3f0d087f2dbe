//! The sill on new concrete and its anchors.

use std::sync::Arc;

use super::{Flag, FootingTable, SizingError, SizingInput, Source, Sourced, half};
use crate::house::{Washer, WeightCase};
use crate::measure::Length;
use crate::provisions::{FigureKey, FigureName, FromValue, Provisions, Requirement, Rule, Standing, keys};
use crate::screen::{Bare, INCH, Standards};

/// A new sill.
#[derive(Clone, Debug)]
pub struct NewSill {
    /// Thickness and width by name, in inches.
    pub name: (u8, u8),
    /// Width as it is.
    pub width: Length,
    /// Thickness as it is.
    pub thickness: Length,
    /// Where its underside lies above the ground outside; `None` where that is not known.
    pub above_ground: Option<Length>,
    /// It lies on concrete and so is preservative-treated or durable; framing on it too where it is nearer to the
    /// ground than this.
    pub untreated_above: Sourced<Length>,
}

impl NewSill {
    pub(super) fn of(
        input: &SizingInput,
        table: &FootingTable,
        standards: &Standards,
    ) -> Result<Self, SizingError> {
        let (thickness, width) = input.sill;
        let (dressed_thickness, dressed_width) = standards.nds.dressed(Bare, thickness, width)?;
        let thickness = Length::nearest_inches(dressed_thickness.to(INCH));
        let above_ground = input.top_of_sill.map(|top| top.saturating_sub(thickness));
        Ok(Self {
            name: input.sill,
            width: Length::nearest_inches(dressed_width.to(INCH)),
            thickness,
            above_ground,
            untreated_above: table.wood_above_grade.clone(),
        })
    }

    /// The sill higher up, on a cap.
    pub(super) fn raise(&mut self, by: Length) {
        self.above_ground = self.above_ground.map(|above| above.saturating_add(by));
    }

    /// What to mind where it lies near the ground.
    pub(super) fn near_ground(&self) -> Option<Flag> {
        let least = self.untreated_above.value;
        let found = self.above_ground.filter(|above| *above < least)?;
        Some(Flag::WoodNearGround { found, least })
    }
}

/// A diameter of anchor and how far apart anchors of it may stand.
#[derive(Clone, Debug)]
pub struct AnchorRow {
    /// The diameter; `None` where the set gives one spacing for all.
    pub diameter: Option<Length>,
    /// The greatest spacing.
    pub spacing: Sourced<Length>,
}

/// How many anchors a sill piece of a length needs.
#[derive(Clone, Debug)]
pub struct PieceRow {
    /// Pieces longer than this.
    pub over: Option<Length>,
    /// Pieces up to this length.
    pub up_to: Option<Length>,
    /// The least number.
    pub count: Sourced<u32>,
}

/// Anchors of a new sill by a set of provisions, for the most stories that are possible.
#[derive(Clone, Debug)]
pub struct SillAnchors {
    /// The set.
    pub set: String,
    /// The title of the set.
    pub title: String,
    /// Stories that they are for.
    pub stories: u8,
    /// Diameters to choose from, each with its spacing.
    pub rows: Vec<AnchorRow>,
    /// From the end of a piece to its first anchor, at least.
    pub end_least: Option<Sourced<Length>>,
    /// The same in diameters of the anchor.
    pub end_least_diameters: Option<Sourced<u32>>,
    /// From the end of a piece to its first anchor, at most.
    pub end_most: Option<Sourced<Length>>,
    /// The least number in a piece.
    pub per_piece: Vec<PieceRow>,
    /// The least embedment.
    pub embedment: Option<Sourced<Length>>,
    /// The washer under the nut.
    pub washer: Option<Sourced<Washer>>,
    /// Whether the set asks for a new sill that is treated or durable; `None` where it does not say.
    pub treated_sill: Option<Sourced<bool>>,
    /// The least thickness of a new sill; `None` where the set does not say.
    pub sill_thickness_least: Option<Sourced<Length>>,
}

impl SillAnchors {
    pub(super) fn of(provisions: &Provisions, stories: u8, sill: &NewSill, flags: &mut Vec<Flag>) -> Self {
        let mut anchors = Self {
            set: provisions.id.clone(),
            title: provisions.title.clone(),
            stories,
            rows: Vec::new(),
            end_least: None,
            end_least_diameters: None,
            end_most: None,
            per_piece: Vec::new(),
            embedment: None,
            washer: None,
            treated_sill: None,
            sill_thickness_least: None,
        };
        // Neither the weight of the house nor its studs decide about anchors; a set that said so would be read here
        // for a heavy house.
        let Some(requirement) = provisions.requirement(stories, WeightCase::Heavy, 0) else {
            return anchors;
        };
        let mut ask = Asked {
            provisions,
            requirement,
            flags,
        };
        anchors.rows = ask.rows(keys::ANCHOR_SPACING, |case, spacing| AnchorRow {
            diameter: case.diameter,
            spacing,
        });
        anchors.per_piece = ask.rows(keys::ANCHORS_PER_PIECE, |case, count| PieceRow {
            over: case.piece_over,
            up_to: case.piece_up_to,
            count,
        });
        anchors.end_least_diameters = ask.quietly(keys::MIN_END_DIAMETERS);
        anchors.end_least = if anchors.end_least_diameters.is_some() {
            ask.quietly(keys::MIN_END_DISTANCE)
        } else {
            ask.for_one(keys::MIN_END_DISTANCE)
        };
        anchors.end_most = ask.for_one(keys::MAX_END_DISTANCE);
        anchors.embedment = ask.for_one(keys::MIN_EMBEDMENT);
        anchors.washer = ask.for_one(keys::WASHER);
        anchors.treated_sill = ask.quietly(keys::TREATED_NEW_SILL);
        anchors.sill_thickness_least = ask.quietly(keys::MIN_SILL_THICKNESS);
        if let Some(least) = &anchors.sill_thickness_least
            && sill.thickness < least.value
        {
            flags.push(Flag::SillThin {
                found: sill.thickness,
                least: least.value,
            });
        }
        anchors
    }

    /// Stations of anchors of a row in a piece of sill, evenly spread: the first as near its end as the set lets it
    /// be, none farther apart than the spacing, and no fewer than the piece needs. `None` where the set does not say
    /// how far from the end they stand, or where the piece is too short for the number it needs.
    ///
    /// ```
    /// # use retrofit_core::foundation::new_work::{FootingTable, NewFoundation, NewWork, SizingInput};
    /// # use retrofit_core::{house::Stories, measure::Length, observation::Observed};
    /// # use retrofit_core::{provisions::Library, screen::Standards};
    /// # let set = Library::shipped().set("crc-2013-new-construction").unwrap();
    /// # let (table, standards) = (FootingTable::shipped().unwrap(), Standards::shipped().unwrap());
    /// # let input = SizingInput { stories: Observed::seen(Stories::whole(1)), ..SizingInput::new(NewWork::Replacement) };
    /// # let sized = NewFoundation::size(&input, table, standards, &set)?;
    /// // A 12 ft piece at 6 ft: the ends, and one between them.
    /// let stations = sized.anchors.stations(Length::feet(12), &sized.anchors.rows[0]).unwrap();
    /// assert_eq!(stations.len(), 3);
    /// assert_eq!(stations[1], Length::feet(6));
    /// # Ok::<(), retrofit_core::foundation::new_work::SizingError>(())
    /// ```
    pub fn stations(&self, piece: Length, row: &AnchorRow) -> Option<Vec<Length>> {
        let end = self.end(row)?;
        let middle = piece.saturating_sub(end.times(2)?);
        let spacing = row.spacing.value.nanometers();
        if spacing <= 0 || piece <= Length::ZERO || piece > Length::LIMIT {
            return None;
        }
        let least = self
            .per_piece
            .iter()
            .filter(|row| {
                row.over.is_none_or(|over| piece > over) && row.up_to.is_none_or(|most| piece <= most)
            })
            .map(|row| i64::from(row.count.value))
            .max()
            .unwrap_or(2);
        if middle <= Length::ZERO {
            return (least <= 1).then(|| vec![half(piece)]);
        }
        let gaps = (middle.nanometers().checked_add(spacing - 1)? / spacing)
            .max(least - 1)
            .max(1);
        // Each from the last, so that rounding never makes a gap longer than the spacing.
        let station = |index: i64| {
            let along = i128::from(middle.nanometers()) * i128::from(index) / i128::from(gaps);
            Some(end.saturating_add(Length::from_nanometers(i64::try_from(along).ok()?)))
        };
        (0..=gaps).map(station).collect()
    }

    /// How near to the end of a piece its first anchor may stand, and does.
    fn end(&self, row: &AnchorRow) -> Option<Length> {
        let by_diameter = match (&self.end_least_diameters, row.diameter) {
            (Some(diameters), Some(diameter)) => diameter.times(diameters.value.into()),
            _ => None,
        };
        let least = self.end_least.as_ref().map(|least| least.value);
        let end = least.max(by_diameter)?;
        match &self.end_most {
            Some(most) if most.value < end => None,
            _ => Some(end),
        }
    }
}

/// A set that is asked for figures; what it does not give is flagged.
struct Asked<'a> {
    provisions: &'a Provisions,
    requirement: &'a Requirement,
    flags: &'a mut Vec<Flag>,
}

impl Asked<'_> {
    fn given<T: Copy>(&self, rule: Rule<T>) -> Option<Sourced<T>> {
        let Rule::Given { value, figure, .. } = rule else {
            return None;
        };
        let figure = self.provisions.figure(figure)?;
        let document = match figure.source.edition.as_str() {
            "" => figure.source.document.clone(),
            edition => format!("{}, {edition}", figure.source.document),
        };
        Some(Sourced {
            value,
            source: Source {
                document: document.into(),
                section: Arc::from(figure.section.as_str()),
                standing: figure.standing().unwrap_or(Standing::CommonPractice),
                note: Arc::from(figure.note.as_str()),
            },
        })
    }

    fn flag(&mut self, figure: FigureName, is_missing: bool) {
        self.flags.push(Flag::NotGiven { figure, is_missing });
    }

    fn quietly<T: FromValue + Copy>(&self, key: FigureKey<T>) -> Option<Sourced<T>> {
        self.given(self.requirement.get(key))
    }

    fn for_one<T: FromValue + Copy>(&mut self, key: FigureKey<T>) -> Option<Sourced<T>> {
        let rule = self.requirement.get(key);
        let given = self.given(rule);
        if given.is_none() {
            self.flag(key.name, matches!(rule, Rule::Missing(_)));
        }
        given
    }

    fn rows<T: FromValue + Copy, R>(
        &mut self,
        key: FigureKey<T>,
        row: impl Fn(crate::provisions::Case, Sourced<T>) -> R,
    ) -> Vec<R> {
        let rules: Vec<_> = self.requirement.all(key).collect();
        let rows: Vec<R> = rules
            .iter()
            .filter_map(|(case, rule)| Some(row(*case, self.given(*rule)?)))
            .collect();
        if rows.is_empty() {
            let is_missing = rules.iter().any(|(_, rule)| matches!(rule, Rule::Missing(_)));
            self.flag(key.name, is_missing);
        }
        rows
    }
}
