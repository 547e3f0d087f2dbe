//! The foundation work of a house as one plan: decided length by length, sized, held up, lifted, put in order, counted.
//!
//! [`FoundationPlan::of`] asks each part in turn and hands on what it found; it holds no rule and no figure of its own.
//! What is not decided, not sized or not determined stays so in everything that follows from it.
//!
//! ```
//! use retrofit_core::foundation::plan::{FoundationPlan, PlanFigures, PlanSettings};
//! use retrofit_core::house::{AsBuilt, House};
//! use retrofit_core::prices::UnitPrices;
//! use retrofit_core::provisions::Library;
//!
//! let house: House = serde_json::from_str(include_str!("../../../examples/sorrel-ferry-street.json"))?;
//! let house = AsBuilt::new(house).expect("the record makes sense");
//! let figures = PlanFigures::shipped().expect("the shipped tables are in order");
//! let provisions = Library::shipped().set(Library::DEFAULT_SET).expect("the shipped tables are in order");
//!
//! let settings = PlanSettings::of(&figures);
//! let plan = FoundationPlan::of(&house, &figures, &provisions, UnitPrices::placeholder(), &settings);
//! assert!(plan.pieces.iter().all(|piece| piece.to > piece.from));
//! assert!(plan.schedule_faults.is_empty(), "the checker of the schedule finds nothing");
//! # Ok::<(), serde_json::Error>(())
//! ```

use super::decision::{Decisions, FoundationOption, LengthDecision, OptionRules};
use super::earthwork::{Earthwork, OldMaterial};
use super::lift::{LiftError, LiftFault, LiftPlan, LiftSettings, check_plan};
use super::loads::{HouseLoads, LineLoads, LoadKind, Loads};
use super::new_work::{
    BarSize, Cap, Dowels, Ends, FootingTable, Girder, GirderInput, NewFoundation, NewWork, OldFoundation,
    Pier, PierInput, SectionBar, SizingError, SizingInput, Wall, Work,
};
use super::sequence::{
    Bay, Practice, Schedule, ScheduleFault, SequenceError, Settings, SideAtATime, WorkKind, WorkLength,
    check_schedule, divide, schedule,
};
use super::shoring::{ShoringFigures, ShoringSettings, Support, WallShoring};
use super::survey::{Corrected, Limits};
use super::work_takeoff::{
    BarRun, DowelPlaces, DowelRun, SectionSize, VerticalBars, WorkPiece, WorkTakeoff, WorkTakeoffError,
    take_off_work,
};
use crate::choice::Choice;
use crate::house::{AsBuilt, CheckedOn, FoundationKind, FoundationStretch, House, PlanPoint, Post, WallLine};
use crate::measure::Length;
use crate::observation::Truth;
use crate::prices::UnitPrices;
use crate::provisions::{Provisions, TableError};
use crate::screen::nds::Wood;
use crate::screen::{Bare, INCH, PLF, POUND, StandardFolder, StandardName, StandardTable, Standards};

/// The tables that a plan is made by.
#[derive(Clone, Copy, Debug)]
pub struct PlanFigures<'a> {
    /// Loads, wood, soil.
    pub standards: &'a Standards,
    /// What readings of a survey can be off.
    pub limits: &'a Limits,
    /// What is open for a length.
    pub options: &'a OptionRules,
    /// Footings, stems and bars.
    pub footings: &'a FootingTable,
    /// Temporary support and lifting.
    pub shoring: &'a ShoringFigures,
    /// Bays, cure and crews.
    pub practice: &'a Practice,
    /// Swell, weights and containers.
    pub earthwork: &'a Earthwork,
}

impl PlanFigures<'static> {
    /// The shipped tables; the error lists the faults of the first that does not read.
    pub fn shipped() -> Result<Self, &'static [TableError]> {
        Ok(Self {
            standards: Standards::shipped()?,
            limits: Limits::shipped(),
            options: OptionRules::shipped(),
            footings: FootingTable::shipped()?,
            shoring: ShoringFigures::shipped()?,
            practice: Practice::shipped()?,
            earthwork: Earthwork::shipped()?,
        })
    }
}

/// Tables of a user's own beside the shipped ones.
#[derive(Debug)]
pub struct PlanTables {
    standards: Standards,
    shoring: Option<ShoringFigures>,
    earthwork: Option<Earthwork>,
    practice: Option<Practice>,
}

impl PlanTables {
    /// The shipped tables, with folders of a user's own in place of the shipped tables of the same standard; the error
    /// lists every fault.
    pub fn with_folders(folders: &[StandardFolder]) -> Result<Self, Vec<TableError>> {
        let mut tables = Self {
            standards: Standards::with_folders(&[], folders)?,
            shoring: None,
            earthwork: None,
            practice: None,
        };
        let mut sequence = None;
        let mut read: Vec<(StandardName, &str)> = Vec::new();
        for folder in folders {
            let table = StandardTable::read(&folder.id, &folder.files)?;
            if let Some((_, first)) = read
                .iter()
                .find(|(standard, _)| *standard == table.edition.standard)
            {
                let fault = format!("found a second table of the standard of {first:?}; expected one");
                return Err(vec![TableError::set(&folder.id, fault)]);
            }
            read.push((table.edition.standard, &folder.id));
            let text = |name: &str| {
                let file = folder.files.iter().find(|file| file.name == name);
                file.map(|file| file.text.as_str())
                    .ok_or_else(|| vec![TableError::set(&folder.id, format!("the folder holds no {name}"))])
            };
            match table.edition.standard {
                StandardName::Shoring => {
                    let (gates, sources) = (text("gates.csv")?, text("sources.csv")?);
                    tables.shoring = Some(ShoringFigures::parse(&table, gates, sources)?);
                }
                StandardName::Earthwork => tables.earthwork = Some(Earthwork::parse(&table)?),
                StandardName::FoundationSequence => sequence = Some(table),
                _ => {}
            }
        }
        if let Some(table) = sequence {
            let shipped = Earthwork::shipped().map_err(<[TableError]>::to_vec)?;
            let earthwork = tables.earthwork.as_ref().unwrap_or(shipped);
            tables.practice = Some(Practice::parse(&table, earthwork)?);
        }
        Ok(tables)
    }

    /// The tables that a plan is made by; the error lists the faults of a shipped one that does not read.
    pub fn figures(&self) -> Result<PlanFigures<'_>, &'static [TableError]> {
        let shipped = PlanFigures::shipped()?;
        Ok(PlanFigures {
            standards: &self.standards,
            shoring: self.shoring.as_ref().unwrap_or(shipped.shoring),
            practice: self.practice.as_ref().unwrap_or(shipped.practice),
            earthwork: self.earthwork.as_ref().unwrap_or(shipped.earthwork),
            ..shipped
        })
    }
}

/// What whoever plans the work may choose.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanSettings {
    /// Bays, days, crews and trucks.
    pub sequence: Settings,
    /// The lift.
    pub lift: LiftSettings,
    /// Temporary support.
    pub shoring: ShoringSettings,
}

impl PlanSettings {
    /// What the tables name as used.
    pub fn of(figures: &PlanFigures<'_>) -> Self {
        Self {
            sequence: Settings::of(figures.practice),
            lift: LiftSettings::of(figures.shoring),
            shoring: ShoringSettings::of(figures.shoring),
        }
    }
}

/// The new work of one length.
#[derive(Clone, Debug)]
pub struct SizedLength {
    /// The length, by its place in [`Decisions::lengths`].
    pub length: usize,
    /// Its new work, or why it cannot be sized.
    pub size: Result<NewFoundation, SizingError>,
}

/// A pier and its post, sized for the load on one entry of posts.
#[derive(Clone, Debug)]
pub struct SizedPier {
    /// The posts, by their place in the record.
    pub posts: usize,
    /// Their piers, or why they cannot be sized.
    pub size: Result<Pier, SizingError>,
}

/// Girders between posts, sized span by span.
#[derive(Clone, Debug)]
pub struct SizedGirders {
    /// The entries of posts that they run over, by their places in the record.
    pub posts: Vec<usize>,
    /// Whether the span is on record; where not, spans that are common stand beside each other.
    pub is_recorded: bool,
    /// What a girder bears on, along it: half a post, since another ends on the other half.
    pub support: Length,
    /// The spans with their girders, or why they cannot be sized.
    pub spans: Vec<(Length, Result<Girder, SizingError>)>,
}

/// A lift planned from the latest survey.
#[derive(Clone, Debug)]
pub struct SurveyLift {
    /// The day of the survey.
    pub surveyed: CheckedOn,
    /// The plan, or why there is none.
    pub plan: Result<LiftPlan, LiftError>,
    /// What the checker of the plan found.
    pub faults: Vec<LiftFault>,
}

/// Temporary support of one wall line.
#[derive(Clone, Debug)]
pub struct ShoredLine {
    /// The wall line, by its place in the house.
    pub wall_line: usize,
    /// Its support.
    pub shoring: WallShoring,
}

/// The foundation work of a house.
#[derive(Clone, Debug)]
pub struct FoundationPlan<'a> {
    /// What is open, and decided, for each length.
    pub decisions: Decisions<'a>,
    /// What the house brings to its foundation.
    pub loads: HouseLoads,
    /// The new work of every length that gets some.
    pub sizes: Vec<SizedLength>,
    /// Piers for the posts of which the load is determined.
    pub piers: Vec<SizedPier>,
    /// Girders over the posts; none where their load is not determined.
    pub girders: Vec<SizedGirders>,
    /// Lengths of new work with their sections: what is put in order and counted.
    pub pieces: Vec<WorkPiece>,
    /// Temporary support of every wall line with new work.
    pub shoring: Vec<ShoredLine>,
    /// The lift; `None` where nothing was surveyed.
    pub lift: Option<SurveyLift>,
    /// The bays of the new work.
    pub bays: Vec<Bay>,
    /// Their order and days; `None` where nothing is to be put in order.
    pub schedule: Option<Result<Schedule, SequenceError>>,
    /// What the checker of the schedule found.
    pub schedule_faults: Vec<ScheduleFault>,
    /// The same work a whole side at a time, to hold the order against: as the new work is set to carry, and as soon as
    /// anybody publishes; empty where nothing is to be put in order.
    pub by_side: Vec<SideAtATime>,
    /// What it takes and may cost; `None` where there is nothing to count.
    pub takeoff: Option<Result<WorkTakeoff, WorkTakeoffError>>,
    /// The settings it was made by.
    pub settings: PlanSettings,
}

impl<'a> FoundationPlan<'a> {
    /// Plans the work on the foundation of a house.
    pub fn of(
        house: &AsBuilt,
        figures: &PlanFigures<'a>,
        provisions: &Provisions,
        prices: &UnitPrices,
        settings: &PlanSettings,
    ) -> Self {
        let mut settings = settings.clone();
        settings.sequence.perimeter = settings.sequence.perimeter.or_else(|| perimeter(house));
        let decisions = Decisions::of(house, figures.options);
        let loads = HouseLoads::of(house, figures.standards, figures.shoring);
        let sizes: Vec<SizedLength> = decisions
            .lengths
            .iter()
            .enumerate()
            .filter_map(|(number, length)| {
                let input = sizing_input(house, length, &loads, figures.standards)?;
                let size = NewFoundation::size(&input, figures.footings, figures.standards, provisions);
                Some(SizedLength { length: number, size })
            })
            .collect();
        let shoring = shored(house, &decisions, &loads, figures, &settings.shoring);
        let pieces = pieces(house, figures, &decisions, &sizes, &shoring);
        let lengths: Vec<WorkLength> = pieces.iter().map(|piece| work_length(house, piece)).collect();
        let (bays, scheduled) = if lengths.is_empty() {
            (Vec::new(), None)
        } else {
            match divide(&lengths, &settings.sequence) {
                Ok(bays) => {
                    let scheduled = schedule(&bays, &settings.sequence);
                    (bays, Some(scheduled))
                }
                Err(error) => (Vec::new(), Some(Err(error))),
            }
        };
        let mut cures = vec![settings.sequence.load_cure, figures.practice.least_load_cure()];
        cures.dedup();
        if lengths.is_empty() {
            cures.clear();
        }
        let by_side = cures
            .into_iter()
            .map(|cure| SideAtATime::of(&lengths, &settings.sequence, cure))
            .collect();
        let in_order = scheduled.as_ref().and_then(|scheduled| scheduled.as_ref().ok());
        let schedule_faults = in_order
            .map(|schedule| check_schedule(&bays, schedule, &settings.sequence))
            .unwrap_or_default();
        let takeoff = (!pieces.is_empty()).then(|| {
            take_off_work(
                &pieces,
                figures.earthwork,
                house.site.soil.value().copied(),
                in_order.map(|schedule| (bays.as_slice(), schedule)),
                prices,
            )
        });
        Self {
            lift: lift(house, figures.limits, &settings.lift),
            decisions,
            piers: piers(house, &loads, figures),
            girders: girders(house, &loads, figures),
            loads,
            sizes,
            pieces,
            shoring,
            bays,
            schedule: scheduled,
            schedule_faults,
            by_side,
            takeoff,
            settings,
        }
    }

    /// The decision of a length of new work.
    pub fn decision(&self, size: &SizedLength) -> Option<&LengthDecision<'a>> {
        self.decisions.lengths.get(size.length)
    }
}

/// The length of all wall lines together; `None` where one is not known.
fn perimeter(house: &House) -> Option<Length> {
    let mut lengths = house.wall_lines.iter().map(|wall| wall.length.value().copied());
    let sum = lengths.try_fold(Length::ZERO, |sum, length| Some(sum.saturating_add(length?)))?;
    (sum > Length::ZERO).then_some(sum)
}

fn stretch_of<'h>(house: &'h House, length: &LengthDecision<'_>) -> Option<&'h FoundationStretch> {
    let wall = house.wall_lines.get(length.wall_line)?;
    wall.foundation.listed().get(length.stretch?)
}

/// New concrete of an option; `None` of one that has none.
const fn new_concrete(option: FoundationOption) -> Option<NewWork> {
    match option {
        FoundationOption::Cap => Some(NewWork::Cap),
        FoundationOption::Sister => Some(NewWork::WallBeside),
        FoundationOption::ReplaceLength | FoundationOption::ReplaceAll => Some(NewWork::Replacement),
        FoundationOption::Keep | FoundationOption::Repair | FoundationOption::PostsAndPiers => None,
    }
}

/// What is known for sizing the work chosen for a length; `None` where no new concrete was chosen.
fn sizing_input(
    house: &House,
    length: &LengthDecision<'_>,
    loads: &HouseLoads,
    standards: &Standards,
) -> Option<SizingInput> {
    let work = new_concrete(length.chosen()?)?;
    let stretch = stretch_of(house, length);
    let sill = stretch.and_then(|stretch| stretch.sill_above_ground.value().copied());
    let line: Option<&LineLoads> = loads.wall_lines.get(length.wall_line);
    let mut input = SizingInput::new(work);
    // A sill is set on the new stem where the old one lay: its own thickness on top.
    let (thickness, width) = input.sill;
    let dressed = standards.nds.dressed(Bare, thickness, width).ok();
    let thickness = dressed.map(|(thickness, _)| Length::nearest_inches(thickness.to(INCH)));
    input.top_of_sill = sill
        .zip(thickness)
        .map(|(sill, thickness)| sill.saturating_add(thickness));
    input.stories = house.building.stories.clone();
    input.soil = house.site.soil.value().copied();
    input.line_load = line.and_then(Loads::total).map(|(low, high)| Ends {
        low: low.to(PLF),
        high: high.to(PLF),
    });
    input.expansive = house.surroundings.expansive_soil.satisfies(|there| there);
    input.fill = house.surroundings.fill.satisfies(|there| there);
    input.seismic_category = house.site.seismic_category.value().copied();
    if let Some(stretch) = stretch {
        input.old = OldFoundation {
            kind: stretch.kind.clone(),
            condition: stretch.condition.clone(),
            stem_thickness: stretch.stem_thickness.clone(),
            top: stretch.sill_above_ground.clone(),
            footing_width: stretch.footing_width.clone(),
            footing_thickness: stretch.footing_thickness.clone(),
            footing_depth: stretch.footing_depth.clone(),
        };
    }
    Some(input)
}

/// Piers for every entry of posts of which the load is determined.
fn piers(house: &House, loads: &HouseLoads, figures: &PlanFigures<'_>) -> Vec<SizedPier> {
    let posts = loads.posts.iter().zip(house.posts.listed()).enumerate();
    posts
        .filter_map(|(number, (load, post))| {
            let (low, high) = load.total()?;
            let input = PierInput {
                load: Ends {
                    low: low.to(POUND),
                    high: high.to(POUND),
                },
                soil: house.site.soil.value().copied(),
                post_height: post.height.bounds().1.copied(),
                girder_width: None,
                wood: Wood::DouglasFir,
            };
            Some(SizedPier {
                posts: number,
                size: Pier::size(&input, figures.footings, figures.standards),
            })
        })
        .collect()
}

/// Spans shown where none is on record, in feet: the range that old houses commonly have.
const COMMON_SPANS: std::ops::RangeInclusive<i64> = 4..=8;
/// The least side of a post where none is on record: that of a dressed 4x4.
const LEAST_POST: Length = Length::sixty_fourths(7 * 32);

/// Girders over every entry of posts: by its span where that is on record, and else all entries together.
fn girders(house: &House, loads: &HouseLoads, figures: &PlanFigures<'_>) -> Vec<SizedGirders> {
    let (Some((low, high)), Some((_, live))) = (loads.girder.total(), loads.girder.of(LoadKind::Live)) else {
        return Vec::new();
    };
    let size = |span: Length, support: Length| {
        let input = GirderInput {
            span,
            load: Ends {
                low: low.to(PLF),
                high: high.to(PLF),
            },
            live: live.to(PLF),
            support,
            joists_fastened: Truth::Maybe,
            wood: Wood::DouglasFir,
        };
        (span, Girder::size(&input, figures.footings, figures.standards))
    };
    let support_on = |post: &Post| {
        let width = post.width.bounds().0.copied().unwrap_or(LEAST_POST);
        Length::from_nanometers(width.nanometers() / 2)
    };
    let mut sized = Vec::new();
    let mut without: Vec<(usize, Length)> = Vec::new();
    for (number, post) in house.posts.listed().iter().enumerate() {
        let support = support_on(post);
        match post.girder_span.bounds().1 {
            Some(span) => sized.push(SizedGirders {
                posts: vec![number],
                is_recorded: true,
                support,
                spans: vec![size(*span, support)],
            }),
            None => without.push((number, support)),
        }
    }
    if let Some(support) = without.iter().map(|(_, support)| *support).min() {
        sized.push(SizedGirders {
            posts: without.iter().map(|(number, _)| *number).collect(),
            is_recorded: false,
            support,
            spans: COMMON_SPANS
                .map(|feet| size(Length::feet(feet), support))
                .collect(),
        });
    }
    sized
}

/// Lengths of new work whose section and ends are known.
fn pieces(
    house: &House,
    figures: &PlanFigures<'_>,
    decisions: &Decisions<'_>,
    sizes: &[SizedLength],
    shoring: &[ShoredLine],
) -> Vec<WorkPiece> {
    let piece = |sized: &SizedLength| {
        let length = decisions.lengths.get(sized.length)?;
        let size = sized.size.as_ref().ok()?;
        let kind = match length.chosen()? {
            FoundationOption::Sister => WorkKind::Sister,
            FoundationOption::Cap => WorkKind::Cap,
            _ => WorkKind::Replace,
        };
        let to = length.to?;
        let line = shoring.iter().find(|line| line.wall_line == length.wall_line);
        let jacks = line.map_or(0, |line| jacks_along(&line.shoring, length.from, to));
        let section = match &size.work {
            Work::Wall(wall) => wall_size(wall, figures.footings, stretch_of(house, length))?,
            Work::Cap(cap) => cap_size(cap, figures.footings, stretch_of(house, length))?,
        };
        let run = to.saturating_sub(length.from);
        Some(WorkPiece {
            wall_line: length.wall_line,
            name: length.name.clone(),
            from: length.from,
            to,
            kind,
            section,
            anchors: anchors_in(size, run),
            shoring_sets: u16::from(jacks > 0),
            jacks,
        })
    };
    sizes.iter().filter_map(piece).collect()
}

/// Anchors of a sill in one piece along a run; none where the set gives no spacing.
fn anchors_in(size: &NewFoundation, run: Length) -> u16 {
    let rows = size.anchors.rows.iter();
    let counts = rows.filter_map(|row| size.anchors.stations(run, row).map(|stations| stations.len()));
    u16::try_from(counts.min().unwrap_or(0)).unwrap_or(u16::MAX)
}

/// A wall as it is counted; `None` where the table does not hold a bar of it.
fn wall_size(wall: &Wall, table: &FootingTable, old: Option<&FoundationStretch>) -> Option<SectionSize> {
    let section = &wall.section;
    // Of an old foundation, the greatest it may be is broken out.
    let old_width = old.and_then(|old| old.stem_thickness.bounds().1.copied());
    let old_height = old.and_then(|old| {
        let stem = old.stem_height.bounds().1.copied()?;
        Some(stem.saturating_add(old.footing_depth.bounds().1.copied().unwrap_or_default()))
    });
    Some(SectionSize {
        footing_width: section.footing_width,
        footing_thickness: section.footing_thickness,
        stem_thickness: section.stem_thickness,
        stem_height: section.stem_height,
        depth_below_grade: section.depth_below_grade,
        old_width: old_width.unwrap_or(section.stem_thickness),
        old_height: old_height.unwrap_or_else(|| section.top()),
        old_material: old_material(old),
        bars: bar_runs(&section.bars, table)?,
        verticals: Some(VerticalBars {
            number: bar_number(section.vertical.size)?,
            spacing: section.vertical.spacing.value,
            length: section.vertical.length(),
        }),
        dowels: dowel_run(wall.dowels.as_ref())?,
        sill_width: section.sill_width,
        sill_thickness: section.sill_thickness,
    })
}

/// A cap as it is counted: a stem without a footing, on ground that nobody digs.
fn cap_size(cap: &Cap, table: &FootingTable, old: Option<&FoundationStretch>) -> Option<SectionSize> {
    Some(SectionSize {
        footing_width: Length::ZERO,
        footing_thickness: Length::ZERO,
        stem_thickness: cap.width,
        stem_height: cap.thickness,
        depth_below_grade: Length::ZERO,
        old_width: Length::ZERO,
        old_height: Length::ZERO,
        old_material: old_material(old),
        bars: bar_runs(&cap.bars, table)?,
        verticals: None,
        dowels: dowel_run(cap.dowels.as_ref())?,
        sill_width: cap.sill_width,
        sill_thickness: cap.sill_thickness,
    })
}

fn bar_number(size: BarSize) -> Option<u8> {
    size.spelling().parse().ok()
}

/// Bars along a length, those of a number together.
fn bar_runs(bars: &[SectionBar], table: &FootingTable) -> Option<Vec<BarRun>> {
    let mut runs: Vec<BarRun> = Vec::new();
    for bar in bars {
        let (number, lap) = (bar_number(bar.size)?, table.bar(bar.size)?.lap.value);
        match runs.iter_mut().find(|run| run.number == number) {
            Some(run) => run.count = run.count.saturating_add(1),
            None => runs.push(BarRun {
                number,
                count: 1,
                lap,
            }),
        }
    }
    Some(runs)
}

/// Dowels as they are counted: none where the old foundation holds none; no answer where a bar has no number.
#[expect(
    clippy::option_option,
    reason = "no dowels are an answer, a bar without a number is none"
)]
fn dowel_run(dowels: Option<&Dowels>) -> Option<Option<DowelRun>> {
    let Some(dowels) = dowels else {
        return Some(None);
    };
    Some(Some(DowelRun {
        number: bar_number(dowels.size)?,
        length: dowels.length(),
        places: match &dowels.along {
            Some(along) => DowelPlaces::Along(along.value),
            None => DowelPlaces::AtEachEnd(u16::try_from(dowels.at_each_joint.value).ok()?),
        },
    }))
}

/// The jacks that stand along a stretch; where two ways are shown, those of the way with more.
fn jacks_along(shoring: &WallShoring, from: Length, to: Length) -> u16 {
    let along = |support: &&Support| (from..=to).contains(&support.station);
    let counts = shoring
        .schemes
        .iter()
        .map(|scheme| scheme.supports.iter().filter(along).count());
    u16::try_from(counts.max().unwrap_or(0)).unwrap_or(u16::MAX)
}

fn old_material(stretch: Option<&FoundationStretch>) -> OldMaterial {
    match stretch.and_then(|stretch| stretch.kind.value()) {
        Some(FoundationKind::Brick) => OldMaterial::Brick,
        Some(FoundationKind::Stone) => OldMaterial::Stone,
        _ => OldMaterial::Concrete,
    }
}

fn work_length(house: &House, piece: &WorkPiece) -> WorkLength {
    let wall: Option<&WallLine> = house.wall_lines.get(piece.wall_line);
    WorkLength {
        wall_line: piece.wall_line,
        name: piece.name.clone(),
        from: piece.from,
        to: piece.to,
        line_length: wall.and_then(|wall| wall.length.value().copied()),
        plan: wall.and_then(|wall| Some([place_on(wall, piece.from)?, place_on(wall, piece.to)?])),
        kind: piece.kind,
        concrete: piece.section.concrete(),
    }
}

/// A station of a wall line in plan; `None` where its place or its length is not known.
fn place_on(wall: &WallLine, station: Length) -> Option<PlanPoint> {
    let [from, to] = wall.plan?;
    let whole = i128::from(wall.length.value()?.nanometers());
    let between = |from: Length, to: Length| {
        let run = i128::from(to.nanometers()) - i128::from(from.nanometers());
        let part = (run * i128::from(station.nanometers())).checked_div(whole)?;
        from.checked_add(Length::from_nanometers(i64::try_from(part).ok()?))
    };
    Some(PlanPoint {
        x: between(from.x, to.x)?,
        y: between(from.y, to.y)?,
    })
}

/// Temporary support of every wall line of which some length is taken away meanwhile.
fn shored(
    house: &AsBuilt,
    decisions: &Decisions<'_>,
    loads: &HouseLoads,
    figures: &PlanFigures<'_>,
    settings: &ShoringSettings,
) -> Vec<ShoredLine> {
    let is_opened = |wall_line: usize| {
        let mut lengths = decisions.lengths.iter();
        lengths
            .any(|length| length.wall_line == wall_line && length.chosen().and_then(new_concrete).is_some())
    };
    (0..house.wall_lines.len())
        .filter(|wall_line| is_opened(*wall_line))
        .filter_map(|wall_line| {
            let line = loads.wall_lines.get(wall_line)?;
            let (standards, tables) = (figures.standards, figures.shoring);
            let shoring = WallShoring::of(house, wall_line, line, standards, tables, settings)?;
            Some(ShoredLine { wall_line, shoring })
        })
        .collect()
}

/// The lift by the latest survey.
fn lift(house: &House, limits: &Limits, settings: &LiftSettings) -> Option<SurveyLift> {
    let survey = house.surveys.iter().max_by_key(|survey| survey.date)?;
    let corrected = Corrected::of(survey, limits).ok()?;
    let plan = LiftPlan::of(&corrected, settings.clone());
    let faults = plan
        .as_ref()
        .map(|plan| check_plan(plan, settings))
        .unwrap_or_default();
    Some(SurveyLift {
        surveyed: survey.date,
        plan,
        faults,
    })
}
