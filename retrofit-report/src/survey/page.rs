//! The page of a level survey.

use retrofit_core::check::Ruling;

use super::words::{LIMITS_DIFFER, inches};
use super::{CauseRow, LimitRow, LinePart, MovementPart, NOT_COMPARED, PlanePart, SurveyReport};
use crate::document::{Answer, Cell, Document, Part, Table};
use crate::result::ReportInfo;
use crate::result::wording::{CAUTIONS, sentence_case};

/// To whom the reader of a survey has to turn.
const DEFERRAL: &str = "This page puts heights read over a floor beside published figures. It names no cause and judges \
    no repair: movement of a house has to be looked at by a licensed engineer, and of the ground by a geotechnical \
    engineer. It says nothing of earthquakes, of which retrofit check tells.";

const METHOD: &str = "Method: drift of the instrument is shared out over each loop, and floor finishes are taken off, in \
    exact lengths. The plane is the least-squares plane of the readings that do not stand apart. What single readings can \
    be off is added up in full, so that a value beside a limit is kept, exceeded or left open. Between readings the floor \
    is taken as flat triangles.";

impl SurveyReport {
    /// The survey as a page.
    pub fn document(&self) -> Document {
        let info = ReportInfo {
            program_version: self.program_version.clone(),
            input_file: self.input_file.clone(),
            input_sha256: self.input_sha256.clone(),
        };
        let mut page = Document::new(
            "Floor level survey, not a diagnosis",
            &self.house,
            self.answer(),
            DEFERRAL,
            &info,
        );
        METHOD.clone_into(&mut page.method);
        page.head = vec![("Surveyed".to_owned(), self.date.to_string())];
        if !self.base.is_empty() {
            page.head.push(("Base point".to_owned(), self.base.clone()));
        }
        page.head.push(("Instrument".to_owned(), self.instrument.clone()));
        if !self.reading_error.is_empty() {
            page.head
                .push(("A reading can be off by".to_owned(), self.reading_error.clone()));
        }
        for row in self.readings.iter().filter(|row| !row.left_out.is_empty()) {
            page.warnings
                .push(format!("Reading {}: {}.", row.label, row.left_out));
        }
        if self.plane.as_ref().is_some_and(|plane| !plane.can_tell_apart) {
            page.warnings.push(
                "With so few readings, none can be told to stand apart: a single slip of the pen would not show."
                    .to_owned(),
            );
        }
        page.section(
            "drawings",
            "The floor",
            self.drawings().iter().cloned().map(Part::drawing),
        );
        page.section("tilt", "Tilt of the floor as a whole", self.tilt());
        page.section("lines", "Along the wall lines", self.along());
        page.section(
            "level",
            "From place to place",
            limits_table("Differences of height between two places", &self.levels).part(),
        );
        page.section("readings", "Readings and corrections", self.reading_parts());
        page.section("conditions", "Cracks, doors and walls", self.condition_parts());
        if let Some(movement) = &self.movement {
            page.section(
                "movement",
                "Movement since the survey before",
                movement_parts(movement),
            );
        }
        page.section(
            "causes",
            "What the distress is consistent with",
            self.cause_parts(),
        );
        page.section(
            "cautions",
            "Before anyone goes under the house",
            [Part::list(CAUTIONS.iter().map(|caution| (*caution).to_owned()))],
        );
        page
    }

    /// Every value of the page beside its limits.
    fn limits(&self) -> impl Iterator<Item = &LimitRow> {
        let tilt = self.plane.iter().flat_map(|plane| &plane.limits);
        tilt.chain(&self.levels)
            .chain(self.lines.iter().flat_map(|line| &line.limits))
            .filter(|row| row.kept != NOT_COMPARED)
    }

    fn answer(&self) -> Answer {
        if !self.not_computed.is_empty() {
            return Answer {
                mark: Ruling::NotDetermined,
                headline: "Nothing can be computed".to_owned(),
                meaning: format!("{}.", sentence_case(&self.not_computed)),
            };
        }
        let beyond = self.limits().filter(|row| row.kept == "no").count();
        let open = self.limits().filter(|row| row.kept == "maybe").count();
        let (mark, headline) = match (beyond, open) {
            (0, 0) if self.limits().next().is_none() => (
                Ruling::NotDetermined,
                "No value could be put beside a limit".to_owned(),
            ),
            (0, 0) => (Ruling::Met, "No published limit is exceeded".to_owned()),
            (0, _) => (
                Ruling::NotDetermined,
                "Whether a published limit is exceeded is within what the readings can be off".to_owned(),
            ),
            _ => (
                Ruling::NotMet,
                format!(
                    "{beyond} of {} published limits are exceeded",
                    self.limits().count()
                ),
            ),
        };
        let tilt = match &self.plane {
            Some(plane) => format!(
                "The floor as a whole tilts {} toward {}; against that plane it is {} and {}.",
                plane.tilt, plane.falls_toward_words, plane.lowest, plane.highest
            ),
            None => format!("No plane can be fitted: {}.", self.no_plane),
        };
        Answer {
            mark,
            headline,
            meaning: format!("{tilt} {LIMITS_DIFFER}"),
        }
    }

    fn tilt(&self) -> Vec<Part> {
        let Some(plane) = &self.plane else {
            return Vec::new();
        };
        let PlanePart {
            tilt,
            falls_toward,
            spread_inches,
            ..
        } = plane;
        let toward = falls_toward.map_or_else(
            || "It falls nowhere.".to_owned(),
            |degrees| {
                format!(
                    "It falls toward {}, {degrees:.0}° from north.",
                    plane.falls_toward_words
                )
            },
        );
        let spread = spread_inches.map_or_else(
            || "Three readings leave nothing over: any three lie in a plane.".to_owned(),
            |spread| format!("What is left once the plane is taken off spreads by {spread:.2} in (standard deviation): that is the distortion of the floor."),
        );
        let mut parts = vec![Part::words(format!("Tilt {tilt}. {toward} {spread}"))];
        parts.extend(limits_table("Tilt beside each published limit", &plane.limits).part());
        parts
    }

    fn along(&self) -> Vec<Part> {
        let mut parts = Vec::new();
        for line in &self.lines {
            line_parts(line, &mut parts);
        }
        parts
    }

    fn reading_parts(&self) -> Vec<Part> {
        let mut parts = Vec::new();
        if !self.closure_words.is_empty() {
            parts.push(Part::words(self.closure_words.clone()));
        }
        let mut loops = Table::new(
            "Loops from the base point and back",
            ["Loop", "Readings", "Error", "Within tolerance"],
        );
        for (number, row) in self.closure.iter().enumerate() {
            loops.push([
                Cell::from((number + 1).to_string()),
                row.readings.to_string().into(),
                row.error.clone().into(),
                if row.kept {
                    "yes".into()
                } else {
                    Cell::ruling(Ruling::NotMet, "no")
                },
            ]);
        }
        parts.extend(loops.part());
        let mut table = Table::new(
            "Each reading, from what the instrument showed to the height of the floor",
            [
                "Reading",
                "East",
                "North",
                "Read",
                "Drift",
                "Finish",
                "Height",
                "Off by",
                "Above plane",
            ],
        );
        for row in &self.readings {
            let [east, north] = row.at.clone();
            table.push([
                row.label.clone().into(),
                east.into(),
                north.into(),
                row.read.clone().into(),
                row.drift.clone().into(),
                row.finish.clone().into(),
                row.height.clone().into(),
                row.off_inches
                    .map_or_else(|| "not known".to_owned(), |off| format!("± {off:.2} in"))
                    .into(),
                match (row.above_plane_inches, row.left_out.is_empty()) {
                    (None, _) => Cell::default(),
                    (Some(above), true) => inches(above).into(),
                    (Some(above), false) => {
                        Cell::ruling(Ruling::NotDetermined, inches(above)).under("left out of the plane")
                    }
                },
            ]);
        }
        parts.extend(table.part());
        parts
    }

    fn condition_parts(&self) -> Option<Part> {
        let mut table = Table::new(
            "What was recorded, classed by published scales",
            ["Mark", "What", "Recorded", "Class", "Source"],
        );
        for row in &self.conditions {
            table.push([
                row.mark.clone().into(),
                row.what.clone().into(),
                row.recorded.clone().into(),
                row.class.clone().into(),
                row.source.clone().into(),
            ]);
        }
        table.part()
    }

    fn cause_parts(&self) -> Vec<Part> {
        let mut parts = vec![Part::words(
            "Signs on record beside what is said of each cause. Being consistent with a cause does not make it the cause; \
             causes come together, and the list is not complete. It is kept apart from the seismic verdict.",
        )];
        let mut table = Table::new(
            "Causes, those the signs are consistent with first",
            ["Cause", "Fit", "Signs on record", "Look at next", "Call"],
        );
        for row in &self.causes {
            table.push(cause_row(row));
        }
        parts.extend(table.part());
        parts
    }
}

fn cause_row(row: &CauseRow) -> [Cell; 5] {
    let mark = match row.fit {
        "consistent" => Some(Ruling::NotMet),
        "not_enough_seen" => Some(Ruling::NotDetermined),
        _ => None,
    };
    let fit = mark.map_or_else(|| row.fit_words.into(), |mark| Cell::ruling(mark, row.fit_words));
    let fit = match row.not_seen.as_slice() {
        [] => fit,
        not_seen => fit.under(format!("Not looked for: {}", not_seen.join("; "))),
    };
    [
        Cell::from(sentence_case(&row.cause)),
        fit,
        row.signs.join("; ").into(),
        row.look_next.clone().into(),
        row.call.clone().into(),
    ]
}

fn line_parts(line: &LinePart, parts: &mut Vec<Part>) {
    parts.push(Part::heading(format!("Wall line {}", line.name)));
    if !line.no_profile.is_empty() {
        parts.push(Part::words(format!("Not determined: {}.", line.no_profile)));
        return;
    }
    let surface = if line.interpolated {
        " Too few readings lie along it, so that the floor between readings was taken."
    } else {
        ""
    };
    let departure = if line.departure.is_empty() {
        "Too few places along it for a departure from its chord.".to_owned()
    } else {
        format!("Greatest departure: {}.", line.departure)
    };
    let stretch = if line.worst_stretch.is_empty() {
        String::new()
    } else {
        format!(
            " The stretch that turned most against the floor as a whole: {}.",
            line.worst_stretch
        )
    };
    parts.push(Part::words(format!("{departure}{stretch}{surface}")));
    parts.extend(
        limits_table(
            &format!("Wall line {} beside each published limit", line.name),
            &line.limits,
        )
        .part(),
    );
    parts.extend(
        limits_table(
            &format!("Wall line {} without the readings that stand apart", line.name),
            &line.without_apart,
        )
        .part(),
    );
}

fn limits_table(caption: &str, rows: &[LimitRow]) -> Table<6> {
    let mut table = Table::new(
        caption,
        [
            "Found",
            "At most",
            "Kept",
            "What is said to come at the limit",
            "Made for",
            "Source",
        ],
    );
    for row in rows {
        let kept = match row.kept {
            "yes" => Cell::from("yes"),
            "no" => Cell::ruling(Ruling::NotMet, "exceeded"),
            NOT_COMPARED => Cell::from("not compared"),
            _ => Cell::ruling(Ruling::NotDetermined, "left open"),
        };
        table.push([
            Cell::from(row.found.clone()).under(row.measure),
            row.at_most.clone().into(),
            kept,
            row.effect.clone().into(),
            row.applies_to.clone().into(),
            Cell::from(row.source.clone()).under(row.standing),
        ]);
    }
    table
}

fn movement_parts(movement: &MovementPart) -> Vec<Part> {
    let head = format!(
        "Between {} and this survey, {} days.",
        movement.since, movement.days
    );
    if !movement.not_compared.is_empty() {
        return vec![Part::words(format!(
            "{head} Not compared: {}.",
            movement.not_compared
        ))];
    }
    let outcome = if movement.is_within_error {
        "Every place is within what the readings can be off. That does not say that nothing moves."
    } else {
        "At least one place moved by more than the readings can be off."
    };
    let mut parts = vec![Part::words(format!(
        "{head} Heights are compared against {}. {outcome} A rate drawn from two days says nothing of seasons between.",
        movement.against
    ))];
    let mut table = Table::new(
        "Movement",
        [
            "Reading",
            "Rise",
            "Inches a year",
            "Beyond what readings can be off",
        ],
    );
    for row in &movement.places {
        table.push([
            row.label.clone().into(),
            row.rise.clone().into(),
            format!("{:+.2}", row.inches_a_year).into(),
            if row.is_within_error {
                "no".into()
            } else {
                Cell::ruling(Ruling::NotMet, "yes")
            },
        ]);
    }
    parts.extend(table.part());
    if !movement.not_paired.is_empty() {
        parts.push(Part::list(
            movement.not_paired.iter().map(|words| format!("Reading {words}")),
        ));
    }
    parts
}
