//! The figures by which new foundations are sized: one edition of a residential code, with bars, laps and covers.

use std::sync::{Arc, LazyLock};

use typenum::{N1, N2, P1, P2, Z0};

use super::{Source, Sourced};
use crate::choice::{Choice, choices};
use crate::measure::Length;
use crate::screen::{Edition, Figure, INCH, StandardName, StandardTable};
use crate::table::TableError;

type Size = Figure<Z0, P1>;
type Plain = Figure<Z0, Z0>;

choices! {
    /// A reinforcing bar, by its number: eighths of an inch of its diameter.
    pub enum BarSize: "bar" {
        /// No. 3.
        No3 = "3", "No. 3";
        /// No. 4.
        No4 = "4", "No. 4";
        /// No. 5.
        No5 = "5", "No. 5";
        /// No. 6.
        No6 = "6", "No. 6";
    }
}

/// A reinforcing bar as it is.
#[derive(Clone, Debug)]
pub struct Bar {
    /// Its size.
    pub size: BarSize,
    /// Its nominal diameter.
    pub diameter: Sourced<Length>,
    /// Its area in square inches.
    pub area: Sourced<f64>,
    /// Its weight in pounds a foot.
    pub weight: Sourced<f64>,
    /// How far two of them lap.
    pub lap: Sourced<Length>,
}

/// Where concrete lies, which sets how much of it has to cover a bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Face {
    /// Cast against the earth.
    Earth,
    /// Cast in forms and then exposed to earth or weather.
    Formed,
}

/// One edition of the figures for new foundations.
///
/// ```
/// use retrofit_core::foundation::new_work::FootingTable;
/// use retrofit_core::measure::Length;
/// let table = FootingTable::shipped().unwrap();
/// let two_stories = table.width(2, 1500.0).unwrap();
/// assert_eq!(two_stories.value, Length::inches(15));
/// assert_eq!(two_stories.source.section.as_ref(), "Table R403.1");
/// assert!(table.width(4, 1500.0).is_none(), "the table ends at three stories");
/// assert!(table.width(1, 1000.0).is_none(), "and at soil that carries 1,500 psf");
/// ```
#[derive(Debug)]
pub struct FootingTable {
    /// The edition.
    pub edition: Edition,
    stories: Vec<Story>,
    bars: Vec<Bar>,
    stem_thickness: Vec<(Length, Sourced<Length>)>,
    bottom_bars: Vec<(Length, Sourced<u32>)>,
    pub(super) projection_least: Sourced<Length>,
    pub(super) projection_most: Sourced<f64>,
    pub(super) depth_least: Sourced<Length>,
    pub(super) stem_above_grade: Sourced<Length>,
    pub(super) wood_above_grade: Sourced<Length>,
    pub(super) retained_most: Sourced<Length>,
    pub(super) strength_shaken: Sourced<f64>,
    pub(super) strength: Sourced<f64>,
    cover_earth: Sourced<Length>,
    cover_formed: Sourced<Length>,
    cover_formed_stout: Sourced<Length>,
    pub(super) bar_size: Sourced<BarSize>,
    pub(super) top_bars: Sourced<u32>,
    pub(super) top_bar_within: Sourced<Length>,
    pub(super) top_bar_clear: Sourced<Length>,
    pub(super) bottom_bar_within: Sourced<Length>,
    pub(super) steel_ratio: Sourced<f64>,
    pub(super) vertical_spacing_most: Sourced<Length>,
    pub(super) vertical_spacing_usual: Sourced<Length>,
    pub(super) vertical_into_stem: Sourced<Length>,
    pub(super) hook_extension: Sourced<u32>,
    pub(super) dowels: Sourced<u32>,
    pub(super) dowel_embedment: Sourced<Length>,
    pub(super) dowel_spacing: Sourced<Length>,
    pub(super) cap_thickness: Sourced<Length>,
    pub(super) grade_fall: Sourced<Length>,
    pub(super) grade_fall_within: Sourced<Length>,
    pub(super) pad_side_least: Sourced<Length>,
    pub(super) pad_thickness: Sourced<Length>,
    pub(super) girder_above_ground: Sourced<Length>,
    pub(super) post_above_ground: Sourced<Length>,
    pub(super) floor_span_over: Sourced<f64>,
}

/// What the table gives for a number of stories.
#[derive(Debug)]
struct Story {
    widths: Vec<(f64, Sourced<Length>)>,
    thickness: Sourced<Length>,
}

impl FootingTable {
    /// The default edition that is shipped; the error lists every fault of its table.
    pub fn shipped() -> Result<&'static Self, &'static [TableError]> {
        static TABLE: LazyLock<Result<FootingTable, Vec<TableError>>> = LazyLock::new(|| {
            let tables = StandardTable::shipped_ids().filter_map(|id| StandardTable::shipped(id).ok());
            let is_default = |table: &StandardTable| {
                table.edition.standard == StandardName::Footings && table.edition.default
            };
            let table = tables.into_iter().find(is_default);
            let missing = || {
                vec![TableError::set(
                    "footings",
                    "no default edition is shipped".to_owned(),
                )]
            };
            FootingTable::parse(&table.ok_or_else(missing)?)
        });
        TABLE.as_ref().map_err(Vec::as_slice)
    }

    /// Reads an edition from its table; a row that is missing, of the wrong kind or never asked for is an error.
    ///
    /// ```
    /// use retrofit_core::foundation::new_work::FootingTable;
    /// use retrofit_core::screen::StandardTable;
    /// let by_floors = StandardTable::shipped("cbc-footings-2013").unwrap();
    /// assert!(FootingTable::parse(&by_floors).is_ok());
    /// assert!(FootingTable::parse(&StandardTable::shipped("nds-2018").unwrap()).is_err());
    /// ```
    pub fn parse(table: &StandardTable) -> Result<Self, Vec<TableError>> {
        let read = Self::read(table).map_err(|fault| vec![fault])?;
        table.unread().map_or(Ok(read), |fault| Err(vec![fault]))
    }

    fn read(table: &StandardTable) -> Result<Self, TableError> {
        let size = |figure: &str, of: &str| Ok::<_, TableError>(exact(&table.figure::<Z0, P1>(figure, of)?));
        let plain =
            |figure: &str, of: &str| Ok::<_, TableError>(sourced(&table.figure::<Z0, Z0>(figure, of)?));
        let strength =
            |of: &str| Ok::<_, TableError>(sourced(&table.figure::<P1, N2>("concrete-strength", of)?));
        let whole = |figure: &str| Ok::<_, TableError>(count(&table.figure::<Z0, Z0>(figure, "")?));
        let by_size = |figure: &str| -> Result<Vec<(Length, Size)>, TableError> {
            let series: Vec<(f64, Size)> = table.series(figure, "")?;
            Ok(series
                .into_iter()
                .map(|(at, value)| (Length::nearest_inches(at), value))
                .collect())
        };
        let number: Plain = table.figure("bar-size", "")?;
        let bar_size = BarSize::ALL
            .iter()
            .find(|size| size.spelling() == number.low.to_string());
        let bar_size = bar_size.ok_or_else(|| {
            TableError::set(
                &table.edition.id,
                format!("found a bar of No. {}; expected 3 to 6", number.low),
            )
        })?;
        let bottom_bars: Vec<(f64, Plain)> = table.series("bottom-bars", "")?;
        Ok(Self {
            edition: table.edition.clone(),
            stories: (1_u8..)
                .map(|stories| stories.to_string())
                .take_while(|stories| table.rows("width").any(|cell| cell.of.as_ref() == stories))
                .map(|stories| {
                    let widths: Vec<(f64, Size)> = table.series("width", &stories)?;
                    Ok(Story {
                        widths: widths.iter().map(|(at, width)| (*at, exact(width))).collect(),
                        thickness: size("thickness", &stories)?,
                    })
                })
                .collect::<Result<_, TableError>>()?,
            bars: BarSize::ALL
                .iter()
                .map(|size| Bar::read(table, *size))
                .collect::<Result<_, TableError>>()?,
            stem_thickness: by_size("stem-thickness")?
                .iter()
                .map(|(at, thickness)| (*at, exact(thickness)))
                .collect(),
            bottom_bars: bottom_bars
                .iter()
                .map(|(at, bars)| (Length::nearest_inches(*at), count(bars)))
                .collect(),
            projection_least: size("projection-least", "")?,
            projection_most: plain("projection-most", "")?,
            depth_least: size("depth-least", "")?,
            stem_above_grade: size("stem-above-grade", "")?,
            wood_above_grade: size("wood-above-grade", "")?,
            retained_most: size("retained-most", "")?,
            strength_shaken: strength("category D or not known")?,
            strength: strength("other categories")?,
            cover_earth: size("cover", "against earth")?,
            cover_formed: size("cover", "formed, to No. 5")?,
            cover_formed_stout: size("cover", "formed, No. 6 and more")?,
            bar_size: Sourced {
                value: *bar_size,
                source: Source::of(&number),
            },
            top_bars: whole("top-bars")?,
            top_bar_within: size("top-bar-within", "")?,
            top_bar_clear: size("top-bar-clear", "")?,
            bottom_bar_within: size("bottom-bar-within", "")?,
            steel_ratio: plain("steel-ratio", "")?,
            vertical_spacing_most: size("vertical-spacing", "most")?,
            vertical_spacing_usual: size("vertical-spacing", "usual")?,
            vertical_into_stem: size("vertical-into-stem", "")?,
            hook_extension: whole("hook-extension")?,
            dowels: whole("dowels")?,
            dowel_embedment: size("dowel-embedment", "")?,
            dowel_spacing: size("dowel-spacing", "")?,
            cap_thickness: size("cap-thickness", "")?,
            grade_fall: size("grade-fall", "")?,
            grade_fall_within: size("grade-fall-within", "")?,
            pad_side_least: size("pad-side-least", "")?,
            pad_thickness: size("pad-thickness", "")?,
            girder_above_ground: size("girder-above-ground", "")?,
            post_above_ground: size("post-above-ground", "")?,
            floor_span_over: plain("deflection", "floor")?,
        })
    }

    /// The most stories that the table has a row for.
    pub fn most_stories(&self) -> u8 {
        u8::try_from(self.stories.len()).unwrap_or(u8::MAX)
    }

    /// Least width of a continuous footing by stories, on soil that carries so many psf; `None` where the table
    /// has no row.
    pub fn width(&self, stories: u8, bearing_psf: f64) -> Option<&Sourced<Length>> {
        let story = self.story(stories)?;
        let rows = story.widths.iter().rev();
        let mut fitting = rows.filter(|(least, _)| *least <= bearing_psf + 1e-6);
        fitting.next().map(|(_, width)| width)
    }

    /// Least thickness of a continuous footing by stories.
    pub fn thickness(&self, stories: u8) -> Option<&Sourced<Length>> {
        self.story(stories).map(|story| &story.thickness)
    }

    /// Least thickness of a stem wall of a height; `None` for a wall that the code wants designed.
    pub fn stem_thickness(&self, height: Length) -> Option<&Sourced<Length>> {
        first_reaching(&self.stem_thickness, height)
    }

    /// The greatest height of stem wall that the table has a row for.
    pub fn tallest_stem(&self) -> Length {
        self.stem_thickness
            .last()
            .map_or(Length::ZERO, |(height, _)| *height)
    }

    /// How many bars run along the bottom of a footing of a width; `None` for one wider than the table.
    pub fn bottom_bars(&self, width: Length) -> Option<&Sourced<u32>> {
        first_reaching(&self.bottom_bars, width)
    }

    /// Least concrete over a bar.
    pub const fn cover(&self, face: Face, size: BarSize) -> &Sourced<Length> {
        match (face, size) {
            (Face::Earth, _) => &self.cover_earth,
            (Face::Formed, BarSize::No3 | BarSize::No4 | BarSize::No5) => &self.cover_formed,
            (Face::Formed, BarSize::No6) => &self.cover_formed_stout,
        }
    }

    /// A bar as it is; `None` never comes of a table that was read.
    pub fn bar(&self, size: BarSize) -> Option<&Bar> {
        self.bars.iter().find(|bar| bar.size == size)
    }

    fn story(&self, stories: u8) -> Option<&Story> {
        self.stories.get(usize::from(stories.checked_sub(1)?))
    }
}

impl Bar {
    fn read(table: &StandardTable, size: BarSize) -> Result<Self, TableError> {
        let number = size.spelling();
        let diameter = exact(&table.figure::<Z0, P1>("bar-diameter", number)?);
        let by_diameters: Plain = table.figure("lap", "diameters")?;
        let has_row = table.rows("lap").any(|cell| cell.of.as_ref() == number);
        let lap = if has_row {
            exact(&table.figure("lap", number)?)
        } else {
            let diameters = count(&by_diameters);
            Sourced {
                value: diameter.value.times(diameters.value.into()).unwrap_or_default(),
                source: diameters.source,
            }
        };
        Ok(Self {
            size,
            diameter,
            area: sourced(&table.figure::<Z0, P2>("bar-area", number)?),
            weight: sourced(&table.figure::<P1, N1>("bar-weight", number)?),
            lap,
        })
    }
}

fn first_reaching<T>(rows: &[(Length, T)], length: Length) -> Option<&T> {
    rows.iter()
        .find(|(most, _)| length <= *most)
        .map(|(_, value)| value)
}

/// So many inches, up to the next whole inch. What is whole already must not become the next by its last bit.
#[expect(clippy::cast_possible_truncation, reason = "saturates")]
pub(super) fn whole_inches(inches: f64) -> Length {
    Length::inches((inches - 1e-9).ceil() as i64)
}

fn exact(figure: &Size) -> Sourced<Length> {
    Sourced {
        value: Length::nearest_inches(figure.to(INCH)),
        source: Source::of(figure),
    }
}

/// A figure in the unit that its table gives it in.
fn sourced<F, L>(figure: &Figure<F, L>) -> Sourced<f64> {
    Sourced {
        value: figure.low / figure.unit.factor(),
        source: Source::of(figure),
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a table holds no negative number, and the conversion saturates"
)]
fn count(figure: &Plain) -> Sourced<u32> {
    Sourced {
        value: figure.low as u32,
        source: Source::of(figure),
    }
}

impl Source {
    /// Where a figure was read.
    pub(super) fn of<F, L>(figure: &Figure<F, L>) -> Self {
        Self {
            document: Arc::clone(&figure.document),
            section: Arc::clone(&figure.section),
            standing: figure.standing,
            note: Arc::clone(&figure.note),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::provisions::Standing;
    use approx::assert_relative_eq;
    use rstest::rstest;

    /// California Residential Code 2013, Table R403.1: conventional light-frame construction.
    #[rstest]
    #[case(1, [12, 12, 12, 12])]
    #[case(2, [15, 12, 12, 12])]
    #[case(3, [23, 17, 12, 12])]
    fn widths_of_the_residential_code(#[case] stories: u8, #[case] inches: [i64; 4]) {
        let table = FootingTable::shipped().unwrap();
        for (bearing, width) in [1500.0, 2000.0, 3000.0, 4000.0].into_iter().zip(inches) {
            let found = table.width(stories, bearing).unwrap();
            assert_eq!(found.value, Length::inches(width));
            assert_eq!(found.source.standing, Standing::Verified);
        }
        // Between two columns the weaker soil holds.
        assert_eq!(
            table.width(stories, 1999.0).unwrap().value,
            Length::inches(inches[0])
        );
        assert_eq!(table.thickness(stories).unwrap().value, Length::inches(6));
    }

    /// California Building Code 2013, Table 1809.7: by floors supported.
    #[rstest]
    #[case(1, 12, 6)]
    #[case(2, 15, 6)]
    #[case(3, 18, 8)]
    fn widths_of_the_building_code(#[case] stories: u8, #[case] width: i64, #[case] thickness: i64) {
        let table = FootingTable::parse(&StandardTable::shipped("cbc-footings-2013").unwrap()).unwrap();
        assert_eq!(table.width(stories, 1500.0).unwrap().value, Length::inches(width));
        assert_eq!(table.thickness(stories).unwrap().value, Length::inches(thickness));
    }

    /// A bar weighs what its nominal area of steel weighs at 490 lb a cubic foot; the printed weight agrees to
    /// the pound for a thousand feet, and so does the printed area to its two decimals.
    #[rstest]
    #[case(BarSize::No3, 0.376, 0.11)]
    #[case(BarSize::No4, 0.668, 0.20)]
    #[case(BarSize::No5, 1.043, 0.31)]
    #[case(BarSize::No6, 1.502, 0.44)]
    fn bars(#[case] size: BarSize, #[case] weight: f64, #[case] area: f64) {
        let bar = FootingTable::shipped().unwrap().bar(size).unwrap();
        assert_relative_eq!(bar.weight.value, weight);
        assert_relative_eq!(bar.area.value, area);
        let diameter = bar.diameter.value.as_inches_f64();
        let exact = std::f64::consts::FRAC_PI_4 * diameter * diameter;
        assert_relative_eq!(exact, area, epsilon = 0.005);
        assert_relative_eq!(exact * 490.0 / 144.0, weight, epsilon = 0.0015);
        assert!(bar.lap.value >= bar.diameter.value.times(40).unwrap());
    }

    #[test]
    fn a_stem_too_tall_for_the_table_has_no_thickness() {
        let table = FootingTable::shipped().unwrap();
        assert_eq!(
            table.stem_thickness(Length::inches(54)).unwrap().value,
            Length::inches(6)
        );
        assert_eq!(
            table.stem_thickness(Length::inches(55)).unwrap().value,
            Length::sixty_fourths(15 * 32)
        );
        assert!(table.stem_thickness(Length::inches(97)).is_none());
        assert_eq!(table.tallest_stem(), Length::feet(8));
    }
}
