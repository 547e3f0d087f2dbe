//! A girder on two supports: every size that is tried beside its four limits, and the least that will do.

use std::sync::Arc;

use super::{Ends, Flag, FootingTable, SizingError, Source, Sourced, loads, within};
use crate::measure::Length;
use crate::observation::Truth;
use crate::provisions::Standing;
use crate::screen::nds::{
    BEAM_SIZES, Beam, BeamCheck, BeamLoads, CompressionEdge, Duration, LumberGrade, NdsError, Wood,
};
use crate::screen::{Bare, INCH, PLF, POUND, Standards};

/// The longest span that is tried.
const LONGEST: Length = Length::feet(24);

/// What a girder is sized from.
#[derive(Clone, Copy, Debug)]
pub struct GirderInput {
    /// From post to post.
    pub span: Length,
    /// Dead and live load along it, in pounds a foot, its own weight included.
    pub load: Ends,
    /// The live part of the high end, in pounds a foot.
    pub live: f64,
    /// Length of each support along it.
    pub support: Length,
    /// Whether joists bear on it and are fastened to it, which keeps it upright.
    pub joists_fastened: Truth,
    /// Its wood, grade No. 2.
    pub wood: Wood,
}

/// A size of girder with its check.
#[derive(Clone, Copy, Debug)]
pub struct GirderSize {
    /// The size by name, in inches.
    pub name: (u8, u8),
    /// Area of its section, in square inches.
    pub area: f64,
    /// Demand and capacity of its four limits under the high end of the load.
    pub check: BeamCheck<f64>,
    /// The weakest standing among its design values.
    pub standing: Standing,
}

/// Girders that were tried.
#[derive(Clone, Debug)]
pub struct Girder {
    /// Every size for which design values are held, from the least section up.
    pub tried: Vec<GirderSize>,
    /// The specification that the limits are computed by.
    pub specification: Arc<str>,
    /// The deflection under live load may be the span divided by this.
    pub span_over: Sourced<f64>,
    /// What was assumed, and whom to ask.
    pub flags: Vec<Flag>,
}

impl Girder {
    /// Tries every size.
    ///
    /// ```
    /// use retrofit_core::foundation::new_work::{Ends, FootingTable, Girder, GirderInput};
    /// use retrofit_core::measure::Length;
    /// use retrofit_core::observation::Truth;
    /// use retrofit_core::screen::{Standards, nds::Wood};
    /// let input = GirderInput {
    ///     span: Length::feet(6),
    ///     load: Ends { low: 400.0, high: 600.0 },
    ///     live: 400.0,
    ///     support: Length::sixty_fourths(7 * 32),
    ///     joists_fastened: Truth::True,
    ///     wood: Wood::DouglasFir,
    /// };
    /// let girder = Girder::size(&input, FootingTable::shipped().unwrap(), Standards::shipped().unwrap())?;
    /// assert_eq!(girder.least().unwrap().name, (4, 8));
    /// # Ok::<(), retrofit_core::foundation::new_work::SizingError>(())
    /// ```
    pub fn size(
        input: &GirderInput,
        table: &FootingTable,
        standards: &Standards,
    ) -> Result<Self, SizingError> {
        let load = loads(input.load, "plf")?;
        let live = loads(
            Ends {
                low: input.live,
                high: load.high,
            },
            "plf",
        )?;
        let span = within("the span of the girder", input.span, Length::inches(1), LONGEST)?;
        let support = within(
            "the length of support",
            input.support,
            Length::inches(1),
            Length::feet(2),
        )?;
        let nds = &standards.nds;
        let span = INCH.of(span.as_inches_f64());
        let mut tried = Vec::new();
        for name in BEAM_SIZES {
            let (width, depth) = nds.dressed(Bare, name.0, name.1)?;
            let values = match nds.beam_values(Bare, input.wood, LumberGrade::No2, width, depth) {
                Ok(values) => values,
                Err(NdsError::NoDesignValue { .. }) => continue,
                Err(error) => return Err(error.into()),
            };
            let beam = Beam {
                width,
                depth,
                span,
                bearing: INCH.of(support.as_inches_f64()),
                loads: BeamLoads {
                    uniform: PLF.of(load.high),
                    uniform_live: PLF.of(live.low),
                    middle: POUND.of(0.0),
                    middle_live: POUND.of(0.0),
                },
                edge: if input.joists_fastened.certain() {
                    CompressionEdge::Held
                } else {
                    CompressionEdge::Unbraced(span)
                },
                repetitive: false,
                span_over: table.floor_span_over.value,
            };
            match nds.beam(Bare, &beam, &values, Duration::Occupancy) {
                Ok(check) => tried.push(GirderSize {
                    name,
                    area: (width * depth).value(),
                    check,
                    standing: nds.lumber_standing(input.wood, LumberGrade::No2, name)?,
                }),
                Err(NdsError::Slender { .. }) => {}
                Err(error) => return Err(error.into()),
            }
        }
        tried.sort_by(|a, b| a.area.total_cmp(&b.area));
        let mut girder = Self {
            tried,
            specification: nds.edition.name().into(),
            span_over: table.floor_span_over.clone(),
            flags: Vec::new(),
        };
        if girder.least().is_none() {
            girder.flags.push(Flag::NoSizeWillDo("girder"));
        }
        if !input.joists_fastened.certain() {
            girder.flags.push(Flag::GirderNotHeld);
        }
        let distance = &table.girder_above_ground;
        girder.flags.push(Flag::KeepFromGround {
            what: "A girder",
            least: distance.value,
            source: distance.source.clone(),
        });
        Ok(girder)
    }

    /// The least section that passes none of its limits.
    pub fn least(&self) -> Option<&GirderSize> {
        self.tried.iter().find(|size| size.check.is_within())
    }

    /// Where the limits of a size come from.
    pub fn source(&self, size: &GirderSize) -> Source {
        Source {
            document: Arc::clone(&self.specification),
            section: "3.3 to 3.5, 3.10".into(),
            standing: size.standing,
            note: "Loads of ten years, Douglas fir No. 2".into(),
        }
    }
}
