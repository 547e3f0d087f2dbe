//! The catalog of figures: every name a table may use, the kind of value it takes, and what it means.
//!
//! A table row names a figure from this list; a name that is not on it is refused with the nearest one.

use std::marker::PhantomData;

use crate::choice::choices;

choices! {
    /// A figure that a set of provisions can give.
    pub enum FigureName: "figure" {
        // Limits of applicability.
        /// Most stories above the crawl space.
        MaxStories = "max-stories", "most stories";
        /// Most dwelling units.
        MaxUnits = "max-units", "most dwelling units";
        /// Highest cripple wall, plates included, by stories.
        MaxCrippleWallHeight = "max-cripple-wall-height", "highest cripple wall";
        /// Tallest cripple wall stud, by stories.
        MaxStudHeight = "max-stud-height", "tallest cripple wall stud";
        /// Steepest ground.
        MaxSlope = "max-slope", "steepest ground slope";
        /// Kinds of foundation the set covers.
        FoundationKinds = "foundation-kinds", "kinds of foundation covered";
        /// Whether the foundation must run around the whole perimeter.
        ContinuousPerimeter = "continuous-perimeter", "continuous perimeter foundation";
        /// Whether the floor of each story must lie at one level.
        FloorsAtOneLevel = "floors-at-one-level", "floors at one level";
        /// Highest masonry veneer above the foundation.
        MaxVeneerHeight = "max-veneer-height", "highest masonry veneer";
        /// Whether houses with rooms over a garage are outside the set.
        NoRoomsOverGarage = "no-rooms-over-garage", "no rooms over a garage";
        /// Whether slab portions and embedded poles are outside the set.
        NoSlabOrPoles = "no-slab-or-poles", "no slab or pole portions";
        /// The year before which a house must have been built.
        BuiltBefore = "built-before", "built before";

        // Foundation.
        /// Whether the foundation has to be sound.
        SoundFoundation = "sound-foundation", "sound foundation";
        /// Least footing width, by stories.
        MinFootingWidth = "min-footing-width", "least footing width";
        /// Least footing thickness, by stories.
        MinFootingThickness = "min-footing-thickness", "least footing thickness";
        /// Least footing depth below the ground, by stories.
        MinFootingDepth = "min-footing-depth", "least footing depth";
        /// Whether the footing needs continuous bars at top and bottom.
        FootingBars = "footing-bars", "continuous bars at top and bottom of the footing";

        // Sill plate.
        /// Whether decayed or insect-damaged sills have to be replaced or made good.
        SoundSill = "sound-sill", "sound sill plate";
        /// Least thickness of a new sill.
        MinSillThickness = "min-sill-thickness", "least sill thickness";
        /// Whether a new sill has to resist decay.
        TreatedNewSill = "treated-new-sill", "treated or durable new sill";

        // Anchorage.
        /// Least anchor diameter and largest spacing: one row for each diameter, by stories.
        AnchorSpacing = "anchor-spacing", "largest anchor spacing";
        /// Length of sill piece above which the largest spacing applies; shorter pieces go by number of anchors.
        SpacingAppliesOver = "spacing-applies-over", "sill piece length above which the spacing applies";
        /// Least distance from the end of a sill piece to its first anchor.
        MinEndDistance = "min-end-distance", "least anchor end distance";
        /// The same in diameters of the anchor.
        MinEndDiameters = "min-end-diameters", "least anchor end distance in diameters";
        /// Largest distance from the end of a sill piece to its first anchor.
        MaxEndDistance = "max-end-distance", "largest anchor end distance";
        /// Least distance between two anchors that both count.
        MinAnchorSpacing = "min-anchor-spacing", "least distance between anchors";
        /// Least number of anchors in a sill piece: one row for each range of piece length.
        AnchorsPerPiece = "anchors-per-piece", "least anchors in a sill piece";
        /// Least distance from an anchor to the face of the foundation.
        MinEdgeDistance = "min-edge-distance", "least anchor edge distance";
        /// Washer under the nut: one row for each diameter where they differ.
        Washer = "washer", "plate washer";
        /// Kinds of anchor that count.
        AnchorKinds = "anchor-kinds", "kinds of anchor that count";
        /// Least embedment.
        MinEmbedment = "min-embedment", "least anchor embedment";
        /// Whether nuts have to be tight and steel whole.
        TightAnchors = "tight-anchors", "tight nuts and whole steel";

        // Bracing.
        /// Braced share of the wall line, by stories and weight.
        BracedShare = "braced-share", "braced share of the wall line";
        /// Whether a panel is needed at each end.
        PanelAtEachEnd = "panel-at-each-end", "a braced panel at each end";
        /// How far from the end of the cripple wall an end panel may begin.
        MaxEndOffset = "max-end-offset", "largest offset of an end panel";
        /// Least length of a panel.
        MinPanelLength = "min-panel-length", "least panel length";
        /// Least length of a panel as a share of the stud height (200% is twice the height).
        MinPanelProportion = "min-panel-proportion", "least panel length to stud height";
        /// Largest clear distance between panels.
        MaxPanelGap = "max-panel-gap", "largest gap between panels";
        /// Kinds of sheathing that count.
        SheathingKinds = "sheathing-kinds", "kinds of sheathing that count";
        /// Least thickness of the sheathing.
        MinSheathingThickness = "min-sheathing-thickness", "least sheathing thickness";
        /// Least nail; a nail of more pennies and the same or a stouter shank counts too.
        PanelNail = "panel-nail", "least panel nail";
        /// Largest spacing of nails at panel edges.
        EdgeNailing = "edge-nailing", "largest edge nail spacing";
        /// Largest spacing of nails between panel edges.
        FieldNailing = "field-nailing", "largest field nail spacing";
        /// Whether a nail that breaks the face is not counted.
        FlushNails = "flush-nails", "nail heads flush";
        /// Whether horizontal joints have to lie over blocking.
        BlockedJoints = "blocked-joints", "joints over blocking";
        /// Whether the panel has to be nailed to the sill or to blocks on it.
        PanelToSill = "panel-to-sill", "panel nailed to the sill";
        /// Least nails in each block on the sill.
        NailsPerSillBlock = "nails-per-sill-block", "least nails in a sill block";
        /// How high an opening may reach inside a panel, as a share of the cripple wall height; the panel then
        /// counts for its length less the opening.
        MaxOpeningInPanel = "max-opening-in-panel", "highest opening inside a panel";

        // Cripple wall framing.
        /// Kinds of top plate that will do.
        TopPlates = "top-plates", "top plate";
        /// Whether breaks in the top plate have to be tied.
        TiedSplices = "tied-splices", "tied plate splices";
        /// Stud height under which studs have to be replaced by solid blocking or sheathed.
        ShortStudHeight = "short-stud-height", "stud height that calls for solid blocking";
        /// Whether sheathing over the whole stretch will do in place of solid blocking.
        ShortStudSheathing = "short-stud-sheathing", "sheathing in place of solid blocking";

        // Floor.
        /// Rim or blocking patterns that will do where joists cross the wall, by stories.
        RimPatterns = "rim-patterns", "rim or blocking where joists cross the wall";
        /// Whether a continuous end joist has to lie over the wall where joists run along it.
        EndJoist = "end-joist", "continuous end joist where joists run along the wall";
        /// Largest toenail spacing from a rim into the plate.
        RimToenails = "rim-toenails", "largest rim toenail spacing";
        /// Least toenails in each block.
        ToenailsPerBlock = "toenails-per-block", "least toenails in a block";
        /// Largest spacing of framing clips.
        ClipSpacing = "clip-spacing", "largest framing clip spacing";

        // Ventilation.
        /// Least diameter of ventilation holes in a closed stud bay.
        MinVentHole = "min-vent-hole", "least ventilation hole";
        /// Largest diameter of ventilation holes in a closed stud bay.
        MaxVentHole = "max-vent-hole", "largest ventilation hole";
        /// Crawl space area for each unit of net vent area.
        AreaPerVentArea = "area-per-vent-area", "crawl space area for each unit of vent area";

        // Posts.
        /// Whether posts have to be connected at top and bottom.
        ConnectedPosts = "connected-posts", "posts connected at top and bottom";
    }
}

impl FigureName {
    /// Whether its check can hold a limit that is itself not allowed; a row of another figure that says
    /// `less-than` is refused, because its check would let the limit pass.
    pub const fn can_exclude_its_limit(self) -> bool {
        matches!(
            self,
            Self::MaxStories
                | Self::MaxUnits
                | Self::MaxCrippleWallHeight
                | Self::MaxStudHeight
                | Self::MaxSlope
                | Self::MaxVeneerHeight
                | Self::RimToenails
                | Self::ClipSpacing
        )
    }

    /// Whether it has rows by anchor diameter.
    pub const fn goes_by_diameter(self) -> bool {
        matches!(self, Self::AnchorSpacing | Self::Washer)
    }

    /// Whether it has rows by the length of the sill piece.
    pub const fn goes_by_piece(self) -> bool {
        matches!(self, Self::AnchorsPerPiece)
    }

    /// Whether it is a share of a whole, which cannot be exceeded.
    pub const fn is_share(self) -> bool {
        matches!(self, Self::BracedShare | Self::MaxOpeningInPanel)
    }
}

/// The kind of value a figure takes; a table loader reads the value by it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// A length with its unit.
    Length,
    /// A percentage.
    Percent,
    /// A whole number.
    Count,
    /// A ground slope.
    Slope,
    /// A nail.
    Nail,
    /// A washer.
    Washer,
    /// `yes`: the figure is asked for.
    Asked,
    /// Foundation kinds, separated by `|`.
    FoundationKinds,
    /// Anchor kinds, separated by `|`.
    AnchorKinds,
    /// Sheathing kinds, separated by `|`.
    SheathingKinds,
    /// Rim or blocking patterns, separated by `|`.
    RimPatterns,
    /// Top plates, separated by `|`.
    TopPlates,
}

/// A figure name together with the type of its value, so that a check cannot read a length as a count.
#[derive(Debug)]
pub struct FigureKey<T> {
    /// The figure.
    pub name: FigureName,
    of: PhantomData<fn() -> T>,
}

impl<T> Clone for FigureKey<T> {
    fn clone(&self) -> Self {
        *self
    }
}
impl<T> Copy for FigureKey<T> {}

/// The typed keys by which checks read figures.
pub mod keys {
    use super::{FigureKey, FigureName, Measure};
    use crate::choice::Allowed;
    use crate::house::{AnchorKind, FoundationKind, Nail, Rim, Sheathing, TopPlate, Washer};
    use crate::measure::{Length, Percent, Slope};
    use std::marker::PhantomData;

    /// A figure that is either asked for or not.
    pub type Asked = bool;

    macro_rules! keys {
        ($($key:ident : $type:ty = $name:ident, $measure:ident;)+) => {
            $(
                #[doc = concat!("Key of the figure [`FigureName::", stringify!($name), "`].")]
                pub const $key: FigureKey<$type> = FigureKey { name: FigureName::$name, of: PhantomData };
            )+

            impl FigureName {
                /// The kind of value the figure takes.
                pub const fn measure(self) -> Measure {
                    match self { $(Self::$name => Measure::$measure),+ }
                }
            }
        };
    }

    keys! {
        MAX_STORIES: u32 = MaxStories, Count;
        MAX_UNITS: u32 = MaxUnits, Count;
        MAX_CRIPPLE_WALL_HEIGHT: Length = MaxCrippleWallHeight, Length;
        MAX_STUD_HEIGHT: Length = MaxStudHeight, Length;
        MAX_SLOPE: Slope = MaxSlope, Slope;
        FOUNDATION_KINDS: Allowed<FoundationKind> = FoundationKinds, FoundationKinds;
        CONTINUOUS_PERIMETER: Asked = ContinuousPerimeter, Asked;
        FLOORS_AT_ONE_LEVEL: Asked = FloorsAtOneLevel, Asked;
        MAX_VENEER_HEIGHT: Length = MaxVeneerHeight, Length;
        NO_ROOMS_OVER_GARAGE: Asked = NoRoomsOverGarage, Asked;
        NO_SLAB_OR_POLES: Asked = NoSlabOrPoles, Asked;
        BUILT_BEFORE: u32 = BuiltBefore, Count;
        SOUND_FOUNDATION: Asked = SoundFoundation, Asked;
        MIN_FOOTING_WIDTH: Length = MinFootingWidth, Length;
        MIN_FOOTING_THICKNESS: Length = MinFootingThickness, Length;
        MIN_FOOTING_DEPTH: Length = MinFootingDepth, Length;
        FOOTING_BARS: Asked = FootingBars, Asked;
        SOUND_SILL: Asked = SoundSill, Asked;
        MIN_SILL_THICKNESS: Length = MinSillThickness, Length;
        TREATED_NEW_SILL: Asked = TreatedNewSill, Asked;
        ANCHOR_SPACING: Length = AnchorSpacing, Length;
        SPACING_APPLIES_OVER: Length = SpacingAppliesOver, Length;
        MIN_END_DISTANCE: Length = MinEndDistance, Length;
        MIN_END_DIAMETERS: u32 = MinEndDiameters, Count;
        MAX_END_DISTANCE: Length = MaxEndDistance, Length;
        MIN_ANCHOR_SPACING: Length = MinAnchorSpacing, Length;
        ANCHORS_PER_PIECE: u32 = AnchorsPerPiece, Count;
        MIN_EDGE_DISTANCE: Length = MinEdgeDistance, Length;
        WASHER: Washer = Washer, Washer;
        ANCHOR_KINDS: Allowed<AnchorKind> = AnchorKinds, AnchorKinds;
        MIN_EMBEDMENT: Length = MinEmbedment, Length;
        TIGHT_ANCHORS: Asked = TightAnchors, Asked;
        BRACED_SHARE: Percent = BracedShare, Percent;
        PANEL_AT_EACH_END: Asked = PanelAtEachEnd, Asked;
        MAX_END_OFFSET: Length = MaxEndOffset, Length;
        MIN_PANEL_LENGTH: Length = MinPanelLength, Length;
        MIN_PANEL_PROPORTION: Percent = MinPanelProportion, Percent;
        MAX_PANEL_GAP: Length = MaxPanelGap, Length;
        SHEATHING_KINDS: Allowed<Sheathing> = SheathingKinds, SheathingKinds;
        MIN_SHEATHING_THICKNESS: Length = MinSheathingThickness, Length;
        PANEL_NAIL: Nail = PanelNail, Nail;
        EDGE_NAILING: Length = EdgeNailing, Length;
        FIELD_NAILING: Length = FieldNailing, Length;
        FLUSH_NAILS: Asked = FlushNails, Asked;
        BLOCKED_JOINTS: Asked = BlockedJoints, Asked;
        PANEL_TO_SILL: Asked = PanelToSill, Asked;
        NAILS_PER_SILL_BLOCK: u32 = NailsPerSillBlock, Count;
        MAX_OPENING_IN_PANEL: Percent = MaxOpeningInPanel, Percent;
        TOP_PLATES: Allowed<TopPlate> = TopPlates, TopPlates;
        TIED_SPLICES: Asked = TiedSplices, Asked;
        SHORT_STUD_HEIGHT: Length = ShortStudHeight, Length;
        SHORT_STUD_SHEATHING: Asked = ShortStudSheathing, Asked;
        RIM_PATTERNS: Allowed<Rim> = RimPatterns, RimPatterns;
        END_JOIST: Asked = EndJoist, Asked;
        RIM_TOENAILS: Length = RimToenails, Length;
        TOENAILS_PER_BLOCK: u32 = ToenailsPerBlock, Count;
        CLIP_SPACING: Length = ClipSpacing, Length;
        MIN_VENT_HOLE: Length = MinVentHole, Length;
        MAX_VENT_HOLE: Length = MaxVentHole, Length;
        AREA_PER_VENT_AREA: u32 = AreaPerVentArea, Count;
        CONNECTED_POSTS: Asked = ConnectedPosts, Asked;
    }
}
