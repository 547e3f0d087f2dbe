//! A floor level survey as a report shows it: readings and their corrections, tilt and distortion beside every
//! published limit, movement since an earlier survey, and what the distress is consistent with.
//!
//! [`SurveyReport::new`] puts what the core found into words and numbers once; [`SurveyReport::document`] is the page.

mod page;
mod words;

use retrofit_core::choice::Choice;
use retrofit_core::foundation::causes::{CauseRules, Fit, Signs};
use retrofit_core::foundation::survey::{
    Compared, Corrected, FinishStep, LevelFinding, Limit, Limits, LineFindings, Movement, Point,
    SurveyFindings,
};
use retrofit_core::house::{AsBuilt, CheckedOn, PlanPoint};
use retrofit_core::measure::Length;
use retrofit_core::observation::Truth;
use retrofit_core::provisions::cited;
use schemars::JsonSchema;
use serde::Serialize;

use crate::drawing::{self, Sheet};
use crate::result::ReportInfo;
use crate::result::wording::{length, plain};
use words::inches;
pub(crate) use words::signed;
use words::slope;

/// The version of the format of a survey.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub enum SurveyFormat {
    /// The first published format.
    #[default]
    #[serde(rename = "survey-1")]
    Survey1,
}

/// A floor level survey: everything that is shown of it.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(title = "Floor level survey of a house")]
pub struct SurveyReport {
    /// The version of this format: always `survey-1`.
    pub format: SurveyFormat,
    /// The version of the program that wrote it.
    pub program_version: String,
    /// The name of the input file.
    pub input_file: String,
    /// The SHA-256 of the input.
    pub input_sha256: String,
    /// The name of the house.
    pub house: String,
    /// The day of the survey.
    pub date: CheckedOn,
    /// The base point in words.
    pub base: String,
    /// The instrument.
    pub instrument: String,
    /// What a single reading can be off, with where that comes from.
    pub reading_error: String,
    /// Why nothing was computed; empty where something was.
    pub not_computed: String,
    /// The readings, corrected.
    pub readings: Vec<ReadingRow>,
    /// How the survey closes on its base point.
    pub closure: Vec<ClosureRow>,
    /// The same in words.
    pub closure_words: String,
    /// The best-fit plane; null where none can be fitted.
    pub plane: Option<PlanePart>,
    /// Why there is no plane; empty where there is one.
    pub no_plane: String,
    /// The difference of height of two places, beside each limit for it.
    pub levels: Vec<LimitRow>,
    /// The wall lines, and the lines that were asked for.
    pub lines: Vec<LinePart>,
    /// Cracks, doors and walls.
    pub conditions: Vec<ConditionRow>,
    /// What moved since an earlier survey; null where there is none.
    pub movement: Option<MovementPart>,
    /// What the distress is consistent with.
    pub causes: Vec<CauseRow>,
    #[serde(skip)]
    #[schemars(skip)]
    drawings: Vec<Sheet>,
}

/// One reading.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ReadingRow {
    /// Its label, or its number.
    pub label: String,
    /// Where it was read: toward the east and toward the north.
    pub at: [String; 2],
    /// What the instrument showed.
    pub read: String,
    /// The drift taken off.
    pub drift: String,
    /// What was taken off for the floor finish.
    pub finish: String,
    /// The height of the floor, in words.
    pub height: String,
    /// The height of the floor, in inches.
    pub height_inches: f64,
    /// What it can be off either way, in inches; null where the finish is not known.
    pub off_inches: Option<f64>,
    /// How far it is above the plane, in inches; null where there is no plane.
    pub above_plane_inches: Option<f64>,
    /// Why it was left out of the plane; empty where it took part.
    pub left_out: String,
}

/// One loop from the base point and back.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ClosureRow {
    /// How many readings were taken in it.
    pub readings: usize,
    /// How far the base read off at its end.
    pub error: String,
    /// Whether that is within the tolerance.
    pub kept: bool,
}

/// The tilt of the floor as a whole.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PlanePart {
    /// The tilt, in words.
    pub tilt: String,
    /// The tilt, as a share of the run.
    pub tilt_ratio: f64,
    /// What it can be off either way; null where a finish that bears on it is not known.
    pub off_ratio: Option<f64>,
    /// Where it falls toward, in degrees from north; null of a level plane.
    pub falls_toward: Option<f64>,
    /// The same in words.
    pub falls_toward_words: &'static str,
    /// Standard deviation of what is left, in inches; null for three readings.
    pub spread_inches: Option<f64>,
    /// The lowest place against the plane.
    pub lowest: String,
    /// The highest place against the plane.
    pub highest: String,
    /// Whether there are readings enough to tell that one stands apart.
    pub can_tell_apart: bool,
    /// The tilt beside each published limit.
    pub limits: Vec<LimitRow>,
}

/// Of a limit that no readings can be put beside.
const NOT_COMPARED: &str = "not_compared";

/// A value beside a published limit.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LimitRow {
    /// The limit, by its name in the table.
    pub limit: String,
    /// What is compared.
    pub measure: &'static str,
    /// The value found, in words.
    pub found: String,
    /// The value found, as a number: a slope, or inches.
    pub found_number: f64,
    /// The limit's value.
    pub at_most: String,
    /// `yes`, `no`, `maybe` where it is within what the readings can be off, or `not_compared` where no readings allow it.
    pub kept: &'static str,
    /// What is said to come at the limit.
    pub effect: String,
    /// What it was made for.
    pub applies_to: String,
    /// Where it was published.
    pub source: String,
    /// How well it was seen.
    pub standing: &'static str,
}

/// The floor along a line.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LinePart {
    /// The wall line, or the two ends of a line that was asked for.
    pub name: String,
    /// Why there is no profile; empty where there is one.
    pub no_profile: String,
    /// Whether it lies on the surface between readings.
    pub interpolated: bool,
    /// The greatest departure from the chord of its ends, in words.
    pub departure: String,
    /// The stretch that turned most against the floor as a whole, in words.
    pub worst_stretch: String,
    /// Its values beside each published limit.
    pub limits: Vec<LimitRow>,
    /// The same without readings that stand apart; empty where there are none.
    pub without_apart: Vec<LimitRow>,
}

/// A crack, a door or a wall.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ConditionRow {
    /// Its mark on the drawing of the floor.
    pub mark: String,
    /// What it is and where.
    pub what: String,
    /// What was recorded.
    pub recorded: String,
    /// Its class by the published scale, or its value beside the tolerance.
    pub class: String,
    /// Where that comes from.
    pub source: String,
}

/// What moved between two surveys.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct MovementPart {
    /// The day of the earlier survey.
    pub since: CheckedOn,
    /// Days between.
    pub days: i32,
    /// Why nothing can be compared; empty where something can.
    pub not_compared: String,
    /// What holds still in the comparison.
    pub against: &'static str,
    /// The places read in both.
    pub places: Vec<MovedRow>,
    /// Whether every place is within what the readings can be off.
    pub is_within_error: bool,
    /// Labels of readings that were not found again, or are new.
    pub not_paired: Vec<String>,
}

/// A place read twice.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct MovedRow {
    /// Its label.
    pub label: String,
    /// How far it rose.
    pub rise: String,
    /// The same in inches.
    pub rise_inches: f64,
    /// Inches a year.
    pub inches_a_year: f64,
    /// Whether that is within what the readings can be off.
    pub is_within_error: bool,
}

/// A cause beside the signs.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct CauseRow {
    /// The cause.
    pub cause: String,
    /// `consistent`, `not_enough_seen` or `not_consistent`.
    pub fit: &'static str,
    /// The same in words.
    pub fit_words: &'static str,
    /// Signs that speak for or against it, with the reason.
    pub signs: Vec<String>,
    /// Signs nobody looked for.
    pub not_seen: Vec<String>,
    /// What to look at next.
    pub look_next: String,
    /// Whom to call.
    pub call: String,
}

/// What a survey is asked for.
#[derive(Clone, Copy, Debug)]
pub struct SurveyOptions<'a> {
    /// Its place among the surveys of the house.
    pub survey: usize,
    /// The distance from contour to contour; `None` takes one that gives a handful.
    pub interval: Option<Length>,
    /// Lines asked for besides the wall lines.
    pub lines: &'a [[PlanPoint; 2]],
}

impl SurveyReport {
    /// Puts a survey into words; `None` where the house has no survey of that number.
    pub fn new(
        house: &AsBuilt,
        options: SurveyOptions<'_>,
        limits: &Limits,
        info: &ReportInfo,
    ) -> Option<Self> {
        let survey = house.surveys.get(options.survey)?;
        let findings = SurveyFindings::of(house, survey, limits);
        let corrected = findings.corrected.as_ref();
        let asked: Vec<LineFindings<'_>> = options
            .lines
            .iter()
            .map(|[from, to]| findings.line(&words::line_name(*from, *to), *from, *to))
            .collect();
        let lines: Vec<&LineFindings<'_>> = findings.wall_lines.iter().chain(&asked).collect();
        let drawings = drawing::survey(house, &findings, &lines, options.interval, survey.date);
        let signs = Signs::of(house, limits);
        Some(Self {
            format: SurveyFormat::Survey1,
            program_version: info.program_version.clone(),
            input_file: info.input_file.clone(),
            input_sha256: info.input_sha256.clone(),
            house: plain(&house.name),
            date: survey.date,
            base: plain(&survey.base.place),
            instrument: words::instrument(&survey.instrument),
            reading_error: corrected.map(words::reading_error).unwrap_or_default(),
            not_computed: corrected.err().map(ToString::to_string).unwrap_or_default(),
            readings: readings(&findings),
            closure: corrected.map(closure).unwrap_or_default(),
            closure_words: corrected.map(words::closure).unwrap_or_default(),
            plane: plane(&findings),
            no_plane: match (&findings.corrected, &findings.plane) {
                (Ok(_), Err(error)) => error.to_string(),
                _ => String::new(),
            },
            levels: findings
                .levels
                .iter()
                .map(|found| level(found, findings.points()))
                .collect(),
            lines: lines.iter().map(|line| line_part(line)).collect(),
            conditions: words::conditions(&findings),
            movement: movement(house, options.survey, limits),
            causes: CauseRules::shipped()
                .judge(&signs)
                .into_iter()
                .map(|finding| CauseRow {
                    cause: finding.cause.words.clone(),
                    fit: match finding.fit {
                        Fit::Consistent => "consistent",
                        Fit::NotEnoughSeen => "not_enough_seen",
                        Fit::NotConsistent => "not_consistent",
                    },
                    fit_words: finding.fit.words(),
                    signs: finding
                        .signs
                        .iter()
                        .filter(|(_, there)| *there == Truth::True)
                        .map(|(rule, _)| format!("{}: {}", rule.sign.words(), rule.reason))
                        .collect(),
                    not_seen: finding
                        .not_seen()
                        .map(|rule| rule.sign.words().to_owned())
                        .collect(),
                    look_next: finding.cause.look_next.clone(),
                    call: finding.cause.call.clone(),
                })
                .collect(),
            drawings,
        })
    }

    /// The contour plan and the sections.
    pub fn drawings(&self) -> &[Sheet] {
        &self.drawings
    }
}

fn readings(findings: &SurveyFindings<'_>) -> Vec<ReadingRow> {
    let plane = findings.plane.as_ref().ok();
    let row = |(number, point): (usize, &Point)| ReadingRow {
        label: plain(&point.label),
        at: [length(point.at.x), length(point.at.y)],
        read: signed(point.read),
        drift: signed(point.drift),
        finish: match point.finish {
            FinishStep::Taken { thickness, off } if off == Length::ZERO => length(thickness),
            FinishStep::Taken { thickness, off } => format!("{} ± {}", length(thickness), length(off)),
            FinishStep::Alike => "the same everywhere".to_owned(),
            FinishStep::Unknown => "not known".to_owned(),
        },
        height: signed(point.height),
        height_inches: point.height.as_inches_f64(),
        off_inches: point.off.map(Length::as_inches_f64),
        above_plane_inches: plane.and_then(|plane| plane.residuals.get(number).copied()),
        left_out: match plane {
            Some(plane) if plane.is_apart(number) => words::apart(plane, number),
            Some(plane) if plane.without_finish.contains(&number) => {
                "its floor finish is not known".to_owned()
            }
            _ => String::new(),
        },
    };
    findings.points().iter().enumerate().map(row).collect()
}

fn closure(corrected: &Corrected) -> Vec<ClosureRow> {
    let row = |leg: &retrofit_core::foundation::survey::BaseLeg| ClosureRow {
        readings: leg.readings,
        error: signed(leg.error),
        kept: leg.kept,
    };
    corrected.closure.legs.iter().map(row).collect()
}

fn plane(findings: &SurveyFindings<'_>) -> Option<PlanePart> {
    let plane = findings.plane.as_ref().ok()?;
    let tilt = plane.tilt();
    let extreme = |low: bool| {
        let residuals = plane
            .residuals
            .iter()
            .enumerate()
            .filter(|(number, _)| !plane.is_apart(*number));
        let found = if low {
            residuals.min_by(|a, b| a.1.total_cmp(b.1))
        } else {
            residuals.max_by(|a, b| a.1.total_cmp(b.1))
        };
        let (number, above) = found?;
        let label = findings.points().get(number).map(|point| plain(&point.label))?;
        Some(format!("{} at reading {label}", inches(*above)))
    };
    Some(PlanePart {
        tilt: slope(tilt),
        tilt_ratio: tilt.likely,
        off_ratio: Some(tilt.off).filter(|off| off.is_finite()),
        falls_toward: plane.falls_toward(),
        falls_toward_words: plane.falls_toward().map_or("nowhere", words::compass),
        spread_inches: plane.spread,
        lowest: extreme(true).unwrap_or_default(),
        highest: extreme(false).unwrap_or_default(),
        can_tell_apart: plane.can_tell_apart,
        limits: findings.tilt.iter().map(compared).collect(),
    })
}

fn limit_row(limit: &Limit, found: String, found_number: f64, kept: Truth) -> LimitRow {
    LimitRow {
        limit: limit.name.clone(),
        measure: limit.measure.words(),
        found,
        found_number,
        at_most: limit.value.to_string(),
        kept: match kept {
            Truth::True => "yes",
            Truth::False => "no",
            Truth::Maybe => "maybe",
        },
        effect: limit.effect.clone(),
        applies_to: limit.applies_to.clone(),
        source: cited(&limit.document, &limit.section),
        standing: limit.standing.words(),
    }
}

fn compared(compared: &Compared<'_>) -> LimitRow {
    let found = if compared.limit.value.ratio().is_some() {
        slope(compared.value)
    } else {
        words::uncertain_inches(compared.value)
    };
    limit_row(compared.limit, found, compared.value.likely, compared.kept)
}

fn level(found: &LevelFinding<'_>, points: &[Point]) -> LimitRow {
    let label = |number: usize| {
        points
            .get(number)
            .map(|point| plain(&point.label))
            .unwrap_or_default()
    };
    let shown = match found.pair {
        Some((a, b)) => format!(
            "{} between readings {} and {}",
            signed(found.difference),
            label(a),
            label(b)
        ),
        None => "no two readings are this close together".to_owned(),
    };
    let mut row = limit_row(found.limit, shown, found.difference.as_inches_f64(), found.kept);
    if found.pair.is_none() {
        row.kept = NOT_COMPARED;
    }
    row
}

fn line_part(line: &LineFindings<'_>) -> LinePart {
    let profile = line.profile.as_ref();
    LinePart {
        name: plain(&line.name),
        no_profile: profile.err().map(ToString::to_string).unwrap_or_default(),
        interpolated: profile.is_ok_and(|profile| profile.interpolated),
        departure: profile
            .ok()
            .and_then(retrofit_core::foundation::survey::Profile::deflection)
            .map(|deflection| words::departure(&deflection))
            .unwrap_or_default(),
        worst_stretch: line
            .compared
            .iter()
            .find(|compared| {
                compared.limit.measure == retrofit_core::foundation::survey::LimitMeasure::AngularDistortion
            })
            .map(|compared| slope(compared.value))
            .unwrap_or_default(),
        limits: line.compared.iter().map(compared).collect(),
        without_apart: line.without_apart.iter().flatten().map(compared).collect(),
    }
}

/// The movement since the latest survey before this one.
fn movement(house: &AsBuilt, survey: usize, limits: &Limits) -> Option<MovementPart> {
    let later = house.surveys.get(survey)?;
    let earlier = house
        .surveys
        .iter()
        .filter(|earlier| earlier.date.days_since(later.date) < 0)
        .max_by_key(|earlier| earlier.date)?;
    let mut part = MovementPart {
        since: earlier.date,
        days: later.date.days_since(earlier.date),
        not_compared: String::new(),
        against: "",
        places: Vec::new(),
        is_within_error: false,
        not_paired: Vec::new(),
    };
    let moved = match (Corrected::of(earlier, limits), Corrected::of(later, limits)) {
        (Ok(earlier), Ok(later)) => Movement::between(&earlier, &later)
            .map(|movement| (movement, earlier, later))
            .map_err(|error| error.to_string()),
        (Err(error), _) | (_, Err(error)) => Err(error.to_string()),
    };
    match moved {
        Err(error) => part.not_compared = error,
        Ok((movement, earlier, later)) => {
            part.against = if movement.same_base {
                "the base point, which both surveys name"
            } else {
                "the middle of all places, because the surveys name no base point in common"
            };
            part.is_within_error = movement.is_within_error();
            let label = |points: &[Point], number: usize| {
                points
                    .get(number)
                    .map(|point| plain(&point.label))
                    .unwrap_or_default()
            };
            part.not_paired = movement
                .not_read_again
                .iter()
                .map(|number| format!("{} was not read again", label(&earlier.points, *number)))
                .chain(
                    movement
                        .new
                        .iter()
                        .map(|number| format!("{} is new", label(&later.points, *number))),
                )
                .collect();
            part.places = movement
                .places
                .iter()
                .map(|place| MovedRow {
                    label: plain(&place.label),
                    rise: signed(place.rise),
                    rise_inches: place.rise.as_inches_f64(),
                    inches_a_year: place.inches_a_year,
                    is_within_error: place.is_within_error(),
                })
                .collect();
        }
    }
    Some(part)
}
