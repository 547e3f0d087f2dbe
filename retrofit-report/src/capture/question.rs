//! The questions that a house file answers, in the order of a crawl.

/// A group of questions that are asked together, in one part of the form and of the house file.
#[derive(Debug)]
pub struct Section {
    /// Its name in the message files, behind `capture-section-`.
    pub name: &'static str,
    /// Its questions, in order.
    pub questions: &'static [Question],
}

/// One question: a place in the house file and when it is worth asking.
///
/// What kind of answer it takes is not said here: the schema of the house file knows
/// ([`Answers`](super::Answers)). Its words are the message `ask-` with the path in it
/// ([`Question::message`]).
#[derive(Debug, PartialEq, Eq)]
pub struct Question {
    /// The place in the house file; `[]` stands for an item of a list.
    pub path: &'static str,
    /// Who needs the answer.
    pub depth: Depth,
    /// When it is asked.
    pub when: When,
    /// For a list of things: the fields that the answer to this question already gives for each of them.
    pub gives: &'static [&'static str],
}

/// Who needs an answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Depth {
    /// Checks read it: it is always asked, and it stands on the form.
    Checked,
    /// The engineering screen, the foundation plan or a reader can use it: asked when everything is.
    Everything,
}

/// When a question is asked, by an answer to another one about the same thing. An answer that is not known
/// leaves everything open: then the question is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum When {
    /// Always.
    Always,
    /// When a field has one of these values, or is not known.
    Is(&'static str, &'static [&'static str]),
    /// Unless a field has one of these values.
    Unless(&'static str, &'static [&'static str]),
    /// When a field is not there: it tells apart two ways of writing the same thing down.
    Without(&'static str),
}

impl Question {
    /// The message that asks it.
    pub fn message(&self) -> String {
        format!("ask-{}", self.path.replace("[]", "").replace('.', "-"))
    }

    /// Whether it is asked anew for each wall line.
    pub fn is_of_a_wall_line(&self) -> bool {
        self.path.starts_with("wall_lines[]")
    }

    /// The last name in its path.
    pub fn field(&self) -> &'static str {
        self.path.rsplit('.').next().unwrap_or(self.path)
    }

    const fn when(mut self, when: When) -> Self {
        self.when = when;
        self
    }

    const fn gives(mut self, fields: &'static [&'static str]) -> Self {
        self.gives = fields;
        self
    }
}

const fn checked(path: &'static str) -> Question {
    Question {
        path,
        depth: Depth::Checked,
        when: When::Always,
        gives: &[],
    }
}

const fn also(path: &'static str) -> Question {
    Question {
        path,
        depth: Depth::Everything,
        when: When::Always,
        gives: &[],
    }
}

use When::{Is, Unless, Without};

/// Foundations that have no wall of their own to measure.
const WITHOUT_STEM: &[&str] = &["posts", "ground", "none"];

/// Anchors that are driven or hooked, without a rod and a nut.
const WITHOUT_NUT: &[&str] = &["side_plate", "strap", "powder_driven", "nail"];

/// Every question, section by section: what keeps the observer from harm first, then from the sidewalk inward, then
/// along each wall line from the ground up, and what comes from maps last.
pub const SECTIONS: &[Section] = &[
    Section {
        name: "access",
        questions: &[
            checked("name"),
            checked("inspection.date"),
            checked("inspection.observer"),
            checked("inspection.access"),
            checked("inspection.clear_height").when(Unless("access", &["none"])),
            also("inspection.access_width"),
            also("inspection.access_height"),
        ],
    },
    Section {
        name: "house",
        questions: &[
            checked("building.stories"),
            checked("building.units"),
            checked("building.year_built"),
            checked("building.floor_area"),
            checked("building.exterior"),
            checked("building.veneer_height"),
            checked("building.roof"),
            checked("building.interior_plaster"),
            checked("building.floors_at_one_level"),
            checked("building.rooms_over_garage"),
            checked("building.slab_or_pole_portion"),
            checked("building.untied_chimney"),
            checked("earlier_retrofit"),
            also("building.outline"),
            also("building.story_height"),
            also("building.masonry_chimneys"),
            also("building.porch_area"),
        ],
    },
    Section {
        name: "perimeter",
        questions: &[
            checked("continuous_perimeter"),
            checked("crawl_space_area"),
            checked("vent_area"),
            checked("floor.joist_spacing"),
            also("floor.joist_depth"),
            also("floor.joist_thickness"),
            also("floor.joist_span"),
            checked("floor.bearing"),
            also("floor.subfloor"),
        ],
    },
    Section {
        name: "wall-line",
        questions: &[
            checked("wall_lines").gives(&["name"]),
            checked("wall_lines[].length"),
            also("wall_lines[].plan"),
            checked("wall_lines[].joists"),
            checked("wall_lines[].rim"),
            also("wall_lines[].earlier_retrofit"),
        ],
    },
    Section {
        name: "foundation",
        questions: &[
            checked("wall_lines[].foundation").gives(&["from", "to"]),
            checked("wall_lines[].foundation[].kind"),
            checked("wall_lines[].foundation[].condition"),
            checked("wall_lines[].foundation[].stem_height").when(Unless("kind", WITHOUT_STEM)),
            checked("wall_lines[].foundation[].stem_thickness").when(Unless("kind", WITHOUT_STEM)),
            checked("wall_lines[].foundation[].footing_width").when(Unless("kind", WITHOUT_STEM)),
            checked("wall_lines[].foundation[].footing_thickness").when(Unless("kind", WITHOUT_STEM)),
            checked("wall_lines[].foundation[].footing_depth").when(Unless("kind", WITHOUT_STEM)),
            checked("wall_lines[].foundation[].reinforcing").when(Unless("kind", WITHOUT_STEM)),
            also("wall_lines[].foundation[].concrete_strength").when(Is("kind", &["concrete", "block"])),
            also("wall_lines[].foundation[].outside"),
            also("wall_lines[].foundation[].inside"),
            also("wall_lines[].foundation[].sill_above_ground"),
            also("wall_lines[].foundation[].settled"),
        ],
    },
    Section {
        name: "sill",
        questions: &[
            checked("wall_lines[].sill").gives(&["from", "to"]),
            checked("wall_lines[].sill[].thickness"),
            checked("wall_lines[].sill[].width"),
            checked("wall_lines[].sill[].against_studs"),
            checked("wall_lines[].sill[].treatment"),
            checked("wall_lines[].sill[].soundness"),
            checked("wall_lines[].sill[].embedded"),
            checked("wall_lines[].sill[].installed"),
            also("wall_lines[].sill[].species"),
        ],
    },
    Section {
        name: "anchors",
        questions: &[
            checked("wall_lines[].anchors").gives(&["at", "first", "last", "spacing"]),
            checked("wall_lines[].anchors[].kind"),
            checked("wall_lines[].anchors[].diameter"),
            checked("wall_lines[].anchors[].end_distance").when(Without("at")),
            checked("wall_lines[].anchors[].washer").when(Unless("kind", WITHOUT_NUT)),
            checked("wall_lines[].anchors[].tightness").when(Unless("kind", WITHOUT_NUT)),
            checked("wall_lines[].anchors[].corrosion"),
            checked("wall_lines[].anchors[].embedment").when(Unless("kind", &["side_plate"])),
            checked("wall_lines[].anchors[].edge_distance").when(Unless("kind", &["side_plate"])),
            checked("wall_lines[].anchors[].installed"),
            also("wall_lines[].anchors[].capacity").when(Is("kind", &["side_plate", "strap"])),
        ],
    },
    Section {
        name: "cripple-wall",
        questions: &[
            checked("wall_lines[].cripple_wall").gives(&["from", "to"]),
            checked("wall_lines[].cripple_wall[].height"),
            checked("wall_lines[].cripple_wall[].tallest_stud"),
            checked("wall_lines[].cripple_wall[].shortest_stud"),
            checked("wall_lines[].cripple_wall[].stud_depth"),
            checked("wall_lines[].cripple_wall[].stud_thickness"),
            checked("wall_lines[].cripple_wall[].stud_spacing"),
            checked("wall_lines[].cripple_wall[].top_plate"),
            checked("wall_lines[].cripple_wall[].plate_splices_tied").when(Unless("top_plate", &["none"])),
            also("wall_lines[].cripple_wall[].splice_nails").when(Unless("top_plate", &["none"])),
            checked("wall_lines[].cripple_wall[].balloon_framed"),
            checked("wall_lines[].cripple_wall[].solid_blocked"),
            also("wall_lines[].cripple_wall[].covering"),
        ],
    },
    Section {
        name: "bracing",
        questions: &[
            checked("wall_lines[].panels").gives(&["from", "to", "total_length"]),
            checked("wall_lines[].panels[].at_each_end").when(Without("from")),
            checked("wall_lines[].panels[].shortest").when(Without("from")),
            checked("wall_lines[].panels[].largest_gap").when(Without("from")),
            checked("wall_lines[].panels[].sheathing"),
            checked("wall_lines[].panels[].thickness"),
            checked("wall_lines[].panels[].nail"),
            checked("wall_lines[].panels[].edge_nailing"),
            checked("wall_lines[].panels[].field_nailing"),
            checked("wall_lines[].panels[].nails_flush"),
            checked("wall_lines[].panels[].joints_blocked"),
            checked("wall_lines[].panels[].foot"),
            checked("wall_lines[].panels[].nails_per_sill_block").when(Is("foot", &["sill_blocks"])),
            checked("wall_lines[].panels[].cut_through"),
            checked("wall_lines[].panels[].closes_stud_bays"),
            checked("wall_lines[].panels[].vent_holes"),
            also("wall_lines[].panels[].hold_down"),
        ],
    },
    Section {
        name: "connection",
        questions: &[
            checked("wall_lines[].connections").gives(&["from", "to"]),
            checked("wall_lines[].connections[].kind"),
            checked("wall_lines[].connections[].spacing").when(Unless("kind", &["nailed_blocks", "none"])),
            checked("wall_lines[].connections[].nails_per_block").when(Unless("kind", &["clips", "none"])),
            also("wall_lines[].connections[].nail").when(Unless("kind", &["clips", "none"])),
            also("wall_lines[].connections[].capacity").when(Is("kind", &["clips"])),
        ],
    },
    Section {
        name: "openings",
        questions: &[
            checked("wall_lines[].openings").gives(&["kind", "from", "to"]),
            checked("wall_lines[].openings[].top"),
            checked("wall_lines[].openings[].net_area").when(Is("kind", &["vent"])),
            checked("wall_lines[].unseen").gives(&["from", "to", "parts", "why"]),
            checked("wall_lines[].note"),
        ],
    },
    Section {
        name: "posts",
        questions: &[
            checked("posts").gives(&["count"]),
            checked("posts[].top"),
            checked("posts[].base"),
            checked("posts[].sound_and_plumb"),
            also("posts[].lean"),
            also("posts[].width"),
            also("posts[].height"),
            also("posts[].pad_width"),
            also("posts[].carried_area"),
            also("posts[].girder_span"),
        ],
    },
    Section {
        name: "distress",
        questions: &[
            checked("distress").gives(&["kind", "place"]),
            checked("distress[].size"),
            also("distress[].note"),
            also("surroundings.standing_water"),
            also("surroundings.roof_water_at_foundation"),
            also("surroundings.ground_falls_to_house"),
            also("surroundings.expansive_soil"),
            also("surroundings.shrinkage_cracks_in_soil"),
            also("surroundings.moves_with_seasons"),
            also("surroundings.trees_near"),
            also("surroundings.tree_removed"),
            also("surroundings.plumbing_leak"),
            also("surroundings.wood_on_soil"),
            also("surroundings.decay_or_insects"),
            also("surroundings.weak_posts"),
            also("surroundings.weak_framing"),
            also("surroundings.fill"),
            also("surroundings.undermined"),
            also("surroundings.slope_moves"),
            also("surroundings.addition"),
        ],
    },
    Section {
        name: "site",
        questions: &[
            checked("site.slope"),
            checked("site.seismic_category"),
            checked("site.s_ds"),
            also("site.s_d1"),
            also("site.s_s"),
            also("site.s_1"),
            also("site.site_class"),
            also("site.soil"),
            checked("site.fault_zone"),
            checked("site.liquefaction_zone"),
            checked("site.landslide_zone"),
            checked("note"),
        ],
    },
];

/// Places of the house file that nobody is asked for, each with the reason. A path stands for all that lies in it.
pub const NOT_ASKED: &[(&str, &str)] = &[
    ("format", "it is the same in every house file"),
    (
        "wall_lines[].foundation[].work",
        "it is a decision of the estimator and no observation",
    ),
    (
        "posts[].at",
        "like posts are counted together; where each of them stands is taken off a sketch afterwards",
    ),
    (
        "photos",
        "photographs are laid beside the house file afterwards, and named there by their files",
    ),
    (
        "surveys",
        "a floor level survey is taken above the floor, with an instrument and a sheet of readings of its own",
    ),
];

/// Every question, in order.
pub fn questions() -> impl Iterator<Item = &'static Question> + Clone {
    SECTIONS.iter().flat_map(|section| section.questions)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_place_is_asked_for_twice() {
        let mut paths: Vec<&str> = questions().map(|question| question.path).collect();
        let asked = paths.len();
        paths.sort_unstable();
        paths.dedup();
        assert_eq!(paths.len(), asked);
    }

    /// The items of a list are asked about right behind the list, or a session would lose its way.
    #[test]
    fn what_is_asked_of_an_item_follows_its_list() {
        let all: Vec<&Question> = questions().collect();
        for (position, question) in all.iter().enumerate() {
            let Some((list, _)) = question.path.rsplit_once("[].") else {
                continue;
            };
            let beneath = format!("{list}[]");
            let before = all[..position]
                .iter()
                .rposition(|other| !other.path.starts_with(&beneath));
            assert_eq!(before.map(|at| all[at].path), Some(list), "{}", question.path);
        }
    }
}
