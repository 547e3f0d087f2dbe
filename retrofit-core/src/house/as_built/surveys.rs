//! Floor level surveys that make sense.

use std::fmt::Display;

use super::{LONGEST_WALL_LINE, Problems, THICKEST_STEEL_OR_SHEET, shortened};
use crate::house::{Crack, Door, House, LevelReading, PlanPoint, Survey, WallPlumb};
use crate::measure::Length;
use crate::observation::Observed;

/// A survey of more readings than this is not of one house.
pub const MOST_READINGS: usize = 500;

/// Two readings closer together than this are one place read twice.
pub const CLOSEST_READINGS: Length = Length::inches(1);

/// A floor that is higher or lower than this against its base point is another floor.
const HIGHEST: Length = Length::feet(10);

pub(super) fn check_surveys(house: &House, problems: &mut Problems) {
    for (number, survey) in house.surveys.iter().enumerate() {
        let earlier = number.checked_sub(1).and_then(|before| house.surveys.get(before));
        if let Some(earlier) = earlier.filter(|earlier| earlier.date >= survey.date) {
            problems.add(
                || format!("surveys[{number}].date"),
                &survey.date.to_string(),
                &format!("a day after {}, that of the survey before it", earlier.date),
            );
        }
        Checked { number, problems }.all(survey);
    }
}

/// One survey under check.
struct Checked<'a> {
    number: usize,
    problems: &'a mut Problems,
}

impl Checked<'_> {
    fn add(&mut self, field: impl Display, found: impl Display, expected: &str) {
        let number = self.number;
        self.problems.add(
            || format!("surveys[{number}].{field}"),
            &found.to_string(),
            expected,
        );
    }

    fn all(mut self, survey: &Survey) {
        let number = self.number;
        self.problems.check_length(
            &survey.instrument.reading_error,
            Length::ZERO..=THICKEST_STEEL_OR_SHEET,
            || format!("surveys[{number}].instrument.reading_error"),
        );
        if let Some(at) = survey.base.at {
            self.point(at, "base.at");
        }
        self.height(survey.base.height, "base.height");
        self.readings(survey);
        for (item, crack) in survey.cracks.listed().iter().enumerate() {
            self.crack(item, crack);
        }
        for (item, door) in survey.doors.listed().iter().enumerate() {
            self.door(item, door);
        }
        for (item, wall) in survey.plumb.listed().iter().enumerate() {
            self.wall(item, wall);
        }
    }

    fn point(&mut self, at: PlanPoint, field: &str) {
        for (axis, value) in [("x", at.x), ("y", at.y)] {
            if value.abs_diff(Length::ZERO) > LONGEST_WALL_LINE {
                let expected = format!("no more than {LONGEST_WALL_LINE} from the origin");
                self.add(format_args!("{field}.{axis}"), value, &expected);
            }
        }
    }

    fn height(&mut self, height: Length, field: &str) {
        if height.abs_diff(Length::ZERO) > HIGHEST {
            let expected = format!("a height within {HIGHEST} of the base point");
            self.add(field, height, &expected);
        }
    }

    fn readings(&mut self, survey: &Survey) {
        let readings = survey.readings.listed();
        if readings.len() > MOST_READINGS {
            let expected = format!("at most {MOST_READINGS}");
            self.add("readings", format_args!("{} readings", readings.len()), &expected);
            // Every pair is compared below; a list that long is refused without that.
            return;
        }
        for (item, reading) in readings.iter().enumerate() {
            let earlier = readings.get(..item).unwrap_or_default();
            self.reading(item, reading, earlier);
        }
        let mut before = 0;
        for (item, check) in survey.base_checks.iter().enumerate() {
            self.height(check.height, &format!("base_checks[{item}].height"));
            if usize::from(check.after) > readings.len() || check.after < before {
                let expected = format!(
                    "a number of readings from {before} to {}, in order",
                    readings.len()
                );
                self.add(format_args!("base_checks[{item}].after"), check.after, &expected);
            }
            before = before.max(check.after);
        }
        self.minutes(survey);
    }

    fn reading(&mut self, item: usize, reading: &LevelReading, earlier: &[LevelReading]) {
        let number = self.number;
        self.point(reading.at, &format!("readings[{item}].at"));
        self.height(reading.height, &format!("readings[{item}].height"));
        self.problems.check_length(
            &reading.finish_thickness,
            Length::ZERO..=THICKEST_STEEL_OR_SHEET,
            || format!("surveys[{number}].readings[{item}].finish_thickness"),
        );
        let label = reading.label.trim();
        if !label.is_empty() && earlier.iter().any(|other| other.label.trim() == label) {
            let found = format!("{:?} a second time", shortened(label));
            self.add(
                format_args!("readings[{item}].label"),
                found,
                "a label of its own",
            );
        }
        let near = |other: &LevelReading| {
            let (x, y) = (
                other.at.x.abs_diff(reading.at.x),
                other.at.y.abs_diff(reading.at.y),
            );
            x < CLOSEST_READINGS && y < CLOSEST_READINGS
        };
        if let Some(other) = earlier.iter().position(near) {
            let expected = format!(
                "a place {CLOSEST_READINGS} or more from readings[{other}]; repeat readings of the base point go \
                 under base_checks"
            );
            self.add(
                format_args!("readings[{item}].at"),
                "a place read before",
                &expected,
            );
        }
    }

    /// Minutes run forward through readings and repeat readings of the base, as they were taken.
    fn minutes(&mut self, survey: &Survey) {
        let mut latest = 0;
        let mut checks = survey.base_checks.iter().enumerate().peekable();
        for (item, reading) in survey.readings.listed().iter().enumerate() {
            while let Some((number, check)) = checks.next_if(|(_, check)| usize::from(check.after) <= item) {
                self.minute(&mut latest, check.minute, format_args!("base_checks[{number}]"));
            }
            self.minute(&mut latest, reading.minute, format_args!("readings[{item}]"));
        }
        for (number, check) in checks {
            self.minute(&mut latest, check.minute, format_args!("base_checks[{number}]"));
        }
    }

    fn minute(&mut self, latest: &mut u16, minute: Option<u16>, place: impl Display) {
        let Some(minute) = minute else { return };
        if minute < *latest {
            let expected = format!("{latest} or more: readings stand in the order they were taken");
            self.add(format_args!("{place}.minute"), minute, &expected);
        }
        *latest = (*latest).max(minute);
    }

    fn crack(&mut self, item: usize, crack: &Crack) {
        let number = self.number;
        let place = |field: &str| format!("surveys[{number}].cracks[{item}].{field}");
        let width = Length::ZERO..=THICKEST_STEEL_OR_SHEET;
        self.problems
            .check_length(&crack.width, width.clone(), || place("width"));
        self.problems
            .check_length(&crack.offset, width, || place("offset"));
        if let Some(at) = crack.at {
            self.point(at, &format!("cracks[{item}].at"));
        }
    }

    fn door(&mut self, item: usize, door: &Door) {
        let number = self.number;
        let place = |field: &str| format!("surveys[{number}].doors[{item}].{field}");
        self.problems.positive(&door.width, || place("width"));
        self.problems
            .not_negative(&door.out_of_square, || place("out_of_square"));
        self.less_than(
            &door.out_of_square,
            &door.width,
            format_args!("doors[{item}].out_of_square"),
        );
        if let Some(at) = door.at {
            self.point(at, &format!("doors[{item}].at"));
        }
    }

    fn wall(&mut self, item: usize, wall: &WallPlumb) {
        let number = self.number;
        let place = |field: &str| format!("surveys[{number}].plumb[{item}].{field}");
        self.problems.positive(&wall.over, || place("over"));
        self.problems
            .not_negative(&wall.out_of_plumb, || place("out_of_plumb"));
        self.less_than(
            &wall.out_of_plumb,
            &wall.over,
            format_args!("plumb[{item}].out_of_plumb"),
        );
        if let Some(at) = wall.at {
            self.point(at, &format!("plumb[{item}].at"));
        }
    }

    fn less_than(&mut self, part: &Observed<Length>, whole: &Observed<Length>, field: impl Display) {
        if let (Some(part), Some(whole)) = (part.bounds().0, whole.bounds().1)
            && part >= whole
            && *whole > Length::ZERO
        {
            let expected = format!("less than {whole}, over which it was measured");
            self.add(field, part, &expected);
        }
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::{Value, json};

    use crate::house::{AsBuilt, House};

    fn problems(surveys: &Value) -> Vec<String> {
        let house: House = serde_json::from_value(json!({
            "format": "house-1", "name": "trial", "wall_lines": [{"name": "north"}], "surveys": surveys,
        }))
        .unwrap();
        match AsBuilt::new(house) {
            Ok(_) => Vec::new(),
            Err(problems) => problems.into_iter().map(|problem| problem.path).collect(),
        }
    }

    fn with(part: Value) -> Value {
        let mut survey = json!({"date": "2026-05-04"});
        survey
            .as_object_mut()
            .unwrap()
            .extend(part.as_object().unwrap().clone());
        json!([survey])
    }

    #[rstest]
    #[case::far_away(
        json!({"readings": [{"at": {"x": "1001 ft", "y": "0 ft"}, "height": "0 in"}]}), "readings[0].at.x"
    )]
    #[case::another_floor(
        json!({"readings": [{"at": {"x": "1 ft", "y": "0 ft"}, "height": "-11 ft"}]}), "readings[0].height"
    )]
    #[case::thick_carpet(
        json!({"readings": [{"at": {"x": "1 ft", "y": "0 ft"}, "height": "0 in", "finish_thickness": "2 ft"}]}),
        "readings[0].finish_thickness"
    )]
    #[case::same_place(
        json!({"readings": [
            {"at": {"x": "1 ft", "y": "0 ft"}, "height": "0 in"},
            {"at": {"x": "12.5 in", "y": "0 ft"}, "height": "1 in"}
        ]}),
        "readings[1].at"
    )]
    #[case::same_label(
        json!({"readings": [
            {"label": "A", "at": {"x": "1 ft", "y": "0 ft"}, "height": "0 in"},
            {"label": " A", "at": {"x": "9 ft", "y": "0 ft"}, "height": "1 in"}
        ]}),
        "readings[1].label"
    )]
    #[case::time_runs_back(
        json!({"readings": [
            {"at": {"x": "1 ft", "y": "0 ft"}, "height": "0 in", "minute": 9},
            {"at": {"x": "9 ft", "y": "0 ft"}, "height": "1 in", "minute": 8}
        ]}),
        "readings[1].minute"
    )]
    #[case::check_before_its_readings(json!({"base_checks": [{"after": 1, "height": "0 in"}]}), "base_checks[0].after")]
    #[case::wide_crack(json!({"cracks": [{"width": "13 in"}]}), "cracks[0].width")]
    #[case::negative_offset(json!({"cracks": [{"offset": "-1 mm"}]}), "cracks[0].offset")]
    #[case::fallen_door(json!({"doors": [{"width": "30 in", "out_of_square": "30 in"}]}), "doors[0].out_of_square")]
    #[case::fallen_wall(json!({"plumb": [{"over": "8 ft", "out_of_plumb": "9 ft"}]}), "plumb[0].out_of_plumb")]
    #[case::coarse_instrument(json!({"instrument": {"reading_error": "2 ft"}}), "instrument.reading_error")]
    fn a_survey_that_cannot_be_is_refused(#[case] part: Value, #[case] path: &str) {
        assert_eq!(problems(&with(part)), [format!("surveys[0].{path}")]);
    }

    #[test]
    fn surveys_stand_by_date() {
        let two = json!([{"date": "2026-05-04"}, {"date": "2026-05-04"}]);
        assert_eq!(problems(&two), ["surveys[1].date"]);
        let two = json!([{"date": "2026-05-04"}, {"date": "2026-05-05"}]);
        assert_eq!(problems(&two), [""; 0]);
    }

    #[test]
    fn more_readings_than_a_house_has_are_refused_at_once() {
        let readings: Vec<Value> = (0..501)
            .map(|x| json!({"at": {"x": format!("{x} ft"), "y": "0 ft"}, "height": "0 in"}))
            .collect();
        assert_eq!(
            problems(&with(json!({"readings": readings}))),
            ["surveys[0].readings"]
        );
    }
}
