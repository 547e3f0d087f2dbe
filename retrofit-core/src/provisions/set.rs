//! A set of provisions and the library of sets.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use include_dir::{Dir, include_dir};

use super::catalog::FigureName;
use super::figure::{Content, Figure, FigureId};
use super::load;
use super::requirement::Requirement;
use crate::house::WeightCase;
use crate::measure::Length;
use crate::observation::Observed;
use crate::table::{TableError, TableFile};

/// The tables shipped with the program, read by the same loader as a folder on disk.
static SHIPPED: Dir<'static> = include_dir!("$CARGO_MANIFEST_DIR/../tables");

/// Stories for which figures are resolved; the last stands for this many or more.
const MOST_STORIES: u8 = 4;

/// One set of provisions.
#[derive(Clone, Debug)]
pub struct Provisions {
    /// The name by which it is chosen.
    pub id: String,
    /// A title for readers.
    pub title: String,
    /// The document.
    pub document: String,
    /// Its edition.
    pub edition: String,
    /// Where it applies.
    pub jurisdiction: String,
    /// What it is, in a sentence or two.
    pub summary: String,
    /// Whether it is shipped for comparison and must not be used to judge an older house.
    pub comparison_only: bool,
    /// Notes for the reader.
    pub notes: Vec<String>,
    figures: Vec<Figure>,
    /// Stud heights at which a band ends; the last band is open.
    bands: Vec<Length>,
    /// One requirement for each of stories × weight × band, in that order.
    requirements: Vec<Requirement>,
}

impl Provisions {
    pub(super) fn new(head: load::Head, mut figures: Vec<Figure>) -> Self {
        // Narrower cases first, so that the first applicable row is the one that applies.
        figures.sort_by_key(|figure| {
            let case = figure.case;
            let breadth = usize::from(case.stories.is_none())
                + usize::from(case.weight.is_none())
                + usize::from(case.stud_over.is_none() && case.stud_up_to.is_none());
            (
                figure.name,
                breadth,
                case.stories,
                case.weight,
                case.diameter,
                case.piece_over,
                case.stud_over,
            )
        });
        let mut bands: Vec<Length> = figures
            .iter()
            .flat_map(|figure| [figure.case.stud_over, figure.case.stud_up_to])
            .flatten()
            .collect();
        bands.sort_unstable();
        bands.dedup();
        let mut requirements = Vec::new();
        for stories in 1..=MOST_STORIES {
            for weight in [WeightCase::Heavy, WeightCase::Other] {
                for band in 0..=bands.len() {
                    let (over, up_to) = (
                        band.checked_sub(1).and_then(|below| bands.get(below)),
                        bands.get(band),
                    );
                    requirements.push(Requirement::resolve(&figures, |figure| {
                        let case = figure.case;
                        case.stories.is_none_or(|of| of == stories)
                            && case.weight.is_none_or(|of| of == weight)
                            && case
                                .stud_over
                                .is_none_or(|least| over.is_some_and(|over| *over >= least))
                            && case
                                .stud_up_to
                                .is_none_or(|most| up_to.is_some_and(|up_to| *up_to <= most))
                    }));
                }
            }
        }
        Self {
            id: head.id,
            title: head.title,
            document: head.document,
            edition: head.edition,
            jurisdiction: head.jurisdiction,
            summary: head.summary,
            comparison_only: head.comparison_only,
            notes: head.notes,
            figures,
            bands,
            requirements,
        }
    }

    /// Every figure, in the order of the catalog.
    pub fn figures(&self) -> &[Figure] {
        &self.figures
    }

    /// A figure by its position.
    pub fn figure(&self, id: FigureId) -> Option<&Figure> {
        self.figures.get(usize::from(id.0))
    }

    /// What the set asks for in one case.
    pub fn requirement(&self, stories: u8, weight: WeightCase, band: usize) -> Option<&Requirement> {
        let stories = usize::from(stories.clamp(1, MOST_STORIES)) - 1;
        let bands = self.bands.len() + 1;
        self.requirements
            .get((stories * 2 + usize::from(weight == WeightCase::Other)) * bands + band)
    }

    /// Whether nothing is asked by any of some figures, in any case.
    pub(crate) fn leaves_open(&self, names: &[FigureName]) -> bool {
        self.figures
            .iter()
            .filter(|figure| names.contains(&figure.name))
            .all(|figure| matches!(figure.content, Content::None))
    }

    /// The stud height bands that a stud height can lie in: the first and the last.
    pub fn bands_of(&self, stud_height: &Observed<Length>) -> (usize, usize) {
        let band = |height: &Length| self.bands.iter().take_while(|end| height > end).count();
        let (least, most) = stud_height.bounds();
        (least.map_or(0, band), most.map_or(self.bands.len(), band))
    }

    /// The numbers of stories for which this set has figures of its own.
    pub fn stories(&self) -> std::ops::RangeInclusive<u8> {
        1..=MOST_STORIES
    }
}

/// All sets of provisions at hand: those shipped, and those a user adds.
#[derive(Clone, Debug, Default)]
pub struct Library {
    files: BTreeMap<String, Vec<TableFile>>,
    overlays: BTreeMap<String, Vec<TableFile>>,
}

impl Library {
    /// The set used when none is named: the only one whose key table was seen in the code's own text.
    pub const DEFAULT_SET: &'static str = "cebc-a3-2013";

    /// The sets shipped with the program.
    pub fn shipped() -> &'static Self {
        static LIBRARY: LazyLock<Library> = LazyLock::new(|| {
            let mut files = BTreeMap::new();
            // Folders without a head hold other tables: unit prices, for one.
            let is_set = |folder: &&Dir<'_>| folder.get_file(folder.path().join("set.json")).is_some();
            for folder in SHIPPED.dirs().filter(is_set) {
                let Some(id) = folder.path().to_str() else {
                    continue;
                };
                let mut tables: Vec<TableFile> = folder
                    .files()
                    .filter_map(|file| {
                        let path = file.path().to_str()?;
                        let name = path.rsplit('/').next()?;
                        Some(TableFile {
                            path: path.to_owned(),
                            name: name.to_owned(),
                            text: file.contents_utf8()?.to_owned(),
                        })
                    })
                    .collect();
                tables.sort_by(|a, b| a.name.cmp(&b.name));
                files.insert(id.to_owned(), tables);
            }
            Library {
                files,
                overlays: BTreeMap::new(),
            }
        });
        &LIBRARY
    }

    /// Adds a user's folders: each is a set of its own, or overrides and attests figures of a shipped set of
    /// the same name. The folders are read and checked when a set is asked for by [`Library::set`].
    pub fn add_folder(&mut self, id: &str, files: Vec<TableFile>) {
        self.overlays.insert(id.to_owned(), files);
    }

    /// The names of all sets.
    pub fn ids(&self) -> Vec<&str> {
        let mut ids: Vec<&str> = self
            .files
            .keys()
            .chain(self.overlays.keys())
            .map(String::as_str)
            .collect();
        ids.sort_unstable();
        ids.dedup();
        ids
    }

    /// Reads one set. The error lists every fault of its tables, each with file, line and column.
    pub fn set(&self, id: &str) -> Result<Provisions, Vec<TableError>> {
        let (head, figures) = self.read(id, &mut Vec::new())?;
        Ok(Provisions::new(head, figures))
    }

    fn read(&self, id: &str, chain: &mut Vec<String>) -> Result<(load::Head, Vec<Figure>), Vec<TableError>> {
        if chain.iter().any(|seen| seen == id) {
            return Err(vec![TableError::set(
                id,
                format!("the set extends itself: {} → {id}", chain.join(" → ")),
            )]);
        }
        let shipped = self.files.get(id);
        let overlay = self.overlays.get(id);
        let Some(base) = shipped.or(overlay) else {
            let near = crate::choice::nearest(id, self.ids().iter().copied())
                .map_or_else(String::new, |near| format!("; did you mean {near:?}?"));
            let extended_by = chain.last().map_or_else(String::new, |child| {
                format!(", which {child:?} extends in its set.json")
            });
            return Err(vec![TableError::set(
                id,
                format!(
                    "there is no set of provisions of this name{extended_by}; the sets are {}{near}",
                    self.ids().join(", ")
                ),
            )]);
        };
        chain.push(id.to_owned());
        let mut set = load::read_set(id, base)?;
        if let Some(parent) = set.head.extends.take() {
            let (_, inherited) = self.read(&parent, chain)?;
            set.figures = load::overlay(inherited, set.figures);
        }
        if let (Some(_), Some(files)) = (shipped, overlay) {
            let over = load::read_overlay(id, files, set.head)?;
            set.head = over.head;
            set.figures = load::overlay(set.figures, over.figures);
            set.attested.extend(over.attested);
        }
        load::refuse_contradictions(id, &set.figures)?;
        load::attest(&mut set)?;
        Ok((set.head, set.figures))
    }
}
