//! `retrofit survey`: the floor level survey of a house.

use std::path::{Path, PathBuf};

use clap::Args;
use retrofit_core::foundation::survey::{Limits, readings_from_csv};
use retrofit_core::house::{AsBuilt, CheckedOn, PlanPoint, Problem, Survey as LevelSurvey};
use retrofit_core::measure::Length;
use retrofit_core::observation::Observed;
use retrofit_report::input::{HouseFile, LARGEST_HOUSE_FILE, Origin, read_house, read_text};
use retrofit_report::json;
use retrofit_report::result::ReportInfo;
use retrofit_report::survey::{SurveyOptions, SurveyReport};

use super::check::name;
use super::console::Console;
use super::document::{Delivery, Format};
use super::exit::{Failure, Status};
use super::look::LookArgs;

/// Put a floor level survey beside published limits, and draw it; not a diagnosis
///
/// Readings stand in the house file, under `surveys`, or in a table. Drift of the instrument and floor finishes are
/// taken off, a plane is fitted, readings that stand apart are named, and tilt, slopes and deflections along every wall
/// line stand beside all published limits, which disagree. Two surveys give movement. What the signs on record are
/// consistent with is listed with what to look at next and whom to call.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Survey {
    /// House file; `-` reads it from standard input
    #[arg(value_name = "HOUSE.json")]
    house: PathBuf,
    /// Day of the survey to show, as 2026-05-04; left out, the latest
    #[arg(long, value_name = "DATE")]
    date: Option<CheckedOn>,
    /// Table of readings: label,x,y,height,finish,thickness,minute; it takes the place of the readings of `--date`
    #[arg(long, value_name = "FILE.csv", requires = "date")]
    readings: Option<PathBuf>,
    /// A line besides the wall lines, as "0 ft,14 ft to 42 ft,14 ft"; may be given more than once
    #[arg(long = "line", value_name = "X,Y to X,Y", value_parser = line, allow_hyphen_values = true)]
    lines: Vec<[PlanPoint; 2]>,
    /// Distance from contour to contour, as "1/4 in"; left out, one that gives a handful
    #[arg(long, value_name = "LENGTH", value_parser = interval, allow_hyphen_values = true)]
    interval: Option<Length>,
    /// How to print or write the survey
    #[arg(long, value_name = "FORMAT", default_value = "terminal", value_enum)]
    format: Format,
    /// Write the survey to this file
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
    /// Folder for the drawings: contours and sections, each as SVG and DXF
    #[arg(long, value_name = "DIR")]
    drawings: Option<PathBuf>,
    #[command(flatten)]
    look: LookArgs,
}

const EXAMPLES: &str = "\
Examples:
  retrofit survey house.json
      The latest survey: tilt, the floor along each wall line, movement.
  retrofit survey house.json --format html --out house.survey.html
      The same as a web page, with contours and sections.
  retrofit survey house.json --date 2026-05-04 --readings readings.csv
      With readings from a table, taken on that day. A row labeled `base` is
      the base point read again.
  retrofit survey house.json --line \"0 ft,14 ft to 42 ft,14 ft\" --interval \"1/4 in\"
      The floor along one more line, with contours at every 1/4 in.
  retrofit survey house.json --drawings sheets
      Writes sheets/house.floor.svg, .dxf and so on.

Exit codes: 0 where no published limit is exceeded, 1 where one is, 2 where the readings leave it open or nothing can be \
computed, 3 bad input.";

/// Reads a place, as `0 ft,14 ft`.
fn place(text: &str) -> Result<PlanPoint, String> {
    let (x, y) = text
        .split_once(',')
        .ok_or_else(|| format!("found {text:?}; expected a place, such as \"0 ft,14 ft\""))?;
    let length = |text: &str| text.trim().parse::<Length>().map_err(|error| error.to_string());
    Ok(PlanPoint {
        x: length(x)?,
        y: length(y)?,
    })
}

fn line(text: &str) -> Result<[PlanPoint; 2], String> {
    let (from, to) = text.split_once(" to ").ok_or_else(|| {
        let found: String = text.chars().take(60).collect();
        format!("found {found:?}; expected two places, such as \"0 ft,14 ft to 42 ft,14 ft\"")
    })?;
    let (from, to) = (place(from)?, place(to)?);
    if from == to {
        return Err("found the same place twice; expected a line from one place to another".to_owned());
    }
    Ok([from, to])
}

fn interval(text: &str) -> Result<Length, String> {
    let interval: Length = text.parse().map_err(|error| format!("{error}"))?;
    if interval < Length::sixty_fourths(1) {
        return Err(format!("found {interval}; expected 1/64 in or more"));
    }
    Ok(interval)
}

impl Survey {
    pub(super) fn run(self, console: &mut Console) -> Result<Status, Failure> {
        let mut file = read_house(&Origin::from(self.house.as_path()))?;
        if let (Some(path), Some(date)) = (&self.readings, self.date) {
            take_readings(&mut file, path, date)?;
        }
        let survey = self.chosen(&file.house)?;
        let info = ReportInfo::of_input(env!("CARGO_PKG_VERSION"), &name(&file), file.text.as_bytes());
        let options = SurveyOptions {
            survey,
            interval: self.interval,
            lines: &self.lines,
        };
        let report = SurveyReport::new(&file.house, options, Limits::shipped(), &info)
            .ok_or(Failure::Internal("the survey"))?;
        let document = report.document();
        let json = || json::render_survey(&report);
        let delivery = Delivery {
            format: self.format,
            out: self.out.as_deref(),
            drawings: self.drawings.as_deref(),
            table: self.readings.as_deref(),
            look: self.look.look()?,
        };
        delivery.of(&document, json, report.drawings(), &file, console)
    }

    /// The place of the survey that is shown.
    fn chosen(&self, house: &AsBuilt) -> Result<usize, Failure> {
        let surveys = || house.surveys.iter().enumerate();
        let days = || {
            let days: Vec<String> = surveys().map(|(_, survey)| survey.date.to_string()).collect();
            days.join(", ")
        };
        match self.date {
            _ if house.surveys.is_empty() => Err(Failure::Usage(format!(
                "{}: found no survey; expected readings under `surveys`, or a table with --readings and --date",
                self.house.display()
            ))),
            None => surveys()
                .max_by_key(|(_, survey)| survey.date)
                .map(|(number, _)| number)
                .ok_or(Failure::Internal("the survey")),
            Some(date) => surveys()
                .find(|(_, survey)| survey.date == date)
                .map(|(number, _)| number)
                .ok_or_else(|| Failure::Usage(format!("--date: found {date}; expected one of {}", days()))),
        }
    }
}

/// Puts the readings of a table into the survey of a day.
fn take_readings(file: &mut HouseFile, path: &Path, date: CheckedOn) -> Result<(), Failure> {
    let text = read_text(&Origin::from(path), LARGEST_HOUSE_FILE)?;
    let table = readings_from_csv(&path.display().to_string(), &text).map_err(Failure::Tables)?;
    let lines = table.lines;
    let taken = file.house.refill(|house| {
        if house.surveys.iter().all(|survey| survey.date != date) {
            house.surveys.push(LevelSurvey::on(date));
        }
        let survey = house.surveys.iter_mut().find(|survey| survey.date == date);
        if let Some(survey) = survey {
            survey.readings = Observed::measured(table.readings);
            survey.base_checks = table.base_checks;
            if let Some(height) = table.base_height {
                survey.base.height = height;
            }
        }
    });
    taken.map_err(|problems| {
        let problems: Vec<String> = problems
            .iter()
            .map(|problem| in_table(problem, path, &lines))
            .collect();
        Failure::Usage(problems.join("\nerror: "))
    })
}

/// A problem with a reading, at its place in the table that the reading stands in.
fn in_table(problem: &Problem, path: &Path, lines: &[u64]) -> String {
    let of_reading = problem
        .path
        .split_once("].readings[")
        .and_then(|(_, rest)| rest.split_once(']'));
    let place =
        of_reading.and_then(|(number, field)| Some((lines.get(number.parse::<usize>().ok()?)?, field)));
    let Some((line, field)) = place else {
        return format!("{}: {problem}", path.display());
    };
    let column = match field.trim_start_matches('.') {
        "at" | "at.x" => "x",
        "at.y" => "y",
        "finish_thickness" => "thickness",
        same => same,
    };
    let Problem { found, expected, .. } = problem;
    format!(
        "{}, line {line}, column {column:?}: found {found}; expected {expected}",
        path.display()
    )
}
