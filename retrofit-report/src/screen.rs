//! The engineering screen of a house as a report shows it: one value from which every format is rendered.
//!
//! [`ScreenReport::new`] puts what the core computed into words once. Nothing is computed here: demands, capacities,
//! ranges, ladders and derivations are those of [`retrofit_core::screen`]. Numbers for a reader are rounded to what a
//! screen is good for; exact ones stand beside them for a machine.

mod amount;
mod explain;
pub(crate) mod ladder;
mod link;
mod side_by_side;
mod tree;
mod words;
mod working;

#[cfg(test)]
mod tests;

use retrofit_core::check::Ruling;
use retrofit_core::choice::Choice;
use retrofit_core::house::AsBuilt;
use retrofit_core::provisions::Standing;
use retrofit_core::screen::{
    Declined, Direction, DirectionScreen, Edition, LineScreen, LinkKind, Method, Options, Path, Screen,
    UnknownKind,
};
use schemars::JsonSchema;
use serde::Serialize;

use crate::result::ReportInfo;
use crate::result::wording::{self, plain, sentence_case};
use working::Workings;

pub use amount::{Amount, Units};
pub use explain::{Asked, ExplainError, Explanation, explain, explainable};
pub use link::{FallsShort, LinkRow, LinkState, Margin, RatioRange, ShakingRange};
pub use side_by_side::{ComparedLine, ComparedLink, ComparedNumber, ScreensFormat, ScreensReport};
pub(crate) use tree::Trees;
pub(crate) use words::not_screened;
pub use working::{Source, SourceKind, WorkLine};

/// The version of the format of a screen.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub enum ScreenFormat {
    /// The first published format.
    #[default]
    #[serde(rename = "screen-1")]
    Screen1,
}

/// The engineering screen of a house: everything that is shown of it.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(title = "Engineering screen of a house")]
pub struct ScreenReport {
    /// The version of this format: always `screen-1`.
    pub format: ScreenFormat,
    /// The version of the program that wrote it.
    pub program_version: String,
    /// The name of the input file.
    pub input_file: String,
    /// The SHA-256 of the input.
    pub input_sha256: String,
    /// The name of the house.
    pub house: String,
    /// What it is, and what it is not.
    pub title: &'static str,
    /// How the load path of the house stands.
    pub standing: PathStanding,
    /// What a reader must know before anything else.
    pub warnings: Vec<String>,
    /// The design method.
    pub method: MethodUsed,
    /// The editions it was computed by.
    pub editions: Vec<EditionUsed>,
    /// What was found; null where the house is not screened, and then `standing` says why.
    pub found: Option<Found>,
    /// To whom the reader has to turn.
    pub deferral: &'static str,
    /// What to mind in a crawl space.
    pub cautions: Vec<&'static str>,
}

/// How a load path stands.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PathStanding {
    /// How it stands.
    pub path: PathState,
    /// The ruling with whose mark and color it is shown.
    pub mark: Ruling,
    /// The same for a heading.
    pub headline: String,
    /// What it means for the reader.
    pub meaning: String,
}

/// How a load path stands, for a machine.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum PathState {
    /// A link surely falls short.
    Short,
    /// A link falls short at one end of what it can be.
    MayBeShort,
    /// A link was not determined, and no other surely falls short.
    NotDetermined,
    /// Every link reaches its demand at both ends of what it can be.
    Reaches,
    /// The house is not screened.
    Declined,
}

impl PathState {
    /// It as a table says it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Short => "falls short",
            Self::MayBeShort => "may fall short",
            Self::NotDetermined => "not determined",
            Self::Reaches => "reaches its demand",
            Self::Declined => "not screened",
        }
    }

    /// The ruling with whose mark and color it is shown.
    pub const fn mark(self) -> Ruling {
        match self {
            Self::Short => Ruling::NotMet,
            Self::MayBeShort | Self::NotDetermined => Ruling::NotDetermined,
            Self::Reaches => Ruling::Met,
            Self::Declined => Ruling::Outside,
        }
    }
}

impl From<Path> for PathState {
    fn from(path: Path) -> Self {
        match path {
            Path::Short => Self::Short,
            Path::MayBeShort => Self::MayBeShort,
            Path::NotDetermined => Self::NotDetermined,
            Path::Reaches => Self::Reaches,
        }
    }
}

/// How it was computed.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct MethodUsed {
    /// `asd` or `lrfd`.
    pub id: &'static str,
    /// The method in words.
    pub words: &'static str,
    /// The redundancy factor that was asked for; null where it counts as not known.
    pub redundancy: Option<f64>,
    /// Whether forces are reduced as for an existing building.
    pub reduced: bool,
}

/// An edition of a standard.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct EditionUsed {
    /// The name by which it is chosen.
    pub id: String,
    /// The document with its edition.
    pub name: String,
    /// The edition that has taken its place; null where none has.
    pub superseded_by: Option<String>,
    /// Notes, among them what was not seen of it.
    pub notes: Vec<String>,
}

/// What a screen found.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Found {
    /// The design acceleration of the site; null where it is not known.
    pub shaking: Option<Shown>,
    /// Why the shaking of the site is not known; empty where it is. The ladder means something all the same.
    pub shaking_unknown: String,
    /// What was taken for granted because the record does not say.
    pub granted: Vec<&'static str>,
    /// What was not known, so that results are ranges.
    pub unknowns: Vec<&'static str>,
    /// The weight, part by part.
    pub weights: Vec<WeightRow>,
    /// The whole weight.
    pub weight: Shown,
    /// Both directions of shaking.
    pub directions: Vec<DirectionRow>,
    /// Whether the plan was taken apart into rectangles.
    pub has_parts: bool,
    /// The wall lines.
    pub lines: Vec<LinePart>,
    /// The links of the house as a whole: sliding in both directions, posts.
    pub of_house: Vec<LinkRow>,
    /// What goes first: every link that has a level of shaking, the one that goes first at the head.
    pub ladder: Vec<Rung>,
    /// How many figures and equations came with each standing.
    pub standings: Vec<StandingCount>,
    /// How every number was computed; a `work` anywhere is a position in this list. Numbers are worked at the worse end.
    pub derivations: Vec<WorkLine>,
}

/// A number with its derivation.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Shown {
    /// The number.
    #[serde(flatten)]
    pub amount: Amount,
    /// The line of the derivation of its greater end; null where there is none.
    pub work: Option<usize>,
    /// The derivation as a web page shows it there.
    #[serde(skip_serializing_if = "String::is_empty")]
    #[schemars(skip)]
    pub(crate) derivation: String,
}

/// One part of the weight of a house.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct WeightRow {
    /// What it is.
    pub what: &'static str,
    /// The level it is counted at: 0 is the first floor.
    pub level: usize,
    /// The level in words.
    pub at: String,
    /// Its weight.
    pub weight: Amount,
}

/// One direction of shaking.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct DirectionRow {
    /// The direction.
    pub direction: &'static str,
    /// The seismic response coefficient.
    pub coefficient: Shown,
    /// The base shear by the equivalent lateral force procedure.
    pub base_shear: Shown,
    /// The base shear by the simplified procedure; null where it does not apply.
    pub simplified: Option<Shown>,
    /// The forces at the levels.
    pub levels: Vec<LevelRow>,
}

/// The force at a level.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LevelRow {
    /// The level: 0 is the first floor.
    pub level: usize,
    /// The level in words.
    pub at: String,
    /// Its force.
    pub force: Shown,
}

/// A wall line.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LinePart {
    /// Its number in the report, from 1: its place in the house file.
    pub number: usize,
    /// Its name.
    pub name: String,
    /// The direction it resists in.
    pub direction: &'static str,
    /// The floor that has to drag its load into it from beyond its ends; null where there is none.
    pub drag: Option<Amount>,
    /// The shear by the floor area nearer to it than to the next.
    pub flexible: Shown,
    /// The shear by stiffness with accidental torsion; null where the stiffness of some line is not known.
    pub rigid: Option<Shown>,
    /// The greater of the two.
    pub envelope: Shown,
    /// What every link has to carry: with redundancy, at the level of the method.
    pub factored: Shown,
    /// The uplift at the end of its worst panel, which a hold-down would have to hold; null where no panel counts.
    pub uplift: Option<Shown>,
    /// How the path stands.
    pub path: PathState,
    /// The ruling with whose mark and color it is shown.
    pub mark: Ruling,
    /// The path in words.
    pub path_words: &'static str,
    /// The same in a sentence, its weakest link named.
    pub sentence: String,
    /// The weakest link, as house files would spell it; null where none is computed.
    pub weakest: Option<&'static str>,
    /// The links from the floor to the soil.
    pub links: Vec<LinkRow>,
}

/// A link on the ladder.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Rung {
    /// The number of the wall line.
    pub number: usize,
    /// The name of the wall line.
    pub wall_line: String,
    /// The link.
    pub link: &'static str,
    /// The link in words.
    pub words: &'static str,
    /// The shaking at which it reaches its capacity.
    pub shaking: ShakingRange,
}

/// How many figures and equations were seen so.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct StandingCount {
    /// The standing, as tables spell it.
    pub standing: &'static str,
    /// The standing in words.
    pub words: &'static str,
    /// How many figures and equations.
    pub count: usize,
    /// What they are, where they want confirming: each once.
    pub which: Vec<String>,
}

impl ScreenReport {
    /// Puts a screen into words.
    pub fn new(
        house: &AsBuilt,
        screened: &Result<Screen, Declined>,
        editions: &[&Edition],
        options: Options,
        units: Units,
        info: &ReportInfo,
    ) -> Self {
        let found = screened.as_ref().ok().map(|screen| Found::of(screen, units));
        let standing = words::standing(screened);
        Self {
            format: ScreenFormat::Screen1,
            program_version: plain(&info.program_version),
            input_file: plain(&info.input_file),
            input_sha256: plain(&info.input_sha256),
            house: plain(&house.name),
            title: words::TITLE,
            standing,
            warnings: words::warnings(screened, editions, options),
            method: MethodUsed::of(options),
            editions: editions.iter().map(|edition| EditionUsed::of(edition)).collect(),
            found,
            deferral: words::DEFERRAL,
            cautions: wording::CAUTIONS.to_vec(),
        }
    }
}

impl MethodUsed {
    const fn of(options: Options) -> Self {
        let (id, words) = match options.method {
            Method::Asd => ("asd", "allowable stress design"),
            Method::Lrfd => ("lrfd", "load and resistance factor design"),
        };
        Self {
            id,
            words,
            redundancy: options.redundancy,
            reduced: options.reduced,
        }
    }
}

impl EditionUsed {
    fn of(edition: &Edition) -> Self {
        Self {
            id: plain(&edition.id),
            name: plain(edition.name().trim_end_matches(", ")),
            superseded_by: edition.superseded_by.as_deref().map(plain),
            notes: edition.notes.iter().map(|note| plain(note)).collect(),
        }
    }
}

impl Found {
    fn of(screen: &Screen, units: Units) -> Self {
        let workings = Workings::of(&screen.derivations, units);
        let show = |value: &retrofit_core::screen::Value| Shown {
            amount: Amount::of(value.range, value.unit, units),
            work: workings.place(value.line),
            derivation: String::new(),
        };
        let link = |kind: LinkKind, result: &_| LinkRow::new(kind, result, units, &workings);
        let roof = screen.weights.iter().map(|part| part.level).max().unwrap_or(0);
        let lines: Vec<LinePart> = screen
            .lines
            .iter()
            .map(|line| LinePart::of(line, screen, &show, &link, units))
            .collect();
        let ladder = screen
            .ladder()
            .into_iter()
            .filter_map(|(line, kind, _)| {
                let (_, result) = line.links.iter().find(|(other, _)| *other == kind)?;
                Some(Rung {
                    number: line.wall + 1,
                    wall_line: plain(&line.name),
                    link: kind.spelling(),
                    words: kind.words(),
                    shaking: ShakingRange::of(result)?,
                })
            })
            .collect();
        let of_house = screen
            .directions
            .iter()
            .map(|direction| {
                let mut row = link(LinkKind::Sliding, &direction.sliding);
                row.title = format!("{}, {}", row.title, direction.direction.words());
                row
            })
            .chain(screen.posts.iter().map(|(kind, result)| link(*kind, result)))
            .collect();
        let direction = |direction: &DirectionScreen| DirectionRow {
            direction: direction.direction.words(),
            coefficient: show(&direction.coefficient),
            base_shear: show(&direction.base_shear),
            simplified: direction.simplified.as_ref().map(show),
            levels: direction
                .levels
                .iter()
                .map(|level| LevelRow {
                    level: level.level,
                    at: words::level(level.level, roof),
                    force: show(&level.force),
                })
                .collect(),
        };
        Self {
            shaking: screen.shaking.as_ref().ok().map(show),
            shaking_unknown: screen
                .shaking
                .as_ref()
                .err()
                .map_or_else(String::new, |why| plain(why)),
            granted: screen.granted.clone(),
            unknowns: screen
                .unknowns
                .iter()
                .map(|kind: &UnknownKind| kind.words())
                .collect(),
            weights: screen
                .weights
                .iter()
                .filter(|part| part.weight.range.high > 0.0)
                .map(|part| WeightRow {
                    what: part.what,
                    level: part.level,
                    at: words::level(part.level, roof),
                    weight: Amount::of(part.weight.range, part.weight.unit, units),
                })
                .collect(),
            weight: show(&screen.weight),
            directions: screen.directions.iter().map(direction).collect(),
            has_parts: screen.has_parts,
            lines,
            of_house,
            ladder,
            standings: standings(&workings.lines),
            derivations: workings.lines,
        }
    }
}

impl Found {
    /// Puts the derivation of each number where the number stands, in the order of a page.
    pub(crate) fn unfold(&mut self) {
        let lines = std::mem::take(&mut self.derivations);
        let mut trees = Trees::new(&lines);
        let mut put = |work: Option<usize>, derivation: &mut String| {
            if let Some(place) = work {
                *derivation = trees.of(place);
            }
        };
        for shown in self.shaking.iter_mut().chain([&mut self.weight]) {
            put(shown.work, &mut shown.derivation);
        }
        for direction in &mut self.directions {
            for shown in [&mut direction.coefficient, &mut direction.base_shear]
                .into_iter()
                .chain(&mut direction.simplified)
                .chain(direction.levels.iter_mut().map(|level| &mut level.force))
            {
                put(shown.work, &mut shown.derivation);
            }
        }
        for line in &mut self.lines {
            for shown in [&mut line.flexible]
                .into_iter()
                .chain(&mut line.rigid)
                .chain([&mut line.envelope, &mut line.factored])
                .chain(&mut line.uplift)
            {
                put(shown.work, &mut shown.derivation);
            }
            for link in &mut line.links {
                put(link.work, &mut link.derivation);
            }
        }
        for link in &mut self.of_house {
            put(link.work, &mut link.derivation);
        }
    }
}

impl LinePart {
    fn of(
        line: &LineScreen,
        screen: &Screen,
        show: &dyn Fn(&retrofit_core::screen::Value) -> Shown,
        row: &dyn Fn(LinkKind, &retrofit_core::screen::LinkScreen) -> LinkRow,
        units: Units,
    ) -> Self {
        use retrofit_core::screen::{Range, Unit};
        let drag = Range {
            low: line.drag,
            high: line.drag,
        };
        Self {
            number: line.wall + 1,
            name: plain(&line.name),
            direction: line.direction.words(),
            drag: (line.drag > 0.0).then(|| Amount::of(drag, Unit::Foot, units)),
            flexible: show(&line.shear.flexible),
            rigid: line.shear.rigid.as_ref().map(show),
            envelope: show(&line.shear.envelope),
            factored: show(&line.shear.factored),
            uplift: line.uplift.as_ref().map(show),
            path: line.path.into(),
            mark: PathState::from(line.path).mark(),
            path_words: PathState::from(line.path).words(),
            sentence: words::sentence(line, screen.shaking.is_ok()),
            weakest: line.weakest.map(Choice::spelling),
            links: line
                .links
                .iter()
                .map(|(kind, result)| row(*kind, result))
                .collect(),
        }
    }
}

/// The figures and equations by how well they were seen, the best first.
fn standings(lines: &[WorkLine]) -> Vec<StandingCount> {
    [
        Standing::Verified,
        Standing::Attested,
        Standing::Secondary,
        Standing::Memory,
        Standing::CommonPractice,
    ]
    .into_iter()
    .map(|standing| {
        let of = |line: &&WorkLine| {
            let is_weak = standing > Standing::Secondary;
            line.source.standing == standing.spelling() && (is_weak || !line.source.document.is_empty())
        };
        let mut each: Vec<String> = Vec::new();
        for line in lines.iter().filter(of) {
            let place = match (line.source.document.as_str(), line.source.section.as_str()) {
                ("", _) => String::new(),
                (document, "") => format!(" ({document})"),
                (document, section) => format!(" ({document}, {section})"),
            };
            let one = format!("{}{place}", line.words);
            if !each.contains(&one) {
                each.push(one);
            }
        }
        StandingCount {
            standing: standing.spelling(),
            words: standing.words(),
            count: each.len(),
            which: if standing > Standing::Secondary {
                each
            } else {
                Vec::new()
            },
        }
    })
    .filter(|count| count.count > 0)
    .collect()
}

/// A direction as the command line spells it.
pub(crate) const fn spelled(direction: Direction) -> &'static str {
    match direction {
        Direction::EastWest => "east-west",
        Direction::NorthSouth => "north-south",
    }
}

/// A title from words in a sentence.
fn title(words: &str) -> String {
    sentence_case(words)
}
