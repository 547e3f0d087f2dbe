//! Home-energy files in HPXML, an open standard: what they say of a house's foundation and shape, as lines of our columns.
//!
//! The standard holds no anchor, no bracing and no sill; of those a row says nothing, and nothing is unknown. What it
//! holds was told by whoever made the file, so that a row is *reported*. Names of elements and their words: those of the
//! published schema, seen in public programs that check files by it. That brick and stone veneer is masonry and that a roof
//! of concrete is one of tile is our reading.

use std::collections::BTreeSet;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use retrofit_core::portfolio::{ColumnMap, ColumnRule, Translator};
use roxmltree::{Document, Node};

use super::table::Output;
use crate::input::{Origin, read_text};
use crate::triage::{BadRow, ReadSoFar, Rows, TriageError};

/// The largest file that is read: a house takes some hundred kilobytes.
const LARGEST_FILE: u64 = 64 << 20;

/// What is read of a building, by the columns of the rows that [`cells_of`] makes.
const FIELDS: [&str; 11] = [
    "id",
    "year built",
    "stories",
    "floor area",
    "siding",
    "roof",
    "foundation type",
    "foundation wall",
    "thickness",
    "longitude",
    "latitude",
];

/// The buildings of a file as rows.
#[derive(Debug)]
pub(super) struct HomeRows {
    out: Output,
    bad: Vec<BadRow>,
    read_so_far: ReadSoFar,
}

impl HomeRows {
    pub(super) fn open(path: &Path) -> Result<Self, TriageError> {
        let refuse = |problem: String| TriageError::read(path, io::Error::other(problem));
        let text = read_text(&Origin::from(path), LARGEST_FILE)
            .map_err(|error| TriageError::Text(Box::new(error)))?;
        let document = Document::parse(text.trim_start_matches('\u{feff}'))
            .map_err(|error| refuse(format!("found text that is no XML ({error})")))?;
        let root = document.root_element();
        if root.tag_name().name() != "HPXML" {
            return Err(refuse(format!(
                "found the element {:?}; expected HPXML",
                root.tag_name().name()
            )));
        }
        let map = ours();
        let mut translator = map.compile(&FIELDS).map_err(|fault| refuse(fault.to_string()))?;
        let mut rows = Self::of(path, root, &mut translator);
        rows.read_so_far.add(text.as_bytes());
        Ok(rows)
    }

    fn of(path: &Path, root: Node<'_, '_>, translator: &mut Translator) -> Self {
        let mut out = Output::of(translator);
        let mut bad = Vec::new();
        for (number, building) in children(root, "Building").enumerate() {
            let cells = cells_of(building);
            let cell = |position: usize| cells.get(position).map_or("", String::as_str);
            if let Err(fault) = translator.translate(cell, &mut out.bytes) {
                bad.push(BadRow {
                    file: PathBuf::from(path),
                    line: u64::try_from(number).unwrap_or(u64::MAX).saturating_add(1),
                    column: Some(fault.column),
                    problem: fault.problem,
                });
                out.bytes.push(b'\n');
            }
        }
        Self {
            out,
            bad,
            read_so_far: ReadSoFar::default(),
        }
    }
}

impl Read for HomeRows {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        self.out.read(buffer)
    }
}

impl Rows for HomeRows {
    fn bad_rows(&mut self, bad: &mut Vec<BadRow>) {
        bad.append(&mut self.bad);
    }

    fn read_so_far(&self) -> &ReadSoFar {
        &self.read_so_far
    }
}

/// How the fields become our columns.
fn ours() -> ColumnMap {
    let several = |rule: ColumnRule| ColumnRule {
        separator: Some(";".to_owned()),
        ..rule
    };
    let slab = several(ColumnRule::from(["foundation type"])).coded([
        ("SlabOnGrade", "yes"),
        ("Crawlspace", "no"),
        ("Basement", "no"),
        ("Ambient", ""),
        ("AboveApartment", ""),
        ("Combination", ""),
        ("Garage", ""),
        ("RubbleStone", ""),
        ("Other", ""),
    ]);
    ColumnMap::new("HPXML")
        .with("id", ColumnRule::from(["id"]))
        .with("year_built", ColumnRule::from(["year built"]))
        .with("stories", ColumnRule::from(["stories"]).or_unknown())
        .with("floor_area", ColumnRule::from(["floor area"]).in_unit("sq ft"))
        .with(
            "exterior",
            several(ColumnRule::from(["siding"]))
                .coded([
                    ("wood siding", "wood"),
                    ("stucco", "stucco"),
                    ("brick veneer", "masonry"),
                    ("stone veneer", "masonry"),
                ])
                .or_unknown(),
        )
        .with(
            "roof",
            several(ColumnRule::from(["roof"]))
                .coded([
                    ("asphalt or fiberglass shingles", "light"),
                    ("wood shingles or shakes", "light"),
                    ("shingles", "light"),
                    ("metal surfacing", "light"),
                    ("slate or tile shingles", "tile"),
                    ("concrete", "tile"),
                ])
                .or_unknown(),
        )
        .with(
            "slab_or_pole_portion",
            ColumnRule {
                worst_first: vec!["yes".into(), "no".into()],
                ..slab
            }
            .or_unknown(),
        )
        .with(
            "foundation_kind",
            several(ColumnRule::from(["foundation wall"]))
                .coded([
                    ("solid concrete", "concrete"),
                    ("concrete block", "block"),
                    ("concrete block foam core", "block"),
                    ("concrete block vermiculite core", "block"),
                    ("concrete block perlite core", "block"),
                    ("concrete block solid core", "block"),
                    ("double brick", "brick"),
                    ("wood", ""),
                ])
                .or_unknown(),
        )
        .with(
            "stem_thickness",
            ColumnRule::from(["thickness"]).in_unit("in").or_unknown(),
        )
        .with("x_foundation_type", ColumnRule::from(["foundation type"]))
        .with("longitude", ColumnRule::from(["longitude"]))
        .with("latitude", ColumnRule::from(["latitude"]))
}

/// The cells of a building, in the order of [`FIELDS`].
fn cells_of(building: Node<'_, '_>) -> [String; FIELDS.len()] {
    let one = |path: &[&str]| {
        let mut node = Some(building);
        for name in path {
            node = node.and_then(|node| children(node, name).next());
        }
        node.and_then(|node| node.text())
            .unwrap_or_default()
            .trim()
            .to_owned()
    };
    let construction = |name| one(&["BuildingDetails", "BuildingSummary", "BuildingConstruction", name]);
    let site = |name| one(&["BuildingDetails", "BuildingSummary", "Site", name]);
    let enclosure = || {
        let details = children(building, "BuildingDetails");
        details.flat_map(|details| children(details, "Enclosure"))
    };
    let named = |element: &str| -> Vec<Node<'_, '_>> {
        let inside = enclosure().flat_map(|enclosure| enclosure.descendants().collect::<Vec<_>>());
        inside.filter(|node| node.tag_name().name() == element).collect()
    };
    let texts = |element: &str, part: &str| -> Vec<String> {
        let parts = named(element).into_iter().map(|node| {
            let part = children(node, part).next().and_then(|part| part.text());
            part.unwrap_or_default().trim().to_owned()
        });
        parts.collect()
    };
    // A wall that does not say what it is made of may be anything: only if all say so they are taken together.
    let all = |texts: Vec<String>| -> String {
        if texts.iter().any(String::is_empty) {
            return String::new();
        }
        let different: BTreeSet<String> = texts.into_iter().collect();
        different.into_iter().collect::<Vec<_>>().join(";")
    };
    let foundations = named("FoundationType").into_iter().filter_map(|kind| {
        let element = kind.children().find(Node::is_element)?;
        Some(element.tag_name().name().to_owned())
    });
    // The stem is as thick as its walls where they are all alike; otherwise its thickness is not known.
    let thickness = all(texts("FoundationWall", "Thickness"));
    let id = children(building, "BuildingID")
        .next()
        .and_then(|id| id.attribute("id"))
        .unwrap_or_default()
        .to_owned();
    [
        id,
        construction("YearBuilt"),
        construction("NumberofConditionedFloorsAboveGrade"),
        construction("ConditionedFloorArea"),
        all(texts("Wall", "Siding")),
        all(texts("Roof", "RoofType")),
        all(foundations.collect()),
        all(texts("FoundationWall", "Type")),
        thickness,
        site_coordinate(&site("Longitude")),
        site_coordinate(&site("Latitude")),
    ]
}

/// A coordinate of the site, of which only a number is handed on.
fn site_coordinate(text: &str) -> String {
    let is_number = text.parse::<f64>().is_ok_and(f64::is_finite);
    if is_number { text.to_owned() } else { String::new() }
}

fn children<'a, 'input>(node: Node<'a, 'input>, name: &str) -> impl Iterator<Item = Node<'a, 'input>> {
    node.children()
        .filter(move |child| child.is_element() && child.tag_name().name() == name)
}
