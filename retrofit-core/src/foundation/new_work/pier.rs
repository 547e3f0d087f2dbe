//! A pier: the pad under a post, and the post.

use super::footing::bearing;
use super::table::whole_inches;
use super::{Ends, Flag, FootingTable, NewWork, SizingError, SizingInput, Sourced, loads, within};
use crate::house::SoilClass;
use crate::measure::Length;
use crate::screen::nds::{Duration, LumberGrade, NdsError, Pieces, Post, Wood};
use crate::screen::{Bare, INCH, Method, PCF, POUND, PSF, PSI, Standards};

/// Posts that are tried, by name, in inches.
const POSTS: [(u8, u8); 3] = [(4, 4), (4, 6), (6, 6)];
/// The widest pad that is sized here.
const WIDEST: Length = Length::inches(60);
/// The tallest post that is sized here.
const TALLEST: Length = Length::feet(12);

/// What a pier is sized from.
#[derive(Clone, Copy, Debug)]
pub struct PierInput {
    /// Dead and live load that comes down on it, in pounds, its own weight not included.
    pub load: Ends,
    /// The soil, where its class is known.
    pub soil: Option<SoilClass>,
    /// Height of the post.
    pub post_height: Option<Length>,
    /// Thickness of the girder that bears on the post.
    pub girder_width: Option<Length>,
    /// The wood of post and girder, grade No. 2.
    pub wood: Wood,
}

/// A pad and its post.
#[derive(Clone, Debug)]
pub struct Pier {
    /// Side of the square pad, in whole inches.
    pub side: Length,
    /// Side that the load needs, in whole inches, the pad's own weight included.
    pub side_by_load: Length,
    /// The least side.
    pub side_least: Sourced<Length>,
    /// Thickness of the pad: as much as it projects from the post, and no less than the least.
    pub thickness: Length,
    /// The least thickness.
    pub thickness_least: Sourced<Length>,
    /// What the soil carries, in psf.
    pub bearing_psf: Sourced<f64>,
    /// The post; `None` where its height is not known, or where none that was tried will do.
    pub post: Option<PostChoice>,
    /// What was assumed, and whom to ask.
    pub flags: Vec<Flag>,
}

/// A post that will do.
#[derive(Clone, Copy, Debug)]
pub struct PostChoice {
    /// Its size by name, in inches.
    pub name: (u8, u8),
    /// What it can carry along its axis, in pounds.
    pub capacity: f64,
    /// The high end of the load over that.
    pub load_over_capacity: f64,
    /// What the girder presses on it with, across its grain, in psi, and what it can bear; `None` where the girder
    /// is not known.
    pub girder_bearing: Option<(f64, f64)>,
}

impl Pier {
    /// Sizes a pad and chooses the smallest post that will do.
    ///
    /// ```
    /// use retrofit_core::foundation::new_work::{Ends, FootingTable, Pier, PierInput};
    /// use retrofit_core::house::SoilClass;
    /// use retrofit_core::measure::Length;
    /// use retrofit_core::screen::{Standards, nds::Wood};
    /// let input = PierInput {
    ///     load: Ends { low: 2000.0, high: 3000.0 },
    ///     soil: Some(SoilClass::Clay),
    ///     post_height: Some(Length::inches(24)),
    ///     girder_width: Some(Length::sixty_fourths(7 * 32)),
    ///     wood: Wood::DouglasFir,
    /// };
    /// let pier = Pier::size(&input, FootingTable::shipped().unwrap(), Standards::shipped().unwrap())?;
    /// assert_eq!(pier.side, Length::inches(18));
    /// assert_eq!(pier.post.unwrap().name, (4, 4));
    /// # Ok::<(), retrofit_core::foundation::new_work::SizingError>(())
    /// ```
    pub fn size(input: &PierInput, table: &FootingTable, standards: &Standards) -> Result<Self, SizingError> {
        let load = loads(input.load, "lb")?;
        let mut flags = Vec::new();
        let soil = SizingInput {
            soil: input.soil,
            ..SizingInput::new(NewWork::Replacement)
        };
        let bearing_psf = bearing(&soil, standards, &mut flags);
        let post = Self::post(input, load.high, standards, &mut flags)?;
        let name = post.map_or((4, 4), |post| post.name);
        let (thin, _) = standards.nds.dressed(Bare, name.0, name.1)?;
        let concrete = standards.loads.concrete.high / PCF.unit().factor();
        let thickness = |side: Length| {
            let projection = (side.as_inches_f64() - thin.to(INCH)) / 2.0 / table.projection_most.value;
            table.pad_thickness.value.max(whole_inches(projection))
        };
        let mut by_load = Length::inches(1);
        loop {
            let own = by_load.by(by_load).as_square_feet_f64() * thickness(by_load).as_feet_f64() * concrete;
            let needed = standards
                .soil
                .pad_side(POUND.of(load.high + own), PSF.of(bearing_psf.value))?;
            if whole_inches(needed.to(INCH)) <= by_load {
                break;
            }
            by_load = by_load.saturating_add(Length::inches(1));
            if by_load > WIDEST {
                return Err(SizingError::TooWide { most: WIDEST });
            }
        }
        let side = by_load.max(table.pad_side_least.value);
        for (what, figure) in [
            ("A girder", &table.girder_above_ground),
            ("The foot of a post", &table.post_above_ground),
        ] {
            flags.push(Flag::KeepFromGround {
                what,
                least: figure.value,
                source: figure.source.clone(),
            });
        }
        Ok(Self {
            side,
            side_by_load: by_load,
            side_least: table.pad_side_least.clone(),
            thickness: thickness(side),
            thickness_least: table.pad_thickness.clone(),
            bearing_psf,
            post,
            flags,
        })
    }

    fn post(
        input: &PierInput,
        load: f64,
        standards: &Standards,
        flags: &mut Vec<Flag>,
    ) -> Result<Option<PostChoice>, SizingError> {
        let Some(height) = input.post_height else {
            flags.push(Flag::PostHeightNotKnown);
            return Ok(None);
        };
        let height = within("the height of the post", height, Length::inches(1), TALLEST)?;
        let nds = &standards.nds;
        for (thin, deep) in POSTS {
            let (depth, width) = nds.dressed(Bare, thin, deep)?;
            let post = Post {
                wood: input.wood,
                grade: LumberGrade::No2,
                depth,
                width,
                effective_length: INCH.of(height.as_inches_f64()),
                pieces: Pieces::Solid,
            };
            let capacity = match nds.post(Bare, &post, Method::Asd, Duration::Occupancy) {
                Ok(capacity) => capacity.to(POUND),
                // Too slender, or of a wood whose values are not held in this size: the next may do.
                Err(NdsError::Slender { .. } | NdsError::NoDesignValue { .. }) => continue,
                Err(error) => return Err(error.into()),
            };
            let girder_bearing = match input.girder_width {
                Some(girder) => {
                    let girder = within(
                        "the thickness of the girder",
                        girder,
                        Length::inches(1),
                        Length::feet(2),
                    )?;
                    let species = nds.species(input.wood);
                    let reference = species.compression_perpendicular.as_ref();
                    let reference = reference.ok_or(NdsError::NoDesignValue {
                        wood: input.wood,
                        depth: girder.as_inches_f64(),
                    })?;
                    let strength = nds.bearing_across_grain(
                        Bare,
                        reference.given(Bare, "F_c perp", "compression across the grain"),
                        width,
                        true,
                        Method::Asd,
                    )?;
                    // The girder lies along the post's longer side.
                    let area = INCH.of(girder.as_inches_f64()).min(depth) * width;
                    Some(((POUND.of(load) / area).to(PSI), strength.to(PSI)))
                }
                None => None,
            };
            if load <= capacity && girder_bearing.is_none_or(|(demand, strength)| demand <= strength) {
                return Ok(Some(PostChoice {
                    name: (thin, deep),
                    capacity,
                    load_over_capacity: load / capacity,
                    girder_bearing,
                }));
            }
        }
        flags.push(Flag::NoSizeWillDo("post"));
        Ok(None)
    }
}
