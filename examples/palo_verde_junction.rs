//! The invented portfolio of Palo Verde Junction: houses that nobody lives in, drawn from a fixed seed.
//!
//! Its faults are those of real tables: years left blank or filled with 1900, units mixed from row to row,
//! rows that stand twice, and far more blanks under the floor than above it. No share or distribution in it
//! describes a real place.

use std::io::{self, Write};

use oorandom::Rand32;

/// The seed of the portfolio that is checked in.
pub(crate) const SEED: u64 = 1906;

/// The number of its rows.
pub(crate) const ROWS: usize = 5_000;

/// The columns of the portfolio.
pub(crate) const COLUMNS: [&str; 59] = [
    "id",
    "region",
    "district",
    "known_by",
    "year_built",
    "stories",
    "units",
    "floor_area",
    "exterior",
    "interior_plaster",
    "roof",
    "slope",
    "veneer_height",
    "floors_at_one_level",
    "rooms_over_garage",
    "slab_or_pole_portion",
    "continuous_perimeter",
    "earlier_retrofit",
    "crawl_space_area",
    "vent_area",
    "posts_top",
    "posts_base",
    "wall_length",
    "joists",
    "rim",
    "foundation_kind",
    "foundation_condition",
    "sill_pieces",
    "sill_soundness",
    "sill_installed",
    "anchors",
    "anchor_spacing",
    "anchor_end_distance",
    "anchor_kind",
    "anchor_diameter",
    "anchor_washer",
    "anchor_tightness",
    "anchor_corrosion",
    "cripple_wall",
    "cripple_wall_height",
    "tallest_stud",
    "top_plate",
    "panels",
    "braced_length",
    "braced_at_each_end",
    "shortest_panel",
    "sheathing",
    "sheathing_thickness",
    "panel_nail",
    "edge_nailing",
    "field_nailing",
    "nails_flush",
    "joints_blocked",
    "panel_foot",
    "panel_cut_through",
    "panels_close_bays",
    "floor_connection",
    "connection_spacing",
    "nails_per_block",
];

/// The columns of context: where the houses stand, and what they are worth. The place is open sea.
pub(crate) const CONTEXT: [&str; 5] = [
    "latitude",
    "longitude",
    "climate_zone",
    "replacement_value",
    "peak_ground_acceleration",
];

/// All columns of the portfolio that is checked in.
#[allow(dead_code, reason = "the benchmark has no use for context")]
pub(crate) fn all_columns() -> Vec<&'static str> {
    [&COLUMNS[..], &CONTEXT].concat()
}

/// Three invented regions and their invented districts.
const REGIONS: [(&str, [&str; 3]); 3] = [
    ("Alder Flats", ["Millrace", "Orchard Steps", "Tin Bridge"]),
    ("Quince Valley", ["Lower Quince", "Upper Quince", "Lantern Hill"]),
    ("Saltmarsh Point", ["Ropewalk", "Heron Row", "Old Jetty"]),
];

/// What has been done for a house, and how well it was looked at.
#[derive(Clone, Copy, PartialEq)]
enum Story {
    /// Strengthened by the provisions, and recorded in full.
    Strengthened,
    /// Strengthened long ago, with something missing.
    HalfDone,
    /// As it was built.
    AsBuilt,
    /// Seen from the sidewalk only.
    FromTheStreet,
}

/// How the houses of a portfolio were looked at.
#[derive(Clone, Copy, PartialEq)]
#[allow(dead_code, reason = "not every program writes all")]
pub(crate) enum Seen {
    /// Some from the street, three quarters from below, some well and some not.
    Variously,
    /// One in ten from below, the others from the street: an extract in which anchors and bracing are mostly blank.
    MostlyFromTheStreet,
    /// All from the street.
    FromTheStreet,
}

/// Writes a header and so many rows with the given columns.
pub(crate) fn write(
    rows: usize,
    how: Seen,
    seed: u64,
    columns: &[&str],
    out: &mut impl Write,
) -> io::Result<()> {
    let mut draw = Draw(Rand32::new(seed));
    writeln!(out, "{}", columns.join(","))?;
    let mut row = String::new();
    for number in 1..=rows {
        // One row in fifty stands twice, as rows do in tables put together from several.
        if row.is_empty() || !draw.one_in(50) {
            let cells = house(number, how, &mut draw);
            row.clear();
            for (position, column) in columns.iter().enumerate() {
                let cell = cells
                    .iter()
                    .find(|(name, _)| name == column)
                    .map_or("", |(_, cell)| cell);
                if position > 0 {
                    row.push(',');
                }
                if cell.contains(['"', ',']) {
                    row.push('"');
                    row.push_str(&cell.replace('"', "\"\""));
                    row.push('"');
                } else {
                    row.push_str(cell);
                }
            }
            row.push('\n');
        }
        out.write_all(row.as_bytes())?;
    }
    Ok(())
}

struct Draw(Rand32);

impl Draw {
    fn below(&mut self, end: u32) -> u32 {
        self.0.rand_range(0..end)
    }

    fn percent(&mut self, chance: u32) -> bool {
        self.below(100) < chance
    }

    fn one_in(&mut self, many: u32) -> bool {
        self.below(many) == 0
    }

    #[expect(
        clippy::indexing_slicing,
        reason = "the number drawn is below the length of the list"
    )]
    fn of<T: Copy>(&mut self, list: &[T]) -> T {
        list[self.below(u32::try_from(list.len()).unwrap_or(1)) as usize]
    }

    /// A length as one person or another writes it.
    fn inches(&mut self, inches: u32) -> String {
        match self.below(10) {
            0..=4 => format!("{inches} in"),
            5..=7 if inches.is_multiple_of(12) => format!("{} ft", inches / 12),
            5..=8 => format!("{}'-{}\"", inches / 12, inches % 12),
            // A tenth of a millimeter holds every whole inch exactly: 25.4 mm.
            _ => format!("{}.{} mm", inches * 254 / 10, inches * 254 % 10),
        }
    }
}

type Cells = Vec<(&'static str, String)>;

fn house(number: usize, how: Seen, draw: &mut Draw) -> Cells {
    // Of a hundred houses seen variously, 75 were looked at from below.
    let of = if how == Seen::MostlyFromTheStreet { 75 } else { 100 };
    let story = match draw.below(of) {
        _ if how == Seen::FromTheStreet => Story::FromTheStreet,
        _ if how == Seen::MostlyFromTheStreet && !number.is_multiple_of(10) => Story::FromTheStreet,
        0..=13 => Story::Strengthened,
        14..=33 => Story::HalfDone,
        34..=74 => Story::AsBuilt,
        _ => Story::FromTheStreet,
    };
    // How likely a cell that an observer could have filled is left blank.
    let blank = match story {
        Story::Strengthened => 0,
        Story::HalfDone => 12,
        Story::AsBuilt => 25,
        Story::FromTheStreet => 15,
    };
    let mut cells: Cells = Vec::with_capacity(COLUMNS.len());
    let (region, districts) = draw.of(&REGIONS);
    cells.push(("id", format!("PVJ-{number:06}")));
    cells.push(("region", region.to_owned()));
    cells.push(("district", draw.of(&districts).to_owned()));
    let known_by = match story {
        Story::Strengthened => "measured",
        Story::FromTheStreet => "reported",
        _ => draw.of(&["", "seen", "measured"]),
    };
    cells.push(("known_by", known_by.to_owned()));
    let year = match draw.below(100) {
        0..=11 => String::new(),
        12..=15 => "1900".to_owned(),
        _ => (1895 + draw.below(70)).to_string(),
    };
    cells.push(("year_built", year));
    let stories = above_the_floor(story, blank, draw, &mut cells);
    if story != Story::FromTheStreet {
        below_the_floor(story, blank, stories, draw, &mut cells);
    }
    // Context has draws of its own, so that what is under the floor does not hang on it.
    context(&mut Draw(Rand32::new(SEED << 32 | number as u64)), &mut cells);
    cells
}

/// Where a house stands, what shaking is to be reckoned with there, and what it would cost to build anew.
fn context(draw: &mut Draw, cells: &mut Cells) {
    let region = cells.iter().find(|(name, _)| *name == "region");
    let at = REGIONS
        .iter()
        .position(|(name, _)| region.is_some_and(|(_, region)| region == name));
    let (latitude, longitude, zone, shaking) = match at {
        Some(0) => (3790, 12690, "3C", 45),
        Some(1) => (3760, 12640, "3B", 32),
        _ => (3830, 12720, "4C", 60),
    };
    let latitude = latitude * 1000 + draw.below(18_000);
    let longitude = longitude * 1000 + draw.below(22_000);
    if !draw.percent(4) {
        cells.push((
            "latitude",
            format!("{}.{:05}", latitude / 100_000, latitude % 100_000),
        ));
        cells.push((
            "longitude",
            format!("-{}.{:05}", longitude / 100_000, longitude % 100_000),
        ));
    }
    put(cells, draw, 3, "climate_zone", zone);
    let value = 150_000 + 500 * draw.below(1400);
    put(cells, draw, 15, "replacement_value", value.to_string());
    let shaking = shaking - 12 + draw.below(25);
    put(
        cells,
        draw,
        10,
        "peak_ground_acceleration",
        format!("0.{shaking:02}"),
    );
}

/// Adds a cell, or leaves it blank.
fn put(cells: &mut Cells, draw: &mut Draw, blank: u32, name: &'static str, cell: impl Into<String>) {
    if !draw.percent(blank) {
        cells.push((name, cell.into()));
    }
}

fn yes(answer: bool) -> &'static str {
    if answer { "yes" } else { "no" }
}

fn above_the_floor(story: Story, blank: u32, draw: &mut Draw, cells: &mut Cells) -> u32 {
    let good = story == Story::Strengthened;
    let stories = if draw.percent(70) { 1 } else { 2 };
    let half = stories == 1 && !good && draw.percent(10);
    let text = if half {
        "1.5".to_owned()
    } else {
        stories.to_string()
    };
    put(cells, draw, blank / 3, "stories", text);
    let units = if good || draw.percent(92) { "1" } else { "2" };
    put(cells, draw, blank / 3, "units", units);
    let area = 700 + 10 * draw.below(180);
    put(cells, draw, blank, "floor_area", format!("{area} sq ft"));
    let exterior = draw.of(&["wood", "wood", "stucco", "light_board", "masonry"]);
    let exterior = if good && exterior == "masonry" {
        "wood"
    } else {
        exterior
    };
    put(cells, draw, blank / 2, "exterior", exterior);
    let plaster = draw.percent(40);
    put(cells, draw, blank, "interior_plaster", yes(plaster));
    let roof = draw.of(&["light", "light", "light", "tile", "gravel"]);
    put(cells, draw, blank / 2, "roof", roof);
    let slope = draw.of(&[
        "flat", "flat", "2 %", "2 %", "3 %", "5 %", "5 %", "20H:1V", "12H:1V", "2H:1V",
    ]);
    let slope = if good && slope == "2H:1V" { "5 %" } else { slope };
    put(cells, draw, blank, "slope", slope);
    let veneer = if exterior == "masonry" {
        12 * (3 + draw.below(8))
    } else {
        0
    };
    let veneer = draw.inches(veneer);
    put(cells, draw, blank, "veneer_height", veneer);
    for (name, is_usual, usual) in [
        ("floors_at_one_level", 97, true),
        ("rooms_over_garage", 96, false),
        ("slab_or_pole_portion", 97, false),
    ] {
        let answer = if good || draw.percent(is_usual) {
            usual
        } else {
            !usual
        };
        put(cells, draw, blank, name, yes(answer));
    }
    stories
}

fn below_the_floor(story: Story, blank: u32, stories: u32, draw: &mut Draw, cells: &mut Cells) {
    let good = story == Story::Strengthened;
    let worked_on = story != Story::AsBuilt;
    let perimeter = good || draw.percent(96);
    put(cells, draw, blank, "continuous_perimeter", yes(perimeter));
    put(cells, draw, blank, "earlier_retrofit", yes(worked_on));
    let crawl = 600 + 10 * draw.below(90);
    put(cells, draw, blank, "crawl_space_area", format!("{crawl} sq ft"));
    let vents = if good { crawl / 100 } else { draw.below(12) };
    put(cells, draw, blank, "vent_area", format!("{vents} sq ft"));
    let post = if good {
        "connected"
    } else {
        draw.of(&["connected", "toenailed", "bearing"])
    };
    put(cells, draw, blank, "posts_top", post);
    let post = if good {
        "connected"
    } else {
        draw.of(&["connected", "nailed_block", "bearing", "loose"])
    };
    put(cells, draw, blank, "posts_base", post);

    let length = 12 * (18 + draw.below(31));
    let text = draw.inches(length);
    put(cells, draw, blank / 3, "wall_length", text);
    let joists = draw.of(&["parallel", "perpendicular"]);
    put(cells, draw, blank, "joists", joists);
    let rim = if good {
        "continuous"
    } else {
        draw.of(&["continuous", "every_bay", "alternate_bays", "none"])
    };
    put(cells, draw, blank, "rim", rim);
    let kind_of_old = |draw: &mut Draw| match draw.below(100) {
        0..=77 => "concrete",
        78..=87 => "block",
        88..=93 => "brick",
        94..=97 => "posts",
        _ => "stone",
    };
    let kind = if good { "concrete" } else { kind_of_old(draw) };
    put(cells, draw, blank / 2, "foundation_kind", kind);
    let condition = if good {
        "sound"
    } else {
        draw.of(&["sound", "sound", "cracked", "crumbling", "displaced"])
    };
    put(cells, draw, blank / 2, "foundation_condition", condition);
    // A sill is described by its pieces: where their number is not known its wood is not told of either.
    if good || draw.percent(60) {
        let pieces = if good { 1 } else { 1 + draw.below(3) };
        let is_length_known = cells.iter().any(|(name, _)| *name == "wall_length");
        let pieces = if is_length_known { pieces } else { 1 };
        cells.push(("sill_pieces", pieces.to_string()));
        let wood = if good {
            "sound"
        } else {
            draw.of(&["sound", "sound", "sound", "split", "decayed", "insects"])
        };
        put(cells, draw, blank, "sill_soundness", wood);
        let installed = if good || draw.percent(85) {
            "original"
        } else {
            "added"
        };
        put(cells, draw, blank, "sill_installed", installed);
    }
    anchors(story, blank, stories, draw, cells);
    if !good && draw.percent(20) {
        put(cells, draw, blank, "cripple_wall", "no");
    } else {
        cripple_wall(story, blank, stories, length, draw, cells);
    }
    let connection = if good {
        "clips"
    } else {
        draw.of(&["toenails", "toenails", "clips", "none"])
    };
    put(cells, draw, blank, "floor_connection", connection);
    let spacing = if good { 16 } else { draw.of(&[6, 8, 16, 32, 48]) };
    let spacing = draw.inches(spacing);
    put(cells, draw, blank, "connection_spacing", spacing);
    let nails = draw.of(&["2", "3", "4"]);
    put(cells, draw, blank, "nails_per_block", nails);
}

fn anchors(story: Story, blank: u32, stories: u32, draw: &mut Draw, cells: &mut Cells) {
    let good = story == Story::Strengthened;
    if story == Story::AsBuilt && draw.percent(55) {
        put(cells, draw, blank, "anchors", "no");
        return;
    }
    let spacing = if good {
        if stories == 1 { 72 } else { 48 }
    } else {
        12 * (3 + draw.below(7))
    };
    let spacing = draw.inches(spacing);
    put(cells, draw, blank, "anchor_spacing", spacing);
    let end = if good {
        9 + draw.below(4)
    } else {
        4 + draw.below(20)
    };
    let end = draw.inches(end);
    put(cells, draw, blank, "anchor_end_distance", end);
    let kind = if good {
        draw.of(&["cast_in_place", "adhesive", "expansion"])
    } else {
        draw.of(&[
            "cast_in_place",
            "cast_in_place",
            "expansion",
            "powder_driven",
            "strap",
            "side_plate",
        ])
    };
    put(cells, draw, blank, "anchor_kind", kind);
    let diameter = if good {
        draw.of(&["1/2 in", "5/8 in"])
    } else {
        draw.of(&["3/8 in", "1/2 in", "5/8 in"])
    };
    put(cells, draw, blank, "anchor_diameter", diameter);
    let plate = "3 in x 3 in x 0.229 in";
    let washer = if good {
        plate
    } else {
        draw.of(&[plate, "2 in x 2 in x 3/16 in", "cut", "cut", "none"])
    };
    put(cells, draw, blank, "anchor_washer", washer);
    let tightness = if good {
        "snug"
    } else {
        draw.of(&["snug", "snug", "loose", "missing"])
    };
    put(cells, draw, blank, "anchor_tightness", tightness);
    let corrosion = if good {
        "light"
    } else {
        draw.of(&["light", "light", "scaling", "wasted"])
    };
    put(cells, draw, blank, "anchor_corrosion", corrosion);
}

fn cripple_wall(story: Story, blank: u32, stories: u32, length: u32, draw: &mut Draw, cells: &mut Cells) {
    let good = story == Story::Strengthened;
    let stud = if good {
        16 + draw.below(9)
    } else {
        10 + draw.below(56)
    };
    cells.push(("cripple_wall", "yes".to_owned()));
    // Two plates of 1 1/2 in above and a sill of 1 1/2 in below come to 4 1/2 in; a whole number beyond it.
    let height = draw.inches(stud + 5);
    put(cells, draw, blank, "cripple_wall_height", height);
    let stud = draw.inches(stud);
    put(cells, draw, blank, "tallest_stud", stud);
    let plate = if good {
        "double"
    } else {
        draw.of(&["double", "double", "double_loose", "single"])
    };
    put(cells, draw, blank, "top_plate", plate);
    if story == Story::AsBuilt && draw.percent(80) {
        put(cells, draw, blank, "panels", "no");
        return;
    }
    // Eight tenths is the most that any number of stories up to two asks for.
    let braced = if good {
        length * (6 + stories) / 10 + 12
    } else {
        length * draw.below(10) / 10
    };
    let braced = braced.min(length);
    let total = draw.inches(braced);
    put(cells, draw, blank, "braced_length", total);
    let ends = good || draw.percent(60);
    put(cells, draw, blank, "braced_at_each_end", yes(ends));
    let shortest = if good { 60 } else { 24 + draw.below(48) };
    // No panel is longer than all of them together.
    let shortest = draw.inches(shortest.min(braced));
    put(cells, draw, blank, "shortest_panel", shortest);
    let sheathing = if good {
        "plywood"
    } else {
        draw.of(&["plywood", "plywood", "osb", "horizontal_boards", "stucco"])
    };
    put(cells, draw, blank, "sheathing", sheathing);
    let thickness = if good {
        "15/32 in"
    } else {
        draw.of(&["3/8 in", "15/32 in", "1/2 in", "19/32 in"])
    };
    put(cells, draw, blank, "sheathing_thickness", thickness);
    let nail = if good {
        "8d common"
    } else {
        draw.of(&["8d common", "8d box", "6d common", "8d sinker"])
    };
    put(cells, draw, blank, "panel_nail", nail);
    let edge = if good { 4 } else { draw.of(&[3, 4, 6, 8]) };
    let edge = draw.inches(edge);
    put(cells, draw, blank, "edge_nailing", edge);
    let field = draw.inches(12);
    put(cells, draw, blank, "field_nailing", field);
    for (name, is_usual, usual) in [
        ("nails_flush", 75, true),
        ("joints_blocked", 80, true),
        ("panels_close_bays", 85, false),
        ("panel_cut_through", 85, false),
    ] {
        let answer = if good || draw.percent(is_usual) {
            usual
        } else {
            !usual
        };
        put(cells, draw, blank, name, yes(answer));
    }
    let foot = if good {
        "sill"
    } else {
        draw.of(&["sill", "sill", "sill_blocks", "short"])
    };
    put(cells, draw, blank, "panel_foot", foot);
}
