//! What there is to look at under a house, in the order in which a crawl collects it.

use crate::choice::{Choice, choices};

choices! {
    /// Something to look at. The order is that of a visit: papers and outside first, then the foundation,
    /// the sill and its anchors, the cripple wall, its panels, the floor above, and the middle of the house.
    pub enum LookAt: "observation" {
        /// Stories.
        Stories = "building.stories", "the number of stories";
        /// Units.
        Units = "building.units", "the number of dwelling units";
        /// Year.
        YearBuilt = "building.year_built", "the year the house was built";
        /// Floor levels.
        FloorLevels = "building.floors_at_one_level", "whether the floor of each story lies at one level";
        /// Rooms over a garage.
        RoomsOverGarage = "building.rooms_over_garage", "whether rooms stand over a garage";
        /// Slab or pole portions.
        SlabOrPoles = "building.slab_or_pole_portion", "whether part of the house stands on a slab or on poles";
        /// Exterior.
        Exterior = "building.exterior", "the covering of the outside walls";
        /// Roof.
        Roof = "building.roof", "the roof covering";
        /// Veneer.
        VeneerHeight = "building.veneer_height", "the height of any masonry veneer";
        /// Slope.
        Slope = "site.slope", "the steepest slope of the ground";
        /// Perimeter.
        Perimeter = "continuous_perimeter", "whether the foundation runs unbroken around the house";
        /// Earlier work.
        EarlierRetrofit = "earlier_retrofit", "whether the house was strengthened before";
        /// Wall length.
        WallLength = "wall_lines[].length", "the length of the wall line";
        /// Foundation list.
        Foundation = "wall_lines[].foundation", "the foundation along the whole wall line";
        /// Foundation kind.
        FoundationKind = "wall_lines[].foundation[].kind", "what the foundation is made of";
        /// Foundation condition.
        FoundationCondition = "wall_lines[].foundation[].condition", "whether the foundation is hard and in line";
        /// Footing width.
        FootingWidth = "wall_lines[].foundation[].footing_width", "the width of the footing";
        /// Footing thickness.
        FootingThickness = "wall_lines[].foundation[].footing_thickness", "the thickness of the footing";
        /// Footing depth.
        FootingDepth = "wall_lines[].foundation[].footing_depth", "the depth of the footing";
        /// Stem thickness.
        StemThickness = "wall_lines[].foundation[].stem_thickness", "the thickness of the foundation wall";
        /// Reinforcing.
        Reinforcing = "wall_lines[].foundation[].reinforcing", "whether the foundation has bars in it";
        /// Sill list.
        Sill = "wall_lines[].sill", "the sill pieces and where they end";
        /// Sill soundness.
        SillSoundness = "wall_lines[].sill[].soundness", "whether the sill is sound (probe it)";
        /// Sill thickness.
        SillThickness = "wall_lines[].sill[].thickness", "the thickness of the sill";
        /// Sill treatment.
        SillTreatment = "wall_lines[].sill[].treatment", "whether the sill is treated or durable wood";
        /// Sill origin.
        SillInstalled = "wall_lines[].sill[].installed", "whether the sill is original";
        /// Sill against studs.
        SillAgainstStuds = "wall_lines[].sill[].against_studs", "whether the sill is wider than the studs";
        /// Anchor list.
        Anchors = "wall_lines[].anchors", "every anchor along the wall line";
        /// Anchor spacing.
        AnchorSpacing = "wall_lines[].anchors[].spacing", "the distance between anchors";
        /// Anchor end distance.
        AnchorEnds = "wall_lines[].anchors[].end_distance", "how far the first anchor is from each end of a sill piece";
        /// Anchor kind.
        AnchorKind = "wall_lines[].anchors[].kind", "what kind of anchor it is";
        /// Anchor diameter.
        AnchorDiameter = "wall_lines[].anchors[].diameter", "the diameter of the anchors";
        /// Anchor washer.
        AnchorWasher = "wall_lines[].anchors[].washer", "the washers under the nuts";
        /// Anchor tightness.
        AnchorTightness = "wall_lines[].anchors[].tightness", "whether the nuts are tight";
        /// Anchor corrosion.
        AnchorCorrosion = "wall_lines[].anchors[].corrosion", "how far the anchors have rusted";
        /// Anchor edge distance.
        AnchorEdge = "wall_lines[].anchors[].edge_distance", "how far the anchors are from the face of the foundation";
        /// Anchor embedment.
        AnchorEmbedment = "wall_lines[].anchors[].embedment", "how deep the anchors go (a permit or a maker's mark may tell)";
        /// Cripple wall list.
        CrippleWall = "wall_lines[].cripple_wall", "whether there is a cripple wall, and from where to where";
        /// Cripple wall height.
        CrippleHeight = "wall_lines[].cripple_wall[].height", "the height of the cripple wall, plates included";
        /// Tallest stud.
        TallestStud = "wall_lines[].cripple_wall[].tallest_stud", "the height of the tallest cripple stud";
        /// Shortest stud.
        ShortestStud = "wall_lines[].cripple_wall[].shortest_stud", "the height of the shortest cripple stud";
        /// Stud spacing.
        StudSpacing = "wall_lines[].cripple_wall[].stud_spacing", "the spacing of the cripple studs";
        /// Stud thickness.
        StudThickness = "wall_lines[].cripple_wall[].stud_thickness", "the thickness of the cripple studs along the wall";
        /// Solid blocking.
        SolidBlocked = "wall_lines[].cripple_wall[].solid_blocked", "whether short studs are filled with solid blocking";
        /// Top plate.
        TopPlate = "wall_lines[].cripple_wall[].top_plate", "the top plate of the cripple wall";
        /// Splices.
        PlateSplices = "wall_lines[].cripple_wall[].plate_splices_tied", "whether breaks in the top plate are tied";
        /// Panel list.
        Panels = "wall_lines[].panels", "every braced panel, from where to where";
        /// Panel length.
        PanelLength = "wall_lines[].panels[].total_length", "the length of the braced panels";
        /// Panel ends.
        PanelEnds = "wall_lines[].panels[].at_each_end", "whether a braced panel stands at each end";
        /// Shortest panel.
        ShortestPanel = "wall_lines[].panels[].shortest", "the length of the shortest panel";
        /// Panel gap.
        PanelGap = "wall_lines[].panels[].largest_gap", "the largest gap between panels";
        /// Sheathing.
        Sheathing = "wall_lines[].panels[].sheathing", "what the panels are made of";
        /// Thickness.
        SheathingThickness = "wall_lines[].panels[].thickness", "the thickness of the panels";
        /// Nails.
        PanelNail = "wall_lines[].panels[].nail", "the size and kind of the panel nails (pull one)";
        /// Edge nailing.
        EdgeNailing = "wall_lines[].panels[].edge_nailing", "the nail spacing along panel edges";
        /// Field nailing.
        FieldNailing = "wall_lines[].panels[].field_nailing", "the nail spacing between panel edges";
        /// Flush nails.
        NailsFlush = "wall_lines[].panels[].nails_flush", "whether nail heads break the face of the panels";
        /// Joints.
        JointsBlocked = "wall_lines[].panels[].joints_blocked", "whether level joints between sheets lie over blocking";
        /// Foot.
        PanelFoot = "wall_lines[].panels[].foot", "how the panels are nailed at the sill";
        /// Nails per block.
        NailsPerSillBlock = "wall_lines[].panels[].nails_per_sill_block", "the nails in each block on the sill";
        /// Cut panels.
        CutThrough = "wall_lines[].panels[].cut_through", "whether vents or pipes are cut through the panels";
        /// Closed bays.
        ClosedBays = "wall_lines[].panels[].closes_stud_bays", "whether the panels close the stud bays";
        /// Vent holes.
        VentHoles = "wall_lines[].panels[].vent_holes", "ventilation holes at the top and bottom of closed stud bays";
        /// Openings.
        Openings = "wall_lines[].openings", "vents, doors and pipes along the wall line";
        /// Opening height.
        OpeningTop = "wall_lines[].openings[].top", "how high the vents reach above the foundation";
        /// Joist spacing.
        JoistSpacing = "floor.joist_spacing", "the spacing of the floor joists";
        /// Joists.
        Joists = "wall_lines[].joists", "which way the floor joists run";
        /// Rim.
        Rim = "wall_lines[].rim", "the rim joist or the blocking between joists";
        /// Connections.
        Connections = "wall_lines[].connections", "what ties the floor to the wall below";
        /// Connection kind.
        ConnectionKind = "wall_lines[].connections[].kind", "whether clips, toenails or blocks tie the floor to the wall";
        /// Connection spacing.
        ConnectionSpacing = "wall_lines[].connections[].spacing", "the spacing of the clips or toenails";
        /// Nails per block.
        NailsPerBlock = "wall_lines[].connections[].nails_per_block", "the toenails in each block between joists";
        /// Posts.
        Posts = "posts", "the interior posts and piers";
        /// Post top.
        PostTop = "posts[].top", "how the posts meet the beams";
        /// Post base.
        PostBase = "posts[].base", "how the posts meet the piers";
        /// Post condition.
        PostCondition = "posts[].sound_and_plumb", "whether the posts are sound and plumb";
        /// Crawl space area.
        CrawlSpaceArea = "crawl_space_area", "the area of the crawl space";
        /// Vent area.
        VentArea = "vent_area", "the net free area of all vents";
    }
}

impl LookAt {
    /// The path of the observation in a house file, for a wall line and an item of its list.
    ///
    /// ```
    /// use retrofit_core::check::LookAt;
    /// assert_eq!(LookAt::AnchorWasher.path(Some(1), Some(3)), "wall_lines[1].anchors[3].washer");
    /// assert_eq!(LookAt::AnchorWasher.path(Some(1), None), "wall_lines[1].anchors[].washer");
    /// assert_eq!(LookAt::Anchors.path(Some(1), Some(3)), "wall_lines[1].anchors[3]");
    /// assert_eq!(LookAt::Stories.path(None, None), "building.stories");
    /// ```
    pub fn path(self, wall_line: Option<u16>, item: Option<u16>) -> String {
        let mut path = String::with_capacity(48);
        let of_line = self.is_along_a_wall_line().then_some(wall_line);
        let mut numbers = of_line.into_iter().chain([item]);
        for (position, part) in self.spelling().split("[]").enumerate() {
            if position > 0 {
                match numbers.next().flatten() {
                    Some(number) => path.extend(["[", &number.to_string(), "]"]),
                    None => path.push_str("[]"),
                }
            }
            path.push_str(part);
        }
        // The observation is the list itself, and an item of it is meant.
        if let Some(number) = numbers.next().flatten() {
            path.extend(["[", &number.to_string(), "]"]);
        }
        path
    }

    /// Whether it is looked at wall line by wall line.
    pub fn is_along_a_wall_line(self) -> bool {
        self.spelling().starts_with("wall_lines")
    }
}
